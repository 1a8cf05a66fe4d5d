"""Checks the proof of every stage with the standard library alone: a reader's own second look, by virtual work.

python -m tests.proofs.checker JOB.toml REPORT.json        # REPORT.json: what `loadplan check JOB --json` printed

Takes places and weights from the report, and only `on` (what a support stands on) from the job file. A tie is what
acts between two bodies at a place [mm]; the second may be the floor, None. A motion says (w, rx, ry) of each body.
"""

import json
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

GRAVITY = 9.80665
SMALL = 1e-9  # of the weight, and of the motion's size
EDGE = 1e-6  # m: a centre of gravity within 0.001 mm of an edge counts as tipping, though its weight still rises a hair
Ties, Motions = dict[str, dict[str, tuple]], dict[str, tuple[float, ...]]
Told = Iterator[tuple[str, float]]
"""What, and how far off."""


def faults(report: dict, on: dict[str, str]) -> list[str]:
    """Return what is wrong with the proofs of a report, a line each."""
    return [
        f"{stage['name']}: {line}" for stage in report["stages"] for line, off in told(stage, on) if not off <= SMALL
    ]


def told(stage: dict, on: dict[str, str]) -> Told:
    """Yield everything that the proofs of a stage have to keep."""
    ties = {
        "supports": {
            each["name"]: (each["body"], on.get(each["name"]), each["at_mm"]) for each in there(stage["supports"])
        },
        "joints": {each["name"]: (*each["between"], each["at_mm"]) for each in there(stage["joints"]) if each["at_mm"]},
    }
    proven = sorted(name for proof in stage["proof"] for name in proof["bodies"])
    yield "not one proof for each body", proven != sorted(body["name"] for body in stage["bodies"])
    for proof in stage["proof"]:
        own = [body for body in stage["bodies"] if body["name"] in proof["bodies"]]
        far = max(1e3, *(abs(at) for body in own for at in body["cg_mm"])) / 1e3
        yield f"{proof['bodies']} not as proven", any(body["balanced"] != ("balance" in proof) for body in own)
        checked = (balance if "balance" in proof else motion)(proof, own, ties)
        yield from ((f"{proof['bodies']}: {line}", off / far) for line, off in checked)


def there(rows: list[dict]) -> list[dict]:
    """Leave out what has nothing above it, and links on which nothing is counted to hang."""
    return [each for each in rows if each.get("there", True)]


def balance(proof: dict, own: list[dict], ties: Ties) -> Told:
    """Loads and mounts lift the weight: no work is left in any of the three motions of a rigid whole. No load pulls."""
    weight = GRAVITY * sum(body["mass_kg"] for body in own)
    forces = [(ties[kind][name], force / weight) for kind in ties for name, force in proof["balance"][kind].items()]
    for body in own:
        for way in ((1, 0, 0), (0, 1, 0), (0, 0, 1)):
            moves = dict.fromkeys([body["name"], *body["rigid_with"]], way)
            work = sum(force * opened(moves, tie) for tie, force in forces)
            yield f"{body['name']} is out of balance", abs(work - raised(moves, own))
    yield from ((f"{name} pulls", -load / weight) for name, load in proof["balance"]["supports"].items())


def motion(proof: dict, own: list[dict], ties: Ties) -> Told:
    """It bends no rigid whole, stretches no mount. Free: no support moves. Tips: none is pressed, no weight rises."""
    free, ways = "free" in proof, proof.get("free") or proof["tips"]
    size = max(abs(each) for way in ways.values() for each in way.values())
    yield "nothing moves", size == 0
    moves = {name: [way[row] / (size or 1) for row in ("w", "rx", "ry")] for name, way in ways.items()}
    for body in own:
        for other in body["rigid_with"]:
            apart = [abs(one - its) for one, its in zip(moves[body["name"]], moves[other], strict=True)]
            yield f"{body['name']} is bent", max(apart)
    for name, tie in ties["supports"].items():
        yield f"{name} is moved", abs(opened(moves, tie)) if free else -opened(moves, tie)
    yield from ((f"{name} is stretched", abs(opened(moves, tie))) for name, tie in ties["joints"].items())
    yield "the weight is raised", 0 if free else raised(moves, own) - EDGE


def opened(moves: Motions, tie: tuple) -> float:
    """Return how far a motion takes the ends of a tie apart [m]."""
    first, second, at = tie
    return up(moves, first, at) - up(moves, second, at)


def raised(moves: Motions, own: list[dict]) -> float:
    """Return how far a motion raises the weight of bodies [m]."""
    masses = [body["mass_kg"] for body in own]
    return sum(m * up(moves, body["name"], body["cg_mm"]) for m, body in zip(masses, own, strict=True)) / sum(masses)


def up(moves: Motions, body: str | None, at: list[float]) -> float:
    """Return how far a motion raises a place [mm] of a body [m]."""
    w, rx, ry = moves.get(body, (0, 0, 0))
    return w + rx * at[1] / 1e3 - ry * at[0] / 1e3


if __name__ == "__main__":
    supports = tomllib.loads(Path(sys.argv[1]).read_text("utf-8")).get("support", [])
    wrong = faults(
        json.loads(Path(sys.argv[2]).read_text("utf-8")), {each["name"]: each.get("on") for each in supports}
    )
    sys.exit("\n".join(wrong) or None)
