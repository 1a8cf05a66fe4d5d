"""Records written field by field, so that whole answers can be kept as text: lengths to a tenth of a millimetre."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from enum import Enum

import numpy as np

from loadplan.model.job import Job, Stage, Support
from loadplan.model.shop import Equipment
from loadplan.model.vehicle import Point, Vehicle
from loadplan.model.verdict import Assessment, Quantity, StageAssessment
from tests.planning.mending.written import support

LEFT_OUT = (Job, Vehicle, Assessment, StageAssessment, Stage)
"""What is kept elsewhere, or by what is told of it."""

LARGE = 100.0

IN_A_WORD = (Quantity, Equipment, Point)
"""What is written in one line."""


def record(value: object) -> str:
    """Write an answer, a line a field that has no fields of its own."""
    return "\n".join([*_lines("", value), ""])


def _lines(name: str, value: object) -> Iterator[str]:
    if isinstance(value, LEFT_OUT):
        return
    if isinstance(value, Support):
        yield f"{name}: {support(value)}"
    elif isinstance(value, IN_A_WORD) or not (is_dataclass(value) or _holds_records(value)):
        yield f"{name}: {_plain(value)}"
    elif isinstance(value, tuple | list):
        for number, each in enumerate(value):
            yield from _lines(f"{name}[{number}]", each)
    else:
        for field in fields(value):  # type: ignore[arg-type]
            yield from _lines(f"{name}.{field.name}", getattr(value, field.name))


def _holds_records(value: object) -> bool:
    within = value if isinstance(value, tuple | list) else ()
    return any((is_dataclass(each) and not isinstance(each, IN_A_WORD)) or _holds_records(each) for each in within)


def _plain(value: object) -> str:
    """Write a figure, a word, or some of them; of a quantity four figures."""
    match value:
        case Equipment():
            told = value.name
        case Point():
            told = f'{value.body} "{value.name}" {_plain(value.at)} {value.limit or ""} {value.part}'.rstrip()
        case Quantity():
            told = f"{value.value:.4g} {value.measure.name.casefold()}"
        case Enum():
            told = value.name
        case float() | np.floating():
            # No further than every processor rounds alike: of what is large six figures.
            told = f"{float(value):{'.4f' if abs(value) < LARGE else '.6g'}}".replace("-0.0000", "0.0000")
        case frozenset() | set():
            told = f"{{{', '.join(sorted(_plain(each) for each in value))}}}"
        case tuple() | list() | np.ndarray():
            told = f"({', '.join(_plain(each) for each in value)})"
        case _:
            told = str(value)
    return told
