"""The command that asks its way to a job: the first one ever, or the next on a vehicle and a shop that are known."""

import os
import re
import sys
import textwrap
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from loadplan.cli.exit_codes import UNUSABLE
from loadplan.cli.options import app, tell
from loadplan.errors import Fault, InputError, printable

if TYPE_CHECKING:
    from loadplan.planning.interview.first_job import Named
    from loadplan.planning.interview.question import Question
    from loadplan.planning.interview.question_flow import Answers

WIDTH = 100
"""Longest line that is printed [characters]."""

PART = ".part"
"""What the file of answers is called by, behind the name of the job file."""

DRAWN = frozenset(("typical", "unit", "vehicle", "ties", "places"))
"""The groups of questions after which there is something new to draw."""

WELCOME = (
    "Answer with a number and its unit, or in the units that you choose first. Empty takes what stands in brackets.\n"
    "? says what to measure and where, < goes back and keeps what you answered. Leave when you like: the answers are\n"
    "kept in {}.\n"
)


@app.command(
    help="Ask the way to a job: no file to write by hand. It writes the job, and the vehicle's and the shop's file "
    "where there are none yet. Can be left, and goes on where it was left."
)
def new(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The job file to make.", show_default=False)],
    *,
    vehicle: Annotated[
        str | None, typer.Option(metavar="FILE", help="The vehicle's file, or the name of one that ships.")
    ] = None,
    shop: Annotated[
        Path | None, typer.Option(metavar="FILE", help="The shop's file. Left out, the only one in the folder.")
    ] = None,
    like: Annotated[
        Path | None, typer.Option(metavar="JOB", help="A job that this one is like: only title and days are asked.")
    ] = None,
) -> None:
    """Ask questions until there is a job.

    Args:
        file: The job file to make; nothing is written over.
        vehicle: The vehicle's file or name, None to ask.
        shop: The shop's file, None for the only one in the folder.
        like: A job that this one is like, None for none.

    Raises:
        Exit: With 2 where the answers end too early.
        InputError: If the file is there already, or what is named does not fit.
    """
    # Asking needs the readers of files, which `--help` does not wait for.
    from loadplan.cli.known_files import beginning, begun_like, named_files, passed_over  # noqa: PLC0415
    from loadplan.files.kept_answers import read_kept  # noqa: PLC0415
    from loadplan.planning.interview.question_flow import Answers, next_question  # noqa: PLC0415

    if file.suffix != ".toml":
        message = f"needs the ending .toml, by which jobs are found: {file.name}.toml"
        raise InputError(Fault(str(file), "", "", message))
    if os.path.lexists(file):
        raise InputError(Fault(str(file), "", "", "is there already and is not written over: give another name"))
    if like and (vehicle or shop):
        raise InputError(Fault("loadplan new", "", "--like", "has its own vehicle and shop: leave the others out"))
    part = file.with_name(file.name + PART)
    today = datetime.now().astimezone().date()
    begin = begun_like(like, today) if like else beginning(file, vehicle, shop, today)
    answers = Answers(read_kept(part), begin)
    tell(WELCOME.format(printable(str(part))))
    if not like:
        shown = named_files(file, vehicle, shop).shop if begin.shop else ""
        tell(f"The shop is {printable(shown)}.\n" if shown else "")
        tell("".join(folded(f"Passed over: {fault}.") for fault in passed_over(file, vehicle, begin)))
    drawn, told = "", ""
    while question := next_question(answers):
        if question.tells != told:
            told = question.tells
            tell(f"\n{folded(_in_units(told, answers))}" if told else "")
        answers = _asked(answers, question, part)
        after = next_question(answers)
        if question.group in DRAWN and (after is None or after.group != question.group):
            plan = _drawn(answers)
            tell("" if plan == drawn else plan)
            drawn = plan
    _finish(answers, file, named_files(file, vehicle, shop), like)
    part.unlink(missing_ok=True)


def _asked(answers: "Answers", question: "Question", part: Path) -> "Answers":
    """Return the answers with one more, or with an earlier one open again; what is there is kept in the file."""
    # The same as in the command.
    from loadplan.files.kept_answers import kept  # noqa: PLC0415
    from loadplan.files.safe_write import rewrite  # noqa: PLC0415
    from loadplan.planning.interview.question_flow import one_back, with_answer  # noqa: PLC0415

    tell(f"\n{folded(_shown(question, answers))}> ")
    text = _line(part)
    if text == "?":
        tell(folded(f"{question.hint or question.ask.value}\n"))
        return answers
    if text == "<":
        return replace(answers, doubted="") if answers.doubted else one_back(answers, question)
    reply = with_answer(answers, question, text)
    if reply.is_told_back:
        tell(folded(f"That is {reply.says}. Enter takes it; or answer anew.\n"))
    elif reply.answers.doubted:
        end = "" if reply.says.endswith("?") else "."
        tell(folded(f"Odd: {reply.says}{end} Enter takes it as it is; or answer anew.\n"))
    elif reply.says:
        tell(folded(f"Not taken: {reply.says}.\n"))
    if reply.says:
        return reply.answers
    rewrite(part, kept(reply.answers.texts))
    return reply.answers


