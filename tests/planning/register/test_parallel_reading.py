"""How many processes read many jobs, and that one does it too where there is no room for more."""

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from multiprocessing.context import BaseContext
from pathlib import Path

import pytest

from loadplan.errors import Fault, InputError
from loadplan.files import read_shop, shipped_folder
from loadplan.planning.register import parallel_reading
from loadplan.planning.register.bookings import Unread
from loadplan.planning.register.parallel_reading import judge_file, side_by_side

SHOP, _ = read_shop(shipped_folder("demo") / "shop.toml")
TODAY = date(2026, 11, 20)


class Pool:
    """In place of processes: does all of it itself, and remembers how many it should have been."""

    asked: list[tuple[int, int]]
    fails: bool

    def __init__(self, many: int, mp_context: BaseContext) -> None:
        assert mp_context.get_start_method() == "spawn"
        self._many = many

    def __enter__(self) -> "Pool":
        return self

    def __exit__(self, *_: object) -> None:
        pass

    def map(self, judge: Callable[[Path], str], paths: Iterable[Path], chunksize: int) -> Iterator[str]:
        if self.fails:
            raise OSError
        self.asked.append((self._many, chunksize))
        return map(judge, paths)


@pytest.fixture
def pool(monkeypatch: pytest.MonkeyPatch) -> type[Pool]:
    Pool.asked, Pool.fails = [], False
    monkeypatch.setattr(parallel_reading, "ProcessPoolExecutor", Pool)
    return Pool


def _names(count: int, processes: int | None = None) -> list[str]:
    return side_by_side(lambda path: path.name, [Path(f"{number}") for number in range(count)], processes)


@pytest.mark.parametrize(
    ("processors", "jobs", "many"),
    [(8, 64, 8), (8, 63, 1), (64, 64, 16), (64, 200, 16), (12, 65, 12), (1, 200, 1), (None, 200, 1), (64, 7, 1)],
)
def test_of_few_jobs_one_process_is_quicker_and_more_than_sixteen_are_never_asked_for(
    processors: int | None, jobs: int, many: int, pool: type[Pool], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("os.cpu_count", lambda: processors)
    assert _names(jobs) == [f"{number}" for number in range(jobs)]
    assert pool.asked == ([(many, 4)] if many > 1 else [])


def test_whoever_asks_for_some_processes_gets_them(pool: type[Pool]) -> None:
    assert _names(2, 3) == ["0", "1"]
    assert pool.asked == [(3, 4)]


def test_where_there_is_no_room_for_processes_one_does_it(pool: type[Pool]) -> None:
    pool.fails = True
    assert _names(3, 2) == ["0", "1", "2"]


def test_a_job_is_judged_on_its_day_with_its_record(monkeypatch: pytest.MonkeyPatch) -> None:
    job, record = object(), object()
    asked: list[object] = []
    monkeypatch.setattr(parallel_reading, "read_job", lambda path, *, today: asked.append((path, today)) or job)
    monkeypatch.setattr(parallel_reading, "record_or_why", lambda path: asked.append(path) or record)
    monkeypatch.setattr(parallel_reading, "enter", lambda *told: told)
    assert judge_file(SHOP, TODAY, Path("a.toml")) == (job, SHOP, record)
    assert asked == [(Path("a.toml"), TODAY), Path("a.toml")]


def test_a_job_that_cannot_be_used_says_why(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object, **__: object) -> None:
        raise InputError(Fault("a.toml", "lift", "use", "is missing"), Fault("a.toml", "", "title", "is missing"))

    monkeypatch.setattr(parallel_reading, "read_job", refused)
    found = judge_file(SHOP, TODAY, Path("a.toml"))
    assert found == Unread("a.toml", ("a.toml, lift, use: is missing", "a.toml, title: is missing"))
