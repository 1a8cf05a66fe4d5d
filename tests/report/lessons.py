"""The lessons of the demo jobs, each planned once."""

from functools import cache
from typing import TypeVar

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.report.lesson.lesson_plan import Lesson, plan_lesson

Asked = TypeVar("Asked")


@cache
def lesson(name: str) -> Lesson:
    return plan_lesson(assess(read_job(shipped_folder("demo") / f"{name}.toml")))


def question(name: str, kind: type[Asked]) -> Asked:
    """The one question of a kind that a demo job asks."""
    found = [each for each in lesson(name).answers if isinstance(each, kind)]
    assert len(found) == 1, [type(each).__name__ for each in lesson(name).answers]
    return found[0]
