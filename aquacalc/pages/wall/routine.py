"""The test routine: what to look at when, and from which reading on to act, as the kit shows it."""

import math

from aquacalc import words
from aquacalc.judge import lines, nitrite, oxygen, temperature
from aquacalc.judge.levels import Level
from aquacalc.pages import kit
from aquacalc.pages.html import Html, element, join, level, listing, paragraph, table
from aquacalc.pages.plan import Plan, sheet

LEVELS: tuple[Level, ...] = ("watch", "act today", "emergency")
READINGS = ("tan", "nitrite", "nitrate", "ph", "alkalinity", "oxygen", "temperature")


def page(plan: Plan) -> Html:
    """The sheet beside the tank."""
    head = [
        plan.say("routine-head"),
        *(level(one, plan.reader) for one in LEVELS),
    ]
    rows = [(element("b", words.say(f"word-{name}", plan.reader)), *limits(plan, name)) for name in READINGS]
    when = (
        join(element("h2", plan.say(f"routine-{when}")), paragraph(plan.say(f"routine-{when}-what")))
        for when in ("daily", "weekly", "monthly")
    )
    notes = [plan.say(f"routine-note-{name}") for name in ("pair", "oxygen", "repeat")]
    notes.append(_chloride(plan))
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


def _chloride(plan: Plan) -> str:
    """How far a test of chloride moves the line of nitrite."""
    per = nitrite.chloride_per_line(plan.species)
    most = lines.begins_at("nitrite", "act today", plan.species)
    return plan.say("routine-note-chloride", per=words.number(per), most=plan.quantity(most, "nitrogen"))


def limits(plan: Plan, name: str) -> list[str]:
    """From where on a reading is `watch`, `act today` and `emergency`, as the garden's kit shows it."""
    if name == "oxygen":
        return _oxygen(plan)
    if name == "temperature":
        return _temperature(plan)
    return [_both_sides(plan, name, at) for at in LEVELS]


def _both_sides(plan: Plan, name: str, at: Level) -> str:
    """The strictest upper and lower bound of one level, as the kit shows them."""
    scale = kit.scale_of(plan.garden, name)
    texts = []
    for side, above in (("below", False), ("above", True)):
        begins = lines.begins_at(name, at, plan.species, above)
        if name == "nitrite" and above:
            # As a reading without a test of chloride is judged.
            begins = float(nitrite.begins_at(at, 0.0, plan.species))
        if not math.isnan(begins):
            limit = kit.limit(begins, scale, plan.reader, falling=not above)
            texts.append(plan.say(f"routine-{side}", limit=limit))
    return "; ".join(texts) or plan.say("routine-no-line" if name != "tan" else "routine-by-table")


def _oxygen(plan: Plan) -> list[str]:
    bounds = (oxygen.begins_below(at, plan.species) for at in LEVELS)
    return [plan.say("routine-below", limit=plan.quantity(bound, "concentration")) for bound in bounds]


def _temperature(plan: Plan) -> list[str]:
    cold, hot = temperature.lowest_c(plan.species), temperature.highest_c(plan.species)
    high, act = temperature.stress_c(plan.species), temperature.act_above_c(plan.species)
    feed_stop = temperature.no_feed_below_c(plan.species)

    def both(low_c: float | None, high_c: float) -> str:
        sides = {"below": low_c, "above": high_c}
        return "; ".join(
            plan.say(f"routine-{side}", limit=plan.quantity(value, "temperature"))
            for side, value in sides.items()
            if value is not None
        )

    return [both(feed_stop, high), both(None, min(act, hot)), both(cold, hot)]
