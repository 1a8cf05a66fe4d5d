"""What is told of a mending and a swap, in every way in which they end."""

import io
from dataclasses import replace
from functools import partial

import pytest

from loadplan.model.verdict import CheckName, Finding, Measure, Quantity, Verdict
from loadplan.planning.mending.mending_answer import DoneChange, LeftOver, Mending
from loadplan.planning.mending.plan_change import ChangeKind
from loadplan.planning.mending.stand_swap import StandSwap, swap
from loadplan.report.text.mending_page import MendingProgress, mending_dict, mending_page
from loadplan.report.text.swap_page import swap_dict, swap_page
from loadplan.units import System
from tests.planning.mending.plans import JACK, RATCHET, SCREW, but, plan, stand

RAISED = DoneChange(ChangeKind.HEIGHT, "A", ("Set A to ", Quantity(0.33, Measure.LENGTH), "."))
ADDED = DoneChange(ChangeKind.ADD, "E", ("Set one more stand, E.",))
STOPS = LeftOver(
    "Set down", Finding(CheckName.RATING, Verdict.STOP, "A", 2.0, 1.0, Measure.LOAD, ("A carries too much.",))
)

mending = partial(
    Mending,
    job=plan(),
    changes=(RAISED, ADDED),
    enough=1,
    before=Verdict.STOP,
    verdict=Verdict.HOLDS,
    proven=True,
    margin=0.1,
    left=(),
    looked_at=100,
    interrupted=False,
)


def _page(told: Mending, first: int = 0) -> str:
    return " ".join(mending_page(told, first, System.METRIC).split())


def test_what_is_enough_against_a_stop_is_told_apart_from_what_takes_cautions_away() -> None:
    page = _page(mending())
    first, then = page.index("1. Set A to 330 mm."), page.index("2. Set one more stand, E.")
    assert first < page.index("With these nothing stops. So that nothing cautions, either:") < then
    assert "With these nothing stops" not in _page(mending(enough=2))
    assert "With these nothing stops" not in _page(mending(enough=0, before=Verdict.CAUTION))


def test_whether_fewer_would_do_is_told() -> None:
    assert "No fewer changes of these kinds would do." in _page(mending())
    assert "NOT PROVEN" in _page(mending(proven=False))


def test_it_is_worded_for_the_time_before_the_weight_is_on_or_for_what_is_left() -> None:
    assert "Before the weight comes on:" in _page(mending())
    assert "Before step 3, what stands staying as it stands:" in _page(mending(), 2)


def test_a_stop_without_a_way_out_is_told_with_what_stops() -> None:
    page = _page(mending(changes=(), enough=0, verdict=Verdict.STOP, left=(STOPS,), margin=-1.0))
    assert "No few changes to the stands were found that would mend it: nothing is written." in page
    assert "Still to look at: STOP rating: Set down: A carries too much." in page


def test_where_nothing_is_found_it_says_what_was_tried_and_how_to_plan_the_places_anew() -> None:
    found = mending(changes=(), enough=0, verdict=Verdict.STOP, left=(STOPS,), margin=-1.0)
    page = _page(found)
    assert "Tried, in 100 looks: stands set otherwise, of another kind or under another place" in page
    assert "this does not say that nothing helps" in " ".join(page.split())
    assert f"plan all places anew: loadplan place {found.job.source} " in page
    assert f"loadplan place {found.job.source} --from 3 " in _page(found, 2)
    assert "too few places for that, give it --anywhere, too." in page
    spaced = replace(found, job=replace(found.job, source="my job.toml"))
    assert 'loadplan place "my job.toml"' in _page(spaced)
    assert "no change of a single stand to try here. To plan all places anew" in _page(replace(found, looked_at=0))
    for other in (replace(found, interrupted=True), replace(found, short=1)):
        assert "loadplan place" not in _page(other)


@pytest.mark.parametrize("looked_at", [0, 100])
def test_a_piece_under_several_places_is_said_not_to_have_been_replaced_or_moved(looked_at: int) -> None:
    job = plan()
    job = replace(job, supports=tuple(replace(each, piece="table") for each in job.supports))
    found = mending(job=job, changes=(), enough=0, verdict=Verdict.STOP, left=(STOPS,), looked_at=looked_at)
    told = "table is one piece under A, B, C and D: no other equipment and no other place was tried for it."
    assert _page(found).count(told) == 1
    assert "is one piece under" not in _page(replace(found, job=plan()))


