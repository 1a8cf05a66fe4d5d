"""Answers that somebody might type, by key: a made-up front unit on six stands, from an empty folder."""

import re
from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta

from loadplan.planning.interview.question_flow import Answers, next_question, with_answer
from loadplan.planning.interview.questions_on_job import Beginning
from loadplan.planning.interview.typical_answers import typical_units

SOON = datetime.now().astimezone().date() + timedelta(days=3)
"""A day that nobody is asked about: a past one would be odd."""

METRIC: Mapping[str, str] = {
    "units": "metric", "title": "Clutch", "days": f"{SOON} to {SOON + timedelta(days=4)}",
    "what": "front unit", "start": "my own measures", "name": "blue hatchback", "pads.height": "180",
    "engine.weight": "", "engine.kind": "four-cylinder petrol",
    "engine.box": "330 front to 120 behind, 40 to 420 right, 610 to 35 above",
    "gearbox.weight": "48 kg scales", "gearbox.box": "260 front to 60 behind, 400 left to 40 right, 330 to 40 above",
    "subframe.weight": "", "subframe.box": "450 front to 340 behind, 450 left to 450 right, 170 above to 5 below",
    "weight": "1180", "share": "62", "wheelbase": "2540", "pads.along": "620 behind to 1980 behind", "pads.out": "720",
    "inner": "2", "inner1": "mount, 150 behind, 200 right, 80 above", "inner2": "mount, 150 behind 150 left 80 above",
    "hung": "2", "hung1": "120 front, 400 right, 450 above", "hung2": "100 front, 390 left, 300 above",
    "lift.rating": "3.5 tonne", "lift.rise": "1.9 m", "lift.locks": "yes",
    "lift.ceiling": "3900", "lift.lock_step": "0", "shell.bottom": "170", "shell.top": "1480",
    "gear1.what": "stand", "gear1.mark": "3 tonne a pair", "gear1.heights": "290 to 430 step 20", "gear1.base": "170",
    "gear1.owned": "S1 to S8", "gear1.top": "rubber", "gear1.more": "no", "shims": "12 mm wood 8, 6 mm steel 8",
    "prop": "yes", "prop.mark": "1 tonne each", "prop.heights": "1200 to 1980",
    "stands": "6",
    "standA": "subframe, 440 front, 400 left, 0", "standB": "subframe, 440 front, 400 right, 0",
    "standC": "subframe 300 behind, 400 left, 0", "standD": "300 behind, 400 right, 0 above",
    "standE": "215 front, 280 right, 40 above", "standF": "gearbox, 215 front, 280 left, 40 above",
    "prop.place": "2900 behind, 0, 60 above",
    "off": "", "bar": "no",
}  # fmt: skip

_IN_INCHES: Mapping[str, str] = {
    "units": "us", "pads.height": "7", "lift.ceiling": "154", "shell.bottom": "6 3/4", "shell.top": "58",
    "engine.box": "13 front to 4 3/4 behind, 1 1/2 to 16 1/2 right, 24 to 1 3/8 above",
    "gearbox.weight": "106 lb scales", "weight": "2600 lb", "wheelbase": "100", "pads.out": "28",
    "pads.along": "24 1/2 behind to 78 behind", "standA": "subframe, 17 1/4 front, 15 3/4 left, 0",
    "gear1.heights": "11 1/2 to 17 step 3/4", "gear1.base": "6 3/4", "prop.heights": "47 to 78",
}  # fmt: skip

_SIDES = "front|behind|left|right|above|below"

US: Mapping[str, str] = {
    key: _IN_INCHES.get(key, re.sub(rf"([0-9]+)(?= to [0-9]| (?:{_SIDES}))", r"\1 mm", text))
    for key, text in METRIC.items()
}
"""The same, in inches and pounds where somebody would, and in mm elsewhere."""

ON_STANDS: Mapping[str, str] = {
    "units": "metric", "title": "Sills", "what": "vehicle on stands", "name": "grey van", "weight": "1450",
    "wheelbase": "2600", "pads.along": "620 behind to 1980 behind", "lift.rating": "3.5 tonne",
    "gear1.what": "stand", "gear1.mark": "3 tonne a pair", "gear1.heights": "290 to 430 step 20", "gear1.owned": "8",
    "stands": "4", "standA": "900 behind, 600 left, 0", "standB": "900 behind, 600 right, 0",
    "standC": "1700 behind, 600 left, 0", "standD": "1700 behind, 600 right, 0",
}  # fmt: skip
"""A made-up van that is set down itself, between its lift pads."""

ON_A_BEAM: Mapping[str, str] = METRIC | {
    "engine.weight": "150 kg scales", "subframe.weight": "40 kg +- 6 kg", "inner": "1",
    "inner1": "link, 100 behind, 30 left, 90 above", "inner1.to": "240 behind, 30 left, 90 above",
    "hung": "1", "lift.rise": "", "lift.locks": "no",
    "gear1.what": "table", "gear1.mark": "1000 kg", "gear1.heights": "300 to 900", "gear1.base": "800 x 500",
    "gear1.owned": "1", "gear1.more": "yes", "gear2.what": "beam", "gear2.mark": "500 kg each", "gear2.heights": "",
    "gear2.base": "", "gear2.owned": "2", "gear2.more": "yes", "gear3.what": "stand", "gear3.mark": "3 tonne",
    "gear3.heights": "350", "gear3.base": "200 x 300", "gear3.owned": "R1, R2", "gear3.more": "yes",
    "gear4.what": "stand", "gear4.mark": "5000 kg each", "gear4.heights": "400 to 600", "gear4.base": "",
    "gear4.owned": "4", "gear4.more": "no",
    "shims": "12 mm red oak 8, 6 mm", "prop": "no", "uses": "1, E = 2, C D = 3",
    "off": "gearbox, cylinder head 28 kg, pump 5 kg", "off1": "engine, 90 front, 200 right, 400 above",
    "off2": "90 front, 100 right, 400 above", "off.stands": "F",
}  # fmt: skip
"""The front unit on a table, one end of it hung from a beam; and a part that comes off with its stand."""

SAID_TWICE = frozenset(("prop.heights",))
"""What may be odd, and is taken when it is typed again: a tall stand where none goes low enough."""

EMPTY = Beginning(typical=typical_units())
"""What is known in an empty folder."""


def typed(answers: Mapping[str, str], begin: Beginning | None = None) -> Iterator[tuple[str, Answers]]:
    """Answer question by question, and yield what was typed with what is kept then."""
    so_far = Answers({}, begin or EMPTY)
    while question := next_question(so_far):
        text = answers.get(question.key, "")
        reply = with_answer(so_far, question, text)
        if question.key in SAID_TWICE and reply.answers.doubted:
            yield text, reply.answers
            reply = with_answer(reply.answers, question, text)
        assert not reply.says, f"{question.key}: {reply.says}"
        so_far = reply.answers
        yield text, so_far


def all_typed(answers: Mapping[str, str], begin: Beginning | None = None) -> tuple[list[str], Answers]:
    """Return every line that is typed, and what is kept in the end."""
    steps = list(typed(answers, begin))
    return [text for text, _ in steps], steps[-1][1]
