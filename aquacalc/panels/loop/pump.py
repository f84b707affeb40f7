"""What does the pump really deliver? From a bucket and a watch, its table, or the two figures of its box."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from statistics import median

import numpy as np

from aquacalc import tables, words
from aquacalc.charts import curves
from aquacalc.charts.axes import round_up
from aquacalc.errors import InputError, Problem
from aquacalc.garden import litres
from aquacalc.garden.fields import bounds
from aquacalc.hydraulics import turnover
from aquacalc.hydraulics.pump import wire_to_water
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, measurement, reader_of
from aquacalc.panels.frame.fields import Field
from aquacalc.panels.frame.panel import Values, answer, figure
from aquacalc.panels.frame.rows import Column, RowsField
from aquacalc.panels.loop.writing import Dotted, WritingPanel, choice, number
from aquacalc.sizing import delivery
from aquacalc.sizing.balance import MEASURED_FLOW_SPREAD
from aquacalc.sizing.delivery import Delivered, PressureLine, Pumped, Wanted
from aquacalc.uncertainty import Band, coefficient

WAYS = ("box", "table", "own", "bucket")
CURVE = ((0.0, 3.0), (1000.0, 2.6), (2000.0, 1.8), (3000.0, 0.6))
"""Invented rows, until the maker's are typed."""
PIPE = ("length", "bore", "surface", "elbows", "valves", "strainer")
SHOWN_POINTS = 60

MAIN = (
    "way",
    "flow",
    "head",
    "points",
    "bucket",
    "fills",
    "against",
    "total",
    "lift",
    "length",
    "bore",
    "tanks",
)
"""What is asked first."""


@dataclass(frozen=True)
class Found:
    """What comes out, of which pump, and what that makes of the garden's water.

    share_on: of the time that it runs. tanks_l, loop_l: water. wanted: the pump to look for. plug_share: of
    the power at the plug that goes into the water, NaN where it was not told.
    """

    way: str
    pump: Pumped
    out: Delivered
    share_on: float
    tanks_l: float
    loop_l: float
    wish: float
    wanted: Wanted
    plug_share: float

    @property
    def mean_l_h(self) -> tuple[float, float, float]:
        """Flow over the whole hour, low, middle, high."""
        low, middle, high = (
            float(turnover.mean_flow_l_h(float(end), self.share_on))
            for end in (self.out.flow_l_h.low, self.out.flow_l_h.middle, self.out.flow_l_h.high)
        )
        return low, middle, high


def controls(reader: words.Reader) -> dict[str, Field]:
    """How it is known; the lift and the pipe; the water that it turns over."""
    of = partial(number, reader=reader)
    flow, head = bounds("pump_box_flow"), bounds("pump_box_head")
    rows = [
        Column(words.say("panel-delivery-flow", reader), "flow", 0.0, flow.high),
        Column(words.say("panel-delivery-head", reader), "length", 0.0, head.high),
    ]
    lift, bore, length = bounds("static_head"), bounds("pipe_bore"), bounds("pipe_length")
    return {
        "way": choice("panel-delivery-way", WAYS, reader),
        "flow": of("panel-delivery-box-flow", "flow", 3000.0, flow.low, flow.high),
        "head": of("panel-delivery-box-head", "length", 3.0, head.low, head.high),
        "points": RowsField(words.say("panel-delivery-points", reader), rows, CURVE, reader),
        "bucket": of("panel-delivery-bucket", "volume", 10.0, 0.2, 1000.0),
        "fills": RowsField(
            words.say("panel-delivery-fills", reader),
            [Column(words.say("panel-delivery-seconds", reader), "", 0.5, 3600.0)],
            ((24.0,), (25.0,), (23.5,)),
            reader,
        ),
        "against": choice("panel-delivery-against", ("parts", "total"), reader),
        "total": of("panel-delivery-total", "length", 1.7, lift.low, lift.high),
        "lift": of("panel-delivery-lift", "length", 1.2, lift.low, lift.high, slide=(0.0, 3.0, 0.05)),
        "length": of("panel-delivery-length", "length", 4.0, length.low, length.high),
        "bore": of("panel-delivery-bore", "bore", 25.0, bore.low, bore.high, slide=(10.0, 75.0, 1.0)),
        "surface": choice("panel-delivery-surface", tuple(delivery.ROUGHNESS), reader, "fouled"),
        "elbows": of("panel-delivery-elbows", "", 3.0, 0.0, 60.0),
        "valves": of("panel-delivery-valves", "", 1.0, 0.0, 20.0),
        "strainer": choice("panel-delivery-strainer", ("none", "clean", "dirty"), reader, "clean"),
        "share_on": of("panel-delivery-share-on", "share", 1.0, 0.01, 1.0),
        "tanks": of("panel-delivery-tanks", "volume", 1000.0, 20.0, 2e5),
        "loop": of("panel-delivery-loop", "volume", 1500.0, 20.0, 1e6),
        "wish": of("panel-delivery-wish", "", 1.5, 0.05, 20.0, slide=(0.5, 4.0, 0.1), beside="tanks"),
        "plug": of("panel-delivery-plug", "power", None, 1.0, 5000.0, optional=True),
    }


