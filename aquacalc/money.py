"""What a season draws in electricity, and what amounts cost at a price."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from aquacalc import power
from aquacalc.constants import HOURS_PER_DAY

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden


@dataclass(frozen=True)
class Load:
    """Something that draws power, and in how many hours of a day it does; name: empty for the air pump, the
    lamps and others of which a garden has one."""

    kind: str
    name: str
    power_w: float
    hours_day: float


def loads(garden: Garden) -> tuple[Load, ...]:
    """All that draws power by the clock: pumps, air, lamps, named devices.

    A heater is left out: how long it runs depends on the weather.
    """
    found = [
        Load("pump", pump.name, pump.power_w * pump.count, HOURS_PER_DAY * pump.share_on)
        for pump in garden.pumps
    ]
    if garden.air is not None:
        found.append(Load("air", "", garden.air.power_w, HOURS_PER_DAY))
    found.append(Load("lamps", "", garden.light.power_w, garden.light.hours))
    found += [Load("device", one.name, one.power_w, one.hours_day) for one in garden.power.devices]
    return tuple(one for one in found if one.power_w > 0.0 and one.hours_day > 0.0)


def season_kwh(garden: Garden) -> float:
    """Electricity of the season's days, kWh, without a heater."""
    days = (garden.season.end - garden.season.start).days + 1
    return sum(float(power.energy_kwh(one.power_w, one.hours_day * days)) for one in loads(garden))
