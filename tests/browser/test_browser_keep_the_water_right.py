"""A reader opens the notebook, types a reading, sees the answer change, moves a what-if, prints one page."""

from collections.abc import Callable

import pytest
from lab import Notebook

from aquacalc.words import NO_BREAK_SPACE

pytestmark = pytest.mark.browser

PANEL, WHAT_IF = ".aq-reading", ".aq-what-if"
FIELDS = {"ammonia": 0, "pH": 1, "temperature": 2, "alkalinity": 3}
"""Places of text boxes in the panel."""


def said(notebook: Notebook, selector: str) -> str:
    return notebook.text(selector).replace(NO_BREAK_SPACE, " ")


def test_a_typed_reading_changes_the_answer_and_what_if_follows(open_notebook: Callable[..., Notebook]):
    notebook = open_notebook("03_keep_the_water_right")
    notebook.shows(f"{PANEL} [role=status]", "the last row of the garden's log")

    for name, text in {"ammonia": "3", "pH": "7.6", "temperature": "79", "alkalinity": "120"}.items():
        notebook.type_into(f"{PANEL} .widget-text", text, which=FIELDS[name])
    notebook.shows(f"{PANEL} .aq-answer .act-today", "act today")
    notebook.shows(f"{WHAT_IF} .aq-answer", "Ammonia first")
    # Asked of the page itself: an answer that is written anew meanwhile is another element.
    notebook.page.wait_for_function(
        """selector => {
            const frame = getComputedStyle(document.querySelector(selector));
            return parseFloat(frame.borderTopWidth) > 2 && frame.borderTopStyle === "solid";
        }""",
        arg=f"{PANEL} .aq-answer .act-today",
    )

    notebook.type_into(f"{PANEL} .widget-text", "three", which=FIELDS["ammonia"])
    notebook.shows(f"{PANEL} .aq-field .aq-problem", "cannot be read as a number")
    assert "act today" in said(notebook, f"{PANEL} .aq-answer")
    notebook.type_into(f"{PANEL} .widget-text", "1.5", which=FIELDS["ammonia"])
    notebook.shows(f"{WHAT_IF} .aq-answer", "Not now: ")

    notebook.shows(f"{WHAT_IF} svg", "water change, as if pH")
    notebook.move_slider(WHAT_IF, steps=4)
    notebook.shows(f"{WHAT_IF} table", "alkalinity up by 30 mg/L CaCO3")

    notebook.page.locator(f"{PANEL} button").filter(has_text="This result on paper").click()
    notebook.shows(f"{PANEL} [role=status]", "Written: reading-")

    assert notebook.console == []
    assert notebook.left_the_machine() == []
