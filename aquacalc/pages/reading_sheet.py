"""A judged reading as markup: its table for the screen, and all of it on one printed page."""

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from aquacalc import __version__, words
from aquacalc.advice.finding import Note
from aquacalc.advice.reading.actions import Answer
from aquacalc.judge.levels import URGENCY
from aquacalc.judge.water import Judged
from aquacalc.pages import html, style
from aquacalc.pages.html import STAMP_LETTERS, Html, blank, element, join, paragraph, shortened
from aquacalc.sentences import reading
from aquacalc.words import Reader

TYPE_PT = tuple(11.0 - 0.25 * step for step in range(9))
"""Sizes of type, from 11 down to 9; the first that lets everything stand on one sheet is taken. Nothing is
printed smaller: what does not fit then goes on over a second sheet."""

MM_PER_PT = 25.4 / 72.0
LETTER_EM, LINE_EM = 0.57, 1.25
"""Mean width of a letter, and height of a line, in sizes of type."""
GAP_EM = {"h1": 1.6, "h2": 1.4, "p": 0.4, "li": 0.2, "tr": 0.75}
"""Room over and under a heading, a paragraph, an item and a row of a table; headings are larger, too."""
FRAME_MM, TO_WRITE_MM = 2.1, 2.5
"""What a thick frame adds to its line, and room to write in to its row."""
SPARE_SHARE = 0.97
"""Of the sheet, so that a line more than reckoned still fits."""

BY_FIELDS = {
    "reading-assumed-cold": "desk-assumed-cold",
    "reading-assumed-new-water": "desk-assumed-new-water",
}
"""Notes that tell what to type, by the notes that tell where to write it."""

LOOK = """
.result {{ font-size: {size}pt; line-height: 1.25; }}
.result h1 {{ font-size: 17pt; }}
.result .stamp {{ font-size: 9pt; border-bottom: 0.5mm solid #000; margin: 0.5mm 0 1.5mm; }}
.result h2 {{ font-size: {head}pt; margin: 2mm 0 0.6mm; }}
.result .aq-answer {{ font-size: {head}pt; font-weight: bold; margin: 3mm 0 1mm; }}
.result th, .result td {{ padding: 0.5mm 1.2mm; }}
.result li {{ margin-bottom: 0.5mm; }}
.result p + p {{ margin-top: 0.7mm; }}
.result .blank {{ width: 34mm; margin: 0 3mm 0 1.5mm; }}
.result td:nth-child(2) {{ padding-top: 1.3mm; width: 45mm; }}
.result h2 {{ break-after: avoid; }}
.result li, .result tr {{ break-inside: avoid; }}
.result table.write td, .result table.write th {{ vertical-align: middle; }}
"""


@dataclass(frozen=True)
class Told:
    """A judged reading with what belongs to it.

    garden: its name, empty where there is none. logged: the day of the log's row that the readings are from,
    None where they were typed.
    """

    answer: Answer
    garden: str = ""
    logged: date | None = None


# --- parts that screen and paper share ---------------------------------------------------------------------


def status(answer: Answer, reader: Reader) -> Html:
    """The level of the whole in its frame, and what sets it."""
    level = answer.judgement.level
    word = words.level(level, reader)
    # The sentence is the command's own; only the word of the level gets its frame.
    before, _, after = reading.status(answer, reader).partition(word)
    return join(before, html.level(level, reader), after)


def judged_for(answer: Answer, reader: Reader) -> str:
    """Which fish the lines are for, and how much water the doses; here litres are written into a field."""
    said = reading.judged_for(answer, reader)
    return said.replace(words.say("reading-no-litres", reader), words.say("desk-no-litres", reader))


def reasons(answer: Answer, reader: Reader) -> list[Html]:
    """Why it matters; a level that the errors of the kit leave open stands in its frame."""
    said = []
    unionised = answer.judgement.of("unionised_ammonia")
    for text in reading.reasons(answer, reader):
        level = "" if unionised is None else words.level(unionised.level_high, reader)
        if unionised is not None and text == words.say("reading-may-be", reader, level=level):
            before, _, after = text.rpartition(level)
            said.append(join(before, html.level(unionised.level_high, reader), after))
        else:
            said.append(join(text))
    return said


def notes(found: Iterable[Note], reader: Reader) -> list[str]:
    """Notes in words; where the command would have a name typed, the fields of the screen are named."""
    return reading.notes((replace(note, key=BY_FIELDS.get(note.key, note.key)) for note in found), reader)


def readings(answer: Answer, reader: Reader) -> Html:
    """Each reading with its level, as the kit counts it and what it counts here; the most urgent first."""
    found = answer.judgement
    head = [words.say(f"reading-head-{name}", reader) for name in ("reading", "level", "value")]
    rows = [
        (reading.name(one, reader), framed(one, reader), reading.value(one, reader, found.given))
        for one in sorted(found.judged, key=lambda one: URGENCY.index(one.level))
    ]
    return html.table(head, rows)


def framed(one: Judged, reader: Reader) -> Html:
    """The level of a reading in its frame, and whether it may be worse."""
    worse = one.or_worse and one.level in ("watch", "act today")
    word = html.level(one.level, reader)
    return join(word, " ", words.say("desk-or-worse", reader)) if worse else word


# --- the page ----------------------------------------------------------------------------------------------


