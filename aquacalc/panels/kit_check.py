"""Is the kit right? A standard from weighed salt, two readings of one water, and the day on the bottles."""

from dataclasses import dataclass
from datetime import date
from functools import partial

from aquacalc import kits, units, words
from aquacalc.garden.model import KitScale
from aquacalc.pages import html, kit
from aquacalc.panels.dates import DateField
from aquacalc.panels.desk import Desk, reader_of
from aquacalc.panels.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame import Panel, Values, answer

STOCK_MG_L = 1000.0
"""A stock is as strong as this, so that what is weighed is grams and not milligrams."""
LITRES = {"metric": "l", "us": "l"}
"""Flasks are marked in litres everywhere."""
NO_SCALE = KitScale("tan")

BASES = {"tan": ("N", "NH3", "NH4"), "nitrite": ("N", "NO2"), "nitrate": ("N", "NO3")}


@dataclass(frozen=True)
class Checked:
    """What a standard takes, and what the kit's readings say.

    stock_g: grams of salt for a litre of stock. stock_ml: of it for the wished standard. content: of the
    standard, as the workbook counts it. right, agree, old: None where it cannot be told.
    """

    parameter: str
    salt: str
    formula: str
    stock_g: float
    stock_ml: float
    standard_l: float
    factor: float
    content: float
    right: bool | None
    agree: bool | None
    old: bool | None


def controls(reader: words.Reader, today: date) -> dict[str, Field]:
    """The standard that is wished, the readings of it, and the day on the bottles."""
    say = words.say
    parameters = [(say(f"word-{one}", reader), one) for one in kits.STANDARDS]

    def number(key: str, value: float | None, low: float, high: float, optional: bool = False) -> NumberField:
        return NumberField(say(key, reader), "", value, reader, low, high, optional=optional)

    return {
        "parameter": ChoiceField(say("panel-kit-parameter", reader), parameters, "nitrate", reader),
        "content": number("panel-check-content", 10.0, 0.01, 1000.0),
        "litres": NumberField(
            say("panel-check-volume", reader), "volume", 1.0, reader, 0.05, 20.0, shown_in=LITRES
        ),
        "purity": NumberField(say("panel-check-purity", reader), "share", 1.0, reader, 0.5, 1.0),
        "first": number("panel-check-first", None, 0.0, 1e5, True),
        "second": number("panel-check-second", None, 0.0, 1e5, True),
        "sample": number("panel-check-sample", 5.0, 0.1, 1000.0),
        "water": number("panel-check-water", 0.0, 0.0, 10_000.0),
        "expires": DateField(say("panel-kit-expires", reader), None, reader, today, optional=True),
    }


def compute(desk: Desk | None, today: date, values: Values) -> Checked:
    """Grams, millilitres, and what the readings say on the garden's own scale."""
    parameter = values["parameter"]
    standard = kits.STANDARDS[parameter]
    scale = NO_SCALE if desk is None else kit.scale_of(desk.garden, parameter)
    factor = kits.dilution(values["sample"], values["water"])
    content, first, second = values["content"], values["first"], values["second"]
    both = first is not None and second is not None
    return Checked(
        parameter=parameter,
        salt=standard.salt,
        formula=standard.formula,
        stock_g=kits.standard_g(parameter, STOCK_MG_L, 1.0, values["purity"]),
        stock_ml=kits.stock_ml(content, values["litres"], STOCK_MG_L),
        standard_l=values["litres"],
        factor=factor,
        content=content,
        right=None if first is None else kits.reads_standard(first, content, scale, factor),
        agree=kits.duplicates_agree(first, second, scale) if both else None,
        old=kits.expired(values["expires"], today),
    )


def shown(parameter: str, content: float) -> list[tuple[str, str]]:
    """A content in every basis that a kit may have."""
    if parameter in BASES:
        return [(f"mg/L {one}", words.number(units.from_n(content, one), 3)) for one in BASES[parameter]]
    return [
        (unit.label, words.number(unit.from_base(content), 3))
        for unit in units.of_kind(parameter)
        if unit.common
    ]


def draw(reader: words.Reader, found: Checked) -> html.Html:
    """How to make the standard, what it must read, and what the readings say."""
    say = words.say
    title = say(
        "panel-check-answer",
        reader,
        grams=words.number(found.stock_g, 4),
        salt=say(f"panel-check-salt-{found.salt}", reader),
        formula=found.formula,
    )
    told = {True: "yes", False: "no", None: "open"}
    lines = [
        say(
            "panel-check-take",
            reader,
            ml=words.number(found.stock_ml, 3),
            litres=words.number(found.standard_l, 3),
        ),
        say(f"panel-check-caution-{found.salt}", reader),
        say(f"panel-check-right-{told[found.right]}", reader),
        say(f"panel-check-agree-{told[found.agree]}", reader),
        say(f"panel-check-old-{told[found.old]}", reader),
    ]
    if found.factor > 1.0:
        lines.insert(2, say("panel-check-factor", reader, factor=words.number(found.factor, 3)))
    head = (say("panel-check-unit", reader), say("panel-check-reads", reader))
    return answer(title, lines, html.table(head, shown(found.parameter, found.content)))


def known(desk: Desk) -> dict[str, object]:
    """The day on the bottles of the kit that is in use."""
    newest = max(desk.garden.kits, key=lambda one: one.start or date.min, default=None)
    return {"expires": newest.expires if newest else None}


def panel(desk: Desk | None = None) -> Panel:
    """The panel; readings are judged on the scale of the garden's own kit, where it has one."""
    reader = reader_of(desk)
    today = date.today() if desk is None else desk.file.today
    made = Panel(
        "kit-check", controls(reader, today), partial(compute, desk, today), partial(draw, reader), reader
    )
    if desk is not None:
        desk.fill(made, known)
    return made
