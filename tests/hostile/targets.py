"""What is tried with input that nobody would write: each takes bytes, and may answer or refuse, and do nothing else."""

import io
import os
import sys
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import quote

from loadplan.assess import assess
from loadplan.errors import InputError
from loadplan.files import read_job, read_shop, read_vehicle, shipped_folder
from loadplan.files.kept_answers import read_kept
from loadplan.files.photograph_file import made_anew, photograph_content
from loadplan.files.readings_reader import read_readings
from loadplan.files.work_record_file import add_to_record, read_record
from loadplan.model.work_record import Deed, RecordEntry
from loadplan.planning.interview.answer_parsing import read_answer
from loadplan.planning.interview.first_job import Named
from loadplan.planning.interview.new_files import Beside, files_of_answers
from loadplan.planning.interview.question import AnswerError, Ask, Question
from loadplan.planning.interview.question_flow import Answers, next_question, with_answer
from loadplan.planning.interview.questions_on_job import Beginning
from loadplan.planning.interview.typical_answers import typical_units
from loadplan.planning.settings.removal_order import plan_order
from loadplan.planning.settings.set_heights import plan_heights
from loadplan.report.json_output import to_dict
from loadplan.report.text.short_page import short_page
from loadplan.report.text.terminal_colour import Colours
from loadplan.report.text.terminal_page import page
from loadplan.report.words.number_format import units_of
from loadplan.statics.weighing import weigh
from loadplan.units import Kind, QuantityError, System, to_si
from tests.files.builders import SMALL
from tests.files.toml_text import toml
from tests.planning.typed import METRIC

TYPICAL = typical_units()

MOST_SUPPORTS, MOST_STAGES, MOST_OFF = 8, 16, 6
"""Most of each in a made-up job that is judged: those with more are no easier to break, but slower to judge."""


class BrokenError(Exception):
    """A refusal that is none."""


class Bench:
    """A folder in which made-up files are laid, beside a shop and a vehicle that are sound."""

    def __init__(self, folder: Path) -> None:
        """Lay out what files refer to.

        Args:
            folder: Where.
        """
        self.folder = folder
        (folder / "shop.toml").write_bytes((shipped_folder("demo") / "shop.toml").read_bytes())

    def laid(self, name: str, content: bytes) -> Path:
        """Write a file and return its path."""
        path = self.folder / name
        path.write_bytes(content)
        return path


def job(bench: Bench, content: bytes) -> None:
    """Read a job."""
    _or_refused(lambda: read_job(bench.laid("job.toml", content)))


def vehicle(bench: Bench, content: bytes) -> None:
    """Read a vehicle."""
    _or_refused(lambda: read_vehicle(bench.laid("vehicle.toml", content)))


def shop(bench: Bench, content: bytes) -> None:
    """Read a shop."""
    _or_refused(lambda: read_shop(bench.laid("other-shop.toml", content)))


def readings(bench: Bench, content: bytes) -> None:
    """Read readings, and weigh with them."""
    _or_refused(lambda: weigh(read_readings(bench.laid("readings.toml", content)).sets))


def judged(bench: Bench, content: bytes) -> None:
    """Read a job, and where it is one, judge it and print it in both ways."""

    def told() -> None:
        read = read_job(bench.laid("job.toml", content))
        if len(read.supports) > MOST_SUPPORTS or len(read.stages) > MOST_STAGES:
            return
        found = assess(read)
        page(found, units_of(read), Colours.PLAIN)
        short_page(found, units_of(read), Colours.ANSI)
        to_dict(found, System.US)

    _or_refused(told)


def planned(bench: Bench, content: bytes) -> None:
    """Read a job, and where it is one, set heights and order parts."""

    def told() -> None:
        read = read_job(bench.laid("job.toml", content))
        if len(read.supports) > MOST_SUPPORTS or len(read.stages) > MOST_STAGES:
            return
        plan_heights(read)
        for index, stage in enumerate(read.stages):
            if 1 < len(stage.off) < MOST_OFF:
                plan_order(read, index)

    _or_refused(told)


def answers(bench: Bench, content: bytes) -> None:
    """Go on with answers kept, and where they are all there, read the job that they make."""

    def told() -> None:
        so_far = Answers(read_kept(bench.laid("first.toml.part", content)), Beginning(TYPICAL))
        if next_question(so_far) is None:
            beside = Beside("first.toml", Named("", ""), lambda _: False)
            laid = [bench.laid(name, text) for name, text in files_of_answers(so_far, beside).items()]
            read_job(laid[-1])

    _or_refused(told)


