"""The way to a job: which questions are asked, in which order, given what is known and what was answered so far."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from loadplan.model.vehicle import Vehicle
from loadplan.planning.interview.answer_days import full_days
from loadplan.planning.interview.answer_parsing import is_unknown, plainly, read_answer
from loadplan.planning.interview.known_vehicle import KnownVehicle, gear_of, props_of
from loadplan.planning.interview.low_prop import low_prop
from loadplan.planning.interview.question import AnswerError, Ask, Question, Value
from loadplan.planning.interview.questions_on_job import (
    OWN,
    UNMEASURED,
    Beginning,
    differs_question,
    head_questions,
    kind_question,
    lift_use_questions,
    place_questions,
    use_questions,
    vehicle_of,
    work_questions,
)
from loadplan.planning.interview.questions_on_places import seat_questions
from loadplan.planning.interview.questions_on_shop import (
    gear_questions,
    gear_words,
    lift_questions,
    prop_gear_questions,
    prop_question,
    prop_use_question,
)
from loadplan.planning.interview.questions_on_vehicle import (
    height_questions,
    over_floor,
    pad_questions,
    prop_place_question,
    tie_questions,
    unit_questions,
    weight_questions,
)
from loadplan.planning.interview.rear_samples import samples_as_in
from loadplan.planning.interview.typical_answers import typical_texts
from loadplan.planning.interview.unit_kinds import UNIT_KINDS, UnitKind
from loadplan.planning.interview.us_samples import in_us, samples_in_us
from loadplan.units import System

ALWAYS_ASKED = frozenset(("weight",))
"""What is asked of a vehicle even where nothing else differs from a typical one."""


@dataclass(frozen=True, slots=True)
class Answers:
    """What was answered so far.

    Attributes:
        texts: Each answer as it was typed, by the key of its question.
        begin: What was known before.
        opened: Key of a question that somebody went back to, "" for none.
        doubted: An odd answer that was asked about, "" for none.
    """

    texts: Mapping[str, str]
    begin: Beginning = field(default_factory=Beginning)
    opened: str = ""
    doubted: str = ""

    @property
    def system(self) -> System:
        """Units of bare numbers."""
        if self.begin.system is not None:
            return self.begin.system
        text = self.texts.get("units", "").strip().casefold()
        return System.US if text == "2" or text.startswith("u") else System.METRIC

    @property
    def kind(self) -> UnitKind | None:
        """The kind of a unit that was not known before, None where it was, or is not yet said."""
        value = self._own_value(kind_question())
        return UNIT_KINDS.get(str(value)) if vehicle_of(self.begin, self._own_value) is None else None

    @property
    def given(self) -> dict[str, str]:
        """What the typical unit answers that somebody begins from."""
        kind = self.kind
        names = self.begin.typical_of(kind.word) if kind else ()
        if kind is None or not names:
            return {}
        start = self._own_value(Question("start", "", Ask.CHOICE, "", names[0], (*names, OWN)))
        return typical_texts(self.begin.typical[str(start)], kind) if start in names else {}

    def _own_value(self, question: Question) -> Value:
        """Return what an answer means, its default's meaning where it has none that counts."""
        try:
            return read_answer(question, self.texts.get(question.key, ""), self.system)
        except AnswerError:
            return None


@dataclass(frozen=True, slots=True)
class Reply:
    """What comes of an answer.

    Attributes:
        answers: The answers with it, or as they were.
        says: Why it was not taken, what is odd about it, or how it is understood; "" where it was taken.
        is_told_back: Whether it says how the answer is understood: nothing is odd about it.
    """

    answers: Answers
    says: str = ""
    is_told_back: bool = False


@dataclass(frozen=True, slots=True)
class QuestionCourse:
    """The questions as they stand, with what was answered and what a typical unit answers.

    Attributes:
        answers: What was answered so far.
        given: What the typical unit answers.
        differs: What differs from it.
    """

    answers: Answers
    given: Mapping[str, str]
    differs: frozenset[str]

    def value(self, question: Question) -> Value:
        """Return what the answer to a question means, its default's meaning where it has none that counts."""
        text = self.answers.texts.get(question.key, self.given.get(question.key, ""))
        try:
            return read_answer(question, text, self.answers.system)
        except AnswerError:
            return None

    def answered(self, question: Question) -> bool:
        """Return whether a question has an answer that counts, its own or the typical unit's."""
        text = self.answers.texts.get(question.key)
        if text is None and question.key in self.given and not self._asks_still(question.key):
            text = self.given[question.key]
        try:
            read_answer(question, text or "", self.answers.system)
        except AnswerError:
            return False
        return text is not None

    def _asks_still(self, key: str) -> bool:
        first = key.partition(".")[0]
        topics = {"weight": "vehicle", "share": "vehicle", "wheelbase": "vehicle"}
        for start, topic in {"inner": "ties", "hung": "ties", "stand": "stands", "prop": "stands"}.items():
            if first.startswith(start):
                topics[first] = topic
        return key in ALWAYS_ASKED or topics.get(first, first) in self.differs

    def questions(self) -> Iterator[Question]:
        """Yield the questions, as far as they hang on what was answered so far."""
        for question in _all(self.answers, self):
            default = self.given.get(question.key, question.default)
            asked = in_us(question) if self.answers.system is System.US else question
            yield asked if default == question.default else replace(asked, default=default)


