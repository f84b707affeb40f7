"""Dissolved salts: chloride against nitrite, hardness, conductivity, and what dilution and evaporation do.

Concentrations in mg/L of the element or ion named, nitrite as N; volumes in L, exchange in L/d.
"""

import math

import numpy as np

from aquacalc.constants import (
    ATOMIC_MASS_CA_G_MOL,
    ATOMIC_MASS_MG_G_MOL,
    MOLAR_MASS_CACO3_G_MOL,
    Numbers,
)
from aquacalc.errors import InputError, Problem
from aquacalc.possible import possible

ROUNDING = 1e-9
"""A number of changes may miss a whole one by this."""


def chloride_needed_mg_l(nitrite_n_mg_l: Numbers, chloride_mg_l: Numbers, ratio: Numbers) -> Numbers:
    """Chloride still missing for a mass ratio to nitrite-N, mg/L; ratio 10 / 20 / 33.

    Chloride that is not known counts as none. It does not help the sunfish family, and little below pH 6.
    Sources: SRAC462 (read-2nd), TIMEBE (from memory).

    >>> round(float(chloride_needed_mg_l(1.522, 10.0, 20.0)), 2)
    20.44
    """
    return np.maximum(ratio * nitrite_n_mg_l - chloride_mg_l, 0.0)


def hardness_mg_l(calcium_mg_l: Numbers, magnesium_mg_l: Numbers) -> Numbers:
    """Total hardness, mg/L CaCO3. By definition.

    >>> round(hardness_mg_l(60.0, 15.0), 1)
    211.6
    """
    return MOLAR_MASS_CACO3_G_MOL * (
        calcium_mg_l / ATOMIC_MASS_CA_G_MOL + magnesium_mg_l / ATOMIC_MASS_MG_G_MOL
    )


CALCIUM_SHARE_OF_HARDNESS = 0.8
"""The rest is magnesium. Common practice, no source."""


def ions_of_hardness_mg_l(
    hardness_mg_l: float, calcium_mg_l: float = math.nan, magnesium_mg_l: float = math.nan
) -> tuple[float, float]:
    """Calcium and magnesium of a hardness, mg/L; the one that is known counts, the other is the rest.

    By definition of hardness; where neither is known (NaN) their shares are common practice, no source.

    >>> [round(one, 1) for one in ions_of_hardness_mg_l(211.6, calcium_mg_l=60.0)]
    [60.0, 15.0]
    >>> [round(one, 1) for one in ions_of_hardness_mg_l(200.0)]
    [64.1, 9.7]
    """
    of_calcium = MOLAR_MASS_CACO3_G_MOL / ATOMIC_MASS_CA_G_MOL
    of_magnesium = MOLAR_MASS_CACO3_G_MOL / ATOMIC_MASS_MG_G_MOL
    if math.isnan(calcium_mg_l):
        if math.isnan(magnesium_mg_l):
            calcium_mg_l = CALCIUM_SHARE_OF_HARDNESS * hardness_mg_l / of_calcium
        else:
            calcium_mg_l = max(hardness_mg_l - of_magnesium * magnesium_mg_l, 0.0) / of_calcium
    if math.isnan(magnesium_mg_l):
        magnesium_mg_l = max(hardness_mg_l - of_calcium * calcium_mg_l, 0.0) / of_magnesium
    return calcium_mg_l, magnesium_mg_l


def zinc_criterion_ug_l(hardness_mg_l: Numbers) -> Numbers:
    """Acute criterion for total zinc, ug/L. Source: CFR132 (read); dissolved is 0.978 of it.

    >>> round(float(zinc_criterion_ug_l(100.0)), 1)
    119.8
    """
    return np.exp(0.8473 * np.log(hardness_mg_l) + 0.884)


def copper_criterion_ug_l(hardness_mg_l: Numbers) -> Numbers:
    """Acute criterion for total copper, ug/L. Source: CFR132 (read); dissolved is 0.960 of it.

    >>> round(float(copper_criterion_ug_l(100.0)), 1)
    14.0
    """
    return np.exp(0.9422 * np.log(hardness_mg_l) - 1.700)


# One change, several, and a steady trickle


@possible
def after_change_mg_l(now_mg_l: Numbers, new_mg_l: Numbers, share: Numbers) -> Numbers:
    """Concentration after a share (0 to 1) of the water was exchanged for new water. Never for pH.

    Exact, by mass balance.

    >>> after_change_mg_l(160.0, 5.0, 0.25)
    121.25
    """
    return now_mg_l * (1.0 - share) + new_mg_l * share


def share_to_change(now_mg_l: Numbers, target_mg_l: Numbers, new_mg_l: Numbers) -> Numbers:
    """Share of the water to exchange for a target; above 1 where the new water is not clean enough.

    Exact, by mass balance.

    >>> round(share_to_change(160.0, 80.0, 5.0), 3)
    0.516
    """
    return (now_mg_l - target_mg_l) / (now_mg_l - new_mg_l)


@possible
def after_changes_mg_l(now_mg_l: Numbers, new_mg_l: Numbers, share: Numbers, times: Numbers) -> Numbers:
    """Concentration after several equal changes. Exact, by mass balance.

    >>> after_changes_mg_l(4.0, 0.0, 0.25, 3)
    1.6875
    """
    return new_mg_l + (now_mg_l - new_mg_l) * (1.0 - share) ** times


