"""What scales read, against what stand, place, arm and lift may carry: whatever the plan says of it. Made-up jobs."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.checks.case import Case
from loadplan.checks.read_past_rating import read_load
from loadplan.model.job import Stage, StageReading
from loadplan.model.verdict import Finding, Verdict
from tests.checks import builders
from tests.checks.small_jobs import STAND, Raw, judged, lifted_job, said, the, unit_job

THREE = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}
"""Three stands carry 100, 100 and 200 kg of 400 kg centred at (0, 0), whatever their stiffness."""

WIDE = {"name": "block", "body": "unit", "mass": 400, "mass_pm": 150, "at": [0, 0, 500], "at_pm": 200}
"""Known so badly that hardly any reading is outside its bounds."""


def read(folder: Path, *readings: Raw, **more: object) -> Finding:
    stage = [{"name": "on stands", "in_place": list(THREE), "readings": list(readings)}]
    job = unit_job(THREE, **({"stage": stage, "part": [WIDE]} | more))  # type: ignore[arg-type]
    return the(judged(job, folder).stages[0], "reading", readings[0]["support"])


@pytest.mark.parametrize(
    ("load", "verdict"), [(298.9, Verdict.STOP), (296, Verdict.CAUTION), (226, Verdict.CAUTION), (222, Verdict.NOTE)]
)
def test_a_scale_that_may_read_more_than_a_stand_may_carry_stops(tmp_path: Path, load: float, verdict: Verdict) -> None:
    """A stand for 300 kg, caution from three quarters of that; the scale may be 2 kg off."""
    kind = [STAND | {"rating": 300, "rated_for": "each"}]
    told = read(tmp_path, {"support": "C", "load": load, "pm": 2}, equipment=kind)
    assert told.verdict is verdict
    assert ("stand may carry" in said(told)) is (verdict > Verdict.NOTE)
    assert ("hold the weight before anything else" in said(told)) is (verdict is Verdict.STOP)


def test_a_place_that_takes_less_than_was_read_stops(tmp_path: Path) -> None:
    points = [{"name": f"under {name}", "body": "unit", "at": at, "limit": 2500} for name, at in THREE.items()]
    supports = [{"name": name, "use": STAND["name"], "under": f"under {name}"} for name in THREE]
    more = {"point": points, "support": supports}
    # 2500 N are 254.9 kg.
    assert read(tmp_path, {"support": "C", "load": 256, "pm": 1}, **more).verdict is Verdict.STOP
    assert "its place at C may take" not in said(read(tmp_path, {"support": "C", "load": 250, "pm": 1}, **more))


def test_scales_under_one_piece_add_up(tmp_path: Path) -> None:
    """A table for 300 kg with A and B on it: 160 kg under each are too much for it, though neither is."""
    supports = [{"name": name, "use": STAND["name"], "body": "unit", "at": at} for name, at in THREE.items()]
    on_one = [{**each, "piece": "table"} if each["name"] != "C" else each for each in supports]
    readings = [{"support": name, "load": 160, "pm": 1} for name in "AB"]
    kind = [STAND | {"rating": 300, "rated_for": "each"}]
    assert read(tmp_path, *readings, equipment=kind, support=on_one).verdict is Verdict.STOP
    assert read(tmp_path, *readings, equipment=kind).verdict < Verdict.STOP


@pytest.mark.parametrize(
    ("support", "load", "says"), [("bay", 4100, "that bay may lift"), ("sill front left", 1001, "one arm may carry")]
)
def test_gauge_and_arm_are_held_against_their_ratings(tmp_path: Path, support: str, load: float, says: str) -> None:
    job = lifted_job()
    pads = job["lift"]["pads"]
    name = pads[0] if support != "bay" else support
    job["stage"][0]["readings"] = [{"support": name, "load": load, "pm": 1}]
    told = the(judged(job, tmp_path).stages[0], "reading")
    assert told.verdict is Verdict.STOP
    assert says in said(told)


NONE = (None, None, "")


def past(judged: Case, *readings: StageReading) -> tuple[Verdict | None, float | None, str]:
    """Verdict, limit and words on the first of what was read in a step."""
    told = read_load(builders.in_stage(judged, Stage("step", readings=readings)), readings[0])
    return NONE if told is None else (told.verdict, told.limit, builders.words(told.says))


def over(limit: str, read: str, what: str) -> str:
    return (
        f" Stop: that is, with what scales may be off, {read} N, told as mass, more than the {limit} N, told as mass "
        f"{what}. Let lift or jack hold the weight before anything else is done."
    )


def near(limit: str, share: str, what: str) -> str:
    return f" That is, with what scales may be off, above {share} 1 of the {limit} N, told as mass {what}."


OF_ONE = "that one stand may carry"


@pytest.mark.parametrize(
    ("load", "told"),
    [
        (740.0, NONE),
        (740.1, (Verdict.CAUTION, 1000.0, near("1000", "0.75", OF_ONE))),
        (990.0, (Verdict.CAUTION, 1000.0, near("1000", "0.75", OF_ONE))),
        (991.0, (Verdict.STOP, 1000.0, over("1000", "1001", OF_ONE))),
        (None, NONE),
    ],
)
def test_a_stand_is_told_what_it_may_carry(load: float | None, told: tuple[Verdict | None, float | None, str]) -> None:
    """The scale may be 10 N off."""
    judged = builders.case(replace(builders.support("A"), limit=None))
    assert past(judged, StageReading("A", load, 10.0)) == told


def test_a_place_is_told_what_it_may_take_and_the_worst_counts() -> None:
    what = "that its place at A may take"
    place = builders.case(builders.support("A"))
    assert past(place, StageReading("A", 500.0)) == NONE
    assert past(place, StageReading("A", 501.0)) == (Verdict.STOP, 500.0, over("500", "501", what))
    # Past the place it is a stop, near what the stand may carry only a caution: in either order.
    assert past(place, StageReading("A", 800.0)) == (Verdict.STOP, 500.0, over("500", "800", what))
    weak = builders.case(replace(builders.support("A", replace(builders.STAND, rating=700.0)), limit=5000.0))
    assert past(weak, StageReading("A", 800.0)) == (Verdict.STOP, 700.0, over("700", "800", OF_ONE))


@pytest.mark.parametrize(
    ("other", "told"),
    [
        (StageReading("B", 340.0, 10.0), (Verdict.CAUTION, 1000.0, near("1000", "0.75", OF_ONE))),
        (StageReading("B", 335.0, 10.0), NONE),
        (StageReading("B", 340.0, 10.0, lowered=0.01), NONE),
        (StageReading("B", None, turns=True), NONE),
        (StageReading("C", 340.0, 10.0), NONE),
    ],
)
def test_what_scales_under_one_piece_read_adds_up_with_what_they_may_be_off(
    other: StageReading, told: tuple[Verdict | None, float | None, str]
) -> None:
    """A reads 400 N, or up to 405 N; B on the same piece up to 350 N."""
    tops = [replace(builders.support(name), piece="table", limit=None) for name in "AB"]
    judged = builders.case(*tops, replace(builders.support("C"), limit=None))
    assert past(judged, StageReading("A", 400.0, 5.0), other) == told


def test_lift_and_arm_are_told_what_they_may_carry() -> None:
    hung = builders.lifted(builders.support("A"))
    assert past(hung, StageReading("bay", 12000.0)) == NONE
    assert past(hung, StageReading("bay", 12001.0)) == (
        *(Verdict.STOP, 12000.0),
        over("1.2e+04", "1.2e+04", "that bay may lift"),
    )
    share = hung.job.limits.arm_share
    assert past(hung, StageReading("pad 1", 3000.0 * share)) == NONE
    assert past(hung, StageReading("pad 1", 3000.0)) == (
        *(Verdict.CAUTION, 3000.0),
        near("3000", f"{share:.4g}", "that one arm may carry"),
    )
    assert past(hung, StageReading("pad 1", 3001.0)) == (
        *(Verdict.STOP, 3000.0),
        over("3000", "3001", "that one arm may carry"),
    )


def test_where_there_is_no_lift_nothing_is_held_against_it() -> None:
    assert read_load(builders.case(builders.support("A")), StageReading("bay", 1e6)) is None
