"""Every planned place has a state on every day of a season: a crop grows, or why it does not."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import get_args

import pytest
from hand_made_garden import garden

from aquacalc import words
from aquacalc.crops import crop
from aquacalc.garden import opening, places, usual_year
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Away, Garden, MonthlyClimate, Season
from aquacalc.schedule import crops
from aquacalc.schedule.spells import PlaceState, Spell, spells
from aquacalc.sentences import empty_beds

MILD = MonthlyClimate(air_max_c=(24.0,) * 12, air_min_c=(16.0,) * 12)
ALL = tuple(range(1, 13))


@pytest.fixture(scope="module")
def mild() -> Garden:
    made = garden()
    return replace(
        made,
        crops=(replace(made.crops[0], crop="basil", months=ALL, heads_per_week=0.0),),
        site=replace(made.site, climate=MILD, latitude_deg=10.0),
        season=Season(date(2027, 1, 1), date(2027, 12, 31)),
        away=(),
    )


def found_in(of: Garden) -> tuple[Spell, ...]:
    return spells(of, crops.batches(of))


def states(found: Sequence[Spell]) -> set[str]:
    return {one.state for one in found}


@pytest.mark.parametrize("name", places.demos())
def test_every_place_of_every_week_has_its_reason(name: str):
    demo = GardenFile.open(f"demo:{name}").garden
    batches = crops.batches(demo)
    found = spells(demo, batches)
    assert {one.plan for one in found} == set(range(len(demo.crops)))
    for position in range(len(demo.crops)):
        told = Counter(
            one.first + timedelta(days=day)
            for one in found
            if one.plan == position
            for day in range(one.days)
        )
        week = demo.season.start
        while week <= demo.season.end:
            days = [week + timedelta(days=day) for day in range(7)]
            assert all(told[day] == 1 for day in days if day <= demo.season.end)
            week += timedelta(days=7)
    assert states(found) <= set(get_args(PlaceState))
    for one in found:
        there = any(
            batch.in_bed and batch.plan == one.plan and batch.plant <= one.first <= batch.ends
            for batch in batches
        )
        assert there == (one.state == "growing" or one.state.startswith("slow"))


def test_a_crop_in_good_air_grows_all_year_and_waits_a_day_between_two_plantings(mild: Garden):
    found = found_in(mild)
    assert states(found) <= {"growing", "waits"}
    assert all(one.days == 1 for one in found if one.state == "waits")


def test_months_that_the_plan_leaves_out_are_by_choice(mild: Garden):
    found = found_in(replace(mild, crops=(replace(mild.crops[0], months=(3, 4, 5, 6, 7, 8)),)))
    assert [(one.first.month, one.last.month) for one in found if one.state == "by_choice"] == [
        (1, 2),
        (9, 12),
    ]


def test_a_bed_that_another_crop_fills_has_no_room(mild: Garden):
    area = next(one.area_m2 for one in mild.beds if one.name == mild.crops[0].bed)
    full = replace(mild.crops[0], area_m2=area)
    chives = replace(full, crop="okra")
    both = replace(mild, crops=(full, chives))
    batches = [one for one in crops.batches(both) if one.plan == 0]
    assert {one.state for one in spells(both, batches) if one.plan == 1 and one.days > 1} == {"no_room"}


def test_while_nobody_is_there_nothing_is_set_out(mild: Garden):
    away = Away(date(2027, 1, 1), date(2027, 2, 10))
    plan = replace(mild.crops[0], first=date(2027, 1, 20))
    found = found_in(replace(mild, crops=(plan,), away=(away,), start_up=replace(mild.start_up, state="new")))
    assert found[0].state == "by_choice"
    assert (found[1].state, found[1].last) == ("nobody", date(2027, 2, 10))


def test_what_would_not_be_ready_in_time_is_too_late(mild: Garden):
    found = found_in(replace(mild, crops=(replace(mild.crops[0], months=(1, 2, 3, 4, 5)),)))
    late = [one for one in found if one.state == "too_late"]
    assert [one.last for one in late] == [date(2027, 5, 31)]


@pytest.mark.parametrize(
    ("state", "air", "light"), [("slow_cold", 13.0, 40.0), ("slow_hot", 39.0, 40.0), ("slow_dark", 24.0, 4.0)]
)
def test_a_slow_crop_has_what_slows_it_most(mild: Garden, state: str, air: float, light: float):
    year = usual_year.usual_year_of(mild)
    other = replace(
        year,
        air_c=year.air_c * 0.0 + air,
        water_c=year.water_c * 0.0 + 22.0,
        light_mol_m2_d=year.light_mol_m2_d * 0.0 + light,
    )
    assert set(opening.slow_because(crop("basil"), other)) == {state}


def test_each_state_that_is_told_has_its_sentence(mild: Garden):
    for state in get_args(PlaceState):
        if state in ("growing", "by_choice", "frost", "too_cold", "too_hot", "too_dark"):
            continue
        one = Spell(0, "basil", "bed", state, date(2027, 5, 1), date(2027, 5, 30))
        said = empty_beds.spells([one, replace(one, first=date(2027, 7, 1))], "bed", words.Reader())
        assert said.startswith("Basil, bed: ")
        assert " and " in said
