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

from aquacalc import crops
from aquacalc.schedule.batch import CropBatch
from aquacalc.season.weather import Weather
from aquacalc.uncertainty import Floats, Triangle

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

SHORT_LEAVES = 0.6
"""Growth from which a single-cut crop that has to leave early is still picked, as a smaller head.
Practice."""


NEVER = 10**6
"""A planting day beyond every season."""


@dataclass(frozen=True, eq=False)
class Beds:
    """What the beds of a season hold, worked out before the water is: (batches, days, members) or columns.

    growth: days at the reference temperature gained a day; stands: schedule's days in the bed; ready_d and
    window_d: thermal days to the first picking and through it; yield_kg_m2, area_m2; uptakes in g per kg
    picked.
    """

    batches: tuple[CropBatch, ...]
    growth: Floats
    plant: np.ndarray[tuple[int], np.dtype[np.int64]]
    leaves: np.ndarray[tuple[int], np.dtype[np.int64]]
    ready_d: Floats
    window_d: Floats
    start_d: Floats
    yield_kg: Floats
    uptake_n: Floats
    uptake_p: Floats
    uptake_k: Floats
    uptake_ca: Floats
    kc: Floats
    area_m2: Floats


def triangles(garden: Garden) -> dict[str, Triangle]:
    """Yield of each plan, the grower's own or the table's, and its days to the first picking."""
    found = {}
    for place, plan in enumerate(garden.crops):
        crop = crops.crop(plan.crop)
        own = plan.yield_kg_m2
        found[f"bed.{place}.days"] = crop.days
        found[f"bed.{place}.yield"] = crop.yield_kg_m2 if own is None else Triangle(own, own, own)
    return found


def beds_of(
    garden: Garden, batches: Sequence[CropBatch], draw: Mapping[str, Floats], sky: Weather, first: date
) -> Beds:
    """Growth of every batch through the season's days, by its crop's temperature and light."""
    standing = [one for one in batches if one.state in ("planned", "standing", "too_late")]
    days, members = sky.air_c.shape
    growth = np.zeros((len(standing), days, members))
    by_crop: dict[str, Floats] = {}
    columns: dict[str, list[Floats]] = {
        name: [] for name in ("ready", "window", "yield", "n", "p", "k", "ca", "kc")
    }
    one_member = np.ones((1, members))
    for place, batch in enumerate(standing):
        crop = crops.crop(batch.crop)
        if batch.crop not in by_crop:
            warm = crops.temperature_factor(sky.air_c, crop.base_c, crop.reference_c, crop.cap_c)
            light = crops.light_factor(sky.light_mol_m2_d, crop.light_good_mol_m2_d, draw["light_exponent"])
            by_crop[batch.crop] = warm * light
        growth[place] = by_crop[batch.crop]
        covered = any(b.name == batch.bed and not b.holds_medium for b in garden.beds)
        picked = draw[f"bed.{batch.plan}.yield"] * batch.area_m2
        lost = garden.crops[batch.plan].loss_pct
        picked = picked * (1.0 - (lost or 0.0) / 100.0)
        columns["ready"].append(draw[f"bed.{batch.plan}.days"] * one_member)
        columns["window"].append(crop.window_days.typical * one_member)
        columns["yield"].append(picked * one_member)
        columns["n"].append(crop.uptake_n_g_kg.typical * one_member)
        columns["p"].append(np.nan_to_num(crop.uptake_p_g_kg) * one_member)
        columns["k"].append(np.nan_to_num(crop.uptake_k_g_kg) * one_member)
        columns["ca"].append(np.nan_to_num(crop.uptake_ca_g_kg) * one_member)
        columns["kc"].append(
            np.nan_to_num(crops.bed_kc(crop, covered, draw["mean_kc_staggered"]), nan=0.8) * one_member
        )

    def stacked(name: str) -> Floats:
        return np.concatenate(columns[name]) if columns[name] else np.zeros((0, members))

    return Beds(
        batches=tuple(standing),
        growth=growth,
        # What is too late is listed with the others, but never enters the bed.
        plant=np.array(
            [(one.plant - first).days if one.in_bed else NEVER for one in standing], dtype=np.int64
        ),
        leaves=np.array([(one.leaves - first).days for one in standing], dtype=np.int64),
        ready_d=stacked("ready"),
        window_d=stacked("window"),
        start_d=np.array([[one.age_d] for one in standing]).reshape(len(standing), 1) * np.ones((1, members)),
        yield_kg=stacked("yield"),
        uptake_n=stacked("n"),
        uptake_p=stacked("p"),
        uptake_k=stacked("k"),
        uptake_ca=stacked("ca"),
        kc=stacked("kc"),
        area_m2=np.array([[one.area_m2] for one in standing]).reshape(len(standing), 1),
    )


@dataclass(eq=False)
class Growing:
    """The beds on a day; changed from day to day. age_d: thermal age; picked_kg: so far; both (batches,
    members)."""

    age_d: Floats
    picked_kg: Floats


def at_start(beds: Beds) -> Growing:
    """Nothing grown yet but what stands there on the first day."""
    return Growing(beds.start_d.copy(), np.zeros_like(beds.start_d))


def wanted(day: int, beds: Beds, growing: Growing) -> tuple[Floats, Floats]:
    """Nitrogen that every batch would take up today with plenty, g, and whether it stands, both
    (batches, members).

    A batch takes up its crop's whole need in step with its thermal age, from planting to the last picking.
    """
    whole = beds.ready_d + beds.window_d
    inside = (day >= np.maximum(beds.plant, 0)) & (day <= beds.leaves)
    at = max(day, 0)
    stands = inside[:, None] & (growing.age_d < whole)
    need = beds.yield_kg * beds.uptake_n * beds.growth[:, at] / whole
    return need * stands, stands.astype(np.float64)


def grown(day: int, beds: Beds, growing: Growing, stands: Floats, supply: Floats) -> Floats:
    """The evening: ages go on as far as there was nitrate; returns what was picked today, kg."""
    before = growing.age_d
    growing.age_d = before + beds.growth[:, max(day, 0)] * supply * stands
    window = np.maximum(beds.window_d, 1.0)

    def share(age: Floats) -> Floats:
        repeated = np.clip((age - beds.ready_d) / window, 0.0, 1.0)
        single = (age >= beds.ready_d).astype(np.float64)
        return np.where(beds.window_d > 0.0, repeated, single)

    picked = (share(growing.age_d) - share(before)) * beds.yield_kg * (stands > 0.0)
    last = np.asarray(day == beds.leaves)[:, None] & (beds.window_d == 0.0) & (growing.age_d < beds.ready_d)
    portion = growing.age_d / beds.ready_d
    picked = picked + np.where(last & (portion >= SHORT_LEAVES), beds.yield_kg * portion, 0.0)
    growing.picked_kg = growing.picked_kg + picked
    return picked
