"""What was typed for one reading: names, units and bases; the severest reading; all problems at once."""

import math
from dataclasses import replace

import pytest

from aquacalc import words
from aquacalc.advice.reading import given, pairs
from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.words import Reader


def garden(name: str) -> Garden:
    return GardenFile.open(f"demo:{name}").garden


def problems(*typed: str, of: Garden | None = None) -> list[str]:
    with pytest.raises(InputError) as caught:
        given.read(typed, of)
    return [words.problem(one, Reader()) for one in caught.value.problems]


@pytest.mark.parametrize(
    ("typed", "parameter", "value"),
    [
        ("tan=2", "tan", 2.0),
        ("TAN=2 NH3", "tan", 1.645),
        ("tan=2 mg/L as NH4", "tan", 1.553),
        ("ammonia=2 NH3-N", "tan", 2.0),
        ("tan=200 ug/L N", "tan", 0.2),
        ("nitrite=5 NO2", "nitrite", 1.522),
        ("nitrate=50 NO3", "nitrate", 11.3),
        ("temp=79F", "temperature", 26.11),
        ("temp=26", "temperature", 26.0),
        ("kh=4 dKH", "alkalinity", 71.39),
        ("alkalinity=40", "alkalinity", 40.0),
        ("ph=7,6", "ph", 7.6),
        ("ec=1.2 mS/cm", "conductivity", 1200.0),
        ("oxygen=6 1/2", "oxygen", 6.5),
    ],
)
def test_readings_in_the_workbooks_own_counts(typed: str, parameter: str, value: float):
    assert given.read([typed]).value(parameter) == pytest.approx(value, rel=1e-3)


@pytest.mark.parametrize(
    ("typed", "beyond", "low", "high"),
    [
        ("nitrite=<0.3 N", "below", -math.inf, 0.3),
        ("nitrite=>6 N", "above", 6.0, math.inf),
        ("tan=≥6 N", "above", 6.0, math.inf),
        ("ph=<= 6", "below", -math.inf, 6.0),
    ],
)
def test_an_off_scale_reading_is_open_on_its_side(typed: str, beyond: str, low: float, high: float):
    (one,) = given.read([typed]).measures.values()
    assert (one.beyond, one.low, one.high) == (beyond, low, high)


def test_without_a_basis_the_severest_is_read_and_said():
    one = given.read(["tan=2", "kh=4", "ph=7"])
    assert one.value("tan") == 2.0 >= given.read(["tan=2 NH3"]).value("tan")
    assert one.value("alkalinity") == 4.0 <= given.read(["kh=4 dKH"]).value("alkalinity")
    assert [note.key for note in one.assumed] == [
        "reading-assumed-n",
        "reading-assumed-caco3",
        "reading-assumed-cold",
    ]
    assert [row.key for row in one.species] == ["cold"]


def test_nothing_is_nothing_whatever_it_counts():
    assert given.read(["tan=0", "fish=warm"]).assumed == ()


def test_a_garden_tells_its_fish_litres_shelf_and_kit():
    one = given.read(["tan=0.5", "kh=1"], garden("classroom"))
    assert one.value("tan") == pytest.approx(0.5 * 14.007 / 17.031, rel=1e-3)
    assert one.value("alkalinity") == pytest.approx(17.848, rel=1e-3)
    assert one.measures["alkalinity"].low == pytest.approx(0.5 * 17.848, rel=1e-3)
    assert [row.key for row in one.species] == ["goldfish"]
    assert one.litres > 100.0
    assert (one.setting, one.assumed) == ("school", ())
    assert one.season_high_c > 15.0


def test_the_top_step_of_a_kit_is_open_upwards_and_its_lowest_downwards():
    one = given.read(["tan=6", "ph=5.8"], garden("yard"))
    assert (one.measures["tan"].beyond, one.measures["ph"].beyond) == ("above", "below")


