"""Balance, both ways and with each proof."""

from dataclasses import replace

from loadplan.checks import balance
from loadplan.checks.case import Case
from loadplan.model.answer import Loose, Mode, Motion, Proof, Tips
from loadplan.model.vehicle import JointKind
from loadplan.model.verdict import Verdict
from tests.checks.builders import BOLTS, STILL, about, body_answer, case, lifted, support, with_body, with_group, words

NOSE_DOWN = Motion(0.0, 0.0, 1.0)


def proven(judged: Case, proof: Proof, *modes: Mode) -> Case:
    return with_group(judged, replace(judged.statics.groups[0], proof=proof, modes=modes))


def mode(motion: Motion, work: float, about: tuple[str, ...], margin: float = 0.0) -> Mode:
    return Mode(about, ("unit",), (("unit", motion),), work, (("unit", margin),))


def test_a_balanced_group_holds() -> None:
    found = about(balance.check(case(support("A"), support("B"))), "unit")
    assert found.verdict is Verdict.HOLDS
    assert words(found.says) == "The unit stays where put, on A and B."


def test_a_group_is_told_by_all_its_bodies() -> None:
    found = about(balance.check(lifted(support("A"))), "unit, shell")
    assert words(found.says).startswith("The unit and shell stay where put")


def test_a_group_that_tips_stops_and_says_about_what() -> None:
    tips = Tips((("unit", NOSE_DOWN),))
    modes = (mode(NOSE_DOWN, -3.0, ("A", "B"), -0.03), mode(Motion(0.0, 1.0, 0.0), 5.0, ("B", "C"), 0.05))
    found = about(balance.check(proven(case(support("A")), tips, *modes)), "unit")
    assert found.verdict is Verdict.STOP
    assert words(found.says) == (
        "The unit tips to the front, turning about A and B. Do not touch the stands. Take the weight back first. "
        "Then set a stand further out, or one more, under its front end."
    )


def test_a_centre_of_gravity_on_an_edge_names_that_edge_though_its_work_is_not_negative() -> None:
    tips = Tips((("unit", NOSE_DOWN),))
    modes = (mode(NOSE_DOWN, 1e-9, ("A", "B"), 1e-12), mode(Motion(0.0, 1.0, 0.0), 5.0, ("B", "C"), 0.05))
    told = words(about(balance.check(proven(case(support("A")), tips, *modes)), "unit").says)
    assert "turning about A and B." in told


def test_a_group_that_tips_without_a_mode_is_told_by_its_proof() -> None:
    tips = Tips((("unit", Motion(0.0, 1.0, 0.0)), ("shell", STILL)))
    told = words(about(balance.check(proven(case(support("A")), tips)), "unit").says)
    assert told.startswith("The unit tips to the right, with nothing to hold it.")


def test_the_side_is_told_of_what_turns_most_whichever_way() -> None:
    """The unit goes all the way to its left, the shell half as far to the front or the back."""
    for other in (0.5, -0.5):
        tips = Tips((("unit", Motion(0.0, -1.0, 0.0)), ("shell", Motion(0.0, 0.0, other))))
        told = words(about(balance.check(proven(lifted(support("A")), tips)), "unit, shell").says)
        assert told.startswith("The unit and shell tip to the left, ")


def test_over_the_whole_tolerance_it_stops_too() -> None:
    judged = case(support("A"))
    shaky = replace(judged.statics.groups[0], robust=False, modes=(mode(NOSE_DOWN, 1.0, ("A", "B")),))
    found = about(balance.check(with_group(judged, shaky)), "unit")
    assert found.verdict is Verdict.STOP
    assert words(found.says).startswith(
        "The unit may tip to the front, turning about A and B, when weights and centres"
    )


def test_over_the_whole_tolerance_without_modes_it_stops_in_words() -> None:
    judged = case(support("A"))
    found = about(balance.check(with_group(judged, replace(judged.statics.groups[0], robust=False))), "unit")
    assert found.verdict is Verdict.STOP
    assert words(found.says).startswith("The unit may tip when weights")


def test_a_loose_group_stops_and_says_what_holds_it() -> None:
    judged = case(support("A"), support("B"), replace(support("C"), body="beam", on="unit"))
    found = about(balance.check(proven(judged, Loose((("unit", NOSE_DOWN),)))), "unit")
    assert found.verdict is Verdict.STOP
    told = words(found.says)
    assert told.startswith(
        "The unit is free to rock: only A, B and C hold it, too few or all in one line. Do not touch"
    )


