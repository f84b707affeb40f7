"""Kinds of values in a garden file: how each is read, and what is said of one that cannot be.

A quantity is text with a unit (`volume = "300 US gal"`) or a bare number under a key that names the unit
(`volume_l = 1200`). Every validator raises a pydantic error that carries problems without their place; the
place is added where the whole file is checked.
"""

import difflib
import math
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import cache
from itertools import pairwise
from typing import Annotated, Any, ClassVar, get_args

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler, model_validator
from pydantic.fields import FieldInfo
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from aquacalc import tables, units
from aquacalc.constants import MONTHS_PER_YEAR
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import MonthDay

LONGEST_NAME = 80
LONGEST_TEXT = 2000

JsonSchema = dict[str, Any]


@dataclass(frozen=True)
class Typed:
    """A value under a key that names its unit, or the keys of a value that is given more than once."""

    value: object
    unit_key: str
    keys: tuple[str, ...]


UNREAD = object()
"""Stands in the place of a value that could not be read while the parts of a file are compared."""


class Reading:
    """A validator of one field: `read` gives the value or raises `InputError`."""

    unread: ClassVar[object] = None
    """What a value that could not be read counts as; comparing with it finds nothing."""

    def read(self, value: object) -> object:
        """The value inside the package."""
        raise NotImplementedError

    def json(self) -> JsonSchema:
        """What the file may hold, as JSON Schema."""
        raise NotImplementedError

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        def validate(value: object) -> object:
            if value is UNREAD:
                return self.unread
            try:
                return self.read(value)
            except InputError as error:
                raise PydanticCustomError("problems", "problems", {"problems": error.problems}) from error

        return core_schema.no_info_plain_validator_function(validate)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchema:
        return self.json()


@dataclass(frozen=True)
class Bounds:
    """What is refused: lowest and highest value, in the base unit, and how they are said."""

    low: float
    high: float
    said: tuple[str, str, str]

    def check(self, value: float, found: str) -> float:
        """The value, if it lies within."""
        if not self.low <= value <= self.high:
            raise InputError(Problem("problem-range", "", found, self.said))
        return value


@cache
def bounds(key: str, kind: str = "") -> Bounds:
    """Beyond these an input is refused: a row of `data/input_bounds.csv`, in the base unit of `kind`."""
    row = tables.load("input_bounds").row(key)
    low, high = row.number("refuse_low"), row.number("refuse_high")
    unit = row.text("unit")
    said = (f"{low:g}", f"{high:g}", "" if unit in {"pH", "ratio", "count"} else unit)
    if kind:
        low, high = (units.read(f"{end!r} {unit}", kind) for end in (low, high))
    return Bounds(low, high, said)


@dataclass(frozen=True)
class Quantity(Reading):
    """A quantity of a kind of `units.csv`, within the bounds of a row of `input_bounds.csv`."""

    kind: str
    bound: str
    unread: ClassVar[object] = math.nan

    def read(self, value: object) -> float:
        """The amount in the base unit of its kind."""
        unit_key = None
        if isinstance(value, Typed):
            if len(value.keys) > 1:
                raise InputError(Problem("problem-given-twice", "", " and ".join(value.keys)))
            unit_key = value.unit_key
            value = value.value
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise InputError(Problem("problem-not-a-number", "", shown(value)))
        try:
            amount = units.read(value, self.kind, unit=unit_key)
        except InputError as error:
            raise InputError(self._with_keys(one) for one in error.problems) from error
        return bounds(self.bound, self.kind).check(amount, shown(value))

    def _with_keys(self, problem: Problem) -> Problem:
        # A bare number becomes right by the name of its key as well; `{key}` is filled in with the place.
        if problem.key != "problem-unit-missing":
            return problem
        text = tuple(f'"{choice}"' for choice in problem.allowed[:2])
        return replace(
            problem, allowed=(*text, *(f"{{key}}_{unit.suffix}" for unit in units.common(self.kind)))
        )

    def json(self) -> JsonSchema:
        """Text with a unit."""
        return {"type": "string"}

    def json_under_unit(self, unit: units.Unit) -> JsonSchema:
        """A bare number, under the key that names the unit."""
        return {"type": "number", "description": f"in {unit.label or 'parts of one'}"}