def test_a_thinned_sample_reads_beyond_the_top_step_with_its_steps_as_much_wider():
    plain, thinned = (given.read([f"tan={one}"], garden("yard")).measures["tan"] for one in ("2.5", "2.5 x4"))
    assert thinned.value == pytest.approx(4.0 * plain.value)
    assert (thinned.low, thinned.high) == pytest.approx((4.0 * plain.low, 4.0 * plain.high))
    as_ion = given.read(["nitrite=2 NO2 x5"]).value("nitrite")
    assert as_ion == pytest.approx(10.0 * 14.007 / 46.005, rel=1e-3)
    assert given.read(["tan=6 x4"], garden("yard")).measures["tan"].beyond == "above"


@pytest.mark.parametrize("typed", ["ph=7 x5", "kh=3 x5", "tan=2 x0", "nitrate=40 x500"])
def test_what_cannot_be_thinned_is_told(typed):
    with pytest.raises(InputError) as found:
        given.read([typed])
    assert found.value.problems[0].key == "problem-reading-thinned"


def test_a_basis_of_its_own_does_not_take_the_kits_steps():
    assert math.isnan(given.read(["tan=6 NH3"], garden("yard")).measures["tan"].low)


def test_a_kit_whose_basis_is_not_told_leaves_the_severest():
    one = given.read(["nitrite=2"], garden("classroom"))
    assert one.value("nitrite") == 2.0
    assert not one.measures["nitrite"].told


def test_what_is_typed_wins_over_the_garden():
    one = given.read(["tan=1", "fish=rainbow trout", "litres=100 US gal"], garden("yard"))
    assert [row.key for row in one.species] == ["rainbow_trout"]
    assert one.litres == pytest.approx(378.5, abs=0.1)


def test_a_bare_temperature_is_in_the_gardens_degrees():
    assert given.read(["temp=79"], garden("yard")).value("temperature") == pytest.approx(26.1, abs=0.1)
    assert given.read(["temp=26"], garden("greenhouse")).value("temperature") == 26.0


def test_degrees_that_cannot_be_are_refused_and_the_other_ones_offered():
    assert "write 79F" in problems("temp=79")[0]
    assert "write 26C" in problems("temp=26", of=garden("yard"))[0]
    assert "-1 to 45" in problems("temp=300")[0]


def test_all_problems_come_at_once_each_with_its_range():
    said = problems("tan=500", "ph=14", "kh=<9000", "fish=trut", "litres=3", "ec=0", "nitrate=-1 NO3")
    assert len(said) == 7
    for text, part in zip(
        said,
        ("0 to 100 mg/L N", "2 to 12", "0 to 1500 mg/L CaCO3", "trut", "20 to 2", "0 to 60000", "0 to 3000"),
        strict=True,
    ):
        assert part in text


def test_names_that_mean_nothing_hide_no_value_that_cannot_be():
    said = problems("ph=17", "foo=3", "tan=-1", "x", "tan=two", "signs=gaspin,purple", "nitrit=1")
    parts = (
        *("2 to 12", "“foo” is no reading", "0 to 100 mg/L N", "write name=value"),
        *("more than once", "cannot be read", "“gasping”", "“purple” is not known", "“nitrite”"),
    )
    assert len(said) == len(parts)
    for text, part in zip(said, parts, strict=True):
        assert part in text


def test_the_sentence_for_unknown_names_offers_every_name():
    (said,) = problems("foo=3")
    assert {name for name in pairs.OFFERED if name in said.replace(",", "").replace(".", "").split()} == set(
        pairs.OFFERED
    )


@pytest.mark.parametrize(("typed", "g_l"), [("salt=0.5", 0.5), ("salt=300 mg/L", 0.3), ("salt=2 g/L", 2.0)])
def test_added_salt_counts_in_grams(typed: str, g_l: float):
    assert given.read([typed]).value("added_salt") == pytest.approx(g_l)


def test_too_much_salt_is_a_slip():
    assert "0 to 40 g/L" in problems("salt=300")[0]


@pytest.mark.parametrize(
    ("typed", "signs"),
    [
        ("gasping", ("gasping",)),
        ("brown gills, Gasping", ("gasping", "brown_gills")),
        ("jump,lying on the bottom,jumping", ("bottom", "jumping")),
        ("brown-gills", ("brown_gills",)),
    ],
)
def test_signs_of_the_fish(typed: str, signs: tuple[str, ...]):
    assert given.read([f"signs={typed}"]).signs == signs


