"""What is told beside too small a margin or tilt, by small records, and by solvers that answer what is written down."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from math import inf, radians, tan
from types import SimpleNamespace

import pytest

from loadplan.checks import margin
from loadplan.checks.case import Case
from loadplan.checks.moved_stand_cure import FurtherOut
from loadplan.model.answer import BodyAnswer, Mode, Motion
from loadplan.model.plan_cure import StandMove, StandsMoved
from loadplan.model.verdict import CheckName, Finding, FoundCure, SolvedCure, Verdict
from loadplan.statics.group import upright_in_full
from loadplan.statics.moved_stands import STEP
from loadplan.statics.wider_stance import WiderQuestion
from tests.checks.builders import about, body_answer, case, lifted, support, with_body, with_group, words

NEAR = replace(body_answer("unit"), margin=0.1, worst_margin=0.03, tip_angle=radians(12))
LOW = replace(NEAR, worst_margin=0.06, tip_angle=radians(5))
BACK = Motion(0.0, 0.1, -0.5)
"""Nose up, and a little to the right: the back goes down."""

OTHER = Mode(("X",), ("shell",), (("shell", Motion(0.0, 1.0, 0.0)),), 1.0, (("shell", -0.1),), tip_angle=0.01)
"""A way over that turns another body, nearer than any of the unit's."""

ASKED = " (asked for: 0.05 m in the worst case, 0.1745 rad)."
FREE = " Do not touch the stands. Take the weight back first. Then set a stand further out, or one more, "


def mode(*about_: str, motion: Motion = BACK, margin_: float = 0.1, tilt: float | None = 0.1) -> Mode:
    return Mode(about_, ("unit",), (("unit", motion),), 1.0, (("unit", margin_),), tip_angle=tilt)


def near(body: BodyAnswer, *modes: Mode) -> Case:
    """The unit on A and B behind, C ahead, with those ways over."""
    judged = with_body(
        case(support("A", at=(-0.4, 0.3)), support("B", at=(-0.4, -0.3)), support("C", at=(0.4, 0.0))), body
    )
    return with_group(judged, replace(judged.statics.groups[0], modes=(*modes, OTHER)))


def found(judged: Case) -> Finding:
    return about(margin.check(judged), "unit")


# ---- words ----------------------------------------------------------------------------------------------


def test_the_way_over_is_the_worst_where_the_margin_is_short_and_the_least_tilt_where_that_is() -> None:
    worst = mode("A", "B", margin_=0.03, tilt=0.2)
    tilts = mode("C", motion=Motion(0.0, 0.0, 0.5), margin_=0.04, tilt=0.1)
    short = found(near(NEAR, tilts, worst))
    assert words(short.says) == (
        "The unit is only 0.1 m from tipping as given and 0.03 m in the worst case to the back, turning about A and B, "
        f"and tilts by 0.2094 rad before it goes{ASKED}{FREE}under its back end."
    )
    low = found(near(LOW, worst, tilts))
    assert words(low.says) == (
        "The unit is only 0.1 m from tipping as given and 0.06 m in the worst case to the front, turning about C, "
        f"and tilts by 0.08727 rad before it goes{ASKED}{FREE}under its front end."
    )
    assert (low.check, low.value, low.limit) == (CheckName.MARGIN, LOW.tip_angle, radians(10))
    # A worst margin that is as asked for is none that is short.
    even = found(near(replace(LOW, worst_margin=0.05), worst, tilts))
    assert "to the front, turning about C" in words(even.says)


def test_where_no_way_is_known_none_is_told() -> None:
    unknown = found(near(replace(NEAR, worst_margin=None, tip_angle=None)))
    assert (unknown.verdict, unknown.value) == (Verdict.CAUTION, None)
    assert words(unknown.says) == (
        f"The unit is only 0.1 m from tipping as given{ASKED}{FREE}off the line of the others."
    )
    straight = found(near(NEAR, mode("A", motion=Motion(-1.0, 0.0, 0.0))))
    assert "in the worst case, turning about A, and tilts" in words(straight.says)


