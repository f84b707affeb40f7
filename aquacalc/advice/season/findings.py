"""All findings of a season that has been run."""

from __future__ import annotations

from aquacalc.advice.finding import Finding, ordered
from aquacalc.advice.season import (
    ammonia,
    base,
    beds,
    growth,
    minerals,
    nitrate,
    nitrite,
    oxygen,
    ration,
    stock,
    warmth,
    water,
)
from aquacalc.advice.season.days import Look
from aquacalc.garden.model import Garden
from aquacalc.season.result import SeasonRun

ROOMS = (
    *(oxygen, ammonia, nitrite, ration, warmth, nitrate, base, minerals, growth),
    *(water, stock, beds),
)


def of_season(run: SeasonRun, garden: Garden) -> tuple[Finding, ...]:
    """Findings of a run of the garden, the most urgent first."""
    look = Look(run, garden)
    return ordered(
        one
        for room in (
            oxygen,
            ammonia,
            nitrite,
            ration,
            warmth,
            nitrate,
            base,
            minerals,
            growth,
            water,
            stock,
            beds,
        )
        for one in room.findings_of(look)
    )
