"""What stays the same through a season: the garden's coefficients, gases, tap, shelf, fish kinds and beds."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import fish, minerals, solids
from aquacalc.climate import months
from aquacalc.constants import DAYS_PER_WEEK, MG_PER_G, Numbers
from aquacalc.garden import litres, surroundings
from aquacalc.schedule.batch import CropBatch
from aquacalc.season import basing, beds, drivers, fishes, rules, wastes, water_use, weather
from aquacalc.season.hour import Rates
from aquacalc.sizing import denitrification, limits, nitrification, stock
from aquacalc.sizing.caps import UNCAPPED, ByMonth
from aquacalc.uncertainty import Floats, Triangle, coefficient
from aquacalc.water import carbonate

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden, SolidsFilter

OTHER_COEFFICIENTS = (
    "splash_share_per_d",
    "sludge_draw_l",
    "oxygen_use_factor",
    "iron_loss_per_d",
    "calcium_phosphate_log_k",
    "phosphate_settled_per_d",
    "phosphorus_per_denitrified_g_g",
    "solids_per_feed",
    "sludge_dry_share",
)
START_COEFFICIENTS = (
    "start_nitrate_mg_l",
    "start_potassium_mg_l",
    "start_phosphorus_mg_l",
    "start_iron_mg_l",
    "start_build_up",
)
TAP_C = 15.0
"""Temperature at which the tap's inorganic carbon is worked out; it hardly matters."""


def triangles(garden: Garden) -> dict[str, Triangle]:
    """Every uncertain value that the season of this garden rests on."""
    names = {
        *drivers.COEFFICIENTS,
        *weather.COEFFICIENTS,
        *fishes.COEFFICIENTS,
        *wastes.COEFFICIENTS,
        *beds.COEFFICIENTS,
        *START_COEFFICIENTS,
        *OTHER_COEFFICIENTS,
    }
    unseeded = coefficient("capacity_start_unseeded_mg_l_d")
    low, typical, high = (float(np.log10(end)) for end in (unseeded.low, unseeded.typical, unseeded.high))
    return {
        **{name: coefficient(name) for name in sorted(names)},
        **dict(_stated(garden)),
        **water_use.triangles(garden),
        **nitrification.triangles(garden),
        **fishes.triangles(garden),
        **limits.triangles(garden),
        **beds.triangles(garden),
        # Four decades: the triangle lies over the logarithm.
        "log_capacity_start": Triangle(low, typical, high),
    }


def _stated(garden: Garden) -> Iterator[tuple[str, Triangle]]:
    """What the label of the feed states of its minerals."""
    for element in minerals.ELEMENTS:
        stated = garden.feed_content_g_kg(element)
        if stated is not None:
            yield f"feed_{element}_g_kg", Triangle(stated, stated, stated)


@dataclass(frozen=True, eq=False)
class Weekly:
    """What the grower does every week, as numbers that do nothing where there is no such line.

    base_to_ph: pH that base is given for; most_feed_g_day: in each calendar month, (12, 1) or (12, members);
    the rest as in `garden.model.Care`.
    """

    base_to_ph: Numbers
    most_feed_g_day: Floats
    potassium_mg_l: Numbers
    change_share: Numbers
    change_above_mg_l: Numbers


def most_feed_g_day(garden: Garden, carried_g_day: ByMonth) -> Floats:
    """Feed that the garden's fish together get at most by calendar month, (12,): the grower's own line, or
    what the garden carries where that is less. Source: own reckoning, by definition."""
    return np.array([min(carried, garden.care.most_feed_g_day) for carried in carried_g_day])


def _weekly(garden: Garden, carried_g_day: ByMonth) -> Weekly:
    care = garden.care
    changes = care.change_share > 0.0 and not math.isnan(care.change_above_mg_l)
    return Weekly(
        base_to_ph=garden.targets.base_to_ph,
        most_feed_g_day=most_feed_g_day(garden, carried_g_day)[:, None],
        potassium_mg_l=0.0 if math.isnan(care.potassium_mg_l) else care.potassium_mg_l,
        change_share=care.change_share if changes else 0.0,
        change_above_mg_l=care.change_above_mg_l if changes else math.inf,
    )


