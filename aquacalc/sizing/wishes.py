"""The inverse of the balance: what wished heads a week and fish a year ask for."""

import math

import numpy as np

from aquacalc import crops, fish
from aquacalc.climate import months
from aquacalc.constants import DAYS_PER_YEAR
from aquacalc.garden import litres, surroundings
from aquacalc.garden.model import Garden
from aquacalc.sizing.result import WishedCrop, WishedFish, WishedGarden
from aquacalc.uncertainty import MEMBERS, SEED, band, coefficient, draw

COHORTS = 4
"""Fish are stocked in up to four batches a year: more gains little and needs more tanks (common practice)."""
INTERVAL_DAYS = 7.0
GAP_DAYS = 1.0


def wished_crop(
    crop_id: str, heads_per_week: float, protein_fraction: float, members: int = MEMBERS, seed: int = SEED
) -> WishedCrop:
    """Beds, seeds and feed for heads of one crop a week, at the crop's reference temperature and good light.

    Counts use the typical losses; the band of the area comes from the days in the bed and the losses.
    """
    crop = crops.crop(crop_id)
    sampled = draw(
        {
            "days": crop.days,
            "loss_bed": coefficient("loss_bed"),
            "density": crop.plants_m2,
            f"crop.{crop_id}.uptake": crop.uptake_n_g_m2_d,
            "rule": crops.area_rule_g_m2_d(crop.rule_kind),
            "share": coefficient("tan_per_protein_sizing"),
            "gas": coefficient("denitrified_share"),
        },
        members,
        seed,
    )
    plan = crops.succession(
        heads=heads_per_week,
        bed_days=crop.days.typical,
        nursery_days=crop.nursery_days.typical,
        gap_days=GAP_DAYS,
        interval_days=INTERVAL_DAYS,
        germination=crop.germination,
        cull=coefficient("cull").typical,
        loss=coefficient("loss_bed").typical,
        plants_m2=crop.plants_m2.typical,
    )
    batches = np.ceil((sampled["days"] + GAP_DAYS) / INTERVAL_DAYS)
    places = batches * np.ceil(heads_per_week / (1.0 - sampled["loss_bed"]))
    area = places / sampled["density"]
    uptake = area * sampled[f"crop.{crop_id}.uptake"]
    by_balance = crops.feed_for_uptake_g_day(uptake, protein_fraction, sampled["share"], sampled["gas"])
    by_rule = area * crops.scaled_by_protein(sampled["rule"], protein_fraction)
    return WishedCrop(
        crop=crop_id,
        heads_per_week=heads_per_week,
        transplants_per_week=plan.transplants,
        seeds_per_week=plan.seeds,
        places=plan.places,
        area_m2=band(area),
        area_rule_g_day=band(by_rule),
        balance_g_day=band(by_balance),
    )


def wished_fish(
    species_id: str,
    fish_per_year: float,
    final_weight_g: float,
    monthly_water: np.ndarray[tuple[int, int], np.dtype[np.float64]],
    members: int = MEMBERS,
    seed: int = SEED,
) -> WishedFish:
    """Stock, feed and tank for fish a year of one species, at monthly water temperatures (members, 12).

    Fish grow by the mean effective temperature of the year; in a water in which the species never eats the
    days are infinite and the feed is zero. Tank litres at the typical home density, for the peak.
    """
    species = fish.species(species_id)
    sampled = draw(
        {"tgc": species.tgc, "fcr": species.fcr, "loss": species.loss_pct},
        members,
        seed,
        {("tgc", "fcr"): fish.GROWTH_FEED_CORRELATION},
    )
    daily = months.monthly_to_daily(monthly_water)
    effective = fish.growing_temperature_c(daily, species).mean(axis=-1)
    days = fish.days_to_weight(species.start_weight_g, final_weight_g, sampled["tgc"], effective)
    survival = 1.0 - sampled["loss"] / 100.0
    batches = min(float(COHORTS), max(fish_per_year, 1.0))
    gain_kg_year = fish_per_year * (final_weight_g - species.start_weight_g) / 1000.0
    mean_feed = np.where(np.isfinite(days), sampled["fcr"] * gain_kg_year * 1000.0 / DAYS_PER_YEAR, 0.0)
    # Cohorts alive at the same time, each between start and final weight along the cube-root line.
    alive = np.where(np.isfinite(days), fish_per_year * days / DAYS_PER_YEAR, np.nan)
    middle_days = float(np.median(days))
    cohorts = max(round(batches * middle_days / DAYS_PER_YEAR), 1) if math.isfinite(middle_days) else 1
    shape = fish.cohort_plan(
        species.start_weight_g, final_weight_g, cohorts, sampled["tgc"], effective, sampled["fcr"]
    )
    peak_kg = alive * shape.mean_weight_g * shape.peak_weight_share / 1000.0
    return WishedFish(
        species=species_id,
        fish_per_year=fish_per_year,
        stock_count=math.ceil(fish_per_year / float(np.median(survival))),
        days_to_final=band(days),
        batches_per_year=batches,
        mean_feed_g_day=band(mean_feed),
        peak_feed_g_day=band(mean_feed * shape.peak_feed_share),
        tank_l=band(peak_kg / species.density_typical_kg_m3 * 1000.0),
    )


def wished(garden: Garden, members: int = MEMBERS, seed: int = SEED) -> WishedGarden:
    """What the garden's `[wishes]` ask for, beside what the garden has."""
    wishes = garden.wishes
    crop = (
        wished_crop(wishes.crop, wishes.heads_per_week, garden.protein_fraction(), members, seed)
        if wishes.crop and wishes.heads_per_week > 0.0
        else None
    )
    sampled = draw({name: coefficient(name) for name in surroundings.COEFFICIENTS}, members, seed)
    wanted_fish = None
    if wishes.species and wishes.fish_per_year > 0.0:
        final = next(
            (batch.final_weight_g for batch in garden.fish if batch.species == wishes.species),
            fish.species(wishes.species).table_weight_g.typical,
        )
        wanted_fish = wished_fish(
            wishes.species, wishes.fish_per_year, final, surroundings.water_c(garden, sampled), members, seed
        )
    return WishedGarden(
        crop=crop,
        fish=wanted_fish,
        beds_m2=sum(bed.area_m2 for bed in garden.beds),
        tanks_l=litres.litres_of(garden).tanks,
    )
