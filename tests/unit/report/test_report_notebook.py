"""What the season notebook works out, what it writes, and how it says how far it is."""

import json
from pathlib import Path

import numpy as np
import pytest

from aquacalc.pages import jobs
from aquacalc.report import given, notebook
from aquacalc.report import season as report
from aquacalc.season import result
from aquacalc.words import Reader

MADE = "2027-02-20"
MEMBERS = 5


@pytest.fixture(scope="module")
def run() -> notebook.Run:
    return notebook.run("demo:southern", MEMBERS, 3, made=MADE)


def test_the_plan_has_its_season_tasks_and_log(run: notebook.Run):
    plan = run.plan
    assert plan.season is run.season
    assert (run.season.members, run.season.seed, run.season.digest) == (MEMBERS, 3, run.digest)
    assert run.season.first == plan.garden.season.start
    assert {"stock", "test", "plant"} <= {task.key for task in jobs.entries(plan)}
    assert plan.standing is not None
    assert plan.standing.day == plan.garden.season.start
    assert plan.differences == ()  # the carp come later


def test_the_season_begins_with_the_readings_of_the_log(run: notebook.Run):
    assert run.start.water["tan_mg_l"] == 0.4
    reading = [event for event in run.season.events if event.key == "reading"]
    assert [event.day for event in reading] == [0]


@pytest.mark.slow
def test_a_season_that_is_begun_later_starts_on_that_day():
    later = notebook.run("demo:southern", 2, 1, start="2028-01-10", made=MADE)
    assert later.season.first.isoformat() == "2028-01-10"
    assert later.season.date(later.season.days - 1) == later.plan.garden.season.end
    assert min(task.day for task in jobs.entries(later.plan)) >= later.season.first
    # The carp were stocked in October, by the plan.
    assert later.season.fish["count"][0, :, 0].min() > 40.0


def test_nothing_is_written_where_no_folder_is_named(
    run: notebook.Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.chdir(tmp_path)
    notebook.save(run, "")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.slow
def test_the_same_seed_gives_the_same_bytes(run: notebook.Run, tmp_path: Path):
    again = notebook.run("demo:southern", MEMBERS, 3, made=MADE)
    for name, one in (("a", run), ("b", again)):
        (tmp_path / name).mkdir()
        notebook.save(one, str(tmp_path / name))
    names = sorted(path.name for path in (tmp_path / "a").iterdir())
    assert names == sorted(
        [given.SEASON_FILE, given.DAYS_FILE, given.TASKS_FILE, given.CALENDAR_FILE, given.RUN_FILE]
    )
    for name in names:
        assert (tmp_path / "a" / name).read_bytes() == (tmp_path / "b" / name).read_bytes(), name


@pytest.mark.slow
def test_another_seed_gives_another_season(run: notebook.Run):
    other = notebook.run("demo:southern", 2, 4, made=MADE)
    assert not np.array_equal(run.season.daily["water_c"][0], other.season.daily["water_c"][0])


def test_the_season_is_saved_whole(run: notebook.Run, tmp_path: Path):
    notebook.save(run, str(tmp_path))
    back = result.load(tmp_path / given.SEASON_FILE)
    assert back.batches == run.season.batches
    np.testing.assert_array_equal(back.daily["tan_mg_l"], run.season.daily["tan_mg_l"])
    record = json.loads((tmp_path / given.RUN_FILE).read_text("utf-8"))
    assert record["season"]["from_log"]["water"] == run.start.water


def test_progress_is_told_by_quarters(capsys: pytest.CaptureFixture[str]):
    tell = notebook._teller(3000, Reader())
    for share in (0.05, 0.27, 0.37, 0.68, 0.74, 1.0):
        tell(share)
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.replace("\u00a0", " ").splitlines() == [
        "> Following the season day by day, 3000 times ...",
        "> 25 % of the season is done.",
        "> 50 % of the season is done.",
    ]


def test_only_whole_lines_that_are_meant_to_be_told_are_heard():
    told: list[str] = []
    heard = report._Heard(told.append)
    for text in ("> one\nwarning: odd\n> t", "wo", "\n", "> three"):
        heard.write(text)
        heard.flush()
    assert told == ["one", "two"]
