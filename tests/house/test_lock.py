"""The lock file of the test set-up: every package that the project asks for is in it, pinned, with its hashes."""

import re
import tomllib

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.tracked import ROOT

LOCK = (ROOT / ".ci" / "test-lock.txt").read_text("utf-8")
PINS = re.split(r"\n(?=[A-Za-z0-9])", LOCK)


def test_every_package_is_pinned_with_hashes() -> None:
    whole = re.compile(r"[A-Za-z0-9._-]+==\S+( ; [^\\]+)? \\\n( +--hash=sha256:[0-9a-f]{64}( \\)?\n)+( +#.*\n?)*")
    assert len(PINS) > 40
    assert [pin[:60] for pin in PINS if not whole.fullmatch(pin)] == []


def test_the_lock_holds_what_the_project_asks_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    asked = [*project["dependencies"], *(each for extra in project["optional-dependencies"].values() for each in extra)]
    pinned = {canonicalize_name(name): version for pin in PINS for name, _, version in [pin.split()[0].partition("==")]}
    wrong = [
        told
        for told in asked
        for needed in [Requirement(told)]
        if not needed.specifier.contains(pinned.get(canonicalize_name(needed.name), "0"), prereleases=True)
    ]
    assert wrong == [], "write it anew as DEVELOPERS.md says"
