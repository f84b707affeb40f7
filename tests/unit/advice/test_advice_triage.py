"""Triage: what is done comes before what is measured, fish are aired and not fed, no medicine has a dose."""

import math
import re

import pytest
from fluent.syntax import FluentParser, ast

from aquacalc import tables, words
from aquacalc.advice import triage
from aquacalc.advice.reading import actions, given, judge
from aquacalc.advice.triage import Place
from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.judge import sizes
from aquacalc.judge.levels import Level
from aquacalc.sizing.balance import balance
from aquacalc.words import Reader

READER = Reader()
SIGNS = triage.signs()
SYMPTOMS = tables.load("symptoms")
FISH = [row.key for row in SYMPTOMS if row.text("subject") == "fish"]
FULL = Place(
    water_l=1500.0,
    response_h=0.6,
    chlorine_mg_l=2.0,
    species="channel_catfish",
    ran_in_l=100.0,
)
AIR = {"triage-do-air", "triage-do-battery-air", "triage-do-air-gently", "triage-do-air-low"}
MEDICINE = re.compile(
    r"medicine|copper|formalin|antibiotic|dye|malachite|peroxide|salt bath|remedy|remedies", re.IGNORECASE
)
COLUMNS = {"first_do": "do", "then_measure": "measure", "likely": "likely", "never": "never"}

each_sign = pytest.mark.parametrize("sign", SIGNS)
each_place = pytest.mark.parametrize("place", [triage.NOTHING_KNOWN, FULL], ids=["nothing", "all"])


def read(*typed: str) -> dict[str, Level]:
    return triage.levels_of(judge.judge(given.read([*typed, "fish=channel_catfish"])))


def texts() -> dict[str, str]:
    """All triage texts of the catalogue, amounts as they stand there."""
    source = (tables.DATA / "words.en.ftl").read_text("utf-8")
    entries = [one for one in FluentParser().parse(source).body if isinstance(one, ast.Message)]
    return {
        one.id.name: source[one.span.start : one.span.end].partition("=")[2].strip()
        for one in entries
        if one.id.name.startswith("triage-") and one.span is not None
    }


TEXTS = texts()


@each_sign
@each_place
def test_every_step_and_cause_of_a_sign_can_be_said(sign: str, place: Place):
    found = triage.triage_of(sign, place)
    for step in found.steps:
        said = words.say(step.key, READER, **{one.name: words.amount(one, READER) for one in step.amounts})
        assert said
        assert "{" not in said
        asked = set(re.findall(r"\$(?!told-)(\w+)", TEXTS[step.key]))
        assert asked == {one.name for one in step.amounts}, step.key
    keys = (found.title, found.before, *found.never, *found.after, *(cause.key for cause in found.likely))
    assert all(words.say(key, READER) for key in keys)


def test_no_text_of_a_step_is_left_over():
    named = {
        f"triage-{kind}-{name}"
        for row in SYMPTOMS
        for column, kind in COLUMNS.items()
        for name in row.listed(column)
    }
    named |= {f"triage-sign-{row.text('sign')}" for row in SYMPTOMS}
    fuller = {f"triage-do-{name}-{suffix}" for name, all_ in triage.FULLER.items() for suffix, _ in all_}
    kinds = ("sign", "do", "measure", "likely", "never")
    held = {key for key in TEXTS if key.split("-")[1] in kinds}
    assert held == named | fuller | {"triage-do-nothing-read"}


@each_sign
@each_place
def test_what_is_done_comes_before_what_is_measured(sign: str, place: Place):
    kinds = [step.kind for step in triage.triage_of(sign, place).steps]
    assert kinds[0] == "do"
    assert "measure" in kinds
    assert kinds == sorted(kinds)


@pytest.mark.parametrize("sign", FISH)
def test_fish_get_air_first_and_no_feed(sign: str):
    done = [step.key for step in triage.triage_of(sign).steps if step.kind == "do"]
    assert done[:2] == ["triage-do-air", "triage-do-feed-off"]
    assert "triage-never-medicine-in-loop" in triage.triage_of(sign).never


