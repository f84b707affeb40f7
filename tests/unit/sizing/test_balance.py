from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from yard import yard

from aquacalc import fish
from aquacalc.errors import InputError
from aquacalc.garden.model import Measured, Power, SolidsFilter
from aquacalc.sizing import balance, changes, limits, stock
from aquacalc.sizing.balance import nearest


@pytest.fixture(scope="module")
def found():
    return balance.balance(yard())


def test_months_run_in_the_plans_order(found):
    assert found.months == (3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 1, 2)


def test_catfish_eat_nothing_before_they_are_stocked_and_nothing_in_the_cold(found):
    demand = dict(zip(found.months, found.demand.feed_g_day.middle, strict=True))
    assert demand[3] == 0.0
    assert demand[1] == 0.0
    assert demand[7] > demand[5] > demand[4] > 0.0


def test_weight_limits_have_no_answer_where_nothing_is_eaten(found):
    density = dict(zip(found.months, found.limit("density").feed_g_day.middle, strict=True))
    assert np.isnan(density[1])
    assert density[7] > 0.0


def test_bands_are_in_order(found):
    for limit in found.limits:
        for one in (limit.feed_g_day, limit.fish_kg, limit.fish_count, limit.bed_m2):
            answered = ~np.isnan(one.middle)
            assert (one.low[answered] <= one.middle[answered]).all()
            assert (one.middle[answered] <= one.high[answered]).all()


def test_power_cut_counts_only_while_no_backup_is_named(found):
    assert found.limit("power_cut").counts
    backed = replace(yard(), power=Power("battery air", 500.0, 20.0, 8.0, True))
    assert not balance.balance(backed).limit("power_cut").counts


def test_where_the_power_cut_binds_the_next_limit_is_named(found):
    assert found.binding.key == "power_cut"
    assert found.binding.next_key == "oxygen"


def test_binding_is_the_largest_share_of_its_kind(found):
    at = found.months.index(found.binding.month)
    shares = [
        found.demand.feed_g_day.middle / limit.feed_g_day.middle
        for limit in found.limits
        if limit.must and limit.counts
    ]
    assert np.nanmax(shares) == pytest.approx(found.binding.share)
    assert found.binding.demand_g_day == found.demand.feed_g_day.middle[at]


def test_no_fish_in_the_plan_means_no_binding_limit(found):
    later = replace(yard().fish[0], stocked=date(2029, 1, 1))
    empty = balance.balance(replace(yard(), fish=(later,)))
    assert empty.binding is None
    assert empty.outage is None


def test_first_year_is_half_of_the_smallest_limit(found):
    must = [limit for limit in found.limits if limit.must and limit.counts]
    least = min(np.nanmin(limit.fish_count.middle) for limit in must)
    assert found.first_year_count.middle == pytest.approx(least / 2.0)


def test_a_first_year_is_never_advised_more_than_what_is_said_to_be_carried(found):
    assert found.binding.key == "power_cut"
    carried = found.limit("power_cut").fish_count
    month = found.months.index(found.binding.month)
    assert found.first_year_count.high <= carried.high[month]
    backed = balance.balance(replace(yard(), power=replace(yard().power, backup="battery air")))
    assert backed.first_year_count.middle > found.first_year_count.middle


def test_a_measured_flow_overrides_the_box():
    measured = balance.balance(replace(yard(), measured=(Measured("flow", 900.0, "L/h"),)))
    assert measured.measured_flow
    assert measured.flow_l_h.middle == pytest.approx(900.0, rel=0.01)


def test_response_time_is_half_of_the_tenth_percentile(found):
    half = found.outage.danger_h.low / 2.0
    assert half - 1.0 / 60.0 < found.outage.response_h <= half


def test_the_power_cut_is_told_for_the_month_in_which_help_must_come_soonest(found):
    now, fishes, _ = balance.conditions(yard())
    hours = limits.just_fed_hours(now, fishes.kg, fishes.weight_g)
    low = np.nanpercentile(hours, 10, axis=0)
    assert found.outage.month == found.months[int(np.nanargmin(low))]


