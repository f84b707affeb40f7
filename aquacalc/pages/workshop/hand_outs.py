"""The hand-outs, one a sheet: sheets of the season plan where it has them, own ones where it has none."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date
from types import MappingProxyType

from aquacalc import drawings, words
from aquacalc.agenda.ration import Ration
from aquacalc.judge.levels import Level
from aquacalc.pages import time_line
from aquacalc.pages.folder import rules
from aquacalc.pages.folder import sowing as sown
from aquacalc.pages.html import (
    Html,
    blank,
    element,
    figure,
    join,
    level,
    listing,
    paragraph,
    shortened,
    table,
    ticks,
)
from aquacalc.pages.plan import Plan, sheet, stamp
from aquacalc.pages.time_line import Mark
from aquacalc.pages.wall import ammonia_table, cards, doses, emergency, records
from aquacalc.pages.workshop.kit import Kit, written
from aquacalc.sentences import days, rations
from aquacalc.workshop.audience import AUDIENCES, CLASSES, YOUNG, Audience

PARTS = ("tanks", "beds", "sump", "pipes", "filter", "whole")
LEVELS: tuple[Level, ...] = ("fine", "watch", "act today", "emergency", "not known")
YOUNG_STEPS, OLDER_STEPS = 5, 4
SIMPLE = (
    *("air", "ammonia", "bacteria", "bed", "feed", "filter", "flow", "level"),
    *("litre", "nitrate", "nitrite", "ph", "pump", "reading", "sump"),
)
MORE = ("alkalinity", "basis", "chlorine", "oxygen", "range", "start-up", "tan")
HANDED_OVER = ("who", "keys", "water", "feed", "tests", "well", "change", "never", "phone")
WEEKS_A_SHEET = 56
BATCH_LETTERS = 40
YOUNG_TYPE = "young"
"""Class of sheets in larger type."""


def loop(kit: Kit) -> Html:
    """The garden's own loop, with room to write."""
    plan = kit.plan
    drawing = Html(drawings.loop(plan.garden, plan.balance, plan.reader))
    told = plan.say("handout-loop-young" if kit.young else "handout-loop-older")
    head = element("h1", plan.say("handout-loop-title"))
    texts = (paragraph(told), paragraph(plan.say("handout-loop-how")))
    # On its side, so that the smallest letters of the drawing can be read.
    lying = element("div", head, stamp(plan), *texts, figure(drawing), class_="turned lying")
    return element("section", lying, class_="sheet card")


def litres(kit: Kit) -> Html:
    """The litres of every part in both units, with room for what is measured."""
    plan = kit.plan
    readers = (replace(plan.reader, units="metric"), replace(plan.reader, units="us"))
    rows = [
        (
            plan.say(f"handout-litres-{part}"),
            *(words.quantity(getattr(plan.litres, part), "volume", reader) for reader in readers),
            "",
        )
        for part in PARTS
        if getattr(plan.litres, part)
    ]
    head = [plan.say(f"handout-litres-{one}") for one in ("part", "metric", "us", "mine")]
    return sheet(
        plan,
        plan.say("handout-litres-title"),
        paragraph(plan.say("handout-litres-how")),
        table(head, rows, "litres"),
        listing(plan.say(f"handout-litres-{one}") for one in ("box", "feet", "round")),
        written(plan.say("handout-litres-sums"), 5),
    )


def reading(kit: Kit) -> Html:
    """What a reading means: the words of levels for the young, the table of this kit for the others."""
    plan = kit.plan
    if not kit.young:
        return ammonia_table.page(plan)
    rows = [(level(one, plan.reader), plan.say(f"handout-reading-{one.replace(' ', '-')}")) for one in LEVELS]
    head = [plan.say(f"handout-reading-head-{one}") for one in ("word", "do")]
    how, same = (paragraph(plan.say(f"handout-reading-{one}")) for one in ("how", "same"))
    return sheet(
        plan, plan.say("handout-reading-title"), how, table(head, rows, "litres"), same, class_=YOUNG_TYPE
    )


