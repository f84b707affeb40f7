"""Crops: how fast they grow, what they take up, how many to sow, what they drink, what salt costs them.

Areas are planted bed area, yields marketable fresh mass, nutrients as elements. Temperatures are those of the
growing space. `Crop` holds one row of the table; formulas take numbers.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil, floor
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from aquacalc import tables
from aquacalc.constants import ATOMIC_MASS_K_G_MOL, ATOMIC_MASS_N_G_MOL, MG_CACO3_PER_MEQ, Numbers
from aquacalc.possible import possible
from aquacalc.uncertainty import Floats, Triangle, coefficient

RuleKind = Literal["leafy", "fruiting"]

FRUITING_GROUPS = ("fruiting", "legume")
WARM_SEASON_FROST_CLASSES = ("tender", "very_tender")
AREA_RULE_COEFFICIENTS: dict[RuleKind, str] = {
    "leafy": "feed_area_leafy_g_m2_d",
    "fruiting": "feed_area_fruiting_g_m2_d",
}
AREA_RULE_PROTEIN = 0.32
"""Protein fraction of the feed for which the handbook's area rule is meant (FAO589, read)."""
OPEN_WATER_KC = 1.05
"""Evaporation of water under 2 m deep over reference evapotranspiration (FAO56:T12, read)."""
SALT_MS_CM_PER_G_L = 1.95
"""Conductivity that a gram of NaCl a litre adds (memory; 1.9 to 2.0)."""
FRESH_SEED_GERMINATION = 0.85
"""Share of fresh seed that comes up, where no legal minimum is known (common practice, no source)."""


@dataclass(frozen=True)
class Crop:
    """One row of the crop table; NaN where nothing was found.

    days: transplant to first harvest at `reference_c` with good light; window_days: from first to last
    harvest, 0 for a single cut; bed_days: both; nursery_days: 0 where it is sown in place; from_seed: false
    where cuttings, setts or runners are planted. Growth speeds up with the air to `cap_c`, falls from
    `heat_from_c` and ends at `heat_none_c`; with the water at its roots likewise. picked_from_c, picked_to_c:
    the week's air between which the share worth picking falls; tolerant: of cultivars bred for heat.
    uptake_n_g_m2_d: over the bed time, at low, typical and high yield and typical content.
    """

    key: str
    name: str
    group: str
    harvest_type: str
    plants_m2: Triangle
    nursery_days: Triangle
    days: Triangle
    window_days: Triangle
    reference_c: float
    germination_pct: float
    from_seed: bool
    base_c: float
    cap_c: float
    heat_from_c: float
    heat_none_c: float
    picked_from_c: float
    picked_to_c: float
    tolerant_from_c: float
    tolerant_to_c: float
    root_heat_from_c: float
    root_heat_none_c: float
    air_min_c: float
    air_best_low_c: float
    air_best_high_c: float
    air_max_c: float
    root_min_c: float
    root_best_low_c: float
    root_best_high_c: float
    root_max_c: float
    frost_class: str
    frost_damage_c: float
    ph_low: float
    ph_high: float
    light_min_mol_m2_d: float
    light_good_mol_m2_d: float
    suits_media: float
    suits_raft: float
    suits_channel: float
    yield_kg_m2: Triangle
    uptake_n_g_kg: Triangle
    uptake_p_g_kg: float
    uptake_k_g_kg: float
    uptake_ca_g_kg: float
    salt_threshold_ds_m: float
    salt_slope_pct_ds_m: float
    kc: tuple[float, float, float]
    kcb: tuple[float, float, float]
    cautions: tuple[str, ...]

    @property
    def bed_days(self) -> float:
        """Typical days from transplanting to the last harvest."""
        return self.days.typical + self.window_days.typical

    @property
    def germination(self) -> float:
        """Share of the seed that comes up: the legal minimum of a seed lot, else that of fresh seed."""
        return FRESH_SEED_GERMINATION if np.isnan(self.germination_pct) else self.germination_pct / 100.0

    @property
    def rule_kind(self) -> RuleKind:
        """Which area rule applies: fruiting for fruit and pulses, leafy for everything else."""
        return "fruiting" if self.group in FRUITING_GROUPS else "leafy"

    @property
    def uptake_n_g_m2_d(self) -> Triangle:
        """Nitrogen uptake per bed area and day of the bed time, at full growth."""
        per_yield = self.uptake_n_g_kg.typical / self.bed_days
        crop = self.yield_kg_m2
        return Triangle(crop.low * per_yield, crop.typical * per_yield, crop.high * per_yield)

    def content_g_kg(self, nutrient: str) -> float:
        """A nutrient of the whole crop for each kg picked, g; NaN where the table has none of its own."""
        own = {
            "nitrogen": self.uptake_n_g_kg.typical,
            "phosphorus": self.uptake_p_g_kg,
            "potassium": self.uptake_k_g_kg,
            "calcium": self.uptake_ca_g_kg,
        }
        return own.get(nutrient, float("nan"))

    @property
    def uptake_k_g_m2_d(self) -> float:
        """Potassium uptake per bed area and day, at full growth and typical yield."""
        return self.yield_kg_m2.typical * self.uptake_k_g_kg / self.bed_days


