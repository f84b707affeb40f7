"""What if I add a base, drive carbon dioxide out, if it gets warmer, if I change water? Before it is done."""

import math
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from aquacalc import kits, tables, words
from aquacalc.advice.reading import cloud, measure, what_if
from aquacalc.advice.reading.judge import Judgement
from aquacalc.advice.reading.what_if import After, State, WhatIf, Wish
from aquacalc.charts import ammonia_map
from aquacalc.charts.ammonia_map import Map, Mark
from aquacalc.charts.canvas import WIDTHS
from aquacalc.judge import lines
from aquacalc.pages import html
from aquacalc.panels.frame import scenarios
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer, figure, wide
from aquacalc.panels.water.reading import OTHER, OWN, ReadingPanel

EXAMPLE_TAN_MG_L = 1.0
MAIN = ("chemical", "rise", "aired", "warmer", "share")
"""What is asked first; what stands in the new water is known from the garden."""
"""Ammonia of the map where none was read and no kit is described."""

SAID_AGAINST = ("ph_step", "ph_high", "hydroxide_share")


@dataclass(frozen=True)
class Shown:
    """What the panel shows. judgement: of the reading above, None where nothing could be read yet."""

    judgement: Judgement | None
    found: WhatIf | None
    wish: Wish


def controls(reader: words.Reader) -> dict[str, Field]:
    """Four deeds: a base, air, warmth, a change of water with what the new water holds."""
    say, usual = words.say, Wish()
    return {
        "chemical": ChoiceField(say("what-if-base", reader), bases(), usual.chemical, reader),
        "rise": NumberField(
            say("what-if-rise", reader),
            "alkalinity",
            usual.rise_mg_l,
            reader,
            0.0,
            200.0,
            (0.0, 60.0, 2.5),
        ),
        "aired": NumberField(
            say("what-if-aired", reader),
            "concentration",
            usual.aired_mg_l,
            reader,
            0.3,
            60.0,
            (0.5, 20.0, 0.5),
        ),
        "warmer": NumberField(
            say("what-if-warmer", reader),
            "temperature_difference",
            usual.warmer_k,
            reader,
            -15.0,
            15.0,
            (-5.0, 10.0, 0.5),
        ),
        "share": NumberField(
            say("what-if-share", reader), "share", usual.share, reader, 0.0, 0.9, (0.0, 0.5, 0.05)
        ),
        "new_ph": NumberField(say("what-if-new-ph", reader), "", usual.new_ph, reader, 4.0, 10.0),
        "new_alkalinity": NumberField(
            say("what-if-new-alkalinity", reader), "alkalinity", usual.new_alkalinity_mg_l, reader, 0.0, 600.0
        ),
        "new_tan": NumberField(
            say("what-if-new-tan", reader), "concentration", usual.new_tan_mg_l, reader, 0.0, 20.0
        ),
    }


def bases() -> list[tuple[str, str]]:
    """Names and keys of bases that work at once."""
    rows = [row for row in tables.load("chemicals") if row.text("kind") == "base"]
    return sorted((row.text("name"), row.key) for row in rows if "slow" not in row.listed("caution"))


def known(desk: Desk) -> dict[str, object]:
    """What the garden tells of its top-up water."""
    told = {"new_ph": desk.garden.top_up.ph, "new_alkalinity": desk.garden.top_up.alkalinity_mg_l}
    return {name: value for name, value in told.items() if value is not None}


def compute(judged: ReadingPanel, values: Values) -> Shown:
    """What each deed makes of the water that was read above."""
    wish = Wish(
        chemical=values["chemical"],
        rise_mg_l=values["rise"],
        aired_mg_l=values["aired"],
        warmer_k=values["warmer"],
        share=values["share"],
        new_ph=values["new_ph"],
        new_alkalinity_mg_l=values["new_alkalinity"],
        new_tan_mg_l=values["new_tan"],
    )
    if judged.told is None:
        return Shown(None, None, wish)
    judgement = judged.told.answer.judgement
    return Shown(judgement, what_if.answer_of(judgement, wish), wish)


def draw(reader: words.Reader, shown: Shown) -> html.Html:
    """Which of the deeds passes the line, each before and after, what speaks against it, the map."""
    judgement, found = shown.judgement, shown.found
    if judgement is None or found is None:
        return answer(words.say("what-if-nothing", reader))
    map_ = picture(shown, reader)
    pictures = [] if map_ is None else [html.paragraph(mapped_for(shown, reader)), figure(*map_)]
    if found.now is None:
        return answer(_missing(found, reader), [], *pictures)
    return answer(
        title(found, reader),
        [words.say("what-if-settled", reader)],
        wide(table(shown, found.now, reader)),
        html.listing(against(shown, reader)),
        *pictures,
    )


