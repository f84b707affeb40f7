"""All scales here are invented."""

from dataclasses import replace
from datetime import date
from math import inf

import pytest

from aquacalc import kits
from aquacalc.garden.model import KitScale

TAN = KitScale("tan", "N", (0, 0.3, 0.6, 1.2, 2.5, 6))
NITRITE = KitScale("nitrite", "NO2", (0, 0.15, 0.4, 1, 3))
PH = KitScale("ph", kits.NOT_KNOWN, (5.8, 6.2, 6.6, 7.0, 7.4, 7.8))
DROPS = KitScale("alkalinity", "dkh", (), 1.0)


def test_a_reading_at_a_step_reaches_half_way_to_its_neighbours():
    assert kits.interval(0.6, TAN) == kits.Interval(pytest.approx(0.45), pytest.approx(0.9))


def test_a_reading_between_two_steps_lies_between_them():
    assert kits.interval(0.9, TAN) == kits.Interval(0.6, 1.2)


def test_a_reading_at_an_end_only_bounds_the_water():
    assert kits.interval(5.8, PH) == kits.Interval(-inf, 6.0)
    assert kits.interval(6, TAN) == kits.Interval(4.25, inf)
    assert kits.interval(8, TAN) == kits.Interval(6, inf)
    assert kits.interval(5.0, PH) == kits.Interval(-inf, 5.8)
    assert not kits.interval(7.0, PH).at_end


def test_a_drop_test_turns_between_its_last_two_drops():
    assert kits.interval(4.0, DROPS) == kits.Interval(3.0, 4.0)
    assert kits.interval_inside(4.0, DROPS) == kits.Interval(
        pytest.approx(53.54, abs=0.01), pytest.approx(71.39, abs=0.01)
    )


def test_dilution_counts_for_reading_and_steps():
    assert kits.interval(1, NITRITE, dilution=5) == kits.Interval(3.5, 10.0)


def test_a_scale_without_steps_or_drops_has_no_interval():
    assert kits.interval(1.0, KitScale("tan", "N")) is None
    assert kits.interval_inside(1.0, KitScale("tan", "N")) is None


def test_values_are_counted_as_n_inside():
    assert kits.as_inside(3.0, NITRITE) == pytest.approx(0.9134, abs=1e-4)
    assert kits.as_shown(0.9134, NITRITE) == pytest.approx(3.0, abs=1e-3)
    assert kits.as_inside(2.0, DROPS) == pytest.approx(35.7, abs=0.01)
    assert kits.as_shown(35.7, DROPS) == pytest.approx(2.0, abs=1e-3)
    assert kits.as_inside(6.6, PH) == 6.6


def test_ph_and_oxygen_need_no_basis():
    assert kits.basis_is_known(PH)
    assert kits.basis_is_known(KitScale("oxygen"))
    assert not kits.basis_is_known(KitScale("alkalinity"))


def test_act_at_values_stand_on_the_kits_own_steps():
    assert kits.act_value_on_scale(1.0, TAN) == kits.OnScale(1.0, 1.2)
    assert kits.act_value_on_scale(1.2, TAN) == kits.OnScale(1.2, 1.2)
    found = kits.act_value_on_scale(0.3, NITRITE)
    assert (round(found.value, 3), found.step) == (0.985, 1)


def test_a_limit_beyond_the_end_has_no_step():
    assert kits.act_value_on_scale(1.0, NITRITE).step is None
    assert kits.act_value_on_scale(5.0, PH, falling=True).step is None


def test_a_least_value_is_printed_at_the_step_below():
    assert kits.act_value_on_scale(6.0, PH, falling=True).step == 5.8
    assert kits.act_value_on_scale(20.0, DROPS, falling=True).step == 1.0
    assert kits.act_value_on_scale(20.0, DROPS).step == 2.0


def test_a_whole_number_of_drops_stays_whole():
    fifth = KitScale("oxygen", kits.NOT_KNOWN, (), 0.1)
    assert kits.act_value_on_scale(0.3, fifth).step == pytest.approx(0.3)
    assert kits.act_value_on_scale(0.3, fifth, falling=True).step == pytest.approx(0.3)


def test_no_steps_no_value_to_print():
    assert kits.act_value_on_scale(1.0, KitScale("tan", "N")) is None


def test_the_smallest_dilution_that_reads():
    assert kits.dilution_to_read(0.5, NITRITE) == 1
    assert kits.dilution_to_read(2.0, NITRITE) == 5
    assert kits.dilution_to_read(18.0, NITRITE) == 20
    assert kits.dilution_to_read(19.0, NITRITE) is None


def test_the_error_of_a_test_is_the_larger_one():
    assert kits.error_of("nitrate_reduction", 4.0) == 5.0
    assert kits.error_of("nitrate_reduction", 100.0) == 35.0


@pytest.mark.parametrize(
    ("parameter", "grams"),
    [("tan", 3.819), ("nitrite", 4.926), ("nitrate", 7.218), ("alkalinity", 1.679), ("hardness", 1.469)],
)
def test_grams_of_salt_for_a_litre_of_stock(parameter: str, grams: float):
    assert kits.standard_g(parameter, 1000.0, 1.0) == pytest.approx(grams, abs=0.001)
    assert kits.standard_g(parameter, 500.0, 4.0, 0.5) == pytest.approx(4.0 * grams, abs=0.005)


def test_a_dilution_and_the_millilitres_of_a_stock():
    assert kits.dilution(2.5, 7.5) == 4.0
    assert kits.dilution(5.0, 0.0) == 1.0
    assert kits.stock_ml(10.0, 1.0, 1000.0) == pytest.approx(10.0)


