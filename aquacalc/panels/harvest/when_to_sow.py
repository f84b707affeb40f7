"""When do I sow for a harvest? A crop, a place and a wished day in; sowing, planting and picking out."""

from dataclasses import replace
from datetime import date
from functools import partial
from typing import get_args

from aquacalc import words
from aquacalc.advice import trail as rests
from aquacalc.errors import InputError, Problem
from aquacalc.garden import places
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Cover, Garden, MonthlyClimate
from aquacalc.pages import html, trail
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.dates import EARLIEST, DateField, coming, not_past
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import NORTH, ChoiceField, Field, NumberField
from aquacalc.panels.frame.months import MonthsField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.schedule import backward
from aquacalc.schedule.backward import Backward
from aquacalc.sentences import days

HIGH_SUMMER = {False: 8, True: 2}
"""Month whose first day is asked for at first, north and south of the equator."""


def wished_at_first(garden: Garden) -> date:
    """A day of high summer in or soon after the season's first year."""
    start = garden.season.start
    day = date(start.year, HIGH_SUMMER[garden.site.latitude_deg < 0.0], 1)
    return day if day >= start else day.replace(year=day.year + 1)


def controls(garden: Garden, reader: words.Reader, earliest: date = EARLIEST) -> dict[str, Field]:
    """Crop, wished day from `earliest` on, and the place: what stands over the beds, the air by month."""
    say, site = words.say, garden.site
    covers = [(say(f"panel-cover-{cover}", reader), cover) for cover in get_args(Cover)]
    wished = wished_at_first(garden)
    return {
        "crop": ChoiceField(say("panel-crop", reader), lists.crops(), "lettuce_leaf", reader),
        "wished": DateField(say("panel-sow-wished", reader), wished, reader, wished, earliest=earliest),
        "cover": ChoiceField(say("panel-cover", reader), covers, site.cover, reader),
        "highs": MonthsField(say("panel-air-max", reader), "temperature", site.climate.air_max_c, reader),
        "lows": MonthsField(say("panel-air-min", reader), "temperature", site.climate.air_min_c, reader),
        "latitude": NumberField(
            say("panel-latitude", reader), "angle", site.latitude_deg, reader, -66.0, 66.0, shown_in=NORTH
        ),
    }


def placed(garden: Garden, values: Values) -> Garden:
    """The garden at the place that the fields tell."""
    site = garden.site
    highs, lows = tuple(values["highs"]), tuple(values["lows"])
    for month, (high, low) in enumerate(zip(highs, lows, strict=True), start=1):
        if low > high:
            where = words.month(month, garden.reader)
            raise InputError(Problem("problem-min-above-max", where, f"{low:.3g}", (f"{high:.3g}",)))
    climate = site.climate
    if (highs, lows) != (climate.air_max_c, climate.air_min_c):
        # Humidity, wind and sun belong to the other weather.
        climate = MonthlyClimate(highs, lows)
    return replace(
        garden, site=replace(site, cover=values["cover"], latitude_deg=values["latitude"], climate=climate)
    )


def compute(garden: Garden, values: Values) -> tuple[str, Backward | None]:
    """The crop and its batch, counted backward."""
    crop = values["crop"]
    return crop, backward.for_harvest(crop, placed(garden, values), values["wished"])


def draw(reader: words.Reader, found: tuple[str, Backward | None]) -> html.Html:
    """Sow, plant, pick; what stands still; how far off the first pick may be."""
    crop, batch = found
    name = words.name("crop", crop)
    if batch is None:
        return answer(words.say("panel-sow-never", reader, crop=name))

    def day(when: date) -> str:
        return words.date(when, reader)

    plant = "panel-sow-plant" if batch.sow else "panel-sow-straight"
    rows = [(words.say("panel-sow-sow", reader), day(batch.sow))] if batch.sow else []
    rows.append((words.say(plant, reader), day(batch.plant)))
    rows.append((words.say("panel-sow-pick", reader), day(batch.first_pick)))
    if batch.last_pick is not None:
        rows.append((words.say("panel-sow-last", reader), day(batch.last_pick)))
    key = "panel-sow-answer" if batch.kept else "panel-sow-nearest"
    title = words.say(key, reader, crop=name, first=day(batch.sow or batch.plant), day=day(batch.first_pick))
    lines = []
    if not batch.kept:
        lines.append(words.say("panel-sow-not-then", reader, day=day(batch.wished)))
    early, late = batch.early_pick, batch.late_pick
    lines.append(words.say("panel-sow-span", reader, days=words.during(early, late, reader)))
    for first, last in batch.stands_still:
        lines.append(words.say("panel-sow-still", reader, days=days.span(first, last, reader)))
    rest = trail.fold(rests.of_rows("crops", [crop]), reader)
    head = (words.say("panel-sow-what", reader), words.say("panel-sow-when", reader))
    return answer(title, lines, html.table(head, rows), rest)


def known(desk: Desk) -> dict[str, object]:
    """The garden's own place; a crop that stands in it."""
    garden, site = desk.garden, desk.garden.site
    told: dict[str, object] = {
        "wished": coming(wished_at_first(garden), not_past(garden, desk.file.today)),
        "cover": site.cover,
        "highs": site.climate.air_max_c,
        "lows": site.climate.air_min_c,
        "latitude": site.latitude_deg,
    }
    return told | ({"crop": garden.crops[0].crop} if garden.crops else {})


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one; then its lamps and its water count, too."""
    reader = reader_of(desk)
    starter = GardenFile.open(places.starter()).garden

    def now(values: Values) -> tuple[str, Backward | None]:
        return compute(replace(starter if desk is None else desk.garden, reader=reader), values)

    earliest = EARLIEST if desk is None else not_past(desk.garden, desk.file.today)
    made = Panel("sow", controls(starter, reader, earliest), now, partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, known)
    return made
