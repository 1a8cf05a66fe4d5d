"""Which stands are changed, and where one more may stand, by what troubles a plan: each change told by its name."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from types import SimpleNamespace

import pytest

from loadplan.checks.one_more import OneMore
from loadplan.model.job import Job, Stage, State, Support
from loadplan.model.vehicle import Body, Place, PlanPoint
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.mending import candidate_changes
from loadplan.planning.mending.added_stand import StepsLeft
from loadplan.planning.mending.candidate_changes import MOST_CELLS, candidates
from loadplan.planning.mending.judged_plan import JudgedPlan, PlanTrouble
from loadplan.stages import states
from tests.planning.mending.plans import plan


def _job() -> Job:
    """A to C under the unit, D under a hub, which stands by itself; in the second step all stand."""
    job = plan()
    unit = job.vehicle.bodies[0]
    hub: Body = replace(unit, name="hub", bottom=0.15)
    part = replace(job.vehicle.parts[0], name="rotor", body="hub")
    vehicle = replace(job.vehicle, bodies=(unit, hub), parts=(*job.vehicle.parts, part))
    supports = tuple(replace(each, body="hub") if each.name == "D" else each for each in job.supports)
    stages = (Stage("one", in_place=("A",)), Stage("two", in_place=("B", "C", "D")), Stage("three"))
    return replace(job, vehicle=vehicle, bodies=("unit", "hub"), supports=supports, stages=stages)


JOB = _job()


@dataclass
class Asked:
    """What is thought of: each change by what thinks of it, and about what."""

    cells: dict[int, tuple[OneMore, ...]] = field(default_factory=dict)
    left: list[StepsLeft] = field(default_factory=list)
    raised: list[tuple[object, int]] = field(default_factory=list)
    looked: list[int] = field(default_factory=list)

    def of(self, what: str) -> Callable[..., list[str]]:
        def told(job: Job, support: Support, *more: object) -> list[str]:
            assert job is JOB
            return [" ".join([what, support.name, *(str(len(each)) for each in more if isinstance(each, tuple))])]

        return told

    def clearings(self, job: Job, support: Support, first: int) -> list[str]:
        assert job is JOB
        return [f"clear {support.name} {first}"]

    def additions(self, job: Job, body: str, cells: tuple[Place, ...], left: StepsLeft) -> list[str]:
        assert job is JOB
        self.left.append(left)
        return [f"add {body} {each}" for each in cells] or [f"add {body}"]

    def raisings(self, stages: object, first: int) -> list[str]:
        self.raised.append((stages, first))
        return ["raise"]

    def one_more(self, job: Job, state: State, statics: object) -> tuple[OneMore, ...]:
        assert job is JOB
        assert statics is not None
        self.looked.append(state.index)
        return self.cells.get(state.index, ())


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> Asked:
    found = Asked()
    for what in ("piece", "height", "equipment", "place"):
        monkeypatch.setattr(candidate_changes, f"{what}_changes", found.of(what))
    for name in ("clearings", "additions", "raisings", "one_more"):
        monkeypatch.setattr(candidate_changes, name, getattr(found, name))
    return found


def troubled(*troubles: PlanTrouble, groups: tuple[tuple[str, ...], ...] = (("unit",), ("hub",))) -> JudgedPlan:
    """The plan with those troubles, in which those assemblies are linked."""
    statics = SimpleNamespace(groups=[SimpleNamespace(bodies=each) for each in groups])
    stages = tuple(SimpleNamespace(state=state, statics=statics) for state in states(JOB))
    return JudgedPlan(JOB, Verdict.STOP, frozenset(troubles), 0.0, stages)  # type: ignore[arg-type]


def trouble(subject: str, stage: int = 1, check: CheckName = CheckName.MARGIN) -> PlanTrouble:
    return PlanTrouble(stage, check, subject)


def stands(found: tuple[object, ...], what: str = "height") -> str:
    return "".join(str(each).split()[1] for each in found if str(each).startswith(what))


def test_all_that_can_be_made_of_each_stand_comes_first_then_one_more_then_what_is_raised(asked: Asked) -> None:
    judged = troubled(trouble("unit"))
    assert candidates(judged, 0) == (
        *("height A", "equipment A", "place A 0", "height B", "equipment B", "place B 0"),
        *("height C", "equipment C", "place C 0"),
        *("clear A 0", "clear B 0", "clear C 0", "clear D 0"),
        *("add unit", "raise"),
    )
    assert asked.raised == [(judged.stages, 0)]
    assert asked.looked == [1]


@pytest.mark.parametrize(
    ("subject", "groups", "named"),
    [
        ("unit", (("unit",), ("hub",)), "ABC"),
        ("hub", (("unit",), ("hub",)), "D"),
        ("D", (("unit",), ("hub",)), "D"),
        ("B", (("unit",), ("hub",)), "ABC"),
        ("unit, hub", (("unit",), ("hub",)), "ABCD"),
        ("A, D", (("unit",), ("hub",)), "ABCD"),
        # What is linked in any step goes along; what nobody knows means all.
        ("hub", (("hub", "unit"),), "ABCD"),
        ("hub", (("hub", "axle"), ("axle", "unit")), "ABCD"),
        ("roll rod", (("unit",), ("hub",)), "ABCD"),
        ("A, roll rod", (("unit",), ("hub",)), "ABCD"),
    ],
)
def test_the_stands_of_what_is_in_trouble_are_changed(
    subject: str, groups: tuple[tuple[str, ...], ...], named: str, asked: Asked
) -> None:
    found = candidates(troubled(trouble(subject), groups=groups), 0)
    assert stands(found) == named
    assert [each.split()[1] for each in map(str, found) if each.startswith("add")] == [
        body for body, of in (("unit", "A"), ("hub", "D")) if of in named
    ]
    assert asked.raised


def test_two_troubles_count_together(asked: Asked) -> None:
    assert stands(candidates(troubled(trouble("D"), trouble("unit")), 0)) == "ABCD"
    assert asked.raised


def test_what_stands_already_stays_as_it_stands(asked: Asked) -> None:
    assert stands(candidates(troubled(trouble("unit")), 1)) == "BC"
    assert stands(candidates(troubled(trouble("unit")), 2)) == ""
    assert asked.raised[-1][1] == 2


def test_other_pieces_are_tried_only_where_pieces_of_one_kind_are_unlike(asked: Asked) -> None:
    assert stands(candidates(troubled(trouble("unit")), 0), "piece") == ""
    overdue = trouble("A", check=CheckName.INSPECTION)
    found = candidates(troubled(overdue, trouble("unit")), 0)
    assert found[:3] == ("piece A", "piece B", "piece C")
    assert asked.raised


@pytest.mark.parametrize(
    ("stages", "first", "left"),
    [((1,), 0, (1, 1)), ((2, 1), 0, (1, 2)), ((0, 2), 1, (2, 2)), ((0,), 1, (1, 1)), ((-1, 0), 2, (2, 2))],
)
def test_one_more_may_stand_from_the_first_to_the_last_step_in_trouble(
    stages: tuple[int, ...], first: int, left: tuple[int, int], asked: Asked
) -> None:
    candidates(troubled(*(trouble("unit", each) for each in stages)), first)
    assert asked.left == [StepsLeft(first, left)]


def row(count: int) -> tuple[PlanPoint, ...]:
    return tuple((float(number), 0.0) for number in range(count))


def test_places_are_of_the_first_step_in_trouble_that_lacks_a_stand_as_high_as_its_saddles(asked: Asked) -> None:
    """A to C have their saddles at 200 mm; the hub's bottom is at 150 mm, that of D at 200 mm."""
    asked.cells = {
        0: (OneMore("unit", ((9.0, 9.0),)),),
        1: (OneMore("unit", ()), OneMore("hub", ((1.0, 2.0),))),
        2: (OneMore("unit", ((3.0, 4.0),)), OneMore("hub", ((5.0, 6.0),))),
    }
    both = troubled(trouble("unit", 1), trouble("hub", 2))
    found = [str(each) for each in candidates(both, 0) if str(each).startswith("add")]
    assert found == ["add unit (3.0, 4.0, 0.2)", "add hub (1.0, 2.0, 0.2)"]
    assert asked.looked == [1, 2]
    # In the first step D does not stand yet: then its bottom tells, else the floor.
    asked.cells = {0: (OneMore("hub", ((1.0, 2.0),)),)}
    early = candidates(troubled(trouble("hub", 0)), 0)
    assert "add hub (1.0, 2.0, 0.15)" in early
    assert "place D 1" in early


