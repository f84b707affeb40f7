"""A reader opens the notebook, runs it, moves a slider: the picture shows what `sizing` gives for it."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from lab import Notebook

from aquacalc import words
from aquacalc.garden.file import GardenFile
from aquacalc.sizing import vary
from aquacalc.sizing.balance import balance
from aquacalc.words import NO_BREAK_SPACE

pytestmark = pytest.mark.browser

STEPS = 12
PANEL = ".aq-size"


def test_a_moved_slider_shows_what_sizing_gives(open_notebook: Callable[..., Notebook]):
    garden = GardenFile.open("demo:yard").garden
    before = balance(garden)
    now = vary.knobs(garden, before)
    wanted = replace(now, fish_count=now.fish_count + STEPS)
    after = balance(vary.turned(garden, now, wanted, float(before.outage.air_l_min.middle)))
    had, has = (words.number(one.binding.demand_g_day) for one in (before, after))
    assert had != has

    notebook = open_notebook("01_size_the_garden")
    picture = f"{PANEL} svg"
    notebook.shows(picture, had)
    notebook.move_slider(PANEL, steps=STEPS)
    notebook.shows(picture, has)
    assert words.number(after.binding.limit_g_day) in notebook.text(picture)
    for amount in (after.binding.demand_g_day, after.binding.limit_g_day):
        said = words.quantity(amount, "feed", garden.reader).replace(NO_BREAK_SPACE, " ")
        notebook.shows(f"{PANEL} [role=status]", said)

    assert notebook.console == []
    assert notebook.left_the_machine() == []
    assert len(notebook.requests) > 20
