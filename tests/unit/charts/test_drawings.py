"""The loop drawing: sound SVG, every gram accounted for, arrows as wide as their grams, names escaped."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest
from hand_made import balance, band
from hand_made_garden import garden

from aquacalc import drawings
from aquacalc.words import NO_BREAK_SPACE, Reader

SVG = "{http://www.w3.org/2000/svg}"
READER = Reader()


def texts(picture: str) -> list[str]:
    found = [element.text or "" for element in ET.fromstring(picture).iter(f"{SVG}text")]
    return [text.replace(NO_BREAK_SPACE, " ") for text in found]


def widths(picture: str) -> list[float]:
    """Width of each wide arrow: distance between its first and last corner."""
    shapes = [e.get("points", "").split() for e in ET.fromstring(picture).iter(f"{SVG}polygon")]
    arrows = [np.array([[float(x) for x in point.split(",")] for point in shape]) for shape in shapes]
    return [float(np.linalg.norm(points[0] - points[-1])) for points in arrows if len(points) == 7]


def test_all_nitrogen_of_the_feed_is_accounted_for():
    now = drawings.flows(garden(), balance())
    assert now.month == 8
    assert now.kept + now.dissolved == pytest.approx(now.feed_nitrogen)
    assert now.gas + now.uptake + now.left == pytest.approx(now.dissolved)


def test_words_carry_the_grams_and_litres():
    shown = texts(drawings.loop(garden(), balance(), READER))
    assert "feed 190 g/day" in shown
    assert "1000 L" in shown
    assert "pump 1200 to 1600 L/h" in shown
    assert any("oxygen used" in text and text.endswith("g/h") for text in shown)


def test_arrows_are_as_wide_as_their_grams():
    now = drawings.flows(garden(), balance())
    feed, ammonia, nitrate, *_ = widths(drawings.loop(garden(), balance(), READER))
    assert feed == pytest.approx(drawings.WIDEST, abs=0.2)
    assert ammonia / feed == pytest.approx(now.dissolved / now.feed_nitrogen, abs=0.01)
    assert nitrate / feed == pytest.approx((now.dissolved - now.gas) / now.feed_nitrogen, abs=0.01)


def test_plants_that_take_more_than_comes_turn_the_arrow_round():
    hungry = replace(balance(), plants=replace(balance().plants, uptake_g_n_day=band(np.full(12, 9.0))))
    shown = texts(drawings.loop(garden(), hungry, READER))
    assert "the water gives" in shown
    assert "stays in the water" not in shown


def test_a_month_without_feed_has_no_wide_arrow():
    idle = balance()
    nothing = band(np.zeros(12))
    idle = replace(
        idle,
        demand=replace(idle.demand, feed_g_day=nothing),
        plants=replace(idle.plants, dissolved_g_n_day=nothing, gas_g_n_day=nothing, uptake_g_n_day=nothing),
    )
    assert widths(drawings.loop(garden(), idle, READER)) == []


@pytest.mark.parametrize(
    "name", ['<script>alert("x")</script>', "A & B 'quoted'", "pond\x00\x1b[31m", "🐟" * 40]
)
def test_names_are_escaped_and_cut(name: str):
    odd = replace(garden(), tanks=(replace(garden().tanks[0], name=name),))
    picture = drawings.loop(odd, balance(), READER)
    assert "<script" not in picture
    assert not re.search("[\x00-\x08\x0b-\x1f]", picture)
    assert max(len(text) for text in texts(picture) if "month" not in text and "arrows" not in text) < 30


def test_a_garden_without_sump_and_biofilter_is_drawn_without_them():
    plain = replace(garden(), sump=None, biofilter=None)
    shown = texts(drawings.loop(plain, balance(), READER))
    assert not any("sump" in text for text in shown)
    assert "on the beds" in shown


def test_nothing_is_drawn_outside_the_canvas():
    root = ET.fromstring(drawings.loop(garden(), balance(), Reader(units="us")))
    for element in root.iter(f"{SVG}text"):
        width = len(element.text or "") * 0.58 * float(element.get("font-size", "14"))
        x = float(element.get("x", "0"))
        start = x - {"start": 0.0, "middle": width / 2, "end": width}[element.get("text-anchor", "start")]
        assert start >= 0.0, element.text
        assert start + width <= drawings.WIDTH, element.text


def test_the_text_alternative_names_the_grams():
    text = drawings.describe_loop(garden(), balance(), READER).replace(NO_BREAK_SPACE, " ")
    assert "190 g/day" in text
    assert "August" in text
