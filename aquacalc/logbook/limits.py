"""What no cell of a log can hold: values beyond which a digit or a unit slipped."""

from dataclasses import dataclass
from functools import cache

from aquacalc import kits, tables, units

LARGEST_PICKED_G = 1e6
"""A tonne of one crop on one day. Common practice, no source."""

LARGEST_DOSE_G = 1e5
"""A hundred kilograms of one chemical on one day. Common practice, no source."""

TESTS = {"tan": "tan_indophenol", "nitrite": "nitrite_azo", "nitrate": "nitrate_reduction"}
"""Rows of `test_kinds.csv` that say which reading is impossible."""

BOUNDS = {
    "temperature": "water_temperature",
    "ph": "ph",
    "alkalinity": "alkalinity",
    "hardness": "hardness",
    "oxygen": "oxygen",
    "chlorine": "chlorine",
    "chloride": "dissolved",
    "added_salt": "dissolved",
    "iron": "dissolved",
    "conductivity": "conductivity",
    "feed": "feed",
    "top_up": "barrel",
    "weight": "fish_weight",
    "count": "fish_count",
    "taken": "fish_count",
    "dead": "fish_count",
    "stocked": "fish_count",
}
"""Rows of `input_bounds.csv`; their units are the base units of the log. Of fish there may be none, too."""

BASES = {"tan": ("N", "NH3", "NH4"), "nitrite": ("N", "NO2"), "nitrate": ("N", "NO3")}
"""What the numbers of a parameter may count, nitrogen first and the ion last."""


@dataclass(frozen=True)
class Limits:
    """Lowest and highest value in the base unit, both counted in; nitrogen as N."""

    low: float
    high: float


@cache
def limits(parameter: str) -> Limits:
    """Between which values a parameter lies.

    >>> limits("ph"), limits("temperature").high
    (Limits(low=2.0, high=12.0), 45.0)
    """
    if parameter == "picked":
        return Limits(0.0, LARGEST_PICKED_G)
    if parameter == "dose":
        return Limits(0.0, LARGEST_DOSE_G)
    if parameter in kits.NITROGEN:
        row = tables.load("test_kinds").row(TESTS[parameter])
        # The table counts ammonia as N, nitrite and nitrate as the ion.
        basis = "N" if parameter == "tan" else BASES[parameter][-1]
        return Limits(
            units.as_n(row.number("impossible_below"), basis),
            units.as_n(row.number("impossible_above"), basis),
        )
    row = tables.load("input_bounds").row(BOUNDS[parameter])
    counted = BOUNDS[parameter] == "fish_count"
    return Limits(0.0 if counted else row.number("refuse_low"), row.number("refuse_high"))
