"""The lines of `data/water_limits.csv`: where each level of a parameter begins for the fish that are there.

Fish are rows of `data/species.csv`, or rows that know only warm or cold. With several the strictest line
counts; without any only the lines that hold for every water. pH and alkalinity have lines of their own where
plants stand, moved by what the garden aims at.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import cast

import numpy as np
from numpy.typing import NDArray

from aquacalc import tables
from aquacalc.constants import Numbers
from aquacalc.judge.levels import ACT, EMERGENCY, FINE, NOT_KNOWN, RANKED, WATCH, Level
from aquacalc.tables import Cited, Row

Ranks = NDArray[np.int64]

WARM_CLASSES = {"warm", "warm/temperate"}

BY_WARMTH_ALONE = ("nitrite",)
"""Parameters whose lines by nitrogen class stand in the table for comparison only."""

COLUMNS: tuple[tuple[Level, str], ...] = (
    ("watch", "watch_from"),
    ("act today", "act_from"),
    ("emergency", "emergency_from"),
)
"""Levels and the column in which each begins."""


NEAR_TARGET_PH = 0.2
"""pH is fine so far above the garden's target, and base is begun so far below it. Common practice, no
source."""


@dataclass(frozen=True)
class Aim:
    """What pH base is given for and from which it is begun, whether plants stand in the water, and the
    alkalinity, mg/L CaCO3, that is kept between two looks. Without a garden: the middle of the usual range,
    from its low end on. Common practice, no source."""

    target_ph: float = 6.8
    begin_ph: float = 6.4
    planted: bool = False
    floor_mg_l: float = 20.0

    @property
    def high_ph(self) -> float:
        """Highest pH that is fine because it is aimed at."""
        return self.target_ph + NEAR_TARGET_PH


NO_AIM = Aim()


@dataclass(frozen=True)
class Line:
    """A row of the table. above: the side on which it is passed. begins: value at which each level begins,
    NaN where it never does. chloride: chloride against nitrite as N, by mass, from which a level no longer
    counts; NaN where it counts whatever the chloride. cited: its sources, and how it is known."""

    key: str
    parameter: str
    group: str
    above: bool
    begins: tuple[float, float, float]
    chloride: tuple[float, float, float]
    cited: tuple[Cited, ...] = ()

    def begin(self, level: Level) -> float:
        """Value at which a level begins; NaN where the line has none."""
        return self.begins[_PLACE[level]]

    def protects(self, level: Level) -> float:
        """Chloride against nitrite from which a level does not count; NaN where it always does."""
        return self.chloride[_PLACE[level]]

    def ranks(self, value: Numbers, chloride_ratio: Numbers = 0.0) -> Ranks:
        """The rank of a value: a level begins at its bound and reaches beyond it."""
        sign = 1.0 if self.above else -1.0
        if isinstance(value, float) and isinstance(chloride_ratio, float):
            # A log has thousands of single values, for which arrays take ten times as long.
            return cast(Ranks, np.int64(self._rank(sign, value, chloride_ratio)))
        # A blank bound is NaN and compares as false.
        reached = [
            (sign * value >= sign * begin) & (math.isnan(ratio) | (chloride_ratio < ratio))
            for begin, ratio in zip(self.begins, self.chloride, strict=True)
        ]
        return np.select(reached[::-1], [EMERGENCY, ACT, WATCH], FINE)

    def _rank(self, sign: float, value: float, chloride_ratio: float) -> int:
        for rank, begin, ratio in zip(_MOST_FIRST, self.begins[::-1], self.chloride[::-1], strict=True):
            if sign * value >= sign * begin and not chloride_ratio >= ratio:
                return rank
        return FINE


_MOST_FIRST = (EMERGENCY, ACT, WATCH)
_PLACE = {level: place for place, (level, _) in enumerate(COLUMNS)}


@cache
def _all() -> tuple[Line, ...]:
    return tuple(
        Line(
            key=row.key,
            parameter=row.text("parameter"),
            group=row.text("group"),
            above=row.text("side") == "above",
            begins=(row.number("watch_from"), row.number("act_from"), row.number("emergency_from")),
            chloride=(
                math.nan,
                row.number("act_chloride_ratio"),
                row.number("emergency_chloride_ratio"),
            ),
            cited=tables.cited("water_limits", row),
        )
        for row in tables.load("water_limits")
    )


def groups(species: Row) -> tuple[str, ...]:
    """The groups of the table that a fish belongs to.

    >>> groups(tables.load("species").row("rainbow_trout"))
    ('all', 'cold', 'class C')
    """
    warmth = "warm" if species.text("temperature_class") in WARM_CLASSES else "cold"
    return ("all", warmth, f"class {species.text('nitrogen_tolerance_class')}")


def lines_of(parameter: str, fish: Sequence[Row] = (), aim: Aim = NO_AIM) -> tuple[Line, ...]:
    """The lines of a parameter that hold for some fish; without fish those that hold for every water."""
    held = {"all", "plants" if aim.planted else "no plants"}
    for row in fish:
        held.update(groups(row)[: 2 if parameter in BY_WARMTH_ALONE else None])
    return _held(parameter, frozenset(held), aim)


@cache
def _held(parameter: str, held: frozenset[str], aim: Aim) -> tuple[Line, ...]:
    return tuple(_aimed(line, aim) for line in _all() if line.parameter == parameter and line.group in held)


def _aimed(line: Line, aim: Aim) -> Line:
    """A line where the garden's own aim moves its first bound, never past where it asks to act."""
    watch, act, emergency = line.begins
    if line.parameter == "ph" and line.above:
        watch = min(max(watch, aim.high_ph), act)
    elif line.parameter == "alkalinity" and not line.above and aim.planted:
        watch = max(watch, aim.floor_mg_l)
    return replace(line, begins=(watch, act, emergency))


