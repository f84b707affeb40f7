"""Which notebooks are pages, what they ask, and which may start without being asked."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from aquacalc.garden import places
from aquacalc.serve import notebooks

SIZE = "01_size_the_garden.ipynb"


def changed(folder: Path, change: Callable[[list[dict[str, Any]]], object], name: str = SIZE) -> Path:
    """A copy of a notebook of ours whose cells were changed."""
    read = json.loads((places.workbook() / SIZE).read_text("utf-8"))
    change(read["cells"])
    (folder / name).write_text(json.dumps(read), "utf-8")
    return folder / name


def code(cells: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [cell for cell in cells if cell["cell_type"] == "code"]


@pytest.mark.parametrize("path", sorted(places.workbook().glob("0*.ipynb")), ids=lambda path: path.name)
def test_every_notebook_of_the_workbook_is_ours(path: Path):
    assert notebooks.ours(path)


def test_another_name_and_another_garden_leave_it_ours(tmp_path: Path):
    own = changed(tmp_path, lambda cells: code(cells)[0].update(source='garden = "mine.toml"'), "mine.ipynb")
    assert notebooks.ours(own)


@pytest.mark.parametrize(
    "source",
    ['garden = __import__("os").getcwd()', 'garden = ""\nprint(1)', "garden = f'{print(1)}'", "x = ("],
)
def test_a_garden_that_is_more_than_a_name_is_not_ours(source: str, tmp_path: Path):
    assert not notebooks.ours(changed(tmp_path, lambda cells: code(cells)[0].update(source=source)))


def test_code_that_was_changed_or_put_in_or_taken_out_is_not_ours(tmp_path: Path):
    more = {"cell_type": "code", "metadata": {}, "source": "import os"}
    for change in (
        lambda cells: code(cells)[2].update(source="import os"),
        lambda cells: cells.append(more),
        lambda cells: cells.remove(code(cells)[-1]),
    ):
        assert not notebooks.ours(changed(tmp_path, change))


@pytest.mark.parametrize("text", ["", "{", "[]", '{"cells": 3}', '{"cells": [3]}', "\x00"])
def test_what_is_no_notebook_is_neither_ours_nor_a_page(text: str, tmp_path: Path):
    (tmp_path / "x.ipynb").write_text(text, "utf-8")
    assert not notebooks.ours(tmp_path / "x.ipynb")
    assert notebooks.pages(tmp_path) == ()


def test_pages_tell_title_question_and_parts_and_bad_mornings_stand_first():
    pages = notebooks.pages(places.workbook())
    assert pages[0].file == notebooks.FIRST
    size = next(page for page in pages if page.file == SIZE)
    assert size.title == "Size the garden"
    assert size.question.startswith("How many fish can this garden carry")
    assert notebooks.Part("Your garden", "Your-garden") in size.parts
    assert notebooks.PLAN not in {page.file for page in pages}


def test_a_folder_without_notebooks_shows_those_of_the_workbook(tmp_path: Path):
    assert notebooks.folder_of(tmp_path) == places.workbook()
    changed(tmp_path, len)
    assert notebooks.folder_of(tmp_path) == tmp_path
