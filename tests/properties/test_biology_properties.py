"""What must hold for any fish, film, crop, stone or kit."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from aquacalc import aeration, crops, film, fish, kits, nitrogen, power, tables, units
from aquacalc.garden.model import KitScale

typical = nitrogen.Kinetics.typical()
SPECIES = st.sampled_from(tables.load("species").keys()).map(fish.species)
CROPS = st.sampled_from(tables.load("crops").keys()).map(crops.crop)
STEPS = st.sampled_from(("ammonia", "nitrite"))
share = st.floats(0.0, 1.0)
water_c = st.floats(-1.0, 45.0)


def between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


def one_m2(step, temperature_c):
    """A square metre of a separate filter."""
    return film.film_of(step, [film.Surface(1.0, 0.8)], temperature_c, typical)


# Fish


@given(
    SPECIES,
    between(1, 1000),
    water_c,
    st.sampled_from(("resting", "fed", "just_fed")),
    between(0.1, 60),
    share,
)
def test_more_fish_never_need_less_oxygen(species, weight_g, temperature_c, state, kg_m3, more):
    use = fish.oxygen_use_mg_kg_h(species.oxygen_model, weight_g, temperature_c, state)
    assert use > 0
    few, many = (fish.hours_to_critical(8.0, 3.0, use, density) for density in (kg_m3, kg_m3 * (1 + more)))
    assert many <= few


@given(SPECIES, share, share)
def test_warmer_between_the_lower_corners_never_grows_less(species, one, other):
    corners = species.corners
    low, high = sorted(
        corners.feed_stop_low_c + part * (corners.tgc_high_c - corners.feed_stop_low_c)
        for part in (one, other)
    )
    cooler, warmer = fish.effective_temperature_c([low, high], corners)
    assert cooler <= warmer + 1e-9


@given(SPECIES, between(0.0, 60.0))
def test_nothing_grows_outside_the_corners_and_nothing_beyond_the_plain_formula(species, temperature_c):
    found = float(fish.effective_temperature_c(temperature_c, species.corners))
    inside = species.corners.feed_stop_low_c < temperature_c < species.corners.growth_zero_high_c
    assert 0.0 <= found <= temperature_c + 1e-9
    assert (found > 0.0) == inside


@given(
    st.lists(between(0, 35), min_size=1, max_size=60), between(0.1, 500), between(0.2, 2.5), between(0.5, 3)
)
def test_weights_are_the_daily_gains_summed_and_feed_is_conversion_times_gain(warmth, start_g, tgc, fcr):
    weights = fish.weights_g(start_g, tgc, warmth)
    gains = fish.daily_gain_g(weights[:-1], tgc, warmth)
    assert weights[0] == pytest.approx(start_g)
    assert weights[-1] == pytest.approx(start_g + gains.sum())
    feed = fish.daily_feed_g(weights[:-1], tgc, warmth, fcr)
    assert feed.sum() == pytest.approx(fcr * (weights[-1] - start_g), abs=1e-6)


@given(between(1, 100), between(101, 2000), between(0.2, 2.5), between(5, 30))
def test_days_to_weight_lead_to_that_weight(start_g, final_g, tgc, effective_c):
    days = float(fish.days_to_weight(start_g, final_g, tgc, effective_c))
    assert float(fish.tgc_from_samples(start_g, final_g, days * effective_c)) == pytest.approx(tgc)


@given(
    between(4, 12),
    between(1, 3.9),
    between(50, 900),
    between(0.1, 60),
    between(0.005, 0.3),
    between(0.2, 1.5),
)
def test_exchange_never_shortens_the_clock(start, critical, use, density, velocity, depth):
    alone = fish.hours_to_critical(start, critical, use, density)
    helped = fish.hours_to_critical(
        start, critical, use, density, exchange=fish.SurfaceExchange(12.0, velocity, depth)
    )
    assert helped >= alone * (1 - 1e-9)


@given(between(4, 12), between(1, 3.9), between(50, 900), between(0.5, 60), between(1, 1.5))
def test_the_clock_does_not_depend_on_the_units_of_the_tank(start, critical, use, kg_m3, film):
    pounds = units.to(kg_m3, "lb_us_gal")
    again = units.read(pounds, "density", unit="lb_us_gal")
    assert fish.hours_to_critical(start, critical, use, again, film) == pytest.approx(
        fish.hours_to_critical(start, critical, use, kg_m3, film)
    )


@given(st.integers(1, 12), between(5, 50), between(100, 900))
def test_more_cohorts_level_the_feed(cohorts, start_g, final_g):
    fewer, more = (fish.cohort_plan(start_g, final_g, n, 1.0, 25.0, 1.5) for n in (cohorts, cohorts + 1))
    assert 1.0 < more.peak_feed_share < fewer.peak_feed_share
    assert fewer.lowest_feed_share < more.lowest_feed_share < 1.0


# Nitrogen


@given(between(0, 0.45), between(0, 0.25), between(0, 0.1))
def test_shares_of_feed_nitrogen_sum_to_one(retained, faecal, uneaten):
    found = nitrogen.partition(retained, faecal, uneaten)
    assert found.retained + found.faecal + found.uneaten + found.dissolved == pytest.approx(1.0)


@given(between(0.01, 5000), between(0.1, 0.6), between(1, 10))
def test_a_limit_scaled_carries_as_much_more_feed(tan_g_day, protein, factor):
    feed = nitrogen.feed_for_tan_g_day(tan_g_day, protein)
    assert nitrogen.feed_for_tan_g_day(factor * tan_g_day, protein) == pytest.approx(factor * feed)
    assert nitrogen.tan_production_g_day(feed, protein) == pytest.approx(tan_g_day)


@given(STEPS, between(0, 20), between(0, 5), between(2, 40), between(5, 9.5), between(0, 12), between(0, 300))
def test_capacity_never_falls_with_substrate(step, substrate, more, temperature_c, ph, oxygen, alkalinity):
    low, high = (
        film.rate_g_d(step, one_m2(step, temperature_c), s, temperature_c, ph, oxygen, alkalinity, typical)
        for s in (substrate, substrate + more)
    )
    assert 0.0 <= low <= high * (1.0 + 1e-12)


@given(STEPS, between(0.01, 20), between(8, 34), between(6, 9), between(2, 12), between(20, 300))
def test_steady_substrate_undoes_the_capacity(step, substrate, temperature_c, ph, oxygen, alkalinity):
    around = (temperature_c, ph, oxygen, alkalinity, typical)
    here = one_m2(step, temperature_c)
    load = film.rate_g_d(step, here, substrate, *around)
    assume(load > 1e-6)
    assert float(film.steady_substrate_mg_l(step, here, load, *around)) == pytest.approx(substrate, rel=1e-9)
    assert substrate > film.lowest_substrate_mg_l(step, *around)


@given(STEPS, between(0.05, 10), between(8, 27), between(0.1, 2), between(1.05, 3))
def test_a_film_does_more_with_warmth_transfer_and_capacity_and_less_with_decay(
    step, substrate, temperature_c, transfer, factor
):
    def rate(celsius=temperature_c, way=transfer, **changed):
        constants = replace(typical, **changed)
        here = film.film_of(step, [film.Surface(1.0, way)], celsius, constants)
        return film.rate_g_d(step, here, substrate, celsius, 7.0, 6.5, 100.0, constants)

    usual = rate()
    assert rate(celsius=temperature_c + 1.0) >= usual
    assert rate(way=transfer * factor) >= usual
    assert rate(areal_capacity_g_m2_d=factor * typical.areal_capacity_g_m2_d) >= usual
    quicker = replace(typical.step(step), decay_1_d=factor * typical.step(step).decay_1_d)
    assert rate(**{step: quicker}) <= usual


@given(STEPS, between(0.05, 10), between(8, 34))
def test_endless_transfer_gives_the_law_without_films(step, substrate, temperature_c):
    own = typical.step(step)
    here = film.film_of(step, [film.Surface(1.0, 1e12)], temperature_c, typical)
    around = (temperature_c, 7.0, 6.5, 100.0, typical)
    active = here.most_g_d * nitrogen.rate_factor(step, *around)
    filled = 1.0 - (own.half_saturation_mg_l + substrate) * nitrogen.decay_1_d(
        step, temperature_c, typical
    ) / (own.growth_1_d * nitrogen.rate_factor(step, *around) * substrate)
    plain = active * max(filled, 0.0) * substrate / (own.half_saturation_mg_l + substrate)
    assert film.rate_g_d(step, here, substrate, *around) == pytest.approx(plain, rel=1e-9, abs=1e-12)


@given(STEPS, water_c, between(4, 11), between(0, 15), between(-1, 300), between(0, 3), between(0, 1))
def test_floats_and_arrays_give_the_same_rates(step, temperature_c, ph, oxygen, alkalinity, ammonia, acid):
    inputs = (temperature_c, ph, oxygen, alkalinity)
    one = nitrogen.rate_factor(step, *inputs, typical, ammonia, acid)
    many = nitrogen.rate_factor(step, *(np.full(3, x) for x in inputs), typical, np.full(3, ammonia), acid)
    assert isinstance(one, float)
    assert not isinstance(one, np.floating)
    assert np.array_equal(many, np.full(3, one)) or many == pytest.approx(one, rel=1e-12)
    assert 0.0 <= one <= 2.5


@given(between(0.01, 50), between(0, 50))
def test_oxidation_keeps_the_charge(nitrogen_mg, uptake_mg):
    """All nitrate of excreted ammonia taken up or denitrified costs no alkalinity."""
    processes = ("ammonia_added", "ammonia_oxidised", "nitrite_oxidised", "nitrate_taken_up")
    assert sum(nitrogen.alkalinity_change_mg(one, nitrogen_mg) for one in processes) == pytest.approx(0.0)
    assert nitrogen.alkalinity_change_mg("tan_taken_up", uptake_mg) == -nitrogen.alkalinity_change_mg(
        "nitrate_taken_up", uptake_mg
    )


# Crops


@given(CROPS, between(-10, 45), share, st.booleans())
def test_a_degree_more_is_no_cliff(crop, celsius, more, roots):
    """Growth, and the share worth picking, are slopes: less than 0.35 a degree at the steepest."""

    def at(degrees: float) -> tuple[float, float]:
        air, water = (24.0, degrees) if roots else (degrees, 20.0)
        growth = crops.warmth_factor(crop, air, water)
        return float(growth), float(crops.worth_picking(degrees, crop.picked_from_c, crop.picked_to_c))

    for before, after in zip(at(celsius), at(celsius + more), strict=True):
        assert abs(after - before) <= 0.35 * more + 1e-9


@given(CROPS, between(-10, 45), between(0, 10), between(5, 40))
def test_warmth_helps_up_to_the_cap_and_harms_beyond(crop, celsius, more, water):
    cool = min(celsius, crop.cap_c - more)
    hot = max(celsius, crop.heat_from_c)
    assert crops.warmth_factor(crop, cool, water) <= crops.warmth_factor(crop, cool + more, water)
    assert crops.warmth_factor(crop, hot, water) >= crops.warmth_factor(crop, hot + more, water)
    assert crops.warmth_factor(crop, celsius, water) >= crops.warmth_factor(crop, celsius, water + more)
    assert crops.warmth_factor(crop, celsius, water, 10.0) >= crops.warmth_factor(
        crop, max(celsius, crop.cap_c), water, 10.0 + more
    ) * (celsius >= crop.cap_c)


@given(CROPS, st.lists(between(-10, 45), min_size=30, max_size=30), share)
def test_a_warmer_bed_is_never_later_below_the_cap(crop, mean_c, warmer):
    cool = np.minimum(np.tile(mean_c, 30), crop.cap_c - warmer)
    factor, faster = (crops.growth_factor(crop, one) for one in (cool, cool + warmer))
    assert crops.days_to_harvest(faster, crop.days.typical) <= crops.days_to_harvest(
        factor, crop.days.typical
    )


@given(CROPS, between(0, 60), between(0, 60))
def test_light_helps_until_it_is_good(crop, light, more):
    good = crop.light_good_mol_m2_d
    low, high = (float(crops.light_factor(one, good)) for one in (light, light + more))
    assert 0.0 <= low <= high <= 1.0
    assert float(crops.light_factor(good + more, good)) == 1.0


@given(
    between(1, 60),
    between(20, 90),
    between(5, 40),
    between(4, 40),
    between(0.3, 1),
    between(0, 0.5),
    between(0, 0.5),
)
def test_succession_brings_the_wanted_heads(heads, bed_days, nursery_days, density, germination, loss, cull):
    found = crops.succession(heads, bed_days, nursery_days, density, germination, loss, cull)
    assert found.transplants * (1 - loss) >= heads - 1e-6
    assert found.seeds * germination * (1 - cull) >= found.transplants - 1e-6
    assert found.batches * 7 >= bed_days - 1e-6
    assert found.area_m2 * density == pytest.approx(found.places)


@given(between(0.1, 50), between(0.2, 0.5), between(0, 0.8), between(10, 5000))
def test_feed_for_the_uptake_leaves_nitrate_level(uptake, protein, denitrified, volume):
    feed = crops.feed_for_uptake_g_day(uptake, protein, 0.092, denitrified)
    tan = nitrogen.tan_production_g_day(feed, protein)
    assert crops.nitrate_drift_mg_l_d(tan, denitrified, uptake, volume) == pytest.approx(0.0, abs=1e-9)


@given(between(1, 50), between(0, 0.5), between(0.1, 1), between(5, 200), between(100, 5000))
def test_the_water_change_holds_nitrate(tan, denitrified, uptake_share, level, volume):
    uptake = uptake_share * tan * (1 - denitrified)
    exchange = crops.exchange_to_hold_l_day(tan, denitrified, uptake, level)
    drift = crops.nitrate_drift_mg_l_d(tan, denitrified, uptake, volume, exchange, level)
    assert drift == pytest.approx(0.0, abs=1e-9)


# Air and power


@given(between(1, 200), between(0.2, 2), between(0.01, 0.065), between(5, 32), between(0, 6))
def test_air_for_oxygen_undoes_the_field_rate(air, depth, transfer, temperature_c, oxygen):
    rate = aeration.field_rate_g_h(
        aeration.standard_rate_g_h(air, depth, transfer), temperature_c, oxygen, 9.0, 0.8, 0.98
    )
    needed = aeration.air_for_oxygen_l_min(rate, depth, transfer, temperature_c, oxygen, 9.0, 0.8, 0.98)
    assert needed == pytest.approx(air)


@given(between(0, 12), between(5, 14), between(0, 2), between(0, 34))
def test_a_fall_brings_water_towards_saturation_and_not_past_it(oxygen, saturation, height, temperature_c):
    after = aeration.oxygen_after_fall_mg_l(oxygen, saturation, aeration.deficit_ratio(height, temperature_c))
    assert min(oxygen, saturation) - 1e-9 <= after <= max(oxygen, saturation) + 1e-9


@given(between(1, 500), between(0.1, 72), between(0.5, 0.95), between(0.3, 0.9), between(0.5, 0.95))
def test_a_battery_lasts_as_long_as_it_was_chosen_for(watts, hours, converter, depth, ageing):
    system = power.BatterySystem(converter, depth, ageing)
    nameplate = power.battery_wh(watts, hours, system)
    assert nameplate > watts * hours
    assert power.battery_hours(nameplate, watts, system) == pytest.approx(hours)


# Kits


rising = st.lists(st.integers(0, 4000), min_size=2, max_size=9, unique=True).map(
    lambda values: tuple(value / 20 for value in sorted(values))
)
bases = st.sampled_from(
    (("tan", "N"), ("tan", "NH3"), ("tan", "NH4"), ("nitrite", "NO2"), ("nitrate", "NO3"))
)


@given(rising, between(-10, 300), bases)
def test_a_reading_lies_in_its_interval_and_ends_are_open(steps, shown, basis):
    scale = KitScale(*basis, steps)
    span = kits.interval(shown, scale)
    assert span.low <= shown <= span.high
    assert span.at_end == (shown <= steps[0] or shown >= steps[-1])
    inside = kits.interval_inside(shown, scale)
    assert kits.as_inside(span.high, scale) == inside.high
    assert inside.low <= inside.high


@given(rising, bases)
def test_the_intervals_of_the_steps_cover_the_line_once(steps, basis):
    spans = [kits.interval(step, KitScale(*basis, steps)) for step in steps]
    assert spans[0].low == -np.inf
    assert spans[-1].high == np.inf
    assert [one.high for one in spans[:-1]] == [one.low for one in spans[1:]]


@given(rising, between(0, 300), bases, st.booleans())
def test_a_limit_is_printed_at_the_first_step_at_or_beyond_it(steps, limit, basis, falling):
    scale = KitScale(*basis, steps)
    found = kits.act_value_on_scale(limit, scale, falling)
    assert found.value == pytest.approx(units.from_n(limit, basis[1]))
    beyond = [step for step in steps if (step <= found.value if falling else step >= found.value)]
    assert found.step == ((max if falling else min)(beyond) if beyond else None)


@given(rising, st.sampled_from((1, 2, 5, 10)), st.integers(0, 8), bases)
def test_dilution_widens_the_interval_by_its_factor(steps, dilution, place, basis):
    scale = KitScale(*basis, steps)
    shown = steps[place % len(steps)]
    plain, diluted = kits.interval(shown, scale), kits.interval(shown, scale, dilution)
    assert (diluted.low, diluted.high) == (plain.low * dilution, plain.high * dilution)


@given(rising, between(0, 300), st.sampled_from(kits.NITROGEN))
def test_without_a_basis_nothing_is_known(steps, shown, parameter):
    scale = KitScale(parameter, kits.NOT_KNOWN, steps)
    assert kits.as_inside(shown, scale) is None
    assert kits.interval_inside(shown, scale) is None
    assert kits.act_value_on_scale(shown, scale) is None
    assert kits.dilution_to_read(shown, scale) is None
