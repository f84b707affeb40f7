"""Chlorine and chloramine of mains water: how they leave, what removes them, what they leave behind.

All chlorine as Cl2, total chlorine unless said otherwise. Chloramine does not leave by standing, and a
strip that reads 0 proves nothing: see `possible_residual_mg_l`.
"""

from typing import Literal

import numpy as np

from aquacalc import tables
from aquacalc.constants import (
    ATOMIC_MASS_N_G_MOL,
    KELVIN_0_C,
    MG_CACO3_PER_MEQ,
    MOLAR_MASS_CL2_G_MOL,
    Numbers,
)
from aquacalc.possible import possible

HYPOCHLOROUS_ACID_LOSS_1_S = 2e-4  # surface, clear summer noon at 47 N: Nowell and Hoigne 1992 (read)
HYPOCHLORITE_LOSS_1_S = 1.2e-3  # the same
NITROGEN_PER_CHLORAMINE = ATOMIC_MASS_N_G_MOL / MOLAR_MASS_CL2_G_MOL  # one N for each Cl2 of monochloramine

SUPPLIERS_MOST_MG_L = tables.load("coefficients").row("tap_chloramine_mg_l").number("high")
"""Where a supplier's highest figure is not known: the highest yearly mean allowed in the United States."""

USUAL_REAGENT = "thiosulfate_pentahydrate"
"""What takes chlorine out where nothing on the shelf does; key of `data/chemicals.csv`."""

ACID_REAGENT = "ascorbic_acid"
"""The reagent that is an acid; key of `data/chemicals.csv`."""

BucketReading = Literal["chloramine", "chlorine", "not known"]


@possible
def hypochlorite_fraction(ph: Numbers, temperature_c: Numbers) -> Numbers:
    """Share of free chlorine that is hypochlorite, which sunlight breaks fastest.

    Source: MORRIS66 (read-2nd). Made for 5 to 35 C.

    >>> round(hypochlorite_fraction(7.5, 25.0), 2)
    0.48
    """
    kelvin = temperature_c + KELVIN_0_C
    pka = 3000.0 / kelvin - 10.0686 + 0.0253 * kelvin
    return 1.0 / (1.0 + 10.0 ** (pka - ph))


@possible
def sunlight_loss_per_h(ph: Numbers, temperature_c: Numbers, sun: Numbers = 1.0) -> Numbers:
    """Loss of free chlorine to light at the water's surface, 1/h.

    sun: 1 at a clear summer noon, 0.2 under cloud or in winter, 0.05 in shade (common practice, no source).
    Source: NOWHOI92 (read).
    """
    share = hypochlorite_fraction(ph, temperature_c)
    return 3600.0 * sun * (share * HYPOCHLORITE_LOSS_1_S + (1.0 - share) * HYPOCHLOROUS_ACID_LOSS_1_S)


def depth_mean(absorbance: Numbers) -> Numbers:
    """Mean light in a layer against its surface; absorbance (base e) of the whole depth, above 0.

    Exact, by the law of absorption.
    """
    return -np.expm1(-absorbance) / absorbance


NOON_HOURS = (8.0, 6.0, 4.0)
"""Hours of clear noon that a day of sun is worth: midsummer, usual, spring. Common practice, no source."""
ABSORBANCE = (0.5, 2.0, 5.0)
"""Light that an open barrel of clear water takes over its depth: shallow, usual, deep (practice)."""


@possible
def sun_loss_per_d(ph: Numbers, temperature_c: Numbers) -> tuple[Numbers, Numbers, Numbers]:
    """Loss of free chlorine in an open barrel in full sun, 1/d: slow, usual, fast. Nothing in a closed one.

    Source: as `sunlight_loss_per_h`; hours of sun and absorbance are common practice, no source.

    >>> [round(float(rate), 1) for rate in sun_loss_per_d(7.5, 15.0)]
    [1.8, 5.8, 14.1]
    """
    surface = sunlight_loss_per_h(ph, temperature_c)
    fast, usual, slow = (
        surface * hours * depth_mean(taken) for hours, taken in zip(NOON_HOURS, ABSORBANCE, strict=True)
    )
    return slow, usual, fast


def residual_mg_l(start_mg_l: Numbers, rate_per_d: Numbers, days: Numbers) -> Numbers:
    """What is left of a loss in proportion to what is there, mg/L. Exact, by first-order decay.

    >>> round(float(residual_mg_l(2.0, 0.35, 15.1)), 2)
    0.01
    """
    return start_mg_l * np.exp(-rate_per_d * days)


def days_to(start_mg_l: Numbers, end_mg_l: Numbers, rate_per_d: Numbers) -> Numbers:
    """Days until a residual has fallen to a level; none where it is there already.

    Exact, by first-order decay.

    >>> [round(float(days_to(2.0, 0.01, rate))) for rate in (0.04, 0.08, 0.35)]
    [132, 66, 15]
    """
    return np.maximum(np.log(start_mg_l / end_mg_l), 0.0) / rate_per_d