def crop(key: str) -> Crop:
    """The crop of a key of `data/crops.csv`.

    >>> lettuce = crop("lettuce_leaf")
    >>> lettuce.rule_kind, round(lettuce.uptake_n_g_m2_d.typical, 3)
    ('leafy', 0.363)
    """
    row = tables.load("crops").row(key)
    n = row.number

    def triangle(stem: str) -> Triangle:
        return Triangle(n(f"{stem}_low"), n(f"{stem}_typical"), n(f"{stem}_high"))

    return Crop(
        key=key,
        name=row.text("name"),
        group=row.text("crop_group"),
        harvest_type=row.text("harvest_type"),
        plants_m2=triangle("plants_m2"),
        nursery_days=triangle("sow_to_transplant_days"),
        days=triangle("transplant_to_first_harvest_days"),
        window_days=triangle("harvest_window_days"),
        reference_c=n("days_reference_temp_c"),
        germination_pct=n("germination_min_pct"),
        from_seed=not np.isnan(n("emergence_days_low")),
        base_c=n("temp_base_c_typical"),
        cap_c=n("heat_cap_c"),
        heat_from_c=n("heat_falls_from_c"),
        heat_none_c=n("heat_none_from_c"),
        picked_from_c=n("heat_picked_from_c"),
        picked_to_c=n("heat_picked_to_c"),
        tolerant_from_c=n("heat_tolerant_from_c"),
        tolerant_to_c=n("heat_tolerant_to_c"),
        root_heat_from_c=n("root_heat_from_c"),
        root_heat_none_c=n("root_heat_to_c"),
        air_min_c=n("air_temp_min_c"),
        air_best_low_c=n("air_temp_opt_low_c"),
        air_best_high_c=n("air_temp_opt_high_c"),
        air_max_c=n("air_temp_max_c"),
        root_min_c=n("root_temp_min_c"),
        root_best_low_c=n("root_temp_opt_low_c"),
        root_best_high_c=n("root_temp_opt_high_c"),
        root_max_c=n("root_temp_max_c"),
        frost_class=row.text("frost_class"),
        frost_damage_c=n("frost_damage_temp_c"),
        ph_low=n("ph_low"),
        ph_high=n("ph_high"),
        light_min_mol_m2_d=n("dli_min_mol_m2_d"),
        light_good_mol_m2_d=n("dli_good_mol_m2_d"),
        suits_media=n("suit_media"),
        suits_raft=n("suit_raft"),
        suits_channel=n("suit_channel"),
        yield_kg_m2=triangle("yield_kg_m2"),
        uptake_n_g_kg=triangle("uptake_n_g_kg"),
        uptake_p_g_kg=n("uptake_p_g_kg"),
        uptake_k_g_kg=n("uptake_k_g_kg"),
        uptake_ca_g_kg=n("uptake_ca_g_kg"),
        salt_threshold_ds_m=n("salt_threshold_ds_m"),
        salt_slope_pct_ds_m=n("salt_slope_pct_ds_m"),
        kc=(n("kc_ini"), n("kc_mid"), n("kc_end")),
        kcb=(n("kcb_ini"), n("kcb_mid"), n("kcb_end")),
        cautions=row.listed("caution"),
    )


