"""What to do after a reading, in the order in which it kills: keys and amounts, doses where litres are known.

Air where fish show trouble or oxygen is short, chlorine, feed, ammonia, nitrite, temperature, pH, the rest.
Each action says which values to expect after it and all before it, by what the new water brings, and in how
many hours to test again.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from aquacalc.advice.finding import Amount, Note
from aquacalc.advice.reading import acidity, after, base, change, dangers, judge, poisons
from aquacalc.advice.reading.action import DAY_H, EVENING_H, HOUR_H, SOON_H, WEEK_H, Action
from aquacalc.advice.reading.after import After
from aquacalc.advice.reading.bounds import Bounds
from aquacalc.advice.reading.dangers import Warned
from aquacalc.advice.reading.given import Given
from aquacalc.advice.reading.judge import Judgement
from aquacalc.fish import species
from aquacalc.judge import feed, lines, oxygen, ration, sizes, temperature
from aquacalc.judge.feed import Feed
from aquacalc.judge.water import DRAWS
from aquacalc.water import chlorine

MEASURED_AFTER_SIGNS = ("oxygen", "temperature", "tan", "ph", "nitrite", "chlorine")
"""What makes fish show trouble, in the order in which it is measured."""


@dataclass(frozen=True)
class Answer:
    """A reading judged: what it means, what to do in which order, what to leave alone, how much to feed."""

    judgement: Judgement
    actions: tuple[Action, ...]
    warned: tuple[Warned, ...]
    feed: Feed

    @property
    def again_h(self) -> float:
        """Hours until the first test is due."""
        return min((action.again_h for action in self.actions), default=WEEK_H)


def answer(given: Given, draws: int = DRAWS) -> Answer:
    """The answer to what was given. draws: of the kit's errors."""
    found = judge.judge(given, draws)
    portion = base.base_of(found)
    fed = _fed(found, portion)
    done = tuple(_actions(found, portion, fed))
    untold = change.new_water_untold(given, done)
    warned = dangers.warned_of(found, portion)
    return Answer(replace(found, assumed=(*found.assumed, *untold)), done, warned, fed)


def feed_of(given: Given) -> Feed:
    """How much feed the water of a reading leaves, without the rest of its answer."""
    found = judge.judge(given, draws=1)
    return _fed(found, base.base_of(found))


def _fed(found: Judgement, portion: base.Base) -> Feed:
    return feed.feed(found.given.facts, found, base.waits_for_ammonia(found, portion))


def _actions(found: Judgement, portion: base.Base, fed: Feed) -> Iterator[Action]:
    """The steps in their order; each one is reckoned for the water that those before it leave."""
    now = after.state_after(found)
    bounds = Bounds(found, now)
    at_once = tuple(_air(found))
    yield from at_once
    aired = any(not action.later for action in at_once)
    if found.reached("chlorine", "emergency"):
        action, now = _dechlorinate(found.given, bounds, now, aired)
        yield action
    yield from _feed(found, fed)
    if "brown_gills" in found.given.signs and not found.given.value("nitrite") > 0.0:
        yield Action("signs-nitrite", again_h=SOON_H)
    against, now = poisons.of_ammonia(found, bounds, aired, now)
    yield from against
    against, now = poisons.of_nitrite(found, bounds, aired, now)
    yield from against
    yield from _temperature(found, bounds, now, aired)
    against, now = acidity.actions_of(found, portion, bounds, aired, now)
    yield from against
    yield from _to_measure(found)
    yield from _salt_and_nitrate(found, bounds, now)
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


def _feed(found: Judgement, fed: Feed) -> Iterator[Action]:
    """What the water leaves of the ration; where ammonia or nitrite lowers it, when it rises again."""
    if not fed.why:
        return
    facts, share = found.given.facts, Amount("share", fed.share, "share")
    if fed.why == "base":
        yield Action("feed-base", again_h=DAY_H)
    elif fed.why == "temperature" and fed.share > 0.0:
        line = temperature.stress_c(temperature.with_range(facts.fish))
        yield Action("feed-warm", (share, Amount("line", line, "temperature")), again_h=DAY_H)
    elif fed.why not in ("unionised_ammonia", "nitrite"):
        yield Action("feed", again_h=EVENING_H)
    else:
        amounts = (
            share,
            Amount("what", "tan" if fed.why == "unionised_ammonia" else "nitrite", "words"),
            Amount("calm", feed.calm_mg_l(facts, fed.why), "nitrogen"),
            Amount("mornings", float(ration.MORNINGS_UP), "number"),
        )
        if fed.share == 0.0:
            begin = Amount("begin", ration.LEVELS[fed.place - 1], "share")
            yield Action("feed-none", (*amounts[1:], begin), again_h=EVENING_H)
        elif fed.one_less:
            days = Amount("days", float(ration.DAYS_DOWN), "number")
            yield Action("feed-less", (*amounts, days), again_h=DAY_H)
        else:
            yield Action("feed-part", amounts, again_h=EVENING_H)


