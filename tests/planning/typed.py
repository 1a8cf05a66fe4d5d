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
    "units": "us", "pads.height": "7",
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


EMPTY = Beginning(typical=typical_units())
"""What is known in an empty folder."""


def typed(answers: Mapping[str, str], begin: Beginning | None = None) -> Iterator[tuple[str, Answers]]:
    """Answer question by question, and yield what was typed with what is kept then."""
    so_far = Answers({}, begin or EMPTY)
    while question := next_question(so_far):
        text = answers.get(question.key, "")
        reply = with_answer(so_far, question, text)
        assert not reply.says, f"{question.key}: {reply.says}"
        so_far = reply.answers
        yield text, so_far


def all_typed(answers: Mapping[str, str], begin: Beginning | None = None) -> tuple[list[str], Answers]:
    """Return every line that is typed, and what is kept in the end."""
    steps = list(typed(answers, begin))
    return [text for text, _ in steps], steps[-1][1]