@possible
def reagent_g(chlorine_mg_l: Numbers, volume_l: Numbers, grams_per_gram: Numbers) -> Numbers:
    """Grams of a dechlorinator for a volume of *new* water; thiosulfate pentahydrate takes 7 g per g.

    chlorine_mg_l: the supplier's stated maximum, not a strip's reading.
    Exact, by stoichiometry; the 7 is laboratory practice, LABTHIO (read).

    >>> round(reagent_g(2.0, 150.0, 7.0), 2)
    2.1
    """
    return chlorine_mg_l * volume_l / 1000.0 * grams_per_gram


def alkalinity_used_mg_l(chemical: str, chlorine_mg_l: Numbers) -> Numbers:
    """Alkalinity, mg/L CaCO3, that taking chlorine out uses up at most; only ascorbic acid uses any.

    Two equivalents for each mole of chlorine. Source: USDAFS05 (read-2nd), 1.4 mg/L.

    >>> round(alkalinity_used_mg_l("ascorbic_acid", 1.0), 1), alkalinity_used_mg_l("sodium_ascorbate", 1.0)
    (1.4, 0.0)
    """
    equivalents = 2.0 if chemical == ACID_REAGENT else 0.0
    return equivalents * chlorine_mg_l / MOLAR_MASS_CL2_G_MOL * MG_CACO3_PER_MEQ


def ammonia_freed_mg_l(
    chloramine_mg_l: Numbers, per_chloramine: Numbers = NITROGEN_PER_CHLORAMINE
) -> Numbers:
    """Ammonia, mg N/L of new water, that chloramine leaves behind; allow 0.20 to 0.25 per mg in practice.

    Exact, by stoichiometry; what to allow is common practice, no source.

    >>> round(150.0 / 1500.0 * ammonia_freed_mg_l(2.0), 4)
    0.0395
    """
    return chloramine_mg_l * per_chloramine


def after_mixing_mg_l(tap_mg_l: Numbers, new_water_l: Numbers, whole_l: Numbers) -> Numbers:
    """Chlorine in the system after untreated water came in; `whole_l` is the volume after it.

    Exact, by mass balance.

    >>> round(after_mixing_mg_l(0.8, 150.0, 1500.0), 3)
    0.08
    """
    return tap_mg_l * new_water_l / whole_l


@possible
def possible_residual_mg_l(test_limit_mg_l: Numbers, replaced_share: Numbers) -> Numbers:
    """Chlorine that may be in the tank although a test of the new water showed none. Exact, by mass balance.

    >>> possible_residual_mg_l(0.5, 0.20)
    0.1
    """
    return test_limit_mg_l * replaced_share


def share_proved(test_limit_mg_l: float, line_mg_l: float) -> float:
    """Most new water, as a share of the whole, for which a clear test of it proves enough; 1 at most.

    line_mg_l: most that may be left where fish are. Exact, by mass balance.

    >>> share_proved(0.5, 0.005), share_proved(0.02, 0.005), share_proved(0.0, 0.005)
    (0.01, 0.25, 1.0)
    """
    return 1.0 if test_limit_mg_l <= line_mg_l else line_mg_l / test_limit_mg_l


def bucket_test(
    total_chlorine_mg_l: float, ammonia_after_mg_l: float, smallest_step_mg_l: float
) -> BucketReading:
    """What a supplier adds, from a bucket of tap water: total chlorine first, then thiosulfate, then ammonia.

    Ammonia as N; NaN for what was not read. Ammonia of at least the kit's smallest step after the reagent
    means chloramine; none, where total chlorine was seen before, means chlorine for now. Nothing seen proves
    nothing. Ammonia before the reagent is not asked: some tests read chloramine as ammonia. Source: read-2nd.

    >>> bucket_test(2.0, 0.5, 0.3), bucket_test(1.0, 0.0, 0.3), bucket_test(0.0, 0.0, 0.3)
    ('chloramine', 'chlorine', 'not known')
    """
    if ammonia_after_mg_l >= smallest_step_mg_l:
        return "chloramine"
    if ammonia_after_mg_l < smallest_step_mg_l and total_chlorine_mg_l > 0.0:
        return "chlorine"
    return "not known"


def chloramine_of_ammonia_mg_l(ammonia_mg_l: Numbers, per_chloramine: Numbers) -> Numbers:
    """Most chloramine, mg/L as Cl2, that ammonia (as N) after the reagent can have come from.

    Exact, by stoichiometry, `ammonia_freed_mg_l` turned round.

    >>> round(chloramine_of_ammonia_mg_l(0.5, 0.2), 2)
    2.5
    """
    return ammonia_mg_l / per_chloramine
