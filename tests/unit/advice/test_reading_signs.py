"""What the fish show, and added salt: how they count beside the readings, and what is done about them."""

from dataclasses import replace

import pytest

from aquacalc.advice.reading import actions, fish, given, judge
from aquacalc.advice.reading.judge import Judgement
from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.judge.levels import Level

WARM = ("temp=25", "fish=warm")


def judged(*typed: str, of: Garden | None = None) -> Judgement:
    return judge.judge(given.read(typed, of))


def level(parameter: str, *typed: str, of: Garden | None = None) -> Level:
    one = judged(*typed, of=of).of(parameter)
    assert one is not None
    return one.level


def keys(*typed: str, of: Garden | None = None) -> list[str]:
    return [action.key for action in actions.answer(given.read(typed, of)).actions]


@pytest.mark.parametrize("sign", ["gasping", "bottom", "jumping", "gasping,jumping"])
@pytest.mark.parametrize(
    ("parameter", "typed"),
    [
        ("oxygen", ("oxygen=3.5", *WARM)),
        ("tan", ("tan=4 N", "ph=6.6", *WARM)),
        ("unionised_ammonia", ("tan=4 N", "ph=7.5", *WARM)),
        ("nitrite", ("nitrite=1.8 N", "chloride=50", *WARM)),
        ("temperature", ("temp=36", "fish=nile_tilapia")),
        ("carbon_dioxide", ("ph=6.4", "kh=50 mg/L CaCO3", *WARM)),
    ],
)
def test_what_fish_suffer_from_becomes_an_emergency(sign: str, parameter: str, typed: tuple[str, ...]):
    assert level(parameter, *typed) == "act today"
    assert level(parameter, *typed, f"signs={sign}") == "emergency"
    assert judged(*typed, f"signs={sign}").level == "emergency"


def test_a_sign_does_not_hurry_a_base():
    # The larger step of pH is for water under 5.5, not for fish that gasp.
    assert level("ph", "ph=5.8", "signs=gasping") == "act today"
    assert judged("ph=5.8", "oxygen=8", "signs=gasping").level == "emergency"


def test_what_is_only_watched_is_not_raised():
    typed = ("nitrite=0.5 N", "chloride=50", "oxygen=8", *WARM)
    assert level("nitrite", *typed, "signs=gasping") == "watch"
    assert level("signs", *typed, "signs=gasping") == "act today"


def test_gasping_without_oxygen_is_an_emergency_and_air_comes_first():
    assert judged("signs=gasping").level == "emergency"
    assert keys("signs=gasping") == ["signs-air", "feed", "signs-measure"]
    assert keys("tan=20 N", "ph=5.8", "chlorine=0.5", "signs=gasping", *WARM)[0] == "signs-air"
    assert keys("signs=gasping", "oxygen=2", *WARM)[0] == "oxygen"


@pytest.mark.parametrize("sign", ["bottom", "jumping"])
def test_other_signs_ask_for_air_and_for_tests_today(sign: str):
    assert judged(f"signs={sign}").level == "act today"
    assert keys(f"signs={sign}") == ["signs-air", "feed", "signs-measure"]


def test_with_enough_oxygen_no_air_is_ordered_that_drives_ph_up():
    found = keys("tan=5 N", "ph=6.8", "kh=40 mg/L CaCO3", "oxygen=8", "signs=gasping", *WARM)
    assert "signs-air" not in found
    assert "air-gently" in found


@pytest.mark.parametrize("nitrite", ["0.05", "0.5", "1.8"])
def test_brown_gills_make_nitrite_an_emergency(nitrite: str):
    typed = (f"nitrite={nitrite} N", "chloride=100", *WARM)
    assert level("nitrite", *typed) != "emergency"
    assert level("nitrite", *typed, "signs=brown gills") == "emergency"


@pytest.mark.parametrize("typed", [(), ("nitrite=0", "oxygen=8"), ("oxygen=3.5",)])
def test_brown_gills_without_nitrite_ask_for_it_with_air_on(typed: tuple[str, ...]):
    found = keys(*typed, "signs=brown gills", *WARM)
    assert judged(*typed, "signs=brown gills", *WARM).level == "emergency"
    assert "signs-nitrite" in found
    assert not any(key.startswith("chloride") for key in found), "no salt before nitrite was measured"
    if "oxygen=8" not in typed:
        assert found[0] in ("signs-air", "oxygen")


def test_brown_gills_with_nitrite_get_chloride_by_the_reading():
    found = keys("nitrite=2 N", "oxygen=7", "signs=brown gills", *WARM)
    assert found[:4] == ["feed", "nitrite-air", "chloride", "change"]


def test_what_has_been_measured_is_not_asked_for_again():
    answer = actions.answer(given.read(["signs=gasping", "tan=0 N", "ph=7", "temp=25", "fish=warm"]))
    (asked,) = [action for action in answer.actions if action.key == "signs-measure"]
    assert asked.amounts[0].value == "oxygen nitrite chlorine"


# --- salt --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("salt", "fish", "expected"),
    [
        ("0", "cold", "fine"),
        ("0.29", "warm", "fine"),
        ("0.31", "warm", "watch"),
        ("0.51", "cold", "act today"),
        ("3.1", "cold", "emergency"),
        ("3.1", "warm", "act today"),
    ],
)
def test_added_salt_by_the_common_lines(salt: str, fish: str, expected: Level):
    assert level("added_salt", f"salt={salt}", f"fish={fish}") == expected


@pytest.mark.parametrize(
    ("crops", "salt", "expected"),
    [
        (("strawberry",), "0.11", "act today"),
        (("tomato",), "0.9", "fine"),
        (("tomato",), "1.1", "act today"),
        (("tomato", "lettuce_leaf"), "0.4", "watch"),
        (("tomato", "spinach"), "0.6", "act today"),
    ],
)
def test_a_crops_own_cap_goes_before_the_common_lines(crops: tuple[str, ...], salt: str, expected: Level):
    told = replace(given.read([f"salt={salt}", "fish=warm"]), crops=crops)
    one = judge.judge(told).of("added_salt")
    assert one is not None
    assert one.level == expected


def test_a_gardens_crops_are_looked_at():
    assert given.read(["salt=0.2"], GardenFile.open("demo:yard").garden).crops


def test_added_salt_counts_as_chloride_against_nitrite():
    # 0.1 g/L of plain salt holds 61 mg/L of chloride: thirty times this nitrite.
    assert level("nitrite", "nitrite=1.9 N", *WARM) == "emergency"
    found = judged("nitrite=1.9 N", "salt=0.1", *WARM)
    assert found.given.facts.chloride_mg_l == pytest.approx(60.7, abs=0.1)
    assert level("nitrite", "nitrite=1.9 N", "salt=0.1", *WARM) == "act today"
    assert "reading-assumed-chloride" not in [note.key for note in found.assumed]
    assert "reading-note-chloride-of-salt" in [note.key for note in found.notes]
    assert "reading-assumed-chloride" in [note.key for note in judged("nitrite=2 N", "salt=0", *WARM).assumed]


def test_dying_is_not_taken_for_lying():
    with pytest.raises(InputError) as raised:
        fish.signs_of_text("dying")
    assert raised.value.problems[0].nearest == ""
    with pytest.raises(InputError) as raised:
        fish.signs_of_text("botom")
    assert raised.value.problems[0].nearest == "bottom"
