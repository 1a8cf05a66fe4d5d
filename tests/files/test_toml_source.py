"""Files that are no TOML, too large, or not files at all: one clear fault, and nothing of what stands in them."""

import os
from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files import read_job, read_vehicle
from loadplan.files.parsing_cost import MOST_IN_KEY
from loadplan.files.toml_source import LARGEST, MOST_FAULTS
from tests.files.builders import faults, read, small, write

LONG_KEY = f"has a key of more than {MOST_IN_KEY} parts in line 3"

HEAD = b'schema = "loadplan-job-1"\nunits = "metric"\n'


def only_fault(path: Path | str) -> str:
    with pytest.raises(InputError) as caught:
        read_job(path)
    assert len(caught.value.faults) == 1
    assert caught.value.file == str(path)
    return caught.value.message


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", 'is empty: it should begin with schema = "loadplan-job-1"'),
        (b"# nothing but a remark\n", "is empty"),
        ('schema = "loadplan-job-1"'.encode("utf-16"), "is not UTF-8 text (line 1): save it with the encoding UTF-8"),
        (HEAD + b'title = "caf\xe9"', "is not UTF-8 text (line 3)"),
        (HEAD + b"title = stand", "is not valid TOML: invalid value (line 3, column 9)"),
        (HEAD + b"title", "is not valid TOML: expected '=' after a key in a key/value pair (end of document)"),
        (HEAD + b"[stage]\n[stage]", "something is written twice; of tables that come more than once"),
        (HEAD + b'title = "a\0b"', "is not valid TOML: illegal character (line 3, column 11)"),
        (HEAD + b"a = " + b"[" * 100_000, "is nested too deep"),
        (HEAD + b"a = " + b"{a=" * 100_000, "is nested too deep"),
        (HEAD + b"a = " + b"9" * 10_000, "has a number that is too long"),
        (HEAD + b"[" + b".".join([b"a"] * 300_000) + b"]", LONG_KEY),
        (HEAD + b".".join([b"1"] * 300_000) + b" = 1", LONG_KEY),
        (HEAD + b"a = {" + b".".join([b'","'] * 300_000) + b" = 1}", LONG_KEY),
        (b"#" * (LARGEST + 1), f"has {LARGEST + 1} bytes: more than {LARGEST} are not read"),
        (b'schema = "loadplan-job-9"', 'must be "loadplan-job-1", is "loadplan-job-9"'),
        (b'schema = "somebody else\'s"', 'must be "loadplan-job-1", is something else'),
        (b"schema = 1", 'must be "loadplan-job-1", is something else'),
        (b'units = "us"', 'must be "loadplan-job-1", is missing'),
    ],
)
def test_what_cannot_be_read_is_told_in_one_fault(tmp_path: Path, content: bytes, told: str) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(content)
    assert told in only_fault(path)


def test_a_path_that_is_no_file_is_told(tmp_path: Path) -> None:
    assert "is not there" in only_fault(tmp_path / "none.toml")
    assert "is a folder" in only_fault(tmp_path)
    assert "is not a file" in only_fault(os.devnull)
    assert "cannot be read" in only_fault(str(tmp_path / "a\0b"))
    assert "cannot be read" in only_fault(str(tmp_path / ("x" * 5000)))


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes are a matter of Unix")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.toml")
    assert "is not a file" in only_fault(tmp_path / "pipe.toml")


def test_a_file_that_may_not_be_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError

    path = write(tmp_path, small())
    monkeypatch.setattr(Path, "open", refuse)
    assert "may not be read: check its permissions" in only_fault(path)


def test_a_mark_of_byte_order_and_windows_line_ends_do_no_harm(tmp_path: Path) -> None:
    path = write(tmp_path, small())
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert read_job(path).title == "small"


def test_long_lines_of_numbers_and_remarks_are_read(tmp_path: Path) -> None:
    """Decimal points and the dots of a ruled line are no parts of a key."""
    path = write(tmp_path, small())
    circle = ", ".join(f"[{x}.5, {abs(50 - x) * (1 if x < 50 else -1)}.25]" for x in range(101))
    text = path.read_text("utf-8").replace('"name" = "shell"', f'"name" = "shell"\noutline = [ # = .\n{circle}]')
    path.write_text(text + "# " + "." * 500, "utf-8")
    with pytest.raises(InputError) as caught:
        read_job(path)
    assert "parts in line" not in str(caught.value)


SECRETS = (
    "root:x:0:0:root:/root:/bin/sh\n",
    "s3cret = 's3cret'\n",
    "[s3cret]\n[s3cret]\n",
    '"s3cret" = 1\n"s3cret" = 2\n',
    "x = s3cret\n",
    "x = { s3cret = 1, s3cret = 2 }\n",
    'schema = "s3cret"\ns3cret = 1\n',
    'schema = "loadplan-vehicle-1"\nunits = "metric"\nx = "s3cret\n',
)


@pytest.mark.parametrize("key", ["vehicle", "shop"])
@pytest.mark.parametrize("secret", SECRETS)
def test_a_path_to_somebody_elses_file_shows_nothing_of_it(tmp_path: Path, key: str, secret: str) -> None:
    (tmp_path / "other.toml").write_text(secret, "utf-8")
    (tmp_path / "passwd").write_text(secret, "utf-8")
    for path in ("other.toml", str(tmp_path / "other.toml"), "passwd", str(tmp_path / "passwd"), "/etc/passwd"):
        found = faults(tmp_path, small(**{key: path}))
        assert any(each.key in {key, "schema", ""} for each in found)
        for each in found:
            assert "s3cret" not in str(each)
            assert "root:" not in str(each)


def test_there_is_an_end_to_faults(tmp_path: Path) -> None:
    found = faults(tmp_path, small(**{f"key {number}": 1 for number in range(3 * MOST_FAULTS)}))
    assert len(found) == MOST_FAULTS + 1
    assert found[-1].message == f"has more faults than the {MOST_FAULTS} told: mend these first"


def test_a_vehicle_beside_the_job_goes_before_one_that_ships(tmp_path: Path) -> None:
    own = {key: SMALL for key, SMALL in small().items() if key in {"units", "known", "body", "part", "joint", "point"}}
    write(tmp_path, {"schema": "loadplan-vehicle-1", "name": "our own", **own}, "van-longitudinal-diesel-rwd.toml")
    without = dict.fromkeys(("known", "body", "part", "joint", "point"))
    assert read(tmp_path, small(vehicle="van-longitudinal-diesel-rwd", **without)).vehicle.name == "our own"
    assert read(tmp_path, small(vehicle="van-longitudinal-diesel-rwd.toml", **without)).vehicle.name == "our own"
    assert read_vehicle(tmp_path / "van-longitudinal-diesel-rwd.toml").name == "our own"


def test_a_vehicle_file_with_faults_is_refused_alone_too(tmp_path: Path) -> None:
    path = write(tmp_path, {"schema": "loadplan-vehicle-1", "units": "metric", "colour": "red"}, "v.toml")
    with pytest.raises(InputError) as caught:
        read_vehicle(path)
    assert [each.key for each in caught.value.faults] == ["colour", "body"]