def test_a_settler_lifts_the_solids_limit():
    settled = balance.balance(replace(yard(), solids_filter=SolidsFilter("radial", 60.0, 0.3)))
    plain = balance.balance(yard())
    assert settled.limit("solids").feed_g_day.middle[0] == pytest.approx(
        2.0 * plain.limit("solids").feed_g_day.middle[0], rel=1e-3
    )


def test_the_medium_of_a_separate_filter_carries_the_whole_demand(found):
    alone = replace(yard(), beds=tuple(replace(bed, flood_m=1e-6) for bed in yard().beds))
    # The litres count on water that passes the filter quickly enough, and is no warmer for that.
    quick = replace(
        alone,
        pumps=tuple(
            replace(pump, count=20 * pump.count, power_w=pump.power_w / 20.0) for pump in alone.pumps
        ),
    )
    with_filter = changes.more_biofilter(quick, float(found.biofilter.media_litres.middle))
    at = found.months.index(found.biofilter.month)
    carried = balance.balance(with_filter).limit("nitrification").feed_g_day.middle[at]
    assert carried == pytest.approx(found.demand.feed_g_day.middle[at], rel=0.25)


def test_oxygen_is_wanted_midway_between_critical_and_full_feed():
    assert limits.oxygen_wanted_mg_l(yard()) == pytest.approx(4.5)


def test_nitrogen_of_the_demand_is_accounted_for(found):
    plants = found.plants
    one = balance.balance(yard(), members=1)
    at = one.months.index(7)
    left = (
        one.plants.dissolved_g_n_day.middle[at]
        - one.plants.gas_g_n_day.middle[at]
        - one.plants.uptake_g_n_day.middle[at]
    )
    assert left > 0.0
    assert plants.drift_mg_n_l_day.middle[at] > 0.0


def test_handbook_asks_for_several_times_what_the_nitrogen_balance_does(found):
    at = found.months.index(7)
    assert found.plants.area_rule_g_day.middle[at] > 3.0 * found.plants.balance_g_day.middle[at]


def test_fish_that_have_their_final_weight_keep_it():
    fat = replace(yard().fish[0], weight_g=600.0)
    grown = balance.balance(replace(yard(), fish=(fat,)))
    assert np.nanmax(grown.demand.weight_g.high) == pytest.approx(600.0)


def test_fish_stocked_long_ago_are_grown_to_the_plans_first_day():
    old = replace(yard().fish[0], stocked=date(2026, 4, 1))
    assert balance.balance(replace(yard(), fish=(old,))).demand.weight_g.middle[0] > 200.0


def test_month_positions_cover_the_year_once():
    assert np.bincount(stock.month_of_day(date(2026, 11, 1))).tolist() == [
        30, 31, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31,
    ]  # fmt: skip


def test_nearest_without_limits_of_a_kind_is_none(found):
    assert nearest(found.months, found.demand, (), must=True) is None


def test_where_backup_air_is_named_the_next_limit_binds(found):
    backed = balance.balance(replace(yard(), power=Power("battery air", 500.0, 20.0, 8.0, True)))
    assert backed.binding.key == found.binding.next_key == "oxygen"
    assert backed.binding.next_key == "nitrification"
    assert backed.limit("oxygen").feed_g_day.middle == pytest.approx(found.limit("oxygen").feed_g_day.middle)


def test_two_species_share_the_tanks_at_the_density_of_the_one_that_bears_less():
    one = yard()
    (batch,) = one.fish
    other = replace(batch, name="others", species="rainbow_trout")
    alone = fish.species(batch.species).density_max_kg_m3, fish.species(other.species).density_max_kg_m3
    assert alone[0] != alone[1]
    for both in ((batch, other), (other, batch)):
        assert limits.density_kg_m3(replace(one, fish=both)) == min(alone)
    kept = [limits.density_kg(replace(one, fish=batches)) for batches in ((batch,), (other,), (batch, other))]
    assert kept[2] == min(kept)


def test_without_fish_there_is_nothing_to_balance():
    with pytest.raises(InputError) as refused:
        balance.balance(replace(yard(), fish=()))
    assert [one.key for one in refused.value.problems] == ["problem-no-fish"]
