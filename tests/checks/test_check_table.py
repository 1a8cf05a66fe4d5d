"""The table of the checks: it has each of them once, in one order, and no list of their names stands anywhere else."""

import ast
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from loadplan import checks
from loadplan.checks.case import Case, Told
from loadplan.checks.check_table import AT_A_GLANCE, CHECK_OF, CHECKS, Check, in_order, judge, told_place
from loadplan.checks.past_limit import PastLimit
from loadplan.model.answer import Between
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Verdict
from tests.checks.builders import case, support

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


@pytest.mark.parametrize(
    ("decision", "those"),
    [
        (
            "of_a_stand",
            "bearing, grip, rating, point, jack holding, reading, idle support, height, count, inspection, overlap, "
            "timber, wheels",
        ),
        ("notes_in_one", "idle support"),
        ("quiet_for_planning", "bearing, balance, rating, point, push, margin, idle support, level, overlap"),
        (
            "way_out",
            "bearing, balance, sway, grip, lift, rating, point, laid on, mount, level, height, count, overlap",
        ),
        ("of_tipping", "balance, sway, margin"),
        ("of_bodies", "balance, sway, laid on, push, pull, margin"),
        ("against_rating", "lift, rating"),
        ("tells_pieces_apart", "count, inspection"),
        ("mended_by_heights", "set-down, idle support, level, height"),
        ("raised_for_good", "drop, idle support, level, alignment"),
        ("of_settings", "height"),
        ("between_steps", "undoing, drop, unloading"),
        ("hangs_on_order", "balance, margin"),
        (
            "with_parts_on",
            "balance, sway, grip, lift, rating, point, laid on, margin, idle support, mount, snag, level",
        ),
    ],
)
def test_what_else_is_decided_of_a_check_holds_for_these_alone(decision: str, those: str) -> None:
    assert ", ".join(each.name.value for each in CHECKS if getattr(each, decision)) == those


def test_what_can_be_judged_without_loads_and_what_no_stand_mends() -> None:
    without = [each.name.value for each in CHECKS if not each.needs_loads]
    assert without == ["height", "count", "inspection", "overlap"]
    assert [each.name.value for each in CHECKS if not each.mended_by_stands] == ["reading", "basis", "part order"]


def of(check: CheckName, verdict: Verdict, value: float | None = None, limit: float | None = 1.0) -> Finding:
    return Finding(check, verdict, f"{verdict} {value}", value, limit, Measure.SHARE, ("so",))


UNSEEN = NotChecked(("not looked at",))
MIXED = (
    of(CheckName.RATING, Verdict.NOTE, 9.0),
    of(CheckName.RATING, Verdict.CAUTION, 0.9),
    of(CheckName.RATING, Verdict.HOLDS, 0.1),
    of(CheckName.RATING, Verdict.STOP, 1.2),
    of(CheckName.RATING, Verdict.CAUTION, 0.8),
    of(CheckName.RATING, Verdict.STOP, 1.5),
    of(CheckName.RATING, Verdict.NOTE, 0.2),
)
ORDERED = tuple(MIXED[each] for each in (5, 3, 4, 1, 0, 2, 6))
"""Stops first, and of them the one that is furthest past its limit; what is no trouble in the order it came."""


def test_within_a_check_the_worst_is_told_first_and_what_is_no_trouble_keeps_its_order() -> None:
    judged = case(support("A"))
    looked: list[Case] = []

    def look(stage: Case) -> list[Told]:
        looked.append(stage)
        return [UNSEEN, *MIXED, UNSEEN]

    quiet = (of(CheckName.COUNT, Verdict.NOTE, 1.0), of(CheckName.COUNT, Verdict.HOLDS, 5.0))
    checks_ = (Check(name=CheckName.RATING, look=look), Check(name=CheckName.COUNT, look=lambda _: [*quiet]))
    found, missing = judge(judged, checks_)
    assert found == (*ORDERED, *quiet)
    assert missing == (UNSEEN,)
    assert looked == [judged]


def test_findings_of_several_checks_are_told_in_the_order_of_the_table() -> None:
    mixed = (of(CheckName.COUNT, Verdict.STOP, 2.0), *MIXED, of(CheckName.BALANCE, Verdict.HOLDS))
    assert in_order(case(support("A")).statics, mixed) == (mixed[-1], *ORDERED, mixed[0])


def test_with_parts_in_any_order_only_some_checks_look_at_the_middle_too() -> None:
    """On the way the lump is still on, and what is looked at is worse."""
    judged = case(support("A"))
    there = replace(judged.state, may_be_on=("lump",))
    between = Between(there, judged.statics)
    on_way = replace(judged, state=replace(there, on=frozenset()), statics=replace(judged.statics, between=(between,)))

    def look(stage: Case) -> list[Told]:
        worse = "lump" in stage.state.on
        return [Finding(CheckName.RATING, Verdict(3 * worse), "A", 1.0, 1.0, Measure.SHARE, ("so",))]

    for with_parts_on, verdict in ((True, Verdict.STOP), (False, Verdict.HOLDS)):
        check = Check(name=CheckName.RATING, look=look, with_parts_on=with_parts_on)
        assert [each.verdict for each in judge(on_way, (check,))[0]] == [verdict]
        assert [each.verdict for each in judge(judged, (check,))[0]] == [Verdict.STOP]


def test_of_all_that_is_found_stops_come_first_then_what_hurts_first_then_the_worst_then_the_first_step() -> None:
    milder, worse, falls = PastLimit(falls=False, times=1.1), PastLimit(falls=False, times=2.0), PastLimit(True, 1.0)  # noqa: FBT003
    places = [
        told_place(Verdict.STOP, CheckName.BALANCE, falls, 4),
        told_place(Verdict.STOP, CheckName.BALANCE, worse, 2),
        told_place(Verdict.STOP, CheckName.BALANCE, worse, 3),
        told_place(Verdict.STOP, CheckName.BALANCE, milder, 1),
        told_place(Verdict.STOP, CheckName.RATING, falls, 0),
        told_place(Verdict.CAUTION, CheckName.BEARING, falls, 0),
        told_place(Verdict.NOTE, CheckName.BEARING, falls, 0),
    ]
    assert all(one < two for one, two in pairwise(places))


def test_a_way_out_is_told_in_sentences() -> None:
    for each in CHECKS:
        assert each.way_out == "" or re.fullmatch(r"[A-Z][a-z]+,? .*[a-z]\.", each.way_out), each.way_out


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
