"""Gardens side by side: what of a season counts in each, on the same tries.

Every uncertain value has its own seeded stream, so that a try of one garden has the same luck and the same
weather about its usual year as the same try of another.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from aquacalc.agenda import living
from aquacalc.outcome.outcome import Outcome, Wanted, outcome, wanted
from aquacalc.schedule import crops
from aquacalc.season import plan
from aquacalc.season.start import Start
from aquacalc.season.together import Candidate, together
from aquacalc.sizing import balance, caps
from aquacalc.uncertainty import MEMBERS, SEED

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

BALANCE_MEMBERS = 20


@dataclass(frozen=True, eq=False)
class Compared:
    """A garden with what it is meant to give and what comes of its season."""

    garden: Garden
    wanted: Wanted
    found: Outcome


def versions(
    gardens: Sequence[Garden], read: Start | None = None, members: int = MEMBERS, seed: int = SEED
) -> list[Compared]:
    """Versions of one garden, all for what the first is meant to give; read: as for `compared`.

    Fish that would not live through the season of the first are out before, as in its plan on paper.
    """
    first = gardens[0]
    out = living.taken_out(plan.of_garden(first, members, seed, read), first)
    gardens = [living.version_of(garden, first, out) for garden in gardens]
    balances = [balance.balance(garden, BALANCE_MEMBERS) for garden in gardens]
    candidates = [
        Candidate(garden, crops.batches(garden), caps.by_month_g_day(carried))
        for garden, carried in zip(gardens, balances, strict=True)
    ]
    goal = wanted(first)
    return [
        Compared(garden, goal, outcome(garden, tries, carried, goal))
        for garden, carried, tries in zip(
            gardens, balances, together(candidates, members, seed, read), strict=True
        )
    ]


def compared(garden: Garden, read: Start | None = None, members: int = MEMBERS, seed: int = SEED) -> Compared:
    """One garden of those that are compared; read: what its log says of the first morning."""
    (found,) = versions([garden], read, members, seed)
    return found
