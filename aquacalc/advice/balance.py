"""Findings of the balance: where the demand comes near a limit, the power cut, the year's water, nitrate."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from aquacalc import tables
from aquacalc.advice.finding import Amount, Finding, changes_of_water, spans
from aquacalc.constants import DAYS_PER_WEEK, MONTHS_PER_YEAR
from aquacalc.garden.model import FishBatch, Garden
from aquacalc.judge import lines, nitrite
from aquacalc.judge import share as of_share
from aquacalc.judge import temperature as warmth
from aquacalc.judge.levels import Level
from aquacalc.sizing.result import Balance, Limit, LimitKey, Outage
from aquacalc.tables import Row
from aquacalc.uncertainty import Band, Floats
from aquacalc.water import oxygen

OVER_AND_NEAR: dict[LimitKey, tuple[str, str]] = {
    "oxygen": ("finding-oxygen-limit-over", "finding-oxygen-limit-near"),
    "power_cut": ("finding-oxygen-outage-over", "finding-oxygen-outage-near"),
    "nitrification": ("finding-ammonia-limit-over", "finding-ammonia-limit-near"),
    "density": ("finding-density-limit-over", "finding-density-limit-near"),
}
"""Limits that the demand must not exceed. The plants' limit speaks as nitrate, solids and turnover below."""

LIMIT_SOURCES: dict[LimitKey, tuple[str, ...]] = {
    "oxygen": ("TIMEBE", "ASCE2", "OWN"),
    "power_cut": ("OWN",),
    "nitrification": ("TIMEBE", "FAO589:App. 4", "OWN"),
    "density": ("FAO589",),
}

AUTOMATIC_BELOW_H = 0.5
WATCHED_BELOW_H = 1.0
BY_HAND_FROM_H = 3.0
"""Response times: backup air that starts by itself, alarm and battery, a prepared hand procedure. Common
practice, no source."""

SOLIDS_NOTE_SHARE = 0.5
"""The note on clogging begins at half of the line at which it is `watch`. Common practice, no source."""

DRIFT_FROM_MG_L_WEEK = 1.0
"""A smaller drift of nitrate (as N) than this cannot be read with a home kit. Common practice, no source."""

FIRST_YEAR = timedelta(days=365)


def of_balance(garden: Garden, balance: Balance) -> tuple[Finding, ...]:
    """All findings of a balance, in no order."""
    limits = _limits(balance)
    # Where the stock is too large for a power cut, that finding names the missing backup already.
    named = any(finding.key in OVER_AND_NEAR["power_cut"] for finding in limits)
    return (
        *limits,
        *_response(garden, balance.outage),
        *_backup(garden, balance.outage, named),
        *_temperature(garden, balance),
        *_saturation(garden, balance),
        *_turnover(balance),
        *_solids(garden, balance),
        *_nitrate(garden, balance),
        *_nitrite_line(garden, balance),
        *_first_year(garden, balance),
    )


def present(batch: FishBatch, start: date) -> tuple[bool, ...]:
    """In which of the twelve months of a plan the batch is in the tank, on one day at least."""
    found = []
    for step in range(MONTHS_PER_YEAR):
        first = _first_of_month(start, step)
        last = _first_of_month(start, step + 1) - timedelta(days=1)
        found.append(batch.stocked <= last and (batch.until is None or batch.until >= first))
    return tuple(found)


