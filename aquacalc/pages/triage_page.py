"""What to do when something goes wrong, as markup: for the screen, and as one sheet in large type."""

import base64
from datetime import date

from aquacalc import __version__, words
from aquacalc.advice.triage import Cause, Step, Triage
from aquacalc.pages import style
from aquacalc.pages.html import Html, element, join, level, listing, paragraph
from aquacalc.sentences import reading
from aquacalc.words import Reader

ROOM = """
.sheet.triage { line-height: 1.14; }
.sheet.triage ol, .sheet.triage ul { padding-left: 9mm; }
.sheet.triage h2 { margin: 1.3mm 0 0.2mm; }
.sheet.triage .stamp { margin-bottom: 1mm; }
"""
"""Room for the numbers of steps; lines so close that each sign keeps to one sheet in large type."""


def sentence(step: Step, answer: Triage, reader: Reader) -> str:
    """A step in words; what a reading asks for as a reading says it."""
    if step.action is not None and answer.answer is not None:
        return reading.action_text(step.action, answer.answer, reader)
    return words.say(step.key, reader, **{one.name: words.amount(one, reader) for one in step.amounts})


def parts(answer: Triage, reader: Reader, heading: str = "h3") -> Html:
    """Steps in order, counted through from the first thing to do to the last to measure; then the rest."""
    return join(doing(answer, reader, heading), rest(answer, reader, heading))


def doing(answer: Triage, reader: Reader, heading: str = "h3", now: bool = True) -> Html:
    """What to do in order, now or only where it goes further."""
    done = [step for step in answer.steps if step.kind == "do"]
    head = "triage-head-do" if now else "triage-head-ready"
    return join(element(heading, words.say(head, reader)), _counted(done, 1, answer, reader))


def rest(answer: Triage, reader: Reader, heading: str = "h3") -> Html:
    """What to measure then, what it may be, what never, whom to ask."""
    done = [step for step in answer.steps if step.kind == "do"]
    measured = [step for step in answer.steps if step.kind == "measure"]
    return join(
        element(heading, words.say("triage-head-measure", reader)),
        _counted(measured, 1 + len(done), answer, reader),
        element(heading, words.say("triage-head-likely", reader)),
        element("ul", *(element("li", _cause(cause, reader)) for cause in answer.likely)),
        element(heading, words.say("triage-head-never", reader)),
        listing(words.say(key, reader) for key in answer.never),
        element(heading, words.say("triage-head-after", reader)),
        listing(words.say(key, reader) for key in answer.after),
    )


def first(answer: Triage, reader: Reader) -> str:
    """The first thing to do, in words."""
    return sentence(answer.steps[0], answer, reader)


def _counted(steps: list[Step], first: int, answer: Triage, reader: Reader) -> Html:
    items = (element("li", sentence(step, answer, reader)) for step in steps)
    return element("ol", *items, start=str(first))


def _cause(cause: Cause, reader: Reader) -> Html:
    said = words.say(cause.key, reader)
    if cause.level == "not known":
        return join(said)
    return join(said, " ", words.say("triage-reading", reader), " ", level(cause.level, reader))


def sheet(answer: Triage, reader: Reader, made: date, garden: str = "") -> Html:
    """One sheet for the wall. garden: its name, empty where there is none."""
    day = words.date(made, reader)
    stamp = (
        words.say("page-stamp", reader, garden=garden, made=day, version=__version__)
        if garden
        else words.say("triage-made", reader, made=day, version=__version__)
    )
    return element(
        "section",
        element("h1", words.say(answer.title, reader)),
        paragraph(stamp, "stamp"),
        element("p", element("b", words.say(answer.before, reader))),
        parts(answer, reader, "h2"),
        class_="sheet triage",
    )


def document(answer: Triage, reader: Reader, made: date, garden: str = "") -> str:
    """The sheet as a page of its own, which needs nothing beside it."""
    title = words.say(answer.title, reader)
    rules = style.STYLE.read_text("utf-8") + style.paper_rules(style.paper_of(reader), title) + ROOM
    head = element(
        "head", Html('<meta charset="utf-8">'), element("title", title), element("style", Html(rules))
    )
    body = element("body", sheet(answer, reader, made, garden))
    return f"<!doctype html>\n{element('html', head, body, lang=reader.language)}\n"


def link(answer: Triage, reader: Reader, made: date, garden: str = "") -> Html:
    """A link that saves the page from a notebook; the page travels inside the link."""
    coded = base64.b64encode(document(answer, reader, made, garden).encode("utf-8")).decode("ascii")
    return element(
        "a",
        words.say("triage-print", reader),
        href=f"data:text/html;charset=utf-8;base64,{coded}",
        download=f"{answer.sign.replace('_', '-')}.html",
        style="text-decoration:underline;line-height:44px",
    )
