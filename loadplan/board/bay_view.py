"""The bay view: one step at a time, in big letters, for a tablet on a toolbox.

Each tap is a plain form: what was done goes into the record, and only once it is on the disk is the page shown again,
made from the record. So what the page shows as done is kept, whatever stops the machine, and it needs no script.
"""

from asyncio import Semaphore
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from html import unescape
from typing import NamedTuple

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from loadplan.board.bay_entries import entries_of
from loadplan.board.bay_photographs import choices, hang, looked_into
from loadplan.board.bay_scales import place_lines
from loadplan.board.bay_step import MOVED, BayStep, bay_step
from loadplan.board.bay_ties import list_forgotten, listed_words, tie_lines, to_list
from loadplan.board.bay_turns import turns_words
from loadplan.board.bay_verdict import worst_at_bay
from loadplan.board.forms import filled_in
from loadplan.board.open_plans import Desk, Open, opened_plan
from loadplan.board.record_news import record_state
from loadplan.board.refusals import RefusedError, not_written
from loadplan.board.request_guard import LARGEST_UPLOAD, Pass
from loadplan.board.uploaded_file import uploaded
from loadplan.board.worker import worked
from loadplan.checks.cure import HANDS_OFF
from loadplan.errors import InputError, printable
from loadplan.files.photograph_file import TOO_LARGE, made_anew
from loadplan.files.work_record_file import add_to_record
from loadplan.model.hung_photograph import HungPhotograph
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.model.work_record import MAY_GO_ON, RecordEntry
from loadplan.planning.record_doubt import moved_words
from loadplan.planning.record_readings import read_before_moved
from loadplan.report.words.cautions import ONE_LINE
from loadplan.report.words.findings import ToldFinding, parted, stage_lines
from loadplan.report.words.record_words import entry_words, length_words, moment, record_doubts
from loadplan.report.words.vocabulary import Reader, basis_words, first_lift, shown_verdict
from loadplan.units import Kind, bare_unit

WHO = "loadplan-who"
"""Name of the cookie that keeps who works at this screen."""

LONGEST_NAME = 60
"""Longest name of somebody that is kept [characters]."""

MOST_UPLOADS = 3
"""Photographs that are read at once: each takes its size in memory; what comes besides waits its turn."""

SHOWN_AFTER = {"note": "kept", "photograph": "kept", "forgotten": "still-on", "place": "still-on"}
"""Which part of the page comes into view after what was kept; after all else what is next."""

SHORT = 90
"""So many letters are hardly more to read than the line behind which they would fold."""

TYPED = ("what", "line", "by", "support", "load", "lowered", "words", "body", "front", "left", "up")
"""What stays in its field when it is not taken, and what says which field that is."""

TOO_LARGE_SENT = f"Not kept: the photograph {TOO_LARGE}."


class Refused(NamedTuple):
    """What was not taken: why, and all that was typed with it."""

    fault: str
    form: dict[str, str]


NOTHING_REFUSED = Refused("", {})


