"""Which test is tried first: what noticed others close by."""

from tests.mutation.tried import Spot, Tried

FILE = "loadplan/statics/lean.py"
TESTS = {"tests/statics/test_lean.py::test_a": 0.0, "tests/checks/test_push.py::test_b": 0.0}
OWN, OTHER = TESTS


def test_before_anything_was_tried_the_file_of_the_same_name_comes_first() -> None:
    told = Tried().chances(Spot(FILE, 10), TESTS)
    assert told[OWN] > told[OTHER]


def test_a_test_that_held_again_and_again_comes_after_one_that_noticed() -> None:
    tried = Tried()
    for line in (9, 11):
        tried.add(Spot(FILE, line), OWN, noticed=False)
        tried.add(Spot(FILE, line), OTHER, noticed=True)
    told = tried.chances(Spot(FILE, 10), TESTS)
    assert told[OTHER] > told[OWN]


def test_what_was_noticed_close_by_tells_more_than_what_was_elsewhere() -> None:
    tried = Tried()
    tried.add(Spot(FILE, 10), OTHER, noticed=True)
    near, around, far = (tried.chances(Spot(FILE, line), TESTS)[OTHER] for line in (11, 20, 200))
    assert near > around > far
    assert Tried().chances(Spot("loadplan/units.py", 10), TESTS)[OTHER] < far
