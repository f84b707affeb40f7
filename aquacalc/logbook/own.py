"""Values as the log itself writes them: in the unit and on the basis of its column or kit."""

from aquacalc.logbook.log import Reading

INSIDE = ("", "mg/L", "mg/L as N", "mg/L CaCO3", "C")
"""Labels of the units in which values are said anyhow."""

NONE = "none"
"""Where the log's own unit is the one in which values are said anyhow; sentences choose by it."""

PLACES = {"dkh": 1, "hardness_dgh": 1}
"""Places behind the point that a test can tell; two for all others. Our own choice."""

DASH = "\u2013"
SPACE = "\u00a0"


def text(reading: Reading | None, low: float, high: float | None = None) -> str:
    """A value, or a span of values, in the unit of a reading; `none` where that would say it twice.

    low, high: in the base unit, nitrogen as N.
    """
    if reading is None or reading.own_label in INSIDE:
        return NONE
    ends = [reading.as_typed(low), reading.as_typed(low if high is None else high)]
    places = PLACES.get(reading.own_unit, 2)
    # Two digits are known; the second rounding writes 440 instead of 4.4e+02.
    shown = [f"{float(f'{round(end, places) + 0.0:.2g}'):g}" for end in sorted(ends)]
    return f"{DASH.join(dict.fromkeys(shown))}{SPACE}{reading.own_label}"
