"""What a pump delivers: its curve against the lift and the losses of the pipe."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from aquacalc.constants import STANDARD_GRAVITY_M_S2, Numbers
from aquacalc.errors import InputError, Problem
from aquacalc.hydraulics.pipes import L_H_PER_M3_S, head_loss_m
from aquacalc.hydraulics.water import density_kg_m3
from aquacalc.possible import possible

Floats = NDArray[np.float64]

_HALVINGS = 50
_BRANCH_HALVINGS = 32
"""Of the span between both ends, where it is halved in two loops: to a billionth of it."""


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


class Curve(Protocol):
    """What a pump gives: a head for every flow between its ends, falling."""

    @property
    def least_l_h(self) -> float:
        """Flow at its first point."""

    @property
    def most_l_h(self) -> Numbers:
        """Flow at its last point."""

    def head_m(self, flow_l_h: Numbers) -> Numbers:
        """Head at a flow between both."""


@dataclass(frozen=True)
class Box:
    """A curve drawn through the two figures of a box; see `box_curve_head_m`."""

    flow_l_h: Numbers
    top_m: Numbers
    exponent: Numbers = 1.5

    @property
    def least_l_h(self) -> float:
        """It begins with no flow at all."""
        return 0.0

    @property
    def most_l_h(self) -> Numbers:
        """The flow of the box, at no head."""
        return self.flow_l_h

    def head_m(self, flow_l_h: Numbers) -> Numbers:
        """Head at a flow."""
        return box_curve_head_m(flow_l_h, self.flow_l_h, self.top_m, self.exponent)


@dataclass(frozen=True)
class Points:
    """A curve through the rows of a table, which come back exactly; `check_points` says which rows do."""

    flows_l_h: tuple[float, ...]
    heads_m: tuple[float, ...]

    @property
    def least_l_h(self) -> float:
        """Flow of its first row."""
        return self.flows_l_h[0]

    @property
    def most_l_h(self) -> float:
        """Flow of its last row."""
        return self.flows_l_h[-1]

    def head_m(self, flow_l_h: Numbers) -> Numbers:
        """Head at a flow."""
        return table_curve_head_m(flow_l_h, self.flows_l_h, self.heads_m)


@dataclass(frozen=True)
class Fitted:
    """The smooth curve nearest to readings of one's own; see `fitted_curve`."""

    flows_l_h: tuple[float, ...]
    heads_m: tuple[float, ...]

    @property
    def least_l_h(self) -> float:
        """The smallest flow that was read."""
        return min(self.flows_l_h)

    @property
    def most_l_h(self) -> float:
        """The largest flow that was read."""
        return max(self.flows_l_h)

    def head_m(self, flow_l_h: Numbers) -> Numbers:
        """Head at a flow."""
        a, b, c = fitted_curve(self.flows_l_h, self.heads_m)
        return a + b * flow_l_h + c * flow_l_h**2


LEAST_POINTS = 3


def check_points(points: Sequence[tuple[float, float]]) -> list[Problem]:
    """What keeps rows of flow and head from being a pump's table, with the number of the row from 1.

    Flows rise, heads fall, none is below zero, and there are at least three rows.
    """
    if len(points) < LEAST_POINTS:
        return [Problem("problem-curve-short", "", str(len(points)), (str(LEAST_POINTS),))]
    found = []
    for row, (flow, head) in enumerate(points, start=1):
        if flow < 0.0 or head < 0.0:
            found.append(Problem("problem-curve-zero", "", f"{flow:.4g} L/h, {head:.3g} m", (str(row),)))
            continue
        if row == 1:
            continue
        before_l_h, before_m = points[row - 2]
        if flow <= before_l_h:
            found.append(Problem("problem-curve-flow", "", f"{flow:.4g} L/h", (str(row),)))
        elif head >= before_m:
            found.append(Problem("problem-curve-head", "", f"{head:.3g} m", (str(row),)))
    return found


def points_curve(points: Sequence[tuple[float, float]], own: bool = False) -> Points | Fitted:
    """The curve of a table of flow (L/h) and head (m); own: read by oneself, so that it is smoothed.

    Raises `InputError` with every row that cannot be.

    >>> float(points_curve([(0.0, 2.5), (1200.0, 1.7), (2400.0, 0.0)]).head_m(1200.0))
    1.7
    """
    if problems := check_points(points):
        raise InputError(problems)
    flows, heads = tuple(flow for flow, _ in points), tuple(head for _, head in points)
    return Fitted(flows, heads) if own else Points(flows, heads)


