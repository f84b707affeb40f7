"""Does the outlet take what the pump brings, and what if it is blocked?"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

from aquacalc import words
from aquacalc.constants import SECONDS_PER_HOUR
from aquacalc.garden import litres
from aquacalc.garden.fields import bounds
from aquacalc.hydraulics import leaks
from aquacalc.pages import html
from aquacalc.pages.time_line import span
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import Field
from aquacalc.panels.frame.panel import Panel, Values, answer, wide
from aquacalc.panels.loop.writing import number
from aquacalc.sizing import outlets
from aquacalc.sizing.outlets import Outlet, Passes

MAIN = ("flow", "bore", "length", "freeboard", "emergency")
"""What is asked first."""


@dataclass(frozen=True)
class Found:
    """The line and what it passes."""

    outlet: Outlet
    passes: Passes


def controls(reader: words.Reader) -> dict[str, Field]:
    """The flow, the line, the tank over it, the water that can be pumped."""
    of = partial(number, reader=reader)
    flow, bore, length = bounds("pump_box_flow"), bounds("drain_bore"), bounds("pipe_length")
    return {
        "flow": of("panel-gravity-flow", "flow", 3000.0, flow.low, flow.high, slide=(500.0, 8000.0, 50.0)),
        "bore": of("panel-gravity-bore", "bore", 57.0, bore.low, bore.high, slide=(20.0, 160.0, 1.0)),
        "length": of("panel-gravity-length", "length", 1.5, length.low, length.high),
        "elbows": of("panel-gravity-elbows", "", 2.0, 0.0, 30.0),
        "slope": of("panel-gravity-slope", "share", outlets.SLOPE, 0.001, 0.5),
        "surface": of("panel-gravity-surface", "area", 1.1, 0.02, 500.0),
        "freeboard": of("panel-gravity-freeboard", "length", 0.10, 0.0, 2.0),
        "drawn": of("panel-gravity-drawn", "volume", 150.0, 0.0, 2e5),
        "emergency": of("panel-gravity-emergency", "bore", None, bore.low, bore.high, optional=True),
    }


def compute(values: Values) -> Found:
    """What the line passes."""
    outlet = Outlet(
        flow_l_h=values["flow"],
        bore_mm=values["bore"],
        length_m=values["length"],
        elbows=values["elbows"],
        slope=values["slope"],
        surface_m2=values["surface"],
        freeboard_m=values["freeboard"],
        drawn_l=values["drawn"],
        emergency_mm=math.nan if values["emergency"] is None else values["emergency"],
    )
    return Found(outlet, outlets.passes(outlet))


def draw(reader: words.Reader, found: Found) -> html.Html:
    """Whether it fits, what a block leads to, then the ways in which a line of that bore may run."""
    said = partial(words.quantity, reader=reader)
    line, does = found.outlet, found.passes
    rise = said(max(does.surcharge_m, does.lip_m), "length")
    if does.fits(line.freeboard_m):
        title = words.say("panel-gravity-fits", reader, rise=rise)
    else:
        title = words.say("panel-gravity-small", reader, rise=rise)
    lines = [_blocked(reader, found)]
    if math.isnan(line.emergency_mm):
        lines.append(words.say("panel-gravity-no-emergency", reader))
    else:
        key = (
            "panel-gravity-second-fits" if does.second_l_h >= line.flow_l_h else "panel-gravity-second-small"
        )
        lines.append(words.say(key, reader, flow=said(does.second_l_h, "flow")))
    lines.append(words.say("panel-gravity-bore-for", reader, bore=said(does.bore_mm, "bore")))
    return answer(title, lines, wide(_table(reader, found)), *_after(reader, found))


def _blocked(reader: words.Reader, found: Found) -> str:
    does = found.passes
    if does.holds:
        return words.say("panel-gravity-holds", reader)
    return words.say(
        "panel-gravity-spills",
        reader,
        time=span(does.spill_s / SECONDS_PER_HOUR, reader),
        floor=words.quantity(does.floor_l, "volume", reader),
    )


def _table(reader: words.Reader, found: Found) -> html.Html:
    said = partial(words.quantity, reader=reader)
    line, does = found.outlet, found.passes
    filled = (
        words.say("panel-gravity-over-full", reader)
        if math.isinf(does.filled)
        else words.say("panel-gravity-filled", reader, share=said(does.filled, "share"))
    )
    rows = [
        ("full", words.say("panel-gravity-rise", reader, head=said(does.surcharge_m, "length"))),
        ("lip", words.say("panel-gravity-rise", reader, head=said(does.lip_m, "length"))),
        (
            "drop",
            words.say(
                "panel-gravity-quiet" if does.quiet_l_h >= line.flow_l_h else "panel-gravity-loud",
                reader,
                flow=said(does.quiet_l_h, "flow"),
                bore=said(does.quiet_mm, "bore"),
            ),
        ),
        ("sloped", filled + " " + words.say("panel-gravity-half", reader, flow=said(does.half_l_h, "flow"))),
    ]
    head = [words.say(f"panel-gravity-head-{one}", reader) for one in ("way", "does")]
    return html.table(head, [(words.say(f"panel-gravity-way-{key}", reader), text) for key, text in rows])


def _after(reader: words.Reader, found: Found) -> list[html.Html]:
    speed = found.passes.velocity_m_s
    key = "settle" if speed < outlets.SETTLES_M_S else "move" if speed >= outlets.MOVES_M_S else "between"
    lines = [
        words.say(f"panel-gravity-solids-{key}", reader, speed=words.quantity(speed, "speed", reader)),
        words.say("panel-gravity-vent", reader),
        words.say("panel-gravity-bench", reader),
    ]
    return [html.paragraph(line) for line in lines]


def known(desk: Desk) -> Mapping[str, object]:
    """The first tank, the widest everyday outlet, the pump at no head, the water over its intake."""
    garden = desk.garden
    daily = [drain.bore_mm for drain in garden.drains if not drain.emergency]
    spare = [drain.bore_mm for drain in garden.drains if drain.emergency]
    tank = garden.tanks[0]
    return {
        "flow": sum(pump.count * pump.box_flow_l_h for pump in garden.pumps) / len(garden.tanks),
        **({"bore": max(daily)} if daily else {}),
        "surface": tank.surface_m2,
        "drawn": leaks.OVER_INTAKE_SHARE * litres.litres_of(garden).sump,
        "emergency": max(spare) if spare else None,
    }


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("gravity", controls(reader), compute, partial(draw, reader), reader, main=MAIN)
    if desk is not None:
        desk.fill(made, known)
    return made
