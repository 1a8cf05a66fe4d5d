"""What if: other masses and centres of gravity than the vehicle's file gives, tried out and not written anywhere."""

import json
from dataclasses import dataclass, replace

from loadplan.board.refusals import RefusedError
from loadplan.files.toml_edit import Change, Edit, number
from loadplan.model.job import Job
from loadplan.model.vehicle import Basis, Body, Part, Place, PlanPoint
from loadplan.report.words.vocabulary import Reader
from loadplan.units import Kind, System, from_si

LEAST = 0.1
"""Least mass that is tried [kg]."""


@dataclass(frozen=True, slots=True)
class WhatIf:
    """What is tried out.

    Attributes:
        masses: (part, mass [kg]) instead of the file's.
        shifts: (body, how far its centre of gravity is moved forward and to the left [m]).
    """

    masses: tuple[tuple[str, float], ...] = ()
    shifts: tuple[tuple[str, PlanPoint], ...] = ()

    def __bool__(self) -> bool:
        """Return whether anything is tried out."""
        return bool(self.masses or self.shifts)

    @property
    def written(self) -> str:
        """What is tried out in one line, "" for nothing."""
        return json.dumps([self.masses, self.shifts]) if self else ""

    @classmethod
    def read(cls, written: str, job: Job) -> "WhatIf":
        """Read what was tried out.

        Args:
            written: The line.
            job: The job; what it does not know any more is left out.

        Returns:
            What is tried out; nothing where the line cannot be understood.
        """
        parts = {part.name for part in job.vehicle.parts}
        bodies = {body.name for body in job.vehicle.bodies}
        try:
            masses, shifts = json.loads(written) if written else ((), ())
            return cls(
                tuple((name, float(mass)) for name, mass in masses if name in parts and float(mass) >= LEAST),
                tuple((name, (float(x), float(y))) for name, (x, y) in shifts if name in bodies),
            )
        except (ValueError, TypeError):
            return cls()

    def with_mass(self, part: str, mass: float | None) -> "WhatIf":
        """Return it with another mass for a part [kg]; None: the file's."""
        others = tuple(each for each in self.masses if each[0] != part)
        return replace(self, masses=others if mass is None else (*others, (part, mass)))

    def with_shift(self, body: str, by: PlanPoint) -> "WhatIf":
        """Return it with a body's centre of gravity moved so much further [m]."""
        was = dict(self.shifts).get(body, (0.0, 0.0))
        others = tuple(each for each in self.shifts if each[0] != body)
        return replace(self, shifts=(*others, (body, (was[0] + by[0], was[1] + by[1]))))

    def applied(self, job: Job) -> Job:
        """Return a job with it: what a part weighs keeps its share of uncertainty."""
        if not self:
            return job
        vehicle = job.vehicle
        changed = replace(
            vehicle,
            parts=tuple(self._part(part) for part in vehicle.parts),
            bodies=tuple(self._body(body) for body in vehicle.bodies),
        )
        return replace(job, vehicle=changed)

    def told(self, job: Job, reader: Reader) -> str:
        """Return what is tried out in one sentence, "" for nothing."""
        given = {part.name: part.mass for part in job.vehicle.parts}
        masses = [f"{name} {reader.mass(mass)} instead of {reader.mass(given[name])}" for name, mass in self.masses]
        shifts = [f"centre of gravity of the {body} {_moved(by, reader)}" for body, by in self.shifts]
        told = "; ".join((*masses, *shifts))
        return reader.words(f"What if, not saved: {told}.") if told else ""

    def edits(self, parts: tuple[Part, ...], bodies: tuple[Body, ...], system: System) -> list[Edit]:
        """Return what changes in the tables of the vehicle, given as they stand in the file: all of it is a guess now.

        Raises:
            RefusedError: If an assembly was weighed whole: what scales say is not overwritten with a guess.
        """
        shifts, masses = dict(self.shifts), dict(self.masses)
        for body in bodies:
            if body.weighed and body.name in shifts:
                message = f"The {body.name} was weighed whole: what the scales said is not overwritten with a guess."
                raise RefusedError(message)
        found: list[Edit] = []
        for row, part in enumerate(parts):
            if part.name in masses:
                found.append(Change("part", row, "mass", number(from_si(masses[part.name], Kind.MASS, system))))
                pm = number(from_si(self._part(part).mass_pm, Kind.MASS, system))
                found.append(Change("part", row, "mass_pm", pm))
            if part.name in masses or part.body in shifts:
                found.append(Change("part", row, "known", '"guess"'))
            if part.body in shifts:
                at = [from_si(each, Kind.LENGTH, system) for each in _shifted(part.at, shifts[part.body])]
                found.append(Change("part", row, "at", f"[{', '.join(map(number, at))}]"))
        return found

    def _part(self, part: Part) -> Part:
        mass = dict(self.masses).get(part.name, part.mass)
        by = dict(self.shifts).get(part.body)
        at = part.at if by is None else _shifted(part.at, by)
        basis = min(part.basis, Basis.GUESS) if part.name in dict(self.masses) or by else part.basis
        return replace(part, mass=mass, mass_pm=part.mass_pm * mass / part.mass, at=at, basis=basis)

    def _body(self, body: Body) -> Body:
        by = dict(self.shifts).get(body.name)
        if by is None or body.weighed is None:
            return body
        return replace(body, basis=Basis.GUESS, weighed=replace(body.weighed, cg=_shifted(body.weighed.cg, by)))


def _shifted(at: Place, by: PlanPoint) -> Place:
    return at[0] + by[0], at[1] + by[1], at[2]


def _moved(by: PlanPoint, reader: Reader) -> str:
    """Return how far and which way a centre of gravity is moved [m], in words."""
    along = f"{reader.length(abs(by[0]))} {'forward' if by[0] > 0 else 'back'}" if by[0] else ""
    across = f"{reader.length(abs(by[1]))} {'to the left' if by[1] > 0 else 'to the right'}" if by[1] else ""
    return " and ".join(each for each in (along, across) if each) or "as in the file"