def power_cut(kit: Kit) -> Html:
    """The line of a power cut, and what is done first."""
    plan = kit.plan
    steps = (
        [f"handout-cut-young-{n}" for n in range(1, YOUNG_STEPS + 1)]
        if kit.young
        else [f"handout-cut-older-{n}" for n in range(1, OLDER_STEPS + 1)]
    )
    told = [paragraph(plan.say(one)) for one in steps]
    return sheet(
        plan, plan.say("handout-cut-title"), *told, *_line(plan), class_=YOUNG_TYPE if kit.young else ""
    )


def _line(plan: Plan) -> list[Html]:
    outage = plan.balance.outage
    if outage is None:
        return [paragraph(plan.say("handout-cut-none"))]
    low, high = float(outage.danger_h.low), float(outage.danger_h.high)
    said = plan.say(
        "handout-cut-described",
        low=time_line.span(low, plan.reader),
        high=time_line.span(high, plan.reader),
    )
    mark = Mark(outage.response_h, plan.say("handout-cut-line"))
    line = time_line.svg([mark], (low, high), said, plan.reader, time_line.LARGE)
    return [figure(line), paragraph(plan.say("handout-cut-how")), paragraph(said)]


def dosing(kit: Kit) -> Html:
    """The doses of this garden's litres; for adults alone."""
    return doses.page(kit.plan)


def feed(kit: Kit) -> Html:
    """Feed by week, a sheet for each tank and batch."""
    plan = kit.plan
    if plan.agenda is None:
        return Html("")
    names = dict.fromkeys(one.batch for one in plan.agenda.rations)
    return join(*(_fed(plan, [one for one in plan.agenda.rations if one.batch == name]) for name in names))


