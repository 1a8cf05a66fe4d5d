"""The way to a first job: which questions are asked, in which order, given what was answered so far."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from loadplan.model.vehicle import Place
from loadplan.planning.answers import AnswerError, Ask, Question, Value, read_answer
from loadplan.planning.guesses import ENGINES, GEARBOXES, LUMPS, SOURCES, lump_mass
from loadplan.units import System

OWN = "own"
"""The vehicle on the lift is not one of those that ship."""

THINNEST = 0.02
"""Least length, width and height of a lump [m]."""

REACH = 2.5
"""Farthest that anything of the front unit is from axle line, centre line or pads [m]."""


@dataclass(frozen=True, slots=True)
class Answers:
    """What was answered so far.

    Attributes:
        texts: Each answer as it was typed, by the key of its question.
        shipped: Names of the vehicles that ship.
    """

    texts: Mapping[str, str]
    shipped: tuple[str, ...]

    @property
    def system(self) -> System:
        """Units of bare numbers."""
        return System.US if self.texts.get("units", "").strip().casefold().startswith("u") else System.METRIC

    def value(self, question: Question) -> Value:
        """Return what the answer to a question means, its default's meaning where it has none that counts."""
        try:
            return read_answer(question, self.texts.get(question.key, ""), self.system)
        except AnswerError:
            return None

    def answered(self, question: Question) -> bool:
        """Return whether a question has an answer that counts."""
        try:
            read_answer(question, self.texts[question.key], self.system)
        except (KeyError, AnswerError):
            return False
        return True


def questions(answers: Answers) -> tuple[Question, ...]:
    """List the questions, as far as they hang on what was answered so far.

    Args:
        answers: What was answered so far.

    Returns:
        All questions in their order; what is not answered yet counts as its default.
    """
    head, lumps = tuple(_head(answers)), tuple(_lumps(answers))
    return (*head, *lumps, *_shell(answers), *_ties(answers), *_stands(answers), *_prop(answers), *_work())


def next_question(answers: Answers) -> Question | None:
    """Find the first question without an answer that counts.

    Args:
        answers: What was answered so far.

    Returns:
        The question, None where all are answered.
    """
    return next((each for each in questions(answers) if not answers.answered(each)), None)


def values(answers: Answers) -> dict[str, Value]:
    """Collect what all answers mean.

    Args:
        answers: Answers to all questions.

    Returns:
        Value of each, by the key of its question.
    """
    return {each.key: answers.value(each) for each in questions(answers)}


def _head(answers: Answers) -> Iterator[Question]:
    yield Question(
        "units",
        "Units of numbers that you write without a unit?",
        Ask.CHOICE,
        "metric: mm and kg; us: in and lb. A number with its unit is taken in any.",
        "metric",
        ("metric", "us"),
    )
    yield Question("title", "What is the job?", Ask.WORDS, "One line; it stands on top of every report.")
    yield Question("vehicle", "What do you call the vehicle?", Ask.WORDS, "One line.")
    yield Question("date", "On which day?", Ask.DAY, "Such as 2026-11-20. Empty: always today.", "")
    if answers.value(Question("date", "", Ask.DAY, "", "")):
        yield Question("until", "Until which day do you need the stands?", Ask.DAY, "Empty: not said.", "")
    yield Question(
        "pads.height",
        "With the vehicle on its wheels: how high above the floor are the places where the lift pads go?",
        Ask.LENGTH,
        "By tape. All other heights are measured from these places, the vehicle where you like.",
        "200 mm",
        least=0.05,
        most=1.0,
    )


def _lumps(answers: Answers) -> Iterator[Question]:
    for lump, called in zip(LUMPS, ("engine, dressed", "gearbox", "subframe with what hangs on it"), strict=True):
        weight = Question(
            f"{lump}.weight",
            f"What does the {called} weigh?",
            Ask.MASS,
            "Empty: a range for its kind is taken, as a guess.",
            "",
            least=3.0,
            most=1500.0,
        )
        yield weight
        if answers.value(weight) is not None:
            yield Question(
                f"{lump}.source",
                "Where is that from?",
                Ask.CHOICE,
                "scales counts 2 % either way, a data sheet 10 %, a guess 20 %.",
                "guess",
                SOURCES,
            )
        elif lump != "subframe":
            kinds = tuple(ENGINES if lump == "engine" else GEARBOXES)
            yield Question(f"{lump}.kind", f"Which kind of {lump} is it?", Ask.CHOICE, "", None, kinds)
        yield from _edges(answers, lump)


