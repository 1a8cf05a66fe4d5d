"""An assembly that leans takes the stands on it sideways, and what they hold. Made-up jobs, by hand.

A cradle on saddles at z 200 mm, a metre apart, the left two set 20 mm lower: it leans by 0.02 to the left. The saddles
of the stands on it lie at z 1000 mm, 800 mm higher, so it takes them 16 mm to the left.
"""

from math import degrees
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from loadplan.model.verdict import Finding, Measure, StageAssessment, Verdict
from tests.checks.small_jobs import STAND, G, Raw, found, judged, part, said, stands, the

FLOOR = {"A": [500, 500, 200], "B": [-500, 500, 200], "C": [500, -500, 200], "D": [-500, -500, 200]}
UPPER = {"E": [300, 300, 1000], "F": [-300, 300, 1000], "G": [0, -300, 1000]}
HARD = STAND | {"stiffness": 1e6, "heights": {"from": 100, "to": 1500}}


def stacked(lower: float, y: float = 0.0, high: float = 1000, light: float = 100) -> Raw:
    """A motor of 100 kg, its centre so far to the left [mm], on three stands on a cradle with its left side lower."""
    upper = {name: [x, across, high] for name, (x, across, _) in UPPER.items()}
    return {
        "body": [{"name": "cradle"}, {"name": "motor"}],
        "part": [part("frame", "cradle", light, [0, 0, 250]), part("block", "motor", 100, [0, y, high + 10])],
        "equipment": [HARD],
        "limits": {"uneven": 0, "uneven_touch": 0, "floor_slope": 0},
        "support": [
            *(
                {"name": name, "use": "stand", "body": "cradle", "at": at, "height": 400 - lower * (name in "AB")}
                for name, at in FLOOR.items()
            ),
            *(each | {"on": "cradle"} for each in stands(upper, "motor")),
        ],
        "stage": [{"name": "stacked", "in_place": list("ABCDEFG")}],
    }


def carried(stage: StageAssessment) -> list[Finding]:
    return [each for each in found(stage, "level") if each.measure is Measure.LENGTH]


def test_a_saddle_goes_sideways_by_its_height_over_those_below_times_the_tilt(tmp_path: Path) -> None:
    (told,) = carried(judged(stacked(20), tmp_path).stages[0])
    assert told.value == pytest.approx(0.016, rel=0.01)
    assert (told.verdict, told.subject) == (Verdict.CAUTION, "E, F and G")
    assert "take the saddles of E, F and G 16 mm to the left" in said(told)
    assert "Distances to tipping do not count that." in said(told)


def test_what_to_do_about_it_waits_until_the_weight_is_taken(tmp_path: Path) -> None:
    first = stacked(20)
    later = first | {"stage": [*first["stage"], {"name": "later"}]}
    planned, free = (carried(stage)[0] for stage in judged(later, tmp_path).stages)
    assert "Do not touch" not in said(planned)
    assert said(free).endswith("Do not touch the stands. Take the weight back first.")


@pytest.mark.parametrize(("lower", "high"), [(0, 1000), (6, 1000), (20, 440)])
def test_what_a_tape_would_not_find_is_not_told(lower: float, high: float, tmp_path: Path) -> None:
    """Nothing; 0.006 times 800: 4.8 mm; 0.02 times 240: 4.8 mm."""
    assert carried(judged(stacked(lower, high=high), tmp_path).stages[0]) == []


def test_the_height_counts_from_the_lowest_saddle_below(tmp_path: Path) -> None:
    """One of the cradle's places lies 100 mm lower, its stand as much: 900 mm times 0.02 are 18 mm."""
    raw = stacked(20)
    low = next(each for each in raw["support"] if each["name"] == "C")
    low |= {"at": [500, -500, 100], "height": low["height"] - 100}
    (told,) = carried(judged(raw, tmp_path).stages[0])
    assert told.value == pytest.approx(0.018, rel=0.01)


