import numpy as np
import pytest

from aquacalc import solids


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


def test_radial_beats_swirl():
    assert solids.removal("radial").low > solids.removal("swirl").high
    assert np.all(
        [0.0 < one.low < one.high < 1.0 for one in map(solids.removal, solids.REMOVAL_COEFFICIENTS)]
    )
