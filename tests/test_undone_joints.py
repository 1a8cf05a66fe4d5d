"""Which joints count as undone: those between bodies that are there, and those that lead to a body left out."""

from loadplan.model.job import Stage
from loadplan.stages import states, undone_joints
from tests.statics import builders as make


def undone(*stages: Stage, bodies: tuple[str, ...]) -> list[str]:
    """Names at the last stage, of a vehicle of four bodies with a joint between any two of them that follow."""
    names = ("unit", "cradle", "shell", "pack")
    parts = [make.part(name=f"{name} lump", body=name) for name in names]
    ties = (("cradle", "shell"), ("unit", "cradle"), ("shell", "pack"), ("unit", "pack"))
    joints = [make.bolts(" to ".join(tie), tie) for tie in ties]
    job = make.job(parts, joints=joints, stages=stages, bodies=bodies)
    return [joint.name for joint in undone_joints(job, states(job)[-1])]


def test_what_is_tight_is_not_among_them() -> None:
    assert undone(Stage("whole"), bodies=("unit", "cradle", "shell", "pack")) == []
    assert undone(Stage("one", undone=("unit to cradle",)), bodies=("unit", "cradle", "shell", "pack")) == [
        "unit to cradle"
    ]


def test_those_to_a_body_left_out_are_in_the_files_order() -> None:
    told = undone(Stage("one", undone=("unit to cradle",)), bodies=("unit", "cradle", "shell"))
    assert told == ["unit to cradle", "shell to pack", "unit to pack"]


def test_those_between_two_bodies_left_out_are_not() -> None:
    assert undone(Stage("whole"), bodies=("unit", "cradle")) == ["cradle to shell", "unit to pack"]


def test_those_to_a_body_that_has_come_apart_are_not() -> None:
    apart = Stage("apart", off=("pack lump",))
    assert undone(apart, bodies=("unit", "cradle", "shell", "pack")) == []
