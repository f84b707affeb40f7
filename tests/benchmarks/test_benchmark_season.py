"""The season's own step against a general solver, one member against many.

The other side is `odeint` (LSODA, rtol 1e-6) on the same functions, drivers and events, started anew only
where something jumps, with the same hourly outputs. Targets: one season five times as fast, a member of a
thousand two hundred times; half of that is asserted, so that a busy machine does not fail it.
"""

import statistics
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

from aquacalc.garden.file import GardenFile
from aquacalc.schedule import crops
from aquacalc.season import run as season
from aquacalc.season.setting import triangles
from aquacalc.season.start import Start
from aquacalc.sizing import balance
from aquacalc.uncertainty import draw

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))

import season_replay  # noqa: E402

pytestmark = pytest.mark.benchmark

ONE_TARGET, MANY_TARGET, TEN_THOUSAND_TARGET = 5.0, 200.0, 1.15
PANEL_TARGET = 3.0
SLACK = 2.0
TIMES = 5
BASE_DAYS = 120
MOST_BYTES = 1.5e9


@pytest.fixture(scope="module")
def yard():
    garden = GardenFile.open("demo:yard").garden
    return garden, crops.batches(garden)


def simulated(yard, members, **options):
    garden, batches = yard
    drawn = draw(triangles(garden), members, 1, balance.correlations(garden))
    start = time.perf_counter()
    found = season.simulate(garden, batches, drawn, 1, Start(), single=members == 1, **options)
    return time.perf_counter() - start, found


def general_solver_s_day(yard, restarts: int) -> float:
    """Seconds a day of the season by `odeint`, over `BASE_DAYS` days from the hundredth on."""
    from scipy.integrate import odeint

    _, kept = simulated(yard, 1, keep=True, days=100 + BASE_DAYS)
    events: dict[int, list] = {}
    for event in kept.events:
        events.setdefault(event.day, []).append(event)
    state, per_call = list(kept.waters[100]), 24 // restarts
    start = time.perf_counter()
    for day in range(100, 100 + BASE_DAYS):
        hours = kept.hours[day]
        state = season_replay.jumped(state, events.get(day, [])) if day > 100 else state
        for first in range(0, 24, per_call):

            def slope(y, t, hours=hours, first=first, last=first + per_call - 1):
                return season_replay.slope(y, hours[min(first + int(t), last)], kept.rates)

            times = np.arange(per_call + 1.0)
            state = list(odeint(slope, state, times, rtol=1e-6, atol=1e-9, mxstep=5000)[-1])
    return (time.perf_counter() - start) / BASE_DAYS


def test_a_season_outruns_a_general_solver(yard, capsys: pytest.CaptureFixture[str]):
    days = 365.0
    simulated(yard, 1)
    one = statistics.median(simulated(yard, 1)[0] for _ in range(TIMES)) / days
    base, hourly = general_solver_s_day(yard, 1), general_solver_s_day(yard, 24)
    many = simulated(yard, 1000)[0] / 1000.0 / days
    with capsys.disabled():
        print(
            f"\none season {one * days:.3f} s, odeint {base * days:.2f} s (begun anew every hour"
            f" {hourly * days:.2f} s): {base / one:.0f} and {hourly / one:.0f} times (target {ONE_TARGET:g})"
        )
        print(
            f"a member of 1000: {many * days * 1e3:.1f} ms, {base / many:.0f} and {hourly / many:.0f}"
            f" times faster (target {MANY_TARGET:g})"
        )
    assert min(base, hourly) / one >= ONE_TARGET / SLACK
    assert min(base, hourly) / many >= MANY_TARGET / SLACK


# The yard as first written: memory grows with the batches that stand in a year, of which a full one has 34.
TEN_THOUSAND = """
import resource, sys, time
from aquacalc.garden.file import GardenFile
from aquacalc.season import plan
garden = GardenFile.open("demo:yard/before").garden
start = time.perf_counter()
plan.of_garden(garden, members=int(sys.argv[1]))
print(time.perf_counter() - start, 1024 * resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


def test_ten_thousand_members_cost_no_more_each(capsys: pytest.CaptureFixture[str]):
    def measured(members: int) -> tuple[float, float]:
        command = [sys.executable, "-c", TEN_THOUSAND, str(members)]
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
        seconds, most = map(float, done.stdout.split())
        return seconds / members, most

    # The middle run belongs to both; a thousand carry more of it each.
    thousand, _ = measured(1000)
    ten, most = measured(10_000)
    with capsys.disabled():
        print(
            f"\na member of 10000 / of 1000: {1e3 * ten:.2f} / {1e3 * thousand:.2f} ms = {ten / thousand:.2f}"
            f" (target {TEN_THOUSAND_TARGET:g}), memory {most / 1e9:.2f} GB (target 1.5)"
        )
    assert ten / thousand <= TEN_THOUSAND_TARGET * SLACK
    assert most < MOST_BYTES


def test_a_moved_date_is_drawn_in_a_few_times_its_run(yard, capsys: pytest.CaptureFixture[str]):
    from aquacalc.panels.frame import desk
    from aquacalc.panels.harvest import plan_harvest

    panel = plan_harvest.panel(desk.open_desk("demo:yard"))
    later = panel.fields["stocked"].later

    def redrawn() -> float:
        before, start = panel.result.value, time.perf_counter()
        later.click()
        assert panel.result.value != before
        return time.perf_counter() - start

    moved = statistics.median(redrawn() for _ in range(TIMES))
    one = statistics.median(simulated(yard, 1)[0] for _ in range(TIMES))
    with capsys.disabled():
        print(
            f"\na moved date {moved:.2f} s / a middle run {one:.2f} s = {moved / one:.1f}"
            f" (target {PANEL_TARGET:g})"
        )
    assert moved / one <= PANEL_TARGET * SLACK