def _crossing(
    below: Callable[[Numbers], Numbers], low: Numbers, high: Numbers, halvings: int = _HALVINGS
) -> Numbers:
    """Where something ceases to be below: halved from both ends; numbers or arrays."""
    width = high - low
    for _ in range(halvings):
        width = width / 2.0
        low = low + width * below(low + width)
    return low + width / 2.0


@possible
def curve_flow_l_h(
    curve: Curve, lift_m: Numbers, lines: tuple[Line, ...] = (), temperature_c: Numbers = 20.0
) -> Numbers:
    """Flow at which a curve's head equals lift and losses, L/h: 0 where its first point does not reach them,
    its last point where that still gives more head than is needed.

    lift_m: from the lowest running level of the sump to the level (or pipe end in the air) above.
    Age and fouling are not in it: multiply by 0.6 to 0.95. Own reckoning; the wear is common practice, no
    source.

    >>> line = Line(length_m=4.0, bore_mm=25.0, losses=4.3)
    >>> round(float(curve_flow_l_h(Box(3000.0, 3.0, 2.0), 1.2, (line,))))
    1965
    """
    least = curve.least_l_h

    def needed_m(flow: Numbers) -> Numbers:
        return lift_m + sum(line.head_m(flow, temperature_c) for line in lines)

    shape = 0.0 * (lift_m + curve.most_l_h + curve.head_m(least))
    flow = _crossing(lambda at: curve.head_m(at) > needed_m(at), least + shape, curve.most_l_h + shape)
    return flow * (curve.head_m(least) > needed_m(least))


@possible
def box_flow_for_l_h(
    flow_l_h: Numbers, head_m: Numbers, box_head_m: Numbers, exponent: Numbers = 1.5
) -> Numbers:
    """Flow that must stand on the box of a pump which is to give a flow at a head; infinite beyond its reach.

    Own reckoning: `box_curve_head_m` turned round.

    >>> float(box_flow_for_l_h(1500.0, 1.5, 3.0, 1.0))
    3000.0
    """
    left = np.maximum(1.0 - head_m / box_head_m, 0.0)
    with np.errstate(divide="ignore"):
        found: Numbers = np.divide(flow_l_h, left ** (1.0 / exponent))
    return found


@possible
def branch_flows_l_h(
    curve: Curve,
    riser: Line,
    branches: tuple[tuple[float, Line], ...],
    temperature_c: float = 20.0,
) -> Floats:
    """Flows of parallel branches behind one riser, L/h; each branch has its lift in m and its line.

    All branches share the head where the riser ends; the higher or longer one gets less. Own reckoning.

    >>> riser = Line(2.0, 25.0, 2.5)
    >>> beds = ((1.2, Line(2.0, 20.0, 3.0)), (1.4, Line(5.0, 20.0, 4.0)))
    >>> [int(round(float(flow), -1)) for flow in branch_flows_l_h(Box(3000.0, 3.0, 2.0), riser, beds)]
    [1290, 590]
    """
    lift = np.array([one for one, _ in branches])
    length, bore, losses, roughness = (
        np.array([getattr(line, name) for _, line in branches], dtype=np.float64)
        for name in ("length_m", "bore_mm", "losses", "roughness_mm")
    )
    together = Line(length, bore, losses, roughness)
    none, most = np.zeros(lift.size), np.full(lift.size, float(curve.most_l_h))

    def flows_at(node_head_m: Numbers) -> Floats:
        head = node_head_m - lift
        found = _crossing(
            lambda flow: together.head_m(flow, temperature_c) < head, none, most, _BRANCH_HALVINGS
        )
        return np.asarray(found * (head > 0.0))

    def supplied_above(node_head_m: Numbers) -> Numbers:
        # A node head at which the branches take more than the pump has is too high.
        total = float(flows_at(node_head_m).sum())
        if total > curve.most_l_h:
            return 0.0
        given = curve.head_m(max(total, curve.least_l_h)) - riser.head_m(total, temperature_c)
        return float(given > node_head_m)

    top_m = float(curve.head_m(curve.least_l_h))
    return flows_at(_crossing(supplied_above, 0.0, top_m, _BRANCH_HALVINGS))


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
