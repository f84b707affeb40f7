"""What does the garden's year cost, what is it worth, and what is an hour of work?"""

import math
from collections.abc import Callable, Mapping
from functools import partial

import numpy as np

from aquacalc import money, units, words
from aquacalc.agenda import costs
from aquacalc.constants import DAYS_PER_YEAR
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import Garden
from aquacalc.harvest import fish as fish_harvest
from aquacalc.logbook.log import Log
from aquacalc.money import Account
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import KILOGRAMS, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer, wide
from aquacalc.panels.harvest import season_runs
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import proposal

MAIN = ("fish_kg", "crops_kg", "fish_worth", "crops_worth", "hours", "wage")
USUAL = {"fish_worth": 6.0, "crops_worth": 2.2, "feed_price": 2.0, "price_kwh": 0.3, "water_price": 2.0}
"""Prices to begin with, of a kg, a kWh and a cubic metre, in no currency. Common practice, no source."""
BY_WEIGHT = ("fish_worth", "crops_worth", "feed_price")
MOST = 1e7


def controls(reader: words.Reader) -> dict[str, Field]:
    """What the year grows, what it takes, what things cost, and the hours."""
    say = words.say

    def kilos(key: str, value: float) -> NumberField:
        return NumberField(
            say(f"account-{key}", reader), "mass", value, reader, 0.0, MOST * 1e3, shown_in=KILOGRAMS
        )

    def plain(key: str, value: float, most: float = MOST, least: float = 0.0) -> NumberField:
        us = "-us" if reader.units == "us" and key in BY_WEIGHT else ""
        return NumberField(
            say(f"account-{key.replace('_', '-')}{us}", reader), "", value, reader, least, most
        )

    per = _per_weight(reader)
    return {
        "fish_kg": kilos("fish-kg", 31_000.0),
        "crops_kg": kilos("crops-kg", 176_000.0),
        "fish_worth": plain("fish_worth", round(USUAL["fish_worth"] * per, 2)),
        "crops_worth": plain("crops_worth", round(USUAL["crops_worth"] * per, 2)),
        "hours": plain("hours", 3.0, 168.0),
        "wage": plain("wage", 12.0),
        "feed_kg": kilos("feed-kg", 46_500.0),
        "feed_price": plain("feed_price", round(USUAL["feed_price"] * per, 2)),
        "kwh": NumberField(say("account-kwh", reader), "energy", 500_000.0, reader, 0.0, MOST * 1e3),
        "heat": NumberField(say("account-heat", reader), "energy", 0.0, reader, 0.0, MOST * 1e3),
        "price_kwh": plain("price_kwh", USUAL["price_kwh"]),
        "water": NumberField(say("account-water", reader), "volume", 15_000.0, reader, 0.0, MOST * 1e3),
        "water_price": plain("water_price", USUAL["water_price"]),
        "fish": plain("fish", 30.0),
        "seed": plain("seed", 40.0),
        "other": plain("other", 60.0),
        "build": plain("build", 1200.0),
        "years": plain("years", 8.0, 100.0, 0.5),
    }


def _per_weight(reader: words.Reader) -> float:
    """Kilograms of what prices by weight are for: a kilogram, for readers of US units a pound."""
    return units.unit("lb").factor / 1000.0 if reader.units == "us" else 1.0


def compute(reader: words.Reader, values: Values) -> Account:
    """The account of the fields. Raises `InputError` where nothing is grown."""
    if values["fish_kg"] + values["crops_kg"] <= 0.0:
        raise InputError(Problem("problem-account-nothing"))
    per = _per_weight(reader)
    return Account(
        fish_kg=values["fish_kg"] / 1000.0,
        crops_kg=values["crops_kg"] / 1000.0,
        fish_worth_kg=values["fish_worth"] / per,
        crops_worth_kg=values["crops_worth"] / per,
        feed_kg=values["feed_kg"] / 1000.0,
        feed_price_kg=values["feed_price"] / per,
        kwh=values["kwh"] / 1000.0,
        heat_kwh=values["heat"] / 1000.0,
        price_kwh=values["price_kwh"],
        water_m3=values["water"] / 1000.0,
        water_price_m3=values["water_price"],
        fish=values["fish"],
        seed=values["seed"],
        other=values["other"],
        build=values["build"],
        build_years=values["years"],
        hours_week=values["hours"],
        wage_hour=values["wage"],
    )


# --- the answer


def draw(reader: words.Reader, year: Account) -> html.Html:
    """What is left and an hour of it, three cases, the lines, what one change brings."""
    say, paid = words.say, partial(_money, reader=reader)
    if year.left >= 0.0:
        title = say("account-left", reader, left=paid(year.left), hour=paid(year.left_an_hour))
    else:
        title = say("account-loses", reader, lost=paid(-year.left))
    biggest = max(year.costs, key=lambda key: year.costs[key])
    lines = [
        say(
            "account-biggest",
            reader,
            line=say(f"account-line-{biggest}", reader),
            share=words.quantity(year.costs[biggest] / year.spent if year.spent else 0.0, "share", reader),
        ),
        say("account-pays" if year.left_an_hour >= year.wage_hour else "account-pays-not", reader),
        say("account-selling", reader),
    ]
    tables = (_cases(year, reader), _lines(year, reader), _changes(year, reader))
    return answer(title, lines, *tables)


