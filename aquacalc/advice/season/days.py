"""A season as its findings look at it: spans of days, who is in the water, amounts on a day.

The middle of the tries decides the level. Where only their unfavourable tenth passes `act today` the finding
is a `watch` of its own wording.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from aquacalc import tables
from aquacalc.advice.finding import Amount, Finding
from aquacalc.garden.model import FishBatch, Garden
from aquacalc.judge import lines
from aquacalc.judge.levels import SEVERITY, Level, worst
from aquacalc.season.result import SeasonRun
from aquacalc.tables import Row
from aquacalc.uncertainty import Band, Floats, band

Days = NDArray[np.bool_]
Severities = NDArray[np.int64]

GAP_DAYS = 3
"""Spans that lie no further apart than this are one. Common practice, no source."""
LEAST_DAYS = 2
"""Shorter spans are weather and no finding, but for emergencies. Common practice, no source."""
HALF_A_FISH = 0.5
"""Losses are shares: where less than this is left of a batch, none is there."""
NOTHING = 1e-5
"""Less than this of anything that is told, mg/L, g or L, cannot be measured."""
WATCH, ACT, EMERGENCY = (SEVERITY.index(level) for level in SEVERITY[1:])


@dataclass(frozen=True)
class Stretch:
    """Days of the season, both inclusive."""

    first: int
    last: int

    @property
    def days(self) -> int:
        """How many days it has."""
        return self.last - self.first + 1

    @property
    def slice(self) -> slice:
        """For arrays along the days."""
        return slice(self.first, self.last + 1)


def stretches(
    there: ArrayLike, gap: int = GAP_DAYS, least: int = LEAST_DAYS, near: ArrayLike | None = None
) -> tuple[Stretch, ...]:
    """Unbroken spans of days that are true; gaps up to `gap` days are bridged, spans under `least` dropped.

    near: days that neither begin nor end a span but count for no gap within one.

    >>> stretches([1, 1, 0, 0, 1, 0, 0, 0, 0, 1])
    (Stretch(first=0, last=4),)
    """
    days = np.asarray(there, dtype=bool)
    apart = ~days if near is None else ~days & ~np.asarray(near, dtype=bool)
    joined: list[Stretch] = []
    for day in np.flatnonzero(days).tolist():
        if joined and int(apart[joined[-1].last + 1 : day].sum()) <= gap:
            joined[-1] = Stretch(joined[-1].first, day)
        else:
            joined.append(Stretch(day, day))
    return tuple(one for one in joined if one.days >= least)


@dataclass(frozen=True)
class Spell:
    """A span of one level. may: only the unfavourable tenth of the tries is there.

    around: the whole span in which the middle is not fine, or the tenth at `act today` or worse.
    """

    level: Level
    stretch: Stretch
    around: Stretch
    may: bool = False


def spells(
    middle: Sequence[Level], tenth: Sequence[Level], near: Sequence[Level] | None = None
) -> tuple[Spell, ...]:
    """The findings of a row of days, from the level of each day's middle and unfavourable tenth.

    Each span of days that are not fine is one spell of its worst level: from the first to the last day of
    that level, twice where they lie apart. A level of a single day counts as the next milder one, but for an
    emergency. Where the middle stays at `watch` and the tenth reaches an emergency, both are told.

    near: the level that each day would have a little nearer to its line: what hovers about it is one span.

    >>> some = spells(["watch", "act today", "act today"], ["fine"] * 3)
    >>> [(one.level, one.stretch, one.around) for one in some]
    [('act today', Stretch(first=1, last=2), Stretch(first=0, last=2))]
    """
    most, far = _severity(middle), _severity(tenth)
    close = most if near is None else _severity(near)
    found = []
    for around in stretches((most >= WATCH) | (far >= ACT), least=1, near=close >= WATCH):
        inside = np.zeros(most.size, dtype=bool)
        inside[around.slice] = True
        told = _worst(inside, most, close, around)
        found += told
        if not told or told[0].level == "watch":
            line = EMERGENCY if told else ACT
            spans = stretches(inside & (far >= line), near=close >= line)
            found += [Spell("watch", span, around, may=True) for span in spans]
    return tuple(found)


def _worst(inside: Days, most: Severities, close: Severities, around: Stretch) -> list[Spell]:
    """The spells of the worst level that a span of days keeps for long enough."""
    for severity in range(int(most[around.slice].max()), 0, -1):
        least = 1 if severity == EMERGENCY else LEAST_DAYS
        spans = stretches(inside & (most >= severity), least=least, near=close >= severity)
        if spans:
            return [Spell(SEVERITY[severity], span, around) for span in spans]
    return []


def _severity(some: Sequence[Level]) -> Severities:
    """Levels as numbers; what is not known counts as fine here."""
    return np.array([SEVERITY.index(one) if one in SEVERITY else 0 for one in some], dtype=np.int64)


@dataclass(frozen=True, eq=False)
class Look:
    """A run and its garden, with what several findings ask of them."""

    run: SeasonRun
    garden: Garden

    @cached_property
    def there(self) -> Days:
        """Whether a batch of fish is in the water, (batches, days)."""
        if not self.garden.fish:
            return np.zeros((0, self.run.days), dtype=bool)
        return np.asarray(np.median(self.run.fish["count"], axis=1) >= HALF_A_FISH)

    @cached_property
    def species(self) -> tuple[tuple[Row, ...], ...]:
        """The species that are in the water on each day."""
        rows = [tables.load("species").row(batch.species) for batch in self.garden.fish]
        keys = [batch.species for batch in self.garden.fish]
        found = []
        for day in range(self.run.days):
            here = {
                key: row
                for key, row, is_there in zip(keys, rows, self.there[:, day], strict=True)
                if is_there
            }
            found.append(tuple(here.values()))
        return tuple(found)

    @cached_property
    def alike(self) -> tuple[tuple[int, ...], ...]:
        """Batches that differ in nothing but their name and tank: they are told together."""
        groups: dict[FishBatch, list[int]] = {}
        for place, batch in enumerate(self.garden.fish):
            groups.setdefault(replace(batch, name="", tank=""), []).append(place)
        return tuple(tuple(places) for places in groups.values())

    def names(self, places: Iterable[int]) -> str:
        """Several batches as the subject of one finding."""
        return ", ".join(self.garden.fish[place].name for place in places)

    @cached_property
    def planted(self) -> Days:
        """Whether crops stand in a bed, by the middle of the tries, (days,)."""
        return np.asarray(np.median(self.run.daily["bed_used_m2"], axis=0) > 0.0)

    def band(self, name: str) -> Band:
        """A daily quantity over the tries."""
        return self.run.band(name)

    def levels(self, judge: Callable[[int, Row], Level]) -> list[Level]:
        """The level of each day: that of the strictest species in the water, fine without fish."""
        return [worst(judge(day, row) for row in rows) for day, rows in enumerate(self.species)]

    def finding(
        self,
        key: str,
        level: Level,
        stretch: Stretch,
        amounts: Iterable[Amount],
        sources: Iterable[str] = ("OWN",),
        subject: str = "",
    ) -> Finding:
        """A finding of a span of days."""
        first, last = self.run.date(stretch.first), self.run.date(stretch.last)
        return Finding(key, subject, level, tuple(amounts), (), tuple(sources), first, last)

    def on(self, name: str, day: int) -> Amount:
        """An amount that is a day."""
        return Amount(name, self.run.date(day).isoformat(), "date")

    def within(self, name: str, stretch: Stretch) -> Amount:
        """An amount that is a span of days."""
        first, last = self.run.date(stretch.first), self.run.date(stretch.last)
        return Amount(name, f"{first.isoformat()} {last.isoformat()}", "dates")

    def by_month(self) -> tuple[tuple[date, Stretch], ...]:
        """The calendar months of the season, in whole or in part, each with its days."""
        months: dict[date, list[int]] = {}
        for day in range(self.run.days):
            months.setdefault(self.run.date(day).replace(day=1), []).append(day)
        return tuple((first, Stretch(days[0], days[-1])) for first, days in months.items())


def at_day(name: str, of: Band, day: int, kind: str) -> Amount:
    """An amount with its band on a day."""
    return Amount(name, _known(of.middle[day]), kind, _known(of.low[day]), _known(of.high[day]))


def whole(name: str, of: Band, kind: str) -> Amount:
    """An amount with a band that is one number wide."""
    return Amount(name, _known(of.middle), kind, _known(of.low), _known(of.high))


def _known(value: Floats) -> float:
    """What only rounding has left of nothing is nothing."""
    return 0.0 if abs(float(value)) < NOTHING else float(value)


def weekly(values: Floats, stretch: Stretch) -> Band:
    """What daily amounts (members, days) come to in a week of a span."""
    return band(7.0 * values[:, stretch.slice].mean(axis=1))


def strictest(rows: Sequence[Row], judge: Callable[[Row], Level], line: Callable[[Row], float]) -> Row:
    """The species that a finding names: the worst level, among equals the highest line."""
    return max(rows, key=lambda row: (SEVERITY.index(judge(row)), line(row)))


def bound(parameter: str, column: str, row: Row) -> float:
    """The strictest upper bound of a parameter for a species."""
    level: Level = "watch" if column == "watch_from" else "act today"
    return lines.begins_at(parameter, level, (row,))
