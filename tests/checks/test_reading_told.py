"""What is told of a reading: verdict, limit and words, by what the plan says of it, on each bound and past it."""

import pytest

from loadplan.checks import reading
from loadplan.model.job import Stage, StageReading
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from loadplan.statics.expected_reading import ExpectedReading
from loadplan.statics.readings_together import ReadOutOfBalance, ReadTogether
from loadplan.statics.unsolved import UnsolvedError
from tests.checks import builders


def found_at(*names: str) -> tuple[StageReading, ...]:
    """Readings of 490 N with 20 N that a scale may be off, where a place may take 500 N."""
    return tuple(StageReading(name, 490.0, 20.0) for name in names)


def told_of(monkeypatch: pytest.MonkeyPatch, *told: ExpectedReading, together: float | None = None) -> list[Finding]:
    """What is told where the plan says that of readings; where they come to what it cannot weigh, to what it may."""
    readings = tuple(each.reading for each in told)
    misfits = () if together is None else (ReadTogether(readings, 490.0 * len(readings), together),)
    seats = (builders.support(each.support) for each in readings)
    judged = builders.in_stage(builders.case(*seats), Stage("step", readings=readings))
    asked: list[tuple[object, ...]] = []
    monkeypatch.setattr(reading, "expected_readings", lambda *of: asked.append(of) or told)
    monkeypatch.setattr(reading, "misfits_together", lambda *of: asked.append(of) or misfits)
    found = builders.findings(reading.check(judged))
    assert asked == [(judged.job, judged.state, judged.statics)] * 2
    return found


def test_each_reading_past_a_rating_is_told_though_the_plan_says_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    told = told_of(monkeypatch, *(ExpectedReading(each, None, None, None, None) for each in found_at("A", "B")))
    assert [(each.subject, each.verdict, each.limit) for each in told] == [
        ("A", Verdict.STOP, 500.0),
        ("B", Verdict.STOP, 500.0),
    ]
    assert all((each.check, each.value, each.measure) == (CheckName.READING, 490.0, Measure.LOAD) for each in told)
    assert builders.words(told[1].says).startswith(
        "B reads 490 N, told as mass. Stop: that is, with what scales may be"
    )


def test_what_fits_the_plan_and_is_past_a_rating_is_told_against_that(monkeypatch: pytest.MonkeyPatch) -> None:
    (told,) = told_of(monkeypatch, *(ExpectedReading(each, 480.0, 30.0, 400.0, 600.0) for each in found_at("A")))
    assert (told.verdict, told.limit) == (Verdict.STOP, 500.0)
    assert "It fits." in builders.words(told.says)


def test_two_readings_may_misfit_together_though_neither_does_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    light = [StageReading(name, 100.0, 2.0) for name in ("A", "B")]
    told = told_of(monkeypatch, *(ExpectedReading(each, 100.0, 5.0, 0.0, 200.0) for each in light), together=10.0)
    verdicts = {"A": Verdict.NOTE, "B": Verdict.NOTE, "A, B": Verdict.STOP}
    assert {each.subject: each.verdict for each in told} == verdicts


def test_of_which_places_a_finding_on_readings_is_told_by_their_names(monkeypatch: pytest.MonkeyPatch) -> None:
    light = [StageReading(name, 100.0, 2.0) for name in ("A", "B")]
    alone, _, together = told_of(
        monkeypatch, *(ExpectedReading(each, 100.0, 5.0, 0.0, 200.0) for each in light), together=10.0
    )
    assert reading.read_at(alone, {"A", "B"}) == ("A",)
    assert reading.read_at(together, {"A", "B", "C"}) == ("A", "B")
    assert reading.read_at(together, {"B"}) == ("B",)
    assert reading.read_at(together, {"A", "A, B"}) == ("A, B",), "a stand may be called so"


def test_what_alone_is_a_stop_is_told_by_itself_only(monkeypatch: pytest.MonkeyPatch) -> None:
    told = told_of(
        monkeypatch, *(ExpectedReading(each, 100.0, 5.0, 0.0, 200.0) for each in found_at("A", "B")), together=10.0
    )
    assert [each.subject for each in told] == ["A", "B"]


MORE = (
    "something presses on it or pulls it down, a part still on that the plan has off, the stand higher or at another "
    "place than planned, or weights that are wrong."
)
LESS = (
    "something still tied that holds it up, a part off or forgotten that the plan has on, the stand lower or at "
    "another place than planned, or weights that are wrong."
)
STOPS = " Stop, and look. No weights inside the tolerances do that: "
LOOK = " Stop, and look before going on: "


