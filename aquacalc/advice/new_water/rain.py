"""Rain water: what a roof brings, when the barrel runs dry, and what the roof leaves in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from aquacalc.advice.season import barrel
from aquacalc.climate import months
from aquacalc.constants import DAYS_PER_YEAR, MONTHS_PER_YEAR
from aquacalc.errors import InputError, Problem
from aquacalc.uncertainty import Floats
from aquacalc.water import salts, top_up

RoofKind = Literal["plain", "zinc", "copper", "lead", "timber", "felt", "moss", "not-known"]

NAMED: Mapping[RoofKind, tuple[str, ...]] = {
    "moss": ("moss",),
    "copper": ("copper",),
    "lead": ("lead",),
    "zinc": ("zinc", "galvan"),
    "timber": ("timber", "wood", "shingle", "cedar", "thatch", "turf", "green roof"),
    "felt": ("felt", "bitumen", "asphalt", "tar"),
    "plain": (
        "glass",
        "tile",
        "slate",
        "plastic",
        "polycarbonate",
        "painted",
        "enamel",
        "stainless",
        "pond liner",
    ),
}
"""Words in a roof's description; the first that fits, the harder ones first."""
SOFT_HARDNESS_MG_L = 20.0
"""Hardness of a loop on rain water, at which the metal lines are told (practice)."""


def kind(described: str) -> RoofKind:
    """The kind of a roof that the garden file describes in words.

    >>> kind("painted steel"), kind("galvanised sheet"), kind("")
    ('plain', 'zinc', 'not-known')
    """
    low = described.lower()
    return next((one for one, names in NAMED.items() if any(name in low for name in names)), "not-known")


@dataclass(frozen=True)
class Roof:
    """A roof as seen from above, its rain and what the garden draws, both by month, and the barrel."""

    roof_m2: float
    rain_mm: tuple[float, ...]
    wanted_l_d: tuple[float, ...]
    barrel_l: float
    kind: RoofKind = "not-known"


@dataclass(frozen=True, eq=False)
class RoofYear:
    """A usual year, (12,) each: rain that comes in, water wanted, given, run over and missing, L; days on
    which the barrel does not give enough; days that a full barrel bridges.

    flush_l: to let run off at the beginning of each rain. zinc_ug_l, copper_ug_l: lines for fish in soft
    water.
    """

    caught_l: Floats
    wanted_l: Floats
    given_l: Floats
    over_l: Floats
    missing_l: Floats
    dry_d: Floats
    bridged_d: Floats
    flush_l: float
    kind: RoofKind
    zinc_ug_l: float
    copper_ug_l: float

    @property
    def dry_months(self) -> tuple[int, ...]:
        """Numbers of the months in which the barrel runs dry."""
        return tuple(int(month) + 1 for month in np.flatnonzero(self.dry_d > 0.0))


def check(asked: Roof) -> None:
    """Raise `InputError` where there can be no answer."""
    if len(asked.rain_mm) != MONTHS_PER_YEAR or len(asked.wanted_l_d) != MONTHS_PER_YEAR:
        raise ValueError("twelve months belong here")
    if not sum(asked.rain_mm) > 0.0:
        raise InputError(Problem("problem-no-rain"))


def year(asked: Roof) -> RoofYear:
    """The barrel day by day through a usual year, after a year before it.

    Rain comes in falls of about 10 mm, spread through its month, each less its first flush. Real rain comes
    in clusters, so that more runs over and dry spells are longer.
    """
    check(asked)
    rain, wanted = np.concatenate([_rain_l(asked)] * 2), np.repeat(asked.wanted_l_d, months.DAYS_IN_MONTH)
    wanted = np.concatenate([wanted, wanted])
    through = barrel.daily(rain, wanted[None, :], asked.barrel_l, 0.0)
    left, missing = through.left_l[0], through.missing_l[0]
    given = wanted - missing
    over = rain - given - np.diff(left, prepend=0.0)
    return RoofYear(
        caught_l=_by_month(rain),
        wanted_l=_by_month(wanted),
        given_l=_by_month(given),
        over_l=_by_month(over),
        missing_l=_by_month(missing),
        dry_d=_by_month((missing > _NOTHING_L).astype(np.float64)),
        bridged_d=np.asarray(top_up.barrel_days(asked.barrel_l, np.asarray(asked.wanted_l_d))),
        flush_l=float(top_up.first_flush_l(asked.roof_m2)),
        kind=asked.kind,
        zinc_ug_l=float(salts.zinc_criterion_ug_l(SOFT_HARDNESS_MG_L)),
        copper_ug_l=float(salts.copper_criterion_ug_l(SOFT_HARDNESS_MG_L)),
    )


_NOTHING_L = 1e-6


def _rain_l(asked: Roof) -> Floats:
    """Litres on each day of the year: a month's falls at even distances."""
    daily = np.zeros(DAYS_PER_YEAR)
    for month, (depth, length) in enumerate(zip(asked.rain_mm, months.DAYS_IN_MONTH, strict=True)):
        falls, each = top_up.falls_l(asked.roof_m2, depth)
        first = months.day_of_year(month + 1, 1)
        for fall in range(falls):
            daily[first + int((fall + 0.5) * length / falls)] += each
    return daily


def _by_month(daily: Floats) -> Floats:
    """Sums of the months of the second year."""
    summed: Floats = np.zeros(MONTHS_PER_YEAR)
    np.add.at(summed, months.month_of_day(), daily[DAYS_PER_YEAR:])
    return summed


def spans(found: Sequence[int]) -> list[tuple[int, ...]]:
    """Months in unbroken spans; the year goes round, so that December and January are one.

    >>> spans((1, 2, 6, 11, 12))
    [(11, 12, 1, 2), (6,)]
    """
    there = set(found)
    if len(there) == MONTHS_PER_YEAR:
        return [tuple(range(1, 13))]
    held = []
    for first in found:
        if (first - 2) % 12 + 1 in there:
            continue
        span = [first]
        while span[-1] % 12 + 1 in there:
            span.append(span[-1] % 12 + 1)
        held.append(tuple(span))
    return sorted(held, key=lambda span: -len(span))
