"""The beds through the season: how far each batch has grown, what it takes up, what is picked.

Arrays of shape (batches, members). Planting days are the schedule's; growth is each member's own, so that the
days of picking are bands. A batch that is not ready when it has to leave is cut as it stands.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from aquacalc import crops, minerals
from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.schedule.batch import CropBatch
from aquacalc.season.rules import NEVER
from aquacalc.season.weather import Weather
from aquacalc.uncertainty import Floats, Triangle, coefficient

Places = NDArray[np.int64]

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

SHORT_LEAVES = 0.6
"""Growth from which a single-cut crop that has to leave early is still picked, as a smaller head.
Practice."""


NUTRIENTS = ("nitrogen", "phosphorus", "potassium", "calcium", "magnesium", "iron")
"""What may be the scarcest; nitrogen is nitrate and ammonia together."""
FRUITING_HALF = 2.0
"""A fruiting crop wants twice the concentration of a leafy one. Common practice, no source."""
AGES_ON = 0.5
"""A starved crop ages at least at this share of its speed: it bolts and is cut small. Practice."""
LESS_TAKEN = 0.4
"""Where a nutrient is gone, a crop grows on this much less of it. Common practice, no source."""
DAYS_SPREAD = 0.07
"""Standard deviation of the logarithm of a batch's days about its plan's. Common practice, no source."""
SEED_OF_LUCK = 977
STANDING = ("planned", "standing", "too_late")
"""States of the batches that are listed; what is too late never enters the bed."""
COEFFICIENTS = (
    *(f"half_supply_{name}_mg_l" for name in NUTRIENTS),
    *(f"{kind}_{name}_g_kg" for kind in ("leafy", "fruiting") for name in NUTRIENTS),
    "leaf_days_light",
    "leaf_mass_light",
    "batch_yield_spread",
)


@dataclass(frozen=True, eq=False)
class Beds:
    """What the beds of a season hold, worked out before the water is; mostly arrays (batches, members).

    age_rate, mass_rate: by plan, (plans, days, members): days at the reference temperature that a day is
    worth for its age and, where all nutrients are there, for its mass; worth: share worth picking then;
    deadly: whether heat has killed what stands; plan_of: to which of these plans a batch belongs;
    plant, leaves: days in the bed; ready_d, window_d: thermal days to the first picking and through it;
    yield_kg: at reference growth; uptake_g_kg: by nutrient, of the whole crop for each kg picked; half_mg_l:
    concentration at which it is half supplied.
    """

    batches: tuple[CropBatch, ...]
    plan_of: Places
    age_rate: Floats
    mass_rate: Floats
    worth: Floats
    deadly: Floats
    plant: Places
    leaves: Places
    ready_d: Floats
    window_d: Floats
    start_d: Floats
    yield_kg: Floats
    uptake_g_kg: Mapping[str, Floats]
    half_mg_l: Mapping[str, Floats]
    kc: Floats
    area_m2: Floats

    def of_batches(self, by_plan: Floats, day: int) -> Floats:
        """Of the rates of each plan those of each batch on a day, (batches, members)."""
        at: Floats = by_plan[self.plan_of, day, np.arange(by_plan.shape[-1])]
        return at


def triangles(garden: Garden) -> dict[str, Triangle]:
    """Yield of each plan, the grower's own or the table's, its days to the first picking, and how its
    cultivar stands heat."""
    found = {}
    later = coefficient("crop_heat_later_k")
    for place, plan in enumerate(garden.crops):
        crop = crops.crop(plan.crop)
        own = plan.yield_kg_m2
        found[f"bed.{place}.days"] = crop.days
        found[f"bed.{place}.heat_later_k"] = later
        found[f"bed.{place}.yield"] = crop.yield_kg_m2 if own is None else Triangle(own, own, own)
    return found


def beds_of(
    garden: Garden,
    batches: Sequence[CropBatch],
    draw: Mapping[str, Floats],
    sky: Weather,
    first: date,
) -> Beds:
    """Growth of every batch through the season's days, by its crop's temperatures and light.

    draw: with the names of `luck` each batch has its own luck about its plan's yield and days.
    """
    standing = [one for one in batches if one.state in STANDING]
    plans = {plan: place for place, plan in enumerate(dict.fromkeys(one.plan for one in standing))}
    members = sky.air_c.shape[1]
    rates = [
        _rates(crops.crop(garden.crops[plan].crop), sky, draw, draw[f"bed.{plan}.heat_later_k"])
        for plan in plans
    ]
    columns: dict[str, list[Floats]] = {
        name: []
        for name in (
            "ready",
            "window",
            "yield",
            "kc",
            *(f"{what}.{n}" for n in NUTRIENTS for what in ("g", "h")),
        )
    }
    one_member = np.ones((1, members))
    spread = draw["batch_yield_spread"]
    for place, batch in enumerate(standing):
        crop = crops.crop(batch.crop)
        covered = any(b.name == batch.bed and not b.holds_medium for b in garden.beds)
        lost = garden.crops[batch.plan].loss_pct
        picked = draw[f"bed.{batch.plan}.yield"] * batch.area_m2 * (1.0 - (lost or 0.0) / 100.0)
        ready = draw[f"bed.{batch.plan}.days"]
        if f"luck.{place}.yield" in draw:
            # A mean of one: luck makes no garden richer.
            picked = picked * np.exp(spread * draw[f"luck.{place}.yield"] - spread**2 / 2.0)
            ready = ready * np.exp(DAYS_SPREAD * draw[f"luck.{place}.days"])
        columns["ready"].append(ready * one_member)
        columns["window"].append(crop.window_days.typical * one_member)
        columns["yield"].append(picked * one_member)
        columns["kc"].append(
            np.nan_to_num(crops.bed_kc(crop, covered, draw["mean_kc_staggered"]), nan=0.8) * one_member
        )
        for name in NUTRIENTS:
            columns[f"g.{name}"].append(_content(crop, name, draw) * one_member)
            twice = FRUITING_HALF if crop.rule_kind == "fruiting" else 1.0
            columns[f"h.{name}"].append(twice * draw[f"half_supply_{name}_mg_l"] * one_member)

    def stacked(name: str) -> Floats:
        return np.concatenate(columns[name]) if columns[name] else np.zeros((0, members))

    def by_plan(name: str) -> Floats:
        return np.array([getattr(one, name) for one in rates]).reshape(len(plans), *sky.air_c.shape)

    return Beds(
        batches=tuple(standing),
        plan_of=_column([plans[one.plan] for one in standing]),
        age_rate=by_plan("age"),
        mass_rate=by_plan("mass"),
        worth=by_plan("worth"),
        deadly=by_plan("deadly"),
        # What is too late is listed with the others, but never enters the bed.
        plant=_column([(one.plant - first).days if one.in_bed else NEVER for one in standing]),
        leaves=_column([(one.leaves - first).days for one in standing]),
        ready_d=stacked("ready"),
        window_d=stacked("window"),
        start_d=np.array([[one.age_d] for one in standing]).reshape(len(standing), 1) * np.ones((1, members)),
        yield_kg=stacked("yield"),
        uptake_g_kg={name: stacked(f"g.{name}") for name in NUTRIENTS},
        half_mg_l={name: stacked(f"h.{name}") for name in NUTRIENTS},
        kc=stacked("kc"),
        area_m2=np.array([[one.area_m2] for one in standing]).reshape(len(standing), 1),
    )


def _column(values: Sequence[int]) -> Places:
    return np.array(values, dtype=np.int64).reshape(len(values), 1)


def luck(batches: int, members: int, seed: int) -> dict[str, Floats]:
    """Standard normal luck of the yield and the days of each batch, by the names that `beds_of` reads."""
    drawn = np.random.default_rng([seed, SEED_OF_LUCK]).standard_normal((batches, 2, members))
    names = ("yield", "days")
    return {
        f"luck.{place}.{name}": drawn[place, what]
        for place in range(batches)
        for what, name in enumerate(names)
    }


@dataclass(frozen=True, eq=False)
class _Rates:
    """Of one plan, (days, members), as in `Beds`; age, mass: days at the reference, in good light."""

    age: Floats
    mass: Floats
    worth: Floats
    deadly: Floats


def _rates(crop: crops.Crop, sky: Weather, draw: Mapping[str, Floats], later_k: Floats) -> _Rates:
    """Age and mass that a day is worth, and what heat does to quality and life."""
    warm = crops.warmth_factor(crop, sky.air_c, sky.water_c, sky.range_k, later_k)
    age = warm * crops.light_on_days(crop, sky.light_mol_m2_d, draw["leaf_days_light"])
    felt = crops.felt_air_c(sky.air_c, sky.range_k)
    return _Rates(
        age=age,
        mass=age * crops.light_on_mass(crop, sky.light_mol_m2_d, draw["leaf_mass_light"]),
        worth=crops.worth_picking(_week_c(felt), crop.picked_from_c, crop.picked_to_c),
        deadly=crops.deadly_heat(crop, felt, sky.water_c, later_k).astype(np.float64),
    )


def _week_c(air_c: Floats) -> Floats:
    """Mean air of the last seven days, this one with them, (days, members); of fewer at the beginning."""
    total = np.cumsum(air_c, axis=0)
    total[DAYS_PER_WEEK:] = total[DAYS_PER_WEEK:] - total[:-DAYS_PER_WEEK]
    days = np.minimum(np.arange(1, air_c.shape[0] + 1), DAYS_PER_WEEK)
    return np.asarray(total / days[:, None])


def content_g_kg(crop: crops.Crop, nutrient: str) -> float:
    """Typical nutrient of the whole crop for each kg picked, g: the crop's own, else its kind's.

    >>> content_g_kg(crops.crop("lettuce_leaf"), "magnesium")
    0.2
    """
    own = crop.content_g_kg(nutrient)
    return coefficient(_name(crop, nutrient)).typical if np.isnan(own) else own


def _name(crop: crops.Crop, nutrient: str) -> str:
    return f"{crop.rule_kind}_{nutrient}_g_kg"


def _content(crop: crops.Crop, nutrient: str, draw: Mapping[str, Floats]) -> Floats:
    """The same with the spread of its kind."""
    typical = content_g_kg(crop, nutrient) / coefficient(_name(crop, nutrient)).typical
    return draw[_name(crop, nutrient)] * typical


@dataclass(eq=False)
class Growing:
    """The beds on a day; changed from day to day, all (batches, members). age_d: thermal age; mass_d: days at
    the reference whose growth stands there; picked_kg: so far; dead: of heat."""

    age_d: Floats
    mass_d: Floats
    picked_kg: Floats
    dead: NDArray[np.bool_]


def at_start(beds: Beds) -> Growing:
    """Nothing grown yet but what stands there on the first day."""
    nothing = np.zeros_like(beds.start_d)
    return Growing(beds.start_d.copy(), beds.start_d.copy(), nothing, nothing > 0.0)


@dataclass(frozen=True, eq=False)
class Today:
    """What a day of the beds is worth, (batches, members).

    stands: whether it stands in the bed, 1 or 0; killed: whether heat has killed what would stand; growth:
    share of the reference growth of mass that warmth and light allow; age_d, mass_d: gained by the evening;
    wanted_g: by nutrient, what roots look for; supply: how well the scarcest nutrient is there, 0 to 1, 1
    where nothing stands;
    scarce: its place in `NUTRIENTS`.
    """

    stands: Floats
    killed: Floats
    growth: Floats
    age_d: Floats
    mass_d: Floats
    wanted_g: Mapping[str, Floats]
    supply: Floats
    scarce: Floats


def today(day: int, beds: Beds, growing: Growing, found_mg_l: Mapping[str, Floats]) -> Today:
    """Growth of a day by temperature, light and the scarcest nutrient, and what it takes.

    found_mg_l: of each nutrient in the morning, iron as far as roots can use it. Growth follows the scarcest;
    a starved crop ages on, at half speed at least, and takes less of what is short. Source: least nutrient
    (own reckoning, bracketed by trials); shares practice.
    """
    at = max(day, 0)
    whole = beds.ready_d + beds.window_d
    inside = (day >= np.maximum(beds.plant, 0)) & (day <= beds.leaves)
    dies = growing.dead | (beds.of_batches(beds.deadly, at) > 0.0)
    there = inside & (growing.age_d < whole)
    stands = (there & ~dies).astype(np.float64)
    supplied = [minerals.supply(found_mg_l[name], beds.half_mg_l[name]) for name in NUTRIENTS]
    by_nutrient = np.array(supplied).reshape(len(NUTRIENTS), *stands.shape)
    least = by_nutrient.min(axis=0)
    age_rate, mass_rate = beds.of_batches(beds.age_rate, at), beds.of_batches(beds.mass_rate, at)
    mass = mass_rate * least * stands
    kg = beds.yield_kg * mass / whole
    return Today(
        stands=stands,
        killed=(there & dies).astype(np.float64),
        growth=mass_rate,
        age_d=age_rate * np.maximum(least, AGES_ON) * stands,
        mass_d=mass,
        wanted_g={
            name: kg * beds.uptake_g_kg[name] * (1.0 - LESS_TAKEN * (1.0 - by_nutrient[place]))
            for place, name in enumerate(NUTRIENTS)
        },
        supply=np.where(stands > 0.0, least, 1.0),
        scarce=by_nutrient.argmin(axis=0).astype(np.float64),
    )


def grown(day: int, beds: Beds, growing: Growing, gained: Today) -> Floats:
    """The evening: age and mass go on; returns what was picked today, kg.

    What is picked is the share of its window that a batch has passed, as heavy as its mass stands to its age,
    less what the heat of the week has spoilt.
    """
    before, stands = growing.age_d, gained.stands
    growing.age_d = before + gained.age_d
    growing.mass_d = growing.mass_d + gained.mass_d
    window = np.maximum(beds.window_d, 1.0)

    def share(age: Floats) -> Floats:
        repeated = np.clip((age - beds.ready_d) / window, 0.0, 1.0)
        single = (age >= beds.ready_d).astype(np.float64)
        return np.where(beds.window_d > 0.0, repeated, single)

    heavy = growing.mass_d / np.maximum(growing.age_d, 1e-9)
    picked = (share(growing.age_d) - share(before)) * beds.yield_kg * heavy * (stands > 0.0)
    there = day >= np.maximum(beds.plant, 0)
    growing.dead = growing.dead | (there & (beds.of_batches(beds.deadly, max(day, 0)) > 0.0))
    last = (beds.leaves == day) & (beds.window_d == 0.0) & (growing.age_d < beds.ready_d) & ~growing.dead
    portion = growing.age_d / beds.ready_d
    early = beds.yield_kg * growing.mass_d / beds.ready_d
    picked = picked + np.where(last & (portion >= SHORT_LEAVES), early, 0.0)
    picked = picked * beds.of_batches(beds.worth, max(day, 0))
    growing.picked_kg = growing.picked_kg + picked
    return picked
