"""The campaign with made-up input: what it counts, that an input can be made again, and that what breaks is kept."""

from pathlib import Path

import pytest

from tests.hostile import campaign as counted
from tests.hostile.campaign import campaign, input_of
from tests.hostile.corpus import corpus
from tests.hostile.targets import TARGETS, Bench

CHEAP = ("vehicle", "shop", "record", "photograph", "answers", "answer", "quantity", "server")
FEW = 20


@pytest.mark.parametrize("target", CHEAP)
def test_no_made_up_input_breaks_anything(target: str, tmp_path: Path) -> None:
    told = campaign(target, range(FEW), tmp_path, lambda _: None)
    assert told.tried == FEW
    assert told.broken == frozenset()
    assert list(tmp_path.iterdir()) == []


def test_an_input_follows_from_target_and_number_alone() -> None:
    starts = list(corpus("vehicle"))
    made = [input_of("vehicle", number, starts) for number in range(FEW)]
    assert made == [input_of("vehicle", number, starts) for number in range(FEW)]
    assert len(set(made)) > FEW / 2
    assert not set(made) <= set(starts)


def test_what_breaks_is_kept_once_and_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def breaks(_: Bench, content: bytes) -> None:
        assert len(content) % 2, "an even number of bytes"

    monkeypatch.setitem(TARGETS, "quantity", breaks)
    said: list[str] = []
    told = campaign("quantity", range(FEW), tmp_path, said.append)
    [kept] = tmp_path.iterdir()
    assert len(kept.read_bytes()) % 2 == 0
    assert told.broken == {kept.name.removeprefix("quantity-")}
    assert any(line.startswith("BROKEN by quantity") for line in said)


def test_what_is_busy_for_too_long_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(counted, "SECONDS", -1)
    told = campaign("quantity", range(2), tmp_path, lambda _: None)
    assert told.broken == {"busy-0", "busy-1"}
