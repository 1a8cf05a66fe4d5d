"""What editors are told: the schemas take every file that ships, and refuse what shape alone shows to be wrong."""

import json
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from loadplan.files import schema_texts
from loadplan.files.readings_shape import HookTable, ReadingsHead, ScaleTable, SetTable
from loadplan.files.schema import FileKind, all_schemas, file_schema
from tests.files.builders import SMALL, Raw, small
from tests.files.test_shapes import SHAPES
from tests.tracked import shipped

TESTS = Path(__file__).parents[1]
SHIPPED = [path for folder in ("vehicles", "demo") for path in shipped(folder, "*.toml")]
TOLD_BY_SHAPE = {
    "days", "forms", "head", "limits", "other-units", "shop-path", "shop-values", "stage-names", "supports",
    "vehicle-names", "vehicle-values",
}  # fmt: skip


def plain(value: Any) -> Any:  # noqa: ANN401 - whatever TOML holds
    """Return what an editor sees of TOML: days as text."""
    match value:
        case dict():
            return {key: plain(each) for key, each in value.items()}
        case list():
            return [plain(each) for each in value]
        case date():
            return value.isoformat()
        case _:
            return value


def refusals(raw: Raw) -> list[str]:
    kind = FileKind(raw["schema"].removeprefix("loadplan-").removesuffix("-1"))
    return [error.json_path for error in Draft202012Validator(file_schema(kind)).iter_errors(plain(raw))]


@pytest.mark.parametrize("kind", FileKind)
def test_each_schema_is_one(kind: FileKind) -> None:
    Draft202012Validator.check_schema(file_schema(kind))
    assert all_schemas()[kind.value] == file_schema(kind)
    assert json.loads(json.dumps(file_schema(kind), allow_nan=False)) == file_schema(kind)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.name)
def test_what_ships_names_its_schema_and_is_taken(path: Path) -> None:
    assert refusals(tomllib.loads(path.read_text("utf-8"))) == []


@pytest.mark.parametrize("name", sorted(TOLD_BY_SHAPE))
def test_what_shape_alone_shows_to_be_wrong_is_refused(name: str) -> None:
    assert refusals(tomllib.loads((TESTS / "faulty" / f"{name}.toml").read_text("utf-8"))) != []


def test_the_lift_may_say_what_it_is_only_where_no_shop_is_named() -> None:
    own = SMALL["lift"]
    use = {"use": "bay", "body": "shell", "pads": ["sill left", "sill right"]}
    for lift in (own, own | use, [own, use], [own]):
        assert refusals(small(lift=lift)) == []
    assert refusals(small(lift=use, shop="shop.toml")) == []
    assert refusals(small(lift=own | use, shop="shop.toml")) == ["$.lift"]
    assert refusals(small(lift=own | {"sealing": 3900})) == ["$.lift"]


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"stages": []}, "$"),
        ({"support": [{"name": "A", "use": "stand", "heigth": 350}]}, "$.support[0]"),
        ({"part": [{"name": "head", "body": "unit", "mass": True, "at": [0, 0, 0]}]}, "$.part[0].mass"),
        ({"part": [{"name": "head", "body": "unit", "mass": 20, "at": [0, 0]}]}, "$.part[0].at"),
        ({"units": "inch"}, "$.units"),
    ],
)
def test_a_refusal_names_the_place(changes: Raw, where: str) -> None:
    assert refusals(small(**changes)) == [where]


@pytest.mark.parametrize("shape", [*SHAPES, ReadingsHead, SetTable, ScaleTable, HookTable], ids=lambda s: s.__name__)
def test_an_editor_is_told_what_each_key_is(shape: type[Any]) -> None:
    keys = {field.alias or name for name, field in shape.model_fields.items()}
    assert set(schema_texts.KEYS[shape.__name__]) == keys, "loadplan/files/schema_texts.py says what each key is"


def test_no_word_is_for_a_key_that_is_not_there() -> None:
    told = {name for kind in FileKind for name in file_schema(kind)["$defs"]} | {
        "VehicleHead", "ReadingsHead", "JobHead",
    }  # fmt: skip
    assert set(schema_texts.KEYS) <= told


def test_nothing_is_offered_that_toml_does_not_have() -> None:
    assert '"null"' not in json.dumps(all_schemas())
