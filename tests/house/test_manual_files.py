"""What the manual says of the files: every key that there is, and which must be there."""

import re
from typing import get_args

import pytest
from pydantic import BaseModel

from loadplan.files import job_file, values
from loadplan.files import toml_source as source
from loadplan.files.job_shape import JobHead, LiftUseTable, LimitsTable, StageTable, SupportTable
from loadplan.files.parsing_cost import MOST_IN_KEY
from loadplan.files.readings_shape import SetTable
from loadplan.files.shape import Shape
from loadplan.files.shop_shape import EquipmentTable, LiftTable, ShimTable
from loadplan.files.vehicle_reader import MOST_BODIES, MOST_PARTS
from loadplan.files.vehicle_shape import BodyTable, JointTable, PartTable, PointTable, VehicleHead
from tests.house.tree import MANUAL, rows

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
    assert _keys(_told(topic, opening)) == known


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
