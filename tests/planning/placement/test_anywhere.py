"""Places that are no points, stands that go with their part, and a search that is bounded and can be stopped."""

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.files.write_layout import with_layout
from loadplan.model.job import Job
from loadplan.model.point_in_polygon import covers_point
from loadplan.model.vehicle import Point
from loadplan.model.verdict import Verdict
from loadplan.planning.placement.free_places import MOST_PLACES, with_free_places
from loadplan.planning.placement.largest_margin import Search
from loadplan.planning.placement.layout_space import space
from loadplan.planning.placement.proposal import MOST_WORK, propose
from loadplan.report.text.placement_page import placement_dict, placement_page
from loadplan.stages import states
from loadplan.units import System
from tests.planning.jobs import scattered

DEMO = Path(__file__).parents[3] / "demo"
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
    here = with_free_places(space(outlined(scattered(3, 4))))
    assert 0 < len(here.points) <= MOST_PLACES
    for each in here.points:
        assert not each.name
        assert covers_point(SQUARE, each.at[:2])
        assert not covers_point(CORNER, each.at[:2])


def test_without_outlines_there_are_no_cells() -> None:
    here = space(scattered(3, 4))
    assert with_free_places(here) == here


def test_where_points_do_not_do_cells_do_and_each_is_a_caution_and_told() -> None:
    points = tuple(Point(f"point {number}", "unit", (0.3, 0.05 * number, 0.2), None, "") for number in range(4))
    job = outlined(scattered(3, 4), points=points)
    assert propose(space(job), 3, _silent).answer is None
    found = propose(with_free_places(space(job)), 3, _silent)
    answer = found.answer
    assert answer is not None
    assert answer.verdict is Verdict.CAUTION
    assert "find a hard place there" in " ".join(placement_page(job, found, System.METRIC).split())
    layouts = placement_dict(found)["layouts"]
    assert isinstance(layouts, list)
    assert "at_mm" in str(layouts[0])


def test_a_layout_at_cells_is_written_as_places_of_the_assembly(tmp_path: Path) -> None:
    path = DEMO / "heights-open.toml"
    job = read_job(path)
    bodies = tuple(
        replace(each, bottom=each.bottom or 0.2, outline=each.outline or SQUARE) for each in job.vehicle.bodies
    )
    here = with_free_places(space(replace(job, vehicle=replace(job.vehicle, bodies=bodies))))
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
    search = Search(space(strict(scattered(1, 12))), looked.append, 6)
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
