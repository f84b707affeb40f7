"""Each of the nine dangerous actions is blocked or warned of where a reading brings it near."""

import math
import re

import pytest
from fluent.syntax import FluentParser
from fluent.syntax import ast as ftl

from aquacalc import tables, words
from aquacalc.advice.reading import actions, given
from aquacalc.advice.reading.dangers import Danger, Warned
from aquacalc.garden.file import GardenFile
from aquacalc.words import Reader

WARM = ("temp=25", "fish=warm")
OLD_WATER = ("tan=20 N", "ph=5.8", "kh=10 mg/L CaCO3", *WARM)

# What was read, the action, whether it is blocked, and the key of its texts.
CASES: list[tuple[tuple[str, ...], str, Danger, bool, str]] = [
    (OLD_WATER, "", "base", True, "finding-ammonia-reading-base"),
    (("ph=5.8", "kh=1 dKH", *WARM), "", "base", True, "finding-ammonia-reading-not-known"),
    (("tan=>6 N", "ph=6", *WARM), "", "base", True, "finding-ammonia-reading-not-known"),
    (("tan=3 N", "ph=6.8", "kh=40 mg/L CaCO3", *WARM), "", "strong_air", False, ""),
    (("tan=5 N", "ph=6.8", "kh=40 mg/L CaCO3", *WARM), "", "strong_air", True, "finding-ammonia-reading-air"),
    (
        ("tan=5 N", "ph=6.8", "kh=40 mg/L CaCO3", "oxygen=2", *WARM),
        "",
        "strong_air",
        False,
        "finding-ammonia-reading-air",
    ),
    (("tan=0 N", "ph=6", "kh=1 dKH", *WARM), "", "hydroxide", False, "finding-ph-reading-hydroxide"),
    (OLD_WATER, "", "hydroxide", True, "finding-ph-reading-hydroxide"),
    (("tan=0 N", "ph=6", *WARM), "", "hydroxide", True, "finding-ph-reading-hydroxide-not-known"),
    (
        ("tan=0 N", "ph=7.1", "kh=0 dKH", *WARM),
        "",
        "hydroxide",
        True,
        "finding-ph-reading-hydroxide-does-not-fit",
    ),
    (("tan=0", "ph=6"), "classroom", "hydroxide", True, "finding-ph-reading-hydroxide-school"),
    (("tan=4 N", "ph=7.4", "new-water=rain", *WARM), "", "untreated", True, ""),
    (("signs=gasping",), "", "untreated", True, "finding-chlorine-reading-untreated"),
    (("ph=8.3",), "classroom", "acid", True, "finding-ph-reading-acid-school"),
    (("salt=0.6",), "", "salt", False, "finding-nitrite-reading-salt"),
    (("tan=4 N", "ph=7.4", *WARM), "", "untreated", True, "finding-chlorine-reading-untreated"),
    (("ph=8.3", *WARM), "", "acid", True, "finding-ph-reading-acid"),
    (("nitrite=2 N", *WARM), "", "salt", False, "finding-nitrite-reading-salt"),
    (("nitrite=2 N", *WARM), "", "filter", True, "finding-ammonia-reading-filter"),
    (("ph=8.3", *WARM), "", "one_reading", False, "finding-kit-reading-one"),
    (OLD_WATER, "", "large_change", True, "finding-ammonia-reading-large-change"),
]


def warned(typed: tuple[str, ...], garden: str = "") -> dict[str, Warned]:
    of = GardenFile.open(f"demo:{garden}").garden if garden else None
    return {one.danger: one for one in actions.answer(given.read(typed, of)).warned}


@pytest.mark.parametrize(("typed", "garden", "danger", "blocked", "key"), CASES, ids=str)
def test_a_dangerous_action_is_blocked_or_warned_of(
    typed: tuple[str, ...], garden: str, danger: Danger, blocked: bool, key: str
):
    found = warned(typed, garden)
    if not key:
        assert danger not in found
        return
    assert found[danger].blocked == blocked
    assert found[danger].finding.key == key


