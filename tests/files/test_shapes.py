"""The shapes of tables as such: what editors are told, and small rules that no faulty file shows."""

from collections.abc import Iterator
from typing import get_args, get_type_hints

import pytest
from pydantic import TypeAdapter

from loadplan.files.compound import MassSpread
from loadplan.files.fault_wording import listed, nearest, shown
from loadplan.files.job_shape import JobHead, LiftUseTable, LimitsTable, StageTable, SupportTable
from loadplan.files.outline import trouble
from loadplan.files.rule import Rule, RuleError
from loadplan.files.shape import Shape
from loadplan.files.shop_shape import EquipmentTable, LiftTable, ShimTable
from loadplan.files.values import Friction, MassTolerance, Outline, Places, PlaceSpread, Rectangle
from loadplan.files.vehicle_shape import BodyTable, JointTable, PartTable, PointTable, VehicleHead
from loadplan.units import QuantityError, System

SHAPES = (
    JobHead, LiftUseTable, LimitsTable, StageTable, SupportTable, EquipmentTable, LiftTable, ShimTable,
    BodyTable, JointTable, PartTable, PointTable, VehicleHead,
)  # fmt: skip


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.__name__)
def test_every_shape_can_be_told_to_an_editor(shape: type[Shape]) -> None:
    told = shape.model_json_schema()
    assert told["additionalProperties"] is False
    assert set(told["properties"]) == {field.alias or name for name, field in shape.model_fields.items()}
    assert all(set(each) - {"title", "default"} for each in told["properties"].values())


def test_an_editor_is_told_the_same_bounds() -> None:
    part = PartTable.model_json_schema()["properties"]
    assert (part["name"]["minLength"], part["name"]["maxLength"]) == (1, 100)
    assert (part["at"]["minItems"], part["at"]["maxItems"]) == (3, 3)
    assert part["mass"]["type"] == ["number", "string"]
    assert EquipmentTable.model_json_schema()["properties"]["kind"]["enum"] == ["stand", "jack", "table", "hoist"]


@pytest.mark.parametrize(
    ("kind", "value", "told"),
    [
        (PlaceSpread, "far", "must be a length"),
        (PlaceSpread, [1, 2], "must be a list of 3 lengths x, y, z in square brackets; has 2"),
        (Rectangle, {"circle": 3}, "must be a length: a number in mm"),
        (Places, [[1, 2, 3], 4], "item 2 must be a list of 3 lengths x, y, z in square brackets, is 4"),
        (Friction, True, "must be a number from 0 to 2, is true"),
        (Friction, float("nan"), "must be a number from 0 to 2, is nan"),
        (Outline, [[0, 0], [1, 0], [1]], "item 3 must be a list of 2 lengths x, y in square brackets; has 1"),
        (MassTolerance, "ten", "must be a mass"),
        (
            EquipmentTable.model_fields["inspected"].rebuild_annotation(),
            {},
            "must be a date such as 2026-11-20, or a table",
        ),
    ],
)
def test_a_value_that_breaks_its_rule_says_what_would_be_right(kind: object, value: object, told: str) -> None:
    with pytest.raises(ValueError, match=told.replace("[", r"\[")):
        TypeAdapter(kind).validate_python(value, context=System.METRIC)


def test_a_rule_must_say_what_it_wants() -> None:
    for unwritten in (lambda: Rule().wants(System.US), lambda: Rule().read(1, System.US), lambda: Rule().schema()):
        with pytest.raises(NotImplementedError):
            unwritten()
    assert issubclass(RuleError, ValueError)


def test_a_tolerance_in_per_cent_is_of_its_mass() -> None:
    assert TypeAdapter(MassTolerance).validate_python("10 %", context=System.US) == MassSpread(0.1, of_mass=True)
    assert MassSpread(0.1, of_mass=True).on(50) == 5
    assert MassSpread(0.1, of_mass=False).on(50) == 0.1


@pytest.mark.parametrize(
    ("outline", "told"),
    [
        (((0, 0), (1, 0), (1, 1), (0, 1)), None),
        (((0, 0), (2, 0), (2, 2), (1, 0.5), (0, 2)), None),
        (((0, 0), (1, 1), (2, 2)), "has no area: its corners lie in one line"),
        (((0, 0), (0, 0), (0, 0)), "has corner 1 twice, again as corner 2: leave one out"),
        (((0, 0), (1, 0), (1, 1), (0, 1), (0, 0)), "has corner 1 twice, again as corner 5"),
        (((0, 0), (1, 1), (1, 0), (0, 1)), "crosses itself between corners 1, 2 and 3, 4"),
        (((0, 0), (2, 0), (1, 0), (1, 1)), "crosses itself between corners 1, 2 and 3, 4"),
        (((0, 0), (2, 0), (2, 1), (1, 0), (0, 1)), "crosses itself between corners 1, 2 and 3, 4"),
        (((0, 0), (1, 0), (2, 0), (3, 0)), "crosses itself between corners 2, 3 and 4, 1"),
    ],
)  # fmt: skip
def test_an_outline_must_go_round_once(outline: tuple[tuple[float, float], ...], told: str | None) -> None:
    found = trouble(outline)
    assert (found is None) if told is None else (found or "").startswith(told)


def test_words_for_messages() -> None:
    assert shown("a\tb\n" + "x" * 100) == '"a?b?' + "x" * 56 + '…"'
    assert (shown({}), shown([]), shown(10**80), shown(1.5)) == ("a table", "a list", "a very large number", "1.5")
    assert listed(["A"] * 9, 2) == "A, A and 7 more"
    assert nearest("SUBFRAME", ["subframe", "shell"]) == '; did you mean "subframe"?'
    assert nearest("zzz", ["subframe", "shell"]) == nearest(3, ["subframe"]) == nearest("s" * 10_000, ["s"]) == ""


def rules_in(annotation: object) -> Iterator[Rule]:
    for inner in getattr(annotation, "__metadata__", ()):
        if isinstance(inner, Rule):
            yield inner
    for inner in get_args(annotation):
        yield from rules_in(inner)


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.__name__)
@pytest.mark.parametrize("system", System)
def test_every_rule_says_what_it_wants(shape: type[Shape], system: System) -> None:
    rules = [rule for hint in get_type_hints(shape, include_extras=True).values() for rule in rules_in(hint)]
    assert rules
    for rule in rules:
        assert len(rule.wants(system)) > 5
        with pytest.raises((RuleError, QuantityError), match=r"must be|has an unknown unit"):
            rule.read({"1": {}}, system)
