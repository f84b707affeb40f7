"""What do I see, and what do I do now? One list of signs; the answer as numbered steps."""

import math
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from typing import Any

import ipywidgets as widgets

from aquacalc import tables, words
from aquacalc.advice import shelf, triage
from aquacalc.advice import trail as rests
from aquacalc.advice.reading import actions, given
from aquacalc.advice.reading.given import Given
from aquacalc.advice.triage import NOTHING_KNOWN, Place, Triage
from aquacalc.garden.model import Garden, Product
from aquacalc.pages import html, kit, trail, triage_page
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, garden_of, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.panels.water.reading import ReadingField
from aquacalc.sentences import reading
from aquacalc.tables import Cited
from aquacalc.water import chlorine

NOT_TOLD = ""


READING_WIDTH = "15.5em"


@dataclass(frozen=True)
class Answer:
    """The steps, and whose garden they are for; its name is empty where there is none.

    read: what the readings say, None where none was typed.
    """

    triage: Triage
    garden: str
    read: actions.Answer | None = None


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
            chlorine.SUPPLIERS_MOST_MG_L,
            reader,
            0.0,
            20.0,
        ),
        "dechlorinator": ChoiceField(
            say("panel-dechlorinator", reader), dechlorinators(), chlorine.USUAL_REAGENT, reader
        ),
    }


READ_BY = {
    "oxygen": ("oxygen",),
    "temperature": ("temp",),
    "ammonia": ("tan", "ph", "temp"),
    "nitrite": ("nitrite", "chloride"),
    "chlorine": ("total_chlorine",),
    "ph": ("ph",),
    "alkalinity": ("kh",),
}
"""What is to be measured, and the fields that it is typed into."""

TYPED = {
    "oxygen": "oxygen",
    "temp": "temperature",
    "tan": "tan",
    "ph": "ph",
    "nitrite": "nitrite",
    "chloride": "chloride",
    "total_chlorine": "chlorine",
    "kh": "alkalinity",
}
"""Fields for readings, and the parameter of each."""

SHOWN_BY_FISH = {"gasping": "gasping", "brown_gills": "brown gills"}
"""Signs that a reading is judged with."""

PURE_PCT = 100.0
"""Strength of what nobody told the strength of."""

DRAWS = 500
"""Of the kit's errors; enough for a level."""


def controls(reader: words.Reader, garden: Garden | None = None) -> dict[str, Field]:
    """What is seen; then what a person beside the tank may be able to tell, each box may stay empty."""
    say = words.say
    fish = [(say("panel-species-not-told", reader), NOT_TOLD), *lists.species()]
    readings = {name: ReadingField(_label(one, reader, garden), "", reader) for name, one in TYPED.items()}
    for field in readings.values():
        field.widget.layout.max_width = READING_WIDTH
    return {
        "sign": ChoiceField(say("panel-sign", reader), signs(reader), "gasping", reader),
        **place_fields(reader),
        "species": ChoiceField(say("panel-species", reader), fish, NOT_TOLD, reader),
        **readings,
    }


def _label(parameter: str, reader: words.Reader, garden: Garden | None) -> str:
    """The reading, with what the garden's kit counts where that is known."""
    name = words.say(f"word-{parameter}", reader)
    counts = "" if garden is None else kit.label(kit.scale_of(garden, parameter))
    if parameter == "chlorine":
        name = words.say("panel-triage-total-chlorine", reader)
    shown = words.say("reading-field-kit", reader, name=name, counts=counts) if counts else name
    return words.say("panel-triage-read", reader, what=shown)


def asked(values: Values) -> Collection[str]:
    """Fields that matter for the sign: what it asks to measure; leaves need no numbers."""
    row = tables.load("symptoms").row(values["sign"])
    if row.text("subject") == "plants":
        return {"sign"}
    read = {name for one in row.listed("then_measure") for name in READ_BY.get(one, ())}
    return {"sign", "water", "chlorine", "dechlorinator", "species", *read}


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
    """The steps for a sign, and what the readings say; `InputError` where one cannot be read."""
    read = _readings(desk, values)
    found = triage.triage_of(values["sign"], place(values, of_garden(desk)), read)
    return Answer(found, "" if desk is None else desk.garden.name, read)


def _readings(desk: Desk | None, values: Values) -> actions.Answer | None:
    """What was typed for this sign, judged with the fish and litres of the fields; None without a reading."""
    wanted = asked(values)
    typed = [f"{_named(name)}={values[name]}" for name in TYPED if name in wanted and values[name]]
    if not typed:
        return None
    if values["species"] != NOT_TOLD:
        typed.append(f"fish={values['species']}")
    if values["water"] is not None:
        typed.append(f"litres={values['water']!r} L")
    if values["sign"] in SHOWN_BY_FISH:
        typed.append(f"signs={SHOWN_BY_FISH[values['sign']]}")
    found = given.read(typed, garden_of(desk))
    return actions.answer(replace(found, **_new_water(found, values)), DRAWS)


