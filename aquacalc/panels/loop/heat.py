"""What does warm water cost through the year, and what saves most: three ways of building side by side."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

import numpy as np

from aquacalc import power, words
from aquacalc.charts import curves
from aquacalc.climate import course, loop, months, sun
from aquacalc.climate.loop import Climate, Loop
from aquacalc.constants import DAYS_PER_YEAR, MONTHS_PER_YEAR
from aquacalc.garden import surroundings
from aquacalc.garden.fields import bounds
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import NORTH, Field
from aquacalc.panels.frame.panel import Panel, Values, answer, figure, wide
from aquacalc.panels.loop.writing import choice, number
from aquacalc.sizing import heat
from aquacalc.sizing.heat import Warmth
from aquacalc.uncertainty import Band, Floats

MAIN = ("water", "depth", "setpoint", "cold", "warm", "insulation", "beds", "price")
"""What is asked first."""
COVERS = ("indoors", "greenhouse", "shade", "open")
LIDS = ("none", "lid")
SURFACES = ("quiet", "aerated")
WAYS = ("now", "wrapped", "rested")
"""As it is; covered and wrapped; covered, wrapped, and the beds at rest at night."""


@dataclass(frozen=True, eq=False)
class Found:
    """A year of each way. setpoint_c, price: None where not wished, not known; to_buy: by way, what it costs
    to build, NaN where not known."""

    ways: tuple[Warmth, ...]
    setpoint_c: float | None
    price: float | None
    to_buy: tuple[float, ...]
    insulation_mm: float


def controls(reader: words.Reader) -> dict[str, Field]:
    """The tank, the air where it stands, what would wrap it, what power and boards cost."""
    of = partial(number, reader=reader)
    depth, tariff, thick = bounds("tank_depth"), bounds("tariff"), bounds("insulation")
    return {
        "water": of("panel-heat-water", "volume", 1000.0, 20.0, 200_000.0),
        "depth": of("panel-heat-depth", "length", 0.8, depth.low, depth.high),
        "setpoint": of("panel-heat-setpoint", "temperature", 22.0, 0.0, 40.0, optional=True),
        "cold": of("panel-heat-cold", "temperature", 4.0, -50.0, 50.0, slide=(-20.0, 30.0, 1.0)),
        "warm": of("panel-heat-warm", "temperature", 20.0, -50.0, 50.0, slide=(-10.0, 45.0, 1.0)),
        "insulation": of("panel-heat-insulation", "bore", 50.0, 0.0, thick.high, slide=(0.0, 150.0, 5.0)),
        "beds": of("panel-heat-beds", "area", 2.0, 0.0, 500.0, slide=(0.0, 10.0, 0.1)),
        "price": of("panel-energy-price", "", None, tariff.low, tariff.high, optional=True),
        "conductivity": of("panel-heat-conductivity", "", loop.FOAM_W_M_K, 0.01, 3.0, beside="conductivity"),
        "has": of("panel-heat-has", "bore", 0.0, 0.0, thick.high),
        "lid": choice("panel-heat-lid", LIDS, reader),
        "surface": choice("panel-heat-surface", SURFACES, reader, "aerated"),
        "cover": choice("panel-heat-cover", COVERS, reader, "shade"),
        "range": of("panel-heat-range", "temperature_difference", 9.0, 0.0, 35.0),
        "humidity": of("panel-heat-humidity", "share", 0.7, 0.01, 1.0),
        "latitude": of("panel-heat-latitude", "angle", 45.0, -66.0, 66.0, shown_in=NORTH),
        "pumps": of("panel-heat-pumps", "power", 30.0, 0.0, 5000.0),
        "boards": of("panel-heat-boards", "", None, 0.0, 1e6, optional=True),
        "valve": of("panel-heat-valve", "", None, 0.0, 1e6, optional=True),
    }


def compute(desk: Desk | None, values: Values) -> Found:
    """Three ways through the year of these numbers; what is not asked is the garden's."""
    now = typed_loop(desk, values)
    better = heat.wrapped(now, values["insulation"] / 1000.0)
    error_k = heat.plain_error_k if desk is None else partial(surroundings.error_k, desk.garden)
    found = heat.ways(
        [now, better, heat.resting(better)],
        partial(year_of, desk, values),
        values["setpoint"],
        error_k=error_k,
    )
    boards, valve = (float("nan") if values[one] is None else values[one] for one in ("boards", "valve"))
    return Found(
        found, values["setpoint"], values["price"], (0.0, boards, boards + valve), values["insulation"]
    )


