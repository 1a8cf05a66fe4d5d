"""Set-down: does the lift go down far enough that the stands carry the unit, and not so far that it loses the vehicle.

What a technician does by feel, lowering until the stands bear, in millimetres past first touch.
"""

from math import ceil, floor

from loadplan.checks.case import Case, Told
from loadplan.checks.lock_window import LockDoubt, brings_stands_up, lock_doubt
from loadplan.checks.phrases import length, load, names, several, share
from loadplan.model.job import Support
from loadplan.model.lowering import SetDownAnswer
from loadplan.model.plan_cure import LiftLowered, PlanCure
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict
from loadplan.stages import joined
from loadplan.statics.set_down_window import ARM_LEFT, BORNE

MILLIMETRE = 1e-3
"""What a window is told to [m]."""

HAIR = 1e-9
"""Part of a millimetre that is rounding."""

LOWER = "Lower"
"""What is done where the lift comes down."""


def check(case: Case) -> list[Told]:
    """Judge how far the lift goes down while the unit is still tied to the vehicle that it holds.

    Args:
        case: The stage.

    Returns:
        One finding where a unit is being set down; what no later stage parts is told as not checked, and so is whether
        a lock of the lift lies where it is to stand on one, where nobody says how far these are apart.
    """
    down = case.statics.set_down
    return _unjudged(case) if down is None else [_finding(case, down), *_untold_locks(case, down)]


def window_words(down: SetDownAnswer, act: str) -> Sentence:
    """Say how far the lift goes down at least and at most; rounded so that both stay inside the window.

    Args:
        down: What was computed.
        act: What is done: "Lower", or "Bring the stands up".

    Returns:
        A clause, without full stop.
    """
    if down.start is None:
        return (f"{act} as far as it goes, and the stands do not carry ", share(BORNE))
    if down.end is None:
        return (f"{act} at least ", length(_up(down.start)), " past first touch")
    if down.start > down.end:
        late: Sentence = (f"{act} ", length(down.start), " past first touch for the stands to carry ", share(BORNE))
        return (*late, ", but an arm of the lift is nearly empty from ", length(down.end), " on")
    inside = _up(down.start) <= _down(down.end)
    start, end = (_up(down.start), _down(down.end)) if inside else (down.start, down.end)
    return (f"{act} at least ", length(start), " past first touch, at most ", length(end))


def _up(metres: float) -> float:
    return ceil(metres / MILLIMETRE - HAIR) * MILLIMETRE


def _down(metres: float) -> float:
    return floor(metres / MILLIMETRE + HAIR) * MILLIMETRE


def _unjudged(case: Case) -> list[Told]:
    """Return that the window is not checked where stands are under what no later step parts from the lift."""
    use = case.job.lift
    if use is None or not case.arms:
        return []
    held = joined(case.state.done_up, use.body)
    tied = [name for name in case.state.bodies if name in held and name != use.body]
    borne = [name for name in tied if any(each.body == name for each in case.stands)]
    if not borne:
        return []
    why = f"no later step parts the {names(borne)} from the {use.body}"
    return [NotChecked((f"{case.state.name}: how far the lift may and must go down is not checked, {why}.",))]


def _finding(case: Case, down: SetDownAnswer) -> Finding:
    """Return whether the lift goes down as far as it must, and no further than it may."""
    locks = lock_doubt(case.job, case.state, down)
    hard = _short(down) or _no_window(down) or locks is LockDoubt.APART
    too_little = Verdict.CAUTION if hard else Verdict.HOLDS
    is_known = down.given and locks is not LockDoubt.UNKNOWN
    verdict = max(_too_far(case, down), too_little, Verdict.HOLDS if is_known else Verdict.NOTE)
    return Finding(
        check=CheckName.SET_DOWN,
        verdict=verdict,
        subject=", ".join(down.bodies),
        value=down.lowered,
        limit=down.end if _past(case, down) else down.start,
        measure=Measure.LENGTH,
        says=(
            *window_words(down, what_is_done(case)),
            *_planned(down),
            *_says(case, down),
            *_locks(case, locks),
            *_by_body(down),
        ),
        cures=_cures(down),
    )


def _cures(down: SetDownAnswer) -> tuple[PlanCure, ...]:
    """Return how far to lower so that it is inside the window: midway, where it is not, or nothing says how far."""
    if down.start is None or down.end is None or _up(down.start) > _down(down.end):
        return ()
    middle = _up((_up(down.start) + _down(down.end)) / 2)
    return (LiftLowered(middle),) if not down.given or not down.start <= down.lowered <= down.end else ()


def _past(case: Case, down: SetDownAnswer) -> bool:
    # Whatever the window says: an arm may have next to nothing left of what it carried just before first touch.
    emptied = any(_left(case, down, arm, down.lowered) < ARM_LEFT for arm in _bearing_arms(case))
    return emptied or (down.end is not None and down.lowered > down.end)


def _no_window(down: SetDownAnswer) -> bool:
    return down.start is None or (down.end is not None and down.start > down.end)


def _short(down: SetDownAnswer) -> bool:
    return down.start is None or down.lowered < down.start


def _too_far(case: Case, down: SetDownAnswer) -> Verdict:
    if not _past(case, down):
        return Verdict.HOLDS
    guessed = case.job.lift is not None and case.job.lift.lift.stiffness_assumed
    return Verdict.CAUTION if guessed and not _let_go(case, down) else Verdict.STOP


