"""The year's sheets for the wall: what to sow, plant and pick, and a sheet a month."""

import re
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import plans
import pytest
import seasons
from test_pages_season_folder import read, table_rows

from aquacalc import tables, words
from aquacalc.agenda import ration
from aquacalc.garden.model import Away
from aquacalc.pages import jobs, sheets
from aquacalc.pages.plan import Plan
from aquacalc.pages.wall import this_month, weeks
from aquacalc.sentences import days
from aquacalc.sentences import rations as sentences
from aquacalc.words import Reader


def split(html: str) -> list[str]:
    """The sheets one by one."""
    return re.findall(r'<section class="sheet[^>]*>.*?</section>', html, flags=re.DOTALL)


def months(plan: Plan) -> dict[str, str]:
    """The sheets of the months by the three first letters of their month."""
    return {read(one)[:3]: one for one in split(this_month.sheets(plan))}


# --- all sheets ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_every_day_stands_on_one_sheet_and_each_says_whose_it_is(garden: str):
    plan = plans.of_season(garden)
    assert plan.season is not None
    spans = this_month.spans(plan, plan.season)
    found = split(sheets.wall(plan, "months"))
    assert len(found) == len(spans)
    months = days.months(plan.season)
    assert (spans[0][0], spans[-1][1]) == (months[0][0], months[-1][1])
    assert all(one[1] + timedelta(days=1) == two[0] for one, two in pairwise(spans))
    for first, last in spans:
        fed = [month for month in months if first <= month[0] <= last and this_month._fed(plan, *month)]
        assert len(fed) <= 1
        assert not fed or (first, last) == fed[0]
    for sheet in found:
        assert f"{plan.name()} · made" in read(sheet)
        assert "make again when stock, feed, kit or layout changes" in read(sheet)


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_the_wall_holds_at_most_ten_sheets_and_those_of_the_months(garden: str):
    plan = plans.of_season(garden)
    names = [name for name in sheets.WALL if name != "months"]
    assert len(split(sheets.wall(plan, *names))) <= 10


def test_without_a_season_there_are_none():
    assert sheets.wall(plans.of_yard(), "months") == ""


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_no_sheet_orders_a_chemical(garden: str):
    plan = plans.of_season(garden)
    text = read(sheets.wall(plan, "months")).lower()
    named = [row.text("name") for row in tables.load("chemicals")]
    named += [product.name for product in plan.garden.products]
    assert [name for name in named if name.lower() in text] == []


# --- the weeks -------------------------------------------------------------------------------------------


def whole_weeks(plan: Plan) -> list[weeks.Week]:
    """All weeks of all sheets, nothing cut."""
    assert plan.season is not None
    return [week for span in this_month.spans(plan, plan.season) for week in this_month._weeks(plan, *span)]


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_every_job_stands_in_its_week(garden: str):
    plan = plans.of_season(garden)
    assert plan.season is not None
    rows = whole_weeks(plan)
    assert rows[0].first == plan.season.first
    assert all(one.last + timedelta(days=1) == two.first for one, two in pairwise(rows))
    for task in jobs.entries(plan):
        row = next(row for row in rows if row.first <= task.day <= row.last)
        text = read(" ".join(kind.html for kind in row.kinds))
        if task.key in ("sow", "plant"):
            assert f"{words.name('crop', task.subject)} {words.number(task.count, digits=9)}" in text
        elif task.key == "test":
            assert "Test" in text
        elif task.key in ("stock", "take"):
            assert read(jobs.sentence(task, plan)) in text


def test_weeks_with_nothing_but_tests_are_one_row_where_there_is_no_feed():
    plan = plans.of_season("yard")
    rows = [row for row in whole_weeks(plan) if not this_month._fed(plan, row.first, row.last)]
    calm = [n for n, row in enumerate(rows) if {kind.key for kind in row.kinds} <= {"test"}]
    long = [n for n in calm if (rows[n].last - rows[n].first).days > 6]
    assert long
    assert all("," in rows[n].kinds[0].names[0] for n in long)


def test_a_full_week_keeps_fish_water_and_tests_and_counts_what_it_leaves_out():
    names = tuple(f"A crop with a name {number}" for number in range(9))
    kinds = tuple(
        weeks.Kind(key, key.title(), names) for key in ("fish", "water", "test", "sow", "plant", "last")
    )
    week = weeks.Week(date(2027, 4, 3), date(2027, 4, 9), kinds)
    cut = week.within(12, 40)
    assert cut.kinds[:3] == kinds[:3]
    kept = sum(len(kind.names) for kind in cut.kinds)
    assert cut.more == 6 * len(names) - kept > 0
    assert week.within(100, 40) == week


def test_weeks_are_cut_to_the_room_of_their_sheet_and_not_further():
    names = tuple(f"A crop with a name {number}" for number in range(9))
    week = weeks.Week(date(2027, 4, 3), date(2027, 4, 9), (weeks.Kind("sow", "Sow", names),))
    lines = week.lines(40)
    assert weeks.fitted([week, week], 2 * lines, 40, [1, 1]) == (week, week)
    cut = weeks.fitted([week, week], 2 * lines - 1, 40, [1, 1])
    assert sum(one.lines(40) for one in cut) <= 2 * lines - 1
    assert all(one.more for one in cut)


def test_first_picks_tell_until_when_they_may_begin():
    plan = plans.of_season("yard")
    okra = next(one for one in jobs.entries(plan) if one.key == "pick" and one.subject == "okra")
    assert f"Okra (by {words.day(okra.last, plan.reader)})" in read(this_month.sheets(plan))


