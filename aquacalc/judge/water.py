"""A water judged as a whole: the level of everything that was read and of what follows from it.

A value of which basis, unit, temperature or pH is not known is taken, for each thing that is judged, at what
is severest for that thing. A bound counts on its open side: what is sure there is its level, and where worse
may hide it is never `fine`. What the fish show counts beside the readings: fish that gasp, lie on the bottom
or jump make an emergency of what they may suffer from, where its own line only asks to act today.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from aquacalc import uncertainty
from aquacalc.constants import Numbers
from aquacalc.judge import ammonia, lines, nitrite, oxygen, salt, temperature
from aquacalc.judge.levels import FINE, NOT_KNOWN, RANKED, Level, reaches, worst
from aquacalc.judge.lines import Ranks
from aquacalc.judge.values import POISONS, Value
from aquacalc.tables import Row
from aquacalc.water import ammonia as chemistry
from aquacalc.water import carbonate

DRAWS = 2000

ASSUMED_PH = 7.8
"""Of water whose pH was not measured. Common practice, no source."""

ASSUMED_WARM_C, ASSUMED_COLD_C = 30.0, 4.0
"""Of water whose temperature was not measured, without a garden: for ammonia the warm end, for carbon dioxide
the cold one. Common practice, no source."""

JUDGED = (
    *("oxygen", "chlorine", "unionised_ammonia", "tan", "nitrite", "nitrate", "temperature", "ph"),
    *("alkalinity", "added_salt", "carbon_dioxide"),
)
"""What has lines; hardness, chloride and conductivity only help to judge the others."""

FOLLOWS = {
    "unionised_ammonia": ("tan",),
    "carbon_dioxide": ("ph", "alkalinity"),
}
"""What is not read but follows from readings, and the readings without which it does not."""

SUFFERED = ("oxygen", "unionised_ammonia", "tan", "nitrite", "temperature", "carbon_dioxide")
"""What makes fish gasp, lie on the bottom or jump within hours, so that their signs raise its level.