@possible
def changes_for(now_mg_l: float, target_mg_l: float, new_mg_l: float, share: float) -> int:
    """How many equal changes of a share of the water bring it to a target or past it.

    Raises `InputError` (`problem-change-reach`) where the new water is not beyond the target. Exact, by mass
    balance.

    >>> changes_for(160.0, 80.0, 5.0, 0.25), changes_for(160.0, 80.0, 5.0, 0.55)
    (3, 1)
    """
    left = (target_mg_l - new_mg_l) / (now_mg_l - new_mg_l) if now_mg_l != new_mg_l else math.nan
    if not 0.0 < left <= 1.0:
        raise InputError(Problem("problem-change-reach"))
    return math.ceil(math.log(left) / math.log1p(-share) - ROUNDING)


@possible
def after_flushing_mg_l(
    now_mg_l: Numbers, new_mg_l: Numbers, new_water_l: Numbers, volume_l: Numbers
) -> Numbers:
    """Concentration after new water ran through a mixed volume that overflowed meanwhile.

    Exact, by mass balance of a mixed volume.

    >>> round(float(after_flushing_mg_l(100.0, 0.0, 500.0, 1000.0)), 1)
    60.7
    """
    return new_mg_l + (now_mg_l - new_mg_l) * np.exp(-new_water_l / volume_l)


@possible
def before_daily_change_mg_l(new_mg_l: Numbers, production_mg_l_d: Numbers, share: Numbers) -> Numbers:
    """Level, just before each daily change, at which production and daily changes come to balance.

    Exact, by mass balance.
    """
    return new_mg_l + production_mg_l_d / share


# Ions that nothing takes up


@possible
def build_up_mg_l(
    start_mg_l: Numbers,
    top_up_mg_l: Numbers,
    evaporation_l_d: Numbers,
    discharge_l_d: Numbers,
    input_mg_d: Numbers,
    volume_l: Numbers,
    days: Numbers,
) -> Numbers:
    """Concentration of a conservative ion after some days of evaporation, discharge and top-up, volume kept.

    input_mg_d: from feed and doses less what crops take. Exact, by mass balance of a mixed volume.

    >>> round(float(build_up_mg_l(40.0, 40.0, 60.0, 40.0, 0.0, 2000.0, 180.0)), 2)
    98.36
    """
    exchanged = discharge_l_d * days / volume_l
    income = (top_up_mg_l * (evaporation_l_d + discharge_l_d) + input_mg_d) * days / volume_l
    # (1 - exp(-x))/x, which goes to 1 where nothing is discharged.
    filled = -np.expm1(-exchanged) / np.where(exchanged == 0.0, 1.0, exchanged) + (exchanged == 0.0)
    return start_mg_l * np.exp(-exchanged) + income * filled


def discharge_needed_l_d(
    most_mg_l: Numbers, top_up_mg_l: Numbers, evaporation_l_d: Numbers, input_mg_d: Numbers = 0.0
) -> Numbers:
    """Water to let out each day so that an ion settles at a level, L/d; infinite where top-up holds as much.

    Exact, by mass balance.

    >>> float(discharge_needed_l_d(100.0, 40.0, 60.0))
    40.0
    """
    room = np.maximum(np.asarray(most_mg_l) - top_up_mg_l, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.divide(top_up_mg_l * evaporation_l_d + input_mg_d, room)


# How much water is it? Salt that was stirred in, and what the water shows before and after

SALT_US_CM_PER_G_L = 2143.2
SALT_FALL_US_CM = 168.2
"""Conductivity of plain salt at 25 C: 209 at 0.1 g/L and 1975 uS/cm at 1 g/L, joined by the square root law.

Own reckoning with a library of water chemistry.
"""
_ROUNDS = 40


def salt_us_cm(salt_g_l: Numbers) -> Numbers:
    """Conductivity at 25 C of plain salt in pure water, up to about 2 g/L. Own reckoning with PHREEQC.

    >>> round(float(salt_us_cm(0.1))), round(float(salt_us_cm(1.0)))
    (209, 1975)
    """
    return salt_g_l * (SALT_US_CM_PER_G_L - SALT_FALL_US_CM * np.sqrt(salt_g_l))


def salt_g_l(conductivity_us_cm: Numbers) -> Numbers:
    """Plain salt that conducts as well, g/L; the inverse of `salt_us_cm`. Own reckoning, up to about 2 g/L.

    >>> round(float(salt_g_l(1975.0)), 3)
    1.0
    """
    salt = conductivity_us_cm / SALT_US_CM_PER_G_L
    for _ in range(_ROUNDS):
        salt = conductivity_us_cm / (SALT_US_CM_PER_G_L - SALT_FALL_US_CM * np.sqrt(salt))
    return salt


def diluted_l(mass_g: Numbers, rise_mg_l: Numbers) -> Numbers:
    """Water in which a mass that was stirred in raised a concentration so far, L. Exact, by mass balance.

    >>> diluted_l(150.0, 100.0)
    1500.0
    """
    return 1000.0 * mass_g / rise_mg_l


def diluted_by_conductivity_l(salt_g: Numbers, before_us_cm: Numbers, after_us_cm: Numbers) -> Numbers:
    """Water in which plain salt raised the conductivity at 25 C so far, L.

    What was dissolved before counts as if it were salt: more of it makes the same salt conduct a little less.
    Own reckoning, up to about 2 g/L of salt.

    >>> round(float(diluted_by_conductivity_l(150.0, 500.0, 700.0)))
    1505
    """
    return salt_g / (salt_g_l(after_us_cm) - salt_g_l(before_us_cm))