def _missing(found: WhatIf, reader: words.Reader) -> str:
    if not found.missing:
        return words.say("what-if-does-not-fit", reader)
    names = [words.say(f"word-{one}", reader) for one in found.missing]
    return words.say("what-if-missing", reader, what=words.listed(names, reader))


def title(found: WhatIf, reader: words.Reader) -> str:
    """The answer in one line: what takes un-ionised ammonia past the line."""
    line = words.quantity(found.line, "nitrogen", reader)
    assert found.now is not None
    if math.isnan(found.now.tan_mg_l):
        return words.say("what-if-no-tan", reader)
    passing = [deed_name(one, reader) for one in found.after if one.passes and one.deed != "all"]
    if found.now.unionised_mg_l >= found.line:
        return words.say("what-if-past-already", reader, line=line)
    if not passing:
        together = any(one.passes for one in found.after)
        return words.say("what-if-passes-together" if together else "what-if-passes-none", reader, line=line)
    return words.say("what-if-passes", reader, what=words.listed(passing, reader), line=line)


def deed_name(one: After, reader: words.Reader) -> str:
    """A deed in a word or two."""
    return words.say(f"what-if-deed-{one.deed}", reader)


def table(shown: Shown, now: State, reader: words.Reader) -> html.Html:
    """The water as read, and after each deed."""
    assert shown.found is not None
    found, line = shown.found, words.number(shown.found.line)
    head = [words.say(f"what-if-head-{name}", reader) for name in ("what", "at-once", "settled", "dioxide")]
    head += [words.say("what-if-head-unionised", reader, line=line), words.say("what-if-head-level", reader)]
    first = (
        words.say("what-if-as-read", reader),
        words.quantity(now.ph_at_once, "ph", reader),
        "",
        words.number(now.carbon_dioxide_mg_l),
        _unionised(now, now.unionised_mg_l >= found.line, reader),
        _leads_to(found, reader),
    )
    return html.table(head, [first, *(_row(one, shown.wish, reader) for one in found.after)])


def _row(one: After, wish: Wish, reader: words.Reader) -> tuple[str, ...]:
    return (
        _told(one, wish, reader),
        words.quantity(one.state.ph_at_once, "ph", reader),
        words.quantity(one.state.ph_settled, "ph", reader),
        words.number(one.state.carbon_dioxide_mg_l),
        _unionised(one.state, one.passes, reader),
        _leads_to(one, reader),
    )


def _unionised(state: State, passes: bool, reader: words.Reader) -> html.Html:
    """Un-ionised ammonia; in bold and with words where it is past the line."""
    known = not math.isnan(state.unionised_mg_l)
    amount = words.number(state.unionised_mg_l) if known else words.say("not-known", reader)
    if not passes:
        return html.join(amount)
    return html.element("b", amount, ": ", words.say("what-if-past", reader))


def _leads_to(one: After | WhatIf, reader: words.Reader) -> html.Html:
    """The level in its frame, whether it may be worse, and what sets it."""
    worse = f" {words.say('desk-or-worse', reader)}" if one.or_worse else ""
    return html.join(html.level(one.level, reader), f"{worse} {_by(one.set_by, one.level, reader)}")


def _by(set_by: tuple[str, ...], level: str, reader: words.Reader) -> str:
    if level == "fine" or not set_by:
        return ""
    names = [words.say(f"word-{one.replace('_', '-')}", reader) for one in set_by]
    return words.say("desk-by", reader, what=words.listed(names, reader))


def _told(one: After, wish: Wish, reader: words.Reader) -> str:
    """A deed with its amount."""
    if one.deed == "base":
        rise = words.quantity(wish.rise_mg_l, "alkalinity", reader)
        name = words.name("chemical", wish.chemical)
        return words.say("what-if-row-base", reader, name=name, rise=rise)
    if one.deed == "air":
        left = words.quantity(wish.aired_mg_l, "concentration", reader)
        # Air leaves what is less already as it is.
        less = one.state.settled_mg_l < wish.aired_mg_l
        return words.say("what-if-row-air-less" if less else "what-if-row-air", reader, left=left)
    if one.deed == "heat":
        return _warmer(wish, reader)
    if one.deed == "change":
        share = words.quantity(wish.share, "share", reader)
        return words.say("what-if-row-change", reader, share=share)
    return words.say("what-if-row-all", reader)


