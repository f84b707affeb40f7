"""A judged reading in words: the kit's own numbers first, assumptions in a line, the dangers in short."""

import pytest

from aquacalc.advice.reading import actions, given
from aquacalc.advice.reading.actions import Answer
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import KitScale
from aquacalc.sentences import reading
from aquacalc.words import Reader

READER = Reader()
CARD = KitScale("tan", "NH3", (0.0, 0.2, 0.5, 1.1, 2.4))


def answer(*typed: str, garden: str = "") -> Answer:
    return actions.answer(given.read(typed, GardenFile.open(f"demo:{garden}").garden if garden else None))


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def values(*typed: str, garden: str = "") -> dict[str, str]:
    return {name: plain(value) for name, value, _ in reading.rows(answer(*typed, garden=garden), READER)}


@pytest.mark.parametrize(
    ("typed", "garden", "name", "text"),
    [
        ("nitrite=1", "yard", "nitrite", "1 mg/L NO2 (0.3 as N)"),
        ("nitrite=1 N", "yard", "nitrite", "1 mg/L as N"),
        ("tan=1.2", "yard", "ammonia (TAN)", "1.2 mg/L as N"),
        ("tan=0.5", "classroom", "ammonia (TAN)", "0.5 mg/L NH3 (0.41 as N)"),
        ("tan=2 NH4", "", "ammonia (TAN)", "2 mg/L NH4 (1.6 as N)"),
        ("tan=2", "", "ammonia (TAN)", "2 mg/L as N"),
        ("nitrate=180", "greenhouse", "nitrate", "180 mg/L NO3 (41 as N) or more"),
        ("kh=4 dKH", "", "alkalinity (KH)", "4 dKH (71 mg/L CaCO3)"),
        ("kh=40", "yard", "alkalinity (KH)", "40 mg/L CaCO3"),
        ("ph=7.4", "yard", "pH", "7.4"),
        ("salt=300 mg/L", "", "added salt", "0.3 g/L"),
        ("signs=jumping,gasping", "", "what the fish show", "gasping and jumping"),
    ],
)
def test_a_reading_stands_first_as_it_was_counted(typed: str, garden: str, name: str, text: str):
    assert values(typed, garden=garden)[name] == text


@pytest.mark.parametrize(
    ("inside", "text"),
    [
        (0.0, "0 NH3 on your kit (0 mg/L as N)"),
        (1.1 / 1.2159, "1.1 NH3 on your kit (0.9 mg/L as N)"),
        (0.65, "0.5 to 1.1 NH3 on your kit (0.65 mg/L as N)"),
        (0.5, "0.5 NH3 on your kit (0.5 mg/L as N)"),
        (4.0, "past 2.4 NH3 on your kit (4 mg/L as N)"),
    ],
)
def test_what_to_expect_stands_on_the_steps_of_the_card(inside: float, text: str):
    assert plain(reading.on_kit(inside, CARD, READER)) == text


@pytest.mark.parametrize(
    ("scale", "inside", "text"),
    [
        (KitScale("alkalinity", "dkh", (), 0.5), 30.0, "2 dKH on your kit (30 mg/L CaCO3)"),
        (KitScale("ph", steps=(6.0, 6.4, 6.8)), 6.58, "6.4 to 6.8 on your kit (6.6)"),
        (KitScale("ph", steps=(6.0, 6.4, 6.8)), 6.8, "6.8"),
        (KitScale("ph", steps=(6.0, 6.4)), 5.5, "under 6.0 on your kit (5.5)"),
        (KitScale("tan", "N", (0.0, 1.0)), 1.0, "1 on your kit (1 mg/L as N)"),
        (KitScale("tan", "NH3"), 1.0, ""),
        (KitScale("tan", steps=(0.0, 1.0)), 1.0, ""),
    ],
)
def test_drops_ph_and_kits_that_are_not_described(scale: KitScale, inside: float, text: str):
    assert plain(reading.on_kit(inside, scale, READER)) == text


def test_values_to_expect_are_those_of_the_kit():
    said = plain(" ".join(reading.actions(answer("tan=4", "ph=8", "nitrite=1", garden="yard"), READER)))
    assert "ammonia (TAN) 2.5 on your kit (2.4 mg/L as N)" in said
    assert "0.64 to 0.8 mg/L as N of ammonia" in said


def test_what_was_read_at_the_end_of_a_kit_is_expected_to_be_at_least_so_much():
    found = answer("tan=6", "ph=7.8", "temp=79", garden="yard")
    said = plain(" ".join(reading.actions(found, READER)))
    assert "ammonia (TAN) 3.4 mg/L as N or more" in said
    assert "un-ionised ammonia 0.12 mg/L as N or more" in said


def test_what_was_assumed_is_one_line_and_what_rests_on_nothing_has_none():
    line = plain(reading.in_short(answer("tan=2", "kh=4", "nitrite=1 N"), READER))
    assert line == (
        "Assumed, at its severest: ammonia (TAN) counts as N; alkalinity (KH) in mg/L CaCO3; fish of cold "
        "water; pH 7.8; 30 °C of water; no chloride."
    )
    assert reading.in_short(answer("ph=7", "fish=warm"), READER) == ""
    season = plain(reading.in_short(answer("tan=2", "ph=7", garden="yard"), READER))
    assert "the warmest month" in season


def test_every_short_form_has_its_long_one():
    from aquacalc import words

    short = {
        key.removeprefix("reading-short-") for key in words._sources("en") if key.startswith("reading-short-")
    }
    long = {
        key.removeprefix("reading-assumed-")
        for key in words._sources("en")
        if key.startswith("reading-assumed-")
    }
    assert long - short == {"new-water"}
    assert short <= long


def test_nothing_to_do_is_said_of_what_was_read_only():
    one = plain(reading.again(answer("ph=6.8", "fish=warm"), READER))
    assert "Nothing to do" in one
    assert "not tested: ammonia (TAN) and nitrite" in one
    calm = answer("ph=6.8", "tan=0 N", "nitrite=0 N", "temp=25 C", "fish=warm")
    assert "not tested" not in reading.again(calm, READER)


def test_what_is_urgent_is_parted_from_what_can_wait():
    found = answer("tan=4 N", "ph=8", "temp=25", "fish=warm")
    assert reading.now(found, READER)[0].startswith("No feed")
    assert reading.later(found, READER)[-1].startswith("Find the cause")
    assert reading.actions(found, READER) == [*reading.now(found, READER), *reading.later(found, READER)]


def test_dangers_in_short_tell_of_what_burns_people():
    found = answer("tan=1 N", "ph=8.3", "temp=25", "fish=warm")
    said = [reading.warned_shortly(one, READER) for one in reading.pertinent(found)]
    (acid,) = [text for text in said if "Acid" in text]
    assert "Never acid or ammonia with bleach" in acid
    assert acid.startswith("Not now: ")
    assert "untreated tap water" in reading.never(found, READER)
    assert "untreated tap water" not in " ".join(said).casefold()


def test_a_line_of_what_never_helps_stands_alone_where_nothing_tempts():
    assert reading.never(answer("signs=gasping"), READER).startswith("Do not, as on any bad day: ")
    assert reading.never(answer("ph=8.3", "fish=warm", "temp=25"), READER).startswith(
        "Nor, as on any bad day: "
    )
    assert reading.never(answer("ph=7", "fish=warm"), READER) == ""
