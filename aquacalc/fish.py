"""Fish: species, growth, appetite, oxygen use, the clock of a power cut, staggered batches.

Growth is the thermal-unit formula W^(1/3) = W0^(1/3) + TGC/1000 * sum of T over days (IWATAU81, CHO92), with
the temperature bent down towards the species' feeding limits (`effective_temperature_c`); inside the window
it is the published formula. TGC is stored times 1000, weights are grams, temperatures those of the water.
Rates that a model takes hour by hour (oxygen use) are made of operators only: floats in, float out.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from aquacalc import tables
from aquacalc.constants import MOLAR_MASS_CO2_G_MOL, MOLAR_MASS_O2_G_MOL, Numbers
from aquacalc.possible import possible
from aquacalc.uncertainty import Floats, Triangle

State = Literal["resting", "fed", "just_fed"]
OxygenModel = Literal["liao_trout", "liao_salmon", "warm_generic"]

GROWTH_FEED_CORRELATION = -0.5
"""Rank correlation of TGC and FCR: good care improves both. Common practice, no source."""

PLAUSIBLE_TGC_PER1000 = (0.05, 3.0)
"""Published values printed times 1000; papers also print times 1 and times 100."""

WEIGHT_SPREAD = 0.2
"""Standard deviation of the logarithm of weight within a batch. Common practice, no source."""

COLD_CLASSES = ("cold", "cool", "cool/temperate")


@dataclass(frozen=True)
class Corners:
    """Water temperatures that bound growth, C.

    feed_stop_low_c: no growth at and below; tgc_low_c, tgc_high_c: the classical formula from and to;
    growth_zero_high_c: growth has fallen to nothing; feed_stop_high_c: nothing is fed from here on.
    """

    feed_stop_low_c: float
    tgc_low_c: float
    tgc_high_c: float
    feed_stop_high_c: float
    growth_zero_high_c: float


@dataclass(frozen=True)
class Species:
    """One row of the species table; percentages as printed, NaN where nothing was found."""

    key: str
    name: str
    scientific_name: str
    use: str
    temperature_class: str
    corners: Corners
    lethal_low_c: float
    lethal_high_c: float
    optimum_low_c: float
    optimum_high_c: float
    warm_limit_c: float
    oxygen_lethal_mg_l: float
    oxygen_critical_mg_l: float
    oxygen_full_feed_mg_l: float
    ph_low: float
    ph_high: float
    nitrogen_class: str
    start_weight_g: float
    table_weight_g: Triangle
    tgc: Triangle
    fcr: Triangle
    protein_fingerling_pct: float
    protein_growout_low_pct: float
    protein_growout_high_pct: float
    density_typical_kg_m3: float
    density_max_kg_m3: float
    gutted_pct: float
    fillet_pct: float
    loss_pct: Triangle
    oxygen_model: OxygenModel
    breathes_air: str
    spawns_in_tank: str
    eats_its_own: str
    companions_min: float
    floor_animals_low_m2: float
    floor_animals_high_m2: float
    tank_min_m3: float
    cautions: tuple[str, ...]

    @property
    def group(self) -> Literal["W", "C"]:
        """Column of the water limits: W for warm and warm/temperate species, C for the others."""
        return "C" if self.temperature_class in COLD_CLASSES else "W"

    @property
    def eaten(self) -> bool:
        """Whether the species is kept for food; ornamental fish are never harvested."""
        return self.use != "ornamental"

    @property
    def no_feed_from_c(self) -> float:
        """Warm end of feeding: the feed stop, or what comes before it: 2 C under the lethal corner, 2 C past
        the stress line, where heat is acted on."""
        return min(self.corners.feed_stop_high_c, self.lethal_high_c - 2.0, self.warm_limit_c + 2.0)


def species(key: str) -> Species:
    """The species of a key of `data/species.csv`.

    >>> species("nile_tilapia").corners.growth_zero_high_c
    38.5
    """
    row = tables.load("species").row(key)
    n = row.number
    return Species(
        key=key,
        name=row.text("name"),
        scientific_name=row.text("scientific_name"),
        use=row.text("use"),
        temperature_class=row.text("temperature_class"),
        corners=Corners(
            n("t_feed_stop_low_c"),
            n("t_tgc_low_c"),
            n("t_tgc_high_c"),
            n("t_feed_stop_high_c"),
            n("t_growth_zero_high_c"),
        ),
        lethal_low_c=n("t_lethal_low_c"),
        lethal_high_c=n("t_lethal_high_c"),
        optimum_low_c=n("t_opt_low_c"),
        optimum_high_c=n("t_opt_high_c"),
        warm_limit_c=n("t_stress_high_c"),
        oxygen_lethal_mg_l=n("do_lethal_mg_l"),
        oxygen_critical_mg_l=n("do_critical_mg_l"),
        oxygen_full_feed_mg_l=n("do_full_feed_mg_l"),
        ph_low=n("ph_low"),
        ph_high=n("ph_high"),
        nitrogen_class=row.text("nitrogen_tolerance_class"),
        start_weight_g=n("start_weight_g"),
        table_weight_g=Triangle(
            n("table_weight_low_g"), n("table_weight_typical_g"), n("table_weight_high_g")
        ),
        tgc=Triangle(n("tgc_low_per1000"), n("tgc_typical_per1000"), n("tgc_high_per1000")),
        fcr=Triangle(n("fcr_low"), n("fcr_typical"), n("fcr_high")),
        protein_fingerling_pct=n("feed_protein_fingerling_pct"),
        protein_growout_low_pct=n("feed_protein_growout_low_pct"),
        protein_growout_high_pct=n("feed_protein_growout_high_pct"),
        density_typical_kg_m3=n("density_home_typical_kg_m3"),
        density_max_kg_m3=n("density_home_max_kg_m3"),
        gutted_pct=n("dressout_gutted_pct"),
        fillet_pct=n("fillet_skinless_pct"),
        loss_pct=Triangle(
            n("mortality_growout_low_pct"),
            n("mortality_growout_typical_pct"),
            n("mortality_growout_high_pct"),
        ),
        oxygen_model=_OXYGEN_MODELS[row.text("oxygen_model")],
        breathes_air=row.text("air_breather"),
        spawns_in_tank=row.text("spawns_in_tank"),
        eats_its_own=row.text("cannibal_or_predator"),
        companions_min=n("companions_min"),
        floor_animals_low_m2=n("floor_animals_m2_low"),
        floor_animals_high_m2=n("floor_animals_m2_high"),
        tank_min_m3=n("tank_min_m3"),
        cautions=row.listed("caution"),
    )


# Growth


@possible
def effective_temperature_c(temperature_c: ArrayLike, corners: Corners) -> Floats:
    """Temperature that counts for growth: T inside the window, less on either side, nothing beyond.

    Below the window a straight line from the lower feed stop (common practice, no source; the formula
    over-predicts beyond the rising part, JOBLING03). Above it the smooth fall high (1 - x^2) with
    x = (T - high)/(zero - high), which follows the growth of bass at 9 to 33 C (KSUBASS, read) and of
    barramundi to 39 C (KATCAR05, read). Where feeding stops is told by `growing_temperature_c`.

    >>> effective_temperature_c([15, 20, 28, 34], Corners(17, 24, 31, 37, 38.5)).round(2).tolist()
    [0.0, 10.29, 28.0, 26.04]
    """
    temperature = np.asarray(temperature_c, dtype=np.float64)
    low, high = corners.tgc_low_c, corners.tgc_high_c
    below = np.interp(temperature, (corners.feed_stop_low_c, low, high), (0.0, low, high), left=0.0)
    past = np.clip((temperature - high) / (corners.growth_zero_high_c - high), 0.0, 1.0)
    return np.asarray(below * (1.0 - past**2))


@possible
def growing_temperature_c(temperature_c: ArrayLike, of: Species) -> Floats:
    """Temperature that counts for growth of fish that are fed: nothing where the water stops feeding.

    Own reckoning: `effective_temperature_c` within the ends of feeding of species.csv.

    >>> growing_temperature_c([22, 33, 37.5], species("nile_tilapia")).round(1).tolist()
    [17.1, 28.8, 0.0]
    """
    return np.asarray(effective_temperature_c(temperature_c, of.corners) * eats(temperature_c, of))


def weights_g(
    start_g: ArrayLike,
    tgc_per1000: ArrayLike,
    effective_c: ArrayLike,
    modifier: ArrayLike = 1.0,
    axis: int = -1,
) -> Floats:
    """Weight of one fish at the start of each day and after the last: one value more than days.

    start_g, tgc_per1000 and modifier broadcast against effective_c (for effective_c of shape (members, days)
    give a TGC a member as a column); axis: where the days run. A cumulative sum, no loop over days.
    Source: IWATAU81, exponent 1/3 as used since CHO92.

    >>> round(float(weights_g(20.0, 0.95, [27.0] * 30)[-1]), 3)
    42.287
    """
    growth = (
        np.asarray(tgc_per1000) / 1000.0 * np.asarray(effective_c, dtype=np.float64) * np.asarray(modifier)
    )
    grown = np.cumsum(growth, axis=axis)
    start = np.cbrt(np.broadcast_to(np.asarray(start_g, dtype=np.float64), grown.shape)).take([0], axis=axis)
    roots = np.concatenate([start, start + grown], axis=axis)
    weights: Floats = roots**3
    return weights


@possible
def daily_gain_g(
    weight_g: ArrayLike, tgc_per1000: ArrayLike, effective_c: ArrayLike, modifier: ArrayLike = 1.0
) -> Floats:
    """What a fish of `weight_g` gains in one day, g; arguments broadcast.

    Source: IWATAU81, exponent 1/3 as used since CHO92.
    """
    weight = np.asarray(weight_g, dtype=np.float64)
    growth = np.asarray(tgc_per1000) / 1000.0 * np.asarray(effective_c) * np.asarray(modifier)
    gain: Floats = (np.cbrt(weight) + growth) ** 3 - weight
    return gain


@possible
def daily_feed_g(
    weight_g: ArrayLike,
    tgc_per1000: ArrayLike,
    effective_c: ArrayLike,
    fcr: ArrayLike,
    modifier: ArrayLike = 1.0,
) -> Floats:
    """Feed of one fish in one day, g: FCR times the day's gain; arguments broadcast. By definition of FCR.

    >>> round(30 * float(daily_feed_g(20.0, 0.95, 13.7142857, 1.6)), 2)
    13.89
    """
    feed: Floats = np.asarray(fcr) * daily_gain_g(weight_g, tgc_per1000, effective_c, modifier)
    return feed


@possible
def ration_pct(weight_g: ArrayLike, tgc_per1000: ArrayLike, effective_c: ArrayLike, fcr: ArrayLike) -> Floats:
    """Appetite as a percentage of body weight a day. Give the FCR at that weight (`fcr_at_weight`).

    By definition of FCR and gain.
    """
    ration: Floats = 100.0 * daily_feed_g(weight_g, tgc_per1000, effective_c, fcr) / np.asarray(weight_g)
    return ration


def days_to_weight(
    start_g: ArrayLike, final_g: ArrayLike, tgc_per1000: ArrayLike, effective_c: ArrayLike
) -> Floats:
    """Days from one weight to another at constant temperature; infinite where nothing grows.

    Source: IWATAU81, exponent 1/3 as used since CHO92.

    >>> round(float(days_to_weight(20.0, 500.0, 0.95, 28.0)), 2)
    196.34
    """
    way = np.cbrt(np.asarray(final_g, dtype=np.float64)) - np.cbrt(np.asarray(start_g, dtype=np.float64))
    daily = np.asarray(tgc_per1000) / 1000.0 * np.asarray(effective_c)
    with np.errstate(divide="ignore", invalid="ignore"):
        days: Floats = np.where(way <= 0.0, 0.0, 1000.0 * way / (1000.0 * daily))
    return days


def tgc_from_samples(start_g: float, end_g: float, effective_sum_c_d: float) -> float:
    """TGC (x1000) from two sample weights and the sum of effective temperatures between them.

    Source: IWATAU81, exponent 1/3 as used since CHO92.
    """
    return float(1000.0 * (np.cbrt(end_g) - np.cbrt(start_g)) / effective_sum_c_d)


def tgc_is_plausible(tgc_per1000: float, of: Species) -> bool:
    """False for a TGC on another scale: outside 0.05 to 3, or threefold beyond the species' own range."""
    low, high = PLAUSIBLE_TGC_PER1000
    return max(low, of.tgc.low / 3.0) <= tgc_per1000 <= min(high, 3.0 * of.tgc.high)


