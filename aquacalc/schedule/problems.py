"""Fish that this garden's water suits in no month."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from aquacalc import fish
from aquacalc.errors import Problem
from aquacalc.garden import surroundings
from aquacalc.uncertainty import Floats, coefficient, draw

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden


def problems(garden: Garden) -> list[Problem]:
    """A problem for each batch whose species cannot live, or is never fed, in the water of a usual year."""
    typical = draw({name: coefficient(name) for name in surroundings.COEFFICIENTS}, members=1)
    water = surroundings.water_c(garden, typical)[0]
    found = []
    for position, batch in enumerate(garden.fish, start=1):
        species = fish.species(batch.species)
        where = f"fish {position} species"
        low, high = species.lethal_low_c, species.lethal_high_c
        if not np.any((water > low) & (water < high)):
            found.append(_nearest("problem-species-cannot-live", where, water, low, high))
        elif not np.any(fish.eats(water, species)):
            low, high = species.corners.feed_stop_low_c, species.no_feed_from_c
            found.append(_nearest("problem-species-never-fed", where, water, low, high))
    return found


def _nearest(key: str, where: str, water_c: Floats, low_c: float, high_c: float) -> Problem:
    outside = np.maximum(low_c - water_c, water_c - high_c)
    month = int(np.argmin(outside))
    return Problem(key, where, f"{water_c[month]:.3g}", (f"{low_c:g}", f"{high_c:g}", f"{month + 1}"))
