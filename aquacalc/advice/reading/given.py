"""What was typed for one reading: pairs `name=value` with unit or basis, in the workbook's own counts.

Whatever is not told is read at its severest, and noted as such: nitrogen as N, alkalinity in mg/L CaCO3, fish
of cold water. A garden tells its fish, litres, units, shelf and kits.
"""

import difflib
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from aquacalc import kits, tables, units
from aquacalc.advice.finding import Amount
from aquacalc.errors import InputError, Problem
from aquacalc.garden import litres
from aquacalc.garden.model import Garden, KitScale, Product, Setting
from aquacalc.logbook.limits import BASES, Limits, limits
from aquacalc.tables import Row

NAMES = {
    "tan": "tan",
    "ammonia": "tan",
    "nitrite": "nitrite",
    "no2": "nitrite",
    "nitrate": "nitrate",
    "no3": "nitrate",
    "ph": "ph",
    "temp": "temperature",
    "temperature": "temperature",
    "oxygen": "oxygen",
    "do": "oxygen",
    "kh": "alkalinity",
    "alkalinity": "alkalinity",
    "gh": "hardness",
    "hardness": "hardness",
    "chlorine": "chlorine",
    "chloride": "chloride",
    "ec": "conductivity",
    "conductivity": "conductivity",
}
"""Names that are typed, and the parameter that each means."""

OFFERED = (
    *("tan", "nitrite", "nitrate", "ph", "temp", "oxygen", "kh", "gh", "chlorine", "chloride", "ec"),
    *("fish", "litres"),
)

KINDS = {
    "temperature": "temperature",
    "alkalinity": "alkalinity",
    "hardness": "hardness",
    "conductivity": "conductivity",
}
"""Kinds of quantity of what is not a concentration; pH is a plain number."""

UNTOLD = {
    "temperature": "c",
    "alkalinity": "mg_l_caco3",
    "hardness": "hardness_mg_l_caco3",
    "conductivity": "us_cm",
}
"""Units of a bare number. For alkalinity the smallest, which is the severest."""

BOUNDED = ("temperature", "alkalinity", "hardness", "chlorine", "ph")
"""Parameters with a line in `data/input_bounds.csv` beyond which a reading is asked about."""

WARMTH = {"warm": "warm", "cold": "cold"}

_SIGN = re.compile(r"\s*(<=|>=|<|>|≤|≥)?\s*(.*)", re.DOTALL)
_NITROGEN = re.compile(
    r"(?P<number>.*?)\s*(?P<unit>mg/l|ppm)?\s*(?:\bas\s+)?(?P<basis>N|NH3|NH4|NO2|NO3)(?P<n>-N)?",
    re.IGNORECASE | re.DOTALL,
)

Beyond = Literal["", "above", "below"]


@dataclass(frozen=True)
class Note:
    """Something to say about a reading: a key of the catalogue and its amounts."""

    key: str
    amounts: tuple[Amount, ...] = ()


@dataclass(frozen=True)
class Measure:
    """One reading, as the workbook counts it.

    low, high: where the water lies by the kit; an open end is infinite, both NaN where no kit is described.
    beyond: the side on which the reading only bounds the water. told: whether unit or basis is known.
    """

    parameter: str
    value: float
    low: float = math.nan
    high: float = math.nan
    beyond: Beyond = ""
    told: bool = True


