"""How wide a text is."""

import warnings

from loadplan.report.drawing.style import INK, Type
from loadplan.report.drawing.text_width import text_width

LETTERING = Type(10.0, bold=False, colour=INK)


def test_letters_that_no_font_has_have_a_width_and_nothing_is_said_of_them() -> None:
    with warnings.catch_warnings(record=True) as said:
        warnings.simplefilter("always")
        assert text_width("\U0001f9f0\U0001f9f0", LETTERING) > text_width("\U0001f9f0", LETTERING) > 0
    assert said == []
