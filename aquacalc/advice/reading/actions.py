"""What to do after a reading, in the order in which it kills: keys and amounts, doses where litres are known.

Air where fish show trouble or oxygen is short, chlorine, feed, ammonia, nitrite, temperature, pH, the rest.
Each action says which values to expect after it and all before it, by what the new water brings, and in how
many hours to test again.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from aquacalc import tables
from aquacalc.advice.finding import URGENCY, Amount
from aquacalc.advice.reading import acidity, after, base, change, dangers, judge, poisons, together
from aquacalc.advice.reading.action import DAY_H, EVENING_H, HOUR_H, SOON_H, WEEK_H, Action
from aquacalc.advice.reading.after import After
from aquacalc.advice.reading.dangers import Warned
from aquacalc.advice.reading.given import Given
from aquacalc.advice.reading.judge import Judgement

SLOWLY_K_H, SLOWLY_K_D = 1.0, 4.0
"""Most that a tank is cooled or warmed in an hour and in a day. Common practice, no source."""

MEASURED_AFTER_SIGNS = ("oxygen", "temperature", "tan", "ph", "nitrite", "chlorine")
"""What makes fish show trouble, in the order in which it is measured."""

STOPS_FEED = ("oxygen", "unionised_ammonia", "nitrite", "chlorine", "temperature")
"""What asks for no feed from `act today` on. Common practice, no source."""


@dataclass(frozen=True)
class Answer:
    """A reading judged: what it means, what to do in which order, what to leave alone."""

    judgement: Judgement
    actions: tuple[Action, ...]
    warned: tuple[Warned, ...]

    @property
    def again_h(self) -> float:
        """Hours until the first test is due."""
        return min((action.again_h for action in self.actions), default=WEEK_H)


def answer(given: Given, draws: int = judge.DRAWS) -> Answer:
    """The answer to what was given. draws: of the kit's errors."""
    found = judge.judge(given, draws)
    portion = base.base_of(found)
    warned = dangers.warned_of(found, portion)
    done = tuple(_actions(found, portion, warned))
    untold = change.new_water_untold(given, done)
    return Answer(replace(found, assumed=(*found.assumed, *untold)), done, warned)


def _actions(found: Judgement, portion: base.Base, warned: tuple[Warned, ...]) -> Iterator[Action]:
    gently = any(one.danger == "strong_air" and one.blocked for one in warned)
    now = after.state_after(found)
    at_once = tuple(_air(found))
    yield from at_once
    aired = any(not action.later for action in at_once)
    if found.reached("chlorine", "emergency"):
        yield _dechlorinate(found.given)
    stops = any(found.reached(name, "act today") for name in STOPS_FEED) or found.reached("tan", "emergency")
    if stops or _may_act(found) or found.given.signs or _warmth(found) == "warm":
        yield Action("feed", again_h=EVENING_H)
    if "brown_gills" in found.given.signs and not found.given.value("nitrite") > 0.0:
        yield Action("signs-nitrite", again_h=SOON_H)
    against, now = poisons.of_ammonia(found, gently, aired, now)
    yield from against
    against, now = poisons.of_nitrite(found, gently, aired, now)
    yield from against
    yield from _temperature(found)
    against, now = acidity.actions_of(found, portion, gently, aired, now)
    yield from against
    yield from _to_measure(found)
    yield from _salt_and_nitrate(found, now)
    yield from _causes(found)
    if found.level == "not known":
        yield Action("test-more", again_h=EVENING_H)


def _air(found: Judgement) -> Iterator[Action]:
    """Air comes before all else: it is done in a minute, and lack of oxygen kills sooner than anything."""
    line = (_oxygen_line(found),)
    if found.reached("oxygen", "act today"):
        yield Action("oxygen", line, again_h=HOUR_H)
    elif found.given.signs and "oxygen" not in found.given.measures:
        yield Action("signs-air", line, again_h=SOON_H)
    elif found.reached("oxygen", "watch"):
        yield Action("oxygen-watch", line, again_h=EVENING_H)


