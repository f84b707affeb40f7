import re
from dataclasses import replace
from datetime import date
from itertools import pairwise

import plans
import pytest
import seasons

from aquacalc.garden.model import Kit, KitScale, Product
from aquacalc.judge import ammonia
from aquacalc.judge.levels import SEVERITY
from aquacalc.pages import kit, sheets, supplied
from aquacalc.pages.folder import water_page
from aquacalc.pages.wall import ammonia_table, cards, doses, emergency, records, routine
from aquacalc.sentences import days, rations, spoons
from aquacalc.words import NO_BREAK_SPACE, Reader

YARD = plans.of_yard()


def text(html: str) -> str:
    plain = re.sub(r"<[^>]+>", " ", html).replace(NO_BREAK_SPACE, " ")
    return re.sub(r"\s+", " ", plain).replace("&#x27;", "'").replace("&lt;", "<")


# --- the emergency card ----------------------------------------------------------------------------------


def test_the_large_figure_is_the_response_time_and_the_band_stands_beneath():
    outage = replace(YARD.balance.outage, response_h=0.65)
    plan = replace(YARD, balance=replace(YARD.balance, outage=outage))
    card = emergency.card(plan)
    assert '<div class="figure">39\u00a0minutes</div>' in card
    assert "count on half of the short end" in text(card)


def test_a_card_without_fish_names_no_time():
    plan = replace(YARD, balance=replace(YARD.balance, outage=None))
    card = emergency.card(plan)
    assert "figure" not in card
    assert "Scoop water" in text(card)


def test_the_card_decides_by_what_this_garden_has():
    battery = plans.changed(YARD, power=replace(YARD.garden.power, backup="battery air"))
    none = plans.changed(YARD, power=replace(YARD.garden.power, backup="none"))
    assert "Battery air on" in text(emergency.card(battery))
    assert "attery air" not in text(emergency.card(none)) + text(cards.holiday(none))
    for words_of in ("Main switch", "Water valve", "Treated water", "Our address"):
        assert words_of in text(emergency.card(none))


def test_in_a_school_the_sheets_say_what_is_for_adults_only():
    school = plans.changed(YARD, site=replace(YARD.garden.site, setting="school"))
    for page, mark in ((emergency.card, "Adults only: main switch"), (doses.page, "For adults only.")):
        assert mark in text(page(school))
        assert mark not in text(page(YARD))


def test_the_first_face_begins_with_people_and_every_trouble_has_its_three_steps():
    card = emergency.card(YARD)
    faces = card.split('<div class="face">')[1:]
    assert [face.count("First five minutes:") for face in faces] == [3, 5]
    assert card.count("Next hour:") == card.count("Don't:") == 8
    assert faces[0].index("People first") < faces[0].index("Power cut")
    assert card.count('class="blank"') == 9 + (YARD.garden.power.backup == "battery air")
    assert card.count('class="blank long"') == 1


def test_the_card_gives_the_grams_of_the_dechlorinator_on_the_shelf():
    # 7 g for each gram of chlorine, 3 mg/L in 100 L: 2.1 g.
    assert "Crystals: 2.1 g (½ spoon) for each 100 L" in text(emergency.card(YARD))
    assert "Get sodium thiosulfate" in text(emergency.card(plans.changed(YARD, products=())))


# --- the ammonia table -----------------------------------------------------------------------------------


def test_levels_never_get_better_with_more_ammonia_a_higher_ph_or_warmer_water():
    tan, ph = ammonia_table.tan_axis(KitScale("tan")), ammonia_table.ph_axis(KitScale("ph"))
    layers = [
        [[SEVERITY.index(level) for level in row] for row in ammonia_table.cells(YARD, tan, ph, water_c)]
        for water_c in (8.0, 18.0, 28.0)
    ]
    for cool, warm in pairwise(layers):
        assert all(
            a <= b for low, high in zip(cool, warm, strict=True) for a, b in zip(low, high, strict=True)
        )
    for layer in layers:
        assert all(row == sorted(row) for row in layer)
        assert all(list(column) == sorted(column) for column in zip(*layer, strict=True))
    assert layers[0][0][0] < layers[-1][-1][-1]


def test_at_the_end_of_a_kit_a_level_that_could_be_worse_is_not_known():
    tan = ammonia_table.Axis((0.2, 0.45), (0.2, 0.45), ends=True)
    ph = ammonia_table.ph_axis(plans.KIT.scale("ph"))
    found = ammonia_table.cells(YARD, tan, ph, 10.0)
    assert set(found[0]) == {"fine"}
    assert "not known" in found[-1]
    # A reading that is worth acting on stays so, though it may be worse still.
    whole = ammonia_table.cells(YARD, ammonia_table.tan_axis(plans.KIT.scale("tan")), ph, 29.0)
    assert set(whole[-1]) <= {"act today", "emergency"}


