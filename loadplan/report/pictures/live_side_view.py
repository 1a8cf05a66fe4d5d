"""One step on the page from the left, from the front, or in space as it is turned: the drawing alone, in its box."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import degrees

from loadplan.checks.phrases import names
from loadplan.model.answer import Mode
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.axonometric_projection import Projection
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.pictures.axonometric_scene import SpaceScene, unit_space, vehicle_space
from loadplan.report.pictures.axonometric_sight import Seen
from loadplan.report.pictures.axonometric_tilt import tilted
from loadplan.report.pictures.axonometric_view import ELEVATION, draw_scene_in_space, fitted
from loadplan.report.pictures.elevation import ENDS, draw_unit_upright, draw_vehicle_upright
from loadplan.report.pictures.elevation_levels import levels_of, undrawn
from loadplan.report.pictures.elevation_shapes import Sight, ViewSide
from loadplan.report.pictures.plan_content import unit_scene, vehicle_scene
from loadplan.report.pictures.tipping_edge import RigidShown
from loadplan.report.words.vocabulary import Reader


@dataclass(frozen=True, slots=True)
class Turned:
    """The picture that turns.

    Attributes:
        azimuth: From where it is seen [rad].
        tilt: How far what goes over first is tilted about its edge [rad].
    """

    azimuth: float
    tilt: float = 0.0


@dataclass(frozen=True, slots=True)
class SideView:
    """A step, and how it is looked at.

    Attributes:
        assessment: The job, judged.
        stage: The step.
        looked: From which side, or turned.
        around: Whether the vehicle with its lift is shown, not the unit alone.
    """

    assessment: Assessment
    stage: StageAssessment
    looked: ViewSide | Turned
    around: bool


def first_to_go(assessment: Assessment, stage: StageAssessment) -> Mode | None:
    """Find the way in which a step goes over first.

    Args:
        assessment: The job, judged.
        stage: The step.

    Returns:
        The way, None where nothing can go over, or what rocks has no edge to go over.
    """
    scenes = (unit_scene(assessment, stage), vehicle_scene(assessment, stage))
    wholes: list[RigidShown] = [whole for scene in scenes if scene for whole in scene.wholes]
    edge = next((each.nearest for each in wholes if each.name == scenes[0].critical), None)
    if edge is None:
        return None
    modes = (mode for group in stage.statics.groups for mode in group.modes)
    return next((mode for mode in modes if (mode.bodies, mode.about) == (edge.bodies, edge.about)), None)


def draw_side_view(paper: Paper, view: SideView, reader: Reader) -> None:
    """Draw a step so that it fills the page.

    Args:
        paper: The page.
        view: The step, and how it is looked at.
        reader: Who reads it.
    """
    page = paper.page
    pen = Pen(paper, Layer.PAGE, None)
    match view.looked:
        case ViewSide():
            draw: Callable[..., None] = draw_vehicle_upright if view.around else draw_unit_upright
            draw(pen, page, _sight(view, view.looked), reader)
        case Turned():
            scene = _space(view)
            projection = Projection(view.looked.azimuth, ELEVATION)
            # Fitted as it stands, so that the picture keeps its place while it tilts.
            seen = Seen(fitted(page, scene.places, projection), projection)
            mode = first_to_go(view.assessment, view.stage) if view.looked.tilt else None
            shown = tilted(scene, replace(mode, tip_angle=view.looked.tilt)) if mode else scene
            draw_scene_in_space(pen, seen, shown, reader)


def side_view_words(view: SideView) -> list[str]:
    """Say what a view shows and leaves out.

    Args:
        view: The step, and how it is looked at.

    Returns:
        Sentences, in the words of the code.
    """
    match view.looked:
        case ViewSide():
            sight = _sight(view, view.looked)
            left, right = ENDS[view.looked]
            side = "left" if view.looked is ViewSide.SIDE else "front"
            seen = f"Seen from the {side}: {left} of the vehicle on the left, {right} on the right."
            content, told = sight.scene, sight.levels.told
        case Turned(azimuth, tilt):
            scene = _space(view)
            seen = f"Seen from {degrees(azimuth) % 360:.0f} degrees to the left of straight ahead."
            if tilt:
                seen = f"Tilted by {degrees(tilt):.0f} degrees about the line that it goes over first."
            content, told = scene.content, scene.levels.told
    around = [body.name for body in content.around]
    left_out = [f"Left out: {names(around)}."] if around and not view.around else []
    return [seen, *left_out, *told, *undrawn((*content.bodies, *content.around))]


def _sight(view: SideView, side: ViewSide) -> Sight:
    unit = unit_scene(view.assessment, view.stage)
    scene = vehicle_scene(view.assessment, view.stage) if view.around else None
    return Sight(side, scene or unit, levels_of(view.assessment.job, view.stage), view.assessment.job)


def _space(view: SideView) -> SpaceScene:
    above = vehicle_space(view.assessment, view.stage) if view.around else None
    return above or unit_space(view.assessment, view.stage)
