"""A jack that sinks."""

from dataclasses import replace
from math import hypot

import pytest

from loadplan.statics.jack_sinking import SINKS
from tests.statics import builders as make


def test_a_jack_is_let_sink_by_a_centimetre() -> None:
    """By hand: on four equal stands the sunk one and its diagonal lose k δ / 4, the others gain it."""
    soft = replace(make.STAND, stiffness=1e4)
    supports = list(make.stands(make.SQUARE, use=soft))
    supports[0] = replace(supports[0], equipment=replace(make.JACK, stiffness=1e4))
    found = make.group(make.job([make.part()], supports))
    (sunk,) = found.answer.sunk
    quarter, shift = make.newton(100.0) / 4, 1e4 * SINKS / 4
    assert sunk.support == "A"
    assert dict(sunk.loads) == pytest.approx({
        "A": quarter - shift,
        "B": quarter + shift,
        "C": quarter - shift,
        "D": quarter + shift,
    })
    ((body, tilt),) = sunk.tilts
    assert body == "unit"
    assert tilt == pytest.approx(hypot(SINKS / 4 / 0.5, SINKS / 4 / 0.5))


def test_what_locks_and_what_is_an_arm_does_not_sink() -> None:
    supports = [*make.stands(make.SQUARE), make.support("arm", (0.0, 0.0), use=make.ARM)]
    assert make.group(make.job([make.part()], supports)).answer.sunk == ()
