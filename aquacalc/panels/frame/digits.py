"""Numbers in a box as a person writes them: 0.37 kg, 20.9 C, 610 L/h, 18 in.

A number that somebody wrote is short by itself and stands as it is. One that was reckoned, or comes from
another unit, would stand there with all its digits; it gets as many as leave it within a fortieth.
"""

import math

from aquacalc import tables, words

WRITTEN = 3
"""A number of no more significant digits, or a whole one, was written by somebody."""
NEAR = 1.0 / 40.0
"""A number with two digits stands for another if it is no further from it."""
FINE = ("temperature", "angle", "")
"""Kinds whose numbers keep three digits: a fortieth of 75 F is two degrees."""


def as_written(shown: float, kind: str) -> str:
    """A number of a kind, in the unit in which it is shown.

    >>> as_written(0.3689, "mass"), as_written(20.88, "temperature"), as_written(606.4, "flow")
    ('0.37', '20.9', '610')
    >>> as_written(4250.0, "length"), as_written(1.05, "bore"), as_written(15.35, "mass")
    ('4250', '1.05', '15')
    """
    whole = len(str(int(abs(shown)))) if math.isfinite(shown) else 0
    if kind in FINE or _short(shown):
        return words.number(shown, max(WRITTEN, whole))
    two = float(f"{shown:.1e}")
    return words.number(shown, WRITTEN - 1 if abs(two - shown) <= NEAR * abs(shown) else WRITTEN)


def _short(shown: float) -> bool:
    rounded = round(shown) if abs(shown) >= 10.0**WRITTEN else float(f"{shown:.{WRITTEN - 1}e}")
    return math.isclose(shown, rounded, rel_tol=1e-9, abs_tol=1e-12)


def fitting_unit(shown: float, kind: str, system: str) -> str:
    """Key of the smaller unit of a kind where less than one of the usual one would be shown; else empty.

    shown: in the usual unit of `system`, `metric` or `us`.

    >>> fitting_unit(0.25, "time", "metric"), fitting_unit(0.6, "length", "us")
    ('min', 'in')
    """
    quantities = tables.load("quantities")
    if not 0.0 < abs(shown) < 1.0 or kind not in quantities.keys():  # noqa: SIM118  (rows are iterated)
        return ""
    return quantities.row(kind).text(f"{system}_small")
