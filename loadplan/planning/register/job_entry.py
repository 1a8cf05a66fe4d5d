"""One job in the register of a shop: judged by what the shop owns, and what it takes from when to when."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import Enum

from loadplan.assess import assess_in_short
from loadplan.checks.piece import Piece, pieces
from loadplan.limits import TAPE
from loadplan.model.job import Job, LiftUse, Stack, Support
from loadplan.model.shop import Equipment, Lift, RatedFor, Shop
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Assessment, CheckName, Measure, Verdict
from loadplan.model.work_record import JobStanding, WorkRecord
from loadplan.planning.record_doubt import moved_words, record_doubt, worse_by
from loadplan.planning.record_verdict import with_record

BY_THE_BAY = "The verdict is worse than the plan's, {}: check says why."
"""What is said of a job of which what was done at the bay knows worse than its plan."""

NO_RECORD = "Its record cannot be read, so nothing that was read at the bay counts:"
"""What is said of a job whose record is spoilt, before why."""


@dataclass(frozen=True, slots=True)
class Stock:
    """A kind of thing that is counted.

    Attributes:
        name: Name of the equipment or lift; of a shim its wood in small letters, "" where not said.
        height: Height of a shim [m], None for anything else.
    """

    name: str
    height: float | None = None


@dataclass(frozen=True, slots=True)
class Need:
    """What a job takes of one kind of thing.

    Attributes:
        stock: What.
        number: Pieces that it needs at once, at least those with a tag; of shims whose wood is not said all of their
            height, since they may be any of these.
        tags: Pieces that it names.
        owned: Pieces that there are and may be used, None where the shop's list does not say.
    """

    stock: Stock
    number: int
    tags: tuple[str, ...]
    owned: int | None


class What(Enum):
    """What a row of the register is about, and what it is called there; stands have names of their own."""

    PIECE = ""
    LIFT = "lift"
    ARM = "one arm"


@dataclass(frozen=True, slots=True)
class RegisterRow:
    """One piece of equipment in a job, or its lift.

    Attributes:
        what: A piece, the lift as a whole, or its most loaded arm.
        equipment: What it is.
        tag: Which piece, "" where not said.
        places: Stands of the job that it makes, each once.
        marked: Rating as marked [N].
        rated_for: Whether the mark is for one or for a pair.
        counted: Rating as counted for one [N].
        most: Most it carries on this floor in any step [N]; None where it is not known.
        due: Day its inspection is due, None where the shop does not say.
    """

    what: What
    equipment: str
    tag: str
    places: tuple[str, ...]
    marked: float
    rated_for: RatedFor
    counted: float
    most: float | None
    due: date | None

    @property
    def share(self) -> float | None:
        """Most load by rating."""
        return None if self.most is None else self.most / self.counted


@dataclass(frozen=True, slots=True)
class Entry:
    """One job in the register.

    Attributes:
        file: Its file.
        title: Its title.
        vehicle: Name of its vehicle.
        bay: Name of its lift, "" without one.
        first: Its first day.
        last: Its last day.
        verdict: Verdict, with the equipment that the shop owns and with what was read at the bay.
        basis: How good the weights are.
        rows: Its pieces in the job's order, then its lift as a whole and by arm.
        needs: What it takes.
        remarks: Where the job and the shop's list differ, a sentence each; that its verdict is worse than the plan's.
        steps: Names of its steps, in order.
        standing: Where it stands by its record; None where nothing was done yet.
        waits: Whether the step at which it stands is one in which it is left alone.
        job: The job with the equipment that the shop owns, to draw it; None where it is not drawn.
    """

    file: str
    title: str
    vehicle: str
    bay: str
    first: date
    last: date
    verdict: Verdict
    basis: Basis
    rows: tuple[RegisterRow, ...]
    needs: tuple[Need, ...]
    remarks: tuple[str, ...]
    steps: tuple[str, ...]
    standing: JobStanding | None
    waits: bool
    job: Job | None


def enter(job: Job, shop: Shop, record: WorkRecord | None = None) -> Entry:
    """Judge a job by what the shop owns, and by what was read at the bay.

    Args:
        job: The job; where it names equipment that the shop has, the shop's list counts.
        shop: The shop.
        record: What was done of it; None where nothing was yet.

    Returns:
        Its entry; what it takes is what is planned, its verdict is not milder than what was read.
    """
    own = by_list(job, shop)
    assessment = assess_in_short(own)
    done = record or WorkRecord()
    verdict, standing = with_record(assessment, done).verdict, done.standing
    return Entry(
        file=job.source,
        job=own,
        title=job.title,
        vehicle=job.vehicle.name,
        bay=job.lift.lift.name if job.lift else "",
        first=job.date,
        last=max(job.until or job.date, job.date),
        verdict=verdict,
        basis=assessment.basis,
        rows=(*_rows(assessment), *_lift_rows(assessment)),
        needs=(*_needs(assessment, {each.name for each in shop.equipment}), *_shims(assessment)),
        remarks=(*_remarks(job, shop), *_by_the_bay(own, done, verdict, assessment.verdict)),
        steps=tuple(stage.name for stage in job.stages),
        standing=standing,
        waits=standing is not None
        and not standing.finished
        and any(stage.unattended for stage in job.stages if stage.name == standing.step),
    )


def by_list(job: Job, shop: Shop) -> Job:
    """Put the shop's own equipment into a job, wherever the job uses it by name.

    Args:
        job: The job.
        shop: The shop.

    Returns:
        The job, as it is where its own shop file says the same.
    """
    owned = {each.name: each for each in shop.equipment}
    lifts = {each.name: each for each in shop.lifts}
    others = tuple(each for each in job.shop.equipment if each.name not in owned)
    return replace(
        job,
        shop=Shop((*shop.equipment, *others), shop.lifts, shop.shims),
        supports=tuple(
            replace(each, equipment=owned.get(each.equipment.name, each.equipment)) for each in job.supports
        ),
        lift=_lift_by_list(job.lift, lifts.get(job.lift.lift.name)) if job.lift else None,
    )


def _lift_by_list(use: LiftUse, listed: Lift | None) -> LiftUse:
    """Return a lift in use as the shop's list has it; that a step sets it on locks may be all that is known of them."""
    if listed is None or listed.arms != len(use.arms) or replace(listed, locks=use.lift.locks) == use.lift:
        return use
    arm = replace(use.arms[0].equipment, rating=listed.arm_rating, stiffness=listed.stiffness, locks=listed.locks)
    return replace(use, lift=listed, arms=tuple(replace(each, equipment=arm) for each in use.arms))


