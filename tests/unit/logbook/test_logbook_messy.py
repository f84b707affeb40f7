"""Logs as people write them: each mess is a repair or a doubt with its row, and nothing vanishes."""

import hashlib
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from yard import yard

from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden, Kit, KitScale
from aquacalc.logbook import mended, read
from aquacalc.logbook.mended import Doubt, Mended, Repair
from aquacalc.logbook.messy import mend

STEPS = (0.0, 0.3, 0.6, 1.2, 2.5, 6.0)
DROPS = Kit("drops", None, (KitScale("tan", "N", STEPS), KitScale("nitrate", "NO3")))
GARDEN = replace(yard(), kits=(DROPS,))

Reader = Callable[..., Mended]


@pytest.fixture
def log(tmp_path: Path) -> Reader:
    """Reads a log, and looks that the file stays and that the clean one says the same."""

    def made(content: str | bytes, garden: Garden = GARDEN) -> Mended:
        path = tmp_path / "log.csv"
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        before = hashlib.sha256(path.read_bytes()).hexdigest()
        found = mend.read(path, garden)
        clean = mended.write_clean(found, tmp_path)
        assert hashlib.sha256(path.read_bytes()).hexdigest() == before
        again = read.read(clean, garden)
        assert [row.day for row in again.rows] == [row.day for row in found.log.rows]
        assert [row.readings for row in again.rows] == [row.readings for row in found.log.rows]
        assert [row.note for row in again.rows] == [row.note for row in found.log.rows]
        return found

    return made


def values(found: Mended, parameter: str) -> list[float]:
    return [round(one.value, 3) for one in found.log.all(parameter)]


# --- what is as it should be ------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["yard", "greenhouse", "classroom", "southern"])
def test_a_demo_log_comes_through_as_it_is(name: str):
    file = GardenFile.open(f"demo:{name}")
    found = mend.beside(file.path, file.garden)
    assert found is not None
    assert not found.changed
    assert found.log == read.beside(file.path, file.garden)


def test_there_may_be_no_log(tmp_path: Path):
    assert mend.beside(tmp_path, GARDEN) is None


@pytest.mark.parametrize(
    ("content", "key"),
    [
        (b"", "problem-file-empty"),
        (b"date\0,pH\n", "problem-file-not-text"),
        (b"pH,nitrate\n7,20\n", "problem-log-no-header"),
    ],
)
def test_what_cannot_be_mended_is_refused(log: Reader, content: bytes, key: str):
    with pytest.raises(InputError) as caught:
        log(content)
    assert [one.key for one in caught.value.problems] == [key]


# --- the file ---------------------------------------------------------------------------------------------


def test_semicolons_and_decimal_commas(log: Reader):
    found = log("date;pH\n2027-05-03;7,2\n")
    assert values(found, "ph") == [7.2]
    assert found.repairs == (
        Repair(0, "", "log-repair-separator", ";", ","),
        Repair(2, "pH", "log-repair-comma", "7,2", "7.2"),
    )


def test_tabs(log: Reader):
    found = log("date\tpH\n2027-05-03\t7.2\n")
    assert values(found, "ph") == [7.2]
    assert [one.key for one in found.repairs] == ["log-repair-separator"]


@pytest.mark.parametrize(
    ("raw", "key"),
    [
        ("\ufeffdate,pH\n2027-05-03,7.2\n".encode(), "log-repair-mark"),
        ("date,pH\n2027-05-03,7.2\n".encode("utf-16"), "log-repair-encoding"),
        ("date,water temperature (°C)\n2027-05-03,20\n".encode("cp1252"), "log-repair-encoding"),
    ],
)
def test_marks_and_encodings(log: Reader, raw: bytes, key: str):
    found = log(raw)
    assert [(one.row, one.key) for one in found.repairs] == [(0, key)]
    assert len(found.log.rows) == 1


def test_blank_lines_comments_and_trailing_columns(log: Reader):
    found = log("# our log\ndate,pH,,\n2027-05-03,7.2,,\n,,,\n2027-05-04,7.2,,\n\n,,,\n")
    assert [(one.row, one.key) for one in found.repairs] == [
        (1, "log-repair-comment"),
        (4, "log-repair-blank-row"),
    ]
    assert found.doubts == ()
    assert values(found, "ph") == [7.2, 7.2]


