"""The water's temperature through the season: heat, cold, no feed, last days for stocking and taking out."""

from __future__ import annotations

from datetime import timedelta

import numpy as np

from aquacalc import fish, tables
from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.season.days import (
    HALF_A_FISH,
    Days,
    Look,
    Spell,
    Stretch,
    at_day,
    spells,
    stretches,
    whole,
)
from aquacalc.judge import temperature
from aquacalc.judge.levels import Level
from aquacalc.tables import Row
from aquacalc.uncertainty import Band, band

HOT: dict[Level, str] = {
    "watch": "finding-temperature-season-warm",
    "act today": "finding-temperature-season-hot",
    "emergency": "finding-temperature-season-deadly-hot",
}
COLD: dict[Level, str] = {
    "watch": "finding-temperature-season-cold",
    "emergency": "finding-temperature-season-deadly-cold",
}
MAY_BE_HOT = "finding-temperature-season-may-be-hot"
MAY_BE_COLD = "finding-temperature-season-may-be-cold"
KILLS = "finding-temperature-season-kills"
OUT_BEFORE_HEAT = "finding-temperature-season-out-before-heat"
OUT_BEFORE_COLD = "finding-temperature-season-out-before-cold"
OUT_IN_TIME = "finding-temperature-season-out-in-time"
LAST_STOCKING = "finding-temperature-season-last-stocking"
SOURCES = ("OWN",)

EASE_C = 1.0
"""A span ends where the water is so much better than its line: what hovers about it is one span. Practice."""
FEEDING_WEEKS = 12
"""Weeks of feeding that a new batch should have before the cold stops it. Common practice, no source."""
ON_ARRIVAL_DAYS = 14
"""What is beyond a line so soon after fish came is of their arrival, and no reason to take them out."""
HALF = 0.5
"""Of a batch dead: it has not lived through; of the tries: their middle."""
KILLS_FROM_SHARE = 0.2
"""In so many of the tries; fewer are told by the day's water alone. Common practice, no source."""
TRIES = 10
FEED_STOPS_DAYS = 7
"""Feeding ends where the water keeps the fish from eating for so long. Common practice, no source."""


def findings_of(look: Look) -> list[Finding]:
    """Heat and cold by species, and the last days of each batch."""
    found: list[Finding] = []
    for key in dict.fromkeys(batch.species for batch in look.garden.fish):
        found += _spans(look, key)
    for places in look.alike:
        found += _kills(look, places)
        found += _out_before(look, places)
        found += _last_stocking(look, places)
    return found


def _spans(look: Look, key: str) -> list[Finding]:
    row = tables.load("species").row(key)
    alike = [place for place, batch in enumerate(look.garden.fish) if batch.species == key]
    there: Days = np.asarray(look.there[alike].any(axis=0))
    water = look.band("water_c")
    stress = row.number("t_stress_high_c")

    def level(celsius: float, day: int, hot: bool) -> Level:
        if not there[day] or hot != (celsius > stress):
            return "fine"
        return temperature.level(celsius, (row,))

    def side(hot: bool) -> list[Finding]:
        far = water.high if hot else water.low
        middle = [level(float(one), day, hot) for day, one in enumerate(water.middle)]
        tenth = [level(float(one), day, hot) for day, one in enumerate(far)]
        eased = water.middle + (EASE_C if hot else -EASE_C)
        near = [level(float(one), day, hot) for day, one in enumerate(eased)]
        return [_finding(look, row, alike, spell, water, hot) for spell in spells(middle, tenth, near)]

    return [*side(hot=True), *side(hot=False)]


def _finding(look: Look, row: Row, alike: list[int], spell: Spell, water: Band, hot: bool) -> Finding:
    edge = (water.high if hot else water.low) if spell.may else water.middle
    inside = edge[spell.stretch.slice]
    at = spell.stretch.first + int(np.argmax(inside) if hot else np.argmin(inside))
    corner = "high" if hot else "low"
    amounts = [
        Amount("species", row.key, "species"),
        at_day("water", water, at, "temperature"),
        look.on("worst", at),
        Amount("line", row.number("t_stress_high_c" if hot else "t_feed_stop_low_c"), "temperature"),
        Amount("deadly", row.number(f"t_lethal_{corner}_c"), "temperature"),
    ]
    if spell.may:
        key = MAY_BE_HOT if hot else MAY_BE_COLD
    else:
        key = (HOT if hot else COLD)[spell.level]
        if spell.level in ("act today", "emergency"):
            amounts.append(look.within("around", spell.around))
    names = look.names(place for place in alike if look.there[place, spell.stretch.slice].any())
    return look.finding(key, spell.level, spell.stretch, amounts, SOURCES, names)


def killed(look: Look, place: int, hot: bool | None = None) -> Days:
    """Whether the water has killed half of a batch by the end of each day, (members, days).

    hot: by heat or by cold alone; None by either.
    """
    kind = fish.species(look.garden.fish[place].species)
    water, there = look.run.daily["water_c"], look.run.fish["count"][place] >= HALF_A_FISH
    if hot is not None:
        there = there & (hot == (water > kind.optimum_high_c))
    dying = np.where(there, fish.dying_1_d(water, kind), 0.0)
    return np.asarray(np.cumprod(1.0 - dying, axis=1) <= HALF)


