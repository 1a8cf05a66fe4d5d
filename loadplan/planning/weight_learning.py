"""Learning weights from a stage: what its readings say of the job's masses and centres, and the verdict with them."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache, partial
from math import exp, sqrt

from loadplan.assess import assess
from loadplan.checks import reading
from loadplan.checks.case import Case
from loadplan.errors import Fault, InputError
from loadplan.model.answer import Statics
from loadplan.model.job import Job, StageReading, State
from loadplan.model.learnt_weights import PartUpdate, StiffnessUpdate, WeightUpdate
from loadplan.model.readings import COVERAGE, Estimate
from loadplan.model.vehicle import Basis, Body, Part, Vehicle, Weighed
from loadplan.model.verdict import Assessment, Finding, Verdict
from loadplan.planning.learnt_bodies import with_learnt_bodies
from loadplan.stages import states
from loadplan.statics.expected_reading import further_down, loads_read
from loadplan.statics.further_scale import further_scale
from loadplan.statics.load_response import LoadResponse, load_response
from loadplan.statics.readings_together import fit_together
from loadplan.statics.stage_sequence import solve_stages
from loadplan.statics.unsolved import UNSOLVED
from loadplan.statics.weight_limits import WeightLimits, weight_limits
from loadplan.statics.weight_update import (
    FittedWeights,
    WeighedLoad,
    fit_weights,
    suspects,
    touch_for_certain,
)

WEIGHED_SHARE = 0.03
"""A part whose mass is known within this share of it counts as weighed; common practice, no source."""

BETTER = 0.99
"""A figure is known better where readings leave less than this share of its plus or minus: the rest is rounding."""

ROUNDING = 1e-9
"""Limits that are wider by less than this share are no wider."""

TELLING = 0.8
"""A stiffness is told where readings leave less than this share of its plus or minus; common practice, no source."""


@dataclass(frozen=True, slots=True)
class WeightLearning:
    """What readings of a stage taught.

    Attributes:
        stage: Name of the stage.
        update: What they say of the weights.
        before: The job as its files have it.
        careful: What it is judged by, and what is written: the parts of which a figure is known better, each as far off
            as file and scales together leave open, not as is likely. Empty where the readings contradict the plan.
        assessment: The job judged with that, or with each body weighed whole where that is known so much better that
            the verdict is milder; as its files have it where the readings contradict the plan.
        beyond: Whether no figures inside the plus or minus of file and scales fit what was read, by hand too, though
            chance may leave as much over.
        doubted: Whether it cannot be told what else was read at the bay, or something moved there.
        wholes: Makes the job in which bodies are weighed whole as far as the readings tell more of them than of their
            parts; None where they do not, or contradict the plan.
        stops: What `check` finds of these readings, by scale and by hand, that stops: no weights inside the tolerances
            of the files do that, or something carries more than it may.
    """

    stage: str
    update: WeightUpdate
    before: Job
    careful: tuple[PartUpdate, ...]
    assessment: Assessment
    beyond: bool = False
    doubted: bool = False
    wholes: Callable[[], Job | None] = lambda: None
    stops: tuple[Finding, ...] = ()

    @property
    def verdict(self) -> Verdict:
        """The verdict on the whole: where readings contradict the plan nobody knows what stands there, so a stop."""
        if not self.update.consistent or self.stops:
            return Verdict.STOP
        return max(self.assessment.verdict, Verdict.CAUTION if self.beyond or self.doubted else Verdict.HOLDS)


def learn_weights(job: Job, index: int, solved: Statics | None = None) -> WeightLearning:
    """Find what the readings of a stage say of a job's weights, and judge it with them.

    Args:
        job: The job.
        index: Number of the stage, from 0.
        solved: What was computed of the stage, where that is known: readings change nothing of it.

    Returns:
        The weights, whether readings and plan agree, and the verdict.

    Raises:
        InputError: If no scale was read there, one was read where the load cannot be told, or it tips.
    """
    followed = states(job)
    state = followed[index]
    statics = solved or solve_stages(job, followed)[index]
    scales = [each for each in state.stage.readings if each.load is not None]
    if not scales:
        raise InputError(
            _fault(
                job,
                state,
                "has no reading of a scale to learn from: write what it read into the step, such as "
                'readings = [ { support = "A", load = 113 } ]',
            )
        )
    # With the lift at one height, a soft arm and a heavy unit look alike: then stiffness is taken as given.
    levels = {further_down(state, statics, each) for each in scales}
    response = load_response(job, state, statics, stiffness_open=len(levels) > 1)
    read = tuple(_weighed_load(job, (state, statics), response, each) for each in scales)
    try:
        found = fit_weights(response, read)
        doubted = suspects(response, read, found)
        sure = found.consistent and touch_for_certain(response, found, read)
        further = further_scale(job, (state, statics), response, (found, read)) if found.consistent else None
        fitting = fit_together(job, state, statics)
    except UNSOLVED as error:
        says = "may tip, or cannot be computed, with its weights a little off: nothing can be learnt from its loads"
        raise InputError(_fault(job, state, says)) from error
    update = WeightUpdate(
        parts=_parts(job, response, found),
        consistent=found.consistent,
        suspects=tuple(dict.fromkeys(each.reading.support for each in doubted)),
        stiffness=_stiffness(job, response, found) if sure else (),
        further=further,
        by_hand=tuple(dict.fromkeys(each.support for each in state.stage.readings if each.load is None)),
    )
    # Nothing is weighed by a hand; but where what it felt fits no weights, what scales read bounds them no more either.
    limits = weight_limits(response, read) if found.consistent and fitting else None
    careful = _careful(update, response, limits) if found.consistent else ()
    by_parts = with_weights(job, careful)
    assessment = assess(by_parts)
    stops = _stops(Case(job, state, statics, None))
    learnt = WeightLearning(state.name, update, job, careful, assessment, stops=stops)
    if not found.consistent:
        return learnt
    # Made only where it is asked for: it takes as long as all the rest. Without limits there are none of wholes.
    wholes = learnt.wholes
    if limits is not None:
        wholes = cache(partial(with_learnt_bodies, by_parts, response, read, found, _spanned))
    if assessment.verdict > Verdict.NOTE:
        assessment = _milder(assessment, wholes())
    return replace(learnt, assessment=assessment, beyond=limits is None, wholes=wholes)


def _stops(case: Case) -> tuple[Finding, ...]:
    """Return what is found of a stage's readings, held against the files, that stops."""
    found = (each for each in reading.check(case) if isinstance(each, Finding))
    return tuple(each for each in found if each.verdict is Verdict.STOP)


