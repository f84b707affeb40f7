"""Each limit as feed per day: arrays of shape (members, months), NaN where the month gives no answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import aeration, fish, power, tables
from aquacalc.garden import litres
from aquacalc.judge import oxygen as judged
from aquacalc.sizing import power_cut
from aquacalc.sizing.result import Stocked
from aquacalc.sizing.stock import Stock
from aquacalc.uncertainty import Floats, Triangle

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

COEFFICIENTS = (
    *power.LEAD_COEFFICIENTS,
    "oxygen_per_feed_whole_kg_kg",
    "oxygen_peak_factor",
    "tan_per_protein_sizing",
    "air_rating_share",
    "alpha",
    "beta",
    "bed_outflow_saturation_share",
    "surface_velocity_unstirred_m_h",
    "surface_velocity_stirred_m_h",
    "outage_start_saturation_share",
    "tank_film_factor",
    "oxygen_use_factor",
    "solids_feed_plain_g_m2_d",
    "solids_feed_settled_g_m2_d",
    "turnover_kg_per_m3_h",
    "backup_stone_transfer_share",
    "air_power_w_l_min",
)


@dataclass(frozen=True, eq=False)
class Conditions:
    """What all limits share: temperature, oxygen and flow by month, and the sampled coefficients.

    water_c, saturation_mg_l: (members, months); flow_l_h: (members, 1).
    """

    garden: Garden
    months: tuple[int, ...]
    water_c: Floats
    saturation_mg_l: Floats
    flow_l_h: Floats
    measured_flow: bool
    draw: Mapping[str, Floats]

    def coefficient(self, name: str) -> Floats:
        """A sampled coefficient as a column, to be broadcast along the months."""
        return self.draw[name][:, None]


def triangles(garden: Garden) -> dict[str, Triangle]:
    """Specific surfaces of the media in the garden, by the names `media.ID.surface`."""
    media = {bed.medium for bed in garden.beds if bed.holds_medium}
    found = {f"media.{medium}.surface": surface(medium) for medium in sorted(media)}
    return found


def surface(medium: str) -> Triangle:
    """Specific surface of a medium, m2 per m3 of bulk."""
    row = tables.load("media").row(medium)
    return Triangle(
        row.number("surface_low_m2_m3"),
        row.number("surface_typical_m2_m3"),
        row.number("surface_high_m2_m3"),
    )


# Oxygen


def oxygen_wanted_mg_l(garden: Garden) -> float:
    """Oxygen that must be held: below it the level is `act today` for the most demanding species."""
    table = tables.load("species")
    return judged.begins_below("act today", [table.row(batch.species) for batch in garden.fish])


def oxygen_supply_g_h(now: Conditions) -> Floats:
    """Oxygen that air stones, surface and the fall through drained beds bring at the wanted level, g/h."""
    garden, wanted = now.garden, oxygen_wanted_mg_l(now.garden)
    deficit = now.saturation_mg_l - wanted
    velocity = now.coefficient(
        "surface_velocity_stirred_m_h" if garden.air else "surface_velocity_unstirred_m_h"
    )
    open_m2 = sum(tank.surface_m2 for tank in garden.tanks)
    supply = aeration.surface_g_h(open_m2, velocity, now.saturation_mg_l, wanted)
    drained = now.coefficient("bed_outflow_saturation_share") * now.saturation_mg_l
    supply = supply + aeration.carried_g_h(
        now.flow_l_h * drained_share(garden), np.maximum(drained - wanted, 0.0)
    )
    if garden.air:
        supply = supply + stones_g_h(now, garden.air.flow_l_min, wanted)
    return np.where(deficit > 0.0, supply, 0.0)


def stones_g_h(now: Conditions, rated_l_min: float, oxygen_mg_l: float) -> Floats:
    """Oxygen that the air pump's stones bring into water of that oxygen, g/h."""
    air = now.garden.air
    assert air is not None
    standard = aeration.standard_rate_g_h(
        rated_l_min * now.coefficient("air_rating_share"),
        air.depth_m,
        now.coefficient(aeration.STONE_COEFFICIENTS[air.stones]),
    )
    result = aeration.field_rate_g_h(
        standard,
        now.water_c,
        oxygen_mg_l,
        now.saturation_mg_l,
        now.coefficient("alpha"),
        now.coefficient("beta"),
    )
    return np.asarray(result)


