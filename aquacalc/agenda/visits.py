"""Absences as a sitter sees them: who comes from when to when, and what is in a bag for one day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
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
    def fed(self) -> tuple[Ration, ...]:
        """The bags with feed in them."""
        return tuple(one for one in self.bags if one.grams > 0.0)


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
