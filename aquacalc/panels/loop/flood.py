"""How does a bed fill and drain, and will its siphon start and stop?"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np

from aquacalc import tables, words
from aquacalc.charts import curves
from aquacalc.charts.axes import round_up
from aquacalc.constants import SECONDS_PER_HOUR
from aquacalc.garden.fields import bounds
from aquacalc.hydraulics.beds import Siphon, bed_water_l
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, measurement, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field
from aquacalc.panels.frame.panel import Values, answer, figure
from aquacalc.panels.loop.writing import Dotted, WritingPanel, choice, number
from aquacalc.sizing import flooding, levels
from aquacalc.sizing.flooding import Cycle, Flooded
from aquacalc.uncertainty import coefficient

SHOWN_EVERY_S = 20

MAIN = ("way", "area", "flood", "medium", "inflow", "bore", "fall", "hole", "on", "off")
"""What is asked first."""


@dataclass(frozen=True)
class Found:
    """The bed and its cycle. measured: its water was measured, not reckoned from its medium."""

    bed: Flooded
    cycle: Cycle
    measured: bool


def controls(reader: words.Reader) -> dict[str, Field]:
    """The bed and its medium, the inflow, how it drains, the beds beside it."""
    of = partial(number, reader=reader)
    area, flooded, inflow = bounds("bed_area"), bounds("bed_wetted"), bounds("bed_inflow")
    bore, fall = bounds("standpipe_bore"), bounds("siphon_drop")
    media = [(row.text("name"), row.key) for row in tables.load("media") if row.text("use") == "media"]
    return {
        "way": choice("panel-flood-way", ("siphon", "timer"), reader),
        "area": of("panel-flood-area", "area", 1.0, area.low, area.high),
        "flood": of("panel-flood-top", "length", 0.25, flooded.low, flooded.high),
        "lowest": of("panel-flood-lowest", "length", 0.03, 0.001, 0.5),
        "medium": ChoiceField(words.say("panel-flood-medium", reader), media, "gravel", reader),
        "water": of("panel-flood-water", "volume", None, 0.5, 1e5, optional=True),
        "inflow": of(
            "panel-flood-inflow", "flow", 400.0, inflow.low, inflow.high, slide=(50.0, 2000.0, 10.0)
        ),
        "bore": of("panel-flood-bore", "bore", 26.0, bore.low, bore.high, slide=(15.0, 60.0, 1.0)),
        "fall": of("panel-flood-fall", "length", 0.45, fall.low, fall.high, slide=(0.0, 1.5, 0.05)),
        "hole": of("panel-flood-hole", "bore", 8.0, 2.0, 110.0, slide=(3.0, 30.0, 0.5)),
        "on": of("panel-flood-on", "time", 0.25, 0.01, 24.0),
        "off": of("panel-flood-off", "time", 0.75, 0.0, 24.0),
        "beds": of("panel-flood-beds", "", 2.0, 1.0, 12.0),
        "arranged": choice("panel-flood-arranged", ("together", "turn", "apart"), reader),
        "sump": of("panel-flood-sump", "volume", 250.0, 0.0, 1e5),
    }


def asked(values: Mapping[str, object]) -> tuple[str, ...]:
    """What the way asks for."""
    common = ("way", "area", "flood", "lowest", "medium", "water", "inflow", "beds", "arranged", "sump")
    return (*common, *(("bore", "fall") if values["way"] == "siphon" else ("hole", "on", "off")))


def compute(values: Values) -> Found:
    """The cycle of one bed and an hour of all of them."""
    depth = max(values["flood"] - values["lowest"], 0.01)
    void = tables.load("media").row(values["medium"]).number("drainable_fraction_typical")
    water = values["water"]
    reckoned = float(bed_water_l(values["area"], depth, void))
    siphon = Siphon(values["bore"], values["fall"], coefficient("siphon_loss").typical)
    bed = Flooded(
        water_l=reckoned if water is None else water,
        depth_m=depth,
        lowest_m=values["lowest"],
        inflow_l_h=values["inflow"],
        siphon=siphon if values["way"] == "siphon" else None,
        hole_mm=values["hole"],
        on_min=60.0 * values["on"],
        off_min=60.0 * values["off"],
        count=int(values["beds"]),
        arranged=values["arranged"],
        sump_l=values["sump"],
    )
    return Found(bed, flooding.cycle(bed), water is not None)


def draw(reader: words.Reader, found: Found) -> html.Html:
    """Whether it works and how often, the times, what to change first, an hour of it."""
    said, cycle = partial(words.quantity, reader=reader), found.cycle
    rows = [
        (words.say(f"panel-flood-row-{name}", reader), text)
        for name, text in (
            ("water", said(found.bed.water_l, "volume")),
            ("fill", _time(reader, cycle.fill_s)),
            ("drain", _time(reader, cycle.drain_s)),
            ("exchange", said(cycle.exchange_l_day, "volume")),
        )
    ]
    lines = _siphon(reader, found) if found.bed.siphon is not None else _timer(reader, found)
    head = [words.say(f"panel-flood-head-{one}", reader) for one in ("what", "value")]
    both = curves.both(plot(reader, found), reader, _title(reader, found))
    after = [html.paragraph(words.say(f"panel-flood-{one}", reader)) for one in ("mature", "bench")]
    return answer(_title(reader, found), lines, html.table(head, rows), figure(*both), *after)


def _title(reader: words.Reader, found: Found) -> str:
    cycle = found.cycle
    if cycle.starts == "unlikely":
        return words.say("panel-flood-never-starts", reader)
    if cycle.stops == "unlikely":
        return words.say("panel-flood-never-stops", reader)
    if cycle.per_h == 0.0:
        return words.say("panel-flood-never-fills", reader)
    times = words.quantity(cycle.per_h, "turnover", reader)
    doubtful = "doubtful" in (cycle.starts, cycle.stops)
    return words.say("panel-flood-doubtful" if doubtful else "panel-flood-answer", reader, times=times)


def _siphon(reader: words.Reader, found: Found) -> list[str]:
    cycle = found.cycle
    lines = [
        words.say(
            f"panel-flood-starts-{cycle.starts}",
            reader,
            range=words.span(*cycle.starts_l_h, "flow", reader),
        ),
        words.say(
            f"panel-flood-stops-{cycle.stops}",
            reader,
            range=words.span(*cycle.stops_l_h, "flow", reader),
        ),
    ]
    if cycle.starts != "likely":
        lines.append(words.say("panel-flood-do-start", reader))
    if cycle.stops != "likely":
        lines.append(words.say("panel-flood-do-stop", reader))
    return lines


def _timer(reader: words.Reader, found: Found) -> list[str]:
    cycle, bed = found.cycle, found.bed
    if math.isinf(cycle.fill_s):
        return [words.say("panel-flood-hole-passes", reader)]
    lines = [
        words.say(
            "panel-flood-on-short" if cycle.fill_s > bed.runs_s else "panel-flood-on-long",
            reader,
            time=_time(reader, cycle.fill_s),
        )
    ]
    key = "panel-flood-off-short" if cycle.drain_s > bed.rests_s else "panel-flood-off-long"
    return [*lines, words.say(key, reader, time=_time(reader, cycle.drain_s))]


def _time(reader: words.Reader, seconds: float) -> str:
    if math.isinf(seconds):
        return words.say("panel-flood-never", reader)
    return words.quantity(seconds / SECONDS_PER_HOUR, "time", reader)


def plot(reader: words.Reader, found: Found) -> curves.Plot:
    """An hour of water in the beds and in the sump."""
    cycle, bed = found.cycle, found.bed
    at = slice(None, None, SHOWN_EVERY_S)
    minutes = cycle.minutes[at]
    top = max(bed.sump_l, bed.water_l, float(np.max(cycle.sump_l)))
    alike = bed.arranged == "together"
    lines = [
        curves.Curve(
            minutes,
            one[at],
            words.say("panel-flood-each-bed" if alike else "panel-flood-bed", reader, number=str(k + 1)),
        )
        for k, one in enumerate(cycle.bed_l[: 1 if alike else 3])
    ]
    sump = curves.Curve(minutes, cycle.sump_l[at], words.say("panel-flood-line-sump", reader), (6, 3))
    return curves.Plot(
        curves.Axis(words.say("panel-flood-minutes", reader), "", 0.0, 60.0),
        curves.Axis(words.say("panel-flood-litres", reader), "volume", 0.0, round_up(1.15 * top)),
        [*lines, sump],
    )


def written(desk: Desk, found: Found, fields: Mapping[str, Field]) -> Dotted:
    """Water of a bed that was measured, where the garden has one media bed."""
    del fields
    media = [bed for bed in desk.garden.beds if bed.holds_medium]
    if not found.measured or len(media) != 1:
        return {}
    return measurement(desk, "bed_water", f"{found.bed.water_l:.3g} L", media[0].name)


def known(desk: Desk) -> dict[str, object]:
    """The first media bed, its share of the flow, the sump with the beds drained."""
    garden = desk.garden
    media = [bed for bed in garden.beds if bed.holds_medium]
    if not media:
        return {}
    bed = media[0]
    flow = float(desk.balance.flow_l_h.middle) / len(garden.beds)
    sump = garden.sump.volume_l if garden.sump else 0.0
    return {
        "way": "timer" if bed.drain == "timer" else "siphon",
        "area": bed.area_m2,
        "flood": bed.flood_m,
        "medium": bed.medium,
        "water": bed.water_l,
        "inflow": flow,
        "beds": float(len(media)),
        "sump": sump + levels.beds_l(garden),
    }


def panel(desk: Desk | None = None) -> WritingPanel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = WritingPanel("flood", desk, controls(reader), compute, partial(draw, reader), written, asked, MAIN)
    if desk is not None:
        desk.fill(made, known)
    return made
