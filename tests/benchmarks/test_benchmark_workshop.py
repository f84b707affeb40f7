"""The pack of a workshop against the season plan of the same garden, both papers each.

By the clock on the wall, because the plan is run by a kernel of its own.
"""

import time
from pathlib import Path

import pytest

from aquacalc.report import season, workshop

pytestmark = pytest.mark.benchmark

TARGET = 2.0


def test_a_pack_takes_at_most_twice_a_season_plan(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    begun = time.perf_counter()
    season.season("demo:yard", tmp_path / "plan", paper="both")
    plan_s = time.perf_counter() - begun
    begun = time.perf_counter()
    workshop.write("demo:yard", tmp_path / "pack", "adults", 16, paper="both")
    ratio = (time.perf_counter() - begun) / plan_s
    with capsys.disabled():
        print(f"\na workshop's pack: {ratio:.2f} season plans (target {TARGET:g})")
    assert ratio <= TARGET
