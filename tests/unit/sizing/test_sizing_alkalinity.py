"""The floor of alkalinity: one function for season, balance, dose table, panel and log."""

from dataclasses import replace

import numpy as np
import pytest
import seasons
from hypothesis import given
from hypothesis import strategies as st

from aquacalc.advice import aims
from aquacalc.garden import aimed
from aquacalc.season import basing
from aquacalc.sizing import alkalinity

USES = st.floats(0.0, 200.0)


@given(USES, st.integers(1, 30))
def test_the_floor_lasts_until_the_next_look_within_its_ends(used: float, every: int):
    floor = float(alkalinity.floor_mg_l(used, every))
    assert 12.0 <= floor <= 60.0
    assert floor == pytest.approx(min(max(1.5 * used * every, 12.0), 60.0))
    assert float(alkalinity.floor_mg_l(used, every + 1)) >= floor


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_a_grower_who_looks_seldom_keeps_more(name: str):
    garden = seasons.garden(name)
    weekly = replace(garden, care=replace(garden.care, look_every_d=7))
    assert alkalinity.floor_of(weekly) >= alkalinity.floor_of(garden)
    assert aims.of_garden(weekly).floor_mg_l == alkalinity.floor_of(weekly)
    assert alkalinity.kept_mg_l(weekly) >= alkalinity.floor_of(weekly)


def test_less_feed_uses_less_and_none_without_fish():
    garden = seasons.garden("yard")
    capped = replace(garden, care=replace(garden.care, most_feed_g_day=20.0))
    assert 0.0 < alkalinity.used_mg_l_day(capped) < alkalinity.used_mg_l_day(garden)
    assert alkalinity.used_mg_l_day(replace(garden, fish=())) == 0.0


def test_the_season_looks_with_the_same_floor():
    used, every = 8.0, 3
    now = np.array([10.0])
    kept = basing.Kept(np.zeros(1, bool), now + used, np.array([[used], [used]]))
    # Ammonia does not stand against it, and the pH is at its target: only the floor asks for base.
    seen = basing.Seen(now, np.array([7.0]), np.zeros(1), np.array([9.4]), np.array([0.05]))
    portion, _ = basing.portion_mg_l(seen, kept, 7.0, every, looks=True)
    floor = float(alkalinity.floor_mg_l(used, every))
    assert floor == 36.0
    assert 0.0 < portion[0] <= used * every + floor - now[0]


def test_hard_top_up_holds_more_than_the_target_asks_for():
    assert float(aimed.alkalinity_mg_l(7.0, 170.0)) == 170.0
    soft = float(aimed.alkalinity_mg_l(7.0, 5.0))
    assert soft == float(aimed.alkalinity_mg_l(7.0, None)) < float(aimed.alkalinity_mg_l(7.4, None))
