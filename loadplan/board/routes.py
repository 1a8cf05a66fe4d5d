"""The addresses of the live plan, and what each answers."""

import json
import secrets
from collections import Counter
from collections.abc import AsyncIterator, Awaitable, Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeAlias

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.middleware import Middleware
from starlette.requests import ClientDisconnect, Request
from starlette.responses import HTMLResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from loadplan.assess import cures_in_all_steps
from loadplan.board.bay_view import Bay
from loadplan.board.change_stream import Server, events
from loadplan.board.changes import make
from loadplan.board.device_code import Door
from loadplan.board.first_questions import FirstQuestions
from loadplan.board.folder_files import FolderFiles
from loadplan.board.judged_cures import CureJudge, Judging
from loadplan.board.listed_verdicts import ListedVerdicts
from loadplan.board.mend_plan import Mender
from loadplan.board.open_plans import Desk, Open, OpenStep, opened_plan, plan_number
from loadplan.board.plan_saving import saved, take_both
from loadplan.board.printing import printed
from loadplan.board.refusals import RefusedError, gone, too_large
from loadplan.board.request_guard import ENTRANCE, Guard, Pass, TooLargeError
from loadplan.board.request_schema import FIRST_SIZE, Changed, Drawing, Moving, Saving, WindowSize, asked, said
from loadplan.board.start_page import Start
from loadplan.board.static_files import StaticFolder
from loadplan.board.step_views import Viewing, side_view
from loadplan.board.swap_plan import Swapper, Swapping
from loadplan.board.worker import worked
from loadplan.errors import InputError, printable
from loadplan.files.find_beside import FolderReader
from loadplan.model.verdict import Assessment
from loadplan.report.pictures.render import plan_picture
from loadplan.report.words.number_format import units_of
from loadplan.report.words.vocabulary import reader_of

HERE = Path(__file__).resolve().parent

MOST_STREAMS = 16
"""Windows of one address that are told what changes: each looks at the plan's files every second."""

Answer: TypeAlias = Callable[[Request], Awaitable[Response]]
"""What answers a request."""


