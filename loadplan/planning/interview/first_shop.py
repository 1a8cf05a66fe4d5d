"""The answers of the interview as a shop's file, asked for once in its life."""

from collections.abc import Iterator, Mapping
from math import isclose

from loadplan.files.toml_edit import quoted
from loadplan.files.toml_lines import TomlLines, toml_list, toml_table
from loadplan.planning.interview.question import Foot, HeightRange, Mark, Owned, ShimStock, Value
from loadplan.planning.interview.questions_on_shop import MOST_GEAR, PAIRED
from loadplan.units import System

LIFT = "lift"
PROP_STAND = "tall stand"

HEAD = "# From answers to questions. What was left open is left out, and is not checked."


def shop_text(known: Mapping[str, Value], names: tuple[str, ...], system: System) -> str:
    """Write the shop's file.

    Args:
        known: Value of each answer.
        names: What each kind of equipment is called.
        system: Units of the file.

    Returns:
        TOML that the reader takes.
    """
    pen = TomlLines(system)
    head = toml_table(HEAD, (("schema", '"loadplan-shop-1"'), ("units", pen.units)))
    return "\n".join((head, *_equipment(known, names, pen), _lift(known, pen), *_shims(known, pen)))


def _equipment(known: Mapping[str, Value], names: tuple[str, ...], pen: TomlLines) -> Iterator[str]:
    for number, name in zip(range(1, MOST_GEAR + 1), names, strict=False):
        yield _kind(known, f"gear{number}", name, pen)
    if known.get("prop") is True and "prop.mark" in known:
        yield _kind(known, "prop", PROP_STAND, pen)


def _kind(known: Mapping[str, Value], key: str, name: str, pen: TomlLines) -> str:
    """Return the table of one kind; a beam is written as the hoist that it is to what hangs from it."""
    what = str(known.get(f"{key}.what", "stand"))
    mark, owned, base, top = (known.get(f"{key}.{each}") for each in ("mark", "owned", "base", "top"))
    assert isinstance(mark, Mark)
    # Of what nobody sells in pairs the plate counts for one, also where that is not said.
    rated_for = mark.rated_for or ("" if what in PAIRED else "each")
    return toml_table(
        "[[equipment]]",
        (
            ("name", quoted(name)),
            ("kind", quoted("hoist" if what == "beam" else what)),
            ("rating", pen.rating(mark.rating)),
            ("rated_for", quoted(rated_for) if rated_for else ""),
            ("heights", _heights(known.get(f"{key}.heights"), pen)),
            ("base", pen.place((base.along, base.across)) if isinstance(base, Foot) else ""),
            ("top", quoted(top) if isinstance(top, str) else ""),
            ("count", str(owned.count if isinstance(owned, Owned) else 1)),
            ("tags", toml_list(owned.tags) if isinstance(owned, Owned) else ""),
            ("locks", "true" if what == "beam" else ""),
        ),
    )


def _heights(value: Value, pen: TomlLines) -> str:
    if not isinstance(value, HeightRange):
        return ""
    if isclose(value.lowest, value.highest):
        return f"[{pen.length(value.lowest)}]"
    step = f", step = {pen.length(value.step)}" if value.step else ""
    return f"{{ from = {pen.length(value.lowest)}, to = {pen.length(value.highest)}{step} }}"


def _lift(known: Mapping[str, Value], pen: TomlLines) -> str:
    """Return the table of the lift, whose arms share its rating."""
    rating, rise, ceiling, step = (known.get(f"lift.{each}") for each in ("rating", "rise", "ceiling", "lock_step"))
    assert isinstance(rating, float)
    return toml_table(
        "[[lift]]",
        (
            ("name", quoted(LIFT)),
            ("rating", pen.rating(rating)),
            ("arms", "4"),
            ("rise", pen.length(rise) if isinstance(rise, float) else ""),
            ("ceiling", pen.length(ceiling) if isinstance(ceiling, float) else ""),
            ("locks", "true" if known["lift.locks"] else "false"),
            ("lock_step", pen.length(step) if isinstance(step, float) else ""),
        ),
    )


def _shims(known: Mapping[str, Value], pen: TomlLines) -> Iterator[str]:
    shims = known.get("shims")
    for each in shims if isinstance(shims, tuple) else ():
        assert isinstance(each, ShimStock)
        rows = (("wood", quoted(each.of) if each.of else ""), ("count", str(each.count) if each.count else ""))
        yield toml_table("[[shim]]", (("height", pen.length(each.height)), *rows))
