"""The pages of a workshop that no notebook makes: the door, a visitor's files, who is in."""

from collections.abc import Sequence
from datetime import datetime
from html import escape
from pathlib import Path

from aquacalc import words
from aquacalc.pages import html
from aquacalc.pages.html import Html
from aquacalc.serve.index import whole
from aquacalc.serve.visitors import NAME_LETTERS, Visitor
from aquacalc.words import Reader

COME, LEAVE, MINE, CLASS = "/come", "/leave", "/mine/", "/class"


def hello(form: Html, reader: Reader) -> Html:
    """What somebody sees first: what shall we call you? form: hidden fields of the button."""
    say = words.say
    field = Html(f'<input name="name" id="name" maxlength="{NAME_LETTERS}" autocomplete="off" required>')
    button = html.element("button", say("class-come", reader))
    asked = html.element(
        "form",
        form,
        html.element("label", say("class-name", reader), for_="name"),
        *(field, button),
        method="post",
        action=COME,
        class_="garden",
    )
    title = say("open-title", reader)
    said = html.paragraph(say("class-hello", reader))
    return whole(title, html.join(html.element("h1", title), said, asked), reader)


def full(reader: Reader) -> Html:
    """There is no memory left for another page."""
    title = words.say("class-full-title", reader)
    said = html.paragraph(words.say("class-full", reader))
    return whole(title, html.join(html.element("h1", title), said), reader)


def full_note(reader: Reader) -> Html:
    """The same over the list of questions, before somebody opens one in vain."""
    title = html.element("b", words.say("class-full-title", reader))
    return html.element("p", title, ". ", words.say("class-full", reader), role="status")


def mine(visitor: Visitor, files: Sequence[Path], form: Html, reader: Reader) -> Html:
    """Under the list of questions: who sits here, what they may carry away, and the way out."""
    say = words.say
    links = [html.element("li", html.element("a", one.name, href=MINE + one.name)) for one in files]
    leave = html.element("button", say("class-leave", reader))
    return html.element(
        "section",
        html.element("h2", say("class-mine", reader, name=visitor.name)),
        html.paragraph(say("class-files", reader)),
        html.element("ul", *links),
        html.element("form", form, leave, method="post", action=LEAVE, class_="garden"),
        class_="card",
    )


def everybody(visitors: Sequence[Visitor], now: datetime, key: str, form: Html, reader: Reader) -> Html:
    """Who is in, since when they were not seen, and a button each that gives the garden back as it was."""
    say = words.say
    rows = []
    for one in visitors:
        hidden = html.join(form, _hidden("key", key), _hidden("visitor", one.key))
        button = html.element("button", say("class-reset", reader, name=one.name))
        minutes = int((now - one.seen).total_seconds() // 60)
        seen = say("class-seen", reader, minutes=str(minutes))
        reset = html.element("form", hidden, button, method="post", action=CLASS, class_="garden")
        rows.append((one.name, seen, reset))
    head = [say(f"class-head-{name}", reader) for name in ("name", "seen", "reset")]
    title = say("class-title", reader, count=str(len(visitors)))
    return whole(title, html.join(html.element("h1", title), html.table(head, rows)), reader)


def _hidden(name: str, value: str) -> Html:
    return Html(f'<input type="hidden" name="{name}" value="{escape(value)}">')
