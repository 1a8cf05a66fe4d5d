"""The proof of each step, written out so that a reader can follow it with a pocket calculator."""

from dataclasses import dataclass
from typing import assert_never

from loadplan.limits import GRAVITY
from loadplan.model.answer import Balanced, BodyAnswer, GroupAnswer, Loose, Motion, Tips
from loadplan.model.vehicle import Place
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.words.columns import WIDTH, Align, Column, indented, table
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.units import Kind, System, bare_unit, from_si

HOW = (
    "Of every rigid piece the forces add up to nothing, and so do their moments about the axle line and the centre "
    "line. Where there is no balance, a motion shows it: no stand is pressed, no mount is stretched, no weight rises."
)


@dataclass(frozen=True, slots=True)
class _Force:
    """One force on a rigid piece: its name, its size upward [N], where it acts [m]."""

    name: str
    up: float
    at: Place


def proof_page(assessment: Assessment, units: System) -> str:
    """Write the proofs of a job.

    Args:
        assessment: The job, judged.
        units: The reader's units.

    Returns:
        Lines of at most 100 characters, ending in a line end.
    """
    reader = reader_of(assessment.job, units)
    lines = ["Proof", *indented("  ", HOW, WIDTH)]
    for number, stage in enumerate(assessment.stages, start=1):
        lines += ["", *indented("", f"Step {number}: {reader.words(stage.state.name)}", WIDTH)]
        for group in stage.statics.groups:
            lines += _of_group(stage, group, reader)
    return "\n".join(lines) + "\n"


def _of_group(stage: StageAssessment, group: GroupAnswer, reader: Reader) -> list[str]:
    """Return the proof of a group: loads that balance piece by piece, or the motion in which it goes."""
    match group.proof:
        case Balanced():
            return [
                line
                for body in stage.statics.bodies
                if body.name in group.bodies and body.name == _together(stage, body)[0]
                for line in _balance(stage, body, group.proof, reader)
            ]
        case Tips(motions=motions):
            return _motion(("goes over", "go over"), stage, motions, reader)
        case Loose(motions=motions):
            return _motion(("is free to move", "are free to move"), stage, motions, reader)
        case _:
            assert_never(group.proof)


def _together(stage: StageAssessment, body: BodyAnswer) -> list[str]:
    """Return the bodies of a rigid piece in the job's order."""
    return [each.name for each in stage.statics.bodies if each.name in {body.name, *body.rigid_with}]


def _balance(stage: StageAssessment, first: BodyAnswer, proof: Balanced, reader: Reader) -> list[str]:
    """Return the forces on a rigid piece with their moments, and their sums, which are 0."""
    together = _together(stage, first)
    forces = _forces(stage, set(together), proof)
    unit, length = bare_unit(Kind.FORCE, reader.units), bare_unit(Kind.LENGTH, reader.units)
    sums = [
        sum(each.up for each in forces),
        sum(each.up * each.at[1] for each in forces),
        sum(each.up * each.at[0] for each in forces),
    ]
    texts = [_row(each, reader) for each in forces]
    texts.append(("sum", _force(sums[0], reader), "", "", _moment(sums[1], reader), _moment(sums[2], reader)))
    heads: tuple[str, ...] = ("on " + " and ".join(together), f"up, {unit}", f"front, {length}", f"left, {length}")
    heads += (f"up × left, {unit}·{length}", f"up × front, {unit}·{length}")
    columns = tuple(
        Column(reader.words(head), tuple(each[number] for each in texts), Align.RIGHT if number else Align.LEFT)
        for number, head in enumerate(heads)
    )
    return ["", *("  " + line for line in table(columns, WIDTH - 2))]


def _row(force: _Force, reader: Reader) -> tuple[str, ...]:
    """Return the cells of a force: where it acts, and its moments about both axes."""
    x, y, _ = force.at
    places = _length(x, reader), _length(y, reader)
    return (
        reader.words(force.name),
        _force(force.up, reader),
        *places,
        _moment(force.up * y, reader),
        _moment(force.up * x, reader),
    )


def _forces(stage: StageAssessment, whole: set[str], proof: Balanced) -> list[_Force]:
    """Return what acts on a rigid piece: weights, stands under it, stands on it, mounts."""
    forces = [
        _Force(f"weight of {body.name}", -GRAVITY * body.mass, body.cg)
        for body in stage.statics.bodies
        if body.name in whole
    ]
    loads, pulls = dict(proof.supports), dict(proof.joints)
    for support in stage.state.supports:
        sign = (support.body in whole) - (support.on in whole)
        if support.name in loads and sign:
            forces.append(_Force(support.name, sign * loads[support.name], support.at))
    for joint in stage.state.done_up:
        sign = (joint.between[0] in whole) - (joint.between[1] in whole)
        if joint.name in pulls and sign:
            forces.append(_Force(joint.name, sign * pulls[joint.name], joint.at[0]))
    return forces


def _motion(
    what: tuple[str, str], stage: StageAssessment, motions: tuple[tuple[str, Motion], ...], reader: Reader
) -> list[str]:
    """Return how far each place goes up in a motion, as a share of the motion, and the weight as a whole."""
    moving = dict(motions)
    said = f"{' and '.join(moving)} {what[len(moving) > 1]}. Where each place would go, as a share of the motion:"
    lines = indented("  ", reader.words(said), WIDTH)
    size = max(max(abs(each.w), abs(each.rx), abs(each.ry)) for each in moving.values()) or 1.0
    bodies = [body for body in stage.statics.bodies if body.name in moving]
    weight = sum(body.mass * moving[body.name].up_at(*body.cg[:2]) for body in bodies) / size
    places = [(each.name, each.body, each.on, each.at) for each in stage.state.supports if each.body in moving]
    places += [
        (joint.name, joint.between[0], joint.between[1], joint.at[0])
        for joint in stage.state.done_up
        if joint.at and set(joint.between) <= moving.keys()
    ]
    texts = [(reader.words(name), f"{_rise(moving, body, other, at) / size:+z.6f}") for name, body, other, at in places]
    texts.append(("the weight as a whole", f"{weight / sum(body.mass for body in bodies):+z.6f}"))
    columns = (
        Column("", tuple(name for name, _ in texts), Align.LEFT),
        Column("up", tuple(rise for _, rise in texts), Align.RIGHT),
    )
    return ["", *lines, *("  " + line for line in table(columns, WIDTH - 2))]


def _rise(moving: dict[str, Motion], body: str, other: str, at: Place) -> float:
    """Return how far a place of a body goes up against what it rests on or is tied to."""
    below = moving[other].up_at(*at[:2]) if other in moving else 0.0
    return moving[body].up_at(*at[:2]) - below


def _force(newtons: float, reader: Reader) -> str:
    return f"{from_si(newtons, Kind.FORCE, reader.units):z.3f}"


def _length(metres: float, reader: Reader) -> str:
    return f"{from_si(metres, Kind.LENGTH, reader.units):z.1f}"


def _moment(newton_metres: float, reader: Reader) -> str:
    scale = from_si(1.0, Kind.FORCE, reader.units) * from_si(1.0, Kind.LENGTH, reader.units)
    return f"{newton_metres * scale:z.1f}"
