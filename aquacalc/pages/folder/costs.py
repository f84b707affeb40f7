"""What the season costs: what the plan can reckon, and lines to fill in."""

from __future__ import annotations

from collections.abc import Sequence

from aquacalc import money, words
from aquacalc.agenda.costs import Line, total
from aquacalc.pages import bands
from aquacalc.pages.html import Html, element, join, paragraph, section, shortened, table
from aquacalc.pages.plan import Plan
from aquacalc.uncertainty import Band, band

NAME_LETTERS = 40
TO_FILL = ("fish", "seed", "tests", "spares", "other")
MONEY_DIGITS = 2
PER_US = {"feed": (1.0, "biomass", 1.0), "water": (1000.0, "volume", 1000.0)}
"""For readers of US units: what a price of the garden file is for, its kind of quantity, and for how many of
the reader's units the price is told."""


def page(plan: Plan) -> Html:
    """The table to fill in."""
    run, agenda = plan.season, plan.agenda
    if run is None or agenda is None:
        return Html("")
    found = agenda.costs
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


def _row(plan: Plan, line: Line) -> tuple[str, ...]:
    name = shortened(line.name, NAME_LETTERS) if line.name else plan.say(f"costs-{line.key}")
    amount = bands.span(line.amount, line.quantity, plan.reader)
    if line.free:
        source = plan.say(f"facts-source-{plan.garden.top_up.source}")
        return name, amount, plan.say("costs-free", source=source), "", ""
    price = "" if line.price is None else _price(plan, line.key, line.price)
    cost = "" if line.costs is None else _money(plan, band(line.costs))
    return name, amount, price, cost, ""


def _price(plan: Plan, key: str, price: float) -> str:
    """A price as the reader's shops tell it: by the pound and the gallon for readers of US units."""
    if plan.reader.units == "us" and key in PER_US:
        sold, kind, by = PER_US[key]
        told = _with_currency(plan, f"{by * price / words.convert(sold, kind, plan.reader):.2f}")
        return plan.say(f"costs-price-{key}-us", price=told)
    return plan.say(f"costs-price-{key}", price=_with_currency(plan, f"{price:.2f}"))


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
