"""Every notebook runs to its last cell, whatever garden lies beside it: no traceback where a newcomer looks.

Here the cells run without a kernel and with few tries; whole notebooks in their kernel are sampled in the
slow tests.
"""

import re
from collections.abc import Iterator
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import cells
import papermill
import pytest

from aquacalc.cli import folders
from aquacalc.errors import InputError
from aquacalc.garden import places
from aquacalc.panels.frame import desk
from aquacalc.sizing import changes
from aquacalc.startup import plan

TODAY = date(2026, 11, 30)
TRIES = 20
LOGS = {
    "with its log": None,
    "an empty log": b"",
    "a log without rows": b"date,pH,ammonia\n",
    "a log of another program": b"\x00\x01PK\xff",
    "no log": b"none",
}
DEMOS = tuple(places.DEMO + name for name in places.demos())


@pytest.fixture(autouse=True, scope="module")
def few_tries() -> Iterator[None]:
    """Twenty tries instead of two hundred, and each garden's balance once."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(
            desk, "balance_with_changes", cache(lambda garden: changes.balance_with_changes(garden, TRIES))
        )
        patched.setattr(plan, "MEMBERS", TRIES)
        yield


def new_garden(folder: Path, log: bytes | None = None, start: date | None = None) -> str:
    """A folder as `aquacalc new` makes it, with another log or another first day."""
    folders.make(folder, TODAY)
    if log == LOGS["no log"]:
        (folder / "log.csv").unlink()
    elif log is not None:
        (folder / "log.csv").write_bytes(log)
    if start is not None:
        text = (folder / "garden.toml").read_text("utf-8")
        text = re.sub(r"^start = .*$", f"start = {start}", text, flags=re.MULTILINE)
        end = start + timedelta(days=364)
        (folder / "garden.toml").write_text(
            re.sub(r"^end = .*$", f"end = {end}", text, flags=re.MULTILINE), "utf-8"
        )
    return str(folder)


READING = [name for name in cells.PANELS if name[:2] in ("02", "03", "04", "05")]
"""Notebooks in which the log counts."""


@pytest.mark.parametrize(
    ("notebook", "log"),
    [(name, log) for log in LOGS for name in (cells.PANELS if log == "with its log" else READING)],
)
def test_a_new_garden_runs_to_the_last_cell(notebook: str, log: str, tmp_path: Path):
    garden = new_garden(tmp_path / "mine", LOGS[log])
    assert "My garden" in cells.run(notebook, garden=garden)


@pytest.mark.parametrize("notebook", cells.PANELS)
@pytest.mark.parametrize("garden", DEMOS)
def test_a_demo_garden_runs_to_the_last_cell(notebook: str, garden: str):
    assert cells.run(notebook, garden=garden)


FIRSTS = [date(2027, month, 1) for month in range(1, 13)]


@pytest.mark.parametrize(
    ("notebook", "start"),
    [
        *(("02_start_it_up", first) for first in FIRSTS),
        *(("04_plan_the_harvest", first) for first in FIRSTS[::3]),
        *(
            pytest.param("04_plan_the_harvest", first, marks=pytest.mark.slow)
            for first in FIRSTS
            if first not in FIRSTS[::3]
        ),
    ],
)
def test_a_year_may_begin_in_any_month(notebook: str, start: date, tmp_path: Path):
    garden = new_garden(tmp_path / "mine", start=start)
    assert "My garden" in cells.run(notebook, garden=garden)


# --- the season plan


def season_plan(garden: str, folder: Path, start: str = "") -> str:
    folder.mkdir()
    return cells.run(cells.PLAN, garden=garden, members=2, start=start, made=str(TODAY), target=str(folder))


@pytest.mark.parametrize(
    "start",
    [first if first.month in (1, 9) else pytest.param(first, marks=pytest.mark.slow) for first in FIRSTS],
    ids=str,
)
def test_the_plan_may_begin_in_any_month(start: date, tmp_path: Path):
    assert season_plan(new_garden(tmp_path / "mine", start=start), tmp_path / "plan")


@pytest.mark.parametrize(
    "log",
    [
        "an empty log",
        "a log of another program",
        *(
            pytest.param(log, marks=pytest.mark.slow)
            for log in ("with its log", "a log without rows", "no log")
        ),
    ],
)
def test_the_plan_of_a_new_garden_with_any_log(log: str, tmp_path: Path):
    garden = new_garden(tmp_path / "mine", LOGS[log])
    if log == "a log of another program":
        with pytest.raises(InputError):
            season_plan(garden, tmp_path / "plan")
    else:
        assert season_plan(garden, tmp_path / "plan")


@pytest.mark.parametrize(
    ("garden", "months"),
    [
        ("new", 8),
        *(
            pytest.param(garden, months, marks=pytest.mark.slow)
            for garden in (*DEMOS, "new")
            for months in (1, 3, 5)
        ),
    ],
)
def test_the_plan_from_a_day_within_the_season(garden: str, months: int, tmp_path: Path):
    """Or the one sentence that says from when the log tells of the garden."""
    name = new_garden(tmp_path / "mine") if garden == "new" else garden
    first = desk.open_desk(name).garden.season.start + timedelta(days=30 * months)
    begun = desk.open_desk(name).log
    if begun is not None and begun.rows[0].day > first:
        with pytest.raises(InputError):
            season_plan(name, tmp_path / "plan", str(first))
    else:
        assert season_plan(name, tmp_path / "plan", str(first))


# --- whole notebooks

SAMPLE = [
    ("00_start_here", "with its log", 1),
    ("00_start_here", "no log", 7),
    ("01_size_the_garden", "an empty log", 2),
    ("01_size_the_garden", "with its log", 8),
    ("01_size_the_garden", "a log of another program", 11),
    ("02_start_it_up", "a log without rows", 3),
    ("02_start_it_up", "no log", 12),
    ("02_start_it_up", "with its log", 11),
    ("02_start_it_up", "an empty log", 6),
    ("03_keep_the_water_right", "a log of another program", 4),
    ("03_keep_the_water_right", "no log", 9),
    ("03_keep_the_water_right", "a log without rows", 1),
    ("04_plan_the_harvest", "no log", 5),
    ("04_plan_the_harvest", "an empty log", 10),
    ("04_plan_the_harvest", "with its log", 2),
    ("05_read_the_log", "no log", 6),
    ("05_read_the_log", "a log of another program", 12),
    ("05_read_the_log", "an empty log", 3),
    ("07_when_it_goes_wrong", "a log without rows", 7),
    ("07_when_it_goes_wrong", "with its log", 5),
]
"""Notebook, log and first month: each notebook with several of both."""


@pytest.mark.slow
@pytest.mark.parametrize(("notebook", "log", "month"), SAMPLE)
def test_a_whole_notebook_runs_in_its_kernel(notebook: str, log: str, month: int, tmp_path: Path):
    garden = new_garden(tmp_path / "mine", LOGS[log], date(2027, month, 1))
    source = cells.WORKBOOK / f"{notebook}.ipynb"
    papermill.execute_notebook(
        source, tmp_path / source.name, {"garden": garden}, cwd=garden, progress_bar=False
    )
