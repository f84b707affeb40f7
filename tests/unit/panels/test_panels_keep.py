"""Keep this: shown before it is written, taken back after; never an example or another tank's."""

from datetime import date
from pathlib import Path

import pytest

from aquacalc.cli import folders
from aquacalc.panels.frame.desk import Desk, open_desk
from aquacalc.panels.frame.keeping import Keeping
from aquacalc.panels.log import day_form
from aquacalc.panels.water import reading

TODAY = date(2026, 11, 30)


@pytest.fixture
def mine(tmp_path: Path) -> Desk:
    folders.make(tmp_path / "mine", TODAY)
    return open_desk(str(tmp_path / "mine"))


def keeping_of(panel: reading.ReadingPanel | day_form.Panel) -> Keeping:
    (found,) = [one for one in panel.left.children if isinstance(one, Keeping)]
    return found


def log_of(desk: Desk) -> str:
    return (desk.file.path.parent / "log.csv").read_text("utf-8")


def test_a_reading_is_shown_written_and_taken_back(mine: Desk):
    panel = reading.ReadingPanel(mine)
    panel.fields["tan"].box.value = "<0.3 NH4"
    panel.fields["ph"].box.value = "7.1"
    keeping, before = keeping_of(panel), log_of(mine)
    keeping.shown()
    assert "7.1" in keeping.said.value
    assert log_of(mine) == before
    keeping.write.click()
    added = log_of(mine).removeprefix(before)
    assert added.startswith(f"{date.today()},")
    # As N, as the log's column counts; what the log had put into the other boxes is of another day.
    assert added == f"{date.today()},,7.1,<0.2329,,,,,\n"
    assert keeping.back.layout.display is None
    assert mine.log is not None
    assert date.today() in {row.day for row in mine.log.rows}
    keeping.back.click()
    assert log_of(mine) == before


def test_a_row_of_the_log_an_example_or_a_refused_entry_is_not_kept(mine: Desk):
    panel = reading.ReadingPanel(mine)
    keeping, before = keeping_of(panel), log_of(mine)
    keeping.shown()
    assert "aq-problem" in keeping.said.value
    panel.fields["ph"].box.value = "seven"
    keeping.shown()
    assert "aq-problem" in keeping.said.value
    assert keeping.write.layout.display == "none"
    assert log_of(mine) == before


def test_another_tank_is_not_kept(mine: Desk):
    panel = reading.ReadingPanel(mine)
    panel.fields["whose"].list.value = reading.OTHER
    panel.fields["ph"].box.value = "7.1"
    keeping_of(panel).shown()
    assert "another tank" in keeping_of(panel).said.value


def test_a_demo_keeps_its_log():
    panel = reading.ReadingPanel(open_desk("demo:yard"))
    panel.fields["ph"].box.value = "7.1"
    keeping_of(panel).shown()
    assert "invented" in keeping_of(panel).said.value
    assert keeping_of(panel).write.layout.display == "none"


def test_a_day_of_feeding_death_and_harvest_is_one_row(mine: Desk):
    seen = []
    panel = day_form.panel(mine, lambda: seen.append(1), TODAY)
    for name, text in (("feed", "42 g"), ("dead", "1"), ("picked", "0,5 kg")):
        panel.fields[name].box.value = text
    keeping, before = keeping_of(panel), log_of(mine)
    keeping.shown()
    keeping.write.click()
    assert seen == [1]
    row = log_of(mine).splitlines()[-1]
    assert row.startswith("2026-11-30,")
    assert {"42", "1", "500"} <= set(row.split(","))
    assert mine.log is not None
    (kept,) = [one for one in mine.log.rows if one.day == TODAY]
    assert {one.parameter for one in kept.readings} == {"feed", "dead", "picked"}
    keeping.back.click()
    assert log_of(mine) == before


def test_half_a_fish_and_a_day_to_come_are_refused(mine: Desk):
    panel = day_form.panel(mine, today=TODAY)
    panel.fields["dead"].box.value = "0.5"
    assert "whole" in panel.problems.value
    panel.fields["dead"].box.value = "1"
    panel.fields["day"].box.value = "1 December 2026"
    assert panel.fields["day"].problem is not None
