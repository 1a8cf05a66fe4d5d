"""Whether the names in a job stand for something, and for one thing only."""

from loadplan.files.fault_wording import shown
from loadplan.files.job_file import JobFile
from loadplan.files.job_shape import LiftUseTable, StageTable, SupportTable
from loadplan.files.names import look_up, repeated
from loadplan.files.shape import TableRow


def check_names(file: JobFile) -> None:
    """Note every name that stands for nothing, or for two things.

    Args:
        file: The job as far as it could be read.
    """
    if file.stages.whole and not file.stages.rows:
        file.source.blame("", "stage", "is missing: a job needs at least one [[stage]]")
    _check_bodies(file)
    if file.lift:
        _check_lift(file, file.lift)
    for row in file.supports.rows:
        _check_support(file, row)
    _check_shared_names(file)
    _check_pieces(file)
    for stage in file.stages.rows:
        _check_stage(file, stage)


def _check_bodies(file: JobFile) -> None:
    """Note bodies that are not in the vehicle file, named twice, or without weight."""
    for name in file.head.bodies:
        look_up(file.source, ("", "bodies"), name, file.vehicle.bodies.names, "body")
    for name in repeated(file.head.bodies):
        file.source.blame("", "bodies", f"names {shown(name)} twice")
    if not (file.vehicle.bodies.whole and file.vehicle.parts.whole):
        return
    loaded = {row.table.body for row in file.vehicle.parts.rows}
    for body in file.vehicle.bodies.rows:
        if body.table.name in file.bodies_in_use and body.table.name not in loaded and body.table.weighed is None:
            message = "has no weight: give it at least one [[part]], or weighed = { mass = ..., cg = [x, y, z] }"
            file.vehicle.source.blame(body.label, "", message)


def _check_lift(file: JobFile, lift: LiftUseTable) -> None:
    """Note pads that are unknown, named twice, or more or fewer than the lift has arms."""
    look_up(file.source, ("lift", "use"), lift.use, file.shop.lifts.names, "lift in the shop")
    look_up(file.source, ("lift", "body"), lift.body, file.vehicle.bodies.names, "body")
    for pad in dict.fromkeys(lift.pads):
        look_up(file.source, ("lift", "pads"), pad, file.vehicle.points.names, "point")
        _check_pad(file, lift, pad)
    for pad in repeated(lift.pads):
        file.source.blame("lift", "pads", f"names {shown(pad)} twice: each arm needs its own pad")
    shop = file.shop.lifts.named(lift.use)
    if shop and len(lift.pads) != shop.arms:
        told = f"must name as many points as the lift has arms: {shop.arms}, names {len(lift.pads)}"
        file.source.blame("lift", "pads", told)


def _check_pad(file: JobFile, lift: LiftUseTable, pad: str) -> None:
    point = file.vehicle.points.named(pad)
    if point and point.body != lift.body:
        told = f"must name points of the body {shown(lift.body)}: {shown(pad)} is on {shown(point.body)}"
        file.source.blame("lift", "pads", told)


def _check_support(file: JobFile, row: TableRow[SupportTable]) -> None:
    """Note what a support names that is in neither file, and one that stands on the body it holds."""
    support, label, source = row.table, row.label, file.source
    look_up(source, (label, "use"), support.use, file.shop.equipment.names, "equipment in the shop")
    if support.under is not None:
        look_up(source, (label, "under"), support.under, file.vehicle.points.names, "point")
    if support.body is not None:
        look_up(source, (label, "body"), support.body, file.vehicle.bodies.names, "body")
    equipment = file.shop.equipment.named(support.use)
    if support.tag is not None and equipment:
        look_up(source, (label, "tag"), support.tag, equipment.tags, f"piece of {shown(support.use)} with the tag")
    if support.on is not None:
        look_up(source, (label, "on"), support.on, file.vehicle.bodies.names, "body")
        if support.on == file.body_under(support):
            source.blame(label, "on", "must name another body than the one that it holds")


def _check_shared_names(file: JobFile) -> None:
    """Note supports called as a joint, a pad or the lift: stages could not tell them apart."""
    taken = dict.fromkeys(file.vehicle.joints.names or (), "a joint of the vehicle")
    if file.lift:
        taken |= dict.fromkeys(file.lift.pads, "a pad of the lift")
        for pad in file.lift.pads:
            if pad in (file.vehicle.joints.names or ()):
                file.source.blame(
                    "lift", "pads", f"names {shown(pad)}, as a joint of the vehicle is called too: rename one"
                )
        taken[file.lift.use] = "the lift"
    for row in file.supports.rows:
        if row.table.name in taken:
            told = f"is the name of {taken[row.table.name]} too, {shown(row.table.name)}: give the support its own"
            file.source.blame(row.label, "name", told)


def _check_pieces(file: JobFile) -> None:
    """Note supports that are one piece of equipment but say different things of it."""
    first: dict[str, SupportTable] = {}
    for row in file.supports.rows:
        if row.table.piece is None:
            continue
        other = first.setdefault(row.table.piece, row.table)
        for key in ("use", "tag", "on"):
            if getattr(other, key) != getattr(row.table, key):
                told = (
                    f"must be the same as of support {shown(other.name)}: both are the piece {shown(row.table.piece)}"
                )
                file.source.blame(row.label, key, told)


def _check_stage(file: JobFile, row: TableRow[StageTable]) -> None:
    """Note what a stage names that is in none of the files."""
    stage, label, source = row.table, row.label, file.source
    standing = None if file.supports.names is None else (*file.supports.names, *file.lift_names)
    for key, known, what in (
        ("in_place", standing, "support or lift"),
        ("cleared", standing, "support or lift"),
        ("undone", file.vehicle.joints.names, "joint"),
        ("done_up", file.vehicle.joints.names, "joint"),
        ("off", file.vehicle.parts.names, "part"),
        ("on", file.vehicle.parts.names, "part"),
    ):
        for name in getattr(stage, key):
            look_up(source, (label, key), name, known, what)
    for name, _ in stage.set_:
        look_up(source, (label, "set"), name, file.supports.names, "support")
    pads = tuple(file.lift.pads) if file.lift else ()
    for number, each in enumerate(stage.readings, 1):
        known = None if standing is None else (*standing, *pads)
        look_up(source, (label, f"readings.{number}.support"), each.support, known, "support, lift pad or lift")
    if stage.pull:
        look_up(source, (label, "pull.body"), stage.pull.body, file.vehicle.bodies.names, "body")
    _check_lift_words(file, row)


def _check_lift_words(file: JobFile, row: TableRow[StageTable]) -> None:
    """Note what a stage says of a lift where there is none, or of locks that it lacks."""
    for key in ("lowered", "raised", "lift_locked"):
        if not file.has_lift and getattr(row.table, key) is not None:
            file.source.blame(row.label, key, "is about the lift, but the job has no [lift]")
    lift = file.shop.lifts.named(file.lift.use) if file.lift else None
    if row.table.lift_locked and lift and lift.locks is False:
        file.source.blame(
            row.label, "lift_locked", f"must be left out: {shown(lift.name)} has no locks in the shop file"
        )
