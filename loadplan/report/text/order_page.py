"""The order of taking parts off, for people and for machines."""

from math import inf, isinf

from loadplan.model.job import Job
from loadplan.model.weight_basis import poorest_basis
from loadplan.planning.settings.removal_order import OrderPlan, Step
from loadplan.report.json_output import MM, Plain
from loadplan.report.words.cautions import caution_lines
from loadplan.report.words.columns import WIDTH, Align, Column, table, wrap
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.units import System

MANUAL = "Where the repair manual says an order, it goes before this one."


def order_dict(plan: OrderPlan) -> dict[str, Plain]:
    """Turn an order into the machine output.

    Args:
        plan: The order.

    Returns:
        An object of mm; null for a margin that is not defined.
    """
    return {
        "schema": "loadplan-order-1",
        "proven_best": plan.proven,
        "steps": [
            {"part": step.part, "worst_margin_mm": None if step.worst_margin is None else step.worst_margin / MM}
            for step in plan.steps
        ],
    }


def order_page(job: Job, plan: OrderPlan, units: System) -> str:
    """Write an order for people.

    Args:
        job: The job.
        plan: The order.
        units: The reader's units.

    Returns:
        Lines of at most 100 characters, ending in a line end.
    """
    reader = reader_of(job, units)
    columns = (
        Column("", tuple(str(number) for number, _ in enumerate(plan.steps, 1)), Align.RIGHT),
        Column("take off", tuple(reader.words(step.part) for step in plan.steps), Align.LEFT),
        Column("then to tipping, worst case", tuple(_margin(step, reader) for step in plan.steps), Align.RIGHT),
    )
    told = [_narrowest(plan, reader), _proof(plan, reader), MANUAL]
    lines = [*wrap(reader.words(f"{job.title}. Step: {plan.stage}"), WIDTH), "", *table(columns, WIDTH), ""]
    lines += [line for text in told for line in wrap(text, WIDTH)]
    return "\n".join([*lines, *caution_lines(poorest_basis(job), units)]) + "\n"


def _margin(step: Step, reader: Reader) -> str:
    if step.worst_margin is None:
        return "nothing can tip" if step.balanced else "IT TIPS"
    if step.worst_margin <= 0:
        return f"MAY TIP: {reader.length(-step.worst_margin)} past the edge"
    return reader.length(step.worst_margin)


def _narrowest(plan: OrderPlan, reader: Reader) -> str:
    """Return how near to tipping it comes on the way."""
    if plan.narrowest == -inf:
        return "STOP: whatever the order, something tips on the way. Plan another stand, or take less off."
    if plan.narrowest <= 0:
        return "STOP: something may tip on the way, with the weights at the edge of their tolerance."
    if plan.narrowest == inf:
        return "Nothing can tip in any order."
    return f"On the way it is never less than {reader.length(plan.narrowest)}."


def _proof(plan: OrderPlan, reader: Reader) -> str:
    if plan.proven:
        return "No other order keeps more than that."
    if isinf(plan.ceiling):
        return "NOT PROVEN: there are too many parts to look at every order. Another order may keep more."
    more = reader.length(plan.ceiling)
    return f"NOT PROVEN: there are too many parts to look at every order. None can keep more than {more}."
