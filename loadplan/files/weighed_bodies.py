"""Whether the parts that are off a weighed body leave something of it."""

from loadplan.files.fault_wording import listed, quoted, shown
from loadplan.files.job_shape import StageTable
from loadplan.files.shape import TableRow
from loadplan.files.stage_scene import StageScene
from loadplan.model.presence import remaining
from loadplan.model.vehicle import Body, Part, Weighed
from loadplan.units import Kind, bare_unit, from_si


def check_weights(scene: StageScene, row: TableRow[StageTable], off: frozenset[str]) -> None:
    """Note parts that outweigh, inside tolerance, the weighed body that they come off.

    Args:
        scene: The scene.
        row: The stage.
        off: Parts that are off after it.
    """
    on = scene.part_names - off
    for body in scene.vehicle.bodies:
        own = [part for part in scene.vehicle.parts if part.body == body.name and part.name in off]
        if body.weighed is None or body.name in scene.left_out or not {part.name for part in own} & set(row.table.off):
            continue
        there = remaining(body, scene.vehicle.parts, on)
        if _least_left(body.weighed, own) <= 0 if there else _most_left(body.weighed, own) < 0:
            scene.file.source.blame(row.label, "off", _told(scene, body, own))


def _least_left(weighed: Weighed, off: list[Part]) -> float:
    """Return the least that is left of a body weighed whole [kg]."""
    return weighed.mass - weighed.mass_pm - sum(part.mass + part.mass_pm for part in off)


def _most_left(weighed: Weighed, off: list[Part]) -> float:
    """Return the most that is left [kg]."""
    return weighed.mass + weighed.mass_pm - sum(part.mass - part.mass_pm for part in off)


def _told(scene: StageScene, body: Body, off: list[Part]) -> str:
    """Return what is wrong: what the parts may come to, and what the body was weighed as."""
    system = scene.file.source.system
    unit = bare_unit(Kind.MASS, system)
    least = from_si(body.weighed.mass - body.weighed.mass_pm if body.weighed else 0.0, Kind.MASS, system)
    most = from_si(sum(part.mass + part.mass_pm for part in off), Kind.MASS, system)
    parts = listed(quoted([part.name for part in off]))
    return (
        f"takes off more than {shown(body.name)} weighs: {parts} may come to {most:.4g} {unit}, while it was "
        f"weighed as {least:.4g} {unit} at least; check these masses and their mass_pm"
    )