@dataclass(frozen=True)
class Monthly(Quantity):
    """Twelve monthly quantities, January first."""

    unread: ClassVar[object] = (math.nan,) * MONTHS_PER_YEAR

    def read(self, value: object) -> Any:
        """The twelve amounts in the base unit of their kind."""
        typed = value if isinstance(value, Typed) else Typed(value, "", ())
        if len(typed.keys) > 1:
            raise InputError(Problem("problem-given-twice", "", " and ".join(typed.keys)))
        if not isinstance(typed.value, list):
            raise InputError(Problem("problem-months", "", shown(typed.value)))
        if len(typed.value) != MONTHS_PER_YEAR:
            raise InputError(Problem("problem-months", "", str(len(typed.value))))
        found, problems = [], []
        for month, one in enumerate(typed.value, start=1):
            try:
                found.append(super().read(Typed(one, typed.unit_key, ("",)) if typed.unit_key else one))
            except InputError as error:
                problems += [replace(problem, where=f"{month}") for problem in error.problems]
        if problems:
            raise InputError(problems)
        return tuple(found)

    def json(self) -> JsonSchema:
        """Twelve texts with a unit."""
        return {
            "type": "array",
            "items": {"type": "string"},
            "minItems": MONTHS_PER_YEAR,
            "maxItems": MONTHS_PER_YEAR,
        }

    def json_under_unit(self, unit: units.Unit) -> JsonSchema:
        """Twelve bare numbers."""
        number = {"type": "number"}
        return {"type": "array", "items": number, "minItems": MONTHS_PER_YEAR, "maxItems": MONTHS_PER_YEAR}


@dataclass(frozen=True)
class Number(Reading):
    """A number without a unit, within a row of `input_bounds.csv`; `whole` where it is counted."""

    bound: str
    whole: bool = False
    unread: ClassVar[object] = math.nan

    def read(self, value: object) -> float | int:
        """The number."""
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise InputError(Problem("problem-not-a-number", "", shown(value)))
        if isinstance(value, str):
            number = units.read_number(value)
        elif not abs(value) <= units.LARGEST:
            key = "problem-too-large" if abs(value) > units.LARGEST else "problem-not-finite"
            raise InputError(Problem(key, "", shown(value)))
        else:
            number = float(value)
        if self.whole and number != math.floor(number):
            raise InputError(Problem("problem-not-whole", "", shown(value)))
        bounds(self.bound).check(number, shown(value))
        return int(number) if self.whole else number

    def json(self) -> JsonSchema:
        """A number, or text that holds one."""
        return {"type": ["integer" if self.whole else "number", "string"]}


@dataclass(frozen=True)
class Known(Reading):
    """A key of a table; its common name is read as well."""

    table: str

    def read(self, value: object) -> str:
        """The key of the table."""
        known = tables.load(self.table)
        typed = _text(value, LONGEST_NAME)
        for row in known:
            if _plain(typed) in (_plain(row.key), _plain(row.text("name"))):
                return row.key
        names = {_plain(name): row.key for row in known for name in (row.key, row.text("name"))}
        nearest = difflib.get_close_matches(_plain(typed), list(names), n=1)
        raise InputError(
            Problem("problem-unknown-name", "", typed, known.keys(), names[nearest[0]] if nearest else "")
        )

    def json(self) -> JsonSchema:
        """One of the keys; common names are read as well."""
        return {"type": "string", "examples": list(tables.load(self.table).keys())}


@dataclass(frozen=True)
class Choice(Reading):
    """One of a few words."""

    words: tuple[str, ...]

    def read(self, value: object) -> str:
        """The word."""
        if not isinstance(value, str) or value not in self.words:
            nearest = difflib.get_close_matches(shown(value).lower(), self.words, n=1)
            raise InputError(
                Problem("problem-choice", "", shown(value), self.words, nearest[0] if nearest else "")
            )
        return value

    def json(self) -> JsonSchema:
        """The words."""
        return {"enum": list(self.words)}


