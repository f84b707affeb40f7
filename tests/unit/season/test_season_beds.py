"""Beds through the season: growth, uptake, picking."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from aquacalc import crops
from aquacalc.garden.file import GardenFile
from aquacalc.schedule.batch import CropBatch
from aquacalc.season import beds, setting
from aquacalc.season.weather import Weather
from aquacalc.uncertainty import coefficient, draw

FIRST = date(2027, 3, 1)
DAYS = 200


@pytest.fixture(scope="module")
def yard():
    return GardenFile.open("demo:yard").garden


def batch(crop: str, plan: int, plant: int, leaves: int, area: float = 1.0, age: float = 0.0) -> CropBatch:
    return CropBatch(
        plan=plan,
        crop=crop,
        bed="north bed",
        area_m2=area,
        state="planned",
        sow=None,
        plant=FIRST + timedelta(days=plant),
        leaves=FIRST + timedelta(days=leaves),
        first_pick=None,
        last_pick=None,
        seeds=0,
        plants=0,
        age_d=age,
    )


def sky(air_c: float = 24.0, light: float = 40.0, water_c: float | None = None) -> Weather:
    same, none = np.full((DAYS, 1), air_c), np.zeros((DAYS, 1))
    return Weather(
        air_c=same,
        range_k=none,
        water_c=same if water_c is None else np.full((DAYS, 1), water_c),
        swing_c=none,
        light_mol_m2_d=np.full((DAYS, 1), light),
        tank_l_d=none,
        et0_mm_d=none,
    )


PLENTY = dict.fromkeys(beds.NUTRIENTS, 1000000.0)


def grown(yard, batches, weather, found_mg_l=PLENTY):
    drawn = draw(setting.triangles(yard), 1)
    found = beds.beds_of(yard, batches, drawn, weather, FIRST)
    growing = beds.at_start(found)
    there = {name: np.array([amount]) for name, amount in found_mg_l.items()}
    picked, need = [], []
    for day in range(DAYS):
        gained = beds.today(day, found, growing, there)
        need.append(gained.wanted_g["nitrogen"][:, 0])
        picked.append(beds.grown(day, found, growing, gained)[:, 0])
    return np.array(picked), np.array(need), found


def test_at_the_reference_temperature_a_crop_is_picked_on_its_day(yard):
    basil = crops.crop("basil")
    picked, _, found = grown(yard, [batch("basil", 2, 10, 199)], sky(basil.reference_c))
    first = int(np.flatnonzero(picked[:, 0])[0])
    assert first == pytest.approx(10 + basil.days.typical, abs=1)
    assert picked.sum() == pytest.approx(float(found.yield_kg[0, 0]))


def test_cold_and_dark_slow_it_and_below_the_base_it_stands_still(yard):
    cool, _, _ = grown(yard, [batch("basil", 2, 10, 199)], sky(16.0))
    warm, _, _ = grown(yard, [batch("basil", 2, 10, 199)], sky(24.0))
    dark, _, _ = grown(yard, [batch("basil", 2, 10, 199)], sky(24.0, light=8.0))
    cold, _, _ = grown(yard, [batch("basil", 2, 10, 199)], sky(8.0))

    def first(picked) -> float:
        days = np.flatnonzero(picked[:, 0])
        return float(days[0]) if days.size else np.inf

    assert first(warm) < first(dark) < np.inf
    night, _, _ = grown(yard, [batch("basil", 2, 10, 199)], sky(24.0, light=5.9))
    assert first(night) == np.inf
    assert first(warm) < first(cool) < np.inf
    assert first(cold) == np.inf


def test_what_is_taken_up_is_the_need_of_what_is_picked(yard):
    picked, need, found = grown(yard, [batch("basil", 2, 10, 199)], sky(24.0))
    whole = float(found.yield_kg[0, 0] * found.uptake_g_kg["nitrogen"][0, 0])
    assert need.sum() == pytest.approx(whole, rel=0.02)
    assert picked.sum() == pytest.approx(float(found.yield_kg[0, 0]))


def test_a_head_that_has_to_leave_early_is_smaller_or_lost(yard):
    lettuce = crops.crop("lettuce_leaf")
    salad = replace(yard, crops=(replace(yard.crops[0], crop="lettuce_leaf"),))
    assert lettuce.window_days.typical == 0.0
    days = int(lettuce.days.typical)

    def total(leaves: int) -> float:
        picked, _, found = grown(salad, [batch("lettuce_leaf", 0, 0, leaves)], sky(lettuce.reference_c))
        return float(picked.sum() / found.yield_kg[0, 0])

    assert total(days + 5) == pytest.approx(1.0)
    assert 0.7 < total(int(0.8 * days)) < 0.9
    assert total(int(0.3 * days)) == 0.0


def test_hungry_crops_are_late_and_light_by_what_is_scarcest(yard):
    fed, _, _ = grown(yard, [batch("basil", 2, 10, 199)], sky(24.0))
    half = float(coefficient("half_supply_potassium_mg_l").typical)
    hungry, _, found = grown(yard, [batch("basil", 2, 10, 199)], sky(24.0), {**PLENTY, "potassium": half})
    assert np.flatnonzero(hungry[:, 0])[0] > np.flatnonzero(fed[:, 0])[0]
    assert hungry.sum() == pytest.approx(float(found.yield_kg[0, 0]), rel=0.05)
    gained = beds.today(
        20, found, beds.at_start(found), {**{n: np.array([1e6]) for n in beds.NUTRIENTS}, "iron": np.zeros(1)}
    )
    assert beds.NUTRIENTS[int(gained.scarce[0, 0])] == "iron"
    assert gained.mass_d[0, 0] == 0.0
    assert gained.age_d[0, 0] > 0.0


def test_a_starved_crop_ages_on_and_is_picked_light(yard):
    fed, _, found = grown(yard, [batch("basil", 2, 10, 199)], sky(24.0))
    little = float(coefficient("half_supply_nitrogen_mg_l").typical) / 9.0
    starved, need, _ = grown(yard, [batch("basil", 2, 10, 199)], sky(24.0), {**PLENTY, "nitrogen": little})
    # A tenth of the supply: mass goes at a tenth, age at half, so a fifth is picked.
    assert starved.sum() == pytest.approx(0.2 * fed.sum(), rel=0.02)
    whole = float(found.yield_kg[0, 0] * found.uptake_g_kg["nitrogen"][0, 0])
    assert need.sum() == pytest.approx(0.2 * whole * (1.0 - 0.4 * 0.9), rel=0.02)


def test_own_yield_and_losses_replace_the_table(yard):
    own = replace(yard, crops=(replace(yard.crops[0], yield_kg_m2=2.0, loss_pct=25.0), *yard.crops[1:]))
    _, _, found = grown(own, [batch("okra", 0, 10, 199, area=1.5)], sky())
    assert found.yield_kg[0, 0] == pytest.approx(2.0 * 1.5 * 0.75)


def test_nothing_stands_before_its_day_or_after_it_has_left(yard):
    _, need, _ = grown(yard, [batch("basil", 2, 20, 40)], sky(24.0))
    days = np.flatnonzero(need[:, 0])
    assert (days.min(), days.max()) == (20, 40)