def test_a_standard_is_read_within_the_steps_around_it():
    # 0.3 mg/L as N are 0.985 as NO2.
    assert kits.reads_standard(1, 0.3, NITRITE) is True
    assert kits.reads_standard(0.15, 0.3, NITRITE) is False
    assert kits.reads_standard(0.15, 0.3, NITRITE, factor=5.0) is True
    assert kits.reads_standard(1, 0.3, KitScale("nitrite", kits.NOT_KNOWN, (0, 1))) is None


def test_two_readings_of_one_water():
    assert kits.duplicates_agree(0.6, 0.6, TAN) is True
    assert kits.duplicates_agree(0.6, 1.2, TAN) is True
    assert kits.duplicates_agree(0.3, 1.2, TAN) is False
    assert kits.duplicates_agree(4.0, 5.0, DROPS) is True
    assert kits.duplicates_agree(4.0, 6.0, DROPS) is False
    assert kits.duplicates_agree(4.0, 6.0, KitScale("oxygen")) is None


def test_a_kit_is_past_its_day_only_after_it():
    day = date(2027, 5, 1)
    assert kits.expired(day, day) is False
    assert kits.expired(day, date(2027, 5, 2)) is True
    assert kits.expired(None, day) is None


# --- what a check of the kit leaves behind -----------------------------------------------------------------


def off(scale: KitScale, offset: float, standard: float) -> KitScale:
    return replace(scale, offset=offset, standard=standard, checked=date(2027, 2, 1))


def test_an_offset_shifts_the_interval_and_the_thinned_one_by_its_factor():
    plain, shifted = kits.interval(1.2, TAN), kits.interval(1.2, off(TAN, 0.2, 1.0))
    assert (shifted.low, shifted.high) == (pytest.approx(plain.low - 0.2), pytest.approx(plain.high - 0.2))
    thin = kits.interval(1.2, off(TAN, 0.2, 1.0), dilution=5.0)
    assert (thin.low, thin.high) == (pytest.approx(5 * shifted.low), pytest.approx(5 * shifted.high))
    drops = kits.interval_inside(5.0, off(DROPS, 1.0, 4.0))
    assert drops.high == pytest.approx(71.39, abs=0.01)


def test_a_corrected_value_is_never_below_nothing():
    assert kits.corrected(1.2, off(TAN, 0.2, 1.0)) == pytest.approx(1.0)
    assert kits.corrected(0.0, off(TAN, 0.2, 1.0)) == 0.0
    assert kits.interval(0, off(TAN, 0.25, 1.0)).high == 0.0
    assert kits.corrected(6.2, off(PH, -0.3, 7.0)) == pytest.approx(6.5)


def test_the_ends_of_a_card_stay_open():
    assert kits.interval(5.8, off(PH, 0.2, 7.0)) == kits.Interval(-inf, pytest.approx(5.8))
    assert kits.interval(6, off(TAN, 0.2, 1.0)).high == inf


def test_a_limit_stands_as_much_higher_on_a_kit_that_reads_too_high():
    assert kits.act_value_on_scale(1.1, TAN).step == 1.2
    assert kits.act_value_on_scale(1.1, off(TAN, 0.3, 1.0)).step == 2.5


def test_a_kit_out_of_its_error_has_no_interval_and_corrects_nothing():
    # Two usual errors at 1 mg/L as N are 0.5 mg/L.
    assert kits.usable(off(TAN, 0.5, 1.0))
    spoiled = off(TAN, 0.6, 1.0)
    assert not kits.usable(spoiled)
    assert kits.interval(1.2, spoiled) is None
    assert kits.corrected(1.2, spoiled) == 1.2
    # The error of a usual pH test is 0.2.
    assert kits.usable(off(PH, -0.4, 7.0))
    assert not kits.usable(off(PH, -0.5, 7.0))


def test_the_usual_error_in_the_kits_own_basis():
    assert kits.usual_error(10.0, KitScale("nitrite", "N")) == pytest.approx(2.5)
    assert kits.usual_error(0.1, KitScale("nitrite", "N")) == pytest.approx(0.1 / 3.2844, rel=1e-3)
    assert kits.usual_error(50.0, KitScale("alkalinity", "mg_l_caco3")) == pytest.approx(8.92, abs=0.01)
    assert kits.usual_error(1.0, KitScale("tan")) is None
    assert kits.usual_error(1.0, KitScale("iron")) is None


def test_a_check_finds_no_offset_within_the_steps_and_the_whole_of_it_beyond():
    assert kits.offset_found([1.2, 1.2], 1.0, TAN) == 0.0
    assert kits.offset_found([2.5, 2.5], 1.0, TAN) == pytest.approx(1.5)
    assert kits.offset_found([1.2, 2.5], 1.0, TAN) == pytest.approx(0.85)
    # 1 mg/L thinned to a fifth should read 0.2: the offset is that of the tube.
    assert kits.offset_found([0.6], 1.0, TAN, factor=5.0) == pytest.approx(0.4)
    # Four degrees: the fifth drop turns it between four and five, the sixth one and a half too late.
    assert kits.offset_found([5.0], 4.0 * 17.848, DROPS) == pytest.approx(0.0, abs=1e-3)
    assert kits.offset_found([6.0], 4.0 * 17.848, DROPS) == pytest.approx(1.5, abs=1e-3)
    assert kits.offset_found([], 1.0, TAN) is None
    assert kits.offset_found([1.0], 1.0, KitScale("tan")) is None


def test_a_new_check_begins_anew():
    assert kits.reads_standard(1.2, 1.0, off(TAN, 0.4, 1.0)) is True
    assert kits.offset_found([1.2], 1.0, off(TAN, 0.4, 1.0)) == 0.0
