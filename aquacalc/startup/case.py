"""One start-up: what does not hang on what the grower does in the mornings.

Nitrogen is mg/L as N, alkalinity mg/L CaCO3. Days count from 0, the day of the first dose.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

import numpy as np

from aquacalc.constants import Numbers
from aquacalc.errors import InputError, Problem
from aquacalc.film import Surface
from aquacalc.garden import litres as garden_litres
from aquacalc.season import weather as season_weather
from aquacalc.sizing import balance, delivery, limits, surfaces
from aquacalc.uncertainty import SEED, Draw, Floats, coefficient, draw

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

SeedKey = Literal["unseeded", "handful", "tenth"]


@dataclass(frozen=True)
class Seed:
    """Prior of log10 of both capacities at the start, mg N/L/d: normal, by mean and spread."""

    mean: float
    spread: float


SEEDS: Mapping[SeedKey, Seed] = {
    "unseeded": Seed(-2.5, 0.8),
    "handful": Seed(-0.7, 0.5),
    "tenth": Seed(float(np.log10(coefficient("capacity_start_tenth_of_mature_mg_l_d").typical)), 0.2),
}
"""By what was moved in: nothing; rinsings, a handful of mature media or a bottled culture; a tenth of a
mature bed. The first two are the priors of the nitrogen reference, section 8; the third lies over its 0.3 to
1.0. Practice."""

USUAL_OXYGEN_MG_L = 6.5
USUAL_ALKALINITY_MG_L = 100.0
USUAL_PROTEIN = 0.32
DAYS = 400
"""Days for which a garden's water temperature is laid out; the last one holds on."""


@dataclass(frozen=True)
class Tap:
    """Water that a partial change brings, mg/L."""

    alkalinity_mg_l: float = 0.0
    nitrate_mg_l: float = 0.0


@dataclass(frozen=True, eq=False)
class Case:
    """A start-up, however it is begun.

    first: the date of day 0. litres: all water that circulates. surfaces: what nitrifies.
    water_c, ph, source_mg_l_d: by day, the last value holds on; ph: None where it follows from alkalinity and
    carbon dioxide, as it does after `ph_until`. carbon_dioxide_mg_l: None where each member has its own.
    source_mg_l_d: ammonia-N that fish, feed or urea give off, a day. alkalinity_mg_l: at the
    start. protein: fraction of the feed.
    """

    first: date
    litres: float
    surfaces: tuple[Surface, ...]
    water_c: Floats
    oxygen_mg_l: float = USUAL_OXYGEN_MG_L
    ph: Floats | None = None
    alkalinity_mg_l: float = USUAL_ALKALINITY_MG_L
    source_mg_l_d: Floats = field(default_factory=lambda: np.zeros(1))
    seed: SeedKey = "unseeded"
    tap: Tap = Tap()
    protein: float = USUAL_PROTEIN
    ph_until: int | None = None
    carbon_dioxide_mg_l: float | None = None

    def ph_on(self, day: int) -> float | None:
        """The pH that was typed or read for a day; None where it follows."""
        if self.ph is None or (self.ph_until is not None and day > self.ph_until):
            return None
        return on_day(self.ph, day)

    def date_of(self, day: int) -> date:
        """The date of a day."""
        return self.first + timedelta(days=day)

    def day_of(self, on: date) -> int:
        """The day of a date; negative before the first."""
        return (on - self.first).days


def on_day(values: Floats, day: int) -> float:
    """A value by day; the last one holds on."""
    return float(values[min(day, values.size - 1)])


