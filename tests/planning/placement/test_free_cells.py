"""Where the cells of a small plate lie, to the millimetre: counted by hand."""

from dataclasses import replace

import pytest

from loadplan.model.job import Job, Stage, Support
from loadplan.model.shop import Circle, Equipment, Footprint, Square
from loadplan.model.vehicle import Part, PlanPoint, Point
from loadplan.planning.placement import free_places
from loadplan.planning.placement.free_places import CELL, around, lower_assemblies, with_free_places
from loadplan.planning.placement.layout_space import Space, space
from tests.planning.jobs import STAND, scattered, with_stand
from tests.statics import builders as make

BOTTOM = 0.2


@pytest.fixture(autouse=True)
def _few_motions(monkeypatch: pytest.MonkeyPatch) -> None:
    """Count no motions where a test says nothing of them: that would take far longer than laying out the cells."""
    monkeypatch.setattr(free_places, "motion_count", lambda _: 0)


def rectangle(low_x: float, low_y: float, high_x: float, high_y: float) -> tuple[PlanPoint, ...]:
    return (low_x, low_y), (high_x, low_y), (high_x, high_y), (low_x, high_y)


PLATE = rectangle(0.0, 0.0, 0.3, 0.2)


def plate(*parts: Part, outline: tuple[PlanPoint, ...] = PLATE, saddle: Footprint | None = None) -> Job:
    """A plate of 300 x 200 with its bottom at 200, and parts on it; the first step takes off those called "off ..."."""
    made = scattered(1, 2)
    off = tuple(each.name for each in parts if each.name.startswith("off"))
    (unit,) = made.vehicle.bodies
    unit = replace(unit, outline=outline, bottom=BOTTOM)
    own = (make.part(name="whole"), *parts)
    vehicle = replace(made.vehicle, bodies=(unit,), parts=own, points=())
    made = replace(made, vehicle=vehicle, stages=(Stage("stands"), Stage("off", off=off)))
    return with_stand(made, replace(STAND, saddle=saddle))


def part(name: str, outline: tuple[PlanPoint, ...], bottom: float | None = None) -> Part:
    return replace(make.part(name=name), outline=outline, bottom=bottom)


def cells(here: Space) -> list[tuple[int, int]]:
    """Places of the cells [mm]."""
    assert all(each.body == "unit" and each.limit is None and not each.name + each.say for each in here.points)
    return [(round(1000 * each.at[0]), round(1000 * each.at[1])) for each in here.points]


def grid(job: Job, most: int, monkeypatch: pytest.MonkeyPatch) -> tuple[float, list[tuple[int, int]]]:
    """The pitch, and the cells, of a grid with so many places."""
    monkeypatch.setattr(free_places, "MOST_PLACES", (most,))
    found = with_free_places(space(job))
    return found.pitch, cells(found.space)


def test_cells_lie_from_edge_to_edge_in_equal_gaps_no_wider_than_the_pitch(monkeypatch: pytest.MonkeyPatch) -> None:
    """A saddle that nobody measured keeps a cell, 25 mm, from each edge: 250 and 150 are left, 10 and 6 gaps of it."""
    pitch, found = grid(plate(), 77, monkeypatch)
    assert pitch == CELL
    assert found == [(25 + 25 * along, 25 + 25 * across) for along in range(11) for across in range(7)]
    pitch, found = grid(plate(), 76, monkeypatch)
    assert pitch == 2 * CELL
    assert found == [(25 + 50 * along, 25 + 50 * across) for along in range(6) for across in range(4)]
    # Of 75 mm there go 4 gaps into 250, of 62.5 each, and two into 150.
    pitch, found = grid(plate(), 23, monkeypatch)
    assert pitch == 3 * CELL
    assert found == [(x, y) for x in (25, 88, 150, 212, 275) for y in (25, 100, 175)]


