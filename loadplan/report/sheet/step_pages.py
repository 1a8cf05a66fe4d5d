"""The pages of the steps on the floor sheet: one for each in which anything changes, steps alike on one."""

from dataclasses import dataclass

from loadplan.checks.phrases import names, several
from loadplan.model.verdict import Assessment, StageAssessment, Verdict
from loadplan.report.drawing.pagination import Block, fewest_pages, heading, paragraph, points, space
from loadplan.report.sheet.front_page import SLACK, SheetPage
from loadplan.report.sheet.sheet_band import headed_again, verdict_band, worst_case
from loadplan.report.sheet.step_plan import draw_step
from loadplan.report.sheet.tick_boxes import tick_blocks
from loadplan.report.words.cautions import boxes
from loadplan.report.words.findings import parted, stage_lines
from loadplan.report.words.nearest_to_tipping import nearest_in_step
from loadplan.report.words.stage_tables import UNDER_AIR, carried, deeds
from loadplan.report.words.top_findings import steps_words
from loadplan.report.words.vocabulary import Reader, basis_words, first_lift, shown_verdict

MOST = 0.72
"""Greatest height of a step's plan by the page's width."""

TIGHT = ((0.5, 10.5), (0.44, 9.5), (0.36, 9.0), (0.3, 9.0))
"""Least height of the plan by the page's width, and type of loads and findings [pt]: the first that takes least."""


SAME = 1.02
"""Up to how many times its load of the first step a pad counts as loaded alike on a shared page."""


@dataclass(frozen=True, slots=True)
class _Room:
    """The paper, the least share of its width that the plan is high [1], and the type of the findings [pt]."""

    paper: SheetPage
    least: float
    small: float


def step_blocks(assessment: Assessment, stages: list[StageAssessment], paper: SheetPage, reader: Reader) -> list[Block]:
    """Lay out the page of one step, or of steps alike.

    Args:
        assessment: The job, judged.
        stages: The steps, at least one.
        paper: The paper.
        reader: Who reads it.

    Returns:
        Its blocks, in order.
    """
    tries = (_page(assessment, stages, _Room(paper, least, small), reader) for least, small in TIGHT)
    return fewest_pages(tries, paper.room)


def _page(assessment: Assessment, stages: list[StageAssessment], room: _Room, reader: Reader) -> list[Block]:
    """Return the blocks of a page; the plan takes the room that the others leave."""
    width, paper = room.paper.width, room.paper
    above = [_band(assessment, stages, width, reader), space(4)]
    above += [block for stage in stages for block in _done(assessment, stages, stage, width, reader)]
    below = [space(4), *_carries(stages, room.small, width, reader)]
    below += _findings(stages, room.small, width, reader)
    left = paper.room - SLACK - sum(block.high for block in (*above, *below))
    high = min(max(left, room.least * paper.wide), MOST * paper.wide)
    plan = Block(high, lambda pen, box: draw_step(pen, box, assessment, stages, reader))
    verdict = max(stage.verdict for stage in stages)
    told = f"{shown_verdict(verdict, assessment.basis)}: {_numbered(assessment, stages)}, continued"
    return headed_again([*above, plan, *below], told, verdict, width)


def _numbered(assessment: Assessment, stages: list[StageAssessment]) -> str:
    """Return which steps a page is of."""
    return f"{steps_words([stage.state.index for stage in stages])} of {len(assessment.stages)}"


def _band(assessment: Assessment, stages: list[StageAssessment], width: float, reader: Reader) -> Block:
    """Return the band: the worst verdict of the page's steps, which they are, and the worst case of them."""
    verdict = max(stage.verdict for stage in stages)
    title = _numbered(assessment, stages).capitalize()
    named = f": {reader.words(stages[0].state.name)}" if len(stages) == 1 else ""
    near = [found for stage in stages if (found := nearest_in_step(stage))]
    least = min(near, key=lambda each: -1e9 if each.fall else each.worst or 0.0, default=None)
    told = worst_case(least, assessment.job, reader) if least else []
    texts = [
        (shown_verdict(verdict, assessment.basis), points(17, bold=True)),
        (title + named, points(14, bold=True)),
        *told,
        (f"Weights: {basis_words(assessment.basis)}. {first_lift(reader.units)}", points(9.5)),
    ]
    return verdict_band(texts, verdict, width)


