"""Hard water that is left to be used up: between which dates it is, and when to test for it."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

import numpy as np

from aquacalc.advice.new_water import hard_water
from aquacalc.advice.new_water.hard_water import LINES, Hard, Moves
from aquacalc.climate import months
from aquacalc.constants import DAYS_PER_WEEK, DAYS_PER_YEAR
from aquacalc.uncertainty import MEMBERS, SEED, Floats, Triangle, band, draw
from aquacalc.water import top_up

ENOUGH_MG_L, LOW_MG_L = LINES["alkalinity"], 40.0
"""Alkalinity at which hard water is used up far enough for plants, and at which to watch for the floor."""

SEEN_SHARE = Triangle(0.7, 1.0, 1.35)
"""A fall that was seen over some weeks against the fall to come: errors of tests, other feed (practice)."""

YEAR_D, WEEK_D = DAYS_PER_YEAR, DAYS_PER_WEEK
DAY, WEEK = timedelta(days=1), timedelta(days=WEEK_D)

MOST_TESTS = 12
"""Dates of tests that are named; later ones hang on what these show."""

LEARNT_BY = 3
"""Tests that teach how fast it falls."""


@dataclass(frozen=True)
class Reach:
    """When alkalinity comes down to a line: early, middle and late day of the tries, None where not within a
    year. there: it is below the line already."""

    line_mg_l: float
    early: date | None
    middle: date | None
    late: date | None
    there: bool = False


@dataclass(frozen=True)
class UsePlan:
    """A plan of tests, never of chemicals.

    use_g_week, in_g_week, lime_g_week: g CaCO3 used, brought and settled as lime in the first four weeks;
    fall_mg_l_week: what is left of them (low, middle, high; negative where it rises). seen: whether the fall
    is the grower's own, reckoned_mg_l_week: the same from the feed. reaches: at 80 and at 40 mg/L. tests:
    days on which to test, the first is the start. ends_mg_l: alkalinity after a year, where nothing is given.
    """

    start: date
    now_mg_l: float
    use_g_week: tuple[float, float, float]
    in_g_week: tuple[float, float, float]
    lime_g_week: tuple[float, float, float]
    fall_mg_l_week: tuple[float, float, float]
    reckoned_mg_l_week: tuple[float, float, float]
    seen: bool
    reaches: tuple[Reach, Reach]
    tests: tuple[date, ...]
    ends_mg_l: tuple[float, float, float]
    moved_by: tuple[tuple[Moves, float], ...]

    @property
    def falls(self) -> Literal["surely", "maybe", "not"]:
        """Whether alkalinity comes down to the first line within a year, by the tries."""
        first = self.reaches[0]
        if first.there or first.late is not None:
            return "surely"
        return "maybe" if first.early is not None else "not"


def plan(asked: Hard, start: date, members: int = MEMBERS, seed: int = SEED) -> UsePlan:
    """Between which dates hard water is used up to 80 and 40 mg/L, and when to test for it.

    Day by day with each month's feed and top-up. A fall that the grower's own tests show goes before the
    feed.
    """
    hard_water.check(asked)
    sampled = draw({**hard_water.sampled_from(asked), "seen": SEEN_SHARE}, members, seed)
    evaporation, out = hard_water.flows_l_d(asked, sampled)
    use = hard_water.used_g_d(asked, sampled)
    month = np.roll(months.month_of_day(), -months.day_of_year(start.month, start.day))
    settles = hard_water.lime_settles(asked, sampled)
    level = top_up.by_day_mg_l(
        asked.volume_l,
        asked.begins_mg_l,
        asked.alkalinity_mg_l,
        (evaporation[:, month], out[:, month]),
        -use[:, month],
        settles,
    )
    four = month[: 4 * WEEK_D]
    brought = asked.alkalinity_mg_l * (evaporation + out) / 1000.0
    gone = asked.begins_mg_l * out / 1000.0
    settled = np.asarray(top_up.lime_mg_l(level[:, : four.size].T, *settles))
    lime = settled.mean(axis=0) * asked.volume_l / 1000.0
    reckoned = WEEK_D * ((use + gone - brought)[:, four].mean(axis=1) + lime) / asked.volume_l * 1000.0
    seen = not np.isnan(asked.seen_mg_l_week)
    fall = reckoned
    if seen:
        fall = asked.seen_mg_l_week * sampled["seen"]
        level = np.maximum(asked.begins_mg_l - fall[:, None] * np.arange(YEAR_D + 1) / WEEK_D, 0.0)
    reaches = (_reach(level, ENOUGH_MG_L, start), _reach(level, LOW_MG_L, start))
    return UsePlan(
        start=start,
        now_mg_l=asked.begins_mg_l,
        use_g_week=hard_water.ends_of(band(WEEK_D * use[:, four].mean(axis=1))),
        in_g_week=hard_water.ends_of(band(WEEK_D * brought[:, four].mean(axis=1))),
        lime_g_week=hard_water.ends_of(band(WEEK_D * lime)),
        fall_mg_l_week=hard_water.ends_of(band(fall)),
        reckoned_mg_l_week=hard_water.ends_of(band(reckoned)),
        seen=seen,
        reaches=reaches,
        tests=_tests(start, *reaches),
        ends_mg_l=hard_water.ends_of(band(level[:, -1])),
        moved_by=hard_water.moved_by(asked, members, seed),
    )


def _reach(level: Floats, line_mg_l: float, start: date) -> Reach:
    """First day on which each try is at the line; a try that never is there counts as later than all."""
    below = level <= line_mg_l
    first = np.where(below.any(axis=1), below.argmax(axis=1), YEAR_D + 1).astype(np.float64)
    days = hard_water.ends_of(band(first))

    def on(day: float) -> date | None:
        return None if day > YEAR_D else start + timedelta(days=round(day))

    return Reach(line_mg_l, on(days[0]), on(days[1]), on(days[2]), there=bool(below[:, 0].all()))


def _tests(start: date, enough: Reach, low: Reach) -> tuple[date, ...]:
    """Two weeks apart at first, to learn the fall; then four, until a week before the first line may be
    reached; weekly from then on until the second line is."""
    weekly_from = start if enough.there else (enough.early or date.max) - WEEK
    # Whatever was reckoned, its first weeks are looked at.
    until = max(min(low.late or date.max, start + YEAR_D * DAY), start + LEARNT_BY * WEEK)
    found = [start]
    while len(found) < MOST_TESTS:
        last = found[-1]
        usual = last + (2 if len(found) < LEARNT_BY else 4) * WEEK
        following = last + WEEK if last >= weekly_from else min(usual, max(weekly_from, last + WEEK))
        if following > until:
            break
        found.append(following)
    return tuple(found)
