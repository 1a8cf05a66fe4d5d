"""Each bad file here says in its first lines which faults it must yield, and it must yield no others.

A line reads `# fault: FILE | TABLE | KEY | part of the message`.
"""

from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files import read_job

HERE = Path(__file__).parent
MARK = "# fault: "
SOUND = {"sound.toml", "unit.toml", "shop.toml", "notes.toml"}
BAD = sorted(path for path in HERE.glob("*.toml") if path.name not in SOUND)


def expected_faults(path: Path) -> list[tuple[str, str, str, str]]:
    lines = [line.removeprefix(MARK) for line in path.read_text("utf-8").splitlines() if line.startswith(MARK)]
    return sorted(tuple(each.strip() for each in line.split("|", 3)) for line in lines)  # type: ignore[misc]


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_a_bad_file_yields_its_faults_and_no_others(path: Path) -> None:
    with pytest.raises(InputError) as caught:
        read_job(path)
    found = sorted((Path(each.file).name, each.table, each.key, each.message) for each in caught.value.faults)
    expected = expected_faults(path)
    told = "\n".join(" | ".join(each) for each in found)
    assert [each[:3] for each in found] == [each[:3] for each in expected], told
    for (*place, message), (*_, fragment) in zip(found, expected, strict=True):
        assert fragment in message, place


def test_every_bad_file_says_what_it_must_yield() -> None:
    assert len(BAD) > 20
    assert all(expected_faults(path) for path in BAD)


def test_the_sound_job_has_no_fault() -> None:
    assert read_job(HERE / "sound.toml").title == "Sound"
