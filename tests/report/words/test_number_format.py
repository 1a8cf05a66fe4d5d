"""One rounding rule: what is told is near, never falsely fine, and never on the wrong side of a limit."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.limits import GRAVITY
from loadplan.model.verdict import CheckName, Finding, Measure, Quantity, Verdict
from loadplan.report.words.number_format import (
    METRIC,
    US,
    ruler_of,
    write,
    write_beside,
    write_finding,
    write_tape,
    write_window,
)
from loadplan.units import System

LOWER, UPPER = 1e-6, 1e7


@pytest.mark.parametrize(
    ("measure", "value", "metric", "us"),
    [
        (Measure.LENGTH, 0.0, "0 mm", "0 in"),
        (Measure.LENGTH, 0.0637, "64 mm", "2 1/2 in"),
        (Measure.LENGTH, 1.8542, "1850 mm", "73 in"),
        (Measure.LENGTH, -0.003, "-3 mm", "-1/8 in"),
        (Measure.LENGTH, 0.0004, "under 1 mm", "under 1/8 in"),
        (Measure.LENGTH, -0.0004, "-1 mm", "-1/8 in"),
        (Measure.LENGTH, 1e-7, "0 mm", "0 in"),
        (Measure.LOAD, 9.42 * GRAVITY, "9.4 kg", "21 lb"),
        (Measure.LOAD, 9.96 * GRAVITY, "10 kg", "22 lb"),
        (Measure.LOAD, 172.6 * GRAVITY, "173 kg", "381 lb"),
        (Measure.LOAD, 1234.0 * GRAVITY, "1230 kg", "2720 lb"),
        (Measure.LOAD, 0.02 * GRAVITY, "under 0.1 kg", "under 0.1 lb"),
        (Measure.MASS, 332.0, "332 kg", "732 lb"),
        (Measure.FORCE, 225.0, "225 N", "51 lbf"),
        (Measure.ANGLE, 0.017453292519943295, "1 degree", "1 degree"),
        (Measure.ANGLE, 0.3561, "20 degrees", "20 degrees"),
        (Measure.ANGLE, 0.0297, "1.7 degrees", "1.7 degrees"),
        (Measure.SHARE, 0.048, "5 %", "5 %"),
        (Measure.SHARE, 0.002, "under 1 %", "under 1 %"),
        (Measure.STRESS, 4.31e6, "4.3 MPa", "625 psi"),
        (Measure.COUNT, 1.0, "1 piece", "1 piece"),
        (Measure.COUNT, 1234.0, "1234 pieces", "1234 pieces"),
        (Measure.DAYS, 1.0, "1 day", "1 day"),
        (Measure.DAYS, 31.0, "31 days", "31 days"),
    ],
)
def test_a_quantity_reads_as_a_technician_says_it(measure: Measure, value: float, metric: str, us: str) -> None:
    assert write(Quantity(value, measure), System.METRIC) == metric
    assert write(Quantity(value, measure), System.US) == us


def test_every_measure_has_a_unit_in_both_systems() -> None:
    assert set(METRIC) == set(US) == set(Measure)


@pytest.mark.parametrize(
    ("metres", "metric", "us"),
    [
        (0.3312, "330 mm", "13 in"),
        (0.3326, "335 mm", "13 1/8 in"),
        (0.001, "0 mm", "0 in"),
        (3.4, "3400 mm", "133 7/8 in"),
    ],
)
def test_a_tape_is_read_to_5_mm_or_an_eighth(metres: float, metric: str, us: str) -> None:
    assert (write_tape(metres, System.METRIC), write_tape(metres, System.US)) == (metric, us)


@given(value=st.floats(LOWER, UPPER), measure=st.sampled_from(list(Measure)), units=st.sampled_from(list(System)))
def test_rounding_moves_a_number_by_half_a_step_or_half_a_percent_at_most(
    value: float, measure: Measure, units: System
) -> None:
    ruler = ruler_of(measure, units)
    exact = value / ruler.size
    assert abs(ruler.round(value) - exact) <= max(ruler.finest / 2, 0.00501 * exact) * (1 + 1e-9)


@given(
    value=st.floats(0.001, 10.0),
    limit=st.floats(0.001, 10.0),
    measure=st.sampled_from(list(Measure)),
    units=st.sampled_from(list(System)),
)
def test_told_apart_a_number_is_on_its_side_of_its_limit(
    value: float, limit: float, measure: Measure, units: System
) -> None:
    ruler = ruler_of(measure, units)
    apart, bound = ruler.round_apart(value, limit), ruler.round(limit)
    if value < limit:
        assert apart < bound - 1e-9
    if value > limit:
        assert apart > bound + 1e-9


@given(value=st.floats(0.0, 1.0), units=st.sampled_from(list(System)))
def test_us_and_metric_tell_the_same_length(value: float, units: System) -> None:
    words = write(Quantity(value, Measure.LENGTH), units)
    found = re.fullmatch(r"(?:under )?(\d+)?(?: ?(\d)/(\d))? (mm|in)", words)
    assert found, words
    told = int(found[1] or 0) + (int(found[2]) / int(found[3]) if found[2] else 0)
    step = 0.001 if found[4] == "mm" else 0.0254
    assert abs(told * step - value) <= max(0.0254 / 8, 0.006 * value)


@pytest.mark.parametrize(
    ("value", "limit", "measure", "words"),
    [
        (0.0496, 0.050, Measure.LENGTH, "49 mm"),
        (0.0504, 0.050, Measure.LENGTH, "51 mm"),
        (0.050, 0.050, Measure.LENGTH, "50 mm"),
        (1.002, 1.0, Measure.SHARE, "101 %"),
        (0.7502, 0.75, Measure.SHARE, "76 %"),
        (1505 * GRAVITY, 1500 * GRAVITY, Measure.LOAD, "1510 kg"),
        (-0.0003, 0.0, Measure.LENGTH, "-1 mm"),
    ],
)
def test_near_its_limit_a_number_is_rounded_away_from_it(
    value: float, limit: float, measure: Measure, words: str
) -> None:
    assert write_beside(Quantity(value, measure), limit, System.METRIC) == words


@given(least=st.floats(0.0, 0.05), wide=st.floats(0.002, 0.05), units=st.sampled_from(list(System)))
def test_both_ends_of_a_range_are_told_inside_it(least: float, wide: float, units: System) -> None:
    most = least + wide
    for words in write_window(least, most, units):
        found = re.fullmatch(r"(\d+)?(?: ?(\d)/(\d))? (mm|in)", words)
        assert found, words
        told = int(found[1] or 0) + (int(found[2]) / int(found[3]) if found[2] else 0)
        told *= 0.001 if found[4] == "mm" else 0.0254
        assert least - 1e-5 <= told <= most + 1e-5


def finding(verdict: Verdict) -> Finding:
    says = ("It is ", Quantity(0.0496, Measure.LENGTH), " (asked for: ", Quantity(0.05, Measure.LENGTH), ").")
    return Finding(CheckName.MARGIN, verdict, "powertrain", 0.0496, 0.05, Measure.LENGTH, says)


def test_a_caution_never_reads_as_if_it_were_none() -> None:
    assert write_finding(finding(Verdict.CAUTION), System.METRIC) == "It is 49 mm (asked for: 50 mm)."
    assert write_finding(finding(Verdict.CAUTION), System.US) == "It is 1 7/8 in (asked for: 2 in)."


def test_what_holds_is_rounded_as_it_is() -> None:
    assert write_finding(finding(Verdict.HOLDS), System.METRIC) == "It is 50 mm (asked for: 50 mm)."


def test_a_share_stays_on_its_side_though_the_finding_counts_in_newtons() -> None:
    says = (
        Quantity(0.7512, Measure.SHARE),
        " of the rating, above the ",
        Quantity(0.75, Measure.SHARE),
        "; the others carry ",
        Quantity(75.2 * GRAVITY, Measure.LOAD),
        " and ",
        Quantity(75.4 * GRAVITY, Measure.LOAD),
    )
    told = Finding(CheckName.RATING, Verdict.CAUTION, "E", 0.7512 * 14709.975, 14709.975, Measure.LOAD, says)
    assert write_finding(told, System.METRIC) == "76 % of the rating, above the 75 %; the others carry 75 kg and 75 kg"


def test_a_load_and_the_same_load_as_its_most_read_alike() -> None:
    """Two computations of one number differ by their last bits: neither is a limit that the other stays below."""
    carried, most = Quantity(350 * GRAVITY * (1 - 1e-15), Measure.LOAD), Quantity(350 * GRAVITY, Measure.LOAD)
    assert carried.value < most.value
    says = ("carries ", carried, ", at most ", most)
    told = Finding(CheckName.LIFT, Verdict.STOP, "FL", 350 * GRAVITY, 340 * GRAVITY, Measure.LOAD, says)
    assert write_finding(told, System.METRIC) == "carries 350 kg, at most 350 kg"


def test_in_us_units_a_pull_is_told_once() -> None:
    pull = (Quantity(107.0, Measure.FORCE), " (", Quantity(107.0, Measure.LOAD), ") tips it")
    found = Finding(CheckName.SNAG, Verdict.CAUTION, "mount", 107.0, 200.0, Measure.FORCE, pull)
    assert write_finding(found, System.US) == "24 lbf tips it"
    assert write_finding(found, System.METRIC) == "107 N (11 kg) tips it"


def test_a_load_that_is_not_the_force_before_it_stays() -> None:
    pull = (Quantity(107.0, Measure.FORCE), " (", Quantity(207.0, Measure.LOAD), " on it)")
    found = Finding(CheckName.SNAG, Verdict.CAUTION, "mount", 107.0, 200.0, Measure.FORCE, pull)
    assert write_finding(found, System.US) == "24 lbf (47 lb on it)"
