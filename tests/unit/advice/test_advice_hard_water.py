"""Hard top-up water: what a year leaves behind, what holds it, when it is used up and when to test."""

import math
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from aquacalc.advice.new_water import hard_water as advice
from aquacalc.advice.new_water import use_up
from aquacalc.errors import InputError
from aquacalc.uncertainty import Triangle
from aquacalc.water import top_up

CERTAIN = Triangle(1.0, 1.0, 1.0)
HARD = advice.Hard(
    volume_l=2000.0,
    top_up_l_d=(100.0,) * 12,
    let_out_l_d=40.0,
    feed_g_d=(0.0,) * 12,
    protein_share=0.32,
    planted_m2=0.0,
    alkalinity_mg_l=200.0,
    hardness_mg_l=250.0,
    sodium_mg_l=40.0,
    temperature_c=24.0,
    water_share=CERTAIN,
)
FED = replace(HARD, top_up_l_d=(10.0,) * 12, let_out_l_d=1.0, feed_g_d=(150.0,) * 12, volume_l=4000.0)
START = date(2027, 4, 1)


def test_a_year_without_feed_is_plain_build_up():
    found = advice.after_a_year(HARD).ends
    expected = float(top_up.after_days_mg_l(top_up.Loop(2000.0, 60.0, 40.0), 40.0, 40.0, 0.0))
    assert found["sodium"].after == pytest.approx((expected,) * 3)
    assert found["hardness"].after[1] / found["sodium"].after[1] == pytest.approx(250.0 / 40.0)
    assert "conductivity" not in found


def test_lime_settles_out_of_hard_water_only():
    hard = advice.after_a_year(HARD)
    unbound = float(top_up.after_days_mg_l(top_up.Loop(2000.0, 60.0, 40.0), 200.0, 200.0, 0.0))
    assert hard.ends["alkalinity"].after[2] < 0.75 * unbound
    assert hard.ends["alkalinity"].after[0] > 0.7 * hard.scale_from_mg_l
    soft = advice.after_a_year(replace(HARD, hardness_mg_l=0.0))
    assert soft.ends["alkalinity"].after == pytest.approx((unbound,) * 3)
    settled = use_up.plan(replace(HARD, alkalinity_mg_l=400.0), START)
    assert settled.lime_g_week[1] > 10.0
    assert settled.fall_mg_l_week[1] < 0.0 or settled.reaches[0].early is None


def test_what_is_used_up_on_the_way_is_told_though_it_comes_back():
    summer = tuple(400.0 if month in (6, 7) else 0.0 for month in range(1, 13))
    found = advice.after_a_year(replace(FED, volume_l=1000.0, feed_g_d=summer))
    assert found.least_mg_l == (0.0, 0.0, 0.0)
    assert found.ends["alkalinity"].after[0] > 20.0


def test_conductivity_builds_up_like_a_salt_where_it_is_known():
    found = advice.after_a_year(replace(HARD, conductivity_us_cm=400.0)).ends
    assert found["conductivity"].after[1] == pytest.approx(10.0 * found["sodium"].after[1])


def test_the_exchange_that_is_named_holds_the_line():
    fed = replace(HARD, feed_g_d=(50.0,) * 12)
    low, middle, high = advice.after_a_year(fed).ends["sodium"].hold_l_d
    assert low < middle < high
    loop = top_up.Loop(2000.0, 60.0, high)
    most = float(top_up.after_days_mg_l(loop, 40.0, 40.0, 50.0 / 1000.0 * 8.0, 1e5))
    least = float(top_up.after_days_mg_l(loop, 40.0, 40.0, 50.0 / 1000.0 * 2.0, 1e5))
    assert least < advice.LINES["sodium"] < most


def test_no_exchange_holds_what_the_top_up_holds_itself():
    hold = advice.after_a_year(replace(HARD, sodium_mg_l=60.0)).ends["sodium"].hold_l_d
    assert all(math.isinf(one) for one in hold)
    wished = {**advice.LINES, "sodium": 61.0}
    hold = advice.after_a_year(replace(HARD, sodium_mg_l=60.0), wished).ends["sodium"].hold_l_d
    assert not any(math.isinf(one) for one in hold)


def test_alkalinity_used_is_the_charge_balance_of_the_feed_nitrogen():
    # 100 g of feed with 32 % protein hold 5.12 g N; fish keep 0.2 to 0.44 of it, so that no more than
    # 4.1 g can be turned into nitrate, at 3.573 g CaCO3 each.
    used = advice.use_g_d(replace(HARD, feed_g_d=(100.0,) * 12))
    assert used.shape == (200, 12)
    assert 4.0 < float(np.median(used)) < 5.12 * 0.7 * 3.573
    assert float(used.max()) < 5.12 * 0.8 * 3.573
    assert float(used.min()) > 0.0


