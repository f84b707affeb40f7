"""The supplement sheet: each test that may ask for something, from where to where, and this garden's grams.

It holds what the plan asks for and the shelf lacks, too. Nothing on it is ordered by date.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from aquacalc import words
from aquacalc.agenda.doses import Line
from aquacalc.agenda.supplies import IRON, MINERALS, Supply
from aquacalc.constants import MONTHS_PER_YEAR
from aquacalc.pages.html import LINE_BREAK, Html, element, join, listing, paragraph, table
from aquacalc.pages.plan import Plan, sheet
from aquacalc.pages.wall import doses

ELEMENT_OF = {kind: of for kind, (of, _) in {**MINERALS, "iron": IRON}.items()}
"""The element that a kind of supply brings."""
ORDER = ("base", "K", "Ca", "Mg", "Fe", "chloride", "ammonia", "chlorine")


def page(plan: Plan) -> Html:
    """The sheet; nothing where nothing is described and nothing asked for."""
    found = sorted(_asked(plan), key=lambda line: ORDER.index(line.element or line.kind))
    change = _change(plan)
    if not found and not change:
        return Html("")
    return sheet(
        plan,
        plan.say("supplement-title"),
        *doses.adults(plan),
        paragraph(plan.say("supplement-how")),
        _table(plan, found),
        *change,
        element("h2", plan.say("dose-never")),
        listing([plan.say("dose-never-date"), plan.say("supplement-never-feed")]),
    )


def _asked(plan: Plan) -> Iterator[Line]:
    """What lifts alkalinity and elements, on the shelf or not; whatever else is still to be bought."""
    for line in doses.lines(plan):
        if line.kind in ("base", "element") or line.to_buy:
            yield line


def _table(plan: Plan, found: Sequence[Line]) -> Html:
    head = [plan.say(f"supplement-head-{name}") for name in ("test", "product")]
    head += [plan.say(f"dose-head-{name}") for name in ("grams", "day")]
    tests = [join(*_parted([element("b", _test(plan, line)), *_when(plan, line)])) for line in found]
    # What is told of a test stands beside its first product.
    told = [test if test not in tests[:place] else "" for place, test in enumerate(tests)]
    return table(head, (_row(plan, *one) for one in zip(told, found, strict=True)), "supplements")


def _row(plan: Plan, test: str, line: Line) -> Sequence[str]:
    product = [element("b", doses.short_name(line.product)), f" {doses.what(plan, line)}"]
    if line.to_buy:
        product.insert(1, f" ({plan.say('supplement-to-buy')}),")
    return (
        test,
        join(*product),
        doses.weighed(plan, line.step_g, line.product),
        doses.weighed(plan, line.day_g, line.product),
    )


def _parted(lines: Sequence[str]) -> Iterator[str]:
    for number, line in enumerate(lines):
        if number:
            yield LINE_BREAK
        yield line


def _test(plan: Plan, line: Line) -> str:
    """What is tested before it is given."""
    kind = next((kind for kind, of in ELEMENT_OF.items() if of == line.element), line.kind)
    return plan.say(f"supplement-test-{kind}")


def _when(plan: Plan, line: Line) -> Iterator[str]:
    """From which reading up to which, and in which months the season has it so."""
    given = [] if plan.agenda is None else [one for one in plan.agenda.supplies if _brings(one, line)]
    for one in given[:1]:
        kind = (
            "number" if one.kind == "base" else "nitrogen" if one.kind == "filter_food" else "concentration"
        )
        under, to = (plan.quantity(end, kind) for end in (one.under, one.to))
        key = "supplement-under" if under == to else "supplement-under-to"
        yield plan.say(key, under=under, to=to)
        if one.months:
            yield plan.say("supplement-months", months=_months(plan, one.months))


def _months(plan: Plan, found: Iterable[date]) -> str:
    """Calendar months in the order of the season, those that follow each other as a span."""
    months = list(dict.fromkeys(one.month for one in found))
    if len(months) == MONTHS_PER_YEAR:
        return plan.say("supplement-all-year")
    spans: list[list[int]] = []
    for month in months:
        if spans and (spans[-1][-1] % MONTHS_PER_YEAR) + 1 == month:
            spans[-1].append(month)
        else:
            spans.append([month])
    told = [[words.month(end, plan.reader, short=True) for end in (one[0], one[-1])] for one in spans]
    return ", ".join(low if low == high else plan.say("range", low=low, high=high) for low, high in told)


def _brings(one: Supply, line: Line) -> bool:
    """Whether a line is what the season gives, of the same kind."""
    if one.kind == "base":
        return line.kind == "base"
    if one.kind == "filter_food":
        return line.kind == "ammonia"
    return line.element == ELEMENT_OF[one.kind]


def _change(plan: Plan) -> list[Html]:
    """Part of the water changed where nitrate is high, as the garden file has it."""
    entries = () if plan.agenda is None else plan.agenda.entries
    changes = [one for one in entries if one.key == "change"]
    if not changes:
        return []
    told = plan.say(
        "supplement-change",
        above=plan.quantity(changes[0].under, "nitrogen"),
        litres=plan.quantity(changes[0].high_l, "volume"),
        months=_months(plan, [one.day for one in changes]),
    )
    return [element("h2", plan.say("supplement-change-title")), paragraph(told)]
