"""Which base is next, and how much a week: sentences for the dose table and for the panel of doses."""

import math
from collections.abc import Mapping

from aquacalc import tables, words
from aquacalc.advice.doses import ratio
from aquacalc.advice.doses.jumps import Jump
from aquacalc.advice.doses.weekly import Weekly, grams
from aquacalc.garden.model import BaseHow
from aquacalc.season.rules import HARD_CALCIUM_MG_L, MOST_POTASSIUM_MG_L


def chemical_name(key: str) -> str:
    """Name of a chemical."""
    return tables.load("chemicals").row(key).text("name")


def turn(reader: words.Reader, of: ratio.NextBase, key: str) -> str:
    """Which base is next, and why. key: its chemical, empty for none."""
    metal = {"K": "potassium", "Ca": "calcium"}.get(of.metal, of.metal)
    name = {"name": chemical_name(key)} if key else {}
    return words.say(f"panel-dose-next-{metal}", reader, why=_why(reader, of), **name)


def _why(reader: words.Reader, of: ratio.NextBase) -> str:
    if of.why in ("low", "high", "between"):
        if math.isinf(of.ratio):
            return words.say(f"panel-dose-why-only-{of.by}", reader)
        return words.say(f"panel-dose-why-{of.why}-{of.by}", reader, ratio=words.number(of.ratio, 2))
    lines = {
        "potassium": words.quantity(MOST_POTASSIUM_MG_L, "concentration", reader),
        "calcium": words.quantity(HARD_CALCIUM_MG_L, "concentration", reader),
    }
    wanted = {"potassium-high": ("potassium",), "hard": ("calcium",), "both-high": ("potassium", "calcium")}
    told = {one: lines[one] for one in wanted.get(of.why, ())}
    return words.say(f"panel-dose-why-{of.why}", reader, **told)


def week(reader: words.Reader, of: Weekly, chemical: str, volume_l: float, purity: float) -> list[str]:
    """How much of a base a week, by which reckoning, and what the other one says."""
    say = words.say

    def amount(use_mg_l: float) -> str:
        return words.quantity(grams(use_mg_l, chemical, volume_l, purity), "dose", reader)

    told = {"low": amount(of.use.low), "high": amount(of.use.high), "grams": amount(of.use.middle)}
    found = [
        say("panel-dose-week", reader, name=chemical_name(chemical), **told)
        if of.use.middle > 0.0
        else say("panel-dose-week-none", reader)
    ]
    feed = words.quantity(of.feed_g_day, "feed", reader)
    if of.by_readings is None:
        return [*found, say("panel-dose-week-feed", reader, feed=feed)]
    read = {"count": words.number(of.count), "days": words.number(of.days)}
    by_feed = amount(of.by_feed.middle)
    return [*found, say("panel-dose-week-readings", reader, feed=feed, by_feed=by_feed, **read)]


def jumps(reader: words.Reader, found: Mapping[BaseHow, Jump]) -> dict[str, str]:
    """pH and un-ionised ammonia right after the first portion, by the way in which a day's base is given."""
    told: dict[str, str] = {}
    for how, one in found.items():
        told[how] = words.quantity(float(one.unionised_mg_l), "nitrogen", reader)
        told[f"{how}-ph"] = words.quantity(float(one.ph), "ph", reader)
    return told
