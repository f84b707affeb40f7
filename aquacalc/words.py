"""Keys and amounts to sentences, in the reader's language and units.

All text that code produces for readers stands in one catalogue a language, `data/words.LANGUAGE.ftl`
(Fluent). Amounts go in as finished text, so that numbers are rounded in one place; what a sentence tells by
itself (`$told-NAME`) stands with its source in `data/told.csv`. A key that the
catalogue does not hold, and an amount that a sentence asks for and was not given, is a `KeyError`.

Texts are plain: names typed by the grower come through as they are, and whoever writes HTML escapes them.
Between a number and its unit stands a no-break space.
"""

import datetime
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from aquacalc import tables, units
from aquacalc.advice.finding import Amount, Finding
from aquacalc.errors import Problem
from aquacalc.garden.model import ReaderChoice
from aquacalc.judge.levels import Level

Reader = ReaderChoice
"""For whom a text is made: language, units (`metric` or `us`), paper, currency."""

FALLBACK_LANGUAGE = "en"
NO_BREAK_SPACE = "\u00a0"
LONGEST_QUOTE = 60
LONGEST_AMOUNT = 1000
MOST_CHOICES = 12
DIGITS = 2

# Numbers of five digits and more are parted by threes with a space, never by a comma or point: SI brochure,
# 9th edition, 5.4.4. The no-break space stands in for the thin one, which some terminals cannot show.
GROUPED_FROM = 10_000

NAME_TABLES = {"species": "species", "crop": "crops", "medium": "media", "chemical": "chemicals"}
"""Kinds of amount that are names, and the table that holds them."""


TOLD = re.compile(r"\$told-([a-z0-9-]+)")
"""How a text names an amount of `data/told.csv`."""

PARTS = ("title", "why", "action", "avoid")


@dataclass(frozen=True)
class Spoken:
    """A finding in words: what is the matter, why it matters, what to do, what not to do."""

    title: str
    why: str
    action: str
    avoid: str


# --- the catalogue ---------------------------------------------------------------------------------------


@cache
def languages() -> tuple[str, ...]:
    """The languages that have a catalogue.

    >>> "en" in languages()
    True
    """
    return tuple(sorted(path.name.split(".")[1] for path in tables.DATA.glob("words.*.ftl")))


@cache
def _sources(language: str) -> dict[str, str]:
    """The text of each message as it stands in the catalogue, from its key to where the next one begins."""
    text = (tables.DATA / f"words.{language}.ftl").read_text("utf-8")
    starts = [*re.finditer(r"^([a-z][a-z0-9-]*) =", text, re.MULTILINE)]
    ends = [start.start() for start in starts[1:]] + [len(text)]
    return {start[1]: text[start.start() : end] for start, end in zip(starts, ends, strict=True)}


@cache
def _message(language: str, key: str) -> tuple[Any, Any]:
    """A bundle that holds the message of a key, and the message.

    Only what is said is parsed: the whole catalogue takes a third of a second. Messages therefore do not
    refer to each other.
    """
    # Imported here because it is slow to load and a calculation never needs it.
    from fluent.runtime import FluentResource

    if key not in _sources(language):
        raise KeyError(f"the catalogue has no {key!r}")
    bundle = _bundle(language)
    bundle.add_resource(FluentResource(_sources(language)[key]))
    return bundle, bundle.get_message(key)


@cache
def _bundle(language: str) -> Any:
    from fluent.runtime import FluentBundle

    return FluentBundle([language], use_isolating=False)


def _spoken(key: str, attribute: str, reader: Reader, amounts: dict[str, str | int | float]) -> str:
    language = reader.language if reader.language in languages() else FALLBACK_LANGUAGE
    bundle, message = _message(language, key)
    pattern = message.attributes.get(attribute) if attribute else message.value
    if pattern is None:
        raise KeyError(f"the catalogue's {key!r} has no {attribute or 'text of its own'}")
    amounts = _told(language, key, reader) | amounts
    # Fluent refuses long amounts, but a list grows with the garden: a mark holds the place of each.
    long = {name: one for name, one in amounts.items() if isinstance(one, str) and len(one) > LONGEST_AMOUNT}
    marks = {name: f"\ue000{number}\ue001" for number, name in enumerate(long)}
    text, faults = bundle.format_pattern(pattern, amounts | marks)
    if faults:
        raise KeyError(f"{key}: {'; '.join(str(fault) for fault in faults)}")
    for name, mark in marks.items():
        text = text.replace(mark, long[name])
    return str(text)


def _told(language: str, key: str, reader: Reader) -> dict[str, str | int | float]:
    """The amounts that a text tells by itself: those of `data/told.csv` that it names as `$told-NAME`."""
    return {f"told-{name}": told(name, reader) for name in _names_told(language, key)}


