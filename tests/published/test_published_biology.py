"""Nitrogen, fish, crops, solids, aeration and power against handbooks, trials and worked examples.

Each row of the tables is one call and what it must give; `kind` says what the expected value is worth.
"""

from datetime import date
from functools import cache

import numpy as np
import pytest
from published_rows import hold, ids, rows
from vega_datasets import local_data

from aquacalc import aeration, constants, crops, fish, nitrogen, power, solids, tables, units
from aquacalc.climate import evaporation, sun
from aquacalc.water import ammonia, carbonate, dosing, oxygen

TABLES = ("nitrogen", "fish", "crops", "solids", "aeration", "power")
ROWS = rows(*TABLES)

typical = nitrogen.Kinetics.typical()


def alkalinity_lost(added: nitrogen.AlkalinityProcess) -> float:
    """mg CaCO3 lost when 1 mg N is added and oxidised to nitrate."""
    processes: tuple[nitrogen.AlkalinityProcess, ...] = (added, "ammonia_oxidised", "nitrite_oxidised")
    return -sum(nitrogen.alkalinity_change_mg(process, 1.0) for process in processes)


def phi(step: nitrogen.Step) -> float:
    """Rate factor at the start of worked example A."""
    free = 3.0 * ammonia.unionised_fraction(7.5, 25.0)
    return nitrogen.rate_factor(step, 25.0, 7.5, 6.5, 150.0, typical, free, 0.0)


def chemical(key: str, column: str) -> float:
    return tables.load("chemicals").row(key).number(column)


def effective(key: str, temperature_c: float) -> float:
    return float(fish.effective_temperature_c(temperature_c, fish.species(key).corners))


def months(*temperatures_c: float) -> np.ndarray:
    """Thirty days of each."""
    return np.repeat(temperatures_c, 30)


A_WATER = months(21, 24, 27, 28, 25, 20)
B_WATER = months(14, 11, 8, 6, 5, 7, 10, 13, 17, 20)
C_WATER = 22 + 8 * np.sin(2 * np.pi * (np.arange(365) - 100) / 365)


def example_a(tgc: float = 0.95) -> np.ndarray:
    return fish.weights_g(
        20, tgc, fish.effective_temperature_c(A_WATER, fish.species("nile_tilapia").corners)
    )


def example_a_feed(survival: float) -> float:
    """Feed of thirty fish over the plan, FCR 1.6."""
    alive = fish.alive(30, survival, np.arange(180), 180)
    return float(np.sum(1.6 * np.diff(example_a()) * alive))


def example_b() -> np.ndarray:
    return fish.weights_g(
        30, 1.6, fish.effective_temperature_c(B_WATER, fish.species("rainbow_trout").corners)
    )


def example_c() -> np.ndarray:
    return fish.weights_g(
        10, 0.95, fish.effective_temperature_c(C_WATER, fish.species("nile_tilapia").corners)
    )


def cohorts(number: int) -> fish.CohortPlan:
    return fish.cohort_plan(20, 500, number, 0.95, 28, 1.6)


def base(feed_g_day: float) -> float:
    """Base need of four square metres of lettuce at a feed of 32 % protein, a fifth of the N lost as gas."""
    tan = nitrogen.tan_production_g_day(feed_g_day, 0.32)
    return float(crops.base_need_eq_day(tan, 1.64, 0.2 * tan, 0.5, 21, 100))


def succession(bed_days: float, nursery_days: float, gap_days: float) -> tuple[float, ...]:
    found = crops.succession(10, bed_days, nursery_days, 25.0, 0.8, gap_days=gap_days)
    return (
        found.transplants,
        found.seeds,
        found.batches,
        found.places,
        round(found.area_m2, 9),
        found.nursery_cells,
    )


def constant_days(mean_c: float, days: float, base_c: float, reference_c: float, cap_c: float) -> float:
    factor = crops.temperature_factor(np.full(400, mean_c), base_c, reference_c, cap_c)
    return float(crops.days_to_harvest(factor, days))


@cache
def seattle_mean_c() -> dict[str, float]:
    """Daily mean air of the open Seattle file, 2012 to 2015."""
    rows = local_data.seattle_weather()
    mean = (rows["temp_max"] + rows["temp_min"]) / 2
    return dict(zip(rows["date"].dt.strftime("%Y-%m-%d"), mean, strict=True))


def seattle_days(key: str, transplant: str) -> float:
    crop = crops.crop(key)
    days = [mean for day, mean in seattle_mean_c().items() if day >= transplant]
    return float(crops.days_to_harvest(crops.growth_factor(crop, days), crop.days.typical))


def salted(key: str, conductivity_ds_m: float) -> float:
    crop = crops.crop(key)
    return float(crops.salt_yield_pct(conductivity_ds_m, crop.salt_threshold_ds_m, crop.salt_slope_pct_ds_m))


NAMES = {
    "np": np,
    "date": date,
    "aeration": aeration,
    "ammonia": ammonia,
    "crops": crops,
    "evaporation": evaporation,
    "fish": fish,
    "nitrogen": nitrogen,
    "oxygen": oxygen,
    "power": power,
    "solids": solids,
    "sun": sun,
    "tables": tables,
    "units": units,
    "A_WATER": A_WATER,
    "NH3_PER_N": constants.MOLAR_MASS_NH3_G_MOL / constants.ATOMIC_MASS_N_G_MOL,
    "alkalinity_lost": alkalinity_lost,
    "base": base,
    "chemical": chemical,
    "cohorts": cohorts,
    "carbonate": carbonate,
    "constant_days": constant_days,
    "dosing": dosing,
    "effective": effective,
    "example_a": example_a,
    "example_a_feed": example_a_feed,
    "example_b": example_b,
    "example_c": example_c,
    "phi": phi,
    "salted": salted,
    "seattle_days": seattle_days,
    "succession": succession,
    "typical": typical,
}


@pytest.mark.parametrize(("name", "row"), ROWS, ids=ids(ROWS))
def test_row(name: str, row: dict[str, str]):
    hold(row, NAMES)
