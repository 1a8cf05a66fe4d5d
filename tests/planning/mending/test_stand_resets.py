"""A stand that is planned already, set otherwise: what is thought of, what it makes of the plan, and what is told."""

from dataclasses import replace

import pytest

from loadplan.model.job import Job, Stack, Support
from loadplan.model.shop import EquipmentKind, Heights
from loadplan.model.vehicle import Point
from loadplan.planning.mending.plan_change import ChangeKind, MadeChange, PlanChange
from loadplan.planning.mending.stand_resets import (
    equipment_changes,
    free_tags,
    height_changes,
    level,
    out_of_stock,
    piece_changes,
    place_changes,
    reaches,
)
from tests.checks.builders import words
from tests.planning.mending.plans import JACK, RATCHET, SCREW, plan, stand
from tests.statics.builders import lift_use

HOIST = replace(JACK, name="hoist", kind=EquipmentKind.HOIST)
CELL = (0.25, -0.1, 0.2)
STEEL = Stack(0.012, "steel", crib=False)


def with_a(job: Job | None = None, **more: object) -> Job:
    """The plan with A otherwise; the shop has ratchet stands and screw stands."""
    made = job or plan()
    changed = tuple(
        replace(each, **more) if each.name == "A" else each  # type: ignore[arg-type]
        for each in made.supports
    )
    return replace(made, supports=changed)


def a_of(job: Job) -> Support:
    return next(each for each in job.supports if each.name == "A")


def makes(change: PlanChange, job: Job) -> MadeChange:
    made = change.make(job)
    assert made is not None
    assert made.support == "A"
    return made


# ---- another height -------------------------------------------------------------------------------------


def heights(job: Job) -> list[tuple[float | None, str]]:
    """Height and shim of A after each change, with what is told."""
    found = []
    for each in height_changes(job, a_of(job)):
        assert (each.kind, each.about, each.at_cell) == (ChangeKind.HEIGHT, "A", False)
        made = makes(each, job)
        height = a_of(made.job).height
        found.append((None if height is None else round(height, 4), words(made.says)))
    return found


def test_a_stand_is_set_to_what_lies_within_25_mm_of_where_it_is_or_the_others_say() -> None:
    """A is set to 290 mm, the others to 330 mm: from 265 to 355 mm in settings of 20 mm with 0, 6 or 12 mm on it."""
    low = with_a(height=0.29)
    assert sorted({height for height, _ in heights(low) if height is not None}) == [0.29, 0.31, 0.33, 0.35]
    assert (0.31, "Set A to 0.31 m with no shim.") in heights(low)
    assert (0.29, "Leave A at 0.29 m with a shim of 0.006 m steel.") in heights(low)
    assert not any(height is None for height, _ in heights(low))


def test_what_turns_may_be_left_to_be_brought_up_to_touch() -> None:
    job = with_a(equipment=SCREW, shim=STEEL)
    assert (None, "Leave A to be brought up to just touch.") in heights(job)
    (touching,) = [each for each in height_changes(job, a_of(job)) if a_of(makes(each, job).job).height is None]
    assert a_of(makes(touching, job).job).shim is None
    # Not one saddle of several.
    one = with_a(equipment=SCREW, piece="table")
    assert all(height is not None for height, _ in heights(one))


def test_what_lies_there_already_stays_if_it_is_alike() -> None:
    """12 mm of oak are told as they are where 12 mm of steel would do."""
    oak = Stack(0.01205, "oak", crib=True)
    job = with_a(shim=oak)
    shims = {a_of(makes(each, job).job).shim for each in height_changes(job, a_of(job))}
    assert oak in shims
    assert STEEL not in shims
    assert Stack(0.006, "steel", crib=False) in shims
    assert None in shims


