"""What happened when, and when to test what next."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from aquacalc import kits
from aquacalc.advice.finding import Finding
from aquacalc.advice.log import Told
from aquacalc.advice.reading.action import DAY_H
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.judge.water import JUDGED
from aquacalc.logbook import clock, stock
from aquacalc.logbook.log import Log, Reading

TEST_DAYS, TEST_DAYS_ACT = 7, 1
"""Days to the next test: every week, and the next day while a finding is to be acted on. What the newest
readings ask for may be sooner."""

NITRATE_DAYS, SELDOM_DAYS = 14, 28
"""Nitrate is tested every two weeks, hardness and conductivity every four. Common practice, no source."""

WEEKLY = ("tan", "nitrite", "ph", "alkalinity", "temperature")
"""What is tested every week."""

LARGE_SHARE = 0.05
"""Share of the water from which a top-up is told on its own. Our own choice."""

WITH = {
    "tan": ("tan", "ph", "temperature"),
    "unionised_ammonia": ("tan", "ph", "temperature"),
    "nitrite": ("nitrite", "tan"),
    "oxygen": ("oxygen", "temperature"),
    "ph": ("ph", "alkalinity", "tan"),
    "alkalinity": ("alkalinity", "ph", "tan"),
    "carbon_dioxide": ("ph", "alkalinity"),
    "chlorine": ("chlorine", "tan"),
}
"""What to test for a reading that is to be acted on; each other one by itself."""

BY_TOPIC = {
    "ph": WITH["ph"],
    "alkalinity": WITH["alkalinity"],
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


def next_test(log: Log, told: Told) -> date | None:
    """The day of the next test, as the newest readings and the findings ask for it; None without a test."""
    tested = [one.day for parameter in JUDGED for one in log.all(parameter) if one.day <= told.day]
    if not tested:
        return None
    days = TEST_DAYS_ACT if any(map(_urgent, told.findings)) else TEST_DAYS
    if told.answer is not None:
        days = min(days, int(told.answer.again_h // DAY_H))
    return max(tested) + timedelta(days=days)


def _urgent(one: Finding) -> bool:
    return one.level in ("emergency", "act today")


def what_to_test(log: Log, told: Told, day: date) -> tuple[str, ...]:
    """The parameters to test on a day: for what is to be acted on, else the weekly ones and what is due."""
    wanted = {name for one in told.findings if _urgent(one) for name in BY_TOPIC.get(one.topic, WEEKLY)}
    if told.answer is not None:
        for one in told.answer.judgement.judged:
            if one.level in ("emergency", "act today"):
                wanted.update(WITH.get(one.parameter, (one.parameter,)))
    if not wanted:
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
    order = ("oxygen", "chlorine", "tan", "nitrite", "ph", "alkalinity", "nitrate", "temperature", "hardness")
    return tuple(one for one in (*order, "added_salt", "conductivity") if one in wanted)


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