def _shown(question: "Question", answers: "Answers") -> str:
    """Return a question as it is asked: what may be chosen by number, and what an empty answer takes."""
    default = answers.doubted or question.default
    shown = f" [{_in_units(default, answers) or 'leave open'}]" if default is not None else ""
    listed = "".join(f"\n  {number} {word}" for number, word in enumerate(question.words, 1))
    shows = not question.is_listed and not default and question.ask.name not in {"WORDS", "YES_NO"}
    sample = f"\n  such as {question.example}" if shows and question.example else ""
    return f"{question.asks}{shown}{listed if question.is_listed else sample}"


def _in_units(text: str, answers: "Answers") -> str:
    """Return what a typical unit has, in the units of whoever answers: it is kept in metric ones."""
    # The same as in the command.
    from loadplan.planning.interview.us_samples import amounts_in_us  # noqa: PLC0415
    from loadplan.units import System  # noqa: PLC0415

    return amounts_in_us(text) if answers.system is System.US else text


def folded(text: str) -> str:
    """Break long lines where a word ends.

    Args:
        text: Lines.

    Returns:
        Lines of at most as many characters as a page has.
    """
    lines = (
        textwrap.wrap(line, WIDTH, subsequent_indent="    " if line.startswith(" ") else "")
        for line in text.splitlines()
    )
    return "".join(f"{each}\n" for line in lines for each in line or [""])


def _drawn(answers: "Answers") -> str:
    """Return the plan as far as it is known."""
    # The same as in the command.
    from loadplan.planning.interview.character_plan import plan_of  # noqa: PLC0415
    from loadplan.planning.interview.question_flow import course, values  # noqa: PLC0415
    from loadplan.planning.interview.questions_on_job import vehicle_of  # noqa: PLC0415

    plan = plan_of(values(answers), vehicle_of(answers.begin, course(answers).value))
    return f"\n{plan}" if plan else ""


def _line(part: Path) -> str:
    """Return what was typed.

    Raises:
        Exit: Where nothing more comes; then it was said how to go on.
    """
    try:
        line = sys.stdin.readline()
    except (KeyboardInterrupt, UnicodeDecodeError):
        line = ""
    if not line:
        sys.stderr.write(
            f"\nLeft before the last question. The answers so far are in {printable(str(part))}: "
            "the same command goes on.\n"
        )
        raise typer.Exit(UNUSABLE)
    return line.strip()


def _finish(answers: "Answers", file: Path, named: "Named", like: Path | None) -> None:
    """Write the files, all or none, read the job as `check` will, and say what comes next."""
    # The same as in the command.
    from loadplan.cli.known_files import job_like  # noqa: PLC0415
    from loadplan.files import read_job  # noqa: PLC0415
    from loadplan.files.safe_write import write_new  # noqa: PLC0415
    from loadplan.planning.interview.first_job import stands_lacking  # noqa: PLC0415
    from loadplan.planning.interview.new_files import Beside, files_of_answers  # noqa: PLC0415
    from loadplan.planning.interview.question_flow import values  # noqa: PLC0415

    if like:
        contents = {file.name: job_like(like, file, answers)}
    else:
        beside = Beside(file.name, named, lambda name: os.path.lexists(file.parent / name))
        contents = files_of_answers(answers, beside)
    write_new(file.parent, contents)
    job = read_job(file)
    name, paper = _typed(file), _typed(file.with_suffix(".pdf"))
    written = " and ".join(printable(each) for each in contents)
    tell(f"\n{written} {'is' if len(contents) == 1 else 'are'} written. Next:\n")
    # A vehicle that is set down itself has nothing beside it whose saddles would have to be level with its own.
    is_unit = len(job.bodies) > 1
    heights = f"  loadplan heights {name} --write {name}\n" if is_unit else ""
    tell(f"{heights}  loadplan check {name}\n  loadplan sheet {name} -o {paper}\n")
    for each in () if like else stands_lacking(values(answers), job.vehicle, job.shop, answers.system):
        tell(f"\n{folded(each)}")


def _typed(file: Path) -> str:
    """Return a file's name as it has to be typed: in quotes where a shell would take it for several words."""
    name = printable(str(file))
    return name if re.fullmatch(r"[\w./\\:~+,-]+", name) else f'"{name}"'
