"""Ammonia through the season, after a stocking and in the cold, and the feed that is held back for it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from aquacalc.advice.finding import Amount, Finding, changes_of_water
from aquacalc.advice.season import film
from aquacalc.advice.season.days import Look, Spell, Stretch, at_day, bound, stretches, strictest, whole
from aquacalc.judge import ammonia, lines
from aquacalc.judge.levels import SEVERITY, Level, worst
from aquacalc.tables import Row
from aquacalc.uncertainty import Band, Floats, band

SOME = "finding-ammonia-season-some"
OVER = "finding-ammonia-season-over"
STOCKING: dict[film.Stocking, str] = {
    "before": "finding-ammonia-season-before-stocking",
    "after": "finding-ammonia-season-after-stocking",
}
COLD = "finding-ammonia-season-cold"
MAY = "finding-ammonia-season-may-be-over"
HELD = "finding-ammonia-season-held"
SOURCES = ("OWN", "EPA13", "EIFAC70", "TIMEBE", "FAO589:T7.1")

HELD_FROM_SHARE = 0.2
"""Days on which so many of the tries hold feed back are told."""
TRIES = 10


def findings_of(look: Look) -> list[Finding]:
    """Spans in which the day's highest ammonia passes a line, and days of feed that is held back."""
    seen = _Ammonia(
        look.band("tan_max_mg_l"),
        look.band("unionised_max_mg_l"),
        look.band("ph").middle,
        look.band("water_c").middle,
        film.holds_mg_l(look, "ammonia"),
    )
    past, cold = film.spans(look, seen)
    return [
        *(_finding(look, spell, seen) for spell in past),
        *(_cold(look, stretch, seen) for stretch in cold),
        *_held(look),
    ]


@dataclass(frozen=True, eq=False)
class _Ammonia:
    """The day's ammonia, mg N/L; holds: what bacteria can hold."""

    tan: Band
    unionised: Band
    ph: Floats
    water_c: Floats
    holds: Floats

    def level(self, day: int, row: Row, far: bool = False, times: float = 1.0) -> Level:
        tan, unionised = (times * amount for amount in self._both(day, far))
        by_tan: Level = "fine" if tan <= self.holds[day] else lines.level("tan", tan, (row,))
        return worst(
            (
                by_tan,
                lines.level("unionised_ammonia", unionised, (row,)),
                ammonia.criteria_level(tan, float(self.ph[day]), float(self.water_c[day]), (row,)),
            )
        )

    def spared(self, day: int, row: Row) -> bool:
        tan, _ = self._both(day, far=False)
        passed = lines.level("tan", tan, (row,)) in ("act today", "emergency")
        return passed and self.level(day, row) == "fine"

    def share(self, day: int, row: Row, far: bool) -> float:
        """How much of its lines the day takes up, to find the worst one."""
        tan, unionised = self._both(day, far)
        return max(
            tan / bound("tan", "act_from", row), unionised / bound("unionised_ammonia", "act_from", row)
        )

    def _both(self, day: int, far: bool) -> tuple[float, float]:
        if far:
            return float(self.tan.high[day]), float(self.unionised.high[day])
        return float(self.tan.middle[day]), float(self.unionised.middle[day])


def _finding(look: Look, spell: Spell, seen: _Ammonia) -> Finding:
    days = film.with_fish(look, spell.stretch)
    at = max(days, key=lambda day: max(seen.share(day, row, spell.may) for row in look.species[day]))
    row = strictest(
        look.species[at],
        lambda one: seen.level(at, one, spell.may),
        lambda one: seen.share(at, one, spell.may),
    )
    column = "watch_from" if spell.level == "watch" and not spell.may else "act_from"
    amounts = [
        at_day("tan", seen.tan, at, "nitrogen"),
        at_day("unionised", seen.unionised, at, "nitrogen"),
        look.on("worst", at),
        Amount("species", row.key, "species"),
        Amount("line", max(bound("tan", column, row), float(seen.holds[at])), "nitrogen"),
        Amount("unionised_line", bound("unionised_ammonia", column, row), "nitrogen"),
    ]
    if spell.may:
        return look.finding(MAY, "watch", spell.stretch, amounts, SOURCES)
    amounts += [
        Amount("ph", float(seen.ph[at]), "ph"),
        Amount("water", float(seen.water_c[at]), "temperature"),
        look.within("around", spell.around),
    ]
    stocking = film.stocking(look, at, spell.stretch)
    if stocking is not None:
        reason, came = stocking
        amounts.append(look.on("came", came))
        return look.finding(STOCKING[reason], spell.level, spell.stretch, amounts, SOURCES)
    key = SOME if spell.level == "watch" else OVER
    if key == OVER:
        amounts += changes_of_water()
    return look.finding(key, spell.level, spell.stretch, amounts, SOURCES)


def _cold(look: Look, stretch: Stretch, seen: _Ammonia) -> Finding:
    at = max(film.with_fish(look, stretch), key=lambda day: float(seen.tan.middle[day]))
    tan = float(seen.tan.middle[at])
    row = max(look.species[at], key=lambda one: SEVERITY.index(lines.level("tan", tan, (one,))))
    amounts = [
        at_day("tan", seen.tan, at, "nitrogen"),
        at_day("unionised", seen.unionised, at, "nitrogen"),
        look.on("worst", at),
        Amount("species", row.key, "species"),
        Amount("line", bound("tan", "act_from", row), "nitrogen"),
        Amount("ph", float(seen.ph[at]), "ph"),
        Amount("water", float(seen.water_c[at]), "temperature"),
        Amount("holds", float(seen.holds[at]), "nitrogen"),
    ]
    return look.finding(COLD, "watch", stretch, amounts, SOURCES)


def _held(look: Look) -> list[Finding]:
    """Spans in which the water makes the grower hold feed back: how many days, in how many of ten tries."""
    held = look.run.daily["held"] > 0.0
    found = []
    for stretch in stretches(held.mean(axis=0) >= HELD_FROM_SHARE):
        days = held[:, stretch.slice].sum(axis=1)
        tries = round(TRIES * float((days > 0).mean()))
        amounts = (
            whole("days", band(days[days > 0].astype(np.float64)), "days"),
            Amount("tries", tries, "number"),
        )
        found.append(look.finding(HELD, "watch", stretch, amounts))
    return found
