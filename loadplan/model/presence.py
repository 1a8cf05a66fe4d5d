"""Whether a body is still there once parts of it are off."""

from collections.abc import Collection

from loadplan.model.vehicle import Body, Part


def remaining(body: Body, parts: tuple[Part, ...], on: Collection[str]) -> bool:
    """Tell whether a body is still there with these parts on.

    A body whose parts are all off is gone. A body weighed whole is gone only if its listed parts
    make up its weight: what the scales found beyond them, outside tolerance, still stands there.

    Args:
        body: The body.
        parts: Every part of the vehicle.
        on: Names of the parts that are on.

    Returns:
        False where nothing of the body is left.
    """
    own = [part for part in parts if part.body == body.name]
    if any(part.name in on for part in own):
        return True
    if body.weighed is None:
        return False
    rest = body.weighed.mass - sum(part.mass for part in own)
    return rest > body.weighed.mass_pm + sum(part.mass_pm for part in own)
