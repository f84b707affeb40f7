"""The panels of the notebook that builds the loop."""

import re
import shutil
from pathlib import Path

import pytest

from aquacalc import words
from aquacalc.garden import places
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.loop import air, battery, branches, energy, flood, gravity, heat, pump, sump, weight
from aquacalc.panels.trouble import power_cut
from aquacalc.sizing import delivery, levels
from aquacalc.sizing.balance import balance


@pytest.fixture
def mine(tmp_path: Path) -> Desk:
    """A garden that may be written: the class-room without its log."""
    shutil.copy(places.demo("classroom") / "garden.toml", tmp_path / "garden.toml")
    return desk.open_desk(str(tmp_path))


def plain(panel: Panel) -> str:
    text = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", panel.result.value))
    return text.replace(words.NO_BREAK_SPACE, " ")


def shown(panel: Panel) -> set[str]:
    return {name for name, field in panel.fields.items() if field.widget.layout.display != "none"}


# --- the pump ----------------------------------------------------------------------------------------------


def test_the_box_gives_a_range_and_the_pump_to_look_for():
    text = plain(pump.panel())
    assert "1100 to 1500 L/h come round" in text
    assert "look for a pump whose table holds 1800 L/h at 1.7 m" in text


def test_each_way_asks_its_own_numbers():
    made = pump.panel()
    made.fields["way"].list.value = "bucket"
    assert shown(made) == {"way", "bucket", "fills", "share_on", "tanks", "loop"}
    made.fields["way"].list.value = "table"
    assert "points" in shown(made)
    assert "flow" not in shown(made)
    made.fields["against"].list.value = "total"
    assert "total" in shown(made)
    assert "bore" not in shown(made)


def test_a_table_typed_in_any_unit_and_the_row_that_cannot_be():
    made = pump.panel()
    made.fields["way"].list.value = "table"
    made.fields["points"].box.value = "0; 3 m\n1000; 260 cm\n2 m3/h; 1,8\n3000; 0.6"
    assert made.refused == ()
    assert [flow for flow, _ in made.values["points"]] == pytest.approx([0, 1000, 2000, 3000])
    assert [head for _, head in made.values["points"]] == pytest.approx([3.0, 2.6, 1.8, 0.6])
    made.fields["points"].box.value = "0; 3\n1000; 2\n900; 1"
    assert "the flow of row 3, 900 L/h" in made.problems.value.replace(words.NO_BREAK_SPACE, " ")
    made.fields["points"].box.value = "0; 3\n1000"
    assert "has not one cell for each" in made.fields["points"].sentence.value


def test_a_pump_that_cannot_reach_is_an_answer():
    made = pump.panel()
    made.fields["lift"].box.value = "3.5 m"
    assert made.problems.value == ""
    assert "No flow: the pump does not reach 3.5 m" in plain(made)


def test_the_middle_fill_of_a_bucket_counts():
    made = pump.panel()
    made.fields["way"].list.value = "bucket"
    made.fields["fills"].box.value = "20\n40\n25"
    assert made.found.out.new_l_h == pytest.approx(3600.0 * 10.0 / 25.0)


def test_a_bucket_written_down_is_what_the_balance_counts_with(mine: Desk):
    made = pump.panel(mine)
    before = balance(mine.garden, 20)
    made.fields["way"].list.value = "bucket"
    made.save()
    assert mine.garden.last_measured("flow").value == pytest.approx(1500.0)
    after = balance(mine.garden, 20)
    assert after.measured_flow
    assert float(after.flow_l_h.middle) == pytest.approx(1500.0, rel=0.01)
    assert not before.measured_flow
    made.take_back()
    assert mine.garden.last_measured("flow") is None


def test_a_table_written_down_goes_before_the_box_and_can_be_taken_back(mine: Desk):
    made = pump.panel(mine)
    made.fields["way"].list.value = "table"
    made.fields["points"].box.value = "0; 4\n2000; 3\n4000; 1"
    made.save()
    assert mine.garden.pumps[0].curve == ((0.0, 4.0), (2000.0, 3.0), (4000.0, 1.0))
    assert float(balance(mine.garden, 20).flow_l_h.middle) < 4000.0
    assert desk.open_desk(str(mine.file.path)).garden.pumps[0].curve == mine.garden.pumps[0].curve
    made.take_back()
    assert mine.garden.pumps[0].curve == ()


def test_a_demo_garden_is_not_written():
    made = pump.panel(desk.open_desk("demo:yard"))
    assert made.write.layout.display == "none"
    assert "A demo garden stays as it is" in made.said.value


# --- branches ----------------------------------------------------------------------------------------------


def test_the_higher_bed_on_the_longer_pipe_gets_less():
    text = plain(branches.panel())
    assert "bed 2 gets 450 L/h, bed 1 930 L/h" in text
    assert "Close the valve of bed 1 a little" in text


