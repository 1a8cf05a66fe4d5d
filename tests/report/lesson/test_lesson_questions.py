"""A lesson's numbers are those of the job, or of the job changed in one thing and judged again."""

from dataclasses import replace
from importlib import import_module
from math import degrees, radians
from pkgutil import iter_modules

import pytest

from loadplan.assess import assess
from loadplan.limits import GRAVITY
from loadplan.model.job import Support
from loadplan.model.verdict import Verdict
from loadplan.planning.lesson.lesson_unit import carried, first_unit, stands_of, the_unit
from loadplan.planning.whatif import laid_on, without
from loadplan.report.drawing.label_placement import Ground
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.text_boxes import Tag
from loadplan.report.drawing.view import Box
from loadplan.report.lesson import lesson_pictures, questions
from loadplan.report.lesson.lesson_pictures import PlanPicture, Spot, draw_picture, drawn_scene
from loadplan.report.lesson.lesson_question import NO_UNIT, LessonJob, LessonQuestion
from loadplan.report.lesson.questions import QUESTIONS
from loadplan.report.lesson.questions.bar_pull import BarPull, SidewaysPull
from loadplan.report.lesson.questions.cg_shift import CgShift
from loadplan.report.lesson.questions.corner_load import FULL, CornerLoad
from loadplan.report.lesson.questions.forgotten_hose import ForgottenHose
from loadplan.report.lesson.questions.four_point_support import FourPointSupport
from loadplan.report.lesson.questions.load_distribution import LoadDistribution
from loadplan.report.lesson.questions.missing_stand import MissingStand, StandAway
from loadplan.report.lesson.questions.single_assembly_support import SingleAssemblySupport, ask_single_assembly_support
from loadplan.report.lesson.questions.tail_heavy import TailHeavy
from loadplan.report.lesson.tilt_picture import TiltPicture
from loadplan.report.pictures.plan_content import unit_scene
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System
from tests.demo.jobs import with_stands_under_the_subframe_only
from tests.report.lessons import lesson, question

FRONT = "front-unit"


@pytest.mark.slow
def test_the_demo_asks_everything() -> None:
    assert [type(each) for each in lesson(FRONT).answers] == [
        LoadDistribution,
        MissingStand,
        SingleAssemblySupport,
        CornerLoad,
        FourPointSupport,
        CgShift,
        BarPull,
        TailHeavy,
        ForgottenHose,
    ]
    assert lesson(FRONT).left_out == ()


def test_every_file_of_the_questions_offers_one_that_is_asked_once() -> None:
    files = [module.name for module in iter_modules(questions.__path__)]
    offered = [import_module(f"{questions.__name__}.{name}").QUESTION for name in files]
    assert len(files) == 9
    assert all(isinstance(each, LessonQuestion) for each in offered)
    assert sorted(map(id, QUESTIONS)) == sorted(map(id, offered))


def test_who_carries_most_reads_the_job_itself() -> None:
    asked = question(FRONT, LoadDistribution)
    told = {each.name: each.load.expected for each in lesson(FRONT).assessment.stages[1].statics.supports if each.load}
    assert asked.loads[0] == ("A", told["A"])
    assert [load for _, load in asked.loads] == sorted((told[name] for name in "ABCDEF"), reverse=True)
    assert sum(load for _, load in asked.loads) == pytest.approx(asked.weight, abs=1e-6)


def test_without_a_stand_the_job_judged_again_says_what_lost_support_says() -> None:
    asked = question(FRONT, MissingStand)
    for each in asked.away:
        assert the_unit_stands(each) is each.stands
    assert [each.stand.name for each in asked.away if each.stands] == ["C", "D", "E", "F"]
    assert asked.subject.stand.name == "A"


def the_unit_stands(asked: StandAway) -> bool:
    groups = asked.after.stage.statics.groups
    bodies = the_unit(asked.before).bodies
    return all(group.balanced for group in groups if set(group.bodies) & set(bodies))


