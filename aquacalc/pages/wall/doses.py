"""The dose table: grams of each product on the shelf for one step in this garden's litres, and for one day.

No dose is ordered by date: test first, and again before the next portion.
"""

import math
from collections.abc import Iterator, Sequence

from aquacalc import kits, units, words
from aquacalc.advice.doses import ratio, weekly
from aquacalc.agenda import doses
from aquacalc.agenda.doses import Line
from aquacalc.agenda.record import Agenda
from aquacalc.garden.model import Product
from aquacalc.pages import supplied
from aquacalc.pages.html import Html, element, join, listing, paragraph, shortened, table
from aquacalc.pages.kit import scale_of
from aquacalc.pages.plan import Plan, sheet
from aquacalc.sentences import base_turns, spoons

NAME_LETTERS = 26
BOUGHT_LETTERS = 40
"""The sheet of what is still to be bought has room for the whole name of a chemical."""


def short_name(product: Product) -> str:
    """A product's name, short enough for a table."""
    return shortened(product.name, NAME_LETTERS)


def lines(plan: Plan) -> tuple[Line, ...]:
    """The lines of the table: the shelf, and what the plan asks for besides."""
    wanted = doses.against_nitrite(plan.garden) if plan.agenda is None else plan.agenda.asks_for
    return doses.lines(plan.garden, float(plan.balance.water_c.middle.min()), wanted)


def what(plan: Plan, line: Line) -> str:
    """What a step of a line does."""
    if line.kind == "base":
        return plan.say("dose-base", step=_base_step(plan, line))
    if line.kind == "chlorine":
        return plan.say(
            "dose-chlorine",
            volume=plan.quantity(line.water_l, "volume"),
            chlorine=plan.quantity(line.step, "concentration"),
        )
    if line.kind == "chloride":
        amount = plan.quantity(line.step, "concentration")
        return plan.say("dose-chloride", nitrite=plan.say("amount-as", amount=amount, basis=line.basis))
    if line.kind == "ammonia":
        return plan.say("dose-ammonia", rise=plan.quantity(line.step, "nitrogen"))
    return plan.say("dose-element", rise=plan.quantity(line.step, "concentration"), element=line.element)


def _base_step(plan: Plan, line: Line) -> str:
    """A step of alkalinity as the kit counts it, where it counts in drops."""
    scale = scale_of(plan.garden, "alkalinity")
    if scale.drop is None or not kits.basis_is_known(scale):
        return plan.quantity(line.step, "alkalinity")
    unit = units.unit(scale.basis)
    return unit.written(words.number(unit.from_base(line.step)))


def weighed(plan: Plan, grams: float, product: Product) -> str:
    """Grams, and level spoons to the nearest quarter where a spoon of the product was weighed."""
    if math.isnan(grams):
        return plan.say("dose-no-end")
    return spoons.weighed(grams, product.spoon_g, plan.reader)


def page(plan: Plan) -> Html:
    """The sheet beside the shelf; what is still to be bought stands on that of the supplements."""
    own = [line for line in lines(plan) if not line.to_buy]
    return sheet(
        plan,
        plan.say("dose-title"),
        *adults(plan),
        paragraph(_made_for(plan)),
        _table(plan, own) if own else paragraph(plan.say("dose-none")),
        *_weekly(plan),
        element("h2", plan.say("dose-how")),
        listing(_rules(plan)),
        element("h2", plan.say("dose-never")),
        listing(_never(plan)),
    )


def adults(plan: Plan) -> list[Html]:
    """The mark of a sheet that in a school is for adults only."""
    if plan.garden.site.setting != "school":
        return []
    return [element("p", element("b", plan.say("dose-adults")))]


def _made_for(plan: Plan) -> str:
    return plan.say(
        "dose-made-for",
        volume=plan.quantity(plan.litres.whole, "volume"),
        new=plan.quantity(doses.NEW_WATER_L[plan.reader.units], "volume"),
    )


