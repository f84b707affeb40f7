"""What a log cannot hold: each mistake is one sentence with its row and column, and all come at once."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from yard import yard

from aquacalc import words
from aquacalc.errors import InputError
from aquacalc.garden.model import Garden, Kit, KitScale
from aquacalc.logbook.read import read

GARDEN = replace(yard(), kits=(Kit("drops", None, (KitScale("nitrite", "NO2"), KitScale("nitrate"))),))
TWO = replace(
    GARDEN,
    fish=tuple(replace(GARDEN.fish[0], name=name) for name in ("east trout", "west trout")),
)


def said(path: Path, content: str | bytes, garden: Garden = GARDEN) -> list[str]:
    """The sentences about a log."""
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    with pytest.raises(InputError) as caught:
        read(path, garden)
    return [words.problem(one, words.Reader()) for one in caught.value.problems]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "log.csv"


@pytest.mark.parametrize(
    ("header", "sentence"),
    [
        ("date;pH", "the first column must be “date”, and commas part the columns; found “date;pH”."),
        ("pH,date", "the first column must be “date”, and commas part the columns; found “pH”."),
        (
            "date,feed",
            "“feed” has no unit; write feed (g), feed (kg), feed (lb) or feed (oz).",
        ),
        (
            "date,water temperature",
            "“water temperature” has no unit; write water temperature (C) or water temperature (F).",
        ),
        (
            "date,top-up (gal)",
            "the brackets in “top-up (gal)” do not fit this column; write top-up (L), top-up (m3), "
            "top-up (US gal) or top-up (imp gal).",
        ),
        (
            "date,nitrite (mg/L as NO3)",
            "the brackets in “nitrite (mg/L as NO3)” do not fit this column; write nitrite (mg/L as N) "
            "or nitrite (mg/L as NO2).",
        ),
        ("date,pH (units)", "the brackets in “pH (units)” do not fit this column; write pH."),
        ("date,pH,PH", "given more than once: pH and PH; keep one."),
        ("date,TAN,ammonia (as N)", "given more than once: TAN and ammonia; keep one."),
        (
            "date,spring counted,fish counted",
            "given more than once: spring counted and fish counted; keep one.",
        ),
    ],
)
def test_headers(path: Path, header: str, sentence: str):
    assert said(path, f"{header}\n2027-05-03\n") == [f"log.csv row 1: {sentence}"]


@pytest.mark.parametrize(
    ("title", "nearest"),
    [
        ("amonia (mg/L as N)", "ammonia"),
        ("sprng counted", "spring counted"),
        ("picked okre (kg)", "picked okra"),
        ("ammonium cloride (g)", "ammonium chloride"),
    ],
)
def test_an_unknown_column_is_offered_the_nearest(path: Path, title: str, nearest: str):
    [sentence] = said(path, f"date,{title}\n2027-05-03,1\n")
    assert sentence.startswith(
        f"log.csv row 1: “{title}” is not known; known are date, water temperature, pH"
    )
    assert sentence.endswith(f"the nearest known name is “{nearest}”.")


@pytest.mark.parametrize("title", ["dead", "fish dead", "fish dead (trout)"])
def test_fish_without_their_batch(path: Path, title: str):
    [sentence] = said(path, f"date,{title}\n2027-05-03,1\n", TWO)
    assert sentence.endswith("does not say which batch of fish; write east trout dead or west trout dead.")


@pytest.mark.parametrize(
    ("title", "cell", "sentence"),
    [
        ("pH", "trace", "“trace” cannot be read as a number; write it like 6.8, 6,8 or 1 1/2."),
        ("pH", "<", "“<” cannot be read as a number; write it like 6.8, 6,8 or 1 1/2."),
        ("pH", "68", "68 is outside of what can be: 2 to 12."),
        ("water temperature (F)", "250", "250 is outside of what can be: 30.2 to 113 F."),
        ("ammonia (mg/L as NH4)", "900", "900 is outside of what can be: 0 to 128.8 mg/L as NH4."),
        ("ammonia (as N)", "-1", "-1 is outside of what can be: 0 to 100 mg/L as N."),
        ("nitrite", ">1000", ">1000 is outside of what can be: 0 to 200 mg/L as NO2."),
        ("nitrate", "4000", "4000 is outside of what can be: 0 to 3000 mg/L."),
        ("alkalinity", "9000", "9000 is outside of what can be: 0 to 1500."),
        ("feed (g)", "1 000 000", "1 000 000 is outside of what can be: 0 to 100000 g."),
        ("feed (g)", "1,200", "1,200 can be read in two ways; write 1.200 or 1200."),
        ("feed (g)", "<5", "“<5” cannot be read as a number; write it like 6.8, 6,8 or 1 1/2."),
        ("spring counted", "3.5", "3.5 is not a whole number."),
        ("spring weight (g)", "0", "0 is outside of what can be: 0.01 to 50000 g."),
        ("picked okra (kg)", "5000", "5000 is outside of what can be: 0 to 1000 kg."),
        ("urea (kg)", "500", "500 is outside of what can be: 0 to 100 kg."),
    ],
)
def test_cells(path: Path, title: str, cell: str, sentence: str):
    name = title.partition(" (")[0]
    assert said(path, f'date,{title}\n2027-05-03,"{cell}"\n') == [f"log.csv row 2 {name}: {sentence}"]


@pytest.mark.parametrize(
    ("days", "sentences"),
    [
        (
            ["2027-02-30"],
            ["row 2 date: “2027-02-30” is not a date; write year, month and day, as 2027-03-01."],
        ),
        (
            ["3 May 2027"],
            ["row 2 date: “3 May 2027” is not a date; write year, month and day, as 2027-03-01."],
        ),
        (
            ["2027-05-03", "5/4/2027", "5/5/2027", "5/6/2027"],
            [
                "row 3 date: “5/4/2027” and 2 more in this column are no dates; "
                "write year, month and day, as 2027-03-01."
            ],
        ),
        ([""], ["row 2 date: this is missing; it must be given."]),
        (
            ["2027-05-03", "2027-04-04", "2027-05-05"],
            ["row 3 date: 2027-04-04 is before the day above it, 2027-05-03; rows go from old to new."],
        ),
        (
            ["2027-05-03", "2027-05-04", "2027-05-03"],
            [
                "row 4 date: 2027-05-03 stands in row 2 already; keep one row a day, "
                "or give each row its time."
            ],
        ),
    ],
)
def test_days(path: Path, days: list[str], sentences: list[str]):
    text = "date,pH\n" + "".join(f"{day},7\n" for day in days)
    assert said(path, text) == [f"log.csv {sentence}" for sentence in sentences]


def test_cells_beyond_the_header_and_under_no_name(path: Path):
    assert said(path, "date,pH,,note\n2027-05-03,7,8,ice, by-passed, one night\n") == [
        "log.csv row 2: column 3 has no name but holds “8”; name it in the first row.",
        "log.csv row 2: “by-passed, one night” stands to the right of the last column; "
        "put a text that holds commas into quotation marks.",
    ]


@pytest.mark.parametrize(
    "rows",
    [
        '2027-05-03,"ice\n2027-05-04,none\n',  # never closed
        '2027-05-03,"ice\n2027-05-04,none"\n',  # closed a row further on, which it swallows
        '2027-05-03,"ice" again\n',
    ],
)
def test_quotation_marks(path: Path, rows: str):
    assert said(path, f"date,note\n{rows}") == [
        "log.csv row 2: a quotation mark is missing or stands alone in this row; "
        "put one on each side of the text."
    ]


def test_more_fish_gone_than_there_were(path: Path):
    text = "date,stocked,dead,taken\n2027-04-02,10,,\n2027-05-03,,4,\n2027-05-04,,,7\n"
    assert said(path, text) == [
        "log.csv row 4 spring taken: 7 fish are more than the 6 that were left; look at this number, "
        "or note fish that came in between as stocked."
    ]
    assert said(path, "date,dead\n2027-05-03,41\n")[0].startswith(
        "log.csv row 2 spring dead: 41 fish are more than"
    )


def test_fish_gone_from_earlier_fish_of_the_same_name_are_no_problem(path: Path):
    path.write_text("date,taken\n2026-09-01,60\n", "utf-8")
    assert len(read(path, GARDEN).rows) == 1


def test_all_problems_come_at_once_in_the_order_of_the_rows(path: Path):
    text = "date,amonia,pH,feed (g)\n2027-05-03,1,x,2\n2027-05-02,1,7,y\nno day,2,99,1\n"
    assert [sentence.partition(": ")[0] for sentence in said(path, text)] == [
        "log.csv row 1",
        "log.csv row 2 pH",
        "log.csv row 3 date",
        "log.csv row 3 feed",
        "log.csv row 4 date",
        "log.csv row 4 pH",
    ]


@pytest.mark.parametrize(
    ("content", "key"),
    [
        (b"", "problem-file-empty"),
        (b" \n\n", "problem-file-empty"),
        (b"date,note\n2027-05-03,caf\xe9\n", "problem-file-not-text"),
        ("date\n".encode("utf-16"), "problem-file-not-text"),
        (b"date\n2027-05-03\0\n", "problem-file-not-text"),
    ],
)
def test_files_that_are_no_logs(path: Path, content: bytes, key: str):
    path.write_bytes(content)
    with pytest.raises(InputError) as caught:
        read(path, GARDEN)
    assert [one.key for one in caught.value.problems] == [key]


def test_a_file_that_is_not_there_or_is_a_folder(tmp_path: Path):
    for place, key in (
        (tmp_path / "none.csv", "problem-file-missing"),
        (tmp_path, "problem-file-unreadable"),
    ):
        with pytest.raises(InputError) as caught:
            read(place, GARDEN)
        assert [one.key for one in caught.value.problems] == [key]


def test_a_row_without_a_day_is_read_by_the_newest_kit(path: Path):
    garden = replace(GARDEN, kits=(replace(GARDEN.kits[0], start=date(2027, 5, 1)),))
    assert said(path, "date,nitrite\nx,999\n", garden)[1].endswith("0 to 200 mg/L as NO2.")
