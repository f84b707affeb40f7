"""Separator and clogging, as the notebook that builds the loop asks them."""

import re
import shutil
from pathlib import Path

import pytest

from aquacalc import words
from aquacalc.garden import places
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.loop import clogging, separator
from aquacalc.sizing import denitrification, levels
from aquacalc.uncertainty import coefficient, draw


@pytest.fixture
def mine(tmp_path: Path) -> Desk:
    """A garden that may be written: the class-room without its log."""
    shutil.copy(places.demo("classroom") / "garden.toml", tmp_path / "garden.toml")
    return desk.open_desk(str(tmp_path))


def plain(panel: Panel) -> str:
    bare = re.sub(r"<svg.*?</svg>", " ", panel.result.value, flags=re.DOTALL)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", bare)).replace(words.NO_BREAK_SPACE, " ")


def shown(panel: Panel) -> set[str]:
    return {name for name, field in panel.fields.items() if field.widget.layout.display != "none"}


def test_a_radial_settler_catches_what_was_measured_of_one():
    made = separator.panel()
    assert "It catches about 73 to 79 % of the solids" in plain(made)
    made.fields["kind"].list.value = "swirl"
    assert "It catches about 33 to 41 % of the solids" in plain(made)


def test_all_of_the_water_counts_at_the_low_end():
    made = separator.panel()
    made.fields["stream"].list.value = "whole"
    assert "It catches about 70 % of the solids" in plain(made)
    assert "Of all the water the low end counts" in plain(made)


def test_too_much_water_for_its_surface_asks_for_a_larger_one():
    made = separator.panel()
    made.fields["area"].box.value = "0.1 m2"
    assert "It is small for this flow" in plain(made)
    assert "it takes 0.18 m²" in plain(made)


def test_without_a_separator_the_beds_are_asked():
    made = separator.panel()
    made.fields["kind"].list.value = "none"
    assert shown(made) == {"kind", "feed", "protein", "beds", "warm"}
    assert "The beds take all solids" in plain(made)
    made.fields["beds"].box.value = "1 m2"
    assert "draw more often, spread the feed over more beds" in plain(made)


def test_drawing_seldom_draws_less_and_lets_out_less_water():
    daily, weekly = separator.panel(), separator.panel()
    weekly.fields["every"].box.value = "7 days"
    one, other = (made.compute(made.values).does for made in (daily, weekly))
    assert float(other.drawn_g_day.middle) < float(one.drawn_g_day.middle)
    assert float(other.water_l_week.middle) < float(one.water_l_week.middle)
    assert float(other.held_g.middle) > float(one.held_g.middle)


def test_what_the_panel_writes_is_what_the_season_counts(mine: Desk):
    made = separator.panel(mine)
    made.fields["kind"].list.value = "swirl"
    made.fields["stream"].list.value = "whole"
    made.fields["every"].box.value = "2 days"
    made.save()
    own = mine.garden.solids_filter
    assert (own.kind, own.whole_flow, own.draw_every_d) == ("swirl", True, 2.0)
    sampled = draw({name: coefficient(name) for name in denitrification.COEFFICIENTS}, 1)
    assert float(denitrification.removed(mine.garden, sampled)[0]) == coefficient("removal_swirl").low
    made.take_back()
    assert mine.garden.solids_filter.kind == "none"


def test_a_bed_that_fills_sooner_holds_less():
    made = clogging.panel()
    assert "The bed is closing: 31 to 38 % of its room is lost" in plain(made)
    assert "Rinse 33 % of it at a time" in plain(made)
    made.fields["now"].box.value = "14 min"
    assert "The bed is open: 0 to 7.6 %" in plain(made)
    made.fields["now"].box.value = "8 min"
    assert "The bed is clogged" in plain(made)
    made.fields["now"].box.value = "20 min"
    assert "It takes longer to fill than when it was new" in plain(made)


def test_a_bed_that_lost_some_in_a_year_tells_when_it_is_clogged():
    made = clogging.panel()
    made.fields["now"].box.value = "12 min"
    assert "At this pace" not in plain(made)
    made.fields["since"].box.value = "365 days"
    assert "At this pace it would be clogged in 400 days" in plain(made)
    assert "<svg" in made.result.value


def test_the_fill_goes_into_the_file_and_the_sump_counts_with_it(mine: Desk):
    made = clogging.panel(mine)
    before = levels.beds_l(mine.garden)
    made.fields["now"].set(0.8 * made.fields["now"].value)
    made.refresh()
    made.save()
    assert levels.beds_l(mine.garden) == pytest.approx(0.8 * before, rel=0.01)
    newest = mine.garden.last_measured("bed_water")
    assert newest is not None
    assert newest.day == mine.file.today
