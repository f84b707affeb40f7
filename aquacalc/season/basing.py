"""Base to a target pH: what a grower who looks at pH and alkalinity gives, and how it enters the water.

Alkalinity floats: it is what the target and the carbon dioxide of the water make it, over a floor that holds
what the loop uses up between two looks. On paper none of this becomes an order by date.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from aquacalc import tables
from aquacalc.constants import Numbers
from aquacalc.judge.lines import NEAR_TARGET_PH
from aquacalc.season.rules import HARD_CALCIUM_MG_L, MOST_POTASSIUM_MG_L, Event
from aquacalc.sizing.alkalinity import floor_mg_l
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import BaseHow, Garden

BEGIN_BELOW_PH = NEAR_TARGET_PH
"""Base is begun this far under the target and goes on until it."""
MOST_STEP_MG_L = 10.0
BELOW_FLOOR_STEP_MG_L = 20.0
"""Most alkalinity that a day brings beyond what the loop uses; the second while it is under its floor
(practice)."""
RISE_PH, RISE_ACID_PH, ACID_PH = 0.3, 0.5, 5.5
"""Most that the settled pH rises in a day; under the third the second, in parts (practice)."""
LEAST_PORTION_MG_L = 1.0
"""Water without any alkalinity is begun with this (practice)."""
FISHLESS_LOW_MG_L, FISHLESS_TO_MG_L = 80.0, 150.0
"""A start-up without fish is kept between these (SRAC4502, LOSCOL)."""
LEAST_K, MOST_K = 0.1, 0.9
EVEN_MG_L = 60.0
"""Share of base given as potassium: half where both stand alike, all of one by a difference of this
(practice)."""
CALCIUM_BASE = "calcium_carbonate"
"""The calcium base of a garden that names none: it dissolves no further than the water wants it."""
PART_HOURS = (0, 3, 6, 9, 12)
"""Hours after the morning look at which the parts of a day's base go in (our own choice)."""


@dataclass(frozen=True)
class Base:
    """A base that the garden gives: per equivalent of alkalinity, g of product, mol of carbon, g of ions.

    in_need: named nowhere, and given only where the water has too much potassium for the one that is.
    """

    key: str
    grams_eq: float
    carbon_mol_eq: float
    ions_g_eq: Mapping[str, float]
    in_need: bool = False


_HYDROXIDES = ("potassium_hydroxide", "calcium_hydroxide", "magnesium_hydroxide", "sodium_hydroxide")


def bases(garden: Garden) -> tuple[Base, ...]:
    """The bases that the garden names: the first that brings potassium, then the first that brings calcium.

    Hard top-up gets potassium alone; a school no hydroxide; another base where neither stands on the shelf.
    One that names potassium alone is lent a calcium base for the days on which potassium stands too high. A
    garden that names none is given none.
    """
    table = tables.load("chemicals")
    shelf = {
        one.chemical: one.strength_pct / 100.0
        for one in garden.products
        if table.row(one.chemical).text("kind") == "base"
        and not (garden.site.setting == "school" and one.chemical in _HYDROXIDES)
    }
    hard = (garden.top_up.calcium_mg_l or 0.0) > HARD_CALCIUM_MG_L
    chosen: list[str] = []
    for column in ("k_g_g",) if hard else ("k_g_g", "ca_g_g"):
        chosen += [key for key in shelf if table.row(key).number(column) > 0.0 and key not in chosen][:1]
    lent = len(chosen) == 1 and not hard and table.row(chosen[0]).number("k_g_g") > 0.0
    found = []
    for key in [*(chosen or list(shelf)[:1]), *([CALCIUM_BASE] if lent else [])]:
        row = table.row(key)
        pure = row.number("molar_mass_g_mol") / row.number("alkalinity_eq_mol")
        columns = {"potassium": "k_g_g", "calcium": "ca_g_g", "magnesium": "mg_g_g", "sodium": "na_g_g"}
        found.append(
            Base(
                key=key,
                grams_eq=pure / shelf.get(key, 1.0),
                carbon_mol_eq=row.number("carbon_mol_eq"),
                ions_g_eq={ion: pure * row.number(column) for ion, column in columns.items()},
                in_need=key not in shelf,
            )
        )
    return tuple(found)


def potassium_share(calcium_mg_l: Numbers, potassium_mg_l: Numbers) -> Floats:
    """Share of base to give as potassium, by what the water has of both.

    >>> [float(potassium_share(ca, k)) for ca, k in ((60.0, 60.0), (20.0, 120.0))]
    [0.5, 0.1]
    """
    share = 0.5 + 0.5 * (np.asarray(calcium_mg_l) - np.asarray(potassium_mg_l)) / EVEN_MG_L
    return np.asarray(np.clip(share, LEAST_K, MOST_K))


def first_share(shelf: tuple[Base, ...], calcium_mg_l: Numbers, potassium_mg_l: Numbers) -> Floats:
    """Share of a day's base that is the first of the shelf, by what the water has of both.

    By turns where two are named; above the most potassium none of it is the potassium one, where there is
    another.
    """
    if len(shelf) == 1:
        return np.ones_like(np.asarray(potassium_mg_l))
    usual = 1.0 if shelf[1].in_need else potassium_share(calcium_mg_l, potassium_mg_l)
    return np.where(np.asarray(potassium_mg_l) > MOST_POTASSIUM_MG_L, 0.0, usual)


@dataclass(frozen=True, eq=False)
class Kept:
    """What the grower remembers from look to look, arrays of members.

    on: whether base goes on; before_mg_l: alkalinity of the last morning with what was given; used_mg_l: what
    the loop used on the last two days, (2, members).
    """

    on: NDArray[np.bool_]
    before_mg_l: Floats
    used_mg_l: Floats


