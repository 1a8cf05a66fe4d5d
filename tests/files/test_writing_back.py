"""Writing back: values go into a user's file, comments, order and all else stay. Made-up files."""

import codecs
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files import read_job, read_vehicle
from loadplan.files.moved_job import moved
from loadplan.files.shipped import shipped_folder
from loadplan.files.toml_edit import Change, edited
from loadplan.files.write_heights import with_heights
from loadplan.files.write_weighed import check_weighing, vehicle_to_write, with_weighed
from loadplan.model.job import Stack
from loadplan.model.readings import Estimate, MeasuredAmount, Reading, UnknownKind, Weighing
from loadplan.model.vehicle import Weighed

MADE_UP = """# ours
schema = "loadplan-vehicle-1"   # never changed
units  = "metric"

[[body]]
name = "frame"                  # the long one
top  = 390
# weighed = { mass = 1 }

# ---- the rest ----
[[body]]
name    = "unit"
weighed = { mass = 300, mass_pm = 2, cg = [1, 2, 3] }   # last year

[[part]]
name = "beam"
body = "frame"
mass = 80
at   = [0, 0, 300]

[[part]]
name = "lump"
body = "unit"
mass = 290
at   = [0, 0, 300]
"""
FOUND = Weighing(
    mass=Estimate(335.6041, 0.9781),
    cg=(Estimate(-0.00072, 0.00093), Estimate(0.0032, 0.0007), Estimate(0.46938, 0.01212)),
    consistent=True,
    suspects=(),
    taken=(),
    pulling=(),
    advice=None,
)
WEIGHED = Weighed(335.6041, 0.9781, (-0.00072, 0.0032, 0.46938), (0.00093, 0.0007, 0.01212), None)
READINGS = Path("readings.toml")


@pytest.fixture
def vehicle(tmp_path: Path) -> Path:
    path = tmp_path / "made-up.toml"
    path.write_text(MADE_UP, "utf-8")
    return path


def lines(content: bytes) -> list[str]:
    return content.decode("utf-8").split("\n")


# ---- single values -------------------------------------------------------------------------------


def test_a_new_key_stands_behind_the_last_one_and_before_what_leads_to_the_next_table(vehicle: Path) -> None:
    new = lines(edited(vehicle, [Change("body", 0, "bottom", "190"), Change("body", 0, "known", '"guess"')]))
    old = MADE_UP.split("\n")
    place = old.index("top  = 390") + 1
    assert new == [*old[:place], "bottom = 190", 'known = "guess"', *old[place:]]


def test_a_value_is_changed_in_its_place_and_its_remark_stays(vehicle: Path) -> None:
    new = lines(edited(vehicle, [Change("body", 1, "weighed", "{ mass = 7, cg = [1, 2, 3] }")]))
    assert [line for line in new if line not in MADE_UP.split("\n")] == [
        "weighed = { mass = 7, cg = [1, 2, 3] }   # last year"
    ]


def test_a_key_can_be_taken_away_and_need_not_be_there(vehicle: Path) -> None:
    new = edited(vehicle, [Change("body", 1, "weighed", None), Change("body", 0, "weighed", None)])
    assert lines(new) == [line for line in MADE_UP.split("\n") if "last year" not in line]


def test_tables_in_a_list_are_changed_too(tmp_path: Path) -> None:
    path = tmp_path / "list.toml"
    path.write_text('body = [\n  { name = "a", top = 3 },   # one\n  { name = "b" },\n]\n', "utf-8")
    new = edited(path, [Change("body", 1, "top", "5"), Change("body", 0, "top", "4")])
    assert tomllib.loads(new.decode())["body"] == [{"name": "a", "top": 4}, {"name": "b", "top": 5}]
    assert "# one" in new.decode()


