from dataclasses import replace
from datetime import date

import numpy as np
import pandas as pd
import pytest
import seasons
from hand_made_garden import garden
from hand_made_season import crop_batch, on, season

from aquacalc.garden.model import Bed
from aquacalc.harvest import crops

DAY = pd.Timestamp("2027-03-01")


def after(days: int) -> pd.Timestamp:
    return DAY + pd.Timedelta(days=days)


def test_one_row_a_batch_with_first_and_last_pick_of_each_member():
    picked = np.zeros((5, 10))
    for member in range(5):
        picked[member, member] = 1.0  # the first picks on days 0 to 4, the last on day 9
        picked[member, 9] = 2.0
    run = season(batches=[crop_batch()], crops=[{"picked_kg": picked}])
    found = crops.batches(run, garden()).iloc[0]
    assert [found[f"first_pick_{end}"] for end in ("low", "middle", "high")] == [after(0), after(2), after(4)]
    assert [found[f"last_pick_{end}"] for end in ("low", "middle", "high")] == [after(9)] * 3
    assert (found["kg_low"], found["kg_middle"], found["kg_high"]) == (3.0, 3.0, 3.0)
    assert found["short"] == 0.0
    assert (found["plan"], found["crop"], found["bed"], found["area_m2"]) == (0, "basil", "North bed", 2.0)
    assert (found["plant"], found["leaves"], found["plants"]) == (after(0), after(10), 8)
    assert pd.isna(found["sow"])


def test_members_that_pick_nothing_are_left_out_of_the_dates_and_counted():
    picked = on(4, [1.0, 1.0, 1.0, 0.0, 0.0])
    found = crops.batches(season(batches=[crop_batch()], crops=[{"picked_kg": picked}]), garden()).iloc[0]
    assert found["first_pick_low"] == found["first_pick_high"] == after(4)
    assert found["short"] == pytest.approx(0.4)
    assert found["kg_low"] == 0.0
    assert found["kg_middle"] == 1.0


def test_fewer_than_half_are_no_date():
    picked = on(4, [1.0, 1.0, 0.0, 0.0, 0.0])
    found = crops.batches(season(batches=[crop_batch()], crops=[{"picked_kg": picked}]), garden()).iloc[0]
    assert pd.isna(found["first_pick_middle"])
    assert pd.isna(found["last_pick_middle"])


def test_spans_without_growth_are_handed_on():
    span = (date(2027, 3, 2), date(2027, 3, 9))
    run = season(batches=[crop_batch(stands_still=(span,)), crop_batch()], crops=[{}, {}])
    assert crops.batches(run, garden())["stands_still"].tolist() == [[span], []]


def test_by_month_adds_the_batches_of_a_crop():
    batches = [crop_batch("basil"), crop_batch("mint"), crop_batch("basil")]
    kg = [{"picked_kg": on(day, amount, 40)} for day, amount in ((2, 1.0), (3, 5.0), (35, 3.0))]
    found = crops.by_month(season(days=40, batches=batches, crops=kg)).set_index(["crop", "month"])
    march, april = pd.Timestamp("2027-03-01"), pd.Timestamp("2027-04-01")
    assert found.loc[("basil", march), "kg_middle"] == 1.0
    assert found.loc[("basil", april), "kg_high"] == 3.0
    assert found.loc[("mint", march), "kg_low"] == 5.0
    assert found.loc[("mint", april), "kg_low"] == 0.0


def test_space_is_the_mean_of_the_days_and_the_median_of_the_members():
    made = garden()
    beds = (*made.beds, Bed("South bed", "media", 4.0, 0.3, 0.25))
    stands = np.zeros((5, 40))
    stands[:3, :31] = 1.0  # three of five members through March
    stands[:, 31:34] = 1.0  # three of nine days in April
    run = season(days=40, batches=[crop_batch(area_m2=1.5)], crops=[{"stands": stands}])
    found = crops.space(run, replace(made, beds=beds)).set_index(["bed", "month"])
    march, april = pd.Timestamp("2027-03-01"), pd.Timestamp("2027-04-01")
    assert found.loc[("North bed", march)].tolist() == [1.5, 2.0, 0.75]
    assert found.loc[("North bed", april), "used_m2"] == pytest.approx(0.5)
    assert found.loc[("South bed", march)].tolist() == [0.0, 4.0, 0.0]


def test_a_garden_without_crops():
    run = season()
    assert list(crops.batches(run, garden()).columns) == list(crops.BATCHES)
    assert crops.by_month(run).empty
    assert crops.space(run, garden())["used_m2"].tolist() == [0.0]


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_in_demo_gardens_no_bed_is_fuller_than_full_and_nothing_is_picked_before_it_stands(name: str):
    run, of = seasons.season(name), seasons.garden(name)
    assert crops.space(run, of)["share"].between(0.0, 1.0 + 1e-6).all()
    found = crops.batches(run, of)
    picked = found[found["first_pick_low"].notna()]
    assert len(picked) > 0
    assert (picked["first_pick_low"] >= picked["plant"]).all()
    assert (picked["last_pick_high"] <= picked["leaves"]).all()
