"""How a group stands, as far as it tells how hard it is to upset."""

from dataclasses import dataclass

from loadplan.statics.mass import Array
from loadplan.statics.push_tilt import Yielding
from loadplan.statics.stacked_push import StackedStands


@dataclass(frozen=True, slots=True)
class Stance:
    """How a group of q rigid wholes stands.

    Attributes:
        sway: Share by which a tilt makes itself worse, 0 to 1.
        loads: Its weights (2 or 3, 3 q), scaled: upright; with each centre of gravity moved by its lean with the parts
            on that the stage takes off; last, by its lean.
        carried: What each support carries (n) [N].
        yielding: How it gives way to a push; None where the sway stands for that, since there are more wholes than one.
        stack: How far it gives way where wholes stand on each other; None where they do not, or mounts tie them.
    """

    sway: float
    loads: Array
    carried: Array
    yielding: Yielding | None
    stack: StackedStands | None = None

    @property
    def kept(self) -> float:
        """What is left of a limit once the sway is taken off."""
        return 1.0 - self.sway
