"""Checks the proof of every stage with the standard library alone: a reader's own second look.

python -m tests.proofs.checker JOB.toml REPORT.json        # REPORT.json: what `loadplan check JOB --json` printed

Takes places and weights from the report, and only `on` (what a support stands on) from the job file.
"""

import json
import sys
import tomllib
from pathlib import Path

GRAVITY, SMALL = 9.80665, 1e-9
EDGE = 1e-6  # m: a centre of gravity within 0.001 mm of an edge counts as tipping, though its weight still rises a hair


def faults(report: dict, on: dict[str, str]) -> list[str]:
    """Return what is wrong with the proofs of a report, a line each; lengths in m, forces in N."""
    found = []
    for stage in report["stages"]:
        bodies = {body["name"]: body for body in stage["bodies"]}
        stands = {each["name"]: (each["body"], on.get(each["name"]), each["at_mm"]) for each in stage["supports"]}
        ties = {each["name"]: (*each["between"], each["at_mm"]) for each in stage["joints"] if each["at_mm"]}
        for proof in stage["proof"]:
            own = {name: bodies[name] for name in proof["bodies"]}
            wholes = {name: min([name, *body["rigid_with"]]) for name, body in own.items()}
            weight = GRAVITY * sum(body["mass_kg"] for body in own.values())
            far = max(1.0, *(abs(at) / 1e3 for body in own.values() for at in body["cg_mm"]))
            check = balance if "balance" in proof else motion
            told = check(proof, own, wholes, {"supports": stands, "joints": ties})
            found += [
                f"{stage['name']}, {proof['bodies']}: {line}" for line, size in told if size > SMALL * weight * far
            ]
    return found


def balance(proof: dict, own: dict, wholes: dict, places: dict) -> list[tuple[str, float]]:
    """Return (what, how far off): forces and moments of each rigid whole, and loads that pull."""
    left = {whole: [0.0, 0.0, 0.0] for whole in wholes.values()}
    pushes = [(name, None, body["cg_mm"], -GRAVITY * body["mass_kg"]) for name, body in own.items()]
    loads = proof["balance"]
    pushes += [(*places[kind][name], force) for kind in ("supports", "joints") for name, force in loads[kind].items()]
    for first, second, at, force in pushes:
        for body, sign in ((first, 1.0), (second, -1.0)):
            if body in wholes:
                for row, arm in enumerate((1.0, at[1] / 1e3, -at[0] / 1e3)):
                    left[wholes[body]][row] += sign * force * arm
    off = [(f"{whole} out of balance", max(map(abs, rows))) for whole, rows in left.items()]
    return off + [(f"{name} pulls", -load) for name, load in loads["supports"].items()]


def motion(proof: dict, own: dict, wholes: dict, places: dict) -> list[tuple[str, float]]:
    """Return (what, how far off) of a motion that is said to be free, or to let the weight down."""
    kind = "free" if "free" in proof else "tips"
    weight = GRAVITY * sum(body["mass_kg"] for body in own.values())
    size = max(abs(each) for moves in proof[kind].values() for each in moves.values())

    def up(body: str | None, at: list[float]) -> float:
        moves = proof[kind].get(body, {"w": 0.0, "rx": 0.0, "ry": 0.0})
        return (moves["w"] + moves["rx"] * at[1] / 1e3 - moves["ry"] * at[0] / 1e3) / size

    rigid = [
        (f"{name} bends from {whole}", weight * abs(proof[kind][name][row] - proof[kind][whole][row]) / size)
        for name, whole in wholes.items()
        for row in ("w", "rx", "ry")
    ]
    told = rigid + [
        (f"{name} is moved", weight * (abs(rise) if kind == "free" else -rise))
        for name, (first, second, at) in places["supports"].items()
        if first in own and (rise := up(first, at) - up(second, at)) is not None
    ]
    told += [
        (f"{name} is stretched", weight * abs(up(first, at) - up(second, at)))
        for name, (first, second, at) in places["joints"].items()
        if first in own
    ]
    raised = sum(GRAVITY * body["mass_kg"] * up(name, body["cg_mm"]) for name, body in own.items())
    return (
        told
        + ([("the weight is raised", raised - EDGE * weight)] if kind == "tips" else [])
        + ([("no motion", weight)] if size == 0 else [])
    )


if __name__ == "__main__":
    supports = tomllib.loads(Path(sys.argv[1]).read_text("utf-8")).get("support", [])
    told = faults(json.loads(Path(sys.argv[2]).read_text("utf-8")), {each["name"]: each.get("on") for each in supports})
    sys.exit("\n".join(told) or None)