def _fed(plan: Plan, given: list[Ration]) -> Html:
    rows = [
        (days.span(first, last, plan.reader), rations.amount(one, plan.reader))
        for first, last, one in _together(given)
    ]
    head = [plan.say("handout-feed-week"), plan.say("handout-feed-amount")]
    title = plan.say("handout-feed-title", batch=shortened(given[0].batch, BATCH_LETTERS))
    how = paragraph(plan.say("handout-feed-how"))
    pages = []
    for begin in range(0, len(rows), WEEKS_A_SHEET):
        page = rows[begin : begin + WEEKS_A_SHEET]
        half = -(-len(page) // 2)
        right = [*page[half:], ("", "")]
        both = [(*left, *right[place]) for place, left in enumerate(page[:half])]
        pages.append(sheet(plan, title, how, table([*head, *head], both, "twice"), class_="close"))
    return join(*pages)


def _together(given: list[Ration]) -> Iterable[tuple[date, date, Ration]]:
    """Rations, those that follow each other with one amount together."""
    held: list[tuple[date, date, Ration]] = []
    for one in given:
        before = held[-1] if held else None
        same = before is not None and (before[2].grams, before[2].start_up) == (one.grams, one.start_up)
        if before is not None and same and (one.first - before[1]).days == 1:
            held[-1] = (before[0], one.last, before[2])
        else:
            held.append((one.first, one.last, one))
    return held


def sowing(kit: Kit) -> Html:
    """What the plan sows, plants and picks; nothing without a season."""
    page = sown.page(kit.plan)
    return sheet(kit.plan, kit.plan.say("handout-sowing-title"), page, class_="sown") if page else page


def tests(kit: Kit) -> Html:
    """A quarter of weekly tests to write down."""
    return records.weekly_sheet(kit.plan)


def emergencies(kit: Kit) -> Html:
    """The emergency card of the plan; for the young what they themselves do."""
    plan = kit.plan
    if not kit.young:
        return emergency.card(plan)
    told = ("shock", "water", "eye", "gasp", "leak", "still")
    return sheet(
        plan,
        plan.say("handout-emergency-title"),
        paragraph(plan.say("handout-emergency-first"), "loud"),
        listing(plan.say(f"handout-emergency-{one}") for one in told),
        element("h2", plan.say("handout-emergency-call")),
        _blanks(plan, ("adult", "second", "number", "address")),
        class_=YOUNG_TYPE,
    )


def _blanks(plan: Plan, names: Iterable[str]) -> Html:
    fields = (element("div", plan.say(f"handout-call-{name}"), " ", blank()) for name in names)
    return element("div", *fields, class_="blanks")


def holiday(kit: Kit) -> Html:
    """Who looks after the garden meanwhile; for the young a day with the fish."""
    plan = kit.plan
    if not kit.young:
        return cards.holiday(plan)
    told = ("look", "listen", "level", "feed", "wash")
    return sheet(
        plan,
        plan.say("handout-mind-title"),
        paragraph(plan.say("handout-mind-how")),
        ticks(plan.say(f"handout-mind-{one}") for one in told),
        paragraph(plan.say("handout-mind-doubt"), "loud"),
        *(written(plan.say(f"handout-mind-{one}")) for one in ("who", "when")),
        written(plan.say("handout-mind-saw"), 6),
        class_=YOUNG_TYPE,
    )


def hygiene(kit: Kit) -> Html:
    """Clean hands and food; for the young hands alone."""
    plan = kit.plan
    if not kit.young:
        return cards.hygiene(plan)
    told = ("before", "during", "after", "leaves", "fish", "sick")
    return sheet(
        plan,
        plan.say("handout-hands-title"),
        *(paragraph(plan.say(f"handout-hands-{one}")) for one in told),
        class_=YOUNG_TYPE,
    )


def glossary(kit: Kit) -> Html:
    """The words that are used, in alphabetical order."""
    plan = kit.plan
    keys = SIMPLE if kit.young else (*SIMPLE, *MORE)
    rows = sorted((plan.say(f"glossary-{one}"), plan.say(f"glossary-{one}-is")) for one in keys)
    body = (element("tr", element("th", word, scope="row"), element("td", meaning)) for word, meaning in rows)
    words_ = element("table", element("tbody", *body), class_="words")
    return sheet(plan, plan.say("handout-glossary-title"), words_, class_="close")


def local_rules(kit: Kit) -> Html:
    """Questions for offices, with room for date and answer."""
    return sheet(kit.plan, kit.plan.say("handout-rules-title"), rules.page(kit.plan), class_="close")


def handover(kit: Kit) -> Html:
    """For whoever looks after it next."""
    plan = kit.plan
    return sheet(
        plan,
        plan.say("handout-handover-title"),
        paragraph(plan.say("handout-handover-how")),
        *(written(plan.say(f"handout-handover-{one}"), 2) for one in HANDED_OVER),
        class_="close",
    )


HAND_OUTS: MappingProxyType[str, Callable[[Kit], Html]] = MappingProxyType(
    {
        "loop": loop,
        "litres": litres,
        "reading": reading,
        "power-cut": power_cut,
        "doses": dosing,
        "feed": feed,
        "sowing": sowing,
        "tests": tests,
        "emergency": emergencies,
        "holiday": holiday,
        "hygiene": hygiene,
        "glossary": glossary,
        "rules": local_rules,
        "handover": handover,
    }
)
OF: MappingProxyType[str, tuple[Audience, ...]] = MappingProxyType(
    {
        "doses": ("adults",),
        "rules": tuple(one for one in AUDIENCES if one not in YOUNG),
        "handover": ("adults", *CLASSES),
    }
)
"""Hand-outs that not everybody gets: nobody doses in a class, and the young ask no offices."""


def sheets(kit: Kit) -> list[Html]:
    """The hand-outs of an audience, without those for which this garden has nothing."""
    there = [name for name in HAND_OUTS if kit.audience in OF.get(name, AUDIENCES)]
    return [made for name in there if (made := HAND_OUTS[name](kit))]