@cache
def _names_told(language: str, key: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(TOLD.findall(_sources(language)[key])))


@cache
def told(name: str, reader: Reader) -> str:
    """An amount that advice tells, from `data/told.csv`, in the reader's units.

    >>> told("vessel-aired", Reader()).replace(NO_BREAK_SPACE, " ")
    '12 to 24 hours'
    """
    row = tables.load("told").row(name.replace("-", "_"))
    low, high = _end(row, "low"), _end(row, "high")
    kind = row.text("kind")
    return quantity(low, kind, reader) if math.isnan(high) else span(low, high, kind, reader)


def _end(row: tables.Row, end: str) -> float:
    """One end of an amount, which may stand in another table; NaN where there is none."""
    if not row.text(f"{end}_of"):
        return row.number(end)
    name, key, column = row.text(f"{end}_of").split()
    return tables.load(name).row(key).number(column)


def say(key: str, reader: Reader, /, **amounts: str | int) -> str:
    """The text of a key in the reader's language.

    amounts: what the text asks for by name, as finished text; whole numbers only where the text chooses
    between one and many by them. Raises `KeyError` for an unknown key or a missing amount.

    >>> say("level-act-today", Reader())
    'act today'
    """
    return _spoken(key, "", reader, dict(amounts))


def level(level: Level, reader: Reader) -> str:
    """The word of a level."""
    return say(f"level-{level.replace(' ', '-')}", reader)


def limit(key: str, reader: Reader) -> str:
    """The name of a limit of the balance.

    >>> limit("power_cut", Reader())
    'power cut'
    """
    return say(f"limit-{key.replace('_', '-')}", reader)


def name(kind: str, key: str) -> str:
    """The name of a `species`, `crop`, `medium` or `chemical` as its table has it."""
    return tables.load(NAME_TABLES[kind]).row(key).text("name")


# --- numbers and units -----------------------------------------------------------------------------------


def number(value: float, digits: int = DIGITS, decimals: int | None = None) -> str:
    """A number with at most `digits` significant digits, and never more nor less than `decimals` decimals.

    >>> number(1234.5), number(0.0467), number(2.0), number(7, decimals=1), number(3.4, decimals=0)
    ('1200', '0.047', '2', '7.0', '3')
    """
    return _printed(value, _place(value, digits), decimals)


def _place(value: float, digits: int) -> int:
    # Decimals to round to (negative: tens, hundreds) so that `digits` significant digits remain. Rounding
    # may carry into one more digit, as 0.996 does, so the place is found on the rounded number.
    if value == 0.0:
        return 0
    rounded = float(f"{value:.{digits - 1}e}")
    return digits - 1 - math.floor(math.log10(abs(rounded)))


def _printed(value: float, place: int, decimals: int | None) -> str:
    if decimals is None:
        text = f"{round(value, place):.{max(place, 0)}f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
    else:
        text = f"{round(value, min(place, decimals)):.{decimals}f}"
    if float(text) == 0.0:
        text = text.removeprefix("-")
    whole, point, rest = text.partition(".")
    if abs(float(text)) >= GROUPED_FROM:
        whole = f"{int(whole):,}".replace(",", NO_BREAK_SPACE)
    return whole + point + rest


@dataclass(frozen=True)
class _Shown:
    """The unit in which a kind of quantity is shown to a reader; empty where it has none."""

    kind: str
    given: str
    unit: str
    per: str

    def convert(self, value: float) -> float:
        same = self.unit == self.given
        shown = value if same else units.to(value / units.to(1.0, self.given), self.unit)
        return shown / units.to(1.0, self.per) if self.per else shown

    def label(self, plural: float, reader: Reader) -> str:
        if not self.unit:
            return ""
        key = "-".join(part for part in ("unit", self.kind, self.unit, self.per) if part)
        n = int(plural) if float(plural).is_integer() else plural
        return _spoken(key.replace("_", "-"), "", reader, {"n": n})


def _shown(kind: str, reader: Reader, low: float, high: float) -> _Shown:
    # The smaller unit where the number would be a fraction of the larger one.
    row = tables.load("quantities").row(kind)
    given, per = row.text("given"), row.text(f"{reader.units}_per")
    shown = _Shown(kind, given, row.text(reader.units), per)
    small = row.text(f"{reader.units}_small")
    least, most = sorted((abs(shown.convert(low)), abs(shown.convert(high))))
    if small and most > 0.0 and least < 1.0 and (most < 2.0):
        return _Shown(kind, given, small, per)
    return shown


