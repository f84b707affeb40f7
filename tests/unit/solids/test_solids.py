import numpy as np
import pytest

from aquacalc import solids
from aquacalc.uncertainty import coefficient, draw


def test_fine_particles_settle_by_stokes_law():
    fine = solids.settling_velocity_m_s(2e-5, 1100.0, 998.2, 1.002e-3)
    assert fine == pytest.approx(9.80665 * 101.8 * 4e-10 / 18 / 1.002e-3, rel=0.005)


def test_coarse_particles_settle_far_slower_than_stokes():
    coarse = solids.settling_velocity_m_s([1e-3, 2e-3], 1100.0, 998.2, 1.002e-3)
    assert coarse[0] < 0.5 * 0.0553
    assert coarse[1] > coarse[0]


def test_drag_and_weight_are_in_balance():
    diameter, density = 7e-4, 1120.0
    velocity = float(solids.settling_velocity_m_s(diameter, density, 998.2, 1.002e-3))
    reynolds = 998.2 * velocity * diameter / 1.002e-3
    drag = 24 / reynolds * (1 + 0.15 * reynolds**0.687)
    assert velocity**2 == pytest.approx(
        4 / 3 * 9.80665 * diameter * (density - 998.2) / (998.2 * drag), rel=1e-9
    )


def test_a_settler_catches_all_that_falls_faster_than_the_water_rises():
    assert solids.ideal_removal([1e-3, 1e-4], 1.8).tolist() == pytest.approx([1.0, 0.2])


def test_what_a_separator_leaves_falls_on_the_beds():
    assert solids.bed_loading_g_m2_d(50.0, 0.6, 4.0) == pytest.approx(5.0)


def test_all_of_a_tanks_water_counts_at_the_low_end():
    sampled = draw({name: coefficient(name) for name in ("removal_radial", "removal_swirl")}, 50)
    assert np.min(solids.caught_share("radial", sampled)) > np.max(solids.caught_share("swirl", sampled))
    assert set(solids.caught_share("swirl", sampled, whole_flow=True)) == {coefficient("removal_swirl").low}


def test_what_is_drawn_at_once_has_not_broken_down():
    assert float(solids.still_there_share(0.05, 0.0)) == 1.0
    assert float(solids.still_there_share(0.05, 7.0)) == pytest.approx(np.exp(-0.175))


def test_what_lies_in_the_loop_breaks_down_as_fast_as_it_comes():
    held = solids.held_g(12.0, 0.05)
    assert held * 0.05 == pytest.approx(12.0)


def test_the_grain_that_just_settles():
    diameter = solids.cut_size_m(8.0, 1100.0, 998.2, 1.002e-3)
    assert float(solids.settling_velocity_m_s(diameter, 1100.0, 998.2, 1.002e-3)) == pytest.approx(8.0 / 3600)
    assert solids.ideal_removal(8.0 / 3600, 8.0) == pytest.approx(1.0)


def test_a_bed_that_loses_a_little_each_month_clogs_in_the_end():
    assert solids.months_left(0.175, 6.0) == pytest.approx(6.0)
    assert solids.months_left(0.5, 6.0) == 0.0
    assert solids.months_left(-0.1, 6.0) == np.inf
