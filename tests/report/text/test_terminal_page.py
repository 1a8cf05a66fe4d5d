"""The terminal page: verdict first, no line too long, each finding once, cautions always."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.model.answer import Load
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Assessment, Verdict
from loadplan.report.text.terminal_colour import Colours
from loadplan.report.text.terminal_page import page
from loadplan.report.words.cautions import boxes, cautions
from loadplan.report.words.columns import breadth
from loadplan.report.words.findings import holding, told
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System
from tests.report.builders import ROCKS, TIPS, assessment, finding

KEPT = Path(__file__).parent / "kept"
"""Pages as they were when somebody last read them; after a wanted change: delete, run, read, commit."""


def plain(whole: Assessment, units: System = System.METRIC) -> str:
    return page(whole, units, Colours.PLAIN)


@pytest.mark.parametrize("units", list(System))
def test_the_page_is_as_it_was_when_last_read(units: System) -> None:
    kept = KEPT / f"front-unit-{units.value}.txt"
    text = plain(assessment(), units)
    if not kept.exists():
        kept.parent.mkdir(exist_ok=True)
        kept.write_text(text, encoding="utf-8")
        pytest.fail(f"{kept.name} was missing and is written: read it")
    assert text == kept.read_text(encoding="utf-8")


def test_verdict_and_basis_come_first_and_the_test_right_below() -> None:
    first, second = plain(assessment()).splitlines()[:2]
    assert re.fullmatch(r"STOP +weights: data sheet", first)
    assert second == "On paper only, with the weights given. The first 50 mm of lift is the test."


def test_with_invented_weights_it_is_for_practice() -> None:
    first = plain(assessment(basis=Basis.EXAMPLE)).splitlines()[0]
    assert re.fullmatch(r"FOR PRACTICE: STOP +weights: example \(invented, for practice\)", first)


@pytest.mark.parametrize("units", list(System))
def test_no_line_is_wider_than_100(units: System) -> None:
    whole = assessment()
    long = replace(whole, job=replace(whole.job, title="words " * 60, assumed=("x" * 300,)), assumed=("x" * 300,))
    assert max(breadth(line) for line in plain(long, units).splitlines()) <= 100


def test_control_characters_in_names_do_not_reach_the_terminal() -> None:
    whole = assessment()
    bad = replace(whole, job=replace(whole.job, title="red \x1b[31m title\nSTOP"))
    text = plain(bad)
    assert "\x1b" not in text
    assert "\nSTOP\n" not in text


def test_colour_only_where_it_is_wanted_and_only_on_words() -> None:
    whole = assessment()
    coloured = page(whole, System.METRIC, Colours.ANSI)
    assert "\x1b[" not in plain(whole)
    assert coloured.startswith("\x1b[")
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == plain(whole)


def test_findings_come_worst_first_and_what_holds_is_only_counted() -> None:
    whole = assessment()
    lines = told(whole, reader_of(whole.job, System.METRIC))
    assert [line.verdict.words for line in lines] == ["stop", "stop", "caution", "caution", "note"]
    assert holding(whole) == 3
    assert "3 other checks hold." in plain(whole)


def test_notes_of_one_check_are_one_line_told_once_with_their_stages() -> None:
    whole = assessment()
    notes = [line for line in told(whole, reader_of(whole.job, System.METRIC)) if line.verdict is Verdict.NOTE]
    assert len(notes) == 1
    assert notes[0].steps == "steps 1 to 2"
    assert notes[0].text.count("goes over") == 2


def test_a_finding_that_comes_back_after_a_pause_is_told_again() -> None:
    whole = assessment()
    note = finding("snag", Verdict.NOTE, "hose", ("A hose.",))
    stages = tuple(replace(each, findings=(note,) if k in {0, 1, 3} else ()) for k, each in enumerate(whole.stages))
    lines = told(replace(whole, stages=stages), reader_of(whole.job, System.METRIC))
    assert [line.steps for line in lines] == ["steps 1 to 2", "step 4"]


def test_every_page_ends_with_the_eight_cautions() -> None:
    text = re.sub(r"\s+", " ", plain(assessment()))
    for number, caution in enumerate(cautions(Basis.DATA_SHEET, System.METRIC), start=1):
        assert f"{number} {caution}" in text


def test_a_stop_says_which_way_it_goes_over_and_how_far_it_is_past_the_edge() -> None:
    text = re.sub(r"\s+", " ", plain(assessment()))
    assert "go over to the front, turning about A, B, E and F: the subframe is 254 mm past the edge" in text
    assert "the powertrain is 54 mm past the edge" in text
    assert "can rock: too few places hold it" in text


def test_a_stage_that_was_not_judged_says_so() -> None:
    whole = assessment()
    moved = replace(whole, stages=(replace(whole.stages[0], verdict=Verdict.NOTE),))
    assert re.search(r"^Step 1 of 1: .* NOT CHECKED$", plain(moved), re.MULTILINE)


def with_most(load: Load, most: float) -> Load:
    assert load.range is not None
    return replace(load, range=replace(load.range, high=most))


def test_a_share_or_margin_beyond_its_limit_never_reads_as_the_limit() -> None:
    whole = assessment()
    stage = whole.stages[1]
    bodies = tuple(replace(each, worst_margin=0.0498) for each in stage.statics.bodies)
    loads = tuple(
        replace(each, load=with_most(each.load, 1.002 * 14709.975) if each.load else None)
        for each in stage.statics.supports
    )
    near = replace(stage, statics=replace(stage.statics, bodies=bodies, supports=loads))
    text = plain(replace(whole, stages=(near,)))
    assert " 49 mm " in text
    assert " 50 mm " not in text.split("What to look at")[0].split("---")[-1]
    assert "101 %" in text


def test_boxes_are_chosen_by_what_a_stage_does() -> None:
    whole = assessment()
    headings = [[each.heading for each in boxes(whole.job, stage, System.METRIC)] for stage in whole.stages[:5]]
    assert headings == [
        ["Before", "At touch", "Asked by this job"],
        ["50 mm up"],
        ["Leaving"],
        [],
        ["At touch", "During"],
    ]


def test_doing_up_what_ties_the_vehicle_is_back_in_and_an_inner_mount_is_not() -> None:
    whole = assessment()
    here = whole.stages[1]
    stage = here.state.stage
    back = replace(stage, undone=(), done_up=("engine mount",))
    inner = replace(stage, undone=("rear roll link",), done_up=())
    back_in, inside = (replace(here, state=replace(here.state, stage=each)) for each in (back, inner))
    assert [each.heading for each in boxes(whole.job, back_in, System.METRIC)] == ["Back in"]
    assert boxes(whole.job, inside, System.METRIC) == ()


def at_touch(loads: dict[str, float | None]) -> tuple[str, ...]:
    """Return the boxes at touch of the first step, some of its stands carrying something else [N]."""
    whole = assessment()
    here = whole.stages[0]
    supports = tuple(
        replace(each, load=None if loads[each.name] is None else Load(loads[each.name] or 0.0, None))
        if each.name in loads
        else each
        for each in here.statics.supports
    )
    touched = replace(here, statics=replace(here.statics, supports=supports))
    (told,) = [each.items for each in boxes(whole.job, touched, System.METRIC) if each.heading == "At touch"]
    return told


def test_no_stand_turns_by_hand_is_asked_only_of_those_that_are_to_carry() -> None:
    assert "no stand turns by hand" in at_touch({})
    assert "no stand turns by hand: A, B, C, D, F" in at_touch({"E": 49.0})
    assert "no stand turns by hand" in at_touch({"E": 51.0})
    assert "no stand turns by hand" in at_touch({"E": None})
    none = at_touch(dict.fromkeys("ABCDEF", 0.0))
    assert none == ("every saddle fully home", "lift on its locks")


def test_a_lift_is_locked_only_where_there_is_one() -> None:
    whole = assessment()
    stage = whole.stages[0]
    stands = tuple(each for each in stage.state.supports if not each.is_arm)
    bare = replace(stage, state=replace(stage.state, supports=stands))
    (told,) = [each.items for each in boxes(whole.job, bare, System.METRIC) if each.heading == "At touch"]
    assert "lift on its locks" in at_touch({})
    assert told == ("every saddle fully home", "no stand turns by hand")


def test_us_readers_raise_it_by_inches() -> None:
    whole = assessment()
    assert [each.heading for each in boxes(whole.job, whole.stages[1], System.US)] == ["2 in up"]
    assert "Raise 2 in, stop, look." in cautions(Basis.GUESS, System.US)[5]


def test_loads_are_absent_where_nothing_is_balanced() -> None:
    text = plain(assessment())
    stage = text.split(f"Step {TIPS + 1} of")[1]
    row = next(line for line in stage.splitlines() if line.startswith("  E "))
    assert row.split()[-4:] == ["-", "-", "-", "-"]
    assert "free to rock" in text.split(f"Step {ROCKS + 1} of")[0]
