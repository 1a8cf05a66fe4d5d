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


def test_what_keeps_a_margin_is_what_has_as_much() -> None:
    intake = replace(stand("F", "middle left"), part="intake")
    parts = course(plan(*but(), stand("E", "box tail"), intake, off=("box", "intake")), 1)
    every = np.array([[False, False], [True, False], [False, True], [True, True]])
    margins = parts.margins(every)
    asked = sorted({*(float(each) + off for each in margins for off in (-1e-6, 1e-6)), 0.0})
    for margin in asked:
        assert parts.keeping(margin).tolist() == (margins >= margin).tolist(), margin
