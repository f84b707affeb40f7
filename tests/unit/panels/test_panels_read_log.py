"""The panel of the log: findings, pictures, repairs and doubts of the garden at hand."""

import re
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from yard import yard

from aquacalc import words
from aquacalc.charts import log as charts
from aquacalc.garden.file import GardenFile
from aquacalc.logbook.log import Log, Reading, Row
from aquacalc.panels.frame import desk
from aquacalc.panels.log import read_log
from aquacalc.uncertainty import Band

MESSY = "date;pH;ammonia (mg/L as N);alkalinity (mg/L CaCO3)\n" + "".join(
    f"{day:02d}.05.2027;{7.2 - day / 50.0:.1f};0;{100 - 2 * day}\n" for day in (3, 10, 17, 24, 31)
)


def plain(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html)).replace(words.NO_BREAK_SPACE, " ")


def folder(path: Path, log: str | None) -> desk.Desk:
    (path / "garden.toml").write_bytes(GardenFile.open("demo:yard").path.read_bytes())
    if log is not None:
        (path / "log.csv").write_text(log, "utf-8")
    return desk.open_desk(str(path))


@pytest.mark.parametrize("name", ["yard", "greenhouse", "classroom", "southern"])
def test_demo_logs_are_told_with_their_pictures(name: str):
    panel = read_log.panel(desk.open_desk(f"demo:{name}"))
    assert panel.problems.value == ""
    assert panel.result.value.count("<svg") >= 2
    assert words.say("log-no-repairs", words.Reader()) in plain(panel.result.value)


def test_repairs_and_doubts_are_listed(tmp_path: Path):
    panel = read_log.panel(folder(tmp_path, MESSY + "1.6.2027;68;;\n"))
    said = plain(panel.result.value)
    assert "row 7, pH: “68” is outside of what can be" in said
    assert "row 2, date: “03.05.2027” is 2027-05-03." in said


def test_without_a_log_it_says_how_to_begin(tmp_path: Path):
    said = plain(read_log.panel(folder(tmp_path, None)).result.value)
    assert words.say("read-log-none", words.Reader()) in said


def test_a_log_that_cannot_be_read_is_one_problem(tmp_path: Path):
    panel = read_log.panel(folder(tmp_path, "pH,nitrate\n7,20\n"))
    assert "names a column of days" in plain(panel.problems.value)


def test_names_of_the_grower_are_escaped(tmp_path: Path):
    panel = read_log.panel(folder(tmp_path, "date,<b>x</b>,pH\n2027-05-03,1,7\n"))
    assert "<b>x" not in panel.result.value


def test_the_chart_is_sound_and_marks_the_end_of_a_scale():
    rows = tuple(
        Row(day, (Reading(day, "tan", value, "mg_l", "N", beyond),))  # type: ignore[arg-type]
        for day, value, beyond in (
            (date(2027, 5, 3), 1.0, ""),
            (date(2027, 5, 10), 6.0, "above"),
        )
    )
    chart = charts.readings(Log("log.csv", rows), yard(), "tan", "nitrogen", words.Reader(), "Answer", 3.0)
    spec = chart.to_dict(validate=True)
    assert "2 readings" in spec["description"]
    marks = [layer["mark"] for layer in spec["layer"]]
    assert [mark.get("filled") for mark in marks if mark["type"] == "point"] == [True, False]


def test_another_log_is_read_by_its_path_and_the_own_one_again(tmp_path: Path):
    other = tmp_path / "other.csv"
    other.write_text(MESSY, "utf-8")
    panel = read_log.panel(desk.open_desk("demo:yard"))
    panel.fields["path"].box.value = str(other)
    assert "a log of 5 days" in plain(panel.result.value)
    panel.fields["path"].box.value = str(tmp_path)
    assert "there is no file" in plain(panel.problems.value)
    panel.fields["path"].box.value = ""
    assert panel.problems.value == ""
    assert "a log of 22 days" in plain(panel.result.value)


def test_the_order_of_days_can_be_chosen(tmp_path: Path):
    panel = read_log.panel(folder(tmp_path, "date,pH\n3/4/27,7.2\n5/4/27,7.1\n"))
    assert "holds no day that can be used" in plain(panel.result.value)
    panel.fields["dates"].list.value = "month-day"
    assert "March 4, 2027 to May 4, 2027" in plain(panel.result.value)


def test_the_season_is_worked_out_when_asked_for_and_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(read_log.log_season, "MEMBERS", 5)
    panel = read_log.panel(folder(tmp_path, MESSY))
    assert "season's band" not in plain(panel.result.value)
    assert not panel.season.button.disabled
    panel.season.button.click()
    assert "readings lie in the season's band" in plain(panel.result.value)
    assert panel.season.button.disabled
    # Another log has no season yet.
    other = tmp_path / "other.csv"
    other.write_text(MESSY.replace("100", "90"), "utf-8")
    panel.fields["path"].box.value = str(other)
    assert "readings lie in the season's band" not in plain(panel.result.value)
    assert not panel.season.button.disabled


def test_without_a_log_there_is_nothing_to_compare(tmp_path: Path):
    assert read_log.panel(folder(tmp_path, None)).season.button.disabled


@pytest.mark.parametrize(("name", "line"), [("classroom", 75.0), ("greenhouse", 75.0), ("yard", 250.0)])
def test_the_line_of_nitrate_is_that_of_the_fish(name: str, line: float):
    from aquacalc.advice import log as advice

    mine = desk.open_desk(f"demo:{name}")
    assert mine.log is not None
    species = advice.species_of(mine.garden, mine.log, mine.log.rows[-1].day)
    assert advice.lines_to_act(species)["nitrate"] == line


def test_the_chart_holds_the_band_and_what_happened():
    days = [date(2027, 5, 3), date(2027, 5, 4), date(2027, 6, 12)]
    rows = tuple(Row(day, (Reading(day, "ph", 7.0, ""),)) for day in days)
    band = Band(np.full(40, 6.5), np.full(40, 6.8), np.full(40, 7.1))
    marks = [charts.Mark(day, number) for number, day in enumerate(days, start=1)]
    season = charts.Season(date(2027, 5, 1), band)
    chart = charts.readings(Log("log.csv", rows), yard(), "ph", "ph", words.Reader(), "", 6.0, marks, season)
    spec = chart.to_dict(validate=True)
    kinds = [layer["mark"]["type"] for layer in spec["layer"]]
    assert kinds[:2] == ["area", "line"]
    texts = [row["text"] for rows in spec["datasets"].values() for row in rows if "text" in row]
    assert "1\u20132" in texts  # two days that are too near for a name each
    assert "3" in texts
    areas = [rows for rows in spec["datasets"].values() if rows and rows[0].get("low") == 6.5]
    assert len(areas[0]) == 38  # days of the log that the season has


def test_the_chart_stands_in_the_unit_of_the_log():
    days = (date(2027, 5, 3), date(2027, 5, 10))
    rows = tuple(
        Row(day, (Reading(day, "alkalinity", 17.848 * 4, "mg_l_caco3", own_unit="dkh"),)) for day in days
    )
    log = Log("log.csv", rows)
    chart = charts.readings(log, yard(), "alkalinity", "alkalinity", words.Reader(), "", 10.0)
    spec = chart.to_dict(validate=True)
    drawn = [row["value"] for rows in spec["datasets"].values() for row in rows if "value" in row]
    assert drawn
    assert drawn == pytest.approx([4.0] * len(drawn), rel=1e-4)
    assert "alkalinity (KH) dKH" in str(spec)
