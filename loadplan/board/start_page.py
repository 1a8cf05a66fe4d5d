"""The page without a job: those in the folder, the demo, a vehicle and a shop to begin with, or some questions."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response

from loadplan.board.file_names import job_file
from loadplan.board.first_questions import begun_in
from loadplan.board.folder_files import FolderFiles, Listing
from loadplan.board.forms import filled_in
from loadplan.board.listed_verdicts import ListedVerdicts
from loadplan.board.open_plans import Desk
from loadplan.board.refusals import RefusedError, not_written
from loadplan.board.request_guard import Pass
from loadplan.errors import InputError, printable
from loadplan.files import read_job, shipped_folder, shipped_vehicles
from loadplan.files.job_shape import JOB_SCHEMA
from loadplan.files.safe_write import write_new
from loadplan.files.shop_shape import SHOP_SCHEMA
from loadplan.files.toml_edit import quoted
from loadplan.files.vehicle_shape import VEHICLE_SCHEMA

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
        verdicts: What each job comes to.
        demos: The demo jobs.
    """

    desk: Desk
    held: Pass
    page: Callable[..., Response]
    here: FolderFiles
    verdicts: ListedVerdicts
    demos: FolderFiles = field(default_factory=lambda: FolderFiles(shipped_folder("demo")))

    async def show(self, request: Request) -> Response:
        """Return what there is to begin with."""
        return await run_in_threadpool(self._page, "")

    async def refused(self, request: Request, error: Exception) -> Response:
        """Return what answers where something is refused: this page, and why; a sentence to who looks at no page."""
        error = not_written(error) if isinstance(error, OSError) else error
        if not _looks_at_pages(request):
            return JSONResponse({"refused": str(error)}, 422)
        was_sent = request.method == "POST"
        return await self._instead(str(error), 422, was_sent=was_sent)

    async def lost(self, request: Request, error: Exception) -> Response:
        """Return what answers where nothing is: this page, and the word for it to who looks at no page."""
        assert isinstance(error, HTTPException)
        if not _looks_at_pages(request):
            return PlainTextResponse(error.detail, error.status_code, headers=error.headers)
        told = "There is no such page here. The jobs are below."
        return await self._instead(told, error.status_code, was_sent=False)

    async def _instead(self, fault: str, status: int, *, was_sent: bool) -> Response:
        page = await run_in_threadpool(lambda: self._page(fault, was_sent=was_sent))
        page.status_code = status
        return page

    def _page(self, fault: str, begun: Mapping[str, str] | None = None, *, was_sent: bool = True) -> Response:
        """Return the page, with what went wrong and what was filled in already, so that nobody types it twice.

        Args:
            fault: What went wrong.
            begun: What was filled in.
            was_sent: Whether something was given that was not taken, and not only an address looked at.
        """
        found, demos = self.here.listed(), self.demos.listed()
        here = found.files
        return self.page(
            "start.html",
            jobs=_jobs(found),
            left_out=found.left_out,
            begun_questions=begun_in(self.desk.folder),
            shops=[each.name for each in here if each.schema == SHOP_SCHEMA],
            vehicles=[
                *(each.name for each in here if each.schema == VEHICLE_SCHEMA),
                *(name for name, _ in shipped_vehicles()),
            ],
            demo=_jobs(demos),
            folder=printable(str(self.desk.folder)),
            fault=fault,
            was_sent=was_sent,
            fingerprint=self.held.fingerprint,
            begun={key: (begun or {}).get(key, "") for key in ("vehicle", "shop", "title", "name")},
        )

    async def verdict(self, request: Request) -> Response:
        """Return what a job of the folder comes to."""
        name = request.query_params.get("job", "")
        return JSONResponse(await run_in_threadpool(lambda: self.verdicts.told(self._own(name))))

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


def _looks_at_pages(request: Request) -> bool:
    return "text/html" in request.headers.get("accept", "")


def _jobs(found: Listing) -> list[dict[str, str]]:
    return [{"name": each.name, "title": each.title} for each in found.files if each.schema == JOB_SCHEMA]


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
