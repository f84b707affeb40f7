"""The ensemble of a start-up: what is drawn, what events do, and that any day can be run on."""

from dataclasses import fields, replace
from datetime import date

import numpy as np
import pytest

from aquacalc.startup import case, members
from aquacalc.startup.members import Event
from aquacalc.startup.rule import P1

CASE = case.typed(
    1000.0,
    25.0,
    date(2027, 3, 1),
    film_m2=125.0,
    ph=7.5,
    alkalinity_mg_l=150.0,
    tap=case.Tap(alkalinity_mg_l=40.0, nitrate_mg_l=2.0),
)
FEW = members.draw(CASE, 40)
STILL = members.members_of(np.zeros(1), np.zeros(1))
"""No bacteria: nothing but the events changes the water."""


def after(*events: Event, of: members.Members = STILL, days: int = 1) -> dict[str, float]:
    course = members.run(CASE, of, events, days)
    return {one.name: float(getattr(course, one.name)[days, 0]) for one in fields(course)[:-1]}


def test_what_is_drawn_has_the_middle_and_the_spread_of_the_priors():
    drawn = members.draw(CASE, 2000)
    start = np.log10(drawn.ammonia_start)
    assert (start.mean(), start.std()) == pytest.approx((-2.5, 0.8), abs=0.01)
    growth = np.log(drawn.kinetics.nitrite.growth_1_d / 0.36)
    assert (growth.mean(), growth.std()) == pytest.approx((0.0, 0.25), abs=0.005)
    half = np.log(drawn.kinetics.nitrite.half_saturation_mg_l / 0.2)
    assert (half.mean(), half.std()) == pytest.approx((0.0, members.HIDDEN_SPREAD), abs=0.005)
    assert 1.0 < drawn.carbon_dioxide_mg_l.min() < drawn.carbon_dioxide_mg_l.max() < 8.0
    pairs = np.corrcoef([start, np.log10(drawn.nitrite_start), growth, half])
    assert np.abs(pairs - np.eye(4)).max() < 0.06


def test_one_member_is_the_middle():
    one = members.draw(CASE, 1)
    assert one.ammonia_start == pytest.approx([10**-2.5])
    assert one.kinetics.ammonia.growth_1_d == pytest.approx([0.6])
    assert one.carbon_dioxide_mg_l == pytest.approx([3.0])


def test_seed_moves_the_start():
    assert np.median(members.draw(replace(CASE, seed="handful"), 99).ammonia_start) == pytest.approx(
        0.2, 0.05
    )


def test_a_salt_brings_ammonia_alone_and_a_solution_alkalinity_too():
    salt, solution = after(Event(0, "ammonium_salt", 2.0)), after(Event(0, "ammonia_water", 2.0))
    assert salt["tan_mg_l"] == pytest.approx(2.0)
    assert salt["alkalinity_mg_l"] == pytest.approx(150.0)
    assert solution["tan_mg_l"] == pytest.approx(2.0)
    assert solution["alkalinity_mg_l"] == pytest.approx(150.0 + 2.0 * 3.5727, abs=1e-3)


def test_feed_and_urea_give_their_ammonia_off_through_the_day():
    found = after(Event(0, "source", 1.0))
    assert found["tan_mg_l"] == pytest.approx(1.0)
    assert found["alkalinity_mg_l"] == pytest.approx(150.0 + 3.5727, abs=1e-3)
    assert after(Event(0, "source", 1.0), days=2)["tan_mg_l"] == pytest.approx(1.0)


def test_a_change_of_water_moves_what_is_dissolved_towards_the_tap():
    found = after(Event(0, "ammonium_salt", 4.0), Event(0, "change", 0.25), Event(0, "carbonate", 10.0))
    assert found["tan_mg_l"] == pytest.approx(3.0)
    assert found["nitrate_mg_l"] == pytest.approx(2.0)
    assert found["alkalinity_mg_l"] == pytest.approx(0.75 * 150.0 + 0.25 * 40.0 + 10.0)


