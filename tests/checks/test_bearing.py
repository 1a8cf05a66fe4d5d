"""Bearing: what stands under air, or under a part that is off, is a stop and is told what to do instead."""

from dataclasses import replace

import pytest

from loadplan.checks import bearing
from loadplan.model.job import Support
from loadplan.model.shop import Circle, EquipmentKind, Footprint, Square
from loadplan.model.vehicle import Point
from loadplan.model.verdict import CheckName, Finding, FoundCure, Measure, SolvedCure, Verdict
from tests.checks.builders import (
    ARMS,
    STAND,
    UNIT,
    about,
    arm,
    case,
    findings,
    lifted,
    load,
    not_checked,
    part,
    support,
    words,
)

HOIST = replace(STAND, name="hoist", kind=EquipmentKind.HOIST)


def on_pump(each: Support) -> Support:
    return replace(each, part="pump")


@pytest.mark.parametrize(("x", "verdict"), [(0.5, Verdict.HOLDS), (0.50001, Verdict.STOP), (-0.6, Verdict.STOP)])
def test_the_middle_of_a_saddle_has_to_be_under_the_outline(x: float, verdict: Verdict) -> None:
    """The unit's outline goes from −0.5 to 0.5 m; its edge is under it."""
    told = about(bearing.check(case(support("A", STAND, (x, 0.0)))), "A")
    assert told.verdict is verdict
    if verdict is Verdict.STOP:
        assert told.value == pytest.approx(abs(x) - 0.5)


def test_a_stand_beside_its_body_is_told_how_far_and_what_to_do() -> None:
    hung = lifted(support("A", STAND, (0.53, 0.0)))
    assert words(about(bearing.check(hung), "A").says) == (
        "Nothing is above A: the middle of its saddle is 0.03 m outside the outline of the unit, so it carries "
        "nothing. Before unbolting: move A under the unit."
    )
    free = case(support("A", STAND, (0.53, 0.0)))
    assert words(about(bearing.check(free), "A").says).endswith("Do not touch A. Take the weight back first.")


def test_a_stand_whose_part_is_off_is_a_stop_wherever_it_is() -> None:
    told = about(bearing.check(lifted(on_pump(support("A")))), "A")
    assert told.verdict is Verdict.STOP
    assert words(told.says) == (
        "Nothing is above A: the pump, on which place A is, is off, so it carries nothing. "
        "Before unbolting: plan A under a place that stays, or clear it with the pump."
    )


def test_under_what_is_free_no_stand_is_touched_for_a_part_that_is_off() -> None:
    free = words(about(bearing.check(lifted(on_pump(support("A")), hung=False)), "A").says)
    assert free.endswith("is off, so it carries nothing. Do not touch the stands. Take the weight back first.")


def test_a_part_that_is_on_bears() -> None:
    told = about(bearing.check(case(replace(support("A"), part="lump"))), "A")
    assert (told.verdict, words(told.says)) == (Verdict.HOLDS, "A has the unit above it.")


def test_hoists_and_arms_are_judged_by_their_part_alone() -> None:
    """Neither has an outline: a hoist hangs over its body, a pad of the lift is set by hand."""
    hoist = replace(support("H", HOIST, (0.9, 0.0)), outline=())
    judged = lifted(on_pump(hoist))
    told = bearing.check(replace(judged, state=replace(judged.state, supports=(on_pump(hoist), on_pump(ARMS[0])))))
    assert [each.verdict for each in findings(told)] == [Verdict.STOP, Verdict.STOP]
    assert words(about(told, "H").says).startswith("Nothing hangs from H")
    assert words(about(told, "pad 1").says).endswith("on a place that stays when the pump comes off.")
    assert bearing.check(case(hoist)) == []


def test_a_part_with_an_outline_is_named_as_what_is_above() -> None:
    judged = case(replace(support("A"), part="lump"))
    shaped = replace(part("lump"), outline=UNIT.outline)
    vehicle = replace(judged.job.vehicle, parts=(shaped,))
    told = about(bearing.check(replace(judged, job=replace(judged.job, vehicle=vehicle))), "A")
    assert words(told.says) == "A has the lump above it."


