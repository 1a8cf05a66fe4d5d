"""A stand that goes with a part: where it would have to be planned so that the step holds, solved. Made-up jobs."""

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.checks import other_place_cure as solved
from loadplan.checks.case import Case
from loadplan.checks.other_place_cure import TRIED, other_place_cure
from loadplan.model.job import Job, State, Support
from loadplan.model.plan_cure import StandUnder
from loadplan.model.vehicle import Point
from loadplan.model.verdict import FoundCure, Verdict
from tests.checks.builders import body_answer, case, lifted, support, with_body, words
from tests.checks.small_jobs import STAND, Raw, judged, part, said, the

CORNERS = {"A": [400, 400, 200], "B": [400, -400, 200], "C": [-400, 400, 200]}
SQUARE = [{"name": "unit", "outline": [[900, 900], [900, -900], [-900, -900], [-900, 900]]}]


def losing(under: str, *free: tuple[str, list[float]]) -> Raw:
    """Three stands in the corners and D under the pump at the fourth; the pump comes off, and what is left tips."""
    points = {"pump": [-420, -380, 200]} | dict(free)
    return {
        "body": SQUARE,
        "part": [part("block", "unit", 400, [-60, -60, 500]), part("pump", "unit", 5, [-420, -380, 250])],
        "point": [
            {"name": name, "body": "unit", "at": at} | ({"part": "pump"} if name == "pump" else {})
            for name, at in points.items()
        ],
        "equipment": [STAND | {"base": 200}],
        "limits": {"tip_angle": 1},
        "support": [
            *({"name": name, "use": "stand", "body": "unit", "at": at} for name, at in CORNERS.items()),
            {"name": "D", "use": "stand", "under": under},
        ],
        "stage": [{"name": "on stands", "in_place": list("ABCD")}, {"name": "pump off", "off": ["pump"]}],
    }


def told(raw: Raw, folder: Path) -> str:
    finding = the(judged(raw, folder).stages[1], "bearing", "D")
    assert finding.verdict is Verdict.STOP
    return said(finding)


@pytest.mark.parametrize("more", [{}, {"say": "at the seam"}, {"part": "block"}], ids=["plain", "said", "on a part"])
def test_the_plan_is_changed_to_a_stand_under_that_point(more: Raw, tmp_path: Path) -> None:
    """Stands whose base nobody knows are in nobody's way."""
    raw = losing("pump", ("rail", [-400, -200, 200]), ("bracket", [-500, -500, 200]))
    raw["equipment"] = [{key: value for key, value in STAND.items() if key != "base"}]
    raw["point"][2] |= more
    finding = the(judged(raw, tmp_path).stages[1], "bearing", "D")
    assert finding.cure is not None
    assert finding.cure.found.cures == (StandUnder("D", "bracket"),)
    which = "bracket (at the seam)" if "say" in more else "bracket"
    assert f" Planned under {which} from the beginning, D stays," in said(finding)


def test_the_point_that_leaves_most_margin_is_told_and_holds(tmp_path: Path) -> None:
    free = [("rail", [-400, -200, 200]), ("bracket", [-500, -500, 200]), ("beside A", [420, 400, 200])]
    says = told(losing("pump", *free), tmp_path)
    found = re.search(
        r" Planned under bracket from the beginning, D stays, and nothing comes nearer than (\d+) mm", says
    )
    assert found, says
    after = judged(losing("bracket", *free), tmp_path).stages[1]
    assert the(after, "bearing", "D").verdict is Verdict.HOLDS
    margin = after.statics.bodies[0].worst_margin
    assert margin == pytest.approx(int(found[1]) / 1e3, abs=1e-3)


@pytest.mark.parametrize("place", [[380, -390, 200], [-80, 390, 200]], ids=["in the way", "no help"])
def test_a_point_that_is_taken_or_does_not_help_is_not_told(place: list[float], tmp_path: Path) -> None:
    assert "Planned under" not in told(losing("pump", ("spot", place)), tmp_path)


def test_where_the_step_holds_without_it_no_place_is_told(tmp_path: Path) -> None:
    raw = losing("pump", ("bracket", [-500, -500, 200]))
    raw["part"][0]["at"] = [200, 200, 500]
    assert "Planned under" not in told(raw, tmp_path)


def test_a_place_that_leaves_less_margin_than_the_job_wants_is_not_told(tmp_path: Path) -> None:
    raw = losing("pump", ("bracket", [-500, -500, 200]))
    raw["limits"] |= {"margin": 400}
    assert "Planned under" not in told(raw, tmp_path)


# ---- margins that are written down ------------------------------------------------------------------------


def point(name: str, at: tuple[float, float] = (0.3, 0.3), **more: str) -> Point:
    made = Point(name, "unit", (*at, 0.25), 900.0, "")
    return replace(made, **more)  # type: ignore[arg-type]


def going(*points: Point, stand: Support | None = None, made: Case | None = None) -> tuple[Case, Support]:
    """D goes with its part, and A stays at the origin; the points are those that the vehicle has."""
    own = stand or replace(support("D", at=(-0.4, -0.4)), part="pump")
    judged = made or case(support("A"), own)
    vehicle = replace(judged.job.vehicle, points=points)
    state = replace(judged.state, supports=(support("A"), own))
    return replace(judged, job=replace(judged.job, vehicle=vehicle), state=state), own


