import re
from dataclasses import replace
from pathlib import Path

import hand_made
import pytest

from aquacalc.sentences import balance as sentences
from aquacalc.sizing import changes
from aquacalc.sizing.result import Binding, Change
from aquacalc.words import NO_BREAK_SPACE, Reader

METRIC, US = Reader(), Reader(units="us")


def plain(text: str) -> str:
    return text.replace(NO_BREAK_SPACE, " ")


def test_the_binding_limit_is_said_in_feed_in_fish_and_in_bed():
    text = plain(sentences.binding(hand_made.balance(), METRIC))
    assert "power cut. In July it carries 62 g/day" in text
    assert "the fish want 180 g/day" in text
    assert "kg of fish" in text
    assert "m² of planted bed" in text


def test_where_the_power_cut_binds_the_next_limit_is_named():
    assert "oxygen at 140 g/day" in plain(sentences.binding(hand_made.balance(), METRIC))
    other = replace(hand_made.balance(), binding=Binding("oxygen", 7, 185.0, 140.0, 1.3, "density", 240.0))
    assert "next limit" not in sentences.binding(other, METRIC)


def test_a_limit_that_holds_is_not_called_exceeded():
    held = replace(hand_made.balance(), better=Binding("solids", 8, 100.0, 132.0, 0.76, None, float("nan")))
    assert "none is exceeded" in sentences.better(held, METRIC)
    assert "but is exceeded" in sentences.better(hand_made.balance(), METRIC)


def test_without_a_demand_nothing_binds():
    idle = replace(hand_made.balance(), binding=None, better=None)
    assert "no limit binds" in sentences.binding(idle, METRIC)
    assert sentences.better(idle, METRIC) == ""
    assert sentences.biofilter(idle, METRIC) == ""


def test_a_number_of_fish_goes_down_to_whole_fish():
    balance = hand_made.balance()
    count = hand_made.band(5.0, 0.25)  # 3.75 to 6.25
    assert "3 to 6 fish" in plain(sentences.first_year(replace(balance, first_year_count=count), METRIC))


@pytest.mark.parametrize("key", sorted(sentences.CHANGE_KINDS))
def test_every_change_of_the_balance_has_its_sentence(key: str):
    change = Change(key, 20.0, "", "oxygen", hand_made.band(62.0), hand_made.band(90.0))
    text = plain(sentences.changes(replace(hand_made.balance(), changes=(change,)), METRIC)[0])
    assert "62 g/day" in text
    assert "90 g/day" in text


def test_the_changes_that_the_balance_tries_all_have_a_kind():
    tried = re.findall(r'"(change-[a-z-]+)"', Path(changes.__file__).read_text("utf-8"))
    assert set(tried) == set(sentences.CHANGE_KINDS)


def test_the_power_cut_names_what_bridges_it_or_that_nothing_is_missing():
    found = hand_made.balance().outage
    assert "18 L/min of air and a battery of 160 Wh" in plain(sentences.outage(found, METRIC))
    enough = replace(found, air_l_min=hand_made.band(0.0), battery_wh=hand_made.band(0.0))
    assert "battery" not in sentences.outage(enough, METRIC)
    assert sentences.outage(None, METRIC) == ""


def test_sentences_follow_the_readers_units():
    assert "lb of fish" in plain(sentences.binding(hand_made.balance(), US))
    assert "US gal" in plain(sentences.flow(hand_made.balance(), US))
