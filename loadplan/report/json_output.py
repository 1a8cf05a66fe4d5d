"""The machine output: an assessment as one object of mm, kg, N and degrees; what is not defined is null."""

from collections.abc import Mapping
from math import degrees, isfinite, radians
from types import MappingProxyType
from typing import TypeAlias, assert_never

from loadplan import __version__
from loadplan.checks.one_more import one_more
from loadplan.limits import GRAVITY
from loadplan.model.answer import (
    Balanced,
    BodyAnswer,
    GroupAnswer,
    JointForce,
    Load,
    Loose,
    Mode,
    Motion,
    Statics,
    Tips,
)
from loadplan.model.disturbance import PullAnswer, PushAnswer
from loadplan.model.job import Job, Support
from loadplan.model.lowering import SetDownAnswer
from loadplan.model.step_change import Unloading
from loadplan.model.vehicle import Joint, JointKind, Place
from loadplan.model.verdict import Assessment, Finding, Measure, StageAssessment
from loadplan.report.words.cautions import cautions
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.statics.expected_reading import ExpectedReading, expected_readings
from loadplan.statics.saddle_friction import highest_part
from loadplan.units import System

Plain: TypeAlias = "str | int | float | bool | list[Plain] | dict[str, Plain] | None"
"""What JSON can hold."""

MM = 1e-3
"""Millimetre [m]."""

SCALES: Mapping[Measure, tuple[str, float]] = MappingProxyType({
    Measure.LENGTH: ("mm", MM),
    Measure.LOAD: ("N", 1.0),
    Measure.FORCE: ("N", 1.0),
    Measure.MASS: ("kg", 1.0),
    Measure.ANGLE: ("degrees", radians(1)),
    Measure.SHARE: ("1", 1.0),
    Measure.STRESS: ("N/mm2", 1e6),
    Measure.COUNT: ("pieces", 1.0),
    Measure.DAYS: ("days", 1.0),
})
"""Unit of a finding's numbers, and its size in SI."""


def to_dict(assessment: Assessment, units: System) -> dict[str, Plain]:
    """Turn an assessment into the machine output.

    Args:
        assessment: The job, judged.
        units: System of the sentences; every number is in mm, kg, N and degrees whatever they are.

    Returns:
        An object that JSON can hold, without NaN or infinity.
    """
    reader = reader_of(assessment.job, units)
    return {
        "schema": "loadplan-report-1",
        "loadplan": __version__,
        "title": assessment.job.title,
        "verdict": assessment.verdict.words,
        "basis": assessment.basis.words,
        "assumed": list(assessment.assumed),
        "not_checked": [reader.sentence(says) for says in assessment.not_checked],
        "cautions": list(cautions(assessment.basis, units)),
        "stages": [_stage(assessment, stage, reader) for stage in assessment.stages],
    }


def _stage(assessment: Assessment, stage: StageAssessment, reader: Reader) -> dict[str, Plain]:
    """Return one stage: what was computed first, what the checks found last."""
    statics, lift, undoing = stage.statics, stage.statics.lift, stage.statics.change.undoing
    carried = {each.name: each for each in statics.joints}
    return {
        "name": stage.state.name,
        "verdict": stage.verdict.words,
        "groups": [list(group.bodies) for group in statics.groups],
        "bodies": [_body(body) for body in statics.bodies],
        "supports": [_support(stage, support) for support in stage.state.supports],
        "joints": [_joint(joint, carried[joint.name]) for joint in stage.state.done_up],
        "modes": _modes(statics.groups),
        "proof": [{"bodies": list(group.bodies), **_proof(group)} for group in statics.groups],
        "push": _push(assessment.job, stage),
        "pull": _pull(statics.pull),
        "set_down": _set_down(statics.set_down),
        "lift": {"cg_mm": _place(lift.cg), "shift_mm": _mm(lift.shift), "total_n": lift.mass * GRAVITY}
        if lift
        else None,
        "alignment": [{"joint": miss.joint, "miss_mm": _mm(miss.miss)} for miss in statics.misses],
        "sway": [{"bodies": list(group.bodies), "value": _finite(group.sway)} for group in statics.groups],
        "lost": _lost(stage),
        "grip": [
            {"support": grip.support, "angle_deg": _degrees(grip.angle), "limit_deg": _degrees(grip.holds)}
            for grip in statics.grips
        ],
        "laid_on": _laid_on(stage),
        "drop": [{"place": each.place, "drop_mm": _mm(each.fall)} for each in statics.change.drops],
        "undoing": {"order": list(undoing.order), "every_order": undoing.every_order} if undoing else None,
        "unloading": [_unloading(each) for each in statics.change.unloadings],
        "one_more": [
            {"body": each.body, "cells_mm": [[_mm(x), _mm(y)] for x, y in each.cells]}
            for each in one_more(assessment.job, stage.state, statics)
        ],
        "readings": [_reading(each) for each in expected_readings(assessment.job, stage.state, statics)],
        "findings": [_finding(finding, reader) for finding in stage.findings],
    }


