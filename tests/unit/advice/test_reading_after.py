"""What to expect after each action: by what new water brings, and by what was done before."""

import re
from dataclasses import replace

import pytest

from aquacalc import words
from aquacalc.advice.reading import actions, given
from aquacalc.advice.reading.action import Action
from aquacalc.advice.reading.actions import Answer
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden, Product
from aquacalc.sentences import reading
from aquacalc.water import ammonia
from aquacalc.words import Reader

WARM = ("temp=25", "fish=warm")


def answer(*typed: str, of: Garden | None = None) -> Answer:
    return actions.answer(given.read(typed, of))


def action(key: str, *typed: str, of: Garden | None = None) -> Action:
    return next(one for one in answer(*typed, of=of).actions if one.key == key)


def expected(one: Action) -> dict[str, float]:
    return {amount.name: amount.number for amount in one.expected}


def test_the_ammonia_of_chloramine_is_counted_in():
    clean = action("change", "tan=4 N", "ph=8", "new-water=rain", *WARM)
    assert expected(clean)["tan"] == pytest.approx(2.0)
    assert clean.notes == ()
    # 2 mg/L of chloramine leave 0.44 mg/L of ammonia in the new half.
    treated = action("change", "tan=4 N", "ph=8", "new-water=chloramine 2", *WARM)
    assert expected(treated)["tan"] == pytest.approx(2.0 + 0.5 * 0.44)
    fraction = float(ammonia.unionised_fraction(8.0, 25.0))
    assert expected(treated)["unionised-ammonia"] == pytest.approx(2.22 * fraction)
    (freed,) = (one.amounts[0] for one in treated.notes if one.key == "reading-new-freed")
    assert (freed.low, freed.high) == pytest.approx((0.40, 0.50))


def test_chlorine_leaves_no_ammonia_behind():
    found = action("change", "tan=4 N", "ph=8", "new-water=chlorine 2", *WARM)
    assert expected(found)["tan"] == pytest.approx(2.0)


def test_the_gardens_own_nitrate_stays_after_a_change():
    of_yard = GardenFile.open("demo:yard").garden
    found = action("nitrate", "nitrate=300 N", "temp=79", of=of_yard)
    assert expected(found)["nitrate"] == pytest.approx(0.75 * 300.0 + 0.25 * 1.1)
    of_typed = action("nitrate", "nitrate=300 N", "new-water=nitrate 20 N", *WARM)
    assert expected(of_typed)["nitrate"] == pytest.approx(230.0)


def test_nitrite_of_new_water_counts():
    found = action("change", "nitrite=2 N", "new-water=rain, nitrite 0.2 N", *WARM)
    assert expected(found)["nitrite"] == pytest.approx(1.55)


def test_values_rest_on_all_that_was_done_before():
    typed = ("tan=4 N", "nitrite=2 N", "nitrate=600 N", "ph=8", "new-water=rain, chloride 10", *WARM)
    assert expected(action("change", *typed))["tan"] == pytest.approx(2.0)
    # Half of the water is new: nitrite 1, chloride 5 of the new water; 15 are missing to 20 times.
    chloride = action("chloride", *typed)
    assert chloride.amounts[0].number == pytest.approx(15.0)
    assert expected(chloride)["chloride"] == pytest.approx(20.0)
    assert expected(action("nitrate", *typed))["nitrate"] == pytest.approx(0.75 * 300.0)


def test_chloride_is_thinned_by_the_change_that_follows_it():
    found = action("change", "nitrite=2 N", "new-water=rain", *WARM)
    assert expected(found) == pytest.approx({"nitrite": 1.5, "chloride": 30.0})


def test_a_change_that_brings_enough_chloride_needs_none():
    typed = ("tan=4 N", "nitrite=0.4 N", "ph=8", "new-water=rain, chloride 44", *WARM)
    found = [one.key for one in answer(*typed).actions]
    assert "nitrite-chloride-then" in found
    assert "chloride" not in found


def test_new_water_with_as_much_ammonia_is_no_help():
    found = answer("tan=0.8 N", "ph=8.6", "new-water=chloramine 4", *WARM)
    (change,) = [one for one in found.actions if one.key.startswith("change")]
    assert change.key == "change-no-gain"
    assert change.amounts[0].number == pytest.approx(0.88)


def test_hard_new_water_lifts_ph_and_says_so():
    typed = ("nitrite=2 N", "tan=0.5 N", "ph=6.2", "kh=10 mg/L CaCO3", *WARM)
    soft = action("change", *typed, "new-water=none, ph 6.2, kh 10 mg/L CaCO3")
    assert expected(soft).get("ph", 6.2) == pytest.approx(6.2, abs=0.01)
    assert "reading-new-ph" not in [note.key for note in soft.notes]
    hard = action("change", *typed, "new-water=none, ph 8, kh 170 mg/L CaCO3")
    # By alkalinity and carbon, never the mean of both pH, 6.65.
    assert expected(hard)["ph"] > 6.9
    assert "reading-new-ph" in [note.key for note in hard.notes]


def test_where_less_hard_water_at_a_time_does_no_harm_less_is_changed_with_a_test_between():
    # Half of it with this water would lift pH over 7.8, where the tank had not been.
    typed = ("nitrite=2 N", "tan=0 N", "ph=7.5", "kh=40 mg/L CaCO3", "litres=1000", *WARM)
    less = action("change-litres", *typed, "new-water=none, ph 8.3, kh 250 mg/L CaCO3")
    assert less.amounts[0].number == 0.1
    assert "reading-less-at-a-time" in [note.key for note in less.notes]


