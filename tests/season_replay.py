"""The water of a season once more, by another solver: derivatives written out from the equations.

`derivative` is the model in the form in which the sources print it, in fluxes; the season's own step never
uses it. `replay` follows a kept run hour by hour, with its drivers and its events, by a tight stiff solver.
"""

import numpy as np

from aquacalc import nitrogen
from aquacalc.constants import ATOMIC_MASS_N_G_MOL
from aquacalc.season.hour import LEAST_NITRATE_MG_L, Hour, Rates, Water, speeds
from aquacalc.water import carbonate


def derivative(state, hour: Hour, rates: Rates) -> list[float]:
    """d(state)/dt an hour; the state in the order of `Water`."""
    tan_g, nitrite_g, nitrate_g, solids_g, alkalinity_eq, carbon_mol, oxygen_g, first, second, litres = state
    k, cells = rates.kinetics, rates.kinetics.nitrogen_in_cells_g_g_cod
    tan, nitrite, nitrate = 1000.0 * tan_g / litres, 1000.0 * nitrite_g / litres, 1000.0 * nitrate_g / litres
    oxygen, alkalinity = 1000.0 * oxygen_g / litres, alkalinity_eq / litres
    hydrogen = carbonate.hydrogen_closed(alkalinity, carbon_mol / litres, hour.constants)
    acid = 1.0 / (1.0 + hydrogen / rates.half_acid + rates.half_basic / hydrogen)
    mg_l = alkalinity * carbonate.MG_L_CACO3_PER_EQ_L
    lime = mg_l / (k.half_saturation_alkalinity_mg_l + mg_l)
    free = tan * hour.ammonia_ka / (hour.ammonia_ka + hydrogen)
    nitrous = nitrite * hydrogen / (hydrogen + hour.nitrous_ka)

    def phi(own, warmth):
        return (
            warmth
            * acid
            * lime
            * oxygen
            / (own.half_saturation_oxygen_mg_l + oxygen)
            / (1.0 + free / own.inhibition_ammonia_mg_l)
            / (1.0 + nitrous / own.inhibition_nitrous_acid_mg_l)
        )

    a, n = k.ammonia, k.nitrite
    active_a, active_n = first * phi(a, hour.ammonia_warmth), second * phi(n, hour.nitrite_warmth)
    way_a, way_n = active_a / hour.ammonia_transfer_m3_d, active_n / hour.nitrite_transfer_m3_d
    r1 = active_a * tan / (a.half_saturation_mg_l + tan + way_a) / 24.0
    r2 = active_n * nitrite / (n.half_saturation_mg_l + nitrite + way_n) / 24.0
    room_a = max(1.0 - first / hour.ammonia_most_g_d, 0.0)
    room_n = max(1.0 - second / hour.nitrite_most_g_d, 0.0)
    built_a, built_n = cells * a.yield_g_cod_g_n * room_a * r1, cells * n.yield_g_cod_g_n * room_n * r2
    slow = rates.low_oxygen_decay if oxygen < 0.5 else 1.0
    lost_a, lost_n = hour.ammonia_decay_1_h * slow * first, hour.nitrite_decay_1_h * slow * second
    returned = cells * (lost_a * a.yield_g_cod_g_n / a.growth_1_d + lost_n * n.yield_g_cod_g_n / n.growth_1_d)
    mineralised = hour.mineralisation_1_h * solids_g
    gas = (rates.denitrified_in_films * r2 + rates.denitrified_per_mineralised * mineralised) * (
        nitrate / (1.0 + nitrate)
    )
    uptake = hour.uptake_g * nitrate / (LEAST_NITRATE_MG_L + nitrate)
    charges = (
        -2.0 * r1
        + hour.excreted_g
        + mineralised
        - (built_a - returned)
        + built_n
        + gas
        + rates.root_return * uptake
    )
    breathing = hour.fish_oxygen_g * oxygen / (0.2 + oxygen)
    bacteria = r1 * (nitrogen.OXYGEN_PER_N["ammonia"] - a.yield_g_cod_g_n * room_a) + r2 * (
        nitrogen.OXYGEN_PER_N["nitrite"] - n.yield_g_cod_g_n * room_n
    )
    rotting = mineralised * rates.solids_oxygen_g_g_n
    spared = gas * rates.oxygen_spared_g_g
    dioxide = (
        carbon_mol
        * hydrogen**2
        / (hydrogen**2 + hour.constants.k1 * hydrogen + hour.constants.k1 * hour.constants.k2)
    )
    dioxide_mol_m3 = 1000.0 * dioxide / litres
    return [
        hour.excreted_g + mineralised + returned - r1 - built_a,
        r1 - r2,
        r2 - built_n - gas - uptake,
        hour.solids_in_g - mineralised,
        hour.base_eq + charges / ATOMIC_MASS_N_G_MOL,
        hour.carbon_in_mol
        + rates.breathed_carbon_mol_g * (breathing + rotting)
        + hour.carbon_exchange_m3 * (hour.carbon_in_air_mol_m3 - dioxide_mol_m3),
        hour.oxygen_gain_g - hour.oxygen_exchange_m3 * oxygen - breathing - bacteria - rotting + spared,
        a.growth_1_d * r1 * room_a - lost_a,
        n.growth_1_d * r2 * room_n - lost_n,
        -hour.evaporated_l,
    ]


