"""The commands that change plans, on files that mean harm: an answer or a mistake told plainly, and nothing written."""

from pathlib import Path

import pytest

from loadplan.cli.exit_codes import STOP, UNUSABLE
from tests.command_line import Run
from tests.tracked import shipped

NAMES = "\\u202e\\u2066evil\\u001b[31m\\u0007"

HOSTILE = {
    "nested deep": "a = " + "[" * 5000 + "]" * 5000 + "\n",
    "a key of a thousand parts": ".".join("a" * 1000) + " = 1\n",
    "a number of ten thousand digits": "height = " + "9" * 10_000 + "\n",
    "no number at all": "height = nan\n",
    "more than a number holds": "height = 1e400\n",
    "a text without end": 'title = """' + "x" * 100_000,
    "nothing readable": "\x00\x01\x02",
}

COMMANDS = (("mend",), ("swap", "--stage", "1", "--stand", "A"), ("check",), ("heights",))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for source in shipped("demo", "*.toml"):
        (tmp_path / source.name).write_bytes(source.read_bytes())
    return tmp_path


def _plain(told: str) -> bool:
    """Return whether nothing in it turns the reading round, or speaks to the terminal."""
    return not set(told) & {"\u202e", "\u2066", "\x1b", "\x07", "\x00"}


@pytest.mark.parametrize("command", COMMANDS, ids=lambda each: each[0])
@pytest.mark.parametrize("kind", HOSTILE)
def test_a_hostile_file_is_a_mistake_and_nothing_is_written(
    run: Run, folder: Path, command: tuple[str, ...], kind: str
) -> None:
    path = folder / "weighed-unit.toml"
    path.write_text(HOSTILE[kind] + path.read_text("utf-8"), "utf-8")
    before = {each.name: each.read_bytes() for each in folder.iterdir()}
    code, out, err = run(command[0], path, *command[1:])
    assert code == UNUSABLE
    assert path.name in err
    assert _plain(out + err)
    assert {each.name: each.read_bytes() for each in folder.iterdir()} == before


@pytest.mark.slow
@pytest.mark.parametrize("command", [*COMMANDS, ("swap", "--stage", "1", "--stand", NAMES)], ids=lambda each: each[0])
def test_names_that_turn_the_reading_round_do_not_reach_the_terminal(
    run: Run, folder: Path, command: tuple[str, ...]
) -> None:
    path = folder / "weighed-unit.toml"
    text = path.read_text("utf-8")
    assert 'name = "A"' in " ".join(text.split())
    spoofed = text.replace('"A"', f'"{NAMES}"')
    path.write_text(spoofed, "utf-8")
    code, out, err = run(command[0], path, *command[1:])
    assert code <= UNUSABLE
    assert _plain(out + err)


@pytest.mark.parametrize("kind", [*HOSTILE, "names"])
def test_a_first_plan_beside_a_hostile_file_does_without_it(
    run: Run, folder: Path, kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / "evil.toml").write_text(
        HOSTILE.get(kind, "") + f'schema = "loadplan-shop-1"\nunits = "metric"\nname = "{NAMES}"\n', "utf-8"
    )
    monkeypatch.chdir(folder)
    code, out, err = run("new", "first.toml")
    # Nobody answers its questions here: it ends, says so, and has made nothing.
    assert code in {STOP, UNUSABLE}
    assert _plain(out + err)
    assert not (folder / "first.toml").exists()
