"""A prop under one end of the vehicle on the lift: what it carries if the vehicle moves."""

from dataclasses import replace

from loadplan.model.job import Job, State, Support
from loadplan.model.shop import Equipment, EquipmentKind, RatedFor
from loadplan.model.vehicle import Point
from loadplan.statics.equilibrium import frames
from loadplan.statics.load_bounds import load_bounds
from loadplan.statics.mass import lumps
from loadplan.statics.tipping_modes import rays

PROP = "a prop to be set"
"""Name of the prop while it is computed; it is found by its equipment, not by this."""

ANY = Equipment(
    name=PROP,
    kind=EquipmentKind.STAND,
    rating=0.0,
    rated_for=RatedFor.EACH,
    heights=None,
    base=None,
    saddle=None,
    stiffness=1e6,
)
"""Some stand: the most that it could carry depends on its place alone."""


def prop_load(job: Job, state: State, point: Point) -> float | None:
    """Bound what a prop at a point carries, whatever pads lose their load and wherever tolerance lets the weight be.

    For a vehicle on front and rear pads with the prop behind the rear ones that is, with weights as given,
    W (x of the front pads − x of its centre of gravity) / (x of the front pads − x of the prop).

    Args:
        job: The job.
        state: The state; the group of the point's body is balanced in it over the whole tolerance.
        point: Where the prop stands.

    Returns:
        Most load [N]; None where nothing limits it.
    """
    # Beside all that stands there already: what the lift loses the prop may get, and the bound sees both.
    propped = replace(state, supports=(*state.supports, _prop(point)))
    groups = frames(propped, lumps(job, propped))
    group = next(each for each in groups if point.body in each.bodies)
    # By its equipment, since a user may call a stand of his own the same.
    number = next(number for number, each in enumerate(group.supports) if each.equipment is ANY)
    most = float(load_bounds(group, rays(group)).most[number]) * group.weight
    return None if most == float("inf") else most


def _prop(point: Point) -> Support:
    """Return a support that takes any load, under a point."""
    return Support(
        name=PROP,
        equipment=ANY,
        tag="",
        body=point.body,
        at=point.at,
        point=point.name,
        limit=point.limit,
        say=point.say,
        standby=True,
    )
