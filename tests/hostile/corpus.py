"""What the fuzzer starts from, and how it changes a file so that most of what it makes is still TOML."""

import random
import tomllib
from collections.abc import Callable, Iterator
from copy import deepcopy
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from loadplan.files import shipped_folder
from loadplan.files.kept_answers import kept
from loadplan.files.work_record_file import add_to_record, record_path
from loadplan.model.work_record import Deed, FoundAtStand, RecordEntry
from tests.files.builders import SMALL
from tests.files.photographs import NO_PHOTOGRAPHS, jpeg, png
from tests.files.toml_text import toml
from tests.planning.typed import METRIC, US
from tests.tracked import shipped

DEMO = shipped_folder("demo")
FOUND = Path(__file__).with_name("found")
"""Inputs that once broke something, by target: they are tried by every run of the tests."""

ODD: tuple[Any, ...] = (
    0, -1, 1, 10**30, -(10**30), 0.0, -0.0, 1e-300, 1e300, float("nan"), float("inf"), True, False, "", " ", "1 in",
    "3 ton", "1/0 in", "1e999 mm", "9" * 400, "\u0000", "A\nB", "ﬁ\u202e", "Å" * 90, [], [[]], {}, [0, 0, 0], [1, 2],
    {"height": 5}, "stand", "mount", "bolted", "pair", "us", "metric", "guess",
)  # fmt: skip

QUANTITIES = (
    "7.5 in", "3 tonne", "6000 lb", "10 %", "16 1/2 in", "3/4 in", "1e3 mm", "2 short_ton", "5 N/mm", "0.6 deg",
    "2 3/8\"", "1,5 mm", "− 3 mm", "1_000 kg", "½ in", "12 lbf/in", "250 lbf·ft", "3 N·m", "1 ton",
)  # fmt: skip

CALLS = (
    "check\n@job.toml", "check\n@job.toml\n--json", "check\n@job.toml\n--proof\n--units\nus", "vehicles\n--json",
    "order\n@job.toml\n--stage\nTop end off", "heights\n@job.toml\n--write\n@new.toml", "schema\n--kind\njob",
    "weigh\n@readings.toml\n--json", "weigh\n@readings.toml\n--write\n@vehicle.toml\n--body\npowertrain",
    "demo\n@demo", "shop\n@shop.toml\n@\n--csv", "shop\n@shop.toml\n@job.toml\n--json", "new\n@first.toml",
    "draw\n@job.toml\n-o\n@out\n--stage\nnone", "sheet\n@job.toml\n-o\n@job.toml", "--version", "--help", "lesson\n-o",
)  # fmt: skip

REQUESTS = (
    *(f'plan/0/{name}\n{{"revision": 0, "step": 0}}' for name in ("undo", "redo", "reread", "save")),
    'plan/0/glance\n{"revision": 0, "stand": 0, "x": 0.1, "y": -0.2, "snap": 0.03, "wide": 400, "high": 300}',
    *(
        f'plan/0/change\n{{"revision": 0, "step": 0, "change": {change}}}'
        for change in (
            '{"kind": "move", "stand": 0, "x": 0.3, "y": 0.2, "snap": 0.0}',
            '{"kind": "under", "stand": 0, "point": 0}',
            '{"kind": "add", "x": 0.1, "y": 0.1}',
            '{"kind": "add"}',
            '{"kind": "remove", "stand": 1}',
            '{"kind": "duplicate", "stand": 0}',
            '{"kind": "equip", "stand": 0, "equipment": 0}',
            '{"kind": "height", "stand": 0, "text": "13 3/4 in"}',
            '{"kind": "part", "part": 0, "off": true}',
            '{"kind": "cg", "body": 0, "forward": 0.01, "left": -0.01, "together": true}',
            '{"kind": "mass", "part": 0, "text": "12 kg"}',
            '{"kind": "keep_what_if"}',
        )
    ),
    'plan/0/save\n{"revision": 0, "step": 0, "name": "other.toml", "sure": true}',
    "open\ntoken=TOKEN&job=job.toml",
    "demo\ntoken=TOKEN&name=front-unit.toml",
    "begin\ntoken=TOKEN&vehicle=van-longitudinal-diesel-rwd&shop=shop.toml&name=new.toml&title=x",
    "ask\ntoken=TOKEN&file=first.toml&units=metric&title=Clutch",
    "ask/first.toml\ntoken=TOKEN&group=head&way=on&units=metric&title=Clutch&days=",
    "ask/first.toml\ntoken=TOKEN&group=typical&way=back&what=front+unit&start=my+own+measures",
    "ask/first.toml\ntoken=TOKEN&group=unit&way=write&doubted%3Aengine.weight=9+kg&engine.weight=9+kg",
    "ask/first.toml?group=places",
    "enter\ncode=1234+5678",
    'devices/away\n{"device": 1}',
    'plan/0/judge\n{"revision": 0, "step": 0, "cure": 0}',
    "plan/0/screen?step=0&wide=400&high=300&without=0&around=all",
    "plan/0/seen?step=0&wide=400&high=300&side=left&turn=30",
    "plan/0/bay?step=0",
    *(
        f"plan/0/bay\ntoken=TOKEN&step=0&who=K&{said}"
        for said in (
            "what=tick&line=x",
            "what=untick&line=x",
            "what=all&part=x",
            "what=read&support=A&load=120+kg",
            "what=read&support=A&turns=yes",
            "what=note&words=so+it+is",
            "what=moved&words=",
            "what=done",
            "what=who",
            "what=photograph&words=one.jpg",
        )
    ),
)
"""An address of the live plan, and what is said there."""


