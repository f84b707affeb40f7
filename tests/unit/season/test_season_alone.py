"""A batch of fish alone: the published growth formula, books that close, and bands in order."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from aquacalc import fish
from aquacalc.season import alone
from aquacalc.season.alone import LONGEST_D, Grown, Question

ASKED = Question("nile_tilapia", 30.0, 20.0, date(2027, 4, 10), 450.0, np.full(12, 27.0))


def middles(found: Grown) -> dict[str, float]:
    return {
        name: float(getattr(found, name).middle) for name in ("first_d", "half_d", "count", "kg", "feed_kg")
    }


def test_half_are_of_size_when_the_formula_says_so():
    found = alone.grown(ASKED, members=1)
    tgc = fish.species("nile_tilapia").tgc.typical
    days = float(fish.days_to_weight(20.0, 450.0, tgc, 27.0))
    assert float(found.half_d.middle) == np.ceil(days)


def test_the_largest_are_of_size_first_and_the_more_fish_the_earlier():
    one, few, many = (middles(alone.grown(replace(ASKED, count=n), members=1)) for n in (1.0, 30.0, 3000.0))
    assert many["first_d"] < few["first_d"] < few["half_d"]
    assert one["first_d"] <= one["half_d"]
    assert few["half_d"] == many["half_d"]


def test_feed_is_gain_times_conversion_and_weight_what_is_alive():
    found = middles(alone.grown(ASKED, members=1))
    species = fish.species("nile_tilapia")
    lost = species.loss_pct.typical / 100.0
    assert (1.0 - lost) * 30.0 <= found["count"] < 30.0
    assert found["kg"] == pytest.approx(found["count"] * 0.45, rel=0.02)
    gained = found["kg"] - found["count"] * 0.02
    low, high = (species.fcr.typical * share for share in (0.7, 1.3))
    assert low * gained < found["feed_kg"] < high * gained * 1.1


def test_bands_are_in_order_and_the_same_seed_gives_the_same():
    found = alone.grown(ASKED)
    for name in ("first_d", "half_d", "count", "kg", "feed_kg"):
        of = getattr(found, name)
        assert of.low <= of.middle <= of.high
    assert middles(alone.grown(ASKED)) == middles(found)


def test_cold_water_is_waited_out():
    warm, winter = np.full(12, 27.0), np.array([8.0, 8, 12, 18, 24, 27, 27, 27, 24, 18, 12, 8])
    always, seldom = (alone.grown(replace(ASKED, water_c=water)) for water in (warm, winter))
    assert always.grows == 1.0
    assert 0.2 < seldom.grows < 0.8
    assert seldom.half_d.middle > always.half_d.middle


def test_the_day_of_stocking_counts_where_the_water_changes():
    winter = np.array([8.0, 8, 12, 18, 24, 27, 27, 27, 24, 18, 12, 8])
    spring, autumn = (
        alone.grown(replace(ASKED, water_c=winter, stocked=date(2027, month, 1))) for month in (5, 10)
    )
    assert autumn.half_d.middle > spring.half_d.middle


def test_what_is_not_reached_lies_beyond_the_days_that_are_followed():
    found = alone.grown(replace(ASKED, water_c=np.full(12, 12.0)))
    assert float(found.first_d.middle) == float(found.half_d.middle) == LONGEST_D + 1
    assert float(found.feed_kg.high) == 0.0


def test_fish_that_are_of_size_on_the_first_day():
    found = middles(alone.grown(replace(ASKED, weight_g=500.0), members=1))
    assert (found["first_d"], found["half_d"], found["feed_kg"]) == (0.0, 0.0, 0.0)


def test_water_of_many_tries_spreads_the_days():
    spread = np.full((200, 12), 25.0) + np.linspace(-5.0, 5.0, 200)[:, None]
    one, many = alone.grown(ASKED), alone.grown(replace(ASKED, water_c=spread))
    assert many.half_d.high - many.half_d.low > one.half_d.high - one.half_d.low