@pytest.mark.parametrize(
    ("saddle", "x", "y"),
    [
        (Square(0.1, 0.06), (50, 250), (50, 150)),
        (Square(0.06, 0.12), (60, 240), (60, 140)),
        (Circle(0.08), (40, 260), (40, 160)),
        (Circle(0.02), (25, 275), (25, 175)),
    ],
)
def test_half_of_the_longest_side_of_a_saddle_is_kept_from_the_edges(
    saddle: Footprint, x: tuple[int, int], y: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    _, found = grid(plate(saddle=saddle), 90, monkeypatch)
    assert (min(found), max(found)) == ((x[0], y[0]), (x[1], y[1]))


def test_where_the_largest_saddle_finds_no_room_the_smallest_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    saddles = [Square(0.26, 0.26), Square(0.1, 0.1), Square(0.08, 0.08)]
    job = plate()
    job = replace(job, shop=replace(job.shop, equipment=tuple(replace(STAND, saddle=each) for each in saddles)))
    _, found = grid(job, 90, monkeypatch)
    assert (min(found), max(found)) == ((40, 40), (260, 160))
    for kept, edge in ((saddles[1:], 50), (saddles[2:], 40)):
        pieces = tuple(replace(STAND, saddle=each) for each in (*kept, None))
        _, found = grid(replace(job, shop=replace(job.shop, equipment=pieces)), 90, monkeypatch)
        assert min(found) == (edge, edge)
    _, found = grid(plate(outline=rectangle(0.0, 0.0, 0.3, 0.04), saddle=saddles[1]), 90, monkeypatch)
    assert found == [], "too narrow for any saddle"


def test_no_cell_lies_outside_an_outline_that_is_no_rectangle(monkeypatch: pytest.MonkeyPatch) -> None:
    corner = (0.0, 0.0), (0.3, 0.0), (0.3, 0.1), (0.15, 0.1), (0.15, 0.2), (0.0, 0.2)
    _, found = grid(plate(outline=corner, saddle=Square(0.05, 0.05)), 90, monkeypatch)
    # Half of a cell, 25, is kept from the corner that goes in, too.
    assert found == [(x, y) for x in range(25, 276, 25) for y in range(25, 176, 25) if x <= 125 or y <= 75]


def test_no_saddle_lies_under_what_comes_off_whether_or_not_it_hangs_lower(monkeypatch: pytest.MonkeyPatch) -> None:
    """Over x from 140 on: a saddle of 50 has its middle up to 115, and one at the edge of it would touch."""
    right = rectangle(0.141, -0.1, 0.4, 0.3)
    for bottom in (None, 0.1, 0.3):
        _, found = grid(plate(part("off it", right, bottom), saddle=Square(0.05, 0.05)), 90, monkeypatch)
        assert sorted({x for x, _ in found}) == [25, 50, 75, 100]
    _, found = grid(plate(part("on", right), saddle=Square(0.05, 0.05)), 90, monkeypatch)
    assert sorted({x for x, _ in found}) == list(range(25, 276, 25))


@pytest.mark.parametrize(("bottom", "hangs"), [(0.15, True), (0.2, False), (0.25, False), (None, False)])
def test_under_a_part_that_hangs_lower_a_cell_lies_at_its_height_and_names_it(
    bottom: float | None,
    hangs: bool,  # noqa: FBT001 - a row
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    right = rectangle(0.14, -0.1, 0.4, 0.3)
    grid(plate(), 90, monkeypatch)
    job = plate(part("pan", right, bottom), saddle=Square(0.05, 0.05))
    found = with_free_places(space(job)).space.points
    told = {round(1000 * each.at[0]): (each.at[2], each.part) for each in found}
    assert told[100] == (BOTTOM, "")
    assert told[175] == ((bottom, "pan") if hangs else (BOTTOM, ""))
    assert (125 in told, 150 in told) == ((False, False) if hangs else (True, True)), "half under it it would tilt"


def test_of_two_parts_over_a_cell_the_lower_one_is_what_a_stand_meets() -> None:
    all_over = rectangle(-0.1, -0.1, 0.4, 0.3)
    job = plate(part("pan", all_over, 0.18), part("guard", all_over, 0.15), part("high", all_over, 0.3))
    elsewhere = replace(part("other", all_over, 0.1), body="frame")
    job = replace(job, vehicle=replace(job.vehicle, parts=(*job.vehicle.parts, elsewhere)))
    found = with_free_places(space(job)).space.points
    assert {(each.at[2], each.part) for each in found} == {(0.15, "guard")}


def test_there_are_no_cells_without_an_outline_or_a_bottom_nor_under_what_the_lift_holds() -> None:
    job = plate()
    (unit,) = job.vehicle.bodies
    for other in (replace(unit, outline=()), replace(unit, outline=PLATE[:2]), replace(unit, bottom=None)):
        found = with_free_places(space(replace(job, vehicle=replace(job.vehicle, bodies=(other,)))))
        assert (found.pitch, found.space.points) == (0.0, ())
    held = replace(job, lift=make.lift_use(PLATE, "unit", in_place=False))
    assert with_free_places(space(held)).space.points == ()


def test_cells_come_behind_the_points_of_the_file_and_fewer_where_those_are_many(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    own = tuple(Point(f"point {n}", "unit", (0.1, 0.01 * n, BOTTOM), None, "") for n in range(5))
    job = replace(plate(), vehicle=replace(plate().vehicle, points=own))
    monkeypatch.setattr(free_places, "MOST_PLACES", (20,))
    monkeypatch.setattr(free_places, "LEAST_CELLS", 12)
    found = with_free_places(space(job))
    assert found.space.points[:5] == own
    # 15 cells of 75 mm: what there may be beside five points.
    assert (found.pitch, len(found.space.points)) == (3 * CELL, 5 + 15)
    monkeypatch.setattr(free_places, "MOST_PLACES", (10,))
    found = with_free_places(space(job))
    assert (found.pitch, len(found.space.points)) == (4 * CELL, 5 + 12), "twelve there are at least"


def test_of_motions_that_are_too_many_fewer_places_are_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(free_places, "MOST_PLACES", (80, 30, 20))
    monkeypatch.setattr(free_places, "LEAST_CELLS", 12)
    counts = {77: 501, 24: 500, 15: 10, 12: 9}
    monkeypatch.setattr(free_places, "motion_count", lambda here: counts[len(here.points)])
    for most, pitch in ((501, 1), (500, 2), (499, 3), (9, 4), (8, 4)):
        monkeypatch.setattr(free_places, "MOST_MOTIONS", most)
        assert with_free_places(space(plate())).pitch == pitch * CELL


def stand(x: float, y: float, point: str = "", body: str = "unit") -> Support:
    return replace(make.support("A", (x, y, BOTTOM), body=body), point=point)


def test_finer_cells_lie_round_each_stand_the_nearest_of_all_first(monkeypatch: pytest.MonkeyPatch) -> None:
    """The places of the stands, unless they are points; then beside them in turn, then over corners; once each."""
    monkeypatch.setattr(free_places, "MOST_PLACES", (90,))
    here = space(plate())
    found = cells(around(here, [stand(0.1, 0.1), stand(0.2, 0.1, "a point"), stand(0.1, 0.1, body="other")], 0.05))
    beside = [(150, 100), (250, 100), (50, 100), (100, 150), (200, 150), (100, 50), (200, 50)]
    corners = [(150, 150), (250, 150), (150, 50), (250, 50), (50, 150), (50, 50)]
    assert found == [(100, 100), *beside, *corners]
    # None outside the plate, a cell of 25 from its edges.
    assert cells(around(here, [stand(0.05, 0.1)], 0.05)) == [
        (50, 100),
        (100, 100),
        (50, 150),
        (50, 50),
        (100, 150),
        (100, 50),
    ]


def test_finer_cells_are_as_many_as_there_may_be_places_and_those_of_the_stands_always(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    own = tuple(Point(f"point {n}", "unit", (0.1, 0.01 * n, BOTTOM), None, "") for n in range(3))
    here = replace(space(plate()), points=own)
    stands = [stand(0.1, 0.1), stand(0.2, 0.1), stand(0.15, 0.15)]
    monkeypatch.setattr(free_places, "MOST_PLACES", (11, 9, 5))
    monkeypatch.setattr(free_places, "LEAST_CELLS", 2)
    for motions, count in ((11, 8), (10, 6), (8, 3), (1, 3)):
        monkeypatch.setattr(free_places, "motion_count", lambda each, most=motions: len(each.points) - most)
        monkeypatch.setattr(free_places, "MOST_MOTIONS", 0)
        found = around(here, stands, 0.025)
        assert found.points[:3] == own
        assert len(found.points) == 3 + count
    monkeypatch.setattr(free_places, "LEAST_CELLS", 7)
    monkeypatch.setattr(free_places, "motion_count", lambda _: 0)
    monkeypatch.setattr(free_places, "MOST_PLACES", (5,))
    assert len(around(here, stands, 0.025).points) == 3 + 7


@pytest.mark.parametrize(
    ("y", "saddle", "met"),
    [
        (-0.1, None, True),
        (0.01, None, False),
        (0.04, Square(0.1, 0.1), True),
        (0.06, Square(0.1, 0.1), False),
        (0.049, Circle(0.1), True),
        (0.051, Circle(0.1), False),
    ],
)
def test_what_of_another_assembly_is_over_a_saddle_and_lower_is_told(
    y: float,
    saddle: Footprint | None,
    met: bool,  # noqa: FBT001 - a row
) -> None:
    job = scattered(3, 2, 2)
    frame, unit = rectangle(-0.5, -0.4, 0.5, 0.0), rectangle(-0.5, -0.4, 0.5, 0.4)

    def with_frame(bottom: float | None, outline: tuple[PlanPoint, ...] = frame) -> Job:
        bodies = tuple(
            replace(each, outline=unit, bottom=BOTTOM)
            if each.name == "unit"
            else replace(each, outline=outline, bottom=bottom)
            for each in job.vehicle.bodies
        )
        return replace(job, vehicle=replace(job.vehicle, bodies=bodies))

    use: Equipment = replace(STAND, saddle=saddle)
    under = replace(make.support("A", (0.0, y, BOTTOM)), equipment=use)
    assert lower_assemblies(with_frame(0.1), under) == (("frame",) if met else ())
    # Neither what is as high, nor what has no bottom or no outline, nor what the lift holds, nor what is not there.
    for other in (with_frame(BOTTOM), with_frame(None), with_frame(0.1, frame[:2])):
        assert lower_assemblies(other, under) == ()
    assert lower_assemblies(replace(with_frame(0.1), lift=make.lift_use(frame, "frame")), under) == ()
    assert lower_assemblies(replace(with_frame(0.1), bodies=("unit",)), under) == ()