def _reading(told: ExpectedReading) -> dict[str, Plain]:
    """Return one reading beside what the plan says; pm_n is the plan's own plus or minus, without the scale's."""
    return {
        "support": told.reading.support,
        "found_n": told.reading.load,
        "turns": told.reading.turns,
        "lowered_mm": _mm(told.reading.lowered),
        "expected_n": _finite(told.expected),
        "pm_n": _finite(told.spread),
    }


def _body(body: BodyAnswer) -> dict[str, Plain]:
    """Return one body: mass, centre of gravity, and how far it is from tipping; tilts with their side in the name."""
    motion = body.motion
    return {
        "name": body.name,
        "rigid_with": list(body.rigid_with),
        "mass_kg": body.mass,
        "cg_mm": _place(body.cg),
        "balanced": body.balanced,
        "margin_mm": _mm(body.margin),
        "worst_margin_mm": _mm(body.worst_margin),
        "tip_angle_deg": _degrees(body.tip_angle),
        "lean_mm": {axis: _mm(body.lean[number] if body.lean else None) for number, axis in enumerate("xy")},
        "tilt_deg": {
            "left_up": _degrees(motion.rx) if motion else None,
            "nose_up": _degrees(-motion.ry) if motion else None,
        },
    }


def _support(stage: StageAssessment, support: Support) -> dict[str, Plain]:
    """Return one support; it has a load only where there is something above it."""
    rating = support.equipment.rating_of_one
    load = stage.statics.load(support.name)
    there = stage.state.bears(support)
    return {
        "name": support.name,
        "equipment": support.equipment.name,
        "body": support.body,
        "at_mm": _place(support.at),
        "there": there,
        "load_n": _load(load) if there else None,
        "rating_n": rating,
        "share": _finite(load.at_most / rating if load else None),
    }


def _load(load: Load | None) -> dict[str, Plain]:
    """Return what a support carries, null in every key where its group is not balanced."""
    span = load.range if load else None
    return {
        "expected": _finite(load.expected if load else None),
        "low": _finite(span.low if span else None),
        "high": _finite(span.high if span else None),
        "bound_low": _finite(span.least if span else None),
        "bound_high": _finite(span.most if span else None),
    }


def _joint(joint: Joint, carried: JointForce) -> dict[str, Plain]:
    """Return what a joint carries as plain values; forces in N."""
    told: dict[str, Plain] = {
        "name": joint.name,
        "between": list(joint.between),
        "at_mm": _middle(joint),
        "there": carried.counts,
        "force_n": _finite(carried.force),
    }
    return told | ({"along_n": _finite(carried.along)} if joint.kind is JointKind.LINK else {})


def _middle(joint: Joint) -> list[Plain] | None:
    """Return the mean of a joint's places [mm], None where it has none."""
    return [_mm(sum(axis) / len(joint.at)) for axis in zip(*joint.at, strict=True)] if joint.at else None


def _modes(groups: tuple[GroupAnswer, ...]) -> list[Plain]:
    """Return the modes of all groups, least margin first; those that rotate nothing come last."""
    modes = [mode for group in groups for mode in group.modes]
    return [_mode(mode) for mode in sorted(modes, key=least_margin)]


def least_margin(mode: Mode) -> float:
    """Return the smallest margin [m] of the bodies that a mode rotates, infinite where it rotates none."""
    return min((margin for _, margin in mode.margins), default=float("inf"))


def _mode(mode: Mode) -> dict[str, Plain]:
    return {
        "about": list(mode.about),
        "bodies": list(mode.bodies),
        "margin_mm": {body: _mm(margin) for body, margin in mode.margins},
    }


def _proof(group: GroupAnswer) -> dict[str, Plain]:
    """Return what proves the answer: loads that balance, or the motion in which the group gives way."""
    match group.proof:
        case Balanced(supports, joints):
            return {"balance": {"supports": dict(supports), "joints": dict(joints)}}
        case Tips(motions):
            return {"tips": _motions(motions)}
        case Loose(motions):
            return {"free": _motions(motions)}
        case _:
            assert_never(group.proof)


def _motions(motions: tuple[tuple[str, Motion], ...]) -> dict[str, Plain]:
    return {body: {"w": motion.w, "rx": motion.rx, "ry": motion.ry} for body, motion in motions}