@pytest.mark.slow
def test_a_ph_past_the_kit_is_judged_as_the_season_expects_it():
    plan = plans.of_season("yard")
    assert plan.season is not None
    water_c = 18.0
    ph = ammonia_table.ph_axis(plans.KIT.scale("ph"))
    expected = ammonia_table.highest_ph(plan, water_c)
    assert expected > ph.shown[-1]
    tan = ammonia_table.Axis((1.2, 6.0), (1.2, 6.0), ends=False)
    found = ammonia_table.cells(plan, tan, ph.up_to(expected), water_c)
    assert found[1][-1] == ammonia.level(6.0, expected, water_c, plan.species) == "emergency"
    # pH and warmth change what a reading means.
    assert len(set(found[1])) > 1
    assert found != ammonia_table.cells(plan, tan, ph, 5.0)


def test_the_sheet_says_what_a_reading_past_the_kit_stands_for_and_never_dilutes_for_ph():
    page = text(ammonia_table.page(plans.of_season("yard")))
    assert "past the kit read as pH 8." in page
    assert "Ammonia past the kit: dilute" in page
    assert "change 25 % to 50 %" in page


def test_the_table_shows_the_steps_of_the_kit_and_what_they_are_as_n():
    page = text(ammonia_table.page(YARD))
    for step in ("0.3", "0.6", "1.2", "2.5", "6+"):
        assert f" {step} " in page
    # 2.5 mg/L as NH4 is 1.9 as N (14.007 / 18.038).
    assert " 1.9 " in page
    assert "pH 7.8+" in page


def test_without_a_kit_round_values_are_named_as_such_and_no_step_is_invented():
    page = text(ammonia_table.page(plans.of_calm()))
    assert "What the kit counts is not known" not in page
    assert "No kit is described" in page
    kits_of_no_basis = (Kit("Card", None, (KitScale("tan", "not known", (0.0, 7.7)),)),)
    page = text(ammonia_table.page(plans.changed(YARD, kits=kits_of_no_basis)))
    assert "What the kit counts is not known" in page
    assert "7.7" not in page


def test_long_kits_are_thinned_with_both_ends_kept():
    steps = tuple(round(6.0 + 0.2 * n, 1) for n in range(12))
    axis = ammonia_table.ph_axis(KitScale("ph", "not known", steps))
    assert len(axis.shown) == ammonia_table.MOST_COLUMNS
    assert (axis.shown[0], axis.shown[-1]) == (6.0, 8.2)


# --- tests and the kit -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "scale", "falling", "expected"),
    [
        (1.0, KitScale("tan", "N", (0.0, 0.6, 1.2, 2.5)), False, "1.2 N"),
        (0.3, KitScale("nitrite", "NO2", (0.0, 0.4, 1.0, 3.0)), False, "1 NO2 (0.3 as N)"),
        (5.0, KitScale("nitrite", "NO2", (0.0, 0.4, 1.0, 3.0)), False, "16 NO2 * (5 as N)"),
        (0.5, KitScale("tan", "NH4", (0.0, 0.4, 0.9, 2.0)), False, "0.9 NH4 (0.7 as N)"),
        (20.0, KitScale("alkalinity", "dkh", (), 1.0), True, "2 dKH"),
        (6.0, KitScale("ph", "not known", (5.8, 6.2, 6.6)), True, "5.8"),
        (0.3, KitScale("nitrite"), False, "0.3 mg/L as N"),
    ],
)
def test_a_limit_is_shown_as_the_kit_shows_it(value: float, scale: KitScale, falling: bool, expected: str):
    assert kit.limit(value, scale, Reader(), falling).replace(NO_BREAK_SPACE, " ") == expected


def test_the_newest_kit_that_measures_a_parameter_counts():
    old = Kit("Old", date(2025, 1, 1), (KitScale("tan", "NH3"), KitScale("ph", "not known", (6.0, 7.0))))
    new = Kit("New", date(2026, 1, 1), (KitScale("tan", "N"),))
    garden = replace(YARD.garden, kits=(new, old))
    assert kit.scale_of(garden, "tan").basis == "N"
    assert kit.scale_of(garden, "ph").steps == (6.0, 7.0)


def test_the_routine_names_every_reading_and_marks_what_lies_past_the_kit():
    page = text(routine.page(YARD))
    for name in (
        "ammonia (TAN)",
        "nitrite",
        "nitrate",
        "pH",
        "alkalinity (KH)",
        "oxygen",
        "water temperature",
    ):
        assert name in page
    assert "* past the end of this kit" in page
    assert "past the end" not in text(routine.page(plans.of_calm()))


