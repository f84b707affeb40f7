"""Bookmarks of a printed plan, written after printing: the printing engines mark places, but list none."""

from collections.abc import Sequence
from pathlib import Path

from aquacalc import words
from aquacalc.report.contents import Entry
from aquacalc.words import Reader


def write(path: Path, entries: Sequence[Entry], reader: Reader) -> None:
    """List the sheets of a PDF in its outline, in two groups, each sheet by its title.

    A sheet is found by the place that the printing engine has marked under its name; engines differ in
    whether they write the name with a stroke before it. A sheet that no engine marked is left out.
    """
    import pypdf  # only what prints needs it

    printed = pypdf.PdfReader(path)
    page_of = {
        name.lstrip("/"): printed.get_destination_page_number(place)
        for name, place in printed.named_destinations.items()
    }
    document = pypdf.PdfWriter(clone_from=printed)
    for key, wall in (("contents-wall", True), ("contents-folder", False)):
        there = [one for one in entries if one.wall is wall and page_of.get(one.anchor) is not None]
        if not there:
            continue
        group = document.add_outline_item(title=words.say(key, reader), page_number=page_of[there[0].anchor])
        for one in there:
            document.add_outline_item(title=one.title, page_number=page_of[one.anchor], parent=group)
    document.page_mode = "/UseOutlines"
    with path.open("wb") as file:
        document.write(file)
