"""Nitrogen: what feed becomes, two-step nitrification, ammonia for a start-up.

All concentrations are mg/L as N, alkalinity mg/L as CaCO3, temperatures C, time in days. The two steps are
named by what they oxidise: `ammonia` (to nitrite) and `nitrite` (to nitrate). Kinetic functions are made of
operators only, so that one member runs on floats and an ensemble on arrays by the same code.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from aquacalc import tables
from aquacalc.constants import (
    ATOMIC_MASS_N_G_MOL,
    MG_CACO3_PER_MEQ,
    MOLAR_MASS_NH3_G_MOL,
    MOLAR_MASS_O2_G_MOL,
    Numbers,
)
from aquacalc.possible import possible
from aquacalc.uncertainty import Floats, Triangle, coefficient

Step = Literal["ammonia", "nitrite"]
STEPS: tuple[Step, Step] = ("ammonia", "nitrite")

# What feed becomes

NITROGEN_PER_PROTEIN = 0.16  # standard Kjeldahl factor 1/6.25, from memory
SIZING_SHARE = 0.092
"""g TAN per g of protein, for sizing: 0.16 N x 0.8 digested x 0.8 excreted x 0.9 ammonia (TIMEBE, memory)."""
BUDGET_SHARE = 0.083
"""g of dissolved N per g of protein for budgets: closes with 30 % retained in the fish (own reckoning)."""


@possible
def tan_production_g_day(
    feed_g_day: Numbers, protein_fraction: Numbers, share: Numbers = SIZING_SHARE
) -> Numbers:
    """Ammonia-N that a day's feed puts into the water, g N/d.

    share: g N per g of protein; `SIZING_SHARE` for sizing, `BUDGET_SHARE` for nitrate where no gain is told.
    Share for sizing: TIMEBE (from memory); for budgets own reckoning.

    >>> round(tan_production_g_day(100.0, 0.32), 3)
    2.944
    """
    return feed_g_day * protein_fraction * share


@possible
def feed_for_tan_g_day(
    tan_g_day: Numbers, protein_fraction: Numbers, share: Numbers = SIZING_SHARE
) -> Numbers:
    """Feed whose ammonia-N is `tan_g_day`: the inverse of `tan_production_g_day`.

    Source: as `tan_production_g_day`.

    >>> round(feed_for_tan_g_day(2.0, 0.32), 1)
    67.9
    """
    return tan_g_day / (protein_fraction * share)


@possible
def feed_nitrogen_g_day(feed_g_day: Numbers, protein_fraction: Numbers) -> Numbers:
    """Nitrogen in a day's feed, g N/d. By definition of protein, 16 % nitrogen, from memory."""
    return feed_g_day * protein_fraction * NITROGEN_PER_PROTEIN


@dataclass(frozen=True)
class Partition:
    """Shares of the feed's nitrogen; they sum to 1. Dissolved is ammonia and urea."""

    retained: Numbers
    faecal: Numbers
    uneaten: Numbers
    dissolved: Numbers


def partition(retained: Numbers = 0.30, faecal: Numbers = 0.15, uneaten: Numbers = 0.03) -> Partition:
    """Where feed nitrogen goes; dissolved is the remainder. Retention 0.12 to 0.44 measured (SUMPEN07).

    Raises ValueError if the three shares leave nothing.
    """
    dissolved = 1.0 - retained - faecal - uneaten
    if np.any(np.asarray(dissolved) < 0.0):
        raise ValueError("shares of feed nitrogen exceed 1")
    return Partition(retained, faecal, uneaten, dissolved)


# Stoichiometry

OXYGEN_PER_N: Mapping[Step, float] = {
    "ammonia": 1.5 * MOLAR_MASS_O2_G_MOL / ATOMIC_MASS_N_G_MOL,
    "nitrite": 0.5 * MOLAR_MASS_O2_G_MOL / ATOMIC_MASS_N_G_MOL,
}
"""g of oxygen per g of N oxidised, without cell growth."""

