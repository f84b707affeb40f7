"""What a pump delivers through its pipe, with its uncertainty; branches; the pump to look for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from aquacalc.hydraulics import pipes, pump
from aquacalc.hydraulics.pump import Box, Curve, Fitted, Line, Points
from aquacalc.uncertainty import MEMBERS, SEED, Band, Floats, band, coefficient, draw

Surface = Literal["new", "fouled", "corrugated"]
Strainer = Literal["none", "clean", "dirty"]
End = Literal["", "none", "beyond"]

ROUGHNESS: dict[Surface, str] = {
    "new": "roughness_new_mm",
    "fouled": "roughness_fouled_mm",
    "corrugated": "roughness_corrugated_mm",
}
"""What the inside of a pipe is like, to its row in the table of coefficients."""

WEAR = ("pump_ageing_share", "box_curve_exponent")
OUTLET_LOSS = 1.0
"""All of the velocity head is lost where the pipe ends; exact."""


def worn_l_h(
    curve: Curve, lift_m: Floats | float, lines: tuple[Line, ...], sampled: Mapping[str, Floats]
) -> Floats:
    """Flow of a pump that is as old and fouled as they are, L/h, (members,); sampled: `WEAR`."""
    flow: Floats = sampled["pump_ageing_share"] * pump.curve_flow_l_h(curve, lift_m, lines)
    return flow


@dataclass(frozen=True)
class PressureLine:
    """The pipe from the pump: length, true bore, what it is like inside, its fittings.

    The usual number of fittings is common practice, no source.
    """

    length_m: float
    bore_mm: float
    surface: Surface = "fouled"
    elbows: float = 3.0
    valves: float = 1.0
    strainer: Strainer = "none"

    def losses(self) -> float:
        """Sum of the losses of entrance, elbows, valves, strainer and outlet, on the pipe's velocity head."""
        strainer = coefficient("loss_strainer")
        return (
            OUTLET_LOSS
            + coefficient("loss_entrance_sharp").typical
            + self.elbows * coefficient("loss_elbow_90").typical
            + self.valves * coefficient("loss_ball_valve").typical
            + {"none": 0.0, "clean": strainer.typical, "dirty": strainer.high}[self.strainer]
        )

    def line(self, roughness_mm: Floats | float) -> Line:
        """The same for the formulas."""
        return Line(self.length_m, self.bore_mm, self.losses(), roughness_mm)


@dataclass(frozen=True)
class Pumped:
    """A pump, known by its table or by its box, and what it pumps against.

    points: rows of flow and head, empty for the box. own: they are readings of one's own. lift_m: static
    height where there is a line, else the whole head.
    """

    box_flow_l_h: float
    box_head_m: float
    lift_m: float
    points: tuple[tuple[float, float], ...] = ()
    own: bool = False
    line: PressureLine | None = None

    def curve(self, exponent: Floats | float) -> Box | Points | Fitted:
        """Its curve; raises `InputError` with the rows of a table that cannot be."""
        if self.points:
            return pump.points_curve(self.points, self.own)
        return Box(self.box_flow_l_h, self.box_head_m, exponent)

    def lines(self, roughness_mm: Floats | float) -> tuple[Line, ...]:
        """Its pipe for the formulas."""
        return () if self.line is None else (self.line.line(roughness_mm),)


@dataclass(frozen=True)
class Delivered:
    """What comes out. flow_l_h: as worn as pumps are; new_l_h: the same pump new, middle values.

    head_m: at the pump, at the new pump's flow. dirty_l_h: new, with its strainer clogged; NaN without one.
    end: `none` where the pump does not reach so high, `beyond` where its table ends before.
    """

    flow_l_h: Band
    new_l_h: float
    head_m: float
    velocity_m_s: float
    dirty_l_h: float
    end: End


