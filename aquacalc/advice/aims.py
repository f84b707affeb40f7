"""What a garden aims at, as the judge wants to know it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from aquacalc.judge.lines import NEAR_TARGET_PH, NO_AIM, Aim
from aquacalc.sizing import alkalinity

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden


def of_garden(garden: Garden | None) -> Aim:
    """The garden's target pH and whether crops stand in it; the usual aim where no garden is known."""
    if garden is None:
        return NO_AIM
    target = garden.targets.base_to_ph
    return Aim(target, target - NEAR_TARGET_PH, bool(garden.crops), alkalinity.floor_of(garden))
