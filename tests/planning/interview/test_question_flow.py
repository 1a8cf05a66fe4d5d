"""The way to a first job: answers in words become a vehicle, a shop and a job, whenever one leaves and comes back."""

import re
import signal
import subprocess
import sys
import time
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.files.safe_write import write_new
from loadplan.limits import GRAVITY
from loadplan.model.job import Job
from loadplan.model.vehicle import Basis, JointKind
from loadplan.planning.interview.answer_parsing import read_answer
from loadplan.planning.interview.first_job import Named
from loadplan.planning.interview.new_files import Beside, files_of_answers
from loadplan.planning.interview.question import Ask
from loadplan.planning.interview.question_flow import Answers, next_question, one_back, questions, with_answer
from loadplan.units import System
from tests.planning.typed import EMPTY, METRIC, SOON, US, all_typed


def new(file: Path, lines: list[str], *options: str) -> subprocess.CompletedProcess[str]:
    text = "".join(f"{line}\n" for line in lines)
    command = [sys.executable, "-m", "loadplan", "new", str(file), *options]
    return subprocess.run(command, input=text, capture_output=True, text=True, check=False)


def made(folder: Path, answers: Mapping[str, str]) -> Job:
    _, kept = all_typed(answers)
    write_new(folder, files_of_answers(kept, Beside("made.toml", Named("", ""), lambda _: False)))
    return read_job(folder / "made.toml")


def test_answers_lead_to_a_job_that_is_judged(tmp_path: Path) -> None:
    done = new(tmp_path / "job.toml", all_typed(METRIC)[0])
    assert (done.returncode, done.stderr) == (0, "")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["blue-hatchback.toml", "job.toml", "shop.toml"]
    job = read_job(tmp_path / "job.toml")
    assert [stage.name for stage in job.stages] == [
        "Set down on the stands, still bolted", "Unbolted, vehicle 50 mm up: stop", "Vehicle raised clear", "Work",
        "Left overnight", "Vehicle back down to 50 mm over the unit", "Bolted up", "Stands away",
    ]  # fmt: skip
    found = assess(job)
    assert found.basis is Basis.GUESS
    assert all(group.balanced for stage in found.stages for group in stage.statics.groups)


def test_lumps_lie_between_their_edges_with_60_mm_either_way(tmp_path: Path) -> None:
    parts = {part.name: part for part in made(tmp_path, METRIC).vehicle.parts}
    engine, gearbox = parts["dressed engine"], parts["gearbox"]
    assert engine.at == pytest.approx((0.105, -0.23, 0.18 + 0.3225))
    assert engine.at_pm == pytest.approx((0.06, 0.06, 0.06))
    # Bare 100 to 150 kg, and 20 to 75 kg on it.
    assert (engine.mass - engine.mass_pm, engine.mass + engine.mass_pm) == pytest.approx((120, 225))
    assert (gearbox.mass, gearbox.mass_pm) == pytest.approx((48, 0.02 * 48), abs=0.05)


def test_the_rest_of_the_vehicle_and_its_lumps_weigh_down_the_axles_as_answered(tmp_path: Path) -> None:
    parts = made(tmp_path, METRIC).vehicle.parts
    weight = sum(part.mass for part in parts)
    assert weight == pytest.approx(1180, abs=0.3)
    assert sum(part.mass * part.at[0] for part in parts) / weight == pytest.approx(-2.540 * 0.38, abs=1e-3)
    assert sum(part.mass * part.at[1] for part in parts) == pytest.approx(0, abs=0.1)


def test_either_units_make_the_same_job(tmp_path: Path) -> None:
    job = made(tmp_path, US)
    assert job.us_units
    assert job.supports[0].at == pytest.approx((17.25 * 0.0254, 15.75 * 0.0254, 7 * 0.0254), abs=2e-4)
    assert job.supports[1].at == pytest.approx((0.44, -0.4, 7 * 0.0254), abs=3e-4)
    assert job.supports[0].equipment.rating == pytest.approx(3000 * GRAVITY, rel=1e-4)
    assert job.supports[0].equipment.heights is not None
    assert job.supports[0].equipment.heights.settings[1] == pytest.approx(12.25 * 0.0254)


def test_days_and_tags_are_in_the_job_so_that_double_bookings_show(tmp_path: Path) -> None:
    job = made(tmp_path, METRIC)
    assert job.date == SOON
    assert job.until is not None
    assert (job.until - job.date).days == 4
    assert [each.tag for each in job.supports] == ["S1", "S2", "S3", "S4", "S5", "S6", "S7", ""]


