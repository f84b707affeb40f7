"""What the grower does in the morning, as events on the water: the model's own behaviour.

Amounts per event are those of the whole loop, floats or arrays of members. On paper none of these becomes an
order by date: a dose is printed as "test, then ...".
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from aquacalc.constants import (
    ATOMIC_MASS_CA_G_MOL,
    ATOMIC_MASS_CL_G_MOL,
    ATOMIC_MASS_MG_G_MOL,
    ATOMIC_MASS_N_G_MOL,
    ATOMIC_MASS_NA_G_MOL,
    ATOMIC_MASS_P_G_MOL,
    MG_PER_G,
    Numbers,
)
from aquacalc.schedule.tasks import FILTER_FOOD_DAYS
from aquacalc.season.hour import Water
from aquacalc.water import carbonate
from aquacalc.water import phosphate as salts_of_phosphate

if TYPE_CHECKING:
    from aquacalc.garden.model import TopUp

IONS = ("calcium", "magnesium", "potassium", "phosphorus", "iron", "sodium", "chloride")
DISSOLVED = ("tan_g", "nitrite_g", "nitrate_g", "alkalinity_eq", "carbon_mol", "oxygen_g", "water_l")
"""Fields of `Water` that leave with water that is let out; films and solids stay."""

NEVER = 10**6
"""A day beyond every season."""
HARD_CALCIUM_MG_L = 100.0
"""Top-up with more calcium than this gets potassium bases only (common practice, no source)."""
MOST_POTASSIUM_MG_L = 200.0
"""More potassium than this keeps calcium and magnesium from the roots: no potassium base then. Common
practice, no source."""
FOOD_TAN_MG_L = 2.0
FOOD_FROM_TAN_MG_L = 0.5
FOOD_TO_NITRITE_MG_L = 5.0
"""A filter without fish is given ammonia up to the first, when TAN is below the second and nitrite-N below
the third (hobby protocols, read)."""
WAKE_TAN_MG_L = 1.0
"""A filter that has run before and stands without fish is kept awake with this much, once a week
(practice)."""
IRON_LOW_MG_L, IRON_TO_MG_L = 1.0, 2.0
"""Chelated iron: once it is below the first, up to the second (UVI, FAO589: 1 to 2 mg/L)."""
USUAL_OXYGEN_MG_L = 8.0
"""Oxygen of top-up water: it has run through air. Common practice, no source."""


@dataclass(frozen=True, eq=False)
class Event:
    """A jump of the water at the beginning of a day.

    day: counted from the season's first; keep: share of water and what is dissolved in it that stays;
    added: amounts by field of `Water`; spread: the same, through the day; ions: g by name; grams: of the
    product, where there is one; solid_mol: what settles of the salt that a key names, negative: dissolves.
    """

    day: int
    key: str
    keep: Numbers = 1.0
    added: Mapping[str, Numbers] = field(default_factory=dict)
    spread: Mapping[str, Numbers] = field(default_factory=dict)
    ions: Mapping[str, Numbers] = field(default_factory=dict)
    grams: Mapping[str, Numbers] = field(default_factory=dict)
    solid_mol: Numbers = 0.0


def apply(water: Water, ions: Mapping[str, Numbers], event: Event) -> tuple[Water, dict[str, Numbers]]:
    """Water and ions after an event."""
    changed = {
        name: getattr(water, name) * (event.keep if name in DISSOLVED else 1.0) + event.added.get(name, 0.0)
        for name in Water._fields
    }
    return (
        Water(**changed),
        {name: ions[name] * event.keep + event.ions.get(name, 0.0) for name in ions},
    )


@dataclass(frozen=True)
class NewWater:
    """A litre of top-up water: eq, mol and g per litre; an ion that was not analysed is one a member."""

    alkalinity_eq_l: Numbers
    carbon_mol_l: Numbers
    nitrate_g_l: Numbers
    ions_g_l: Mapping[str, Numbers]


def new_water(top_up: TopUp, temperature_c: float) -> NewWater:
    """Top-up water as the garden file has it; what is not known counts as none."""
    alkalinity = top_up.alkalinity_mg_l or 0.0
    ph = 7.5 if top_up.ph is None else top_up.ph
    carbon = float(carbonate.inorganic_carbon_mmol_l(ph, max(alkalinity, 1.0), temperature_c)) / 1000.0
    given = {
        "calcium": top_up.calcium_mg_l,
        "magnesium": top_up.magnesium_mg_l,
        "sodium": top_up.sodium_mg_l,
        "chloride": top_up.chloride_mg_l,
    }
    return NewWater(
        alkalinity_eq_l=alkalinity / carbonate.MG_L_CACO3_PER_EQ_L,
        carbon_mol_l=carbon,
        nitrate_g_l=(top_up.nitrate_n_mg_l or 0.0) / MG_PER_G,
        ions_g_l={name: (given.get(name) or 0.0) / MG_PER_G for name in IONS},
    )


def lost(day: int, share: Numbers) -> Event:
    """Splash, leaks and drawn sludge: water that leaves with all that is dissolved in it."""
    return Event(day, "lost", keep=1.0 - share)


def topped_up(day: int, litres: Numbers, tap: NewWater) -> Event:
    """New water up to the running level."""
    return Event(
        day,
        "top_up",
        added={
            "water_l": litres,
            "alkalinity_eq": litres * tap.alkalinity_eq_l,
            "carbon_mol": litres * tap.carbon_mol_l,
            "nitrate_g": litres * tap.nitrate_g_l,
            "oxygen_g": litres * USUAL_OXYGEN_MG_L / MG_PER_G,
        },
        ions={name: litres * grams for name, grams in tap.ions_g_l.items()},
    )


def filter_food(day: int, water: Water, to_tan_mg_l: float = FOOD_TAN_MG_L, asked: ArrayLike = True) -> Event:
    """Ammonium chloride for a filter without fish, where it is asked for and both readings are low enough."""
    per_l = MG_PER_G / water.water_l
    tan, nitrite = water.tan_g * per_l, water.nitrite_g * per_l
    on = (tan <= FOOD_FROM_TAN_MG_L) & (nitrite <= FOOD_TO_NITRITE_MG_L)
    grams_n = (to_tan_mg_l - tan) * (on & np.asarray(asked)) / per_l
    chloride = grams_n / ATOMIC_MASS_N_G_MOL * ATOMIC_MASS_CL_G_MOL
    return Event(day, "filter_food", added={"tan_g": grams_n}, ions={"chloride": chloride})


def feeds_filter(new: bool, garden_day: bool, days_to_fish: Numbers) -> NDArray[np.bool_]:
    """Whether this is a morning on which a loop without fish is looked at for its filter's sake.

    Every day in a start-up, once a week in a garden that has run before; fish must be on their way, in so
    many days.
    """
    within = NEVER if new else FILTER_FOOD_DAYS if garden_day else 0
    coming = np.asarray(days_to_fish)
    return np.asarray((coming < NEVER) & (coming <= within))


def iron(day: int, iron_g: Numbers, water_l: Numbers) -> Event:
    """Chelated iron where the water has run low."""
    now = iron_g / water_l * MG_PER_G
    grams = (IRON_TO_MG_L - now) * (now < IRON_LOW_MG_L) * water_l / MG_PER_G
    return Event(day, "iron", ions={"iron": grams})


def potassium(day: int, potassium_g: Numbers, water_l: Numbers, to_mg_l: Numbers) -> Event:
    """Potassium, as sulphate, up to what the grower keeps it at, where it stands under that."""
    grams = np.maximum(to_mg_l * water_l / MG_PER_G - potassium_g, 0.0)
    return Event(day, "potassium", ions={"potassium": grams})


def changed(
    day: int, water: Water, share: Numbers, above_mg_l: Numbers, tap: NewWater
) -> tuple[Event, Event] | None:
    """A change of part of the water where nitrate-N stands too high: what goes, and what comes; None where it
    does not."""
    high = np.asarray(water.nitrate_g / water.water_l * MG_PER_G > above_mg_l) & np.asarray(share > 0.0)
    if not np.any(high):
        return None
    gone = share * high
    new = topped_up(day, gone * water.water_l, tap)
    return Event(day, "change_out", keep=1.0 - gone), replace(new, key="change_in")


LEAST_ION_G = 1e-6
"""Of calcium and phosphorus, so that water without any has a solubility."""
SCALE_SHARE_PER_D = 0.03
"""Share of the excess that settles in a day. Common practice, no source."""


def scale(
    day: int, water: Water, calcium_g: Numbers, temperature_c: Numbers, ionic_strength: Numbers
) -> Event:
    """Lime that settles out of hard water: two equivalents and one mol of carbon with each mol of calcium."""
    calcium_mg_l = calcium_g * MG_PER_G / water.water_l
    at = carbonate.constants_at(temperature_c, ionic_strength)
    hydrogen = carbonate.hydrogen_closed(
        water.alkalinity_eq / water.water_l, water.carbon_mol / water.water_l, at
    )
    alkalinity = np.maximum(water.alkalinity_eq / water.water_l * carbonate.MG_L_CACO3_PER_EQ_L, 0.1)
    index = carbonate.calcite_saturation_index(
        -np.log10(hydrogen), alkalinity, np.maximum(calcium_mg_l, 1e-6), temperature_c, ionic_strength
    )
    excess = np.maximum(1.0 - 10.0 ** (carbonate.SCALE_INDEX - index), 0.0)
    there = np.minimum(
        calcium_g / ATOMIC_MASS_CA_G_MOL, np.minimum(water.alkalinity_eq / 2, water.carbon_mol)
    )
    mol = SCALE_SHARE_PER_D * excess * there
    return Event(
        day,
        "scale",
        added={"alkalinity_eq": -2.0 * mol, "carbon_mol": -mol},
        ions={"calcium": -mol * ATOMIC_MASS_CA_G_MOL},
    )


def phosphate(
    day: int,
    water: Water,
    ions: Mapping[str, Numbers],
    settled_mol: Numbers,
    ph: Numbers,
    temperature_c: Numbers,
    ionic_strength: Numbers,
    log_solubility: Numbers,
    share_per_d: Numbers,
) -> Event:
    """Phosphate that settles with calcium, or dissolves again: a share a day of the way to balance.

    settled_mol: Ca3(PO4)2 that lies in the loop; `solid_mol` of the event is what joins it. No more settles
    than a share of the alkalinity allows.
    """
    litres = water.water_l
    calcium = np.maximum(ions["calcium"], LEAST_ION_G) / ATOMIC_MASS_CA_G_MOL / litres
    phosphorus = np.maximum(ions["phosphorus"], LEAST_ION_G) / ATOMIC_MASS_P_G_MOL / litres
    product = salts_of_phosphate.log_product(
        ph,
        calcium * ATOMIC_MASS_CA_G_MOL * MG_PER_G,
        phosphorus * ATOMIC_MASS_P_G_MOL * MG_PER_G,
        temperature_c,
        ionic_strength,
    )
    way = salts_of_phosphate.way_to_balance_mol_l(
        product, log_solubility, calcium, phosphorus, settled_mol / litres
    )
    eq_per_mol = 2.0 * salts_of_phosphate.EQ_PER_MOL_P
    mol = share_per_d * np.minimum(way * litres, water.alkalinity_eq / eq_per_mol)
    return Event(
        day,
        "phosphate",
        added={"alkalinity_eq": -eq_per_mol * mol},
        ions={
            "calcium": -3.0 * mol * ATOMIC_MASS_CA_G_MOL,
            "phosphorus": -2.0 * mol * ATOMIC_MASS_P_G_MOL,
        },
        solid_mol=mol,
    )


def ionic_strength(tap: NewWater) -> Numbers:
    """Ionic strength of the loop's water, mol/kg: that of the top-up, with what collects in it.

    Half the sum of concentration times charge squared; a loop counts twice its top-up, at least 0.003.
    """
    mol = tap.ions_g_l
    doubly = mol["calcium"] / ATOMIC_MASS_CA_G_MOL + mol["magnesium"] / ATOMIC_MASS_MG_G_MOL
    singly = (
        tap.alkalinity_eq_l + mol["sodium"] / ATOMIC_MASS_NA_G_MOL + mol["chloride"] / ATOMIC_MASS_CL_G_MOL
    )
    return np.maximum(2.0 * (2.0 * doubly + 0.5 * singly), 0.003)