def _money(amount: float, reader: words.Reader) -> str:
    return words.say("not-known", reader) if math.isnan(amount) else proposal.money(round(amount, 2), reader)


def _hour(year: Account, reader: words.Reader) -> str:
    """What an hour leaves; nothing where the year leaves nothing, however many hours share the loss."""
    return _money(year.left_an_hour, reader) if year.left > 0.0 else words.say("account-no-hour", reader)


def _cases(year: Account, reader: words.Reader) -> html.Html:
    say, per = words.say, _per_weight(reader)
    found = money.cases(year)
    us = "-us" if reader.units == "us" else ""
    told: Mapping[str, Callable[[Account], str]] = {
        "account-row-worth": lambda one: _money(one.worth, reader),
        "account-row-spent": lambda one: _money(one.spent, reader),
        "account-row-left": lambda one: _money(one.left, reader),
        "account-row-hour": lambda one: _hour(one, reader),
        f"account-row-kg{us}": lambda one: _money(one.cost_kg(False) * per, reader),
        f"account-row-kg-labour{us}": lambda one: _money(one.cost_kg(True) * per, reader),
    }
    head = [say("account-case", reader), *(say(f"account-case-{key}", reader) for key in found)]
    cells = [(say(key, reader), *map(text, found.values())) for key, text in told.items()]
    return wide(html.table(head, cells))


def _lines(year: Account, reader: words.Reader) -> html.Html:
    say = words.say
    head = [say("account-head-line", reader), say("account-head-cost", reader)]
    rows = [
        (say(f"account-line-{key}", reader), _money(cost, reader)) for key, cost in year.costs.items() if cost
    ]
    rows.append(
        (
            say("account-line-work", reader, hours=words.quantity(year.hours, "time", reader)),
            _money(year.labour, reader),
        )
    )
    return html.table(head, rows)


def _changes(year: Account, reader: words.Reader) -> html.Html:
    """What one change brings, the best first; what changes nothing is left out."""
    say = words.say
    found = {key: money.changed(year, key) for key in money.TRIED}
    best = sorted(found, key=lambda key: -found[key].left)
    head = [say(f"account-head-{key}", reader) for key in ("change", "brings", "hour")]
    rows = [
        (
            say(
                f"account-change-{key.replace('_', '-')}",
                reader,
                share=words.quantity(abs(money.TRIED[key]), "share", reader),
            ),
            _money(found[key].left - year.left, reader),
            _hour(found[key], reader),
        )
        for key in best
        if found[key].left > year.left or (found[key].left > 0.0 and found[key].hours < year.hours)
    ]
    return html.join(html.paragraph(say("account-changes", reader)), html.table(head, rows))


# --- what the plan knows


def known(desk: Desk) -> dict[str, object]:
    """The year of the garden's plan in its middle run, and its prices."""
    garden, per = desk.garden, _per_weight(desk.reader)
    told: dict[str, object] = {name: round(value, 4) for name, value in of_plan(garden, desk.log).items()}
    prices = garden.prices
    if prices.feed_kg is not None:
        told["feed_price"] = round(prices.feed_kg * per, 2)
    if prices.electricity_kwh is not None:
        told["price_kwh"] = prices.electricity_kwh
    if garden.top_up.source in ("rain", "well"):
        told["water_price"] = 0.0
    elif prices.water_m3 is not None:
        told["water_price"] = prices.water_m3
    return told


def of_plan(garden: Garden, log: Log | None) -> dict[str, float]:
    """Grams, Wh and litres of a year by the plan's middle run; a shorter season is drawn out to a year."""
    decided = season_runs.middle(garden, log)
    run = decided.run
    times = DAYS_PER_YEAR / run.days
    fish_kg = sum(
        _gained_kg(run, place) for place, batch in enumerate(decided.garden.fish) if fish_harvest.eaten(batch)
    )
    used = {
        line.key: float(line.used.mean())
        for line in costs.lines(run, decided.garden, (), ())
        if line.used is not None
    }
    return {
        "fish_kg": 1000.0 * fish_kg * times,
        "crops_kg": 1000.0 * float(run.crops["picked_kg"].sum(dtype=np.float64)) / run.members * times,
        "feed_kg": 1000.0 * used["feed"] * times,
        "kwh": 1000.0 * used["electricity"] * times,
        "water": 1000.0 * used["water"] * times,
    }


def _gained_kg(run: SeasonRun, place: int) -> float:
    """What a batch that is eaten gained: taken out and left at the end, without what it began with."""
    count = run.fish["count"][place]
    kg = np.median(count * np.nan_to_num(run.fish["weight_g"][place]) / 1000.0, axis=0)
    there = np.flatnonzero(kg > 0.0)
    if not there.size:
        return 0.0
    taken = float(np.median(run.fish["taken_kg"][place].sum(axis=1)))
    return max(taken + float(kg[-1] - kg[there[0]]), 0.0)


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the plan of the garden where there is one."""
    reader = reader_of(desk)
    made = Panel(
        "account", controls(reader), partial(compute, reader), partial(draw, reader), reader, main=MAIN
    )
    if desk is not None:
        desk.fill(made, known)
    return made
