"""Top-up water: what it is taken for, what treats it, what it leaves behind."""

import math
from dataclasses import replace

import pytest

from aquacalc.advice.new_water import top_up as advice
from aquacalc.errors import InputError
from aquacalc.water import carbonate

TAP = advice.Tap("chlorine", 2.0, 150.0, 1500.0, 7.0, 24.0)


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
    assert stays.aired_d[0] > 2.0 * free.aired_d[2]
    assert stays.aired_d[0] == stays.aired_d[2]
    assert stays.sun_d is None
    assert free.freed_mg_l == (0.0, 0.0)
    assert stays.freed_mg_l[0] == pytest.approx(0.04)
    assert stays.freed_mg_l[1] == pytest.approx(0.05)


def test_what_goes_in_untreated_and_how_long_it_would_stand():
    found = advice.treatment(TAP)
    assert found.left_mg_l == pytest.approx(0.2)
    assert found.left_mg_l > 10.0 * found.line_mg_l
    expected = tuple(math.log(2.0 / found.line_mg_l) / rate for rate in (4.0, 2.0, 1.0))
    assert found.aired_d == pytest.approx(expected)
    assert found.dark_d[1] == pytest.approx(4.0 * expected[1])


def test_sun_is_faster_than_air_and_faster_where_more_of_it_is_hypochlorite():
    alkaline, acid = (advice.treatment(replace(TAP, tap_ph=ph)).sun_d for ph in (8.5, 6.5))
    assert alkaline is not None
    assert acid is not None
    assert alkaline[0] < alkaline[1] < alkaline[2]
    assert alkaline[1] < acid[1]


def test_a_clear_test_proves_only_so_much_water():
    strip = advice.treatment(replace(TAP, new_water_l=300.0))
    assert strip.hidden_mg_l == pytest.approx(0.1)
    assert strip.proved_l == pytest.approx(15.0)
    fine = advice.treatment(replace(TAP, new_water_l=300.0, test_limit_mg_l=0.02))
    assert fine.hidden_mg_l <= fine.line_mg_l
    proved = advice.treatment(replace(TAP, new_water_l=strip.proved_l))
    assert proved.hidden_mg_l == pytest.approx(proved.line_mg_l)


def test_ammonia_in_the_new_water_is_that_of_the_loop_before_mixing():
    stays = advice.treatment(replace(TAP, told="chloramine", tan_mg_l=0.0, ph=8.0))
    assert stays.new_freed_mg_l[1] * stays.share == pytest.approx(stays.freed_mg_l[1])
    assert 0.0 < stays.unionised_mg_l < stays.freed_mg_l[1]


def test_more_new_water_than_the_loop_holds_is_refused():
    with pytest.raises(InputError, match="new-water-above-loop"):
        advice.treatment(replace(TAP, new_water_l=2000.0))


def test_a_bucket_that_shows_ammonia_counts_for_more_chloramine_than_was_told():
    found = advice.treatment(replace(TAP, told="not known", chlorine_mg_l=1.0, bucket_ammonia_mg_l=0.6))
    assert found.taken_for == "chloramine"
    assert found.sure == "bucket"
    assert found.chlorine_mg_l == pytest.approx(3.0)


def test_a_well_has_nothing_to_treat():
    assert advice.treatment(replace(TAP, told="none")).reagent_g == 0.0


REPORTS = (advice.Report(10.0, 1.0), advice.Report(130.0, 41.0))


def test_a_mixture_has_the_wished_alkalinity_and_a_ph_that_no_mean_gives():
    soft, hard = carbonate.water(6.2, 10.0, 20.0), carbonate.water(8.0, 120.0, 20.0)
    found = advice.mixture(soft, hard, 37.5, REPORTS)
    assert found.share == pytest.approx(0.25)
    assert found.ph == pytest.approx(6.87, abs=0.02)
    assert found.ph_mean == pytest.approx(6.65)
    assert found.hardness_mg_l == pytest.approx(40.0)
    assert found.sodium_mg_l == pytest.approx(11.0)
    assert found.ph_aired > found.ph
    assert math.isnan(advice.mixture(soft, hard, 130.0, REPORTS).share)
