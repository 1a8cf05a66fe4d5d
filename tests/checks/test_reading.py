"""What scales and hands find in a step, against the plan."""

from math import sqrt
from pathlib import Path

import pytest

from loadplan.checks import reading
from loadplan.checks.case import Case
from loadplan.model.answer import LoadRange
from loadplan.model.job import Stage, StageReading
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, StageAssessment, Verdict
from loadplan.report.json_output import to_dict
from loadplan.statics.expected_reading import ExpectedReading, expected_readings
from loadplan.statics.load_response import LoadResponse
from loadplan.statics.unsolved import UnsolvedError
from loadplan.units import System
from tests.checks import builders
from tests.checks.small_jobs import G, Raw, found, judged, lifted_job, part, said, stands, the, unit_job

THREE = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}
"""Three stands carry 100, 100 and 200 kg of 400 kg centred at (0, 0), whatever their stiffness."""

FOUR = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 300, 200], "D": [-400, -300, 200]}

LOOSE = {"name": "block", "body": "unit", "mass": 400, "mass_pm": 8, "at": [0, 0, 500], "at_pm": 10}
"""Known to 8 kg and 10 mm."""


def read(folder: Path, places: dict[str, list[int]], *readings: Raw, **more: object) -> StageAssessment:
    stage = [{"name": "on stands", "in_place": list(places), "readings": list(readings)}]
    job = unit_job(places, **({"stage": stage, "part": [LOOSE]} | more))  # type: ignore[arg-type]
    (one,) = judged(job, folder).stages
    return one


def expected(folder: Path, places: dict[str, list[int]], *readings: Raw, **more: object) -> ExpectedReading:
    stage = [{"name": "on stands", "in_place": list(places), "readings": list(readings)}]
    job = judged(unit_job(places, **({"stage": stage, "part": [LOOSE]} | more)), folder)  # type: ignore[arg-type]
    (one,) = expected_readings(job.job, job.stages[0].state, job.stages[0].statics)
    return one


def test_three_stands_answer_to_the_weights_alone(tmp_path: Path) -> None:
    """Holds a hand value: C = m (0.4 − x) / 0.8, so u = √((0.5 · 4 kg)² + (500 kg/m · 5 mm)²); JCGM 100, 5.1.2."""
    told = expected(tmp_path, THREE, {"support": "C", "load": 200, "pm": 1})
    assert told.expected == pytest.approx(200 * G)
    assert told.spread == pytest.approx(2 * sqrt(2.0**2 + 2.5**2) * G, rel=1e-4)


def test_four_stands_answer_to_their_heights(tmp_path: Path) -> None:
    """Holds a hand value: a saddle 1 mm off changes each load by k/4 · 1 mm; rectangular, so over √3; four saddles."""
    exact = {"part": [LOOSE | {"mass_pm": 0, "at_pm": 0}]}
    told = expected(tmp_path, FOUR, {"support": "A", "load": 100, "pm": 1}, **exact)
    assert told.spread == pytest.approx(2 * sqrt(4) * 2500 / 4 / sqrt(3), rel=1e-6)


def test_where_loads_cannot_be_computed_a_reading_is_told_as_not_checked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    raw = {"support": "C", "load": 200, "pm": 1}
    stage = read(tmp_path, THREE, raw)
    job = judged(unit_job(THREE, stage=[{"name": "on stands", "in_place": list(THREE), "readings": [raw]}]), tmp_path)

    def gives_up(*_: object) -> None:
        raise UnsolvedError

    monkeypatch.setattr(LoadResponse, "loads", gives_up)
    (told,) = expected_readings(job.job, job.stages[0].state, stage.statics)
    assert told == ExpectedReading(job.stages[0].state.stage.readings[0], None, None, None, None)
    (told_not,) = reading.check(Case(job.job, stage.state, stage.statics, None))
    assert isinstance(told_not, NotChecked)
    assert told_not.says == ("on stands: the reading at C is not checked: what it should come to is not known.",)


