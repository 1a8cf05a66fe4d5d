"""Measured steps alone, without any full one before: by hand, and in as few steps as touch changes."""

import numpy as np
import pytest

from loadplan.model.job import Job
from loadplan.statics import contact_loads as contact
from loadplan.statics.contact_loads import NoEquilibriumError, settle, springs
from loadplan.statics.mass import Array
from loadplan.statics.mount_preload import mount_preload
from tests.statics import builders as make
from tests.statics.test_contact_loads import RECTANGLE, SIX, table
from tests.statics.test_load_response import hung, sinking

SLOPE_AWAY = (100.0, 120.0, 90.0, 100.0, 110.0, 80.0)
"""Stiffness of six stands [N/mm]."""


def measured(job: Job, gaps: tuple[float, ...]) -> Array:
    """Loads of three cases at once: as given, and all twice and half as large."""
    frame = make.frame(job)
    low = np.array(gaps or (0.0,) * len(frame.supports)) / frame.span
    times = np.array([[1.0], [2.0], [0.5]])
    loads: Array = settle(springs(frame, mount_preload(job)), times * frame.load, times * low).loads * frame.weight
    return loads / times


@pytest.mark.parametrize(
    ("job", "gaps", "steps", "wanted"),
    [
        (table(RECTANGLE, (0.42, 0.29)), (), 3, (374, 1054, 1326, 646)),
        (table(SIX, (0.42, 0.29)), (0, 0, 0, 0, 0.004, 0), 3, (374, 1054, 2992 / 3, 952 / 3, 0, 1972 / 3)),
        (
            table(SIX, (0.42, 0.29), SLOPE_AWAY),
            (0, 0, 0, 0, 0.004, 0),
            3,
            (223.3196, 1043.5575, 958.9454, 419.1833, 161.1229, 593.8713),
        ),
        (table(RECTANGLE, (0.12, 0.04)), (), 3, (2448, 680, 0, 272)),
        (table(RECTANGLE, (0.42, 0.29)), (0.01, 0, 0.003, 0), 5, (0, 1428, 952, 1020)),
    ],
    ids=["four", "six, one low", "six, soft", "one lifts off", "one hangs free"],
)
def test_it_comes_to_rest_as_soon_as_touch_is_found(
    job: Job, gaps: tuple[float, ...], steps: int, wanted: tuple[float, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Printed values of four and six stands; of three, by moments."""
    monkeypatch.setattr(contact, "LEAPS", 0)
    monkeypatch.setattr(contact, "STEPS", steps)
    for loads in measured(job, gaps):
        assert loads == pytest.approx(wanted, abs=1e-3)


@pytest.mark.parametrize("lower", [0.0, 0.001])
def test_mounts_pull_on_the_way_as_springs_do(lower: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """A unit on mounts under a shell on arms, both onto springs at once."""
    monkeypatch.setattr(contact, "LEAPS", 0)
    monkeypatch.setattr(contact, "STEPS", 4)
    job = hung()
    frame = make.frame(job)
    low = np.array([lower if each.is_arm else 0.0 for each in frame.supports]) / frame.span
    loads = settle(springs(frame, mount_preload(job)), frame.load[None], low[None]).loads[0] * frame.weight
    assert loads == pytest.approx(np.repeat(sinking(300.0, lower), 4))


@pytest.mark.parametrize(
    "job",
    [
        table(RECTANGLE, (0.7, 0.2)),
        table(RECTANGLE, (-0.01, 0.2)),
        make.job([make.part((0.1, 0.0))], make.stands([(0.0, 0.5), (0.0, -0.5)])),
        make.rider((0.3, 0.2), (0.3, 0.3), link=(0.1, -0.2)),
    ],
    ids=["over the front", "over the rear", "over two", "round a link"],
)
def test_what_nothing_balances_is_known_after_a_few_steps(job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    """However many it might take."""
    monkeypatch.setattr(contact, "LEAPS", 0)
    monkeypatch.setattr(contact, "STEPS", 10**9)
    with pytest.raises(NoEquilibriumError):
        measured(job, ())