OXYGEN_PER_DENITRIFIED = 1.25 * MOLAR_MASS_O2_G_MOL / ATOMIC_MASS_N_G_MOL
"""g of oxygen that a g of denitrified nitrate-N does the work of."""

ALKALINITY_PER_N = MG_CACO3_PER_MEQ / ATOMIC_MASS_N_G_MOL
"""mg CaCO3 per mg of N and charge moved: 3.573."""

AlkalinityProcess = Literal[
    "ammonia_oxidised",
    "nitrite_oxidised",
    "ammonia_added",
    "ammonium_salt_added",
    "urea_added",
    "nitrate_taken_up",
    "nitrate_denitrified",
    "tan_taken_up",
]
CHARGE: Mapping[AlkalinityProcess, float] = {
    "ammonia_oxidised": -2.0,
    "nitrite_oxidised": 0.0,
    "ammonia_added": 1.0,
    "ammonium_salt_added": 0.0,
    "urea_added": 1.0,
    "nitrate_taken_up": 1.0,
    "nitrate_denitrified": 1.0,
    "tan_taken_up": -1.0,
}
"""Equivalents of alkalinity for one mole of nitrogen that goes through a process."""


def alkalinity_change_mg(process: AlkalinityProcess, nitrogen_mg: Numbers) -> Numbers:
    """Alkalinity gained (negative: lost) when `nitrogen_mg` goes through a process, mg CaCO3.

    Charge balance: fish excrete NH3 (`ammonia_added`), so that N from feed costs half of what N from an
    ammonium salt costs. Roots give back less than the full charge: multiply uptake by their share.
    Exact, by charge balance.

    >>> round(alkalinity_change_mg("ammonia_oxidised", 1.0), 2)
    -7.15
    """
    return CHARGE[process] * ALKALINITY_PER_N * nitrogen_mg


def nitrification_oxygen_g(
    nitrogen_g: Numbers, yield_ammonia: Numbers = 0.0, yield_nitrite: Numbers = 0.0
) -> Numbers:
    """Oxygen used to turn ammonia-N into nitrate-N, g; yields in g COD of cells per g N lower it.

    Exact, by stoichiometry.

    >>> round(nitrification_oxygen_g(1.0), 3)
    4.569
    """
    return nitrogen_g * (OXYGEN_PER_N["ammonia"] - yield_ammonia + OXYGEN_PER_N["nitrite"] - yield_nitrite)


@possible
def nitrous_acid_mg_l(nitrite_n_mg_l: Numbers, ph: Numbers, temperature_c: Numbers) -> Numbers:
    """Free nitrous acid, mg HNO2-N/L, from nitrite-N (ANTHON76)."""
    return nitrite_n_mg_l * nitrous_acid_fraction_at(10.0 ** (-ph), nitrous_acid_ka(temperature_c))


@possible
def nitrous_acid_ka(temperature_c: Numbers) -> Numbers:
    """Dissociation constant of nitrous acid, mol/kg: e^(-2300/(T + 273)) (ANTHON76)."""
    return np.e ** (-2300.0 / (temperature_c + 273.0))


def nitrous_acid_fraction_at(hydrogen: Numbers, ka: Numbers) -> Numbers:
    """Share of nitrite that is nitrous acid, from hydrogen activity and its constant, both mol/kg.

    Exact, by equilibrium.
    """
    return hydrogen / (hydrogen + ka)


# Kinetics


@dataclass(frozen=True)
class StepKinetics:
    """One step's constants at 20 C; floats, or arrays of members."""

    growth_1_d: Numbers
    decay_1_d: Numbers
    half_saturation_mg_l: Numbers
    half_saturation_oxygen_mg_l: Numbers
    yield_g_cod_g_n: Numbers
    theta_growth: Numbers
    inhibition_ammonia_mg_l: Numbers
    inhibition_nitrous_acid_mg_l: Numbers