def test_without_an_outline_it_is_not_checked() -> None:
    told = bearing.check(case(replace(support("A"), outline=()), replace(support("B"), outline=())))
    assert findings(told) == []
    assert set(not_checked(told)) == {
        "Whether stands have something of the unit above them: not checked, the vehicle file gives no outline."
    }


def on_the_shell(x: float, kind: EquipmentKind = EquipmentKind.STAND) -> Support:
    """A support of the unit that stands on, or hangs from, the shell, whose outline ends at x = 1 m."""
    return replace(support("A", replace(STAND, kind=kind), (x, 0.0)), on="shell", outline=())


@pytest.mark.parametrize(("x", "stops"), [(0.9, False), (1.0, False), (1.3, True)])
def test_what_stands_on_an_assembly_has_to_have_it_under_its_base(x: float, stops: bool) -> None:  # noqa: FBT001
    told = findings(bearing.check(lifted(on_the_shell(x))))
    assert [each.verdict for each in told] == ([Verdict.STOP] if stops else [])
    if stops:
        assert told[0].value == pytest.approx(0.3)
        assert words(told[0].says) == (
            "A stands on nothing: the middle of its base is 0.3 m outside the outline of the shell, so it carries "
            "nothing. Before unbolting: move A in over the shell."
        )


def test_what_hangs_from_an_assembly_may_hang_beside_it() -> None:
    """A beam across the wings reaches out."""
    assert bearing.check(lifted(on_the_shell(1.3, EquipmentKind.HOIST))) == []


def test_without_an_outline_it_is_told_that_what_a_stand_stands_on_is_not_checked() -> None:
    judged = lifted(on_the_shell(1.3))
    bodies = tuple(replace(each, outline=()) for each in judged.job.vehicle.bodies)
    judged = replace(judged, job=replace(judged.job, vehicle=replace(judged.job.vehicle, bodies=bodies)))
    assert (
        "Whether stands on the shell have something of it under them: not checked, the vehicle file gives no outline."
        in not_checked(bearing.check(judged))
    )


@pytest.mark.parametrize("base", [Square(0.5, 0.3), Circle(0.5)])
@pytest.mark.parametrize(("ahead", "verdict"), [(0.19, None), (0.22, Verdict.CAUTION), (0.27, Verdict.STOP)])
def test_a_table_keeps_the_middle_of_its_load_over_its_base(
    base: Footprint, ahead: float, verdict: Verdict | None
) -> None:
    """Its base reaches 250 mm ahead, its corners 300 mm; by moments the two ahead carry (300 + a) / 600 of it."""
    table = replace(STAND, kind=EquipmentKind.TABLE, base=base)
    places = {"A": (0.3, 0.3), "B": (0.3, -0.3), "C": (-0.3, -0.3), "D": (-0.3, 0.3)}
    corners = [replace(support(name, table, at), piece="table") for name, at in places.items()]
    loads = {name: load(1000.0 * (0.3 + (ahead if x > 0 else -ahead))) for name, (x, _) in places.items()}
    told = [each for each in findings(bearing.check(case(*corners, loads=loads))) if each.subject == "table"]
    assert [each.verdict for each in told] == ([] if verdict is None else [verdict])
    if verdict is not None:
        assert told[0].value == pytest.approx(abs(0.25 - ahead))
        over = verdict is Verdict.STOP
        assert (told[0].limit, told[0].measure) == (0.0 if over else 0.05, Measure.LENGTH)
        place = "outside its base: it goes over." if over else "inside the rim of its base: it may go over."
        assert place in words(told[0].says)


FREE = " Do not touch {}. Take the weight back first."


def told_of(each: Support) -> tuple[Verdict, float | None, float | None, str]:
    """Verdict, value, limit and words on the support of a unit that hangs on the lift no more."""
    found = about(bearing.check(case(each)), each.name)
    assert (found.check, found.measure) == (CheckName.BEARING, Measure.LENGTH)
    return found.verdict, found.value, found.limit, words(found.says)


def test_under_a_free_unit_no_stand_is_moved_whatever_is_wrong() -> None:
    beside = told_of(support("A", at=(0.53, 0.0)))
    assert beside == (
        *(Verdict.STOP, pytest.approx(0.03), 0.0),
        "Nothing is above A: the middle of its saddle is 0.03 m outside the outline of the unit, so it carries nothing."
        + FREE.format("A"),
    )
    off = told_of(replace(support("A"), part="pump", point=""))
    assert off == (
        *(Verdict.STOP, None, None),
        "Nothing is above A: the pump, the lowest over it, is off, so it carries nothing." + FREE.format("the stands"),
    )
    assert told_of(support("A")) == (Verdict.HOLDS, None, None, "A has the unit above it.")


