import re

import numpy as np
import pandas as pd
import seasons
from hand_made_season import crop_batch, on, season

from aquacalc.harvest import days
from aquacalc.season.result import DAILY

UNITS = ("c", "g", "kg", "l", "eq", "m2", "mg_l", "mol_m2_d")


def test_a_row_a_day_with_low_middle_and_high():
    water = np.array([[10.0], [11.0], [12.0], [13.0], [14.0]])
    found = days.table(season(water_c=water))
    assert found["date"].tolist() == list(pd.date_range("2027-03-01", "2027-03-10"))
    assert found.loc[3, ["water_low_c", "water_middle_c", "water_high_c"]].tolist() == [10.4, 12.0, 13.6]


def test_crops_and_fish_are_added_up():
    run = season(
        fish=[{"taken": on(2, 1.0), "taken_kg": on(2, 0.5)}, {"taken": on(2, 2.0), "taken_kg": on(2, 0.25)}],
        batches=[crop_batch(), crop_batch("mint")],
        crops=[{"picked_kg": on(2, 0.2)}, {"picked_kg": on(2, 0.3)}],
    )
    found = days.table(run).loc[2]
    assert (found["fish_taken_middle"], found["fish_taken_middle_kg"], found["picked_middle_kg"]) == (
        3,
        0.75,
        0.5,
    )


def test_columns_carry_their_units_and_stand_for_what_a_season_has():
    names = [f"{name}_{unit}" if unit else name for name, unit in days.DAILY]
    assert set(names) <= set(DAILY)
    columns = list(days.table(season()).columns)[1:]
    units = {re.fullmatch(r".*_(?:low|middle|high)_?(.*)", column)[1] for column in columns}  # type: ignore[index]
    assert units - {""} == set(UNITS)
    without = {column for column in columns if column.endswith(("low", "middle", "high"))}
    assert without == {
        f"{name}_{end}" for name in ("ph", "ration", "fish_taken") for end in ("low", "middle", "high")
    }


def test_bands_are_in_order():
    found = days.table(seasons.season("yard"))
    for column in found.columns:
        if "_low" in column:
            middle, high = column.replace("_low", "_middle"), column.replace("_low", "_high")
            assert (found[column] <= found[middle]).all(), column
            assert (found[middle] <= found[high]).all(), column
    assert len(found) == 365
