"""The four kinds of readings at the bay: a scale under a stand, a hook's, the lift's own gauge, and a hand."""

from html import unescape
from pathlib import Path

import pytest

from loadplan.files.work_record_file import read_record
from loadplan.model.verdict import Verdict
from loadplan.model.work_record import Deed
from loadplan.planning.record_readings import with_record_readings
from loadplan.planning.weight_learning import learn_weights
from tests.board.at_the_bay import AtTheBay
from tests.board.desk import Page, opened, page_on
from tests.checks.small_jobs import lifted_job
from tests.reference.random_jobs import write_job

HOIST = {"name": "chain hoist", "kind": "hoist", "rating": 900}


@pytest.fixture
def bay(tmp_path: Path) -> AtTheBay:
    """A unit on four stands with a hoist's hook in it, the vehicle on its lift."""
    raw = lifted_job()
    raw["equipment"].append(HOIST)
    raw["support"].append({"name": "hook", "use": "chain hoist", "body": "unit", "at": [-1250, 0, 700]})
    raw["stage"][0]["in_place"].append("hook")
    return AtTheBay(opened(tmp_path, write_job(raw, tmp_path)))


def planned(bay: AtTheBay, *names: str) -> float:
    """What the first step's supports are planned to carry together [N]."""
    loads = {each.name: each.load for each in bay.page.draft.assessment.stages[0].statics.supports}
    return sum(load.expected for name in names if (load := loads[name]) is not None)


def pads(bay: AtTheBay) -> list[str]:
    return [each.name for each in bay.page.draft.assessment.stages[0].state.supports if each.is_arm]


def test_each_place_is_asked_for_by_what_reads_it(bay: AtTheBay) -> None:
    text = unescape(bay.look(0))
    assert "Scale under A reads (kg)" in text
    assert "Scale on the hook of hook reads (kg)" in text
    assert "Gauge of bay reads, all its arms together (kg)" in text
    assert "past first touch by (mm)" in text
    assert text.count("It turns by hand") == 4, "a hook and a lift are turned by nobody"


def test_what_is_typed_is_asked_for_in_the_units_in_which_it_is_taken(tmp_path: Path) -> None:
    bay = AtTheBay(page_on(tmp_path, "us-units"))
    bay.say(what="forgotten", words="a hose")
    text = unescape(bay.look(0))
    assert "Scale under A reads (lb)" in text
    assert "In front of the front axle line (in);" in text
    assert "Left of the center line (in);" in text
    bay.say(what="read", support="A", load="100")
    found = bay.record[-1].found
    assert found is not None
    assert found.load == pytest.approx(100 * 0.45359237 * 9.80665, abs=0.05), "kept to a tenth of a newton"


def test_a_hook_is_over_the_unit_and_is_set_to_no_height(bay: AtTheBay) -> None:
    lines = [words for words, _, _ in bay.lines(0) if words.startswith("hook: ")]
    assert lines == ["hook: chain hoist, at 1250 mm back, on the centre line, over the unit", "hook: hook it in"]


@pytest.mark.slow
def test_hook_and_gauge_are_kept_judged_and_told(bay: AtTheBay) -> None:
    gauge = planned(bay, *pads(bay))
    assert bay.say(what="read", support="hook", load="5 kg").status_code == 303
    assert bay.say(what="read", support="bay", load=f"{gauge:.0f} N").status_code == 303
    hook, lift = (each.found for each in bay.record if each.deed is Deed.READ)
    assert hook is not None
    assert lift is not None
    assert lift.planned == pytest.approx(gauge, rel=1e-3)
    text = unescape(bay.look(0))
    assert "bay reads" in text
    assert "hook reads 5 kg" in text
    bay.say(what="read", support="bay", load="4100 kg")
    text = unescape(bay.look(0))
    assert "more than the 4000 kg that bay may lift" in text
    assert not any(may for _, _, may in bay.lines(0))


@pytest.mark.parametrize(
    ("form", "says"),
    [
        ({"support": "hook", "turns": "yes"}, "Not kept: type what the scale reads."),
        ({"support": "bay", "turns": "no"}, "Not kept: type what the scale reads."),
        ({"support": "A", "load": "90", "turns": "yes"}, "one after the other"),
        ({"support": "A", "load": "90", "lowered": "-3"}, "past first touch the lift is down by 0 or more"),
        ({"support": "A", "load": "90", "lowered": "700"}, "less than half a metre"),
        ({"support": "A", "load": "99999999 t"}, "Not taken"),
        ({"support": "A", "load": "9e30"}, "Not taken"),
        ({"support": "sill", "load": "90"}, "not in the step any more"),
    ],
)
def test_what_cannot_be_read_so_is_refused(bay: AtTheBay, form: dict[str, str], says: str) -> None:
    answer = bay.say(what="read", **form)
    assert answer.status_code == 422
    assert says in unescape(answer.text)
    assert bay.record == ()


@pytest.mark.slow
def test_scales_read_with_the_lift_at_several_heights_all_count(bay: AtTheBay) -> None:
    """What was read last at a stand is judged at the bay; the weights are learnt from all heights."""
    for down in ("8", "10"):
        assert bay.say(what="read", support="A", load="60", lowered=down).status_code == 303
    last = [each.found for each in bay.record if each.found]
    assert [each.lowered for each in last] == pytest.approx([0.008, 0.010])
    assert last[0].planned is None, "the plan is of the lift 10 mm down"
    assert last[1].planned is not None
    assert "with the lift lowered 10 mm" in unescape(bay.look(0))
    job = with_record_readings(bay.page.draft.job, read_record(bay.page.path))
    assert [each.lowered for each in job.stages[0].readings] == pytest.approx([0.008, 0.010])
    assert learn_weights(job, 0).verdict is Verdict.STOP, "60 kg at both heights contradict each other"


def test_no_height_of_the_lift_is_asked_where_it_sets_nothing_down(page: Page) -> None:
    bay = AtTheBay(page)
    assert "past first touch by" in bay.look(0)
    bay.tick_all(0)
    bay.say(what="done")
    assert "past first touch by" not in bay.look(1)
    answer = bay.say(1, what="read", support="A", load="90", lowered="3")
    assert "the lift sets nothing down" in unescape(answer.text)
