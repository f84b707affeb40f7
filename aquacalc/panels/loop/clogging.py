"""Is the bed clogging? From the time it takes to fill against the time when it was new."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from typing import Literal

import numpy as np

from aquacalc import solids, words
from aquacalc.charts import curves
from aquacalc.charts.axes import round_up
from aquacalc.constants import DAYS_PER_YEAR, HOURS_PER_DAY, MONTHS_PER_YEAR
from aquacalc.garden.fields import bounds
from aquacalc.garden.model import Bed
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, measurement, reader_of
from aquacalc.panels.frame.fields import Field
from aquacalc.panels.frame.panel import Values, answer, figure
from aquacalc.panels.loop.writing import Dotted, WritingPanel, choice, number
from aquacalc.sizing import levels

State = Literal["slower", "open", "closing", "clogged"]
WAYS = ("time", "water")
DAYS_PER_MONTH = DAYS_PER_YEAR / MONTHS_PER_YEAR
ERROR = 0.05
"""Of a flow from a bucket and a watch (practice): a smaller change is none."""
RINSED_SHARE = 1.0 / 3.0
"""Of a bed at a time, so that the rest goes on filtering. Common practice, no source."""
LOOK_AHEAD = 1.6
"""Of the time that passed since it was new, shown further on."""

MAIN = ("way", "inflow", "now", "new", "water", "since")
"""What is asked first."""


@dataclass(frozen=True)
class Found:
    """What a bed has lost. lost: share of its water, low and high; since, left: months, infinite where no end
    is in sight."""

    inflow_l_h: float
    now_min: float
    new_min: float
    lost: tuple[float, float]
    since: float | None
    left: float

    @property
    def middle(self) -> float:
        """Share of the water lost."""
        return float(solids.void_lost_share(self.now_min, self.new_min))

    @property
    def state(self) -> State:
        """How far it has come."""
        if self.middle < -ERROR:
            return "slower"
        if self.middle < solids.CLOGGING_SHARE:
            return "open"
        return "closing" if self.middle < solids.CLOGGED_SHARE else "clogged"

    @property
    def water_l(self) -> float:
        """Water of one flood now."""
        return self.inflow_l_h * self.now_min / 60.0


def controls(reader: words.Reader) -> dict[str, Field]:
    """What runs in, the fill now and when it was new, how long ago that was."""
    of = partial(number, reader=reader)
    inflow = bounds("bed_inflow")
    return {
        "way": choice("panel-clogging-way", WAYS, reader),
        "inflow": of("panel-flood-inflow", "flow", 500.0, inflow.low, inflow.high),
        "now": of("panel-clogging-now", "time", 9.4 / 60.0, 0.005, 24.0, slide=(0.02, 1.0, 0.01)),
        "new": of("panel-clogging-new", "time", 14.4 / 60.0, 0.005, 24.0),
        "water": of("panel-clogging-water", "volume", 120.0, 0.5, 1e5),
        "since": of("panel-clogging-since", "time", None, HOURS_PER_DAY, 5e5, optional=True),
    }


def asked(values: Mapping[str, object]) -> tuple[str, ...]:
    """Its first fill time, or its first water."""
    return ("way", "inflow", "now", "since", "new" if values["way"] == "time" else "water")


def compute(values: Values) -> Found:
    """What it lost, with the error of bucket and watch, and when it will be too much."""
    inflow, now = values["inflow"], 60.0 * values["now"]
    new = 60.0 * (values["new"] if values["way"] == "time" else values["water"] / inflow)
    ends = [float(solids.void_lost_share(now * (1.0 + one), new)) for one in (ERROR, -ERROR)]
    since = values["since"]
    months = None if since is None else since / HOURS_PER_DAY / DAYS_PER_MONTH
    lost = float(solids.void_lost_share(now, new))
    left = math.inf if months is None else float(solids.months_left(lost, months))
    return Found(inflow, now, new, (ends[0], ends[1]), months, left)


def draw(reader: words.Reader, found: Found) -> html.Html:
    """What is lost, what to do, when to look again."""
    lost = words.span(max(found.lost[0], 0.0), max(found.lost[1], 0.0), "share", reader)
    title = words.say(f"panel-clogging-{found.state}", reader, lost=lost)
    line = partial(words.quantity, kind="share", reader=reader)
    lines = [
        words.say(
            "panel-clogging-water-now",
            reader,
            water=words.quantity(found.water_l, "volume", reader),
            new=words.quantity(found.inflow_l_h * found.new_min / 60.0, "volume", reader),
        ),
        words.say(
            "panel-clogging-lines",
            reader,
            watch=line(solids.CLOGGING_SHARE),
            act=line(solids.CLOGGED_SHARE),
        ),
    ]
    if found.state in ("closing", "clogged"):
        lines.append(words.say("panel-clogging-rinse", reader, share=line(RINSED_SHARE)))
    if math.isfinite(found.left) and found.left > 0.0:
        left = words.quantity(found.left * DAYS_PER_MONTH, "days", reader)
        lines.append(words.say("panel-clogging-left", reader, time=left))
    after = [html.paragraph(words.say(f"panel-clogging-{one}", reader)) for one in ("stir", "worms", "bench")]
    pictures = []
    if found.since is not None:
        pictures = [figure(*curves.both(plot(reader, found, found.since), reader, title))]
    return answer(title, lines, *pictures, *after)


def plot(reader: words.Reader, found: Found, since: float) -> curves.Plot:
    """The bed's water from when it was new, and on along the same line."""
    new_l = found.inflow_l_h * found.new_min / 60.0
    month = np.array([0.0, since * LOOK_AHEAD])
    a_month = found.middle / since
    low, high = (np.array([1.0, 1.0 - one / since * month[1]]) for one in reversed(found.lost))
    limit = np.full(2, new_l * (1.0 - solids.CLOGGED_SHARE))
    return curves.Plot(
        curves.Axis(words.say("panel-clogging-axis-months", reader), "", 0.0, float(month[1])),
        curves.Axis(words.say("panel-clogging-axis-water", reader), "volume", 0.0, round_up(1.2 * new_l)),
        [
            curves.Curve(month, new_l * (1.0 - a_month * month), words.say("panel-clogging-line", reader)),
            curves.Curve(month, limit, words.say("panel-clogging-line-limit", reader), (6, 3)),
        ],
        [curves.Strip(month, np.maximum(new_l * low, 0.0), new_l * high)],
        [curves.Point(since, found.water_l, words.say("panel-clogging-point", reader))],
    )


