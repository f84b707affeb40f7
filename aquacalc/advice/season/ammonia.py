"""Ammonia through the season and after a stocking."""

from __future__ import annotations

from dataclasses import dataclass

from aquacalc.advice.finding import Amount, Finding, changes_of_water
from aquacalc.advice.season import film
from aquacalc.advice.season.days import Look, Spell, at_day, bound, strictest
from aquacalc.judge import ammonia, lines
from aquacalc.judge.levels import Level, worst
from aquacalc.tables import Row
from aquacalc.uncertainty import Band, Floats

SOME = "finding-ammonia-season-some"
OVER = "finding-ammonia-season-over"
STOCKING: dict[film.Stocking, str] = {
    "before": "finding-ammonia-season-before-stocking",
    "after": "finding-ammonia-season-after-stocking",
}
MAY = "finding-ammonia-season-may-be-over"
SOURCES = ("OWN", "EPA13", "EIFAC70", "TIMEBE", "FAO589:T7.1")


def findings_of(look: Look) -> list[Finding]:
    """Spans in which the day's highest ammonia passes a line."""
    seen = _Ammonia(
        look.band("tan_max_mg_l"),
        look.band("unionised_max_mg_l"),
        look.band("ph").middle,
        look.band("water_c").middle,
    )
    return [_finding(look, spell, seen) for spell in film.spells_of(look, seen)]


@dataclass(frozen=True, eq=False)
class _Ammonia:
    """The day's ammonia, mg N/L."""

    tan: Band
    unionised: Band
    ph: Floats
    water_c: Floats

    def level(self, day: int, row: Row, far: bool = False, times: float = 1.0) -> Level:
        tan, unionised = (times * amount for amount in self._both(day, far))
        return worst(
            (
                lines.level("tan", tan, (row,)),
                lines.level("unionised_ammonia", unionised, (row,)),
                ammonia.criteria_level(tan, float(self.ph[day]), float(self.water_c[day]), (row,)),
            )
        )

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
        Amount("line", bound("tan", column, row), "nitrogen"),
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
