"""Nitrification as feed per day: what the garden's surfaces carry, in comfort and at most."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import film, fish, nitrogen, tables
from aquacalc.film import Surface
from aquacalc.judge import lines, nitrite
from aquacalc.sizing import alkalinity, limits, surfaces
from aquacalc.sizing.limits import Conditions
from aquacalc.uncertainty import Floats, Triangle, coefficient
from aquacalc.water import ammonia

if TYPE_CHECKING:
    from collections.abc import Mapping

    from aquacalc.garden.model import Garden

CLASSES = {"W": "warm", "C": "cold"}
COMFORTABLE_TAN_MG_L = {"warm": 1.0, "cold": 0.5}
COMFORTABLE_NITRITE_MG_L = {"warm": 0.3, "cold": 0.1}
MOST_TAN_MG_L = {"warm": 2.0, "cold": 1.0}
MOST_NITRITE_MG_L = {"warm": 1.0, "cold": 0.2}
"""TAN and nitrite-N that a filter is sized for, in comfort and at most, by class of the fish. The last pair
asks for chloride of 20 mg/L. Common practice, no source."""
RISE_PH = 0.4
"""The pH of a day climbs this much over the target. Common practice, no source."""
HOLDABLE = 2.0
"""A film is not asked to hold less than this many times its lowest substrate. Our own choice, no source."""
CHLORIDE = "top_up_chloride_mg_l"


@dataclass(frozen=True, eq=False)
class Targets:
    """TAN and nitrite-N that the film is to hold, mg/L, (members, months); raised: months, 1 where nitrite is
    asked to stay no lower than the film can hold."""

    tan_mg_l: Floats
    nitrite_mg_l: Floats
    raised: Floats


def triangles(garden: Garden) -> dict[str, Triangle]:
    """Films and their surfaces, and chloride where the top-up's is not known."""
    names = surfaces.COEFFICIENTS
    found = {name: coefficient(name) for name in names} | nitrogen.kinetic_triangles()
    return found | {CHLORIDE: chloride_triangle(garden)}


def chloride_triangle(garden: Garden) -> Triangle:
    """Chloride of the top-up: as the garden has it, else as wide as not known."""
    known, usual = garden.top_up.chloride_mg_l, coefficient(CHLORIDE)
    if known is None:
        return Triangle(usual.low, usual.typical, usual.high, logarithmic=True)
    return Triangle(known, known, known)


def class_of(garden: Garden) -> str:
    """`warm` or `cold`: the strictest class of fish in the loop."""
    kinds = {CLASSES[fish.species(batch.species).group] for batch in garden.fish}
    return "cold" if "cold" in kinds else "warm"


def kinetics(now: Conditions) -> nitrogen.Kinetics:
    """The constants of the draw, to be broadcast along the months."""
    return nitrogen.kinetics({name: now.coefficient(name) for name in nitrogen.KINETIC_COEFFICIENTS})


def surfaces_of(now: Conditions) -> tuple[Surface, ...]:
    """The garden's surfaces, (members, 1) each."""
    columns: Mapping[str, Floats] = {name: values[:, None] for name, values in now.draw.items()}
    return surfaces.surfaces_of(now.garden, now.flow_l_h, columns)


def comfortable(now: Conditions) -> Targets:
    """Well under every line: TAN by its un-ionised part at the pH of the afternoon, nitrite by chloride."""
    kind, aims = class_of(now.garden), now.garden.targets
    rows = [tables.load("species").row(batch.species) for batch in now.garden.fish]
    fine = lines.begins_at("unionised_ammonia", "watch", rows)
    by_unionised = fine / np.asarray(ammonia.unionised_fraction(aims.ph + RISE_PH, now.water_c))
    half = np.asarray(nitrite.begins_at("act today", now.coefficient(CHLORIDE), rows)) / 2.0
    by_chloride = np.minimum(half, COMFORTABLE_NITRITE_MG_L[kind]) + 0.0 * now.water_c
    lowest = HOLDABLE * film.lowest_substrate_mg_l(
        "nitrite", now.water_c, aims.ph, aims.oxygen_mg_l, alkalinity.kept_mg_l(now.garden), kinetics(now)
    )
    return Targets(
        tan_mg_l=np.minimum(by_unionised, COMFORTABLE_TAN_MG_L[kind]),
        nitrite_mg_l=np.maximum(by_chloride, lowest),
        raised=(np.median(lowest, axis=0) > np.median(by_chloride, axis=0)).astype(np.float64),
    )


def most(now: Conditions) -> Targets:
    """What a loop can be run at with watchful eyes and salted water; TAN not beyond what oxygen allows."""
    kind = class_of(now.garden)
    nothing = 0.0 * now.water_c
    return Targets(
        MOST_TAN_MG_L[kind] + nothing, MOST_NITRITE_MG_L[kind] + nothing, np.zeros(now.water_c.shape[1])
    )


def carried_g_n_day(now: Conditions, held: tuple[Surface, ...], aims: Targets) -> Floats:
    """Ammonia-N that surfaces turn into nitrate at the targets, the slower of both steps."""
    around, constants = now.garden.targets, kinetics(now)

    def rate(step: nitrogen.Step, substrate: Floats) -> Floats:
        found = film.film_of(step, held, now.water_c, constants)
        water = (now.water_c, around.ph, around.oxygen_mg_l, alkalinity.kept_mg_l(now.garden))
        return np.asarray(film.rate_g_d(step, found, substrate, *water, constants))

    tan = np.minimum(aims.tan_mg_l, around.oxygen_mg_l / film.OXYGEN_PER_TAN)
    return np.minimum(rate("ammonia", tan), rate("nitrite", aims.nitrite_mg_l))


def areal_g_m2_day(now: Conditions, aims: Targets) -> Floats:
    """The same for a square metre of a separate filter, with as many solids as the garden lets through."""
    clean = surfaces.clean_share(
        now.garden, {"film_share_unsettled": now.coefficient("film_share_unsettled")}
    )
    return carried_g_n_day(now, (Surface(clean, surfaces.transfer_m_d("filter")),), aims)


RESERVE_MEDIUM = "moving_bed_carrier"
"""Medium of a separate filter that is told in litres."""


def filter_litres(now: Conditions, feed_g_day: Floats, aims: Targets) -> Floats:
    """Litres of `RESERVE_MEDIUM` that carry a feed at the targets, where water passes quickly enough."""
    per_litre = limits.surface(RESERVE_MEDIUM).typical / 1000.0 * areal_g_m2_day(now, aims)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(feed_g_day > 0.0, feed_g_day * tan_per_feed(now) / per_litre, 0.0)


def missing_litres(now: Conditions, demand_g_day: Floats, aims: Targets) -> Floats:
    """Litres beside what the garden has."""
    return filter_litres(now, np.maximum(demand_g_day - feed_g_day(now, aims), 0.0), aims)


def feed_g_day(now: Conditions, aims: Targets) -> Floats:
    """Feed whose ammonia the garden's surfaces turn into nitrate at the targets."""
    return carried_g_n_day(now, surfaces_of(now), aims) / tan_per_feed(now)


def tan_per_feed(now: Conditions) -> Floats:
    """TAN for one gram of feed, g N/g; (members, 1)."""
    return now.coefficient("tan_per_protein_sizing") * now.garden.protein_fraction()