def _oxygen_line(found: Judgement) -> Amount:
    """Oxygen to be reached: the full-feed line of the fish that wants most, else of its group."""
    lines = [row.numbers.get("do_full_feed_mg_l", math.nan) for row in found.given.species]
    known = [line for line in lines if not math.isnan(line)]
    limits = tables.load("water_limits")
    groups = [limits.row(f"oxygen_{row.key}") for row in found.given.species if row.line == 0]
    return Amount("oxygen", max([*known, *(row.number("watch_from") for row in groups)]), "concentration")


def _dechlorinate(given: Given) -> Action:
    """For all of the water, by the reading; a home kit's first step lies past what harms."""
    there = given.value("chlorine")
    amounts = (Amount("chlorine", there, "concentration"),)
    expected = (Amount("chlorine", 0.0, "concentration"),)
    return Action("chlorine", amounts, change.reagent(given, there, given.litres), expected, SOON_H)


# --- the rest -----------------------------------------------------------------------------------------------


def _warmth(found: Judgement) -> str:
    """`cool` water that is too hot, `warm` what is too cold to be fed; else empty."""
    if not found.reached("temperature", "watch"):
        return ""
    temperature_c = found.given.value("temperature")
    rows = [row for row in found.given.species if "t_stress_high_c" in row.numbers]
    hot = any(temperature_c > row.number("t_stress_high_c") for row in rows)
    return "cool" if hot else "warm"


def _temperature(found: Judgement) -> Iterator[Action]:
    warmth = _warmth(found)
    slowly = (
        Amount("rate", SLOWLY_K_H, "temperature_difference"),
        Amount("day", SLOWLY_K_D, "temperature_difference"),
    )
    if warmth:
        yield Action(warmth, slowly, again_h=HOUR_H)


def _to_measure(found: Judgement) -> Iterator[Action]:
    """What is not known yet of what makes fish show trouble."""
    wanted = [name for name in MEASURED_AFTER_SIGNS if name not in found.given.measures]
    if wanted and found.given.signs:
        yield Action("signs-measure", (Amount("what", " ".join(wanted), "words"),), again_h=SOON_H)


def _salt_and_nitrate(found: Judgement, now: After) -> Iterator[Action]:
    """What only leaves with water and does not hurry; one change of water on another day serves both.

    Nitrate is that which a change of water for something else has left, where there was one.
    """
    then = after.changed(now, change.LEAST_SHARE, found.given.new_water)
    nitrate = (Amount("nitrate", then.value("nitrate"), "nitrogen"),)
    share = (Amount("share", change.LEAST_SHARE, "share"),)
    salty, rich = found.reached("added_salt", "act today"), found.reached("nitrate", "act today")
    if salty:
        salt = Amount("added-salt", then.value("added_salt"), "salt")
        yield Action("salt", share, None, (salt, *nitrate) if rich else (salt,), DAY_H)
    elif found.reached("added_salt", "watch"):
        yield Action("salt-watch", again_h=WEEK_H)
    low = tables.load("water_limits").row("nitrate_low").number("watch_from")
    if found.given.value("nitrate") <= low:
        yield Action("nitrate-low", again_h=WEEK_H)
    elif rich and not salty:
        yield Action("nitrate", share, None, nitrate, DAY_H)
    elif found.reached("nitrate", "watch"):
        yield Action("nitrate-watch", again_h=WEEK_H)


def _causes(found: Judgement) -> Iterator[Action]:
    if poisons.urgent(found) or found.reached("tan", "watch") or found.reached("unionised_ammonia", "watch"):
        old = found.given.value("ph") < together.OLD_WATER_PH
        soon = poisons.urgent(found) or _may_act(found)
        yield Action("find-old" if old else "find", again_h=EVENING_H if soon else DAY_H)


def _may_act(found: Judgement) -> bool:
    """Whether un-ionised ammonia may ask to act today, by the errors of the kit."""
    one = found.of("unionised_ammonia")
    return one is not None and URGENCY.index(one.level_high) <= URGENCY.index("act today")