@possible
def growth_rate_pct_d(weight_g: ArrayLike, tgc_per1000: ArrayLike, effective_c: ArrayLike) -> Floats:
    """Instantaneous specific growth rate, % a day; it falls with weight, so do not extrapolate it.

    By definition.
    """
    rate: Floats = 0.3 * np.asarray(tgc_per1000) * np.asarray(effective_c) / np.cbrt(np.asarray(weight_g))
    return rate


@possible
def alive(count: ArrayLike, survival: ArrayLike, days: ArrayLike, whole_days: float) -> Floats:
    """Fish alive after `days` of a plan of `whole_days` that a share `survival` lives through.

    Own reckoning: the same share dies each day.
    """
    left: Floats = np.asarray(count) * np.asarray(survival, dtype=np.float64) ** (
        np.asarray(days) / whole_days
    )
    return left


# Modifiers of growth and feed

MAINTENANCE_SHARE = 0.15
"""Share of satiation that keeps a fish as it is. Common practice, no source."""


@possible
def oxygen_modifier(oxygen_mg_l: ArrayLike, full_feed_mg_l: ArrayLike) -> Floats:
    """Share of the daily growth left at a morning oxygen: 1 from `full_feed_mg_l`, 0 at 1 mg/L.

    Level-off for tilapia at 5.5 mg/L read in TRANDUY12; the straight line is common practice, no source.
    """
    return np.clip((np.asarray(oxygen_mg_l) - 1.0) / (np.asarray(full_feed_mg_l) - 1.0), 0.0, 1.0)


