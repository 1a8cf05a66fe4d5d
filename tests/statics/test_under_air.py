"""What stands under air carries nothing: a part that is off, a saddle beside its body, a joint gone with its part."""

from dataclasses import replace

import pytest

from loadplan.model.answer import Balanced, Loose, Statics
from loadplan.model.job import SetAnew, Stage, Support
from loadplan.model.vehicle import Joint, Part
from loadplan.planning.settings.removal_order import plan_order
from loadplan.stages import states
from loadplan.statics.stage_sequence import solve_stages
from tests.statics import builders as make
from tests.statics.builders import SQUARE, newton

PLACES = dict(zip("ABCD", SQUARE, strict=True))
BOX = tuple(SQUARE)


def on_part(name: str, part: str) -> Support:
    return replace(make.support(name, PLACES.get(name, (0.0, 0.0))), part=part, point=f"place {name}")


def judged(*supports: Support, stages: list[Stage], parts: tuple[Part, ...] = ()) -> tuple[Statics, ...]:
    made = make.job(
        [make.part(mass=100.0), *(parts or (make.part(mass=20.0, name="pump"),))],
        supports,
        stages=stages,
    )
    return solve_stages(made, states(made))


def test_a_stand_whose_part_is_off_carries_nothing_and_the_others_take_its_share() -> None:
    """Derived: 120 kg in the middle of four corners is 30 kg on each; without D the three others stand on an edge."""
    supports = [on_part("A", ""), on_part("B", ""), on_part("C", ""), on_part("D", "pump")]
    on, off = judged(*supports, stages=[Stage("on", in_place=tuple("ABCD")), Stage("off", off=("pump",))])
    assert [on.load(name).expected for name in "ABCD"] == pytest.approx([newton(30.0)] * 4)  # type: ignore[union-attr]
    assert off.load("D") is None
    assert not off.groups[0].balanced
    assert off.groups[0].supports == ("A", "B", "C")
    assert [each.name for each in off.supports] == ["A", "B", "C", "D"]


def test_it_carries_again_when_its_part_is_on_again() -> None:
    supports = [on_part("A", ""), on_part("B", ""), on_part("C", ""), on_part("D", "pump")]
    stages = [Stage("on", in_place=tuple("ABCD")), Stage("off", off=("pump",)), Stage("back", on=("pump",))]
    back = judged(*supports, stages=stages)[-1]
    assert back.load("D").expected == pytest.approx(newton(30.0))  # type: ignore[union-attr]


@pytest.mark.parametrize(("x", "bears"), [(0.5, 1), (0.5001, 0)])
def test_a_saddle_beside_the_outline_carries_nothing(x: float, bears: int) -> None:
    """On the edge its middle is still under."""
    outlined = [replace(each, outline=BOX) for each in make.stands(SQUARE)]
    fifth = replace(make.support("E", (x, 0.0)), outline=BOX)
    (told,) = judged(*outlined, fifth, stages=[Stage("all", in_place=tuple("ABCDE"))])
    assert (told.load("E") is not None) == bears
    assert len(told.groups[0].supports) == 4 + bears


def test_the_reference_of_the_gaps_is_no_saddle_under_air() -> None:
    """D would be the highest: set 20 mm higher than the others, but its part is off from the first stage on."""
    heights = {"A": 0.19, "B": 0.19, "C": 0.19, "D": 0.21, "E": 0.19}
    supports = [
        replace(on_part(name, "pump" if name == "D" else ""), height=height) for name, height in heights.items()
    ]
    (off,) = judged(*supports, stages=[Stage("off", in_place=tuple("ABCDE"), off=("pump",))])
    assert [off.gaps[name] for name in "ABCE"] == pytest.approx([0.0] * 4)


def test_a_height_set_anew_holds_from_its_stage_on() -> None:
    """Derived: E in the middle, 10 mm below the four others, carries nothing; raised by 10.1 mm it carries."""
    supports = [replace(each, height=0.19) for each in make.stands(SQUARE)]
    low = make.support("E", (0.1, 0.0), height=0.18)
    stages = [Stage("low", in_place=tuple("ABCDE")), Stage("up", set_anew=(SetAnew("E", 0.1901),)), Stage("on")]
    first, up, on = judged(*supports, low, stages=stages)
    assert first.load("E").expected == 0.0  # type: ignore[union-attr]
    assert first.gaps["E"] == pytest.approx(0.01)
    assert up.gaps["A"] == pytest.approx(0.0001)
    assert up.load("E").expected > newton(20.0)  # type: ignore[union-attr]
    assert on.load("E") == up.load("E")


LEVEL = (0.3, 0.0, 0.3)


def rod(name: str = "rod") -> Joint:
    return make.link(name, (-0.3, 0.0, 0.3), LEVEL)


