"""Looking things up in a stage's answer. Every number here is made up."""

import pytest

from tests.checks.builders import case, load, support


def test_an_answer_is_found_by_its_name() -> None:
    statics = case(support("A"), support("B", at=(0.4, 0.4)), loads={"A": load(300.0), "B": None}).statics
    assert statics.load("A") == load(300.0)
    assert statics.load("B") is None
    assert statics.load("nobody's") is None
    first = statics.bodies[0]
    assert statics.body(first.name) is first
    assert first.name in statics.group_of(first.name).bodies
    assert statics.gaps == {each.name: each.gap for each in statics.supports}
    assert statics.joint_force("no joint") is None
    assert statics.without("nobody's") is None


@pytest.mark.parametrize("look", ["body", "group_of"])
def test_a_body_that_is_not_there_is_not_made_up(look: str) -> None:
    with pytest.raises(KeyError, match="nobody"):
        getattr(case(support("A")).statics, look)("nobody")
