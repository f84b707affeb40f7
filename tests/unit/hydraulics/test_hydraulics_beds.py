import math

import numpy as np
import pytest

from aquacalc.hydraulics import beds, flood, loads, turnover

SIPHON = beds.Siphon(25.0, 0.30)


def test_a_siphon_that_cannot_outrun_the_inflow_never_empties_the_bed():
    assert beds.siphon_drain_s(SIPHON, 1.0, 0.4, 0.25, 0.02, 2100.0) == math.inf


def test_inflow_makes_a_drain_longer():
    assert beds.siphon_drain_s(SIPHON, 1.0, 0.4, 0.25, 0.02, 300.0) > beds.siphon_drain_s(
        SIPHON, 1.0, 0.4, 0.25, 0.02
    )


def test_a_tiny_inflow_is_the_limit_of_none():
    none, tiny = (beds.siphon_drain_s(SIPHON, 1.0, 0.4, 0.25, 0.02, q) for q in (0.0, 1e-3))
    assert tiny == pytest.approx(none, rel=1e-5)


def test_an_open_hole_makes_a_fill_longer_than_a_shut_one():
    shut = beds.fill_time_s(beds.bed_water_l(1.2, 0.23, 0.42), 1000.0)
    assert beds.hole_fill_s(12.0, 1.2, 0.42, 0.25, 0.02, 1000.0) > shut
    assert beds.hole_fill_s(0.1, 1.2, 0.42, 0.25, 0.02, 1000.0) == pytest.approx(shut, rel=1e-3)


def test_a_sump_of_the_needed_size_keeps_its_pump_covered():
    rim = beds.sump_rim_l(300.0, 20.0, 6.0, 40.0, 90.0, 0.1)
    assert beds.sump_low_l(rim * 0.9, 300.0, 20.0, 6.0, 40.0) == pytest.approx(90.0)


def test_untreated_top_up_is_measured_in_litres_not_in_days():
    assert beds.top_up_limit_l(0.5, 1500.0) == pytest.approx(15.0)
    assert beds.top_up_limit_l(0.0, 1500.0) == math.inf


def test_a_flood_of_a_decimetre_is_a_tenth_of_the_empty_box_times_the_voids():
    assert beds.bed_water_l(2.0, 0.10, 0.45) == pytest.approx(90.0)


def test_flow_without_a_difference_in_oxygen_is_never_enough():
    assert turnover.flow_for_oxygen_l_h(5.0, 5.0, 5.5) == math.inf


def test_a_tank_without_aeration_loses_what_the_fish_use():
    with_none = turnover.oxygen_with_aeration_mg_l(2000.0, 7.0, 0.0, 8.3, 4.0)
    assert with_none == pytest.approx(7.0 - turnover.rise_mg_l(4.0, 2000.0))


def test_a_cube_of_water_weighs_six_times_what_a_floor_is_made_for():
    assert loads.load_kpa(1060.0 / 1.2) == pytest.approx(8.7, abs=0.05)
    assert loads.water_load_kpa(0.2) > 1.9


def test_turnover_is_the_flow_by_the_tank():
    assert turnover.turnover_per_h(900.0, 1200.0) == pytest.approx(0.75)


def test_a_second_by_second_cycle_takes_as_long_as_the_formulas_say():
    siphon = beds.Siphon(26.0, 0.45)
    bed = flood.Drained(0.4, 0.25, 0.03, siphon)
    water, _ = flood.run(bed, np.full(3600, 400.0))
    full = int(np.argmax(water))
    empty = full + int(np.argmin(water[full : full + 600]))
    assert full == pytest.approx(beds.fill_time_s(bed.swing_l, 400.0), abs=1.0)
    assert empty - full == pytest.approx(
        beds.siphon_drain_s(siphon, 0.4, 1.0, 0.25, 0.03, 400.0), rel=0.01, abs=1.5
    )


def test_a_siphon_that_never_starts_stays_full_and_one_that_never_stops_stays_empty():
    siphon = beds.Siphon(26.0, 0.45)
    never_starts = flood.Drained(0.4, 0.25, 0.03, siphon, starts=False)
    never_stops = flood.Drained(0.4, 0.25, 0.03, siphon, stops=False)
    assert flood.run(never_starts, np.full(3600, 400.0))[0][-1] == pytest.approx(never_starts.swing_l)
    assert flood.run(never_stops, np.full(7200, 400.0))[0][-1] == pytest.approx(0.0, abs=0.3)