@pytest.mark.parametrize(
    "changes",
    [
        {"prop": "no", "lift.locks": "no", "days": "", "inner": "0", "hung": "0", "bar": "yes"},
        {"gear1.heights": "350", "gear1.base": "", "lift.rise": "", "gear1.mark": "3 tonne", "shims": ""},
        {"gear1.more": "yes", "gear2.what": "jack", "gear2.mark": "2 tonne each", "gear2.heights": "330 to 460",
         "gear2.base": "130", "gear2.owned": "4", "gear2.top": "steel", "gear2.more": "yes", "gear3.what": "beam",
         "gear3.mark": "500 kg each", "gear3.owned": "1", "gear3.more": "yes", "gear4.what": "hoist",
         "gear4.mark": "1 tonne each", "gear4.owned": "1", "uses": "stand, E = jack, F beam"},
        {"inner1": "150 behind, 200 right, 80 above", "inner1.kind": "2", "inner1.to": "300 behind, 200 right, 0"},
        {"off": "gearbox, cylinder head 28 kg", "off1": "engine, 100 front, 230 right, 550 above", "off.stands": "F"},
        {"standE": "200 front, 280 right, 20 above", "standE.under": "engine"},
    ],
)  # fmt: skip
def test_whatever_is_answered_the_job_can_be_read(tmp_path: Path, changes: Mapping[str, str]) -> None:
    assert assess(made(tmp_path, {**METRIC, **changes})).stages


def test_a_link_is_written_with_both_its_ends(tmp_path: Path) -> None:
    link = "link, 150 behind, 200 right, 80 above to 300 behind, 200 right, 90 above"
    joints = {each.name: each for each in made(tmp_path, {**METRIC, "inner1": link}).vehicle.joints}
    found = joints["inner link 1"]
    assert found.kind is JointKind.LINK
    assert found.to == pytest.approx((-0.3, -0.2, 0.27))
    assert joints["inner mount 2"].kind is JointKind.MOUNT


def test_what_comes_off_takes_its_stand_with_it_and_goes_on_again(tmp_path: Path) -> None:
    off = {"off": "gearbox, cylinder head 28 kg", "off1": "engine, 100 front, 230 right, 550 above", "off.stands": "F"}
    job = made(tmp_path, {**METRIC, **off})
    away, again = (stage for stage in job.stages if stage.off or stage.on)
    assert set(away.off) == set(again.on) == {"gearbox", "cylinder head"}
    assert away.cleared == again.in_place == ("F",)
    assert away.any_order
    parts = {part.name: part for part in job.vehicle.parts}
    # The engine of 172.5 kg is told in two, which together are as they were answered.
    assert parts["cylinder head"].mass + parts["dressed engine"].mass == pytest.approx(172.5)
    both = [parts["cylinder head"], parts["dressed engine"]]
    assert sum(each.mass * each.at[2] for each in both) / 172.5 == pytest.approx(0.5025, abs=1e-3)


def test_the_stands_under_what_comes_off_are_offered(tmp_path: Path) -> None:
    answers = {**METRIC, "off": "gearbox"}
    stages = made(tmp_path, answers).stages
    assert next(stage for stage in stages if stage.off).cleared == ("F",)


def test_a_table_is_one_piece_and_a_beam_hangs_from_the_vehicle(tmp_path: Path) -> None:
    table = {"gear1.what": "table", "gear1.mark": "2 tonne each", "gear1.heights": "380 to 1700", "gear1.owned": "1"}
    assert {each.piece for each in made(tmp_path / "one", {**METRIC, **table}).supports} == {"table", ""}
    beam = {
        "gear1.more": "yes",
        "gear2.what": "beam",
        "gear2.mark": "500 kg each",
        "gear2.owned": "1",
        "uses": "1, E = 2",
    }
    hung = next(each for each in made(tmp_path / "two", {**METRIC, **beam}).supports if each.name == "E")
    assert (hung.on, hung.equipment.locks) == ("shell", True)


@pytest.mark.parametrize("prop", ["yes", "no"])
def test_a_prop_comes_away_before_the_lift_moves(prop: str, tmp_path: Path) -> None:
    """Unbolted, raised clear, and back down: three times the lift moves over it."""
    stages = made(tmp_path, {**METRIC, "prop": prop}).stages
    assert sum("away before the lift moves" in " ".join(each.confirm) for each in stages) == (3 if prop == "yes" else 0)


def test_a_prop_that_is_taller_than_the_room_under_the_tail_is_gone_when_the_vehicle_is_down_again(
    tmp_path: Path,
) -> None:
    job = made(tmp_path, {**METRIC, "prop": "yes"})
    stage = next(each for each in job.stages if each.name == "Bolted up")
    assert stage.cleared == tuple(each.name for each in job.supports if each.name == "tail stand") != ()
    assert next(each for each in job.stages if "tail prop" in each.cleared).name.startswith("Vehicle back down")


