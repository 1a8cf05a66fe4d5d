"""Bad plans by what is wrong with them: each stops, and each has a way out by at most two changes to its stands."""

from dataclasses import replace

from loadplan.model.job import Job
from tests.planning.mending.plans import (
    JACK,
    OVERDUE,
    RATCHET,
    ROLLING,
    SCREW,
    SLICK,
    WEAK,
    but,
    plan,
    stand,
    steel,
)


def bad_plans() -> dict[str, Job]:
    """Every bad plan, by what is wrong with it."""
    return {
        "two stands alone": plan(stand("A", "middle left"), stand("B", "middle right")),
        "three stands, all in front": plan(
            stand("A", "front left"), stand("B", "front right"), stand("C", "middle left")
        ),
        "a setting above the stand's range": plan(*but(stand("A", "front left", height=0.47))),
        "a setting between two steps": plan(*but(stand("A", "front left", height=0.335))),
        "one stand set far too high": plan(*but(stand("D", "rear right", height=0.43))),
        "a stand too weak": plan(*but(stand("B", "front right", WEAK))),
        "two stands too weak": plan(*but(stand("A", "front left", WEAK), stand("B", "front right", WEAK))),
        "a place that may take little": plan(*but(stand("A", "bracket"))),
        "a piece that is out of use": plan(*but(replace(stand("A", "front left"), tag="S7"))),
        "one piece at two places": plan(*but(replace(stand("A", "front left"), tag="S2"))),
        "a piece that is not inspected": plan(*but(stand("C", "rear left", OVERDUE))),
        "more pieces than the shop has": plan(
            *(replace(each, equipment=replace(RATCHET, count=3, tags=(), out_of_use=()), tag="") for each in but()),
            shop=(SCREW,),
        ),
        "two stands on one another's floor": plan(*but(stand("A", "beside rear right"))),
        "a stand under what comes off": plan(*but(), stand("E", "box tail"), off=("box", "intake")),
        "a stand beside the unit": plan(*but(stand("A", "hose clip"))),
        "oil overnight": plan(*but(stand("D", "rear right", JACK)), shop=(RATCHET, SCREW)),
        "castors without locks": plan(*but(stand("D", "rear right", replace(ROLLING, locks=False)))),
        "a saddle that slips": plan(*but(stand("C", "rear left", SLICK), stand("D", "rear right", SLICK))),
        "more plates than the shop has": plan(
            *(replace(each, height=0.31, shim=steel(0.012)) for each in but()[:3]), but()[3]
        ),
        "the heavy end comes off": plan(
            stand("A", "middle left"), stand("B", "middle right"), stand("C", "box tail"), off=("box", "intake")
        ),
        "too weak, and out of use": plan(
            *but(replace(stand("A", "front left"), tag="S7"), stand("B", "front right", WEAK))
        ),
        "not inspected, and beside the unit": plan(*but(stand("C", "rear left", OVERDUE), stand("A", "hose clip"))),
    }