@dataclass(frozen=True, eq=False)
class Setting:
    """One chunk of members of one garden; days count from the first simulated one.

    before: simulated days ahead of the season, for a garden that is being started up; protein: share of the
    feed; drawn: share of the faeces that leaves with the sludge; sludge_l: let out of the solids filter in a
    week at least, on its garden day; sludge_per_feed_l_g: wet sludge that a g of feed leaves there;
    chelate_holds: whether the iron on the shelf stays in solution at any pH; weekly: the grower's lines;
    weighed_share: of the appetite, as feed was weighed, from the day weighed_from on; water_times: what
    evaporates, is drunk and splashes over what is reckoned, where the litres were counted.
    """

    garden: Garden
    draw: Mapping[str, Floats]
    members: int
    first: date
    before: int
    days: int
    sky: weather.Weather
    gases: drivers.Loop
    rates: Rates
    kinds: tuple[fishes.Kind, ...]
    beds: beds.Beds
    tap: rules.NewWater
    shelf: tuple[basing.Base, ...]
    base_shape: Floats
    ionic_strength: Floats
    full_l: Numbers
    protein: Numbers
    drawn: Floats
    sludge_l: Floats
    sludge_per_feed_l_g: Floats
    chelate_holds: bool
    weekly: Weekly
    weighed_share: Numbers
    weighed_from: Numbers
    water_times: Numbers

    def weighed_on(self, index: int) -> Numbers:
        """Share of the appetite that fish are given on a simulated day, as the grower weighed the feed."""
        return np.where(index - self.before >= self.weighed_from, self.weighed_share, 1.0)

    @property
    def models(self) -> list[fish.OxygenModel]:
        """Oxygen models of the species in the garden."""
        return sorted({kind.species.oxygen_model for kind in self.kinds})


def setting_of(
    garden: Garden,
    batches: Sequence[CropBatch],
    draw: Mapping[str, Floats],
    seed: int,
    anomalies: bool,
    days: int | None = None,
    carried_g_day: ByMonth = UNCAPPED,
) -> Setting:
    """The setting of a draw; anomalies: whether the weather departs from the usual year; days: of the season;
    carried_g_day: feed that the plan never goes beyond, (12,), January first."""
    members = int(draw["splash_share_per_d"].size)
    season = garden.season
    first, before = first_day(garden)
    length = (season.end - season.start).days + 1
    whole = before + (length if days is None else min(days, length))
    sky = weather.weather_of(garden, draw, first, whole, seed, anomalies)
    tap = rules.new_water(garden.top_up, TAP_C)
    weighed = weighed_feed(garden, draw)
    # It hardly hangs on a chloride that was not analysed.
    strength = _ionic_strength(garden, tap)
    chloride = draw[nitrification.CHLORIDE] / MG_PER_G
    tap = replace(tap, ions_g_l={**tap.ions_g_l, "chloride": chloride})
    return Setting(
        garden=garden,
        draw=draw,
        members=members,
        first=first,
        before=before,
        days=whole,
        sky=sky,
        gases=drivers.loop(garden, draw, members, seed),
        rates=drivers.rates(garden, draw),
        kinds=fishes.kinds(garden, draw),
        beds=beds.beds_of(garden, batches, draw, sky.later(before), season.start),
        tap=tap,
        shelf=basing.bases(garden),
        base_shape=basing.shape(garden.care.base_how),
        ionic_strength=np.full(members, strength),
        full_l=litres.litres_of(garden).whole,
        protein=garden.protein_fraction(),
        drawn=denitrification.drawn(garden, draw),
        sludge_l=draw["sludge_draw_l"] * _draws_a_week(garden.solids_filter),
        sludge_per_feed_l_g=np.asarray(
            solids.sludge_l_day(
                draw["solids_per_feed"] * denitrification.drawn(garden, draw), draw["sludge_dry_share"]
            )
        ),
        weekly=_weekly(garden, carried_g_day),
        chelate_holds=any("eddha" in one.chemical for one in garden.products),
        # More than fish eat is no ration to plan with.
        weighed_share=1.0 if weighed is None else np.minimum(weighed.share, 1.0),
        weighed_from=rules.NEVER if weighed is None else (weighed.since - season.start).days,
        water_times=water_use.times(garden, draw),
    )


def _draws_a_week(own: SolidsFilter) -> float:
    """How often sludge is let out in a week; a screen's rinsing counts as one draw (our own choice)."""
    if own.kind == "none":
        return 0.0
    return DAYS_PER_WEEK / own.draw_every_d if own.draw_every_d > 0.0 else 1.0


def weighed_feed(garden: Garden, draw: Mapping[str, Floats]) -> stock.Fed | None:
    """Feed as the grower weighed it against the appetite in the usual year; None where it does not count."""
    if garden.last_measured("feed") is None:
        return None
    usual = months.monthly_to_daily(surroundings.water_c(garden, draw))
    return stock.fed_as_weighed(garden, usual, draw)


def first_day(garden: Garden) -> tuple[date, int]:
    """The first simulated day, and how many days it lies before the season: a start-up runs from its own."""
    begun, start = garden.start_up.started, garden.season.start
    if garden.start_up.state == "new" and begun is not None and begun < start:
        return begun, (start - begun).days
    return start, 0


def _ionic_strength(garden: Garden, tap: rules.NewWater) -> Numbers:
    """By the conductivity that was measured, else by the top-up."""
    measured = garden.last_measured("conductivity")
    if measured is None:
        return rules.ionic_strength(tap)
    return float(carbonate.ionic_strength_from_conductivity(measured.value))
