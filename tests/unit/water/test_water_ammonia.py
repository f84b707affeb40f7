import numpy as np
import pytest

from aquacalc.water import ammonia


def test_zero_ionic_strength_changes_nothing():
    plain = ammonia.unionised_fraction(7.8, 22.0)
    assert ammonia.unionised_fraction_at_ionic_strength(7.8, 22.0, 0.0) == pytest.approx(plain)


def test_leaving_out_ionic_strength_is_the_cautious_side():
    assert ammonia.unionised_fraction_at_ionic_strength(7.8, 22.0, 0.01) < ammonia.unionised_fraction(
        7.8, 22.0
    )


def test_three_tenths_of_ph_double_the_unionised_share():
    assert ammonia.unionised_fraction(7.3, 25.0) / ammonia.unionised_fraction(7.0, 25.0) == pytest.approx(
        2.0, rel=0.02
    )


def test_limit_and_tan_go_back_and_forth():
    tan = ammonia.tan_for_unionised_mg_l(0.05, np.array([6.5, 7.5, 8.5]), 24.0)
    assert tan * ammonia.unionised_fraction(np.array([6.5, 7.5, 8.5]), 24.0) == pytest.approx(0.05)


def test_trout_never_get_a_higher_line_than_other_fish():
    ph, temperature = np.meshgrid(np.linspace(6.5, 9.0, 11), np.linspace(0.0, 30.0, 13))
    with_trout = ammonia.acute_criterion_mg_l(ph, temperature, salmonids=True)
    without = ammonia.acute_criterion_mg_l(ph, temperature, salmonids=False)
    assert np.all(with_trout <= without + 1e-12)
    assert np.all(ammonia.chronic_criterion_mg_l(ph, temperature) < without)