@pytest.mark.parametrize("sign", [row.key for row in SYMPTOMS if row.text("subject") in ("machine", "water")])
def test_trouble_with_water_and_machines_stops_the_feed_and_gives_air(sign: str):
    done = {step.key for step in triage.triage_of(sign).steps if step.kind == "do"}
    assert "triage-do-feed-off" in done
    assert done & AIR


@each_sign
def test_electricity_comes_before_water_and_people_are_told_whom_to_ask(sign: str):
    found = triage.triage_of(sign)
    if found.subject == "plants":
        return
    assert "main switch" in words.say(found.before, READER)
    assert "triage-after-gloves" in found.after
    if found.subject == "fish":
        assert {"triage-after-professional", "triage-after-report"} <= set(found.after)
    assert "fish tank" in words.say("triage-after-gloves", READER)


def test_no_text_names_a_dose_of_a_medicine():
    assert any(MEDICINE.search(text) for text in TEXTS.values())
    for key, text in TEXTS.items():
        for one in re.split(r"(?<=[.!?])\s", text):
            if MEDICINE.search(one) and key != "triage-never-one-at-once":
                assert not re.search(r"\d|\{", one), f"{key}: {one}"
    never = TEXTS["triage-never-medicine-in-loop"]
    assert all(name in never for name in ("copper", "formalin", "antibiotics", "salt bath", "Into the loop"))


def test_grams_for_a_quarter_of_the_water_are_those_of_its_chlorine():
    # 1500 L: 375 L of new water at 2 mg/L hold 0.75 g of chlorine; 7 g of thiosulfate for each gram.
    step = next(
        step for step in triage.triage_of("gasping", FULL).steps if step.key.startswith("triage-do-change")
    )
    given = {one.name: one.value for one in step.amounts}
    assert step.key == "triage-do-change-part-dosed"
    assert given["share"] == sizes.LEAST_SHARE
    assert given["litres"] == pytest.approx(375.0)
    assert given["dose"] == pytest.approx(5.25)
    assert given["chemical"] == "thiosulfate_pentahydrate"


def test_a_weaker_product_takes_more_and_rain_water_takes_none():
    assert triage.dechlorinator_g(Place(chlorine_mg_l=2.0, strength=0.5), 500.0) == pytest.approx(14.0)
    assert math.isnan(triage.dechlorinator_g(Place(chlorine_mg_l=0.0), 500.0))
    rain = triage.triage_of("gasping", Place(water_l=1500.0, chlorine_mg_l=0.0))
    assert "triage-do-change-part-litres" in [step.key for step in rain.steps]


def test_a_garden_gives_its_litres_its_time_and_the_product_on_its_shelf():
    garden = GardenFile.open("demo:yard").garden
    outage = balance(garden, members=20).outage
    assert outage is not None
    place = triage.known(garden, outage)
    assert place.response_h == outage.response_h
    assert place.chlorine_mg_l == garden.top_up.chlorine_max_mg_l
    assert place.species == "channel_catfish"
    first = triage.triage_of("power_out", place).steps[0]
    assert first.key == "triage-do-act-within-here"
    assert first.amounts[0].value == outage.response_h


def test_a_reading_puts_what_it_confirms_first_and_what_it_speaks_against_last():
    without = [cause.key for cause in triage.triage_of("gasping", FULL).likely]
    assert without[0] == "triage-likely-oxygen"
    answer = answered("oxygen=8", "nitrite=6 N", "fish=channel_catfish")
    well_aired = triage.triage_of("gasping", FULL, answer).likely
    assert well_aired[0].key == "triage-likely-nitrite"
    assert well_aired[-1].key == "triage-likely-oxygen"
    assert well_aired[0].level in ("act today", "emergency")
    assert well_aired[-1].level == "fine"
    assert sorted(cause.key for cause in well_aired) == sorted(without)


