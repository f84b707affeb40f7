"""How much fish are fed in a water that was read: the place on the ladder of rations that one look allows.

The ladder is that of `ration`, which a season climbs down and up from morning to morning. A reading is taken
at the high end of what its kit allows; what stands under its kit's first step holds nothing back. Oxygen and
temperature stop feed by rules of their own, and so does any emergency; the lowest place counts.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from aquacalc.judge import lines, nitrite, ration, temperature
from aquacalc.judge.levels import reaches
from aquacalc.judge.water import Facts, Verdict
from aquacalc.water import ammonia

Why = Literal["", "signs", "emergency", "oxygen", "temperature", "base", "unionised_ammonia", "nitrite"]
"""What holds feed back; in this order where several leave as little. base: none may go in, for ammonia."""


@dataclass(frozen=True)
class Feed:
    """place: on `ration.LEVELS`. why: what it is for, empty on full ration. x: the larger of un-ionised
    ammonia and nitrite, each against its line of `act today`; 0 where neither was seen."""

    place: int
    why: Why
    x: float

    @property
    def share(self) -> float:
        """Most of the full ration."""
        return ration.LEVELS[self.place]

    @property
    def one_less(self) -> bool:
        """Whether it is one level less than what is given now, rather than a place of its own."""
        return self.place == ration.ONE_LESS and self.why in ("unionised_ammonia", "nitrite")


def feed(facts: Facts, verdict: Verdict, base_waits: bool = False) -> Feed:
    """What a water that was judged lets fish be fed. base_waits: base is wanted, and ammonia forbids it.

    >>> from aquacalc import tables
    >>> from aquacalc.judge import water
    >>> from aquacalc.judge.values import Value
    >>> tilapia = (tables.load("species").row("nile_tilapia"),)
    >>> read = {"nitrite": Value("nitrite", 0.4, 0.3, 0.5), "chloride": Value("chloride", 4.0)}
    >>> feed(facts := Facts(read, tilapia), water.judge(facts)).share
    0.8
    """
    found = dict(shares_of_line(facts))
    x = max(found.values(), default=0.0)
    if not facts.fish:
        return Feed(0, "", x)
    places: list[tuple[int, Why]] = [(place, why) for why, place in _beside(facts, verdict, base_waits)]
    places += [(int(ration.one_look(np.float64(share))), why) for why, share in found.items()]
    place, why = max(places, key=lambda one: one[0], default=(0, ""))
    return Feed(place, why if place else "", x)


def calm_mg_l(facts: Facts, why: Why) -> float:
    """Total ammonia or nitrite, mg N/L, under which a morning of this water is calm; NaN for all else.

    By definition of the ladder.
    """
    if why == "nitrite":
        line = float(nitrite.begins_at("act today", facts.chloride_mg_l, facts.fish))
    elif why == "unionised_ammonia":
        line = lines.begins_at("unionised_ammonia", "act today", facts.fish) / _unionised_most(facts)
    else:
        return float("nan")
    return ration.CALM_BELOW * line


def shares_of_line(facts: Facts) -> Iterator[tuple[Literal["unionised_ammonia", "nitrite"], float]]:
    """X of un-ionised ammonia and of nitrite, of those that were seen, at the high end of the readings."""
    tan, there = facts.read("tan"), facts.read("nitrite")
    if facts.fish and tan is not None and tan.seen:
        unionised = tan.most * _unionised_most(facts)
        yield "unionised_ammonia", unionised / lines.begins_at("unionised_ammonia", "act today", facts.fish)
    if facts.fish and there is not None and there.seen:
        line = float(nitrite.begins_at("act today", facts.chloride_mg_l, facts.fish))
        yield "nitrite", there.most / line


def _unionised_most(facts: Facts) -> float:
    """Share of total ammonia that is un-ionised at the highest pH that the reading leaves open."""
    acid = facts.read("ph")
    return float(ammonia.unionised_fraction(facts.ph if acid is None else acid.most, facts.warm_c))


def _beside(facts: Facts, verdict: Verdict, base_waits: bool) -> Iterator[tuple[Why, int]]:
    """What stands beside the ladder, and the place that each leaves."""
    nothing = len(ration.LEVELS) - 1
    if facts.signs:
        yield "signs", nothing
    if any(one.level == "emergency" for one in verdict.judged):
        yield "emergency", nothing
    if verdict.reached("oxygen", "act today"):
        yield "oxygen", nothing
    warm = temperature.feed_share(facts.value("temperature"), facts.fish)
    by_level = verdict.of("temperature")
    if by_level is not None and reaches(by_level.level, "act today"):
        warm = 0.0
    yield "temperature", ration.LEVELS.index(warm)
    if base_waits:
        yield "base", nothing