def test_an_ended_search_says_that_nothing_is_written() -> None:
    assert "this is what it had found so far, and nothing is written" in _page(mending(interrupted=True, proven=False))
    page = _page(mending(changes=(), enough=0, verdict=Verdict.STOP, interrupted=True))
    assert "Nothing was found before the search was ended: nothing is written." in page


def test_nothing_to_mend_is_said_so() -> None:
    page = _page(mending(changes=(), enough=0, before=Verdict.HOLDS))
    assert "Nothing to mend: nothing is written." in page


def test_more_than_five_findings_that_are_left_are_counted() -> None:
    page = _page(mending(verdict=Verdict.CAUTION, left=(STOPS,) * 7))
    assert page.count("A carries too much.") == 5
    assert "and 2 more: `loadplan check` tells them." in page


def test_machines_read_the_kind_the_support_and_the_words() -> None:
    told = mending_dict(mending(), System.METRIC)
    assert told == {
        "schema": "loadplan-mending-1",
        "proven_fewest": True,
        "changes": [
            {"kind": "height", "support": "A", "says": "Set A to 330 mm."},
            {"kind": "add", "support": "E", "says": "Set one more stand, E."},
        ],
        "verdict": "holds",
        "ended_by": "done",
    }


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_on_a_terminal_a_bar_shows_how_far_it_is_and_is_wiped_away() -> None:
    stream = Terminal()
    with MendingProgress(stream) as progress:
        progress.tell(15, 30)
        assert stream.getvalue().endswith("15 of 30 plans looked at; Ctrl-C takes what is found so far")
        assert "###############..............." in stream.getvalue()
    assert stream.getvalue().endswith("\r\x1b[K")


def test_off_a_terminal_a_line_is_told_now_and_then() -> None:
    stream = io.StringIO()
    with MendingProgress(stream) as progress:
        for looked in range(1, 251):
            progress.tell(looked, 300)
    assert [line.split()[0] for line in stream.getvalue().splitlines()] == ["100", "200"]


@pytest.fixture
def no_way() -> StandSwap:
    return StandSwap(plan(), "Overnight", "D", (), (), clean=False, verdict=Verdict.STOP, considered=0)


def test_a_swap_without_a_way_says_what_it_would_want(no_way: StandSwap) -> None:
    page = " ".join(swap_page(no_way, System.METRIC).split())
    assert "No way was found." in page
    assert "STOP" not in page, "the plan itself may well hold"
    told = swap_dict(replace(no_way), System.METRIC)
    assert told == {"schema": "loadplan-swap-1", "steps": [], "verdict": "stop"}


def test_the_states_of_a_swap_gainsay_no_step() -> None:
    """In the middle of it nobody takes the weight back: what takes part moves as said, all else stays as it is."""
    job = plan(*but(), stand("E", "middle left", SCREW), shop=(RATCHET, SCREW, JACK))
    found = swap(job, 1, "D", RATCHET)
    told = " ".join(swap_page(found, System.METRIC).split())
    assert "CAUTION idle support: B carries nothing." in told
    assert "Leave B as it is, and go on step by step." in told
    assert "Take the weight back" not in told
    moved = replace(found, moving=("B",))
    assert "B carries nothing, as it has to in this step." in " ".join(swap_page(moved, System.METRIC).split())


def test_a_swap_that_leads_to_a_stop_is_not_to_be_done() -> None:
    job = plan(*but(), stand("E", "middle left", SCREW), shop=(RATCHET, SCREW, JACK))
    found = swap(job, 1, "D", RATCHET)
    assert "then go on:" in swap_page(found, System.METRIC)
    told = " ".join(swap_page(replace(found, verdict=Verdict.STOP), System.METRIC).split())
    assert "Do not do it like this" in told
    assert "Take the weight back by lift or hoist first." in told
    assert "go on" not in told
