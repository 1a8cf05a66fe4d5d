"""The sample of broken places: what is broken, what is passed over, and when it fails."""

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from tests.mutation import mutants
from tests.mutation.__main__ import _judged
from tests.mutation.mutants import ROOMS, ROOT, Mutant, broken, changes, files
from tests.mutation.places import Place
from tests.mutation.rows import Row, add, keep, kept
from tests.mutation.standing import standing
from tests.mutation.survivors import Kind, explained

FATES = {"a": "caught", "b": "survived", "gone": "caught"}

KINDS = {
    "for a, b in zip(c, d, strict=False)": True,
    "for a, b in zip(c, d, )": True,
    "for a, b in zip(c, strict=True)": False,
    "for a, b in zip(c, None, strict=False)": False,
}

CODE = '''"""What it is."""

Pair: TypeAlias = tuple[int, int]


def share(load: float, rating: float = 2.0) -> float:
    """Return a share."""
    return load / rating if rating > 0 else None
'''


@pytest.fixture
def told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, str]]:
    (tmp_path / "share.py").write_text(CODE, "utf-8")
    monkeypatch.setattr(mutants, "ROOT", tmp_path)
    made = [broken("share.py", change) for change in changes("share.py")]
    assert all(compile(each.source, "share.py", "exec") for each in made)
    return [(each.was, each.now) for each in made]


def test_signs_bounds_and_numbers_are_broken_one_at_a_time(told: list[tuple[str, str]]) -> None:
    line = "return load / rating if rating > 0 else None"
    assert (line, line.replace("/", "*")) in told
    assert (line, line.replace(">", ">=")) in told
    assert (line, line.replace("0", "1")) in told
    assert len(set(told)) == len(told)


def test_what_does_not_run_is_not_broken(told: list[tuple[str, str]]) -> None:
    assert not [was for was, _ in told if '"""' in was or "TypeAlias" in was]


@pytest.mark.parametrize(("lives", "code"), [(0, 0), (2, 0), (3, 1), (20, 1)])
def test_too_many_that_live_are_a_failure(lives: int, code: int) -> None:
    assert _judged(Counter({"survived": lives, "caught": 10, "explained": 9, "timed out": 1}), 90) == code


def test_each_explanation_is_of_a_file_that_is_broken_and_says_why() -> None:
    known = {file for room in ROOMS for file in files(room)}
    for (file, was, now), why in explained().items():
        assert file in known
        assert was != now
        assert len(why) > 20
        assert was in " ".join((ROOT / file).read_text("utf-8").split()), "the line is another one now"


def test_the_table_keeps_what_was_tried_and_drops_places_that_are_gone(tmp_path: Path) -> None:
    known = [Place(name, "checks", "loadplan/checks/level.py", 0, 1, first=True, part="p") for name in ("a", "b", "c")]
    rows = {name: Row(name, "loadplan/checks/level.py", "1", fate, "", "0.1") for name, fate in FATES.items()}
    path = tmp_path / "table.csv"
    assert kept(path) == {}
    keep(path, rows, known)
    assert kept(path) == {name: rows[name] for name in ("a", "b")}
    add(path, rows["b"]._replace(fate="caught"))
    assert kept(path)["b"].fate == "caught"
    (checks,) = (line for line in standing(rows, known) if line.startswith("checks"))
    assert "3 places, 2 tried, 50.0 %" in checks


def test_a_kind_of_change_is_known_wherever_it_stands() -> None:
    kind = Kind("strict=True", ("strict=False", ""), "it only guards")
    was = "for a, b in zip(c, d, strict=True)"
    told = {now: kind.holds(Mutant("", (1, 1), was, now, "")) for now in KINDS}
    assert told == KINDS


def test_what_changes_is_told_with_some_words_on_either_side() -> None:
    mutant = Mutant("share.py", (1, 1), "return load / rating if rating > 0 else None", "return load / rating", "")
    assert mutant.change == "return load / rating< if rating > 0 else None -> >"
    assert replace(mutant, now=mutant.was.replace("> 0", ">= 0")).change.endswith("if rating >< -> => 0 else None")


@pytest.mark.parametrize(
    ("was", "now", "is_wording"),
    [('say("on")', 'say("XXonXX")', True), ('say("on")', 'say("ON")', True), ('say("on")', "say(None)", False)],
)
def test_a_changed_wording_is_known(was: str, now: str, is_wording: bool) -> None:  # noqa: FBT001
    assert Mutant("share.py", (1, 1), was, now, "").is_wording is is_wording
