"""What stands in a file outside its tables, and keys that no table claims."""

from collections.abc import Collection
from typing import TypeVar

from loadplan.files.shape import Shape, read_table
from loadplan.files.source import Source
from loadplan.files.wording import choice, nearest

EVERYWHERE = ("schema", "units")
"""Keys that every file has; `open_source` has read them."""

S = TypeVar("S", bound=Shape)


def read_head(source: Source, shape: type[S], tables: Collection[str]) -> S:
    """Read what stands outside the tables, and note every key that there is not.

    Args:
        source: The file.
        shape: What may stand outside its tables, nothing of which must.
        tables: Names of the tables that the file may have.

    Returns:
        What stands there; keys with faults are left out.
    """
    keys = shape.model_fields
    for key in source.raw:
        if key not in {*keys, *tables, *EVERYWHERE}:
            known = [*keys, *tables, *EVERYWHERE]
            near = nearest(key, known)
            source.blame("", key, f"is not a key here{near}" if near else f"is not a key here: {choice(known)} are")
    written = {key: source.raw[key] for key in keys if key in source.raw}
    good = {key: value for key, value in written.items() if read_table(source, "", {key: value}, shape)}
    head = shape.model_validate(good, context=source.system)
    for key, message in head.complaints():
        source.blame("", key, message)
    return head
