"""Answers that somebody might type, by key: a made-up front unit on six stands."""

from collections.abc import Iterator, Mapping

from loadplan.planning.interview.question_flow import Answers, next_question, with_answer

METRIC: Mapping[str, str] = {
    "units": "metric", "title": "Clutch", "vehicle": "hatchback", "date": "2026-11-20", "until": "2026-11-24",
    "pads.height": "180",
    "engine.weight": "", "engine.kind": "four-cylinder petrol", "engine.front": "330 front",
    "engine.rear": "120 behind",
    "engine.left": "40 right", "engine.right": "420 right", "engine.top": "610 above", "engine.bottom": "35 above",
    "gearbox.weight": "48", "gearbox.source": "scales", "gearbox.front": "260 front", "gearbox.rear": "60 behind",
    "gearbox.left": "400 left", "gearbox.right": "40 right", "gearbox.top": "330 above", "gearbox.bottom": "40 above",
    "subframe.weight": "", "subframe.front": "450 front", "subframe.rear": "340 behind", "subframe.left": "450 left",
    "subframe.right": "450 right", "subframe.top": "170 above", "subframe.bottom": "5 below",
    "shell": "own", "weight": "1180", "share": "62", "wheelbase": "2540",
    "pads.front": "620 behind", "pads.rear": "1980 behind", "pads.out": "720", "lift.rating": "3.5 tonne",
    "lift.rise": "1.9 m", "lift.locks": "yes",
    "links": "2", "link2.place": "150 behind, 150 left, 80 above", "link1.place": "150 behind, 200 right, 80 above",
    "mounts": "2", "mount1.place": "120 front, 400 right, 450 above", "mount2.place": "100 front, 390 left, 300 above",
    "kinds": "1", "kind1.rating": "3 tonne", "kind1.for": "pair", "kind1.lowest": "290", "kind1.highest": "430",
    "kind1.step": "20", "kind1.base": "200", "kind1.count": "8",
    "stands": "6",
    "standA.under": "subframe", "standA.place": "445 front, 400 left, 0 below",
    "standB.under": "subframe", "standB.place": "445 front, 400 right, 0 below",
    "standC.under": "subframe", "standC.place": "300 behind, 400 left, 0 below",
    "standD.under": "subframe", "standD.place": "300 behind, 400 right, 0 below",
    "standE.under": "engine", "standE.place": "195 front, 280 right, 40 above",
    "standF.under": "gearbox", "standF.place": "195 front, 280 left, 40 above",
    "prop": "yes", "prop.rating": "1 tonne", "prop.lowest": "1200", "prop.highest": "1980",
    "prop.place": "2900 behind, 0 left, 60 above",
    "bar": "no",
}  # fmt: skip

_IN_INCHES: Mapping[str, str] = {
    "units": "us", "pads.height": "7", "engine.front": "13 front", "engine.rear": "4 3/4 in behind",
    "gearbox.weight": "106", "weight": "2600 lb", "wheelbase": "100", "pads.front": "24 1/2 behind", "pads.out": "28",
    "standA.place": "17 1/2 front, 15 3/4 left, 0 below", "kind1.lowest": "11 1/2", "kind1.highest": "17",
    "kind1.step": "3/4", "kind1.base": "8", "prop.lowest": "47", "prop.highest": "78",
}  # fmt: skip


def _with_mm(sided: str) -> str:
    """Write the unit into distances that go without."""
    return ", ".join(" mm ".join(part.rsplit(" ", 1)) for part in sided.split(", "))


_SIDED = ("place", "front", "rear", "left", "right", "top", "bottom")

US: Mapping[str, str] = {
    key: _IN_INCHES.get(key, _with_mm(text) if key.endswith(_SIDED) else text) for key, text in METRIC.items()
}
"""The same, in inches and pounds where somebody would, and in mm elsewhere."""


def typed(answers: Mapping[str, str], shipped: tuple[str, ...] = ()) -> Iterator[tuple[str, Answers]]:
    """Answer question by question, and yield what was typed with what is kept then."""
    so_far = Answers({}, shipped)
    while question := next_question(so_far):
        text = answers.get(question.key, "")
        after = with_answer(so_far, question, text)
        assert isinstance(after, Answers), f"{question.key}: {after}"
        so_far = after
        yield text, so_far


def all_typed(answers: Mapping[str, str], shipped: tuple[str, ...] = ()) -> tuple[list[str], Answers]:
    """Return every line that is typed, and what is kept in the end."""
    steps = list(typed(answers, shipped))
    return [text for text, _ in steps], steps[-1][1]