@dataclass(frozen=True)
class Given:
    """All that one judgement rests on.

    species: rows of `data/species.csv`, or a row that knows only warm or cold. litres: all that circulates,
    NaN where not known. season_high_c: warmest month of the garden's water, NaN without a garden.
    assumed: what was not told and read at its severest. asked: what is unlikely and had better be repeated.
    new_water_chlorine_mg_l: the supplier's highest figure; none without a garden. altitude_m: sea
    level without one.
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
    new_water_chlorine_mg_l: float = 0.0
    altitude_m: float = 0.0

    def value(self, parameter: str) -> float:
        """A reading; NaN where there is none."""
        one = self.measures.get(parameter)
        return math.nan if one is None else one.value


def pairs(typed: Sequence[str]) -> dict[str, str]:
    """Pairs `name=value` by their parameter, `fish` and `litres`; `InputError` with every fault.

    >>> pairs(["TAN=2 NH3", "kh=4 dKH"])
    {'tan': '2 NH3', 'alkalinity': '4 dKH'}
    """
    found: dict[str, str] = {}
    problems = []
    for text in typed:
        name, sign, value = text.partition("=")
        plain = name.strip().casefold()
        parameter = plain if plain in ("fish", "litres") else NAMES.get(plain, "")
        if not sign:
            problems.append(Problem("problem-reading-pair", "", text))
        elif not parameter:
            near = difflib.get_close_matches(plain, [*NAMES, "fish", "litres"], n=1)
            problems.append(
                Problem("problem-unknown-name", "", name.strip(), OFFERED, near[0] if near else "")
            )
        elif parameter in found:
            problems.append(Problem("problem-given-twice", "", name.strip()))
        else:
            found[parameter] = value.strip()
    if not problems and not set(found) - {"fish", "litres"}:
        problems.append(Problem("problem-reading-none", "", "", OFFERED[:-2]))
    if problems:
        raise InputError(problems)
    return found


def read(typed: Sequence[str], garden: Garden | None = None) -> Given:
    """Everything that was typed, completed from the garden where there is one.

    Raises `InputError` with all problems: numbers, units and names that cannot be read, and values outside of
    what can be, each with its range.
    """
    said = pairs(typed)
    problems: list[Problem] = []
    measures: dict[str, Measure] = {}
    for parameter, text in said.items():
        if parameter in ("fish", "litres"):
            continue
        try:
            measures[parameter] = _measure(parameter, text, garden)
        except InputError as error:
            problems += error.problems
    species: tuple[Row, ...] = ()
    whole = math.nan
    try:
        species = _species(said.get("fish", ""), garden)
    except InputError as error:
        problems += error.problems
    try:
        whole = _litres(said.get("litres", ""), garden)
    except InputError as error:
        problems += error.problems
    if problems:
        raise InputError(problems)
    return Given(
        measures=measures,
        species=species,
        litres=whole,
        season_high_c=math.nan if garden is None else _season_high_c(garden),
        setting="home" if garden is None else garden.site.setting,
        products=() if garden is None else garden.products,
        shelf_known=garden is not None,
        assumed=_assumed(measures, "fish" in said or (garden is not None and bool(garden.fish))),
        asked=_asked(measures),
        new_water_chlorine_mg_l=0.0 if garden is None else garden.top_up.chlorine_max_mg_l,
        altitude_m=0.0 if garden is None else garden.site.altitude_m,
    )


# --- one reading -------------------------------------------------------------------------------------------


def _measure(parameter: str, text: str, garden: Garden | None) -> Measure:
    where = _typed_name(parameter)
    match = _SIGN.fullmatch(text)
    sign, amount = (match[1] or "", match[2].strip()) if match else ("", text)
    scale = _scale(garden, parameter)
    if parameter in kits.NITROGEN:
        shown, basis = _nitrogen(parameter, amount, where)
        counted = basis or (scale.basis if kits.basis_is_known(scale) else "")
        # Nothing is nothing, whatever the number counts.
        told, of_kit = bool(counted) or shown == 0.0, basis in ("", scale.basis)
        value = units.as_n(shown, counted or "N")
        _in_range(value, parameter, where, text, counted or "N", sign)
        if scale.basis == kits.NOT_KNOWN:
            scale = KitScale(parameter, counted or "N", scale.steps, scale.drop)
    else:
        value, told, of_kit = _plain(parameter, amount, where, scale, garden)
        _in_range(value, parameter, where, text, "", sign)
        if parameter in kits.IN_A_UNIT and not kits.basis_is_known(scale):
            scale = KitScale(parameter, UNTOLD[parameter])
        # There and back through a unit leaves a last digit that no card has.
        shown = round(kits.as_shown(value, scale) or 0.0, 9)
    low, high = _interval(shown, scale) if of_kit else (math.nan, math.nan)
    beyond: Beyond = "above" if high == math.inf else "below" if low == -math.inf else ""
    if sign:
        beyond = "above" if sign in (">", ">=", "≥") else "below"
        low, high = (value, math.inf) if beyond == "above" else (-math.inf, value)
    return Measure(parameter, value, low, high, beyond, told)


def _typed_name(parameter: str) -> str:
    return next(name for name in OFFERED if NAMES.get(name, name) == parameter)


def _scale(garden: Garden | None, parameter: str) -> KitScale:
    """The scale of the garden's newest kit that measures a parameter."""
    if garden is None:
        return KitScale(parameter)
    dated = sorted(garden.kits, key=lambda kit: kit.start or date.min)
    scales = [scale for kit in dated for scale in kit.scales if scale.parameter == parameter]
    return scales[-1] if scales else KitScale(parameter)


def _nitrogen(parameter: str, amount: str, where: str) -> tuple[float, str]:
    """Number in mg/L, and basis: empty where none is typed."""
    match = _NITROGEN.fullmatch(amount)
    basis = "" if match is None else match["basis"].upper()
    if basis and basis not in BASES[parameter]:
        raise InputError(Problem("problem-choice", where, amount, BASES[parameter]))
    number = amount if match is None else f"{match['number']} {match['unit'] or ''}".strip()
    if match is not None and match["n"]:
        basis = "N"
    return units.read(number, "concentration", where, unit="mg_l"), basis


def _plain(
    parameter: str, amount: str, where: str, scale: KitScale, garden: Garden | None
) -> tuple[float, bool, bool]:
    """Value in the base unit, whether its unit is told, whether the garden's kit may have shown it."""
    if parameter == "ph":
        return units.read_number(amount, where), True, True
    kind = KINDS.get(parameter, "concentration")
    unit, told = UNTOLD.get(parameter, "mg_l"), True
    if parameter in kits.IN_A_UNIT:
        told = kits.basis_is_known(scale) or not _bare(amount)
        unit = scale.basis if kits.basis_is_known(scale) else unit
    if parameter == "temperature" and garden is not None and garden.reader.units == "us":
        unit = "f"
    value = units.read(amount, kind, where, unit=unit)
    if parameter == "temperature":
        _not_the_other_degrees(value, amount, where, unit)
    return value, told, _bare(amount) or parameter not in kits.IN_A_UNIT


