"""Members that other processes run are the members of one process, bit for bit."""

from concurrent.futures import Executor, ProcessPoolExecutor
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
import seasons

from aquacalc import executors
from aquacalc.garden.model import Garden
from aquacalc.season import plan, run


@pytest.fixture
def spring(monkeypatch: pytest.MonkeyPatch) -> Garden:
    """Three weeks of the yard, in which seven tries are three pieces of work."""
    monkeypatch.setattr(run, "CHUNK", 3)
    yard = seasons.garden("yard")
    return replace(yard, season=replace(yard.season, end=yard.season.start + timedelta(days=20)))


def assert_same(garden: Garden, executor: Executor) -> None:
    alone, found = (plan.of_garden(garden, 7, 5, executor=one) for one in (None, executor))
    for group in ("daily", "fish", "crops"):
        one, other = getattr(alone, group), getattr(found, group)
        assert one.keys() == other.keys()
        for name in one:
            assert np.array_equal(one[name], other[name], equal_nan=True), name


def test_pieces_of_work_give_the_bits_of_one_process(spring: Garden):
    assert_same(spring, executors.Serial())


@pytest.mark.slow
def test_so_do_other_processes(spring: Garden):
    with ProcessPoolExecutor(2) as pool:
        assert_same(spring, pool)


def test_who_works_beside_others_takes_one_core(monkeypatch: pytest.MonkeyPatch):
    assert executors.cores() >= 1
    monkeypatch.setenv(executors.BESIDE, "1")
    assert executors.cores() == 1
