"""However broken a log is: no traceback, no row lost without a line, and the file itself stays."""

import hashlib
import tempfile
from dataclasses import replace
from datetime import date
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from yard import yard

from aquacalc.advice import log as advice
from aquacalc.cli import log as command
from aquacalc.errors import InputError
from aquacalc.garden.model import Kit, KitScale
from aquacalc.logbook import mended, read
from aquacalc.logbook.messy import mend
from aquacalc.sentences import log as log_sentences
from aquacalc.words import Reader

DROPS = Kit("drops", None, (KitScale("tan", "N", (0.0, 0.3, 0.6, 1.2)), KitScale("nitrate", "NO3")))
STRIPS = Kit("strips", date(2027, 5, 10), (KitScale("nitrate", "N", (0.0, 5.0, 20.0)),))
GARDEN = replace(yard(), kits=(DROPS, STRIPS))

TITLES = st.sampled_from(
    [
        "pH",
        "pH ",
        "Temp",
        "Temp °C",
        "water temperature (F)",
        "NH3",
        "ammonia (as N)",
        "NO3 mg/l",
        "nitrate (as NO3)",
        "nitrite (as N)",
        "EC (uS/cm)",
        "O2",
        "Top-up (L)",
        "ammonium chloride (g)",
        "Time",
        "KH",
        "KH [dKH]",
        "feed (g)",
        "Fed",
        "spring counted",
        "spring dead",
        "spring taken",
        "Note",
        "Weather",
        "",
    ]
)
DAYS = st.sampled_from(
    [
        "2027-05-03",
        "2027-05-03 17:10",
        "2027-05-10",
        "5/4/27",
        "3.5.2027",
        "17.5.27",
        "5/17/27",
        "18 May",
        "May 2027",
        "46000",
        "",
        "x",
    ]
)
CELLS = st.one_of(
    st.sampled_from(
        [
            "",
            "7.2",
            "7,2",
            "71",
            "<0.3",
            ">6",
            "1-2",
            "trace",
            "none",
            "off scale",
            "5-Jun",
            "06-Aug",
            "0.3-0.6",
            "between 1 and 2",
            "8am",
            "17:30",
            "8",
            "54",
            "26",
            "9 mg/L",
            "Jul 33",
            "68",
            "40 g",
            "2 scoops",
            "?",
            "1,200",
            "9 as N",
            "-3",
            "1e9",
            "45",
            "3.5",
            "nan",
            '"',
            'a 3" pipe',
            "#",
        ]
    ),
    st.text(max_size=6),
)


@st.composite
def broken(draw: st.DrawFn) -> bytes:
    separator = draw(st.sampled_from([",", ";", "\t"]))
    titles = draw(st.lists(TITLES, min_size=1, max_size=6))
    head = draw(st.sampled_from(["date", "Date", "day", '"date"']))
    lines = draw(st.lists(st.sampled_from(["", "# dates: day-month", "# ours", "our log"]), max_size=2))
    lines.append(separator.join([head, *titles]))
    for _ in range(draw(st.integers(0, 8))):
        cells = draw(st.lists(CELLS, min_size=0, max_size=len(titles) + 1))
        lines.append(separator.join([draw(DAYS), *cells]))
    text = draw(st.sampled_from(["\n", "\r\n"])).join(lines)
    return text.encode(draw(st.sampled_from(["utf-8", "utf-8-sig", "utf-16"])), "replace")


def check(raw: bytes) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path = folder / "log.csv"
        path.write_bytes(raw)
        try:
            found = mend.read(path, GARDEN)
        except InputError:
            return
        finally:
            assert hashlib.sha256(path.read_bytes()).digest() == hashlib.sha256(raw).digest()
        reader = Reader()
        told_of = advice.told_by(GARDEN, found.log)
        assert list(command.lines(GARDEN, found, told_of, (), reader))
        assert len(command.list_rows(found, reader)) == 1 + len(found.repairs) + len(found.doubts)
        clean = read.read(mended.write_clean(found, folder), GARDEN)
        assert [(row.day, row.readings, row.note) for row in clean.rows] == [
            (row.day, row.readings, row.note) for row in found.log.rows
        ]
        told = {one.row for one in (*found.repairs, *found.doubts)}
        kept = {row.number for row in found.log.rows}
        sheet = mend.messy_file.sheet(path)
        assert {line.number for line in sheet.lines} <= told | kept
        # A cell that was typed is in the log, or its row or column is in the lists.
        columns = {one.column for one in (*found.repairs, *found.doubts)}
        for line in sheet.lines:
            if line.number in told:
                continue
            row = next(row for row in found.log.rows if row.number == line.number)
            typed = [
                cell
                for title, cell in zip(sheet.header.cells, line.cells, strict=False)
                if cell and title not in columns and not mend.messy_titles.is_date(title)
            ]
            assert len(typed) <= len(row.readings) + bool(row.note) + bool(row.time)
        for one in (*found.repairs, *found.doubts):
            assert log_sentences.sentence(one, reader)


@settings(max_examples=120, deadline=None)
@given(broken())
def test_a_broken_log_loses_nothing(raw: bytes):
    check(raw)


@st.composite
def well_kept(draw: st.DrawFn) -> bytes:
    """A log as it should be, with one mess of each kind thrown in at a place of its own."""
    head = "date,time,water temperature (C),pH,ammonia (as N),nitrate,alkalinity (dKH),note"
    rows = [
        [f"2027-05-{day:02d}", "08:00", f"2{day % 5}.5", "7.0", "0.3", "20", f"{4 + day % 3}", ""]
        for day in range(1, 29)
    ]
    messes: list[tuple[int, str]] = [
        (0, "17/5/2027"), (0, "May 2027"), (0, ""), (1, "8am"), (1, "8"), (2, "71"), (2, "21,5"),
        (3, "68"), (3, "5-Jul"), (3, "7,0"), (4, "<0.3"), (4, "0,3 - 0,6"), (4, ">6"), (4, "trace"),
        (5, "9 as N"), (5, "off the chart"), (6, "54"), (6, "can't tell"), (7, "new kit (NO3-N)"),
    ]  # fmt: skip
    at = draw(st.permutations(range(len(rows))))
    for place, (column, text) in zip(at, messes, strict=False):
        rows[place][column] = text
    swapped = rows[at[len(messes)]]
    swapped[2], swapped[3] = swapped[3], swapped[2]
    copied = draw(st.integers(0, len(rows) - 1))
    rows[copied + 1 : copied + 1] = [list(rows[copied]) for _ in range(draw(st.integers(0, 6)))]
    joined = [";".join(row) if draw(st.booleans()) else ",".join(row) for row in rows]
    mixed = draw(st.booleans())
    lines = (
        joined if mixed else [",".join(f'"{cell}"' if "," in cell else cell for cell in row) for row in rows]
    )
    return "\n".join((head, *lines)).encode()


@settings(max_examples=40, deadline=None)
@given(well_kept())
def test_one_mess_of_each_kind_loses_nothing(raw: bytes):
    check(raw)


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=80))
def test_any_bytes_are_read_or_refused(raw: bytes):
    check(b"date,pH\n" + raw)