def ration_modifier(
    ration_share: ArrayLike, maintenance: float = MAINTENANCE_SHARE, full: float = 0.90
) -> Floats:
    """Share of the growth left when fed `ration_share` of satiation; nothing below maintenance.

    The straight line is common practice, no source; its foot leans on CARP84 (read).
    """
    return np.clip((np.asarray(ration_share) - maintenance) / (full - maintenance), 0.0, 1.0)


THETA_FASTING = 1.08
"""A degree. Common practice, no source; 1.093 computed from two rates that were read (ZAKKAR99)."""


@possible
def hungry_loss_g(
    weight_g: ArrayLike, ration_share: ArrayLike, temperature_c: ArrayLike, fasting_1_d: ArrayLike
) -> Floats:
    """Weight that a fish loses in a day on less than its maintenance, g; the whole of it where it is unfed.

    fasting_1_d: share of its weight at 20 C. Source: nitrogen given off by unfed fish (ZAKKAR99, VANWEERD95,
    read); the straight line up to maintenance is common practice, no source.

    >>> round(float(hungry_loss_g(500.0, 0.0, 20.0, 0.0015)), 2)
    0.75
    """
    short = np.clip(1.0 - np.asarray(ration_share) / MAINTENANCE_SHARE, 0.0, 1.0)
    warmth = THETA_FASTING ** (np.asarray(temperature_c) - 20.0)
    loss: Floats = np.asarray(weight_g) * np.asarray(fasting_1_d) * warmth * short
    return loss


