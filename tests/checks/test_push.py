"""Push: what a person leaning on the unit does, against what two published examples say, and on each limit."""

from dataclasses import replace
from math import inf, nextafter, pi
from pathlib import Path

import pytest

from loadplan.checks import push
from loadplan.checks.case import Case
from loadplan.model.disturbance import PushAnswer
from loadplan.model.job import Stage
from loadplan.model.shop import Equipment
from loadplan.model.verdict import Verdict
from tests.checks.builders import HOIST, about, case, group, in_stage, lifted, load, support, with_group, words
from tests.checks.builders import STAND as BARE
from tests.checks.small_jobs import STAND, found, judged, part, said, stands, the, unit_job

CORNERS: dict[str, list[float]] = {
    "A": [500, 500, 200],
    "B": [500, -500, 200],
    "C": [-500, 500, 200],
    "D": [-500, -500, 200],
}
UP = 1e9
POUND_FORCE = 4.4482216152605
BLOCK = 250.0  # lb


def pushed(force: float, first: str = "slides", direction: float = 0.0, *, oiled: float = inf) -> Case:
    """The unit on A and B, which carry 5000 N: what is light does not come into it."""
    free = case(support("A"), support("B"), loads={"A": load(2500.0), "B": load(2500.0)})
    answer = PushAnswer(force, direction, "unit", (0.0, 0.0, 0.4), first, ("A", "B"), min(force, oiled), 5000.0)
    return with_group(free, replace(group(("unit",), ("A", "B")), pushes=(answer,)))


@pytest.mark.parametrize(
    ("force", "verdict", "limit"),
    [
        (nextafter(225.0, 0), Verdict.STOP, 225.0),
        (225.0, Verdict.CAUTION, 450.0),
        (nextafter(450.0, 0), Verdict.CAUTION, 450.0),
        (450.0, Verdict.HOLDS, 450.0),
    ],
)
def test_one_push_stops_and_twice_is_asked_for(force: float, verdict: Verdict, limit: float) -> None:
    told = about(push.check(pushed(force)), "unit")
    assert (told.verdict, told.value, told.limit) == (verdict, force, limit)


@pytest.mark.parametrize(
    ("force", "verdict"),
    [(nextafter(500.0, 0), Verdict.STOP), (500.0, Verdict.CAUTION), (1000.0, Verdict.HOLDS)],
)
def test_in_a_step_with_hard_pulls_a_braced_pull_is_asked_for(force: float, verdict: Verdict) -> None:
    told = about(push.check(in_stage(pushed(force), Stage("step", bar=True))), "unit")
    assert told.verdict is verdict
    assert ("of a braced pull on a bar" in words(told.says)) is (verdict is not Verdict.HOLDS)


@pytest.mark.parametrize(
    ("direction", "told"),
    [(0.0, "front"), (pi / 4, "front left"), (pi / 2, "left"), (pi, "back"), (-pi / 2, "right"), (-2.4, "back right")],
)
def test_the_weakest_way_is_told_as_one_sees_it(direction: float, told: str) -> None:
    assert f"weakest towards the {told}:" in words(about(push.check(pushed(300, direction=direction)), "unit").says)


def test_each_end_has_its_words_and_its_cure() -> None:
    held = {first: replace(pushed(300.0, first), before=None) for first in ("slides", "tips", "stand")}
    told = {first: words(about(push.check(each), "unit").says) for first, each in held.items()}
    assert "it slides on A and B, less than twice" in told["slides"]
    assert "put rubber or timber on the saddles" in told["slides"]
    assert "it tips, turning about A and B" in told["tips"]
    assert "set the stands further out" in told["tips"]
    assert "A and B go over" in told["stand"]
    assert "set the stands lower, or use some with a wider base" in told["stand"]
    assert all(each.endswith("Break tight bolts loose before lifting.") for each in told.values())
    assert all("friction may let go sooner" in each for each in told.values())


def on(first: Equipment, second: Equipment) -> str:
    """What would help a unit that slides on two supports of some equipment."""
    judged = replace(pushed(300.0), before=None)
    stands = (support("A", first), support("B", second))
    judged = replace(judged, state=replace(judged.state, supports=stands))
    return words(about(push.check(judged), "unit").says)


def test_rubber_is_told_only_where_a_saddle_can_take_it() -> None:
    """Castors roll first, a hoist holds nothing sideways, and what grips like rubber gains nothing by it."""
    castors, rough = replace(BARE, wheels=True), replace(BARE, friction=0.5)
    assert "rubber" not in on(castors, castors)
    assert "lock or chock the wheels of A and B." in on(castors, castors)
    assert "rubber" not in on(HOIST, HOIST)
    assert "put stands under it: what hangs from A and B swings." in on(HOIST, HOIST)
    assert "rubber" not in on(rough, rough)
    assert "put rubber or timber on the saddles, and lock or chock the wheels of B." in on(BARE, castors)
    assert "put rubber or timber on the saddles." in on(rough, BARE)


