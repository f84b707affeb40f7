"""The start-up's ensemble against a general solver, member by member, and how long a new reading takes.

The other side is `odeint` (LSODA, rtol 1e-6) on plain floats and equations written out, one member, with the
doses of the same member, begun anew only where something jumps. Target: forty times as fast a member; fifteen
is asserted, so that a busy machine does not fail it. Two thousand members are weighed anew in half a second.
"""

import math
import platform
import statistics
import sys
import time
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from aquacalc.nitrogen import Kinetics
from aquacalc.startup import forecast, members
from aquacalc.startup.rule import P1

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))

import growers  # noqa: E402

pytestmark = pytest.mark.benchmark

MEMBERS, DAYS = 2000, 90
TARGET, LEAST = 40.0, 15.0
MOST_REWEIGH_S = 0.5
TIMES = 3
CELSIUS, PH, OXYGEN = 24.0, 7.6, 7.0


def derivative(k: Kinetics):
    """d/dt a day of TAN, nitrite, nitrate, alkalinity and both capacities, as the reference prints it."""
    a, n = k.ammonia, k.nitrite
    acid = 1.0 / (1.0 + 10.0 ** (k.ph_half_low - PH) + 10.0 ** (PH - k.ph_half_high))
    free_share = 1.0 / (1.0 + 10.0 ** (0.09018 + 2729.92 / (CELSIUS + 273.15) - PH))
    nitrous_share = 1.0 / (1.0 + math.exp(-2300.0 / (CELSIUS + 273.0)) * 10.0**PH)

    def fixed(own):
        warmth = own.theta_growth ** (CELSIUS - 20.0)
        return (
            warmth * acid * OXYGEN / (own.half_saturation_oxygen_mg_l + OXYGEN),
            125.0 * k.areal_capacity_g_m2_d * (k.theta_areal_capacity / own.theta_growth) ** (CELSIUS - 20.0),
            own.decay_1_d * k.theta_decay ** (CELSIUS - 20.0),
        )

    (phi_a, most_a, b_a), (phi_n, most_n, b_n) = fixed(a), fixed(n)
    transfer = 125.0 * 0.8 * k.theta_transfer ** (CELSIUS - 20.0)
    cells, half, charge = k.nitrogen_in_cells_g_g_cod, k.half_saturation_alkalinity_mg_l, 3.5727

    def slope(y, t):
        tan, nitrite, alkalinity = max(y[0], 0.0), max(y[1], 0.0), max(y[3], 0.0)
        first, second = y[4], y[5]
        lime = alkalinity / (half + alkalinity)
        free, nitrous = free_share * tan, nitrous_share * nitrite
        active_a = first * phi_a * lime
        active_a /= (1.0 + free / a.inhibition_ammonia_mg_l) * (
            1.0 + nitrous / a.inhibition_nitrous_acid_mg_l
        )
        active_n = second * phi_n * lime
        active_n /= (1.0 + free / n.inhibition_ammonia_mg_l) * (
            1.0 + nitrous / n.inhibition_nitrous_acid_mg_l
        )
        r1 = active_a * tan / (a.half_saturation_mg_l + tan + active_a / transfer)
        r2 = (
            active_n
            * nitrite
            / (n.half_saturation_mg_l + nitrite + active_n * k.nitrite_transfer_share / transfer)
        )
        grown_a, grown_n = r1 * (1.0 - first / most_a), r2 * (1.0 - second / most_n)
        built_a, built_n = cells * a.yield_g_cod_g_n * grown_a, cells * n.yield_g_cod_g_n * grown_n
        returned = cells * (
            b_a * first * a.yield_g_cod_g_n / a.growth_1_d + b_n * second * n.yield_g_cod_g_n / n.growth_1_d
        )
        return (
            returned - r1 - built_a,
            r1 - r2,
            r2 - built_n,
            charge * (-2.0 * r1 - built_a + returned + built_n),
            a.growth_1_d * grown_a - b_a * first,
            n.growth_1_d * grown_n - b_n * second,
        )

    return slope


def by_a_general_solver(course: members.Course, start: float, k: Kinetics) -> np.ndarray:
    """TAN of each morning of the one member, its doses taken from the course."""
    from scipy.integrate import odeint

    slope = derivative(k)
    doses = {
        day: (float(course.tan_dosed[day, 0]), float(course.alkalinity_dosed[day, 0]))
        for day in range(DAYS)
        if course.tan_dosed[day, 0] > 0.0 or course.alkalinity_dosed[day, 0] > 0.0
    }
    state = [0.0, 0.0, 0.0, growers.CASE.alkalinity_mg_l, start, start]
    found, edges = [0.0], [*sorted({0, *doses}), DAYS]
    for day, end in pairwise(edges):
        tan, alkalinity = doses.get(day, (0.0, 0.0))
        state = [state[0] + tan, *state[1:3], state[3] + alkalinity, *state[4:]]
        rows = odeint(slope, state, np.arange(day, end + 1.0), rtol=1e-6, atol=1e-9)
        found += rows[1:, 0].tolist()
        state = rows[-1].tolist()
    return np.array(found)


def test_an_ensemble_outruns_a_general_solver_and_a_reading_is_weighed_at_once(
    capsys: pytest.CaptureFixture[str],
):
    drawn = members.draw(growers.CASE, MEMBERS)
    start = np.full(1, 0.003)
    alone = members.run(growers.CASE, members.members_of(start, start), [growers.FIRST_DOSE], DAYS, rule=P1)

    def timed(work) -> float:
        times = []
        for _ in range(TIMES):
            begun = time.process_time()
            work()
            times.append(time.process_time() - begun)
        return statistics.median(times)

    many = timed(lambda: members.run(growers.CASE, drawn, [growers.FIRST_DOSE], DAYS, rule=P1)) / MEMBERS
    typical = Kinetics.typical()
    general = timed(lambda: by_a_general_solver(alone, 0.003, typical))
    # Both sides reckon the same start-up.
    other = by_a_general_solver(alone, 0.003, typical)
    assert np.abs(other - alone.tan_mg_l[:, 0]).max() < 0.02

    whole = forecast.forecast_of(growers.CASE, events=[growers.FIRST_DOSE], today=25, members=drawn)
    read = growers.readings(alone, 0, range(1, 26, 2), 1)
    forecast.reweigh(whole, read)
    weighed = timed(lambda: forecast.reweigh(whole, read).complete)
    with capsys.disabled():
        print(
            f"\na member of {MEMBERS} through {DAYS} days {many * 1e3:.2f} ms, odeint {general * 1e3:.0f} ms:"
            f" {general / many:.0f} times (target {TARGET:g}); {len(read)} readings weighed in"
            f" {weighed * 1e3:.0f} ms (target {MOST_REWEIGH_S * 1e3:.0f}) on {platform.machine()},"
            f" Python {platform.python_version()}"
        )
    assert general / many >= LEAST
    assert weighed < MOST_REWEIGH_S
