"""How wide a text is."""

import os
import subprocess
import sys
import warnings
from pathlib import Path

from loadplan.report.drawing.style import INK, Type
from loadplan.report.drawing.text_width import text_width

LETTERING = Type(10.0, bold=False, colour=INK)


def test_letters_that_no_font_has_have_a_width_and_nothing_is_said_of_them() -> None:
    with warnings.catch_warnings(record=True) as said:
        warnings.simplefilter("always")
        assert text_width("\U0001f9f0\U0001f9f0", LETTERING) > text_width("\U0001f9f0", LETTERING) > 0
    assert said == []


def test_where_the_home_folder_takes_nothing_nobody_is_told_of_matplotlibs_list_of_fonts(tmp_path: Path) -> None:
    nowhere = tmp_path / "no-folder"
    nowhere.write_text("")
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("XDG_", "MPL"))}
    command = [sys.executable, "-c", "import loadplan.report.drawing.font_measure"]
    ran = subprocess.run(command, env={**kept, "HOME": str(nowhere)}, capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stderr) == (0, "")
