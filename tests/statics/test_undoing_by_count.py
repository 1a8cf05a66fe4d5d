"""Undoing: the order that is told against every order there is, in made-up worlds that say what each state comes to."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise, permutations
from random import Random
from types import SimpleNamespace
from typing import cast

import pytest

from loadplan.limits import GRAVITY, Limits
from loadplan.model.answer import Load, LoadRange, Motion, Tips
from loadplan.model.job import Job, Stage, State, Support
from loadplan.model.step_change import Severity, Trouble, Undoing
from loadplan.stages import states
from loadplan.statics.equilibrium import frames
from loadplan.statics.mass import lumps
from loadplan.statics.passage import Passage, Seen
from loadplan.statics.undoing_order import undoing, undoing_at_a_glance
from tests.statics import builders as make

RATING, DROP = 30e3, 0.005
STILL = Motion(0.0, 0.0, 0.0)
GOES = Tips((("unit", Motion(0.0, 0.0, 0.1)),))
Way = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Made:
    """What a state on the way comes to: whether it stands, what each stand carries [1 of its rating], where it is."""

    stands: bool = True
    high: float = 0.1
    most: float | None = 0.1
    motion: Motion = STILL


FINE = Made()
World = Mapping[frozenset[int], Made]
Change = Callable[[Passage], Passage]


def unit_in_shell(count: int, *seats: Support) -> Job:
    """A unit on A, or on other seats, and on mounts 0, 1 ... to a shell, each 100 mm ahead of the one before."""
    there = [*(seats or [make.support("A", (0.0, 0.0))]), make.support("S", (5.0, 0.0), body="shell")]
    joints = [make.mount(str(number), (0.1 * number, 0.0), ("unit", "shell")) for number in range(count)]
    return make.job(
        [make.part(), make.part(name="shell", body="shell")],
        there,
        joints=joints,
        stages=[
            Stage("down", in_place=tuple(each.name for each in there)),
            Stage("off", undone=tuple(map(str, range(count)))),
        ],
        limits=replace(Limits(), drop=DROP),
    )


def passage(job: Job, world: World) -> Passage:
    before, after = (each for each in states(job)[-2:])
    every = frozenset(range(len(after.stage.undone)))

    def look(state: State, _: Mapping[str, float]) -> Seen:
        made = world.get(frozenset(int(each.name) for each in state.undone), FINE)
        loads = LoadRange(0.0, made.high * RATING, 0.0, None if made.most is None else made.most * RATING)
        return cast(
            "Seen",
            tuple(
                (
                    frame,
                    SimpleNamespace(
                        answer=SimpleNamespace(robust=made.stands or "unit" not in frame.bodies, modes=(), proof=GOES),
                        loads=[
                            Load(0.0, loads if each.body == "unit" else LoadRange(0.0, 0.0, 0.0, 0.0))
                            for each in frame.supports
                        ],
                        motions=[made.motion if "unit" in whole else STILL for whole in frame.wholes],
                    ),
                )
                for frame in frames(state, lumps(job, state))
            ),
        )

    ends = [{"unit": world.get(each, FINE).motion, "shell": STILL} for each in (frozenset[int](), every)]
    return Passage(job, before, after, ends[0], ends[1], {}, look)


def told(count: int, world: World, change: Change = lambda each: each) -> Undoing:
    found = undoing(change(passage(unit_in_shell(count), world)))
    assert found is not None
    return found


def listed(each: Passage) -> Passage:
    """The same with the joints undone in the order of the list."""
    return replace(each, after=replace(each.after, stage=replace(each.after.stage, undone_in_order=True)))


def severity(made: Made) -> Severity:
    if not made.stands or made.high > 1:
        return Severity.OVER
    return Severity.NEAR if made.high > 0.75 or made.most is None or made.most > 1 else Severity.FINE


def fall(world: World, before: frozenset[int], after: frozenset[int]) -> float:
    """How far A sinks, or the place of a joint that is undone then [m]."""
    one, other = world.get(before, FINE).motion, world.get(after, FINE).motion
    places = (0.0, *(0.1 * each for each in after))
    return max(one.up_at(x, 0.0) - other.up_at(x, 0.0) for x in places)


def dropped(far: float) -> Severity:
    return Severity.OVER if far > 4 * DROP else Severity.NEAR if far > DROP else Severity.FINE


def worst_and_drop(world: World, way: Way) -> tuple[Severity, float]:
    """The worst on a way, and its greatest drop; where it began and where it ends are judged elsewhere."""
    reached = [frozenset(way[:number]) for number in range(len(way) + 1)]
    falls = [max(fall(world, *each), 0.0) for each in pairwise(reached)]
    return max([*(severity(world.get(each, FINE)) for each in reached[1:-1]), *map(dropped, falls)]), max(falls)


def random_world(count: int, luck: Random) -> World:
    sets = [frozenset(each for each in range(count) if bits >> each & 1) for bits in range(1 << count)]
    return {
        each: Made(
            stands=luck.random() > 0.1,
            high=luck.choice((0.5, 0.5, 0.5, 0.8, 1.1)),
            most=luck.choice((0.9, 0.9, 1.1, None)),
            motion=Motion(0.006 * luck.random(), 0.0, 0.01 * luck.random()),
        )
        for each in sets
    }


def every_severity(world: World, ways: Iterable[Way]) -> list[Severity]:
    return [worst_and_drop(world, way)[0] for way in ways]


@pytest.mark.parametrize(("count", "seed"), [(count, seed) for count in (2, 3, 4) for seed in range(12)])
def test_of_all_orders_the_mildest_and_of_these_the_one_that_drops_least_is_told(count: int, seed: int) -> None:
    world = random_world(count, Random(seed))
    found = told(count, world)
    ways = list(permutations(range(count)))
    mildest = min(worst_and_drop(world, way) for way in ways)
    assert worst_and_drop(world, tuple(map(int, found.order))) == pytest.approx(mildest)
    assert found.worst.severity is mildest[0]
    steps = every_severity(world, ways)
    assert found.every_order == (max(steps) is not Severity.OVER)
    assert found.alike == (max(steps) is mildest[0])
    assert not found.listed
    assert found.worst.undone == tuple(found.order[: len(found.worst.undone)])


@pytest.mark.parametrize("seed", range(12))
def test_as_listed_the_worst_of_that_order_is_told(seed: int) -> None:
    world = random_world(3, Random(seed))
    found = told(3, world, listed)
    assert (found.order, found.listed) == (("0", "1", "2"), True)
    assert found.worst.severity is worst_and_drop(world, (0, 1, 2))[0]
    glance = undoing_at_a_glance(listed(passage(unit_in_shell(3), world)))
    assert glance is not None
    assert (glance.listed, glance.order) == (True, ("0", "1", "2"))


@pytest.mark.parametrize(
    ("made", "trouble", "value"),
    [
        (Made(stands=False, high=3.0), Trouble.BALANCE, None),
        (Made(high=0.76), Trouble.RATING, 0.76),
        (Made(high=1.01), Trouble.RATING, 1.01),
        (Made(most=1.01), Trouble.BOUND, 1.01),
        (Made(most=None), Trouble.BOUND, None),
        (Made(high=0.75, most=1.0), Trouble.DROP, 0.001),
    ],
)
def test_what_is_wrong_with_a_state_is_told_with_where(made: Made, trouble: Trouble, value: float | None) -> None:
    """Undone as listed, with the first joint off; else it sinks by a millimetre at the end."""
    world = {frozenset({0}): made, frozenset({0, 1}): Made(motion=Motion(-0.001, 0.0, 0.0))}
    worst = told(2, world, listed).worst
    subject = "unit" if trouble is Trouble.BALANCE else "A"
    assert (worst.severity, worst.trouble) == (severity(made), trouble)
    assert worst.value == (None if value is None else pytest.approx(value))
    assert (worst.undone, worst.subjects) == (("0", "1") if trouble is Trouble.DROP else ("0",), (subject,))


def test_of_what_is_equally_bad_going_over_is_told_before_a_rating() -> None:
    """Undone as listed: first overloaded, then over."""
    world = {frozenset({0}): Made(high=9.0), frozenset({0, 1}): Made(stands=False)}
    assert told(3, world, listed).worst.trouble is Trouble.BALANCE


@pytest.mark.parametrize(
    ("down", "worst"),
    [(0.005, Severity.FINE), (0.0051, Severity.NEAR), (0.02, Severity.NEAR), (0.0201, Severity.OVER)],
)
def test_a_drop_is_held_against_its_limit_and_four_times_that(down: float, worst: Severity) -> None:
    world = dict.fromkeys((frozenset({0}), frozenset({1}), frozenset({0, 1})), Made(motion=Motion(-down, 0.0, 0.0)))
    found = told(2, world)
    assert (found.worst.severity, found.worst.trouble, found.worst.subjects) == (worst, Trouble.DROP, ("A",))
    assert found.worst.value == pytest.approx(down)


def test_a_joint_sinks_only_once_it_is_undone() -> None:
    """The nose goes down by 0.1 rad with the rear joint off, which takes the place of the front one down by 10 mm."""
    nose_down = Made(motion=Motion(0.0, 0.0, 0.1))
    found = told(2, {frozenset({0}): nose_down, frozenset({0, 1}): nose_down}, listed)
    assert found.worst.value == pytest.approx(0.0)
    found = told(2, {frozenset({0, 1}): nose_down}, listed)
    assert (found.worst.subjects, found.worst.undone) == (("1",), ("0", "1"))
    assert found.worst.value == pytest.approx(0.01)


def single() -> list[frozenset[int]]:
    return [frozenset({each}) for each in range(7)]


def all_but_one() -> list[frozenset[int]]:
    return [frozenset(range(7)) - {each} for each in range(7)]


def ends_only(count: int, luck: Random) -> World:
    """A world of which only the states with one joint undone, or left, are anything but fine."""
    world = random_world(count, luck)
    return {each: replace(made, motion=STILL) if len(each) in {1, count - 1} else FINE for each, made in world.items()}


@pytest.mark.parametrize("seed", range(6))
def test_beyond_six_the_mildest_first_and_last_are_told(seed: int) -> None:
    world = ends_only(7, Random(seed))
    one, left = ([severity(world[each]) for each in sets] for sets in (single(), all_but_one()))
    found = told(7, world)
    pairs = [max(one[first], left[last]) for first in range(7) for last in range(7) if first != last]
    first, *_, last = map(int, found.order)
    assert max(one[first], left[last]) is min(pairs)
    assert sorted(found.order) == [str(number) for number in range(7)]
    assert found.worst.severity is min(pairs)
    assert found.every_order == (max(*one, *left) is not Severity.OVER)
    assert found.alike == (max(*one, *left) is min(pairs))


@pytest.mark.parametrize("sets", [single(), all_but_one()], ids=["undone alone", "left alone"])
def test_beyond_six_not_every_order_holds_where_one_joint_alone_lets_it_go(sets: list[frozenset[int]]) -> None:
    found = told(7, {sets[3]: Made(stands=False)})
    assert found.worst.severity is Severity.FINE
    assert not found.every_order
    assert not found.alike


@pytest.mark.parametrize("bad", [0, 6])
def test_beyond_six_a_joint_that_drops_it_is_neither_first_nor_last(bad: int) -> None:
    """With it undone first, or last, the unit drops by 30 mm; with the others by 1 mm."""
    low, lower = Made(motion=Motion(-0.001, 0.0, 0.0)), Made(motion=Motion(-0.031, 0.0, 0.0))
    world = {each: lower if bad in each else low for each in single()}
    world |= {each: FINE if bad not in each else lower for each in all_but_one()}
    world[frozenset(range(7))] = lower
    found = told(7, world)
    assert str(bad) not in {found.order[0], found.order[-1]}
    assert found.worst.value == pytest.approx(0.001)
    assert found.worst.severity is Severity.FINE
    assert not found.every_order


@pytest.mark.parametrize("seed", range(4))
def test_at_a_glance_it_is_told_that_no_joint_may_come_off_first(seed: int) -> None:
    world = {each: Made(stands=False) for each in (frozenset({0}), frozenset({1}), frozenset({2}))}
    if seed < 3:
        world[frozenset({seed})] = FINE
    job = unit_in_shell(3)
    glance, full = (each(passage(job, world)) for each in (undoing_at_a_glance, undoing))
    assert glance is not None
    assert full is not None
    assert (glance.worst.severity, glance.every_order) == (full.worst.severity, False)
    assert (glance.worst.severity is Severity.OVER) == (seed == 3)
    assert seed < 3 or (glance.order, glance.alike, glance.worst.undone) == (("0", "1", "2"), True, ("0",))
    assert seed == 3 or glance == full


def test_at_a_glance_of_two_joints_an_order_is_told_and_of_one_none() -> None:
    glance = undoing_at_a_glance(passage(unit_in_shell(2), {}))
    assert glance is not None
    assert glance.order == ("0", "1")
    assert undoing_at_a_glance(passage(unit_in_shell(1), {})) is None


@pytest.mark.parametrize(
    ("piece", "on", "share"),
    # Unit and shell weigh 200 kg: the two over one table cannot carry more, which is a fifth of what one may.
    [("table", "", 0.2), ("", "", 0.9), ("table", "shell", 1.8)],
)
def test_several_over_one_piece_carry_no_more_than_all_over_it_weighs(piece: str, on: str, share: float) -> None:
    use = replace(make.STAND, rating=100.0 * GRAVITY / 0.1)
    seats = [
        replace(make.support(name, at), equipment=use, piece=piece, on=on)
        for name, at in (("A", (0, 0)), ("B", (1, 0)))
    ]
    job = unit_in_shell(2, *seats)
    job = replace(job, limits=replace(job.limits, rating_share=0.05))
    high = 0.9 * use.rating / RATING
    worst = undoing(listed(passage(job, {frozenset({0}): Made(high=high, most=high)})))
    assert worst is not None
    assert worst.worst.value == pytest.approx(share)
    assert worst.worst.subjects == (piece or "A",)
