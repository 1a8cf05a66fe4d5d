"""Under the heavy end stands only what goes there: low just over the unit, tall while the vehicle is up."""

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from math import inf
from pathlib import Path
from types import MappingProxyType

import pytest

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.model.job import Job
from loadplan.model.shop import Equipment, Heights
from loadplan.model.vehicle import Point
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.interview.first_job import Named, stands_lacking
from loadplan.planning.interview.new_files import Beside, files_of_answers
from loadplan.planning.interview.prop_stands import PropRoom, PropStands
from loadplan.planning.interview.question_flow import values
from loadplan.planning.settings.set_heights import plan_heights
from loadplan.units import System
from tests.planning.jobs import STAND as STANDS
from tests.planning.typed import METRIC, ON_A_BEAM, ON_STANDS, all_typed

TAIL_AT = 0.24 + 0.11 + 0.05
"""How high the tail hangs 50 mm over the unit [m]: its place in the file, the level of the unit, the lift."""

NOTHING: Mapping[str, str] = MappingProxyType({})


def _planned(folder: Path, other: Mapping[str, str] = NOTHING) -> tuple[Job, str, tuple[str, ...]]:
    """Return the job of some answers with its heights set, the text of its file, and what it says the shop lacks."""
    _, answers = all_typed({**METRIC, **other})
    for name, content in files_of_answers(answers, Beside("job.toml", Named("", ""), lambda _: False)).items():
        (folder / name).write_bytes(content)
    job = read_job(folder / "job.toml")
    lacking = stands_lacking(values(answers), job.vehicle, job.shop, answers.system)
    return plan_heights(job).job, (folder / "job.toml").read_text("utf-8"), lacking


def _standing(job: Job) -> list[list[str]]:
    """Return what stands under the tail after each step."""
    return [[each.equipment.name for each in stage.state.supports if each.standby] for stage in assess(job).stages]


def _boxes(text: str, step: str) -> list[str]:
    """Return the boxes of a step in the text of a job's file."""
    stages = tomllib.loads(text)["stage"]
    return next(list(each["confirm"]) for each in stages if each["name"] == step)


def _cautions(job: Job) -> set[CheckName]:
    stages = assess(job).stages
    return {each.check for stage in stages for each in stage.findings if each.verdict >= Verdict.CAUTION}


def test_a_low_stand_stands_there_just_over_the_unit_and_a_tall_one_while_the_vehicle_is_up(tmp_path: Path) -> None:
    job, text, lacking = _planned(tmp_path)
    assert _standing(job) == [[], ["stand"], *([["tall stand"]] * 3), ["stand"], [], []]
    low = next(each for each in job.supports if each.name == "tail stand")
    assert low.equipment.heights is not None
    assert low.equipment.heights.lowest < TAIL_AT < low.equipment.heights.highest
    assert (low.tag, lacking, _cautions(job)) == ("S7", (), {CheckName.BASIS})
    assert _boxes(text, "Unbolted, vehicle 50 mm up: stop") == [
        "vehicle up 50 mm, lift on its locks",
        "tail stand run up to just touch when the lift stands",
    ]
    assert _boxes(text, "Vehicle raised clear") == [
        "tail stand away before the lift moves",
        "vehicle raised until it is clear of the unit all round",
        "lift on its locks again",
        "tail prop run up to just touch when the lift stands",
    ]
    assert _boxes(text, "Vehicle back down to 50 mm over the unit") == [
        "tail prop away before the lift moves",
        "vehicle down to 50 mm over the unit",
        "lift on its locks again",
        "tail stand run up to just touch when the lift stands",
    ]
    assert _boxes(text, "Bolted up") == [
        "tail stand away before the lift moves",
        "lift on its locks again when the vehicle is down",
    ]


