"""A reader opens the notebook of the log: the demo's troubles, another log by its path, the season's band."""

import time
from collections.abc import Callable
from pathlib import Path

import pytest
from lab import Notebook

from aquacalc.words import NO_BREAK_SPACE

pytestmark = pytest.mark.browser

PANEL = ".aq-read-log"
ANSWER = f"{PANEL} [role=status]"
MESSY = "Date;Time;pH;NO3\n3/5/27;8am;7,2;20\n17/5/27;;68;25-40\n"
MOST_SECONDS = 60.0


def test_the_log_is_read_another_one_by_its_path_and_the_season_beside_it(
    open_notebook: Callable[..., Notebook], tmp_path: Path
):
    begun = time.monotonic()
    notebook = open_notebook("05_read_the_log")
    notebook.shows(ANSWER, "Dustwillow yard: a log of 22 days")
    notebook.shows(PANEL, "Ammonia was high")
    notebook.shows(PANEL, "Nothing had to be repaired.")
    assert "two catfish dead" in notebook.text(PANEL)
    assert notebook.page.locator(f"{PANEL} svg").count() >= 5

    notebook.page.locator(f"{PANEL} button").filter(has_text="Compare with the season").click()
    notebook.shows(PANEL, "readings lie in the season's band")
    notebook.shows(f"{PANEL} svg", "the season's band")

    other = tmp_path / "other.csv"
    other.write_text(MESSY, "utf-8")
    notebook.type_into(PANEL, str(other), which=0)
    notebook.shows(ANSWER, "a log of 2 days, May 3, 2027 to May 17, 2027")
    said = notebook.text(PANEL).replace(NO_BREAK_SPACE, " ")
    assert "“7,2” is 7.2" in said
    assert "row 3, pH: “68” is outside of what can be; it was left out. Is it 6.8?" in said
    assert other.read_text("utf-8") == MESSY

    notebook.type_into(PANEL, str(tmp_path / "none.csv"), which=0)
    notebook.shows(f"{PANEL} [role=alert]", "there is no file")

    assert notebook.console == []
    assert notebook.left_the_machine() == []
    assert time.monotonic() - begun < MOST_SECONDS
