"""The start-up's forecast against the worked examples of its reference, and beside start-ups of others."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from functools import cache

import numpy as np
import pytest
from published_rows import hold, rows

from aquacalc import units
from aquacalc.startup import case, forecast, members, milestones
from aquacalc.startup.case import Case, SeedKey
from aquacalc.startup.forecast import Forecast
from aquacalc.startup.members import Course, Event

ROWS = rows("start_up_forecast")
FIRST = date(2027, 3, 1)

# Worked examples of section 5, on the ensemble's own day


@cache
def example(name: str) -> Course:
    """Example A (dosed) or C (fish-in) as a course of one member."""
    one = members.members_of(np.full(1, 0.003), np.full(1, 0.003))
    if name == "A":
        begun = case.typed(1000.0, 25.0, FIRST, film_m2=125.0, ph=7.5, alkalinity_mg_l=150.0)
        salt = {0: 3.0, **dict.fromkeys((12, 14, 16, 30, 31, 32, 33, 34), 2.0)}
        events = [Event(day, "ammonium_salt", dose) for day, dose in salt.items()]
        return members.run(
            begun, one, [*events, Event(16, "carbonate", 60.0), Event(33, "carbonate", 60.0)], 40
        )
    begun = case.typed(
        1000.0, 25.0, FIRST, film_m2=125.0, ph=7.4, alkalinity_mg_l=150.0, source_mg_l_d=0.2944
    )
    return members.run(begun, one, [], 60)


def cell(name: str, day: int, what: str) -> float:
    """A cell of an example's table."""
    return float(getattr(example(name), what)[day, 0])


def closure(name: str) -> float:
    """Largest difference of all nitrogen from what was there and what was given, mg/L."""
    one = members.members_of(np.full(1, 0.003), np.full(1, 0.003))
    course = example(name)
    held = members.nitrogen_mg_l(course, one)[:, 0]
    given = np.concatenate([[0.0], np.cumsum(course.tan_dosed[:-1, 0])])
    source = 0.2944 * np.arange(course.days + 1) * (name == "C")
    return float(np.abs(held - held[0] - given - source).max())


# Start-ups of others: how far the model's band lies from what they report


@cache
def _band(seed: SeedKey, celsius: float) -> Forecast:
    begun = case.typed(1000.0, celsius, FIRST, film_m2=125.0, ph=7.5, alkalinity_mg_l=150.0, seed=seed)
    return forecast.forecast_of(begun, events=[Event(0, "ammonium_salt", 3.0)], members=300)


def _apart(found: Sequence[float], low: float, high: float) -> float:
    """Between the 10 to 90 % band and a reported span; nothing where they overlap."""
    return max(0.0, found[0] - high, low - found[1])


def apart_d(seed: SeedKey, celsius: float, low: float, high: float, what: str = "complete") -> float:
    """Days between the band of a milestone, dosed without fish by rule P1, and a reported span."""
    found = _band(seed, celsius).span(what)
    return _apart((found.low, found.high), low, high)


def _fed(celsius: float, source_mg_l_d: float) -> tuple[Case, Course]:
    begun = case.typed(
        1000.0,
        celsius,
        FIRST,
        film_m2=125.0,
        ph=7.5,
        alkalinity_mg_l=300.0,
        source_mg_l_d=source_mg_l_d,
    )
    return begun, members.run(begun, members.draw(begun, 300), [], 90)


@cache
def _fed_once(celsius: float, source_mg_l_d: float) -> Course:
    return _fed(celsius, source_mg_l_d)[1]


def fed_apart_d(celsius: float, source_mg_l_d: float, low: float, high: float, what: str) -> float:
    """The same for a start-up with fish, unseeded and without changes of water."""
    found = milestones.milestones_of(_fed_once(celsius, source_mg_l_d))
    span = milestones.span(found.take(what), found.horizon)
    return _apart((span.low, span.high), low, high)


def fed_apart_mg_l(celsius: float, source_mg_l_d: float, low: float, high: float, what: str) -> float:
    """The same for the highest concentration; `on day 3`: for the ammonia of day 3."""
    course = _fed_once(celsius, source_mg_l_d)
    values = {
        "tan": course.tan_mg_l.max(axis=0),
        "nitrite": course.nitrite_mg_l.max(axis=0),
        "tan on day 3": course.tan_mg_l[3],
    }[what]
    span = np.percentile(values, [10.0, 90.0])
    return _apart((float(span[0]), float(span[1])), low, high)


def cleared_apart_d(
    seed: SeedKey, celsius: float, from_mg_l: float, to_mg_l: float, low: float, high: float
) -> float:
    """Days between the band in which one large dose falls below a line, and a reported span."""
    begun = replace(_band(seed, celsius).case, alkalinity_mg_l=500.0)
    drawn = members.draw(begun, 300)
    course = members.run(begun, drawn, [Event(0, "ammonium_salt", from_mg_l)], 60)
    below = course.tan_mg_l[1:] <= to_mg_l
    days = np.where(below.any(axis=0), below.argmax(axis=0) + 1.0, np.inf)
    span = milestones.span(days, 60)
    return _apart((span.low, span.high), low, high)


NAMES = {
    "apart_d": apart_d,
    "as_n": units.as_n,
    "cell": cell,
    "cleared_apart_d": cleared_apart_d,
    "closure": closure,
    "fed_apart_d": fed_apart_d,
    "fed_apart_mg_l": fed_apart_mg_l,
}


@pytest.mark.parametrize("row", [pytest.param(row, id=row["id"]) for _, row in ROWS])
def test_startup_row(row: dict[str, str]):
    hold(row, NAMES)


def test_a_miss_is_not_told_larger_than_it_is():
    """A row that lies beside says how far, and a band that came nearer would say less."""
    for _, row in ROWS:
        if row["kind"] == "beside" and float(row["tolerance"]) > 0.05:
            found = float(eval(row["call"], dict(NAMES)))
            assert found >= 0.5 * float(row["tolerance"]), row["id"]