def test_a_quotation_mark_that_stands_alone(log: Reader):
    found = log('date,pH,note\n2027-05-03,7.2,a 3" pipe\n2027-05-04,7.0,"two\n2027-05-05,6.9,\n')
    assert values(found, "ph") == [7.2, 7.0, 6.9]
    assert {one.row for one in found.repairs if one.key == "log-repair-quote"} == {3}


def test_more_cells_than_titles(log: Reader):
    found = log("date,pH,note\n2027-05-03,7.2,fed little,cold night\n2027-05-04,7,2,20\n")
    assert found.log.notes == ((date(2027, 5, 3), "fed little, cold night"),)
    assert [(one.row, one.key) for one in found.repairs] == [(2, "log-repair-note")]
    assert found.doubts == (Doubt(3, "", "log-doubt-cells", "2027-05-04, 7, 2, 20"),)


# --- titles -----------------------------------------------------------------------------------------------


def test_titles_as_people_write_them(log: Reader):
    found = log("Date,Temp °C,NO3 mg/l,KH [dKH],Fed (g),Comments\n2027-05-03,21,20,4,40,all well\n")
    assert found.header == (
        "date", "water temperature (°C)", "nitrate (mg/l)", "alkalinity (dKH)", "feed (g)", "note",
    )  # fmt: skip
    assert {one.key for one in found.repairs} == {"log-repair-title"}
    assert found.doubts == ()
    assert values(found, "alkalinity") == [71.392]


def test_columns_that_are_not_known_come_twice_or_have_no_title(log: Reader):
    found = log("date,Weather,pH,PH,\n2027-05-03,8:00,7.2,7.3,what is this\n")
    assert [(one.row, one.column, one.key) for one in found.doubts] == [
        (1, "Weather", "log-doubt-column"),
        (1, "PH", "log-doubt-column-twice"),
        (2, "", "log-doubt-no-title"),
    ]
    assert values(found, "ph") == [7.2]


def test_a_title_whose_unit_can_be_two_is_asked_for_its_unit(log: Reader):
    found = log("date,Top-up (gal),pH\n2027-05-03,20,7.2\n")
    (one,) = found.doubts
    assert one.key == "log-doubt-column-unit"
    assert {"Top-up (US gal)", "Top-up (imp gal)"} <= set(one.choices)


@pytest.mark.parametrize(
    ("typed", "parameter"),
    [
        ("Nitrit (mg/l)", "nitrite"),
        ("Température (°C)", "temperature"),
        ("pH-Wert", "ph"),
        ("Sauerstoff", "oxygen"),
    ],
)
def test_german_and_french_titles(log: Reader, typed: str, parameter: str):
    assert values(log(f"Datum;{typed}\n2027-05-03;6,5\n"), parameter) != []


@pytest.mark.parametrize("start", [b"PK\x03\x04", b"\xd0\xcf\x11\xe0"])
def test_a_file_of_a_spreadsheet_is_told_as_one(tmp_path: Path, start: bytes):
    path = tmp_path / "log.csv"
    path.write_bytes(start + bytes(50))
    with pytest.raises(InputError) as caught:
        mend.read(path, GARDEN)
    assert caught.value.problems[0].key == "problem-file-workbook"


def test_the_column_of_days_may_stand_anywhere(log: Reader):
    found = log("pH,day\n7.2,2027-05-03\n")
    assert [one.key for one in found.repairs] == ["log-repair-date-column"]
    assert values(found, "ph") == [7.2]


# --- days -------------------------------------------------------------------------------------------------


def test_the_order_of_days_is_declared_once(log: Reader):
    found = log("# dates: month-day\ndate,pH\n3/4/27,7.2\n")
    assert found.log.rows[0].day == date(2027, 3, 4)
    assert found.repairs == (Repair(3, "date", "log-repair-date", "3/4/27", "2027-03-04"),)


def test_the_order_of_days_is_certain_from_the_other_rows(log: Reader):
    found = log("date,pH\n3.4.2027,7.2\n17.4.2027,7.0\n2027-05-01,7.1\n9 May 2027 08:10,7.1\n")
    assert [row.day.isoformat() for row in found.log.rows] == [
        "2027-04-03", "2027-04-17", "2027-05-01", "2027-05-09",
    ]  # fmt: skip
    assert found.doubts == ()


