"""Nitrite through the season, after a stocking and in the cold, with the chloride that stands against it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from aquacalc import nitrogen
from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.season import film
from aquacalc.advice.season.days import Look, Spell, Stretch, at_day, stretches, strictest
from aquacalc.film import lowest_substrate_mg_l
from aquacalc.judge import nitrite as judged
from aquacalc.judge.levels import Level
from aquacalc.sizing import alkalinity, nitrification
from aquacalc.tables import Row
from aquacalc.uncertainty import Band, Floats

SOME = "finding-nitrite-season-some"
OVER = "finding-nitrite-season-over"
STOCKING: dict[film.Stocking, str] = {
    "before": "finding-nitrite-season-before-stocking",
    "after": "finding-nitrite-season-after-stocking",
}
COLD = "finding-nitrite-season-cold"
MAY = "finding-nitrite-season-may-be-over"
SOURCES = ("OWN", "TIMEBE", "BOYD14", "FAO589:T3.1")


def findings_of(look: Look) -> list[Finding]:
    """Spans in which the day's highest nitrite passes a line."""
    nitrite, chloride = look.band("nitrite_max_mg_l"), look.band("chloride_mg_l").middle
    seen = _Nitrite(nitrite, chloride, _holds_mg_l(look))
    past = film.spells_of(look, seen)
    spared = np.array([any(seen.spared(day, row) for row in rows) for day, rows in enumerate(look.species)])
    for spell in past:
        spared[spell.around.slice] = False
    return [
        *(_finding(look, spell, seen) for spell in past),
        *(one for stretch in stretches(spared) for one in _cold(look, stretch, seen)),
    ]


def _holds_mg_l(look: Look) -> Floats:
    """What bacteria can be asked to hold on each day, mg N/L, as in the balance: where the cold keeps them
    from holding it under a line of `watch`, no action brings it there."""
    aims, typical = look.garden.targets, nitrogen.Kinetics.typical()
    water = (look.band("water_c").middle, aims.ph, aims.oxygen_mg_l, alkalinity.kept_mg_l(look.garden))
    found: Floats = nitrification.HOLDABLE * lowest_substrate_mg_l("nitrite", *water, typical)
    return found


@dataclass(frozen=True, eq=False)
class _Nitrite:
    """The day's nitrite, mg N/L, and the chloride against it, mg/L; holds: what bacteria can hold."""

    nitrite: Band
    chloride: Floats
    holds: Floats

    def amount(self, day: int, far: bool) -> float:
        return float((self.nitrite.high if far else self.nitrite.middle)[day])

    def level(self, day: int, row: Row, far: bool = False, times: float = 1.0) -> Level:
        amount = times * self.amount(day, far)
        found = judged.level(amount, float(self.chloride[day]), (row,))
        return "fine" if found == "watch" and amount <= self.holds[day] else found

    def spared(self, day: int, row: Row) -> bool:
        amount = self.amount(day, far=False)
        found = judged.level(amount, float(self.chloride[day]), (row,))
        return found == "watch" and amount <= self.holds[day]


def line_mg_l(level: Level, row: Row, chloride_mg_l: float) -> float:
    """Where a level of nitrite begins for a species in the chloride of its water."""
    return float(judged.begins_at(level, chloride_mg_l, (row,)))


def _finding(look: Look, spell: Spell, seen: _Nitrite) -> Finding:
    at = max(film.with_fish(look, spell.stretch), key=lambda day: seen.amount(day, spell.may))
    far_level: Level = "act today" if spell.may else spell.level
    chloride = float(seen.chloride[at])
    row = strictest(
        look.species[at],
        lambda one: seen.level(at, one, spell.may),
        lambda one: -line_mg_l(far_level, one, chloride),
    )
    amounts = [
        at_day("nitrite", seen.nitrite, at, "nitrogen"),
        look.on("worst", at),
        Amount("species", row.key, "species"),
        Amount("line", _line_told(far_level, row, chloride, float(seen.holds[at])), "nitrogen"),
        Amount("chloride", chloride, "concentration"),
        Amount("wanted", _chloride_wanted(seen.amount(at, spell.may), (row,)), "concentration"),
    ]
    if spell.may:
        return look.finding(MAY, "watch", spell.stretch, amounts, SOURCES)
    amounts.append(look.within("around", spell.around))
    stocking = film.stocking(look, at, spell.stretch)
    if stocking is not None:
        reason, came = stocking
        amounts.append(look.on("came", came))
        return look.finding(STOCKING[reason], spell.level, spell.stretch, amounts, SOURCES)
    key = SOME if spell.level == "watch" else OVER
    return look.finding(key, spell.level, spell.stretch, amounts, SOURCES)


def _line_told(level: Level, row: Row, chloride_mg_l: float, holds: float) -> float:
    """A line of `watch` is never under what bacteria can hold."""
    line = line_mg_l(level, row, chloride_mg_l)
    return max(line, holds) if level == "watch" else line


def _cold(look: Look, stretch: Stretch, seen: _Nitrite) -> list[Finding]:
    """Told only where there is not chloride enough against it: otherwise there is nothing to do."""
    at = max(film.with_fish(look, stretch), key=lambda day: seen.amount(day, far=False))
    wanted = _chloride_wanted(seen.amount(at, far=False), look.species[at])
    if seen.chloride[at] >= wanted:
        return []
    amounts = [
        at_day("nitrite", seen.nitrite, at, "nitrogen"),
        look.on("worst", at),
        Amount("holds", float(seen.holds[at]), "nitrogen"),
        Amount("chloride", float(seen.chloride[at]), "concentration"),
        Amount("wanted", wanted, "concentration"),
    ]
    return [look.finding(COLD, "watch", stretch, amounts, SOURCES)]


def _chloride_wanted(nitrite_mg_l: float, fish: Sequence[Row]) -> float:
    return judged.chloride_ratio_wanted(fish) * nitrite_mg_l