DYING_AT_CORNER_1_D = 0.1
"""Half of the fish die within a week at an incipient lethal temperature, by its definition."""
ALL_DIE_BEYOND_C = 2.0


@possible
def dying_1_d(temperature_c: ArrayLike, of: Species) -> Floats:
    """Share of the fish that a day of water at this mean temperature kills, 0 to 1.

    Nothing between the lethal corners; a tenth from a corner on, all of them 2 C beyond. How fast it rises
    is common practice, no source.

    >>> dying_1_d([20.0, 41.0, 42.0], species("nile_tilapia")).round(2).tolist()
    [0.0, 0.55, 1.0]
    """
    temperature = np.asarray(temperature_c, dtype=np.float64)
    beyond = np.maximum(temperature - of.lethal_high_c, of.lethal_low_c - temperature)
    rising = DYING_AT_CORNER_1_D + (1.0 - DYING_AT_CORNER_1_D) * beyond / ALL_DIE_BEYOND_C
    return np.where(beyond > 0.0, np.clip(rising, 0.0, 1.0), 0.0)


def fcr_multiplier(ration_share: ArrayLike) -> Floats:
    """FCR at a ration relative to FCR at satiation; infinite at maintenance.

    Own reckoning from `ration_modifier`.
    """
    share = np.asarray(ration_share, dtype=np.float64)
    with np.errstate(divide="ignore"):
        multiplier: Floats = share / ration_modifier(share)
    return multiplier


