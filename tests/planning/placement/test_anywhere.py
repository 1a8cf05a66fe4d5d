"""Places that are no points, stands that go with their part, and a search that is bounded and can be stopped."""

import json
import subprocess
import sys
from dataclasses import replace
from math import inf
from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.files.write_layout import with_layout
from loadplan.model.job import Job, SetAnew, Stage, Support
from loadplan.model.point_in_polygon import covers_point
from loadplan.model.vehicle import Point
from loadplan.model.verdict import Verdict
from loadplan.planning.placement import anywhere_search
from loadplan.planning.placement.anywhere_search import propose_anywhere
from loadplan.planning.placement.common_level import reaches
from loadplan.planning.placement.falling_margin import FallingMargin
from loadplan.planning.placement.free_places import MOST_PLACES, Grid, around, with_free_places
from loadplan.planning.placement.largest_margin import Search
from loadplan.planning.placement.layout_space import space
from loadplan.planning.placement.proposal import MOST_WORK, SearchEnd, propose
from loadplan.planning.placement.search_work import SearchLimits, SearchWork
from loadplan.report.text.placement_page import placement_dict, placement_page
from loadplan.stages import states
from loadplan.units import System
from tests.kept_text import assert_kept
from tests.planning.jobs import STAND, scattered, with_stand
from tests.planning.written import record

DEMO = Path(__file__).parents[3] / "demo"
KEPT = Path(__file__).parent / "kept"
SQUARE = ((-0.5, -0.4), (0.5, -0.4), (0.5, 0.4), (-0.5, 0.4))
STOPPED_AT = 6
CORNER = ((0.2, 0.1), (0.5, 0.1), (0.5, 0.4), (0.2, 0.4))


def _silent(_margin: float) -> None:
    pass


def outlined(job: Job, *, points: tuple[Point, ...] = ()) -> Job:
    """The job on a plate of 1000 x 800, whose part 0, which comes off, is over its front left corner."""
    bodies = tuple(replace(each, outline=SQUARE, bottom=0.2) for each in job.vehicle.bodies)
    parts = tuple(
        replace(each, outline=CORNER, bottom=0.2) if each.name == "part 0" else each for each in job.vehicle.parts
    )
    return replace(job, vehicle=replace(job.vehicle, bodies=bodies, parts=parts, points=points))


def test_cells_lie_inside_the_outline_and_never_under_what_comes_off() -> None:
    here = with_free_places(space(outlined(scattered(3, 4)))).space
    assert 0 < len(here.points) <= MOST_PLACES[0]
    for each in here.points:
        assert not each.name
        assert covers_point(SQUARE, each.at[:2])
        assert not covers_point(CORNER, each.at[:2])


def test_without_outlines_there_are_no_cells() -> None:
    here = space(scattered(3, 4))
    assert with_free_places(here) == Grid(here, 0.0)


def test_where_points_do_not_do_cells_do_and_each_is_a_caution_and_told() -> None:
    points = tuple(Point(f"point {number}", "unit", (0.3, 0.05 * number, 0.2), None, "") for number in range(4))
    job = outlined(scattered(3, 4), points=points)
    assert propose(space(job), 3, _silent).answer is None
    found = propose_anywhere(space(job), 3, _silent)
    answer = found.answer
    assert answer is not None
    assert answer.verdict is Verdict.CAUTION
    assert_kept(KEPT / "layout-beside-points.txt", record(found))
    assert "find a hard place there" in " ".join(placement_page(job, found, System.METRIC).split())
    layouts = placement_dict(found)["layouts"]
    assert isinstance(layouts, list)
    assert "at_mm" in str(layouts[0])


