"""The water by a log: its newest readings as one reading that was typed, and who lives in it.

A row of a log is judged by the same judge, and answered in the same way, as a reading with the same facts.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Literal

from aquacalc import kits, tables
from aquacalc.advice.reading import given, measure
from aquacalc.advice.reading.given import Given
from aquacalc.advice.reading.measure import Measure
from aquacalc.garden.model import FishBatch, Garden, KitScale
from aquacalc.logbook import stock, typed
from aquacalc.logbook.columns import WATER
from aquacalc.logbook.log import Log, Reading, Row

IN_WATER = frozenset(parameter for parameter, _ in WATER.values())

FED_DAYS = 21
"""Feed that was given so many days ago tells that there were fish, whatever the garden file plans."""

Living = Literal["there", "coming", "gone", "none"]
"""Whether the fish of the garden file are in the water by the log; none: the file has none."""

FILTER_FOOD = ("tan", "nitrite")
"""What a filter without fish is started with, so that it is no trouble there."""


@dataclass(frozen=True)
class Water:
    """What a log tells of the water on a day.

    given: what a reading of the same facts rests on. days: of each reading, by parameter. living: whose lines
    are asked; batches: the fish that they are, comes: the day on which the first of them come, None where
    they are there or went. food: what was read and feeds a filter without fish, which is not judged.
    """

    given: Given
    days: Mapping[str, date]
    living: Living
    batches: tuple[FishBatch, ...]
    comes: date | None = None
    food: tuple[str, ...] = ()


def water_on(garden: Garden, log: Log, day: date) -> Water | None:
    """The newest reading of each kind up to a day, as far as it still says something; None without any."""
    begin = day - timedelta(days=kits.OLDEST_DAYS)
    rows = tuple(row for row in log.rows if begin <= row.day <= day)
    found = [water for _, water in waters(garden, Log(log.name, rows), log, day)]
    return found[-1] if found else None


def waters(garden: Garden, rows: Log, log: Log, day: date | None = None) -> Iterator[tuple[Row, Water]]:
    """Each row that holds a reading of the water, with the water as it was then known.

    rows: those that are told, of the whole log. day: on which fish are counted; that of each row if None.
    """
    read: dict[str, Reading] = {}
    measures: dict[str, Measure] = {}
    base = given.complete({}, garden)
    gardens: dict[tuple[bool, ...], Garden] = {}
    texts: dict[tuple[tuple[bool, ...], str, str], Measure] = {}
    for row in rows.rows:
        fresh = [one for one in row.readings if one.parameter in IN_WATER]
        read |= {one.parameter: one for one in fresh}
        # The same kits are in use for months: their state is worked out once.
        state = _kits_on(garden, row.day)
        then = gardens.get(state) or gardens.setdefault(state, _as_on(garden, row.day))
        measures |= {one.parameter: found for one in fresh if (found := measured(one, then, state, texts))}
        if fresh:
            old = row.day - timedelta(days=kits.OLDEST_DAYS)
            days = {name: one.day for name, one in read.items() if one.day >= old}
            known = {name: measures[name] for name in days if name in measures}
            yield row, _water(garden, log, day or row.day, days, known, base)


def _water(
    garden: Garden,
    log: Log,
    day: date,
    days: Mapping[str, date],
    known: Mapping[str, Measure],
    base: Given,
) -> Water:
    living, batches = lives_in(garden, log, day)
    food = FILTER_FOOD if living in ("coming", "none") and starts_filter(garden, log, day) else ()
    measures = {name: one for name, one in known.items() if name not in food}
    return Water(
        given=given.with_measures(base, measures, replace(garden, fish=batches)),
        days=dict(days),
        living=living,
        batches=batches,
        comes=min((one.stocked for one in batches), default=None) if living == "coming" else None,
        food=tuple(name for name in food if name in known),
    )


def measured(
    one: Reading,
    then: Garden,
    state: tuple[bool, ...],
    texts: dict[tuple[tuple[bool, ...], str, str], Measure],
) -> Measure | None:
    """A reading of the log as a measure; None for what is no reading of the water that is judged.

    then: the garden with the kits that were in use on its day, known by their state; texts: what was read
    before, to which this is added: people write the same steps of a kit for years.
    """
    text = typed.text_of(one, measure.scale_of(then, one.parameter))
    if not text:
        return None
    key = (state, one.parameter, text)
    if key not in texts:
        texts[key] = measure.of_text(one.parameter, text, then)
    found = texts[key]
    if not one.half or one.beyond:
        return found
    # A range that was typed says itself where the water lies.
    half = one.half * found.value / one.value
    return replace(found, low=found.value - half, high=found.value + half)


def _kits_on(garden: Garden, day: date) -> tuple[bool, ...]:
    """What decides which kits count on a day, and as found by which check."""
    return tuple(
        flag
        for kit in garden.kits
        for flag in (
            kit.start is None or kit.start <= day,
            *(one.checked is None or one.checked <= day for one in kit.scales),
        )
    )


def _as_on(garden: Garden, day: date) -> Garden:
    """The garden with the kits that were in use by a day, and with what their checks had found by then."""

    def scale(one: KitScale) -> KitScale:
        unchecked = one.checked is not None and day < one.checked
        return replace(one, offset=0.0, standard=None, checked=None) if unchecked else one

    if not garden.kits:
        return garden
    in_use = (kit for kit in garden.kits if kit.start is None or kit.start <= day)
    return replace(garden, kits=tuple(replace(kit, scales=tuple(map(scale, kit.scales))) for kit in in_use))


# --- who lives in it --------------------------------------------------------------------------------------


def lives_in(garden: Garden, log: Log, day: date) -> tuple[Living, tuple[FishBatch, ...]]:
    """Whether there are fish on a day, by counts, plan and feed, and whose lines are asked.

    Where none are there: those that come next, else all of the garden file.
    """
    there = tuple(batch for batch in garden.fish if stock.number(log, batch, day))
    if there:
        return "there", there
    if _fed(log, day):
        return ("there" if garden.fish else "none"), garden.fish
    coming = tuple(batch for batch in garden.fish if batch.stocked > day)
    if coming:
        return "coming", coming
    return ("gone" if garden.fish else "none"), garden.fish


def fish_are_there(garden: Garden, log: Log, day: date) -> bool:
    """Whether there are fish on a day, by counts and plan, or because feed was given in the weeks before."""
    return any(stock.number(log, batch, day) for batch in garden.fish) or _fed(log, day)


def _fed(log: Log, day: date) -> bool:
    begin = day - timedelta(days=FED_DAYS)
    for one in reversed(log.all("feed")):
        if one.day < begin:
            return False
        if one.day <= day and one.value > 0.0:
            return True
    return False


def starts_filter(garden: Garden, log: Log, day: date) -> bool:
    """Whether a filter is being started or kept awake without fish: by the garden file, or by doses noted."""
    begin = day - timedelta(days=kits.OLDEST_DAYS)
    chemicals = tables.load("chemicals")
    dosed = any(
        begin <= one.day <= day and one.value > 0.0 and chemicals.row(one.subject).text("kind") == "ammonia"
        for one in log.all("dose")
    )
    return garden.start_up.state == "new" or dosed
