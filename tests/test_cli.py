"""The command line: what goes to which stream, exit codes, and never a traceback."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

import loadplan.assess
from loadplan import __version__, cli
from loadplan.files import shipped_folder
from tests.command_line import Run
from tests.tracked import shipped

DEMO = shipped_folder("demo")
HOLDS = DEMO / "us-units.toml"
STOPS = DEMO / "rocking-on-two-stands.toml"
CAUTIONS = DEMO / "drive-unit-on-oil.toml"
HEAVY = {"numpy", "scipy", "matplotlib", "shapely", "pydantic", "rich"}


def names_in(folder: Path) -> list[str]:
    """Return the names in a folder, in order."""
    return sorted(path.name for path in folder.iterdir())


def fresh(*arguments: str | Path, **settings: str) -> subprocess.CompletedProcess[str]:
    """Run the command line in a fresh process."""
    command = [sys.executable, "-m", "loadplan", *map(str, arguments)]
    return subprocess.run(command, env={**os.environ, **settings}, capture_output=True, text=True, check=False)


@pytest.mark.parametrize(
    ("job", "options", "code"),
    [(HOLDS, [], 0), (HOLDS, ["--strict"], 0), (CAUTIONS, [], 0), (CAUTIONS, ["--strict"], 1), (STOPS, [], 1)],
)
def test_the_exit_code_tells_the_verdict(run: Run, job: Path, options: list[str], code: int) -> None:
    ran = run("check", job, *options)
    assert (ran.code, ran.err) == (code, "")
    assert ran.out.startswith("FOR PRACTICE: ")


def test_json_is_one_object_and_nothing_else_and_has_the_same_exit_code(run: Run) -> None:
    ran = run("check", STOPS, "--json")
    told = json.loads(ran.out)
    assert (told["schema"], told["verdict"], ran.code, ran.err) == ("loadplan-report-1", "stop", 1, "")
    assert ran.out.isascii()


def test_the_words_are_in_the_jobs_units_unless_others_are_wanted(run: Run) -> None:
    assert re.search(r"\d lb\b", run("check", HOLDS).out)
    metric = run("check", HOLDS, "--units", "metric").out
    assert re.search(r"\d kg\b", metric)
    assert not re.search(r"\d lb\b", metric)


@pytest.mark.parametrize("command", [["check"], ["check", "--json"], ["draw", "-o", "out"]])
def test_a_job_that_cannot_be_read_is_told_on_stderr(
    run: Run, command: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    bad = tmp_path / "bad.toml"
    bad.write_text('schema = "loadplan-job-1"\nunits = "metric"\ntitel = "x"\nfoo = 1\n')
    ran = run(command[0], bad, *command[1:])
    assert (ran.code, ran.out) == (2, "")
    assert "bad.toml" in ran.err
    assert len(ran.err.splitlines()) > 1
    assert names_in(tmp_path) == ["bad.toml"]


@pytest.mark.parametrize(
    "arguments",
    [
        ["chekc"],
        ["check"],
        ["check", HOLDS, "--units", "imperial"],
        ["check", HOLDS, "--jsn"],
        ["demo"],
    ],
)
def test_a_wrong_call_is_told_on_stderr(run: Run, arguments: list[str]) -> None:
    ran = run(*arguments)
    assert (ran.code, ran.out) == (2, "")
    assert "Error" in ran.err


@pytest.mark.parametrize("command", ["draw", "sheet", "lesson"])
def test_where_it_goes_is_asked_for_with_an_example(run: Run, command: str) -> None:
    ran = run(command, HOLDS)
    assert (ran.code, ran.out) == (2, "")
    assert "-o: is missing: say where it goes, such as -o " in ran.err


def test_draw_writes_a_picture_a_step_and_names_them(run: Run, tmp_path: Path) -> None:
    ran = run("draw", HOLDS, "-o", tmp_path / "new" / "plans")
    names = names_in(tmp_path / "new" / "plans")
    assert ran.code == 0
    assert sorted(Path(line).name for line in ran.out.splitlines()) == names
    assert len(names) == 18
    assert (tmp_path / "new" / "plans" / names[0]).read_bytes().startswith(b"<?xml")


@pytest.mark.parametrize(("kind", "start"), [("png", b"\x89PNG"), ("pdf", b"%PDF")])
def test_draw_writes_the_wanted_format_of_the_wanted_step(run: Run, tmp_path: Path, kind: str, start: bytes) -> None:
    ran = run("draw", HOLDS, "-o", tmp_path, "--as", kind, "--stage", "Inverter off")
    assert ran.code == 0
    names = names_in(tmp_path)
    assert names == [f"step-02-inverter-off-{view}.{kind}" for view in ("front", "plan", "side", "space")]
    assert all((tmp_path / name).read_bytes().startswith(start) for name in names)


def test_draw_goes_eight_times_round_a_step_from_where_it_is_told_to(run: Run, tmp_path: Path) -> None:
    ran = run("draw", HOLDS, "-o", tmp_path, "--stage", "Inverter off", "--turn", "20")
    assert ran.code == 0
    turns = [name.removesuffix(".svg").rpartition("-")[2] for name in names_in(tmp_path) if "-space" in name]
    assert turns == ["020", "065", "110", "155", "200", "245", "290", "335"]
    assert run("draw", HOLDS, "-o", tmp_path / "none", "--turn", "sideways").code == 2
    assert not (tmp_path / "none").exists()


def test_draw_has_the_exit_code_of_what_it_draws(run: Run, tmp_path: Path) -> None:
    assert run("draw", STOPS, "-o", tmp_path).code == 1
    assert run("draw", STOPS, "-o", tmp_path, "--stage", "Set down on the stands, still bolted").code == 0


def test_sheet_writes_a_pdf_and_has_the_exit_code_of_the_verdict(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "sheet.pdf"
    ran = run("sheet", STOPS, "-o", file, "--paper", "letter")
    assert (ran.code, ran.out) == (1, f"{file}\n")
    assert file.read_bytes().startswith(b"%PDF-")


def test_a_sheet_that_cannot_be_written_is_told_and_leaves_nothing(run: Run, tmp_path: Path) -> None:
    ran = run("sheet", HOLDS, "-o", tmp_path / "no such folder" / "sheet.pdf")
    assert (ran.code, ran.out) == (2, "")
    assert "No such file or directory" in ran.err
    kept = tmp_path / "job.toml"
    kept.write_text("title = 1")
    ran = run("sheet", HOLDS, "-o", kept)
    assert (ran.code, names_in(tmp_path), kept.read_text()) == (2, ["job.toml"], "title = 1")


def test_draw_takes_a_step_by_its_number_as_check_does(run: Run, tmp_path: Path) -> None:
    ran = run("draw", HOLDS, "-o", tmp_path, "--stage", "2")
    assert ran.code == 0
    assert names_in(tmp_path) == [f"step-02-inverter-off-{view}.svg" for view in ("front", "plan", "side", "space")]


def test_an_unknown_step_is_told_with_the_nearest(run: Run, tmp_path: Path) -> None:
    ran = run("draw", HOLDS, "-o", tmp_path / "out", "--stage", "Invertor off")
    assert (ran.code, ran.out) == (2, "")
    assert 'did you mean "Inverter off"?' in ran.err
    assert not (tmp_path / "out").exists()


def test_a_folder_that_cannot_be_written_is_told(run: Run, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    for arguments in (["draw", HOLDS, "-o", tmp_path / "file"], ["demo", tmp_path / "file" / "x"]):
        ran = run(*arguments)
        assert (ran.code, ran.out) == (2, "")
        assert str(tmp_path / "file") in ran.err
    assert (tmp_path / "file").read_text() == "in the way"


def test_demo_copies_the_jobs_with_their_shop_and_they_check(run: Run, tmp_path: Path) -> None:
    ran = run("demo", tmp_path / "mine")
    names = {path.name for path in shipped("demo")}
    assert (ran.code, ran.err) == (0, "")
    assert set(names_in(tmp_path / "mine")) >= names
    assert "shop.toml" in names
    assert run("check", tmp_path / "mine" / STOPS.name).code == 1


def test_demo_writes_nothing_over(run: Run, tmp_path: Path) -> None:
    (tmp_path / "shop.toml").write_text("mine")
    ran = run("demo", tmp_path)
    assert ran.code == 2
    assert "shop.toml" in ran.err
    assert names_in(tmp_path) == ["shop.toml"]
    assert (tmp_path / "shop.toml").read_text() == "mine"


def test_vehicles_lists_what_ships_and_each_name_can_be_written_in_a_job(run: Run) -> None:
    names = {path.stem for path in shipped("vehicles")}
    plain = run("vehicles").out
    told = json.loads(run("vehicles", "--json").out)
    assert {each["name"] for each in told["vehicles"]} >= names
    assert all(name in plain for name in names)
    assert max(map(len, plain.splitlines())) <= 100
    assert "invented" in plain
    assert re.search(r"\d lb", run("vehicles", "--units", "us").out)


def test_version_and_help(run: Run) -> None:
    assert run("--version") == (0, f"loadplan {__version__}\n", "")
    told = run("--help")
    assert told.code == 0
    assert all(command in told.out for command in ("check", "draw", "demo", "vehicles"))


@pytest.mark.parametrize(
    ("arguments", "kept_out"),
    # With an option to read, the command line's own library loads pydantic.
    [(["--help"], HEAVY), (["check", "--help"], HEAVY - {"pydantic"}), (["--version"], HEAVY - {"pydantic"})],
)
def test_help_loads_nothing_heavy(arguments: list[str], kept_out: set[str]) -> None:
    code = f"import sys; sys.argv = {['loadplan', *arguments]!r}\nfrom loadplan.cli import main\n"
    code += "try:\n    main()\nexcept SystemExit:\n    print('modules', *sys.modules)"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert not {name.split(".")[0] for name in out.rpartition("modules")[2].split()} & kept_out


def test_an_interrupt_ends_without_a_traceback(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(loadplan.assess, "assess", interrupted)
    assert run("check", HOLDS).code == 130


def test_a_reader_who_leaves_ends_it_quietly() -> None:
    command = [sys.executable, "-m", "loadplan", "check", str(HOLDS)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.close()
    assert process.stderr.read() == b""
    process.stderr.close()
    assert process.wait() == cli.CLOSED


@pytest.mark.parametrize(("letters", "shown"), [("ascii", "?? ? "), ("cp1252", "?? \x96 ")])
def test_a_terminal_of_few_letters_gets_question_marks_instead_of_an_error(
    tmp_path: Path, letters: str, shown: str
) -> None:
    job = tmp_path / "job.toml"
    text, times = re.subn(r'(?m)^(title *= ")', "\\1架台 – ", HOLDS.read_text(encoding="utf-8"))
    assert times == 1
    job.write_text(text, encoding="utf-8")
    command = [sys.executable, "-m", "loadplan", "check", str(job)]
    ran = subprocess.run(command, env={**os.environ, "PYTHONIOENCODING": letters}, capture_output=True, check=False)
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert shown.encode("latin-1") in ran.stdout


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(os, "openpty"), reason="there are no such terminals here")
@pytest.mark.parametrize(
    ("settings", "coloured"),
    [({}, True), ({"NO_COLOR": "1"}, False), ({"NO_COLOR": ""}, True), ({"TERM": "dumb"}, False)],
)
def test_colour_only_on_a_terminal_that_takes_it(*, settings: dict[str, str], coloured: bool) -> None:
    plain = {name: value for name, value in os.environ.items() if name != "NO_COLOR"}
    ours, theirs = os.openpty()
    command = [sys.executable, "-m", "loadplan", "check", str(STOPS)]
    process = subprocess.Popen(command, stdout=theirs, env={**plain, "TERM": "xterm", **settings})
    os.close(theirs)
    out = b""
    try:
        while part := os.read(ours, 65536):
            out += part
    except OSError:
        pass  # Linux tells the end of a terminal so
    process.wait()
    os.close(ours)
    assert (b"\x1b[" in out) == coloured
    assert "\x1b[" not in fresh("check", STOPS, TERM="xterm").stdout
