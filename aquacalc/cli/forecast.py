"""`aquacalc forecast`: the water of the days that are foretold, as lines of text."""

from collections.abc import Iterator, Sequence
from functools import partial

from aquacalc import tables, units
from aquacalc.cli.reading import framed
from aquacalc.cli.terminal import paragraph, table
from aquacalc.errors import InputError, Problem
from aquacalc.garden import surroundings
from aquacalc.garden.fields import bounds
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.sentences import forecast as sentences
from aquacalc.sizing import forecast
from aquacalc.sizing.forecast import Asked, Day, Forecast
from aquacalc.words import Reader

AIR = (-50.0, 60.0)
"""Air that a place on Earth has, C; outside of it a slip of the pen."""


def asked(
    file: GardenFile, days: Sequence[str], water: str, sky: forecast.Sky, bottles: float, reader: Reader
) -> Asked:
    """What was typed, in the reader's units where none stand beside it. Raises `InputError`."""
    if len(days) > forecast.MOST_DAYS:
        raise InputError(Problem("problem-rows-many", "days", str(len(days)), (str(forecast.MOST_DAYS),)))
    if not 0.0 <= bottles <= forecast.MOST_BOTTLES:
        allowed = ("0", f"{forecast.MOST_BOTTLES:.0f}", "")
        raise InputError(Problem("problem-range", "bottles", f"{bottles:g}", allowed))
    ends = bounds("water_temperature")
    water_c = _degrees(water, "water", reader, (ends.low, ends.high)) if water else None
    return forecast.of_garden(
        file.garden, [_day(one, reader) for one in days], water_c, sky, bottles, file.today
    )


def _day(text: str, reader: Reader) -> Day:
    parts = text.split("/")
    if len(parts) != 2:
        raise InputError(Problem("problem-high-low", "days", text))
    pair = [_degrees(part, "days", reader, AIR) for part in parts]
    return Day(max(pair), min(pair))


def _degrees(text: str, where: str, reader: Reader, ends: tuple[float, float]) -> float:
    unit = tables.load("quantities").row("temperature").text(reader.units)
    value = units.read(text, "temperature", where, unit)
    if not ends[0] <= value <= ends[1]:
        allowed = tuple(f"{units.to(one, unit):.0f}" for one in ends)
        raise InputError(Problem("problem-range", where, text, (*allowed, units.unit(unit).label)))
    return value


def answer(garden: Garden, days: Asked) -> Forecast:
    """The days of the garden for its tender fish: those whose line they come nearest to."""
    if not garden.fish:
        raise InputError(Problem("problem-no-fish", "fish"))
    rows = [tables.load("species").row(one.species) for one in garden.fish]
    fish = max(rows, key=lambda row: max(forecast.beyond_k(days, row).values()))
    return forecast.forecast(days, fish, error_k=partial(surroundings.error_k, garden))


def lines(found: Forecast, reader: Reader) -> Iterator[str]:
    """Everything that the command prints."""
    yield from framed(sentences.title(found, reader), found.level)
    for text in sentences.lines(found, reader):
        yield paragraph(text)
    yield ""
    yield from table(sentences.head(found, reader), sentences.rows(found, reader))
    yield ""
    for text in sentences.to_do(found, reader):
        yield paragraph(text)
