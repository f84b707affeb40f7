"""The test routine: what to look at when, and from which reading on to act, as the kit shows it."""

import math

from aquacalc import tables, words
from aquacalc.judge import lines, temperature
from aquacalc.judge.levels import Level
from aquacalc.pages import kit
from aquacalc.pages.html import Html, element, join, level, listing, paragraph, table
from aquacalc.pages.plan import Plan, sheet
from aquacalc.tables import Row

COLUMNS: tuple[tuple[Level, str], ...] = (
    ("watch", "watch_from"),
    ("act today", "act_from"),
    ("emergency", "emergency_from"),
)
READINGS = ("tan", "nitrite", "nitrate", "ph", "alkalinity", "oxygen", "temperature")


def page(plan: Plan) -> Html:
    """The sheet beside the tank."""
    head = [
        plan.say("routine-head"),
        *(level(one, plan.reader) for one, _ in COLUMNS),
    ]
    rows = [(element("b", words.say(f"word-{name}", plan.reader)), *limits(plan, name)) for name in READINGS]
    when = (
        join(element("h2", plan.say(f"routine-{when}")), paragraph(plan.say(f"routine-{when}-what")))
        for when in ("daily", "weekly", "monthly")
    )
    notes = [plan.say(f"routine-note-{name}") for name in ("pair", "oxygen", "repeat")]
    notes += kit.corrections(kit.in_use(plan.garden), plan.reader)
    if any(kit.PAST_END in cell for row in rows for cell in row[1:]):
        notes.append(plan.say("routine-note-past-end", mark=kit.PAST_END))
    return sheet(
        plan,
        plan.say("routine-title"),
        *when,
        element("h2", plan.say("routine-limits")),
        table(head, rows, "limits"),
        listing(notes),
    )


def limits(plan: Plan, name: str) -> list[str]:
    """From where on a reading is `watch`, `act today` and `emergency`, as the garden's kit shows it."""
    if name == "oxygen":
        return _oxygen(plan)
    if name == "temperature":
        return _temperature(plan)
    return [_both_sides(plan, name, column) for _, column in COLUMNS]


def _both_sides(plan: Plan, name: str, column: str) -> str:
    """The strictest upper and lower bound of one level, as the kit shows them."""
    scale = kit.scale_of(plan.garden, name)
    texts = []
    for side, strictest in (("below", max), ("above", min)):
        bounds = [row.number(column) for row in _lines(plan, name) if row.text("side") == side]
        known = [bound for bound in bounds if not math.isnan(bound)]
        if known:
            limit = kit.limit(strictest(known), scale, plan.reader, falling=side == "below")
            texts.append(plan.say(f"routine-{side}", limit=limit))
    return "; ".join(texts) or plan.say("routine-no-line" if name != "tan" else "routine-by-table")


def _lines(plan: Plan, name: str) -> list[Row]:
    """The lines of a parameter that hold for the garden's fish, but those that rest on chloride."""
    held = {group for row in plan.species for group in lines.groups(row)}
    if name == "nitrite":
        held = {group for group in held if not group.startswith("class")}
    return [
        row
        for row in tables.load("water_limits").rows
        if row.text("parameter") == name
        and row.text("group") in held
        and math.isnan(row.number("act_chloride_ratio"))
    ]


def _oxygen(plan: Plan) -> list[str]:
    full = max(row.number("do_full_feed_mg_l") for row in plan.species)
    critical = max(row.number("do_critical_mg_l") for row in plan.species)
    bounds = (full, (full + critical) / 2.0, critical)
    return [plan.say("routine-below", limit=plan.quantity(bound, "concentration")) for bound in bounds]


def _temperature(plan: Plan) -> list[str]:
    above = tables.load("water_limits").row("temperature_above_stress").number("act_from")
    high = min(row.number("t_stress_high_c") for row in plan.species)
    feed_stop = max(row.number("t_feed_stop_low_c") for row in plan.species)
    cold, hot = (
        temperature.lowest_c(plan.species),
        temperature.highest_c(plan.species),
    )

    def both(low_c: float | None, high_c: float) -> str:
        sides = {"below": low_c, "above": high_c}
        return "; ".join(
            plan.say(f"routine-{side}", limit=plan.quantity(value, "temperature"))
            for side, value in sides.items()
            if value is not None
        )

    return [both(feed_stop, high), both(None, min(high + above, hot)), both(cold, hot)]
