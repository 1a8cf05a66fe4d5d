"""What a file leaves out and matters is told, one sentence for all that is alike."""

from datetime import date
from pathlib import Path

import pytest

from loadplan.files import read_job
from tests.files.builders import Raw, faults, small, write
from tests.files.toml_text import JOBS

TODAY = date(2026, 11, 20)


def assumed(folder: Path, **changes: object) -> list[str]:
    return list(read_job(write(folder, small(**changes)), today=TODAY).assumed)


EXACT: Raw = {
    "part": [each | {"mass_pm": 1, "at_pm": 5} for each in small()["part"]],
}
"""Nothing is left to assume."""


def test_a_job_that_leaves_nothing_out_assumes_nothing(tmp_path: Path) -> None:
    assert assumed(tmp_path, **EXACT) == []


def test_the_main_job_tells_what_it_took_for_granted() -> None:
    assert read_job(JOBS / "front-unit.toml").assumed == (
        "Tolerance not given, 20 % of the mass and 40 mm of the place taken (guess): gearbox.",
        "Tolerance not given, 10 % of the mass and 25 mm of the place taken (data sheet): intake.",
        "Tolerance not given, 2 % of the mass and 10 mm of the place taken (weighed): body in white.",
        "Stiffness not given, 1500 N/mm taken: bottle jack.",
        "Stiffness not given, 300 N/mm taken: engine mount.",
    )


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"date": None}, "Date not given: today, 2026-11-20, is taken."),
        ({"known": None},
         "How good the weights are is not said: they are taken as a guess, except where a part says more."),
        ({"bodies": ["unit"], "lift": None}, 'Left out: "shell"; it is carried elsewhere, with mounts and bolts off.'),
        ({"stage": [{"name": "Nothing"}]}, "No step puts in place: A."),
        ({"equipment": [{"name": "stand", "kind": "hoist", "rating": 1}]},
         "Stiffness not given, 1000 N/mm taken: stand."),
        ({"lift": {key: value for key, value in small()["lift"].items() if key != "stiffness"}},
         "Stiffness not given, 400 N/mm taken: arms of bay."),
        ({"stage": [{"name": "Down", "in_place": ["A"], "lift_locked": True}]},
         "Whether bay has locks is not said: it is taken to have them, since a step sets it on them."),
        ({"equipment": [{"name": "stand", "kind": "table", "rating": 1, "stiffness": 1}]},
         'Whether it is a lock that holds "stand" up, or oil, is not said: it is taken to lock. '
         "Write locks = false where oil holds."),
    ],
)  # fmt: skip
def test_each_thing_left_out_is_told(tmp_path: Path, changes: Raw, told: str) -> None:
    assert assumed(tmp_path, **EXACT | changes) == [told]


@pytest.mark.parametrize(
    "said", [{"kind": "table", "locks": True}, {"kind": "table", "locks": False}, {"kind": "stand"}]
)
def test_what_is_said_to_lock_and_a_stand_with_its_pin_are_not_assumed_to(tmp_path: Path, said: Raw) -> None:
    equipment = [{"name": "stand", "rating": 1, "stiffness": 1} | said]
    assert assumed(tmp_path, **EXACT | {"equipment": equipment}) == []


def test_a_lift_set_on_locks_has_them(tmp_path: Path) -> None:
    stage = [{"name": "Down", "in_place": ["A"], "lift_locked": True}]
    lift = read_job(write(tmp_path, small(stage=stage))).lift
    assert lift is not None
    assert lift.lift.locks
    assert lift.arms[0].equipment.locks


def test_all_parts_of_an_assembly_are_told_as_such(tmp_path: Path) -> None:
    (told,) = assumed(tmp_path)
    assert told.endswith(
        "2 % of the mass and 10 mm of the place taken (weighed): painted shell; all parts of the unit."
    )


def test_mass_and_place_are_told_apart_where_they_are_missing_of_different_parts(tmp_path: Path) -> None:
    parts = small()["part"]
    parts[0] |= {"mass_pm": 5}
    parts[1] |= {"at_pm": 5}
    assert assumed(tmp_path, part=parts) == [
        "Tolerance not given, 2 % of the mass taken (weighed): all parts of the unit.",
        "Tolerance not given, 10 mm of the place taken (weighed): painted shell; block.",
    ]


def test_an_assembly_weighed_whole_is_told_too(tmp_path: Path) -> None:
    bodies = [{"name": "shell"}, {"name": "unit", "weighed": {"mass": 300, "cg": [0, 0, 500]}}]
    assert assumed(tmp_path, **EXACT | {"body": bodies}) == [
        "Tolerance not given, 2 % of the mass and 10 mm of the place taken (weighed): unit as weighed."
    ]


def test_what_is_not_used_is_not_told(tmp_path: Path) -> None:
    more = [*small()["equipment"], {"name": "spare", "kind": "jack", "rating": 1000}]
    mounts = [*small()["joint"], {"name": "link", "kind": "mount", "between": ["unit", "shell"], "at": [0, 0, 0]}]
    assert assumed(tmp_path, **EXACT | {"equipment": more}) == []
    assert len(assumed(tmp_path, **EXACT | {"joint": mounts})) == 1
    left_out = assumed(tmp_path, **EXACT | {"joint": mounts, "bodies": ["unit"], "lift": None})
    assert [each for each in left_out if "Stiffness" in each] == []


def test_us_files_are_told_in_their_own_units(tmp_path: Path) -> None:
    told = assumed(tmp_path, units="us", equipment=[{"name": "stand", "kind": "stand", "rating": 3000}])
    assert "0.39 in of the place" in told[0]
    assert "14275 lbf/in taken: stand" in told[1]


def test_names_of_an_assembly_left_out_are_accepted_and_told(tmp_path: Path) -> None:
    stages = [
        {"name": "One", "in_place": ["A"], "undone": ["bolts"], "off": ["painted shell"]},
        {"name": "Two", "undone": ["bolts"], "off": ["painted shell"], "on": ["head"]},
        {"name": "Three", "done_up": ["bolts"], "on": ["painted shell"]},
    ]
    stages[1].pop("on")
    told = assumed(tmp_path, **EXACT | {"bodies": ["unit"], "lift": None, "stage": stages})
    assert told[-1] == 'Named in a step but without effect, because "shell" is left out: "bolts" and "painted shell".'


def test_days_are_judged_by_the_day_that_is_taken(tmp_path: Path) -> None:
    assert read_job(write(tmp_path, small(date=None)), today=TODAY).date == TODAY
    assert read_job(write(tmp_path, small(date=None, until="2100-01-01")), today=TODAY).until == date(2100, 1, 1)
    (found,) = faults(tmp_path, small(date=None, until="2020-01-01"))
    assert (found.key, found.message.startswith("is before today")) == ("until", True)


def test_a_place_on_no_part_is_told_where_parts_of_its_assembly_come_off() -> None:
    """In the made-up job two places say their part, those of the subframe do not, and only the powertrain loses one."""
    text = (JOBS / "gearbox-off.toml").read_text("utf-8")
    said = read_job(JOBS / "gearbox-off.toml", text=text).assumed
    assert not any("no part is said" in each for each in said)
    unsaid = read_job(JOBS / "gearbox-off.toml", text=text.replace('part = "engine"\n', "")).assumed
    assert (
        "These places are taken to stay while parts come off, as no part is said for them: block front; block rear."
        in unsaid
    )
    stays = text.replace('part = "engine"\n', "").replace('off = ["gearbox"]', "")
    assert not any("no part is said" in each for each in read_job(JOBS / "gearbox-off.toml", text=stays).assumed)
