"""Designs of others against the limits of the balance: a handbook's tables, a loop of rafts; from memory."""

from dataclasses import replace

import numpy as np
import pytest
from published_rows import hold, ids, rows
from yard import yard

from aquacalc import crops, nitrogen
from aquacalc.film import Surface
from aquacalc.garden.model import Measured, Targets
from aquacalc.sizing import balance, limits, nitrification
from aquacalc.uncertainty import coefficient

ROWS = rows("sizing")


def tilapia(tank_l):
    batch = replace(yard().fish[0], species="nile_tilapia")
    return replace(yard(), fish=(batch,), tanks=(replace(yard().tanks[0], volume_l=tank_l),))


def tank_kg(tank_l):
    return limits.density_kg(tilapia(float(tank_l)))


def bed_m2(tank_l):
    return 10.0 * tank_kg(tank_l) / crops.area_rule_g_m2_d("leafy").high


def turnover_kg(flow_l_h):
    garden = replace(tilapia(1000.0), measured=(Measured("flow", float(flow_l_h), "L/h"),))
    now, _, _ = balance.conditions(garden, members=1)
    return float(limits.turnover_kg(now)[0, 0])


RAFTS = (Surface(214.0 * 8.0, 0.2), Surface(400.0, 0.4))
"""214 m2 of rafts with their roots, and netting tanks taken as 400 m2 (practice)."""
TUFF = (Surface(157.0, 0.4),)
"""3 m2 x 0.3 m of tuff, half of its surface wetted."""
FILTER = Surface(13.15, 0.8)
"""43.8 L of 300 m2/m3."""
ROOTS = Surface(4.0 * 8.0, 0.2)
"""4 m2 of planted raft."""
IN_COMFORT, AT_MOST = (1.0, 0.3), (2.0, 1.0)
COLD_COMFORT = (0.5, 0.1)


def carried(held, celsius, aims, oxygen=6.5):
    """Feed of 32 % protein, g/d, that surfaces carry at TAN and nitrite-N; pH 7, alkalinity 60."""
    garden = replace(yard(), targets=Targets(7.0, oxygen, 60.0))
    names = nitrogen.KINETIC_COEFFICIENTS
    typical = {name: np.array([coefficient(name).typical]) for name in names}
    water_c, nothing = np.array([[float(celsius)]]), np.empty(0)
    now = limits.Conditions(garden, (1,), water_c, nothing, nothing, False, typical)
    wanted = nitrification.Targets(*(np.array([[one]]) for one in aims), np.zeros(1))
    grams_n = nitrification.carried_g_n_day(now, tuple(held), wanted)[0, 0]
    return float(nitrogen.feed_for_tan_g_day(grams_n, 0.32))


def litres(celsius, aims, oxygen=6.5, m2_m3=500.0):
    """Litres of a separate filter for 100 g of feed a day."""
    return 100.0 / carried((Surface(1.0, 0.8),), celsius, aims, oxygen) / m2_m3 * 1000.0


NAMES = {
    name: globals()[name]
    for name in (
        *("tank_kg", "bed_m2", "turnover_kg", "carried", "litres"),
        *("RAFTS", "TUFF", "FILTER", "ROOTS", "IN_COMFORT", "AT_MOST", "COLD_COMFORT"),
    )
}


@pytest.mark.parametrize(("name", "row"), ROWS, ids=ids(ROWS))
def test_row(name: str, row: dict[str, str]):
    hold(row, NAMES)
