"""Water from elsewhere: the times in which a rain barrel is dry, and whether a sitter stands before it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from aquacalc.advice.finding import Finding
from aquacalc.advice.season.water import DRY, MAY_BE_DRY

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden


@dataclass(frozen=True)
class DryTime:
    """A time in which the barrel is dry, by the middle of the tries or (`may`) by one in ten.

    before: by when other water is arranged; low_l, middle_l, high_l: what is missing.
    """

    first: date
    last: date
    before: date
    low_l: float
    middle_l: float
    high_l: float
    may: bool

    @property
    def key(self) -> str:
        """By which its amounts are known wherever they are printed."""
        return f"dry {self.first.isoformat()}"


def dry_times(findings: Iterable[Finding]) -> tuple[DryTime, ...]:
    """The dry times that the season's findings tell, by day."""
    found = []
    for one in findings:
        if one.key not in (DRY, MAY_BE_DRY) or one.first is None or one.last is None:
            continue
        amounts = {amount.name: amount for amount in one.amounts}
        missing = amounts["missing"]
        found.append(
            DryTime(
                first=one.first,
                last=one.last,
                before=date.fromisoformat(str(amounts["before"].value)),
                low_l=missing.low,
                middle_l=missing.number,
                high_l=missing.high,
                may=one.key == MAY_BE_DRY,
            )
        )
    return tuple(sorted(found, key=lambda one: one.first))


def from_the_tap(garden: Garden, dry: Iterable[DryTime]) -> bool:
    """Whether water comes in of which nobody has said that it holds no chlorine: the barrel runs dry, and the
    file tells only of the rain."""
    return garden.top_up.disinfectant == "none" and garden.top_up.source == "rain" and any(dry)
