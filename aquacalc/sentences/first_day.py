"""From what a season begins: what the log or the garden file tells of its first day, and what is assumed."""

from collections.abc import Mapping

from aquacalc import words
from aquacalc.constants import Numbers
from aquacalc.garden.model import Garden
from aquacalc.season import start
from aquacalc.season.start import Start
from aquacalc.uncertainty import BAND_PERCENTILES, Triangle, quantile
from aquacalc.words import Reader

KINDS = {
    "ph": "ph",
    "alkalinity_mg_l": "alkalinity",
    "tan_mg_l": "nitrogen",
    "nitrite_mg_l": "nitrogen",
    "nitrate_mg_l": "nitrogen",
    "hardness_mg_l": "hardness",
    "chloride_mg_l": "concentration",
    "potassium_mg_l": "concentration",
    "phosphorus_mg_l": "concentration",
    "iron_mg_l": "concentration",
}
"""What a season begins with, in the order in which it is told, and its kind of quantity."""


def sentence(garden: Garden, begin: Start, reader: Reader) -> str:
    """What is known of the first day's water and fish, and what is assumed of the rest."""
    known = {name: begin.water[name] for name in KINDS if name in begin.water}
    assumed = {name: value for name, value in start.usual_water(garden).items() if name not in known}
    day = words.date(garden.season.start, reader)
    new = garden.start_up.state == "new"
    parts = [
        words.say("first-day-known", reader, day=day, values=_listed(known, reader))
        if known
        else words.say("first-day-nothing", reader, day=day)
    ]
    drawn = {name: one for name, one in start.usual_drawn(garden).items() if name not in known}
    if assumed:
        parts.append(words.say("first-day-assumed", reader, values=_listed(assumed, reader)))
    if drawn:
        parts.append(words.say("first-day-drawn", reader, values=_ranges(drawn, reader)))
    if not {"tan_mg_l", "nitrite_mg_l"} <= set(known):
        parts.append(words.say("first-day-new" if new else "first-day-balance", reader))
    there = [batch.name for batch in garden.fish if batch.stocked <= garden.season.start]
    if there:
        told = set(begin.weights_g) | {batch.name for batch in garden.fish if batch.weighed is not None}
        parts.append(words.say("first-day-weighed" if told >= set(there) else "first-day-grown", reader))
    return " ".join(parts)


def _ranges(values: Mapping[str, Triangle], reader: Reader) -> str:
    """What is drawn, from the lower end of its band to the upper one."""
    low, _, high = (percent / 100.0 for percent in BAND_PERCENTILES)

    def told(name: str, one: Triangle) -> str:
        value = words.span(float(quantile(one, low)), float(quantile(one, high)), KINDS[name], reader)
        return words.say(f"first-day-{name.removesuffix('_mg_l')}", reader, value=value)

    return words.listed([told(name, one) for name, one in values.items()], reader)


def _listed(values: Mapping[str, Numbers], reader: Reader) -> str:
    told = [
        words.say(
            f"first-day-{name.removesuffix('_mg_l')}",
            reader,
            value=words.quantity(float(value), KINDS[name], reader),
        )
        for name, value in values.items()
    ]
    return words.listed(told, reader)
