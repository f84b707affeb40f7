"""Logs as growers write them in a spreadsheet, to readings in base units."""

import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from yard import yard

from aquacalc import units
from aquacalc.errors import InputError
from aquacalc.garden import places
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import FishBatch, Garden, Kit, KitScale
from aquacalc.logbook.log import Log, Reading
from aquacalc.logbook.read import beside, read

DAY = date(2027, 5, 3)

CARD = Kit(
    "card",
    date(2027, 4, 1),
    (
        KitScale("ph", steps=(6.0, 6.6, 7.2)),
        KitScale("tan", "NH4", (0.0, 0.5, 1.0, 5.0)),
        KitScale("nitrite", "NO2", (0.0, 0.5, 3.0)),
        KitScale("nitrate"),
        KitScale("alkalinity", "dkh", drop=1.0),
        KitScale("hardness"),
    ),
)
EAST = FishBatch("east trout", "rainbow_trout", 20, 50.0, date(2027, 4, 1), 400.0, "tank 1")
WEST = replace(EAST, name="west trout")

Reader = Callable[..., Log]


@pytest.fixture
def log(tmp_path: Path) -> Reader:
    """Reads a log that is written as text; the garden has one batch, `spring`, and one kit."""

    def made(text: str, garden: Garden | None = None) -> Log:
        path = tmp_path / "log.csv"
        path.write_text(text, "utf-8")
        return read(path, garden or replace(yard(), kits=(CARD,)))

    return made


def one(log: Log) -> Reading:
    [[reading]] = [row.readings for row in log.rows]
    return reading


# --- demos -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "rows"), [("yard", 22), ("greenhouse", 22), ("classroom", 23), ("southern", 18)]
)
def test_the_logs_of_the_demo_gardens_are_read_without_a_problem(name: str, rows: int):
    file = GardenFile.open(f"demo:{name}")
    log = beside(file.path, file.garden)
    assert log is not None
    assert log == beside(file.path.parent, file.garden)
    assert len(log.rows) == rows
    cells = [line.split(",") for line in (places.demo(name) / "log.csv").read_text("utf-8").splitlines()[1:]]
    filled = sum(1 for row in cells for cell in row[1 : len(row) - 1] if cell)
    if name != "yard":  # a note of the yard holds a comma
        assert sum(len(row.readings) for row in log.rows) == filled


def test_the_bad_morning_of_the_yard_in_base_units():
    file = GardenFile.open("demo:yard")
    log = beside(file.path, file.garden)
    assert log is not None
    day = date(2026, 10, 13)
    temperature = log.last("temperature", day)
    assert temperature is not None
    assert (round(temperature.value, 2), temperature.unit, temperature.text) == (18.33, "c", "65")
    assert log.last("tan", day) == Reading(day, "tan", 2.5, "mg_l", "N", "", "2.5")
    nitrite = log.last("nitrite", day)
    assert nitrite is not None
    assert nitrite.value == pytest.approx(1.0 * 14.007 / 46.005, rel=1e-4)
    assert log.notes[1] == (date(2026, 10, 9), "float valve found stuck open; tank ran over for some hours")


def test_a_basis_that_nobody_tells_leaves_the_number_as_it_is():
    file = GardenFile.open("demo:classroom")
    log = beside(file.path, file.garden)
    assert log is not None
    day = date(2027, 3, 18)
    assert log.last("nitrite", day) == Reading(day, "nitrite", 0.6, "mg_l", "not known", "", "0.6")
    # The leaflet of the strips begins and ends there.
    low = log.last("ph", date(2027, 3, 16))
    assert low is not None
    assert (low.value, low.beyond) == (5.6, "below")


def test_the_end_of_the_card_and_the_dose_in_the_start_up():
    file = GardenFile.open("demo:southern")
    log = beside(file.path, file.garden)
    assert log is not None
    last = log.last("nitrite", date(2027, 9, 20))
    assert last is not None
    assert (last.text, last.basis, last.beyond) == ("5", "N", "above")
    assert [dose.value for dose in log.all("dose", "ammonium_chloride") if dose.value] == [42.0, 27.0]


def test_a_garden_without_a_log_and_a_name_without_a_file(tmp_path: Path):
    (tmp_path / "garden.toml").write_text("", "utf-8")
    assert beside(tmp_path / "garden.toml", yard()) is None
    with pytest.raises(InputError) as caught:
        beside(tmp_path / "nowhere" / "garden.toml", yard())
    assert caught.value.problems[0].key == "problem-file-missing"


