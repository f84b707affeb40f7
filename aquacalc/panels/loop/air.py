"""Is there oxygen through the worst day, what brings it, and which air pump would be enough?"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from aquacalc import fish, words
from aquacalc.aeration import STONE_COEFFICIENTS
from aquacalc.charts import curves
from aquacalc.charts.axes import round_up
from aquacalc.constants import HOURS_PER_DAY
from aquacalc.garden import litres, surroundings
from aquacalc.garden.fields import bounds
from aquacalc.pages import html
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import GRAMS, KILOGRAMS, ChoiceField, Field
from aquacalc.panels.frame.panel import Panel, Values, answer, figure, wide
from aquacalc.panels.loop.writing import choice, number
from aquacalc.sizing import air_day, limits
from aquacalc.sizing.air_day import LIPS, AirDay
from aquacalc.uncertainty import Band

MAIN = ("species", "kg", "feed", "water", "tank", "flow", "air", "depth")
"""What is asked first."""
USUAL_FALL_M = 0.1


@dataclass(frozen=True, eq=False)
class Found:
    """The worst day of the numbers at hand; air_l_min: the pump that is there, as printed on it.

    months: number and worst day of each month of the garden with fish; empty without one.
    """

    day: AirDay
    air_l_min: float
    months: Sequence[tuple[int, AirDay]]


def controls(reader: words.Reader) -> dict[str, Field]:
    """Fish, feed, water, and what brings oxygen."""
    of = partial(number, reader=reader)
    air, depth, flow = bounds("air_flow"), bounds("air_depth"), bounds("pump_box_flow")
    return {
        "species": ChoiceField(words.say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "kg": of("panel-fish-kg", "mass", 10_000.0, 10.0, 1e6, shown_in=KILOGRAMS),
        "feed": of("panel-air-feed", "mass", 120.0, 0.0, 2e5, slide=(0.0, 500.0, 5.0), shown_in=GRAMS),
        "water": of("panel-air-water", "temperature", 27.0, 0.0, 40.0, slide=(0.0, 40.0, 0.5)),
        "tank": of("panel-tank-water", "volume", 1000.0, 20.0, 200_000.0),
        "flow": of("panel-air-flow", "flow", 1500.0, 0.0, flow.high, slide=(0.0, 5000.0, 50.0)),
        "air": of("panel-air-pump", "air_flow", 20.0, 0.0, air.high, slide=(0.0, 100.0, 1.0)),
        "depth": of("panel-air-depth", "length", 0.6, depth.low, depth.high, slide=(0.1, 1.5, 0.05)),
        "stones": choice("panel-air-stones", tuple(STONE_COEFFICIENTS), reader, "small"),
        "fall": of("panel-air-fall", "length", USUAL_FALL_M, 0.0, 3.0, slide=(0.0, 1.0, 0.05)),
        "lip": choice("panel-air-lip", tuple(LIPS), reader, "free"),
        "drained": of("panel-air-drained", "share", 0.5, 0.0, 1.0),
        "surface": of("panel-air-surface", "area", 1.1, 0.0, 500.0),
        "swing": of("panel-air-swing", "temperature_difference", 3.0, 0.0, 20.0),
        "weight": of("panel-fish-weight", "mass", 250.0, 0.5, 20_000.0, shown_in=GRAMS),
        "altitude": of("panel-altitude", "length", 0.0, -400.0, 5000.0),
    }


def compute(months: Callable[[], Sequence[tuple[int, AirDay]]], values: Values) -> Found:
    """The worst day of these numbers; months: of the garden."""
    asked = air_day.Question(
        species=values["species"],
        kg=values["kg"] / 1000.0,
        weight_g=values["weight"],
        feed_g_day=values["feed"],
        tank_l=values["tank"],
        surface_m2=values["surface"],
        water_c=values["water"],
        swing_c=values["swing"] / 2.0,
        altitude_m=values["altitude"],
        flow_l_h=values["flow"],
        fall_m=values["fall"],
        lip=values["lip"],
        drained_share=values["drained"],
        air_l_min=values["air"],
        depth_m=values["depth"],
        stones=values["stones"],
    )
    return Found(air_day.alone(asked), values["air"], months())


def draw(reader: words.Reader, found: Found) -> html.Html:
    """The lowest oxygen and its hour, what to do, the day as a curve, what brings the oxygen."""
    day = found.day
    title = words.say(f"panel-air-{state(day)}", reader, **_said(reader, day))
    lines = [
        words.say(
            "panel-air-use",
            reader,
            mean=_span(day.use_g_h, "dose", reader),
            peak=_span(day.peak_g_h, "dose", reader),
        ),
        *_pump(reader, found),
    ]
    both = curves.both(plot(reader, day), reader, title)
    head = [words.say(f"panel-air-head-{one}", reader) for one in ("what", "brings")]
    rows = [
        (words.say(f"panel-air-row-{name}", reader), _span(brought, "dose", reader))
        for name, brought in day.brought_g_h.items()
    ]
    brings = [
        html.paragraph(words.say("panel-air-brings", reader, **_said(reader, day))),
        html.table(head, rows),
    ]
    after = [html.paragraph(words.say(f"panel-air-{one}", reader)) for one in ("bench", "cut")]
    return answer(title, lines, figure(*both), *brings, *_year(reader, found), *after)


def state(day: AirDay) -> str:
    """`holds` where even the short end stays above the line, `may` where the middle does, else `falls`."""
    if float(day.lowest_mg_l.low) >= day.line_mg_l:
        return "holds"
    return "may" if float(day.lowest_mg_l.middle) >= day.line_mg_l else "falls"


def _said(reader: words.Reader, day: AirDay) -> dict[str, str]:
    return {
        "lowest": _span(day.lowest_mg_l, "concentration", reader),
        "hour": clock(day.lowest_hour),
        "line": words.quantity(day.line_mg_l, "concentration", reader),
    }


def clock(hour: int) -> str:
    """A clock hour.

    >>> clock(6)
    '06:00'
    """
    return f"{hour:02d}:00"


def _span(of: Band, kind: str, reader: words.Reader) -> str:
    return words.span(float(of.low), float(of.high), kind, reader)


def _pump(reader: words.Reader, found: Found) -> list[str]:
    """The air pump that holds the line, and what else helps."""
    day = found.day
    if not np.isfinite(float(day.rated_l_min.high)):
        return [words.say("panel-air-never", reader, **_said(reader, day))]
    if float(day.rated_l_min.high) < 1.0:
        return [words.say("panel-air-without", reader)]
    lines = [
        words.say(
            "panel-air-wanted",
            reader,
            rated=_air(reader, day.rated_l_min),
            depth=_air(reader, day.pump_l_min),
            own=words.quantity(found.air_l_min, "air_flow", reader),
        )
    ]
    if state(day) != "holds":
        lines.append(words.say("panel-air-do", reader))
    return lines


def _year(reader: words.Reader, found: Found) -> list[html.Html]:
    """The worst day of each month of the garden."""
    if not found.months:
        return []
    head = [words.say(f"panel-air-year-{one}", reader) for one in ("month", "water", "lowest", "pump")]
    rows = [
        (
            words.month(month, reader),
            words.quantity(day.water_c, "temperature", reader),
            words.say(f"panel-air-year-{state(day)}", reader, **_said(reader, day)),
            _rated(reader, day),
        )
        for month, day in found.months
    ]
    said = html.paragraph(words.say("panel-air-year", reader))
    return [said, wide(html.table(head, rows))]


def _rated(reader: words.Reader, day: AirDay) -> str:
    if not np.isfinite(float(day.rated_l_min.high)):
        return words.say("panel-air-year-never", reader)
    if float(day.rated_l_min.high) < 1.0:
        return words.say("panel-air-year-none", reader)
    return _air(reader, day.rated_l_min)


def _air(reader: words.Reader, of: Band) -> str:
    """A range of air, or up to how much where its short end is nothing."""
    if float(of.low) < 1.0:
        return words.say("panel-air-upto", reader, most=words.quantity(float(of.high), "air_flow", reader))
    return _span(of, "air_flow", reader)


def plot(reader: words.Reader, day: AirDay) -> curves.Plot:
    """Oxygen from midnight to midnight with its band, the line and the critical oxygen."""
    hours = np.arange(HOURS_PER_DAY + 1.0)

    def closed(values: object) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        course = np.asarray(values, dtype=np.float64)
        return np.append(course, course[0])

    flat = np.ones_like(hours)
    return curves.Plot(
        curves.Axis(words.say("panel-air-hours", reader), "", 0.0, HOURS_PER_DAY),
        curves.Axis(words.say("panel-air-oxygen", reader), "concentration", 0.0, round_up(15.0)),
        [
            curves.Curve(hours, closed(day.oxygen_mg_l.middle)),
            curves.Curve(hours, day.line_mg_l * flat, words.say("panel-air-line", reader), (6, 3)),
            curves.Curve(hours, day.critical_mg_l * flat, words.say("panel-air-critical", reader), (2, 3)),
        ],
        [curves.Strip(hours, closed(day.oxygen_mg_l.low), closed(day.oxygen_mg_l.high))],
    )


def of_desk(desk: Desk | None) -> Callable[[], Sequence[tuple[int, AirDay]]]:
    """The worst days of the desk's garden, reckoned once a garden."""
    kept: list[tuple[object, tuple[tuple[int, AirDay], ...]]] = []

    def months() -> Sequence[tuple[int, AirDay]]:
        if desk is None or not desk.garden.fish:
            return ()
        if not kept or kept[0][0] is not desk.garden:
            days = air_day.of_garden(desk.garden)
            pairs = zip(desk.balance.months, days, strict=True)
            kept[:] = [(desk.garden, tuple((month, day) for month, day in pairs if day is not None))]
        return kept[0][1]

    return months


