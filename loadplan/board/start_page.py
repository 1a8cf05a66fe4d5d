"""The page without a job: those in the folder, the demo, a vehicle and a shop to begin with, or some questions."""

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from loadplan.board.folder_files import FolderFiles, Listing
from loadplan.board.forms import filled_in
from loadplan.board.open_plans import Desk, job_file
from loadplan.board.refusals import RefusedError
from loadplan.board.request_guard import Pass
from loadplan.errors import InputError, printable
from loadplan.files import read_job, read_shop, shipped_folder, shipped_vehicles
from loadplan.files.find_beside import shops_in, vehicles_in
from loadplan.files.job_shape import JOB_SCHEMA
from loadplan.files.safe_write import write_new
from loadplan.files.shop_shape import SHOP_SCHEMA
from loadplan.files.toml_edit import quoted
from loadplan.files.vehicle_shape import VEHICLE_SCHEMA
from loadplan.planning.interview.answer_parsing import read_answer
from loadplan.planning.interview.first_job import Named, shop_faults, vehicle_faults
from loadplan.planning.interview.new_files import Beside, files_of_answers
from loadplan.planning.interview.question import AnswerError, Ask, Question
from loadplan.planning.interview.question_flow import Answers, course, next_question
from loadplan.planning.interview.questions_on_job import Beginning
from loadplan.planning.interview.typical_answers import typical_units

DEMO = "loadplan-demo"
"""Folder into which the demo jobs are copied, so that they can be changed and saved."""


@dataclass(frozen=True, slots=True)
class Start:
    """Answers for the page without a job.

    Attributes:
        desk: What is open.
        held: What lets a request in.
        page: Renders a page.
        here: The files of the folder.
        demos: The demo jobs.
    """

    desk: Desk
    held: Pass
    page: Callable[..., Response]
    here: FolderFiles
    demos: FolderFiles = field(default_factory=lambda: FolderFiles(shipped_folder("demo")))

    async def show(self, request: Request) -> Response:
        """Return what there is to begin with."""
        return await run_in_threadpool(self._page, "")

    async def refused(self, error: InputError) -> Response:
        """Return what there is to begin with, and why something else is not there."""
        page = await run_in_threadpool(self._page, str(error))
        page.status_code = 422
        return page

    def _page(self, fault: str, begun: Mapping[str, str] | None = None) -> Response:
        """Return the page, with what went wrong and what was filled in already, so that nobody types it twice."""
        found, demos = self.here.listed(), self.demos.listed()
        here = found.files
        return self.page(
            "start.html",
            jobs=_jobs(found),
            left_out=found.left_out,
            shops=[each.name for each in here if each.schema == SHOP_SCHEMA],
            vehicles=[
                *(each.name for each in here if each.schema == VEHICLE_SCHEMA),
                *(name for name, _ in shipped_vehicles()),
            ],
            demo=_jobs(demos),
            folder=printable(str(self.desk.folder)),
            fault=fault,
            fingerprint=self.held.fingerprint,
            begun={key: (begun or {}).get(key, "") for key in ("vehicle", "shop", "title", "name")},
        )

    async def open(self, request: Request) -> Response:
        """Return the way to a job of the folder."""
        form = await filled_in(request, self.held)
        return await run_in_threadpool(lambda: self._opened(self._own(form.get("job", ""))))

    async def demo(self, request: Request) -> Response:
        """Return the way to a demo job, in a folder of its own where it may be changed."""
        form = await filled_in(request, self.held)
        return await run_in_threadpool(self._demo, form.get("name", ""))

    def _demo(self, name: str) -> Response:
        """Copy the demo jobs where they are missing.

        Returns:
            The way to the one of that name.

        Raises:
            RefusedError: If there is none of that name.
        """
        sources = sorted(shipped_folder("demo").glob("*.toml"))
        if name not in {source.name for source in sources}:
            raise RefusedError("There is no such demo job.")
        folder = self.desk.folder / DEMO
        missing = {each.name: each.read_bytes() for each in sources if not (folder / each.name).exists()}
        write_new(folder, missing)
        return self._opened(folder / name)

    async def begin(self, request: Request) -> Response:
        """Return the way to a new job with a vehicle and a shop, and no stand yet."""
        return await run_in_threadpool(self._begin, await filled_in(request, self.held))

    def _begin(self, form: dict[str, str]) -> Response:
        """Return the way to the new job; the page again with what is wrong, where it cannot be made."""
        try:
            path = job_file(self.desk.folder, form.get("name", ""))
            vehicle, shop = form.get("vehicle", ""), self._own(form.get("shop", "")).name
            text = _first_text(form.get("title", "").strip() or path.stem, self._vehicle(vehicle), shop)
            read_job(path, text=text)
            write_new(path.parent, {path.name: text.encode("utf-8")})
        except InputError as error:
            return self._page(str(error), form)
        return self._opened(path)

    async def ask(self, request: Request) -> Response:
        """Return the first questions of a first job."""
        return await run_in_threadpool(self._asking, {}, "first-job.toml", "")

    async def answer(self, request: Request) -> Response:
        """Return the next questions, or the way to the job that came of the answers."""
        return await run_in_threadpool(self._answer, await filled_in(request, self.held))

    def _answer(self, form: dict[str, str]) -> Response:
        """Return the questions that are left; once none is, the way to the job, or what is in its way."""
        name = form.pop("file", "")
        begin = self._beginning
        answers = Answers(_counting(form, begin), begin)
        if next_question(answers) is not None:
            return self._asking(form, name, "")
        try:
            path = job_file(self.desk.folder, name)
            shops = shops_in(self.desk.folder)
            named = Named("", shops[0].name if begin.shop else "")
            beside = Beside(path.name, named, lambda other: os.path.lexists(path.parent / other))
            write_new(path.parent, files_of_answers(answers, beside))
        except InputError as error:
            return self._asking(form, name, str(error))
        return self._opened(path)

    @property
    def _beginning(self) -> Beginning:
        """What is known before the first question: the vehicles of the folder, and its shop where it has only one."""
        shops = shops_in(self.desk.folder)
        try:
            shop, system = read_shop(shops[0]) if len(shops) == 1 else (None, None)
        except InputError:
            shop, system = None, None
        if shop and shop_faults(shop):
            shop, system = None, None
        found = vehicles_in(self.desk.folder)
        fit = {name: each for name, each in found.items() if not vehicle_faults(each, shop)}
        return Beginning(typical_units(), fit, None, shop, system)

    def _asking(self, texts: dict[str, str], name: str, fault: str) -> Response:
        """Return all questions that are to be asked after the answers so far, with these and what is wrong in each."""
        begin = self._beginning
        answers = Answers(_counting(texts, begin), begin)
        known = course(answers)
        asked = [
            {
                "key": each.key,
                "asks": f"{each.tells}{each.asks}",
                "hint": _hint(each),
                "kind": each.ask.name.lower(),
                "default": each.default,
                "words": list(each.words) if each.ask is Ask.CHOICE else [],
                "group": each.group,
                "text": texts.get(each.key, ""),
                "fault": _fault(each, texts, answers),
            }
            for each in known.questions()
            if each.key in texts or not known.answered(each) or each.key not in known.given
        ]
        left = sum(not known.answered(each) for each in known.questions())
        return self.page("ask.html", questions=asked, file=name, fault=fault, left=left)

    def _own(self, name: str) -> Path:
        """Return a file of the folder.

        Raises:
            RefusedError: If the name is none of a file there.
        """
        if name not in {each.name for each in self.here.listed().files}:
            raise RefusedError("There is no such file in this folder.")
        return self.desk.folder / name

    def _vehicle(self, name: str) -> str:
        """Return what a job writes for a vehicle of the list.

        Raises:
            RefusedError: If there is no such vehicle.
        """
        if name in dict(shipped_vehicles()):
            return name
        return self._own(name).name

    def _opened(self, path: Path) -> Response:
        return RedirectResponse(f"/plan/{self.desk.open(path)}", 303)