def _bed(desk: Desk) -> Bed | None:
    media = [bed for bed in desk.garden.beds if bed.holds_medium]
    return media[0] if len(media) == 1 else None


def written(desk: Desk, found: Found, fields: Mapping[str, Field]) -> Dotted:
    """The water of the garden's media bed, where it has one."""
    del fields
    bed = _bed(desk)
    return {} if bed is None else measurement(desk, "bed_water", f"{found.water_l:.3g} L", bed.name)


def known(desk: Desk) -> dict[str, object]:
    """The share of the flow that a bed gets, the water that it should hold when clean."""
    garden = desk.garden
    media = [bed for bed in garden.beds if bed.holds_medium]
    if not media:
        return {}
    inflow = max(float(desk.balance.flow_l_h.middle) / len(garden.beds), bounds("bed_inflow").low)
    clean = levels.clean_drains_l(media[0])
    told: dict[str, object] = {"inflow": inflow, "way": "water", "water": clean}
    return told | {"now": levels.bed_drains_l(media[0]) / inflow}


def panel(desk: Desk | None = None) -> WritingPanel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = WritingPanel(
        "clogging", desk, controls(reader), compute, partial(draw, reader), written, asked, MAIN
    )
    if desk is not None:
        desk.fill(made, known)
    return made
