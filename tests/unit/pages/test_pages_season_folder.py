"""The year's pages for the folder."""

import re
from dataclasses import replace
from datetime import date
from typing import Literal

import numpy as np
import plans
import pytest
import seasons
from hand_made_season import season
from test_pages_html import Read

from aquacalc import words
from aquacalc.agenda import costs as reckoned
from aquacalc.garden.model import Prices, TopUp
from aquacalc.logbook.today import Difference
from aquacalc.pages import bands, jobs, sheets
from aquacalc.pages.folder import (
    costs,
    differences_page,
    findings_page,
    first_page,
    fish_page,
    glance,
    shopping,
    sowing,
    water_page,
)
from aquacalc.pages.plan import Plan
from aquacalc.sentences import days, empty_beds
from aquacalc.uncertainty import Band
from aquacalc.words import Reader

PAGES = {
    "glance": glance.page,
    "sowing": sowing.page,
    "fish": fish_page.page,
    "water": water_page.page,
    "costs": costs.page,
}
MEMBERS = 20


def read(page: str) -> str:
    """The words of a page, those of its pictures left out."""
    without = re.sub(r"<svg.*?</svg>", " ", page, flags=re.DOTALL)
    return re.sub(r"\s+", " ", Read(without).text.replace(words.NO_BREAK_SPACE, " "))


def table_rows(page: str, place: int = 0) -> list[list[str]]:
    """The cells of a table of a page, row by row, without its head."""
    body = re.findall(r"<tbody>(.*?)</tbody>", page, flags=re.DOTALL)[place]
    return [
        [read(cell).strip() for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, flags=re.DOTALL)]
        for row in re.findall(r"<tr>(.*?)</tr>", body, flags=re.DOTALL)
    ]


# --- all of them -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [*PAGES, "differences"])
def test_without_a_season_there_is_no_page(name: str):
    assert sheets.FOLDER[name](plans.of_yard()) == ""


@pytest.mark.parametrize("garden", seasons.DEMOS)
@pytest.mark.parametrize("name", PAGES)
def test_a_page_says_once_on_how_many_tries_its_ranges_rest(name: str, garden: str):
    assert read(PAGES[name](plans.of_season(garden))).count(f"{MEMBERS} tries") == 1


@pytest.mark.parametrize(("garden", "units"), [("greenhouse", "us"), ("yard", "metric")])
def test_no_page_shows_what_is_no_number_to_readers_of_other_units(
    garden: str, units: Literal["us", "metric"]
):
    plan = plans.of_season(garden)
    for page in PAGES.values():
        text = read(page(replace(plan, reader=replace(plan.reader, units=units))))
        assert re.findall(r"\b(nan|inf|NaT|None)\b", text) == []
        assert re.search(r"\b(lb|oz|°F)\b" if units == "metric" else r"\b(kg|°C) [^a]", text) is None


def test_a_low_end_next_to_nothing_is_told_as_up_to():
    low = Band(np.asarray(0.01), np.asarray(1.0), np.asarray(2.0))
    assert bands.span(low, "biomass", Reader()).replace(words.NO_BREAK_SPACE, " ") == "up to 2 kg"
    plan = plans.of_yard()
    assert bands.bare(low, "biomass", plan) == "0 to 2"
    nothing = Band(np.asarray(0.0), np.asarray(0.0), np.asarray(0.0))
    assert bands.bare(nothing, "biomass", plan) == "-"


# --- the year at a glance --------------------------------------------------------------------------------


def test_the_title_names_what_the_year_brings():
    plan = plans.of_season("greenhouse")
    run = plan.season
    assert run is not None
    picked = np.percentile(run.crops["picked_kg"].sum(axis=(0, 2)), [10, 90])
    taken = np.percentile(run.fish["taken_kg"].sum(axis=(0, 2)), [10, 90])
    expected = [words.span(*ends, "biomass", plan.reader) for ends in (taken, picked)]
    assert (
        glance.headline(plan, run) == f"The year brings {expected[0]} of fish and {expected[1]} from the beds"
    )


def test_fish_that_are_kept_are_no_harvest():
    plan = plans.of_season("classroom")
    assert plan.season is not None
    assert "no fish are taken for the kitchen" in glance.headline(plan, plan.season)
    assert not glance.eaten(plan, plan.season).any()