def learnt_wholes(found: WeightLearning) -> tuple[PartUpdate, ...]:
    """Choose the bodies that are written as weighed whole.

    Args:
        found: What readings taught.

    Returns:
        Those whose mass counts as weighed now; none where the job judged with them would be told stricter than it was,
        or could not be computed. Their heights are the file's.
    """
    wholes = found.wholes()
    if wholes is None:
        return ()
    before = {each.name: each for each in found.before.vehicle.bodies}
    told = tuple(
        _of_whole(each.name, each.weighed)
        for each in wholes.vehicle.bodies
        if each.weighed is not None and before[each.name].weighed is None
    )
    known = tuple(each for each in told if counts_as_weighed(each))
    if not known:
        return ()
    try:
        judged = assess(with_wholes(found, known))
    except InputError:
        # More may come off than was weighed, at the ends of the tolerances.
        return ()
    return known if judged.verdict <= found.assessment.verdict else ()


def with_wholes(found: WeightLearning, known: tuple[PartUpdate, ...]) -> Job:
    """Put what was learnt of parts, and of some bodies as wholes, into a job.

    Args:
        found: What readings taught.
        known: The bodies.

    Returns:
        The job as its file has it once that is written.
    """
    by_parts = with_weights(found.before, found.careful)
    wholes, named = found.wholes(), {each.body for each in known}
    told = {each.name: each for each in wholes.vehicle.bodies if each.name in named} if wholes else {}
    bodies = tuple(told.get(each.name, each) for each in by_parts.vehicle.bodies)
    return replace(by_parts, vehicle=replace(by_parts.vehicle, bodies=bodies))


