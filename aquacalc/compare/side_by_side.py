"""Gardens side by side: what of a season counts in each, on the same tries.

Every uncertain value has its own seeded stream, so that a try of one garden has the same luck and the same
weather about its usual year as the same try of another.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from aquacalc.outcome.outcome import Outcome, Wanted, outcome, wanted
from aquacalc.schedule import crops
from aquacalc.season.start import Start
from aquacalc.season.together import Candidate, together
from aquacalc.sizing import balance
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


def compared(garden: Garden, read: Start | None = None, members: int = MEMBERS, seed: int = SEED) -> Compared:
    """One garden of those that are compared; read: what its log says of the first morning."""
    (tries,) = together([Candidate(garden, crops.batches(garden))], members, seed, read)
    goal = wanted(garden)
    return Compared(garden, goal, outcome(garden, tries, balance.balance(garden, BALANCE_MEMBERS), goal))
