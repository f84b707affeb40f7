"""The dose table: grams of each product on the shelf for one step in this garden's litres, and for one day.

No dose is ordered by date: test first, and again before the next portion.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from aquacalc import kits, tables, units, words
from aquacalc.advice.doses import portion, ratio, weekly
from aquacalc.garden.model import Product
from aquacalc.judge.lines import begins_at
from aquacalc.pages.html import Html, element, join, listing, paragraph, shortened, table
from aquacalc.pages.kit import scale_of
from aquacalc.pages.plan import Plan, sheet
from aquacalc.sentences import base_turns, spoons
from aquacalc.tables import Row
from aquacalc.uncertainty import coefficient
from aquacalc.water import carbonate, chlorine, dosing, salts, supplements

BASE_STEP_MG_L = 10.0
ELEMENT_STEP_MG_L = {"Fe": 1.0, "K": 10.0, "Ca": 10.0, "Mg": 10.0}

NITRITE_STEP_MG_L = 1.0
NAME_LETTERS = 26


@dataclass(frozen=True)
class Line:
    """A line of the table: a product, what a step of it does, its grams, and the most for one day."""

    product: Product
    what: str
    step_g: float
    day_g: float


def new_water_l(plan: Plan) -> float:
    """The amount of new water that a dechlorinator's dose is given for: 100 L, or 25 US gal."""
    return units.unit("us_gal").to_base(25.0) if plan.reader.units == "us" else 100.0


def chemical(product: Product) -> Row:
    """The table's row of a product."""
    return tables.load("chemicals").row(product.chemical)


def short_name(product: Product) -> str:
    """A product's name, short enough for a table."""
    return shortened(product.name, NAME_LETTERS)


def is_caustic(product: Product) -> bool:
    """Whether a product burns eyes and skin."""
    return bool({"caustic", "acid"} & set(chemical(product).listed("caution")))


def on_shelf(plan: Plan) -> list[Product]:
    """Products that stand in the table: no acids, nothing for the start-up, nothing caustic in a school."""
    return [
        product
        for product in plan.garden.products
        if chemical(product).text("kind") not in ("acid", "ammonia")
        and not (plan.garden.site.setting == "school" and is_caustic(product))
    ]


def lines(plan: Plan) -> list[Line]:
    """All lines of the table, in the order of the shelf."""
    return [line for product in on_shelf(plan) for line in _lines(plan, product)]


def _lines(plan: Plan, product: Product) -> Iterator[Line]:
    row = chemical(product)
    kind = row.text("kind")
    if kind == "base":
        yield _base(plan, product)
    elif kind == "dechlorinator":
        yield dechlorinator(plan, product)
    elif kind == "salt":
        yield _chloride(plan, product)
    else:
        yield from _elements(plan, product, row)


def _base(plan: Plan, product: Product) -> Line:
    of, volume, purity = dosing.chemical(product.chemical), plan.litres.whole, product.strength_pct / 100.0
    step, shown = base_step(plan)
    low = begins_at("alkalinity", "watch", above=False)
    water_c = float(plan.balance.water_c.middle.min())
    ph = float(carbonate.ph_at_carbon_dioxide(low, dosing.WELL_AIRED_CARBON_DIOXIDE_MG_L, water_c, 0.0))
    place = dosing.Place(carbonate.water(ph, low, water_c), volume, dosing.WELL_AIRED_CARBON_DIOXIDE_MG_L)
    return Line(
        product,
        plan.say("dose-base", step=shown),
        float(dosing.grams_for_alkalinity(of, step, volume, purity)),
        float(dosing.grams_for_alkalinity(of, portion.day_of(place, of).rise_mg_l, volume, purity)),
    )


def base_step(plan: Plan) -> tuple[float, str]:
    """A step of alkalinity, mg/L CaCO3 and as the kit shows it: one drop of the garden's kit, or 10 mg/L."""
    scale = scale_of(plan.garden, "alkalinity")
    if scale.drop is None or not kits.basis_is_known(scale):
        return BASE_STEP_MG_L, plan.quantity(BASE_STEP_MG_L, "alkalinity")
    unit = units.unit(scale.basis)
    return unit.to_base(scale.drop), unit.written(f"{scale.drop:g}")


def dechlorinator(plan: Plan, product: Product) -> Line:
    """Grams for an amount of new water at the most chlorine that the supplier states."""
    top_up, volume = plan.garden.top_up, new_water_l(plan)
    per_gram = chemical(product).number("dechlorination_default_g_g") / (product.strength_pct / 100.0)
    grams = float(chlorine.reagent_g(top_up.chlorine_max_mg_l, volume, per_gram))
    what = plan.say(
        "dose-chlorine",
        volume=plan.quantity(volume, "volume"),
        chlorine=plan.quantity(top_up.chlorine_max_mg_l, "concentration"),
    )
    return Line(product, what, grams, math.nan)


