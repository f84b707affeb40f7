"""What the season uses, at the grower's prices: feed, electricity, water, and what is given to the water."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import money
from aquacalc.agenda.other_water import DryTime
from aquacalc.agenda.supplies import Supply, whole
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, Floats, band

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

LITRES_PER_M3, GRAMS_PER_KG, WH_PER_KWH = 1000.0, 1000.0, 1000.0


@dataclass(frozen=True, eq=False)
class Line:
    """A line that the plan can reckon.

    amount: of the season, as a band in the unit of `quantity` (a row of `data/quantities.csv`); used: what
    each try uses in the unit of its price, (members,), None where only the amount is told; price: None where
    there is none; free: nothing is paid for it, as for rain from the roof; name: of a product.
    """

    key: str
    amount: Band
    quantity: str
    used: Floats | None = None
    price: float | None = None
    free: bool = False
    name: str = ""

    @property
    def costs(self) -> Floats | None:
        """Cost of the season in each try; None where there is no price."""
        if self.price is None or self.used is None or self.free:
            return None
        costs: Floats = self.used * self.price
        return costs


def lines(
    run: SeasonRun, garden: Garden, supplies: Iterable[Supply], dry: Iterable[DryTime]
) -> tuple[Line, ...]:
    """Feed, electricity, water, other water in dry times, and each product that the season gives."""
    prices, free = garden.prices, garden.top_up.source in ("rain", "well")
    feed_g, water_l, changed_l = (
        run.daily[name].sum(axis=1, dtype=np.float64) for name in ("feed_g", "top_up_l", "changed_l")
    )
    water_l = water_l + changed_l
    kwh = money.season_kwh(garden)
    found = [
        Line("feed", band(feed_g), "mass", feed_g / GRAMS_PER_KG, prices.feed_kg),
        Line(
            "electricity",
            band(np.full(run.members, kwh * WH_PER_KWH)),
            "energy",
            np.full(run.members, kwh),
            prices.electricity_kwh,
        ),
        Line("water", band(water_l), "volume", water_l / LITRES_PER_M3, prices.water_m3, free=free),
    ]
    times = [one for one in dry if not one.may]
    if free and times:
        ends = (sum(getattr(one, f"{end}_l") for one in times) for end in ("low", "middle", "high"))
        found.append(Line("other-water", Band(*(np.asarray(end) for end in ends)), "volume"))
    for one in supplies:
        found.append(Line("supply", whole(one), "mass", name=one.product.name))
    return tuple(found)


def total(found: Sequence[Line]) -> Band | None:
    """What feed, electricity and water cost together; None as long as a price is missing."""
    asked = [line for line in found if line.used is not None and not line.free]
    costs = [line.costs for line in asked]
    known = [cost for cost in costs if cost is not None]
    if not known or len(known) < len(costs):
        return None
    return band(np.sum(known, axis=0))
