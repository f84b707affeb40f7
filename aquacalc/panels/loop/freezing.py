"""When does a pipe outdoors freeze, and what keeps it open?"""

import math
from dataclasses import dataclass
from functools import partial

from aquacalc import words
from aquacalc.climate import loop, pipes
from aquacalc.garden.fields import bounds
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import Field
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.panels.loop.writing import choice, number

FILMS = {"still": pipes.STILL_W_M2_K, "windy": pipes.WINDY_W_M2_K}
"""Air about the pipe, and the heat that it takes."""
WRAPS_M = (0.0, 0.02, 0.05)
"""Foam that is held against the pipe as it is: ways of the table."""


@dataclass(frozen=True)
class Way:
    """A thickness of foam: hours at standstill to 0 C and on to ice, and the flow that keeps it open."""

    foam_m: float
    zero_h: float
    ice_h: float
    flow_l_h: float


@dataclass(frozen=True)
class Found:
    """The pipe as it is, then with more foam."""

    air_c: float
    ways: tuple[Way, ...]


def controls(reader: words.Reader) -> dict[str, Field]:
    """The pipe, its foam, the water in it and the frost."""
    of = partial(number, reader=reader)
    bore, length, thick = bounds("pipe_bore"), bounds("pipe_length"), bounds("insulation")
    return {
        "bore": of("panel-delivery-bore", "bore", 25.0, bore.low, bore.high),
        "length": of("panel-freezing-length", "length", 5.0, 0.1, length.high),
        "foam": of("panel-freezing-foam", "bore", 0.0, 0.0, thick.high),
        "water": of("panel-water-now", "temperature", 6.0, 0.0, 45.0),
        "air": of("panel-freezing-air", "temperature", -8.0, -50.0, 10.0, slide=(-30.0, 2.0, 1.0)),
        "wind": choice("panel-freezing-wind", tuple(FILMS), reader, "windy"),
    }


def compute(values: Values) -> Found:
    """The pipe as it is and with more foam."""
    has = values["foam"] / 1000.0
    more = [one for one in WRAPS_M if one > has]
    return Found(values["air"], tuple(_way(values, foam) for foam in (has, *more)))


def _way(values: Values, foam_m: float) -> Way:
    bore_m, film = values["bore"] / 1000.0, FILMS[values["wind"]]
    resistance = pipes.resistance_m_k_w(bore_m, foam_m, loop.FOAM_W_M_K, film)
    water_c, air_c = values["water"], values["air"]
    return Way(
        foam_m,
        pipes.hours_to_zero(bore_m, resistance, water_c, air_c),
        pipes.hours_to_ice(bore_m, resistance, air_c),
        pipes.flow_that_keeps_open_l_h(values["length"], resistance, water_c, air_c),
    )


def draw(reader: words.Reader, found: Found) -> html.Html:
    """Hours at standstill, then the ways side by side and what to do."""
    now = found.ways[0]
    if not math.isfinite(now.zero_h):
        title, table = words.say("panel-freezing-none", reader), html.Html("")
    else:
        hours = words.quantity(now.zero_h, "time", reader)
        full = words.quantity(now.zero_h + now.ice_h, "time", reader)
        title = words.say("panel-freezing-answer", reader, zero=hours, full=full)
        head = [words.say(f"panel-freezing-head-{one}", reader) for one in ("foam", "zero", "full", "flow")]
        table = html.table(head, [_row(reader, way) for way in found.ways])
    after = [words.say(f"panel-freezing-{one}", reader) for one in ("do", "check", "thaw")]
    return answer(title, [], table, *map(html.paragraph, after))


def _row(reader: words.Reader, way: Way) -> tuple[str, ...]:
    said = partial(words.quantity, reader=reader)
    flow = (
        said(way.flow_l_h, "flow") if math.isfinite(way.flow_l_h) else words.say("panel-freezing-no", reader)
    )
    return (
        said(1000.0 * way.foam_m, "bore"),
        said(way.zero_h, "time"),
        said(way.zero_h + way.ice_h, "time"),
        flow,
    )


def known(desk: Desk) -> dict[str, object]:
    """The garden's riser, the water and the air of its coldest month."""
    garden = desk.garden
    coldest = float(min(desk.balance.water_c.middle))
    found: dict[str, object] = {
        "water": min(max(coldest, 0.0), 45.0),
        "air": min(max(float(min(garden.site.climate.air_min_c)), -50.0), 10.0),
    }
    if garden.pipes:
        found |= {"bore": garden.pipes[0].bore_mm, "length": garden.pipes[0].length_m}
    return found


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("freezing", controls(reader), compute, partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, known)
    return made