def test_days_that_can_be_two_are_asked(log: Reader):
    found = log("date,pH\n3/4/27,7.2\n2027-05-01,7.0\n5/5/27,7.1\n")
    assert found.doubts == (Doubt(2, "date", "log-doubt-date-order", "3/4/27", ("2027-04-03", "2027-03-04")),)
    assert values(found, "ph") == [7.0, 7.1]


def test_rows_that_contradict_decide_nothing(log: Reader):
    found = log("date,pH\n17/4/27,7.2\n4/18/27,7.0\n3/4/27,7.1\n")
    assert [row.day.day for row in found.log.rows] == [17, 18]
    assert [(one.row, one.key) for one in found.doubts] == [(4, "log-doubt-date-order")]


def test_a_year_that_is_left_out_comes_from_the_neighbours(log: Reader):
    found = log("date,pH\n2026-12-28,7.2\n4 Jan,7.0\n2027-01-11,7.1\n18 Jan,7.1\n")
    assert [row.day for row in found.log.rows][1] == date(2027, 1, 4)
    assert [(one.row, one.key) for one in found.doubts] == [(5, "log-doubt-date-year")]


@pytest.mark.parametrize(
    ("text", "key"),
    [("", "log-doubt-date-missing"), ("soon", "log-doubt-date"), ("2027-02-30", "log-doubt-date")],
)
def test_rows_without_a_day_are_listed(log: Reader, text: str, key: str):
    found = log(f"date,pH\n{text},7.2\n2027-05-01,7.0\n")
    assert [(one.row, one.key) for one in found.doubts] == [(2, key)]
    assert len(found.log.rows) == 1


def test_rows_in_disorder_and_days_that_come_twice(log: Reader):
    found = log(
        "date,pH,nitrate,note\n2027-05-08,7.2,,\n2027-05-01,7.0,,\n2027-05-01,7.0,,\n"
        "2027-05-08,,20,second\n2027-05-08,6.9,,\n"
    )
    assert [(one.row, one.key) for one in found.repairs] == [
        (3, "log-repair-order"),
        (4, "log-repair-duplicate"),
        (5, "log-repair-merged"),
    ]
    assert found.doubts == (Doubt(6, "pH", "log-doubt-day-twice", "6.9", ("7.2", "6.9")),)
    assert values(found, "ph") == [7.0]
    assert values(found, "nitrate") == [round(20 / 4.42665, 3)]


def test_weeks_without_an_entry_stay_gaps(log: Reader):
    found = log("date,pH\n2027-05-01,7\n2027-05-08,7\n2027-05-15,7\n2027-07-01,7\n")
    assert found.gaps == ((date(2027, 5, 16), date(2027, 6, 30)),)
    assert found.repairs == found.doubts == ()


def test_two_weeks_that_are_missing_in_a_weekly_log_are_a_gap(log: Reader):
    found = log("date,pH\n2027-05-01,7\n2027-05-08,7\n2027-05-15,7\n2027-06-05,7\n")
    assert found.gaps == ((date(2027, 5, 16), date(2027, 6, 4)),)


# --- times of day -----------------------------------------------------------------------------------------


def test_two_times_of_a_day_are_two_rows(log: Reader):
    found = log("date,Time,pH\n2027-05-03,8am,7.2\n2027-05-03,16:30,7.6\n2027-05-04,,7.3\n")
    assert [(row.day.day, row.time) for row in found.log.rows] == [(3, "08:00"), (3, "16:30"), (4, "")]
    assert [(one.value, one.hour) for one in found.log.all("ph")] == [(7.2, 8.0), (7.6, 16.5), (7.3, None)]
    assert [(one.row, one.key) for one in found.repairs] == [(2, "log-repair-time")]
    assert found.doubts == ()


def test_a_time_behind_the_date_is_kept_and_midnight_is_none(log: Reader):
    found = log("date,pH\n2027-05-03 16:30,7.2\n2027-05-04 00:00:00,7.3\n")
    assert found.header == ("date", "time", "pH")
    assert [row.time for row in found.log.rows] == ["16:30", ""]
    assert not any(row.time for row in log("date,pH\n2027-05-04 00:00:00,7.3\n").log.rows)


