"""The level of a state: oxygen and temperature by the species, shares of a limit, turnover."""

from aquacalc.advice.finding import Level
from aquacalc.tables import Row

NEAR_SHARE = 0.8
"""Share of a limit from which it counts as near. Common practice, no source."""

WATCH_ABOVE_STRESS_C = 2.0
LETHAL_MARGIN_C = 2.0
# A fish that lives under ice dies within a degree of freezing, not at 4 C.
LETHAL_MARGIN_COLD_C = 1.0

TURNOVER_ACT_1_H = 0.5
TURNOVER_WATCH_1_H = 1.0
TURNOVER_HIGH_1_H = 4.0
"""Tank volumes an hour. Common practice, no source; 0.73 an hour was proven in one raft system (read)."""


def of_share(share: float) -> Level:
    """Demand as a share of a limit that it must not exceed.

    >>> [of_share(share) for share in (0.5, 0.9, 1.1)]
    ['fine', 'watch', 'act today']
    """
    return "act today" if share > 1.0 else "watch" if share > NEAR_SHARE else "fine"


def of_temperature(temperature_c: float, species: Row) -> Level:
    """Water temperature for a species (a row of `data/species.csv`).

    Fine between the lower feed stop and the stress line; above that by up to 2 C `watch`, beyond `act today`;
    below the feed stop `watch`, with no feed; within 2 C of a lethal corner (1 C above a lower one of 2 C or
    less) `emergency`.
    """
    if temperature_c <= lowest_c(species) or temperature_c >= highest_c(species):
        return "emergency"
    stress = species.number("t_stress_high_c")
    if temperature_c > stress + WATCH_ABOVE_STRESS_C:
        return "act today"
    if temperature_c > stress or temperature_c < species.number("t_feed_stop_low_c"):
        return "watch"
    return "fine"


def lowest_c(species: Row) -> float:
    """Temperature at and below which cold is an emergency for the species."""
    corner = species.number("t_lethal_low_c")
    return corner + (LETHAL_MARGIN_COLD_C if corner <= LETHAL_MARGIN_C else LETHAL_MARGIN_C)


def highest_c(species: Row) -> float:
    """Temperature at and above which heat is an emergency for the species."""
    return species.number("t_lethal_high_c") - LETHAL_MARGIN_C


def of_oxygen(oxygen_mg_l: float, species: Row) -> Level:
    """Oxygen for a species: `fine` from its full-feed line, `watch` to midway, `act today` to critical."""
    full, critical = species.number("do_full_feed_mg_l"), species.number("do_critical_mg_l")
    if oxygen_mg_l >= full:
        return "fine"
    if oxygen_mg_l >= (full + critical) / 2.0:
        return "watch"
    return "act today" if oxygen_mg_l >= critical else "emergency"


def of_turnover(turnover_1_h: float) -> Level:
    """Tank volumes an hour, as a hint; the oxygen balance decides."""
    if turnover_1_h < TURNOVER_ACT_1_H:
        return "act today"
    low_or_high = turnover_1_h < TURNOVER_WATCH_1_H or turnover_1_h > TURNOVER_HIGH_1_H
    return "watch" if low_or_high else "fine"
