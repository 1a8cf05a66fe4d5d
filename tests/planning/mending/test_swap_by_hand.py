"""A swap under loads that are written down: how far is raised and lowered, what helps, and which way is taken."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from math import inf
from types import SimpleNamespace
from typing import Any

import pytest

from loadplan.errors import InputError
from loadplan.model.answer import Load
from loadplan.model.job import Job, Stack, Stage, State, Support
from loadplan.model.shop import Equipment, EquipmentKind, Heights, Shim
from loadplan.model.vehicle import Place
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from loadplan.planning.mending import stand_swap
from loadplan.planning.mending.stand_swap import FARTHEST, StandSwap, swap
from loadplan.statics.group import glance
from tests.checks.builders import words
from tests.planning.mending.plans import JACK, RATCHET, SCREW, but, plan, stand

SWAPPED = 1
"""Number of the step in which stands are swapped."""

HIGH = 0.33
"""How high every place of the unit is over the floor, while nothing is raised [m]; so are the four stands set."""

JOB = replace(plan(*but(), shop=(RATCHET, SCREW)), shop=replace(plan().shop, equipment=(RATCHET, SCREW)))
POINT = "middle right"


@dataclass
class Law:
    """What the stands carry, and how high the unit is, by how far the helper is raised from where it touches.

    Attributes:
        gone: How far until D carries nothing, which has 1000 N at first [m].
        sinks: How far the unit sinks as D goes [m].
        rests: From where down the helper carries nothing once D is gone [m].
        own: How far D has to be lowered itself until it carries nothing [m].
        first: What D carries before anything is done [N], None where that is not known.
        floor: Height of the floor, None where no height is set.
        lost: Places of which the height is not known.
        on_paper: Points at which a helper troubles the plan on paper.
        before: What is found before.
        on_the_way: What is found on the way with a helper at a point.
        margin: Smallest margin on the way with a helper at a point [m].
        next: Verdict of the first step of the swap.
        ways: The jobs with the ways that were judged.
        whole: The job that was judged in the end.
    """

    gone: float = 0.0035
    sinks: float = 0.0
    rests: float = 0.0015
    own: float = inf
    first: float | None = 1000.0
    floor: float | None = 0.0
    lost: tuple[Place, ...] = ()
    on_paper: tuple[str, ...] = ()
    before: tuple[Finding, ...] = ()
    on_the_way: Mapping[str, tuple[Finding, ...]] = field(default_factory=dict)
    margin: Mapping[str, float] = field(default_factory=dict)
    next: int = 2
    ways: list[Job] = field(default_factory=list)
    whole: list[Job] = field(default_factory=list)

    def solved(self, job: Job, followed: tuple[State, ...]) -> tuple["Seen", ...]:
        assert len(job.stages) == len(followed)
        return tuple(Seen(self, each) for each in followed)

    def glanced(
        self, look: object, job: Job, followed: tuple[State, ...], unsolved: Callable[[object], None]
    ) -> object:
        assert look is glance
        # What cannot be solved carries nothing that is known.
        assert unsolved(None) is None  # type: ignore[func-returns-value]
        return self.solved(job, followed)

    def paper(self, job: Job, first: int, least: Verdict) -> frozenset[str]:
        assert (first, least) == (SWAPPED, Verdict.STOP)
        return frozenset({"as before"} | {each.point for each in job.supports if each.point in self.on_paper})

    def judged(self, job: Job, first: int, least: Verdict) -> SimpleNamespace:
        assert least is Verdict.CAUTION
        if first == SWAPPED:
            # What comes behind has no say in what was there before.
            assert len(job.stages) == SWAPPED + 1
            return SimpleNamespace(stages=(SimpleNamespace(findings=self.before),))
        assert first == SWAPPED + 1
        self.ways.append(job)
        helper = helper_of(job)
        found = self.on_the_way.get(helper.point if helper else "", ())
        margin = self.margin.get(helper.point if helper else "", 0.1)
        if margin == inf:
            return SimpleNamespace(stages=())
        steps = job.stages[SWAPPED + 1 :]
        worst = max((each.verdict for each in found), default=Verdict.HOLDS)
        return SimpleNamespace(
            stages=tuple(
                SimpleNamespace(
                    findings=found if place == 0 else (),
                    verdict=worst if place == 0 else Verdict.NOTE,
                    statics=margin + 0.01 * place,
                )
                for place in range(len(steps))
            )
        )

    def assessed(self, job: Job) -> SimpleNamespace:
        """Judge the job with the best way: its two first steps stop, the last one holds."""
        self.whole.append(job)
        verdicts = (3, 3, self.next, *(1 for _ in job.stages[SWAPPED + 2 : -1]), 0)
        return SimpleNamespace(stages=tuple(SimpleNamespace(verdict=Verdict(each)) for each in verdicts))


def helper_of(job: Job) -> Support | None:
    """What helps: it is brought up to touch, and is none of the first four."""
    return next((each for each in job.supports[len(JOB.supports) :] if each.height is None), None)


@dataclass
class Seen:
    """A state under the law."""

    law: Law
    state: State

    @property
    def floor(self) -> float | None:
        return self.law.floor

    @property
    def _raised(self) -> float:
        """How far the helper is raised."""
        return max(
            (each.set_height - HIGH for each in self.state.supports if each.name == "E" and each.set_height), default=0
        )

    def body(self, name: str) -> SimpleNamespace:
        assert name == "unit"
        return SimpleNamespace(rigid_with=("hub",))

    def height(self, body: str, at: Place) -> float | None:
        assert body in {"unit", "hub"}
        assert len(at) == 3
        sunk = 0.0 if any(each.name == "D" for each in self.state.supports) else self.law.sinks
        return None if at in self.law.lost else HIGH + max(self._raised - self.law.gone, 0.0) - sunk

    def load(self, name: str) -> Load | None:
        if self.law.first is None:
            return None
        if name == "E":
            return Load(1e6 * max(self._raised - self.law.rests, 0.0), None)
        own = next(each for each in self.state.supports if each.name == name)
        lowered = HIGH - (own.height or 0.0)
        left = 1.0 - self._raised / self.law.gone - lowered / self.law.own
        return Load(self.law.first * max(left, 0.0), None)


@pytest.fixture
def under(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Law]:
    """Put a law in the place of all that solves and judges."""

    def put(**more: object) -> Law:
        law = Law(**more)  # type: ignore[arg-type]
        monkeypatch.setattr(stand_swap, "solve_stages", law.solved)
        monkeypatch.setattr(stand_swap, "solve_stages_by", law.glanced)
        monkeypatch.setattr(stand_swap, "on_paper", law.paper)
        monkeypatch.setattr(stand_swap, "judged", law.judged)
        monkeypatch.setattr(stand_swap, "smallest_margin", lambda job, statics: statics if job.stages else None)
        monkeypatch.setattr(stand_swap, "assess_in_short", law.assessed)
        return law

    return put


def says(found: StandSwap) -> list[str]:
    return [words(each.says) for each in found.steps]


def at_points(*names: str, job: Job = JOB) -> Job:
    """The job with those points, besides those of the four stands."""
    corners = {each.point for each in JOB.supports}
    points = tuple(each for each in JOB.vehicle.points if each.name in corners | set(names))
    return replace(job, vehicle=replace(job.vehicle, points=points))


ONE = at_points(POINT)


def test_the_helper_is_raised_to_the_first_mark_at_which_there_is_room_and_lowered_to_the_first_at_which_it_is_empty(
    under: Callable[..., Law],
) -> None:
    """D is empty 4 mm up, where what comes, which is set as high, finds half a millimetre; E is empty 1 mm up."""
    law = under()
    found = swap(ONE, SWAPPED, "D", RATCHET)
    assert says(found) == [
        "Set E, screw stand N1, under middle right, and bring it up to just touch.",
        "Raise E by 0.004 m, to 0.334 m, until D turns by hand.",
        "Take D away, which carries nothing.",
        "Set D2, ratchet stand S5, under rear right, set to 0.33 m with no shim. "
        "Then lower E to 0.331 m, until it turns by hand.",
        "Take E away.",
    ]
    assert (found.stage, found.stand, found.considered, found.moving) == ("Intake off", "D", 1, ("D", "D2", "E"))
    assert [(each.verdict, each.worst_margin) for each in found.steps] == [
        (Verdict.HOLDS, pytest.approx(0.1)),
        *((Verdict.NOTE, pytest.approx(0.1 + 0.01 * place)) for place in range(1, 5)),
    ]
    assert found.clean
    # Of the steps of the swap and of all that comes behind, the worst.
    assert found.verdict is Verdict.CAUTION
    assert law.whole == [found.job]
    assert [len(each.findings) for each in found.stages] == [0] * 5
    assert [each.name for each in found.job.supports] == ["A", "B", "C", "D", "E", "D2"]
    assert len(found.job.stages) == len(JOB.stages) + 5


@pytest.mark.parametrize(
    ("gone", "by"),
    [
        (0.0005, 0.001),
        (0.00095, 0.002),
        (0.0015, 0.002),
        *((whole / 1000 + 0.0005, (whole + 1) / 1000) for whole in (2, 3, 6, 7, 8, 15, 30, 31, 32, 37, 38)),
    ],
)
def test_it_is_raised_by_whole_millimetres_whatever_it_takes(gone: float, by: float, under: Callable[..., Law]) -> None:
    under(gone=gone)
    assert f"Raise E by {by:.4g} m" in says(swap(ONE, SWAPPED, "D", RATCHET))[1]


def test_it_is_raised_on_where_what_comes_needs_more_room(under: Callable[..., Law]) -> None:
    """0.05 mm are no room, 0.1 mm are; what only stands by needs none, nor does nothing."""
    for gone, by in ((0.00395, 0.005), (0.0039, 0.004)):
        under(gone=gone)
        assert f"Raise E by {by} m" in says(swap(ONE, SWAPPED, "D", RATCHET))[1]
    # With D gone half of what was raised is left.
    under(gone=0.0035, sinks=0.00045)
    assert "Raise E by 0.005 m" in says(swap(ONE, SWAPPED, "D", RATCHET))[1]
    # 40 mm are the most.
    under(gone=0.03895)
    assert "Raise E by 0.04 m" in says(swap(ONE, SWAPPED, "D", RATCHET))[1]
    under(gone=0.00395)
    assert "Raise E by 0.004 m" in says(swap(ONE, SWAPPED, "D", None))[1]
    by_hand = tuple(replace(each, standby=True) if each.name == "D" else each for each in JOB.supports)
    assert "Raise E by 0.004 m" in says(swap(replace(ONE, supports=by_hand), SWAPPED, "D", RATCHET))[1]


@pytest.mark.parametrize("more", [{"gone": 0.0395}, {"gone": 0.0381, "rests": 0.0375}, {"rests": -0.1}, {"gone": inf}])
def test_what_takes_more_than_40_mm_or_never_gets_empty_is_no_way(
    more: dict[str, float], under: Callable[..., Law]
) -> None:
    under(**more)
    job = (
        ONE
        if more != {"gone": 0.0381, "rests": 0.0375}
        else replace(ONE, supports=but(stand("D", "rear right", height=0.37)))
    )
    found = swap(job, SWAPPED, "D", RATCHET)
    assert FARTHEST == 0.04
    assert found == StandSwap(job, "Intake off", "D", (), (), clean=False, verdict=Verdict.STOP, considered=0)


def test_in_inches_it_is_raised_by_eighths(under: Callable[..., Law]) -> None:
    """Twelve eighths are 38 mm."""
    under()
    inches = replace(ONE, us_units=True)
    assert "Raise E by 0.00635 m" in says(swap(inches, SWAPPED, "D", RATCHET))[1]
    under(gone=0.0380)
    assert "Raise E by 0.0381 m" in says(swap(inches, SWAPPED, "D", None))[1]
    under(gone=0.0382)
    assert says(swap(inches, SWAPPED, "D", None)) == []


@pytest.mark.parametrize(("first", "steps"), [(0.0, 1), (1.0, 1), (1.01, 5)])
def test_what_carries_nothing_goes_without_help(first: float, steps: int, under: Callable[..., Law]) -> None:
    law = under(first=first, gone=1e-3)
    found = swap(ONE, SWAPPED, "D", RATCHET)
    assert len(found.steps) == steps
    assert len(law.ways) == 1
    if steps == 1:
        assert says(found) == [
            "Take D away, which carries nothing. "
            "Set D2, ratchet stand S5, under rear right, set to 0.33 m with no shim."
        ]
        assert found.moving == ("D", "D2")


TURNS = replace(ONE, supports=but(stand("D", "rear right", SCREW)))


def test_a_stand_that_turns_is_lowered_itself_where_nothing_comes(under: Callable[..., Law]) -> None:
    law = under(own=0.0065)
    found = swap(TURNS, SWAPPED, "D", None)
    assert says(found) == ["Lower D to 0.323 m, until it turns by hand.", "Take D away, which carries nothing."]
    # The other way is with a helper.
    assert (found.considered, len(law.ways), found.moving) == (2, 2, ("D",))
    assert [len(swap(TURNS, SWAPPED, "D", each).steps) for each in (RATCHET, None)] == [5, 2]
    assert len(swap(ONE, SWAPPED, "D", None).steps) == 5
    standing_by = tuple(replace(each, height=None) if each.name == "D" else each for each in TURNS.supports)
    assert len(swap(replace(TURNS, supports=standing_by), SWAPPED, "D", None).steps) != 2
    under()
    assert len(swap(TURNS, SWAPPED, "D", None).steps) == 5


# ---- what helps, and where ------------------------------------------------------------------------------


def helpers(law: Law) -> list[tuple[str, str, str]]:
    """Point, kind and tag of each helper with which a way was judged."""
    found = [helper_of(each) for each in law.ways]
    return [(each.point, each.equipment.name, each.tag) for each in found if each is not None]


def shop_of(job: Job, *equipment: Equipment) -> Job:
    return replace(job, shop=replace(job.shop, equipment=equipment))


def test_what_turns_and_is_free_helps_at_each_free_point(under: Callable[..., Law]) -> None:
    """Two screw stands and two jacks; one screw stand stands already, and no ratchet stand turns."""
    stands = (*but(), replace(stand("A", "front left", SCREW), name="Z", body="hub", point="", at=(3.0, 0.0, 0.2)))
    stages = (replace(JOB.stages[0], in_place=("A", "B", "C", "D", "Z")), *JOB.stages[1:])
    job = shop_of(replace(at_points(POINT, "middle left"), supports=stands, stages=stages), RATCHET, SCREW, JACK)
    hoist = replace(JACK, name="hoist", kind=EquipmentKind.HOIST)
    law = under()
    swap(job, SWAPPED, "D", RATCHET)
    assert helpers(law) == [
        (point, *kind) for point in ("middle left", POINT) for kind in (("screw stand", "N2"), ("jack", "J1"))
    ]
    for kinds, name in (
        ((replace(SCREW, count=1), JACK, hoist), "jack"),
        ((replace(SCREW, count=None),), "screw stand"),
    ):
        law = under()
        swap(
            shop_of(replace(job, supports=(*stands[:4], replace(stands[4], equipment=kinds[0]))), *kinds),
            SWAPPED,
            "D",
            None,
        )
        assert {each[1] for each in helpers(law)} == {name}


def test_the_helper_is_another_piece_than_what_comes(under: Callable[..., Law]) -> None:
    law = under()
    swap(ONE, SWAPPED, "D", SCREW)
    assert helpers(law) == [(POINT, "screw stand", "N2")]
    bare = tuple(replace(each, tag="") for each in JOB.supports)
    law = under()
    found = swap(replace(ONE, supports=bare), SWAPPED, "D", SCREW)
    assert helpers(law) == [(POINT, "screw stand", "")]
    assert found.job.supports[-1].tag == ""


@pytest.mark.parametrize(
    ("highest", "shims", "shim"),
    [(0.3291, (), "none"), (0.3289, (), "does not help"), (0.3289, (Shim(0.006, "steel", 2),), "steel")],
)
def test_what_does_not_come_within_a_millimetre_does_not_help_and_with_a_shim_it_may(
    highest: float, shims: tuple[Shim, ...], shim: str, under: Callable[..., Law]
) -> None:
    """Places are 330 mm high."""
    law = under()
    low = replace(SCREW, heights=Heights(0.3, highest, ()))
    job = shop_of(ONE, low)
    found = swap(replace(job, shop=replace(job.shop, shims=shims)), SWAPPED, "D", RATCHET)
    helper = helper_of(law.ways[0]) if law.ways else None
    assert (helper is not None) is (shim != "does not help")
    if helper is not None:
        assert helper.shim == (Stack(0.006, "steel", crib=False) if shim == "steel" else None)
        # It touches at 330 mm with its shim, and is told by its saddle.
        assert f"by 0.004 m, to {0.328 if helper.shim else 0.334} m" in says(found)[1]


def test_nothing_helps_at_a_point_that_is_taken_not_there_or_in_the_way(under: Callable[..., Law]) -> None:
    """The tail is on the box: on, it bears; gone, or perhaps gone, it does not."""
    tail = at_points(POINT, "box tail")
    there = next(each for each in tail.vehicle.points if each.name == POINT)
    law = under()
    swap(tail, SWAPPED, "D", RATCHET)
    assert [each[0] for each in helpers(law)] == [POINT, "box tail"]
    first, second, third = tail.stages
    for stage in (replace(second, off=("box",)), replace(second, off=("box",), any_order=True)):
        law = under()
        swap(replace(tail, stages=(first, stage, third)), SWAPPED, "D", RATCHET)
        assert [each[0] for each in helpers(law)] == [POINT]
    # Over a stand, if higher, nothing else stands.
    over = replace(there, name="over A", at=(*JOB.supports[0].at[:2], 0.3))
    law = under()
    swap(replace(tail, vehicle=replace(tail.vehicle, points=(*tail.vehicle.points, over))), SWAPPED, "D", RATCHET)
    assert [each[0] for each in helpers(law)] == [POINT, "box tail"]
    law = under(on_paper=(POINT,))
    swap(tail, SWAPPED, "D", RATCHET)
    assert [each[0] for each in helpers(law)] == ["box tail"]
    law = under(lost=(there.at,))
    swap(tail, SWAPPED, "D", RATCHET)
    assert [each[0] for each in helpers(law)] == ["box tail"]
    other = replace(
        tail,
        vehicle=replace(tail.vehicle, points=(*tail.vehicle.points, replace(there, body="axle", at=(9.0, 9.0, 0.2)))),
    )
    law = under()
    swap(other, SWAPPED, "D", RATCHET)
    assert len(helpers(law)) == 2


# ---- which way is taken ---------------------------------------------------------------------------------


def finding(check: CheckName, verdict: Verdict, subject: str = "unit") -> Finding:
    return Finding(check, verdict, subject, 1.0, 1.0, Measure.LENGTH, ())


CALM, WORSE = (finding(CheckName.MARGIN, each) for each in (Verdict.CAUTION, Verdict.STOP))


@pytest.mark.parametrize(
    ("before", "found", "clean"),
    [
        ((), (finding(CheckName.MARGIN, Verdict.NOTE),), "clean"),
        ((), (CALM,), "not"),
        ((CALM,), (CALM,), "clean"),
        ((CALM,), (WORSE,), "not"),
        ((WORSE,), (WORSE,), "clean"),
        ((finding(CheckName.MARGIN, Verdict.NOTE),), (CALM,), "not"),
        ((finding(CheckName.MARGIN, Verdict.CAUTION, "hub"),), (CALM,), "not"),
        ((finding(CheckName.SWAY, Verdict.CAUTION),), (CALM,), "not"),
        ((), (finding(CheckName.JACK_HOLDING, Verdict.CAUTION, "E"),), "clean"),
        ((), (finding(CheckName.JACK_HOLDING, Verdict.STOP, "E"),), "not"),
        *(((), (finding(CheckName.IDLE_SUPPORT, Verdict.CAUTION, each),), "clean") for each in ("D", "D2", "E")),
        ((), (finding(CheckName.IDLE_SUPPORT, Verdict.CAUTION, "A"),), "not"),
        ((), (finding(CheckName.LOST_SUPPORT, Verdict.CAUTION, "E"),), "not"),
    ],
)
def test_it_is_clean_where_nothing_is_worse_than_before_but_what_oil_holds_and_what_is_empty_on_the_way(
    before: tuple[Finding, ...], found: tuple[Finding, ...], clean: str, under: Callable[..., Law]
) -> None:
    under(before=before, on_the_way={POINT: found})
    assert swap(ONE, SWAPPED, "D", RATCHET).clean is (clean == "clean")


def test_the_milder_way_is_taken_then_the_shorter_then_the_one_with_more_margin(under: Callable[..., Law]) -> None:
    two = at_points(POINT, "middle left")

    def taken(job: Job = two, **more: object) -> str:
        under(**more)
        found = swap(job, SWAPPED, "D", None)
        helper = helper_of(found.job)
        return helper.point if helper else "by itself"

    assert taken(margin={"middle left": 0.11}) == "middle left"
    assert taken(margin={"middle left": 0.09}) == POINT
    assert taken(margin={"middle left": 0.2}, on_the_way={"middle left": (CALM,)}) == POINT
    assert taken(margin={"middle left": 0.2}, on_the_way={"middle left": (WORSE,), POINT: (CALM,)}) == POINT
    turns = replace(two, supports=TURNS.supports)
    assert taken(turns, margin={"": 0.01}, own=0.0065) == "by itself"
    assert taken(turns, on_the_way={"": (CALM,)}, own=0.0065) == "middle left"
    # One that cannot be computed is no way.
    assert taken(margin={POINT: inf, "middle left": 0.01}) == "middle left"


# ---- what comes, and what is refused -----------------------------------------------------------------------


def test_what_comes_is_called_after_what_goes_and_set_as_near_as_it_can_be(under: Callable[..., Law]) -> None:
    under()
    new = swap(ONE, SWAPPED, "D", SCREW).job.supports[-1]
    assert (new.name, new.tag, new.height, new.shim, new.friction, new.point) == (
        "D2",
        "N1",
        0.33,
        None,
        None,
        "rear right",
    )
    # Of shims the one that brings it nearest: 342 mm are 330 mm and 12 mm.
    shimmed = tuple(
        replace(each, shim=Stack(0.012, "steel", crib=False)) if each.name == "D" else each for each in JOB.supports
    )
    new = swap(replace(ONE, supports=shimmed), SWAPPED, "D", RATCHET).job.supports[-1]
    assert (new.height, new.shim) == (pytest.approx(0.33), Stack(0.012, "steel", crib=False))
    rough = tuple(replace(each, friction=0.5) if each.name == "D" else each for each in shimmed)
    new = swap(replace(ONE, supports=rough), SWAPPED, "D", replace(SCREW, tags=())).job.supports[-1]
    assert (new.equipment.name, new.tag, new.height, new.shim, new.friction) == ("screw stand", "", 0.342, None, None)
    # A point may be called so already.
    points = tuple(replace(each, name="D2") if each.name == POINT else each for each in ONE.vehicle.points)
    named = replace(ONE, vehicle=replace(ONE.vehicle, points=points))
    assert swap(named, SWAPPED, "D", RATCHET).job.supports[-1].name == "D3"
    points = tuple(replace(points[0], name=f"D{number}", at=(9.0, number, 0.0)) for number in range(2, 10))
    named = replace(ONE, vehicle=replace(ONE.vehicle, points=(*ONE.vehicle.points, *points)))
    assert swap(named, SWAPPED, "D", RATCHET).job.supports[-1].name == "E"


def test_what_touches_is_followed_by_what_is_set_as_high_as_the_unit_stands(under: Callable[..., Law]) -> None:
    under()
    touching = tuple(replace(each, height=None) if each.name == "D" else each for each in JOB.supports)
    new = swap(replace(ONE, supports=touching), SWAPPED, "D", SCREW).job.supports[-1]
    assert new.height == HIGH
    standing_by = tuple(replace(each, height=None, standby=True) if each.name == "D" else each for each in JOB.supports)
    assert swap(replace(ONE, supports=standing_by), SWAPPED, "D", SCREW).job.supports[-1].height is None


@pytest.mark.parametrize("more", [{"floor": None}, {"lost": (JOB.supports[3].at,)}])
def test_where_nobody_can_say_how_high_it_stands_it_is_refused(more: dict[str, Any], under: Callable[..., Law]) -> None:
    under(**more)
    with pytest.raises(InputError) as told:
        swap(ONE, SWAPPED, "D", RATCHET)
    (fault,) = told.value.faults
    assert (fault.file, fault.table, fault.key) == ("made-up.toml", 'support "D"', "height")
    assert fault.message == (
        "is left out at every stand, or the unit does not stand: run `loadplan heights` with --write first"
    )


def test_what_does_not_stand_there_or_is_not_set_by_hand_is_refused(under: Callable[..., Law]) -> None:
    under()
    hung = replace(stand("E", POINT), equipment=replace(JACK, name="hoist", kind=EquipmentKind.HOIST))
    hanging = plan(*but(), hung)
    for job, name, message in (
        (ONE, "Z", 'must be a stand that is in place in step "Intake off": "A", "B", "C", "D"'),
        (hanging, "E", '"E" is an arm, a hoist, or one saddle of several: only a stand, jack or table is swapped'),
        (
            replace(ONE, stages=(Stage("up"), Stage("up still"))),
            *("A", 'must be a stand that is in place in step "up still": none'),
        ),
    ):
        with pytest.raises(InputError) as told:
            swap(job, SWAPPED, name, RATCHET)
        (fault,) = told.value.faults
        assert (fault.file, fault.table, fault.key, fault.message) == ("made-up.toml", "--stand", "", message)
