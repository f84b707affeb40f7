"""What the packaged tables hold: sources, marks, order of corners, neighbours, masses, sums."""

import csv
import itertools
import re
from collections.abc import Iterator
from statistics import median

import pytest

from aquacalc import constants, nitrogen, tables
from aquacalc.tables import Row, Table

NAMES = sorted(path.stem for path in tables.DATA.glob("*.csv"))
RULES = {name: [row for row in tables.load("columns") if row.text("table") == name] for name in NAMES}
WITHOUT_FACTS = {"columns", "quantities", "sources"}
"""Tables that say how others are read or printed, and state nothing about the world."""

MASSES = {
    element: getattr(constants, f"ATOMIC_MASS_{element.upper()}_G_MOL")
    for element in ("H", "C", "N", "O", "Na", "Mg", "P", "S", "Cl", "K", "Ca", "Fe")
}


def columns_of(name: str, kind: str) -> list[str]:
    return [rule.text("column") for rule in RULES[name] if rule.text("kind") == kind]


def known(row: Row, column: str) -> bool:
    return row.text(column) != ""


@pytest.mark.parametrize("name", NAMES)
def test_every_table_loads_and_holds_rows(name: str):
    assert len(tables.load(name)) > 0


def test_every_described_table_is_there():
    assert sorted({row.text("table") for row in tables.load("columns")}) == [
        n for n in NAMES if n != "columns"
    ]


def test_every_column_says_what_it_is():
    assert [row.key for row in tables.load("columns") if not row.text("meaning")] == []


@pytest.mark.parametrize("name", sorted(set(NAMES) - WITHOUT_FACTS))
def test_every_table_of_facts_has_sources_and_marks(name: str):
    assert columns_of(name, "source")
    assert columns_of(name, "mark")


@pytest.mark.parametrize("name", sorted(set(NAMES) - WITHOUT_FACTS))
def test_every_number_stands_in_a_group_with_a_source(name: str):
    # A group of columns ends with its own mark and source, or the table has one mark and source for all.
    for row in tables.load(name):
        if row.cells.get("low_of"):
            continue  # another table holds this amount, its source and its mark
        held = {mark for mark in columns_of(name, "mark") if known(row, mark)}
        sourced = {source for source in columns_of(name, "source") if known(row, source)}
        assert held, f"{name} {row.key}"
        assert sourced, f"{name} {row.key}"
        for mark in held:
            group = mark.removesuffix("mark")
            own = f"{group}source"
            if own in columns_of(name, "source"):
                assert own in sourced, f"{name} {row.key}: {mark} without {own}"


def test_no_mark_of_reading_rests_on_custom_alone():
    """A value that was read has a text that it was read in; one of custom or own reckoning is neither."""
    for name in set(NAMES) - WITHOUT_FACTS:
        for row in tables.load(name):
            for mark in columns_of(name, "mark"):
                source = re.sub(r"mark$", "source", mark)
                if row.text(mark).startswith("read") and source in row.cells and row.text(source):
                    keys = {tables.source_key(part) for part in row.listed(source)}
                    assert keys - {"TRADE", "OWN"}, f"{name} {row.key}: {mark}"


def triples(name: str) -> Iterator[tuple[str, str, str]]:
    header = columns_of(name, "number")
    for column in header:
        if re.search(r"(^|_)low(_|$)", column):
            middle, high = (re.sub(r"(^|_)low(_|$)", rf"\1{word}\2", column) for word in ("typical", "high"))
            if high in header:
                yield column, middle if middle in header else "", high


@pytest.mark.parametrize("name", NAMES)
def test_low_typical_high_stand_in_order(name: str):
    for low, middle, high in triples(name):
        for row in tables.load(name):
            values = [row.number(column) for column in (low, middle, high) if column and known(row, column)]
            assert values == sorted(values), f"{name} {row.key}: {low}"


def test_triples_are_found():
    assert ("low", "typical", "high") in list(triples("coefficients"))
    assert ("fcr_low", "fcr_typical", "fcr_high") in list(triples("species"))
    assert ("tgc_low_per1000", "tgc_typical_per1000", "tgc_high_per1000") in list(triples("species"))


