"""What was still on, as it is to stand in the vehicle's file: made from the record of a made-up job."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from loadplan.model.forgotten_tie import ForgottenTie, TiePlace
from loadplan.model.job import Job, Stage
from loadplan.model.vehicle import Joint, JointKind, TieState, TieUp
from loadplan.model.work_record import Deed, RecordEntry, WorkRecord
from loadplan.planning.forgotten_ties import LONGEST_NAME, LONGEST_SAY, forgotten_ties, placed, tie_name
from tests.checks import builders

AT = TiePlace("unit", (0.1, 0.2), 0.3, TieState.OFF)
NO_HEIGHT = replace(AT, up=None)

UPPER = Joint("upper", JointKind.BOLTED, ("shell", "unit"), ((0.0, 0.0, 0.8), (0.0, 0.0, 0.6)), 0.0)
LOWER = Joint("lower", JointKind.BOLTED, ("unit", "shell"), ((0.0, 0.0, 0.2),), 0.0)
BESIDE = Joint("beside", JointKind.BOLTED, ("shell", "axle"), ((0.0, 0.0, 5.0),), 0.0)


def job(*stages: Stage) -> Job:
    """A unit with a pump at 0.3 m and a lid at 0.5 m in a shell; a shell's part at 0.9 m is listed before them."""
    made = builders.job()
    shell, pump, lid = builders.part("fascia", "shell"), builders.part("pump"), builders.part("lid")
    parts = (
        replace(shell, at=(0.0, 0.0, 0.9)),
        replace(pump, at=(0.0, 0.0, 0.3)),
        replace(lid, at=(0.0, 0.0, 0.5)),
    )
    vehicle = replace(made.vehicle, joints=(BESIDE, UPPER, LOWER), parts=parts, bodies=(builders.UNIT, builders.SHELL))
    return replace(made, vehicle=vehicle, bodies=("unit", "shell"), stages=stages)


def step(name: str, *, undone: tuple[str, ...] = (), off: tuple[str, ...] = ()) -> Stage:
    return Stage(name=name, off=off, undone=undone, in_place=())


THREE = (step("first", undone=("upper",)), step("second", undone=("beside",)), step("third", undone=("lower",)))


def entry(words: str, deed: Deed = Deed.FORGOTTEN, place: TiePlace | None = None, at: str = "third") -> RecordEntry:
    return RecordEntry(datetime(2026, 11, 20, 8, tzinfo=UTC), "K", "0a1b2c3d", at, deed, words, place=place)


def found(on: Job, *entries: RecordEntry) -> tuple[ForgottenTie, ...]:
    return forgotten_ties(on, WorkRecord(entries))


def tie(on: Job, *entries: RecordEntry) -> TieUp:
    (one,) = found(on, *entries)
    assert one.tie is not None
    return one.tie


def test_what_was_forgotten_is_told_once_with_its_step_and_without_a_place() -> None:
    told = found(
        job(*THREE),
        entry("hose, left"),
        entry("wire", at="first"),
        entry(" HOSE; left"),
        entry("hose"),
        entry("hose, X left"),
    )
    assert told == (
        ForgottenTie("hose, left", "third", None, None),
        ForgottenTie("wire", "first", None, None),
        ForgottenTie("hose, X left", "third", None, None),
    )


def test_what_the_file_lists_was_not_forgotten() -> None:
    there = job(*THREE)
    listed = TieUp("Hose", "unit", (0.0, 0.0, 0.0), TieState.OFF, (), "left")
    there = replace(there, vehicle=replace(there.vehicle, ties=(listed,)))
    told = found(there, entry("hose, LEFT"), entry("hose"), entry("hose, right", Deed.NOTED), entry("hose, right"))
    assert [each.words for each in told] == ["hose, right"]


def test_what_was_listed_since_is_left_out_and_may_be_forgotten_again() -> None:
    gone = (entry("hose"), entry("wire"), entry("hose", Deed.LISTED))
    assert [each.words for each in found(job(*THREE), *gone)] == ["wire"]
    assert [each.words for each in found(job(*THREE), *gone, entry("hose"))] == ["wire", "hose"]
    assert found(job(*THREE), entry("pipe", Deed.LISTED), entry("pipe", Deed.PLACED, AT)) == ()


def test_a_place_belongs_to_what_it_was_said_of_and_none_said_takes_none_away() -> None:
    told = found(
        job(*THREE),
        entry("hose"),
        entry("wire"),
        entry("wire", Deed.PLACED, AT, at="second"),
        entry("hose", Deed.TICKED, AT),
        entry("wire", Deed.PLACED),
    )
    assert [each.place for each in told] == [None, AT]
    assert told[1].step == "third"


def test_with_its_place_it_is_as_the_file_takes_it() -> None:
    made = tie(job(*THREE), entry("hose, XL clip"), entry("hose, XL clip", Deed.PLACED, AT))
    assert made == TieUp("hose", "unit", (0.1, 0.2, 0.3), TieState.OFF, ("lower",), "XL clip")


@pytest.mark.parametrize(
    ("at", "before", "height"),
    # The mean of the places that the upper joint has is 0.7 m.
    [
        ("third", ("lower",), 0.2),
        ("second", ("upper",), 0.7),
        ("first", ("upper",), 0.7),
        ("none such", ("lower",), 0.2),
    ],
)
def test_it_is_done_before_what_its_step_or_the_last_before_it_undid(
    at: str, before: tuple[str, ...], height: float
) -> None:
    (told,) = placed(job(*THREE), (ForgottenTie("hose", at, None, None),), {0: NO_HEIGHT})
    assert told.tie is not None
    assert told.tie.before == before
    assert told.tie.at == (0.1, 0.2, pytest.approx(height))
    assert told.assumed_height


