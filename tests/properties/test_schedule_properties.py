"""Whatever the garden: beds hold what is planted, days stand in their order, work waits for the grower."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
from hand_made_garden import garden
from hypothesis import given, settings
from hypothesis import strategies as st

from aquacalc import crops as growth
from aquacalc import tables
from aquacalc.garden import frost, usual_year
from aquacalc.garden.model import Away, Bed, CropPlan, Garden, MonthlyClimate, Season, StartUp
from aquacalc.schedule import absences, crops, positions, space, tasks

CROPS = tables.load("crops").keys()
BED_M2 = 6.0
ALL = tuple(range(1, 13))
some = settings(max_examples=60, deadline=None)


@st.composite
def climates(draw: st.DrawFn, latitude_deg: float) -> MonthlyClimate:
    """Warmest in July, or January south of the equator; colder and wider away from it."""
    away = abs(latitude_deg) / 70.0
    mean = 27.0 - 28.0 * away + draw(st.floats(-4.0, 4.0))
    swing = 16.0 * away + draw(st.floats(0.0, 3.0))
    daily = draw(st.floats(2.0, 8.0))
    warmest = 6 if latitude_deg >= 0.0 else 0
    means = [mean + swing * np.cos(2.0 * np.pi * (month - warmest) / 12.0) for month in range(12)]
    return MonthlyClimate(tuple(one + daily for one in means), tuple(one - daily for one in means))


@st.composite
def plans(draw: st.DrawFn, season: Season) -> CropPlan:
    months = draw(
        st.one_of(st.just(ALL), st.sets(st.integers(1, 12), min_size=1).map(lambda m: tuple(sorted(m))))
    )
    days = [season.start + timedelta(days=n) for n in range((season.end - season.start).days + 1)]
    return CropPlan(
        crop=draw(st.sampled_from(CROPS)),
        bed="bed",
        area_m2=draw(st.floats(0.2, BED_M2 / 2)),
        months=months,
        heads_per_week=draw(st.sampled_from([0.0, 0.0, 2.0, 10.0])),
        first=draw(st.one_of(st.none(), st.sampled_from(days))),
        loss_pct=draw(st.one_of(st.none(), st.floats(0.0, 60.0))),
        plants_m2=draw(st.one_of(st.none(), st.floats(1.0, 60.0))),
    )


@st.composite
def gardens(draw: st.DrawFn) -> Garden:
    latitude = draw(
        st.one_of(st.floats(-70.0, 70.0), st.sampled_from([-69.0, -34.0, 0.0, 5.0, 52.0, 66.0, 70.0]))
    )
    start = draw(st.dates(date(2027, 1, 1), date(2028, 12, 31)))
    season = Season(start, start + timedelta(days=draw(st.sampled_from([364, 364, 120, 800]))))
    made = garden()
    site = replace(
        made.site,
        latitude_deg=latitude,
        climate=draw(climates(latitude)),
        cover=draw(st.sampled_from(["open", "shade", "greenhouse", "indoors"])),
        setting=draw(st.sampled_from(["home", "school"])),
    )
    leaves = start + timedelta(days=draw(st.integers(-10, 360)))
    gone = Away(leaves, leaves + timedelta(days=draw(st.integers(0, 70))), "")
    return replace(
        made,
        site=site,
        season=season,
        beds=(Bed("bed", "media", BED_M2, 0.3, 0.25, "gravel"),),
        crops=tuple(draw(st.lists(plans(season), min_size=1, max_size=2))),
        away=draw(st.sampled_from([(), (gone,)])),
        start_up=StartUp(draw(st.sampled_from(["running", "new"]))),
    )


@some
@given(gardens())
def test_beds_hold_what_is_planted(made: Garden):
    found = crops.batches(made)
    whole = space.space(found, made)
    assert (whole.used_m2 <= BED_M2 * (1.0 + 1e-9)).all()
    for position, plan in enumerate(made.crops):
        own = space.space([one for one in found if one.plan == position], made)
        assert (own.used_m2 <= plan.area_m2 * (1.0 + 1e-9)).all()


@some
@given(gardens())
def test_the_days_of_a_batch_stand_in_their_order(made: Garden):
    for one in crops.batches(made):
        plan, season = made.crops[one.plan], made.season
        assert season.start <= one.plant <= season.end
        assert one.plant <= one.leaves
        assert one.plant.month in plan.months
        if one.state == "closed":
            continue
        assert one.leaves.month in plan.months
        if one.sow is not None:
            assert season.start <= one.sow < one.plant
            assert one.seeds >= one.plants > 0
        if one.first_pick is None or one.last_pick is None:
            assert (one.state, one.first_pick, one.last_pick) == ("too_late", None, None)
            continue
        assert one.first_pick <= one.last_pick <= one.leaves
        assert one.plant < one.first_pick or one.state == "standing"
        assert one.age_d == 0.0 or one.state == "standing"
        for begins, ends in one.stands_still:
            assert one.plant <= begins < ends <= one.ends


@some
@given(gardens())
def test_what_is_picked_has_grown_up(made: Garden):
    """Growth from planting to the first pick is at least the crop's days at its reference temperature."""
    days = positions.around(made.season, 0, 1200)
    year = usual_year.usual_year_of(made)
    for one in crops.batches(made):
        if one.first_pick is None:
            continue
        of = growth.crop(one.crop)
        factor = growth.growth_factor(of, year.air_c, year.light_mol_m2_d)[days.of_year]
        grown = one.age_d + factor[days.position(one.plant) : days.position(one.first_pick)].sum()
        assert grown >= of.days.typical - 1e-6


@some
@given(gardens())
def test_work_waits_for_the_grower(made: Garden):
    found = crops.batches(made)
    for one in found:
        if one.state == "planned":
            assert absences.away(one.plant, made) is None
        if one.in_bed and one.first_pick is not None and one.first_pick > one.plant:
            assert absences.away(one.first_pick, made) is None
    told = tasks.tasks_of(made, found)
    waiting = [one for one in told if one.key not in ("fast", "feed_stop", "feed_again")]
    assert all(one.away is None for one in waiting)
    assert [one.day for one in told] == sorted(one.day for one in told)


@some
@given(gardens())
def test_a_wished_week_is_picked_or_left_out_for_want_of_room(made: Garden):
    found = crops.cropping(made)
    for position, plan in enumerate(made.crops):
        own = [one for one in found.batches if one.plan == position]
        if plan.heads_per_week == 0.0:
            assert found.weeks_without_room[position] == 0
        elif own and own[0].in_bed:
            assert len({one.area_m2 for one in own}) == 1


@some
@given(latitude=st.floats(-70.0, 70.0), data=st.data())
def test_frost_days_of_hardier_classes_hold_those_of_tender_ones(latitude: float, data: st.DataObject):
    made = garden()
    site = replace(made.site, latitude_deg=latitude, climate=data.draw(climates(latitude)))
    year = usual_year.usual_year_of(replace(made, site=site))
    free = [frost._frost_free(site, year, lead, lead) for lead in (-14, 0, 17, 35)]
    for narrow, wide in pairwise(free):
        assert (narrow <= wide).all()
