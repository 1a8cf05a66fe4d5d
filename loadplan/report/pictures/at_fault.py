"""What is at fault in a step: the one judge of it for every picture. Nothing else in a picture is drawn in colour."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from loadplan.checks.check_table import CHECK_OF
from loadplan.checks.reading import read_at
from loadplan.model.verdict import CheckName, StageAssessment, Verdict
from loadplan.report.pictures.tipping_edge import RigidShown, goes_first, may_go
from loadplan.report.pictures.verdict_colours import UNBLAMED, Livery, livery


@dataclass(frozen=True, slots=True)
class Faults:
    """What the cautions and stops of a step are about.

    Attributes:
        stands: (support, its worst caution or stop) of each that is at fault.
        wholes: (rigid whole, its worst caution or stop) of each whose edge is at fault.
        on_pull: The worst said of the pull that the step names, None for nothing.
    """

    stands: tuple[tuple[str, Verdict], ...] = ()
    wholes: tuple[tuple[str, Verdict], ...] = ()
    on_pull: Verdict | None = None

    def stand(self, name: str) -> Livery:
        """Return how a stand or pad looks: in ink where nothing is said of it."""
        return _look(dict(self.stands).get(name))

    def edge(self, whole: RigidShown) -> Livery:
        """Return how the edge that a rigid whole would go over looks, and how far that is: in ink without a fault."""
        return _look(dict(self.wholes).get(whole.name))

    @property
    def worst(self) -> Verdict:
        """The worst that is said of anything that can be drawn so."""
        said = [verdict for _, verdict in (*self.stands, *self.wholes)]
        return max((*said, self.on_pull or Verdict.HOLDS), default=Verdict.HOLDS)

    @property
    def pull(self) -> Livery:
        """Return how the pull that the step names looks."""
        return _look(self.on_pull)


NOBODY = Faults()
"""Of a step in which nothing is at fault."""


def faults_of(stage: StageAssessment, wholes: Sequence[RigidShown]) -> Faults:
    """Gather what the cautions and stops of a step are about.

    What is said of several assemblies that are no rigid whole is drawn on the one of them that goes over first, and on
    all that may go over or that nothing holds: the others would be blamed for their neighbour. A stand is not blamed
    for what would happen without it.

    Args:
        stage: The step.
        wholes: All its rigid wholes.

    Returns:
        What is at fault.
    """
    called = {name: each.name for each in stage.state.supports for name in (each.piece, each.tag, each.name) if name}
    stands: list[tuple[str, Verdict]] = []
    blamed: list[tuple[str, Verdict]] = []
    bad = [each for each in stage.findings if each.verdict > Verdict.NOTE]
    for finding in bad:
        if CHECK_OF[finding.check].of_bodies:
            blamed += [(each.name, finding.verdict) for each in _meant(finding.subject.split(", "), wholes)]
        elif finding.check != CheckName.LOST_SUPPORT:
            stands += [(called[name], finding.verdict) for name in read_at(finding, called)]
    pulls = [each.verdict for each in bad if each.check == CheckName.PULL]
    return Faults(_worst(stands), _worst(blamed), max(pulls, default=None))


def _meant(bodies: Sequence[str], wholes: Sequence[RigidShown]) -> list[RigidShown]:
    """Return the rigid wholes whose edges a finding about some assemblies is drawn on."""
    own = [each for each in wholes if not {body.name for body in each.bodies}.isdisjoint(bodies)]
    first = min(own, key=goes_first, default=None)
    return [each for each in own if each is first or may_go(each)]


def _worst(found: Iterable[tuple[str, Verdict]]) -> tuple[tuple[str, Verdict], ...]:
    """Return each name once, with the worst that was found of it."""
    worst: dict[str, Verdict] = {}
    for name, verdict in found:
        worst[name] = max(verdict, worst.get(name, verdict))
    return tuple(worst.items())


def _look(verdict: Verdict | None) -> Livery:
    return UNBLAMED if verdict is None else livery(verdict)