# Neighbours

AMOUNTS_ALIKE = {
    "species": "use",
    "crops": "crop_group",
    "media": "use",
    "chemicals": "kind",
    "feeds": "",
    "crop_feed_rates": "bed_kind",
    "crop_stage_lengths": "crop_entry",
}
"""The column whose values make a group of neighbours; empty where the whole table is one group."""
TEMPERATURES_ALIKE = AMOUNTS_ALIKE | {"species": "temperature_class"}

FAR = 5.0
FAR_C = 15.0
"""Temperatures have no natural zero and are compared by difference."""

NOTE_WORDS = {
    "plants_m2": "plants",
    "harvest_window": "window",
    "edible_ca": "calcium",
    "edible_fe": "iron",
    "added_salt": "salt",
}
"""The word by which a note speaks of a column."""


def far_off(name: str) -> Iterator[tuple[Row, str, float, float]]:
    for rule in (rule for rule in RULES[name] if rule.text("kind") == "number"):
        column, celsius = rule.text("column"), rule.text("unit") == "C"
        group = (TEMPERATURES_ALIKE if celsius else AMOUNTS_ALIKE)[name]
        neighbours: dict[str, list[Row]] = {}
        for row in tables.load(name):
            if known(row, column) and row.number(column) != 0.0:
                neighbours.setdefault(row.text(group) if group else "", []).append(row)
        for rows in (rows for rows in neighbours.values() if len(rows) >= 3):
            middle = median(row.number(column) for row in rows)
            for row in rows:
                value = row.number(column)
                near = abs(value - middle) <= FAR_C if celsius else 1.0 / FAR <= value / middle <= FAR
                if not near:
                    yield row, column, value, middle


@pytest.mark.parametrize("name", sorted(AMOUNTS_ALIKE))
def test_a_value_far_from_its_neighbours_has_a_note_that_says_why(name: str):
    for row, column, value, middle in far_off(name):
        notes = " ".join(row.text(c) for c in row.cells if c.endswith(("note", "notes")))
        word = next((word for stem, word in NOTE_WORDS.items() if column.startswith(stem)), column)
        assert word in notes, f"{name} {row.key}: {column} {value:g}, neighbours {middle:g}"


def test_a_lone_value_is_seen():
    assert ("taro", "plants_m2_typical") in {(row.key, column) for row, column, _, _ in far_off("crops")}


# Fish


@pytest.fixture(params=tables.load("species").rows, ids=lambda row: row.key)
def fish(request: pytest.FixtureRequest) -> Row:
    row: Row = request.param
    return row


def test_corners_of_a_species_stand_in_order(fish: Row):
    outer = ["t_lethal_low_c", "t_feed_stop_low_c", "t_tgc_low_c"]
    warm = ["t_tgc_high_c", "t_feed_stop_high_c", "t_lethal_high_c"]
    corners = [fish.number(column) for column in outer + warm]
    assert all(a < b for a, b in itertools.pairwise(corners))
    band = ["t_tgc_low_c", "t_opt_low_c", "t_opt_high_c", "t_stress_high_c", "t_feed_stop_high_c"]
    assert all(fish.number(a) <= fish.number(b) for a, b in itertools.pairwise(band))
    assert fish.number("t_opt_low_c") < fish.number("t_opt_high_c") <= fish.number("t_tgc_high_c")
    ends = [fish.number(column) for column in ("t_tgc_high_c", "t_growth_zero_high_c", "t_lethal_high_c")]
    assert ends == sorted(ends)


def test_oxygen_of_a_species_stands_in_order(fish: Row):
    assert fish.number("do_lethal_mg_l") < fish.number("do_critical_mg_l") < fish.number("do_full_feed_mg_l")
    assert fish.number("ph_low") < fish.number("ph_high")