def delivered(asked: Pumped, members: int = MEMBERS, seed: int = SEED) -> Delivered:
    """The flow of a pump with its range, over the wear of pumps, the shape of its curve and its pipe."""
    surface = ROUGHNESS[asked.line.surface if asked.line else "new"]
    sampled = draw({name: coefficient(name) for name in (*WEAR, surface)}, members, seed)
    flow = worn_l_h(
        asked.curve(sampled["box_curve_exponent"]), asked.lift_m, asked.lines(sampled[surface]), sampled
    )
    curve = asked.curve(coefficient("box_curve_exponent").typical)
    lines = asked.lines(coefficient(surface).typical)
    new = float(pump.curve_flow_l_h(curve, asked.lift_m, lines))
    head = asked.lift_m + float(sum(line.head_m(new) for line in lines))
    return Delivered(
        flow_l_h=band(np.broadcast_to(flow, (members,))),
        new_l_h=new,
        head_m=head,
        velocity_m_s=float(pipes.velocity_m_s(new, asked.line.bore_mm)) if asked.line else float("nan"),
        dirty_l_h=_dirty(asked, curve),
        end=_end(curve, new, head),
    )


def _dirty(asked: Pumped, curve: Curve) -> float:
    if asked.line is None or asked.line.strainer == "none":
        return float("nan")
    clogged = replace(asked, line=replace(asked.line, strainer="dirty"))
    roughness = coefficient(ROUGHNESS[asked.line.surface]).typical
    return float(pump.curve_flow_l_h(curve, asked.lift_m, clogged.lines(roughness)))


def _end(curve: Curve, new_l_h: float, head_m: float) -> End:
    if new_l_h == 0.0:
        return "none"
    most = float(curve.most_l_h)
    # Where the last row still gives more head than is asked, the table says no more.
    ended = new_l_h >= most * (1.0 - 1e-9) and float(curve.head_m(most)) > head_m * (1.0 + 1e-6)
    return "beyond" if ended else ""


@dataclass(frozen=True)
class Wanted:
    """The pump to look for: a flow at a head when it is new, and what its box would say, low and high.

    box_l_h: NaN where the top head of the pump at hand does not reach that head.
    """

    flow_l_h: float
    head_m: float
    box_l_h: tuple[float, float]


def wanted(asked: Pumped, flow_l_h: float) -> Wanted:
    """The pump that gives a flow through the same pipe once it is as worn as pumps are."""
    lines = asked.lines(coefficient(ROUGHNESS[asked.line.surface if asked.line else "new"]).typical)
    new = flow_l_h / coefficient("pump_ageing_share").typical
    head = asked.lift_m + float(sum(line.head_m(flow_l_h) for line in lines))
    top = float(asked.curve(1.0).head_m(asked.curve(1.0).least_l_h))
    exponent = coefficient("box_curve_exponent")
    ends = [
        float(pump.box_flow_for_l_h(new, head, top, n)) if head < top else float("nan")
        for n in (exponent.high, exponent.low)
    ]
    return Wanted(new, head, (ends[0], ends[1]))


@dataclass(frozen=True)
class Branch:
    """A line from the riser to one bed: its name, the height where it ends, its pipe."""

    name: str
    lift_m: float
    line: PressureLine


def branched(asked: Pumped, branches: Sequence[Branch]) -> Floats:
    """Flows of parallel branches, L/h, middle values, as worn as pumps are; asked: the pump and its riser.

    An outlet stands at the end of each branch, not of the riser.
    """
    riser = asked.lines(coefficient(ROUGHNESS[asked.line.surface if asked.line else "new"]).typical)
    whole = riser[0] if riser else Line(0.0, 1000.0, 0.0)
    found = pump.branch_flows_l_h(
        asked.curve(coefficient("box_curve_exponent").typical),
        replace(whole, losses=max(float(np.asarray(whole.losses)) - OUTLET_LOSS, 0.0)),
        tuple(
            (one.lift_m, one.line.line(coefficient(ROUGHNESS[one.line.surface]).typical)) for one in branches
        ),
    )
    return coefficient("pump_ageing_share").typical * found
