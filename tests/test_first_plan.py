"""From an empty folder to a plan by answers, through the real commands, counted; and the next jobs after it."""

import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

import loadplan
from loadplan.files import shipped_folder
from tests.planning.typed import METRIC, SOON, US, all_typed

FROM_TYPICAL: Mapping[str, str] = {
    "units": "1", "title": "Clutch", "days": f"{SOON}", "what": "1", "start": "1", "name": "red hatchback",
    "differs": "gearbox, pads", "gearbox.weight": "48 kg scales", "pads.height": "185", "pads.out": "690",
    "lift.rating": "3.5 tonne", "gear1.mark": "3 tonne a pair", "gear1.heights": "290 to 430 step 20",
    "gear1.base": "190", "gear1.owned": "8", "gear1.top": "rubber", "prop.mark": "1 tonne each",
    "prop.heights": "1200 to 1980",
}  # fmt: skip


def run(folder: Path, *words: str, lines: list[str] | None = None) -> subprocess.CompletedProcess[str]:
    text = "".join(f"{line}\n" for line in lines or [])
    command = [sys.executable, "-m", "loadplan", *words]
    environment = {"PYTHONPATH": str(Path(__file__).parents[1]), "PATH": ""}
    return subprocess.run(command, cwd=folder, input=text, capture_output=True, text=True, check=False, env=environment)


def cautions(folder: Path, job: str) -> set[str]:
    """What `check` has to say beside notes, after `heights`."""
    assert run(folder, "heights", job, "--write", job).returncode == 0
    found: dict[str, Any] = loadplan.check(loadplan.read_job(folder / job)).to_dict()
    return {
        each["check"]
        for stage in found["stages"]
        for each in stage["findings"]
        if each["verdict"] in {"caution", "stop"}
    }


@pytest.mark.parametrize(("answers", "most"), [(METRIC, 50), (US, 50), (FROM_TYPICAL, 50)])
def test_a_first_job_takes_at_most_50_answers_and_only_its_guess_is_cautioned(
    answers: Mapping[str, str], most: int, tmp_path: Path
) -> None:
    lines, _ = all_typed(answers)
    assert len(lines) <= most
    done = run(tmp_path, "new", "job.toml", lines=lines)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.count("\n> ") == len(lines)
    assert cautions(tmp_path, "job.toml") == {"basis"}


def test_what_it_says_comes_next_prints_the_plan(tmp_path: Path) -> None:
    """Three commands: new, heights, sheet."""
    done = run(tmp_path, "new", "job.toml", lines=all_typed(FROM_TYPICAL)[0])
    commands = [line.split()[1:] for line in done.stdout.splitlines() if line.startswith("  loadplan ")]
    assert len(commands) == 2
    assert all(run(tmp_path, *words).returncode == 0 for words in commands)
    assert (tmp_path / "job.pdf").read_bytes().startswith(b"%PDF-")


def test_with_vehicle_and_shop_known_at_most_12_answers_are_asked(tmp_path: Path) -> None:
    assert run(tmp_path, "new", "job.toml", lines=all_typed(METRIC)[0]).returncode == 0
    lines = ["Clutch again", "", "1", "", "", "", ""]
    done = run(tmp_path, "new", "next.toml", lines=lines)
    assert (done.returncode, done.stdout.count("\n> ")) == (0, len(lines))
    assert len(lines) <= 12
    assert sorted(path.name for path in tmp_path.glob("*.toml")) == [
        "blue-hatchback.toml", "job.toml", "next.toml", "shop.toml",
    ]  # fmt: skip
    assert cautions(tmp_path, "next.toml") == {"basis"}


def test_a_named_vehicle_is_not_asked_for(tmp_path: Path) -> None:
    assert run(tmp_path, "new", "job.toml", lines=all_typed(METRIC)[0]).returncode == 0
    lines = ["Clutch again", "", "A", "nothing", "", "", ""]
    for vehicle in ("blue-hatchback.toml", "blue-hatchback"):
        name = f"{len(vehicle)}.toml"
        done = run(tmp_path, "new", name, "--vehicle", vehicle, "--shop", "shop.toml", lines=["x", "", "", "", "", ""])
        assert done.returncode == 0, done.stdout + done.stderr
        assert loadplan.read_job(tmp_path / name).vehicle.name == "blue hatchback"
    assert lines


