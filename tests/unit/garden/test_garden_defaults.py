"""What a file leaves out becomes a stated default; what it says is never touched by one."""

import math
from datetime import date
from pathlib import Path

import pytest
from small_garden import TEXT, replaced, with_line

from aquacalc import tables, units
from aquacalc.garden import aimed, litres
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden, MonthDay, Targets

TODAY = date(2027, 3, 5)


def garden(text: str, folder: Path) -> Garden:
    (folder / "garden.toml").write_text(text, "utf-8")
    return GardenFile.open(folder, TODAY).garden


def assumed(of: Garden) -> dict[str, tuple[str, str, str]]:
    return {one.key: (one.value, one.unit, one.reason) for one in of.assumed}


def test_rain_without_a_word_on_chlorine_is_no_cautious_choice(tmp_path: Path):
    told = assumed(garden(TEXT + '[top_up]\nsource = "rain"\n', tmp_path))
    assert told["top_up disinfectant"] == ("none", "", "assumed-no-disinfectant")
    assert told["top_up chlorine_max"] == ("0", "mg/L", "assumed-no-disinfectant")


def test_every_gap_of_the_small_garden_is_told(tmp_path: Path):
    told = assumed(garden(TEXT, tmp_path))
    assert told["season start"] == ("2027-03-01", "", "assumed-this-month")
    assert told["site until_help"] == ("10", "h", "assumed-help")
    assert told["tank 1 surface"] == ("1.25", "m2", "assumed-reckoned")
    assert told["bed 1 medium"] == ("gravel", "", "assumed-cautious")
    assert told["bed 1 drain"] == ("siphon", "", "assumed-default")
    assert told["pump 1 flow"] == ("2e+03", "L/h", "assumed-default")
    assert told["feed 1 protein"] == ("0.34", "", "assumed-table")
    assert told["fish 1 final_weight"] == ("500", "g", "assumed-table")
    assert told["crop 1 area"] == ("2", "m2", "assumed-rest")
    assert told["top_up chlorine_max"] == ("4", "mg/L", "assumed-cautious")
    assert told["targets ph"] == ("7", "", "assumed-target")
    for absent in ("sump", "solids_filter", "biofilter", "air", "heat", "light", "rain"):
        assert told[absent] == ("none", "", "assumed-absent")


@pytest.mark.parametrize(
    ("text", "key"),
    [
        (with_line("site", 'until_help = "2 h"'), "site until_help"),
        (with_line("site", 'setting = "school"'), "site setting"),
        (with_line("site", "children = false"), "site children"),
        (with_line("tank", 'surface = "1.3 m2"'), "tank 1 surface"),
        (with_line("bed", 'medium = "tuff"'), "bed 1 medium"),
        (with_line("bed", 'drain = "constant"'), "bed 1 drain"),
        (with_line("fish", 'final_weight = "450 g"'), "fish 1 final_weight"),
        (with_line("fish", "eaten = false"), "fish 1 eaten"),
        (with_line("crop", 'area = "1 m2"'), "crop 1 area"),
        (TEXT + '\n[air]\nflow = "20 L/min"\n', "air"),
        (TEXT + "\n[[feed]]\nprotein_pct = 32\n", "feed 1 protein"),
        (TEXT + "\n[[feed]]\nprotein_pct = 32\nspoon_g = 4\n", "feed 1 spoon"),
        (TEXT + '\n[sump]\nvolume = "200 L"\n', "sump"),
        (TEXT + "\n[season]\nstart = 2027-06-01\n", "season start"),
        (TEXT + '\n[power]\nbackup = "none"\n', "power backup"),
        (TEXT + '\n[[measured]]\nwhat = "ph"\nvalue = 6.8\n', "targets ph"),
        (TEXT + '\n[top_up]\ndisinfectant = "none"\n', "top_up disinfectant"),
        (TEXT + '\n[start_up]\nstate = "new"\n', "start_up state"),
    ],
)
def test_what_is_given_is_not_assumed(text: str, key: str, tmp_path: Path):
    assert key in assumed(garden(TEXT, tmp_path))
    assert key not in assumed(garden(text, tmp_path))


