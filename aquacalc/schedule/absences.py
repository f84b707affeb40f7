"""The day of the week for garden work, and what becomes of work that falls into an absence."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from aquacalc.garden.model import Away, Garden, Setting

GARDEN_DAYS: dict[Setting, int] = {"home": 5, "community": 5, "school": 1}
"""Day of the week for all that can wait, 0 on Monday: Saturday; in a school Tuesday, when someone was there
the day before. Common practice, no source."""

DAY = timedelta(days=1)


def garden_day(garden: Garden) -> int:
    """Weekday of the garden day, 0 on Monday."""
    return GARDEN_DAYS[garden.site.setting]


def away(day: date, garden: Garden) -> Away | None:
    """The absence that a day falls into."""
    return next((one for one in garden.away if one.start <= day <= one.end), None)


def who(day: date, garden: Garden) -> str | None:
    """Who looks after the garden on a day: None where the grower is there, empty where nobody is."""
    found = away(day, garden)
    return None if found is None else found.who


def around(day: date, garden: Garden) -> tuple[date, date]:
    """Last garden day before the absence that a day falls into, and first day after it; else the day itself.

    Absences that follow each other count as one.
    """
    if away(day, garden) is None:
        return day, day
    before = after = day
    while (found := away(before, garden)) is not None or before.weekday() != garden_day(garden):
        before = found.start - DAY if found is not None else before - DAY
    while (found := away(after, garden)) is not None:
        after = found.end + DAY
    return before, after


def moved(day: date, garden: Garden) -> tuple[date, date | None]:
    """A day of work, out of an absence, and the day from which it was moved (None where it was not).

    To the last garden day before or to the first day after, whichever is nearer (the earlier one of two as
    near); never to before the plan begins. What lies before that stays.
    """
    before, after = around(day, garden)
    if before == after or day < garden.season.start:
        return day, None
    if before >= garden.season.start and day - before <= after - day:
        return before, day
    return after, day
