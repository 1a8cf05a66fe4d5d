"""The bands of the floor sheet: a verdict in its colour and texture, what it rests on, and the worst case large."""

from collections.abc import Sequence
from dataclasses import replace

from loadplan.model.job import Job
from loadplan.model.verdict import Assessment, Verdict
from loadplan.report.drawing.pagination import Block, folded, points, space
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import INK, Stroke, Type
from loadplan.report.drawing.text_width import LINE, text_width
from loadplan.report.drawing.view import Box
from loadplan.report.pictures.verdict_colours import livery
from loadplan.report.text.key_figures import loaded_texts
from loadplan.report.words.nearest_to_tipping import (
    NearestToTipping,
    about_words,
    nearest_in_job,
    who_tips,
    worst_words,
)
from loadplan.report.words.tipping_direction import past_or_short
from loadplan.report.words.top_findings import foremost
from loadplan.report.words.vocabulary import Reader, basis_words, first_lift, shown_verdict

CLOSER = 0.86
"""By how much words of a band may be smaller where they fill one line then."""

ENDS, INSET = 24, 9
"""Width of the texture at each end of the band, and free room beside its words [px]."""


def verdict_band(texts: list[tuple[str, Type]], verdict: Verdict, width: float) -> Block:
    """Return a band in a verdict's colour and texture, with its word and lines under it.

    Args:
        texts: The verdict as it is shown and what stands under it, each with its type.
        verdict: The verdict.
        width: Room [px].

    Returns:
        One block.
    """
    look = livery(verdict)
    room = width - 2 * (ENDS + INSET)
    fitting = [(text, _fitting(text, kind, room)) for text, kind in texts]
    lines = [(line, kind) for text, kind in fitting for line in folded(text, kind, room)]

    def draw(pen: Pen, box: Box) -> None:
        pen.box(box, look.fill, Stroke(INK, 1.5))
        for left in (box.left, box.right - ENDS):
            pen.texture(Box(left, box.bottom, left + ENDS, box.top), look.hatch * 2, look.text)
        top = box.top - INSET / 2
        for line, kind in lines:
            step = LINE * kind.size
            pen.words((box.left + ENDS + INSET, top - step / 2), line, Type(kind.size, kind.bold, look.text))
            top -= step

    return Block(sum(LINE * kind.size for _, kind in lines) + INSET, draw)


def headed_again(blocks: Sequence[Block], told: str, verdict: Verdict, width: float) -> list[Block]:
    """Let blocks that go over onto another page stand under a narrow band there: each page says what it is part of.

    Args:
        blocks: The blocks of one page or more, from its band down.
        told: What the narrow band says.
        verdict: The verdict, in whose colour and texture it is.
        width: Room [px].

    Returns:
        The blocks, in the same order.
    """
    band = verdict_band([(told, points(14, bold=True))], verdict, width)
    return [*blocks[:1], *(replace(each, again=(band, space(4), *each.again)) for each in blocks[1:])]


HALF_WAY_SHOWN = "Half way: while parts of the step come off or go on. Drawing and loads are those of its end."
"""What is told where a sheet's number and its drawing are not of the same moment."""


def _fitting(text: str, wanted: Type, room: float) -> Type:
    """Return the type of a text: a little smaller where that keeps its last word from a line of its own."""
    smaller = replace(wanted, size=wanted.size * CLOSER)
    return smaller if text_width(text, wanted) > room >= text_width(text, smaller) else wanted


def job_band(assessment: Assessment, reader: Reader, width: float) -> Block:
    """Return the verdict on the whole job: what hurts first, the worst case large, and what both rest on.

    Args:
        assessment: The job, judged.
        reader: Who reads it.
        width: Room [px].

    Returns:
        One block.
    """
    worst = foremost(assessment, reader)
    because = [f"Because, step {worst[0].worst + 1}: {worst[0].text}"] if worst else []
    near = nearest_in_job(assessment)
    loaded = [reader.words(f"Most loaded: {text}.") for text in loaded_texts(assessment, reader)]
    texts = [
        (shown_verdict(assessment.verdict, assessment.basis), points(26, bold=True)),
        *((text, points(11)) for text in because),
        *(worst_case(near, assessment.job, reader) if near else []),
        *((text, points(11)) for text in loaded),
        (f"Weights: {basis_words(assessment.basis)}. {first_lift(reader.units)}", points(10.5, bold=True)),
    ]
    return verdict_band(texts, assessment.verdict, width)


def worst_case(near: NearestToTipping, job: Job, reader: Reader) -> list[tuple[str, Type]]:
    """Tell what goes over first: the worst case large, what it is and as given small.

    Args:
        near: What goes over first.
        job: The job.
        reader: Who reads it.

    Returns:
        Texts with their types.
    """
    who, worst = who_tips(near, reader), worst_words(near, job.limits, reader)
    large = points(17, bold=True)
    half_way = [(HALF_WAY_SHOWN, points(10.5))] if near.on_the_way else []
    if near.fall:
        return [(f"Step {near.stage + 1}: the {who} {worst}", large), *half_way]
    to = "to tipping" if (near.worst or 0.0) > 0 else "the edge"
    given = "" if near.given is None else f" ({past_or_short(near.given, reader)} with the weights as given)"
    to_side = f", to the {near.side}" if near.side else ""
    about = reader.words(f"About {about_words(near, job)}{to_side}") if near.about else "Nearest to tipping"
    return [
        (f"Worst case {worst} {to}: {who}, step {near.stage + 1}", large),
        (f"{about}{given}.", points(10.5)),
        *half_way,
    ]