@pytest.mark.parametrize("bar", ["yes", "no"])
def test_a_hard_pull_is_asked_of_the_work_alone(bar: str, tmp_path: Path) -> None:
    assert [each.name for each in made(tmp_path, {**METRIC, "bar": bar}).stages if each.bar] == (
        ["Work"] if bar == "yes" else []
    )


@pytest.mark.slow
def test_who_leaves_comes_back_to_the_same_question(tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    lines, _ = all_typed(METRIC)
    first = new(file, lines[:20])
    assert first.returncode == 2
    assert "job.toml.part: the same command goes on" in first.stderr
    assert not file.exists()
    second = new(file, lines[20:])
    assert second.returncode == 0
    assert read_job(file).title == "Clutch"
    assert first.stdout.rstrip("> \n").splitlines()[-2:] == second.stdout.splitlines()[4:6]


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


def test_a_vehicle_of_a_name_that_is_taken_gets_another(tmp_path: Path) -> None:
    (tmp_path / "blue-hatchback.toml").write_text("mine", "utf-8")
    assert new(tmp_path / "job.toml", all_typed(METRIC)[0]).returncode == 0
    assert (tmp_path / "blue-hatchback.toml").read_text("utf-8") == "mine"
    assert read_job(tmp_path / "job.toml").vehicle.name == "blue hatchback"
    assert (tmp_path / "blue-hatchback-2.toml").exists()


def test_nonsense_is_asked_again_with_the_reason(tmp_path: Path) -> None:
    lines = ["furlongs", "?", "metric", "Clutch", "", "battery", "2", "car", "-3", "200 kg", "3 m", "180"]
    done = new(tmp_path / "job.toml", lines)
    assert "Not taken: one of these, please: 1 metric, 2 us." in done.stdout
    assert "Not taken: no sign, please" in done.stdout
    assert "Not taken: it must be a length" in done.stdout
    assert "Not taken: that cannot be: 3000 mm. From 50 mm to 1200 mm, please." in done.stdout


def test_choices_take_a_number_a_word_or_its_beginning() -> None:
    for text in ("4", "battery pack", "Batt"):
        kept = Answers({"units": "1", "title": "x", "days": "", "what": text}, EMPTY)
        question = next_question(kept)
        assert question is not None
        assert question.default == "typical-battery-pack"


def test_going_back_keeps_every_later_answer_that_still_fits() -> None:
    _, kept = all_typed(METRIC)
    last = questions(kept)[-1]
    at = kept
    for _ in range(len(questions(kept))):
        at = one_back(at, next_question(at) or last)
        if at.opened == "wheelbase":
            break
    question = next_question(at)
    assert question is not None
    assert (question.key, question.default) == ("wheelbase", "2540")
    changed = with_answer(at, question, "2600").answers
    assert next_question(changed) is None
    assert changed.texts == {**kept.texts, "wheelbase": "2600"}


def test_going_back_and_enter_keeps_what_was_answered() -> None:
    _, kept = all_typed(METRIC)
    back = one_back(kept, questions(kept)[-1])
    question = next_question(back)
    assert question is not None
    assert with_answer(back, question, "").answers.texts == kept.texts


def test_a_later_answer_that_does_not_fit_any_more_is_asked_again() -> None:
    _, kept = all_typed(METRIC)
    heavier = replace(kept, texts={**kept.texts, "engine.weight": "420 kg scales"})
    assert next_question(heavier) is None
    lighter = replace(kept, texts={**heavier.texts, "weight": "700"})
    question = next_question(lighter)
    assert question is not None
    assert question.key == "weight"


def gone_back(kept: Answers, key: str, text: str) -> Answers:
    question = next(each for each in questions(kept) if each.key == key)
    return with_answer(replace(kept, opened=key), question, text).answers


def test_what_was_read_off_one_piece_is_asked_anew_of_another() -> None:
    kept = all_typed({**METRIC, "gear1.what": "table", "gear1.mark": "1000 kg"})[1]
    changed = gone_back(kept, "gear1.what", "stand")
    question = next_question(changed)
    assert question is not None
    assert (question.key, question.asks) == ("gear1.mark", "What is marked on the stand, for a pair or for each?")
    # The same again, by its word or its number, is no other piece.
    assert gone_back(kept, "gear1.what", "3").texts == kept.texts


def test_a_number_keeps_its_word_when_the_list_changes() -> None:
    typed = {**METRIC, "gear1.more": "yes", "gear2.what": "jack", "gear2.mark": "2 t", "gear2.heights": "200 to 400",
             "gear2.base": "", "gear2.owned": "2", "gear2.top": "", "gear2.more": "no",
             "uses": "1, E F = 2"}  # fmt: skip
    kept = all_typed(typed)[1]
    assert kept.texts["uses"] == "stand, E F = jack"
    question = next_question(gone_back(kept, "gear2.what", "table"))
    assert question is not None
    assert question.key == "gear2.mark"


def test_nothing_differs_is_said_of_one_typical_unit_only() -> None:
    kept = Answers({"units": "1", "title": "x", "days": "", "what": "2", "start": "", "name": "wagon",
                    "differs": "nothing"}, EMPTY)  # fmt: skip
    question = next_question(gone_back(kept, "what", "axle"))
    assert question is not None
    assert question.key == "differs"


@pytest.mark.parametrize(
    ("key", "text"),
    [("engine.box", "8 left, 8 right"), ("gear1.base", "8 x 8 x 8"), ("shims", "1/2 in straw 8"), ("off", "pump")],
)
def test_what_is_not_taken_is_answered_with_an_example_in_the_chosen_units(key: str, text: str) -> None:
    kept = all_typed(US)[1]
    question = next(each for each in questions(kept) if each.key == key)
    says = with_answer(kept, question, text).says
    assert "such as" in says
    assert not re.search(r"\bmm\b|\bkg\b|330|300 x 200", says)


def test_no_question_asks_for_what_only_an_engineer_knows() -> None:
    asked = questions(all_typed(METRIC)[1])
    words = " ".join(f"{each.asks} {each.hint}".lower() for each in asked)
    assert not any(word in words for word in ("gravity", "stiffness", " minus", "negative", " x axis", " y ", " z "))
    assert len({each.key for each in asked}) == len(asked)


def test_every_question_that_measures_says_where_and_shows_an_example() -> None:
    for each in questions(all_typed(METRIC)[1]):
        assert len(each.hint) > 15, each.key
        if each.ask.name in {"LENGTH", "BOX", "SPAN", "PLACE", "SEAT", "TIE", "HEIGHTS", "FOOT", "MARK"}:
            assert "such as" in each.hint.lower(), each.key


@pytest.mark.parametrize("answers", [METRIC, US])
def test_every_example_can_be_answered_in_the_units_that_were_chosen_and_is_not_odd(answers: Mapping[str, str]) -> None:
    so_far, seen = Answers({}, EMPTY), 0
    while question := next_question(so_far):
        if (
            question.example
            and question.ask not in {Ask.WORDS, Ask.DAYS, Ask.CHOICE, Ask.USES}
            and question.key != "units"
        ):
            for text in question.example.split(", or "):
                value = read_answer(question, text.strip('" '), so_far.system)
                assert question.odd(value, so_far.system) == "" or question.key.startswith("stand"), question.key
                seen += 1
        if so_far.system is System.US and question.key != "units":
            assert not re.search(r"[0-9] (mm|kg|tonne)", question.hint), question.key
        so_far = with_answer(so_far, question, answers.get(question.key, "")).answers
    assert seen > 10


@pytest.mark.parametrize(
    ("typed", "meant"), [("about 65 kg scales", "65 kg scales"), ("65ish", "65"), ("~65 kg", "65 kg")]
)
def test_a_rough_weight_is_told_back_and_taken_for_yes(typed: str, meant: str) -> None:
    before = _up_to("gearbox.weight")
    question = next_question(before)
    assert question is not None
    told = with_answer(before, question, typed)
    assert (told.says, told.is_told_back) == (meant, True)
    assert "gearbox.weight" not in told.answers.texts
    assert with_answer(told.answers, question, "yes").answers.texts["gearbox.weight"] == meant


def test_a_day_in_short_is_told_back_and_one_that_may_be_two_is_asked_about() -> None:
    begin = replace(EMPTY, today=date(2026, 1, 20))
    before = Answers({"units": "metric", "title": "x"}, begin)
    question = next_question(before)
    assert question is not None
    assert with_answer(before, question, "5.3.26").says == "5 Mar 2026"
    assert with_answer(before, question, "today").says == "20 Jan 2026"
    assert "may be 5 Mar 2026 or 3 May 2026" in with_answer(before, question, "5/3/26").says


def _up_to(key: str) -> Answers:
    """Return the answers to all that is asked before a question."""
    so_far = Answers({}, EMPTY)
    while (question := next_question(so_far)) and question.key != key:
        so_far = with_answer(so_far, question, METRIC.get(question.key, "")).answers
    return so_far
