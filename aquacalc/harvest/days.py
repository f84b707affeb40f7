"""The season day by day as one table, for a spreadsheet."""

from __future__ import annotations

from typing import Any

import pandas as pd

from aquacalc.harvest import spans
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import band

DAILY = (
    ("water", "c"),
    ("air", "c"),
    ("light", "mol_m2_d"),
    ("feed", "g"),
    ("ration", ""),
    ("fish", "kg"),
    ("tan", "mg_l"),
    ("nitrite", "mg_l"),
    ("nitrate", "mg_l"),
    ("unionised_max", "mg_l"),
    ("ph", ""),
    ("alkalinity", "mg_l"),
    ("oxygen", "mg_l"),
    ("oxygen_min", "mg_l"),
    ("top_up", "l"),
    ("base", "eq"),
    ("calcium", "mg_l"),
    ("potassium", "mg_l"),
    ("iron", "mg_l"),
    ("bed_used", "m2"),
)
"""Names of `season.result.DAILY` that go into the table, without their units."""


def table(run: SeasonRun) -> pd.DataFrame:
    """One row a day: date, and of each quantity low, middle and high over the members.

    Always metric, with the unit in the column's name: those of `DAILY` (`season.result.DAILY` says what they
    are), and of all crops and all batches of fish together `picked_*_kg`, `fish_taken_*_kg` (live weight) and
    `fish_taken_*`.
    """
    days = pd.to_datetime([run.date(day) for day in range(run.days)]).astype("datetime64[ns]")
    data: dict[str, Any] = {"date": days}
    for name, unit in DAILY:
        data |= spans.columns(name, run.band(f"{name}_{unit}" if unit else name), unit)
    data |= spans.columns("picked", band(run.crops["picked_kg"].sum(axis=0), axis=0), "kg")
    data |= spans.columns("fish_taken", band(run.fish["taken"].sum(axis=0), axis=0))
    data |= spans.columns("fish_taken", band(run.fish["taken_kg"].sum(axis=0), axis=0), "kg")
    return pd.DataFrame(data)
