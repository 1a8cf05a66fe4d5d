"""One stage as the checks see it: the job, the state it leaves, what was computed, and small look-ups."""

from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

from loadplan.limits import GRAVITY
from loadplan.model.answer import BodyAnswer, GroupAnswer, Load, LoadRange, Statics
from loadplan.model.job import Job, State, Support
from loadplan.model.vehicle import Body
from loadplan.model.verdict import Finding, NotChecked
from loadplan.stages import joined

NOTHING = 1e-6
"""Share of its group's weight below which a load counts as nothing: above a solver's error, far below a hand."""

Told: TypeAlias = Finding | NotChecked
"""What a check hands back: a finding, or what it could not look at."""


@dataclass(frozen=True)
class Case:
    """One stage to be judged.

    Attributes:
        job: The job.
        state: What is on, done up and in place after the stage.
        statics: What was computed about it.
        before: The state that the stage began with, None for the first stage.
    """

    job: Job
    state: State
    statics: Statics
    before: State | None

    @cached_property
    def stands(self) -> tuple[Support, ...]:
        """Supports in place, arms of the lift apart."""
        return tuple(each for each in self.state.supports if not each.is_arm)

    @cached_property
    def arms(self) -> tuple[Support, ...]:
        """Arms of the lift, empty where it does not hold."""
        return tuple(each for each in self.state.supports if each.is_arm)

    def support(self, name: str) -> Support:
        """Return the support in place, or arm, of that name."""
        return next(each for each in self.state.supports if each.name == name)

    def body(self, name: str) -> Body:
        """Return the body of that name from the vehicle's file."""
        return next(each for each in self.job.vehicle.bodies if each.name == name)

    def answer(self, body: str) -> BodyAnswer:
        """Return what was computed about a body."""
        return self.statics.body(body)

    def load(self, support: str) -> Load | None:
        """Return what a support carries, None where its group is not balanced."""
        return self.statics.load(support)

    def load_range(self, support: str) -> LoadRange | None:
        """Return what a support may come to carry, None where its group is not balanced, or at a glance."""
        load = self.load(support)
        return load.range if load else None

    def gap(self, support: str) -> float:
        """Return how much lower its saddle is than the highest one [m]."""
        return self.statics.gaps[support]

    def group(self, body: str) -> GroupAnswer:
        """Return the group that a body is in."""
        return self.statics.group_of(body)

    def whole(self, body: str) -> tuple[str, ...]:
        """Return the bodies that move as one with a body, itself too, in the job's order."""
        return tuple(each for each in self.state.bodies if each == body or each in self.answer(body).rigid_with)

    def weight(self, body: str) -> float:
        """Return the weight [N] of the group that a body is in."""
        return sum(self.answer(each).mass for each in self.group(body).bodies) * GRAVITY

    def is_nothing(self, load: float, body: str) -> bool:
        """Return whether a load [N] under a body is nothing beside the weight of its group."""
        return load <= NOTHING * self.weight(body)

    def may_carry(self, support: Support) -> bool:
        """Return whether a support carries something, as set or on an uneven floor."""
        load = self.load(support.name)
        return load is not None and not self.is_nothing(load.at_most, support.body)

    def holds_lift(self, group: GroupAnswer) -> bool:
        """Return whether the lift holds a body of that group."""
        return any(arm.name in group.supports for arm in self.arms)

    def on_lift(self, body: str) -> bool:
        """Return whether done-up joints tie a body to the one that the lift holds."""
        return _on_lift(self.job, self.state, body)

    def already_free(self, body: str) -> bool:
        """Return whether a body hung on nothing but its supports already when the stage began.

        Before the first stage nothing stands yet: lift, jack or hoist still holds the weight.
        """
        return self.before is not None and not self.on_lift(body) and not _on_lift(self.job, self.before, body)


def first_of_wholes(case: Case) -> list[BodyAnswer]:
    """Name each rigid whole by its first body.

    Args:
        case: The stage.

    Returns:
        One body of each rigid whole, in the job's order.
    """
    order = [each.name for each in case.statics.bodies]
    return [
        each
        for place, each in enumerate(case.statics.bodies)
        if all(order.index(other) > place for other in each.rigid_with if other in order)
    ]


def _on_lift(job: Job, state: State, body: str) -> bool:
    if job.lift is None or not any(each.is_arm for each in state.supports):
        return False
    return body in joined(state.done_up, job.lift.body)