def test_the_other_saddles_of_its_piece_go_up_and_down_with_it() -> None:
    tops = tuple(replace(each, piece="table") if each.name in "AB" else each for each in plan().supports)
    tops = (*tops[:2], replace(tops[2], piece="table", height=None), tops[3])
    job = replace(plan(), supports=tops)
    up = next(each for each in height_changes(job, tops[0]) if "0.35 m with no" in words(makes(each, job).says))
    assert [each.height for each in makes(up, job).job.supports] == pytest.approx([0.35, 0.35, None, 0.33])
    # Those that go along end at a whole thousandth of a millimetre, as what is written in a job.
    third = replace(job, supports=(tops[0], replace(tops[1], height=0.0254 * 40 / 3), *job.supports[2:]))
    up = next(each for each in height_changes(third, tops[0]) if "0.35 m with no" in words(makes(each, third).says))
    assert makes(up, third).job.supports[1].height == 0.358667


@pytest.mark.parametrize("more", [{"height": None}, {"equipment": HOIST}, {"standby": True}])
def test_what_is_brought_up_to_touch_or_hangs_has_no_other_height(more: dict[str, object]) -> None:
    assert heights(with_a(**more)) == []


# ---- other equipment, and other pieces ------------------------------------------------------------------


def others(job: Job) -> list[tuple[str, str, float | None, str]]:
    found = []
    for each in equipment_changes(job, a_of(job)):
        assert (each.kind, each.about, each.at_cell) == (ChangeKind.EQUIPMENT, "A", False)
        made = makes(each, job)
        a = a_of(made.job)
        found.append((a.equipment.name, a.tag, None if a.height is None else round(a.height, 4), words(made.says)))
    return found


def test_other_equipment_is_set_where_the_stand_is_and_where_the_others_say() -> None:
    told = "Use screw stand N1 for A under front left instead of ratchet stand S1, set to {} m with no shim."
    assert others(plan()) == [("screw stand", "N1", 0.33, told.format("0.33"))]
    assert others(with_a(height=0.31)) == [
        ("screw stand", "N1", 0.31, told.format("0.31")),
        ("screw stand", "N1", 0.33, told.format("0.33")),
    ]
    touching = with_a(height=None, point="", friction=0.5)
    says = "Use screw stand N1 for A instead of ratchet stand S1, brought up to just touch."
    assert others(touching) == [("screw stand", "N1", None, says)]
    (change,) = equipment_changes(touching, a_of(touching))
    assert a_of(makes(change, touching).job).friction is None


def test_only_what_is_in_stock_reaches_and_is_set_by_hand_comes_instead() -> None:
    low = replace(SCREW, name="low", heights=Heights(0.1, 0.2, ()))
    gone = replace(SCREW, name="gone", count=1, out_of_use=("N1",))
    bare = replace(SCREW, name="bare", tags=())
    job = replace(plan(), shop=replace(plan().shop, equipment=(RATCHET, HOIST, low, gone, JACK, bare)))
    assert [each[:2] for each in others(job)] == [("jack", "J1"), ("bare", "")]
    # Where no piece is named none is.
    assert [each[:2] for each in others(with_a(job, tag=""))] == [("jack", ""), ("bare", "")]
    for more in ({"piece": "table"}, {"equipment": HOIST}):
        assert others(with_a(job, **more)) == []


def test_a_change_that_no_longer_reaches_is_not_made() -> None:
    job = with_a(height=0.31)
    first, second = equipment_changes(job, a_of(job))
    higher = with_a(at=(0.5, 0.35, 0.6))
    assert first.make(higher) is None
    assert second.make(higher) is None


def test_other_pieces_of_its_kind_are_named() -> None:
    """S1 to S4 stand, S7 is out of use."""
    job = plan()
    assert free_tags(job, RATCHET) == ("S5", "S6")
    found = [makes(each, job) for each in piece_changes(job, a_of(job))]
    assert [a_of(each.job).tag for each in found] == ["S5", "S6"]
    assert words(found[0].says) == (
        "Use ratchet stand S5 for A under front left instead of ratchet stand S1, set to 0.33 m with no shim."
    )
    assert all(each.kind is ChangeKind.EQUIPMENT for each in piece_changes(job, a_of(job)))
    for more in ({"tag": ""}, {"piece": "table"}):
        assert list(piece_changes(with_a(**more), a_of(with_a(**more)))) == []