def test_a_change_leaves_every_other_step_as_it_was() -> None:
    before = question(FRONT, MissingStand).subject.before
    stages = without(before, ("E",)).assessment.stages
    kept = [*stages[: before.index + 1], *stages[before.index + 2 :]]
    for changed, same in zip((*kept[:2], *kept[3:]), before.assessment.stages, strict=True):
        loads = [each.load.expected if each.load else None for each in same.statics.supports]
        again = [each.load.expected if each.load else None for each in changed.statics.supports]
        assert again == pytest.approx(loads)


def test_what_goes_over_inside_tolerance_is_not_said_to_stand() -> None:
    """Without C or D the rear unit stands with the weights as given, and not with all that the tolerances allow."""
    asked = question("us-units", MissingStand)
    assert [(each.stand.name, each.stop) for each in asked.away if each.stands] == [("C", True), ("D", True)]
    told = asked.told(reader_of(asked.subject.after.assessment.job, System.US))
    assert told.take_along == ("Never without A, B, C or D.",)
    doubtful = told.film[2:]
    assert [each.shot.stage.verdict for each in doubtful] == [Verdict.STOP] * 2
    assert all(each.strong == "Do not count on it." for each in doubtful)
    assert all("In the worst case it goes over." in " ".join(each.answer) for each in doubtful)
    assert not [line for line in told.answer if "stands on paper" in line]


def test_stands_under_one_assembly_that_are_a_stop_are_not_said_to_stand() -> None:
    """The demo's answer with its step taken to stand: the step itself is a stop."""
    asked = replace(question(FRONT, SingleAssemblySupport), stands=True)
    assert asked.after.stage.verdict is Verdict.STOP
    told = asked.told(reader_of(asked.after.assessment.job, System.METRIC))
    assert told.strong == "Do not count on it."
    assert "stop" in told.answer[0] or "goes over" in told.answer[0]


def test_stands_under_the_cradle_only_let_the_powertrain_rock() -> None:
    asked = question(FRONT, SingleAssemblySupport)
    assert (asked.carrier, asked.kept, asked.away) == (("cradle",), ("A", "B", "C", "D"), ("E", "F"))
    assert not asked.stands


def test_a_job_planned_like_that_is_asked_about_itself() -> None:
    asked = ask_single_assembly_support(LessonJob(assess(with_stands_under_the_subframe_only()), unit=None))
    assert isinstance(asked, SingleAssemblySupport)
    assert asked.before == asked.after
    assert not asked.stands


def test_inside_and_a_stand_carries_nothing_and_with_a_little_less_it_carries() -> None:
    asked = question(FRONT, CornerLoad)
    assert carried(asked.after, asked.idle.name) == pytest.approx(0.0, abs=1e-6)
    assert asked.after.group_of(asked.over.body).balanced
    assert asked.answer.margin is not None
    assert asked.answer.margin > 0.1
    assert asked.answer.worst_margin is not None
    reader = reader_of(asked.after.assessment.job, System.METRIC)
    told = asked.told(reader)
    assert f"And yet {reader.length(asked.answer.worst_margin)} to tipping, worst case." in told.answer
    less = laid_on(asked.before, asked.over, asked.mass - FULL)
    assert less is not None
    assert carried(less, asked.idle.name) > 0


def test_the_load_laid_on_is_what_all_stands_carry_more() -> None:
    asked = question(FRONT, CornerLoad)
    names = [each.name for each in stands_of(asked.before, the_unit(asked.before).bodies)]
    more = sum(carried(asked.after, name) - carried(asked.before, name) for name in names)
    assert more == pytest.approx(asked.mass * GRAVITY, rel=1e-9)


