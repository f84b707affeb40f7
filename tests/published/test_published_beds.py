"""A handbook's weekly succession of lettuce against the solver of the beds."""

import numpy as np
import pytest
from published_rows import hold, ids, rows

from aquacalc.planner.filling import Asked, Choice, filled, steadiest

ROWS = rows("beds")
SEASON_WEEKS = 30


def weekly(weeks, plants_m2):
    """A planting in each week; it stands for so many weeks and is picked when they are over."""
    return [
        Choice("lettuce", 0, week, week + weeks - 1, 4.0, ((week + weeks, float(plants_m2)),))
        for week in range(SEASON_WEEKS - weeks)
    ]


def steady(bed_m2, weeks, plants_m2):
    return steadiest(weekly(weeks, plants_m2), Asked((float(bed_m2),), SEASON_WEEKS), "lettuce")


def planted(bed_m2, weeks, plants_m2, heads):
    """Choices and their areas for a wish."""
    choices = weekly(weeks, plants_m2)
    found = filled(choices, Asked((float(bed_m2),), SEASON_WEEKS, {"lettuce": float(heads)}))
    return choices, found.areas_m2


def standing(bed_m2, weeks, plants_m2, heads):
    """Plants in the bed in the middle of the season, the mean of two weeks."""
    choices, areas = planted(bed_m2, weeks, plants_m2, heads)
    middle = (SEASON_WEEKS // 2, SEASON_WEEKS // 2 + 1)
    return (
        np.mean(
            [
                sum(area for area, one in zip(areas, choices, strict=True) if one.first <= week <= one.last)
                for week in middle
            ]
        )
        * plants_m2
    )


def picked_a_week(bed_m2, weeks, plants_m2, heads):
    _, areas = planted(bed_m2, weeks, plants_m2, heads)
    return float(areas.sum()) * plants_m2 / (SEASON_WEEKS - weeks)


NAMES = {"steady": steady, "standing": standing, "picked_a_week": picked_a_week}


@pytest.mark.parametrize(("table", "row"), ROWS, ids=ids(ROWS))
def test_the_published_succession_is_matched(table, row):
    hold(row, NAMES)
