"""Lines of the water at which to act: those of the strictest species of a garden."""

from __future__ import annotations

import math
from collections.abc import Iterator

from aquacalc import tables, words
from aquacalc.charts.season_panels import Limit
from aquacalc.charts.strip_rows import Span
from aquacalc.garden.model import Garden
from aquacalc.judge import lines
from aquacalc.schedule import usual_year
from aquacalc.season.result import SeasonRun
from aquacalc.tables import Row

PARAMETERS = {
    "tan_max_mg_l": ("tan", "nitrogen"),
    "nitrite_max_mg_l": ("nitrite", "nitrogen"),
    "nitrate_mg_l": ("nitrate", "nitrogen"),
    "alkalinity_mg_l": ("alkalinity", "alkalinity"),
    "ph": ("ph", "ph"),
}
"""Daily quantities of a run: their parameter in `water_limits.csv`, and the kind in which they are said."""


def limits(garden: Garden, run: SeasonRun, reader: words.Reader) -> dict[str, list[Limit]]:
    """Lines by daily quantity: where `act today` begins, and where feeding ends in cold water."""
    spans = _with_fish(run)
    species = [tables.load("species").row(key) for key in sorted({batch.species for batch in garden.fish})]
    chloride = float(run.band("chloride_mg_l").low.min())
    found = {}
    for name, (parameter, kind) in PARAMETERS.items():
        held = [row for one in species for row in _rows(parameter, one, chloride)]
        above = [row.number("act_from") for row in held if row.text("side") == "above"]
        below = [row.number("act_from") for row in held if row.text("side") == "below"]
        found[name] = [
            *(_limit("season-act-from", min(above), kind, spans, reader) for _ in above[:1]),
            *(_limit("season-act-below", max(below), kind, spans, reader) for _ in below[:1]),
        ]
    if species:
        found["water_c"] = list(_temperature(species, spans, reader))
        # `act today` begins midway between full feed and critical: see `judge.oxygen`.
        midway = max(
            (one.number("do_full_feed_mg_l") + one.number("do_critical_mg_l")) / 2.0 for one in species
        )
        found["oxygen_min_mg_l"] = [_limit("season-act-below", midway, "concentration", spans, reader)]
    return found


def _rows(parameter: str, species: Row, chloride_mg_l: float) -> Iterator[Row]:
    """The lines of a parameter that hold for a species and say where to act."""
    held = lines.groups(species)[:2] if parameter == "nitrite" else lines.groups(species)
    for row in tables.load("water_limits"):
        act, ratio = row.number("act_from"), row.number("act_chloride_ratio")
        mine = row.text("parameter") == parameter and row.text("group") in held
        # Some nitrite lines hold only where little chloride stands against them.
        protected = not math.isnan(ratio) and chloride_mg_l >= ratio * act
        if mine and not math.isnan(act) and not protected:
            yield row


def _temperature(species: list[Row], spans: tuple[Span, ...], reader: words.Reader) -> Iterator[Limit]:
    beyond = tables.load("water_limits").row("temperature_above_stress").number("act_from")
    warm = min(one.number("t_stress_high_c") + beyond for one in species)
    cold = max(one.number("t_feed_stop_low_c") for one in species)
    yield _limit("season-act-from", warm, "temperature", spans, reader)
    yield _limit("season-no-feed", cold, "temperature", spans, reader)


def _with_fish(run: SeasonRun) -> tuple[Span, ...]:
    """Spans of days on which there are fish in the middle run."""
    return tuple(usual_year.spans(run.typical["fish_kg"] > 0.0))


def _limit(key: str, value: float, kind: str, spans: tuple[Span, ...], reader: words.Reader) -> Limit:
    # The axis tells the unit.
    amount = words.number(words.convert(value, kind, reader), 3)
    return Limit(value, words.say(key, reader, amount=amount), spans)
