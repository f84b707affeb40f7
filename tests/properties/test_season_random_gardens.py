"""Seasons of random gardens and of gardens without something: never negative, never NaN, nothing lost."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
import random_gardens
import seasons
from hypothesis import HealthCheck, given, settings

from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden, Light
from aquacalc.season.record import Record
from aquacalc.season.run import Simulated

DAYS = 60
MEMBERS = 3
SIGNED = {"air_c"}
"""Daily quantities that may lie below zero."""
MOST_PH = 12.0


def assert_sound(written: Record) -> None:
    """Every number is one, and none lies below nothing."""
    groups = {"daily": written.daily, "fish": written.fish, "crops": written.crops}
    for group, arrays in groups.items():
        for name, values in arrays.items():
            known = values
            if name == "weight_g":
                assert np.array_equal(np.isnan(values), written.fish["count"] <= 1e-6)
                known = values[~np.isnan(values)]
            assert np.isfinite(known).all(), f"{group} {name}"
            if name not in SIGNED:
                assert (known >= 0.0).all(), f"{group} {name}"
    assert (written.daily["ph"] < MOST_PH).all()


def assert_closed(kept: Simulated, steps: list[seasons.Step]) -> None:
    """Each hour by itself, and the single member from its first morning to its last evening."""
    worst = [max(seasons.hour_errors(step, kept.rates).values()) for step in steps]
    assert max(worst) < 1e-9
    if kept.written.daily["ph"].shape[1] == 1:
        assert max(seasons.run_errors(kept, steps).values()) < 1e-9


def assert_whole(garden: Garden, days: int = DAYS) -> None:
    """The middle run and a few members."""
    for members in (1, MEMBERS):
        with seasons.recorded() as steps:
            kept = seasons.simulated(garden, days, members)
        assert kept.days == days
        assert_sound(kept.written)
        assert_closed(kept, steps)


def check(examples: int, folder: Path) -> None:
    path = folder / "garden.toml"
    skipped = [HealthCheck.too_slow, HealthCheck.data_too_large]

    @settings(max_examples=examples, suppress_health_check=skipped)
    @given(random_gardens.short_plans(DAYS))
    def whole(data: random_gardens.Data) -> None:
        path.write_text(random_gardens.text_of(data), "utf-8")
        assert_whole(GardenFile.open(path, date(2027, 1, 1)).garden)

    whole()


def test_any_garden_comes_through_its_weeks(tmp_path: Path):
    check(4, tmp_path)


@pytest.mark.slow
def test_many_gardens_come_through_their_weeks(tmp_path: Path):
    check(75, tmp_path)


# Without something


def summer(**changed: object) -> Garden:
    """The yard from July on, with other parts."""
    garden = seasons.garden("yard")
    start = date(2027, 7, 1)
    season = replace(garden.season, start=start, end=start + timedelta(days=DAYS - 1))
    return replace(garden, season=season, **changed)  # type: ignore[arg-type]


def total(kept: Simulated, name: str) -> float:
    return float(seasons.by_day(kept, name).sum())


def test_without_fish_nobody_eats_and_nitrogen_only_leaves():
    garden = summer(fish=())
    assert_whole(garden, 20)
    kept = seasons.simulated(garden, 20)
    assert total(kept, "feed_g") == total(kept, "excreted_g") == total(kept, "fish_kg") == 0.0
    first, last = (seasons.held(water, kept.rates)["nitrogen"] for water in (kept.waters[0], kept.waters[-1]))
    assert last < first + total(kept, "top_up_l") * (garden.top_up.nitrate_n_mg_l or 0.0) / 1000.0


def test_without_crops_nothing_is_taken_up_and_less_water_goes():
    bare, planted = summer(crops=()), summer()
    assert_whole(bare, 20)
    without, beside = seasons.simulated(bare, 20), seasons.simulated(planted, 20)
    assert total(without, "taken_up_g") == total(without, "bed_used_m2") == 0.0
    assert total(without, "top_up_l") < total(beside, "top_up_l")


def test_without_light_nothing_grows():
    site = seasons.garden("yard").site
    night = replace(site, climate=replace(site.climate, radiation_mj_m2_d=(0.0,) * 12))
    dark = summer(site=night, light=Light())
    assert_whole(dark, 20)
    kept = seasons.simulated(dark, 20)
    assert total(kept, "light_mol_m2_d") == total(kept, "taken_up_g") == 0.0
    assert kept.written.crops["picked_kg"].sum() == 0.0


def test_without_bacteria_ammonia_gathers_until_feed_is_held_back():
    garden = summer()
    garden = replace(garden, start_up=replace(garden.start_up, state="new", started=garden.season.start))
    with seasons.recorded() as steps:
        sterile = seasons.simulated(garden, DAYS, log_capacity_start=-200.0)
    assert_sound(sterile.written)
    assert_closed(sterile, steps)
    assert total(sterile, "nitrified_g") < 1e-9
    assert (seasons.by_day(sterile, "ration") == 0.0).any()
    assert seasons.by_day(sterile, "tan_mg_l")[-1] > seasons.by_day(sterile, "tan_mg_l")[0]


def test_without_flow_beds_bring_no_oxygen():
    # Of a garden with little air: where stones bring enough, bacteria in the beds take more than beds bring.
    air = seasons.garden("yard/before").air
    pumps = tuple(replace(pump, share_on=0.0) for pump in seasons.garden("yard").pumps)
    still = summer(pumps=pumps, air=air)
    assert_whole(still, 20)
    without, beside = seasons.simulated(still, 20), seasons.simulated(summer(air=air), 20)
    assert (
        seasons.by_day(without, "oxygen_min_mg_l").mean() < seasons.by_day(beside, "oxygen_min_mg_l").mean()
    )
    assert without.hours[0][0].oxygen_exchange_m3 < beside.hours[0][0].oxygen_exchange_m3
