"""The handbook's component table against the limits of the balance, from memory of the handbook."""

from dataclasses import replace

import pytest
from published_rows import hold, ids, rows
from yard import yard

from aquacalc import crops
from aquacalc.garden.model import Measured
from aquacalc.sizing import balance, limits

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


@pytest.mark.parametrize(("name", "row"), ROWS, ids=ids(ROWS))
def test_row(name: str, row: dict[str, str]):
    hold(row, {"tank_kg": tank_kg, "bed_m2": bed_m2, "turnover_kg": turnover_kg})
