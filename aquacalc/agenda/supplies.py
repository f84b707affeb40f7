"""What the season gives to the water beside feed, as tests to make and grams to have: base, iron, ammonia for
an empty filter, and minerals that crops find too little of. Nothing of it is ordered by date."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Literal

import numpy as np

from aquacalc import tables
from aquacalc.advice.doses import weekly as weekly_base
from aquacalc.advice.season import minerals
from aquacalc.advice.season.days import Days, Look
from aquacalc.agenda import doses
from aquacalc.constants import DAYS_PER_WEEK, MG_PER_G
from aquacalc.garden import litres
from aquacalc.garden.model import Product
from aquacalc.harvest import spans
from aquacalc.logbook.log import Log
from aquacalc.season import basing, rules
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, Floats, band

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

Kind = Literal["base", "iron", "potassium", "calcium", "magnesium", "filter_food"]

MINERALS: dict[Kind, tuple[str, str]] = {
    "potassium": ("K", "potassium_sulphate"),
    "calcium": ("Ca", "gypsum"),
    "magnesium": ("Mg", "epsom_salt"),
}
"""The element and what brings it without moving the pH, where nothing is on the shelf."""
IRON = ("Fe", "fe_dtpa")
FILTER_FOOD = "ammonium_chloride"
LEAST_G = 0.05


@dataclass(frozen=True)
class Supply:
    """A product that the season asks for after a test.

    low_g, middle_g, high_g: of the season, by the tries; months: first days of the calendar months in which
    half of the tries give it; portions: days on which the middle of the tries gives it; under, to: the
    reading below which it is given and up to which: pH for a base, else mg/L (ammonia as N).
    """

    kind: Kind
    product: Product
    to_buy: bool
    low_g: float
    middle_g: float
    high_g: float
    months: tuple[date, ...]
    portions: int
    under: float
    to: float
    days: int

    @property
    def key(self) -> str:
        """By which its amounts are known wherever they are printed."""
        return f"supply {self.kind} {self.product.chemical}"

    @property
    def week_g(self) -> tuple[float, float, float]:
        """The same for an average week of the season."""
        weeks = self.days / DAYS_PER_WEEK
        return self.low_g / weeks, self.middle_g / weeks, self.high_g / weeks


def supplies(run: SeasonRun, garden: Garden) -> tuple[Supply, ...]:
    """All that the season asks for, in the order of `Kind`."""
    found = [*_bases(run, garden), *_iron(run, garden), *_minerals(run, garden), *_filter_food(run, garden)]
    return tuple(one for one in found if one.high_g >= LEAST_G)


def _bases(run: SeasonRun, garden: Garden) -> Iterator[Supply]:
    target = garden.targets.base_to_ph
    lines = (target - basing.BEGIN_BELOW_PH, target)
    shelf = basing.bases(garden)
    for base, daily in basing.by_base(run.daily["base_eq"], run.daily["base_first_eq"], shelf):
        yield _supply("base", run, garden, base.key, daily, lines)


def _iron(run: SeasonRun, garden: Garden) -> Iterator[Supply]:
    element, usual = IRON
    product = _holding(garden, element, usual)
    per_g = doses.element_g(garden, product, 1.0, element)
    lines = (rules.IRON_LOW_MG_L, rules.IRON_TO_MG_L)
    yield _supply("iron", run, garden, product.chemical, run.daily["iron_g"] * per_g, lines)


def _minerals(run: SeasonRun, garden: Garden) -> Iterator[Supply]:
    """What crops would take beyond what bases bring, on days on which the water holds too little; of
    magnesium what lifts the water to its floor."""
    look = Look(run, garden)
    volume = litres.litres_of(garden).whole
    for kind, (element, usual) in MINERALS.items():
        floor = tables.load("crop_nutrients").row(kind).number("action_floor_mg_l")
        amount = run.daily[f"{kind}_mg_l"]
        short = (amount < floor) & look.planted
        if kind == "magnesium":
            lowest = np.minimum.accumulate(np.where(short, amount, floor), axis=1)
            falls = -np.diff(lowest, axis=1, prepend=floor)
            grams = falls * volume / MG_PER_G
        else:
            wanted = minerals.wanted_g_day(look, kind)
            grams = np.maximum(wanted - run.daily[f"base_{kind}_g"], 0.0) * short
        lines = (floor, floor)
        if kind == "potassium" and not math.isnan(garden.care.potassium_mg_l):
            # What the grower keeps it at is in the season already.
            grams, lines = run.daily["potassium_g"], 2 * (garden.care.potassium_mg_l,)
        product = _holding(garden, element, usual)
        per_g = doses.element_g(garden, product, 1.0, element)
        yield _supply(kind, run, garden, product.chemical, grams * per_g, lines)


def _filter_food(run: SeasonRun, garden: Garden) -> Iterator[Supply]:
    own = [one for one in garden.products if doses.chemical(one).text("kind") == "ammonia"]
    product = own[0] if own else doses.pure(FILTER_FOOD)
    share = doses.chemical(product).number("n_g_g") * product.strength_pct / 100.0
    lines = (rules.FOOD_FROM_TAN_MG_L, filter_food_to_mg_l(garden))
    yield _supply("filter_food", run, garden, product.chemical, run.daily["filter_food_g"] / share, lines)


def filter_food_to_mg_l(garden: Garden) -> float:
    """Ammonia up to which a filter without fish is fed, mg/L as N: less where it has run before."""
    return rules.FOOD_TAN_MG_L if garden.start_up.state == "new" else rules.WAKE_TAN_MG_L


def _holding(garden: Garden, element: str, usual: str) -> Product:
    """A supplement of the shelf that brings an element; else what is usual, to be bought."""
    for product in doses.of_kind(garden, "supplement"):
        row = doses.chemical(product)
        if row.number(f"{element.lower()}_g_g") > 0.0 or (
            element == "Fe" and row.number("fe_high_g_g") > 0.0
        ):
            return product
    return doses.pure(usual)


def _supply(
    kind: Kind,
    run: SeasonRun,
    garden: Garden,
    chemical: str,
    daily_g: Floats,
    lines: tuple[float, float],
) -> Supply:
    own = [one for one in garden.products if one.chemical == chemical]
    whole = band(daily_g.sum(axis=1, dtype=np.float64))
    given = daily_g > 0.0
    return Supply(
        kind=kind,
        product=own[0] if own else doses.pure(chemical),
        to_buy=not own,
        low_g=float(whole.low),
        middle_g=float(whole.middle),
        high_g=float(whole.high),
        months=_months(run, given),
        portions=round(float(band(np.count_nonzero(given, axis=1)).middle)),
        under=lines[0],
        to=lines[1],
        days=run.days,
    )


def _months(run: SeasonRun, given: Days) -> tuple[date, ...]:
    """Calendar months, by their first day in the season, in which half of the tries are given any."""
    return tuple(
        run.date(of.start) for _, of in spans.months(run) if float(np.mean(given[:, of].any(axis=1))) >= HALF
    )


HALF = 0.5


def weekly(found: Supply) -> Band:
    """Grams of an average week as a band."""
    return Band(*(np.asarray(end) for end in found.week_g))


def whole(found: Supply) -> Band:
    """Grams of the season as a band."""
    return Band(*(np.asarray(end) for end in (found.low_g, found.middle_g, found.high_g)))


@dataclass(frozen=True)
class Read:
    """Base of a week by the grower's own readings of alkalinity: so many within so many days."""

    product: Product
    grams: float
    count: int
    days: int


def by_readings(garden: Garden, given: Iterable[Supply], log: Log | None, day: date) -> Read | None:
    """What the readings up to a day say about the first base; None where they show no trend."""
    bases = [one.product for one in given if one.kind == "base"] or list(doses.of_kind(garden, "base"))
    if log is None or not bases:
        return None
    found = weekly_base.of_garden(garden, 0.0, log, day)
    if found.by_readings is None:
        return None
    volume, share = litres.litres_of(garden).whole, bases[0].strength_pct / 100.0
    grams = weekly_base.grams(found.by_readings.middle, bases[0].chemical, volume, share)
    return Read(bases[0], grams, found.count, found.days)
