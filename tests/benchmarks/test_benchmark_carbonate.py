"""A million waters solved at once against a loop with a root finder."""

import time

import numpy as np
import pytest
from scipy.optimize import brentq

from aquacalc.water import carbonate

STATES = 1_000_000
LOOP = 2000
LEAST_RATIO = 60.0


@pytest.mark.benchmark
def test_a_million_waters_are_sixty_times_faster_than_a_loop():
    rng = np.random.default_rng(1)
    alkalinity = rng.uniform(1.0, 300.0, STATES)
    carbon = rng.uniform(0.02, 8.0, STATES)
    temperature = rng.uniform(2.0, 35.0, STATES)

    start = time.perf_counter()
    found = carbonate.ph_closed(alkalinity, carbon, temperature, 0.005)
    at_once = (time.perf_counter() - start) / STATES

    def difference(ph: float, a: float, c: float, t: float) -> float:
        return float(carbonate.alkalinity_mg_l(ph, c, t, 0.005)) - a

    # Plain floats, which a loop is fastest with.
    states = list(zip(*(one[:LOOP].tolist() for one in (alkalinity, carbon, temperature)), strict=True))
    start = time.perf_counter()
    looped = [brentq(difference, 2.0, 13.0, args=state) for state in states]
    one_by_one = (time.perf_counter() - start) / LOOP

    assert found[:LOOP] == pytest.approx(looped, abs=1e-6)
    ratio = one_by_one / at_once
    print(
        f"pH: {1e6 * at_once:.3f} us a state at once, {1e6 * one_by_one:.1f} us in a loop, {ratio:.0f} times"
    )
    assert ratio > LEAST_RATIO
