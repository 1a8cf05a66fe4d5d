"""What it costs that the weights are not known better."""

from loadplan.model.verdict import Assessment, Measure
from loadplan.report.words.columns import WIDTH, indented
from loadplan.report.words.number_format import ruler_of
from loadplan.report.words.vocabulary import Reader


def unknown_lines(assessment: Assessment, reader: Reader) -> list[str]:
    """Tell what to weigh to win back margin where there is least of it.

    Args:
        assessment: The job, judged.
        reader: Who reads it.

    Returns:
        Lines; none where nothing that could be told would be won.
    """
    narrowest = assessment.narrowest
    if narrowest is None:
        return []
    ruler = ruler_of(Measure.LENGTH, reader.units)
    told = [each for each in narrowest.unknowns if ruler.round(each.gain) > 0]
    if not told:
        return []
    left = reader.length(abs(narrowest.worst_margin))
    where = f"the {narrowest.body} in step {narrowest.stage + 1}"
    how = f"{left} to tipping in the worst case" if narrowest.worst_margin > 0 else f"{left} past the edge at worst"
    heading = f"What is not known costs most at {where}, {how}:"
    lines = [
        f"Weighing the {each.part or f'whole {each.body} again, more exactly,'} would win back "
        f"{reader.length(each.gain)}."
        for each in told
    ]
    return [
        *indented("", reader.words(heading), WIDTH),
        *(line for text in lines for line in indented("  - ", reader.words(text), WIDTH)),
    ]
