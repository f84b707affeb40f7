"""The year strip: what stands and swims where through the season, and the feed that it takes."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from aquacalc import words
from aquacalc.agenda import beds
from aquacalc.charts import strip_series, strip_sowings
from aquacalc.charts.axes import round_up, ticks
from aquacalc.charts.canvas import NARROW, Canvas, cut, width_px
from aquacalc.charts.picture import FILL, INK, Chart, finish, quick, wrap
from aquacalc.charts.season_days import Days
from aquacalc.charts.strip_crops import CropOutline
from aquacalc.charts.strip_fish import FISH_PX, FishOutline, fish_days
from aquacalc.charts.strip_marks import NAME_SIZE, WORD_SIZE
from aquacalc.charts.strip_rows import bed_slots, fish_slots
from aquacalc.charts.strip_series import SeriesOutline
from aquacalc.garden import frost, usual_year
from aquacalc.garden.model import Garden
from aquacalc.schedule import positions
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Floats

HEADER_PX = 15.0
MONTHS_PX = 32.0
GAP_PX = 8.0
FEED_PX = 84.0
PAGE_PX = 860.0
"""Height of a strip that has room on a page under a title and the key, on the shorter of the two papers."""
OVER_PX = 20.0
"""Height of a row's name where it stands over the row."""
SOFT_INK = "#555555"
ROW_INK = "#b0b0b0"


@dataclass(frozen=True)
class Sheet:
    """How wide the picture is, and where its days begin and end. over: height of the name over each row; 0
    where it stands at its left."""

    width: float
    left: float
    right: float
    over: float = 0.0


PAGE = Sheet(750.0, 98.0, 742.0)
PHONE = Sheet(NARROW, 30.0, NARROW - 4.0, OVER_PX)


@quick
def strip(
    run: SeasonRun,
    garden: Garden,
    reader: words.Reader,
    title: str,
    top_g_day: float | None = None,
    waiting: Collection[str] = (),
) -> Chart:
    """Everything that stands or swims, place by place, and the feed of each day under it.

    title: the answer in words; empty where it stands beside the picture. top_g_day: upper end of the feed
    axis, to be kept while a control moves; round and roomy unless it is given. waiting: batches of fish that
    come only after two good tests.
    """
    canvas = strip_canvas(run, garden, reader, top_g_day, waiting)
    return _finished(canvas, title, run, garden, reader)


def strip_on_phone(
    run: SeasonRun,
    garden: Garden,
    reader: words.Reader,
    top_g_day: float | None = None,
    waiting: Collection[str] = (),
) -> str:
    """The strip without a title, as wide as a phone, as SVG; all else as in `strip`."""
    canvas = strip_canvas(run, garden, reader, top_g_day, waiting, PHONE)
    return canvas.svg(describe_strip(run, garden, reader), notes=_key(run, reader))


def strips(
    run: SeasonRun, garden: Garden, reader: words.Reader, waiting: Collection[str] = ()
) -> list[Chart]:
    """The strip without a title in parts that each have room on a page; waiting as in `strip`."""
    days = Days.of(run, PAGE.left, PAGE.right)
    parts: list[list[_Row]] = [[]]
    for row in _rows(run, garden, days, reader, waiting):
        if parts[-1] and _height([*parts[-1], row], garden, days) > PAGE_PX:
            parts.append([])
        parts[-1].append(row)
    return [_part(part, part is parts[0], part is parts[-1], run, garden, reader) for part in parts]


@quick
def _part(
    rows: Sequence[_Row], first: bool, last: bool, run: SeasonRun, garden: Garden, reader: words.Reader
) -> Chart:
    canvas = _canvas(rows, run, garden, reader, None, with_feed=last)
    return _finished(canvas, "", run, garden, reader, [row.name for row in rows], with_key=first)


def _finished(
    canvas: Canvas,
    title: str,
    run: SeasonRun,
    garden: Garden,
    reader: words.Reader,
    places: Collection[str] | None = None,
    with_key: bool = True,
) -> Chart:
    told = _key(run, reader) if with_key else []
    return finish(canvas.layers(), title, told, describe_strip(run, garden, reader, places), canvas.size)


def _key(run: SeasonRun, reader: words.Reader) -> list[str]:
    key = "strip-key" if run.members > 1 else "strip-key-single"
    return [words.say("strip-reading", reader), words.say(key, reader)]


def strip_canvas(
    run: SeasonRun,
    garden: Garden,
    reader: words.Reader,
    top_g_day: float | None = None,
    waiting: Collection[str] = (),
    sheet: Sheet = PAGE,
) -> Canvas:
    """The strip in pixels, from the names of the months down to the feed."""
    rows = _rows(run, garden, Days.of(run, sheet.left, sheet.right), reader, waiting, sheet)
    return _canvas(rows, run, garden, reader, top_g_day, sheet=sheet)