@pytest.mark.parametrize(("load", "pm"), [(490.0, 20.0), (0.0, 501.0)])
def test_what_is_past_a_rating_is_told_though_nothing_says_what_it_should_come_to(
    load: float, pm: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The place may take 500 N, which 490 N with 20 N that the scale may be off is past."""
    found = StageReading("A", load, pm)
    monkeypatch.setattr(reading, "expected_readings", lambda *_: (ExpectedReading(found, None, None, None, None),))
    monkeypatch.setattr(reading, "misfits_together", lambda *_: ())
    judged = builders.in_stage(builders.case(builders.support("A")), Stage("step", readings=(found,)))
    told = builders.about(reading.check(judged), "A")
    assert (told.check, told.measure) == (CheckName.READING, Measure.LOAD)
    assert (told.verdict, told.value, told.limit) == (Verdict.STOP, load, 500.0)
    assert builders.words(told.says).startswith(f"A reads {load:.0f} N, told as mass. Stop: that is,")


@pytest.mark.parametrize(
    ("load", "verdict"),
    [
        # U is 6.40 kg by the first test, with 2 kg of the scale 6.71 kg; past 209 kg + 2 kg no weights inside do it.
        (200, Verdict.NOTE),
        (206.6, Verdict.NOTE),
        (206.8, Verdict.CAUTION),
        (193.2, Verdict.CAUTION),
        (193.4, Verdict.NOTE),
        (230, Verdict.STOP),
        (170, Verdict.STOP),
        (0, Verdict.STOP),
    ],
)
def test_a_scale_is_held_against_what_is_likely_and_what_is_possible(
    tmp_path: Path, load: float, verdict: Verdict
) -> None:
    stage = read(tmp_path, THREE, {"support": "C", "load": load, "pm": 2})
    assert the(stage, "reading").verdict is verdict
    assert stage.verdict >= verdict or verdict is Verdict.NOTE


def test_the_bound_is_widened_by_what_the_scale_may_be_off(tmp_path: Path) -> None:
    bounds = read(tmp_path, THREE, {"support": "C", "load": 200, "pm": 2}).statics.load("C")
    assert bounds is not None
    assert isinstance(bounds.range, LoadRange)
    assert bounds.range.most is not None
    most = bounds.range.most / G
    inside, outside = (
        the(read(tmp_path, THREE, {"support": "C", "load": most + 2 + off, "pm": 2}), "reading")
        for off in (-0.01, 0.01)
    )
    assert (inside.verdict, outside.verdict) == (Verdict.CAUTION, Verdict.STOP)
    assert outside.limit == pytest.approx(most * G)


def test_what_a_difference_may_mean_is_said_each_way(tmp_path: Path) -> None:
    more, less, fits = (
        said(the(read(tmp_path, THREE, {"support": "C", "load": load, "pm": 2}), "reading")) for load in (230, 170, 200)
    )
    assert "Stop, and look" in more
    assert "presses on it or pulls it down" in more
    assert "still tied that holds it up" in less
    for each in (more, less):
        assert "place than planned" in each
        assert "weights that are wrong" in each
    assert fits.startswith("C reads 200 kg; the plan says 200 kg ±")
    assert fits.endswith("It fits.")


@pytest.mark.parametrize(("reads", "verdict"), [(205, Verdict.NOTE), (220, Verdict.STOP)])
def test_no_more_is_called_likely_than_is_possible(tmp_path: Path, reads: float, verdict: Verdict) -> None:
    """By hand: springs that also pull would give 100 kg ± 147 kg; on stands, which push, at most half of 400 kg."""
    told = the(read(tmp_path, FOUR, {"support": "A", "load": reads, "pm": 2}), "reading")
    assert told.verdict is verdict
    assert f"A reads {reads} kg; the plan says 100 kg, likely between 0 kg and 211 kg." in said(told)


@pytest.mark.parametrize(
    ("turns", "carries", "verdict"),
    # Common practice, no source: what turns carries up to 300 N, what does not carries 50 N or more.
    [(True, 20, Verdict.NOTE), (True, 200, Verdict.STOP), (False, 200, Verdict.NOTE), (False, 1, Verdict.STOP)],
)
def test_a_hand_tells_much_from_little(tmp_path: Path, *, turns: bool, carries: float, verdict: Verdict) -> None:
    light = LOOSE | {"mass": 2 * carries, "mass_pm": 0.02, "at_pm": 0.1}
    told = the(read(tmp_path, THREE, {"support": "C", "turns": turns}, part=[light]), "reading")
    assert told.verdict is verdict
    assert said(told).startswith("C turns by hand; the plan" if turns else "C does not turn by hand; the plan")


def test_a_hand_that_differs_from_the_likely_cautions(tmp_path: Path) -> None:
    """C is expected at 300 N + 30 N, known to a fifth: it may carry 280 N, which turns."""
    light = LOOSE | {"mass": 2 * 330 / G, "mass_pm": 13, "at_pm": 0.1}
    told = the(read(tmp_path, THREE, {"support": "C", "turns": True}, part=[light]), "reading")
    assert told.verdict is Verdict.NOTE
    narrow = light | {"mass_pm": 2.5, "at_pm": 25}
    told = the(read(tmp_path, THREE, {"support": "C", "turns": True}, part=[narrow]), "reading")
    assert told.verdict is Verdict.CAUTION
    assert told.limit == pytest.approx(300.0)


def test_what_may_tip_inside_its_tolerance_has_no_bounds_and_says_so(tmp_path: Path) -> None:
    near = {"name": "block", "body": "unit", "mass": 400, "mass_pm": 8, "at": [0, 0, 500], "at_pm": 450}
    job = unit_job(THREE, part=[near])  # type: ignore[arg-type]
    job["stage"] = [{"name": "on", "in_place": list(THREE), "readings": [{"support": "C", "load": 200, "pm": 2}]}]
    told = judged(job, tmp_path)
    assert any("the reading at C is not checked" in "".join(map(str, each)) for each in told.not_checked)


def lift_read(folder: Path, *readings: Raw) -> tuple[StageAssessment, dict[str, object]]:
    job = lifted_job()
    job["part"] = [each | {"mass_pm": 10} for each in job["part"]]
    job["stage"][0] |= {"readings": list(readings)}
    done = judged(job, folder)
    return done.stages[0], to_dict(done, System.METRIC)["stages"][0]  # type: ignore[index, call-overload, return-value]


def test_the_lift_s_own_gauge_reads_all_its_arms(tmp_path: Path) -> None:
    stage, _ = lift_read(tmp_path, {"support": "bay", "load": 1000, "pm": 20})
    arms = sum(load.expected for name in ("FL", "FR", "RL", "RR") if (load := stage.statics.load(name)))
    (told,) = stage.state.stage.readings
    job = judged(lifted_job(), tmp_path)
    assert told.support == "bay"
    plan = expected_readings(job.job, stage.state, stage.statics)[0].expected
    assert plan == pytest.approx(arms)


def test_alone_on_the_lift_the_gauge_reads_the_weight(tmp_path: Path) -> None:
    """1200 kg, 20 kg either way at the most: what holds it all holds its weight, however the arms share it."""
    job = lifted_job(support=[])
    job["part"] = [each | {"mass_pm": 10} for each in job["part"]]
    verdicts = {}
    for load in (1200, 1219, 1222, 1178):
        job["stage"] = [{"name": "up", "readings": [{"support": "bay", "load": load, "pm": 1}]}]
        verdicts[load] = the(judged(job, tmp_path).stages[0], "reading").verdict
    assert verdicts == {
        1200: Verdict.NOTE,
        1219: Verdict.CAUTION,
        1222: Verdict.STOP,
        1178: Verdict.STOP,
    }


def test_a_reading_further_down_is_held_against_the_plan_there(tmp_path: Path) -> None:
    """Told by a job that lowers as far, in which the reading says nothing of it."""
    further, plain = lifted_job(), lifted_job()
    further["stage"][0] |= {"readings": [{"support": "A", "load": 50, "pm": 1, "lowered": 14}]}
    plain["stage"][0] |= {"lowered": 14, "readings": [{"support": "A", "load": 50, "pm": 1}]}
    one, other = (
        to_dict(judged(job, tmp_path), System.METRIC)["stages"][0]["readings"][0]  # type: ignore[index, call-overload]
        for job in (further, plain)
    )
    assert one["expected_n"] == pytest.approx(other["expected_n"])
    assert one["lowered_mm"] == pytest.approx(14)
    assert other["lowered_mm"] is None


def test_the_machine_output_lists_what_was_found(tmp_path: Path) -> None:
    _, told = lift_read(tmp_path, {"support": "A", "load": 50, "pm": 1}, {"support": "B", "turns": False})
    first, second = told["readings"]  # type: ignore[misc]
    assert (first["support"], second["support"]) == ("A", "B")
    assert first["found_n"] == pytest.approx(50 * G)
    assert second["found_n"] is None
    assert second["turns"] is False
    assert all(each["expected_n"] > 0 and each["pm_n"] > 0 for each in (first, second))


def test_a_step_without_readings_has_none(tmp_path: Path) -> None:
    stage, told = lift_read(tmp_path)
    assert told["readings"] == []
    assert not [each for each in stage.findings if isinstance(each, Finding) and each.check.value == "reading"]


def each_reads(*loads: float, pm: float = 2) -> list[Raw]:
    return [{"support": name, "load": load, "pm": pm} for name, load in zip("ABCD", loads, strict=False)]


@pytest.mark.parametrize("loads", [(150, 150, 150, 150), (140, 140, 140), (60, 60, 60, 60)])
def test_scales_that_fit_one_by_one_and_come_to_what_it_cannot_weigh_are_a_stop(
    tmp_path: Path, loads: tuple[float, ...]
) -> None:
    """On four stands 3 mm off each may read anything from nothing to half of 400 kg ± 8 kg; all of them may not."""
    stage = read(tmp_path, FOUR, *each_reads(*loads), limits={"uneven_touch": 3})
    alone = read(tmp_path, FOUR, *each_reads(*loads)[:1], limits={"uneven_touch": 3})
    assert the(alone, "reading").verdict < Verdict.CAUTION
    (stop,) = [each for each in stage.findings if each.verdict is Verdict.STOP]
    assert (stop.subject, stop.value) == (", ".join("ABCD"[: len(loads)]), pytest.approx(sum(loads) * G))
    assert stop.limit == pytest.approx((408 if sum(loads) > 408 else 392) * G)
    by_itself = said(the(stage, "reading", "A"))
    assert "It fits." not in by_itself
    assert (
        f"By itself it could be so; together with what was read at B{', ' if len(loads) > 3 else ' and '}C" in by_itself
    )
    told = said(stop)
    assert f"and C together read {sum(loads):.0f} kg" in told.replace(", C and D", " and C")
    end, why = ("most 408 kg", "something presses") if sum(loads) > 408 else ("least 392 kg", "something still tied")
    assert f"and what stands on them weighs at {end}. Stop, and look: {why}" in told


@pytest.mark.parametrize("loads", [(104, 104, 104, 104), (60, 60, 60), (96, 96, 96, 96)])
def test_scales_that_come_to_what_it_may_weigh_fit(tmp_path: Path, loads: tuple[float, ...]) -> None:
    """All four come to 400 kg ± 8 kg, give or take 2 kg each; of three nobody knows what the fourth carries."""
    stage = read(tmp_path, FOUR, *each_reads(*loads), limits={"uneven_touch": 3})
    assert the(stage, "reading", "A").verdict < Verdict.CAUTION


def test_what_the_arms_carry_is_counted_once_beside_the_gauge(tmp_path: Path) -> None:
    """The gauge shows 1200 kg, which is what the pads read together; with 1300 kg there the gauge says so alone."""
    job = lifted_job(support=[])
    pads = [{"support": each["name"], "load": 300, "pm": 3} for each in job["point"]]
    readings = [{"support": "bay", "load": 1200, "pm": 5}, *pads]
    job["stage"] = [{"name": "up", "readings": readings}]
    (stage,) = judged(job, tmp_path).stages
    assert the(stage, "reading", "bay").verdict < Verdict.CAUTION
    assert all(the(stage, "reading", each["support"]).verdict < Verdict.STOP for each in pads)


def test_what_stands_on_the_unit_is_counted_once(tmp_path: Path) -> None:
    """A box of 90 kg on three stands on the unit: these read 30 kg each, those on the floor all 490 kg."""
    on = {name: [*place[:2], 700] for name, place in zip("EFG", THREE.values(), strict=True)}
    job = unit_job(FOUR, limits={"uneven_touch": 3})
    job["body"].append({"name": "box"})
    job["part"].append(part("lid", "box", 90, [0, 0, 800]))
    job["support"] += [each | {"on": "unit"} for each in stands(on, "box")]
    readings = [*each_reads(122.5, 122.5, 122.5, 122.5), *({"support": each, "load": 30, "pm": 2} for each in on)]
    job["stage"] = [{"name": "down", "in_place": [*FOUR, *on], "readings": readings}]
    (stage,) = judged(job, tmp_path).stages
    assert the(stage, "reading", "A").verdict < Verdict.CAUTION
    readings[0]["load"] = 150
    (stage,) = judged(job, tmp_path).stages
    assert the(stage, "reading", "A, B, C, D").verdict is Verdict.STOP


def by_hand(names: str, *, turns: bool) -> list[Raw]:
    return [{"support": name, "turns": turns} for name in names]


@pytest.mark.parametrize(
    ("readings", "says"),
    [
        (by_hand("ABCD", turns=True), "A, B, C and D together carry at most 122 kg, and what stands on them weighs at"),
        ([*by_hand("ABC", turns=True), {"support": "D", "load": 150, "pm": 2}], "together carry at most 242 kg, and"),
    ],
    ids=["all turn", "three turn, a scale under the fourth"],
)
def test_stands_that_turn_by_hand_cannot_hold_what_stands_on_them_together(
    readings: list[Raw], says: str, tmp_path: Path
) -> None:
    """A hand turns what carries up to 300 N, 30.6 kg: four of them 122 kg at the most, of 400 kg ± 8 kg."""
    stage = read(tmp_path, FOUR, *readings, limits={"uneven_touch": 3})
    (stop,) = [each for each in stage.findings if each.verdict is Verdict.STOP]
    assert stop.subject == "A, B, C, D"
    assert says in said(stop)
    assert "weighs at least 392 kg. Stop, and look: something still tied" in said(stop)
    assert stop.verdict is Verdict.STOP


@pytest.mark.parametrize(
    "readings",
    [
        by_hand("ABC", turns=True),
        [*by_hand("ABC", turns=True), {"support": "D", "load": 298.5, "pm": 2}],
        [*by_hand("ABC", turns=True), *by_hand("D", turns=False)],
        by_hand("ABCD", turns=False),
    ],
    ids=["the fourth is not known", "just enough", "the fourth holds the rest", "none turns"],
)
def test_stands_tried_by_hand_that_may_hold_it_together_fit(readings: list[Raw], tmp_path: Path) -> None:
    """Three that turn carry 91.8 kg at the most: with 300.5 kg under the fourth that is 392 kg and a little.

    By hand: that puts the centre 276 mm back and 207 mm to the right.
    """
    stage = read(tmp_path, FOUR, *readings, limits={"uneven_touch": 3}, part=[LOOSE | {"at_pm": 280}])
    assert [each.subject for each in found(stage, "reading") if "," in each.subject] == []


@pytest.mark.parametrize(
    ("readings", "takes"),
    [(by_hand("AB", turns=True), "65 kg"), (each_reads(112, 112), "5.4 kg")],
    ids=["both in front turn", "scales in front"],
)
def test_what_fits_one_by_one_and_in_sum_and_not_by_moments_is_a_stop(
    readings: list[Raw], takes: str, tmp_path: Path
) -> None:
    """By hand: 400 kg ± 8 kg, 10 mm either way, put 392 · 0.39 / 0.8 = 191.1 kg to 209.1 kg on A and B together."""
    stage = read(tmp_path, FOUR, *readings, limits={"uneven_touch": 3})
    (stop,) = [each for each in stage.findings if each.verdict is Verdict.STOP]
    assert (stop.subject, stop.limit) == ("A, B", 0.0)
    told = said(stop)
    assert told.startswith("A and B cannot both be so: no weights inside the tolerances, wherever inside theirs they")
    assert f"It takes {takes} more or less at one of them at least. Stop, and look: something still tied" in told
    assert "By itself it could be so; together with what was read at B it cannot." in said(the(stage, "reading", "A"))


def test_what_fits_by_moments_is_no_stop(tmp_path: Path) -> None:
    stage = read(tmp_path, FOUR, *each_reads(112, 96), limits={"uneven_touch": 3})
    assert stage.verdict < Verdict.STOP


def test_stands_that_do_not_turn_by_hand_carry_more_than_a_light_unit_weighs(tmp_path: Path) -> None:
    """What a hand does not turn carries 50 N, 5.1 kg, or more: two of them and a scale of 400 kg are above 408 kg."""
    readings = [{"support": "A", "load": 402, "pm": 2}, *by_hand("BC", turns=False)]
    stage = read(tmp_path, FOUR, *readings, limits={"uneven_touch": 3})
    told = [each for each in found(stage, "reading") if each.subject == "A, B, C"]
    assert [each.verdict for each in told] == [Verdict.STOP]
    assert "A, B and C together carry at least 412 kg, and what stands on them weighs at most 408 kg" in said(told[0])
