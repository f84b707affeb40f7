"""What an answer rests on is folded under it: the texts by their keys, and how well each value is known."""

import re
from collections.abc import Callable
from functools import partial

import ipywidgets as widgets
import pytest

from aquacalc import tables, words
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.harvest import plan_harvest, sowing_list, when_of_size, when_to_sow, year_strip
from aquacalc.panels.size import size, wishes
from aquacalc.panels.start import first_limit
from aquacalc.panels.trouble import leak, power_cut, spell

CITE: dict[Callable[[Desk], Panel], str] = {
    first_limit.panel: "coefficients",
    size.panel: "coefficients",
    wishes.panel: "species",
    power_cut.panel: "coefficients",
    partial(spell.panel, "heat"): "species",
    partial(spell.panel, "cold"): "species",
    leak.panel: "coefficients",
    year_strip.panel: "coefficients",
    plan_harvest.panel: "coefficients",
    sowing_list.panel: "crops",
    when_of_size.panel: "species",
    when_to_sow.panel: "crops",
}
"""Panels, and a table of which each cites at least one text."""


def shown(made: widgets.Widget) -> str:
    """All markup of a panel."""
    own = made.value if isinstance(made, widgets.HTML) else ""
    return own + "".join(map(shown, getattr(made, "children", ())))


@pytest.mark.parametrize("make", CITE, ids=lambda make: str(getattr(make, "args", "") or make.__module__))
def test_what_an_answer_rests_on_is_folded_under_it(make: Callable[[Desk], Panel]):
    title = words.say("trail-title", words.Reader())
    folds = re.findall(
        rf"<details><summary>{title}</summary>(.*?)</details>", shown(make(desk.open_desk("demo:yard")))
    )
    assert len(folds) == 1
    named = set(re.findall(r"<li>([A-Z0-9]+): ", folds[0]))
    table = tables.load(CITE[make])
    known = {tables.source_key(one.reference) for row in table for one in tables.cited(CITE[make], row)}
    assert named & known
