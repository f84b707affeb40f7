"""A balance made by hand for tests of pictures and panels: an invented garden, nothing computed."""

from dataclasses import replace

import numpy as np

from aquacalc.sizing.result import (
    Balance,
    Binding,
    Biofilter,
    Change,
    Demand,
    Limit,
    LimitKey,
    Outage,
    Plants,
    Reserve,
    Stocked,
)
from aquacalc.uncertainty import Band

RESERVE = Reserve(np.array([6.7]), np.array([1.6]), 3.0, 7.9, 800.0)
"""Oxygen of a power cut, invented."""
STOCKED = Stocked("warm_generic", 200.0, 13.0, 0.8, 26.5, 7.9, 3.0, 1.0, 1.15)
"""Fish of a power cut, invented."""

MONTHS = tuple(range(1, 13))
WATER_C = np.array([9.0, 10.0, 13.0, 17.0, 21.0, 24.5, 26.5, 26.0, 23.0, 18.0, 13.0, 10.0])


def band(middle: object, spread: float = 0.25) -> Band:
    """A band that reaches `spread` below and above its middle."""
    values = np.asarray(middle, dtype=float)
    return Band(values * (1 - spread), values, values * (1 + spread))


def limit(key: LimitKey, must: bool, feed_g_day: object, spread: float = 0.3, counts: bool = True) -> Limit:
    feed = band(feed_g_day, spread)
    kg = Band(feed.low / 14, feed.middle / 14, feed.high / 14)
    count = Band(kg.low / 0.5, kg.middle / 0.5, kg.high / 0.5)
    bed = Band(feed.low / 45, feed.middle / 45, feed.high / 45)
    return Limit(key, must, counts, feed, kg, count, bed)


def balance() -> Balance:
    """Catfish that want more from June to September than the power cut and the oxygen bear."""
    appetite = np.array([0, 0, 18, 55, 105, 150, 185, 190, 150, 70, 15, 0], dtype=float)
    demand = Demand(
        feed_g_day=band(appetite, 0.22),
        fish_kg=band(np.linspace(3.0, 13.0, 12)),
        weight_g=band(np.linspace(90.0, 420.0, 12)),
        ration_pct=band(np.where(appetite > 0, 1.5, 0.0)),
        count=np.full(12, 32.0),
        bed_m2=band(appetite / 45),
    )
    warmth = (WATER_C - 9.0) / 17.5
    power_cut = np.where(WATER_C > 9.9, 150 - 88 * warmth, np.nan)
    limits = (
        limit("oxygen", True, 235 - 95 * warmth),
        limit("nitrification", True, 180 + 420 * warmth, 0.45),
        limit("density", True, np.where(WATER_C > 9.9, 150 + 90 * warmth, np.nan), 0.1),
        limit("power_cut", True, power_cut, 0.3),
        limit("solids", False, np.full(12, 132.0), 0.4),
        limit("plants", False, 60 + 75 * warmth, 0.35),
        limit("turnover", False, np.full(12, 880.0), 0.2),
    )
    july = 6
    return Balance(
        months=MONTHS,
        water_c=Band(WATER_C - 1.8, WATER_C, WATER_C + 1.8),
        saturation_mg_l=band(14.6 - 0.27 * WATER_C, 0.02),
        demand=demand,
        limits=limits,
        binding=Binding(
            "power_cut", 7, 185.0, float(power_cut[july]), 185.0 / float(power_cut[july]), "oxygen", 140.0
        ),
        better=Binding("plants", 8, 190.0, 132.9, 1.43, "solids", 132.0),
        changes=(
            Change("change-backup-air", 20.0, "L/min", "power_cut", band(62.0), band(240.0)),
            Change("change-fewer-fish", 11.0, "", "power_cut", band(62.0), band(62.0)),
        ),
        outage=Outage(
            7,
            26.5,
            0.8,
            band(2.3, 0.4),
            8.0,
            13.0,
            band(3.1),
            band(18.0),
            band(160.0),
            False,
            STOCKED,
            RESERVE,
        ),
        biofilter=Biofilter(
            1,
            band(62.0),
            band(110.0),
            band(240.0),
            band(45.0),
            band(0.0),
            "gravel",
            0.5,
            0.1,
            False,
            12.0,
            known="measured",
        ),
        plants=Plants(
            area_rule_g_day=band(np.full(12, 142.0), 0.15),
            balance_g_day=band(40 + 30 * warmth),
            uptake_g_n_day=band(0.4 + 1.3 * warmth),
            dissolved_g_n_day=band(appetite * 0.32 * 0.083 + 1e-9),
            gas_g_n_day=band(appetite * 0.32 * 0.083 * 0.15 + 1e-9),
            drift_mg_n_l_day=band(appetite * 0.004),
        ),
        first_year_kg=band(2.2),
        first_year_count=band(5.0),
        final_weight_g=450.0,
        flow_l_h=band(1400.0, 0.15),
        turnover_1_h=band(1.25, 0.15),
        measured_flow=False,
        members=200,
        seed=1,
    )


def balance_with_backup() -> Balance:
    """The same garden with air from a battery: the power cut no longer counts, the density binds."""
    before = balance()
    limits = tuple(replace(one, counts=one.key != "power_cut") for one in before.limits)
    assert before.outage is not None
    return replace(
        before,
        limits=limits,
        binding=Binding("oxygen", 7, 185.0, 140.0, 185.0 / 140.0, None, float("nan")),
        outage=replace(before.outage, backed=True),
    )
