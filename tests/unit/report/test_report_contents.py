"""The list of sheets: wall before folder, titles as plain text, nothing for a page without sheets."""

from pathlib import Path

import pypdfium2

from aquacalc.pages.html import Html, anchored, element
from aquacalc.report import bookmarks, contents, pdf
from aquacalc.words import Reader

PART = anchored(
    element("section", element("div", element("h2", "Fish & co"), class_="keep"), class_="part"), "fish"
)
CARD = anchored(
    element("section", element("div", element("h1", element("b", "Act"), " now")), class_="sheet card"), "act"
)
PAGE = f"<main>{PART}{CARD}</main>"


def test_sheets_for_the_wall_come_first_and_titles_are_plain_text():
    found = [(one.anchor, one.title, one.wall) for one in contents.entries(PAGE)]
    assert found == [("act", "Act now", True), ("fish", "Fish & co", False)]


def test_the_list_stands_at_the_top_and_escapes_titles():
    page = contents.with_list(PAGE, Reader())
    assert page.index("<nav") < page.index("<section")
    assert '<a href="#fish">Fish &amp; co</a>' in page
    assert page.endswith(f"{PART}{CARD}</main>")


def test_several_sheets_of_one_name_are_numbered():
    made = anchored(Html('<section class="sheet month"><h1>1</h1></section>' * 3), "months")
    assert [f'id="{name}"' in made for name in ("months", "months-2", "months-3", "months-4")] == [
        True,
        True,
        True,
        False,
    ]


def test_bookmarks_name_what_was_printed_and_leave_out_what_was_not(tmp_path: Path):
    path = tmp_path / "x.pdf"
    rules = "<style>section + section { break-before: page; } nav { display: none; }</style>"
    assert pdf.write(rules + contents.with_list(PAGE, Reader()), path, "a4")
    gone = contents.Entry("gone", "Gone", True)
    bookmarks.write(path, [*contents.entries(PAGE), gone], Reader())
    document = pypdfium2.PdfDocument(path)
    marks = [(mark.get_title(), mark.get_dest().get_index()) for mark in document.get_toc() if mark.level]
    assert len(document) == 2
    assert marks == [("Act now", 1), ("Fish & co", 0)]
    document.close()
