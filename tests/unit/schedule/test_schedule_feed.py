from dataclasses import replace

import numpy as np
import pytest
from hand_made_garden import garden

from aquacalc.garden.model import Feed
from aquacalc.schedule import feed


@pytest.mark.parametrize(
    ("grams", "spoons"),
    [
        (0.0, 0.0),
        (0.6, 0.0),
        (0.7, 0.25),
        (1.8, 0.25),
        (1.9, 0.5),
        (2.5, 0.5),
        (3.7, 0.5),
        (3.8, 1.0),
        (51.0, 10.0),
    ],
)
def test_spoons_go_by_halves_and_below_half_a_spoon_by_quarters(grams: float, spoons: float):
    assert feed.in_spoons(grams, 5.0) == spoons


def test_rounding_of_a_whole_ration_stays_within_a_quarter_spoon():
    for grams in np.linspace(2.5, 200.0, 500):
        assert abs(feed.in_spoons(grams, 5.0) * 5.0 - grams) <= 1.25 + 1e-9


def test_the_spoon_of_the_bag_for_the_size_of_the_fish():
    bags = (
        Feed("crumble", 45.0, from_weight_g=0.0, spoon_g=4.0),
        Feed("pellet", 35.0, from_weight_g=50.0, spoon_g=6.0),
    )
    made = replace(garden(), feeds=bags)
    assert feed.spoon_g(made, 20.0) == 4.0
    assert feed.spoon_g(made, 50.0) == feed.spoon_g(made) == 6.0


def test_a_usual_spoon_where_nobody_weighed_it():
    assert feed.spoon_g(garden()) == 5.0
