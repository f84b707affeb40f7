from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
import seasons
from hand_made_garden import garden
from hand_made_season import crop_batch, on, season

from aquacalc.garden.model import Bed
from aquacalc.harvest import crops


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
    assert crops.by_month(run).empty
    assert crops.space(run, garden())["used_m2"].tolist() == [0.0]


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_in_demo_gardens_no_bed_is_fuller_than_full(name: str):
    run, of = seasons.season(name), seasons.garden(name)
    assert crops.space(run, of)["share"].between(0.0, 1.0 + 1e-6).all()
