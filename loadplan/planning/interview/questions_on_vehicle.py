"""What is asked for a first job about the vehicle: its unit by lumps, what it weighs, and its lift."""

from collections.abc import Iterator

from loadplan.planning.interview.answer_parsing import Ask, Known, Question
from loadplan.planning.interview.typical_weights import BARE_ENGINES, GEARBOXES, LUMPS, SOURCES, lump_mass

THINNEST = 0.02
"""Least length, width and height of a lump [m]."""

REACH = 2.5
"""Farthest that anything of the front unit is from axle line, centre line or pads [m]."""


def head_questions(known: Known) -> Iterator[Question]:
    """Ask about the job as a whole, and how high the lift pads are, from which all heights are measured.

    Args:
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    yield Question(
        "units",
        "Units of numbers that you write without a unit?",
        Ask.CHOICE,
        "metric: mm and kg; us: in and lb. A number with its unit is taken in any.",
        "metric",
        ("metric", "us"),
    )
    yield Question("title", "What is the job?", Ask.WORDS, "One line; it stands on top of every report.")
    yield Question("vehicle", "What do you call the vehicle?", Ask.WORDS, "One line.")
    yield Question("date", "On which day?", Ask.DAY, "Such as 2026-11-20. Empty: always today.", "")
    if known(Question("date", "", Ask.DAY, "", "")):
        yield Question("until", "Until which day do you need the stands?", Ask.DAY, "Empty: not said.", "")
    yield Question(
        "pads.height",
        "With the vehicle on its wheels: how high above the floor are the places where the lift pads go?",
        Ask.LENGTH,
        "By tape. All other heights are measured from these places, the vehicle where you like.",
        "200 mm",
        least=0.05,
        most=1.0,
    )


def lump_questions(known: Known) -> Iterator[Question]:
    """Ask what each lump of the unit weighs, and where its edges are.

    Args:
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    for lump, called in LUMPS.items():
        weight = Question(
            f"{lump}.weight",
            f"What does the {called} weigh?",
            Ask.MASS,
            "Empty: a range for its kind is taken, as a guess.",
            "",
            least=3.0,
            most=1500.0,
        )
        yield weight
        if known(weight) is not None:
            yield Question(
                f"{lump}.source",
                "Where is that from?",
                Ask.CHOICE,
                "scales counts 2 % either way, a data sheet 10 %, a guess 20 %.",
                "guess",
                SOURCES,
            )
        elif lump != "subframe":
            kinds = tuple(BARE_ENGINES if lump == "engine" else GEARBOXES)
            yield Question(f"{lump}.kind", f"Which kind of {lump} is it?", Ask.CHOICE, "", None, kinds)
        yield from _edges(known, lump)


def weight_questions(known: Known, own: str, shipped: tuple[str, ...]) -> Iterator[Question]:
    """Ask what the whole vehicle weighs, or which other one stands in for it.

    Args:
        known: Value of each question so far.
        own: Answer that means that its weight is known.
        shipped: Names of the vehicles that ship.

    Yields:
        The questions in their order.
    """
    shell = Question(
        "shell",
        "Do you know what the vehicle weighs, or shall one that ships stand in for it?",
        Ask.CHOICE,
        f"{own}: you know it. Those that ship are invented: with one of them every report is for practice only.",
        own,
        (own, *shipped),
    )
    yield shell
    if known(shell) == own:
        lumps = {each.key: known(each) for each in lump_questions(known)}
        unit = sum(lump_mass(lump, lumps)[0] for lump in LUMPS)
        yield Question(
            "weight",
            "What does the whole vehicle weigh, with everything on?",
            Ask.MASS,
            "From a scale or its papers.",
            least=1.5 * unit,
            most=10_000.0,
        )
        yield Question(
            "share",
            "How much of that is on the front axle?",
            Ask.SHARE,
            "In per cent. Empty: 60 %.",
            "60 %",
            least=0.3,
            most=0.8,
        )
        yield Question(
            "wheelbase", "How far is the rear axle behind the front axle?", Ask.LENGTH, "", least=1.5, most=6.0
        )


def lift_questions(known: Known) -> Iterator[Question]:
    """Ask about the lift: where its pads go, and what it may lift.

    Args:
        known: Value of each question so far.

    Yields:
        The questions in their order.
    """
    front = Question(
        "pads.front",
        "The front lift pads: how far from the axle line?",
        Ask.ALONG,
        "Say front or behind.",
        least=-3.0,
        most=2.0,
    )
    yield front
    bound = known(front)
    most = (bound if isinstance(bound, float) else 2.0) - 0.3
    yield Question(
        "pads.rear", "The rear lift pads?", Ask.ALONG, "They lie behind the front ones.", least=-6.0, most=most
    )
    yield Question(
        "pads.out",
        "How far are the pads from the centre line, to either side?",
        Ask.LENGTH,
        "",
        "700 mm",
        least=0.2,
        most=1.5,
    )
    yield Question("lift.rating", "What is the lift rated for?", Ask.LOAD, "What its plate says.", least=5e3, most=2e5)
    yield Question(
        "lift.rise",
        "How high do its pads go?",
        Ask.LENGTH,
        "Empty: not known, and not checked.",
        "",
        least=0.5,
        most=4.0,
    )
    yield Question("lift.locks", "Can it be set down on mechanical locks?", Ask.YES_NO, "", "yes")


def _edges(known: Known, lump: str) -> Iterator[Question]:
    """Yield the six edges of a lump in pairs; the second of each has to lie beyond the first, as its bounds say."""
    pairs = ((Ask.ALONG, "front", "rear"), (Ask.ACROSS, "left", "right"), (Ask.UP, "top", "bottom"))
    from_where = {
        Ask.ALONG: "from the axle line, say front or behind",
        Ask.ACROSS: "from the centre line, say left or right as you sit in the vehicle",
        Ask.UP: "from the lift pads, say above or below",
    }
    for ask, first, second in pairs:
        upper = Question(
            f"{lump}.{first}",
            f"The {lump}'s {first} edge: how far {from_where[ask]}?",
            ask,
            "By tape.",
            least=-REACH + THINNEST,
            most=REACH,
        )
        yield upper
        bound = known(upper)
        most = (bound if isinstance(bound, float) else REACH) - THINNEST
        yield Question(
            f"{lump}.{second}",
            f"The {lump}'s {second} edge?",
            ask,
            f"It has to lie beyond the {first} edge.",
            least=-REACH,
            most=most,
        )
