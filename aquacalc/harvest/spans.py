"""Months and weeks of a season, bands as columns, days as dates: what the frames of this room share."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, Floats, band

Spans = list[tuple[date, slice]]
"""First calendar day of each span, and its days of the season; the first and last may be short."""


def months(run: SeasonRun) -> Spans:
    """The calendar months of a season, each with the first of the month."""
    firsts = [n for n in range(run.days) if n == 0 or run.date(n).day == 1]
    return [
        (run.date(first).replace(day=1), slice(first, after))
        for first, after in pairwise([*firsts, run.days])
    ]


def by_span(daily: Floats, spans: Spans, how: str) -> Band:
    """The mean, sum, min or max of each span, as a band over the members: (members, days) to (spans,)."""
    return band(np.stack([getattr(np, how)(daily[:, days], axis=1) for _, days in spans], axis=1), axis=0)


def columns(name: str, values: Band, unit: str = "") -> dict[str, Floats]:
    """A band as three columns: `NAME_low_UNIT`, `NAME_middle_UNIT`, `NAME_high_UNIT`."""
    tail = f"_{unit}" if unit else ""
    ends = {"low": values.low, "middle": values.middle, "high": values.high}
    return {f"{name}_{end}{tail}": value for end, value in ends.items()}


def numbers(name: str, values: Band, unit: str = "") -> dict[str, float]:
    """A band of single numbers, as `columns`."""
    return {column: float(value) for column, value in columns(name, values, unit).items()}


def first_days(happens: NDArray[np.bool_]) -> Floats:
    """The first day on which something happens, (members, days) to (members,); NaN where it never does."""
    return np.where(happens.any(axis=1), happens.argmax(axis=1), np.nan)


def last_days(happens: NDArray[np.bool_]) -> Floats:
    """The last day on which something happens, likewise."""
    last = happens.shape[1] - 1 - happens[:, ::-1].argmax(axis=1)
    return np.where(happens.any(axis=1), last, np.nan)


def dated(name: str, days: Floats, run: SeasonRun) -> dict[str, date | None]:
    """The band of a day over the members, (members,), as three dates; None where fewer than half have one."""
    found = numbers(name, band(days))
    return {column: _date(value, run) for column, value in found.items()}


def _date(day: float, run: SeasonRun) -> date | None:
    # To the nearest day: a percentile may lie between two.
    return None if np.isnan(day) else run.first + timedelta(days=int(np.floor(day + 0.5)))


def records(found: pd.DataFrame) -> list[dict[str, Any]]:
    """The rows of a frame."""
    return [{str(name): value for name, value in row.items()} for row in found.to_dict("records")]


def frame(rows: Sequence[dict[str, Any]], names: Sequence[str], dates: Sequence[str]) -> pd.DataFrame:
    """Rows as a frame with these columns, also where there are none; `dates` as days, NaT where None."""
    found = pd.DataFrame(list(rows), columns=list(names))
    return found.assign(**{name: pd.to_datetime(found[name]).astype("datetime64[ns]") for name in dates})