pH is not raised: its emergency would ask for larger steps of pH.
"""

Why = Literal["not read", "too old", "no fish", "no range", "does not fit"]
"""Why a thing was not judged: no reading; an old one; nothing is there that it could hurt; a fish of which
only warm or cold is known; readings that do not belong to one water."""


@dataclass(frozen=True)
class Facts:
    """All that a judgement rests on.

    fish: rows of `data/species.csv`, or rows that know only warm or cold; none where no fish is there. crops:
    keys. signs: what the fish show. warmest_c, coldest_c: between which the water of the garden lies, where
    its temperature was not read; NaN without a garden. aim: what the garden gives base for.
    """

    values: Mapping[str, Value]
    fish: tuple[Row, ...] = ()
    crops: tuple[str, ...] = ()
    signs: tuple[str, ...] = ()
    warmest_c: float = math.nan
    coldest_c: float = math.nan
    aim: lines.Aim = lines.NO_AIM

    def value(self, parameter: str) -> float:
        """A reading; NaN where there is none that counts."""
        one = self.read(parameter)
        return math.nan if one is None else one.value

    def read(self, parameter: str) -> Value | None:
        """What was read of a parameter and is not too old; None where nothing was."""
        one = self.values.get(parameter)
        return None if one is None or one.too_old else one

    @property
    def ph(self) -> float:
        """pH as counted for ammonia."""
        return _or(self.value("ph"), ASSUMED_PH)

    @property
    def warm_c(self) -> float:
        """Temperature as counted for ammonia: the severest where it was not read."""
        return _or(self.value("temperature"), _or(self.warmest_c, ASSUMED_WARM_C))

    @property
    def cold_c(self) -> float:
        """Temperature as counted for carbon dioxide: the severest where it was not read."""
        return _or(self.value("temperature"), _or(self.coldest_c, ASSUMED_COLD_C))

    @property
    def chloride_mg_l(self) -> float:
        """Chloride as measured, else that of the salt that was added; NaN where neither is known."""
        measured = self.value("chloride")
        salt_g_l = self.value("added_salt")
        if not math.isnan(measured) or not salt_g_l > 0.0:
            return measured
        return float(nitrite.chloride_of_salt_mg_l(salt_g_l))


def _or(value: float, otherwise: float) -> float:
    return otherwise if math.isnan(value) else value


@dataclass(frozen=True)
class Judged:
    """A reading, or what follows from readings, with its level. or_worse: it only bounds the level.

    low, high: where it lies; level_high: the level of `high`, where that is reckoned.
    """

    parameter: str
    value: float
    level: Level
    or_worse: bool = False
    low: float = math.nan
    high: float = math.nan
    level_high: Level = "not known"


@dataclass(frozen=True)
class Unjudged:
    """Something of which nothing is known, and why."""

    parameter: str
    why: Why


@dataclass(frozen=True)
class Verdict:
    """Everything that was judged, in the order in which it kills, and everything that was not.

    ph, temperature_c: as counted for ammonia.
    """

    judged: tuple[Judged, ...]
    unjudged: tuple[Unjudged, ...]
    ph: float
    temperature_c: float

    @property
    def level(self) -> Level:
        """The most urgent of all levels; `not known` before `fine`, and where nothing was judged."""
        return worst(one.level for one in self.judged) if self.judged else "not known"

    @property
    def levels(self) -> Mapping[str, Level]:
        """Levels by what was judged."""
        return {one.parameter: one.level for one in self.judged}

    def of(self, parameter: str) -> Judged | None:
        """What was judged of a parameter, None where nothing is known of it."""
        return next((one for one in self.judged if one.parameter == parameter), None)

    def reached(self, parameter: str, level: Level) -> bool:
        """Whether a parameter stands at a level or at a more urgent one."""
        one = self.of(parameter)
        return one is not None and reaches(one.level, level)


def judge(facts: Facts, draws: int = DRAWS) -> Verdict:
    """The verdict on a water. draws: of the kits' errors, for the range of un-ionised ammonia.

    >>> from aquacalc import tables
    >>> trout = (tables.load("species").row("rainbow_trout"),)
    >>> warm = Facts({"temperature": Value("temperature", 26.0), "oxygen": Value("oxygen", 8.0)}, trout)
    >>> [(one.parameter, one.level) for one in judge(warm).judged]
    [('oxygen', 'fine'), ('temperature', 'emergency')]
    """
    judged: list[Judged] = []
    unjudged: list[Unjudged] = []
    for parameter in JUDGED:
        why = _why_not(facts, parameter)
        if why is None:
            judged.append(_judged(facts, parameter, draws))
        else:
            unjudged.append(Unjudged(parameter, why))
    return Verdict(tuple(_with_signs(facts, judged)), tuple(unjudged), facts.ph, facts.warm_c)


def _why_not(facts: Facts, parameter: str) -> Why | None:
    needs = FOLLOWS.get(parameter, (parameter,))
    if any(name not in facts.values for name in needs):
        return "not read"
    if any(facts.values[name].too_old for name in needs):
        return "too old"
    if parameter == "temperature" and facts.fish and not temperature.with_range(facts.fish):
        return "no range"
    by_species = parameter in ("oxygen", "temperature")
    if not facts.fish and (by_species or not lines.lines_of(parameter)) and parameter != "added_salt":
        return "no fish"
    if parameter == "carbon_dioxide" and not carbon_dioxide_mg_l(facts):
        return "does not fit"
    return None


def _judged(facts: Facts, parameter: str, draws: int) -> Judged:
    if parameter == "unionised_ammonia":
        return _unionised(facts, draws)
    if parameter == "carbon_dioxide":
        return _carbon_dioxide(facts)
    one, fish = facts.values[parameter], facts.fish
    if parameter == "tan":
        level, or_worse = _tan(facts, one)
    elif parameter == "nitrite":
        level, or_worse = _over(one, lambda at: nitrite.ranks(at, facts.chloride_mg_l, fish))
    elif parameter == "oxygen":
        level, or_worse = _over(one, lambda at: oxygen.ranks(at, fish))
    elif parameter == "temperature":
        level, or_worse = _over(one, lambda at: temperature.ranks(at, fish))
    elif parameter == "added_salt":
        level, or_worse = _over(one, lambda at: salt.ranks(at, fish, facts.crops))
    else:
        level, or_worse = _over(one, lambda at: lines.ranks(parameter, at, fish, aim=facts.aim))
    if parameter == "chlorine" and (one.value == 0.0 or one.beyond == "below"):
        # A test that finds nothing only says that less is there than it can find.
        level = "not known"
    return Judged(parameter, one.value, level, or_worse, one.low, one.high)


def _over(one: Value, ranks: Callable[[Numbers], Ranks]) -> tuple[Level, bool]:
    """The severest level of what may be meant, and whether it may be worse still.

    Towards an open end only the mildest level is sure; `fine` there is `not known` where worse may hide.
    """
    if one.clear_but_untold:
        return "not known", False
    found = [ranks(one.open_over(value) if one.beyond else value) for value in one.meant]
    sure, most = max(int(each.min()) for each in found), max(int(each.max()) for each in found)
    clear = one.parameter in POISONS and one.beyond == "below"
    return _unless_unsure(RANKED[sure], most > sure, one), most > sure and not clear


def _unless_unsure(level: Level, or_worse: bool, *readings: Value) -> Level:
    unsure = or_worse or not all(one.told for one in readings)
    return "not known" if level == "fine" and unsure else level


def _tan(facts: Facts, one: Value) -> tuple[Level, bool]:
    """Total ammonia: the criteria know pH and temperature, as read or at the severest."""
    if one.clear_but_untold:
        return "not known", False
    sure, most = (
        int(ammonia.tan_ranks(tan, ph, facts.warm_c, facts.fish))
        for tan, ph in zip(_ends(one), _ends_of_ph(facts), strict=True)
    )
    # An open end of pH alone moves the criteria only; it is told with un-ionised ammonia.
    or_worse = most > sure and one.beyond == "above"
    hidden = most > sure and one.beyond == "below"
    return _unless_unsure(RANKED[sure], or_worse or hidden, one), or_worse


def _ends(one: Value) -> tuple[float, float]:
    """What is sure and the most that may be, of what is worse the more of it there is."""
    low, high = one.least_and_most
    return (low if one.beyond == "below" else max(one.meant)), high


def _ends_of_ph(facts: Facts) -> tuple[float, float]:
    """pH at which ammonia counts, and the highest that it may be; of an open lower end the bound counts."""
    acid = facts.read("ph")
    return (facts.ph, facts.ph if acid is None else acid.least_and_most[1])


def _unionised(facts: Facts, draws: int) -> Judged:
    """Un-ionised ammonia as N, with its range by the kit's own errors of TAN and pH."""
    tan, acid, warm_c, fish = facts.values["tan"], facts.read("ph"), facts.warm_c, facts.fish
    value = max(tan.meant) * float(chemistry.unionised_fraction(facts.ph, warm_c))
    low = high = value
    if draws > 1:
        tan_drawn = np.maximum(tan.drawn(draws), 0.0)
        ph_drawn = np.full(draws, facts.ph) if acid is None else acid.drawn(draws)
        band = uncertainty.band(tan_drawn * chemistry.unionised_fraction(ph_drawn, warm_c))
        low, high = float(band.low), float(band.high)
    open_above = tan.beyond == "above" or (acid is not None and acid.beyond == "above" and value > 0.0)
    open_below = tan.beyond == "below" or (acid is not None and acid.beyond == "below")
    (sure_tan, most_tan), (sure_ph, most_ph) = _ends(tan), _ends_of_ph(facts)
    sure = int(ammonia.unionised_ranks(sure_tan, sure_ph, warm_c, fish))
    most = int(ammonia.unionised_ranks(most_tan, most_ph, warm_c, fish))
    measured = facts.read("temperature") is not None and acid is not None and acid.told
    level = _unless_unsure(RANKED[sure], most > sure or (not measured and value > 0.0), tan)
    if tan.clear_but_untold:
        level = "not known"
    return Judged(
        parameter="unionised_ammonia",
        value=value,
        level=level,
        or_worse=open_above,
        low=0.0 if open_below else low,
        high=math.inf if open_above else high,
        level_high=lines.level("unionised_ammonia", 1e6 if open_above else high, fish),
    )