# Growth


def temperature_factor(mean_c: ArrayLike, base_c: float, reference_c: float, cap_c: float) -> Floats:
    """Speed of growth relative to the reference temperature: thermal time above a base, level from a cap.

    Zero at and below the base. Linear thermal time: WURRL, BIER73, MCM97 (method 1).

    >>> temperature_factor([0.0, 10.0, 30.0], 0.0, 20.0, 22.0).tolist()
    [0.0, 0.5, 1.1]
    """
    above = np.clip(np.asarray(mean_c, dtype=np.float64), base_c, cap_c) - base_c
    factor: Floats = above / (reference_c - base_c)
    return factor


def heat_fall(celsius: ArrayLike, from_c: ArrayLike, none_c: ArrayLike) -> Floats:
    """Share of growth that heat leaves, by the air or by the water at the roots: 1 up to `from_c`, a smooth
    fall, 0 from `none_c`.

    Own reckoning: a parabola; its ends are read or practice, crop by crop (`data/crops.csv`).

    >>> heat_fall([25.0, 29.5, 34.0], 25.0, 34.0).tolist()
    [1.0, 0.75, 0.0]
    """
    begins, ends = np.asarray(from_c, dtype=np.float64), np.asarray(none_c, dtype=np.float64)
    beyond = (np.asarray(celsius, dtype=np.float64) - begins) / (ends - begins)
    share: Floats = 1.0 - np.clip(beyond, 0.0, 1.0) ** 2
    return share


WIDE_RANGE_K, RANGE_SHARE = 10.0, 0.25
"""A daily range of the air beyond the first counts with the second on top of the mean: hot noons do harm that
a mean hides. Common practice, no source."""


def felt_air_c(mean_c: ArrayLike, range_k: ArrayLike) -> Floats:
    """The air that counts where heat is asked about: the mean, and more where days swing widely.

    range_k: highest less lowest air of a day. Common practice, no source.
    """
    wide = np.maximum(np.asarray(range_k, dtype=np.float64) - WIDE_RANGE_K, 0.0)
    felt: Floats = np.asarray(mean_c, dtype=np.float64) + RANGE_SHARE * wide
    return felt


@possible
def warmth_factor(
    of: Crop,
    mean_c: ArrayLike,
    water_c: ArrayLike | None = None,
    range_k: ArrayLike = 0.0,
    later_k: ArrayLike = 0.0,
) -> Floats:
    """Speed of growth by temperature, 1 at the reference: air up to the cap, then heat of air and of roots.

    water_c: at the roots, without it they hold nothing back; range_k: of a day's air; later_k: by how much
    later the heat of the air counts for this cultivar. Own reckoning: a product.

    >>> lettuce = crop("lettuce_leaf")
    >>> warmth_factor(lettuce, [12.0, 20.0, 24.0, 28.0, 32.0]).round(2).tolist()
    [0.6, 1.0, 1.2, 1.07, 0.47]
    """
    level = temperature_factor(mean_c, of.base_c, of.reference_c, of.cap_c)
    felt = felt_air_c(mean_c, range_k)
    later = np.asarray(later_k, dtype=np.float64)
    factor: Floats = level * heat_fall(felt, of.heat_from_c + later, of.heat_none_c + later)
    if water_c is None:
        return factor
    return factor * heat_fall(water_c, of.root_heat_from_c, of.root_heat_none_c)


WORTH_LEAST, WORTH_LOST = 0.2, 0.8
"""Share worth picking in great heat, and what is lost from cool to there. Common practice, no source."""


