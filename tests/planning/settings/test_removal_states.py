"""What stands while parts come off with the stands under them: each set of those that are gone is a case of its own."""

from dataclasses import replace

import numpy as np

from loadplan.planning.settings.removal_states import course, part_way
from tests.planning.mending.plans import but, plan, stand


def test_every_set_of_parts_with_a_stand_on_them_is_a_case_of_its_own() -> None:
    intake = replace(stand("F", "middle left"), part="intake")
    job = plan(*but(), stand("E", "box tail"), intake, off=("box", "intake"))
    parts = course(job, 1)
    assert parts.parts == ("box", "intake")
    assert parts.emptied == ((0,), (1,))
    assert [each.gone for each in parts.standings] == [(False, False), (True, False), (False, True), (True, True)]
    for off in (frozenset[str](), frozenset({"box"}), frozenset({"intake"})):
        there = part_way(job, 1, off)
        assert there.on >= {"block"}
        assert {"box", "intake"} - there.on == off
    margins = parts.margins(np.array([[False, False], [True, False], [False, True], [True, True]]))
    assert np.isfinite(margins).all()
