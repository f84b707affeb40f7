"""Quantities as people write them: one number parser over one closed list of units, `data/units.csv`.

Inside the package a quantity is a float in the base unit of its kind (`base`); text becomes a float here and
nowhere else. A unit that the trade uses for two sizes (`gal`, `gph`) is refused with the choices, and so is
a number that can be read in two ways (`1,200`). A point is always the decimal mark; a comma is, too, unless
three digits follow it and nothing else decides.
"""

import csv
import difflib
import math
import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from aquacalc import constants
from aquacalc.errors import InputError, Problem

LIST = Path(__file__).with_name("data") / "units.csv"

IN_PARTS = ("volume", "length", "bore", "mass", "time")
"""Kinds that are also written in parts, from the larger unit to the smaller: `5 ft 3 in`."""

LARGEST = 1e12
"""No quantity of a garden is larger in any unit of the list; what is, is a slip."""

N_BASES = {
    "N": 1.0,
    "NH3": constants.MOLAR_MASS_NH3_G_MOL / constants.ATOMIC_MASS_N_G_MOL,
    "NH4": constants.MOLAR_MASS_NH4_G_MOL / constants.ATOMIC_MASS_N_G_MOL,
    "NO2": constants.MOLAR_MASS_NO2_G_MOL / constants.ATOMIC_MASS_N_G_MOL,
    "NO3": constants.MOLAR_MASS_NO3_G_MOL / constants.ATOMIC_MASS_N_G_MOL,
}
"""Grams of the ion, or of ammonia, that hold one gram of nitrogen."""


@dataclass(frozen=True)
class Unit:
    """One unit of one kind of quantity.

    suffix: the end of a key that names the unit (`volume_us_gal`). label: how the unit is printed.
    factor, zero: value in the base unit = (value - zero) * factor.
    names: every way to write it, in lower case. ambiguous: ways that another unit of the kind shares.
    systems: `metric`, `us`, `imperial`. common: named when the reader is offered a choice.
    """

    key: str
    kind: str
    suffix: str
    label: str
    factor: float
    zero: float
    names: tuple[str, ...]
    ambiguous: tuple[str, ...]
    systems: tuple[str, ...]
    common: bool

    def to_base(self, value: float) -> float:
        """A value of this unit in the base unit of its kind."""
        return (value - self.zero) * self.factor

    def from_base(self, value: float) -> float:
        """A value in the base unit of the kind, in this unit."""
        return value / self.factor + self.zero

    def written(self, number: str) -> str:
        """A number with this unit behind it, as it would be typed.

        >>> unit("us_gal").written("300")
        '300 US gal'
        """
        return f"{number} {self.label}".strip()


# --- the list ----------------------------------------------------------------------------------------------


@cache
def _all() -> dict[str, Unit]:
    def split(cell: str) -> tuple[str, ...]:
        return tuple(part for part in cell.split("; ") if part)

    with LIST.open(encoding="utf-8", newline="") as file:
        return {
            row["key"]: Unit(
                row["key"],
                row["kind"],
                row["suffix"],
                row["label"],
                float(row["factor"]),
                float(row["zero"]),
                split(row["names"]),
                split(row["ambiguous_names"]),
                split(row["system"]),
                row["common"] == "yes",
            )
            for row in csv.DictReader(file)
        }


@cache
def kinds() -> tuple[str, ...]:
    """The kinds of quantity, in the order of the list."""
    return tuple(dict.fromkeys(one.kind for one in _all().values()))


@cache
def of_kind(kind: str) -> tuple[Unit, ...]:
    """The units of a kind, its base unit first.

    >>> [one.label for one in of_kind("bore")]
    ['mm', 'cm', 'in']
    """
    found = tuple(one for one in _all().values() if one.kind == kind)
    if not found:
        raise KeyError(f"no unit has the kind {kind!r}")
    return found


def common(kind: str) -> tuple[Unit, ...]:
    """The units of a kind that are offered where a unit is missing; every other one is read as well.

    >>> [one.label for one in common("volume")]
    ['L', 'm3', 'US gal', 'imp gal']
    """
    return tuple(one for one in of_kind(kind) if one.common)


def base(kind: str) -> Unit:
    """The unit in which the package counts a kind.

    >>> base("flow").label
    'L/h'
    """
    return of_kind(kind)[0]


def unit(key: str) -> Unit:
    """The unit of a key of `units.csv`; `InputError` (`problem-unknown-name`) where there is none."""
    if key not in _all():
        raise InputError(Problem("problem-unknown-name", "units", key, tuple(_all()), _nearest(key, _all())))
    return _all()[key]


