"""Weighed fish: any unit, a list or a bucket; what is odd is asked about and stays in its box."""

import re
from datetime import date, timedelta
from pathlib import Path

import pytest

from aquacalc.cli import folders
from aquacalc.panels.frame import several
from aquacalc.panels.frame.desk import open_desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.harvest import weighed
from aquacalc.season import alone
from aquacalc.words import NO_BREAK_SPACE

TODAY = date(2027, 6, 1)


@pytest.fixture
def panel() -> Panel:
    return weighed.panel(today=TODAY)


def plain(markup: str) -> str:
    return re.sub(r"<[^>]+>", " ", markup).replace(NO_BREAK_SPACE, " ")


def type_in(panel: Panel, **texts: str) -> None:
    for name, text in texts.items():
        panel.fields[name].box.value = text


def test_nothing_typed_is_no_mistake(panel: Panel):
    assert not panel.refused
    assert "Type the weights" in plain(panel.result.value)


def test_eight_fish_tell_a_range(panel: Panel):
    type_in(panel, weights="62 71 58 66 80 49 69 73", count="35")
    assert "One fish weighs 58 to 74 g; the tank holds 2 to 2.6 kg" in plain(panel.result.value)


@pytest.mark.parametrize("text", ["62 g; 0.071 kg; 58", "62\n71\n58", "62, 71, 58", "62 g 71 g 58 g"])
def test_weights_are_read_as_people_write_them(panel: Panel, text: str):
    type_in(panel, weights=text)
    assert panel.values["weights"] == pytest.approx((62.0, 71.0, 58.0))


def test_parts_keep_a_decimal_comma():
    assert several.parts("62,5 71,25") == ["62,5", "71,25"]


@pytest.mark.parametrize("text", ["62 71 6200", "62 71 .5"])
def test_a_weight_far_from_the_rest_is_asked_about(panel: Panel, text: str):
    type_in(panel, weights="62 71 58")
    before = panel.result.value
    type_in(panel, weights=text)
    assert "was that another unit" in plain(panel.problems.value)
    assert panel.result.value == before
    assert panel.fields["weights"].box.value == text


@pytest.mark.parametrize(
    ("texts", "sentence"),
    [
        ({"weights": "62 x 71"}, "not"),
        ({"weights": "62 -71"}, "outside"),
        ({"weights": "62 71 58", "count": "2"}, "only 2 are in the tank"),
        ({"weights": "62 71", "last": "40 g", "last_day": "2027-06-03"}, "not before the day"),
    ],
)
def test_bad_input_gets_one_sentence(panel: Panel, texts: dict[str, str], sentence: str):
    type_in(panel, **texts)
    shown = plain(panel.problems.value) + plain(panel.fields["weights"].sentence.value)
    assert sentence in shown


def test_a_bucket_needs_its_count(panel: Panel):
    panel.fields["how"].list.value = weighed.BUCKET
    type_in(panel, total="0.66 kg")
    assert "how many they were" in plain(panel.problems.value)
    type_in(panel, weighed="10")
    assert "10 fish together: mean 66 g" in plain(panel.result.value)


def test_growth_and_feed_since_the_last_time(panel: Panel):
    type_in(panel, weights="100 104 96 100", count="30", last="70", last_day="2027-05-02", warm="27")
    type_in(panel, fed="1.62", dead="0")
    text = plain(panel.result.value)
    assert "From 70 g to 100 g in 30 days: 1.2 % a day" in text
    assert "Feed per growth: 1.8 kg a kg" in text


def test_fast_growth_seen_brings_the_day_nearer(panel: Panel):
    type_in(panel, weights="100 104 96 100", last_day="2027-05-02", warm="27")
    made = weighed.compute
    slow = made(None, panel.reader, {**panel.values, "last": 80.0})
    fast = made(None, panel.reader, {**panel.values, "last": 65.0})
    assert float(fast.grown.half_d.middle) < float(slow.grown.half_d.middle)


def test_days_to_kilograms_agree_with_the_weights():
    asked = alone.Question("nile_tilapia", 30.0, 66.0, TODAY, 450.0, weighed._water_c(None, {"warm": 27.0}))
    days = round(float(alone.days_to_kg(asked, 6.0, members=1).middle))
    at, before = (float(alone.weights_on(asked, day, members=1).middle) for day in (days, days - 1))
    assert before < 200.0 * 1.06
    assert at * 30.0 >= 6000.0


def test_mean_and_single_weights_go_into_the_log(tmp_path: Path):
    folders.make(tmp_path / "mine", TODAY)
    desk = open_desk(str(tmp_path / "mine"))
    batch = desk.garden.fish[0]
    panel = weighed.panel(desk, today=batch.stocked + timedelta(days=40))
    type_in(panel, weights="30 32 34")
    keeping = next(one for one in panel.left.children if hasattr(one, "written"))
    keeping.shown()
    keeping.written()
    assert desk.log is not None
    assert desk.log.all("weight", batch.name)[-1].value == pytest.approx(32.0)
    assert "30 32 34" in (tmp_path / "mine" / "log.csv").read_text("utf-8")
