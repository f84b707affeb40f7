"""A day's base at once, in parts, by drip; and the price of a high target."""

import pytest
import seasons
from hypothesis import given
from hypothesis import strategies as st

from aquacalc.advice.doses import jumps, planning
from aquacalc.advice.doses.request import Request
from aquacalc.judge.lines import fish_like
from aquacalc.water import carbonate


@given(st.floats(6.2, 7.6), st.floats(8.0, 120.0), st.floats(1.0, 20.0), st.sampled_from((0.0, 0.01, 0.02)))
def test_smaller_portions_jump_less_high(ph: float, alkalinity: float, day: float, carbon: float):
    before = carbonate.water(ph, alkalinity, 22.0)
    found = jumps.jumps(before, 1.0, day, carbon)
    assert found["once"].ph > found["parts"].ph > found["drip"].ph > ph
    assert found["once"].unionised_mg_l > found["parts"].unionised_mg_l > found["drip"].unionised_mg_l


def test_ten_of_hydroxide_at_once_take_thin_water_beyond_ph_nine():
    found = jumps.jumps(carbonate.water(6.9, 16.0, 25.0, 0.009), 1.0, 10.0, 0.0)
    assert found["once"].ph > 9.0
    assert found["once"].unionised_mg_l > 20.0 * found["parts"].unionised_mg_l


def test_a_season_tells_the_three_ways_and_none_without_base():
    found = jumps.of_season(seasons.season("southern"), seasons.garden("southern"))
    assert list(found) == ["once", "parts", "drip"]
    assert found["once"].unionised_mg_l > found["parts"].unionised_mg_l >= found["drip"].unionised_mg_l > 0.0


def test_a_high_target_costs_ammonia_ration_and_base():
    low, high = (jumps.price(ph, 2.0, 25.0, 5.0, fish_like("warm"), 1.5) for ph in (7.0, 7.8))
    # Six times as much at pH 7.8 as at 7.0, at 25 C: by the share that is un-ionised.
    assert high.unionised_mg_l / low.unionised_mg_l == pytest.approx(6.1, rel=0.02)
    assert high.ration < low.ration == 1.0
    assert high.grams - low.grams == pytest.approx(1.5 * (high.alkalinity_mg_l - low.alkalinity_mg_l))


def test_only_a_wish_for_a_higher_ph_than_usual_is_told_its_price():
    asked = Request("potassium_bicarbonate", "ph", 7.6, 600.0, 6.8, 20.0, 24.0, tan_mg_l=0.3)
    made = planning.plan(asked)
    prices = jumps.dearer(made)
    assert prices is not None
    assert [one.ph for one in prices] == [7.0, 7.6]
    usual = planning.plan(Request("potassium_bicarbonate", "ph", 7.0, 600.0, 6.6, 20.0, 24.0))
    assert jumps.dearer(usual) is None
    assert jumps.of_plan(usual)["parts"].ph < jumps.of_plan(usual)["once"].ph
