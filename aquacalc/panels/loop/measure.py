"""What did I measure? A sheet with blanks to take along, and fields that put each number into the file."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial

from aquacalc import words
from aquacalc.advice import measured
from aquacalc.constants import SECONDS_PER_HOUR
from aquacalc.errors import InputError, Problem
from aquacalc.garden.fields import bounds
from aquacalc.garden.model import Garden
from aquacalc.hydraulics.beds import LITRES_PER_M3
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, garden_of, reader_of
from aquacalc.panels.frame.fields import Field
from aquacalc.panels.frame.panel import Values, answer, wide
from aquacalc.panels.frame.rows import Column, RowsField
from aquacalc.panels.loop.writing import Dotted, WritingPanel, number
from aquacalc.sentences import balance as sentences

TESTS = ("flow", "fill", "drain", "back", "plug", "drop", "water")
"""What the sheet asks for, in the order of a walk round the loop."""
MOST_DAYS = 20


@dataclass(frozen=True)
class Row:
    """One measurement as the garden file takes it."""

    what: str
    value: str
    day: date
    subject: str = ""


@dataclass(frozen=True)
class Found:
    """What was measured: flow, L/h; water of one flood, L; loss, L a day; power at
    the pump's plug, W; None where not told; days of the
    thermometer."""

    flow_l_h: float | None
    bed_l: float | None
    loss_l_day: float | None
    plug_w: float | None
    water_c: tuple[tuple[date, float], ...]

    @property
    def any(self) -> bool:
        """Whether anything was told."""
        told = (self.flow_l_h, self.bed_l, self.loss_l_day, self.plug_w)
        return bool(self.water_c) or any(one is not None for one in told)


def controls(reader: words.Reader) -> dict[str, Field]:
    """The bucket, the fill of the bed, the level in 24 hours, the days of the thermometer."""
    of = partial(number, reader=reader)
    inflow, warm = bounds("bed_inflow"), bounds("water_temperature")
    days = [
        Column(words.say("panel-measure-day", reader), "text"),
        Column(words.say("panel-measure-water", reader), "temperature", warm.low, warm.high),
    ]
    return {
        "bucket": of("panel-delivery-bucket", "volume", None, 0.2, 1000.0, optional=True),
        "seconds": of(
            "panel-measure-seconds", "", None, 0.5, SECONDS_PER_HOUR, optional=True, beside="seconds"
        ),
        "fill": of("panel-clogging-now", "time", None, 0.005, 24.0, optional=True),
        "inflow": of("panel-flood-inflow", "flow", None, inflow.low, inflow.high, optional=True),
        "drop": of("panel-measure-drop", "length", None, 0.0005, 0.5, optional=True),
        "surface": of("panel-measure-surface", "area", None, 0.02, 500.0, optional=True),
        "plug": of("panel-measure-plug", "power", None, 1.0, 5000.0, optional=True),
        "days": RowsField(words.say("panel-measure-days", reader), days, (), reader, MOST_DAYS),
    }


def compute(values: Values) -> Found:
    """The measurements; `InputError` for a pair that is half told and for a day that is none."""
    return Found(
        flow_l_h=_pair(
            values, "bucket", "seconds", lambda litres, seconds: SECONDS_PER_HOUR * litres / seconds
        ),
        bed_l=_pair(values, "fill", "inflow", lambda hours, flow: hours * flow),
        loss_l_day=_pair(values, "drop", "surface", lambda metres, area: LITRES_PER_M3 * metres * area),
        plug_w=values["plug"],
        water_c=tuple((_day(text), float(celsius)) for text, celsius in values["days"]),
    )


def _pair(values: Values, one: str, other: str, joined: Callable[[float, float], float]) -> float | None:
    first, second = values[one], values[other]
    if first is None or second is None:
        return None
    return float(joined(first, second))


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise InputError(Problem("problem-date", "", text)) from None


def draw(reader: words.Reader, garden: Garden | None, found: Found) -> html.Html:
    """What was told in the file's terms, the sheet with its blanks."""
    said = partial(words.quantity, reader=reader)
    told = [
        (found.flow_l_h, "flow", "flow"),
        (found.bed_l, "fill", "volume"),
        (found.loss_l_day, "drop", "volume"),
        (found.plug_w, "plug", "power"),
    ]
    lines = [
        words.say(f"panel-measure-told-{name}", reader, value=said(value, kind))
        for value, name, kind in told
        if value is not None
    ]
    if found.water_c:
        days = words.number(len(found.water_c), 3)
        lines.append(words.say("panel-measure-told-water", reader, days=days))
    if garden is not None:
        lines += sentences.measured(measured.counted(garden), reader)
        lines += [
            words.say("panel-measure-older", reader, what=one)
            for one in sentences.measured(measured.older(garden), reader)
        ]
    title = words.say("panel-measure-some" if found.any else "panel-measure-none", reader)
    head = [words.say(f"panel-measure-head-{one}", reader) for one in ("what", "how", "found", "day")]
    sheet = [
        (
            words.say(f"panel-measure-what-{one}", reader),
            words.say(f"panel-measure-how-{one}", reader),
            "",
            "",
        )
        for one in TESTS
    ]
    newer = html.paragraph(words.say("panel-measure-newer", reader))
    return answer(
        title, [*lines, words.say("panel-measure-beside", reader)], wide(html.table(head, sheet)), newer
    )


def written(desk: Desk, found: Found, fields: Mapping[str, Field]) -> Dotted:
    """A row for each, of today, or of its own day; one of the same day is written over. Watts go to the
    pump."""
    del fields
    today = desk.file.today
    media = [bed.name for bed in desk.garden.beds if bed.holds_medium]
    rows = [Row("water_temperature", f"{celsius:.4g} C", day) for day, celsius in found.water_c]
    if found.flow_l_h is not None:
        rows.append(Row("flow", f"{found.flow_l_h:.3g} L/h", today))
    if found.loss_l_day is not None:
        rows.append(Row("water_use", f"{found.loss_l_day:.3g} L/day", today))
    if found.bed_l is not None and len(media) == 1:
        rows.append(Row("bed_water", f"{found.bed_l:.3g} L", today, media[0]))
    made = _dotted(desk.garden, rows)
    if found.plug_w is not None and len(desk.garden.pumps) == 1:
        made["pump.0.power"] = f"{found.plug_w:.3g} W"
    return made


def _dotted(garden: Garden, rows: list[Row]) -> dict[str, object]:
    there = [(one.what, one.day, one.subject) for one in garden.measured]
    made: dict[str, object] = {}
    for row in rows:
        key = (row.what, row.day, row.subject)
        if key not in there:
            there.append(key)
        at = f"measured.{there.index(key)}"
        made |= {f"{at}.what": row.what, f"{at}.value": row.value, f"{at}.day": row.day}
        if row.subject:
            made[f"{at}.subject"] = row.subject
    return made


def panel(desk: Desk | None = None) -> WritingPanel:
    """The panel; its fields wait for what was measured."""
    reader = reader_of(desk)

    def drawn(found: Found) -> html.Html:
        return draw(reader, garden_of(desk), found)

    made = WritingPanel("measure", desk, controls(reader), compute, drawn, written)
    if desk is not None:
        desk.follow(made.refresh)
    return made
