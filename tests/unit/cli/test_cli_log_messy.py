"""The log of an invented garden that has every mess at once: what the command says of it."""

import csv
import hashlib
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from aquacalc.cli import command
from aquacalc.garden.file import GardenFile
from aquacalc.logbook import mended, read
from aquacalc.logbook.mended import Mended
from aquacalc.logbook.messy import mend

MESSY = Path(__file__).resolve().parents[2] / "messy_garden"

REPAIRS = {
    "separator": 0,
    "title": 2,
    "date": 3,
    "comma": 3,
    "time": 5,
    "range": 5,
    "other-unit": 6,  # Fahrenheit among Celsius
    "trace": 6,
    "swapped": 8,
    "off-scale": 12,
    "duplicate": 13,
    "bound": 14,
    "none": 14,
    "blank-row": 20,
    "not-measured": 26,
}
"""Each kind of repair, and the first row that has it."""

DOUBTS = {
    "above-header": 1,
    "spreadsheet-date": 7,
    "cell-unit": 8,  # scoops
    "impossible": 9,
    "not-read": 9,
    "other-unit": 10,
    "copied": 16,
    "kit-basis": 23,
    "date": 24,
    "number": 25,
    "time": 27,
}


@pytest.fixture
def folder(tmp_path: Path) -> Iterator[Path]:
    """A copy of the garden; its log is looked at again at the end."""
    copied = tmp_path / "garden"
    shutil.copytree(MESSY, copied)
    yield copied
    before, after = (hashlib.sha256((one / read.LOG).read_bytes()).digest() for one in (MESSY, copied))
    assert before == after


@pytest.fixture
def found() -> Mended:
    garden = GardenFile.open(str(MESSY)).garden
    return mend.read(MESSY / read.LOG, garden)


@pytest.mark.parametrize(("kind", "row"), REPAIRS.items())
def test_each_kind_of_repair_is_told_with_its_row(found: Mended, kind: str, row: int):
    assert min(one.row for one in found.repairs if one.key == f"log-repair-{kind}") == row


@pytest.mark.parametrize(("kind", "row"), DOUBTS.items())
def test_each_kind_of_doubt_is_told_with_its_row(found: Mended, kind: str, row: int):
    assert min(one.row for one in found.doubts if one.key == f"log-doubt-{kind}") == row


def test_no_other_kind_came_in_unseen(found: Mended):
    assert {one.key for one in found.repairs} == {f"log-repair-{kind}" for kind in REPAIRS}
    assert {one.key for one in found.doubts} == {f"log-doubt-{kind}" for kind in DOUBTS}


def test_what_the_command_says(folder: Path, capsys: pytest.CaptureFixture[str]):
    assert command.main(["log", str(folder)]) == command.DONE
    said = capsys.readouterr()
    assert said.err == ""
    text = re.sub(r"\s+", " ", said.out)
    for part in (
        "row 7, pH: a spreadsheet made a date of this number: “5-Jul”; it was left out. Is it 5.7 or 7.5?",
        "row 8: pH 18.6, Temp (°C) 7.2 changed places: pH 7.2, Temp (°C) 18.6.",
        "No entry from 17 August to 5 September 2027.",
        "alkalinity (KH) 0 dKH (0 mg/L CaCO3) emergency",
        "goldfish: 3 of 27 fish died on 6 September 2027",
        "Conductivity fell from 670 µS/cm to 590 µS/cm from 14 June to 21 June 2027, and no new water is",
        "pH was 7.2 at 08:00 and 7.6 at 16:30 on 14 June 2027",
        "28 June 2027: 300 L of new water.",
        "26 July 2027: a new test kit, new strips.",
        "Next test: in ",
    ):
        assert part in text
    first = [line for line in said.out.splitlines() if line.startswith("[")]
    assert len(first) == 3


def test_the_list_beside_the_log_names_every_row(folder: Path, found: Mended):
    assert command.main(["log", str(folder)]) == command.DONE
    assert sorted(one.name for one in folder.iterdir()) == [
        "garden.toml",
        mended.CLEAN,
        read.LOG,
        mended.LIST,
    ]
    with (folder / mended.LIST).open(encoding="utf-8", newline="") as file:
        head, *rows = csv.reader(file)
    assert head == ["row", "column", "was", "now", "what"]
    assert len(rows) == len(found.repairs) + len(found.doubts)
    assert [row[2] for row in rows if row[0] == "19" and row[1] == "Temp (°C)"] == ["20,0"]


def test_the_clean_log_is_read_without_a_question_and_is_clean(folder: Path):
    assert command.main(["log", str(folder)]) == command.DONE
    garden = GardenFile.open(str(folder)).garden
    clean = read.read(folder / mended.CLEAN, garden)
    again = mend.read(folder / mended.CLEAN, garden)
    assert again.doubts == ()
    assert [row.day for row in again.log.rows] == [row.day for row in clean.rows]
    assert {one.key for one in again.repairs} <= {"log-repair-title"}


def test_answers_written_into_the_log_settle_what_was_asked(folder: Path):
    path = folder / read.LOG
    answered = path.read_text("utf-8")
    for was, now in (
        (";5-Jul;", ";7.5;"),
        (";68;", ";6.8;"),
        (";54;", ";54 mg/L CaCO3;"),
        (";16;2;", ";16 as N;2;"),
        (";1,200;", ";1.2 g;"),
        ("10 Uhr", "10:00"),
        ("30/02/27", "28/07/27"),
    ):
        assert answered.count(was) == 1
        answered = answered.replace(was, now)
    path.write_text(answered, "utf-8")
    found = mend.read(path, GardenFile.open(str(folder)).garden)
    shutil.copy(MESSY / read.LOG, path)
    assert {one.key.removeprefix("log-doubt-") for one in found.doubts} == {
        "above-header",
        "cell-unit",
        "not-read",
        "copied",
        "kit-basis",
    }


@pytest.mark.parametrize(("order", "day"), [("day-month", "3 April 2027"), ("month-day", "4 March 2027")])
def test_days_that_can_be_two_are_asked_and_the_order_can_be_told(
    folder: Path, order: str, day: str, capsys: pytest.CaptureFixture[str]
):
    path = folder / read.LOG
    path.write_text("date,pH\n3/4/27,7.2\n5/4/27,7.1\n", "utf-8")
    assert command.main(["log", str(folder)]) == command.DONE
    asked = " ".join(capsys.readouterr().out.split())
    assert "the log holds no day that can be used" in asked
    assert "Is it 2027-04-03 or 2027-03-04?" in asked
    assert "--dates" in asked
    assert command.main(["log", str(folder), "--dates", order]) == command.DONE
    assert day in " ".join(capsys.readouterr().out.split())
    shutil.copy(MESSY / read.LOG, path)


def test_the_season_is_compared_when_it_is_asked_for(folder: Path, capsys: pytest.CaptureFixture[str]):
    assert command.main(["log", str(folder), "--against-season"]) == command.DONE
    said = " ".join(capsys.readouterr().out.split())
    assert "Against the season of the garden file, from 1 May 2027 to 6 September 2027 (60 tries" in said
    assert "readings lie in the band" in said