@pytest.mark.parametrize(("left", "verdict"), [(17, Verdict.CAUTION), (15, Verdict.STOP)])
def test_it_is_a_stop_where_no_more_is_left_to_tipping(left: float, verdict: Verdict, tmp_path: Path) -> None:
    """The edge through E and F lies 300 mm to the left; the motor's own lean is 10 mm times 0.02: 0.2 mm."""
    stage = judged(stacked(20, y=300 - left - 0.2), tmp_path).stages[0]
    (told,) = carried(stage)
    assert told.verdict is verdict
    assert ("takes all that is left" in said(told)) is (verdict is Verdict.STOP)


@pytest.mark.parametrize(("off", "verdict"), [(3, Verdict.CAUTION), (6, Verdict.STOP)])
def test_all_that_stands_on_an_assembly_counts_together(off: float, verdict: Verdict, tmp_path: Path) -> None:
    """10 kg, 200 mm from the edge, under twice 50 kg: 175 mm to the left, so 25 mm and 20 mm: 450 mm of 10 kg.

    Its left stands, 400 mm from the right ones, are 20 mm lower: 0.05 times 800 mm are 40 mm of 100 kg, 400 mm of 10
    kg. The cradle's own lean takes 2.5 mm, that of the two 5 mm, and what their centres may be off ten times that: 30
    mm leave some, 60 mm leave nothing. One of them alone would lose 80 mm of 90.
    """
    raw = stacked(20, y=175, light=10)
    raw["body"].append({"name": "box"})
    block = raw["part"][1] | {"mass": 50, "at_pm": off}
    raw["part"][1:] = [block, block | {"name": "load", "body": "box"}]
    for each in raw["support"]:
        if each["name"] in FLOOR:
            each["at"] = [each["at"][0], each["at"][1] * 0.4, 200]
    for name, at in zip("HIJ", UPPER.values(), strict=True):
        raw["support"].append({"name": name, "use": "stand", "body": "box", "at": at, "on": "cradle"})
        raw["stage"][0]["in_place"].append(name)
    (told,) = carried(judged(raw, tmp_path).stages[0])
    assert told.value == pytest.approx(0.04, rel=0.02)
    assert told.verdict is verdict


def test_what_hangs_from_an_assembly_is_not_taken_for_a_stand(tmp_path: Path) -> None:
    job = stacked(20)
    job["equipment"].append({"name": "hoist", "kind": "hoist", "rating": 2000})
    for each in job["support"]:
        if "on" in each:
            each["use"] = "hoist"
    assert carried(judged(job, tmp_path).stages[0]) == []


def on_rubber(**of_place: float) -> StageAssessment:
    """The motor, low on wide stands, all saddles of rubber, of which the shop says that they hold by 0.5."""
    raw = stacked(0, high=440)
    raw["equipment"] = [HARD | {"friction": 0.5}]
    raw["support"] = [each | of_place if each["name"] in UPPER else each for each in raw["support"]]
    with TemporaryDirectory() as folder:
        return judged(raw, Path(folder)).stages[0]


def test_the_foot_of_a_stand_on_an_assembly_slides_before_the_rubber_on_its_saddle() -> None:
    """100 kg on feet on bare metal, 0.15 assumed: 147 N; on rubber at both ends, said at the place: 490 N."""
    feet, both = (the(each, "push", "motor") for each in (on_rubber(), on_rubber(friction=0.5)))
    assert feet.value == pytest.approx(0.15 * 100 * G, rel=0.01)
    assert both.value == pytest.approx(0.5 * 100 * G, rel=0.01)
    assert feet.verdict > both.verdict
    assert "put rubber or timber under the feet and on the saddles of" in said(feet)


def test_a_foot_stands_as_steep_as_the_assembly_under_it(tmp_path: Path) -> None:
    """The cradle leans by 20 mm in a metre, 1.1 degrees; E stands on it, and holds by atan 0.15, 8.5 degrees."""
    raw = stacked(20)
    raw["equipment"] = [HARD | {"friction": 0.5}]
    # The motor is levelled, so that its saddles lie flat.
    for each in raw["support"]:
        if each["name"] in UPPER:
            each["height"] = 600 + 0.02 * each["at"][1]
    stage = judged(raw, tmp_path).stages[0]
    grip = next(each for each in stage.statics.grips if each.support == "E")
    assert degrees(grip.angle) == pytest.approx(1.15, abs=0.02)
    assert degrees(grip.holds) == pytest.approx(8.53, abs=0.01)
    assert not grip.said