def _new_water(found: Given, values: Values) -> dict[str, Any]:
    """New water by the field of chlorine, and what takes that out where it is another than on the shelf."""
    told = {"new_water": replace(found.new_water, chlorine_mg_l=values["chlorine"])}
    on_shelf, key = shelf.dechlorinator(found.products), values["dechlorinator"]
    if key == (on_shelf.chemical if on_shelf else chlorine.USUAL_REAGENT):
        return told
    name = tables.load("chemicals").row(key).text("name")
    return {**told, "products": (Product(name, key, PURE_PCT), *found.products)}


def _named(name: str) -> str:
    return "chlorine" if name == "total_chlorine" else name


LARGE = html.Html(
    "<style>.aq-panel .aq-result p.aq-answer{font-size:24px}"
    ".aq-panel .aq-do li{font-size:18px;margin:4px 0}</style>"
)
"""What to do first is read from further away."""


def doing(reader: words.Reader, found: Triage, now: bool = True) -> html.Html:
    """What to do now, or where it goes further, in large type."""
    return html.join(LARGE, html.element("div", triage_page.doing(found, reader, now=now), class_="aq-do"))


def rest(reader: words.Reader, found: Triage, garden: str = "", reckoned: Iterable[Cited] = ()) -> html.Html:
    """What comes after it, and the link to the page. reckoned: what the panel's own numbers rest on."""
    link = triage_page.link(found, reader, date.today(), garden)
    cited = trail.fold(rests.merged((*rests.of_rows("symptoms", [found.sign]), *reckoned)), reader)
    return html.join(triage_page.rest(found, reader), cited, html.element("p", link))


def shown(reader: words.Reader, found: Triage, garden: str = "") -> html.Html:
    """Steps and the link to their page, as panels show them beneath an answer."""
    return html.join(doing(reader, found), rest(reader, found, garden))


def draw(reader: words.Reader, found: Answer) -> html.Html:
    """The first thing to do, large; the sign, electricity before all; the steps; what the readings say."""
    sign = words.say(found.triage.title, reader)
    before = words.say(found.triage.before, reader)
    return answer(
        triage_page.first(found.triage, reader),
        [words.say("panel-triage-sign", reader, sign=sign), before],
        doing(reader, found.triage),
        _read(reader, found),
    )


def _read(reader: words.Reader, found: Answer) -> html.Html:
    """The level of the readings, and what they ask for beside the steps."""
    if found.read is None:
        return html.Html("")
    read = triage.not_told(found.triage, found.read)
    lines = [reading.status(read, reader), reading.in_short(read, reader)]
    return html.join(
        html.element("h3", words.say("triage-head-read", reader)),
        *(html.paragraph(line) for line in lines),
        html.listing(reading.now(read, reader)),
        # By all that the readings ask for, also what the steps say already.
        html.paragraph(reading.again(found.read, reader)),
    )


def told(desk: Desk) -> dict[str, object]:
    """Fields that the garden fills."""
    found = of_garden(desk)
    return {
        "water": found.water_l,
        "chlorine": found.chlorine_mg_l,
        "dechlorinator": found.dechlorinator,
        "species": found.species,
    }


def answer_first(made: Panel, above: Collection[str] = ()) -> Panel:
    """Put the answer over the fields, with a word on what these are good for. above: stay over it."""
    made.answer_first(above, words.say("panel-triage-fill", made.reader))
    return made


class StepsPanel(Panel):
    """What to do now, then the boxes that make its amounts known, then what to measure and the rest.

    drawn: what stands over the boxes. after: what stands beneath them. above: as for `answer_first`.
    """

    def __init__(
        self,
        key: str,
        fields: Mapping[str, Field],
        compute: Callable[[Values], Any],
        drawn: Callable[[Any], html.Html],
        after: Callable[[Any], html.Html],
        reader: words.Reader,
        above: Collection[str],
        asked: Callable[[Values], Collection[str]] | None = None,
    ) -> None:
        rest = widgets.HTML(layout=widgets.Layout(width="100%"))

        def both(found: Any) -> html.Html:
            rest.value = html.element("div", after(found), class_="aq-result")
            return drawn(found)

        super().__init__(key, fields, compute, both, reader, asked=asked)
        self.after.children = (rest,)
        answer_first(self, above)


def panel(desk: Desk | None = None, sign: str = "gasping") -> StepsPanel:
    """The panel, filled from the garden where there is one. sign: what stands chosen at first."""
    reader = reader_of(desk)
    fields = controls(reader, garden_of(desk))

    def after(found: Answer) -> html.Html:
        return rest(reader, found.triage, found.garden)

    drawn = partial(draw, reader)
    made = StepsPanel("triage", fields, partial(compute, desk), drawn, after, reader, ("sign",), asked)
    made.fill({"sign": sign})
    if desk is not None:
        desk.fill(made, told)
    return made
