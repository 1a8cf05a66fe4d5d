"""The demo jobs, each checked once."""

import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import loadplan
from tests.tracked import ROOT, shipped


def names() -> list[str]:
    """Every job that ships in demo/."""
    return sorted(path.stem for path in shipped("demo", "*.toml") if _is_a_job(path))


def _is_a_job(path: Path) -> bool:
    schema: str = tomllib.loads(path.read_text("utf-8"))["schema"]
    return schema.startswith("loadplan-job-")


@cache
def job(name: str) -> loadplan.Job:
    return loadplan.read_job(ROOT / "demo" / f"{name}.toml")


@cache
def answer(name: str) -> dict[str, Any]:
    """The machine output of a demo job."""
    return loadplan.check(job(name)).to_dict()


def stage(name: str, starts: str) -> dict[str, Any]:
    """The one stage whose name starts like that."""
    found: list[dict[str, Any]] = [each for each in answer(name)["stages"] if each["name"].startswith(starts)]
    assert len(found) == 1, [each["name"] for each in found]
    return found[0]


def body(told: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(each for each in told["bodies"] if each["name"] == name)
    return found


def loads_kg(told: dict[str, Any]) -> dict[str, float]:
    """What each support carries in a stage [kg]."""
    return {each["name"]: each["load_n"]["expected"] / 9.80665 for each in told["supports"] if each["load_n"]}


def reasons(name: str, verdict: str) -> set[str]:
    """The checks that gave that verdict anywhere in a job."""
    found = (each for told in answer(name)["stages"] for each in told["findings"])
    return {each["check"] for each in found if each["verdict"] == verdict}


def with_stands_under_the_subframe_only() -> loadplan.Job:
    """The hatchback's front unit without the two stands under engine and gearbox: these hang on one link and rock."""
    whole = job("rocking-on-two-stands")
    kept = tuple(each for each in whole.supports if each.body != "powertrain")
    first, *others = whole.stages
    in_place = tuple(name for name in first.in_place if name not in {"E", "F"})
    return replace(whole, supports=kept, stages=(replace(first, in_place=in_place), *others))
