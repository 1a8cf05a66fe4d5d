"""Files of readings: what each key means, in both systems of units, and every fault at once. Made-up readings."""

from math import radians
from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files.readings_reader import read_readings
from loadplan.files.shipped import shipped_folder
from loadplan.model.readings import Held, Readings, ReadingSet, ScalePlace

LEVEL = "[[set]]\nscale = [ { at = [0, 0], load = 60, pm = 0.5 }, { at = [-1000, 0], load = 40, pm = '1 %' } ]\n"


def written(folder: Path, sets: str, units: str = "metric") -> Path:
    path = folder / "readings.toml"
    path.write_text(f'schema = "loadplan-readings-1"\nunits = "{units}"\n{sets}', "utf-8")
    return path


def read(folder: Path, sets: str, units: str = "metric") -> Readings:
    return read_readings(written(folder, sets, units))


def only(folder: Path, sets: str) -> ReadingSet:
    (found,) = read(folder, sets).sets
    return found


def faults(folder: Path, sets: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        read(folder, sets)
    return [f"{fault.table}, {fault.key}: {fault.message}" for fault in caught.value.faults]


def test_the_demo_readings_are_read() -> None:
    demo = read_readings(shipped_folder("demo") / "readings.toml")
    assert [len(each.places) for each in demo.sets] == [3, 3, 3]
    assert demo.assumed == ()


def test_a_level_set_may_leave_heights_out(tmp_path: Path) -> None:
    found = only(tmp_path, LEVEL)
    assert found.held is Held.STANDS
    assert found.places == (ScalePlace((0.0, 0.0, 0.0), 60.0, 0.5), ScalePlace((-1.0, 0.0, 0.0), 40.0, 0.4))


def test_loads_are_masses_and_may_be_written_as_forces(tmp_path: Path) -> None:
    metric = only(tmp_path, '[[set]]\nhook = { at = [0, 0, 900], load = "980.665 N", pm = "5 N" }')
    assert metric.places[0].load == pytest.approx(100)
    (pounds,) = read(tmp_path, "[[set]]\nhook = { at = [10, 0, 35], load = 200, pm = 1 }", "us").sets
    assert pounds.places[0].load == pytest.approx(200 * 0.45359237)
    assert pounds.places[0].at == pytest.approx((0.254, 0.0, 0.889))


@pytest.mark.parametrize(
    ("before", "inside", "held"),
    [
        ("", ", hangs_level = true", Held.HANGS),
        ("", ", hangs_level = false", Held.HANGS_ASKEW),
        ("", "", Held.HANGS_ASKEW),
        ("nose_up = 12\n", "", Held.HANGS),
    ],
)
def test_a_hook_tells_the_place_where_its_attitude_is_known(
    tmp_path: Path, before: str, inside: str, held: Held
) -> None:
    hook = f"[[set]]\n{before}hook = {{ at = [0, 0, 900], load = 100, pm = 1{inside} }}"
    assert only(tmp_path, hook).held is held


def test_a_hook_beside_scales_is_one_more_place(tmp_path: Path) -> None:
    found = only(
        tmp_path, "[[set]]\nscale = [{ at = [0, 0], load = 60, pm = 1 }]\nhook = { at = [1, 0], load = 5, pm = 1 }"
    )
    assert (found.held, len(found.places)) == (Held.STANDS, 2)


def test_tilts_are_degrees(tmp_path: Path) -> None:
    found = only(
        tmp_path, "[[set]]\nnose_up = -6\nleft_up = 2\nleft_up_pm = 0.3\nscale = [{ at = [0, 0, 0], load = 1 }]"
    )
    assert (found.nose_up, found.left_up) == pytest.approx((radians(-6), radians(2)))
    assert (found.nose_up_pm, found.left_up_pm) == pytest.approx((radians(0.1), radians(0.3)))


def test_how_well_the_places_were_measured_is_a_length(tmp_path: Path) -> None:
    path = tmp_path / "readings.toml"
    for units, tape, wanted in (("metric", "0", 0.0), ("us", "0.25", 0.00635), ("us", '"3 mm"', 0.003)):
        path.write_text(f'schema = "loadplan-readings-1"\nunits = "{units}"\ntape = {tape}\n{LEVEL}', "utf-8")
        found = read_readings(path)
        assert found.tape == pytest.approx(wanted)
        assert found.sets[0].tape == found.tape
        assert found.assumed == ()
    path.write_text(f'schema = "loadplan-readings-1"\nunits = "metric"\ntape = -1\n{LEVEL}', "utf-8")
    with pytest.raises(InputError, match="tape: must be a length"):
        read_readings(path)


def test_a_tilt_that_is_given_as_level_in_a_tilted_set_is_as_sure_as_one_that_is_given(tmp_path: Path) -> None:
    found = only(tmp_path, "[[set]]\nnose_up = 6\nleft_up = 0\nscale = [{ at = [0, 0, 0], load = 1 }]")
    assert (found.left_up, found.left_up_pm) == (0, radians(0.1))


def test_what_is_left_out_is_assumed_and_told(tmp_path: Path) -> None:
    sets = (
        "[[set]]\nscale = [{ at = [0, 0, 0], load = 200 }, { at = [1, 0, 0], load = 10 }, { at = [2, 0, 0], pm = 1 }]\n"
        "[[set]]\nnose_up = 5\nscale = [{ at = [0, 0, 0], load = 200 }]\n"
        "[[set]]\nhook = { at = [0, 0], load = 210, pm = 1 }\n"
    )
    found = read(tmp_path, sets)
    assert [place.pm for place in found.sets[0].places] == [2.0, 0.5, 0.0]
    assert (found.tape, [each.tape for each in found.sets]) == (0.005, [0.005] * 3)
    assert [each.left_up_pm for each in found.sets] == [0, radians(0.2), 0]
    assert found.assumed == (
        "How well the places were measured (tape) not given, plus or minus 5 mm taken.",
        "Plus or minus of a load not given, 1 % of it taken, at least 0.5 kg: sets 1 and 2.",
        "Plus or minus of a tilt not given, 0.1 degrees taken: set 2.",
        "Tilt the other way not given, 0 plus or minus 0.2 degrees taken: set 2.",
        "A place has a plus or minus but no load, so it counts as not weighed: set 1.",
        "Whether it hangs level is not said, so only its weight counts: set 3.",
    )


def test_every_fault_is_told_at_once(tmp_path: Path) -> None:
    sets = (
        'titel = "x"\n'
        '[[set]]\nnose_up = 6\nscale = [ { at = [330, 420], load = 78, pm = "0.4 mm" }, { at = [1], lod = 3 }, 5 ]\n'
        "[[set]]\nscale = 3\n"
        "[[set]]\nnose_up = 60\nscale = [ { at = [330, 420, 205], load = 1 } ]\n"
        "[[set]]\nnose_up = 3\nhook = { at = [1, 2], load = 3, hangs_level = true }\n"
        "[[set]]\n"
        "[[set]]\nscale = [ { at = [0, 0] } ]\n"
        "[[set]]\nscale = [ { at = [0, 0], load = 3 } ]\nhook = { at = [1, 2], load = 3, hangs_level = true }\n"
        "[[set]]\nnose_up_pm = 0.1\nscale = [ { at = [0, 0], load = 3 } ]\n"
    )
    told = faults(tmp_path, sets)
    wanted = [
        ', titel: is not a key here; did you mean "title"?',
        "set 1, scale.1.pm: must be a mass, but",
        "set 1, scale.2.at: must be a list of 2 to 3 lengths",
        'set 1, scale.2.lod: is not a key here; did you mean "load"?',
        "set 1, scale.3: must be a table with its own keys, in { }, is 5",
        "set 2, scale: must be a list of tables with their own keys, each in { }, is 3",
        "set 3, nose_up: must be an angle from -40 to 40 deg, is 60",
        "set 4, hook.at: must be three lengths",
        "set 4, hook.hangs_level: must not be true where nose_up",
        "set 5, scale: is missing",
        "set 6, scale: has no load at all",
        "set 7, hook.hangs_level: must be left out",
        "set 8, scale.1.at: must be three lengths",
    ]
    assert len(told) == len(wanted)
    assert all(each.startswith(start) for each, start in zip(told, wanted, strict=True)), told


@pytest.mark.parametrize(
    ("sets", "says"),
    [
        ("", ", set: is missing: readings need at least one [[set]]"),
        (
            "[[set]]\nscale = [{ at = [0, 0], load = 0, pm = 1 }]",
            ", set: has no load greater than 0: nothing was weighed",
        ),
        ("[[set]]\nhook = { at = [0, 0], pm = 1 }", "set 1, hook.load: is missing: it must be a mass"),
        (
            "[[set]]\nscale = [" + "{ at = [0, 0], load = 1, pm = 1 }," * 13 + "]",
            "set 1, scale: has 13 places: at most 12",
        ),
        ("[[set]]\nscale = []\n" * 41, ", set: has 41 tables [[set]]: at most 40 are read"),
    ],
)
def test_what_cannot_be_weighed_says_why(tmp_path: Path, sets: str, says: str) -> None:
    assert faults(tmp_path, sets)[0].startswith(says)
