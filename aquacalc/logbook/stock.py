"""How many fish of a batch there are by the log."""

from datetime import date, timedelta

from aquacalc.logbook.log import Log, Reading
from aquacalc.logbook.plan import Batch

EARLIER_FISH_DAYS = 183
"""Entries that lie further before the day of stocking speak of earlier fish of the same name. Common
practice, no source."""

LATE_DAYS = 60
"""Fish that come up to so long after the planned day are the planned ones; those that come later are added.
Common practice, no source."""


def of_batch(log: Log, batch: Batch, parameter: str, until: date = date.max) -> tuple[Reading, ...]:
    """Readings of a batch, without those of earlier fish of its name, up to a day."""
    first = batch.stocked - timedelta(days=EARLIER_FISH_DAYS)
    return tuple(one for one in log.all(parameter, batch.name) if first <= one.day <= until)


def stocking(log: Log, batch: Batch) -> tuple[Reading, ...]:
    """The entries by which the planned fish came, on one day or several; none where the log does not tell."""
    last = batch.stocked + timedelta(days=LATE_DAYS)
    return tuple(one for one in of_batch(log, batch, "stocked", last) if one.value > 0.0)


def number(log: Log, batch: Batch, day: date) -> int | None:
    """Fish of a batch on the evening of a day; None while they are not there.

    The last count, less what died or was taken and with what was stocked on later days. Without a count: what
    was stocked, less what died or was taken. A number below zero says that the log does not add up.
    """
    counts = of_batch(log, batch, "count", day)
    if not counts:
        came = _came(log, batch, day)
        return None if came is None else came - _sum(log, batch, ("dead", "taken"), day)
    last = counts[-1]
    since = _sum(log, batch, ("stocked",), day, last.day) - _sum(log, batch, ("dead", "taken"), day, last.day)
    return round(last.value) + since


def expected(log: Log, batch: Batch, day: date) -> int | None:
    """Fish that would be there on a day if none had died: what was stocked, less what was taken."""
    came = _came(log, batch, day)
    return None if came is None else came - _sum(log, batch, ("taken",), day)


def _came(log: Log, batch: Batch, day: date) -> int | None:
    """Fish stocked up to a day: by the log, or as planned and what it adds; None before the first came."""
    stocked = _sum(log, batch, ("stocked",), day)
    if stocking(log, batch):
        return stocked if stocking(log, batch)[0].day <= day else None
    return batch.count + stocked if batch.stocked <= day else None


def _sum(log: Log, batch: Batch, parameters: tuple[str, ...], until: date, after: date = date.min) -> int:
    found = (one for parameter in parameters for one in of_batch(log, batch, parameter, until))
    return round(sum(one.value for one in found if one.day > after))
