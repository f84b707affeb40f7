"""A reader in a hurry opens the notebook, chooses what is seen, and reads first what to do first."""

from collections.abc import Callable

import pytest
from lab import Notebook

from aquacalc.words import NO_BREAK_SPACE

pytestmark = pytest.mark.browser

PANEL = ".aq-triage"
FIRST = f"{PANEL} .aq-answer"


def test_a_sign_is_chosen_and_the_first_thing_to_do_stands_in_large_type(
    open_notebook: Callable[..., Notebook],
):
    notebook = open_notebook("07_when_it_goes_wrong")
    notebook.shows(FIRST, "Turn on all the air there is")

    notebook.page.locator(f"{PANEL} select").first.select_option(label="Untreated tap water ran in")
    first = notebook.shows(FIRST, "Close the tap and every top-up valve")
    steps = notebook.page.locator(f"{PANEL} .aq-do li")
    assert steps.first.inner_text() == "Close the tap and every top-up valve."
    sizes = [
        one.evaluate("element => parseFloat(getComputedStyle(element).fontSize)")
        for one in (first, steps.first, notebook.page.locator(f"{PANEL} .aq-result ul li").last)
    ]
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[0] >= 24.0

    # The first thing to do stands above every box that could be filled.
    boxes = notebook.page.locator(f"{PANEL} input:visible").first.bounding_box()
    said = first.bounding_box()
    assert boxes is not None
    assert said is not None
    assert said["y"] < boxes["y"]

    notebook.page.locator(f"{PANEL} select").first.select_option(label="Nitrite reads high")
    notebook.shows(f"{PANEL} .aq-do", "Grams: the dose table")
    nitrite = notebook.page.get_by_label("Measured: nitrite").locator("visible=true").first
    nitrite.fill("6 NO2")
    nitrite.press("Enter")
    read = notebook.shows(f"{PANEL} .aq-do", "Raise chloride by")
    assert " g. " in read.inner_text().replace(NO_BREAK_SPACE, " ")

    assert notebook.console == []
    assert notebook.left_the_machine() == []
