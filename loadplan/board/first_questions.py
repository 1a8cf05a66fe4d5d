"""The questions of a first job in the browser: a group at a time, beside a sketch that grows with the answers.

They are those of `loadplan new`, and so are the files that come of them. Each group is a plain form that needs no
script. Before the next group is shown the answers are on the disk, in the file in which `new` keeps them too: either
goes on where the other was left, and a kill loses nothing that was taken.
"""

import os
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from loadplan.board.draft import today
from loadplan.board.file_names import job_file
from loadplan.board.forms import filled_in
from loadplan.board.open_plans import Desk
from loadplan.board.question_groups import GROUPS, Taken, Untaken, asked_of, groups_of, open_group, taken
from loadplan.board.question_sketch import sketch_of
from loadplan.board.refusals import RefusedError
from loadplan.board.request_guard import Pass
from loadplan.errors import InputError
from loadplan.files import read_job, read_shop
from loadplan.files.find_beside import FolderReader
from loadplan.files.kept_answers import kept, read_kept
from loadplan.files.safe_write import rewrite, write_new
from loadplan.planning.interview.first_job import Named, shop_faults, vehicle_faults
from loadplan.planning.interview.new_files import Beside, files_of_answers
from loadplan.planning.interview.question import Ask, Question
from loadplan.planning.interview.question_flow import Answers, QuestionCourse, course
from loadplan.planning.interview.questions_on_job import Beginning
from loadplan.planning.interview.typical_answers import typical_units

KEPT = ".part"
"""Behind the name of the job-to-be: the file of its answers, as `loadplan new` calls it."""

SHOP = "shop.file"
"""Under which the shop is kept that was chosen of several; no question has this key."""

MOST_SHOWN = 30
"""Most jobs begun that are offered."""


@dataclass(frozen=True, slots=True)
class FirstQuestions:
    """Answers for the questions of a first job.

    Attributes:
        desk: What is open.
        held: What lets a request in.
        page: Renders a page.
        beside: Finds the vehicles and shops of the folder.
        turn: Held by whoever adds answers: two windows may be at one job.
    """

    desk: Desk
    held: Pass
    page: Callable[..., Response]
    beside: FolderReader
    turn: Lock = field(default_factory=Lock)

    async def begin(self, _request: Request) -> Response:
        """Return what is asked before all else: what the job's file is to be called, and which of several shops."""
        return await run_in_threadpool(self._beginning_page, {}, "")

    async def named(self, request: Request) -> Response:
        """Return the way to the first group."""
        return await run_in_threadpool(self._named, await filled_in(request, self.held))

    async def show(self, request: Request) -> Response:
        """Return the group that is asked for, else the one that comes."""
        name, group = request.path_params["file"], request.query_params.get("group", "")
        return await run_in_threadpool(self._shown, name, group)

    async def answer(self, request: Request) -> Response:
        """Return what comes after a group's answers, which are kept by then."""
        form = await filled_in(request, self.held)
        return await run_in_threadpool(self._answered, request.path_params["file"], form)

    def _beginning_page(self, form: Mapping[str, str], fault: str) -> Response:
        """Return the page on which the job's file gets its name."""
        shops = [each.name for each in self.beside.shops()]
        return self.page(
            "ask_begin.html",
            file=form.get("file") or self._free_name(),
            shops=shops if len(shops) > 1 else [],
            begun=begun_in(self.desk.folder),
            fault=fault,
        )

    def _free_name(self) -> str:
        names = ("first-job.toml", *(f"first-job-{number}.toml" for number in range(2, 100)))
        folder = self.desk.folder
        return next(
            (each for each in names if not _is_there(folder / each) and not _is_there(_kept_at(folder / each))), ""
        )

    def _named(self, form: dict[str, str]) -> Response:
        """Return the way to the first group, or the page again with what is wrong with the name."""
        try:
            path = self._new_job(form.get("file", ""))
            shop = form.get("shop", "")
            with self.turn:
                if shop and shop in {each.name for each in self.beside.shops()} and not _is_there(_kept_at(path)):
                    rewrite(_kept_at(path), kept({SHOP: shop}))
        except InputError as error:
            return self._beginning_page(form, str(error))
        return _to(path)

    def _new_job(self, name: str) -> Path:
        """Return the file of a job that is to be made.

        Raises:
            RefusedError: If it is there already, or the name is none for a job file.
        """
        path = job_file(self.desk.folder, name)
        if _is_there(path):
            raise RefusedError(f"{name} is there already and is not written over: give another name.")
        return path

    def _shown(self, name: str, group: str) -> Response:
        """Return a group as it stands."""
        path = self._new_job(name)
        return self._group(path, Taken(self._answers(path)), group)

    def _answered(self, name: str, form: dict[str, str]) -> Response:
        """Keep what was answered in a group.

        Returns:
            The way on, back, or to the job; the group again where something in it is not taken.
        """
        group, way = form.pop("group", ""), form.pop("way", "")
        with self.turn:
            path = self._new_job(name)
            came = taken(before := self._answers(path), group, form, is_whole=way == "on")
            if came.answers.texts != before.texts:
                rewrite(_kept_at(path), kept(came.answers.texts))
            known = course(came.answers)
            if way == "write" and not open_group(known):
                return self._written(path, came.answers)
        listed = groups_of(known)
        if way == "back":
            here = listed.index(group) if group in listed else len(listed)
            return _to(path, f"?group={listed[max(here - 1, 0)]}")
        if way == "on" and not came.untaken:
            # What came up only with these answers is asked on the same page, and the page begins there.
            new = next((each.key for each in asked_of(known, group) if not known.answered(each)), "")
            return _to(path, f"?group={group}#q-{quote(new)}" if new else "")
        page = self._group(path, came, group)
        if came.untaken and way == "on":
            page.status_code = 422
        return page

    def _written(self, path: Path, answers: Answers) -> Response:
        """Write the files, all or none.

        Returns:
            The way to the job.
        """
        shop = _shop_of(self.beside.shops(), answers.texts) if answers.begin.shop else None
        beside = Beside(path.name, Named("", shop.name if shop else ""), lambda other: _is_there(path.parent / other))
        contents = files_of_answers(answers, beside)
        write_new(path.parent, contents)
        read_job(path)
        with suppress(OSError):
            _kept_at(path).unlink()
        return RedirectResponse(f"/plan/{self.desk.open(path)}", 303)

    def _answers(self, path: Path) -> Answers:
        """Return what was answered so far, with what is known before: the folder's vehicles and its shop."""
        texts = read_kept(_kept_at(path))
        found = _shop_of(self.beside.shops(), texts)
        shop, system = None, None
        if found:
            with suppress(InputError):
                shop, system = read_shop(found)
        if shop and shop_faults(shop):
            shop, system = None, None
        vehicles = self.beside.vehicles()
        fit = {name: each for name, each in vehicles.items() if not vehicle_faults(each, shop)}
        return Answers(texts, Beginning(typical_units(), fit, None, shop, system, today()))

    def _group(self, path: Path, came: Taken, group: str) -> Response:
        """Return the page of a group; of all answers where none is open."""
        known = course(came.answers)
        listed, comes = groups_of(known), open_group(known)
        group = group if group in listed else comes
        answered = [each for each in listed if all(known.answered(one) for one in asked_of(known, each))]
        return self.page(
            "ask.html",
            file=path.name,
            address=f"/ask/{quote(path.name)}",
            groups=[{"name": each, "called": GROUPS[each], "is_done": each in answered} for each in listed],
            group=group,
            called=GROUPS.get(group, "All is answered"),
            questions=[_shown_question(each, known, came.untaken) for each in asked_of(known, group)],
            all_answers=[] if group else _all_answers(known, listed),
            sketch=sketch_of(came.answers),
            is_first=bool(listed) and group == listed[0],
        )


