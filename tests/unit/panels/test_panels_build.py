"""Panels of frost, trend, materials and what to buy."""

import re

import pytest

from aquacalc import words
from aquacalc.panels.frame import desk
from aquacalc.panels.loop import freezing, materials, shopping
from aquacalc.panels.trouble import trend


def plain(panel):
    text = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", panel.result.value))
    return text.replace(words.NO_BREAK_SPACE, " ")


def put(panel, **values):
    panel.fill(values)
    return plain(panel)


def test_a_trend_tells_days_and_asks_for_enough_of_them():
    panel = trend.panel()
    said = plain(panel)
    assert "rises by" in said
    assert "half of the feed" in said
    put(panel, rows=(("2027-06-01", 20.0), ("2027-06-02", 20.5)))
    assert "at least 4 days" in plain_of(panel.problems.value)
    assert "no sure way" in put(panel, rows=tuple((f"2027-06-0{day}", 20.0) for day in range(1, 6)))


def plain_of(markup):
    return re.sub(r"<[^>]+>", " ", markup)


def test_a_pipe_in_frost_and_out_of_it():
    panel = freezing.panel()
    assert "full of ice after" in plain(panel)
    assert "does not freeze" in put(panel, air=3.0)


@pytest.mark.parametrize(
    ("key", "ph", "verdict"),
    [("galvanised", 7.5, "No:"), ("aluminium", 7.0, "Test it"), ("aluminium", 6.0, "No:")],
)
def test_materials_answer_yes_no_or_test(key, ph, verdict):
    assert verdict in put(materials.panel(), material=key, ph=ph)


def test_the_list_of_parts_takes_prices_and_tells_the_order_of_a_change():
    at = desk.open_desk("demo:yard")
    panel = shopping.panel(at)
    said = plain(panel)
    assert "type prices" in said
    assert said.index("Draw the change") < said.index("More fish come last")
    assert "costs 25 USD" in put(panel, prices=((1.0, 25.0),))
    assert "data:text/csv" in panel.result.value