def course(answers: Answers) -> QuestionCourse:
    """Set the answers against the typical unit that somebody begins from, if any.

    Args:
        answers: What was answered so far.

    Returns:
        What knows the questions.
    """
    given = answers.given
    plain = QuestionCourse(answers, given, frozenset())
    value = plain.value(differs_question(answers.kind, given)) if given and answers.kind else ()
    return QuestionCourse(
        answers, given, frozenset(str(each) for each in value) if isinstance(value, tuple) else frozenset()
    )


def questions(answers: Answers) -> tuple[Question, ...]:
    """List the questions, as far as they hang on what was answered so far.

    Args:
        answers: What was answered so far.

    Returns:
        All questions in their order; what is not answered yet counts as its default.
    """
    return tuple(course(answers).questions())


def _all(answers: Answers, course: QuestionCourse) -> Iterator[Question]:
    """Yield the questions in their order: what it is, the vehicle, the shop, where the stands go, the work."""
    known, begin, kind = course.value, answers.begin, answers.kind
    yield from head_questions(begin, known)
    vehicle = vehicle_of(begin, known)
    if begin.is_like or (vehicle is None and kind is None):
        return
    if vehicle is None and kind is not None:
        if course.given:
            yield differs_question(kind, course.given)
        yield from unit_questions(kind, known)
        yield from weight_questions(kind, known)
        yield from pad_questions()
        yield from height_questions(kind, begin.shop, known)
        yield from tie_questions(kind, known)
    if begin.shop is None:
        yield from lift_questions(known)
        yield from gear_questions(known)
    prop = _prop(vehicle, kind)
    yield from place_questions(vehicle) if vehicle else seat_questions(kind, known) if kind else ()
    yield from use_questions(gear_of(begin.shop) if begin.shop else gear_words(known))
    yield from lift_use_questions(begin.shop)
    has_prop = begin.shop is None or props_of(begin.shop)
    if prop and has_prop:
        yield prop_question(prop) if begin.shop is None else prop_use_question(prop)
    if prop and vehicle is None and has_prop and known(prop_use_question(prop)):
        yield replace(prop_place_question(prop), odd=over_floor(known))
    if prop and begin.shop is None and known(prop_use_question(prop)):
        # Last: how low it has to go follows from where the others stand.
        yield from prop_gear_questions(prop, low_prop(vehicle, kind, known), answers.system)
    yield from work_questions(begin, kind, known)


def _prop(vehicle: Vehicle | None, kind: UnitKind | None) -> str:
    """Return which end a prop goes under, "" where the vehicle stays level or has no place for one."""
    if vehicle is None:
        return kind.prop if kind else ""
    seen = KnownVehicle(vehicle)
    # A vehicle that is set down itself has no heavy end.
    return seen.prop_places[0].name if seen.prop_places and seen.unit != (seen.held,) else ""


def next_question(answers: Answers) -> Question | None:
    """Find the question that comes: the one that somebody went back to, else the first without an answer that counts.

    Args:
        answers: What was answered so far.

    Returns:
        The question, None where all are answered.
    """
    known = course(answers)
    listed = list(known.questions())
    back = next((each for each in listed if each.key == answers.opened), None)
    if back is not None:
        # What it was answered with is kept by an empty answer.
        said = answers.texts.get(back.key, "")
        # Who did not know leaves it open by an empty answer still.
        return replace(back, default=back.default if is_unknown(said) else said or back.default)
    return next((each for each in listed if not known.answered(each)), None)


def values(answers: Answers) -> dict[str, Value]:
    """Collect what all answers mean.

    Args:
        answers: Answers to all questions.

    Returns:
        Value of each, by the key of its question.
    """
    known = course(answers)
    return {each.key: known.value(each) for each in known.questions()}


def is_for_practice(known: Mapping[str, Value]) -> bool:
    """Return whether nobody measured the vehicle that a typical unit stands in for."""
    differs = known.get("differs")
    return isinstance(differs, tuple) and UNMEASURED in differs