def test_a_part_that_comes_off_gives_the_height_where_no_joint_is_undone() -> None:
    made = tie(job(step("third", off=("fascia", "lid"))), entry("hose"), entry("hose", Deed.PLACED, NO_HEIGHT))
    assert (made.before, made.at[2]) == (("lid",), pytest.approx(0.5))


def test_a_joint_gives_the_height_before_a_part_does() -> None:
    both = step("third", off=("lid",), undone=("lower",))
    made = tie(job(both), entry("hose"), entry("hose", Deed.PLACED, NO_HEIGHT))
    assert (made.before, made.at[2]) == (("lower", "lid"), pytest.approx(0.2))


def test_where_nothing_was_undone_it_is_done_before_all_that_ties_its_assembly() -> None:
    made = tie(job(step("third")), entry("hose"), entry("hose", Deed.PLACED, AT))
    assert made.before == ("upper", "lower")


def test_without_a_joint_it_is_done_before_the_first_part_of_its_assembly() -> None:
    free = job(step("third"))
    free = replace(free, vehicle=replace(free.vehicle, joints=(BESIDE,)))
    made = tie(free, entry("hose"), entry("hose", Deed.PLACED, NO_HEIGHT))
    assert (made.before, made.at[2]) == (("pump",), pytest.approx(0.3))


def test_a_joint_whose_place_nobody_said_leaves_the_mean_height_of_the_assembly() -> None:
    there = job(*THREE)
    there = replace(there, vehicle=replace(there.vehicle, joints=(UPPER, replace(LOWER, at=()))))
    made = tie(there, entry("hose"), entry("hose", Deed.PLACED, NO_HEIGHT))
    assert (made.before, made.at[2]) == (("lower",), pytest.approx(0.4))


def test_on_an_assembly_that_has_nothing_it_hangs_before_nothing_on_the_floor() -> None:
    bare = job(step("third"))
    bare = replace(bare, vehicle=replace(bare.vehicle, joints=(), parts=bare.vehicle.parts[:1]))
    made = tie(bare, entry("hose"), entry("hose", Deed.PLACED, NO_HEIGHT))
    assert (made.before, made.at[2]) == ((), 0.0)


def test_a_measured_height_is_not_taken_for_an_assumed_one() -> None:
    told = placed(job(*THREE), (ForgottenTie("hose", "third", None, None),), {0: AT})
    assert not told[0].assumed_height


def test_a_place_at_an_assembly_that_the_job_does_not_have_makes_no_tie() -> None:
    elsewhere = replace(AT, body="gearbox")
    told = placed(job(*THREE), (ForgottenTie("hose", "third", None, None),), {0: elsewhere})
    assert told == (ForgottenTie("hose", "third", elsewhere, None),)


def test_only_what_is_placed_gets_the_place() -> None:
    three = tuple(ForgottenTie(words, "third", place, None) for words, place in (("a", None), ("b", AT), ("c", None)))
    told = placed(job(*THREE), three, {2: NO_HEIGHT})
    assert [each.place for each in told] == [None, AT, NO_HEIGHT]
    assert [each.tie is None for each in told] == [True, False, False]


def test_a_name_that_two_have_is_told_whole() -> None:
    told = placed(
        job(*THREE),
        tuple(ForgottenTie(words, "third", AT, None) for words in (" Hose, left ", "hose: right", "wire, thin")),
        {},
    )
    names = [(each.tie.name, each.tie.say) for each in told if each.tie]
    assert names == [("Hose, left", ""), ("hose: right", ""), ("wire", "thin")]


def test_a_name_that_the_file_has_is_told_whole() -> None:
    there = job(*THREE)
    listed = TieUp("HOSE, at the tank", "unit", (0.0, 0.0, 0.0), TieState.OFF, ())
    there = replace(there, vehicle=replace(there.vehicle, ties=(listed,)))
    (told,) = placed(there, (ForgottenTie("hose, left", "third", AT, None),), {})
    assert told.tie is not None
    assert (told.tie.name, told.tie.say) == ("hose, left", "")


@pytest.mark.parametrize(
    ("words", "name"),
    [
        (" hose ", "hose"),
        ("hose ; left, upper", "hose"),
        ("hose: left; upper", "hose"),
        ("x" * 150, "x" * LONGEST_NAME),
        (f"{'x' * 99} {'y' * 9}", "x" * 99),
        (", left", ", left"),
        (f",{'x' * 150}", f",{'x' * 99}"),
    ],
)
def test_it_is_named_by_what_is_said_first(words: str, name: str) -> None:
    assert tie_name(words) == name


def test_a_note_is_no_longer_than_the_file_takes() -> None:
    made = tie(job(*THREE), entry(f"hose, {'x' * 400}"), entry(f"hose, {'x' * 400}", Deed.PLACED, AT))
    assert made.say == "x" * LONGEST_SAY
    assert (LONGEST_NAME, LONGEST_SAY) == (100, 300)


def test_notes_that_differ_only_beyond_that_length_are_one() -> None:
    assert len(found(job(*THREE), entry(f"hose, {'x' * 300}a"), entry(f"hose, {'x' * 300}b"))) == 1