def worth_picking(week_c: ArrayLike, from_c: float, to_c: float) -> Floats:
    """Share of a harvest that is worth picking after a week of such air: the rest bolted, burnt or is bitter.

    week_c: mean air of the seven days before; from_c, to_c: `picked_from_c`, `picked_to_c` of the crop; 1
    where heat spoils none (NaN). It takes nothing from what the roots took up. Common practice, no source.

    >>> worth_picking([24.0, 28.0, 40.0], 25.0, 32.0).round(2).tolist()
    [1.0, 0.66, 0.2]
    """
    week = np.asarray(week_c, dtype=np.float64)
    if np.isnan(from_c):
        return np.ones_like(week)
    share: Floats = np.clip(1.0 - WORTH_LOST * (week - from_c) / (to_c - from_c), WORTH_LEAST, 1.0)
    return share


HOLDS_COOL_C, HOLDS_WARM_C = 25.0, 27.0
HOLDS_COOL, HOLDS_WARM = 0.25, 0.10


@possible
def holds_share(air_c: ArrayLike) -> Floats:
    """Part of its growing time that a head which is ready waits before it bolts: a quarter, in heat a tenth.

    Source: a raft farm in the tropics, whose heads bolt beyond 33 days where 30 are best (read); the rest
    common practice, no source.

    >>> holds_share([20.0, 26.0, 31.0]).round(3).tolist()
    [0.25, 0.175, 0.1]
    """
    return np.asarray(
        np.interp(np.asarray(air_c, dtype=np.float64), (HOLDS_COOL_C, HOLDS_WARM_C), (HOLDS_COOL, HOLDS_WARM))
    )


DEADLY_DAYS = 3


@possible
def deadly_heat(of: Crop, felt_c: Floats, water_c: Floats, later_k: ArrayLike = 0.0) -> NDArray[np.bool_]:
    """Days on which a crop that stands has died of heat: the third in a row that allows no growth, and more.

    felt_c, water_c: by day along the first axis; a shorter heat only slows it. Common practice, no source.
    """
    none_c = of.heat_none_c + np.asarray(later_k, dtype=np.float64)
    hot = (felt_c >= none_c) | (water_c >= of.root_heat_none_c)
    dead = hot.copy()
    for before in range(1, DEADLY_DAYS):
        dead[before:] &= hot[:-before]
        dead[:before] = False
    return dead


def light_factor(light_mol_m2_d: ArrayLike, good_mol_m2_d: ArrayLike, exponent: ArrayLike = 0.5) -> Floats:
    """Speed of growth relative to good light; 1 from `good_mol_m2_d`.

    Exponent 0.3 to 1: common practice, no source.
    """
    share = np.minimum(1.0, np.asarray(light_mol_m2_d, dtype=np.float64) / np.asarray(good_mol_m2_d))
    factor: Floats = share ** np.asarray(exponent)
    return factor


FRUIT_DAYS_LIGHT, FRUIT_MASS_LIGHT = 0.3, 0.7
"""Exponents of light for fruiting crops, on days and on mass on top: 1 % of light is 1 % of fruit (RUNKLE,
read)."""
DARK_SHARE = 0.5
"""Under this share of its least light a crop stands still. Common practice, no source."""


def is_dark(of: Crop, light_mol_m2_d: ArrayLike) -> NDArray[np.bool_]:
    """Whether there is too little light to grow at all. Common practice, no source."""
    return np.asarray(np.asarray(light_mol_m2_d) < DARK_SHARE * of.light_min_mol_m2_d)


def light_on_days(of: Crop, light_mol_m2_d: ArrayLike, leaf_exponent: ArrayLike) -> Floats:
    """Share of its speed that light lets a crop age with; in the dark it stands still.

    leaf_exponent: `leaf_days_light`, of leaf crops. Source: RUNKLE (read) for fruit, CAROTTI21 for leaves.
    """
    exponent = FRUIT_DAYS_LIGHT if of.rule_kind == "fruiting" else leaf_exponent
    lit = ~is_dark(of, light_mol_m2_d)
    factor: Floats = light_factor(light_mol_m2_d, of.light_good_mol_m2_d, exponent) * lit
    return factor


def light_on_mass(of: Crop, light_mol_m2_d: ArrayLike, leaf_exponent: ArrayLike) -> Floats:
    """Share of its mass that light leaves a crop of the same age, on top of `light_on_days`.

    leaf_exponent: `leaf_mass_light`, of leaf crops. Source: RUNKLE (read) for fruit, CAROTTI21 for leaves.
    """
    exponent = FRUIT_MASS_LIGHT if of.rule_kind == "fruiting" else leaf_exponent
    return light_factor(light_mol_m2_d, of.light_good_mol_m2_d, exponent)


