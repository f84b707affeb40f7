"""Three invented builds, a balcony, a school corridor and a shed, taken from the tape to the drawing."""

import re

import pytest

from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.loop import flood, freezing, heat, pump, sump, weight
from aquacalc.panels.trouble import three_days

BUILDS = {
    "balcony": {
        "pump": {"flow": 800.0, "head": 1.5, "lift": 0.8, "length": 2.5, "bore": 19.0, "tanks": 200.0},
        "sump": {"running": 60.0, "rim": 90.0, "footprint": 0.25, "beds": 1.0, "drain": 25.0, "surface": 0.4},
        "flood": {"area": 0.3, "inflow": 300.0, "bore": 20.0},
        "weight": {"water": 200.0, "medium_l": 90.0, "own": 30_000.0, "footprint": 0.5, "depth": 0.5},
        "heat": {"water": 300.0, "depth": 0.5, "setpoint": None, "cold": 3.0, "beds": 0.3, "cover": "open"},
    },
    "corridor": {
        "pump": {"flow": 1500.0, "head": 2.0, "lift": 1.0, "length": 3.0, "bore": 25.0, "tanks": 300.0},
        "sump": {"running": 80.0, "rim": 220.0, "footprint": 0.4, "beds": 1.0, "drain": 50.0, "surface": 0.5},
        "flood": {"area": 0.6, "inflow": 500.0, "bore": 25.0},
        "weight": {"water": 300.0, "medium_l": 180.0, "own": 40_000.0, "footprint": 1.0, "depth": 0.6},
        "heat": {
            "water": 450.0,
            "depth": 0.6,
            "setpoint": 24.0,
            "cold": 18.0,
            "beds": 0.6,
            "cover": "indoors",
        },
    },
    "shed": {
        "pump": {"flow": 4000.0, "head": 3.5, "lift": 1.4, "length": 6.0, "bore": 32.0, "tanks": 1200.0},
        "sump": {
            "running": 300.0,
            "rim": 600.0,
            "footprint": 0.8,
            "beds": 3.0,
            "drain": 90.0,
            "surface": 1.5,
        },
        "flood": {"area": 1.2, "inflow": 900.0, "bore": 32.0},
        "weight": {"water": 1200.0, "medium_l": 1000.0, "own": 150_000.0, "footprint": 2.5, "depth": 0.8},
        "heat": {
            "water": 1900.0,
            "depth": 0.8,
            "setpoint": 16.0,
            "cold": -2.0,
            "beds": 3.6,
            "cover": "shade",
        },
    },
}
"""Invented, in L, L/h, m, m2, mm, g and C."""


def answered(panel: Panel, **values: object) -> str:
    panel.fill(values)
    assert not panel.refused
    assert panel.problems.value == ""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", panel.result.value))


@pytest.mark.parametrize("name", sorted(BUILDS))
def test_a_build_goes_from_the_tape_to_the_drawing(name: str):
    typed = BUILDS[name]
    for key, made in (("pump", pump), ("sump", sump), ("flood", flood), ("heat", heat)):
        panel = made.panel()
        assert len(answered(panel, **typed[key])) > 200
        assert "<svg" in panel.result.value, key
    # Each of them is more than a dwelling's floor is made for, or an engineer is asked; nothing "holds".
    said = answered(weight.panel(), **typed["weight"])
    assert re.search(r"over|engineer", said, re.IGNORECASE)
    assert not re.search(r"\bholds\b|\bsafe\b", said)
    assert "°C" in answered(three_days.panel(), volume=typed["heat"]["water"], cover=typed["heat"]["cover"])
    assert "Never thaw" in answered(freezing.panel(), bore=typed["pump"]["bore"])
