"""Readings that cannot go together: each check tells its newest case."""

import re
from collections.abc import Iterator
from datetime import date, timedelta
from itertools import pairwise
from math import isfinite

from aquacalc import nitrogen, tables
from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.unlikely import (
    LEAST_SATURATION,
    LONE_TAN_MG_L,
    MOST_SATURATION,
    NO_BUFFER_MG_L,
    NO_BUFFER_PH,
    SOFTER_DKH,
)
from aquacalc.constants import MG_L_CACO3_PER_GERMAN_DEGREE
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.logbook import own, trend
from aquacalc.logbook.log import Log, Reading, Row
from aquacalc.water import carbonate, oxygen

LOOK_BACK_DAYS = 365
"""So far back numbers are compared. Our own choice."""

USUAL_C = 25.0
"""Where no temperature was read; the implied carbon dioxide hardly depends on it. Our own choice."""

MATURE_DAYS = 42
"""Fed for six weeks, a filter makes nitrite and nitrate (practice, `water` section 14)."""

CONDUCTIVITY_FALL = 0.08
"""A fall by this share is more than a meter's error of 3 % at both ends. Our own choice."""

NEIGHBOURS_DAYS = 35
"""Readings that are further apart are not compared. Our own choice."""

MOST_BY_FEED = 1.5
"""Nitrogen that is so many times what the feed brings has another cause. Our own choice."""

FRESH_SHARE = 0.02
"""Share of the water that was topped up from which a fall of conductivity is no riddle. Our own choice."""

JUMP_K = 5.0
"""Water that warms or cools by more than this in a day (practice, `water` section 14)."""

FRESH = re.compile(r"chang|top|rain|ran over|overfl|refill|hose|leak|dilut|fill", re.IGNORECASE)
"""What a note says of new water."""


def findings(garden: Garden, log: Log, day: date) -> list[tuple[date, Finding]]:
    """All checks on the readings up to a day, each with the day of the readings."""
    begin = day - timedelta(days=LOOK_BACK_DAYS)
    recent = Log(log.name, tuple(row for row in log.rows if begin <= row.day <= day))
    return [
        *_carbon_dioxide(garden, recent),
        *_no_products(garden, recent),
        *_nitrogen_by_feed(garden, recent),
        *_conductivity(garden, recent),
        *_saturation(garden, recent),
        *_softer(garden, recent),
        *_warmth(recent),
    ]


def _of(row: Row, parameter: str) -> Reading | None:
    return next((one for one in row.readings if one.parameter == parameter), None)


def _carbon_dioxide(garden: Garden, log: Log) -> Iterator[tuple[date, Finding]]:
    """pH and alkalinity of one row that ask for a carbon dioxide that no such water has."""
    bounds = tables.load("input_bounds").row("implied_carbon_dioxide")
    for row in reversed(log.rows):
        ph, alkalinity = _of(row, "ph"), _of(row, "alkalinity")
        if ph is None or alkalinity is None or alkalinity.value <= 0.0 or ph.beyond or alkalinity.beyond:
            continue
        if alkalinity.basis:
            continue
        warmth = _of(row, "temperature")
        at_c = USUAL_C if warmth is None else min(max(warmth.value, 0.0), 40.0)

        def implied(ph_: float, alkalinity_: float, at_c: float = at_c) -> float:
            return max(float(carbonate.carbon_dioxide_mg_l(ph_, alkalinity_, at_c)), 0.0)

        # What the kits' steps leave open is no contradiction.
        of_ph, of_alkalinity = trend.interval(ph, garden), trend.interval(alkalinity, garden)
        most = implied(of_ph.low if isfinite(of_ph.low) else ph.value, _end(of_alkalinity.high, alkalinity))
        least = implied(of_ph.high if isfinite(of_ph.high) else ph.value, _end(of_alkalinity.low, alkalinity))
        soft = alkalinity.value < NO_BUFFER_MG_L and ph.value > NO_BUFFER_PH
        if least > bounds.number("warn_high") or most < bounds.number("warn_low") or soft:
            amounts = (
                Amount("ph", ph.value, "ph"),
                Amount("alkalinity", alkalinity.value, "alkalinity"),
                Amount("own", own.text(alkalinity, alkalinity.value), "text"),
                Amount("implied", implied(ph.value, alkalinity.value), "concentration"),
                Amount("day", ph.day.isoformat(), "date"),
            )
            key = "finding-readings-log-disagree"
            yield row.day, Finding(key, "", "not known", amounts, (), ("TRADE", "OWN"))
            return


