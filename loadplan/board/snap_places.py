"""Where a stand goes that somebody moves with a finger: onto one of the vehicle's points, or free under an assembly."""

from math import hypot

from shapely.geometry import Point as Spot

from loadplan.checks.footprint import outline_polygon
from loadplan.files.edit_stands import Bearing, Free, Under
from loadplan.model.job import Job, State, Support
from loadplan.model.vehicle import Body, PlanPoint, Point
from loadplan.units import Kind, System, to_si

GRID = {System.METRIC: 0.005, System.US: to_si("1/8 in", Kind.LENGTH, System.US)}
"""A free place lies on marks that a tape has [m]: the sheet tells no finer."""

ON_IT = 0.0005
"""This near [m] a place is the point itself."""


def bearing_at(job: Job, state: State, support: Support, at: PlanPoint, snap: float) -> Bearing:
    """Find what a stand bears on at a place.

    Args:
        job: The job.
        state: The stage in view.
        support: The stand.
        at: Where it is moved to [m].
        snap: How near a point has to be to draw it in [m].

    Returns:
        The nearest free point, else the place itself, on marks of the tape.
    """
    near = [(_far(point, at), number) for number, point in enumerate(_points(job, state, support))]
    far, nearest = min(near, default=(1e9, 0))
    if far <= max(snap, ON_IT):
        return Under(_points(job, state, support)[nearest].name)
    grid = GRID[System.US if job.us_units else System.METRIC]
    x, y = (round(each / grid) * grid for each in at)
    body = body_under(job, state, support, (x, y))
    return Free(body, (x, y, _height(job, body, support, (x, y))))


def borne(job: Job, support: Support, to: Bearing) -> Support:
    """Move a stand.

    Args:
        job: The job.
        support: The stand.
        to: What it bears on.

    Returns:
        The stand there.
    """
    match to:
        case Under(name):
            point = next(each for each in job.vehicle.points if each.name == name)
            return support.under(point, job.vehicle)
        case Free(body, at):
            return support.under(Point("", body, at, None, ""), job.vehicle)


def body_under(job: Job, state: State, support: Support, at: PlanPoint) -> str:
    """Name the assembly that a stand touches first at a place: its own where that reaches so far, else the lowest.

    Args:
        job: The job.
        state: The stage in view.
        support: The stand.
        at: The place [m].

    Returns:
        Name of the body; the one that it is under now where nothing is over the place.
    """
    lifted = job.lift.body if job.lift else ""
    over = [
        body
        for body in job.vehicle.bodies
        if body.name in state.bodies and (body.name != lifted or support.body == lifted) and _covers(body, at)
    ]
    if any(body.name == support.body for body in over):
        return support.body
    lowest = min(over, key=lambda body: (body.bottom is None, body.bottom or 0.0), default=None)
    return lowest.name if lowest else support.body


def free_points(job: Job, state: State, support: Support) -> tuple[Point, ...]:
    """List the points that a stand may be put under.

    Args:
        job: The job.
        state: The stage in view.
        support: The stand.

    Returns:
        Points of bodies and parts that are there, where no other stand is, in the vehicle's order.
    """
    taken = {each.at for each in state.supports if each.name != support.name}
    return tuple(
        point
        for point in job.vehicle.points
        if point.body in state.bodies and point.at not in taken and (not point.part or point.part in state.on)
    )


def _points(job: Job, state: State, support: Support) -> tuple[Point, ...]:
    """Return points that draw a stand in: of the lift's body only for a stand that is under it."""
    lifted = job.lift.body if job.lift else ""
    return tuple(point for point in free_points(job, state, support) if point.body != lifted or support.body == lifted)


def _height(job: Job, body: str, support: Support, at: PlanPoint) -> float:
    """Return how high an assembly is over a place: as at its nearest point; nobody has measured there yet."""
    points = [point for point in job.vehicle.points if point.body == body]
    if points:
        return min(points, key=lambda point: _far(point, at)).at[2]
    bottom = next(each.bottom for each in job.vehicle.bodies if each.name == body)
    return support.at[2] if bottom is None else bottom


def _far(point: Point, at: PlanPoint) -> float:
    return hypot(point.at[0] - at[0], point.at[1] - at[1])


def _covers(body: Body, at: PlanPoint) -> bool:
    outline = outline_polygon(body.outline)
    return outline is not None and bool(outline.covers(Spot(at)))