@possible
def fcr_at_weight(fcr: ArrayLike, weight_g: ArrayLike) -> Floats:
    """FCR of a fish of this weight when `fcr` holds at 100 g.

    Slope weak, from one tank record of trout, SUMMTROUT (read).
    """
    factor = np.clip((np.asarray(weight_g, dtype=np.float64) / 100.0) ** 0.10, 0.7, 1.3)
    result: Floats = np.asarray(fcr) * factor
    return result


# Oxygen

_OXYGEN_MODELS: Mapping[str, OxygenModel] = {
    "liao_trout": "liao_trout",
    "liao_salmon": "liao_salmon",
    "warm_generic": "warm_generic",
}
# Use relative to the daily mean of fed fish: 120, 300 and 600 mg/(kg h) fitted. Common practice, no source.
_STATE_FACTOR: Mapping[State, float] = {"resting": 0.4, "fed": 1.0, "just_fed": 2.0}
# LIAO71: lb oxygen per 100 lb fish and day = K F^a W^b; (K, a) to 50 F, (K, a) above, b. Step at 50 F kept.
_LIAO: Mapping[str, tuple[tuple[float, float], tuple[float, float], float]] = {
    "liao_trout": ((1.90e-6, 3.13), (3.05e-4, 1.855), -0.138),
    "liao_salmon": ((7.20e-7, 3.20), (4.90e-5, 2.12), -0.194),
}
_LIAO_TO_MG_KG_H = 1e6 / 100.0 / 24.0
_GRAMS_PER_POUND = 453.59237  # exact, international pound
_WARM_FED_MG_KG_H = 300.0  # at 100 g and 28 C


