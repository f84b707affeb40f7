"""Charts of a season: all batches in place, no text over another, axes that stay, lines where levels
begin."""

import itertools
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from html import escape

import numpy as np
import pytest
from seasons import DEMOS, garden, season

from aquacalc import tables, words
from aquacalc.agenda import beds
from aquacalc.charts import canvas, season_days, season_lines, season_strip, strip_rows, strip_sowings
from aquacalc.charts import season as charts
from aquacalc.charts.canvas import Canvas
from aquacalc.charts.season_limits import limits
from aquacalc.charts.season_panels import Curve, Panel, panels_canvas
from aquacalc.garden.model import Garden
from aquacalc.judge import lines
from aquacalc.judge import oxygen as of_oxygen
from aquacalc.judge import temperature as of_temperature
from aquacalc.season import plan
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band
from aquacalc.words import Reader

READER = Reader()
US = Reader(units="us")

AS_WRITTEN = "yard/before"
"""The yard before its plan: few plans, fish that eat little in summer."""

each_demo = pytest.mark.parametrize("name", DEMOS)


def drawn(name: str, reader: Reader = READER, **changed: object) -> Canvas:
    return season_strip.strip_canvas(replace(season(name), **changed), garden(name), reader)


def texts(picture: Canvas) -> list[str]:
    return [one.text.replace(words.NO_BREAK_SPACE, " ") for one in picture.written if one.text]


def pictures(name: str, reader: Reader = READER) -> dict[str, charts.strip]:
    run, of = season(name), garden(name)
    return {
        "strip": charts.strip(run, of, reader, "The answer in words"),
        "fish": charts.fish(run, of, reader, "The answer in words"),
        "water": charts.water(run, of, reader, "The answer in words"),
    }


@each_demo
def test_each_chart_is_a_sound_spec_with_its_title_and_text_alternative(name: str):
    for chart in pictures(name, garden(name).reader).values():
        spec = chart.to_dict(validate=True)
        assert spec["title"]["text"] == ["The answer in words"]
        assert len(spec["description"]) > 40
        assert "nan" not in spec["description"].lower().split()


@each_demo
@pytest.mark.parametrize("reader", [READER, US], ids=["metric", "us"])
def test_no_text_of_the_strip_stands_on_another_or_outside(name: str, reader: Reader):
    picture = drawn(name, reader)
    written = [one for one in picture.written if one.text]
    assert len(written) > 40
    # Letters are lower than their lines: the names of a row's place may come as near as lines of a text.
    for one, other in itertools.combinations(written, 2):
        lower = replace(one, y=one.y + 1.0, y2=one.y2 - 1.0)
        assert not lower.touches(other), (one, other)
    for one in written:
        assert one.x >= 0.0
        assert one.x2 <= picture.width
        assert one.y >= 0.0
        assert one.y2 <= picture.height + 1.0


@each_demo
def test_there_is_one_row_a_place(name: str):
    of, shown = garden(name), texts(drawn(name))
    for place in (*of.tanks, *of.beds):
        assert shown.count(place.name) == 1
    for crop in {one.crop for one in season(name).batches if one.plant > season(name).first}:
        plain = words.name("crop", crop).split(",")[0].split(" (")[0]
        assert any(text.startswith(plain[:4]) for text in shown), crop


@each_demo
def test_batches_of_a_bed_lie_inside_its_row_and_never_over_each_other(name: str):
    run, grown = season(name), beds.beds(season(name), garden(name))
    for bed in garden(name).beds:
        height, slots = strip_rows.bed_slots(run, bed, grown)
        for slot in slots.values():
            assert slot.top >= -1e-9
            assert slot.top + slot.height <= height + 1e-6
        for one, other in itertools.combinations(slots, 2):
            a, b = (grown[k].days(run) for k in (one, other))
            at_once = a[0] < b[1] and b[0] < a[1]
            apart = (
                slots[one].top + slots[one].height <= slots[other].top + 1e-6
                or slots[other].top + slots[other].height <= slots[one].top + 1e-6
            )
            assert apart or not at_once


def test_plans_side_by_side_share_the_row_by_area():
    run, of = season(AS_WRITTEN), garden(AS_WRITTEN)
    _, slots = strip_rows.bed_slots(run, of.beds[1], beds.beds(run, of))
    by_crop = {run.batches[k].crop: slot.height for k, slot in slots.items()}
    assert by_crop["capsicum"] == pytest.approx(2.0 * by_crop["basil"])


def test_an_item_takes_the_lowest_place_that_is_free_on_all_its_days():
    items = [
        ([(0, 10)], 1.0),
        ([(5, 15)], 1.0),
        ([(12, 20)], 1.0),
        ([(0, 4), (16, 20)], 1.0),
        ([(3, 17)], 2.0),
    ]
    assert strip_rows.packed(items) == [0.0, 1.0, 0.0, 1.0, 2.0]