@pytest.mark.parametrize("mark", [b"", codecs.BOM_UTF8])
def test_line_ends_and_byte_order_mark_stay(tmp_path: Path, mark: bytes) -> None:
    path = tmp_path / "dos.toml"
    path.write_bytes(mark + b'a = 1\r\n[[body]]\r\nname = "x"\r\n\r\n[[part]]\r\nname = "p"\r\n')
    new = edited(path, [Change("body", 0, "top", "3")])
    assert new == mark + b'a = 1\r\n[[body]]\r\nname = "x"\r\ntop = 3\r\n\r\n[[part]]\r\nname = "p"\r\n'


def test_line_ends_that_are_mixed_stay_mixed(tmp_path: Path) -> None:
    lines = MADE_UP.splitlines()
    ends = ["\r\n" if number % 3 else "\n" for number in range(len(lines))]
    path = tmp_path / "mixed.toml"
    path.write_bytes("".join(line + end for line, end in zip(lines, ends, strict=True)).encode())
    before = path.read_bytes().splitlines(keepends=True)
    after = edited(path, [Change("body", 0, "weighed", "{ mass = 2 }")]).splitlines(keepends=True)
    new = [line for line in after if line not in before]
    assert new == [b"weighed = { mass = 2 }\r\n"]
    assert [line for line in after if line not in new] == before
    assert edited(path, []) == path.read_bytes()


def test_a_file_without_a_last_line_end_gets_its_key_on_a_line_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "end.toml"
    path.write_text('[[body]]\nname = "x"', "utf-8")
    assert edited(path, [Change("body", 0, "top", "3")]) == b'[[body]]\nname = "x"\ntop = 3\n'


@pytest.mark.parametrize(
    "text",
    [
        '[[body]]\nname = """\n[[body]]\n"""\n',
        'note = """\n[[body]]\nname = "in a text"\n[[body]]\n"""\n[[body]]\nname = "a"\n',
    ],
)
def test_what_cannot_be_changed_alone_is_refused(tmp_path: Path, text: str) -> None:
    path = tmp_path / "odd.toml"
    path.write_text(text, "utf-8")
    with pytest.raises(InputError, match="write the values in by hand"):
        edited(path, [Change("body", 0, "top", "4")])


@pytest.mark.parametrize(
    ("text", "row"),
    [
        ('[[body]]\nname = "a"\n\n[[part]]   # its part\nname = "p"\n\n[[body]]\nname = "b"\ntop = 3\n', 1),
        ('[[body]]\nname = "a"\n\n[[part]]\nname = "p"\n\n[[body]]\nname = "b"\n', 0),
        (
            '[[body]]\nname = "a"\nweighed.mass = 3\nweighed.cg = [1, 2, 3]\ntop = 2\n\n# more\n[[part]]\nname = "p"\n',
            0,
        ),
        ('[[body]]\nname = "a"\n[body.weighed]\nmass = 3\ncg = [1, 2, 3]\n\n[[body]]\nname = "b"\n', 0),
        ('[["body"]]\n"name" = "a"\n"weighed" = { mass = 3 }\n', 0),
        ('[[body]]\nname = "a"\noutline = [\n [1, 2],\n [3, 4], # c\n]\n# end\n', 0),
        ('body = [ { name = "a", weighed.mass = 3 }, { name = "b" } ]\n', 0),
    ],
)
def test_in_whichever_form_it_stands_only_what_is_meant_changes(tmp_path: Path, text: str, row: int) -> None:
    path = tmp_path / "form.toml"
    path.write_text(text, "utf-8")
    value = "{ mass = 7, cg = [1, 2, 3] }"
    new = edited(path, [Change("body", row, "weighed", value)]).decode()
    meant = tomllib.loads(text)
    meant["body"][row]["weighed"] = {"mass": 7, "cg": [1, 2, 3]}
    assert tomllib.loads(new) == meant
    kept = [line for line in text.split("\n") if "weighed" not in line and line not in {"mass = 3", "cg = [1, 2, 3]"}]
    assert [line for line in new.split("\n") if value not in line] == kept