def _rows(assessment: Assessment) -> Iterator[RegisterRow]:
    """Yield a row for each piece that any step puts in place, arms aside."""
    used = {each.name for stage in assessment.stages for each in stage.state.supports if not each.is_arm}
    gathered: dict[tuple[str, str, str], list[Piece]] = {}
    for piece in pieces(each for each in assessment.job.supports if each.name in used):
        tag = "".join(piece.tags[:1])
        # Without a tag each is a piece of its own.
        gathered.setdefault((piece.equipment.name, tag, "" if tag else piece.name), []).append(piece)
    for (_, tag, _), those in gathered.items():
        kind = those[0].equipment
        yield RegisterRow(
            what=What.PIECE,
            equipment=kind.name,
            tag=tag,
            places=tuple(each.name for each in those),
            marked=kind.rating,
            rated_for=kind.rated_for,
            counted=kind.rating_of_one,
            most=_most(assessment, CheckName.RATING, {each.name for each in those}),
            due=_due(assessment, tag or kind.name),
        )


def _lift_rows(assessment: Assessment) -> Iterator[RegisterRow]:
    """Yield the lift as a whole and its most loaded arm; nothing without a lift."""
    use = assessment.job.lift
    if use is None:
        return
    lift, arms = use.lift, tuple(each.name for each in use.arms)
    whole = _most(assessment, CheckName.LIFT, {lift.name})
    yield RegisterRow(What.LIFT, lift.name, "", (), lift.rating, RatedFor.EACH, lift.rating, whole, None)
    most = _most(assessment, CheckName.LIFT, set(arms))
    yield RegisterRow(What.ARM, lift.name, "", arms, lift.arm_rating, RatedFor.EACH, lift.arm_rating, most, None)


def _most(assessment: Assessment, check: CheckName, subjects: set[str]) -> float | None:
    """Return the largest load [N] that a check found on any of some subjects, None where it found none."""
    findings = [each for stage in assessment.stages for each in stage.findings if each.check is check]
    # A finding without a limit is not about the rating of the thing.
    loads = [each for each in findings if each.measure is Measure.LOAD and each.limit is not None]
    return max((each.value for each in loads if each.subject in subjects and each.value is not None), default=None)