def typed_loop(desk: Desk | None, values: Values) -> Loop:
    """A round tank; the garden's own tanks grow and shrink with the water and the depth that are typed."""
    top, walls = course.cylinder_m2(values["water"], values["depth"])
    night_rest = False
    if desk is not None:
        own = surroundings.loop_of(desk.garden)
        round_top, round_walls = course.cylinder_m2(own.water_l, depth_m(own))
        top, walls = own.top_m2 * top / round_top, own.walls_m2 * walls / round_walls
        night_rest = own.night_rest
    return Loop(
        water_l=values["water"],
        top_m2=top,
        walls_m2=walls,
        insulation_m=values["has"] / 1000.0,
        conductivity_w_m_k=values["conductivity"],
        lid=values["lid"] == "lid",
        lid_m=0.0,
        beds_m2=values["beds"],
        night_rest=night_rest,
        aerated=values["surface"] == "aerated",
        gain_w=values["pumps"],
    )


def depth_m(own: Loop) -> float:
    """Depth of the tanks as one. By geometry."""
    return own.water_l / 1000.0 / own.top_m2


def year_of(desk: Desk | None, values: Values, sampled: Mapping[str, Floats]) -> Climate:
    """The months between the coldest and the warmest: the garden's year moved there, else a sine."""
    latitude = values["latitude"]
    if desk is not None:
        return _moved(surroundings.climate_of(desk.garden, sampled), desk, values)
    mean = values["cold"] + (values["warm"] - values["cold"]) * heat.shape_of(latitude)
    high, low = mean + values["range"] / 2.0, mean - values["range"] / 2.0
    above = months.monthly_means(sun.extraterrestrial_mj_m2_d(latitude, np.arange(DAYS_PER_YEAR)))
    radiation = np.minimum(sun.radiation_from_temperature(high, low, above), sun.clear_sky_mj_m2_d(above))
    flat = np.ones(MONTHS_PER_YEAR)
    return Climate(
        high,
        low,
        100.0 * values["humidity"] * flat,
        surroundings.CALM_WIND_M_S * flat,
        np.asarray(radiation),
        latitude,
        values["cover"],
    )


def _moved(own: Climate, desk: Desk, values: Values) -> Climate:
    """The garden's year, moved by what was typed over its own numbers."""
    was = known(desk)
    ends = values["cold"] - was["cold"], values["warm"] - was["warm"]
    shape = heat.shape_of_garden(desk.garden)
    moved_k = ends[0] + (ends[1] - ends[0]) * shape
    half_k = (values["range"] - was["range"]) / 2.0
    humidity = own.humidity_pct
    if values["humidity"] != was["humidity"]:
        humidity = np.clip(own.humid_pct + 100.0 * (values["humidity"] - was["humidity"]), 1.0, 100.0)
    return replace(
        own,
        high_c=own.high_c + moved_k + half_k,
        low_c=own.low_c + moved_k - half_k,
        humidity_pct=humidity,
        latitude_deg=values["latitude"],
        cover=values["cover"],
    )


def draw(reader: words.Reader, found: Found) -> html.Html:
    """What it takes and what saves most, the three ways side by side, the water through the year."""
    both = curves.both(plot(reader, found), reader, words.say("panel-heat-picture", reader))
    after = [html.paragraph(words.say(f"panel-heat-{one}", reader)) for one in ("order", "bench", "fire")]
    table = _unheated(reader, found) if found.setpoint_c is None else _heated(reader, found)
    return answer(_title(reader, found), _lines(reader, found), wide(table), figure(*both), *after)


