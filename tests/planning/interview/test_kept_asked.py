"""What each part of the interview asks, given what was answered, and what of an answer it finds odd.

Asked part by part, without answering one question after another, so that it takes no time: the order of the parts is
held by `test_kept_questions`. A file that is taken away is written anew, and its test fails once.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from loadplan.files import read_shop, shipped_folder
from loadplan.model.vehicle import Vehicle
from loadplan.planning.interview.answer_parsing import read_answer
from loadplan.planning.interview.question import (
    AnswerError,
    Ask,
    Days,
    Edges,
    Foot,
    HeightRange,
    Known,
    Mark,
    Owned,
    Question,
    Seat,
    Value,
    Weight,
)
from loadplan.planning.interview.questions_on_job import (
    ANOTHER,
    OWN,
    Beginning,
    chosen_places,
    differs_question,
    head_questions,
    lift_use_questions,
    place_questions,
    seat_lump,
    use_questions,
    vehicle_of,
    work_questions,
)
from loadplan.planning.interview.questions_on_places import seat_questions
from loadplan.planning.interview.questions_on_shop import (
    gear_questions,
    gear_words,
    lift_questions,
    prop_gear_questions,
    prop_use_question,
)
from loadplan.planning.interview.questions_on_vehicle import (
    height_questions,
    lump_boxes,
    pad_questions,
    prop_place_question,
    stand_letters,
    tie_questions,
    unit_questions,
    weight_questions,
)
from loadplan.planning.interview.typical_answers import typical_texts, typical_units
from loadplan.planning.interview.unit_kinds import UNIT_KINDS
from loadplan.units import System
from tests.kept_text import assert_kept
from tests.planning.interview.test_kept_questions import told_lines
from tests.planning.typed import METRIC, ON_A_BEAM, ON_STANDS

KEPT = Path(__file__).parent / "kept"
TODAY = date(2026, 11, 20)
FRONT, REAR, PACK = (UNIT_KINDS[each] for each in ("front unit", "rear unit", "battery pack"))
STANDING = UNIT_KINDS["vehicle on stands"]
UNITS = typical_units()
SHOP, _ = read_shop(shipped_folder("demo") / "shop.toml")
AT_UNSAID = {
    "standA": "215 front, 280 right, 40 above",
    "standB": "215 front, 0, 40 above",
    "standC": "900 front, 0, 0",
    "stands": "3",
}
"""Stands of which nobody says what they are under."""

SAMPLES: Mapping[Ask, tuple[Value, ...]] = {
    Ask.LENGTH: (-1.0, 0.5, 0.9, 9.0),
    Ask.MASS: (1.0, 9000.0),
    Ask.WEIGHT: (Weight(1.0, 0.1), Weight(80.0, 0.1), Weight(2000.0, 1.0)),
    Ask.LOAD: (1.0, 30_000.0, 1e6),
    Ask.MARK: (Mark(1.0, ""), Mark(30_000.0, "each"), Mark(1e6, "pair")),
    Ask.WHOLE: (1, 2, 3, 5, 8, 9, 41),
    Ask.OWNED: (Owned(0, ()), Owned(1, ()), Owned(40, ()), Owned(41, ())),
    Ask.SPAN: ((-0.6, -2.0), (-0.6, -1.3), (-0.6, -3.4)),
    Ask.BOX: (
        Edges((-0.1, -0.4, 0.0), (0.3, 0.0, 0.5)),
        Edges((-0.1, -0.4, 0.0), (2.3, 0.0, 0.5)),
        Edges((-2.9, -0.4, 0.0), (-2.5, 0.0, 0.05)),
        Edges((-2.9, -0.4, 0.0), (-2.5, 0.0, 0.3)),
    ),
    Ask.SEAT: (
        Seat("", (0.44, 0.4, 0.0)),
        Seat("engine", (0.215, 0.28, 0.04)),
        Seat("", (-0.6, 0.7, 0.0)),
        Seat("", (-2.0, -0.75, 0.0)),
    ),
    Ask.CHOICE: ("engine", "gearbox", "subframe"),
    Ask.HEIGHTS: (HeightRange(0.02, 0.09, None), HeightRange(0.3, 0.8, None), HeightRange(0.3, 0.9, 0.1)),
    Ask.FOOT: (Foot(0.11, 0.3), Foot(0.3, 0.11), Foot(0.12, 0.12)),
    Ask.DAYS: (
        Days(TODAY, None),
        Days(date(2026, 11, 19), None),
        Days(date(2026, 11, 19), TODAY),
        Days(TODAY, date(2027, 12, 25)),
        Days(TODAY, date(2027, 12, 26)),
        None,
    ),
    Ask.SEVERAL: (("A",), ("E", "F"), ("F",), ("A", "E"), ("C",), ("L",)),
}
"""What is answered to see whether it is odd: what is usual, and what lies on either side of it."""


def known_by(texts: Mapping[str, str]) -> Known:
    """What was answered, as it was typed."""

    def known(question: Question) -> Value:
        try:
            return read_answer(question, texts.get(question.key, ""), System.METRIC)
        except AnswerError:
            return None

    return known


def told(asked: Iterable[Question]) -> Iterator[str]:
    """Write questions, and what is odd about sample answers."""
    for each in asked:
        yield from told_lines(each)
        samples = (*SAMPLES.get(each.ask, ()), *([each.words] if each.ask is Ask.SEVERAL else []))
        for value in samples:
            odd = each.odd(value, System.METRIC)
            if odd:
                yield f"    odd of {_shown(value)}: {odd}"


def _shown(value: Value) -> str:
    return " ".join(value) if isinstance(value, tuple) and isinstance(value[0], str) else str(value)


def on_vehicle(kind: str, texts: Mapping[str, str]) -> Callable[[], Iterator[Question]]:
    def asked() -> Iterator[Question]:
        made, known = UNIT_KINDS[kind], known_by(texts)
        for each in (unit_questions, weight_questions, tie_questions, seat_questions):
            yield from each(made, known)
        yield from height_questions(made, None, known)

    return asked


def on_shop(texts: Mapping[str, str]) -> Callable[[], Iterator[Question]]:
    def asked() -> Iterator[Question]:
        known = known_by(texts)
        yield from gear_questions(known)
        yield from use_questions(gear_words(known))
        for prop in ("nose", "tail"):
            yield from prop_gear_questions(prop, None, System.METRIC)

    return asked


def _plain() -> Iterator[Question]:
    yield from lift_questions(known_by({}))
    yield from pad_questions()
    yield prop_place_question("nose")
    yield prop_use_question("tail")
    yield differs_question(FRONT, typical_texts(UNITS["typical-front-unit"], FRONT))
    yield differs_question(PACK, typical_texts(UNITS["typical-battery-pack"], PACK))
    yield from lift_use_questions(None)
    yield from lift_use_questions(SHOP)
    yield from lift_use_questions(replace(SHOP, lifts=(*SHOP.lifts, replace(SHOP.lifts[0], name="the other"))))
    yield from place_questions(UNITS["typical-front-unit"])
    yield from place_questions(UNITS["typical-axle"])


def _heads() -> Iterator[Question]:
    begin, nothing = Beginning(UNITS, today=TODAY), known_by({})
    yield from head_questions(begin, nothing)
    yield from head_questions(replace(begin, system=System.US), known_by({"what": "rear unit"}))
    yield from head_questions(replace(begin, vehicle=UNITS["typical-axle"], today=None), nothing)
    folder = replace(begin, vehicles={"van": UNITS["typical-axle"]}, system=System.METRIC)
    yield from head_questions(folder, known_by({"own": "van"}))
    yield from head_questions(folder, known_by({"own": ANOTHER, "what": "vehicle on stands"}))


def on_work(
    texts: Mapping[str, str], kind: str = "", vehicle: Vehicle | None = None
) -> Callable[[], Iterator[Question]]:
    return lambda: work_questions(Beginning(vehicle=vehicle), UNIT_KINDS.get(kind), known_by(texts))


EIGHT = {f"gear{number}.more": "yes" for number in range(1, 9)} | {
    f"gear{number}.what": what
    for number, what in enumerate(("stand", "jack", "table", "hoist", "beam", "stand", "jack", "stand"), 1)
}
LINKS = METRIC | {
    "inner": "3", "inner1": "150 behind, 200 right, 80 above", "inner1.kind": "link",
    "inner2": "link, 100 behind, 30 left, 90 above", "inner3": "150 behind, 200 right, 80 above",
    "inner3.kind": "mount", "hung": "1", "engine.weight": "150 kg scales",
}  # fmt: skip
COMES_OFF = {"places": "all", "off": "gearbox, engine", "off.stands": ""}

ASKED: Mapping[str, Callable[[], Iterator[Question]]] = {
    **{f"{each}-unanswered".replace(" ", "-"): on_vehicle(each, {}) for each in UNIT_KINDS},
    "front-unit-answered": on_vehicle("front unit", METRIC | AT_UNSAID),
    "front-unit-with-links": on_vehicle("front unit", LINKS),
    "vehicle-on-stands-answered": on_vehicle("vehicle on stands", ON_STANDS),
    "shop-unanswered": on_shop({}),
    "shop-of-four-kinds": on_shop(ON_A_BEAM),
    "shop-of-eight-kinds": on_shop(EIGHT | {"prop": "no"}),
    "plain": _plain,
    "heads": _heads,
    "work-unanswered": on_work({}, "front unit"),
    "work-parts-off": on_work(ON_A_BEAM, "front unit"),
    "work-lump-off": on_work(METRIC | {"off": "subframe", "stands": "3"}, "front unit"),
    "work-on-stands": on_work(ON_STANDS, "vehicle on stands"),
    "work-of-a-known-vehicle": on_work(COMES_OFF, vehicle=UNITS["typical-front-unit"]),
    "work-of-a-known-vehicle-unanswered": on_work({}, vehicle=UNITS["typical-rear-unit"]),
    "work-of-nothing": on_work({}),
}


@pytest.mark.parametrize("name", ASKED)
def test_a_part_of_the_interview_asks_what_is_kept(name: str) -> None:
    file, text = KEPT / f"asked-{name}.txt", "\n".join(told(ASKED[name]())) + "\n"
    assert_kept(file, text)
    assert text == file.read_text("utf-8"), "nothing here hangs on a rounding"


def test_kinds_of_equipment_are_named_by_their_number_among_their_like() -> None:
    assert gear_words(known_by({})) == ("stand",)
    assert gear_words(known_by(ON_A_BEAM)) == ("table", "beam", "stand", "stand 2")
    assert gear_words(known_by(EIGHT)) == ("stand", "jack", "table", "hoist", "beam", "stand 2", "jack 2", "stand 3")
    assert gear_words(known_by({"gear1.more": "yes", "gear2.more": "no", "gear3.more": "yes"})) == ("stand", "stand 2")


def test_a_typical_unit_is_of_a_kind_by_its_name() -> None:
    begin = Beginning(UNITS)
    assert begin.typical_of("front unit") == ("typical-front-unit",)
    assert begin.typical_of("vehicle on stands") == begin.typical_of("") == Beginning().typical_of("front unit") == ()
    assert (begin.vehicle, begin.shop, begin.system, begin.today, begin.is_like) == (None, None, None, None, False)
    assert (dict(Beginning().typical), dict(Beginning().vehicles)) == ({}, {})
    assert OWN not in begin.typical


def test_the_vehicle_is_the_one_named_or_that_of_the_folder_which_is_chosen() -> None:
    van, named = UNITS["typical-axle"], UNITS["typical-rear-unit"]
    folder = Beginning(vehicles={"van": van})
    for begin, texts, vehicle in (
        (Beginning(), {"own": "van"}, None),
        (replace(folder, vehicle=named), {"own": "van"}, named),
        (folder, {"own": "van"}, van),
        (folder, {"own": ANOTHER}, None),
        (folder, {}, None),
    ):
        assert vehicle_of(begin, known_by(texts)) is vehicle


def test_places_are_chosen_all_of_them_or_by_number() -> None:
    unit = UNITS["typical-front-unit"]
    every = chosen_places(unit, known_by({}))
    assert len(every) > 3
    assert chosen_places(unit, known_by({"places": "1, 3"})) == (every[0], every[2])
    assert chosen_places(unit, lambda _: None) == ()


def test_what_a_stand_is_under_is_said_or_asked_or_seen_by_its_place() -> None:
    known = known_by(
        METRIC | AT_UNSAID | {"standB.under": "engine", "standC": "300 behind, 400 left, 0", "stands": "4"}
    )
    assert [seat_lump(FRONT, letter, known) for letter in "ABCG"] == ["engine", "engine", "subframe", ""]
    unsaid = known_by({"standA": "215 front, 0, 40 above"})
    assert seat_lump(FRONT, "A", unsaid) == FRONT.lumps[-1].key, "nobody knows: the last"
    assert seat_lump(STANDING, "A", unsaid) == ""
    assert seat_lump(FRONT, "A", known_by({"standA": "gearbox, 215 front, 0, 40 above"})) == "gearbox"
    boxes = lump_boxes(FRONT, known_by({"engine.box": METRIC["engine.box"]}))
    assert list(boxes) == ["engine"]
    assert boxes["engine"].low == pytest.approx((-0.12, -0.42, 0.035))
    assert (stand_letters(3), stand_letters(0), stand_letters(99)) == ("ABC", "", "ABCDEFGHIJKL")
