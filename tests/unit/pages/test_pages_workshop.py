"""The sheets of a workshop: who gets what, how hard they are to read, and odd gardens."""

import html
import re
from collections.abc import Iterator
from dataclasses import replace

import plans
import pytest
from not_for_the_young import forbidden
from textstat import textstat

from aquacalc.garden.model import Garden
from aquacalc.pages.plan import Plan
from aquacalc.pages.workshop import exercise_sheets, hand_outs, living, run_sheet
from aquacalc.pages.workshop.kit import Kit, document
from aquacalc.report import workshop
from aquacalc.workshop.audience import AUDIENCES, PEOPLE, YOUNG, Audience
from aquacalc.workshop.exercises import KINDS

GRADE = {"8-11": 5.0, "12-15": 8.0, "16": 8.0, "adults": 8.0}
"""Years of school after which a text is read, by Flesch and Kincaid."""
OWN = (
    *("loop", "litres", "reading", "power-cut", "emergency", "holiday", "hygiene", "glossary", "handover"),
)


def kit(plan: Plan, audience: Audience, people: int = 0) -> Kit:
    return workshop.kit_of(plan, audience, people or PEOPLE[audience], 1)


def titles(sheets: list[str]) -> list[str]:
    return [html.unescape(re.sub("<[^>]*>", "", one)) for one in re.findall(r"<h1.*?</h1>", "".join(sheets))]


def sentences(markup: str) -> Iterator[str]:
    """What is read as sentences: paragraphs, lines of lists, cells with a full stop; no stamp, no picture."""
    without = re.sub(r'<svg.*?</svg>|<p class="stamp">.*?</p>', "", markup, flags=re.DOTALL)
    for found in re.findall(r"<(?:p|li|td)\b[^>]*>(.*?)</(?:p|li|td)>", without, flags=re.DOTALL):
        text = html.unescape(re.sub("<[^>]*>", " ", found)).replace("\u00a0", " ").strip()
        if re.search(r"[.?!:]$", text):
            yield text


def grade(markup: str) -> float:
    return float(textstat.flesch_kincaid_grade(" ".join(sentences(markup))))


def test_the_measure_tells_easy_from_hard():
    easy = "<p>The fish swim. They eat. We look at them.</p>"
    hard = "<p>Nitrification consumes considerable alkalinity, necessitating supplementary carbonate.</p>"
    assert grade(easy) < 3.0 < 12.0 < grade(hard)


@pytest.mark.parametrize("audience", AUDIENCES)
def test_each_own_hand_out_is_easy_enough_to_read(audience: Audience):
    made = kit(plans.of_yard(), audience)
    own = [name for name in OWN if made.young or name not in ("reading", "emergency", "holiday", "hygiene")]
    found = {name: grade(hand_outs.HAND_OUTS[name](made)) for name in own if name != "handover"}
    assert {name: years for name, years in found.items() if years > GRADE[audience]} == {}


@pytest.mark.parametrize("audience", AUDIENCES)
def test_exercises_and_run_sheets_are_easy_enough_to_read(audience: Audience):
    made = kit(plans.of_yard(), audience)
    assert grade("".join(exercise_sheets.questions(made))) <= GRADE[audience]
    assert grade("".join(run_sheet.sheets(made))) <= GRADE["adults"]


@pytest.mark.parametrize("audience", ["16", "adults"])
def test_the_sheets_of_the_plan_that_are_handed_out_are_easy_enough_to_read(audience: Audience):
    assert grade("".join(hand_outs.sheets(kit(plans.of_yard(), audience)))) <= GRADE[audience]


def test_only_adults_get_doses():
    found = {one: hand_outs.sheets(kit(plans.of_yard(), one)) for one in AUDIENCES}
    dosing = {one for one, sheets in found.items() if any("Doses" in title for title in titles(sheets))}
    assert dosing == {"adults"}
    assert forbidden("".join(found["adults"]))


@pytest.mark.parametrize("audience", YOUNG)
@pytest.mark.parametrize("name", ["yard", "classroom"])
def test_nothing_for_the_young_doses_what_burns_or_kills(audience: Audience, name: str):
    made = kit(plans.of_season(name), audience)
    for part, sheets in workshop.PARTS.items():
        assert forbidden("".join(sheets(made))) == [], part


@pytest.mark.parametrize("audience", AUDIENCES)
def test_a_garden_with_a_season_gets_every_hand_out_once(audience: Audience):
    made = kit(plans.of_season("classroom"), audience)
    sheets = hand_outs.sheets(made)
    there = [name for name in hand_outs.HAND_OUTS if audience in hand_outs.OF.get(name, AUDIENCES)]
    assert len(sheets) == len(there)
    found = titles(sheets)
    assert len(found) == len(set(found))


@pytest.mark.parametrize(("lacking", "told"), [("fish", "no fish yet"), ("bed", "no bed yet")])
def test_an_example_is_called_one(lacking: str, told: str):
    made = workshop.kit_of(plans.of_yard(), "adults", 20, 1, (lacking,))
    assert told in "".join(run_sheet.sheets(made))
    assert told not in "".join(run_sheet.sheets(kit(plans.of_yard(), "adults")))


def test_a_name_of_tags_and_of_many_letters_stays_text_and_short():
    garden: Garden = replace(plans.of_yard().garden, name="<script>alert(1)</script>" + "g" * 200)
    made = kit(plans.plan(garden), "12-15")
    for sheets in workshop.PARTS.values():
        markup = "".join(sheets(made))
        assert "<script" not in markup
        assert "g" * 100 not in markup


def test_a_class_of_forty_has_tables_and_sheets_for_forty():
    made = kit(plans.of_yard(), "12-15", people=40)
    told = "".join(run_sheet.sheets(made))
    assert "40 people in 10 groups" in told
    assert "laid out 3 times" in re.sub(r"\s+", " ", told)
    assert re.search(r"hand-outs, one each</th><td>40</td>", told)


def test_answers_stand_on_a_sheet_of_their_own():
    made = kit(plans.of_yard(), "adults")
    asked, answered = "".join(exercise_sheets.questions(made)), "".join(exercise_sheets.answers(made))
    for one in made.exercises:
        worked = html.escape(exercise_sheets.working(one, made.plan.reader), quote=False)
        assert worked not in asked
        assert worked in answered
    assert len(exercise_sheets.screens(made)) == len(made.exercises)


def test_a_page_asks_for_nothing_from_outside():
    made = kit(plans.of_yard(), "adults")
    page = document("title", hand_outs.sheets(made), "en", "a4", "foot")
    without_names = page.replace("http://www.w3.org/", "")
    assert not re.search(r"https?://|<link|<script|<img", without_names)


def test_every_audience_has_exercises_of_its_own_kind():
    for audience in AUDIENCES:
        keys = [kind.key for kind in KINDS if audience in kind.audiences]
        assert len(keys) >= 7


@pytest.mark.parametrize("audience", ["8-11", "adults"])
def test_the_living_page_doses_for_adults_alone_and_asks_for_nothing(audience: Audience):
    page = living.page(kit(plans.of_yard(), audience))
    assert not re.search(r"https?://|<link rel=\"stylesheet|src=", page.replace("http://www.w3.org/", ""))
    assert ("Doses for this garden" in page) == (audience == "adults")
    if audience in YOUNG:
        assert forbidden(held(page)) == []


def held(page: str) -> str:
    """The page with the letters of its data as they are read, for a search."""
    return page.replace("\\u003c", "<").replace("\\", "").replace('"', "").replace("\n", " ")
