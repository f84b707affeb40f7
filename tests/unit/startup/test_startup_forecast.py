"""A forecast that readings narrow: weights, what is run again and what is not."""

from dataclasses import replace
from datetime import date

import growers
import numpy as np
import pytest

from aquacalc.garden.file import GardenFile
from aquacalc.logbook import read as logbook_read
from aquacalc.startup import forecast, members
from aquacalc.startup.members import Event

MEMBERS = 150
DOSE = growers.FIRST_DOSE


@pytest.fixture(scope="module")
def begun() -> forecast.Forecast:
    return forecast.forecast_of(growers.CASE, events=[DOSE], members=MEMBERS)


@pytest.fixture(scope="module")
def read() -> list:
    truth = members.run(growers.CASE, growers.hidden(1, 5), [DOSE], 14)
    return growers.readings(truth, 0, range(1, 14, 2), 5)


@pytest.fixture
def runs(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Days from which the ensemble was run."""
    days: list[int] = []
    run = members.run

    def counted(*args, from_day: int = 0, **named):
        days.append(from_day)
        return run(*args, from_day=from_day, **named)

    monkeypatch.setattr(members, "run", counted)
    return days


def test_before_any_reading_all_members_count_alike(begun: forecast.Forecast):
    assert begun.beta == 1.0
    assert begun.weights == pytest.approx(np.full(MEMBERS, 1.0 / MEMBERS))
    assert begun.complete.low < begun.complete.middle < begun.complete.high
    assert begun.confirmed.middle > begun.complete.middle


def test_the_power_is_the_largest_that_leaves_enough_members():
    stream = np.random.default_rng(1)
    sharp = 30.0 * stream.standard_normal(2000)
    weights, beta, effective = forecast.weigh(sharp)
    assert 0.0 < beta < 1.0
    assert effective == pytest.approx(100.0, rel=1e-3)
    more = np.exp(1.02 * beta * (sharp - sharp.max()))
    assert more.sum() ** 2 / (more**2).sum() < 100.0
    assert weights.sum() == pytest.approx(1.0)
    assert forecast.weigh(0.1 * sharp / 30.0)[1] == 1.0


def test_a_prior_on_a_grid_is_not_tempered():
    prior = np.array([0.0, -1.0] * 300)
    weights, _, _ = forecast.weigh(np.zeros(600), prior)
    assert weights[0] / weights[1] == pytest.approx(np.e)


def test_a_reading_alone_simulates_nothing_and_moves_the_forecast(begun, read, runs):
    moved = forecast.reweigh(forecast.update(begun, [], [DOSE], 1), [one for one in read if one.day <= 1])
    assert runs == []
    assert moved.course is begun.course
    assert moved.weights.std() > 0.0


def test_a_later_day_runs_on_from_the_first_dose_that_nobody_gave(begun, read, runs):
    later = forecast.update(begun, read, [DOSE], 13)
    first = int(np.argmax(begun.course.by_rule))
    assert first < 13
    assert runs[0] == first
    fresh = forecast.forecast_of(growers.CASE, read, [DOSE], 13, members=MEMBERS)
    np.testing.assert_array_equal(later.course.tan_mg_l[:40], fresh.course.tan_mg_l[:40])
    np.testing.assert_allclose(later.weights, fresh.weights)
    assert later.complete == fresh.complete


def test_a_new_dose_runs_again_from_its_day_only(begun, read, runs):
    later = forecast.update(begun, read, [DOSE], 13)
    runs.clear()
    dosed = forecast.update(later, read, [DOSE, Event(13, "ammonium_salt", 1.0)], 13)
    assert min(runs) == 13
    # With the grower's own dose none of them is hungry.
    assert later.course.tan_dosed[13].max() > 1.5
    assert dosed.course.tan_dosed[13] == pytest.approx(np.ones(MEMBERS))


def test_an_alkalinity_that_all_members_have_changes_nothing(begun, read, runs):
    agreed = Event(0, "alkalinity", 0.0, 500.0)
    forecast.update(begun, [], [agreed, DOSE], 0)
    assert runs == []
    other = forecast.update(begun, [], [Event(0, "alkalinity", 0.0, 100.0), DOSE], 0)
    assert runs[0] == 0
    assert other.course.alkalinity_mg_l[1].max() <= 100.1


def test_what_is_later_than_today_is_not_known_yet(begun, read):
    found = forecast.forecast_of(growers.CASE, read, [DOSE, Event(9, "kill", 0.1)], 5, members=MEMBERS)
    assert {one.day for one in found.readings} == {1, 3, 5}
    assert found.events == (DOSE,)


def test_bands_are_in_order_and_follow_the_readings(begun, read):
    later = forecast.update(begun, read, [DOSE], 13)
    band = later.band("tan")
    assert band.low.shape == (later.course.days + 1,)
    assert (band.low <= band.middle).all()
    assert (band.middle <= band.high).all()
    assert later.done_by(10_000) == pytest.approx(1.0)
    assert later.done_by(0) == 0.0


def test_progress_runs_up_to_the_horizon():
    told: list[tuple[int, int]] = []
    forecast.forecast_of(
        growers.CASE,
        events=[DOSE],
        members=20,
        horizon=50,
        progress=lambda day, last: told.append((day, last)),
    )
    assert told[0] == (1, 50)
    assert all(last == 50 for _, last in told)
    assert [day for day, _ in told] == sorted(day for day, _ in told)


def test_those_who_never_finish_are_later_than_the_horizon():
    cold = growers.case.typed(1000.0, 8.0, growers.FIRST, film_m2=125.0, ph=7.0)
    found = forecast.forecast_of(cold, events=[DOSE], members=20, horizon=45)
    assert found.course.days == 45
    assert found.complete.middle == np.inf


def test_a_temperature_that_was_read_runs_again_from_its_day_only(begun, read, runs):
    warmer = np.full(30, 24.0)
    warmer[9:] = 26.0
    moved = forecast.update(begun, [], [DOSE], 0, case=replace(begun.case, water_c=warmer))
    assert runs[0] == 9
    assert np.nanmedian(moved.milestones.complete) < np.nanmedian(begun.milestones.complete)
    runs.clear()
    forecast.update(begun, [], [DOSE], 0, case=replace(begun.case, water_c=np.full(3, 24.0)))
    assert runs == []


def test_a_log_becomes_a_forecast():
    opened = GardenFile.open("demo:southern")
    log = logbook_read.beside(opened.path, opened.garden)
    started = forecast.of_log(log, opened.garden, date(2027, 9, 25), seeded="handful", members=40)
    found = started.forecast
    assert found.today == 19
    assert max(one.day for one in found.readings) == 19
    # Alkalinity is gone that day; the rule brings it back, and the pH with it.
    assert found.band("alkalinity").high[19] < 40.0
    assert found.band("ph").middle[19] == pytest.approx(6.0)
    assert found.band("ph").middle[25] > 6.8
    assert np.isfinite(found.complete.middle)
    assert started.expected.ph is None
