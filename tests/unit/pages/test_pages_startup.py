"""The start-up on paper: dates, doses by reading, no order by date, refusals, and why it goes as it goes."""

import re
from dataclasses import replace
from datetime import date

import plans
import pytest
import started
from test_pages_season_folder import read

from aquacalc.garden.model import Product
from aquacalc.pages import sheets, startup, startup_doses
from aquacalc.pages.plan import Plan
from aquacalc.pages.startup import Made
from aquacalc.pages.wall import startup_sheet
from aquacalc.startup import doses, methods, plan
from aquacalc.startup.members import Event
from aquacalc.startup.methods import Place
from aquacalc.startup.plan import Days
from aquacalc.startup.readings import Read, Reading
from aquacalc.words import NO_BREAK_SPACE, Reader

READER = Reader()
DAY = date(2027, 9, 30)


def plain(text: str) -> str:
    return read(text).replace(NO_BREAK_SPACE, " ")


def southern_plan() -> Plan:
    return replace(plans.of_demo("southern"), log=started.southern()[1])


def test_a_range_of_dates_is_said_with_its_year():
    low, high = date(2027, 10, 18), date(2027, 12, 2)
    assert startup.between(Days(low, None, high), READER) == "18 Oct to 2 Dec 2027"
    assert startup.between(Days(low, None, date(2028, 1, 2)), READER) == "18 Oct 2027 to 2 Jan 2028"
    assert startup.between(Days(low, None, None), READER) == "18 October 2027 or later"
    assert startup.between(Days(None, None, None), READER) == "later than was looked at"
    assert startup.between(Days(low, low, low), READER) == "18 October 2027"


def test_the_title_gives_a_range_and_never_one_date():
    made = started.made()
    days = made.start.days("first_fish")
    assert days.low is not None
    assert days.high is not None
    said = startup.title(made)
    assert f"{days.low.day} " in said
    assert f"{days.high.day} " in said


def test_both_tables_stand_in_the_kits_own_steps():
    ammonia, alkalinity = (plain(one) for one in startup_doses.dose_tables(started.made()))
    for step in ("0 N", "0.4 N", "0.8 N"):
        assert step in ammonia
    assert "1.6 N" not in ammonia
    assert "5 dKH" in alkalinity
    assert ammonia.rstrip().endswith("nothing")
    assert alkalinity.rstrip().endswith("nothing")


def test_spoons_stand_behind_grams_where_a_spoon_was_weighed():
    made = started.made()
    assert plain(startup_doses.amount(made, made.start.source, 7.8)) == "7.8 g (2 spoons)"
    solution = doses.source("ammonia_solution", 10.0)
    assert plain(startup_doses.amount(made, solution, 25.0)) == "25 mL (5 teaspoons of 5 mL)"
    assert plain(startup_doses.amount(made, solution, 0.0)) == "nothing"


def test_a_small_table_keeps_its_last_line():
    lines = [doses.Line(float(k), float(k), 10.0 - k) for k in range(9)]
    found = startup_doses.thinned(lines)
    assert len(found) <= startup_doses.MOST_LINES
    assert found[-1] is lines[-1]
    assert found[0] is lines[0]


def test_the_base_is_one_that_acts_in_time():
    garden, _ = started.southern()
    assert startup_doses.base_of(garden).chemical == "potassium_bicarbonate"
    shell = Product("Shell", "calcium_carbonate", 95.0)
    assert startup_doses.base_of(replace(garden, products=(shell,))) is startup_doses.USUAL_BASE


@pytest.mark.parametrize("method", methods.METHODS)
def test_every_method_says_whom_it_suits_what_it_needs_and_what_to_mind(method: methods.Method):
    said = plain(startup.method(started.made(), method))
    assert re.search(r"\bSuits\b", said)
    assert re.search(r"\bNeeds\b", said)
    if method == "solution":
        for word in ("Adults only", "goggles", "windows", "bleach", "never pupils"):
            assert word in said
    if method == "media":
        assert "healthy" in said


def test_fish_in_says_why_not_and_else_where_to_stop():
    made = started.made()
    assert "school" in startup.refusal(made, Place(frozenset("A"), "school"))
    assert startup.refusal(made, Place(frozenset("A"))) == ""
    limits = methods.fish_in(Place(frozenset("A")), 1000.0, float("nan"), 7.4, 25.0)
    said = startup.fish_in(made, limits).replace(NO_BREAK_SPACE, " ")
    assert "2 to 3 g/day" in said
    assert "0.05 mg/L" in said


def test_the_explanation_uses_this_gardens_own_numbers():
    made = started.made()
    said = " ".join(startup.why(made))
    top = int(made.start.forecast.band("nitrite").middle.argmax())
    assert f"{made.start.case.date_of(top).day} " in said
    assert "shows both" in said


def test_a_new_garden_has_two_sheets_and_a_running_one_none():
    html = sheets.wall(southern_plan(), "start_up")
    assert len(re.findall(r'<section class="sheet startup"', html)) == 2
    assert sheets.wall(plans.of_demo("yard"), "start_up") == ""


def test_the_sheet_has_dates_doses_boxes_the_challenge_and_stop_signs():
    said = plain(startup_sheet.both(started.made(), DAY))
    for part in ("What to expect", "What a reading calls for", "No ammonia today", "Stop signs"):
        assert part in said
    for part in ("Is it ready? The challenge", "When the fish come", "First 60 fish of 60 g"):
        assert part in said
    assert said.count("Tuffbrook garden · made 30 September 2027") == 2