def test_one_that_ships_may_be_named(tmp_path: Path) -> None:
    (tmp_path / "shop.toml").write_bytes((shipped_folder("demo") / "shop.toml").read_bytes())
    words = ("new", "van.toml", "--vehicle", "van-longitudinal-diesel-rwd")
    done = run(tmp_path, *words, lines=["Pump", "", "1, 2, 5, 6, 7", "1, E = 2", "", "gearbox with oil", "", ""])
    assert done.returncode == 0, done.stdout + done.stderr
    job = loadplan.read_job(tmp_path / "van.toml")
    assert job.vehicle.example
    assert [each.equipment.name for each in job.supports[:5]] == ["ratchet stand 3 t"] * 4 + ["pin stand 5 t"]


def test_a_job_like_another_asks_title_and_days(tmp_path: Path) -> None:
    assert run(tmp_path, "new", "job.toml", lines=all_typed(METRIC)[0]).returncode == 0
    done = run(tmp_path, "new", "like.toml", "--like", "job.toml", lines=["Clutch of the next", f"{SOON}"])
    assert (done.returncode, done.stdout.count("\n> ")) == (0, 2)
    one, other = (loadplan.read_job(tmp_path / name) for name in ("job.toml", "like.toml"))
    assert (other.title, other.date, other.until) == ("Clutch of the next", SOON, None)
    assert (other.supports, other.stages, other.vehicle) == (one.supports, one.stages, one.vehicle)


def test_two_jobs_on_one_day_show_as_booked_twice(tmp_path: Path) -> None:
    assert run(tmp_path, "new", "job.toml", lines=all_typed(METRIC)[0]).returncode == 0
    run(tmp_path, "new", "like.toml", "--like", "job.toml", lines=["Next", f"{SOON}"])
    told = run(tmp_path, "shop", "shop.toml", ".")
    assert told.returncode == 1
    assert f"S1, S2, S3, S4, S5 and S6 (stand), {SOON}: jobs 1 and 2." in told.stdout


def test_of_several_shops_one_has_to_be_named(tmp_path: Path) -> None:
    for name in ("one.toml", "two.toml"):
        (tmp_path / name).write_bytes((shipped_folder("demo") / "shop.toml").read_bytes())
    done = run(tmp_path, "new", "job.toml")
    assert done.returncode == 2
    assert "there are several shop files here, one.toml, two.toml: say which" in done.stderr
    assert "The shop is two.toml." in run(tmp_path, "new", "job.toml", "--shop", "two.toml").stdout


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
def test_what_cannot_begin_is_told(words: tuple[str, ...], told: str, tmp_path: Path) -> None:
    done = run(tmp_path, "new", *words)
    assert (done.returncode, "Traceback" in done.stderr) == (2, False)
    assert told in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_shop_without_a_lift_is_told(tmp_path: Path) -> None:
    text = (shipped_folder("demo") / "shop.toml").read_text("utf-8")
    (tmp_path / "shop.toml").write_text(text[: text.index("[[lift]]")], "utf-8")
    done = run(tmp_path, "new", "job.toml", "--vehicle", "hatch-transverse-four-fwd")
    assert done.returncode == 2
    assert "add [[lift]]" in done.stderr


def test_the_plan_is_drawn_when_there_is_something_new_in_it(tmp_path: Path) -> None:
    drawn = run(tmp_path, "new", "job.toml", lines=all_typed(METRIC)[0]).stdout
    assert drawn.count("front up") == 3
    last = drawn[drawn.rindex("front up") :].splitlines()
    row = next(line for line in last if "A" in line and "B" in line)
    assert row.index("A") < row.index("B")
    assert next(number for number, line in enumerate(last) if "C" in line and "D" in line) > last.index(row)


@pytest.mark.parametrize("kind", ["gearbox", "vehicle on stands", "rear unit", "axle", "battery pack", "drive unit"])
def test_every_kind_leads_to_a_job_that_is_balanced(kind: str, tmp_path: Path) -> None:
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
    lines, _ = all_typed({**METRIC, **own, **seats})
    assert len(lines) <= 50
    assert run(tmp_path, "new", "job.toml", lines=lines).returncode == 0
    found = loadplan.check(loadplan.read_job(tmp_path / "job.toml")).to_dict()
    told: list[dict[str, Any]] = found["stages"]
    assert "balance" not in {each["check"] for stage in told for each in stage["findings"] if each["verdict"] == "stop"}
