"""The level of each reading, and what readings say together: un-ionised ammonia, carbon dioxide.

Un-ionised ammonia comes with the kit's own uncertainty. A reading at the open end of its kit, of unknown
basis, or resting on an assumed pH is never `fine`: it is `not known`, or as severe as its severest reading.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from aquacalc import kits, tables, uncertainty
from aquacalc.advice import levels
from aquacalc.advice.finding import URGENCY, Amount, Level, worst
from aquacalc.advice.reading.given import Given, Measure, Note
from aquacalc.tables import Row
from aquacalc.uncertainty import Floats, Triangle
from aquacalc.water import ammonia, carbonate, oxygen

DRAWS = 2000
ASSUMED_PH = 7.8
"""Of water whose pH was not measured. Common practice, no source."""
ASSUMED_C = 30.0
"""Of water whose temperature was not measured, without a garden. Common practice, no source."""

LEAST_SHARE, MOST_SHARE = 0.2, 1.3
"""Oxygen against saturation, beyond which a reading is doubtful. Common practice, no source."""

OLD_WATER_PH = 6.0
"""Below it nitrification stalls and ammonia piles up. Common practice, no source."""

JUDGED = ("oxygen", "chlorine", "tan", "nitrite", "nitrate", "temperature", "ph", "alkalinity")
"""Readings that have lines; hardness, chloride and conductivity only help to judge the others."""

WORSE_ABOVE = ("chlorine", "tan", "nitrite", "nitrate", "temperature", "ph", "unionised_ammonia")
WORSE_BELOW = ("oxygen", "nitrate", "temperature", "ph", "alkalinity")

ERRORS = {"tan": "tan_indophenol", "ph": "ph_drops"}
"""Rows of `data/test_kinds.csv` for a kit that is not described."""

SUNFISH = ("largemouth_bass", "bluegill")
"""They take up no nitrite, so that chloride adds little. Source: Tomasso 1986 (read)."""

DEGREE_MG_L = 17.85
"""One degree dKH or dGH, mg/L CaCO3."""


@dataclass(frozen=True)
class Judged:
    """A reading, or what follows from readings, with its level. or_worse: it only bounds the level."""

    parameter: str
    value: float
    level: Level
    or_worse: bool = False
    low: float = math.nan
    high: float = math.nan
    level_high: Level = "not known"


@dataclass(frozen=True)
class Judgement:
    """All of it. notes: reasons that several readings give together. ph, temperature_c: as counted."""

    given: Given
    judged: tuple[Judged, ...]
    notes: tuple[Note, ...]
    assumed: tuple[Note, ...]
    asked: tuple[Note, ...]
    ph: float
    temperature_c: float

    @property
    def level(self) -> Level:
        """The most urgent of all levels; `not known` before `fine`."""
        return min((one.level for one in self.judged), key=URGENCY.index, default="not known")

    def of(self, parameter: str) -> Judged | None:
        """What was judged of a parameter, None where nothing is known of it."""
        return next((one for one in self.judged if one.parameter == parameter), None)

    def reached(self, parameter: str, level: Level) -> bool:
        """Whether a parameter stands at a level or at a more urgent one."""
        one = self.of(parameter)
        return one is not None and URGENCY.index(one.level) <= URGENCY.index(level)


def judge(given: Given) -> Judgement:
    """The judgement of what was given."""
    ph, temperature_c, assumed = _counted(given)
    judged = [
        _judged(given, parameter, ph, temperature_c)
        for parameter in JUDGED
        if parameter in given.measures and (parameter != "temperature" or _ranges_known(given))
    ]
    if "tan" in given.measures:
        at = next(place for place, one in enumerate(judged) if one.parameter == "tan")
        judged.insert(at, _unionised(given, ph, temperature_c))
    dioxide = _carbon_dioxide(given, temperature_c)
    if dioxide is not None:
        judged.append(dioxide)
    return Judgement(
        given=given,
        judged=tuple(judged),
        notes=tuple(_notes(given)),
        assumed=(*given.assumed, *assumed),
        asked=(*given.asked, *_doubts(given, dioxide)),
        ph=ph,
        temperature_c=temperature_c,
    )


def severest(given: Given, rule: Callable[[Row], Level]) -> Level:
    """The severest level among the fish that are there; `not known` only where no fish knows better."""
    found = [rule(row) for row in given.species]
    known = [level for level in found if level != "not known"]
    return worst(known) if known else "not known"


def act_line(given: Given) -> float:
    """Un-ionised ammonia, mg N/L, from which the most sensitive fish there asks to act today."""
    groups = {group for row in given.species for group in levels.groups(row)}
    rows = [row for row in tables.load("water_limits") if row.text("parameter") == "unionised_ammonia"]
    return min(row.number("act_from") for row in rows if row.text("group") in groups)


def chloride_ratio(given: Given) -> float:
    """Chloride against nitrite as N, by mass; chloride that is not known counts as none."""
    nitrite, chloride = given.value("nitrite"), given.value("chloride")
    return chloride / nitrite if nitrite > 0.0 and chloride > 0.0 else 0.0


def _counted(given: Given) -> tuple[float, float, list[Note]]:
    """pH and temperature, as measured or assumed, and what is to be said about it."""
    ph, temperature_c = given.value("ph"), given.value("temperature")
    assumed = []
    if "tan" in given.measures:
        if math.isnan(ph):
            assumed.append(Note("reading-assumed-ph", (Amount("ph", ASSUMED_PH, "ph"),)))
        if math.isnan(temperature_c):
            season = not math.isnan(given.season_high_c)
            key = "reading-assumed-season" if season else "reading-assumed-warm"
            warm = given.season_high_c if season else ASSUMED_C
            assumed.append(Note(key, (Amount("temperature", warm, "temperature"),)))
    if "nitrite" in given.measures and "chloride" not in given.measures and given.value("nitrite") > 0.0:
        assumed.append(Note("reading-assumed-chloride"))
    if math.isnan(ph):
        ph = ASSUMED_PH
    if math.isnan(temperature_c):
        temperature_c = ASSUMED_C if math.isnan(given.season_high_c) else given.season_high_c
    return ph, temperature_c, assumed


# --- one parameter -----------------------------------------------------------------------------------------


def _judged(given: Given, parameter: str, ph: float, temperature_c: float) -> Judged:
    one = given.measures[parameter]
    level = severest(given, lambda row: _level(given, one, row, ph, temperature_c))
    or_worse = _open_to_worse(one)
    if level == "fine" and (or_worse or not one.told):
        level = "not known"
    if parameter == "chlorine" and (one.value == 0.0 or one.beyond == "below"):
        # A test that finds nothing only says that less is there than it can find.
        level = "not known"
    return Judged(parameter, one.value, level, or_worse, one.low, one.high)


def _ranges_known(given: Given) -> bool:
    """Whether a species is told; warm or cold alone has no range of temperature."""
    return any("t_lethal_low_c" in row.numbers for row in given.species)


def _level(given: Given, one: Measure, row: Row, ph: float, temperature_c: float) -> Level:
    if one.parameter == "oxygen":
        known = "do_full_feed_mg_l" in row.numbers
        return levels.of_oxygen(one.value, row) if known else levels.of_water("oxygen", one.value, row)
    if one.parameter == "temperature":
        return levels.of_temperature(one.value, row) if "t_lethal_low_c" in row.numbers else "not known"
    if one.parameter == "tan":
        by_line = levels.of_water("tan", one.value, row)
        return worst((by_line, levels.of_criteria(one.value, ph, temperature_c, row)))
    if one.parameter == "nitrite":
        return levels.of_water("nitrite", one.value, row, chloride_ratio(given))
    return levels.of_water(one.parameter, one.value, row)


def _open_to_worse(one: Measure) -> bool:
    above = one.beyond == "above" and one.parameter in WORSE_ABOVE
    return above or (one.beyond == "below" and one.parameter in WORSE_BELOW)


# --- what follows from several -----------------------------------------------------------------------------


def _unionised(given: Given, ph: float, temperature_c: float) -> Judged:
    """Un-ionised ammonia as N, with its range by the kit's own errors of TAN and pH."""
    tan = given.measures["tan"]
    value = tan.value * float(ammonia.unionised_fraction(ph, temperature_c))
    acid = given.measures.get("ph")
    tan_drawn = np.maximum(drawn(tan), 0.0)
    ph_drawn = np.full(DRAWS, ph) if acid is None else drawn(acid)
    band = uncertainty.band(tan_drawn * ammonia.unionised_fraction(ph_drawn, temperature_c))
    low, high = float(band.low), float(band.high)
    open_above = tan.beyond == "above" or (acid is not None and acid.beyond == "above")
    if open_above:
        high = math.inf
    if tan.beyond == "below" or (acid is not None and acid.beyond == "below"):
        low = 0.0

    def at(amount: float) -> Level:
        return severest(given, lambda row: levels.of_water("unionised_ammonia", amount, row))

    level = at(value)
    sure = tan.told and not open_above and {"ph", "temperature"} <= set(given.measures)
    if level == "fine" and not sure:
        level = "not known"
    return Judged("unionised_ammonia", value, level, open_above, low, high, at(min(high, 1e6)))