def _oxygen_line(found: Judgement) -> Amount:
    """Oxygen to be reached: the full-feed line of the fish that wants most, else of its group."""
    return Amount("oxygen", oxygen.begins_below("watch", found.given.species), "concentration")


def _dechlorinate(given: Given, bounds: Bounds, now: After, aired: bool) -> tuple[Action, After]:
    """For all of the water, by the reading; a home kit's first step lies past what harms.

    An acid that the water cannot take is left on the shelf.
    """
    there = given.value("chlorine")
    goods, then = change.reagent(given, there, given.litres), now
    notes: tuple[Note, ...] = ()
    used = float(chlorine.alkalinity_used_mg_l(goods.chemical, there))
    if used > 0.0:
        then = after.soured(now, used)
        if not bounds.hold_soured(then):
            goods, then, notes = change.usual_reagent(there, given.litres), now, (_too_sour(then),)
    amounts = (Amount("chlorine", there, "concentration"),)
    expected = [Amount("chlorine", 0.0, "concentration")]
    if then is not now:
        expected.append(Amount("ph", then.ph, "ph"))
    key = "chlorine" if aired or bounds.hold_aired(now) else "chlorine-gently"
    return Action(key, amounts, goods, tuple(expected), SOON_H, notes), then


def _too_sour(then: After) -> Note:
    """Why no ascorbic acid: the pH that it would bring, where that is known."""
    if then.carbonates is None:
        return Note("reading-acid-not-known")
    return Note("reading-acid-too-much", (Amount("ph", then.ph_closed, "ph"),))


# --- the rest -----------------------------------------------------------------------------------------------


def _warmth(found: Judgement) -> str:
    """`cool` water that is too hot, `warm` what is too cold to be fed; else empty."""
    if not found.reached("temperature", "watch"):
        return ""
    hot = temperature.is_hot(found.given.value("temperature"), found.given.species)
    return "cool" if hot else "warm"


def _temperature(found: Judgement, bounds: Bounds, now: After, aired: bool) -> Iterator[Action]:
    warmth, fish = _warmth(found), temperature.with_range(found.given.species)
    slowly = (
        Amount("rate", sizes.SLOWLY_K_H, "temperature_difference"),
        Amount("day", sizes.SLOWLY_K_D, "temperature_difference"),
    )
    if warmth == "cool":
        yield Action("cool" if aired or bounds.hold_aired(now) else "cool-gently", slowly, again_h=HOUR_H)
        if found.reached("temperature", "act today") and any(species(row.key).eaten for row in fish):
            line = Amount("line", temperature.act_above_c(fish), "temperature")
            yield Action("harvest", (line,), again_h=HOUR_H)
    elif warmth == "warm":
        missing = temperature.no_feed_below_c(fish) - found.given.value("temperature")
        holds = bounds.hold_warmed(now, min(missing, sizes.SLOWLY_K_D))
        yield Action("warm" if holds else "warm-later", slowly, again_h=HOUR_H)


def _to_measure(found: Judgement) -> Iterator[Action]:
    """What is not known yet of what makes fish show trouble."""
    wanted = [name for name in MEASURED_AFTER_SIGNS if name not in found.given.measures]
    if wanted and found.given.signs:
        yield Action("signs-measure", (Amount("what", " ".join(wanted), "words"),), again_h=SOON_H)


def _salt_and_nitrate(found: Judgement, bounds: Bounds, now: After) -> Iterator[Action]:
    """What only leaves with water and does not hurry; one change of water on another day serves both.

    Nitrate is that which a change of water for something else has left, where there was one.
    """
    then, notes = after.changed(now, sizes.LEAST_SHARE, found.given.new_water), tuple[Note, ...]()
    if not bounds.hold(then):
        then, notes = after.thinned(now, sizes.LEAST_SHARE), (Note("reading-with-soft-water"),)
    nitrate = (Amount("nitrate", then.value("nitrate"), "nitrogen"),)
    share = (Amount("share", sizes.LEAST_SHARE, "share"),)
    salty, rich = found.reached("added_salt", "act today"), found.reached("nitrate", "act today")
    if salty:
        salt = Amount("added-salt", then.value("added_salt"), "salt")
        yield Action("salt", share, None, (salt, *nitrate) if rich else (salt,), DAY_H, notes)
    elif found.reached("added_salt", "watch"):
        yield Action("salt-watch", again_h=WEEK_H)
    low = lines.begins_at("nitrate", "watch", above=False)
    if found.given.value("nitrate") <= low:
        yield Action("nitrate-low", again_h=WEEK_H)
    elif rich and not salty:
        yield Action("nitrate", share, None, nitrate, DAY_H, notes)
    elif found.reached("nitrate", "watch"):
        yield Action("nitrate-watch", again_h=WEEK_H)


def _causes(found: Judgement) -> Iterator[Action]:
    if poisons.urgent(found) or found.reached("tan", "watch") or found.reached("unionised_ammonia", "watch"):
        old = sizes.is_old(found.given.value("ph"))
        soon = poisons.urgent(found) or found.may_act
        yield Action("find-old" if old else "find", again_h=EVENING_H if soon else DAY_H)