def begun_in(folder: Path) -> list[str]:
    """List the jobs whose questions were begun and not finished.

    Args:
        folder: The folder.

    Returns:
        Names of the files that they are to have.
    """
    found = []
    for each in sorted(folder.glob(f"*.toml{KEPT}")):
        with suppress(RefusedError):
            job = job_file(folder, each.name.removesuffix(KEPT))
            found += [] if _is_there(job) else [job.name]
    return found[:MOST_SHOWN]


def _shop_of(shops: tuple[Path, ...], texts: Mapping[str, str]) -> Path | None:
    """Return the shop that was chosen, else the only one of the folder."""
    chosen = next((each for each in shops if each.name == texts.get(SHOP)), None)
    return chosen or (shops[0] if len(shops) == 1 else None)


def _shown_question(question: Question, known: QuestionCourse, untaken: Mapping[str, Untaken]) -> dict[str, object]:
    """Return a question as the page shows it."""
    left = untaken.get(question.key)
    value = known.value(question)
    text = left.text if left else known.answers.texts.get(question.key, "")
    hint = question.hint or ("" if question.words else question.ask.value)
    return {
        "key": question.key,
        "asks": question.asks,
        "tells": question.tells,
        "hint": hint,
        "kind": question.ask.name.lower(),
        "default": question.default,
        "words": question.words if question.is_listed else ("yes", "no") if question.ask is Ask.YES_NO else (),
        "text": text,
        "chosen": _chosen(question, value),
        "says": left.says if left else "",
        "doubted": left.text if left and left.is_odd else "",
    }


def _chosen(question: Question, value: object) -> tuple[str, ...]:
    """Return which words are marked: those that were chosen, or that an empty answer takes."""
    if question.ask is Ask.YES_NO:
        return () if value is None else ("yes" if value else "no",)
    if question.ask is Ask.SEVERAL and isinstance(value, tuple):
        return tuple(str(each) for each in value)
    return (str(value),)


def _all_answers(known: QuestionCourse, groups: list[str]) -> list[dict[str, object]]:
    """Return each group with its questions and answers, for a last look."""
    texts = known.answers.texts
    return [
        {
            "name": group,
            "called": GROUPS[group],
            "rows": [
                (each.asks, texts.get(each.key) or each.default or "left open") for each in asked_of(known, group)
            ],
        }
        for group in groups
    ]


def _to(path: Path, where: str = "") -> Response:
    return RedirectResponse(f"/ask/{quote(path.name)}{where}", 303)


def _kept_at(path: Path) -> Path:
    return path.with_name(path.name + KEPT)


def _is_there(path: Path) -> bool:
    return os.path.lexists(path)