@possible
def oxygen_use_mg_kg_h(
    model: OxygenModel, weight_g: Numbers, temperature_c: Numbers, state: State = "fed"
) -> Numbers:
    """Oxygen that a kilogram of fish uses in an hour, mg.

    model: `liao_trout` or `liao_salmon` (LIAO71, fed hatchery fish) or `warm_generic`, a fit of the project
    (300 mg/(kg h) at 100 g, 28 C; weight exponent -0.20, 6.5 % a degree), good to a factor 0.4 to 1.8, for
    15 to 33 C and 10 to 1000 g. state: `fed` is the daily mean, `just_fed` the peak after one large meal.

    >>> round(oxygen_use_mg_kg_h("warm_generic", 250.0, 28.0), 1)
    249.8
    """
    factor = _STATE_FACTOR[state]
    if model == "warm_generic":
        return (
            factor
            * _WARM_FED_MG_KG_H
            * (weight_g / 100.0) ** -0.20
            * np.e ** (0.065 * (temperature_c - 28.0))
        )
    (cool_k, cool_a), (warm_k, warm_a), weight_exponent = _LIAO[model]
    fahrenheit = temperature_c * 1.8 + 32.0
    cool = fahrenheit <= 50.0
    rate = cool * cool_k * fahrenheit**cool_a + (1.0 - cool) * warm_k * fahrenheit**warm_a
    return factor * _LIAO_TO_MG_KG_H * rate * (weight_g / _GRAMS_PER_POUND) ** weight_exponent


def use_against_just_fed(state: State) -> float:
    """Oxygen use in a state over that of fish that just ate. Source: as `oxygen_use_mg_kg_h`.

    >>> use_against_just_fed("fed")
    0.5
    """
    return _STATE_FACTOR[state] / _STATE_FACTOR["just_fed"]


def carbon_dioxide_g(oxygen_g: Numbers, respiratory_quotient: Numbers = 0.9) -> Numbers:
    """Carbon dioxide breathed out for oxygen used, g. Exact, by molar mass.

    >>> round(carbon_dioxide_g(40.0), 1)
    49.5
    """
    return oxygen_g * respiratory_quotient * (MOLAR_MASS_CO2_G_MOL / MOLAR_MASS_O2_G_MOL)


@dataclass(frozen=True)
class SurfaceExchange:
    """Oxygen that comes through the water surface while nothing stirs it; leave it out under a cover."""

    saturation_mg_l: ArrayLike
    velocity_m_h: ArrayLike
    depth_m: ArrayLike


def hours_to_critical(
    start_mg_l: ArrayLike,
    critical_mg_l: ArrayLike,
    use_mg_kg_h: ArrayLike,
    density_kg_m3: ArrayLike,
    film_factor: ArrayLike = 1.0,
    exchange: SurfaceExchange | None = None,
) -> Floats:
    """Hours until the fish tank's water falls from `start_mg_l` to `critical_mg_l` after air and pump stop.

    density_kg_m3: fish per fish-tank water (not the whole loop); film_factor: use of fish, film and sludge
    together over that of the fish alone. Zero when the water is there already, infinite when the exchange
    holds it above. From dC/dt = k (Cs - C) - R with k = velocity/depth. Exact, by oxygen balance.

    >>> round(60 * float(hours_to_critical(6.65, 3.0, 250.0, 20.0)), 1)
    43.8
    """
    way = np.asarray(start_mg_l, dtype=np.float64) - np.asarray(critical_mg_l)
    use = np.asarray(use_mg_kg_h) * np.asarray(density_kg_m3) / 1000.0 * np.asarray(film_factor)
    with np.errstate(divide="ignore", invalid="ignore"):
        if exchange is None:
            hours = np.where(use > 0.0, way / use, np.inf)
        else:
            k = np.asarray(exchange.velocity_m_h, dtype=np.float64) / np.asarray(exchange.depth_m)
            net = use - k * (np.asarray(exchange.saturation_mg_l) - np.asarray(critical_mg_l))
            # As k goes to zero the logarithm becomes way / use, which has no k to divide by.
            with_exchange = np.log1p(k * way / net) / k
            hours = np.where(net > 0.0, np.where(k > 0.0, with_exchange, way / net), np.inf)
    result: Floats = np.where(way <= 0.0, 0.0, hours)
    return result


