"""No two sheets say two things: every amount of every sheet by its key has one value."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import plans
import printed_amounts
import pytest
import random_gardens
import seasons
from hypothesis import HealthCheck, given, settings

from aquacalc.agenda import living
from aquacalc.garden.file import GardenFile
from aquacalc.pages.plan import Plan, make, through
from aquacalc.panels.harvest import season_answers, season_runs
from aquacalc.season.start import Start

DAYS = 60


def assert_agree(plan: Plan, folder: Path) -> printed_amounts.Amounts:
    found = printed_amounts.amounts(plan, folder)
    apart = {key: said for key, said in found.items() if len(set(said.values())) > 1}
    assert apart == {}
    return found


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_no_amount_of_a_demo_garden_has_two_values(name: str, tmp_path: Path):
    found = assert_agree(plans.of_season(name), tmp_path)
    sheets = {sheet for said in found.values() if len(said) > 1 for sheet in said}
    assert sheets >= {
        "calendar",
        "glance",
        "month sheet",
        "panel",
        "season-tasks.csv",
        "sowing panel",
    }


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_enough_amounts_stand_on_two_sheets_or_more(name: str, tmp_path: Path):
    found = printed_amounts.amounts(plans.of_season(name), tmp_path)
    assert sum(len(said) > 1 for said in found.values()) > 100


def test_panels_decide_what_the_printed_plan_decides(monkeypatch: pytest.MonkeyPatch):
    plan = plans.of_season("classroom")
    monkeypatch.setattr("aquacalc.season.plan.of_garden", lambda *_: plan.season)
    shown = season_runs.decided(plan.garden, None, 20)
    assert plan.agenda is not None
    # As texts, because what is not told of a job is not a number, and that is like nothing, not even itself.
    assert list(map(repr, shown.agenda.entries)) == list(map(repr, plan.agenda.entries))


def test_an_amount_that_differs_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    plan = plans.of_season("yard")
    monkeypatch.setattr("aquacalc.sentences.rations.bags", lambda *_: ["Jul 2 to 11: 94 g in each bag."])
    with pytest.raises(AssertionError, match="94"):
        assert_agree(plan, tmp_path)


def test_a_panel_that_sows_otherwise_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    sowings = season_answers.sowings
    monkeypatch.setattr(
        season_answers, "sowings", lambda *told: [replace(one, count="3") for one in sowings(*told)]
    )
    with pytest.raises(AssertionError, match="how many to plant basil"):
        assert_agree(plans.of_season("yard"), tmp_path)


@pytest.mark.slow
def test_no_amount_of_any_garden_has_two_values(tmp_path: Path):
    path = tmp_path / "garden.toml"

    @settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
    @given(random_gardens.short_plans(DAYS))
    def whole(data: random_gardens.Data) -> None:
        path.write_text(random_gardens.text_of(data), "utf-8")
        garden = GardenFile.open(path, date(2027, 1, 1)).garden
        lived = living.season(garden, 3, 1, Start(), "")
        made = make(lived.garden, garden.reader, plans.MADE, 3, 1)
        assert_agree(through(made, lived), tmp_path)

    whole()
