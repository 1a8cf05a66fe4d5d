"""Margin: how far each assembly is from tipping, in its worst case and by the slope of the floor."""

from functools import partial
from math import inf, tan

from loadplan.checks.case import Case, Told, first_of_wholes
from loadplan.checks.cure import Way, steady
from loadplan.checks.moved_stand_cure import FurtherOut, further_out_cure, least_distance, may_move, moved_out
from loadplan.checks.phrases import angle, length, low_side, names, turning_about, turns
from loadplan.model.answer import BodyAnswer
from loadplan.model.verdict import CheckName, Finding, FoundCure, Measure, Sentence, SolvedCure, Verdict
from loadplan.statics.group import upright_in_full
from loadplan.statics.moved_stands import STEP, MovedGroup
from loadplan.statics.wider_stance import WiderQuestion, further_out
from loadplan.statics.worst_way import least_tilt_way, worst_way


def check(case: Case) -> list[Told]:
    """Judge how far each balanced rigid whole is from tipping.

    Args:
        case: The stage.

    Returns:
        One finding a rigid whole that some mode rotates, told by its first body.
    """
    return [_finding(case, body) for body in first_of_wholes(case) if body.balanced and body.margin is not None]


def _finding(case: Case, body: BodyAnswer) -> Finding:
    """Return how near a body is to tipping, by distance and by slope; the distance is told where both are too small."""
    limits = case.job.limits
    near = body.worst_margin is None or body.worst_margin < limits.margin
    low = body.tip_angle is not None and body.tip_angle < limits.tip_angle
    by_angle = low and not near
    return Finding(
        check=CheckName.MARGIN,
        verdict=Verdict.CAUTION if near or low else Verdict.HOLDS,
        subject=body.name,
        value=body.tip_angle if by_angle else body.worst_margin,
        limit=limits.tip_angle if by_angle else limits.margin,
        measure=Measure.ANGLE if by_angle else Measure.LENGTH,
        says=_says(case, body) if near or low else (f"The {body.name} is ", *_distance(body), *_slope(body), "."),
        cure=SolvedCure(partial(_moved, case, body)) if near else _upright(case, body) if low else None,
    )


def _upright(case: Case, body: BodyAnswer) -> SolvedCure | None:
    """Return how far out the stands on the side of the least tilt would have to be for the tilt asked for."""
    mode = least_tilt_way(case.group(body.name), body.name)
    motion = dict(mode.motions).get(body.name) if mode else None
    if mode is None or motion is None or not turns(motion):
        return None
    guess = None
    if body.margin is not None and body.tip_angle:
        # About a line of two places the slope goes with the distance to it.
        guess = body.margin * (tan(case.job.limits.tip_angle) / tan(body.tip_angle) - 1)
    out = FurtherOut(case, body.name, mode.about, (motion.ry, -motion.rx), upright_in_full, guess)
    return further_out_cure(out, partial(_tilts_enough, case, body.name), "it tilts as far as is asked for")


def _tilts_enough(case: Case, body: str, group: MovedGroup) -> bool:
    tilt = group.solved.tip_angles[group.frame.whole(body)]
    return (tilt is None or tilt >= case.job.limits.tip_angle) and _has_margin(case, body, group)


def _has_margin(case: Case, body: str, group: MovedGroup) -> bool:
    margin = group.solved.worst_margins[group.frame.whole(body)]
    return margin is None or margin >= case.job.limits.margin


def _says(case: Case, body: BodyAnswer) -> Sentence:
    """Return how far a body is from going over, which way, what is asked for, and what would help."""
    group, limits = case.group(body.name), case.job.limits
    by_angle = body.worst_margin is not None and body.worst_margin >= limits.margin
    mode = least_tilt_way(group, body.name) if by_angle else worst_way(group, body.name)
    motion = dict(mode.motions).get(body.name) if mode else None
    side = low_side(motion) if motion else ""
    way = f", {turning_about(mode.about)}" if mode else ""
    over = f" to the {side}" if side else ""
    return (
        f"The {body.name} is only ",
        *_distance(body),
        f"{over}{way}",
        *_slope(body),
        *(" (asked for: ", length(limits.margin), " in the worst case, ", angle(limits.tip_angle), ")."),
        *steady(case, Way(mode.bodies if mode else group.bodies, mode.about if mode else (), side)),
    )


def _moved(case: Case, body: BodyAnswer) -> FoundCure:
    """Return how far out the stands on the worst side would have to be, where that was found."""
    mode = worst_way(case.group(body.name), body.name)
    if mode is None:
        return FoundCure()
    motion = dict(mode.motions)[body.name]
    stands = tuple(each.name for each in case.stands if each.name in mode.about and may_move(each, case, body.name))
    if body.worst_margin is None or not stands or not turns(motion):
        return FoundCure()
    asked = WiderQuestion(
        job=case.job,
        state=case.state,
        gaps=case.statics.gaps,
        told=case.group(body.name),
        body=body.name,
        margins={name: _room_left(case.answer(name)) for name in case.group(body.name).bodies},
        motion=motion,
        stands=stands,
    )
    least = further_out(asked)
    if least is None:
        return FoundCure()
    # That was quick, and looked at margins alone: what is told is solved in full.
    out = FurtherOut(case, body.name, stands, (motion.ry, -motion.rx), upright_in_full, least)
    told = f" further out to the {low_side(motion)} it has the margin asked for"
    both = least_distance(out, partial(_tilts_enough, case, body.name), least - STEP)
    if both is not None:
        return FoundCure((f" With {names(stands)} ", length(both), f"{told}."), moved_out(out, both))
    margin = least_distance(out, partial(_has_margin, case, body.name), least - STEP)
    if margin is None:
        return FoundCure()
    says = (f" With {names(stands)} ", length(margin), f"{told}, but still tilts by less than is asked for.")
    return FoundCure(says, moved_out(out, margin), leaves_other=True)


def _room_left(body: BodyAnswer) -> float:
    """Return the worst margin of a body [m]; infinite where none is told because nothing turns it."""
    return inf if body.worst_margin is None else body.worst_margin


def _distance(body: BodyAnswer) -> Sentence:
    """Return how far it is from tipping as given, and in the worst case, in the page's words: never below 0."""
    given: Sentence = () if body.margin is None else (length(body.margin), " from tipping as given")
    if body.worst_margin is None:
        return given
    past = " past the edge" if body.worst_margin < 0 else ""
    return (*given, " and ", length(abs(body.worst_margin)), f"{past} in the worst case")


def _slope(body: BodyAnswer) -> Sentence:
    if body.tip_angle is None:
        return ()
    return (", and tilts by ", angle(body.tip_angle), " before it goes")