def of_garden(
    garden: Garden, first: date | None = None, seed: SeedKey = "unseeded", days: int = DAYS
) -> Case:
    """The start-up of a garden: its true litres, its film and its usual year's water, as the season has them.

    first: day 0; else that of the garden file, else the first day of its season. Oxygen is its target. Day 0
    has the alkalinity of the top-up, or the target where that is not known: no log is looked at here.
    """
    begun = first or garden.start_up.started or garden.season.start
    middle = _middle(garden)
    sky = season_weather.weather_of(garden, middle, begun, days, SEED, anomalies=False)
    alkalinity = garden.top_up.alkalinity_mg_l
    return Case(
        first=begun,
        litres=garden_litres.litres_of(garden).whole,
        surfaces=_surfaces(garden, middle),
        water_c=sky.water_c[:, 0],
        oxygen_mg_l=garden.targets.oxygen_mg_l,
        alkalinity_mg_l=garden.targets.alkalinity_mg_l if alkalinity is None else alkalinity,
        seed=seed,
        tap=Tap(alkalinity or 0.0, garden.top_up.nitrate_n_mg_l or 0.0),
        protein=garden.protein_fraction(),
    )


def typed(
    litres: float,
    temperature_c: float | Sequence[float],
    first: date,
    *,
    media_l: float | None = None,
    medium: str = "expanded_clay",
    film_m2: float | None = None,
    ph: float | Sequence[float] | None = None,
    alkalinity_mg_l: float = USUAL_ALKALINITY_MG_L,
    oxygen_mg_l: float = USUAL_OXYGEN_MG_L,
    source_mg_l_d: float | Sequence[float] = 0.0,
    seed: SeedKey = "unseeded",
    tap: Tap = Tap(),
    protein: float = USUAL_PROTEIN,
) -> Case:
    """A start-up without a garden. Give litres of a media bed, of which a share works, or m2 of a filter.

    temperature_c, ph, source_mg_l_d: one value, or one a day. Raises `InputError` (`problem-range`,
    `problem-missing`) for what cannot be.
    """
    problems = [
        Problem("problem-range", name, f"{value:g}", (f"{low:g}", f"{high:g}", unit))
        for name, values, low, high, unit in (
            ("litres", litres, 1.0, 1e7, "L"),
            ("temperature_c", temperature_c, 1.0, 40.0, "°C"),
            ("ph", 7.0 if ph is None else ph, 4.0, 10.0, ""),
            ("oxygen_mg_l", oxygen_mg_l, 0.1, 20.0, "mg/L"),
            ("alkalinity_mg_l", alkalinity_mg_l, 0.0, 1000.0, "mg/L"),
        )
        for value in np.atleast_1d(values)
        if not low <= value <= high
    ]
    if media_l is None and film_m2 is None:
        problems.append(Problem("problem-missing", "media_l"))
    if problems:
        raise InputError(problems)
    wetted = coefficient("wetted_share").typical
    area = media_l / 1000.0 * limits.surface(medium).typical * wetted if media_l is not None else film_m2
    return Case(
        first=first,
        litres=litres,
        surfaces=(
            Surface(float(area or 0.0), surfaces.transfer_m_d("flooded" if film_m2 is None else "filter")),
        ),
        water_c=_by_day(temperature_c),
        oxygen_mg_l=oxygen_mg_l,
        ph=None if ph is None else _by_day(ph),
        alkalinity_mg_l=alkalinity_mg_l,
        source_mg_l_d=_by_day(source_mg_l_d),
        seed=seed,
        tap=tap,
        protein=protein,
    )


def _by_day(values: float | Sequence[float]) -> Floats:
    return np.atleast_1d(np.asarray(values, dtype=np.float64))


def _middle(garden: Garden) -> Draw:
    """The typical values on which water temperature and film rest."""
    names = sorted({*season_weather.COEFFICIENTS, *delivery.WEAR, *surfaces.COEFFICIENTS})
    return draw({**{name: coefficient(name) for name in names}, **limits.triangles(garden)}, 1)


def _surfaces(garden: Garden, middle: Draw) -> tuple[Surface, ...]:
    """The garden's surfaces, plain numbers."""
    flow, _ = balance.flow_l_h(garden, middle, 1, SEED)

    def plain(value: Numbers) -> float:
        return float(np.asarray(value).reshape(-1)[0])

    return tuple(
        Surface(
            plain(one.area_m2),
            plain(one.transfer_m_d),
            None if one.flow_m3_d is None else plain(one.flow_m3_d),
        )
        for one in surfaces.surfaces_of(garden, flow, middle)
    )
