"""A reader opens the notebook, runs it, warms the water, types a reading: the dates move with it."""

from collections.abc import Callable

import pytest
from lab import Notebook

from aquacalc.words import NO_BREAK_SPACE

pytestmark = pytest.mark.browser

PANEL = ".aq-start-up"


def answer(notebook: Notebook) -> str:
    return notebook.text(f"{PANEL} .aq-answer").replace(NO_BREAK_SPACE, " ")


def test_warmth_and_a_reading_move_the_dates(open_notebook: Callable[..., Notebook]):
    notebook = open_notebook("02_start_it_up")
    notebook.shows(f"{PANEL} svg", "readings end")
    logged = answer(notebook)
    assert logged.startswith("The first fish can come between")

    notebook.move_slider(PANEL, steps=4)
    notebook.page.wait_for_function(
        "([where, before]) => document.querySelector(where).innerText !== before",
        arg=[f"{PANEL} .aq-answer", logged],
    )
    warmer = answer(notebook)

    notebook.type_into(f"{PANEL} .aq-date", "9 October 2027", which=1)
    boxes = notebook.page.locator(f"{PANEL} .aq-field", has_text="reads")
    for which in (0, 1):
        box = boxes.nth(which).locator("input")
        box.fill("0")
        box.press("Enter")
    notebook.page.locator(f"{PANEL} button").filter(has_text="Add this reading").click()
    notebook.shows(PANEL, "Readings typed in")
    assert "9 Oct: nitrite 0" in notebook.text(PANEL).replace(NO_BREAK_SPACE, " ")
    assert warmer != logged

    assert notebook.console == []
    assert notebook.left_the_machine() == []
