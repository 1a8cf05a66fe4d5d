"""The bench trial on pages: what to set up, what the scales should say, and how to reckon with other weights."""

from math import ceil

from loadplan.limits import GRAVITY
from loadplan.planning.lesson.lesson_unit import NOTHING
from loadplan.planning.lesson.scale_trial import BRICK, LONG, TRAY, WIDE, ScaleTrial
from loadplan.report.lesson.lesson_pictures import PictureSide, PlanPicture, Shown, Spot
from loadplan.report.lesson.slide import Slide
from loadplan.report.words.vocabulary import Reader
from loadplan.units import Kind, System, from_si

HEADING = "By hand: a tray, four blocks, a brick"


def bench_pages(bench: ScaleTrial, reader: Reader) -> tuple[Slide, Slide, Slide]:
    """Put the bench trial on pages.

    Args:
        bench: What the statics expect.
        reader: Who reads it.

    Returns:
        A page that asks, one that answers, and one for other weights.
    """
    return _setting(bench, reader), _expected(bench, reader), _own(bench)


def small(kilograms: float, units: System) -> str:
    """Write a mass as kitchen scales show it: to 10 g, or to 0.02 lb.

    Args:
        kilograms: Mass [kg].
        units: The reader's units.

    Returns:
        Number and unit.

    Example:
        >>> small(0.9, System.METRIC), small(0.9, System.US)
        ('0.90 kg', '1.98 lb')
    """
    unit = "kg" if units is System.METRIC else "lb"
    return f"{from_si(kilograms, Kind.MASS, units):.2f} {unit}"


def _setting(bench: ScaleTrial, reader: Reader) -> Slide:
    """Return the page that asks: how to set up, and where the brick goes."""
    spots = tuple(Spot(trial.at, trial.spot) for trial in bench.trials)
    last = bench.trials[-1]
    along, across = LONG / 2 - abs(last.at[0]), WIDE / 2 - abs(last.at[1])
    lines = (
        f"Blocks {reader.length(LONG)} by {reader.length(WIDE)} apart, a kitchen scale under each, all four alike. "
        f"Tray {small(TRAY, reader.units)}, brick {small(BRICK, reader.units)}.",
        f"1 is the middle, 2 is {reader.length(abs(bench.trials[1].at[0]))} behind it, 3 is {reader.length(along)} "
        f"ahead of D and {reader.length(across)} to its left.",
        "Write down first what each scale will show.",
    )
    seen = PlanPicture(bench.trials[0].shot, Shown.UNIT, PictureSide.QUESTION, "", spots)
    return Slide("by-hand-question", HEADING, "", None, lines, (), seen)


def _expected(bench: ScaleTrial, reader: Reader) -> Slide:
    """Return the page that answers: what each scale should show."""
    names = tuple(name for name, _ in bench.trials[0].loads)
    rows = (
        ("brick", *names),
        *((trial.spot, *(small(load / GRAVITY, reader.units) for _, load in trial.loads)) for trial in bench.trials),
    )
    idle = next(name for name, load in bench.trials[-1].loads if load < NOTHING)
    lines = (
        f"3: {idle} carries nothing, and all is still {reader.length(bench.trials[-1].inside)} from tipping.",
        f"Brick at 1 and a card under A: A and D carry more, up to {small(bench.pair / GRAVITY, reader.units)} each.",
        f"Slide the brick out over the line AC: with its middle {reader.length(bench.overhang)} outside, all goes. "
        "One hand under the tray.",
    )
    return Slide("by-hand-answer", HEADING, "The scales should show:", None, lines, rows, None)


def _own(bench: ScaleTrial) -> Slide:
    """Return the page for other weights: of each block its share of the tray's and of the brick's weight."""
    names = tuple(name for name, _ in bench.trials[0].loads)
    rows = (
        ("% of", *names),
        *(
            (f"{what}, {trial.spot}", *(f"{share[which]:.0%}".replace("%", " %") for share in shares))
            for trial, shares in zip(bench.trials, bench.own, strict=True)
            for which, what in enumerate(("tray", "brick"))
        ),
    )
    least = f"{ceil(bench.least * 10) / 10:.1f}"
    lines = (f"Row 3 holds for a brick of {least} times the tray and more. Same distances, scales alike.",)
    strong = "Your own tray and brick: weigh both, take these shares, add them up."
    return Slide("by-hand-your-own", HEADING, strong, None, lines, rows, None)
