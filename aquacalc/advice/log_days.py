"""What happened when, and when to test what next."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from aquacalc import kits
from aquacalc.advice.finding import Finding
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.logbook import clock, stock
from aquacalc.logbook.log import Log, Reading

TEST_DAYS, TEST_DAYS_ACT = 7, 1
"""Days to the next test: every week, and the next day while something is to be acted on."""

NITRATE_DAYS, SELDOM_DAYS = 14, 28
"""Nitrate is tested every two weeks, hardness and conductivity every four. Common practice, no source."""

WEEKLY = ("tan", "nitrite", "ph", "alkalinity", "temperature")
"""What is tested every week."""

LARGE_SHARE = 0.05
"""Share of the water from which a top-up is told on its own. Our own choice."""

BY_TOPIC = {
    "ammonia": ("tan", "ph", "temperature"),
    "nitrite": ("nitrite", "tan"),
    "oxygen": ("oxygen", "temperature"),
    "ph": ("ph", "alkalinity", "tan"),
    "alkalinity": ("alkalinity", "ph", "tan"),
    "nitrate": ("nitrate",),
    "readings": ("ph", "alkalinity", "tan", "nitrite", "nitrate"),
    "conductivity": ("conductivity",),
    "fish": ("oxygen", "tan", "nitrite", "ph", "temperature"),
}
"""What to test for what a finding is about."""

HappenedKey = Literal["stocked", "taken", "dead", "kit", "dose", "top_up", "note"]


@dataclass(frozen=True)
class Happened:
    """Something that may explain a step in the readings.

    subject: the batch, the kit, the key of the chemical, or the note. amount: fish, g of
    a dose (L of what is poured), L of water.
    """

    day: date
    key: HappenedKey
    subject: str
    amount: float = 0.0


def happened(garden: Garden, log: Log) -> tuple[Happened, ...]:
    """Fish that came, went and died, kits, doses, large top-ups and notes, in order of days."""
    found = [*_fish(garden, log), *_kits(garden, log), *_doses(log), *_top_ups(garden, log)]
    found += [Happened(day, "note", note) for day, note in log.notes]
    return tuple(sorted(found, key=lambda one: one.day))


def _fish(garden: Garden, log: Log) -> Iterator[Happened]:
    for batch in garden.fish:
        for key in ("stocked", "taken", "dead"):
            for one in stock.of_batch(log, batch, key):
                if one.value > 0.0:
                    yield Happened(one.day, key, batch.name, one.value)


def _kits(garden: Garden, log: Log) -> Iterator[Happened]:
    if log.rows:
        begin, end = log.rows[0].day, log.rows[-1].day
        for kit in garden.kits:
            if kit.start is not None and begin < kit.start <= end:
                yield Happened(kit.start, "kit", kit.name)


def _doses(log: Log) -> Iterator[Happened]:
    for one in log.all("dose"):
        if one.value > 0.0:
            yield Happened(one.day, "dose", one.subject, one.value)


def _top_ups(garden: Garden, log: Log) -> Iterator[Happened]:
    found = [one for one in log.all("top_up") if one.value > 0.0 and one.unit == "l"]
    if not found:
        return
    large = LARGE_SHARE * litres.litres_of(garden).whole
    for one in found:
        if one.value >= large:
            yield Happened(one.day, "top_up", "", one.value)


def next_test(log: Log, findings: Sequence[Finding]) -> date | None:
    """The day of the next test; None where nothing was tested yet."""
    tested = [one.day for parameter in ("ph", "tan", "nitrite", "alkalinity") for one in log.all(parameter)]
    if not tested:
        return None
    return max(tested) + timedelta(days=TEST_DAYS_ACT if _urgent(findings) else TEST_DAYS)


def _urgent(findings: Sequence[Finding]) -> bool:
    return any(one.level in ("emergency", "act today") for one in findings)


def what_to_test(log: Log, findings: Sequence[Finding], day: date) -> tuple[str, ...]:
    """The parameters to test on a day: for what is to be acted on, else the weekly ones and what is due."""
    if _urgent(findings):
        urgent = [one.topic for one in findings if one.level in ("emergency", "act today")]
        wanted = {parameter for topic in urgent for parameter in BY_TOPIC.get(topic, WEEKLY)}
    else:
        wanted = {*WEEKLY}
        for parameter, every in (
            ("nitrate", NITRATE_DAYS),
            ("oxygen", TEST_DAYS),
            ("hardness", SELDOM_DAYS),
            ("conductivity", SELDOM_DAYS),
        ):
            last = log.last(parameter, day)
            # What was never measured needs an instrument that may not be there.
            due = parameter == "nitrate" if last is None else (day - last.day).days >= every
            if due:
                wanted.add(parameter)
    order = ("oxygen", "tan", "nitrite", "ph", "alkalinity", "nitrate", "temperature", "hardness")
    return tuple(one for one in (*order, "conductivity") if one in wanted)


# --- time of day --------------------------------------------------------------------------------------------


def two_times(log: Log, parameter: str) -> tuple[Reading, Reading] | None:
    """The newest day on which a parameter was read before and after noon: both readings."""
    by_day: dict[date, list[Reading]] = {}
    for one in log.all(parameter):
        if one.hour is not None:
            by_day.setdefault(one.day, []).append(one)
    for _, readings in sorted(by_day.items(), reverse=True):
        before = [one for one in readings if (one.hour or 0.0) < clock.NOON]
        after = [one for one in readings if (one.hour or 0.0) >= clock.NOON]
        if before and after:
            return before[0], after[-1]
    return None


def not_counted(log: Log) -> tuple[str, ...]:
    """Parameters with readings of which nobody says what they count; nothing is nothing in any of them."""
    names = (*kits.NITROGEN, *kits.IN_A_UNIT)
    return tuple(
        name
        for name in names
        if any(one.basis == kits.NOT_KNOWN and one.value != 0.0 for one in log.all(name))
    )


def without_time(log: Log) -> bool:
    """Whether pH or oxygen were read and no time was ever noted."""
    found = [one for parameter in ("ph", "oxygen") for one in log.all(parameter)]
    return bool(found) and all(one.hour is None for one in found)
