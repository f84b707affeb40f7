"""What does all of it draw in a month, and what does that cost?"""

from dataclasses import dataclass
from functools import partial

from aquacalc import money, power, words
from aquacalc.constants import HOURS_PER_DAY
from aquacalc.garden.fields import bounds
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import Field
from aquacalc.panels.frame.panel import Panel, Values, answer, wide
from aquacalc.panels.frame.rows import Column, RowsField
from aquacalc.panels.loop.writing import number
from aquacalc.sizing import heat

MOST_ROWS = 20


@dataclass(frozen=True)
class Found:
    """What draws power, each with its kWh a month; price: of a kWh, None where not known."""

    devices: tuple[tuple[str, float], ...]
    price: float | None

    @property
    def month_kwh(self) -> float:
        """All of them together."""
        return sum(kwh for _, kwh in self.devices)


def controls(reader: words.Reader) -> dict[str, Field]:
    """A row for each device, and the price."""
    tariff = bounds("tariff")
    columns = [
        Column(words.say("panel-energy-name", reader), "text"),
        Column(words.say("panel-energy-power", reader), "power", 0.0, bounds("any_power").high),
        Column(words.say("panel-energy-hours", reader), "time", 0.0, HOURS_PER_DAY),
    ]
    usual = [
        (words.say(f"panel-energy-{name}", reader), watts, hours)
        for name, watts, hours in (("pump", 45.0, 24.0), ("air", 15.0, 24.0))
    ]
    return {
        "devices": RowsField(words.say("panel-energy-rows", reader), columns, usual, reader, MOST_ROWS),
        "price": number("panel-energy-price", "", None, tariff.low, tariff.high, reader, optional=True),
    }


def compute(values: Values) -> Found:
    """The energy of a mean month."""
    devices = tuple((name, power.month_kwh([(watts, hours)])) for name, watts, hours in values["devices"])
    return Found(devices, values["price"])


def draw(reader: words.Reader, found: Found) -> html.Html:
    """Energy and money, the greediest device, a row for each."""
    said = partial(_energy, reader)
    title = words.say("panel-energy-answer", reader, energy=said(found.month_kwh))
    lines = []
    if found.price is not None:
        cost = words.number(float(power.cost(found.month_kwh, found.price)), 3)
        lines.append(words.say("panel-energy-cost", reader, cost=cost, currency=reader.currency))
    if found.devices:
        greedy, most = max(found.devices, key=lambda one: one[1])
        lines.append(words.say("panel-energy-most", reader, name=greedy, energy=said(most)))
    head = [words.say(f"panel-energy-head-{one}", reader) for one in ("name", "energy")]
    rows = [(name, said(kwh)) for name, kwh in found.devices]
    after = [html.paragraph(words.say(f"panel-energy-{one}", reader)) for one in ("bench", "wet")]
    return answer(title, lines, wide(html.table(head, rows)), *after)


def _energy(reader: words.Reader, kwh: float) -> str:
    return words.quantity(1000.0 * kwh, "energy", reader)


def known(desk: Desk) -> dict[str, object]:
    """Everything in the garden that draws power, its heater for the mean of a usual year, its price."""
    garden, reader = desk.garden, desk.reader
    rows = [
        (one.name or words.say(f"panel-energy-{one.kind}", reader), one.power_w, one.hours_day)
        for one in money.loads(garden)
    ]
    if garden.heat.heater_w > 0.0:
        rows.append((words.say("panel-energy-heater", reader), garden.heat.heater_w, heat.hours_day(garden)))
    return {"devices": rows[:MOST_ROWS], "price": garden.prices.electricity_kwh}


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("energy", controls(reader), compute, partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, known)
    return made