def test_plants_give_alkalinity_back_but_never_more_than_was_used():
    bare = advice.use_g_d(FED)
    some = advice.use_g_d(replace(FED, planted_m2=3.0))
    jungle = advice.use_g_d(replace(FED, planted_m2=1000.0))
    assert np.all(some < bare)
    assert np.all(jungle <= some)
    assert np.all(jungle > 0.0)


def test_the_band_is_no_wider_than_what_moves_it_and_the_widest_stands_first():
    moved = advice.moved_by(replace(FED, planted_m2=3.0))
    widths = [width for _, width in moved]
    assert widths == sorted(widths, reverse=True)
    assert {name for name, _ in moved} == {"fish", "plants", "gas", "solids", "water"}
    assert dict(moved)["water"] == 0.0
    low, _, high = advice.after_a_year(replace(FED, planted_m2=3.0)).use_g_d
    assert widths[0] < high - low < sum(widths)


def test_the_solids_and_plants_of_a_bare_clean_loop_move_nothing():
    assert dict(advice.moved_by(FED))["plants"] == 0.0
    assert dict(advice.moved_by(replace(FED, feed_g_d=(0.0,) * 12)))["solids"] == 0.0


def test_hard_water_is_used_up_to_80_before_40_and_tests_go_until_then():
    found = use_up.plan(FED, START)
    first, second = found.reaches
    assert found.falls == "surely"
    assert first.early is not None
    assert first.late is not None
    assert second.late is not None
    assert START < first.early <= first.late < second.late
    assert found.tests[0] == START
    assert found.tests[-1] <= second.late
    gaps = [after - before for before, after in zip(found.tests, found.tests[1:], strict=False)]
    assert all(timedelta(days=7) <= gap <= timedelta(days=28) for gap in gaps)
    inside = [day for day in found.tests if first.early <= day <= second.late]
    assert len(inside) >= (second.late - first.early).days // 7


def test_a_plan_by_hand():
    # Nothing uncertain: a fall of 20 mg/L a week that was seen goes from 200 to 80 in six weeks.
    seen = replace(FED, seen_mg_l_week=20.0)
    found = use_up.plan(seen, START)
    assert found.seen
    assert found.reaches[0].middle is not None
    assert abs((found.reaches[0].middle - START).days - 42) <= 3
    assert found.reaches[1].middle is not None
    assert abs((found.reaches[1].middle - START).days - 56) <= 4
    assert found.reckoned_mg_l_week == use_up.plan(FED, START).fall_mg_l_week


def test_more_feed_is_earlier_and_more_hard_top_up_later():
    def middle(asked: advice.Hard) -> date:
        found = use_up.plan(asked, START).reaches[0].middle
        assert found is not None
        return found

    assert middle(replace(FED, feed_g_d=(200.0,) * 12)) < middle(FED)
    assert middle(replace(FED, top_up_l_d=(20.0,) * 12)) > middle(FED)
    assert middle(replace(FED, now_mg_l=150.0)) < middle(FED)


def test_without_fish_hard_water_stays_and_a_soft_loop_has_nothing_to_wait_for():
    stays = use_up.plan(HARD, START)
    assert stays.falls == "not"
    assert stays.reaches[0].early is None
    assert len(stays.tests) == use_up.MOST_TESTS
    there = use_up.plan(replace(FED, now_mg_l=60.0), START)
    assert there.reaches[0].there
    assert there.tests[1] - there.tests[0] == timedelta(days=7)


def test_the_months_of_the_plan_are_those_after_its_start():
    winter = tuple(0.0 if month in (11, 12, 1, 2) else 150.0 for month in range(1, 13))
    slow = use_up.plan(replace(FED, feed_g_d=winter), date(2027, 11, 1))
    fast = use_up.plan(replace(FED, feed_g_d=winter), date(2027, 6, 1))
    assert slow.reaches[0].early is not None
    assert slow.reaches[0].early >= date(2028, 3, 1)
    assert fast.reaches[0].early is not None
    assert fast.reaches[0].early < date(2027, 8, 1)


def test_what_does_not_fit_together_is_refused():
    with pytest.raises(InputError, match="let-out-above"):
        advice.after_a_year(replace(HARD, let_out_l_d=120.0))
    with pytest.raises(InputError, match="top-up-above-loop"):
        use_up.plan(replace(HARD, volume_l=90.0), START)
