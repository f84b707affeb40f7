"""What a pump delivers: its curve against the lift and the losses of the pipe."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from aquacalc.constants import STANDARD_GRAVITY_M_S2, Numbers
from aquacalc.hydraulics.pipes import L_H_PER_M3_S, head_loss_m
from aquacalc.hydraulics.water import density_kg_m3
from aquacalc.possible import possible

Floats = NDArray[np.float64]

_HALVINGS = 50


@dataclass(frozen=True)
class Line:
    """A pipe with its fittings. `losses` is the sum of their K; the last line of a pump includes an exit."""

    length_m: Numbers
    bore_mm: Numbers
    losses: Numbers = 1.0
    roughness_mm: Numbers = 0.0015

    def head_m(self, flow_l_h: Numbers, temperature_c: Numbers = 20.0) -> Numbers:
        """Head lost at a flow."""
        return head_loss_m(
            flow_l_h, self.bore_mm, self.length_m, self.losses, self.roughness_mm, temperature_c
        )


@possible
def box_curve_head_m(
    flow_l_h: Numbers, box_flow_l_h: Numbers, box_head_m: Numbers, exponent: Numbers = 1.5
) -> Numbers:
    """Head at a flow from the two numbers on a pump's box; exponent 1.0 to 2.0 (common practice, no source).

    >>> box_curve_head_m(1500.0, 3000.0, 3.0, 1.0)
    1.5
    """
    return box_head_m * (1.0 - (flow_l_h / box_flow_l_h) ** exponent)


@possible
def duty_flow_l_h(
    box_flow_l_h: Numbers,
    box_head_m: Numbers,
    lift_m: Numbers,
    lines: tuple[Line, ...] = (),
    exponent: Numbers = 1.5,
    temperature_c: Numbers = 20.0,
) -> Numbers:
    """Flow at which the pump's head equals lift and losses, L/h; 0 where the lift is beyond its reach.

    lift_m: from the lowest running level of the sump to the level (or pipe end in the air) above.
    Age and fouling are not in it: multiply by 0.6 to 0.95.
    Own reckoning; the wear is common practice, no source.

    >>> line = Line(length_m=4.0, bore_mm=25.0, losses=4.3)
    >>> round(float(duty_flow_l_h(3000.0, 3.0, 1.2, (line,), exponent=2.0)))
    1965
    """
    low: Numbers = 0.0 * (box_flow_l_h + box_head_m + lift_m + exponent)
    width = box_flow_l_h + low
    for _ in range(_HALVINGS):
        width = width / 2.0
        flow = low + width
        needed = lift_m + sum(line.head_m(flow, temperature_c) for line in lines)
        low = low + width * (box_curve_head_m(flow, box_flow_l_h, box_head_m, exponent) > needed)
    return (low + width / 2.0) * (box_head_m > lift_m)


@possible
def branch_flows_l_h(
    box_flow_l_h: float,
    box_head_m: float,
    riser: Line,
    branches: tuple[tuple[float, Line], ...],
    exponent: float = 1.5,
    temperature_c: float = 20.0,
) -> Floats:
    """Flows of parallel branches behind one riser, L/h; each branch has its lift in m and its line.

    All branches share the head where the riser ends; the higher or longer one gets less. Own reckoning.

    >>> riser = Line(2.0, 25.0, 2.5)
    >>> beds = ((1.2, Line(2.0, 20.0, 3.0)), (1.4, Line(5.0, 20.0, 4.0)))
    >>> [int(round(float(flow), -1)) for flow in branch_flows_l_h(3000.0, 3.0, riser, beds, exponent=2.0)]
    [1290, 590]
    """
    lifts = np.array([lift for lift, _ in branches])
    lines = tuple(line for _, line in branches)

    def flows_at(node_head_m: float) -> Floats:
        return np.array(
            [
                _flow_at_head_l_h(node_head_m - lift, line, box_flow_l_h, temperature_c)
                for lift, line in zip(lifts, lines, strict=True)
            ]
        )

    low, high = 0.0, box_head_m
    for _ in range(_HALVINGS):
        node = (low + high) / 2.0
        total = flows_at(node).sum()
        supplied = box_curve_head_m(total, box_flow_l_h, box_head_m, exponent) - riser.head_m(
            total, temperature_c
        )
        if supplied > node:
            low = node
        else:
            high = node
    return flows_at(low)


def _flow_at_head_l_h(head_m: float, line: Line, most_l_h: float, temperature_c: float) -> float:
    if head_m <= 0.0:
        return 0.0
    low, high = 0.0, most_l_h
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if line.head_m(middle, temperature_c) < head_m:
            low = middle
        else:
            high = middle
    return low


@possible
def table_curve_head_m(flow_l_h: ArrayLike, flows_l_h: ArrayLike, heads_m: ArrayLike) -> Floats:
    """Head at a flow from the maker's points: smooth, never overshooting; NaN beyond the ends.

    At least three points, flows rising. Piecewise cubic with the slopes of Fritsch and Butland 1984, as in
    the usual PCHIP routines (from memory).

    >>> float(table_curve_head_m(1200.0, [0.0, 1200.0, 2400.0], [2.5, 1.7, 0.0]))
    1.7
    """
    x, y = np.asarray(flows_l_h, dtype=np.float64), np.asarray(heads_m, dtype=np.float64)
    step, rise = np.diff(x), np.diff(y) / np.diff(x)
    slopes = np.concatenate(
        [
            [_end_slope(step[0], step[1], rise[0], rise[1])],
            _inner_slopes(step, rise),
            [_end_slope(step[-1], step[-2], rise[-1], rise[-2])],
        ]
    )
    flow = np.asarray(flow_l_h, dtype=np.float64)
    piece = np.clip(np.searchsorted(x, flow, side="right") - 1, 0, x.size - 2)
    t = (flow - x[piece]) / step[piece]
    head = (
        (1.0 + 2.0 * t) * (1.0 - t) ** 2 * y[piece]
        + t * (1.0 - t) ** 2 * step[piece] * slopes[piece]
        + t**2 * (3.0 - 2.0 * t) * y[piece + 1]
        + t**2 * (t - 1.0) * step[piece] * slopes[piece + 1]
    )
    inside: Floats = np.where((flow >= x[0]) & (flow <= x[-1]), head, np.nan)
    return inside


def _inner_slopes(step: Floats, rise: Floats) -> Floats:
    # A weighted harmonic mean of both sides; level where they disagree.
    before, after = 2.0 * step[1:] + step[:-1], step[1:] + 2.0 * step[:-1]
    with np.errstate(divide="ignore", invalid="ignore"):
        harmonic = (before + after) / (before / rise[:-1] + after / rise[1:])
    slopes: Floats = np.where(rise[:-1] * rise[1:] > 0.0, harmonic, 0.0)
    return slopes


def _end_slope(step: float, next_step: float, rise: float, next_rise: float) -> float:
    # A parabola through three points, held back where it would bend the wrong way.
    slope = ((2.0 * step + next_step) * rise - step * next_rise) / (step + next_step)
    if slope * rise <= 0.0:
        return 0.0
    if rise * next_rise <= 0.0 and abs(slope) > 3.0 * abs(rise):
        return 3.0 * rise
    return slope


def fitted_curve(flows_l_h: ArrayLike, heads_m: ArrayLike) -> tuple[float, float, float]:
    """Least-squares a, b, c of head = a + b Q + c Q2 (Q in L/h) through own readings; c never above 0.

    Exact, by least squares.
    """
    flows, heads = np.asarray(flows_l_h, dtype=np.float64), np.asarray(heads_m, dtype=np.float64)
    c, b, a = np.polyfit(flows, heads, 2)
    if c > 0.0:
        c = 0.0
        b, a = np.polyfit(flows, heads, 1)
    return float(a), float(b), float(c)


@possible
def hydraulic_power_w(flow_l_h: Numbers, head_m: Numbers, temperature_c: Numbers = 20.0) -> Numbers:
    """Power given to the water, W; losses of pump and motor not included. By definition.

    >>> round(hydraulic_power_w(3600.0, 2.0), 2)
    19.58
    """
    return density_kg_m3(temperature_c) * STANDARD_GRAVITY_M_S2 * flow_l_h / L_H_PER_M3_S * head_m


@possible
def wire_to_water(flow_l_h: Numbers, head_m: Numbers, plug_w: Numbers) -> Numbers:
    """Share of the power drawn that reaches the water; 0.05 to 0.30 in small pumps.

    By definition; the range of small pumps is common practice, no source.
    """
    return hydraulic_power_w(flow_l_h, head_m) / plug_w
