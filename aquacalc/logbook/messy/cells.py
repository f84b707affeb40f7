"""One cell of a messy log: what is certain is mended, the rest is a question."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from aquacalc import kits, units
from aquacalc.errors import InputError, Problem
from aquacalc.logbook import read
from aquacalc.logbook.columns import Column
from aquacalc.logbook.log import Reading
from aquacalc.logbook.messy.days import month_of, ways
from aquacalc.logbook.messy.file import Order
from aquacalc.logbook.messy.titles import Title
from aquacalc.logbook.plan import Garden, scale_in_use

NOT_MEASURED = (
    *("-", "--", "---", "\u2013", "\u2014", "?", "x", "n/a", "na", "n.a.", "nan", "null", "#n/a"),
    *("not measured", "not tested", "no test", "no reading", "skipped", "missing"),
)
NOTHING = ("none", "nil", "zero", "no", "nothing")
TRACE = ("trace", "traces", "tr", "tr.")
OFF = ("off scale", "off the scale", "off chart", "off the chart", "over range", "too high", "max", "high")
OF_THE_DAY = ("feed", "top_up", "dose", "picked", "taken", "dead", "stocked")
"""Where `none` is a number of the day; a count or a weight of nothing is a question."""

UNIT_PROBLEMS = (
    "problem-unit-missing",
    "problem-unit-kind",
    "problem-unit-parts",
    "problem-unknown-unit",
    "problem-ambiguous-unit",
)

SPREADSHEET_DATE = "log-repair-spreadsheet-date"

RARE_DKH = 20.0
TIMES_THE_REST = 10.0
"""An alkalinity above this that is so many times the middle of its column may be in the other unit. Common
practice, no source."""

_N = r"[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+"
_TO = r"(?:-|\u2013|\u2014|\bto\b|\band\b|\.\.+)"
_RANGE = re.compile(rf"(?:between\s+)?({_N})\s*{_TO}\s*({_N})\s*(\D*)", re.IGNORECASE)
_BELOW = re.compile(r"(?:<=|\u2264|=<|<|less than|below|under)\s*(.+)", re.IGNORECASE)
_ABOVE = re.compile(r"(?:>=|\u2265|=>|>|more than|above|over)\s*(.+)", re.IGNORECASE)
_PLUS = re.compile(rf"({_N})\s*\+")
_ABOUT = re.compile(r"(?:~|\u2248|ca\.?|approx\.?|about|around|c\.)\s*(.+)", re.IGNORECASE)
_MAYBE = re.compile(r"(.*[0-9].*?)\s*\(?\?+\)?")
_DILUTED = re.compile(
    rf"(?P<shown>{_N})?[^0-9]*?(?:(?P<one>1)\s*(?::|/|in|to|\+)\s*(?P<parts>[0-9]+)|[x\u00d7*]\s*(?P<times>[0-9]+))\s*\)?",
    re.IGNORECASE,
)
"""A reading with how often its sample was thinned: `8 (1:5)`, `8 x10`, or the thinning alone."""
_DAY_MONTH = re.compile(r"([0-9]{1,2})[-. /]*([a-z]{3,9})\.?", re.IGNORECASE)
_MONTH_NUMBER = re.compile(r"([a-z]{3,9})\.?[-. /]*([0-9]{1,2})", re.IGNORECASE)
_BASIS = re.compile(r"(.*[0-9].*?)\s*(?:as\s+)?\b(?:(NO3|NO2|NH3|NH4)-?(N)|(NO3|NO2|NH3|NH4)|as\s+(N))", re.I)


@dataclass(frozen=True)
class Mend:
    """What became of a cell. text: for the clean file, empty where it holds nothing. key: of the repair or of
    the doubt, empty where the cell was as it should be. choices: what it may be; of a number out of which a
    spreadsheet made a date, whatever order of dates is its own."""

    text: str
    reading: Reading | None = None
    key: str = ""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Context:
    """What helps to understand a cell: the garden, the order of dates, whether the column has hundredths."""

    garden: Garden
    order: Order
    hundredths: bool = False


def mend(text: str, title: Title, day: date, context: Context) -> Mend:
    """What a cell of a column says on a day."""
    plain = " ".join(text.casefold().split())
    if plain in NOT_MEASURED:
        return Mend("", None, "log-repair-not-measured")
    if title.bare and (found := _bare(text, title, day, context)):
        return found
    try:
        found_reading = _reading(text, title, day, context.garden)
    except InputError as error:
        problem = error.problems[0]
    else:
        if re.fullmatch(r"[<>]?\s*[0-9]*,[0-9]+", text):
            now = text.replace(",", ".")
            return Mend(now, replace(found_reading, text=now), "log-repair-comma")
        return Mend(text, found_reading)
    for now, key in _ways(text, plain, title, day, context):
        try:
            found = Mend(now, _reading(now, title, day, context.garden), key)
        except InputError:
            continue
        if key == SPREADSHEET_DATE:
            # In which order the spreadsheet reads dates is known from the days only.
            return replace(found, choices=_numbers(text, title, day, replace(context, order="")))
        return found
    return _doubt(text, title, day, context, problem)


def _reading(text: str, title: Title, day: date, garden: Garden) -> Reading:
    return read.reading(text, title.column, day, garden, "")


def fits(text: str, title: Title, day: date, garden: Garden) -> bool:
    """Whether a text is a reading that a column may have."""
    try:
        _reading(text, title, day, garden)
    except InputError:
        return False
    return True


def _is_number(text: str) -> bool:
    try:
        units.read_number(text)
    except InputError:
        return False
    return True


def _bare(text: str, title: Title, day: date, context: Context) -> Mend | None:
    """A number whose column names no unit; nothing is nothing in any unit."""
    if not _is_number(text):
        return None
    column = title.column
    if column.parameter == "temperature":
        fitting = [label for label in ("C", "F") if fits(f"{text} {label}", title, day, context.garden)]
        if len(fitting) == 1:
            now = f"{text} {fitting[0]}".replace(",", ".")
            return Mend(now, _reading(now, title, day, context.garden), "log-repair-unit")
        return Mend("", None, "log-doubt-unit", tuple(f"{text} {label}" for label in fitting))
    if units.read_number(text) == 0.0 and column.parameter != "weight":
        return None
    choices = tuple(one.written(text) for one in units.common(column.kind))
    return Mend("", None, "log-doubt-unit", choices)


def _ways(text: str, plain: str, title: Title, day: date, context: Context) -> Iterator[tuple[str, str]]:
    """Texts that the cell may stand for with certainty, and the keys of their repairs."""
    column = title.column
    scale = scale_in_use(context.garden, column.parameter, day) if column.in_water else None
    steps = scale.steps if scale is not None and (scale.basis == column.basis or not column.basis) else ()
    if plain in NOTHING and (column.parameter in kits.NITROGEN or column.parameter in OF_THE_DAY):
        yield "0", "log-repair-none"
    if plain in TRACE and column.parameter not in ("ph", "temperature"):
        first = next((step for step in steps if step > 0.0), None)
        if first is not None:
            yield f"<{first:g}", "log-repair-trace"
    if plain in OFF and steps and column.parameter not in ("ph", "temperature"):
        yield f">{steps[-1]:g}", "log-repair-off-scale"
    for pattern, sign in ((_BELOW, "<"), (_ABOVE, ">"), (_PLUS, ">")):
        if (match := pattern.fullmatch(text)) and column.in_water:
            yield f"{sign}{match[1].replace(',', '.')}", "log-repair-bound"
    if match := _RANGE.fullmatch(text):
        low, high = (float(part.replace(",", ".")) for part in match.groups()[:2])
        if low < high and column.in_water:
            yield f"{low:.6g}-{high:.6g} {match[3].strip()}".strip(), "log-repair-range"
        elif low < high and column.parameter not in read.COUNTS:
            yield f"{(low + high) / 2.0:.6g} {match[3].strip()}".strip(), "log-repair-middle"
    for pattern in (_ABOUT, _MAYBE):
        if match := pattern.fullmatch(text):
            yield match[1].replace(",", "."), "log-repair-about"
    if column.parameter == "ph" and (match := re.fullmatch(rf"(?:ph\s*)?({_N})(?:\s*ph)?", text, re.I)):
        yield match[1].replace(",", "."), "log-repair-word"
    if column.parameter == "temperature" and column.unit is not None and _is_number(text):
        # Only where the number cannot be in the unit of the column, which is why it comes here at all.
        other = "F" if column.unit.key == "c" else "C"
        yield f"{text.replace(',', '.')} {other}", "log-repair-other-unit"
    if column.parameter in kits.NITROGEN and (now := _other_basis(text, column.as_counted_by(scale))):
        yield now, "log-repair-basis"
    if len(numbers := _numbers(text, title, day, context)) == 1:
        yield numbers[0], SPREADSHEET_DATE


def _numbers(text: str, title: Title, day: date, context: Context) -> tuple[str, ...]:
    return dates_as_numbers(text, context, lambda one: fits(one, title, day, context.garden))


def _other_basis(text: str, column: Column) -> str:
    """A cell that says what its number counts, in the column's own basis; empty where either is not told."""
    match = _BASIS.fullmatch(text)
    basis = column.basis
    if match is None or basis not in units.N_BASES or column.unit is None:
        return ""
    told = "N" if match[3] or match[5] else (match[4] or "").upper()
    try:
        value = units.read(match[1], column.kind, "", column.unit.key)
    except InputError:
        return ""
    as_counted = units.from_n(units.as_n(value, told), basis)
    return f"{column.unit.from_base(as_counted):.4g}"


