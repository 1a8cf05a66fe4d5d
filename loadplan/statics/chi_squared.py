"""Chi-squared: how likely a sum of squared deviations is, if every reading is as good as it says.

For whole degrees of freedom n the chance is a finite sum (Abramowitz and Stegun, Handbook of Mathematical Functions,
equations 26.4.4 and 26.4.5): with y half the sum of squares, exp(-y) y^a / Gamma(a + 1) over a = 0, 1, ... below n / 2,
or over a = 1/2, 3/2, ... below n / 2 and erfc(sqrt y) besides where n is odd. No term is below 0, and each is taken by
its logarithm, so none overflows.
"""

from math import erfc, exp, fsum, inf, lgamma, log, sqrt


def chance_of_more(squares: float, freedom: int) -> float:
    """Return the chance that chi-squared is larger than a value.

    Args:
        squares: Sum of squared deviations, each over its standard deviation; 0 or more.
        freedom: Degrees of freedom, 1 or more.

    Returns:
        Share of all cases.

    Example:
        >>> round(chance_of_more(3.841459, 1), 6), round(chance_of_more(18.307038, 10), 6)
        (0.05, 0.05)
    """
    half = max(squares, 0.0) / 2
    if half in {0.0, inf}:
        return float(half == 0)
    odd = freedom % 2
    powers = [number + odd / 2 for number in range(freedom // 2)]
    terms = [exp(power * log(half) - half - lgamma(power + 1)) for power in powers]
    return min(fsum([erfc(sqrt(half)) if odd else 0.0, *terms]), 1.0)
