"""The dose table's weekly base: by the grower's readings where there are some, and whose turn it is."""

import re
from dataclasses import replace
from datetime import date, timedelta

import plans
import pytest

from aquacalc import words
from aquacalc.advice.doses import portion
from aquacalc.logbook.log import Log, Reading, Row
from aquacalc.pages.wall import doses
from aquacalc.water import carbonate, dosing

YARD = plans.of_yard()
FIRST = date(2027, 1, 2)


def text(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html)).replace(words.NO_BREAK_SPACE, " ")


def log(fall_week: float, chemical: str = "potassium_bicarbonate") -> Log:
    rows = []
    for week in range(7):
        day = FIRST + timedelta(days=7 * week)
        read = Reading(day, "alkalinity", 100.0 - fall_week * week, "mg_l_caco3")
        given = (Reading(day, "dose", 1.0, "g", subject=chemical),) if week == 0 else ()
        rows.append(Row(day, (read, *given)))
    return Log("log.csv", tuple(rows))


def test_without_a_log_the_feed_is_a_guess():
    page = text(doses.page(YARD))
    assert "How much a week: about" in page
    assert "by the feed alone" in page
    assert "take turns" in page


def test_the_growers_readings_count_and_the_feed_stands_beside():
    page = text(doses.page(replace(YARD, log=log(5.0))))
    assert "by your own alkalinity readings, 7 in 42 days" in page
    assert "The feed alone" in page


def test_bases_of_the_log_say_whose_turn_it_is():
    assert "Next a calcium base" in text(doses.page(replace(YARD, log=log(5.0))))
    assert "Next a potassium base" in text(doses.page(replace(YARD, log=log(5.0, "calcium_hydroxide"))))


def test_the_days_most_is_that_of_the_one_rule():
    line = next(one for one in doses.lines(YARD) if one.product.chemical == "calcium_hydroxide")
    of = dosing.chemical("calcium_hydroxide")
    water_c = float(YARD.balance.water_c.middle.min())
    ph = float(carbonate.ph_at_carbon_dioxide(20.0, 5.0, water_c))
    place = dosing.Place(carbonate.water(ph, 20.0, water_c), YARD.litres.whole, 5.0)
    most = dosing.grams_for_alkalinity(of, portion.day_of(place, of).rise_mg_l, YARD.litres.whole)
    assert line.day_g == pytest.approx(float(most), rel=1e-12)


def test_a_shelf_without_base_says_nothing_of_it():
    thin = plans.changed(YARD, products=plans.SHELF[:1])
    assert "How much a week" not in text(doses.page(thin))
