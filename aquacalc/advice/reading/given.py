"""All that one judgement rests on: what was typed, completed from the garden where there is one.

Whatever is not told is read at its severest, and noted as such. A garden tells its fish, crops, litres,
units, shelf, kits and top-up water.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from aquacalc import kits, tables, units
from aquacalc.advice import aims
from aquacalc.advice.finding import Amount, Note
from aquacalc.advice.reading import fish, measure, new_water, pairs
from aquacalc.advice.reading.fish import Sign
from aquacalc.advice.reading.measure import Measure
from aquacalc.advice.reading.new_water import NewWater
from aquacalc.errors import InputError, Problem
from aquacalc.garden import litres
from aquacalc.garden.model import Garden, KitScale, Product, Setting
from aquacalc.judge import lines
from aquacalc.judge.water import Facts
from aquacalc.tables import Row
from aquacalc.uncertainty import coefficient
from aquacalc.water import oxygen

BOUNDED = ("temperature", "alkalinity", "hardness", "chlorine", "ph", "conductivity")
"""Parameters with a line in `data/input_bounds.csv` beyond which a reading is asked about."""


@dataclass(frozen=True)
class Given:
    """All that one judgement rests on.

    species: rows of `data/species.csv`, or a row that knows only warm or cold. litres: all that circulates,
    NaN where not known. season_high_c, season_low_c: warmest and coldest month of the garden's water, NaN
    without a garden.
    assumed: what was not told and read at its severest. asked: what is unlikely and had better be repeated.
    altitude_m: sea level without a garden. signs: what the fish show. crops: keys. scales: the garden's kit,
    by parameter. new_water: the garden's top-up, or what was typed. aim: what the garden gives base for.
    """

    measures: Mapping[str, Measure]
    species: tuple[Row, ...]
    litres: float
    season_high_c: float
    setting: Setting
    products: tuple[Product, ...]
    shelf_known: bool
    assumed: tuple[Note, ...]
    asked: tuple[Note, ...]
    altitude_m: float = 0.0
    signs: tuple[Sign, ...] = ()
    crops: tuple[str, ...] = ()
    scales: Mapping[str, KitScale] = field(default_factory=dict)
    new_water: NewWater = field(default_factory=NewWater)
    season_low_c: float = math.nan
    aim: lines.Aim = lines.NO_AIM

    def value(self, parameter: str) -> float:
        """A reading; NaN where there is none."""
        one = self.measures.get(parameter)
        return math.nan if one is None else one.value

    @property
    def act_line_mg_l(self) -> float:
        """Un-ionised ammonia, mg N/L, from which the most sensitive fish there asks to act today."""
        return lines.begins_at("unionised_ammonia", "act today", self.species)

    @property
    def facts(self) -> Facts:
        """What the judge is told."""
        return Facts(
            values=self.measures,
            fish=self.species,
            crops=self.crops,
            signs=self.signs,
            warmest_c=self.season_high_c,
            coldest_c=self.season_low_c,
            aim=self.aim,
        )


def read(typed: Sequence[str], garden: Garden | None = None) -> Given:
    """Everything that was typed, completed from the garden where there is one.

    Raises `InputError` with all problems, in the order in which they were typed: pairs and names that mean
    nothing, doubled names, numbers, units and names that cannot be read, and values outside of what can be,
    each with its range. A name that stands twice has both of its values looked at.
    """
    problems: list[Problem] = []
    measures: dict[str, Measure] = {}
    species, whole = fish.of_garden(garden), math.nan if garden is None else litres.litres_of(garden).whole
    signs: tuple[Sign, ...] = ()
    water = new_water.of_garden(garden)
    told: set[str] = set()
    share = ""
    for parameter, text, problem in pairs.told(typed):
        if problem is not None:
            problems.append(problem)
        told.add(parameter)
        try:
            if parameter == "signs":
                signs = fish.signs_of_text(text)
            elif parameter == "fish":
                species = fish.of_text(text) if text else species
            elif parameter == "litres":
                whole = _litres(text) if text else whole
            elif parameter == "new-water":
                water = new_water.of_text(text) if text else water
            elif parameter == "oxygen" and text.rstrip().endswith("%"):
                share = text
            elif parameter:
                measures[parameter] = measure.of_text(parameter, text, garden)
        except InputError as error:
            problems += error.problems
    if share:
        try:
            measures["oxygen"] = _oxygen(share, measures.get("temperature"), garden)
        except InputError as error:
            problems += error.problems
    if not problems and not told - pairs.NO_READINGS:
        problems.append(pairs.nothing_read())
    if problems:
        raise InputError(problems)
    found = complete(measures, garden)
    return replace(
        found,
        species=species,
        litres=whole,
        assumed=_assumed(measures, "fish" in told or (garden is not None and bool(garden.fish))),
        signs=signs,
        new_water=water,
    )


def complete(measures: Mapping[str, Measure], garden: Garden | None) -> Given:
    """Readings with all that a garden tells: its fish, crops, litres, shelf, kits and top-up water."""
    coldest_c, warmest_c = (math.nan, math.nan) if garden is None else _season_c(garden)
    return Given(
        measures=measures,
        species=fish.of_garden(garden),
        litres=math.nan if garden is None else litres.litres_of(garden).whole,
        season_high_c=warmest_c,
        season_low_c=coldest_c,
        setting="home" if garden is None else garden.site.setting,
        products=() if garden is None else garden.products,
        shelf_known=garden is not None,
        assumed=_assumed(measures, garden is not None and bool(garden.fish)),
        asked=_asked(measures),
        altitude_m=0.0 if garden is None else garden.site.altitude_m,
        aim=aims.of_garden(garden),
        crops=() if garden is None else tuple(dict.fromkeys(one.crop for one in garden.crops)),
        scales={name: measure.scale_of(garden, name) for name in dict.fromkeys(pairs.NAMES.values())}
        if garden
        else {},
        new_water=new_water.of_garden(garden),
    )


def with_measures(found: Given, measures: Mapping[str, Measure], garden: Garden) -> Given:
    """The same garden with other readings, judged for the fish of `garden`."""
    return replace(
        found,
        measures=measures,
        species=fish.of_garden(garden),
        assumed=_assumed(measures, bool(garden.fish)),
        asked=_asked(measures),
    )


def _oxygen(share: str, water: Measure | None, garden: Garden | None) -> Measure:
    """Oxygen that was read in % of what the water holds at its temperature and the garden's height."""
    if water is None:
        raise InputError(Problem("problem-oxygen-share", "oxygen", share.strip()))
    pressure = oxygen.pressure_atm(0.0 if garden is None else garden.site.altitude_m)
    percent = units.read_number(share.rstrip().removesuffix("%"), "oxygen")
    holds = float(oxygen.saturation_mg_l(water.value, 0.0, pressure))
    return measure.of_text("oxygen", f"{percent / 100.0 * holds:.2f} mg/L", garden)


