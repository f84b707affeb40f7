"""One water, many readings: how far apart they lie, and what that says of a single one."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, median, stdev

from aquacalc.errors import InputError, Problem

LEAST, MOST = 2, 60
SHARE_BOTH_SIDES = 0.975
"""Of the t distribution: 95 % lie between both sides."""


@dataclass(frozen=True)
class Spread:
    """How readings of one water lie. low, high: the ends; half_width: of the 95 % span of the mean."""

    values: tuple[float, ...]
    low: float
    middle: float
    high: float
    mean: float
    deviation: float
    half_width: float


def spread(values: Sequence[float]) -> Spread:
    """The spread of at least two readings.

    The span of the mean is that of Student's t, by definition; it says how well the groups together know the
    water, not how well a single test does.

    Raises `InputError` for fewer than two, or for more than a class has.

    >>> found = spread([66.0, 70.0, 62.0])
    >>> found.middle, found.mean, round(found.half_width, 1)
    (66.0, 66.0, 9.9)
    """
    from scipy.special import stdtrit

    if not LEAST <= len(values) <= MOST:
        raise InputError(Problem("problem-readings-count", "", str(len(values)), (str(LEAST), str(MOST))))
    deviation = stdev(values)
    half = float(stdtrit(len(values) - 1, SHARE_BOTH_SIDES)) * deviation / len(values) ** 0.5
    return Spread(tuple(values), min(values), median(values), max(values), fmean(values), deviation, half)
