"""What the season costs: what the plan can reckon, and lines to fill in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from aquacalc import money, words
from aquacalc.pages import bands
from aquacalc.pages.html import Html, element, join, paragraph, section, table
from aquacalc.pages.plan import Plan
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, Floats, band

TO_FILL = ("fish", "seed", "tests", "salts", "spares", "other")
LITRES_PER_M3, GRAMS_PER_KG, WH_PER_KWH = 1000.0, 1000.0, 1000.0
MONEY_DIGITS = 2


@dataclass(frozen=True, eq=False)
class Line:
    """A line that the plan can reckon: what each try uses in the unit of its price, (members,), the same in
    words, its price.

    free: nothing is paid for it, as for rain from the roof.
    """

    key: str
    amounts: Floats
    text: str
    price: float | None
    free: bool = False

    @property
    def costs(self) -> Floats | None:
        """Cost of the season in each try; None where there is no price."""
        if self.price is None or self.free:
            return None
        costs: Floats = self.amounts * self.price
        return costs


def page(plan: Plan) -> Html:
    """The table to fill in."""
    run = plan.season
    if run is None:
        return Html("")
    found = lines(plan, run)
    head = [plan.say(f"costs-head-{name}") for name in ("what", "amount", "price", "cost", "paid")]
    rows: list[Sequence[str]] = [_row(plan, line) for line in found]
    rows += [(plan.say(f"costs-{name}"), "", "", "", "") for name in TO_FILL]
    whole = total(found)
    last = "" if whole is None else _money(plan, whole)
    rows.append((element("b", plan.say("costs-total")), "", "", element("b", last), ""))
    notes = [plan.say("costs-power", loads=_loads(plan))]
    if plan.garden.heat.heater_w > 0.0:
        notes.append(plan.say("costs-heater"))
    if whole is None:
        notes.append(plan.say("costs-no-total"))
    title = "costs-title" if whole is None else "costs-title-total"
    return section(
        plan.say(title, cost=last),
        join(bands.tries(plan, run), table(head, rows, "write costs")),
        paragraph(" ".join(notes), "small"),
    )


def lines(plan: Plan, run: SeasonRun) -> tuple[Line, ...]:
    """Feed, electricity and water of the season."""
    prices, reader = plan.garden.prices, plan.reader
    feed_g, water_l = (run.daily[name].sum(axis=1) for name in ("feed_g", "top_up_l"))
    kwh = money.season_kwh(plan.garden)
    return (
        Line("feed", feed_g / GRAMS_PER_KG, bands.span(band(feed_g), "mass", reader), prices.feed_kg),
        Line(
            "electricity",
            np.full(run.members, kwh),
            plan.quantity(kwh * WH_PER_KWH, "energy"),
            prices.electricity_kwh,
        ),
        Line(
            "water",
            water_l / LITRES_PER_M3,
            bands.span(band(water_l), "volume", reader),
            prices.water_m3,
            free=plan.garden.top_up.source in ("rain", "well"),
        ),
    )


def total(found: Sequence[Line]) -> Band | None:
    """What the lines cost together; None as long as a price is missing."""
    costs = [line.costs for line in found if not line.free]
    known = [cost for cost in costs if cost is not None]
    if not known or len(known) < len(costs):
        return None
    return band(np.sum(known, axis=0))


def _row(plan: Plan, line: Line) -> tuple[str, ...]:
    name = plan.say(f"costs-{line.key}")
    if line.free:
        source = plan.say(f"facts-source-{plan.garden.top_up.source}")
        return name, line.text, plan.say("costs-free", source=source), "", ""
    price = "" if line.price is None else plan.say(f"costs-price-{line.key}", price=_price(plan, line.price))
    cost = "" if line.costs is None else _money(plan, band(line.costs))
    return name, line.text, price, cost, ""


def _price(plan: Plan, price: float) -> str:
    return _with_currency(plan, f"{price:.2f}")


def _money(plan: Plan, cost: Band) -> str:
    low, high = float(cost.low), float(cost.high)
    return _with_currency(plan, words.span(low, high, "ratio", plan.reader, MONEY_DIGITS))


def _with_currency(plan: Plan, amount: str) -> str:
    return words.NO_BREAK_SPACE.join(part for part in (amount, plan.reader.currency) if part)


def _loads(plan: Plan) -> str:
    names = [
        plan.say(
            f"costs-load-{load.kind}",
            name=load.name,
            power=plan.quantity(load.power_w, "power"),
            hours=plan.quantity(load.hours_day, "time"),
        )
        for load in money.loads(plan.garden)
    ]
    return words.listed(names, plan.reader) or plan.say("facts-none")
