"""Oxygen through the season: the lowest of each day against what the species want."""

from __future__ import annotations

from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.season.days import Look, Spell, at_day, spells, strictest
from aquacalc.judge import oxygen
from aquacalc.judge.levels import Level
from aquacalc.uncertainty import Band

KEYS: dict[Level, str] = {
    "watch": "finding-oxygen-season-low",
    "act today": "finding-oxygen-season-short",
    "emergency": "finding-oxygen-season-critical",
}
MAY = "finding-oxygen-season-may-be-short"
EASE_MG_L = 0.3
"""A span ends where there is so much more than its line: what hovers about it is one span. Practice."""
SOURCES = ("OWN", "TIMEBE", "ASCE2")


def findings_of(look: Look) -> list[Finding]:
    """Spans in which the lowest oxygen of the day is under the species' lines."""
    lowest = look.band("oxygen_min_mg_l")

    middle = look.levels(lambda day, row: oxygen.level(float(lowest.middle[day]), (row,)))
    tenth = look.levels(lambda day, row: oxygen.level(float(lowest.low[day]), (row,)))
    near = look.levels(lambda day, row: oxygen.level(float(lowest.middle[day]) - EASE_MG_L, (row,)))
    return [_finding(look, spell, lowest) for spell in spells(middle, tenth, near)]


def _finding(look: Look, spell: Spell, lowest: Band) -> Finding:
    edge = lowest.low if spell.may else lowest.middle
    days = [day for day in range(spell.stretch.first, spell.stretch.last + 1) if look.species[day]]
    at = min(days, key=lambda day: float(edge[day]))
    row = strictest(
        look.species[at],
        lambda one: oxygen.level(float(edge[at]), (one,)),
        lambda one: one.number("do_full_feed_mg_l"),
    )
    amounts = [
        at_day("oxygen", lowest, at, "concentration"),
        look.on("worst", at),
        Amount("species", row.key, "species"),
        Amount("need", row.number("do_full_feed_mg_l"), "concentration"),
        Amount("critical", row.number("do_critical_mg_l"), "concentration"),
        at_day("water", look.band("water_c"), at, "temperature"),
    ]
    if spell.may:
        return look.finding(MAY, "watch", spell.stretch, amounts, SOURCES)
    amounts.append(at_day("feed", look.band("feed_g"), at, "feed"))
    amounts.append(look.within("around", spell.around))
    return look.finding(KEYS[spell.level], spell.level, spell.stretch, amounts, SOURCES)
