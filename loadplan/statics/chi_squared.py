"""Chance: how likely a sum of squared deviations is, if every reading is as good as it says."""

from math import erfc, exp, lgamma, log, sqrt


def chance_of_more(squares: float, freedom: int) -> float:
    """Return the chance that chi-squared is larger than a value.

    A finite sum in whole or half powers, exact for whole degrees of freedom (Abramowitz and Stegun 1964,
    26.4.4 and 26.4.5).

    Args:
        squares: Sum of squared deviations, each over its standard deviation; 0 or more.
        freedom: Degrees of freedom, 1 or more.

    Returns:
        Share of all cases.

    Example:
        >>> round(chance_of_more(3.841459, 1), 6), round(chance_of_more(18.307038, 10), 6)
        (0.05, 0.05)
    """
    half = squares / 2
    if half <= 0:
        return 1.0
    first = 1 if freedom % 2 == 0 else 1.5
    begins = 0.0 if freedom % 2 == 0 else erfc(sqrt(half))
    powers = [first - 1 + number for number in range(freedom // 2)]
    return begins + sum(exp(power * log(half) - half - lgamma(power + 1)) for power in powers)