@dataclass(frozen=True, slots=True)
class Bay:
    """Answers for the bay view.

    Attributes:
        desk: What is open.
        held: What lets a request in.
        page: Renders a page.
        uploads: Lets in so many photographs at once.
    """

    desk: Desk
    held: Pass
    page: Callable[..., Response]
    uploads: Semaphore = field(default_factory=partial(Semaphore, MOST_UPLOADS))

    async def show(self, request: Request) -> Response:
        """Return a step: the one that is asked for, else the one at which the job stands."""
        opened = opened_plan(self.desk, request.path_params["plan"])
        asked = request.query_params.get("step", "")
        return await worked(opened, lambda: self._shown(opened, request, asked))

    async def done(self, request: Request) -> Response:
        """Return the way back to the step, once what was done is on the disk."""
        opened = opened_plan(self.desk, request.path_params["plan"])
        form = await filled_in(request, self.held)
        photograph: HungPhotograph | None = None
        if form.get("what") == "photograph":
            try:
                folder, name = opened.plan.path.parent, form.get("words", "")
                photograph = await run_in_threadpool(self.desk.do_long, looked_into, folder, name)
            except InputError as error:
                fault = _not_hung(error)
                return await worked(opened, lambda: self._refused(opened, request, form, fault))

        def does(step: BayStep, who: str) -> None:
            if form.get("what") == "list":
                list_forgotten(step, who)
            elif entries := entries_of(step, form, who, photograph):
                add_to_record(opened.plan.path, *entries)

        return await worked(opened, lambda: self._kept(opened, request, form, does))

    async def photographed(self, request: Request) -> Response:
        """Return the way back to the step, once a photograph that was sent is on the disk, and hangs on the step."""
        opened = opened_plan(self.desk, request.path_params["plan"])
        if int(request.headers.get("content-length", "0")) > LARGEST_UPLOAD:
            # Nothing of it is read, so its step stands in the address.
            form = {"step": request.query_params.get("step", "")}
            answer = await worked(opened, lambda: self._refused(opened, request, form, TOO_LARGE_SENT))
            answer.status_code = 413
            return answer
        async with self.uploads:
            sent = await uploaded(request, self.held, "photograph")
            try:
                # In the process beside: whatever is wrong with its content stays there.
                made = await run_in_threadpool(self.desk.do_long, made_anew, sent.content)
            except InputError as error:
                fault = _not_hung(error)
                return await worked(opened, lambda: self._refused(opened, request, sent.fields, fault))
        return await worked(
            opened, lambda: self._kept(opened, request, sent.fields, lambda step, who: hang(step, made, who))
        )

    def _kept(
        self, opened: Open, request: Request, form: dict[str, str], does: Callable[[BayStep, str], None]
    ) -> Response:
        """Return the way back, once what a form says is written down; or the page, where it is not taken."""
        asked = form.get("step", "")
        who = printable(form.get("who", "") or _known(request)).strip()[:LONGEST_NAME]
        try:
            does(bay_step(opened, asked), who)
        except (RefusedError, OSError) as error:
            fault = str(not_written(error) if isinstance(error, OSError) else error)
            if form.get("what") == "moved":
                # What to do then is told whatever hinders that it is kept.
                fault = f"{MOVED.heading}: {'; '.join(MOVED.lines)}. {fault}"
            # The name is kept all the same: what was typed is not typed twice.
            return self._signed(self._refused(opened, request, form, fault), form, who)
        # The page itself, where a photograph was sent to an address below it.
        going = RedirectResponse(f"/plan/{request.path_params['plan']}/bay?step={asked}#{_into_view(form)}", 303)
        return self._signed(going, form, who)

    def _signed(self, answer: Response, form: dict[str, str], who: str) -> Response:
        """Return an answer that keeps who works at this screen, where that was typed."""
        if form.get("who"):
            kept, secure = who.encode("ascii", "xmlcharrefreplace").decode(), self.held.scheme == "https"
            answer.set_cookie(WHO, kept, httponly=True, samesite="strict", secure=secure)
        return answer

    def _refused(self, opened: Open, request: Request, form: dict[str, str], fault: str) -> Response:
        """Return the page of the step that a form is of, and why nothing was kept.

        Raises:
            RefusedError: If the step cannot be shown: with the same reason.
        """
        asked = form.get("step", "")
        known = asked.isdecimal() and len(asked) < 6 and int(asked) < len(opened.plan.draft.assessment.stages)
        try:
            return self._shown(opened, request, asked if known else "", Refused(fault, form))
        except RefusedError:
            raise RefusedError(fault) from None

    def _shown(self, opened: Open, request: Request, asked: str, refused: Refused = NOTHING_REFUSED) -> Response:
        """Return the page of a step, and what was not taken, with what was typed still in its fields."""
        # Before the record is read: what is added meanwhile is news to the page.
        heard = record_state(opened.plan.path)
        step = bay_step(opened, asked)
        assessment = opened.plan.draft.assessment
        place = step.stage.state.index
        found = [each for each in stage_lines(step.stage, step.reader) if each.verdict > Verdict.NOTE]
        worst = max(found, key=lambda each: (each.verdict, each.past), default=None)
        first, more = _folded(worst) if worst else ("", "")
        answer = self.page(
            "bay.html",
            plan_id=request.path_params["plan"],
            heard=heard,
            revision=opened.plan.revision,
            moved_then=bool(moved_words(step.record)),
            title=step.reader.words(assessment.job.title),
            step_name=step.reader.words(step.name),
            step=place,
            steps=len(assessment.stages),
            next_name=step.reader.words(next((each.state.name for each in assessment.stages[place + 1 :]), "")),
            verdict=step.stage.verdict.name.lower(),
            **_band(step, assessment.basis),
            basis=basis_words(assessment.basis),
            first_lift=first_lift(step.reader.units),
            worst=first,
            worst_more=more,
            changed=" ".join(record_doubts(step.record, step.numbers)),
            earlier=step.reader.words(step.earlier),
            stops_later=_stops_later(step),
            parts=step.parts,
            open=step.may_go_on,
            complete=step.is_complete,
            done=step.done,
            places=place_lines(step),
            asks_lowered=step.stage.statics.set_down is not None,
            read_words="" if read_before_moved(step.record, step.name) else step.read.words,
            read_stops=step.read.stops,
            contradicts=step.read.contradicts,
            otherwise=[] if step.done else [each.words for each in step.read.places if each.verdict is Verdict.CAUTION],
            log=[_told(each, step.reader) for each in step.record.entries if each.step in {step.name, ""}][-8:],
            who=printable(refused.form.get("who", "")).strip()[:LONGEST_NAME] or _known(request),
            photographs=choices(step),
            forgotten=tie_lines(step),
            to_list=to_list(step),
            bodies=assessment.job.bodies,
            length_unit=bare_unit(Kind.LENGTH, step.reader.units),
            left_of=step.reader.words("Left of the centre line"),
            listed=listed_words(step),
            number=step.number,
            length=length_words(step.record),
            turns=turns_words(step),
            may_go_on=MAY_GO_ON,
            fault=refused.fault,
            typed={each: refused.form.get(each, "") for each in TYPED},
            blank=dict.fromkeys(TYPED, ""),
            cautions=ONE_LINE,
        )
        if refused.fault:
            answer.status_code = 422
        return answer