# --- feed of the month -----------------------------------------------------------------------------------


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_every_day_has_the_ration_of_the_plan(garden: str):
    plan = plans.of_season(garden)
    assert plan.agenda is not None
    fed = 0
    for first, last in days.months(plan.season):
        for begin, end in ration.boundaries(plan.agenda.rations, first, last):
            assert first <= begin <= end <= last
            given, later = plan.agenda.on(begin), plan.agenda.on(end)
            assert given == later or all(one.start_up for one in (*given, *later))
            for batch in plan.garden.fish:
                own = [one for one in plan.agenda.on(begin) if one.batch == batch.name]
                said = this_month._amount(plan, this_month._ration(plan, batch.name, begin))
                if own and own[0].start_up:
                    assert said == "by the start-up sheet"
                elif own and own[0].grams > 0.0:
                    assert said.removeprefix("bag: ") == sentences.amount(own[0], plan.reader)
                    assert said.startswith("bag: ") is (own[0].away is not None)
                    fed += 1
    assert fed > 10


def test_every_day_of_a_month_lies_in_a_week_of_its_sheet():
    plan = plans.of_season("yard")
    july = months(plan)["Jul"]
    assert [row[0] for row in table_rows(july)] == [
        "Jul 1",
        "Jul 2 to 11",  # away
        "Jul 12 to 16",
        "Jul 17 to 23",
        "Jul 24 to 30",
        "Jul 31",
    ]


def test_batches_that_get_the_same_share_a_column_and_others_have_their_own():
    plan = plans.of_season("greenhouse")
    assert plan.season is not None
    november = next(span for span in this_month.spans(plan, plan.season) if span[0].month == 11)
    found = this_month._weeks(plan, *november)
    columns = this_month._columns(plan, found)
    told = {batch: column.cells for column in columns for batch in column.batches}
    assert set(told) == {"west trout", "east trout"}
    assert len(columns) == len(set(told.values()))
    for cells in zip(*told.values(), strict=True):
        assert all(cells)
    other = [replace(columns[0], batches=(f"batch {number}",), cells=columns[0].cells) for number in range(3)]
    few, many = (this_month._table(plan, found, some, 200.0) for some in (other[:2], other))
    assert all(len(row) == 5 for row in table_rows(few))
    assert all(len(row) == 4 for row in table_rows(many))
    assert all(
        f"batch 2: {read(cell)}" in row[1] for row, cell in zip(table_rows(many), other[2].cells, strict=True)
    )


def test_the_title_says_what_the_fish_get_and_that_they_get_nothing():
    plan = plans.of_season("greenhouse")
    assert "no feed" in read(months(plan)["Jun"])[:40]
    assert re.match(r"November 2027: feed (up to )?[0-9]+ (to [0-9]+ )?g/day", read(months(plan)["Nov"]))


def test_meals_and_the_temperatures_at_which_feeding_stops():
    text = read(months(plans.of_season("yard"))["May"])
    # A catfish of 2 to 3 oz takes two to three meals; it eats from 10 to 34 C, half above 32 C.
    assert "In 2 to 3 meals" in text
    assert "Channel catfish: no feed under 50 °F and from 93 °F on, half above 90 °F." in text
    assert "meals" not in read(months(plans.of_season("yard"))["Mar"])


def test_a_sheet_tells_when_there_is_more_and_what_oxygen_and_filter_carry():
    plan = plans.of_season("yard")
    august = read(months(plan)["Aug"])
    assert "at most once a week, tested that day: all is eaten in 5 minutes" in august
    assert plan.agenda is not None
    cap = plan.agenda.cap_g_day(date(2027, 8, 1), date(2027, 8, 31))
    assert cap is not None
    assert max(plan.agenda.fed_g_day(date(2027, 8, 1), date(2027, 8, 31))) <= cap
    assert f"Never more than {plan.quantity(cap, 'dose')} a day".replace("\u00a0", " ") in august
    assert "Never more than" not in read(months(plan)["May"])


# --- tests and jobs --------------------------------------------------------------------------------------


def test_a_place_that_falls_empty_is_told_on_the_sheet_of_its_month_with_what_to_sow():
    plan = plans.of_season("yard/before")
    sheets_ = months(plan)
    told = "Empty bed Okra, north bed: too cold to plant Sep 11 to Oct 2"
    assert told in read(sheets_["Sep"])
    assert "Sow or plant instead: Swiss chard;" in read(sheets_["Sep"])
    assert sum(told in read(one) for one in sheets_.values()) == 1
    assert "Empty bed" not in read(sheets_["Jul"])


def test_tests_that_an_absence_moved_say_from_when_and_why():
    text = read(months(plans.of_season("yard"))["Jul"])
    assert "Test Jul 12, instead of Jul 10" in text
    assert "Away Jul 2 to 11: bags, one at a visit and one a day at most, none where nobody looks in." in text
    assert "Away" not in read(months(plans.of_season("yard"))["Aug"]).replace("away", "")


def test_a_garden_nobody_leaves_has_nothing_moved():
    plan = plans.of_season("yard/before")
    assert plan.season is not None
    garden = replace(plan.garden, away=())
    stays = replace(plan, garden=garden)
    assert "instead of" not in read(this_month.sheets(stays))
    gone = replace(garden, away=(Away(date(2027, 5, 14), date(2027, 5, 16), ""),))
    leaves = replace(plan, garden=gone)
    assert "instead of May 15" in read(this_month.sheets(leaves))


# --- days in words ---------------------------------------------------------------------------------------


def test_days_are_listed_by_month():
    day = [date(2027, 5, number) for number in range(1, 32)]
    assert days.listed([(day[0], day[0]), (day[7], day[7])], Reader()) == "1, 8 May"
