"""Carbonate chemistry of fresh water: pH, alkalinity, dissolved carbon dioxide, calcite.

Alkalinity is in mg/L CaCO3, carbon dioxide in mg/L CO2, inorganic carbon in mmol/L, ionic strength in mol/kg.
A litre counts as a kilogram (0.8 % at most up to 40 C). pH is an activity, as a meter and a drop kit show it.
Every function takes floats and arrays alike. Valid for 0 to 40 C and ionic strength up to about 0.1.

Complexes are left out: with much calcium above pH 8 the solver reads 0.1 to 0.3 high, the cautious side.
A KH kit also titrates phosphate, ammonia and humic acids, which counts them as carbonate here.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from aquacalc.constants import (
    ATOMIC_MASS_CA_G_MOL,
    KELVIN_0_C,
    MG_CACO3_PER_MEQ,
    MOLAR_MASS_CO2_G_MOL,
    Numbers,
)
from aquacalc.possible import possible

MG_L_CACO3_PER_EQ_L = 1000.0 * MG_CACO3_PER_MEQ
MG_L_CO2_PER_MOL_L = 1000.0 * MOLAR_MASS_CO2_G_MOL
OUTDOOR_CO2_ATM = 420e-6  # NOAA global means of 2023 and 2024 lie at 419 to 423 ppm (from memory)

LIKELY_CARBON_DIOXIDE_MG_L = (0.3, 80.0)
"""Outside of this one of the readings, pH or alkalinity, is likely wrong (practice)."""

USUAL_CONDUCTIVITY_US_CM = 600.0
"""Loop water of which it is not known. Common practice, no source."""

SCALE_INDEX = 0.3
"""Saturation index of calcite above which lime settles (practice)."""

_STEP_LIMIT = 2.0
_STEP_TOLERANCE = 1e-9
_MOST_STEPS = 60


# Constants


@possible
def log_k1(temperature_c: Numbers) -> Numbers:
    """log10 of the first dissociation constant of carbonic acid. Source: PLUBUS82 (read-2nd), 0 to 90 C.

    >>> round(float(log_k1(25.0)), 3)
    -6.352
    """
    kelvin = temperature_c + KELVIN_0_C
    return (
        -356.3094
        - 0.06091964 * kelvin
        + 21834.37 / kelvin
        + 126.8339 * np.log10(kelvin)
        - 1684915.0 / kelvin**2
    )


@possible
def log_k2(temperature_c: Numbers) -> Numbers:
    """log10 of the second dissociation constant of carbonic acid. Source: PLUBUS82 (read-2nd), 0 to 90 C."""
    kelvin = temperature_c + KELVIN_0_C
    return (
        -107.8871
        - 0.03252849 * kelvin
        + 5151.79 / kelvin
        + 38.92561 * np.log10(kelvin)
        - 563713.9 / kelvin**2
    )


@possible
def log_kh(temperature_c: Numbers) -> Numbers:
    """log10 of the solubility of carbon dioxide, mol/kg/atm. Source: PLUBUS82 (read-2nd), 0 to 90 C."""
    kelvin = temperature_c + KELVIN_0_C
    return (
        108.3865 + 0.01985076 * kelvin - 6919.53 / kelvin - 40.45154 * np.log10(kelvin) + 669365.0 / kelvin**2
    )


@possible
def log_kw(temperature_c: Numbers) -> Numbers:
    """log10 of the ion product of water. Source: NORDSTROM90 (read-2nd)."""
    kelvin = temperature_c + KELVIN_0_C
    return (
        -283.971
        - 0.05069842 * kelvin
        + 13323.0 / kelvin
        + 102.24447 * np.log10(kelvin)
        - 1119669.0 / kelvin**2
    )


@possible
def log_ksp_calcite(temperature_c: Numbers) -> Numbers:
    """log10 of the solubility product of calcite. Source: PLUBUS82 (read-2nd), 0 to 90 C."""
    kelvin = temperature_c + KELVIN_0_C
    return -171.9065 - 0.077993 * kelvin + 2839.319 / kelvin + 71.595 * np.log10(kelvin)


@possible
def activity(charge: int, temperature_c: Numbers, ionic_strength: Numbers) -> Numbers:
    """Activity coefficient of an ion by the Davies equation; ionic strength in mol/kg, up to about 0.5.

    Permittivity of water: MALMAR56 (from memory).

    >>> round(float(activity(1, 25.0, 0.009)), 3)
    0.906
    """
    permittivity = (
        87.740 - 0.40008 * temperature_c + 9.398e-4 * temperature_c**2 - 1.410e-6 * temperature_c**3
    )
    debye_huckel = 1.82e6 * (permittivity * (temperature_c + KELVIN_0_C)) ** -1.5
    root = ionic_strength**0.5
    return 10.0 ** (-debye_huckel * charge**2 * (root / (1.0 + root) - 0.3 * ionic_strength))


def ionic_strength_from_conductivity(ec25_us_cm: Numbers) -> Numbers:
    """Ionic strength (mol/kg) guessed from conductivity at 25 C in uS/cm, 20 % either way.

    Source: SNOJEN (from memory).
    """
    return 1.6e-5 * ec25_us_cm


def usual_ionic_strength(ec25_us_cm: float) -> float:
    """Ionic strength, mol/kg, by a conductivity; that of usual loop water where it is NaN.

    Source: as `ionic_strength_from_conductivity`; the usual water is common practice, no source.

    >>> round(usual_ionic_strength(1000.0), 3), round(usual_ionic_strength(float("nan")), 4)
    (0.016, 0.0096)
    """
    known = USUAL_CONDUCTIVITY_US_CM if np.isnan(ec25_us_cm) else ec25_us_cm
    return float(ionic_strength_from_conductivity(known))


@dataclass(frozen=True)
class Constants:
    """Constants of one water for hydrogen as an activity and carbon as concentrations, mol/kg.

    k1, k2: of carbonic acid; kw_gamma: hydroxide concentration times hydrogen activity;
    gamma: activity coefficient of a single charge.
    """

    k1: Numbers
    k2: Numbers
    kw_gamma: Numbers
    gamma: Numbers


@possible
def constants_at(temperature_c: Numbers, ionic_strength: Numbers) -> Constants:
    """Constants at a temperature and ionic strength. The double charge has the fourth power of `gamma`."""
    gamma = activity(1, temperature_c, ionic_strength)
    return Constants(
        k1=10.0 ** log_k1(temperature_c) / gamma,
        k2=10.0 ** log_k2(temperature_c) / gamma**3,
        kw_gamma=10.0 ** log_kw(temperature_c) / gamma,
        gamma=gamma,
    )


# From a measured pH


def _carbonate_eq_l(alkalinity_mg_l: Numbers, hydrogen: Numbers, at: Constants) -> Numbers:
    return alkalinity_mg_l / MG_L_CACO3_PER_EQ_L - at.kw_gamma / hydrogen + hydrogen / at.gamma


@possible
def inorganic_carbon_mmol_l(
    ph: Numbers, alkalinity_mg_l: Numbers, temperature_c: Numbers, ionic_strength: Numbers = 0.0
) -> Numbers:
    """Dissolved inorganic carbon, mmol/L, from pH and alkalinity.

    Exact, by charge balance with the constants of this module; 0 to 40 C, ionic strength up to 0.1.

    >>> round(float(inorganic_carbon_mmol_l(7.0, 100.0, 25.0, 0.002)), 2)
    2.42
    """
    at = constants_at(temperature_c, ionic_strength)
    hydrogen = 10.0 ** (-ph)
    carbonate = _carbonate_eq_l(alkalinity_mg_l, hydrogen, at)
    whole = hydrogen**2 + at.k1 * hydrogen + at.k1 * at.k2
    return 1000.0 * carbonate * whole / (at.k1 * hydrogen + 2.0 * at.k1 * at.k2)


@possible
def carbon_dioxide_mg_l(
    ph: Numbers, alkalinity_mg_l: Numbers, temperature_c: Numbers, ionic_strength: Numbers = 0.0
) -> Numbers:
    """Free carbon dioxide, mg/L, from pH and alkalinity. Below 0.3 or above 80 one of the readings is wrong.

    Exact, by equilibrium, 0 to 40 C; those two ends are common practice, no source.

    >>> round(float(carbon_dioxide_mg_l(6.8, 50.0, 25.0, 0.009)), 1)
    14.2
    """
    at = constants_at(temperature_c, ionic_strength)
    hydrogen = 10.0 ** (-ph)
    carbonate = _carbonate_eq_l(alkalinity_mg_l, hydrogen, at)
    return MG_L_CO2_PER_MOL_L * carbonate * hydrogen**2 / (at.k1 * hydrogen + 2.0 * at.k1 * at.k2)


@possible
def alkalinity_mg_l(
    ph: Numbers, inorganic_carbon_mmol_l: Numbers, temperature_c: Numbers, ionic_strength: Numbers = 0.0
) -> Numbers:
    """Alkalinity, mg/L CaCO3, that gives a pH with a given inorganic carbon (mmol/L).

    Exact, by charge balance with the constants of this module; 0 to 40 C, ionic strength up to 0.1.
    """
    at = constants_at(temperature_c, ionic_strength)
    hydrogen = 10.0 ** (-ph)
    share = _charges_per_carbon(hydrogen, at)
    return MG_L_CACO3_PER_EQ_L * (
        inorganic_carbon_mmol_l / 1000.0 * share + at.kw_gamma / hydrogen - hydrogen / at.gamma
    )


@possible
def alkalinity_at_carbon_dioxide_mg_l(
    ph: Numbers, carbon_dioxide_mg_l: Numbers, temperature_c: Numbers, ionic_strength: Numbers = 0.0
) -> Numbers:
    """Alkalinity, mg/L CaCO3, that gives a pH while free carbon dioxide (mg/L) stays at its usual level.

    Exact, by charge balance with the constants of this module; 0 to 40 C, ionic strength up to 0.1.

    >>> round(float(alkalinity_at_carbon_dioxide_mg_l(6.8, 10.0, 25.0, 0.009)))
    35
    """
    at = constants_at(temperature_c, ionic_strength)
    hydrogen = 10.0 ** (-ph)
    dioxide = carbon_dioxide_mg_l / MG_L_CO2_PER_MOL_L
    return MG_L_CACO3_PER_EQ_L * (
        dioxide * (at.k1 / hydrogen + 2.0 * at.k1 * at.k2 / hydrogen**2)
        + at.kw_gamma / hydrogen
        - hydrogen / at.gamma
    )


# To a pH


@possible
def ph_closed(
    alkalinity_mg_l: Numbers,
    inorganic_carbon_mmol_l: Numbers,
    temperature_c: Numbers,
    ionic_strength: Numbers = 0.0,
) -> Numbers:
    """pH of water that exchanges no carbon dioxide with the air, from alkalinity and inorganic carbon.

    Where both are nearly equal (pH about 8.3) the result hangs on their small difference: show one decimal.
    Exact, by charge balance with the constants of this module, in steps; 0 to 40 C, ionic strength up to 0.1.

    >>> round(float(ph_closed(100.0, 2.424, 25.0, 0.002)), 2)
    7.0
    """
    return ph_closed_at(alkalinity_mg_l, inorganic_carbon_mmol_l, constants_at(temperature_c, ionic_strength))


@possible
def ph_closed_at(alkalinity_mg_l: Numbers, inorganic_carbon_mmol_l: Numbers, at: Constants) -> Numbers:
    """`ph_closed` with constants that are already at hand. Source: as `ph_closed`."""
    alkalinity = alkalinity_mg_l / MG_L_CACO3_PER_EQ_L
    carbon = inorganic_carbon_mmol_l / 1000.0

    def terms(hydrogen: Numbers) -> tuple[Numbers, Numbers]:
        protons = hydrogen + at.k1
        whole = hydrogen * protons + at.k1 * at.k2
        charges = carbon * at.k1 * (hydrogen + 2.0 * at.k2) / whole
        slope = carbon * at.k1 * hydrogen / whole - charges * hydrogen * (hydrogen + protons) / whole
        hydroxide = at.kw_gamma / hydrogen
        return charges + hydroxide, slope - hydroxide

    # Without the ions of water it is a quadratic in hydrogen; `ratio` is charges per carbon, 0 to 2.
    ratio: Numbers = np.minimum(np.maximum(alkalinity / (carbon + 1e-30), 1e-6), 2.0 - 1e-6)
    linear = (ratio - 1.0) * at.k1
    root = np.sqrt(linear * linear + 4.0 * ratio * (2.0 - ratio) * at.k1 * at.k2)
    start = (root - linear) / (2.0 * ratio)
    # No more acid than strong and carbonic acid give, no more base than the alkalinity.
    acid_end = np.sqrt(at.gamma * (at.k1 * carbon + at.kw_gamma)) + at.gamma * np.maximum(-alkalinity, 0.0)
    base_end = at.kw_gamma / (np.maximum(alkalinity, 0.0) + np.sqrt(at.kw_gamma / at.gamma))
    return _solve(alkalinity, terms, np.maximum(np.minimum(start, acid_end), base_end), at)


NEWTON_STEPS = 2
"""Steps of `hydrogen_closed`: enough for 0.001 in pH at every alkalinity from 0.05 mg/L and carbon dioxide
from 0.2."""


def hydrogen_closed(alkalinity_eq_l: Numbers, carbon_mol_l: Numbers, at: Constants) -> Numbers:
    """Hydrogen activity, mol/kg, of water that exchanges no carbon dioxide, by a fixed number of steps.

    The same balance as `ph_closed_at`, made of operators only: for a model that asks for it every hour, on
    floats and arrays alike. Alkalinity in eq/L, not negative; carbon in mol/L, above zero.
    Own reckoning: Newton's method.
    """
    ratio: Numbers = alkalinity_eq_l / carbon_mol_l
    ratio = ratio * (ratio < 1.9999) + 1.9999 * (ratio >= 1.9999) + 1e-9
    linear = (ratio - 1.0) * at.k1
    both = at.k1 * at.k2
    root = (linear * linear + 4.0 * ratio * (2.0 - ratio) * both) ** 0.5
    # Without the ions of water, in the form that does not cancel on either side of one charge per carbon.
    start = (linear < 0.0) * (root - linear) / (2.0 * ratio) + (linear >= 0.0) * (
        2.0 * (2.0 - ratio) * both / (root + linear + 1e-30)
    )
    # Carbonic acid alone gives this much; less alkalinity than that acid cannot make it more acid.
    most = (at.gamma * (at.k1 * carbon_mol_l + at.kw_gamma)) ** 0.5
    hydrogen = start * (start < most) + most * (start >= most)
    for _ in range(NEWTON_STEPS):
        protons = hydrogen + at.k1
        whole = hydrogen * protons + both
        share = carbon_mol_l * at.k1 / whole
        charges = share * (hydrogen + 2.0 * at.k2)
        hydroxide = at.kw_gamma / hydrogen
        bases = charges + hydroxide
        falling = hydrogen * (charges * (hydrogen + protons) / whole - share) + hydroxide
        free = hydrogen / at.gamma
        acids = alkalinity_eq_l + free
        # Newton's step in the logarithms of both sides, the difference of which is nearly their distance over
        # their mean; the new hydrogen is the exponential of the step by its first rational form.
        step = 2.0 * (acids - bases) / ((acids + bases) * (free / acids + falling / bases))
        hydrogen = hydrogen * (2.0 - step) / (2.0 + step)
    return hydrogen


def carbon_dioxide_share(hydrogen: Numbers, at: Constants) -> Numbers:
    """Share of the inorganic carbon that is free carbon dioxide. Exact, by equilibrium."""
    return hydrogen * hydrogen / (hydrogen * (hydrogen + at.k1) + at.k1 * at.k2)


def carbon_dioxide_slope(hydrogen: Numbers, carbon_mol_l: Numbers, at: Constants) -> Numbers:
    """Rise of free carbon dioxide with inorganic carbon while alkalinity stays, mol/mol.

    Larger than `carbon_dioxide_share`: near pH 8 most of what is added goes to bicarbonate, below 6 hardly
    any. Exact, by derivation of the charge balance.
    """
    both = at.k1 * at.k2
    whole = hydrogen * (hydrogen + at.k1) + both
    charges = at.k1 * (hydrogen + 2.0 * at.k2) / whole
    losing = carbon_mol_l * at.k1 * (hydrogen * (hydrogen + 4.0 * at.k2) + both) / (whole * whole)
    gaining = carbon_mol_l * hydrogen * (at.k1 * hydrogen + 2.0 * both) / (whole * whole)
    ions = at.kw_gamma / (hydrogen * hydrogen) + 1.0 / at.gamma
    return hydrogen * hydrogen / whole + gaining * charges / (losing + ions)


@possible
def ph_at_carbon_dioxide(
    alkalinity_mg_l: Numbers,
    carbon_dioxide_mg_l: Numbers,
    temperature_c: Numbers,
    ionic_strength: Numbers = 0.0,
) -> Numbers:
    """pH once free carbon dioxide has gone back to a given level, mg/L.

    Exact, by charge balance with the constants of this module, in steps; 0 to 40 C, ionic strength up to 0.1.

    >>> round(float(ph_at_carbon_dioxide(60.0, 5.0, 25.0, 0.0089)), 2)
    7.33
    """
    return ph_at_carbon_dioxide_at(
        alkalinity_mg_l, carbon_dioxide_mg_l, constants_at(temperature_c, ionic_strength)
    )


@possible
def ph_at_carbon_dioxide_at(alkalinity_mg_l: Numbers, carbon_dioxide_mg_l: Numbers, at: Constants) -> Numbers:
    """`ph_at_carbon_dioxide` with constants that are already at hand. Source: as `ph_at_carbon_dioxide`."""
    alkalinity = alkalinity_mg_l / MG_L_CACO3_PER_EQ_L
    first = carbon_dioxide_mg_l / MG_L_CO2_PER_MOL_L * at.k1 + at.kw_gamma
    second = 2.0 * carbon_dioxide_mg_l / MG_L_CO2_PER_MOL_L * at.k1 * at.k2

    def terms(hydrogen: Numbers) -> tuple[Numbers, Numbers]:
        single = first / hydrogen
        double = second / (hydrogen * hydrogen)
        return single + double, -single - 2.0 * double

    # Without carbonate it is a quadratic in hydrogen, taken in the form that does not cancel.
    half = (abs(alkalinity) + np.sqrt(alkalinity * alkalinity + 4.0 * first / at.gamma)) / 2.0
    start = (alkalinity >= 0) * first / half + (alkalinity < 0) * at.gamma * half
    return _solve(alkalinity, terms, start, at)


def hydrogen_at_carbon_dioxide(
    alkalinity_eq_l: Numbers, carbon_dioxide_mol_l: Numbers, at: Constants
) -> Numbers:
    """Hydrogen activity, mol/kg, at a given free carbon dioxide, without solving for it.

    The same balance as `ph_at_carbon_dioxide_at`, made of operators only, to 0.002 in pH from 1 mg/L of
    carbon dioxide on, up to 300 mg/L of alkalinity: for a model that asks for it every hour. Alkalinity in
    eq/L, not negative; carbon dioxide in mol/L, above zero. Own reckoning.
    """
    bases = carbon_dioxide_mol_l * at.k1 + at.kw_gamma
    double = 2.0 * carbon_dioxide_mol_l * at.k1 * at.k2
    # A quadratic without carbonate, and then with the carbonate that is there by the first.
    first = _positive_root(alkalinity_eq_l, bases, at.gamma)
    return _positive_root(alkalinity_eq_l, bases + double / first, at.gamma)


def _positive_root(alkalinity_eq_l: Numbers, bases: Numbers, gamma: Numbers) -> Numbers:
    """Hydrogen h for which alkalinity + h/gamma = bases/h, in the form that does not cancel."""
    return 2.0 * bases / (alkalinity_eq_l + (alkalinity_eq_l * alkalinity_eq_l + 4.0 * bases / gamma) ** 0.5)


@possible
def ph_open(
    alkalinity_mg_l: Numbers,
    temperature_c: Numbers,
    ionic_strength: Numbers = 0.0,
    air_co2_atm: Numbers = OUTDOOR_CO2_ATM,
    pressure_atm: Numbers = 1.0,
) -> Numbers:
    """pH of water in equilibrium with air. A closed greenhouse at night holds 600 to 1500e-6 atm.

    Exact, by equilibrium, 0 to 40 C; carbon dioxide outdoors from NOAACO2 (from memory).

    >>> round(float(ph_open(20.0, 20.0, 0.0004)), 2)
    7.75
    """
    dioxide = carbon_dioxide_in_equilibrium_mg_l(temperature_c, air_co2_atm, pressure_atm)
    return ph_at_carbon_dioxide(alkalinity_mg_l, dioxide, temperature_c, ionic_strength)


@possible
def carbon_dioxide_in_equilibrium_mg_l(
    temperature_c: Numbers, air_co2_atm: Numbers = OUTDOOR_CO2_ATM, pressure_atm: Numbers = 1.0
) -> Numbers:
    """Free carbon dioxide, mg/L, in equilibrium with air whose share of carbon dioxide is given for 1 atm.

    Exact, by Henry's law with `log_kh`.

    >>> round(float(carbon_dioxide_in_equilibrium_mg_l(25.0)), 2)
    0.63
    """
    return MG_L_CO2_PER_MOL_L * 10.0 ** log_kh(temperature_c) * air_co2_atm * pressure_atm


def _charges_per_carbon(hydrogen: Numbers, at: Constants) -> Numbers:
    whole = hydrogen * (hydrogen + at.k1) + at.k1 * at.k2
    return at.k1 * (hydrogen + 2.0 * at.k2) / whole


def _solve(
    alkalinity: Numbers,
    terms: Callable[[Numbers], tuple[Numbers, Numbers]],
    start: Numbers,
    at: Constants,
) -> Numbers:
    """pH at which bases balance acids: Newton steps on the logarithm of both sides over that of hydrogen.

    In these coordinates both sides are nearly straight, and steps of at most 2 cannot circle round a root.
    `terms` gives the sum of the bases and its derivative by the logarithm of hydrogen.
    """
    acids_fixed = np.maximum(alkalinity, 0.0)
    bases_fixed = np.maximum(-alkalinity, 0.0)
    hydrogen = start
    for _ in range(_MOST_STEPS):
        bases, slope = terms(hydrogen)
        bases = bases + bases_fixed
        free = hydrogen / at.gamma
        acids = acids_fixed + free
        step = np.log(acids / bases) / (free / acids - slope / bases)
        step = np.minimum(np.maximum(step, -_STEP_LIMIT), _STEP_LIMIT)
        hydrogen = hydrogen * np.exp(-step)
        if not np.any(abs(step) > _STEP_TOLERANCE):
            found: Numbers = -np.log10(hydrogen)
            return found
    raise ArithmeticError("pH was not found")


# Whole waters


@dataclass(frozen=True)
class Water:
    """What mixing and dosing conserve of a water, and what its pH hangs on besides."""

    alkalinity_mg_l: Numbers
    inorganic_carbon_mmol_l: Numbers
    temperature_c: Numbers
    ionic_strength: Numbers = 0.0

    @property
    def ph(self) -> Numbers:
        """pH while no carbon dioxide is exchanged with the air."""
        return ph_closed(
            self.alkalinity_mg_l, self.inorganic_carbon_mmol_l, self.temperature_c, self.ionic_strength
        )

    @property
    def carbon_dioxide_mg_l(self) -> Numbers:
        """Free carbon dioxide, mg/L."""
        at = constants_at(self.temperature_c, self.ionic_strength)
        hydrogen = 10.0 ** -ph_closed_at(self.alkalinity_mg_l, self.inorganic_carbon_mmol_l, at)
        whole = hydrogen * (hydrogen + at.k1) + at.k1 * at.k2
        return MOLAR_MASS_CO2_G_MOL * self.inorganic_carbon_mmol_l * hydrogen**2 / whole

    def plus(self, alkalinity_mg_l: Numbers, inorganic_carbon_mmol_l: Numbers) -> "Water":
        """The water after alkalinity and inorganic carbon have been added, all of it still in the water."""
        return Water(
            self.alkalinity_mg_l + alkalinity_mg_l,
            self.inorganic_carbon_mmol_l + inorganic_carbon_mmol_l,
            self.temperature_c,
            self.ionic_strength,
        )


@possible
def water(
    ph: Numbers, alkalinity_mg_l: Numbers, temperature_c: Numbers, ionic_strength: Numbers = 0.0
) -> Water:
    """The water that has a measured pH and alkalinity."""
    carbon = inorganic_carbon_mmol_l(ph, alkalinity_mg_l, temperature_c, ionic_strength)
    return Water(alkalinity_mg_l, carbon, temperature_c, ionic_strength)


@possible
def mix(first: Water, second: Water, share: Numbers) -> Water:
    """Mixture with `share` (0 to 1) of the second water. Alkalinity, carbon, heat and ions mix; pH does not.

    >>> old, tap = water(6.2, 10.0, 20.0, 0.0002), water(8.0, 120.0, 20.0, 0.0024)
    >>> round(float(mix(old, tap, 0.25).ph), 2)
    6.87
    """

    def between(a: Numbers, b: Numbers) -> Numbers:
        return a + share * (b - a)

    return Water(
        between(first.alkalinity_mg_l, second.alkalinity_mg_l),
        between(first.inorganic_carbon_mmol_l, second.inorganic_carbon_mmol_l),
        between(first.temperature_c, second.temperature_c),
        between(first.ionic_strength, second.ionic_strength),
    )


@possible
def calcite_saturation_index(
    ph: Numbers,
    alkalinity_mg_l: Numbers,
    calcium_mg_l: Numbers,
    temperature_c: Numbers,
    ionic_strength: Numbers = 0.0,
) -> Numbers:
    """Above 0.3 scale forms; below 0 shell, limestone and coral dissolve slowly. Reads 0.02 to 0.04 high.

    Calcium in mg/L, above zero.
    By definition, with PLUBUS82 (read-2nd); where scale forms is common practice, no source.

    >>> round(float(calcite_saturation_index(7.2, 80.0, 60.0, 25.0, 0.00885)), 2)
    -0.48
    """
    at = constants_at(temperature_c, ionic_strength)
    hydrogen = 10.0 ** (-ph)
    charges = _carbonate_eq_l(alkalinity_mg_l, hydrogen, at)
    carbonate = charges * at.k2 / (hydrogen + 2.0 * at.k2)
    calcium = calcium_mg_l / (1000.0 * ATOMIC_MASS_CA_G_MOL)
    return np.log10(calcium * carbonate * at.gamma**8) - log_ksp_calcite(temperature_c)
