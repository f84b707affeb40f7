"""What do tanks and beds weigh on what carries them? Over, or ask an engineer: never that it holds."""

from dataclasses import dataclass
from functools import partial

from aquacalc import tables, words
from aquacalc.constants import STANDARD_GRAVITY_M_S2
from aquacalc.garden import litres
from aquacalc.garden.fields import bounds
from aquacalc.hydraulics import loads
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import KILOGRAMS, ChoiceField, Field
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.panels.loop.writing import number


@dataclass(frozen=True)
class Found:
    """What stands on one footprint, kg, and the load that it is held against, kPa."""

    mass_kg: float
    footprint_m2: float
    legs: float
    line_kpa: float
    depth_m: float

    @property
    def mass_kg_m2(self) -> float:
        """Spread over the footprint."""
        return self.mass_kg / self.footprint_m2

    @property
    def load_kpa(self) -> float:
        """The same as a pressure, kN on each m2."""
        return float(loads.load_kpa(self.mass_kg_m2))

    @property
    def over(self) -> bool:
        """Whether it is more than the load that it is held against."""
        return self.load_kpa > self.line_kpa


def controls(reader: words.Reader) -> dict[str, Field]:
    """What stands on one another, the footprint that it shares, the load that it is held against."""
    of = partial(number, reader=reader)
    media = [(row.text("name"), row.key) for row in tables.load("media") if row.text("use") == "media"]
    return {
        "water": of("panel-weight-water", "volume", 1000.0, 0.0, 2e5, slide=(0.0, 3000.0, 50.0)),
        "medium_l": of("panel-weight-medium-l", "volume", 0.0, 0.0, 1e5),
        "medium": ChoiceField(words.say("panel-flood-medium", reader), media, "gravel", reader),
        "own": of("panel-weight-own", "mass", 60_000.0, 0.0, 1e8, shown_in=KILOGRAMS),
        "footprint": of("panel-weight-footprint", "area", 1.2, 0.02, bounds("bed_area").high),
        "legs": of("panel-weight-legs", "", 4.0, 1.0, 200.0),
        "depth": of("panel-weight-depth", "length", 0.8, 0.0, 3.0),
        "line": of("panel-weight-line", "pressure", usual_line_kpa(), 0.1, 100.0),
    }


def usual_line_kpa() -> float:
    """Design load of dwelling floors."""
    return tables.load("input_bounds").row("floor_load").number("warn_high")


def compute(values: Values) -> Found:
    """The mass of water, dry medium at its heavy end, and the vessels themselves."""
    dry = tables.load("media").row(values["medium"]).number("bulk_density_dry_high_kg_m3")
    mass = values["water"] + values["medium_l"] * dry / litres.LITRES_PER_M3 + values["own"] / 1000.0
    return Found(mass, values["footprint"], values["legs"], values["line"], values["depth"])


def draw(reader: words.Reader, found: Found) -> html.Html:
    """Over, or ask an engineer; the numbers to take to one."""
    said = partial(words.quantity, reader=reader)

    def both(load_kpa: float, kg_m2: float) -> str:
        # Codes state one of the two, by country.
        return words.say(
            "panel-weight-both", reader, pressure=said(load_kpa, "pressure"), spread=said(kg_m2, "load")
        )

    load = both(found.load_kpa, found.mass_kg_m2)
    line = both(found.line_kpa, found.line_kpa / float(loads.load_kpa(1.0)))
    title = words.say("panel-weight-over" if found.over else "panel-weight-ask", reader, load=load, line=line)
    usual = usual_line_kpa()
    as_water = said(usual / float(loads.water_load_kpa(1.0)), "length")
    rows = [
        (words.say(f"panel-weight-row-{name}", reader), text)
        for name, text in (
            ("mass", said(found.mass_kg, "biomass")),
            ("spread", said(found.mass_kg_m2, "load")),
            ("leg", said(found.mass_kg / found.legs, "biomass")),
        )
    ]
    lines = [words.say("panel-weight-line-is", reader, line=said(usual, "pressure"), depth=as_water)]
    thrust_kg = 1000.0 * float(loads.wall_thrust_kn_m(found.depth_m)) / STANDARD_GRAVITY_M_S2
    after = [
        words.say("panel-weight-thrust", reader, length=said(1.0, "length"), mass=said(thrust_kg, "biomass")),
        *(words.say(f"panel-weight-{one}", reader) for one in ("not-counted", "climb")),
    ]
    head = [words.say(f"panel-weight-head-{one}", reader) for one in ("what", "value")]
    return answer(title, lines, html.table(head, rows), *map(html.paragraph, after))


def known(desk: Desk) -> dict[str, object]:
    """The heaviest fish tank of the garden on its own footprint."""
    tank = max(desk.garden.tanks, key=lambda one: one.volume_l / one.surface_m2)
    return {"water": tank.volume_l, "footprint": tank.surface_m2, "depth": tank.depth_m}


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("weight", controls(reader), compute, partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, known)
    return made
