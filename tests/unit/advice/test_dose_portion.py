"""One rule for a portion: a judged reading, a plan of doses and the dose table never part."""

import itertools
import math
from dataclasses import replace

import pytest

from aquacalc.advice.doses import course, planning, portion
from aquacalc.advice.doses.request import Request
from aquacalc.advice.reading import base, given, judge
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Product
from aquacalc.water import carbonate, dosing, supplements
from aquacalc.water.dosing import Place

LITRES = 900.0
BASES = (
    "potassium_bicarbonate",
    "potassium_carbonate",
    "potassium_hydroxide",
    "calcium_hydroxide",
    "magnesium_hydroxide",
)
PHS = (4.9, 5.2, 5.4, 5.5, 5.7, 6.0, 6.3, 6.7, 6.78)
ALKALINITIES = (2.0, 5.0, 12.0, 19.5, 35.0)
GARDEN = GardenFile.open("demo:yard").garden


def read(chemical: str, ph: float, alkalinity: float, celsius: float, tan: float) -> base.Base:
    shelf = replace(GARDEN, kits=(), products=(Product("Bag", chemical, 90.0),))
    typed = (
        f"ph={ph}",
        f"kh={alkalinity} mg/L CaCO3",
        f"tan={tan} N",
        f"temp={celsius} C",
        f"litres={LITRES}",
        "fish=warm",
    )
    return base.base_of(judge.judge(given.read(typed, shelf)))


def wish(chemical: str, ph: float, celsius: float, tan: float, of: base.Base) -> Request:
    """The same water and the same wish, asked of the plan of doses."""
    assert of.dose is not None
    now = of.dose.alkalinity_mg_l - of.dose.rise_mg_l
    return Request(chemical, "alkalinity", now + of.missing_mg_l, LITRES, ph, now, celsius, 0.9, tan_mg_l=tan)


@pytest.mark.parametrize("chemical", BASES)
@pytest.mark.parametrize("celsius", [pytest.param(12.0, marks=pytest.mark.slow), 26.0])
def test_a_readings_portion_is_the_first_of_the_plan(chemical: str, celsius: float):
    compared = 0
    for ph, alkalinity in itertools.product(PHS, ALKALINITIES):
        found = read(chemical, ph, alkalinity, celsius, 0.0)
        if found.state != "portion":
            continue
        made = planning.plan(wish(chemical, ph, celsius, 0.0, found))
        assert made.first is not None
        assert made.portion_g == pytest.approx(found.grams, rel=1e-9)
        assert made.a_day == found.portions
        assert made.first.ph_at_once == pytest.approx(found.dose.ph_at_once, abs=1e-9)  # type: ignore[union-attr]
        assert made.ph_judged == pytest.approx(found.judged_ph, abs=1e-9)
        compared += 1
    assert compared > 10


@pytest.mark.parametrize("tan", [0.5, 2.0, 3.0, 5.0, 9.0, 20.0])
def test_no_reading_offers_what_the_plan_refuses_for_ammonia(tan: float):
    for ph, alkalinity in itertools.product(PHS, ALKALINITIES):
        found = read("potassium_bicarbonate", ph, alkalinity, 25.0, tan)
        if found.dose is None:
            continue
        made = planning.plan(wish("potassium_bicarbonate", ph, 25.0, tan, found))
        refused = made.refusal is not None and made.refusal.reason == "ammonia"
        assert not (refused and found.state == "portion")


def test_a_day_moves_no_more_than_its_step_and_half_a_unit_below_five_and_a_half():
    for ph, alkalinity, name in itertools.product(PHS, ALKALINITIES, BASES):
        water, of = carbonate.water(ph, alkalinity, 20.0, 0.0096), dosing.chemical(name)
        day = portion.day_of(Place(water, LITRES, 5.0), of)
        step = float(dosing.after_rise(water, of, day.rise_mg_l).ph) - ph
        assert step <= (0.5 if ph < 5.5 else 0.3) + 1e-6
        assert day.portions == (4 if ph < 5.5 or of.is_hydroxide else 2)
        assert dosing.hydroxide_share(water, of, day.rise_mg_l) <= dosing.HYDROXIDE_SHARE_ADVISED + 1e-9
        for element, most in supplements.MOST_IN_A_DAY_MG_L.items():
            brought = dosing.element_rises_mg_l(
                of, dosing.grams_for_alkalinity(of, day.rise_mg_l, LITRES), LITRES
            )
            assert brought.get(element, 0.0) <= most + 1e-6


def test_a_small_wish_is_one_portion_and_a_large_one_ends_at_the_wish():
    place = Place(carbonate.water(6.4, 20.0, 22.0, 0.0096), LITRES, 12.0)
    of = dosing.chemical("potassium_carbonate")
    assert portion.portion_of(place, of, 0.5).within
    way = course.day_by_day(place, of, 1.0, 30.0)
    assert way.days > 1
    assert way.portions >= way.days
    assert way.first.grams * way.portions >= 30.0 / 10.0 * 13.81 * LITRES / 1000.0 * 0.9


def test_ammonia_is_judged_a_kits_error_above_the_highest_ph():
    assert portion.judged_ph(7.0) == pytest.approx(7.2)
    place = Place(carbonate.water(6.4, 20.0, 22.0), LITRES, 12.0)
    way = course.day_by_day(place, dosing.chemical("potassium_bicarbonate"), 1.0, 30.0)
    found = course.ammonia_after(place, way, 30.0, 0.05)
    aired = carbonate.ph_at_carbon_dioxide(50.0, 5.0, 22.0)
    assert found.highest_ph == pytest.approx(float(aired))
    assert math.isfinite(found.tan_line_mg_l)
