"""The daily look, member by member."""

import numpy as np

from aquacalc.startup.rule import P1, Rule, look, passes


def test_ammonia_is_given_only_where_both_readings_are_low():
    doses = look(np.array([0.5, 0.51, 0.1, 0.1]), np.array([5.0, 0.0, 5.1, 0.0]), np.full(4, 100.0))
    np.testing.assert_allclose(doses.tan_mg_l, [1.5, 0.0, 0.0, 1.9])
    assert not doses.alkalinity_mg_l.any()


def test_alkalinity_is_brought_up_from_below_its_line():
    doses = look(np.full(3, 1.0), np.zeros(3), np.array([79.9, 80.0, 10.0]))
    np.testing.assert_allclose(doses.alkalinity_mg_l, [70.1, 0.0, 140.0])


def test_a_day_passes_on_yesterdays_dose_alone():
    tan = np.array([[3.0, 3.0, 3.0], [0.25, 0.25, 0.26], [0.1, 0.1, 0.1]])
    nitrite = np.array([[0.0, 0.0, 0.0], [0.25, 0.0, 0.0], [0.2, 0.3, 0.1]])
    dosed = np.array([[1.4, 1.3, 2.0], [1.9, 2.0, 0.0], [2.0, 2.0, 2.0]])
    found = passes(tan, nitrite, dosed, P1)
    np.testing.assert_array_equal(found, [[False] * 3, [True, False, False], [True, False, False]])


def test_lines_are_the_growers_own():
    mild = Rule(to_tan_mg_l=1.0, low_tan_mg_l=0.2, real_dose_mg_l=0.7)
    assert look(np.array([0.2]), np.zeros(1), np.full(1, 100.0), mild).tan_mg_l == [0.8]
