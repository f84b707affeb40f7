"""Flood and drain: how long it takes, whether a siphon starts and stops, an hour of it."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from aquacalc.constants import HOURS_PER_DAY, SECONDS_PER_HOUR
from aquacalc.hydraulics import beds, flood
from aquacalc.hydraulics.beds import Siphon
from aquacalc.hydraulics.flood import Drained
from aquacalc.uncertainty import Floats, coefficient

Odds = Literal["likely", "doubtful", "unlikely"]
Arranged = Literal["together", "turn", "apart"]

SETTLING_S = 7200
"""Seconds that run before the hour that is shown, so that it does not show the first filling."""
SHOWN_S = 3600


@dataclass(frozen=True)
class Flooded:
    """A bed that floods and drains, and those beside it.

    water_l: between its lowest and its flood level; depth_m: that height; lowest_m: of the lowest level.
    inflow_l_h: to this bed while it fills. siphon: None for a hole of hole_mm in the standpipe's foot and a
    timer of on_min and off_min. count: beds alike on this pump. arranged: all together, in turn, or each at
    its own time. sump_l: water in the sump with the beds drained.
    """

    water_l: float
    depth_m: float
    lowest_m: float
    inflow_l_h: float
    siphon: Siphon | None
    hole_mm: float
    on_min: float
    off_min: float
    count: int
    arranged: Arranged
    sump_l: float

    @property
    def surface_m2(self) -> float:
        """Area times drainable share, as the water tells."""
        return self.water_l / beds.LITRES_PER_M3 / self.depth_m

    @property
    def runs_s(self) -> int:
        """Seconds for which water runs into this bed at a time: a timer's, or the turn that it gets."""
        return turn_s(self) if self.arranged == "turn" else max(round(60.0 * self.on_min), 1)

    @property
    def rests_s(self) -> int:
        """Seconds between two such times."""
        if self.arranged == "turn":
            return (self.count - 1) * turn_s(self)
        return max(round(60.0 * self.off_min), 0)

    @property
    def top_m(self) -> float:
        """Flood level over the floor."""
        return self.lowest_m + self.depth_m


@dataclass(frozen=True)
class Cycle:
    """What comes of it. fill_s, drain_s: infinite where it never gets there. mature_s: fill of a mature bed.

    starts_l_h, stops_l_h: windows of inflow, from low to high end. exchange_l_day: what rises
    in the first bed in a day, as in that hour. minutes,
    bed_l, sump_l: an hour after it has settled; bed_l by bed.
    """

    fill_s: float
    mature_s: float
    drain_s: float
    per_h: float
    exchange_l_day: float
    starts_l_h: tuple[float, float]
    stops_l_h: tuple[float, float]
    starts: Odds
    stops: Odds
    minutes: Floats
    bed_l: tuple[Floats, ...]
    sump_l: Floats


def cycle(of: Flooded) -> Cycle:
    """Times, windows, odds and an hour of it."""
    siphon = of.siphon
    fill = float(beds.fill_time_s(of.water_l, of.inflow_l_h))
    starts_at, stops_at = (0.0, 0.0), (math.inf, math.inf)
    starts: Odds = "likely"
    stops: Odds = "likely"
    if siphon is not None:
        drain = beds.siphon_drain_s(siphon, of.surface_m2, 1.0, of.top_m, of.lowest_m, of.inflow_l_h)
        prime, share = coefficient("siphon_prime_velocity"), coefficient("siphon_break_share")
        starts_at = float(siphon.priming_l_h(prime.low)), float(siphon.priming_l_h(prime.high))
        stops_at = (
            float(siphon.breaking_l_h(of.lowest_m, share.low)),
            float(siphon.breaking_l_h(of.lowest_m, share.high)),
        )
        starts = _odds(of.inflow_l_h, *starts_at)
        stops = _odds(-of.inflow_l_h, -stops_at[1], -stops_at[0])
    else:
        lowest = max(of.lowest_m, 1e-4)
        fill = beds.hole_fill_s(of.hole_mm, of.surface_m2, 1.0, of.top_m, lowest, of.inflow_l_h)
        drain = beds.hole_drain_s(of.hole_mm, of.surface_m2, 1.0, of.top_m, lowest)
    per_h = _floods_per_h(of, fill, drain)
    if "unlikely" in (starts, stops):
        per_h = 0.0
    minutes, each, sump = hour(of, starts != "unlikely", stops != "unlikely")
    return Cycle(
        fill_s=fill,
        mature_s=fill * coefficient("voids_share").low,
        drain_s=drain,
        per_h=per_h,
        exchange_l_day=float(np.maximum(np.diff(each[0]), 0.0).sum()) * HOURS_PER_DAY,
        starts_l_h=starts_at,
        stops_l_h=stops_at,
        starts=starts,
        stops=stops,
        minutes=minutes,
        bed_l=each,
        sump_l=sump,
    )


def _odds(value: float, low: float, high: float) -> Odds:
    return "unlikely" if value < low else "doubtful" if value < high else "likely"


def _floods_per_h(of: Flooded, fill_s: float, drain_s: float) -> float:
    if not math.isfinite(fill_s) or not math.isfinite(drain_s):
        return 0.0
    if of.arranged == "turn":
        return SECONDS_PER_HOUR / (of.count * turn_s(of))
    if of.siphon is None:
        return SECONDS_PER_HOUR / (of.runs_s + of.rests_s) if fill_s <= of.runs_s else 0.0
    return float(beds.floods_per_h(fill_s, drain_s))


def turn_s(of: Flooded) -> int:
    """How long each bed gets all the water when they take turns: its fill and a tenth more."""
    return max(round(1.1 * float(beds.fill_time_s(of.water_l, of.inflow_l_h))), 60)


def hour(of: Flooded, starts: bool = True, stops: bool = True) -> tuple[Floats, tuple[Floats, ...], Floats]:
    """Minutes, water of each bed and of the sump through an hour, once it has settled, by the second."""
    bed = Drained(of.surface_m2, of.top_m, of.lowest_m, of.siphon, of.hole_mm, starts=starts, stops=stops)
    seconds = SETTLING_S + SHOWN_S
    whole = of.inflow_l_h * (1 if of.arranged == "turn" else of.count)
    inflows = flood.shared_inflow(whole, of.count, turn_s(of), seconds, of.arranged == "turn")
    if of.siphon is None and of.arranged != "turn":
        on, off = of.runs_s, of.rests_s
        inflows = [
            flood.pulsed(one, on, off, k * (on + off) // of.count if of.arranged == "apart" else 0)
            for k, one in enumerate(inflows)
        ]
    begin = [
        bed.swing_l * k / of.count if of.arranged == "apart" and of.siphon is not None else 0.0
        for k in range(of.count)
    ]
    alike = of.arranged == "together"
    runs = [
        flood.run(bed, inflow, start)[0]
        for inflow, start in list(zip(inflows, begin, strict=True))[: 1 if alike else of.count]
    ]
    each = tuple(one[SETTLING_S:] for one in (runs * of.count if alike else runs))
    sump = of.sump_l - np.sum(np.asarray(each), axis=0)
    return np.arange(SHOWN_S + 1) / 60.0, each, sump