@dataclass(frozen=True)
class Kinetics:
    """Constants of both steps; floats, or arrays of members that broadcast with the other arguments."""

    ammonia: StepKinetics
    nitrite: StepKinetics
    half_saturation_alkalinity_mg_l: Numbers
    ph_half_low: Numbers
    ph_half_high: Numbers
    areal_capacity_g_m2_d: Numbers
    nitrite_capacity_ratio: Numbers
    theta_areal_capacity: Numbers
    transfer_factor: Numbers
    nitrite_transfer_share: Numbers
    theta_transfer: Numbers
    theta_decay: Numbers
    nitrogen_in_cells_g_g_cod: Numbers

    def step(self, step: Step) -> StepKinetics:
        """The constants of one step."""
        return self.ammonia if step == "ammonia" else self.nitrite

    @classmethod
    def typical(cls) -> "Kinetics":
        """The typical values of the table of coefficients, as floats."""
        return kinetics({name: coefficient(name).typical for name in KINETIC_COEFFICIENTS})


_SUBSTRATE: Mapping[Step, str] = {"ammonia": "tan", "nitrite": "nitrite"}
_STEP_COEFFICIENTS: Mapping[Step, Mapping[str, str]] = {
    step: {
        "growth_1_d": f"growth_{step}_oxidisers_per_d",
        "decay_1_d": "decay_nitrifiers_per_d",
        "half_saturation_mg_l": f"half_saturation_{substrate}_mg_l",
        "half_saturation_oxygen_mg_l": f"half_saturation_oxygen_{step}_oxidisers_mg_l",
        "yield_g_cod_g_n": f"yield_{step}_oxidisers_g_cod_g_n",
        "theta_growth": f"theta_growth_{step}_oxidisers",
        "inhibition_ammonia_mg_l": f"inhibition_free_ammonia_{step}_oxidisers_mg_l",
        "inhibition_nitrous_acid_mg_l": f"inhibition_nitrous_acid_{step}_oxidisers_mg_l",
    }
    for step, substrate in _SUBSTRATE.items()
}
_SHARED_COEFFICIENTS: Mapping[str, str] = {
    "half_saturation_alkalinity_mg_l": "half_saturation_alkalinity_mg_l",
    "ph_half_low": "ph_half_low",
    "ph_half_high": "ph_half_high",
    "areal_capacity_g_m2_d": "areal_capacity_g_m2_d",
    "nitrite_capacity_ratio": "nitrite_capacity_ratio",
    "theta_areal_capacity": "theta_areal_capacity",
    "transfer_factor": "film_transfer_factor",
    "nitrite_transfer_share": "nitrite_transfer_share",
    "theta_transfer": "theta_film_transfer",
    "theta_decay": "theta_decay",
    "nitrogen_in_cells_g_g_cod": "nitrogen_in_cells_g_n_g_cod",
}
KINETIC_COEFFICIENTS: tuple[str, ...] = tuple(
    dict.fromkeys(
        (
            *_STEP_COEFFICIENTS["ammonia"].values(),
            *_STEP_COEFFICIENTS["nitrite"].values(),
            *_SHARED_COEFFICIENTS.values(),
        )
    )
)
"""Names in the table of coefficients that `kinetics` wants from a draw."""


SAMPLED_BY_RATIO: tuple[str, ...] = (
    "growth_ammonia_oxidisers_per_d",
    "growth_nitrite_oxidisers_per_d",
    "decay_nitrifiers_per_d",
    "half_saturation_tan_mg_l",
    "half_saturation_nitrite_mg_l",
    "half_saturation_alkalinity_mg_l",
    "areal_capacity_g_m2_d",
    "nitrite_capacity_ratio",
    "film_transfer_factor",
    "nitrite_transfer_share",
)
"""Sampled for a garden, the triangle over the logarithm."""
SAMPLED_PLAINLY: tuple[str, ...] = ("theta_decay", "theta_areal_capacity", "ph_half_low")
"""Sampled for a garden as they stand. The other constants of nitrification stay typical."""
CORRELATIONS: Mapping[tuple[str, str], float] = {
    ("growth_ammonia_oxidisers_per_d", "growth_nitrite_oxidisers_per_d"): 0.5,
    ("growth_ammonia_oxidisers_per_d", "decay_nitrifiers_per_d"): 0.5,
    ("growth_nitrite_oxidisers_per_d", "decay_nitrifiers_per_d"): 0.5,
    ("growth_ammonia_oxidisers_per_d", "half_saturation_tan_mg_l"): 0.4,
    ("growth_nitrite_oxidisers_per_d", "half_saturation_nitrite_mg_l"): 0.4,
    ("half_saturation_tan_mg_l", "half_saturation_nitrite_mg_l"): 0.3,
    ("areal_capacity_g_m2_d", "film_transfer_factor"): 0.5,
}
"""Rank correlations: fast growers also want more substrate and die faster (common practice, no source).
Drawn apart from each other they would give films that could live in no garden."""