def nothing_kept(members: int) -> Kept:
    """Before the first look."""
    return Kept(np.zeros(members, bool), np.full(members, np.nan), np.zeros((2, members)))


@dataclass(frozen=True, eq=False)
class Seen:
    """What one morning's look finds, arrays of members: un-ionised ammonia must stay under unionised_act, for
    a pKa of ammonia."""

    alkalinity_mg_l: Floats
    ph: Floats
    tan_mg_l: Floats
    pka: Floats
    unionised_act_mg_l: Floats


def portion_mg_l(
    seen: Seen, kept: Kept, target_ph: Numbers, every_d: int, looks: bool
) -> tuple[Floats, Kept]:
    """Base of a day, mg/L CaCO3, and what is remembered of it.

    every_d: days between two looks; looks: whether this is a day of one. Source: own reckoning at this
    morning's carbon dioxide, where pH follows the logarithm of alkalinity; limits practice.
    """
    now = seen.alkalinity_mg_l
    spent = np.where(np.isnan(kept.before_mg_l), 0.0, np.maximum(kept.before_mg_l - now, 0.0))
    used = np.stack([kept.used_mg_l[1], spent])
    if not looks:
        return np.zeros_like(now), Kept(kept.on, now, used)
    eaten = used.mean(axis=0) * every_d
    floor = floor_mg_l(used.mean(axis=0), every_d)
    begins = seen.ph < target_ph - BEGIN_BELOW_PH
    on = (begins | kept.on) & (seen.ph < target_ph)
    want = now * (10.0 ** (target_ph - seen.ph) - 1.0)
    portion = np.where(on, eaten + np.clip(want, -MOST_STEP_MG_L, MOST_STEP_MG_L), 0.0)
    short = np.where(now < floor, eaten + floor - now, 0.0)
    portion = np.maximum(portion, short)
    most = eaten + np.where(now < floor, BELOW_FLOOR_STEP_MG_L, MOST_STEP_MG_L)
    rise = np.where(seen.ph < ACID_PH, RISE_ACID_PH, RISE_PH)
    with np.errstate(divide="ignore", invalid="ignore"):
        over = seen.tan_mg_l / seen.unionised_act_mg_l - 1.0
        harmless_ph = np.where(over > 0.0, seen.pka - np.log10(over), np.inf)
    rise = np.minimum(rise, harmless_ph - seen.ph)
    by_ph = eaten + now * (10.0**rise - 1.0)
    begun = np.where((now < LEAST_PORTION_MG_L) & (rise > 0.0), LEAST_PORTION_MG_L, 0.0)
    portion = np.clip(portion, 0.0, np.maximum(np.minimum(most, by_ph), begun))
    portion = np.where(rise > 0.0, portion, 0.0)
    return portion, Kept(on, now + portion, used)


def kept_where(still: NDArray[np.bool_], before: Kept, after: Kept) -> Kept:
    """What is remembered by each member: as before where nothing was looked at."""
    return Kept(
        np.where(still, before.on, after.on),
        np.where(still, before.before_mg_l, after.before_mg_l),
        np.where(still, before.used_mg_l, after.used_mg_l),
    )


def fishless_mg_l(alkalinity_mg_l: Floats) -> Floats:
    """Base of a start-up without fish, mg/L CaCO3: from under the low line to the high one.

    >>> fishless_mg_l(np.array([70.0, 90.0])).tolist()
    [80.0, 0.0]
    """
    return np.where(alkalinity_mg_l < FISHLESS_LOW_MG_L, FISHLESS_TO_MG_L - alkalinity_mg_l, 0.0)


def given(day: int, eq: Numbers, shelf: tuple[Base, ...], first_share: Numbers, once: ArrayLike) -> Event:
    """A day's base: as a jump where it is given at once, else spread over the day.

    first_share: of the equivalents, that of the first base of the shelf; once: whether it is, by member.
    """
    shares = (1.0,) if len(shelf) == 1 else (first_share, 1.0 - first_share)
    parts = [eq * share for share in shares]
    amounts: dict[str, Numbers] = {
        "alkalinity_eq": eq,
        "carbon_mol": sum(part * one.carbon_mol_eq for part, one in zip(parts, shelf, strict=True)),
    }
    return Event(
        day,
        "base",
        added={name: amount * np.asarray(once) for name, amount in amounts.items()},
        spread={name: amount * np.logical_not(once) for name, amount in amounts.items()},
        ions={
            name: sum(part * one.ions_g_eq.get(name, 0.0) for part, one in zip(parts, shelf, strict=True))
            for name in ("potassium", "calcium", "magnesium", "sodium")
        },
        grams={one.key: part * one.grams_eq for part, one in zip(parts, shelf, strict=True)},
    )


def whole_eq(event: Event) -> Numbers:
    """Equivalents of a day's base, at once or spread."""
    return event.added["alkalinity_eq"] + event.spread["alkalinity_eq"]


def by_base(eq: Floats, first_eq: Floats, shelf: tuple[Base, ...]) -> tuple[tuple[Base, Floats], ...]:
    """Each base of the shelf with its grams, from a season's equivalents and those given as the first."""
    parts = (first_eq, eq - first_eq)
    return tuple((one, part * one.grams_eq) for one, part in zip(shelf, parts, strict=False))


def shape(how: BaseHow) -> Floats:
    """Share of the day's base that enters in each hour, (24,)."""
    found = np.full(24, 1.0 / 24.0)
    if how != "drip":
        found = np.zeros(24)
        found[list(PART_HOURS)] = 1.0 / len(PART_HOURS)
    return found