def to(value: float, unit_key: str) -> float:
    """A value in the base unit of its kind, in another unit of the kind.

    >>> round(to(1135.6235352, "us_gal"), 9), to(25.0, "f")
    (300.0, 77.0)
    """
    return unit(unit_key).from_base(value)


def _nearest(found: str, known: object) -> str:
    close = difflib.get_close_matches(found, list(known), n=1)  # type: ignore[call-overload]
    return str(close[0]) if close else ""


# --- numbers -----------------------------------------------------------------------------------------------

_DIGITS = r"[0-9]+"
_FRACTION = rf"(?:(?P<whole>{_DIGITS})(?:\s+|\s*-\s*))?(?P<over>{_DIGITS})\s*/\s*(?P<under>{_DIGITS})"
_GROUPED = r"[0-9]{1,3}(?: [0-9]{3})+(?:[.,][0-9]+)?"
_PLAIN = r"(?:[0-9][0-9.,]*|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?"
_NUMBER = re.compile(rf"[+-]?\s*(?:{_FRACTION}|{_GROUPED}|{_PLAIN})(?![0-9])")
_INFINITE = ("nan", "inf", "infinity", "∞")


def read_number(text: str, where: str = "") -> float:
    """A number as people write it.

    text: decimal point or comma, `3/4`, `1 1/2`, `12 000`, `1.5e3`.
    where: the place, for the message.
    Raises `InputError`: `problem-empty`, `problem-not-a-number`, `problem-ambiguous-number` (with both
    readings), `problem-not-finite`, `problem-too-large`.

    >>> read_number("6,8"), read_number("1 1/2"), read_number("1.200,5")
    (6.8, 1.5, 1200.5)
    """
    tidy = _tidy(text)
    if not tidy:
        raise InputError(Problem("problem-empty", where, text.strip()))
    if tidy.lstrip("+-").strip().lower() in _INFINITE:
        raise InputError(Problem("problem-not-finite", where, text.strip()))
    match = _NUMBER.fullmatch(tidy)
    if match is None:
        raise InputError(Problem("problem-not-a-number", where, text.strip()))
    return _value(match, text.strip(), where)


def _tidy(text: str) -> str:
    """One way to write each sign: fractions as digits, primes as quotes, plain spaces and minus."""
    spread = []
    for character in text:
        plain = unicodedata.normalize("NFKC", character)
        if "\u2044" in plain:  # the slash inside signs such as one half
            spread.append(f" {plain.replace(chr(0x2044), '/')} ")
        elif character == "º":
            spread.append("°")
        elif unicodedata.category(character) == "Nd":
            # Digits of another script stay as they are, so that they are refused and not guessed.
            spread.append(character)
        else:
            spread.append(plain)
    tidy = "".join(spread).translate({0x2212: "-", 0x2032: "'", 0x2033: '"', 0x2019: "'", 0x201D: '"'})
    return " ".join(tidy.split())


def _value(match: re.Match[str], found: str, where: str) -> float:
    text = match.group()
    sign = -1.0 if text.startswith("-") else 1.0
    if match["under"]:
        if int(match["under"]) == 0:
            raise InputError(Problem("problem-not-a-number", where, found))
        value = float(match["whole"] or 0) + int(match["over"]) / int(match["under"])
    else:
        value = _decimal(text.lstrip("+-").replace(" ", ""), found, where)
    if not math.isfinite(value) or value > LARGEST:
        raise InputError(Problem("problem-too-large", where, found))
    return sign * value


def _decimal(text: str, found: str, where: str) -> float:
    mantissa, exponent, power = text.lower().partition("e")
    points, commas = mantissa.count("."), mantissa.count(",")
    if points and commas:
        # The mark that stands last is the decimal one; the other parts thousands.
        thousands = "," if mantissa.rfind(",") < mantissa.rfind(".") else "."
        whole, _, rest = mantissa.rpartition("." if thousands == "," else ",")
        if not _in_thousands(whole, thousands) or thousands in rest:
            raise InputError(Problem("problem-not-a-number", where, found))
        plain = f"{whole.replace(thousands, '')}.{rest}"
    elif points + commas > 1:
        thousands = "," if commas else "."
        if not _in_thousands(mantissa, thousands):
            raise InputError(Problem("problem-not-a-number", where, found))
        plain = mantissa.replace(thousands, "")
    else:
        if commas and re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", mantissa):
            choices = (mantissa.replace(",", "."), mantissa.replace(",", ""))
            raise InputError(Problem("problem-ambiguous-number", where, found, choices))
        plain = mantissa.replace(",", ".")
    return float(plain + exponent + power)


def _in_thousands(text: str, mark: str) -> bool:
    return re.fullmatch(rf"[0-9]{{1,3}}(?:{re.escape(mark)}[0-9]{{3}})+", text) is not None


# --- quantities --------------------------------------------------------------------------------------------