def kinetic_triangles() -> dict[str, Triangle]:
    """The triangles of `KINETIC_COEFFICIENTS`, to be drawn with `CORRELATIONS`."""

    def triangle(name: str) -> Triangle:
        one = coefficient(name)
        if name in SAMPLED_BY_RATIO:
            return replace(one, logarithmic=True)
        return one if name in SAMPLED_PLAINLY else Triangle(one.typical, one.typical, one.typical)

    return {name: triangle(name) for name in KINETIC_COEFFICIENTS}


def kinetics(values: Mapping[str, Numbers]) -> Kinetics:
    """The constants from sampled values by name (a draw, or its columns for members along the first axis)."""
    return Kinetics(
        ammonia=_step(values, "ammonia"),
        nitrite=_step(values, "nitrite"),
        **{field: values[name] for field, name in _SHARED_COEFFICIENTS.items()},
    )


def _step(values: Mapping[str, Numbers], step: Step) -> StepKinetics:
    names = _STEP_COEFFICIENTS[step]
    return StepKinetics(**{field.name: values[names[field.name]] for field in fields(StepKinetics)})


@possible
def temperature_factor(theta: Numbers, temperature_c: Numbers) -> Numbers:
    """Rate relative to 20 C: theta^(T - 20), level from 30 C, falling to zero from 35 to 45 C.

    Extrapolated below 8 C and not reliable below 5 C, where films do less than this says.
    Form by METEDD (read-2nd); the ends are common practice, no source.
    """
    falling: Numbers = (45.0 - temperature_c) / 10.0
    falling = falling * (falling > 0.0) * (falling < 1.0) + 1.0 * (falling >= 1.0)
    return theta ** (at_most_30_c(temperature_c) - 20.0) * falling


@possible
def at_most_30_c(temperature_c: Numbers) -> Numbers:
    """Temperature, held at 30 C above it: rates rise no further there. Common practice, no source."""
    return temperature_c * (temperature_c < 30.0) + 30.0 * (temperature_c >= 30.0)


@possible
def ph_factor(ph: Numbers, half_low: Numbers = 5.8, half_high: Numbers = 9.5) -> Numbers:
    """Rate at a pH relative to the best: a bell with half-points `half_low` and `half_high`.

    Shape fitted to media beds that ran at pH 6 to 9 (ZOU16); common practice, no source for the points.

    >>> round(ph_factor(7.5), 4)
    0.9709
    """
    return acidity_factor(10.0 ** (-ph), 10.0 ** (-half_low), 10.0 ** (-half_high))


def acidity_factor(hydrogen: Numbers, half_acid: Numbers, half_basic: Numbers) -> Numbers:
    """`ph_factor` from hydrogen activities, mol/kg: of the water and of both half-points.

    Source: as `ph_factor`.
    """
    return 1.0 / (1.0 + hydrogen / half_acid + half_basic / hydrogen)


def saturation_factor(amount_mg_l: Numbers, half_saturation_mg_l: Numbers) -> Numbers:
    """Monod's factor amount/(half saturation + amount); nothing at or below zero. By definition."""
    there = amount_mg_l * (amount_mg_l > 0.0)
    return there / (half_saturation_mg_l + there)


