"""What was done otherwise than planned, by the log: for the plan's page, as keys and amounts."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

import pandas as pd

from aquacalc.harvest import spans
from aquacalc.logbook import today
from aquacalc.logbook.log import Log
from aquacalc.logbook.today import Difference

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

COLUMNS = (
    "day", "key", "subject", "planned_day", "done_day", "days_late", "planned_count", "done_count", "fewer",
)  # fmt: skip
DATES = ("day", "planned_day", "done_day")


def differences(garden: Garden, log: Log | None) -> tuple[Difference, ...]:
    """What the log shows to have been done otherwise than planned, by day; nothing without a log."""
    return () if log is None else tuple(today.differences(garden, log))


def table(found: Sequence[Difference]) -> pd.DataFrame:
    """One row a difference: day, key, subject (the batch), and its amounts.

    planned_day, done_day, days_late (negative: early) where days differ; planned_count, done_count, fewer
    (negative: more) where numbers do; of `taken_early` the planned day and the number taken.
    """
    return spans.frame([_row(one) for one in found], COLUMNS, DATES)


def _row(one: Difference) -> dict[str, object]:
    row: dict[str, object] = {"day": one.day, "key": one.key, "subject": one.subject}
    for name, value in (("planned", one.planned), ("done", one.done)):
        row[f"{name}_day" if isinstance(value, date) else f"{name}_count"] = value
    if isinstance(one.planned, date):
        done = one.done if isinstance(one.done, date) else one.day
        row["days_late"] = (done - one.planned).days
    elif not isinstance(one.done, date):
        row["fewer"] = one.planned - one.done
    return row
