"""What the page shows of one stage: words and numbers, written by the same rules as every other report."""

from dataclasses import dataclass

from loadplan.board.cure_buttons import CureButtons, one_more_button, troubles_of
from loadplan.board.stand_in_hand import equipment_told, in_hand, shims_told
from loadplan.board.step_form import step_form
from loadplan.board.verdict_cells import Plain, band, distances, margin
from loadplan.checks.check_table import CHECK_OF
from loadplan.checks.one_more import CELL
from loadplan.checks.reading import read_at
from loadplan.model.job import Job, State, Support
from loadplan.model.vehicle import Part
from loadplan.model.verdict import Assessment, Measure, Quantity, StageAssessment, Verdict
from loadplan.report.drawing.paper import VIEW_BOX
from loadplan.report.pictures.live_plan import Live
from loadplan.report.pictures.plan_content import PlanContent, hangs_something, margin_is_on_the_lift
from loadplan.report.pictures.title_block import reason
from loadplan.report.words.cautions import cautions
from loadplan.report.words.findings import told
from loadplan.report.words.number_format import write, write_beside
from loadplan.report.words.stage_tables import UNDER_AIR, from_chalk
from loadplan.report.words.vocabulary import Reader, shown_verdict, verdict_word

CARRIES_NOTHING = "carries nothing"
"""In place of a load that reads 0."""

SO_FAR = "HOLDS SO FAR"
"""While a stand is being moved: nothing seen yet that does not hold, but not everything has been looked at."""


@dataclass(frozen=True, slots=True)
class ScreenView:
    """One stage on one page.

    Attributes:
        assessment: The job, judged.
        stage: The stage.
        live: Its drawing.
    """

    assessment: Assessment
    stage: StageAssessment
    live: Live

    @property
    def reader(self) -> Reader:
        """Who reads it."""
        return self.live.reader

    @property
    def job(self) -> Job:
        """The job."""
        return self.assessment.job


def screen(seen: ScreenView, given: Job) -> dict[str, Plain]:
    """Tell everything of a stage.

    Args:
        seen: The stage.
        given: The job without what is tried out.

    Returns:
        What the page shows, as JSON.
    """
    job, reader, state = seen.job, seen.reader, seen.stage.state
    lifted = job.lift.body if job.lift else ""
    return {
        "title": reader.words(job.title),
        "vehicle": reader.words(job.vehicle.name),
        "units": reader.units.value,
        "verdict": band(seen.assessment, seen.stage, reader),
        "margin": margin(seen.stage, seen.live.scene, job.limits, reader),
        "far": distances(seen.live),
        "mass": _mass(seen),
        "stands": [_stand(seen, number, support) for number, support in enumerate(job.supports)],
        "equipment": equipment_told(seen.assessment, reader),
        "shims": shims_told(job, reader),
        "points": [
            {"id": number, "name": reader.words(each.name), "x": each.at[0], "y": each.at[1]}
            for number, each in enumerate(job.vehicle.points)
            if each.body in state.bodies
        ],
        "bodies": [
            {"id": number, "name": reader.words(each.name)}
            for number, each in enumerate(job.vehicle.bodies)
            if each.name in state.bodies
        ],
        "parts": [
            {
                **_part(state, number, part, reader),
                "given": reader.mass(given.vehicle.parts[number].mass),
                "unit": part.body != lifted,
            }
            for number, part in enumerate(job.vehicle.parts)
            if part.body in job.bodies
        ],
        "findings": _findings(seen),
        "step_form": step_form(job, state, reader),
        "not_checked": [reader.sentence(says) for says in seen.assessment.not_checked],
        "assumed": [reader.words(text) for text in seen.assessment.assumed],
        "cautions": list(cautions(seen.assessment.basis, reader.units)),
        "one_more": {"side": CELL, "cells": [{"x": x, "y": y} for x, y in seen.live.one_more]},
        "around": seen.live.everything,
        "margin_on_lift": margin_is_on_the_lift(seen.assessment, seen.stage),
        "can_around": hangs_something(seen.assessment, seen.stage),
        "map": _map(seen.live),
    }


def steps(assessment: Assessment, reader: Reader) -> list[Plain]:
    """Tell the stages of a job in a line each.

    Args:
        assessment: The job, judged.
        reader: Who reads it.

    Returns:
        Name and verdict of each.
    """
    return [
        {
            "name": reader.words(stage.state.name),
            "verdict": stage.verdict.words,
            "word": verdict_word(stage.verdict),
        }
        for stage in assessment.stages
    ]


def glance(stage: StageAssessment, now: PlanContent, seen: ScreenView) -> dict[str, Plain]:
    """Tell what a passing look at a stage sees, while a stand is being moved.

    Args:
        stage: What it sees.
        now: The same to be drawn.
        seen: The stage as it was before the move.

    Returns:
        Verdict as far as it is sure, margin and loads.
    """
    reader, job = seen.reader, seen.job
    supports = {each.name: each for each in stage.state.supports}
    word = shown_verdict(stage.verdict, seen.assessment.basis)
    if stage.verdict <= Verdict.NOTE:
        # Not everything has been looked at, so it must not read as if it held.
        word = word.replace(verdict_word(Verdict.HOLDS), SO_FAR)
    return {
        "verdict": {
            "key": stage.verdict.words,
            "word": word,
            "reason": reason(stage, reader) if stage.verdict > Verdict.NOTE else "",
        },
        "margin": margin(stage, now, job.limits, reader),
        "nearest": next((n for n, whole in enumerate(now.wholes) if whole.name == now.critical), None),
        "stands": [
            {"id": number, **_carries(stage, supports[each.name], reader)}
            for number, each in enumerate(job.supports)
            if each.name in supports
        ],
    }


