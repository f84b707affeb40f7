"""How long does my battery carry what must run, and what battery would carry it long enough?"""

from dataclasses import dataclass
from functools import partial

import numpy as np

from aquacalc import power, words
from aquacalc.garden.fields import bounds
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import Field
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.panels.loop.writing import choice, number
from aquacalc.power import BatterySystem
from aquacalc.uncertainty import MEMBERS, SEED, Band, Floats, band, coefficient, draw

DEPTHS = {"lead": "battery_depth_lead", "lifepo4": "battery_depth_lifepo4"}
"""Kinds of battery, and the row of the share of them that can be used."""


@dataclass(frozen=True)
class Found:
    """Hours that the battery lasts, and nameplate watt-hours for the hours that are wished."""

    hours: Band
    needed_wh: Band
    own_wh: float
    wished_h: float


def controls(reader: words.Reader) -> dict[str, Field]:
    """The battery as it is printed on it, what it carries, how long it should."""
    of = partial(number, reader=reader)
    charge, energy = bounds("battery_charge"), bounds("any_power")
    return {
        "kind": choice("panel-battery-kind", tuple(DEPTHS), reader),
        "volts": of("panel-battery-volts", "voltage", 12.0, 1.0, 120.0),
        "charge": of("panel-battery-charge", "charge", 60.0, charge.low, charge.high),
        "left": of("panel-battery-left", "share", None, 0.05, 1.0, optional=True),
        "between": choice("panel-battery-between", ("inverter", "none"), reader),
        "load": of("panel-battery-load", "power", 20.0, 0.1, energy.high, slide=(1.0, 200.0, 1.0)),
        "hours": of("panel-battery-hours", "time", 12.0, 0.1, 1000.0, slide=(1.0, 48.0, 1.0)),
    }


def compute(values: Values) -> Found:
    """Hours and watt-hours over what is uncertain of batteries; a tested capacity goes before ageing."""
    depth = DEPTHS[values["kind"]]
    names = ("battery_inverter_share", depth, "battery_ageing_share")
    sampled = draw({name: coefficient(name) for name in names}, MEMBERS, SEED)
    left: Floats = (
        sampled["battery_ageing_share"] if values["left"] is None else np.full(MEMBERS, values["left"])
    )
    inverter = values["between"] == "inverter"
    system = BatterySystem(
        sampled["battery_inverter_share"] if inverter else np.ones(MEMBERS), sampled[depth], left
    )
    own = values["volts"] * values["charge"]
    return Found(
        hours=band(power.battery_hours(own, values["load"], system)),
        needed_wh=band(power.battery_wh(values["load"], values["hours"], system)),
        own_wh=own,
        wished_h=values["hours"],
    )


def shown(reader: words.Reader, found: Found) -> html.Html:
    """How long it lasts, and what would last long enough."""
    hours = words.span(float(found.hours.low), float(found.hours.high), "time", reader)
    lines = [
        words.say(
            "panel-battery-needed",
            reader,
            hours=words.quantity(found.wished_h, "time", reader),
            energy=words.span(float(found.needed_wh.low), float(found.needed_wh.high), "energy", reader),
            own=words.quantity(found.own_wh, "energy", reader),
        ),
        words.say("panel-battery-efficient", reader),
        words.say("panel-battery-bench", reader),
        words.say("panel-battery-gas", reader),
    ]
    return answer(words.say("panel-battery-answer", reader, hours=hours), lines)


def known(desk: Desk) -> dict[str, object]:
    """The air that the backup gives as its load, the wait for help as the hours wished."""
    garden = desk.garden
    per_l = coefficient("air_power_w_l_min").typical
    air = garden.power.backup_air_l_min
    told: dict[str, object] = {"hours": max(garden.site.hours_until_help, 0.1)}
    if air > 0.0:
        told["load"] = max(air * per_l, 0.1)
    if garden.power.battery_wh > 0.0:
        told |= {"volts": 12.0, "charge": garden.power.battery_wh / 12.0}
    return told


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("battery", controls(reader), compute, partial(shown, reader), reader)
    if desk is not None:
        desk.fill(made, known)
    return made
