"""Lines of the water at which to act: those of the strictest species of a garden."""

from __future__ import annotations

import math

from aquacalc import tables, words
from aquacalc.charts.season_panels import Limit
from aquacalc.charts.strip_rows import Span
from aquacalc.garden.model import Garden
from aquacalc.judge import lines, nitrite, oxygen, temperature
from aquacalc.schedule import positions
from aquacalc.season.result import SeasonRun

PARAMETERS = {
    "tan_max_mg_l": ("tan", "nitrogen"),
    "nitrite_max_mg_l": ("nitrite", "nitrogen"),
    "nitrate_mg_l": ("nitrate", "nitrogen"),
    "alkalinity_mg_l": ("alkalinity", "alkalinity"),
    "ph": ("ph", "ph"),
}
"""Daily quantities of a run: their parameter for the judge, and the kind in which they are said."""


def limits(garden: Garden, run: SeasonRun, reader: words.Reader) -> dict[str, list[Limit]]:
    """Lines by daily quantity: where `act today` begins, and where feeding ends in cold water."""
    spans = _with_fish(run)
    species = [tables.load("species").row(key) for key in sorted({batch.species for batch in garden.fish})]
    chloride = float(run.band("chloride_mg_l").low.min())
    found = {}
    for name, (parameter, kind) in PARAMETERS.items():
        above = lines.begins_at(parameter, "act today", species) if species else math.nan
        if parameter == "nitrite" and species:
            # The least chloride of the season stands against all of it.
            above = float(nitrite.begins_at("act today", chloride, species))
        below = lines.begins_at(parameter, "act today", species, above=False) if species else math.nan
        found[name] = [
            _limit(key, value, kind, spans, reader)
            for key, value in (("season-act-from", above), ("season-act-below", below))
            if not math.isnan(value)
        ]
    if species:
        found["water_c"] = [
            _limit("season-act-from", temperature.act_above_c(species), "temperature", spans, reader),
            _limit("season-no-feed", temperature.no_feed_below_c(species), "temperature", spans, reader),
        ]
        midway = oxygen.begins_below("act today", species)
        found["oxygen_min_mg_l"] = [_limit("season-act-below", midway, "concentration", spans, reader)]
    return found


def _with_fish(run: SeasonRun) -> tuple[Span, ...]:
    """Spans of days on which there are fish in the middle run."""
    return tuple(positions.spans(run.typical["fish_kg"] > 0.0))


def _limit(key: str, value: float, kind: str, spans: tuple[Span, ...], reader: words.Reader) -> Limit:
    # The axis tells the unit.
    amount = words.number(words.convert(value, kind, reader), 3)
    return Limit(value, words.say(key, reader, amount=amount), spans)
