"""Season panels: a moved date shows its year at once, nothing is written unasked, questions work alone."""

import re
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from aquacalc import words
from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.logbook.log import Log
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.dates import DateField, read_day
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.harvest import (
    plan_harvest,
    season_answers,
    season_runs,
    sowing_list,
    when_of_size,
    when_to_sow,
    year_strip,
)
from aquacalc.panels.harvest.plan_harvest import PlanPanel
from aquacalc.panels.harvest.season_runs import Decided
from aquacalc.schedule import backward
from aquacalc.season import alone, plan

READER = words.Reader()
US = words.Reader(units="us")
ALONE: list[Callable[[], Panel]] = [when_to_sow.panel, when_of_size.panel, plan_harvest.panel]


@pytest.fixture
def mine() -> Desk:
    return desk.open_desk("demo:yard/before")


@pytest.fixture
def own(tmp_path: Path) -> Desk:
    (tmp_path / "garden.toml").write_bytes(GardenFile.open("demo:yard/before").path.read_bytes())
    return desk.open_desk(str(tmp_path))


def plain(html: str) -> str:
    """The text that a reader sees, spaces made ordinary."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html)).replace(words.NO_BREAK_SPACE, " ")


def picture(panel: Panel) -> str:
    return plain("".join(re.findall(r"<svg.*?</svg>", panel.result.value, re.DOTALL)))


def choose(panel: PlanPanel, what: str) -> None:
    panel.fields["what"].list.value = what


def step(panel: PlanPanel, field: str, weeks: int) -> None:
    dates = panel.fields[field]
    assert isinstance(dates, DateField)
    for _ in range(abs(weeks)):
        (dates.later if weeks > 0 else dates.earlier).click()


# --- dates -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2027-04-10", date(2027, 4, 10)),
        (" 10 April 2027 ", date(2027, 4, 10)),
        ("April 10, 2027", date(2027, 4, 10)),
        ("10 apr", date(2027, 4, 10)),
        ("Jan 3", date(2028, 1, 3)),
        ("29 February 2028", date(2028, 2, 29)),
    ],
)
def test_a_day_is_read_as_people_write_it(text: str, day: date):
    assert read_day(text, "x", date(2027, 9, 1), READER) == day


@pytest.mark.parametrize(
    "text", ["4/10/2027", "10.4.2027", "30 February 2027", "April", "10", "ju 3", "soon"]
)
def test_a_day_that_may_be_another_one_is_refused(text: str):
    with pytest.raises(InputError) as found:
        read_day(text, "x", date(2027, 9, 1), READER)
    assert found.value.problems[0].key == "problem-day-words"


def test_buttons_move_a_day_by_a_week_and_tell():
    told: list[date | None] = []
    field = DateField("x", date(2027, 3, 1), US, date(2027, 1, 1), earliest=date(2027, 2, 20))
    field.on_change(lambda: told.append(field.value))
    field.later.click()
    field.earlier.click()
    field.earlier.click()
    assert told == [date(2027, 3, 8), date(2027, 3, 1), date(2027, 2, 22)]
    assert field.box.value == "February 22, 2027"
    field.earlier.click()
    assert field.problem is not None
    assert field.value == date(2027, 2, 22)


def test_an_empty_day_is_none_where_it_may_be():
    field = DateField("x", date(2027, 3, 1), READER, date(2027, 1, 1), optional=True)
    field.box.value = ""
    assert field.value is None
    field.later.click()
    assert field.value == date(2027, 1, 8)
    strict = DateField("x", date(2027, 3, 1), READER, date(2027, 1, 1))
    strict.box.value = ""
    assert strict.problem is not None


# --- questions alone -------------------------------------------------------------------------------------


@pytest.mark.parametrize("make", ALONE, ids=lambda make: make.__module__.split(".")[-1])
def test_a_question_can_be_asked_without_a_garden(make: Callable[[], Panel]):
    made = make()
    assert 'role="status"' in made.result.value
    assert made.problems.value == ""
    assert "nan" not in plain(made.result.value).split()


@pytest.mark.parametrize("make", ALONE[:2], ids=lambda make: make.__module__.split(".")[-1])
def test_every_box_that_refuses_keeps_the_last_answer_and_says_so(make: Callable[[], Panel]):
    made = make()
    answer = made.result.value
    for field in made.fields.values():
        if field.widget.layout.display == "none" or not hasattr(field, "box"):
            continue
        old = field.box.value
        field.box.value = "five"
        assert made.result.value == answer
        assert "aq-old" in made.result._dom_classes
        field.box.value = old
        assert "aq-old" not in made.result._dom_classes


def test_the_sowing_panel_says_what_the_schedule_says(mine: Desk):
    made = when_to_sow.panel(mine)
    made.fields["crop"].list.value = "kale"
    made.fields["wished"].box.value = "15 Jan 2028"
    found = backward.for_harvest("kale", mine.garden, date(2028, 1, 15))
    assert found is not None
    text = plain(made.result.value)
    for day in (found.sow, found.plant, found.first_pick, found.last_pick):
        assert words.date(day, US) in text


def test_a_day_on_which_nothing_can_be_ready_gets_the_nearest(mine: Desk):
    made = when_to_sow.panel(mine)
    made.fields["wished"].box.value = "1 July 2027"
    assert "is not ready on that day" in plain(made.result.value)


def test_a_place_where_a_crop_never_gets_ready_says_so():
    made = when_to_sow.panel()
    made.fields["crop"].list.value = "okra"
    made.fields["lows"].boxes[0].value = "-2 -2 1 4 9 10 12 12 10 6 2 -1"
    made.fields["highs"].boxes[0].value = "4 4 6 8 11 13 15 15 12 9 6 4"
    assert "on no day of the year" in plain(made.result.value)


def test_a_low_above_its_high_is_said_with_its_month():
    made = when_to_sow.panel()
    made.fields["lows"].boxes[0].value = "-2 -2 1 4 9 12 60 14 10 6 2 -1"
    assert "July" in plain(made.problems.value)


def test_a_crop_that_stands_still_is_said_with_its_days():
    made = when_to_sow.panel()
    made.fields["crop"].list.value = "kale"
    made.fields["cover"].list.value = "open"
    made.fields["lows"].boxes[0].value = "-2 -2 1 4 9 12 14 14 10 6 2 -1"
    made.fields["highs"].boxes[0].value = "4 6 11 16 20 24 26 26 21 15 8 5"
    made.fields["wished"].box.value = "1 March 2027"
    batch = made.compute(made.values)[1]
    assert batch is not None
    said = "Too cold or too dark to grow" in plain(made.result.value)
    assert said == bool(batch.stands_still)
    assert said


def test_the_panel_of_sizes_says_what_the_batch_alone_does():
    made = when_of_size.panel()
    made.fields["stocked"].box.value = "2027-04-10"
    made.fields["mean"].box.value = "27"
    asked = alone.Question("nile_tilapia", 30.0, 20.0, date(2027, 4, 10), 450.0, np.full(12, 27.0))
    first = alone.grown(asked).first_d
    text = plain(made.result.value)
    for days in (first.low, first.middle, first.high):
        assert words.date(date(2027, 4, 10) + timedelta(days=int(float(days) + 0.5)), READER) in text


def test_fish_in_water_that_is_too_cold_never_get_there():
    made = when_of_size.panel()
    made.fields["mean"].box.value = "12"
    assert "within three years" in plain(made.result.value)


def test_a_day_tells_the_weight_on_it_and_one_before_they_come_is_refused():
    made = when_of_size.panel()
    made.fields["stocked"].box.value = "2027-04-10"
    made.fields["on"].box.value = "2027-04-10"
    assert "One fish weighs on 10 April 2027 20 g 20 g 20 g" in " ".join(plain(made.result.value).split())
    made.fields["on"].box.value = "2027-04-09"
    assert "2027-04-09 is outside" in plain(made.problems.value)


def test_monthly_water_is_asked_where_it_is_chosen():
    made = when_of_size.panel()
    made.fields["water"].list.value = when_of_size.MONTHLY
    assert made.fields["mean"].widget.layout.display == "none"
    warm = made.result.value
    made.fields["months"].boxes[0].value = "18 18 20 22 24 26 28 28 26 22 20 18"
    assert made.result.value != warm


def test_with_a_garden_its_first_batch_and_its_own_water_are_asked(mine: Desk):
    made = when_of_size.panel(mine)
    assert made.values["species"] == "channel_catfish"
    assert made.values["water"] == when_of_size.OWN
    assert when_of_size.water_c(mine.garden, made.values).shape[1] == 12


# --- the what-if -----------------------------------------------------------------------------------------


def test_a_week_later_moves_the_batch_in_the_picture(mine: Desk):
    made = plan_harvest.panel(mine)
    assert "stock Apr 10" in picture(made)
    step(made, "stocked", 1)
    assert "stock Apr 17" in picture(made)
    assert "In your garden file: spring catfish" in plain(made.result.value)
    assert mine.garden.fish[0].stocked == date(2027, 4, 10)


@pytest.mark.slow
def test_the_picture_is_that_of_one_middle_run(mine: Desk):
    made = plan_harvest.panel(mine)
    made.fields["count"].box.value = "20"
    run = plan.of_garden(mine.file.change("fish.0.count", 20).garden, members=1)
    weight = words.quantity(run.typical["fish.weight_g"][0][-1], "mass", US)
    assert weight.replace(words.NO_BREAK_SPACE, " ") in plain(made.result.value)
    assert "One middle run, without its band." in picture(made)


@pytest.mark.slow
def test_own_yield_losses_spacing_and_first_day_replace_the_tables():
    made = plan_harvest.panel(desk.open_desk("demo:yard/before"))
    choose(made, "crop.0")
    assert "table:" in made.fields["yield"].box.placeholder
    made.fields["yield"].box.value = "1 kg/m2"
    made.fields["plants"].box.value = "2"
    made.fields["loss"].box.value = "25"
    step(made, "first", 1)
    okra = made.draft.garden.crops[0]
    assert (okra.yield_kg_m2, okra.loss_pct) == (pytest.approx(1.0, rel=1e-3), pytest.approx(25.0))
    assert okra.plants_m2 == pytest.approx(2 * 10.7639, rel=1e-4)
    assert okra.first == date(2027, 5, 19)  # a week after the planned day
    assert len(made.before) == 4
    made.fields["yield"].box.value = ""
    assert made.draft.garden.crops[0].yield_kg_m2 is None


def test_only_what_concerns_the_chosen_batch_is_asked(mine: Desk):
    made = plan_harvest.panel(mine)

    def shown() -> set[str]:
        return {name for name, field in made.fields.items() if field.widget.layout.display != "none"}

    assert shown() == {"what", *plan_harvest.FISH}
    choose(made, "crop.1")
    assert shown() == {"what", *plan_harvest.CROP}
    assert made.before == []


@pytest.mark.slow
def test_changes_are_taken_back_one_by_one(mine: Desk):
    made = plan_harvest.panel(mine)
    first = made.result.value
    assert made.undo.disabled
    step(made, "stocked", 1)
    made.fields["count"].box.value = "30"
    made.take_back()
    assert made.draft.garden.fish[0].count == 40
    assert made.draft.garden.fish[0].stocked == date(2027, 4, 17)
    made.take_back()
    assert made.result.value == first
    assert made.fields["stocked"].value == date(2027, 4, 10)
    assert made.undo.disabled
    made.take_back()
    assert made.result.value == first


def test_what_does_not_fit_together_is_said_and_the_last_answer_stays(mine: Desk):
    made = plan_harvest.panel(mine)
    answer = made.result.value
    made.fields["final"].box.value = "1 oz"
    assert made.result.value == answer
    assert "below the weight at the start" in plain(made.problems.value)
    assert made.before == []


@pytest.mark.slow
def test_the_feed_axis_stays_and_grows_only_where_it_must(own: Desk):
    # So few fish that no season's feed is held to what the garden carries.
    path = own.file.path
    path.write_text(path.read_text("utf-8").replace("count = 40", "count = 8"), "utf-8")
    made = plan_harvest.panel(desk.open_desk(str(path.parent)))
    first = made.top
    made.fields["count"].box.value = "4"
    assert made.top == first
    made.fields["count"].box.value = "40"
    assert made.top > first
    grown = made.top
    made.fields["count"].box.value = "4"
    assert made.top == grown


def test_a_demo_garden_is_never_written(mine: Desk):
    made = plan_harvest.panel(mine)
    step(made, "stocked", 1)
    made.save()
    assert "is a demo garden and stays as it is" in plain(made.conflict.said.value)
    assert GardenFile.open("demo:yard/before").garden.fish[0].stocked == date(2027, 4, 10)


def test_without_a_garden_nothing_can_be_written():
    made = plan_harvest.panel()
    assert made.write not in [child for box in made.children for child in getattr(box, "children", ())]


def test_the_own_garden_is_written_by_the_button_only_and_the_notebook_follows(own: Desk):
    path = own.file.path
    before = path.read_text("utf-8")
    made = plan_harvest.panel(own)
    step(made, "stocked", 2)
    assert path.read_text("utf-8") == before
    seen: list[date] = []
    own.follow(lambda: seen.append(own.garden.fish[0].stocked))
    made.save()
    assert seen == [date(2027, 4, 24)]
    assert "stocked = 2027-04-24" in path.read_text("utf-8")
    assert "The change is not written yet" not in plain(made.result.value)
    made.take_back()
    assert made.draft.garden.fish[0].stocked == date(2027, 4, 17)
    made.save()
    assert "stocked = 2027-04-17" in path.read_text("utf-8")
    made.take_back()
    made.save()
    assert path.read_text("utf-8") == before


def test_a_file_that_someone_else_changed_is_left_alone(own: Desk):
    made = plan_harvest.panel(own)
    step(made, "stocked", 1)
    own.file.path.write_text(own.file.path.read_text("utf-8") + "\n# note\n", "utf-8")
    made.save()
    assert "changed by something else" in plain(made.conflict.said.value)
    assert "2027-04-10" in own.file.path.read_text("utf-8")
    made.conflict.button.click()
    assert made.draft.garden.fish[0].stocked == date(2027, 4, 17)
    made.save()
    assert "# note" in own.file.path.read_text("utf-8")
    assert "stocked = 2027-04-17" in own.file.path.read_text("utf-8")


@pytest.mark.slow
def test_panels_follow_a_garden_that_is_changed_elsewhere(mine: Desk):
    made = [plan_harvest.panel(mine), year_strip.panel(mine), sowing_list.panel(mine)]
    before = [panel.result.value for panel in made]
    step(made[0], "stocked", 1)
    mine.put(mine.file.changed({"crop.0": None, "fish.0.count": 12}))
    assert all(panel.result.value != old for panel, old in zip(made, before, strict=True))
    assert made[0].draft is mine.file
    assert made[0].before == []
    assert ("crop: Okra, north bed", "crop.0") not in made[0].fields["what"].list.options


@pytest.mark.slow
def test_the_band_is_shown_when_asked_for_and_gone_with_the_next_change(
    mine: Desk, monkeypatch: pytest.MonkeyPatch
):
    told: list[str] = []

    decided = season_runs.decided

    def few(garden: Garden, log: Log | None, members: int, progress: Callable[[float], None]) -> Decided:
        progress(0.5)
        told.append(made.band.line.value)
        return decided(garden, log, 8, progress)

    made = plan_harvest.panel(mine)
    with monkeypatch.context() as patched:
        patched.setattr(season_runs, "decided", few)
        made.band.pressed()
    assert "50" in told[0]
    assert "hold 8 of 10 tries" in picture(made)
    assert made.band.button.disabled
    assert made.band.line.value == ""
    step(made, "stocked", 1)
    assert "One middle run" in picture(made)
    assert not made.band.button.disabled


@pytest.mark.slow
def test_names_of_people_are_escaped(mine: Desk):
    mine.put(mine.file.changed({"fish.0.name": "<b>Tom's</b> & 'fish'", "name": "<i>x</i>"}))
    for made in (plan_harvest.panel(mine), year_strip.panel(mine), sowing_list.panel(mine)):
        assert "<b>Tom" not in made.result.value
        assert "<i>x" not in made.result.value


def test_a_garden_without_fish_and_crops_asks_for_nothing(mine: Desk):
    made = plan_harvest.panel(mine)
    bare = mine.file.changed({"crop.3": None}).changed({"crop.2": None}).changed({"crop.1": None})
    mine.put(bare.changed({"crop.0": None}))
    choose(made, "fish.0")
    assert "spring catfish" in plain(made.result.value)
    assert sowing_list.panel(mine).result.value


# --- lists -----------------------------------------------------------------------------------------------


def test_the_sowing_list_has_every_sowing_with_its_seeds_and_bed(mine: Desk):
    text = plain(season_answers.sowing_table(season_runs.middle(mine.garden)))
    assert "sow Okra, Apr 21 18 north bed" in text
    assert "plant Okra, May 12 8 north bed" in text


def test_weeks_of_the_sowing_list_begin_on_the_garden_day(mine: Desk):
    table = season_answers.sowing_table(season_runs.middle(mine.garden))
    weeks = re.findall(r'<th scope="row">([^<]+)</th>', table)
    days = [read_day(week, "x", date(2027, 6, 1), US) for week in weeks]
    assert {day.weekday() for day in days} == {5}
    assert days == sorted(set(days))


def test_what_to_act_on_stands_beneath_the_strip_most_urgent_first():
    garden = desk.open_desk("demo:southern").garden
    text = season_answers.warnings(season_runs.middle(garden))
    urgent = re.findall(r"<li>(emergency|act today)", text)
    assert urgent
    assert urgent == sorted(urgent, reverse=True)
    assert "to watch" in plain(text)


@pytest.mark.parametrize("kind", ["strip", "fish", "water"])
def test_the_year_can_be_seen_as_strip_as_fish_and_as_water(mine: Desk, kind: str):
    made = year_strip.panel(mine)
    made.fields["picture"].list.value = kind
    seen = {"strip": "north bed", "fish": "Mean weight of one fish", "water": "Nitrite, highest of the day"}
    assert seen[kind] in picture(made)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["yard", "greenhouse", "classroom", "southern"])
def test_every_panel_answers_for_every_demo_garden(name: str):
    shared = desk.open_desk(f"demo:{name}")
    rooms = (plan_harvest, year_strip, sowing_list, when_to_sow, when_of_size)
    for made in (room.panel(shared) for room in rooms):
        assert 'role="status"' in made.result.value
        assert made.problems.value == ""
        assert "nan" not in plain(made.result.value).split()


# --- the log ---------------------------------------------------------------------------------------------


@pytest.fixture
def logged(own: Desk) -> Callable[[str], Desk]:
    """The own garden with a log of the test's own beside it."""

    def opened(text: str) -> Desk:
        (own.file.path.parent / "log.csv").write_text(text, "utf-8")
        return desk.open_desk(str(own.file.path))

    return opened


@pytest.mark.slow
def test_panels_begin_the_season_with_the_log(logged: Callable[[str], Desk]):
    bare = desk.open_desk("demo:greenhouse")
    assert season_runs.middle(bare.garden, bare.log).run.daily["nitrate_mg_l"][0, 0] == 0.0
    mine = logged("date,nitrate (mg/L as N),alkalinity (mg/L CaCO3)\n2027-02-27,33,120\n")
    panel = year_strip.panel(mine)
    assert panel.band.season().run.daily["nitrate_mg_l"][0, 0] == pytest.approx(33.0)
    assert plan_harvest.panel(mine).band.season().run.daily["alkalinity_mg_l"][0, 0] == pytest.approx(120.0)
    assert "begins on March 1, 2027 with what was noted" in plain(panel.result.value)


def test_a_log_that_cannot_be_read_is_told_and_left_out(logged: Callable[[str], Desk]):
    mine = logged("pH,note\n7,no day anywhere\n")
    assert mine.log is None
    assert "The log could not be read" in plain(year_strip.panel(mine).result.value)
