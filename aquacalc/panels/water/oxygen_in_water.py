"""How much oxygen can this water hold? Temperature and altitude in, mg/L out; a reading as a share of it."""

from dataclasses import dataclass
from functools import partial

from aquacalc import fish, tables, words
from aquacalc.judge import oxygen as judged
from aquacalc.judge.levels import Level
from aquacalc.pages import html
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.oxygen import OxygenField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.water import oxygen

MOST_MG_L = 25.0
"""More is no reading of such water. Common practice, no source."""


@dataclass(frozen=True)
class Held:
    """What the water holds, and the reading beside it (None where there is none)."""

    temperature_c: float
    altitude_m: float
    saturation_mg_l: float
    reading_mg_l: float | None
    percent: float | None
    species: fish.Species
    level: Level


def controls(reader: words.Reader) -> dict[str, Field]:
    """Temperature, altitude, a reading if there is one, the fish."""
    say = words.say
    temperature = NumberField(
        say("panel-water-c", reader), "temperature", 24.0, reader, 0.0, 40.0, (0.0, 40.0, 0.5)
    )
    altitude = NumberField(say("panel-altitude", reader), "length", 0.0, reader, -400.0, 5000.0)

    def holds() -> float:
        assert temperature.value is not None
        assert altitude.value is not None
        return _saturation_mg_l(temperature.value, altitude.value)

    return {
        "temperature": temperature,
        "altitude": altitude,
        "reading": OxygenField(say("panel-oxygen-reading", reader), reader, MOST_MG_L, holds),
        "species": ChoiceField(say("panel-species", reader), lists.species(), "nile_tilapia", reader),
    }


def _saturation_mg_l(temperature_c: float, altitude_m: float) -> float:
    return float(oxygen.saturation_mg_l(temperature_c, 0.0, oxygen.pressure_atm(altitude_m)))


def compute(values: Values) -> Held:
    """Saturation at this temperature and altitude; level and percent of the reading."""
    species, reading = fish.species(values["species"]), values["reading"]
    pressure = oxygen.pressure_atm(values["altitude"])
    row = tables.load("species").row(values["species"])
    return Held(
        temperature_c=values["temperature"],
        altitude_m=values["altitude"],
        saturation_mg_l=_saturation_mg_l(values["temperature"], values["altitude"]),
        reading_mg_l=reading,
        percent=None
        if reading is None
        else float(oxygen.percent(reading, values["temperature"], 0.0, pressure)),
        species=species,
        level="not known" if reading is None else judged.level(reading, (row,)),
    )


def draw(reader: words.Reader, held: Held) -> html.Html:
    """What the water holds, what the fish need, and where the reading stands."""

    def mg(value: float) -> str:
        return words.quantity(value, "concentration", reader)

    sentences = [
        words.say(
            "panel-oxygen-needs",
            reader,
            species=held.species.name,
            full=mg(held.species.oxygen_full_feed_mg_l),
            critical=mg(held.species.oxygen_critical_mg_l),
        )
    ]
    if held.reading_mg_l is not None and held.percent is not None:
        sentences.append(
            words.say(
                "panel-oxygen-level",
                reader,
                reading=mg(held.reading_mg_l),
                percent=words.number(held.percent),
                level=words.level(held.level, reader),
            )
        )
    title = words.say(
        "panel-oxygen-answer",
        reader,
        temperature=words.quantity(held.temperature_c, "temperature", reader),
        altitude=words.quantity(held.altitude_m, "length", reader),
        saturation=mg(held.saturation_mg_l),
    )
    return answer(title, sentences)


def known(desk: Desk) -> dict[str, object]:
    """What the garden tells: its height, its fish, the water of its warmest month."""
    return {
        "altitude": desk.garden.site.altitude_m,
        "species": desk.garden.fish[0].species,
        "temperature": round(float(max(desk.balance.water_c.middle)), 1),
    }


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("oxygen", controls(reader), compute, partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, known)
    return made
