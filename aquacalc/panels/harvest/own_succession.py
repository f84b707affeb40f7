"""How many seeds, trays, holes and how much bed for heads a week, and back, by the grower's own numbers."""

import math
from dataclasses import dataclass
from functools import partial

from aquacalc import crops, words
from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.pages import html
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.uncertainty import Triangle, coefficient

HEADS, BED, FEED = "heads", "bed", "feed"
GAP_DAYS = 1.0
"""From harvest to planting again. Common practice, no source."""
OWN = ("germination", "nursery", "days", "loss", "cull", "spacing")
"""Fields that are filled from the table of crops when another crop is chosen."""


@dataclass(frozen=True)
class Found:
    """What was asked for and what came out. heads: a week; plan: None where the bed is too small for one;
    rule_g_day: feed by the handbook's rule of area; balance_g_day: by the nitrogen that the crop takes up."""

    crop: crops.Crop
    heads: int
    plan: crops.Succession | None
    area_m2: float
    trays: int
    rule_g_day: Triangle
    balance_g_day: Triangle


def controls(reader: words.Reader) -> dict[str, Field]:
    """What is asked, the crop, and its own numbers."""
    say = words.say

    def number(key: str, kind: str, value: float, low: float, high: float) -> NumberField:
        return NumberField(say(f"heads-{key}", reader), kind, value, reader, low, high)

    asks = [(say(f"heads-ask-{key}", reader), key) for key in (HEADS, BED, FEED)]
    of_table = own_numbers("lettuce_leaf")
    return {
        "ask": ChoiceField(say("heads-ask", reader), asks, HEADS, reader),
        "crop": ChoiceField(say("panel-crop", reader), lists.crops(), "lettuce_leaf", reader),
        "heads": number("heads", "heads_per_week", 10.0, 1.0, 1e5),
        "area": NumberField(say("panel-beds", reader), "area", 4.0, reader, 0.01, 1e5),
        "feed": number("feed", "feed", 100.0, 0.1, 1e6),
        "spacing": number("spacing", "", of_table["spacing"], 0.05, 2000.0),
        "germination": number("germination", "share", of_table["germination"], 0.01, 1.0),
        "cull": number("cull", "share", of_table["cull"], 0.0, 0.95),
        "loss": number("loss", "share", of_table["loss"], 0.0, 0.95),
        "nursery": number("nursery", "", of_table["nursery"], 0.0, 365.0),
        "days": number("days", "", of_table["days"], 1.0, 1000.0),
        "tray": number("tray", "", 40.0, 1.0, 1000.0),
        "protein": NumberField(say("panel-protein", reader), "share", 0.32, reader, 0.1, 0.7),
    }


def own_numbers(key: str) -> dict[str, float]:
    """What the table of crops has, in place of the grower's own."""
    crop = crops.crop(key)
    return {
        "spacing": crop.plants_m2.typical,
        "germination": crop.germination,
        "nursery": crop.nursery_days.typical,
        "days": crop.bed_days,
        "cull": coefficient("cull").typical,
        "loss": coefficient("loss_bed").typical,
    }


def asked(values: Values) -> tuple[str, ...]:
    """The fields that matter."""
    first = {HEADS: "heads", BED: "area", FEED: "feed"}[values["ask"]]
    return ("ask", "crop", first, *OWN, "tray", "protein")