def test_every_assumption_has_a_listed_source_and_a_unit_that_is_one(tmp_path: Path):
    sources = tables.load("sources").keys()
    labels = {one.label for kind in units.kinds() for one in units.of_kind(kind)}
    for one in garden(TEXT, tmp_path).assumed:
        assert one.source in sources
        assert one.unit in labels


MEASURED = '\n[[measured]]\nwhat = "{}"\nvalue = "{}"\nday = {}\n'


@pytest.mark.parametrize(
    ("what", "older", "newer", "field", "expected"),
    [
        ("ph", "7.9", "6,8", "ph", 6.8),
        ("oxygen", "3 mg/L", "7.2 mg/L", "oxygen_mg_l", 7.2),
        ("alkalinity", "9 dKH", "4 dKH", "alkalinity_mg_l", 71.392),
    ],
)
def test_the_newest_measurement_is_the_target(
    what: str, older: str, newer: str, field: str, expected: float, tmp_path: Path
):
    text = TEXT + MEASURED.format(what, newer, "2027-02-01") + MEASURED.format(what, older, "2027-01-01")
    assert getattr(garden(text, tmp_path).targets, field) == pytest.approx(expected, rel=1e-4)


def test_units_of_the_file_become_base_units(tmp_path: Path):
    text = (
        TEXT
        + """
[power]
battery_charge = "100 Ah"
battery_voltage = "12 V"
[top_up]
nitrate = "44.3 mg/L"
nitrate_basis = "NO3"
[heat]
insulation = "2 in"
[[product]]
name = "p"
chemical = "Potassium bicarbonate"
strength_pct = 99
spoon = "1/4 oz"
"""
    )
    made = garden(text, tmp_path)
    assert made.power.battery_wh == 1200.0
    assert made.top_up.nitrate_n_mg_l == pytest.approx(10.0, rel=1e-3)
    assert made.heat.insulation_mm == pytest.approx(50.8)
    assert made.products[0].chemical == "potassium_bicarbonate"
    assert made.products[0].strength_pct == 99.0
    assert made.products[0].spoon_g == pytest.approx(7.087, rel=1e-3)


def test_the_growers_own_numbers_of_a_crop(tmp_path: Path):
    plain = garden(TEXT, tmp_path).crops[0]
    assert (plain.first, plain.yield_kg_m2, plain.loss_pct, plain.plants_m2) == (None, None, None, None)
    metric = 'first = 2027-05-01\nyield = "3,5 kg/m2"\nloss_pct = 15\nplants_m2 = 22'
    own = garden(with_line("crop", metric), tmp_path).crops[0]
    assert (own.first, own.yield_kg_m2, own.loss_pct, own.plants_m2) == (date(2027, 5, 1), 3.5, 15.0, 22.0)
    us = 'yield_lb_ft2 = 1\nloss = "0.2 fraction"\nplants = "2 /sq ft"'
    own = garden(with_line("crop", us), tmp_path).crops[0]
    assert own.yield_kg_m2 == pytest.approx(4.882, rel=1e-3)
    assert own.loss_pct == pytest.approx(20.0)
    assert own.plants_m2 == pytest.approx(21.53, rel=1e-3)


def test_a_spoon_of_feed_is_the_growers_own_or_a_usual_one(tmp_path: Path):
    assert garden(TEXT, tmp_path).feeds[0].spoon_g == 5.0
    assert assumed(garden(TEXT, tmp_path))["feed 1 spoon"] == ("5", "g", "assumed-default")
    two = '\n[[feed]]\nprotein_pct = 40\nspoon = "1/8 oz"\n[[feed]]\nprotein_pct = 32\nname = "b"\n'
    assert [one.spoon_g for one in garden(TEXT + two, tmp_path).feeds] == pytest.approx(
        [3.544, 5.0], rel=1e-3
    )


def test_indoors_needs_no_climate(tmp_path: Path):
    start, end = TEXT.index("[site.climate]"), TEXT.index("[[tank]]")
    text = (TEXT[:start] + TEXT[end:]).replace("[site]\n", '[site]\ncover = "indoors"\n')
    made = garden(text, tmp_path)
    assert made.site.climate.air_max_c == (22.0,) * 12
    assert "site climate" in assumed(made)


