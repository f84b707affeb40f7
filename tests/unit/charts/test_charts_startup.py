"""The picture of a start-up: lines told apart by their dash, bands, readings, dates, words for colours."""

import re
from datetime import date

import numpy as np
import pytest
import started

from aquacalc import words
from aquacalc.charts import startup as charts
from aquacalc.charts.picture import svg
from aquacalc.startup import plan

READER = words.Reader()


@pytest.fixture(scope="module")
def picture() -> str:
    return svg(charts.course(started.read(), READER, "The answer"))


def texts(picture: str) -> list[str]:
    return [re.sub(r"<[^>]+>", "", one) for one in re.findall(r"<text.*?</text>", picture, re.DOTALL)]


def test_each_quantity_has_its_name_and_its_dash(picture: str):
    said = texts(picture)
    for name in charts.SHOWN:
        assert words.say(f"startup-line-{name}", READER) in said
    assert len(set(charts.DASHES.values())) == 3
    assert {"8,4", "2,3"} <= set(re.findall(r'stroke-dasharray="([^"]+)"', picture))


def test_months_are_named_and_every_date_has_a_row(picture: str):
    said = " ".join(texts(picture))
    assert "Sep" in said
    assert "Oct" in said
    for name in plan.NAMES:
        assert words.say(f"startup-what-{name.replace('_', '-')}", READER) in said


def test_the_readings_and_the_day_they_end_are_shown(picture: str):
    assert "readings end" in texts(picture)
    plain = svg(charts.course(started.planned(), READER, "The answer"))
    assert "readings end" not in texts(plain)


def test_no_quantity_wears_the_colour_of_its_reagent(picture: str):
    inks = set(re.findall(r"#[0-9a-f]{6}", picture))
    assert inks <= {"#1a1a1a", "#8c8c8c", "#e2e2e2", "#d3d6da", "#4a4a4a", "#8a3a05"}


def test_the_axis_can_be_kept_while_a_control_moves():
    kept = charts.Axis(date(2027, 9, 6), 150)
    wide = charts.course(started.planned(), READER, "", kept)
    assert wide.width == charts.course(started.planned(), READER, "").width


def test_the_explanation_cuts_nitrate_at_the_plot():
    chart = charts.together(started.planned(), READER, "")
    said = texts(svg(chart))
    assert {"ammonia", "nitrite", "nitrate"} <= set(said)


def test_the_text_alternative_says_what_the_picture_shows():
    said = charts.describe(started.read(), READER)
    assert "6 September 2027" in said
    most = float(np.max(started.read().forecast.band("nitrite").middle))
    assert words.quantity(most, "nitrogen", READER) in said


def test_on_a_phone_it_says_what_it_says_on_a_page(picture: str):
    narrow = charts.course_on_phone(started.read(), READER)
    assert 'width="340"' in narrow
    assert {words.say(f"startup-line-{name}", READER) for name in charts.SHOWN} <= set(texts(narrow))
