"""The vehicle's file from answers: what comes off is taken from what it comes off. Made-up answers, by hand."""

from collections.abc import Mapping
from pathlib import Path

import numpy as np
import pytest

from loadplan.planning.interview.first_vehicle import AnsweredPart, AnsweredVehicle
from loadplan.planning.interview.question_flow import Answers, values
from loadplan.planning.interview.unit_kinds import UNIT_KINDS
from tests.planning.interview.test_question_flow import made
from tests.planning.typed import EMPTY, METRIC, ON_STANDS

BUMPER = {"off": "bumper 10 kg", "off1": "500 front, 0, 200 above", "pads.height": "180", "share": "60"}


def parts(texts: Mapping[str, str]) -> dict[str, AnsweredPart]:
    known = values(Answers(texts, EMPTY))
    return {each.name: each for each in AnsweredVehicle(known, UNIT_KINDS[texts["what"]]).parts}


def test_what_comes_off_a_vehicle_on_stands_is_taken_from_the_whole() -> None:
    """By hand: 1450 kg, 40 % of the wheelbase of 2600 mm behind: 1040 mm; the two together are as weighed."""
    told = parts(ON_STANDS | BUMPER)
    rest, bumper = told["whole vehicle"], told["bumper"]
    assert [each.body for each in (rest, bumper)] == ["shell", "shell"]
    assert (rest.weight.mass, bumper.weight.mass, bumper.weight.mass_pm) == (1440.0, 10.0, 2.0)
    assert bumper.at == pytest.approx((0.5, 0.0, 0.38))
    assert 1440.0 * rest.at[0] + 10.0 * bumper.at[0] == pytest.approx(1450.0 * -1.04)
    assert rest.weight.mass_pm == pytest.approx(0.05 * 1450.0)
    assert parts(ON_STANDS | {"share": "60"})["whole vehicle"].at[0] == pytest.approx(-1.04)


def test_a_vehicle_on_stands_of_which_something_comes_off_makes_a_job(tmp_path: Path) -> None:
    job = made(tmp_path, ON_STANDS | BUMPER)
    assert [stage.off for stage in job.stages if stage.off] == [("bumper",)]
    assert {each.name for each in job.vehicle.parts} == {"whole vehicle", "bumper"}


@pytest.mark.parametrize(
    ("off", "mass", "pm"),
    [
        ("20", 30.0, 22.0),
        # No more may be off than stands there.
        ("40", 10.0, 9.0),
        ("45", 5.0, 4.5),
        # One that is as heavy as the whole lump was weighed amiss, or the lump was: nothing is taken from it.
        ("46", 50.0, 22.0),
    ],
)
def test_a_lump_less_what_comes_off_it_weighs_the_rest(off: str, mass: float, pm: float) -> None:
    # Said to come off the gearbox, though it lies over the engine.
    answers = {
        "gearbox.weight": "50 kg +- 22 kg",
        "off": f"pump {off} kg",
        "off1": "gearbox, 100 front, 200 right, 300 above",
    }
    told = parts(METRIC | answers)
    assert (told["gearbox"].weight.mass, told["gearbox"].weight.mass_pm) == (pytest.approx(mass), pytest.approx(pm))
    assert (told["pump"].body, told["pump"].weight.mass) == ("powertrain", float(off))
    if mass < 50.0:
        both = [each * np.array(told[name].at) for name, each in (("gearbox", mass), ("pump", float(off)))]
        middle = ((0.26 - 0.06) / 2, (0.4 - 0.04) / 2, (0.33 + 0.04) / 2 + 0.18)
        assert sum(both) == pytest.approx(50.0 * np.array(middle))
