"""What cannot be is refused where a formula is called: a pressure in kPa, a fraction in percent, a pH of 25.

Units stand in the names of arguments, so that one table by name serves all formulas. The ends are wide: they
ask whether a number can be at all, not whether a formula was fitted there, which its own text says. NaN is
`not known` and passes.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any, ParamSpec, TypeVar

import numpy as np

from aquacalc.errors import InputError, Problem

P = ParamSpec("P")
R = TypeVar("R")

SHARE = (0.0, 1.0, "")
PERCENT = (0.0, 100.0, "%")
LITRES = (0.0, 1e9, "L")
FLOW_L_H = (0.0, 1e8, "L/h")
CELSIUS = (-90.0, 110.0, "C")

RANGES: dict[str, tuple[float, float, str]] = {
    "absorbed_fraction": SHARE,
    "air_c": CELSIUS,
    "air_co2_atm": (0.0, 1.0, "atm"),
    "air_max_c": CELSIUS,
    "air_min_c": CELSIUS,
    "albedo": SHARE,
    "alkalinity_mg_l": (-1e4, 1e9, "mg/L CaCO3"),
    "altitude_m": (-500.0, 9000.0, "m"),
    "area_m2": (0.0, 1e7, "m2"),
    "bore_mm": (0.0, 1e4, "mm"),
    "box_flow_l_h": FLOW_L_H,
    "cull": SHARE,
    "day_of_year": (0.0, 364.0, "from 1 January on"),
    "denitrified_share": SHARE,
    "depth_m": (0.0, 100.0, "m"),
    "depth_of_discharge": SHARE,
    "diameter_m": (0.0, 1000.0, "m"),
    "dry_fraction": SHARE,
    "efficiency": SHARE,
    "feed_g_day": (0.0, 1e8, "g/day"),
    "flow_l_h": FLOW_L_H,
    "germination": SHARE,
    "head_m": (0.0, 1000.0, "m"),
    "humidity_max_pct": PERCENT,
    "humidity_min_pct": PERCENT,
    "humidity_pct": PERCENT,
    "inflow_l_h": FLOW_L_H,
    "ionic_strength": (0.0, 10.0, "mol/kg"),
    "latitude_deg": (-90.0, 90.0, "degrees"),
    "length_m": (0.0, 1e5, "m"),
    "loss": SHARE,
    "oxygen_mg_l": (0.0, 100.0, "mg/L"),
    "ph": (0.0, 14.0, "pH"),
    "porosity": SHARE,
    "pressure_atm": (0.2, 5.0, "atm"),
    "protein_fraction": SHARE,
    "purity": SHARE,
    "removal_per_pass": SHARE,
    "removed_share": SHARE,
    "replaced_share": SHARE,
    "runoff_share": SHARE,
    "salinity_g_kg": (0.0, 300.0, "g/kg"),
    "saturation_mg_l": (0.0, 100.0, "mg/L"),
    "share": SHARE,
    "share_on": SHARE,
    "single_pass_efficiency": SHARE,
    "sky_share": SHARE,
    "strength_pct": PERCENT,
    "survival": SHARE,
    "temperature_c": CELSIUS,
    "void_fraction": SHARE,
    "volume_l": LITRES,
    "water_c": CELSIUS,
    "water_l": LITRES,
    "weight_g": (0.0, 1e7, "g"),
    "wetted_share": SHARE,
    "width_m": (0.0, 1e5, "m"),
    "wind_m_s": (0.0, 150.0, "m/s"),
    "yield_pct": PERCENT,
}
"""Lowest and highest value of an argument by its name, and its unit."""


def possible(formula: Callable[P, R]) -> Callable[P, R]:
    """The formula, which then raises `InputError` (`problem-range`) for an argument that cannot be.

    >>> @possible
    ... def twice(ph: float) -> float:
    ...     return 2.0 * ph
    >>> twice(7.0)
    14.0
    >>> twice(25.0)
    Traceback (most recent call last):
    aquacalc.errors.InputError: twice ph: problem-range '25' (0, 14, pH)
    """
    code = formula.__code__
    names = code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]
    watched = [(place, name, *RANGES[name][:2]) for place, name in enumerate(names) if name in RANGES]

    @wraps(formula)
    def checked(*args: P.args, **kwargs: P.kwargs) -> R:
        for place, name, low, high in watched:
            value: Any = args[place] if place < len(args) else kwargs.get(name)
            if isinstance(value, float):
                if value < low or value > high:
                    raise _outside(formula.__name__, name, value)
            elif value is not None:
                array = np.asarray(value)
                outside = (array < low) | (array > high)
                if outside.any():
                    raise _outside(formula.__name__, name, float(array[outside][0]))
        return formula(*args, **kwargs)

    return checked


def _outside(formula: str, name: str, value: float) -> InputError:
    low, high, unit = RANGES[name]
    return InputError(
        Problem("problem-range", f"{formula} {name}", f"{value:g}", (f"{low:g}", f"{high:g}", unit))
    )
