"""The typical units that ship: invented, wide, and such that they hold on stands at their points."""

from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.files import read_job, read_shop, shipped_folder
from loadplan.files.safe_write import write_new
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.interview.first_job import Named
from loadplan.planning.interview.new_files import Beside, files_of_answers
from loadplan.planning.interview.question_flow import questions
from loadplan.planning.interview.questions_on_job import NOTHING, UNMEASURED, Beginning
from loadplan.planning.interview.typical_answers import kind_of, typical_texts, typical_units
from loadplan.planning.settings.set_heights import plan_heights
from tests.planning.typed import all_typed

UNITS = typical_units()
SHOP, SYSTEM = read_shop(shipped_folder("demo") / "shop.toml")
BEGIN = Beginning(UNITS, shop=SHOP, system=SYSTEM)


def _made(name: str, folder: Path, differs: str) -> Path:
    kind = kind_of(name)
    assert kind is not None
    answers = {"title": "Work", "what": kind.word, "start": name, "name": "mine", "differs": differs}
    _, kept = all_typed(answers, BEGIN)
    beside = Beside("job.toml", Named("", "shop.toml"), lambda _: False)
    write_new(
        folder, {**files_of_answers(kept, beside), "shop.toml": (shipped_folder("demo") / "shop.toml").read_bytes()}
    )
    return folder / "job.toml"


def test_there_are_five_of_different_kinds() -> None:
    assert len(UNITS) == 5
    assert {kind.word for name in UNITS if (kind := kind_of(name))} == {
        "front unit", "rear unit", "drive unit", "battery pack", "axle",
    }  # fmt: skip


@pytest.mark.parametrize("name", UNITS)
def test_it_is_invented_and_says_so(name: str) -> None:
    assert UNITS[name].example
    assert "invented" in (shipped_folder("vehicles") / f"{name}.toml").read_text("utf-8").splitlines()[0]


@pytest.mark.parametrize("name", UNITS)
def test_its_tolerances_are_wide(name: str) -> None:
    """A fifth of the mass is what is taken for a guess; a unit of no known kind may be further off."""
    unit = [part for part in UNITS[name].parts if part.body != "shell"]
    assert unit
    for part in unit:
        assert part.mass_pm >= 0.25 * part.mass
        assert min(part.at_pm) >= 0.06
        assert part.basis is Basis.GUESS


@pytest.mark.parametrize("name", UNITS)
def test_its_answers_make_the_same_vehicle_again(name: str, tmp_path: Path) -> None:
    again = read_job(_made(name, tmp_path, UNMEASURED)).vehicle
    assert [part.mass for part in again.parts] == pytest.approx([part.mass for part in UNITS[name].parts], abs=0.6)
    for one, other in zip(again.parts[1:], UNITS[name].parts[1:], strict=True):
        assert one.at == pytest.approx(other.at, abs=1e-3)
    assert [each.at for each in again.points] == [pytest.approx(each.at, abs=1e-3) for each in UNITS[name].points]
    assert [each.kind for each in again.joints] == [each.kind for each in UNITS[name].joints]


@pytest.mark.parametrize("name", UNITS)
def test_on_stands_at_its_points_only_the_guess_is_cautioned(name: str, tmp_path: Path) -> None:
    found = assess(plan_heights(read_job(_made(name, tmp_path, NOTHING))).job)
    said = {each.check for stage in found.stages for each in stage.findings if each.verdict >= Verdict.CAUTION}
    assert said == {CheckName.BASIS}


def test_what_nobody_measured_is_for_practice(tmp_path: Path) -> None:
    job = read_job(_made("typical-axle", tmp_path / "not", UNMEASURED))
    assert assess(job).basis is Basis.EXAMPLE
    assert not read_job(_made("typical-axle", tmp_path / "yes", NOTHING)).vehicle.example


def test_only_what_differs_is_asked() -> None:
    answers = {"title": "x", "what": "front unit", "name": "mine", "differs": "gearbox, pads"}
    own = {"gearbox.weight": "50 kg scales", "pads.out": "650 mm"}
    lines, kept = all_typed(answers | own, BEGIN)
    assert "50 kg scales" in lines
    asked = set(kept.texts)
    assert {"gearbox.weight", "gearbox.box", "pads.out", "pads.along", "weight"} <= asked
    assert not asked & {"engine.weight", "engine.box", "subframe.box", "hung1", "standA", "wheelbase"}
    given = typical_texts(UNITS["typical-front-unit"], kind_of("typical-front-unit"))  # type: ignore[arg-type]
    shown = next(each for each in questions(kept) if each.key == "gearbox.box")
    assert shown.default == given["gearbox.box"]
