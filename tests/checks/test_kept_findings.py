"""Every finding of the demo jobs, as they are and spoilt one way at a time, held against kept files.

A changed sentence, number or verdict shows as a changed line of `kept/`. Where the change is meant, delete the file:
the next run writes it anew and fails once, so that somebody reads it.
"""

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.model.job import Job, Stage, Support
from loadplan.model.shop import Equipment
from loadplan.model.vehicle import Part
from loadplan.model.verdict import Finding, Verdict
from loadplan.report.words.number_format import write_finding, write_sentence
from loadplan.units import System
from tests.demo.jobs import job, names
from tests.kept_text import assert_kept

KEPT = Path(__file__).parent / "kept"

NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?:e[+-]\d+)?")

CORNER = re.compile(r"\b(?:front|back) (?:left|right) corner")

Spoil = Callable[[Job], Job]


def _equipment(change: Callable[[Equipment], Equipment]) -> Spoil:
    def spoilt(whole: Job) -> Job:
        return replace(
            whole, supports=tuple(replace(each, equipment=change(each.equipment)) for each in whole.supports)
        )

    return spoilt


def _support(name: str, change: Callable[[Support], Support]) -> Spoil:
    def spoilt(whole: Job) -> Job:
        return replace(whole, supports=tuple(change(each) if each.name == name else each for each in whole.supports))

    return spoilt


def _stages(change: Callable[[Stage], Stage]) -> Spoil:
    return lambda whole: replace(whole, stages=tuple(map(change, whole.stages)))


def _parts(change: Callable[[Part], Part]) -> Spoil:
    def spoilt(whole: Job) -> Job:
        return replace(whole, vehicle=replace(whole.vehicle, parts=tuple(map(change, whole.vehicle.parts))))

    return spoilt


def _limits(**limits: float) -> Spoil:
    return lambda whole: replace(whole, limits=replace(whole.limits, **limits))


def _moved(support: Support) -> Support:
    return replace(support, at=(support.at[0] + 0.12, support.at[1], support.at[2]))


SPOILT: dict[str, tuple[str, Spoil]] = {
    "weak equipment": ("battery-pack-stands", _equipment(lambda each: replace(each, rating=0.2 * each.rating))),
    "equipment of oil": ("rocking-on-two-stands", _equipment(lambda each: replace(each, locks=False, wheels=True))),
    "unknown equipment": ("us-units", _equipment(lambda each: replace(each, base=None, saddle=None, heights=None))),
    "a stand in another place": ("front-unit", _support("A", _moved)),
    "a sloping floor": ("shell-nose-off-prop", _limits(floor_slope=0.08, friction=0.1)),
    "an uneven floor": ("weighed-unit", _limits(uneven=0.012, uneven_touch=0.012)),
    "much asked": ("shell-nose-off", _limits(margin=0.4, tip_angle=0.5, push=900.0, rating_share=0.1, arm_share=0.2)),
    "a stand too few": ("battery-pack-stands", lambda whole: replace(whole, supports=whole.supports[1:])),
    "weights in doubt": ("drive-unit-on-oil", _parts(lambda each: replace(each, mass_pm=0.5 * each.mass))),
    "nothing locked": ("drive-unit-on-oil", _stages(lambda each: replace(each, lift_locked=False))),
}


def _line(finding: Finding, system: System) -> str:
    numbers = ["-" if each is None else f"{round(each, 6):.4g}" for each in (finding.value, finding.limit)]
    told = f"{finding.check.value}, {finding.subject}, {'/'.join(numbers)}: {write_finding(finding, system)}"
    return f"{finding.verdict.name.lower()} {told}"


def _told(whole: Job, least: Verdict) -> str:
    """Return what is found of each stage, each sentence where it is told first, whatever its numbers."""
    system = System.US if whole.us_units else System.METRIC
    lines, known = [], set[str]()
    assessment = assess(whole)
    for stage in assessment.stages:
        lines.append(f"== {stage.state.name}")
        for line in (_line(each, system) for each in stage.findings if each.verdict >= least):
            if _words(line) not in known:
                known.add(_words(line))
                lines.append(line)
    lines += ["== Not checked", *(write_sentence(each, system) for each in assessment.not_checked)]
    return "\n".join(lines) + "\n"


def _words(text: str) -> str:
    """Return a text without its numbers, nor which of two corners alike it names: rounding chooses between them."""
    return CORNER.sub("corner", NUMBER.sub("#", text))


@pytest.mark.parametrize("name", names())
def test_every_finding_of_a_demo_job_is_told_as_it_is_kept(name: str) -> None:
    assert_kept(KEPT / f"{name}.txt", _told(job(name), Verdict.HOLDS))


@pytest.mark.parametrize("spoilt", SPOILT)
def test_every_trouble_of_a_spoilt_job_is_told_as_it_is_kept(spoilt: str) -> None:
    name, spoil = SPOILT[spoilt]
    kept = f"{name} with {spoilt}.txt".replace(" ", "-")
    assert_kept(KEPT / kept, _told(spoil(job(name)), Verdict.CAUTION))
