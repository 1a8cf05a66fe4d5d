"""What makes a unit stand a harder push or pull sideways, and what keeps a saddle from sliding."""

from collections.abc import Sequence

from loadplan.checks.case import Case
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import names
from loadplan.limits import TOP_FRICTION
from loadplan.model.job import Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.verdict import Sentence
from loadplan.statics.saddle_friction import friction_of


def takes_rubber(support: Support) -> bool:
    """Return whether rubber or timber on its saddle would make a support hold better.

    Not where it hangs, nor on castors, which roll first, nor where its friction is that of rubber already, nor where it
    stands on an assembly and its foot may slide.
    """
    if support.equipment.kind is EquipmentKind.HOIST or support.equipment.wheels or support.has_bare_foot:
        return False
    said = friction_of(support)
    return said is None or said < TOP_FRICTION["rubber"]


def steady_sideways(case: Case, body: str, first: str, about: Sequence[str]) -> Sentence:
    """Word what makes a unit stand a harder push or pull.

    Args:
        case: The stage.
        body: Body that is pushed.
        first: What happens first: "slides", "tips" or "stand".
        about: Supports that slip, that it turns about, or that go over.

    Returns:
        Sentences of their own, beginning with a blank.
    """
    match first:
        case "slides":
            act = _hold_on(tuple(case.support(name) for name in about))
        case "stand":
            act = "set the stands lower, or use some with a wider base"
        case _:
            act = "set the stands further out"
    return (*move_stand(case, body, "the stands", (act,)), " Break tight bolts loose before lifting.")


def _hold_on(slipping: tuple[Support, ...]) -> str:
    """Return what keeps supports from slipping, each kind by what it lacks."""
    hung = [each.name for each in slipping if each.equipment.kind is EquipmentKind.HOIST]
    rolling = [each.name for each in slipping if each.equipment.wheels and each.name not in hung]
    bare = [each.name for each in slipping if each.has_bare_foot]
    smooth = any(takes_rubber(each) for each in slipping)
    acts = ["put rubber or timber on the saddles"] if smooth else []
    acts += [f"lock or chock the wheels of {names(rolling)}"] if rolling else []
    acts += [f"put rubber or timber under the feet and on the saddles of {names(bare)}, and say so"] if bare else []
    acts += [f"put stands under it: what hangs from {names(hung)} swings"] if hung else []
    return ", and ".join(acts) or "hold it sideways by something that does not move"
