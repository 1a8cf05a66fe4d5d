"""Listed order: a stage in which parts come off, or go on, one after the other, and has to hold after each of them.

At the end of such a stage the unit may stand well that would have gone over half way: two heavy parts at opposite ends
off, and it is lighter; one of them off, and it tips. So each state on the way is a state of its own, in the order of
the work: what stood under the vehicle on the lift away, stands set in place, joints undone, parts off as listed, parts
on as listed, joints tightened, the other stands taken away. A body that the stage takes off or brings whole is held by
whoever does that: it stays tied until its last part is off, and is there, tied as the stage leaves it, once its last
part is on.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from loadplan.model.job import Job, Stage, State
from loadplan.stages import states

MOST_TOGETHER = 4
"""Up to so many parts every set of them is a state where a body comes apart in any order (14 between none and all)."""


def states_on_the_way(job: Job, before: State, after: State) -> tuple[State, ...]:
    """List the states between two stages through which parts come off and go on in the listed order.

    Args:
        job: The job.
        before: The stage before, or the job untouched.
        after: The stage.

    Returns:
        The states, in the order of the work; none where no part comes off or goes on, where all come off in any order
        and no body with them, or where the unit is rolled. What the stage begins with is among them if it changes more
        than parts, or if it is pulled hard: parts are broken loose while they are on.
    """
    stage = after.stage
    if stage.moved:
        return ()
    found: dict[tuple[object, ...], State] = {}
    for off, on in _moments(job, before, after):
        there = _at(job, (before, after), off, on)
        found.setdefault((there.bodies, there.on, there.done_up, there.bearing), there)
    return tuple(found.values())


def states_in_another_order(job: Job, before: State, after: State, there: State) -> Iterator[State]:
    """Yield the states that stand in the place of one on the way where the parts come off in another order.

    As many parts are off; one that is off in the listed order is still on, and another one is off for it.

    Args:
        job: The job.
        before: The stage before, or the job untouched.
        after: The stage.
        there: The state on the way.

    Yields:
        The states, in the listed order of what is still on; none where every order passes the same one.
    """
    parts = {part.name: part for part in job.vehicle.parts if part.body in job.bodies}
    listed = [name for name in after.stage.off if name in parts]
    off, on = [name for name in listed if name not in there.on], [name for name in listed if name in there.on]
    for last in reversed(off):
        left = [name for name in off if name != last]
        if any(last in parts[name].after for name in left):
            continue
        for instead in on:
            gone = {*left, instead}
            if not set(parts[instead].after) & (set(listed) - gone):
                yield _at(job, (before, after), tuple(name for name in listed if name in gone), ())


def _moments(job: Job, before: State, after: State) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Yield what is off and what is on of what the stage takes off and puts on, in the order of the work."""
    stage = after.stage
    owned = {part.name for part in job.vehicle.parts if part.body in job.bodies}
    off = tuple(name for name in stage.off if name in owned)
    on = tuple(name for name in stage.on if name in owned)
    if not off and not on:
        return
    moments: list[tuple[tuple[str, ...], tuple[str, ...]]] = [(each, ()) for each in _off(job, (before, after), off)]
    # In any order it is all the same which are off; with others to go on, all off and none on is on the way.
    moments += [(off, on[:count]) for count in range(0 if stage.any_order and on else 1, len(on) + 1)]
    # Bolts of what comes off are broken loose while it is on: the state before is judged without that pull.
    is_pulled = bool(off) and (stage.bar or stage.pull is not None)
    is_set_up = _is_set_up(stage) or not _goes_first(job, after).isdisjoint(stage.cleared)
    begins_alike = before.index >= 0 and not is_set_up and not is_pulled
    for gone, back in moments:
        is_start = not gone and not back
        is_end = gone == off and back == on
        if not (is_start and begins_alike) and not (is_end and not stage.done_up):
            yield gone, back


def _off(job: Job, ends: tuple[State, State], off: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Yield the parts that are off at each moment, none of them first and all of them last.

    In any order the stage's end has every set of them, but for a body that is gone there as a whole: then each set is a
    state, of many parts those of the listed order.
    """
    before, after = ends
    if after.stage.any_order and set(before.bodies) <= set(after.bodies):
        return
    if not after.stage.any_order or len(off) > MOST_TOGETHER:
        yield from (off[:count] for count in range(len(off) + 1))
        return
    needs = {part.name: set(part.after) & set(off) for part in job.vehicle.parts}
    for count in range(len(off) + 1):
        yield from (each for each in combinations(off, count) if all(needs[name] <= set(each) for name in each))


def _is_set_up(stage: Stage) -> bool:
    """Return whether a stage changes stands, joints or lift before a part comes off or goes on."""
    changed = (*stage.in_place, *stage.undone, *stage.set_anew)
    return bool(changed) or stage.lowered is not None or stage.raised is not None


def _goes_first(job: Job, after: State) -> frozenset[str]:
    """Return what stands under the vehicle on the lift, or hangs from it: that goes before the lift moves."""
    if job.lift is None or not any(each.is_arm for each in after.supports):
        return frozenset()
    return frozenset(each.name for each in job.supports if job.lift.body in {each.body, each.on})


def _at(job: Job, ends: tuple[State, State], off: tuple[str, ...], on: tuple[str, ...]) -> State:
    """Return the state in which some of the parts are off, and some on; nothing is tightened or taken away yet."""
    before, after = ends
    stage = after.stage
    owner = {part.name: part.body for part in job.vehicle.parts}
    # Of what comes off or goes on as a whole: what is still there, and what is not all there yet.
    staying = {owner[name] for name in stage.off if name not in off} - set(after.bodies)
    coming = {owner[name] for name in stage.on if name not in on} - set(before.bodies)
    brought = {body for body in after.bodies if body not in before.bodies} - coming
    ties = {joint.name: set(joint.between) for joint in job.vehicle.joints}
    under = {each.name: each.body for each in job.supports}
    goes = _goes_first(job, after) | {name for name, body in under.items() if _is_gone(body, ends, staying)}
    there = replace(
        stage,
        off=off,
        on=tuple(name for name in on if owner[name] not in coming),
        undone=tuple(name for name in stage.undone if not ties[name] & staying),
        done_up=tuple(name for name in stage.done_up if ties[name] & brought),
        # A stand goes with what stood on it, every other one at the end.
        cleared=tuple(name for name in stage.cleared if name in goes),
        any_order=False,
        readings=(),
    )
    state = states(replace(job, stages=(*job.stages[: after.index], there)))[after.index]
    here = set(state.bodies) | {""}
    return replace(state, supports=tuple(each for each in state.supports if each.body in here and each.on in here))


def _is_gone(body: str, ends: tuple[State, State], staying: set[str]) -> bool:
    """Return whether a body that the stage takes off is off as a whole."""
    before, after = ends
    return body in before.bodies and body not in after.bodies and body not in staying
