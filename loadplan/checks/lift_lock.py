"""Lift lock: does the lift stand on its locks while people work on what it holds."""

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import names
from loadplan.model.plan_cure import LiftLocked
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict
from loadplan.stages import undone_joints


def check(case: Case) -> list[Told]:
    """Judge whether a loaded lift stands on its locks.

    Args:
        case: The stage.

    Returns:
        One finding while the lift holds, none without one.
    """
    use = case.job.lift
    if use is None or not case.arms:
        return []
    verdict, says = _judged(case)
    cures = (LiftLocked(),) if verdict > Verdict.HOLDS and use.lift.locks else ()
    return [Finding(CheckName.LIFT_LOCK, verdict, use.lift.name, None, None, Measure.LENGTH, says, cures)]


def _judged(case: Case) -> tuple[Verdict, Sentence]:
    """Return whether a lift that carries something while work goes on stands on its locks."""
    use, why = case.job.lift, _why(case)
    if use is None or not why:
        return Verdict.HOLDS, ("Nothing is undone yet that asks for the lift's locks.",)
    # Where the load is not known, what the lift holds may tip: it counts as loaded.
    if not any(case.load(arm.name) is None or case.may_carry(arm) for arm in case.arms):
        return Verdict.HOLDS, (f"{use.lift.name} carries nothing.",)
    # Oil sinks, and with nobody there nobody sees it.
    verdict = Verdict.STOP if case.state.stage.unattended else Verdict.CAUTION
    if not use.lift.locks:
        held = "has no locks, only oil or a nut holds it. Put stands under the vehicle that lock."
        return verdict, (f"With {why}, {use.lift.name} {held}",)
    if not case.state.lift_locked:
        return verdict, (f"With {why}, {use.lift.name} is not on its locks. Set it down on them first.",)
    return Verdict.HOLDS, (f"{use.lift.name} stands on its locks.",)


def _why(case: Case) -> str:
    off = any(part.name not in case.state.on for part in case.job.vehicle.parts if part.body in case.job.bodies)
    told = {
        "mounts or bolts off": bool(undone_joints(case.job, case.state)),
        "parts off": off,
        "nobody there": case.state.stage.unattended,
    }
    return names([words for words, so in told.items() if so])