@pytest.mark.parametrize("reader", [Reader(), Reader(units="us")], ids=lambda reader: reader.units)
def test_every_text_of_a_danger_can_be_said(reader: Reader):
    said = set()
    for typed, garden, *_ in CASES:
        for one in warned(typed, garden).values():
            spoken = words.finding(one.finding, reader)
            for text in (spoken.title, spoken.why, spoken.action, spoken.avoid):
                assert text
                assert not {"nan", "inf"} & set(text.split())
            assert set(one.finding.sources) <= set(tables.load("sources").keys())
            said.add(one.finding.key)
    catalogue = FluentParser().parse((tables.DATA / "words.en.ftl").read_text("utf-8"))
    held = {one.id.name for one in catalogue.body if isinstance(one, ftl.Message)}
    assert said == {key for key in held if re.match(r"finding-[a-z]+-reading-", key)}


def test_all_nine_have_a_case():
    assert {danger for _, _, danger, _, key in CASES if key} == set(Danger.__args__)  # type: ignore[attr-defined]


def test_quiet_water_warns_of_nothing():
    assert warned(("tan=0.1 N", "nitrite=0", "ph=7", "kh=40 mg/L CaCO3", "oxygen=8", *WARM)) == {}


@pytest.mark.parametrize(("oxygen", "blocked"), [("7", True), ("4.5", False), ("2", False)])
def test_air_is_not_blocked_where_oxygen_is_short(oxygen: str, blocked: bool):
    found = warned(("tan=5 N", "ph=6.8", "kh=40 mg/L CaCO3", f"oxygen={oxygen}", *WARM))
    assert found["strong_air"].blocked == blocked


def test_what_the_reading_tempts_to_comes_first_and_then_what_is_blocked():
    for typed in (OLD_WATER, ("tan=5 N", "nitrite=2 N", "ph=8.3", *WARM)):
        states = [(one.pertinent, one.blocked) for one in warned(typed).values()]
        assert states == sorted(states, reverse=True)
        assert {pertinent for pertinent, _ in states} == {True, False}


@pytest.mark.parametrize(
    ("typed", "pertinent"),
    [
        (OLD_WATER, {"base", "strong_air", "hydroxide", "large_change"}),
        (("tan=5 N", "ph=6.8", "kh=40 mg/L CaCO3", *WARM), {"base", "strong_air"}),
        (("ph=8.3", *WARM), {"acid"}),
        (("nitrite=2 N", *WARM), {"salt"}),
        (("chlorine=0.5", *WARM), {"untreated"}),
        (("tan=0 N", "ph=6", "kh=1 dKH", *WARM), {"hydroxide", "one_reading"}),
        (("oxygen=2", *WARM), set()),
    ],
)
def test_only_what_this_reading_tempts_to_is_told_at_length(typed: tuple[str, ...], pertinent: set[Danger]):
    assert {one.danger for one in warned(typed).values() if one.pertinent} == pertinent


@pytest.mark.parametrize(("signs", "blocked"), [("", True), ("signs=gasping", False)])
def test_air_is_not_blocked_where_fish_gasp_and_oxygen_is_not_known(signs: str, blocked: bool):
    typed = tuple(filter(None, ("tan=5 N", "ph=6.8", "kh=40 mg/L CaCO3", signs, *WARM)))
    assert warned(typed)["strong_air"].blocked == blocked
    assert warned((*typed, "oxygen=8"))["strong_air"].blocked


def test_the_ammonia_of_the_final_ph_is_told():
    # 20 mg/L of TAN at 25 C hold 0.35 mg/L un-ionised at pH 7.5 (worked example of the reference).
    found = warned(("tan=20 N", "ph=7.5", *WARM))["base"].finding
    amounts = {amount.name: amount.number for amount in found.amounts}
    assert amounts["ph"] == 7.8
    assert amounts["unionised"] > 0.35
    assert amounts["line"] == 0.05
    assert not math.isnan(amounts["unionised"])
