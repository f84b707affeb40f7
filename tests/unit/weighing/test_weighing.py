"""A sample of fish: intervals, odd weights, growth, feed per growth."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from aquacalc import weighing
from aquacalc.uncertainty import Triangle

weights = st.lists(st.floats(20.0, 180.0), min_size=2, max_size=30)


@given(weights)
def test_the_interval_holds_the_mean_and_shrinks_when_each_fish_is_weighed_twice_as_often(sample):
    once, twice = weighing.one_by_one(sample), weighing.one_by_one(sample * 2)
    assert once.low_g <= once.mean_g <= once.high_g
    assert twice.half_g <= once.half_g + 1e-9


@given(weights)
def test_a_bucket_has_the_same_mean_as_its_fish(sample):
    bucket = weighing.together(sum(sample), len(sample))
    assert bucket.mean_g == pytest.approx(weighing.one_by_one(sample).mean_g)
    assert not bucket.single


def test_one_fish_tells_nothing_of_the_others():
    alone = weighing.one_by_one([66.0])
    assert math.isinf(alone.half_g)
    assert math.isnan(alone.spread_g)
    assert alone.low_g == 0.0


@pytest.mark.parametrize(
    ("sample", "place"),
    [
        ([66.0], None),
        ([62.0, 71.0], None),
        ([62.0, 6200.0], 1),
        ([60.0, 0.6, 70.0], 1),
        ([5.0, 40.0, 44.0], None),
    ],
)
def test_a_weight_ten_times_away_is_named(sample, place):
    assert weighing.odd_one(sample) == place


def test_own_growth_counts_more_the_oftener_it_was_seen():
    usual, seen = Triangle(0.6, 0.9, 1.2), 1.5
    middles = [weighing.refitted(usual, seen, times).typical for times in (1, 2, 8)]
    assert usual.typical < middles[0] < middles[1] < middles[2] < seen


def test_the_dead_lower_the_biological_conversion_only():
    assert weighing.biological_fcr(3.0, 2.0, 0.5) < weighing.economic_fcr(3.0, 2.0)
    assert math.isnan(weighing.economic_fcr(3.0, -0.1))


def test_growth_without_warmth_has_no_coefficient():
    assert math.isnan(weighing.growth(60.0, 61.0, 20, 0.0).tgc_per1000)
