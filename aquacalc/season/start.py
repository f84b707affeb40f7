"""The first morning: readings of the log where there are any, else a loop in balance with its load."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import film, fish, nitrogen, solids
from aquacalc.climate import months
from aquacalc.constants import MG_PER_G, Numbers
from aquacalc.garden import aimed
from aquacalc.garden import surroundings as usual
from aquacalc.season import fishes, wastes
from aquacalc.season.hour import Water
from aquacalc.season.rules import Event
from aquacalc.season.setting import Setting, weighed_feed
from aquacalc.uncertainty import Floats, Triangle, coefficient
from aquacalc.water import carbonate, oxygen, salts

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

STARTS_WITH = ("potassium", "phosphorus", "iron")
"""Ions of a running loop that do not come with its top-up; what it holds is drawn."""
USUAL_HARD_PH = 7.6
HARD_ALKALINITY_MG_L = 100.0
"""pH of a loop on hard water where no reading tells (practice)."""
IDLE_LOAD_MG_L_D = 0.5
"""Ammonia-N that has kept a running filter awake where there are no fish at the start; a fifth of it where
there are some that do not eat (practice)."""
IDLE_WITH_FISH = 0.2
HIGHEST_START_MG_L = 3.0
"""TAN and nitrite-N of a loop whose film is too small are not begun higher than this."""
USUAL_SATURATION = 0.9
USUAL_C = 20.0


@dataclass(frozen=True)
class Start:
    """What a season takes over from the log; what is not known is left out.

    water: `tan_mg_l`, `nitrite_mg_l`, `nitrate_mg_l`, `alkalinity_mg_l`, `ph`, `chloride_mg_l`,
    `hardness_mg_l` by name; counts, weights_g: by name of the fish batch.
    """

    water: Mapping[str, float] = field(default_factory=dict)
    counts: Mapping[str, float] = field(default_factory=dict)
    weights_g: Mapping[str, float] = field(default_factory=dict)


@dataclass(eq=False)
class Begun:
    """Members on their first simulated morning.

    ions, held: g dissolved and in solids by name; read: what the log says.
    """

    fixed: Setting
    stocked: fishes.Fishes
    water: Water
    ions: dict[str, Numbers]
    held: dict[str, Floats]
    read: Start


def first_morning(fixed: Setting, read: Start) -> Begun:
    """A setting with its fish, water and solids as they are on the first simulated morning."""
    stocked = stock(fixed, read)
    return Begun(fixed, stocked, *water(fixed, read, stocked), read)


def stock(setting: Setting, start: Start) -> fishes.Fishes:
    """The fish of the first morning."""
    monthly = usual.water_c(setting.garden, setting.draw)
    return fishes.at_start(
        setting.garden,
        setting.kinds,
        months.monthly_to_daily(monthly),
        start.counts,
        start.weights_g,
        weighed_feed(setting.garden, setting.draw),
    )


def usual_water(garden: Garden, temperature_c: Numbers = USUAL_C) -> dict[str, Numbers]:
    """Water that a season begins with where nothing was read, by the names of `Start.water`.

    A running loop has its target pH at the carbon dioxide of a well aired one; a new one holds no nitrate.
    What is drawn stands in `usual_drawn`. TAN and nitrite are those at which the filter carries its load and
    follow from the stock.
    """
    alkalinity = aimed.alkalinity_mg_l(
        garden.targets.base_to_ph, garden.top_up.alkalinity_mg_l, temperature_c
    )
    nitrate: dict[str, Numbers] = {"nitrate_mg_l": 0.0} if garden.start_up.state == "new" else {}
    return {
        "ph": np.where(alkalinity > HARD_ALKALINITY_MG_L, USUAL_HARD_PH, garden.targets.base_to_ph),
        "alkalinity_mg_l": alkalinity,
        **nitrate,
    }


def usual_drawn(garden: Garden) -> dict[str, Triangle]:
    """What a running loop has gathered by its first day, unless it was read: names as in `Start.water`."""
    if garden.start_up.state == "new":
        return {}
    return {f"{name}_mg_l": coefficient(f"start_{name}_mg_l") for name in ("nitrate", *STARTS_WITH)}


def water(
    setting: Setting, start: Start, stocked: fishes.Fishes
) -> tuple[Water, dict[str, Numbers], dict[str, Floats]]:
    """Water and ions of the first simulated morning and the minerals in solids, g, arrays of members."""
    garden, k = setting.garden, setting.rates.kinetics
    # A start-up begins before the season: the log's readings meet it on the season's first day.
    read = {} if setting.before else start.water
    celsius, litres = setting.sky.water_c[0], setting.full_l
    grams = litres / MG_PER_G
    members = setting.members
    new = garden.start_up.state == "new"
    assumed = usual_water(garden, celsius)
    alkalinity = np.full(members, read.get("alkalinity_mg_l", assumed["alkalinity_mg_l"]))
    ph = np.full(members, read.get("ph", assumed["ph"]))

    fed = _usual_day(setting, stocked, celsius)
    waste = wastes.of_day(setting.kinds, stocked, fed, setting.protein, setting.drawn, setting.draw)
    idle = IDLE_LOAD_MG_L_D * grams * (IDLE_WITH_FISH if stocked.count.any() else 1.0)
    load = np.maximum(waste.excreted_n_g + waste.solids_n_g, 0.0 if new else idle)

    films = {step: film.film_of(step, setting.gases.surfaces, celsius, k) for step in nitrogen.STEPS}

    def capacity(step: nitrogen.Step) -> Floats:
        """Growth and decay in balance on what the surface can hold; a new garden has its seed alone."""
        most = films[step].most_g_d
        grown = most * film.filled_share(step, films[step], load, celsius, k)
        seed = 10.0 ** setting.draw["log_capacity_start"] * grams
        found: Floats = np.maximum(grown * (not new), seed)
        return found

    def substrate_g(step: nitrogen.Step, name: str) -> Floats:
        """As read, else the concentration at which the film carries the load."""
        if name in read:
            return np.full(members, read[name] * grams)
        around = (celsius, ph, garden.targets.oxygen_mg_l, alkalinity, k)
        there = film.steady_substrate_mg_l(step, films[step], load, *around)
        found: Floats = np.minimum(there, HIGHEST_START_MG_L) * grams * (load > 0.0)
        return found

    first, second = capacity("ammonia"), capacity("nitrite")
    carbon = carbonate.inorganic_carbon_mmol_l(ph, alkalinity, celsius, setting.ionic_strength)
    mineralised = setting.draw["solids_n_mineralised_per_d"] * setting.draw["theta_mineralisation"] ** (
        celsius - 20.0
    )
    saturation = oxygen.saturation_mg_l(celsius, 0.0, setting.gases.pressure_atm)
    usual_nitrate = np.zeros(members) if new else setting.draw["start_nitrate_mg_l"]
    filled = Water(
        tan_g=substrate_g("ammonia", "tan_mg_l"),
        nitrite_g=substrate_g("nitrite", "nitrite_mg_l"),
        nitrate_g=np.broadcast_to(read.get("nitrate_mg_l", usual_nitrate), members) * grams,
        solids_n_g=solids.held_g(waste.solids_n_g, mineralised),
        alkalinity_eq=alkalinity / carbonate.MG_L_CACO3_PER_EQ_L * litres,
        carbon_mol=carbon / MG_PER_G * litres,
        oxygen_g=USUAL_SATURATION * saturation * grams,
        ammonia_oxidisers_g_d=first,
        nitrite_oxidisers_g_d=second,
        water_l=np.full(members, litres),
    )
    build_up = 1.0 if new else setting.draw["start_build_up"]
    ions: dict[str, Numbers] = {
        name: np.zeros(members) + per_l * litres * build_up for name, per_l in setting.tap.ions_g_l.items()
    }
    for name in () if new else STARTS_WITH:
        # What a running loop has gathered from feed and dosing, where its top-up brings less.
        ions[name] = np.maximum(ions[name], setting.draw[f"start_{name}_mg_l"] * grams)
    if "chloride_mg_l" in read:
        ions["chloride"] = np.full(members, read["chloride_mg_l"] * grams)
    if "hardness_mg_l" in read:
        calcium, magnesium = _hard_mg_l(read["hardness_mg_l"], setting.tap.ions_g_l)
        ions["calcium"] = np.full(members, calcium * grams)
        ions["magnesium"] = np.full(members, magnesium * grams)
    held: dict[str, Floats] = {
        name: np.asarray(solid / mineralised) * (not new) for name, solid in waste.solid_g.items()
    }
    return filled, ions, held


def _hard_mg_l(hardness_mg_l: float, tap_g_l: Mapping[str, Numbers]) -> tuple[float, float]:
    """Calcium and magnesium of a hardness, in the top-up's proportion; the usual one where that has
    neither."""
    tap = [float(np.max(tap_g_l[name])) for name in ("calcium", "magnesium")]
    there = float(salts.hardness_mg_l(*tap))
    if there <= 0.0:
        return salts.ions_of_hardness_mg_l(hardness_mg_l)
    return tap[0] * hardness_mg_l / there, tap[1] * hardness_mg_l / there


def _usual_day(setting: Setting, stocked: fishes.Fishes, celsius: Floats) -> fishes.Fed:
    """Feed and growth of a usual day of the first morning's stock."""
    shape = stocked.count.shape
    feed, gain = np.zeros(shape), np.zeros(shape)
    for place, kind in enumerate(setting.kinds):
        if stocked.count[place].any():
            warm = fish.growing_temperature_c(celsius, kind.species) * setting.weighed_on(0)
            conversion = fish.fcr_at_weight(kind.fcr, stocked.weight_g[place])
            gain[place] = np.maximum(fish.daily_gain_g(stocked.weight_g[place], kind.tgc, warm), 0.0)
            feed[place] = stocked.count[place] * conversion * gain[place]
            if not (kind.batch.eaten and kind.species.eaten):
                gain[place] = 0.0
    return fishes.Fed(feed, np.ones(shape), gain)


_READ_FIELDS = {"tan_mg_l": "tan_g", "nitrite_mg_l": "nitrite_g", "nitrate_mg_l": "nitrate_g"}


def reading(start: Start, now: Water) -> Event:
    """Readings of the log put the water of a start-up where it was measured; `now` holds arrays."""
    grams = now.water_l / MG_PER_G
    added: dict[str, Numbers] = {
        field_name: start.water[name] * grams - getattr(now, field_name)
        for name, field_name in _READ_FIELDS.items()
        if name in start.water
    }
    if "alkalinity_mg_l" in start.water:
        wanted = start.water["alkalinity_mg_l"] / carbonate.MG_L_CACO3_PER_EQ_L * now.water_l
        rise = wanted - now.alkalinity_eq
        added["alkalinity_eq"] = rise
        # Carbonate comes and goes with it, one mol to the equivalent, but never all that is there.
        added["carbon_mol"] = np.maximum(rise, -0.9 * now.carbon_mol)
    return Event(0, "reading", added=added)
