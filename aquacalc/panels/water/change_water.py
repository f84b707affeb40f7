"""How much water do I change? From, to, and the new water: how many changes, and what else moves."""

import math
from dataclasses import dataclass
from functools import partial

from aquacalc import crops, words
from aquacalc.errors import InputError, Problem
from aquacalc.garden import litres
from aquacalc.judge import sizes
from aquacalc.logbook.today import WATER, standing
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of, today_of
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.water import carbonate, salts

WHAT = ("nitrate", "tan", "nitrite", "chloride")
SHARES = (0.1, 0.25, 0.5)
"""Sizes of a change that are set side by side. Our own choice."""
LETTUCE, BED_DAYS = "lettuce_leaf", 30.0
"""The bed that would have taken the nitrate up, and in how many days. Our own choice."""
MAIN = ("what", "now", "target", "new", "water")


@dataclass(frozen=True)
class Way:
    """Changes of one size: how many, all litres, and what it is after the last."""

    share: float
    times: int
    litres: float
    after_mg_l: float


@dataclass(frozen=True)
class Change:
    """What was asked and what came out. ph, warm_c, alkalinity: after one change of the chosen size, NaN
    where not known; bed_m2: bed that would have taken it up, NaN but for nitrate."""

    what: str
    now: float
    target: float
    water_l: float
    share: float
    way: Way
    ways: tuple[Way, ...]
    warm_now_c: float
    warm_c: float
    ph_now: float
    ph: float
    alkalinity: float
    bed_m2: float


def controls(reader: words.Reader) -> dict[str, Field]:
    """What shall change, from and to, and the two waters."""
    say = words.say

    def number(key: str, kind: str, value: float | None, low: float, high: float) -> NumberField:
        return NumberField(
            say(f"renew-{key}", reader), kind, value, reader, low, high, optional=value is None
        )

    whats = [(say(f"renew-what-{key}", reader), key) for key in WHAT]
    return {
        "what": ChoiceField(say("renew-what", reader), whats, WHAT[0], reader),
        "now": number("now", "concentration", 60.0, 0.0, 10_000.0),
        "target": number("target", "concentration", 30.0, 0.0, 10_000.0),
        "new": number("new", "concentration", 0.0, 0.0, 10_000.0),
        "water": NumberField(say("panel-whole-water", reader), "volume", 1000.0, reader, 1.0, 1e7),
        "share": number("share", "share", 0.25, 0.01, sizes.MOST_SHARE),
        "warm": number("warm", "temperature", None, 0.0, 40.0),
        "new_warm": number("new-warm", "temperature", None, 0.0, 40.0),
        "ph": number("ph", "", None, 4.0, 10.0),
        "alkalinity": number("alkalinity", "alkalinity", None, 1.0, 1000.0),
        "new_ph": number("new-ph", "", None, 4.0, 10.0),
        "new_alkalinity": number("new-alkalinity", "alkalinity", None, 1.0, 1000.0),
    }


def way(values: Values, share: float) -> Way:
    """Changes of one size."""
    now, target, new = values["now"], values["target"], values["new"]
    times = salts.changes_for(now, target, new, share)
    after = salts.after_changes_mg_l(now, new, share, times)
    return Way(share, times, times * share * values["water"], float(after))


def compute(values: Values) -> Change:
    """The changes. Raises `InputError` where the new water cannot bring the water there."""
    now, target, share = values["now"], values["target"], values["share"]
    if now == target:
        raise InputError(Problem("problem-change-same"))
    warm, alkalinity, acid = _mixed(values, share)
    bed = math.nan
    if values["what"] == "nitrate" and now > target:
        uptake = crops.crop(LETTUCE).uptake_n_g_m2_d.typical
        bed = (now - target) * values["water"] / 1000.0 / (uptake * BED_DAYS)
    return Change(
        what=values["what"],
        now=now,
        target=target,
        water_l=values["water"],
        share=share,
        way=way(values, share),
        ways=tuple(way(values, one) for one in SHARES),
        warm_now_c=_or_nan(values["warm"]),
        warm_c=warm,
        ph_now=_or_nan(values["ph"]),
        ph=acid,
        alkalinity=alkalinity,
        bed_m2=bed,
    )


def _or_nan(value: float | None) -> float:
    return math.nan if value is None else value


