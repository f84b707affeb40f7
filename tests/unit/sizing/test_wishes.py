import numpy as np
import pytest
from yard import yard

from aquacalc import tables
from aquacalc.sizing import wishes


def test_heads_a_week_ask_for_the_succession_of_the_crop():
    wished = wishes.wished_crop("lettuce_leaf", 10.0, 0.32)
    # 30 days in the bed, one day of turnaround: five batches of 12.
    assert (wished.transplants_per_week, wished.places) == (12, 60)
    assert wished.area_m2.low < 60 / 25 < wished.area_m2.high


def test_feed_by_both_methods_stands_three_to_fourfold_apart():
    wished = wishes.wished_crop("lettuce_leaf", 10.0, 0.32)
    assert 2.0 < wished.area_rule_g_day.middle / wished.balance_g_day.middle < 5.0


def test_fish_a_year_ask_for_feed_by_their_conversion():
    warm = np.full((200, 12), 27.0)
    wished = wishes.wished_fish("nile_tilapia", 40.0, 500.0, warm)
    # 40 fish of 20 to 500 g at FCR 1.2 to 2.2.
    assert 40 * 480 * 1.2 / 365 < wished.mean_feed_g_day.low < wished.mean_feed_g_day.high
    assert wished.mean_feed_g_day.high < 40 * 480 * 2.2 / 365
    assert wished.stock_count > 40


def test_fish_that_never_eat_never_grow():
    wished = wishes.wished_fish("nile_tilapia", 40.0, 500.0, np.full((200, 12), 10.0))
    assert wished.days_to_final.middle == np.inf
    assert wished.mean_feed_g_day.middle == 0.0


def test_the_gardens_own_wishes_are_answered_beside_what_it_has():
    answer = wishes.wished(yard())
    assert answer.crop.crop == "lettuce_leaf"
    assert answer.fish.species == "channel_catfish"
    assert answer.beds_m2 == pytest.approx(3.0)


@pytest.mark.parametrize("key", tables.load("crops").keys())
def test_every_crop_of_the_table_can_be_wished_for(key: str):
    # Some have no figure of germination: the seed of a careful grower is taken.
    found = wishes.wished_crop(key, 5.0, 0.32, members=3)
    assert found.seeds_per_week >= found.transplants_per_week > 0
