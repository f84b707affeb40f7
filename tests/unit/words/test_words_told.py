"""Amounts that sentences tell stand in tables with source and mark; digits in texts are examples or names."""

import re
from collections.abc import Iterator

import pytest
from fluent.syntax import ast as ftl
from fluent.syntax.visitor import Visitor
from test_words_catalogue import ENGLISH, variables

from aquacalc import tables, words
from aquacalc.advice.new_water import rain, use_up
from aquacalc.constants import (
    ATOMIC_MASS_N_G_MOL,
    HOURS_PER_DAY,
    MOLAR_MASS_NH4_G_MOL,
    MOLAR_MASS_NO2_G_MOL,
    MOLAR_MASS_NO3_G_MOL,
)
from aquacalc.judge import sizes
from aquacalc.panels.trouble import spell
from aquacalc.panels.water import dose_steps, kit_check
from aquacalc.startup import delays, doses, first_feed, new_fish
from aquacalc.uncertainty import BAND_PERCENTILES
from aquacalc.water import dosing, salts
from aquacalc.words import NO_BREAK_SPACE, Reader

METRIC, US = Reader(), Reader(units="us")

NAMES = re.compile(r"CaCO3|\bNH4OH\b|\b(NH[34]|NO[23])\b|UTF-8|5-hydrate")
"""Names that hold a digit: ions, a spelling of text, a salt with its water."""

EXAMPLES = "a way to type something, or a question that shows one"
BAND = "what a band is: 8 of 10 tries between its ends, 9 of 10 before its later one"
SUM = "a school sum: units by definition, minutes of an hour, the power of ten, pi to two decimals"
BY_NAME = "part of the name of a quantity or of a choice"

WITH_DIGITS = {
    "problem-not-a-number": EXAMPLES,
    "problem-unit-parts": EXAMPLES,
    "problem-high-low": EXAMPLES,
    "problem-date": EXAMPLES,
    "problem-day-words": EXAMPLES,
    "problem-day-of-year": EXAMPLES,
    "problem-month-numbers": EXAMPLES,
    "problem-log-dates": EXAMPLES,
    "problem-log-time": EXAMPLES,
    "problem-reading-pair": EXAMPLES,
    "problem-reading-thinned": EXAMPLES,
    "reading-field-litres": EXAMPLES,
    "desk-new-water": EXAMPLES,
    "panel-dose-tan": EXAMPLES,
    "reading-no-litres": EXAMPLES,
    "reading-assumed-n": EXAMPLES,
    "reading-assumed-caco3": EXAMPLES,
    "reading-assumed-new-water": EXAMPLES,
    "reading-do-base-test-alkalinity": EXAMPLES,
    "panel-convert-hint": EXAMPLES,
    "log-doubts-settle": EXAMPLES,
    "read-log-dates": EXAMPLES,
    "weighed-empty": EXAMPLES,
    "problem-weighed-none": EXAMPLES,
    "weighed-tgc": BY_NAME,
    "weighed-mean-single": "what an interval of 95 % is, by definition",
    "strip-key": BAND,
    "season-key": BAND,
    "panel-size-assumes": BAND,
    "chart-startup-key": BAND,
    "startup-range": BAND,
    "startup-planned-late": BAND,
    "startup-delays-how": BAND,
    "startup-when-days": BAND,
    "panel-litres-before": BY_NAME,
    "panel-litres-after": BY_NAME,
    "panel-startup-counts-nh3-by-volume": BY_NAME,
    "panel-startup-thin-5": BY_NAME,
    "panel-startup-thin-10": BY_NAME,
    **dict.fromkeys(
        (
            *("handout-litres-box", "handout-litres-feet", "handout-litres-round", "exercise-box-working"),
            *("exercise-bucket-working", "exercise-two-ph-working", "exercise-energy-working"),
            *("exercise-flood-working", "exercise-seeds-working"),
        ),
        SUM,
    ),
    "exercise-weighed-working": BAND,
    **dict.fromkeys((f"workshop-audience-{one}" for one in ("8-11", "12-15", "16")), BY_NAME),
    "tick-title": "the name of a sheet with so many rows",
    "plan-contents-wall": "the name of that sheet",
    "finding-kit-basis-not-known": "one water on four bases: ratios of molar masses, checked below",
    "panel-convert-difference": "a degree in both units, by definition",
    "ammonia-between": "one part of sample in five of the mix: how to thin, no limit",
    "weigh-little": "a solution of which each millilitre holds a milligram, by definition",
    "startup-ml-spoons": "what a teaspoon holds in kitchens, by definition",
    "chart-map-key": "how many dots the picture draws",
}
"""Texts that hold digits of their own, and why. Whatever advises an amount has it from a table."""


