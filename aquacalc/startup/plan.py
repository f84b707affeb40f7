"""A start-up planned: how it begins, between which dates things happen, first fish, feed, what delays it.

Concentrations as N, alkalinity mg/L CaCO3. No dose is ordered by a date: dates are for looking and testing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, Literal

import numpy as np

from aquacalc import nitrogen, tables
from aquacalc.errors import InputError, Problem
from aquacalc.startup import case as cases
from aquacalc.startup import doses, first_feed, forecast, methods, new_fish, readings
from aquacalc.startup.case import Case, SeedKey
from aquacalc.startup.doses import Source
from aquacalc.startup.forecast import Forecast
from aquacalc.startup.members import Event
from aquacalc.startup.methods import Method
from aquacalc.startup.milestones import Span
from aquacalc.startup.readings import Parameter, Read, Reading
from aquacalc.startup.rule import P1, Rule
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import FishBatch, Garden
    from aquacalc.logbook.log import Log
    from aquacalc.sizing.result import Balance

MEMBERS = 600
"""Tries of a panel and a sheet; 2,000 on demand."""
STOCK_AFTER_DAYS = 2
"""After the second challenge: change water, match pH and warmth, stock within two to three days. Practice."""
NO_AMMONIA = Rule(to_tan_mg_l=0.0)
"""Where fish bring the ammonia nothing is dosed but carbonate."""

Name = Literal[
    "ammonia_peak", "ammonia_clear", "nitrite_peak", "nitrite_clear", "complete", "first_fish", "full_feed"
]
NAMES: tuple[Name, ...] = (
    "ammonia_clear",
    "nitrite_peak",
    "nitrite_clear",
    "complete",
    "first_fish",
    "full_feed",
)
"""What is told with dates. Without fish ammonia is highest on the day of the first dose; with fish its peak
goes first."""


@dataclass(frozen=True)
class Choice:
    """How a start-up is begun.

    first: day of the first dose, None for the garden's own. seed: what was moved in. product, strength_pct,
    counts: what brings the ammonia. warmer_k: the water warmer than the garden's usual year, by a heater.
    fish_feed_g_day: in all, where fish start the filter.
    """

    method: Method = "salt"
    seed: SeedKey = "unseeded"
    first: date | None = None
    product: str = doses.DEFAULT_PRODUCT
    strength_pct: float | None = 99.0
    counts: doses.Counts = "NH3 by weight"
    first_tan_mg_l: float = doses.FIRST_TAN_MG_L[1]
    next_tan_mg_l: float = doses.NEXT_TAN_MG_L[1]
    warmer_k: float = 0.0
    fish_feed_g_day: float = 0.0


@dataclass(frozen=True)
class Days:
    """Between which dates something happens in 8 of 10 tries; None: later than was looked at."""

    low: date | None
    middle: date | None
    high: date | None


@dataclass(frozen=True, eq=False)
class StartUp:
    """A start-up worked out. read: what a log told; unreliable: colder than 8 C in the first weeks."""

    choice: Choice
    source: Source
    forecast: Forecast
    read: Read | None = None
    unreliable: bool = False

    @property
    def case(self) -> Case:
        """Litres, film, water."""
        return self.forecast.case

    @property
    def first(self) -> date:
        """The day of the first dose."""
        return self.case.date_of(0)

    def span(self, name: Name) -> Span:
        """Days from the first dose, 10th to 90th of the tries."""
        if name in ("first_fish", "full_feed"):
            later = STOCK_AFTER_DAYS + (0 if name == "first_fish" else len(new_fish.FIRST_WEEK_SHARES) - 1)
            ready = self.forecast.span("nitrite_clear" if self.choice.method == "fish" else "confirmed")
            return Span(ready.low + later, ready.middle + later, ready.high + later, ready.horizon)
        return self.forecast.span(name)

    def days(self, name: Name) -> Days:
        """The same as dates."""
        found = self.span(name)
        return Days(*(self.date(day) for day in (found.low, found.middle, found.high)))

    def date(self, day: float) -> date | None:
        """The date of a day; None for one that is later than was looked at, or never."""
        return self.case.date_of(math.ceil(day)) if math.isfinite(day) else None


def rule_of(choice: Choice) -> Rule:
    """The daily look that a choice means."""
    return NO_AMMONIA if choice.method == "fish" else replace(P1, to_tan_mg_l=choice.next_tan_mg_l)


def begun(garden: Garden, choice: Choice) -> Case:
    """The case of a choice in a garden."""
    made = cases.of_garden(garden, choice.first, choice.seed)
    made = replace(made, water_c=made.water_c + choice.warmer_k)
    if choice.method == "fish":
        given = (
            float(nitrogen.tan_production_g_day(choice.fish_feed_g_day, made.protein)) * 1000.0 / made.litres
        )
        made = replace(made, source_mg_l_d=np.array([given]))
    return made


def of_case(
    case: Case,
    choice: Choice,
    read: Read | None = None,
    today: int = 0,
    members: int = MEMBERS,
    progress: forecast.Progress | None = None,
) -> StartUp:
    """A start-up from its case.

    read: readings and doses up to `today`; without them the first dose and the daily look are taken as given.
    Raises `InputError` for a product or a temperature with which it cannot be begun.
    """
    source = source_of(choice)
    reliable = methods.check_temperature(coldest_c(case))
    if read is not None and (read.readings or read.events):
        measured = _warmed(
            readings.measured(_warmed(case, -choice.warmer_k), read.readings), choice.warmer_k, today
        )
        made = forecast.forecast_of(
            measured,
            read.readings,
            read.events,
            today,
            members=members,
            rule=rule_of(choice),
            progress=progress,
        )
        return StartUp(choice, source, made, read, not reliable)
    made = forecast.forecast_of(
        case,
        events=first_events(choice),
        today=0,
        members=members,
        rule=rule_of(choice),
        progress=progress,
    )
    return StartUp(choice, source, made, None, not reliable)


def _warmed(case: Case, by_k: float, after: int = -1) -> Case:
    """The case with warmer water on all days after one: what is past was as it was read."""
    days = max(case.water_c.size, after + 2)
    water_c: Floats = np.array([cases.on_day(case.water_c, day) for day in range(days)])
    water_c[after + 1 :] += by_k
    return replace(case, water_c=water_c)


def first_events(choice: Choice) -> tuple[Event, ...]:
    """The first dose; a solution brings alkalinity with it."""
    if choice.method == "fish":
        return ()
    solution = choice.product == doses.SOLUTION
    return (Event(0, "ammonia_water" if solution else "ammonium_salt", choice.first_tan_mg_l),)


def source_of(choice: Choice) -> Source:
    """What brings the ammonia; for a start with fish the usual product, which is not poured."""
    if choice.method == "fish":
        return doses.source(doses.DEFAULT_PRODUCT, 99.0)
    return doses.source(choice.product, choice.strength_pct, choice.counts)


WEEKS_LOOKED_AT = 4


def coldest_c(case: Case) -> float:
    """Coldest water of the first weeks."""
    return float(case.water_c[: 7 * WEEKS_LOOKED_AT].min())


def with_readings(start: StartUp, typed: Sequence[Reading]) -> StartUp:
    """The same with readings typed in, the doses taken as the daily look gives them: nothing is simulated.

    Raises `InputError` for a reading before the first dose.
    """
    early = [one for one in typed if one.day < 0]
    if early:
        begin = start.first.isoformat()
        found = start.case.date_of(early[0].day).isoformat()
        raise InputError(Problem("problem-startup-before", "", found, (begin,)))
    kept = start.read.readings if start.read is not None else ()
    together = (*kept, *typed)
    last = max((one.day for one in together), default=0)
    moved = replace(start.forecast, today=min(max(last, start.forecast.today), start.forecast.course.days))
    return replace(start, forecast=forecast.reweigh(moved, together))


# --- from a garden -----------------------------------------------------------------------------------------


def choice_of(garden: Garden) -> Choice:
    """What the garden file says of its start-up: day, product, strength; else the usual salt."""
    told = garden.start_up
    salts = {row.key for row in tables.load("chemicals") if row.text("kind") == "ammonia"}
    shelf = [one for one in garden.products if one.chemical in salts]
    product, strength = doses.DEFAULT_PRODUCT, 99.0
    if told.product in salts:
        product, strength = told.product, 99.0 if told.strength_pct is None else told.strength_pct
    elif shelf:
        product, strength = shelf[0].chemical, shelf[0].strength_pct
    method: Method = "solution" if product == doses.SOLUTION else "salt"
    return Choice(method=method, first=told.started, product=product, strength_pct=strength)


def of_garden(
    garden: Garden,
    log: Log | None = None,
    choice: Choice | None = None,
    members: int = MEMBERS,
    progress: forecast.Progress | None = None,
) -> StartUp:
    """The start-up of a garden, with all that its log tells."""
    chosen = choice or choice_of(garden)
    case = begun(garden, chosen)
    if log is None or not log.rows:
        return of_case(case, chosen, members=members, progress=progress)
    read = readings.of_log(log, garden, case)
    last = case.day_of(log.rows[-1].day)
    if last < 0:
        return of_case(case, chosen, members=members, progress=progress)
    return of_case(case, chosen, read.until(last), last, members, progress)


# --- first fish --------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class First:
    """The first fish and their feed.

    batch: as planned, None where no fish are named. fish: how many go in. proven_g_day: feed that a passed
    challenge of 2 mg/L proves at least. feed_g_day: of each day of the first week. water_c: of that time.
    """

    batch: FishBatch | None
    fish: first_feed.FirstFish | None
    proven_g_day: float
    first_g_day: float
    feed_g_day: tuple[float, ...]
    water_c: float


def proven_g_day(case: Case, challenge_mg_l: float = first_feed.CHALLENGE_TAN_MG_L) -> float:
    """Feed whose ammonia a passed challenge clears in a day: the least that it proves."""
    grams = challenge_mg_l * case.litres / 1000.0
    return float(nitrogen.feed_for_tan_g_day(grams, case.protein))


def carried_kg(balance: Balance) -> float:
    """Fish that the garden carries in its narrowest month, kg; infinite where nothing limits."""
    least = [
        float(np.nanmin(one.fish_kg.middle))
        for one in balance.limits
        if one.must and one.counts and np.isfinite(one.fish_kg.middle).any()
    ]
    return min(least, default=math.inf)


def first_of(start: StartUp, garden: Garden, carried: float, proven: float | None = None) -> First:
    """First fish and feed of a garden's first batch.

    carried: kg of fish that the garden carries; proven: feed of the grower's own challenge, g/d.
    """
    grams = proven_g_day(start.case) if proven is None else proven
    arrives = start.days("first_fish").middle or start.first
    water_c = cases.on_day(start.case.water_c, max(start.case.day_of(arrives), 0))
    feed = first_feed.first_feed_g_day(grams)
    if not garden.fish:
        return First(None, None, grams, feed, (), water_c)
    batch = min(garden.fish, key=lambda one: one.stocked)
    each = new_fish.appetite_g_day(batch.species, batch.weight_g, water_c)
    companions = tables.load("species").row(batch.species).number("companions_min")
    count = first_feed.first_fish(
        grams,
        each,
        batch.weight_g,
        carried if math.isfinite(carried) else 1e6,
        batch.count,
        1 if math.isnan(companions) else int(companions),
    )
    week = new_fish.first_week_g_day(count.count * each, feed)
    return First(batch, count, grams, feed, tuple(float(one) for one in week), water_c)


# --- days to look ------------------------------------------------------------------------------------------

LOOK_EVERY_DAYS = 2
ALKALINITY_EVERY_DAYS = 4


@dataclass(frozen=True)
class Look:
    """A day to look and test, and what."""

    day: date
    tests: tuple[Parameter, ...]


def looks(start: StartUp, count: int) -> tuple[Look, ...]:
    """The next days to look: every second day; each second time alkalinity too, and always while it is low.

    From today on.
    """
    first = start.forecast.today
    soft = [one for one in start.forecast.readings if one.parameter == "alkalinity"]
    low = bool(soft) and soft[-1].value < doses.ALKALINITY_KEPT_MG_L[0]
    found = []
    for number in range(count):
        day = first + number * LOOK_EVERY_DAYS
        tests: tuple[Parameter, ...] = ("temperature", "ph", "tan", "nitrite")
        if low or day % ALKALINITY_EVERY_DAYS == 0:
            tests = (*tests, "alkalinity")
        found.append(Look(start.case.date_of(day), tests))
    return tuple(found)
