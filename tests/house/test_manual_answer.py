"""What README and manual say of the answer: their examples, tables, limits, cautions."""

import re
from dataclasses import fields
from math import degrees
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.checks import (
    carried_saddles,
    clearance,
    grip,
    laid_on,
    level,
    load_centre,
    mount,
    overlap,
    part,
    pull,
    reading,
    sway,
    timber,
    unloading,
)
from loadplan.files import read_job
from loadplan.files.readings_reader import read_readings
from loadplan.files.shop_reader import STIFFNESSES
from loadplan.files.vehicle_nouns import MASS_SHARES, MOUNT_STIFFNESS, PLACE_SPREADS
from loadplan.limits import GRAVITY, TOP_FRICTION, Limits, limit_text
from loadplan.model.shop import EquipmentKind
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Assessment, CheckName, Verdict
from loadplan.model.weight_basis import MOST_OF_IT
from loadplan.planning.placement.layout_space import space
from loadplan.planning.placement.proposal import propose
from loadplan.planning.settings.set_heights import plan_heights
from loadplan.planning.weight_learning import WEIGHED_SHARE
from loadplan.report.json_output import to_dict
from loadplan.report.sheet.stand_table import HEADS
from loadplan.report.text.heights_page import heights_page
from loadplan.report.text.placement_page import placement_page
from loadplan.report.text.short_page import short_page
from loadplan.report.text.terminal_colour import Colours
from loadplan.report.text.terminal_page import page
from loadplan.report.words.cautions import cautions
from loadplan.report.words.vocabulary import FIRST_LIFT, verdict_word
from loadplan.statics import (
    jack_sinking,
    saddle_friction,
    set_down_window,
    settlement,
    sideways_push,
    sideways_resistance,
    tipping_modes,
)
from loadplan.statics.equilibrium import LEAST_LEVER, MOUNTS_FOR_A_LINK
from loadplan.statics.snag_pull import LITTLE
from loadplan.statics.weighing import weigh
from loadplan.units import Kind, System
from tests.house.tree import MANUAL, README, ROOT, blocks, rows, section

ANY_ARM = "rating / arms"


def test_the_example_is_judged_as_shown(tmp_path: Path) -> None:
    (job,) = blocks("toml", MANUAL["files"])
    path = tmp_path / "job.toml"
    path.write_text(job, encoding="utf-8")
    told = page(assess(read_job(path)), System.METRIC, Colours.PLAIN)
    first, stop = blocks("text", MANUAL["files"])
    assert f"\n{first}\n" in told
    assert f"\n{stop}\n" in told
    assert blocks("text") == [first]


def test_the_readings_shown_tell_mass_and_place(tmp_path: Path) -> None:
    (shown,) = blocks("toml", MANUAL["weighing"])
    path = tmp_path / "readings.toml"
    path.write_text(shown, encoding="utf-8")
    found = weigh(read_readings(path).sets)
    assert found.mass is not None
    assert None not in found.cg
    assert found.consistent


def test_the_heights_shown_are_those_of_the_demo_job() -> None:
    (shown,) = blocks("text", MANUAL["heights"])
    plan = plan_heights(read_job(ROOT / "demo" / "heights-open.toml"))
    assert f"\n{shown}\n" in heights_page(plan, System.METRIC)


@pytest.mark.slow
def test_the_layout_shown_is_that_of_the_demo_job() -> None:
    (shown,) = blocks("text", MANUAL["placement"])
    job = read_job(ROOT / "demo" / "front-unit.toml")
    assert f"\n{shown}\n" in placement_page(job, propose(space(job), None, lambda _: None), System.METRIC)


@pytest.mark.parametrize("units", list(System))
def test_the_page_of_every_demo_job_is_as_short_as_the_manual_says(demos: dict[str, Assessment], units: System) -> None:
    assert "at most 60 lines for nine steps" in MANUAL["answer"]
    for demo in demos.values():
        lines = short_page(demo, units, Colours.PLAIN).splitlines()
        assert len(lines) <= 60
        assert max(map(len, lines)) <= 100


def test_every_column_of_the_page_is_explained() -> None:
    source = (ROOT / "loadplan" / "report" / "words" / "stage_tables.py").read_text("utf-8")
    headings = re.findall(r'Column\(\s*"([^"]+)"', source)
    assert len(headings) > 10
    assert [row[0] for row in rows(MANUAL["answer"]) if row[0] in headings] == headings


def test_every_column_of_the_floor_sheet_is_named() -> None:
    told = " ".join(section("The floor sheet", MANUAL["pictures"]).split())
    assert [head for head in HEADS if head not in told] == [], "loadplan/manual/pictures.md names each column"