def test_what_hangs_on_the_lift_is_told_by_its_pads() -> None:
    """The shell goes over with the unit, about a pad: so says the way, or where none is known, the group."""
    judged = with_body(lifted(support("A")), NEAR)
    tips = replace(mode("pad 1"), bodies=("unit", "shell"))
    over = with_group(judged, replace(judged.statics.groups[0], modes=(tips,)))
    pads = " Before lifting: set the lift pads further out, or put a prop under its back end."
    assert words(found(over).says).endswith(pads)
    alone = with_group(judged, replace(judged.statics.groups[0], modes=(replace(tips, bodies=("unit",)),)))
    assert words(found(alone).says).endswith(
        " Before unbolting: set a stand further out, or one more, under its back end."
    )


# ---- cures ----------------------------------------------------------------------------------------------


@dataclass
class Solvers:
    """In place of what is solved.

    Attributes:
        least: How far out margins alone say.
        both: How far with the tilt, too.
        only: How far with the margin alone.
        asked: What was asked.
        outs: The stands that were to be moved, what had to be met, and from where on it was looked for.
    """

    least: float | None = 0.08
    both: float | None = None
    only: float | None = None
    asked: list[WiderQuestion] = field(default_factory=list)
    outs: list[tuple[FurtherOut, Callable[[object], bool], float]] = field(default_factory=list)

    def further_out(self, asked: WiderQuestion) -> float | None:
        self.asked.append(asked)
        return self.least

    def least_distance(self, out: FurtherOut, met: Callable[[object], bool], beyond: float) -> float | None:
        self.outs.append((out, met, beyond))
        return self.both if len(self.outs) == 1 else self.only


MOVED = (StandsMoved((StandMove("A", (-0.5, 0.3)),), 0.1),)


@pytest.fixture
def solved(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Solvers]:
    def put(**more: float | None) -> Solvers:
        solvers = Solvers(**more)  # type: ignore[arg-type]
        monkeypatch.setattr(margin, "further_out", solvers.further_out)
        monkeypatch.setattr(margin, "least_distance", solvers.least_distance)
        monkeypatch.setattr(
            margin, "moved_out", lambda out, distance: MOVED if (out, distance) == (*solvers.outs[-1][:1], 0.12) else ()
        )
        return solvers

    return put


def cure(judged: Case) -> FoundCure:
    told = found(judged).cure
    assert told is not None
    return told.found


TIPS = near(NEAR, mode("A", "B", "mount", margin_=0.03))


def test_stands_further_out_are_told_with_the_margin_and_the_tilt(solved: Callable[..., Solvers]) -> None:
    solvers = solved(both=0.12)
    told = cure(TIPS)
    assert words(told.says) == " With A and B 0.12 m further out to the back it has the margin asked for."
    assert (told.cures, told.leaves_other) == (MOVED, False)
    (asked,) = solvers.asked
    assert (asked.job, asked.state, asked.gaps) == (TIPS.job, TIPS.state, TIPS.statics.gaps)
    assert (asked.told, asked.body, asked.margins) == (TIPS.statics.groups[0], "unit", {"unit": 0.03})
    assert (asked.motion, asked.stands) == (BACK, ("A", "B"))
    ((out, _, beyond),) = solvers.outs
    assert (out.case, out.body, out.about, out.way) == (TIPS, "unit", ("A", "B"), (-0.5, -0.1))
    assert (out.look, out.guess) == (upright_in_full, 0.08)
    assert beyond == 0.08 - STEP


def test_where_the_tilt_is_left_that_is_said(solved: Callable[..., Solvers]) -> None:
    solvers = solved(only=0.12)
    told = cure(TIPS)
    assert words(told.says) == (
        " With A and B 0.12 m further out to the back it has the margin asked for, "
        "but still tilts by less than is asked for."
    )
    assert (told.cures, told.leaves_other) == (MOVED, True)
    assert [(out.guess, beyond) for out, _, beyond in solvers.outs] == [(0.08, 0.08 - STEP)] * 2


@pytest.mark.parametrize(
    "judged",
    [
        near(NEAR),
        near(replace(NEAR, worst_margin=None), mode("A")),
        near(NEAR, mode("mount", margin_=0.03)),
        near(NEAR, mode("A", margin_=0.03, motion=Motion(-1.0, 0.0, 0.0))),
    ],
    ids=["no way is known", "no worst margin", "nothing that can be moved", "straight down"],
)
def test_where_no_stand_can_go_out_nothing_is_asked(judged: Case, solved: Callable[..., Solvers]) -> None:
    solvers = solved(both=0.12)
    assert cure(judged) == FoundCure()
    assert solvers.asked == []