def _litres(text: str) -> float:
    value = units.read(text, "volume", "litres", unit="l")
    row = tables.load("input_bounds").row("tank_volume")
    low, high = 1000.0 * row.number("refuse_low"), 1000.0 * row.number("refuse_high")
    if not low <= value <= high:
        raise InputError(Problem("problem-range", "litres", text, (f"{low:g}", f"{high:g}", "L")))
    return value


def _season_c(garden: Garden) -> tuple[float, float]:
    """Water of the garden's coldest and warmest month."""
    from aquacalc.garden import surroundings
    from aquacalc.uncertainty import draw

    sampled = draw({name: coefficient(name) for name in surroundings.COEFFICIENTS}, members=1)
    water_c = surroundings.water_c(garden, sampled)
    return float(water_c.min()), float(water_c.max())


def _assumed(measures: Mapping[str, Measure], fish_told: bool) -> tuple[Note, ...]:
    found = []
    for one in measures.values():
        if one.told or any(note.key == "reading-note-kit-out" for note in one.notes):
            continue
        what = Amount("what", one.parameter.replace("_", "-"), "words")
        key = "reading-assumed-n" if one.parameter in kits.NITROGEN else "reading-assumed-caco3"
        found.append(Note(key, (what,)))
    if not fish_told:
        found.append(Note("reading-assumed-cold"))
    return tuple(found)


def _asked(measures: Mapping[str, Measure]) -> tuple[Note, ...]:
    bounds = tables.load("input_bounds")
    found = []
    for one in measures.values():
        if one.parameter not in BOUNDED:
            continue
        name = "water_temperature" if one.parameter == "temperature" else one.parameter
        row = bounds.row(name)
        if not row.number("warn_low") <= one.value <= row.number("warn_high"):
            found.append(Note("reading-ask-unlikely", (Amount("what", one.parameter, "words"),)))
    return tuple(found)
