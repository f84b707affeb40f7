"""What readings say only together, and which of them had better be repeated."""

import math
from collections.abc import Iterator

from aquacalc.advice import unlikely
from aquacalc.advice.finding import Amount, Note
from aquacalc.advice.reading import derived
from aquacalc.advice.reading.given import Given
from aquacalc.constants import MG_L_CACO3_PER_GERMAN_DEGREE
from aquacalc.judge import lines, nitrite, sizes
from aquacalc.judge.levels import reaches
from aquacalc.judge.values import POISONS
from aquacalc.judge.water import Verdict, fits


def notes(given: Given) -> Iterator[Note]:
    """What readings say only together."""
    value = given.value
    for one in given.measures.values():
        yield from one.notes
    if sizes.is_old(value("ph")) and reaches(lines.level("tan", value("tan"), given.species), "watch"):
        yield Note("reading-note-old-water")
    if value("chlorine") > 0.0 and value("tan") > 0.0:
        yield Note("reading-note-chloramine")
    if value("chlorine") == 0.0:
        yield Note("reading-note-chlorine-zero")
    if value("nitrite") > 0.0 and sizes.is_old(value("ph")):
        yield Note("reading-note-nitrous-acid")
    if "brown_gills" in given.signs:
        yield Note("reading-note-brown-gills")
    if "chloride" not in given.measures and given.value("added_salt") > 0.0 and value("nitrite") > 0.0:
        of_salt = Amount("chloride", given.facts.chloride_mg_l, "concentration")
        yield Note("reading-note-chloride-of-salt", (of_salt,))
    if value("nitrite") > 0.0 and any(row.key in nitrite.SUNFISH for row in given.species):
        yield Note("reading-note-sunfish")
    share = derived.saturation_share(given)
    if not math.isnan(share):
        altitude = Amount("altitude", given.altitude_m, "length")
        yield Note("reading-note-saturation", (Amount("share", share, "share"), altitude))


def asked(given: Given, found: Verdict) -> Iterator[Note]:
    """Readings that do not go together, or had better be repeated."""
    dioxide = found.of("carbon_dioxide")
    carbon_dioxide_mg_l = math.nan if dioxide is None else dioxide.value
    value = given.value
    if not math.isnan(carbon_dioxide_mg_l) and not fits(carbon_dioxide_mg_l):
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
        judged, what = found.of(one.parameter), Amount("what", one.parameter.replace("_", "-"), "words")
        if one.clear_but_untold:
            yield Note("reading-ask-basis", (what,))
        elif judged is not None and (judged.or_worse or (one.beyond == "above" and one.parameter in POISONS)):
            yield Note("reading-ask-end", (what,))
        elif judged is not None and judged.level == "not known" and one.beyond == "below":
            yield Note("reading-ask-finer", (what,))