@pytest.mark.parametrize(
    "other",
    [
        {"gear1.owned": "S1 to S6"},  # none is left
        {"gear1.heights": "290 to 390 step 20"},  # too low
        {"prop.place": "2900 behind, 0, 110 below"},  # too high
    ],
)
def test_where_no_low_stand_fits_none_is_planned_and_the_file_says_which_is_wanted(
    other: Mapping[str, str], tmp_path: Path
) -> None:
    job, text, lacking = _planned(tmp_path, other)
    assert _standing(job) == [[], [], *([["tall stand"]] * 3), [], [], []]
    assert _cautions(job) == {CheckName.BASIS, CheckName.LIFT}
    height = TAIL_AT - (0.17 if "prop.place" in other else 0.0)
    assert lacking == (
        "No free stand of the shop goes under tail while the vehicle is 50 mm over the unit: one is needed that goes "
        f"from {1000 * height - 10:.0f} mm or less to {1000 * height + 10:.0f} mm or more.",
    )
    assert f"# {lacking[0]}\n" in text


def test_one_stand_that_goes_to_both_heights_stays(tmp_path: Path) -> None:
    job, text, _ = _planned(tmp_path, {"prop.heights": "380 to 1980"})
    assert _standing(job) == [[], *([["tall stand"]] * 5), [], []]
    assert [each.name for each in job.supports if each.standby] == ["tail prop"]
    assert text.count('"tail prop away before the lift moves"') == 3


def test_a_tall_stand_that_does_not_reach_is_not_planned(tmp_path: Path) -> None:
    """The engine is 790 mm high on its wheels and stands 110 mm higher; the edge at 170 mm has to come over it."""
    job, _, lacking = _planned(tmp_path, {"prop.heights": "500 to 920"})
    assert _standing(job) == [[], ["stand"], [], [], [], ["stand"], [], []]
    least = round(0.24 + 0.79 + 0.11 - 0.17, 2)
    assert lacking == (
        "No free stand of the shop goes under tail while the vehicle is up: one is needed that can be set between "
        f"{1000 * least:.0f} mm and {1000 * (0.24 + 1.9 - 0.18):.0f} mm.",
    )


def test_a_tall_stand_that_the_lift_does_not_come_up_to_is_not_planned(tmp_path: Path) -> None:
    assert _planned(tmp_path, {"lift.rise": "1.25 m", "prop.heights": "1400 to 1980"})[2] != ()
    assert _planned(tmp_path, {"lift.rise": "", "prop.heights": "1400 to 1980"})[2] == ()


def test_where_somebody_wants_none_none_is_planned_or_missed(tmp_path: Path) -> None:
    job, _, lacking = _planned(tmp_path, {"prop": "no"})
    assert (_standing(job), lacking) == ([[]] * 8, ())


TAIL = Point("tail", "shell", (-2.9, 0.0, 0.24), None, "")
LOW = "What stands under tail while the vehicle is 50 mm over the unit is not planned: nobody knows yet how high the "
LIFT_LOW = "The vehicle is clear of the unit with tail 1000 mm over the floor, and the lift raises it to 960 mm at the "


@pytest.mark.parametrize(
    ("low", "tall", "system", "told"),
    [
        (None, None, System.METRIC, f"{LOW}unit stands. Plan a stand that just touches there."),
        (
            PropRoom(0.41, 0.39),
            None,
            System.METRIC,
            "No free stand of the shop goes under tail while the vehicle is 50 mm over the unit: one is needed that "
            "goes from 390 mm or less to 410 mm or more.",
        ),
        (
            PropRoom(0.41, 0.39),
            None,
            System.US,
            "No free stand of the shop goes under tail while the vehicle is 2 in over the unit: one is needed that "
            "goes from 15.5 in or less to 16 in or more.",
        ),
        (
            STANDS,
            PropRoom(1.0, 1.96),
            System.METRIC,
            "No free stand of the shop goes under tail while the vehicle is up: one is needed that can be set between "
            "1000 mm and 1960 mm.",
        ),
        (
            STANDS,
            PropRoom(1.0, inf),
            System.METRIC,
            "No free stand of the shop goes under tail while the vehicle is up: one is needed that can be set to "
            "1000 mm or more.",
        ),
        # No stand helps where the lift does not go so high.
        (STANDS, PropRoom(1.0, 0.96), System.METRIC, f"{LIFT_LOW}most: it does not come out like that."),
    ],
)
def test_what_is_wanted_is_told_in_the_reader_s_units(
    low: PropRoom | Equipment | None, tall: PropRoom | None, system: System, told: str
) -> None:
    stands = low if isinstance(low, Equipment) else None
    lacking = PropStands(TAIL, stands, None, low if isinstance(low, PropRoom) else None, tall)
    assert list(lacking.lacking(system)) == [told]


