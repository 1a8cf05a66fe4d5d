"""How far out the stands on the worst side have to go: what is told holds when it is done, and a step less does not."""

import pickle
import re
from pathlib import Path

import pytest

from loadplan.checks import margin
from loadplan.model.verdict import Verdict
from loadplan.statics.wider_stance import WiderQuestion, further_out
from tests.checks.small_jobs import STAND, Raw, judged, part, said, the, unit_job

PLACES = {"A": [300, 250, 200], "B": [300, -250, 200], "C": [-400, 250, 200], "D": [-400, -250, 200]}
LIMITS = {"tip_angle": 1}
OUTLINE = [[600, 500], [600, -500], [-600, -500], [-600, 500]]


def near_the_front(out: float = 0.0, **more: object) -> Raw:
    """400 kg, known to 5 %, 260 mm in front of the middle; A and B so far out [mm]."""
    places = {name: [at[0] + out * (name in "AB"), *at[1:]] for name, at in PLACES.items()}
    block = part("block", "unit", 400, [260, 0, 500]) | {"mass_pm": 20, "at_pm": 10}
    return unit_job(
        places, **{"part": [block], "body": [{"name": "unit", "outline": OUTLINE}], "limits": LIMITS} | more
    )


def told(raw: Raw, folder: Path) -> tuple[Verdict, str]:
    finding = the(judged(raw, folder).stages[0], "margin")
    return finding.verdict, said(finding)


def test_the_distance_that_is_told_holds_and_a_step_less_does_not(tmp_path: Path) -> None:
    verdict, says = told(near_the_front(), tmp_path)
    assert verdict is Verdict.CAUTION
    found = re.search(r" With A and B (\d+) mm further out to the front it has the margin asked for\.", says)
    assert found, says
    out = int(found[1])
    assert told(near_the_front(out), tmp_path)[0] is Verdict.HOLDS
    assert told(near_the_front(out - 10), tmp_path)[0] is Verdict.CAUTION


@pytest.mark.parametrize(
    "more",
    [
        {"body": [{"name": "unit", "outline": [[305, 500], [305, -500], [-600, -500], [-600, 500]]}]},
        {"limits": {"margin": 900}},
    ],
    ids=["beside its outline", "out of reach"],
)
def test_where_no_distance_holds_none_is_told(tmp_path: Path, more: Raw) -> None:
    verdict, says = told(near_the_front(**more), tmp_path)
    assert verdict is Verdict.CAUTION
    assert "further out to" not in says


def test_a_stand_is_not_told_to_stand_where_another_one_does(tmp_path: Path) -> None:
    """A stand that only waits is no help against tipping, but its base is in the way."""
    raw = near_the_front(equipment=[STAND | {"base": 200}])
    assert "further out to" in told(raw, tmp_path)[1]
    raw["support"].append({"name": "E", "use": "stand", "body": "unit", "at": [400, 250, 200], "standby": True})
    raw["limits"] = LIMITS | {"margin": 120}
    raw["stage"][0]["in_place"].append("E")
    assert "further out to" not in told(raw, tmp_path)[1]


def test_a_table_is_not_taken_apart(tmp_path: Path) -> None:
    raw = near_the_front()
    for each in raw["support"]:
        each["piece"] = "table"
    assert "further out to" not in told(raw, tmp_path)[1]


def test_the_distance_is_sought_once_and_only_when_somebody_reads_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever judges thousands of plans without reading what is found in them does not wait for it."""
    asked: list[WiderQuestion] = []

    def counted(question: WiderQuestion) -> float | None:
        asked.append(question)
        return further_out(question)

    monkeypatch.setattr(margin, "further_out", counted)
    finding = the(judged(near_the_front(), tmp_path).stages[0], "margin")
    assert not asked
    assert "further out to the front" in said(finding)
    assert said(finding) == said(finding)
    assert len(asked) == 1


def test_what_is_not_yet_sought_goes_to_another_process_and_is_found_there(tmp_path: Path) -> None:
    """Pictures are drawn by processes of their own."""
    finding = the(judged(near_the_front(), tmp_path).stages[0], "margin")
    assert said(pickle.loads(pickle.dumps(finding))) == said(finding)
