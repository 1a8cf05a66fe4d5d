"""The whole job, computed and judged once."""

from dataclasses import replace

import numpy as np
import pytest

from loadplan import assess as assess_module
from loadplan.assess import assess, worst_of
from loadplan.errors import InputError
from loadplan.model.job import Job, Stage
from loadplan.model.shop import Circle
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.model.weight_basis import poorest_basis
from loadplan.statics.unsolved import UnsolvedError
from tests.statics import builders as make

STAND = replace(make.STAND, stiffness=2.5e6, base=Circle(0.2), saddle=Circle(0.08), friction=0.4)
IN = tuple("ABCD")


def job(*stages: Stage, at: tuple[float, float] = (0.0, 0.0), **changes: object) -> Job:
    """A unit of two parts on four good stands."""
    parts = [make.part((*at, 0.4), 80.0, name="block"), make.part((0.0, 0.0, 0.5), 20.0, name="lid")]
    supports = make.stands(make.SQUARE, use=STAND)
    return make.job(parts, supports, stages=stages or [Stage("all", IN)], **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("verdicts", "worst"),
    [
        ([], Verdict.HOLDS),
        ([Verdict.NOTE], Verdict.HOLDS),
        ([Verdict.NOTE, Verdict.CAUTION], Verdict.CAUTION),
        ([Verdict.STOP, Verdict.HOLDS, Verdict.CAUTION], Verdict.STOP),
    ],
)
def test_the_worst_of_verdicts_and_a_note_changes_none(verdicts: list[Verdict], worst: Verdict) -> None:
    assert worst_of(verdicts) is worst


def test_a_job_is_its_worst_stages() -> None:
    """On four stands it stands, on two it does not."""
    told = assess(job(Stage("four", IN), Stage("two", cleared=("A", "B"))))
    assert [stage.verdict is Verdict.STOP for stage in told.stages] == [False, True]
    assert told.verdict is Verdict.STOP
    assert told.stages[0].verdict is worst_of([each.verdict for each in told.stages[0].findings])


@pytest.mark.parametrize("error", [UnsolvedError(), np.linalg.LinAlgError("singular")])
def test_a_check_that_cannot_be_computed_names_its_stage(error: Exception, monkeypatch: pytest.MonkeyPatch) -> None:
    """No matter what went wrong inside, the user reads file and stage, and not what the mathematics said."""

    def fails(_: object) -> None:
        raise error

    monkeypatch.setattr(assess_module, "judge", fails)
    with pytest.raises(InputError) as raised:
        assess(job())
    fault = raised.value.faults[0]
    assert (fault.file, fault.table) == ("job.toml", 'stage 1 "all"')
    assert fault.message.startswith("cannot be computed")


def test_what_was_assumed_and_not_checked_is_told_once() -> None:
    """Two stages alike: no sentence comes twice."""
    told = assess(replace(job(Stage("four", IN), Stage("same")), assumed=("Stiffness of stands.",)))
    assert told.assumed == ("Stiffness of stands.",)
    assert len(told.not_checked) == len(set(told.not_checked))


def test_more_than_twelve_supports_in_a_group_are_said_to_be_simplified() -> None:
    more = [make.support(f"s{n}", (0.4 - 0.1 * n, 0.45), use=STAND) for n in range(9)]
    parts = [make.part((0.0, 0.0, 0.4)), make.part((3.0, 0.0, 0.4), body="other", name="o")]
    other = [
        make.support(f"o{n}", at, body="other", use=STAND) for n, at in enumerate([(3, 1), (3, -1), (4, 0), (2, 0)])
    ]
    supports = [*make.stands(make.SQUARE, use=STAND), *other, *more]
    stages = [Stage("four", (*IN, "o0", "o1", "o2", "o3")), Stage("many", tuple(each.name for each in more))]
    told = assess(make.job(parts, supports, stages=stages))
    assert [sentence.split(":")[0] for sentence in told.assumed] == ["many"]


def test_a_stage_in_which_the_unit_is_rolled_is_not_judged_and_it_is_said() -> None:
    """Even where it would tip."""
    told = assess(job(Stage("four", IN), Stage("rolled", cleared=("A", "B"), moved=True), Stage("back", ("A", "B"))))
    rolled = told.stages[1]
    assert (rolled.verdict, len(rolled.findings)) == (Verdict.NOTE, 1)
    assert any("rolled: NOT CHECKED" in str(sentence[0]) for sentence in told.not_checked)
    assert told.verdict is worst_of([each.verdict for each in told.stages])
    assert told.verdict not in {Verdict.STOP, Verdict.NOTE}
    assert told.narrowest is None or told.narrowest.stage != 1


