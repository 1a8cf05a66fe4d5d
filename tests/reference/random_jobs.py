"""Random jobs, by seed: raw dicts as a TOML file would give them (metric). All invented.

Coordinates are whole millimetres (heights to a tenth), so that nothing lies a hair beside an edge by chance.
"""

from collections.abc import Callable
from datetime import date
from random import Random

from tests.reference.maker import LETTERS, Job, Maker, write_job

__all__ = ["FAMILIES", "Job", "random_job", "write_job"]


def random_job(seed: int) -> Job:
    """Return the job of a seed; its family goes by turns through `FAMILIES`."""
    families = list(FAMILIES.values())
    return families[seed % len(families)](Random(seed))


def one_body(rng: Random) -> Job:
    """One body on three to seven stands; sometimes its centre of gravity is outside them."""
    make = Maker(rng)
    make.equipment("stand")
    far = rng.choice([250, 250, 250, 700])
    make.body("unit", rng.randint(1, 6), (60, 400), ((-far, far), (-far // 2, far // 2), (250, 700)))
    names = LETTERS[: rng.randint(3, 7)]
    heights = rng.choice([0.0, 0.6, 1.0])
    for name, (x, y) in zip(names, make.ring(len(names), (450, 400)), strict=True):
        make.support(name, "unit", [x, y, rng.randint(150, 260)], set_height=rng.random() < heights)
    make.stage("all", {"in_place": list(names)})
    if len(names) > 4:
        make.stage("one less", {"cleared": [names[-1]]})
    return make.done()


def two_bodies(rng: Random) -> Job:
    """A subframe on stands and a powertrain on one to three mounts and up to three stands of its own."""
    make = Maker(rng)
    make.equipment("stand", "jack")
    make.body("subframe", rng.randint(1, 3), (30, 100), ((-300, 400), (-300, 300), (220, 380)))
    make.body("powertrain", rng.randint(2, 6), (150, 360), ((-150, 200), (-300, 250), (400, 700)))
    for number in range(rng.choice([1, 1, 2, 3])):
        at = [rng.randint(-250, 250), rng.randint(-350, 350), rng.randint(300, 420)]
        make.joint(f"mount {number + 1}", "mount", rng.sample(["powertrain", "subframe"], 2), at)
    heights = rng.choice([0.0, 0.7, 1.0])
    names: list[str] = []
    for x, y in make.ring(rng.choice([3, 4, 4]), (420, 450)):
        names.append(LETTERS[len(names)])
        make.support(names[-1], "subframe", [x, y, rng.randint(180, 220)], set_height=rng.random() < heights)
    for x, y in make.ring(rng.choice([0, 1, 2, 2, 3]), (250, 380)):
        names.append(LETTERS[len(names)])
        use = rng.choice(["stand", "stand", "jack"])
        at = [x, y, rng.randint(190, 330)]
        make.support(names[-1], "powertrain", at, use, set_height=rng.random() < heights)
    make.stage("all", {"in_place": names})
    return make.done()


def bolted_pair(rng: Random) -> Job:
    """Two bodies bolted into one, a third on mounts; then the bolts come out and another stand goes in."""
    make = Maker(rng)
    make.equipment("stand")
    make.body("engine", rng.randint(1, 4), (100, 250), ((-150, 150), (-350, 0), (350, 650)))
    make.body("gearbox", rng.randint(1, 3), (50, 120), ((-150, 150), (0, 400), (300, 500)))
    make.body("cradle", 1, (30, 70), ((-200, 200), (-200, 200), (220, 300)))
    make.joint("bell bolts", "bolted", ["engine", "gearbox"], [[0, 0, 400], [100, 20, 500]])
    for number, body in enumerate(["engine", "gearbox", "engine"][: rng.choice([2, 3])]):
        at = [rng.randint(-250, 250), rng.choice([-300, 300]) + rng.randint(-50, 50), rng.randint(280, 400)]
        make.joint(f"mount {number + 1}", "mount", [body, "cradle"], at)
    for name, (x, y) in zip("ABCD", make.ring(4, (400, 450)), strict=True):
        make.support(name, "cradle", [x, y, 200], set_height=rng.random() < 0.5)
    for name, body, (x, y) in zip("EFG", ["engine", "gearbox", "engine"], make.ring(3, (200, 350)), strict=True):
        make.support(name, body, [x, y, rng.randint(200, 260)], set_height=name != "G" and rng.random() < 0.5)
    make.stage("bolted", {"in_place": list("ABCDEF")})
    make.stage("one more", {"in_place": ["G"]})
    make.stage("bolts out", {"undone": ["bell bolts"]})
    make.stage("bolts in, mount off", {"done_up": ["bell bolts"], "undone": ["mount 1"]})
    return make.done()


def weighed(rng: Random) -> Job:
    """A body weighed whole; parts come off it and one goes back on."""
    job = one_body(rng)
    make = Maker(rng)
    body = "unit"
    while len(job["part"]) < 4:
        make.body(body, 1, (10, 40), ((-250, 250), (-120, 120), (250, 700)))
        job["part"].append(make.job["part"][-1] | {"name": f"unit part {len(job['part']) + 1}"})
    total = sum(part["mass"] for part in job["part"])
    middle = [sum(part["mass"] * part["at"][axis] for part in job["part"]) / total for axis in range(3)]
    job["body"][0]["weighed"] = {
        "mass": round(total * rng.uniform(0.97, 1.03), 1),
        "mass_pm": rng.choice([0, 1, 3]),
        "cg": [round(value + rng.uniform(-10, 10)) for value in middle],
        "cg_pm": [rng.choice([0, 6, 12]) for _ in range(3)],
        "date": date(2026, 10, 2),
    }
    light = sorted(job["part"], key=lambda part: part["mass"])
    off = [part["name"] for part in light[: rng.choice([1, 2])]]
    job["stage"].append({"name": "parts off", "off": off, "any_order": rng.random() < 0.5})
    job["stage"].append({"name": "one on again", "on": off[:1]})
    return job


def any_order(rng: Random) -> Job:
    """Parts of two bodies come off in any order, some only after others."""
    job = two_bodies(rng)
    make = Maker(rng)
    make.job["part"] = job["part"]
    for number in range(4):
        make.job["part"].append({
            "name": f"cover {number + 1}",
            "body": rng.choice(["powertrain", "powertrain", "subframe"]),
            "mass": round(rng.uniform(3, 30), 1),
            "mass_pm": 1.0,
            "at": [rng.randint(-350, 350), rng.randint(-450, 450), rng.randint(300, 700)],
            "at_pm": 10,
        })
    if rng.random() < 0.7:
        job["part"][-1]["after"] = ["cover 1"]
    if rng.random() < 0.4:
        job["part"][-2]["after"] = ["cover 1", "cover 2"]
    covers = ["cover 1", "cover 2", "cover 3", "cover 4"]
    job["stage"].append({"name": "covers off", "off": covers, "any_order": True})
    job["stage"].append({"name": "one on again", "on": ["cover 4"]})
    return job


def hoist(rng: Random) -> Job:
    """A unit on two stands and a hoist, the hoist over the floor or on a beam that another body carries."""
    make = Maker(rng)
    make.equipment("stand", "hoist")
    make.body("unit", rng.randint(2, 5), (100, 300), ((-150, 150), (-150, 150), (350, 600)))
    for name, (x, y) in zip("AB", [(-250, -300), (-250, 300)], strict=True):
        at = [x + rng.randint(-40, 40), y + rng.randint(-40, 40), 220]
        make.support(name, "unit", at, set_height=rng.random() < 0.5)
    over = make.support("H", "unit", [rng.randint(150, 350), rng.randint(-80, 80), 700], "hoist")
    placed = ["A", "B", "H"]
    if rng.random() < 0.6:
        make.body("shell", 3, (500, 900), ((-1500, 200), (-300, 300), (400, 700)))
        over["on"] = "shell"
        for name, (x, y) in zip("PQRS", [(500, 600), (500, -600), (-1700, 550), (-1700, -550)], strict=True):
            make.support(name, "shell", [x, y, rng.randint(180, 200)], set_height=rng.random() < 0.4)
            placed.append(name)
    make.stage("hung", {"in_place": placed})
    return make.done()


def stacked(rng: Random) -> Job:
    """One body stands on another, which stands on the floor."""
    make = Maker(rng)
    make.equipment("stand", "table")
    make.body("cradle", 2, (60, 120), ((-200, 200), (-200, 200), (220, 300)))
    make.body("motor", 2, (80, 200), ((-120, 120), (-120, 120), (400, 550)))
    for name, (x, y) in zip("ABCD", make.ring(4, (450, 450)), strict=True):
        make.support(name, "cradle", [x, y, 200], rng.choice(["stand", "table"]), set_height=rng.random() < 0.5)
    for name, (x, y) in zip("EFG", make.ring(3, (250, 250)), strict=True):
        make.support(name, "motor", [x, y, 350], set_height=rng.random() < 0.3)["on"] = "cradle"
    if rng.random() < 0.4:
        make.joint("link", "mount", ["motor", "cradle"], [0, 50, 340])
    make.stage("stacked", {"in_place": list("ABCDEFG")})
    return make.done()


def one_by_one(rng: Random) -> Job:
    """Stands are brought up to touch in later stages, while parts come off and one stand goes and comes back."""
    job = two_bodies(rng)
    make = Maker(rng)
    make.job["support"], make.job["point"] = job["support"], job.get("point", [])
    for name, body in (("T", "subframe"), ("U", "powertrain")):
        x, y = make.ring(1, (380, 420))[0]
        make.support(name, body, [x, y, rng.randint(190, 230)], rng.choice(["stand", "jack"]))
    job["point"] = make.job["point"]
    off = [job["part"][0]["name"]] if sum(part["body"] == "subframe" for part in job["part"]) > 1 else []
    off += [part["name"] for part in job["part"] if part["body"] == "powertrain"][:1]
    job["stage"].append({"name": "T in", "in_place": ["T"]})
    job["stage"].append({"name": "parts off, U in", "off": off, "in_place": ["U"]})
    job["stage"].append({"name": "T out", "cleared": ["T"]})
    job["stage"].append({"name": "T back, parts on", "on": off, "in_place": ["T"]})
    return job if job["point"] else {key: value for key, value in job.items() if key != "point"}


def on_the_lift(rng: Random) -> Job:
    """Shell on four arms, subframe bolted to it, powertrain on mounts; set down, unbolted, prop under the tail."""
    make = Maker(rng)
    make.equipment("stand")
    make.body("shell", 4, (800, 1200), ((-2300, 100), (-350, 350), (400, 700)))
    make.body("subframe", 2, (40, 100), ((-200, 250), (-250, 250), (240, 330)))
    make.body("powertrain", 3, (200, 330), ((-80, 160), (-120, 140), (420, 620)))
    bolts = [[380, 400, 330], [380, -400, 330], [-320, 380, 330], [-320, -380, 330]]
    make.joint("subframe bolts", "bolted", ["subframe", "shell"], bolts)
    first, second = rng.choice([("powertrain", "shell"), ("shell", "powertrain")])
    make.joint("engine mount", "mount", [first, second], [40 + rng.randint(-60, 60), -450, 600])
    make.joint("gearbox mount", "mount", ["powertrain", "shell"], [20 + rng.randint(-60, 60), 430, 560])
    make.joint("roll link", "mount", ["powertrain", "subframe"], [-270, 20, 330])
    if rng.random() < 0.4:
        make.joint("upper mount", "mount", ["shell", "powertrain"], [rng.randint(100, 250), rng.randint(-80, 80), 620])
    pads = {"pad 1": [-700, 700], "pad 2": [-700, -700], "pad 3": [-2100, 680], "pad 4": [-2100, -680]}
    for name, (x, y) in pads.items():
        at = [x + rng.randint(-60, 60), y + rng.randint(-30, 30), rng.randint(180, 200)]
        make.job["point"].append({"name": name, "body": "shell", "at": at})
    make.job["lift"] = {"use": "bay 2", "body": "shell", "columns": -1300, "pads": list(pads)}
    heights = rng.choice([0.0, 0.7, 1.0])
    spots = [(330, 420), (330, -420), (-300, 400), (-300, -400)]
    for name, (x, y) in zip("ABCD", spots, strict=True):
        at = [x + rng.randint(-50, 50), y + rng.randint(-50, 50), rng.randint(195, 215)]
        make.support(name, "subframe", at, set_height=rng.random() < heights)
    for name, (x, y) in zip("EF", [(120, -300), (100, 300)], strict=True):
        at = [x + rng.randint(-60, 100), y + rng.randint(-60, 60), rng.randint(210, 330)]
        make.support(name, "powertrain", at, set_height=rng.random() < heights)
    make.support("P", "shell", [-2300, rng.randint(-60, 60), 260])["standby"] = True
    lift = {"name": "bay 2", "rating": 4500, "arms": 4}
    if rng.random() < 0.5:
        lift["stiffness"] = rng.choice([300, 400, 500])
    equipment = make.job.pop("equipment")
    make.job["shop"] = {"equipment": equipment, "lift": [lift]}
    lowered = rng.choice([0, 2.5, 6, 9, 12, 18])
    make.stage("set down", {"in_place": list("ABCDEF"), "lowered": lowered})
    if rng.random() < 0.4:
        make.stage("one part off", {"off": ["powertrain part 1"]})
    if rng.random() < 0.4:
        make.stage("down more", {"lowered": lowered + 3})
    undone = ["subframe bolts", "engine mount", "gearbox mount"]
    undone += [joint["name"] for joint in make.job["joint"] if joint["name"] == "upper mount"]
    make.stage("unbolted", {"undone": undone})
    make.stage("prop in", {"in_place": ["P"]} | ({"cleared": ["E"]} if rng.random() < 0.3 else {}))
    make.stage("part off", {"off": ["powertrain part 2", "shell part 1"], "any_order": rng.random() < 0.5})
    make.stage("bolted again", {"on": ["powertrain part 2"], "done_up": undone})
    return make.done()


def first_step_mixed(rng: Random) -> Job:
    """On the lift, but the first step already takes parts off or undoes joints, or the stands are brought up."""
    job = on_the_lift(rng)
    first = job["stage"][0]
    match rng.choice(["off", "loose", "unbolted", "raised", "middle"]):
        case "off":
            first["off"] = ["subframe part 2"]
        case "loose":
            first["undone"] = ["gearbox mount"]
            rest = next(stage["undone"] for stage in job["stage"][1:] if "undone" in stage)
            job["stage"] = [
                first,
                {"name": "off the lift", "undone": [name for name in rest if name != "gearbox mount"]},
            ]
        case "unbolted":
            first["undone"] = next(stage["undone"] for stage in job["stage"] if "undone" in stage)
            job["stage"] = [first, {"name": "prop in", "in_place": ["P"]}]
        case "raised":
            first["raised"] = first.pop("lowered")
        case _:
            del first["lowered"]
    if rng.random() < 0.5:
        job["stage"].insert(0, {"name": "up", "off": ["shell part 2"]})
    return job


def shell_elsewhere(rng: Random) -> Job:
    """The same unit with the shell carried elsewhere: its joints are undone, its lift is not there."""
    job = on_the_lift(rng)
    shop = job.pop("shop")
    del job["lift"]
    job |= {"bodies": ["subframe", "powertrain"], "equipment": shop["equipment"]}
    job["support"] = [support for support in job["support"] if support["name"] != "P"]
    job["stage"] = [
        {"name": "all in", "in_place": list("ABCDEF")},
        {"name": "E out", "cleared": ["E"]},
        {"name": "E back, link off", "in_place": ["E"], "undone": ["roll link"]},
    ]
    return job


def set_and_touched(rng: Random) -> Job:
    """Stands with set heights come and go beside others that were brought up to touch; stands swap their body."""
    make = Maker(rng)
    make.equipment("stand", "table")
    make.body("lower", 2, (40, 90), ((-200, 200), (-200, 200), (230, 300)))
    make.body("upper", 3, (100, 250), ((-150, 150), (-150, 150), (380, 600)))
    make.body("cover", 1, (10, 30), ((-200, 200), (-200, 200), (600, 700)))
    make.joint("clips", rng.choice(["bolted", "mount"]), ["cover", "upper"], [0, 0, 600])
    for number, x in enumerate((-200, 220)):
        make.joint(f"mount {number + 1}", "mount", ["upper", "lower"], [x, rng.randint(-200, 200), 330])
    corners = [(450, 450), (450, -450), (-450, -450), (-450, 450), (300, 0), (-300, 50)]
    for name, (x, y) in zip("ABCDEF", corners, strict=True):
        body = "lower" if name in "ABCD" else "upper"
        at = [x + rng.randint(-50, 50), y + rng.randint(-50, 50), rng.randint(190, 230)]
        make.support(name, body, at, rng.choice(["stand", "table"]), set_height=rng.random() < 0.6)
    gone = rng.sample(list("ABCD"), 1)
    off = {"off": ["cover part 1"]} if rng.random() < 0.5 else {"undone": ["clips"]}
    make.stage("four", {"in_place": list("ABCDE")})
    make.stage("one more", {"in_place": ["F"]})
    make.stage("cover off", off)
    make.stage("one out", {"cleared": gone})
    make.stage("back", {"in_place": gone, "cleared": [rng.choice("EF")]})
    return make.done()


def rough(rng: Random) -> Job:
    """Heights far off, soft and hard supports side by side, heavy and light bodies, places close together."""
    make = Maker(rng)
    stiffness = {"soft": 60, "arm-like": 400, "stand": 2500, "hard": 20000}
    for name, value in stiffness.items():
        row = {"name": name, "kind": "stand", "rating": 9000, "rated_for": "each", "stiffness": value}
        make.job["equipment"].append(row)
    heavy, light = rng.choice([((900, 2000), (2, 20)), ((100, 300), (30, 90)), ((5, 15), (200, 400))])
    make.body("base", rng.randint(1, 4), heavy, ((-500, 500), (-400, 400), (200, 700)))
    make.body("rider", rng.randint(1, 3), light, ((-200, 200), (-150, 150), (300, 900)))
    for number in range(rng.randint(1, 3)):
        at = [rng.randint(-250, 250), rng.randint(-250, 250), rng.randint(250, 500)]
        make.joint(f"mount {number + 1}", "mount", ["rider", "base"], at)
        if rng.random() < 0.5:
            make.job["joint"][-1]["stiffness"] = rng.choice([20, 5000, 40000])
    names = LETTERS[: rng.randint(5, 8)]
    for name, (x, y) in zip(names, make.ring(len(names), (700, 500)), strict=True):
        body = "base" if name in "ABC" else rng.choice(["base", "rider"])
        at = [x, y, 200] if body == "base" else [x // 2, y // 2, 250]
        row = make.support(name, body, at, rng.choice(list(stiffness)), set_height=rng.random() < 0.8)
        if "height" in row:
            row["height"] = round(row["height"] - float(rng.choice([0, 0, 3, 11.5, 30])), 1)
    make.stage("rough", {"in_place": list(names)})
    make.stage("one out, as it stands", {"cleared": [rng.choice(names)]})
    return make.done()


def awkward(rng: Random) -> Job:
    """Places that coincide or lie in a line, weights on an edge or a thousandth of a millimetre beside it."""
    make = Maker(rng)
    make.equipment("stand")
    make.body("unit", 1, (50, 200), ((0, 0), (0, 0), (300, 600)))
    part = make.job["part"][0]
    part["at"] = [rng.choice([0, 0.0005, 0.002, -0.0005, -0.002, 100, 250]), rng.choice([0, 50.5, -120]), 400]
    part |= {"mass_pm": rng.choice([0, 2]), "at_pm": rng.choice([0, 0, 5])}
    spots: list[list[float]] = [
        [0, -300],
        [0, 300],
        [0, 0],
        [0, 300],
        [500, 0],
        [500, 300],
        [250, 0],
        [500.01, 150],
        [0.05, 100],
    ]
    names = LETTERS[: rng.randint(2, 7)]
    for name, (x, y) in zip(names, [rng.choice(spots) for _ in names], strict=True):
        make.support(name, "unit", [x, y, 200], set_height=rng.random() < 0.3)
    make.stage("awkward", {"in_place": list(names)})
    return make.done()


FAMILIES: dict[str, Callable[[Random], Job]] = {
    "one body": one_body,
    "two bodies": two_bodies,
    "bolted pair": bolted_pair,
    "weighed": weighed,
    "any order": any_order,
    "hoist": hoist,
    "stacked": stacked,
    "one by one": one_by_one,
    "on the lift": on_the_lift,
    "first step mixed": first_step_mixed,
    "shell elsewhere": shell_elsewhere,
    "set and touched": set_and_touched,
    "rough": rough,
    "awkward": awkward,
}