@pytest.mark.parametrize(("text", "choices"), [("8", ("08:00", "20:00")), ("before work", ()), ("25:00", ())])
def test_a_time_that_is_not_certain_is_asked(log: Reader, text: str, choices: tuple[str, ...]):
    found = log(f"date,time,pH\n2027-05-03,{text},7.2\n")
    assert [(one.row, one.key, one.choices) for one in found.doubts] == [(2, "log-doubt-time", choices)]
    assert values(found, "ph") == [7.2]


def test_times_of_one_day_are_put_in_order(log: Reader):
    found = log("date,time,pH\n2027-05-03,16:00,7.6\n2027-05-03,08:00,7.2\n")
    assert [row.time for row in found.log.rows] == ["08:00", "16:00"]
    assert [(one.row, one.key) for one in found.repairs] == [(3, "log-repair-order")]


# --- cells ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("title", "cell", "key", "now"),
    [
        ("ammonia (as N)", "less than 0.3", "log-repair-bound", "<0.3"),
        ("ammonia (as N)", "6+", "log-repair-bound", ">6"),
        ("ammonia (as N)", "1 to 2", "log-repair-range", "1-2"),
        ("feed (g)", "40-50", "log-repair-middle", "45"),
        ("ammonia (as N)", "between 1.0 and 2.0", "log-repair-range", "1-2"),
        ("ammonia (as N)", "trace", "log-repair-trace", "<0.3"),
        ("ammonia (as N)", "off the chart", "log-repair-off-scale", ">6"),
        ("ammonia (as N)", "none", "log-repair-none", "0"),
        ("ammonia (as N)", "~0.6", "log-repair-about", "0.6"),
        ("ammonia (as N)", "1.29 as NH4", "log-repair-basis", "1.002"),
        ("feed (g)", "none", "log-repair-none", "0"),
        ("pH", "7.2?", "log-repair-about", "7.2"),
        ("pH", "pH 7.2", "log-repair-word", "7.2"),
        ("water temperature (C)", "71", "log-repair-other-unit", "71 F"),
        ("water temperature (F)", "21", "log-repair-other-unit", "21 C"),
        ("Temp", "21.5", "log-repair-unit", "21.5 C"),
        ("Temp", "71", "log-repair-unit", "71 F"),
        ("pH", "Jul 33", "log-repair-spreadsheet-date", "7.33"),
        ("pH", "n/a", "log-repair-not-measured", ""),
    ],
)
def test_cells_that_are_certain(log: Reader, title: str, cell: str, key: str, now: str):
    found = log(f"date,{title}\n2027-05-03,{cell}\n")
    assert [(one.row, one.key, one.was, one.now) for one in found.repairs] == [(2, key, cell, now)]
    assert found.doubts == ()


@pytest.mark.parametrize(
    ("title", "cell", "key", "choices"),
    [
        ("pH", "68", "log-doubt-impossible", ("6.8",)),
        ("pH", "5-Jun", "log-doubt-spreadsheet-date", ("5.6", "6.5")),
        ("pH", "can't really tell", "log-doubt-not-read", ()),
        ("pH", "trace", "log-doubt-not-read", ()),
        ("nitrite", "trace", "log-doubt-not-read", ()),  # no kit tells its first step
        ("water temperature (C)", "none", "log-doubt-not-read", ()),
        ("Temp", "40", "log-doubt-unit", ("40 C", "40 F")),
        ("feed", "40", "log-doubt-unit", ("40 g", "40 kg", "40 lb", "40 oz")),
        ("feed (g)", "2 scoops", "log-doubt-cell-unit", ()),
        ("feed (g)", '"1,200"', "log-doubt-number", ("1.200", "1200")),
        (
            "feed",
            '"1,200"',
            "log-doubt-number",
            ("1.200 g", "1.200 kg", "1.200 lb", "1.200 oz", "1200 g", "1200 oz"),
        ),
        ("ammonia (mg/L as N)", "8 (1:5)", "log-doubt-diluted", ("40", "48")),
        ("nitrate (mg/L as NO3)", "20 x10", "log-doubt-diluted", ("200",)),
        ("nitrate (mg/L as NO3)", "x10", "log-doubt-diluted", ()),
        ("spring counted", "3.5", "log-doubt-whole", ()),
    ],
)
def test_cells_that_are_asked(log: Reader, title: str, cell: str, key: str, choices: tuple[str, ...]):
    found = log(f"date,{title}\n2027-05-03,{cell}\n")
    assert [(one.row, one.key, one.was, one.choices) for one in found.doubts] == [
        (2, key, cell.strip('"'), choices)
    ]
    assert found.repairs == ()
    assert found.log.rows[0].readings == ()