def test_only_what_moves_is_said_to_rock() -> None:
    judged = lifted(support("A"))
    link = replace(BOLTS, name="link", kind=JointKind.MOUNT)
    judged = replace(judged, state=replace(judged.state, done_up=(BOLTS, link)))
    small = Motion(0.0, 0.0, 1e-3)
    loose = Loose((("unit", small), ("shell", Motion(1e-14, 0.0, 1e-15))))
    told = words(about(balance.check(proven(judged, loose)), "unit, shell").says)
    assert told.startswith("The unit is free to rock: only A and link hold it, too few")
    slow = Loose((("unit", small), ("shell", Motion(1e-7, 0.0, 0.0))))
    told = words(about(balance.check(proven(judged, slow)), "unit, shell").says)
    assert told.startswith("The unit and shell are free to rock")


def test_a_group_that_nothing_holds_up_is_told_so() -> None:
    judged = proven(case(), Loose((("unit", Motion(1.0, 0.0, 0.0)),)))
    assert words(about(balance.check(judged), "unit").says).startswith("The unit is free to rock: nothing holds it up.")


def test_two_that_rock_are_told_by_all_that_holds_either_and_by_nothing_else() -> None:
    """A mount between two other bodies, which stay where they are, holds neither."""
    both = Loose((("unit", NOSE_DOWN), ("shell", NOSE_DOWN)))
    away = replace(BOLTS, name="far mount", kind=JointKind.MOUNT, between=("hub", "beam"))
    told = []
    for stands in ((support("A"),), (support("A"), support("B")), ()):
        judged = lifted(*stands)
        state = replace(judged.state, done_up=(BOLTS, away), supports=stands)
        found = about(balance.check(proven(replace(judged, state=state), both)), "unit, shell")
        told.append(words(found.says).split("Before")[0].strip())
    assert told == [
        "The unit and shell are free to rock: only A holds them, too few or all in one line.",
        "The unit and shell are free to rock: only A and B hold them, too few or all in one line.",
        "The unit and shell are free to rock: nothing holds them up.",
    ]


def test_the_cure_is_worded_for_who_holds_the_weight() -> None:
    tips = Tips((("unit", NOSE_DOWN), ("shell", STILL)))
    free = proven(lifted(support("A"), hung=False), Tips((("unit", NOSE_DOWN),)))
    told = [
        words(about(balance.check(replace(free, before=lifted().state)), "unit").says),
        words(about(balance.check(free), "unit").says),
        words(about(balance.check(replace(case(), before=None)), "unit").says),
        words(about(balance.check(proven(lifted(support("A")), tips)), "unit, shell").says),
        words(about(balance.check(replace(proven(case(), tips), before=None)), "unit").says),
    ]
    assert told[0].endswith(" Before unbolting: set a stand further out, or one more, under its front end.")
    assert told[1].endswith(
        " Do not touch the stands. Take the weight back first. "
        "Then set a stand further out, or one more, under its front end."
    )
    assert told[2] == "The unit stays where put, on ."
    assert told[3].endswith(" Before unbolting: set a stand further out, or one more, under its front end.")
    assert told[4].endswith(" Before the weight comes on: set a stand further out, or one more, under its front end.")


def test_lift_pads_are_told_only_where_the_vehicle_turns_about_one() -> None:
    """Where the unit alone goes over its stand, or both turn about stands, pads set elsewhere change nothing."""
    both = (("unit", NOSE_DOWN), ("shell", NOSE_DOWN))

    def told(moving: tuple[str, ...], about_what: tuple[str, ...]) -> str:
        way = Mode(about_what, moving, both, -1.0, (("unit", -0.1), ("shell", -0.1)))
        return words(about(balance.check(proven(lifted(support("A")), Tips(both), way)), "unit, shell").says)

    pads = " Before lifting: set the lift pads further out, or put a prop under its front end."
    assert told(("unit", "shell"), ("pad 1", "pad 2")).endswith(pads)
    assert "pads" not in told(("unit",), ("A",))
    assert "pads" not in told(("unit", "shell"), ("A",))


def test_weighing_is_told_only_where_something_is_not_known_exactly() -> None:
    judged = case(support("A"), support("B"))
    vague = with_group(judged, replace(judged.statics.groups[0], robust=False))
    exact = with_body(vague, replace(body_answer("unit"), cg_pm=(0.0, 0.0, 0.0)))
    assert "Weigh it" in words(about(balance.check(vague), "unit").says)
    assert "Weigh it" not in words(about(balance.check(exact), "unit").says)