def _warmer(wish: Wish, reader: words.Reader) -> str:
    by = words.quantity(abs(wish.warmer_k), "temperature_difference", reader)
    return words.say("what-if-row-heat" if wish.warmer_k > 0.0 else "what-if-row-cold", reader, by=by)


def against(shown: Shown, reader: words.Reader) -> list[str]:
    """What speaks against a deed besides ammonia."""
    assert shown.found is not None
    keys = [key for one in shown.found.after for key in one.against if key in SAID_AGAINST]
    told = [words.say(f"what-if-against-{key.replace('_', '-')}", reader) for key in keys]
    tan = None if shown.judgement is None else shown.judgement.given.measures.get("tan")
    if tan is not None and tan.beyond == "above":
        told.append(words.say("what-if-open", reader))
    return told


def picture(shown: Shown, reader: words.Reader) -> list[str] | None:
    """The map of the reading with the what-ifs on it; None without a reading.

    Where no ammonia was read it is drawn for as much as may go unseen, and without the tries of a test.
    """
    judgement, found = shown.judgement, shown.found
    if judgement is None or found is None:
        return None
    tan = judgement.given.value("tan")
    tries = cloud.cloud_of(judgement) if tan > 0.0 else cloud.Cloud(np.empty(0), np.empty(0))
    if not tan > 0.0:
        tan, _ = unseen(judgement)
        judgement = _with_ammonia(judgement, tan)
        found = what_if.answer_of(judgement, shown.wish)
    marks = tuple(_mark(one, tan, shown.wish, reader) for one in found.after)
    unionised = lines.levels_from("unionised_ammonia", judgement.given.species)
    of = Map(tan, unionised, judgement.ph, judgement.temperature_c, tries, marks)
    return [ammonia_map.ammonia_map(of, reader, "", width) for width in WIDTHS]


def unseen(judgement: Judgement) -> tuple[float, str]:
    """Ammonia as N to draw the map for where none was read, and what it is: `none`, the smallest step of the
    kit above nothing, where that read nothing; else `example`."""
    scale = judgement.given.scales.get("tan")
    if "tan" in judgement.given.measures and scale is not None:
        steps = sorted(inside for step in scale.steps if (inside := kits.as_inside(step, scale) or 0.0) > 0.0)
        if steps:
            return steps[0], "none"
    return EXAMPLE_TAN_MG_L, "example"


def _with_ammonia(judgement: Judgement, tan_mg_l: float) -> Judgement:
    tan = measure.of_text("tan", f"{tan_mg_l!r} N", None)
    measures = {**judgement.given.measures, "tan": tan}
    return replace(judgement, given=replace(judgement.given, measures=measures))


def mapped_for(shown: Shown, reader: words.Reader) -> str:
    """What the map is drawn for, where that was not read; else empty."""
    assert shown.judgement is not None
    if shown.judgement.given.value("tan") > 0.0:
        return ""
    tan, what = unseen(shown.judgement)
    return words.say(f"what-if-map-{what}", reader, tan=words.quantity(tan, "nitrogen", reader))


def _mark(one: After, tan_mg_l: float, wish: Wish, reader: words.Reader) -> Mark:
    """A deed on the map; with less or more ammonia it stands at the pH at which the map counts it."""
    warm = float(one.state.water.temperature_c)
    ph = float(cloud.counts_as_ph(one.state.unionised_mg_l, tan_mg_l, warm))
    text = _warmer(wish, reader) if one.deed == "heat" else deed_name(one, reader)
    if abs(ph - one.state.ph_highest) > 0.05:
        text = words.say("what-if-as-if", reader, what=text, ph=words.quantity(ph, "ph", reader))
    return Mark(text, ph, warm)


def _whose_changed(made: Panel, judged: ReadingPanel, desk: Desk) -> None:
    """Another tank has not the garden's top-up water: the usual one stands there."""
    usual, own = Wish(), judged.values.get("whose", OWN) != OTHER
    plain = {"new_ph": usual.new_ph, "new_alkalinity": usual.new_alkalinity_mg_l}
    made.fill({**plain, **(known(desk) if own else {})})


def panel(judged: ReadingPanel, desk: Desk | None = None) -> Panel:
    """The panel under a panel of a reading: it follows each new answer, and the garden's top-up water."""
    reader = reader_of(desk)
    made = Panel(
        "what-if", controls(reader), partial(compute, judged), partial(draw, reader), reader, main=MAIN
    )
    judged.on_answer(made.refresh)
    if desk is not None:
        desk.fill(made, known)
        judged.fields["whose"].on_change(partial(_whose_changed, made, judged, desk))
    scenarios.offer(made)
    return made
