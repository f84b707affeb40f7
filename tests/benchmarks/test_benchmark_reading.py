"""One judged reading: the command against an import of numpy, many draws of the kit's error against one.

Each ratio has a target; the test fails beyond twice the target, so that a busy machine does not fail it.
Both sides run in turn, and the best of several counts, because a bad morning does not wait for a warm cache.
"""

import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from aquacalc.advice.reading import actions, given
from aquacalc.garden.file import GardenFile

ROOT = Path(__file__).resolve().parents[2]

COMMAND_TARGET, DRAWS_TARGET = 8.0, 30.0
SLACK = 2.0
TIMES = 9
READING = ("tan=2", "ph=7.6", "temp=26")
MANY = 2000

pytestmark = pytest.mark.benchmark


@pytest.fixture(scope="module", autouse=True)
def compiled(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Both sides run from compiled files, as an installed package does, whatever the environment says."""
    with pytest.MonkeyPatch.context() as patch:
        patch.delenv("PYTHONDONTWRITEBYTECODE", raising=False)
        patch.setenv("PYTHONPYCACHEPREFIX", str(tmp_path_factory.mktemp("compiled")))
        yield


def run(*command: str) -> str:
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, *command], cwd=ROOT, env=environment, check=True, capture_output=True, text=True
    )
    return done.stdout


def best(first: Callable[[], object], second: Callable[[], object]) -> tuple[float, float]:
    """Shortest seconds of both, run in turn; a first run of each warms up."""
    taken: tuple[list[float], list[float]] = ([], [])
    for turn in range(TIMES + 1):
        for seconds, call in zip(taken, (first, second), strict=True):
            start = time.perf_counter()
            call()
            if turn:
                seconds.append(time.perf_counter() - start)
    return min(taken[0]), min(taken[1])


def shown(capsys: pytest.CaptureFixture[str], name: str, both: tuple[float, float], target: float) -> float:
    ratio = both[0] / both[1]
    with capsys.disabled():
        print(f"\n{name:<46} {both[0]:8.4f} s / {both[1]:.4f} s = {ratio:5.2f}  (target {target:g})")
    return ratio


@pytest.mark.parametrize("garden", ["", "demo:yard"])
def test_the_command_answers_in_a_few_imports_of_numpy(garden: str, capsys: pytest.CaptureFixture[str]):
    typed = (garden, "tan=2", "ph=7.4", "temp=79") if garden else READING

    def command() -> None:
        assert "Status: " in run("-m", "aquacalc", "reading", *typed)

    both = best(command, lambda: run("-c", "import numpy"))
    name = f"reading {garden}".strip()
    assert shown(capsys, f"{name} / import numpy", both, COMMAND_TARGET) <= SLACK * COMMAND_TARGET


@pytest.mark.parametrize("garden", ["", "demo:yard"])
def test_many_draws_of_the_kits_error_cost_little_more_than_one(
    garden: str, capsys: pytest.CaptureFixture[str]
):
    of = GardenFile.open(garden).garden if garden else None
    typed = ("tan=1.2", "ph=7.4", "temp=79") if garden else READING

    def answered(draws: int) -> actions.Answer:
        return actions.answer(given.read(typed, of), draws)

    many = answered(MANY).judgement.of("unionised_ammonia")
    assert many is not None
    assert many.low < many.value < many.high
    both = best(lambda: answered(MANY), lambda: answered(1))
    assert shown(capsys, f"{MANY} draws / 1 {garden}", both, DRAWS_TARGET) <= SLACK * DRAWS_TARGET
