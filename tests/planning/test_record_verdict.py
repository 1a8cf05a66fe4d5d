"""The verdict with what was read at the bay: never milder than the plan's, and never milder than what was read."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

import loadplan
from loadplan.assess import assess, told_from
from loadplan.errors import Fault, InputError
from loadplan.limits import GRAVITY
from loadplan.model.job import Job
from loadplan.model.verdict import Assessment, CheckName, Finding, Measure, Verdict
from loadplan.model.work_record import Deed, FoundAtStand, RecordEntry, WorkRecord
from loadplan.planning.record_readings import read_of_no_plan, with_record_readings
from loadplan.planning.record_verdict import findings_of, with_findings, with_record
from loadplan.report.sheet.sheet_number import sheet_number
from loadplan.report.words.record_words import SheetNumbers, check_words
from tests.checks.small_jobs import STAND, Raw, lifted_job, said, unit_job
from tests.reference.random_jobs import write_job

THREE = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}
"""Three stands carry 100, 100 and 200 kg of 400 kg centred at (0, 0), whatever their stiffness."""

BLOCK: Raw = {
    "name": "block",
    "body": "unit",
    "mass": 400,
    "mass_pm": 80,
    "at": [0, 0, 500],
    "at_pm": 60,
    "known": "data sheet",
}

ON = "on stands"

EIGHT = datetime(2026, 11, 20, 8, tzinfo=UTC)

LATER = (Deed.FINISHED, Deed.NOTED, Deed.MOVED)


def on_three(folder: Path, **more: object) -> Job:
    """A block on three stands, and left on them in a second step."""
    stage = [{"name": ON, "in_place": list(THREE)}, {"name": "later"}]
    return loadplan.read_job(write_job(unit_job(THREE, **({"part": [BLOCK], "stage": stage} | more)), folder))


def weighed(support: str, mass: float) -> FoundAtStand:
    return FoundAtStand(support, mass * GRAVITY)


def read(*found: FoundAtStand, step: str = ON) -> WorkRecord:
    """What was read, seven minutes apart."""
    return WorkRecord(
        tuple(
            RecordEntry(EIGHT + timedelta(minutes=7 * number), "K", "", step, Deed.READ, found=each)
            for number, each in enumerate(found)
        )
    )


def of_readings(assessment: Assessment, step: int = 0) -> list[Finding]:
    return [each for each in assessment.stages[step].findings if each.check is CheckName.READING]


def _refused(*_: object) -> None:
    raise InputError(Fault("", "", "readings", "tell nothing"))


def test_where_nothing_was_read_the_plan_stays_what_it_is(tmp_path: Path) -> None:
    planned = assess(on_three(tmp_path))
    assert with_record(planned, WorkRecord()) is planned
    noted = WorkRecord((RecordEntry(EIGHT, "K", "", ON, Deed.NOTED, "a clip was still on"),))
    assert with_record(planned, noted) is planned


def test_a_stand_that_was_read_over_its_rating_stops_the_step_and_the_job(tmp_path: Path) -> None:
    """244 kg under C fit the block inside its tolerance, and are more than the 241 kg that a stand may carry."""
    planned = assess(on_three(tmp_path, equipment=[STAND | {"rating": 241}]))
    assert planned.verdict < Verdict.STOP
    told = with_record(planned, read(weighed("C", 244)))
    assert [told.verdict, told.stages[0].verdict] == [Verdict.STOP, Verdict.STOP]
    assert [each.check for each in told.stages[1].findings if each.verdict is Verdict.STOP] == [CheckName.RATING], (
        "what C carries it carries in the next step, too"
    )
    (finding,) = of_readings(told)
    assert said(finding).startswith("Read at the bay 2026-11-20 08:00 by K: C reads 24")
    assert "more than the 241 kg that one stand may carry" in said(finding)
    assert set(planned.stages[0].findings) < set(told.stages[0].findings)
    place = told.stages[0].findings.index(finding)
    assert place > [each.check for each in told.stages[0].findings].index(CheckName.PUSH)
    assert [each.check for each in told.stages[0].findings][place + 1] is CheckName.MARGIN


def test_a_reading_that_fits_changes_no_verdict_and_is_told(tmp_path: Path) -> None:
    planned = assess(on_three(tmp_path))
    told = with_record(planned, read(weighed("C", 201), FoundAtStand("A", turns=False)))
    assert [each.verdict for each in told.stages] == [each.verdict for each in planned.stages]
    assert [each.verdict for each in of_readings(told)] == [Verdict.NOTE, Verdict.NOTE]
    assert [each.load for each in told.stages[0].state.stage.readings] == [pytest.approx(201 * GRAVITY), None]
    assert told.job.stages[0] == told.stages[0].state.stage
    assert sheet_number(told.job) == sheet_number(planned.job), "the plan stays the plan"


def test_scales_that_contradict_the_plan_stop_the_step_in_which_they_were_read(tmp_path: Path) -> None:
    planned = assess(on_three(tmp_path, part=[BLOCK | {"mass_pm": 4, "at_pm": 5}]))
    told = with_record(planned, read(weighed("A", 100), weighed("B", 150), weighed("C", 200)))
    stops = [each for each in of_readings(told) if each.verdict is Verdict.STOP]
    assert (stops[-1].subject, stops[-1].measure) == (ON, Measure.LOAD)
    assert said(stops[-1]) == (
        "What the scales read at the bay contradicts the plan, or one reading the other; what fits worst: B. Stop: "
        "nobody knows what stands there. Take B again, with the scale at nought and the stand at its place by tape; "
        "then the others."
    )
    assert told.stages[1].verdict is planned.stages[1].verdict, "nothing is learnt from them"


def test_what_scales_tell_of_the_weights_is_counted_in_every_step(tmp_path: Path) -> None:
    """By hand: 336 kg instead of 400 take 0.84 of the push, which the limit lets the heavier block alone withstand."""
    plain = assess(on_three(tmp_path))
    withstood = min(push.force for group in plain.stages[1].statics.groups for push in group.pushes)
    planned = assess(on_three(tmp_path, limits={"push": withstood / 2.2}))
    assert planned.verdict < Verdict.CAUTION
    told = with_record(planned, read(weighed("A", 84), weighed("B", 84), weighed("C", 168)))
    assert [each.verdict for each in of_readings(told)] == [Verdict.NOTE] * 3, "each fits by itself"
    assert [each.verdict for each in told.stages] == [Verdict.CAUTION, Verdict.CAUTION]
    for stage in told.stages:
        (worse,) = [each for each in stage.findings if each.verdict is Verdict.CAUTION]
        assert worse.check is CheckName.PUSH
        assert said(worse).startswith("With the weights that scales at the bay tell in step 1: ")
        assert not worse.all_cures


def test_what_the_plan_stops_for_is_not_undone_by_reading_it_again(tmp_path: Path) -> None:
    stage = [{"name": ON, "in_place": list(THREE), "readings": [{"support": "C", "load": 350}]}, {"name": "later"}]
    planned = assess(on_three(tmp_path, stage=stage))
    assert planned.verdict is Verdict.STOP
    told = with_record(planned, read(weighed("C", 200)))
    assert told.stages[0].verdict is Verdict.STOP
    assert [each.verdict for each in of_readings(told)] == [Verdict.STOP, Verdict.NOTE]


def test_readings_that_together_weigh_too_much_are_told_with_each_moment(tmp_path: Path) -> None:
    """By hand: with its centre 120 mm off A may carry 404 (0.325 + 0.2) = 212 kg, and B; together no more than 404."""
    planned = assess(on_three(tmp_path, part=[BLOCK | {"mass_pm": 4, "at_pm": 120}]))
    told = with_record(planned, read(weighed("A", 205), weighed("B", 205)))
    together = [said(each) for each in of_readings(told) if "together read" in said(each)]
    assert len(together) == 1
    assert together[0].startswith("Read at the bay 2026-11-20 08:00 by K and 2026-11-20 08:07 by K: A and B together")


def test_what_was_read_before_something_moved_counts_and_says_so(tmp_path: Path) -> None:
    record = read(weighed("C", 200))
    moved = RecordEntry(EIGHT + timedelta(hours=1), "", "", "", Deed.MOVED)
    told = with_record(assess(on_three(tmp_path)), WorkRecord((*record.entries, moved)))
    open_yet, finding = of_readings(told)
    assert said(finding).endswith("It fits. Something moved since: read again.")
    assert open_yet.verdict is Verdict.CAUTION


def test_what_is_in_doubt_counts_in_its_step_where_nothing_was_read_too(tmp_path: Path) -> None:
    planned = assess(on_three(tmp_path))
    moved = WorkRecord((RecordEntry(EIGHT, "", "", "later", Deed.MOVED),))
    told = with_record(planned, moved)
    assert [each.verdict for each in told.stages] == [planned.stages[0].verdict, Verdict.CAUTION]
    assert (told.verdict, told.job) == (Verdict.CAUTION, planned.job)
    both = with_record(planned, WorkRecord((*moved.entries, *read(weighed("C", 200), step="gone").entries)))
    assert [each.subject for each in of_readings(both) + of_readings(both, 1)] == ["the record", "what moved"]
    here = RecordEntry(EIGHT, "", "", ON, Deed.MOVED)
    in_one = with_record(planned, WorkRecord((here, *read(weighed("C", 200), step="gone").entries)))
    assert {each.subject for each in of_readings(in_one)} == {"the record", "what moved"}
    assert with_record(planned, WorkRecord(unreadable="x.toml: is no TOML")).verdict is Verdict.CAUTION


def test_a_stop_that_was_read_in_a_step_that_is_done_counts_from_any_step_on(tmp_path: Path) -> None:
    planned = assess(on_three(tmp_path))
    found = findings_of(planned, read(weighed("C", 350)))
    told = with_findings(told_from(planned, 1), found)
    assert told.verdict is Verdict.STOP
    assert told.stages[0].verdict is Verdict.STOP
    fits = with_findings(told_from(planned, 1), findings_of(planned, read(weighed("C", 200))))
    assert not fits.stages[0].is_judged


def test_a_job_of_which_nothing_is_judged_does_not_hold_because_a_reading_fits(tmp_path: Path) -> None:
    stage = [{"name": ON, "in_place": list(THREE)}, {"name": "later", "moved": True}]
    planned = assess(on_three(tmp_path, stage=stage))
    told = with_findings(told_from(planned, 1), findings_of(planned, read(weighed("C", 200))))
    assert told.verdict is Verdict.NOTE


def test_what_was_read_counts_until_the_job_is_over(tmp_path: Path) -> None:
    planned, record = assess(on_three(tmp_path)), read(weighed("C", 350))
    end, note, again = (RecordEntry(EIGHT + timedelta(hours=n), "", "", "", deed) for n, deed in enumerate(LATER, 1))
    over = WorkRecord((*record.entries, end, note))
    assert over.is_over
    assert with_record(planned, over) == planned
    says = f"{check_words(planned.job, over, SheetNumbers(''))}"
    assert "counts no more, since the job is finished" in says
    begun_again = WorkRecord((*over.entries, again))
    assert with_record(planned, begun_again).verdict is Verdict.STOP
    assert "the worse of" in f"{check_words(planned.job, begun_again, SheetNumbers(''))}"


def test_what_the_plan_has_no_more_is_not_taken_for_something_else(tmp_path: Path) -> None:
    """A name that is no stand would else be the lift's own gauge."""
    job = loadplan.read_job(write_job(lifted_job(), tmp_path))
    first = job.stages[0].name
    record = WorkRecord((*read(weighed("Q", 90), step=first).entries, *read(weighed("A", 90), step="gone").entries))
    assert with_record_readings(job, record) == job
    assert [each.found and each.found.support for each in read_of_no_plan(job, record)] == ["Q", "A"]
    gauge = read(weighed("bay", 900), step=first)
    assert with_record_readings(job, gauge).stages[0].readings != ()
    assert read_of_no_plan(job, gauge) == ()


