"""Top-up water: what it is taken for, what treats it, what it leaves behind."""

import math
from dataclasses import replace

import pytest

from aquacalc.advice import top_up as advice
from aquacalc.water import carbonate, chlorine, top_up

TAP = advice.Tap("chlorine", 2.0, 150.0, 1500.0, 7.0, 24.0)
HARD = advice.Hard(top_up.Loop(2000.0, 60.0, 40.0), 200.0, 250.0, 40.0, 0.0, 0.32)


@pytest.mark.parametrize(
    ("told", "bucket", "taken", "sure"),
    [
        ("chlorine", "chlorine", "chlorine", "both"),
        ("chlorine", "chloramine", "chloramine", "differ"),
        ("chloramine", "chlorine", "chloramine", "differ"),
        ("none", "chloramine", "chloramine", "differ"),
        ("chlorine", "not known", "chlorine", "told"),
        ("not known", "chlorine", "chlorine", "bucket"),
        ("not known", "not known", "chloramine", "nobody"),
    ],
)
def test_whoever_is_not_sure_treats_for_the_harder_case(told: str, bucket: str, taken: str, sure: str):
    assert advice.disinfectant(told, bucket) == (taken, sure)  # type: ignore[arg-type]


def test_the_reagent_is_for_the_new_water_only():
    assert advice.treatment(TAP).reagent_g == pytest.approx(2.1)
    assert advice.treatment(replace(TAP, whole_l=9000.0)).reagent_g == pytest.approx(2.1)
    assert advice.treatment(replace(TAP, reagent="sodium_ascorbate")).reagent_g == pytest.approx(0.93)


def test_chloramine_stays_and_frees_ammonia_where_chlorine_does_not():
    free = advice.treatment(TAP)
    stays = advice.treatment(replace(TAP, told="chloramine"))
    assert stays.aired_d[0] > 2.0 * free.aired_d[1]
    assert free.freed_mg_l == (0.0, 0.0)
    assert stays.freed_mg_l[0] == pytest.approx(0.04)
    assert stays.freed_mg_l[1] == pytest.approx(0.05)


def test_what_goes_in_untreated_and_how_long_it_would_stand():
    found = advice.treatment(TAP)
    assert found.left_mg_l == pytest.approx(0.2)
    assert found.left_mg_l > 10.0 * found.line_mg_l
    rates = (4.0, 1.0)
    expected = tuple(math.log(2.0 / chlorine.TANK_LIMIT_MG_L) / rate for rate in rates)
    assert found.aired_d == pytest.approx(expected)


def test_a_bucket_that_shows_ammonia_counts_for_more_chloramine_than_was_told():
    found = advice.treatment(replace(TAP, told="not known", chlorine_mg_l=1.0, bucket_ammonia_mg_l=0.6))
    assert found.taken_for == "chloramine"
    assert found.sure == "bucket"
    assert found.chlorine_mg_l == pytest.approx(3.0)


def test_a_well_has_nothing_to_treat():
    assert advice.treatment(replace(TAP, told="none")).reagent_g == 0.0


def test_a_year_without_feed_is_plain_build_up():
    found = advice.after_a_year(HARD)
    settled = 40.0 * 100.0 / 40.0
    assert found.sodium_mg_l[0] == found.sodium_mg_l[1] == pytest.approx(settled, abs=0.1)
    assert found.alkalinity_mg_l[0] == found.alkalinity_mg_l[1]


def test_the_exchange_that_is_named_holds_the_line():
    asked = replace(HARD, feed_g_day=50.0)
    found = advice.after_a_year(asked)
    held = replace(asked, loop=replace(HARD.loop, discharge_l_d=found.hold_sodium_l_d))
    sodium = top_up.after_days_mg_l(held.loop, 40.0, 40.0, 50.0 / 1000.0 * 4.0, 1e5)
    assert float(sodium) == pytest.approx(found.sodium_line_mg_l)


def test_feed_uses_alkalinity_up_and_water_that_is_too_salty_cannot_be_exchanged_away():
    found = advice.after_a_year(replace(HARD, feed_g_day=200.0))
    assert found.alkalinity_mg_l[0] == 0.0
    assert found.alkalinity_mg_l[1] > 400.0
    assert math.isinf(advice.after_a_year(replace(HARD, sodium_mg_l=60.0)).hold_sodium_l_d)


def test_a_mixture_has_the_wished_alkalinity_and_a_ph_that_no_mean_gives():
    soft, hard = carbonate.water(6.2, 10.0, 20.0), carbonate.water(8.0, 120.0, 20.0)
    found = advice.mixture(soft, hard, 37.5)
    assert found.share == pytest.approx(0.25)
    assert found.ph == pytest.approx(6.87, abs=0.02)
    assert found.ph_mean == pytest.approx(6.65)
    assert math.isnan(advice.mixture(soft, hard, 130.0).share)