def dates_as_numbers(text: str, context: Context, fitting: Callable[[str], bool]) -> tuple[str, ...]:
    """Numbers from which a spreadsheet can have made a date: 5-Jun from 5.6, Jul 33 from 7.33.

    Where dates are written month first it was 6.5. A column with hundredths could mean 5.06 as well.
    """
    pairs: list[tuple[int, int]] = []
    by_month: list[str] = []
    if (match := _DAY_MONTH.fullmatch(text)) and month_of(match[2]):
        day, month = int(match[1]), month_of(match[2])
        pairs = [(day, month), (month, day)]
    elif (match := _MONTH_NUMBER.fullmatch(text)) and month_of(match[1]):
        month, number = month_of(match[1]), int(match[2])
        if number > 31:
            by_month = [f"{month}.{number:02d}"]
        else:
            pairs = [(number, month), (month, number)]
    elif re.fullmatch(r"[0-9]{1,4}[-./][0-9]{1,2}[-./][0-9]{1,4}", text):
        one = ways(text)
        for found in {*one.fixed, one.day_month, one.month_day} - {None}:
            assert found is not None
            pairs += [(found.day, found.month), (found.month, found.day)]
        if one.day_month and one.month_day and context.order:
            kept = one.day_month if context.order == "day-month" else one.month_day
            pairs = [(kept.day, kept.month), (kept.month, kept.day)]
    if context.order and len(pairs) == 2:
        pairs = pairs[:1] if context.order == "day-month" else pairs[1:]
    numbers = [f"{first}.{second}" for first, second in pairs]
    if context.hundredths:
        numbers += [f"{first}.{second:02d}" for first, second in pairs if second < 10]
    return tuple(dict.fromkeys(one for one in (*numbers, *by_month) if fitting(one)))