def test_bounds_stay_bounds(log: Reader):
    found = log("date,ammonia (as N)\n2027-05-03,<0.3\n2027-05-04,>6\n")
    assert [one.beyond for one in found.log.all("tan")] == ["below", "above"]
    assert not found.changed


def test_a_range_keeps_both_ends(log: Reader):
    found = log("date,ammonia (as N),water temperature (C)\n2027-05-03,0.3-0.8,18-20 C\n")
    assert [(round(one.value, 3), round(one.half, 3)) for one in found.log.rows[0].readings] == [
        (0.55, 0.25),
        (19.0, 1.0),
    ]
    assert not found.changed


def test_a_spreadsheets_date_is_a_number_where_the_order_of_dates_is_known(log: Reader):
    found = log("date,pH\n15/4/27,5-Jun\n16/4/27,06-Aug\n")
    assert values(found, "ph") == [5.6, 6.8]
    # 8.6 may have been typed where months come first: 6.8 is nearer to the rest.
    asked = log("date,pH\n14/4/27,6.9\n15/4/27,08-Jun\n16/4/27,06-Aug\n")
    assert [(one.row, one.choices) for one in asked.doubts] == [(3, ("8.6", "6.8"))]
    assert values(asked, "ph") == [6.9, 6.8]
    month_first = log("# dates: month-day\ndate,pH\n2027-04-15,5-Jun\n")
    assert values(month_first, "ph") == [6.5]


def test_a_column_with_hundredths_leaves_a_spreadsheets_date_open(log: Reader):
    found = log("# dates: day-month\ndate,pH\n2027-04-15,5-Jun\n2027-04-16,7.25\n")
    assert [one.choices for one in found.doubts] == [("5.6", "5.06")]


def test_columns_that_changed_places_in_one_row(log: Reader):
    found = log("date,pH,water temperature (C)\n2027-05-03,26,7.2\n2027-05-04,7.2,26\n")
    assert values(found, "ph") == [7.2, 7.2]
    assert values(found, "temperature") == [26.0, 26.0]
    assert [(one.row, one.key) for one in found.repairs] == [(2, "log-repair-swapped")]


# --- what only the whole column shows ---------------------------------------------------------------------


def test_readings_that_were_copied_forward_are_asked(log: Reader):
    head = "date,water temperature (C),pH,ammonia (as N),nitrate (as NO3),feed (g)\n"
    rows = "".join(f"2027-05-{day:02d},21.5,7.0,0.3,40,50\n" for day in range(3, 8))
    found = log(head + rows)
    assert [(one.row, one.key, one.choices) for one in found.doubts] == [
        (row, "log-doubt-copied", ("2",)) for row in (3, 4, 5, 6)
    ]
    assert values(found, "ph") == [7.0]
    assert len(found.log.all("feed")) == 5
    # The grower's answer: they were measured.
    noted = (head + rows).replace("(g)\n", "(g),note\n").replace("50\n", "50,measured each day\n")
    assert not log(noted).changed


def test_a_kit_that_counts_otherwise_than_the_title_is_asked(log: Reader):
    new = Kit("strips", date(2027, 5, 10), (KitScale("nitrate", "N"),))
    garden = replace(GARDEN, kits=(DROPS, new))
    found = log("date,nitrate (as NO3)\n2027-05-03,40\n2027-05-12,9\n2027-05-13,0\n", garden)
    assert found.doubts == (Doubt(3, "nitrate (as NO3)", "log-doubt-kit-basis", "9", ("9 as NO3", "9 as N")),)
    # The answer is written into the cell.
    settled = log("date,nitrate (as NO3)\n2027-05-03,40\n2027-05-12,9 as N\n", garden)
    assert settled.doubts == ()
    assert values(settled, "nitrate") == [9.036, 9.0]
    # Without a basis in the title, each kit tells its own, and nothing is in doubt.
    told = log("date,nitrate\n2027-05-03,40\n2027-05-12,9\n", garden)
    assert values(told, "nitrate") == [9.036, 9.0]
    assert not told.changed


