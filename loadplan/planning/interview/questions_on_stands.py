"""What is asked for a first job about what the unit stands on: its ties, the stands, a prop, and the work."""

from collections.abc import Iterator, Sequence

from loadplan.planning.interview.answer_parsing import Ask, Known, Question
from loadplan.planning.interview.questions_on_vehicle import REACH
from loadplan.planning.interview.typical_weights import LUMPS


def tie_questions(known: Known) -> Iterator[Question]:
    """Ask where mounts and links are.

    Args:
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    links = Question(
        "links",
        "How many mounts or links tie engine and gearbox to the subframe?",
        Ask.WHOLE,
        "They stay tight.",
        "1",
        least=0,
        most=4,
    )
    yield links
    yield from _places(known, links, "link", "Link {} to the subframe: where is it?")
    mounts = Question(
        "mounts",
        "How many mounts tie engine and gearbox to the vehicle?",
        Ask.WHOLE,
        "They come off, with the bolts of the subframe.",
        "2",
        least=0,
        most=4,
    )
    yield mounts
    yield from _places(known, mounts, "mount", "Mount {} to the vehicle: where is it?")


def stand_questions(known: Known) -> Iterator[Question]:
    """Ask which stands there are, and where each of them goes.

    Args:
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    kinds = Question("kinds", "How many kinds of stands do you use?", Ask.WHOLE, "", "1", least=1, most=3)
    yield kinds
    many = known(kinds)
    names = tuple(str(number) for number in range(1, (many if isinstance(many, int) else 1) + 1))
    for name in names:
        yield from _kind(known, f"kind{name}", f"Stands of kind {name}" if len(names) > 1 else "These stands")
    stands = Question("stands", "How many stands go under the unit?", Ask.WHOLE, "", "6", least=3, most=12)
    yield stands
    count = known(stands)
    for letter in stand_letters(count if isinstance(count, int) else 6):
        if len(names) > 1:
            yield Question(f"stand{letter}.kind", f"Stand {letter}: which kind?", Ask.CHOICE, "", names[0], names)
        yield Question(f"stand{letter}.under", f"Stand {letter}: under what?", Ask.CHOICE, "", None, tuple(LUMPS))
        yield _place(f"stand{letter}.place", f"Stand {letter}: where does its saddle touch?")


def stand_letters(count: int) -> Sequence[str]:
    """Return the letters of some stands."""
    return "ABCDEFGHIJKL"[:count]


def prop_questions(known: Known) -> Iterator[Question]:
    """Ask about a stand for under the tail.

    Args:
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    prop = Question("prop", "Do you have a stand for under the tail? The nose grows light.", Ask.YES_NO, "", "yes")
    yield prop
    if known(prop):
        yield Question("prop.rating", "What may that one carry?", Ask.LOAD, "One of it.", least=500.0, most=5e5)
        yield from _range(known, "prop")
        yield _place("prop.place", "Where does it touch the vehicle?", 6.0)


def work_questions() -> Iterator[Question]:
    """Ask how the unit is worked on.

    Yields:
        The questions in their order.
    """
    yield Question("bar", "Do you pull hard on a long bar while the unit stands there?", Ask.YES_NO, "", "no")


def _places(known: Known, many: Question, key: str, asks: str) -> Iterator[Question]:
    count = known(many)
    for number in range(1, (count if isinstance(count, int) else 0) + 1):
        yield _place(f"{key}{number}.place", asks.format(number))


def _place(key: str, asks: str, reach: float = REACH) -> Question:
    hint = "From the axle line, the centre line and the lift pads, such as 330 front, 420 left, 60 below."
    return Question(key, asks, Ask.PLACE, hint, least=-reach, most=reach)


def _kind(known: Known, key: str, called: str) -> Iterator[Question]:
    """Yield what is asked about one kind of stand; its rating first, without which nothing can be judged."""
    yield Question(
        f"{key}.rating", f"{called}: what is marked on them?", Ask.LOAD, "Their rating.", least=500.0, most=5e5
    )
    yield Question(
        f"{key}.for",
        "Is that for a pair or for each?",
        Ask.CHOICE,
        "Not known: half is taken.",
        "not known",
        ("pair", "each", "not known"),
    )
    yield from _range(known, key)
    yield Question(
        f"{key}.step",
        "How far is it from one setting to the next?",
        Ask.LENGTH,
        "Empty: any height (screw).",
        "",
        least=0.002,
        most=0.3,
    )
    yield Question(
        f"{key}.base",
        "How wide is the foot?",
        Ask.LENGTH,
        "Empty: not known, and not checked.",
        "",
        least=0.03,
        most=2.0,
    )
    yield Question(f"{key}.count", "How many of them do you have?", Ask.WHOLE, "", least=1, most=999)


def _range(known: Known, key: str) -> Iterator[Question]:
    lowest = Question(f"{key}.lowest", "The lowest saddle height?", Ask.LENGTH, "", least=0.02, most=2.5)
    yield lowest
    bound = known(lowest)
    yield Question(
        f"{key}.highest", "The greatest?", Ask.LENGTH, "", least=bound if isinstance(bound, float) else 0.02, most=3.0
    )
