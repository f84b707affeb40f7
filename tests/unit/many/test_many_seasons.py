"""Plans of many gardens: one bad garden stops no other, what is finished is kept, a row and a page of all."""

import csv
import io
import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from aquacalc import __version__
from aquacalc.cli import command
from aquacalc.errors import InputError, Problem
from aquacalc.executors import Serial
from aquacalc.garden.file import GardenFile
from aquacalc.many import files, gardens, seasons, summary
from aquacalc.many.seasons import Job
from aquacalc.report import folders, given, season

FINDINGS: dict[str, list[dict[str, object]]] = {
    "alder": [],
    "beech": [
        {"level": "act today", "first": "2027-08-01", "title": "Little air", "action": "Add a stone."},
        {"level": "watch", "first": None, "title": "Hard water", "action": "Look."},
    ],
    "cedar": [
        {"level": "emergency", "first": "2027-07-01", "title": "<b>Heat</b>", "action": "Shade it."},
    ],
    "dogwood": [{"level": "act today", "first": "2027-05-01", "title": "Cold", "action": "Wait."}],
}
"""Invented gardens, by their most urgent findings."""


@pytest.fixture
def club(tmp_path: Path) -> Path:
    folder = tmp_path / "club"
    text = GardenFile.open("demo:classroom").text
    for name in FINDINGS:
        (folder / name).mkdir(parents=True)
        (folder / name / "garden.toml").write_text(text, "utf-8")
    return folder


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of the plans that are made; a stand-in writes their run files, as the season's command does."""
    names: list[str] = []

    def write(garden: str, out: Path, members: int, seed: int, paper: str, units: str, *rest: object) -> None:
        name = Path(garden).name
        if name == "broken":
            raise season.RunFailed("the run stopped", None)
        file = GardenFile.open(garden)
        names.append(name)
        weeks = {one: [1.0, 2.0, None] for one in ("feed_g", "water_c", "oxygen_min_mg_l", "fish_kg")}
        line = {"what": "feed", "name": "", "quantity": "mass", "amount": 1000.0}
        gist = {
            "yields": {"fish": [1, 2, 3], "fish_kg": [0.1, 0.2, 0.3], "picked_kg": [4, 5, 6]},
            "weeks": weeks,
            "findings": FINDINGS[name],
            "shopping": [line, {"what": "fish", "name": "goldfish", "quantity": "count", "amount": 4}],
        }
        record = {
            "written_by": "aquacalc season",
            "version": __version__,
            "garden_digest": file.digest,
            "log_digest": given.log_digest(file.path),
            "members": members,
            "seed": seed,
            "options": {"units": units, "start": rest[1]},
            "season": {"first": "2027-03-01", "last": "2028-02-28"},
            "gist": gist,
            "garden": {"name": f"The {name}", "reader": {"units": "metric", "currency": "EUR"}},
        }
        whole = folders.target(out)
        whole.parent.mkdir(parents=True, exist_ok=True)
        with folders.workplace(whole) as work:
            (work / "season-plan.html").write_text("the plan", "utf-8")
            (work / given.RUN_FILE).write_text(json.dumps(record), "utf-8")
            folders.finish(work, whole)

    monkeypatch.setattr(season, "season", write)
    return names


def jobs(club: Path, out: Path) -> list[Job]:
    return [Job(one, out / one.name, members=20) for one in gardens.found([str(club)])]


def states(found: Iterator[seasons.Done]) -> dict[str, str]:
    return {one.job.named.name: one.state for one in found}


def test_a_bad_garden_stops_no_other(club: Path, tmp_path: Path, made: list[str]):
    (club / "alder" / "garden.toml").write_text("name = 3", "utf-8")
    (club / "beech").rename(club / "broken")
    found = list(seasons.run(jobs(club, tmp_path / "out"), Serial()))
    assert states(iter(found)) == {
        "alder": "refused",
        "broken": "failed",
        "cedar": "made",
        "dogwood": "made",
    }
    by_name = {one.job.named.name: one for one in found}
    assert by_name["alder"].problems
    assert by_name["broken"].sentence == "the run stopped"


CHANGES: dict[str, Callable[[Path, Job], Job]] = {
    "the garden": lambda folder, job: (_append(folder / "garden.toml", "\n# more\n"), job)[1],
    "a log": lambda folder, job: (_append(folder / "log.csv", "date,pH\n2027-03-02,7\n"), job)[1],
    "the tries": lambda folder, job: replace(job, members=21),
    "the seed": lambda folder, job: replace(job, seed=5),
    "the units": lambda folder, job: replace(job, units="us"),
    "a file of the plan": lambda folder, job: ((job.out / "season-plan.html").unlink(), job)[1],
}