def _end(end: float, reading: Reading) -> float:
    return max(end, 1.0) if isfinite(end) else reading.value


def _no_products(garden: Garden, log: Log) -> Iterator[tuple[date, Finding]]:
    """Much ammonia without nitrite, or feed for weeks without nitrate."""
    for row in reversed(log.rows):
        if not _fed_for_weeks(log, row.day):
            continue
        tan, nitrite, nitrate = (_of(row, name) for name in ("tan", "nitrite", "nitrate"))
        day = Amount("day", row.day.isoformat(), "date")
        if (
            tan is not None
            and nitrite is not None
            and tan.basis == "N"
            and tan.value > LONE_TAN_MG_L
            and nitrite.value == 0.0
            and not nitrite.beyond
        ):
            told = (Amount("tan", tan.value, "nitrogen"), Amount("own", own.text(tan, tan.value), "text"))
            key = "finding-readings-log-no-nitrite"
            yield row.day, Finding(key, "", "not known", (*told, day), (), ("TRADE",))
            return
        if nitrate is not None and nitrate.value == 0.0 and not nitrate.beyond:
            key = "finding-readings-log-no-nitrate"
            yield row.day, Finding(key, "", "not known", (day,), (), ("TRADE",))
            return


def _fed_for_weeks(log: Log, day: date) -> bool:
    """Whether feed was noted in each third of the six weeks up to a day."""
    third = MATURE_DAYS // 3
    fed = {(day - one.day).days // third for one in log.all("feed") if one.value > 0.0 and one.day <= day}
    return {0, 1, 2} <= fed


def most_nitrogen_mg_l(garden: Garden, feed_g: float) -> float:
    """The nitrogen that an amount of feed brings into the water at most: all of it, in mg/L."""
    share = nitrogen.feed_nitrogen_g_day(feed_g, garden.protein_fraction())
    return 1000.0 * float(share) / litres.litres_of(garden).whole


def _nitrogen_by_feed(garden: Garden, log: Log) -> Iterator[tuple[date, Finding]]:
    """Ammonia and nitrate that rise by more nitrogen than the feed between two rows can bring.

    A nitrate kit counts nitrite as well, so that nitrite is not added.
    """
    rows = [row for row in log.rows if _sum(row, garden) is not None]
    feed = log.all("feed")
    for above, below in reversed(list(pairwise(rows))):
        days = (below.day - above.day).days
        fed = [one.value for one in feed if above.day <= one.day <= below.day]
        if not 0 < days <= NEIGHBOURS_DAYS or not fed or not max(fed) > 0.0:
            continue
        if any(_of(row, "dose") for row in log.rows if above.day <= row.day <= below.day):
            continue
        before, after = _sum(above, garden), _sum(below, garden)
        assert before is not None
        assert after is not None
        rise = after[0] - before[1]
        most = most_nitrogen_mg_l(garden, max(fed) * days)
        if rise > MOST_BY_FEED * most:
            amounts = (
                Amount("rise", rise, "nitrogen"),
                Amount("most", most, "nitrogen"),
                Amount("feed", max(fed), "feed"),
            )
            key = "finding-readings-log-nitrogen"
            told = Finding(key, "", "not known", amounts, (), ("TRADE", "OWN"), above.day, below.day)
            yield below.day, told
            return


def _sum(row: Row, garden: Garden) -> tuple[float, float] | None:
    """Between what the nitrogen of ammonia and nitrate lies, by the steps of the kits."""
    found = [_of(row, name) for name in ("tan", "nitrate")]
    if any(one is None or one.basis != "N" for one in found):
        return None
    spans = [trend.interval(one, garden) for one in found if one is not None]
    high = sum(span.high for span in spans)
    return (sum(max(span.low, 0.0) for span in spans), high) if isfinite(high) else None


def _conductivity(garden: Garden, log: Log) -> Iterator[tuple[date, Finding]]:
    """Conductivity that falls though no new water is noted: salts do not leave by themselves."""
    rows = [row for row in log.rows if _of(row, "conductivity")]
    for above, below in reversed(list(pairwise(rows))):
        before, after = _of(above, "conductivity"), _of(below, "conductivity")
        assert before is not None
        assert after is not None
        fall = 1.0 - after.value / before.value
        if fall < CONDUCTIVITY_FALL or (below.day - above.day).days > NEIGHBOURS_DAYS:
            continue
        between = [row for row in log.rows if above.day <= row.day <= below.day]
        water_l = sum(one.value for row in between[1:] for one in row.readings if one.parameter == "top_up")
        noted = any(FRESH.search(row.note) for row in between)
        if noted or water_l > FRESH_SHARE * litres.litres_of(garden).whole:
            continue
        amounts = (
            Amount("before", before.value, "conductivity"),
            Amount("after", after.value, "conductivity"),
        )
        key = "finding-conductivity-log-fell"
        yield below.day, Finding(key, "", "not known", amounts, (), ("TRADE",), above.day, below.day)
        return


def _saturation(garden: Garden, log: Log) -> Iterator[tuple[date, Finding]]:
    """Oxygen far above or far below what water at this temperature and height holds in air."""
    pressure_atm = float(oxygen.pressure_atm(garden.site.altitude_m))
    for row in reversed(log.rows):
        found, warmth = _of(row, "oxygen"), _of(row, "temperature")
        if found is None or warmth is None or found.beyond or not 0.0 <= warmth.value <= 40.0:
            continue
        share = float(oxygen.percent(found.value, warmth.value, 0.0, pressure_atm)) / 100.0
        if LEAST_SATURATION <= share <= MOST_SATURATION:
            continue
        amounts = (
            Amount("value", found.value, "concentration"),
            Amount("warmth", warmth.value, "temperature"),
            Amount("share", share, "share"),
            Amount("day", row.day.isoformat(), "date"),
        )
        little = share < LEAST_SATURATION
        key = "finding-oxygen-log-little" if little else "finding-oxygen-log-much"
        yield row.day, Finding(key, "", "not known", amounts, (), ("TRADE", "OWN"))
        return


def _softer(garden: Garden, log: Log) -> Iterator[tuple[date, Finding]]:
    """Alkalinity well above hardness: softened water, a base without calcium, or a wrong reading."""
    for row in reversed(log.rows):
        alkalinity, hardness = _of(row, "alkalinity"), _of(row, "hardness")
        if alkalinity is None or hardness is None or alkalinity.basis or hardness.basis:
            continue
        if alkalinity.beyond == "below" or hardness.beyond == "above":
            continue
        if alkalinity.value - hardness.value <= SOFTER_DKH * MG_L_CACO3_PER_GERMAN_DEGREE + 1e-9:
            continue
        amounts = (
            Amount("alkalinity", alkalinity.value, "alkalinity"),
            Amount("hardness", hardness.value, "hardness"),
            Amount("own", own.text(alkalinity, alkalinity.value), "text"),
            Amount("own_hardness", own.text(hardness, hardness.value), "text"),
            Amount("day", row.day.isoformat(), "date"),
        )
        key = "finding-readings-log-softer"
        yield row.day, Finding(key, "", "not known", amounts, (), ("TRADE",))
        return


def _warmth(log: Log) -> Iterator[tuple[date, Finding]]:
    """Water that warms or cools within a day by more than fish stand well, or a slip of the thermometer."""
    rows = [row for row in log.rows if _of(row, "temperature")]
    for above, below in reversed(list(pairwise(rows))):
        before, after = _of(above, "temperature"), _of(below, "temperature")
        assert before is not None
        assert after is not None
        if (below.day - above.day).days > 1 or abs(after.value - before.value) <= JUMP_K:
            continue
        amounts = (
            Amount("before", before.value, "temperature"),
            Amount("after", after.value, "temperature"),
        )
        key = "finding-temperature-log-jump"
        yield below.day, Finding(key, "", "not known", amounts, (), ("TRADE",), above.day, below.day)
        return
