"""The inverse: what the wished heads a week and fish a year would take, beside what the garden has."""

from aquacalc import words
from aquacalc.pages.html import Html, paragraph, section
from aquacalc.pages.plan import Plan
from aquacalc.sizing.result import WishedCrop, WishedFish
from aquacalc.uncertainty import Band


def page(plan: Plan) -> Html:
    """What the wishes ask for; how to write them down where there are none."""
    wished = plan.wished
    told = [
        *([_crop(plan, wished.crop)] if wished.crop else []),
        *([_fish(plan, wished.fish)] if wished.fish else []),
    ]
    if not told:
        return section(plan.say("wishes-title"), paragraph(plan.say("wishes-none")))
    has = plan.say(
        "wishes-has",
        beds=plan.quantity(wished.beds_m2, "area"),
        tanks=plan.quantity(wished.tanks_l, "volume"),
    )
    return section(plan.say("wishes-title"), *map(paragraph, told), paragraph(has))


def _crop(plan: Plan, crop: WishedCrop) -> str:
    return plan.say(
        "wishes-crop",
        heads=plan.quantity(crop.heads_per_week, "heads_per_week"),
        crop=words.name("crop", crop.crop),
        area=_span(plan, crop.area_m2, "area"),
        places=words.number(crop.places, digits=9),
        transplants=words.number(crop.transplants_per_week, digits=9),
        seeds=words.number(crop.seeds_per_week, digits=9),
        rule=_span(plan, crop.area_rule_g_day, "feed"),
        nitrogen=_span(plan, crop.balance_g_day, "feed"),
    )


def _fish(plan: Plan, fish: WishedFish) -> str:
    return plan.say(
        "wishes-fish",
        count=words.number(fish.fish_per_year, digits=9),
        species=words.name("species", fish.species),
        days=_span(plan, fish.days_to_final, "days"),
        stock=words.number(fish.stock_count, digits=9),
        mean=_span(plan, fish.mean_feed_g_day, "feed"),
        peak=_span(plan, fish.peak_feed_g_day, "feed"),
        tank=_span(plan, fish.tank_l, "volume"),
    )


def _span(plan: Plan, band: Band, kind: str) -> str:
    return words.span(float(band.low), float(band.high), kind, plan.reader)
