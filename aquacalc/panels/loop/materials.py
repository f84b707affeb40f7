"""May this touch the water? Yes, no, or test it first, for this pH and hardness."""

from dataclasses import dataclass
from functools import partial

from aquacalc import tables, words
from aquacalc.advice import materials
from aquacalc.advice.materials import Verdict
from aquacalc.garden import litres
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field
from aquacalc.panels.frame.panel import Panel, Values, answer, wide
from aquacalc.panels.loop.writing import number
from aquacalc.tables import Row

TEMPERATURE_C = 20.0
"""Of the water for limestone; a few degrees move the answer by little."""
CARBON_DIOXIDE_MG_L = (2.0, 6.0)
"""Of a well aired and of a less aired loop. Common practice, no source."""
METALS = ("zinc", "copper")


@dataclass(frozen=True)
class Found:
    """The material and its verdict, that of every other, grams of each metal at the criterion, and what
    limestone brings the alkalinity to, from a well aired to a less aired loop."""

    asked: Row
    verdict: Verdict
    every: tuple[tuple[Row, Verdict], ...]
    aggressive: bool
    metal_g: tuple[float, ...]
    limestone_mg_l: tuple[float, float]


def controls(reader: words.Reader) -> dict[str, Field]:
    """The material, and the water that it is to touch."""
    of = partial(number, reader=reader)
    shown = [(row.text("name"), row.key) for row in tables.load("materials")]
    return {
        "material": ChoiceField(words.say("panel-materials-material", reader), shown, "galvanised", reader),
        "ph": of("panel-materials-ph", "", 7.0, 4.0, 10.0, slide=(5.5, 9.0, 0.1)),
        "hardness": of("panel-materials-hardness", "hardness", 100.0, 0.0, 1000.0, slide=(0.0, 400.0, 10.0)),
        "alkalinity": of("panel-materials-alkalinity", "alkalinity", 60.0, 1.0, 1000.0),
        "water": of("panel-whole-water", "volume", 1000.0, 10.0, 1e6),
    }


def compute(values: Values) -> Found:
    """Verdicts in this water, and what it may hold and take up."""
    ph, hardness = values["ph"], values["hardness"]
    rows = tuple(tables.load("materials"))
    every = tuple((row, materials.verdict(row, ph, hardness)) for row in rows)
    asked = tables.load("materials").row(values["material"])
    reach = (
        materials.limestone_alkalinity_mg_l(
            ph, values["alkalinity"], hardness * CALCIUM_OF_HARDNESS, TEMPERATURE_C, dioxide
        )
        for dioxide in CARBON_DIOXIDE_MG_L
    )
    low, high = sorted(reach)
    return Found(
        asked,
        materials.verdict(asked, ph, hardness),
        every,
        materials.aggressive(ph, hardness),
        tuple(materials.most_metal_g(one, max(hardness, 1.0), values["water"]) for one in METALS),
        (low, high),
    )


CALCIUM_OF_HARDNESS = 0.4
"""Calcium in hardness that is all of calcium, mg/L by mg/L as CaCO3: 40.08 over 100.09. Exact."""


def draw(reader: words.Reader, found: Found) -> html.Html:
    """The verdict large, why; the metals; limestone; every material by verdict."""
    title = words.say(f"panel-materials-{found.verdict}", reader, what=found.asked.text("name"))
    lines = [words.say(f"material-why-{found.asked.text('why')}", reader)]
    if note := found.asked.text("note"):
        lines.append(words.say("panel-materials-note", reader, note=note))
    if found.aggressive:
        lines.append(words.say("panel-materials-soft", reader))
    zinc, copper = (words.number(1000.0 * grams, 2) for grams in found.metal_g)
    reach = words.span(*found.limestone_mg_l, "alkalinity", reader)
    after = [
        words.say("panel-materials-metals", reader, zinc=zinc, copper=copper),
        words.say("panel-materials-limestone", reader, alkalinity=reach),
        *(words.say(f"panel-materials-{one}", reader) for one in ("vinegar", "check")),
    ]
    head = [words.say(f"panel-materials-head-{one}", reader) for one in ("verdict", "what")]
    rows = [
        (
            words.say(f"panel-materials-word-{verdict}", reader),
            "; ".join(row.text("name") for row, own in found.every if own == verdict),
        )
        for verdict in ("yes", "test", "no")
    ]
    return answer(title, lines, wide(html.table(head, rows)), *map(html.paragraph, after))


def known(desk: Desk) -> dict[str, object]:
    """The garden's water."""
    garden = desk.garden
    found: dict[str, object] = {
        "ph": garden.targets.ph,
        "alkalinity": min(max(garden.targets.alkalinity_mg_l, 1.0), 1000.0),
        "water": litres.litres_of(garden).whole,
    }
    hardness = garden.top_up.hardness_mg_l
    return found if hardness is None else found | {"hardness": min(hardness, 1000.0)}


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("materials", controls(reader), compute, partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, known)
    return made
