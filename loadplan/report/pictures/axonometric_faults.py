"""What is at fault in a step, for a picture: nothing else in it is drawn in colour."""

from collections.abc import Iterable
from dataclasses import dataclass

from loadplan.checks.check_table import CHECK_OF
from loadplan.model.verdict import CheckName, Finding, StageAssessment, Verdict
from loadplan.report.drawing.style import INK
from loadplan.report.pictures.plan_content import RigidShown
from loadplan.report.pictures.verdict_colours import livery


@dataclass(frozen=True, slots=True)
class Faults:
    """Cautions and stops of a step.

    Attributes:
        findings: They.
        critical: Name of the rigid whole that goes over first: of a group that is blamed, only that is.
    """

    findings: tuple[Finding, ...]
    critical: str

    def thing(self, name: str) -> str:
        """Return the colour of the lines and letters of a stand or pad: ink where nothing is said of it."""
        return _colour(each for each in self.findings if each.subject == name)

    def edge(self, whole: RigidShown) -> str:
        """Return the colour of the edge that a rigid whole would go over, and of how far that is."""
        own = {body.name for body in whole.bodies}
        return _colour(
            each
            for each in self.findings
            if CHECK_OF[each.check].of_tipping
            and (each.subject in own or (whole.name == self.critical and own & set(each.subject.split(", "))))
        )

    @property
    def pull(self) -> str:
        """Return the colour of the pull that the step names."""
        return _colour(each for each in self.findings if each.check == CheckName.PULL)


def faults_of(stage: StageAssessment, critical: str) -> Faults:
    """Gather what the cautions and stops of a step are about.

    Args:
        stage: The step.
        critical: Name of the rigid whole that goes over first.

    Returns:
        What is at fault.
    """
    return Faults(tuple(each for each in stage.findings if each.verdict >= Verdict.CAUTION), critical)


def _colour(findings: Iterable[Finding]) -> str:
    worst = max((each.verdict for each in findings), default=None)
    return INK if worst is None else livery(worst).line