def planned(load: float | None, pm: float = 0.0, *, turns: bool | None = None, **plan: float | None) -> ExpectedReading:
    """What was found at A, where the plan says 200 N, likely 30 N more or less, between 120 and 260 N at the most."""
    asked = {"expected": 200.0, "spread": 30.0, "least": 120.0, "most": 260.0} | plan
    return ExpectedReading(StageReading("A", load, pm, turns), **asked)


@pytest.mark.parametrize(
    ("plan", "verdict", "limit", "ends"),
    [
        # With 40 N of the scale 50 N are likely: from 150 to 250 N; possible are from 80 to 300 N.
        (planned(200.0, 40.0), Verdict.NOTE, 150.0, " It fits."),
        (planned(250.0, 40.0), Verdict.NOTE, 250.0, " It fits."),
        (planned(251.0, 40.0), Verdict.CAUTION, 250.0, LOOK + MORE),
        (planned(300.0, 40.0), Verdict.CAUTION, 250.0, LOOK + MORE),
        (planned(301.0, 40.0), Verdict.STOP, 260.0, STOPS + MORE),
        (planned(150.0, 40.0), Verdict.NOTE, 150.0, " It fits."),
        (planned(149.0, 40.0), Verdict.CAUTION, 150.0, LOOK + LESS),
        (planned(80.0, 40.0), Verdict.CAUTION, 150.0, LOOK + LESS),
        (planned(79.0, 40.0), Verdict.STOP, 120.0, STOPS + LESS),
    ],
)
def test_a_reading_is_told_with_the_limit_that_it_is_past_and_what_that_may_mean(
    plan: ExpectedReading, verdict: Verdict, limit: float, ends: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    (told,) = told_of(monkeypatch, plan)
    assert (told.check, told.subject, told.measure) == (CheckName.READING, "A", Measure.LOAD)
    assert (told.verdict, told.value, told.limit) == (verdict, plan.reading.load, limit)
    found = f"A reads {told.value:.0f} N, told as mass"
    assert builders.words(told.says) == f"{found}; the plan says 200 N, told as mass ± 50 N, told as mass.{ends}"


@pytest.mark.parametrize(
    ("plan", "low", "high"),
    [
        (planned(200.0, 40.0, most=205.0), 150, 245),
        (planned(200.0, 40.0, least=195.0), 155, 250),
        (planned(20.0, 30.0, expected=15.0, spread=40.0, least=0.0), 0, 65),
    ],
    ids=["most", "least", "never below nothing"],
)
def test_what_is_likely_ends_where_what_is_possible_does(
    plan: ExpectedReading, low: float, high: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    (told,) = told_of(monkeypatch, plan)
    between = f"likely between {low} N, told as mass and {high} N, told as mass. It fits."
    assert builders.words(told.says).endswith(f"; the plan says {plan.expected:.0f} N, told as mass, {between}")


@pytest.mark.parametrize("bounds", [(None, None), (None, 210.0), (190.0, None)])
def test_where_nothing_bounds_a_reading_it_is_held_against_what_is_likely_alone(
    bounds: tuple[float | None, float | None], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Likely are from 150 to 250 N, and no reading is past what is possible."""
    least, most = bounds
    for found, verdict in ((250.0, Verdict.NOTE), (400.0, Verdict.CAUTION), (0.0, Verdict.CAUTION)):
        (told,) = told_of(monkeypatch, planned(found, 40.0, least=least, most=most))
        assert told.verdict is verdict


def test_where_no_spread_is_known_what_the_scale_may_be_off_is_likely(monkeypatch: pytest.MonkeyPatch) -> None:
    (told,) = told_of(monkeypatch, planned(205.0, 10.0, spread=None))
    assert builders.words(told.says).endswith("; the plan says 200 N, told as mass ± 10 N, told as mass. It fits.")
    assert (told.verdict, told.limit) == (Verdict.NOTE, 210.0)


def test_a_low_end_below_nothing_is_told_as_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    (told,) = told_of(monkeypatch, planned(0.0, 0.0, expected=20.0, least=None))
    assert (told.verdict, told.value, told.limit) == (Verdict.NOTE, 0.0, 0.0)


@pytest.mark.parametrize(
    ("plan", "verdict", "limit", "says"),
    [
        (planned(None, turns=True), Verdict.NOTE, 300.0, "turns by hand"),
        (
            planned(None, turns=True, expected=0.0, spread=None, least=0.0, most=0.0),
            *(Verdict.NOTE, 300.0, "turns by hand"),
        ),
        (planned(None, turns=True, expected=330.0, least=200.0, most=400.0), Verdict.NOTE, 300.0, "turns by hand"),
        (planned(None, turns=True, expected=331.0, least=200.0, most=400.0), Verdict.CAUTION, 300.0, "turns by hand"),
        (planned(None, turns=True, expected=400.0, least=300.0, most=500.0), Verdict.CAUTION, 300.0, "turns by hand"),
        (planned(None, turns=True, expected=400.0, least=301.0, most=500.0), Verdict.STOP, 300.0, "turns by hand"),
        (planned(None, turns=False), Verdict.NOTE, 50.0, "does not turn by hand"),
        (planned(None, turns=False, expected=20.0, least=0.0), Verdict.NOTE, 50.0, "does not turn by hand"),
        (planned(None, turns=False, expected=19.0, least=0.0), Verdict.CAUTION, 50.0, "does not turn by hand"),
        (
            planned(None, turns=False, expected=20.0, spread=5.0, least=0.0, most=50.0),
            *(Verdict.CAUTION, 50.0, "does not turn by hand"),
        ),
        (
            planned(None, turns=False, expected=20.0, spread=5.0, least=0.0, most=49.0),
            *(Verdict.STOP, 50.0, "does not turn by hand"),
        ),
    ],
)
def test_a_hand_is_held_against_up_to_300_n_where_it_turns_and_from_50_n_on_where_not(
    plan: ExpectedReading, verdict: Verdict, limit: float, says: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The plan says 200 N, 30 N more or less, where nothing else is said; its figure is what is told."""
    (told,) = told_of(monkeypatch, plan)
    assert (told.verdict, told.value, told.limit, told.measure) == (verdict, plan.expected, limit, Measure.LOAD)
    assert builders.words(told.says).startswith(f"A {says}; the plan says {plan.expected:.0f} N")


def test_how_far_the_lift_was_down_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    scale, hand = (StageReading("A", 200.0, 1.0, None, 0.014), StageReading("B", None, 0.0, turns=True, lowered=0.014))
    told = told_of(monkeypatch, *(ExpectedReading(each, 200.0, 30.0, 120.0, 260.0) for each in (scale, hand)))
    assert [builders.words(each.says).partition(";")[0] for each in told] == [
        "A reads 200 N, told as mass with the lift lowered 0.014 m",
        "B turns by hand with the lift lowered 0.014 m",
    ]


def test_what_is_not_checked_says_why_and_what_may_tip_is_judged_by_what_is_likely(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    unbounded = planned(200.0, 40.0, least=None, most=None)
    blank = ExpectedReading(StageReading("B", 20.0), None, None, None, None)
    monkeypatch.setattr(reading, "expected_readings", lambda *_: (unbounded, blank))
    monkeypatch.setattr(reading, "misfits_together", lambda *_: ())
    told = reading.check(builders.case(builders.support("A"), builders.support("B")))
    assert builders.not_checked(told) == [
        "step: the reading at A is not checked: "
        "it may tip inside the tolerances, so nothing bounds what it may come to.",
        "step: the reading at B is not checked: what it should come to is not known.",
    ]
    assert [(each.subject, each.verdict) for each in builders.findings(told)] == [("A", Verdict.NOTE)]


@pytest.mark.parametrize(
    ("limit", "says"),
    [
        (70.0, f"most 70 N, told as mass. Stop, and look: {MORE}"),
        (90.0, f"least 90 N, told as mass. Stop, and look: {LESS}"),
    ],
)
def test_readings_that_misfit_together_say_what_they_come_to(
    limit: float, says: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A and B read 40 N each; C is not among them, and D is past its own bounds by itself."""
    found = {name: StageReading(name, 40.0, 2.0) for name in "ABCD"}
    told = [ExpectedReading(each, 40.0, 5.0, 0.0, 50.0) for each in found.values()]
    told[3] = ExpectedReading(found["D"], 10.0, 5.0, 0.0, 20.0)
    # What is not checked stays so.
    told.append(ExpectedReading(StageReading("E", None, turns=True), None, None, None, None))
    together = tuple(found[name] for name in "ABD")
    monkeypatch.setattr(reading, "expected_readings", lambda *_: tuple(told))
    monkeypatch.setattr(reading, "misfits_together", lambda *_: (ReadTogether(together, 80.0, limit),))
    judged = reading.check(builders.case(*map(builders.support, "ABCD")))
    assert len(builders.not_checked(judged)) == 1
    says = f"A, B and D together read 80 N, told as mass, and what stands on them weighs at {says}"
    *each_fits, fourth, stop = builders.findings(judged)
    assert (stop.check, stop.verdict, stop.subject) == (CheckName.READING, Verdict.STOP, "A, B, D")
    assert (stop.value, stop.limit, stop.measure) == (80.0, limit, Measure.LOAD)
    assert builders.words(stop.says) == says
    assert [each.verdict for each in each_fits] == [Verdict.NOTE] * 3
    first, second, third = (builders.words(each.says) for each in each_fits)
    beside = "By itself it could be so; together with what was read at {} it cannot."
    assert first.endswith(beside.format("B and D"))
    assert second.endswith(beside.format("A and D"))
    assert third.endswith("It fits.")
    assert "No weights inside the tolerances do that" in builders.words(fourth.says)


EITHER = (
    "something still tied or pressing on it, a part on, off or forgotten that the plan has otherwise, a stand higher, "
    "lower or at another place than planned, or weights that are wrong."
)


def apart(
    monkeypatch: pytest.MonkeyPatch, *found: StageReading, odd: StageReading | None = None, alone: float = 40.0
) -> list[Finding]:
    """What is told of readings that no weights balance, where one alone could be from nothing to 50 N."""
    told = [ExpectedReading(each, alone, 5.0, 0.0, 50.0) for each in found]
    monkeypatch.setattr(reading, "expected_readings", lambda *_: tuple(told))
    monkeypatch.setattr(reading, "misfits_together", lambda *_: (ReadOutOfBalance(found, 7.0, odd),))
    return builders.findings(reading.check(builders.case(*map(builders.support, "ABC"))))


def test_readings_that_no_weights_balance_are_told_as_that(monkeypatch: pytest.MonkeyPatch) -> None:
    first, second, third = (StageReading(name, 40.0, 2.0) for name in "ABC")
    *each_fits, stop = apart(monkeypatch, first, second, third, odd=second)
    assert (stop.check, stop.verdict, stop.subject) == (CheckName.READING, Verdict.STOP, "A, B, C")
    assert (stop.value, stop.limit, stop.measure) == (7.0, 0.0, Measure.LOAD)
    assert builders.words(stop.says) == (
        "A, B and C cannot all be so: no weights inside the tolerances, wherever inside theirs they lie, balance on "
        "that. It takes 7 N, told as mass more or less at one of them at least. Stop, and look: "
        f"{EITHER} Without what was read at B all else could be so: that may be what is off, so take it again first."
    )
    assert builders.words(each_fits[0].says).endswith("together with what was read at B and C it cannot.")
    stop = apart(monkeypatch, first, second)[-1]
    assert builders.words(stop.says).endswith(EITHER)


def test_what_was_read_twice_at_a_place_is_told_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    down, as_is = StageReading("A", 40.0, 2.0, lowered=0.01), StageReading("A", 38.0, 2.0)
    *alone, stop = apart(monkeypatch, down, as_is)
    assert stop.subject == "A"
    assert builders.words(stop.says).startswith(
        "A with the lift lowered 0.01 m and A with the lift as the step has it cannot both be so"
    )
    assert [builders.words(each.says).partition(". ")[2] for each in alone] == [
        "By itself it could be so; together with what was read at the same place it cannot."
    ] * 2
    stop = apart(monkeypatch, as_is, down, StageReading("B", 30.0, 2.0, lowered=0.01))[-1]
    assert stop.subject == "A, B"
    assert builders.words(stop.says).startswith(
        "A with the lift as the step has it, A with the lift lowered 0.01 m and B"
    )


def test_what_is_a_stop_by_itself_is_not_told_once_more(monkeypatch: pytest.MonkeyPatch) -> None:
    past = [StageReading(name, 60.0, 2.0) for name in "AB"]
    assert [each.subject for each in apart(monkeypatch, *past)] == ["A", "B"]
    assert [each.subject for each in apart(monkeypatch, past[0], StageReading("B", 40.0))] == ["A", "B", "A, B"]


def test_where_it_cannot_be_told_whether_they_go_together_that_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    def gives_up(*_: object) -> None:
        raise UnsolvedError

    found = tuple(ExpectedReading(StageReading(name, 40.0, 2.0), 40.0, 5.0, 0.0, 50.0) for name in "AB")
    monkeypatch.setattr(reading, "expected_readings", lambda *_: found)
    monkeypatch.setattr(reading, "misfits_together", gives_up)
    told = reading.check(builders.case(*map(builders.support, "AB")))
    assert [each.subject for each in builders.findings(told)] == ["A", "B"]
    assert builders.not_checked(told) == [
        "step: whether what was read goes together is not checked: it cannot be computed."
    ]


def test_what_is_past_all_bounds_and_a_rating_tells_both_and_a_caution_only_where_it_is_no_less(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The place may take 500 N, of the stand's 1000 N are 750 asked for."""
    (both,) = told_of(monkeypatch, planned(600.0, 10.0))
    assert (both.verdict, both.limit) == (Verdict.STOP, 500.0)
    assert "do that" in builders.words(both.says)
    assert " Stop: that is" in builders.words(both.says)