def _of_whole(body: str, whole: Weighed) -> PartUpdate:
    """Return what a body was weighed as, as what was learnt of it."""
    x, y, z = (Estimate(value, pm) for value, pm in zip(whole.cg, whole.cg_pm, strict=True))
    return PartUpdate(body, "", Estimate(whole.mass, whole.mass_pm), (x, y, z))


def _milder(by_parts: Assessment, wholes: Job | None) -> Assessment:
    """Return the milder of two judgements neither of which is milder than the truth may be."""
    if wholes is None:
        return by_parts
    try:
        judged = assess(wholes)
    except InputError:
        # Less known of the parts that come off than of the whole: then the whole less those cannot be computed.
        return by_parts
    return judged if judged.verdict < by_parts.verdict else by_parts


def with_weights(job: Job, parts: tuple[PartUpdate, ...]) -> Job:
    """Put other weights into a job.

    Args:
        job: The job.
        parts: Masses and centres of gravity of its parts, and of bodies weighed whole.

    Returns:
        The job with them; what is known well enough counts as weighed.
    """
    told = {(each.body, each.part): each for each in parts}
    vehicle = replace(
        job.vehicle,
        bodies=tuple(_body(each, told) for each in job.vehicle.bodies),
        parts=tuple(_part(each, told) for each in job.vehicle.parts),
    )
    return replace(job, vehicle=vehicle)


def _careful(update: WeightUpdate, response: LoadResponse, limits: WeightLimits | None) -> tuple[PartUpdate, ...]:
    """Return parts of which a figure is known better, each figure between the limits that file and scales leave open.

    Inside these limits the truth lies wherever it is inside the file's; what is likely is never cut off either. Where
    no figures inside the file's limits fit what was read, all that the file says is left open as well.
    """
    told = []
    learnt = {(each.body, each.part): each for each in update.parts}
    for number, weight in enumerate(response.weights):
        now = learnt.get((weight.body, weight.part))
        if now is None:
            continue
        given = [Estimate(weight.mass, weight.mass_pm), *map(Estimate, weight.at, weight.at_pm)]
        figures = []
        for place, (file, likely) in enumerate(zip(given[:3], (now.mass, *now.cg[:2]), strict=True), 3 * number):
            sure = file if limits is None else _between(float(limits.low[place]), float(limits.high[place]))
            figures.append(_spanned(file, likely, sure))
        mass, x, y = figures
        if (mass, x, y) != tuple(given[:3]):
            told.append(PartUpdate(weight.body, weight.part, mass, (x, y, given[3])))
    return tuple(told)


def _spanned(file: Estimate, likely: Estimate, sure: Estimate) -> Estimate:
    """Return a figure with all that is likely and all that is sure inside; the file's where that is no better."""
    low, high = likely.value - likely.pm, likely.value + likely.pm
    if abs(likely.value - file.value) <= file.pm:
        # What is likely lies about a figure inside the file's limits: beyond them nothing is looked for.
        low, high = max(low, file.value - file.pm), min(high, file.value + file.pm)
    told = _between(min(low, sure.value - sure.pm), max(high, sure.value + sure.pm))
    beyond = abs(told.value - file.value) + told.pm > (1 + ROUNDING) * file.pm
    return told if told.pm < BETTER * file.pm or beyond else file


def _between(low: float, high: float) -> Estimate:
    return Estimate((low + high) / 2, (high - low) / 2)


def narrowed(parts: tuple[PartUpdate, ...], vehicle: Vehicle) -> tuple[PartUpdate, ...]:
    """Choose what readings told something of.

    Args:
        parts: What was learnt.
        vehicle: The vehicle as its file has it.

    Returns:
        Those of which a figure is known better than by the file; the others of their figures as the file has them.
    """
    before = {("", each.name): (each.mass, *each.at, each.mass_pm, *each.at_pm) for each in vehicle.parts}
    for each in vehicle.bodies:
        if each.weighed:
            whole = each.weighed
            before[each.name, ""] = (whole.mass, *whole.cg, whole.mass_pm, *whole.cg_pm)
    told = []
    for part in parts:
        as_given = before[("", part.part) if part.part else (part.body, "")]
        files = [Estimate(value, pm) for value, pm in zip(as_given[:4], as_given[4:], strict=True)]
        now = (part.mass, *part.cg)
        mass, x, y, z = (new if new.pm < BETTER * old.pm else old for new, old in zip(now, files, strict=True))
        if (mass, x, y, z) != tuple(files):
            told.append(PartUpdate(part.body, part.part, mass, (x, y, z)))
    return tuple(told)


