from dataclasses import replace
from datetime import date

import numpy as np
import pandas as pd
import pytest
from hand_made_garden import garden
from hand_made_season import on, season

from aquacalc.garden.model import FishBatch, Garden
from aquacalc.harvest import fish

GROWING = np.array([480.0, 485.0, 490.0, 495.0, 500.0, 505.0, 510.0, 515.0, 520.0, 525.0])
"""The hand-made garden's perch are of size at 500 g, which is on day 4."""


def with_fish(**fields: object) -> Garden:
    made = garden()
    return replace(made, fish=(replace(made.fish[0], **fields),))  # type: ignore[type-var]


def row(of: Garden, **batch: object) -> pd.Series:
    found = fish.plan(season(fish=[{"count": 20.0, "weight_g": GROWING, **batch}]), of)
    assert len(found) == 1
    return found.iloc[0]


def test_a_batch_with_takes():
    taken = on(3, [1.0, 2.0, 3.0, 4.0, 5.0]) + on(6, 1.0)
    found = row(garden(), taken=taken, taken_kg=0.5 * taken, dead=0.5)
    assert (found["batch"], found["species"], found["tank"]) == ("Perch", "silver_perch", "Pool")
    assert (found["stocked"], found["stocked_count"], found["stocked_g"]) == (
        pd.Timestamp("2026-09-01"),
        20,
        100,
    )
    assert (found["taken_low"], found["taken_middle"], found["taken_high"]) == pytest.approx((2.4, 4.0, 5.6))
    assert (found["kg_low"], found["kg_middle"], found["kg_high"]) == pytest.approx((1.2, 2.0, 2.8))
    assert found["weight_middle_g"] == 525.0
    assert found["first_of_size_middle"] == pd.Timestamp("2027-03-04")


def test_edible_is_gutted():
    taken_kg = on(5, 10.0)
    found = row(garden(), taken=on(5, 20.0), taken_kg=taken_kg)
    from aquacalc.fish import species

    assert found["edible_kg_middle"] == pytest.approx(10.0 * species("silver_perch").gutted_pct / 100.0)


def test_the_first_fish_of_size_is_a_whole_one():
    # Shares of fish that the model takes in every member: a whole one is together on day 6.
    shares = np.array([0, 0.1, 0.1, 0.1, 0.2, 0.2, 0.3, 1, 1, 1])
    found = row(garden(), taken=np.tile(shares, (5, 1)))
    assert found["first_of_size_low"] == found["first_of_size_high"] == pd.Timestamp("2027-03-07")


def test_without_takes_the_mean_weight_tells():
    assert row(garden())["first_of_size_middle"] == pd.Timestamp("2027-03-05")
    assert pd.isna(row(garden(), weight_g=400.0)["first_of_size_low"])


def test_what_leaves_on_the_last_day_is_not_of_size_for_it():
    early = with_fish(until=date(2027, 3, 3), final_weight_g=900.0)
    found = row(early, taken=on(2, 20.0), taken_kg=on(2, 10.0))
    assert found["taken_middle"] == 20.0
    assert pd.isna(found["first_of_size_middle"])


def test_the_weight_is_that_of_the_last_day_with_fish():
    weight = np.where(np.arange(10) < 6, GROWING, np.nan)
    assert row(garden(), weight_g=weight)["weight_high_g"] == 505.0
    nowhere = row(garden(), count=0.0, weight_g=np.nan)
    assert np.isnan(nowhere["weight_middle_g"])


@pytest.mark.parametrize("fields", [{"eaten": False}, {"species": "goldfish"}])
def test_fish_that_are_not_eaten_have_no_kg(fields: dict[str, object]):
    found = row(with_fish(**fields), taken=on(2, 3.0), taken_kg=on(2, 1.5))
    assert found["taken_middle"] == 3.0
    assert np.isnan([found["kg_low"], found["kg_middle"], found["kg_high"], found["edible_kg_middle"]]).all()


def test_a_garden_without_fish():
    empty = replace(garden(), fish=())
    assert list(fish.plan(season(), empty).columns) == list(fish.PLAN)


def test_batches_keep_their_own_rows():
    made = garden()
    second = FishBatch("Carp", "common_carp", 5, 50.0, date(2027, 3, 2), 800.0, "Pool")
    both = replace(made, fish=(*made.fish, second))
    run = season(fish=[{"count": 20.0, "weight_g": 300.0}, {"count": 5.0, "weight_g": 60.0}])
    found = fish.plan(run, both)
    assert found["batch"].tolist() == ["Perch", "Carp"]
    assert found["weight_low_g"].tolist() == [300.0, 60.0]
