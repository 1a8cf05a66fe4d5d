"""Whether two answers are the same through and through."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from itertools import starmap

import numpy as np
from shapely.geometry.base import BaseGeometry


def same(one: object, other: object) -> bool:
    """Compare two answers to the last bit; what cannot be compared is not the same.

    Args:
        one: Anything.
        other: Anything.
    """
    if one is other:
        return True
    if type(one) is not type(other) or isinstance(one, Iterator):
        return False
    compare = next((each for kind, each in KINDS.items() if isinstance(one, kind)), None)
    if compare is not None:
        return compare(one, other)
    if is_dataclass(one) and not isinstance(one, type):
        return all(same(getattr(one, each.name), getattr(other, each.name)) for each in fields(one))
    return bool(one == other)


def _same_arrays(one: np.ndarray, other: np.ndarray) -> bool:
    if one.dtype != other.dtype or one.shape != other.shape:
        return False
    if one.dtype == object:
        return same(one.ravel().tolist(), other.ravel().tolist())
    return bool(np.array_equal(one, other, equal_nan=one.dtype.kind in "fc"))


def _same_rows(one: list[object] | tuple[object, ...], other: list[object] | tuple[object, ...]) -> bool:
    return len(one) == len(other) and all(starmap(same, zip(one, other, strict=True)))


def _same_tables(one: Mapping[object, object], other: Mapping[object, object]) -> bool:
    # In their order, too: it may be told.
    return _same_rows(list(one.items()), list(other.items()))


def _same_numbers(one: float, other: float) -> bool:
    return one == other or (one != one and other != other)


def _same_shapes(one: BaseGeometry, other: BaseGeometry) -> bool:
    return bool(one.wkb == other.wkb)


KINDS: Mapping[type | tuple[type, ...], Callable[..., bool]] = {
    np.ndarray: _same_arrays,
    Mapping: _same_tables,
    (list, tuple): _same_rows,
    (float, np.floating): _same_numbers,
    BaseGeometry: _same_shapes,
}
"""What compares answers of a kind."""