def page(told: Told, reader: Reader, made: date) -> Html:
    """All of it: status, what to do with boxes, portions, what not to do, readings, what was assumed."""
    found, say = told.answer, words.say
    now, later = reading.now(found, reader), reading.later(found, reader)
    return element(
        "section",
        element("h1", say("desk-sheet-title", reader)),
        paragraph(_stamp(told, reader, made), "stamp"),
        element("p", say("desk-sheet-who", reader), blank(), say("desk-sheet-at", reader), blank()),
        element("p", status(found, reader), class_="aq-answer"),
        paragraph(f"{reading.again(found, reader)} {_whence(told, reader)}".strip()),
        _part("reading-do" if now else "reading-order", html.ticks(now or later), reader),
        _part("reading-then", html.ticks(later if now else []), reader),
        _part("desk-sheet-doses", _doses(found, reader), reader),
        _part("reading-not", _avoided(found, reader), reader),
        _part("desk-sheet-readings", readings(found, reader), reader),
        _listed("reading-ask", notes(found.judgement.asked, reader), reader),
        _listed("desk-sheet-assumed", _assumed(found, reader), reader),
        paragraph(say("reading-cautions", reader)),
        class_="result",
    )


def _stamp(told: Told, reader: Reader, made: date) -> str:
    day = words.date(made, reader)
    if not told.garden:
        return words.say("desk-sheet-stamp-alone", reader, made=day, version=__version__)
    garden = shortened(told.garden, STAMP_LETTERS)
    return words.say("desk-sheet-stamp", reader, garden=garden, made=day, version=__version__)


def _whence(told: Told, reader: Reader) -> str:
    if told.logged is None:
        return ""
    return words.say("desk-sheet-logged", reader, day=words.date(told.logged, reader))


def _part(key: str, body: Html, reader: Reader) -> Html:
    """A heading and what stands under it; nothing where nothing does."""
    there = body and body != html.ticks([])
    return join(element("h2", words.say(key, reader).rstrip(":")), body) if there else Html("")


def _listed(key: str, texts: Sequence[str], reader: Reader) -> Html:
    """Sentences one after the other: a list of short ones would fill the page."""
    return _part(key, paragraph(" ".join(texts)), reader)


def _assumed(found: Answer, reader: Reader) -> list[str]:
    return [judged_for(found, reader), *notes(found.judgement.assumed, reader)]


def _avoided(found: Answer, reader: Reader) -> Html:
    """What not to do and what instead; why stands on the screen."""
    rows = []
    for one in reading.pertinent(found):
        title, _, _ = reading.warned(one, reader)
        instead = words.say("reading-instead", reader, action=words.finding(one.finding, reader).action)
        rows.append(element("li", element("b", f"{title}."), " ", instead))
    if never := reading.never(found, reader):
        rows.append(element("li", never))
    return element("ul", *rows) if rows else Html("")


def _doses(found: Answer, reader: Reader) -> Html:
    """Each portion that was reckoned in grams, with room for the test before it and the hour it was given."""
    there = [action.goods for action in found.actions if action.goods is not None]
    told = [reading.goods(one, reader) for one in there if not math.isnan(one.grams)]
    head = [words.say(f"desk-sheet-dose-{name}", reader) for name in ("what", "test", "given")]
    return html.table(head, ((text, "", "") for text in told), "write") if told else Html("")


def document(told: Told, reader: Reader, made: date, paper: style.Paper) -> str:
    """The page as a file of its own, which needs nothing beside it."""
    body = page(told, reader, made)
    size = type_pt(body, paper)
    title = words.say("desk-sheet-title", reader)
    rules = (
        style.style(),
        style.paper_rules(paper, _stamp(told, reader, made)),
        LOOK.format(size=f"{size:g}", head=f"{size + 2.5:g}"),
    )
    head = element(
        "head",
        Html('<meta charset="utf-8">'),
        element("title", title),
        *(element("style", Html(rule)) for rule in rules),
    )
    whole = element("html", head, element("body", element("main", body)), lang=reader.language)
    return f"<!doctype html>\n{whole}\n"


def type_pt(body: str, paper: style.Paper) -> float:
    """The size of type at which a page of markup fits on one sheet; the smallest where none does.

    >>> type_pt("<p>short</p>", "a4")
    11.0
    """
    return next((size for size in TYPE_PT if height_mm(body, size, paper) <= room_mm(paper)), TYPE_PT[-1])


def room_mm(paper: style.Paper) -> float:
    """Height that a sheet has for what is printed."""
    return SPARE_SHARE * (style.SIZES[paper].height_mm - style.TOP_MM - style.BOTTOM_MM - style.SPARE_MM)


def height_mm(body: str, size_pt: float, paper: style.Paper) -> float:
    """About how high a page of markup gets: no browser is asked, so it is reckoned from its letters."""
    em = size_pt * MM_PER_PT
    wide = style.SIZES[paper].width_mm - 2.0 * style.SIDE_MM
    a_line = wide / (LETTER_EM * em)
    found = 0.0
    for tag, inside in re.findall(r"<(h1|h2|p|li|tr)\b[^>]*>(.*?)</\1>", body, re.DOTALL):
        # The cells of a row stand side by side.
        lines = 1 if tag == "tr" else math.ceil(len(_text(inside)) / a_line)
        found += em * (lines * LINE_EM + GAP_EM[tag])
        found += FRAME_MM * ("act-today" in inside) + TO_WRITE_MM * ("<td></td>" in inside)
    return found


def _text(body: str) -> str:
    """What of markup is read."""
    return re.sub(r"<[^>]*>", "", body)
