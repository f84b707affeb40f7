import numpy as np
import pytest

from aquacalc.hydraulics import pump
from aquacalc.hydraulics.pump import Box, Line

LINE = Line(4.0, 25.0, 4.3)


def test_without_pipe_the_curve_itself_gives_the_flow():
    flow = pump.curve_flow_l_h(Box(3000.0, 3.0, 1.0), 1.2)
    assert flow == pytest.approx(1800.0)


def test_no_flow_beyond_the_pumps_reach():
    assert pump.curve_flow_l_h(Box(3000.0, 3.0), 3.0, (LINE,)) == 0.0
    assert pump.curve_flow_l_h(Box(3000.0, 3.0), 4.0, (LINE,)) == 0.0


def test_members_with_their_own_curves():
    flows = pump.curve_flow_l_h(Box(3000.0, 3.0, np.array([1.0, 1.5, 2.0])), 1.2, (LINE,))
    assert flows.shape == (3,)
    assert np.all(np.diff(flows) > 0.0)
    assert flows[1] == pytest.approx(pump.curve_flow_l_h(Box(3000.0, 3.0, 1.5), 1.2, (LINE,)))


def test_lines_in_a_row_are_one_longer_line():
    halves = (Line(2.0, 25.0, 2.15), Line(2.0, 25.0, 2.15))
    assert pump.curve_flow_l_h(Box(3000.0, 3.0), 1.2, halves) == pytest.approx(
        pump.curve_flow_l_h(Box(3000.0, 3.0), 1.2, (LINE,))
    )


def test_equal_branches_share_equally_and_a_bed_out_of_reach_gets_nothing():
    branch = (1.2, Line(3.0, 20.0, 3.0))
    equal = pump.branch_flows_l_h(Box(3000.0, 3.0), Line(2.0, 25.0, 2.5), (branch, branch))
    assert equal[0] == pytest.approx(equal[1])
    high = pump.branch_flows_l_h(
        Box(3000.0, 3.0), Line(2.0, 25.0, 2.5), (branch, (2.9, Line(3.0, 20.0, 3.0)))
    )
    assert high[1] == 0.0


def test_a_table_gives_back_its_points_and_nothing_beyond_them():
    flows, heads = [0.0, 600.0, 1200.0, 2400.0], [2.5, 2.3, 1.7, 0.0]
    assert pump.table_curve_head_m(flows, flows, heads) == pytest.approx(heads)
    assert np.isnan(pump.table_curve_head_m([2401.0, 9000.0], flows, heads)).all()


def test_a_fit_never_curves_upward():
    _, slope, curve = pump.fitted_curve([0.0, 500.0, 1000.0, 1500.0], [3.0, 1.8, 1.0, 0.6])
    assert curve == 0.0
    assert slope < 0.0
