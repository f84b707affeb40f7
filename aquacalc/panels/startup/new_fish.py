"""New fish: what does the water in their bag do, how warm, how long apart, how many, what do they get?"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import partial

from aquacalc import tables, words
from aquacalc.garden import litres
from aquacalc.judge import lines, sizes
from aquacalc.pages import html
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, in_round_numbers, reader_of
from aquacalc.panels.frame.fields import GRAMS, ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.startup import first_feed, methods, new_fish
from aquacalc.startup.new_fish import Arrival, Bag, Tempering
from aquacalc.tables import Row

USUAL_DENSITY = 20.0
"""kg of fish in a cubic metre at home, the most without backup and probe (fish reference, practice)."""


FILTERS = ("new", "passed", "running")
"""How far the filter is: without a pass, with two, or with fish for months."""


@dataclass(frozen=True, eq=False)
class NewFish:
    """All about an arrival. week_g: feed of the first seven days; guessed: nobody tested the bag.
    unproven: the filter is new and has passed nothing yet; stop_nitrite_mg_l: as N, for these fish in it."""

    species: Row
    bag: Bag
    guessed_mg_l: float | None
    tempering: Tempering
    arrival: Arrival
    week_g: tuple[float, ...]
    spoilt: bool
    unproven: bool
    stop_nitrite_mg_l: float


def controls(reader: words.Reader) -> dict[str, Field]:
    """Fish, then the bag, then the tank."""
    say = words.say

    def number(
        key: str,
        kind: str,
        value: float | None,
        low: float,
        high: float,
        optional: bool = False,
        beside: str = "",
    ) -> NumberField:
        name = say(f"panel-new-{key}", reader)
        return NumberField(name, kind, value, reader, low, high, optional=optional, beside=beside)

    filters = [(say(f"panel-new-filter-{one}", reader), one) for one in FILTERS]
    return {
        "filter": ChoiceField(say("panel-new-filter", reader), filters, "new", reader),
        "species": ChoiceField(say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "count": number("count", "", 20.0, 1.0, 1e5),
        "weight": NumberField(
            say("panel-new-weight", reader), "mass", 20.0, reader, 0.1, 2e4, shown_in=GRAMS
        ),
        "bag_tan": number("bag-tan", "", None, 0.0, 200.0, True, "mg-l-n"),
        "bag_ph": number("bag-ph", "", 6.5, 4.0, 10.0),
        "bag_alkalinity": number("bag-alkalinity", "alkalinity", None, 0.0, 1000.0, optional=True),
        "bag_c": number("bag-c", "temperature", 20.0, 0.0, 40.0),
        "bag_water": number("bag-water", "volume", 20.0, 0.5, 1e4),
        "hours": number("hours", "time", 3.0, 0.0, 96.0),
        "tank_ph": number("tank-ph", "", 7.6, 4.0, 10.0),
        "tank_c": number("tank-c", "temperature", 24.0, 0.0, 40.0),
        "tank": NumberField(say("panel-tank-water", reader), "volume", 1000.0, reader, 10.0, 1e6),
        "proven": number("proven", "feed", None, 0.0, 1e5, optional=True),
    }


def compute(values: Values) -> NewFish:
    """The bag at three pH, the steps of warmth, and the first week."""
    row = tables.load("species").row(values["species"])
    count, weight = round(values["count"]), values["weight"]
    guessed = None
    tan = values["bag_tan"]
    if tan is None:
        guessed = tan = new_fish.bag_tan_mg_l(count * weight / 1000.0, values["bag_water"], values["hours"])
    line = lines.begins_at("unionised_ammonia", "act today", (row,))
    alkalinity = math.nan if values["bag_alkalinity"] is None else values["bag_alkalinity"]
    bag = new_fish.bag(
        tan, values["bag_ph"], values["bag_c"], values["tank_ph"], line, alkalinity, values["tank_c"]
    )
    each = new_fish.appetite_g_day(values["species"], weight, values["tank_c"])
    wanted = count * each
    first = math.inf if values["proven"] is None else first_feed.first_feed_g_day(values["proven"])
    unproven = values["filter"] == "new"
    if unproven:
        first = methods.FISH_IN_FEED_G_D_M3[1] * values["tank"] / 1000.0
    week = new_fish.first_week_g_day(wanted, first)
    return NewFish(
        species=row,
        bag=bag,
        guessed_mg_l=guessed,
        tempering=new_fish.tempering(values["bag_c"], values["tank_c"]),
        arrival=new_fish.arrival(values["species"], count, weight, values["tank"]),
        week_g=tuple(float(one) for one in week),
        spoilt=not row.number("t_lethal_low_c") < values["tank_c"] < row.number("t_lethal_high_c"),
        unproven=unproven,
        stop_nitrite_mg_l=lines.class_begins_at("nitrite", "act today", (row,)),
    )


def draw(reader: words.Reader, found: NewFish) -> html.Html:
    """The bag's answer large; then what to do in order."""
    say = words.say
    bag = found.bag

    def nitrogen(value: float) -> str:
        # What follows from a guess has one digit.
        return words.quantity(value, "nitrogen", reader, 1 if found.guessed_mg_l is not None else None)

    title = say(
        "panel-new-bag-high" if bag.too_high else "panel-new-bag-low",
        reader,
        closed=nitrogen(bag.closed_mg_l),
        highest=nitrogen(bag.highest_mg_l),
    )
    lines = [say("panel-new-why", reader, line=words.quantity(bag.line_mg_l, "nitrogen", reader))]
    if not math.isnan(bag.opened_mg_l):
        ph = words.quantity(bag.opened_ph, "ph", reader)
        lines.append(say("panel-new-opened", reader, ph=ph, value=nitrogen(bag.opened_mg_l)))
    if found.guessed_mg_l is not None:
        lines.append(say("panel-new-guessed", reader, tan=nitrogen(found.guessed_mg_l)))
    if found.spoilt:
        lines.append(say("panel-new-lethal", reader, name=found.species.text("name")))
    if found.unproven:
        unproven = say(
            "panel-new-unproven",
            reader,
            unionised=words.quantity(bag.line_mg_l, "nitrogen", reader),
            nitrite=words.quantity(found.stop_nitrite_mg_l, "nitrogen", reader),
            least=words.quantity(sizes.LEAST_SHARE, "share", reader),
            most=words.quantity(sizes.MOST_SHARE, "share", reader),
        )
        lines = [unproven, title + say("full-stop", reader), *lines]
        title = say("panel-new-unproven-title", reader)
    return answer(
        title, lines, html.element("ol", *(html.element("li", one) for one in steps(reader, found)))
    )


