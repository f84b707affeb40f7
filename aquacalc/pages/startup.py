"""A start-up as markup: dates, what a reading calls for, methods, and why it goes as it goes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from aquacalc import words
from aquacalc.garden.model import Garden, KitScale
from aquacalc.judge import sizes
from aquacalc.pages import kit
from aquacalc.pages.html import Html, listing, table
from aquacalc.startup import methods, plan
from aquacalc.startup.methods import FishIn, Place
from aquacalc.startup.plan import Days, First, StartUp
from aquacalc.words import Reader

WEEKS_TOLD = 9
"""Weeks for which the water's warmth is told."""
BEFORE = ("ammonia_clear", "nitrite_peak", "complete")


@dataclass(frozen=True, eq=False)
class Made:
    """What the pages of a start-up are made from. first: its first fish, fish_in: what holds
    while fish start it; None where there is nothing to tell."""

    garden: Garden
    start: StartUp
    reader: Reader
    first: First | None = None
    fish_in: FishIn | None = None

    def say(self, key: str, **amounts: str | int) -> str:
        """The text of a key for this reader."""
        return words.say(key, self.reader, **amounts)

    def quantity(self, value: float, kind: str, digits: int | None = None) -> str:
        """A value with its unit for this reader."""
        return words.quantity(value, kind, self.reader, digits)

    def scale(self, parameter: str) -> KitScale:
        """The garden's kit for a parameter."""
        return kit.scale_of(self.garden, parameter)

    @property
    def volume(self) -> str:
        """Litres in circulation."""
        return self.quantity(self.start.case.litres, "volume")


# --- dates -------------------------------------------------------------------------------------------------


def between(days: Days, reader: Reader) -> str:
    """Between which dates, as part of a table."""
    if days.low is None:
        return words.say("startup-later", reader)
    low = words.date(days.low, reader)
    if days.high is None:
        return words.say("startup-from", reader, low=low)
    if days.high == days.low:
        return low
    if days.high.year == days.low.year:
        low = words.day(days.low, reader)
        high = _dated(days.high, reader)
    else:
        low, high = (_dated(one, reader) for one in (days.low, days.high))
    return words.say("startup-between", reader, low=low, high=high)


def _dated(day: date, reader: Reader) -> str:
    """A day in short letters with its year."""
    return f"{words.day(day, reader)}{', ' if reader.units == 'us' else ' '}{day.year}"


def title(made: Made) -> str:
    """The answer: when the first fish can come."""
    days = made.start.days("first_fish")
    if days.low is None:
        return made.say("startup-title-never")
    low = words.date(days.low, made.reader)
    if days.high is None:
        return made.say("startup-title-open", low=low)
    if made.start.choice.method == "fish":
        return made.say("startup-title-fish", low=low, high=words.date(days.high, made.reader))
    return made.say("startup-title", low=low, high=words.date(days.high, made.reader))


def told(made: Made, before: StartUp | None = None) -> list[str]:
    """What stands under the answer: how it was begun, by what it is known, what is doubtful.

    before: the same without readings, to see how they moved it.
    """
    start, reader = made.start, made.reader
    low, high = warmth(start)
    texts = [
        made.say(
            "startup-begun",
            first=words.date(start.first, reader),
            volume=made.volume,
            low=made.quantity(low, "temperature"),
            high=made.quantity(high, "temperature"),
            tries=words.number(start.forecast.members.count, digits=9),
        )
    ]
    judged = [one for one in start.forecast.readings if one.parameter in ("tan", "nitrite")]
    if judged and before is not None:
        texts.append(
            made.say(
                "startup-by-readings",
                count=str(len(judged)),
                day=words.date(start.case.date_of(judged[-1].day), reader),
                before=between(before.days("first_fish"), reader),
            )
        )
    elif not judged:
        texts.append(made.say("startup-by-plan"))
    if start.unreliable:
        texts.append(made.say("startup-unreliable", unsure=made.quantity(methods.UNSURE_C, "temperature")))
    texts.append(made.say("startup-range"))
    return texts


def planned_fish(made: Made) -> list[str]:
    """How the day that the garden file has for its first fish stands to the forecast; empty without one."""
    stocked = min((one.stocked for one in made.garden.fish), default=None)
    days = made.start.days("first_fish")
    if stocked is None or days.low is None:
        return []
    if stocked < days.low:
        when = "early"
    elif days.high is None or stocked < days.high:
        when = "within"
    else:
        when = "late"
    return [made.say(f"startup-planned-{when}", day=words.date(stocked, made.reader))]