def test_no_row_with_a_day_orders_a_chemical():
    boxes = startup_sheet.boxes(started.made())
    rows = re.findall(r"<tr>.*?</tr>", boxes, re.DOTALL)[1:]
    assert len(rows) == startup_sheet.LOOKS
    for row in rows:
        cells = [plain(one) for one in re.findall(r"<td.*?</td>", row, re.DOTALL)]
        assert set(cells) <= {"", startup_sheet.NOT_ASKED}


def test_the_saved_page_needs_nothing_beside_it():
    page = startup_sheet.document(started.made(), DAY)
    assert "http" not in page.replace("http-equiv", "")
    assert page.startswith("<!doctype html>")
    assert "data:text/html" in startup_sheet.link(started.made(), DAY)


def test_names_are_escaped():
    garden = replace(started.southern()[0], name="<b>mine</b>")
    made = replace(started.made(), garden=garden)
    assert "<b>mine</b>" not in startup_sheet.both(made, DAY)
    assert "&lt;b&gt;mine" in startup_sheet.both(made, DAY)


def test_us_readers_get_fahrenheit_and_gallons():
    made = replace(started.made(), reader=Reader(units="us"))
    said = " ".join([*startup.told(made), *startup.why(made)])
    assert "°F" in said
    assert "gal" in said
    assert "°C" not in said


def test_a_plan_names_what_it_looks_at():
    assert plan.NAMES[-1] == "full_feed"
    paper = plain(startup.dates(started.made(), ours=True))
    assert "their full feed" not in paper
    assert "their full feed" in plain(startup.dates(started.made()))


def test_a_kit_without_its_basis_leaves_a_sentence_in_the_place_of_its_table():
    made = started.made()
    kit = made.garden.kits[0]
    vague = replace(kit, scales=tuple(replace(one, basis="not known") for one in kit.scales))
    unknown = replace(made, garden=replace(made.garden, kits=(vague,)))
    ammonia, alkalinity = (plain(one) for one in startup_doses.dose_tables(unknown))
    assert "does not tell what its ammonia or nitrite numbers count" in ammonia
    assert "in which unit it counts alkalinity" in alkalinity
    assert "0.5 mg/L as N" in " ".join(startup_doses.not_today(unknown)).replace(NO_BREAK_SPACE, " ")
    assert "does not tell" in plain(startup_sheet.both(unknown, DAY))


def test_where_fish_start_it_no_ammonia_is_given():
    made = started.made()
    limits = methods.fish_in(Place(frozenset("A")), 1000.0, float("nan"), 7.4, 25.0)
    choice = replace(made.start.choice, method="fish")
    fishy = replace(made, start=replace(made.start, choice=choice), fish_in=limits)
    assert len(startup_doses.dose_tables(fishy)) == 1
    assert "Alkalinity" in plain(startup_doses.dose_tables(fishy)[0])
    assert startup_doses.not_today(fishy) == []
    assert "no more fish before" in startup.title(fishy)
    assert "2 to 3 g/day" in startup_doses.doses_how(fishy).replace(NO_BREAK_SPACE, " ")


# --- what to give now, and the fish that are planned


def with_last(**values: float) -> Made:
    """The demo with other last readings, and without the doses of its log."""
    made = started.made()
    forecast = made.start.forecast
    readings = tuple(
        Reading(forecast.today, name, value, value, value)  # type: ignore[arg-type]
        for name, value in values.items()
    )
    return replace(made, start=replace(made.start, read=None, forecast=replace(forecast, readings=readings)))


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"tan": 0.0, "nitrite": 1.0, "ph": 7.2, "alkalinity": 100.0}, "28 g of Ammonium chloride"),
        ({"tan": 0.0, "nitrite": 6.0, "ph": 7.2}, "nitrite is too high"),
        ({"tan": 0.0, "ph": 7.2}, "before nitrite is tested"),
        ({"tan": 1.6, "nitrite": 1.0, "ph": 6.0}, "No ammonia at this pH"),
        ({"tan": 1.6, "nitrite": 1.0, "alkalinity": 0.0}, "1100 g of Potassium bicarbonate"),
    ],
)
def test_the_last_readings_tell_what_to_give_now(values: dict[str, float], said: str):
    found = " ".join(startup_doses.now(with_last(**values))).replace(NO_BREAK_SPACE, " ")
    assert said in found
    assert "to be tested again before anything is given" in found


def test_what_was_given_since_is_not_given_again():
    made = with_last(tan=0.0, nitrite=0.0, ph=7.2, alkalinity=20.0)
    today = made.start.forecast.today
    events = (Event(today, "ammonium_salt", 2.0), Event(today, "carbonate", 70.0))
    given = replace(made, start=replace(made.start, read=Read((), events, ())))
    found = " ".join(startup_doses.now(given))
    assert "was given since" in found
    assert "bicarbonate" not in found


@pytest.mark.parametrize(
    ("stocked", "said"),
    [
        (date(2027, 9, 20), "too early"),
        (date(2027, 11, 10), "may be ready by then"),
        (date(2028, 3, 1), "9 of 10 tries are ready"),
    ],
)
def test_the_planned_fish_are_held_against_the_forecast(stocked: date, said: str):
    made = started.made()
    fish = (replace(made.garden.fish[0], stocked=stocked),)
    assert said in startup.planned_fish(replace(made, garden=replace(made.garden, fish=fish)))[0]
