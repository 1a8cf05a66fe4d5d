"""Examples of answers as somebody writes them who measures at the rear or between the axles, from the front axle."""

from loadplan.planning.interview.us_samples import samples_in_us

AT_REAR: tuple[tuple[str, str], ...] = (
    (
        "link, 100 behind, 30 left, 90 above to 240 behind, 30 left, 90 above",
        "link, 2550 behind, 30 left, 90 above to 2690 behind, 30 left, 90 above",
    ),
    (
        "330 front to 120 behind, 40 to 420 right, 610 to 35 above",
        "2560 to 2880 behind, 150 left to 150 right, 260 to 20 above",
    ),
    ("mount, 150 behind, 200 right, 80 above", "mount, 2600 behind, 200 right, 80 above"),
    ("330 front, 420 left, 60 below", "2480 behind, 420 left, 60 below"),
    ("13 front, 16 1/2 left, 2 3/8 below", "97 1/2 behind, 16 1/2 left, 2 3/8 below"),
    ("90 front, 200 right, 400 above", "2610 behind, 100 right, 150 above"),
)
"""Each example at the front, and one like it at the rear."""


BETWEEN: tuple[tuple[str, str], ...] = (
    (
        "330 front to 120 behind, 40 to 420 right, 610 to 35 above",
        "450 to 2250 behind, 700 left to 700 right, 40 above to 110 below",
    ),
    ("330 front, 420 left, 60 below", "900 behind, 600 left, 60 below"),
    ("13 front, 16 1/2 left, 2 3/8 below", "35 1/2 behind, 23 1/2 left, 2 3/8 below"),
    ("90 front, 200 right, 400 above", "1300 behind, 100 right, 20 above"),
)
"""Each example at the front, and one like it between the axles."""


def samples_between(text: str) -> str:
    """Put the examples of a sentence between the axles.

    Args:
        text: A question's hint, or why an answer was not taken.

    Returns:
        It, with places under the middle of a vehicle.

    Example:
        >>> samples_between("By tape, such as 330 front, 420 left, 60 below.")
        'By tape, such as 900 behind, 600 left, 60 below.'
    """
    for front, between in BETWEEN:
        text = text.replace(front, between)
    return text


def samples_as_in(hint: str, text: str) -> str:
    """Put the examples of a sentence where those of a hint are.

    Args:
        hint: The hint, in millimetres or in inches.
        text: The sentence.

    Returns:
        It, with its examples at the front, between the axles or at the rear.
    """
    if is_at_rear(hint):
        return samples_at_rear(text)
    is_between = any(each in hint for _, between in BETWEEN for each in (between, samples_in_us(between)))
    return samples_between(text) if is_between else text


def samples_at_rear(text: str) -> str:
    """Put the examples of a sentence to the rear.

    Args:
        text: A question's hint, or why an answer was not taken.

    Returns:
        It, with places that are behind the front axle by a wheelbase or so.

    Example:
        >>> samples_at_rear("By tape, such as 330 front, 420 left, 60 below.")
        'By tape, such as 2480 behind, 420 left, 60 below.'
    """
    for front, rear in AT_REAR:
        text = text.replace(front, rear)
    return text


def is_at_rear(hint: str) -> bool:
    """Return whether the examples of a hint, in millimetres or in inches, are of places at the rear."""
    return any(each in hint for _, rear in AT_REAR for each in (rear, samples_in_us(rear)))
