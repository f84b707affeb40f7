"""Every finding fires where it should, stays away where it should, and is said with exactly its amounts."""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
import pytest
from fluent.syntax import FluentParser
from fluent.syntax import ast as ftl
from fluent.syntax.visitor import Visitor
from hand_made_calm import YEAR, balance, band, with_limit
from hand_made_garden import garden

from aquacalc import tables, words
from aquacalc.advice import findings
from aquacalc.advice.finding import Finding
from aquacalc.garden.model import (
    Away,
    Bed,
    CropPlan,
    Feed,
    FishBatch,
    Garden,
    Kit,
    KitScale,
    MonthlyClimate,
    Product,
    Sump,
)
from aquacalc.judge.levels import Level
from aquacalc.sizing.result import Balance
from aquacalc.uncertainty import Band
from aquacalc.words import Reader

READERS = (Reader(), Reader(units="us"))

# Findings that an ordinary garden has as well: what is fine, and the law to ask about.
ORDINARY = {"finding-oxygen-response-hand", "finding-law-species-noted"}


@dataclass(frozen=True)
class Case:
    """A change of the ordinary garden and balance that a finding answers to."""

    key: str
    level: Level
    subject: str = ""
    of_garden: Callable[[Garden], Garden] = lambda before: before
    of_balance: Callable[[Balance], Balance] = lambda before: before
    months: tuple[int, ...] = ()


SUMMER = np.array([500.0] * 5 + [40.0, 30.0, 40.0] + [500.0] * 4)
NEAR_IN_JULY = np.array([500.0] * 6 + [55.0] + [500.0] * 5)


def water(middle: float, low: float | None = None, high: float | None = None, months: tuple[int, ...] = (7,)):
    """July's water; all other months stay at 24 C."""

    def change(before: Balance) -> Balance:
        values = [before.water_c.low.copy(), before.water_c.middle.copy(), before.water_c.high.copy()]
        ends = (middle - 1.0 if low is None else low, middle, middle + 1.0 if high is None else high)
        for value, end in zip(values, ends, strict=True):
            for month in months:
                value[month - 1] = end
        return replace(before, water_c=Band(*values))

    return change


def saturation(mg_l: float):
    def change(before: Balance) -> Balance:
        return replace(before, saturation_mg_l=band(mg_l * YEAR, 0.01))

    return change


def drift(mg_l_day: float, uptake_g: float = 0.9):
    def change(before: Balance) -> Balance:
        plants = replace(
            before.plants, drift_mg_n_l_day=band(mg_l_day * YEAR), uptake_g_n_day=band(uptake_g * YEAR)
        )
        return replace(before, plants=plants)

    return change


def outage(**changed: object):
    def change(before: Balance) -> Balance:
        assert before.outage is not None
        return replace(before, outage=replace(before.outage, **changed))

    return change


def both(*changes: Callable):
    def change(before):
        for one in changes:
            before = one(before)
        return before

    return change


def raised(before: Balance) -> Balance:
    assert before.biofilter is not None
    return replace(before, biofilter=replace(before.biofilter, nitrite_target_mg_l=0.8, nitrite_raised=True))


def part(name: str, **changed: object):
    """A garden with one part changed."""
    return lambda before: replace(before, **{name: replace(getattr(before, name), **changed)})


def whole(**changed: object):
    """A garden with fields changed."""
    return lambda before: replace(before, **changed)


def first(name: str, **changed: object):
    """A garden with the first of several parts changed."""

    def change(before: Garden) -> Garden:
        parts = getattr(before, name)
        return replace(before, **{name: (replace(parts[0], **changed), *parts[1:])})

    return change


RAFT = Bed("Raft", "raft", 2.0, 0.3, 0.25)
KIT_UNTOLD = Kit("Drops", None, (KitScale("nitrite"), KitScale("nitrate", "NO3"), KitScale("ph")))
YOUNG = part("start_up", state="new", started=None)
JULY = (7,)


def under(high_c: float, low_c: float):
    """The same weather in all months."""
    return part("site", climate=MonthlyClimate((high_c,) * 12, (low_c,) * 12))


def grows(crop: str):
    return whole(crops=(CropPlan(crop, "North bed", 2.0),))


def lit_by_lamps(light_mol_m2_d: float):
    """A room without windows, with lamps for sixteen hours."""
    ppfd = light_mol_m2_d / (16.0 * 0.0036)
    dark = MonthlyClimate((22.0,) * 12, (18.0,) * 12, radiation_mj_m2_d=(0.0,) * 12)
    return both(part("site", cover="indoors", climate=dark), part("light", ppfd_umol_m2_s=ppfd, hours=16.0))