def test_a_row_never_gets_taller_than_a_page_can_bear():
    of, run = garden("greenhouse"), season("greenhouse")
    narrow = replace(run, batches=tuple(replace(one, area_m2=0.01) for one in run.batches))
    height, _ = strip_rows.bed_slots(narrow, of.beds[0], beds.beds(narrow, of))
    assert height <= strip_rows.HIGHEST_PX + 1e-9


def test_words_say_when_to_stock_plant_and_pick():
    shown = texts(drawn(AS_WRITTEN, US))
    okra = beds.beds(season(AS_WRITTEN), garden(AS_WRITTEN))[0]
    assert okra.first is not None
    assert okra.last is not None
    first, last = (words.day(one.day, US) for one in (okra.first, okra.last))
    assert {"stock Apr 10", "plant May 12", f"pick {first}", f"last {last}", "sow Okra Apr 21"} <= set(shown)
    assert "40 × 2 oz" in shown


def test_fish_that_wait_for_tests_are_not_told_by_a_day_alone():
    run, of = season("southern"), garden("southern")
    name = of.fish[0].name
    told = [
        [words.say(key, READER, day=words.day(of.fish[0].stocked, READER)) for key in keys]
        for keys in (("strip-stock",), ("strip-stock-wait", "strip-stock-wait-short"))
    ]
    for waiting, (said, not_said) in (((), told), ((name,), told[::-1])):
        shown = str([part.to_dict() for part in charts.strips(run, of, READER, waiting)])
        assert any(f"'{text}'" in shown for text in said)
        assert not any(f"'{text}'" in shown for text in not_said)


def test_days_are_written_as_the_reader_writes_them():
    assert "stock 10 Apr" in texts(drawn(AS_WRITTEN, READER))


def test_absences_and_frosts_are_named_over_the_rows():
    assert texts(drawn("classroom")).count("away") == len(garden("classroom").away)
    assert {"last frost 20 Mar", "first frost 14 Nov"} <= set(texts(drawn(AS_WRITTEN)))
    assert not any("frost" in text for text in texts(drawn("classroom")))  # a room


def test_fish_that_are_not_fed_and_crops_that_stand_still_are_hatched():
    assert "no feed" in texts(drawn(AS_WRITTEN))
    run = season(AS_WRITTEN)
    still = tuple(replace(one, stands_still=((date(2027, 6, 1), date(2027, 7, 10)),)) for one in run.batches)
    plain, hatched = drawn(AS_WRITTEN), drawn(AS_WRITTEN, batches=still)
    assert "stands still" in texts(hatched)
    assert len(hatched._rules) > len(plain._rules) + 20


def test_a_bracket_holds_the_first_picks_of_eight_in_ten_tries():
    run = season(AS_WRITTEN)
    okra = next(k for k, one in enumerate(run.batches) if one.crop == "okra")
    picked = run.crops["picked_kg"][okra] > 0.0
    first = np.sort(picked.argmax(axis=1))
    days = season_days.Days.of(run, season_strip.PAGE.left, season_strip.PAGE.right)
    low, high = (days.x(float(np.percentile(first, share))) for share in (10, 90))
    spans = [(rule["x"], rule["x2"]) for rule in drawn(AS_WRITTEN)._rules if rule["y"] == rule["y2"]]
    assert any(a == pytest.approx(low, abs=2.0) and b == pytest.approx(high, abs=2.0) for a, b in spans)


def test_one_middle_run_has_no_band_and_says_so():
    of = garden(AS_WRITTEN)
    run = plan.of_garden(of, 1)
    spec = charts.strip(run, of, READER, "").to_dict()
    assert "One middle run, without its band." in " ".join(spec["title"]["text"])
    assert season_strip.strip_canvas(run, of, READER)._areas == []
    np.testing.assert_array_equal(run.band("feed_g").middle, run.typical["feed_g"])


def test_the_feed_axis_stays_where_it_is_told_to():
    of = garden(AS_WRITTEN)
    few = replace(of, fish=(replace(of.fish[0], count=10),))
    ticks = [
        [text for text in texts(season_strip.strip_canvas(run, which, READER, 400.0)) if text.isdigit()]
        for run, which in ((plan.of_garden(of, 1), of), (plan.of_garden(few, 1), few))
    ]
    assert ticks[0] == ticks[1]
    assert "400" in ticks[0]


def test_the_text_alternative_names_places_and_days():
    spec = charts.strip(season(AS_WRITTEN), garden(AS_WRITTEN), READER, "").to_dict()
    said = spec["description"].replace(words.NO_BREAK_SPACE, " ")
    cleared = beds.beds(season(AS_WRITTEN), garden(AS_WRITTEN))[0].cleared
    assert cleared is not None
    assert f"north bed: Okra from 12 May 2027 to {words.date(cleared, READER)}" in said
    assert "stock tank: spring catfish from 10 April 2027" in said


