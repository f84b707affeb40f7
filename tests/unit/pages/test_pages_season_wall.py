"""The year's sheets for the wall: what to sow, plant and pick, and a sheet a month."""

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import plans
import pytest
import seasons
from test_pages_season_folder import read, table_rows

from aquacalc import tables, words
from aquacalc.agenda import ration
from aquacalc.garden.model import Away
from aquacalc.pages import jobs, sheets
from aquacalc.pages.plan import Plan
from aquacalc.pages.wall import sowing_strip, this_month
from aquacalc.sentences import days
from aquacalc.sentences import rations as sentences
from aquacalc.words import Reader


def split(html: str) -> list[str]:
    """The sheets one by one."""
    return re.findall(r'<section class="sheet[^>]*>.*?</section>', html, flags=re.DOTALL)


def months(plan: Plan) -> dict[str, str]:
    """The sheets of the months by the three first letters of their month."""
    return {read(one)[:3]: one for one in split(this_month.sheets(plan))}


def rations(plan: Plan) -> Iterator[tuple[str, list[str]]]:
    """Every week of every sheet: its days, and what stands in its cells of feed."""
    for one in split(this_month.sheets(plan)):
        for row in table_rows(one):
            yield row[0], row[1:-1]


# --- all sheets ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_there_is_a_sheet_a_month_and_each_says_whose_it_is(garden: str):
    plan = plans.of_season(garden)
    found = split(sheets.wall(plan, "months"))
    assert len(found) == 12
    strips = split(sheets.wall(plan, "sowing"))
    assert strips
    for sheet in [*strips, *found]:
        assert f"{plan.name()} · made" in read(sheet)
        assert "make again when stock, feed, kit or layout changes" in read(sheet)


def test_without_a_season_there_are_none():
    assert sheets.wall(plans.of_yard(), "sowing", "months") == ""


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_no_sheet_orders_a_chemical(garden: str):
    plan = plans.of_season(garden)
    text = read(sheets.wall(plan, "sowing", "months")).lower()
    named = [row.text("name") for row in tables.load("chemicals")]
    named += [product.name for product in plan.garden.products]
    assert [name for name in named if name.lower() in text] == []


# --- the sowing strip ------------------------------------------------------------------------------------


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_every_sowing_and_planting_stands_in_its_week(garden: str):
    plan = plans.of_season(garden)
    assert plan.season is not None
    rows = list(sowing_strip.rows(plan, plan.season))
    assert rows[0].first == plan.season.first
    assert all(one.last + timedelta(days=1) == two.first for one, two in pairwise(rows))
    for task in jobs.entries(plan):
        if task.key in ("sow", "plant"):
            row = next(row for row in rows if row.first <= task.day <= row.last)
            said = f"{words.name('crop', task.subject)} {words.number(task.count, digits=9)}"
            assert said in read(" ".join(kind.html for kind in row.kinds))


def test_idle_weeks_are_one_row_and_sheets_hold_no_more_than_they_have_room_for():
    plan = plans.of_season("greenhouse")
    assert plan.season is not None
    rows = list(sowing_strip.rows(plan, plan.season))
    idle = [n for n, row in enumerate(rows) if "nothing to sow" in row.kinds[0].html]
    assert idle
    assert all(n + 1 not in idle for n in idle)
    pages = sowing_strip.paged(rows)
    assert [row for page in pages for row in page] == rows
    assert all(sum(row.height_mm for row in page) <= sowing_strip.ROOM_MM for page in pages)


def test_a_week_with_more_work_than_a_sheet_holds_is_parted_and_nothing_is_lost():
    week = date(2027, 4, 3), date(2027, 4, 9)
    names = tuple(f"A crop with a name {number}" for number in range(90))
    much = sowing_strip.Row(*week, (sowing_strip.Kind("Sow", names), sowing_strip.Kind("Plant", names)))
    little = sowing_strip.Row(*week, (sowing_strip.Kind("Sow", names[:1]),))
    pages = sowing_strip.paged([little, much, little])
    assert len(pages) > 2
    assert all(sum(row.height_mm for row in page) <= sowing_strip.ROOM_MM for page in pages)
    parts = [row for page in pages for row in page][1:-1]
    assert {(row.first, row.last) for row in parts} == {week}
    for lead in ("Sow", "Plant"):
        kinds = [kind for row in parts for kind in row.kinds if kind.lead == lead]
        assert tuple(name for kind in kinds for name in kind.names) == names


def test_a_sheet_names_its_part_where_there_are_several():
    several = split(sowing_strip.sheets(plans.of_season("greenhouse")))
    assert len(several) > 1
    assert all(f"{n} of {len(several)}" in read(one) for n, one in enumerate(several, 1))


def test_first_picks_tell_until_when_they_may_begin():
    plan = plans.of_season("yard")
    okra = next(one for one in jobs.entries(plan) if one.key == "pick" and one.subject == "okra")
    assert f"Okra (by {words.day(okra.last, plan.reader)})" in read(sowing_strip.sheets(plan))


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
                said = this_month._amount(plan, batch.name, begin)
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


