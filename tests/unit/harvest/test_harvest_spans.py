from datetime import date

import numpy as np
import pandas as pd
from hand_made_season import season

from aquacalc.harvest import spans
from aquacalc.uncertainty import Band


def test_months_are_cut_to_the_season():
    run = season(days=63, first=date(2027, 12, 30))
    assert spans.months(run) == [
        (date(2027, 12, 1), slice(0, 2)),
        (date(2028, 1, 1), slice(2, 33)),
        (date(2028, 2, 1), slice(33, 62)),
        (date(2028, 3, 1), slice(62, 63)),
    ]


def test_a_band_becomes_three_columns_with_the_unit_at_the_end():
    ends = Band(*(np.array(float(n)) for n in (1, 2, 3)))
    assert spans.numbers("water", ends, "c") == {
        "water_low_c": 1.0,
        "water_middle_c": 2.0,
        "water_high_c": 3.0,
    }
    assert list(spans.columns("ph", ends)) == ["ph_low", "ph_middle", "ph_high"]


def test_first_and_last_days():
    happens = np.array([[0, 1, 0, 1], [1, 0, 0, 0], [0, 0, 0, 0]], dtype=bool)
    np.testing.assert_array_equal(spans.first_days(happens), [1.0, 0.0, np.nan])
    np.testing.assert_array_equal(spans.last_days(happens), [3.0, 0.0, np.nan])


def test_dates_go_to_the_nearest_day_and_need_half_of_the_members():
    run = season()
    found = spans.dated("pick", np.array([0.0, 1.0, 2.0, 3.0]), run)
    # 0.3, 1.5 and 2.7 days after the first.
    assert found == {
        "pick_low": date(2027, 3, 1),
        "pick_middle": date(2027, 3, 3),
        "pick_high": date(2027, 3, 4),
    }
    rarely = spans.dated("pick", np.array([0.0, np.nan, np.nan]), run)
    assert set(rarely.values()) == {None}


def test_a_frame_without_rows_has_its_columns():
    found = spans.frame([], ("name", "day"), ("day",))
    assert list(found.columns) == ["name", "day"]
    assert pd.api.types.is_datetime64_any_dtype(found["day"])