def _canvas(
    rows: Sequence[_Row],
    run: SeasonRun,
    garden: Garden,
    reader: words.Reader,
    top_g_day: float | None,
    with_feed: bool = True,
    sheet: Sheet = PAGE,
) -> Canvas:
    days = Days.of(run, sheet.left, sheet.right)
    frosts = _frosts(garden, days)
    head = _head(garden, days)
    foot = head + sum(row.height + GAP_PX for row in rows)
    tall = _height(rows, garden, days) + sheet.over if with_feed else foot + MONTHS_PX
    canvas = Canvas(sheet.width, tall)
    feed_top = foot + MONTHS_PX + sheet.over + 4.0
    feed_foot = feed_top + FEED_PX - 4.0
    ends = feed_foot if with_feed else foot
    days.draw_absences(canvas, garden, head, ends)
    days.draw_months(canvas, HEADER_PX, ends)
    days.write_months(canvas, HEADER_PX / 2.0, reader)
    days.write_months(canvas, foot + 8.0, reader, years=True)
    _away(canvas, garden, days, 1.5 * HEADER_PX, reader, sheet)
    _frost(canvas, frosts, days, head - HEADER_PX / 2.0, foot, reader)
    top = head + GAP_PX / 2.0
    for row in rows:
        row.draw(canvas, top, sheet)
        top += row.height + GAP_PX
        canvas.rule(0.0, top - GAP_PX / 2.0, sheet.right, top - GAP_PX / 2.0, 0.7, ink=ROW_INK)
    if with_feed:
        _feed(canvas, run, days, reader, feed_top, feed_foot, top_g_day, sheet)
    return canvas


def _head(garden: Garden, days: Days) -> float:
    """Height of what stands over the rows."""
    return HEADER_PX * (1 + bool(garden.away) + bool(_frosts(garden, days)))


def _height(rows: Sequence[_Row], garden: Garden, days: Days) -> float:
    """Height of a strip with its feed."""
    return _head(garden, days) + sum(row.height + GAP_PX for row in rows) + MONTHS_PX + FEED_PX + 10.0


# --- what stands over the rows ---------------------------------------------------------------------------


def _away(canvas: Canvas, garden: Garden, days: Days, y: float, reader: words.Reader, sheet: Sheet) -> None:
    for one in garden.away:
        left, right = days.at(one.start), days.after(one.end)
        if right > left:
            word = words.say("strip-away", reader)
            canvas.first_free([word], (left + right) / 2.0, y, "center", WORD_SIZE, high=sheet.width)


def _frosts(garden: Garden, days: Days) -> list[tuple[date, str]]:
    """Last and first frost of a usual year, where they fall into the season, with the key of their words."""
    found = frost.dates(garden.site, usual_year.usual_year_of(garden).outdoor_night_c)
    if found is None:
        return []
    named = dict(zip(found, ("strip-last-frost", "strip-first-frost"), strict=True))
    return [
        (days.first + timedelta(days=day), named[of_year])
        for day, of_year in enumerate(positions.around(garden.season).of_year.tolist())
        if of_year in named and day < days.count
    ]


def _frost(
    canvas: Canvas,
    frosts: Sequence[tuple[date, str]],
    days: Days,
    y: float,
    foot: float,
    reader: words.Reader,
) -> None:
    for when, key in frosts:
        x = days.at(when)
        canvas.grid(x, y - 5.0, x, foot, ink=SOFT_INK, dash=(1, 3))
        for text in (words.say(key, reader, day=words.day(when, reader)), words.say(f"{key}-short", reader)):
            if canvas.first_free([text], x + 3.0, y, size=WORD_SIZE):
                break
            if canvas.first_free([text], x - 3.0, y, "right", WORD_SIZE):
                break


# --- rows ------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Row:
    """A place: its name, its size in words, what is in it, what is sown for it."""

    name: str
    size: str
    height: float
    outlines: Sequence[FishOutline | CropOutline | SeriesOutline]
    sowings: Sequence[strip_sowings.Sowing] = ()

    def draw(self, canvas: Canvas, top: float, sheet: Sheet) -> None:
        """The row from `top` down."""
        if sheet.over:
            size_px = width_px(self.size, WORD_SIZE)
            canvas.text(
                cut(self.name, sheet.right - size_px - 8.0, NAME_SIZE), 0.0, top + 9.0, size=NAME_SIZE
            )
            canvas.text(self.size, sheet.right, top + 9.0, "right", WORD_SIZE, ink=SOFT_INK)
        else:
            self._name_beside(canvas, top, sheet.left - 6.0)
        top += sheet.over
        for one in self.outlines:
            one.draw(canvas, top)
        for sowing in self.sowings:
            sowing.draw(canvas, top + self.height - sheet.over - strip_sowings.height_px(self.sowings))

    def _name_beside(self, canvas: Canvas, top: float, room: float) -> None:
        y = top + 9.0
        for line in wrap(self.name, room / 7.0)[:2]:
            canvas.text(cut(line, room, NAME_SIZE), 0.0, y, size=NAME_SIZE)
            y += NAME_SIZE + 3.0
        canvas.text(self.size, 0.0, y, size=WORD_SIZE, ink=SOFT_INK)


def _rows(
    run: SeasonRun,
    garden: Garden,
    days: Days,
    reader: words.Reader,
    waiting: Collection[str] = (),
    sheet: Sheet = PAGE,
) -> list[_Row]:
    rows = [*_tanks(run, garden, days, reader, waiting), *_beds(run, garden, days, reader, sheet)]
    return [replace(row, height=row.height + sheet.over) for row in rows]