def asked(values: Mapping[str, object]) -> tuple[str, ...]:
    """What the way asks for."""
    way = values["way"]
    own = {"box": ("flow", "head"), "table": ("points",), "own": ("points",), "bucket": ("bucket", "fills")}
    against = ("against", "total") if values["against"] == "total" else ("against", "lift", *PIPE)
    water = ("share_on", "tanks", "loop")
    if way == "bucket":
        return ("way", *own["bucket"], *water)
    return ("way", *own[str(way)], *against, *water, "wish", "plug")


def compute(values: Values) -> Found:
    """The flow; `InputError` for a table whose rows cannot be, and where no fill was timed."""
    way = values["way"]
    whole = values["against"] == "total"
    line = PressureLine(*(values[name] for name in PIPE))
    pump = Pumped(
        box_flow_l_h=values["flow"],
        box_head_m=values["head"],
        lift_m=values["total"] if whole else values["lift"],
        points=values["points"] if way in ("table", "own") else (),
        own=way == "own",
        line=None if whole else line,
    )
    if way == "bucket":
        out = _of_bucket(values["bucket"], [seconds for (seconds,) in values["fills"]])
    else:
        if way != "box" and not values["points"]:
            raise InputError(Problem("problem-curve-short", "", "0", ("3",)))
        out = delivery.delivered(pump)
    wanted = delivery.wanted(pump, values["wish"] * values["tanks"] / values["share_on"])
    plug = values["plug"]
    return Found(
        way=way,
        pump=pump,
        out=out,
        share_on=values["share_on"],
        tanks_l=values["tanks"],
        loop_l=values["loop"],
        wish=values["wish"],
        wanted=wanted,
        plug_share=float(wire_to_water(out.new_l_h, out.head_m, plug)) if plug else math.nan,
    )


def _of_bucket(bucket_l: float, seconds: list[float]) -> Delivered:
    """The middle one of several fills."""
    if not seconds:
        raise InputError(Problem("problem-no-fill", ""))
    flow = 3600.0 * bucket_l / median(seconds)
    spread = np.array([1.0 - MEASURED_FLOW_SPREAD, 1.0, 1.0 + MEASURED_FLOW_SPREAD]) * flow
    measured = Band(spread[0], spread[1], spread[2])
    return Delivered(measured, flow, math.nan, math.nan, math.nan, "")


def draw(reader: words.Reader, found: Found) -> html.Html:
    """The flow as tanks an hour, what it loses where, the pump to look for, the curve."""
    if found.out.end == "none":
        lift = words.quantity(found.pump.lift_m, "length", reader)
        title = words.say("panel-delivery-none", reader, lift=lift)
        return answer(title, [words.say("panel-delivery-none-do", reader), _look_for(reader, found)])
    low, _, high = found.mean_l_h
    rates = words.span(low / found.tanks_l, high / found.tanks_l, "turnover", reader)
    key = "panel-delivery-answer-beyond" if found.out.end == "beyond" else "panel-delivery-answer"
    title = words.say(key, reader, flow=words.span(low, high, "flow", reader), turnover=rates)
    if found.way == "bucket":
        return answer(title, _measured(reader, found))
    picture = figure(*curves.both(plot(reader, found), reader, title))
    return answer(title, _lines(reader, found), picture, html.paragraph(_bench(reader)))


def _measured(reader: words.Reader, found: Found) -> list[str]:
    loop = words.quantity(found.mean_l_h[1] / found.loop_l, "turnover", reader)
    return [
        words.say("panel-delivery-loop-turnover", reader, turnover=loop),
        words.say("panel-delivery-measured", reader),
    ]


def _bench(reader: words.Reader) -> str:
    return words.say("panel-delivery-bench", reader)


def _lines(reader: words.Reader, found: Found) -> list[str]:
    out, said = found.out, partial(words.quantity, reader=reader)
    lines = [
        words.say(
            "panel-delivery-new", reader, flow=said(out.new_l_h, "flow"), head=said(out.head_m, "length")
        )
    ]
    if found.pump.line is not None:
        share = 1.0 - found.pump.lift_m / out.head_m if out.head_m > 0.0 else 0.0
        lines.append(
            words.say(
                "panel-delivery-pipe",
                reader,
                share=said(share, "share"),
                speed=said(out.velocity_m_s, "speed"),
            )
        )
    if not math.isnan(out.dirty_l_h):
        lines.append(words.say("panel-delivery-dirty", reader, flow=said(out.dirty_l_h, "flow")))
    if found.share_on < 1.0:
        lines.append(words.say("panel-delivery-timed", reader, flow=said(float(out.flow_l_h.middle), "flow")))
    loop = said(found.mean_l_h[1] / found.loop_l, "turnover")
    lines.append(words.say("panel-delivery-loop-turnover", reader, turnover=loop))
    if found.out.end == "beyond":
        lines.append(words.say("panel-delivery-beyond", reader))
    if not math.isnan(found.plug_share):
        most = tables.load("input_bounds").row("wire_to_water").number("warn_high")
        key = "panel-delivery-plug-odd" if found.plug_share > most else "panel-delivery-plug-share"
        lines.append(words.say(key, reader, share=said(found.plug_share, "share")))
    return [*lines, _look_for(reader, found)]


