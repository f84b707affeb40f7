"""When a crop can be set out, in a usual year, what keeps it out, and which crops suit a place instead.

A crop that is set out has to grow well enough over its whole time in the bed, and to be worth picking at its
end. What stands is not taken out by a warm week: it slows and loses quality.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import NDArray

from aquacalc import crops, tables
from aquacalc.constants import DAYS_PER_WEEK, DAYS_PER_YEAR
from aquacalc.crops import Crop
from aquacalc.garden import frost
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden, Site
    from aquacalc.garden.usual_year import UsualYear

Mask = NDArray[np.bool_]
Names = NDArray[np.str_]
Reason = Literal["", "frost", "too_cold", "too_hot", "too_dark"]
Slowed = Literal["", "slow_cold", "slow_hot", "slow_dark"]

LEAST_WARMTH = 0.35
"""Mean speed of growth by warmth over its time in the bed, from which a crop is set out. Common practice, no
source."""
LEAST_WORTH = 0.4
"""Share worth picking, from which a crop is set out. Common practice, no source."""
STANDS_HEAT_FROM = 0.8
"""Speed of growth by warmth, from which a crop is named as one that stands the heat. Common practice, no
source."""
SLOW = 0.5
"""Speed of growth under which a crop that stands is said to be slow. Common practice, no source."""
MOST_OF_A_SPAN = 0.5
ROUNDING_D = 1e-9
"""The rounding of a sum must not cost a day."""


@dataclass(frozen=True, eq=False)
class BedTime:
    """What a crop set out on each day of the year finds until its first picking, (365,).

    days: infinite where it is not ready within a year, and the means then are of that year; warmth: mean
    speed of growth by temperature; cool: the same without heat; worth: share worth picking at its end.
    """

    days: Floats
    warmth: Floats
    cool: Floats
    worth: Floats


def bed_time(of: Crop, year: UsualYear, tolerant: bool = False) -> BedTime:
    """The time in the bed of a crop, by the day on which it is set out.

    tolerant: of a cultivar bred for heat. Own reckoning, by the sum of its days.
    """
    warmth = crops.warmth_factor(of, year.air_c, year.water_c, year.range_k)
    cool = crops.temperature_factor(year.air_c, of.base_c, of.reference_c, of.cap_c)
    grown, warm, cold = (_summed(one) for one in (growth(of, year), warmth, cool))
    begin = np.arange(DAYS_PER_YEAR)
    ready = np.searchsorted(grown, grown[begin] + of.days.typical - ROUNDING_D)
    in_time = ready - begin <= DAYS_PER_YEAR
    end = np.where(in_time, ready, begin + DAYS_PER_YEAR)
    felt = np.concatenate([[0.0], np.cumsum(np.tile(crops.felt_air_c(year.air_c, year.range_k), 3))])
    week = (felt[end] - felt[np.maximum(end - DAYS_PER_WEEK, 0)]) / np.minimum(end, DAYS_PER_WEEK)
    from_c, to_c = (of.tolerant_from_c, of.tolerant_to_c) if tolerant else (of.picked_from_c, of.picked_to_c)
    return BedTime(
        days=np.where(in_time, ready - begin, np.inf),
        warmth=(warm[end] - warm[begin]) / (end - begin),
        cool=(cold[end] - cold[begin]) / (end - begin),
        worth=crops.worth_picking(week, from_c, to_c),
    )


def _summed(daily: Floats) -> Floats:
    """Running sum over the year in which a crop may be set out and the next two, 0 before its first day."""
    return np.concatenate([[0.0], np.cumsum(np.tile(daily, 3))])


def growth(of: Crop, year: UsualYear) -> Floats:
    """Speed of ageing of a crop on each day of the year, 1 at the reference, (365,). Own reckoning."""
    return crops.growth_factor(of, year.air_c, year.light_mol_m2_d, year.water_c, year.range_k)


def longest_d(of: Crop, year: UsualYear) -> Floats:
    """Growth at which a head that is ready on a day of the year has to be cut, days at the reference, (365,).

    Common practice, no source.
    """
    holds = crops.holds_share(crops.felt_air_c(year.air_c, year.range_k))
    longest: Floats = of.days.typical * (1.0 + holds)
    return longest


def reasons(of: Crop, site: Site, year: UsualYear) -> Names:
    """What keeps a crop from being set out on each day of the year, (365,); empty where nothing does.

    One of `Reason`; frost first, then the dark, heat, cold. Common practice, no source.
    """
    time = bed_time(of, year)
    never = np.isinf(time.days)
    dies = _dies_of_heat(of, year)
    # Too slow without the heat as well: cold; only with it: heat.
    slow = time.warmth < LEAST_WARMTH
    hot = dies | (time.worth < LEAST_WORTH) | (slow & (time.cool >= LEAST_WARMTH))
    cold = slow | (year.water_c < of.root_min_c)
    dark = crops.is_dark(of, year.light_mol_m2_d) | (never & ~slow)
    found = np.full(DAYS_PER_YEAR, "", dtype="<U8")
    for name, holds in (
        ("too_cold", cold),
        ("too_hot", hot),
        ("too_dark", dark),
        ("frost", ~frost.planting(of, site, year)),
    ):
        found[holds] = name
    return found


def slow_because(of: Crop, year: UsualYear) -> Names:
    """What slows a crop that stands to less than half its speed, on each day of the year, (365,).

    One of `Slowed`, the strongest of heat, cold and little light; empty where nothing does. Own reckoning.
    """
    speed = growth(of, year)
    cool = crops.temperature_factor(year.air_c, of.base_c, of.reference_c, of.cap_c)
    warmth = crops.warmth_factor(of, year.air_c, year.water_c, year.range_k)
    heat = np.divide(warmth, cool, out=np.ones_like(cool), where=cool > 0.0)
    light = np.divide(speed, warmth, out=np.ones_like(cool), where=warmth > 0.0)
    least = np.argmin([cool, heat, light], axis=0)
    return np.where(speed < SLOW, np.array(["slow_cold", "slow_hot", "slow_dark"])[least], "")


def cultivar_would_do(of: Crop, year: UsualYear, days: Mask) -> bool:
    """Whether a cultivar bred for heat could be set out on most of some days of the year, (365,).

    Common practice, no source.
    """
    if np.isnan(of.tolerant_from_c):
        return False
    time = bed_time(of, year, tolerant=True)
    would = (time.warmth >= LEAST_WARMTH) & (time.worth >= LEAST_WORTH) & np.isfinite(time.days)
    return bool(np.mean(would[days]) >= MOST_OF_A_SPAN)


def standing(of: Crop, site: Site, year: UsualYear) -> Mask:
    """Days of the year on which a crop that was set out lives, (365,): no frost, no deadly heat."""
    return frost.standing(of, site, year) & ~_dies_of_heat(of, year)


def _dies_of_heat(of: Crop, year: UsualYear) -> Mask:
    twice = np.tile(crops.felt_air_c(year.air_c, year.range_k), 2), np.tile(year.water_c, 2)
    return crops.deadly_heat(of, *twice)[DAYS_PER_YEAR:]


def in_bed(of: Crop, site: Site, year: UsualYear) -> Mask:
    """Days of the year on which a crop can be in its bed: set out on a day that lets it, until its last pick,
    (365,)."""
    time = bed_time(of, year)
    starts = np.flatnonzero((reasons(of, site, year) == "") & np.isfinite(time.days))
    change = np.zeros(3 * DAYS_PER_YEAR + 1)
    last = np.minimum(starts + time.days[starts] + of.window_days.typical, 3 * DAYS_PER_YEAR - 1)
    np.add.at(change, starts, 1.0)
    np.add.at(change, last.astype(np.int64) + 1, -1.0)
    there = np.cumsum(change)[: 3 * DAYS_PER_YEAR] > 0.5
    return standing(of, site, year) & there.reshape(3, DAYS_PER_YEAR).any(axis=0)


def suits_instead(
    garden: Garden, year: UsualYear, bed_kind: str, days: Mask, because: str, most: int = 4
) -> tuple[str, ...]:
    """Crops that a bed may hold on days of the year on which another is kept out, best first.

    days: of the year, (365,); because: one of `Reason`. Crops that the garden lists come first, then those
    of the table that no law or danger to open water speaks against. They suit the bed, can be set out on most
    of the days, and in heat grow on them with most of their speed. Common practice, no source.
    """
    listed = [plan.crop for plan in garden.crops]
    found = []
    for key in dict.fromkeys([*listed, *_unopposed()]):
        of, suit = crops.crop(key), tables.load("crops").row(key).number(f"suit_{bed_kind}")
        if suit <= 0.0 or np.mean(reasons(of, garden.site, year)[days] == "") < MOST_OF_A_SPAN:
            continue
        warmth = crops.warmth_factor(of, year.air_c, year.water_c, year.range_k)[days].mean()
        if because == "too_hot" and warmth < STANDS_HEAT_FROM:
            continue
        found.append((key not in listed, -suit, -float(growth(of, year)[days].mean()), key))
    return tuple(key for *_, key in sorted(found)[:most])


def _unopposed() -> Iterator[str]:
    keys = tables.load("crops").keys()
    for key in keys:
        if not {"law", "invasive"} & set(crops.crop(key).cautions):
            yield key
