"""A judged reading in sentences: the same words in the terminal and in a panel. Plain text, unescaped.

Readings and values to expect stand first as the garden's own kit counts and shows them, "as N" beside.
"""

import math
from collections.abc import Iterable, Iterator, Mapping

from aquacalc import kits, words
from aquacalc.advice.finding import Amount, Note
from aquacalc.advice.reading.action import Action, Goods
from aquacalc.advice.reading.actions import Answer
from aquacalc.advice.reading.dangers import Warned
from aquacalc.advice.reading.given import Given
from aquacalc.advice.reading.judge import Judgement
from aquacalc.garden.model import KitScale
from aquacalc.judge import lines as limits
from aquacalc.judge.levels import URGENCY
from aquacalc.judge.water import Judged
from aquacalc.sentences import balance, spoons
from aquacalc.words import NO_BREAK_SPACE, Reader

KINDS = {
    "unionised_ammonia": "nitrogen",
    "temperature": "temperature",
    "ph": "ph",
    "alkalinity": "alkalinity",
    "added_salt": "salt",
    **dict.fromkeys(kits.NITROGEN, "nitrogen"),
}
"""Kinds of quantity of what is not a plain concentration."""

NEAR_STEP = 0.25
"""Nearer to a step of a card than this share of the way to the next one it shows that step."""

SHORT = "reading-short"
"""Keys of what was assumed, in a few words."""

BURNS = ("acid", "hydroxide")
"""Dangerous actions that hurt people, too."""

SPAN_DECIMALS = 4
"""No kit knows un-ionised ammonia better."""

LONG_H = 48.0

KILLS_UNSEEN = ("tan", "nitrite", "ph")
"""Without these nobody can say that there is nothing to do. Common practice, no source."""

AT_END = "reading-ask-end"

BAD = ("emergency", "act today", "watch")


def status(answer: Answer, reader: Reader) -> str:
    """The level of the whole, and what sets it."""
    found = answer.judgement
    level = words.level(found.level, reader)
    setting = [
        value(one, reader, found.given) if one.parameter == "signs" else name(one, reader)
        for one in found.judged
        if one.level == found.level
    ]
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
    found = answer.judgement
    return [(name(one, reader), value(one, reader, found.given), _level(one, reader)) for one in found.judged]


def value(one: Judged, reader: Reader, given: Given | None = None) -> str:
    """A value with its range or its open side; given: what tells how the kit counts it, and the signs."""
    kind = KINDS.get(one.parameter, "concentration")
    if one.parameter == "signs" and given is not None:
        signs = [words.say(f"word-sign-{sign.replace('_', '-')}", reader) for sign in given.signs]
        return words.listed(signs, reader)
    if one.parameter == "unionised_ammonia":
        low, middle, high = (round(end, SPAN_DECIMALS) for end in (one.low, one.value, one.high))
        text = balance.middle_and_range(low, middle, high, kind, reader)
    else:
        text = words.quantity(one.value, kind, reader)
        measure = None if given is None else given.measures.get(one.parameter)
        if measure is not None and measure.scale is not None:
            text = _counted(one.value, measure.scale, reader) or text
        if one.high == math.inf:
            text = words.say("at-least", reader, amount=text)
        elif one.low == -math.inf and one.value > 0.0:
            text = words.say("reading-at-most", reader, amount=text)
    return text


def _counted(value: float, scale: KitScale, reader: Reader) -> str:
    """A value as the kit counts it, with what the workbook counts beside; empty where both are the same."""
    shown, label = kits.as_shown(value, scale), kits.label(scale)
    if shown is None or not label or label == "N":
        return ""
    if scale.parameter in kits.NITROGEN:
        amount = f"{words.number(shown, 3)}{NO_BREAK_SPACE}mg/L"
        return words.say("reading-in-basis", reader, amount=amount, basis=label, inside=words.number(value))
    inside = words.quantity(value, scale.parameter, reader)
    amount = f"{words.number(shown, 3)}{NO_BREAK_SPACE}{label}"
    return inside if amount == inside else words.say("reading-in-unit", reader, amount=amount, inside=inside)


