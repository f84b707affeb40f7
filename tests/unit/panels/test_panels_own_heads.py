"""Heads a week to seeds, places and bed, and back, by the grower's own numbers."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from aquacalc import crops
from aquacalc.panels.frame.desk import open_desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.harvest import own_succession
from aquacalc.words import NO_BREAK_SPACE


@pytest.fixture
def panel() -> Panel:
    return own_succession.panel()


def plain(markup: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", markup)).replace(NO_BREAK_SPACE, " ")


@settings(max_examples=60)
@given(
    area=st.floats(0.1, 50.0),
    days=st.floats(10.0, 120.0),
    density=st.floats(1.0, 200.0),
    loss=st.floats(0.0, 0.5),
)
def test_a_bed_holds_the_heads_it_gives_and_no_more(area, days, density, loss):
    heads = crops.heads_of_bed(area, days, density, loss, 1.0)
    more = crops.succession(heads + 1, days, 21.0, density, 0.8, loss, gap_days=1.0)
    assert more.area_m2 > area * (1.0 - 1e-6)
    if heads:
        held = crops.succession(heads, days, 21.0, density, 0.8, loss, gap_days=1.0)
        assert held.area_m2 <= area * (1.0 + 1e-6)


@given(st.floats(0.0, 0.8), st.floats(0.3, 1.0))
def test_more_losses_and_worse_seed_need_more_seeds(loss, germination):
    base = crops.succession(10, 35, 21, 25.0, germination, loss)
    worse = crops.succession(10, 35, 21, 25.0, germination * 0.9, loss + 0.1)
    assert worse.seeds >= base.seeds
    assert worse.places >= base.places


def test_own_numbers_replace_those_of_the_table(panel: Panel):
    for name, text in {"spacing": "25", "germination": "80 %", "loss": "10 %", "cull": "10 %"}.items():
        panel.fields[name].box.value = text
    panel.fields["nursery"].box.value = "21"
    panel.fields["days"].box.value = "35"
    text = plain(panel.result.value)
    for told in (
        "Seeds to sow each week 17",
        "Plants to set out each week 12",
        "Places in the bed 72",
        "2.9 m²",
    ):
        assert told in text


def test_another_crop_brings_its_numbers_but_not_over_what_was_typed(panel: Panel):
    panel.fields["days"].box.value = "44"
    panel.fields["crop"].list.value = "tomato"
    assert panel.values["spacing"] == crops.crop("tomato").plants_m2.typical
    assert panel.values["days"] == 44.0


def test_feed_without_a_garden_has_its_bed(panel: Panel):
    panel.fields["ask"].list.value = own_succession.FEED
    found = panel.compute(panel.values)
    assert found.rule_g_day.low < panel.values["feed"] < found.rule_g_day.high


def test_a_bed_that_is_too_small_says_so(panel: Panel):
    panel.fields["ask"].list.value = own_succession.BED
    panel.fields["area"].box.value = "0.05"
    assert "too small" in plain(panel.result.value)


@pytest.mark.parametrize(("field", "text"), [("germination", "0 %"), ("loss", "100 %"), ("days", "0")])
def test_what_cannot_be_is_refused(panel: Panel, field: str, text: str):
    panel.fields[field].box.value = text
    assert panel.fields[field].problem is not None


def test_a_garden_brings_its_beds():
    desk = open_desk("demo:yard")
    assert own_succession.panel(desk).values["area"] == sum(bed.area_m2 for bed in desk.garden.beds)
