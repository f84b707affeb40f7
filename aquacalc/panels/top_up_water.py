"""What is in my top-up water, and what must I do with it? Chlorine, a hard year, a mixture, a roof."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

from aquacalc import tables, words
from aquacalc.advice import top_up as advice
from aquacalc.garden import litres
from aquacalc.pages import html
from aquacalc.panels import lists
from aquacalc.panels.desk import Desk, reader_of
from aquacalc.panels.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame import Panel, Values, answer
from aquacalc.uncertainty import coefficient
from aquacalc.water import carbonate, top_up

DISINFECTANTS = ("not known", "chlorine", "chloramine", "none")
ASKED = {
    "treat": (
        "told",
        "chlorine",
        "new",
        "reagent",
        "strength",
        "whole",
        "bucket_chlorine",
        "bucket_ammonia",
        "tan",
        "ph",
        "temperature",
        "species",
    ),
    "year": ("alkalinity", "hardness", "sodium", "whole", "evaporation", "discharge", "feed", "protein"),
    "mix": ("alkalinity", "tap_ph", "second_alkalinity", "second_ph", "wished", "temperature"),
    "rain": ("roof", "rain", "barrel", "evaporation"),
}


@dataclass(frozen=True)
class Roof:
    """What a roof brings in a month, what runs off first, and how long the barrel lasts."""

    month_l: float
    flush_l: float
    barrel_d: float
    evaporation_l_d: float


Found = advice.Treatment | advice.Year | advice.Mixture | Roof


def controls(reader: words.Reader) -> dict[str, Field]:
    """The question first, then what it asks for."""
    say = words.say
    questions = [(say(f"panel-top-up-question-{key}", reader), key) for key in ASKED]
    told = [(say(f"panel-top-up-told-{key.replace(' ', '-')}", reader), key) for key in DISINFECTANTS]

    def number(key: str, kind: str, value: float | None, high: float, low: float = 0.0) -> NumberField:
        label = say(f"panel-top-up-{key}", reader)
        return NumberField(label, kind, value, reader, low, high, optional=value is None)

    return {
        "question": ChoiceField(say("panel-top-up-question", reader), questions, "treat", reader),
        "told": ChoiceField(say("panel-top-up-told", reader), told, "not known", reader),
        "chlorine": number("chlorine", "concentration", 4.0, 20.0),
        "new": number("new", "volume", 100.0, 1e5, 0.5),
        "reagent": ChoiceField(
            say("panel-top-up-reagent", reader), _reagents(), "thiosulfate_pentahydrate", reader
        ),
        "strength": number("strength", "share", 1.0, 1.0, 0.001),
        "bucket_chlorine": number("bucket-chlorine", "concentration", None, 20.0),
        "bucket_ammonia": number("bucket-ammonia", "concentration", None, 20.0),
        "alkalinity": number("alkalinity", "alkalinity", 214.0, 1000.0),
        "tap_ph": number("tap-ph", "", 7.6, 10.0, 4.0),
        "hardness": number("hardness", "hardness", 250.0, 2000.0),
        "sodium": number("sodium", "concentration", 20.0, 1000.0),
        "second_alkalinity": number("second-alkalinity", "alkalinity", 5.0, 1000.0, 0.5),
        "second_ph": number("second-ph", "", 6.0, 10.0, 4.0),
        "wished": number("wished", "alkalinity", 80.0, 1000.0),
        "whole": number("whole", "volume", 1000.0, 1e6, 20.0),
        "evaporation": number("evaporation", "volume", 20.0, 1e5),
        "discharge": number("discharge", "volume", 2.0, 1e5),
        "feed": number("feed", "feed", 60.0, 1e5),
        "protein": number("protein", "share", 0.32, 0.7, 0.1),
        "tan": number("tan", "concentration", None, 100.0),
        "ph": number("ph", "", 6.8, 10.0, 4.0),
        "temperature": NumberField(say("panel-water-c", reader), "temperature", 24.0, reader, 0.0, 40.0),
        "species": ChoiceField(say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "roof": number("roof", "area", 12.0, 1e4, 0.1),
        "rain": number("rain", "rain", 50.0, 3000.0),
        "barrel": number("barrel", "volume", 300.0, 1e5),
    }


def _reagents() -> list[tuple[str, str]]:
    return sorted(
        (row.text("name"), row.key) for row in tables.load("chemicals") if row.text("kind") == "dechlorinator"
    )


def asked(values: Mapping[str, object]) -> tuple[str, ...]:
    """Names of the fields of the question at hand."""
    return ("question", *ASKED[str(values["question"])])


def compute(values: Values) -> Found:
    """The answer to the question at hand."""
    question = values["question"]
    if question == "year":
        return advice.after_a_year(_hard(values))
    if question == "mix":
        first = carbonate.water(values["tap_ph"], max(values["alkalinity"], 0.5), values["temperature"])
        second = carbonate.water(values["second_ph"], values["second_alkalinity"], values["temperature"])
        return advice.mixture(first, second, values["wished"])
    if question == "rain":
        return Roof(
            float(top_up.roof_l(values["roof"], values["rain"])),
            float(top_up.first_flush_l(values["roof"])),
            float(top_up.barrel_days(values["barrel"], values["evaporation"])),
            values["evaporation"],
        )
    return advice.treatment(_tap(values))


def _hard(values: Values) -> advice.Hard:
    return advice.Hard(
        loop=top_up.Loop(values["whole"], values["evaporation"], values["discharge"]),
        alkalinity_mg_l=values["alkalinity"],
        hardness_mg_l=values["hardness"],
        sodium_mg_l=values["sodium"],
        feed_g_day=values["feed"],
        protein_share=values["protein"],
    )


def _tap(values: Values) -> advice.Tap:
    def read(name: str) -> float:
        return math.nan if values[name] is None else float(values[name])

    return advice.Tap(
        told=values["told"],
        chlorine_mg_l=values["chlorine"],
        new_water_l=values["new"],
        whole_l=max(values["whole"], values["new"]),
        ph=values["ph"],
        temperature_c=values["temperature"],
        reagent=values["reagent"],
        strength=values["strength"],
        bucket_chlorine_mg_l=read("bucket_chlorine"),
        bucket_ammonia_mg_l=read("bucket_ammonia"),
        tan_mg_l=read("tan"),
        species=values["species"],
    )


def draw(reader: words.Reader, found: Found) -> html.Html:
    """The answer in words."""
    if isinstance(found, advice.Treatment):
        return _treatment(reader, found)
    if isinstance(found, advice.Year):
        return _year(reader, found)
    if isinstance(found, advice.Mixture):
        return _mixture(reader, found)
    return _roof(reader, found)


def _treatment(reader: words.Reader, found: advice.Treatment) -> html.Html:
    say = words.say

    def mg(value: float) -> str:
        return words.quantity(value, "concentration", reader)

    def days(span: tuple[float, float]) -> str:
        return words.span(math.ceil(span[0]), math.ceil(span[1]), "days", reader)

    if found.chlorine_mg_l <= 0.0:
        return answer(say("panel-top-up-none", reader), [say("panel-top-up-ask", reader)])
    grams = words.quantity(found.reagent_g, "dose", reader)
    name = tables.load("chemicals").row(found.reagent).text("name")
    title = say("panel-top-up-treat", reader, grams=grams, name=name, chlorine=mg(found.chlorine_mg_l))
    stays = found.taken_for == "chloramine"
    waits = {"standing": days(found.standing_d), "aired": days(found.aired_d), "line": mg(found.line_mg_l)}
    lines = [
        say(f"panel-top-up-taken-{found.taken_for}", reader),
        say(f"panel-top-up-sure-{found.sure}", reader),
        say(f"panel-top-up-wait-{found.taken_for}", reader, **waits),
        say("panel-top-up-left", reader, left=mg(found.left_mg_l), line=mg(found.line_mg_l)),
    ]
    if stays:
        freed = words.span(*found.freed_mg_l, "nitrogen", reader)
        lines.append(say("panel-top-up-freed", reader, freed=freed))
        if found.unionised_mg_l > found.act_line_mg_l:
            lines.append(say("panel-top-up-freed-high", reader))
    steps = [
        say("panel-top-up-step-reagent", reader, grams=grams),
        say("panel-top-up-step-fill", reader),
        say("panel-top-up-step-test", reader),
    ]
    return answer(
        title,
        lines,
        html.element("ol", *(html.element("li", step) for step in steps)),
        html.paragraph(say("panel-top-up-not", reader)),
    )


def _year(reader: words.Reader, found: advice.Year) -> html.Html:
    say = words.say
    sodium = words.span(*found.sodium_mg_l, "concentration", reader)
    title = say(
        "panel-top-up-year",
        reader,
        alkalinity=words.span(*found.alkalinity_mg_l, "alkalinity", reader),
        hardness=words.quantity(found.hardness_mg_l, "hardness", reader),
        sodium=sodium,
    )
    lines = [
        _hold(reader, "sodium", found.hold_sodium_l_d, found.sodium_line_mg_l, "concentration"),
        _hold(reader, "alkalinity", found.hold_alkalinity_l_d, found.alkalinity_line_mg_l, "alkalinity"),
    ]
    middle = words.quantity(found.alkalinity_middle_mg_l, "alkalinity", reader)
    lines.insert(0, say("panel-top-up-year-middle", reader, alkalinity=middle))
    if found.alkalinity_mg_l[0] <= 0.0:
        lines.append(say("panel-top-up-year-used-up", reader))
    lines.append(say("panel-top-up-year-hardness", reader))
    return answer(title, lines)


def _hold(reader: words.Reader, name: str, litres_d: float, line: float, kind: str) -> str:
    shown = words.quantity(line, kind, reader)
    if math.isinf(litres_d):
        return words.say(f"panel-top-up-hold-{name}-never", reader, line=shown)
    if litres_d <= 0.0:
        return words.say(f"panel-top-up-hold-{name}-none", reader, line=shown)
    exchange = words.quantity(litres_d, "volume", reader)
    return words.say(f"panel-top-up-hold-{name}", reader, line=shown, exchange=exchange)


def _mixture(reader: words.Reader, found: advice.Mixture) -> html.Html:
    say = words.say
    if math.isnan(found.share):
        return answer(say("panel-top-up-mix-never", reader), [say("panel-top-up-mix-how", reader)])
    title = say(
        "panel-top-up-mix",
        reader,
        second=words.quantity(found.share, "share", reader),
        ph=words.quantity(found.ph, "ph", reader),
    )
    mean = say("panel-top-up-mix-mean", reader, mean=words.quantity(found.ph_mean, "ph", reader))
    return answer(title, [mean, say("panel-top-up-mix-how", reader)])


def _roof(reader: words.Reader, found: Roof) -> html.Html:
    say = words.say
    title = say("panel-top-up-month", reader, month=words.quantity(found.month_l, "volume", reader))
    lines = [say("panel-top-up-flush", reader, flush=words.quantity(found.flush_l, "volume", reader))]
    if not math.isinf(found.barrel_d):
        lines.append(say("panel-top-up-bridge", reader, days=words.quantity(found.barrel_d, "days", reader)))
    lines.append(say("panel-top-up-rain-how", reader))
    return answer(title, lines)


def known(desk: Desk) -> dict[str, object]:
    """What the garden file tells of its top-up water, its loop, roof and feed; its usual loss of water."""
    garden, balance = desk.garden, desk.balance
    given = garden.top_up
    whole = litres.of(garden).whole
    told: dict[str, object] = {
        "told": given.disinfectant,
        "chlorine": given.chlorine_max_mg_l,
        "whole": whole,
        "evaporation": round(whole * coefficient("water_loss_share_per_d").typical, 1),
        "feed": float(round(float(balance.demand.feed_g_day.middle.mean()))),
        "protein": garden.protein_fraction(),
        "species": garden.fish[0].species,
        "temperature": round(float(max(balance.water_c.middle)), 1),
    }
    optional = {
        "alkalinity": given.alkalinity_mg_l,
        "hardness": given.hardness_mg_l,
        "sodium": given.sodium_mg_l,
        "tap_ph": given.ph,
        "roof": garden.rain.roof_m2 or None,
        "barrel": garden.rain.barrel_l or None,
    }
    return told | {name: value for name, value in optional.items() if value is not None}


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("top-up", controls(reader), compute, partial(draw, reader), reader, asked=asked)
    if desk is not None:
        desk.fill(made, known)
    return made