def test_where_no_distance_does_none_is_told(solved: Callable[..., Solvers]) -> None:
    solvers = solved(least=None, both=0.12)
    assert cure(TIPS) == FoundCure()
    assert solvers.outs == []
    solvers = solved()
    assert cure(TIPS) == FoundCure()
    assert len(solvers.outs) == 2


def moved(worst: float | None, tilt: float | None) -> SimpleNamespace:
    """A group with stands elsewhere, of which the second rigid whole is the unit's."""
    frame = SimpleNamespace(whole=lambda body: ["shell", "unit"].index(body))
    return SimpleNamespace(frame=frame, solved=SimpleNamespace(worst_margins=(9.0, worst), tip_angles=(9.0, tilt)))


@pytest.mark.parametrize(
    ("worst", "tilt", "both", "only"),
    [
        (0.05, radians(10), True, True),
        (0.0499, radians(10), False, False),
        (0.05, radians(9.99), False, True),
        (None, None, True, True),
        (0.06, radians(11), True, True),
        (0.04, None, False, False),
    ],
)
def test_what_has_to_be_met_is_margin_and_tilt_then_the_margin_alone(
    worst: float | None, tilt: float | None, *, both: bool, only: bool, solved: Callable[..., Solvers]
) -> None:
    solvers = solved(only=0.12)
    cure(TIPS)
    assert [met(moved(worst, tilt)) for _, met, _ in solvers.outs] == [both, only]


def test_of_the_other_bodies_the_margins_are_those_that_are_told(solved: Callable[..., Solvers]) -> None:
    """Where nothing turns a body it may move as far as it likes."""
    solvers = solved(both=0.12)
    judged = with_body(lifted(support("A")), NEAR)
    judged = with_body(judged, replace(body_answer("shell"), worst_margin=None))
    cure(with_group(judged, replace(judged.statics.groups[0], modes=(mode("A", margin_=0.03),))))
    assert solvers.asked[0].margins == {"unit": 0.03, "shell": inf}


# ---- too small a tilt -----------------------------------------------------------------------------------


@pytest.fixture
def tilted(monkeypatch: pytest.MonkeyPatch) -> list[tuple[FurtherOut, Callable[[object], bool], str]]:
    """What is asked where the tilt is too small."""
    asked: list[tuple[FurtherOut, Callable[[object], bool], str]] = []
    monkeypatch.setattr(margin, "further_out_cure", lambda *of: asked.append(of) or SolvedCure(FoundCure))
    return asked


def test_where_the_tilt_is_too_small_stands_go_out_as_far_as_the_slope_grows(
    tilted: list[tuple[FurtherOut, Callable[[object], bool], str]],
) -> None:
    """About two places the slope goes with the distance to their line: 100 mm at 5°, 200 mm or so at 10°."""
    judged = near(LOW, mode("A", "B"))
    assert found(judged).cure is not None
    ((out, met, then),) = tilted
    assert (out.case, out.body, out.about, out.way, out.look) == (
        judged,
        "unit",
        ("A", "B"),
        (-0.5, -0.1),
        upright_in_full,
    )
    assert out.guess == pytest.approx(0.1 * (tan(radians(10)) / tan(radians(5)) - 1))
    assert then == "it tilts as far as is asked for"
    assert met(moved(0.05, radians(10)))
    assert not met(moved(0.05, radians(9)))
    tilted.clear()
    assert found(near(replace(LOW, tip_angle=0.0), mode("A"))).cure is not None
    assert tilted[0][0].guess is None


@pytest.mark.parametrize(
    "modes",
    [(), (mode("A", tilt=None),), (mode("A", motion=Motion(-1.0, 0.0, 0.0)),), (replace(mode("A"), motions=()),)],
    ids=["none known", "no tilt known", "straight down", "not moved"],
)
def test_where_no_way_turns_it_nothing_is_asked(
    modes: tuple[Mode, ...], tilted: list[tuple[FurtherOut, Callable[[object], bool], str]]
) -> None:
    assert found(near(LOW, *modes)).cure is None
    assert tilted == []


def test_what_holds_has_no_cure() -> None:
    told = found(near(replace(LOW, tip_angle=radians(10)), mode("A")))
    assert (told.verdict, told.cure) == (Verdict.HOLDS, None)