def steps(reader: words.Reader, found: NewFish) -> list[str]:
    """What is done, in order: before, on the day, in the first weeks."""
    say, came = words.say, found.arrival
    texts = [
        say(
            "panel-new-apart",
            reader,
            low=words.quantity(new_fish.QUARANTINE_DAYS[0], "days", reader),
            high=words.quantity(new_fish.QUARANTINE_DAYS[1], "days", reader),
        )
    ]
    if came.quarantine_c is not None:
        warm = words.span(*came.quarantine_c, "temperature", reader)
        texts.append(say("panel-new-carp", reader, warm=warm))
    texts.append(_warmth(reader, found.tempering))
    texts.append(say("panel-new-net", reader))
    kg = words.quantity(came.kg, "biomass", reader)
    density = words.quantity(came.density_kg_m3, "density", reader)
    key = "panel-new-crowded" if came.density_kg_m3 > USUAL_DENSITY else "panel-new-room"
    most = words.quantity(USUAL_DENSITY, "density", reader)
    texts.append(say(key, reader, count=words.number(came.count, 9), kg=kg, density=density, most=most))
    if came.too_few:
        texts.append(say("panel-new-few", reader, count=str(came.companions)))
    if max(found.week_g) > 0.0:
        amounts = [words.quantity(one, "dose", reader) for one in found.week_g[1:]]
        fed = words.listed(amounts, reader)
        if len(set(amounts)) == 1:
            fed = say("panel-new-feed-each", reader, feed=amounts[0])
        fasted = words.quantity(came.fasted_h, "time", reader)
        texts.append(say("panel-new-feed", reader, hours=fasted, feed=fed))
    else:
        texts.append(say("panel-new-no-feed", reader))
    texts.append(say("panel-new-log", reader))
    cautions = tables.load("cautions")
    texts += [
        say(
            "hygiene-caution",
            reader,
            names=found.species.text("name"),
            text=say(cautions.row(one).text("words_key"), reader),
        )
        for one in came.cautions
        if one in ("law", "invasive")
    ]
    return texts


def _warmth(reader: words.Reader, of: Tempering) -> str:
    difference = words.quantity(abs(of.difference_k), "temperature_difference", reader)
    if of.minutes == 0.0:
        return words.say("panel-new-warmth-near", reader, difference=difference)
    minutes = words.quantity(of.minutes / 60.0, "time", reader)
    if of.days == 0:
        return words.say("panel-new-warmth", reader, difference=difference, minutes=minutes)
    left = words.quantity(of.left_k, "temperature_difference", reader)
    days = words.quantity(float(of.days), "days", reader)
    return words.say(
        "panel-new-warmth-days", reader, difference=difference, minutes=minutes, left=left, days=days
    )


def known(desk: Desk) -> dict[str, object]:
    """The garden's first batch and its water."""
    garden = desk.garden
    told: dict[str, object] = {
        "filter": "new" if garden.start_up.state == "new" else "running",
        "tank": in_round_numbers(litres.litres_of(garden).tanks, "volume", desk.reader),
        "tank_ph": garden.targets.ph,
    }
    if not garden.fish:
        return told
    batch = min(garden.fish, key=lambda one: one.stocked)
    months = desk.balance.months
    water = float(desk.balance.water_c.middle[months.index(batch.stocked.month)])
    return told | {
        "species": batch.species,
        "count": float(batch.count),
        "weight": batch.weight_g,
        "tank_c": round(water, 1),
        "bag_c": round(water - 4.0, 1),
    }


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("new-fish", controls(reader), compute, partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, known)
    return made
