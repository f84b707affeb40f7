"""Readings as intervals, their likelihood, and what is taken from a log."""

from dataclasses import replace
from datetime import date, timedelta
from math import inf
from statistics import NormalDist

import numpy as np
import pytest

from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import KitScale
from aquacalc.logbook import read as logbook_read
from aquacalc.logbook.log import Log, Row
from aquacalc.logbook.log import Reading as Cell
from aquacalc.startup import case, readings
from aquacalc.startup.members import Course
from aquacalc.startup.readings import Reading

FIRST = date(2027, 3, 1)
CASE = case.typed(1000.0, 24.0, FIRST, film_m2=125.0)
TAN = KitScale("tan", "N", (0.0, 0.3, 0.6, 1.2, 2.5, 6.0))
NITRITE = KitScale("nitrite", "NO2", (0.0, 0.15, 0.4, 1.0, 3.0))
SOUTHERN = GardenFile.open("demo:southern")


def course(tan: float = 0.0, nitrite: float = 0.0, nitrate: float = 0.0) -> Course:
    """Two days of one member; what was read is of day 1."""
    still = [np.full((2, 1), value) for value in (tan, nitrite, nitrate, 100.0, 7.5, 0.0, 0.0, 0.0, 0.0)]
    return Course(*still, np.zeros(2))


def chance(course_: Course, *read: Reading) -> float:
    return float(np.exp(readings.log_likelihoods(course_, read).sum()))


def test_a_step_lies_between_the_middles_to_its_neighbours():
    found = readings.of_kit(3, "tan", 1.2, TAN)
    assert found is not None
    assert (found.low, found.high, found.value) == pytest.approx((0.9, 1.85, 1.2))


def test_ends_of_a_scale_are_open_and_dilution_widens():
    bottom, top = readings.of_kit(3, "tan", 0.0, TAN), readings.of_kit(3, "nitrite", 3.0, NITRITE, 10.0)
    assert bottom is not None
    assert top is not None
    assert (bottom.low, bottom.high) == (-inf, 0.15)
    assert (top.low, top.high) == (pytest.approx(20.0 / 3.2844, rel=1e-4), inf)
    assert top.value == pytest.approx(30.0 / 3.2844, rel=1e-4)


def test_without_a_basis_or_steps_a_reading_tells_nothing():
    assert readings.of_kit(3, "tan", 1.0, replace(TAN, basis="not known")) is None
    assert readings.of_kit(3, "tan", 1.0, replace(TAN, steps=())) is None


def test_likelihood_is_the_formula_of_the_reference():
    read = readings.of_kit(1, "tan", 1.2, TAN)
    assert read is not None
    normal = NormalDist(np.log(1.0 + 0.1), 0.30)
    expected = normal.cdf(np.log(1.85 + 0.1)) - normal.cdf(np.log(0.9 + 0.1))
    assert chance(course(tan=1.0), read) == pytest.approx(expected, rel=1e-9)


def test_no_reading_is_less_likely_than_the_floor():
    read = readings.of_kit(1, "tan", 6.0, TAN)
    assert read is not None
    assert chance(course(tan=0.0), read) == pytest.approx(1e-6)


def test_a_nitrate_kit_shows_nitrite_as_well():
    read = Reading(1, "nitrate", 9.0, 12.0, 10.0)
    assert chance(course(nitrate=10.0), read) == pytest.approx(chance(course(nitrate=4.0, nitrite=6.0), read))
    assert chance(course(nitrate=10.0), read) > chance(course(nitrate=4.0), read)


def test_what_drives_the_members_does_not_weigh_them():
    acid = Reading(1, "ph", 5.8, 6.2, 6.0)
    assert readings.log_likelihoods(course(), [acid]).shape == (0, 1)


def test_a_value_without_a_scale_has_a_width():
    found = readings.of_value(2, "nitrite", 5.0)
    assert (found.low, found.high) == (4.5, 5.5)
    assert readings.of_value(2, "nitrite", 0.0).low == -inf


# --- a log --------------------------------------------------------------------------------------------------


def cell(parameter: str, value: float, unit: str = "mg_l", basis: str = "", subject: str = "") -> Cell:
    return Cell(FIRST, parameter, value, unit, basis, subject=subject)


def log(**by_day: list[Cell]) -> Log:
    """Rows of days named `day_3`."""
    rows = []
    for name, cells in by_day.items():
        day = FIRST + timedelta(days=int(name.removeprefix("day_").replace("before_", "-")))
        rows.append(Row(day, tuple(replace(one, day=day) for one in cells)))
    return Log("log.csv", tuple(rows))


def bare() -> "object":
    return replace(SOUTHERN.garden, kits=())