def compute(values: Values) -> Found:
    """Counts of a steady harvest, whichever end was typed."""
    crop = crops.crop(values["crop"])
    rule = crops.area_rule_g_m2_d(crop.rule_kind)
    area = values["area"]
    if values["ask"] == FEED:
        # The handbook's middle: what a garden with so much feed can keep planted.
        area = values["feed"] / _by_area(rule.typical, values["protein"])
    if values["ask"] == HEADS:
        heads = math.ceil(values["heads"])
    else:
        heads = crops.heads_of_bed(area, values["days"], values["spacing"], values["loss"], GAP_DAYS)
    plan = None
    if heads > 0:
        plan = crops.succession(
            heads=heads,
            bed_days=values["days"],
            nursery_days=values["nursery"],
            plants_m2=values["spacing"],
            germination=values["germination"],
            loss=values["loss"],
            cull=values["cull"],
            gap_days=GAP_DAYS,
            interval_days=DAYS_PER_WEEK,
        )
        area = plan.area_m2 if values["ask"] == HEADS else area
    protein, uptake = values["protein"], crop.uptake_n_g_m2_d
    by_rule = (area * _by_area(one, protein) for one in (rule.low, rule.typical, rule.high))
    by_nitrogen = (_by_nitrogen(area * one, protein) for one in (uptake.low, uptake.typical, uptake.high))
    return Found(
        crop=crop,
        heads=heads,
        plan=plan,
        area_m2=area,
        trays=0 if plan is None else math.ceil(plan.nursery_cells / values["tray"]),
        rule_g_day=Triangle(*by_rule),
        balance_g_day=Triangle(*by_nitrogen),
    )


def _by_area(rule_g_m2_d: float, protein: float) -> float:
    """Feed of a square metre by the handbook's rule, for this bag."""
    return float(crops.scaled_by_protein(rule_g_m2_d, protein))


def _by_nitrogen(uptake_g_day: float, protein: float) -> float:
    """Feed whose nitrogen a bed takes up."""
    share, gas = (coefficient(name).typical for name in ("tan_per_protein_sizing", "denitrified_share"))
    return float(crops.feed_for_uptake_g_day(uptake_g_day, protein, share, gas))


# --- the answer


def draw(reader: words.Reader, found: Found) -> html.Html:
    """Counts a week, then the bed, then the feed by both methods."""
    say, said = words.say, partial(words.quantity, reader=reader)
    area = said(found.area_m2, "area")
    if found.plan is None:
        return answer(say("heads-too-small", reader, area=area, crop=found.crop.name))
    title = say("heads-answer", reader, n=found.heads, crop=found.crop.name, area=area)
    rows = [
        (say("heads-row-seeds", reader), said(found.plan.seeds, "number")),
        (say("heads-row-plants", reader), said(found.plan.transplants, "number")),
        (say("heads-row-cells", reader), said(found.plan.nursery_cells, "number")),
        (say("heads-row-trays", reader), said(found.trays, "number")),
        (say("heads-row-batches", reader), said(found.plan.batches, "number")),
        (say("heads-row-places", reader), said(found.plan.places, "number")),
        (say("heads-row-area", reader), said(found.plan.area_m2, "area")),
        (say("heads-row-rule", reader), _span(found.rule_g_day, reader)),
        (say("heads-row-balance", reader), _span(found.balance_g_day, reader)),
    ]
    head = [say(f"heads-head-{key}", reader) for key in ("what", "amount")]
    lines = [say("heads-why-two", reader), say("heads-light", reader)]
    return answer(title, lines, html.table(head, rows))


def _span(of: Triangle, reader: words.Reader) -> str:
    return words.span(of.low, of.high, "feed", reader)


def known(desk: Desk) -> dict[str, object]:
    """The garden's first crop with the grower's own spacing and losses, all beds, and the bag's protein."""
    garden = desk.garden
    told: dict[str, object] = {
        "protein": garden.protein_fraction(),
        "area": sum(bed.area_m2 for bed in garden.beds),
    }
    if not garden.crops:
        return told
    plan = garden.crops[0]
    told |= {"crop": plan.crop, **own_numbers(plan.crop)}
    if plan.plants_m2 is not None:
        told["spacing"] = plan.plants_m2
    if plan.loss_pct is not None:
        told["loss"] = plan.loss_pct / 100.0
    return told


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one; another crop brings its own numbers."""
    reader = reader_of(desk)
    fields = controls(reader)
    main = ("ask", "crop", "heads", "area", "feed")
    made = Panel("own-heads", fields, compute, partial(draw, reader), reader, asked=asked, main=main)
    if desk is not None:
        desk.fill(made, known)
    fields["crop"].on_change(lambda: made.refill(own_numbers(made.values["crop"])))
    return made