def test_every_verdict_and_basis_is_explained() -> None:
    for said in (MANUAL["answer"], section("Reading the answer")):
        shown = [row[0] for row in rows(said)]
        assert {verdict_word(verdict) for verdict in Verdict} <= set(shown)
        assert "FOR PRACTICE: …" in shown
        assert all(f"`{basis.words}`" in said for basis in Basis)
    assert FIRST_LIFT in " ".join(MANUAL["answer"].split())


def test_every_check_that_is_made_is_listed(demos: dict[str, Assessment]) -> None:
    made = {each.check for demo in demos.values() for stage in demo.stages for each in stage.findings}
    listed = {row[0] for row in rows(MANUAL["checks"])}
    assert len(made) > 12
    assert made <= listed == set(CheckName)


def test_what_hurts_first_is_told_in_the_order_that_the_manual_says() -> None:
    said = " ".join(MANUAL["checks"].split()).partition("first what hurts first: ")[2].partition(", then the rest")[0]
    first = said.split(", ")
    assert len(first) > 10
    assert first == list(CheckName)[: len(first)]


def _shown(kind: Kind | None, value: float) -> str:
    match kind:
        case None:
            return f"{value:g}"
        case Kind.SHARE:
            return f"{100 * value:g} %"
        case Kind.LENGTH:
            return f"{1000 * value:g} mm"
        case Kind.ANGLE:
            return f"{degrees(value):.4g} degree{'' if round(degrees(value), 6) == 1 else 's'}"
        case _:
            return f"{value:g} N"


def test_the_limits_are_those_of_the_program_with_their_sources() -> None:
    listed = {row[0]: (row[1], row[3]) for row in rows(MANUAL["limits"]) if len(row) == 4}
    limits = Limits()
    assert listed == {
        f"`{each.name}`": (
            _shown(limit_text(each.name).kind, getattr(limits, each.name)),
            limit_text(each.name).source,
        )
        for each in fields(limits)
    }


def test_the_limits_that_nobody_may_set_are_those_of_the_program() -> None:
    listed = _unsettable()
    known = (Basis.WEIGHED, Basis.DATA_SHEET, Basis.GUESS)
    expected = {
        "gravity": f"{GRAVITY} m/s²",
        "a centre of gravity this near to an edge tips": f"{1000 * tipping_modes.EDGE:g} mm",
        "plus or minus on a mass, by `known`": f"{', '.join(f'{100 * MASS_SHARES[each]:g}' for each in known)} %",
        "plus or minus on a place, by `known`": f"{', '.join(f'{1000 * PLACE_SPREADS[each]:g}' for each in known)} mm",
        "least room between two bases": f"{1000 * overlap.LEAST_GAP:g} mm",
        "room over the unit for the vehicle on its way up": f"{1000 * clearance.ROOM:g} mm",
        "pull of a hose left on": f"{LITTLE:g} N",
        "how far a jack is let sink": f"{1000 * jack_sinking.SINKS:g} mm",
        "stands have taken the unit when they carry": f"{100 * set_down_window.BORNE:g} % of it",
        "an arm may come off its pad below": f"{100 * set_down_window.ARM_LEFT:g} % of what it carried",
        "a drop stops the job above": f"{settlement.FAR:g} times `drop`",
        "a stand that is taken away may carry": f"{unloading.LEFT:g} N",
        "a mass counts as weighed by a job's readings within": f"{100 * WEIGHED_SHARE:g} %",
        "a stand that turns by hand carries up to": f"{reading.TURNS_UP_TO:g} N",
        "a stand that does not turn by hand carries from": f"{reading.STICKS_FROM:g} N",
        "the load's middle lies inside the pads by": f"{load_centre.WITHIN:g} times `margin`",
        "the load's middle may move without a prop by": f"{1000 * load_centre.MOVED:g} mm",
        "a sideways push must be stood": f"{sideways_push.TWICE:g} times",
        "a weight laid on must be stood": f"{laid_on.TWICE:g} times",
        "of a push, what slides before it tips must stand at most": (
            f"{100 * sideways_push.LIGHT:g} % of the weight on its supports"
        ),
        "friction of a saddle with oil on it": f"{sideways_resistance.OILED:g}",
        "a known pull must be stood": f"{pull.ROOM:g} times",
        "a mount's force is told from": f"{mount.MORE:g} times that on the whole vehicle",
        "mounts beside which a link holds": f"{MOUNTS_FOR_A_LINK}",
        "a link beside mounts holds with a lever about the line of the two furthest apart of": (
            f"{100 * LEAST_LEVER:g} % of how far its place is from it"
        ),
        "hold of castors that are not locked": f"{saddle_friction.CASTOR:g}",
        "a part that one person holds, at the most": f"{part.BY_HAND:g} kg",
        "a basis, with better ones, covers of an assembly": f"{100 * MOST_OF_IT:g} % of its mass",
        "a saddle may be taken sideways by what its stand stands on by": f"{1000 * carried_saddles.CARRIED:g} mm",
        "timber is built crosswise from": f"{1000 * timber.HIGH:g} mm",
        "a tilt makes itself worse: caution above": f"{100 * sway.MUCH:g} %",
        "a tilt makes itself worse: stop above": f"{100 * sway.TOO_MUCH:.0f} %",
        "a saddle must hold a tilt of": f"{grip.TWICE:g} times",
        "tilts are no small ones any more: stop above": f"{level.TOO_FAR:g} times `level`",
    }
    by_hand = {"a rating not marked for one or for a pair": "half", "an arm of a lift without its own rating": ANY_ARM}
    woods = {row for row in listed if row.replace("-", " ") in timber.ACROSS_GRAIN}
    assert {name: listed[name] for name in listed if name not in woods} == expected | by_hand


