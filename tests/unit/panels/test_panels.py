"""Each panel answers from its own numbers, follows the garden, keeps its answer while an entry is refused."""

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from aquacalc import words
from aquacalc.advice import build
from aquacalc.charts.canvas import WIDTHS
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import Away
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import NumberField
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.size import loop_volume, size, water_volume, wishes
from aquacalc.panels.start import convert, first_limit, loop
from aquacalc.panels.trouble import away, leak, power_cut
from aquacalc.panels.water import dose, kit_check, oxygen_in_water, top_up_water
from aquacalc.sizing import power_cut as cut
from aquacalc.sizing import vary
from aquacalc.sizing.balance import balance
from aquacalc.water import oxygen

ALONE: list[Callable[[], Panel]] = [
    power_cut.panel,
    oxygen_in_water.panel,
    water_volume.panel,
    loop_volume.panel,
    convert.panel,
    kit_check.panel,
    wishes.panel,
    dose.panel,
    top_up_water.panel,
]


@pytest.fixture
def mine() -> Desk:
    return desk.open_desk("demo:yard")


def plain(html: str) -> str:
    """The text that a reader sees, spaces made ordinary."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html)).replace(words.NO_BREAK_SPACE, " ")


@pytest.mark.parametrize("make", ALONE, ids=lambda make: make.__module__.split(".")[-1])
def test_a_question_can_be_asked_without_a_garden(make: Callable[[], Panel]):
    made = make()
    assert 'role="status"' in made.result.value
    assert made.problems.value == ""


@pytest.mark.parametrize("make", ALONE, ids=lambda make: make.__module__.split(".")[-1])
def test_every_box_that_refuses_keeps_the_last_answer_and_says_so(make: Callable[[], Panel]):
    made = make()
    answer = made.result.value
    shown = [field for field in made.fields.values() if field.widget.layout.display != "none"]
    boxes = [field for field in shown if hasattr(field, "box")]
    assert boxes
    for field in boxes:
        old = field.box.value
        field.box.value = "five"
        assert made.result.value == answer
        assert "aq-old" in made.result._dom_classes
        assert made.problems.value != ""
        field.box.value = old
        assert "aq-old" not in made.result._dom_classes
        assert made.problems.value == ""


def test_the_power_cut_panel_says_what_sizing_says():
    made = power_cut.panel()
    made.fields["kg"].box.value = "12,5 kg"
    asked = cut.Question("nile_tilapia", 12.5, 250.0, 1000.0, 26.0, 0.0, 8.0)
    expected = words.quantity(cut.alone(asked).response_h, "time", words.Reader())
    assert f"Act within {expected.replace(words.NO_BREAK_SPACE, ' ')}" in plain(made.result.value)


def test_the_power_cut_panel_begins_with_the_stock_of_the_balance(mine: Desk):
    made = power_cut.panel(mine)
    assert mine.balance.outage is not None
    assert made.values["kg"] == pytest.approx(1000.0 * mine.balance.outage.fish_kg)
    assert made.values["help"] == mine.garden.site.hours_until_help


def test_power_cut_and_leak_tell_the_time_of_the_balance_until_a_field_is_changed(mine: Desk):
    outage = mine.balance.outage
    assert outage is not None
    made, leaks = power_cut.panel(mine), leak.panel(mine)
    both = (float(outage.danger_h.low), float(outage.danger_h.high))
    same = power_cut.compute(mine, made.values)
    assert same.response_h == outage.response_h
    assert (float(same.danger_h.low), float(same.danger_h.high)) == pytest.approx(both)
    assert float(same.air_l_min.high) == pytest.approx(float(outage.air_l_min.high))
    assert leak._still_h(mine, leaks.values) == pytest.approx(both)
    for one in (made, leaks):
        one.fields["kg"].box.value = "99 kg"
    share = outage.fish_kg / 99.0
    changed = power_cut.compute(mine, made.values)
    assert float(changed.danger_h.low) == pytest.approx(share * both[0])  # the spread of the garden stays
    assert leak._still_h(mine, leaks.values) == pytest.approx((share * both[0], share * both[1]))


def test_an_absence_lasts_as_long_in_the_panel_as_in_the_findings(mine: Desk):
    away_long = replace(
        mine.garden,
        top_up=replace(mine.garden.top_up, float_valve=False),
        away=(Away(date(2027, 7, 1), date(2027, 12, 31), ""),),
    )
    (finding,) = [one for one in build.of_garden(away_long) if one.key == "finding-away-water"]
    lasts = next(one for one in finding.amounts if one.name == "lasts")
    own = Desk(replace(mine.file, garden=away_long))
    made = away.panel(own)
    found = away.compute(own, made.values)
    assert found.lasts_days == pytest.approx((lasts.low, lasts.high))
    made.fields["used"].box.value = "20 L"
    assert away.compute(own, made.values).loss_l_day == pytest.approx((17.0, 24.0))


def test_oxygen_at_altitude_and_a_reading_beside_it():
    made = oxygen_in_water.panel()
    made.fields["altitude"].box.value = "1500"
    made.fields["reading"].box.value = "4"
    held = oxygen.saturation_mg_l(24.0, 0.0, oxygen.pressure_atm(1500.0))
    text = plain(made.result.value)
    assert f"water holds {words.number(held)} mg/L" in text
    assert f"{100 * 4 / held:.0f} %" in text
    assert "act today" in text


def test_a_round_tank_asks_for_its_diameter_only():
    made = water_volume.panel()
    made.fields["shape"].list.value = "round"
    asked = {name for name, field in made.fields.items() if field.widget.layout.display != "none"}
    assert asked == {"shape", "diameter", "depth"}
    assert "701 L" in plain(made.result.value)


def test_a_hidden_box_that_was_refused_does_not_block_the_answer():
    made = water_volume.panel()
    made.fields["length"].box.value = "long"
    made.fields["shape"].list.value = "round"
    assert "701 L" in plain(made.result.value)
    assert made.problems.value == ""


def test_wishes_for_nothing_ask_for_a_wish():
    made = wishes.panel()
    made.fields["heads"].box.value = "0"
    made.fields["fish"].box.value = "0"
    assert "Wish for" in plain(made.result.value)


def test_fish_that_do_not_grow_at_this_temperature_are_said_so():
    made = wishes.panel()
    made.fields["water"].box.value = "12"
    assert "does not grow" in plain(made.result.value)


def test_with_a_garden_its_own_water_takes_the_place_of_a_mean(mine: Desk):
    made = wishes.panel(mine)
    assert made.fields["water"].widget.layout.display == "none"
    assert "The garden has" in plain(made.result.value)


def test_a_slider_of_the_size_panel_answers_with_the_balance_of_that_garden():
    mine = desk.open_desk("demo:yard/before")
    made = size.panel(mine)
    slider = made.fields["fish_count"].slider
    assert slider is not None
    slider.value = 20.0
    now = vary.knobs(mine.garden, mine.balance)
    after = balance(vary.turned(mine.garden, now, replace(now, fish_count=20.0), 0.0))
    assert after.binding is not None
    demand = words.quantity(after.binding.demand_g_day, "feed", mine.reader).replace(
        words.NO_BREAK_SPACE, " "
    )
    assert f"the fish want {demand}" in plain(made.result.value)
    pictures = re.findall(r"<svg.*?</svg>", made.result.value, re.DOTALL)
    assert words.number(after.binding.demand_g_day) in plain(pictures[0])
    assert len(pictures) == 2 * len(WIDTHS)


@pytest.mark.parametrize("name", ["fish_count", "final_weight_g", "bed_m2", "flow_l_h"])
def test_no_slider_ends_where_there_is_no_garden(mine: Desk, name: str):
    made = size.panel(mine)
    field = made.fields[name]
    assert isinstance(field, NumberField)
    assert field.slider is not None
    assert field.slider.min == field.low > 0.0
    before = made.result.value
    field.slider.value = field.slider.min
    assert made.result.value != before
    field.box.value = "0"
    assert field.problem is not None


def test_the_axis_of_the_size_panel_stays_while_sliders_move(mine: Desk):
    before = mine.balance
    tops = {
        size.compute(mine.garden, before, size.known(mine.garden, before) | {"fish_count": count}).top_g_day
        for count in (10.0, 40.0, 90.0)
    }
    assert len(tops) == 1


def test_the_garden_as_it_is_comes_back(mine: Desk):
    made = size.panel(mine)
    first = made.result.value
    made.fields["bed_m2"].box.value = "80"
    made.fields["backup"].list.value = size.NO
    assert made.result.value != first
    made.reset()
    assert made.result.value == first
    assert made.values == size.known(mine.garden, mine.balance)


def test_the_first_limit_can_be_asked_for_any_month():
    mine = desk.open_desk("demo:yard/before")
    made = first_limit.panel(mine)
    assert "First limit: oxygen" in plain(made.result.value)
    made.fields["month"].list.value = "5"
    assert "In May." in plain(made.result.value)


def test_panels_follow_the_garden(mine: Desk):
    panels = [loop.panel(mine), first_limit.panel(mine), size.panel(mine), power_cut.panel(mine)]
    before = [panel.result.value for panel in panels]
    mine.put(mine.file.change("fish.0.count", 8))
    assert all(panel.result.value != old for panel, old in zip(panels, before, strict=True))
    assert mine.take_back()
    assert [panel.result.value for panel in panels] == before


def test_the_name_of_a_garden_is_escaped(mine: Desk):
    mine.put(mine.file.change("name", '<b>Tom\'s</b> & "yard"'))
    assert "<b>Tom" not in loop.panel(mine).result.value


def test_an_input_error_of_the_calculation_is_shown_as_its_sentence_and_other_faults_are_loud():
    def refuse(values: object) -> object:
        raise InputError(Problem("problem-too-large", "the garden", "1e9"))

    made = Panel("trial", {}, refuse, str, words.Reader())
    assert "1e9 is too large" in plain(made.problems.value)

    def fail(values: object) -> object:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        Panel("trial", {}, fail, str, words.Reader())


def test_a_desk_without_a_garden_file_shows_the_demo(tmp_path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    assert desk.open_desk().file.read_only


def test_a_file_that_cannot_be_read_is_said_and_the_demo_shown(tmp_path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "garden.toml").write_text("format = 1\n[site]\nlatitude = 'north'\n")
    opened = desk.open_desk()
    assert opened.file.read_only
    assert opened.problems


@pytest.mark.slow
@pytest.mark.parametrize("name", ["yard", "greenhouse", "classroom", "southern"])
def test_every_panel_answers_for_every_demo_garden(name: str):
    shared = desk.open_desk(f"demo:{name}")
    rooms = (loop, first_limit, size, power_cut, oxygen_in_water, wishes, water_volume)
    for made in (room.panel(shared) for room in rooms):
        assert 'role="status"' in made.result.value
        assert made.problems.value == ""
        assert "nan" not in plain(made.result.value).split()


def test_where_no_widgets_are_known_the_answer_stands_instead(mine: Desk):
    made = size.panel(mine)
    bundle = made._repr_mimebundle_()
    assert bundle["text/html"] == made.result.value
    assert "aq-answer" in bundle["text/html"]
    assert "application/vnd.jupyter.widget-view+json" in bundle
