"""One reading: from what was typed, with its unit or basis, to the workbook's own count of it.

Where a bare number tells no unit or basis, that of the garden's kit counts; else all that it may stand for is
kept, and each thing that is judged takes the severest.
"""

import math
import re
from dataclasses import dataclass, replace
from datetime import date

from aquacalc import kits, tables, units
from aquacalc.advice.finding import Amount, Note
from aquacalc.advice.reading import pairs
from aquacalc.constants import MG_PER_G
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import Garden, KitScale
from aquacalc.judge.values import Beyond, Value
from aquacalc.logbook.limits import BASES, Limits, limits

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
"""Units of a bare number, as it is printed."""

MAY_BE = {"alkalinity": ("mg_l_caco3", "dkh"), "hardness": ("hardness_mg_l_caco3", "hardness_dgh")}
"""Units that a bare number of a kit may stand for. Common practice, no source."""

_SIGN = re.compile(r"\s*(<=|>=|<|>|≤|≥)?\s*(.*)", re.DOTALL)

_NITROGEN = re.compile(
    r"(?P<number>.*?)\s*(?P<unit>mg/l|ppm)?\s*(?:\bas\s+)?(?P<basis>N|NH3|NH4|NO2|NO3)(?P<n>-N)?",
    re.IGNORECASE | re.DOTALL,
)

_THINNED = re.compile(r"(?P<rest>.*\S)\s*[x×]\s*(?P<times>\d+)", re.IGNORECASE | re.DOTALL)
"""A kit's number on a sample that was thinned so many times, as `5 x5`."""
MOST_THINNED = 100


@dataclass(frozen=True)
class Measure(Value):
    """One reading. notes: what the check of the kit says of it. scale: how the kit counts it, or the basis or
    unit that was typed; None where neither is known."""

    notes: tuple[Note, ...] = ()
    scale: KitScale | None = None


def of_text(parameter: str, text: str, garden: Garden | None) -> Measure:
    """A reading from its text; `InputError` where it cannot be read or lies outside of what can be.

    >>> of_text("tan", "2.6 NH4", None).value > 2.0, of_text("alkalinity", "<20", None).beyond
    (True, 'below')
    >>> of_text("nitrate", "40 x5", None).value
    200.0
    """
    where = pairs.offered_name(parameter)
    match = _SIGN.fullmatch(text)
    sign, amount = (match[1] or "", match[2].strip()) if match else ("", text)
    amount, times = _thinned(parameter, amount, where)
    scale = scale_of(garden, parameter)
    if parameter in kits.NITROGEN:
        shown, basis = _nitrogen(parameter, amount, where)
        counted = basis or (scale.basis if kits.basis_is_known(scale) else "")
        # Nothing is nothing, whatever the number counts.
        told, of_kit = bool(counted) or shown == 0.0, basis in ("", scale.basis)
        value = times * units.as_n(shown, counted or "N")
        _in_range(value, parameter, where, text, counted or "N", sign)
        may_be = () if told else tuple(times * units.as_n(shown, one) for one in BASES[parameter])
        if scale.basis == kits.NOT_KNOWN:
            scale = replace(scale, basis=counted or "N")
    else:
        value, told, of_kit = _plain(parameter, amount, where, scale, garden)
        _in_range(value, parameter, where, text, "", sign)
        may_be = () if told else _meanings(parameter, value)
        if parameter in kits.IN_A_UNIT and not kits.basis_is_known(scale):
            scale = KitScale(parameter, UNTOLD[parameter])
        # There and back through a unit leaves a last digit that no card has.
        shown = round(kits.as_shown(value, scale) or 0.0, 9)
    notes: tuple[Note, ...] = ()
    if of_kit and scale.offset:
        # What the check of the kit found stays with every reading of it.
        value = times * (kits.as_inside(kits.corrected(shown, scale), scale) or 0.0)
        told, notes = told and kits.usable(scale), (_of_check(scale),)
    low, high = _interval(shown, scale, times) if of_kit else (math.nan, math.nan)
    beyond: Beyond = "above" if high == math.inf else "below" if low == -math.inf else ""
    if sign:
        beyond = "above" if sign in (">", ">=", "≥") else "below"
        low, high = (value, math.inf) if beyond == "above" else (-math.inf, value)
    if not of_kit:
        scale = KitScale(parameter, basis if parameter in kits.NITROGEN else _unit_of(amount, parameter))
    return Measure(
        parameter=parameter,
        value=value,
        low=low,
        high=high,
        beyond=beyond,
        told=told,
        may_be=may_be,
        notes=notes,
        scale=scale if told else None,
    )