def test_where_both_stands_are_there_nothing_is_wanted() -> None:
    room, tall = PropRoom(1.0, 1.96), replace(STANDS, name="tall")
    both = PropStands(TAIL, STANDS, tall, PropRoom(0.41, 0.39), room)
    assert (list(both.lacking(System.METRIC)), both.low_name, both.tall_name) == ([], "tail stand", "tail prop")
    assert both.supports == {"tail stand": STANDS, "tail prop": tall}
    one = PropStands(TAIL, tall, tall, room, room)
    assert (one.low_name, one.tall_name, one.supports) == ("tail prop", "tail prop", {"tail prop": tall})
    none = PropStands(None)
    assert (list(none.lacking(System.METRIC)), none.low_name, none.tall_name, none.supports) == ([], "", "", {})


@pytest.mark.parametrize(
    ("heights", "takes"),
    [((0.3, 1.0), True), ((0.3, 0.99), False), ((1.96, 2.5), True), ((1.97, 2.5), False), (None, False)],
)
def test_a_stand_goes_there_that_reaches_into_the_room(
    heights: tuple[float, float] | None,
    takes: bool,  # noqa: FBT001 - a row
) -> None:
    stand = replace(STANDS, heights=Heights(*heights, ()) if heights else None)
    assert PropRoom(1.0, 1.96).takes(stand) is takes


UP, DOWN = "vehicle up, lift on its locks, before the stands are set under it", "vehicle down on the stands slowly"
"""How the vehicle is moved in the first step."""

EMPTY, TURNS = "vehicle raised until the stands are empty", "stands empty: each turns by hand before it is taken away"
"""How it is in the last."""

LOCKED = "lift on its locks again"


def test_somebody_is_told_to_raise_and_to_lower_the_vehicle_and_to_lock_it(tmp_path: Path) -> None:
    _, text, _ = _planned(tmp_path)
    assert _boxes(text, "Set down on the stands, still bolted") == [UP, DOWN, LOCKED]
    assert _boxes(text, "Stands away") == [EMPTY, LOCKED, TURNS]


def test_a_vehicle_that_is_set_down_itself_is_told_of_in_the_same_way() -> None:
    _, answers = all_typed(ON_STANDS)
    text = files_of_answers(answers, Beside("job.toml", Named("", ""), lambda _: False))["job.toml"].decode()
    assert _boxes(text, "Set down on the stands") == [UP, DOWN, LOCKED]
    assert _boxes(text, "Lift away") == ["lift down until its pads are free all round"]
    assert _boxes(text, "Lift back under it") == ["lift up until every pad just touches"]
    assert _boxes(text, "Stands away") == [EMPTY, LOCKED, TURNS]


def test_a_lift_without_locks_is_not_locked_and_what_hangs_from_the_vehicle_is_away_before_it_moves() -> None:
    """On a table and a beam: a table does not turn by hand."""
    _, answers = all_typed(ON_A_BEAM)
    text = files_of_answers(answers, Beside("job.toml", Named("", ""), lambda _: False))["job.toml"].decode()
    assert "locks" not in text
    assert _boxes(text, "Unbolted, vehicle 50 mm up: stop") == ["E away before the lift moves", "vehicle up 50 mm"]
    free = "all under it empty: each is free by hand before it is taken away"
    assert _boxes(text, "Stands away") == [EMPTY, free]
