from dataclasses import replace
from datetime import date

import numpy as np
from hand_made_garden import garden

from aquacalc.climate import months
from aquacalc.garden import usual_year
from aquacalc.garden.model import Garden, MonthlyClimate, Season
from aquacalc.schedule import positions

WARMING = MonthlyClimate(
    air_max_c=(6.0, 8.0, 12.0, 17.0, 21.0, 25.0, 27.0, 27.0, 23.0, 17.0, 11.0, 7.0),
    air_min_c=(-1.0, 0.0, 3.0, 7.0, 11.0, 15.0, 17.0, 17.0, 13.0, 8.0, 4.0, 0.0),
)


def under(cover: str, latitude_deg: float = 40.0) -> Garden:
    made = garden()
    site = replace(made.site, cover=cover, climate=WARMING, latitude_deg=latitude_deg)
    return replace(made, site=site)


def test_the_days_keep_the_monthly_means():
    year = usual_year.usual_year_of(under("open"))
    assert np.allclose(months.monthly_means(year.outdoor_night_c), WARMING.air_min_c)
    assert np.allclose(year.night_c, year.outdoor_night_c)
    mean = (np.array(WARMING.air_max_c) + np.array(WARMING.air_min_c)) / 2.0
    assert np.allclose(months.monthly_means(year.air_c), mean)


def test_a_greenhouse_is_warmer_by_day_and_night_and_darker():
    inside, outside = usual_year.usual_year_of(under("greenhouse")), usual_year.usual_year_of(under("open"))
    assert np.allclose(inside.air_c - outside.air_c, 3.5)
    assert np.allclose(inside.night_c - inside.outdoor_night_c, 3.5)
    assert np.allclose(inside.light_mol_m2_d, 0.6 * outside.light_mol_m2_d)


def test_the_polar_night_has_no_light_and_never_less():
    light = usual_year.usual_year_of(under("open", 75.0)).light_mol_m2_d
    assert light.min() == 0.0
    assert light.max() > 40.0


def test_days_count_a_leap_year_and_what_lies_around_the_season():
    days = positions.around(Season(date(2028, 2, 1), date(2028, 12, 31)), before=31, after=1)
    assert (days.first, days.day(days.start), days.day(days.end)) == (
        date(2028, 1, 1),
        date(2028, 2, 1),
        date(2028, 12, 31),
    )
    assert days.count == 367
    assert (days.of_year[0], days.of_year[59], days.of_year[60], days.of_year[-2]) == (0, 58, 59, 364)
    assert (days.month[59], days.month[60]) == (2, 3)
    assert all(days.weekday[n] == days.day(n).weekday() for n in range(days.count))
    assert days.position(date(2028, 1, 11)) == 10


def test_spans_at_the_edges_and_too_short_ones():
    mask = np.array([True, True, False, True, False, True, True, True])
    assert positions.spans(mask, 2) == [(0, 2), (5, 8)]
    assert positions.spans(~mask) == [(2, 3), (4, 5)]
