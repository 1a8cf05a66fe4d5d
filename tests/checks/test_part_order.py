"""Part order: what has to be off first is listed first where parts come off, and last where they go on."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.checks import part_order
from loadplan.model.job import Stage
from loadplan.model.verdict import CheckName, Finding, Verdict
from tests.checks.builders import case, part, support, words
from tests.checks.small_jobs import judged, said, the, unit_job
from tests.checks.small_jobs import part as written

AFTER = {"head": ("manifold", "cover"), "manifold": ("hoses",), "cover": (), "hoses": ()}


def found(stage: Stage) -> dict[str, Finding]:
    """What is told of a stage, by part: the head comes off after manifold and cover, the manifold after the hoses."""
    made = case(support("A"))
    parts = tuple(replace(part(name), after=after) for name, after in AFTER.items())
    job = replace(made.job, vehicle=replace(made.job.vehicle, parts=parts))
    told = part_order.check(replace(made, job=job, state=replace(made.state, stage=stage)))
    return {each.subject: each for each in told if isinstance(each, Finding)}


@pytest.mark.parametrize(
    ("off", "part", "says"),
    [
        (
            ("head", "cover"),
            "head",
            "The head comes off only after cover, but is listed before it: what is judged on the way is not what will "
            "be. List cover first.",
        ),
        (
            ("head", "cover", "manifold"),
            "head",
            "The head comes off only after cover and manifold, but is listed before them: what is judged on the way "
            "is not what will be. List cover and manifold first.",
        ),
        (
            ("cover", "head", "manifold"),
            "head",
            "The head comes off only after manifold, but is listed before it: what is judged on the way is not what "
            "will be. List manifold first.",
        ),
    ],
)
def test_what_comes_off_before_what_is_in_its_way_is_a_caution(off: tuple[str, ...], part: str, says: str) -> None:
    told = found(Stage("step", off=off))
    assert set(told) == {part}
    assert (told[part].check, told[part].verdict) == (CheckName.PART_ORDER, Verdict.CAUTION)
    assert words(told[part].says) == says


def test_what_comes_off_last_goes_on_first() -> None:
    told = found(Stage("step", on=("hoses", "cover", "manifold", "head")))
    assert {name: each.verdict for name, each in told.items()} == {
        "manifold": Verdict.CAUTION,
        "head": Verdict.CAUTION,
    }
    assert words(told["manifold"].says) == (
        "The manifold goes on only before hoses, but is listed after it: what is judged on the way is not what will "
        "be. List manifold first."
    )
    right = found(Stage("step", on=("head", "manifold", "cover", "hoses")))
    assert {each.verdict for each in right.values()} == {Verdict.HOLDS}
    assert words(right["head"].says) == "The head goes on before manifold and cover, as listed."


def test_listed_as_it_has_to_be_it_holds_and_without_a_rule_nothing_is_told() -> None:
    told = found(Stage("step", off=("hoses", "manifold", "cover", "head")))
    assert words(told["head"].says) == "The head comes off after manifold and cover, as listed."
    assert {each.verdict for each in told.values()} == {Verdict.HOLDS}
    assert found(Stage("step", off=("head",))) == {}
    assert found(Stage("step", off=("hoses", "cover"))) == {}


def test_in_any_order_only_what_goes_on_has_one() -> None:
    assert found(Stage("step", off=("head", "cover"), any_order=True)) == {}
    assert set(found(Stage("step", on=("cover", "head"), any_order=True))) == {"head"}


def test_parts_of_what_is_left_out_have_no_order() -> None:
    made = case(support("A"))
    parts = tuple(replace(part(name), body="elsewhere", after=after) for name, after in AFTER.items())
    job = replace(made.job, vehicle=replace(made.job.vehicle, parts=parts))
    stage = Stage("step", off=("head", "cover"))
    assert part_order.check(replace(made, job=job, state=replace(made.state, stage=stage))) == []


def test_a_step_of_a_file_is_cautioned(tmp_path: Path) -> None:
    places = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}
    parts = [written("block", "unit", 100, [0, 0, 500]), written("cover", "unit", 5, [0, 0, 600])]
    parts.append(written("head", "unit", 10, [0, 0, 550]) | {"after": ["cover"]})
    job = unit_job(places, part=parts)
    job["stage"] = [*job["stage"], {"name": "apart", "off": ["head", "cover"]}]
    told = the(judged(job, tmp_path).stages[-1], "part order", "head")
    assert told.verdict is Verdict.CAUTION
    assert "List cover first." in said(told)


@pytest.mark.parametrize("steps", [[["second"], ["first"]], [["first"], ["second"]]], ids=["too late", "in time"])
def test_what_comes_off_first_goes_on_last_whatever_the_step(steps: list[list[str]], tmp_path: Path) -> None:
    """The first comes off only when the second is off, so it has to be on again before the second goes on."""
    places = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 300, 200], "D": [-400, -300, 200]}
    parts = [
        written("block", "unit", 400, [0, 0, 500]),
        written("first", "unit", 5, [0, 0, 500]) | {"after": ["second"]},
        written("second", "unit", 5, [0, 0, 500]),
    ]
    stages = [{"name": "set", "in_place": list(places)}, {"name": "off", "off": ["second", "first"]}]
    stages += [{"name": f"on {number}", "on": on} for number, on in enumerate(steps)]
    told = judged(unit_job(places, part=parts, stage=stages), tmp_path).stages[-1]
    late = [each for each in told.findings if each.check is CheckName.PART_ORDER]
    assert [said(each) for each in late] == (
        ["The first goes on only before second, but that is on already. Put first on first, or take second off again."]
        if steps[0] == ["second"]
        else []
    )
