"""The supplement sheet: what is tested, from where to where something is given, and this garden's grams."""

import plans
import pytest
import seasons
from printed import read, table_rows

from aquacalc.pages.wall import doses, supplements


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_every_supply_of_the_season_has_its_test_and_its_doses(garden: str):
    plan = plans.of_season(garden)
    assert plan.agenda is not None
    page = supplements.page(plan)
    rows = table_rows(page)
    for one in plan.agenda.supplies:
        if one.kind == "filter_food" and plan.garden.start_up.state == "new":
            continue
        name = doses.short_name(one.product)
        own = [row for row in rows if row[1].startswith(name)]
        assert own, name
        assert all(row[2][0].isdigit() for row in own)
        assert ("to buy" in own[0][1]) is one.to_buy
        if one.kind not in ("base", "filter_food"):
            assert own[0][0].startswith(one.kind)
            assert "under " in own[0][0]


def test_what_a_step_weighs_is_what_the_dose_sheet_weighs():
    plan = plans.of_season("greenhouse")
    shelf = {row[0].split("  ")[0]: row for row in table_rows(doses.page(plan))}
    rows = table_rows(supplements.page(plan))
    same = 0
    for line in doses.lines(plan):
        if line.kind in ("base", "element") and not line.to_buy:
            name = doses.short_name(line.product)
            row = next(row for row in rows if row[1].startswith(name))
            own = next(cells for title, cells in shelf.items() if title.startswith(name))
            assert row[2:] == own[2:]
            same += 1
    assert same


def test_a_school_marks_it_for_adults_and_nothing_is_given_by_date():
    text = read(supplements.page(plans.of_season("classroom")))
    assert "For adults only." in text
    assert "Never" in text
    assert "by date" in text


def test_months_that_follow_each_other_are_a_span():
    plan = plans.of_season("yard")
    assert plan.season is not None
    first = plan.season.first
    days = [first.replace(month=month, day=1) for month in (11, 12, 1, 3)]
    assert supplements._months(plan, days) == "Nov to Jan, Mar"
    assert supplements._months(plan, [first.replace(month=n, day=1) for n in range(1, 13)]) == "all year"
