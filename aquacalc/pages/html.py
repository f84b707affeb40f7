"""Markup built from the inside out: text is escaped when it goes into an element, finished markup is not.

Names come from people's files and may hold anything, so no page puts text into markup by hand.
"""

import re
from collections.abc import Iterable, Sequence
from html import escape
from itertools import count, zip_longest

from aquacalc import words
from aquacalc.judge.levels import Level
from aquacalc.words import Reader

STAMP_LETTERS = 36
"""Letters of a garden's name in the stamp and foot of a page."""

TICK_BOX = "\u2610"

ON_SCREEN = "on-screen"
"""Class of what a screen shows and paper does not."""


class Html(str):
    """Finished markup."""

    __slots__ = ()


LINE_BREAK = Html("<br>")


def element(tag: str, *children: str, **attributes: str) -> Html:
    """An element; children that are not `Html` are escaped, as attributes are. `class_` gives `class`.

    >>> element("p", "1 < 2 & ", element("b", "3"), class_="sum")
    '<p class="sum">1 &lt; 2 &amp; <b>3</b></p>'
    """
    opening = "".join(f' {name.rstrip("_")}="{escape(value)}"' for name, value in attributes.items())
    return Html(f"<{tag}{opening}>{join(*children)}</{tag}>")


def join(*children: str) -> Html:
    """Several pieces one after the other."""
    return Html(
        "".join(child if isinstance(child, Html) else escape(child, quote=False) for child in children)
    )


def paragraph(text: str, class_: str = "") -> Html:
    """A paragraph; nothing at all for an empty text."""
    if not text:
        return Html("")
    return element("p", text, class_=class_) if class_ else element("p", text)


def listing(items: Iterable[str], class_: str = "") -> Html:
    """A list, one item a line; nothing for no items."""
    rows = [element("li", item) for item in items]
    if not rows:
        return Html("")
    return element("ul", *rows, class_=class_) if class_ else element("ul", *rows)


def twofold(items: Iterable[str], class_: str = "") -> Html:
    """A list in two columns, read along its rows; a page may end between them.

    A table, because engines that print cut lines where columns of text cross a page.
    """
    fields = [listing([item]) for item in items]
    pairs = zip_longest(fields[::2], fields[1::2], fillvalue="")
    rows = (element("tr", element("td", left), element("td", right)) for left, right in pairs)
    return element("table", element("tbody", *rows), class_=f"twofold {class_}".strip())


def table(head: Sequence[str], rows: Iterable[Sequence[str]], class_: str = "") -> Html:
    """A table whose first column heads its rows; its head repeats where it breaks across pages."""
    top = element("thead", element("tr", *(element("th", cell, scope="col") for cell in head)))
    body = element(
        "tbody",
        *(
            element("tr", element("th", row[0], scope="row"), *(element("td", cell) for cell in row[1:]))
            for row in rows
        ),
    )
    return element("table", top, body, class_=class_) if class_ else element("table", top, body)


def figure(picture: Html, note: str = "") -> Html:
    """A picture with a note that stays with it."""
    return element("figure", picture, element("figcaption", note) if note else "")


def smaller(part: Html) -> Html:
    """A part whose pictures leave room for what stands with them on the page."""
    return element("div", part, class_="smaller")


def section(title: str, first: str, *rest: str) -> Html:
    """A part of a page whose heading stays with what follows it."""
    return element(
        "section", element("div", element("h2", title), first, class_="keep"), *rest, class_="part"
    )


TITLE = re.compile(r'(<section class="(?:sheet|part)\b[^"]*">(?:<div[^>]*>)*<h[12])>')
"""The heading of a sheet for the wall or of a part of the folder."""


def anchored(part: Html, name: str) -> Html:
    """Sheets or parts of a page, their headings with names for links: the name, then name-2 and so on.

    A heading is never parted by the end of a page, as a section may be.

    >>> anchored(Html('<section class="part"><h2>A</h2></section><section class="part"><h2>B'), "fish")
    '<section class="part"><h2 id="fish">A</h2></section><section class="part"><h2 id="fish-2">B'
    """
    numbers = count(1)

    def named(found: re.Match[str]) -> str:
        number = next(numbers)
        return f'{found[1]} id="{name if number == 1 else f"{name}-{number}"}">'

    return Html(TITLE.sub(named, part))


def level(of: Level, reader: Reader) -> Html:
    """The word of a level in its frame; the word alone carries the meaning, the frame helps the eye."""
    return element("span", words.level(of, reader), class_=f"level {of.replace(' ', '-')}")


def blank(class_: str = "") -> Html:
    """A line to write on."""
    return element("span", class_=f"blank {class_}".strip())


def ticks(items: Iterable[str]) -> Html:
    """A list with a box to tick before each item."""
    return element("ul", *(element("li", f"{TICK_BOX} {item}") for item in items), class_="ticks")


def shortened(name: str, letters: int) -> str:
    """A name that fits its place.

    >>> shortened("A very long name of a garden", 12)
    'A very long…'
    """
    return name if len(name) <= letters else name[: letters - 1].rstrip() + "…"