def test_a_real_log_gives_readings_and_doses():
    garden = SOUTHERN.garden
    found_log = logbook_read.beside(SOUTHERN.path, garden)
    begun = case.of_garden(garden)
    found = readings.of_log(found_log, garden, begun)
    assert not found.unusable
    assert {one.parameter for one in found.readings} == {"tan", "nitrite", "ph", "alkalinity", "temperature"}
    salt = [one for one in found.events if one.key == "ammonium_salt"]
    assert [one.day for one in salt] == [0, 12]
    assert salt[0].amount == pytest.approx(42.0 * 0.99 * 0.26187 / begun.litres * 1000.0, rel=1e-3)
    top = next(one for one in found.readings if one.parameter == "nitrite" and one.day == 14)
    assert top.high == inf
    assert top.low == pytest.approx((1.5 + 5.0) / 2.0 / 3.2844, rel=1e-4)
    soft = next(one for one in found.events if one.key == "alkalinity" and one.day == 19)
    assert (soft.amount, soft.high) == (0.0, 0.0)
    assert found.until(5).readings[-1].day == 5


def test_a_reading_that_nobody_says_what_it_counts_is_not_used_and_said():
    found = readings.of_log(
        log(day_1=[cell("tan", 2.0, basis="not known")], before_2=[cell("tan", 1.0, basis="N")]), bare(), CASE
    )
    assert found.readings == ()
    assert [(one.day, one.key) for one in found.unusable] == [
        (1, "basis-not-known"),
        (-2, "before-the-start"),
    ]


def test_nitrate_is_judged_only_where_it_is_asked_for():
    written = log(day_1=[cell("nitrate", 5.0, basis="N")])
    assert readings.of_log(written, bare(), CASE).readings == ()
    assert readings.of_log(written, bare(), CASE, nitrate=True).readings[0].parameter == "nitrate"


def test_doses_feed_and_changes_become_events_in_the_order_of_a_morning():
    written = log(
        day_4=[
            cell("top_up", 250.0, "l"),
            cell("dose", 20.0, "g", subject="potassium_bicarbonate"),
            cell("dose", 1.0, "g", subject="urea"),
            cell("alkalinity", 90.0, "mg_l_caco3"),
            cell("feed", 10.0, "g"),
        ],
        day_5=[cell("top_up", 30.0, "l")],
    )
    found = readings.of_log(written, replace(bare(), products=()), CASE).events
    assert [(one.day, one.key) for one in found] == [
        (4, "alkalinity"),
        (4, "carbonate"),
        (4, "source"),
        (4, "source"),
        (4, "change"),
    ]
    assert found[1].amount == pytest.approx(20.0 / 2.001, rel=1e-3)
    assert found[2].amount == pytest.approx(0.4665, rel=1e-3)
    assert found[3].amount == pytest.approx(0.2944)
    assert found[4].amount == 0.25


def test_what_was_measured_takes_the_place_of_what_was_expected():
    read = [
        Reading(2, "temperature", 20.0, 20.0, 20.0),
        Reading(6, "temperature", 22.0, 22.0, 22.0),
        Reading(2, "ph", 7.0, 7.4, 7.2),
        Reading(4, "ph", 7.4, 7.8, 7.6),
    ]
    found = readings.measured(CASE, read)
    assert [case.on_day(found.water_c, day) for day in (0, 2, 4, 6)] == [20.0, 20.0, 21.0, 22.0]
    assert case.on_day(found.water_c, 7) == 21.0
    assert [found.ph_on(day) for day in (0, 3, 4)] == pytest.approx([7.2, 7.4, 7.6])
    # Then it follows; nothing tells the carbon dioxide.
    assert found.ph_on(5) is None
    assert found.carbon_dioxide_mg_l is None
    assert readings.measured(CASE, []) is CASE


def test_a_ph_with_an_alkalinity_tells_the_carbon_dioxide_of_the_days_to_come():
    # Water reference: pH 7.33 at 5 mg/L and an alkalinity of 60, at 25 C; one kelvin less and a pH of 7.3.
    read = [
        Reading(2, "ph", 7.1, 7.5, 7.3),
        Reading(2, "alkalinity", 50.0, 70.0, 60.0),
        Reading(4, "ph", 5.8, 6.2, 6.0),
        Reading(4, "alkalinity", 0.0, 18.0, 10.0),
    ]
    assert readings.measured(CASE, read).carbon_dioxide_mg_l == pytest.approx(5.6, abs=0.3)


def test_a_dose_of_solution_brings_alkalinity_and_has_the_strength_that_the_garden_tells():
    garden = replace(
        bare(),
        products=(),
        start_up=replace(SOUTHERN.garden.start_up, product="ammonia_solution", strength_pct=10.0),
    )
    rows = log(day_1=[cell("dose", 0.1, subject="ammonia_solution")])
    (dose,) = readings.of_log(rows, garden, CASE).events
    assert dose.key == "ammonia_water"
    # 100 mL at 0.9575 g/mL, a tenth of it NH3.
    assert dose.amount == pytest.approx(9.575 * 0.8224 * 1000.0 / CASE.litres, rel=1e-3)