@possible
def growth_factor(
    of: Crop,
    mean_c: ArrayLike,
    light_mol_m2_d: ArrayLike | None = None,
    water_c: ArrayLike | None = None,
    range_k: ArrayLike = 0.0,
) -> Floats:
    """Speed of ageing of a crop, 1 at the reference in good light; what is not given holds nothing back.

    Own reckoning: a product.
    """
    factor = warmth_factor(of, mean_c, water_c, range_k)
    if light_mol_m2_d is None:
        return factor
    return factor * light_on_days(of, light_mol_m2_d, coefficient("leaf_days_light").typical)


def days_to_harvest(daily_factor: ArrayLike, reference_days: float, axis: int = -1) -> Floats:
    """Days from transplanting to harvest: days whose factors sum to `reference_days`.

    daily_factor: day 1 is the transplant day; harvest date is transplant date plus the result. Infinite
    where the sum is not reached. Error +-15 % in good light, +-30 % near the base or below half of it.
    Own reckoning: a sum of days; the errors are common practice, no source.

    >>> float(days_to_harvest(np.full(100, 0.55), 30.0))
    55.0
    """
    total = np.cumsum(np.asarray(daily_factor, dtype=np.float64), axis=axis)
    short = np.sum(total < reference_days - 1e-9, axis=axis)  # rounding of the sum must not cost a day
    days: Floats = np.where(short < total.shape[axis], short + 1.0, np.inf)
    return days


def planting_for_harvest(daily_factor: ArrayLike, harvest: int, reference_days: float) -> int:
    """Latest day of planting from which a harvest on the day `harvest` is reached; -1 where none is.

    The inverse of `days_to_harvest`: both count days by their position in `daily_factor`.
    Source: as `days_to_harvest`.

    >>> planting_for_harvest(np.full(100, 0.55), 60, 30.0)
    5
    """
    grown = np.cumsum(np.asarray(daily_factor, dtype=np.float64)[:harvest][::-1])
    short = int(np.sum(grown < reference_days - 1e-9))  # rounding of the sum must not cost a day
    return harvest - 1 - short


# What crops ask for, by both methods


def area_rule_g_m2_d(kind: RuleKind) -> Triangle:
    """Feed per planted area and day by the handbook's rule, for feed of 32 % protein (FAO589:8.1, read)."""
    return coefficient(AREA_RULE_COEFFICIENTS[kind])


@possible
def scaled_by_protein(feed_g_m2_d: Numbers, protein_fraction: Numbers) -> Numbers:
    """An area rule for feed of another protein content: less protein, more feed.

    Own reckoning: equal protein.

    >>> scaled_by_protein(45.0, 0.40)
    36.0
    """
    return feed_g_m2_d * AREA_RULE_PROTEIN / protein_fraction


def uptake_g_m2_d(full_g_m2_d: Numbers, temperature_factor: Numbers, light_factor: Numbers = 1.0) -> Numbers:
    """Nitrogen uptake per area and day as growth goes; zero where nothing grows. Own reckoning."""
    return full_g_m2_d * temperature_factor * light_factor


@possible
def feed_for_uptake_g_day(
    uptake_g_day: Numbers, protein_fraction: Numbers, tan_per_protein: Numbers, denitrified_share: Numbers
) -> Numbers:
    """Feed whose nitrogen crops take up, after the share that leaves as gas.

    tan_per_protein: g N to the water per g of protein; works per m2 as well as for whole beds.
    Exact, by mass balance.

    >>> round(feed_for_uptake_g_day(0.41, 0.32, 0.092, 0.2), 2)
    17.41
    """
    return uptake_g_day / (protein_fraction * tan_per_protein * (1.0 - denitrified_share))


@possible
def fed_area_m2(tan_g_day: Numbers, denitrified_share: Numbers, uptake_g_m2_d: Numbers) -> Numbers:
    """Bed area whose crops take up the nitrogen that is left. Exact, by mass balance."""
    return tan_g_day * (1.0 - denitrified_share) / uptake_g_m2_d


