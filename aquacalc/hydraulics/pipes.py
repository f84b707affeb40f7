"""Head lost in pipes and fittings, and how much a gravity line passes.

Bores are true inside diameters in mm; head in m of water; flow in L/h; roughness in mm.
"""

import math

import numpy as np

from aquacalc.constants import STANDARD_GRAVITY_M_S2, Numbers
from aquacalc.hydraulics.water import density_kg_m3, viscosity_pa_s
from aquacalc.possible import possible

L_H_PER_M3_S = 3.6e6  # exact
WEIR_AND_ORIFICE = 0.6  # discharge coefficient of a standpipe's lip (from memory)


@possible
def bore_area_m2(bore_mm: Numbers) -> Numbers:
    """Cross-section of a bore, m2. Exact, by geometry."""
    return math.pi / 4.0 * (bore_mm / 1000.0) ** 2


@possible
def velocity_m_s(flow_l_h: Numbers, bore_mm: Numbers) -> Numbers:
    """Mean velocity in a full pipe. By definition.

    >>> round(velocity_m_s(1964.0, 25.0), 2)
    1.11
    """
    return flow_l_h / L_H_PER_M3_S / bore_area_m2(bore_mm)


@possible
def reynolds(flow_l_h: Numbers, bore_mm: Numbers, temperature_c: Numbers = 20.0) -> Numbers:
    """Reynolds number of a full pipe; nothing is sure between 2000 and 4000. By definition."""
    viscosity = viscosity_pa_s(temperature_c) / density_kg_m3(temperature_c)
    return velocity_m_s(flow_l_h, bore_mm) * bore_mm / 1000.0 / viscosity


def friction_factor(reynolds: Numbers, relative_roughness: Numbers) -> Numbers:
    """Darcy's friction factor for every regime. Source: CHURCHILL77 (from memory).

    Within 3.5 % of Colebrook at Re 4000 and 2.2 % from 10 000, closest in smooth pipes.

    >>> round(float(friction_factor(1000.0, 0.0)), 4)
    0.064
    """
    re = np.maximum(reynolds, 1e-9)
    a = (2.457 * np.log(1.0 / ((7.0 / re) ** 0.9 + 0.27 * relative_roughness))) ** 16
    b = (37530.0 / re) ** 16
    return 8.0 * ((8.0 / re) ** 12 + (a + b) ** -1.5) ** (1.0 / 12.0)


@possible
def velocity_head_m(flow_l_h: Numbers, bore_mm: Numbers) -> Numbers:
    """Head of the moving water, by which losses of fittings are counted. By definition."""
    return velocity_m_s(flow_l_h, bore_mm) ** 2 / (2.0 * STANDARD_GRAVITY_M_S2)


@possible
def head_loss_m(
    flow_l_h: Numbers,
    bore_mm: Numbers,
    length_m: Numbers,
    losses: Numbers = 0.0,
    roughness_mm: Numbers = 0.0015,
    temperature_c: Numbers = 20.0,
) -> Numbers:
    """Head lost in a pipe with fittings, m; `losses` is the sum of their K, one exit included.

    By Darcy's law with `friction_factor`, from memory.

    >>> round(float(head_loss_m(2000.0, 25.0, 10.0)), 1)
    0.6
    """
    factor = friction_factor(reynolds(flow_l_h, bore_mm, temperature_c), roughness_mm / bore_mm)
    return (factor * length_m / (bore_mm / 1000.0) + losses) * velocity_head_m(flow_l_h, bore_mm)


@possible
def bore_for_head_mm(
    flow_l_h: float,
    head_m: float,
    length_m: float,
    losses: float,
    roughness_mm: float = 0.1,
    temperature_c: float = 20.0,
) -> float:
    """Smallest bore, mm, of a full line that passes a flow with a given head; 4 to 1000 mm.

    Own reckoning: `head_loss_m` turned round.

    >>> round(bore_for_head_mm(2000.0, 0.030, 3.0, 4.0), 1)
    47.5
    """
    low, high = 4.0, 1000.0
    for _ in range(60):
        middle = (low + high) / 2.0
        if head_loss_m(flow_l_h, middle, length_m, losses, roughness_mm, temperature_c) > head_m:
            low = middle
        else:
            high = middle
    return high


@possible
def orifice_l_h(bore_mm: Numbers, head_m: Numbers, coefficient: Numbers = 0.61) -> Numbers:
    """Flow through a hole; coefficient 0.60 to 0.62 sharp, 0.8 for a short tube (from memory).

    >>> round(orifice_l_h(10.0, 0.30), 1)
    418.4
    """
    return L_H_PER_M3_S * coefficient * bore_area_m2(bore_mm) * (2.0 * STANDARD_GRAVITY_M_S2 * head_m) ** 0.5


