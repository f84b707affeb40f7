"""Sixty questions of growers: each leads to a place that is there, each example computes."""

from collections import Counter
from pathlib import Path

import docs_from_questions
import pytest
from docs_from_questions import Question

from aquacalc.cli import command

ASKED = docs_from_questions.questions()
LONG = ("season", "workshop", "plan", "compare")
"""Verbs that run whole seasons: once each, with the slow tests."""
EXAMPLES = sorted({one.command for one in ASKED if one.command})


def test_there_are_sixty_and_none_stands_twice():
    assert len(ASKED) == 60
    assert [name for name, count in Counter(one.question for one in ASKED).items() if count > 1] == []


@pytest.mark.parametrize("one", ASKED, ids=lambda one: one.question[:40])
def test_the_place_that_answers_is_there(one: Question):
    path = docs_from_questions.WORKBOOK / f"{one.notebook}.ipynb"
    assert path.is_file()
    assert one.part in docs_from_questions.parts(path)


def test_every_notebook_answers_something():
    there = set(docs_from_questions.titles()) - {docs_from_questions.START.stem}
    assert {one.notebook for one in ASKED} == there


def test_page_and_notebook_hold_the_table():
    assert docs_from_questions.PAGE.read_text("utf-8") == docs_from_questions.page()
    start = docs_from_questions.START.read_text("utf-8")
    assert docs_from_questions.started(start) == start
    assert docs_from_questions.HEADING.removeprefix("## ") in docs_from_questions.parts(
        docs_from_questions.START
    )


@pytest.mark.parametrize(
    "text",
    [pytest.param(one, marks=[pytest.mark.slow] if one.split()[1] in LONG else []) for one in EXAMPLES],
)
def test_every_example_computes(
    text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    monkeypatch.chdir(tmp_path)
    arguments = next(one.arguments for one in ASKED if one.command == text)
    assert command.main(arguments) == command.DONE
    assert len(capsys.readouterr().out.split()) > 10
