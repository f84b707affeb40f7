"""What does a separator catch, how much sludge is drawn how often, and what is left for the beds?"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np

from aquacalc import solids, words
from aquacalc.charts import curves
from aquacalc.constants import HOURS_PER_DAY
from aquacalc.garden.fields import bounds
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import Field
from aquacalc.panels.frame.panel import Values, answer, figure, wide
from aquacalc.panels.loop.writing import Dotted, WritingPanel, choice, number
from aquacalc.sizing import sludge
from aquacalc.sizing.sludge import Separated, Separator
from aquacalc.uncertainty import coefficient

KINDS = ("radial", "swirl", "settler", "drum", "none")
DENSITIES_KG_M3 = (1050.0, sludge.PARTICLE_KG_M3, 1190.0)
"""Of particles from fish (WASSOLIDS, read)."""
SIZES_MM = np.linspace(0.02, 1.0, 90)
LINES = ("solids_feed_plain_g_m2_d", "solids_feed_settled_g_m2_d")

LEAST_M2, LEAST_L, LEAST_G = 0.01, 1.0, 0.1
"""Of a separator, and of feed a day: with less there is no answer."""

NOTED_OVER = 1.1
"""A flow is known to a tenth at best. Common practice, no source."""

MAIN = ("kind", "stream", "flow", "area", "feed", "beds", "every")
"""What is asked first."""


@dataclass(frozen=True)
class Found:
    """The separator and what it does."""

    asked: Separator
    does: Separated

    @property
    def over(self) -> bool:
        """Whether more water goes over it than over those that were measured."""
        tested = solids.TESTED_M_H.get(self.asked.kind, math.inf)
        return self.does.loading_m_h > NOTED_OVER * tested

    @property
    def settles(self) -> bool:
        """Whether it works by settling."""
        return self.asked.kind in solids.TESTED_M_H


def controls(reader: words.Reader) -> dict[str, Field]:
    """The separator, what flows through it, what is fed, the beds behind it."""
    of = partial(number, reader=reader)
    flow, area, volume = bounds("pump_box_flow"), bounds("filter_surface"), bounds("filter_volume")
    beds, every, feed = bounds("bed_area"), bounds("sludge_draw"), bounds("feed")
    warm = bounds("water_temperature")
    return {
        "kind": choice("panel-separator-kind", KINDS, reader),
        "stream": choice("panel-separator-stream", ("bottom", "whole"), reader),
        "flow": of("panel-separator-flow", "flow", 2000.0, flow.low, flow.high, slide=(200.0, 6000.0, 50.0)),
        "area": of("panel-separator-area", "area", 0.26, LEAST_M2, area.high, slide=(0.05, 1.0, 0.01)),
        "water": of("panel-separator-water", "volume", 150.0, LEAST_L, volume.high),
        "feed": of("panel-separator-feed", "feed", 100.0, LEAST_G, feed.high, slide=(10.0, 600.0, 10.0)),
        "protein": of("panel-separator-protein", "share", 0.35, 0.1, 0.7),
        "beds": of("panel-separator-beds", "area", 3.0, beds.low, beds.high),
        "every": of("panel-separator-every", "time", HOURS_PER_DAY, every.low, every.high),
        "each": of("panel-separator-each", "volume", None, 0.2, 500.0, optional=True),
        "warm": of("panel-separator-warm", "temperature", 20.0, warm.low, warm.high),
    }


def asked(values: Mapping[str, object]) -> tuple[str, ...]:
    """Beds that are the only filter have no sludge to draw; a screen has no surface."""
    common = ("kind", "feed", "protein", "beds", "warm")
    if values["kind"] == "none":
        return common
    settles = ("area", "water", "every") if values["kind"] in solids.TESTED_M_H else ()
    return (*common, "stream", "flow", "each", *settles)


def compute(values: Values) -> Found:
    """What it catches and what leaves with it."""
    screen = values["kind"] == "drum"
    whole = Separator(
        kind=values["kind"],
        whole_flow=values["stream"] == "whole",
        flow_l_h=values["flow"],
        surface_m2=values["area"],
        water_l=values["water"],
        draw_every_d=0.0 if screen else values["every"] / HOURS_PER_DAY,
        draw_l=values["each"],
        feed_g_day=values["feed"],
        protein_fraction=values["protein"],
        bed_m2=values["beds"],
        water_c=values["warm"],
    )
    return Found(whole, sludge.separated(whole))


def draw(reader: words.Reader, found: Found) -> html.Html:
    """What is caught and drawn, what goes with it, what the beds get, what to do with it."""
    does = found.does
    rows = [_row(reader, "made", _span(reader, does.held_g, "mass"))]
    if found.asked.kind == "none":
        title = words.say("panel-separator-none", reader, beds=_beds(reader, found))
        lines = [words.say(f"panel-separator-{one}", reader) for one in ("none-do", "held")]
    else:
        title = _title(reader, found)
        lines = [*_loaded(reader, found), words.say("panel-separator-held", reader)]
        rows = [*_drawn(reader, found), *rows]
    lines.append(_clogs(reader, found))
    head = [words.say(f"panel-separator-head-{one}", reader) for one in ("what", "value")]
    pictures = [figure(*curves.both(plot(reader, found), reader, title))] if found.settles else []
    last = ["where", "bench"] if found.asked.kind != "none" else ["bench-bed"]
    after = [html.paragraph(words.say(f"panel-separator-{one}", reader)) for one in last]
    return answer(title, lines, *pictures, wide(html.table(head, rows)), *after)


def _span(reader: words.Reader, band: object, kind: str) -> str:
    low, high = float(band.low), float(band.high)  # type: ignore[attr-defined]  # a band of floats
    return words.span(low, high, kind, reader)


def _row(reader: words.Reader, key: str, text: str) -> tuple[str, str]:
    return words.say(f"panel-separator-row-{key}", reader), text


def _beds(reader: words.Reader, found: Found) -> str:
    return words.span(
        float(found.does.beds_g_m2_d.low), float(found.does.beds_g_m2_d.high), "feed_area", reader
    )


def _title(reader: words.Reader, found: Found) -> str:
    share = _span(reader, found.does.caught, "share")
    if found.over:
        return words.say("panel-separator-over", reader, share=share)
    return words.say("panel-separator-answer", reader, share=share)


def _loaded(reader: words.Reader, found: Found) -> list[str]:
    does, said = found.does, partial(words.quantity, reader=reader)
    if not found.settles:
        return [words.say("panel-separator-screen", reader)]
    tested = solids.TESTED_M_H[found.asked.kind]
    fit_m2 = found.asked.flow_l_h / 1000.0 / tested
    lines = [
        words.say(
            "panel-separator-loading",
            reader,
            loading=words.number(does.loading_m_h, 2),
            tested=words.number(tested, 2),
            time=said(does.retention_min / 60.0, "time"),
            size=said(does.cut_mm, "bore"),
        )
    ]
    if found.over:
        lines.append(words.say("panel-separator-larger", reader, area=said(fit_m2, "area")))
    if found.asked.whole_flow:
        lines.append(words.say("panel-separator-whole", reader))
    return lines


def _drawn(reader: words.Reader, found: Found) -> list[tuple[str, str]]:
    does = found.does
    food = [
        words.say(
            f"panel-separator-food-{name}",
            reader,
            mass=_span(reader, gone, "dose"),
        )
        for name, gone in does.gone_g_week.items()
    ]
    every = words.quantity(max(found.asked.draw_every_d, 1.0), "days", reader)
    return [
        _row(reader, "dry", _span(reader, does.drawn_g_day, "feed")),
        _row(
            reader,
            "draw",
            words.say(
                "panel-separator-each-draw",
                reader,
                water=_span(reader, does.water_l, "volume"),
                sludge=_span(reader, does.sludge_l, "volume"),
                time=every,
            ),
        ),
        _row(reader, "week", _span(reader, does.water_l_week, "volume")),
        _row(reader, "food", words.listed(food, reader)),
        _row(reader, "beds", _beds(reader, found)),
    ]


def _clogs(reader: words.Reader, found: Found) -> str:
    line = coefficient(LINES[found.asked.kind != "none"])
    fed = found.does.feed_g_m2_d
    key = "few" if fed < line.low else "note" if fed < line.typical else "much"
    return words.say(
        f"panel-separator-clogs-{key}",
        reader,
        feed=words.quantity(fed, "feed_area", reader),
        range=words.span(line.low, line.high, "feed_area", reader),
    )


def plot(reader: words.Reader, found: Found) -> curves.Plot:
    """Of each size of particle the share that falls out, for light and heavy ones."""
    names = ("light", "middle", "heavy")
    lines = [
        curves.Curve(
            SIZES_MM,
            sludge.capture(SIZES_MM, found.does.loading_m_h, density, found.asked.water_c),
            words.say(f"panel-separator-line-{name}", reader),
            dash,
        )
        for name, density, dash in zip(names, DENSITIES_KG_M3, ((2, 3), (1, 0), (6, 3)), strict=True)
    ]
    return curves.Plot(
        curves.Axis(words.say("panel-separator-axis-size", reader), "bore", 0.0, float(SIZES_MM[-1])),
        curves.Axis(words.say("panel-separator-axis-share", reader), "share", 0.0, 1.05),
        lines,
    )


def written(desk: Desk, found: Found, fields: Mapping[str, Field]) -> Dotted:
    """The garden's solids filter, from which the season takes what stays and what leaves."""
    del fields
    asked = found.asked
    if asked.kind == "none" or not desk.garden.tanks:
        return {}
    told: dict[str, object] = {
        "solids_filter.kind": asked.kind,
        "solids_filter.whole_flow": asked.whole_flow,
    }
    if found.settles:
        told |= {
            "solids_filter.volume": f"{asked.water_l:.4g} L",
            "solids_filter.surface": f"{asked.surface_m2:.3g} m2",
            "solids_filter.draw_every": f"{asked.draw_every_d:.3g} days",
        }
    return told


def known(desk: Desk) -> dict[str, object]:
    """The garden's separator, its flow, its dearest month's feed, its beds."""
    garden, balance = desk.garden, desk.balance
    own = garden.solids_filter
    told: dict[str, object] = {
        "kind": own.kind,
        "stream": "whole" if own.whole_flow else "bottom",
        "flow": float(balance.flow_l_h.middle),
        "protein": garden.protein_fraction(),
        "beds": sum(bed.area_m2 for bed in garden.beds),
    }
    feed = float(np.max(balance.demand.feed_g_day.middle))
    if feed > 0.0:
        told["feed"] = max(feed, LEAST_G)
    if own.kind != "none":
        told |= {"area": own.surface_m2, "water": own.volume_l}
    if own.draw_every_d > 0.0:
        told["every"] = own.draw_every_d * HOURS_PER_DAY
    return told


def panel(desk: Desk | None = None) -> WritingPanel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = WritingPanel(
        "separator", desk, controls(reader), compute, partial(draw, reader), written, asked, MAIN
    )
    if desk is not None:
        desk.fill(made, known)
    return made