def _append(path: Path, text: str) -> None:
    with path.open("a", encoding="utf-8") as file:
        file.write(text)


def test_what_is_finished_is_kept(club: Path, tmp_path: Path, made: list[str]):
    for wanted in ("made", "kept"):
        assert set(states(seasons.run(jobs(club, tmp_path / "out"), Serial())).values()) == {wanted}
    assert made == list(FINDINGS)


@pytest.mark.parametrize("what", CHANGES)
def test_what_has_changed_is_made_anew(what: str, club: Path, tmp_path: Path, made: list[str]):
    todo = jobs(club, tmp_path / "out")
    list(seasons.run(todo, Serial()))
    changed = CHANGES[what](club / "cedar", todo[2])
    if what == "a file of the plan":
        assert not seasons.is_finished(changed)
        return
    assert states(seasons.run([*todo[:2], changed, todo[3]], Serial())) == {
        "alder": "kept",
        "beech": "kept",
        "cedar": "made",
        "dogwood": "kept",
    }


def test_who_needs_a_visit_first_stands_first(club: Path, tmp_path: Path, made: list[str]):
    rows = summary.rows(seasons.run(jobs(club, tmp_path / "out"), Serial()))
    assert [row.name for row in rows] == ["cedar", "dogwood", "beech", "alder"]
    assert rows[-1].level == "fine"
    assert rows[2].urgent == 1


def test_what_all_use_is_added_up(club: Path, tmp_path: Path, made: list[str]):
    feed, fish = summary.shopping(seasons.run(jobs(club, tmp_path / "out"), Serial()))
    assert (feed.what, feed.amount, feed.gardens) == ("feed", 4000.0, 4)
    assert (fish.name, fish.amount) == ("goldfish", 16.0)


def test_the_command_writes_a_summary_and_tells_what_it_could_not(
    club: Path, tmp_path: Path, made: list[str], capsys: pytest.CaptureFixture[str]
):
    (club / "alder" / "garden.toml").write_text("name = 3", "utf-8")
    out = tmp_path / "plans"
    argv = ["season", str(club), "--out", str(out), "--jobs", "1", "--members", "20"]
    assert command.main(argv) == command.BAD_INPUT
    printed = capsys.readouterr()
    assert "4 of 4" in printed.out
    assert printed.err.startswith("alder: ")
    head, *rows = csv.reader(io.StringIO((out / files.TABLE).read_text("utf-8")))
    assert [row[head.index("folder")] for row in rows] == ["cedar", "dogwood", "beech"]
    page = (out / files.PAGE).read_text("utf-8")
    assert "&lt;b&gt;Heat&lt;/b&gt;" in page
    assert "<b>Heat</b>" not in page
    assert "alder: " in page
    assert ["feed", "3000", "g", "3"] in list(csv.reader(io.StringIO((out / files.SHOPPING).read_text())))
    assert command.main(argv) == command.BAD_INPUT
    assert "kept as it was" in capsys.readouterr().out


def test_a_summary_of_ones_own_is_never_lost(club: Path, tmp_path: Path, made: list[str]):
    out = tmp_path / "plans"
    out.mkdir()
    (out / files.TABLE).write_text("my own", "utf-8")
    with pytest.raises(InputError) as told:
        files.target(out)
    assert told.value.problems == (Problem("problem-out-strange", found=str(out), allowed=(files.TABLE,)),)


def test_checks_of_many_are_a_line_each(club: Path, capsys: pytest.CaptureFixture[str]):
    (club / "beech" / "garden.toml").write_text("name = 3", "utf-8")
    (club / "cedar" / "garden.toml").unlink()
    (club / "dogwood" / "garden.toml").unlink()
    assert command.main(["check", str(club), "demo:yard", "--jobs", "1"]) == command.BAD_INPUT
    printed = capsys.readouterr()
    assert [line.split(" [")[0] for line in printed.out.splitlines() if " [" in line] in (
        ["alder", "yard"],
        ["yard", "alder"],
    )
    assert printed.err.startswith("beech: ")
    assert command.main(["log", "demo:yard", str(club / "alder"), "--jobs", "1"]) == command.DONE
    assert "alder [not known]" in capsys.readouterr().out
