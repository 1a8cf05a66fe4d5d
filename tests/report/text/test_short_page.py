"""The short page: what hurts first on top, worst cases, stands, steps alike in one line, no number cut."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.answer import Mode
from loadplan.model.job import SetAnew
from loadplan.model.verdict import Assessment, CheckName, Measure, StageAssessment, Verdict
from loadplan.report.text.key_figures import figure_lines, rated_loads
from loadplan.report.text.page_head import head_lines
from loadplan.report.text.short_page import short_page
from loadplan.report.text.stand_list import stand_lines
from loadplan.report.text.step_list import step_lines
from loadplan.report.text.terminal_colour import Colours
from loadplan.report.words.cautions import cautions
from loadplan.report.words.columns import breadth
from loadplan.report.words.nearest_to_tipping import Fall, nearest_in_job, nearest_in_step, worst_mode
from loadplan.report.words.tipping_direction import ways_over
from loadplan.report.words.top_findings import foremost
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System
from tests.report.builders import ROCKS, TIPS, assessment, finding

KEPT = Path(__file__).parent / "kept"


def plain(whole: Assessment, units: System = System.METRIC, step: int | None = None) -> str:
    return short_page(whole, units, Colours.PLAIN, None if step is None else whole.stages[step])


def joined(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def longer(whole: Assessment, steps: int) -> Assessment:
    """Give a job so many steps, no two neighbours alike."""
    stages = []
    for index in range(steps):
        stage = whole.stages[index % 2]
        step = replace(stage.state.stage, name=f"Step of the work number {index + 1}, as told by whoever planned it")
        stages.append(replace(stage, state=replace(stage.state, index=index, stage=step)))
    return replace(
        whole, stages=tuple(stages), job=replace(whole.job, stages=tuple(each.state.stage for each in stages))
    )


def found(whole: Assessment, verdict: Verdict, many: int) -> Assessment:
    """Let the first step find so many things, each of three lines."""
    said = tuple(
        finding("rating", verdict, f"stand {number}", (f"Trouble {number}. " + "What would help is told. " * 9,))
        for number in range(many)
    )
    first = replace(whole.stages[0], findings=said, verdict=verdict)
    return replace(whole, stages=(first, *(replace(each, findings=()) for each in whole.stages[1:])))


@pytest.mark.parametrize("units", list(System))
def test_the_short_page_is_as_it_was_when_last_read(units: System) -> None:
    kept = KEPT / f"short-front-unit-{units.value}.txt"
    text = plain(assessment(), units)
    if not kept.exists():
        kept.write_text(text, encoding="utf-8")
        pytest.fail(f"{kept.name} was missing and is written: read it")
    assert text == kept.read_text(encoding="utf-8")


def test_it_comes_in_the_order_in_which_it_is_needed() -> None:
    text = joined(plain(assessment()))
    order = [
        "STOP ",
        "weights: data sheet",
        "On paper only, with the weights given. The first 50 mm of lift is the test.",
        "Because, step 4: ",
        "Nearest to tipping ",
        "How far to lower ",
        "STOP steps 4 to 5",
        "CAUTION step 3",
        "stand equipment, tag",
        "A ratchet stand 3 t, S1 330 mm front 420 mm left 350 mm - ",
        "step verdict",
        "Assumed: 1. Not checked: 1. Read them with --all, one step in full with --step NUMBER.",
        "Cautions 1 ",
    ]
    places = [text.index(each) for each in order]
    assert places == sorted(places)


@pytest.mark.parametrize("steps", [9, 12, 40])
@pytest.mark.parametrize("many", [0, 5, 9])
def test_it_is_no_longer_than_60_lines_and_two_for_each_step_above_nine(steps: int, many: int) -> None:
    lines = plain(found(longer(assessment(), steps), Verdict.CAUTION, many)).splitlines()
    assert len(lines) <= 60 + 2 * (steps - 9)
    assert max(breadth(line) for line in lines) <= 100


def test_five_stops_and_cautions_are_told_at_the_most_and_how_many_more_there_are() -> None:
    whole = found(assessment(), Verdict.CAUTION, 9)
    text = joined(plain(replace(whole, stages=whole.stages[:3])))
    assert re.findall(r"CAUTION step 1: Trouble (\d)\.", text) == ["0", "1", "2", "3", "4"]
    assert "Further: 4 cautions; --all tells them." in text


def test_without_any_it_says_so_and_how_many_notes_there_are() -> None:
    whole = assessment()
    text = plain(replace(whole, stages=whole.stages[:1], verdict=Verdict.HOLDS))
    assert "No stop, no caution in any step.\nFurther: 1 note; --all tells it.\n" in text
    assert "Because" not in text


def test_a_step_that_is_not_checked_is_not_told_to_be_without_fault() -> None:
    whole = assessment()
    stages = (whole.stages[0], moved(whole.stages[1]))
    stages = tuple(replace(each, findings=()) for each in stages)
    text = plain(replace(whole, stages=stages, verdict=Verdict.HOLDS))
    assert "No stop, no caution in what is checked. NOT CHECKED: step 2.\n" in text
    assert "in any step" not in text


def test_the_headline_is_the_first_sentence_of_what_hurts_first() -> None:
    whole = found(assessment(), Verdict.STOP, 2)
    reader = reader_of(whole.job, System.METRIC)
    lines = head_lines(whole, foremost(whole, reader), reader, Colours.PLAIN)
    assert lines[2] == "Because, step 1: Trouble 0."


def test_the_worst_case_comes_first_and_as_given_beside_it() -> None:
    whole = assessment()
    whole = replace(whole, stages=whole.stages[:3])
    near = nearest_in_job(whole)
    assert near is not None
    assert (near.stage, near.bodies, near.fall) == (1, ("powertrain",), None)
    assert near.worst == pytest.approx(0.115, abs=5e-4)
    assert near.given == pytest.approx(0.150, abs=5e-4)
    (line,) = figure_lines(whole, reader_of(whole.job, System.METRIC))[:1]
    assert line.startswith("Nearest to tipping  worst case 115 mm, as given 150 mm: powertrain, step 2, turns about ")


def test_a_worst_case_beyond_the_edge_never_reads_as_room_that_is_left() -> None:
    whole = assessment()
    past = replace(whole, stages=(may_tip(whole.stages[1]),))
    text = joined(plain(past))
    assert "worst case 3 mm past the edge, as given " in text
    assert " 3 mm past " in text.split("what is done")[1]


def test_what_has_lost_its_margin_is_nearest_whatever_margins_others_have() -> None:
    whole = assessment()
    first, last = may_tip(whole.stages[0]), whole.stages[TIPS]
    near = nearest_in_job(replace(whole, stages=(first, last)))
    assert near is not None
    assert (near.stage, near.fall, near.worst) == (TIPS, Fall.OVER, None)
    rocks = nearest_in_step(whole.stages[ROCKS])
    assert rocks is not None
    assert rocks.fall is Fall.ROCKS
    assert "can rock" in joined(plain(whole)).split("what is done")[1]


def test_headline_finding_and_way_blame_the_same_assembly_and_not_its_neighbour() -> None:
    whole = assess(read_job(Path(shipped_folder("demo") / "rocking-on-two-stands.toml")))
    near = nearest_in_job(whole)
    assert near is not None
    assert near.bodies == ("powertrain",)
    reader = reader_of(whole.job, System.METRIC)
    stop = next(each for each in whole.stages[near.stage].findings if each.check == CheckName.BALANCE)
    assert "The powertrain is free to rock" in reader.sentence(stop.says)
    (way,) = [line for line in ways_over(whole.stages[near.stage].statics, reader) if "can rock" in line]
    assert way.startswith("The powertrain can rock: too few places hold it")


def test_what_leans_until_it_goes_has_no_margin_either() -> None:
    whole = assessment()
    stage = whole.stages[1]
    groups = tuple(replace(each, sway=None) for each in stage.statics.groups)
    near = nearest_in_step(replace(stage, statics=replace(stage.statics, groups=groups)))
    assert near is not None
    assert near.fall is Fall.LEANS


def test_a_step_that_is_not_judged_is_nearest_to_nothing() -> None:
    stage = assessment().stages[TIPS]
    assert nearest_in_step(moved(stage)) is None


def may_tip(stage: StageAssessment) -> StageAssessment:
    """Let all assemblies be 3 mm past the edge in the worst case."""
    bodies = tuple(replace(each, worst_margin=-0.003) for each in stage.statics.bodies)
    return replace(stage, statics=replace(stage.statics, bodies=bodies))


def moved(stage: StageAssessment) -> StageAssessment:
    """Roll the unit in that step."""
    rolled = replace(stage.state, stage=replace(stage.state.stage, moved=True))
    return replace(stage, state=rolled, verdict=Verdict.NOTE)


def test_it_turns_about_what_is_worst_not_about_what_is_nearest_as_given() -> None:
    stage = assessment().stages[1]
    (unit,) = (group for group in stage.statics.groups if "powertrain" in group.bodies)
    mild, hard = (
        Mode(about, ("powertrain",), (), 1.0, (("powertrain", given),), None, (("powertrain", worst),), None)
        for about, given, worst in ((("A", "B"), 0.10, 0.09), (("C", "D"), 0.12, 0.02))
    )
    groups = (replace(unit, modes=(mild, hard)),)
    assert worst_mode(replace(stage.statics, groups=groups), "powertrain") == hard


def test_neighbours_alike_share_a_line_and_others_do_not() -> None:
    whole = assessment()
    reader = reader_of(whole.job, System.METRIC)
    rows = [line.split()[0] for line in step_lines(whole, reader, Colours.PLAIN, 80)[-4:]]
    assert rows == ["1", "2-3", "4", "5"]
    gone = replace(whole.stages[2].state, on=frozenset(sorted(whole.stages[2].state.on)[1:]))
    apart = replace(whole, stages=(*whole.stages[:2], replace(whole.stages[2], state=gone), *whole.stages[3:]))
    lines = step_lines(apart, reader, Colours.PLAIN, 80)
    assert [line.split()[0] for line in lines if re.match(r"  \d", line)] == ["1", "2", "3", "4", "5"]
    assert "[off: " in lines[-3]


def test_long_names_are_cut_and_numbers_are_not() -> None:
    whole = found(longer(assessment(), 9), Verdict.CAUTION, 9)
    name = "a name of a hundred letters " * 4
    supports = tuple(replace(each, equipment=replace(each.equipment, name=name)) for each in whole.job.supports)
    text = plain(replace(whole, job=replace(whole.job, supports=supports)))
    assert re.search(r"a name of[a-z ]*\.\.\., S1 ", joined(text))
    rows = [line for line in text.splitlines() if re.match(r"  [1-9]  ", line)]
    assert len(rows) == 9
    assert all(re.search(r" (864|115) mm ", row) for row in rows)


def test_one_step_stands_in_full_above_the_cautions() -> None:
    whole = assessment()
    text = plain(whole, step=1)
    middle = text.index("\nStep 2 of 5: Unbolted, shell 50 mm up")
    assert text.index("what is done") < middle < text.index("\nCautions\n")
    assert "What to look at in step 2, worst first\n  CAUTION  margin: The powertrain is only 49 mm" in text
    assert "50 mm up (step 2, Unbolted, shell 50 mm up):" in text
    assert "Step 1 of 5" not in text
    assert plain(whole).count("\n") < text.count("\n")


def test_what_is_nearest_its_rating_is_told_with_its_step() -> None:
    whole = assessment()
    light = finding("rating", Verdict.HOLDS, "A", ("",), 700.0, 1000.0, measure=Measure.LOAD)
    heavy = finding("rating", Verdict.CAUTION, "B", ("",), 800.0, 1000.0, measure=Measure.LOAD)
    stages = (
        replace(whole.stages[0], findings=(light,)),
        replace(whole.stages[1], findings=(heavy,)),
        *whole.stages[2:],
    )
    told = joined(plain(replace(whole, stages=stages)))
    assert "Most loaded 80 % of its rating (82 kg on this floor): B, step 2" in told
    assert [each.share for each in rated_loads(replace(whole, stages=stages))] == pytest.approx([0.7, 0.8])


def test_what_a_stand_carries_while_it_is_rolled_is_not_told_as_judged() -> None:
    whole = assessment()
    rolled = tuple(moved(stage) for stage in whole.stages[:2])
    lines = stand_lines(replace(whole, stages=rolled), reader_of(whole.job, System.METRIC), 60)
    rows = [line.split() for line in lines if re.match(r"  [A-F]  ", line)]
    assert [row[-2:] for row in rows] == [["-", "-"]] * 6


def test_heights_set_anew_and_what_a_stand_stands_on_are_told() -> None:
    whole = assessment()
    anew = replace(whole.job.stages[2], set_anew=(SetAnew("E", 0.412),))
    on = replace(whole.job.supports[0], on="subframe")
    job = replace(
        whole.job,
        stages=(*whole.job.stages[:2], anew, *whole.job.stages[3:]),
        supports=(on, *whole.job.supports[1:]),
    )
    told = joined(" ".join(stand_lines(replace(whole, job=job), reader_of(job, System.METRIC), 60)))
    assert "Set anew: E to 412 mm in step 3." in told
    assert "On the subframe, not on the floor: A." in told


def test_the_eight_cautions_end_the_page() -> None:
    whole = assessment()
    text = joined(plain(whole))
    ends = " ".join(f"{number} {each}" for number, each in enumerate(cautions(whole.basis, System.METRIC), start=1))
    assert text.endswith(f"Cautions {ends} ")


def test_colour_is_on_verdicts_alone_and_says_nothing_that_the_words_do_not() -> None:
    whole = assessment()
    coloured = short_page(whole, System.METRIC, Colours.ANSI)
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == plain(whole)
    painted = re.findall(r"\x1b\[[0-9;]+m([^\x1b]*)\x1b\[0m", coloured)
    assert set(painted) == {"STOP", "CAUTION", "HOLDS ON PAPER"}
    assert len(painted) == 1 + 3 + 4
