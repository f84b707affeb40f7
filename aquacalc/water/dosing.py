"""Doses: grams of a chemical, and what the water's pH does at once and once it has settled.

Grams for a pH are found by equilibrium, never by a straight line. A base acts twice: at once, while no
carbon dioxide is exchanged with the air, and settled, when free carbon dioxide is back at its usual level.
Hydroxides live on the free carbon dioxide that is there: there is a most for a day, and one for a portion.
Volumes are all the circulating water. No dose may be given by date: test first, and again before the next.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from aquacalc import tables
from aquacalc.constants import MG_CACO3_PER_MEQ, MOLAR_MASS_CO2_G_MOL, Numbers
from aquacalc.possible import possible
from aquacalc.water import ammonia, carbonate
from aquacalc.water.carbonate import Water

ELEMENTS = ("K", "Ca", "Mg", "Na", "Cl", "N", "P", "S", "Fe")
HIGHEST_PH = 7.8
"""No dose takes the water beyond it. Common practice, no source."""
WELL_AIRED_CARBON_DIOXIDE_MG_L = 5.0
"""Free carbon dioxide of a well-aired loop, low end of the usual 5 to 10. Common practice, no source."""
HYDROXIDE_SHARE_ADVISED, HYDROXIDE_SHARE_REFUSED = 0.35, 0.4
"""Equivalents of a portion per mol of free carbon dioxide; own reckoning by equilibrium."""
STRIPPED_CARBON_DIOXIDE_MG_L = 3.0
"""What strong aeration leaves. Common practice, no source."""
PH_STEP_PER_DAY = tables.load("coefficients").row("ph_step_per_day").number("typical")
"""Most that a day may move pH; more below pH 5.5, see `advice.doses.portion`. Common practice, no source."""
MILDEST_BASE = "potassium_bicarbonate"
"""The base for small systems and beginners; key of `data/chemicals.csv`. Common practice, no source."""

Objection = Literal["ph_step", "ph_high", "hydroxide_share", "unionised_ammonia", "calcite"]
Bound = Literal["ph_step", "ph_high", "hydroxide_share", "not_raised"]


@dataclass(frozen=True)
class Chemical:
    """A chemical as the table has it.

    alkalinity_eq_mol: alkalinity of a mole, negative for acids. carbon_mol_eq: inorganic carbon that comes
    with an equivalent. elements: mass fractions. purity_typical: of goods on sale, 1 where not known.
    """

    key: str
    kind: str
    molar_mass_g_mol: float
    alkalinity_eq_mol: float
    carbon_mol_eq: float
    elements: Mapping[str, float]
    purity_typical: float = 1.0

    @property
    def is_hydroxide(self) -> bool:
        """A base that brings no carbonate of its own."""
        return self.alkalinity_eq_mol > 0.0 and self.carbon_mol_eq == 0.0

    @property
    def grams_per_eq(self) -> float:
        """Grams of an equivalent of alkalinity; negative for acids."""
        return self.molar_mass_g_mol / self.alkalinity_eq_mol


def chemical(name: str) -> Chemical:
    """A chemical of `data/chemicals.csv`; `InputError` with the nearest name where there is none.

    >>> chemical("potassium_hydroxide").is_hydroxide
    True
    """
    row = tables.load("chemicals").row(name)

    def known(column: str, otherwise: float) -> float:
        value = row.number(column)
        return otherwise if np.isnan(value) else value

    return Chemical(
        key=row.key,
        kind=row.text("kind"),
        molar_mass_g_mol=row.number("molar_mass_g_mol"),
        alkalinity_eq_mol=row.number("alkalinity_eq_mol"),
        carbon_mol_eq=known("carbon_mol_eq", 0.0),
        elements={e: known(f"{e.lower()}_g_g", 0.0) for e in ELEMENTS},
        purity_typical=known("purity_typical", 1.0),
    )


# Grams


@possible
def grams_for_alkalinity(
    of: Chemical, rise_mg_l: Numbers, volume_l: Numbers, purity: Numbers = 1.0
) -> Numbers:
    """Grams that change alkalinity by `rise_mg_l` (mg/L CaCO3; a fall, for an acid, is negative).

    Exact, by charge balance.

    >>> round(grams_for_alkalinity(chemical("potassium_bicarbonate"), 10.0, 1000.0), 2)
    20.01
    """
    return rise_mg_l / MG_CACO3_PER_MEQ * volume_l / 1000.0 * of.grams_per_eq / purity


@possible
def rise_of_grams_mg_l(of: Chemical, grams: Numbers, volume_l: Numbers, purity: Numbers = 1.0) -> Numbers:
    """Change of alkalinity, mg/L CaCO3, that grams of a chemical bring. Exact, by charge balance."""
    return grams * purity / of.grams_per_eq * 1000.0 / volume_l * MG_CACO3_PER_MEQ


@possible
def grams_for_element(
    of: Chemical, element: str, rise_mg_l: Numbers, volume_l: Numbers, purity: Numbers = 1.0
) -> Numbers:
    """Grams that raise an element (K, Ca, Mg, Na, Cl, N, P, S, Fe) by `rise_mg_l`. Exact, by molar mass.

    >>> round(grams_for_element(chemical("sodium_chloride"), "Cl", 20.44, 1000.0), 1)
    33.7
    """
    return rise_mg_l * volume_l / 1000.0 / (of.elements[element] * purity)


@possible
def element_rises_mg_l(
    of: Chemical, grams: Numbers, volume_l: Numbers, purity: Numbers = 1.0
) -> dict[str, Numbers]:
    """What grams of a chemical add of each element that it holds, mg/L. Exact, by molar mass."""
    return {
        element: 1000.0 * grams * purity * fraction / volume_l
        for element, fraction in of.elements.items()
        if fraction > 0.0
    }


# Equilibrium


def after_rise(water: Water, of: Chemical, rise_mg_l: Numbers) -> Water:
    """The water at once after a dose that changes its alkalinity by `rise_mg_l`.

    >>> before = carbonate.water(6.4, 20.0, 25.0, 0.00889)
    >>> round(float(after_rise(before, chemical("potassium_bicarbonate"), 40.0).ph), 2)
    6.88
    """
    return water.plus(rise_mg_l, rise_mg_l / MG_CACO3_PER_MEQ * of.carbon_mol_eq)


@possible
def rise_for_ph_mg_l(water: Water, of: Chemical, ph: Numbers) -> Numbers:
    """Rise of alkalinity at which a base brings the water to a pH at once, mg/L CaCO3.

    At a fixed pH the equilibrium is linear in the dose, so this is exact. Infinite where the base cannot get
    there however much is given (bicarbonate above about 8.3); 0 where the water is there already.
    Own reckoning.

    >>> before = carbonate.water(6.5, 30.0, 18.0, 0.0006)
    >>> rise = rise_for_ph_mg_l(before, chemical("potassium_hydroxide"), 6.8)
    >>> round(float(grams_for_alkalinity(chemical("potassium_hydroxide"), rise, 1000.0)), 1)
    9.3
    """
    t, ionic_strength = water.temperature_c, water.ionic_strength
    as_it_is = carbonate.alkalinity_mg_l(ph, water.inorganic_carbon_mmol_l, t, ionic_strength)
    per_carbon = carbonate.alkalinity_mg_l(ph, 1.0, t, ionic_strength) - carbonate.alkalinity_mg_l(
        ph, 0.0, t, ionic_strength
    )
    missing = np.maximum(as_it_is - water.alkalinity_mg_l, 0.0)
    # Each mg/L of dose brings carbon, which asks for more alkalinity at the same pH.
    left = 1.0 - of.carbon_mol_eq / MG_CACO3_PER_MEQ * per_carbon
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(missing == 0.0, 0.0, np.where(left > 0.0, missing / left, np.inf))[()]


def hydroxide_share(water: Water, of: Chemical, rise_mg_l: Numbers) -> Numbers:
    """Equivalents of hydroxide per mol of free carbon dioxide; 0 for anything but hydroxides.

    By definition.
    """
    dioxide_mmol_l = water.carbon_dioxide_mg_l / MOLAR_MASS_CO2_G_MOL
    return of.is_hydroxide * rise_mg_l / MG_CACO3_PER_MEQ / dioxide_mmol_l


@possible
def rise_by_hydroxide_mg_l(carbon_dioxide_mg_l: Numbers, share: Numbers) -> Numbers:
    """Rise of alkalinity, mg/L CaCO3, of so many equivalents of hydroxide per mol of free carbon dioxide.

    Exact, by charge balance.

    >>> round(rise_by_hydroxide_mg_l(10.0, 0.4), 2)
    4.55
    """
    return share * carbon_dioxide_mg_l / MOLAR_MASS_CO2_G_MOL * MG_CACO3_PER_MEQ


def aired_mg_l(usual_carbon_dioxide_mg_l: float) -> float:
    """Free carbon dioxide once the water is well aired, where it usually holds more; mg/L.

    Common practice, no source.
    """
    return min(usual_carbon_dioxide_mg_l, WELL_AIRED_CARBON_DIOXIDE_MG_L)


@dataclass(frozen=True)
class Place:
    """Where a dose goes: the water as measured, how much of it, and its usual free carbon dioxide, mg/L.

    tan_mg_l, calcium_mg_l: as measured, NaN where not known.
    """

    water: Water
    volume_l: float
    usual_carbon_dioxide_mg_l: float
    tan_mg_l: float = float("nan")
    calcium_mg_l: float = float("nan")


@dataclass(frozen=True)
class Dose:
    """One portion of one chemical, and the water after it.

    unionised_mg_l: un-ionised ammonia as N at the higher of both pH; calcite_index: settled; both NaN
    where TAN or calcium is not known. elements_mg_l: what comes along.
    """

    chemical: str
    grams: float
    rise_mg_l: float
    alkalinity_mg_l: float
    ph_before: float
    ph_at_once: float
    ph_settled: float
    hydroxide_share: float
    unionised_mg_l: float
    calcite_index: float
    elements_mg_l: Mapping[str, float]


@possible
def dose(place: Place, of: Chemical, rise_mg_l: float, purity: float = 1.0) -> Dose:
    """The portion that raises alkalinity by `rise_mg_l` (mg/L CaCO3; negative for an acid), and its effects.

    Only by base or acid; `ValueError` for a chemical that has no alkalinity.
    """
    if of.alkalinity_eq_mol == 0.0:
        raise ValueError(f"{of.key} does not change alkalinity")
    before, after = place.water, after_rise(place.water, of, rise_mg_l)
    grams = float(grams_for_alkalinity(of, rise_mg_l, place.volume_l, purity))
    elements = element_rises_mg_l(of, grams, place.volume_l, purity)
    at_once = float(after.ph)
    settled = float(
        carbonate.ph_at_carbon_dioxide(
            after.alkalinity_mg_l,
            place.usual_carbon_dioxide_mg_l,
            after.temperature_c,
            after.ionic_strength,
        )
    )
    calcium = place.calcium_mg_l + float(elements.get("Ca", 0.0))
    return Dose(
        chemical=of.key,
        grams=grams,
        rise_mg_l=rise_mg_l,
        alkalinity_mg_l=float(after.alkalinity_mg_l),
        ph_before=float(before.ph),
        ph_at_once=at_once,
        ph_settled=settled,
        hydroxide_share=float(hydroxide_share(before, of, rise_mg_l)),
        unionised_mg_l=float(
            place.tan_mg_l * ammonia.unionised_fraction(max(at_once, settled), after.temperature_c)
        ),
        calcite_index=float(
            carbonate.calcite_saturation_index(
                settled, after.alkalinity_mg_l, calcium, after.temperature_c, after.ionic_strength
            )
        )
        if after.alkalinity_mg_l > 0.0
        else float("nan"),
        elements_mg_l={element: float(rise) for element, rise in elements.items()},
    )


def objections(
    portion: Dose, ph_step: float = PH_STEP_PER_DAY, unionised_limit_mg_l: float = float("inf")
) -> tuple[Objection, ...]:
    """What speaks against a portion; empty where nothing does. Unknown TAN or calcium object to nothing.

    ph_step: most that pH may rise at once in a day.
    unionised_limit_mg_l: act line of the species.
    """
    found: list[tuple[Objection, bool]] = [
        ("ph_step", portion.ph_at_once - portion.ph_before > ph_step + 1e-9),
        ("ph_high", portion.ph_at_once > HIGHEST_PH + 1e-9),
        ("hydroxide_share", portion.hydroxide_share > HYDROXIDE_SHARE_REFUSED),
        ("unionised_ammonia", portion.unionised_mg_l > unionised_limit_mg_l),
        ("calcite", portion.calcite_index > carbonate.SCALE_INDEX),
    ]
    return tuple(key for key, holds in found if holds)


@dataclass(frozen=True)
class DailyLimit:
    """The most of a base for one day, as one portion, and what sets it."""

    dose: Dose
    bound_by: Bound


@possible
def daily_limit(
    place: Place, of: Chemical, purity: float = 1.0, ph_step: float = PH_STEP_PER_DAY
) -> DailyLimit:
    """The most of a base for one day: by the pH step, by pH 7.8, and for hydroxides by free carbon dioxide.

    Both limits of pH are met by the pH at once.
    """
    before = float(place.water.ph)
    by_step = float(rise_for_ph_mg_l(place.water, of, before + ph_step))
    by_height = float(rise_for_ph_mg_l(place.water, of, HIGHEST_PH))
    by_dioxide = np.inf
    if of.is_hydroxide:
        by_dioxide = float(rise_by_hydroxide_mg_l(place.water.carbon_dioxide_mg_l, HYDROXIDE_SHARE_ADVISED))
    limits: list[tuple[float, Bound]] = [
        (by_step, "ph_step"),
        (by_height, "ph_high"),
        (by_dioxide, "hydroxide_share"),
    ]
    rise, bound = min(limits, key=lambda limit: limit[0])
    if rise == 0.0:
        bound = "not_raised"
    return DailyLimit(dose(place, of, rise, purity), bound)
