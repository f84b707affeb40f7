from dataclasses import replace
from datetime import date

import numpy as np
import pandas as pd
import pytest
import seasons
from hand_made_garden import garden
from hand_made_season import on, season

from aquacalc.garden.model import Feed, Garden
from aquacalc.harvest import weeks
from aquacalc.season import rules

SPREAD = np.array([[1.0], [2.0], [3.0], [4.0], [5.0]])


def by_week(of: Garden | None = None, **daily: object) -> pd.DataFrame:
    # Ten days from a Monday; the garden day of a home is Saturday, so that weeks have five days each.
    return weeks.weeks(season(fish=[{"count": 10.0, "weight_g": 100.0}], **daily), of or garden())  # type: ignore[arg-type]


def test_weeks_begin_on_the_garden_day():
    found = by_week()
    assert found["week_start"].tolist() == [pd.Timestamp("2027-02-27"), pd.Timestamp("2027-03-06")]
    assert found["days"].tolist() == [5, 5]


def test_feed_is_the_mean_of_the_days_with_feed():
    found = by_week(feed_g=SPREAD * np.array([0, 0, 10, 10, 10, 20, 20, 0, 20, 20]))
    assert found["feed_middle_g_day"].tolist() == [30.0, 60.0]
    assert found["feed_low_g_day"].tolist() == pytest.approx([14.0, 28.0])
    assert found["feed_high_g_day"].tolist() == pytest.approx([46.0, 92.0])
    assert found["feed_spoons"].tolist() == [6.0, 12.0]  # of 5 g


def test_the_bag_is_that_for_the_mean_weight():
    bags = (Feed("Small", 40.0, spoon_g=4.0), Feed("Large", 32.0, from_weight_g=150.0, spoon_g=10.0))
    of = replace(garden(), feeds=bags)
    fed = {"feed_g": 20.0}
    small = weeks.weeks(season(fish=[{"count": 10.0}], fish_kg=1.0, **fed), of)
    large = weeks.weeks(season(fish=[{"count": 10.0}], fish_kg=2.0, **fed), of)
    assert small["feed_spoons"].tolist() == [5.0, 5.0]
    assert large["feed_spoons"].tolist() == [2.0, 2.0]


def test_water_is_a_mean_top_up_a_sum_and_oxygen_the_lowest():
    found = by_week(
        water_c=20.0 + on(0, 5.0),
        top_up_l=SPREAD,
        oxygen_min_mg_l=6.0 - on(7, SPREAD[:, 0]),
        tan_mg_l=on(9, 1.0),
    )
    assert found["water_middle_c"].tolist() == [21.0, 20.0]
    assert found["top_up_middle_l"].tolist() == [15.0, 15.0]
    assert found["top_up_low_l"].tolist() == pytest.approx([7.0, 7.0])
    assert found["oxygen_min_middle_mg_l"].tolist() == [6.0, 3.0]
    assert found["tan_high_mg_l"].tolist() == [0.0, 0.2]


def test_base_is_told_in_grams_of_what_is_on_the_shelf():
    of = garden()
    shelf = rules.bases(of)
    found = by_week(of, base_eq=on(8, SPREAD[:, 0]))
    assert found["base_product"].tolist() == ["+".join(one.key for one in shelf)] * 2
    whole = sum(one.share * one.grams_eq for one in shelf)
    assert found["base_middle_g"].tolist() == pytest.approx([0.0, 3.0 * whole])

    single = weeks.by_product(season(base_eq=on(8, 3.0)), of)
    assert single["product"].unique().tolist() == [one.key for one in shelf]
    last = single[single["week_start"] == pd.Timestamp("2027-03-06")]
    assert last["middle_g"].sum() == pytest.approx(3.0 * whole)


def test_potassium_bicarbonate_by_its_formula():
    # Hard water: potassium alone; an equivalent of KHCO3 weighs 100.115 g.
    made = garden()
    hard = replace(made, top_up=replace(made.top_up, calcium_mg_l=150.0))
    found = weeks.weeks(season(base_eq=on(0, 2.0)), hard)
    assert found["base_product"][0] == "potassium_bicarbonate"
    assert found["base_middle_g"][0] == pytest.approx(200.23, abs=0.01)


def test_batches_of_fish_have_their_own_feed():
    made = garden()
    carp = replace(made.fish[0], name="Carp", tank="Pond")
    run = season(
        fish=[
            {"count": 10.0, "weight_g": 100.0, "feed_g": 12.0},
            {"count": 5.0, "weight_g": np.where(np.arange(10) < 3, np.nan, 40.0), "feed_g": on(4, 3.0)},
        ]
    )
    found = weeks.by_batch(run, replace(made, fish=(made.fish[0], carp)))
    assert found["batch"].tolist() == ["Perch", "Perch", "Carp", "Carp"]
    assert found["tank"].tolist() == ["Pool", "Pool", "Pond", "Pond"]
    assert found["feed_middle_g_day"].tolist() == [12.0, 12.0, 3.0, 0.0]
    assert found["feed_spoons"].tolist() == [2.5, 2.5, 0.5, 0.0]
    assert found["weight_middle_g"].tolist() == [100.0, 100.0, 40.0, 40.0]


def test_a_season_shorter_than_its_first_week():
    run = season(days=3, fish=[{"count": 1.0, "weight_g": 50.0}], feed_g=4.0)
    assert weeks.weeks(run, garden())[["days", "feed_middle_g_day"]].to_numpy().tolist() == [[3, 4.0]]


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_in_demo_gardens_weeks_cover_the_season(name: str):
    run, of = seasons.season(name), seasons.garden(name)
    found = weeks.weeks(run, of)
    assert found["days"].sum() == run.days
    assert (found["week_start"].diff().dropna() == pd.Timedelta(days=7)).all()
    assert found["week_start"][0] <= pd.Timestamp(run.first) < found["week_start"][1]
    assert (found["feed_low_g_day"] <= found["feed_high_g_day"]).all()
    assert found["week_start"][0].weekday() == (1 if name == "classroom" else 5)
    assert date(2027, 1, 1) < run.first