CASES = [
    Case(
        "finding-oxygen-limit-over",
        "act today",
        "",
        of_balance=with_limit("oxygen", SUMMER),
        months=(6, 7, 8),
    ),
    Case(
        "finding-oxygen-limit-near", "watch", "", of_balance=with_limit("oxygen", NEAR_IN_JULY), months=JULY
    ),
    Case(
        "finding-oxygen-outage-over",
        "act today",
        "",
        of_balance=with_limit("power_cut", SUMMER),
        months=(6, 7, 8),
    ),
    Case(
        "finding-oxygen-outage-near",
        "watch",
        "",
        of_balance=with_limit("power_cut", NEAR_IN_JULY),
        months=JULY,
    ),
    Case("finding-oxygen-response-minutes", "fine", "", of_balance=outage(response_h=0.4)),
    Case(
        "finding-oxygen-response-minutes",
        "act today",
        of_garden=part("power", starts_by_itself=False),
        of_balance=outage(response_h=0.4),
    ),
    Case("finding-oxygen-response-hour", "fine", of_balance=outage(response_h=0.9)),
    Case(
        "finding-oxygen-response-hour",
        "act today",
        of_garden=part("power", alarm=False),
        of_balance=outage(response_h=0.9),
    ),
    Case("finding-oxygen-response-hours", "fine", of_balance=outage(response_h=2.0)),
    Case("finding-oxygen-response-hours", "watch", of_balance=outage(response_h=2.0, backed=False)),
    Case("finding-oxygen-response-hand", "fine"),
    Case("finding-oxygen-no-backup", "watch", of_balance=outage(backed=False)),
    Case(
        "finding-oxygen-backup-not-told",
        "not known",
        of_garden=part("power", backup_hours=0.0, battery_wh=0.0),
    ),
    Case("finding-oxygen-backup-small", "act today", of_garden=part("power", backup_air_l_min=5.0)),
    Case("finding-oxygen-backup-small", "act today", of_garden=part("power", battery_wh=40.0)),
    Case(
        "finding-oxygen-backup-short",
        "act today",
        of_garden=part("power", backup="generator", backup_hours=1.0),
    ),
    Case("finding-oxygen-thin", "watch", "Perch", of_balance=saturation(6.0), months=tuple(range(1, 13))),
    Case(
        "finding-oxygen-thin-over",
        "act today",
        "Perch",
        of_balance=saturation(4.5),
        months=tuple(range(1, 13)),
    ),
    Case(
        "finding-ammonia-limit-over",
        "act today",
        of_balance=with_limit("nitrification", SUMMER),
        months=(6, 7, 8),
    ),
    Case(
        "finding-ammonia-limit-near",
        "watch",
        of_balance=with_limit("nitrification", NEAR_IN_JULY),
        months=JULY,
    ),
    Case(
        "finding-density-limit-over", "act today", of_balance=with_limit("density", SUMMER), months=(6, 7, 8)
    ),
    Case("finding-density-limit-near", "watch", of_balance=with_limit("density", NEAR_IN_JULY), months=JULY),
    # Silver perch: feed stop 12, stress above 31, lethal 2 and 37.
    Case("finding-temperature-warm", "watch", "Perch", of_balance=water(31.5, high=32.0), months=JULY),
    Case("finding-temperature-hot", "act today", "Perch", of_balance=water(33.5), months=JULY),
    Case("finding-temperature-deadly-hot", "emergency", "Perch", of_balance=water(35.0), months=JULY),
    Case("finding-temperature-may-be-hot", "watch", "Perch", of_balance=water(30.0, high=34.0), months=JULY),
    Case("finding-temperature-cold", "watch", "Perch", of_balance=water(11.0), months=JULY),
    Case("finding-temperature-cold", "watch", "Perch", of_balance=water(11.0, months=(1, 2)), months=(1, 2)),
    Case("finding-temperature-deadly-cold", "emergency", "Perch", of_balance=water(3.0), months=JULY),
    Case("finding-temperature-may-be-cold", "watch", "Perch", of_balance=water(5.0, low=2.5), months=JULY),
    Case("finding-solids-limit-over", "watch", of_balance=with_limit("solids", SUMMER), months=(6, 7, 8)),
    Case("finding-solids-note", "fine", of_balance=with_limit("solids", 80.0), months=tuple(range(1, 13))),
    Case("finding-turnover-low", "act today", of_balance=lambda b: replace(b, turnover_1_h=band(0.4))),
    Case("finding-turnover-low", "watch", of_balance=lambda b: replace(b, turnover_1_h=band(0.8))),
    Case("finding-turnover-high", "watch", of_balance=lambda b: replace(b, turnover_1_h=band(5.0))),
    Case("finding-nitrate-rising", "watch", of_balance=drift(1.0), months=tuple(range(1, 13))),
    Case("finding-nitrate-rising-bare", "watch", of_balance=drift(1.0, 0.0), months=tuple(range(1, 13))),
    Case("finding-nitrate-falling", "watch", of_balance=drift(-1.0), months=tuple(range(1, 13))),
    Case("finding-nitrite-line-raised", "fine", of_balance=raised),
    Case(
        "finding-nitrite-line-raised", "watch", of_garden=part("top_up", chloride_mg_l=5.0), of_balance=raised
    ),
    Case(
        "finding-nitrite-line-chloride-not-known",
        "not known",
        of_garden=part("top_up", chloride_mg_l=None),
        of_balance=raised,
    ),
    Case(
        "finding-first-year-half",
        "watch",
        of_garden=YOUNG,
        of_balance=lambda b: replace(b, first_year_kg=band(2.0)),
        months=tuple(range(1, 13)),
    ),
    Case(
        "finding-first-year-half",
        "watch",
        of_garden=part("start_up", started=date(2026, 6, 1)),
        of_balance=lambda b: replace(b, first_year_kg=band(2.0)),
        months=tuple(range(1, 13)),
    ),
    Case(
        "finding-chlorine-untreated-chloramine",
        "act today",
        of_garden=both(part("top_up", disinfectant="chloramine", chlorine_max_mg_l=4.0), whole(products=())),
    ),
    Case(
        "finding-chlorine-untreated-chlorine",
        "act today",
        of_garden=both(
            part("top_up", disinfectant="chlorine", chlorine_max_mg_l=2.0),
            whole(products=(Product("Lime", "calcium_hydroxide", 95.0),)),
        ),
    ),
    Case(
        "finding-chlorine-not-known",
        "not known",
        of_garden=part("top_up", disinfectant="not known", chlorine_max_mg_l=4.0),
    ),
    Case(
        "finding-chlorine-float-valve",
        "act today",
        of_garden=part("top_up", disinfectant="chlorine", chlorine_max_mg_l=2.0, float_valve=True),
    ),
    Case("finding-top-up-hard", "watch", of_garden=part("top_up", alkalinity_mg_l=220.0)),
    Case("finding-top-up-soft", "watch", of_garden=part("top_up", alkalinity_mg_l=20.0)),
    Case("finding-top-up-low-calcium", "watch", of_garden=part("top_up", hardness_mg_l=20.0)),
    Case("finding-top-up-alkalinity-not-known", "not known", of_garden=part("top_up", alkalinity_mg_l=None)),
    Case("finding-kit-none", "not known", of_garden=whole(kits=())),
    Case("finding-kit-basis-not-known", "not known", "Drops", of_garden=whole(kits=(KIT_UNTOLD,))),
    Case("finding-reading-none", "not known", of_garden=whole(measured=())),
    Case("finding-fish-not-eaten", "fine", "Perch", of_garden=first("fish", eaten=False)),
    Case("finding-fish-alone", "watch", "Perch", of_garden=first("fish", count=4)),
    Case("finding-feed-protein-high", "watch", "Rich", of_garden=whole(feeds=(Feed("Rich", 60.0),))),
    Case("finding-feed-protein-low", "watch", "Poor", of_garden=whole(feeds=(Feed("Poor", 12.0),))),
    Case("finding-law-species", "not known", of_garden=first("fish", species="barramundi")),
    Case("finding-law-species-noted", "fine"),
    Case("finding-law-species-noted", "not known", of_garden=whole(rules=())),
    Case("finding-law-crop", "not known", of_garden=first("crops", crop="kangkong")),
    Case("finding-crop-too-hot", "watch", "North bed", of_garden=both(under(36, 26), grows("spinach"))),
    Case("finding-crop-too-hot-cultivar", "watch", "North bed", under(36, 26)),
    Case("finding-crop-too-hot-nothing", "watch", "North bed", under(50, 40)),
    Case("finding-crop-too-cold", "watch", "North bed", of_garden=both(under(18, 9), grows("tomato"))),
    Case("finding-crop-too-dark", "watch", "North bed", of_garden=lit_by_lamps(5.5)),
    Case("finding-ammonia-no-biofilter", "act today", of_garden=whole(beds=(RAFT,), biofilter=None)),
    Case(
        "finding-solids-no-filter",
        "watch",
        of_garden=both(whole(beds=(RAFT,)), part("solids_filter", kind="none")),
    ),
    Case("finding-ph-limestone", "watch", "North bed", of_garden=first("beds", medium="limestone_gravel")),
    Case(
        "finding-ph-medium-untested",
        "not known",
        "North bed",
        of_garden=first("beds", medium="crushed_brick"),
    ),
    Case("finding-load-upper-floor", "act today", "Pool", of_garden=part("site", upper_floor=True)),
    Case("finding-load-upper-floor", "act today", "North bed", of_garden=part("site", upper_floor=True)),
    Case(
        "finding-load-upper-floor",
        "watch",
        "Pool",
        of_garden=both(part("site", upper_floor=True), first("tanks", depth_m=0.1)),
    ),
    Case("finding-sump-overflows", "act today", of_garden=whole(sump=Sump(400.0, 500.0))),
    Case("finding-sump-tight", "watch", of_garden=whole(sump=Sump(400.0, 640.0))),
    Case(
        "finding-away-water", "act today", of_garden=whole(away=(Away(date(2027, 7, 1), date(2027, 8, 30)),))
    ),
    Case(
        "finding-away-water",
        "watch",
        of_garden=whole(away=(Away(date(2027, 7, 1), date(2027, 8, 30), "Neighbour"),)),
    ),
    Case("finding-people-open-tank", "act today", "Pool", of_garden=part("site", children=True)),
    Case("finding-people-school-chemicals", "fine", of_garden=part("site", setting="school")),
    Case(
        "finding-people-school-chemicals",
        "watch",
        of_garden=both(
            part("site", setting="school"), whole(products=(Product("Flakes", "potassium_hydroxide", 85.0),))
        ),
    ),
]