def test_nothing_is_laid_on_what_was_weighed_whole() -> None:
    """What the scales found would change with the load, and so would every step before."""
    shot = first_unit(lesson("weighed-unit").assessment, balanced=True)
    assert shot is not None
    unit = the_unit(shot)
    first: Support = stands_of(shot, unit.bodies)[0]
    assert laid_on(shot, first, 50.0) is None


def test_parts_off_reads_two_steps_of_the_job() -> None:
    asked = question(FRONT, CgShift)
    bodies = [{each.name: each for each in stage.statics.bodies} for stage in lesson(FRONT).assessment.stages]
    assert (asked.before.index, asked.after.index) == (2, 3)
    assert asked.was == bodies[2]["powertrain"]
    assert asked.now == bodies[3]["powertrain"]
    assert "gearbox with oil" in asked.parts


def test_the_pull_is_the_one_that_the_job_names_else_the_hardest_push() -> None:
    stages = lesson(FRONT).assessment.stages
    assert question(FRONT, BarPull).answer == next(each.statics.pull for each in stages if each.statics.pull)
    pushed = question("battery-pack-stands", SidewaysPull)
    assert pushed.answer == the_unit(pushed.shot).pushes[0]


def test_the_vehicle_turns_heavy_by_the_lever_of_what_left_it() -> None:
    """Moments about the axle line: what hangs on the lift before less the unit is what hangs on it after."""
    asked = question(FRONT, TailHeavy)
    before, after = asked.before.stage.statics.lift, asked.after.stage.statics.lift
    assert before is not None
    assert after is not None
    unit = [each for each in asked.after.stage.statics.bodies if each.name != "shell"]
    moment = before.mass * before.cg[0] - sum(each.mass * each.cg[0] for each in unit)
    assert moment == pytest.approx(after.mass * after.cg[0], abs=1e-6)
    assert asked.moved == pytest.approx(after.cg[0] - before.cg[0])
    assert sum((asked.front[0], asked.rear[0])) == pytest.approx(before.mass * GRAVITY)
    assert asked.props == ("tail stand",)


def test_the_hose_is_the_least_pull_that_check_finds() -> None:
    asked = question(FRONT, ForgottenHose)
    found = [each.value for each in asked.shot.stage.findings if each.check == "snag" and each.value]
    assert asked.pull == min(found)


def test_the_hose_shows_the_unit_tilted_the_way_that_its_pull_takes_it() -> None:
    asked = question(FRONT, ForgottenHose)
    rise = dict(asked.over.motions)[asked.snag.body].up_at(*asked.at[:2])
    assert asked.over.work / rise == pytest.approx(asked.pull)
    told = asked.told(reader_of(asked.shot.assessment.job, System.METRIC))
    assert isinstance(told.then, TiltPicture)
    assert told.then.mode.motions == asked.over.motions
    assert asked.over.tip_angle is not None
    assert any(f"{degrees(asked.over.tip_angle):.0f} degrees" in each for each in told.answer)


def test_no_picture_of_a_hose_is_tilted_so_far_that_nobody_sees_what_stands_where() -> None:
    asked = question(FRONT, ForgottenHose)
    assert asked.over.tip_angle is not None
    assert degrees(asked.over.tip_angle) > 45
    for tip, drawn in ((asked.over.tip_angle, 45), (radians(30), 30)):
        told = replace(asked, over=replace(asked.over, tip_angle=tip)).told(
            reader_of(asked.shot.assessment.job, System.METRIC)
        )
        assert isinstance(told.then, TiltPicture)
        assert degrees(told.then.mode.tip_angle or 0.0) == pytest.approx(drawn)
        assert any(f"{degrees(tip):.0f} degrees" in each and "drawn" in each for each in told.answer)