def read(text: str | float, kind: str, where: str = "", unit: str | None = None) -> float:
    """A quantity in the base unit of its kind.

    text: a number with a unit (`300 US gal`, `5 ft 3 in`), or a bare number.
    kind: a kind of `units.csv`.
    where: the place, for the message.
    unit: key of the unit in which a bare number is meant; without one a bare number is refused with the
    choices, unless the kind has one unit only.
    Raises `InputError`: those of `read_number`; `problem-unit-missing`, `problem-unknown-unit`,
    `problem-unit-kind`, `problem-unit-parts`; `problem-ambiguous-unit` with the choices as they are typed.

    >>> round(read("5 ft 3 in", "length"), 4), read("77 F", "temperature"), read("20", "volume", unit="l")
    (1.6002, 25.0, 20.0)
    """
    if isinstance(text, bool) or not isinstance(text, str | float | int):
        raise InputError(Problem("problem-not-a-number", where, str(text)))
    if not isinstance(text, str):
        # An integer of many digits can neither become a float nor be printed.
        value = float(text) if isinstance(text, float) or abs(text) <= LARGEST else math.inf
        return _bare(value, kind, where, unit)
    tidy = _tidy(text)
    match = _NUMBER.match(tidy)
    if match is None or match.end() == len(tidy):
        # No number in front, or nothing behind it: either way the number's own messages fit.
        return _bare(read_number(text, where), kind, where, unit, text.strip())
    total, sign = 0.0, -1.0 if tidy.startswith("-") else 1.0
    last = math.inf
    while tidy:
        number = _NUMBER.match(tidy)
        if number is None or (math.isfinite(last) and number.group()[0] in "+-"):
            raise InputError(_unit_problem(text.strip(), tidy, kind, where))
        rest = tidy[number.end() :].strip()
        found, tidy = _unit_in_front(rest, kind)
        if found is None:
            raise InputError(_unit_problem(text.strip(), rest, kind, where, number.group().strip()))
        if not found.factor < last:
            raise InputError(Problem("problem-unit-parts", where, text.strip()))
        value = _value(number, text.strip(), where)
        total += found.to_base(value) if math.isinf(last) else sign * found.to_base(value)
        last = found.factor if kind in IN_PARTS else 0.0
    return total


def _bare(value: float, kind: str, where: str, unit_key: str | None, found: str = "") -> float:
    typed = found or f"{value:g}"
    if math.isnan(value):
        raise InputError(Problem("problem-not-finite", where, typed))
    if abs(value) > LARGEST:
        raise InputError(Problem("problem-too-large", where, typed))
    known = of_kind(kind)
    if unit_key is None and len(known) > 1:
        choices = tuple(one.written(typed) for one in common(kind))
        raise InputError(Problem("problem-unit-missing", where, typed, choices))
    return (unit(unit_key) if unit_key else known[0]).to_base(value)


def _spelled(text: str) -> str:
    """A unit as the list spells it: lower case, no points, `per` and powers written one way."""
    lower = text.lower().replace("^", "").replace("·", " ").replace("**", "")
    lower = re.sub(r"\bper\b", "/", re.sub(r"\.(?![0-9])", " ", lower))
    return " ".join(re.sub(r"\s*/\s*", "/", lower).split())


@cache
def _names(kind: str) -> dict[str, Unit]:
    return {_spelled(name): one for one in of_kind(kind) for name in (*one.names, one.label) if name}


def _unit_in_front(rest: str, kind: str) -> tuple[Unit | None, str]:
    """The unit that a text begins with, and what stands behind it."""
    names = _names(kind)
    if (whole := _spelled(rest)) in names:
        return names[whole], ""
    # A further part begins with a digit, so try each digit as the place where the unit ends.
    for digit in reversed([match.start() for match in re.finditer(r"(?<![0-9.,])[0-9]", rest)]):
        if (part := _spelled(rest[:digit])) in names:
            return names[part], rest[digit:]
    return None, ""


def _unit_problem(found: str, rest: str, kind: str, where: str, number: str = "") -> Problem:
    spelled = _spelled(rest)
    sharing = tuple(one for one in of_kind(kind) if spelled in map(_spelled, one.ambiguous))
    if sharing:
        return Problem("problem-ambiguous-unit", where, found, tuple(one.written(number) for one in sharing))
    labels = tuple(one.label for one in common(kind) if one.label)
    if any(spelled in _names(other) for other in kinds()):
        return Problem("problem-unit-kind", where, found, labels)
    close = _nearest(spelled, _names(kind))
    return Problem("problem-unknown-unit", where, found, labels, _names(kind)[close].label if close else "")


# --- bases of the trade ------------------------------------------------------------------------------------