def test_a_point_of_which_no_part_is_said_is_on_the_lowest_over_it() -> None:
    """The file may say a part for the point, or leave it to where the parts lie."""
    for said, which in (("pump", "on which place A is"), ("", "the lowest over it")):
        judged = lifted(on_pump(support("A")))
        place = Point("place A", "unit", (0.0, 0.0, 0.2), None, "", part=said)
        other = Point("elsewhere", "unit", (0.0, 0.0, 0.2), None, "")
        vehicle = replace(judged.job.vehicle, points=(place, other))
        told = about(bearing.check(replace(judged, job=replace(judged.job, vehicle=vehicle))), "A")
        assert words(told.says).startswith(f"Nothing is above A: the pump, {which}, is off")


def doubtful(each: Support, *on: str, hung: bool = True) -> Finding:
    """A support at a place over which the sump and the tray lie, as low as the unit does."""
    judged = lifted(each, hung=hung)
    low = tuple(replace(part(name), outline=UNIT.outline, bottom=0.2) for name in ("sump", "tray"))
    vehicle = replace(judged.job.vehicle, parts=(*judged.job.vehicle.parts, *low))
    state = replace(judged.state, on=frozenset(on))
    return about(bearing.check(replace(judged, job=replace(judged.job, vehicle=vehicle), state=state)), each.name)


def test_what_may_have_borne_on_a_part_that_is_off_is_a_caution() -> None:
    plan = " plan A under a place that stays, and say in the vehicle's file on which part that is."
    both = doubtful(support("A"))
    assert (both.verdict, both.value, both.limit) == (Verdict.CAUTION, None, None)
    assert words(both.says) == (
        "Perhaps nothing is above A: the sump and tray lay nearest over it and are off; no part is said for its place. "
        f"Before unbolting:{plan}"
    )
    assert words(doubtful(support("A"), "tray").says).startswith(
        "Perhaps nothing is above A: the sump lay nearest over it and is off; no part is said for its place."
    )
    assert words(doubtful(support("A"), hung=False).says).endswith(f"for its place.{FREE.format('A')}")
    assert doubtful(support("A"), "sump", "tray").verdict is Verdict.HOLDS


def test_a_pad_in_doubt_is_looked_at_before_lifting_and_a_hoist_is_in_none() -> None:
    pad = replace(arm("pad 9", (0.0, 0.0)), body="unit", outline=UNIT.outline)
    assert words(doubtful(pad).says).endswith(
        "no part is said for its place. "
        "Before lifting: look what the pad bears on, and say in the vehicle's file on which part that is."
    )
    hoist = replace(support("H", HOIST), outline=UNIT.outline)
    assert doubtful(hoist).verdict is Verdict.HOLDS


def table_of(base: Footprint | None, loads: dict[str, float | None], *, body: str = "unit") -> list[Finding]:
    """What is found of a table with A and B 300 mm to either side of its middle, which is 100 mm ahead."""
    table = replace(STAND, name="scissor table", kind=EquipmentKind.TABLE, base=base)
    places = {"A": (0.4, 0.0), "B": (-0.2, 0.0)}
    tops = [replace(support(each, table, (x, 0.1)), piece="T", body=body) for each, (x, _) in places.items()]
    carried = {each: None if newtons is None else load(newtons) for each, newtons in loads.items()}
    judged = lifted(*tops, loads=carried) if body == "shell" else case(*tops, loads=carried)
    return [each for each in findings(bearing.check(judged)) if each.subject == "T"]