def found(case: Case) -> tuple[Finding, ...]:
    return findings.of_both(case.of_garden(garden()), case.of_balance(balance()))


def keys(some: tuple[Finding, ...]) -> set[str]:
    return {one.key for one in some}


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.key}:{case.level}")
def test_a_finding_fires_with_its_level_subject_and_months(case: Case):
    fired = [one for one in found(case) if one.key == case.key and one.subject == case.subject]
    assert [(one.level, one.months) for one in fired] == [(case.level, case.months)]


@pytest.mark.parametrize(
    "case", [case for case in CASES if case.key not in ORDINARY], ids=lambda case: case.key
)
def test_an_ordinary_garden_does_not_have_it(case: Case):
    assert case.key not in keys(findings.of_both(garden(), balance()))


def test_an_ordinary_garden_has_nothing_to_act_on():
    ordinary = findings.of_both(garden(), balance())
    assert keys(ordinary) == ORDINARY
    assert {one.level for one in ordinary} == {"fine"}


def test_the_ordinary_findings_go_where_they_do_not_belong():
    shorter = outage(response_h=0.4)(balance())
    assert "finding-oxygen-response-hand" not in keys(findings.of_balance(garden(), shorter))
    other = first("fish", species="barramundi")(garden())
    assert "finding-law-species-noted" not in keys(findings.of_garden(other))