def _due(assessment: Assessment, subject: str) -> date | None:
    for stage in assessment.stages:
        for each in stage.findings:
            if each.check is CheckName.INSPECTION and each.subject == subject and each.value is not None:
                return assessment.job.date + timedelta(days=each.value)
    return None


def _needs(assessment: Assessment, listed: Collection[str]) -> Iterator[Need]:
    # Two jobs may well call different stands alike that the shop's list does not have: how many there are is not known.
    stages = [pieces(each for each in stage.state.supports if not each.is_arm) for stage in assessment.stages]
    kinds = {piece.equipment.name: piece.equipment for those in stages for piece in those}
    for kind in kinds.values():
        used = [[piece for piece in those if piece.equipment.name == kind.name] for those in stages]
        tags = tuple(dict.fromkeys(tag for those in used for piece in those for tag in piece.tags))
        owned = kind.usable_count if kind.name in listed else None
        yield Need(Stock(kind.name), max(len(tags), *map(len, used)), tags, owned)


def _shims(assessment: Assessment) -> Iterator[Need]:
    """Yield what a job takes of shims, those of one height and wood together."""
    stages = [[each.shim for each in stage.state.supports if each.shim] for stage in assessment.stages]
    for stock in dict.fromkeys(_shim(each) for those in stages for each in those):
        # A shim of any wood serves where none is said, so it counts among those as well.
        most = max(sum(stock in {_shim(each), replace(_shim(each), name="")} for each in those) for those in stages)
        assert stock.height is not None
        counts = [each.count for each in assessment.job.shop.shims if each.fits(stock.height, stock.name)]
        # One kind that is not counted may be any number: then how many there are is not known.
        known = [each for each in counts if each is not None]
        yield Need(stock, most, (), sum(known) if known and len(known) == len(counts) else None)


def _shim(stack: Stack) -> Stock:
    return Stock(stack.wood.casefold(), round(stack.height / TAPE) * TAPE)


def _by_the_bay(job: Job, record: WorkRecord, verdict: Verdict, planned: Verdict) -> Iterator[str]:
    """Yield what the record of a job says of its verdict: that it is worse than the plan's, and what is in doubt."""
    if verdict > planned:
        yield BY_THE_BAY.format(worse_by(job, record, verdict))
    if record.unreadable:
        yield f"{NO_RECORD} {record.unreadable}"
    elif doubt := record_doubt(job, record):
        yield doubt
    if moved := moved_words(record):
        yield moved


def _remarks(job: Job, shop: Shop) -> Iterator[str]:
    """Yield where the job and the shop's list differ: equipment, tags, the lift; and a last day not given."""
    owned = {each.name: each for each in shop.equipment}
    kinds = {each.equipment.name: each.equipment for each in job.supports}
    for name, kind in kinds.items():
        if name not in owned:
            yield f"{name} is not on the shop's list: it counts as the job's own file has it."
        elif owned[name] != kind:
            yield f"{name} is written differently in the job's own file: the shop's list counts."
    yield from _strange_tags(job.supports, owned)
    if job.lift:
        yield from _lift_remarks(job.lift, {each.name: each for each in shop.lifts})
    if job.until is None:
        yield "No last day is given (until): its equipment counts as taken on the first day only."


def _strange_tags(supports: Iterable[Support], owned: dict[str, Equipment]) -> Iterator[str]:
    for each in supports:
        kind = owned.get(each.equipment.name)
        if kind and each.tag and kind.tags and each.tag not in kind.tags:
            yield f"{each.tag} ({kind.name}) is not among the tags on the shop's list."


def _lift_remarks(use: LiftUse, lifts: dict[str, Lift]) -> Iterator[str]:
    listed = lifts.get(use.lift.name)
    if listed is None:
        yield f"{use.lift.name} is not on the shop's list: it counts as the job's own file has it."
    elif listed.arms != len(use.arms):
        yield f"{use.lift.name} has {listed.arms} arms on the shop's list: it counts as the job's own file has it."
    elif _lift_by_list(use, listed) is not use:
        yield f"{use.lift.name} is written differently in the job's own file: the shop's list counts."