# --- doses -----------------------------------------------------------------------------------------------


def test_a_step_of_bicarbonate_is_the_equivalent_weight_in_the_whole_water():
    line = next(line for line in doses.lines(YARD) if line.product.chemical == "potassium_bicarbonate")
    # A drop of the kit is 1 dKH, 17.85 mg/L; at what the yard keeps at least, over 20 mg/L, it lifts pH by
    # less than 0.3. An equivalent is 50.04 mg/L in a litre and weighs 100.11 g.
    assert line.step == pytest.approx(17.848, rel=1e-3)
    assert line.step_g == pytest.approx(line.step / 50.043 * 100.114 * YARD.litres.whole / 1000.0, rel=1e-3)
    assert line.step_g < line.day_g
    assert "dKH" in doses.what(YARD, line)


@pytest.mark.parametrize(
    "chemical", ["potassium_bicarbonate", "thiosulfate_pentahydrate", "potassium_chloride"]
)
def test_half_the_strength_asks_for_twice_the_grams(chemical: str):
    full, half = (
        doses.lines(plans.changed(YARD, products=(Product("Bag", chemical, strength),)))[0]
        for strength in (100.0, 50.0)
    )
    assert half.step_g == pytest.approx(2.0 * full.step_g, rel=1e-9)
    assert half.day_g == pytest.approx(2.0 * full.day_g, rel=1e-6, nan_ok=True)


def test_iron_is_counted_by_the_label_and_salt_by_its_chloride():
    lines = {line.product.chemical: line for line in doses.lines(YARD)}
    cubic_metres = YARD.litres.whole / 1000.0
    assert lines["fe_dtpa"].step_g == pytest.approx(cubic_metres / 0.11, rel=1e-6)
    assert lines["fe_dtpa"].day_g == pytest.approx(2.0 * cubic_metres / 0.11, rel=1e-6)
    # 1 mg/L as NO2 is 0.3045 as N; twenty times that of chloride, which is 60.66 % of the salt.
    assert lines["sodium_chloride"].step_g == pytest.approx(20 * 0.30446 / 0.6066 * cubic_metres, rel=1e-3)


def test_a_chelate_of_full_strength_holds_the_iron_of_the_pure_one():
    plan = plans.changed(YARD, products=(Product("Iron", "fe_dtpa", 100.0),))
    assert doses.lines(plan)[0].step_g == pytest.approx(YARD.litres.whole / 1000.0 / 0.11, rel=1e-6)


def test_the_most_of_a_hydroxide_for_a_day_is_far_below_that_of_a_bicarbonate():
    lines = {line.product.chemical: line for line in doses.lines(YARD)}
    assert lines["calcium_hydroxide"].day_g < 0.2 * lines["potassium_bicarbonate"].day_g
    assert lines["calcium_hydroxide"].day_g > 0.0


def test_acids_are_left_out_and_named():
    page = text(doses.page(YARD))
    assert "Muriatic: not for the loop" in page
    assert "adults only, goggles and gloves" in page


def test_a_school_has_only_what_does_not_burn():
    school = plans.changed(YARD, site=replace(YARD.garden.site, setting="school"))
    assert "calcium_hydroxide" not in {line.product.chemical for line in doses.lines(school)}
    page = text(doses.page(school))
    assert "Lime and Muriatic: not in this table. In a school only carbonates and bicarbonates" in page


def test_a_step_is_never_more_than_a_day_takes():
    for name in seasons.DEMOS:
        for line in doses.lines(plans.of_season(name)):
            assert not line.step_g > line.day_g


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_all_that_other_sheets_send_here_for_stands_in_the_table(garden: str):
    plan = plans.of_season(garden)
    assert plan.agenda is not None
    held = {line.product.chemical: line for line in doses.lines(plan)}
    new = plan.garden.start_up.state == "new"
    for one in plan.agenda.supplies:
        # A new filter is fed by its own start-up sheets.
        assert one.product.chemical in held or (new and one.kind == "filter_food")
    # The emergency card sends here for chloride against nitrite.
    assert any(line.kind == "chloride" for line in held.values())
    for line in held.values():
        assert line.to_buy is (line.product.chemical not in {one.chemical for one in plan.garden.products})


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_base_a_week_is_one_amount_on_every_sheet(garden: str):
    plan = plans.of_season(garden)
    assert plan.agenda is not None
    water = text(water_page.page(plan))
    for one in plan.agenda.supplies:
        if one.kind == "base":
            amount = supplied.in_week(plan, one).replace("\u00a0", " ")
            assert amount in water
            assert amount in text(doses.page(plan)) or not plan.garden.products


