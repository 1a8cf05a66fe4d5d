"""What a job hangs on, each with its step: what is nearest to tipping, what is loaded most, how far to lower."""

from collections.abc import Iterator
from dataclasses import dataclass

from loadplan.checks.check_table import CHECK_OF
from loadplan.checks.lock_window import brings_stands_up
from loadplan.checks.phrases import names
from loadplan.model.job import Job
from loadplan.model.verdict import Assessment, Measure, Quantity
from loadplan.report.words.columns import WIDTH, indented
from loadplan.report.words.lock_words import lock_words
from loadplan.report.words.nearest_to_tipping import Fall, NearestToTipping, about_words, nearest_in_job, worst_words
from loadplan.report.words.stage_tables import window_words
from loadplan.report.words.tipping_direction import past_or_short
from loadplan.report.words.vocabulary import Reader

LABEL = 20
"""Room for what a line is about [characters]."""


@dataclass(frozen=True, slots=True)
class RatedLoad:
    """What a piece of equipment, an arm or the lift carries at the most in one step.

    Attributes:
        subject: Which.
        stage: Number of the step, from 0.
        load: Most on this floor [N].
        rating: What one may carry [N].
    """

    subject: str
    stage: int
    load: float
    rating: float

    @property
    def share(self) -> float:
        """Load by rating."""
        return self.load / self.rating


def figure_lines(assessment: Assessment, reader: Reader) -> list[str]:
    """Tell what a job hangs on.

    Args:
        assessment: The job, judged.
        reader: Who reads it.

    Returns:
        Lines of at most 100 characters: what does not come up in the job is left out.
    """
    near = nearest_in_job(assessment)
    told = [
        *([("Nearest to tipping", _nearest(near, assessment.job, reader))] if near else []),
        *(("Most loaded", text) for text in loaded_texts(assessment, reader)),
        *_lowering(assessment, reader),
    ]
    return [line for label, text in told for line in indented(f"{label:<{LABEL}}", reader.words(text), WIDTH)]


def loaded_texts(assessment: Assessment, reader: Reader) -> list[str]:
    """Tell what is loaded most for its rating.

    Args:
        assessment: The job, judged.
        reader: Who reads it.

    Returns:
        One text, none where nothing is rated.
    """
    loaded = most_loaded(rated_loads(assessment))
    return [_loaded(loaded, assessment.job, reader)] if loaded else []


def rated_loads(assessment: Assessment) -> list[RatedLoad]:
    """Collect what is held against a rating: pieces of equipment, arms, and the lift as a whole.

    Args:
        assessment: The job, judged.

    Returns:
        One a piece and step in which its load is known, in the order of the steps.
    """
    return [
        RatedLoad(each.subject, stage.state.index, each.value, each.limit)
        for stage in assessment.stages
        for each in stage.findings
        if CHECK_OF[each.check].against_rating
        and each.measure is Measure.LOAD
        and each.value is not None
        and each.limit
    ]


def most_loaded(loads: list[RatedLoad]) -> RatedLoad | None:
    """Find what carries most for its rating.

    Args:
        loads: Any number.

    Returns:
        The first of equals; None of none.
    """
    return max(loads, key=lambda each: round(each.share, 9), default=None)


def share_words(share: float, asked: float, reader: Reader) -> str:
    """Tell a share of a rating, never rounded to what it is above.

    Args:
        share: Load by rating.
        asked: The share that is asked for.
        reader: Who reads it.

    Returns:
        Its percentage.
    """
    return reader.above(Quantity(share, Measure.SHARE), 1.0 if share > 1.0 else asked)


def _nearest(near: NearestToTipping, job: Job, reader: Reader) -> str:
    """Return what goes over first, how far it is from it in the worst case, and about what it turns."""
    where = f"{names(near.bodies)}, step {near.stage + 1}"
    match near.fall:
        case Fall.OVER | Fall.LEANS:
            return f"{where}: {worst_words(near, job.limits, reader)}"
        case Fall.ROCKS:
            return f"{where}: free to rock"
        case None:
            worst = worst_words(near, job.limits, reader) + (" the edge" if (near.worst or 0.0) <= 0 else "")
            given = "" if near.given is None else f", as given {past_or_short(near.given, reader)}"
            about = f", turns about {about_words(near, job)}" if near.about else ""
            return f"worst case {worst}{given}: {where}{about}"


def _loaded(loaded: RatedLoad, job: Job, reader: Reader) -> str:
    """Return what is loaded most, by its share of the rating."""
    is_arm = job.lift is not None and loaded.subject in {each.name for each in job.lift.arms}
    share = share_words(loaded.share, job.limits.arm_share if is_arm else job.limits.rating_share, reader)
    what = f"arm at {loaded.subject}" if is_arm else loaded.subject
    return f"{share} of its rating ({reader.load(loaded.load)} on this floor): {what}, step {loaded.stage + 1}"


def _lowering(assessment: Assessment, reader: Reader) -> Iterator[tuple[str, str]]:
    """Yield how far a unit has to come down onto its stands, or its stands up to it, with what that is called."""
    for stage in assessment.stages:
        window = stage.statics.set_down
        if window is None or not stage.is_judged:
            continue
        words = window_words(window.start, window.end, reader)
        how = "planned" if window.given else "taken, the job does not say"
        locks = lock_words(assessment.job, stage, reader)
        told = f"{words} past first touch; {reader.length(window.lowered)} {how}: step {stage.state.index + 1}"
        label = "Stands to come up" if brings_stands_up(assessment.job, stage.state) else "How far to lower"
        yield label, f"{told}.{locks}" if locks else told
