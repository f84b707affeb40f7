"""The forecast of one invented start-up, as this program gave it: our own earlier output, never evidence.

A grower whose bacteria are known looks every second day with an invented kit. What the forecast said is kept,
so that a change of it is seen; that the truth lies in its bands is the part that could fail by itself.
"""

from dataclasses import replace
from datetime import date
from functools import cache

import numpy as np
import pytest

from aquacalc import kits, nitrogen
from aquacalc.garden.model import KitScale
from aquacalc.startup import case, forecast, members, milestones
from aquacalc.startup.forecast import Forecast
from aquacalc.startup.members import Course, Event, Members
from aquacalc.startup.readings import JUDGED, Parameter, Reading, of_kit
from aquacalc.startup.rule import P1

pytestmark = pytest.mark.slow

LAST_LOOK = 30
KIT = {name: KitScale(name, "N", kits.ROUND_TAN_STEPS_MG_L) for name in ("tan", "nitrite")}
CASE = case.typed(
    1000.0, 24.0, date(2027, 3, 1), film_m2=125.0, ph=7.6, alkalinity_mg_l=150.0, oxygen_mg_l=7.0
)
FIRST_DOSE = Event(0, "ammonium_salt", 2.8)
TRUE = members.members_of(np.full(1, 1.2e-3), np.full(1, 5e-3), np.full(1, 0.92), np.full(1, 1.08))

FROZEN = {
    0: (1.0, 23.0, 34.0, 49.0),
    12: (1.0, 27.0, 37.0, 51.0),
    18: (0.715, 28.0, 38.0, 53.0),
    24: (0.607, 29.0, 36.0, 51.0),
    30: (0.219, 32.0, 36.0, 48.0),
}
"""By the day on which it is made: the weights' power, and the 10th, 50th and 90th percentile of the day on
which the filter is complete."""


def read(value: float, parameter: Parameter) -> float:
    """The step that the kit shows: the one whose interval holds the value."""
    scale = KIT[parameter]
    return next(
        step
        for step in scale.steps
        if (span := kits.interval(step, scale)) is not None and span.low <= value <= span.high
    )


@cache
def truth() -> Course:
    """What happened: one dose, then rule P1 from the first look on which ammonia stands low."""
    alone = members.run(CASE, TRUE, [FIRST_DOSE], LAST_LOOK)
    low = [day for day in range(2, LAST_LOOK + 1, 2) if alone.tan_mg_l[day, 0] <= P1.low_tan_mg_l]
    return members.run(CASE, TRUE, [FIRST_DOSE], 80, rule=P1, rule_from=low[0])


def events() -> list[Event]:
    """What was dosed until the last look."""
    found, course = [FIRST_DOSE], truth()
    for day in range(1, LAST_LOOK + 1):
        for key, given in (("ammonium_salt", course.tan_dosed), ("carbonate", course.alkalinity_dosed)):
            if given[day, 0] > 0.0:
                found.append(Event(day, key, float(given[day, 0])))
    return found


def looks() -> list[Reading]:
    """What the grower read."""
    course = truth()
    days = range(2, LAST_LOOK + 1, 2)
    shown = {"tan": course.tan_mg_l, "nitrite": course.nitrite_mg_l}
    found = [
        of_kit(day, name, read(float(shown[name][day, 0]), name), KIT[name])
        for day in days
        for name in JUDGED
        if name in shown
    ]
    return [one for one in found if one is not None]


@cache
def axes() -> np.ndarray:
    """log10 of both starts and ln of both growth factors, (4, 7623)."""
    start = np.arange(-4.5, -0.5 + 1e-9, 0.4)
    ammonia, nitrite = np.arange(-0.45, 0.45 + 1e-9, 0.15), np.arange(-0.60, 0.60 + 1e-9, 0.15)
    return np.array([one.ravel() for one in np.meshgrid(start, start, ammonia, nitrite, indexing="ij")])


def grid() -> Members:
    """The tensor grid with the priors' densities."""
    centred = (axes() - np.array([[-2.5], [-2.5], [0.0], [0.0]])) / np.array([[0.8], [0.8], [0.20], [0.25]])
    start, other, ammonia, nitrite = axes()
    return members.members_of(
        10.0**start,
        10.0**other,
        np.exp(ammonia),
        np.exp(nitrite),
        log_prior=-0.5 * (centred**2).sum(axis=0),
    )


@cache
def on_grid() -> dict[int, Forecast]:
    """The forecast by the day on which it is made, each going on from the one before."""
    found = {0: forecast.forecast_of(CASE, events=[FIRST_DOSE], members=grid())}
    for day in sorted(FROZEN)[1:]:
        found[day] = forecast.update(found[max(found)], looks(), events(), day)
    return found


def by_hypercube(day: int) -> Forecast:
    """The same by 4000 draws of the four unknowns and of nothing else."""
    drawn = members.draw(CASE, 4000)
    typical = nitrogen.Kinetics.typical()
    growth = {
        step: replace(getattr(typical, step), growth_1_d=getattr(drawn.kinetics, step).growth_1_d)
        for step in ("ammonia", "nitrite")
    }
    drawn = replace(drawn, kinetics=replace(typical, **growth))
    return forecast.forecast_of(CASE, looks(), events(), day, members=drawn)


def complete_day() -> float:
    """When the filter was complete in truth."""
    return float(milestones.milestones_of(truth()).complete[0])


@pytest.mark.parametrize("day", FROZEN)
def test_the_forecast_is_as_it_was(day: int):
    found = on_grid()[day]
    assert found.beta == pytest.approx(FROZEN[day][0], abs=0.02)
    assert (found.complete.low, found.complete.middle, found.complete.high) == pytest.approx(
        FROZEN[day][1:], abs=1.0
    )


@pytest.mark.parametrize("day", FROZEN)
def test_the_truth_lies_in_the_band(day: int):
    band = on_grid()[day].complete
    assert band.low <= complete_day() <= band.high


def test_another_way_of_drawing_tells_the_same():
    # The far end is read from few draws of little weight, and has no part in this.
    band, other = on_grid()[LAST_LOOK].complete, by_hypercube(LAST_LOOK).complete
    assert (other.low, other.middle) == pytest.approx((band.low, band.middle), abs=2.0)
