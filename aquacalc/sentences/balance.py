"""The balance in sentences: the same words on screen, on paper and in the terminal. Plain text, unescaped."""

import math
from collections.abc import Sequence

import numpy as np

from aquacalc import words
from aquacalc.advice.measured import Counted
from aquacalc.garden.model import Assumed, Garden
from aquacalc.sizing.result import Balance, Binding, Change, Limit, Outage
from aquacalc.uncertainty import Band
from aquacalc.words import Reader

CHANGE_KINDS = {
    "change-air": "air_flow",
    "change-flow": "flow",
    "change-biofilter": "volume",
    "change-bed": "area",
    "change-tank": "volume",
    "change-settler": "volume",
    "change-backup-air": "air_flow",
    "change-fewer-fish": "number",
}
"""Kind of quantity by which a change is made."""


def at(band: Band, position: int) -> tuple[float, float, float]:
    """Low, middle and high of a band in one month, given by its place in the plan."""
    low, middle, high = (
        float(np.broadcast_to(end, 12)[position]) for end in (band.low, band.middle, band.high)
    )
    return low, middle, high


def middle_and_range(low: float, middle: float, high: float, kind: str, reader: Reader) -> str:
    """A middle with its range behind it; the middle alone where both print the same."""
    alone = words.quantity(middle, kind, reader)
    spread = words.span(low, high, kind, reader)
    return alone if spread == alone else words.say("middle-and-range", reader, middle=alone, range=spread)


def binding(balance: Balance, reader: Reader) -> str:
    """The limit that must not be exceeded and is met first, what it carries in feed, in fish and in bed."""
    if balance.binding is None:
        return words.say("balance-no-demand", reader)
    found = balance.binding
    text = _met_first("balance-must", balance, found, reader)
    if found.key == "power_cut" and found.next_key is not None:
        follow = words.say(
            "balance-next",
            reader,
            name=words.limit(found.next_key, reader),
            limit=words.quantity(found.next_limit_g_day, "feed", reader),
        )
        text = f"{text} {follow}"
    return text


def headline(balance: Balance, reader: Reader) -> str:
    """The answer in one short line, as the title of a picture: what is met first, when, and by how much."""
    found = balance.binding
    if found is None:
        return words.say("balance-no-demand", reader)
    return words.say(
        "headline-over" if found.share > 1.0 else "headline-within",
        reader,
        name=words.limit(found.key, reader),
        month=words.month(found.month, reader),
        limit=words.quantity(found.limit_g_day, "feed", reader),
        demand=words.quantity(found.demand_g_day, "feed", reader),
    )


def carried(balance: Balance, reader: Reader) -> str:
    """What the limit that is met first carries, in fish and in bed; it goes with `headline`."""
    found = balance.binding
    if found is None:
        return ""
    return in_fish_and_bed(balance, balance.limit(found.key), balance.months.index(found.month), reader)


def better(balance: Balance, reader: Reader) -> str:
    """The limit that had better not be exceeded and is met first; empty where the fish eat nothing."""
    return "" if balance.better is None else _met_first("balance-better", balance, balance.better, reader)


def _met_first(key: str, balance: Balance, found: Binding, reader: Reader) -> str:
    position = balance.months.index(found.month)
    limit = balance.limit(found.key)
    first = words.say(
        f"{key}-{'over' if found.share > 1.0 else 'within'}",
        reader,
        name=words.limit(found.key, reader),
        month=words.month(found.month, reader),
        limit=middle_and_range(*at(limit.feed_g_day, position), "feed", reader),
        demand=middle_and_range(*at(balance.demand.feed_g_day, position), "feed", reader),
    )
    return f"{first} {in_fish_and_bed(balance, limit, position, reader)}"


def in_fish_and_bed(balance: Balance, limit: Limit, position: int, reader: Reader) -> str:
    """A limit of one month as kilograms of fish now, as fish at their final weight, and as area of bed."""
    kg = at(limit.fish_kg, position)
    if not math.isfinite(kg[1]):
        return words.say(
            "balance-in-bed", reader, bed=words.span(*_ends(limit.bed_m2, position), "area", reader)
        )
    return words.say(
        "balance-in-fish-and-bed",
        reader,
        kg=words.span(kg[0], kg[2], "biomass", reader),
        count=_whole_fish(*_ends(limit.fish_count, position), reader),
        weight=words.quantity(balance.final_weight_g, "mass", reader),
        bed=words.span(*_ends(limit.bed_m2, position), "area", reader),
    )


def _ends(band: Band, position: int) -> tuple[float, float]:
    low, _, high = at(band, position)
    return low, high


def _whole_fish(low: float, high: float, reader: Reader) -> str:
    # Half a fish is not carried, so a number of fish goes down to the next whole one.
    return words.span(float(np.floor(low)), float(np.floor(high)), "count", reader)


def changes(balance: Balance, reader: Reader) -> list[str]:
    """What to change first and how much it brings, one sentence each, in the order of the balance."""
    return [_change(change, reader) for change in balance.changes]


