"""Is the water growing too warm or too cold for these fish, on which day, and what comes before it?"""

from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial

import numpy as np

from aquacalc import tables, words
from aquacalc.climate import trend
from aquacalc.climate.trend import LEAST_READINGS, Trend
from aquacalc.errors import InputError, Problem
from aquacalc.garden.fields import bounds
from aquacalc.judge import temperature
from aquacalc.judge.levels import Level
from aquacalc.pages import html
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.panels.frame.rows import Column, RowsField
from aquacalc.panels.trouble import triage
from aquacalc.sizing.forecast import Kind

ROWS = (
    ("2027-06-01", 20.0),
    ("2027-06-03", 20.8),
    ("2027-06-05", 21.9),
    ("2027-06-07", 22.6),
    ("2027-06-09", 23.7),
)
"""Invented, until the thermometer's are typed."""
MOST_ROWS = 30
NEWEST = 10
"""Readings of the log that are taken: a trend is of the last days."""


@dataclass(frozen=True)
class Found:
    """The line through the readings, the day of the last of them, and each line of the fish that lies ahead.

    ahead: names of the lines, where they lie, and days to them at the fast end, the middle, the slow end.
    """

    trend: Trend
    last: date
    kind: Kind
    level: Level
    ahead: tuple[tuple[str, float, tuple[float, float, float]], ...]


def controls(reader: words.Reader) -> dict[str, Field]:
    """Days and readings, and the fish."""
    warm = bounds("water_temperature")
    columns = [
        Column(words.say("panel-measure-day", reader), "text"),
        Column(words.say("panel-measure-water", reader), "temperature", warm.low, warm.high),
    ]
    return {
        "rows": RowsField(words.say("panel-trend-rows", reader), columns, ROWS, reader, MOST_ROWS),
        "species": ChoiceField(words.say("panel-species", reader), lists.species(), "rainbow_trout", reader),
    }


def compute(values: Values) -> Found:
    """The line through the readings; `InputError` for too few of them and for a day that is none."""
    read = sorted((_day(text), float(celsius)) for text, celsius in values["rows"])
    days = {day for day, _ in read}
    if len(days) < LEAST_READINGS:
        raise InputError(Problem("problem-trend-few", "", str(len(days)), (str(LEAST_READINGS),)))
    first, last = read[0][0], read[-1][0]
    found = trend.trend([(day - first).days for day, _ in read], [celsius for _, celsius in read])
    row = tables.load("species").row(values["species"])
    kind: Kind = "heat" if found.slope_k_d >= 0.0 else "cold"
    lines = {
        "heat": (("stress", row.number("t_stress_high_c")), ("end", temperature.highest_c((row,)))),
        "cold": (("feed", row.number("t_feed_stop_low_c")), ("end", temperature.lowest_c((row,)))),
    }[kind]
    ahead = tuple((f"{kind}-{name}", line, found.days_to(line)) for name, line in lines)
    return Found(found, last, kind, temperature.level(found.now_c, (row,)), ahead)


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise InputError(Problem("problem-date", "", text)) from None


def draw(reader: words.Reader, found: Found) -> html.Html:
    """The water now and its way, the day of each line, and what comes before it."""
    a_day = words.quantity(abs(found.trend.slope_k_d), "temperature_difference", reader)
    way = found.kind if found.trend.sure else "steady"
    title = words.say(
        f"panel-trend-answer-{way}",
        reader,
        water=words.quantity(found.trend.now_c, "temperature", reader),
        day=words.day(found.last, reader),
        slope=a_day,
        level=words.level(found.level, reader),
    )
    head = [words.say(f"panel-trend-head-{one}", reader) for one in ("line", "water", "when")]
    rows = [
        (
            words.say(f"panel-trend-line-{name}", reader),
            words.quantity(line, "temperature", reader),
            _when(found, line, days, reader),
        )
        for name, line, days in found.ahead
    ]
    after = [words.say(f"panel-trend-do-{found.kind}", reader), words.say("panel-trend-weak", reader)]
    return answer(title, [], html.table(head, rows), *map(html.paragraph, after))


def _when(found: Found, line: float, days: tuple[float, float, float], reader: words.Reader) -> str:
    """The day of a line, as a range; never beyond the days for which a line is followed."""
    past = found.trend.now_c >= line if found.kind == "heat" else found.trend.now_c <= line
    if past:
        return words.say("panel-trend-past", reader)
    fast, _, slow = days
    if not np.isfinite(fast):
        far = words.number(trend.FARTHEST_DAYS)
        return words.say("panel-trend-not", reader, days=far)
    first = words.day(found.last + timedelta(days=int(fast)), reader)
    if not np.isfinite(slow):
        return words.say("panel-trend-from", reader, first=first)
    last = words.day(found.last + timedelta(days=round(slow)), reader)
    return first if first == last else words.say("range", reader, low=first, high=last)


def known(desk: Desk) -> dict[str, object]:
    """The newest readings of the log, and the garden's tender fish."""
    species = triage.of_garden(desk).species
    read = () if desk.log is None else desk.log.all("temperature")[-NEWEST:]
    rows = tuple((one.day.isoformat(), one.value) for one in read)
    few = len({day for day, _ in rows}) < LEAST_READINGS
    return ({} if few else {"rows": rows}) | ({"species": species} if species else {})


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden and its log where there are any."""
    reader = reader_of(desk)
    made = Panel("trend", controls(reader), compute, partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, known)
    return made