def test_a_shelf_without_products_says_what_to_write_down():
    assert "No product is described" in text(doses.page(plans.changed(YARD, products=())))


@pytest.mark.parametrize("plan", [YARD, plans.of_yard("us")], ids=["metric", "us"])
def test_no_sheet_orders_a_chemical_by_date(plan):
    page = text(doses.page(plan))
    assert "each portion only after a new test" in page
    assert "Void if the layout changed" in page
    months = "January February March April May June July August September October November December"
    body = page.split("layout changes")[1]
    assert not [month for month in months.split() if re.search(rf"\b{month}\b", body)]


def test_spoons_are_left_out_where_nobody_counts_them_right():
    assert spoons.level(100.0, 5.0) == ""
    assert spoons.level(8.75, 5.0) == "1¾"
    assert spoons.level(1.25, 5.0) == "¼"


# --- the other cards and sheets --------------------------------------------------------------------------


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_the_sitter_is_told_who_when_and_how_much(garden: str):
    plan = plans.of_season(garden)
    page = text(cards.holiday(plan))
    assert plan.agenda is not None
    for visit in plan.agenda.visits:
        when = days.span(visit.start, visit.end, plan.reader).replace("\u00a0", " ")
        assert f"Away {when}. Visits: {visit.who}" in page
        for line in rations.bags(visit, len(plan.garden.fish) > 1, plan.reader):
            assert line.replace("\u00a0", " ") in page
    assert "If in doubt, don't feed." in page


def test_a_bag_is_the_ration_of_its_days():
    plan = plans.of_season("yard")
    assert plan.agenda is not None
    (visit,) = plan.agenda.visits
    assert [(one.first, one.last) for one in visit.bags] == [(visit.start, visit.end)]
    assert visit.bags[0] == plan.agenda.on(visit.start)[0]


def test_without_a_season_whoever_goes_away_weighs_the_bags():
    assert "Bags: ______ g each" in text(cards.holiday(YARD))


def test_the_sitter_treats_what_comes_while_the_barrel_may_be_dry():
    plan = plans.of_season("southern")
    assert plan.agenda is not None
    assert plan.agenda.dry_times
    page = text(cards.holiday(plan))
    assert "The rain barrel may be dry 12 Dec to" in page
    assert "Never straight from the tap." in page
    crystals = Product("Crystals", "thiosulfate_pentahydrate", 100.0)
    treated = text(cards.holiday(plans.changed(plan, products=(crystals,))))
    # 4 mg/L, the most that is usual, in a bucket of 10 L.
    assert "For each 10 L bucket first Crystals, 0.28 g" in treated
    assert "may be dry" not in text(cards.holiday(plans.of_season("yard")))


def test_a_dose_too_small_to_weigh_is_given_from_a_bottle():
    weak = replace(YARD.garden.top_up, chlorine_max_mg_l=0.5)
    # 0.35 g of thiosulfate for 100 L; a bucket of 10 L takes a tenth of the bottle.
    assert "dissolve Crystals, 0.35 g, in a 1 L bottle. Into each 10 L bucket first 100 mL" in text(
        cards.holiday(plans.changed(YARD, top_up=weak))
    )


def test_the_sitter_gets_the_dose_of_one_bucket():
    # 7 g for each gram of chlorine, 3 mg/L in 10 L.
    assert "first Crystals, 0.21 g" in text(cards.holiday(YARD))
    assert "barrel of treated water" in text(cards.holiday(plans.changed(YARD, products=())))
    plain = replace(YARD.garden.top_up, disinfectant="none")
    assert "Never straight from the tap" not in text(cards.holiday(plans.changed(YARD, top_up=plain)))


def test_the_hygiene_card_gives_no_clearance_and_names_what_this_garden_asks_for():
    page = text(cards.hygiene(YARD))
    assert "gives no clearance" in page
    assert "Channel catfish" in page
    assert "63 °C" in page
    assert "145 °F" in text(cards.hygiene(plans.of_yard("us")))


def test_sheets_to_write_on_have_their_lines_and_units():
    ticks, weekly = records.tick_sheet(YARD), records.weekly_sheet(YARD)
    assert ticks.count("<tr>") == 1 + records.DAYS
    assert "as NH4" in weekly
    assert "as NO2" in weekly
    assert "dKH" in weekly
    assert "as ____" in records.weekly_sheet(plans.changed(YARD, kits=()))


@pytest.mark.parametrize("name", [name for name in sheets.WALL if name not in ("months", "start_up")])
def test_every_sheet_says_whose_it_is_when_it_was_made_and_when_to_make_it_again(name: str):
    page = text(sheets.wall(YARD, name))
    assert "Test yard · made 20 February 2027 · version" in page
    assert "make again when stock, feed, kit or layout changes" in page
