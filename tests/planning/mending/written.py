"""Plans and what changes in them, written line by line, so that they can be kept as text."""

from collections.abc import Iterator
from dataclasses import fields

from loadplan.model.job import Job, Stage, Support
from loadplan.model.verdict import Quantity, Sentence


def sentence(says: Sentence) -> str:
    """Write a sentence with its quantities in SI, to a tenth of a millimetre."""
    return "".join(each if isinstance(each, str) else _quantity(each) for each in says)


def _quantity(quantity: Quantity) -> str:
    return f"{quantity.value:.4f} {quantity.measure.name.casefold()}"


def support(stand: Support) -> str:
    """Write how a stand stands."""
    place = ", ".join(f"{each:.3f}" for each in stand.at)
    shim = f" + {stand.shim.height:.4f} {stand.shim.wood}".rstrip() if stand.shim else ""
    set_to = "touching" if stand.height is None else f"{stand.height:.4f}{shim}"
    more = [
        f"{name} {value}"
        for name in ("tag", "part", "limit", "on", "piece", "friction")
        if (value := getattr(stand, name)) not in (None, "")
    ]
    flags = [name for name in ("standby", "keep") if getattr(stand, name)]
    return "; ".join([
        f"{stand.name}: {stand.equipment.name}",
        f'{stand.body} "{stand.point}" ({place})',
        set_to,
        *more,
        *flags,
    ])


def stage(step: Stage) -> str:
    """Write what a step changes, in the order of its fields."""
    told = [(each.name, getattr(step, each.name)) for each in fields(step)]
    return "; ".join(f"{name} {_value(value)}" for name, value in told if value not in ((), "", False, None))


def _value(value: object) -> str:
    if isinstance(value, float):
        return f"{value:.4f}"
    if isinstance(value, tuple):
        return f"({', '.join(_value(each) for each in value)})"
    names = getattr(value, "__dataclass_fields__", None)
    if names:
        return f"[{', '.join(_value(getattr(value, name)) for name in names)}]"
    return str(value)


def differences(before: Job, after: Job) -> Iterator[str]:
    """Write each stand and each step that is not as it was."""
    old_stands, old_steps = {*map(support, before.supports)}, {*map(stage, before.stages)}
    yield from (written for each in after.supports if (written := support(each)) not in old_stands)
    yield from (written for each in after.stages if (written := stage(each)) not in old_steps)
    if len(after.supports) < len(before.supports) or len(after.stages) < len(before.stages):
        yield "fewer than before"
