"""The JSON Schemas of the files, for editors: which tables and keys there are, and what may stand in them."""

from collections.abc import Mapping
from enum import Enum
from types import MappingProxyType
from typing import Any

from loadplan.files.job_file import MOST_STAGES, MOST_SUPPORTS
from loadplan.files.job_shape import JOB_SCHEMA, JobHead, LiftUseTable, LimitsTable, StageTable, SupportTable
from loadplan.files.readings_reader import MOST_SETS
from loadplan.files.readings_shape import READINGS_SCHEMA, ReadingsHead, SetTable
from loadplan.files.schema_texts import EVERYWHERE, KEYS, TABLES
from loadplan.files.shape import Shape
from loadplan.files.shop_reader import MOST_EQUIPMENT, MOST_LIFTS, MOST_SHIMS
from loadplan.files.shop_shape import SHOP_SCHEMA, EquipmentTable, LiftTable, ShimTable, ShopHead
from loadplan.files.vehicle_reader import MOST_BODIES, MOST_JOINTS, MOST_PARTS, MOST_POINTS, MOST_TIES
from loadplan.files.vehicle_shape import (
    VEHICLE_SCHEMA,
    BodyTable,
    JointTable,
    PartTable,
    PointTable,
    TieTable,
    VehicleHead,
)
from loadplan.units import System

DIALECT = "https://json-schema.org/draft/2020-12/schema"

Plain = dict[str, Any]
"""What JSON holds."""


class FileKind(Enum):
    """The kinds of files that users write."""

    VEHICLE = "vehicle"
    SHOP = "shop"
    JOB = "job"
    READINGS = "readings"


_VEHICLE: Mapping[str, tuple[type[Shape], int]] = MappingProxyType({
    "body": (BodyTable, MOST_BODIES),
    "part": (PartTable, MOST_PARTS),
    "joint": (JointTable, MOST_JOINTS),
    "point": (PointTable, MOST_POINTS),
    "tie": (TieTable, MOST_TIES),
})
_SHOP: Mapping[str, tuple[type[Shape], int]] = MappingProxyType({
    "equipment": (EquipmentTable, MOST_EQUIPMENT),
    "lift": (LiftTable, MOST_LIFTS),
    "shim": (ShimTable, MOST_SHIMS),
})
_JOB: Mapping[str, tuple[type[Shape], int]] = MappingProxyType({
    **_VEHICLE,
    **{key: each for key, each in _SHOP.items() if key != "lift"},
    "support": (SupportTable, MOST_SUPPORTS),
    "stage": (StageTable, MOST_STAGES),
})


def file_schema(kind: FileKind) -> Plain:
    """Make the JSON Schema of one kind of file.

    Args:
        kind: Kind of file.

    Returns:
        A schema of draft 2020-12 that stands on its own.

    Example:
        >>> file_schema(FileKind.SHOP)["properties"]["schema"]["const"]
        'loadplan-shop-1'
    """
    match kind:
        case FileKind.VEHICLE:
            return _file("A vehicle of loadplan", VEHICLE_SCHEMA, VehicleHead, _VEHICLE)
        case FileKind.SHOP:
            return _file("A shop of loadplan", SHOP_SCHEMA, ShopHead, _SHOP)
        case FileKind.READINGS:
            return _file(
                "Readings of scales for loadplan", READINGS_SCHEMA, ReadingsHead, {"set": (SetTable, MOST_SETS)}
            )
        case FileKind.JOB:
            whole = _file("A job of loadplan", JOB_SCHEMA, JobHead, _JOB)
            limits, lift, use = (_table(shape) for shape in (LimitsTable, LiftTable, LiftUseTable))
            defs = {"LimitsTable": limits, "LiftTable": lift, "LiftUseTable": use, "LiftOwnAndUse": _either(lift, use)}
            properties = {"limits": _named("limits", "LimitsTable"), "lift": _lift()}
            return whole | {
                "$defs": whole["$defs"] | _flat(defs),
                "properties": whole["properties"] | properties,
                # With a shop of its own, [lift] says only how the lift is used.
                "if": {"required": ["shop"]},
                "then": {"properties": {"lift": _ref("LiftUseTable")}},
            }


def all_schemas() -> Plain:
    """Make the JSON Schemas of all kinds of files.

    Returns:
        Each by the name of its kind.
    """
    return {"schema": "loadplan-schemas-1", **{kind.value: file_schema(kind) for kind in FileKind}}


def _file(title: str, schema: str, head: type[Shape], tables: Mapping[str, tuple[type[Shape], int]]) -> Plain:
    """Return the schema of one kind of file, for editors."""
    shapes = {shape.__name__: _table(shape) for shape, _ in tables.values()}
    rows = {
        key: {"type": "array", "items": _ref(shape.__name__), "maxItems": most, "description": TABLES[key]}
        for key, (shape, most) in tables.items()
    }
    units = {"enum": [each.value for each in System], "description": EVERYWHERE["units"]}
    return {
        "$schema": DIALECT,
        "title": title,
        "description": (head.__doc__ or "").strip(),
        "type": "object",
        "properties": {
            "schema": {"const": schema, "description": EVERYWHERE["schema"]},
            "units": units,
            **_table(head)["properties"],
            **rows,
        },
        "required": ["schema", "units"],
        "additionalProperties": False,
        "$defs": _flat(shapes),
    }


def _table(shape: type[Shape]) -> Plain:
    """Return the schema of a table with the words for its keys, its inner tables in `$defs`."""
    raw = shape.model_json_schema()
    inner = {name: _worded(name, each) for name, each in raw.get("$defs", {}).items()}
    return _worded(shape.__name__, {key: value for key, value in raw.items() if key != "$defs"}) | {"$defs": inner}


def _worded(shape: str, table: Plain) -> Plain:
    words = KEYS.get(shape, {})
    properties = {key: _with_words(value, words[key]) for key, value in table.get("properties", {}).items()}
    return table | {"properties": properties}


def _with_words(value: Plain, words: str) -> Plain:
    """Return the schema of a value with what it is and how it may be written; TOML has no null to offer."""
    forms = [each for each in value.get("anyOf", ()) if each != {"type": "null"}]
    told = {key: each for key, each in value.items() if key != "anyOf" and (key != "default" or each is not None)}
    told |= forms[0] if len(forms) == 1 else {"anyOf": forms} if forms else {}
    form = told.get("description", "")
    return told | {"description": f"{words} ({form})" if form else words}


def _flat(tables: Plain) -> Plain:
    """Return tables and the tables inside them side by side."""
    flat: Plain = {}
    for name, table in tables.items():
        flat |= table.get("$defs", {})
        flat[name] = {key: value for key, value in table.items() if key != "$defs"}
    return flat


def _either(lift: Plain, use: Plain) -> Plain:
    """Return the table of a lift that may say both what it is and how it is used."""
    return {
        "title": "LiftOwnAndUse",
        "description": "What the lift is and how it is used, in one.",
        "type": "object",
        "properties": lift["properties"] | use["properties"],
        "additionalProperties": False,
        "$defs": lift["$defs"] | use["$defs"],
    }


def _lift() -> Plain:
    """Return the schema of the lift in one file: one table, or a list of them."""
    either = _ref("LiftOwnAndUse")
    return {"anyOf": [either, {"type": "array", "items": either}], "description": "The lift: what it is, and its use."}


def _named(key: str, shape: str) -> Plain:
    """Return a reference to a table, with its description."""
    return _ref(shape) | {"description": TABLES[key]}


def _ref(shape: str) -> Plain:
    return {"$ref": f"#/$defs/{shape}"}