def _chloride(plan: Plan, product: Product) -> Line:
    of, volume, purity = dosing.chemical(product.chemical), plan.litres.whole, product.strength_pct / 100.0
    scale = scale_of(plan.garden, "nitrite")
    basis = scale.basis if kits.basis_is_known(scale) else "N"
    ratio = coefficient("chloride_per_nitrite").typical
    chloride = float(salts.chloride_needed_mg_l(units.as_n(NITRITE_STEP_MG_L, basis), 0.0, ratio))
    what = plan.say("dose-chloride", nitrite=plan.say("amount-as", amount="1 mg/L", basis=basis))
    step = float(dosing.grams_for_element(of, "Cl", chloride, volume, purity))
    return Line(product, what, step, _most_g(of, volume, purity, ("Na", "K", "Ca")))


def _elements(plan: Plan, product: Product, row: Row) -> Iterator[Line]:
    of, volume, purity = dosing.chemical(product.chemical), plan.litres.whole, product.strength_pct / 100.0
    purity = supplements.purity_of_label(purity, of.elements["Fe"], row.number("fe_high_g_g"))
    for element_, rise in ELEMENT_STEP_MG_L.items():
        if of.elements[element_] > 0.0:
            what = plan.say("dose-element", rise=plan.quantity(rise, "concentration"), element=element_)
            grams = float(dosing.grams_for_element(of, element_, rise, volume, purity))
            yield Line(product, what, grams, _most_g(of, volume, purity, (element_,)))


def _most_g(of: dosing.Chemical, volume_l: float, purity: float, elements: tuple[str, ...]) -> float:
    return min(
        float(dosing.grams_for_element(of, one, supplements.MOST_IN_A_DAY_MG_L[one], volume_l, purity))
        for one in elements
        if of.elements[one] > 0.0
    )


def weighed(plan: Plan, grams: float, product: Product) -> str:
    """Grams, and level spoons to the nearest quarter where a spoon of the product was weighed."""
    if math.isnan(grams):
        return plan.say("dose-no-end")
    return spoons.weighed(grams, product.spoon_g, plan.reader)


def page(plan: Plan) -> Html:
    """The sheet beside the shelf."""
    found = lines(plan)
    made_for = plan.say(
        "dose-made-for",
        volume=plan.quantity(plan.litres.whole, "volume"),
        new=plan.quantity(new_water_l(plan), "volume"),
    )
    body = _table(plan, found) if found else paragraph(plan.say("dose-none"))
    return sheet(
        plan,
        plan.say("dose-title"),
        paragraph(made_for),
        body,
        *_weekly(plan),
        element("h2", plan.say("dose-how")),
        listing(_rules(plan)),
        element("h2", plan.say("dose-never")),
        listing(_never(plan)),
    )


def _weekly(plan: Plan) -> list[Html]:
    """How much base a week and whose turn it is; nothing without fish, or where no base is on the shelf."""
    bases = [one for one in on_shelf(plan) if chemical(one).text("kind") == "base"]
    if not bases or not plan.eats:
        return []
    garden, log = plan.garden, plan.log
    feed_g_day = float(plan.balance.demand.feed_g_day.middle.mean())
    week = weekly.of_garden(garden, feed_g_day, log, plan.made)
    potassium_g, calcium_g = (
        0.0 if log is None else ratio.given_g(log, plan.made, element) for element in ("K", "Ca")
    )
    tap = math.nan if garden.top_up.calcium_mg_l is None else garden.top_up.calcium_mg_l
    next_one = ratio.next_base(ratio.Minerals(math.nan, math.nan, tap, potassium_g, calcium_g))
    key = ratio.base_of(next_one.metal, garden.site.setting, bases)
    told = next((one for one in bases if one.chemical == key), bases[0])
    lines = base_turns.week(plan.reader, week, told.chemical, plan.litres.whole, told.strength_pct / 100.0)
    return [
        element("h2", plan.say("dose-week")),
        paragraph(" ".join([*lines, base_turns.turn(plan.reader, next_one, key)])),
    ]


def _table(plan: Plan, found: list[Line]) -> Html:
    head = [plan.say(f"dose-head-{name}") for name in ("product", "step", "grams", "day")]
    rows = [
        (
            _product(plan, line.product),
            line.what,
            weighed(plan, line.step_g, line.product),
            weighed(plan, line.day_g, line.product),
        )
        for line in found
    ]
    return table(head, rows)


def _product(plan: Plan, product: Product) -> Html:
    strength = plan.quantity(product.strength_pct, "percent", 3)
    return join(element("b", short_name(product)), f" {strength}")


def _rules(plan: Plan) -> list[str]:
    texts = [plan.say("dose-rule-test"), plan.say("dose-rule-mix"), plan.say("dose-rule-ammonia")]
    caustic = [product for product in on_shelf(plan) if is_caustic(product)]
    if caustic:
        names = words.listed([short_name(product) for product in caustic], plan.reader)
        texts.append(plan.say("dose-rule-caustic", names=names))
    if plan.garden.top_up.disinfectant != "none":
        texts.append(plan.say("dose-rule-chlorine"))
    return texts


def _never(plan: Plan) -> list[str]:
    texts = [plan.say("dose-never-date"), plan.say("dose-never-mix")]
    left_out = [product for product in plan.garden.products if product not in on_shelf(plan)]
    if left_out:
        names = words.listed([short_name(product) for product in left_out], plan.reader)
        key = "dose-left-out-school" if plan.garden.site.setting == "school" else "dose-left-out"
        texts.append(plan.say(key, names=names))
    return texts