def test_a_step_in_a_row_that_tells_of_a_new_kit_is_asked(log: Reader):
    found = log("date,nitrate,note\n2027-05-03,40,\n2027-05-10,9,new kit (NO3-N)\n2027-05-17,10,\n")
    assert [(one.row, one.key) for one in found.doubts] == [
        (3, "log-doubt-basis-step"),
        (4, "log-doubt-basis-step"),
    ]
    settled = log("date,nitrate,note\n2027-05-03,40,\n2027-05-10,9 as N,new kit (NO3-N)\n")
    assert settled.doubts == ()
    plain = log("date,nitrate,note\n2027-05-03,40,\n2027-05-10,9,big water change\n")
    assert not plain.changed


def test_alkalinity_in_the_other_unit_is_asked(log: Reader):
    rows = "".join(f"2027-05-{day:02d},{value}\n" for day, value in enumerate((4, 3, 4, 54, 3), start=3))
    found = log(f"date,alkalinity (dKH)\n{rows}")
    assert found.doubts == (
        Doubt(5, "alkalinity (dKH)", "log-doubt-other-unit", "54", ("54 dKH", "54 mg/L CaCO3")),
    )
    for answer, value in (("54 dKH", 963.79), ("54 mg/L CaCO3", 54.0)):
        settled = log(f"date,alkalinity (dKH)\n{rows.replace('54', answer)}")
        assert not settled.changed
        assert value in [round(one, 3) for one in values(settled, "alkalinity")]
    dosed = log(
        "date,alkalinity (dKH)\n" + rows.replace("54", "6").replace(",4", ",0.5").replace(",3", ",0.5")
    )
    assert not dosed.changed
    assert not log(f"date,alkalinity (mg/L CaCO3)\n{rows}").changed
    # Without a unit it may be either, and what stands out is asked as well.
    assert [one.row for one in log(f"date,alkalinity\n{rows}").doubts] == [5]


def test_more_fish_gone_than_there_were_are_asked(log: Reader):
    found = log("date,spring counted,spring dead\n2027-05-03,40,\n2027-05-05,,45\n2027-05-06,,1\n")
    assert [(one.row, one.key, one.choices) for one in found.doubts] == [(3, "log-doubt-fish", ("40",))]
    assert values(found, "dead") == [1.0]


def test_a_clean_log_takes_the_place_of_an_older_one_and_leaves_nothing_behind(tmp_path: Path):
    (tmp_path / "log.csv").write_text("date;pH\n2027-05-03;7,2\n", "utf-8")
    found = mend.read(tmp_path / "log.csv", GARDEN)
    (tmp_path / mended.CLEAN).write_text("old", "utf-8")
    path = mended.write_clean(found, tmp_path)
    assert path.read_text("utf-8") == "date,pH\n2027-05-03,7.2\n"
    assert sorted(one.name for one in tmp_path.iterdir()) == ["log.clean.csv", "log.csv"]
    with pytest.raises(InputError):
        mended.write_clean(found, tmp_path / "missing")


def test_a_note_that_begins_like_a_formula_runs_nowhere_and_comes_back(tmp_path: Path):
    typed = "date,pH,note\n2027-04-01,7.2,=1+1\n2027-04-02,7.1,-\n2027-04-03,7.0,@home\n"
    (tmp_path / "log.csv").write_text(typed, "utf-8")
    found = mend.read(tmp_path / "log.csv", yard())
    clean = mended.write_clean(found, tmp_path)
    notes = [line.split(",")[-1] for line in clean.read_text("utf-8").splitlines()[1:]]
    assert notes == ["'=1+1", "'-", "'@home"]
    for again in (read.read(clean, yard()), mend.read(clean, yard()).log):
        assert [row.note for row in again.rows] == ["=1+1", "-", "@home"]