def interview(bench: Bench, content: bytes) -> None:
    """Answer question after question, one line each, what is not taken with a sound one; then read the job."""
    typed = dict(line.split("\t", 1) for line in content.decode("utf-8", "replace").split("\n") if "\t" in line)
    so_far = Answers({}, Beginning(TYPICAL))
    while question := next_question(so_far):
        for text in (typed.get(question.key, ""), METRIC.get(question.key, ""), "yes"):
            # What is odd is asked about once, and taken when it comes again.
            so_far = with_answer(so_far, question, text).answers
            if so_far.doubted:
                so_far = with_answer(so_far, question, text).answers
            if question.key in so_far.texts:
                break
        else:
            return
    beside = Beside("job.toml", Named("", ""), lambda _: False)
    _or_refused(lambda: read_job([bench.laid(*each) for each in files_of_answers(so_far, beside).items()][-1]))


def record(bench: Bench, content: bytes) -> None:
    """Read a record, and add to it: what was read is there still."""
    path = bench.laid("job-record.toml", content).with_name("job.toml")

    def told() -> None:
        before = read_record(path)
        add_to_record(path, RecordEntry(datetime(2026, 11, 20, tzinfo=UTC), "K", "0a1b2c3d", "Down", Deed.NOTED, "x"))
        after = read_record(path)
        # Where the record is another than the one before, which was longer, an entry says so first.
        _must(after.entries[: len(before.entries)] == before.entries, "entries are lost")
        _must(after.entries[-1].words == "x", "what was added is another")

    _or_refused(told)


def photograph(bench: Bench, content: bytes) -> None:
    """Make a photograph anew, and read one of the folder."""
    _or_refused(lambda: made_anew(content))
    bench.laid("one.jpg", content)
    _or_refused(lambda: photograph_content(bench.folder, "one.jpg"))


def answer(bench: Bench, content: bytes) -> None:  # noqa: ARG001 - one shape for all
    """Answer a question of each kind; the first byte says of which."""
    asks = tuple(Ask)
    ask = asks[content[0] % len(asks)] if content else Ask.WORDS
    question = Question("key", "What?", ask, words=("yes", "no", "not known"))
    for system in System:
        try:
            read_answer(question, content[1:].decode("utf-8", "replace"), system)
        except AnswerError:
            continue


def quantity(bench: Bench, content: bytes) -> None:  # noqa: ARG001 - one shape for all
    """Read an amount of each kind."""
    text = content.decode("utf-8", "replace")
    for kind in Kind:
        for system in System:
            try:
                assert isinstance(to_si(text, kind, system), float)
            except QuantityError:
                continue


def command_line(bench: Bench, content: bytes) -> None:
    """Call the program with words that are split at line ends; paths lead into the folder."""
    # The whole program, which the readers do without.
    from loadplan import cli  # noqa: PLC0415

    # What it writes stays in the folder.
    words = content.decode("utf-8", "replace").replace("/", "_").replace("..", "_").split("\n")
    before = sys.argv, sys.stdin, Path.cwd()
    os.chdir(bench.folder)
    sys.argv = ["loadplan", *(str(bench.folder / word[1:]) if word.startswith("@") else word for word in words)]
    sys.stdin = io.StringIO("us\n")
    told = io.StringIO()
    try:
        with redirect_stdout(told), redirect_stderr(told):
            cli.main()
    except SystemExit as ended:
        _must(ended.code in {0, 1, 2}, f"ends with {ended.code}")
        _must("Traceback" not in told.getvalue(), "shows a traceback")
    finally:
        sys.argv, sys.stdin = before[:2]
        os.chdir(before[2])


def request(bench: Bench, content: bytes) -> None:
    """Ask the live plan: the first line is the address, the rest is what is said; a plan is open for each request."""
    # The server, which the readers do without.
    from tests.board.desk import ANSWERED, opened  # noqa: PLC0415

    address, _, said = content.partition(b"\n")
    path = "/" + quote(address.lstrip(b"/"))
    asked = opened(bench.folder, bench.laid("job.toml", toml(SMALL).encode()))
    headers = {**asked.headers, "content-type": "application/json"}
    answered = asked.client.post(path, content=said.replace(b"TOKEN", asked.held.token.encode()), headers=headers)
    _must(answered.status_code in ANSWERED, f"{path} is answered with {answered.status_code}")
    _must("Traceback" not in answered.text, "shows a traceback")
    _must(asked.client.get("/plan/0/screen").status_code == 200, f"{path} leaves no plan")


def _or_refused(call: Callable[[], object]) -> None:
    try:
        call()
    except InputError as error:
        for fault in error.faults:
            _must(fault.file and fault.message and "\n" not in str(fault), f"a fault without place or line: {fault}")


def _must(holds: object, told: str) -> None:
    if not holds:
        raise BrokenError(told)


TARGETS: dict[str, Callable[[Bench, bytes], None]] = {
    each.__name__: each
    for each in (
        *(job, vehicle, shop, readings, record, photograph, judged, planned),
        *(answers, answer, interview, quantity, command_line, request),
    )
}
