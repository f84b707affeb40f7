"""The level of a state: water and turnover by `data/water_limits.csv`, oxygen and temperature by the species.

Functions that take a species take its row of `data/species.csv`.
"""

import math

from aquacalc import tables
from aquacalc.advice.finding import Level, worst
from aquacalc.tables import Row
from aquacalc.water import ammonia

NEAR_SHARE = 0.8
"""Share of a limit from which it counts as near. Common practice, no source."""

CHRONIC_MULTIPLE = 2.5
"""No four-day mean of ammonia above this multiple of the chronic criterion (EPA13, read-2nd)."""

WARM_CLASSES = {"warm", "warm/temperate"}

BELOW_ZERO_C = 2.0
"""Fish with a lower lethal corner up to here live under ice: for them the cold margin is halved."""


def of_share(share: float) -> Level:
    """Demand as a share of a limit that it must not exceed.

    >>> [of_share(share) for share in (0.5, 0.9, 1.1)]
    ['fine', 'watch', 'act today']
    """
    return "act today" if share > 1.0 else "watch" if share > NEAR_SHARE else "fine"


def groups(species: Row) -> tuple[str, ...]:
    """The groups of `data/water_limits.csv` that a species belongs to."""
    warmth = "warm" if species.text("temperature_class") in WARM_CLASSES else "cold"
    return ("all", warmth, f"class {species.text('nitrogen_tolerance_class')}")


def of_water(parameter: str, value: float, species: Row, chloride_ratio: float = 0.0) -> Level:
    """A reading of a parameter of `data/water_limits.csv`, in that table's unit; NaN is `not known`.

    chloride_ratio: chloride against nitrite as N by mass; zero where chloride is not known. The strictest of
    the lines that hold for the species counts; nitrite has no lines by nitrogen class.

    >>> of_water("ph", 5.9, tables.load("species").row("goldfish"))
    'act today'
    """
    if math.isnan(value):
        return "not known"
    held = groups(species)[:2] if parameter == "nitrite" else groups(species)
    rows = [row for row in tables.load("water_limits") if row.text("parameter") == parameter]
    return worst(_line(row, value, chloride_ratio) for row in rows if row.text("group") in held)


def _line(row: Row, value: float, chloride_ratio: float = 0.0) -> Level:
    """The level of one line of the table: a level begins at its bound and reaches beyond it."""
    sign = 1.0 if row.text("side") == "above" else -1.0

    def reached(column: str) -> bool:
        # A blank bound is NaN and compares as false.
        return sign * value >= sign * row.number(column)

    def unprotected(column: str) -> bool:
        ratio = row.number(column)
        return math.isnan(ratio) or chloride_ratio < ratio

    if reached("emergency_from") and unprotected("emergency_chloride_ratio"):
        return "emergency"
    if reached("act_from") and unprotected("act_chloride_ratio"):
        return "act today"
    return "watch" if reached("watch_from") else "fine"


def of_ammonia(tan_mg_l: float, ph: float, temperature_c: float, species: Row) -> Level:
    """Ammonia at a pH and temperature: the worst of its un-ionised part, of TAN, and of the criteria.

    tan_mg_l: total ammonia as N. The criteria hold from pH 6.5 to 9 and 0 to 30 C and are used at their ends
    beyond.

    >>> catfish = tables.load("species").row("channel_catfish")
    >>> of_ammonia(2.0, 6.6, 26.0, catfish), of_ammonia(2.0, 8.2, 26.0, catfish)
    ('act today', 'emergency')
    """
    if math.isnan(tan_mg_l) or math.isnan(ph) or math.isnan(temperature_c):
        return "not known"
    unionised = tan_mg_l * float(ammonia.unionised_fraction(ph, temperature_c))
    return worst(
        (
            of_water("unionised_ammonia", unionised, species),
            of_water("tan", tan_mg_l, species),
            of_criteria(tan_mg_l, ph, temperature_c, species),
        )
    )


def of_criteria(tan_mg_l: float, ph: float, temperature_c: float, species: Row) -> Level:
    """Ammonia by the acute and chronic criteria alone, which know pH and temperature."""
    salmonids = species.text("temperature_class") == "cold"
    within_ph, within_c = min(max(ph, 6.5), 9.0), min(max(temperature_c, 0.0), 30.0)
    acute = float(ammonia.acute_criterion_mg_l(within_ph, within_c, salmonids))
    chronic = float(ammonia.chronic_criterion_mg_l(within_ph, within_c))
    if tan_mg_l > acute:
        return "emergency"
    return "act today" if tan_mg_l > CHRONIC_MULTIPLE * chronic else "fine"


def of_oxygen(oxygen_mg_l: float, species: Row) -> Level:
    """Oxygen for a species: `fine` from its full-feed line, `watch` to midway, `act today` to critical."""
    if math.isnan(oxygen_mg_l):
        return "not known"
    full, critical = species.number("do_full_feed_mg_l"), species.number("do_critical_mg_l")
    if oxygen_mg_l >= full:
        return "fine"
    if oxygen_mg_l >= (full + critical) / 2.0:
        return "watch"
    return "act today" if oxygen_mg_l >= critical else "emergency"


def of_temperature(temperature_c: float, species: Row) -> Level:
    """Water temperature for a species.

    Fine between the lower feed stop and the upper stress line; above it by up to 2 C `watch`, beyond
    `act today`; below the feed stop `watch`, with no feed; within 2 C of a lethal corner (1 C on the cold
    side where that corner is 2 C or less) `emergency`.
    """
    if math.isnan(temperature_c):
        return "not known"
    if temperature_c <= lowest_c(species) or temperature_c >= highest_c(species):
        return "emergency"
    above = temperature_c - species.number("t_stress_high_c")
    if above > 0.0:
        return "act today" if above > _bound("temperature_above_stress", "act_from") else "watch"
    return "watch" if temperature_c < species.number("t_feed_stop_low_c") else "fine"


def lowest_c(species: Row) -> float:
    """Temperature at and below which cold is an emergency for the species."""
    corner, margin = species.number("t_lethal_low_c"), _bound("temperature_to_lethal", "emergency_from")
    return corner + (margin / 2.0 if corner <= BELOW_ZERO_C else margin)


def highest_c(species: Row) -> float:
    """Temperature at and above which heat is an emergency for the species."""
    return species.number("t_lethal_high_c") - _bound("temperature_to_lethal", "emergency_from")


def of_turnover(turnover_1_h: float) -> Level:
    """Tank volumes an hour, as a hint; the oxygen balance decides."""
    table = tables.load("water_limits")
    return worst(_line(table.row(key), turnover_1_h) for key in ("turnover_low", "turnover_high"))


def turns_slowly(turnover_1_h: float) -> bool:
    """Whether the turnover is below the usual range rather than above it."""
    return turnover_1_h <= _bound("turnover_low", "watch_from")


def _bound(key: str, column: str) -> float:
    return tables.load("water_limits").row(key).number(column)
