"""From a day's weather, fish and crops to what drives each of its hours.

A day begins at six in the morning, when the grower looks. Whatever hangs on temperature alone is worked out
for many days at once; whatever hangs on the morning's fish and crops for one day.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Any

import numpy as np

from aquacalc import aeration, fish, nitrogen
from aquacalc.constants import MOLAR_MASS_CO2_G_MOL, Numbers
from aquacalc.film import Surface, film_of
from aquacalc.nitrogen import STEPS
from aquacalc.season.hour import HOURS, Hour, Rates
from aquacalc.sizing import air_day, balance, delivery, denitrification, limits, surfaces
from aquacalc.sizing.hours import RESTING_SHARE, water_by_hour_c
from aquacalc.uncertainty import Floats
from aquacalc.water import ammonia, carbonate, oxygen

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

AIR_CO2_ATM = {
    "open": carbonate.OUTDOOR_CO2_ATM,
    "shade": carbonate.OUTDOOR_CO2_ATM,
    "greenhouse": 600e-6,
    "indoors": 900e-6,
}
"""Carbon dioxide of the air by cover; in a greenhouse and a room common practice, no source."""

COEFFICIENTS = (
    *nitrogen.KINETIC_COEFFICIENTS,
    *limits.COEFFICIENTS,
    *surfaces.COEFFICIENTS,
    *delivery.WEAR,
    *denitrification.COEFFICIENTS,
    "root_base_return",
    "respiratory_quotient",
    "theta_mineralisation",
    "low_oxygen_decay_factor",
    "oxygen_per_feed_bacteria_kg_kg",
    "digested_nitrogen_share",
    "feed_n_uneaten_share",
    "carbon_dioxide_transfer_surface",
    "carbon_dioxide_transfer_bubbles",
    "carbon_dioxide_transfer_beds",
    "root_carbon_dioxide_g_m2_d",
    *aeration.STONE_COEFFICIENTS.values(),
)


@dataclass(frozen=True, eq=False)
class Loop:
    """What moves gases in and out of the loop; arrays of members.

    air: what brings oxygen. carbon_*: exchange of carbon dioxide against that of oxygen.
    """

    air: aeration.Exchange
    carbon_surface: Floats
    carbon_bubbles: Floats
    carbon_beds: Floats
    pressure_atm: float
    air_co2_atm: float
    surfaces: tuple[Surface, ...]


def loop(garden: Garden, draw: Mapping[str, Floats], members: int, seed: int) -> Loop:
    """Gas exchange of a garden: still and stirred surface, stones, beds that fall dry."""
    flow, _ = balance.flow_l_h(garden, draw, members, seed)
    return Loop(
        air=air_day.exchange_of(garden, draw, flow),
        carbon_surface=draw["carbon_dioxide_transfer_surface"],
        carbon_bubbles=draw["carbon_dioxide_transfer_bubbles"],
        carbon_beds=draw["carbon_dioxide_transfer_beds"],
        pressure_atm=float(oxygen.pressure_atm(garden.site.altitude_m)),
        air_co2_atm=AIR_CO2_ATM[garden.site.cover],
        surfaces=surfaces.surfaces_of(garden, flow, draw),
    )


def rates(garden: Garden, draw: Mapping[str, Floats]) -> Rates:
    """The coefficients of a run, from its draw: arrays of members."""
    kinetics = nitrogen.kinetics(draw)
    # Faeces and feed that are left over carry their nitrogen and the oxygen that bacteria use on them.
    solids_n_per_feed = (
        (1.0 - (1.0 - draw["feed_n_uneaten_share"]) * draw["digested_nitrogen_share"])
        * nitrogen.NITROGEN_PER_PROTEIN
        * garden.protein_fraction()
    )
    solids_oxygen = draw["oxygen_per_feed_bacteria_kg_kg"] / solids_n_per_feed
    gas = denitrification.per_mineralised_g_g(garden, draw)
    return Rates(
        kinetics=kinetics,
        half_acid=10.0 ** (-kinetics.ph_half_low),
        half_basic=10.0 ** (-kinetics.ph_half_high),
        denitrified_in_films=draw["denitrified_in_films"],
        denitrified_per_mineralised=gas,
        # Nitrate does the work of oxygen in the breakdown of solids, never more than there is.
        oxygen_spared_g_g=np.minimum(nitrogen.OXYGEN_PER_DENITRIFIED, solids_oxygen / gas),
        root_return=draw["root_base_return"],
        breathed_carbon_mol_g=fish.carbon_dioxide_g(1.0, draw["respiratory_quotient"]) / MOLAR_MASS_CO2_G_MOL,
        solids_oxygen_g_g_n=solids_oxygen,
        low_oxygen_decay=draw["low_oxygen_decay_factor"],
    )


@dataclass(frozen=True, eq=False)
class Warmth:
    """What temperature alone decides, for a block of days: (days, 24, members) each; `breathing` by model,
    mg/(kg h) of fed fish of 100 g."""

    water_c: Floats
    by_name: Mapping[str, Floats]
    constants: carbonate.Constants
    breathing: Mapping[str, Floats]


def warmth(
    water_c: Floats,
    swing_c: Floats,
    run: Rates,
    gases: Loop,
    draw: Mapping[str, Floats],
    ionic_strength: Floats,
    models: Sequence[fish.OxygenModel],
) -> Warmth:
    """Every temperature factor of a block of days; water_c and swing_c (days, members)."""
    celsius = water_by_hour_c(water_c, swing_c)
    k = run.kinetics
    first, second = (film_of(step, gases.surfaces, celsius, k) for step in STEPS)
    saturation = oxygen.saturation_mg_l(celsius, 0.0, gases.pressure_atm)
    air = gases.air
    exchange, gain = air.m3_h(celsius), air.gain_g_h(celsius, saturation)
    carbon = (
        air.surface_m3_h * gases.carbon_surface
        + air.stones_at_m3_h(celsius) * gases.carbon_bubbles
        + air.beds_m3_h * gases.carbon_beds
    )
    dioxide = carbonate.carbon_dioxide_in_equilibrium_mg_l(celsius, gases.air_co2_atm, gases.pressure_atm)
    by_name = {
        "ammonia_warmth": nitrogen.temperature_factor(k.ammonia.theta_growth, celsius),
        "nitrite_warmth": nitrogen.temperature_factor(k.nitrite.theta_growth, celsius),
        "ammonia_decay_1_h": nitrogen.decay_1_d("ammonia", celsius, k) / HOURS,
        "nitrite_decay_1_h": nitrogen.decay_1_d("nitrite", celsius, k) / HOURS,
        "ammonia_most_g_d": first.most_g_d,
        "nitrite_most_g_d": second.most_g_d,
        "ammonia_transfer_m3_d": first.transfer_m3_d,
        "nitrite_transfer_m3_d": second.transfer_m3_d,
        "mineralisation_1_h": draw["solids_n_mineralised_per_d"]
        * draw["theta_mineralisation"] ** (celsius - 20.0)
        / HOURS,
        "ammonia_ka": 10.0 ** (-ammonia.pka(celsius)),
        "nitrous_ka": nitrogen.nitrous_acid_ka(celsius),
        "oxygen_gain_g": gain,
        "oxygen_exchange_m3": exchange,
        "carbon_exchange_m3": carbon,
        "carbon_in_air_mol_m3": dioxide / MOLAR_MASS_CO2_G_MOL,
    }
    return Warmth(
        water_c=celsius,
        by_name={name: np.broadcast_to(value, celsius.shape) for name, value in by_name.items()},
        constants=carbonate.constants_at(celsius, ionic_strength),
        breathing={model: np.asarray(fish.oxygen_use_mg_kg_h(model, 100.0, celsius)) for model in models},
    )


@dataclass(frozen=True, eq=False)
class Daily:
    """What fish and crops make of one day; arrays of members.

    excreted_n_g, solids_n_g: a day; breathing: (model, kg times the weight's factor, share of a full meal);
    uptake_n_g: with plenty of nitrate; evaporated_l; base_eq, base_carbon_mol: of a base that is spread over
    the day, by base_shape (24,); roots_carbon_mol: breathed out by roots.
    """

    excreted_n_g: Floats
    solids_n_g: Floats
    breathing: Sequence[tuple[str, Floats, Floats]]
    uptake_n_g: Floats
    evaporated_l: Floats
    base_eq: Floats
    base_carbon_mol: Floats
    base_shape: Floats
    roots_carbon_mol: Floats


def hours(
    day: int, block: Warmth, daily: Daily, shape: Floats, oxygen_factor: Floats, single: bool
) -> list[Hour]:
    """The twenty-four hours of a day of the block; floats where `single`, else arrays of members."""
    column = shape[:, None]
    breathed = np.zeros(block.water_c.shape[1:])
    for model, kg, share in daily.breathing:
        state = RESTING_SHARE + (1.0 - RESTING_SHARE) * share * column
        breathed += block.breathing[model][day] * (kg * oxygen_factor / 1000.0) * state
    made: dict[str, Any] = {name: values[day] for name, values in block.by_name.items()}
    made["excreted_g"] = daily.excreted_n_g * column / HOURS
    made["solids_in_g"] = daily.solids_n_g * column / HOURS
    made["fish_oxygen_g"] = breathed
    made["uptake_g"] = np.broadcast_to(daily.uptake_n_g / HOURS, breathed.shape)
    made["evaporated_l"] = np.broadcast_to(daily.evaporated_l / HOURS, breathed.shape)
    made["base_eq"] = daily.base_eq * daily.base_shape[:, None]
    made["carbon_in_mol"] = daily.base_carbon_mol * daily.base_shape[:, None] + daily.roots_carbon_mol / HOURS
    at = [getattr(block.constants, name)[day] for name in _CONSTANTS]
    if single:
        made = {name: values[:, 0].tolist() for name, values in made.items()}
        at = [values[:, 0].tolist() for values in at]
    rows = zip(*made.values(), strict=True)
    return [
        Hour(constants=carbonate.Constants(*four), **dict(zip(made, row, strict=True)))
        for row, four in zip(rows, zip(*at, strict=True), strict=True)
    ]


_CONSTANTS = tuple(field.name for field in fields(carbonate.Constants))


def as_floats(run: Rates) -> Rates:
    """The same coefficients as plain floats, for a single member."""

    def plain(value: Numbers) -> Numbers:
        return float(np.asarray(value).reshape(-1)[0])

    def step(own: nitrogen.StepKinetics) -> nitrogen.StepKinetics:
        return nitrogen.StepKinetics(**{name: plain(value) for name, value in vars(own).items()})

    k = run.kinetics
    kinetics = nitrogen.Kinetics(
        ammonia=step(k.ammonia),
        nitrite=step(k.nitrite),
        **{name: plain(value) for name, value in vars(k).items() if name not in ("ammonia", "nitrite")},
    )
    rest = {name: plain(value) for name, value in run._asdict().items() if name != "kinetics"}
    return Rates(kinetics=kinetics, **rest)
