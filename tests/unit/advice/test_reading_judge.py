"""Levels of single readings and of what they say together."""

import math

import pytest

from aquacalc.advice.reading import given, judge
from aquacalc.advice.reading.judge import Judgement
from aquacalc.garden.file import GardenFile
from aquacalc.judge.levels import Level
from aquacalc.judge.water import Judged


def judged(*typed: str, garden: str = "") -> Judgement:
    of = GardenFile.open(f"demo:{garden}").garden if garden else None
    return judge.judge(given.read(typed, of))


def one(found: Judgement, parameter: str) -> Judged:
    judged_one = found.of(parameter)
    assert judged_one is not None
    return judged_one


# The worked example of the growers' questions: TAN 2 mg/L as N at 26 C, fish of warm water.
@pytest.mark.parametrize(
    ("ph", "unionised", "level"),
    [("7.6", 0.047, "watch"), ("6.6", 0.005, "fine"), ("8.2", 0.18, "emergency")],
)
def test_worked_example_of_un_ionised_ammonia(ph: str, unionised: float, level: Level):
    found = judged("tan=2 N", f"ph={ph}", "temp=26", "fish=warm")
    assert one(found, "unionised_ammonia").value == pytest.approx(unionised, abs=0.006)
    assert one(found, "unionised_ammonia").level == level


def test_the_range_holds_the_errors_of_ph_and_tan():
    found = one(judged("tan=2 N", "ph=7.6", "temp=26", "fish=warm"), "unionised_ammonia")
    # An error of 0.2 in pH is a factor of 1.6 either way, and TAN errs by a quarter.
    assert 1.6 < found.high / found.value < 2.4
    assert 1.6 < found.value / found.low < 2.4
    assert found.level_high == "act today"


def test_a_kits_own_steps_make_the_range():
    found = one(judged("tan=1.2 N", "ph=7", "temp=79F", garden="yard"), "unionised_ammonia")
    # Half-way to the neighbours: TAN 0.9 to 1.85, pH 6.8 to 7.2.
    assert found.low > 0.9 * 0.0038
    assert found.high < 1.85 * 0.0095


@pytest.mark.parametrize(
    ("typed", "parameter", "level", "or_worse"),
    [
        (("tan=0.4", "fish=warm"), "tan", "not known", False),
        (("tan=0.4 N", "fish=warm"), "tan", "fine", False),
        (("tan=>0.4 N", "fish=warm"), "tan", "not known", True),
        (("tan=>4 N", "ph=7", "temp=25", "fish=warm"), "tan", "act today", True),
        (("nitrite=<0.2 N", "fish=warm"), "nitrite", "fine", False),
        (("nitrite=<0.3 N", "fish=cold"), "nitrite", "not known", False),
        (("nitrite=<0.3", "fish=warm"), "nitrite", "not known", False),
        (("nitrite=0.3", "fish=cold"), "nitrite", "act today", False),
        (("oxygen=>9", "fish=cold"), "oxygen", "fine", False),
        (("oxygen=<3.5", "fish=warm"), "oxygen", "act today", True),
        (("ph=<7", "fish=warm"), "ph", "not known", True),
        (("kh=0", "fish=warm"), "alkalinity", "emergency", False),
        (("chlorine=0",), "chlorine", "not known", False),
        (("chlorine=<0.5",), "chlorine", "not known", False),
        (("chlorine=0.05",), "chlorine", "emergency", False),
        (("temp=24", "fish=rainbow_trout"), "temperature", "emergency", False),
        (("nitrate=60 N", "fish=cold"), "nitrate", "watch", False),
    ],
)
def test_levels(typed: tuple[str, ...], parameter: str, level: Level, or_worse: bool):
    found = one(judged(*typed), parameter)
    assert (found.level, found.or_worse) == (level, or_worse)


def test_without_fish_the_lines_of_cold_water_count():
    assert one(judged("oxygen=5.5"), "oxygen").level == "act today"
    assert one(judged("oxygen=5.5", "fish=warm"), "oxygen").level == "fine"


def test_nitrite_is_judged_against_chloride():
    assert one(judged("nitrite=1.9 N", "fish=warm"), "nitrite").level == "emergency"
    assert one(judged("nitrite=1.9 N", "chloride=40", "fish=warm"), "nitrite").level == "act today"
    keys = [note.key for note in judged("nitrite=1.9 N", "fish=warm").assumed]
    assert keys == ["reading-assumed-chloride"]


