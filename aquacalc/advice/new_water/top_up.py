"""Top-up water: what the supplier adds and how sure that is, what treats it and proves it, two waters mixed.

Keys and amounts; times are those of the high, the typical and the low corner of a rate.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from aquacalc import tables
from aquacalc.advice.doses import request
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import Disinfectant, Garden
from aquacalc.judge import lines
from aquacalc.uncertainty import Triangle, coefficient
from aquacalc.water import ammonia, carbonate, chlorine, salts, top_up
from aquacalc.water.carbonate import Water

Sure = Literal["both", "told", "bucket", "differ", "nobody"]
"""How it is known what the supplier adds: told and seen, told only, seen only, told otherwise, not at all."""

BUCKET_STEP_MG_L = 0.25
"""Ammonia as N from which a bucket test counts as positive. Common practice, no source."""
STRIP_LIMIT_MG_L = 0.5
"""First step of a usual strip for total chlorine; water reference, section 10."""
Days = tuple[float, float, float]
"""At best, usual, at worst."""


@dataclass(frozen=True)
class Tap:
    """Tap water and the loop it goes into. NaN where not known.

    chlorine_mg_l: the most that the supplier states, total, as Cl2. bucket_chlorine_mg_l,
    bucket_ammonia_mg_l: of the bucket test, ammonia as N after the reagent. whole_l: the loop when topped up.
    test_limit_mg_l: the least that the test for total chlorine shows. tap_ph: of the new water, for sunlight.
    """

    told: Disinfectant
    chlorine_mg_l: float
    new_water_l: float
    whole_l: float
    ph: float
    temperature_c: float
    reagent: str = chlorine.USUAL_REAGENT
    strength: float = 1.0
    bucket_chlorine_mg_l: float = math.nan
    bucket_ammonia_mg_l: float = math.nan
    tan_mg_l: float = math.nan
    species: str = "nile_tilapia"
    test_limit_mg_l: float = STRIP_LIMIT_MG_L
    tap_ph: float = 7.6


@dataclass(frozen=True)
class Treatment:
    """What to do with tap water.

    taken_for: what it is treated as; chlorine_mg_l: for how much. reagent, reagent_g: for the new water;
    least_g: the least that chemistry asks for. dark_d, aired_d: days until less than the line for fish is
    left in a closed vessel and in an open one with an air stone; sun_d: in an open one in full summer sun,
    None for chloramine. left_mg_l: in the loop if it goes in untreated. freed_mg_l: ammonia as N in the loop,
    low and high, new_freed_mg_l: the same in the new water itself; unionised_mg_l: in the loop with what is
    there already, at the high end, NaN where TAN is not known. share: of new water in the loop; hidden_mg_l:
    what may be left in the loop although the test of the new water showed none; proved_l: the most new water
    at once for which a clear test proves enough.
    """

    taken_for: Disinfectant
    sure: Sure
    chlorine_mg_l: float
    reagent: str
    reagent_g: float
    least_g: float
    dark_d: Days
    aired_d: Days
    sun_d: Days | None
    left_mg_l: float
    line_mg_l: float
    freed_mg_l: tuple[float, float]
    new_freed_mg_l: tuple[float, float]
    unionised_mg_l: float
    act_line_mg_l: float
    share: float
    test_limit_mg_l: float
    hidden_mg_l: float
    proved_l: float


def least_shown_mg_l(garden: Garden) -> float:
    """The first step above zero of the garden's own test for chlorine; a usual strip's where it has none."""
    steps = [step for kit in garden.kits for step in kit.scale("chlorine").steps if step > 0.0]
    return min(steps, default=STRIP_LIMIT_MG_L)


def disinfectant(told: Disinfectant, bucket: chlorine.BucketReading) -> tuple[Disinfectant, Sure]:
    """What to treat it as, and how sure that is; chloramine wherever the two differ or nobody knows.

    >>> disinfectant("chlorine", "chloramine"), disinfectant("not known", "not known")
    (('chloramine', 'differ'), ('chloramine', 'nobody'))
    """
    if told == "not known":
        return ("chloramine", "nobody") if bucket == "not known" else (bucket, "bucket")
    if bucket == "not known":
        return told, "told"
    return (told, "both") if told == bucket else ("chloramine", "differ")


def treatment(tap: Tap) -> Treatment:
    """How to treat a bucket or a barrel of it, and what it does untreated.

    Raises `InputError` where there is more new water than water in the loop once it is in.
    """
    if tap.new_water_l > tap.whole_l:
        raise InputError(
            Problem("problem-new-water-above-loop", "", f"{tap.new_water_l:g}", (f"{tap.whole_l:g}",))
        )
    bucket = chlorine.bucket_test(tap.bucket_chlorine_mg_l, tap.bucket_ammonia_mg_l, BUCKET_STEP_MG_L)
    taken_for, sure = disinfectant(tap.told, bucket)
    amount = 0.0 if taken_for == "none" else tap.chlorine_mg_l
    if sure in ("bucket", "both", "differ") and not math.isnan(tap.bucket_ammonia_mg_l):
        freed_per = coefficient("ammonia_freed_per_chloramine").low
        amount = max(amount, float(chlorine.chloramine_of_ammonia_mg_l(tap.bucket_ammonia_mg_l, freed_per)))
    if not math.isnan(tap.bucket_chlorine_mg_l):
        amount = max(amount, tap.bucket_chlorine_mg_l)
    row = tables.load("chemicals").row(tap.reagent)
    grams, least = (
        float(chlorine.reagent_g(amount, tap.new_water_l, row.number(column) / tap.strength))
        for column in ("dechlorination_default_g_g", "dechlorination_low_g_g")
    )
    share = tap.new_water_l / tap.whole_l
    is_chloramine = taken_for == "chloramine"
    freed = coefficient("ammonia_freed_per_chloramine")
    low, high = (
        float(chlorine.ammonia_freed_mg_l(amount, per)) * is_chloramine for per in (freed.low, freed.high)
    )
    dark = "chloramine_decay_closed_per_d" if is_chloramine else "chlorine_decay_dark_per_d"
    aired = "chloramine_decay_aerated_per_d" if is_chloramine else "chlorine_decay_open_per_d"
    sun = chlorine.sun_loss_per_d(tap.tap_ph, tap.temperature_c)
    fish = (tables.load("species").row(tap.species),)
    return Treatment(
        taken_for=taken_for,
        sure=sure,
        chlorine_mg_l=amount,
        reagent=tap.reagent,
        reagent_g=grams,
        least_g=least,
        dark_d=_days(amount, coefficient(dark)),
        aired_d=_days(amount, coefficient(aired)),
        sun_d=None if is_chloramine else _days(amount, Triangle(float(sun[0]), float(sun[1]), float(sun[2]))),
        left_mg_l=float(chlorine.after_mixing_mg_l(amount, tap.new_water_l, tap.whole_l)),
        line_mg_l=lines.begins_at("chlorine", "emergency"),
        freed_mg_l=(low * share, high * share),
        new_freed_mg_l=(low, high),
        unionised_mg_l=(tap.tan_mg_l + high * share)
        * float(ammonia.unionised_fraction(tap.ph, tap.temperature_c)),
        act_line_mg_l=lines.begins_at("unionised_ammonia", "act today", fish),
        share=share,
        test_limit_mg_l=tap.test_limit_mg_l,
        hidden_mg_l=float(chlorine.possible_residual_mg_l(tap.test_limit_mg_l, share)),
        proved_l=chlorine.share_proved(tap.test_limit_mg_l, lines.begins_at("chlorine", "emergency"))
        * tap.whole_l,
    )


def _days(start_mg_l: float, rate: Triangle) -> Days:
    """Days to the line for fish, none where there is no more than that."""
    line_mg_l = lines.begins_at("chlorine", "emergency")
    if start_mg_l <= line_mg_l:
        return 0.0, 0.0, 0.0
    best, usual, worst = (
        float(chlorine.days_to(start_mg_l, line_mg_l, one)) for one in (rate.high, rate.typical, rate.low)
    )
    return best, usual, worst


# Two waters


@dataclass(frozen=True)
class Report:
    """What stands in a report of a water beside pH and alkalinity: hardness mg/L CaCO3, sodium mg/L."""

    hardness_mg_l: float
    sodium_mg_l: float


@dataclass(frozen=True)
class Mixture:
    """Share of the second water for a wished alkalinity (NaN where no mixture has it), and what it is then.

    ph: while no air gets to it; ph_aired: in balance with the air outdoors; ph_mean: what the mean of both pH
    would have said, for it is wrong. dioxide_mg_l: free carbon dioxide before it is aired.
    """

    share: float
    ph: float = math.nan
    ph_aired: float = math.nan
    ph_mean: float = math.nan
    dioxide_mg_l: float = math.nan
    hardness_mg_l: float = math.nan
    sodium_mg_l: float = math.nan


def mixture(first: Water, second: Water, wished_mg_l: float, reports: tuple[Report, Report]) -> Mixture:
    """Two waters mixed for a wished alkalinity: alkalinity, inorganic carbon and salts mix, pH never does.

    >>> hard, rain = carbonate.water(7.6, 214.0, 15.0), carbonate.water(6.0, 5.0, 15.0)
    >>> made = mixture(hard, rain, 80.0, (Report(250.0, 20.0), Report(0.0, 0.0)))
    >>> round(made.share, 2), round(made.hardness_mg_l), round(made.sodium_mg_l, 1)
    (0.64, 90, 7.2)
    """
    request.check(first)
    request.check(second)
    share = top_up.share_for_alkalinity(
        float(first.alkalinity_mg_l), float(second.alkalinity_mg_l), wished_mg_l
    )
    if math.isnan(share):
        return Mixture(math.nan)
    mixed = carbonate.mix(first, second, share)
    one, other = reports

    def between(a: float, b: float) -> float:
        return float(salts.after_change_mg_l(a, b, share))

    return Mixture(
        share=share,
        ph=float(np.round(mixed.ph, 6)),
        ph_aired=float(carbonate.ph_open(mixed.alkalinity_mg_l, mixed.temperature_c, mixed.ionic_strength)),
        ph_mean=between(float(first.ph), float(second.ph)),
        dioxide_mg_l=float(mixed.carbon_dioxide_mg_l),
        hardness_mg_l=between(one.hardness_mg_l, other.hardness_mg_l),
        sodium_mg_l=between(one.sodium_mg_l, other.sodium_mg_l),
    )
