"""The words in a plan: letter and load of each stand, the distance to each edge, the mounts."""

from loadplan.checks.phrases import names
from loadplan.model.answer import Load
from loadplan.model.job import Support
from loadplan.model.vehicle import Joint
from loadplan.report.drawing.style import LABEL, LETTER, LOAD, QUIET, STRONG, Type
from loadplan.report.drawing.text_boxes import Row, Tag, told_apart
from loadplan.report.drawing.text_width import broken
from loadplan.report.drawing.view import Box, View
from loadplan.report.pictures.plan_content import PlanContent
from loadplan.report.pictures.plan_shapes import Drawn
from loadplan.report.pictures.signs import FAULT, MOUNT
from loadplan.report.pictures.tipping_edge import RigidShown
from loadplan.report.pictures.verdict_colours import UNBLAMED
from loadplan.report.words.stage_tables import NONE, UNDER_AIR, carried
from loadplan.report.words.tape_words import across_words, along_words
from loadplan.report.words.tipping_direction import past_or_short
from loadplan.report.words.vocabulary import Reader

WIDEST = 240
"""Widest line beside a drawing [px]."""

NAME = 130
"""Widest line of a name that is no letter [px]."""

SMALL = 96
"""Widest line of a name in the small view [px]."""

UNHELD = Type(18, bold=True, colour=FAULT)
"""Of the words beside a stand with nothing above it."""

BEARS_NOTHING = f"carries {UNDER_AIR}"
"""Words beside such a stand."""

SHORT = 3
"""Most characters of a name that is written as large as a letter."""


def stand_tags(view: View, scene: PlanContent, drawn: Drawn, reader: Reader) -> list[Tag]:
    """Write letter and load beside each stand.

    Args:
        view: Where.
        scene: What.
        drawn: What is on the page.
        reader: Who reads it.

    Returns:
        A tag a stand in the view.
    """
    middle = view.frame.middle
    told = list(zip(scene.supports, drawn.taken, strict=False))
    return [
        Tag(
            rows=_letter_and_load(support, stand_carries(scene, support, load, reader), reader),
            anchor=box,
            away=(_sign(box.middle[0] - middle[0]), 0.3 * _sign(box.middle[1] - middle[1])),
            rivals=tuple(each for _, each in told if each != box),
        )
        for (support, load), box in told
        if view.frame.holds(box.middle)
    ]


def stand_carries(scene: PlanContent, support: Support, load: Load | None, reader: Reader) -> str:
    """Tell beside a stand what it carries, or why it carries nothing.

    Args:
        scene: What is drawn.
        support: The stand.
        load: Its load, None where its group is not balanced, or nothing is above it.
        reader: Who reads it.

    Returns:
        A few words.
    """
    return BEARS_NOTHING if support.name in scene.under_air else carried(load, reader)


def small_stand_tags(view: View, scene: PlanContent, drawn: Drawn, reader: Reader) -> list[Tag]:
    """Write what each support carries, small, and under the others where they stand.

    Args:
        view: Where.
        scene: What.
        drawn: What is on the page.
        reader: Who reads it.

    Returns:
        A tag a support, those of stands first: they have most to say, and at a pad they would be taken for it.
    """
    tags = [
        Tag(
            _small_rows(support, stand_carries(scene, support, load, reader), reader),
            box,
            (_sign(box.middle[0] - view.frame.middle[0]), 0.0),
        )
        for (support, load), box in zip(scene.supports, drawn.taken, strict=False)
    ]
    return sorted(told_apart(tags), key=lambda tag: -len(tag.rows))


def edge_tags(scene: PlanContent, drawn: Drawn, reader: Reader) -> list[Tag]:
    """Write how far each rigid whole is from going over, and what it turns about.

    Args:
        scene: What.
        drawn: What is on the page.
        reader: Who reads it.

    Returns:
        A tag a rigid whole, the nearest to going over first.
    """
    ordered = sorted(drawn.edges, key=lambda each: each[0].name != scene.critical)
    return [Tag(_edge_rows(scene, whole, reader), anchor, (0.0, 0.0)) for whole, anchor in ordered]


def mount_tags(view: View, mounts: tuple[Joint, ...], reader: Reader) -> list[Tag]:
    """Write the name of each mount.

    Args:
        view: Where.
        mounts: Mounts that are done up.
        reader: Who reads it.

    Returns:
        A tag a mount in the view.
    """
    shown = [(joint, view.page(*joint.at[0][:2])) for joint in mounts if view.shows(*joint.at[0][:2])]
    middle = view.frame.middle[0]
    tags = [
        Tag(
            rows=_rows(reader.words(joint.name), QUIET),
            anchor=Box(x - MOUNT, y - MOUNT, x + MOUNT, y + MOUNT),
            away=(_sign(x - middle), 0.0),
        )
        for joint, (x, y) in shown
    ]
    return told_apart(tags)


