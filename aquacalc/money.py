"""What a season draws in electricity, and what a year of a garden costs and is worth."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from aquacalc import power
from aquacalc.constants import DAYS_PER_WEEK, DAYS_PER_YEAR, HOURS_PER_DAY

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


# --- a year in money and hours


@dataclass(frozen=True)
class Account:
    """A year of a garden, money in one currency.

    fish_kg, crops_kg: what is eaten, given or sold, and what a kilogram of each is worth (`..._worth_kg`);
    kwh, heat_kwh: electricity of what runs by the clock, and of a heater; fish, seed, other: what is bought
    in a year, other being tests, salts, repairs; build, build_years: what building cost, and how long it
    lasts; hours_week, wage_hour: work, and what an hour of it would be paid.
    """

    fish_kg: float
    crops_kg: float
    fish_worth_kg: float
    crops_worth_kg: float
    feed_kg: float
    feed_price_kg: float
    kwh: float
    heat_kwh: float
    price_kwh: float
    water_m3: float
    water_price_m3: float
    fish: float
    seed: float
    other: float
    build: float
    build_years: float
    hours_week: float
    wage_hour: float

    @property
    def worth(self) -> float:
        """What was grown is worth."""
        return self.fish_kg * self.fish_worth_kg + self.crops_kg * self.crops_worth_kg

    @property
    def costs(self) -> Mapping[str, float]:
        """What the year costs by lines, without work."""
        return {
            "feed": self.feed_kg * self.feed_price_kg,
            "power": self.kwh * self.price_kwh,
            "heat": self.heat_kwh * self.price_kwh,
            "water": self.water_m3 * self.water_price_m3,
            "fish": self.fish,
            "seed": self.seed,
            "other": self.other,
            "wear": self.build / self.build_years,
        }

    @property
    def spent(self) -> float:
        """All of the costs."""
        return sum(self.costs.values())

    @property
    def left(self) -> float:
        """What the year leaves before work is counted; below zero where it costs more than it grows."""
        return self.worth - self.spent

    @property
    def hours(self) -> float:
        """Work of the year."""
        return self.hours_week * DAYS_PER_YEAR / DAYS_PER_WEEK

    @property
    def labour(self) -> float:
        """Work of the year at its wage."""
        return self.hours * self.wage_hour

    @property
    def left_an_hour(self) -> float:
        """What an hour of work leaves; NaN without work."""
        return self.left / self.hours if self.hours > 0.0 else float("nan")

    def cost_kg(self, with_labour: bool) -> float:
        """Cost of a kilogram of what was grown, fish and crops alike; NaN where nothing was."""
        grown = self.fish_kg + self.crops_kg
        spent = self.spent + (self.labour if with_labour else 0.0)
        return spent / grown if grown > 0.0 else float("nan")


CASES = {"poor": (0.4, 1.3), "fair": (1.0, 1.0), "good": (1.25, 0.9)}
"""Harvest and hours of a poor and of a good year against a fair one; many beginners harvest a third of what
handbooks tell. Common practice, no source."""


def cases(fair: Account) -> Mapping[str, Account]:
    """A poor, a fair and a good year: other harvests and hours, the same bills."""
    return {
        key: replace(
            fair,
            fish_kg=fair.fish_kg * harvest,
            crops_kg=fair.crops_kg * harvest,
            hours_week=fair.hours_week * hours,
        )
        for key, (harvest, hours) in CASES.items()
    }


TRIED = {
    "harvest": 0.2,
    "crops_worth": 0.5,
    "feed": -0.2,
    "power": -0.25,
    "heat": -1.0,
    "lasts": 1.0,
    "hours": -0.25,
}
"""Changes that are tried one by one, as a share of what is. Our own choice."""


def changed(year: Account, key: str) -> Account:
    """The account with one change of `TRIED`."""
    times = 1.0 + TRIED[key]
    return {
        "harvest": replace(year, fish_kg=year.fish_kg * times, crops_kg=year.crops_kg * times),
        "crops_worth": replace(year, crops_worth_kg=year.crops_worth_kg * times),
        "feed": replace(year, feed_kg=year.feed_kg * times),
        "power": replace(year, kwh=year.kwh * times),
        "heat": replace(year, heat_kwh=year.heat_kwh * times),
        "lasts": replace(year, build_years=year.build_years * times),
        "hours": replace(year, hours_week=year.hours_week * times),
    }[key]