def cradled(places: list[tuple[float, float]], *joints: Joint) -> tuple[Statics, ...]:
    parts = [make.part((0.0, 0.0), 100.0, name="u"), make.part((0.0, 0.0), 50.0, name="c", body="cradle")]
    own = [make.support(f"e{number}", at) for number, at in enumerate(places)]
    made = make.job(
        parts,
        [*make.stands(SQUARE, body="cradle"), *own],
        joints=joints,
    )
    return solve_stages(made, states(made))


def test_a_unit_on_two_stands_and_a_link_is_free_to_rock() -> None:
    """As a mount the same tie holds it: compare `rider`."""
    (told,) = cradled([(0.2, 0.2), (0.2, -0.2)], rod())
    assert isinstance(told.groups[0].proof, Loose)
    assert told.joint_force("rod") is None
    (held,) = cradled([(0.2, 0.2), (0.2, -0.2)], make.mount("rod", (-0.3, 0.0)))
    assert isinstance(held.groups[0].proof, Balanced)


@pytest.mark.parametrize(("mounts", "force"), [(1, None), (2, newton(100.0 / 3))])
def test_a_link_counts_as_a_mount_beside_two_others(mounts: int, force: float | None) -> None:
    """Derived: two ties 0.15 m before the unit's centre and one 0.3 m behind it each carry a third of 100 kg."""
    ties = [make.mount(f"m{number}", (0.15, 0.2 - 0.4 * number)) for number in range(mounts)]
    (told,) = cradled([], *ties, rod())
    assert told.groups[0].balanced is (force is not None)
    rod_force = next(each for each in told.joints if each.name == "rod")
    assert rod_force.force == (force and pytest.approx(force))


def test_a_link_is_pulled_along_its_line_by_what_its_lever_there_asks_for() -> None:
    """By hand: 100 kg 0.15 m behind the mounts, on a level rod 0.1 m under their line: 100·0.15 / 0.1 = 150 kg.

    Upright it is 0.45 m behind them and pulled straight down or up: a third of 100 kg.
    """
    ties = [make.mount(f"m{number}", (0.15, 0.2 - 0.4 * number)) for number in range(2)]
    (told,) = cradled([], *ties, rod())
    assert told.joint_force("rod") == pytest.approx(newton(150.0))
    (told,) = cradled([], *ties, make.link("rod", (-0.3, 0.0, 0.4), (-0.3, 0.0, 0.7)))
    assert told.joint_force("rod") == pytest.approx(newton(100.0 / 3))
    assert told.joint_force("m0") == pytest.approx(newton(100.0 / 3))


def test_a_link_beside_three_mounts_in_no_line_is_pulled_by_its_lever_about_the_two_furthest_apart() -> None:
    """By hand: in plan it is 0.065 / 0.461 m off that line, and its pull has a lever of 0.03 / 0.461 m about it."""
    ties = [make.mount(f"m{number}", at) for number, at in enumerate([(0.15, 0.2), (0.15, -0.2), (-0.2, 0.1)])]
    (told,) = cradled([], *ties, rod())
    upright = next(each.force for each in told.joints if each.name == "rod")
    assert upright is not None
    assert told.joint_force("rod") == pytest.approx(upright * 0.065 / 0.03)


def test_a_mount_to_another_body_is_none_beside_a_link() -> None:
    """Two mounts tie the unit to the cradle, but only one of them to the body that the link goes to."""
    parts = [make.part(name="u"), make.part(name="c", body="cradle"), make.part(name="f", body="frame")]
    own = [*make.stands(SQUARE, body="cradle")]
    other = [replace(each, name=f"f{each.name}") for each in make.stands(SQUARE, body="frame")]
    joints = [make.mount("m0", (0.15, 0.2)), make.mount("m1", (0.15, -0.2), ("unit", "frame")), rod()]
    made = make.job(parts, [*own, *other], joints=joints)
    (told,) = solve_stages(made, states(made))
    assert [group.balanced for group in told.groups] == [False]


def bracket(part: str) -> Joint:
    return replace(make.mount("bracket", (-0.3, 0.0)), part=part)


def test_a_joint_is_undone_while_its_part_is_off_and_until_it_is_done_up() -> None:
    stages = [
        Stage("all", in_place=("A", "B", "C", "D", "e0", "e1")),
        Stage("off", off=("c",)),
    ]
    parts = [make.part(name="u"), make.part(name="c", body="cradle"), make.part(name="d", body="cradle")]
    own = [make.support(f"e{number}", at) for number, at in enumerate([(0.2, 0.2), (0.2, -0.2)])]
    stages += [Stage("on", on=("c",)), Stage("tight", done_up=("bracket",))]
    made = make.job(parts, [*make.stands(SQUARE, body="cradle"), *own], joints=[bracket("c")], stages=stages)
    followed = states(made)
    assert [[joint.name for joint in each.done_up] for each in followed] == [["bracket"], [], [], ["bracket"]]
    assert [joint.name for joint in followed[1].gone_with_parts] == ["bracket"]
    assert [joint.name for joint in followed[2].gone_with_parts] == []
    told = solve_stages(made, followed)
    assert [each.group_of("unit").balanced for each in told] == [True, False, False, True]


