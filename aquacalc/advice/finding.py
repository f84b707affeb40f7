"""What a finding is: a key and amounts, no sentence; and the order in which findings are read."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import TypeVar

from aquacalc.judge import sizes
from aquacalc.judge.levels import URGENCY, Level

# Which trouble kills first. The topic is the second part of a finding's key. Common practice, no source.
TOPICS = ("oxygen", "chlorine", "ammonia", "nitrite", "temperature", "ph")


@dataclass(frozen=True)
class Amount:
    """A named amount of a finding.

    value: a number in the unit of `data/quantities.csv` for the kind, or a name or text.
    low, high: 10th and 90th percentile where the value is the middle of a band, else NaN.
    kind: a row of `data/quantities.csv`, or `species`, `crop`, `medium`, `chemical`, `limit`, `month`,
    `text`, `crops` (keys of crops, parted by spaces), `words` (keys of the catalogue without `word-`, parted
    by spaces), `date` (as in ISO 8601), or `dates` (first and last day of a span, parted by a space).
    """

    name: str
    value: float | str
    kind: str
    low: float = math.nan
    high: float = math.nan

    @property
    def banded(self) -> bool:
        """Whether the amount is a band."""
        return not (math.isnan(self.low) or math.isnan(self.high))

    @property
    def number(self) -> float:
        """The value as a number."""
        return float(self.value)


def changes_of_water(*names: str) -> tuple[Amount, ...]:
    """How much of the water is changed at once, as texts say it: from, to, and of old, sour water.

    names: of those that a text says; all of them where none is named.
    """
    told = (
        Amount("least", sizes.LEAST_SHARE, "share"),
        Amount("most", sizes.MOST_SHARE, "share"),
        Amount("old", sizes.OLD_WATER_SHARE, "share"),
        Amount("sour", sizes.OLD_WATER_PH, "ph"),
    )
    return tuple(one for one in told if not names or one.name in names)


@dataclass(frozen=True)
class Note:
    """Something to say beside a value: a key of the catalogue and its amounts."""

    key: str
    amounts: tuple[Amount, ...] = ()


@dataclass(frozen=True)
class Finding:
    """One thing that the grower should know.

    key: catalogue key `finding-TOPIC-...`; subject: the part of the garden, as the grower named it, or empty;
    months: one unbroken span in the plan's order, empty where the finding has no season;
    sources: keys of `data/sources.csv`, with the place; first, last: an unbroken span of days, both
    inclusive, None where it has none (a finding has months or days, not both).
    """

    key: str
    subject: str
    level: Level
    amounts: tuple[Amount, ...] = ()
    months: tuple[int, ...] = ()
    sources: tuple[str, ...] = ()
    first: date | None = None
    last: date | None = None

    @property
    def topic(self) -> str:
        """What it is about: the second part of the key."""
        return self.key.split("-")[1]


def ordered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings, the most urgent first; within a level by what kills first, else as they came.

    >>> sump, air = Finding("finding-sump-small", "", "watch"), Finding("finding-oxygen-thin", "", "watch")
    >>> ordered([sump, air])[0].topic
    'oxygen'
    """

    def rank(finding: Finding) -> tuple[int, int]:
        topic = TOPICS.index(finding.topic) if finding.topic in TOPICS else len(TOPICS)
        return URGENCY.index(finding.level), topic

    return tuple(sorted(findings, key=rank))


State = TypeVar("State")


def spans(states: Sequence[State | None]) -> tuple[tuple[State, tuple[int, ...]], ...]:
    """Unbroken runs of equal states along the plan's months, as (state, positions); None is no state.

    >>> spans([None, "a", "a", "b"])
    (('a', (1, 2)), ('b', (3,)))
    """
    return tuple(
        (state, tuple(position for position, _ in run))
        for state, run in groupby(enumerate(states), key=lambda pair: pair[1])
        if state is not None
    )