def test_a_bed_out_of_reach_gets_nothing_and_a_name_is_escaped():
    made = branches.panel()
    made.fields["branches"].box.value = "<b>low</b>; 1.2; 2; 20; 2\nhigh; 3.2; 2; 20; 2"
    assert "<b>low</b>" not in made.result.value
    assert "high gets 0 L/h" in plain(made)


# --- gravity -----------------------------------------------------------------------------------------------


def test_an_outlet_that_fits_and_one_that_does_not():
    made = gravity.panel()
    assert "The outlet takes it" in plain(made)
    made.fields["bore"].box.value = "25"
    assert "too small" in plain(made)
    assert "put one of the same size a little higher" in plain(made)


def test_a_tank_with_room_for_all_that_can_be_pumped_does_not_spill():
    made = gravity.panel()
    assert "spills after 2.2 minutes" in plain(made)
    made.fields["freeboard"].box.value = "20 cm"
    assert "still holds all that the pump can draw" in plain(made)


# --- the sump ----------------------------------------------------------------------------------------------


def test_the_worked_sump_runs_over_and_taking_turns_mends_it():
    made = sump.panel()
    assert "runs over when the pump stops" in plain(made)
    assert "Flood the beds in turn" in plain(made)
    made.fields["turn"].list.value = "turn"
    made.fields["rim"].box.value = "330 L"
    assert "takes what drains back" in plain(made)


def test_a_pump_that_would_run_dry_is_told():
    made = sump.panel()
    made.fields["rim"].box.value = "900 L"
    made.fields["losses"].box.value = "100 L"
    assert "runs dry before the next top-up" in plain(made)


def test_the_drawing_is_to_scale():
    found = sump.panel().found
    shown = sump.picture(words.Reader(), found)
    heights = [float(y) for y in re.findall(r'y2="(\d+\.\d)" stroke="#1a1a1a" stroke-width="1.4"', shown)]
    # Of the sump, the last vessel, running and stopped levels stand apart as their depths do.
    running, stopped = heights[-5], heights[-4]
    tall = found.depth_m(found.levels.stopped_l) - found.depth_m(found.sump.running_l)
    top_m = found.tank_brim_m
    assert running - stopped == pytest.approx(tall / top_m * 330.0, abs=0.3)


def test_the_panel_and_the_finding_count_the_same_water_back():
    garden = desk.open_desk("demo:greenhouse").garden
    back = sump.panel(desk.open_desk("demo:greenhouse")).found.sump.drains_l
    assert back == pytest.approx(levels.drains_l(garden))


def test_the_sump_is_written_and_taken_back(mine: Desk):
    made = sump.panel(mine)
    before = mine.garden.sump
    made.fields["rim"].box.value = "200 L"
    made.save()
    assert mine.garden.sump.rim_l == pytest.approx(200.0)
    made.take_back()
    assert mine.garden.sump == before


# --- flood and drain ---------------------------------------------------------------------------------------


def test_a_trickle_never_starts_and_a_torrent_never_stops():
    made = flood.panel()
    made.fields["inflow"].box.value = "100"
    assert "The siphon hardly starts" in plain(made)
    made.fields["inflow"].box.value = "1900"
    assert "The siphon hardly stops" in plain(made)


def test_a_hole_that_passes_all_of_it_never_fills():
    made = flood.panel()
    made.fields["way"].list.value = "timer"
    made.fields["hole"].box.value = "20"
    assert "The bed never fills" in plain(made)
    assert "lets more through than runs in" in plain(made)


def test_beds_in_turn_ask_less_of_the_sump():
    made = flood.panel()
    swing = {}
    for one in ("together", "turn"):
        made.fields["arranged"].list.value = one
        water = made.found.cycle.sump_l
        swing[one] = float(water.max() - water.min())
    assert swing["turn"] < 0.7 * swing["together"]


# --- the power cut -----------------------------------------------------------------------------------------


def test_the_panel_says_what_the_balance_says_until_the_moment_is_known():
    mine = desk.open_desk("demo:yard")
    made = power_cut.panel(mine)
    response = words.quantity(mine.balance.outage.response_h, "time", mine.reader)
    assert f"Act within {response}" in made.result.value
    assert shown(made) >= {"known", "off", "fed"}
    assert "oxygen" not in shown(made)
    made.fields["known"].list.value = "mg"
    made.fields["oxygen"].box.value = "3.1"
    assert "oxygen" in shown(made)
    assert "off" not in shown(made)
    assert response not in made.now.children[0].value
    assert "From now on" in plain(made)


def test_oxygen_in_percent_is_that_of_this_water():
    made = power_cut.panel()
    saturation = made.compute(made.values).outage.reserve.saturation_mg_l
    found = made.compute(made.values | {"known": "pct", "oxygen": 50.0})
    assert found.now.oxygen_mg_l == pytest.approx(0.5 * saturation)


def test_a_cut_that_began_long_ago_says_act_now():
    made = power_cut.panel()
    made.fields["off"].box.value = "12 h"
    assert "Act now" in plain(made)
    assert "no oxygen and may smell of rotten eggs" in plain(made)


