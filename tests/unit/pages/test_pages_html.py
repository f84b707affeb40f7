from html.parser import HTMLParser

import pytest

from aquacalc.judge.levels import URGENCY
from aquacalc.pages import html, style
from aquacalc.pages.html import Html, element
from aquacalc.words import Reader

ODD = ["<script>alert(1)</script>", "a \"quoted\" & 'odd' name", "🐟 & co", "</style>", "<b>", "\\"]


class Read(HTMLParser):
    """The tags and the text of a page, as a browser reads them."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.text = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)

    def handle_data(self, data: str) -> None:
        self.text += data


@pytest.mark.parametrize("name", ODD)
def test_text_goes_into_markup_as_it_is_and_never_becomes_markup(name: str):
    made = html.table(("head", name), [(name, name), (element("b", name), "x")])
    read = Read(made)
    assert set(read.tags) == {"table", "thead", "tbody", "tr", "th", "td", "b"}
    assert read.text.count(name) == 4


def test_finished_markup_is_not_escaped_again():
    assert html.join(Html("<br>"), "<br>") == "<br>&lt;br&gt;"


@pytest.mark.parametrize("name", ODD)
def test_attributes_are_escaped_as_well(name: str):
    seen: list[str | None] = []

    class Attributes(HTMLParser):
        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            seen.extend(value for _, value in attrs)

    Attributes().feed(element("p", title=name))
    assert seen == [name]


def test_every_level_is_a_word_in_a_frame_of_its_own():
    made = {level: html.level(level, Reader()) for level in URGENCY}
    rules = style.STYLE.read_text("utf-8")
    for level, text in made.items():
        assert Read(text).text == level
        frame = level.replace(" ", "-")
        assert f'class="level {frame}"' in text
        assert f".{frame} {{" in rules


def test_lists_and_paragraphs_of_nothing_are_nothing():
    assert html.listing([]) == html.paragraph("") == ""


@pytest.mark.parametrize("name", ODD)
def test_a_text_in_a_style_sheet_cannot_end_it(name: str):
    coded = style.css_text(name)
    assert coded.startswith('"')
    assert not set(coded[1:-1]) & set("\"<>'&/")


def test_both_papers_give_their_size_and_a_page_number():
    for paper, css in (("a4", "size: A4"), ("letter", "size: letter")):
        rules = style.paper_rules(paper, "foot")
        assert css in rules
        assert "counter(page)" in rules


def test_the_style_sheet_fetches_nothing():
    text = style.style()
    assert text.count("url(") == text.count("url(data:font/ttf;base64,") == 2
    assert "http" not in text
    assert "@import" not in text


def test_no_rule_of_the_style_sheet_uses_a_colour():
    rules = style.STYLE.read_text("utf-8")
    for word in ("red", "green", "orange", "yellow", "rgb(", "hsl("):
        assert word not in rules.replace("adjust", "")
