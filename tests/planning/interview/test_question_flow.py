"""The way to a first job: answers in words become a job that can be checked, whenever one leaves and comes back."""

import signal
import subprocess
import sys
import time
from collections.abc import Mapping
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.files import read_job, read_vehicle, shipped_vehicles
from loadplan.limits import GRAVITY
from loadplan.model.vehicle import Basis
from loadplan.planning.interview.answer_parsing import AnswerError, Ask, Question, read_answer
from loadplan.planning.interview.first_job import job_text
from loadplan.planning.interview.question_flow import (
    Answers,
    next_question,
    questions,
    values,
    with_answer,
    without_last,
)
from loadplan.units import System
from tests.planning.typed import METRIC, US, all_typed

SHIPPED = dict(shipped_vehicles())


def new(file: Path, lines: list[str]) -> subprocess.CompletedProcess[str]:
    text = "".join(f"{line}\n" for line in lines)
    command = [sys.executable, "-m", "loadplan", "new", str(file)]
    return subprocess.run(command, input=text, capture_output=True, text=True, check=False)


def made(folder: Path, answers: Mapping[str, str]) -> Path:
    path = folder / "made.toml"
    _, kept = all_typed(answers, tuple(SHIPPED))
    known = values(kept)
    stand_in = SHIPPED.get(str(known["shell"]))
    path.write_text(job_text(known, read_vehicle(stand_in) if stand_in else None), "utf-8")
    return path


def test_answers_lead_to_a_job_that_is_judged(tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    done = new(file, all_typed(METRIC, tuple(SHIPPED))[0])
    assert (done.returncode, done.stderr) == (0, "")
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]
    job = read_job(file)
    assert [stage.name for stage in job.stages] == [
        "Set down on the stands, still bolted", "Unbolted, vehicle 50 mm up: stop", "Vehicle raised clear", "Work",
        "Left overnight", "Vehicle back down to 50 mm over the unit", "Bolted up", "Stands away",
    ]  # fmt: skip
    found = assess(job)
    assert found.basis is Basis.GUESS
    assert all(group.balanced for stage in found.stages for group in stage.statics.groups)


def test_lumps_lie_between_their_edges_with_60_mm_either_way(tmp_path: Path) -> None:
    parts = {part.name: part for part in read_job(made(tmp_path, METRIC)).vehicle.parts}
    engine, gearbox = parts["dressed engine"], parts["gearbox"]
    assert engine.at == pytest.approx((0.105, -0.23, 0.18 + 0.3225))
    assert engine.at_pm == pytest.approx((0.06, 0.06, 0.06))
    # Bare 100 to 150 kg, and 20 to 75 kg on it.
    assert (engine.mass - engine.mass_pm, engine.mass + engine.mass_pm) == pytest.approx((120, 225))
    assert (gearbox.mass, gearbox.mass_pm) == pytest.approx((48, 0.02 * 48), abs=0.05)


def test_the_rest_of_the_vehicle_and_its_lumps_weigh_down_the_axles_as_answered(tmp_path: Path) -> None:
    parts = read_job(made(tmp_path, METRIC)).vehicle.parts
    weight = sum(part.mass for part in parts)
    assert weight == pytest.approx(1180, abs=0.3)
    assert sum(part.mass * part.at[0] for part in parts) / weight == pytest.approx(-2.540 * 0.38, abs=1e-3)
    assert sum(part.mass * part.at[1] for part in parts) == pytest.approx(0, abs=0.1)


def test_either_units_make_the_same_job(tmp_path: Path) -> None:
    job = read_job(made(tmp_path, US))
    assert job.us_units
    assert job.supports[0].at == pytest.approx((17.5 * 0.0254, 15.75 * 0.0254, 7 * 0.0254), abs=2e-4)
    assert job.supports[1].at == pytest.approx((0.445, -0.4, 7 * 0.0254), abs=3e-4)
    assert job.supports[0].equipment.rating == pytest.approx(3000 * GRAVITY, rel=1e-4)
    assert job.supports[0].equipment.heights is not None
    assert job.supports[0].equipment.heights.settings[1] == pytest.approx(12.25 * 0.0254)


def test_a_vehicle_that_ships_makes_the_job_one_for_practice(tmp_path: Path) -> None:
    job = read_job(made(tmp_path, {**METRIC, "shell": "hatch-transverse-four-fwd"}))
    own = read_vehicle(SHIPPED["hatch-transverse-four-fwd"])
    assert assess(job).basis is Basis.EXAMPLE
    shell = next(part for part in job.vehicle.parts if part.body == "shell")
    assert shell.mass == pytest.approx(sum(part.mass for part in own.parts if part.body == "shell"), abs=0.05)


@pytest.mark.parametrize(
    "changes",
    [
        {"prop": "no", "lift.locks": "no", "date": "", "links": "0", "mounts": "0", "bar": "yes"},
        {"kind1.step": "", "kind1.base": "", "lift.rise": "", "kind1.for": "not known", "until": ""},
        {"kinds": "2", "kind2.rating": "2 tonne", "kind2.lowest": "330", "kind2.highest": "330", "kind2.count": "4",
         "standF.kind": "2", "stands": "12", **{f"stand{each}.under": "subframe" for each in "GHIJKL"},
         **{f"stand{each}.place": "0 front, 0 left, 0 below" for each in "GHIJKL"}},
    ],
)  # fmt: skip
def test_whatever_is_left_open_the_job_can_be_read(tmp_path: Path, changes: Mapping[str, str]) -> None:
    job = read_job(made(tmp_path, {**METRIC, **changes}))
    assert assess(job).stages


