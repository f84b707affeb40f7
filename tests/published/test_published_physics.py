"""Water, climate and hydraulics against handbooks, standards, worked examples and general-purpose libraries.

Each row of the tables is one call and what it must give; `kind` says what the expected value is worth.
"""

from functools import cache

import numpy as np
import pandas as pd
import pytest
from published_rows import hold, ids, rows
from vega_datasets import local_data

from aquacalc import constants, crops, nitrogen, tables, units
from aquacalc.advice.reading import what_if
from aquacalc.climate import anomaly, days, evaporation, sun, tank
from aquacalc.hydraulics import beds, loads, pipes, pump, shapes, turnover
from aquacalc.hydraulics import water as liquid
from aquacalc.uncertainty import coefficient
from aquacalc.water import ammonia, carbonate, chlorine, dosing, oxygen, phosphate, salts, supplements, top_up

ROWS = rows("water", "climate", "hydraulics")
SEATTLE_DEG = 47.45


def chemical(key: str, column: str) -> float:
    return tables.load("chemicals").row(key).number(column)


def dosed(
    ph: float, alkalinity_mg_l: float, temperature_c: float, ionic_strength: float, key: str, grams_m3: float
) -> carbonate.Water:
    """A water after grams of a chemical in each cubic metre, at once."""
    before = carbonate.water(ph, alkalinity_mg_l, temperature_c, ionic_strength)
    of = dosing.chemical(key)
    return dosing.after_rise(before, of, dosing.rise_of_grams_mg_l(of, grams_m3, 1000.0))


def grams_for_ph(
    ph: float, alkalinity_mg_l: float, temperature_c: float, ionic_strength: float, key: str, target: float
) -> float:
    before = carbonate.water(ph, alkalinity_mg_l, temperature_c, ionic_strength)
    of = dosing.chemical(key)
    return float(dosing.grams_for_alkalinity(of, dosing.rise_for_ph_mg_l(before, of, target), 1000.0))


@cache
def seattle() -> pd.DataFrame:
    """The open daily weather file of Seattle, 2012 to 2015."""
    return local_data.seattle_weather()


def span(start: str) -> pd.DataFrame:
    """Rows whose date begins so: a day, a month or a year."""
    weather = seattle()
    return weather[weather["date"].dt.strftime("%Y-%m-%d").str.startswith(start)]


def degree_days(start: str) -> float:
    rows = span(start)
    return float(days.growing_degree_days(rows["temp_max"], rows["temp_min"], 10.0).sum())


def hargreaves_mm(start: str) -> float:
    rows = span(start)
    above = sun.extraterrestrial_mj_m2_d(SEATTLE_DEG, rows["date"].dt.dayofyear - 1)
    return float(np.sum(evaporation.et0_hargreaves(rows["temp_max"], rows["temp_min"], above)))


def seattle_frost() -> days.FrostDates:
    return days.frost_dates(span("2014")["temp_min"].to_numpy())


BANGKOK = evaporation.Day(34.8, 25.6, wind_2m_m_s=2.0, vapour_kpa=2.85)


def bangkok_net_radiation() -> float:
    above = sun.extraterrestrial_mj_m2_d(13.73, 104)
    radiation = sun.radiation_from_sunshine(8.5, sun.day_length_h(13.73, 104), above)
    return float(evaporation.net_radiation(BANGKOK, radiation, sun.clear_sky_mj_m2_d(above, 2.0)))


def bangkok() -> float:
    net = bangkok_net_radiation()
    return float(evaporation.et0_penman_monteith(BANGKOK, net, altitude_m=2.0, soil_heat_mj_m2_d=0.14))


def lyon() -> float:
    july = evaporation.Day(26.6, 14.8, wind_2m_m_s=2.0)
    above = sun.extraterrestrial_mj_m2_d(45.72, 195)
    radiation = sun.radiation_from_temperature(26.6, 14.8, above, 0.16)
    net = evaporation.net_radiation(july, radiation, sun.clear_sky_mj_m2_d(above, 200.0))
    return float(evaporation.et0_penman_monteith(july, net, altitude_m=200.0))