class Variables(Visitor):
    def __init__(self) -> None:
        self.found: set[str] = set()

    def visit_VariableReference(self, node: ftl.VariableReference) -> None:
        self.found.add(node.id.name)


def catalogue() -> dict[str, ftl.Message]:
    text = (tables.DATA / "words.en.ftl").read_text("utf-8")
    return {one.id.name: one for one in FluentParser().parse(text).body if isinstance(one, ftl.Message)}


CATALOGUE = catalogue()


def test_every_finding_of_the_catalogue_has_a_case():
    held = {key for key, message in CATALOGUE.items() if key.startswith("finding-") and message.attributes}
    # Those of a season, of a log and of a single reading have their own tests.
    elsewhere = re.compile(r"finding-[a-z]+-(season|log|reading)-")
    assert {case.key for case in CASES} == {key for key in held if not elsewhere.match(key)}


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.key}:{case.level}")
def test_every_amount_of_a_finding_is_said_and_no_other_is_asked_for(case: Case):
    fired = next(one for one in found(case) if one.key == case.key and one.subject == case.subject)
    asked = Variables()
    asked.visit(CATALOGUE[case.key])
    # What a table tells is not an amount of the finding.
    names = {name.removesuffix("_middle") for name in asked.found if not name.startswith("told-")}
    assert names - {"subject", "when"} == {amount.name for amount in fired.amounts}
    assert ("subject" in names) == bool(case.subject)
    assert ("when" in names) <= bool(fired.months or fired.first)
    for reader in READERS:
        spoken = words.finding(fired, reader)
        for text in (spoken.title, spoken.why, spoken.action, spoken.avoid):
            assert text
            assert not {"{", "???", "nan", "inf"} & set(text.split())


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.key)
def test_the_sources_of_a_finding_stand_in_the_list(case: Case):
    held = set(tables.load("sources").keys())
    for one in found(case):
        assert one.sources, one.key
        assert {tables.source_key(source) for source in one.sources} <= held, one.key


