"""What the plan is made of, and what it had to assume."""

from collections.abc import Iterator

from aquacalc import tables, words
from aquacalc.advice import measured
from aquacalc.garden.model import Bed, FishBatch
from aquacalc.pages.html import Html, element, listing, paragraph, section, shortened, table, twofold
from aquacalc.pages.plan import Plan
from aquacalc.season import from_log
from aquacalc.sentences import balance as sentences
from aquacalc.sentences import first_day

NAME_LETTERS = 40
BACKUP_KEYS = {
    "none": "none",
    "battery air": "battery-air",
    "generator": "generator",
    "oxygen": "oxygen",
}


def contents(plan: Plan) -> Html:
    """What there is to hang; the parts of the folder follow one another."""
    return section(
        plan.say("plan-contents"),
        paragraph(plan.say("plan-contents-wall"), "small"),
    )


def facts(plan: Plan) -> Html:
    """What the garden is, as the file says and as it was worked out."""
    rows = [(element("b", name), value) for name, value in _facts(plan)]
    return section(plan.say("facts-title"), table(("", ""), rows, "facts"))


def assumed(plan: Plan) -> Html:
    """What was measured and took the place of what is reckoned; all that the garden file did not say."""
    lines = sentences.assumed(plan.garden, plan.reader)
    first = paragraph(plan.say("facts-assumed-why" if lines else "check-nothing-assumed"))
    own = sentences.measured(measured.counted(plan.garden), plan.reader)
    counted = (paragraph(plan.say("check-measured")), listing(own)) if own else ()
    begin = from_log.start(plan.garden, plan.log, plan.standing)
    day = paragraph(first_day.sentence(plan.garden, begin, plan.reader)) if plan.season else ""
    return section(plan.say("facts-assumed"), *counted, day, first, twofold(lines) if lines else "")


def _facts(plan: Plan) -> Iterator[tuple[str, str]]:
    garden, say = plan.garden, plan.say
    yield (
        say("facts-place"),
        ", ".join(
            (
                shortened(garden.site.name, NAME_LETTERS),
                plan.quantity(garden.site.altitude_m, "length"),
                say(f"facts-cover-{garden.site.cover}"),
                say(f"facts-setting-{garden.site.setting}"),
            )
        ),
    )
    yield say("facts-help"), plan.quantity(garden.site.hours_until_help, "time")
    yield say("facts-litres"), _litres(plan)
    yield say("facts-beds"), "; ".join(_bed(plan, bed) for bed in garden.beds) or say("facts-none")
    yield say("facts-fish"), "; ".join(_fish(plan, batch) for batch in garden.fish) or say("facts-none")
    yield say("facts-crops"), _crops(plan)
    yield (
        say("facts-feed"),
        "; ".join(
            say(
                "facts-feed-bag",
                name=shortened(feed.name, NAME_LETTERS),
                protein=plan.quantity(feed.protein_pct, "percent"),
            )
            for feed in garden.feeds
        ),
    )
    yield say("facts-machines"), _machines(plan)
    yield say("facts-backup"), say(f"facts-backup-{BACKUP_KEYS[garden.power.backup]}")
    yield say("facts-top-up"), _top_up(plan)
    yield (
        say("facts-kits"),
        "; ".join(shortened(kit.name, NAME_LETTERS) for kit in garden.kits) or say("facts-none"),
    )


def _litres(plan: Plan) -> str:
    litres, scale = plan.litres, plan.garden.water_scale
    parts = plan.say(
        "facts-litres-parts",
        tanks=plan.quantity(litres.tanks, "volume"),
        beds=plan.quantity(litres.beds, "volume"),
        sump=plan.quantity(litres.sump, "volume"),
        rest=plan.quantity(litres.pipes + litres.filter, "volume"),
        whole=plan.quantity(litres.whole, "volume"),
    )
    if scale == 1.0:
        return parts
    return plan.say("facts-litres-measured", parts=parts, tape=plan.quantity(litres.whole / scale, "volume"))


def _bed(plan: Plan, bed: Bed) -> str:
    medium = words.name("medium", bed.medium) if bed.medium else plan.say(f"facts-bed-{bed.kind}")
    return plan.say(
        "facts-bed",
        name=shortened(bed.name, NAME_LETTERS),
        area=plan.quantity(bed.area_m2, "area"),
        depth=plan.quantity(bed.flood_m, "length"),
        medium=medium,
    )


def _fish(plan: Plan, batch: FishBatch) -> str:
    return plan.say(
        "facts-fish-batch",
        name=shortened(batch.name, NAME_LETTERS),
        count=words.number(batch.count, digits=9),
        species=words.name("species", batch.species),
        weight=plan.quantity(batch.weight_g, "mass"),
        stocked=words.date(batch.stocked, plan.reader),
        final=plan.quantity(batch.final_weight_g, "mass"),
    )


def _crops(plan: Plan) -> str:
    names = dict.fromkeys(tables.load("crops").row(crop.crop).text("name") for crop in plan.garden.crops)
    return words.listed(list(names), plan.reader) or plan.say("facts-none")


def _machines(plan: Plan) -> str:
    parts = [
        plan.say(
            "facts-pump",
            name=shortened(pump.name, NAME_LETTERS),
            flow=plan.quantity(pump.box_flow_l_h, "flow"),
            lift=plan.quantity(pump.lift_m, "length"),
            power=plan.quantity(pump.power_w, "power"),
        )
        for pump in plan.garden.pumps
    ]
    if plan.garden.air:
        air = plan.garden.air
        parts.append(
            plan.say(
                "facts-air",
                flow=plan.quantity(air.flow_l_min, "air_flow"),
                power=plan.quantity(air.power_w, "power"),
            )
        )
    return "; ".join(parts) or plan.say("facts-none")


def _top_up(plan: Plan) -> str:
    top_up = plan.garden.top_up
    known = top_up.alkalinity_mg_l is not None
    return plan.say(
        "facts-top-up-water",
        source=plan.say(f"facts-source-{top_up.source}"),
        disinfectant=plan.say(f"facts-disinfectant-{top_up.disinfectant.replace(' ', '-')}"),
        chlorine=plan.quantity(top_up.chlorine_max_mg_l, "concentration"),
        alkalinity=plan.quantity(top_up.alkalinity_mg_l or 0.0, "alkalinity")
        if known
        else plan.say("not-known"),
    )