def counts_as_weighed(part: PartUpdate) -> bool:
    """Return whether a part's mass is known so well that it counts as weighed."""
    return part.mass.pm <= WEIGHED_SHARE * part.mass.value


def _weighed_load(
    job: Job, of_stage: tuple[State, Statics], response: LoadResponse, reading: StageReading
) -> WeighedLoad:
    """Return a reading as an equation of the loads.

    Raises:
        InputError: If what it reads cannot be told.
    """
    state, statics = of_stage
    counted, lower = loads_read(response, reading), further_down(state, statics, reading)
    if counted is None:
        says = f"reads {reading.support}, of which the load cannot be told: what it bears is not in balance"
        raise InputError(_fault(job, state, says))
    if lower is None:
        says = f"reads {reading.support} with the lift lowered, but how far this step lowers it is not known"
        raise InputError(_fault(job, state, says))
    return WeighedLoad(reading, counted, lower)


def _fault(job: Job, state: State, says: str) -> Fault:
    return Fault(job.source, f'stage {state.index + 1} "{state.name}"', "readings", says)


def _parts(job: Job, response: LoadResponse, found: FittedWeights) -> tuple[PartUpdate, ...]:
    """Return each part of the bodies in use with what is known of it now; as given where the readings contradict."""
    spreads = COVERAGE * response.spread
    values = response.given
    if found.consistent:
        values, spreads = found.unknowns, spreads * found.covariance.diagonal() ** 0.5
    told = []
    for number, each in enumerate(response.weights):
        mass, x, y = (
            Estimate(float(values[3 * number + part]), float(spreads[3 * number + part])) for part in range(3)
        )
        told.append(PartUpdate(each.body, each.part, mass, (x, y, Estimate(each.at[2], each.at_pm[2]))))
    return tuple(each for each in told if each.body in job.bodies)


def _stiffness(job: Job, response: LoadResponse, found: FittedWeights) -> tuple[StiffnessUpdate, ...]:
    """Return what is known of stiffness, where it is known better than before."""
    lift = job.lift.lift if job.lift and response.is_arm.any() else None
    arms = (lift.name, lift.stiffness) if lift else ("", None)
    named = [arms, *((each.name, each.stiffness) for each in response.joints)]
    first = response.stiffness_from
    told = []
    for number, (name, given) in enumerate(named, first):
        left = sqrt(float(found.covariance[number, number]))
        if given is None or not response.spread[number] or left > TELLING:
            continue
        value = given * exp(float(found.unknowns[number]))
        told.append(StiffnessUpdate(name, Estimate(value, COVERAGE * left * float(response.spread[number]) * value)))
    return tuple(told)


def _part(part: Part, told: Mapping[tuple[str, str], PartUpdate]) -> Part:
    """Return a part as it is known now; weighed only where that is nearer than what its file says."""
    now = told.get((part.body, part.name))
    if now is None:
        return part
    basis = Basis.WEIGHED if counts_as_weighed(now) and now.mass.pm < part.mass_pm else part.basis
    x, y, z = now.cg
    return replace(
        part,
        mass=now.mass.value,
        mass_pm=now.mass.pm,
        at=(x.value, y.value, z.value),
        at_pm=(x.pm, y.pm, z.pm),
        basis=basis,
    )


def _body(body: Body, told: Mapping[tuple[str, str], PartUpdate]) -> Body:
    """Return a body that was weighed whole as it is known now; any other as it is."""
    now = told.get((body.name, ""))
    if now is None or body.weighed is None:
        return body
    x, y, z = now.cg
    weighed = replace(
        body.weighed,
        mass=now.mass.value,
        mass_pm=now.mass.pm,
        cg=(x.value, y.value, z.value),
        cg_pm=(x.pm, y.pm, z.pm),
    )
    return replace(body, weighed=weighed)
