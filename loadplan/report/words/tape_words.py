"""What somebody measures out or sets: distances from the chalk lines as a tape reads them, and set heights."""

from math import floor

from loadplan.model.job import Support
from loadplan.model.shop import EquipmentKind
from loadplan.report.words.number_format import write_tape
from loadplan.report.words.vocabulary import Reader
from loadplan.units import System


def along_words(x: float, reader: Reader) -> str:
    """Tell a place's distance from the axle line as a tape reads it.

    Args:
        x: Distance in front of the axle line [m].
        reader: Who reads it.

    Returns:
        Words such as "330 mm front".
    """
    return _side(x, ("front", "back"), "on the axle line", reader)


def across_words(y: float, reader: Reader) -> str:
    """Tell a place's distance from the centre line as a tape reads it.

    Args:
        y: Distance left of the centre line [m].
        reader: Who reads it.

    Returns:
        Words such as "420 mm left".
    """
    return _side(y, ("left", "right"), reader.words("on the centre line"), reader)


def setting(length: float, units: System) -> str:
    """Write a height that a stand is set to: to the millimetre, whatever its size, or to 1/8 in.

    Args:
        length: Length [m].
        units: The reader's units.

    Returns:
        Number and unit.

    Example:
        >>> setting(1.2345, System.METRIC)
        '1235 mm'
    """
    if units is System.METRIC:
        return f"{floor(length * 1000 + 0.5)} mm"
    return Reader(units, frozenset()).length(length)


def height_words(support: Support, reader: Reader) -> str:
    """Tell how high a saddle is set.

    Args:
        support: The support.
        reader: Who reads it.

    Returns:
        Its height without the shim, "to touch" where it is brought up, "hook" for a hoist.
    """
    if support.equipment.kind is EquipmentKind.HOIST:
        return "hook"
    if support.height is None or support.standby:
        return "to touch"
    return setting(support.height, reader.units)


def _side(distance: float, sides: tuple[str, str], on_it: str, reader: Reader) -> str:
    """Return a distance with the side it is on; one that a tape does not tell is on the line."""
    told = write_tape(abs(distance), reader.units)
    if told.startswith("0 "):
        return on_it
    return f"{told} {sides[0] if distance > 0 else sides[1]}"