def test_each_month_names_what_comes_is_sown_and_is_picked():
    plan = plans.of_season("yard/before")
    rows = table_rows(glance.page(plan))
    by_month = {row[0]: row for row in rows}
    assert [row[0] for row in rows] == [
        words.month(month, plan.reader, short=True) for month in (*range(3, 13), 1, 2)
    ]
    assert by_month["Apr"][3:5] == ["40 in Apr 10", "Basil, Okra"]
    run = plan.season
    assert run is not None
    july = slice(run.day(date(2027, 7, 1)), run.day(date(2027, 8, 1)))
    picked = {
        words.name("crop", batch.crop)
        for place, batch in enumerate(run.batches)
        if run.crops["picked_kg"][place, :, july].any(axis=1).mean() >= 0.5
    }
    assert set(by_month["Jul"][5].split(", ")) == picked
    assert by_month["Dec"][5] == ""


def test_on_paper_a_thing_is_said_once_and_has_something_to_do():
    plan = plans.of_season("greenhouse")
    told, printed = findings_page.asks(plan), findings_page.printed(plan)
    assert all(words.finding(one, plan.reader).action for one in printed)
    assert len({(one.key, one.subject) for one in printed}) == len(printed) < len(told)
    # Nothing urgent with something to do is left out.
    urgent = {(one.key, one.subject) for one in told if one.level in findings_page.URGENT}
    assert urgent <= {(one.key, one.subject) for one in printed}
    page = findings_page.page(plan)
    on_paper, on_screen = page.split('<div class="on-screen">')
    first = findings_page.first(plan)
    assert first == printed[: len(first)]
    assert on_paper.count('class="level') == on_paper.count("Do:") == len(printed) - len(first)
    assert on_screen.count('class="level') == len(told)


def test_the_first_page_has_five_dates_and_what_is_urgent():
    for garden in seasons.DEMOS:
        plan = plans.of_season(garden)
        page = read(first_page.page(plan))
        found = first_page.dates(plan)
        assert 3 <= len(found) <= first_page.DATES
        assert [one.day for one in found] == sorted(one.day for one in found)
        for one in found:
            assert jobs.sentence(one, plan).replace(words.NO_BREAK_SPACE, " ") in page
        for one in findings_page.first(plan):
            assert words.finding(one, plan.reader).title.replace(words.NO_BREAK_SPACE, " ") in page


# --- sowing ----------------------------------------------------------------------------------------------


def test_every_batch_has_its_days_and_weekly_ones_of_a_month_share_a_row():
    plan = plans.of_season("greenhouse")
    run = plan.season
    assert run is not None
    assert plan.agenda is not None
    weekly = [lot for lot in plan.agenda.lots if len(lot.batches) > 1]
    assert weekly
    text = read(sowing.page(plan))
    for lot in weekly:
        assert len({(one.batch.crop, one.batch.state, one.batch.plant.month) for one in lot.batches}) == 1
        if lot.one.batch.state == "planned":
            listed = days.listed([(one.batch.plant, one.batch.plant) for one in lot.batches], plan.reader)
            assert f"{listed}: {lot.one.batch.plants} each" in text


def test_what_stands_still_and_what_will_not_be_ready_is_said_in_words():
    plan = plans.of_season("yard/before")
    assert plan.season is not None
    okra, pepper, basil, *rest = plan.season.batches
    spells = ((date(2027, 7, 1), date(2027, 7, 20)),)
    batches = (
        replace(okra, stands_still=spells),
        replace(pepper, state="too_late", first_pick=None, last_pick=None),
        replace(basil, state="closed"),
        *rest,
    )
    text = read(sowing.page(replace(plan, season=replace(plan.season, batches=batches))))
    assert "Okra, north bed: does not grow Jul 1 to 20." in text
    assert "Capsicum (sweet pepper), south bed: planted May 12 it is not ready before it has to leave" in text
    assert "Basil, south bed: this climate lets it stand on no day of its months." in text
    calm = read(sowing.page(plans.of_season("classroom")))
    assert "does not grow" not in calm
    assert "has to leave" not in calm


def test_an_empty_place_is_told_once_with_its_reason_and_what_to_sow_instead():
    plan = plans.of_season("yard/before")
    assert plan.agenda is not None
    text = read(sowing.page(plan))
    assert plan.agenda.kept_out
    for one in plan.agenda.kept_out:
        said = empty_beds.kept_out(one, one.bed, plan.reader).replace(words.NO_BREAK_SPACE, " ")
        assert text.count(said) == 1
    assert "Okra, north bed: too cold to plant Sep 11 to Oct 2" in text
    assert "Sow or plant instead: Swiss chard;" in text
    slow = read(sowing.page(plans.of_season("greenhouse")))
    assert "Spinach, long raft: slow Oct 9 to Nov 1" in slow or "Spinach, long raft: slow 9 Oct" in slow


