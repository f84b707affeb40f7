"""How much base a week: by the grower's own readings where they show a trend, else by the feed.

Alkalinity that a week used up is what the readings fell by and the base that was given meanwhile; this
overrides the budget from feed, and both are shown. None of it is an order: each portion waits for a test.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import inf
from typing import Literal

from aquacalc import tables
from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.logbook import trend
from aquacalc.logbook.log import Log, Reading
from aquacalc.sizing.alkalinity import Use, use_by_feed
from aquacalc.water import dosing


@dataclass(frozen=True)
class Weekly:
    """Both reckonings. by_readings: None where readings are too few; count, first, last: of the readings.

    given_mg_l: base given meanwhile, mg/L CaCO3 a week, counted into it. feed_g_day: of the other reckoning;
    feed_noted: from the log, else what the fish of the plan want.
    """

    by_feed: Use
    feed_g_day: float
    feed_noted: bool
    by_readings: Use | None = None
    given_mg_l: float = 0.0
    count: int = 0
    first: date | None = None
    last: date | None = None

    @property
    def counts(self) -> Literal["readings", "feed"]:
        """Which of the two counts."""
        return "feed" if self.by_readings is None else "readings"

    @property
    def days(self) -> int:
        """Days between the first and the last reading; 0 without readings."""
        return 0 if self.first is None or self.last is None else (self.last - self.first).days

    @property
    def use(self) -> Use:
        """The one that counts."""
        return self.by_feed if self.by_readings is None else self.by_readings


def of_garden(garden: Garden, feed_g_day: float, log: Log | None = None, day: date | None = None) -> Weekly:
    """Both reckonings for a garden; feed_g_day: what its fish want, where the log notes no feed.

    day: readings up to it count; the last one of alkalinity where not given.
    """
    volume_l = litres.litres_of(garden).whole
    found, until = None, day
    if log is not None:
        readings = log.all("alkalinity")
        until = until or (readings[-1].day if readings else None)
        even = without_doses(log, garden, volume_l)
        found = None if until is None else trend.of_log(even, garden, "alkalinity", until)
    fed = [] if log is None or until is None else _within(log.all("feed"), found, until)
    noted = len(fed) >= trend.FEWEST
    feed = sum(one.value for one in fed) / len(fed) if noted else feed_g_day
    by_feed = use_by_feed(feed, garden.protein_fraction(), volume_l)
    if log is None or found is None:
        return Weekly(by_feed, feed, noted)
    weeks = (found.last - found.first).days / DAYS_PER_WEEK
    given = (
        base_given_mg_l([one for one in log.all("dose") if found.first <= one.day < found.last], volume_l)
        / weeks
    )
    return Weekly(
        by_feed=by_feed,
        feed_g_day=feed,
        feed_noted=noted,
        by_readings=Use(-found.slope_high, -found.slope, -found.slope_low),
        given_mg_l=given,
        count=found.count,
        first=found.first,
        last=found.last,
    )


def without_doses(log: Log, garden: Garden, volume_l: float) -> Log:
    """The log as if no base had been given: each alkalinity less what was given on the days before it.

    A reading that only bounds the water is left out after a dose. Doses are taken out, and the notes of their
    days: they are reckoned with.
    """
    doses = log.all("dose")
    rows = []
    for row in log.rows:
        before = base_given_mg_l([one for one in doses if one.day < row.day], volume_l)
        readings = [one for one in row.readings if one.parameter not in ("dose", "alkalinity")]
        readings += [
            even
            for one in row.readings
            if one.parameter == "alkalinity" and (even := _lowered(one, before, garden)) is not None
        ]
        dosed = any(one.parameter == "dose" for one in row.readings)
        rows.append(replace(row, readings=tuple(readings), note="" if dosed else row.note))
    return replace(log, rows=tuple(rows))


def _lowered(reading: Reading, by_mg_l: float, garden: Garden) -> Reading | None:
    if by_mg_l == 0.0:
        return reading
    span = trend.interval(reading, garden)
    half = (span.high - span.low) / 2.0
    if not 0.0 < half < inf:
        return None
    return replace(reading, value=(span.low + span.high) / 2.0 - by_mg_l, half=half, beyond="")


def _within(fed: Sequence[Reading], found: trend.Trend | None, until: date) -> list[Reading]:
    if found is not None:
        return [one for one in fed if found.first <= one.day <= found.last]
    return [one for one in fed if 0 <= (until - one.day).days <= trend.WINDOW_DAYS]


def base_given_mg_l(doses: Sequence[Reading], volume_l: float) -> float:
    """Alkalinity that noted doses brought, mg/L CaCO3; what has none, and acids elsewhere, brought none."""
    bases = {row.key for row in tables.load("chemicals") if row.text("kind") == "base"}
    return sum(
        float(dosing.rise_of_grams_mg_l(dosing.chemical(one.subject), one.value, volume_l))
        for one in doses
        if one.subject in bases
    )


def grams(use_mg_l: float, chemical: str, volume_l: float, purity: float = 1.0) -> float:
    """Grams of a base for an alkalinity; none where it rises by itself."""
    of = dosing.chemical(chemical)
    return float(dosing.grams_for_alkalinity(of, max(use_mg_l, 0.0), volume_l, purity))
