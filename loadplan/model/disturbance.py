"""What may disturb a group that stands: a support that goes or sinks, a hose left on, a push, a known pull."""

from dataclasses import dataclass

from loadplan.model.vehicle import Place, PlanPoint


@dataclass(frozen=True, slots=True)
class LostSupport:
    """What happens when one support goes.

    Attributes:
        support: The support.
        balanced: Whether the group still stands.
        turns_about: What it turns about where it does not.
        worst_margin: Its least worst margin without the support, in the ways that only the support stood against, with
            no lean [m]; None where it goes over, or where there is no such way.
    """

    support: str
    balanced: bool
    turns_about: tuple[str, ...]
    worst_margin: float | None = None


@dataclass(frozen=True, slots=True)
class Sunk:
    """What happens when a support that oil or a chain brake holds sinks by 10 mm.

    Attributes:
        support: The support.
        loads: (support, expected load [N]) of every support of the group.
        tilts: (body, tilt out of the file's attitude [rad]) of every body of the group.
    """

    support: str
    loads: tuple[tuple[str, float], ...]
    tilts: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Snag:
    """The least upward pull [N] at an undone joint that takes a body out of balance.

    Attributes:
        joint: The joint.
        body: The body that is pulled.
        pull: Force [N]; None where no upward pull there does it.
    """

    joint: str
    body: str
    pull: float | None


@dataclass(frozen=True, slots=True)
class PushAnswer:
    """The least sideways push on a rigid whole that its group cannot stand; friction may let go sooner.

    Attributes:
        force: Force [N].
        direction: Where it pushes [rad], from forward towards the left.
        body: Body with the highest part still on, which is pushed.
        at: Where [m]: at that part's centre of gravity.
        first: "slides", "tips", or "stand" where a stand itself goes over.
        about: Supports that it turns about when it tips, that slip when it slides, that go over for "stand".
        oiled: The force where every saddle of which no friction is said is oiled steel [N], the same as `force` where
            each is said; where that is little no more than this, and infinite where it is more than is asked for.
        borne: What the supports of the whole carry [N]; of one that has none, those of its group.
        still_on: Parts that the stage takes off in any order, and that are still on where the push is least.
    """

    force: float
    direction: float
    body: str
    at: Place
    first: str
    about: tuple[str, ...]
    oiled: float
    borne: float
    still_on: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LaidOn:
    """The least weight that takes a group out of balance when it is laid on one of its rigid wholes, at a corner.

    Attributes:
        body: Body at whose outline it is laid on; the first of the whole where none has an outline.
        at: The corner in plan [m]; None where no corner is known, or a weight at none of them tips it.
        weight: Force [N]; None likewise.
        about: Supports and mounts that it turns about.
        known: Whether the whole has an outline.
    """

    body: str
    at: PlanPoint | None
    weight: float | None
    about: tuple[str, ...]
    known: bool


@dataclass(frozen=True, slots=True)
class PullAnswer:
    """How many times the known pull of a stage can be stood; an upper bound, like a push.

    Attributes:
        body: Body that is pulled.
        factor: Largest factor on the pull; None where nothing limits it.
        force: The force that the pull puts on the body [N].
        towards: Its direction, the worst one for a bar.
        first: "slides", "tips" or "stand"; "holds" where nothing limits it.
        about: Supports that it turns about when it tips, that slip when it slides, that go over for "stand".
        oiled: The factor where every saddle of which no friction is said is oiled steel; the same as `factor` where
            each is said.
        still_on: Parts that the stage takes off in any order, and that are still on where it is stood least.
    """

    body: str
    factor: float | None
    force: float
    towards: Place
    first: str
    about: tuple[str, ...]
    oiled: float | None
    still_on: tuple[str, ...] = ()
