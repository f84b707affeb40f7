import math
import re
from dataclasses import replace
from datetime import date

import numpy as np
import plans
import pytest
from test_pages_html import Read

from aquacalc.garden.model import Assumed, LocalRule
from aquacalc.logbook.today import Difference
from aquacalc.pages import sheets, trail
from aquacalc.pages.folder import facts, findings_page, rules, shopping, sources, wishes_page, year
from aquacalc.pages.plan import Plan, make
from aquacalc.season import plan as season
from aquacalc.sentences import trail as sentences_trail
from aquacalc.uncertainty import Band

YARD = plans.of_yard()
DEMOS = ("yard", "greenhouse", "classroom", "southern")
ODD = "<script>alert('x')</script> \"&\" 🐟"

# Words of kit cards never stand for a level, and nothing printed gives a permission ("alarm" is a device).
NOT_PRINTED = re.compile(
    r"\b(ideal|safe|safely|stress|caution|danger|dangerous|alert|toxic|harmful|allowed|permitted|okay)\b",
    re.IGNORECASE,
)


def whole(plan: Plan) -> str:
    return f"{sheets.folder(plan)}{sheets.wall(plan)}"


def odd_names() -> Plan:
    """A garden in which everything that can be named is called by a name that tries to become markup."""
    own = YARD.garden
    garden = replace(
        own,
        name=ODD,
        site=replace(own.site, name=ODD),
        tanks=tuple(replace(one, name=ODD) for one in own.tanks),
        beds=tuple(replace(one, name=f"{ODD}{n}") for n, one in enumerate(own.beds)),
        pumps=tuple(replace(one, name=ODD) for one in own.pumps),
        feeds=tuple(replace(one, name=ODD) for one in own.feeds),
        fish=tuple(replace(one, name=ODD, tank=ODD) for one in own.fish),
        crops=tuple(
            replace(one, bed=f"{ODD}{[bed.name for bed in own.beds].index(one.bed)}") for one in own.crops
        ),
        kits=tuple(replace(one, name=ODD) for one in own.kits),
        products=tuple(replace(one, name=ODD) for one in own.products),
        rules=(LocalRule(ODD, ODD, date(2026, 5, 1), ODD),),
        assumed=(Assumed(ODD, ODD, "m2"),),
    )
    made = make(garden, YARD.reader, plans.MADE, plans.TRIES, 1)
    run = season.of_garden(garden, members=3)
    differences = (Difference(date(2027, 4, 2), "stocked_count", ODD, 40, 36),)
    return replace(made, season=run, differences=differences)


@pytest.mark.slow
def test_names_from_files_are_text_on_every_page():
    read = Read(whole(odd_names()))
    assert "script" not in read.tags
    assert set(read.tags) <= set(Read(whole(plans.of_season("yard"))).tags)
    assert "<script>alert" in read.text
    assert "🐟" in read.text


@pytest.mark.parametrize("name", DEMOS)
def test_no_page_refers_to_anything_outside(name: str):
    page = whole(plans.of_season(name))
    assert not re.findall(
        r"\b(?:src|action|srcset|data)=|\bhref=(?!\"#)|@import|<link|<iframe|<img|<script", page
    )
    assert set(re.findall(r"https?://[^\s\"'<]+", page)) <= {
        "http://www.w3.org/2000/svg",
        "http://www.w3.org/1999/xlink",
    }


@pytest.mark.parametrize("name", DEMOS)
def test_no_page_uses_words_of_kit_cards_or_gives_a_permission(name: str):
    plan = plans.of_season(name)
    names = [one for one in sheets.FOLDER if one != "sources"]
    printed = Read(f"{sheets.folder(plan, *names)}{sheets.wall(plan)}").text
    assert [found.group() for found in NOT_PRINTED.finditer(printed)] == []


@pytest.mark.slow
@pytest.mark.parametrize("name", DEMOS)
def test_every_garden_can_be_printed_in_both_systems_of_units(name: str):
    plan = plans.of_season(name)
    for units in ("metric", "us"):
        text = Read(whole(replace(plan, reader=replace(plan.reader, units=units)))).text
        assert "nan" not in re.findall(r"\bnan\b|\binf\b", text)
        assert ("US gal" in text) == (units == "us")
        assert (" L " in text.replace("\u00a0", " ")) == (units == "metric")