def coast() -> float:
    vapour = evaporation.vapour_pressure_kpa(29.0, 17.0, 85.0, 40.0)
    january = evaporation.Day(29.0, 17.0, wind_2m_m_s=2.5, vapour_kpa=vapour)
    above = sun.extraterrestrial_mj_m2_d(-33.9, 19)
    net = evaporation.net_radiation(january, 24.0, sun.clear_sky_mj_m2_d(above, 50.0))
    return float(evaporation.et0_penman_monteith(january, net, altitude_m=50.0))


def penman() -> float:
    vapour = 0.5 * evaporation.saturation_pressure_kpa(25.0)
    day = evaporation.Day(25.0, 25.0, vapour_kpa=vapour)
    net = evaporation.net_radiation(day, 24.0, sun.clear_sky_mj_m2_d(40.0), evaporation.WATER_ALBEDO)
    return float(evaporation.open_water_evaporation_mm_d(25.0, 50.0, net, 2.0))


def duty(
    exponent: float = 2.0,
    bore_mm: float = 25.0,
    roughness_mm: float = 0.0015,
    lift_m: float = 1.2,
    temperature_c: float = 20.0,
) -> float:
    """Pump of 3 m and 3000 L/h on 4 m of pipe with an entrance, three elbows, a valve and an exit."""
    line = pump.Line(4.0, bore_mm, 0.5 + 3 * 0.9 + 0.1 + 1.0, roughness_mm)
    return float(pump.curve_flow_l_h(pump.Box(3000.0, 3.0, exponent), lift_m, (line,), temperature_c))


def branches() -> np.ndarray:
    beds_above = ((1.2, pump.Line(2.0, 20.0, 3.0)), (1.4, pump.Line(5.0, 20.0, 4.0)))
    return pump.branch_flows_l_h(pump.Box(3000.0, 3.0, 2.0), pump.Line(2.0, 25.0, 2.5), beds_above)


def own_duty() -> float:
    """Where a fitted curve meets 0.9 + 0.25 Q2."""
    a, b, c = pump.fitted_curve([0.0, 0.6, 1.2, 1.8, 2.4], [2.5, 2.3, 1.7, 1.05, 0.0])
    return float(max(np.roots([c - 0.25, b, a - 0.9])))


NAMES = {
    "np": np,
    "ammonia": ammonia,
    "bangkok": bangkok,
    "bangkok_net_radiation": bangkok_net_radiation,
    "beds": beds,
    "branches": branches,
    "carbonate": carbonate,
    "chemical": chemical,
    "chlorine": chlorine,
    "coast": coast,
    "constants": constants,
    "crops": crops,
    "days": days,
    "degree_days": degree_days,
    "dosed": dosed,
    "dosing": dosing,
    "duty": duty,
    "evaporation": evaporation,
    "grams_for_ph": grams_for_ph,
    "hargreaves_mm": hargreaves_mm,
    "loads": loads,
    "lyon": lyon,
    "nitrogen": nitrogen,
    "own_duty": own_duty,
    "oxygen": oxygen,
    "phosphate": phosphate,
    "penman": penman,
    "pipes": pipes,
    "pump": pump,
    "shapes": shapes,
    "salts": salts,
    "supplements": supplements,
    "top_up": top_up,
    "seattle": seattle,
    "anomaly": anomaly,
    "coefficient": coefficient,
    "seattle_frost": seattle_frost,
    "sun": sun,
    "tank": tank,
    "turnover": turnover,
    "units": units,
    "water": liquid,
    "what_if": what_if,
}


@pytest.mark.parametrize(("name", "row"), ROWS, ids=ids(ROWS))
def test_row(name: str, row: dict[str, str]):
    hold(row, NAMES)