def as_n(value_mg_l: float, basis: str) -> float:
    """A concentration that a kit shows as NH3, NH4, NO2 or NO3, as nitrogen, in mg/L.

    >>> round(as_n(50.0, "NO3"), 2)
    11.3
    """
    return value_mg_l / _nitrogen_basis(basis)


def from_n(value_mg_l_n: float, basis: str) -> float:
    """A concentration of nitrogen in mg/L as a kit of the given basis shows it.

    >>> round(from_n(1.0, "NO2"), 3)
    3.284
    """
    return value_mg_l_n * _nitrogen_basis(basis)


def _nitrogen_basis(basis: str) -> float:
    if basis not in N_BASES:
        raise InputError(
            Problem("problem-unknown-name", "basis", basis, tuple(N_BASES), _nearest(basis.upper(), N_BASES))
        )
    return N_BASES[basis]


# --- what a typed amount can mean --------------------------------------------------------------------------

NITROGEN = "nitrogen"
"""Kind of a meaning that counts nitrogen, in mg/L as N."""

_ION = re.compile(r"(?P<amount>.*?)(?:\s+as)?\s+(?P<ion>NH3|NH4|NO2|NO3|TAN|N)(?P<n>-N)?", re.IGNORECASE)


@dataclass(frozen=True)
class Meaning:
    """One thing that a typed amount can mean.

    kind: a kind of the list, or `nitrogen`. written: the amount with its unit in full. value: in the base
    unit of the kind; nitrogen as N. bases: in which a kit may show it, for nitrogen only.
    """

    kind: str
    written: str
    value: float
    bases: tuple[str, ...] = ()


def meanings(text: str, kinds: Iterable[str], where: str = "") -> tuple[Meaning, ...]:
    """Everything that a typed amount can mean among some kinds.

    A unit that two kinds share (`L/min` of water and of air) means both; one that stands for two sizes
    (`gal`) means each of them. `NO3` and the like behind the unit say what the number counts.
    Raises `InputError` where it means nothing: the problem of the number, or of the unit.

    >>> [(one.kind, one.written) for one in meanings("300 gal", ("volume", "length"))]
    [('volume', '300 US gal'), ('volume', '300 imp gal')]
    >>> [(one.kind, round(one.value, 2)) for one in meanings("50 mg/L NO3", ("concentration",))]
    [('nitrogen', 11.3)]
    """
    ion = _ION.fullmatch(_tidy(text).replace("+", "").removesuffix("-"))
    if ion is not None:
        amount = read(ion["amount"], "concentration", where)
        return (_nitrogen(text.strip(), amount, ion["ion"].upper(), bool(ion["n"])),)
    exact: list[Meaning] = []
    either: list[Meaning] = []
    problems: list[Problem] = []
    for kind in kinds:
        try:
            exact.append(Meaning(kind, text.strip(), read(text, kind, where)))
        except InputError as error:
            problems += error.problems
            either += [Meaning(kind, one, read(one, kind)) for one in _choices(error.problems, text)]
    if exact or either:
        return tuple(exact or either)
    raise InputError(_nothing(problems, where))


def _nitrogen(written: str, amount_mg_l: float, ion: str, counted_as_n: bool) -> Meaning:
    bases = {"TAN": ("N", "NH3", "NH4"), "N": tuple(N_BASES), "NO2": ("N", "NO2"), "NO3": ("N", "NO3")}
    as_is = counted_as_n or ion in ("TAN", "N")
    value = amount_mg_l if as_is else as_n(amount_mg_l, ion)
    return Meaning(NITROGEN, written, value, bases.get(ion, ("N", "NH3", "NH4")))


def _choices(problems: Iterable[Problem], text: str) -> tuple[str, ...]:
    """The ways to write an amount whose unit stands for several; none where it is written in parts."""
    number = _NUMBER.match(_tidy(text))
    in_parts = number is None or any(one.isdigit() for one in _tidy(text)[number.end() :])
    found = [one.allowed for one in problems if one.key == "problem-ambiguous-unit" and not in_parts]
    return found[0] if found else ()


def _nothing(problems: Sequence[Problem], where: str) -> Problem:
    """The one problem to tell where an amount means nothing: that of its number, else that of its unit."""
    of_unit = ("problem-unit-missing", "problem-unknown-unit", "problem-unit-kind")
    of_number = [one for one in problems if one.key not in of_unit]
    if of_number:
        return of_number[0]
    first = problems[0]
    missing = any(one.key == "problem-unit-missing" for one in problems)
    key = "problem-unit-missing" if missing else "problem-unknown-unit"
    allowed = tuple(dict.fromkeys(one.allowed[0] for one in problems if one.allowed))
    nearest = next((one.nearest for one in problems if one.nearest), "")
    return Problem(key, where, first.found, allowed, nearest)
