"""Settings of all tests: hypothesis gives the same examples on every machine and knows no deadline; one
folder in which the workers of a run share what is costly."""

import os
import shutil
import tempfile

import pytest
from hypothesis import settings
from shared import FOLDER

settings.register_profile("steady", derandomize=True, deadline=None)
settings.load_profile("steady")

OURS = pytest.StashKey[str]()


def pytest_configure(config: pytest.Config) -> None:
    """Only the first process names the folder; workers are born with it in their environment."""
    if FOLDER not in os.environ:
        config.stash[OURS] = os.environ[FOLDER] = tempfile.mkdtemp(prefix="aquacalc-tests-")


def pytest_unconfigure(config: pytest.Config) -> None:
    if OURS in config.stash:
        shutil.rmtree(config.stash[OURS], ignore_errors=True)
        del os.environ[FOLDER]