def test_months_to_table_follow_from_growth(fish: Row):
    """Cube-root growth at the middle of the husbandry band, in months of 30.4 d; printed to a tenth."""
    warmth = (fish.number("t_opt_low_c") + fish.number("t_opt_high_c")) / 2.0
    gain = fish.number("table_weight_typical_g") ** (1 / 3) - fish.number("start_weight_g") ** (1 / 3)
    for pace, growth in (("fast", "high"), ("typical", "typical"), ("slow", "low")):
        days = 1000.0 * gain / (fish.number(f"tgc_{growth}_per1000") * warmth)
        assert days / 30.4 == pytest.approx(fish.number(f"months_to_table_{pace}"), abs=0.11)


def test_a_keeper_is_told_to_ask_the_authority(fish: Row):
    assert "law" in fish.listed("caution")


def test_fish_for_the_table_are_never_for_eating_raw(fish: Row):
    told = {"raw", "parasite"} <= set(fish.listed("caution"))
    assert told == (fish.text("use") != "ornamental")


def test_ornamental_fish_have_no_yield_and_others_have(fish: Row):
    assert known(fish, "fillet_skinless_pct") == (fish.text("use") != "ornamental")


# Crops


@pytest.fixture(params=tables.load("crops").rows, ids=lambda row: row.key)
def crop(request: pytest.FixtureRequest) -> Row:
    row: Row = request.param
    return row


def test_temperatures_of_a_crop_stand_in_order(crop: Row):
    for where in ("air", "root"):
        ends = [crop.number(f"{where}_temp_{end}_c") for end in ("min", "opt_low", "opt_high", "max")]
        assert ends == sorted(ends)
    assert crop.number("temp_base_c_typical") < crop.number("days_reference_temp_c")
    assert crop.number("dli_min_mol_m2_d") < crop.number("dli_good_mol_m2_d")


def test_uptake_per_area_follows_from_yield_and_bed_time(crop: Row):
    days = crop.number("transplant_to_first_harvest_days_typical") + crop.number(
        "harvest_window_days_typical"
    )
    for element, content in (("n", "uptake_n_g_kg_typical"), ("k", "uptake_k_g_kg")):
        expected = crop.number("yield_kg_m2_typical") * crop.number(content) / days
        assert crop.number(f"uptake_{element}_g_m2_d") == pytest.approx(expected, rel=0.01)


def test_the_plant_takes_up_at_least_what_is_eaten(crop: Row):
    # Where the content of another cultivar stands in for it, a quarter may be missing.
    assert crop.number("uptake_n_g_kg_typical") > 0.75 * crop.number("edible_n_g_kg")


def test_nitrogen_of_the_edible_part_is_that_of_a_protein_figure(crop: Row):
    protein_g_100_g = crop.number("edible_n_g_kg") * 6.25 / 10.0
    assert protein_g_100_g == pytest.approx(round(protein_g_100_g, 2), abs=0.002)


def test_crops_that_make_people_ill_raw_say_so():
    crops = tables.load("crops")
    for key in ("bush_bean", "climbing_bean", "taro", "kangkong"):
        assert "cook" in crops.row(key).listed("caution")
    for key in ("watercress", "kangkong"):
        assert {"parasite", "raw", "law", "invasive"} <= set(crops.row(key).listed("caution"))
    assert "irritant" in crops.row("taro").listed("caution")


@pytest.mark.parametrize("row", tables.load("crop_stage_lengths").rows, ids=lambda row: row.key)
def test_stage_lengths_add_up(row: Row):
    stages = ("initial_days", "development_days", "mid_days", "late_days")
    assert row.number("total_days") == sum(row.number(stage) for stage in stages)


# Water limits


@pytest.mark.parametrize("row", tables.load("water_limits").rows, ids=lambda row: row.key)
def test_levels_of_a_water_limit_follow_each_other(row: Row):
    bounds = [row.number(c) for c in ("watch_from", "act_from", "emergency_from") if known(row, c)]
    assert bounds
    assert bounds == sorted(bounds, reverse=row.text("side") == "below")
    assert len(set(bounds)) == len(bounds)


