"""Writing new files: values as TOML text in the user's units, and tables of them."""

from collections.abc import Iterable
from dataclasses import dataclass

from loadplan.files.toml_edit import number, quoted
from loadplan.units import Kind, System, bare_unit, from_si


@dataclass(frozen=True, slots=True)
class TomlLines:
    """Writes values in the user's units.

    Attributes:
        system: Those units.
    """

    system: System

    def length(self, metres: float) -> str:
        """Return a length [m], to a tenth of a millimetre or a hundredth of an inch."""
        # Added to 0, so that nothing is written -0.
        return number(0.0 + round(from_si(metres, Kind.LENGTH, self.system), 1 if self.system is System.METRIC else 2))

    def place(self, place: Iterable[float]) -> str:
        """Return a place [m]."""
        return f"[{', '.join(self.length(each) for each in place)}]"

    def outline(self, low: tuple[float, ...], high: tuple[float, ...]) -> str:
        """Return the corners in plan of what lies between two places [m]."""
        corners = ((high[0], high[1]), (high[0], low[1]), (low[0], low[1]), (low[0], high[1]))
        return f"[{', '.join(self.place(each) for each in corners)}]"

    def mass(self, kilograms: float) -> str:
        """Return a mass [kg], to a tenth."""
        return number(round(from_si(kilograms, Kind.MASS, self.system), 1))

    def rating(self, newtons: float) -> str:
        """Return a rating [N] as the mass that it is told as."""
        told = number(round(from_si(newtons, Kind.LOAD, self.system), 3))
        return quoted(f"{told} {bare_unit(Kind.LOAD, self.system)}")

    @property
    def units(self) -> str:
        """The units, as a file's head says them."""
        return quoted("us" if self.system is System.US else "metric")


def toml_table(heading: str, rows: Iterable[tuple[str, str]]) -> str:
    """Write a table.

    Args:
        heading: Its heading with the brackets.
        rows: Key and value as TOML text; an empty value leaves the key out.

    Returns:
        Lines ending in a line end.
    """
    return "".join((f"{heading}\n", *(f"{key} = {value}\n" for key, value in rows if value)))


def toml_list(names: Iterable[str]) -> str:
    """Write a list of texts; "" where there is none, so that its key is left out.

    Args:
        names: The texts.

    Returns:
        TOML text.
    """
    told = ", ".join(quoted(each) for each in names)
    return f"[{told}]" if told else ""
