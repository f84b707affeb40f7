"""Feed that ammonia and nitrite hold down: days under the full ration, and the filter that would end it."""

from __future__ import annotations

import numpy as np

from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.season.days import Look, Stretch, stretches, whole
from aquacalc.sizing import balance, nitrification
from aquacalc.uncertainty import band

LESS = "finding-ration-season-less"
SMALL = "finding-ration-season-small"

LESS_FROM_SHARE = 0.2
"""Days on which so many of the tries feed less are told."""
SMALL_BELOW = 0.9
"""Mean share of the ration in a month under which a filter is called too small."""
TRIES = 10


def findings_of(look: Look) -> list[Finding]:
    """Spans of days under the full ration, and months in which the filter is too small for the fish."""
    return [*_less(look), *_small(look)]


def _less(look: Look) -> list[Finding]:
    """How many days, in how many of ten tries, and the mean ration."""
    ration = look.run.daily["ration"]
    below = ration < 1.0
    found = []
    for stretch in stretches(below.mean(axis=0) >= LESS_FROM_SHARE):
        days = below[:, stretch.slice].sum(axis=1)
        some = days > 0
        amounts = (
            whole("days", band(days[some].astype(np.float64)), "days"),
            Amount("share", float(np.median(ration[some][:, stretch.slice].mean(axis=1))), "share"),
            Amount("tries", round(TRIES * float(some.mean())), "number"),
        )
        found.append(look.finding(LESS, "watch", stretch, amounts))
    return found


def _small(look: Look) -> list[Finding]:
    """The month of the least ration, where it is little enough and more filter would end it.

    While a new filter grows, its surface is not what is missing, and nothing is told.
    """
    months = [(_mean_ration(look, span), first, span) for first, span in look.by_month()]
    poor = [one for one in months if one[0] < SMALL_BELOW]
    if not poor:
        return []
    litres = _missing_litres(look)
    least, first, span = min(poor, key=lambda one: one[0])
    if not litres[first.month] > 0.0:
        return []
    amounts = (
        Amount("share", least, "share"),
        Amount("months", len(poor), "number"),
        Amount("litres", litres[first.month], "volume"),
        Amount("medium", nitrification.RESERVE_MEDIUM, "medium"),
    )
    return [look.finding(SMALL, "watch", span, amounts)]


def _mean_ration(look: Look, span: Stretch) -> float:
    return float(np.median(look.run.daily["ration"][:, span.slice].mean(axis=1)))


def _missing_litres(look: Look) -> dict[int, float]:
    """Litres of medium that are missing in each calendar month, in comfort, by the typical film."""
    now, fishes, _ = balance.conditions(look.garden, members=1)
    missing = nitrification.missing_litres(now, fishes.feed_g_day, nitrification.comfortable(now))
    return dict(zip(now.months, missing[0].tolist(), strict=True))