def _let_go(case: Case, down: SetDownAnswer) -> bool:
    """Return whether an arm that has lost its share carries nothing at all."""
    those = [arm for arm in _bearing_arms(case) if _left(case, down, arm, down.lowered) < ARM_LEFT]
    return any(case.is_nothing(down.lowering.at(arm.name, down.lowered), arm.body) for arm in those)


def _left(case: Case, down: SetDownAnswer, arm: Support, level: float) -> float:
    """Return the share of an arm's load that it still has; an arm that carried nothing keeps it."""
    before = down.lowering.at(arm.name, 0.0)
    return 1.0 if case.is_nothing(before, arm.body) else down.lowering.at(arm.name, level) / before


def what_is_done(case: Case) -> str:
    """Say what is moved: the lift, unless the steps so far bring the stands up.

    Args:
        case: The stage.

    Returns:
        "Lower" or "Bring the stands up".
    """
    return "Bring the stands up" if brings_stands_up(case.job, case.state) else LOWER


def _planned(down: SetDownAnswer) -> Sentence:
    """Return how far the job goes, and whether it says so."""
    how = " is planned" if down.given else " is taken, since the job does not say how far"
    return ("; ", length(down.lowered), how, ".")


def _says(case: Case, down: SetDownAnswer) -> Sentence:
    """Return what going too far or too little does, and what to do instead."""
    if _no_window(down):
        return (*_off_its_pads(case, down, " The"), " Set it down in two goes, or bring the stands up.")
    if _past(case, down):
        stop = " Stop lowering before that." if what_is_done(case) == LOWER else " Stop before that."
        return (" That is too far:", *_off_its_pads(case, down, " the"), *_guessed(case), stop)
    if _short(down):
        carry: Sentence = (
            " That is too little: the stands carry less than ",
            share(BORNE),
            f" of the {names(down.bodies)}",
        )
        return (*carry, *_drops(down), f" {what_is_done(case)} further before unbolting.")
    less = f" Less, and the {names(down.bodies)} {several(down.bodies, 'drops', 'drop')} when unbolted"
    if down.end is None:
        return (f"{less}.",)
    return (f"{less}; more, and the vehicle comes off its pads, first at {_first_pad(case, down)}.",)


def _off_its_pads(case: Case, down: SetDownAnswer, begins: str) -> Sentence:
    if not _past(case, down):
        return ()
    return (f"{begins} vehicle comes off its pads, first at {_first_pad(case, down)}.",)


def _first_pad(case: Case, down: SetDownAnswer) -> str:
    level = down.lowered if down.end is None else down.end
    return min(_bearing_arms(case), key=lambda arm: _left(case, down, arm, level)).name


def _guessed(case: Case) -> Sentence:
    """Return a warning where the give of the arms was assumed."""
    if case.job.lift is None or not case.job.lift.lift.stiffness_assumed:
        return ()
    return (" How far an arm gives was assumed: measure it under load.",)


def _drops(down: SetDownAnswer) -> Sentence:
    """Return how far the unit drops when it is unbolted now."""
    if down.drop is None:
        return (f", and {several(down.bodies, 'it does', 'they do')} not stand on them alone.",)
    return (f", and {several(down.bodies, 'it drops', 'they drop')} by ", length(down.drop), " when unbolted.")


def _bearing_arms(case: Case) -> tuple[Support, ...]:
    """Return the arms with something above them: the others carry nothing at any level."""
    return tuple(arm for arm in case.arms if case.state.bears(arm))


def _locks(case: Case, doubt: LockDoubt) -> Sentence:
    """Return a word on locks that are not where they would be wanted, or of which nobody knows whether they are."""
    if case.job.lift is None or doubt is LockDoubt.NONE:
        return ()
    if doubt is LockDoubt.UNKNOWN:
        return (" Whether one of its locks lies there is not known: on none of them it hangs on oil.",)
    apart: Sentence = (
        " Its locks are ",
        length(case.job.lift.lift.lock_step or 0.0),
        " apart, so hardly one lies there:",
    )
    return (*apart, " leave it on a lock and bring the stands up (write raised instead of lowered).")


def _untold_locks(case: Case, down: SetDownAnswer) -> list[Told]:
    """Return that nobody says how far the locks are apart of a lift that is to stand on one in the window."""
    if case.job.lift is None or lock_doubt(case.job, case.state, down) is not LockDoubt.UNKNOWN:
        return []
    what = f"{case.state.name}: whether {case.job.lift.lift.name} has a lock in the window of heights is not checked"
    return [NotChecked((f"{what}, the shop's file does not say how far they are apart (lock_step, 0 on screws).",))]


def _by_body(down: SetDownAnswer) -> Sentence:
    """Return for each body what its own stands carry, what the joints then undone still hold, and its drop."""
    told: Sentence = ()
    for each in down.parted:
        told += (f" {each.name[:1].upper()}{each.name[1:]}: its stands carry ", load(max(each.carried, 0.0)))
        if each.held is not None and each.joints:
            verb = "still hold" if each.held >= 0 else "press it down by"
            told += (f", {names(each.joints)} {verb} ", load(abs(each.held)))
        if each.drop is not None:
            told += (", and it drops by ", length(max(each.drop, 0.0)), " when they are undone")
        told += (".",)
    return told
