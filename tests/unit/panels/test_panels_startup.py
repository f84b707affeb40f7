"""The panels of a start-up: fields move the dates, readings answer at once, refusals say why."""

import re
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import pytest
from widget_tree import widgets_in

from aquacalc.garden import places
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.logbook.log import Log
from aquacalc.pages import startup_doses
from aquacalc.panels.frame.desk import Desk, open_desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.startup import (
    new_fish,
    startup,
    startup_fields,
    startup_more,
    startup_ready,
    startup_shown,
    startup_today,
)
from aquacalc.panels.startup.startup import StartUpPanel
from aquacalc.startup import delays, plan
from aquacalc.words import NO_BREAK_SPACE

TRIES = 60
OF_GARDEN = plan.of_garden


@cache
def worked_out(garden: Garden, log: Log | None, choice: plan.Choice, members: int) -> plan.StartUp:
    return OF_GARDEN(garden, log, choice, members)


@pytest.fixture(scope="module", autouse=True)
def few_tries():
    """Few tries, and each start-up worked out once for all panels."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(plan, "of_garden", lambda *given: worked_out(*given[:4]))
        patched.setattr(plan, "MEMBERS", TRIES)
        patched.setattr(startup, "MANY", 2 * TRIES)
        yield


@pytest.fixture(scope="module")
def desk() -> Desk:
    return open_desk("demo:southern")


@pytest.fixture
def panel(desk: Desk) -> StartUpPanel:
    return startup.panel(desk)


def plain(markup: str) -> str:
    return re.sub(r"<[^>]+>", " ", markup).replace(NO_BREAK_SPACE, " ")


def choose(panel: Panel, **values: object) -> None:
    for name, value in values.items():
        panel.fields[name].set(value)
    panel.refresh()


def first_fish(panel: StartUpPanel) -> date:
    assert panel.start is not None
    middle = panel.start.days("first_fish").middle
    assert middle is not None
    return middle


# --- the start-up


def test_the_demo_that_starts_is_shown_with_its_log(panel: StartUpPanel):
    assert panel.values["by"] == "log"
    head, said = plain(panel.said.value), plain(panel.result.value)
    assert "The first fish can come between" in head
    assert "By the readings of 30 September 2027" in head
    assert "readings up to 30 September 2027" in said
    assert panel.line.value == ""
    assert "Save the start-up sheet" in said


def test_the_answer_stands_above_the_fields_with_what_to_give_now(panel: StartUpPanel):
    inside = widgets_in(panel)
    assert inside.index(panel.said) < inside.index(panel.inputs) < inside.index(panel.result)
    said = plain(panel.said.value)
    assert "710 g of Potassium bicarbonate" in said
    assert "No ammonia before nitrite is known" in said
    assert "The garden file has its first fish on 25 October 2027" in said
    choose(panel, by="plan")
    assert "In water that reads nothing, 42 g" in plain(panel.said.value)


def test_rare_fields_are_folded_but_a_solution_asks_for_its_strength(panel: StartUpPanel):
    def in_sight() -> set[str]:
        return {name for name, field in panel.fields.items() if field.widget.layout.display != "none"}

    assert not in_sight() & set(startup_fields.RARE)
    choose(panel, method="solution", strength=0.1)
    assert in_sight() & set(startup_fields.RARE) == {"strength"}
    panel.more_fields.value = True
    assert "first_tan" in in_sight()


def test_another_garden_than_the_readers_own_says_so(tmp_path: Path):
    (tmp_path / "garden.toml").write_text("nonsense = 1\n", "utf-8")
    other = startup.panel(open_desk(str(tmp_path / "garden.toml"), demo="demo:southern"))
    assert "This is not your garden" in plain(other.said.value)


@pytest.mark.slow
def test_warmth_seed_and_dose_move_the_dates(panel: StartUpPanel):
    choose(panel, by="plan")
    usual = first_fish(panel)
    choose(panel, warmer=8.0)
    warm = first_fish(panel)
    choose(panel, warmer=0.0, seed="tenth")
    assert warm < usual > first_fish(panel)
    choose(panel, seed="unseeded", first=date(2027, 9, 20))
    assert first_fish(panel) > usual


def test_a_reading_moves_the_dates_without_a_new_simulation(panel: StartUpPanel):
    choose(panel, by="plan")
    before, worked = first_fish(panel), panel.worked.of.cache_info().misses
    assert panel.start is not None
    panel.read_day.set(panel.start.days("nitrite_peak").middle)
    panel.read["tan"].set(0.0)
    panel.read["nitrite"].set(0.0)
    panel.added()
    assert panel.read_problem.value == ""
    assert first_fish(panel) < before
    assert panel.worked.of.cache_info().misses == worked
    assert "nitrite 0" in plain(panel.result.value)
    panel.taken()
    assert first_fish(panel) == before


def test_a_reading_before_the_first_dose_is_refused_and_forgotten(panel: StartUpPanel):
    panel.read_day.set(date(2027, 8, 1))
    panel.read["tan"].set(1.6)
    panel.added()
    assert "before the first dose" in plain(panel.read_problem.value)
    assert panel.typed == []
    panel.read_day.set(None)
    panel.added()
    assert "is missing" in plain(panel.read_problem.value)


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"method": "fish"}, "without mature media"),
        ({"next_tan": 9.0}, "above 8 mg/L"),
        ({"strength": None}, "the strength is not told"),
        ({"warmer": -10.0, "by": "plan", "first": date(2027, 7, 1)}, "below 4"),
        ({"method": "solution", "strength": 0.6}, "no strength that can be reckoned with"),
    ],
)
def test_what_cannot_be_is_refused_with_its_reason(panel: StartUpPanel, values, said):
    choose(panel, **values)
    assert said in plain(panel.problems.value)
    assert panel.start is not None


def test_only_a_solution_asks_what_its_label_counts(panel: StartUpPanel):
    assert "counts" not in startup_fields.asked(panel.values)
    choose(panel, method="solution", strength=0.1)
    assert "counts" in startup_fields.asked(panel.values)
    assert "product" not in startup_fields.asked(panel.values)
    choose(panel, method="salt")
    assert not {"counts"} & set(startup_fields.asked(panel.values))


def test_a_running_garden_says_so_and_still_answers():
    running = startup.panel(open_desk("demo:yard"))
    said = plain(running.said.value)
    assert "this filter is running" in said
    assert "can come between" in said


def test_many_tries_are_worked_out_on_demand(panel: StartUpPanel):
    choose(panel, by="plan")
    panel.pressed()
    assert panel.start is not None
    assert panel.start.forecast.members.count == 2 * TRIES
    assert panel.more.disabled


# --- beside it


@pytest.mark.slow
def test_what_stands_beside_follows_the_choice(panel: StartUpPanel):
    ways, table, why = startup_shown.Ways(panel), startup_shown.Doses(panel), startup_shown.Why(panel)
    assert "Ammonium chloride, without fish" in plain(ways.value)
    assert "28 g" in plain(table.value)
    assert "Patience beats" in plain(why.value)
    choose(panel, method="solution", strength=0.1)
    assert "goggles" in plain(ways.value)
    assert "mL" in plain(table.value)
    panel.fields["method"].set("fish")
    panel.fields["method"].accept()
    assert "Not with fish in this garden" in plain(ways.value)


@pytest.mark.slow
def test_reasons_are_looked_for_in_the_readings(desk: Desk, panel: StartUpPanel):
    stuck = startup_more.why_stuck(desk, panel)
    choose(panel, by="plan")
    stuck.pressed()
    assert "no reading to look at" in plain(stuck.result.value)
    panel.typed = [(date(2027, 9, 12), "tan", 1.6, 1.0)]
    panel.refresh()
    stuck.pressed()
    assert "log that tells the doses" in plain(stuck.result.value)
    panel.typed = []
    choose(panel, by="log")
    assert stuck.result.value == ""
    stuck.pressed()
    assert "patience" in plain(stuck.result.value)
    assert stuck.line.value == ""


@pytest.mark.slow
def test_what_delays_it_is_a_table(desk: Desk, panel: StartUpPanel, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(delays.delays_of, "__defaults__", (delays.MISHAPS, 20))
    choose(panel, by="plan")
    asked = startup_more.delays(desk, panel)
    asked.pressed()
    assert "delayed most by: alkalinity used up" in plain(asked.result.value)


def test_when_to_begin_counts_back_from_the_wished_day(
    desk: Desk, panel: StartUpPanel, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(delays, "needed", lambda garden, choice: lambda first: (30.0, 60.0))
    asked = startup_more.when(desk, panel)
    asked.pressed()
    said = plain(asked.result.value)
    stocking = date(2027, 10, 25)
    for day in (stocking - timedelta(days=74), stocking - timedelta(days=60), stocking - timedelta(days=28)):
        assert f"{day.day} {day:%B} {day.year}" in said
    assert "common practice, no source" in said


def test_first_fish_are_not_wished_for_yesterday_in_a_garden_of_ones_own(tmp_path: Path):
    path = tmp_path / "garden.toml"
    path.write_text(re.sub(r"(?m)^invented = .*$", "", places.starter().read_text("utf-8")), "utf-8")
    own = Desk(GardenFile.open(path, date(2028, 6, 1)))
    asked = startup_more.when(own, startup.panel(own))
    (wished,) = asked.fields
    assert wished.value == date(2029, 5, 1)  # the day of the file, in the next year that has it
    wished.box.value = "2028-05-31"
    assert wished.problem is not None
    asked.pressed()
    assert asked.result.value == ""
    assert "nothing is answered" in asked.line.value


# --- today, ready, new fish


def test_today_gives_only_what_is_missing(desk: Desk, panel: StartUpPanel):
    today = startup_today.panel(desk, panel)
    assert "Type what your kit shows" in plain(today.result.value)
    assert " g of " not in plain(today.result.value)
    choose(today, tan=0.0, nitrite=0.0, ph=7.2)
    assert "28 g of Ammonium chloride" in plain(today.result.value)
    choose(today, temperature=3.0)
    assert "bacteria hardly grow" in plain(today.result.value)
    choose(today, temperature=20.0)
    choose(today, tan=1.6)
    assert "still enough" in plain(today.result.value)
    choose(today, tan=0.0, nitrite=5.0)
    assert "end of its card" in plain(today.result.value)
    choose(today, thin="5")
    assert "nitrite is too high" in plain(today.result.value)
    choose(today, nitrite=None)
    assert "before nitrite is tested" in plain(today.result.value)
    choose(today, nitrite=0.0, thin="1", ph=6.0)
    assert "No ammonia at this pH" in plain(today.result.value)
    choose(today, ph=7.2, alkalinity=40.0)
    assert "First" in plain(today.result.value)


def test_no_ammonia_goes_into_a_garden_that_has_fish():
    running = open_desk("demo:yard")
    panel = startup.panel(running)
    today = startup_today.panel(running, panel)
    choose(today, tan=0.0, nitrite=0.0, ph=7.2)
    said = plain(today.result.value)
    assert "No ammonia: the garden file says" in said
    assert "raises ammonia" not in said
    assert "into water with fish" in plain(startup_shown.Doses(panel).value)


def test_today_speaks_the_units_of_the_kit_and_the_water_of_the_day(desk: Desk, panel: StartUpPanel):
    today = startup_today.panel(desk, panel)
    assert today.fields["alkalinity"].unit.value == "dkh"
    assert today.values["temperature"] == pytest.approx(16.4, abs=0.5)
    assert today.values["volume"] == pytest.approx(3670.0)


def test_today_knows_labels_and_foam(desk: Desk, panel: StartUpPanel):
    today = startup_today.panel(desk, panel)
    choose(today, product="ammonia_solution", strength=0.1, tan=0.0, nitrite=0.0, ph=7.2)
    said = plain(today.result.value)
    assert "93 mL of Ammonia solution 10 %" in said
    assert "Shake a little" in said
    assert "Adults only" in said
    choose(today, counts="NH4OH")
    assert "190 mL" in plain(today.result.value)
    choose(today, counts="not told")
    assert "strongest that it can be" in plain(today.result.value)
    choose(today, foam="lasting")
    assert "soap or perfume" in plain(today.problems.value)
    assert today.result.value == ""


def test_the_challenge_gives_feed_and_first_fish(desk: Desk, panel: StartUpPanel):
    ready = startup_ready.panel(desk, panel)
    assert "Type the readings of your challenge" in plain(ready.result.value)
    choose(ready, tan_0=1.6, tan_1=0.0, nitrite_0=0.0, nitrite_1=0.0)
    said = plain(ready.result.value)
    assert "The filter carries" in said
    assert "That is a pass" in said
    assert "60 fish of 60 g" in said
    choose(ready, nitrite_1=5.0)
    assert "no feed to begin with" in plain(ready.result.value)
    choose(ready, nitrite_1=0.0, tan_1=7.0)
    assert "read more after the day" in plain(ready.problems.value)


def test_new_fish_hear_about_their_bag(desk: Desk):
    arriving = new_fish.panel(desk)
    choose(arriving, bag_tan=5.0, bag_ph=6.5, tank_ph=8.0, bag_c=20.0, tank_c=20.0)
    said = plain(arriving.result.value)
    assert "Do not mix bag and tank water" in said
    assert "0.19 mg/L" in said
    for part in ("30 days", "18 to 25", "No bag water", "60 fish are 3.6 kg", "permit"):
        assert part in said
    choose(arriving, bag_c=8.0)
    assert "too much for one day" in plain(arriving.result.value)
    assert "Nobody tested" not in said


def test_new_fish_in_a_new_filter_hear_that_it_proved_nothing(desk: Desk):
    arriving = new_fish.panel(desk)
    said = plain(arriving.result.value)
    assert "has proven nothing yet" in said
    assert "0.5 mg/L as N" in said
    assert "4.5 g" in said
    choose(arriving, filter="passed")
    assert "has proven nothing yet" not in plain(arriving.result.value)
    assert "58 g" in plain(arriving.result.value)


def test_new_fish_are_answered_without_a_garden():
    assert "Bag water" in plain(new_fish.panel().result.value)


def test_pages_and_panels_name_the_same_product(panel: StartUpPanel):
    assert panel.start is not None
    made = panel.made(panel.start)
    assert startup_doses.source_name(panel.start.source, made.garden).startswith("Ammonium chloride 99")