def _mass(seen: ScreenView) -> str:
    """Return what the stands carry together in this stage."""
    stands = [each for each in seen.stage.state.supports if not (each.is_arm or each.standby)]
    carried = [load.expected for each in stands if (load := seen.stage.statics.load(each.name)) is not None]
    if not stands or len(carried) < len(stands):
        return ""
    noun = "stand" if len(stands) == 1 else "stands"
    return f"{seen.reader.load(sum(carried))} on {len(stands)} {noun}, as given"


def _stand(seen: ScreenView, number: int, support: Support) -> dict[str, Plain]:
    """Return one stand of the job, in words for its row and its label, and as numbers for the script."""
    job, reader = seen.job, seen.reader
    here = any(each.name == support.name for each in seen.stage.state.supports)
    points = {point.name: place for place, point in enumerate(job.vehicle.points)}
    name, uses = reader.words(support.name), reader.words(support.equipment.name)
    place = from_chalk(*support.at[:2], reader)
    under = reader.words(support.point or f"free, under the {support.body}")
    carries = _carries(seen.stage, support, reader)
    bears = carries["load"] or "load not known"
    return {
        "id": number,
        "name": name,
        "equipment": [each.name for each in job.shop.equipment].index(support.equipment.name),
        "uses": uses,
        **carries,
        "height": "" if support.height is None else reader.length(support.height),
        "height_words": _height_words(support, reader),
        "place": place,
        "under": under,
        "point": points.get(support.point),
        "standby": support.standby,
        "here": here,
        "x": support.at[0],
        "y": support.at[1],
        **in_hand(job, seen.stage, support, reader),
        "label": f"Stand {name}: {bears if here else 'not in place in this step'}. {uses}, {under}, {place}",
    }


def _height_words(support: Support, reader: Reader) -> str:
    if support.height is None:
        return "brought up to just touch"
    shim = f" and {reader.length(support.shim.height)} on it" if support.shim else ""
    return f"set to {reader.length(support.height)}{shim}"


def _carries(stage: StageAssessment, support: Support, reader: Reader) -> dict[str, Plain]:
    """Return what a stand carries, and how much of its rating that is."""
    load = stage.statics.load(support.name)
    own = {support.name, support.piece or support.name}
    about = [each for each in stage.findings if CHECK_OF[each.check].of_a_stand and read_at(each, own)]
    verdict = max((each.verdict for each in about if each.verdict > Verdict.NOTE), default=Verdict.HOLDS).words
    if load is None:
        unknown: dict[str, Plain] = {
            "load_is_nothing": False,
            "most_is_nothing": False,
            "given_share": "",
            "given_bar": 0.0,
        }
        here = any(each.name == support.name for each in stage.state.supports)
        told = f"carries {UNDER_AIR}" if here and not stage.state.bears(support) else ""
        return {"load": told, "most": "", **unknown, "share": "", "bar": 0.0, "verdict": verdict}
    rating = support.equipment.rating_of_one
    share = load.at_most / rating
    limit = 1.0
    bears, nothing = reader.load(load.expected), reader.load(0.0)
    return {
        "load": CARRIES_NOTHING if bears == nothing else bears,
        "load_is_nothing": bears == nothing,
        "most_is_nothing": reader.load(load.at_most) == nothing,
        "most": reader.load(load.range.high) if load.range else "",
        "given_share": write(Quantity(load.expected / rating, Measure.SHARE), reader.units),
        "given_bar": load.expected / rating,
        "share": write_beside(Quantity(share, Measure.SHARE), limit, reader.units)
        if share > limit
        else write(Quantity(share, Measure.SHARE), reader.units),
        "bar": share,
        "verdict": verdict,
    }


def _part(state: State, number: int, part: Part, reader: Reader) -> dict[str, Plain]:
    """Return one part, whether it can be taken off or put on now, and what it waits for."""
    off = part.name not in state.on
    first = [each for each in part.after if each in state.on]
    return {
        "id": number,
        "name": reader.words(part.name),
        "body": reader.words(part.body),
        "mass": reader.mass(part.mass),
        "off": off,
        "can": off or not first,
        "why": "" if off or not first else reader.words(f"comes off only after {' and '.join(first)}"),
    }


def _findings(seen: ScreenView) -> list[Plain]:
    """Return what there is to say about this step, then about the others."""
    index = seen.stage.state.index
    lines = told(seen.assessment, seen.reader)
    here = [line for line in lines if line.stages[0] <= index <= line.stages[1]]
    rest = [line for line in lines if line not in here]
    return [
        {
            "verdict": line.verdict.words,
            "word": line.verdict.name if line.verdict > Verdict.NOTE else "note",
            "check": line.check,
            "text": line.text,
            "steps": line.steps,
            "here": line in here,
            "against": troubles_of(line.check.value, line.subjects, line.stages),
            "cures": [
                *CureButtons(seen.job, seen.assessment.stages[line.stages[0]].state, seen.reader).of(line.cures),
                *(one_more_button(seen.live.one_more) if line in here and CHECK_OF[line.check].of_tipping else ()),
            ],
        }
        for line in (*here, *rest)
    ]


def _map(live: Live) -> dict[str, Plain]:
    """Return how places [m] and units of the SVG's view box go together: x = (v0 - v) / k, y = (u0 - u) / k."""
    view = live.view
    across, along = view.page(0.0, 0.0)
    return {
        "u0": across * VIEW_BOX,
        "v0": (view.frame.height - along) * VIEW_BOX,
        "k": view.scale * VIEW_BOX,
        "wide": view.frame.width,
        "high": view.frame.height,
    }
