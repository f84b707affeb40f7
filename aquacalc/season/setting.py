"""What stays the same through a season: the garden's coefficients, gases, tap, shelf, fish kinds and beds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import fish, nitrogen
from aquacalc.constants import MG_PER_G, Numbers
from aquacalc.garden import litres
from aquacalc.schedule.batch import CropBatch
from aquacalc.season import beds, drivers, fishes, rules, weather
from aquacalc.season.hour import Rates
from aquacalc.sizing import denitrification, limits, nitrification
from aquacalc.uncertainty import Floats, Triangle, coefficient
from aquacalc.water import carbonate

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

OTHER_COEFFICIENTS = (
    "splash_share_per_d",
    "sludge_draw_l",
    "oxygen_use_factor",
    "feed_sodium_g_kg",
    "phosphate_per_feed_g_kg",
    "iron_loss_per_d",
    "tan_per_protein_budget",
)
TAP_C = 15.0
"""Temperature at which the tap's inorganic carbon is worked out; it hardly matters."""


def triangles(garden: Garden) -> dict[str, Triangle]:
    """Every uncertain value that the season of this garden rests on."""
    names = {*drivers.COEFFICIENTS, *weather.COEFFICIENTS, *OTHER_COEFFICIENTS}
    unseeded = coefficient("capacity_start_unseeded_mg_l_d")
    low, typical, high = (float(np.log10(end)) for end in (unseeded.low, unseeded.typical, unseeded.high))
    return {
        **{name: coefficient(name) for name in sorted(names)},
        **nitrification.triangles(garden),
        **fishes.triangles(garden),
        **limits.triangles(garden),
        **beds.triangles(garden),
        # Four decades: the triangle lies over the logarithm.
        "log_capacity_start": Triangle(low, typical, high),
    }


@dataclass(frozen=True, eq=False)
class Setting:
    """One chunk of members of one garden; days count from the first simulated one.

    before: simulated days ahead of the season, for a garden that is being started up; excreted_n, solids_n:
    g N in a g of feed.
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
    shelf: tuple[rules.Base, ...]
    ionic_strength: Floats
    full_l: float
    excreted_n: Floats
    solids_n: Floats

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
) -> Setting:
    """The setting of a draw; anomalies: whether the weather departs from the usual year; days: of the
    season."""
    members = int(draw["splash_share_per_d"].size)
    season = garden.season
    first, before = first_day(garden)
    length = (season.end - season.start).days + 1
    whole = before + (length if days is None else min(days, length))
    sky = weather.weather_of(garden, draw, first, whole, seed, anomalies)
    protein = garden.protein_fraction()
    tap = rules.new_water(garden.top_up, TAP_C)
    # It hardly hangs on a chloride that was not analysed.
    strength = _ionic_strength(garden, tap)
    chloride = draw[nitrification.CHLORIDE] / MG_PER_G
    tap = replace(tap, ions_g_l={**tap.ions_g_l, "chloride": chloride})
    faeces = draw["feed_n_faecal_share"] * (1.0 - denitrification.drawn(garden, draw))
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
        shelf=rules.bases(garden),
        ionic_strength=np.full(members, strength),
        full_l=litres.litres_of(garden).whole,
        excreted_n=np.asarray(nitrogen.tan_production_g_day(1.0, protein, draw["tan_per_protein_budget"])),
        solids_n=np.asarray(nitrogen.feed_nitrogen_g_day(faeces + draw["feed_n_uneaten_share"], protein)),
    )


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
