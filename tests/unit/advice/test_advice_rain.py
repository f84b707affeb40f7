"""Rain water: a roof, a barrel by month, what the roof is of; and what a loop drinks."""

from dataclasses import replace

import numpy as np
import pytest

from aquacalc.advice.new_water import rain, water_use
from aquacalc.errors import InputError
from aquacalc.garden import file, litres

ROOF = rain.Roof(20.0, (50.0,) * 12, (20.0,) * 12, 500.0)


def test_a_barrel_through_a_year_loses_no_water():
    found = rain.year(ROOF)
    # 5 falls of 10 mm on 20 m2, 0.8 of them less 20 L each: 700 L a month.
    assert found.caught_l == pytest.approx(np.full(12, 700.0))
    assert found.wanted_l.sum() == pytest.approx(20.0 * 365.0)
    assert found.given_l + found.missing_l == pytest.approx(found.wanted_l)
    assert found.caught_l.sum() == pytest.approx(found.given_l.sum() + found.over_l.sum(), abs=1.0)
    assert found.dry_months == ()
    assert found.bridged_d == pytest.approx(np.full(12, 25.0))


def test_dry_months_run_the_barrel_dry_and_a_larger_barrel_less():
    summer = tuple(0.0 if month in (6, 7, 8) else 60.0 for month in range(1, 13))
    small = rain.year(replace(ROOF, rain_mm=summer))
    large = rain.year(replace(ROOF, rain_mm=summer, barrel_l=3000.0))
    assert set(small.dry_months) >= {7, 8}
    assert small.dry_d[7] >= 30
    assert large.missing_l.sum() < small.missing_l.sum()
    assert large.over_l.sum() < small.over_l.sum()


def test_a_barrel_of_nothing_gives_what_falls_on_the_day():
    found = rain.year(replace(ROOF, barrel_l=0.0))
    assert found.given_l.sum() == pytest.approx(60 * 20.0)


def test_a_year_without_rain_is_refused():
    with pytest.raises(InputError, match="no-rain"):
        rain.year(replace(ROOF, rain_mm=(0.0,) * 12))


@pytest.mark.parametrize(
    ("described", "kind"),
    [
        ("Galvanised sheet", "zinc"),
        ("slate with lead flashing", "lead"),
        ("copper gutters on tile", "copper"),
        ("cedar shingles", "timber"),
        ("roofing felt", "felt"),
        ("tile, moss killer last spring", "moss"),
        ("greenhouse glass", "plain"),
        ("something", "not-known"),
    ],
)
def test_the_harder_word_of_a_roof_counts(described: str, kind: str):
    assert rain.kind(described) == kind


def test_metals_are_told_for_soft_water():
    found = rain.year(ROOF)
    assert found.copper_ug_l < found.zinc_ug_l < 50.0


def test_a_garden_drinks_most_when_it_is_hot_and_about_what_the_handbook_says():
    garden = file.find("demo:yard").garden
    use = water_use.of_garden(garden, members=40)
    share = use.whole_l_d.middle / litres.litres_of(garden).whole
    assert int(use.whole_l_d.middle.argmax()) + 1 in (5, 6, 7)
    assert float(share.min()) > 0.004
    assert float(share.max()) < 0.05
    assert np.all(use.whole_l_d.low <= use.whole_l_d.middle)
    parts = use.tanks_l_d + use.leaves_l_d + use.splashed_l_d
    assert parts == pytest.approx(use.whole_l_d.middle, rel=0.1)


def test_the_southern_garden_drinks_most_in_january():
    use = water_use.of_garden(file.find("demo:southern").garden, members=40)
    assert int(use.whole_l_d.middle.argmax()) + 1 in (12, 1)


def test_leaves_drink_in_the_months_in_which_their_crop_stands():
    garden = file.find("demo:yard").garden
    july = replace(garden, crops=tuple(replace(plan, months=(7,)) for plan in garden.crops))
    leaves = water_use.of_garden(july, members=20).leaves_l_d
    assert leaves[6] > 1.0
    assert leaves.sum() == pytest.approx(leaves[6])


def test_a_place_without_a_file_by_hand():
    place = water_use.Place(2.0, 3.0, 1000.0, "mild")
    found = water_use.of_place(place)
    # 3.5 mm: 2 m2 x 1.05 x 3.5 = 7.35, 3 m2 x 0.8 x 3.5 = 8.4, 0.3 % of 1000 L = 3.
    assert float(found.whole_l_d.middle[0]) == pytest.approx(7.35 + 8.4 + 3.0, rel=0.05)
    hot = water_use.of_place(replace(place, weather="hot-dry"))
    assert float(hot.whole_l_d.low[0]) > float(found.whole_l_d.high[0])


def test_counted_litres_go_before_the_weather():
    place = water_use.Place(2.0, 3.0, 1000.0, "cool", 210.0)
    found = water_use.of_place(place)
    assert float(found.whole_l_d.middle[0]) == pytest.approx(30.0, rel=0.03)
    assert float(found.tanks_l_d[0] + found.leaves_l_d[0] + found.splashed_l_d[0]) == pytest.approx(
        30.0, rel=0.1
    )


def test_months_go_round_the_year():
    assert rain.spans((1, 2, 11, 12)) == [(11, 12, 1, 2)]
    assert rain.spans((3, 7, 8)) == [(7, 8), (3,)]
    assert rain.spans(tuple(range(1, 13))) == [tuple(range(1, 13))]
