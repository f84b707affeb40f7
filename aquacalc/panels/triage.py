"""What do I see, and what do I do now? One list of signs; the answer as numbered steps."""

import math
from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date
from functools import partial

from aquacalc import tables, words
from aquacalc.advice import triage
from aquacalc.advice.triage import NOTHING_KNOWN, Place, Readings, Triage
from aquacalc.pages import html, triage_page
from aquacalc.panels import lists
from aquacalc.panels.desk import Desk, reader_of
from aquacalc.panels.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame import Panel, Values, answer

NOT_TOLD = ""


@dataclass(frozen=True)
class Answer:
    """The steps, and whose garden they are for; its name is empty where there is none."""

    triage: Triage
    garden: str


def signs(reader: words.Reader) -> list[tuple[str, str]]:
    """Signs as a reader knows them, fish first."""
    rows = tables.load("symptoms")
    return [(words.say(f"triage-sign-{row.text('sign')}", reader), row.key) for row in rows]


def dechlorinators() -> list[tuple[str, str]]:
    """Names and keys of what takes chlorine out."""
    rows = tables.load("chemicals")
    return [(row.text("name"), row.key) for row in rows if row.text("kind") == "dechlorinator"]


def place_fields(reader: words.Reader) -> dict[str, Field]:
    """Litres, chlorine and dechlorinator, as every panel of trouble with water asks for them."""
    say = words.say
    return {
        "water": NumberField(
            say("panel-whole-water", reader), "volume", None, reader, 1.0, 1e6, optional=True
        ),
        "chlorine": NumberField(
            say("panel-chlorine", reader),
            "concentration",
            triage.UNKNOWN_CHLORINE_MG_L,
            reader,
            0.0,
            20.0,
        ),
        "dechlorinator": ChoiceField(
            say("panel-dechlorinator", reader), dechlorinators(), triage.USUAL_DECHLORINATOR, reader
        ),
    }


def controls(reader: words.Reader) -> dict[str, Field]:
    """What is seen; then what a person beside the tank may be able to tell."""
    say = words.say
    fish = [(say("panel-species-not-told", reader), NOT_TOLD), *lists.species()]
    return {
        "sign": ChoiceField(say("panel-sign", reader), signs(reader), "gasping", reader),
        **place_fields(reader),
        "species": ChoiceField(say("panel-species", reader), fish, NOT_TOLD, reader),
        "oxygen": NumberField(
            say("panel-oxygen-reading", reader), "concentration", None, reader, 0.0, 25.0, optional=True
        ),
        "temperature": NumberField(
            say("panel-temperature-reading", reader), "temperature", None, reader, 0.0, 45.0, optional=True
        ),
    }


def asked(values: Values) -> Collection[str]:
    """Fields that matter for the sign: leaves need no numbers."""
    row = tables.load("symptoms").row(values["sign"])
    return {"sign"} if row.text("subject") == "plants" else set(values)


def place(values: Values, garden: Place) -> Place:
    """What the fields tell, and beside it what only the garden knows as long as they agree with it."""
    same_fish = values.get("species", garden.species) == garden.species
    same_shelf = values["dechlorinator"] == garden.dechlorinator
    return replace(
        garden,
        water_l=math.nan if values["water"] is None else values["water"],
        chlorine_mg_l=values["chlorine"],
        dechlorinator=values["dechlorinator"],
        strength=garden.strength if same_shelf else 1.0,
        species=values.get("species", garden.species),
        response_h=garden.response_h if same_fish else math.nan,
    )


def of_garden(desk: Desk | None) -> Place:
    """What the garden at hand tells; nothing where there is none."""
    return NOTHING_KNOWN if desk is None else triage.known(desk.garden, desk.balance.outage)


def compute(desk: Desk | None, values: Values) -> Answer:
    """The steps for a sign."""
    readings = Readings(
        oxygen_mg_l=math.nan if values["oxygen"] is None else values["oxygen"],
        temperature_c=math.nan if values["temperature"] is None else values["temperature"],
    )
    found = triage.of(values["sign"], place(values, of_garden(desk)), readings)
    return Answer(found, "" if desk is None else desk.garden.name)


def shown(reader: words.Reader, found: Triage, garden: str = "") -> html.Html:
    """Steps and the link to their page, as panels show them beneath an answer."""
    link = triage_page.link(found, reader, date.today(), garden)
    return html.join(triage_page.parts(found, reader), html.element("p", link))


def draw(reader: words.Reader, found: Answer) -> html.Html:
    """The sign, electricity before all, then the steps."""
    title = words.say("panel-triage-answer", reader, sign=words.say(found.triage.title, reader))
    before = words.say(found.triage.before, reader)
    return answer(title, [before], shown(reader, found.triage, found.garden))


def told(desk: Desk) -> dict[str, object]:
    """Fields that the garden fills."""
    found = of_garden(desk)
    return {
        "water": found.water_l,
        "chlorine": found.chlorine_mg_l,
        "dechlorinator": found.dechlorinator,
        "species": found.species,
    }


def panel(desk: Desk | None = None, sign: str = "gasping") -> Panel:
    """The panel, filled from the garden where there is one. sign: what stands chosen at first."""
    reader = reader_of(desk)
    made = Panel(
        "triage", controls(reader), partial(compute, desk), partial(draw, reader), reader, asked=asked
    )
    made.fill({"sign": sign})
    if desk is not None:
        desk.fill(made, told)
    return made
