"""The panel of today's feed: any unit, filled from garden and log, one sentence for what cannot be."""

import re
from datetime import date

import pytest

from aquacalc.panels.frame.desk import open_desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.harvest import feed_today
from aquacalc.sizing import caps
from aquacalc.words import NO_BREAK_SPACE


@pytest.fixture
def panel() -> Panel:
    return feed_today.panel(day=date(2027, 6, 1))


def plain(markup: str) -> str:
    return re.sub(r"<[^>]+>", " ", markup).replace(NO_BREAK_SPACE, " ")


def test_cold_water_means_no_feed(panel: Panel):
    panel.fields["temperature"].box.value = "60 F"
    assert "Today: no feed" in plain(panel.result.value)


def test_ammonia_without_its_ph_is_asked_for(panel: Panel):
    before = panel.result.value
    panel.fields["tan"].box.value = "2"
    assert "type that, too" in plain(panel.problems.value)
    assert panel.result.value == before
    panel.fields["ph"].box.value = "7.8"
    assert "Un-ionised ammonia allows" in plain(panel.result.value)


def test_a_richer_bag_is_compared_by_nitrogen(panel: Panel):
    panel.fields["old"].box.value = "45 %"
    assert "bring the nitrogen that" in plain(panel.result.value)


@pytest.mark.parametrize(("field", "text"), [("count", "0"), ("protein", "3 %"), ("weight", "-5 g")])
def test_what_cannot_be_is_refused(panel: Panel, field: str, text: str):
    panel.fields[field].box.value = text
    assert panel.refused
    assert panel.fields[field].problem is not None


def test_a_garden_brings_its_cap_shared_by_weight():
    desk = open_desk("demo:greenhouse")
    day = max(batch.stocked for batch in desk.garden.fish)
    names = [batch.name for batch in desk.garden.fish]
    whole = min(caps.by_month_g_day(desk.balance)[day.month - 1], desk.garden.care.most_feed_g_day)
    shared = [feed_today.known(desk, name, day)["cap"] for name in names]
    assert sum(shared) == pytest.approx(whole, abs=len(names))