def on_kit(value: float, scale: KitScale, reader: Reader) -> str:
    """What the card or the drops of a kit will show of a value; empty where the kit is not described."""
    shown = kits.as_read(value, scale)
    if shown is None or not (scale.steps or scale.drop):
        return ""
    text, label = _steps(shown, scale, reader), kits.label(scale)
    if scale.parameter == "ph" and text == words.quantity(value, "ph", reader):
        return text
    if scale.parameter in kits.IN_A_UNIT or (label and label != "N"):
        text = f"{text}{NO_BREAK_SPACE}{label}"
    inside = words.quantity(value, KINDS.get(scale.parameter, "concentration"), reader)
    return words.say("reading-on-kit", reader, step=text, inside=inside)


def _steps(shown: float, scale: KitScale, reader: Reader) -> str:
    def printed(step: float) -> str:
        return words.quantity(step, "ph", reader) if scale.parameter == "ph" else words.number(step, 3)

    if scale.drop:
        return words.number(max(math.ceil(shown / scale.drop - 1e-9), 0) * scale.drop, 3)
    below, above = kits.steps_around(shown, scale.steps)
    if below is None or above is None:
        key, end = ("reading-step-under", above) if below is None else ("reading-step-past", below)
        return words.say(key, reader, step=printed(end or 0.0))
    way = (shown - below) / (above - below) if above > below else 0.0
    if NEAR_STEP < way < 1.0 - NEAR_STEP:
        return words.say("range", reader, low=printed(below), high=printed(above))
    return printed(below if way <= NEAR_STEP else above)


def _level(one: Judged, reader: Reader) -> str:
    level = words.level(one.level, reader)
    worse = one.or_worse and one.level in ("watch", "act today")
    return words.say("reading-or-worse", reader, level=level) if worse else level


def reasons(answer: Answer, reader: Reader) -> list[str]:
    """Why it matters: one sentence for each reading that is not fine, then what several say together."""
    found = answer.judgement
    texts = [
        words.say(_why(one), reader) for one in found.judged if one.level in BAD and _is_told(one, found)
    ]
    unionised = found.of("unionised_ammonia")
    if unionised is not None and _more_urgent(unionised):
        level = words.level(unionised.level_high, reader)
        texts.append(words.say("reading-may-be", reader, level=level))
    return [*texts, *notes(found.notes, reader)]


def _is_told(one: Judged, found: Judgement) -> bool:
    """Brown gills have a reason of their own among the notes."""
    return one.parameter != "signs" or found.given.signs != ("brown_gills",)


def _why(one: Judged) -> str:
    """The key of why a level matters; much alkalinity is another matter than little."""
    much = limits.begins_at("alkalinity", "watch")
    if one.parameter == "alkalinity" and one.value >= much:
        return "reading-why-much-alkalinity"
    return f"reading-why-{one.parameter.replace('_', '-')}"


def _more_urgent(one: Judged) -> bool:
    return URGENCY.index(one.level_high) < URGENCY.index(one.level)


def notes(found: Iterable[Note], reader: Reader) -> list[str]:
    """Notes in words, each once."""
    told = list(found)
    ends = [note for note in told if note.key == AT_END]
    if len(ends) > 1:
        # One sentence for all of them: the advice is the same.
        told = [note for note in told if note.key != AT_END]
    said = [words.say(note.key, reader, **_amounts(note.amounts, reader)) for note in told]
    if len(ends) > 1:
        names = [words.amount(one, reader) for note in ends for one in note.amounts]
        said.append(words.say("reading-ask-ends", reader, what=words.listed(names, reader)))
    # A sentence may begin with a name; pH keeps its small letter.
    return [text if text.startswith("pH") else text[0].upper() + text[1:] for text in dict.fromkeys(said)]


def in_short(answer: Answer, reader: Reader) -> str:
    """One line of what the judgement rests on without having been told; empty where nothing was assumed."""
    texts = []
    for note in answer.judgement.assumed:
        key = note.key.replace("reading-assumed", SHORT)
        if key != f"{SHORT}-new-water":  # no level rests on it
            texts.append(words.say(key, reader, **_amounts(note.amounts, reader)))
    return words.say("reading-in-short", reader, what="; ".join(dict.fromkeys(texts))) if texts else ""


def actions(answer: Answer, reader: Reader) -> list[str]:
    """What to do, in order, each with its dose and what to expect."""
    return [*now(answer, reader), *later(answer, reader)]


def now(answer: Answer, reader: Reader) -> list[str]:
    """What to do at once, in order."""
    return [action_text(one, answer, reader) for one in answer.actions if not one.later]


def later(answer: Answer, reader: Reader) -> list[str]:
    """What to do after that."""
    return [action_text(one, answer, reader) for one in answer.actions if one.later]


