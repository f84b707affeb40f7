"""What was before, and the way back: changes of fields, texts that were refused, a file changed meanwhile."""

import shutil
from pathlib import Path

import pytest

from aquacalc.garden import places
from aquacalc.panels.frame.desk import Desk, open_desk
from aquacalc.panels.loop import weight
from aquacalc.panels.size import size
from aquacalc.panels.size.size import SizePanel


@pytest.fixture(scope="module")
def demo() -> Desk:
    return open_desk("demo:yard")


@pytest.fixture
def own(tmp_path: Path) -> Desk:
    shutil.copy(places.starter(), tmp_path / places.GARDEN)
    return open_desk(str(tmp_path))


def offered(panel: SizePanel) -> bool:
    return panel.undoing.layout.display is None


def test_changes_are_taken_back_one_field_at_a_time_and_before_is_told(demo: Desk):
    made = size.panel(demo)
    answer = made.result.value
    line = made.now_line.value
    assert not offered(made)
    fish, bed = made.fields["fish_count"], made.fields["bed_m2"]
    was = fish.value, bed.value
    for typed in ("200", "300", "400"):
        fish.box.value = typed
    bed.box.value = "20"
    assert offered(made)
    assert made.step_back.description.endswith(bed.label)
    assert "Before:" in made.was.value
    assert made.now_line.value != line
    made.step_back.click()
    assert (fish.value, bed.value) == (400.0, was[1])
    made.step_back.click()
    assert (fish.value, bed.value) == was
    assert made.result.value == answer
    assert not offered(made)
    made.step_back.click()
    assert made.result.value == answer


def test_a_refused_text_goes_first(demo: Desk):
    made = size.panel(demo)
    made.fields["fish_count"].box.value = "41"
    made.fields["fish_count"].box.value = "many"
    assert made.refused
    made.step_back.click()
    assert not made.refused
    assert made.fields["fish_count"].box.value == "41"
    assert offered(made)


def test_what_is_typed_stays_when_the_file_is_read_again_and_the_rest_follows_it(own: Desk):
    made, other = size.panel(own), weight.panel(own)
    made.fields["fish_count"].box.value = "40"
    typed = other.values
    text = own.file.path.read_text("utf-8")
    own.file.path.write_text(text.replace('flow = "2500 L/h"', 'flow = "1500 L/h"'), "utf-8")
    before = made.fields["flow_l_h"].value
    own.read_again()
    assert made.fields["fish_count"].value == 40.0
    assert made.fields["flow_l_h"].value < before
    assert other.values == typed