def _edges(answers: Answers, lump: str) -> Iterator[Question]:
    pairs = ((Ask.ALONG, "front", "rear"), (Ask.ACROSS, "left", "right"), (Ask.UP, "top", "bottom"))
    from_where = {
        Ask.ALONG: "of the axle line, say front or behind",
        Ask.ACROSS: "of the centre line, say left or right as you sit in the vehicle",
        Ask.UP: "from the lift pads, say above or below",
    }
    for ask, first, second in pairs:
        upper = Question(
            f"{lump}.{first}",
            f"The {lump}'s {first} edge: how far {from_where[ask]}?",
            ask,
            "By tape.",
            least=-REACH + THINNEST,
            most=REACH,
        )
        yield upper
        bound = answers.value(upper)
        most = (bound if isinstance(bound, float) else REACH) - THINNEST
        yield Question(
            f"{lump}.{second}",
            f"Its {second} edge?",
            ask,
            f"It has to lie beyond the {first} edge.",
            least=-REACH,
            most=most,
        )


def _shell(answers: Answers) -> Iterator[Question]:
    shell = Question(
        "shell",
        "Do you know what the vehicle weighs, or shall one that ships stand in for it?",
        Ask.CHOICE,
        f"{OWN}: you know it. Those that ship are invented: with one of them every report is for practice only.",
        OWN,
        (OWN, *answers.shipped),
    )
    yield shell
    if answers.value(shell) == OWN:
        known = {each.key: answers.value(each) for each in _lumps(answers)}
        unit = sum(lump_mass(lump, known)[0] for lump in LUMPS)
        yield Question(
            "weight",
            "What does the whole vehicle weigh, with everything on?",
            Ask.MASS,
            "From a scale or its papers.",
            least=1.5 * unit,
            most=10_000.0,
        )
        yield Question(
            "share",
            "How much of that is on the front axle?",
            Ask.SHARE,
            "In per cent. Empty: 60 %.",
            "60 %",
            least=0.3,
            most=0.8,
        )
        yield Question(
            "wheelbase", "How far is the rear axle behind the front axle?", Ask.LENGTH, "", least=1.5, most=6.0
        )
    front = Question(
        "pads.front",
        "The front lift pads: how far from the axle line?",
        Ask.ALONG,
        "Say front or behind.",
        least=-3.0,
        most=2.0,
    )
    yield front
    bound = answers.value(front)
    most = (bound if isinstance(bound, float) else 2.0) - 0.3
    yield Question(
        "pads.rear", "The rear lift pads?", Ask.ALONG, "They lie behind the front ones.", least=-6.0, most=most
    )
    yield Question(
        "pads.out",
        "How far are the pads from the centre line, to either side?",
        Ask.LENGTH,
        "",
        "700 mm",
        least=0.2,
        most=1.5,
    )
    yield Question("lift.rating", "What is the lift rated for?", Ask.LOAD, "What its plate says.", least=5e3, most=2e5)
    yield Question(
        "lift.rise",
        "How high do its pads go?",
        Ask.LENGTH,
        "Empty: not known, and not checked.",
        "",
        least=0.5,
        most=4.0,
    )
    yield Question("lift.locks", "Can it be set down on mechanical locks?", Ask.YES_NO, "", "yes")


def _ties(answers: Answers) -> Iterator[Question]:
    links = Question(
        "links",
        "How many mounts or links tie engine and gearbox to the subframe?",
        Ask.WHOLE,
        "They stay tight.",
        "1",
        least=0,
        most=4,
    )
    yield links
    yield from _places(answers, links, "link", "Link {} to the subframe: where is it?")
    mounts = Question(
        "mounts",
        "How many mounts tie engine and gearbox to the vehicle?",
        Ask.WHOLE,
        "They come off, with the bolts of the subframe.",
        "2",
        least=0,
        most=4,
    )
    yield mounts
    yield from _places(answers, mounts, "mount", "Mount {} to the vehicle: where is it?")


def _places(answers: Answers, many: Question, key: str, asks: str) -> Iterator[Question]:
    count = answers.value(many)
    for number in range(1, (count if isinstance(count, int) else 0) + 1):
        yield _place(f"{key}{number}.place", asks.format(number))


def _place(key: str, asks: str, reach: float = REACH) -> Question:
    hint = "From the axle line, the centre line and the lift pads, such as 330 front, 420 left, 60 below."
    return Question(key, asks, Ask.PLACE, hint, least=-reach, most=reach)