def test_cells_in_which_the_fish_want_more_are_framed_and_only_those():
    balance, page = YARD.balance, year.figures(YARD)
    wanted = balance.demand.feed_g_day.middle
    over = sum(
        int(np.count_nonzero(wanted > limit.feed_g_day.middle)) for limit in balance.limits if limit.counts
    )
    assert over > 0
    assert page.count('class="over"') == over


def test_the_narrowest_limit_of_a_month_is_the_smallest_of_its_kind_that_counts():
    for position in range(12):
        for must in (True, False):
            found = year.narrowest_limit(YARD, position, must)
            carried = [
                float(limit.feed_g_day.middle[position])
                for limit in YARD.balance.limits
                if limit.must == must and limit.counts
            ]
            known = [one for one in carried if math.isfinite(one)]
            assert found is not None
            assert float(found.feed_g_day.middle[position]) == min(known)


def test_the_picture_has_its_answer_as_title_and_a_text_alternative():
    page = year.picture(YARD)
    assert year.headline(YARD).split(":")[0] in Read(page).text
    assert "aria-label" in page


def test_a_garden_without_a_demand_says_so():
    plan = replace(YARD, balance=replace(YARD.balance, binding=None, better=None))
    assert year.headline(plan) == "No fish eat in these twelve months"


def test_findings_come_in_their_order_with_all_their_parts():
    page = findings_page.page(YARD).split('<div class="on-screen">')[1]
    told = [found for found in YARD.findings if found.level != "fine"]
    assert [level.replace("-", " ") for level in re.findall(r'class="level ([a-z-]+)"', page)] == [
        found.level for found in told
    ]
    assert page.count("Do:") == len(told)
    calm = replace(YARD, findings=())
    assert "Nothing to act on" in findings_page.page(calm)


def test_wishes_are_told_in_bed_tank_and_feed_and_their_absence_too():
    page = Read(wishes_page.page(YARD)).text.replace("\u00a0", " ")
    assert "10 heads a week" in page
    assert "40 Channel catfish a year" in page
    none = replace(YARD, wished=replace(YARD.wished, crop=None, fish=None))
    assert "No wishes are written down" in wishes_page.page(none)


def test_feed_of_a_year_adds_up_the_days_of_each_month():
    level = Band(np.full(12, 10.0), np.full(12, 20.0), np.full(12, 30.0))
    demand = replace(YARD.balance.demand, feed_g_day=level)
    balance = replace(YARD.balance, demand=demand, months=(3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 1, 2))
    assert shopping.feed_of_year_g(balance, 2026) == (3650.0, 10950.0)
    # February 2028 has 29 days.
    assert shopping.feed_of_year_g(balance, 2027) == (3660.0, 10980.0)


def test_tests_that_no_kit_measures_are_on_the_list():
    page = Read(shopping.page(YARD)).text
    assert "Tests that are missing: oxygen and chlorine" in page


def test_local_rules_are_questions_with_room_for_an_answer():
    asked = LocalRule("May catfish be kept?", "wildlife office", date(2026, 5, 1), "with permit 12")
    page = rules.page(plans.changed(YARD, rules=(asked,)))
    text = Read(page).text
    assert "May catfish be kept?" in text
    assert "with permit 12" in text
    rows = re.findall(r"<tbody>.*</tbody>", page)[0].split("<tr>")[2:]
    assert all("?" in row for row in rows)
    # The workbook itself answers none of them.
    assert all(row.count("<td></td>") == 2 for row in rows)


def test_what_was_assumed_is_listed_line_by_line():
    assumed = (Assumed("site.altitude", "0", "m"), Assumed("heat.cover", "no"))
    page = facts.assumed(plans.changed(YARD, assumed=assumed))
    assert page.count("<li>") == 2
    assert "nothing was assumed" in facts.assumed(plans.changed(YARD, assumed=())).lower()


def test_a_measured_loop_is_told_beside_what_the_tape_makes():
    tape = YARD.quantity(YARD.litres.whole, "volume")
    page = Read(facts.facts(plans.changed(YARD, water_scale=0.8))).text
    assert f"as measured, where the measures of the parts make {tape}" in page
    assert "as measured" not in Read(facts.facts(YARD)).text


def test_sources_name_the_texts_and_count_how_values_are_known():
    keys = sentences_trail.keys(trail.cited(YARD))
    assert keys == sorted(set(keys))
    assert "OWN" not in keys
    page = Read(sources.sources(YARD)).text
    rows = sources.coefficients(YARD)
    assert f"rests on {len(rows)} uncertain values" in page
    assert all(f"{key}: " in page for key in keys)
