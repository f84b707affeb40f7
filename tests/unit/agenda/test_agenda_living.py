"""Fish that would not live through heat or cold are out before, in the model as on every sheet."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import plans
import pytest
import seasons
from hand_made_garden import garden
from hand_made_season import season

from aquacalc import fish
from aquacalc.agenda import living
from aquacalc.compare import side_by_side
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Away, Garden, Season
from aquacalc.pages import jobs, sheets
from aquacalc.pages.plan import Plan, make, through
from aquacalc.season.result import SeasonRun
from aquacalc.season.start import Start

FIRST = date(2027, 3, 1)
DAYS = 120
SATURDAY = 5


def warming(deadly_from: int, warm_from: int) -> SeasonRun:
    """Water that becomes too warm for silver perch, and then deadly."""
    kind = fish.species(garden().fish[0].species)
    water = np.full((5, DAYS), 20.0)
    water[:, warm_from:] = kind.warm_limit_c + 0.5
    water[:, deadly_from:] = kind.lethal_high_c
    return season(days=DAYS, fish=[{"count": 20.0, "weight_g": 100.0}], water_c=water)


def test_fish_are_out_on_the_last_garden_day_before_the_heat():
    (found,) = living.taken_out(warming(deadly_from=90, warm_from=70), garden())
    assert found.reason == "heat"
    assert found.day.weekday() == SATURDAY
    last = FIRST + timedelta(days=69)
    assert last - timedelta(days=6) <= found.day <= last


def test_nobody_takes_fish_out_in_an_absence():
    last = FIRST + timedelta(days=69)
    away = replace(garden(), away=(Away(last - timedelta(days=20), last + timedelta(days=9), "a neighbour"),))
    (found,) = living.taken_out(warming(deadly_from=90, warm_from=70), away)
    assert found.day < last - timedelta(days=20)


def test_warm_water_in_which_they_live_takes_no_fish_out():
    assert living.taken_out(warming(deadly_from=DAYS, warm_from=70), garden()) == ()
    early = replace(garden(), fish=(replace(garden().fish[0], until=FIRST + timedelta(days=60)),))
    gone = warming(deadly_from=90, warm_from=70)
    gone.fish["count"][:, :, 60:] = 0.0
    assert living.taken_out(gone, early) == ()


def with_trout(stocked: date) -> Garden:
    """Trout in the southern garden, whose summer they do not live through."""
    southern = seasons.garden("southern")
    batch = replace(
        southern.fish[0],
        name="trout",
        species="rainbow_trout",
        weight_g=75.0,
        final_weight_g=340.0,
        stocked=stocked,
    )
    return replace(southern, fish=(batch,))


@pytest.fixture(scope="module")
def trout() -> tuple[Garden, Plan]:
    of = with_trout(date(2027, 10, 2))
    lived = living.season(of, 12, 1, Start(), "")
    plan = through(make(lived.garden, lived.garden.reader, plans.MADE, 12, 1), lived)
    return of, plan


@pytest.mark.slow
def test_model_and_paper_end_with_the_day_on_which_they_are_taken_out(trout: tuple[Garden, Plan]):
    of, plan = trout
    assert of.fish[0].until is None
    assert plan.agenda is not None
    (out,), (leaving,) = plan.taken_out, plan.agenda.leavings
    assert (out.reason, leaving.reason, leaving.day) == ("heat", "heat", out.day)
    run = plan.season
    assert run is not None
    assert run.fish["count"][0][:, run.day(out.day) :].max() == 0.0
    assert not [one for one in plan.agenda.rations if one.last >= out.day]
    after = [one for one in jobs.entries(plan) if one.subject == "trout" and one.day > out.day]
    assert after == []
    told = str(sheets.wall(plan, "months"))
    assert "they do not live through the heat" in told


@pytest.mark.slow
def test_the_findings_tell_why_the_file_is_not_followed(trout: tuple[Garden, Plan]):
    _, plan = trout
    found = {one.key: one for one in plan.findings}
    deadly = found["finding-temperature-season-deadly-hot"]
    before = found["finding-temperature-season-out-before-heat"]
    assert deadly.level == "emergency"
    assert before.first is not None
    assert deadly.first is not None
    assert plan.taken_out[0].day <= before.first < deadly.first


@pytest.mark.slow
def test_fish_that_would_have_to_leave_as_they_come_are_not_stocked():
    of = with_trout(date(2027, 12, 20))
    lived = living.season(of, 4, 1, Start(), "")
    assert [(one.batch, one.day) for one in lived.taken_out] == [("trout", of.fish[0].stocked)]
    assert lived.garden.fish[0].stocked > of.season.end
    assert lived.run.fish["count"].max() == 0.0
    plan = through(make(lived.garden, of.reader, plans.MADE, 4, 1), lived)
    assert plan.agenda is not None
    assert (plan.agenda.rations, plan.agenda.stockings, plan.agenda.leavings) == ((), (), ())
    assert "finding-temperature-season-deadly-hot" in {one.key for one in lived.warnings or ()}


OUT = (living.TakenOut("perch", date(2027, 5, 22), "heat"),)


def changed(**batch) -> Garden:
    """The garden with its one batch, of a name, changed."""
    found = garden()
    named = replace(found.fish[0], name="perch", stocked=date(2027, 3, 6), until=None)
    return replace(found, fish=(replace(named, **batch),))


def test_a_changed_garden_has_the_same_fish_out_as_the_one_as_written():
    found = living.version_of(changed(count=7), changed(), OUT)
    assert [(one.count, one.until) for one in found.fish] == [(7, date(2027, 5, 22))]


@pytest.mark.parametrize("own", [{"stocked": date(2027, 3, 20)}, {"until": date(2027, 5, 1)}])
def test_who_comes_on_another_day_or_leaves_before_stays_as_planned(own):
    assert living.version_of(changed(**own), changed(), OUT) == changed(**own)


def test_under_a_cover_the_fish_are_not_taken_out_for_the_water_without_it():
    covered = replace(changed(), heat=replace(changed().heat, cover=not changed().heat.cover))
    assert living.version_of(covered, changed(), OUT) == covered


@pytest.mark.slow
def test_a_comparison_has_the_numbers_of_the_plan_of_record():
    yard = GardenFile.open("demo:yard").garden
    trout = replace(yard.fish[0], species="rainbow_trout", stocked=date(2027, 3, 6), final_weight_g=300.0)
    doomed = replace(yard, fish=(trout,), crops=(), season=Season(date(2027, 3, 1), date(2027, 6, 30)))
    lived = living.season(doomed, 4, 1, Start(), "")
    assert [one.reason for one in lived.taken_out] == ["heat"]
    found, record = (side_by_side.compared(one, members=4).found for one in (doomed, lived.garden))
    assert np.array_equal(found.fish_kg, record.fish_kg)
    assert np.array_equal(found.judged["heat"].worst, record.judged["heat"].worst)
