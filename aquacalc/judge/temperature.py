"""Water temperature, by the figures of each species."""

from collections.abc import Sequence

import numpy as np

from aquacalc.constants import Numbers
from aquacalc.fish import species
from aquacalc.judge import lines
from aquacalc.judge.levels import ACT, EMERGENCY, FINE, NOT_KNOWN, WATCH, Level
from aquacalc.judge.lines import Ranks
from aquacalc.tables import Row

BELOW_ZERO_C = 2.0
"""Fish with a lower lethal corner up to here live under ice: for them the cold margin is halved."""


HALF_RATION = 0.5
"""Of the ration, in water above the stress line. Common practice, no source."""


def with_range(fish: Sequence[Row]) -> tuple[Row, ...]:
    """The fish whose range is known; warm or cold alone has none."""
    return tuple(row for row in fish if "t_lethal_low_c" in row.numbers)


def ranks(temperature_c: Numbers, fish: Sequence[Row]) -> Ranks:
    """Ranks of water temperature; NaN, and fish without a range, are not known.

    Fine between the lower feed stop and the upper stress line; above it by up to 2 C `watch`, beyond
    `act today`; below the feed stop `watch`, with no feed; within 2 C of a lethal corner (1 C on the cold
    side where that corner is 2 C or less) `emergency`.
    """
    ranged = with_range(fish)
    if not ranged:
        return np.full(np.shape(temperature_c), NOT_KNOWN)
    return lines.known(lines.most(_ranks(temperature_c, row) for row in ranged), temperature_c)


def _ranks(temperature_c: Numbers, row: Row) -> Ranks:
    above = temperature_c - row.number("t_stress_high_c")
    return np.select(
        [
            (temperature_c <= lowest_c((row,))) | (temperature_c >= highest_c((row,))),
            above > above_stress_k("act today"),
            (above > above_stress_k("watch")) | (temperature_c < row.number("t_feed_stop_low_c")),
        ],
        [EMERGENCY, ACT, WATCH],
        FINE,
    )


def level(temperature_c: float, fish: Sequence[Row]) -> Level:
    """The level of a temperature for some fish."""
    return lines.level_of(ranks(temperature_c, fish))


def above_stress_k(at: Level) -> float:
    """Degrees above a species' upper stress line from which a level begins."""
    return lines.begins_at("temperature_above_stress", at)


def lowest_c(fish: Sequence[Row]) -> float:
    """Temperature at and below which cold is an emergency for some fish."""
    margin = lines.begins_at("temperature_to_lethal", "emergency", above=False)
    corners = (row.number("t_lethal_low_c") for row in fish)
    return max(corner + (margin / 2.0 if corner <= BELOW_ZERO_C else margin) for corner in corners)


def highest_c(fish: Sequence[Row]) -> float:
    """Temperature at and above which heat is an emergency for some fish."""
    margin = lines.begins_at("temperature_to_lethal", "emergency", above=False)
    return min(row.number("t_lethal_high_c") for row in fish) - margin


def stress_c(fish: Sequence[Row]) -> float:
    """Temperature above which some fish is stressed by heat."""
    return min(row.number("t_stress_high_c") for row in fish)


def act_above_c(fish: Sequence[Row]) -> float:
    """Temperature above which heat is acted on today."""
    return stress_c(fish) + above_stress_k("act today")


def no_feed_below_c(fish: Sequence[Row]) -> float:
    """Temperature below which some fish is not fed."""
    return max(row.number("t_feed_stop_low_c") for row in fish)


def no_feed_from_c(fish: Sequence[Row]) -> float:
    """Temperature from which some fish is not fed in the heat."""
    return min(species(row.key).no_feed_from_c for row in fish)


def feed_share(temperature_c: float, fish: Sequence[Row]) -> float:
    """Share of the ration that a temperature leaves: half above the stress line, nothing where feeding ends.

    The strictest of some fish counts; fish without a range, and NaN, hold nothing back. Common practice, no
    source; the corners are those of `data/species.csv`.

    >>> from aquacalc import tables
    >>> trout = (tables.load("species").row("rainbow_trout"),)
    >>> [feed_share(one, trout) for one in (1.0, 12.0, 19.0, 20.5)]
    [0.0, 1.0, 0.5, 0.0]
    """
    ranged = with_range(fish)
    if not ranged:
        return 1.0
    if temperature_c < no_feed_below_c(ranged) or temperature_c >= no_feed_from_c(ranged):
        return 0.0
    return HALF_RATION if is_hot(temperature_c, ranged) else 1.0


def is_hot(temperature_c: float, fish: Sequence[Row]) -> bool:
    """Whether a temperature is above what some fish bears without stress."""
    return any(temperature_c > row.number("t_stress_high_c") for row in with_range(fish))
