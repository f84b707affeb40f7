"""First feed and first fish: the 24-hour challenge, the feed that it proves, and the ramp to the full.

All concentrations as N; the filter is sized with the cautious share of the feed's nitrogen, 0.092.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from aquacalc import kits, nitrogen
from aquacalc.constants import HOURS_PER_DAY
from aquacalc.errors import InputError, Problem
from aquacalc.startup.rule import P1
from aquacalc.uncertainty import Floats

CHALLENGE_TAN_MG_L = P1.to_tan_mg_l
LEAST_CHALLENGE_MG_L = P1.real_dose_mg_l
"""A smaller fall proves nothing; the rule of the start-up forecast."""
PASSED_MG_L = P1.clear_mg_l
"""Both at or below it, or at the kit's first step, after 24 hours. Practice."""
PASSES_WANTED = 2
"""On days that follow each other. Practice."""
HOURS = (12.0, 48.0)
"""A challenge is read a day later; other spans are scaled, beyond these not."""

FIRST_SHARE = 0.5
RAISE_PER_DAY = 0.15
STOP_MG_L = 0.5
"""Begin with half of the proven feed, raise by at most 15 % a day, stop where TAN or nitrite-N pass 0.5 mg/L:
own simulation of a film that grows into its load."""
FIRST_STOCK_SHARE = 0.2
"""First stock as a share of what the garden carries (KSU manual, read)."""

Verdict = Literal["passed", "failed", "not sure"]


@dataclass(frozen=True)
class Shown:
    """A reading as its kit shows it. scale: None without a described kit."""

    value: float
    scale: kits.Scale | None = None
    dilution: float = 1.0

    def interval(self) -> kits.Interval:
        """Where the water lies, as N; just the value without a described kit.

        Raises `InputError` where the kit does not tell what its numbers count.
        """
        if self.scale is None:
            return kits.Interval(self.value * self.dilution, self.value * self.dilution)
        if not kits.basis_is_known(self.scale):
            raise InputError(Problem("problem-startup-basis-nitrogen", f"kit.{self.scale.parameter}"))
        found = kits.interval_inside(self.value, self.scale, self.dilution)
        if found is None:
            inside = kits.as_inside(self.value, self.scale)
            one = (self.value if inside is None else inside) * self.dilution
            return kits.Interval(one, one)
        return kits.Interval(max(found.low, 0.0), found.high)

    def at_first_step(self) -> bool:
        """Whether it stands at the first step of its card."""
        return self.scale is not None and bool(self.scale.steps) and self.value <= self.scale.steps[0]


@dataclass(frozen=True)
class Challenge:
    """What a dose that was followed for a day tells.

    rate_mg_l_d: N that went all the way to nitrate, least and most by the kit's steps; most is infinite where
    nothing bounds it. feed_g_day: the feed whose ammonia that is. cleared: all gone before the second
    reading, so that the rate may be higher. passed: `not sure` where the readings allow both.
    """

    rate_mg_l_d: tuple[float, float]
    feed_g_day: tuple[float, float]
    middle_g_day: float
    cleared: bool
    passed: Verdict
    slower_step: nitrogen.Step | None


def challenge(
    tan_before: Shown,
    tan_after: Shown,
    nitrite_before: Shown,
    nitrite_after: Shown,
    volume_l: float,
    protein_fraction: float,
    hours: float = HOURS_PER_DAY,
) -> Challenge:
    """What the filter carries now, from readings a day apart, with nothing added between them.

    The nitrate reading is not used: its kit counts nitrite. Raises `InputError` for readings that cannot
    follow each other, for too small a dose and for a span that is no day.

    >>> found = challenge(Shown(2.0), Shown(0.25), Shown(0.0), Shown(0.0), 1300.0, 0.32)
    >>> round(found.middle_g_day)
    77
    """
    if not HOURS[0] <= hours <= HOURS[1]:
        ends = (*(f"{end:g}" for end in HOURS), "h")
        raise InputError(Problem("problem-range", "challenge.hours", f"{hours:g}", ends))
    before, after = tan_before.interval(), tan_after.interval()
    nitrite_0, nitrite_1 = nitrite_before.interval(), nitrite_after.interval()
    middle_before, middle_after = (_middle(one) for one in (before, after))
    if after.low > before.high:
        raise InputError(Problem("problem-startup-challenge-rises", "", f"{middle_after:.3g}"))
    if before.high < LEAST_CHALLENGE_MG_L:
        found, least = f"{middle_before:.3g}", f"{CHALLENGE_TAN_MG_L:g}"
        raise InputError(Problem("problem-startup-challenge-small", "", found, (least,)))
    days = hours / HOURS_PER_DAY
    fall = _difference(before, after)
    # What stays as nitrite has gone only half of the way; what nitrite was there before may have gone, too.
    piled = _difference(nitrite_1, nitrite_0)
    low = max(fall[0] - max(piled[1], 0.0), 0.0)
    high = max(fall[1] - max(piled[0], 0.0), 0.0)
    middle_piled = max(_middle(nitrite_1) - _middle(nitrite_0), 0.0)
    middle = max(middle_before - middle_after - middle_piled, 0.0)
    rates = (low / days, high / days)

    def feed(rate_mg_l_d: float) -> float:
        grams = rate_mg_l_d * volume_l / 1000.0
        return float(nitrogen.feed_for_tan_g_day(grams, protein_fraction))

    cleared = tan_after.at_first_step() or middle_after <= PASSED_MG_L
    return Challenge(
        rate_mg_l_d=rates,
        feed_g_day=(feed(rates[0]), feed(rates[1])),
        middle_g_day=feed(min(max(middle / days, rates[0]), rates[1])),
        cleared=cleared,
        passed=_passed(middle_before, hours, (tan_after, nitrite_after)),
        slower_step=_slower(cleared, middle_piled, nitrite_1),
    )