def test_who_leaves_comes_back_to_the_same_question(tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    lines, _ = all_typed(METRIC, tuple(SHIPPED))
    first = new(file, lines[:20])
    assert first.returncode == 2
    assert "job.toml.part: the same command goes on" in first.stderr
    assert not file.exists()
    second = new(file, lines[20:])
    assert second.returncode == 0
    assert read_job(file).title == "Clutch"
    assert first.stdout.rstrip("> \n").splitlines()[-1] == second.stdout.splitlines()[3]


def test_ctrl_c_says_how_to_go_on_and_keeps_the_answers(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "loadplan", "new", "job.toml"]
    asked = subprocess.Popen(
        command, cwd=tmp_path, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env={"PYTHONPATH": str(Path(__file__).parents[3]), "PATH": ""},
    )  # fmt: skip
    assert asked.stdin is not None
    asked.stdin.write("us\nClutch\n")
    asked.stdin.flush()
    part = tmp_path / "job.toml.part"
    while not (part.exists() and "Clutch" in part.read_text("utf-8")):
        assert asked.poll() is None
        time.sleep(0.02)
    time.sleep(0.1)
    asked.send_signal(signal.SIGINT)
    _, told = asked.communicate()
    assert asked.returncode == 2
    assert "the same command goes on" in told
    assert "Traceback" not in told
    assert "Clutch" in part.read_text("utf-8")


def test_what_is_there_is_never_written_over(tmp_path: Path) -> None:
    file, part = tmp_path / "job.toml", tmp_path / "other.toml.part"
    file.write_text("mine", "utf-8")
    part.write_text("mine, too", "utf-8")
    for target in (file, tmp_path / "other.toml"):
        done = new(target, ["us"])
        assert done.returncode == 2
        assert "Traceback" not in done.stderr
    assert (file.read_text("utf-8"), part.read_text("utf-8")) == ("mine", "mine, too")


def test_nonsense_is_asked_again_with_the_reason(tmp_path: Path) -> None:
    done = new(tmp_path / "job.toml", ["furlongs", "?", "metric", "Clutch", "car", "", "-3", "200 kg", "3 m", "180"])
    assert "Not taken: one of these, please: metric, us." in done.stdout
    assert "Not taken: no sign, please" in done.stdout
    assert "Not taken: it must be a length" in done.stdout
    assert "Not taken: that cannot be: 3000 mm. From 50 mm to 1000 mm, please." in done.stdout
    assert done.stdout.rstrip().endswith("What does the dressed engine weigh? [leave open]\n>")


def test_one_may_go_back() -> None:
    _, kept = all_typed({"units": "us", **METRIC}, ())
    before = without_last(kept)
    question = next_question(before)
    assert question is not None
    assert question.key == list(kept.texts)[-1]


def test_no_question_asks_for_what_only_an_engineer_knows() -> None:
    asked = questions(all_typed(METRIC, tuple(SHIPPED))[1])
    words = " ".join(f"{each.asks} {each.hint}".lower() for each in asked)
    assert not any(word in words for word in ("gravity", "stiffness", "minus", "negative", " x ", " y ", " z "))
    assert len({each.key for each in asked}) == len(asked)


def test_an_edge_beyond_its_opposite_is_refused() -> None:
    answers = Answers({"units": "metric", "engine.front": "330 front"}, ())
    rear = next(each for each in questions(answers) if each.key == "engine.rear")
    assert "that cannot be" in str(with_answer(answers, rear, "400 front"))
    assert isinstance(with_answer(answers, rear, "120 behind"), Answers)


@pytest.mark.parametrize(
    ("ask", "text", "system", "value"),
    [
        (Ask.ALONG, "420 front", System.METRIC, 0.42),
        (Ask.ALONG, "16 1/2 in behind", System.METRIC, -0.4191),
        (Ask.ALONG, "16 1/2 in front", System.US, 0.4191),
        (Ask.ALONG, "16.5 behind", System.US, -0.4191),
        (Ask.ACROSS, "0", System.METRIC, 0.0),
        (Ask.ACROSS, "12 cm RIGHT", System.US, -0.12),
        (Ask.SHARE, "60", System.METRIC, 0.6),
        (Ask.MASS, "106 lb", System.METRIC, 48.08),
        (Ask.PLACE, "60 below, 420 left, 330 front", System.METRIC, (0.33, 0.42, -0.06)),
    ],
)
def test_an_answer_is_read_in_any_unit(ask: Ask, text: str, system: System, value: object) -> None:
    assert read_answer(Question("key", "?", ask, least=-5, most=200), text, system) == pytest.approx(value, abs=1e-3)


@pytest.mark.parametrize(
    ("ask", "text", "told"),
    [
        (Ask.ALONG, "420", "say front or behind"),
        (Ask.ALONG, "7.5 in front", "may mean inches"),
        (Ask.ALONG, "-420 front", "no sign"),
        (Ask.ACROSS, "420 front", "say left or right"),
        (Ask.PLACE, "330 front, 420 left", "how far above or below the lift pads"),
        (Ask.PLACE, "330 front, 420 behind, 3 above", "three distances"),
        (Ask.MASS, "3 ton", "ambiguous"),
        (Ask.LENGTH, "12,5", "comma"),
        (Ask.LENGTH, "", "needed"),
        (Ask.YES_NO, "maybe", "yes or no"),
        (Ask.WHOLE, "2.5", "whole number"),
        (Ask.DAY, "20.11.2026", "a day such as"),
    ],
)
def test_an_answer_that_is_none_says_what_would_be(ask: Ask, text: str, told: str) -> None:
    with pytest.raises(AnswerError, match=told):
        read_answer(Question("key", "?", ask, least=-5, most=200), text, System.METRIC)
