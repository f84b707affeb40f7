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
from aquacalc.garden.model import Away
from aquacalc.harvest import weeks
from aquacalc.pages import jobs, sheets
from aquacalc.pages.plan import Plan
from aquacalc.pages.wall import sowing_strip, this_month
from aquacalc.schedule import feed, tasks
from aquacalc.sentences import days
from aquacalc.uncertainty import Band
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
    for task in plan.tasks:
        if task.key in ("sow", "plant"):
            row = next(row for row in rows if row.first <= task.day <= row.last)
            said = f"{words.name('crop', task.subject)} {words.number(task.count, digits=9)}"
            assert said in read(" ".join(row.texts))


def test_idle_weeks_are_one_row_and_sheets_hold_no_more_than_they_have_room_for():
    plan = plans.of_season("greenhouse")
    assert plan.season is not None
    rows = list(sowing_strip.rows(plan, plan.season))
    idle = [n for n, row in enumerate(rows) if "nothing to sow" in row.texts[0]]
    assert idle
    assert all(n + 1 not in idle for n in idle)
    pages = sowing_strip.paged(rows)
    assert [row for page in pages for row in page] == rows
    assert all(sum(row.height_mm for row in page) <= sowing_strip.ROOM_MM for page in pages)


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
def test_the_first_six_weeks_are_numbers_and_later_ones_ranges(garden: str):
    plan = plans.of_season(garden)
    assert plan.season is not None
    found = weeks.by_batch(plan.season, plan.garden)
    sure_until = plan.season.first + timedelta(days=42)
    ranges = 0
    for batch in plan.garden.fish:
        for fed in this_month._fed(plan, plan.season):
            if fed.name not in ("", batch.name):
                continue
            own = found[found["batch"] == batch.name].reset_index(drop=True)
            for week, row in own.iterrows():
                text = this_month._ration(plan, plan.season, fed, int(week))
                if row["week_start"].date() < sure_until:
                    assert " to " not in text
                    if row["feed_middle_g_day"] >= this_month.LEAST_G:
                        spoons = feed.in_spoons(row["feed_middle_g_day"], row["spoon_g"])
                        grams = words.number(row["feed_middle_g_day"])
                        assert text == f"{grams} ({this_month._spoons(spoons)})"
                elif row["feed_high_g_day"] > 1.2 * max(row["feed_low_g_day"], 1.0):
                    assert " to " in text
                    ranges += 1
    assert ranges > 10


def test_every_day_of_a_month_lies_in_a_week_of_its_sheet():
    plan = plans.of_season("yard")
    july = months(plan)["Jul"]
    assert [row[0] for row in table_rows(july)] == [
        "Jun 26 to Jul 2",
        "Jul 3 to 9",
        "Jul 10 to 16",
        "Jul 17 to 23",
        "Jul 24 to 30",
        "Jul 31 to Aug 6",
    ]


def test_two_batches_have_columns_of_their_own_and_many_are_told_together():
    plan = plans.of_season("greenhouse")
    assert all(len(cells) == 2 for _, cells in rations(plan))
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
    assert all(len(cells) == 1 for _, cells in rations(three))


def test_the_title_says_what_the_fish_get_and_that_they_get_nothing():
    plan = plans.of_season("greenhouse")
    assert read(months(plan)["Jul"]).startswith("July 2028: no feed")
    assert re.match(r"November 2027: feed (up to )?[0-9]+ (to [0-9]+ )?g/day", read(months(plan)["Nov"]))


def test_meals_and_the_temperatures_at_which_feeding_stops():
    text = read(months(plans.of_season("yard"))["May"])
    # A catfish of 2 to 3 oz takes two to three meals; it eats from 14 to 34 C, half above 32 C.
    assert "In 2 to 3 meals" in text
    assert "Channel catfish: no feed under 57 °F and from 93 °F on, half above 90 °F." in text
    assert "meals" not in read(months(plans.of_season("yard"))["Mar"])


def test_less_than_a_part_of_a_spoon_is_told_in_grams_alone():
    plan = plans.of_season("yard")
    assert plan.season is not None
    fed = this_month._fed(plan, plan.season)[0]
    little = replace(fed, grams=tuple(Band(*(np.asarray(0.55),) * 3) for _ in fed.grams))
    assert this_month._ration(plan, plan.season, little, 0) == "0.55"


def test_spoons_are_halves_and_many_of_them_are_whole():
    assert [this_month._spoons(count) for count in (0.0, 0.25, 2.5, 9.5, 10.5, 41.5)] == [
        "0",
        "¼",
        "2½",
        "9½",
        "10",
        "42",
    ]


# --- tests and jobs --------------------------------------------------------------------------------------


def test_readings_at_which_to_act_are_those_of_the_kit():
    rows = {row[0]: row[1] for row in table_rows(months(plans.of_season("yard"))["May"], place=1)}
    assert rows["ammonia (TAN)"] == "1.2 N or more"
    assert rows["nitrite"] == "3.28 NO2 * (1 as N) or more"
    assert "* past the end of this kit" in read(months(plans.of_season("yard"))["May"])


def test_tests_that_an_absence_moved_say_from_when_and_why():
    text = read(months(plans.of_season("yard"))["Jul"])
    assert "Jul 12, 17, 24, 31: weekly tests, before feeding" in text
    assert "because of the absence Jul 2 to 11 moved from Jul 10 to Jul 12" in text
    assert "Away Jul 2 to 11: half the feed where somebody looks in, none where nobody does." in text
    assert "Away" not in read(months(plans.of_season("yard"))["Aug"]).replace("away", "")


def test_jobs_of_one_kind_are_one_line_with_all_their_days():
    plan = plans.of_season("greenhouse")
    told = jobs.jobs_of(jobs.within(jobs.entries(plan), date(2028, 5, 1), date(2028, 5, 31)), plan)
    assert len({job.text for job in told}) == len(told)
    sown = sorted(
        task.day
        for task in plan.tasks
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


def test_a_job_moved_by_no_known_absence_tells_its_days():
    plan = plans.of_season("yard")
    moved = jobs.Job("plant Okra", ((date(2027, 7, 12),) * 2,), ((date(2027, 7, 12), date(2027, 12, 10)),))
    assert jobs.line(moved, plan) == "Jul 12: plant Okra (Jul 12 instead of Dec 10)"


def test_a_garden_nobody_leaves_has_nothing_moved():
    plan = plans.of_season("yard")
    assert plan.season is not None
    garden = replace(plan.garden, away=())
    stays = replace(plan, garden=garden, tasks=tasks.tasks_of(garden, plan.season.batches))
    assert "moved" not in read(this_month.sheets(stays))
    gone = replace(garden, away=(Away(date(2027, 5, 10), date(2027, 5, 14), ""),))
    leaves = replace(plan, garden=gone, tasks=tasks.tasks_of(gone, plan.season.batches))
    assert "because of the absence May 10 to 14 moved from May 12" in read(this_month.sheets(leaves))


# --- days in words ---------------------------------------------------------------------------------------


def test_days_are_listed_by_month_and_overlapping_spans_are_one():
    day = [date(2027, 5, number) for number in range(1, 32)]
    assert days.listed([(day[0], day[0]), (day[7], day[7])], Reader()) == "1, 8 May"
    spans = days.joined([(day[0], day[9]), (day[7], day[14]), (day[20], day[20])])
    assert days.listed(spans, Reader()) == "1 to 15 May, 21 May"
    assert days.joined([(day[3], day[3]), (day[3], day[3])]) == ((day[3], day[3]),)