@dataclass(frozen=True)
class Text(Reading):
    """Words of the grower's own on one line; `name` where it may not be empty."""

    name: bool = False

    def read(self, value: object) -> str:
        """The text without spaces around it."""
        text = _text(value, LONGEST_NAME if self.name else LONGEST_TEXT)
        if self.name and not text:
            raise InputError(Problem("problem-empty", "", ""))
        return text

    def json(self) -> JsonSchema:
        """Text."""
        return {"type": "string"}


@dataclass(frozen=True)
class Yes(Reading):
    """`true` or `false`."""

    def read(self, value: object) -> bool:
        """The truth value."""
        if not isinstance(value, bool):
            raise InputError(Problem("problem-choice", "", shown(value), ("true", "false")))
        return value

    def json(self) -> JsonSchema:
        """A truth value."""
        return {"type": "boolean"}


@dataclass(frozen=True)
class Day(Reading):
    """A date: `2027-03-01`, with or without quotation marks."""

    def read(self, value: object) -> date:
        """The date."""
        if isinstance(value, date) and not isinstance(value, datetime):
            return value
        try:
            return date.fromisoformat(value.strip()) if isinstance(value, str) else _no_date()
        except ValueError:
            raise InputError(Problem("problem-date", "", shown(value))) from None

    def json(self) -> JsonSchema:
        """A date."""
        return {"type": "string", "format": "date"}


@dataclass(frozen=True)
class DayOfYear(Reading):
    """A day of any year: `04-15` is the fifteenth of April."""

    def read(self, value: object) -> MonthDay:
        """Month and day."""
        try:
            # A leap year, so that the twenty-ninth of February is a day.
            day = date.fromisoformat(f"2024-{value.strip()}") if isinstance(value, str) else _no_date()
        except ValueError:
            raise InputError(Problem("problem-day-of-year", "", shown(value))) from None
        return MonthDay(day.month, day.day)

    def json(self) -> JsonSchema:
        """Month and day."""
        return {"type": "string", "pattern": "^[0-1][0-9]-[0-3][0-9]$"}


@dataclass(frozen=True)
class Numbers(Reading):
    """Rising numbers: the steps of a test kit's card."""

    bound: str

    def read(self, value: object) -> tuple[float, ...]:
        """The numbers."""
        if not isinstance(value, list) or len(value) < 2:
            raise InputError(Problem("problem-steps", "", shown(value)))
        found = tuple(float(Number(self.bound).read(one)) for one in value)
        if any(later <= earlier for earlier, later in pairwise(found)):
            raise InputError(Problem("problem-steps", "", ", ".join(f"{one:g}" for one in found)))
        return found

    def json(self) -> JsonSchema:
        """Numbers."""
        return {"type": "array", "items": {"type": "number"}, "minItems": 2}


@dataclass(frozen=True)
class Several(Reading):
    """A list of values of one kind, each read by itself."""

    each: Reading
    unread: ClassVar[object] = ()

    def read(self, value: object) -> tuple[Any, ...]:
        """The values, in the order of the file, each once."""
        if not isinstance(value, list) or not value:
            raise InputError(Problem("problem-list", "", shown(value)))
        return tuple(dict.fromkeys(self.each.read(one) for one in value))

    def json(self) -> JsonSchema:
        """A list."""
        return {"type": "array", "items": self.each.json(), "minItems": 1}


@dataclass(frozen=True)
class MonthNumbers(Reading):
    """Months by number, 1 to 12."""

    def read(self, value: object) -> tuple[int, ...]:
        """The months in rising order, each once."""
        if not isinstance(value, list) or not value:
            raise InputError(Problem("problem-month-numbers", "", shown(value)))
        if any(isinstance(one, bool) or one not in range(1, MONTHS_PER_YEAR + 1) for one in value):
            raise InputError(Problem("problem-month-numbers", "", ", ".join(shown(one) for one in value)))
        return tuple(sorted({int(one) for one in value}))

    def json(self) -> JsonSchema:
        """Months by number."""
        return {
            "type": "array",
            "items": {"type": "integer", "minimum": 1, "maximum": MONTHS_PER_YEAR},
            "minItems": 1,
        }


def _no_date() -> date:
    raise ValueError("no text")