def _kills(look: Look, places: tuple[int, ...]) -> list[Finding]:
    """Batches that do not live through it in several of the tries, each on days of its own."""
    dead = killed(look, places[0])
    lost = dead[:, -1]
    share = float(lost.mean())
    if share < KILLS_FROM_SHARE:
        return []
    on = np.argmax(dead[lost], axis=1)
    span = Stretch(int(on.min()), int(on.max()))
    row = tables.load("species").row(look.garden.fish[places[0]].species)
    amounts = [
        Amount("species", row.key, "species"),
        Amount("tries", round(TRIES * share), "number"),
        Amount("coldest", row.number("t_lethal_low_c"), "temperature"),
        Amount("warmest", row.number("t_lethal_high_c"), "temperature"),
        whole("left", band(look.run.fish["count"][list(places)].sum(axis=0)[:, span.last]), "count"),
        look.on("begins", span.first),
    ]
    level: Level = "emergency" if share >= HALF else "act today"
    return [look.finding(KILLS, level, span, amounts, SOURCES, look.names(places))]


def _out_before(look: Look, places: tuple[int, ...]) -> list[Finding]:
    """The last day on which the water is within the limit of a batch in nine of ten tries."""
    batch = look.garden.fish[places[0]]
    row = tables.load("species").row(batch.species)
    first = max(look.run.day(batch.stocked), 0)
    if not look.there[places[0]].any():
        return []
    water = look.band("water_c")
    until = None if batch.until is None else look.run.day(batch.until)
    found = []
    for hot in (True, False):
        line = _out_line_c(row, hot)
        last = last_day_alive(look, places[0], hot)
        if last is None:
            last = _last_within(water, first, line, hot)
        if last is None or not _severe(water, last + 1, row, hot):
            continue
        amounts = [
            Amount("species", batch.species, "species"),
            look.on("last", last),
            Amount("line", line, "temperature"),
        ]
        stretch = Stretch(last, last)
        if until is not None and until <= last:
            if hot:
                amounts.append(look.on("until", until))
                amounts.append(Amount("days", last - until, "days"))
                found.append(look.finding(OUT_IN_TIME, "fine", stretch, amounts, SOURCES, look.names(places)))
            continue
        amounts.append(look.on("until", look.run.days - 1 if until is None else until))
        key = OUT_BEFORE_HEAT if hot else OUT_BEFORE_COLD
        found.append(look.finding(key, "watch", stretch, amounts, SOURCES, look.names(places)))
    return found


def _out_line_c(row: Row, hot: bool) -> float:
    """Beyond which fish are out: in warmth the end of what they stand, in cold where it begins to kill."""
    return row.number("t_stress_high_c") if hot else temperature.lowest_c((row,))


def _last_within(water: Band, first: int, line_c: float, hot: bool) -> int | None:
    """The last day before nine of ten tries no longer keep within a line; None where they all do."""
    beyond = water.high > line_c if hot else water.low <= line_c
    past = [span for span in stretches(beyond) if span.first > first + ON_ARRIVAL_DAYS]
    return past[0].first - 1 if past else None


def last_day_alive(look: Look, place: int, hot: bool) -> int | None:
    """The day by whose end a batch is out, where it would not live through what follows by the middle of the
    tries; None where it lives, or is out before.

    The last day on which nine of ten tries keep within what the fish stand; where that lies before they have
    come, or soon after, the last on which it does not kill; else the day on which they come.
    """
    batch = look.garden.fish[place]
    row = tables.load("species").row(batch.species)
    water, there = look.band("water_c"), look.there[place]
    kills = temperature.highest_c((row,)) if hot else temperature.lowest_c((row,))
    by_day = there & (water.middle >= kills if hot else water.middle <= kills)
    deadly = np.flatnonzero(by_day | (killed(look, place, hot).mean(axis=0) >= HALF))
    if not deadly.size:
        return None
    comes = max(look.run.day(batch.stocked), 0)
    for line in (_out_line_c(row, hot), kills):
        beyond = water.high >= line if hot else water.low <= line
        begins = [span.first for span in stretches(beyond) if span.first <= deadly[0]]
        if begins and begins[-1] - 1 > comes + ON_ARRIVAL_DAYS:
            return begins[-1] - 1
    return comes


def _severe(water: Band, first: int, row: Row, hot: bool) -> bool:
    """Whether the unfavourable tenth reaches `act today`: a day a little too warm takes no fish out."""
    extreme = float(water.high[first:].max() if hot else water.low[first:].min())
    return temperature.level(extreme, (row,)) in ("act today", "emergency")


def _last_stocking(look: Look, places: tuple[int, ...]) -> list[Finding]:
    """The last day on which a batch that comes in the season still has its weeks of feeding."""
    batch = look.garden.fish[places[0]]
    species = fish.species(batch.species)
    arrives = look.run.day(batch.stocked)
    if not 0 < arrives < look.run.days:
        return []
    middle = look.band("water_c").middle
    stopped = (middle < species.corners.feed_stop_low_c) | (middle >= species.no_feed_from_c)
    stopped[:arrives] = False
    stops = stretches(stopped, least=FEED_STOPS_DAYS)
    if not stops:
        return []
    end = stops[0].first
    last = look.run.date(end) - timedelta(weeks=FEEDING_WEEKS)
    level: Level = "fine" if batch.stocked <= last else "watch"
    amounts = [
        Amount("species", batch.species, "species"),
        Amount("last", last.isoformat(), "date"),
        look.on("stops", end),
        look.on("planned", arrives),
        Amount("fed", end - arrives, "days"),
        Amount("weeks", FEEDING_WEEKS, "number"),
    ]
    return [look.finding(LAST_STOCKING, level, Stretch(arrives, end), amounts, SOURCES, look.names(places))]
