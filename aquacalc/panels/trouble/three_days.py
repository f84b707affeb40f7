"""Hot or cold days are foretold: how far will the water go, hour by hour, and what takes most of it off?"""

from datetime import date
from functools import partial

import numpy as np

from aquacalc import tables, words
from aquacalc.charts import curves
from aquacalc.climate import loop, months
from aquacalc.constants import HOURS_PER_DAY
from aquacalc.garden import litres, surroundings
from aquacalc.garden.fields import bounds
from aquacalc.pages import html
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field
from aquacalc.panels.frame.panel import Panel, Values, answer, figure, wide
from aquacalc.panels.frame.rows import Column, RowsField
from aquacalc.panels.loop import heat as heat_panel
from aquacalc.panels.loop.writing import choice, number
from aquacalc.panels.trouble import triage
from aquacalc.sentences import forecast as sentences
from aquacalc.sizing import forecast, heat
from aquacalc.sizing.forecast import Asked, Day, Forecast

MAIN = ("days", "water", "sky", "species", "bottles")
"""What is asked first."""
DAYS = ((34.0, 22.0), (36.0, 24.0), (36.0, 24.0))
"""Invented, until a forecast is typed."""


def controls(reader: words.Reader) -> dict[str, Field]:
    """The forecast, the water now, the fish, ice at hand; then the loop and its place."""
    of = partial(number, reader=reader)
    depth = bounds("tank_depth")
    columns = [
        Column(words.say("panel-days-high", reader), "temperature", -40.0, 55.0),
        Column(words.say("panel-days-low", reader), "temperature", -45.0, 50.0),
    ]
    return {
        "days": RowsField(words.say("panel-days", reader), columns, DAYS, reader, forecast.MOST_DAYS),
        "water": of("panel-water-now", "temperature", 24.0, 0.0, 45.0),
        "sky": choice("panel-days-sky", tuple(forecast.SUN), reader),
        "species": ChoiceField(words.say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "bottles": of("panel-days-bottles", "", 0.0, 0.0, forecast.MOST_BOTTLES),
        "clock": of("panel-days-clock", "", forecast.USUAL_CLOCK, 0.0, 23.0),
        "volume": of("panel-heat-water", "volume", 1000.0, 20.0, 200_000.0),
        "depth": of("panel-heat-depth", "length", 0.8, depth.low, depth.high),
        "cover": choice("panel-heat-cover", ("indoors", "greenhouse", "shade", "open"), reader, "shade"),
        "lid": choice("panel-heat-lid", ("none", "lid"), reader),
        "surface": choice("panel-heat-surface", ("quiet", "aerated"), reader, "aerated"),
        "beds": of("panel-heat-beds", "area", 2.0, 0.0, 500.0),
        "has": of("panel-heat-has", "bore", 0.0, 0.0, 1000.0),
        "pumps": of("panel-heat-pumps", "power", 30.0, 0.0, 5000.0),
        "humidity": of("panel-heat-humidity", "share", 0.6, 0.01, 1.0),
        "wind": of("panel-days-wind", "speed", surroundings.CALM_WIND_M_S, 0.0, 40.0),
        "latitude": of("panel-heat-latitude", "", 45.0, -66.0, 66.0),
    }


def compute(desk: Desk | None, today: date, values: Values) -> Forecast:
    """The days of these numbers: heat where its line is nearer than that of cold."""
    typed = {**values, "water": values["volume"], "conductivity": loop.FOAM_W_M_K}
    asked = Asked(
        loop=heat_panel.typed_loop(desk, typed),
        cover=values["cover"],
        days=tuple(Day(max(pair), min(pair)) for pair in values["days"]) or (Day(*DAYS[0]),),
        water_c=values["water"],
        clock=values["clock"],
        sky=values["sky"],
        humidity_pct=100.0 * values["humidity"],
        wind_m_s=values["wind"],
        latitude_deg=values["latitude"],
        day_of_year=months.day_of_year(today.month, today.day),
        bottles=values["bottles"],
    )
    row = tables.load("species").row(values["species"])
    error_k = heat.plain_error_k if desk is None else partial(surroundings.error_k, desk.garden)
    return forecast.forecast(asked, row, error_k=error_k)


def draw(reader: words.Reader, days: Forecast) -> html.Html:
    """The end of the days, what each deed does, the hours drawn."""
    both = curves.both(plot(reader, days), reader, words.say("panel-days-picture", reader))
    return answer(
        sentences.title(days, reader),
        sentences.lines(days, reader),
        wide(html.table(sentences.head(days, reader), sentences.rows(days, reader))),
        figure(*both),
        *map(html.paragraph, sentences.to_do(days, reader)),
    )


def plot(reader: words.Reader, days: Forecast) -> curves.Plot:
    """Water as things are with its band, with all deeds, and the line of the fish."""
    line, now, at = days.line_c, days.ways["now"], days.hours / HOURS_PER_DAY + 1.0
    best = days.ways.get("all")
    drawn = [
        curves.Curve(at, np.asarray(now.water_c.middle), words.say("panel-heat-line-now", reader)),
        curves.Curve(
            at[[0, -1]], np.array([line, line]), words.say(f"panel-days-line-{days.kind}", reader), (2, 3)
        ),
    ]
    ends = [np.asarray(now.water_c.low), np.asarray(now.water_c.high), np.array([line])]
    if best is not None:
        middle = np.asarray(best.water_c.middle)
        drawn.insert(1, curves.Curve(at, middle, words.say("panel-days-line-all", reader), (6, 3)))
        ends.append(middle)
    every = np.concatenate(ends)
    return curves.Plot(
        curves.Axis(words.say("panel-days-axis", reader), "", 1.0, float(np.ceil(at[-1]))),
        curves.Axis(
            words.say("panel-days-water", reader),
            "temperature",
            2.0 * float(np.floor(every.min() / 2.0)),
            2.0 * float(np.ceil((every.max() + 0.5) / 2.0)),
        ),
        drawn,
        [curves.Strip(at, np.asarray(now.water_c.low), np.asarray(now.water_c.high))],
    )


def known(desk: Desk) -> dict[str, object]:
    """The garden's loop and place, its tender fish, and a start at the water of this month."""
    garden = desk.garden
    own, today = surroundings.loop_of(garden), desk.file.today
    climate, month = surroundings.climate_of(garden, heat.sample(members=1)), today.month - 1
    usual = Day(float(climate.high_c[month]), float(climate.low_c[month]))
    asked = forecast.of_garden(garden, [usual] * len(DAYS), None, "clear", 0.0, today)
    species = triage.of_garden(desk).species
    return {
        "days": tuple((one.high_c, one.low_c) for one in asked.days),
        "water": asked.water_c,
        "volume": litres.litres_of(garden).whole,
        "depth": heat_panel.depth_m(own),
        "cover": asked.cover,
        "lid": "lid" if own.lid else "none",
        "surface": "aerated" if own.aerated else "quiet",
        "beds": own.beds_m2,
        "has": 1000.0 * own.insulation_m,
        "pumps": own.gain_w,
        "humidity": asked.humidity_pct / 100.0,
        "wind": asked.wind_m_s,
        "latitude": float(np.clip(asked.latitude_deg, -66.0, 66.0)),
        **({"species": species} if species else {}),
    }


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    today = date.today() if desk is None else desk.file.today
    made = Panel(
        "three-days",
        controls(reader),
        partial(compute, desk, today),
        partial(draw, reader),
        reader,
        main=MAIN,
    )
    if desk is not None:
        desk.fill(made, known)
    return made