def _stands(answers: Answers) -> Iterator[Question]:
    kinds = Question("kinds", "How many kinds of stands do you use?", Ask.WHOLE, "", "1", least=1, most=3)
    yield kinds
    many = answers.value(kinds)
    names = tuple(str(number) for number in range(1, (many if isinstance(many, int) else 1) + 1))
    for name in names:
        yield from _kind(answers, f"kind{name}", f"Stands of kind {name}" if len(names) > 1 else "These stands")
    stands = Question("stands", "How many stands go under the unit?", Ask.WHOLE, "", "6", least=3, most=12)
    yield stands
    count = answers.value(stands)
    for letter in stand_letters(count if isinstance(count, int) else 6):
        if len(names) > 1:
            yield Question(f"stand{letter}.kind", f"Stand {letter}: which kind?", Ask.CHOICE, "", names[0], names)
        yield Question(f"stand{letter}.under", f"Stand {letter}: under what?", Ask.CHOICE, "", None, LUMPS)
        yield _place(f"stand{letter}.place", f"Stand {letter}: where does its saddle touch?")


def stand_letters(count: int) -> Sequence[str]:
    """Return the letters of some stands."""
    return "ABCDEFGHIJKL"[:count]


def _kind(answers: Answers, key: str, called: str) -> Iterator[Question]:
    yield Question(
        f"{key}.rating", f"{called}: what is marked on them?", Ask.LOAD, "Their rating.", least=500.0, most=5e5
    )
    yield Question(
        f"{key}.for",
        "Is that for a pair or for each?",
        Ask.CHOICE,
        "Not known: half is taken.",
        "not known",
        ("pair", "each", "not known"),
    )
    yield from _range(answers, key)
    yield Question(
        f"{key}.step",
        "How far is it from one setting to the next?",
        Ask.LENGTH,
        "Empty: any height (screw).",
        "",
        least=0.002,
        most=0.3,
    )
    yield Question(
        f"{key}.base",
        "How wide is the foot?",
        Ask.LENGTH,
        "Empty: not known, and not checked.",
        "",
        least=0.03,
        most=2.0,
    )
    yield Question(f"{key}.count", "How many of them do you have?", Ask.WHOLE, "", least=1, most=999)


def _range(answers: Answers, key: str) -> Iterator[Question]:
    lowest = Question(f"{key}.lowest", "The lowest saddle height?", Ask.LENGTH, "", least=0.02, most=2.5)
    yield lowest
    bound = answers.value(lowest)
    yield Question(
        f"{key}.highest", "The greatest?", Ask.LENGTH, "", least=bound if isinstance(bound, float) else 0.02, most=3.0
    )


def _prop(answers: Answers) -> Iterator[Question]:
    prop = Question("prop", "Do you have a stand for under the tail? The nose grows light.", Ask.YES_NO, "", "yes")
    yield prop
    if answers.value(prop):
        yield Question("prop.rating", "What may that one carry?", Ask.LOAD, "One of it.", least=500.0, most=5e5)
        yield from _range(answers, "prop")
        yield _place("prop.place", "Where does it touch the vehicle?", 6.0)


def _work() -> Iterator[Question]:
    yield Question("bar", "Do you pull hard on a long bar while the unit stands there?", Ask.YES_NO, "", "no")


def place_of(known: Mapping[str, Value], key: str) -> Place:
    """Return a place in the vehicle's axes.

    Args:
        known: Value of each answer.
        key: Key of the place.

    Returns:
        x, y, and z over the floor [m].
    """
    place, pads = known[key], known["pads.height"]
    assert isinstance(place, tuple)
    assert isinstance(pads, float)
    return place[0], place[1], pads + place[2]


def with_answer(answers: Answers, question: Question, text: str) -> Answers | str:
    """Add an answer.

    Args:
        answers: What was answered so far.
        question: The question.
        text: What was typed.

    Returns:
        The answers with it, or why it does not answer the question.
    """
    try:
        read_answer(question, text, answers.system)
    except AnswerError as error:
        return str(error)
    # At the end, so that going back takes the newest away.
    others = {key: each for key, each in answers.texts.items() if key != question.key}
    return Answers({**others, question.key: text}, answers.shipped)


def without_last(answers: Answers) -> Answers:
    """Take the newest answer away, so that its question comes again.

    Args:
        answers: What was answered so far.

    Returns:
        The answers without it.
    """
    return Answers(dict(list(answers.texts.items())[:-1]), answers.shipped)