def test_without_ph_and_temperature_the_severe_ones_are_assumed_and_said():
    found = judged("tan=1 N", "fish=warm")
    assert (found.ph, found.temperature_c) == (7.8, 30.0)
    assert one(found, "unionised_ammonia").value == pytest.approx(0.049, abs=0.002)
    assert [note.key for note in found.assumed] == ["reading-assumed-ph", "reading-assumed-warm"]


def test_with_a_garden_its_warmest_month_is_assumed():
    found = judged("tan=1", "ph=7", garden="yard")
    assert found.temperature_c == found.given.season_high_c
    assert "reading-assumed-season" in [note.key for note in found.assumed]


def test_what_rests_on_assumptions_is_never_fine():
    assert one(judged("tan=0.2 N", "ph=6.8", "fish=warm"), "unionised_ammonia").level == "not known"
    assert one(judged("tan=0.2 N", "ph=6.8", "temp=24", "fish=warm"), "unionised_ammonia").level == "fine"


def test_carbon_dioxide_from_ph_and_alkalinity():
    # 25 C, pH 7.0, alkalinity 100, 0.002 mol/kg of ions: 18.79 mg/L by PHREEQC.
    found = judged("ph=7", "kh=100 mg/L CaCO3", "temp=25", "ec=125 uS/cm", "fish=warm")
    assert one(found, "carbon_dioxide").value == pytest.approx(18.79, rel=0.003)
    assert one(found, "carbon_dioxide").level == "watch"
    # A bare number is taken at its severest: for carbon dioxide as degrees of hardness, in cold water.
    bare, told = judged("ph=7", "kh=5", "fish=warm"), judged("ph=7", "kh=5 dKH", "temp=4", "fish=warm")
    assert one(bare, "carbon_dioxide").value == pytest.approx(one(told, "carbon_dioxide").value)
    assert judged("ph=7", "kh=5", "temp=25", "fish=warm").of("alkalinity").level == "act today"


def test_without_a_conductivity_the_ions_of_usual_loop_water_count_as_in_doses():
    dioxide = [
        one(judged("ph=7", "kh=100 mg/L CaCO3", "temp=25", "fish=warm", *ec), "carbon_dioxide").value
        for ec in ((), ("ec=600 uS/cm",), ("ec=125 uS/cm",))
    ]
    assert dioxide[0] == pytest.approx(dioxide[1])
    assert dioxide[0] < dioxide[2]


def test_readings_that_do_not_go_together_are_asked_about():
    def asked(*typed: str) -> list[str]:
        return [note.key for note in judged(*typed, "fish=warm").asked]

    assert "reading-ask-carbon" in asked("ph=6", "kh=10 dKH", "temp=25")
    assert "reading-ask-no-nitrite" in asked("tan=1 N", "nitrite=0")
    assert "reading-ask-soft" in asked("kh=10 dKH", "gh=4 dGH")
    assert "reading-ask-no-buffer" in asked("kh=0.5 dKH", "ph=7.6")
    assert "reading-ask-no-buffer" not in asked("kh=1 dKH", "ph=7.6")
    assert "reading-ask-oxygen" in asked("oxygen=14", "temp=25")
    assert "reading-ask-end" in asked("tan=>6 N")
    assert "reading-ask-no-nitrate" in asked("nitrate=0")
    assert asked("ph=7", "temp=25", "oxygen=7") == []


def test_the_deadly_sequence_is_named():
    keys = [note.key for note in judged("tan=8 N", "ph=5.8", "temp=25", "fish=warm").notes]
    assert keys == ["reading-note-old-water"]


def test_the_whole_is_as_urgent_as_its_worst_part():
    assert judged("oxygen=2", "ph=7", "fish=warm").level == "emergency"
    assert judged("ph=7", "tan=0.1", "fish=warm").level == "not known"
    assert judged("ph=7", "fish=warm").level == "fine"


def test_off_scale_ammonia_has_no_upper_end():
    found = one(judged("tan=>6 N", "ph=7", "temp=25", "fish=warm"), "unionised_ammonia")
    assert found.high == math.inf
    assert found.level_high == "emergency"
