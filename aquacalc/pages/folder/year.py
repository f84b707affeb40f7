"""The balance through the year: the picture, the feed of each limit, the narrowest in fish and bed."""

import math
from collections.abc import Iterator, Sequence

from aquacalc import drawings, words
from aquacalc.charts import year
from aquacalc.pages.html import Html, element, figure, join, paragraph, section, smaller, table
from aquacalc.pages.plan import Plan
from aquacalc.sentences import balance as sentences
from aquacalc.sizing.result import Limit
from aquacalc.uncertainty import Band

MONTHS = range(12)


def loop(plan: Plan) -> Html:
    """The garden's own loop."""
    drawing = Html(drawings.loop(plan.garden, plan.balance, plan.reader))
    return smaller(section(plan.say("loop-title"), figure(drawing, plan.say("loop-terms"))))


def picture(plan: Plan) -> Html:
    """Demand and all limits through the year."""
    picture = year.balance(plan.balance, plan.reader, headline(plan))
    terms = plan.say("year-terms", tries=plan.balance.members)
    return smaller(section(plan.say("year-title"), figure(Html(picture), terms)))


def figures(plan: Plan) -> Html:
    """The same in figures, with what the filter and the flow rest on."""
    key = paragraph(plan.say("year-feed-key"), "small")
    told = (sentences.biofilter(plan.balance, plan.reader), sentences.flow(plan.balance, plan.reader))
    return section(plan.say("year-feed"), _feed_table(plan), key, *map(paragraph, told))


def narrowest(plan: Plan) -> Html:
    """For each month the narrowest limit of both kinds, in feed, in fish and in bed."""
    return section(
        plan.say("year-narrowest"), _narrowest_table(plan), paragraph(plan.say("year-range-key"), "small")
    )


def headline(plan: Plan) -> str:
    """The picture's title: its answer in words."""
    found = plan.balance.binding
    if found is None:
        return plan.say("year-headline-none")
    return plan.say(
        "year-headline-over" if found.share > 1.0 else "year-headline-within",
        name=words.limit(found.key, plan.reader),
        limit=plan.quantity(found.limit_g_day, "feed"),
        demand=plan.quantity(found.demand_g_day, "feed"),
        month=words.month(found.month, plan.reader),
    )


def _feed_table(plan: Plan) -> Html:
    balance_, reader = plan.balance, plan.reader
    ordered = sorted(balance_.limits, key=lambda limit: not limit.must)
    head = [
        plan.say("year-month"),
        join(plan.say("year-water"), " ", words.unit("temperature", reader)),
        plan.say("chart-demand"),
        *(_limit_head(plan, limit) for limit in ordered),
    ]
    rows = []
    for position in MONTHS:
        demand = _middle(balance_.demand.feed_g_day, position)
        water = words.convert(_middle(balance_.water_c, position), "temperature", reader)
        cells = (_limit_cell(plan, limit, position, demand) for limit in ordered)
        month = words.month(balance_.months[position], reader, short=True)
        rows.append((month, words.number(water), _figure(plan, demand), *cells))
    return table(head, rows, "numbers")


def _limit_head(plan: Plan, limit: Limit) -> str:
    kind = "year-head-must" if limit.must else "year-head-better"
    name = words.limit(limit.key, plan.reader)
    return plan.say(kind if limit.counts else "year-head-backed", name=name)


def _limit_cell(plan: Plan, limit: Limit, position: int, demand: float) -> Html:
    carried = _middle(limit.feed_g_day, position)
    text = _figure(plan, carried)
    return element("b", text, class_="over") if limit.counts and demand > carried else join(text)


def _figure(plan: Plan, feed_g_day: float) -> str:
    if not math.isfinite(feed_g_day):
        return plan.say("year-no-figure")
    return words.number(words.convert(feed_g_day, "feed", plan.reader))


def _narrowest_table(plan: Plan) -> Html:
    units = {kind: words.unit(kind, plan.reader) for kind in ("feed", "biomass", "area")}
    in_feed = plan.say("year-in-feed", unit=units["feed"])
    head = [
        plan.say("year-month"),
        plan.say("year-must"),
        in_feed,
        plan.say("year-in-fish", unit=units["biomass"]),
        plan.say("year-in-count", weight=plan.quantity(plan.balance.final_weight_g, "mass")),
        plan.say("year-in-bed", unit=units["area"]),
        plan.say("year-better"),
        in_feed,
        plan.say("year-in-bed", unit=units["area"]),
    ]
    return table(head, _narrowest_rows(plan), "numbers narrow")


def _narrowest_rows(plan: Plan) -> Iterator[Sequence[str]]:
    for position in MONTHS:
        yield (
            words.month(plan.balance.months[position], plan.reader, short=True),
            *_limit_cells(plan, position, must=True),
            *_limit_cells(plan, position, must=False),
        )


def _limit_cells(plan: Plan, position: int, must: bool) -> Iterator[str]:
    """The narrowest limit of a kind, in feed, in fish where it must hold, and in bed."""
    limit = narrowest_limit(plan, position, must)
    if limit is None:
        yield from (plan.say("year-no-figure") for _ in range(5 if must else 3))
        return
    yield words.limit(limit.key, plan.reader)
    yield _range(plan, limit.feed_g_day, position, "feed")
    if must:
        yield _range(plan, limit.fish_kg, position, "biomass")
        yield _range(plan, limit.fish_count, position, "count")
    yield _range(plan, limit.bed_m2, position, "area")


def narrowest_limit(plan: Plan, position: int, must: bool) -> Limit | None:
    """The limit of a kind that carries least in a month; None where none has a figure."""
    known = [
        limit
        for limit in plan.balance.limits
        if limit.must == must and limit.counts and math.isfinite(_middle(limit.feed_g_day, position))
    ]
    return min(known, key=lambda limit: _middle(limit.feed_g_day, position), default=None)


def _range(plan: Plan, band: Band, position: int, kind: str) -> str:
    low, middle, high = sentences.at(band, position)
    if not all(map(math.isfinite, (low, middle, high))):
        return plan.say("year-no-figure")
    shown = [words.convert(value, kind, plan.reader) for value in (low, high)]
    return words.span(shown[0], shown[1], "ratio" if kind != "count" else kind, plan.reader)


def _middle(band: Band, position: int) -> float:
    return sentences.at(band, position)[1]
