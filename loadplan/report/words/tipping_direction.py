"""The way an assembly goes over, in words."""

from loadplan.checks.phrases import low_side, names, several, turning_about
from loadplan.model.answer import GroupAnswer, Loose, Mode, Statics
from loadplan.report.words.vocabulary import Reader
from loadplan.statics.worst_way import what_moves


def ways_over(statics: Statics, reader: Reader) -> list[str]:
    """Tell how the groups of a stage that are not balanced go over.

    Args:
        statics: What was computed about the stage.
        reader: Who reads it.

    Returns:
        A sentence each way, in the order of the groups, the worst way first.
    """
    return [sentence for group in statics.groups if not group.balanced for sentence in _ways(group, reader)]


def past_or_short(margin: float, reader: Reader) -> str:
    """Tell a margin, also one that is gone.

    Args:
        margin: Distance from tipping [m]: positive inside the edge.
        reader: Who reads it.

    Returns:
        Words such as "98 mm" or "3 mm past the edge".
    """
    return " ".join(part for part in past_or_short_parts(margin, reader) if part)


def past_or_short_parts(margin: float, reader: Reader) -> tuple[str, str]:
    """Tell a margin as `past_or_short` does, its figure apart from its words.

    Args:
        margin: Distance from tipping [m]: positive inside the edge.
        reader: Who reads it.

    Returns:
        Figure and words such as ("98 mm", "") or ("3 mm", "past the edge"); "" where there is no figure.
    """
    if margin > 0:
        return reader.length(margin), ""
    return (reader.length(-margin), "past the edge") if margin < 0 else ("", "on the edge")


def direction(mode: Mode) -> str:
    """Name the side to which a mode goes over.

    Args:
        mode: A way to go over.

    Returns:
        One of eight directions, "" where nothing turns.
    """
    return low_side(max((motion for _, motion in mode.motions), key=lambda motion: motion.rx**2 + motion.ry**2))


def _ways(group: GroupAnswer, reader: Reader) -> list[str]:
    if isinstance(group.proof, Loose):
        return [_free(group)]
    gone = [mode for mode in group.modes if mode.work <= 0] or list(group.modes[:1])
    return [_way(mode, reader) for mode in gone]


def _free(group: GroupAnswer) -> str:
    if not group.supports:
        return f"Nothing holds up the {names(group.bodies)}."
    moving = what_moves(group)
    it = several(moving, "it", "them")
    return f"The {names(moving)} can rock: too few places hold {it}, or all of them lie in one line."


def _way(mode: Mode, reader: Reader) -> str:
    side = direction(mode)
    to = f" to the {side}" if side else ""
    far = [f"the {body} is {past_or_short(margin, reader)}" for body, margin in mode.margins]
    verb = several(mode.bodies, "goes", "go")
    past = f": {names(far)}" if far else ""
    return f"The {names(mode.bodies)} {verb} over{to}, {turning_about(mode.about)}{past}."
