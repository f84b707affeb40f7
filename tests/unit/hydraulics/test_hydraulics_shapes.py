"""Shapes against thin slices added up, and against each other."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from aquacalc.hydraulics import shapes

Surface = Callable[[np.ndarray], np.ndarray]


def sliced_l(surface_m2: Surface, depth_m: float, slices: int = 200_000) -> float:
    """Litres as the sum of thin slices, each as large as the surface in its middle."""
    middles = (np.arange(slices) + 0.5) * depth_m / slices
    return float(np.sum(surface_m2(middles))) * depth_m / slices * 1000.0


def test_a_tapered_vessel_is_the_sum_of_its_slices():
    def surface(z: np.ndarray) -> np.ndarray:
        return (1.0 + 0.25 * z / 0.6) * (0.7 + 0.1 * z / 0.6)

    assert shapes.tapered_l(1.0, 0.7, 1.25, 0.8, 0.6) == pytest.approx(sliced_l(surface, 0.6), rel=1e-8)


def test_a_round_vessel_that_widens_is_the_sum_of_its_slices():
    def surface(z: np.ndarray) -> np.ndarray:
        return math.pi / 4 * (0.5 + 0.2 * z / 0.7) ** 2

    assert shapes.round_tapered_l(0.5, 0.7, 0.7) == pytest.approx(sliced_l(surface, 0.7), rel=1e-8)


@pytest.mark.parametrize("depth", [0.05, 0.2, 0.29, 0.4, 0.57])
def test_a_lying_barrel_is_the_sum_of_its_surfaces(depth: float):
    def surface(z: np.ndarray) -> np.ndarray:
        return 2.0 * np.sqrt(0.29**2 - (0.29 - z) ** 2) * 0.9

    assert shapes.lying_cylinder_l(0.58, 0.9, depth) == pytest.approx(sliced_l(surface, depth), rel=1e-5)
    assert shapes.lying_cylinder_m2(0.58, 0.9, depth) == pytest.approx(float(surface(np.array(depth))))


def test_a_lying_barrel_half_full_and_full():
    full = shapes.round_l(0.58, 0.9)
    assert shapes.lying_cylinder_l(0.58, 0.9, 0.29) == pytest.approx(full / 2.0)
    assert shapes.lying_cylinder_l(0.58, 0.9, 0.58) == pytest.approx(full)
    assert shapes.lying_cylinder_l(0.58, 0.9, 0.9) == pytest.approx(full)
    assert shapes.lying_cylinder_l(0.58, 0.9, 0.0) == pytest.approx(0.0)


@pytest.mark.parametrize("depth", [0.1, 0.3, 0.8])
def test_a_cone_bottom_is_the_sum_of_its_slices(depth: float):
    def surface(z: np.ndarray) -> np.ndarray:
        return math.pi / 4 * (0.1 + 0.9 * np.minimum(z / 0.3, 1.0)) ** 2

    assert shapes.cone_bottom_l(1.0, 0.3, depth, 0.1) == pytest.approx(sliced_l(surface, depth), rel=1e-7)
    assert shapes.cone_bottom_m2(1.0, 0.3, depth, 0.1) == pytest.approx(float(surface(np.array(depth))))


def test_a_cone_holds_a_third_of_its_cylinder():
    assert shapes.cone_bottom_l(1.2, 0.4, 0.4) == pytest.approx(shapes.round_l(1.2, 0.4) / 3.0)


def test_two_ways_to_describe_a_vessel_agree():
    assert shapes.oval_l(1.2, 1.2, 0.5) == pytest.approx(shapes.round_l(1.2, 0.5))
    assert shapes.trough_l(1.2, 1.2, 0.5) == pytest.approx(shapes.round_l(1.2, 0.5))
    assert shapes.tapered_l(1.2, 0.8, 1.2, 0.8, 0.5) == pytest.approx(shapes.box_l(1.2, 0.8, 0.5))
    assert shapes.round_tapered_l(1.2, 1.2, 0.5) == pytest.approx(shapes.round_l(1.2, 0.5))
    assert shapes.cone_bottom_l(1.2, 0.3, 0.9, 1.2) == pytest.approx(shapes.round_l(1.2, 0.9))


def test_measures_at_the_rim_give_those_at_the_water_line():
    top = shapes.at_line_m(1.0, 1.2, 0.8, 0.6)
    below = shapes.tapered_l(1.0, 1.0, top, top, 0.6)
    above = shapes.tapered_l(top, top, 1.2, 1.2, 0.2)
    assert below + above == pytest.approx(shapes.tapered_l(1.0, 1.0, 1.2, 1.2, 0.8))


def test_arrays_go_through():
    depths = np.array([0.1, 0.3, 0.5])
    for found in (
        shapes.round_l(1.0, depths),
        shapes.trough_l(1.4, 0.6, depths),
        shapes.tapered_l(1.0, 0.8, 1.1, 0.9, depths),
        shapes.lying_cylinder_l(0.6, 1.0, depths),
        shapes.cone_bottom_l(1.0, 0.3, depths),
    ):
        assert found.shape == (3,)
        assert np.all(np.diff(found) > 0.0)