def test_the_tops_of_saddles_are_those_of_the_program() -> None:
    (row,) = [row for row in rows(MANUAL["shop-file"]) if row[0] == "`top`"]
    assert (
        row[1]
        == 'what is on its saddle: `"oily steel"` (friction 0.05), `"steel"` or `"timber"` (0.3), `"rubber"` (0.5)'
    )
    assert dict(TOP_FRICTION) == {"timber": 0.3, "rubber": 0.5, "steel": 0.3, "oily steel": 0.05}


def test_the_woods_are_those_of_the_program() -> None:
    listed = {name.replace("-", " "): strength for name, strength in _unsettable().items()}
    expected = {wood: f"{strength / 1e6:.2f}" for wood, strength in timber.ACROSS_GRAIN.items()}
    assert {wood: listed.get(wood) for wood in expected} == expected
    assert timber.SOURCE in MANUAL["limits"]


def _unsettable() -> dict[str, str]:
    return {row[0]: row[1] for row in rows(MANUAL["limits"]) if len(row) == 3}


def test_the_stiffnesses_taken_are_those_of_the_program() -> None:
    newtons = {kind: f"{each / 1000:g}" for kind, each in STIFFNESSES.items()}
    kinds = EquipmentKind
    stands = f"stand {newtons[kinds.STAND]}, jack and table {newtons[kinds.JACK]}, hoist {newtons[kinds.HOIST]} N/mm"
    assert newtons[kinds.JACK] == newtons[kinds.TABLE]
    assert stands in MANUAL["shop-file"]
    assert f"{newtons[kinds.ARM]} N/mm" in MANUAL["shop-file"]
    assert f"{MOUNT_STIFFNESS / 1000:g} N/mm" in MANUAL["vehicle-file"]


def test_the_cautions_are_those_of_every_report() -> None:
    for text in (README, MANUAL["cautions"]):
        written = re.findall(r"^\d\. (.+)$", section("Cautions", text).replace("\n   ", " "), re.MULTILINE)
        assert tuple(written) == cautions(Basis.EXAMPLE, System.METRIC)


def test_the_keys_of_the_machine_output_are_all_named(demos: dict[str, Assessment]) -> None:
    told = to_dict(demos["front-unit.toml"], System.METRIC)
    stages = told["stages"]
    assert isinstance(stages, list)
    assert isinstance(stages[0], dict)
    said = MANUAL["json-output"]
    assert [key for key in (*told, *stages[0]) if f"`{key}`" not in said] == []


@pytest.mark.parametrize("name", ["front-unit", "rocking-on-two-stands", "drive-unit-on-oil", "us-units"])
def test_the_demo_jobs_come_out_as_the_readme_says(demos: dict[str, Assessment], name: str) -> None:
    verdicts = {"rocking-on-two-stands": Verdict.STOP, "drive-unit-on-oil": Verdict.CAUTION}
    assert f"`{name}.toml`" in README
    assert demos[f"{name}.toml"].verdict is verdicts.get(name, Verdict.HOLDS)


def test_nothing_promises_too_much(demos: dict[str, Assessment]) -> None:
    pages = [made(demo, System.METRIC, Colours.PLAIN) for demo in demos.values() for made in (page, short_page)]
    for text in (README, *MANUAL.values(), *pages):
        assert not re.search(r"\b(un)?safe(ly|r|st|ty)?\b|\bbest\b", text, re.IGNORECASE)
    assert "invented" in README[: README.index("## Start")]


def test_the_licence_ends_the_readme() -> None:
    licence = section("Licence")
    assert README.endswith(licence)
    for words in ("MIT License", "Permission is hereby granted, free of charge", 'PROVIDED "AS IS"'):
        assert words in licence