def test_a_batch_that_picks_nothing_in_many_tries_is_named_unless_the_year_ends():
    plan = plans.of_season("yard/before")
    run = plan.season
    assert run is not None
    place = next(n for n, batch in enumerate(run.batches) if batch.crop == "okra")
    picked = run.crops["picked_kg"].copy()
    picked[place, : MEMBERS // 2] = 0.0
    poor = replace(run, crops={**run.crops, "picked_kg": picked})
    text = read(sowing.page(replace(plan, season=poor)))
    assert "Okra, north bed, planted May 12: nothing is picked in 50 % of the tries." in text
    late = replace(run.batches[place], first_pick=date(2028, 2, 20), last_pick=None)
    batches = tuple(late if at == place else batch for at, batch in enumerate(run.batches))
    assert "Okra, north bed, planted" not in read(
        sowing.page(replace(plan, season=replace(poor, batches=batches)))
    )


def test_the_space_of_the_beds_is_told_by_month():
    plan = plans.of_season("greenhouse")
    rows = table_rows(sowing.page(plan), place=1)
    assert [row[0] for row in rows] == ["long raft", "herb bed"]
    assert [row[1] for row in rows] == ["7.2", "2.4"]
    assert all(len(row) == 2 + 12 for row in rows)
    assert all(float(cell) <= float(row[1]) for row in rows for cell in row[2:])


def test_a_garden_without_crops_says_so():
    plan = plans.of_season("yard")
    bare = replace(plan, season=season(days=60), garden=replace(plan.garden, crops=(), fish=()))
    assert "No crop is described" in read(sowing.page(bare))


# --- fish ------------------------------------------------------------------------------------------------


def test_fish_for_the_kitchen_have_days_of_size_and_the_offices_that_decide():
    plan = plans.of_season("greenhouse")
    text = read(fish_page.page(plan))
    assert plan.agenda is not None
    for leaving in plan.agenda.leavings:
        number = f"{leaving.count} ({leaving.low} to {leaving.high})"
        assert f"On 14 May 2028 all that are left are taken out, whatever they weigh: about {number}." in text
    assert "gutted" in text
    assert "local codes, the food authority and the animal-welfare law come first" in text


def test_fish_that_are_kept_run_on_feed_alone():
    plan = plans.of_season("classroom")
    text = read(fish_page.page(plan))
    assert "The fish are kept, not eaten" in text
    assert re.search(r"Feed of the year: [0-9.]+ to [0-9.]+ kg", text)
    assert "gutted" not in text
    assert "kitchen" not in text.replace("not for the kitchen", "")


def test_months_show_weight_number_and_feed_of_each_batch():
    plan = plans.of_season("yard")
    run = plan.season
    assert run is not None
    rows = table_rows(fish_page.page(plan))
    assert rows[0][1:] == ["-", "-", "-"]
    may = run.day(date(2027, 5, 31))
    ends = np.percentile(run.fish["weight_g"][0][:, may], [10, 90])
    assert rows[2][1] == words.span(*ends, "mass", plan.reader).replace(words.NO_BREAK_SPACE, " ")


def test_a_garden_without_fish_has_no_fish_page():
    plan = plans.of_season("yard")
    assert fish_page.page(replace(plan, garden=replace(plan.garden, fish=()))) == ""


# --- water -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_the_water_has_no_value_of_a_day_and_orders_no_base_by_date(garden: str):
    text = read(water_page.page(plans.of_season(garden)))
    months = "Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec"
    assert re.findall(rf"\b\d{{1,2}} (?:{months})\b|\b(?:{months}) \d{{1,2}},", text) == []
    assert "Test alkalinity" in text
    assert "no reading for any day" in text


def test_base_of_a_week_and_what_it_brings_come_from_the_season():
    plan = plans.of_season("southern")
    assert plan.season is not None
    none = {name: np.zeros_like(values) for name, values in plan.season.daily.items() if "base" in name}
    without = replace(plan, season=replace(plan.season, daily={**plan.season.daily, **none}))
    assert "No base is expected" in read(water_page.page(without))
    weekly = replace(
        plan,
        season=replace(
            plan.season,
            daily={**plan.season.daily, "base_potassium_g": np.full_like(plan.season.daily["ph"], 2.0)},
        ),
    )
    assert "14 g of potassium" in read(water_page.page(weekly))


def test_top_up_stands_against_the_rain_of_the_roof():
    plan = plans.of_season("southern")
    rows = {row[0]: row[1:] for row in table_rows(water_page.page(plan), place=1)}
    # October to September; 35 m2 of roof under 31 mm and 52 mm.
    assert rows["rain"][0] == "1100"
    assert rows["rain"][-1] == "1800"
    run = plan.season
    assert run is not None
    october = run.daily["top_up_l"][:, :31].sum(axis=1)
    assert rows["middle"][0] == words.number(float(np.median(october)))
    assert "rain" not in {row[0] for row in table_rows(water_page.page(plans.of_season("yard")), place=1)}


# --- costs, differences, shopping ------------------------------------------------------------------------


def priced(plan: Plan, **prices: float) -> Plan:
    return replace(plan, garden=replace(plan.garden, prices=Prices(**prices)))


def test_costs_are_amounts_times_prices_and_summed_where_all_are_known():
    plan = priced(plans.of_season("yard"), electricity_kwh=0.5, feed_kg=4.0, water_m3=2.0)
    run = plan.season
    assert run is not None
    # 45 W of pump and 48 W of air through 365 days.
    kwh = 93.0 * 24.0 * 365.0 / 1000.0
    names = ("feed_g", "top_up_l", "changed_l")
    feed_kg, water_m3, changed_m3 = (run.daily[name].sum(axis=1) / 1000.0 for name in names)
    whole = 0.5 * kwh + 4.0 * feed_kg + 2.0 * (water_m3 + changed_m3)
    found = reckoned.total(plan.agenda.costs)
    assert found is not None
    assert float(found.middle) == pytest.approx(float(np.median(whole)))
    assert "Feed, electricity and water of the season:" in read(costs.page(plan))


def test_without_a_price_there_is_no_sum_and_the_line_is_blank():
    plan = priced(plans.of_season("yard"), electricity_kwh=0.5, feed_kg=4.0)
    page = costs.page(plan)
    assert "fill in what is blank" in read(page)
    rows = {row[0]: row for row in table_rows(page)}
    assert rows["Top-up water"][2:] == ["", "", ""]
    assert rows["Feed, electricity and water"][1:] == ["", "", "", ""]
    assert rows["Seed, young plants"][1:] == ["", "", "", ""]


def test_prices_are_told_as_the_readers_shops_tell_them():
    plan = plans.of_season("yard")
    assert plan.reader.units == "us"
    rows = {row[0]: row for row in table_rows(costs.page(plan))}
    kilogram = plan.garden.prices.feed_kg
    assert kilogram is not None
    # A pound is 0.45359237 kg by definition.
    assert rows["Feed"][2] == f"{0.45359237 * kilogram:.2f} {plan.reader.currency} a lb"
    metric = replace(plan, reader=replace(plan.reader, units="metric"))
    assert f"{kilogram:.2f} {plan.reader.currency} a kg" in read(costs.page(metric))


def test_rain_costs_nothing_and_a_heater_is_not_guessed():
    plan = plans.of_season("southern")
    rows = {row[0]: row for row in table_rows(costs.page(plan))}
    assert rows["Top-up water"][2] == "from rain"
    assert "heater" not in read(costs.page(plan))
    heated = replace(plan, garden=replace(plan.garden, heat=replace(plan.garden.heat, heater_w=300.0)))
    assert "The heater is not in it" in read(costs.page(heated))
    bought = replace(plan, garden=replace(plan.garden, top_up=TopUp("mains", "none", 0.0)))
    assert "a m³" in read(costs.page(bought))


def test_differences_are_told_with_what_was_planned():
    plan = replace(
        plans.of_season("yard"),
        differences=(
            Difference(date(2027, 4, 14), "stocked_day", "catfish", date(2027, 4, 10), date(2027, 4, 14)),
            Difference(date(2027, 4, 14), "stocked_count", "catfish", 40, 36),
            Difference(date(2027, 8, 1), "taken_early", "catfish", date(2027, 9, 1), 5),
            Difference(date(2027, 9, 2), "count_low", "catfish", 31, 28),
        ),
    )
    text = read(differences_page.page(plan))
    assert "catfish: stocked April 14, 2027, planned April 10, 2027." in text
    assert "catfish: 36 fish stocked by April 14, 2027, planned 40." in text
    assert "catfish: 5 taken out August 1, 2027; they were to stay until September 1, 2027." in text
    assert "catfish: 28 fish there on September 2, 2027, 31 would be left" in text


def test_feed_to_buy_is_that_of_the_season():
    plan = plans.of_season("yard")
    run = plan.season
    assert run is not None
    ends = np.percentile(run.daily["feed_g"].sum(axis=1), [10, 90])
    expected = words.span(*ends, "mass", plan.reader).replace(words.NO_BREAK_SPACE, " ")
    assert f"Feed for the year: {expected}." in read(shopping.page(plan))
