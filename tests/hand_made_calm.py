"""A balance in which nothing comes near anything, made by hand for tests of findings: invented numbers."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from hand_made import RESERVE, STOCKED

from aquacalc.sizing.result import (
    Balance,
    Biofilter,
    Demand,
    Limit,
    LimitKey,
    Outage,
    Plants,
)
from aquacalc.uncertainty import Band

YEAR = np.ones(12)
KEYS: tuple[LimitKey, ...] = (
    "oxygen",
    "nitrification",
    "density",
    "power_cut",
    "solids",
    "plants",
    "turnover",
)
MUST = ("oxygen", "nitrification", "density", "power_cut")
DEMAND_G_DAY = 50.0


def band(middle: object, spread: float = 0.2) -> Band:
    """A band that reaches `spread` to either side of its middle, by share."""
    values = np.asarray(middle, dtype=float) * 1.0
    reach = spread * np.where(np.isfinite(values), np.abs(values), 0.0)
    return Band(values - reach, values, values + reach)


def limit(key: LimitKey, feed_g_day: object) -> Limit:
    """A limit of a feed, with fish and beds in proportion."""
    feed = np.asarray(feed_g_day, dtype=float) * YEAR
    counts = key != "power_cut"
    return Limit(key, key in MUST, counts, band(feed), band(feed / 15.0), band(feed / 7.0), band(feed / 45.0))


def balance() -> Balance:
    """Fifty grams a day against limits ten times as high; water at 24 C; battery air named."""
    return Balance(
        months=tuple(range(1, 13)),
        water_c=Band(23.0 * YEAR, 24.0 * YEAR, 25.0 * YEAR),
        saturation_mg_l=band(8.4 * YEAR, 0.01),
        demand=Demand(
            feed_g_day=band(DEMAND_G_DAY * YEAR),
            fish_kg=band(4.0 * YEAR),
            weight_g=band(200.0 * YEAR),
            ration_pct=band(1.25 * YEAR),
            count=20.0 * YEAR,
            bed_m2=band(YEAR),
        ),
        limits=tuple(limit(key, 10.0 * DEMAND_G_DAY) for key in KEYS),
        binding=None,
        better=None,
        changes=(),
        outage=Outage(
            7, 24.0, 4.0, band(11.0), 2.0, 4.0, band(9.0), band(12.0), band(90.0), True, STOCKED, RESERVE
        ),
        biofilter=Biofilter(
            1,
            band(60.0),
            band(110.0),
            band(240.0),
            band(20.0),
            band(0.0),
            "moving_bed_carrier",
            0.5,
            0.3,
            False,
            20.0,
            known="measured",
        ),
        plants=Plants(
            area_rule_g_day=band(90.0 * YEAR),
            balance_g_day=band(50.0 * YEAR),
            uptake_g_n_day=band(0.9 * YEAR),
            dissolved_g_n_day=band(1.1 * YEAR),
            gas_g_n_day=band(0.2 * YEAR),
            drift_mg_n_l_day=band(0.01 * YEAR),
        ),
        first_year_kg=band(8.0),
        first_year_count=band(30.0),
        final_weight_g=500.0,
        flow_l_h=band(1500.0),
        turnover_1_h=band(1.5),
        measured_flow=True,
        members=200,
        seed=1,
    )


def with_limit(key: LimitKey, feed_g_day: object) -> Callable[[Balance], Balance]:
    """A change of a balance: one limit lies at this feed, and counts."""

    def change(before: Balance) -> Balance:
        changed = replace(limit(key, feed_g_day), counts=True)
        return replace(before, limits=tuple(changed if one.key == key else one for one in before.limits))

    return change
