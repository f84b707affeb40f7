"""Alkalinity through the season: the base to be expected or missed, and where the top-up holds it up."""

from __future__ import annotations

import numpy as np

from aquacalc.advice import aims
from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.season.days import Look, Stretch, at_day, spells, stretches, weekly, whole
from aquacalc.judge import lines
from aquacalc.season import basing
from aquacalc.uncertainty import Floats, band

ONE_BASE = "finding-alkalinity-season-base"
TWO_BASES = "finding-alkalinity-season-bases"
MAY_NEED = "finding-alkalinity-season-may-need-base"
NONE_NAMED = "finding-alkalinity-season-no-base"
MAY_LACK = "finding-alkalinity-season-may-lack-base"
HIGH = "finding-alkalinity-season-high"
SOURCES = ("OWN", "SRAC464", "TRADE")

HIGH_DAYS = 14
"""Alkalinity moves slowly: shorter spans are none. Common practice, no source."""


def findings_of(look: Look) -> list[Finding]:
    """Base in the month of most, never a dose by date; what comes of none; alkalinity over its working
    range."""
    shelf = basing.bases(look.garden)
    return [*(_base(look, shelf) if shelf else _without(look)), *_high(look)]


def _base(look: Look, bases: tuple[basing.Base, ...]) -> list[Finding]:
    daily = look.run.daily["base_eq"]
    months = look.by_month()
    weeks = [weekly(daily, stretch) for _, stretch in months]
    place = max(range(len(months)), key=lambda n: (float(weeks[n].middle), float(weeks[n].high)))
    first, stretch = months[place]
    week = weeks[place]
    if float(week.high) <= 0.0:
        return []
    shelf = [
        (base, grams)
        for base, grams in basing.by_base(daily, look.run.daily["base_first_eq"], bases)
        if not base.in_need or float(np.median(grams.sum(axis=1))) > 0.0
    ]
    target = look.garden.targets.base_to_ph
    amounts = [
        Amount("worst", first.month, "month"),
        Amount("low", target - basing.BEGIN_BELOW_PH, "ph"),
        Amount("to", target, "ph"),
    ]
    if float(week.middle) <= 0.0:
        amounts += _grams(*shelf[0], stretch, ("chemical", "grams", "total"))
        return [look.finding(MAY_NEED, "watch", stretch, amounts, SOURCES)]
    names = (("chemical", "grams", "total"), ("other", "other_grams", "other_total"))
    for (one, grams), three in zip(shelf, names, strict=False):
        amounts += _grams(one, grams, stretch, three)
    key = ONE_BASE if len(shelf) == 1 else TWO_BASES
    return [look.finding(key, "watch", stretch, amounts, SOURCES)]


def _grams(base: basing.Base, grams: Floats, month: Stretch, names: tuple[str, str, str]) -> list[Amount]:
    """Name, grams in a week of that month and grams in the season of one of the garden's bases."""
    return [
        Amount(names[0], base.key, "chemical"),
        whole(names[1], weekly(grams, month), "dose"),
        whole(names[2], band(grams.sum(axis=1)), "dose"),
    ]


def _without(look: Look) -> list[Finding]:
    """Where the pH goes in a garden that gives no base."""
    ph, alkalinity = look.band("ph"), look.band("alkalinity_mg_l")
    aim = aims.of_garden(look.garden)
    low = [line for line in lines.lines_of("ph", aim=aim) if not line.above]
    middle, tenth = (
        [lines.level_of(rank) for rank in lines.most(line.ranks(values) for line in low)]
        for values in (ph.middle, ph.low)
    )
    found = []
    for spell in spells(middle, tenth):
        values = ph.low if spell.may else ph.middle
        at = spell.stretch.first + int(np.argmin(values[spell.stretch.slice]))
        amounts = (
            at_day("ph", ph, at, "ph"),
            look.on("worst", at),
            at_day("alkalinity", alkalinity, at, "alkalinity"),
            Amount("line", lines.begins_at("ph", "watch", above=False, aim=aim), "ph"),
        )
        key = MAY_LACK if spell.may else NONE_NAMED
        found.append(look.finding(key, spell.level, spell.stretch, amounts, SOURCES))
    return found


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
