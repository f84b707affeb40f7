from dataclasses import replace

import pytest
from yard import yard

from aquacalc.garden.model import Measured, Power
from aquacalc.sizing import balance, changes


@pytest.fixture(scope="module")
def found():
    return changes.balance_with_changes(yard())


def test_backup_air_comes_first_where_the_power_cut_binds(found):
    first = found.changes[0]
    assert first.key == "change-backup-air"
    assert first.after_g_day.middle > first.before_g_day.middle


def test_a_change_brings_what_making_it_brings(found):
    change = next(one for one in found.changes if one.key == "change-flow")
    again = balance.balance(changes.more_flow(yard(), change.amount))
    at = found.months.index(found.binding.month)
    assert change.after_g_day.middle == again.limit("oxygen").feed_g_day.middle[at]


def test_fewer_fish_bring_the_demand_under_the_next_limit(found):
    change = next(one for one in found.changes if one.key == "change-fewer-fish")
    at = found.months.index(found.binding.month)
    assert change.after_g_day.middle <= found.limit("oxygen").feed_g_day.middle[at]


def test_a_balanced_garden_is_not_asked_to_take_fish_out():
    few = replace(
        yard(),
        power=Power("battery air", 500.0, 20.0, 8.0, True),
        fish=(replace(yard().fish[0], count=5),),
    )
    assert not any(c.key == "change-fewer-fish" for c in changes.balance_with_changes(few).changes)


def test_more_flow_lifts_a_measured_flow_too():
    measured = replace(yard(), measured=(Measured("flow", 900.0, "L/h"),))
    assert changes.more_flow(measured, 100.0).measured[0].value == 1000.0


def test_more_bed_takes_its_crops_along():
    larger = changes.more_bed(yard(), 1.5)
    assert larger.beds[0].area_m2 == pytest.approx(3.0)
    assert larger.crops[0].area_m2 == pytest.approx(3.0)
    assert larger.crops[1].area_m2 == 1.5


def test_fewer_fish_leave_at_least_one():
    assert changes.fewer_fish(yard(), 100.0).fish[0].count == 1


@pytest.mark.parametrize(("amount", "rounded"), [(0.123, 0.13), (1.0, 1.0), (99.1, 100.0), (101.0, 110.0)])
def test_two_digits_rounded_up(amount, rounded):
    assert changes.two_digits_up(amount) == pytest.approx(rounded)
