"""The commands that weigh, set heights and order parts: what they print, what they write, and how they end."""

import json
import re
from pathlib import Path

import pytest

from loadplan.files import read_job, read_vehicle, shipped_folder
from loadplan.files.readings_reader import read_readings
from loadplan.model.vehicle import Basis
from loadplan.report.words.cautions import cautions
from loadplan.units import System
from tests.command_line import Run

DEMO = shipped_folder("demo")
READINGS = DEMO / "readings.toml"
OPEN = DEMO / "heights-open.toml"
WEIGHED = DEMO / "weighed-unit.toml"
US = DEMO / "us-units.toml"
OFF = "Gearbox, flywheel and oil pump off"


def copied(path: Path, folder: Path) -> Path:
    copy = folder / path.name
    copy.write_bytes(path.read_bytes())
    return copy


def beside(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


# ---- weigh ---------------------------------------------------------------------------------------


def test_weigh_tells_what_was_weighed(run: Run) -> None:
    code, out, err = run("weigh", READINGS)
    assert (code, err) == (0, "")
    assert "342 kg" in out
    assert "137 mm behind the axle line" in out
    assert "The readings agree with each other." in out
    assert max(map(len, out.splitlines())) <= 100


def test_the_unit_that_is_weighed_is_the_front_unit_of_the_van(run: Run) -> None:
    """Its scales stand at places of that vehicle, and what they say lies inside what its file leaves open."""
    van = read_vehicle(shipped_folder("vehicles") / "van-longitudinal-diesel-rwd.toml")
    places = {each.at for each in read_readings(READINGS).sets[0].places}
    assert {tuple(round(axis, 6) for axis in at) for at in places} <= {each.at for each in van.points}
    own = [each for each in van.parts if each.body in {"powertrain", "cradle"}]
    mass, spread = sum(each.mass for each in own), sum(each.mass_pm for each in own)
    told = json.loads(run("weigh", READINGS, "--json")[1])
    assert abs(told["mass_kg"]["value"] - mass) < spread
    for axis, name in enumerate("xyz"):
        middle = sum(each.mass * each.at[axis] for each in own) / mass
        assert abs(told["cg_mm"][name]["value"] / 1000 - middle) < 0.02


def test_weigh_in_us_units_tells_pounds_and_inches_and_american_words(run: Run) -> None:
    _, out, _ = run("weigh", READINGS, "--units", "us")
    assert "755 lb" in out
    assert "center of gravity" in out
    assert " kg" not in out
    assert " mm" not in out


def test_weigh_json_has_the_agreed_keys(run: Run) -> None:
    code, out, _ = run("weigh", READINGS, "--json")
    told = json.loads(out)
    assert code == 0
    assert list(told) == ["schema", "mass_kg", "cg_mm", "consistent"]
    assert told["schema"] == "loadplan-weighing-1"
    assert set(told["mass_kg"]) == {"value", "pm"}
    assert told["cg_mm"]["z"]["value"] == pytest.approx(473, abs=1)
    assert told["consistent"] is True


def test_weigh_json_is_null_for_what_the_readings_do_not_tell(run: Run, tmp_path: Path) -> None:
    level = tmp_path / "level.toml"
    level.write_text(READINGS.read_text("utf-8").split("[[set]]                         # front")[0], "utf-8")
    told = json.loads(run("weigh", level, "--json")[1])
    assert told["cg_mm"]["z"] is None
    assert told["consistent"] is None


def test_weigh_writes_into_the_vehicle_that_is_named_and_nothing_else(run: Run, tmp_path: Path) -> None:
    vehicle = copied(shipped_folder("vehicles") / "van-longitudinal-diesel-rwd.toml", tmp_path)
    before = vehicle.read_text("utf-8").split("\n")
    code, _, err = run("weigh", READINGS, "--write", vehicle, "--body", "powertrain")
    assert (code, err.rstrip().endswith(".before.")) == (0, True), err
    new = [line for line in vehicle.read_text("utf-8").split("\n") if line not in before]
    assert len(new) == 1
    assert beside(tmp_path) == [vehicle.name, f"{vehicle.name}.before"]
    assert (tmp_path / f"{vehicle.name}.before").read_text("utf-8").split("\n") == before
    weighed = next(each for each in read_vehicle(vehicle).bodies if each.name == "powertrain").weighed
    assert weighed is not None
    assert weighed.mass == pytest.approx(342.3, abs=0.3)


def test_weigh_keeps_the_height_of_the_file_where_it_was_not_weighed(run: Run, tmp_path: Path) -> None:
    """As weighed in the file, 430 mm plus or minus 12; by parts, the mean that a check tells."""
    level = tmp_path / "level.toml"
    level.write_text(READINGS.read_text("utf-8").split("[[set]]                         # front")[0], "utf-8")
    vehicle = copied(shipped_folder("vehicles") / "van-longitudinal-diesel-rwd.toml", tmp_path)
    text = vehicle.read_text("utf-8")
    parts = read_vehicle(vehicle)
    on = [each for each in parts.parts if each.body == "powertrain"]
    height = sum(each.mass * each.at[2] for each in on) / sum(each.mass for each in on)
    code, out, err = run("weigh", level, "--write", vehicle, "--body", "powertrain")
    assert (code, err.rstrip().endswith(".before.")) == (0, True), err
    assert "The height was not weighed: what the file said of it stays" in out
    weighed = next(each for each in read_vehicle(vehicle).bodies if each.name == "powertrain").weighed
    assert weighed is not None
    assert weighed.cg[2] == pytest.approx(height, abs=1e-4)
    assert 0.01 < weighed.cg_pm[2] < 0.05
    own = "{ mass = 400, mass_pm = 9, cg = [1, 2, 430], cg_pm = [5, 5, 12] }"
    vehicle.write_text(
        text.replace('name    = "powertrain"\n', f'name    = "powertrain"\nweighed = {own}\n', 1), "utf-8"
    )
    assert own in vehicle.read_text("utf-8")
    assert run("weigh", level, "--write", vehicle, "--body", "powertrain")[0] == 0
    again = next(each for each in read_vehicle(vehicle).bodies if each.name == "powertrain").weighed
    assert again is not None
    assert again.mass == pytest.approx(weighed.mass)
    assert (again.cg[2], again.cg_pm[2]) == pytest.approx((0.430, 0.0121), abs=2e-4)


def test_weigh_shares_a_unit_among_its_assemblies(run: Run, tmp_path: Path) -> None:
    vehicle = copied(shipped_folder("vehicles") / "van-longitudinal-diesel-rwd.toml", tmp_path)
    code, out, err = run("weigh", READINGS, "--write", vehicle, "--body", "powertrain", "--body", "cradle")
    assert (code, err.rstrip().endswith(".before.")) == (0, True), err
    assert "Weighed as one unit" in out
    found = [each.weighed for each in read_vehicle(vehicle).bodies if each.weighed]
    assert len(found) == 2
    assert sum(each.mass for each in found) == pytest.approx(342.3, abs=0.3)
    code, _, err = run("weigh", READINGS, "--write", vehicle, "--body", "powertrain", "--body", "powertrain")
    assert code == 2
    assert 'names "powertrain" twice' in err


def test_weigh_prints_no_plus_or_minus_for_readings_that_contradict(run: Run, tmp_path: Path) -> None:
    odd = tmp_path / "odd.toml"
    odd.write_text(READINGS.read_text("utf-8").replace("load = 128.2", "load = 158.2"), "utf-8")
    _, out, _ = run("weigh", odd)
    assert "CONTRADICT" in out
    assert "No plus or minus is told" in out
    assert re.search(r"^weight +\d+ kg +-$", out, re.MULTILINE)
    told = json.loads(run("weigh", odd, "--json")[1])
    assert told["consistent"] is False
    assert [told["mass_kg"]["pm"], *(each["pm"] for each in told["cg_mm"].values())] == [None] * 4
    assert told["mass_kg"]["value"] > 320


@pytest.mark.parametrize(
    "command",
    [
        ["weigh", READINGS],
        ["heights", OPEN],
        ["order", DEMO / "front-unit.toml", "--stage", OFF],
    ],
)
def test_every_page_that_plans_ends_with_the_cautions(run: Run, command: list[object]) -> None:
    _, out, _ = run(*command)
    for number, caution in enumerate(cautions(Basis.EXAMPLE, System.METRIC)[:6], 1):
        assert f"  {number} {caution.split(':')[0][:60]}" in out
    basis = "weighed" if command[0] == "weigh" else "example"
    assert f"  7 The numbers are only as good as the weights: {basis}." in out


@pytest.mark.parametrize("options", [["--write", "x.toml"], ["--body", "powertrain"]])
def test_weigh_wants_file_and_body_together(run: Run, options: list[str]) -> None:
    code, _, err = run("weigh", READINGS, *options)
    assert code == 2
    assert "is missing: give both, or none" in err


# ---- heights -------------------------------------------------------------------------------------


def test_heights_json_adds_up(run: Run) -> None:
    code, out, err = run("heights", OPEN, "--json")
    told = json.loads(out)
    job = read_job(OPEN)
    assert (code, err) == (0, "")
    assert list(told) == ["schema", "level_mm", "supports", "tilt_deg", "release"]
    assert told["schema"] == "loadplan-heights-1"
    assert [each["name"] for each in told["supports"]] == [each.name for each in job.supports]
    for each, support in zip(told["supports"], job.supports, strict=True):
        needed = support.at[2] * 1000 + told["level_mm"]
        assert each["misfit_mm"] == pytest.approx(each["height_mm"] + each["shim_mm"] - needed, abs=1e-5)
    assert max(abs(each["misfit_mm"]) for each in told["supports"]) <= 3
    assert set(told["tilt_deg"]["gearbox unit"]) == {"left_up", "nose_up"}


def test_heights_says_how_far_each_saddle_is_off(run: Run) -> None:
    code, out, _ = run("heights", OPEN)
    assert code == 0
    assert "1 mm low" in out
    assert "No saddle is off by more than 2 mm; 3 mm count as even." in out
    assert max(map(len, out.splitlines())) <= 100


def test_heights_at_which_mounts_let_go_are_told_as_no_setting_where_a_stand_has_none(run: Run) -> None:
    told = " ".join(run("heights", DEMO / "front-unit.toml").out.split())
    found = re.search(r"comes free without a drop .*? with A at (\d+) mm", told)
    assert found is not None
    assert int(found[1]) % 20 != 330 % 20  # a ratchet stand of the demo's shop has a setting every 20 mm
    assert "have no setting there: a shim has to make up the rest" in told


def test_below_the_lowest_setting_of_a_stand_no_shim_is_told_to_help(run: Run) -> None:
    """The demo's ratchet stands go down to 290 mm; C and D have a shim that may be thinner, A and B none."""
    told = " ".join(run("heights", DEMO / "front-unit.toml").out.split())
    assert "with A at 287 mm, B at 287 mm" in told
    assert "C and D have no setting there: a shim has to make up the rest" in told
    assert "A and B do not go that low, and a shim only raises" in told


def test_heights_writes_a_job_that_reads_and_is_set_as_told(run: Run, tmp_path: Path) -> None:
    target = tmp_path / "new.toml"
    code, out, err = run("heights", OPEN, "--json", "--write", target)
    assert err == f"{target} is written.\n"
    told = {each["name"]: each for each in json.loads(out)["supports"]}
    assert code == 0
    for support in read_job(target).supports:
        shim = support.shim.height if support.shim else 0.0
        assert (support.height or 0.0) * 1000 == pytest.approx(told[support.name]["height_mm"])
        assert shim * 1000 == pytest.approx(told[support.name]["shim_mm"])
    assert json.loads(run("heights", target, "--json")[1])["supports"] == list(told.values())


def test_heights_in_inches_are_written_in_inches(run: Run, tmp_path: Path) -> None:
    job = copied(US, tmp_path)
    assert run("heights", job, "--write", job)[0] == 0
    assert [each.height for each in read_job(job).supports] == pytest.approx([11 * 0.0254] * 4)
    assert "height = 11\n" in job.read_text("utf-8")


def test_heights_does_not_write_over_another_kind_of_file(run: Run, tmp_path: Path) -> None:
    shop = copied(DEMO / "shop.toml", tmp_path)
    before = shop.read_bytes()
    code, out, err = run("heights", OPEN, "--write", shop)
    assert (code, out) == (2, "")
    assert "is not written over" in err
    assert shop.read_bytes() == before


def test_heights_into_a_folder_that_is_not_there_is_told(run: Run, tmp_path: Path) -> None:
    code, _, err = run("heights", OPEN, "--write", tmp_path / "nowhere" / "new.toml")
    assert code == 2
    assert "No such file or directory" in err


# ---- order ---------------------------------------------------------------------------------------


def test_order_json_has_the_agreed_keys(run: Run) -> None:
    code, out, err = run("order", WEIGHED, "--stage", "Head off", "--json")
    told = json.loads(out)
    assert (code, err) == (0, "")
    assert list(told) == ["schema", "proven_best", "steps"]
    assert (told["schema"], told["proven_best"]) == ("loadplan-order-1", True)
    assert all(list(step) == ["part", "worst_margin_mm"] for step in told["steps"])
    stage = next(each for each in read_job(WEIGHED).stages if each.name == "Head off")
    assert sorted(step["part"] for step in told["steps"]) == sorted(stage.off)


def test_order_tells_the_margin_after_each_part(run: Run) -> None:
    code, out, _ = run("order", WEIGHED, "--stage", "Head off")
    assert code == 0
    assert "On the way it is never less than 109 mm." in out
    assert "the repair manual" in out
    assert max(map(len, out.splitlines())) <= 100


def test_order_ends_with_1_where_it_tips_whatever_the_order(run: Run, tmp_path: Path) -> None:
    job = tmp_path / "tips.toml"
    text = WEIGHED.read_text("utf-8").replace("at    = [-600, 180, 316]", "at    = [-300, 180, 316]")
    text = text.replace("at    = [-600, -180, 316]", "at    = [-300, -180, 316]").replace(
        '"shop.toml"', f'"{DEMO}/shop.toml"'
    )
    job.write_text(text, "utf-8")
    code, out, _ = run("order", job, "--stage", "Head off")
    assert code == 1
    assert "IT TIPS" in out
    assert "STOP: whatever the order" in out
    told = json.loads(run("order", job, "--stage", "Head off", "--json")[1])
    assert {step["worst_margin_mm"] for step in told["steps"]} == {None}


def test_order_takes_a_step_by_its_number(run: Run) -> None:
    number = 1 + [each.name for each in read_job(WEIGHED).stages].index("Head off")
    assert run("order", WEIGHED, "--stage", str(number)) == run("order", WEIGHED, "--stage", "Head off")


@pytest.mark.parametrize(
    "command",
    [
        ["check", WEIGHED],
        ["order", WEIGHED],
        ["draw", WEIGHED, "-o", "nowhere"],
        ["swap", WEIGHED, "--stand", "A"],
        ["weigh", WEIGHED],
    ],
)
def test_a_step_is_asked_for_by_either_name_everywhere(run: Run, command: list[str]) -> None:
    by_step, by_stage = (run(*command, name, "99") for name in ("--step", "--stage"))
    assert by_step[0] == 2
    assert by_step == by_stage
    assert "must be a number from 1 to 4" in by_step[2]


@pytest.mark.parametrize(
    ("stage", "says"),
    [
        ("99", "a number from 1 to"),
        ("Haed off", 'did you mean "Head off"?'),
        ("Overnight", "takes no part off: there is no order to choose; parts come off in step 2"),
    ],
)
def test_order_needs_a_step_that_takes_parts_off(run: Run, stage: str, says: str) -> None:
    code, out, err = run("order", WEIGHED, "--stage", stage)
    assert (code, out) == (2, "")
    assert says in err


# ---- all of them ---------------------------------------------------------------------------------


@pytest.mark.parametrize("command", [["weigh"], ["heights"], ["order", "--stage", "x"]])
def test_the_wrong_file_is_told_and_never_a_traceback(run: Run, tmp_path: Path, command: list[str]) -> None:
    for content in ("", "= 3", 'schema = "loadplan-shop-1"\nunits = "metric"\n'):
        path = tmp_path / "wrong.toml"
        path.write_text(content, "utf-8")
        code, out, err = run(*command, path)
        assert (code, out) == (2, "")
        assert err.startswith(str(path))


def test_a_check_says_what_to_weigh_where_there_is_least_margin(run: Run) -> None:
    _, out, _ = run("check", DEMO / "front-unit.toml", "--all")
    assert "What is not known costs most at the powertrain in step 4" in out
    assert "- Weighing the block with crankshaft and head would win back 7 mm." in out
