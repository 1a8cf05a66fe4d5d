"""What stands in a file outside its tables, and keys that no table claims."""

from collections.abc import Collection
from typing import TypeVar

from loadplan.files.shape import Shape, not_a_key, read_table
from loadplan.files.toml_source import Source

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
    keys = list(dict.fromkeys((*shape.model_fields, *tables, *EVERYWHERE)))
    for key in source.raw:
        if key not in keys:
            source.blame("", key, not_a_key(key, keys))
    written = {key: value for key, value in source.raw.items() if key in shape.model_fields}
    head, _ = read_table(source, "", written, shape)
    return head or shape()
