"""The panel of the log: findings, pictures, repairs and doubts of the garden at hand."""

import re
from datetime import date
from pathlib import Path

import pytest
from yard import yard

from aquacalc import words
from aquacalc.charts import log as charts
from aquacalc.garden.file import GardenFile
from aquacalc.logbook.log import Log, Reading, Row
from aquacalc.panels import desk, read_log

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