def test_cold_water_fish_are_judged_at_least_as_strictly():
    limits = {row.key: row for row in tables.load("water_limits")}
    warm = [key for key in limits if "warm" in key and "chloride" not in key]
    assert len(warm) >= 7
    for row in (limits[key] for key in warm):
        cold = limits[row.key.replace("warm", "cold")]
        sign = 1.0 if row.text("side") == "above" else -1.0
        for column in ("watch_from", "act_from", "emergency_from"):
            if known(row, column) and known(cold, column):
                assert sign * cold.number(column) <= sign * row.number(column), f"{cold.key} {column}"


def test_every_class_of_fish_has_its_lines():
    limits = tables.load("water_limits")
    for parameter in ("oxygen", "unionised_ammonia", "tan", "nitrite", "carbon_dioxide"):
        assert {f"{parameter}_warm", f"{parameter}_cold"} <= set(limits.keys())
    assert {f"tan_class_{letter}" for letter in "abc"} <= set(limits.keys())


# Chemicals


def atoms(formula: str) -> dict[str, int]:
    """Atoms of a formula; a number before a part after a dot multiplies it."""
    count: dict[str, int] = {}
    for part in formula.split("."):
        times, body = re.fullmatch(r"(\d*)(.*)", part).groups()  # type: ignore[union-attr]
        body = re.sub(r"\(([^)]*)\)(\d*)", lambda m: m[1] * int(m[2] or 1), body)
        for element, number in re.findall(r"([A-Z][a-z]?)(\d*)", body):
            count[element] = count.get(element, 0) + int(number or 1) * int(times or 1)
    return count


def test_formulas_are_taken_apart():
    assert atoms("Ca(OH)2") == {"Ca": 1, "O": 2, "H": 2}
    assert atoms("MgSO4.7H2O") == {"Mg": 1, "S": 1, "O": 11, "H": 14}
    assert atoms("(NH4)2SO4") == {"N": 2, "H": 8, "S": 1, "O": 4}


WITH_FORMULA = [row for row in tables.load("chemicals") if known(row, "formula")]


@pytest.mark.parametrize("row", WITH_FORMULA, ids=lambda row: row.key)
def test_molar_mass_and_element_fractions_follow_from_atomic_masses(row: Row):
    count = atoms(row.text("formula"))
    mass = sum(MASSES[element] * number for element, number in count.items())
    assert row.number("molar_mass_g_mol") == pytest.approx(mass, abs=0.0006)
    for column in (column for column in row.cells if re.fullmatch(r"[a-z]{1,2}_g_g", column)):
        element = column.removesuffix("_g_g").capitalize()
        assert row.number(column) == pytest.approx(
            MASSES[element] * count.get(element, 0) / mass, abs=0.00006
        )


@pytest.mark.parametrize(
    "row", [r for r in WITH_FORMULA if r.text("kind") == "base"], ids=lambda row: row.key
)
def test_alkalinity_of_a_base_is_its_hydroxide_and_carbonate(row: Row):
    count = atoms(row.text("formula"))
    carbon = count.get("C", 0)
    # Charge of the cations is the alkalinity that the anion gives.
    charge = sum({"K": 1, "Na": 1, "Ca": 2, "Mg": 2}.get(element, 0) * n for element, n in count.items())
    assert row.number("alkalinity_eq_mol") == charge
    assert row.number("carbon_mol_eq") == carbon / charge


def test_dangerous_chemicals_say_so():
    chemicals = tables.load("chemicals")
    for key in ("potassium_hydroxide", "calcium_hydroxide"):
        assert {"caustic", "adults"} <= set(chemicals.row(key).listed("caution"))
    for row in chemicals:
        if row.text("kind") == "acid" and "citric" not in row.key:
            assert {"acid", "adults"} <= set(row.listed("caution"))


def test_every_caution_has_its_words():
    catalogue = (tables.DATA / "words.en.ftl").read_text("utf-8")
    spoken = set(re.findall(r"^([a-z][a-z0-9-]*) =", catalogue, re.MULTILINE))
    assert {row.text("words_key") for row in tables.load("cautions")} <= spoken