def response_time_h(just_fed_hours: ArrayLike) -> Floats:
    """Time in which someone must have acted: half of the just-fed time. Common practice, no source."""
    hours: Floats = 0.5 * np.asarray(just_fed_hours, dtype=np.float64)
    return hours


# Stocking and staggered batches


@possible
def kg_for_feed(feed_g_day: Numbers, ration_pct: Numbers) -> Numbers:
    """Live fish that eat a feed at a ration in % of body weight a day, kg. By definition.

    >>> kg_for_feed(200.0, 1.0)
    20.0
    """
    return feed_g_day / (10.0 * ration_pct)


@possible
def stock_count(
    density_kg_m3: ArrayLike, tank_m3: ArrayLike, final_g: ArrayLike, survival: ArrayLike = 1.0
) -> Floats:
    """Fish to put in so that the tank holds `density_kg_m3` when they have reached `final_g`.

    By definition.
    """
    number: Floats = (
        np.asarray(density_kg_m3) * np.asarray(tank_m3) * 1000.0 / np.asarray(final_g) / np.asarray(survival)
    )
    return number


@dataclass(frozen=True)
class CohortPlan:
    """Batches of equal number started at equal intervals, at constant temperature and without deaths.

    days: from start to final weight; interval_days: between two batches; feed_per_fish_g_day and
    mean_weight_g: means over the stock; peak_feed_share, lowest_feed_share, peak_weight_share: of the mean.
    """

    days: Floats
    interval_days: Floats
    feed_per_fish_g_day: Floats
    mean_weight_g: float
    peak_feed_share: float
    lowest_feed_share: float
    peak_weight_share: float


def cohort_plan(
    start_g: float,
    final_g: float,
    cohorts: int,
    tgc_per1000: ArrayLike,
    effective_c: ArrayLike,
    fcr: ArrayLike,
) -> CohortPlan:
    """How level the feed is with `cohorts` batches in the tank at once.

    Cube-root growth: feed goes with the square, weight with the cube of the root weight.

    >>> plan = cohort_plan(20.0, 500.0, 4, 0.95, 28.0, 1.6)
    >>> round(plan.peak_feed_share, 3), round(float(plan.feed_per_fish_g_day), 4)
    (1.236, 3.9116)
    """
    first, last = float(np.cbrt(start_g)), float(np.cbrt(final_g))
    mean_square = (last**3 - first**3) / (3.0 * (last - first))
    mean_cube = (last**4 - first**4) / (4.0 * (last - first))
    # Just before a harvest the batches stand at the ends of their intervals, just after it at the starts.
    before = first + (last - first) * np.arange(1, cohorts + 1) / cohorts
    after = first + (last - first) * np.arange(cohorts) / cohorts
    days = days_to_weight(start_g, final_g, tgc_per1000, effective_c)
    return CohortPlan(
        days=days,
        interval_days=days / cohorts,
        feed_per_fish_g_day=np.asarray(fcr) * (final_g - start_g) / days,
        mean_weight_g=mean_cube,
        peak_feed_share=float(np.mean(before**2)) / mean_square,
        lowest_feed_share=float(np.mean(after**2)) / mean_square,
        peak_weight_share=float(np.mean(before**3)) / mean_cube,
    )


@possible
def edible_kg(live_kg: ArrayLike, yield_pct: ArrayLike) -> Floats:
    """Gutted fish or fillet from live fish, kg. By definition."""
    edible: Floats = np.asarray(live_kg) * np.asarray(yield_pct, dtype=np.float64) / 100.0
    return edible


@possible
def eats(temperature_c: ArrayLike, of: Species) -> NDArray[np.bool_]:
    """Whether a species is fed at this water temperature at all.

    By definition of the corners in `data/species.csv`, each with its source there.
    Common practice, no source.
    """
    temperature = np.asarray(temperature_c, dtype=np.float64)
    return (temperature > of.corners.feed_stop_low_c) & (temperature < of.no_feed_from_c)
