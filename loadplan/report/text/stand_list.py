"""The table of a job's stands: where each goes, how high, and the most that it carries over all steps."""

from loadplan.checks.phrases import names
from loadplan.model.job import Support
from loadplan.model.verdict import Assessment
from loadplan.report.text.key_figures import most_loaded, rated_loads, share_words
from loadplan.report.words.columns import INDENT, WIDTH, Align, Column, cut, indented, table
from loadplan.report.words.stage_tables import NONE
from loadplan.report.words.tape_words import across_words, along_words, height_words, setting
from loadplan.report.words.top_findings import steps_words
from loadplan.report.words.vocabulary import Reader

ON_LINE = "on the line"
"""Of a saddle whose middle is over a chalk line, in the column of that line."""


def stand_lines(assessment: Assessment, reader: Reader, longest: int) -> list[str]:
    """Lay out the table of a job's stands, with the arms of the lift in a line below it.

    Args:
        assessment: The job, judged.
        reader: Who reads it.
        longest: Most characters of a kind of equipment; what is longer is cut, its tag stays.

    Returns:
        Lines of at most 100 characters.
    """
    stands = assessment.job.supports
    below = [
        *_not_on_the_floor(assessment, reader),
        *_pads(assessment, reader),
        *_set_anew(assessment, reader),
        *_unknown(assessment),
    ]
    return [
        *(_table(assessment, reader, longest) if stands else [f"{INDENT}No stands: nothing but the lift."]),
        *(line for text in below for line in indented(INDENT, text, WIDTH)),
    ]


def _table(assessment: Assessment, reader: Reader, longest: int) -> list[str]:
    """Return the table, in the job's order."""
    stands = assessment.job.supports
    columns = (
        Column("stand", tuple(reader.words(each.name) for each in stands), Align.LEFT),
        Column("equipment, tag", tuple(_equipment(each, reader, longest) for each in stands), Align.LEFT),
        Column("tape from axle line", tuple(_along(each, reader) for each in stands), Align.LEFT),
        Column("tape from centre line", tuple(_across(each, reader) for each in stands), Align.LEFT),
        Column("set height", tuple(height_words(each, reader) for each in stands), Align.RIGHT),
        Column("shim", tuple(_shim(each, reader) for each in stands), Align.RIGHT),
        Column("most on this floor", tuple(_most(assessment, each, reader) for each in stands), Align.RIGHT),
        Column("% of rating", tuple(_share(assessment, each, reader) for each in stands), Align.RIGHT),
    )
    return [f"{INDENT}{line}" for line in table(columns, WIDTH - len(INDENT))]


def _equipment(support: Support, reader: Reader, longest: int) -> str:
    """Return what stands there, cut where it is too long, and its tag."""
    tag = f", {reader.words(support.tag)}" if support.tag else ""
    return cut(reader.words(support.equipment.name), longest) + tag


def _along(support: Support, reader: Reader) -> str:
    """Return how far the middle of a saddle is from the axle line, which its column names."""
    told = along_words(support.at[0], reader)
    return ON_LINE if told.startswith("on ") else told


def _across(support: Support, reader: Reader) -> str:
    """Return how far the middle of a saddle is from the centre line, which its column names."""
    told = across_words(support.at[1], reader)
    return ON_LINE if told.startswith("on ") else told


def _not_on_the_floor(assessment: Assessment, reader: Reader) -> list[str]:
    """Return which stands stand on an assembly, or hang from it."""
    bodies = dict.fromkeys(each.on for each in assessment.job.supports if each.on)
    return [
        reader.words(f"On the {body}, not on the floor: {names(those)}.")
        for body in bodies
        if (those := [each.name for each in assessment.job.supports if each.on == body])
    ]


def _shim(support: Support, reader: Reader) -> str:
    return setting(support.shim.height, reader.units) if support.shim else NONE


def _most(assessment: Assessment, support: Support, reader: Reader) -> str:
    """Return the most that a support carries on this floor in any step that is judged, and in which that is known."""
    judged = [stage for stage in assessment.stages if not stage.state.stage.moved]
    loads = [load.at_most for stage in judged if (load := stage.statics.load(support.name))]
    told = reader.load(max(loads)) if loads else NONE
    return "nothing" if told.startswith("0 ") else told


def _share(assessment: Assessment, support: Support, reader: Reader) -> str:
    """Return the most that its piece of equipment carries in any step, in percent of the rating."""
    piece = support.piece or support.name
    shares = [each.share for each in rated_loads(assessment) if each.subject == piece]
    return share_words(max(shares), assessment.job.limits.rating_share, reader) if shares else NONE


def _pads(assessment: Assessment, reader: Reader) -> list[str]:
    """Return what the arm carries that carries most for its rating; none without a lift."""
    use = assessment.job.lift
    if use is None:
        return []
    arms = {each.name for each in use.arms}
    worst = most_loaded([each for each in rated_loads(assessment) if each.subject in arms])
    if worst is None:
        return []
    share = share_words(worst.share, assessment.job.limits.arm_share, reader)
    most = f"most on one pad {reader.load(worst.load)}, {share} of that arm's rating, at {worst.subject}"
    return [reader.words(f"Lift {use.lift.name}: {most}.")]


def _set_anew(assessment: Assessment, reader: Reader) -> list[str]:
    """Return which stands are set to another height in which step."""
    told = [
        f"{each.support} to {setting(each.height, reader.units)} in step {number}"
        for number, stage in enumerate(assessment.job.stages, start=1)
        for each in stage.set_anew
    ]
    return [reader.words(f"Set anew: {names(told)}.")] if told else []


def _unknown(assessment: Assessment) -> list[str]:
    """Return the steps of which no loads are known, since something goes over in them; their share is not in it."""
    lost = [
        stage.state.index
        for stage in assessment.stages
        if not stage.state.stage.moved and any(not group.balanced for group in stage.statics.groups)
    ]
    return [f"Without {steps_words(lost)}, where something goes over: what tips has no loads."] if lost else []
