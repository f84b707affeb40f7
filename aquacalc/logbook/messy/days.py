"""Days as people write them. A day that can be read in two ways stays a question until something decides it.

What decides: the line `# dates: day-month`; else the other rows of the file, where one of them can only be
read in one order and none only in the other. A day without its year takes the one year that fits between the
rows above and below.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from aquacalc.logbook.mended import Doubt, Repair
from aquacalc.logbook.messy.file import Order

FIRST_YEAR, LAST_YEAR = 1980, 2100
SERIAL_STARTS = (date(1899, 12, 30), date(1904, 1, 1))
"""Days from which spreadsheets count; a bare number of five digits is one of them."""

_TIME = re.compile(r"[T ]\s*[0-9]{1,2}[:.][0-9]{2}(?::[0-9]{2}(?:\.[0-9]+)?)?\s*(?:[ap]m|Z)?$", re.IGNORECASE)
_ISO = re.compile(r"([0-9]{4})\s*[-./ ]\s*([0-9]{1,2})\s*[-./ ]\s*([0-9]{1,2})\.?")
_NUMBERS = re.compile(r"([0-9]{1,2})\s*[-./ ]\s*([0-9]{1,2})\s*[-./ ]\s*([0-9]{4}|[0-9]{2})")
_NO_YEAR = re.compile(r"([0-9]{1,2})\s*[-./]\s*([0-9]{1,2})\.?")
_DAY = r"([0-9]{1,2})(?:st|nd|rd|th)?"
_IN_LETTERS = r"([a-z]{3,9})\.?"
_DAY_NAMED = re.compile(rf"{_DAY}[-. /]*{_IN_LETTERS}[-, /]*([0-9]{{4}}|[0-9]{{2}})?", re.IGNORECASE)
_NAMED_DAY = re.compile(rf"{_IN_LETTERS}[- /]*{_DAY}(?:[-, /]+([0-9]{{4}}|[0-9]{{2}}))?", re.IGNORECASE)
_WEEKDAY = re.compile(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+", re.IGNORECASE)


@dataclass(frozen=True)
class Ways:
    """How a day can be read. fixed: whatever the order; else by order; no_year: month and day of each."""

    fixed: tuple[date, ...] = ()
    day_month: date | None = None
    month_day: date | None = None
    no_year: tuple[tuple[int, int], ...] = ()

    @property
    def one(self) -> date | None:
        """The day where there is no question."""
        if len(self.fixed) == 1:
            return self.fixed[0]
        found = {self.day_month, self.month_day} - {None}
        return next(iter(found)) if len(found) == 1 else None


def ways(text: str) -> Ways:
    """How a text can be read as a day.

    >>> ways("3/4/27").one is None, ways("15/4/27").one, ways("2027-3-4").one.isoformat()
    (True, datetime.date(2027, 4, 15), '2027-03-04')
    """
    tidy = _TIME.sub("", _WEEKDAY.sub("", text.strip())).strip()
    if match := _ISO.fullmatch(tidy):
        return _fixed(_date(int(match[1]), int(match[2]), int(match[3])))
    if match := _NUMBERS.fullmatch(tidy):
        first, second, year = int(match[1]), int(match[2]), _year(match[3])
        return Ways((), _date(year, second, first), _date(year, first, second))
    named = _named(tidy)
    if named is not None:
        year_text, month, day = named
        return _fixed(_date(_year(year_text), month, day)) if year_text else Ways(no_year=((month, day),))
    if match := _NO_YEAR.fullmatch(tidy):
        first, second = int(match[1]), int(match[2])
        found = [(month, day) for month, day in ((second, first), (first, second)) if _date(2000, month, day)]
        return Ways(no_year=tuple(dict.fromkeys(found)))
    if re.fullmatch(r"[2-6][0-9]{4}", tidy):
        return Ways(tuple(start + timedelta(days=int(tidy)) for start in SERIAL_STARTS))
    return Ways()


def _fixed(day: date | None) -> Ways:
    return Ways(() if day is None else (day,))


def _named(tidy: str) -> tuple[str, int, int] | None:
    """Year, month and day of a text with the month in letters."""
    match = _DAY_NAMED.fullmatch(tidy)
    if match and (month := month_of(match[2])):
        return match[3] or "", month, int(match[1])
    match = _NAMED_DAY.fullmatch(tidy)
    if match and (month := month_of(match[1])):
        return match[3] or "", month, int(match[2])
    return None


def month_of(word: str) -> int:
    """The month of a word, 0 where it is none.

    >>> month_of("Sept"), month_of("June"), month_of("Monday")
    (9, 6, 0)
    """
    full = ("january", "february", "march", "april", "may", "june", "july", "august", "september", "october")
    plain = word.lower()
    for number, name in enumerate((*full, "november", "december"), start=1):
        if len(plain) >= 3 and name.startswith(plain):
            return number
    return 0


def _year(text: str) -> int:
    return int(text) + (2000 if len(text) == 2 else 0)


def _date(year: int, month: int, day: int) -> date | None:
    if not FIRST_YEAR <= year <= LAST_YEAR:
        return None
    try:
        return date(year, month, day)
    except ValueError:
        return None


def order_of(texts: Sequence[str]) -> Order:
    """The order that is certain from the data; empty where no row decides, or where rows contradict."""
    read = [one for one in map(ways, texts) if not one.fixed and not one.no_year]
    days_first = any(one.day_month and not one.month_day for one in read)
    months_first = any(one.month_day and not one.day_month for one in read)
    if days_first == months_first:
        return ""
    return "day-month" if days_first else "month-day"


def days(
    cells: Mapping[int, str], column: str, order: Order
) -> tuple[dict[int, date], list[Repair], list[Doubt]]:
    """The day of each row, the repairs, and the rows whose day nobody can tell.

    cells: text by number of the row, in the order of the file. order: as declared or as `order_of` has it.
    """
    read = {row: ways(text) for row, text in cells.items()}
    found: dict[int, date] = {}
    for row, one in read.items():
        by_order = {"day-month": one.day_month, "month-day": one.month_day, "": None}[order]
        day = one.one or by_order
        if day is not None:
            found[row] = day
    for row, day in _with_year(read, found, order).items():
        found[row] = day
    repairs, doubts = [], []
    for row, text in cells.items():
        if row not in found:
            doubts.append(_doubt(row, column, text, read[row]))
        elif found[row].isoformat() != text:
            repairs.append(Repair(row, column, "log-repair-date", text, found[row].isoformat()))
    return found, repairs, doubts


def _with_year(read: Mapping[int, Ways], found: Mapping[int, date], order: Order) -> dict[int, date]:
    """Rows without a year, and those that a spreadsheet counts, where one day fits between the neighbours."""
    rows = list(read)
    known = dict(found)
    added: dict[int, date] = {}
    below: dict[int, date | None] = {}
    following: date | None = None
    for row in reversed(rows):
        below[row] = following
        following = found.get(row, following)
    above: date | None = None
    for row in rows:
        if row in known:
            above = known[row]
            continue
        after = below[row]
        candidates = _candidates(read[row], order, above, after)
        if above and after:
            fitting = [day for day in candidates if above <= day <= after]
            if len(fitting) == 1:
                added[row] = above = fitting[0]
    return added


def _candidates(one: Ways, order: Order, above: date | None, below: date | None) -> list[date]:
    if one.fixed:
        return list(one.fixed)
    pairs = one.no_year
    if len(pairs) == 2 and order:
        pairs = pairs[:1] if order == "day-month" else pairs[1:]
    years = sorted({day.year for day in (above, below) if day})
    spread = range(years[0], years[-1] + 1) if years else range(0)
    return [day for month, on in pairs for year in spread if (day := _date(year, month, on))]


def _doubt(row: int, column: str, text: str, one: Ways) -> Doubt:
    if not text:
        return Doubt(row, column, "log-doubt-date-missing", "")
    choices = [day.isoformat() for day in (*one.fixed, one.day_month, one.month_day) if day]
    if one.day_month and one.month_day:
        return Doubt(row, column, "log-doubt-date-order", text, tuple(choices))
    if one.no_year:
        return Doubt(row, column, "log-doubt-date-year", text)
    return Doubt(row, column, "log-doubt-date", text, tuple(choices))