def test_it_says_the_force_twice_and_where() -> None:
    told = words(about(push.check(pushed(300.0)), "unit").says)
    assert told.startswith(
        "The unit stands a sideways push of at most 300 N (300 N, told as mass) at lump, the highest part on;"
    )
    known = pushed(300.0)
    known = replace(known, statics=replace(known.statics, floor=0.15))
    assert "at lump, the highest part on, 0.25 m over the floor; weakest" in words(
        about(push.check(known), "unit").says
    )
    elsewhere = pushed(300.0)
    (answer,) = elsewhere.statics.groups[0].pushes
    moved = with_group(elsewhere, replace(elsewhere.statics.groups[0], pushes=(replace(answer, at=(0.0, 0.0, 0.9)),)))
    assert "at the middle of the unit;" in words(about(push.check(moved), "unit").says)


def test_a_free_unit_is_not_touched_first() -> None:
    assert "Do not touch the stands. Take the weight back first." in words(
        about(push.check(pushed(300.0)), "unit").says
    )


def test_the_vehicle_on_the_lift_is_not_pushed() -> None:
    assert push.check(lifted(support("A"))) == []


def block(folder: Path, height: float, friction: float) -> tuple[float, str]:
    """The least push [lbf] on a block of 250 lb, 32 in square, pushed at a height [in], and what happens first."""
    half, inch = 16 * 25.4, 25.4
    corners = {"A": (half, half), "B": (half, -half), "C": (-half, half), "D": (-half, -half)}
    places = {name: [x, y, 0.0] for name, (x, y) in corners.items()}
    parts = [
        part("weight", "unit", 0.45359237 * BLOCK - 1e-3, [0, 0, 0.0]),
        part("handle", "unit", 1e-3, [0, 0, height * inch]),
    ]
    job = unit_job(places, part=parts, equipment=[STAND | {"friction": friction}], limits={"floor_slope": 0})
    (stage,) = judged(job, folder).stages
    (group_,) = stage.statics.groups
    (push_,) = group_.pushes
    return push_.force / POUND_FORCE, push_.first


def test_a_low_push_slides_the_block(tmp_path: Path) -> None:
    """62.5 lb at 60 in, friction 0.25: Mississippi State Univ. statics pages, friction, example 2 (printed 62.5)."""
    force, first = block(tmp_path, 60, 0.25)
    assert first == "slides"
    assert 62.5 * 0.994 <= force <= 62.5  # a cone of 32 faces inside the round one


def test_a_high_push_tips_the_block(tmp_path: Path) -> None:
    """250 · 32 / (2 · 66) = 60.6 lb at 66 in, friction 0.4: the same pages, example 3 (tips: printed)."""
    force, first = block(tmp_path, 66, 0.4)
    assert first == "tips"
    assert force == pytest.approx(60.606, rel=1e-4)


def test_tall_stands_on_small_bases_go_over_first(tmp_path: Path) -> None:
    """Half base over height of the saddle, 100 / 800, is less than friction: 0.125 of the weight."""
    places = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}
    job = unit_job(places, equipment=[STAND | {"base": 200}], support=stands(places, "unit", 800))
    told = the(judged(job, tmp_path).stages[0], "push", "unit")
    assert told.verdict is Verdict.HOLDS
    assert told.value == pytest.approx(0.125 * 400 * 9.80665, rel=6e-3)
    assert "go over" in said(told)
    wide = judged(unit_job(places, support=stands(places, "unit", 800)), tmp_path)
    assert "it slides on" in said(the(wide.stages[0], "push", "unit"))


def test_a_pushed_table_of_several_places_goes_over_as_one(tmp_path: Path) -> None:
    places = {"T1": [400, 400, 200], "T2": [400, -400, 200], "T3": [-400, 400, 200], "T4": [-400, -400, 200]}
    table = STAND | {"name": "scissor table", "kind": "table", "base": [800, 300], "friction": 0.9}
    on = [each | {"use": "scissor table", "piece": "T", "height": 800} for each in stands(places, "unit")]
    told = the(judged(unit_job(places, equipment=[table], support=on), tmp_path).stages[0], "push", "unit")
    assert "the scissor table goes over" in said(told)


def test_on_castors_it_rolls(tmp_path: Path) -> None:
    """Rolling resistance 0.02: common practice, no source."""
    places = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}
    (stage,) = judged(unit_job(places, equipment=[STAND | {"wheels": True}]), tmp_path).stages
    told = the(stage, "push")
    assert told.verdict is Verdict.STOP
    assert told.value == pytest.approx(0.02 * 400 * 9.80665, rel=6e-3)
    assert {each.verdict for each in found(stage, "wheels")} == {Verdict.CAUTION}


def test_what_is_light_and_slides_is_asked_for_a_tenth_of_its_weight(tmp_path: Path) -> None:
    """A unit of 40 kg slides at 0.5 · 392 N = 196 N, less than one push, but a tenth of its weight is 39 N."""
    light = [part("block", "unit", 40, [0, 0, 300])]
    told = the(judged(unit_job(CORNERS, part=light), tmp_path).stages[0], "push", "unit")
    assert told.verdict is Verdict.HOLDS
    assert told.limit == pytest.approx(2 * 0.1 * 40 * 9.80665, rel=1e-6)