def _weekly(plan: Plan) -> list[Html]:
    """How much base a week and whose turn it is; nothing without fish, or where no base is at hand."""
    bases = doses.of_kind(plan.garden, "base")
    if not bases or not plan.eats:
        return []
    garden, log = plan.garden, plan.log
    potassium_g, calcium_g = (
        0.0 if log is None else ratio.given_g(log, plan.made, element) for element in ("K", "Ca")
    )
    tap = math.nan if garden.top_up.calcium_mg_l is None else garden.top_up.calcium_mg_l
    next_one = ratio.next_base(ratio.Minerals(math.nan, math.nan, tap, potassium_g, calcium_g))
    key = ratio.base_of(next_one.metal, garden.site.setting, bases)
    if plan.agenda is None:
        told = next((one for one in bases if one.chemical == key), bases[0])
        week = weekly.of_garden(garden, float(plan.balance.demand.feed_g_day.middle.mean()), log, plan.made)
        share = told.strength_pct / 100.0
        lines = base_turns.week(plan.reader, week, told.chemical, plan.litres.whole, share)
    else:
        lines = list(_weekly_of_season(plan, plan.agenda))
    return [
        element("h2", plan.say("dose-week")),
        paragraph(" ".join([*lines, base_turns.turn(plan.reader, next_one, key)])),
    ]


def _weekly_of_season(plan: Plan, agenda: Agenda) -> Iterator[str]:
    """Base of an average week as the season gives it; by the grower's readings where they show a trend."""
    amounts = [supplied.in_week(plan, one) for one in agenda.supplies if one.kind == "base"]
    if amounts:
        yield plan.say("dose-week-season", amounts=words.listed(amounts, plan.reader))
    else:
        yield plan.say("dose-week-none")
    if agenda.base_jumps:
        yield plan.say("dose-jumps", **base_turns.jumps(plan.reader, agenda.base_jumps))
    read = agenda.base_by_readings
    if read is not None:
        yield plan.say(
            "dose-week-readings",
            name=short_name(read.product),
            grams=weighed(plan, read.grams, read.product),
            count=words.number(read.count),
            days=words.number(read.days),
        )


def _table(plan: Plan, found: Sequence[Line]) -> Html:
    head = [plan.say(f"dose-head-{name}") for name in ("product", "step", "grams", "day")]
    rows = [
        (
            _product(plan, line),
            what(plan, line),
            weighed(plan, line.step_g, line.product),
            weighed(plan, line.day_g, line.product),
        )
        for line in found
    ]
    return table(head, rows)


def _product(plan: Plan, line: Line) -> Html:
    strength = plan.quantity(line.product.strength_pct, "percent", 3)
    name = shortened(line.product.name, BOUGHT_LETTERS) if line.to_buy else short_name(line.product)
    return join(element("b", name), f" {strength}")


def _rules(plan: Plan) -> list[str]:
    texts = [plan.say("dose-rule-test"), plan.say("dose-rule-mix"), plan.say("dose-rule-ammonia")]
    caustic = [product for product in doses.on_shelf(plan.garden) if doses.is_caustic(product)]
    if caustic:
        names = words.listed([short_name(product) for product in caustic], plan.reader)
        texts.append(plan.say("dose-rule-caustic", names=names))
    if plan.garden.top_up.disinfectant != "none":
        texts.append(plan.say("dose-rule-chlorine"))
    return texts


def _never(plan: Plan) -> list[str]:
    texts = [plan.say("dose-never-date"), plan.say("dose-never-mix")]
    left_out = [product for product in plan.garden.products if product not in doses.on_shelf(plan.garden)]
    if left_out:
        names = words.listed([short_name(product) for product in left_out], plan.reader)
        key = "dose-left-out-school" if plan.garden.site.setting == "school" else "dose-left-out"
        texts.append(plan.say(key, names=names))
    return texts