def with_answer(answers: Answers, question: Question, text: str) -> Reply:
    """Add an answer; an odd one is asked about, and taken when it comes again or yes does.

    Args:
        answers: What was answered so far.
        question: The question.
        text: What was typed.

    Returns:
        The answers with it, or why it was not taken.
    """
    if answers.doubted and text.strip().casefold() in {"", "y", "yes"}:
        text = answers.doubted
    tidy = text.strip() or (question.default or "")
    if answers.doubted and tidy.casefold() in {"n", "no"}:
        return Reply(replace(answers, doubted=""), "then once more")
    if (meant := _spelt_out(answers, question, tidy)) != tidy:
        return _told_back(answers, question, meant)
    try:
        value = read_answer(question, tidy, answers.system)
    except AnswerError as error:
        return _refused(answers, question, error)
    if tidy != answers.doubted and (odd := question.odd(value, answers.system)):
        return Reply(replace(answers, doubted=tidy), odd)
    if not text.strip():
        # Nothing typed keeps what was answered before, or what the typical unit has.
        text = answers.texts.get(question.key, tidy if question.key in course(answers).given else "")
    kept = {key: each for key, each in answers.texts.items() if not _is_of_another(key, answers, question, value)}
    return Reply(Answers({**kept, question.key: _in_words(question, text, answers.system)}, answers.begin))


def _is_of_another(key: str, answers: Answers, question: Question, value: Value) -> bool:
    """Return whether an earlier answer was said of something else than what is chosen now.

    What was read off one piece's plate, or held against one typical unit, can be read as an answer on another one as
    well, and would be wrong: a table's rating is not a stand's.
    """
    before = course(answers).value(question) if question.key in answers.texts else value
    if before == value:
        return False
    start, _, last = question.key.partition(".")
    if last == "what":
        return key.startswith(f"{start}.") and key not in {question.key, f"{start}.more"}
    return question.key in {"what", "start"} and key == "differs"


def _in_words(question: Question, text: str, system: System) -> str:
    """Return a choice by its words: a number means another thing once an earlier answer has changed the list."""
    match question.ask:
        case Ask.CHOICE | Ask.SEVERAL if any(each.isdecimal() for each in text):
            value = read_answer(question, text, system)
            told = ", ".join(map(str, value)) if isinstance(value, tuple) else str(value)
        case Ask.PARTS | Ask.USES:
            # Each piece is a number, or ends in one behind the letters of stands: "1, E F = 2".
            told = ", ".join(_numbered(question, each) for each in re.split(r"\s*[,;]\s*", text) if each)
        case _:
            return text
    try:
        return told if read_answer(question, told, system) == read_answer(question, text, system) else text
    except AnswerError:
        # A name with a comma in it stays a number.
        return text


def _numbered(question: Question, piece: str) -> str:
    """Return one piece of an answer with the word of the list in the place of its number."""
    found = re.search(r"[0-9]+$", piece)
    if found is None or not 1 <= int(found[0]) <= len(question.words):
        return piece
    is_whole = found.start() == 0 or question.ask is Ask.USES
    return f"{piece[: found.start()]}{question.words[int(found[0]) - 1]}" if is_whole else piece


def _refused(answers: Answers, question: Question, error: AnswerError) -> Reply:
    """Return a reply that says why an answer was not taken, its example like the question's and in the chosen units."""
    why = samples_as_in(question.hint, str(error))
    return Reply(replace(answers, doubted=""), samples_in_us(why) if answers.system is System.US else why)


def _spelt_out(answers: Answers, question: Question, text: str) -> str:
    """Return an answer with what was left unsaid: the year of a day, the number without "about"."""
    if question.ask is Ask.DAYS and answers.begin.today is not None:
        return full_days(text, answers.begin.today)
    return plainly(question.ask, text)


def _told_back(answers: Answers, question: Question, text: str) -> Reply:
    """Return a reply that tells how an answer is understood before it is taken: which day is meant, which number."""
    try:
        read_answer(question, text, answers.system)
    except AnswerError as error:
        return _refused(answers, question, error)
    return Reply(replace(answers, doubted=text), text, is_told_back=True)


def one_back(answers: Answers, question: Question) -> Answers:
    """Go back to the question before; every answer is kept, and those that still fit are not asked again.

    Args:
        answers: What was answered so far.
        question: The question that was asked.

    Returns:
        The answers, with that question open.
    """
    known = course(answers)
    asked = [each.key for each in known.questions() if each.key in answers.texts or each.key == question.key]
    here = asked.index(question.key) if question.key in asked else 0
    return replace(answers, opened=asked[max(here - 1, 0)], doubted="")