def drained_share(garden: Garden) -> float:
    """Share of the flow that trickles through beds which fall dry; only there does it meet air."""
    whole = sum(bed.area_m2 for bed in garden.beds)
    drained = sum(b.area_m2 for b in garden.beds if b.holds_medium and b.drain != "constant")
    return drained / whole if whole else 0.0


def oxygen(now: Conditions) -> Floats:
    """Feed whose oxygen demand, in the hours after feeding, the supply meets."""
    result = aeration.feed_for_oxygen_g_day(
        oxygen_supply_g_h(now),
        now.coefficient("oxygen_per_feed_whole_kg_kg"),
        now.coefficient("oxygen_peak_factor"),
    )
    return np.asarray(result)


# Fish per litre, the power cut, turnover: limits on kilograms


def density_kg_m3(garden: Garden) -> float:
    """Most fish per m3 of fish-tank water for a home: the strictest species in the garden."""
    return min(fish.species(batch.species).density_max_kg_m3 for batch in garden.fish)


def density_kg(garden: Garden) -> float:
    """Kilograms of fish that the fish tanks hold at the home maximum."""
    return density_kg_m3(garden) * litres.litres_of(garden).tanks / 1000.0


def leading(garden: Garden) -> fish.Species:
    """The species of the batch that will weigh most; its oxygen use stands for the tank."""
    return fish.species(max(garden.fish, key=lambda batch: batch.count * batch.final_weight_g).species)


def stocked(now: Conditions, kg: Floats, weight_g: Floats) -> Stocked:
    """The fish in still tank water, by month; NaN where there are none."""
    garden = now.garden
    return Stocked(
        model=leading(garden).oxygen_model,
        weight_g=weight_g,
        kg=np.where(kg > 0.0, kg, np.nan),
        tank_m3=litres.litres_of(garden).tanks / 1000.0,
        water_c=now.water_c,
        saturation_mg_l=now.saturation_mg_l,
        critical_mg_l=max(fish.species(batch.species).oxygen_critical_mg_l for batch in garden.fish),
        use_factor=now.coefficient("oxygen_use_factor"),
        film_factor=now.coefficient("tank_film_factor"),
    )


def just_fed_hours(now: Conditions, kg: Floats, weight_g: Floats) -> Floats:
    """Hours until the critical oxygen after all stops: fish just fed, tank water only, still surface."""
    return power_cut.just_fed_hours(
        stocked(now, kg, weight_g), now.coefficient("outage_start_saturation_share")
    )


def unaided_kg(now: Conditions, kg: Floats, weight_g: Floats) -> Floats:
    """Fish whose response time (half of the just-fed time) reaches until someone can be there, kg."""
    hours = just_fed_hours(now, kg, weight_g)
    return power_cut.unaided_kg(np.where(kg > 0.0, kg, np.nan), hours, now.garden.site.hours_until_help)


def turnover_kg(now: Conditions) -> Floats:
    """Fish for which the handbook's turnover would ask for this flow, kg; (members, 1)."""
    return now.coefficient("turnover_kg_per_m3_h") * now.flow_l_h / 1000.0


# Solids


def solids(now: Conditions) -> Floats:
    """Feed above which beds tend to clog, by their area, with or without a settler ahead; (members, 1)."""
    settled = now.garden.solids_filter.kind != "none"
    per_m2 = now.coefficient("solids_feed_settled_g_m2_d" if settled else "solids_feed_plain_g_m2_d")
    return per_m2 * sum(bed.area_m2 for bed in now.garden.beds)


def by_weight(kg: Floats, stock: Stock) -> Floats:
    """A limit on kilograms as feed per day, at the month's ration."""
    return kg * 1000.0 * stock.ration
