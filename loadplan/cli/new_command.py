"""The command that asks its way to a first job."""

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from loadplan.cli.exit_codes import UNUSABLE
from loadplan.cli.options import app, tell
from loadplan.errors import Fault, InputError, printable

if TYPE_CHECKING:
    from loadplan.planning.interview.answer_parsing import Question
    from loadplan.planning.interview.question_flow import Answers

PART = ".part"
"""What the file of answers is called by, behind the name of the job file."""

WELCOME = (
    "Answer with a number and its unit, or in the units that you choose first. Empty takes what stands in brackets.\n"
    "? explains, < goes back to the question before. Leave when you like: the answers are kept in {}.\n"
)


@app.command(help="Ask the way to a first job: no file to write by hand. Can be left, and goes on where it was left.")
def new(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The job file to make.", show_default=False)],
) -> None:
    """Ask questions until there is a job.

    Args:
        file: The job file to make; nothing is written over.

    Raises:
        Exit: With 2 where the answers end too early.
        InputError: If the file is there already.
    """
    # Asking needs the readers of files, which `--help` does not wait for.
    from loadplan.files import shipped_vehicles  # noqa: PLC0415
    from loadplan.files.kept_answers import read_kept  # noqa: PLC0415
    from loadplan.planning.interview.question_flow import Answers, next_question  # noqa: PLC0415

    if os.path.lexists(file):
        raise InputError(Fault(str(file), "", "", "is there already and is not written over: give another name"))
    part = file.with_name(file.name + PART)
    answers = Answers(read_kept(part), tuple(name for name, _ in shipped_vehicles()))
    tell(WELCOME.format(printable(str(part))))
    while question := next_question(answers):
        answers = _asked(answers, question, part)
    _finish(answers, file, part)


def _asked(answers: "Answers", question: "Question", part: Path) -> "Answers":
    """Return the answers with one more, or one less where somebody goes back; what is there is kept in the file."""
    # The same as in the command.
    from loadplan.files.kept_answers import kept  # noqa: PLC0415
    from loadplan.files.safe_write import rewrite  # noqa: PLC0415
    from loadplan.planning.interview.question_flow import with_answer, without_last  # noqa: PLC0415

    shown = f" [{question.default or 'leave open'}]" if question.default is not None else ""
    words = f" ({', '.join(question.words)})" if question.words else ""
    tell(f"\n{question.asks}{words}{shown}\n> ")
    text = _line(part)
    if text == "?":
        tell(f"{question.hint or question.ask.value}\n")
        return answers
    after = without_last(answers) if text == "<" else with_answer(answers, question, text)
    if isinstance(after, str):
        tell(f"Not taken: {after}.\n")
        return answers
    rewrite(part, kept(after.texts))
    return after


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


def _finish(answers: "Answers", file: Path, part: Path) -> None:
    """Write the job, read it as `check` will, and put the answers away."""
    # The same as in the command.
    from loadplan.files import read_job, read_vehicle, shipped_vehicles  # noqa: PLC0415
    from loadplan.files.safe_write import write_new  # noqa: PLC0415
    from loadplan.planning.interview.first_job import job_text  # noqa: PLC0415
    from loadplan.planning.interview.question_flow import OWN, values  # noqa: PLC0415

    known = values(answers)
    stand_in = None if known["shell"] == OWN else read_vehicle(dict(shipped_vehicles())[str(known["shell"])])
    write_new(file.parent, {file.name: job_text(known, stand_in).encode("utf-8")})
    read_job(file)
    part.unlink(missing_ok=True)
    name = printable(str(file))
    tell(f"\n{name} is written. Next:\n  loadplan heights {name} --write {name}\n  loadplan check {name}\n")
