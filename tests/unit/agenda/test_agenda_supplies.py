"""What the season gives silently stands as tests to make, grams to have, and lines of cost."""

from dataclasses import replace
from datetime import date

import numpy as np
import plans
import pytest
import seasons
from hand_made_garden import garden
from hand_made_season import on, season

from aquacalc.agenda import costs, other_water, supplies
from aquacalc.agenda.other_water import DryTime
from aquacalc.agenda.supplies import Supply
from aquacalc.garden.model import Care, Product
from aquacalc.pages import jobs
from aquacalc.season import rules
from aquacalc.season.result import SeasonRun


def of_kind(run: SeasonRun, kind: str, products: tuple[Product, ...] = ()) -> list[Supply]:
    of = replace(garden(), products=products)
    return [one for one in supplies.supplies(run, of) if one.kind == kind]


def test_iron_of_the_season_is_grams_of_the_chelate():
    run = season(days=60, fish=[{}], iron_g=on(10, [1.0, 2.0, 3.0, 4.0, 5.0], 60), **FED)
    label = Product("Iron", "fe_dtpa", 10.0)
    (found,) = of_kind(run, "iron", (label,))
    assert (found.product, found.to_buy, found.portions) == (label, False, 1)
    # A label of 10 % iron: ten grams for each gram.
    assert found.middle_g == pytest.approx(30.0)
    assert (found.low_g, found.high_g) == pytest.approx((14.0, 46.0))
    assert found.months == (date(2027, 3, 1),)
    assert (found.under, found.to) == (rules.IRON_LOW_MG_L, rules.IRON_TO_MG_L)


FED = {"potassium_mg_l": 999.0, "calcium_mg_l": 999.0, "magnesium_mg_l": 999.0}


def test_what_is_not_on_the_shelf_is_to_be_bought():
    run = season(days=60, fish=[{}], iron_g=on(10, 1.0, 60), **FED)
    (found,) = of_kind(run, "iron")
    assert found.to_buy
    assert found.product.chemical == "fe_dtpa"


def test_ammonia_for_an_empty_filter_is_told_as_its_salt():
    run = season(days=60, fish=[{}], filter_food_g=on(3, 2.619, 60), **FED)
    (found,) = of_kind(run, "filter_food")
    assert found.middle_g == pytest.approx(10.0, rel=1e-3)  # 26.19 % nitrogen
    assert found.to == rules.WAKE_TAN_MG_L


def test_potassium_that_the_grower_keeps_is_grams_to_have_and_its_own_line():
    run = season(days=60, fish=[{}], potassium_g=on(10, 4.488, 60), **FED)
    kept = replace(garden(), products=(), care=Care(potassium_mg_l=25.0))
    (found,) = [one for one in supplies.supplies(run, kept) if one.kind == "potassium"]
    assert found.middle_g == pytest.approx(10.0, rel=1e-3)  # 44.88 % potassium
    assert (found.under, found.to, found.product.chemical) == (25.0, 25.0, "potassium_sulphate")
    assert of_kind(run, "potassium") == []


def test_a_season_that_gives_nothing_has_no_supplies():
    assert supplies.supplies(season(days=60, fish=[{}], **FED), garden()) == ()


def test_an_average_week_is_the_season_by_its_weeks():
    eq = np.full((5, 70), 0.1)
    for one in of_kind(season(days=70, fish=[{}], base_eq=eq, **FED), "base"):
        assert one.week_g[1] == pytest.approx(one.middle_g / 10.0)


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_all_that_the_model_does_in_silence_stands_as_job_shopping_line_and_cost(name: str):
    plan = plans.of_season(name)
    assert plan.agenda is not None
    daily = plan.season.daily if plan.season else {}
    done = {"base": "base_eq", "iron": "iron_g", "filter_food": "filter_food_g"}
    told = {one.kind for one in plan.agenda.supplies}
    for kind, column in done.items():
        assert (kind in told) is bool(np.percentile(daily[column].sum(axis=1), 90) > 0.0)
    tested = {one.subject for one in jobs.entries(plan) if one.key == "supplement"}
    assert {kind for kind in told - {"filter_food"} if any(_months(plan.agenda.supplies, kind))} == tested
    priced = {line.name for line in plan.agenda.costs if line.key == "supply"}
    assert priced == {one.product.name for one in plan.agenda.supplies}


def _months(found: tuple[Supply, ...], kind: str) -> list[date]:
    return [month for one in found if one.kind == kind for month in one.months]


def test_a_mineral_that_a_finding_calls_short_is_a_supply():
    for name in seasons.DEMOS:
        plan = plans.of_season(name)
        assert plan.agenda is not None
        told = {one.kind for one in plan.agenda.supplies}
        for mineral in ("potassium", "calcium", "magnesium"):
            if f"finding-{mineral}-season-short" in {one.key for one in plan.findings}:
                assert mineral in told


# --- other water ------------------------------------------------------------------------------------------


def test_dry_times_are_those_of_the_findings():
    plan = plans.of_season("southern")
    (dry,) = [one for one in other_water.dry_times(plan.findings) if not one.may]
    finding = next(one for one in plan.findings if one.key == "finding-water-season-barrel-dry")
    assert (dry.first, dry.last) == (finding.first, finding.last)
    entry = next(one for one in jobs.entries(plan) if one.key == "other_water")
    assert entry.day == dry.before < dry.first
    assert entry.during == (dry.first, dry.last)


def test_only_rain_of_which_nothing_else_is_told_is_filled_up_from_an_unknown_tap():
    dry = [DryTime(date(2027, 7, 1), date(2027, 8, 1), date(2027, 6, 17), 100.0, 200.0, 300.0, may=False)]
    southern = seasons.garden("southern")
    assert other_water.from_the_tap(southern, dry)
    assert not other_water.from_the_tap(southern, [])
    mains = replace(southern, top_up=replace(southern.top_up, source="mains", disinfectant="chlorine"))
    assert not other_water.from_the_tap(mains, dry)


# --- costs ------------------------------------------------------------------------------------------------


def test_a_total_stands_only_where_every_price_is_known():
    plan = plans.of_season("yard")
    run = plan.season
    assert run is not None
    assert costs.total(costs.lines(run, plan.garden, (), ())) is not None
    without = replace(plan.garden, prices=replace(plan.garden.prices, feed_kg=None))
    assert costs.total(costs.lines(run, without, (), ())) is None
