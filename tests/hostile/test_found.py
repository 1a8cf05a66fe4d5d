"""What once broke something, and what the fuzzer starts from: each is answered or refused."""

from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.hostile.corpus import CALLS, FOUND, changed, corpus
from tests.hostile.targets import TARGETS, Bench, answer, answers, command_line, quantity, readings, shop, vehicle

READERS = (
    *("job", "vehicle", "shop", "readings", "record", "photograph", "answers", "answer", "interview", "quantity"),
    "request",
)


@pytest.fixture(scope="module")
def bench() -> Iterator[Bench]:
    with TemporaryDirectory() as name:
        yield Bench(Path(name))


FOUND_INPUTS = sorted(FOUND.glob("*/*"))


@pytest.mark.parametrize("path", FOUND_INPUTS, ids=[f"{path.parent.name}-{path.name}" for path in FOUND_INPUTS])
def test_what_once_broke_something_no_longer_does(bench: Bench, path: Path) -> None:
    TARGETS[path.parent.name](bench, path.read_bytes())


@pytest.mark.slow
@pytest.mark.parametrize("target", READERS)
def test_what_the_fuzzer_starts_from_is_taken(bench: Bench, target: str) -> None:
    for content in corpus(target):
        TARGETS[target](bench, content)


@pytest.mark.parametrize("target", ["shop", "readings", "vehicle", "answers"])
@examples(60)
@given(seed=st.integers(0, 2**32))
def test_a_changed_file_is_answered_or_refused(bench: Bench, target: str, seed: int) -> None:
    start = next(corpus(target))
    content = changed(start, seed, 40_000)
    if content is not None:
        {"shop": shop, "readings": readings, "vehicle": vehicle, "answers": answers}[target](bench, content)


@examples(200)
@given(content=st.binary(max_size=80))
def test_any_bytes_are_an_answer_or_none(bench: Bench, content: bytes) -> None:
    answer(bench, content)
    quantity(bench, content)


WORDS = st.one_of(
    st.sampled_from(sorted({word for call in CALLS for word in call.split("\n")} - {"lesson", "demo", "place"})),
    st.text(max_size=12).filter(lambda text: "/" not in text and "\n" not in text),
)


@examples(60)
@given(words=st.lists(WORDS, min_size=1, max_size=6))
def test_any_command_line_ends_with_an_exit_code_that_means_something(bench: Bench, words: list[str]) -> None:
    command_line(bench, "\n".join(words).encode("utf-8", "replace"))
