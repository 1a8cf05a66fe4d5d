"""The nine questions in the order in which they are asked, a file each: what it computes, says and shows."""

from loadplan.report.lesson.lesson_question import LessonQuestion
from loadplan.report.lesson.questions import (
    bar_pull,
    cg_shift,
    corner_load,
    forgotten_hose,
    four_point_support,
    load_distribution,
    missing_stand,
    single_assembly_support,
    tail_heavy,
)

QUESTIONS: tuple[LessonQuestion, ...] = (
    load_distribution.QUESTION,
    missing_stand.QUESTION,
    single_assembly_support.QUESTION,
    corner_load.QUESTION,
    four_point_support.QUESTION,
    cg_shift.QUESTION,
    bar_pull.QUESTION,
    tail_heavy.QUESTION,
    forgotten_hose.QUESTION,
)
"""All questions; what a job cannot ask is left out."""