def test_the_text_alternative_tells_the_batches_of_a_weekly_harvest_together():
    run, of = season("greenhouse"), garden("greenhouse")
    crops = {name: np.tile(values, (30, 1, 1)) for name, values in run.crops.items()}
    many = replace(run, batches=run.batches * 30, crops=crops)
    said = season_strip.describe_strip(many, of, READER)
    count = sum(one.crop == "watercress" for one in run.batches)
    assert f"Watercress, {30 * count} batches from" in said
    assert len(said) < 1.2 * len(season_strip.describe_strip(run, of, READER))


def test_names_of_people_can_hold_anything():
    of = garden("yard")
    odd = replace(of, beds=tuple(replace(bed, name=f"<b>{'W' * 40}</b> & {bed.name}") for bed in of.beds))
    run = season("yard")
    moved = {bed.name: new.name for bed, new in zip(of.beds, odd.beds, strict=True)}
    run = replace(run, batches=tuple(replace(one, bed=moved[one.bed]) for one in run.batches))
    picture = season_strip.strip_canvas(run, odd, READER)
    assert all(one.x2 <= season_strip.PAGE.left for one in picture.written if "WWW" in one.text)


def test_a_garden_without_fish_and_crops_still_has_its_rows():
    bare = replace(garden("yard"), fish=(), crops=())
    shown = texts(season_strip.strip_canvas(plan.of_garden(bare, 1), bare, READER))
    assert {"stock tank", "north bed", "south bed"} <= set(shown)


# --- time ------------------------------------------------------------------------------------------------


def test_months_are_cut_at_the_ends_of_the_season():
    days = season_days.Days(date(2027, 12, 20), 75, 0.0, 750.0)
    assert list(days.months()) == [
        (date(2027, 12, 20), date(2027, 12, 31)),
        (date(2028, 1, 1), date(2028, 1, 31)),
        (date(2028, 2, 1), date(2028, 2, 29)),
        (date(2028, 3, 1), date(2028, 3, 3)),
    ]


def test_days_outside_the_season_stay_at_its_ends():
    days = season_days.Days(date(2027, 3, 1), 100, 50.0, 150.0)
    assert (days.at(date(2026, 1, 1)), days.after(date(2030, 1, 1))) == (50.0, 150.0)
    assert days.after(date(2027, 3, 1)) == pytest.approx(51.0)


# --- sowings ---------------------------------------------------------------------------------------------


def test_the_first_of_a_weekly_series_is_named_and_all_have_a_tick():
    run = season("greenhouse")
    days = season_days.Days.of(run, season_strip.PAGE.left, season_strip.PAGE.right)
    found = strip_sowings.of_bed(
        run, "long raft", days, season_strip.PAGE.left, season_strip.PAGE.width, READER
    )
    due = [one.sow for one in run.batches if one.bed == "long raft" and one.sow and days.holds(one.sow)]
    assert len(found) == len(due)
    named = [one.text for one in found if one.text]
    first = min(one.sow for one in run.batches if one.crop == "lettuce_butterhead" and one.sow)
    assert f"sow Lettuce {words.day(first, READER)}" in named
    for one, other in itertools.combinations([one for one in found if one.text], 2):
        assert one.clear_of(other)


# --- lines -----------------------------------------------------------------------------------------------


def mixed() -> Garden:
    """Trout and goldfish in one garden."""
    of = garden("greenhouse")
    return replace(of, fish=(replace(of.fish[0], species="goldfish"), of.fish[1]))


@each_demo
def test_lines_stand_where_act_today_begins(name: str):
    run, of = season(name), garden(name)
    found = limits(of, run, READER)
    species = tables.load("species").row(of.fish[0].species)
    for daily, parameter in (("tan_max_mg_l", "tan"), ("nitrate_mg_l", "nitrate"), ("ph", "ph")):
        for line in found[daily]:
            above = "from" in line.label
            sides = [lines.level(parameter, line.value + step, (species,)) for step in (-1e-6, 1e-6)]
            assert ("act today" in sides[above]) or sides[above] == "emergency"
            assert sides[not above] in ("fine", "watch")
    (oxygen,) = found["oxygen_min_mg_l"]
    assert of_oxygen.level(oxygen.value + 1e-6, (species,)) == "watch"
    assert of_oxygen.level(oxygen.value - 1e-6, (species,)) == "act today"
    warm = found["water_c"][0]
    assert of_temperature.level(warm.value - 1e-6, (species,)) == "watch"