def slope(state, hour: Hour, rates: Rates) -> list[float]:
    """The same from the season's own speeds: the other side of the benchmark, on the same functions."""
    water = Water(*state)
    now = speeds(water, hour, rates)
    k = rates.kinetics
    cells = k.nitrogen_in_cells_g_g_cod
    r1 = now.nitritation / 24.0 * water.tan_g
    r2 = now.nitratation / 24.0 * water.nitrite_g
    uptake = hour.uptake_g * now.uptake * water.nitrate_g
    lost_a = now.ammonia_decaying * hour.ammonia_decay_1_h
    lost_n = now.nitrite_decaying * hour.nitrite_decay_1_h
    a, n = k.ammonia, k.nitrite
    built_a = cells * a.yield_g_cod_g_n * now.ammonia_free * r1
    built_n = cells * n.yield_g_cod_g_n * now.nitrite_free * r2
    returned = cells * (lost_a * a.yield_g_cod_g_n / a.growth_1_d + lost_n * n.yield_g_cod_g_n / n.growth_1_d)
    mineralised = hour.mineralisation_1_h * water.solids_n_g
    gas = (rates.denitrified_in_films * r2 + rates.denitrified_per_mineralised * mineralised) * (
        now.gas * water.nitrate_g
    )
    spared = gas * rates.oxygen_spared_g_g
    charges = (
        hour.excreted_g
        + mineralised
        + returned
        - 2.0 * r1
        - built_a
        + built_n
        + gas
        + rates.root_return * uptake
    )
    breathing = hour.fish_oxygen_g * now.oxygen_mg_l / (0.2 + now.oxygen_mg_l)
    rotting = mineralised * rates.solids_oxygen_g_g_n
    used = r1 * (nitrogen.OXYGEN_PER_N["ammonia"] - a.yield_g_cod_g_n * now.ammonia_free) + r2 * (
        nitrogen.OXYGEN_PER_N["nitrite"] - n.yield_g_cod_g_n * now.nitrite_free
    )
    dioxide = 1000.0 * now.dioxide_share * water.carbon_mol / water.water_l
    return [
        hour.excreted_g + mineralised + returned - r1 - built_a,
        r1 - r2,
        r2 - built_n - gas - uptake,
        hour.solids_in_g - mineralised,
        hour.base_eq + charges / ATOMIC_MASS_N_G_MOL,
        hour.carbon_in_mol
        + rates.breathed_carbon_mol_g * (breathing + rotting)
        + hour.carbon_exchange_m3 * (hour.carbon_in_air_mol_m3 - dioxide),
        hour.oxygen_gain_g - hour.oxygen_exchange_m3 * now.oxygen_mg_l - breathing - used - rotting + spared,
        a.growth_1_d * r1 * now.ammonia_free - lost_a,
        n.growth_1_d * r2 * now.nitrite_free - lost_n,
        -hour.evaporated_l,
    ]


def readings(state, hour: Hour) -> list[float]:
    """TAN, nitrite, nitrate, alkalinity, pH, oxygen of a state, as `SeasonRun.hourly` has them."""
    litres = state[9]
    hydrogen = carbonate.hydrogen_closed(state[4] / litres, state[5] / litres, hour.constants)
    return [
        1000.0 * state[0] / litres,
        1000.0 * state[1] / litres,
        1000.0 * state[2] / litres,
        state[4] / litres * carbonate.MG_L_CACO3_PER_EQ_L,
        -float(np.log10(hydrogen)),
        1000.0 * state[6] / litres,
    ]


NAMES = ("tan_mg_l", "nitrite_mg_l", "nitrate_mg_l", "alkalinity_mg_l", "ph", "oxygen_mg_l")


DISSOLVED = (0, 1, 2, 4, 5, 6, 9)
"""Places in the state of what leaves with water that is let out."""


def jumped(state: list[float], events) -> list[float]:
    """A state after the events of a morning, as the run recorded them."""
    for event in events:
        state = [
            amount * (event.keep if place in DISSOLVED else 1.0) + event.added.get(Water._fields[place], 0.0)
            for place, amount in enumerate(state)
        ]
    return state


def replay(run, days: int, changed=derivative) -> np.ndarray:
    """Readings at the beginning of every hour by LSODA, rtol 1e-9, restarted every hour; (24 days, 6)."""
    from scipy.integrate import odeint

    by_day: dict[int, list] = {}
    for event in run.events:
        by_day.setdefault(event.day, []).append(event)
    state = list(run.waters[run.before])
    found = []
    for day in range(days):
        # The first morning's water is kept as it was after its events.
        state = jumped(state, by_day.get(day, [])) if day else state
        for hour in run.hours[run.before + day]:
            found.append(readings(state, hour))
            state = list(
                odeint(
                    lambda y, t, hour=hour: changed(y, hour, run.rates),
                    state,
                    [0.0, 1.0],
                    rtol=1e-9,
                    atol=1e-11,
                    mxstep=5000,
                )[-1]
            )
    return np.array(found)


ALLOWED = {
    "tan_mg_l": 0.02,
    "nitrite_mg_l": 0.02,
    "nitrate_mg_l": 0.005,
    "alkalinity_mg_l": 1.0,
    "ph": 0.03,
    "oxygen_mg_l": 0.1,
}
"""Largest difference at any hour: shares of the run's maximum for the nitrogen, else in the unit itself."""


def differences(run, days: int, changed=derivative) -> dict[str, float]:
    """Largest difference of every reading over its allowance: below 1 it passes."""
    other = replay(run, days, changed)
    found = {}
    for place, name in enumerate(NAMES):
        own = run.hourly[name][: 24 * days]
        scale = other[:, place].max() if name.endswith("te_mg_l") or name == "tan_mg_l" else 1.0
        found[name] = float(np.abs(own - other[:, place]).max() / scale / ALLOWED[name])
    return found