def test_where_scales_tell_nothing_of_the_weights_it_is_said_to_be_not_checked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("loadplan.planning.weight_learning.learn_weights", _refused)
    planned = assess(on_three(tmp_path))
    told = with_record(planned, read(weighed("C", 200)))
    says = (f"{ON}: what scales read at the bay tells nothing of the weights: tell nothing.",)
    assert told.not_checked == (*planned.not_checked, says)
    assert told.verdict is planned.verdict


def test_readings_that_cannot_be_judged_are_a_stop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("loadplan.planning.judged_readings.reading.check", _refused)
    planned = assess(on_three(tmp_path))
    told = with_record(planned, read(weighed("C", 200)))
    assert told.stages[0].verdict is Verdict.STOP
    (finding,) = of_readings(told)
    assert finding.subject == ON
    assert said(finding) == "What was read at the bay cannot be judged: readings: tell nothing. Stop: look."


def test_a_unit_that_is_rolled_stays_not_checked_unless_its_readings_stop_it(tmp_path: Path) -> None:
    stage = [{"name": ON, "in_place": list(THREE)}, {"name": "later", "moved": True}]
    planned = assess(on_three(tmp_path, stage=stage))
    fits = with_record(planned, read(weighed("C", 200), step="later"))
    assert fits.stages[1].verdict is Verdict.NOTE
    worse = with_record(planned, replace(read(weighed("C", 350), step="later")))
    assert (worse.stages[1].verdict, worse.verdict) == (Verdict.STOP, Verdict.STOP)


def test_what_fits_by_itself_and_not_beside_another_is_told_with_that(tmp_path: Path) -> None:
    """By hand: A and B each fit 100 ± 26 kg; that they differ by 45 kg puts the centre 34 mm off, known to 12 mm."""
    planned = assess(on_three(tmp_path, part=[BLOCK | {"at_pm": [60, 12, 25]}]))
    told = with_record(planned, read(weighed("A", 78), weighed("B", 123)))
    texts = [said(each) for each in of_readings(told)]
    assert any("contradicts the plan, or one reading the other; what fits worst: A." in each for each in texts)
    (first,) = [each for each in texts if "by K: A reads" in each]
    assert first.endswith("By itself it could be so; together with what was read at B it cannot.")
    (both,) = [each for each in texts if "A and B cannot both be so" in each]
    assert both.startswith("Read at the bay 2026-11-20 08:00 by K and 2026-11-20 08:07 by K: A and B")