def test_what_lies_over_a_stand_does_not_move_its_letter_to_the_next_stand(monkeypatch: pytest.MonkeyPatch) -> None:
    """The letter belongs beside the stand itself: a disc on it covers no more than its saddle."""
    asked = question(FRONT, CornerLoad)
    reader = reader_of(asked.after.assessment.job, System.METRIC)
    picture = asked.told(reader).then
    assert isinstance(picture, PlanPicture)
    heard: list[dict[str, Box]] = []

    def hear(_pen: Pen, tags: list[Tag], _ground: Ground) -> tuple[Box, ...]:
        heard.append({each.rows[0][0][0]: each.anchor for each in tags})
        return ()

    monkeypatch.setattr(lesson_pictures, "draw_tags", hear)
    pen = Pen(Paper((270.0, 200.0)), Layer.PAGE, None)
    lying = tuple(each for each in picture.marks if isinstance(each, Spot))
    assert lying
    for marks in (lying, ()):
        draw_picture(pen, Box(0.0, 0.0, 270.0, 200.0), replace(picture, marks=marks), reader)
    covered, bare = heard
    assert covered[asked.over.name] == bare[asked.over.name]


def test_stands_that_carry_alike_carry_most_together() -> None:
    """118 kg at both front corners of a pack: one of them alone is no answer."""
    asked = question("battery-pack-stands", LoadDistribution)
    told = asked.told(reader_of(asked.shot.assessment.job, System.METRIC))
    assert told.strong == "A and B: 118 kg each"
    assert told.answer[0] == "Then C\u00a0109 kg, D\u00a0109 kg."
    level = replace(asked, loads=tuple((name, 1000.0) for name, _ in asked.loads))
    alike = level.told(reader_of(asked.shot.assessment.job, System.METRIC))
    assert alike.strong.startswith("A, B, C and D: ")
    assert not any(line.startswith("Then") for line in alike.answer)


def test_a_table_has_places_and_no_stands() -> None:
    asked = question("battery-pack-table", LoadDistribution)
    reader = reader_of(asked.shot.assessment.job, System.METRIC)
    assert asked.told(reader).ask[0].startswith("4 places hold the battery pack")
    legs = question("battery-pack-table", FourPointSupport).told(reader)
    assert legs.ask[0].startswith("4 places under the battery pack")
    assert question(FRONT, LoadDistribution).told(reader).ask[0].startswith("6 stands hold")


def test_beside_a_unit_that_a_hose_tips_it_says_whose_the_verdict_is() -> None:
    """The picture shows it on its way over, and the band may say that the step holds."""
    asked = question(FRONT, ForgottenHose)
    told = asked.told(reader_of(asked.shot.assessment.job, System.METRIC))
    assert "The verdict is that of the step without it." in told.answer


def test_a_stand_with_a_ring_of_the_question_has_none_of_its_finding() -> None:
    asked = question("drive-unit-on-oil", CornerLoad)
    picture = asked.told(reader_of(asked.after.assessment.job, System.METRIC)).then
    assert isinstance(picture, PlanPicture)
    assert asked.idle.name in dict(unit_scene(picture.shot.assessment, picture.shot.stage).faults.stands)
    assert asked.idle.name not in dict(drawn_scene(picture).faults.stands)


@pytest.mark.parametrize(
    ("name", "topics"),
    [
        ("us-units", {"The vehicle turns tail-heavy", "A forgotten hose", "Stands under one assembly only"}),
        ("drive-unit-on-oil", {"A part comes off"}),
        ("battery-pack-table", {"A stand taken away", "Stands under one assembly only"}),
    ],
)
def test_what_a_job_has_nothing_for_is_left_out_and_said(name: str, topics: set[str]) -> None:
    assert topics <= {each.topic for each in lesson(name).left_out}
    assert all(each.why for each in lesson(name).left_out)
    assert len(lesson(name).answers) + len(lesson(name).left_out) == 9


def test_a_job_in_which_nothing_stands_says_so() -> None:
    assert [each.why for each in lesson("rocking-on-two-stands").left_out].count(NO_UNIT) == 7
    assert not any(isinstance(each, MissingStand) for each in lesson("rocking-on-two-stands").answers)
