"""What was forgotten in a job, for people: what is known of it, and the lines that go into the vehicle's file."""

from loadplan.model.forgotten_tie import ForgottenTie
from loadplan.report.words.columns import WIDTH, indented, wrap
from loadplan.report.words.record_words import tie_place_words
from loadplan.report.words.vocabulary import Reader

NOTHING = "Nothing was still on that the vehicle's file does not list: there is nothing to add."
NO_PLACE = "where it is, nobody said yet: give --place {}=ASSEMBLY,FRONT,LEFT or say it at the bay"
HEIGHT = "its height is taken from what it hangs by"


def forgotten_page(forgotten: tuple[ForgottenTie, ...], lines: str, goes_into: str, reader: Reader) -> str:
    """Write what was forgotten for people.

    Args:
        forgotten: What was.
        lines: What goes into the file, as it is to stand there.
        goes_into: Where they go, in a sentence.
        reader: Who reads it.

    Returns:
        Lines ending in a line end.
    """
    if not forgotten:
        return f"{NOTHING}\n"
    told = ["Still on in the last job, and not in the vehicle's file:"]
    for number, each in enumerate(forgotten, start=1):
        where = tie_place_words(each.place, reader) if each.place else NO_PLACE.format(number)
        height = f"; {HEIGHT}" if each.assumed_height else ""
        said = f"{reader.words(each.words)} (step {reader.words(each.step)}): {where}{height}"
        told += indented(f"{number}  ", said, WIDTH)
    if not lines:
        return "\n".join(told) + "\n"
    return "\n".join([*told, "", *wrap(goes_into, WIDTH), "", lines])