# ---- what was weighed ----------------------------------------------------------------------------


def test_a_weighing_goes_into_the_body_that_was_weighed_and_reads_back(vehicle: Path) -> None:
    vehicle.write_bytes(with_weighed(vehicle, [("frame", WEIGHED)]))
    frame, unit = read_vehicle(vehicle).bodies
    assert frame.weighed is not None
    assert frame.weighed.mass == pytest.approx(335.6041, abs=0.005)
    assert frame.weighed.cg == pytest.approx((-0.00072, 0.0032, 0.46938), abs=5e-5)
    assert unit.weighed is not None
    assert unit.weighed.mass == 300


def test_what_is_written_encloses_what_was_found(vehicle: Path) -> None:
    """Rounding the value and its plus or minus must not leave any of the uncertainty out."""
    vehicle.write_bytes(with_weighed(vehicle, [("frame", WEIGHED)]))
    weighed = read_vehicle(vehicle).bodies[0].weighed
    assert weighed is not None
    pairs = zip((weighed.mass, *weighed.cg), (weighed.mass_pm, *weighed.cg_pm), (FOUND.mass, *FOUND.cg), strict=True)
    for value, pm, found in pairs:
        assert found is not None
        assert value - pm <= found.value - found.pm + 1e-12
        assert value + pm >= found.value + found.pm - 1e-12
        assert pm < found.pm + (0.02 if found is FOUND.mass else 2e-4)


def test_a_job_that_holds_its_vehicle_takes_it_in_its_own_units(tmp_path: Path) -> None:
    path = tmp_path / "us.toml"
    path.write_bytes((shipped_folder("demo") / "us-units.toml").read_bytes())
    path.write_bytes(with_weighed(path, [("rear unit", WEIGHED)]))
    weighed = read_job(path).vehicle.bodies[0].weighed
    assert weighed is not None
    assert weighed.mass == pytest.approx(335.604, abs=0.01)
    assert "mass = 739.88" in path.read_text("utf-8")


def test_several_bodies_are_written_at_once_and_none_twice(vehicle: Path) -> None:
    names = [each.name for each in vehicle_to_write(vehicle, ["frame"]).bodies]
    vehicle.write_bytes(with_weighed(vehicle, [(name, WEIGHED) for name in names]))
    assert [each.weighed and round(each.weighed.mass, 2) for each in read_vehicle(vehicle).bodies] == [335.6, 335.6]
    with pytest.raises(InputError, match=r'--body: names "frame" twice'):
        vehicle_to_write(vehicle, [*names, "frame"])


def test_a_height_that_was_not_weighed_is_no_trouble() -> None:
    check_weighing(replace(FOUND, cg=(*FOUND.cg[:2], None)), READINGS)
    check_weighing(replace(FOUND, taken=(MeasuredAmount.Z,)), READINGS)


def test_a_body_that_is_not_there_is_named_with_the_nearest(vehicle: Path) -> None:
    with pytest.raises(InputError, match=r'--body: there is no body "farme"; did you mean "frame"\?'):
        vehicle_to_write(vehicle, ["farme"])


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"cg": (FOUND.cg[0], None, None)}, "left or right is still missing"),
        ({"mass": None, "cg": (None, None, None)}, "the mass, front or back and left or right is still"),
        ({"taken": (MeasuredAmount.Y,)}, "left or right is still missing"),
        ({"consistent": False}, "the readings contradict each other"),
        ({"pulling": (Reading(UnknownKind.LOAD, 0, 1),)}, "a place would have to pull the unit down"),
    ],
)
def test_what_is_not_fit_to_plan_with_is_not_written(changes: dict[str, object], says: str) -> None:
    with pytest.raises(InputError, match=f"readings.toml: .*{says}.*Nothing was written"):
        check_weighing(replace(FOUND, **changes), READINGS)  # type: ignore[arg-type]