def _title(reader: words.Reader, found: Found) -> str:
    now, wrapped, _ = found.ways
    if found.setpoint_c is None:
        free = _span(_month(now.free_c, now.coldest), "temperature", reader)
        return words.say("panel-heat-free", reader, month=words.month(now.coldest, reader), water=free)
    setpoint = words.quantity(found.setpoint_c, "temperature", reader)
    if _needless(now):
        return words.say("panel-heat-none", reader, setpoint=setpoint)
    return words.say(
        "panel-heat-answer",
        reader,
        setpoint=setpoint,
        now=_energy(now.year_kwh, reader),
        wrapped=_energy(wrapped.year_kwh, reader),
    )


def _needless(now: Warmth) -> bool:
    return float(now.year_kwh.high) < 1.0


def _lines(reader: words.Reader, found: Found) -> list[str]:
    now, wrapped, rested = found.ways
    if found.setpoint_c is None:
        at = now.coldest - 1
        more = max(float(wrapped.free_c.middle[at]) - float(now.free_c.middle[at]), 0.0)
        kelvin = words.quantity(more, "temperature_difference", reader)
        return [words.say("panel-heat-warmer", reader, kelvin=kelvin)]
    if _needless(now):
        return []
    lines = [
        words.say(
            "panel-heat-size",
            reader,
            now=_span(now.recover_w, "power", reader),
            wrapped=_span(wrapped.recover_w, "power", reader),
            fall=words.quantity(heat.FALL_K, "temperature_difference", reader),
        )
    ]
    left = float(wrapped.year_kwh.middle)
    saved = left - float(rested.year_kwh.middle)
    if saved > 0.01 * left:
        share = words.number(100.0 * saved / left, 2)
        lines.append(words.say("panel-heat-beds-cost", reader, share=share))
    return lines


def _heated(reader: words.Reader, found: Found) -> html.Html:
    """By way: watts, energy and money of the dearest month and the year, what it costs to build."""
    heads = ["way", "hold", "month", "year"]
    if found.price is not None:
        heads += ["month-money", "year-money", "buy", "back"]
    head = [words.say(f"panel-heat-head-{one}", reader) for one in heads]
    return html.table(head, [_row(reader, found, n) for n in range(len(WAYS))])


def _row(reader: words.Reader, found: Found, n: int) -> tuple[str, ...]:
    way = found.ways[n]
    worst = _month(way.kwh, way.coldest)
    row = [
        _way(reader, found, n),
        _span(way.hold_w, "power", reader),
        _energy(worst, reader),
        _energy(way.year_kwh, reader),
    ]
    if found.price is not None:
        row += [_money(reader, worst, found.price), _money(reader, way.year_kwh, found.price)]
        row += _buying(reader, found, n, found.price)
    return tuple(row)


def _way(reader: words.Reader, found: Found, n: int) -> str:
    thick = words.quantity(found.insulation_mm, "bore", reader)
    return words.say(f"panel-heat-way-{WAYS[n]}", reader, insulation=thick)


def _buying(reader: words.Reader, found: Found, n: int, price: float) -> list[str]:
    """What a way costs to build, and after how many years that has come back."""
    buy = found.to_buy[n]
    if n == 0:
        return ["", ""]
    if not np.isfinite(buy):
        return [words.say("panel-heat-buy-unknown", reader), ""]
    said = words.say("panel-heat-money", reader, low=words.number(buy, 3), currency=reader.currency)
    saved_kwh = float(found.ways[0].year_kwh.middle) - float(found.ways[n].year_kwh.middle)
    saved = float(power.cost(saved_kwh, price))
    if not saved > 0.0:
        return [said, words.say("panel-heat-back-never", reader)]
    return [said, words.say("panel-heat-back-years", reader, years=words.number(buy / saved, 2))]


