from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from yard import yard

from aquacalc.garden.model import Power
from aquacalc.sizing import balance
from aquacalc.uncertainty import Triangle, band, draw

BACKED = replace(yard(), power=Power("battery air", 500.0, 20.0, 8.0, True))


def with_fish(count):
    return replace(BACKED, fish=(replace(BACKED.fish[0], count=count),))


@settings(max_examples=15)
@given(st.integers(1, 200), st.integers(1, 200))
def test_more_fish_never_want_less_feed_or_last_longer(few, more):
    few, more = sorted((few, more))
    less, greater = (balance.balance(with_fish(n), members=20) for n in (few, more))
    assert (greater.demand.feed_g_day.middle >= less.demand.feed_g_day.middle).all()
    assert greater.outage.response_h <= less.outage.response_h
    assert greater.binding.share >= less.binding.share


@settings(max_examples=15)
@given(st.floats(1.1, 5.0))
def test_more_air_never_carries_less(factor):
    more = replace(BACKED, air=replace(BACKED.air, flow_l_min=BACKED.air.flow_l_min * factor))
    before, after = (balance.balance(garden, members=20).limit("oxygen") for garden in (BACKED, more))
    assert (after.feed_g_day.middle > before.feed_g_day.middle).all()


@settings(max_examples=10)
@given(st.floats(0.2, 5.0))
def test_a_limit_scaled_scales_its_feed(factor):
    beds = tuple(replace(bed, area_m2=bed.area_m2 * factor) for bed in BACKED.beds)
    before = balance.balance(BACKED, members=20)
    after = balance.balance(replace(BACKED, beds=beds), members=20)
    np.testing.assert_allclose(
        after.limit("solids").feed_g_day.middle, factor * before.limit("solids").feed_g_day.middle, rtol=1e-9
    )
    # Walls and the flow through the beds stay as they are.
    more = after.limit("nitrification").feed_g_day.middle / before.limit("nitrification").feed_g_day.middle
    assert (min(factor, 1.0) <= more).all()
    assert (more <= max(factor, 1.0)).all()


@settings(max_examples=10)
@given(st.floats(0.0, 3000.0), st.floats(0.0, 3000.0))
def test_higher_ground_never_holds_more_oxygen(one, other):
    low, high = sorted((one, other))
    at = [
        balance.balance(replace(BACKED, site=replace(BACKED.site, altitude_m=height)), members=20)
        for height in (low, high)
    ]
    assert (at[0].limit("oxygen").feed_g_day.middle >= at[1].limit("oxygen").feed_g_day.middle).all()


@given(st.floats(0.1, 0.9), st.floats(1.1, 3.0))
def test_wider_triangles_give_wider_bands(share, wider):
    narrow = Triangle(10.0 - 4.0 * share, 10.0, 10.0 + 6.0 * share)
    wide = Triangle(
        10.0 - 4.0 * share * min(wider, 2.4 / share), 10.0, 10.0 + 6.0 * share * min(wider, 2.4 / share)
    )
    bands = [band(draw({"a": triangle}, 200)["a"]) for triangle in (narrow, wide)]
    assert bands[1].high - bands[1].low > bands[0].high - bands[0].low
