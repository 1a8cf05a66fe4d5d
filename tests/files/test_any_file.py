"""Whatever stands in a file, it gives a job or faults, and no other error."""

from collections.abc import Iterator
from copy import deepcopy
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.errors import InputError
from loadplan.files import read_job
from loadplan.model.job import Job
from loadplan.stages import states
from tests.examples import examples
from tests.files.builders import Raw, small
from tests.files.toml_text import toml

WORDS = st.sampled_from([
    "A",
    "unit",
    "shell",
    "head",
    "bolts",
    "bay",
    "stand",
    "front",
    "sill left",
    "1 in",
    "3 ton",
    "5 %",
    "",
])
PLAIN = st.one_of(
    st.booleans(), st.integers(-5, 2000), st.integers(), st.floats(), WORDS, st.text(max_size=8),
    st.dates(date(2020, 1, 1)),
)  # fmt: skip
KEYS = st.sampled_from(["name", "mass", "from", "to", "circle", "height", "use", "at", "off", "on", "S1", "kez"])
JUNK = st.recursive(
    PLAIN, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3), max_leaves=5
)


@pytest.fixture(scope="module")
def folder() -> Iterator[Path]:
    with TemporaryDirectory() as name:
        yield Path(name)


def outcome(folder: Path, content: bytes) -> Job | InputError:
    path = folder / "job.toml"
    path.write_bytes(content)
    try:
        return read_job(path)
    except InputError as error:
        return error


def containers(value: Any) -> Iterator[Any]:  # noqa: ANN401 - whatever TOML holds
    """Yield every table and list in a value."""
    if isinstance(value, dict | list):
        yield value
        for each in list(value.values() if isinstance(value, dict) else value):
            yield from containers(each)


def disturb(raw: Raw, draw: Any) -> None:  # noqa: ANN401 - what hypothesis hands out
    """Put junk in one place, or take away what stands there."""
    places = [each for each in containers(raw) if each]
    place = draw(st.sampled_from(range(len(places))))
    held = places[place]
    key = draw(st.sampled_from(sorted(held) if isinstance(held, dict) else range(len(held))))
    match draw(st.sampled_from(["junk", "drop", "more", "word"])):
        case "junk":
            held[key] = draw(JUNK)
        case "word":
            held[key] = draw(WORDS)
        case "drop":
            del held[key]
        case _ if isinstance(held, dict):
            held[draw(KEYS)] = draw(JUNK)
        case _:
            held.append(draw(JUNK))


@pytest.mark.slow
@examples(300)
@given(data=st.data())
def test_a_disturbed_job_is_a_job_or_has_faults(folder: Path, data: st.DataObject) -> None:
    raw = deepcopy(small())
    for _ in range(data.draw(st.integers(1, 4))):
        disturb(raw, data.draw)
    found = outcome(folder, toml(raw).encode("utf-8", "replace"))
    if isinstance(found, InputError):
        assert all(each.file and each.message for each in found.faults)
        assert all("\n" not in str(each) for each in found.faults)


STEPS = (
    {"in_place": ["A"]}, {"cleared": ["A"]}, {"undone": ["bolts"]}, {"done_up": ["bolts"]}, {"cleared": ["bay"]},
    {"off": ["head"]}, {"off": ["block"]}, {"off": ["head", "block"]}, {"on": ["block"]}, {"on": ["head", "block"]},
    {"cleared": ["A"], "off": ["head", "block"]}, {"off": ["painted shell"]}, {"on": ["painted shell"]},
)  # fmt: skip


@examples(400)
@given(
    steps=st.lists(st.sampled_from(STEPS), min_size=1, max_size=5),
    bodies=st.sampled_from([["unit"], ["unit", "shell"]]),
)
def test_accepted_stages_never_leave_a_stand_under_nothing(folder: Path, steps: list[Raw], bodies: list[str]) -> None:
    named = [{"name": f"step {number}", **step} for number, step in enumerate(steps)]
    lift = {} if "shell" in bodies else {"lift": None}
    found = outcome(folder, toml(small(stage=named, bodies=bodies, **lift)).encode())
    if isinstance(found, InputError):
        return
    for state in states(found):
        assert {support.body for support in state.supports} <= set(state.bodies)
        assert all(set(joint.between) <= set(state.bodies) for joint in state.done_up)
        off = {part.name for part in found.vehicle.parts if part.body in bodies} - state.on
        assert all(part.name not in off or off.issuperset(part.after) for part in found.vehicle.parts)


@given(content=st.binary(max_size=200))
def test_any_bytes_are_faults(folder: Path, content: bytes) -> None:
    assert isinstance(outcome(folder, content), InputError)


@given(text=st.text(max_size=200))
def test_any_text_after_a_good_head_is_a_job_or_faults(folder: Path, text: str) -> None:
    outcome(folder, b'schema = "loadplan-job-1"\nunits = "us"\n' + text.encode("utf-8", "replace"))
