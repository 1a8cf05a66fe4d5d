"""What is open: plans by number, and for each the step that somebody is moving a stand in."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from enum import Enum
from pathlib import Path
from threading import Event, RLock
from typing import assert_never

from loadplan.assess import Preview
from loadplan.board.bay_verdict import AtTheBay, bay_findings, with_bay
from loadplan.board.draft import Draft
from loadplan.board.lift_changes import lift_form
from loadplan.board.record_news import record_state
from loadplan.board.refusals import RefusedError
from loadplan.board.snap_places import bearing_at, borne
from loadplan.board.stage_screen import ScreenView, glance, screen, steps
from loadplan.board.stand_changes import stand_of
from loadplan.board.undo_history import Plan
from loadplan.board.vehicle_form import vehicle_form
from loadplan.board.verdict_cells import Plain
from loadplan.board.worker_process import Doing, here
from loadplan.errors import InputError
from loadplan.files.edit_stands import Under
from loadplan.files.work_record_file import record_or_why
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.planning.record_verdict import with_found
from loadplan.planning.whatif import Shot, without
from loadplan.report.drawing.inline_svg import for_page, path_of
from loadplan.report.drawing.paper import VIEW_BOX
from loadplan.report.pictures.live_plan import LivePage, lines_of, live_of
from loadplan.report.pictures.plan_content import margin_is_on_the_lift
from loadplan.report.pictures.render import live_picture
from loadplan.report.words.number_format import units_of
from loadplan.report.words.stage_tables import from_chalk
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System

LEAST_SIDE, MOST_SIDE = 160, 2400
"""Sides of a drawing that are drawn [px]: what is asked for beyond is drawn at the limit."""


class Around(Enum):
    """Whether the vehicle with its lift is drawn, too: where the margin is about it, never, or always."""

    AUTO = "auto"
    UNIT = "unit"
    ALL = "all"


@dataclass(frozen=True, slots=True)
class OpenStep:
    """What a window shows.

    Attributes:
        step: Number of the step, from 0.
        size: Width and height of its drawing [px].
        without: Number of a stand that is taken away as a what-if; None for none.
        around: Whether the vehicle with its lift is drawn, too.
    """

    step: int
    size: tuple[float, float]
    without: int | None = None
    around: Around = Around.AUTO

    def shows_all(self, assessment: Assessment, stage: StageAssessment) -> bool:
        """Return whether the vehicle with its lift is drawn in a step, too."""
        match self.around:
            case Around.AUTO:
                return margin_is_on_the_lift(assessment, stage)
            case Around.UNIT:
                return False
            case Around.ALL:
                return True
            case _:
                assert_never(self.around)


@dataclass(frozen=True, slots=True)
class _MovingKey:
    """What has to stay the same for all the moves of a stand."""

    revision: int
    step: int
    size: tuple[float, float]
    around: Around


@dataclass(frozen=True, slots=True)
class _Moving:
    """A step in which a stand is being moved, come up to once for all the moves."""

    key: _MovingKey
    seen: ScreenView
    passing: Preview


@dataclass(slots=True)
class Asked:
    """How much is being asked.

    Attributes:
        now: What is being worked on, or waits for its turn.
    """

    now: int = 0


@dataclass(slots=True)
class Open:
    """A plan that is open.

    Attributes:
        plan: The plan.
        units: The reader's units; None: those of the job file.
        do: Does what takes long: drawing.
        turn: Held by whoever works with the plan.
        asked: What is asked of it.
        asked_of_all: What is asked of all plans together.
    """

    plan: Plan
    units: System | None
    do: Doing = here
    turn: RLock = field(default_factory=RLock)
    asked: Asked = field(default_factory=Asked)
    asked_of_all: Asked = field(default_factory=Asked)
    _moving: _Moving | None = field(default=None)
    _bay: AtTheBay = field(default_factory=lambda: AtTheBay("", ()))

    def screen(self, view: OpenStep, said: str = "") -> dict[str, Plain]:
        """Tell and draw a step.

        Args:
            view: What the window shows.
            said: What was done just now.

        Returns:
            What the page shows, as JSON.
        """
        seen, tried = self.seen(view)
        svg = for_page(self.do(live_picture, seen.live))
        return {**self._told(view, seen, tried), "said": said or self.plan.restored, "svg": svg}

    def changed(self, view: OpenStep, said: str) -> dict[str, Plain]:
        """Tell and draw a step behind a change that is made, and kept.

        Where its drawing fails, no fault is told: it would read as if the change had not been made.

        Args:
            view: What the window shows.
            said: What was done just now.

        Returns:
            What the page shows, as JSON; "" in place of a drawing that failed: the page asks for it again.
        """
        try:
            return self.screen(view, said)
        except InputError:
            return self.undrawn(view, said)

    def undrawn(self, view: OpenStep, said: str) -> dict[str, Plain]:
        """Tell a step, and leave its drawing to whoever asks for the screen next: it takes a third of judging.

        Args:
            view: What the window shows.
            said: What was done just now.

        Returns:
            What the page shows, as JSON, "" in place of the drawing.
        """
        seen, tried = self.seen(view)
        return {**self._told(view, seen, tried), "said": said, "svg": ""}

    def _told(self, view: OpenStep, seen: ScreenView, tried: str) -> dict[str, Plain]:
        """Return what the page shows of a step but its drawing, and what was done just now."""
        plan, draft = self.plan, self.plan.draft
        return {
            **screen(seen, draft.given),
            "vehicle_form": {
                **vehicle_form(draft.given, seen.reader, own="vehicle" not in draft.file.source.raw),
                **lift_form(draft.given, seen.reader),
            },
            "revision": plan.revision,
            "file": plan.path.name,
            "unsaved": plan.unsaved,
            "undo": plan.can_undo,
            "redo": plan.can_redo,
            "changed_on_disk": [path.name for path in plan.changed_on_disk()],
            "what_if": tried,
            "step": self._step(draft, view),
            "record": self._bay.state,
            "steps": steps(with_bay(draft.assessment, self._bay.found), seen.reader),
            "without": view.without,
        }

    def words(self, text: str) -> str:
        """Return a sentence in the reader's words; names that the user gave stay as they are."""
        job = self.plan.draft.job
        return reader_of(job, self.units or units_of(job)).words(text)

    def glance(self, view: OpenStep, stand: int, at: PlanPoint, snap: float) -> dict[str, Plain]:
        """Tell what moving a stand comes to, in passing.

        Args:
            view: What the window shows.
            stand: Number of the stand.
            at: Where it is now [m].
            snap: How near a point draws it in [m].

        Returns:
            Verdict so far, margin, loads, and the lines that moved.

        Raises:
            InputError: If there is no such stand, or the step cannot be computed.
        """
        moving = self._come_up(view)
        seen, job = moving.seen, moving.seen.job
        support = stand_of(self.plan.draft, stand)
        to = bearing_at(job, seen.stage.state, support, at, snap)
        moved = borne(job, support, to)
        supports = tuple(moved if each.name == support.name else each for each in seen.stage.state.supports)
        stage = moving.passing.look(supports)
        now = seen.live.scene_now(seen.assessment, stage)
        stage = with_found(stage, self._bay.found[moving.key.step] if self._bay.found else ())
        across, along = seen.live.view.page(*moved.at[:2])
        high = seen.live.view.frame.height
        return {
            "revision": self.plan.revision,
            **glance(stage, now, seen),
            "at": {"u": across * VIEW_BOX, "v": (high - along) * VIEW_BOX},
            "snapped": seen.reader.words(to.point) if isinstance(to, Under) else "",
            "under": seen.reader.words(f"the {moved.body}"),
            "place": from_chalk(*moved.at[:2], seen.reader),
            "lines": {name: path_of(line, high) for name, line in lines_of(seen.live, now).items()},
        }

    def _step(self, draft: Draft, view: OpenStep) -> int:
        return min(max(view.step, 0), len(draft.assessment.stages) - 1)

    def seen(self, view: OpenStep) -> tuple[ScreenView, str]:
        """Come up to a step as a window shows it.

        Args:
            view: What the window shows.

        Returns:
            The step, and what is tried out in it.
        """
        draft = self.plan.draft
        self._bay = self._at_the_bay()
        shot = Shot(draft.assessment, self._step(draft, view))
        units = self.units or units_of(draft.job)
        told = ""
        there = [each.name for each in shot.stage.state.supports]
        if view.without is not None and stand_of(draft, view.without).name in there:
            name = stand_of(draft, view.without).name
            shot = without(shot, (name,))
            told = f"What if: {name} is taken away. Not saved."
        drawn = self._drawn(shot, view, units)
        # The drawing is the plan's; what is told beside it counts what is known at the bay, as `check` does.
        found = self._bay.found
        if here := found[shot.index : shot.index + 1]:
            # Steps that a what-if puts in are told as the one in view.
            found = (*found[: shot.index], *here * (len(drawn.assessment.stages) - len(found)), *found[shot.index :])
            stage = with_found(drawn.stage, *here)
            drawn = replace(drawn, assessment=with_bay(drawn.assessment, found), stage=stage)
        seen = drawn
        tried = draft.what_if.told(draft.given, seen.reader)
        return seen, " ".join(each for each in (tried, told) if each)

    def _at_the_bay(self) -> AtTheBay:
        """Return what is known of the work at the bay."""
        state, record = record_state(self.plan.path), record_or_why(self.plan.path)
        # Nothing was done in most plans that are looked at.
        found = () if record.tells_nothing else bay_findings(self.plan, self.do, record)
        return AtTheBay(state, found)

    def _drawn(self, shot: Shot, view: OpenStep, units: System) -> ScreenView:
        stage: StageAssessment = shot.stage
        # With stands to take hold of the plan stays as large as they need; "All of it" shows the vehicle.
        stands = any(not each.is_arm for each in stage.state.supports)
        everything = view.shows_all(shot.assessment, stage) and not (view.around is Around.AUTO and stands)
        page = LivePage(within_limits(view.size), everything)
        return ScreenView(shot.assessment, stage, live_of(shot.assessment, stage, page, units))

    def _come_up(self, view: OpenStep) -> _Moving:
        """Return the step in view, come up to when its first move is seen."""
        draft = self.plan.draft
        step = self._step(draft, view)
        key = _MovingKey(self.plan.revision, step, view.size, view.around)
        if self._moving is None or self._moving.key != key:
            shot = Shot(draft.assessment, step)
            seen = self._drawn(shot, view, self.units or units_of(draft.job))
            self._moving = _Moving(key, seen, Preview(draft.job, step))
        return self._moving