def _mixed(values: Values, share: float) -> tuple[float, float, float]:
    """Warmth, alkalinity and pH after one change; NaN where one of the waters is not known."""
    warm = float(salts.after_change_mg_l(_or_nan(values["warm"]), _or_nan(values["new_warm"]), share))
    base = float(
        salts.after_change_mg_l(_or_nan(values["alkalinity"]), _or_nan(values["new_alkalinity"]), share)
    )
    if None in [values[name] for name in ("ph", "alkalinity", "new_ph", "new_alkalinity", "warm")]:
        return warm, base, math.nan
    fresh_c = values["warm"] if values["new_warm"] is None else values["new_warm"]
    here = carbonate.water(values["ph"], values["alkalinity"], values["warm"])
    fresh = carbonate.water(values["new_ph"], values["new_alkalinity"], fresh_c)
    if not all(one.inorganic_carbon_mmol_l > 0.0 for one in (here, fresh)):
        raise InputError(Problem("problem-change-ph"))
    return warm, base, float(carbonate.mix(here, fresh, share).ph)


# --- the answer


def draw(reader: words.Reader, found: Change) -> html.Html:
    """How many changes, then what else moves, then sizes side by side."""
    say, said = words.say, partial(words.quantity, reader=reader)
    title = say(
        "renew-answer",
        reader,
        n=found.way.times,
        share=said(found.share, "share"),
        each=said(found.share * found.water_l, "volume"),
        all=said(found.way.litres, "volume"),
        after=said(found.way.after_mg_l, "concentration"),
    )
    lines = [say("renew-order", reader), *_moves(found, reader)]
    if not math.isnan(found.bed_m2):
        lines.append(
            say(
                "renew-bed",
                reader,
                area=said(found.bed_m2, "area"),
                days=said(BED_DAYS, "days"),
            )
        )
    head = [say(f"renew-head-{key}", reader) for key in ("size", "times", "litres", "after")]
    rows = [
        (
            said(one.share, "share"),
            str(one.times),
            said(one.litres, "volume"),
            said(one.after_mg_l, "concentration"),
        )
        for one in found.ways
    ]
    note = html.paragraph(say("renew-large-or-small", reader))
    return answer(title, lines, note, html.table(head, rows))


def _moves(found: Change, reader: words.Reader) -> list[str]:
    """What one change moves besides."""
    say, lines = words.say, []
    if not math.isnan(found.warm_c):
        step = abs(found.warm_c - found.warm_now_c)
        amounts = {
            "to": words.quantity(found.warm_c, "temperature", reader),
            "hour": words.quantity(sizes.SLOWLY_K_H, "temperature_difference", reader),
        }
        lines.append(say("renew-warm-much" if step > sizes.SLOWLY_K_H else "renew-warmer", reader, **amounts))
    if not math.isnan(found.alkalinity):
        lines.append(
            say("renew-alkalinity-to", reader, to=words.quantity(found.alkalinity, "alkalinity", reader))
        )
    if math.isnan(found.ph):
        lines.append(say("renew-ph-unknown", reader))
    else:
        key = "renew-ph-up" if found.ph > found.ph_now else "renew-ph-down"
        lines.append(say(key, reader, to=words.quantity(found.ph, "ph", reader)))
    return lines


def known(desk: Desk) -> dict[str, object]:
    """All water, the last readings, and the top-up water."""
    garden, log, day = desk.garden, desk.log, today_of(desk)
    top_up = garden.top_up
    told: dict[str, object] = {
        "water": litres.litres_of(garden).whole,
        "new_ph": top_up.ph,
        "new_alkalinity": top_up.alkalinity_mg_l,
        "new": top_up.nitrate_n_mg_l or 0.0,
    }
    if log is None or not log.rows or log.rows[0].day > day:
        return told
    read = {name: one.value for name, one in standing(garden, log, day).water.items()}
    told |= {"ph": read.get("ph"), "alkalinity": read.get(WATER["alkalinity"]), "warm": read.get("water_c")}
    nitrate = read.get("nitrate_mg_l")
    if nitrate is not None and nitrate > 1.0:
        told |= {"now": nitrate, "target": nitrate / 2.0}
    return told


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("change-water", controls(reader), compute, partial(draw, reader), reader, main=MAIN)
    if desk is not None:
        desk.fill(made, known)
    return made