def _change(change: Change, reader: Reader) -> str:
    return words.say(
        change.key,
        reader,
        amount=words.quantity(change.amount, CHANGE_KINDS[change.key], reader),
        name=words.limit(change.limit, reader),
        before=words.quantity(float(change.before_g_day.middle), "feed", reader),
        after=words.quantity(float(change.after_g_day.middle), "feed", reader),
    )


def outage(found: Outage | None, reader: Reader) -> str:
    """The line of the power cut; empty without fish."""
    if found is None:
        return ""
    danger, unaided = found.danger_h, found.unaided_kg
    text = words.say(
        "balance-outage",
        reader,
        response=words.quantity(found.response_h, "time", reader),
        danger=words.span(float(danger.low), float(danger.high), "time", reader),
        month=words.month(found.month, reader),
        help=words.quantity(found.hours_until_help, "time", reader),
        unaided=words.span(float(unaided.low), float(unaided.high), "biomass", reader),
        stock=words.quantity(found.fish_kg, "biomass", reader),
    )
    key = "balance-outage-backed" if found.backed else "balance-outage-gap"
    if not float(found.air_l_min.middle) > 0.0:
        key = "balance-outage-no-gap"
    rest = words.say(
        key,
        reader,
        air=words.quantity(float(found.air_l_min.middle), "air_flow", reader),
        battery=words.quantity(float(found.battery_wh.middle), "energy", reader),
    )
    return f"{text} {rest}"


def first_year(balance: Balance, reader: Reader) -> str:
    """Half of what the garden carries, advised in a first year; empty where no limit can be said in fish."""
    kg, count = balance.first_year_kg, balance.first_year_count
    if not math.isfinite(float(kg.middle)):
        return ""
    return words.say(
        "balance-first-year",
        reader,
        kg=words.span(float(kg.low), float(kg.high), "biomass", reader),
        count=_whole_fish(float(count.low), float(count.high), reader),
        weight=words.quantity(balance.final_weight_g, "mass", reader),
    )


def biofilter(balance: Balance, reader: Reader) -> str:
    """The wet surface that works now, and the litres of medium that are missing; empty without fish."""
    found = balance.biofilter
    if found is None or balance.binding is None:
        return ""
    missing = float(found.missing_litres.middle)
    comfortable, most = found.comfortable_g_day, found.most_g_day
    told = words.say(
        "balance-biofilter-missing" if missing > 0.0 else "balance-biofilter-enough",
        reader,
        comfortable=words.span(float(comfortable.low), float(comfortable.high), "feed", reader),
        most=words.span(float(most.low), float(most.high), "feed", reader),
        surface=words.span(float(found.wetted_m2.low), float(found.wetted_m2.high), "area", reader),
        month=words.month(found.month, reader),
        medium=words.name("medium", found.medium),
        litres=words.quantity(float(found.media_litres.middle), "volume", reader),
        missing=words.quantity(missing, "volume", reader),
    )
    if found.known == "measured":
        return told
    cold = words.quantity(found.water_c, "temperature", reader)
    return f"{told} {words.say(f'balance-biofilter-{found.known}', reader, water=cold)}"


def flow(balance: Balance, reader: Reader) -> str:
    """The flow round the loop, and whether it was measured."""
    key = "balance-flow-measured" if balance.measured_flow else "balance-flow-box"
    turnover, rate = balance.turnover_1_h, balance.flow_l_h
    return words.say(
        key,
        reader,
        flow=words.span(float(rate.low), float(rate.high), "flow", reader),
        turnover=words.span(float(turnover.low), float(turnover.high), "turnover", reader),
    )


def assumed(garden: Garden, reader: Reader) -> list[str]:
    """What the garden file did not say and the reckoning took instead, one line each."""
    return [_assumed(one, reader) for one in garden.assumed]


def _assumed(one: Assumed, reader: Reader) -> str:
    value = words.NO_BREAK_SPACE.join(part for part in (one.value, one.unit) if part)
    return words.say("assumed-line", reader, key=one.key, value=value, reason=words.say(one.reason, reader))


def measured(counted: Sequence[Counted], reader: Reader) -> list[str]:
    """What the grower measured beside what would be reckoned, one line each; or why it does not count."""
    return [_measured(one, reader) for one in counted]


def _measured(one: Counted, reader: Reader) -> str:
    named = words.say("measured-of", reader, subject=one.subject) if one.subject else ""
    dated = words.say("measured-on", reader, day=words.date(one.day, reader)) if one.day else ""
    what = words.say(
        one.key, reader, value=words.quantity(one.value, one.kind, reader), subject=named, day=dated
    )
    if not one.counts:
        return what
    if math.isnan(one.reckoned):
        beside = words.say("measured-alone", reader, what=what)
    else:
        reckoned = words.quantity(one.reckoned, one.kind, reader)
        beside = words.say("measured-beside", reader, what=what, reckoned=reckoned)
    return f"{beside} {words.say(one.note, reader)}" if one.note else beside
