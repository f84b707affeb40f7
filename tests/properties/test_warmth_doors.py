"""One garden has one water: the balance, the season and the heat panel tell the same temperature by month."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest
import random_gardens
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from aquacalc.climate import months
from aquacalc.garden.file import GardenFile
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.loop import heat as heat_panel
from aquacalc.season import weather
from aquacalc.sizing import balance
from aquacalc.sizing.limits import Conditions
from aquacalc.uncertainty import band, coefficient, draw

DEMOS = ("yard", "greenhouse", "classroom", "southern")


def panel_c(at: Desk) -> np.ndarray:
    """The months of the panel, filled from the garden, without its heater: (low, middle, high)."""
    known = heat_panel.known(at)
    values = {**heat_panel.panel().values, **known, "setpoint": None}
    free = heat_panel.compute(at, values).ways[0].free_c
    return np.array([free.low, free.middle, free.high])


def months_c(now: Conditions) -> np.ndarray:
    """The months of the balance, January first: (low, middle, high)."""
    found = [band(now.water_c[:, now.months.index(month)], axis=0) for month in range(1, 13)]
    return np.array([[one.low, one.middle, one.high] for one in found]).T


@pytest.mark.parametrize("name", DEMOS)
def test_balance_season_and_panel_have_one_water(name: str):
    at = desk.open_desk(f"demo:{name}")
    assert at.garden.heat.setpoint_c is None
    now, _, _ = balance.conditions(at.garden)
    told = months_c(now)
    assert panel_c(at) == pytest.approx(told, abs=1e-9)
    filled = heat_panel.panel(at)
    assert heat_panel.compute(at, filled.values).ways[0].free_c.middle == pytest.approx(told[1], abs=1e-6)

    sampled = draw({one: coefficient(one) for one in weather.COEFFICIENTS})
    usual = weather.weather_of(at.garden, sampled, at.garden.season.start, 365, 1, anomalies=False)
    month = months.month_of_day()[weather.day_of_year(at.garden.season.start, 365)]
    for place in range(12):
        # Each member's own days come back to its month; the middle of the days' means is that of the month.
        mean = usual.water_c[month == place].mean(axis=0)
        assert np.median(mean) == pytest.approx(max(told[1, place], 0.0), abs=0.15)


@st.composite
def unheated(draw: st.DrawFn) -> random_gardens.Data:
    """A random garden without a heater, wrapped or not, in air of known humidity or not."""
    data = draw(random_gardens.gardens())
    data["heat"] = {
        "cover": draw(st.booleans()),
        "insulation_mm": draw(random_gardens.number(0, 150)),
        "night_bypass": draw(st.booleans()),
    }
    if draw(st.booleans()):
        data["site"]["climate"]["humidity_pct"] = [draw(random_gardens.number(15, 100))] * 12
    if draw(st.booleans()):
        data["measured"] = [{"what": "water_temperature", "value": "17 C", "day": date(2027, 3, 4)}]
    return data


def test_balance_and_panel_of_any_garden_have_one_water(tmp_path: Path):
    path = tmp_path / "garden.toml"

    @settings(max_examples=20, suppress_health_check=[HealthCheck.too_slow])
    @given(unheated())
    def held(data: random_gardens.Data) -> None:
        path.write_text(random_gardens.text_of(data), "utf-8")
        at = Desk(GardenFile.open(str(path), date(2027, 1, 1)))
        now, _, _ = balance.conditions(at.garden)
        told = months_c(now)
        assert panel_c(at) == pytest.approx(told, abs=1e-9)

    held()