def test_a_kind_is_out_of_stock_where_none_may_be_used() -> None:
    assert out_of_stock(replace(SCREW, count=2, out_of_use=("N1", "N2")))
    assert not out_of_stock(replace(SCREW, count=2, out_of_use=("N1",)))
    assert not out_of_stock(replace(SCREW, count=None))


@pytest.mark.parametrize(
    ("total", "does"), [(0.624, True), (0.625, True), (0.626, True), (0.6369, True), (0.6375, False)]
)
def test_what_comes_within_25_mm_with_a_shim_reaches(total: float, *, does: bool) -> None:
    """A screw stand ends at 600 mm; 12 mm lie on it at most."""
    assert reaches(plan(), SCREW, total) is does


# ---- another place --------------------------------------------------------------------------------------


def test_each_other_point_of_its_body_and_each_cell_is_a_place() -> None:
    job = plan()
    found = list(place_changes(job, a_of(job), (CELL,)))
    assert {(each.kind, each.about) for each in found} == {(ChangeKind.PLACE, "A")}
    points = [a_of(makes(each, job).job).point for each in found]
    assert points == [each.name for each in job.vehicle.points if each.name != "front left"] + [""]
    assert [each.at_cell for each in found] == [False] * (len(found) - 1) + [True]
    moved, cell = makes(found[0], job), makes(found[-1], job)
    assert words(moved.says) == "Set A under front right instead of front left, set to 0.33 m with no shim."
    assert (a_of(moved.job).at, a_of(moved.job).height) == ((0.5, -0.35, 0.2), pytest.approx(0.33))
    assert words(cell.says) == (
        "Set A elsewhere under the unit, 0.25 m in front of the axle line and 0.1 m right of the centre line, "
        "brought up to just touch: find a hard place there, only where the maker gives a bearing place."
    )
    assert (a_of(cell.job).at, a_of(cell.job).height, a_of(cell.job).limit) == (CELL, None, None)


def test_under_a_higher_point_it_is_set_higher_and_what_touches_goes_on_touching() -> None:
    high = Point("high", "unit", (0.0, 0.0, 0.26), None, "")
    job = replace(plan(), vehicle=replace(plan().vehicle, points=(high,)))
    (change,) = place_changes(job, a_of(job), ())
    assert a_of(makes(change, job).job).height == pytest.approx(0.39)
    touching = with_a(job, height=None, point="")
    (change,) = place_changes(touching, a_of(touching), ())
    assert words(makes(change, touching).says) == "Set A under high instead of where it is, brought up to just touch."


def test_a_stand_that_is_brought_up_to_touch_elsewhere_leaves_its_shim_behind() -> None:
    job = with_a(equipment=SCREW, shim=STEEL)
    (cell,) = [each for each in place_changes(job, a_of(job), (CELL,)) if each.at_cell]
    assert (a_of(makes(cell, job).job).height, a_of(makes(cell, job).job).shim) == (None, None)


def test_a_pad_of_the_lift_takes_its_point_and_another_body_has_its_own() -> None:
    use = lift_use([(0.6, 0.4)])
    arms = tuple(replace(each, point="middle left") for each in use.arms)
    job = plan()
    points = tuple(replace(each, body="hub") if each.name == "middle right" else each for each in job.vehicle.points)
    held = replace(job, lift=replace(use, arms=arms), vehicle=replace(job.vehicle, points=points))
    names = [a_of(makes(each, held).job).point for each in place_changes(held, a_of(held), ())]
    assert "middle left" not in names
    assert "middle right" not in names
    assert "rear left" in names


@pytest.mark.parametrize("more", [{"keep": True}, {"on": "hub"}, {"piece": "table"}])
def test_what_is_kept_stands_on_a_body_or_is_one_of_several_stays(more: dict[str, object]) -> None:
    job = with_a(**more)
    assert list(place_changes(job, a_of(job), (CELL,))) == []


def test_the_level_is_the_height_over_the_place_with_what_lies_on_the_saddle() -> None:
    assert level(stand("A", "front left")) == pytest.approx(0.13)
    assert level(replace(stand("A", "front left"), shim=STEEL)) == pytest.approx(0.142)
    assert level(replace(stand("A", "front left"), height=None)) is None
