"""What a joint left on has to pull."""

import pytest

from tests.statics import builders as make

MIDDLE = make.job([make.part((0.1, 0.05))], make.stands(make.SQUARE))


def test_the_least_upward_pull_at_an_undone_joint() -> None:
    """By hand: 0.4 m from the front edge; pulled at the back, 0.9 m from it: m g 0.4 / 0.9; not at the edge itself."""
    back, edge = make.bolts("back", at=((-0.4, 0.05, 0.5),)), make.bolts("edge", at=((0.5, 0.0, 0.5),))
    inner = make.bolts("inner", at=((-0.4, 0.05, 0.5), (-0.6, 0.05, 0.5)))
    told = make.group(MIDDLE, undone=(back, edge, inner, make.bolts("bare"))).answer.snags
    assert [(each.joint, each.body) for each in told] == [("back", "unit"), ("edge", "unit"), ("inner", "unit")]
    weight = make.newton(100.0)
    assert told[0].pull == pytest.approx(weight * 0.4 / 0.9)
    assert told[1].pull == pytest.approx(min(weight * 0.6 / 1.0, weight * 0.55 / 0.5, weight * 0.45 / 0.5))
    assert told[2].pull == pytest.approx(weight * 0.4 / 1.1)