@dataclass(slots=True)
class Desk:
    """All that is open, in one folder.

    Attributes:
        folder: Where jobs are read and written; nothing else is.
        units: The reader's units; None: those of each job file.
        plans: What is open.
        tell: Tells a line in the terminal.
        do: Does what a window waits for: judging, drawing a step.
        do_long: Does what may take longer, beside the other: printing, and looking for what would mend a plan.
        stopping: Is set once the server stops.
        asked: What is asked of all plans together.
    """

    folder: Path
    units: System | None
    plans: list[Open] = field(default_factory=list)
    tell: Callable[[str], None] = lambda _: None
    do: Doing = here
    do_long: Doing = here
    stopping: Event = field(default_factory=Event)
    asked: Asked = field(default_factory=Asked)
    _opening: RLock = field(default_factory=RLock)

    def open(self, path: Path) -> int:
        """Open a job file, once.

        Args:
            path: The file.

        Returns:
            Its number.

        Raises:
            InputError: If it cannot be used.
        """
        with self._opening:  # two windows may ask for it at once, and a plan of its own each would cost one its work
            for number, each in enumerate(self.plans):
                if each.plan.path.resolve() == path.resolve():
                    return number
            plan = Plan(path, self.tell, self.do)
            self.plans.append(Open(plan, self.units, self.do, asked_of_all=self.asked))
            return len(self.plans) - 1


def within_limits(size: tuple[float, float]) -> tuple[float, float]:
    """Return a size [px] as it is drawn.

    Example:
        >>> within_limits((10.0, 640.0))
        (160, 640.0)
    """
    width, height = (min(max(side, LEAST_SIDE), MOST_SIDE) for side in size)
    return width, height


def opened_plan(desk: Desk, told: str) -> Open:
    """Return the plan of an address.

    Args:
        desk: What is open.
        told: What stands in the address for its number.

    Returns:
        The plan.

    Raises:
        RefusedError: If none of that number is open.
    """
    number = plan_number(told)
    if number >= len(desk.plans):
        raise RefusedError("This plan is not open any more. Open it again from the list of jobs.")
    return desk.plans[number]


def plan_number(told: str) -> int:
    """Return the number of the plan in an address.

    Args:
        told: What stands in the address.

    Returns:
        The number; whether a plan has it does not count.

    Raises:
        RefusedError: If that is no number; starlette's own reader fails on thousands of digits.
    """
    if not (told.isascii() and told.isdecimal() and len(told) < 10):
        raise RefusedError("There is no such plan. Open one from the list of jobs.")
    return int(told)