def drawn(one: Measure) -> Floats:
    """Where the water may lie, 2,000 times: even over the kit's interval, else about the usual error."""
    chances = uncertainty.probabilities(f"reading_{one.parameter}", DRAWS)
    low = 0.0 if one.low == -math.inf and one.parameter in kits.NITROGEN else one.low
    if math.isfinite(low) and math.isfinite(one.high):
        return low + (one.high - low) * chances
    if one.beyond:
        # What lies beyond an open end is not drawn: the range says that it has none.
        return np.full(DRAWS, one.value)
    spread = math.sqrt(6.0) * uncertainty_of(one)
    return uncertainty.quantile(Triangle(one.value - spread, one.value, one.value + spread), chances)


def uncertainty_of(one: Measure) -> float:
    """One standard deviation of a reading whose kit is not described."""
    return kits.error_of(ERRORS[one.parameter], one.value)


def ionic_strength(given: Given) -> float:
    """From conductivity, mol/kg; none where it was not measured."""
    conductivity = given.value("conductivity")
    return (
        0.0 if math.isnan(conductivity) else float(carbonate.ionic_strength_from_conductivity(conductivity))
    )


def water(given: Given, temperature_c: float) -> carbonate.Water | None:
    """The water as measured; None where pH or alkalinity is not known, or both do not go together."""
    ph, alkalinity = given.measures.get("ph"), given.measures.get("alkalinity")
    if ph is None or alkalinity is None or not alkalinity.told:
        return None
    strength = ionic_strength(given)
    found = carbonate.water(ph.value, middle(alkalinity), min(max(temperature_c, 0.0), 40.0), strength)
    return found if float(found.inorganic_carbon_mmol_l) > 0.0 else None