def in_any_order(*, tied: bool) -> Statics:
    """The stage in which head and cover come off a unit whose bracket goes with the head, or is undone before.

    The unit stands on a triangle: (0.3, ±0.3) and (−0.1, 0). The head, 60 kg at x = −0.6, would tip it back over
    (−0.1, 0), but its bracket at x = −0.8 ties it to the cradle while the head is on.
    """
    parts = [
        make.part((0.1, 0.0), 100.0, name="block"),
        make.part((-0.6, 0.0), 60.0, name="head"),
        make.part((0.0, 0.0), 1.0, name="cover", after=("head",)),
        make.part((0.0, 0.0), 50.0, name="c", body="cradle"),
    ]
    own = [make.support(f"e{number}", at) for number, at in enumerate([(0.3, 0.3), (0.3, -0.3), (-0.1, 0.0)])]
    ties = [replace(make.mount("bracket", (-0.8, 0.0)), part="head" if tied else "")]
    stage = Stage("off", off=("head", "cover"), any_order=True, undone=() if tied else ("bracket",))
    stages = [Stage("all", in_place=("A", "B", "C", "D", "e0", "e1", "e2")), stage]
    made = make.job(parts, [*make.stands(SQUARE, body="cradle"), *own], joints=ties, stages=stages)
    return solve_stages(made, states(made))[-1]


def test_in_any_order_a_bracket_holds_exactly_while_its_part_is_on() -> None:
    """With its bracket undone before the head is off, the unit tips back; with the bracket on the head it never does.

    Hand value of the margin with the head off and the cover still on: 101 kg at x = 10/101 in the triangle (0.3, ±0.3),
    (−0.1, 0), whose nearest edge rises by 3 in 4, so it is (10/101 + 0.1) · 3/5 m away; its lean takes a little off.
    """
    assert not in_any_order(tied=False).group_of("unit").robust
    told = in_any_order(tied=True)
    assert told.group_of("unit").robust
    upright = (10 / 101 + 0.1) * 3 / 5
    assert told.body("unit").worst_margin == pytest.approx(upright, abs=0.0005)
    assert told.body("unit").worst_margin < upright  # type: ignore[operator]


def test_in_any_order_a_stand_under_a_part_holds_exactly_while_that_is_on() -> None:
    """The tail, 60 kg at x = −0.6, stands on its own place at x = −0.8: it tips nothing, on or off."""
    parts = [make.part((0.1, 0.0), 100.0, name="block"), make.part((-0.6, 0.0), 60.0, name="tail")]
    places = [(0.3, 0.3), (0.3, -0.3), (-0.1, 0.2), (-0.1, -0.2)]
    own = list(make.stands(places))
    tail = replace(make.support("T", (-0.8, 0.0)), part="tail")
    stages = [Stage("all", in_place=(*"ABCD", "T")), Stage("off", off=("tail",), any_order=True)]
    made = make.job(parts, [*own, tail], stages=stages)
    assert solve_stages(made, states(made))[-1].groups[0].robust
    bare = make.job(parts, [*own, replace(tail, part="")], stages=[stages[0], replace(stages[1], cleared=("T",))])
    assert not solve_stages(bare, states(bare))[-1].groups[0].robust


def test_the_order_of_removal_minds_that_a_bracket_goes_with_its_part() -> None:
    """The head weighs the tail down and its bracket ties it: whichever comes first, what is left stands."""
    parts = [
        make.part((0.1, 0.0), 100.0, name="block"),
        make.part((-0.6, 0.0), 60.0, name="head"),
        make.part((0.25, 0.0), 30.0, name="pump"),
        make.part((0.0, 0.0), 50.0, name="c", body="cradle"),
    ]
    own = [make.support(f"e{number}", at) for number, at in enumerate([(0.3, 0.3), (0.3, -0.3), (-0.1, 0.0)])]
    stages = [Stage("all", in_place=("A", "B", "C", "D", "e0", "e1", "e2")), Stage("off", off=("pump", "head"))]
    ties = [replace(make.mount("bracket", (-0.8, 0.0)), part="head")]
    made = make.job(parts, [*make.stands(SQUARE, body="cradle"), *own], joints=ties, stages=stages)
    order = plan_order(made, 1)
    assert all(step.worst_margin is not None and step.worst_margin > 0.05 for step in order.steps)
