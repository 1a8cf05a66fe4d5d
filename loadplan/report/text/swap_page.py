"""How a stand is swapped while a unit stands on it, for people and for machines."""

from dataclasses import replace
from math import inf, isfinite

from loadplan.checks.cure import hands_off
from loadplan.model.verdict import CheckName, StageAssessment, Verdict
from loadplan.model.weight_basis import poorest_basis
from loadplan.planning.mending.stand_swap import StandSwap, SwapStep
from loadplan.report.json_output import MM, Plain
from loadplan.report.words.cautions import caution_lines
from loadplan.report.words.columns import WIDTH, indented, wrap
from loadplan.report.words.vocabulary import Reader, basis_words, first_lift, reader_of, shown_verdict
from loadplan.units import System

NO_WAY = (
    "No way was found. It wants a jack or a stand that turns, free in the shop, that reaches a free place of the same "
    "assembly and takes the load there; and whatever is left has to stand once the helper is gone. Take the weight "
    "back by lift or hoist first."
)

NOT_CLEAN = "Not every state on the way holds, and no other piece at any other place does better: read it twice."

STOP_AFTER_EACH = "Stop after each of these, look at every saddle, then go on:"


IS_STOP = (
    "Do not do it like this: it is a stop on the way, or in a step behind it. Take the weight back by lift or hoist "
    "first. What it would come to, step by step:"
)


def swap_dict(swap: StandSwap, units: System) -> dict[str, Plain]:
    """Turn a swap into the machine output.

    Args:
        swap: The swap.
        units: Units of `says`.

    Returns:
        The steps with the verdict of the state after each; a margin that is not defined is null.
    """
    reader = reader_of(swap.job, units)
    return {
        "schema": "loadplan-swap-1",
        "steps": [
            {
                "says": reader.sentence(each.says),
                "verdict": each.verdict.words,
                "worst_margin_mm": each.worst_margin / MM if isfinite(each.worst_margin) else None,
            }
            for each in swap.steps
        ],
        "verdict": swap.verdict.words,
    }


def swap_page(swap: StandSwap, units: System) -> str:
    """Write a swap for people.

    Args:
        swap: The swap.
        units: The reader's units.

    Returns:
        Lines of at most 100 characters, ending in a line end.
    """
    reader = reader_of(swap.job, units)
    basis = poorest_basis(swap.job)
    lines = wrap(reader.words(f"{swap.job.title}. Step: {swap.stage}. Stand: {swap.stand}"), WIDTH)
    # Without a way there is nothing to judge: that is no verdict on the plan.
    verdict = f"{shown_verdict(swap.verdict, basis)}; weights" if swap.steps else "Weights"
    lines += ["", f"{verdict}: {basis_words(basis)}.", first_lift(reader.units), ""]
    lines += wrap(NO_WAY, WIDTH) if not swap.steps else _steps(swap, reader)
    return "\n".join([*lines, *caution_lines(basis, units)]) + "\n"


def _steps(swap: StandSwap, reader: Reader) -> list[str]:
    """Return the steps, each with what its state comes to, and what still cautions.

    Steps that lead to a stop are told to show what is in the way, not to be followed.
    """
    lines = wrap(lead(swap), WIDTH)
    for number, (step, stage) in enumerate(zip(swap.steps, swap.stages, strict=True), 1):
        lines += indented(f"  {number}. ", reader.sentence(step.says), WIDTH)
        lines += indented("     ", f"Then: {state_after(step, reader)}", WIDTH)
        lines += [line for text in still_cautioned(swap, stage, reader) for line in indented("     ", text, WIDTH)]
    if not swap.clean:
        lines += ["", *wrap(NOT_CLEAN, WIDTH)]
    return lines


def lead(swap: StandSwap) -> str:
    """Tell what the steps are to be taken for.

    Args:
        swap: The swap.

    Returns:
        A text to stand over them: how they are done, or that they are not to be.
    """
    return IS_STOP if swap.verdict is Verdict.STOP else STOP_AFTER_EACH


def state_after(step: SwapStep, reader: Reader) -> str:
    """Tell what the state after a step comes to.

    Args:
        step: The step.
        reader: Who reads it.

    Returns:
        Its verdict, and how far it is from tipping.
    """
    if step.worst_margin == -inf:
        return f"{step.verdict.name}, it goes over."
    if step.worst_margin == inf:
        return f"{step.verdict.words}, nothing can tip."
    far = f"{reader.length(step.worst_margin)} to tipping, worst case"
    return f"{step.verdict.words}, {far}."


def still_cautioned(swap: StandSwap, stage: StageAssessment, reader: Reader) -> list[str]:
    """Tell what stops or cautions in a state.

    To take the weight back first would gainsay the steps, which are there so that nobody has to: what takes part is
    moved as they say, and every other stand stays as it is. Where they lead to a stop they are not to be done, and
    what each finding says of the weight stays.

    Args:
        swap: The swap.
        stage: The state, judged.
        reader: Who reads it.

    Returns:
        A sentence each.
    """
    others = [each.name for each in swap.job.supports if each.name not in swap.moving]
    instead = {hands_off(name): "" for name in swap.moving}
    instead |= {hands_off(name): f" Leave {name} as it is, and go on step by step." for name in others}
    instead[hands_off("the stands")] = " Leave the stands as they are, and go on step by step."
    if swap.verdict is Verdict.STOP:
        instead = {}
    told = []
    for each in stage.findings:
        if each.verdict < Verdict.CAUTION:
            continue
        says = tuple(instead.get(said, said) if isinstance(said, str) else said for said in each.says)
        if each.check is CheckName.IDLE_SUPPORT and each.subject in swap.moving:
            says = (f"{each.subject} carries nothing, as it has to in this step.",)
        told.append(f"{each.verdict.name} {reader.words(each.check)}: {reader.finding(replace(each, says=says))}")
    return told