def test_hot_water_is_no_sign_of_cold_and_a_strip_of_zero_proves_nothing():
    hot, cold = read("temp=36 C"), read("temp=3 C")
    assert (hot["heat"], hot["cold"]) == ("emergency", "fine")
    assert (cold["heat"], cold["cold"]) == ("fine", "emergency")
    assert read("chlorine=0")["chlorine"] == "not known"
    assert read("chlorine=0.1")["chlorine"] == "emergency"


def test_ammonia_is_as_bad_as_the_worse_of_its_two_lines():
    acid, hard = read("tan=2 N", "ph=6.4", "temp=20 C"), read("tan=2 N", "ph=8.6", "temp=28 C")
    assert acid["ammonia"] == "act today"
    assert hard["ammonia"] == "emergency"
    assert set(hard) == {"ammonia", "heat", "cold"}


def answered(*typed: str) -> actions.Answer:
    return actions.answer(given.read(typed))


@pytest.mark.parametrize(
    ("sign", "typed"),
    [
        ("ammonia_high", ("tan=8 N", "ph=8.2", "temp=28 C")),
        ("ammonia_high", ("tan=5 N", "ph=5.8", "temp=24 C", "oxygen=2")),
        ("nitrite_high", ("nitrite=2 N", "chloride=10")),
        ("ph_floor", ("ph=5.8", "kh=8 mg/L CaCO3", "tan=0 N")),
        ("heat", ("temp=36 C", "oxygen=3")),
    ],
)
def test_a_sign_that_is_a_reading_is_answered_as_that_reading(sign: str, typed: tuple[str, ...]):
    answer = answered(*typed, "fish=channel_catfish", "litres=1000")
    found = triage.triage_of(sign, Place(water_l=1000.0, chlorine_mg_l=2.0), answer)
    assert [step.action for step in found.steps if step.kind == "do"] == list(answer.actions)
    assert triage.not_told(found, answer).actions == ()


def test_without_its_own_reading_a_sign_keeps_its_steps():
    found = triage.triage_of("ammonia_high", FULL, answered("oxygen=8", "fish=channel_catfish"))
    assert found.steps[0].key == "triage-do-feed-off"


def test_where_ammonia_was_not_read_nothing_raises_the_ph():
    acid = answered("ph=5.8", "kh=8 mg/L CaCO3", "fish=channel_catfish")
    assert "triage-do-hold-ph" in [step.key for step in triage.triage_of("ph_floor", FULL, acid).steps]


def test_water_that_is_well_asks_for_nothing():
    well = answered("nitrite=0 N", "tan=0 N", "ph=7", "temp=26 C", "fish=channel_catfish")
    done = [one.key for one in triage.triage_of("nitrite_high", FULL, well).steps if one.kind == "do"]
    assert done == (["triage-do-nothing-read"] if not well.actions else [""] * len(well.actions))


def test_the_share_that_a_reading_asks_for_is_told_once_and_everywhere():
    answer = answered("tan=8 N", "ph=8.2", "temp=28 C", "fish=channel_catfish", "litres=1000")
    found = triage.triage_of("listless", Place(water_l=1000.0, chlorine_mg_l=2.0), answer)
    step = next(one for one in found.steps if "change-part" in one.key)
    amounts = {one.name: one.value for one in step.amounts}
    # Half of 1000 L at 2 mg/L of chlorine, 7 g for each gram.
    assert (amounts["share"], amounts["litres"], amounts["dose"]) == (0.5, 500.0, pytest.approx(7.0))
    left = {one.key for one in triage.not_told(found, answer).actions}
    assert "change-litres" in {one.key for one in answer.actions}
    assert not left & {"change-litres", "feed", "air"}
    refusing = triage.triage_of("refusing", FULL, answer)
    assert "change-litres" in {one.key for one in triage.not_told(refusing, answer).actions}


def test_a_misspelt_sign_gets_the_nearest():
    with pytest.raises(InputError) as caught:
        triage.triage_of("gaspin")
    assert caught.value.problems[0].nearest == "gasping"