def _folded(worst: ToldFinding) -> tuple[str, str]:
    """Return what is read of a finding, and what folds behind it: nothing of a stop, of hands off, or if short."""
    first, others = parted(worst.text)
    whole = worst.verdict is Verdict.STOP or HANDS_OFF in others or len(others) <= SHORT
    return (worst.text, "") if whole else (first, others)


def _stops_later(step: BayStep) -> dict[str, str] | None:
    """Return number and name of the next step that is a stop, while this one is none; None where none is."""
    later = step.stops_later
    if later is None or step.stage.verdict is Verdict.STOP:
        return None
    return {"number": str(later.state.index + 1), "name": step.reader.words(later.state.name)}


def _band(step: BayStep, basis: Basis) -> dict[str, str]:
    """Return what the band says that stays in view: the verdict as planned, or worse by what is known at the bay."""
    planned = step.stage.verdict
    verdict = worst_at_bay(planned, step.from_bay)
    if step.read.stops or step.read.contradicts:
        verdict = Verdict.STOP
    moved = bool(moved_words(step.record))
    if verdict == planned:
        why = ", and something moved" if moved and verdict < Verdict.STOP else ""
    elif verdict is Verdict.STOP:
        why = ", by what was read"
    elif moved:
        why = ", since something moved"
    else:
        why = ", since what was read cannot be told" if step.is_in_doubt else ", by what was read"
    return {"band": verdict.name.lower(), "band_words": shown_verdict(verdict, basis) + why}


def _into_view(form: dict[str, str]) -> str:
    """Return which part of the page is shown after a tap: a reading's own, since what it means stands there."""
    place = form.get("place", "")
    if form.get("what") == "read" and place.isdecimal() and len(place) < 4:
        return f"read-{place}"
    return SHOWN_AFTER.get(form.get("what", ""), "now")


def _not_hung(error: InputError) -> str:
    """Return in a sentence why a photograph is not taken."""
    fault = error.faults[0]
    return f"Not kept: {printable(fault.file)} {fault.message}." if fault.file else f"Not kept: {fault.message}"


def _known(request: Request) -> str:
    """Return who works at this screen, as was said there last."""
    return unescape(request.cookies.get(WHO, ""))


def _told(entry: RecordEntry, reader: Reader) -> str:
    who = f", {reader.words(entry.who)}" if entry.who else ""
    return f"{moment(entry.at)}{who}: {entry_words(entry, reader)}"
