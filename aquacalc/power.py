"""Power: energy and its cost, and the batteries that bridge a cut."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from aquacalc.constants import Numbers
from aquacalc.possible import possible

HOURS_PER_MONTH = 730.0
"""A twelfth of 8760 hours."""


@dataclass(frozen=True)
class BatterySystem:
    """Shares of a battery's nameplate that reach the device; ageing includes cold."""

    converter: Numbers
    depth_of_discharge: Numbers
    ageing: Numbers


LEAD_COEFFICIENTS = ("battery_inverter_share", "battery_depth_lead", "battery_ageing_share")


def lead_with_inverter(values: Mapping[str, Numbers]) -> BatterySystem:
    """Lead-acid battery and a mains pump on an inverter, from the values of `LEAD_COEFFICIENTS` by name."""
    return BatterySystem(*(values[name] for name in LEAD_COEFFICIENTS))


def energy_kwh(power_w: Numbers, hours: Numbers) -> Numbers:
    """Energy of a load that runs for `hours`. By definition.

    >>> energy_kwh(45.0, 24.0)
    1.08
    """
    return power_w * hours / 1000.0


def month_kwh(loads: Iterable[tuple[float, float]]) -> float:
    """Energy of a mean month of loads given as (watts, hours a day). By definition.

    >>> round(month_kwh([(45.0, 24.0)]), 2)
    32.85
    """
    return sum(watts * hours for watts, hours in loads) / 24.0 * HOURS_PER_MONTH / 1000.0


def cost(energy_kwh: Numbers, price_kwh: Numbers) -> Numbers:
    """Cost of energy in the currency of the price. By definition."""
    return energy_kwh * price_kwh


def battery_wh(power_w: Numbers, hours: Numbers, system: BatterySystem) -> Numbers:
    """Nameplate watt-hours of a battery that carries a load for `hours`.

    By definition of the shares; for these BATTERY (read) and common practice, no source.

    >>> round(battery_wh(20.0, 12.0, BatterySystem(0.85, 0.5, 0.8)), 1)
    705.9
    """
    return power_w * hours / (system.converter * system.depth_of_discharge * system.ageing)


def battery_hours(battery_wh: Numbers, power_w: Numbers, system: BatterySystem) -> Numbers:
    """Hours that a battery of a nameplate carries a load. Source: as `battery_wh`."""
    return battery_wh * system.converter * system.depth_of_discharge * system.ageing / power_w


@possible
def array_w(energy_kwh_d: Numbers, peak_sun_hours: Numbers, efficiency: Numbers = 0.70) -> Numbers:
    """Solar panels for a daily energy, W; peak-sun hours of the worst month in kWh/m2/d.

    efficiency: 0.65 to 0.80 from panel to load. By definition; the efficiency is from memory.

    >>> round(array_w(1.44, 4.0), 1)
    514.3
    """
    return 1000.0 * energy_kwh_d / (peak_sun_hours * efficiency)


@possible
def storage_kwh(
    energy_kwh_d: Numbers, days: Numbers, depth_of_discharge: Numbers, ageing: Numbers = 0.9
) -> Numbers:
    """Battery of a solar system that carries `days` without sun, nameplate kWh.

    By definition of the shares; for these BATTERY (read) and common practice, no source.
    """
    return energy_kwh_d * days / (depth_of_discharge * ageing)
