"""What a page begins with: the verdict and what it rests on, what hurts first, and which job it is."""

import re

from loadplan.model.verdict import Assessment
from loadplan.report.text.terminal_colour import Colours, painted
from loadplan.report.words.columns import WIDTH, breadth, indented, wrap
from loadplan.report.words.top_findings import Foremost
from loadplan.report.words.vocabulary import Reader, basis_words, first_lift, shown_verdict


def head_lines(assessment: Assessment, worst: tuple[Foremost, ...], reader: Reader, colours: Colours) -> list[str]:
    """Lay out the head: verdict with the weights, why, title, vehicle and day.

    Args:
        assessment: The job, judged.
        worst: Its stops and cautions, what hurts first foremost.
        reader: Who reads it.
        colours: Whether the terminal takes colour.

    Returns:
        Lines of at most 100 characters.
    """
    shown = shown_verdict(assessment.verdict, assessment.basis)
    job = assessment.job
    until = f" to {job.until.isoformat()}" if job.until else ""
    because = [f"step {each.worst + 1}: {first_sentence(each.text)}" for each in worst[:1]]
    return [
        painted(apart(shown, f"weights: {basis_words(assessment.basis)}"), shown, assessment.verdict, colours),
        first_lift(reader.units),
        *(line for text in because for line in indented("Because, ", text, WIDTH)),
        *wrap(reader.words(job.title), WIDTH),
        *wrap(reader.words(f"{job.vehicle.name}; {job.date.isoformat()}{until}"), WIDTH),
    ]


def first_sentence(text: str) -> str:
    """Return the first sentence of what a check says: what happens; what would help stands behind it.

    Args:
        text: A finding in the reader's words.

    Returns:
        Its first sentence.

    Example:
        >>> first_sentence("E carries 3.5 t: too much. Before unbolting: use a stronger stand.")
        'E carries 3.5 t: too much.'
    """
    return re.split(r"(?<=\.) (?=[A-Z])", text, maxsplit=1)[0]


def apart(left: str, right: str) -> str:
    """Return two texts at both ends of a line.

    Args:
        left: The one at its beginning.
        right: The one at its end.

    Returns:
        The line.
    """
    return left + " " * max(2, WIDTH - breadth(left) - breadth(right)) + right
