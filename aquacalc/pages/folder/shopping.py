"""Shopping and spares: what keeps fish alive when something breaks, and how much feed a year takes."""

from calendar import monthrange
from collections.abc import Iterator

import numpy as np

from aquacalc import words
from aquacalc.agenda import doses, other_water
from aquacalc.pages import bands, kit, supplied
from aquacalc.pages.html import TICK_BOX, Html, paragraph, section, twofold
from aquacalc.pages.plan import Plan
from aquacalc.pages.wall import doses as table
from aquacalc.sentences import days
from aquacalc.sizing.result import Balance

TESTED = ("ph", "tan", "nitrite", "nitrate", "alkalinity", "oxygen", "chlorine")


def page(plan: Plan) -> Html:
    """What to have in the house, as a list to tick."""
    return section(
        plan.say("shopping-title"),
        paragraph(plan.say("shopping-how")),
        twofold([f"{TICK_BOX} {spare}" for spare in _spares(plan)], "plain"),
        paragraph(_feed(plan)),
    )


def _spares(plan: Plan) -> Iterator[str]:
    garden = plan.garden
    for pump in garden.pumps[:1]:
        yield plan.say(
            "shopping-pump",
            flow=plan.quantity(pump.box_flow_l_h, "flow"),
            head=plan.quantity(pump.box_head_m, "length"),
        )
    outage = plan.balance.outage
    if outage is not None and float(outage.air_l_min.middle) > 0.0:
        yield plan.say(
            "shopping-backup",
            air=words.span(
                float(outage.air_l_min.low), float(outage.air_l_min.high), "air_flow", plan.reader
            ),
            battery=words.span(
                float(outage.battery_wh.low), float(outage.battery_wh.high), "energy", plan.reader
            ),
        )
    biofilter = plan.balance.biofilter
    if biofilter is not None and float(biofilter.missing_litres.middle) > 0.0:
        yield plan.say(
            "shopping-medium",
            litres=plan.quantity(float(biofilter.missing_litres.middle), "volume"),
            medium=words.name("medium", biofilter.medium),
        )
    yield from _dechlorinator(plan)
    yield from _supplies(plan)
    missing = [name for name in TESTED if not _is_measured(plan, name)]
    if missing:
        names = words.listed([words.say(f"word-{name}", plan.reader) for name in missing], plan.reader)
        yield plan.say("shopping-tests", names=names)
    for what in ("air", "seals", "thermometer", "net", "goggles", "breaker"):
        yield plan.say(f"shopping-{what}")


def _dechlorinator(plan: Plan) -> Iterator[str]:
    """Enough to make as much tap water usable as the whole loop holds; also where a rain barrel runs dry."""
    on_shelf = doses.of_kind(plan.garden, "dechlorinator")
    dry = () if plan.agenda is None else plan.agenda.dry_times
    if plan.garden.top_up.disinfectant == "none" and not other_water.from_the_tap(plan.garden, dry):
        return
    if not on_shelf:
        yield plan.say("shopping-dechlorinator-none")
        return
    line = doses.dechlorinator(plan.garden, on_shelf[0])
    yield plan.say(
        "shopping-dechlorinator",
        name=table.short_name(line.product),
        grams=plan.quantity(line.step_g * plan.litres.whole / line.water_l, "dose"),
        volume=plan.quantity(plan.litres.whole, "volume"),
    )


def _supplies(plan: Plan) -> Iterator[str]:
    """What the season gives the water, in all; other water for dry times; salt against nitrite."""
    if plan.agenda is None:
        return
    for one in plan.agenda.supplies:
        yield plan.say(
            f"shopping-supply-{one.kind.replace('_', '-')}",
            name=supplied.name(one),
            grams=supplied.grams(plan, one),
            count=one.portions,
        )
    for line in table.lines(plan):
        if line.to_buy and line.kind == "chloride":
            yield plan.say("shopping-salt", name=table.short_name(line.product))
    for time in plan.agenda.dry_times:
        yield plan.say(
            "shopping-other-water",
            days=days.span(time.first, time.last, plan.reader),
            litres=words.span(time.low_l, time.high_l, "volume", plan.reader),
        )


def _is_measured(plan: Plan, name: str) -> bool:
    scale = kit.scale_of(plan.garden, name)
    return bool(scale.steps or scale.drop) or plan.garden.last_measured(name) is not None


def _feed(plan: Plan) -> str:
    if not plan.eats:
        return ""
    if plan.agenda is not None:
        return plan.say("shopping-feed", feed=bands.span(plan.agenda.feed_g, "mass", plan.reader))
    low, high = feed_of_year_g(plan.balance, plan.garden.season.start.year)
    return plan.say("shopping-feed", feed=words.span(low, high, "mass", plan.reader))


def feed_of_year_g(balance: Balance, first_year: int) -> tuple[float, float]:
    """Feed that the appetite of the twelve months adds up to, low and high, g."""
    year, days = first_year, []
    for place, month in enumerate(balance.months):
        year += month == 1 and place > 0
        days.append(monthrange(year, month)[1])
    feed = balance.demand.feed_g_day
    return float(np.dot(feed.low, days)), float(np.dot(feed.high, days))
