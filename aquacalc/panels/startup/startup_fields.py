"""Fields of a start-up: method, seed, product and label, doses, warmth; and what they mean for a garden."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from aquacalc import kits, words
from aquacalc.errors import InputError, Problem
from aquacalc.pages import kit
from aquacalc.panels.frame.dates import DateField
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Values
from aquacalc.startup import case as cases
from aquacalc.startup import doses, methods, plan
from aquacalc.startup.methods import Place
from aquacalc.startup.plan import Choice

BY_LOG, BY_PLAN = "log", "plan"
SEEDS: tuple[cases.SeedKey, ...] = ("unseeded", "handful", "tenth")
RARE = ("first_tan", "next_tan", "product", "strength")
"""Fields that are folded away: what stands in them is usual, or told by the garden file;
a solution always asks for its strength."""
COUNTS: tuple[doses.Counts, ...] = ("NH3 by weight", "NH3 by volume", "NH4OH", "not told")


def first_day(desk: Desk) -> date:
    """The day of the first dose: of the garden file, else the first day of its season."""
    return desk.garden.start_up.started or desk.garden.season.start


def label(desk: Desk, parameter: str) -> str:
    """The name of a reading with what the garden's kit counts."""
    scale = kit.scale_of(desk.garden, parameter)
    basis = kit.label(scale) or "N"
    if scale.steps and not kits.basis_is_known(scale):
        basis = words.say("panel-startup-basis-not-told", desk.reader)
    return words.say(f"panel-startup-{parameter}", desk.reader, basis=basis)


def products() -> list[str]:
    """Keys of what brings ammonia, the usual one first."""
    return [doses.DEFAULT_PRODUCT, doses.SOLUTION, "ammonium_sulphate", "urea"]


def product_names() -> list[tuple[str, str]]:
    """Names and keys of what brings ammonia."""
    return [(words.name("chemical", key), key) for key in products()]


def controls(desk: Desk) -> dict[str, Field]:
    """How it is begun; filled from the garden file."""
    reader, garden = desk.reader, desk.garden
    say = words.say
    told = plan.choice_of(garden)
    ways = [(say(f"startup-method-{one}", reader), one) for one in methods.METHODS]
    seeds = [(say(f"panel-startup-seed-{one}", reader), one) for one in SEEDS]
    by = [(say("panel-startup-by-plan", reader), BY_PLAN)]
    usable = desk.log is not None and garden.start_up.state == "new"
    if usable:
        by.insert(0, (say("panel-startup-by-log", reader), BY_LOG))
    return {
        "method": ChoiceField(say("panel-startup-method", reader), ways, told.method, reader),
        "seed": ChoiceField(say("panel-startup-seed", reader), seeds, told.seed, reader),
        "by": ChoiceField(say("panel-startup-by", reader), by, by[0][1], reader),
        "first": DateField(say("panel-startup-first", reader), first_day(desk), reader, first_day(desk)),
        "warmer": NumberField(
            say("panel-startup-warmer", reader),
            "temperature_difference",
            0.0,
            reader,
            -10.0,
            20.0,
            slide=(0.0, 12.0, 1.0),
        ),
        "first_tan": NumberField(
            say("panel-startup-first-tan", reader),
            "",
            told.first_tan_mg_l,
            reader,
            0.5,
            20.0,
            beside="mg-l-n",
        ),
        "next_tan": NumberField(
            say("panel-startup-next-tan", reader), "", told.next_tan_mg_l, reader, 0.5, 20.0, beside="mg-l-n"
        ),
        "product": ChoiceField(say("panel-startup-product", reader), product_names(), told.product, reader),
        "strength": NumberField(
            say("panel-startup-strength", reader),
            "share",
            None if told.strength_pct is None else told.strength_pct / 100.0,
            reader,
            0.0,
            1.0,
            optional=True,
        ),
        "counts": ChoiceField(
            say("panel-startup-counts", reader), counts_names(reader), "NH3 by weight", reader
        ),
    }


def counts_names(reader: words.Reader) -> list[tuple[str, str]]:
    """What a label's percentage may count."""
    return [
        (words.say(f"panel-startup-counts-{one.lower().replace(' ', '-')}", reader), one) for one in COUNTS
    ]


def asked(values: Values) -> list[str]:
    """Fields that matter: with fish nothing is poured; only a solution's label counts in several ways."""
    shown = ["method", "seed", "by", "first", "warmer"]
    if values["method"] != "fish":
        shown += ["first_tan", "next_tan", "strength"]
        if values["method"] != "solution":
            shown.append("product")
        if product_of(values) == doses.SOLUTION:
            shown.append("counts")
    return shown


def product_of(values: Values) -> str:
    """What brings the ammonia: the method of a solution means a solution."""
    return doses.SOLUTION if values["method"] == "solution" else str(values["product"])


def choice_of(values: Values) -> Choice:
    """The fields as a choice. Raises `InputError` for doses beyond the most."""
    for name in ("first_tan", "next_tan"):
        if values["method"] != "fish" and values[name] > doses.MOST_TAN_MG_L:
            found = f"{values[name]:g}"
            raise InputError(Problem("problem-startup-dose-high", "", found, (f"{doses.MOST_TAN_MG_L:g}",)))
    strength = values["strength"]
    return Choice(
        method=values["method"],
        seed="tenth" if values["method"] == "media" and values["seed"] == "unseeded" else values["seed"],
        first=values["first"],
        product=product_of(values),
        strength_pct=None if strength is None else 100.0 * strength,
        counts=values["counts"],
        first_tan_mg_l=values["first_tan"],
        next_tan_mg_l=values["next_tan"],
        warmer_k=values["warmer"],
    )


def place_of(desk: Desk, values: Values) -> Place:
    """What decides whether fish may start the filter."""
    case = plan.begun(desk.garden, replace(choice_of(values), method="salt"))
    return Place(
        classes=methods.classes_of(desk.garden),
        setting=desk.garden.site.setting,
        coldest_c=plan.coldest_c(case),
        seeded=values["seed"] != "unseeded",
    )


def fish_in(desk: Desk, choice: Choice, place: Place) -> methods.FishIn:
    """Feed and stop values of a start with fish. Raises `InputError` where it is refused."""
    case = plan.begun(desk.garden, choice)
    warmest = float(max(case.water_c[: 7 * plan.WEEKS_LOOKED_AT]))
    return methods.fish_in(place, case.litres, float("nan"), desk.garden.targets.ph, warmest)
