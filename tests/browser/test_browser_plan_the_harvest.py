"""A reader opens the notebook, runs it, moves the stocking by a week: the year strip moves with it."""

from collections.abc import Callable

import pytest
from lab import Notebook

from aquacalc.words import NO_BREAK_SPACE

pytestmark = pytest.mark.browser

PANEL = ".aq-plan"


def test_a_week_later_moves_the_stocking_in_the_picture(open_notebook: Callable[..., Notebook]):
    notebook = open_notebook("04_plan_the_harvest")
    picture = f"{PANEL} svg"
    notebook.shows(picture, "stock Apr 17")
    notebook.page.locator(f"{PANEL} .aq-date button").filter(has_text="later").first.click()
    notebook.shows(picture, "stock Apr 24")
    answer = notebook.text(f"{PANEL} [role=status]").replace(NO_BREAK_SPACE, " ")
    assert "In your garden file: spring catfish" in answer
    notebook.page.locator(f"{PANEL} button").filter(has_text="Take the last change back").click()
    notebook.shows(picture, "stock Apr 17")

    notebook.type_into(f"{PANEL} .aq-date", "1 May", which=0)
    notebook.shows(picture, "stock May 1")

    assert notebook.console == []
    assert notebook.left_the_machine() == []