def _look_for(reader: words.Reader, found: Found) -> str:
    said = partial(words.quantity, reader=reader)
    told = {
        "wish": said(found.wish, "turnover"),
        "flow": said(found.wanted.flow_l_h, "flow"),
        "head": said(found.wanted.head_m, "length"),
    }
    low, high = found.wanted.box_l_h
    if math.isnan(low):
        return words.say("panel-delivery-look-higher", reader, **told)
    return words.say("panel-delivery-look", reader, **told, box=words.span(low, high, "flow", reader))


def plot(reader: words.Reader, found: Found) -> curves.Plot:
    """The pump's curve, new and worn, and the head that the pipe asks for."""
    curve = found.pump.curve(coefficient("box_curve_exponent").typical)
    most, top = float(curve.most_l_h), float(curve.head_m(curve.least_l_h))
    flow = np.linspace(curve.least_l_h, most, SHOWN_POINTS)
    head = np.asarray(curve.head_m(flow), dtype=np.float64)
    wear = coefficient("pump_ageing_share")
    surface = delivery.ROUGHNESS[found.pump.line.surface if found.pump.line else "new"]
    lines = found.pump.lines(coefficient(surface).typical)
    asked_m = np.array([found.pump.lift_m + float(sum(one.head_m(q) for one in lines)) for q in flow])
    worn = [np.interp(flow, flow * share, head, right=0.0) for share in (wear.low, wear.high)]
    return curves.Plot(
        curves.Axis(words.say("panel-delivery-flow", reader), "flow", 0.0, round_up(1.02 * most)),
        curves.Axis(words.say("panel-delivery-head", reader), "length", 0.0, round_up(1.1 * top)),
        [
            curves.Curve(flow, head, words.say("panel-delivery-curve-new", reader)),
            curves.Curve(flow, asked_m, words.say("panel-delivery-curve-pipe", reader), (6, 3)),
        ],
        [curves.Strip(flow, np.asarray(worn[0]), np.asarray(worn[1]))],
        [curves.Point(found.out.new_l_h, found.out.head_m, words.say("panel-delivery-duty", reader))],
    )


def written(desk: Desk, found: Found, fields: Mapping[str, Field]) -> Dotted:
    """A bucket as a measurement of the flow; a table, a box, lift and pipe as the first pump's."""
    if found.way == "bucket":
        flow = words.number(found.out.new_l_h, 3).replace(words.NO_BREAK_SPACE, "")
        return measurement(desk, "flow", f"{flow} L/h")
    given: dict[str, object] = {"pump.0.lift": f"{found.pump.lift_m:.3g} m"}
    if found.pump.points:
        given["pump.0.flow"] = f"{max(flow for flow, _ in found.pump.points):.6g} L/h"
        given["pump.0.curve"] = [
            {"flow": f"{flow:.6g} L/h", "head": f"{head:.4g} m"} for flow, head in found.pump.points
        ]
    else:
        given |= {
            "pump.0.flow": f"{found.pump.box_flow_l_h:.6g} L/h",
            "pump.0.head": f"{found.pump.box_head_m:.4g} m",
            "pump.0.curve": None,
        }
    return {**given, "pump.0.share_on": f"{100.0 * found.share_on:.3g} %"}


def known(desk: Desk) -> dict[str, object]:
    """The first pump and the pipes of the garden, as one pipe of the widest bore; its water."""
    garden = desk.garden
    pump = garden.pumps[0]
    water = litres.litres_of(garden)
    told: dict[str, object] = {
        "flow": pump.box_flow_l_h,
        "head": pump.box_head_m,
        "lift": pump.lift_m,
        "share_on": pump.share_on,
        "tanks": water.tanks,
        "loop": water.whole,
        "plug": pump.power_w,
        "way": "table" if pump.curve else "box",
    }
    if pump.curve:
        told["points"] = pump.curve
    if garden.pipes:
        told |= {
            "length": sum(pipe.length_m for pipe in garden.pipes),
            "bore": max(pipe.bore_mm for pipe in garden.pipes),
        }
    return told


def panel(desk: Desk | None = None) -> WritingPanel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = WritingPanel("pump", desk, controls(reader), compute, partial(draw, reader), written, asked, MAIN)
    if desk is not None:
        desk.fill(made, known)
    return made
