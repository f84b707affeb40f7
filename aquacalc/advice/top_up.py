"""Top-up water: what the supplier adds and how sure that is, what treats it, what a year of it leaves behind.

Keys and amounts; bands are low and high corners where a coefficient has them.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from aquacalc import nitrogen, tables
from aquacalc.advice import dosing as doses
from aquacalc.garden.model import Disinfectant
from aquacalc.uncertainty import coefficient
from aquacalc.water import ammonia, carbonate, chlorine, supplements, top_up
from aquacalc.water.carbonate import Water

Sure = Literal["both", "told", "bucket", "differ", "nobody"]
"""How it is known what the supplier adds: told and seen, told only, seen only, told otherwise, not at all."""

BUCKET_STEP_MG_L = 0.25
"""Ammonia as N from which a bucket test counts as positive. Common practice, no source."""
MOST_ALKALINITY_MG_L = 80.0
"""Upper end of the working range with plants; `water_limits.csv`, `alkalinity_high`."""


@dataclass(frozen=True)
class Tap:
    """Tap water and the loop it goes into. NaN where not known.

    chlorine_mg_l: the most that the supplier states, total, as Cl2. bucket_chlorine_mg_l,
    bucket_ammonia_mg_l: of the bucket test, ammonia as N after the reagent. whole_l: the loop when topped up.
    """

    told: Disinfectant
    chlorine_mg_l: float
    new_water_l: float
    whole_l: float
    ph: float
    temperature_c: float
    reagent: str = "thiosulfate_pentahydrate"
    strength: float = 1.0
    bucket_chlorine_mg_l: float = math.nan
    bucket_ammonia_mg_l: float = math.nan
    tan_mg_l: float = math.nan
    species: str = "nile_tilapia"


@dataclass(frozen=True)
class Treatment:
    """What to do with tap water.

    taken_for: what it is treated as; chlorine_mg_l: for how much. reagent, reagent_g: for the new water.
    standing_d, aired_d: days, low and high, until free chlorine or chloramine has fallen to the line for
    fish; left_mg_l: in the loop if it goes in untreated. freed_mg_l: ammonia as N in the loop, low and high;
    unionised_mg_l: with what is there already, at the high end, NaN where TAN is not known.
    """

    taken_for: Disinfectant
    sure: Sure
    chlorine_mg_l: float
    reagent: str
    reagent_g: float
    standing_d: tuple[float, float]
    aired_d: tuple[float, float]
    left_mg_l: float
    line_mg_l: float
    freed_mg_l: tuple[float, float]
    unionised_mg_l: float
    act_line_mg_l: float


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
    """How to treat a bucket or a barrel of it, and what it does untreated."""
    bucket = chlorine.bucket_test(tap.bucket_chlorine_mg_l, tap.bucket_ammonia_mg_l, BUCKET_STEP_MG_L)
    taken_for, sure = disinfectant(tap.told, bucket)
    amount = 0.0 if taken_for == "none" else tap.chlorine_mg_l
    if sure in ("bucket", "both", "differ") and not math.isnan(tap.bucket_ammonia_mg_l):
        freed_per = coefficient("ammonia_freed_per_chloramine").low
        amount = max(amount, chlorine.chloramine_of_ammonia_mg_l(tap.bucket_ammonia_mg_l, freed_per))
    if not math.isnan(tap.bucket_chlorine_mg_l):
        amount = max(amount, tap.bucket_chlorine_mg_l)
    row = tables.load("chemicals").row(tap.reagent)
    reagent = chlorine.reagent_g(
        amount, tap.new_water_l, row.number("dechlorination_default_g_g") / tap.strength
    )
    freed = coefficient("ammonia_freed_per_chloramine")
    share = tap.new_water_l / tap.whole_l
    is_chloramine = taken_for == "chloramine"
    low, high = (
        float(chlorine.ammonia_freed_mg_l(amount, per)) * share * is_chloramine
        for per in (freed.low, freed.high)
    )
    standing = "chloramine_decay_open_per_d" if is_chloramine else "chlorine_decay_dark_per_d"
    aired = "chloramine_decay_aerated_per_d" if is_chloramine else "chlorine_decay_open_per_d"
    return Treatment(
        taken_for=taken_for,
        sure=sure,
        chlorine_mg_l=amount,
        reagent=tap.reagent,
        reagent_g=float(reagent),
        standing_d=_days(amount, standing),
        aired_d=_days(amount, aired),
        left_mg_l=float(chlorine.after_mixing_mg_l(amount, tap.new_water_l, tap.whole_l)),
        line_mg_l=chlorine.TANK_LIMIT_MG_L,
        freed_mg_l=(low, high),
        unionised_mg_l=(tap.tan_mg_l + high) * float(ammonia.unionised_fraction(tap.ph, tap.temperature_c)),
        act_line_mg_l=doses.act_line_mg_l(tap.species),
    )


def _days(start_mg_l: float, name: str) -> tuple[float, float]:
    if start_mg_l <= chlorine.TANK_LIMIT_MG_L:
        return 0.0, 0.0
    rate = coefficient(name)
    days = [
        float(chlorine.days_to(start_mg_l, chlorine.TANK_LIMIT_MG_L, one)) for one in (rate.high, rate.low)
    ]
    return days[0], days[1]


# A year of hard water


@dataclass(frozen=True)
class Hard:
    """Top-up water by its report, and the loop: volumes in L, L/d; feed in g a day, its protein a share."""

    loop: top_up.Loop
    alkalinity_mg_l: float
    hardness_mg_l: float
    sodium_mg_l: float
    feed_g_day: float
    protein_share: float


@dataclass(frozen=True)
class Year:
    """After a year, low and high; the exchange that holds sodium and alkalinity, L/d, infinite if none does.

    An alkalinity that reaches zero is used up: bases are needed then, not an exchange.
    """

    alkalinity_mg_l: tuple[float, float]
    alkalinity_middle_mg_l: float
    hardness_mg_l: float
    sodium_mg_l: tuple[float, float]
    hold_sodium_l_d: float
    hold_alkalinity_l_d: float
    sodium_line_mg_l: float
    alkalinity_line_mg_l: float


def after_a_year(asked: Hard) -> Year:
    """Where alkalinity, hardness and sodium come to when the same water tops up for a year.

    Acid from feed nitrogen takes alkalinity, 0 / 3.6 / 7.1 g CaCO3 per g that the fish do not keep; sodium
    comes with feed, 2 / 4 / 8 g a kg (weak). Hardness counts no uptake: the high side.
    """
    left = 1.0 - coefficient("feed_n_retained_share").typical
    nitrogen_g = float(nitrogen.feed_nitrogen_g_day(asked.feed_g_day, asked.protein_share)) * left
    acid, salt = coefficient("alkalinity_per_feed_n_g_g"), coefficient("feed_sodium_g_kg")

    def after(top_up_mg_l: float, input_g_d: float) -> float:
        return float(top_up.after_days_mg_l(asked.loop, top_up_mg_l, top_up_mg_l, input_g_d))

    sodium = [after(asked.sodium_mg_l, asked.feed_g_day / 1000.0 * per) for per in (salt.low, salt.high)]
    alkalinity = [after(asked.alkalinity_mg_l, -nitrogen_g * per) for per in (acid.high, acid.low)]
    return Year(
        alkalinity_mg_l=(alkalinity[0], alkalinity[1]),
        alkalinity_middle_mg_l=after(asked.alkalinity_mg_l, -nitrogen_g * acid.typical),
        hardness_mg_l=after(asked.hardness_mg_l, 0.0),
        sodium_mg_l=(sodium[0], sodium[1]),
        hold_sodium_l_d=float(
            top_up.exchange_to_hold_l_d(
                asked.loop,
                supplements.SODIUM_LIMIT_MG_L,
                asked.sodium_mg_l,
                asked.feed_g_day / 1000.0 * salt.typical,
            )
        ),
        hold_alkalinity_l_d=float(
            top_up.exchange_to_hold_l_d(
                asked.loop, MOST_ALKALINITY_MG_L, asked.alkalinity_mg_l, -nitrogen_g * acid.typical
            )
        ),
        sodium_line_mg_l=supplements.SODIUM_LIMIT_MG_L,
        alkalinity_line_mg_l=MOST_ALKALINITY_MG_L,
    )


# Two waters


@dataclass(frozen=True)
class Mixture:
    """Share of the second water for a wished alkalinity (NaN where no mixture has it), and its pH.

    ph_mean: what the mean of both pH would have said, for it is wrong.
    """

    share: float
    ph: float
    ph_mean: float


def mixture(first: Water, second: Water, wished_mg_l: float) -> Mixture:
    """Two waters mixed for a wished alkalinity.

    >>> hard, rain = carbonate.water(7.6, 214.0, 15.0), carbonate.water(6.0, 5.0, 15.0)
    >>> round(mixture(hard, rain, 80.0).share, 2)
    0.64
    """
    doses.check(first)
    doses.check(second)
    share = top_up.share_for_alkalinity(
        float(first.alkalinity_mg_l), float(second.alkalinity_mg_l), wished_mg_l
    )
    if math.isnan(share):
        return Mixture(math.nan, math.nan, math.nan)
    mean = float(first.ph) * (1.0 - share) + float(second.ph) * share
    return Mixture(share, float(np.round(carbonate.mix(first, second, share).ph, 6)), mean)