def test_a_battery_without_an_inverter_lasts_longer_and_a_tested_one_is_known():
    made = battery.panel()
    with_inverter = float(made.compute(made.values).hours.middle)
    direct = made.compute(made.values | {"between": "none"})
    assert float(direct.hours.middle) > with_inverter
    tested = made.compute(made.values | {"between": "none", "left": 0.8})
    assert float(tested.hours.low) == pytest.approx(12.0 * 60.0 * 0.5 * 0.8 / 20.0)


# --- energy and weight -------------------------------------------------------------------------------------


def test_a_pump_and_an_air_pump_by_the_month_and_their_price():
    made = energy.panel()
    assert made.compute(made.values).month_kwh == pytest.approx(60.0 * 0.73)
    made.fields["price"].box.value = "0,30"
    assert "13.1" in plain(made)
    made.fields["devices"].box.value = "fan; 2 kW; 30 min"
    assert made.compute(made.values).month_kwh == pytest.approx(2000.0 * 0.5 / 24.0 * 0.73)


def test_all_that_draws_power_in_a_garden_is_there():
    mine = desk.open_desk("demo:greenhouse")
    made = energy.panel(mine)
    assert [row[0] for row in made.values["devices"]] == ["main pump", "air pump", "lamps", "door fan"]


def test_a_cube_of_water_is_over_and_what_is_not_over_is_asked_of_an_engineer():
    made = weight.panel()
    assert "Over: 8.7 kPa" in plain(made)
    made.fields["water"].box.value = "50 L"
    assert "Ask an engineer" in plain(made)
    assert "hold" not in plain(made)


# --- what they rest on -------------------------------------------------------------------------------------


def test_a_table_that_ends_too_early_is_read_no_further():
    points = ((0.0, 3.0), (500.0, 2.9), (1000.0, 2.7))
    out = delivery.delivered(delivery.Pumped(0.0, 0.0, 0.5, points))
    assert out.end == "beyond"
    assert out.new_l_h == pytest.approx(1000.0)


# --- air ---------------------------------------------------------------------------------------------------


def test_the_worst_day_names_its_hour_and_a_pump():
    text = plain(air.panel())
    assert "The oxygen falls too low: about 20:00" in text
    assert "on its box holds the line all day" in text
    assert "What to do: today less feed" in text


def test_more_air_on_the_slider_lifts_the_curve():
    made = air.panel()
    made.fields["air"].box.value = "200 L/min"
    assert "The oxygen holds" in plain(made)
    made.fields["air"].box.value = "0"
    made.fields["feed"].box.value = "0"
    made.fields["kg"].box.value = "1 kg"
    assert "hold the line without an air pump" in plain(made)


def test_trout_in_hot_thin_air_get_no_pump():
    made = air.panel()
    made.fields["species"].list.value = "rainbow_trout"
    made.fields["water"].box.value = "93 F"
    made.fields["altitude"].box.value = "3000 m"
    assert "No air pump of ordinary air holds" in plain(made)


def test_the_garden_shows_each_month_with_fish(mine: Desk):
    text = plain(air.panel(mine))
    assert "The worst day of each month in this garden" in text
    assert "August" in text


def test_a_depth_that_cannot_be_is_refused_in_a_sentence():
    made = air.panel()
    made.fields["depth"].box.value = "60 m"
    assert made.fields["depth"].problem is not None
    assert made.refused


# --- heat --------------------------------------------------------------------------------------------------


def test_three_ways_stand_side_by_side_with_money_and_what_they_cost():
    made = heat.panel()
    made.fields["price"].box.value = "0.3"
    made.fields["boards"].box.value = "120"
    text = plain(made)
    assert "To hold 22 °C takes" in text
    assert "with a lid and 50 mm on lid, walls and floor" in text
    assert "the same, and beds rest at night" in text
    assert "after 0" in text
    assert "price not typed" in text


def test_without_a_wish_the_water_of_the_coldest_month():
    made = heat.panel()
    made.fields["setpoint"].box.value = ""
    assert "Without a heater the water of January is" in plain(made)


def test_warm_air_needs_no_heater_and_a_depth_that_cannot_be_is_refused():
    made = heat.panel()
    made.fields["cold"].box.value = "30"
    made.fields["warm"].box.value = "95 F"
    made.fields["cover"].list.value = "open"
    assert "by itself all year" in plain(made)
    made.fields["depth"].box.value = "30 m"
    assert made.refused


def test_the_heater_of_a_garden_runs_as_long_as_its_year_asks(mine: Desk):
    mine.write({"heat.heater": "300 W", "heat.setpoint": "24 C"})
    hours = {name: one for name, _, one in energy.known(mine)["devices"]}
    assert 0.0 < hours["heater, mean of a usual year"] <= 24.0
    assert "To hold 24 °C" in plain(heat.panel(mine))