def _unheated(reader: words.Reader, found: Found) -> html.Html:
    """The water of the coldest and the warmest month, by way."""
    head = [words.say(f"panel-heat-head-{one}", reader) for one in ("way", "coldest", "warmest")]
    rows = []
    for n, way in enumerate(found.ways):
        warmest = int(np.argmax(way.free_c.middle)) + 1
        ends = (_month(way.free_c, month) for month in (way.coldest, warmest))
        rows.append((_way(reader, found, n), *(_span(one, "temperature", reader) for one in ends)))
    return html.table(head, rows)


def _month(of: Band, month: int) -> Band:
    return Band(of.low[month - 1], of.middle[month - 1], of.high[month - 1])


def _span(of: Band, kind: str, reader: words.Reader) -> str:
    return words.span(float(of.low), float(of.high), kind, reader)


def _energy(kwh: Band, reader: words.Reader) -> str:
    return words.span(1000.0 * float(kwh.low), 1000.0 * float(kwh.high), "energy", reader)


def _money(reader: words.Reader, kwh: Band, price: float) -> str:
    low, high = (words.number(float(power.cost(float(end), price)), 2) for end in (kwh.low, kwh.high))
    if low == high:
        return words.say("panel-heat-money", reader, low=low, currency=reader.currency)
    return words.say("panel-heat-money-span", reader, low=low, high=high, currency=reader.currency)


def plot(reader: words.Reader, found: Found) -> curves.Plot:
    """Water without a heater through the year, as it is and wrapped, and the wish."""
    month = np.arange(1.0, MONTHS_PER_YEAR + 1.0)
    now, wrapped, _ = found.ways
    wish = [] if found.setpoint_c is None else [np.full(MONTHS_PER_YEAR, found.setpoint_c)]
    ends = np.concatenate([now.free_c.low, now.free_c.high, wrapped.free_c.middle, *wish])
    said = ("now", "wrapped", "wish")
    drawn = (np.asarray(now.free_c.middle), np.asarray(wrapped.free_c.middle), *wish)
    lines = [
        curves.Curve(month, values, words.say(f"panel-heat-line-{name}", reader), dash)
        for name, values, dash in zip(said, drawn, ((1, 0), (6, 3), (2, 3)), strict=False)
    ]
    return curves.Plot(
        curves.Axis(words.say("panel-heat-months", reader), "", 1.0, float(MONTHS_PER_YEAR)),
        curves.Axis(
            words.say("panel-heat-temperature", reader),
            "temperature",
            5.0 * float(np.floor(ends.min() / 5.0)),
            5.0 * float(np.ceil((ends.max() + 1.0) / 5.0)),
        ),
        lines,
        [curves.Strip(month, np.asarray(now.free_c.low), np.asarray(now.free_c.high))],
    )


def known(desk: Desk) -> dict[str, Any]:
    """The garden's tanks, air and price."""
    garden = desk.garden
    typical = heat.sample(members=1)
    own, climate = surroundings.loop_of(garden), surroundings.climate_of(garden, typical)
    mean = climate.mean_c + float(np.ravel(climate.warmer_k)[0])
    return {
        "water": own.water_l,
        "depth": depth_m(own),
        "setpoint": garden.heat.setpoint_c,
        "cold": float(mean.min()),
        "warm": float(mean.max()),
        "beds": own.beds_m2,
        "price": garden.prices.electricity_kwh,
        "has": 1000.0 * own.insulation_m,
        "lid": "lid" if own.lid else "none",
        "surface": "aerated" if own.aerated else "quiet",
        "cover": climate.cover,
        "range": float(np.mean(climate.high_c - climate.low_c)),
        "humidity": float(np.mean(climate.humid_pct)) / 100.0,
        "latitude": climate.latitude_deg,
        "pumps": own.gain_w,
    }


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("heat", controls(reader), partial(compute, desk), partial(draw, reader), reader, main=MAIN)
    if desk is not None:
        desk.fill(made, known)
    return made
