import csv
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pandas as pd
import plans
import pytest
import seasons
from hand_made_garden import garden
from hand_made_season import season

from aquacalc.agenda.jobs import Entry
from aquacalc.garden.model import Bed
from aquacalc.harvest import days as table
from aquacalc.pages import jobs
from aquacalc.report import days
from aquacalc.words import Reader


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_days_come_back_as_they_were(tmp_path: Path):
    run = seasons.season("southern")
    days.write_days(run, tmp_path / "days.csv")
    back = pd.read_csv(tmp_path / "days.csv", parse_dates=["date"])
    whole = table.table(run)
    assert list(back.columns) == list(whole.columns)
    assert back["date"].tolist() == whole["date"].tolist()
    numbers = whole.columns[1:]
    np.testing.assert_allclose(
        back[numbers].to_numpy(float), whole[numbers].to_numpy(float), rtol=6e-4, atol=1e-9
    )


def test_numbers_have_no_exponent_and_no_more_digits_than_four(tmp_path: Path):
    run = season(days=3, members=1, tan_mg_l=1.23456e-5, fish_kg=123456.7, water_c=-3.14159, ph=np.nan)
    days.write_days(run, tmp_path / "days.csv")
    first = rows(tmp_path / "days.csv")[0]
    assert first["date"] == "2027-03-01"
    assert first["tan_middle_mg_l"] == "0.00001235"
    assert first["fish_middle_kg"] == "123500"
    assert first["water_low_c"] == "-3.142"
    assert first["ph_middle"] == ""
    assert first["feed_high_g"] == "0"


def test_tasks_have_their_columns_and_stay_metric(tmp_path: Path):
    bed = Bed('the "north", bed', "media", 2.0, 0.3, 0.25)
    of = replace(garden(), beds=(bed,))
    feed = Entry(
        date(2027, 3, 6), date(2027, 3, 6), "feed", "Perch", "Pool", "", grams=12.345, low_g=9.0, high_g=16.0,
        spoon_g=5.0,
    )  # fmt: skip
    sow = Entry(
        date(2027, 3, 7),
        date(2027, 3, 7),
        "sow",
        "basil",
        bed.name,
        "",
        count=8.0,
        moved_from=date(2027, 3, 9),
    )
    size = Entry(date(2027, 4, 3), date(2027, 4, 9), "of_size", "Perch", "Pool", "", grams=500.0)
    days.write_tasks([feed, sow, size], of, Reader(units="us"), tmp_path / "tasks.csv")
    found = rows(tmp_path / "tasks.csv")
    assert list(found[0]) == ["date", "last", "what", "subject", "place", "count", "grams", "moved_from"]
    assert [one["date"] for one in found] == ["2027-03-06", "2027-03-07", "2027-04-03"]
    assert [one["last"] for one in found] == ["2027-03-06", "2027-03-07", "2027-04-09"]
    assert [one["grams"] for one in found] == ["12.35", "", "500"]
    assert [one["count"] for one in found] == ["", "8", ""]
    assert found[1]["moved_from"] == "2027-03-09"
    assert (found[1]["subject"], found[1]["place"]) == ("Basil", bed.name)
    assert "weigh 500 g between 3 April 2027" in found[2]["what"]


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_tasks_of_demo_gardens_come_back(tmp_path: Path, name: str):
    of, entries = seasons.garden(name), jobs.entries(plans.of_season(name))
    days.write_tasks(entries, of, of.reader, tmp_path / "tasks.csv")
    found = rows(tmp_path / "tasks.csv")
    assert [one["date"] for one in found] == [one.day.isoformat() for one in entries]
    assert all(one["what"].endswith(".") for one in found)
    assert "\u00a0" not in (tmp_path / "tasks.csv").read_text("utf-8")
    moved = [one for one in found if one["moved_from"]]
    assert len(moved) == sum(one.moved_from is not None for one in entries)
    assert not any("ounce" in one["what"] or " lb" in one["what"] or "°F" in one["what"] for one in found)


def test_a_name_that_begins_like_a_formula_is_text_in_every_spreadsheet(tmp_path: Path):
    bed = Bed("=HYPERLINK(1)", "media", 2.0, 0.3, 0.25)
    entry = Entry(date(2027, 3, 7), date(2027, 3, 7), "sow", "basil", bed.name, "", count=8.0)
    days.write_tasks([entry], replace(garden(), beds=(bed,)), Reader(), tmp_path / "tasks.csv")
    assert rows(tmp_path / "tasks.csv")[0]["place"] == "'=HYPERLINK(1)"