def _tanks(
    run: SeasonRun, garden: Garden, days: Days, reader: words.Reader, waiting: Collection[str]
) -> Iterator[_Row]:
    for tank in garden.tanks:
        placed = [k for k, batch in enumerate(garden.fish) if batch.tank == tank.name]
        there = [(k, span) for k in placed if (span := fish_days(run, k)) is not None]
        height, slots = fish_slots([span for _, span in there], FISH_PX)
        outlines = [
            FishOutline(run, garden, k, span, slot, days, reader, garden.fish[k].name in waiting)
            for (k, span), slot in zip(there, slots, strict=True)
        ]
        yield _Row(tank.name, words.quantity(tank.volume_l, "volume", reader), height, outlines)


def _beds(run: SeasonRun, garden: Garden, days: Days, reader: words.Reader, sheet: Sheet) -> Iterator[_Row]:
    grown = beds.beds(run, garden)
    for bed in garden.beds:
        height, slots = bed_slots(run, bed, grown)
        thin = strip_series.thin(grown, slots)
        alone = slots.keys() - {k for places in thin for k in places}
        outlines: list[CropOutline | SeriesOutline] = [
            *(CropOutline(run, grown[k], slot, days, reader) for k, slot in slots.items() if k in alone),
            *(
                SeriesOutline(run, [grown[k] for k in places], slot, days, reader)
                for places, slot in thin.items()
            ),
        ]
        sowings = strip_sowings.of_bed(run, bed.name, days, sheet.left - 4.0, sheet.width, reader)
        height += strip_sowings.height_px(sowings)
        yield _Row(bed.name, words.quantity(bed.area_m2, "area", reader), height, outlines, sowings)


# --- feed ------------------------------------------------------------------------------------------------


def _feed(
    canvas: Canvas,
    run: SeasonRun,
    days: Days,
    reader: words.Reader,
    top: float,
    foot: float,
    top_g_day: float | None,
    sheet: Sheet,
) -> None:
    """Feed of each day: a line, and its band."""
    found = run.band("feed_g")
    most = top_g_day or round_up(1.05 * float(np.max(found.high)))

    def y(feed_g: Floats) -> Floats:
        share: Floats = np.minimum(feed_g, most) / most
        return foot - share * (foot - top)

    named, unit = words.say("strip-feed", reader), words.unit("feed", reader)
    if sheet.over:
        canvas.text(named, 0.0, top - 11.0, size=NAME_SIZE)
        canvas.text(unit, sheet.right, top - 11.0, "right", WORD_SIZE, ink=SOFT_INK)
    else:
        canvas.text(named, 0.0, top + 6.0, size=NAME_SIZE)
        canvas.text(unit, 0.0, top + 21.0, size=WORD_SIZE, ink=SOFT_INK)
    for tick in ticks(0.0, most, 4):
        at = float(y(np.array(tick)))
        canvas.grid(days.left, at, days.right, at)
        canvas.text(words.number(tick, 3), days.left - 5.0, at, "right", WORD_SIZE)
    if run.members > 1:
        canvas.area(days.middles, y(found.low), y(found.high), FILL)
    canvas.line(days.middles, y(found.middle), INK, 1.8)


# --- in words --------------------------------------------------------------------------------------------


def describe_strip(
    run: SeasonRun, garden: Garden, reader: words.Reader, places: Collection[str] | None = None
) -> str:
    """What the strip shows, place by place; places: only those of these names."""

    spans: dict[tuple[str, str], list[tuple[int, int]]] = {}
    for k, batch in enumerate(garden.fish):
        if (swims := fish_days(run, k)) is not None:
            spans.setdefault((batch.tank, batch.name), []).append(swims)
    for one in beds.beds(run, garden):
        if (stands := one.days(run))[0] < stands[1]:
            spans.setdefault((one.batch.bed, words.name("crop", one.batch.crop)), []).append(stands)
    spans = {what: found for what, found in spans.items() if places is None or what[0] in places}
    feed = run.band("feed_g")
    most = int(np.argmax(feed.middle))
    return words.say(
        "strip-alt",
        reader,
        garden=garden.name,
        first=words.date(run.first, reader),
        last=words.date(run.date(run.days - 1), reader),
        parts="; ".join(_told(run, *what, found, reader) for what, found in spans.items()),
        feed=words.span(float(feed.low[most]), float(feed.high[most]), "feed", reader),
        day=words.date(run.date(most), reader),
    )


def _told(
    run: SeasonRun, place: str, name: str, spans: Sequence[tuple[int, int]], reader: words.Reader
) -> str:
    """The days of what is alike in a place: of several batches from the first to the last."""
    first, last = min(begin for begin, _ in spans), max(end for _, end in spans) - 1
    return words.say(
        "strip-alt-part" if len(spans) == 1 else "strip-alt-parts",
        reader,
        place=place,
        name=name,
        count=str(len(spans)),
        first=words.date(run.date(first), reader),
        last=words.date(run.date(last), reader),
    )