def test_two_batches_have_columns_of_their_own_and_more_a_row_each():
    plan = plans.of_season("greenhouse")
    assert all(len(row) == 4 for row in table_rows(months(plan)["Nov"]))
    assert "west trout" in read(months(plan)["Oct"])
    run = plan.season
    assert run is not None
    three = replace(
        plan,
        garden=replace(plan.garden, fish=(*plan.garden.fish, replace(plan.garden.fish[0], name="third"))),
        season=replace(
            run,
            fish_names=(*run.fish_names, "third"),
            fish={name: np.concatenate([of, of[:1]]) for name, of in run.fish.items()},
            typical={
                name: np.concatenate([of, of[:1]]) if name.startswith("fish.") else of
                for name, of in run.typical.items()
            },
        ),
    )
    assert [row[0] for row in table_rows(months(three)["Nov"])] == ["west trout", "east trout", "third"]


def test_the_title_says_what_the_fish_get_and_that_they_get_nothing():
    plan = plans.of_season("greenhouse")
    assert read(months(plan)["Jul"]).startswith("July 2028: no feed")
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
    assert "at most once a week, tested that day: when all is eaten in 5 minutes" in august
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


def test_readings_at_which_to_act_are_those_of_the_kit():
    rows = {row[0]: row[1] for row in table_rows(months(plans.of_season("yard"))["May"], place=1)}
    assert rows["ammonia (TAN)"] == "1.2 N or more"
    # As judged where chloride was not tested.
    assert rows["nitrite"] == "1 NO2 (0.3 as N) or more"
    assert "* past the end of this kit" in read(months(plans.of_season("yard"))["May"])


def test_tests_that_an_absence_moved_say_from_when_and_why():
    text = read(months(plans.of_season("yard"))["Jul"])
    assert "Jul 12, 17, 24, 31: weekly tests, before feeding" in text
    assert "because of the absence Jul 2 to 11 moved from Jul 10 to Jul 12" in text
    assert "Away Jul 2 to 11: bags, one at a visit and one a day at most, none where nobody looks in." in text
    assert "Away" not in read(months(plans.of_season("yard"))["Aug"]).replace("away", "")


def test_jobs_of_one_kind_are_one_line_with_all_their_days():
    plan = plans.of_season("greenhouse")
    told = jobs.jobs_of(jobs.within(jobs.entries(plan), date(2028, 5, 1), date(2028, 5, 31)), plan)
    assert len({job.text for job in told}) == len(told)
    sown = sorted(
        task.day
        for task in jobs.entries(plan)
        if task.key == "sow" and task.subject == "lettuce_butterhead" and task.day.month == 5
    )
    line = next(jobs.line(job, plan) for job in told if job.text.startswith("sow Lettuce, butterhead"))
    assert line.startswith(days.listed([(day, day) for day in sown], plan.reader) + ": sow")


def test_what_does_not_fit_on_a_sheet_is_counted():
    plan = plans.of_season("greenhouse")
    entries = jobs.entries(plan)
    crowded = this_month._jobs(plan, entries)
    assert re.search(r"[0-9]+ more jobs stand on the sheet of what to sow, plant and pick", read(crowded))
    assert crowded.count("<li>") <= this_month.JOB_LINES
    assert "Nothing but the tests" in this_month._jobs(plan, [])


def test_jobs_of_fish_stand_on_a_sheet_however_much_is_sown_and_picked():
    plan = plans.of_season("greenhouse")
    may = jobs.within(jobs.entries(plan), date(2028, 5, 1), date(2028, 5, 31))
    picks = [one for one in jobs.entries(plan) if one.key in this_month.READY]
    much = [replace(one, subject=row.key) for row in tables.load("crops") for one in picks]
    sheet = read(this_month._jobs(plan, [*much, *may]))
    assert "take west trout out of west tank" in sheet
    assert "weekly tests" in sheet
    assert "more jobs stand on the sheet" in sheet


def test_a_job_moved_by_no_known_absence_tells_its_days():
    plan = plans.of_season("yard")
    moved = jobs.Job("plant Okra", ((date(2027, 7, 12),) * 2,), ((date(2027, 7, 12), date(2027, 12, 10)),))
    assert jobs.line(moved, plan) == "Jul 12: plant Okra (Jul 12 instead of Dec 10)"


def test_a_garden_nobody_leaves_has_nothing_moved():
    plan = plans.of_season("yard/before")
    assert plan.season is not None
    garden = replace(plan.garden, away=())
    stays = replace(plan, garden=garden)
    assert "moved" not in read(this_month.sheets(stays))
    gone = replace(garden, away=(Away(date(2027, 5, 10), date(2027, 5, 14), ""),))
    leaves = replace(plan, garden=gone)
    assert "because of the absence May 10 to 14 moved from May 12" in read(this_month.sheets(leaves))


# --- days in words ---------------------------------------------------------------------------------------


def test_days_are_listed_by_month_and_overlapping_spans_are_one():
    day = [date(2027, 5, number) for number in range(1, 32)]
    assert days.listed([(day[0], day[0]), (day[7], day[7])], Reader()) == "1, 8 May"
    spans = days.joined([(day[0], day[9]), (day[7], day[14]), (day[20], day[20])])
    assert days.listed(spans, Reader()) == "1 to 15 May, 21 May"
    assert days.joined([(day[3], day[3]), (day[3], day[3])]) == ((day[3], day[3]),)