# Nitrate


@possible
def nitrate_drift_mg_l_d(
    tan_g_day: Numbers,
    denitrified_share: Numbers,
    uptake_g_day: Numbers,
    volume_l: Numbers,
    exchange_l_day: Numbers = 0.0,
    nitrate_n_mg_l: Numbers = 0.0,
) -> Numbers:
    """Rise of nitrate a day, mg N/L: produced less gas, uptake and water thrown away (not evaporation).

    Exact, by mass balance.

    >>> round(nitrate_drift_mg_l_d(5.888, 0.2, 4 * 0.41, 1400.0), 3)
    2.193
    """
    left_g = tan_g_day * (1.0 - denitrified_share) - uptake_g_day
    return (1000.0 * left_g - exchange_l_day * nitrate_n_mg_l) / volume_l


@possible
def exchange_to_hold_l_day(
    tan_g_day: Numbers, denitrified_share: Numbers, uptake_g_day: Numbers, nitrate_n_mg_l: Numbers
) -> Numbers:
    """Water change that holds nitrate at a level; negative where crops already take more.

    Exact, by mass balance.
    """
    return 1000.0 * (tan_g_day * (1.0 - denitrified_share) - uptake_g_day) / nitrate_n_mg_l


# Base need


def base_need_eq_day(
    nitrified_g_day: Numbers,
    uptake_g_day: Numbers,
    denitrified_g_day: Numbers,
    root_return: Numbers,
    top_up_l_day: Numbers,
    top_up_alkalinity_mg_l: Numbers,
) -> Numbers:
    """Base that keeps alkalinity level, equivalents a day; negative where it rises by itself.

    For nitrogen from feed: nitrification costs two, the NH3 that fish give off returned one. root_return:
    base given back by roots per nitrate taken up, 0.3 to 0.8. In g CaCO3: times `GRAMS_CACO3_PER_EQ`.
    Exact, by charge balance; the share of roots is common practice, no source.
    """
    moles = (nitrified_g_day - root_return * uptake_g_day - denitrified_g_day) / ATOMIC_MASS_N_G_MOL
    return moles - top_up_l_day * top_up_alkalinity_mg_l / 1000.0 / MG_CACO3_PER_MEQ


GRAMS_CACO3_PER_EQ = MG_CACO3_PER_MEQ
"""mg per milli-equivalent is g per equivalent."""


def potassium_share(base_eq_day: Numbers, potassium_uptake_g_day: Numbers) -> Numbers:
    """Share of a base need that, given as a potassium base, matches the crops' potassium.

    Exact, by molar mass.
    """
    return potassium_uptake_g_day / (base_eq_day * ATOMIC_MASS_K_G_MOL)


# Succession


@dataclass(frozen=True)
class Succession:
    """Counts for a steady harvest; transplants and seeds are per batch, rounded up batch by batch."""

    transplants: int
    seeds: int
    batches: int
    places: int
    area_m2: float
    nursery_cells: int


@possible
def succession(
    heads: float,
    bed_days: float,
    nursery_days: float,
    plants_m2: float,
    germination: float,
    loss: float = 0.10,
    cull: float = 0.10,
    gap_days: float = 0.0,
    interval_days: float = 7.0,
) -> Succession:
    """Seeds, transplants, places and area for `heads` wanted every interval.

    germination, loss (in the bed) and cull (weak seedlings): shares; gap_days: from harvest to replanting.

    >>> succession(10, 35, 21, 25.0, 0.8, gap_days=1)
    Succession(transplants=12, seeds=17, batches=6, places=72, area_m2=2.88, nursery_cells=51)
    """
    transplants = transplants_for(heads, loss)
    seeds = seeds_for(transplants, germination, cull)
    batches = _up((bed_days + gap_days) / interval_days)
    places = batches * transplants
    return Succession(
        transplants=transplants,
        seeds=seeds,
        batches=batches,
        places=places,
        area_m2=places / plants_m2,
        nursery_cells=_up(nursery_days / interval_days) * seeds,
    )