def inhibition_factor(amount_mg_l: Numbers, constant_mg_l: Numbers) -> Numbers:
    """Non-competitive inhibition 1/(1 + amount/constant). By definition."""
    return 1.0 / (1.0 + amount_mg_l / constant_mg_l)


@possible
def rate_factor(
    step: Step,
    temperature_c: Numbers,
    ph: Numbers,
    oxygen_mg_l: Numbers,
    alkalinity_mg_l: Numbers,
    constants: Kinetics,
    free_ammonia_mg_l: Numbers = 0.0,
    nitrous_acid_mg_l: Numbers = 0.0,
) -> Numbers:
    """Phi: a step's rate relative to 20 C with everything saturating; its own substrate left out.

    free_ammonia_mg_l: mg NH3-N/L; nitrous_acid_mg_l: mg HNO2-N/L; both zero leaves inhibition out.
    Own reckoning: the product of the factors of this module.
    """
    return (
        temperature_factor(constants.step(step).theta_growth, temperature_c)
        * ph_factor(ph, constants.ph_half_low, constants.ph_half_high)
        * water_factor(
            constants.step(step),
            oxygen_mg_l,
            saturation_factor(alkalinity_mg_l, constants.half_saturation_alkalinity_mg_l),
            free_ammonia_mg_l,
            nitrous_acid_mg_l,
        )
    )


def water_factor(
    own: StepKinetics,
    oxygen_mg_l: Numbers,
    alkalinity_factor: Numbers,
    free_ammonia_mg_l: Numbers,
    nitrous_acid_mg_l: Numbers,
) -> Numbers:
    """The part of phi that hangs on the water but for its pH: oxygen, alkalinity, inhibition.

    Own reckoning: the product of the factors of this module.
    """
    return (
        alkalinity_factor
        * saturation_factor(oxygen_mg_l, own.half_saturation_oxygen_mg_l)
        * inhibition_factor(free_ammonia_mg_l, own.inhibition_ammonia_mg_l)
        * inhibition_factor(nitrous_acid_mg_l, own.inhibition_nitrous_acid_mg_l)
    )


def oxidation_speed(
    capacity: Numbers, factor: Numbers, substrate_mg_l: Numbers, half_mg_l: Numbers, transfer: Numbers
) -> Numbers:
    """r1 or r2 for each mg/L of substrate: R phi/(K + S + R phi/M).

    capacity: R, at 20 C with everything saturating; factor: phi; transfer: M, water that the film can strip
    of substrate a day. R in g/d goes with M in m3/d, R in mg/L/d with M in 1/d. The last term is what the way
    into a grown film adds to the half saturation; next to nothing in a young one.
    Own reckoning: resistances in a row.
    """
    active = capacity * factor
    return active / (half_mg_l + substrate_mg_l + active / transfer)


@possible
def decay_1_d(step: Step, temperature_c: Numbers, constants: Kinetics) -> Numbers:
    """Share of a step's bacteria that decays in a day. Form: METEDD (read-2nd). Source: METEDD (read-2nd)."""
    return constants.step(step).decay_1_d * constants.theta_decay ** (temperature_c - 20.0)


@possible
def epa_growth_1_d(temperature_c: Numbers, tan_mg_l: Numbers, oxygen_mg_l: Numbers, ph: Numbers) -> Numbers:
    """Growth of nitrifiers in suspended sludge, one step, 8 to 30 C (EPA93, memory).

    The pessimistic alternative at low pH: media beds that work at pH 6 contradict it.
    """
    acid: Numbers = 1.0 - 0.833 * (7.2 - ph)
    acid = acid * (acid > 0.0) * (acid < 1.0) + 1.0 * (acid >= 1.0)
    warmth = np.e ** (0.098 * (temperature_c - 15.0))
    half = 10.0 ** (0.051 * temperature_c - 1.158)
    return 0.47 * warmth * saturation_factor(tan_mg_l, half) * saturation_factor(oxygen_mg_l, 1.3) * acid


