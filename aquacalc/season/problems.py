"""What a season cannot be begun with."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from aquacalc import fish
from aquacalc.errors import Problem

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

WASTE = 1.5
"""Feed may be this many times what fish eat at most: some of it is lost (common practice, no source)."""


def most_feed_g_day(garden: Garden) -> float:
    """What all fish of the garden could eat together at their final weight, in the best water, g/d."""
    return sum(batch.count * _appetite_g(batch.species, batch.final_weight_g) for batch in garden.fish)


def _appetite_g(species_id: str, weight_g: float) -> float:
    species = fish.species(species_id)
    warm = np.linspace(species.corners.feed_stop_low_c, species.corners.feed_stop_high_c, 60)
    effective = fish.growing_temperature_c(warm, species)
    conversion = fish.fcr_at_weight(species.fcr.high, weight_g)
    return float(fish.daily_feed_g(weight_g, species.tgc.high, effective, conversion).max())


def feed(garden: Garden, where: str, feed_g_day: float) -> list[Problem]:
    """A feed that was noted, if it is more than the garden's fish can eat."""
    most = WASTE * most_feed_g_day(garden)
    if feed_g_day <= most:
        return []
    return [Problem("problem-feed-above", where, f"{feed_g_day:.0f}", (f"{most:.0f}",))]
