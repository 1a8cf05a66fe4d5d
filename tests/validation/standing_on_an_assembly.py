"""Layouts by seed of one assembly on stands that stand on another one: raw jobs without tolerance, all invented."""

from math import cos, pi, sin
from random import Random

from tests.reference.random_jobs import Job
from tests.validation.six_families import Layout


def on_an_assembly(rng: Random) -> Job:
    """Put a body on stands on the floor, another on stands that stand on it, sometimes with one or two on the floor."""
    make = Layout(rng, rng.choice([[100, 200], [300, 600], [800, 1500, 2500]]))
    make.body("lower", [rng.randint(40, 150)], (100, 100), (260, 420))
    set_lower = rng.choice([[0, 1, 3], [0, 8, 16]])
    for spot in _round(rng, rng.choice([3, 4, 5]), rng.choice([200, 300, 400, 500])):
        make.stand("lower", spot, 200, rng.choice(set_lower))
    deck, reach = rng.randint(400, 900), rng.choice([40, 80])
    make.body("upper", [rng.randint(40, 150), rng.randint(10, 60)], (reach, reach), (deck + 60, deck + 450))
    for spot in _round(rng, rng.choice([3, 3, 4]), rng.choice([200, 260, 340])):
        make.stand("upper", spot, deck, rng.choice([0, 0, 0, 1]))
    own = [row for row in make.job["support"] if row["body"] == "upper"]
    for row in own[rng.choice([0, 0, 0, 1, 2]) :]:
        # What stands on the lower assembly reaches no further down than to that.
        row |= {"on": "lower", "height": row["height"] - deck}
    return make.done()


def _round(rng: Random, count: int, reach: int) -> list[list[int]]:
    """Return places all round the middle [mm], none of them far from where an even ring has it."""
    turned = rng.uniform(0, 2 * pi)
    angles = [turned + 2 * pi * (number + rng.uniform(-0.15, 0.15)) / count for number in range(count)]
    return [[round(reach * cos(each)), round(reach * sin(each))] for each in angles]
