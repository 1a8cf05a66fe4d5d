"""The table of the checks: it has each of them once, in one order, and no list of their names stands anywhere else."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from loadplan import checks
from loadplan.checks.check_table import AT_A_GLANCE, CHECK_OF, CHECKS
from loadplan.model.verdict import CheckName

ROOM = Path(checks.__file__).parent
PACKAGE = ROOM.parent


def test_names_and_table_have_the_same_checks_in_the_same_order() -> None:
    assert [each.name for each in CHECKS] == list(CheckName)
    assert all(CHECK_OF[name].name is name for name in CheckName)


def test_what_hurts_first_is_told_first() -> None:
    """Holds what is told first of a step: what falls, what moves all at once, what gives way, then the rest."""
    first = ("balance", "sway", "grip", "undoing", "drop", "set-down", "lift", "unloading", "rating", "point")
    told = [name.value for name in CheckName]
    assert sorted((*first, "jack holding", "push", "pull", "margin"), key=told.index) == [
        *first,
        "jack holding",
        "push",
        "pull",
        "margin",
    ]
    assert set(told[:10]) <= {*first, "bearing"}


def test_every_check_is_made_once_and_its_file_has_its_name() -> None:
    rooms = {path.stem for path in ROOM.glob("*.py") if "\ndef check(" in path.read_text("utf-8")}
    assert {each.look.__module__.rpartition(".")[2]: each.name for each in CHECKS} == {
        room: next(name for name in CheckName if name.name.lower() == room) for room in rooms
    }


def test_what_follows_the_finger_is_told_in_the_order_of_the_table() -> None:
    """Holds the live plan's decision: balance and loads at a glance, what needs ranges or another solution later."""
    assert [each.name.value for each in AT_A_GLANCE] == [
        "bearing",
        "balance",
        "sway",
        "grip",
        "rating",
        "point",
        "margin",
        "idle support",
        "overlap",
    ]


def test_what_needs_no_loads_looks_at_the_plan_alone() -> None:
    """Holds which checks mending makes on paper, of plans that nobody has solved yet."""
    assert [each.name.value for each in CHECKS if not each.needs_loads] == ["height", "count", "inspection", "overlap"]


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=lambda path: str(path.relative_to(PACKAGE)))
def test_no_list_of_names_of_checks_stands_beside_the_table(path: Path) -> None:
    """Holds the table's file too: there each name stands in a record of its own."""
    assert not list(lists_of_names(path.read_text("utf-8")))


@pytest.mark.parametrize(
    "code",
    [
        'QUIET = frozenset({"balance", "margin"})',
        'OF_STANDS = ("rating", "idle support")',
        "LOUD = [CheckName.RATING, CheckName.POINT]",
        'WAYS = {"rating": "more stands", "count": "more pieces"}',
        'def told(finding): return finding.check == "jack holding"',
        'def told(finding): return finding.check in ("rating", name)',
    ],
)
def test_a_list_of_names_of_checks_would_be_seen(code: str) -> None:
    assert list(lists_of_names(code))


def lists_of_names(code: str) -> Iterator[ast.AST]:
    """Yield collections that hold nothing but names of checks, and comparisons of a check with a bare text."""
    for node in ast.walk(ast.parse(code)):
        match node:
            case ast.Tuple(elts=members) | ast.List(elts=members) | ast.Set(elts=members) | ast.Dict(keys=members):
                if len(members) > 1 and all(_is_name(each) for each in members):
                    yield node
            case ast.Compare(left=ast.Attribute(attr="check"), comparators=others):
                texts = [each for other in others for each in ast.walk(other) if isinstance(each, ast.Constant)]
                if any(isinstance(each.value, str) for each in texts):
                    yield node


def _is_name(node: ast.expr | None) -> bool:
    match node:
        case ast.Attribute(value=ast.Name(id="CheckName")):
            return True
        case ast.Constant(value=str() as text):
            return text in set(CheckName)
        case _:
            return False
