"""Nitrogen, fish, crops, solids, aeration and power against handbooks, trials and worked examples.

Each row of the tables is one call and what it must give; `kind` says what the expected value is worth.
"""

from datetime import date
from functools import cache
from itertools import pairwise

import accounts
import numpy as np
import pytest
from published_rows import hold, ids, rows
from vega_datasets import local_data

from aquacalc import (
    aeration,
    constants,
    crops,
    film,
    fish,
    nitrogen,
    power,
    solids,
    tables,
    units,
    weighing,
)
from aquacalc.agenda import today
from aquacalc.climate import evaporation, sun
from aquacalc.climate import months as months_of_year
from aquacalc.garden import usual_year
from aquacalc.garden.file import GardenFile
from aquacalc.uncertainty import coefficient, quantile
from aquacalc.water import ammonia, carbonate, dosing, oxygen

TABLES = ("nitrogen", "fish", "crops", "solids", "aeration", "power")
ROWS = rows(*TABLES)

typical = nitrogen.Kinetics.typical()


def alkalinity_lost(added: nitrogen.AlkalinityProcess) -> float:
    """mg CaCO3 lost when 1 mg N is added and oxidised to nitrate."""
    processes: tuple[nitrogen.AlkalinityProcess, ...] = (added, "ammonia_oxidised", "nitrite_oxidised")
    return -sum(nitrogen.alkalinity_change_mg(process, 1.0) for process in processes)


def square(step: nitrogen.Step, transfer_m_d: float, temperature_c: float) -> film.Film:
    """A square metre of film."""
    return film.film_of(step, [film.Surface(1.0, transfer_m_d)], temperature_c, typical)


def areal(
    step: nitrogen.Step,
    transfer_m_d: float,
    substrate_mg_l: float,
    temperature_c: float,
    ph: float = 7.0,
    oxygen_mg_l: float = 6.5,
    alkalinity_mg_l: float = 100.0,
) -> float:
    """What it does, g N/d."""
    water = (temperature_c, ph, oxygen_mg_l, alkalinity_mg_l)
    return film.rate_g_d(step, square(step, transfer_m_d, temperature_c), substrate_mg_l, *water, typical)


def steady(
    step: nitrogen.Step,
    transfer_m_d: float,
    load_g_d: float,
    temperature_c: float,
    ph: float = 7.0,
    oxygen_mg_l: float = 6.5,
    alkalinity_mg_l: float = 100.0,
) -> float:
    """The substrate at which it carries a load."""
    water = (temperature_c, ph, oxygen_mg_l, alkalinity_mg_l)
    here = square(step, transfer_m_d, temperature_c)
    return float(film.steady_substrate_mg_l(step, here, load_g_d, *water, typical))


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


def fed_g(weights_g: np.ndarray, count: float, fcr: float) -> np.ndarray:
    """Feed given so far to a batch, by day from none at all."""
    return np.concatenate([[0.0], np.cumsum(fcr * count * np.diff(weights_g))])


def warm_days(key: str, temperatures_c: np.ndarray) -> np.ndarray:
    """Effective temperature of each day."""
    return fish.effective_temperature_c(temperatures_c, fish.species(key).corners)