def _jobs(found: Listing) -> list[dict[str, str]]:
    return [{"name": each.name, "title": each.title} for each in found.files if each.schema == JOB_SCHEMA]


def _hint(question: Question) -> str:
    """Return what helps to answer, with what may be named where more than one thing may."""
    named = (
        f" One or more of: {', '.join(question.words)}." if question.words and question.ask is not Ask.CHOICE else ""
    )
    return f"{question.hint or question.ask.value}{named}"


def _counting(texts: dict[str, str], begin: Beginning) -> dict[str, str]:
    """Return the answers that count: asked one after the other, an empty one where that means something."""
    counted: dict[str, str] = {}
    while (question := next_question(Answers(counted, begin))) is not None:
        text = texts.get(question.key)
        if text is None or _complaint(question, text, Answers(counted, begin)):
            return counted
        counted[question.key] = text
    return counted


def _complaint(question: Question, text: str, answers: Answers) -> str:
    try:
        read_answer(question, text, answers.system)
    except AnswerError as error:
        return str(error)
    return ""


def _fault(question: Question, texts: dict[str, str], answers: Answers) -> str:
    """Return why an answer is not taken, or what is odd about it; nothing for a question that was not asked yet."""
    if question.key not in texts:
        return ""
    text = texts[question.key]
    if complaint := _complaint(question, text, answers):
        return complaint
    odd = question.odd(read_answer(question, text, answers.system), answers.system)
    return f"odd, but taken: {odd}" if odd else ""


def _first_text(title: str, vehicle: str, shop: str) -> str:
    """Return a job with nothing in it but a vehicle, a shop and one step."""
    return "".join((
        f'schema = "{JOB_SCHEMA}"\n',
        f"title = {quoted(printable(title))}\n",
        f"vehicle = {quoted(vehicle)}\n",
        f"shop = {quoted(shop)}\n",
        'units = "metric"\n',
        "\n[[stage]]\n",
        'name = "On the stands"\n',
    ))
