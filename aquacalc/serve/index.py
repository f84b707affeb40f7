"""The first page: which garden, and what its reader wants to know."""

from collections.abc import Sequence
from urllib.parse import quote

from aquacalc import words
from aquacalc.pages import html
from aquacalc.pages.html import Html
from aquacalc.serve.gardens import Choice
from aquacalc.serve.notebooks import FIRST, Page
from aquacalc.words import Reader

RENDER = "/voila/render/"
STATIC = "/aquacalc/static/"


def index(
    pages: Sequence[Page],
    gardens: Sequence[Choice],
    chosen: str,
    reader: Reader,
    plan: bool = True,
    below: str = "",
    above: str = "",
) -> Html:
    """The list of questions, each a link, over them the garden that they are about.

    chosen: key of the garden at hand. plan: whether the season plan is offered. below: stands under the list;
    above: over it.
    """
    return whole(
        words.say("open-title", reader),
        html.join(
            html.element("h1", words.say("open-heading", reader)),
            above,
            _chooser(gardens, chosen, reader),
            *(_card(page) for page in pages),
            _plan_card(reader) if plan else "",
            below,
            html.element("p", words.say("open-caution", reader), class_="foot"),
        ),
        reader,
    )


def door(reader: Reader) -> Html:
    """What is shown to an address without its key."""
    title = words.say("open-no-key-title", reader)
    said = html.join(html.element("h1", title), html.paragraph(words.say("open-no-key", reader)))
    return whole(title, said, reader)


def whole(title: str, body: Html, reader: Reader) -> Html:
    """A page of its own, without a kernel."""
    head = html.element(
        "head",
        Html('<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">'),
        html.element("title", title),
        Html('<link rel="icon" href="data:,">'),
        Html(f'<link rel="stylesheet" href="{STATIC}pages.css">'),
    )
    content = html.element("body", html.element("main", body, class_="index"))
    return Html("<!doctype html>" + html.element("html", head, content, lang=reader.language))


def name_of(garden: Choice, reader: Reader) -> str:
    """What the list of gardens and the head of a page call a garden."""
    if not garden.key:
        return words.say("open-any", reader)
    return garden.name if garden.own else words.say("open-invented", reader, name=garden.name)


def _chooser(gardens: Sequence[Choice], chosen: str, reader: Reader) -> Html:
    options = []
    for one in gardens:
        name = name_of(one, reader)
        more = {"selected": ""} if one.key == chosen else {}
        options.append(html.element("option", name, value=one.key, **more))
    label = words.say("open-garden", reader)
    return html.element(
        "form",
        html.element("label", label, for_="garden"),
        html.element("select", *options, name="garden", id="garden"),
        html.element("button", words.say("open-choose", reader)),
        class_="garden",
        action="/",
        method="get",
    )


def _plan_card(reader: Reader) -> Html:
    title = html.element("a", words.say("plan-page-title", reader), href="/plan")
    question = html.paragraph(words.say("plan-page-question", reader))
    return html.element("section", html.element("h2", title), question, class_="card")


def _card(page: Page) -> Html:
    href = RENDER + quote(page.file)
    parts = [
        html.element("li", html.element("a", part.title, href=f"{href}#{quote(part.anchor)}"))
        for part in page.parts
    ]
    return html.element(
        "section",
        html.element("h2", html.element("a", page.title, href=href)),
        html.paragraph(page.question),
        html.element("ul", *parts) if parts else "",
        class_="card first" if page.file == FIRST else "card",
    )
