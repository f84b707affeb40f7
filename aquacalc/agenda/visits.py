"""Absences as a sitter sees them: who comes from when to when, and what is in a bag for one day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from aquacalc.agenda.ration import Ration

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden


@dataclass(frozen=True)
class Visit:
    """An absence of the season. who: empty where nobody looks after the garden; bags: one a batch and span of
    days, without grams where there is no feed."""

    start: date
    end: date
    who: str
    bags: tuple[Ration, ...]

    @property
    def lines(self) -> tuple[Ration, ...]:
        """The bags within the absence; days that follow each other with bags that are alike are one."""
        found: list[Ration] = []
        for one in self.bags:
            bag = replace(one, first=max(one.first, self.start), last=min(one.last, self.end))
            before = found[-1] if found else None
            if before is not None and _alike(before, bag) and bag.first - before.last == timedelta(days=1):
                found[-1] = replace(before, last=bag.last)
            else:
                found.append(bag)
        return tuple(found)

    @property
    def fed(self) -> tuple[Ration, ...]:
        """The bags with feed in them."""
        return tuple(one for one in self.bags if one.grams > 0.0)


def _alike(one: Ration, other: Ration) -> bool:
    told = (one.batch, one.tank, one.grams, one.spoons, one.start_up)
    return told == (other.batch, other.tank, other.grams, other.spoons, other.start_up)


def visits(garden: Garden, rations: Sequence[Ration]) -> tuple[Visit, ...]:
    """The absences of the season by day, with the rations that fall into them."""
    season = garden.season
    return tuple(
        Visit(
            one.start,
            one.end,
            one.who,
            tuple(r for r in rations if r.away is not None and r.touches(one.start, one.end)),
        )
        for one in sorted(garden.away, key=lambda away: away.start)
        if one.start <= season.end and one.end >= season.start
    )
