"""Ways to start a filter: which one fits a garden, what speaks against one, and where fish-in has to stop.

Ammonia without fish is the default. Fish in a new filter are a fall-back with stop values, and refused where
the fish, the place or the cold forbid it. What the law says about fish is not answered here: the local rules
are asked first.
"""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from aquacalc import tables
from aquacalc.errors import InputError, Problem
from aquacalc.judge import lines
from aquacalc.judge import nitrite as judged
from aquacalc.startup import doses
from aquacalc.water import ammonia

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

Method = Literal["salt", "solution", "media", "fish", "cold"]
METHODS: tuple[Method, ...] = ("salt", "solution", "media", "fish", "cold")
"""An ammonium salt, ammonia solution, mature media moved in, fish with little feed, a start in cold water."""
Against = Literal["class_c", "class_b_without_seed", "school", "cold_without_seed", "welfare_rules"]

NO_FORECAST_C = 4.0
"""Below it no start-up is forecast: nothing measurable grows."""
UNSURE_C = 8.0
"""Below it a forecast is not reliable."""
COLD_C = 15.0
"""Below it a start takes months; both lines after the reference's rule of thumb (a supplier's page, read)."""

FISH_IN_FEED_SHARE = 0.25
FISH_IN_FEED_G_D_M3 = (2.0, 3.0)
"""Feed while fish start a filter: at most a quarter of normal, 2 to 3 g/d for 1000 L. Practice."""


@dataclass(frozen=True)
class Place:
    """What decides between methods.

    classes: nitrogen classes (A, B, C) of the fish. coldest_c: of the water in the weeks to come. seeded:
    mature media from a healthy, known loop is at hand. welfare_rules: answer of the local office about fish
    in a new filter: `not asked`, `forbidden`, `no objection`.
    """

    classes: frozenset[str]
    setting: Literal["home", "school", "community"] = "home"
    coldest_c: float = 20.0
    seeded: bool = False
    welfare_rules: Literal["not asked", "forbidden", "no objection"] = "not asked"


def classes_of(garden: Garden) -> frozenset[str]:
    """Nitrogen classes of a garden's fish; the strictest class where no fish are named."""
    table = tables.load("species")
    found = {table.row(batch.species).text("nitrogen_tolerance_class") for batch in garden.fish}
    return frozenset(found or {"C"})


def against(method: Method, place: Place) -> tuple[Against, ...]:
    """What forbids a method here; empty where nothing does. Only starting with fish is ever refused.

    >>> against("fish", Place(frozenset("C"), "school"))
    ('class_c', 'school')
    """
    if method != "fish":
        return ()
    found: list[tuple[Against, bool]] = [
        ("class_c", "C" in place.classes),
        ("class_b_without_seed", "B" in place.classes and not place.seeded),
        ("school", place.setting == "school"),
        ("cold_without_seed", place.coldest_c < COLD_C and not place.seeded),
        ("welfare_rules", place.welfare_rules == "forbidden"),
    ]
    return tuple(key for key, holds in found if holds)


def advised(place: Place, products: Collection[str] = ()) -> Method:
    """The method for a place: mature media where there are any, else ammonia without fish.

    products: keys of what stands on the shelf. In a school never a solution: it fumes.

    >>> advised(Place(frozenset("B")), {"ammonia_solution"}), advised(Place(frozenset("B")))
    ('solution', 'salt')
    """
    if place.coldest_c < UNSURE_C:
        return "cold"
    if place.seeded:
        return "media"
    if doses.SOLUTION in products and doses.DEFAULT_PRODUCT not in products and place.setting != "school":
        return "solution"
    return "salt"


def check_temperature(coldest_c: float) -> bool:
    """Whether a forecast is reliable at a water temperature. Raises `InputError` below 4 C."""
    if coldest_c < NO_FORECAST_C:
        ends = (_both(NO_FORECAST_C), _both(UNSURE_C))
        raise InputError(Problem("problem-startup-cold", "", _both(coldest_c), ends))
    return coldest_c >= UNSURE_C


def _both(celsius: float) -> str:
    """A temperature for readers of either scale: a problem does not know who reads it."""
    return f"{celsius:.0f} °C ({celsius * 1.8 + 32.0:.0f} °F)"


# --- seed --------------------------------------------------------------------------------------------------


# --- fish-in: the fall-back --------------------------------------------------------------------------------


@dataclass(frozen=True)
class FishIn:
    """Feed and stop values while fish start a filter.

    feed_g_day: from, to. stop_unionised_mg_l, stop_tan_mg_l (at this pH and temperature), stop_nitrite_mg_l:
    at any of them no feed and a change of water; chloride_mg_l: wanted at the nitrite stop value.
    """

    feed_g_day: tuple[float, float]
    stop_unionised_mg_l: float
    stop_tan_mg_l: float
    stop_nitrite_mg_l: float
    chloride_mg_l: float


def fish_in(
    place: Place, volume_l: float, normal_feed_g_day: float, ph: float, temperature_c: float
) -> FishIn:
    """What holds while fish start a filter. Raises `InputError` with every reason against it.

    normal_feed_g_day: what the fish would eat; NaN where not known.
    """
    reasons = against("fish", place)
    if reasons:
        raise InputError([Problem(f"problem-startup-fish-{one.replace('_', '-')}") for one in reasons])
    low, high = (end * volume_l / 1000.0 for end in FISH_IN_FEED_G_D_M3)
    if not math.isnan(normal_feed_g_day):
        quarter = FISH_IN_FEED_SHARE * normal_feed_g_day
        low, high = min(low, quarter), min(high, quarter)
    fish = lines.fish_like("warm", max(place.classes))
    unionised = lines.begins_at("unionised_ammonia", "act today", fish)
    by_unionised = float(ammonia.tan_for_unionised_mg_l(unionised, ph, temperature_c))
    by_tan = lines.begins_at("tan", "act today", fish)
    nitrite = lines.class_begins_at("nitrite", "act today", fish)
    return FishIn(
        feed_g_day=(low, high),
        stop_unionised_mg_l=unionised,
        stop_tan_mg_l=min(by_unionised, by_tan),
        stop_nitrite_mg_l=nitrite,
        chloride_mg_l=judged.chloride_ratio_wanted(fish) * nitrite,
    )