def in_twelve_means(daily: np.ndarray) -> np.ndarray:
    """Each day's value replaced by the mean of its twelfth of the year."""
    edges = [month * 365 // 12 for month in range(13)]
    return np.concatenate([np.full(b - a, daily[a:b].mean()) for a, b in pairwise(edges)])


def ration(key: str, weight_g: float, temperature_c: float, tgc: float | None = None) -> float:
    """Ration as the season gives it, per cent of body weight a day; tgc: another than the typical growth."""
    kind = fish.species(key)
    growth = kind.tgc.typical if tgc is None else tgc
    conversion = fish.fcr_at_weight(kind.fcr.typical, weight_g)
    return float(fish.ration_pct(weight_g, growth, effective(key, temperature_c), conversion))


def catfish_rations() -> float:
    """Model over printed ration, mean of the lines from May to October."""
    lines = [row for _, row in ROWS if row["call"].startswith("ration('channel_catfish'")]
    return float(np.mean([eval(row["call"], dict(NAMES)) / float(row["expected"]) for row in lines]))


def phosphorus(p2o5_g: float) -> float:
    """Phosphorus in what a fertiliser label or a removal table counts as P2O5."""
    p, o = constants.ATOMIC_MASS_P_G_MOL, constants.ATOMIC_MASS_O_G_MOL
    return p2o5_g * 2.0 * p / (2.0 * p + 5.0 * o)


def potassium(k2o_g: float) -> float:
    """Potassium in what is counted as K2O."""
    k, o = constants.ATOMIC_MASS_K_G_MOL, constants.ATOMIC_MASS_O_G_MOL
    return k2o_g * 2.0 * k / (2.0 * k + o)


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


def stretch(key: str, slow: tuple[int, ...], fast: tuple[int, ...]) -> float:
    """Days to harvest of plantings in some months over those in others, in a southern dry-summer climate."""
    crop, year = crops.crop(key), usual_year.usual_year_of(GardenFile.open("demo:southern").garden)
    two_years = np.tile(crops.growth_factor(crop, year.air_c, year.light_mol_m2_d), 2)

    def days(month: int) -> float:
        planted = round(months_of_year.MIDDLE_DAYS[month - 1])
        return float(crops.days_to_harvest(two_years[planted:], crop.days.typical))

    return float(np.mean([days(month) for month in slow]) / np.mean([days(month) for month in fast]))


def warmth(key: str, air_c: float) -> float:
    return float(crops.warmth_factor(crops.crop(key), air_c))


def roots(key: str, water_c: float) -> float:
    crop = crops.crop(key)
    return float(crops.warmth_factor(crop, crop.reference_c, water_c))


def worth(key: str, week_c: float, tolerant: bool = False) -> float:
    crop = crops.crop(key)
    if tolerant:
        return float(crops.worth_picking(week_c, crop.tolerant_from_c, crop.tolerant_to_c))
    return float(crops.worth_picking(week_c, crop.picked_from_c, crop.picked_to_c))


def lit_days(key: str, light: float) -> float:
    return float(crops.light_on_days(crops.crop(key), light, 0.5))


def lit_mass(key: str, light: float) -> float:
    return float(crops.light_on_mass(crops.crop(key), light, 0.4))


def salted(key: str, conductivity_ds_m: float) -> float:
    crop = crops.crop(key)
    return float(crops.salt_yield_pct(conductivity_ds_m, crop.salt_threshold_ds_m, crop.salt_slope_pct_ds_m))


NAMES = {
    "example_year": lambda: accounts.YEAR,
    "today": today,
    "weighing": weighing,
    "np": np,
    "date": date,
    "aeration": aeration,
    "ammonia": ammonia,
    "coefficient": coefficient,
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
    "B_WATER": B_WATER,
    "C_WATER": C_WATER,
    "NH3_PER_N": constants.MOLAR_MASS_NH3_G_MOL / constants.ATOMIC_MASS_N_G_MOL,
    "alkalinity_lost": alkalinity_lost,
    "base": base,
    "chemical": chemical,
    "catfish_rations": catfish_rations,
    "cohorts": cohorts,
    "carbonate": carbonate,
    "constant_days": constant_days,
    "dosing": dosing,
    "effective": effective,
    "example_a": example_a,
    "example_a_feed": example_a_feed,
    "example_b": example_b,
    "example_c": example_c,
    "fed_g": fed_g,
    "in_twelve_means": in_twelve_means,
    "film": film,
    "areal": areal,
    "steady": steady,
    "square": square,
    "phi": phi,
    "phosphorus": phosphorus,
    "potassium": potassium,
    "lit_days": lit_days,
    "lit_mass": lit_mass,
    "quantile": quantile,
    "ration": ration,
    "roots": roots,
    "salted": salted,
    "seattle_days": seattle_days,
    "stretch": stretch,
    "succession": succession,
    "typical": typical,
    "warm_days": warm_days,
    "warmth": warmth,
    "worth": worth,
}


@pytest.mark.parametrize(("name", "row"), ROWS, ids=ids(ROWS))
def test_row(name: str, row: dict[str, str]):
    hold(row, NAMES)