def _text(value: object, longest: int) -> str:
    if not isinstance(value, str):
        raise InputError(Problem("problem-not-text", "", shown(value)))
    text = value.strip()
    if len(text) > longest or any(unicodedata.category(c) in {"Cc", "Cs"} and c != "\n" for c in text):
        raise InputError(Problem("problem-text", "", text, (str(longest),)))
    return " ".join(text.split("\n")).strip()


def _plain(name: str) -> str:
    return name.casefold().replace("-", " ").replace("_", " ").strip()


def shown(value: object) -> str:
    """A value as it stands in the file, near enough to be recognised."""
    if isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "{ ... }" if value else "{}"
    if isinstance(value, list):
        return f"[{', '.join(shown(one) for one in value[:3])}{', ...' if len(value) > 3 else ''}]"
    return f"{value:g}" if isinstance(value, float) else str(value)[:LONGEST_NAME]


class Section(BaseModel):
    """A section of the file: unknown keys are refused, keys that name a unit are brought to their field."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    either: ClassVar[tuple[str, ...]] = ()
    """Keys of which one at least must be given."""

    @model_validator(mode="before")
    @classmethod
    def _by_unit(cls, data: Any) -> Any:
        if not isinstance(data, dict):
            return data
        found = dict(data)
        for name, reading in readings(cls):
            if not isinstance(reading, Quantity):
                continue
            given = [(key, unit) for key, unit in unit_keys(name, reading) if key in data]
            if not given:
                continue
            keys = (*((name,) if name in data else ()), *(key for key, _ in given))
            for key, _ in given:
                del found[key]
            found[name] = Typed(data[given[0][0]], given[0][1].key, keys)
        return found

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchema:
        made = handler.resolve_ref_schema(handler(schema))
        known = dict(readings(cls))
        if cls.either:
            any_of = [{"required": [key]} for name in cls.either for key in _keys(name, known[name])]
            made.setdefault("allOf", []).append({"anyOf": any_of})
        for name, reading in known.items():
            if isinstance(reading, Quantity):
                for key, unit in unit_keys(name, reading):
                    made["properties"][key] = reading.json_under_unit(unit)
                # Either form will do, so neither is required by name.
                if name in made.get("required", ()):
                    made["required"].remove(name)
                    choices = [name, *(key for key, _ in unit_keys(name, reading))]
                    made.setdefault("allOf", []).append({"anyOf": [{"required": [key]} for key in choices]})
        return made


def reading_of(field: FieldInfo) -> Reading | None:
    """How a field is read; None for a section inside a section."""
    return next((one for one in field.metadata if isinstance(one, Reading)), None)


def by_key(section: type[BaseModel]) -> dict[str, FieldInfo]:
    """The fields of a section by their keys in the file; one that is a word of Python is an alias."""
    return {field.alias or name: field for name, field in section.model_fields.items()}


def readings(section: type[BaseModel]) -> Iterator[tuple[str, Reading]]:
    """The fields of a section that hold values, and how each is read."""
    for name, field in by_key(section).items():
        reading = reading_of(field)
        if reading is not None:
            yield name, reading


def unit_keys(name: str, quantity: Quantity) -> Iterator[tuple[str, units.Unit]]:
    """The keys that name a unit of a field."""
    for unit in units.of_kind(quantity.kind):
        yield f"{name}_{unit.suffix}", unit


def _keys(name: str, reading: Reading) -> list[str]:
    """Every key under which a field may stand."""
    return [name, *(key for key, _ in unit_keys(name, reading))] if isinstance(reading, Quantity) else [name]


def inner(field: FieldInfo) -> type[Section] | None:
    """The section that a field holds, one or a list of them; None where it holds a value."""
    candidates = [field.annotation]
    while candidates:
        one = candidates.pop()
        if isinstance(one, type) and issubclass(one, Section):
            return one
        candidates += get_args(one)
    return None


def is_list(field: FieldInfo) -> bool:
    """Whether a field holds a list of sections."""
    return "tuple" in str(field.annotation)


Name = Annotated[str, Text(name=True)]
NameOrNone = Annotated[str | None, Text(name=True)]
WordsOrNone = Annotated[str | None, Text()]
FlagOrNone = Annotated[bool | None, Yes()]
