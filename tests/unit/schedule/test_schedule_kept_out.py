"""Planned crops that heat, cold and dark keep out, and what the place may hold instead."""

from dataclasses import replace
from datetime import date

import pytest
from hand_made_garden import garden

from aquacalc import crops as table
from aquacalc import words
from aquacalc.advice import beds
from aquacalc.garden import opening, usual_year
from aquacalc.garden.model import Garden, MonthlyClimate, Season
from aquacalc.schedule import crops
from aquacalc.schedule.kept_out import kept_out

HOT = MonthlyClimate(
    air_max_c=(20.0, 22.0, 25.0, 29.0, 34.0, 38.0, 39.0, 38.0, 34.0, 29.0, 24.0, 20.0),
    air_min_c=(10.0, 11.0, 14.0, 18.0, 23.0, 27.0, 29.0, 28.0, 24.0, 19.0, 14.0, 10.0),
)


@pytest.fixture(scope="module")
def hot() -> Garden:
    made = garden()
    lettuce = replace(made.crops[0], crop="lettuce_leaf", months=tuple(range(1, 13)))
    return replace(
        made,
        crops=(lettuce,),
        site=replace(made.site, climate=HOT, latitude_deg=28.0),
        season=Season(date(2027, 1, 1), date(2027, 12, 31)),
    )


def test_lettuce_in_a_hot_summer_is_told_with_its_days_and_with_what_stands_the_heat(hot: Garden):
    spans = kept_out(hot, crops.batches(hot))
    assert spans[0].first.month in (5, 6)
    assert spans[-1].last.month in (7, 8, 9)
    year = usual_year.usual_year_of(hot)
    summer = slice(160, 240)
    for found in spans:
        assert (found.crop, found.because) == ("lettuce_leaf", "too_hot")
        assert 28.0 < found.air_c < 36.0
        assert found.instead
        assert "lettuce_leaf" not in found.instead
        for key in found.instead:
            grows = table.warmth_factor(table.crop(key), year.air_c, year.water_c, year.range_k)
            assert grows[summer].mean() >= opening.STANDS_HEAT_FROM


def test_nothing_is_planted_on_the_days_that_are_told(hot: Garden):
    spans = kept_out(hot, crops.batches(hot))
    planted = [one.plant for one in crops.batches(hot) if one.in_bed]
    assert spans
    assert planted
    assert not [day for day in planted for found in spans if found.first <= day <= found.last]


def test_where_another_crop_fills_the_bed_nothing_is_told(hot: Garden):
    bed = next(one for one in hot.beds if one.name == hot.crops[0].bed)
    okra = replace(hot.crops[0], crop="okra", months=(5, 6, 7, 8, 9, 10), area_m2=bed.area_m2)
    both = replace(hot, crops=(*hot.crops, okra))
    spans = [one for one in kept_out(both, crops.batches(both)) if one.because == "too_hot"]
    assert not [one for one in spans if one.first <= date(2027, 7, 15) <= one.last]


def test_the_finding_says_what_to_plant_instead(hot: Garden):
    told, spans = beds.of_garden(hot), kept_out(hot, crops.batches(hot))
    assert spans
    for found, span in zip(told, spans, strict=True):
        assert found.key.startswith("finding-crop-too-hot")
        said = words.finding(found, words.Reader())
        for key in span.instead:
            assert words.name("crop", key) in said.action
        assert "too hot to plant" in said.title