def known(months: Callable[[], Sequence[tuple[int, AirDay]]], desk: Desk) -> dict[str, object]:
    """The garden's stock and water in the month whose worst day leaves least oxygen."""
    garden, balance = desk.garden, desk.balance
    told: dict[str, object] = {
        "tank": litres.litres_of(garden).tanks,
        "surface": sum(tank.surface_m2 for tank in garden.tanks),
        "altitude": garden.site.altitude_m,
        "flow": float(balance.flow_l_h.middle),
        "drained": limits.drained_share(garden),
        "fall": 0.0,
        "air": 0.0 if garden.air is None else garden.air.flow_l_min,
    }
    if garden.air is not None:
        told |= {"depth": garden.air.depth_m, "stones": garden.air.stones}
    if months():
        month, day = min(months(), key=lambda one: float(one[1].lowest_mg_l.middle) - one[1].line_mg_l)
        at, demand = balance.months.index(month), balance.demand
        told |= {
            "species": _tender(desk),
            "kg": 1000.0 * float(demand.fish_kg.middle[at]),
            "feed": float(demand.feed_g_day.middle[at]),
            "weight": float(demand.weight_g.middle[at]),
            "water": day.water_c,
            "swing": 2.0 * float(surroundings.swing_c(garden)[month - 1]),
        }
    return told


def _tender(desk: Desk) -> str:
    """The fish of the garden that needs most oxygen."""
    kinds = [fish.species(batch.species) for batch in desk.garden.fish]
    return max(kinds, key=lambda one: one.oxygen_full_feed_mg_l).key


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    months = of_desk(desk)
    made = Panel("air", controls(reader), partial(compute, months), partial(draw, reader), reader, main=MAIN)
    if desk is not None:
        desk.fill(made, partial(known, months))
    return made