@dataclass(frozen=True, slots=True)
class Board:
    """Answers for everything that is open.

    Attributes:
        desk: What is open.
        held: What lets a request in.
        pages: Templates of the pages.
        mender: Mends plans.
        swapper: Changes stands while a unit stands on them.
        judge: Judges cures before they are offered.
        born: Tells this server from the one that is started next.
        listening: How many windows of each address listen.
    """

    desk: Desk
    held: Pass
    pages: Environment
    mender: Mender
    swapper: Swapper
    judge: CureJudge
    born: str = field(default_factory=lambda: secrets.token_hex(8))
    listening: Counter[str] = field(default_factory=Counter)

    def page(self, name: str, **context: object) -> HTMLResponse:
        """Return a page."""
        return HTMLResponse(self.pages.get_template(name).render(token=self.held.token, **context))

    async def show(self, request: Request) -> Response:
        """Return a plan as a page whose first picture needs no script."""
        opened = opened_plan(self.desk, _told(request))
        first = await worked(opened, lambda: opened.screen(OpenStep(0, FIRST_SIZE)))
        return self.page(
            "board.html",
            screen=first,
            screen_json=json.dumps(first, allow_nan=False).replace("<", "\\u003c"),
            plan_id=plan_number(_told(request)),
            cautions=first["cautions"],
        )

    async def screen(self, request: Request) -> Response:
        """Return a step, told and drawn."""
        opened, view = opened_plan(self.desk, _told(request)), asked(request, WindowSize).view
        return JSONResponse(await worked(opened, lambda: opened.screen(view)))

    async def seen(self, request: Request) -> Response:
        """Return a step drawn from a side, or in space as it is turned."""
        opened, viewing = opened_plan(self.desk, _told(request)), asked(request, Viewing)
        return JSONResponse(await worked(opened, lambda: side_view(opened, viewing)))

    async def glance(self, request: Request) -> Response:
        """Return what moving a stand comes to."""
        moving = await said(request, Moving)

        def glance(opened: Open) -> Response:
            return JSONResponse(opened.glance(moving.view, moving.stand, (moving.x, moving.y), moving.snap))

        return await self._as_seen(request, moving, glance)

    async def change(self, request: Request) -> Response:
        """Return the step after a change."""
        changed = await said(request, Changed)

        def change(opened: Open) -> Response:
            done = opened.words(make(opened.plan, changed.change, changed.step))
            told = opened.undrawn if changed.drawing is Drawing.LATER else opened.changed
            return JSONResponse(told(changed.view, done))

        return await self._as_seen(request, changed, change)

    async def undo(self, request: Request) -> Response:
        """Return the step after a change is taken back."""
        return await self._step(request, -1)

    async def redo(self, request: Request) -> Response:
        """Return the step after a change is made again."""
        return await self._step(request, 1)

    async def _step(self, request: Request, by: int) -> Response:
        window = await said(request, WindowSize)

        def step(opened: Open) -> Response:
            done, told = opened.plan.step(by), "Taken back" if by < 0 else "Made again"
            return JSONResponse(opened.changed(window.view, opened.words(f"{told}: {done}" if done else f"{told}.")))

        return await self._as_seen(request, window, step)

    async def save(self, request: Request) -> Response:
        """Return what saving changes; what was written once that was seen."""
        saving = await said(request, Saving)
        return await self._as_seen(request, saving, lambda opened: saved(opened, saving))

    async def take_both(self, request: Request) -> Response:
        """Return the step with what somebody else changed in the file put in beside what is drafted."""
        window = await said(request, WindowSize)

        def both(opened: Open) -> Response:
            take_both(opened)
            told = "Both are in the plan now, not saved: look at it, then save."
            return JSONResponse(opened.changed(window.view, told))

        return await self._as_seen(request, window, both)

    async def mend(self, request: Request) -> Response:
        """Return what would mend the plan; nothing of it is changed."""
        window = await said(request, WindowSize)
        opened, number = opened_plan(self.desk, _told(request)), plan_number(_told(request))
        if stale := _stale(opened, window):
            return stale
        units = opened.units or units_of(opened.plan.draft.job)
        return JSONResponse(await run_in_threadpool(self.mender.look, number, opened.plan, 0, units))

    async def judged(self, request: Request) -> Response:
        """Return whether a cure helps, and makes nothing worse in any step; nothing of the plan is changed."""
        judging = await said(request, Judging)
        opened, number = opened_plan(self.desk, _told(request)), plan_number(_told(request))
        if judging.revision != opened.plan.revision:
            return JSONResponse({"stale": True}, 409)
        job = opened.plan.draft.job
        reader = reader_of(job, opened.units or units_of(job))
        return JSONResponse(await run_in_threadpool(self.judge.look, number, opened.plan, judging, reader))

    async def mended(self, request: Request) -> Response:
        """Return the step with the changes that were shown."""
        window, number = await said(request, WindowSize), plan_number(_told(request))

        def mended(opened: Open) -> Response:
            done = self.mender.make(number, opened.plan)
            return JSONResponse(opened.changed(window.view, opened.words(done)))

        return await self._as_seen(request, window, mended)

    async def swap(self, request: Request) -> Response:
        """Return how a stand is changed while the unit stands; nothing of the plan is changed."""
        asked_for = await said(request, Swapping)
        opened, number = opened_plan(self.desk, _told(request)), plan_number(_told(request))
        if stale := _stale(opened, asked_for):
            return stale
        units = opened.units or units_of(opened.plan.draft.job)
        return JSONResponse(await run_in_threadpool(self.swapper.look, number, opened.plan, asked_for, units))

    async def swapped(self, request: Request) -> Response:
        """Return the step with the steps put in that were shown."""
        window, number = await said(request, WindowSize), plan_number(_told(request))

        def swapped(opened: Open) -> Response:
            done = self.swapper.make(number, opened.plan)
            return JSONResponse(opened.changed(window.view, opened.words(done)))

        return await self._as_seen(request, window, swapped)

    async def reread(self, request: Request) -> Response:
        """Return the step with the files as they are on the disk."""
        window, opened = await said(request, WindowSize), opened_plan(self.desk, _told(request))

        def reread() -> Response:
            opened.plan.reread()
            return JSONResponse(opened.changed(window.view, "Read anew. Your changes are kept: undo brings them back."))

        return await worked(opened, reread)

    async def _as_seen(self, request: Request, window: WindowSize, does: Callable[[Open], Response]) -> Response:
        """Return what comes of something, where the window has seen the plan's last change; else the plan as it is."""
        opened = opened_plan(self.desk, _told(request))
        return await worked(opened, lambda: _stale(opened, window) or does(opened))

    async def sheet(self, request: Request) -> Response:
        """Return the floor sheet."""
        opened = opened_plan(self.desk, _told(request))
        assessment = await worked(opened, lambda: _printable(opened))
        units = opened.units or units_of(assessment.job)
        content = await run_in_threadpool(self.desk.do_long, printed, assessment, units)
        return _file(content, "application/pdf", f"{opened.plan.path.stem}-sheet.pdf", kind="inline")

    async def drawing(self, request: Request) -> Response:
        """Return the drawing of a step."""
        opened = opened_plan(self.desk, _told(request))
        assessment = await worked(opened, lambda: _printable(opened))
        units = opened.units or units_of(assessment.job)
        step = min(asked(request, WindowSize).step, len(assessment.stages) - 1)
        content = await run_in_threadpool(self.desk.do_long, plan_picture, assessment, step, "svg", units)
        return _file(content, "image/svg+xml", f"{opened.plan.path.stem}-step-{step + 1}.svg", kind="attachment")

    async def stream(self, request: Request) -> Response:
        """Return what a window is told of the server's own accord, for as long as it listens."""
        opened = opened_plan(self.desk, _told(request))
        address = request.client.host if request.client else ""
        if self.listening[address] >= MOST_STREAMS:
            return JSONResponse({"refused": "Too many windows listen. Close some, and load this page again."}, 429)
        server = Server(self.born, self.held.login, lambda: self.held.admits(address, request.headers))

        async def counted() -> AsyncIterator[str]:
            self.listening[address] += 1
            try:
                async for told in events(self.desk, opened, server):
                    yield told
            finally:
                self.listening[address] -= 1

        return StreamingResponse(counted(), media_type="text/event-stream")