def test_what_is_light_and_tips_is_asked_for_the_whole_push(tmp_path: Path) -> None:
    """The same unit on saddles that hold: pushed 800 mm over them it tips at 392 N · 500 / 800 = 245 N."""
    light = [part("block", "unit", 40, [0, 0, 1000])]
    job = unit_job(CORNERS, part=light, equipment=[STAND | {"friction": 2.0}], limits={"floor_slope": 0})
    told = the(judged(job, tmp_path).stages[0], "push", "unit")
    assert (told.verdict, told.limit) == (Verdict.CAUTION, 450.0)
    assert told.value == pytest.approx(245.2, rel=0.01)


def test_what_is_light_and_has_its_stands_go_over_is_asked_for_the_whole_push(tmp_path: Path) -> None:
    """A stand of 200 mm, 350 mm high, goes over at 100 / 350 of its load, 112 N of 392 N: less than 225 N."""
    light = [part("block", "unit", 40, [0, 0, 300])]
    slim = STAND | {"friction": 1.0, "base": 200}
    told = the(judged(unit_job(CORNERS, part=light, equipment=[slim]), tmp_path).stages[0], "push", "unit")
    assert (told.verdict, told.limit) == (Verdict.STOP, 225.0)
    assert "go over" in words(told.says)


def test_where_no_friction_is_said_oil_on_the_saddles_is_reckoned_with(tmp_path: Path) -> None:
    """800 kg: 0.15 of the weight is 1177 N, oiled 0.05 of it 392 N, less than twice the push of 225 N."""
    heavy = [part("block", "unit", 800, [0, 0, 300])]
    bare = {key: value for key, value in STAND.items() if key != "friction"}
    silent = unit_job(CORNERS, part=heavy, equipment=[bare])
    told = the(judged(silent, tmp_path).stages[0], "push", "unit")
    assert told.verdict is Verdict.CAUTION
    assert told.value == pytest.approx(0.15 * 800 * 9.80665, rel=0.01)
    assert "Nobody says the friction of its saddles: with oil on them it would stand 39" in said(told)
    said_so = silent | {"limits": {"friction": 0.15}}
    assert the(judged(said_so, tmp_path).stages[0], "push", "unit").verdict is Verdict.HOLDS
    of_its_own = unit_job(CORNERS, part=heavy, equipment=[STAND | {"friction": 0.15}])
    assert the(judged(of_its_own, tmp_path).stages[0], "push", "unit").verdict is Verdict.HOLDS


def test_where_oil_makes_no_difference_none_is_told() -> None:
    assert about(push.check(pushed(600.0, oiled=449.0)), "unit").verdict is Verdict.CAUTION
    assert about(push.check(pushed(600.0, oiled=450.0)), "unit").verdict is Verdict.HOLDS


def test_every_rigid_whole_is_pushed_least_first(tmp_path: Path) -> None:
    """A cradle on four stands bears a unit on one mount and two stands of its own: both are pushed, at their tops."""
    cradle = {"E": [600, 600, 150], "F": [600, -600, 150], "G": [-600, 600, 150], "H": [-600, -600, 150]}
    own = {"A": [300, 300, 200], "B": [300, -300, 200]}
    job = unit_job(own) | {
        "body": [{"name": "unit"}, {"name": "cradle"}],
        "part": [part("block", "unit", 400, [100, 0, 700]), part("frame", "cradle", 60, [0, 0, 200])],
        "joint": [{"name": "mount", "kind": "mount", "between": ["unit", "cradle"], "at": [-300, 0, 300]}],
        "support": stands(own, "unit") + stands(cradle, "cradle"),
        "stage": [{"name": "on stands", "in_place": [*own, *cradle]}],
    }
    (stage,) = judged(job, tmp_path).stages
    told = found(stage, "push")
    assert sorted(each.subject for each in told) == ["cradle", "unit"]
    values = [each.value for each in told if each.value is not None]
    assert values == sorted(values)
    assert {push_.at for group_ in stage.statics.groups for push_ in group_.pushes} == {(0.1, 0, 0.7), (0, 0, 0.2)}


@pytest.mark.parametrize(("floor", "told"), [("E", 2), ("", 0), ("EFG", 0)])
def test_a_unit_on_the_floor_and_on_an_assembly_at_once_is_told_with_care(
    floor: str, told: int, tmp_path: Path
) -> None:
    upper = {"E": [300, 300, 600], "F": [300, -300, 600], "G": [-300, 0, 600]}
    job = {
        "body": [{"name": "cradle"}, {"name": "motor"}],
        "part": [part("frame", "cradle", 100, [0, 0, 250]), part("block", "motor", 100, [100, 0, 700])],
        "equipment": [STAND],
        "support": [
            *stands(CORNERS, "cradle"),
            *(each | ({} if each["name"] in floor else {"on": "cradle"}) for each in stands(upper, "motor")),
        ],
        "stage": [{"name": "down", "in_place": [*CORNERS, *upper]}],
    }
    each = [said(one) for one in found(judged(job, tmp_path).stages[0], "push")]
    assert len(each) == 2
    assert sum(" Told with care: the motor " in one for one in each) == told
