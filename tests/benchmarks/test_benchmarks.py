"""Speed as ratios: two things measured in turn on the same machine, medians of nine.

Each ratio has a target; the test fails beyond twice the target, so that a busy machine does not fail it.

    python -m pytest -m benchmark tests/benchmarks
"""

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
TIMES = 9
SLACK = 2.0

IMPORT_NUMPY = [sys.executable, "-c", "import numpy"]
AQUACALC = [sys.executable, "-m", "aquacalc"]

STOCK_RUN = """
import nbformat, papermill
from nbconvert import HTMLExporter
cells = [nbformat.v4.new_code_cell("print('one')"), nbformat.v4.new_code_cell("print('two')")]
kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
nbformat.write(nbformat.v4.new_notebook(cells=cells, metadata=kernel), "two.ipynb")
papermill.execute_notebook("two.ipynb", "run.ipynb", kernel_name="python3", progress_bar=False)
page, _ = HTMLExporter().from_filename("run.ipynb")
open("run.html", "w", encoding="utf-8").write(page)
"""

pytestmark = pytest.mark.benchmark


@pytest.fixture(scope="module", autouse=True)
def compiled(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Both sides run from compiled files, as an installed package does, whatever the environment says."""
    with pytest.MonkeyPatch.context() as patch:
        patch.delenv("PYTHONDONTWRITEBYTECODE", raising=False)
        patch.setenv("PYTHONPYCACHEPREFIX", str(tmp_path_factory.mktemp("compiled")))
        yield


def run(command: list[str], folder: Path = ROOT) -> None:
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    subprocess.run(command, cwd=folder, env=environment, check=True, capture_output=True)


def medians(first: Callable[[], object], second: Callable[[], object]) -> tuple[float, float]:
    """Median seconds of both, run in turn, so that both meet the same load; a first run of each warms up."""
    taken: tuple[list[float], list[float]] = ([], [])
    for turn in range(TIMES + 1):
        for seconds, call in zip(taken, (first, second), strict=True):
            start = time.perf_counter()
            call()
            if turn:
                seconds.append(time.perf_counter() - start)
    return statistics.median(taken[0]), statistics.median(taken[1])


@pytest.fixture
def assert_ratio(capsys: pytest.CaptureFixture[str]) -> Callable[..., None]:
    def measure(name: str, target: float, subject: Callable[[], object], base: Callable[[], object]) -> None:
        took, measure_ = medians(subject, base)
        with capsys.disabled():
            print(
                f"\n{name:<46} {took:7.3f} s / {measure_:.3f} s = {took / measure_:5.2f}  (target {target:g})"
            )
        assert took / measure_ <= SLACK * target

    return measure


@pytest.mark.parametrize(
    ("module", "target"), [("aquacalc.sizing.balance", 1.5), ("aquacalc.garden.file", 4.0)]
)
def test_importing_is_quick(assert_ratio: Callable[..., None], module: str, target: float):
    command = [sys.executable, "-c", f"import {module}"]
    assert_ratio(f"import {module} / import numpy", target, lambda: run(command), lambda: run(IMPORT_NUMPY))


def test_checking_a_garden_is_quick(assert_ratio: Callable[..., None]):
    command = [*AQUACALC, "check", "demo:yard"]
    assert_ratio("check demo:yard / import numpy", 10.0, lambda: run(command), lambda: run(IMPORT_NUMPY))


def test_a_plan_is_made_in_a_few_times_a_stock_notebook_run(
    assert_ratio: Callable[..., None], tmp_path: Path
):
    plan = [*AQUACALC, "season", "demo:yard", "--paper", "both"]
    stock = [sys.executable, "-c", STOCK_RUN]
    assert_ratio(
        "season demo:yard / stock run", 3.0, lambda: run(plan, tmp_path), lambda: run(stock, tmp_path)
    )


def test_a_thousand_members_cost_little_more_than_one(assert_ratio: Callable[..., None]):
    from aquacalc.garden.file import GardenFile
    from aquacalc.sizing.balance import balance

    garden = GardenFile.open("demo:yard").garden
    many, one = 1000, 1
    assert_ratio("balance of 1000 / of 1", 20.0, lambda: balance(garden, many), lambda: balance(garden, one))