class Texts(Visitor):
    def __init__(self) -> None:
        self.found: list[str] = []

    def visit_TextElement(self, node: ftl.TextElement) -> None:
        self.found.append(node.value)


def plain(message: ftl.Message) -> str:
    texts = Texts()
    texts.visit(message)
    return NAMES.sub("", " ".join(texts.found))


def test_digits_in_texts_are_examples_or_names():
    held = {key for key, message in ENGLISH.items() if re.search(r"\d", plain(message))}
    assert held == set(WITH_DIGITS)


def test_every_amount_that_is_told_stands_in_the_table_and_none_is_left_over():
    named = {name for message in ENGLISH.values() for name in variables(message)}
    told = {name.removeprefix("told-").replace("-", "_") for name in named if name.startswith("told-")}
    assert told == set(tables.load("told").keys())


def ends(row: tables.Row) -> Iterator[tuple[str, str]]:
    return ((end, row.text(f"{end}_of")) for end in ("low", "high"))


@pytest.mark.parametrize("row", tables.load("told").rows, ids=lambda row: row.key)
def test_every_amount_has_source_and_mark_here_or_where_it_stands(row: tables.Row):
    assert tables.load("quantities").row(row.text("kind"))
    elsewhere = [place for _, place in ends(row) if place]
    assert bool(row.text("mark")) == bool(row.text("source")) == (not elsewhere)
    for place in elsewhere:
        name, key, column = place.split()
        assert tables.cited(name, tables.load(name).row(key), column)
    assert words.told(row.key.replace("_", "-"), METRIC) != words.say("not-known", METRIC)


def test_an_amount_is_told_in_the_units_of_the_reader():
    assert words.told("warmth-an-hour", METRIC) == f"1{NO_BREAK_SPACE}°C"
    assert words.told("warmth-an-hour", US) == f"1.8{NO_BREAK_SPACE}°F"
    assert words.say("triage-do-left-overs", US).endswith(f"after 30{NO_BREAK_SPACE}minutes.")


@pytest.mark.parametrize(
    ("key", "low", "high"),
    [
        ("warmth_an_hour", sizes.SLOWLY_K_H, None),
        ("caustic_dissolved", dose_steps.CAUSTIC_G_L, None),
        ("dioxide_aired", dosing.WELL_AIRED_CARBON_DIOXIDE_MG_L, None),
        ("ph_act_high", dosing.HIGHEST_PH, None),
        ("ph_a_day", dosing.PH_STEP_PER_DAY, None),
        ("alkalinity_half", use_up.LOW_MG_L, None),
        ("alkalinity_full", use_up.ENOUGH_MG_L, None),
        ("metals_hardness", rain.SOFT_HARDNESS_MG_L, None),
        ("ice_bottle", spell.BOTTLE_KG, None),
        ("salt_conductivity", salts.salt_us_cm(0.1), None),
        ("standard_mg_l", kit_check.STOCK_MG_L, None),
        ("filter_fed", doses.FIRST_TAN_MG_L[0], doses.FIRST_TAN_MG_L[-1]),
        ("filter_kept", doses.NEXT_TAN_MG_L[0], doses.NEXT_TAN_MG_L[-1]),
        ("filter_acid", doses.LOW_PH, None),
        ("filter_tested", HOURS_PER_DAY, None),
        ("filter_alkalinity", *doses.ALKALINITY_KEPT_MG_L),
        ("filter_nitrite", doses.HOLD_NITRITE_MG_L, None),
        ("filter_proof", first_feed.LEAST_CHALLENGE_MG_L, None),
        ("feed_raised", 100.0 * first_feed.RAISE_PER_DAY, None),
        ("feed_stepped_back", first_feed.STOP_MG_L, None),
        ("fish_apart", new_fish.QUARANTINE_DAYS[0], None),
        ("cold_week", delays.COLD_K, None),
    ],
)
def test_what_is_told_is_what_is_reckoned_with(key: str, low: float, high: float | None):
    row = tables.load("told").row(key)
    assert words._end(row, "low") == pytest.approx(low, rel=0.005)
    if high is not None:
        assert words._end(row, "high") == pytest.approx(high, rel=0.005)


def test_what_is_said_of_a_band_and_of_bases_is_so():
    low, _, high = BAND_PERCENTILES
    assert (high - low, high) == (80.0, 90.0)
    masses = (MOLAR_MASS_NH4_G_MOL, MOLAR_MASS_NO2_G_MOL, MOLAR_MASS_NO3_G_MOL)
    assert [round(mass / ATOMIC_MASS_N_G_MOL, 1) for mass in masses] == [1.3, 3.3, 4.4]