def middle(one: Measure) -> float:
    """The middle of what the kit leaves open, where it leaves both ends closed; else the reading."""
    low = max(one.low, 0.0)
    return (low + one.high) / 2.0 if math.isfinite(low) and math.isfinite(one.high) else one.value


def _carbon_dioxide(given: Given, temperature_c: float) -> Judged | None:
    found = water(given, temperature_c)
    if found is None:
        return None
    value = float(found.carbon_dioxide_mg_l)
    level = severest(given, lambda row: levels.of_water("carbon_dioxide", value, row))
    sides = (given.measures["ph"].beyond == "below", given.measures["alkalinity"].beyond == "above")
    if level == "fine" and any(sides):
        level = "not known"
    return Judged("carbon_dioxide", value, level, any(sides))


def fits(carbon_dioxide_mg_l: float) -> bool:
    """Whether pH and alkalinity that give this carbon dioxide can belong to one water."""
    low, high = carbonate.LIKELY_CARBON_DIOXIDE_MG_L
    return low <= carbon_dioxide_mg_l <= high


def _notes(given: Given) -> Iterator[Note]:
    """What readings say only together."""
    value = given.value
    if value("ph") < OLD_WATER_PH and severest(
        given, lambda row: levels.of_water("tan", value("tan"), row)
    ) not in ("fine", "not known"):
        yield Note("reading-note-old-water")
    if value("chlorine") > 0.0 and value("tan") > 0.0:
        yield Note("reading-note-chloramine")
    if value("chlorine") == 0.0:
        yield Note("reading-note-chlorine-zero")
    if value("nitrite") > 0.0 and value("ph") < OLD_WATER_PH:
        yield Note("reading-note-nitrous-acid")
    if value("nitrite") > 0.0 and any(row.key in SUNFISH for row in given.species):
        yield Note("reading-note-sunfish")
    share = saturation_share(given)
    if not math.isnan(share):
        altitude = Amount("altitude", given.altitude_m, "length")
        yield Note("reading-note-saturation", (Amount("share", share, "share"), altitude))


def saturation_share(given: Given) -> float:
    """Oxygen as a share of what the water holds at the tank's own altitude; NaN without a temperature."""
    if "temperature" not in given.measures:
        return math.nan
    within_c = min(max(given.value("temperature"), 0.0), 40.0)
    pressure = oxygen.pressure_atm(max(given.altitude_m, 0.0))
    return given.value("oxygen") / float(oxygen.saturation_mg_l(within_c, 0.0, pressure))


def _doubts(given: Given, dioxide: Judged | None) -> Iterator[Note]:
    """Readings that do not go together, or had better be repeated."""
    value = given.value
    if dioxide is not None and not fits(dioxide.value):
        yield Note("reading-ask-carbon", (Amount("dioxide", dioxide.value, "concentration"),))
    if value("tan") > 0.5 and value("nitrite") == 0.0:
        yield Note("reading-ask-no-nitrite")
    if value("alkalinity") > value("hardness") + 3.0 * DEGREE_MG_L:
        yield Note("reading-ask-soft")
    if value("alkalinity") < DEGREE_MG_L and value("ph") > 7.3:
        yield Note("reading-ask-no-buffer")
    if not math.isnan(share := saturation_share(given)) and not LEAST_SHARE <= share <= MOST_SHARE:
        yield Note("reading-ask-oxygen", (Amount("share", share, "share"),))
    if value("nitrate") == 0.0:
        yield Note("reading-ask-no-nitrate")
    for one in given.measures.values():
        if one.beyond and _open_to_worse(one):
            yield Note("reading-ask-end", (Amount("what", one.parameter, "words"),))