def test_frost_dates_of_a_leap_year_are_days(tmp_path: Path):
    assert garden(with_line("site", 'last_frost = "02-29"'), tmp_path).site.last_frost == MonthDay(2, 29)


def test_crops_that_name_no_area_share_what_is_left(tmp_path: Path):
    text = with_line("crop", 'area = "0.5 m2"')
    for crop, months in (("kale", "[1]"), ("okra", "[7]"), ("basil", "[7, 8]")):
        text += f'\n[[crop]]\ncrop = "{crop}"\nmonths = {months}\n'
    areas = [crop.area_m2 for crop in garden(text, tmp_path).crops]
    assert areas == pytest.approx([0.5, 1.5, 0.75, 0.75])


def test_a_raft_has_no_medium_and_no_drain(tmp_path: Path):
    text = replaced('kind = "media"', 'kind = "raft"').replace("flood_m = 0.25\n", "")
    bed = garden(text, tmp_path).beds[0]
    assert (bed.medium, bed.drain, bed.flood_m) == ("", "constant", 0.25)


def test_litres_of_the_small_garden(tmp_path: Path):
    # Gravel holds 40 % of water: 2 m2 x 0.25 m x 0.4 is 200 L at the flood line, half of it on average.
    found = litres.litres_of(
        garden(TEXT + '\n[sump]\nvolume = "300 L"\n[[pipe]]\nlength = "10 m"\nbore = "20 mm"\n', tmp_path)
    )
    assert (found.tanks, found.beds_full, found.beds, found.sump) == pytest.approx(
        (1000.0, 200.0, 100.0, 300.0)
    )
    assert found.pipes == pytest.approx(math.pi / 4 * 0.02**2 * 10 * 1000)
    assert found.whole == pytest.approx(1400.0 + found.pipes)
    assert found.swing == pytest.approx(100.0)


def test_a_hardness_alone_brings_calcium_and_magnesium(tmp_path: Path):
    made = garden(TEXT + '[top_up]\nhardness = "200 mg/L CaCO3"\n', tmp_path)
    water = made.top_up
    assert (water.calcium_mg_l, water.magnesium_mg_l) == pytest.approx((64.1, 9.7), abs=0.1)
    assert {"top_up calcium", "top_up magnesium"} <= set(assumed(made))
    analysed = garden(TEXT + '[top_up]\nhardness = "200 mg/L CaCO3"\nmagnesium = "20 mg/L"\n', tmp_path)
    assert analysed.top_up.calcium_mg_l == pytest.approx(47.1, abs=0.1)
    assert "top_up magnesium" not in assumed(analysed)


def test_salt_is_read_as_the_chloride_in_it(tmp_path: Path):
    made = garden(TEXT + '[top_up]\nchloride = "100 mg/L NaCl"\n', tmp_path)
    assert made.top_up.chloride_mg_l == pytest.approx(60.7, abs=0.1)


def test_minerals_of_a_feed_are_those_of_its_label_or_of_usual_ones(tmp_path: Path):
    assert "feed 1 minerals" in assumed(garden(TEXT, tmp_path))
    label = '[[feed]]\nprotein = "32 %"\nphosphorus = "1.1 %"\npotassium = "8 g/kg"\n'
    made = garden(TEXT + label, tmp_path)
    assert made.feed_content_g_kg("phosphorus") == pytest.approx(11.0)
    assert made.feed_content_g_kg("potassium") == pytest.approx(8.0)
    assert made.feed_content_g_kg("calcium") is None


def test_without_a_file_the_alkalinity_follows_the_target_ph_as_with_one(tmp_path: Path):
    read = garden(TEXT, tmp_path)
    usual = aimed.alkalinity_mg_l(Targets().base_to_ph, None)
    assert Targets().alkalinity_mg_l == pytest.approx(float(usual))
    assert read.targets.alkalinity_mg_l == pytest.approx(
        max(float(usual), read.top_up.alkalinity_mg_l or 0.0)
    )
