"""A row for the log: the file stays as it was else, what was kept reads back, all can be undone."""

from datetime import date
from pathlib import Path

import pytest

from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.logbook import keep
from aquacalc.logbook.keep import Entry
from aquacalc.logbook.messy import mend

YARD = GardenFile.open("demo:yard").garden
BATCH = YARD.fish[0].name
DAY = date(2027, 3, 6)


def log(folder: Path, text: str) -> Path:
    path = folder / "log.csv"
    path.write_bytes(text.encode())
    return path


def kept(path: Path, *entries: Entry) -> dict[str, float]:
    """What the log's reader finds on the day after the entries were written."""
    keep.save(keep.row(path, YARD, DAY, entries))
    (found,) = [row for row in mend.read(path, YARD).log.rows if row.day == DAY]
    return {one.parameter: one.value for one in found.readings}


@pytest.mark.parametrize(
    "header",
    [
        "date,water temperature (F),pH,ammonia (mg/L as NH3),alkalinity (dKH),note",
        "note;pH;date;alkalinity (mg/L CaCO3);ammonia (mg/L as N);water temperature (C)",
        "date",
        "# mine\ndate\tpH",
    ],
)
@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_what_is_kept_reads_back_in_any_column_unit_and_order(header: str, ending: str, tmp_path: Path):
    separator = next((one for one in (";", "\t") if one in header), ",")
    titles = header.splitlines()[-1].split(separator)
    old = separator.join("2027-02-27" if title == "date" else "" for title in titles)
    text = ending.join([*header.splitlines(), old]) + ending
    path = log(tmp_path, text)
    entries = (
        Entry("tan", 0.8),
        Entry("ph", 7.2),
        Entry("temperature", 24.0),
        Entry("alkalinity", 120.0),
        Entry("feed", 95.0),
        Entry("dead", 2.0, subject=BATCH),
        Entry("weight", 310.0, subject=BATCH),
        Entry("top_up", 40.0),
    )
    found = kept(path, *entries)
    for one in entries:
        assert found[one.parameter] == pytest.approx(one.value, rel=2e-3)
    after = path.read_bytes().decode()
    assert old in after
    assert after.count(ending) == text.count(ending) + 1


def test_a_sign_stays(tmp_path: Path):
    path = log(tmp_path, "date,nitrite (mg/L as N)\n2027-02-27,0\n")
    keep.save(keep.row(path, YARD, DAY, [Entry("nitrite", 0.3, "<")]))
    assert path.read_text().splitlines()[-1] == "2027-03-06,<0.3"


def test_a_log_of_decimal_commas_stays_one(tmp_path: Path):
    path = log(tmp_path, "date;pH\n2027-02-27;7,4\n")
    keep.save(keep.row(path, YARD, DAY, [Entry("ph", 7.2)]))
    assert path.read_text().splitlines()[-1] == "2027-03-06;7,2"


def test_a_folder_without_a_log_gets_one(tmp_path: Path):
    path = tmp_path / "log.csv"
    row = keep.row(path, YARD, DAY, [Entry("ph", 7.2)])
    assert not path.exists()
    keep.save(row)
    assert path.read_text() == "date,pH\n2027-03-06,7.2\n"
    keep.take_back(row)
    assert not path.exists()


def test_a_last_line_without_an_end_and_cells_with_lines_are_left_whole(tmp_path: Path):
    text = 'date,pH,note\n2027-02-27,7.4,"two\nlines"'
    path = log(tmp_path, text)
    row = keep.row(path, YARD, DAY, [Entry("ph", 7.2)])
    keep.save(row)
    assert path.read_text() == f"{text}\n2027-03-06,7.2,\n"
    keep.take_back(row)
    assert path.read_text() == text


def test_a_log_that_changed_meanwhile_is_not_touched(tmp_path: Path):
    path = log(tmp_path, "date,pH\n")
    row = keep.row(path, YARD, DAY, [Entry("ph", 7.2)])
    path.write_text("date,pH\n2027-03-05,7.0\n")
    with pytest.raises(InputError) as refused:
        keep.save(row)
    assert refused.value.problems[0].key == "problem-log-changed"
    with pytest.raises(InputError):
        keep.take_back(row)
    assert path.read_text() == "date,pH\n2027-03-05,7.0\n"


@pytest.mark.parametrize("text", ["", "a,b\n1,2\n", "\0"])
def test_what_is_no_log_is_refused(text: str, tmp_path: Path):
    path = log(tmp_path, text)
    with pytest.raises(InputError):
        keep.row(path, YARD, DAY, [Entry("ph", 7.2)])
    assert path.read_bytes() == text.encode()


def test_nothing_is_not_kept(tmp_path: Path):
    with pytest.raises(InputError):
        keep.row(tmp_path / "log.csv", YARD, DAY, [])