@pytest.mark.slow
def test_a_layout_at_cells_is_written_as_places_of_the_assembly(tmp_path: Path) -> None:
    path = DEMO / "heights-open.toml"
    job = read_job(path)
    bodies = tuple(
        replace(each, bottom=each.bottom or 0.2, outline=each.outline or SQUARE) for each in job.vehicle.bodies
    )
    here = with_free_places(space(replace(job, vehicle=replace(job.vehicle, bodies=bodies)))).space
    cells = replace(here, points=tuple(each for each in here.points if not each.name))
    answer = propose(cells, 3, _silent).answer
    assert answer is not None
    target = DEMO / "written.toml"
    text = with_layout(path, target, answer.job).decode()
    written = tmp_path / "written.toml"
    written.write_text(text.replace('"../', f'"{DEMO.parent}/').replace('"shop.toml"', f'"{DEMO}/shop.toml"'))
    again = read_job(written)
    planned = {each.name: each.at for each in answer.planned}
    for each in again.supports:
        assert all(abs(one - other) < 1e-6 for one, other in zip(each.at, planned[each.name], strict=True))


def test_a_stand_under_a_part_goes_with_it() -> None:
    """The plate stands on four places of its own; a fifth is on part 0, which comes off in the second step."""
    places = (-0.45, -0.35), (0.45, -0.35), (-0.45, 0.35), (0.1, 0.35)
    own = tuple(Point(f"point {n}", "unit", (*at, 0.2), None, "") for n, at in enumerate(places))
    on_part = Point("on the part", "unit", (0.35, 0.3, 0.2), None, "", "part 0")
    here = space(outlined(scattered(3, 4), points=(*own, on_part)))
    assert here.points[-1] == on_part
    answer = propose(here, 5, _silent).answer
    assert answer is not None
    (name,) = (each.name for each in answer.planned if each.point == "on the part")
    assert answer.job.stages[0].cleared == ()
    assert answer.job.stages[1].cleared == (name,)
    assert [name in {each.name for each in state.supports} for state in states(answer.job)] == [True, False]
    # By hand: it only helps while the part is on, so the four others hold the rest, and alone hold all of it less far.
    four = propose(replace(here, points=own), 4, _silent).answer
    assert four is not None
    assert answer.margin > four.margin


def strict(job: Job) -> Job:
    """The job with points that may take next to nothing, so that every layout is judged and none will do."""
    points = tuple(replace(each, limit=50.0) for each in job.vehicle.points)
    return replace(job, vehicle=replace(job.vehicle, points=points))


@pytest.mark.slow
def test_without_a_number_the_work_is_bounded_and_told_as_not_proven() -> None:
    looked: list[float] = []
    found = propose(space(strict(scattered(1, 12))), None, looked.append)
    assert found.answer is None
    assert len(looked) <= MOST_WORK
    assert found.near
    assert all(each.says for each in found.near), "what stands but is stopped says by how much"


def test_a_search_with_little_work_left_stops_and_says_that_it_proves_nothing() -> None:
    looked: list[float] = []
    search = Search(space(strict(scattered(1, 12))), looked.append, SearchLimits(6))
    found = search.largest(4, lambda layout: not layout.against, 0.0)
    assert not found.proven
    assert len(found.layouts) == 0
    assert 1 <= len(looked) <= 40


def test_after_an_interrupt_no_other_number_is_searched() -> None:
    """Ctrl-C once ends all of it, with the best so far."""
    told: list[float] = []

    def impatient(margin: float) -> None:
        told.append(margin)
        if len(told) == STOPPED_AT:
            raise KeyboardInterrupt

    found = propose(space(scattered(1, 10)), None, impatient)
    assert len(told) == STOPPED_AT
    assert not found.proven
    assert found.answer is None or not found.others
    assert placement_page(scattered(1, 10), found, System.METRIC)


