"""A log that is written from any readings, in any of the units, reads back as the same readings."""

import csv
import io
import tempfile
from contextlib import suppress
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from yard import yard

from aquacalc import units
from aquacalc.errors import InputError
from aquacalc.garden.model import Kit, KitScale
from aquacalc.logbook.limits import limits
from aquacalc.logbook.log import Log, Reading, Row
from aquacalc.logbook.read import read

SCALES = (KitScale("nitrite", "NO2"), KitScale("alkalinity", "dkh"), KitScale("nitrate"))
GARDEN = replace(yard(), kits=(Kit("drops", None, SCALES),))
FIRST = date(2027, 4, 1)

# Title, parameter, subject, unit and basis of the column, unit and basis of the reading.
COLUMNS = [
    ("water temperature (C)", "temperature", "", "c", "", "c", ""),
    ("water temperature (F)", "temperature", "", "f", "", "c", ""),
    ("pH", "ph", "", "", "", "", ""),
    ("ammonia (mg/L as N)", "tan", "", "mg_l", "N", "mg_l", "N"),
    ("ammonia (mg/L as NH3)", "tan", "", "mg_l", "NH3", "mg_l", "N"),
    ("nitrite", "nitrite", "", "mg_l", "NO2", "mg_l", "N"),
    ("nitrate", "nitrate", "", "mg_l", "", "mg_l", "not known"),
    ("alkalinity", "alkalinity", "", "dkh", "", "mg_l_caco3", ""),
    ("oxygen (ppm)", "oxygen", "", "ppm", "", "mg_l", ""),
    ("feed (kg)", "feed", "", "kg", "", "g", ""),
    ("top-up (US gal)", "top_up", "", "us_gal", "", "l", ""),
    ("fish counted (spring)", "count", "spring", "", "", "", ""),
    ("spring weight (oz)", "weight", "spring", "oz", "", "g", ""),
    ("picked okra (lb)", "picked", "okra", "lb", "", "g", ""),
    ("urea (g)", "dose", "urea", "g", "", "g", ""),
]
WATER = {"temperature", "ph", "tan", "nitrite", "nitrate", "alkalinity", "oxygen"}


@st.composite
def logs(draw: st.DrawFn) -> tuple[str, Log]:
    """A file and what it says. The number that stands in the file is drawn, the value is reckoned from it."""
    chosen = draw(st.lists(st.sampled_from(COLUMNS), unique_by=lambda one: one[1:3], max_size=8))
    gaps = draw(st.lists(st.integers(1, 40), max_size=6))
    table = [["date", *(column[0] for column in chosen), "note"]]
    rows = []
    day = FIRST
    for number, gap in enumerate(gaps, start=2):
        day += timedelta(days=gap)
        cells, readings = [], []
        for _, parameter, subject, typed_unit, typed_basis, unit, basis in chosen:
            text = ""
            if draw(st.booleans()):
                ends = limits(parameter)
                low, high = ends.low, ends.high
                if parameter == "count":
                    shown = float(draw(st.integers(0, 100)))
                else:
                    inside = draw(st.floats(low + 0.01 * (high - low), high - 0.01 * (high - low)))
                    counted = units.from_n(inside, typed_basis) if typed_basis else inside
                    shown = units.to(counted, typed_unit) if typed_unit else counted
                sign = draw(st.sampled_from(["", "<", ">"])) if parameter in WATER else ""
                text = f"{sign}{shown!r}"
                value = units.unit(typed_unit).to_base(shown) if typed_unit else shown
                value = units.as_n(value, typed_basis) if typed_basis else value
                beyond = {"": "", "<": "below", ">": "above"}[sign]
                readings.append(Reading(day, parameter, value, unit, basis, beyond, text, subject))  # type: ignore[arg-type]
            cells.append(text)
        note = draw(st.text(st.characters(categories=["L", "N", "P", "Zs"]), max_size=30)).strip()
        table.append([day.isoformat(), *cells, note])
        rows.append(Row(day, tuple(readings), note, number))
    made = io.StringIO()
    csv.writer(made).writerows(table)
    return made.getvalue(), Log("log.csv", tuple(rows))


@settings(max_examples=120)
@given(logs())
def test_a_log_reads_back_as_it_was_written(one: tuple[str, Log]):
    text, written = one
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "log.csv"
        path.write_text(text, "utf-8", newline="")
        assert read(path, GARDEN) == written


@settings(max_examples=120)
@given(st.text(st.sampled_from("date,pHfeed(g)2027-01\n\"';<> .5"), max_size=80), st.booleans())
def test_any_text_is_a_log_or_its_problems(text: str, headed: bool):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "log.csv"
        path.write_text(("date,pH,feed (g),note\n" if headed else "") + text, "utf-8", newline="")
        with suppress(InputError):  # nothing else may be raised
            assert isinstance(read(path, GARDEN), Log)


def test_the_round_trip_covers_every_kind_of_column():
    assert {column[1] for column in COLUMNS} >= WATER | {
        "feed",
        "top_up",
        "count",
        "weight",
        "picked",
        "dose",
    }
    assert pytest.approx(25.0) == units.unit("f").to_base(77.0)
