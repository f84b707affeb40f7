"""Three days of deadly heat within a season: crops die, area and minerals close, and the page says so."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
import seasons
from test_season_minerals import CLOSED, errors

from aquacalc import words
from aquacalc.advice.season.findings import of_season
from aquacalc.garden.model import Garden, Season
from aquacalc.schedule import crops
from aquacalc.season import plan, weather

HOT_FROM, HOT_C = 90, 48.0
"""Day of the season, well after the last planting of spring; hotter than any crop of the table bears."""


@pytest.fixture(scope="module")
def yard() -> Garden:
    """The yard until the middle of July: its crops are planted in May."""
    return replace(seasons.garden("yard/before"), season=Season(date(2027, 3, 1), date(2027, 7, 15)))


def heat(days: int) -> Callable[..., weather.Weather]:
    """The weather as it is made, with so many days of great heat; the water stays as it was."""
    usual = weather.weather_of

    def changed(garden, draw, first, whole, seed, anomalies):
        found = usual(garden, draw, first, whole, seed, anomalies)
        air = found.air_c.copy()
        before = (garden.season.start - first).days
        air[before + HOT_FROM : before + HOT_FROM + days] = HOT_C
        return replace(found, air_c=air)

    return changed


def standing(run) -> list[int]:
    """Batches that stand in their bed when the heat comes."""
    return np.flatnonzero(run.crops["stands"][:, :, HOT_FROM - 1].all(axis=1)).tolist()


def test_on_the_third_day_all_that_stands_dies_and_two_days_only_slow_it(
    monkeypatch: pytest.MonkeyPatch, yard: Garden
):
    monkeypatch.setattr(weather, "weather_of", heat(2))
    slowed = plan.run(yard, crops.batches(yard), 4)
    assert slowed.crops["heat_killed"].max() == 0.0
    there = standing(slowed)
    assert len(there) >= 3
    assert slowed.crops["stands"][there][:, :, HOT_FROM + 10].all()
    monkeypatch.undo()
    monkeypatch.setattr(weather, "weather_of", heat(3))
    killed = plan.run(yard, crops.batches(yard), 4)
    assert standing(killed) == there
    assert killed.crops["stands"][there][:, :, : HOT_FROM + 2].any(axis=2).all()
    assert not killed.crops["stands"][there][:, :, HOT_FROM + 2 :].any()
    assert killed.crops["heat_killed"][there][:, :, HOT_FROM + 2].all()
    assert not killed.crops["picked_kg"][there][:, :, HOT_FROM + 2 :].any()


def test_area_uptake_and_harvest_are_those_of_what_stands(monkeypatch: pytest.MonkeyPatch, yard: Garden):
    monkeypatch.setattr(weather, "weather_of", heat(3))
    found = plan.run(yard, crops.batches(yard), 4)
    area = np.array([one.area_m2 for one in found.batches])
    by_batch = np.tensordot(area, found.crops["stands"], axes=1)
    assert found.daily["bed_used_m2"] == pytest.approx(by_batch, abs=1e-6)
    assert (found.daily["bed_used_m2"][:, HOT_FROM - 1] > 0.0).all()
    assert found.daily["bed_used_m2"][:, HOT_FROM + 2 :].max() == 0.0
    assert (found.daily["taken_up_g"][:, HOT_FROM - 1] > 0.0).all()
    assert found.daily["taken_up_g"][:, HOT_FROM + 2 :].max() == 0.0


def test_every_mineral_is_found_again_through_the_death_of_the_crops(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(weather, "weather_of", heat(3))
    assert max(errors(monkeypatch, "yard", 120).values()) < CLOSED


def test_the_page_says_which_crop_the_heat_kills_and_when(monkeypatch: pytest.MonkeyPatch, yard: Garden):
    monkeypatch.setattr(weather, "weather_of", heat(3))
    run = plan.run(yard, crops.batches(yard), 4)
    told = [one for one in of_season(run, yard) if one.key == "finding-crop-season-killed"]
    dead = {(run.batches[place].crop, run.batches[place].bed) for place in standing(run)}
    assert {(one.amounts[0].value, one.subject) for one in told} == dead
    assert {one.first for one in told} == {run.date(HOT_FROM + 2)}
    for one in told:
        said = words.finding(one, words.Reader())
        assert f"heat kills {words.name('crop', str(one.amounts[0].value))}" in said.title
        assert "100" in said.title
    lost = {
        one.amounts[0].value for one in of_season(run, yard) if one.key == "finding-crop-season-not-ready"
    }
    assert not lost & {crop for crop, _ in dead}