@possible
def transplants_for(heads: float, loss: float = 0.10) -> int:
    """Plants to set out for heads that are wanted; loss: share lost in the bed. By definition."""
    return _up(heads / (1.0 - loss))


@possible
def seeds_for(transplants: int, germination: float, cull: float = 0.10) -> int:
    """Seeds to sow for plants that are set out; cull: weak seedlings. By definition."""
    return _up(transplants / (germination * (1.0 - cull)))


def _up(number: float) -> int:
    # A quotient that is whole but for rounding must not become one more.
    return ceil(number - 1e-9)


@possible
def heads_of_bed(
    area_m2: float,
    bed_days: float,
    plants_m2: float,
    loss: float = 0.10,
    gap_days: float = 0.0,
    interval_days: float = 7.0,
) -> int:
    """Heads that a bed gives every interval: the most for which `succession` needs no more area.

    By definition.

    >>> heads_of_bed(2.88, 35, 25.0, gap_days=1), heads_of_bed(2.87, 35, 25.0, gap_days=1)
    (10, 9)
    """
    places = floor(area_m2 * plants_m2 + 1e-9)
    plants = places // _up((bed_days + gap_days) / interval_days)
    return floor(plants * (1.0 - loss) + 1e-9)


def plants_in_bed(heads_per_week: Numbers, weeks_in_bed: Numbers) -> Numbers:
    """Plants that stand in the bed at once, without losses (the handbook's count).

    Source: FAO589 (from memory).
    """
    return heads_per_week * weeks_in_bed


def plants_for_weekly_kg(weekly_kg: Numbers, kg_per_plant_week: Numbers) -> Numbers:
    """Plants of a crop that is picked again and again. By definition."""
    return weekly_kg / kg_per_plant_week


def sowing_dates(harvest: date, bed_days: int, nursery_days: int) -> tuple[date, date]:
    """Sowing and transplanting for a harvest, counted backward.

    >>> [day.isoformat() for day in sowing_dates(date(2025, 6, 20), 35, 21)]
    ['2025-04-25', '2025-05-16']
    """
    transplant = harvest - timedelta(days=bed_days)
    return transplant - timedelta(days=nursery_days), transplant


def area_days_per_plant_m2_d(stages: Iterable[tuple[float, float]]) -> float:
    """Bed area times days that a plant takes when it is moved to wider spacings; stages of (days, plants/m2).

    By definition.

    >>> round(area_days_per_plant_m2_d([(10, 60), (18, 25)]), 4)
    0.8867
    """
    return sum(days / density for days, density in stages)


# Water and salt


def bed_kc(of: Crop, covered: bool, staggered_share: Numbers) -> Numbers:
    """Crop coefficient of a bed with plants of all ages.

    covered: no wet surface between the plants; staggered_share: mean over the ages against full growth.
    The coefficients stand in `data/crops.csv` (FAO56); the mean over the ages is own reckoning.
    Source: FAO56:T12 (read) for the open water; own reckoning for the mixture.
    """
    return staggered_share * (of.kcb[1] if covered else of.kc[1])


def salt_yield_pct(conductivity_ds_m: ArrayLike, threshold_ds_m: float, slope_pct_ds_m: float) -> Floats:
    """Yield left at a conductivity, % of that without salt (MAAS90; thresholds are for soil paste extract).

    Loop water put in directly is the cautious reading; NaN where a crop's response was not found.

    >>> salt_yield_pct([1.0, 2.5], 1.3, 13.0).round(1).tolist()
    [100.0, 84.4]
    """
    beyond = np.maximum(0.0, np.asarray(conductivity_ds_m, dtype=np.float64) - threshold_ds_m)
    return np.clip(100.0 - slope_pct_ds_m * beyond, 0.0, 100.0)


def with_salt_ds_m(conductivity_ds_m: Numbers, added_salt_g_l: Numbers) -> Numbers:
    """Conductivity of loop water after sodium chloride was added, dS/m (= mS/cm). From memory."""
    return conductivity_ds_m + SALT_MS_CM_PER_G_L * added_salt_g_l
