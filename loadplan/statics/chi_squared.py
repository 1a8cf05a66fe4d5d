"""Chi-squared: how likely a sum of squared deviations is, if every reading is as good as it says."""

from scipy.special import chdtrc

LEVEL = 0.05
"""Readings agree unless chance alone would make them differ as much in fewer cases than this."""


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
    return float(chdtrc(freedom, max(squares, 0.0)))
