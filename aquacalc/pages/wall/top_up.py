"""Topping up: what goes into the new water first, how it is proved, how much is to be expected."""

from aquacalc import tables, words
from aquacalc.advice import shelf
from aquacalc.advice.new_water import rain, top_up, water_use
from aquacalc.agenda.doses import NEW_WATER_L, dechlorinator
from aquacalc.garden.model import Product
from aquacalc.judge.sizes import CHANGE_STEP_K
from aquacalc.pages.html import Html, element, listing, paragraph, table
from aquacalc.pages.plan import Plan, sheet
from aquacalc.pages.wall import doses
from aquacalc.water import chlorine

THIRDS = 3
"""Columns of months."""


def page(plan: Plan) -> Html:
    """The sheet beside the tap."""
    return sheet(
        plan,
        plan.say("topping-up-title"),
        *_treatment(plan),
        element("h2", plan.say("topping-up-never")),
        listing(
            (
                plan.say("topping-up-slow", step=plan.quantity(CHANGE_STEP_K, "temperature_difference")),
                plan.say("topping-up-gap"),
                plan.say("panel-top-up-not"),
            )
        ),
        element("h2", plan.say("topping-up-daily")),
        *_daily(plan),
        *_barrel(plan),
    )


def _treatment(plan: Plan) -> list[Html]:
    garden = plan.garden
    given = garden.top_up
    product = shelf.dechlorinator(garden.products) or Product("", chlorine.USUAL_REAGENT, 100.0)
    new_l = NEW_WATER_L[plan.reader.units]
    found = top_up.treatment(
        top_up.Tap(
            told=given.disinfectant,
            chlorine_mg_l=given.chlorine_max_mg_l,
            new_water_l=min(new_l, plan.litres.whole),
            whole_l=plan.litres.whole,
            ph=garden.targets.ph,
            temperature_c=float(max(plan.balance.water_c.middle)),
            test_limit_mg_l=top_up.least_shown_mg_l(garden),
        )
    )
    if found.chlorine_mg_l <= 0.0:
        return [paragraph(plan.say("topping-up-none")), paragraph(plan.say("panel-top-up-ask"))]
    name = doses.short_name(product) or tables.load("chemicals").row(product.chemical).text("name")
    title = plan.say(
        "topping-up-dose",
        volume=plan.quantity(new_l, "volume"),
        dose=doses.weighed(plan, dechlorinator(plan.garden, product).step_g, product),
        name=name,
    )
    told = plan.say(
        "topping-up-for",
        chlorine=plan.quantity(found.chlorine_mg_l, "concentration"),
        taken=plan.say(f"panel-top-up-told-{found.taken_for.replace(' ', '-')}"),
    )
    steps = ("topping-up-empty", "panel-top-up-step-fill", "panel-top-up-step-test")
    return [
        element("h2", title),
        paragraph(told),
        element("ol", *(element("li", plan.say(step)) for step in steps)),
        paragraph(_proof(plan, found)),
    ]


def _proof(plan: Plan, found: top_up.Treatment) -> str:
    """How much new water a clear test proves."""
    return plan.say(
        "topping-up-proof",
        limit=plan.quantity(found.test_limit_mg_l, "concentration"),
        proved=plan.quantity(found.proved_l, "volume"),
    )


def _daily(plan: Plan) -> list[Html]:
    whole = water_use.of_garden(plan.garden, plan.balance.members, plan.balance.seed).whole_l_d
    low, high = (
        [words.convert(float(one), "volume", plan.reader) for one in end] for end in (whole.low, whole.high)
    )
    cells = [
        (words.month(month + 1, plan.reader), _span(plan, low[month], high[month])) for month in range(12)
    ]
    deep = len(cells) // THIRDS
    rows = [[text for part in range(THIRDS) for text in cells[part * deep + row]] for row in range(deep)]
    unit = words.unit("volume", plan.reader)
    return [
        table([""] * (2 * THIRDS), rows, "limits"),
        paragraph(plan.say("topping-up-unit", unit=unit)),
    ]


def _span(plan: Plan, low: float, high: float) -> str:
    return words.span(low, high, "ratio", plan.reader)


def _barrel(plan: Plan) -> list[Html]:
    """In which months a barrel runs dry; nothing without a barrel or figures of rain."""
    garden = plan.garden
    fallen = garden.site.climate.rain_mm
    if (
        fallen is None
        or not sum(fallen) > 0.0
        or not (garden.rain.roof_m2 > 0.0 and garden.rain.barrel_l > 0.0)
    ):
        return []
    use = water_use.of_garden(garden, plan.balance.members, plan.balance.seed)
    kind = rain.kind(garden.rain.roof_material)
    year = rain.year(
        rain.Roof(
            garden.rain.roof_m2,
            fallen,
            tuple(float(one) for one in use.whole_l_d.middle),
            garden.rain.barrel_l,
            kind,
        )
    )
    dry = plan.say("panel-top-up-rain-enough")
    if year.dry_months:
        spans = [words.when(span, plan.reader) for span in rain.spans(year.dry_months)]
        dry = plan.say(
            "panel-top-up-rain-dry",
            months=words.listed(spans, plan.reader),
            missing=plan.quantity(float(year.missing_l.sum()), "volume"),
        )
    flush = plan.say("panel-top-up-flush", flush=plan.quantity(year.flush_l, "volume"))
    lines = [f"{dry}.", flush]
    if kind != "plain":
        lines.append(plan.say(f"panel-top-up-roof-{kind}"))
    return [element("h2", plan.say("topping-up-barrel")), listing(lines)]