def capacity_left(decay_1_d: Numbers, days: Numbers) -> Numbers:
    """Share of a capacity left after days without food. Exact, by first-order decay.

    >>> round(capacity_left(0.03, 10.0), 4)
    0.7408
    """
    return np.e ** (-decay_1_d * days)


def days_to_fall(
    start_mg_l: ArrayLike, end_mg_l: ArrayLike, rate_mg_l_d: ArrayLike, half_saturation_mg_l: ArrayLike
) -> Floats:
    """Days that a constant capacity takes from one concentration to another (Monod batch, closed form).

    Exact, by integration.
    """
    start, end = np.asarray(start_mg_l, dtype=np.float64), np.asarray(end_mg_l)
    days: Floats = (np.asarray(half_saturation_mg_l) * np.log(start / end) + start - end) / np.asarray(
        rate_mg_l_d
    )
    return days


# Sizing


@possible
def media_litres(
    tan_g_day: ArrayLike, areal_g_m2_d: ArrayLike, surface_m2_m3: ArrayLike, wetted_share: ArrayLike
) -> Floats:
    """Litres of medium whose film oxidises `tan_g_day`; infinite where the film does nothing.

    surface_m2_m3: specific surface of the medium in bulk; wetted_share: part that works. By definition.
    """
    with np.errstate(divide="ignore"):
        film = (
            np.asarray(areal_g_m2_d, dtype=np.float64) * np.asarray(wetted_share) * np.asarray(surface_m2_m3)
        )
        litres: Floats = 1000.0 * np.asarray(tan_g_day) / film
    return litres


@possible
def sphere_surface_m2_m3(diameter_m: Numbers, porosity: Numbers) -> Numbers:
    """Specific surface of a bulk of smooth spheres, a lower check on a maker's figure. Exact, by geometry.

    >>> round(sphere_surface_m2_m3(0.016, 0.42), 1)
    217.5
    """
    return 6.0 * (1.0 - porosity) / diameter_m


@possible
def flow_for_tan_l_h(tan_g_day: Numbers, tan_mg_l: Numbers, single_pass_efficiency: Numbers) -> Numbers:
    """Flow through a filter that brings it `tan_g_day` at a tank concentration, L/h. Exact, by mass balance.

    >>> flow_for_tan_l_h(3.0, 0.5, 0.4)
    625.0
    """
    return 1000.0 * tan_g_day / 24.0 / (tan_mg_l * single_pass_efficiency)


# Ammonia for a start-up


@possible
def ammonium_salt_g(rise_mg_l: Numbers, volume_l: Numbers, nitrogen_fraction: Numbers) -> Numbers:
    """Grams of a salt or urea for a rise of TAN; nitrogen_fraction is g N per g of it.

    Exact, by molar mass.
    """
    return rise_mg_l * volume_l / 1000.0 / nitrogen_fraction


@possible
def ammonia_density_g_ml(strength_pct: ArrayLike) -> Floats:
    """Density at 20 C of a solution with this much NH3 by weight, between the rows of its table.

    Source: CRC (from memory).

    >>> float(ammonia_density_g_ml(10.0))
    0.9575
    """
    rows = tables.load("ammonia_solutions").rows
    strengths = [row.number("strength_pct") for row in rows]
    densities = [row.number("density_g_ml") for row in rows]
    return np.asarray(np.interp(np.asarray(strength_pct, dtype=np.float64), strengths, densities))


@possible
def ammonia_solution_ml(
    rise_mg_l: Numbers, volume_l: Numbers, strength_pct: Numbers, density_g_ml: Numbers
) -> Numbers:
    """Millilitres of ammonia solution for a rise of TAN.

    strength_pct: NH3 by weight (a label may mean NH4OH or weight by volume: ask). Exact, by molar mass.

    >>> round(ammonia_solution_ml(2.0, 1000.0, 10.0, 0.9575), 2)
    25.4
    """
    nitrogen_g_ml = density_g_ml * strength_pct / 100.0 * (ATOMIC_MASS_N_G_MOL / MOLAR_MASS_NH3_G_MOL)
    return rise_mg_l * volume_l / 1000.0 / nitrogen_g_ml