# --- units and bases ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("title", "cell", "parameter", "value", "unit", "basis"),
    [
        ("water temperature (F)", "77", "temperature", 25.0, "c", ""),
        ("Water  Temperature (°C)", "21,5", "temperature", 21.5, "c", ""),
        ("PH", "6.8", "ph", 6.8, "", ""),
        ("ammonia (mg/L as NH4)", "2", "tan", units.as_n(2.0, "NH4"), "mg_l", "N"),
        ("TAN", "2", "tan", units.as_n(2.0, "NH4"), "mg_l", "N"),
        ("nitrite (as N)", "0.5", "nitrite", 0.5, "mg_l", "N"),
        ("nitrite (mg/L)", "1", "nitrite", units.as_n(1.0, "NO2"), "mg_l", "N"),
        ("nitrate (mg/L NO3-N)", "20", "nitrate", 20.0, "mg_l", "N"),
        ("nitrate (ppm as NO3)", "50", "nitrate", units.as_n(50.0, "NO3"), "mg_l", "N"),
        ("nitrate", "50", "nitrate", 50.0, "mg_l", "not known"),
        ("alkalinity (mg/L CaCO3)", "80", "alkalinity", 80.0, "mg_l_caco3", ""),
        ("alkalinity", "4", "alkalinity", 4 * units.unit("dkh").factor, "mg_l_caco3", ""),
        ("hardness", "9", "hardness", 9.0, "", "not known"),
        ("oxygen", "7.5", "oxygen", 7.5, "mg_l", ""),
        ("feed (oz)", "2", "feed", 2 * 28.349523125, "g", ""),
        ("top-up (US gal)", "10", "top_up", 37.85411784, "l", ""),
    ],
)
def test_units_and_bases_come_from_the_header_else_from_the_kit(
    log: Reader, title: str, cell: str, parameter: str, value: float, unit: str, basis: str
):
    found = one(log(f'date,{title}\n2027-05-03,"{cell}"\n'))
    assert (found.day, found.parameter, found.unit, found.basis, found.text) == (
        DAY,
        parameter,
        unit,
        basis,
        cell,
    )
    assert found.value == pytest.approx(value, rel=1e-12)


def test_a_kit_says_nothing_about_readings_from_before_its_time(log: Reader):
    readings = log("date,ammonia,pH\n2027-03-31,1,7.2\n2027-04-01,1,7.2\n").all("tan")
    assert [(one.value, one.basis) for one in readings] == [(1.0, "not known"), (units.as_n(1.0, "NH4"), "N")]


@pytest.mark.parametrize(
    ("title", "cell", "beyond"),
    [
        ("pH", "7.2", "above"),
        ("pH", "6.0", "below"),
        ("pH", "6.6", ""),
        ("pH", "7.6", ""),  # read in some other way
        ("ammonia", "5", "above"),
        ("ammonia", "0", ""),
        ("nitrite (mg/L as N)", "0.91", "above"),  # 3 mg/L as NO2
        ("nitrite", "<0.5", "below"),
        ("nitrite", "> 3", "above"),
        ("nitrite", "<3", "below"),
        ("alkalinity", "8", ""),
        ("oxygen (mg/L)", "9", ""),
    ],
)
def test_readings_at_the_ends_of_a_card_are_marked(log: Reader, title: str, cell: str, beyond: str):
    found = one(log(f"date,{title}\n2027-05-03,{cell}\n"))
    assert found.beyond == beyond
    assert found.text == cell


def test_columns_of_fish_crops_and_chemicals(log: Reader):
    found = log(
        "date,fish counted (spring),spring taken,dead,fish stocked,spring weight (lb),"
        "picked okra (kg),picked lettuce leaf (g),Potassium bicarbonate (g)\n"
        "2027-05-03,38,1,2,40,0.5,1.2,300,25\n"
    )
    assert [(one.parameter, one.subject, one.value) for one in found.rows[0].readings] == [
        ("count", "spring", 38.0),
        ("taken", "spring", 1.0),
        ("dead", "spring", 2.0),
        ("stocked", "spring", 40.0),
        ("weight", "spring", pytest.approx(226.796185)),
        ("picked", "okra", 1200.0),
        ("picked", "lettuce_leaf", 300.0),
        ("dose", "potassium_bicarbonate", 25.0),
    ]
    assert [one.value for one in found.counts["spring"]] == [38.0]
    assert [one.day for one in found.weights["spring"]] == [DAY]


def test_names_of_batches_may_hold_brackets(log: Reader):
    garden = replace(yard(), fish=(replace(EAST, name="trout (east)"), WEST))
    found = log(
        "date,trout (east) counted,fish dead (trout (east)),trout (east) weight (g)\n2027-05-03,18,1,60\n",
        garden,
    )
    assert {one.subject for one in found.rows[0].readings} == {"trout (east)"}


def test_blank_cells_and_blank_rows_are_not_measured(log: Reader):
    found = log("date,pH,note,\n2027-05-02,,,\n\n2027-05-03,7\n,,,\n2027-05-04,,clear,\n")
    assert [(row.number, len(row.readings), row.note) for row in found.rows] == [
        (2, 0, ""),
        (4, 1, ""),
        (6, 0, "clear"),
    ]
    assert found.last("ph", date(2027, 5, 2)) is None
    assert found.last("ph", date(2027, 6, 1)) == Reading(DAY, "ph", 7.0, "", text="7")


def test_a_header_alone_is_a_log_without_rows(log: Reader):
    assert log("date,pH\n").rows == ()


def test_marks_and_line_ends_of_spreadsheets(tmp_path: Path):
    path = tmp_path / "log.csv"
    path.write_bytes(b'\xef\xbb\xbfdate,pH,note\r\n2027-05-03,7,"ice, by-passed ""one"" night"\r\n')
    assert read(path, yard()).notes == ((DAY, 'ice, by-passed "one" night'),)


def test_reading_a_log_loads_nothing_heavy():
    heavy = ["pandas", "numpy", "pydantic", "tomlkit", "fluent", "scipy"]
    rooms = "aquacalc.logbook.read, aquacalc.logbook.today"
    code = f"import sys, {rooms}; print(*({{*{heavy}}} & {{*sys.modules}}))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == []
