"""What is at fault in a step: one judge for plan, elevations, the view in space and the live plan."""

from dataclasses import replace

import pytest
from matplotlib.patches import Circle as Round

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.shop import Circle, Square
from loadplan.model.verdict import Finding, StageAssessment, Verdict
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.view import Box, view_of
from loadplan.report.pictures.at_fault import NOBODY, Faults, faults_of
from loadplan.report.pictures.picture_key import KEY, SPACE_KEY, key_of
from loadplan.report.pictures.plan_content import unit_scene
from loadplan.report.pictures.plan_shapes import RING, draw_floor
from loadplan.report.pictures.tipping_edge import RigidShown, rigid_wholes
from tests.report.builders import finding
from tests.report.painted import painted

JOB = assess(read_job(shipped_folder("demo") / "front-unit.toml"))
PARTED = JOB.stages[3]
"""Shell, cradle and powertrain stand each for itself."""


def judged(stage: StageAssessment, *findings: Finding) -> tuple[Faults, list[RigidShown]]:
    wholes = rigid_wholes(stage, JOB.job.lift.body if JOB.job.lift else "")
    return faults_of(replace(stage, findings=findings), wholes), wholes


def said(check: str, subject: str, verdict: Verdict = Verdict.CAUTION) -> Finding:
    return finding(check, verdict, subject, ("Look.",))


def past(whole: RigidShown) -> RigidShown:
    """The same, past its nearest edge in the worst case."""
    first, *others = whole.edges
    return replace(whole, edges=(replace(first, worst=-0.01), *others))


@pytest.mark.parametrize("called", ["name", "tag"])
def test_a_stand_is_blamed_by_whatever_name_it_was_called(called: str) -> None:
    stage = next(each for each in JOB.stages if any(support.tag for support in each.state.supports))
    stand = next(each for each in stage.state.supports if each.tag)
    faults, _ = judged(stage, said("rating", getattr(stand, called)))
    assert faults.stands == ((stand.name, Verdict.CAUTION),)
    assert faults.wholes == ()


def test_the_worst_that_is_said_of_a_stand_counts_and_a_note_does_not() -> None:
    stage = next(each for each in JOB.stages if len(each.state.supports) > 1)
    one, other = (each.name for each in stage.state.supports[:2])
    told = (said("rating", one, Verdict.STOP), said("height", one), said("height", other, Verdict.NOTE))
    faults, _ = judged(stage, *told)
    assert faults.stands == ((one, Verdict.STOP),)


def test_a_stand_is_not_blamed_for_what_would_happen_without_it() -> None:
    stage = next(each for each in JOB.stages if each.state.supports)
    faults, _ = judged(stage, said("lost support", stage.state.supports[0].name))
    assert faults.worst is Verdict.HOLDS


def test_of_several_assemblies_the_one_that_goes_first_is_blamed() -> None:
    _, wholes = judged(PARTED)
    every = ", ".join(body.name for whole in wholes for body in whole.bodies)
    faults, _ = judged(PARTED, said("balance", every, Verdict.STOP))
    assert len(faults.wholes) == 1


def test_each_that_goes_over_is_blamed_not_only_the_first() -> None:
    stage = replace(PARTED, findings=(said("balance", ", ".join(PARTED.state.bodies), Verdict.STOP),))
    wholes = [past(each) if each.nearest else each for each in judged(PARTED)[1]]
    over = {each.name for each in wholes if each.nearest}
    assert len(over) > 1
    assert {name for name, _ in faults_of(stage, wholes).wholes} == over


@pytest.mark.parametrize("check", ["push", "pull", "margin", "sway"])
def test_what_is_said_of_one_assembly_is_drawn_on_its_edge(check: str) -> None:
    _, wholes = judged(PARTED)
    last = wholes[-1]
    faults, _ = judged(PARTED, said(check, last.bodies[0].name))
    assert [name for name, _ in faults.wholes] == [last.name]
    assert (faults.on_pull is not None) == (check == "pull")


def test_words_keep_off_the_ring_round_a_stand_at_fault() -> None:
    oil = assess(read_job(shipped_folder("demo") / "drive-unit-on-oil.toml"))
    scene = unit_scene(oil, oil.stages[0])
    (blamed,) = dict(scene.faults.stands)
    number = [support.name for support, _ in scene.supports].index(blamed)
    pen = Pen(Paper((600.0, 400.0)), Layer.PAGE, None)
    view = view_of(Box(0.0, 0.0, 600.0, 400.0), scene.extent, rim=30)
    ringed, bare = (draw_floor(pen, view, each).taken[number] for each in (scene, replace(scene, faults=NOBODY)))
    assert ringed.width >= bare.width + 2 * RING
    assert ringed.height >= bare.height + 2 * RING


@pytest.mark.parametrize(("verdict", "sign"), [(Verdict.CAUTION, "cautioned"), (Verdict.STOP, "stopped")])
def test_the_key_tells_the_colour_in_the_colour_that_is_drawn(verdict: Verdict, sign: str) -> None:
    stand = next(each for each in PARTED.state.supports)
    faults, _ = judged(PARTED, said("rating", stand.name, verdict))
    scene = unit_scene(JOB, PARTED)
    for signs in (KEY, SPACE_KEY):
        told = {each for each, _ in key_of(signs, replace(scene, faults=faults))}
        assert told & {"cautioned", "stopped"} == {sign}
        assert not {each for each, _ in key_of(signs, replace(scene, faults=NOBODY))} & {"cautioned", "stopped"}


def test_a_round_ring_goes_round_the_corners_of_a_square_saddle() -> None:
    """A jack whose round base is no wider than its saddle: the ring would run through the saddle's corners."""
    stand = next(each for each in PARTED.state.supports if not each.is_arm)
    jack = replace(stand, equipment=replace(stand.equipment, base=Circle(0.1), saddle=Square(0.1, 0.1)))
    faults, _ = judged(PARTED, said("rating", stand.name))
    scene = replace(unit_scene(JOB, PARTED), supports=((jack, None),), faults=faults)
    frame = Box(0.0, 0.0, 400.0, 400.0)
    view = view_of(frame, [(jack.at[0] + side, jack.at[1] + side) for side in (-0.2, 0.2)], rim=20)
    ax = painted((400.0, 400.0), lambda paper: draw_floor(Pen(paper, Layer.PAGE, frame), view, scene))
    ring = max((each for each in ax.patches if isinstance(each, Round)), key=lambda each: each.get_radius())
    corner = 0.05 * view.scale * 2**0.5
    assert ring.get_radius() >= corner + RING / 2


def test_readings_that_do_not_go_together_blame_each_of_their_stands() -> None:
    stage = next(each for each in JOB.stages if len(each.state.supports) > 2)
    one, other, third = (each.name for each in stage.state.supports[:3])
    faults, _ = judged(stage, said("reading", f"{one}, {other}", Verdict.STOP), said("reading", third, Verdict.NOTE))
    assert faults.stands == ((one, Verdict.STOP), (other, Verdict.STOP))
    of_another_check, _ = judged(stage, said("count", f"{one}, {other}", Verdict.STOP))
    assert of_another_check.stands == ()
