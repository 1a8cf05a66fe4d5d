"""From an empty folder to a plan by answers, through the real commands, counted; and the next jobs after it."""

import io
import re
import shlex
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

import loadplan
from loadplan import cli
from loadplan.assess import assess
from loadplan.files import shipped_folder
from loadplan.model.verdict import CheckName, Verdict
from tests.planning.typed import METRIC, SOON, US, all_typed

FROM_TYPICAL: Mapping[str, str] = {
    "units": "1", "title": "Clutch", "days": f"{SOON}", "what": "1", "start": "1", "name": "red hatchback",
    "differs": "gearbox, pads", "gearbox.weight": "48 kg scales", "pads.height": "185", "pads.out": "690",
    "lift.rating": "3.5 tonne", "gear1.mark": "3 tonne a pair", "gear1.heights": "290 to 430 step 20",
    "gear1.base": "190", "gear1.owned": "8", "gear1.top": "rubber", "prop.mark": "1 tonne each",
    "prop.heights": "1200 to 1980",
}  # fmt: skip


@dataclass(frozen=True)
class Ran:
    """What a command said and how it ended."""

    returncode: int
    stdout: str
    stderr: str


class Shop:
    """A folder in which commands are given, in this process: the real command line."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder, self._monkeypatch, self._capsys = folder, monkeypatch, capsys

    def run(self, *words: str, lines: list[str] | None = None) -> Ran:
        """Give a command, and type some lines."""
        self._monkeypatch.chdir(self.folder)
        self._monkeypatch.setattr(sys, "argv", ["loadplan", *words])
        self._monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in lines or [])))
        with pytest.raises(SystemExit) as ended:
            cli.main()
        out, err = self._capsys.readouterr()
        return Ran(int(ended.value.code or 0), out, err)

    def cautions(self, job: str) -> set[str]:
        """Return what `check` has to say beside notes, after `heights`."""
        assert self.run("heights", job, "--write", job).returncode == 0
        found: dict[str, Any] = loadplan.check(loadplan.read_job(self.folder / job)).to_dict()
        findings = [each for stage in found["stages"] for each in stage["findings"]]
        return {each["check"] for each in findings if each["verdict"] in {"caution", "stop"}}


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Shop:
    """An empty folder."""
    return Shop(tmp_path, monkeypatch, capsys)


@pytest.mark.parametrize(("answers", "most"), [(METRIC, 54), (US, 54), (FROM_TYPICAL, 54)])
def test_a_first_job_takes_at_most_54_answers_and_only_its_guess_is_cautioned(
    answers: Mapping[str, str], most: int, here: Shop
) -> None:
    lines, _ = all_typed(answers)
    assert len(lines) <= most
    done = here.run("new", "job.toml", lines=lines)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.count("\n> ") == len(lines)
    assert here.cautions("job.toml") == {"basis"}


@pytest.mark.slow
@pytest.mark.parametrize("name", ["job", "my first job"])
def test_what_it_says_comes_next_prints_the_plan(name: str, here: Shop) -> None:
    """As a shell splits them: heights, check, sheet."""
    done = here.run("new", f"{name}.toml", lines=all_typed(FROM_TYPICAL)[0])
    commands = [shlex.split(line)[1:] for line in done.stdout.splitlines() if line.startswith("  loadplan ")]
    assert [words[0] for words in commands] == ["heights", "check", "sheet"]
    assert all(here.run(*words).returncode == 0 for words in commands)
    assert (here.folder / f"{name}.pdf").read_bytes().startswith(b"%PDF-")


def test_with_vehicle_and_shop_known_at_most_12_answers_are_asked(here: Shop) -> None:
    assert here.run("new", "job.toml", lines=all_typed(METRIC)[0]).returncode == 0
    lines = ["Clutch again", "", "1", "", "", "", ""]
    done = here.run("new", "next.toml", lines=lines)
    assert (done.returncode, done.stdout.count("\n> ")) == (0, len(lines))
    assert len(lines) <= 12
    assert sorted(path.name for path in here.folder.glob("*.toml")) == [
        "blue-hatchback.toml", "job.toml", "next.toml", "shop.toml",
    ]  # fmt: skip
    assert here.cautions("next.toml") == {"basis"}


def test_a_named_vehicle_is_not_asked_for(here: Shop) -> None:
    assert here.run("new", "job.toml", lines=all_typed(METRIC)[0]).returncode == 0
    for vehicle in ("blue-hatchback.toml", "blue-hatchback"):
        name = f"{len(vehicle)}.toml"
        done = here.run("new", name, "--vehicle", vehicle, "--shop", "shop.toml", lines=["x", "", "", "", "", ""])
        assert done.returncode == 0, done.stdout + done.stderr
        assert loadplan.read_job(here.folder / name).vehicle.name == "blue hatchback"


def test_one_that_ships_may_be_named(here: Shop) -> None:
    (here.folder / "shop.toml").write_bytes((shipped_folder("demo") / "shop.toml").read_bytes())
    words = ("new", "van.toml", "--vehicle", "van-longitudinal-diesel-rwd")
    done = here.run(*words, lines=["Pump", "", "1, 2, 5, 6, 7", "1, E = 2", "", "gearbox with oil", "", ""])
    assert done.returncode == 0, done.stdout + done.stderr
    job = loadplan.read_job(here.folder / "van.toml")
    assert job.vehicle.example
    assert [each.equipment.name for each in job.supports[:5]] == ["ratchet stand 3 t"] * 4 + ["pin stand 5 t"]


def test_a_job_like_another_asks_title_and_days(here: Shop) -> None:
    assert here.run("new", "job.toml", lines=all_typed(METRIC)[0]).returncode == 0
    done = here.run("new", "like.toml", "--like", "job.toml", lines=["Clutch of the next", f"{SOON}"])
    assert (done.returncode, done.stdout.count("\n> ")) == (0, 2)
    one, other = (loadplan.read_job(here.folder / name) for name in ("job.toml", "like.toml"))
    assert (other.title, other.date, other.until) == ("Clutch of the next", SOON, None)
    assert (other.supports, other.stages, other.vehicle) == (one.supports, one.stages, one.vehicle)


def test_two_jobs_on_one_day_show_as_booked_twice(here: Shop) -> None:
    assert here.run("new", "job.toml", lines=all_typed(METRIC)[0]).returncode == 0
    here.run("new", "like.toml", "--like", "job.toml", lines=["Next", f"{SOON}"])
    told = here.run("shop", "shop.toml", ".")
    assert told.returncode == 1
    assert f"S1, S2, S3, S4, S5, S6 and S7 (stand), {SOON}: jobs 1 and 2." in told.stdout


def test_of_several_shops_one_has_to_be_named(here: Shop) -> None:
    for name in ("one.toml", "two.toml"):
        (here.folder / name).write_bytes((shipped_folder("demo") / "shop.toml").read_bytes())
    done = here.run("new", "job.toml")
    assert done.returncode == 2
    assert "there are several shop files here, one.toml, two.toml: say which" in done.stderr
    assert "The shop is two.toml." in here.run("new", "job.toml", "--shop", "two.toml").stdout


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("job",), "needs the ending .toml"),
        (("job.toml", "--like", "no.toml"), "is not there"),
        (("job.toml", "--vehicle", "no"), "is not there"),
        (("job.toml", "--shop", "no.toml"), "is not there"),
        (("job.toml", "--like", "a.toml", "--shop", "b.toml"), "leave the others out"),
        (("job.toml", "--vehicle", "battery-pack-table"), "is not there"),
    ],
)
def test_what_cannot_begin_is_told(words: tuple[str, ...], told: str, here: Shop) -> None:
    done = here.run("new", *words)
    assert (done.returncode, "Traceback" in done.stderr) == (2, False)
    assert told in done.stderr
    assert list(here.folder.iterdir()) == []


def test_a_shop_without_a_lift_is_told(here: Shop) -> None:
    text = (shipped_folder("demo") / "shop.toml").read_text("utf-8")
    (here.folder / "shop.toml").write_text(text[: text.index("[[lift]]")], "utf-8")
    done = here.run("new", "job.toml", "--vehicle", "hatch-transverse-four-fwd")
    assert done.returncode == 2
    assert "add [[lift]]" in done.stderr


def test_a_vehicle_without_places_of_pads_is_not_offered_and_refused_where_it_is_named(here: Shop) -> None:
    text = (shipped_folder("vehicles") / "typical-axle.toml").read_text("utf-8")
    (here.folder / "bare.toml").write_text(text.replace('name = "pad ', 'name = "place of '), "utf-8")
    assert "Which vehicle is it?" not in here.run("new", "job.toml", lines=["metric", "x", ""]).stdout
    named = here.run("new", "job.toml", "--vehicle", "bare")
    assert named.returncode == 2
    assert "whose names begin with pad or sill" in named.stderr


def test_one_may_ask_go_back_and_take_an_odd_answer_back(here: Shop) -> None:
    lines = ["metric", "?", "Clutch", "<", "", "", "gearbox", "mine", "750", "<", "", "38 lb", "<", "38 kg"]
    told = here.run("new", "job.toml", lines=lines).stdout
    assert "it stands on top of every report" in told
    assert "What is the job? [Clutch]" in told
    assert "Odd: 750 mm is odd for lift pads of a vehicle on its wheels" in told
    assert "Odd: 17.24 kg is odd for a gearbox" in told
    assert told.count("What does the gearbox weigh?") == 3
    assert told.rstrip("> \n").splitlines()[-2].startswith("The gearbox: its edges")
    kept = (here.folder / "job.toml.part").read_text("utf-8")
    assert '"title" = "Clutch"' in kept
    assert '"gearbox.weight" = "38 kg"' in kept


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("arms      = 4", "arms      = 6", "at most 4 pads"),
        ("[[equipment]]", "[[shim]]", "add [[equipment]]"),
    ],
)
def test_a_shop_that_is_not_enough_is_told(old: str, new: str, told: str, here: Shop) -> None:
    text = (shipped_folder("demo") / "shop.toml").read_text("utf-8")
    assert old in text
    if new == "[[shim]]":
        text = 'schema = "loadplan-shop-1"\nunits = "metric"\n' + text[text.index("[[lift]]") :]
    (here.folder / "shop.toml").write_text(text.replace(old, new), "utf-8")
    done = here.run("new", "job.toml")
    assert done.returncode == 2
    assert told in done.stderr


def test_a_vehicle_with_too_few_places_is_told(here: Shop) -> None:
    text = (shipped_folder("vehicles") / "typical-axle.toml").read_text("utf-8")
    cut = text[: text.index('[[point]]\nname = "place C"')]
    (here.folder / "two.toml").write_text(cut, "utf-8")
    done = here.run("new", "job.toml", "--vehicle", "two")
    assert "needs 3 places or more under what comes out" in done.stderr


def test_where_the_shop_has_no_tall_stand_none_is_asked_about(here: Shop) -> None:
    text = (shipped_folder("demo") / "shop.toml").read_text("utf-8")
    (here.folder / "shop.toml").write_text(text.replace("from = 1200, to = 1980", "from = 300, to = 800"), "utf-8")
    lines = ["x", "", "axle", "1", "mine", "not measured", "", "", "", "", "", ""]
    done = here.run("new", "job.toml", lines=lines)
    assert (done.returncode, done.stdout.count("\n> ")) == (0, len(lines))
    assert "tall stand" not in done.stdout


def test_the_plan_is_drawn_when_there_is_something_new_in_it(here: Shop) -> None:
    drawn = here.run("new", "job.toml", lines=all_typed(METRIC)[0]).stdout
    assert drawn.count("front up") == 3
    last = drawn[drawn.rindex("front up") :].splitlines()
    row = next(line for line in last if "A" in line and "B" in line)
    assert row.index("A") < row.index("B")
    assert next(number for number, line in enumerate(last) if "C" in line and "D" in line) > last.index(row)


def _at_the_rear(text: str) -> str:
    """Return what was measured from an axle line as it is from one that is 2700 mm in front of it."""

    def told(found: re.Match[str]) -> str:
        return f"{2700 - int(found[1]) if found[2] == 'front' else 2700 + int(found[1])} behind"

    return re.sub(r"(\d+) (front|behind)", told, text)


@pytest.mark.parametrize("kind", ["gearbox", "vehicle on stands", "rear unit", "axle", "battery pack", "drive unit"])
def test_every_kind_leads_to_a_job_that_is_balanced(kind: str, here: Shop) -> None:
    box = "250 front to 250 behind, 300 left to 300 right, 400 above to 20 above"
    own = {
        "what": kind, "start": "my own", "stands": "4", "weight": "1500", "wheelbase": "2700",
        "prop.place": "600 front, 0, 0",
        **{f"{key}.box": box for key in ("gearbox", "drive", "subframe", "axle", "pack", "unit")},
        "gearbox.kind": "manual", "drive.kind": "differential",
        "inner": "3", "inner1": "mount, 100 front, 0, 100 above",
        "inner2": "mount, 100 behind, 100 left, 100 above", "inner3": "mount, 100 behind, 100 right, 100 above",
    }  # fmt: skip
    at = {
        "A": "200 front, 250 left",
        "B": "200 front, 250 right",
        "C": "200 behind, 250 left",
        "D": "200 behind, 250 right",
    }
    if kind == "vehicle on stands":
        at = {
            key: text.replace("200 front", "300 behind").replace("200 behind", "2300 behind")
            for key, text in at.items()
        }
    first = {"rear unit": "subframe, "}.get(kind, "")
    seats = {f"stand{letter}": f"{first}{place}, 20 above" for letter, place in at.items()}
    if kind in {"rear unit", "axle"}:
        # What is at the rear axle is measured from the front one, too.
        own, seats = ({key: _at_the_rear(text) for key, text in each.items()} for each in (own, seats))
        own |= {"prop.place": "600 front, 0, 0"}
    lines, _ = all_typed({**METRIC, **own, **seats})
    assert len(lines) <= 50
    assert here.run("new", "job.toml", lines=lines).returncode == 0
    found = loadplan.check(loadplan.read_job(here.folder / "job.toml")).to_dict()
    told: list[dict[str, Any]] = found["stages"]
    assert "balance" not in {each["check"] for stage in told for each in stage["findings"] if each["verdict"] == "stop"}


def test_from_an_empty_folder_to_a_printed_plan_in_three_commands_and_the_next_in_three(here: Shop) -> None:
    """Within 60 answers nothing is left but that the weights are guessed; the next job on the vehicle takes 15."""
    for name, lines, most in (
        ("job", all_typed(METRIC)[0], 60),
        ("next", ["Clutch again", "", "1", "", "", "", ""], 15),
    ):
        done = here.run("new", f"{name}.toml", lines=lines)
        assert done.returncode == 0, done.stderr
        assert done.stdout.count("\n> ") <= most
        assert here.run("heights", f"{name}.toml", "--write", f"{name}.toml").returncode == 0
        assert here.run("sheet", f"{name}.toml", "-o", f"{name}.pdf").returncode == 0
        assert (here.folder / f"{name}.pdf").read_bytes().startswith(b"%PDF-")
        stages = assess(loadplan.read_job(here.folder / f"{name}.toml")).stages
        left = {each.check for stage in stages for each in stage.findings if each.verdict >= Verdict.CAUTION}
        assert left == {CheckName.BASIS}


def test_a_shop_with_faults_is_told_and_its_questions_are_asked(here: Shop) -> None:
    text = (shipped_folder("demo") / "shop.toml").read_text("utf-8")
    (here.folder / "shop.toml").write_text(text.replace("heights ", "hights ", 1), "utf-8")
    lines, _ = all_typed(METRIC)
    told = here.run("new", "job.toml", lines=lines)
    words = " ".join(told.stdout.split())
    assert (told.returncode, words.count("Passed over: ")) == (0, 1)
    assert "Passed over: shop.toml, equipment 1" in words
    assert "The shop is" not in words
    assert "hights" in (here.folder / "shop.toml").read_text("utf-8"), "what is there is not written over"
    assert loadplan.read_job(here.folder / "job.toml").shop.equipment[0].name == "stand"


def test_beside_a_shop_with_faults_the_only_other_one_is_taken(here: Shop) -> None:
    text = (shipped_folder("demo") / "shop.toml").read_text("utf-8")
    (here.folder / "one.toml").write_text(text.replace("heights ", "hights ", 1), "utf-8")
    (here.folder / "two.toml").write_text(text, "utf-8")
    words = " ".join(here.run("new", "job.toml", lines=["x"]).stdout.split())
    assert "The shop is two.toml." in words
    assert "Passed over: one.toml, equipment 1" in words


def test_a_file_with_faults_is_told_and_the_questions_go_on(here: Shop) -> None:
    text = (shipped_folder("vehicles") / "typical-axle.toml").read_text("utf-8")
    (here.folder / "wrong.toml").write_text(text.replace("mass = ", "mass = -", 1), "utf-8")
    (here.folder / "cut.toml").write_text("title = [", "utf-8")
    (here.folder / "bare.toml").write_text(text.replace('name = "pad ', 'name = "place of '), "utf-8")
    told = here.run("new", "job.toml", lines=["metric", "x", ""]).stdout
    words = " ".join(told.split())
    assert words.count("Passed over: ") == 3
    assert "wrong.toml, part 1" in words
    assert "cut.toml" in words
    assert "whose names begin with pad or sill" in words
    assert "What comes out, or is set on stands?" in told


def test_what_comes_next_is_told_with_check_between_heights_and_sheet(here: Shop) -> None:
    told = here.run("new", "job.toml", lines=all_typed(FROM_TYPICAL)[0]).stdout
    assert [line.split()[1] for line in told.splitlines() if line.startswith("  loadplan ")] == [
        "heights", "check", "sheet",
    ]  # fmt: skip


def test_a_stand_that_the_shop_lacks_is_told_at_the_end(here: Shop) -> None:
    lines, _ = all_typed({**METRIC, "gear1.owned": "S1 to S6"})
    told = " ".join(here.run("new", "job.toml", lines=lines).stdout.split())
    assert "No free stand of the shop goes under tail while the vehicle is 50 mm over the unit: one is needed" in told


def test_a_rough_number_and_today_are_told_back_without_being_called_odd(here: Shop) -> None:
    lines = ["metric", "Clutch", "today", "", "gearbox", "my own", "blue", "about 180", "yes"]
    told = here.run("new", "job.toml", lines=lines).stdout
    assert "Odd" not in told
    assert "That is 180. Enter takes it; or answer anew." in told
    assert '"pads.height" = "180"' in (here.folder / "job.toml.part").read_text("utf-8")


def test_in_us_units_no_step_or_lack_is_told_in_millimetres(here: Shop) -> None:
    lines, _ = all_typed({**US, "gear1.owned": "S1 to S6"})
    told = here.run("new", "job.toml", lines=lines).stdout
    assert "while the vehicle is 2 in over the unit" in " ".join(told.split())
    text = (here.folder / "job.toml").read_text("utf-8")
    assert "Unbolted, vehicle 2 in up: stop" in text
    assert " mm" not in text