@possible
def standpipe_l_h(bore_mm: Numbers, head_m: Numbers) -> Numbers:
    """Flow over the lip of a standpipe: a round weir while shallow, then a hole; the smaller counts.

    Weir and hole with a coefficient of 0.6, from memory.

    >>> round(float(standpipe_l_h(69.0, 0.010))), round(float(standpipe_l_h(44.0, 0.020)))
    (1382, 2057)
    """
    root = (2.0 * STANDARD_GRAVITY_M_S2) ** 0.5
    rim_m = math.pi * bore_mm / 1000.0
    weir = L_H_PER_M3_S * 2.0 / 3.0 * WEIR_AND_ORIFICE * root * rim_m * head_m**1.5
    found: Numbers = np.minimum(weir, orifice_l_h(bore_mm, head_m, WEIR_AND_ORIFICE))
    return found


@possible
def standpipe_head_m(flow_l_h: Numbers, bore_mm: Numbers) -> Numbers:
    """Height of the water over the lip of a standpipe that takes a flow, m.

    Own reckoning: `standpipe_l_h` turned round.

    >>> round(float(standpipe_head_m(1382.0, 69.0)), 4)
    0.01
    """
    root = (2.0 * STANDARD_GRAVITY_M_S2) ** 0.5
    flow_m3_s = flow_l_h / L_H_PER_M3_S
    weir = (1.5 * flow_m3_s / (WEIR_AND_ORIFICE * root * math.pi * bore_mm / 1000.0)) ** (2.0 / 3.0)
    hole = (flow_m3_s / (WEIR_AND_ORIFICE * root * bore_area_m2(bore_mm))) ** 2
    found: Numbers = np.maximum(weir, hole)
    return found


@possible
def self_venting_l_h(bore_mm: Numbers, froude: Numbers = 0.3) -> Numbers:
    """Flow that an open drop pipe passes quietly, its core full of air: velocity/sqrt(g D) up to 0.3.

    Source: HILLS83 (read-2nd). Above it the pipe gurgles and begins to siphon.

    >>> round(self_venting_l_h(57.0))
    2060
    """
    return L_H_PER_M3_S * froude * bore_area_m2(bore_mm) * (STANDARD_GRAVITY_M_S2 * bore_mm / 1000.0) ** 0.5


@possible
def self_venting_bore_mm(flow_l_h: Numbers, froude: Numbers = 0.3) -> Numbers:
    """Bore of a drop pipe that passes a flow quietly, mm. Source: as `self_venting_l_h`.

    >>> round(self_venting_bore_mm(2000.0), 2)
    56.33
    """
    flow_m3_s = flow_l_h / L_H_PER_M3_S
    found: Numbers = 1000.0 * (4.0 * flow_m3_s / (froude * math.pi * STANDARD_GRAVITY_M_S2**0.5)) ** 0.4
    return found


@possible
def sloped_pipe(
    bore_mm: Numbers, slope: Numbers, depth_ratio: Numbers, manning: Numbers = 0.010
) -> tuple[Numbers, Numbers]:
    """Flow (L/h) and velocity (m/s) of a sloped pipe filled to a share of its bore, 0 to 1, by Manning.

    Manning's n of plastic pipe 0.009 to 0.012 (from memory).

    >>> [round(float(v), 1) for v in sloped_pipe(69.0, 0.01, 0.5)]
    [4493.5, 0.7]
    """
    bore_m = bore_mm / 1000.0
    angle = 2.0 * np.arccos(1.0 - 2.0 * depth_ratio)
    wet_area = bore_m**2 * (angle - np.sin(angle)) / 8.0
    hydraulic_radius = wet_area / (bore_m * angle / 2.0)
    velocity = hydraulic_radius ** (2.0 / 3.0) * slope**0.5 / manning
    return L_H_PER_M3_S * wet_area * velocity, velocity


@possible
def sloped_pipe_depth_ratio(flow_l_h: float, bore_mm: float, slope: float, manning: float = 0.010) -> float:
    """Share of the bore that a flow fills in a sloped pipe; infinite where it cannot carry the flow.

    Own reckoning: `sloped_pipe` turned round.

    >>> round(sloped_pipe_depth_ratio(2000.0, 69.0, 0.01), 3)
    0.321
    """
    low, high = 0.0, 0.938  # a pipe carries most just before it is full
    if sloped_pipe(bore_mm, slope, high, manning)[0] < flow_l_h:
        return math.inf
    for _ in range(60):
        middle = (low + high) / 2.0
        if sloped_pipe(bore_mm, slope, middle, manning)[0] < flow_l_h:
            low = middle
        else:
            high = middle
    return high