def warmth(start: StartUp) -> tuple[float, float]:
    """Coldest and warmest water of the first two months."""
    weeks = start.case.water_c[: 7 * WEEKS_TOLD]
    return float(np.min(weeks)), float(np.max(weeks))


def dates(made: Made, ours: bool = False) -> Html:
    """What happens between which dates. ours: with a column to write in."""
    head = [made.say(f"startup-head-{name}") for name in ("what", "when")]
    rows = []
    # On paper the full feed stands with the feed, day by day.
    for name in plan.NAMES[:-1] if ours else plan.NAMES:
        days = made.start.days(name)
        if not made.start.span(name).known:
            continue
        what = made.say(f"startup-what-{name.replace('_', '-')}")
        rows.append((what, between(days, made.reader), *([""] if ours else [])))
    if ours:
        head.append(made.say("startup-head-ours"))
    return table(head, rows, "write dates" if ours else "")


# --- methods -----------------------------------------------------------------------------------------------


def method(made: Made, of: methods.Method) -> Html:
    """Whom a method suits, what it needs, and what to mind."""
    temperatures = {
        "cold": made.quantity(methods.COLD_C, "temperature"),
        "unsure": made.quantity(methods.UNSURE_C, "temperature"),
        "warm": made.quantity(25.0, "temperature"),
        "cool": made.quantity(12.0, "temperature"),
    }
    parts = (made.say(f"startup-method-{of}-{part}", **temperatures) for part in ("suits", "needs", "mind"))
    return listing(parts)


def refusal(made: Made, place: Place) -> str:
    """Why no fish may start this garden's filter; empty where nothing forbids it."""
    reasons = [made.say(f"startup-against-{one.replace('_', '-')}") for one in methods.against("fish", place)]
    return made.say("startup-methods-refused", reasons=words.listed(reasons, made.reader)) if reasons else ""


def fish_in(made: Made, limits: FishIn) -> str:
    """Feed and stop values while fish start a filter."""

    def nitrogen(value: float) -> str:
        return made.quantity(value, "nitrogen")

    return made.say(
        "startup-fish-in",
        feed=words.span(*limits.feed_g_day, "feed", made.reader),
        tan=nitrogen(limits.stop_tan_mg_l),
        unionised=nitrogen(limits.stop_unionised_mg_l),
        nitrite=nitrogen(limits.stop_nitrite_mg_l),
        chloride=made.quantity(limits.chloride_mg_l, "concentration"),
        least=made.quantity(sizes.LEAST_SHARE, "share"),
        most=made.quantity(sizes.MOST_SHARE, "share"),
    )


# --- why ---------------------------------------------------------------------------------------------------


def why(made: Made) -> list[str]:
    """How a filter starts, in plain words and with this garden's own numbers."""
    forecast, reader = made.start.forecast, made.reader
    nitrite = np.asarray(forecast.band("nitrite").middle)
    both = np.asarray(forecast.band("nitrate").middle)
    top = int(nitrite.argmax())
    peak = made.quantity(float(nitrite[top]), "nitrogen")
    low, high = warmth(made.start)

    def around(name: plan.Name) -> str:
        day = made.start.days(name).middle
        return made.say("startup-later") if day is None else words.day(day, reader)

    return [
        made.say("startup-why-first"),
        made.say(
            "startup-why-second",
            ammonia=around("ammonia_clear"),
            nitrite=words.day(made.start.case.date_of(top), reader),
            peak=peak,
        ),
        made.say(
            "startup-why-nitrate",
            peak=peak,
            shown=made.quantity(float(both[top]), "nitrogen"),
            nitrate=made.quantity(max(float(both[top] - nitrite[top]), 0.0), "nitrogen"),
        ),
        made.say("startup-why-patience"),
        made.say("startup-why-alkalinity"),
        made.say(
            "startup-why-warmth",
            half=made.quantity(18.0, "temperature"),
            quarter=words.span(8.0, 10.0, "temperature", reader),
            low=made.quantity(low, "temperature"),
            high=made.quantity(high, "temperature"),
        ),
        made.say("startup-why-fade"),
    ]
