"""A judged reading in sentences: the same words in the terminal and in a panel. Plain text, unescaped."""

import math
from collections.abc import Iterable, Iterator, Mapping

from aquacalc import kits, tables, words
from aquacalc.advice.finding import URGENCY, Amount
from aquacalc.advice.reading.actions import Action, Answer, Goods
from aquacalc.advice.reading.dangers import Warned
from aquacalc.advice.reading.given import Note
from aquacalc.advice.reading.judge import Judged
from aquacalc.pages import doses, sentences
from aquacalc.words import Reader

KINDS = {
    "unionised_ammonia": "nitrogen",
    "temperature": "temperature",
    "ph": "ph",
    "alkalinity": "alkalinity",
    **dict.fromkeys(kits.NITROGEN, "nitrogen"),
}
"""Kinds of quantity of what is not a plain concentration."""

ONE_SPOON = 1.125
"""Up to here it is a spoon or a part of one: spoons are counted in quarters."""

SPAN_DECIMALS = 4
"""No kit knows un-ionised ammonia better."""

LONG_H = 48.0

BAD = ("emergency", "act today", "watch")


def status(answer: Answer, reader: Reader) -> str:
    """The level of the whole, and what sets it."""
    found = answer.judgement
    level = words.level(found.level, reader)
    setting = [name(one, reader) for one in found.judged if one.level == found.level]
    if found.level == "fine" or not setting:
        return words.say("reading-status", reader, level=level)
    return words.say("reading-status-by", reader, level=level, what=words.listed(setting, reader))


def judged_for(answer: Answer, reader: Reader) -> str:
    """Which fish the lines are for, and how much water the doses."""
    given = answer.judgement.given
    fish = [
        words.say(f"reading-fish-{row.key}", reader) if row.line == 0 else words.name("species", row.key)
        for row in given.species
    ]
    first = words.say("reading-for", reader, fish=words.listed(fish, reader))
    if math.isnan(given.litres):
        return f"{first} {words.say('reading-no-litres', reader)}"
    volume = words.quantity(given.litres, "volume", reader)
    return f"{first} {words.say('reading-litres', reader, volume=volume)}"


def name(one: Judged, reader: Reader) -> str:
    """What was judged, in words."""
    return words.say(f"word-{one.parameter.replace('_', '-')}", reader)


def rows(answer: Answer, reader: Reader) -> list[tuple[str, str, str]]:
    """Name, value and level of each reading, in the order of urgency by subject."""
    return [(name(one, reader), value(one, reader), _level(one, reader)) for one in answer.judgement.judged]


def value(one: Judged, reader: Reader) -> str:
    """A value with its range or its open side."""
    kind = KINDS.get(one.parameter, "concentration")
    if one.parameter == "unionised_ammonia":
        low, middle, high = (round(end, SPAN_DECIMALS) for end in (one.low, one.value, one.high))
        text = sentences.middle_and_range(low, middle, high, kind, reader)
    else:
        text = words.quantity(one.value, kind, reader)
        if one.high == math.inf:
            text = words.say("at-least", reader, amount=text)
        elif one.low == -math.inf and one.value > 0.0:
            text = words.say("reading-at-most", reader, amount=text)
    return text


def _level(one: Judged, reader: Reader) -> str:
    level = words.level(one.level, reader)
    worse = one.or_worse and one.level in ("watch", "act today")
    return words.say("reading-or-worse", reader, level=level) if worse else level


def reasons(answer: Answer, reader: Reader) -> list[str]:
    """Why it matters: one sentence for each reading that is not fine, then what several say together."""
    found = answer.judgement
    texts = [words.say(_why(one), reader) for one in found.judged if one.level in BAD]
    unionised = found.of("unionised_ammonia")
    if unionised is not None and _more_urgent(unionised):
        level = words.level(unionised.level_high, reader)
        texts.append(words.say("reading-may-be", reader, level=level))
    return [*texts, *notes(found.notes, reader)]


def _why(one: Judged) -> str:
    """The key of why a level matters; much alkalinity is another matter than little."""
    much = tables.load("water_limits").row("alkalinity_high").number("watch_from")
    if one.parameter == "alkalinity" and one.value >= much:
        return "reading-why-much-alkalinity"
    return f"reading-why-{one.parameter.replace('_', '-')}"


def _more_urgent(one: Judged) -> bool:
    return URGENCY.index(one.level_high) < URGENCY.index(one.level)


def notes(found: Iterable[Note], reader: Reader) -> list[str]:
    """Notes in words, each once."""
    said = (words.say(note.key, reader, **_amounts(note.amounts, reader)) for note in found)
    # A sentence may begin with a name; pH keeps its small letter.
    return [text if text.startswith("pH") else text[0].upper() + text[1:] for text in dict.fromkeys(said)]


def actions(answer: Answer, reader: Reader) -> list[str]:
    """What to do, in order, each with its dose, what to expect and when to test again."""
    return [" ".join(_action(action, reader)) for action in answer.actions]


def _action(action: Action, reader: Reader) -> Iterator[str]:
    yield words.say(f"reading-do-{action.key}", reader, **_amounts(action.amounts, reader))
    if action.goods is not None:
        yield goods(action.goods, reader)
    if action.expected:
        values = [_expected(one, reader) for one in action.expected]
        yield words.say("reading-expect", reader, values=words.listed(values, reader))
    yield words.say("reading-next", reader, time=_time(action.again_h, reader))


def goods(found: Goods, reader: Reader) -> str:
    """Chemical and grams, with level spoons where a spoon of the product was weighed."""
    of = found.product.name if found.product else words.name("chemical", found.chemical)
    if math.isnan(found.grams):
        return words.say("reading-chemical-no-litres", reader, name=of)
    dose = words.quantity(found.grams, "dose", reader)
    spoon_g = found.product.spoon_g if found.product else None
    spoons = doses.spoon_text(found.grams, spoon_g)
    if spoons and spoon_g:
        key = "dose-spoon" if found.grams <= spoon_g * ONE_SPOON else "dose-spoons"
        dose = words.say(key, reader, grams=dose, spoons=spoons)
    return words.say("reading-chemical", reader, name=of, dose=dose)


def _expected(one: Amount, reader: Reader) -> str:
    text = words.amount(one, reader)
    return words.say("reading-value", reader, what=words.say(f"word-{one.name}", reader), value=text)


def warned(one: Warned, reader: Reader) -> tuple[str, str, str]:
    """A dangerous action: what and whether at all, why, the way instead with what else to leave alone."""
    spoken = words.finding(one.finding, reader)
    head = words.say("reading-blocked" if one.blocked else "reading-warned", reader)
    instead = words.say("reading-instead", reader, action=spoken.action)
    return f"[{head}] {spoken.title}", spoken.why, f"{instead} {spoken.avoid}"


def again(answer: Answer, reader: Reader) -> str:
    """When the next test is due."""
    time = _time(answer.again_h, reader)
    return words.say("reading-again" if answer.actions else "reading-nothing", reader, time=time)


def _time(hours: float, reader: Reader) -> str:
    if hours >= LONG_H:
        return words.quantity(hours / 24.0, "days", reader)
    return words.quantity(hours, "time", reader)


def _amounts(found: Iterable[Amount], reader: Reader) -> Mapping[str, str]:
    return {one.name: words.amount(one, reader) for one in found}