@pytest.fixture
def cure(monkeypatch: pytest.MonkeyPatch) -> Callable[..., FoundCure]:
    """The cure where the margins are those, by the name of the point that D is under; "" is the step without it."""

    def found(asked: tuple[Case, Support], **margins: float | None) -> FoundCure:
        made, stand = asked

        def least(job: Job, state: State, gaps: dict[str, float], body: str) -> float | None:
            assert (job, body, gaps["A"], gaps["D"]) == (made.job, stand.body, 0.0, 0.0)
            there = [each for each in state.supports if each.name == "D"]
            assert [each.name for each in state.supports if each.name != "D"] == ["A"]
            assert all(each.height is None for each in there)
            return margins[there[0].point.replace(" ", "_") if there else "bare"]

        monkeypatch.setattr(solved, "least_worst_margin", least)
        return other_place_cure(made, stand).found

    return found


def test_the_point_with_the_largest_margin_is_told_from_the_margin_asked_for_on(
    cure: Callable[..., FoundCure],
) -> None:
    """The job asks for 50 mm."""
    told_ = cure(going(point("one"), point("two", say="at the seam")), bare=None, one=0.05, two=0.06)
    assert words(told_.says) == (
        " Planned under two (at the seam) from the beginning, D stays, "
        "and nothing comes nearer than 0.06 m to tipping in this step."
    )
    assert told_.cures == (StandUnder("D", "two"),)
    same = cure(going(point("one"), point("two")), bare=-0.1, one=0.05, two=0.05)
    assert words(same.says).startswith(" Planned under one from the beginning, D stays,")
    assert cure(going(point("one"), point("two")), bare=None, one=0.0499, two=None) == FoundCure()
    assert cure(going(), bare=None) == FoundCure()


def test_where_it_holds_without_the_stand_nothing_is_told(cure: Callable[..., FoundCure]) -> None:
    assert cure(going(point("one")), bare=0.05, one=0.2) == FoundCure()
    assert cure(going(point("one")), bare=0.0499, one=0.2) != FoundCure()


@pytest.mark.parametrize("more", [{"piece": "table"}, {"on": "shell"}])
def test_one_saddle_of_several_and_what_stands_on_an_assembly_are_not_planned_elsewhere(
    more: dict[str, str], cure: Callable[..., FoundCure]
) -> None:
    own = replace(support("D", at=(-0.4, -0.4)), **more)  # type: ignore[arg-type]
    assert cure(going(point("one"), stand=own), bare=None, one=0.2) == FoundCure()


def test_twelve_points_are_tried(cure: Callable[..., FoundCure]) -> None:
    points = [point(f"p{number}") for number in range(13)]
    margins = {each.name: 0.1 + number / 100 for number, each in enumerate(points)}
    assert TRIED == 12
    assert cure(going(*points), bare=None, **margins).cures == (StandUnder("D", "p11"),)


def test_points_of_the_rigid_whole_that_stay_and_are_free_are_tried(cure: Callable[..., FoundCure]) -> None:
    """The lump is on, the pump is off; A has a base of 200 mm at the origin, and so has D."""
    points = (
        point("gone", part="pump"),
        point("on shell", body="shell"),
        point("stays", part="lump"),
        point("on A", (0.0, 0.0)),
        point("beside A", (0.19, 0.0)),
        point("clear of A", (0.2, 0.0)),
    )
    none = {each.name.replace(" ", "_"): None for each in points}
    # D's own place is free.
    own = point("own", (-0.4, -0.4))
    allowed = {"stays": 0.1, "clear_of_A": 0.2, "own": 0.05}
    for name, margin in allowed.items():
        only = {**dict.fromkeys(allowed), name: margin}
        assert cure(going(*points, own), bare=None, **only).cures == (StandUnder("D", name.replace("_", " ")),)
    for name in ("gone", "on_shell", "on_A", "beside_A"):
        assert cure(going(*points), bare=None, **(none | {name: 0.2})) == FoundCure(), name
    tied = with_body(lifted(support("A")), replace(body_answer("unit"), rigid_with=("shell",)))
    gaps = (*tied.statics.supports, replace(tied.statics.supports[0], name="D"))
    tied = replace(tied, statics=replace(tied.statics, supports=gaps))
    whole = cure(going(*points, made=tied), bare=None, **(none | {"on_shell": 0.2}))
    assert whole.cures == (StandUnder("D", "on shell"),)


def test_a_base_that_is_not_known_is_only_in_the_way_at_the_very_place(cure: Callable[..., FoundCure]) -> None:
    bare = replace(support("D").equipment, base=None)
    own = replace(support("D", bare, at=(-0.4, -0.4)), part="pump")
    asked = going(point("on A", (0.0, 0.0)), point("beside A", (0.19, 0.0)), stand=own)
    assert cure(asked, bare=None, beside_A=0.1, on_A=0.2).cures == (StandUnder("D", "beside A"),)
