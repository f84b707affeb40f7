"""Whoever does the work, the results are the same; what cannot be asked for is told in a sentence."""

import os
import sys

import pytest

from aquacalc import executors
from aquacalc.errors import InputError, Problem


def raised(number: int) -> int:
    if number == 2:
        raise InputError(Problem("problem-range", "number", "2", ("3", "4", "")))
    return number * 10


def threads(_: int) -> str:
    return os.environ["OMP_NUM_THREADS"]


def test_one_process_keeps_the_order_and_the_errors():
    with executors.opened(1) as executor:
        futures = [executor.submit(raised, one) for one in (1, 2, 3)]
        assert [futures[0].result(), futures[2].result()] == [10, 30]
        with pytest.raises(InputError):
            futures[1].result()


@pytest.mark.slow
def test_several_processes_give_the_same_and_hold_to_one_thread():
    before = os.environ.get("OMP_NUM_THREADS")
    with executors.opened(2) as executor:
        assert list(executor.map(raised, (1, 3))) == [10, 30]
        with pytest.raises(InputError) as told:
            executor.submit(raised, 2).result()
        assert told.value.problems[0].key == "problem-range"
        assert set(executor.map(threads, range(4))) == {"1"}
    assert os.environ.get("OMP_NUM_THREADS") == before


def test_a_cluster_without_its_library_is_told(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(InputError) as told, executors.opened(cluster="tcp://127.0.0.1:1"):
        pass
    assert told.value.problems == (Problem("problem-cluster-library", found="tcp://127.0.0.1:1"),)


@pytest.mark.slow
def test_a_cluster_that_does_not_answer_is_told(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(executors, "CLUSTER_WAITS_S", 1)
    with pytest.raises(InputError) as told, executors.opened(cluster="tcp://127.0.0.1:1"):
        pass
    assert told.value.problems[0].key == "problem-cluster-silent"


@pytest.mark.slow
def test_a_cluster_of_two_does_the_same_work_also_when_one_worker_is_lost():
    from distributed import LocalCluster

    with (
        LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,
        executors.opened(cluster=cluster.scheduler_address) as executor,
    ):
        futures = [executor.submit(raised, one) for one in range(3, 40)]
        first, *_ = cluster.workers.values()
        cluster.loop.add_callback(first.kill)
        assert [one.result(timeout=60) for one in futures] == [one * 10 for one in range(3, 40)]
