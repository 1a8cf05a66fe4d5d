"""What a cure tells once it is judged over all steps, by a judge that says what is written down."""

from dataclasses import dataclass, field, replace
from types import SimpleNamespace

import pytest

from loadplan.checks.cure_in_all_steps import judged_in_all_steps
from loadplan.errors import Fault, InputError
from loadplan.model.job import Job, Support
from loadplan.model.plan_cure import LessPull, PlanCure, StandMove, StandsMoved, StandsRaised, StandUnder
from loadplan.model.step_change import Raising
from loadplan.model.vehicle import Point
from loadplan.model.verdict import CheckName, Finding, FoundCure, Measure, SolvedCure, StageAssessment, Verdict
from loadplan.statics.unsolved import UnsolvedError
from tests.checks.builders import case, support, words

STANDS = (support("A", at=(0.4, 0.0)), support("B", at=(-0.4, 0.0)), replace(support("C"), height=None))
HARD = Point("hard place", "unit", (0.1, 0.3, 0.25), 900.0, "on the rib")
MADE = case(*STANDS)
VEHICLE = replace(MADE.job.vehicle, points=(HARD,))
JOB = replace(MADE.job, supports=STANDS, vehicle=VEHICLE)

OUT = StandsMoved((StandMove("A", (0.5, 0.1)), StandMove("B", (-0.5, 0.2))), 0.1)
UNDER = StandUnder("A", "hard place")
UP = StandsRaised((Raising("A", 0.01), Raising("B", 0.02)))


def finding(
    check: CheckName,
    verdict: Verdict,
    *cures: PlanCure,
    found: FoundCure | None = None,
    measure: Measure = Measure.FORCE,
) -> Finding:
    cure = None if found is None else SolvedCure(lambda: found)
    return Finding(check, verdict, "unit", 1.0, 2.0, measure, ("It goes.",), cures, cure)


def stage(index: int, *findings: Finding, supports: tuple[Support, ...] = STANDS) -> StageAssessment:
    named = replace(MADE.state.stage, name=f"step {index}")
    state = replace(MADE.state, index=index, stage=named, supports=supports)
    return StageAssessment(
        state, MADE.statics, findings, max((each.verdict for each in findings), default=Verdict.HOLDS)
    )


@dataclass
class Judge:
    """In place of judging: what the steps come to, and the jobs that were judged."""

    steps: tuple[StageAssessment, ...] = ()
    fails: Exception | None = None
    jobs: list[Job] = field(default_factory=list)

    def __call__(self, job: Job) -> SimpleNamespace:
        self.jobs.append(job)
        if self.fails is not None:
            raise self.fails
        return SimpleNamespace(stages=self.steps)


PUSH = CheckName.PUSH
OF_OUT = FoundCure((" Go out.",), (OUT,))
PUSHED = finding(PUSH, Verdict.CAUTION, found=OF_OUT)
STOOD = finding(PUSH, Verdict.HOLDS)


def told(judge: Judge, *stages: StageAssessment, job: Job = JOB) -> FoundCure:
    """What the cure of the first finding of the first step tells."""
    cure = judged_in_all_steps(job, stages, judge)[0].findings[0].cure  # type: ignore[arg-type]
    assert cure is not None
    return cure.found


def test_without_a_cure_nothing_is_judged_again_and_with_one_only_once_it_is_read() -> None:
    judge = Judge()
    plain = stage(0, finding(PUSH, Verdict.CAUTION))
    assert judged_in_all_steps(JOB, [plain], judge) == (plain,)  # type: ignore[arg-type]
    asked = judged_in_all_steps(JOB, [stage(0, PUSHED), plain], judge)  # type: ignore[arg-type]
    assert judge.jobs == []
    assert asked[1].findings[0].cure is None
    # What can be done without moving stands is left as it is.
    less = stage(0, finding(PUSH, Verdict.CAUTION, LessPull(None)))
    assert judged_in_all_steps(JOB, [less], judge)[0].findings[0].cure is None  # type: ignore[arg-type]