def _rounding(kind: str, digits: int | None) -> tuple[int, int | None]:
    row = tables.load("quantities").row(kind)
    decimals = row.number("decimals")
    known = int(row.number("digits")) if digits is None else digits
    return known, None if math.isnan(decimals) else int(decimals)


def quantity(value: float, kind: str, reader: Reader, digits: int | None = None) -> str:
    """A value with its unit, in the reader's units and with no more digits than are known.

    value: in the unit that `data/quantities.csv` gives for the kind (metric).
    digits: significant digits; those of the table where not given (mostly 2).
    NaN reads as `not known`, infinity as `without end`.

    >>> quantity(0.58, "time", Reader()).replace(NO_BREAK_SPACE, " ")
    '35 minutes'
    """
    if not math.isfinite(value):
        return say("not-known" if math.isnan(value) else "without-end", reader)
    shown = _shown(kind, reader, value, value)
    figure = shown.convert(value)
    text = number(figure, *_rounding(kind, digits))
    return NO_BREAK_SPACE.join(part for part in (text, _label(shown, text, reader)) if part)


def span(low: float, high: float, kind: str, reader: Reader, digits: int | None = None) -> str:
    """A range with its unit; one value where both ends round to the same.

    Both ends are rounded to the place of the higher one, so that neither looks better known; a low end that
    would vanish keeps its first digit.

    >>> span(58.0, 112.0, "feed", Reader()).replace(NO_BREAK_SPACE, " ")
    '60 to 110 g/day'
    """
    if math.isnan(low) or math.isnan(high):
        return say("not-known", reader)
    if math.isinf(low):
        return quantity(low, kind, reader, digits)
    if math.isinf(high):
        return say("at-least", reader, amount=quantity(low, kind, reader, digits))
    shown = _shown(kind, reader, low, high)
    small, large = shown.convert(low), shown.convert(high)
    most, decimals = _rounding(kind, digits)
    place = _place(max(small, large, key=abs), most)
    ends = [_printed(end, max(place, _place(end, 1)), decimals) for end in (small, large)]
    text = ends[0] if ends[0] == ends[1] else say("range", reader, low=ends[0], high=ends[1])
    return NO_BREAK_SPACE.join(part for part in (text, _label(shown, ends[1], reader)) if part)


def _label(shown: _Shown, figure: str, reader: Reader) -> str:
    # Singular and plural follow the printed figure, not the exact one.
    return shown.label(float(figure.replace(NO_BREAK_SPACE, "")), reader)


def unit(kind: str, reader: Reader) -> str:
    """The label of the unit in which a kind is shown on axes and in table heads.

    >>> unit("feed", Reader())
    'g/day'
    """
    return _axis(kind, reader).label(DIGITS, reader)


def convert(value: float, kind: str, reader: Reader) -> float:
    """A value in the unit of `unit(kind, reader)`.

    >>> convert(20.0, "temperature", Reader(units="us"))
    68.0
    """
    return _axis(kind, reader).convert(value)


def _axis(kind: str, reader: Reader) -> _Shown:
    row = tables.load("quantities").row(kind)
    return _Shown(kind, row.text("given"), row.text(reader.units), row.text(f"{reader.units}_per"))


# --- dates, months, lists --------------------------------------------------------------------------------


def month(number: int, reader: Reader, short: bool = False) -> str:
    """The name of a month, 1 to 12.

    >>> month(6, Reader()), month(6, Reader(), short=True)
    ('June', 'Jun')
    """
    return say(f"month-short-{number}" if short else f"month-{number}", reader)


def when(numbers: Sequence[int], reader: Reader) -> str:
    """The same as part of a sentence.

    >>> when((6,), Reader()), when((11, 12, 1), Reader())
    ('in June', 'from November to January')
    """
    if len(numbers) == 12:
        return say("when-all-year", reader)
    if len(numbers) == 1:
        return say("when-one", reader, month=month(numbers[0], reader))
    return say("when-span", reader, low=month(numbers[0], reader), high=month(numbers[-1], reader))


def date(day: datetime.date, reader: Reader) -> str:
    """A date with its month in letters, so that no reader takes the day for the month.

    >>> date(datetime.date(2027, 4, 3), Reader())
    '3 April 2027'
    """
    key = "date-us" if reader.units == "us" else "date"
    return say(key, reader, day=str(day.day), month=month(day.month, reader), year=str(day.year))


def during(first: datetime.date, last: datetime.date, reader: Reader) -> str:
    """A span of days, both inclusive, as part of a sentence; a year that both share is said once.

    >>> during(datetime.date(2027, 6, 3), datetime.date(2027, 7, 18), Reader())
    'from 3 June to 18 July 2027'
    >>> during(datetime.date(2027, 6, 3), datetime.date(2027, 6, 3), Reader(units="us"))
    'on June 3, 2027'
    """
    end = date(last, reader)
    if first == last:
        return say("when-day", reader, day=end)
    return say("when-days", reader, first=_begin(first, last, reader), last=end)


