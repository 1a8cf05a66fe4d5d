"""The verdict band of the live plan and its big number: this step and all steps, how far from tipping, worst case."""

from typing import TypeAlias

from loadplan.checks.check_table import CHECK_OF
from loadplan.limits import Limits
from loadplan.model.answer import BodyAnswer
from loadplan.model.verdict import Assessment, Measure, Quantity, StageAssessment, Verdict
from loadplan.report.pictures.live_plan import Live
from loadplan.report.pictures.plan_content import PlanContent
from loadplan.report.pictures.plan_labels import distance_words
from loadplan.report.pictures.tipping_edge import RigidShown
from loadplan.report.pictures.title_block import reason
from loadplan.report.words.nearest_to_tipping import nearest_in_step, worst_words
from loadplan.report.words.stage_tables import wholes
from loadplan.report.words.tipping_direction import past_or_short, past_or_short_parts
from loadplan.report.words.vocabulary import Reader, basis_words, first_lift, shown_verdict

Plain: TypeAlias = str | float | int | bool | list["Plain"] | dict[str, "Plain"] | None
"""What JSON holds."""

LONGEST_RULER = 0.25
"""Margins up to this [m] are shown to scale."""

IN_THE_PLAN = "about the thick line in the plan"
"""What a whole that nothing holds turns about, told away from the drawing."""


def band(assessment: Assessment, stage: StageAssessment, reader: Reader) -> dict[str, Plain]:
    """Tell the verdict of a step with its reason, and beside it that of the whole job with the step that decides it.

    Args:
        assessment: The job, judged.
        stage: The step.
        reader: Who reads it.

    Returns:
        Words for both cells.
    """
    basis = assessment.basis
    worst = worst_step(assessment)
    return {
        "key": stage.verdict.words,
        "word": shown_verdict(stage.verdict, basis),
        "reason": reason(stage, reader),
        "basis": f"weights: {basis_words(basis)}",
        "under": first_lift(reader.units),
        "job": shown_verdict(assessment.verdict, basis),
        "job_key": assessment.verdict.words,
        "job_step": worst,
        **_job_margin(assessment, worst, reader),
    }


def worst_step(assessment: Assessment) -> int:
    """Find the step that decides a job's verdict.

    Args:
        assessment: The job, judged.

    Returns:
        Number of the first step of the worst verdict that has lost its margin, else of the one with the least in the
        worst case, from 0.
    """
    ranked = []
    for number, stage in enumerate(assessment.stages):
        near = nearest_in_step(stage)
        left = float("inf") if near is None else -float("inf") if near.worst is None else near.worst
        ranked.append((-stage.verdict, left, number))
    return min(ranked)[2]


def _job_margin(assessment: Assessment, step: int, reader: Reader) -> dict[str, Plain]:
    """Return how near to tipping the deciding step is, in the worst case and as given; empty where nothing can tip."""
    near = nearest_in_step(assessment.stages[step])
    if near is None:
        return {"job_worst": "", "job_given": ""}
    worst = worst_words(near, assessment.job.limits, reader)
    if near.given is None:
        return {"job_worst": worst, "job_given": worst}
    return {"job_worst": f"{worst}, worst case", "job_given": f"{past_or_short(near.given, reader)}, as given"}


def distances(live: Live) -> list[Plain]:
    """Tell how far each rigid whole of a drawing is from going over, for the switch between worst case and as given.

    Args:
        live: What is drawn, and how large.

    Returns:
        Words of both, in the order of the wholes, as short as the drawing has them; "" where none is drawn.
    """
    return [_distance(whole, live) for whole in live.scene.wholes]


def _distance(whole: RigidShown, live: Live) -> Plain:
    worst = live.far(whole)
    margin_given = whole.bodies[0].margin
    if whole.nearest is None or whole.nearest.worst is None or margin_given is None:
        return {"worst": worst, "given": worst}
    given = past_or_short(margin_given, live.reader)
    return {"worst": worst, "given": f"{given} to tipping, as given" if live.wide else f"{given} as given"}


def margin(stage: StageAssessment, scene: PlanContent, limits: Limits, reader: Reader) -> Plain:
    """Tell how far the rigid whole that goes over first is from tipping.

    Args:
        stage: The stage.
        scene: The same to be drawn.
        limits: What is asked for.
        reader: Who reads it.

    Returns:
        Words and lengths [m]; None where nothing can tip.
    """
    bodies = [each for each in stage.statics.bodies if each.worst_margin is not None]
    critical = next((each for each in scene.wholes if each.name == scene.critical), None)
    found = (each.verdict for each in stage.findings if CHECK_OF[each.check].of_tipping)
    # What the drawing blames on the assembly counts here too, such as a push: ruler and edge have one colour.
    own = {critical.name} if critical else {each.name for each in scene.wholes}
    blamed = (verdict for name, verdict in scene.faults.wholes if name in own)
    faults = (each for each in (*found, *blamed) if each > Verdict.NOTE)
    shared: dict[str, Plain] = {
        "key": max(faults, default=Verdict.HOLDS).words,
        "limit": {"words": reader.length(limits.margin), "value": limits.margin},
        "full": LONGEST_RULER,
        "end": f"{reader.length(LONGEST_RULER)} and more",
    }
    if critical is not None and not critical.balanced:
        far, about = distance_words(critical, reader)
        about = IN_THE_PLAN if critical.free else about
        words = _critical_told(critical, far, reader)
        return {"given": words, "worst": words, "name": reader.words(critical.name), "about": about, **shared}
    nearest = min(bodies, key=_worst, default=None)
    if nearest is None:
        return None
    whole = next(each for each in wholes(stage) if nearest in each)
    edges = [each for each in scene.wholes if nearest in each.bodies]
    return {
        "worst": _worst_told(nearest, limits, reader),
        "given": _parted("", "", None)
        if nearest.margin is None
        else _parted(reader.length(nearest.margin), "to tipping, as given", nearest.margin),
        "name": reader.words(" and ".join(each.name for each in whole)),
        "about": distance_words(edges[0], reader)[1] if edges else "",
        **shared,
    }


def _worst(body: BodyAnswer) -> float:
    return body.worst_margin if body.worst_margin is not None else float("inf")


def _critical_told(critical: RigidShown, far: str, reader: Reader) -> dict[str, Plain]:
    """Return the margin of a whole that goes over, or is free to rock and has no figure."""
    if critical.free or critical.nearest is None:
        return _parted("", far, critical.nearest.margin if critical.nearest else None)
    figure, rest = past_or_short_parts(critical.nearest.margin, reader)
    return _parted(figure, rest or "to tipping", critical.nearest.margin)


def _worst_told(body: BodyAnswer, limits: Limits, reader: Reader) -> dict[str, Plain]:
    worst = _worst(body)
    if worst <= 0:
        return _parted("", "may tip in the worst case", worst)
    return _parted(reader.below(Quantity(worst, Measure.LENGTH), limits.margin), "to tipping, worst case", worst)


def _parted(figure: str, rest: str, value: float | None) -> dict[str, Plain]:
    """Return a margin for the page: its figure, the words after it, both together, and its length [m]."""
    return {"figure": figure, "rest": rest, "words": " ".join(each for each in (figure, rest) if each), "value": value}