def begins_at(
    parameter: str, level: Level, fish: Sequence[Row] = (), above: bool = True, aim: Aim = NO_AIM
) -> float:
    """Value at which a level begins on a side, whatever the chloride; NaN where no line has it.

    >>> begins_at("ph", "watch"), begins_at("ph", "watch", above=False)
    (7.2, 6.4)
    """
    found = [
        line.begin(level)
        for line in lines_of(parameter, fish, aim)
        if line.above == above and math.isnan(line.protects(level)) and not math.isnan(line.begin(level))
    ]
    strictest = min if above else max
    return strictest(found, default=math.nan)


def class_begins_at(parameter: str, level: Level, fish: Sequence[Row]) -> float:
    """Value from which a level begins by the nitrogen class of the fish alone.

    For nitrite such lines stand beside those that rule: stop values while fish start a filter.
    """
    classes = {groups(row)[-1] for row in fish}
    return min(line.begin(level) for line in _all() if line.parameter == parameter and line.group in classes)


def fish_like(warmth: str, nitrogen_class: str = "") -> tuple[Row, ...]:
    """A stand-in for fish of which only `warm` or `cold`, and perhaps the nitrogen class, is known."""
    told = {"temperature_class": warmth, "nitrogen_tolerance_class": nitrogen_class, "name": warmth}
    return (Row(warmth, 0, told, {}),)


def levels_from(
    parameter: str, fish: Sequence[Row] = (), above: bool = True
) -> tuple[tuple[Level, float], ...]:
    """The levels that a parameter has on a side, the mildest first, and where each begins."""
    found = ((level, begins_at(parameter, level, fish, above)) for level, _ in COLUMNS)
    return tuple((level, value) for level, value in found if not math.isnan(value))


def ranks(
    parameter: str,
    value: Numbers,
    fish: Sequence[Row] = (),
    chloride_ratio: Numbers = 0.0,
    aim: Aim = NO_AIM,
) -> Ranks:
    """Ranks of values of a parameter, in the table's unit; NaN, and what has no line, is not known.

    >>> ranks("ph", np.array([5.9, 6.8, math.nan])).tolist()
    [3, 0, 1]
    """
    held = lines_of(parameter, fish, aim)
    if not held:
        return np.full(np.shape(value), NOT_KNOWN)
    return known(most(line.ranks(value, chloride_ratio) for line in held), value)


def level(parameter: str, value: float, fish: Sequence[Row] = (), chloride_ratio: float = 0.0) -> Level:
    """The level of one value.

    >>> level("ph", 5.9)
    'act today'
    """
    return level_of(ranks(parameter, value, fish, chloride_ratio))


def is_no_worse(parameter: str, after: float, before: float) -> bool:
    """Whether a value stands on no worse a side of every line of all water than another one.

    >>> is_no_worse("ph", 6.1, 6.3), is_no_worse("ph", 5.9, 6.3)
    (True, False)
    """
    return int(ranks(parameter, after)) <= int(ranks(parameter, before))


def level_of(rank: Ranks) -> Level:
    """The level of a single rank."""
    return RANKED[int(rank)]


def most(found: Iterator[Ranks]) -> Ranks:
    """The most urgent of several ranks, element by element."""
    each = list(found)
    if all(isinstance(one, np.integer) for one in each):
        single: Ranks = max(each)
        return single
    ranks_: Ranks = np.maximum.reduce(each)
    return ranks_


def known(found: Ranks, *values: Numbers) -> Ranks:
    """The ranks themselves; not known where a value that they rest on is NaN."""
    if all(isinstance(value, float) for value in values):
        return cast(Ranks, np.int64(NOT_KNOWN)) if any(map(math.isnan, values)) else found
    unknown = np.logical_or.reduce([np.isnan(value) for value in np.broadcast_arrays(*values)])
    return np.where(unknown, NOT_KNOWN, found)