def _first_of_month(start: date, step: int) -> date:
    months = start.year * MONTHS_PER_YEAR + start.month - 1 + step
    return date(months // MONTHS_PER_YEAR, months % MONTHS_PER_YEAR + 1, 1)


def _banded(name: str, band: Band, position: int, kind: str) -> Amount:
    def at(values: Floats) -> float:
        return float(np.broadcast_to(values, MONTHS_PER_YEAR)[position])

    return Amount(name, at(band.middle), kind, at(band.low), at(band.high))


def _months(balance: Balance, positions: Sequence[int]) -> tuple[int, ...]:
    return tuple(balance.months[position] for position in positions)


def _shares(balance: Balance, limit: Limit) -> Floats:
    """Demand divided by limit, medians; zero where there is no demand or no answer."""
    demand = np.broadcast_to(balance.demand.feed_g_day.middle, MONTHS_PER_YEAR)
    feed = np.broadcast_to(limit.feed_g_day.middle, MONTHS_PER_YEAR)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(demand > 0.0, np.nan_to_num(demand / feed, nan=0.0, posinf=math.inf), 0.0)


def _limits(balance: Balance) -> list[Finding]:
    found = []
    for limit in balance.limits:
        if limit.key not in OVER_AND_NEAR or not limit.counts:
            continue
        if limit.key == "power_cut" and balance.outage is None:
            # No fish, no power cut to think of.
            continue
        share = _shares(balance, limit)
        for state, positions in spans([_unless_fine(of_share.level(one)) for one in share]):
            at = max(positions, key=lambda position: share[position])
            over, near = OVER_AND_NEAR[limit.key]
            amounts = [
                _banded("demand", balance.demand.feed_g_day, at, "feed"),
                _banded("limit", limit.feed_g_day, at, "feed"),
                _banded("fish_now", balance.demand.fish_kg, at, "biomass"),
                _banded("fish_carried", limit.fish_kg, at, "biomass"),
                _banded("count", limit.fish_count, at, "count"),
                _banded("beds", limit.bed_m2, at, "area"),
                Amount("worst", balance.months[at], "month"),
            ]
            if limit.key == "nitrification" and state == "act today":
                amounts.append(_missing(balance))
            if limit.key == "power_cut" and balance.outage is not None:
                amounts += _gap(balance.outage)
            level: Level = "act today" if state == "act today" else "watch"
            found.append(
                Finding(
                    over if state == "act today" else near,
                    "",
                    level,
                    tuple(amounts),
                    _months(balance, positions),
                    LIMIT_SOURCES[limit.key],
                )
            )
    return found


def _unless_fine(level: Level) -> Level | None:
    # `fine` needs no finding.
    return None if level == "fine" else level


def _missing(balance: Balance) -> Amount:
    if balance.biofilter is None:
        return Amount("missing", math.nan, "volume")
    return _banded("missing", balance.biofilter.missing_litres, 0, "volume")


def _gap(outage: Outage) -> list[Amount]:
    return [
        Amount("response", outage.response_h, "time"),
        Amount("help", outage.hours_until_help, "time"),
        _banded("air", outage.air_l_min, 0, "air_flow"),
        _banded("battery", outage.battery_wh, 0, "energy"),
    ]


def _response(garden: Garden, outage: Outage | None) -> list[Finding]:
    if outage is None:
        return []
    power = garden.power
    times = (
        Amount("response", outage.response_h, "time"),
        _banded("danger", outage.danger_h, 0, "time"),
        Amount("worst", outage.month, "month"),
        Amount("water", outage.water_c, "temperature"),
    )
    sources = ("OWN",)
    found = []
    if outage.response_h < AUTOMATIC_BELOW_H:
        level: Level = "fine" if outage.backed and power.starts_by_itself else "act today"
        found.append(Finding("finding-oxygen-response-minutes", "", level, times, (), sources))
    elif outage.response_h < WATCHED_BELOW_H:
        level = "fine" if outage.backed and power.alarm else "act today"
        found.append(Finding("finding-oxygen-response-hour", "", level, times, (), sources))
    elif outage.response_h <= BY_HAND_FROM_H:
        level = "fine" if outage.backed else "watch"
        found.append(Finding("finding-oxygen-response-hours", "", level, times, (), sources))
    else:
        found.append(Finding("finding-oxygen-response-hand", "", "fine", times, (), sources))
    return found


def _backup(garden: Garden, outage: Outage | None, named: bool) -> list[Finding]:
    if outage is None or (named and not outage.backed):
        return []
    power = garden.power
    help_ = Amount("help", outage.hours_until_help, "time")
    air = _banded("air", outage.air_l_min, 0, "air_flow")
    battery = _banded("battery", outage.battery_wh, 0, "energy")
    sources = ("OWN", "TRADE")
    if not outage.backed:
        amounts = (help_, air, battery, Amount("response", outage.response_h, "time"))
        return [Finding("finding-oxygen-no-backup", "", "watch", amounts, (), sources)]
    told = power.backup_hours > 0.0 or power.battery_wh > 0.0
    if not told:
        return [Finding("finding-oxygen-backup-not-told", "", "not known", (help_, battery), (), sources)]
    too_short = 0.0 < power.backup_hours < outage.hours_until_help
    too_small = 0.0 < power.battery_wh < float(outage.battery_wh.middle)
    too_little_air = 0.0 < power.backup_air_l_min < float(outage.air_l_min.middle)
    if power.backup == "battery air" and (too_short or too_small or too_little_air):
        return [Finding("finding-oxygen-backup-small", "", "act today", (help_, air, battery), (), sources)]
    if too_short:
        lasts = Amount("lasts", power.backup_hours, "time")
        return [Finding("finding-oxygen-backup-short", "", "act today", (help_, lasts), (), sources)]
    return []


@dataclass(frozen=True)
class _Warmth:
    """What a month's water is to a species: the finding's key, its level, whether heat or cold is meant."""

    key: str
    level: Level
    hot: bool


def _warmth(low_c: float, middle_c: float, high_c: float, species: Row) -> _Warmth | None:
    """The level goes by the middle; where only the far end of the band is beyond `watch`, it is `watch`."""
    level = warmth.level(middle_c, (species,))
    hot = middle_c > species.number("t_stress_high_c")
    if level == "emergency":
        key = "finding-temperature-deadly-hot" if hot else "finding-temperature-deadly-cold"
        return _Warmth(key, level, hot)
    if level == "act today":
        return _Warmth("finding-temperature-hot", level, True)
    severe = ("act today", "emergency")
    if warmth.level(high_c, (species,)) in severe:
        return _Warmth("finding-temperature-may-be-hot", "watch", True)
    if warmth.level(low_c, (species,)) in severe:
        return _Warmth("finding-temperature-may-be-cold", "watch", False)
    if level == "watch":
        return _Warmth("finding-temperature-warm" if hot else "finding-temperature-cold", level, hot)
    return None


def _temperature(garden: Garden, balance: Balance) -> list[Finding]:
    found = []
    water = balance.water_c
    for batch in garden.fish:
        species = tables.load("species").row(batch.species)
        there = present(batch, garden.season.start)
        states = [
            _warmth(float(water.low[month]), float(water.middle[month]), float(water.high[month]), species)
            if there[month]
            else None
            for month in range(MONTHS_PER_YEAR)
        ]
        for state, positions in spans(states):
            pick = max if state.hot else min
            at = pick(positions, key=lambda position: float(water.middle[position]))
            side = "high" if state.hot else "low"
            amounts = (
                Amount("species", batch.species, "species"),
                _banded("water", water, at, "temperature"),
                Amount(
                    "line",
                    species.number("t_stress_high_c" if state.hot else "t_feed_stop_low_c"),
                    "temperature",
                ),
                Amount("deadly", species.number(f"t_lethal_{side}_c"), "temperature"),
                Amount("worst", balance.months[at], "month"),
            )
            found.append(
                Finding(state.key, batch.name, state.level, amounts, _months(balance, positions), ("OWN",))
            )
    return found


def _saturation(garden: Garden, balance: Balance) -> list[Finding]:
    """Where water that is full of air holds little more oxygen than the fish need to eat well."""
    found = []
    saturation = balance.saturation_mg_l.middle
    for batch in garden.fish:
        species = tables.load("species").row(batch.species)
        need = species.number("do_full_feed_mg_l")
        there = present(batch, garden.season.start)
        states = [
            _unless_fine(of_share.level(need / float(saturation[month]))) if there[month] else None
            for month in range(MONTHS_PER_YEAR)
        ]
        for state, positions in spans(states):
            level: Level = "act today" if state == "act today" else "watch"
            at = min(positions, key=lambda position: float(saturation[position]))
            amounts = (
                Amount("species", batch.species, "species"),
                Amount("need", need, "concentration"),
                _banded("full", balance.saturation_mg_l, at, "concentration"),
                Amount(
                    "sea_level",
                    float(oxygen.saturation_mg_l(float(balance.water_c.middle[at]))),
                    "concentration",
                ),
                Amount("altitude", garden.site.altitude_m, "length"),
                Amount("water", float(balance.water_c.middle[at]), "temperature"),
            )
            key = "finding-oxygen-thin-over" if level == "act today" else "finding-oxygen-thin"
            found.append(Finding(key, batch.name, level, amounts, _months(balance, positions), ("BENKRA84",)))
    return found


def _turnover(balance: Balance) -> list[Finding]:
    turnover = np.broadcast_to(balance.turnover_1_h.middle, MONTHS_PER_YEAR)
    at = int(np.argmin(turnover))
    level = of_share.turnover_level(float(turnover[at]))
    if level == "fine":
        return []
    slow = of_share.turns_slowly(float(turnover[at]))
    amounts = (
        _banded("turnover", balance.turnover_1_h, at, "turnover"),
        _banded("flow", balance.flow_l_h, at, "flow"),
    )
    key = "finding-turnover-low" if slow else "finding-turnover-high"
    return [Finding(key, "", level, amounts, (), ("TRADE", "FAO589"))]


def _solids(garden: Garden, balance: Balance) -> list[Finding]:
    media_m2 = sum(bed.area_m2 for bed in garden.beds if bed.holds_medium)
    if media_m2 == 0.0:
        return []
    limit = balance.limit("solids")
    share = _shares(balance, limit)
    states = ["watch" if one > 1.0 else "note" if one > SOLIDS_NOTE_SHARE else None for one in share]
    found = []
    for state, positions in spans(states):
        at = max(positions, key=lambda position: float(share[position]))
        demand = float(np.broadcast_to(balance.demand.feed_g_day.middle, MONTHS_PER_YEAR)[at])
        line = float(np.broadcast_to(limit.feed_g_day.middle, MONTHS_PER_YEAR)[at])
        amounts = (
            Amount("load", demand / media_m2, "feed_area"),
            Amount("line", line / media_m2, "feed_area"),
        )
        over = state == "watch"
        key = "finding-solids-limit-over" if over else "finding-solids-note"
        level: Level = "watch" if over else "fine"
        found.append(Finding(key, "", level, amounts, _months(balance, positions), ("TRADE", "FAO589")))
    return found


def _nitrate(garden: Garden, balance: Balance) -> list[Finding]:
    plants = balance.plants
    fish = [tables.load("species").row(batch.species) for batch in garden.fish]
    drift = plants.drift_mg_n_l_day
    week = Band(DAYS_PER_WEEK * drift.low, DAYS_PER_WEEK * drift.middle, DAYS_PER_WEEK * drift.high)
    uptake = np.broadcast_to(plants.uptake_g_n_day.middle, MONTHS_PER_YEAR)
    states: list[str | None] = []
    for month in range(MONTHS_PER_YEAR):
        if week.low[month] > DRIFT_FROM_MG_L_WEEK:
            states.append("finding-nitrate-rising" if uptake[month] > 0.0 else "finding-nitrate-rising-bare")
        elif week.high[month] < -DRIFT_FROM_MG_L_WEEK:
            states.append("finding-nitrate-falling")
        else:
            states.append(None)
    found = []
    for key, positions in spans(states):
        at = max(positions, key=lambda position: abs(float(week.middle[position])))
        change = Band(-week.high, -week.middle, -week.low) if key == "finding-nitrate-falling" else week
        amounts = [
            _banded("drift", change, at, "drift"),
            _banded("demand", balance.demand.feed_g_day, at, "feed"),
            Amount("worst", balance.months[at], "month"),
        ]
        if key != "finding-nitrate-rising-bare":
            amounts.append(_banded("holds", plants.balance_g_day, at, "feed"))
            amounts.append(_banded("rule", plants.area_rule_g_day, at, "feed"))
        if key == "finding-nitrate-rising":
            amounts.append(Amount("line", lines.begins_at("nitrate", "watch", fish), "nitrogen"))
            amounts += changes_of_water("least")
        found.append(
            Finding(key, "", "watch", tuple(amounts), _months(balance, positions), ("OWN", "FAO589:8.1"))
        )
    return found


def _nitrite_line(garden: Garden, balance: Balance) -> list[Finding]:
    """The line for cold-water fish lies below what a film of bacteria can hold; chloride has to cover it."""
    if balance.biofilter is None or not balance.biofilter.nitrite_raised:
        return []
    line = balance.biofilter.nitrite_target_mg_l
    rows = [tables.load("species").row(batch.species) for batch in garden.fish]
    wanted = nitrite.chloride_ratio_wanted(rows) * line
    amounts = [
        Amount("nitrite", line, "nitrogen"),
        Amount("chloride", wanted, "concentration"),
    ]
    sources = ("TIMEBE", "BOYD14")
    if garden.top_up.chloride_mg_l is None:
        return [
            Finding("finding-nitrite-line-chloride-not-known", "", "not known", tuple(amounts), (), sources)
        ]
    amounts.append(Amount("tap", garden.top_up.chloride_mg_l, "concentration"))
    level: Level = "fine" if garden.top_up.chloride_mg_l >= wanted else "watch"
    return [Finding("finding-nitrite-line-raised", "", level, tuple(amounts), (), sources)]


def _first_year(garden: Garden, balance: Balance) -> list[Finding]:
    started = garden.start_up.started
    young = garden.start_up.state == "new" or (
        started is not None and garden.season.start - started < FIRST_YEAR
    )
    if not young or not garden.fish:
        return []
    kg = np.broadcast_to(balance.demand.fish_kg.middle, MONTHS_PER_YEAR)
    advised = np.broadcast_to(balance.first_year_kg.middle, MONTHS_PER_YEAR)
    states = ["over" if kg[month] > advised[month] else None for month in range(MONTHS_PER_YEAR)]
    found = []
    for _, positions in spans(states):
        at = max(positions, key=lambda position: float(kg[position]))
        amounts = (
            _banded("fish_now", balance.demand.fish_kg, at, "biomass"),
            _banded("advised", balance.first_year_kg, at, "biomass"),
            _banded("count", balance.first_year_count, at, "count"),
            Amount("worst", balance.months[at], "month"),
        )
        found.append(
            Finding("finding-first-year-half", "", "watch", amounts, _months(balance, positions), ("TRADE",))
        )
    return found