def _done(
    assessment: Assessment, stages: list[StageAssessment], stage: StageAssessment, width: float, reader: Reader
) -> list[Block]:
    """Return what a step does; where several share the page, under its name and verdict."""
    title = f"Step {stage.state.index + 1} of {len(assessment.stages)}: {reader.words(stage.state.name)}"
    apart = len({each.verdict for each in stages}) > 1
    verdict = f" ({shown_verdict(stage.verdict, assessment.basis)})" if apart else ""
    heads = heading(f"{title}{verdict}", points(12, bold=True), width) if len(stages) > 1 else []
    said = deeds(stage.state, reader) or ["Nothing comes off, nothing is undone."]
    # Steps that share a page leave each other room: what one does follows on in one paragraph.
    said = [" ".join(said)] if len(stages) > 1 else said
    # The boxes of the first step stand on the second page.
    ticks = tick_blocks(boxes(assessment.job, stage, reader.units), width, reader) if stage.state.index else []
    return [*heads, *(block for text in said for block in paragraph(text, points(11), width)), space(3), *ticks]


def _carries(stages: list[StageAssessment], small: float, width: float, reader: Reader) -> list[Block]:
    """Return what every stand carries, of a further step on the page only what is different in it."""
    blocks: list[Block] = []
    before: set[str] = set()
    for stage in stages:
        told = _loads(stage, stages[0], reader)
        new = [text for text in told if text not in before]
        head = f"Step {stage.state.index + 1} carries" if len(stages) > 1 else "Carries"
        blocks += paragraph(f"{head}: {'; '.join(new)}.", points(small), width) if new else []
        before |= set(told)
        blocks += [block for text in _unknown(stage, reader) for block in paragraph(text, points(small), width)]
    return blocks or paragraph("Nothing stands under anything.", points(small), width)


def _loads(stage: StageAssessment, first: StageAssessment, reader: Reader) -> list[str]:
    """Return what each support carries, and the most on this floor; a pad only if it bears more than on the first."""
    arms = {each.name for each in stage.state.supports if each.is_arm}
    told = []
    for name, load in ((each.name, each.load) for each in stage.statics.supports):
        before = first.statics.load(name) if stage is not first and name in arms else None
        if load and not (before and load.at_most <= SAME * before.at_most):
            told.append(f"{reader.words(name)} {carried(load, reader)} (most {reader.load(load.at_most)})")
    return told


def _unknown(stage: StageAssessment, reader: Reader) -> list[str]:
    """Return which supports have no load, and why."""
    in_air = [reader.words(each.name) for each in stage.state.supports if not stage.state.bears(each)]
    loose = [reader.words(each.name) for each in stage.statics.supports if each.load is None]
    without = [name for name in loose if name not in in_air]
    said = [f"No loads for {names(without)}: what they bear is not in balance."] if without else []
    return said + ([f"{names(in_air)} {several(in_air, 'carries', 'carry')} {UNDER_AIR}."] if in_air else [])


def _findings(stages: list[StageAssessment], small: float, width: float, reader: Reader) -> list[Block]:
    """Return the findings of the page's steps, the worst first; what steps have in common is told once."""
    found: dict[tuple[Verdict, str, str], dict[str, list[int]]] = {}
    for stage in stages:
        for line in stage_lines(stage, reader):
            # A caution or a stop says what is wrong first, then what to do, which may be another thing in each step.
            wrong, cure = (line.text, "") if line.verdict is Verdict.NOTE else parted(line.text)
            told = found.setdefault((line.verdict, line.check, wrong), {})
            told.setdefault(cure, []).append(stage.state.index)
    if not found:
        return heading("Every check holds here.", points(12, bold=True), width)
    blocks = heading("Findings", points(12, bold=True), width)
    for (verdict, check, wrong), cures in sorted(found.items(), key=lambda each: -each[0][0]):
        word = verdict.name if verdict > Verdict.NOTE else "note"
        steps = sorted({step for each in cures.values() for step in each})
        only = f" ({steps_words(steps)})" if len(steps) < len(stages) else ""
        apart = len(cures) > 1
        does = [f"{steps_words(at).capitalize()}: {cure}" if apart else cure for cure, at in cures.items() if cure]
        blocks += paragraph(" ".join((f"{word}, {check}{only}: {wrong}", *does)), points(small), width, "•")
    return blocks