def test_the_strictest_species_sets_the_lines():
    run, of = season("greenhouse"), mixed()
    alone = limits(replace(of, fish=(of.fish[0],)), run, READER)
    both = limits(of, run, READER)
    trout = limits(replace(of, fish=(of.fish[1],)), run, READER)
    for daily in ("tan_max_mg_l", "nitrate_mg_l"):
        assert both[daily][0].value == min(alone[daily][0].value, trout[daily][0].value)
    assert both["oxygen_min_mg_l"][0].value == trout["oxygen_min_mg_l"][0].value
    assert both["water_c"][0].value == trout["water_c"][0].value


def test_low_chloride_brings_the_nitrite_line_down():
    run, of = season("yard"), garden("yard")
    soft = replace(run, daily={**run.daily, "chloride_mg_l": np.full_like(run.daily["ph"], 1.0)})
    hard = limits(of, run, READER)["nitrite_max_mg_l"][0].value
    assert limits(of, soft, READER)["nitrite_max_mg_l"][0].value < hard


def test_lines_hold_while_there_are_fish():
    run, of = season("greenhouse"), garden("greenhouse")
    ((first, after),) = limits(of, run, READER)["tan_max_mg_l"][0].spans
    assert run.date(first) == of.fish[0].stocked
    assert run.date(after) == of.fish[0].until or run.date(after - 1) == of.fish[0].until


def flat(run: SeasonRun, value: float) -> Band:
    return Band(*(np.full(run.days, value + step) for step in (-1.0, 0.0, 1.0)))


def test_a_far_limit_stands_at_the_edge_and_says_so():
    run = season("yard")
    near, far = charts.Limit(12.0, "near"), charts.Limit(900.0, "far")
    picture = panels_canvas(run, [Panel("x", "", [Curve(flat(run, 10.0))], [near, far])], READER, None)
    assert {"near", "far (above)"} <= set(texts(picture))


def test_axis_ends_can_be_kept():
    run = season("yard")
    ticks = [
        texts(panels_canvas(run, [Panel("x", "", [Curve(flat(run, value))], ends=(0.0, 50.0))], READER, None))
        for value in (5.0, 40.0)
    ]
    assert ticks[0] == ticks[1]
    assert "40" in ticks[0]


def test_every_quantity_that_can_be_shown_is_one_of_a_run_and_has_its_words():
    run = season("yard")
    for name, shown in season_lines.SHOWN.items():
        assert name in run.daily
        assert words.say(f"season-axis-{name.replace('_', '-')}", READER)
        assert shown.kind in tables.load("quantities").keys()  # noqa: SIM118  (rows are iterated)


def test_fish_are_drawn_while_they_are_there():
    run, of = season("greenhouse"), garden("greenhouse")
    kg = season_lines.tank_kg(run, of, "west tank")
    there = np.flatnonzero(np.isfinite(kg.middle))
    assert run.date(int(there[0])) == of.fish[0].stocked
    assert run.date(int(there[-1])) <= of.fish[0].until
    assert kg.middle[there[0]] == pytest.approx(32 * 0.075, rel=0.01)
    written = texts(panels_canvas(run, [Panel("w", "fish_weight", [Curve(kg, "west")])], READER, of))
    assert "west" in written


def test_a_text_is_cut_where_it_does_not_fit():
    assert canvas.cut("watercress", canvas.width_px("watercress", 12.0), 12.0) == "watercress"
    shorter = canvas.cut("watercress", 50.0, 12.0)
    assert shorter.endswith("…")
    assert canvas.width_px(shorter, 12.0) <= 50.0


@pytest.mark.slow
@each_demo
def test_every_chart_becomes_a_picture(name: str):
    from aquacalc.charts.picture import svg

    for chart in pictures(name).values():
        drawn_text = svg(chart)
        assert "The answer in words" in drawn_text
        assert "http" not in drawn_text.replace("http://www.w3.org/", "")


def test_on_a_phone_the_strip_keeps_its_names_and_every_text_inside():
    run, of = season("yard"), garden("yard")
    narrow = season_strip.strip_canvas(run, of, READER, sheet=season_strip.PHONE)
    assert narrow.width == canvas.NARROW
    assert all(one.x >= 0.0 and one.x2 <= narrow.width for one in narrow.written)
    for place in (*of.tanks, *of.beds):
        assert place.name in texts(narrow)
    assert {"Okra", "Capsicum"} <= set(texts(narrow))
    assert 'width="340"' in season_strip.strip_on_phone(run, of, READER)


@pytest.mark.parametrize("picture", [season_lines.fish_on_phone, season_lines.water_on_phone])
def test_on_a_phone_a_season_has_the_same_words_as_on_a_page(picture: Callable[..., str]):
    run, of = season("yard"), garden("yard")
    shown = picture(run, of, READER)
    assert 'width="340"' in shown
    assert 'aria-label="' in shown
    whole = season_lines.fish if picture is season_lines.fish_on_phone else season_lines.water
    assert escape(whole(run, of, READER, "").description) in shown
