"""What changes share: supports, stages and names of a plan, and words for how something is set."""

from dataclasses import replace
from string import ascii_uppercase

import pytest

from loadplan.model.job import Stack, Stage
from loadplan.model.vehicle import Joint, JointKind
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from loadplan.planning.mending.fitted_setting import FittedSetting
from loadplan.planning.mending.mending_answer import LeftOver, Mending
from loadplan.planning.mending.plan_change import (
    ChangeKind,
    PlanChange,
    free_letter,
    kind_words,
    place_words,
    set_words,
    shim_words,
    support_of,
    taken_names,
    with_stage,
    with_support,
)
from tests.checks.builders import words
from tests.planning.mending.plans import plan, stand
from tests.statics.builders import lift_use

JOB = plan()
BOLTS = Joint("bolts", JointKind.BOLTED, ("unit", "shell"), ((0.0, 0.0, 0.5),), 0.0)


def test_one_support_and_one_stage_are_as_they_are_now() -> None:
    higher = replace(JOB.supports[1], height=0.35)
    assert support_of(JOB, "B") is JOB.supports[1]
    assert with_support(JOB, higher).supports == (JOB.supports[0], higher, *JOB.supports[2:])
    stage = Stage("anew")
    assert with_stage(JOB, 1, stage).stages == (JOB.stages[0], stage, JOB.stages[2])
    assert with_stage(JOB, 2, stage).stages == (*JOB.stages[:2], stage)


def test_a_name_is_taken_by_a_stand_a_pad_a_joint_or_a_point() -> None:
    arms = tuple(replace(each, name="E") for each in lift_use([(0.6, 0.4)]).arms)
    use = replace(lift_use([(0.6, 0.4)]), arms=arms)
    points = (replace(JOB.vehicle.points[0], name="G"),)
    job = replace(JOB, lift=use, vehicle=replace(JOB.vehicle, joints=(replace(BOLTS, name="F"),), points=points))
    assert taken_names(job) == set("ABCDEFG")
    assert free_letter(job) == "H"
    assert free_letter(JOB) == "E"
    assert free_letter(replace(JOB, supports=JOB.supports[1:])) == "A"


def test_after_the_last_letter_they_are_numbered() -> None:
    every = tuple(replace(JOB.supports[0], name=each) for each in ascii_uppercase)
    assert free_letter(replace(JOB, supports=every)) == "A2"
    twice = tuple(replace(JOB.supports[0], name=f"{each}2") for each in ascii_uppercase[:2])
    assert free_letter(replace(JOB, supports=(*every, *twice))) == "C2"
    second = tuple(replace(JOB.supports[0], name=f"{each}2") for each in ascii_uppercase)
    assert free_letter(replace(JOB, supports=(*every, *second))) == "A3"


@pytest.mark.parametrize(
    ("setting", "says"),
    [
        (None, "brought up to just touch"),
        (FittedSetting(0.33, None), "set to 0.33 m with no shim"),
        (FittedSetting(0.33, Stack(0.012, "steel", crib=False)), "set to 0.33 m with a shim of 0.012 m steel"),
        (FittedSetting(0.33, Stack(0.012, "", crib=False)), "set to 0.33 m with a shim of 0.012 m"),
    ],
)
def test_how_a_saddle_is_set_is_told_with_what_lies_on_it(setting: FittedSetting | None, says: str) -> None:
    assert words(set_words(setting)) == says
    if setting is not None:
        assert says.endswith(words(shim_words(setting.shim)))


def test_a_place_is_told_from_both_lines_and_a_kind_by_its_tag() -> None:
    assert words(place_words((0.0, 0.0, 0.2))) == "0 m behind the axle line and 0 m right of the centre line"
    assert words(place_words((0.1, 0.2, 0.2))) == "0.1 m in front of the axle line and 0.2 m left of the centre line"
    assert kind_words(stand("A", "front left")) == "ratchet stand S1"
    assert kind_words(replace(stand("A", "front left"), tag="")) == "ratchet stand"


def test_a_change_is_at_a_point_where_nothing_else_is_said_and_kinds_have_their_words() -> None:
    assert PlanChange(ChangeKind.ADD, "A", lambda _: None).at_cell is False
    assert [each.value for each in ChangeKind] == ["height", "equipment", "place", "add", "clear", "raise"]


def mending(verdict: Verdict, *left: CheckName, before: Verdict = Verdict.CAUTION, changes: int = 0) -> Mending:
    found = tuple(LeftOver("step", Finding(each, verdict, "unit", None, None, Measure.LENGTH, ())) for each in left)
    done = tuple(("change",) for _ in range(changes))
    return Mending(JOB, done, 0, before, verdict, True, 0.1, found, 5, False)  # type: ignore[arg-type]  # noqa: FBT003


@pytest.mark.parametrize(
    ("found", "in_part", "nothing"),
    [
        (mending(Verdict.CAUTION, CheckName.MARGIN, changes=1), True, False),
        (mending(Verdict.CAUTION, CheckName.READING, changes=1), False, False),
        (mending(Verdict.CAUTION, CheckName.READING, CheckName.MARGIN, changes=1), True, False),
        (mending(Verdict.STOP, CheckName.MARGIN, changes=1), False, False),
        (mending(Verdict.NOTE, changes=1), False, False),
        (mending(Verdict.CAUTION, CheckName.MARGIN), False, False),
        (mending(Verdict.CAUTION, CheckName.READING), False, True),
        (mending(Verdict.NOTE), False, True),
        (mending(Verdict.NOTE, before=Verdict.STOP), False, False),
    ],
)
def test_it_is_mended_in_part_where_stands_could_take_away_what_is_left(
    found: Mending, *, in_part: bool, nothing: bool
) -> None:
    assert (found.in_part, found.nothing_to_mend, found.ran_out, found.short) == (in_part, nothing, False, 0)
