"""The level of each reading, and what readings say together: un-ionised ammonia, carbon dioxide.

Un-ionised ammonia comes with the kit's own uncertainty. A reading at the open end of its kit, of unknown
basis, or resting on an assumed pH is never `fine`: it is `not known`, or as severe as its severest reading.
What the fish show counts beside the readings: fish that gasp, lie on the bottom or jump make an emergency of
what they may suffer from, where its own line only asks to act today.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from aquacalc import kits, uncertainty
from aquacalc.advice import levels
from aquacalc.advice.finding import URGENCY, Amount, Level, Note, worst
from aquacalc.advice.reading import derived, lines, together
from aquacalc.advice.reading.given import Given
from aquacalc.advice.reading.measure import Measure
from aquacalc.uncertainty import Floats, Triangle
from aquacalc.water import ammonia

DRAWS = 2000

ASSUMED_PH = 7.8
"""Of water whose pH was not measured. Common practice, no source."""

ASSUMED_C = 30.0
"""Of water whose temperature was not measured, without a garden. Common practice, no source."""

JUDGED = (
    *("oxygen", "chlorine", "tan", "nitrite", "nitrate", "temperature", "ph", "alkalinity"),
    "added_salt",
)
"""Readings that have lines; hardness, chloride and conductivity only help to judge the others."""

SUFFERED = ("oxygen", "unionised_ammonia", "tan", "nitrite", "temperature", "carbon_dioxide")
"""What makes fish gasp, lie on the bottom or jump within hours, so that their signs raise its level.

pH is not raised: its emergency would ask for larger steps of pH.
"""

ERRORS = {"tan": "tan_indophenol", "ph": "ph_drops"}
"""Rows of `data/test_kinds.csv` for a kit that is not described."""


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

    @property
    def wants_air(self) -> bool:
        """Whether oxygen is short, or fish show trouble while nobody knows how much there is."""
        unknown = bool(self.given.signs) and "oxygen" not in self.given.measures
        return unknown or self.reached("oxygen", "watch")


def judge(given: Given, draws: int = DRAWS) -> Judgement:
    """The judgement of what was given. draws: of the kit's errors, for the range of un-ionised ammonia."""
    ph, temperature_c, assumed = _counted(given)
    judged = [
        _judged(given, parameter, ph, temperature_c)
        for parameter in JUDGED
        if parameter in given.measures and (parameter != "temperature" or lines.ranges_known(given))
    ]
    if "tan" in given.measures:
        at = next(place for place, one in enumerate(judged) if one.parameter == "tan")
        judged.insert(at, _unionised(given, ph, temperature_c, draws))
    dioxide = _carbon_dioxide(given, temperature_c)
    if dioxide is not None:
        judged.append(dioxide)
    return Judgement(
        given=given,
        judged=tuple(_with_signs(given, judged)),
        notes=tuple(together.notes(given)),
        assumed=(*given.assumed, *assumed),
        asked=(*given.asked, *together.asked(given, math.nan if dioxide is None else dioxide.value)),
        ph=ph,
        temperature_c=temperature_c,
    )


def _with_signs(given: Given, judged: list[Judged]) -> list[Judged]:
    """What was judged, raised by what the fish show, with a line of its own for that."""
    if not given.signs:
        return judged
    brown, distressed = "brown_gills" in given.signs, bool({*given.signs} - {"brown_gills"})
    found = []
    for one in judged:
        raised = one.parameter in SUFFERED and one.level == "act today" and distressed
        found.append(
            replace(one, level="emergency") if raised or (brown and one.parameter == "nitrite") else one
        )
    blind = "gasping" in given.signs and "oxygen" not in given.measures
    urgent = any(one.level in ("act today", "emergency") for one in found)
    level: Level = "emergency" if brown or blind or urgent else "act today"
    return [Judged("signs", math.nan, level), *found]


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
    if given.value("nitrite") > 0.0 and math.isnan(derived.chloride_mg_l(given)):
        assumed.append(Note("reading-assumed-chloride"))
    if math.isnan(ph):
        ph = ASSUMED_PH
    if math.isnan(temperature_c):
        temperature_c = ASSUMED_C if math.isnan(given.season_high_c) else given.season_high_c
    return ph, temperature_c, assumed


def _judged(given: Given, parameter: str, ph: float, temperature_c: float) -> Judged:
    one = given.measures[parameter]
    level = lines.severest(given, lambda row: lines.level_of(given, one, row, ph, temperature_c))
    if parameter == "added_salt":
        level = worst((level, lines.salt_for_crops(given.crops, one.value)))
    or_worse = together.open_to_worse(one)
    if level == "fine" and (or_worse or not one.told):
        level = "not known"
    if parameter == "chlorine" and (one.value == 0.0 or one.beyond == "below"):
        # A test that finds nothing only says that less is there than it can find.
        level = "not known"
    return Judged(parameter, one.value, level, or_worse, one.low, one.high)


def _unionised(given: Given, ph: float, temperature_c: float, draws: int) -> Judged:
    """Un-ionised ammonia as N, with its range by the kit's own errors of TAN and pH."""
    tan = given.measures["tan"]
    value = tan.value * float(ammonia.unionised_fraction(ph, temperature_c))
    acid = given.measures.get("ph")
    tan_drawn = np.maximum(drawn(tan, draws), 0.0)
    ph_drawn = np.full(draws, ph) if acid is None else drawn(acid, draws)
    band = uncertainty.band(tan_drawn * ammonia.unionised_fraction(ph_drawn, temperature_c))
    low, high = float(band.low), float(band.high)
    open_above = tan.beyond == "above" or (acid is not None and acid.beyond == "above")
    if open_above:
        high = math.inf
    if tan.beyond == "below" or (acid is not None and acid.beyond == "below"):
        low = 0.0

    def at(amount: float) -> Level:
        return lines.severest(given, lambda row: levels.of_water("unionised_ammonia", amount, row))

    level = at(value)
    sure = tan.told and not open_above and {"ph", "temperature"} <= set(given.measures)
    sure = sure and acid is not None and acid.told
    if level == "fine" and not sure:
        level = "not known"
    return Judged("unionised_ammonia", value, level, open_above, low, high, at(min(high, 1e6)))


def _carbon_dioxide(given: Given, temperature_c: float) -> Judged | None:
    found = derived.water(given, temperature_c)
    if found is None:
        return None
    value = float(found.carbon_dioxide_mg_l)
    level = lines.severest(given, lambda row: levels.of_water("carbon_dioxide", value, row))
    sides = (given.measures["ph"].beyond == "below", given.measures["alkalinity"].beyond == "above")
    if level == "fine" and any(sides):
        level = "not known"
    return Judged("carbon_dioxide", value, level, any(sides))


def drawn(one: Measure, draws: int = DRAWS) -> Floats:
    """Where the water may lie, many times: even over the kit's interval, else about the usual error."""
    chances = uncertainty.probabilities(f"reading_{one.parameter}", draws)
    low = 0.0 if one.low == -math.inf and one.parameter in kits.NITROGEN else one.low
    if math.isfinite(low) and math.isfinite(one.high):
        return low + (one.high - low) * chances
    if one.beyond:
        # What lies beyond an open end is not drawn: the range says that it has none.
        return np.full(draws, one.value)
    spread = math.sqrt(6.0) * _error_of(one)
    return uncertainty.quantile(Triangle(one.value - spread, one.value, one.value + spread), chances)


def _error_of(one: Measure) -> float:
    """One standard deviation of a reading whose kit is not described."""
    return kits.error_of(ERRORS[one.parameter], one.value)
