"""The beds through the season: crops that are not ready in time, beds that stand empty while crops grow."""

from __future__ import annotations

import numpy as np

from aquacalc import crops, tables
from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.season.days import Look, Stretch, stretches
from aquacalc.garden import opening, usual_year
from aquacalc.garden.model import Bed, Season
from aquacalc.judge import lines
from aquacalc.schedule import absences, positions
from aquacalc.uncertainty import Floats

NOT_READY = "finding-crop-season-not-ready"
STARVED = "finding-crop-season-starved"
KILLED = "finding-crop-season-killed"
EMPTY = "finding-bed-season-empty"
SOURCES = ("OWN",)
HEAT_SOURCES = ("CAROTTI21", "HOLMES19", "TRADE")

HALF = 0.5
OFTEN = 0.25
"""Crops that heat kills in so many of the tries are told. Our own choice."""
EMPTY_DAYS = 28
"""Beds that stand empty for four weeks are told. Common practice, no source."""


def findings_of(look: Look) -> list[Finding]:
    """Plantings that come to nothing, and room that is not used."""
    return [
        *_killed(look),
        *_not_ready(look),
        *(one for bed in look.garden.beds for one in _empty(look, bed)),
    ]


def _killed(look: Look) -> list[Finding]:
    """One finding a crop and bed that heat kills, from the first day on which it often is dead."""
    found: dict[tuple[str, str], list[tuple[Stretch, float]]] = {}
    for batch, dead in zip(look.run.batches, look.run.crops["heat_killed"], strict=True):
        share = dead.mean(axis=0)
        if share.max() >= OFTEN:
            days = np.flatnonzero(share >= OFTEN)
            spell = Stretch(int(days[0]), int(days[-1])), float(share.max())
            found.setdefault((batch.crop, batch.bed), []).append(spell)
    return [
        look.finding(
            KILLED,
            "watch",
            Stretch(min(one.first for one, _ in some), max(one.last for one, _ in some)),
            [
                Amount("crop", crop, "crop"),
                Amount("share", max(share for _, share in some), "share"),
                Amount("days", crops.DEADLY_DAYS, "number"),
            ],
            HEAT_SOURCES,
            bed,
        )
        for (crop, bed), some in found.items()
    ]


def _not_ready(look: Look) -> list[Finding]:
    """One finding a crop, bed and reason, over all its plantings that fail in half of the tries."""
    line = lines.begins_at("nitrate", "watch", above=False)
    nitrate = look.band("nitrate_mg_l").middle
    failed: dict[tuple[str, str, str], list[Stretch]] = {}
    for place, batch in enumerate(look.run.batches):
        first, last = max(look.run.day(batch.plant), 0), look.run.day(batch.leaves)
        if last >= look.run.days or last < first:
            # It stands on after the season's end: its time is not over.
            continue
        picked = look.run.crops["picked_kg"][place].sum(axis=1) > 0.0
        if batch.state != "too_late" and picked.mean() > HALF:
            continue
        if look.run.crops["heat_killed"][place].any(axis=1).mean() >= OFTEN:
            # That has its own finding.
            continue
        stands = Stretch(first, last)
        short = batch.state != "too_late" and float(np.mean(nitrate[stands.slice] <= line)) >= HALF
        key = STARVED if short else NOT_READY
        failed.setdefault((key, batch.crop, batch.bed), []).append(stands)
    found = []
    for (key, crop, bed), some in failed.items():
        span = Stretch(min(one.first for one in some), max(one.last for one in some))
        amounts = [Amount("crop", crop, "crop"), Amount("plantings", len(some), "number")]
        if key == STARVED:
            amounts.append(Amount("line", line, "nitrogen"))
        found.append(look.finding(key, "watch", span, amounts, SOURCES, bed))
    return found


def _empty(look: Look, bed: Bed) -> list[Finding]:
    """Spans in which nothing stands in a bed, on days on which somebody is there and one of the
    garden's own crops would grow."""
    here = [place for place, batch in enumerate(look.run.batches) if batch.bed == bed.name]
    stands = (
        np.median(look.run.crops["stands"][here], axis=1).any(axis=0) if here else np.zeros(look.run.days)
    )
    somebody = [absences.away(look.run.date(day), look.garden) is None for day in range(look.run.days)]
    growth = {
        key: _growth(look, key)
        for key in dict.fromkeys(plan.crop for plan in look.garden.crops)
        if tables.load("crops").row(key).number(f"suit_{bed.kind}") > 0.0
    }
    if not growth:
        return []
    most = np.max(list(growth.values()), axis=0)
    found = []
    empty = ~np.asarray(stands, dtype=bool) & np.asarray(somebody)
    for span in stretches(empty & (most > 0.0), least=EMPTY_DAYS):
        best = max(growth, key=lambda key: float(growth[key][span.slice].mean()))
        amounts = (
            Amount("days", span.days, "days"),
            Amount("area", bed.area_m2, "area"),
            Amount("crop", best, "crop"),
        )
        found.append(look.finding(EMPTY, "watch", span, amounts, SOURCES, bed.name))
    return found


def _growth(look: Look, key: str) -> Floats:
    """Speed of growth of a crop on each day of a usual year, 0 where it cannot be set out."""
    year, days = (
        usual_year.usual_year_of(look.garden),
        positions.around(Season(look.run.first, look.run.date(look.run.days - 1))),
    )
    of = crops.crop(key)
    grown = opening.growth(of, year) * (opening.reasons(of, look.garden.site, year) == "")
    return np.asarray(grown[days.of_year])
