"""Which base next: potassium and calcium ones take turns, so that both ions stay near 1 to 2 : 1 by mass.

After Rakocy and others 2006 (from memory); the lines for hard top-up and for potassium are common practice.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from aquacalc import tables
from aquacalc.advice.doses.refusals import may_offer
from aquacalc.garden.model import Product, Setting
from aquacalc.logbook import trend
from aquacalc.logbook.log import Log
from aquacalc.season.basing import CALCIUM_BASE
from aquacalc.season.rules import HARD_CALCIUM_MG_L, MOST_POTASSIUM_MG_L
from aquacalc.water import dosing

RATIO_LOW, RATIO_HIGH = 1.0, 2.0
"""Potassium to calcium by mass. Source: Rakocy and others 2006 (from memory)."""

Metal = Literal["K", "Ca", "either", "neither"]
Why = Literal["both-high", "potassium-high", "hard", "low", "high", "between", "not-known"]
By = Literal["readings", "doses", ""]


@dataclass(frozen=True)
class Minerals:
    """What is known of potassium and calcium; NaN where not.

    potassium_mg_l, calcium_mg_l: by readings. top_up_calcium_mg_l: of the top-up water. given_potassium_g,
    given_calcium_g: with the bases of the last weeks, by the log.
    """

    potassium_mg_l: float = math.nan
    calcium_mg_l: float = math.nan
    top_up_calcium_mg_l: float = math.nan
    given_potassium_g: float = 0.0
    given_calcium_g: float = 0.0


@dataclass(frozen=True)
class NextBase:
    """Whose base is next, and why. ratio: K to Ca by mass, NaN where not known, infinite without calcium."""

    metal: Metal
    why: Why
    ratio: float = math.nan
    by: By = ""


def next_base(of: Minerals) -> NextBase:
    """Potassium or calcium next: by the readings, else by the bases given so far.

    >>> next_base(Minerals(30.0, 60.0)).metal, next_base(Minerals(150.0, 60.0)).metal
    ('K', 'Ca')
    >>> next_base(Minerals(230.0, 60.0)).why, next_base(Minerals(top_up_calcium_mg_l=120.0)).why
    ('potassium-high', 'hard')
    """
    ratio, by = ratio_of(of)
    hard = of.top_up_calcium_mg_l > HARD_CALCIUM_MG_L
    if of.potassium_mg_l > MOST_POTASSIUM_MG_L:
        return (
            NextBase("neither", "both-high", ratio, by)
            if hard
            else NextBase("Ca", "potassium-high", ratio, by)
        )
    if hard:
        return NextBase("K", "hard", ratio, by)
    if not by:
        return NextBase("either", "not-known")
    if ratio < RATIO_LOW:
        return NextBase("K", "low", ratio, by)
    if ratio > RATIO_HIGH:
        return NextBase("Ca", "high", ratio, by)
    return NextBase("K" if ratio < (RATIO_LOW + RATIO_HIGH) / 2.0 else "Ca", "between", ratio, by)


def ratio_of(of: Minerals) -> tuple[float, By]:
    """Potassium to calcium by mass, and by what it is known."""
    for potassium, calcium, by in (
        (of.potassium_mg_l, of.calcium_mg_l, "readings"),
        (of.given_potassium_g, of.given_calcium_g, "doses"),
    ):
        if potassium + calcium > 0.0:
            return (potassium / calcium if calcium > 0.0 else math.inf), by  # type: ignore[return-value]
    return math.nan, ""


def base_of(metal: Metal, setting: Setting, shelf: Iterable[Product] = ()) -> str:
    """Key of the base for a metal: from the shelf where it may be offered, else the mildest of its kind.

    Empty where neither is wanted; potassium first where either is.
    """
    if metal == "neither":
        return ""
    wanted = "Ca" if metal == "Ca" else "K"
    table = tables.load("chemicals")
    for product in shelf:
        row = table.row(product.chemical)
        is_base = row.text("kind") == "base" and may_offer(row, setting)
        if is_base and dosing.chemical(product.chemical).elements[wanted] > 0.0:
            return product.chemical
    return CALCIUM_BASE if wanted == "Ca" else dosing.MILDEST_BASE


def given_g(log: Log, until: date, element: str, days: int = trend.WINDOW_DAYS) -> float:
    """Grams of an element that came with the bases of the weeks up to a day, by the log."""
    bases = {row.key for row in tables.load("chemicals") if row.text("kind") == "base"}
    return sum(
        one.value * dosing.chemical(one.subject).elements[element]
        for one in log.all("dose")
        if one.subject in bases and until - timedelta(days=days) <= one.day <= until
    )
