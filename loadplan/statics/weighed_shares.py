"""Weighed shares: a unit weighed as it stands, shared among the assemblies that it is bolted together of.

What a file says of each assembly is a first estimate of its mass m and its moments s = m·x, with their uncertainties
(plus or minus as k = 2, normal; parts independent of each other). The scales add what is known far better: what all of
them together come to. So each assembly's first estimate takes up what is missing in proportion to how uncertain it
is, in all four amounts at once:

    v_j = v_j0 + K_j (V − Σ v_0),   K_j = P_j (Σ P)⁻¹,   cov v_j = P_j − K_j P_j + K_j U K_jᵀ

with P_j the covariance of an assembly's first estimate, V the unit and U its covariance. Since the K_j add up to one,
the shares add up to the unit. It is the least change of the first estimates, each over its uncertainty (JCGM 100:2008,
5.2 and F.1.2; the step of an update by a measurement: Björck, Numerical Methods for Least Squares Problems, 1996, 3.2).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from loadplan.model.readings import COVERAGE, Estimate, Weighing
from loadplan.model.vehicle import Vehicle, Weighed
from loadplan.statics.mass import Array, Lump, cg_box, mass_and_cg, whole_body

LEAST_MASS, LEAST_PLACE = 1e-3, 1e-4
"""Least standard deviation of a mass [kg] and of a place [m]: nothing is known better."""


class UnfitShareError(Exception):
    """A unit's weight cannot be shared: it is so far from what the file says that an assembly would weigh nothing.

    Attributes:
        body: The first such assembly.
    """

    def __init__(self, body: str) -> None:
        """Name the assembly."""
        super().__init__(body)
        self.body = body


@dataclass(frozen=True, slots=True)
class _Amounts:
    """Mass and moments (4) about the axle line, centre line and floor, with their covariance (4, 4)."""

    value: Array
    spread: Array


def weighed_shares(vehicle: Vehicle, bodies: Sequence[str], weighing: Weighing) -> tuple[tuple[str, Weighed], ...]:
    """Share a weighed unit among the assemblies that it is made of.

    Args:
        vehicle: The vehicle, with what its file says of each.
        bodies: At least one of its bodies, each once: the unit that was weighed, with all their parts on.
        weighing: What was weighed, with at least the mass and two coordinates.

    Returns:
        (body, what it was weighed as): plus or minus with k = 2. Masses and moments add up to those of the unit. Where
        the height was not weighed, each keeps the height of its file and what that may be off.

    Raises:
        UnfitShareError: If an assembly would be left without mass.
        ValueError: If mass or a coordinate in plan was not weighed.
    """
    first, second, _ = weighing.cg
    third = weighing.height
    if weighing.mass is None or first is None or second is None:
        raise ValueError("a weighing without mass, or without place in plan")
    made_of = [_lumps(vehicle, name) for name in bodies]
    before = [_sum(each) for each in made_of]
    # Without a height the unit says nothing of the third moment; it is left out of what is compared.
    seen = slice(0, 3 if third is None else 4)
    unit = _amounts(weighing.mass, (first, second, third or Estimate(0.0, 0.0)))
    all_together = np.linalg.inv(sum(each.spread[seen, seen] for each in before))
    missing = unit.value[seen] - sum(each.value[seen] for each in before)
    shares = []
    for name, lumps, each in zip(bodies, made_of, before, strict=True):
        prior = each.spread[seen, seen]
        gain = prior @ all_together
        spread = prior - gain @ prior + gain @ unit.spread[seen, seen] @ gain.T
        own = _Amounts(each.value[seen] + gain @ missing, spread)
        if own.value[0] <= COVERAGE * spread[0, 0] ** 0.5:
            raise UnfitShareError(name)
        shares.append((name, _weighed(own, lumps)))
    return tuple(shares)


def _lumps(vehicle: Vehicle, name: str) -> tuple[Lump, ...]:
    """Return what a body is made of with all its parts on."""
    body = next(each for each in vehicle.bodies if each.name == name)
    return whole_body(body, vehicle.parts)


def _sum(lumps: tuple[Lump, ...]) -> _Amounts:
    """Return what the file says of an assembly."""
    each = [
        _amounts(
            Estimate(lump.mass, lump.high - lump.mass),
            tuple(Estimate(at, pm) for at, pm in zip(lump.at, lump.at_pm, strict=True)),
        )
        for lump in lumps
    ]
    return _Amounts(np.sum([one.value for one in each], axis=0), np.sum([one.spread for one in each], axis=0))


def _amounts(mass: Estimate, at: tuple[Estimate, ...]) -> _Amounts:
    """Return the moments of a mass at a place; both independent: var(m·x) = x² var m + m² var x."""
    along = np.array([1.0, *(each.value for each in at)])
    off = np.array([max(each.pm / COVERAGE, LEAST_PLACE) for each in at])
    spread = max(mass.pm / COVERAGE, LEAST_MASS) ** 2 * np.outer(along, along)
    spread[1:, 1:] += np.diag((mass.value * off) ** 2)
    return _Amounts(mass.value * along, spread)


def _weighed(own: _Amounts, lumps: tuple[Lump, ...]) -> Weighed:
    """Return a share as mass and place, moment over mass, its uncertainty propagated from both."""
    mass = float(own.value[0])
    places, spreads = list(mass_and_cg(lumps)[1]), list(cg_box(lumps))
    for axis in range(1, len(own.value)):
        change = np.zeros(len(own.value))
        change[0], change[axis] = -own.value[axis] / mass**2, 1 / mass
        places[axis - 1] = float(own.value[axis]) / mass
        spreads[axis - 1] = COVERAGE * max(float(change @ own.spread @ change), 0.0) ** 0.5
    return Weighed(
        mass=mass,
        mass_pm=COVERAGE * float(own.spread[0, 0]) ** 0.5,
        cg=(places[0], places[1], places[2]),
        cg_pm=(spreads[0], spreads[1], spreads[2]),
        date=None,
    )