def corpus(target: str) -> Iterator[bytes]:
    """Yield what a target starts from: shipped files, or what somebody might type."""
    yield from _SENT[target]() if target in _SENT else _files(target)
    yield from (path.read_bytes() for path in sorted((FOUND / target).glob("*")))


def _files(target: str) -> Iterator[bytes]:
    match target:
        case "shop":
            yield (DEMO / "shop.toml").read_bytes()
        case "readings":
            yield (DEMO / "readings.toml").read_bytes()
        case "vehicle":
            yield from (path.read_bytes() for path in shipped("vehicles"))
        case _:
            yield toml(SMALL).encode()
            yield from (path.read_bytes() for path in jobs())


def _answers() -> list[bytes]:
    """Return answers, each behind the number of the kind of question that it is tried on."""
    kinds = (2, 5, 9, 12, 16, 17, 18, 19, 20, 22, 24)
    return [bytes([number]) + text.encode() for text in METRIC.values() for number in kinds]


def _record() -> bytes:
    """Return a record with an entry of each kind."""
    with TemporaryDirectory() as name:
        job = Path(name) / "job.toml"
        for number, deed in enumerate(Deed):
            found = FoundAtStand("A", 1863.3, None, 1700.0, 1900.0) if deed is Deed.READ else None
            at = datetime(2026, 11, 20, 12, number, tzinfo=UTC)
            add_to_record(job, RecordEntry(at, "K", "0a1b2c3d", "Down", deed, f"words {number}", found))
        return record_path(job).read_bytes()


def jobs() -> list[Path]:
    """List the demo's jobs."""
    return [path for path in shipped("demo", "*.toml") if path.name not in {"shop.toml", "readings.toml"}]


def changed(content: bytes, seed: int, largest: int) -> bytes | None:
    """Change some values of a TOML file.

    Args:
        content: The file.
        seed: What decides which and how.
        largest: Most bytes that come back.

    Returns:
        Another file, or None where this one is no TOML or the other is too large.
    """
    drawn = random.Random(seed)
    try:
        raw = tomllib.loads(content.decode("utf-8"))
    except (ValueError, RecursionError):
        return None
    for _ in range(drawn.choice((1, 1, 2, 4))):
        _disturb(raw, drawn)
    try:
        new = toml(raw).encode("utf-8", "replace")
    except RecursionError:
        return None
    return new if len(new) <= largest else None


def _disturb(raw: dict[str, Any], drawn: random.Random) -> None:
    places = [each for each in _containers(raw) if each]
    if not places:
        return
    held = drawn.choice(places)
    key = drawn.choice(sorted(held, key=str) if isinstance(held, dict) else range(len(held)))
    other = drawn.choice(places)
    elsewhere = drawn.choice(list(other.values()) if isinstance(other, dict) else other)
    match drawn.choice(("odd", "drop", "copy", "number", "more")):
        case "odd":
            held[key] = deepcopy(drawn.choice(ODD))
        case "drop":
            del held[key]
        case "number" if isinstance(held[key], int | float):
            held[key] = held[key] * drawn.choice((-1, 0, 0.001, 0.5, 1.01, 2, 1000)) + drawn.choice((0, 0, 1))
        case "more":
            _add(held, other, drawn)
        case _ if not _within(held, elsewhere):
            held[key] = elsewhere


def _add(held: Any, other: Any, drawn: random.Random) -> None:  # noqa: ANN401 - whatever TOML holds
    """Put something of another table or list into one of its kind."""
    if isinstance(held, list) and isinstance(other, list):
        new = [each for each in other[:2] if not _within(held, each)]
        held.extend(new)
    elif isinstance(held, dict) and isinstance(other, dict):
        name = drawn.choice(sorted(other, key=str))
        if not _within(held, other[name]):
            held[name] = other[name]


def _containers(value: Any) -> Iterator[Any]:  # noqa: ANN401 - whatever TOML holds
    if isinstance(value, dict | list):
        yield value
        for each in list(value.values() if isinstance(value, dict) else value):
            yield from _containers(each)


def _within(held: object, value: object) -> bool:
    """Return whether a table or list is inside a value, so that putting the value in would close a circle."""
    return any(each is held for each in _containers(value))


_SENT: dict[str, Callable[[], list[bytes]]] = {
    "answers": lambda: [kept(each) for each in (METRIC, US)],
    "interview": lambda: ["\n".join(map("\t".join, each.items())).encode() for each in (METRIC, US)],
    "record": lambda: [_record()],
    "photograph": lambda: [jpeg(), jpeg(upright=6), png(40, 40), *NO_PHOTOGRAPHS.values()],
    "answer": _answers,
    "quantity": lambda: [text.encode() for text in QUANTITIES],
    "command_line": lambda: [text.encode() for text in CALLS],
    "request": lambda: [text.encode() for text in REQUESTS],
}
"""What targets start from that nobody wrote into a file by hand."""
