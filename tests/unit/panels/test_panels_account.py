"""The year in money: honest where it does not pay, in pounds as well, filled from the plan."""

import re

import pytest

from aquacalc import units
from aquacalc.panels.frame.desk import open_desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.harvest import season_runs
from aquacalc.panels.money import year_account
from aquacalc.words import NO_BREAK_SPACE, Reader


@pytest.fixture
def panel() -> Panel:
    return year_account.panel()


def plain(markup: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", markup)).replace(NO_BREAK_SPACE, " ")


def test_the_panel_opens_with_a_year_that_hardly_pays(panel: Panel):
    text = plain(panel.result.value)
    assert "0.13 for an hour" in text
    assert "does not pay" in text


def test_a_loss_has_no_pay_for_an_hour(panel: Panel):
    panel.fields["crops_kg"].box.value = "10 kg"
    text = plain(panel.result.value)
    assert "more than it grows" in text
    assert "Left for an hour nothing nothing nothing" in text


def test_good_prices_pay(panel: Panel):
    panel.fields["crops_worth"].box.value = "30"
    assert "the work is paid" in plain(panel.result.value)


@pytest.mark.parametrize(
    ("field", "text"), [("seed", "-5"), ("years", "0"), ("hours", "200"), ("feed_price", "x")]
)
def test_what_cannot_be_is_refused_with_one_sentence(panel: Panel, field: str, text: str):
    before = panel.result.value
    panel.fields[field].box.value = text
    assert panel.fields[field].problem is not None
    assert panel.result.value == before


def test_nothing_grown_is_asked_about(panel: Panel):
    panel.fields["crops_kg"].box.value = "0"
    panel.fields["fish_kg"].box.value = "0"
    assert "Type what the year grows" in plain(panel.problems.value)


def test_prices_of_pounds_count_the_same_money():
    us = Reader(units="us")
    values = year_account.panel().values
    pound = units.unit("lb").factor / 1000.0
    by_pound = {**values, **{name: values[name] * pound for name in year_account.BY_WEIGHT}}
    assert year_account.compute(us, by_pound).left == pytest.approx(
        year_account.compute(Reader(), values).left
    )


def test_the_garden_brings_its_plan_and_prices():
    desk = open_desk("demo:yard")
    values = year_account.panel(desk).values
    told = season_runs.middle(desk.garden, desk.log).run
    assert values["feed_kg"] == pytest.approx(float(told.daily["feed_g"].sum()) * 365.0 / told.days, rel=1e-3)
    assert values["price_kwh"] == desk.garden.prices.electricity_kwh
    assert 0.0 < values["fish_kg"] < values["feed_kg"]