def test_every_caution_is_explained_and_fits_its_subject():
    cautions = tables.load("cautions")
    for name, subject in (("species", "fish"), ("crops", "crop"), ("chemicals", "chemical")):
        used = {code for row in tables.load(name) for code in row.listed("caution")}
        allowed = tables.load("columns").row(f"{name}.caution").listed("choices")
        assert used <= set(allowed) <= set(cautions.keys())
        for code in used:
            assert subject in cautions.row(code).listed("subject"), f"{name}: {code}"


# Coefficients, feeds, bounds


def test_typical_shares_of_feed_nitrogen_make_one():
    shares = tables.load("coefficients")
    names = ("feed_n_retained_share", "feed_n_faecal_share", "feed_n_uneaten_share", "feed_n_dissolved_share")
    assert sum(shares.row(name).number("typical") for name in names) == pytest.approx(1.0)
    assert shares.row("tan_per_protein_budget").number("typical") == pytest.approx(0.16 * 0.52, abs=0.0005)


def test_shares_that_formulas_take_by_default_are_those_of_the_table():
    shares = tables.load("coefficients")
    assert shares.row("tan_per_protein_sizing").number("typical") == nitrogen.SIZING_SHARE
    assert shares.row("tan_per_protein_budget").number("typical") == nitrogen.BUDGET_SHARE


def test_sizing_ammonia_is_the_handbook_rule_times_its_range():
    row = tables.load("coefficients").row("tan_per_protein_sizing")
    assert row.number("typical") == pytest.approx(0.16 * 0.8 * 0.8 * 0.9, abs=0.0005)
    assert row.number("low") / row.number("typical") == pytest.approx(0.7)
    assert row.number("high") / row.number("typical") == pytest.approx(1.2)


def test_temperature_corners_spread_by_the_stated_deviation():
    row = tables.load("coefficients").row("temperature_corner_k")
    low, middle, high = (row.number(end) for end in ("low", "typical", "high"))
    # Variance of a triangular distribution.
    variance = (low**2 + middle**2 + high**2 - low * middle - low * high - middle * high) / 18.0
    assert variance**0.5 == pytest.approx(1.5, abs=0.005)


def test_warnings_lie_inside_refusals():
    for row in tables.load("input_bounds"):
        ends = [
            row.number(c) for c in ("refuse_low", "warn_low", "warn_high", "refuse_high") if known(row, c)
        ]
        assert ends == sorted(ends), row.key


@pytest.mark.parametrize("name", ["pellet_sizes", "meals"])
def test_weight_classes_join_without_a_gap(name: str):
    rows: Table = tables.load(name)
    assert rows.rows[0].number("weight_from_g") == 0.0
    for one, following in itertools.pairwise(rows.rows):
        assert one.number("weight_below_g") == following.number("weight_from_g")


def test_strong_ammonia_is_light():
    densities = [row.number("density_g_ml") for row in tables.load("ammonia_solutions")]
    assert densities == sorted(densities, reverse=True)


def test_no_table_names_a_kit_step():
    with (tables.DATA / "test_kinds.csv").open(encoding="utf-8", newline="") as file:
        header = next(csv.reader(file))
    assert not any("step" in column or "scale" in column for column in header)


def test_columns_share_the_marks_and_sources_that_follow_them():
    first, *_, last = tables.groups("species")
    assert first.marks == ("temp_optimum_mark", "temp_limits_mark")
    assert first.sources == ("temp_source",)
    assert (last.values, last.marks) == (("caution", "caution_note", "notes"), ("caution_mark",))


def test_a_row_cites_its_sources_with_the_weakest_mark_of_their_values():
    row = tables.load("species").row("rainbow_trout")
    marks = {row.text("temp_optimum_mark"), row.text("temp_limits_mark")}
    cited = {
        one.reference: one.mark for one in tables.cited("species", row)[: len(row.listed("temp_source"))]
    }
    assert cited == dict.fromkeys(row.listed("temp_source"), tables.weakest(tuple(marks)))


def test_a_reference_without_a_row_has_the_mark_of_its_source():
    found = tables.cited_whole(["FAO589:T3.1", "TRADE"])
    assert [(one.reference, one.mark) for one in found] == [("FAO589:T3.1", "memory"), ("TRADE", "practice")]
