"""However broken a log is: no traceback, no row lost without a line, and the file itself stays."""

import hashlib
import tempfile
from dataclasses import replace
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from yard import yard

from aquacalc.errors import InputError
from aquacalc.garden.model import Kit, KitScale
from aquacalc.logbook import mended, messy, read
from aquacalc.pages import log_sentences
from aquacalc.words import Reader

GARDEN = replace(yard(), kits=(Kit("drops", None, (KitScale("tan", "N", (0.0, 0.3, 0.6, 1.2)),)),))

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
    ["2027-05-03", "2027-05-10", "3.5.2027", "17.5.27", "5/17/27", "18 May", "May 2027", "46000", "", "x"]
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
            found = messy.read(path, GARDEN)
        except InputError:
            return
        finally:
            assert hashlib.sha256(path.read_bytes()).digest() == hashlib.sha256(raw).digest()
        clean = read.read(mended.write_clean(found, folder), GARDEN)
        assert [(row.day, row.readings, row.note) for row in clean.rows] == [
            (row.day, row.readings, row.note) for row in found.log.rows
        ]
        told = {one.row for one in (*found.repairs, *found.doubts)}
        kept = {row.number for row in found.log.rows}
        sheet = messy.messy_file.sheet(path)
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
                if cell and title not in columns and not messy.messy_titles.is_date(title)
            ]
            assert len(typed) <= len(row.readings) + bool(row.note)
        for one in (*found.repairs, *found.doubts):
            assert log_sentences.sentence(one, Reader())


@settings(max_examples=120, deadline=None)
@given(broken())
def test_a_broken_log_loses_nothing(raw: bytes):
    check(raw)


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=80))
def test_any_bytes_are_read_or_refused(raw: bytes):
    check(b"date,pH\n" + raw)