def _undiluted(match: re.Match[str]) -> tuple[str, ...]:
    """What the water itself may hold: 1:5 means one part in five to some, one part and five to others."""
    if match["shown"] is None:
        return ()
    shown = float(match["shown"].replace(",", "."))
    times = (
        [float(match["times"])] if match["times"] else [float(match["parts"]), float(match["parts"]) + 1.0]
    )
    return tuple(f"{shown * one:.6g}" for one in times)


def _doubt(text: str, title: Title, day: date, context: Context, problem: Problem) -> Mend:
    def fitting(one: str) -> bool:
        return fits(one, title, day, context.garden)

    diluted = _DILUTED.fullmatch(text) if title.column.in_water else None
    if diluted is not None:
        return Mend("", None, "log-doubt-diluted", tuple(one for one in _undiluted(diluted) if fitting(one)))
    numbers = dates_as_numbers(text, context, fitting)
    if numbers:
        return Mend("", None, "log-doubt-spreadsheet-date", numbers)
    if problem.key == "problem-ambiguous-number":
        numbers = tuple(one for one in problem.allowed if fitting(one))
        if title.bare:
            # One question for the number and its unit.
            common = units.common(title.column.kind)
            written = [one.written(number) for number in numbers for one in common]
            numbers = tuple(one for one in written if fitting(one))
        return Mend("", None, "log-doubt-number", numbers)
    if problem.key == "problem-range":
        # A point that was lost is the usual way to 68 for a pH of 6.8.
        digits = re.fullmatch(r"[0-9]{2,4}", text)
        choices = (f"{text[:-1]}.{text[-1]}", f"{text[:-2]}.{text[-2:]}") if digits else ()
        return Mend("", None, "log-doubt-impossible", tuple(one for one in choices if fitting(one)))
    if problem.key == "problem-not-whole":
        return Mend("", None, "log-doubt-whole")
    if problem.key in UNIT_PROBLEMS:
        return Mend("", None, "log-doubt-cell-unit")
    return Mend("", None, "log-doubt-not-read")