def _passed(before_mg_l: float, hours: float, after: Iterable[Shown]) -> Verdict:
    """Both at or below the line, or at the kit's first step, within a day of a dose that counts."""
    spans = [(one, one.interval()) for one in after]
    if any(span.low > PASSED_MG_L or (span.high == math.inf) for _, span in spans):
        return "failed"
    if before_mg_l < LEAST_CHALLENGE_MG_L or hours > HOURS_PER_DAY:
        return "not sure"
    clear = (span.high <= PASSED_MG_L + kits.ROUNDING or one.at_first_step() for one, span in spans)
    return "passed" if all(clear) else "not sure"


def _slower(cleared: bool, piled_mg_l: float, nitrite: kits.Interval) -> nitrogen.Step | None:
    if piled_mg_l > PASSED_MG_L or nitrite.low > PASSED_MG_L:
        return "nitrite"
    return None if cleared else "ammonia"


def _middle(span: kits.Interval) -> float:
    if math.isinf(span.high):
        return span.low
    if math.isinf(span.low):
        return span.high
    return (span.low + span.high) / 2.0


def _difference(more: kits.Interval, less: kits.Interval) -> tuple[float, float]:
    return more.low - (less.high if math.isfinite(less.high) else more.low), more.high - max(less.low, 0.0)


# --- the feed ----------------------------------------------------------------------------------------------


def first_feed_g_day(proven_g_day: float) -> float:
    """Feed of the first day on which fish eat: half of what was proven.

    >>> first_feed_g_day(68.0)
    34.0
    """
    return FIRST_SHARE * proven_g_day


def ramp_g_day(proven_g_day: float, full_g_day: float, raise_per_day: float = RAISE_PER_DAY) -> Floats:
    """Feed by day from the first to the full; each raise only where TAN and nitrite-N stayed at or below 0.5.

    >>> ramp_g_day(40.0, 30.0).round(1).tolist()
    [20.0, 23.0, 26.4, 30.0]
    """
    first = min(first_feed_g_day(proven_g_day), full_g_day)
    if not first > 0.0:
        raise InputError(Problem("problem-startup-nothing-proven"))
    days = math.ceil(math.log(full_g_day / first) / math.log(1.0 + raise_per_day) - 1e-9)
    raised = first * (1.0 + raise_per_day) ** np.arange(days + 1, dtype=np.float64)
    found: Floats = np.minimum(raised, full_g_day)
    return found


# --- the first fish ----------------------------------------------------------------------------------------

BoundBy = Literal["proven feed", "fifth", "planned"]


@dataclass(frozen=True)
class FirstFish:
    """How many fish go in first, and what sets it; companions: the least that the species wants."""

    count: int
    bound_by: BoundBy
    companions: int
    kg: float

    @property
    def too_few(self) -> bool:
        """Whether the species wants more companions than go in."""
        return self.count < self.companions


def first_fish(
    proven_g_day: float,
    appetite_g_day: float,
    weight_g: float,
    carried_kg: float,
    planned: int,
    companions: int = 1,
) -> FirstFish:
    """How many fish the proven filter takes at first: the least of three.

    proven_g_day: proven feed. appetite_g_day: of one fish of this weight, in this water. carried_kg: fish
    that the garden carries in all, of which a fifth goes in first. planned: fish that are wanted.

    >>> first_fish(40.0, 1.0, 60.0, 20.0, 60).count
    40
    """
    fed = math.floor(proven_g_day / appetite_g_day) if appetite_g_day > 0.0 else planned
    fifth = math.floor(FIRST_STOCK_SHARE * carried_kg * 1000.0 / weight_g)
    bounds: list[tuple[int, BoundBy]] = [(planned, "planned"), (fed, "proven feed"), (fifth, "fifth")]
    count, bound = min(bounds, key=lambda one: one[0])
    return FirstFish(max(count, 0), bound, companions, count * weight_g / 1000.0)
