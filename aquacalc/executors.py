"""Who does the work: this process, the cores of this machine, or a cluster that is running already.

All are executors of `concurrent.futures`; results do not depend on which one does the work.
"""

import os
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context
from typing import Any, ParamSpec, TypeVar

from aquacalc.errors import InputError, Problem

P = ParamSpec("P")
T = TypeVar("T")

ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS")
"""Environment variables that hold the number of threads of libraries for linear algebra."""
BESIDE = "AQUACALC_BESIDE"
"""Environment variable of processes that work side by side, and of what they start."""
CLUSTER_WAITS_S = 10


class Serial(Executor):
    """Does the work at once, in this process.

    >>> with Serial() as serial:
    ...     serial.submit(max, 2, 3).result()
    3
    """

    def submit(self, fn: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        """The finished future of a call."""
        future: Future[T] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as fault:
            future.set_exception(fault)
        return future


def cores() -> int:
    """Cores that this process may use; one where others work beside it for the same command."""
    if os.environ.get(BESIDE):
        return 1
    if sys.platform == "linux":
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def opened(jobs: int = 1, cluster: str = "") -> Iterator[Executor]:
    """Whoever does the work: a cluster by its address, else so many processes; with one, this process.

    Each process holds its libraries to one thread. Raises `InputError` where the cluster's library is not
    installed (`problem-cluster-library`) or the cluster does not answer (`problem-cluster-silent`).
    """
    if cluster:
        with _cluster(cluster) as executor:
            yield executor
    elif jobs <= 1:
        yield Serial()
    else:
        with _one_thread(), ProcessPoolExecutor(jobs, mp_context=get_context("spawn")) as pool:
            try:
                yield pool
            except BaseException:
                # What has not begun is not begun: whoever stopped does not wait for it.
                pool.shutdown(wait=False, cancel_futures=True)
                raise


@contextmanager
def _one_thread() -> Iterator[None]:
    """New processes read how many threads they may use from the environment, as they begin."""
    before = {name: os.environ.get(name) for name in (*ONE_THREAD, BESIDE)}
    os.environ.update(dict.fromkeys(before, "1"))
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


@contextmanager
def _cluster(address: str) -> Iterator[Executor]:
    try:
        from distributed import Client
    except ImportError:
        raise InputError(Problem("problem-cluster-library", found=address)) from None
    try:
        client: Any = Client(address, timeout=CLUSTER_WAITS_S)  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as fault:
        raise InputError(Problem("problem-cluster-silent", found=address)) from fault
    with client:
        yield client.get_executor()