def test_a_signal_ends_the_command_with_the_best_so_far(tmp_path: Path) -> None:
    """The command as a process of its own, stopped by SIGINT in the middle of its search."""
    script = tmp_path / "run.py"
    script.write_text(
        "import atexit, os, signal, sys\n"
        "from loadplan.planning.placement import largest_margin\n"
        "from loadplan.__main__ import main\n"
        "whole = largest_margin.Search._looked_at\n"
        "seen = []\n"
        "atexit.register(lambda: print('looked at', len(seen), file=sys.stderr))\n"
        "def looked_at(self, members, job):\n"
        "    layout = whole(self, members, job)\n"
        "    seen.append(layout)\n"
        "    if len(seen) == 2:\n"
        "        os.kill(os.getpid(), signal.SIGINT)\n"
        "    return layout\n"
        "largest_margin.Search._looked_at = looked_at\n"
        "sys.argv = ['loadplan', 'place', sys.argv[1], '--json']\n"
        "main()\n"
    )
    job = str(DEMO / "heights-open.toml")
    done = subprocess.run([sys.executable, str(script), job], capture_output=True, text=True, check=False)
    told = json.loads(done.stdout)
    assert done.returncode == 0, done.stderr
    assert told["layouts"]
    # The one that was being looked at when the signal came may be ended; nothing is begun after it.
    assert done.stderr.endswith(("looked at 2\n", "looked at 3\n")), "the search ended with it"
    assert "Traceback" not in done.stderr


def test_finer_cells_lie_round_the_stands_and_theirs_are_among_them() -> None:
    job = outlined(scattered(3, 4))
    coarse = with_free_places(space(job))
    answer = propose(coarse.space, 3, _silent).answer
    assert answer is not None
    fine = around(space(job), answer.planned, 0.05)
    places = [each.at[:2] for each in fine.points]
    for stand in answer.planned:
        assert any(each == pytest.approx(stand.at[:2]) for each in places)
    nearest = [min(max(abs(x - s.at[0]), abs(y - s.at[1])) for s in answer.planned) for x, y in places]
    assert max(nearest) == pytest.approx(0.05)


@pytest.mark.slow
def test_finer_cells_leave_more_margin_than_the_coarse_ones_alone() -> None:
    job = outlined(scattered(3, 4))
    coarse = propose(with_free_places(space(job)).space, 4, _silent).answer
    found = propose_anywhere(space(job), 4, _silent)
    assert coarse is not None
    assert found.answer is not None
    assert found.cells is not None
    assert found.cells.finest < found.cells.coarse
    assert found.answer.margin > coarse.margin
    assert not found.proven, "of all cells nothing is claimed"