def test_stands_are_judged_where_the_cure_would_have_them_from_the_beginning() -> None:
    judge = Judge((stage(0, STOOD), stage(1)))
    assert told(judge, stage(0, PUSHED), stage(1)) == OF_OUT
    (job,) = judge.jobs
    assert [each.at for each in job.supports] == [(0.5, 0.1, 0.2), (-0.5, 0.2, 0.2), (0.0, 0.0, 0.2)]
    assert replace(job, supports=STANDS) == JOB


def test_under_another_point_a_stand_is_brought_up_to_touch() -> None:
    """Whether that ends the finding was solved with the stand there; what else comes of it is told."""
    of_under = FoundCure((" Go under.",), (UNDER,))
    judge = Judge((stage(0, PUSHED), stage(1, finding(PUSH, Verdict.STOP))))
    under = told(judge, stage(0, finding(PUSH, Verdict.CAUTION, found=of_under)), stage(1))
    assert words(under.says) == " Go under. But step 1 stops with that: mend the plan as a whole."
    assert under.cures == (UNDER,)
    (job,) = judge.jobs
    first = job.supports[0]
    assert (first.at, first.point, first.limit, first.say, first.height) == (
        *(HARD.at, "hard place"),
        *(900.0, "on the rib", None),
    )
    assert job.supports[1:] == STANDS[1:]


def test_a_cure_that_moves_nothing_is_told_as_it_is() -> None:
    judge = Judge()
    other = FoundCure((" Pull less.",), (LessPull(0.5),))
    assert told(judge, stage(0, finding(PUSH, Verdict.CAUTION, found=other))) == other
    assert judge.jobs == []


@pytest.mark.parametrize(
    ("after", "leaves_other", "is_told"),
    [
        (finding(PUSH, Verdict.HOLDS), False, "told"),
        (finding(PUSH, Verdict.NOTE), False, "told"),
        (finding(PUSH, Verdict.CAUTION), False, "not"),
        (finding(PUSH, Verdict.CAUTION), True, "not"),
        (finding(PUSH, Verdict.CAUTION, measure=Measure.ANGLE), True, "told"),
        (finding(PUSH, Verdict.CAUTION, measure=Measure.ANGLE), False, "not"),
        (finding(CheckName.PULL, Verdict.HOLDS), False, "not"),
    ],
)
def test_a_distance_that_does_not_take_its_finding_away_is_not_told(
    after: Finding, *, leaves_other: bool, is_told: str
) -> None:
    found = replace(OF_OUT, leaves_other=leaves_other)
    given = told(Judge((stage(0, after),)), stage(0, finding(PUSH, Verdict.CAUTION, found=found)))
    assert given == (found if is_told == "told" else FoundCure())


@pytest.mark.parametrize("fails", [UnsolvedError(), InputError(Fault("job.toml", "", "", "is odd"))])
def test_where_the_job_cannot_be_judged_the_cure_is_told_as_it_was_solved(fails: Exception) -> None:
    assert told(Judge(fails=fails), stage(0, PUSHED)) == OF_OUT


LEVEL = CheckName.LEVEL


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [
        ([], [], ""),
        ([], [Verdict.NOTE], ""),
        ([], [Verdict.CAUTION], " Something else in step 1 then comes to a caution."),
        ([Verdict.NOTE], [Verdict.CAUTION], " Something else in step 1 then comes to a caution."),
        ([Verdict.CAUTION], [Verdict.CAUTION], ""),
        ([Verdict.CAUTION], [Verdict.STOP], " But step 1 stops with that: mend the plan as a whole."),
        ([Verdict.STOP], [Verdict.STOP], ""),
        ([Verdict.STOP, Verdict.NOTE], [Verdict.NOTE, Verdict.STOP], ""),
        (
            [Verdict.NOTE, Verdict.HOLDS],
            [Verdict.HOLDS, Verdict.CAUTION],
            " Something else in step 1 then comes to a caution.",
        ),
    ],
)
def test_a_step_that_comes_out_worse_is_named(before: list[Verdict], after: list[Verdict], says: str) -> None:
    was, now = (stage(1, *(finding(LEVEL, each) for each in those)) for those in (before, after))
    given = told(Judge((stage(0, STOOD), now)), stage(0, PUSHED), was)
    assert words(given.says) == f" Go out.{says}"


