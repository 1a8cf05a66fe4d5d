"""What the manual says of the files: every key that there is, and which must be there."""

import re
from pathlib import Path
from typing import get_args

import pytest
from pydantic import BaseModel

from loadplan import read_job
from loadplan.files import job_file, values
from loadplan.files import toml_source as source
from loadplan.files.job_shape import JobHead, LiftUseTable, LimitsTable, StageTable, SupportTable
from loadplan.files.parsing_cost import MOST_IN_KEY
from loadplan.files.readings_shape import SetTable
from loadplan.files.shape import Shape
from loadplan.files.shop_shape import EquipmentTable, LiftTable, ShimTable
from loadplan.files.vehicle_reader import MOST_BODIES, MOST_PARTS
from loadplan.files.vehicle_shape import BodyTable, JointTable, PartTable, PointTable, VehicleHead
from loadplan.statics.stage_sequence import MOST_WORK
from loadplan.statics.tipping_modes import work
from tests.bench.bench_check import only_frame
from tests.bench.bench_sizes import chain
from tests.house.tree import MANUAL, rows
from tests.reference.random_jobs import write_job

TABLES: tuple[tuple[str, str, type[Shape]], ...] = (
    ("vehicle-file", '`schema = "loadplan-vehicle-1"`', VehicleHead),
    ("vehicle-file", "`[[body]]`", BodyTable),
    ("vehicle-file", "`[[part]]`", PartTable),
    ("vehicle-file", "`[[joint]]`", JointTable),
    ("vehicle-file", "`[[point]]`", PointTable),
    ("shop-file", "`[[equipment]]`", EquipmentTable),
    ("shop-file", "`[[lift]]`", LiftTable),
    ("shop-file", "`[[shim]]`", ShimTable),
    ("job-file", '`schema = "loadplan-job-1"`', JobHead),
    ("job-file", "`[lift]`", LiftUseTable),
    ("job-file", "`[[support]]`", SupportTable),
    ("job-file", "`[[stage]]`", StageTable),
    ("weighing", "`[[set]]`", SetTable),
    ("limits", "`[limits]`", LimitsTable),
)


def _told(topic: str, opening: str) -> str:
    """What the manual says of one table: from its opening words to the next table."""
    text = MANUAL[topic]
    text = text[text.index(opening) :]
    end = re.search(r"^(`\[|## )", text[1:], re.MULTILINE)
    return text[: end.start()] if end else text


def _keys(text: str) -> dict[str, bool]:
    """Each key, and whether it must be there: the last words of its row."""
    return {key: row[-1].endswith("must be there") for row in rows(text) for key in re.findall(r"`([a-z_]+)`", row[0])}


@pytest.mark.parametrize(("topic", "opening", "shape"), TABLES, ids=[each[2].__name__ for each in TABLES])
def test_every_key_is_told_and_whether_it_must_be_there(topic: str, opening: str, shape: type[Shape]) -> None:
    known = {field.alias or name: field.is_required() for name, field in shape.model_fields.items()}
    assert _keys(_told(topic, opening)) == known, f"loadplan/manual/{topic}.md has a row for each key"


@pytest.mark.parametrize(("topic", "opening", "shape"), TABLES, ids=[each[2].__name__ for each in TABLES])
def test_every_key_of_a_table_in_a_table_is_told_beside_it(topic: str, opening: str, shape: type[Shape]) -> None:
    told = _told(topic, opening)
    for name, field in shape.model_fields.items():
        line = next((line for line in told.splitlines() if f"`{name}`" in line), "")
        for inner in _shapes_in(field.annotation):
            keys = [each.alias or key for key, each in inner.model_fields.items()]
            assert [key for key in keys if not re.search(rf"`{key}`|[{{ ]{key} = ", line)] == [], name


def test_the_sane_sizes_are_those_of_the_reader() -> None:
    told = " ".join(MANUAL["unclear-places"].split())
    for size in (
        f"at most {source.LARGEST / 1e6:g} MB",
        f"no key in it more than {MOST_IN_KEY} parts",
        f"at most {MOST_BODIES} assemblies and {MOST_PARTS} parts",
        f"at most {job_file.MOST_SUPPORTS} stands and {job_file.MOST_STAGES} steps",
        f"above {values.FARTHEST:g} m",
        f"above {values.HEAVIEST / 1000:g} t or below {1000 * values.LIGHTEST:g} g",
    ):
        assert size in told


def _shapes_in(annotation: object) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [shape for inner in get_args(annotation) for shape in _shapes_in(inner)]


NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}


def test_the_stands_under_linked_assemblies_that_are_looked_at_are_those_of_the_statics(tmp_path: Path) -> None:
    """Assemblies in a row, each on one mount to the next, which leaves them the most ways to go over."""
    text = " ".join(MANUAL["unclear-places"].split())
    said = re.search(r"(\w+) on (\d+) stands, or (\w+) on (\d+), are looked at; (\w+) on (\d+) are not", text)
    assert said is not None
    words = said.groups()
    sizes = [(NUMBERS[assemblies], int(stands)) for assemblies, stands in zip(words[::2], words[1::2], strict=True)]
    looked_at = [
        work(only_frame(read_job(write_job(chain(*size, 1), tmp_path, "job.toml")))) <= MOST_WORK for size in sizes
    ]
    assert looked_at == [True, True, False]
