"""Following the stages: whether each can be done on what the stages before it left."""

from dataclasses import dataclass

from loadplan.files.fault_wording import listed, quoted, shown
from loadplan.files.job_file import JobFile
from loadplan.files.job_shape import StageTable
from loadplan.files.shape import TableRow
from loadplan.files.stage_scene import StageScene, scene_of
from loadplan.files.weighed_bodies import check_weights
from loadplan.model.shop import EquipmentKind
from loadplan.model.transition import StageProgress, after_stage, before_first_stage
from loadplan.model.vehicle import Vehicle

Step = tuple[StageProgress, StageProgress]
"""What was so before a stage, and what is so after it."""


@dataclass(frozen=True, slots=True)
class _List:
    """One list of a stage, and what makes a name in it pointless.

    Attributes:
        key: Key of the list.
        opposite: Key of the list that does the contrary.
        done: Words for a name that already is what the stage makes it.
    """

    key: str
    opposite: str
    done: str


_LISTS = (
    _List("in_place", "cleared", "is in place already"),
    _List("cleared", "in_place", "is not in place"),
    _List("undone", "done_up", "is undone already"),
    _List("done_up", "undone", "is done up already"),
    _List("off", "on", "is off already"),
    _List("on", "off", "is on already"),
)


def check_stages(file: JobFile, vehicle: Vehicle) -> tuple[str, ...]:
    """Walk through the stages and note what cannot be done.

    Args:
        file: The job as far as it could be read; not walked where a stage could not be read.
        vehicle: Its vehicle as far as it could be read.

    Returns:
        Sentences about names that were accepted without effect.
    """
    if not file.stages.whole:
        return ()
    scene = scene_of(file, vehicle)
    _check_start(scene)
    lift, in_use = file.lift, file.bodies_in_use
    progress = before_first_stage(vehicle, in_use, lift.use if lift and lift.in_place else None)
    for row in file.stages.rows:
        step = (progress, after_stage(progress, row.table, vehicle, in_use))
        _check_pointless(scene, row, progress)
        _check_order(scene, row, step[1])
        _check_placing(scene, row)
        _check_part_of_joint(scene, row, step[1])
        _check_set(scene, row, step[1])
        _check_readings(scene, row, step[1])
        if file.vehicle.whole:
            _check_gone(scene, row, step)
            check_weights(scene, row, scene.part_names - step[1].on)
        progress = step[1]
    return _left_out_notes(scene)


def _check_start(scene: StageScene) -> None:
    """Note a lift that holds a body which the job leaves out."""
    lift = scene.file.lift
    if lift and lift.in_place and lift.body in scene.left_out:
        scene.file.source.blame("lift", "body", f"names {shown(lift.body)}, which bodies leaves out")


def _check_pointless(scene: StageScene, row: TableRow[StageTable], before: StageProgress) -> None:
    """Note names that already are what the stage makes them."""
    so = {
        "in_place": before.standing,
        "cleared": scene.standing_names - before.standing,
        "undone": before.undone,
        "done_up": scene.joint_names - before.undone,
        "off": scene.part_names - before.on,
        "on": before.on,
    }
    for each in _LISTS:
        for name in dict.fromkeys(getattr(row.table, each.key)):
            if name in so[each.key] and name not in getattr(row.table, each.opposite) and name not in scene.idle_names:
                scene.file.source.blame(row.label, each.key, f"names {shown(name)}, which {each.done}")


def _check_order(scene: StageScene, row: TableRow[StageTable], after: StageProgress) -> None:
    """Note parts that come off before those that have to be off; how they go back on is a check's."""
    for name in row.table.off:
        for other in scene.waits_for(name) & after.on:
            told = f"names {shown(name)}, which comes off only after {shown(other)}"
            scene.file.source.blame(row.label, "off", told)