def distance_words(whole: RigidShown, reader: Reader) -> tuple[str, str]:
    """Tell how far a rigid whole is from going over in the worst case, and what it turns about.

    Args:
        whole: The rigid whole.
        reader: Who reads it.

    Returns:
        Both, "" where there is no such edge.
    """
    if whole.free:
        return "free to rock", "about this line"
    if whole.nearest is None:
        return "", reader.words(f"goes over only with the {whole.carrier}") if whole.carrier else ""
    far = past_or_short(whole.nearest.left, reader)
    to = "" if whole.nearest.left <= 0 else " to tipping"
    case = "" if whole.nearest.worst is None else ", worst case"
    about = f"about {names(whole.nearest.about)}" if whole.nearest.about else "with nothing to hold it"
    return f"{far}{to}{case}", reader.words(about)


def distance_in_short(whole: RigidShown, reader: Reader) -> str:
    """Tell in the fewest words how far a rigid whole is from going over in the worst case.

    Args:
        whole: The rigid whole.
        reader: Who reads it.

    Returns:
        Words such as "284 mm at worst"; without "at worst" where the worst case is not known, "" where nothing goes.
    """
    if whole.free or whole.nearest is None:
        return "free to rock" if whole.free else ""
    far = past_or_short(whole.nearest.left, reader)
    return far if whole.nearest.worst is None else f"{far} at worst"


def given_words(whole: RigidShown, reader: Reader) -> str:
    """Tell how far a rigid whole is from going over as given: the small number beside the worst case.

    Args:
        whole: The rigid whole.
        reader: Who reads it.

    Returns:
        Words such as "as given 182 mm", "" where no worst case stands before them.
    """
    margin = whole.bodies[0].margin
    if margin is None or whole.nearest is None or whole.nearest.worst is None:
        return ""
    return f"as given {past_or_short(margin, reader)}"


def worst_words(whole: RigidShown, reader: Reader) -> tuple[str, str]:
    """Tell how far a rigid whole is from going over in the worst case, and as given what it turns about.

    Args:
        whole: The rigid whole.
        reader: Who reads it.

    Returns:
        Both, as `distance_words` has them where the worst case is not known.
    """
    far, about = distance_words(whole, reader)
    return far, ", ".join(each for each in (given_words(whole, reader), about) if each)


def _letter_and_load(support: Support, told: str, reader: Reader) -> tuple[Row, ...]:
    """Return a letter with its load beside it, a longer name with its load below."""
    name = reader.words(support.name)
    bears: Row = () if told == NONE else ((told, UNHELD if told == BEARS_NOTHING else LOAD),)
    if len(name) <= SHORT:
        return (((name, LETTER), *bears),)
    lettering = Type(18, bold=True, colour=LETTER.colour)
    rows = tuple(((line, lettering),) for line in broken(name, lettering, NAME, most=2))
    return (*rows, bears) if bears else rows


def _small_rows(support: Support, told: str, reader: Reader) -> tuple[Row, ...]:
    names_it = tuple(((line, LABEL),) for line in broken(reader.words(support.name), LABEL, SMALL, most=3))
    bears = () if told == NONE else (((told, STRONG),),)
    stands = () if support.is_arm else tuple(((words, QUIET),) for words in _tape(support, reader))
    return (*bears, *names_it, *stands)


def _tape(support: Support, reader: Reader) -> tuple[str, str]:
    """Return how far a stand is from axle line and centre line, as a tape shows it."""
    x, y, _ = support.at
    return along_words(x, reader), across_words(y, reader)


def _edge_rows(scene: PlanContent, whole: RigidShown, reader: Reader) -> tuple[Row, ...]:
    """Return a rigid whole's name and how far it is from going over: the worst case large, as given small."""
    look = scene.faults.edge(whole)
    stressed = whole.name == scene.critical or look is not UNBLAMED
    strong = Type(22, bold=True, colour=look.line) if stressed else STRONG
    name = reader.words(whole.name)
    far, about = distance_words(whole, reader)
    if not far:
        return (*_rows(name, STRONG if about else LABEL), *(_rows(about, LABEL) if about else ()))
    given = given_words(whole, reader)
    return (*_rows(name, STRONG), *_rows(far, strong), *(_rows(given, LABEL) if given else ()), *_rows(about, LABEL))


def _rows(text: str, lettering: Type) -> tuple[Row, ...]:
    return tuple(((line, lettering),) for line in broken(text, lettering, WIDEST, most=3))


def _sign(value: float) -> float:
    return (value > 0) - (value < 0)