def test_several_steps_are_named_stops_before_cautions_and_settings_do_not_count() -> None:
    """That a height is none of the stand's settings is chosen once a height is told."""
    calm, worse = finding(LEVEL, Verdict.CAUTION), finding(LEVEL, Verdict.STOP)
    before = (stage(0, PUSHED), stage(1), stage(2), stage(3))
    both = told(Judge((stage(0, STOOD), stage(1, worse), stage(2, calm), stage(3, worse))), *before)
    assert words(both.says).endswith(" But step 1 and step 3 stop with that: mend the plan as a whole.")
    cautions = told(Judge((stage(0, STOOD), stage(1, calm), stage(2, calm), stage(3))), *before)
    assert words(cautions.says).endswith(" Something else in step 1 and step 2 then comes to a caution.")
    set_otherwise = finding(CheckName.HEIGHT, Verdict.STOP)
    assert told(Judge((stage(0, STOOD), *(stage(each, set_otherwise) for each in (1, 2, 3)))), *before) == OF_OUT


def raised(check: CheckName, judge: Judge, *cures: PlanCure, **more: tuple[Support, ...]) -> Finding:
    stages = (stage(0, finding(check, Verdict.CAUTION, *cures), **more), stage(1))
    return judged_in_all_steps(JOB, stages, judge)[0].findings[0]  # type: ignore[arg-type]


def test_stands_that_stay_raised_are_judged_over_all_steps_too() -> None:
    judge = Judge((stage(0), stage(1, finding(PUSH, Verdict.STOP))))
    given = raised(LEVEL, judge, UP)
    assert given.cures == (UP,)
    assert given.cure is not None
    assert words(given.in_full) == "It goes. But step 1 stops with that: mend the plan as a whole."
    (job,) = judge.jobs
    assert [each.height for each in job.supports] == pytest.approx([0.36, 0.37, None])
    # That is judged once for all who ask.
    assert words(given.in_full).startswith("It goes. But")
    assert len(judge.jobs) == 1


def test_where_nothing_comes_out_worse_nothing_more_is_told() -> None:
    given = raised(LEVEL, Judge((stage(0), stage(1))), UP)
    assert given.in_full == ("It goes.",)


@pytest.mark.parametrize(
    ("check", "cures"),
    [
        (CheckName.UNLOADING, (UP,)),
        (LEVEL, (StandsRaised((Raising("A", 0.01), Raising("C", 0.01))),)),
        (LEVEL, (StandsRaised((Raising("A", 0.01), Raising("Z", 0.01))),)),
        (LEVEL, (LessPull(None),)),
    ],
    ids=["raised for a while", "one that is not set", "one that is not there", "nothing raised"],
)
def test_what_is_not_raised_for_good_from_a_height_that_is_known_is_not_judged(
    check: CheckName, cures: tuple[PlanCure, ...]
) -> None:
    judge = Judge((stage(0), stage(1)))
    assert raised(check, judge, *cures).cure is None
    assert judge.jobs == []


def test_what_a_step_has_set_anew_is_not_raised_from_the_beginning() -> None:
    higher = (replace(STANDS[0], height=0.4), *STANDS[1:])
    assert raised(LEVEL, Judge(), UP, supports=higher).cure is None


def test_the_same_change_is_judged_once_for_all_findings() -> None:
    judge = Judge((stage(0, STOOD), stage(1, STOOD)))
    stages = judged_in_all_steps(JOB, [stage(0, PUSHED), stage(1, PUSHED)], judge)  # type: ignore[arg-type]
    assert [words(each.findings[0].in_full) for each in stages] == ["It goes. Go out."] * 2
    assert len(judge.jobs) == 1
