"""What is asked so that locks and the way up can be judged: the lift's locks, the ceiling, how low and how high."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest

import loadplan
from loadplan.assess import assess
from loadplan.files import read_job, read_shop, shipped_folder
from loadplan.model.shop import Shop
from loadplan.model.verdict import Assessment, CheckName, Verdict
from loadplan.planning.interview.first_job import Named
from loadplan.planning.interview.new_files import Beside, files_of_answers
from loadplan.planning.interview.question import Question
from loadplan.planning.interview.question_flow import Answers, course, questions, with_answer
from loadplan.planning.interview.questions_on_job import Beginning
from loadplan.planning.interview.typical_answers import typical_units
from loadplan.planning.settings.set_heights import plan_heights
from loadplan.report.words.number_format import write_finding
from loadplan.units import System
from tests.planning.typed import EMPTY, METRIC, ON_STANDS, US, all_typed

SHOP, _ = read_shop(shipped_folder("demo") / "shop.toml")
MEANT = "if that is what is meant"
HEIGHTS = ("shell.bottom", "shell.top")


def made(folder: Path, other: Mapping[str, str], answers: Mapping[str, str] = METRIC) -> Assessment:
    """What a job made of answers comes to with its stands set."""
    kept = all_typed(answers | other)[1]
    for name, content in files_of_answers(kept, Beside("job.toml", Named("", ""), lambda _: False)).items():
        (folder / name).write_bytes(content)
    return assess(plan_heights(read_job(folder / "job.toml")).job)


def clearances(whole: Assessment) -> list[tuple[Verdict, str]]:
    found = {each.says: each for stage in whole.stages for each in stage.findings if each.check is CheckName.CLEARANCE}
    return [(each.verdict, write_finding(each, System.METRIC)) for each in found.values()]


def asked(answers: Answers) -> dict[str, Question]:
    return {each.key: each for each in questions(answers)}


@pytest.mark.parametrize("answers", [METRIC, US])
def test_with_the_answers_the_way_up_is_judged(answers: Mapping[str, str], tmp_path: Path) -> None:
    told = clearances(made(tmp_path, {}, answers))
    assert len(told) == 2
    assert {verdict for verdict, _ in told} == {Verdict.HOLDS}
    assert ["lift ends" in text for _, text in told] == [True, False]
    assert "the ceiling is in the way" in told[1][1]


@pytest.mark.parametrize(
    ("lift", "verdict"),
    [
        ({"lift.ceiling": "2400", "shell.top": "1700"}, Verdict.STOP),
        ({"lift.ceiling": "2480", "shell.top": "1700"}, Verdict.CAUTION),
        ({"lift.rise": "1200"}, Verdict.HOLDS),
    ],
)
def test_too_little_room_over_the_unit_is_told(lift: Mapping[str, str], verdict: Verdict, tmp_path: Path) -> None:
    whole = made(tmp_path, lift | {"prop": "no"})
    assert max(each for each, _ in clearances(whole)) is verdict


@pytest.mark.parametrize("text", ["", "don't know", "not known", "-", "n/a"])
def test_what_is_not_known_stays_open_and_is_told_as_not_checked(text: str, tmp_path: Path) -> None:
    whole = made(tmp_path, dict.fromkeys((*HEIGHTS, "lift.ceiling", "lift.lock_step"), text))
    assert [verdict for verdict, _ in clearances(whole)] == [Verdict.NOTE]
    assert whole.job.lift is not None
    assert (whole.job.lift.lift.ceiling, whole.job.lift.lift.lock_step) == (None, None)
    told = "".join(str(piece) for says in whole.not_checked for piece in says)
    assert "how far they are apart (lock_step, 0 on screws)" in told


def test_locks_further_apart_than_the_window_are_a_caution(tmp_path: Path) -> None:
    whole = made(tmp_path, {"lift.lock_step": "80"})
    cautions = {each.check for each in whole.stages[0].findings if each.verdict is Verdict.CAUTION}
    assert CheckName.SET_DOWN in cautions
    assert whole.job.lift is not None
    assert whole.job.lift.lift.lock_step == pytest.approx(0.08)


def test_the_spacing_of_locks_is_asked_only_of_a_lift_that_has_some() -> None:
    kept = all_typed(METRIC)[1]
    assert "lift.lock_step" in asked(kept)
    assert "lift.lock_step" not in asked(replace(kept, texts={**kept.texts, "lift.locks": "no"}))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("0", ""),
        ("25", ""),
        ("24", "24 mm is odd for what lies between two locks: most are 25 mm to 200 mm"),
        ("201", "201 mm is odd for what lies between two locks: most are 25 mm to 200 mm"),
        ("800", "that cannot be: 800 mm. From 0 mm to 500 mm, please"),
        ("-80", "no sign, please: the question says in which direction it counts"),
        ("3 1/8 in", ""),
    ],
)
def test_a_spacing_that_no_lift_has_is_asked_about_or_refused(text: str, says: str) -> None:
    kept = all_typed(METRIC)[1]
    assert with_answer(kept, asked(kept)["lift.lock_step"], text).says == says


@pytest.mark.parametrize(
    ("key", "text", "says"),
    [
        ("shell.bottom", "180", ""),
        ("shell.bottom", "181", "the lift pads touch the vehicle at 180 mm, so 181 mm is not its lowest edge"),
        ("shell.bottom", "79", "79 mm is odd for the lowest edge of a vehicle on its wheels: most are 80 mm to 600 mm"),
        ("shell.bottom", "17", f"that cannot be: 17 mm. From 30 mm to 900 mm, please; write 17 cm {MEANT}"),
        ("shell.top", "1.48", f"that cannot be: 1.48 mm. From 1000 mm to 4500 mm, please; write 1.48 m {MEANT}"),
        ("shell.top", "1199", "1199 mm is odd for a vehicle on its wheels: most are 1200 mm to 2900 mm"),
        ("lift.ceiling", "2399", "2399 mm is odd for a room with a vehicle lift: most are 2400 mm to 8000 mm"),
    ],
)  # fmt: skip
def test_a_height_that_cannot_be_is_not_taken_unasked(key: str, text: str, says: str) -> None:
    kept = all_typed(METRIC)[1]
    assert with_answer(kept, asked(kept)[key], text).says == says


@pytest.mark.parametrize(
    ("change", "keys"),
    [
        ({}, HEIGHTS),
        ({"ceiling": None}, ("shell.bottom",)),
        ({"rise": None}, HEIGHTS),
        ({"rise": None, "ceiling": None}, ()),
    ],
)
def test_in_a_known_shop_only_what_its_lift_is_held_against_is_asked(
    change: Mapping[str, None], keys: tuple[str, ...]
) -> None:
    lifts = tuple(replace(each, **change) for each in SHOP.lifts)
    shop: Shop = replace(SHOP, lifts=lifts)
    begin = Beginning(typical=typical_units(), shop=shop, system=System.METRIC)
    answers = Answers({key: text for key, text in METRIC.items() if key != "units"}, begin)
    assert tuple(each for each in asked(answers) if each in HEIGHTS) == keys


def test_of_a_vehicle_that_is_set_down_itself_no_such_height_is_asked() -> None:
    assert not set(HEIGHTS) & set(asked(Answers(ON_STANDS, EMPTY)))


def test_they_are_asked_of_a_typical_unit_too_which_has_none() -> None:
    texts = {"units": "metric", "what": "front unit", "start": "typical-front-unit", "differs": "nothing"}
    known = course(Answers(texts, EMPTY))
    open_ones = [each.key for each in known.questions() if not known.answered(each)]
    assert set(HEIGHTS) <= set(open_ones)


def test_the_demo_lift_on_screws_has_a_lock_everywhere() -> None:
    assert [each.lock_step for each in SHOP.lifts] == [0.0]
    assert loadplan.read_job(shipped_folder("demo") / "front-unit.toml").lift is not None
