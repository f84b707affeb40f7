"""What a gravity line passes, how high the water stands for it, and what happens when it is blocked."""

import math
from dataclasses import dataclass

from aquacalc.hydraulics import beds, pipes
from aquacalc.hydraulics.beds import LITRES_PER_M3
from aquacalc.sizing.delivery import OUTLET_LOSS
from aquacalc.uncertainty import coefficient

ROUGHNESS_MM = 0.1
"""Of a gravity line with a thin film. Common practice, no source."""
CAPACITY_FACTOR = 2.0
"""An outlet is sized for so many times the flow. Common practice, no source."""
MOVES_M_S, SETTLES_M_S = 0.7, 0.3
"""From which velocity solids keep moving (read in a university course text), under which they settle (common
practice, no source)."""
HALF = 0.5
SLOPE = 0.01


@dataclass(frozen=True)
class Outlet:
    """A gravity line of a tank. flow_l_h: the pump's without any head, the most that can come.

    freeboard_m: from the running level to the brim. drawn_l: water that the pump can take from the sump.
    emergency_mm: bore of a second outlet higher up, NaN without one.
    """

    flow_l_h: float
    bore_mm: float
    length_m: float
    elbows: float
    slope: float
    surface_m2: float
    freeboard_m: float
    drawn_l: float
    emergency_mm: float = math.nan


@dataclass(frozen=True)
class Passes:
    """What the line does at that flow.

    surcharge_m: head that it takes running full. lip_m: height over a standpipe's lip of its bore.
    quiet_l_h: most that a drop pipe of its bore passes quietly. quiet_mm: bore for this flow. half_l_h: what
    it carries half full at its slope. filled: share of its bore that is filled, infinite where it is too
    small. bore_mm: bore that would take the doubled flow within the freeboard's half. spill_s: seconds to the
    brim when it is blocked. floor_l: what then runs out. second_l_h: what a second outlet at the
    running level takes before the brim, 0 without.
    """

    surcharge_m: float
    lip_m: float
    velocity_m_s: float
    quiet_l_h: float
    quiet_mm: float
    half_l_h: float
    filled: float
    bore_mm: float
    spill_s: float
    floor_l: float
    second_l_h: float

    def fits(self, freeboard_m: float) -> bool:
        """Whether the water stays under the brim."""
        return max(self.surcharge_m, self.lip_m) < freeboard_m

    @property
    def holds(self) -> bool:
        """Whether all that the pump can draw finds room under the brims."""
        return self.floor_l <= 0.0


def passes(outlet: Outlet) -> Passes:
    """All of it at once."""
    losses = OUTLET_LOSS + coefficient("loss_entrance_sharp").typical
    losses += outlet.elbows * coefficient("loss_elbow_90").typical
    spare_l = LITRES_PER_M3 * outlet.surface_m2 * outlet.freeboard_m
    room_m = max(outlet.freeboard_m * HALF, 1e-3)
    no_second = math.isnan(outlet.emergency_mm)
    second = 0.0 if no_second else float(pipes.standpipe_l_h(outlet.emergency_mm, outlet.freeboard_m))
    return Passes(
        surcharge_m=float(
            pipes.head_loss_m(outlet.flow_l_h, outlet.bore_mm, outlet.length_m, losses, ROUGHNESS_MM)
        ),
        lip_m=float(pipes.standpipe_head_m(outlet.flow_l_h, outlet.bore_mm)),
        velocity_m_s=float(pipes.velocity_m_s(outlet.flow_l_h, outlet.bore_mm)),
        quiet_l_h=float(pipes.self_venting_l_h(outlet.bore_mm)),
        quiet_mm=float(pipes.self_venting_bore_mm(outlet.flow_l_h)),
        half_l_h=float(pipes.sloped_pipe(outlet.bore_mm, outlet.slope, HALF)[0]),
        filled=float(pipes.sloped_pipe_depth_ratio(outlet.flow_l_h, outlet.bore_mm, outlet.slope)),
        bore_mm=pipes.bore_for_head_mm(
            CAPACITY_FACTOR * outlet.flow_l_h, room_m, outlet.length_m, losses, ROUGHNESS_MM
        ),
        spill_s=float(beds.spill_time_s(outlet.surface_m2, outlet.freeboard_m, outlet.flow_l_h)),
        floor_l=outlet.drawn_l - spare_l,
        second_l_h=second,
    )