def test_hard_new_water_is_refused_where_it_would_wake_ammonia():
    typed = ("tan=25 N", "ph=5.8", "kh=10 mg/L CaCO3", "new-water=rain, ph 8, kh 250 mg/L CaCO3", *WARM)
    found = answer(*typed)
    keys = [one.key for one in found.actions]
    assert "change-other" in keys
    assert not {"change", "change-litres"} & set(keys)
    told = {amount.name: amount.number for amount in action("change-other", *typed).amounts}
    assert told["unionised"] >= 0.05


def test_where_the_mixture_cannot_be_reckoned_both_ends_of_its_ph_are_told():
    found = action("change", "tan=5 N", "ph=7.5", "new-water=rain, ph 7.6", *WARM)
    (there,) = [amount for amount in found.expected if amount.name == "unionised-ammonia"]
    tan = expected(found)["tan"]
    ends = [tan * float(ammonia.unionised_fraction(ph, 25.0)) for ph in (7.5, 7.6)]
    assert [there.low, there.high] == pytest.approx(ends)
    assert "reading-new-ph-not-known" in [note.key for note in found.notes]
    lower = action("change", "tan=5 N", "ph=7.5", "new-water=rain, ph 7", *WARM)
    assert not any(amount.banded for amount in lower.expected)
    # Where the higher end would be worse than the tank now, other water is asked for.
    assert action("change-other", "tan=5 N", "ph=7.5", "new-water=rain, ph 8", *WARM)


def test_what_new_water_is_taken_to_be_free_of_is_said():
    def said(*typed: str) -> list[str]:
        notes = answer(*typed, *WARM).judgement.assumed
        return [str(note.amounts[0].value) for note in notes if note.key == "reading-assumed-new-water"]

    assert said("tan=4 N", "ph=8", "nitrate=600 N") == ["tan nitrate"]
    assert said("tan=4 N", "ph=8", "new-water=rain, tan 0") == []
    assert said("tan=0.1 N", "ph=7") == []


def test_a_base_waits_where_the_water_was_changed():
    typed = ("nitrite=2 N", "tan=0 N", "ph=6.2", "kh=18 mg/L CaCO3", *WARM)
    keys = [one.key for one in answer(*typed).actions]
    assert "base-after-change" in keys
    assert "base" not in keys


def test_the_cost_of_one_draw_and_of_many_is_one_code():
    typed = given.read(["tan=2 N", "ph=7.6", "temp=26", "fish=warm"])
    many, one = actions.answer(typed), actions.answer(typed, draws=1)
    value = many.judgement.of("unionised_ammonia")
    single = one.judgement.of("unionised_ammonia")
    assert value is not None
    assert single is not None
    assert single.low == single.high
    assert value.low < value.value < value.high
    assert one.judgement.level == many.judgement.level


# --- a school ----------------------------------------------------------------------------------------------

TROUBLES = (
    ("tan=0", "ph=6.2", "kh=1", "temp=20"),
    ("tan=0", "ph=5.6", "kh=0.5", "temp=20"),
    ("ph=5.6",),
    ("ph=9", "temp=20"),
    ("nitrite=4 N", "temp=20"),
    ("tan=2", "ph=8", "temp=20", "chlorine=0.4"),
    ("signs=gasping,brown gills", "salt=0.6"),
    ("kh=12 dKH", "ph=8.4", "nitrate=300 N"),
)


@pytest.mark.parametrize("typed", TROUBLES, ids=str)
def test_in_a_school_nothing_that_burns_is_named_as_something_to_add(typed: tuple[str, ...]):
    harsh = (
        *(
            "potassium_hydroxide",
            "calcium_hydroxide",
            "magnesium_hydroxide",
            "hydrochloric_acid",
            "nitric_acid",
        ),
        *("ammonium_chloride", "calcium_chloride_anhydrous"),
    )
    shelf = tuple(Product(name, name, 90.0, 3.0) for name in harsh)
    school = replace(GardenFile.open("demo:classroom").garden, products=shelf)
    found = answer(*typed, of=school)
    goods = [one.goods.chemical for one in found.actions if one.goods is not None]
    assert not set(goods) & set(harsh)
    said = [words.finding(one.finding, Reader()).action for one in found.warned]
    said += reading.actions(found, Reader())
    burns = re.compile(r"\b(acid|lye|lime|hydrox\w+|ammonium|caustic)\b", re.IGNORECASE)
    assert [text for text in said if burns.search(text)] == []


def test_outside_a_school_the_same_shelf_is_used():
    lime = (Product("Lime", "calcium_hydroxide", 93.0, 3.1),)
    home = replace(GardenFile.open("demo:yard").garden, products=lime)
    found = action("base", "tan=0", "ph=6.5", "kh=1 dKH", "temp=72", of=home)
    assert found.goods is not None
    assert found.goods.chemical == "calcium_hydroxide"


def test_where_the_tanks_ph_was_not_measured_new_water_is_set_against_the_one_that_is_assumed():
    typed = ("tan=4 N", "new-water=rain, ph 7.9", *WARM)
    (note,) = [one for one in action("change", *typed).notes if one.key.startswith("reading-new-ph")]
    assert note.key == "reading-new-ph-assumed"
    assert {one.name: one.number for one in note.amounts} == {"ph": 7.9, "assumed": 7.8}
    measured = action("change", "ph=7.8", *typed).notes
    assert [one.key for one in measured] == ["reading-new-ph-not-known"]
    assert action("change", "tan=4 N", "new-water=rain, ph 7.6", *WARM).notes == ()