@pytest.mark.parametrize(("bottom", "height"), [(0.15, 0.15), (None, 0.0)])
def test_without_a_saddle_a_bodys_own_bottom_says_how_high_one_more_stands_and_none_the_floor(
    asked: Asked, monkeypatch: pytest.MonkeyPatch, bottom: float | None, height: float
) -> None:
    """The unit's bottom, lower at 100 mm, says nothing of the hub's."""
    unit, hub = JOB.vehicle.bodies
    vehicle = replace(JOB.vehicle, bodies=(replace(unit, bottom=0.1), replace(hub, bottom=bottom)))
    monkeypatch.setitem(globals(), "JOB", replace(JOB, vehicle=vehicle))
    asked.cells = {0: (OneMore("hub", ((1.0, 2.0),)),)}
    assert f"add hub (1.0, 2.0, {height})" in candidates(troubled(trouble("hub", 0)), 0)


def test_a_few_places_far_apart_are_tried(asked: Asked) -> None:
    """Of eleven in a row the middle one, both ends, then in between; of two alike the one further on."""
    assert MOST_CELLS == 6
    asked.cells = {1: (OneMore("unit", row(11)),)}
    found = [str(each) for each in candidates(troubled(trouble("unit")), 0) if str(each).startswith("add")]
    assert [float(each.split("(")[1].split(",")[0]) for each in found] == [5.0, 10.0, 0.0, 8.0, 3.0, 9.0]
    asked.cells = {1: (OneMore("unit", row(2)),)}
    assert [each for each in candidates(troubled(trouble("unit")), 0) if str(each).startswith("add")] == [
        "add unit (0.0, 0.0, 0.2)",
        "add unit (1.0, 0.0, 0.2)",
    ]