def _check_placing(scene: StageScene, row: TableRow[StageTable]) -> None:
    """Note supports that are put under, or stood on, a body that is left out."""
    for name in row.table.in_place:
        for body in scene.bodies_of.get(name, ()):
            if body in scene.left_out:
                told = f"names {shown(name)}, which bears on {shown(body)}, but bodies leaves that one out"
                scene.file.source.blame(row.label, "in_place", told)
    if row.table.pull and row.table.pull.body in scene.left_out:
        told = f"names {shown(row.table.pull.body)}, which bodies leaves out"
        scene.file.source.blame(row.label, "pull.body", told)


def _check_part_of_joint(scene: StageScene, row: TableRow[StageTable], after: StageProgress) -> None:
    """Note joints that are done up while the part that they go with is off."""
    for name in row.table.done_up:
        part = scene.part_of.get(name, "")
        if part in scene.part_names - after.on and part not in scene.idle_names:
            told = f"names {shown(name)}, but {shown(part)}, which it goes with, is off"
            scene.file.source.blame(row.label, "done_up", told)


def _check_set(scene: StageScene, row: TableRow[StageTable], after: StageProgress) -> None:
    """Note heights that are set anew at what does not stand there, or has no saddle that is set."""
    tables = {each.name: each for each in scene.file.supports.tables}
    for name, _ in row.table.set_:
        table = tables.get(name)
        if table is None or name in row.table.cleared:
            continue
        equipment = scene.file.shop.equipment.named(table.use)
        if name not in after.standing:
            told = f"names {shown(name)}, which is not in place: put it in place in this stage, or before"
        elif equipment and equipment.kind is EquipmentKind.HOIST:
            told = f"names {shown(name)}, which is a hoist: it has no saddle height"
        elif table.standby:
            told = f"names {shown(name)}, which is a standby: it is brought up to just touch"
        else:
            continue
        scene.file.source.blame(row.label, "set", told)


def _check_readings(scene: StageScene, row: TableRow[StageTable], after: StageProgress) -> None:
    """Note readings of what does not stand there, and of a lift that was lowered where none holds."""
    lift = scene.file.lift
    holding = lift is not None and lift.use in after.standing
    for number, each in enumerate(row.table.readings, 1):
        is_lift = lift is not None and each.support in (lift.use, *lift.pads)
        known = is_lift or each.support in scene.standing_names
        there = holding if is_lift else each.support in after.standing
        if known and not there:
            told = f"names {shown(each.support)}, which is not in place in this stage"
            scene.file.source.blame(row.label, f"readings.{number}.support", told)
        if each.lowered is not None and not holding:
            told = "is about the lift, which does not hold anything in this stage"
            scene.file.source.blame(row.label, f"readings.{number}.lowered", told)


def _check_gone(scene: StageScene, row: TableRow[StageTable], step: Step) -> None:
    """Note what still needs a body of which all parts are off."""
    before, after = step
    for body in sorted(after.gone):
        for name in scene.names_at(body, after.standing):
            if body not in before.gone or name in row.table.in_place:
                key = "in_place" if name in row.table.in_place else "off"
                told = f"leaves {shown(name)} at {shown(body)}, of which all parts are off: clear it in this stage"
                scene.file.source.blame(row.label, key, told)
        for joint in row.table.done_up:
            if body in scene.between.get(joint, ()):
                told = f"names {shown(joint)}, but all parts of {shown(body)} are off"
                scene.file.source.blame(row.label, "done_up", told)
        if row.table.pull and row.table.pull.body == body:
            scene.file.source.blame(row.label, "pull.body", f"names {shown(body)}, of which all parts are off")


def _left_out_notes(scene: StageScene) -> tuple[str, ...]:
    lists = ("undone", "done_up", "off", "on")
    named = [name for stage in scene.file.stages.tables for key in lists for name in getattr(stage, key)]
    idle = [name for name in dict.fromkeys(named) if name in scene.idle_names]
    if not idle:
        return ()
    left_out = listed(quoted(scene.left_out_in_order))
    return (f"Named in a step but without effect, because {left_out} is left out: {listed(quoted(idle))}.",)