def _bare(amount: str) -> bool:
    try:
        units.read_number(amount)
    except InputError:
        return False
    return True


def _not_the_other_degrees(value: float, amount: str, where: str, unit: str) -> None:
    """Refuse a bare number that cannot be, and offer the other unit where it could be in that one."""
    span = limits("temperature")
    if span.low <= value <= span.high or not _bare(amount):
        return
    other = "c" if unit == "f" else "f"
    in_other = units.read(amount, "temperature", where, unit=other)
    if span.low <= in_other <= span.high:
        low, high = (f"{units.to(end, unit):g} °{unit.upper()}" for end in (span.low, span.high))
        found = f"{amount} °{unit.upper()}"
        offer = f"{amount}{other.upper()}"
        raise InputError(Problem("problem-reading-degrees", where, found, (low, high, offer)))


def _interval(shown: float, scale: KitScale) -> tuple[float, float]:
    span = kits.interval_inside(shown, scale)
    return (math.nan, math.nan) if span is None else (span.low, span.high)


def allowed(parameter: str) -> Limits:
    """Between which values a reading lies, in the workbook's own counts.

    >>> allowed("ph").high
    12.0
    """
    if parameter == "chloride":
        row = tables.load("input_bounds").row("dissolved")
        return Limits(row.number("refuse_low"), row.number("refuse_high"))
    return limits(parameter)


def _in_range(value: float, parameter: str, where: str, found: str, basis: str, sign: str) -> None:
    span = allowed(parameter)
    nothing = parameter == "conductivity" and value == 0.0 and not sign
    if span.low <= value <= span.high and not nothing:
        return
    low, high = span.low, span.high
    label = units.unit(UNTOLD.get(parameter, "mg_l")).label
    if parameter in kits.NITROGEN:
        low, high, label = units.from_n(low, basis), units.from_n(high, basis), f"mg/L {basis}"
    ends = (f"{low:g}", f"{high:.6g}", "" if parameter == "ph" else label)
    raise InputError(Problem("problem-range", where, found, ends))


# --- fish and litres ---------------------------------------------------------------------------------------


def only_warmth(warmth: str) -> Row:
    """A stand-in for a species of which only `warm` or `cold` is known."""
    return Row(warmth, 0, {"temperature_class": warmth, "nitrogen_tolerance_class": "", "name": warmth}, {})


def _species(text: str, garden: Garden | None) -> tuple[Row, ...]:
    table = tables.load("species")
    if not text:
        if garden is None or not garden.fish:
            return (only_warmth("cold"),)
        return tuple(table.row(key) for key in dict.fromkeys(batch.species for batch in garden.fish))
    plain = "_".join(text.casefold().split())
    if plain in WARMTH:
        return (only_warmth(plain),)
    if plain not in table.keys():  # noqa: SIM118  (a table is no mapping)
        near = difflib.get_close_matches(plain, [*WARMTH, *table.keys()], n=1)
        known = (*WARMTH, *table.keys())
        raise InputError(Problem("problem-unknown-name", "fish", text, known, near[0] if near else ""))
    return (table.row(plain),)


def _litres(text: str, garden: Garden | None) -> float:
    if not text:
        return math.nan if garden is None else litres.of(garden).whole
    value = units.read(text, "volume", "litres", unit="l")
    row = tables.load("input_bounds").row("tank_volume")
    low, high = 1000.0 * row.number("refuse_low"), 1000.0 * row.number("refuse_high")
    if not low <= value <= high:
        raise InputError(Problem("problem-range", "litres", text, (f"{low:g}", f"{high:g}", "L")))
    return value


def _season_high_c(garden: Garden) -> float:
    """Water of the garden's warmest month."""
    from aquacalc.garden import surroundings
    from aquacalc.uncertainty import coefficient, draw

    sampled = draw({name: coefficient(name) for name in surroundings.COEFFICIENTS}, members=1)
    return float(surroundings.water_c(garden, sampled).max())


# --- what was assumed, what is unlikely --------------------------------------------------------------------


def _assumed(measures: Mapping[str, Measure], fish_told: bool) -> tuple[Note, ...]:
    found = []
    for one in measures.values():
        if one.told:
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
        if one.parameter not in BOUNDED and one.parameter != "conductivity":
            continue
        name = "water_temperature" if one.parameter == "temperature" else one.parameter
        row = bounds.row(name)
        if not row.number("warn_low") <= one.value <= row.number("warn_high"):
            found.append(Note("reading-ask-unlikely", (Amount("what", one.parameter, "words"),)))
    return tuple(found)