def test_what_goes_over_under_its_load_is_told_with_how_far() -> None:
    """With 100 N and 900 N the middle is 240 mm behind that of the table, whose base ends at 250 mm, or 200 mm."""
    loads = {"A": 100.0, "B": 900.0}
    (near,) = table_of(Square(0.5, 0.5), loads)
    assert (near.check, near.verdict, near.value, near.limit) == (
        *(CheckName.BEARING, Verdict.CAUTION),
        *(pytest.approx(0.01), 0.05),
    )
    assert words(near.says) == (
        "The middle of what the scissor table carries is 0.01 m inside the rim of its base: it may go over."
        + FREE.format("the scissor table")
    )
    (over,) = table_of(Circle(0.4), loads)
    assert (over.verdict, over.value, over.limit) == (Verdict.STOP, pytest.approx(0.04), 0.0)
    assert words(over.says) == (
        "The middle of what the scissor table carries is 0.04 m outside its base: it goes over."
        + FREE.format("the scissor table")
    )
    (hung,) = table_of(Circle(0.4), loads, body="shell")
    assert words(hung.says).endswith(" Before unbolting: move the scissor table under the middle of its load.")


@pytest.mark.parametrize(
    ("base", "loads", "verdicts"),
    [
        (Square(0.5, 0.5), {"A": 500.0, "B": 500.0}, []),
        # The middle is 200 mm behind: 50 mm are left, which is what is asked for.
        (Square(0.5, 0.5), {"A": 1000.0, "B": 5000.0}, []),
        (Square(0.5, 0.5), {"A": 990.0, "B": 5010.0}, [Verdict.CAUTION]),
        (Circle(0.5), {"A": 1000.0, "B": 5000.0}, []),
        (None, {"A": 0.0, "B": 1000.0}, []),
        (Circle(0.4), {"A": 0.0, "B": 0.0}, []),
        (Circle(0.4), {"A": 0.0, "B": 0.5}, [Verdict.STOP]),
        (Circle(0.4), {"A": None, "B": 1.0}, [Verdict.STOP]),
        (Circle(0.4), {"A": None, "B": None}, []),
    ],
)
def test_a_table_holds_where_its_load_has_room_or_is_none(
    base: Footprint | None, loads: dict[str, float | None], verdicts: list[Verdict]
) -> None:
    assert [each.verdict for each in table_of(base, loads)] == verdicts


def test_one_stand_by_itself_does_not_go_over_under_its_load() -> None:
    """Its base ends 30 mm beside its middle, less than a table is asked for."""
    slim = replace(STAND, base=Square(0.06, 0.06))
    assert [each.verdict for each in findings(bearing.check(case(support("A", slim))))] == [Verdict.HOLDS]


def test_what_stands_on_an_assembly_under_a_free_unit_is_not_touched() -> None:
    (told,) = findings(bearing.check(lifted(on_the_shell(1.3), hung=False)))
    assert words(told.says).endswith(FREE.format("A"))


def test_a_stand_whose_part_is_off_is_told_another_place_and_a_pad_is_not(monkeypatch: pytest.MonkeyPatch) -> None:
    found = SolvedCure(FoundCure)
    asked: list[tuple[object, ...]] = []
    monkeypatch.setattr(bearing, "other_place_cure", lambda *of: asked.append(of) or found)
    judged = lifted(on_pump(support("A")))
    assert about(bearing.check(judged), "A").cure is found
    assert asked == [(judged, judged.stands[0])]
    pad = replace(judged, state=replace(judged.state, supports=(on_pump(ARMS[0]),)))
    assert about(bearing.check(pad), "pad 1").cure is None
    assert len(asked) == 1


def test_where_a_part_is_said_that_is_on_nothing_is_in_doubt() -> None:
    assert doubtful(replace(support("A"), part="lump"), "lump").verdict is Verdict.HOLDS


@pytest.mark.parametrize("order", [("unit", "shell"), ("shell", "unit")])
def test_a_table_under_two_bodies_is_not_moved_once_either_is_free(order: tuple[str, str]) -> None:
    """Which body's place is written first says nothing: the unit is free, the shell hangs on the lift."""
    table = replace(STAND, name="scissor table", kind=EquipmentKind.TABLE, base=Circle(0.4))
    places = (("A", 0.4), ("B", -0.2))
    tops = [
        replace(support(name, table, (x, 0.1)), piece="T", body=body)
        for (name, x), body in zip(places, order, strict=True)
    ]
    loads = {"A": load(100.0), "B": load(900.0)}
    told = {
        hung: words(about(bearing.check(lifted(*tops, loads=loads, hung=hung)), "T").says) for hung in (True, False)
    }
    assert told[True].endswith(" Before unbolting: move the scissor table under the middle of its load.")
    assert told[False].endswith(FREE.format("the scissor table"))
