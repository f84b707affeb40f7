"""The nitrifying film: what a garden's surfaces hold, how fast water reaches it, and the film in balance.

Two sums describe the surfaces: the capacity that they hold, and the water that they could strip of its
substrate in a day. A film's rate is that of resistances in a row (affinity, transfer, capacity):
r = R phi S/(K + S + R phi/M). In balance growth equals decay, which gives rate and substrate in closed form.
All by one step; g N, m2, m3, days. Kinetics are those of `nitrogen`.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from aquacalc.constants import Numbers
from aquacalc.nitrogen import Kinetics, Step, at_most_30_c, decay_1_d, rate_factor
from aquacalc.possible import possible
from aquacalc.uncertainty import Floats

Known = Literal["measured", "extrapolated", "unreliable"]
EXTRAPOLATED_BELOW_C, UNRELIABLE_BELOW_C = 8.0, 5.0
"""Below the first, rates of films are extrapolated; below the second they are known to be too kind: a film at
1 C kept 18 % of its rate at 20 C (HOANG14)."""
OXYGEN_PER_TAN = 3.2
"""Above oxygen/3.2 mg/L of TAN oxygen limits a film, not TAN (from memory)."""
_TINY = 1e-300


def known_at(temperature_c: float) -> Known:
    """How well the rate of a film is known at a temperature. Source: HOANG14 (read) against the rest.

    >>> known_at(12.0), known_at(6.0), known_at(3.0)
    ('measured', 'extrapolated', 'unreliable')
    """
    if temperature_c >= EXTRAPOLATED_BELOW_C:
        return "measured"
    return "unreliable" if temperature_c < UNRELIABLE_BELOW_C else "extrapolated"


@dataclass(frozen=True)
class Surface:
    """Surface of one kind. transfer_m_d: at 20 C; flow_m3_d: water that passes it, None where it lies in the
    tanks' own water."""

    area_m2: Numbers
    transfer_m_d: Numbers
    flow_m3_d: Numbers | None = None


@dataclass(frozen=True)
class Film:
    """What the surfaces are to one step at a temperature.

    most_g_d: R_max, capacity that they hold, at 20 C with everything saturating. transfer_m3_d: M.
    """

    most_g_d: Numbers
    transfer_m3_d: Numbers


def film_of(step: Step, surfaces: Iterable[Surface], temperature_c: Numbers, constants: Kinetics) -> Film:
    """The two sums over surfaces.

    The film's own, weaker temperature dependence replaces that of growth, which `rate_factor` brings back.
    Nitrite is made inside the film, so that it feels a share of the resistance only (NIJHOF95).
    """
    warm = at_most_30_c(temperature_c) - 20.0
    theta = constants.theta_areal_capacity / constants.step(step).theta_growth
    held, felt = constants.areal_capacity_g_m2_d, 1.0 * constants.transfer_factor
    if step == "nitrite":
        held = held * constants.nitrite_capacity_ratio
        felt = felt / constants.nitrite_transfer_share
    quicker = felt * constants.theta_transfer**warm
    area: Numbers = 0.0
    transfer: Numbers = 0.0
    for one in surfaces:
        area = area + one.area_m2
        through = one.area_m2 * one.transfer_m_d * quicker
        if one.flow_m3_d is not None:
            through = through / (1.0 + through / one.flow_m3_d)
        transfer = transfer + through
    return Film(area * held * theta**warm, transfer)


# In balance


@possible
def rate_g_d(
    step: Step,
    film: Film,
    substrate_mg_l: Numbers,
    temperature_c: Numbers,
    ph: Numbers,
    oxygen_mg_l: Numbers,
    alkalinity_mg_l: Numbers,
    constants: Kinetics,
) -> Numbers:
    """N that a film in balance oxidises a day at a substrate concentration; never negative.

    Inhibition is left out. Own reckoning: growth equals decay. Extrapolated below 8 C, unreliable below 5 C.
    `film_of` one square metre gives the rate per square metre:

    >>> k = Kinetics.typical()
    >>> one = film_of("ammonia", [Surface(1.0, 0.8)], 25.0, k)
    >>> round(rate_g_d("ammonia", one, 1.0, 25.0, 7.0, 6.5, 100.0, k), 4)
    0.3697
    """
    own, lost = constants.step(step), decay_1_d(step, temperature_c, constants)
    factor = rate_factor(step, temperature_c, ph, oxygen_mg_l, alkalinity_mg_l, constants)
    half, gained = own.half_saturation_mg_l, own.growth_1_d * factor * substrate_mg_l
    way = film.most_g_d * factor / film.transfer_m3_d
    filled: Numbers = (gained - lost * (half + substrate_mg_l)) / (gained + lost * way + _TINY)
    filled = filled * (filled > 0.0)
    return film.most_g_d * factor * filled * substrate_mg_l / (half + substrate_mg_l + way * filled)


@possible
def filled_share(
    step: Step, film: Film, load_g_d: Numbers, temperature_c: Numbers, constants: Kinetics
) -> Numbers:
    """Share of the surface that a film in balance with a load fills: growth equals decay. Own reckoning."""
    growth = constants.step(step).growth_1_d
    return load_g_d / (load_g_d + decay_1_d(step, temperature_c, constants) * film.most_g_d / growth)


@possible
def steady_substrate_mg_l(
    step: Step,
    film: Film,
    load_g_d: Numbers,
    temperature_c: Numbers,
    ph: Numbers,
    oxygen_mg_l: Numbers,
    alkalinity_mg_l: Numbers,
    constants: Kinetics,
) -> Floats:
    """Concentration at which a film in balance carries a load; infinite where it cannot.

    The inverse of `rate_g_d`; a load of zero gives the lowest concentration of a living film.
    Own reckoning; below 8 C as `rate_g_d`.
    """
    own, lost = constants.step(step), np.asarray(decay_1_d(step, temperature_c, constants))
    factor = rate_factor(step, temperature_c, ph, oxygen_mg_l, alkalinity_mg_l, constants)
    filled = filled_share(step, film, load_g_d, temperature_c, constants)
    way = film.most_g_d * factor / film.transfer_m3_d
    left = own.growth_1_d * factor * (1.0 - filled) - lost
    with np.errstate(divide="ignore"):
        found: Floats = np.where(left > 0.0, lost * (own.half_saturation_mg_l + way * filled) / left, np.inf)
    return found


@possible
def lowest_substrate_mg_l(
    step: Step,
    temperature_c: Numbers,
    ph: Numbers,
    oxygen_mg_l: Numbers,
    alkalinity_mg_l: Numbers,
    constants: Kinetics,
) -> Floats:
    """Concentration below which a film of this step cannot hold itself; infinite where none suffices.

    Own reckoning.
    """
    around = (temperature_c, ph, oxygen_mg_l, alkalinity_mg_l, constants)
    return steady_substrate_mg_l(step, Film(1.0, 1.0), 0.0, *around)
