"""What readings say only together, and which of them had better be repeated."""

import math
from collections.abc import Iterator

from aquacalc.advice import levels, unlikely
from aquacalc.advice.finding import Amount, Note
from aquacalc.advice.reading import derived, lines
from aquacalc.advice.reading.given import Given
from aquacalc.advice.reading.measure import Measure
from aquacalc.constants import MG_L_CACO3_PER_GERMAN_DEGREE

OLD_WATER_PH = 6.0
"""Below it nitrification stalls and ammonia piles up. Common practice, no source."""

WORSE_ABOVE = (
    *("chlorine", "tan", "nitrite", "nitrate", "temperature", "ph", "unionised_ammonia"),
    "added_salt",
)

WORSE_BELOW = ("oxygen", "nitrate", "temperature", "ph", "alkalinity")


def notes(given: Given) -> Iterator[Note]:
    """What readings say only together."""
    value = given.value
    for one in given.measures.values():
        yield from one.notes
    if value("ph") < OLD_WATER_PH and lines.severest(
        given, lambda row: levels.of_water("tan", value("tan"), row)
    ) not in ("fine", "not known"):
        yield Note("reading-note-old-water")
    if value("chlorine") > 0.0 and value("tan") > 0.0:
        yield Note("reading-note-chloramine")
    if value("chlorine") == 0.0:
        yield Note("reading-note-chlorine-zero")
    if value("nitrite") > 0.0 and value("ph") < OLD_WATER_PH:
        yield Note("reading-note-nitrous-acid")
    if "brown_gills" in given.signs:
        yield Note("reading-note-brown-gills")
    if "chloride" not in given.measures and given.value("added_salt") > 0.0 and value("nitrite") > 0.0:
        of_salt = Amount("chloride", derived.chloride_mg_l(given), "concentration")
        yield Note("reading-note-chloride-of-salt", (of_salt,))
    if value("nitrite") > 0.0 and any(row.key in lines.SUNFISH for row in given.species):
        yield Note("reading-note-sunfish")
    share = derived.saturation_share(given)
    if not math.isnan(share):
        altitude = Amount("altitude", given.altitude_m, "length")
        yield Note("reading-note-saturation", (Amount("share", share, "share"), altitude))


def asked(given: Given, carbon_dioxide_mg_l: float) -> Iterator[Note]:
    """Readings that do not go together, or had better be repeated. carbon_dioxide_mg_l: NaN if not known."""
    value = given.value
    if not math.isnan(carbon_dioxide_mg_l) and not derived.fits(carbon_dioxide_mg_l):
        yield Note("reading-ask-carbon", (Amount("dioxide", carbon_dioxide_mg_l, "concentration"),))
    if value("tan") > unlikely.LONE_TAN_MG_L and value("nitrite") == 0.0:
        yield Note("reading-ask-no-nitrite")
    if value("alkalinity") > value("hardness") + unlikely.SOFTER_DKH * MG_L_CACO3_PER_GERMAN_DEGREE:
        yield Note("reading-ask-soft")
    if value("alkalinity") < unlikely.NO_BUFFER_MG_L and value("ph") > unlikely.NO_BUFFER_PH:
        yield Note("reading-ask-no-buffer")
    share = derived.saturation_share(given)
    if share < unlikely.LEAST_SATURATION or share > unlikely.MOST_SATURATION:
        yield Note("reading-ask-oxygen", (Amount("share", share, "share"),))
    if value("nitrate") == 0.0:
        yield Note("reading-ask-no-nitrate")
    for one in given.measures.values():
        if one.beyond and open_to_worse(one):
            yield Note("reading-ask-end", (Amount("what", one.parameter.replace("_", "-"), "words"),))


def open_to_worse(one: Measure) -> bool:
    """Whether a reading at an open end of its kit may be worse than its number."""
    above = one.beyond == "above" and one.parameter in WORSE_ABOVE
    return above or (one.beyond == "below" and one.parameter in WORSE_BELOW)