def board(desk: Desk, held: Pass, tell: Callable[[str], None]) -> Starlette:
    """Make the application.

    Args:
        desk: What is open.
        held: What lets a request in.
        tell: Tells a line in the terminal: the next code, and who is let in.

    Returns:
        The application, guarded.
    """
    pages = Environment(
        loader=FileSystemLoader(HERE / "pages"), autoescape=True, undefined=StrictUndefined, trim_blocks=False
    )
    answers = Board(desk, held, pages, Mender(desk.do_long), Swapper(desk.do_long), CureJudge(desk.do_long))
    start = Start(desk, held, answers.page, FolderFiles(desk.folder), ListedVerdicts(desk.do_long))
    door = Door(held, answers.page, tell)
    bay, files = Bay(desk, held, answers.page), StaticFolder()
    asking = FirstQuestions(desk, held, answers.page, FolderReader(desk.folder))
    plan = "/plan/{plan}"
    return Starlette(
        routes=[
            Route("/", start.show),
            Route("/verdict", start.verdict),
            Route("/open", start.open, methods=["POST"]),
            Route("/demo", start.demo, methods=["POST"]),
            Route("/begin", start.begin, methods=["POST"]),
            Route("/ask", asking.begin),
            Route("/ask", asking.named, methods=["POST"]),
            Route("/ask/{file}", asking.show),
            Route("/ask/{file}", asking.answer, methods=["POST"]),
            Route(ENTRANCE + "{key}", door.own),
            Route("/enter", door.show),
            Route("/enter", door.enter, methods=["POST"]),
            Route("/devices/away", _written(held, door.send_away), methods=["POST"]),
            Route(plan, answers.show),
            Route(f"{plan}/bay", bay.show),
            Route(f"{plan}/bay", bay.done, methods=["POST"]),
            Route(f"{plan}/bay/photograph", bay.photographed, methods=["POST"]),
            Route(f"{plan}/screen", answers.screen),
            Route(f"{plan}/seen", answers.seen),
            Route(f"{plan}/stream", answers.stream),
            Route(f"{plan}/sheet.pdf", answers.sheet),
            Route(f"{plan}/plan.svg", answers.drawing),
            *(
                Route(f"{plan}/{name}", _written(held, answer), methods=["POST"])
                for name, answer in (
                    ("glance", answers.glance),
                    ("change", answers.change),
                    ("undo", answers.undo),
                    ("redo", answers.redo),
                    ("save", answers.save),
                    ("both", answers.take_both),
                    ("mend", answers.mend),
                    ("judge", answers.judged),
                    ("mended", answers.mended),
                    ("swap", answers.swap),
                    ("swapped", answers.swapped),
                    ("reread", answers.reread),
                )
            ),
            Route("/static/fonts/{name}", files.font),
            Route("/static/{name}", files.file),
        ],
        middleware=[Middleware(Guard, held=held)],
        exception_handlers={
            404: start.lost,
            405: start.lost,
            InputError: start.refused,
            TooLargeError: too_large,
            OSError: start.refused,
            ClientDisconnect: gone,
        },
    )


def _written(held: Pass, answer: Answer) -> Answer:
    """Return an answer that asks for the token first."""

    async def with_token(request: Request) -> Response:
        if not held.is_token(request.headers.get("x-token", "")):
            return JSONResponse({"refused": "This page is from another time. Load it again."}, 403)
        return await answer(request)

    return with_token


def _told(request: Request) -> str:
    """Return what stands in an address for the number of a plan."""
    told: str = request.path_params["plan"]
    return told


def _printable(opened: Open) -> Assessment:
    """Return what a plan comes to, if what is printed of it is what the files say.

    Raises:
        RefusedError: If a file under it changed, or something is tried out: paper would not tell.
    """
    names = " and ".join(printable(path.name) for path in opened.plan.changed_on_disk())
    if names:
        raise RefusedError(f"Not printed: {names} changed on the disk. Read it again on the plan's page, then print.")
    if opened.plan.draft.what_if:
        raise RefusedError("Not printed: something is tried out. Go back to what the files give, or write it in first.")
    return cures_in_all_steps(opened.plan.draft.assessment)


def _stale(opened: Open, window: WindowSize) -> Response | None:
    """Return the plan as it is, where a window has not seen its last change."""
    if window.revision == opened.plan.revision:
        return None
    told = opened.screen(window.view, "The plan was changed in another window. This is how it is now.")
    return JSONResponse({"stale": True, "screen": told}, 409)


def _file(content: bytes, media: str, name: str, *, kind: str) -> Response:
    plain = "".join(each if each.isascii() and (each.isalnum() or each in "-_. ") else "-" for each in name)
    return Response(content, media_type=media, headers={"content-disposition": f'{kind}; filename="{plain}"'})