def action_text(action: Action, answer: Answer, reader: Reader) -> str:
    """One thing to do, with its dose and what to expect."""
    return " ".join(_said(action, answer.judgement.given, reader))


def _said(action: Action, given: Given, reader: Reader) -> Iterator[str]:
    yield words.say(f"reading-do-{action.key}", reader, **_amounts(action.amounts, reader))
    if action.goods is not None:
        yield goods(action.goods, reader)
    yield from notes(action.notes, reader)
    if action.expected:
        values = [_expected(one, given, reader) for one in action.expected]
        yield words.say("reading-expect", reader, values=words.listed(values, reader))


def goods(found: Goods, reader: Reader) -> str:
    """Chemical and grams, with level spoons where a spoon of the product was weighed."""
    of = found.product.name if found.product else words.name("chemical", found.chemical)
    if math.isnan(found.grams):
        return words.say("reading-chemical-no-litres", reader, name=of)
    dose = spoons.weighed(found.grams, found.product.spoon_g if found.product else None, reader)
    said = words.say("reading-chemical", reader, name=of, dose=dose)
    return " ".join(filter(None, (said, spoons.little(found.grams, reader))))


def _expected(one: Amount, given: Given, reader: Reader) -> str:
    name, text = words.say(f"word-{one.name}", reader), words.amount(one, reader)
    scale = given.scales.get(one.name)
    if _has_no_upper_end(one.name, given):
        least = words.quantity(one.low if one.banded else one.number, one.kind, reader)
        text = words.say("at-least", reader, amount=least)
    elif scale is not None:
        text = on_kit(one.number, scale, reader) or text
    return words.say("reading-value", reader, what=name, value=text)


def _has_no_upper_end(name: str, given: Given) -> bool:
    """Whether what a value to expect was reckoned from stood at the upper end of its kit."""
    read = ("tan", "ph") if name == "unionised-ammonia" else (name.replace("-", "_"),)
    found = (given.measures.get(one) for one in read)
    return any(one is not None and one.beyond == "above" for one in found)


def warned(one: Warned, reader: Reader) -> tuple[str, str, str]:
    """A dangerous action: what and whether at all, why, the way instead with what else to leave alone."""
    spoken = words.finding(one.finding, reader)
    head = words.say("reading-blocked" if one.blocked else "reading-warned", reader)
    instead = words.say("reading-instead", reader, action=spoken.action)
    return f"[{head}] {spoken.title}", spoken.why, f"{instead} {spoken.avoid}"


def warned_shortly(one: Warned, reader: Reader) -> str:
    """The same in one paragraph; what else to leave alone only where people can be hurt."""
    spoken = words.finding(one.finding, reader)
    head = words.say("reading-blocked" if one.blocked else "reading-warned", reader)
    instead = words.say("reading-instead", reader, action=spoken.action)
    parts = [f"{head}: {spoken.title}.", spoken.why, instead]
    return " ".join([*parts, spoken.avoid] if one.danger in BURNS else parts)


def pertinent(answer: Answer) -> list[Warned]:
    """The dangerous actions to which this very reading tempts."""
    return [one for one in answer.warned if one.pertinent]


def never(answer: Answer, reader: Reader) -> str:
    """One line of the others, which hold for every bad day; empty where there are none.

    It begins as one more of a list, or alone where nothing pertinent stands before it.
    """
    names = [
        words.say(f"reading-not-{one.danger.replace('_', '-')}", reader)
        for one in answer.warned
        if not one.pertinent
    ]
    key = "reading-not-any" if pertinent(answer) else "reading-not-only"
    return words.say(key, reader, what="; ".join(names)) if names else ""


def again(answer: Answer, reader: Reader) -> str:
    """When the next test is due."""
    time = _time(answer.again_h, reader)
    if answer.actions:
        return words.say("reading-again", reader, time=time)
    said = words.say("reading-nothing", reader, time=time)
    read = answer.judgement.given.measures
    untested = [words.say(f"word-{one}", reader) for one in KILLS_UNSEEN if one not in read]
    if not untested:
        return said
    return f"{said} {words.say('reading-nothing-of-these', reader, what=words.listed(untested, reader))}"


def _time(hours: float, reader: Reader) -> str:
    if hours >= LONG_H:
        return words.quantity(hours / 24.0, "days", reader)
    return words.quantity(hours, "time", reader)


def _amounts(found: Iterable[Amount], reader: Reader) -> Mapping[str, str]:
    return {one.name: words.amount(one, reader) for one in found}
