"""Turnover and mixing of a tank.

A small tank with a side inlet and air stones is close to fully mixed (Watten and Beck 1987, abstract read).
Flow in L/h, volume in L, waste in g/h.
"""

import numpy as np

from aquacalc.constants import Numbers
from aquacalc.possible import possible


@possible
def turnover_per_h(flow_l_h: Numbers, volume_l: Numbers) -> Numbers:
    """Tank volumes that pass in an hour. By definition.

    >>> turnover_per_h(2000.0, 1000.0)
    2.0
    """
    return flow_l_h / volume_l


@possible
def mean_flow_l_h(flow_l_h: Numbers, share_on: Numbers) -> Numbers:
    """Mean flow of a pump that runs a share of the time. By definition.

    >>> mean_flow_l_h(3000.0, 0.25)
    750.0
    """
    return flow_l_h * share_on


def replaced_share(turnover_per_h: Numbers, hours: Numbers) -> Numbers:
    """Share of a mixed tank's water that has been replaced after some hours.

    Exact, by mass balance of a mixed tank.

    >>> round(float(replaced_share(2.0, 0.5)), 4)
    0.6321
    """
    return 1.0 - np.exp(-turnover_per_h * hours)


@possible
def rise_mg_l(waste_g_h: Numbers, flow_l_h: Numbers) -> Numbers:
    """Rise of a waste on the way through the tank, mg/L. Exact, by mass balance.

    >>> rise_mg_l(0.25, 1000.0)
    0.25
    """
    return 1000.0 * waste_g_h / flow_l_h


@possible
def closed_loop_mg_l(waste_g_h: Numbers, flow_l_h: Numbers, removal_per_pass: Numbers) -> Numbers:
    """Waste in the tank of a loop whose filter takes a share of it at each pass, mg/L.

    Exact, by mass balance in the steady state.

    >>> round(closed_loop_mg_l(0.25, 1000.0, 0.30), 4)
    0.8333
    """
    return rise_mg_l(waste_g_h, flow_l_h) / removal_per_pass


def flow_for_oxygen_l_h(use_g_h: Numbers, inflow_mg_l: Numbers, least_mg_l: Numbers) -> Numbers:
    """Flow that carries the oxygen used when nothing else brings any, L/h; infinite without a difference.

    Exact, by mass balance in the steady state.

    >>> float(flow_for_oxygen_l_h(5.0, 7.5, 5.5))
    2500.0
    """
    difference = np.maximum(inflow_mg_l - least_mg_l, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        return 1000.0 * np.divide(use_g_h, difference)


@possible
def oxygen_with_aeration_mg_l(
    flow_l_h: Numbers,
    inflow_mg_l: Numbers,
    transfer_l_h: Numbers,
    saturation_mg_l: Numbers,
    use_g_h: Numbers,
) -> Numbers:
    """Oxygen in a mixed tank with inflow and aeration of a given strength (kLa times volume), mg/L.

    Exact, by mass balance in the steady state.

    >>> round(oxygen_with_aeration_mg_l(2000.0, 7.0, 1500.0, 8.26, 5.0), 3)
    6.111
    """
    carried = flow_l_h * inflow_mg_l + transfer_l_h * saturation_mg_l - 1000.0 * use_g_h
    return carried / (flow_l_h + transfer_l_h)


@possible
def oxygen_lost_in_pause_mg_l(use_g_h: Numbers, volume_l: Numbers, hours: Numbers) -> Numbers:
    """Fall of oxygen while pump and air both rest, mg/L. Exact, by mass balance.

    >>> oxygen_lost_in_pause_mg_l(5.0, 1000.0, 0.75)
    3.75
    """
    return 1000.0 * use_g_h * hours / volume_l