def waters(facts: Facts, temperature_c: float) -> Iterator[carbonate.Water]:
    """The waters that pH and alkalinity may be, one for each meaning of the alkalinity; none where they do
    not go together. An alkalinity between two drops or steps counts at its middle."""
    acid, base = facts.read("ph"), facts.read("alkalinity")
    if acid is None or base is None:
        return
    strength = carbonate.usual_ionic_strength(facts.value("conductivity"))
    within_c = min(max(temperature_c, 0.0), 40.0)
    for alkalinity in base.meant if not base.told else (_middle(base),):
        found = carbonate.water(acid.value, alkalinity, within_c, strength)
        if float(found.inorganic_carbon_mmol_l) > 0.0:
            yield found


def _middle(one: Value) -> float:
    low = max(one.low, 0.0)
    return (low + one.high) / 2.0 if math.isfinite(low) and math.isfinite(one.high) else one.value


def carbon_dioxide_mg_l(facts: Facts) -> tuple[float, ...]:
    """Free carbon dioxide, mg/L, of each water that the readings may mean; what can hardly be is left out,
    where something else can."""
    found = tuple(float(one.carbon_dioxide_mg_l) for one in waters(facts, facts.cold_c))
    return tuple(filter(fits, found)) or found


def fits(dioxide_mg_l: float) -> bool:
    """Whether pH and alkalinity that give this carbon dioxide can belong to one water."""
    low, high = carbonate.LIKELY_CARBON_DIOXIDE_MG_L
    return low <= dioxide_mg_l <= high


def _carbon_dioxide(facts: Facts) -> Judged:
    acid, base = facts.values["ph"], facts.values["alkalinity"]
    value = max(carbon_dioxide_mg_l(facts))
    rank = int(lines.ranks("carbon_dioxide", value, facts.fish))
    may_be_more = acid.beyond == "below" or base.beyond == "above"
    may_be_less = acid.beyond == "above" or base.beyond == "below"
    level = RANKED[NOT_KNOWN if may_be_less and rank > FINE else rank]
    return Judged("carbon_dioxide", value, _unless_unsure(level, may_be_more, acid, base), may_be_more)


def _with_signs(facts: Facts, judged: Sequence[Judged]) -> Iterator[Judged]:
    """What was judged, raised by what the fish show, with a line of its own for that."""
    brown, distressed = "brown_gills" in facts.signs, bool({*facts.signs} - {"brown_gills"})
    found = []
    for one in judged:
        raised = one.parameter in SUFFERED and one.level == "act today" and distressed
        found.append(
            replace(one, level="emergency") if raised or (brown and one.parameter == "nitrite") else one
        )
    if facts.signs:
        blind = "gasping" in facts.signs and facts.read("oxygen") is None
        urgent = any(reaches(one.level, "act today") for one in found)
        yield Judged("signs", math.nan, "emergency" if brown or blind or urgent else "act today")
    yield from found
