"""Nitrate through the season: where it drifts and why, where it is too little for crops or much for fish."""

from __future__ import annotations

import numpy as np

from aquacalc.advice.finding import Amount, Finding, changes_of_water
from aquacalc.advice.season.days import (
    Look,
    Spell,
    Stretch,
    at_day,
    bound,
    spells,
    stretches,
    strictest,
    whole,
)
from aquacalc.judge import lines
from aquacalc.judge.levels import Level
from aquacalc.tables import Row
from aquacalc.uncertainty import Band, Floats, band

RISING = "finding-nitrate-season-rising"
FALLING = "finding-nitrate-season-falling"
LOW = "finding-nitrate-season-low"
HIGH = "finding-nitrate-season-high"
MAY_BE_HIGH = "finding-nitrate-season-may-be-high"
SOURCES = ("OWN", "FAO589:8.1")
HIGH_SOURCES = ("OWN", "MONSEES17", "DAVIDSON14")

DRIFT_FROM_MG_L_WEEK = 1.0
"""As for the balance: a smaller drift (as N) cannot be read with a home kit. Common practice, no source."""
SLOPE_DAYS = 28
"""A drift is looked at over four weeks, so that single feedings and pickings do not show, and lasts as long.
Common practice, no source."""
DRIFT_GAP_DAYS = 14


def findings_of(look: Look) -> list[Finding]:
    """Drift, crops short of nitrogen, and nitrate past the fish's lines."""
    return [*_drift(look), *_low(look), *_high(look)]


def slope_mg_l_week(daily: Floats) -> Floats:
    """Change a week of a daily quantity (days,), over the four weeks about each day; fewer at the ends."""
    days = np.arange(daily.size)
    half = SLOPE_DAYS // 2
    before, after = np.maximum(days - half, 0), np.minimum(days + half, daily.size - 1)
    slope: Floats = 7.0 * (daily[after] - daily[before]) / np.maximum(after - before, 1)
    return slope


def _drift(look: Look) -> list[Finding]:
    values = look.run.daily["nitrate_mg_l"]
    nitrate = look.band("nitrate_mg_l")
    slope = slope_mg_l_week(nitrate.middle)
    found = []
    for key, sign in ((RISING, 1.0), (FALLING, -1.0)):
        for span in stretches(sign * slope > DRIFT_FROM_MG_L_WEEK, DRIFT_GAP_DAYS, SLOPE_DAYS):
            weeks = (span.last - span.first) / 7.0
            change = band(sign * (values[:, span.last] - values[:, span.first]) / weeks)
            amounts = (
                whole("drift", change, "drift"),
                Amount("begins", float(nitrate.middle[span.first]), "nitrogen"),
                at_day("ends", nitrate, span.last, "nitrogen"),
                _flow(look, "given", "excreted_g", span),
                _flow(look, "taken", "taken_up_g", span),
                _flow(look, "gas", "denitrified_g", span),
            )
            found.append(look.finding(key, "watch", span, amounts, SOURCES))
    return found


def _flow(look: Look, name: str, daily: str, span: Stretch) -> Amount:
    return whole(name, band(look.run.daily[daily][:, span.slice].mean(axis=1)), "dose")


def _low(look: Look) -> list[Finding]:
    """Crops that stand in water with less nitrate than their line."""
    line = lines.begins_at("nitrate", "watch", above=False)
    nitrate = look.band("nitrate_mg_l")
    found = []
    for span in stretches((nitrate.middle <= line) & look.planted):
        at = span.first + int(np.argmin(nitrate.middle[span.slice]))
        amounts = (
            at_day("nitrate", nitrate, at, "nitrogen"),
            look.on("worst", at),
            Amount("line", line, "nitrogen"),
            _flow(look, "given", "excreted_g", span),
            _flow(look, "taken", "taken_up_g", span),
        )
        found.append(look.finding(LOW, "watch", span, amounts, SOURCES))
    return found


def _high(look: Look) -> list[Finding]:
    nitrate = look.band("nitrate_mg_l")
    middle = look.levels(lambda day, row: _level(float(nitrate.middle[day]), row))
    tenth = look.levels(lambda day, row: _level(float(nitrate.high[day]), row))
    return [_too_much(look, spell, nitrate) for spell in spells(middle, tenth)]


def _level(value: float, row: Row) -> Level:
    """The level of nitrate for fish: the same table knows a line for plants, under which nitrate is low."""
    return lines.level("nitrate", value, (row,)) if value >= bound("nitrate", "watch_from", row) else "fine"


def _too_much(look: Look, spell: Spell, nitrate: Band) -> Finding:
    edge = nitrate.high if spell.may else nitrate.middle
    days = [day for day in range(spell.stretch.first, spell.stretch.last + 1) if look.species[day]]
    at = max(days, key=lambda day: float(edge[day]))
    row = strictest(
        look.species[at],
        lambda one: _level(float(edge[at]), one),
        lambda one: -bound("nitrate", "act_from", one),
    )
    column = "watch_from" if spell.level == "watch" and not spell.may else "act_from"
    amounts = [
        at_day("nitrate", nitrate, at, "nitrogen"),
        look.on("worst", at),
        Amount("species", row.key, "species"),
        Amount("line", bound("nitrate", column, row), "nitrogen"),
    ]
    if spell.may:
        return look.finding(MAY_BE_HIGH, "watch", spell.stretch, amounts, HIGH_SOURCES)
    amounts += [look.within("around", spell.around), *changes_of_water("least")]
    return look.finding(HIGH, spell.level, spell.stretch, amounts, HIGH_SOURCES)
