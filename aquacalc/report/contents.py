"""The sheets of a plan by their titles: the list at the top of its page, and the bookmarks of its print."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from html import unescape

from aquacalc import words
from aquacalc.pages.html import Html, element, join
from aquacalc.words import Reader

LIST = "list-of-sheets"
"""Name of the list, to which every screen of the page leads back."""

ENTRY = re.compile(
    r'<section class="(?P<kind>sheet|part)\b[^"]*">(?:<div[^>]*>)*'
    r'<h[12] id="(?P<anchor>[\w-]+)">(?P<title>.*?)</h'
)
PLACE = re.compile(r'<h[12] id="(?P<title>[\w-]+)">|<a href="#(?P<source>source-\w+)">')
TEXT = re.compile(r'<span id="(?P<source>source-\w+)">[^<]*</span>')
NUMBER = re.compile(r"-\d+$")
SOURCES = "folder-sources"
"""The part that holds the texts; what it says of other sheets is no sheet of its own."""

TAG = re.compile(r"<[^>]*>")
MAIN = "<main>"


@dataclass(frozen=True)
class Entry:
    """A sheet or a part of the folder: the name that links lead to, and its title as plain text."""

    anchor: str
    title: str
    wall: bool


def entries(page: str) -> tuple[Entry, ...]:
    """The sheets for the wall, of which the emergency card is the first, then the parts of the folder."""
    found = [
        Entry(one["anchor"], unescape(TAG.sub("", one["title"])), one["kind"] == "sheet")
        for one in ENTRY.finditer(page)
    ]
    return (*(one for one in found if one.wall), *(one for one in found if not one.wall))


def with_list(page: str, reader: Reader) -> str:
    """The page with links to all of its sheets at the top, and one back to them on every screen.

    On paper neither is printed; printing engines mark the places in a PDF to which links lead.
    """
    there = entries(page)
    wall, folder = ([one for one in there if one.wall is wanted] for wanted in (True, False))
    links = element(
        "nav",
        element("b", words.say("contents-title", reader)),
        _part("contents-wall", wall, reader),
        _part("contents-folder", folder, reader),
        class_="contents",
        id=LIST,
    )
    back = element("a", words.say("contents-back", reader), class_="to-list", href=f"#{LIST}")
    return page.replace(MAIN, join(Html(MAIN), links, back), 1)


def with_ways_back(page: str) -> str:
    """The page whose texts in the list of sources lead back to the sheets that name them."""
    titles = {one.anchor: one.title for one in entries(page)}
    named: dict[str, list[str]] = {}
    at = ""
    for found in PLACE.finditer(page):
        if found["title"]:
            # A note stands behind all sheets of its name; it is reached from the first of them.
            at = NUMBER.sub("", found["title"])
        elif at not in ("", SOURCES, *named.get(found["source"], ())):
            named.setdefault(found["source"], []).append(at)

    def ways(found: re.Match[str]) -> str:
        there = [element("a", titles[one], href=f"#{one}") for one in named.get(found["source"], [])]
        return f"{found[0]}{element('span', *_parted(there), class_='back')}" if there else found[0]

    return TEXT.sub(ways, page)


def _parted(links: list[Html]) -> list[str]:
    return [part for link in links for part in (" · ", link)]


def _part(key: str, there: Iterable[Entry], reader: Reader) -> Html:
    links = [element("li", element("a", one.title, href=f"#{one.anchor}")) for one in there]
    return join(element("p", words.say(key, reader)), element("ul", *links)) if links else Html("")
