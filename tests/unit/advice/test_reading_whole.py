"""An answer judged as a whole: what earlier steps do counts for later ones; what is not told is severest."""

from dataclasses import replace

import pytest

from aquacalc.advice import triage
from aquacalc.advice.doses import planning
from aquacalc.advice.doses.request import Request
from aquacalc.advice.reading import actions, base, given
from aquacalc.advice.reading.actions import Answer
from aquacalc.garden.file import GardenFile
from aquacalc.judge.levels import URGENCY
from aquacalc.sentences import reading
from aquacalc.words import Reader

WARM = ("temp=25", "fish=warm")


def answer(*typed: str, garden: str = "") -> Answer:
    of = GardenFile.open(f"demo:{garden}").garden if garden else None
    return actions.answer(given.read(typed, of))


def keys(*typed: str, garden: str = "") -> list[str]:
    return [one.key for one in answer(*typed, garden=garden).actions]


def level(parameter: str, *typed: str) -> str:
    one = answer(*typed).judgement.of(parameter)
    assert one is not None
    return one.level


def test_hard_tap_water_into_old_water_is_not_followed_by_air_that_wakes_ammonia():
    # 16 mg/L at pH 5.5; a quarter of hard water and hard bubbling came to pH 7.4, 0.21 mg/L un-ionised.
    found = keys("tan=16 N", "ph=5.5", "kh=4 mg/L CaCO3", "temp=28C", garden="yard")
    assert "change-other" in found
    assert not {"change", "change-litres", "air", "dioxide", "base"} & set(found)


def test_air_is_judged_with_the_alkalinity_that_a_change_has_brought():
    water = ("tan=9 N", "ph=6.9", "kh=20 mg/L CaCO3", "new-water=none, ph 8, kh 120 mg/L CaCO3", *WARM)
    assert not {"air", "dioxide"} & set(keys(*water))


def test_a_bare_alkalinity_does_not_hide_carbon_dioxide():
    water = ("ph=6.6", "temp=24", "fish=warm")
    assert level("carbon_dioxide", "kh=187 mg/L CaCO3", *water) == "emergency"
    assert level("carbon_dioxide", "kh=187", *water) == "emergency"
    assert level("carbon_dioxide", "kh=187", "ph=6.6", "fish=warm") == "emergency", "untold warmth"


def test_a_clean_reading_of_an_untold_kit_gives_no_reason_to_dose():
    found = answer("nitrite=<0.3", "fish=warm", "litres=900")
    assert found.judgement.level == "not known"
    assert [one.key for one in found.actions] == ["test-more"]
    assert [one.goods for one in found.actions] == [None]
    asked = reading.notes(found.judgement.asked, Reader())
    assert any("basis" in text for text in asked), asked


def test_not_known_has_a_place_among_the_levels_of_a_sign():
    for typed in (("tan=4 N", "ph=<7"), ("tan=0.2", "ph=6.0"), ("tan=4 N", "ph=6.0")):
        found = answer(*typed, "temp=25", "fish=warm", "signs=gasping")
        assert triage.levels_of(found.judgement)["ammonia"] in URGENCY
        assert triage.triage_of("gasping", answer=found).likely


def test_a_sign_asks_for_the_same_other_water_as_the_reading():
    found = answer("tan=16 N", "ph=5.5", "kh=4 mg/L CaCO3", "temp=28C", "signs=gasping", garden="yard")
    steps = triage.triage_of("gasping", answer=found).steps
    assert "change-other" in [step.action.key for step in steps if step.action is not None]
    assert not any(step.key.startswith("triage-do-change-part") for step in steps)
    left = [one.key for one in triage.not_told(triage.triage_of("gasping", answer=found), found).actions]
    assert "change-other" not in left, "it is said once"


def test_much_ammonia_in_sour_water_stops_the_feed():
    # This pH asks for base, and with this ammonia none may go in.
    assert "feed-base" in keys("tan=8 N", "ph=6.0", *WARM)
    assert not [key for key in keys("tan=8 N", "ph=6.6", *WARM) if key.startswith("feed")]


def test_no_warning_of_a_ph_that_is_there_already():
    found = answer("tan=2 N", "ph=8.1", "kh=60 mg/L CaCO3", *WARM)
    assert "strong_air" not in [one.danger for one in found.warned]


def test_untold_treatment_of_new_water_is_told_as_untold():
    found = answer("tan=8 N", "ph=7.9", "new-water=ph 7.9", *WARM)
    notes = [note.key for one in found.actions for note in one.notes]
    assert "reading-new-freed-may-be" in notes
    assert "reading-new-freed" not in notes
    brings = [str(note.amounts[0].value) for note in found.judgement.assumed if "new-water" in note.key]
    assert not any("tan" in one.split() for one in brings), brings


def test_heat_that_kills_offers_to_take_fish_for_the_kitchen():
    assert "harvest" in keys("temp=25", "fish=rainbow_trout")
    assert "harvest" not in keys("temp=34", "fish=goldfish")


def test_acid_that_the_water_cannot_take_stays_on_the_shelf():
    found = answer("chlorine=4", "kh=2 mg/L CaCO3", "ph=6.0", "temp=20", garden="classroom")
    (step,) = [one for one in found.actions if one.key.startswith("chlorine")]
    assert step.goods is not None
    assert step.goods.chemical != "ascorbic_acid"
    assert "reading-acid-too-much" in [note.key for note in step.notes]


@pytest.mark.parametrize("ph", [5.2, 6.0, 6.6, 7.0, 7.1, 7.19])
@pytest.mark.parametrize("alkalinity", [3.0, 6.0, 10.0, 15.0, 18.0])
@pytest.mark.parametrize("celsius", [8.6, 25.0])
def test_a_portion_that_is_offered_would_be_planned(ph: float, alkalinity: float, celsius: float):
    water = (f"ph={ph}", f"kh={alkalinity} mg/L CaCO3", f"temp={celsius}")
    found = answer("tan=0.5 N", *water, "fish=warm", "litres=800")
    for one in found.actions:
        if one.key == "base" and one.goods is not None:
            wished = alkalinity + one.amounts[0].number
            of = one.goods.chemical
            wish = Request(of, "alkalinity", wished, 800.0, ph, alkalinity, celsius, tan_mg_l=0.5)
            assert planning.plan(wish).refusal is None
            # The whole wish may take many days, but nothing else speaks against it.
            missing = base.base_of(found.judgement).missing_mg_l
            whole = planning.plan(replace(wish, wished=alkalinity + missing)).refusal
            assert whole is None or whole.reason == "too-many"
