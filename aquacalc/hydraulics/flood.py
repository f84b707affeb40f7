"""Flood-and-drain beds by the second: how their water rises and falls, and what that leaves in the sump.

Plain floats in one loop: an hour of four beds takes some hundredths of a second. Water is an amount, L, so
that what leaves one vessel stands in another.
"""

import math
from dataclasses import dataclass

import numpy as np

from aquacalc.constants import SECONDS_PER_HOUR, STANDARD_GRAVITY_M_S2
from aquacalc.hydraulics.beds import LITRES_PER_M3, Siphon
from aquacalc.hydraulics.pipes import bore_area_m2
from aquacalc.hydraulics.pump import Floats
from aquacalc.possible import possible


@dataclass(frozen=True)
class Drained:
    """A bed by how it empties: a siphon, or a hole at the foot of its standpipe.

    surface_m2: of its water, the area times the drainable share. top_m: where it overflows or a siphon
    starts. lowest_m: down to which it empties. siphon: None for a hole. hole_mm: its bore.
    starts, stops: whether the inflow starts the siphon and lets it stop.
    """

    surface_m2: float
    top_m: float
    lowest_m: float
    siphon: Siphon | None = None
    hole_mm: float = 0.0
    hole_coefficient: float = 0.61
    starts: bool = True
    stops: bool = True

    @property
    def swing_l(self) -> float:
        """Water between both levels."""
        return LITRES_PER_M3 * self.surface_m2 * (self.top_m - self.lowest_m)


@possible
def run(bed: Drained, inflow_l_h: Floats, water_l: float = 0.0) -> tuple[Floats, Floats]:
    """Water over the lowest level and outflow of a bed, second by second: L, and L in that second.

    inflow_l_h: of each second. water_l: at the beginning, above the lowest level. The first value is that of
    the beginning, so that there is one more than of the inflow. Own reckoning, by mass balance.
    """
    per_root, fall = _per_root_l_s(bed)
    per_m = LITRES_PER_M3 * bed.surface_m2
    full = bed.swing_l
    siphoning = False
    water, flows = [water_l], []
    now = water_l
    for inflow in (inflow_l_h / SECONDS_PER_HOUR).tolist():
        if bed.siphon is not None and now >= full - 1e-9 and bed.starts:
            siphoning = True
        runs = siphoning or bed.siphon is None
        out = per_root * math.sqrt(max(bed.lowest_m + now / per_m + fall, 0.0)) if runs else 0.0
        if siphoning and not bed.stops and now <= 0.0:
            out = inflow
        out = min(out, now + inflow)
        now = max(now + inflow - out, 0.0)
        if now > full:  # over the lip
            out, now = out + now - full, full
        if siphoning and bed.stops and now <= 1e-9:
            siphoning = False
        water.append(now)
        flows.append(out)
    return np.array(water), np.array(flows)


def _per_root_l_s(bed: Drained) -> tuple[float, float]:
    """Flow for the root of a metre of head, L/s, and the fall that counts as head, m."""
    if bed.siphon is not None:
        return float(bed.siphon.flow_l_h(1.0 - bed.siphon.fall_m)) / SECONDS_PER_HOUR, bed.siphon.fall_m
    root = (2.0 * STANDARD_GRAVITY_M_S2) ** 0.5
    return LITRES_PER_M3 * bed.hole_coefficient * float(bore_area_m2(bed.hole_mm)) * root, 0.0


@possible
def shared_inflow(flow_l_h: float, count: int, turn_s: int, seconds: int, in_turn: bool) -> list[Floats]:
    """Inflow of each bed by the second: an equal share all the time, or all of it for `turn_s` in turn.

    By definition.
    """
    if not in_turn:
        return [np.full(seconds, flow_l_h / count) for _ in range(count)]
    whose = (np.arange(seconds) // turn_s) % count
    return [np.where(whose == k, flow_l_h, 0.0) for k in range(count)]


@possible
def pulsed(inflow_l_h: Floats, on_s: int, off_s: int, begin_s: int = 0) -> Floats:
    """The same inflow with a timer's pauses; it begins `begin_s` seconds into its period, runs first.

    By definition.
    """
    at = (np.arange(inflow_l_h.size) + begin_s) % (on_s + off_s)
    return np.where(at < on_s, inflow_l_h, 0.0)
