"""What the young are shown: every widget of every page of theirs, and every file that is theirs to take.

No caustic, acid or ammonia that is dosed or weighed, no killing. Titles of sources are no instructions.
"""

import json
from collections.abc import Iterator
from pathlib import Path

import ipywidgets as widgets
import pytest
from not_for_the_young import NAMED, forbidden

from aquacalc.garden import places
from aquacalc.panels.frame.fields import ChoiceField
from aquacalc.panels.frame.panel import Panel
from aquacalc.serve import notebooks
from aquacalc.serve.visitors import YOUNG_PAGES, Visitors
from aquacalc.workshop.audience import YOUNG, Audience

FEW = 9
"""Lists with more options are those of fish and crops, which name no chemical."""


def texts(widget: widgets.Widget) -> Iterator[str]:
    """All that a widget and those inside it can show as they stand."""
    for name in ("value", "description", "placeholder", "tooltip"):
        value = getattr(widget, name, None)
        if isinstance(value, str):
            yield value
    for option in getattr(widget, "options", ()):
        yield str(option[0] if isinstance(option, tuple) else option)
    for child in getattr(widget, "children", ()):
        yield from texts(child)


def every_state(panel: widgets.Widget) -> Iterator[str]:
    """The same, with each of a panel's short lists on each of its options."""
    yield from texts(panel)
    fields = panel.fields.values() if isinstance(panel, Panel) else ()
    for field in fields:
        if isinstance(field, ChoiceField) and len(field.list.options) <= FEW:
            for _, meant in field.list.options:
                field.list.value = meant
                yield from texts(panel)


def test_the_words_that_are_looked_for_are_found():
    assert {"Potassium hydroxide", "Ammonia solution"} <= set(NAMED)
    assert forbidden("<p>Weigh 3 g of Ammonium chloride</p>")
    assert not forbidden("<details>Smith. Ammonium in filters</details>")


@pytest.mark.parametrize(
    "garden",
    ["", *(pytest.param(places.DEMO + name, marks=pytest.mark.slow) for name in places.demos())],
)
def test_no_page_of_the_young_doses_what_burns_or_kills(
    garden: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    (tmp_path / places.GARDEN).write_bytes(places.starter().read_bytes())
    monkeypatch.chdir(tmp_path)
    seen = 0
    for page in YOUNG_PAGES:
        names: dict[str, object] = {}
        for cell in json.loads((places.workbook() / page).read_text("utf-8"))["cells"]:
            source = "".join(cell["source"])
            if notebooks.from_16(cell) or source.startswith("print"):
                continue
            if cell["cell_type"] != "code":
                assert forbidden(source) == [], page
            elif notebooks.PARAMETERS in cell["metadata"].get("tags", ()):
                names["garden"] = garden
            elif source.startswith("from "):
                exec(source, names)
            else:
                shown = eval(source, names)
                seen += 1
                for text in every_state(shown):
                    assert forbidden(text) == [], (page, source)
    assert seen >= 20


@pytest.mark.parametrize("audience", YOUNG)
@pytest.mark.parametrize("demo", places.demos())
def test_no_file_of_the_young_names_what_burns(audience: Audience, demo: str, tmp_path: Path):
    room = Visitors(places.garden_path(places.DEMO + demo).parent, tmp_path / "home", audience)
    one = room.come("Kim")
    assert [path.name for path in room.files(one)] == [places.GARDEN]
    for path in room.files(one):
        assert forbidden(path.read_text("utf-8")) == []


def test_a_part_that_weighs_chemicals_is_only_for_older_ones(tmp_path: Path):
    young, older = (Visitors(tmp_path, tmp_path / "home", audience) for audience in ("12-15", "16"))
    parts = [
        {part.title for page in room.pages(places.workbook()) for part in page.parts}
        for room in (young, older)
    ]
    assert "Is the kit right?" not in parts[0]
    assert "Is the kit right?" in parts[1]
    assert "Your test kit" in parts[0]