def _meanings(parameter: str, value: float) -> tuple[float, ...]:
    """What a bare number may stand for, in the base unit, as far as there is such water."""
    span = _allowed(parameter)
    counted = units.to(value, UNTOLD[parameter])
    found = (units.unit(unit).to_base(counted) for unit in MAY_BE[parameter])
    return tuple(one for one in found if span.low <= one <= span.high)


def _unit_of(amount: str, parameter: str) -> str:
    """Key of the unit that stands behind an alkalinity or a hardness; else the one that is counted in."""
    if parameter not in kits.IN_A_UNIT:
        return kits.NOT_KNOWN
    tail = re.sub(r"^[\d.,\s/]+", "", amount).strip().casefold()
    known = units.of_kind(KINDS[parameter])
    named = (one.key for one in known if tail in {name.casefold() for name in (one.label, *one.names)})
    return next(named, UNTOLD[parameter])


def _of_check(scale: KitScale) -> Note:
    """By how much a reading is corrected, or that the kit is not to be used."""
    amount = f"{-scale.offset:+.3g} {kits.label(scale)}".strip()
    return Note(
        "reading-note-corrected" if kits.usable(scale) else "reading-note-kit-out",
        (
            Amount("what", scale.parameter, "words"),
            Amount("offset", amount, "text"),
            Amount("day", "" if scale.checked is None else scale.checked.isoformat(), "date"),
        ),
    )


def scale_of(garden: Garden | None, parameter: str) -> KitScale:
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
    if parameter == "added_salt":
        return units.read(amount, kind, where, unit="g_l") / MG_PER_G, True, False
    value = units.read(amount, kind, where, unit=unit)
    if parameter == "temperature":
        _not_the_other_degrees(value, amount, where, unit)
    # In the kit's own unit it is the kit's reading, as ammonia in its basis is.
    own = _bare(amount) or parameter not in kits.IN_A_UNIT or _unit_of(amount, parameter) == scale.basis
    return value, told, own


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


def _thinned(parameter: str, amount: str, where: str) -> tuple[str, int]:
    """What the kit showed, and how many times the sample was thinned with de-ionised water; 1 for not at all.

    Thinning moves the balance of carbon dioxide, so that only ammonia, nitrite and nitrate are read so.
    """
    match = _THINNED.fullmatch(amount)
    if match is None:
        return amount, 1
    times = int(match["times"])
    if parameter not in kits.NITROGEN or not 1 <= times <= MOST_THINNED:
        raise InputError(Problem("problem-reading-thinned", where, amount, ("1", str(MOST_THINNED))))
    return match["rest"], times


def _interval(shown: float, scale: KitScale, times: int) -> tuple[float, float]:
    span = kits.interval_inside(shown, scale, times)
    return (math.nan, math.nan) if span is None else (span.low, span.high)


def _allowed(parameter: str) -> Limits:
    """Between which values a reading lies, in the workbook's own counts.

    >>> _allowed("ph").high
    12.0
    """
    if parameter in ("chloride", "added_salt"):
        row, per = (
            tables.load("input_bounds").row("dissolved"),
            MG_PER_G if parameter == "added_salt" else 1.0,
        )
        return Limits(row.number("refuse_low") / per, row.number("refuse_high") / per)
    return limits(parameter)


def _in_range(value: float, parameter: str, where: str, found: str, basis: str, sign: str) -> None:
    span = _allowed(parameter)
    nothing = parameter == "conductivity" and value == 0.0 and not sign
    if span.low <= value <= span.high and not nothing:
        return
    low, high = span.low, span.high
    label = units.unit(UNTOLD.get(parameter, "g_l" if parameter == "added_salt" else "mg_l")).label
    if parameter in kits.NITROGEN:
        low, high, label = units.from_n(low, basis), units.from_n(high, basis), f"mg/L {basis}"
    ends = (f"{low:g}", f"{high:.6g}", "" if parameter == "ph" else label)
    raise InputError(Problem("problem-range", where, found, ends))
