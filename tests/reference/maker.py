"""What random jobs are made with: tables collected piece by piece, and a writer for the raw dicts."""

from datetime import date
from pathlib import Path
from random import Random
from typing import Any

Job = dict[str, Any]
Spot = tuple[int, int]

LETTERS = "ABCDEFGHIJKLMNOP"


def write_job(job: Job, folder: Path, name: str = "job.toml") -> Path:
    """Write a job, and its shop beside it where `shop` is a table; return the job's path."""
    main = dict(job)
    if isinstance(job.get("shop"), dict):
        main["shop"] = "shop.toml"
        (folder / "shop.toml").write_text(to_toml({"schema": "loadplan-shop-1", "units": "metric"} | job["shop"]))
    path = folder / name
    path.write_text(to_toml({"schema": "loadplan-job-1", "title": "made up", "units": "metric"} | main))
    return path


def to_toml(table: Job) -> str:
    """Write a dict of scalars, lists, tables and lists of tables as TOML."""
    lines = [f"{_key(key)} = {_value(value)}" for key, value in table.items() if not _is_table(value)]
    for key, value in table.items():
        if isinstance(value, dict):
            lines += ["", f"[{_key(key)}]", *(f"{_key(k)} = {_value(v)}" for k, v in value.items())]
        elif _is_table(value):
            for each in value:
                lines += ["", f"[[{_key(key)}]]", *(f"{_key(k)} = {_value(v)}" for k, v in each.items())]
    return "\n".join(lines) + "\n"


def _is_table(value: object) -> bool:
    return isinstance(value, dict) or (isinstance(value, list | tuple) and bool(value) and isinstance(value[0], dict))


def _key(key: str) -> str:
    return key if key.replace("_", "").replace("-", "").isalnum() else f'"{key}"'


def _value(value: object) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
        case date():
            return value.isoformat()
        case dict():
            return "{ " + ", ".join(f"{_key(k)} = {_value(v)}" for k, v in value.items()) + " }"
        case list() | tuple():
            return "[" + ", ".join(_value(each) for each in value) + "]"
        case _:
            return repr(value)


# --- pieces -----------------------------------------------------------------------------------------------------------


class Maker:
    """Collects the tables of one job."""

    def __init__(self, rng: Random) -> None:
        self.rng = rng
        self.job: Job = {key: [] for key in ("body", "part", "joint", "point", "equipment", "support", "stage")}
        self.level = 150 + rng.randint(0, 100)
        """How much higher than in the file the unit stands [mm]."""

    def done(self) -> Job:
        return {key: value for key, value in self.job.items() if value != []}

    def equipment(self, *kinds: str) -> None:
        stiffness = {"stand": 2500, "jack": 1500, "table": 1500, "hoist": 1000}
        for kind in kinds:
            row: Job = {"name": kind, "kind": kind, "rating": 3000, "rated_for": "each"}
            if self.rng.random() < 0.5:
                row["stiffness"] = stiffness[kind] * float(self.rng.choice([0.5, 1, 2]))
            self.job["equipment"].append(row)

    def body(self, name: str, parts: int, mass: tuple[int, int], box: tuple[Spot, Spot, Spot]) -> None:
        """Add a body of some parts inside a box (x, y, z from, to)."""
        self.job["body"].append({"name": name})
        share = self.rng.randint(*mass) / parts
        for number in range(parts):
            part = {
                "name": f"{name} part {number + 1}",
                "body": name,
                "mass": round(share * self.rng.uniform(0.5, 1.5), 1),
                "at": [self.rng.randint(*side) for side in box],
            }
            if self.rng.random() < 0.8:
                part["mass_pm"] = round(part["mass"] * self.rng.uniform(0, 0.12), 2)
            if self.rng.random() < 0.8:
                part["at_pm"] = self.rng.choice([5, 12, [10, 15, 20], 0])
            if self.rng.random() < 0.2:
                part["known"] = self.rng.choice(["weighed", "data sheet", "guess"])
            self.job["part"].append(part)

    def joint(self, name: str, kind: str, between: list[str], at: list[Any]) -> None:
        row: Job = {"name": name, "kind": kind, "between": between, "at": at}
        if kind == "mount" and self.rng.random() < 0.7:
            row["stiffness"] = self.rng.choice([150, 250, 350, 600])
        self.job["joint"].append(row)

    def support(self, name: str, body: str, at: list[Any], use: str = "stand", *, set_height: bool = False) -> Job:
        """Add a support; half of them under a named point."""
        row: Job = {"name": name, "use": use}
        if self.rng.random() < 0.5:
            point = f"point {len(self.job['point']) + 1}"
            self.job["point"].append({"name": point, "body": body, "at": at})
            row["under"] = point
        else:
            row |= {"body": body, "at": at}
        if set_height:
            shim = self.rng.choice([0, 0, 0, 6, 12])
            row["height"] = round(at[2] + self.level - shim - self.rng.choice([0, 0, 1, 2.5, 6]), 1)
            if shim:
                row["shim"] = self.rng.choice([shim, {"height": shim, "wood": "rubber"}])
        self.job["support"].append(row)
        return row

    def ring(self, count: int, half: Spot) -> list[Spot]:
        """Return places in a rectangle, no two within 60 mm; mostly one corner after the other, sometimes anywhere."""
        around = self.rng.random() < 0.8
        spots: list[Spot] = []
        while len(spots) < count:
            across, along = ((1, 1), (-1, -1), (-1, 1), (1, -1))[len(spots) % 4]
            if not around or len(spots) >= 4:
                across, along = self.rng.choice([-1, 1]), self.rng.choice([-1, 1])
            x = along * self.rng.randint(half[0] // 3, half[0])
            y = across * self.rng.randint(half[1] // 3, half[1])
            if all(abs(x - spot[0]) + abs(y - spot[1]) > 60 for spot in spots):
                spots.append((x, y))
        return spots

    def stage(self, name: str, changes: Job) -> None:
        self.job["stage"].append({"name": name, **changes})