def test_a_job_that_was_only_rolled_about_is_not_one_that_holds() -> None:
    assert assess(job(Stage("rolled", IN, moved=True))).verdict is Verdict.NOTE


def test_a_body_that_comes_apart_in_any_order_is_said_not_to_be_judged_in_between() -> None:
    """Of up to four of its parts every set is judged, of more those of the listed order."""
    pieces = ("top", "side", "clip", "seal", "plate")
    parts = [make.part((0.0, 0.0, 0.4)), *(make.part((0.0, 0.0, 0.6), body="cover", name=each) for each in pieces)]
    joints = [make.bolts("clips", ("cover", "unit"))]
    for off, any_order, said in (
        (pieces, True, True),
        (pieces, False, False),
        (pieces[:4], True, False),
    ):
        stage = Stage("apart", IN, off=off, any_order=any_order)
        told = assess(make.job(parts, make.stands(make.SQUARE, use=STAND), joints=joints, stages=[stage]))
        assert any("comes apart in any order" in str(sentence[0]) for sentence in told.not_checked) == said


def test_a_body_gone_before_is_not_said_to_come_apart_again() -> None:
    parts = [make.part((0.0, 0.0, 0.4)), make.part(body="cover", name="top"), make.part(name="lid")]
    joints = [make.bolts("clips", ("cover", "unit"))]
    stages = [Stage("cover off", IN, off=("top",)), Stage("lid off", off=("lid",), any_order=True)]
    told = assess(make.job(parts, make.stands(make.SQUARE, use=STAND), joints=joints, stages=stages))
    assert not any("comes apart" in str(sentence[0]) for sentence in told.not_checked)


def test_the_narrowest_margin_is_the_smallest_of_all_stages() -> None:
    """20 kg in the middle off, the rest is 0.2 m forward: nearer to the front edge than before."""
    told = assess(job(Stage("four", IN), Stage("lid off", off=("lid",)), at=(0.2, 0.0)))
    assert told.narrowest is not None
    assert told.narrowest.body == "unit"
    margins = [stage.statics.bodies[0].worst_margin for stage in told.stages]
    assert told.narrowest.worst_margin == min(each for each in margins if each is not None)
    assert told.narrowest.stage == 1


def test_of_equal_margins_the_first_is_the_narrowest() -> None:
    told = assess(job(Stage("four", IN), Stage("same")))
    assert told.narrowest is not None
    assert told.narrowest.stage == 0


def test_where_nothing_stands_there_is_no_narrowest_margin() -> None:
    assert assess(job(Stage("two", ("A", "B")))).narrowest is None


def basis(*, example: bool = False, scales: Basis = Basis.WEIGHED, **parts: tuple[str, Basis]) -> Basis:
    """Basis of a job with these parts (body, basis), of which the body "weighed" was weighed whole, "out" left out."""
    told = [make.part(name=name, body=body, basis=each) for name, (body, each) in parts.items()]
    whole = {"weighed": make.weighed(100.0, (0.0, 0.0, 0.3))}
    bodies = tuple(dict.fromkeys(body for body, _ in parts.values() if body != "out"))
    made = make.job(told, bodies=bodies, whole=whole)
    known = tuple(replace(body, basis=scales) if body.weighed else body for body in made.vehicle.bodies)
    return poorest_basis(replace(made, vehicle=replace(made.vehicle, example=example, bodies=known)))


def test_the_basis_is_the_poorest_of_the_parts_in_use() -> None:
    sheet, guess, scales = Basis.DATA_SHEET, Basis.GUESS, Basis.WEIGHED
    assert basis(a=("unit", sheet), b=("unit", scales)) is sheet
    assert basis(a=("unit", sheet), b=("cradle", guess)) is guess
    assert basis(a=("unit", sheet), b=("out", guess)) is sheet
    assert basis(a=("weighed", guess)) is scales
    assert basis(a=("weighed", guess), b=("unit", sheet)) is sheet


def test_what_the_scales_said_is_as_good_as_its_body_says() -> None:
    assert basis(scales=Basis.GUESS, a=("weighed", Basis.WEIGHED)) is Basis.GUESS
    assert basis(scales=Basis.DATA_SHEET, a=("weighed", Basis.WEIGHED), b=("unit", Basis.WEIGHED)) is Basis.DATA_SHEET


def test_invented_data_is_an_example_whatever_it_says() -> None:
    assert basis(example=True, a=("unit", Basis.WEIGHED)) is Basis.EXAMPLE