def test_two_spans_are_two_findings():
    twice = np.array([500.0, 40.0] + [500.0] * 4 + [40.0, 40.0] + [500.0] * 4)
    some = findings.of_balance(garden(), with_limit("oxygen", twice)(balance()))
    assert [one.months for one in some if one.key == "finding-oxygen-limit-over"] == [(2,), (7, 8)]


def test_fish_that_are_not_there_are_not_judged():
    gone = first("fish", until=date(2027, 5, 31))(garden())
    assert not [
        one for one in findings.of_balance(gone, water(35.0)(balance())) if one.topic == "temperature"
    ]


def test_without_demand_no_limit_is_exceeded():
    idle = replace(balance(), demand=replace(balance().demand, feed_g_day=band(0.0 * YEAR)))
    idle = with_limit("oxygen", 0.0)(idle)
    assert "finding-oxygen-limit-over" not in keys(findings.of_balance(garden(), idle))


def test_a_garden_without_fish_or_beds_has_findings_too():
    bare = whole(fish=(), beds=(), crops=())(garden())
    still = replace(balance(), outage=None, biofilter=None)
    assert isinstance(findings.of_both(bare, still), tuple)


def test_two_batches_of_one_kind_in_one_tank_keep_each_other_company():
    few = first("fish", count=6)(garden())
    second = FishBatch("Perch two", "silver_perch", 6, 20.0, date(2026, 9, 1), 500.0, "Pool")
    assert "finding-fish-alone" not in keys(findings.of_garden(replace(few, fish=(*few.fish, second))))


def test_a_crop_that_is_not_invasive_needs_no_question():
    basil = whole(crops=(CropPlan("basil", "North bed", 2.0),))(garden())
    assert "finding-law-crop" not in keys(findings.of_garden(basil))


def test_where_the_stock_is_too_large_for_a_power_cut_the_missing_backup_is_named_once():
    year = both(with_limit("power_cut", SUMMER), outage(backed=False))(balance())
    some = keys(findings.of_balance(garden(), year))
    assert "finding-oxygen-outage-over" in some
    assert "finding-oxygen-no-backup" not in some


def test_absences_are_one_finding_with_the_longest():
    away = (Away(date(2027, 4, 1), date(2027, 4, 30), "Neighbour"), Away(date(2027, 7, 1), date(2027, 8, 30)))
    some = [one for one in findings.of_garden(whole(away=away)(garden())) if one.key == "finding-away-water"]
    assert [(one.level, one.amounts[0].value) for one in some] == [("act today", 61)]
    short = whole(away=(Away(date(2027, 4, 1), date(2027, 4, 3)),))(garden())
    assert "finding-away-water" not in keys(findings.of_garden(short))


def test_a_float_valve_on_a_pipe_does_not_run_empty_while_nobody_is_there():
    away = whole(away=(Away(date(2027, 7, 1), date(2027, 8, 30)),))
    valve = both(away, part("top_up", float_valve=True))(garden())
    assert "finding-away-water" not in keys(findings.of_garden(valve))
    barrel = both(valve_on_barrel, away)(garden())
    assert "finding-away-water" in keys(findings.of_garden(barrel))


def valve_on_barrel(before: Garden) -> Garden:
    valve = part("top_up", float_valve=True)(before)
    return replace(valve, rain=replace(valve.rain, barrel_l=100.0))


def test_a_limit_that_does_not_count_is_not_reported():
    year = with_limit("power_cut", SUMMER)(balance())
    still = replace(year, limits=tuple(replace(one, counts=one.key != "power_cut") for one in year.limits))
    assert "finding-oxygen-outage-over" not in keys(findings.of_balance(garden(), still))


def test_chlorine_with_something_on_the_shelf_to_remove_it_is_no_finding():
    for disinfectant in ("chlorine", "chloramine"):
        tap = part("top_up", disinfectant=disinfectant, chlorine_max_mg_l=2.0)(garden())
        assert not [one for one in findings.of_garden(tap) if one.topic == "chlorine"]
