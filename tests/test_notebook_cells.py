"""Every notebook runs to its last cell, whatever garden lies beside it: no traceback where a newcomer looks.

Here the cells run without a kernel and with few tries; whole notebooks in their kernel are sampled in the
slow tests.
"""

import itertools
import re
from collections import Counter
from collections.abc import Iterator, Sequence
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
QUICK_LOG = dict(zip(READING, [log for log in LOGS if log != "with its log"], strict=True))
"""The other log of each that the quick tests try; the slow ones try all."""


@pytest.mark.parametrize(
    ("notebook", "log"),
    [
        *((name, "with its log") for name in cells.PANELS),
        *(
            pytest.param(name, log, marks=() if QUICK_LOG[name] == log else pytest.mark.slow)
            for log in LOGS
            for name in READING
            if log != "with its log"
        ),
    ],
)
def test_a_new_garden_runs_to_the_last_cell(notebook: str, log: str, tmp_path: Path):
    garden = new_garden(tmp_path / "mine", LOGS[log])
    assert "My garden" in cells.run(notebook, garden=garden)


@pytest.mark.parametrize(
    ("notebook", "garden"),
    [
        # Each notebook with one demo, each demo in two notebooks or more; the slow tests try all.
        pytest.param(name, demo, marks=() if place % len(DEMOS) == which else pytest.mark.slow)
        for place, name in enumerate(cells.PANELS)
        for which, demo in enumerate(DEMOS)
    ],
)
def test_a_demo_garden_runs_to_the_last_cell(notebook: str, garden: str):
    assert cells.run(notebook, garden=garden)


FIRSTS = [date(2027, month, 1) for month in range(1, 13)]
BEGUN = {("02_start_it_up", FIRSTS[9]), ("04_plan_the_harvest", FIRSTS[6])}
"""What the quick tests try: a start into the winter, a year from the hottest month."""


@pytest.mark.parametrize(
    ("notebook", "start"),
    [
        (name, first) if (name, first) in BEGUN else pytest.param(name, first, marks=pytest.mark.slow)
        for name in ("02_start_it_up", "04_plan_the_harvest")
        for first in FIRSTS
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
    [first if first.month == 9 else pytest.param(first, marks=pytest.mark.slow) for first in FIRSTS],
    ids=str,
)
def test_the_plan_may_begin_in_any_month(start: date, tmp_path: Path):
    assert season_plan(new_garden(tmp_path / "mine", start=start), tmp_path / "plan")


@pytest.mark.parametrize(
    "log",
    [
        "a log of another program",
        *(pytest.param(log, marks=pytest.mark.slow) for log in LOGS if log != "a log of another program"),
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

OWN_MONTH, OWN_DAY = 0, 0
"""A garden as it is, and a plan from its first day."""
MONTHS_IN = (OWN_DAY, 1, 5, 8)
"""Months after the season's first day from which a plan is made."""
WHOLE_RUNS = 20

Case = tuple[str, str, int, int]
"""A notebook; a log of the new garden, or a demo; the first month; the months after it with `--from`."""


def cases() -> Iterator[Case]:
    """All that can be asked: demo gardens keep their months, and only the plan begins on another day."""
    for notebook, garden in itertools.product((*cells.PANELS, cells.PLAN), (*LOGS, *DEMOS)):
        for month, later in itertools.product((OWN_MONTH, *range(1, 13)), MONTHS_IN):
            moved = month == OWN_MONTH or garden in LOGS
            # A plan is refused where its log cannot be read, which the tests above hold.
            begun = later == OWN_DAY if notebook != cells.PLAN else garden != "a log of another program"
            if moved and begun:
                yield notebook, garden, month, later


def pairs(case: Case) -> set[tuple[object, ...]]:
    """Any two choices that meet in a case."""
    return set(itertools.combinations(enumerate(case), 2))


def covering(found: Sequence[Case], size: int) -> list[Case]:
    """So many cases: each time one with the most choices that no case before it has, then with the most new
    pairs, then with those that came up least; the first of several alike."""
    seen: set[tuple[object, ...]] = set()
    used: Counter[tuple[int, object]] = Counter()
    chosen: list[Case] = []
    while len(chosen) < size:
        worth = {
            case: (
                sum(not used[choice] for choice in enumerate(case)),
                len(pairs(case) - seen),
                -sum(used[choice] for choice in enumerate(case)),
            )
            for case in found
        }
        chosen.append(max(found, key=worth.__getitem__))
        seen |= pairs(chosen[-1])
        used.update(enumerate(chosen[-1]))
    return chosen


SAMPLE = covering(list(cases()), WHOLE_RUNS)


def test_the_sample_of_whole_notebooks_has_every_choice_and_most_pairs():
    assert len(set(SAMPLE)) == WHOLE_RUNS
    for place in range(4):
        assert {case[place] for case in SAMPLE} == {case[place] for case in cases()}
    # No two cases repeat more than they add.
    assert len(set().union(*map(pairs, SAMPLE))) > 0.75 * 6 * WHOLE_RUNS


@pytest.mark.slow
@pytest.mark.parametrize(("notebook", "garden", "month", "later"), SAMPLE)
def test_a_whole_notebook_runs_in_its_kernel(
    notebook: str, garden: str, month: int, later: int, tmp_path: Path
):
    name = garden
    if garden in LOGS:
        name = new_garden(tmp_path / "mine", LOGS[garden], date(2027, month, 1) if month else None)
    given: dict[str, object] = {"garden": name}
    if notebook == cells.PLAN:
        (tmp_path / "plan").mkdir()
        given |= {"members": 2, "made": str(TODAY), "target": str(tmp_path / "plan")}
        if later:
            given["start"] = str(desk.open_desk(name).garden.season.start + timedelta(days=30 * later))
    source = cells.WORKBOOK / f"{notebook}.ipynb"
    papermill.execute_notebook(source, tmp_path / source.name, given, cwd=tmp_path, progress_bar=False)
