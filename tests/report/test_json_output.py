"""The machine output: keys, order and units as agreed; null, never NaN."""

import json
from dataclasses import replace
from math import inf, nan, radians

import pytest

from loadplan import __version__
from loadplan.limits import GRAVITY
from loadplan.model.lowering import PartedBody
from loadplan.model.step_change import (
    Drop,
    Halfway,
    Raising,
    Severity,
    StepChange,
    Trouble,
    Undoing,
    Unloading,
)
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Assessment, Finding, Measure, Verdict
from loadplan.report.json_output import SCALES, to_dict
from loadplan.units import System
from tests.report.builders import ROCKS, TIPS, assessment, finding

TOP = ["schema", "loadplan", "title", "verdict", "basis", "assumed", "not_checked", "cautions", "stages"]
STAGE = [
    "name",
    "verdict",
    "groups",
    "bodies",
    "supports",
    "joints",
    "modes",
    "proof",
    "push",
    "pull",
    "set_down",
    "lift",
    "alignment",
    "sway",
    "lost",
    "grip",
    "laid_on",
    "drop",
    "undoing",
    "unloading",
    "one_more",
    "readings",
    "findings",
]
BODY = [
    "name",
    "rigid_with",
    "mass_kg",
    "cg_mm",
    "balanced",
    "margin_mm",
    "worst_margin_mm",
    "tip_angle_deg",
    "lean_mm",
    "tilt_deg",
]


@pytest.fixture(scope="module")
def told() -> dict:
    return json.loads(json.dumps(to_dict(assessment(), System.METRIC), allow_nan=False))


def test_keys_and_their_order_are_as_agreed(told: dict) -> None:
    stage = told["stages"][1]
    assert list(told) == TOP
    assert list(stage) == STAGE
    assert list(stage["bodies"][0]) == BODY
    assert list(stage["bodies"][0]["tilt_deg"]) == ["left_up", "nose_up"]
    assert list(stage["supports"][0]) == ["name", "equipment", "body", "at_mm", "there", "load_n", "rating_n", "share"]
    assert list(stage["supports"][0]["load_n"]) == ["expected", "low", "high", "bound_low", "bound_high"]
    assert list(stage["joints"][0]) == ["name", "between", "at_mm", "there", "force_n"]
    assert list(stage["modes"][0]) == ["about", "bodies", "margin_mm"]
    assert list(stage["lost"][0]) == ["support", "balanced", "turns_about"]
    assert list(stage["push"][0]) == ["bodies", "body", "least_n", "direction_deg", "first"]
    assert list(stage["lift"]) == ["cg_mm", "shift_mm", "total_n"]
    assert list(stage["findings"][0]) == ["check", "verdict", "subject", "value", "limit", "unit", "says"]
    assert list(told["stages"][0]["set_down"]) == ["from_mm", "to_mm", "lowered_mm", "bodies"]


def test_the_head_names_schema_version_verdict_and_basis(told: dict) -> None:
    assert (told["schema"], told["loadplan"]) == ("loadplan-report-1", __version__)
    assert (told["verdict"], told["basis"]) == ("stop", "data sheet")
    assert len(told["cautions"]) == 8
    assert told["cautions"][6] == "The numbers are only as good as the weights: data sheet."


def test_cautions_are_in_the_units_of_all_sentences() -> None:
    """As the manual says of `--units`: numbers stay what they are, sentences do not."""
    made = [json.loads(json.dumps(to_dict(assessment(), units))) for units in System]
    assert [each["cautions"][5].partition("Raise ")[2] for each in made] == ["50 mm, stop, look.", "2 in, stop, look."]


def test_lengths_are_mm_loads_newtons_angles_degrees(told: dict) -> None:
    stage = told["stages"][1]
    powertrain, e = stage["bodies"][2], stage["supports"][4]
    assert powertrain["cg_mm"] == pytest.approx([30.0, -45.0, 520.0])
    assert powertrain["tilt_deg"] == pytest.approx({"left_up": 0.1145916, "nose_up": -0.1718873})
    assert e["load_n"]["expected"] == pytest.approx(173.0 * GRAVITY)
    assert e["rating_n"] == pytest.approx(1500 * GRAVITY)
    assert e["share"] == pytest.approx(e["load_n"]["high"] / e["rating_n"])
    assert stage["lift"]["total_n"] == pytest.approx(1150 * GRAVITY)
    assert stage["push"][0]["direction_deg"] == pytest.approx(211.9944)
    down = told["stages"][0]["set_down"]
    assert [down[key] for key in ("from_mm", "to_mm", "lowered_mm")] == pytest.approx([7.0, 12.5, 9.0])


def test_what_happens_between_two_steps_is_told_in_mm_and_newtons() -> None:
    made = assessment()
    down = SET_DOWN_BY_BODY
    change = StepChange(
        drops=(Drop("E", "powertrain", 0.0012),),
        undoing=Undoing(("engine mount", "gearbox mount"), every_order=True, alike=True, listed=False, worst=FINE),
        unloadings=(Unloading("A", 320.0, Raising("B", 0.0021)), Unloading("C", None, None)),
    )
    stage = made.stages[0]
    assert stage.statics.set_down is not None
    statics = replace(stage.statics, change=change, set_down=replace(stage.statics.set_down, parted=down))
    told = to_dict(replace(made, stages=(replace(stage, statics=statics),)), System.METRIC)["stages"]
    assert isinstance(told, list)
    assert isinstance(told[0], dict)
    assert told[0]["drop"] == [{"place": "E", "drop_mm": pytest.approx(1.2)}]
    assert told[0]["undoing"] == {"order": ["engine mount", "gearbox mount"], "every_order": True}
    assert told[0]["unloading"] == [
        {"support": "A", "load_n": 320.0, "raise": {"support": "B", "by_mm": pytest.approx(2.1)}},
        {"support": "C", "load_n": None, "raise": None},
    ]
    assert isinstance(told[0]["set_down"], dict)
    assert told[0]["set_down"]["bodies"] == [
        {"name": "subframe", "carried_n": 310.0, "mounts_n": 120.0, "drop_mm": pytest.approx(0.7)},
        {"name": "powertrain", "carried_n": 0.0, "mounts_n": None, "drop_mm": None},
    ]


