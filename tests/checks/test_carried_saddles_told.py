"""Saddles taken sideways, by small records: a unit on stands on a shell that leans."""

from dataclasses import replace

import pytest

from loadplan.checks.carried_saddles import carried_saddles
from loadplan.checks.case import Case
from loadplan.limits import GRAVITY
from loadplan.model.answer import Loose
from loadplan.model.job import Support
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from tests.checks.builders import BOLTS, HOIST, body_answer, case, group, load, support, words

TILT = (0.0, -0.004)
"""About x and y: nose up, so the back goes down."""

FLOOR = replace(support("F"), body="shell", at=(0.0, 0.0, 0.2), outline=())


def on_shell(name: str, z: float = 1.7, **more: object) -> Support:
    return replace(support(name), at=(0.0, 0.0, z), on="shell", outline=(), **more)  # type: ignore[arg-type]


def leaning(
    *stands: Support, tilts: tuple[tuple[tuple[float, float], ...], ...] | None = None, **margins: float
) -> Case:
    """Shell and unit in one group; the shell leans by 4 mm in a metre at the worst, the unit not at all."""
    judged = case(*stands)
    worst = tilts if tilts is not None else (((0.0, 0.0), (0.001, 0.0)), ((0.0, 0.0), TILT))
    bodies = tuple(replace(body_answer(each), worst_margin=margins.get(each, 0.05)) for each in ("unit", "shell"))
    one = replace(group(("unit", "shell"), tuple(each.name for each in stands)), worst_tilts=worst)
    statics = replace(judged.statics, bodies=bodies, groups=(one,))
    return replace(judged, state=replace(judged.state, bodies=("unit", "shell")), statics=statics)


def the(judged: Case) -> Finding:
    (one,) = carried_saddles(judged)
    return one


BOTH = (FLOOR, on_shell("A"), on_shell("B", 1.5))


def test_the_highest_saddle_goes_by_its_height_over_the_lowest_below_times_the_worst_tilt() -> None:
    """1.5 m over the saddle of F, by 4 mm in a metre: 6 mm."""
    found = the(leaning(*BOTH))
    assert (found.check, found.verdict, found.subject) == (CheckName.LEVEL, Verdict.CAUTION, "A and B")
    assert (found.value, found.limit, found.measure) == (pytest.approx(0.006), 0.005, Measure.LENGTH)
    assert words(found.says) == (
        "The shell may lean, and take the saddles of A and B 0.006 m to the back with it. "
        "Distances to tipping do not count that. Do not touch the stands. Take the weight back first."
    )
    alone = the(replace(leaning(FLOOR, on_shell("A")), before=None))
    assert words(alone.says) == (
        "The shell may lean, and take the saddle of A 0.006 m to the back with it. Distances to tipping do not count "
        "that. Before the weight comes on: level the shell, or set what stands on it on the floor."
    )


@pytest.mark.parametrize(("z", "told"), [(1.4499, 0), (1.4501, 1)])
def test_up_to_what_a_tape_finds_nothing_is_told(z: float, told: int) -> None:
    """The tilt is 4 mm in a metre, so 5 mm are at 1.25 m."""
    assert len(carried_saddles(leaning(FLOOR, on_shell("A", z)))) == told


def test_a_mount_below_counts_as_a_saddle_and_the_lowest_does() -> None:
    bolts = replace(BOLTS, between=("shell", "hub"), at=((0.0, 0.0, 0.7), (0.0, 0.0, 0.9)))
    away = replace(BOLTS, between=("unit", "hub"), at=((0.0, 0.0, 0.1),))

    def value(*stands: Support) -> float | None:
        judged = leaning(*stands)
        return the(replace(judged, state=replace(judged.state, done_up=(bolts, away)))).value

    assert value(on_shell("A", 2.0)) == pytest.approx(1.3 * 0.004)
    assert value(FLOOR, on_shell("A", 2.0)) == pytest.approx(1.8 * 0.004)


@pytest.mark.parametrize(
    "judged",
    [
        leaning(on_shell("A")),
        leaning(FLOOR),
        leaning(FLOOR, on_shell("A", equipment=HOIST)),
        leaning(FLOOR, on_shell("A", body="shell")),
        leaning(FLOOR, replace(on_shell("A"), on="hub")),
        leaning(FLOOR, replace(on_shell("A"), part="pump")),
        leaning(*BOTH, tilts=()),
    ],
    ids=["nothing below", "nothing on it", "hangs", "bears itself", "gone", "bears nothing", "at a glance"],
)
def test_where_nothing_is_taken_along_or_nothing_known_nothing_is_told(judged: Case) -> None:
    assert carried_saddles(judged) == []


def test_where_it_does_not_stand_nothing_is_told() -> None:
    judged = leaning(*BOTH)
    loose = replace(judged.statics.groups[0], proof=Loose(()))
    assert carried_saddles(replace(judged, statics=replace(judged.statics, groups=(loose,)))) == []


@pytest.mark.parametrize(
    ("margins", "verdict"),
    [
        ({"unit": 0.0061}, Verdict.CAUTION),
        ({"unit": 0.0059}, Verdict.STOP),
        ({"shell": 0.0025}, Verdict.CAUTION),
        ({"shell": 0.0023}, Verdict.STOP),
    ],
)
def test_it_stops_where_that_takes_all_that_is_left(margins: dict[str, float], verdict: Verdict) -> None:
    """Of the unit 6 mm; of the shell as much as 400 N are of its own 981 N: 2.4 mm."""
    assert pytest.approx(0.0024, abs=1e-4) == 0.006 * 400 / (100 * GRAVITY)
    found = the(leaning(*BOTH, **margins))
    assert found.verdict is verdict
    assert (": it takes all that is left to tipping. Do not" in words(found.says)) is (verdict is Verdict.STOP)


def test_the_most_that_stands_may_carry_counts_and_what_is_not_known_does_not() -> None:
    judged = leaning(*BOTH, shell=0.0023)
    answers = {"F": load(0.0), "A": load(100.0, 0.0, 370.0), "B": None}
    supports = tuple(replace(each, load=answers[each.name]) for each in judged.statics.supports)
    assert the(replace(judged, statics=replace(judged.statics, supports=supports))).verdict is Verdict.CAUTION
    more = tuple(replace(each, load=load(100.0, 0.0, 400.0)) if each.name == "A" else each for each in supports)
    assert the(replace(judged, statics=replace(judged.statics, supports=more))).verdict is Verdict.STOP
    bodies = tuple(replace(each, worst_margin=None) for each in judged.statics.bodies)
    assert the(replace(judged, statics=replace(judged.statics, bodies=bodies))).verdict is Verdict.CAUTION
