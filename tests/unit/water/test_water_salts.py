import numpy as np
import pytest

from aquacalc.water import salts


def test_enough_chloride_needs_no_salt():
    assert salts.chloride_needed_mg_l(0.5, 100.0, 20.0) == 0.0


def test_build_up_without_discharge_is_the_limit_of_little_discharge():
    none = salts.build_up_mg_l(40.0, 40.0, 60.0, 0.0, 500.0, 2000.0, 180.0)
    little = salts.build_up_mg_l(40.0, 40.0, 60.0, 1e-6, 500.0, 2000.0, 180.0)
    assert none == pytest.approx(little, rel=1e-6)


def test_build_up_settles_where_the_needed_discharge_holds_it():
    discharge = salts.discharge_needed_l_d(100.0, 40.0, 60.0, 300.0)
    assert salts.build_up_mg_l(40.0, 40.0, 60.0, discharge, 300.0, 2000.0, 1e5) == pytest.approx(100.0)


def test_no_discharge_helps_against_salty_top_up():
    assert salts.discharge_needed_l_d(100.0, 120.0, 60.0) == np.inf


def test_many_small_changes_come_near_to_flushing():
    small = salts.after_changes_mg_l(100.0, 10.0, 0.001, 700)
    assert small == pytest.approx(salts.after_flushing_mg_l(100.0, 10.0, 700.0, 1000.0), rel=0.001)


def test_daily_changes_settle_where_production_meets_them():
    level = salts.before_daily_change_mg_l(5.0, 4.0, 0.1)
    assert salts.after_change_mg_l(level, 5.0, 0.1) + 4.0 == pytest.approx(level)


def test_soft_water_makes_metals_worse():
    assert salts.zinc_criterion_ug_l(20.0) < salts.zinc_criterion_ug_l(200.0) / 5.0
    assert salts.copper_criterion_ug_l(20.0) < salts.copper_criterion_ug_l(200.0) / 5.0
