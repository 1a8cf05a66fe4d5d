"""Part: a heavy one comes off in hands that the plan knows nothing of. Guideline figure of 25 kg: HSE INDG143."""

from dataclasses import replace

import pytest

from loadplan.checks import part as checked
from loadplan.checks.case import Case
from loadplan.model.job import Stage, Support
from loadplan.model.shop import Equipment
from loadplan.model.vehicle import Place
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from tests.checks.builders import HOIST, JACK, STAND, case, part, support, words


def moved(
    mass: float, *stands: Support, before: tuple[Support, ...] = (), on: bool = False, at: Place = (0.0, 0.0, 0.4)
) -> Finding:
    """What is told of a part of this mass that comes off, or goes on."""
    judged: Case = case(*stands)
    job = replace(judged.job, vehicle=replace(judged.job.vehicle, parts=(replace(part("head"), mass=mass, at=at),)))
    stage = Stage("step", on=("head",)) if on else Stage("step", off=("head",))
    state = replace(judged.state, stage=stage)
    (finding,) = checked.check(replace(judged, job=job, state=state, before=replace(state, supports=before)))
    assert isinstance(finding, Finding)
    return finding


@pytest.mark.parametrize(("mass", "verdict"), [(25.0, Verdict.HOLDS), (25.1, Verdict.NOTE)])
@pytest.mark.parametrize(("on", "moves"), [(False, "comes off"), (True, "goes on")])
def test_what_is_heavier_than_25_kg_is_noted(mass: float, verdict: Verdict, *, on: bool, moves: str) -> None:
    finding = moved(mass, support("A"), on=on)
    assert finding.verdict is verdict
    assert moves in words(finding.says)
    assert ("no hoist, jack or table holds it" in words(finding.says)) == (verdict is Verdict.NOTE)


@pytest.mark.parametrize(
    ("equipment", "at", "verdict"),
    [
        (HOIST, (0.0, 0.0), Verdict.HOLDS),
        (JACK, (0.2, 0.2), Verdict.HOLDS),
        (JACK, (0.3, 0.0), Verdict.HOLDS),
        (JACK, (0.0, 0.3001), Verdict.NOTE),
        (JACK, (0.22, 0.22), Verdict.NOTE),
        (STAND, (0.0, 0.0), Verdict.NOTE),
    ],
)
def test_a_hoist_or_jack_at_it_holds_it(equipment: object, at: tuple[float, float], verdict: Verdict) -> None:
    holder = support("H", equipment, at)  # type: ignore[arg-type]
    assert moved(40.0, support("A"), holder).verdict is verdict
    assert moved(40.0, support("A"), before=(holder,)).verdict is verdict


@pytest.mark.parametrize(
    ("mass", "holder", "says"),
    [
        (25.0, None, "."),
        (40.0, HOIST, ", held by H."),
        (25.0, HOIST, ", held by H."),
        (
            *(40.0, None),
            ", and no hoist, jack or table holds it: what holds it, and how it tugs at the unit, are not judged.",
        ),
    ],
)
def test_a_part_is_told_with_its_mass_and_what_holds_it(mass: float, holder: Equipment | None, says: str) -> None:
    finding = moved(mass, *(() if holder is None else (support("H", holder),)))
    assert (finding.check, finding.subject, finding.value, finding.limit, finding.measure) == (
        *(CheckName.PART, "head"),
        *(mass, 25.0, Measure.MASS),
    )
    assert words(finding.says) == f"The head comes off, {mass:.0f} kg{says}"


def test_what_stands_under_another_body_does_not_hold_it() -> None:
    assert moved(40.0, replace(support("H", HOIST), body="shell")).verdict is Verdict.NOTE


def test_a_place_on_a_part_holds_that_part_and_no_other() -> None:
    far = replace(support("H", HOIST, (0.9, 0.9)), part="head")
    assert moved(40.0, far).verdict is Verdict.HOLDS
    assert moved(40.0, replace(support("H", HOIST), part="gearbox")).verdict is Verdict.NOTE


def test_where_nothing_moves_nothing_is_told() -> None:
    assert checked.check(case(support("A"))) == []


@pytest.mark.parametrize(("x", "y"), [(0.9, 0.8), (-0.9, 0.8), (0.9, -0.8)])
def test_a_hoist_holds_what_is_beside_it_wherever_that_is(x: float, y: float) -> None:
    assert moved(40.0, support("H", HOIST, (x, y)), at=(x, y, 0.4)).verdict is Verdict.HOLDS
    assert moved(40.0, support("H", HOIST, (-x, y)), at=(x, y, 0.4)).verdict is Verdict.NOTE
    assert moved(40.0, support("H", HOIST, (x, -y)), at=(x, y, 0.4)).verdict is Verdict.NOTE
