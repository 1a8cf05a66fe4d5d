"""A load laid on lies on top of the assembly over its stand."""

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.planning.lesson.lesson_unit import first_unit, stands_of, the_unit
from loadplan.planning.whatif import laid_on


def test_a_load_lies_on_top_of_its_own_assembly() -> None:
    body = "cradle"
    shot = first_unit(assess(read_job(shipped_folder("demo") / "front-unit.toml")), balanced=True)
    assert shot is not None
    over = stands_of(shot, (body,))[0]
    assert body in the_unit(shot).bodies
    loaded = laid_on(shot, over, 1.0)
    assert loaded is not None
    vehicle = loaded.assessment.job.vehicle
    (top,) = (each.top for each in vehicle.bodies if each.name == body)
    assert top is not None
    assert vehicle.parts[-1].at == (*over.at[:2], top)
    assert vehicle.parts[-1].body == body
