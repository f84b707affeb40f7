"""Alkalinity through the season: the base to be expected, and where the top-up holds it up."""

from __future__ import annotations

import numpy as np

from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.season.days import Look, at_day, stretches, weekly, whole
from aquacalc.judge import lines
from aquacalc.season import rules
from aquacalc.uncertainty import Band, band

ONE_BASE = "finding-alkalinity-season-base"
TWO_BASES = "finding-alkalinity-season-bases"
MAY_NEED = "finding-alkalinity-season-may-need-base"
HIGH = "finding-alkalinity-season-high"
SOURCES = ("OWN", "SRAC464", "TRADE")

HIGH_DAYS = 14
"""Alkalinity moves slowly: shorter spans are none. Common practice, no source."""


def findings_of(look: Look) -> list[Finding]:
    """Base in the month of most, never a dose by date; alkalinity over its working range."""
    return [*_base(look), *_high(look)]


def _base(look: Look) -> list[Finding]:
    daily = look.run.daily["base_eq"]
    months = look.by_month()
    weeks = [weekly(daily, stretch) for _, stretch in months]
    place = max(range(len(months)), key=lambda n: (float(weeks[n].middle), float(weeks[n].high)))
    first, stretch = months[place]
    week, year = weeks[place], band(daily.sum(axis=1))
    if float(week.high) <= 0.0:
        return []
    shelf = rules.bases(look.garden)
    amounts = [
        Amount("worst", first.month, "month"),
        Amount("low", rules.ALKALINITY_LOW_MG_L, "alkalinity"),
        Amount("to", rules.ALKALINITY_TO_MG_L, "alkalinity"),
    ]
    if float(week.middle) <= 0.0:
        amounts += _grams(shelf[0], week, year, ("chemical", "grams", "total"))
        return [look.finding(MAY_NEED, "watch", stretch, amounts, SOURCES)]
    names = (("chemical", "grams", "total"), ("other", "other_grams", "other_total"))
    for one, three in zip(shelf, names, strict=False):
        amounts += _grams(one, week, year, three)
    key = ONE_BASE if len(shelf) == 1 else TWO_BASES
    return [look.finding(key, "watch", stretch, amounts, SOURCES)]


def _grams(base: rules.Base, week: Band, year: Band, names: tuple[str, str, str]) -> list[Amount]:
    """Name, grams in that week and grams in the season of one of the garden's bases."""
    grams_eq = base.share * base.grams_eq

    def in_grams(name: str, eq: Band) -> Amount:
        return whole(name, Band(eq.low * grams_eq, eq.middle * grams_eq, eq.high * grams_eq), "dose")

    return [Amount(names[0], base.key, "chemical"), in_grams(names[1], week), in_grams(names[2], year)]


def _high(look: Look) -> list[Finding]:
    line = lines.begins_at("alkalinity", "watch")
    alkalinity = look.band("alkalinity_mg_l")
    tap = look.garden.top_up.alkalinity_mg_l
    if tap is None or tap < line:
        # Softer water than the line cannot hold it up: what stands over it at the start goes by itself.
        return []
    found = []
    for span in stretches(alkalinity.middle >= line, least=HIGH_DAYS):
        at = span.first + int(np.argmax(alkalinity.middle[span.slice]))
        amounts = (
            at_day("alkalinity", alkalinity, at, "alkalinity"),
            look.on("worst", at),
            at_day("ends", alkalinity, span.last, "alkalinity"),
            Amount("ph", float(np.median(look.band("ph").middle[span.slice])), "ph"),
            Amount("tap", tap, "alkalinity"),
            Amount("line", line, "alkalinity"),
        )
        found.append(look.finding(HIGH, "watch", span, amounts, SOURCES))
    return found
