"""Costly results of a test run: worked out by one worker, read by the others.

`conftest` names the folder for the run in the environment and takes it away at the end.
"""

import functools
import os
import pickle
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import ParamSpec, TypeVar

P = ParamSpec("P")
T = TypeVar("T")

FOLDER = "AQUACALC_TESTS_SHARED"
"""Environment variable with the folder of this run."""


def shared(work: Callable[P, T]) -> Callable[P, T]:
    """Keep what a function of plain names and numbers returns, for this process and the other workers.

    Two workers that ask at once both work it out: the results are the same.
    """

    @functools.cache
    def kept(*names: P.args, **options: P.kwargs) -> T:
        folder = os.environ.get(FOLDER)
        if folder is None:
            return work(*names, **options)
        told = [str(name) for name in (*names, *options.values())]
        path = Path(folder, "-".join([work.__module__, work.__name__, *told]).replace("/", "-"))
        if path.exists():
            return pickle.loads(path.read_bytes())
        found = work(*names, **options)
        with tempfile.NamedTemporaryFile(dir=folder, delete=False) as half:
            half.write(pickle.dumps(found))
        Path(half.name).replace(path)
        return found

    return kept
