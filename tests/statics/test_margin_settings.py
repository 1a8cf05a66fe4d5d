"""What a group is solved with where only its margins are wanted."""

from dataclasses import replace

from loadplan.model.job import Job, Stage
from loadplan.statics.margin_settings import margin_settings
from tests.statics import builders as make

PARTS = [make.part(), make.part((0.1, 0.0), 10.0, name="cover"), make.part((0.0, 0.1), 5.0, name="pump")]


def came_off(job: Job) -> tuple[str, ...]:
    frame, state = make.frame(job), make.state(job)
    gaps = {each.name: 0.0 for each in frame.supports}
    return tuple(part.name for part in margin_settings(job, state, frame, gaps, {}).came_off)


def test_what_a_stage_takes_off_has_come_off_and_nothing_that_is_still_on() -> None:
    stands = make.stands(make.SQUARE)
    stage = Stage("cover off", in_place=tuple("ABCD"), off=("cover",))
    assert came_off(make.job(PARTS, stands, stages=[stage])) == ("cover",)
    before = Stage("set down", in_place=tuple("ABCD"))
    assert came_off(make.job(PARTS, stands, stages=[before, replace(stage, in_place=(), off=("pump",))])) == ("pump",)
    assert came_off(make.job(PARTS, stands, stages=[stage, Stage("later")])) == ()