def test_new_water_is_the_gardens_unless_it_is_typed():
    yard = garden("yard")
    own = given.read(["tan=1"], yard).new_water
    assert (own.disinfectant, own.chlorine_mg_l, own.value("nitrate")) == ("chloramine", 3.2, 1.1)
    # 0.20, 0.22 and 0.25 mg of nitrogen for each mg of chlorine in chloramine.
    assert (own.freed.low, own.freed.high) == pytest.approx((0.64, 0.8))
    assert own.brings("tan") == pytest.approx(0.704)
    typed = given.read(["tan=1", "new-water=chlorine 1, nitrate 22.1 NO3, tan 0.1 N"], yard).new_water
    assert (typed.chlorine_mg_l, typed.brings("tan")) == (1.0, 0.1)
    assert typed.brings("nitrate") == pytest.approx(5.0, rel=1e-2)
    assert not given.read(["tan=1"]).new_water.told


@pytest.mark.parametrize(
    ("typed", "chlorine", "freed"),
    [("chloramine", 4.0, 0.88), ("chlorine", 4.0, 0.0), ("rain", 0.0, 0.0), ("nitrate 3 N", 4.0, 0.88)],
)
def test_new_water_of_which_little_is_told_is_taken_at_its_severest(
    typed: str, chlorine: float, freed: float
):
    new = given.read(["tan=1", f"new-water={typed}"]).new_water
    assert (new.chlorine_mg_l, new.brings("tan")) == (chlorine, pytest.approx(freed))


@pytest.mark.parametrize(
    ("typed", "part"),
    [
        ("chlorin 2", "“chlorine”"),
        ("chloramine 50", "0 to 20 mg/L"),
        ("nitrate 5 XX", "new-water nitrate"),
        ("", "nothing to judge"),
    ],
)
def test_slips_in_new_water_are_named(typed: str, part: str):
    assert part in problems(f"new-water={typed}")[0]


def test_each_reading_knows_how_it_was_counted():
    one = given.read(["tan=2 NH3", "kh=4 dKH", "nitrite=1"]).measures
    assert one["tan"].scale is not None
    assert one["tan"].scale.basis == "NH3"
    assert one["alkalinity"].scale is not None
    assert one["alkalinity"].scale.basis == "dkh"
    assert one["nitrite"].scale is None
    own = given.read(["nitrite=1"], garden("yard")).measures["nitrite"].scale
    assert own is not None
    assert own.steps == (0.0, 0.15, 0.4, 1.0, 3.0)


@pytest.mark.parametrize(
    ("typed", "part"),
    [
        (("tam=2",), "the nearest known name is “tan”"),
        (("tan=2", "TAN=3"), "more than once"),
        (("tan",), "write name=value"),
        ((), "nothing to judge"),
        (("fish=warm",), "nothing to judge"),
        (("tan=2 NO3",), "none of the choices"),
        (("tan=two",), "cannot be read as a number"),
        (("tan=",), "nothing is written"),
        (("ph=>",), "nothing is written"),
        (("tan=1,200",), "two ways"),
    ],
)
def test_slips_are_named(typed: tuple[str, ...], part: str):
    assert part in problems(*typed)[0]


def test_the_merely_unlikely_is_kept_and_asked_about():
    one = given.read(["ph=9.4", "ec=5000", "fish=warm"])
    assert one.value("ph") == 9.4
    assert [note.key for note in one.asked] == ["reading-ask-unlikely"] * 2


def test_the_newest_kit_counts():
    kits = garden("yard").kits
    newer = replace(kits[0], start=None, scales=())
    assert (
        given.read(["tan=6"], replace(garden("yard"), kits=(*kits, newer))).measures["tan"].beyond == "above"
    )


def test_oxygen_in_percent_is_a_share_of_what_the_water_holds():
    found = given.read(["oxygen=80 %", "temp=20 C"])
    assert found.value("oxygen") == pytest.approx(0.8 * 9.09, abs=0.01)  # STDMETH's table: 9.09 mg/L at 20 C


def test_oxygen_in_percent_needs_the_temperature():
    with pytest.raises(InputError) as refused:
        given.read(["oxygen=80 %"])
    assert [one.key for one in refused.value.problems] == ["problem-oxygen-share"]