def _begin(first: datetime.date, last: datetime.date, reader: Reader) -> str:
    if first.year != last.year:
        return date(first, reader)
    key = "date-short-us" if reader.units == "us" else "date-short"
    return say(key, reader, day=str(first.day), month=month(first.month, reader))


def day(day: datetime.date, reader: Reader) -> str:
    """A day and its month in short letters, for charts and lists whose year is known.

    >>> day(datetime.date(2027, 4, 3), Reader()), day(datetime.date(2027, 4, 3), Reader(units="us"))
    ('3 Apr', 'Apr 3')
    """
    key = "day-us" if reader.units == "us" else "day"
    return say(key, reader, day=str(day.day), month=month(day.month, reader, short=True))


def listed(items: Sequence[str], reader: Reader, last: str = "and") -> str:
    """Several things in one sentence; `last` is `and` or `or`.

    >>> listed(("metric", "us"), Reader(), "or")
    'metric or us'
    """
    if len(items) < 2:
        return "".join(items)
    return say(f"list-{last}", reader, rest=", ".join(items[:-1]), last=items[-1])


# --- problems and findings -------------------------------------------------------------------------------


def problem(problem: Problem, reader: Reader) -> str:
    """One sentence on one line: where, what was found, what is allowed, the nearest known name.

    The catalogue's sentence may use `$found`, `$allowed` (the choices), and for a range `$low`, `$high`,
    `$measure`.
    """
    allowed = tuple(_quotable(text) for text in problem.allowed)
    low, high, measure = (*allowed, "", "", "")[:3]
    if len(allowed) > MOST_CHOICES:
        rest = str(len(allowed) - MOST_CHOICES)
        choices = say("list-more", reader, rest=", ".join(allowed[:MOST_CHOICES]), count=rest)
    else:
        choices = listed(allowed, reader, "or")
    found = _quotable(problem.found)
    text = say(problem.key, reader, found=found, allowed=choices, low=low, high=high, measure=measure)
    if problem.nearest:
        text = say("problem-nearest", reader, sentence=text, nearest=_quotable(problem.nearest))
    if problem.where:
        text = say("problem-at", reader, place=_quotable(problem.where), sentence=text)
    return text.rstrip() + say("full-stop", reader)


def _quotable(text: str) -> str:
    # One line that a terminal can show, however odd the file was.
    line = " ".join("".join(c if c.isprintable() else " " for c in text[: 2 * LONGEST_QUOTE]).split())
    return line if len(line) <= LONGEST_QUOTE else line[: LONGEST_QUOTE - 3] + "..."


def finding(finding: Finding, reader: Reader) -> Spoken:
    """The four texts of a finding.

    Each amount goes in under its name: a value as quantity, a band as range under `NAME` and its middle under
    `NAME_middle`. `$subject` is the part of the garden that it is about, `$when` says when (`in June`, `from
    3 June to 18 July 2027`).
    """
    quantities = tables.load("quantities").keys()
    amounts: dict[str, str | int | float] = {"subject": finding.subject}
    if finding.months:
        amounts["when"] = when(finding.months, reader)
    if finding.first is not None:
        amounts["when"] = during(finding.first, finding.last or finding.first, reader)
    for one in finding.amounts:
        amounts[one.name] = amount(one, reader)
        if one.kind in quantities:
            amounts[f"{one.name}_middle"] = quantity(one.number, one.kind, reader)
    return Spoken(*(_spoken(finding.key, part, reader, amounts) for part in PARTS))


def amount(amount: Amount, reader: Reader) -> str:
    """One amount of a finding as text."""
    if amount.kind == "text":
        return str(amount.value)
    if amount.kind in NAME_TABLES:
        return name(amount.kind, str(amount.value))
    if amount.kind == "limit":
        return limit(str(amount.value), reader)
    if amount.kind == "month":
        return month(int(amount.number), reader)
    if amount.kind == "words":
        return listed([say(f"word-{key}", reader) for key in str(amount.value).split()], reader)
    if amount.kind == "crops":
        return listed([name("crop", key) for key in str(amount.value).split()], reader, "or")
    if amount.kind in ("date", "dates"):
        days = [datetime.date.fromisoformat(day) for day in str(amount.value).split()]
        return date(days[0], reader) if amount.kind == "date" else during(days[0], days[-1], reader)
    if amount.banded:
        return span(amount.low, amount.high, amount.kind, reader)
    return quantity(amount.number, amount.kind, reader)
