"""The questions of a first job by groups, as a page shows them: what is asked in each, and taking its answers.

The questions themselves, their order and what an answer means are the interview's (`planning/interview`).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from loadplan.planning.interview.question import Ask, Question
from loadplan.planning.interview.question_flow import Answers, QuestionCourse, course, with_answer

GROUPS = {
    "head": "The job", "typical": "The typical unit", "unit": "What comes out", "vehicle": "The vehicle",
    "ties": "Mounts and links", "shop": "The shop", "places": "Where the stands go", "work": "The work",
}  # fmt: skip
"""What each group of questions is called, in the order in which they are asked."""

DOUBTED = "doubted:"
"""Before the key of a question: the odd answer that was asked about, which the next form gives back."""

PART = ":"
"""Behind the key of a question of which several may be chosen: the number of one."""


@dataclass(frozen=True, slots=True)
class Untaken:
    """An answer that is not taken yet.

    Attributes:
        text: What stands in its field.
        says: Why it is not taken, or what is odd about it.
        is_odd: Whether it is taken when it comes again.
    """

    text: str
    says: str
    is_odd: bool


@dataclass(frozen=True, slots=True)
class Taken:
    """What came of the answers of a group.

    Attributes:
        answers: The answers with those that were taken.
        untaken: The others, by the key of their question.
    """

    answers: Answers
    untaken: Mapping[str, Untaken] = field(default_factory=dict)


def asked_of(known: QuestionCourse, group: str) -> list[Question]:
    """List what is asked in a group; what a typical unit answers, and nobody says differs, is not.

    Args:
        known: The questions as they stand.
        group: The group.

    Returns:
        Its questions, in their order.
    """
    texts = known.answers.texts
    return [
        each
        for each in known.questions()
        if each.group == group and (each.key in texts or each.key not in known.given or not known.answered(each))
    ]


def groups_of(known: QuestionCourse) -> list[str]:
    """List the groups in which something is asked.

    Args:
        known: The questions as they stand.

    Returns:
        Their names, in order.
    """
    return [group for group in GROUPS if asked_of(known, group)]


def open_group(known: QuestionCourse) -> str:
    """Find the group that comes.

    Args:
        known: The questions as they stand.

    Returns:
        The group of the first question without an answer that counts, "" where all are answered.
    """
    return next((each.group for each in known.questions() if not known.answered(each)), "")


def taken(answers: Answers, group: str, form: Mapping[str, str], *, is_whole: bool = True) -> Taken:
    """Take the answers of a group, one after the other, since later questions hang on earlier answers.

    Args:
        answers: What was answered so far.
        group: The group.
        form: What was filled in, by field.
        is_whole: Whether the form is done; where it is not yet, an empty field is no answer.

    Returns:
        The answers with those that count; what was answered before stays where the new answer does not.
    """
    untaken: dict[str, Untaken] = {}
    seen: set[str] = set()
    while question := _next(answers, group, form, seen):
        seen.add(question.key)
        text = _filled(question, form)
        if not text and not is_whole:
            continue
        others = {key: each for key, each in answers.texts.items() if key != question.key}
        # An odd answer is taken only as it was asked about: one that was changed is looked at anew.
        doubted = form.get(DOUBTED + question.key, "")
        before = Answers(others, answers.begin, doubted=doubted if doubted == text else "")
        reply = with_answer(before, question, text)
        if reply.says:
            odd = reply.answers.doubted
            untaken[question.key] = Untaken(odd or text, reply.says, bool(odd))
        else:
            answers = replace(answers, texts={**answers.texts, question.key: reply.answers.texts[question.key]})
    return Taken(answers, untaken)


def _next(answers: Answers, group: str, form: Mapping[str, str], seen: set[str]) -> Question | None:
    """Return the next question of a group that is answered in a form."""
    listed = asked_of(course(answers), group)
    return next((each for each in listed if each.key in form and each.key not in seen), None)


def _filled(question: Question, form: Mapping[str, str]) -> str:
    """Return what was answered, as `loadplan new` would have it typed."""
    text = " ".join(form[question.key].split())
    if question.ask is not Ask.SEVERAL:
        return text
    ticked = [
        word for number, word in enumerate(question.words) if form.get(f"{question.key}{PART}{number}") is not None
    ]
    if ticked:
        return ", ".join(ticked)
    return text or ("nothing" if question.default is not None else "")
