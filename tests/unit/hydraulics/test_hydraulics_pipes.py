import math

import numpy as np
import pytest

from aquacalc.hydraulics import pipes, water


def test_slow_water_obeys_the_law_of_laminar_flow():
    assert pipes.friction_factor(np.array([50.0, 500.0, 1500.0]), 0.0) == pytest.approx(
        [64 / 50, 64 / 500, 64 / 1500], rel=1e-4
    )


def test_no_flow_loses_no_head():
    assert pipes.head_loss_m(0.0, 25.0, 10.0, 4.0) == 0.0


def test_half_the_bore_costs_some_thirty_times_the_head():
    ratio = pipes.head_loss_m(1000.0, 20.0, 5.0) / pipes.head_loss_m(1000.0, 40.0, 5.0)
    assert 20.0 < ratio < 34.0


def test_the_bore_for_a_head_gives_that_head():
    bore = pipes.bore_for_head_mm(2500.0, 0.05, 4.0, 3.0)
    assert pipes.head_loss_m(2500.0, bore, 4.0, 3.0, 0.1) == pytest.approx(0.05, rel=1e-6)


def test_half_full_carries_half_and_too_much_is_not_carried():
    full, half = (pipes.sloped_pipe(69.0, 0.01, depth)[0] for depth in (1.0, 0.5))
    assert half == pytest.approx(full / 2.0)
    assert pipes.sloped_pipe_depth_ratio(20000.0, 69.0, 0.01) == math.inf


def test_a_standpipe_changes_from_weir_to_hole_at_three_eighths_of_its_bore():
    below, above = (pipes.standpipe_l_h(50.0, 50.0 * share / 1000.0) for share in (0.370, 0.380))
    assert below < pipes.orifice_l_h(50.0, 0.0185, 0.6)
    assert above == pipes.orifice_l_h(50.0, 0.0190, 0.6)


def test_drop_pipe_and_its_bore_agree():
    assert pipes.self_venting_bore_mm(pipes.self_venting_l_h(57.0)) == pytest.approx(57.0)


def test_water_is_densest_at_four_degrees():
    temperature = np.linspace(0.0, 30.0, 301)
    assert temperature[np.argmax(water.density_kg_m3(temperature))] == pytest.approx(4.0, abs=0.1)