def _push(job: Job, stage: StageAssessment) -> list[Plain]:
    """Return the least push on each rigid whole that does not hang on the lift, least first."""
    arms = {support.name for support in stage.state.supports if support.is_arm}
    free = [group for group in stage.statics.groups if not arms & set(group.supports)]
    pushes = sorted(((push, group) for group in free for push in group.pushes), key=lambda each: each[0].force)
    told: list[Plain] = [_least_push(push, group) for push, group in pushes]
    for group in free:
        if not group.pushes:
            whole = _wholes(stage.statics, group)
            told += [_no_push(highest_part(job, stage.state, bodies)[0], group) for bodies in whole]
    return told


def _least_push(push: PushAnswer, group: GroupAnswer) -> dict[str, Plain]:
    return {
        "bodies": list(group.bodies),
        "body": push.body,
        "least_n": _finite(push.force),
        "direction_deg": degrees(push.direction) % 360,
        "first": push.first,
    }


def _no_push(body: str, group: GroupAnswer) -> dict[str, Plain]:
    """Return the entry of a body whose push is not defined."""
    return {"bodies": list(group.bodies), "body": body, "least_n": None, "direction_deg": None, "first": None}


def _wholes(statics: Statics, group: GroupAnswer) -> list[tuple[str, ...]]:
    """Return the bodies of each rigid whole of a group, in the job's order."""
    each = [
        tuple(name for name in group.bodies if name in (body, *statics.body(body).rigid_with)) for body in group.bodies
    ]
    return list(dict.fromkeys(each))


def _laid_on(stage: StageAssessment) -> list[Plain]:
    """Return the least weight that tips each rigid whole, laid on at a corner; null where nothing is known of it."""
    told: list[Plain] = []
    for group in stage.statics.groups:
        told += [
            {
                "body": laid.body,
                "least_n": _finite(laid.weight),
                "at_mm": None if laid.at is None else [_mm(each) for each in laid.at],
            }
            for laid in group.laid_on
        ]
        if not group.laid_on:
            told += [{"body": whole[0], "least_n": None, "at_mm": None} for whole in _wholes(stage.statics, group)]
    return told


def _pull(pull: PullAnswer | None) -> dict[str, Plain] | None:
    """Return what a pull at the bar comes to, null where none is asked for."""
    if pull is None:
        return None
    return {
        "body": pull.body,
        "factor": _finite(pull.factor),
        "force_n": pull.force,
        "towards": list(pull.towards),
        "first": pull.first,
    }


def _set_down(set_down: SetDownAnswer | None) -> dict[str, Plain] | None:
    """Return the window of a set-down and what parting does to each body then, null where nothing is set down."""
    if set_down is None:
        return None
    return {
        "from_mm": _mm(set_down.start),
        "to_mm": _mm(set_down.end),
        "lowered_mm": _mm(set_down.lowered),
        "bodies": [
            {
                "name": each.name,
                "carried_n": each.carried,
                "mounts_n": _finite(each.held),
                "drop_mm": _mm(each.drop),
            }
            for each in set_down.parted
        ],
    }


def _unloading(unloading: Unloading) -> dict[str, Plain]:
    """Return what a support carries that is taken away, and what has to be raised first."""
    raising = unloading.raising
    return {
        "support": unloading.support,
        "load_n": _finite(unloading.load),
        "raise": {"support": raising.support, "by_mm": _mm(raising.by)} if raising else None,
    }


def _lost(stage: StageAssessment) -> list[Plain]:
    """Return what happens without each support, in the job's order."""
    ordered = [lost for each in stage.state.supports if (lost := stage.statics.without(each.name))]
    return [
        {"support": each.support, "balanced": each.balanced, "turns_about": list(each.turns_about)} for each in ordered
    ]


def _finding(finding: Finding, reader: Reader) -> dict[str, Plain]:
    """Return one finding; its numbers in the unit that stands beside them."""
    unit, size = SCALES[finding.measure]
    return {
        "check": finding.check,
        "verdict": finding.verdict.words,
        "subject": finding.subject,
        "value": _finite(finding.value, size),
        "limit": _finite(finding.limit, size),
        "unit": unit,
        "says": reader.finding(finding),
    }


def _place(place: Place) -> list[Plain]:
    return [_mm(each) for each in place]


def _mm(length: float | None) -> float | None:
    return _finite(length, MM)


def _degrees(angle: float | None) -> float | None:
    return _finite(None if angle is None else degrees(angle))


def _finite(value: float | None, size: float = 1.0) -> float | None:
    """Return a number in a unit, None where there is none or nothing bounds it."""
    return value / size if value is not None and isfinite(value) else None
