"""Layouts by family and seed that are not one box on four stands: raw jobs without tolerance, all invented.

The floor is level and saddles grip well, so that nothing but statics is judged; every stand has its height set.
"""

from collections.abc import Callable
from math import atan2, cos, sin
from random import Random

from tests.reference.random_jobs import Job
from tests.validation.cases import lump

Spot = tuple[int, int]

LEVEL = 150
"""How far the stands are set above the file's heights [mm]."""

CORNERS = ((1, 1), (-1, -1), (-1, 1), (1, -1), (1, 0), (0, 1), (-1, 0))


class Layout:
    """Collects the tables of one layout."""

    def __init__(self, rng: Random, stiffness: list[int]) -> None:
        self.rng = rng
        keys = ("body", "part", "joint", "point", "equipment", "support", "stage")
        self.job: Job = {key: [] for key in keys}
        self.job["limits"] = {"uneven": 0, "floor_slope": 0, "friction": 0.5}
        for each in stiffness:
            row = {"name": f"stand {each}", "kind": "stand", "rating": 9000, "rated_for": "each"}
            self.job["equipment"].append(row | {"stiffness": each, "friction": 0.5})
        self.stands = [row["name"] for row in self.job["equipment"]]

    def body(self, name: str, masses: list[int], half: Spot, heights: Spot) -> None:
        """Add a body of parts somewhere within half a length and width of the origin, between two heights."""
        self.job["body"].append({"name": name})
        for number, mass in enumerate(masses):
            at = [self.rng.randint(-each, each) for each in half]
            self.job["part"].append(lump(f"{name} {number}", mass, [*at, self.rng.randint(*heights)], name))

    def ring(self, count: int, half: Spot) -> list[list[int]]:
        """Return places all round, the first three or four wide apart [mm]."""
        (x, y), draw = half, self.rng.randint
        return [
            [along * draw(x // 3, x) + draw(-60, 60), across * draw(y // 3, y) + draw(-60, 60)]
            for along, across in CORNERS[:count]
        ]

    def stand(self, body: str, spot: list[int], z: int, low: float = 0.0) -> str:
        """Put a stand under a place of a body, set lower than the level by some millimetres."""
        name = f"{body} {chr(65 + len(self.job['support']))}"
        row = {"name": name, "use": self.rng.choice(self.stands), "body": body, "at": [*spot, z]}
        self.job["support"].append(row | {"height": z + LEVEL - low})
        return name

    def mounts(self, bodies: tuple[str, str], count: int, half: Spot, heights: Spot) -> None:
        """Tie two bodies by mounts that suit the upper one's weight; beside two, sometimes by a link as it is fitted.

        A link lies low, off the line of the first two mounts and square to it: it stops a body from rolling about it.
        """
        between = self.rng.sample(bodies, 2)
        tied = " to ".join(between)
        places = [[*spot, self.rng.randint(*heights)] for spot in self.ring(count, half)]
        weight = 10 * sum(part["mass"] for part in self.job["part"] if part["body"] == bodies[1])
        for number, at in enumerate(places):
            row = {"name": f"mount {number} of {tied}", "kind": "mount", "between": between, "at": at}
            self.job["joint"].append(row | {"stiffness": round(weight / count * self.rng.choice([0.3, 0.6, 1.0]))})
        if count > 1 and self.rng.random() < 0.4:
            along = atan2(places[1][1] - places[0][1], places[1][0] - places[0][0])
            off, z = self.rng.choice([-1, 1]) * self.rng.randint(220, 300), heights[0] - self.rng.randint(150, 220)
            middle = [(first + second) / 2 for first, second in zip(places[0], places[1], strict=True)]
            x, y = round(middle[0] - off * sin(along)), round(middle[1] + off * cos(along))
            far = [round(x - 0.7 * off * sin(along)), round(y + 0.7 * off * cos(along)), z]
            row = {"name": f"link of {tied}", "kind": "link", "between": between, "at": [x, y, z], "to": far}
            self.job["joint"].append(row | {"stiffness": 300})

    def done(self) -> Job:
        """Return the job: all stands in place in its first stage."""
        self.job["stage"].insert(0, {"name": "set down", "in_place": [each["name"] for each in self.job["support"]]})
        return {key: value for key, value in self.job.items() if value != []}


def two_linked(rng: Random) -> Job:
    """A lower body on stands, another on mounts over it with up to three stands of its own."""
    make = Layout(rng, [800, 1500, 2500])
    _on_stands(make, "lower", rng.choice([3, 4, 4, 5]), (200, 240))
    _over(make, "upper", "lower", rng.choice([1, 2, 2, 3, 3, 4]), rng.choice([0, 0, 1, 2, 3]))
    return make.done()


def three_linked(rng: Random) -> Job:
    """A second body over the first, and a third over the second or the first."""
    make = Layout(rng, [800, 1500, 2500])
    _on_stands(make, "lower", rng.choice([3, 4, 4, 5]), (200, 240))
    _over(make, "middle", "lower", rng.choice([2, 3, 3, 4]), rng.choice([0, 0, 1, 2]))
    _over(make, "upper", rng.choice(["middle", "lower"]), rng.choice([2, 3, 3, 4]), rng.choice([0, 0, 1, 2]))
    return make.done()


def _on_stands(make: Layout, name: str, count: int, heights: Spot) -> None:
    make.body(name, [make.rng.randint(40, 150)], (100, 100), (280, 380))
    z = make.rng.randint(*heights)
    for spot in make.ring(count, (450, 400)):
        make.stand(name, spot, z, make.rng.choice([0, 0, 0.3, 0.8]))


def _over(make: Layout, name: str, under: str, mounts: int, stands: int) -> None:
    rng = make.rng
    reach = rng.choice([80, 80, 250])
    make.body(name, [rng.randint(80, 150), rng.randint(40, 150)], (reach, reach), (450, 800))
    make.mounts((under, name), mounts, (320, 320), (420, 480))
    for spot in make.ring(stands, (350, 350)):
        make.stand(name, spot, rng.randint(300, 380), rng.choice([0, 0, 0.3, 0.8]))


def tall_on_soft(rng: Random) -> Job:
    """One body, its centre of gravity high over three to five soft stands."""
    make = Layout(rng, [25, 50, 100, 200])
    make.body("unit", [rng.randint(80, 300), rng.randint(20, 100)], (80, 80), (500, 1600))
    for spot in make.ring(rng.choice([3, 4, 4, 5]), (330, 300)):
        make.stand("unit", spot, 200, rng.choice([0, 0, 0.5, 1]))
    return make.done()


def unequal_heights(rng: Random) -> Job:
    """One body whose saddles lie at very different heights; sometimes a second one on mounts below or above them."""
    make = Layout(rng, [400, 1000, 2500])
    reach = rng.choice([120, 120, 320])
    make.body("unit", [rng.randint(80, 250), rng.randint(30, 120)], (reach, reach), (300, 900))
    for spot in make.ring(rng.choice([3, 4, 4, 5]), (400, 380)):
        make.stand("unit", spot, rng.choice([180, 250, 400, 600]), rng.choice([0, 0, 0.5, 1]))
    if rng.random() < 0.4:
        make.body("cradle", [rng.randint(30, 80)], (100, 100), (200, 300))
        make.mounts(("unit", "cradle"), rng.choice([2, 3]), (300, 300), (250, 500))
        for spot in make.ring(rng.choice([1, 2, 3]), (350, 350)):
            make.stand("cradle", spot, 180, rng.choice([0, 0.5]))
    return make.done()


def lift_with_heavy_end(rng: Random) -> Job:
    """A vehicle on four soft arms, a powertrain on mounts far in front of them; then what is heavy comes off."""
    make = Layout(rng, [2500])
    make.job["shop"] = {
        "equipment": make.job.pop("equipment"),
        "lift": [{"name": "bay", "rating": 9000, "arms": 4, "stiffness": rng.choice([100, 200, 400])}],
    }
    make.body("shell", [rng.randint(300, 700), rng.randint(100, 500)], (200, 150), (500, 900))
    for part, x in zip(make.job["part"], (rng.randint(-1700, -900), rng.randint(-3200, -1500)), strict=True):
        part["at"][0] = x
    make.body("powertrain", [rng.randint(80, 250), rng.randint(60, 200)], (150, 120), (400, 650))
    make.mounts(("shell", "powertrain"), rng.choice([2, 3, 3, 4]), (260, 400), (420, 560))
    front, rear = rng.randint(-1300, -600), rng.randint(-2300, -1700)
    for number, (x, y) in enumerate([(front, 700), (front, -700), (rear, 680), (rear, -680)]):
        at = [x + rng.randint(-60, 60), y, rng.randint(170, 230)]
        make.job["point"].append({"name": f"pad {number}", "body": "shell", "at": at})
    pads = [point["name"] for point in make.job["point"]]
    make.job["lift"] = {"use": "bay", "body": "shell", "columns": (front + rear) // 2, "pads": pads}
    make.job["stage"] = [
        {"name": "lifted"},
        {"name": "some off", "off": [rng.choice(["powertrain 0", "powertrain 1"])]},
        {"name": "more off", "off": [rng.choice(["shell 0", "shell 1"])]},
    ]
    return {key: value for key, value in make.job.items() if value != []}


def parts_off(rng: Random) -> Job:
    """Two linked bodies; heavy parts come off the upper one, and take the places of stands and brackets with them."""
    make = Layout(rng, [800, 1500, 2500])
    _on_stands(make, "lower", rng.choice([3, 4, 4]), (200, 240))
    reach = rng.choice([150, 300])
    make.body("upper", [rng.randint(40, 150) for _ in range(4)], (reach, reach), (450, 800))
    make.mounts(("lower", "upper"), rng.choice([2, 3, 3, 4]), (320, 320), (420, 480))
    for spot in make.ring(rng.choice([0, 1, 2, 2, 3]), (350, 350)):
        row = make.job["support"][-1] if make.stand("upper", spot, rng.randint(300, 380)) else {}
        point = {"name": f"place of {row['name']}", "body": row.pop("body"), "at": row.pop("at")}
        row["under"] = point["name"]
        if rng.random() < 0.5:
            point["part"] = f"upper {rng.randrange(4)}"
        make.job["point"].append(point)
    for joint in make.job["joint"]:
        if rng.random() < 0.25:
            joint["part"] = f"upper {rng.randrange(4)}"
    if rng.random() < 0.4:
        make.job["body"][1]["outline"] = [[300, 300], [300, -300], [-300, -300], [-300, 300]]
    first, second = rng.sample(range(4), 2)
    make.job["stage"] = [
        {"name": "one off", "off": [f"upper {first}"]},
        {"name": "two off", "off": [f"upper {second}"]},
    ]
    return make.done()


FAMILIES: dict[str, Callable[[Random], Job]] = {
    "two linked bodies": two_linked,
    "three linked bodies": three_linked,
    "tall on soft stands": tall_on_soft,
    "unequal heights": unequal_heights,
    "lift with a heavy end": lift_with_heavy_end,
    "parts off": parts_off,
}
