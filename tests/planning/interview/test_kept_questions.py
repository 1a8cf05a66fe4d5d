"""Every question of some interviews as it is asked, and the files that are made of answers, held against kept files.

A file that is taken away is written anew, and its test fails once: read what has changed.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.files import read_shop, shipped_folder
from loadplan.planning.interview.first_job import Named
from loadplan.planning.interview.new_files import Beside, files_of_answers
from loadplan.planning.interview.question import Question
from loadplan.planning.interview.question_flow import questions
from loadplan.planning.interview.questions_on_job import UNMEASURED, Beginning
from loadplan.planning.interview.typical_answers import kind_of, typical_units
from tests.kept_text import assert_kept
from tests.planning.typed import METRIC, ON_A_BEAM, ON_STANDS, US, all_typed

KEPT = Path(__file__).parent / "kept"
UNITS = typical_units()
SHOP, SYSTEM = read_shop(shipped_folder("demo") / "shop.toml")
TWO_LIFTS = replace(SHOP, lifts=(*SHOP.lifts, replace(SHOP.lifts[0], name="the other lift")))
IN_A_SHOP = Beginning(UNITS, shop=SHOP, system=SYSTEM)
KNOWN = replace(IN_A_SHOP, vehicle=UNITS["typical-front-unit"])


def _of_kind(name: str) -> dict[str, str]:
    kind = kind_of(name)
    assert kind is not None
    return {"title": "Work", "what": kind.word, "start": name, "name": "mine", "differs": UNMEASURED}


INTERVIEWS: Mapping[str, tuple[Mapping[str, str], Beginning | None]] = {
    "own-measures-metric": (METRIC, None),
    "own-measures-us": (US, None),
    "without-a-prop": (METRIC | {"prop": "no", "inner": "0", "hung": "0", "off": "gearbox", "bar": "yes"}, None),
    **{f"{name}-in-a-shop": (_of_kind(name), IN_A_SHOP) for name in UNITS},
    "known-vehicle": ({"title": "Work"}, KNOWN),
    "vehicle-on-stands": (ON_STANDS, None),
    "vehicle-on-stands-in-a-shop": (
        {**ON_STANDS, "places": "all", "differs": "nothing", "lift.use": "1", "off": "", "bar": "yes"},
        replace(IN_A_SHOP, shop=TWO_LIFTS),
    ),
    "on-a-beam": (ON_A_BEAM, None),
    "known-vehicle-apart": (
        {
            "title": "Work",
            "places": "1 to 4, 6",
            "uses": "1, E = 4",
            "prop": "no",
            "off": "gearbox, 1",
            "off.stands": "E",
        },
        KNOWN,
    ),
    "vehicle-of-the-folder": (
        {"title": "Work", "own": "van", "off": "final drive", "bar": "yes"},
        replace(IN_A_SHOP, vehicles={"van": UNITS["typical-rear-unit"]}),
    ),
    "another-vehicle": (
        {**_of_kind("typical-axle"), "own": "another one", "differs": "pads, axle, stands", "days": ""},
        replace(IN_A_SHOP, vehicles={"van": UNITS["typical-rear-unit"]}),
    ),
    "as-in-another-job": ({"title": "Again"}, replace(KNOWN, is_like=True)),
}


MADE = (
    "own-measures-metric", "own-measures-us", "without-a-prop", "typical-battery-pack-in-a-shop", "vehicle-on-stands",
    "vehicle-on-stands-in-a-shop", "on-a-beam", "known-vehicle", "known-vehicle-apart", "vehicle-of-the-folder",
)  # fmt: skip
"""Those whose files are kept, too."""


def _asked(name: str) -> str:
    answers, begin = INTERVIEWS[name]
    _, kept = all_typed(answers, begin)
    return "\n".join(line for each in questions(kept) for line in told_lines(each)) + "\n"


def told_lines(question: Question) -> Iterator[str]:
    """Write a question, and all that it says: days hang on the day of the test."""
    yield f"[{question.group}] {question.key} ({question.ask.name}): {question.asks}"
    told = {
        "before": question.tells,
        "hint": question.hint,
        "example": question.example,
        "words": ", ".join(question.words),
        "by default": repr(question.default),
        "between": f"{question.least:g} and {question.most:g}",
        "share of": f"{question.whole:g} kg",
    }
    for word, text in told.items():
        if text not in {"", "-100 and 100", "0 kg"}:
            yield f"    {word}: {_without_days(text)}"


def _made(name: str) -> str:
    answers, begin = INTERVIEWS[name]
    _, kept = all_typed(answers, begin)
    beside = Beside(
        "job.toml", Named("front" if begin and begin.vehicle else "", "shop.toml" if begin else ""), lambda _: False
    )
    files = sorted(files_of_answers(kept, beside).items())
    return "\n".join(f"======== {file}\n{_without_days(text.decode())}" for file, text in files)


def _without_days(text: str) -> str:
    return re.sub(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", "a day", text)


@pytest.mark.parametrize("name", INTERVIEWS)
def test_every_question_is_asked_as_it_is_kept(name: str) -> None:
    assert_kept(KEPT / f"{name}.txt", _asked(name))


@pytest.mark.parametrize("name", MADE)
def test_the_files_that_are_made_are_those_that_are_kept(name: str) -> None:
    assert_kept(KEPT / f"{name}-files.txt", _made(name))