def test_nitrite_leaves_with_the_water_too():
    fast = members.members_of(np.full(1, 5.0), np.zeros(1))
    dosed = Event(0, "ammonium_salt", 3.0)
    kept, changed = (
        members.run(CASE, fast, [dosed, *extra], 7).nitrite_mg_l[:, 0]
        for extra in ([], [Event(6, "change", 0.5)])
    )
    assert kept[6] > 2.5
    assert changed[7] == pytest.approx(0.5 * kept[7], rel=0.02)


def test_films_stay_when_water_goes_and_seed_and_chlorine_change_them():
    some = members.members_of(np.full(1, 0.1), np.full(1, 0.1))
    quiet = after(of=some)
    for event, times, plus in (
        (Event(0, "change", 0.9), 1.0, 0.0),
        (Event(0, "kill", 0.3), 0.3, 0.0),
        (Event(0, "seed", 0.2), 3.0, 0.0),
    ):
        found = after(event, of=some)
        for name in ("ammonia_capacity", "nitrite_capacity"):
            assert found[name] == pytest.approx(times * quiet[name] + plus, rel=1e-3)


def test_an_alkalinity_that_was_read_moves_only_those_who_disagree():
    two = members.members_of(np.zeros(2), np.zeros(2))
    course = members.run(
        CASE, two, [Event(0, "carbonate", np.array([0.0, 60.0])), Event(1, "alkalinity", 140.0, 160.0)], 2
    )
    assert course.alkalinity_mg_l[1] == pytest.approx([150.0, 210.0])
    assert course.alkalinity_mg_l[2] == pytest.approx([150.0, 160.0])


def test_any_day_can_be_run_on_and_gives_the_same_to_the_last_digit():
    events = [Event(0, "ammonium_salt", 3.0), Event(14, "change", 0.2), Event(14, "kill", 0.5)]
    whole = members.run(CASE, FEW, events, 40, rule=P1, rule_from=10)
    part = members.run(CASE, FEW, events, 20, rule=P1, rule_from=10)
    for first in (part, whole):
        again = members.run(CASE, FEW, events, 40, rule=P1, rule_from=10, before=first, from_day=20)
        for one in fields(whole):
            np.testing.assert_array_equal(getattr(again, one.name), getattr(whole, one.name))
    short = whole.until(20)
    assert short.days == 20
    np.testing.assert_array_equal(short.tan_mg_l, part.tan_mg_l)


def test_the_rule_begins_on_its_day_and_its_doses_are_told():
    course = members.run(CASE, FEW, [], 30, rule=P1, rule_from=5)
    assert course.tan_dosed[:5].sum() == 0.0
    assert course.tan_dosed[5] == pytest.approx(2.0 - course.tan_mg_l[5])
    assert not course.by_rule[:5].any()
    assert course.by_rule[5] == 1.0
    assert course.tan_dosed[30].sum() == 0.0


def test_progress_is_told_day_by_day():
    told: list[tuple[int, int]] = []
    members.run(CASE, STILL, [], 3, progress=lambda day, last: told.append((day, last)))
    assert told == [(1, 3), (2, 3), (3, 3)]


def test_the_ph_follows_from_alkalinity_and_carbon_dioxide_where_none_was_logged():
    free = replace(CASE, ph=None, alkalinity_mg_l=100.0)
    drawn = members.members_of(np.zeros(3), np.zeros(3), carbon_dioxide_mg_l=np.array([1.0, 3.0, 8.0]))
    ph = members.run(free, drawn, [], 1).ph[1]
    # Nitrogen reference, N23, 7.82 at 3 mg/L; here with the activity of thin water.
    assert ph[1] == pytest.approx(7.82, abs=0.04)
    assert ph[0] > ph[1] > ph[2]


def test_water_without_alkalinity_turns_acid_and_stops():
    free = replace(CASE, ph=None, alkalinity_mg_l=30.0)
    course = members.run(
        free, members.members_of(np.full(1, 0.1), np.full(1, 0.1)), [Event(0, "ammonium_salt", 8.0)], 60
    )
    assert course.ph[60, 0] < 6.0
    assert course.tan_mg_l[60, 0] > 1.0
