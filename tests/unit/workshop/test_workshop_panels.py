"""The panels of a workshop: marked exercises and many readings of one water."""

import pytest

from aquacalc.panels.frame import desk
from aquacalc.panels.workshop import ask, readings
from aquacalc.workshop import exercises


@pytest.fixture(scope="module")
def mine() -> desk.Desk:
    return desk.open_desk("demo:classroom")


def shown(panel) -> str:
    return str(panel.result.value).replace("\u00a0", " ")


def test_readings_show_ends_middle_and_a_dot_a_group():
    panel = readings.panel()
    panel.fields["text"].box.value = "0,3 0.6; 0.6 1.2"
    assert "4 readings of one water lie between 0.3 and 1.2; the middle one is 0.6" in shown(panel)
    assert shown(panel).count("\u25cf") == 4


@pytest.mark.parametrize("text", ["", "0.3", "0.3 about"])
def test_too_few_or_no_numbers_are_refused_and_the_answer_stays(text: str):
    panel = readings.panel()
    before = shown(panel)
    panel.fields["text"].box.value = text
    assert panel.refused
    assert shown(panel) == before


def test_a_right_answer_is_marked_and_shows_its_working(mine: desk.Desk):
    panel = ask.panel(mine)
    panel.fill({"audience": "12-15", "number": 2.0, "typed": None})
    one = exercises.draw(mine.garden, mine.balance, "12-15", mine.reader)[1]
    assert one.key == "box"
    assert "Right." not in shown(panel)
    panel.fill({"typed": one.answer.number})
    assert "Right." in shown(panel)
    assert "cubic metres" in shown(panel)
    panel.fill({"typed": one.answer.number / 1000.0})
    assert "the point is not" in shown(panel)
    assert "cubic metres" not in shown(panel)


def test_a_number_past_the_last_exercise_asks_the_last(mine: desk.Desk):
    panel = ask.panel(mine)
    panel.fill({"number": 30.0, "audience": "8-11"})
    count = len(exercises.draw(mine.garden, mine.balance, "8-11", mine.reader))
    assert f"Exercise {count} of {count}" in shown(panel)