FINE = Halfway(Severity.FINE, Trouble.NONE, (), (), None)
SET_DOWN_BY_BODY = (
    PartedBody("subframe", 310.0, 120.0, ("subframe bolts",), 0.0007),
    PartedBody("powertrain", 0.0, None, ("engine mount",), None),
)


def test_supports_come_in_the_jobs_order_then_the_arms_by_their_pads(told: dict) -> None:
    names = [each["name"] for each in told["stages"][0]["supports"]]
    pads = ["sill front left", "sill front right", "sill rear left", "sill rear right"]
    assert names == [*"ABCDEF", *pads]


def test_bolted_joints_stand_at_the_mean_of_their_places_and_tell_no_force(told: dict) -> None:
    bolts = told["stages"][0]["joints"][1]
    between, at = ["subframe", "shell"], [0, 0, 400]
    assert bolts == {"name": "subframe bolts", "between": between, "at_mm": at, "there": True, "force_n": None}
    assert told["stages"][1]["joints"][0]["force_n"] == 412.0


def test_modes_of_all_groups_come_least_margin_first(told: dict) -> None:
    modes = told["stages"][1]["modes"]
    least = [min(mode["margin_mm"].values()) for mode in modes]
    assert least == sorted(least)
    assert {body for mode in modes for body in mode["bodies"]} == {"shell", "subframe", "powertrain"}
    assert modes[0] == {
        "about": ["E", "rear roll link"],
        "bodies": ["powertrain"],
        "margin_mm": {"powertrain": pytest.approx(149.9529)},
    }


def test_each_proof_is_of_its_kind(told: dict) -> None:
    balanced, free, tips = (told["stages"][k]["proof"][-1] for k in (1, ROCKS, TIPS))
    assert balanced["balance"]["supports"]["E"] == pytest.approx(173.0 * GRAVITY)
    assert list(balanced["balance"]["joints"]) == ["rear roll link"]
    assert free["free"]["powertrain"] == {"w": -0.27, "rx": 0.0, "ry": 1.0}
    assert set(tips["tips"]) == {"subframe", "powertrain"}


def test_out_of_balance_loads_margins_and_tilt_are_null(told: dict) -> None:
    stage = told["stages"][TIPS]
    body, a = stage["bodies"][2], stage["supports"][0]
    assert [body[key] for key in ("balanced", "margin_mm", "worst_margin_mm", "tip_angle_deg")] == [
        False,
        None,
        None,
        None,
    ]
    assert body["tilt_deg"] == {"left_up": None, "nose_up": None}
    assert set(a["load_n"].values()) == {None}
    assert a["share"] is None
    assert a["rating_n"] is not None


def with_finding(told: Finding) -> Assessment:
    whole = assessment()
    return replace(whole, stages=(replace(whole.stages[0], findings=(told,)),))


@pytest.mark.parametrize("value", [nan, inf, -inf])
def test_what_is_no_number_is_null(value: float) -> None:
    whole = with_finding(finding("rating", Verdict.HOLDS, "A", ("It holds.",), value, None, Measure.LOAD))
    told = to_dict(whole, System.METRIC)
    assert json.loads(json.dumps(told, allow_nan=False))["stages"][0]["findings"][0]["value"] is None


@pytest.mark.parametrize(
    ("measure", "value", "told", "unit"),
    [
        (Measure.LENGTH, 0.05, 50.0, "mm"),
        (Measure.LOAD, 310.0, 310.0, "N"),
        (Measure.FORCE, 225.0, 225.0, "N"),
        (Measure.MASS, 41.0, 41.0, "kg"),
        (Measure.ANGLE, radians(10), 10.0, "degrees"),
        (Measure.SHARE, 0.75, 0.75, "1"),
        (Measure.STRESS, 4.3e6, 4.3, "N/mm2"),
        (Measure.COUNT, 6.0, 6.0, "pieces"),
        (Measure.DAYS, 30.0, 30.0, "days"),
    ],
)
def test_a_finding_tells_its_numbers_in_the_unit_it_names(
    measure: Measure, value: float, told: float, unit: str
) -> None:
    whole = with_finding(finding("any", Verdict.NOTE, "A", ("So.",), value, value, measure))
    found = to_dict(whole, System.METRIC)["stages"][0]["findings"][0]
    assert (found["value"], found["limit"], found["unit"]) == (pytest.approx(told), pytest.approx(told), unit)
    assert set(SCALES) == set(Measure)


@pytest.mark.slow
def test_the_readers_units_change_only_the_sentences() -> None:
    metric, us = (to_dict(assessment(), units) for units in System)
    sentences = [[each.pop("says") for each in stage["findings"]] for told in (metric, us) for stage in told["stages"]]
    assert metric.pop("cautions") != us.pop("cautions"), "50 mm there is 2 in here"
    assert metric == us
    half = len(sentences) // 2
    assert sentences[:half] != sentences[half:]
    assert "49 mm from tipping" in sentences[1][3]
    assert "1 7/8 in from tipping" in sentences[half + 1][3]


def test_invented_weights_are_named_everywhere() -> None:
    assert to_dict(assessment(basis=Basis.EXAMPLE), System.METRIC)["basis"] == "example"