def test_a_file_with_faults_is_not_written_into(vehicle: Path) -> None:
    vehicle.write_text(MADE_UP.replace("mass = 80", "mass = -80"), "utf-8")
    with pytest.raises(InputError, match="mass: must be a mass"):
        vehicle_to_write(vehicle, ["frame"])


def test_a_job_that_names_its_vehicle_sends_one_to_the_vehicles_file() -> None:
    with pytest.raises(InputError, match="names its vehicle in another file"):
        vehicle_to_write(shipped_folder("demo") / "front-unit.toml", ["subframe"])


def test_another_kind_of_file_is_refused() -> None:
    with pytest.raises(InputError, match='must be "loadplan-vehicle-1"'):
        vehicle_to_write(shipped_folder("demo") / "shop.toml", ["subframe"])


# ---- heights -------------------------------------------------------------------------------------


def test_heights_and_shims_are_written_and_nothing_else(tmp_path: Path) -> None:
    source = shipped_folder("demo") / "front-unit.toml"
    job = read_job(source)
    changed = {
        "A": replace(job.supports[0], height=0.35, shim=Stack(0.006, "steel", crib=True)),
        "C": replace(job.supports[2], height=0.37, shim=None),
    }
    new = with_heights(source, source.parent / "new.toml", tuple(changed.get(s.name, s) for s in job.supports))
    path = tmp_path / "front-unit.toml"
    path.write_bytes(new)
    old = source.read_text("utf-8").split("\n")
    assert [line for line in lines(new) if line not in old] == [
        "height = 350",
        'shim = { height = 6, wood = "steel", crib = true }',
        "height = 370",
    ]
    assert len(lines(new)) == len(old)


def test_a_job_written_as_it_is_does_not_change_at_all() -> None:
    source = shipped_folder("demo") / "us-units.toml"
    assert with_heights(source, source, read_job(source).supports) == source.read_bytes()


def test_in_another_folder_the_job_still_finds_vehicle_and_shop(tmp_path: Path) -> None:
    here, there = tmp_path / "here", tmp_path / "there"
    for folder in (here, there):
        folder.mkdir()
    demo, shipped = shipped_folder("demo"), shipped_folder("vehicles")
    own = here / "own-van.toml"
    own.write_bytes((shipped / "van-longitudinal-diesel-rwd.toml").read_bytes())
    (here / "shop.toml").write_bytes((demo / "shop.toml").read_bytes())
    source = here / "job.toml"
    text = (demo / "front-unit.toml").read_text("utf-8").replace('"van-longitudinal-diesel-rwd"', '"own-van"')
    source.write_text(text, "utf-8")
    target = there / "job.toml"
    target.write_bytes(with_heights(source, target, read_job(source).supports))
    assert replace(read_job(target), source="") == replace(read_job(source), source="")
    assert tomllib.loads(target.read_text("utf-8"))["shop"] == "../here/shop.toml"


def test_a_shipped_vehicle_hidden_by_one_of_that_name_is_named_by_its_path(tmp_path: Path) -> None:
    source = shipped_folder("demo") / "front-unit.toml"
    (tmp_path / "van-longitudinal-diesel-rwd.toml").write_text("", "utf-8")
    keys = [change.key for change in moved(source, tmp_path / "job.toml")]
    assert keys == ["vehicle", "shop"]
    (tmp_path / "van-longitudinal-diesel-rwd.toml").unlink()
    assert [change.key for change in moved(source, tmp_path / "job.toml")] == ["shop"]


def test_a_file_that_would_take_minutes_to_change_is_refused(vehicle: Path) -> None:
    vehicle.write_text(vehicle.read_text("utf-8") + "\n" * 300_000, "utf-8")
    with pytest.raises(InputError, match=r"made-up\.toml: has 300\d\d\d characters: files of more than 200000"):
        edited(vehicle, [])
