"""Small jobs in one file, where `[lift]` says both what the lift is and how it is used."""

from typing import Any

from loadplan.files.fault_wording import nearest, shown
from loadplan.files.job_shape import LiftUseTable
from loadplan.files.shop_shape import LiftTable
from loadplan.files.toml_source import Raw, Source

UNNAMED = "lift"
"""What a lift without a name is called."""


def split_lift(source: Source) -> tuple[Raw | None, list[Raw]]:
    """Part what a job file says of its lift.

    With `shop` given, `[lift]` says only how the lift is used. Without, it may also hold the keys of
    a shop's `[[lift]]`, as one table or as one of several.

    Args:
        source: The job file.

    Returns:
        The job's part (None without one), and the shop's parts.
    """
    raw = source.raw.get("lift")
    if raw is None:
        return None, []
    if "shop" in source.raw or not _is_tables(raw):
        if not isinstance(raw, dict):
            source.blame("", "lift", "must be written [lift], once: the lift that the job uses")
        return (raw if isinstance(raw, dict) else None), []
    tables = raw if isinstance(raw, list) else [raw]
    parted = [_parted(table) for table in tables]
    uses = [use for use, _ in parted if use]
    if len(uses) > 1:
        source.blame("lift", "", f"is used {len(uses)} times: a job uses one lift")
    return (uses[0] if uses else None), [lift for _, lift in parted if lift]


def _is_tables(raw: object) -> bool:
    """Return whether a value is a table or a list of tables."""
    return isinstance(raw, dict) or (isinstance(raw, list) and all(isinstance(each, dict) for each in raw))


def _parted(table: dict[str, Any]) -> tuple[Raw, Raw]:
    """Return the lift of a job in one file in two: how it is used, and the lift itself as the shop would list it."""
    lift = {key: value for key, value in table.items() if _is_lifts(key)}
    use = {key: value for key, value in table.items() if key not in lift}
    name = lift.get("name", use.get("use", UNNAMED))
    if lift:
        lift = {"name": name} | lift
    if use:
        use = {"use": name} | use
    return use, lift


def _is_lifts(key: str) -> bool:
    """Return whether a key says what the lift is; an unknown one goes where its nearest key does."""
    lift, use = LiftTable.model_fields, LiftUseTable.model_fields
    return key in lift or (key not in use and any(shown(each) in nearest(key, [*use, *lift]) for each in lift))