def test_out_of_its_budget_the_search_says_that_something_better_may_exist(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(anywhere_search, "COARSE_WORK", 12.0)
    monkeypatch.setattr(anywhere_search, "FINE_WORK", 4.0)
    job = outlined(scattered(3, 4))
    looked: list[float] = []
    found = propose_anywhere(space(job), None, looked.append)
    assert found.ended is SearchEnd.BUDGET
    assert found.answer is not None
    assert not found.proven
    assert_kept(KEPT / "layout-anywhere.txt", f"told {len(looked)} times\n{record(found)}")
    page = " ".join(placement_page(job, found, System.METRIC).split())
    assert "stopped at its budget: the plan below is what was found so far" in page
    assert "does not say that nothing better exists" in page
    assert placement_dict(found)["ended_by"] == "budget"


def test_where_the_budget_ends_it_before_anything_fits_no_impossibility_is_claimed() -> None:
    job = strict(scattered(1, 12))
    search = Search(space(job), _silent, SearchLimits(6))
    assert not search.largest(4, lambda layout: not layout.against, 0.0).layouts
    assert search.ran_out
    found = replace(propose(space(scattered(2, 8)), 8, _silent), ended=SearchEnd.BUDGET)
    page = " ".join(placement_page(job, found, System.METRIC).split())
    assert "it does not say that there is none" in page
    assert "No layout fits." not in page


def test_a_clock_ends_a_bounded_search_whatever_work_is_left() -> None:
    ticks = iter(range(1000))
    search = Search(space(strict(scattered(1, 12))), _silent, SearchLimits(1e6, until=3, clock=lambda: next(ticks)))
    assert not search.largest(4, lambda layout: not layout.against, 0.0).proven
    assert search.ran_out


@pytest.mark.parametrize("when", [1, 12, 40])
def test_an_interrupt_gives_the_best_so_far_of_places_anywhere(when: int) -> None:
    told: list[float] = []

    def impatient(margin: float) -> None:
        told.append(margin)
        if len(told) == when:
            raise KeyboardInterrupt

    job = outlined(scattered(3, 4))
    found = propose_anywhere(space(job), None, impatient)
    assert found.ended is SearchEnd.INTERRUPT
    assert len(told) == when, "nothing is begun after it"
    assert found.answer is not None or when < 40, "by then something was judged"
    assert placement_page(job, found, System.METRIC)


def test_where_no_point_does_the_page_tells_of_places_anywhere_if_there_are_outlines() -> None:
    for job, told in (
        (scattered(2, 8), False),
        (outlined(scattered(2, 8), points=scattered(2, 8).vehicle.points), True),
    ):
        weak = with_stand(job, replace(STAND, rating=900.0))
        found = propose(space(weak), 3, _silent)
        assert found.answer is None
        assert ("--anywhere" in placement_page(weak, found, System.METRIC)) is told


def test_without_any_outline_anywhere_says_that_there_was_nothing_to_try() -> None:
    job = scattered(2, 8)
    found = propose_anywhere(space(job), 4, _silent)
    assert_kept(KEPT / "layout-without-outlines.txt", record(found))
    page = placement_page(job, found, System.METRIC)
    assert "No places besides the points could be tried" in page


def test_layouts_come_by_falling_margin_each_once() -> None:
    here = space(scattered(5, 8, 2))
    work = SearchWork(SearchLimits(), inf)
    rows = list(FallingMargin(here, reaches(here), _silent).layouts(5, 0.0, work))
    assert rows
    assert len({each.members for each in rows}) == len(rows)
    assert [each.margin for each in rows] == sorted((each.margin for each in rows), reverse=True)


def test_a_stand_goes_with_the_whole_assembly_that_it_is_under() -> None:
    """All parts of the frame come off in the second step: the stands under it cannot stay."""
    job = scattered(3, 8, 2)
    # Two rings of four, so that no base stands in another: the odd ones are under the frame.
    corners = ((1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0))
    points = tuple(
        replace(each, at=(corners[number // 2][0] * (0.5, 0.8)[number % 2], corners[number // 2][1] * 0.5, 0.2))
        for number, each in enumerate(job.vehicle.points)
    )
    frame = tuple(each.name for each in job.vehicle.parts if each.body == "frame")
    stages = (Stage("stand"), Stage("frame taken away", off=frame), Stage("the unit alone"))
    here = space(replace(job, vehicle=replace(job.vehicle, points=points, joints=()), stages=stages))
    answer = propose(here, 8, _silent).answer
    assert answer is not None
    under_frame = tuple(each.name for each in answer.planned if each.body == "frame")
    assert len(under_frame) == 4
    assert [each.cleared for each in answer.job.stages] == [(), under_frame, ()]
    from_then_on = space(replace(here.job, stages=(Stage("frame is gone", off=frame), Stage("the unit alone"))))
    assert {each.body for each in from_then_on.points} == {"unit"}


def test_the_page_says_which_heights_went_with_the_stands_that_were_put_aside() -> None:
    job = scattered(1, 6)
    old = Support("A", STAND, "", "unit", (0.3, 0.2, 0.2), height=0.35)
    stages = (replace(job.stages[0], in_place=("A",)), replace(job.stages[1], set_anew=(SetAnew("A", 0.36),)))
    set_once = replace(job, supports=(old,), stages=stages)
    told = 'The heights set anew in the step "one part off" went with the stands that they were for: plan them again.'
    for each, expected in ((set_once, True), (replace(set_once, stages=(stages[0], job.stages[1])), False)):
        found = propose(space(each), 4, _silent)
        assert found.answer is not None
        assert (told in " ".join(placement_page(each, found, System.METRIC).split())) is expected
