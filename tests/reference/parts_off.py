"""Random jobs in which parts take things with them: stands' places, brackets of mounts; and links tie beside mounts."""

from random import Random

from tests.reference.maker import LETTERS, Job, Maker


def parts_off(seed: int) -> Job:
    """A subframe on four stands, a powertrain on mounts, a link and stands of its own; parts come off it, and go on.

    What stands under a part, or ties at one, holds only while that part is on; some saddles are beside their outline.
    """
    rng = Random(seed)
    make = Maker(rng)
    make.equipment("stand")
    make.body("subframe", rng.randint(1, 2), (40, 100), ((-300, 400), (-300, 300), (220, 380)))
    make.body("powertrain", rng.randint(3, 5), (150, 360), ((-150, 200), (-250, 250), (400, 700)))
    if rng.random() < 0.4:
        make.job["body"][1]["outline"] = [[230, 330], [230, -330], [-230, -330], [-230, 330]]
    parts = [part["name"] for part in make.job["part"] if part["body"] == "powertrain"]
    off = rng.sample(parts, rng.randint(1, 2))
    for number in range(rng.choice([1, 2, 2, 3])):
        at = [rng.randint(-250, 250), rng.randint(-350, 350), rng.randint(300, 420)]
        make.joint(f"mount {number + 1}", "mount", ["powertrain", "subframe"], at)
        if rng.random() < 0.4:
            make.job["joint"][-1]["part"] = rng.choice(parts)
    make.joint("roll link", "link", rng.sample(["powertrain", "subframe"], 2), [rng.randint(-300, -150), 20, 330])
    make.job["joint"][-1] |= {"to": [-380, 20, 335], "stiffness": rng.choice([150, 350])}
    names: list[str] = []
    for x, y in make.ring(4, (420, 450)):
        names.append(LETTERS[len(names)])
        make.support(names[-1], "subframe", [x, y, 200], set_height=rng.random() < 0.7)
    for x, y in make.ring(rng.choice([1, 2, 3, 3, 4]), (260, 380)):
        names.append(LETTERS[len(names)])
        row = make.support(names[-1], "powertrain", [x, y, rng.randint(190, 330)])
        if "under" in row and rng.random() < 0.6:
            make.job["point"][-1]["part"] = rng.choice(parts)
    make.stage("all", {"in_place": names})
    make.stage("off", {"off": off, "any_order": rng.random() < 0.6})
    taken = [joint["name"] for joint in make.job["joint"] if joint.get("part") in off]
    make.stage("on again", {"on": off} | ({"done_up": taken} if taken else {}))
    if "height" in make.job["support"][0]:
        make.stage("raised", {"set": {"A": make.job["support"][0]["height"] + rng.choice([2, 12])}})
        make.job["support"][0].pop("shim", None)
    return make.done()
