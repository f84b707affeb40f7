"""The numbers of a panel under a name: kept for later, opened by whoever else looks at these pages.

The server of the pages names a folder; without one nothing is offered.
"""

import hashlib
import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from aquacalc import disk, words
from aquacalc.errors import InputError, Problem
from aquacalc.pages import html
from aquacalc.panels.frame import kept
from aquacalc.panels.frame.fields import LABEL_STYLE, alert
from aquacalc.panels.frame.panel import Panel

PLACE = "AQUACALC_SCENARIOS"
"""The name in the environment under which the folder stands."""
NAME_LETTERS = 40
MOST = 60
"""So many are kept for a panel; then the next is refused. Common practice, no source."""


def place() -> Path | None:
    """The folder; None where nothing is kept."""
    named = os.environ.get(PLACE, "")
    return Path(named) if named else None


def names(folder: Path, panel: str) -> dict[str, Path]:
    """The scenarios of a panel by their names; what cannot be read is left out."""
    found = {}
    for path in folder.glob(f"{panel}-*.json"):
        name, _ = load(path)
        if name:
            found[name] = path
    return dict(sorted(found.items(), key=lambda one: one[0].casefold()))


def load(path: Path) -> tuple[str, dict[str, Any]]:
    """Name and values by field; nothing where the file is none of ours."""
    try:
        read = json.loads(path.read_text("utf-8"))
        return str(read["name"]), kept.read(read["values"])
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return "", {}


def save(folder: Path, panel: str, name: str, values: Mapping[str, Any]) -> Path:
    """Keep the values of a panel under a name; one of the same name is written over.

    The name stands in the file, not in the file's name. Raises `InputError` where there is no name, where
    there are too many, or where the disk takes nothing.
    """
    name = " ".join(name.split())[:NAME_LETTERS]
    if not name:
        raise InputError(Problem("problem-scenario-name"))
    path = folder / f"{panel}-{hashlib.sha256(name.encode()).hexdigest()[:16]}.json"
    if not path.exists() and len(list(folder.glob(f"{panel}-*.json"))) >= MOST:
        raise InputError(Problem("problem-scenario-many", found=str(MOST)))
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise disk.cannot_write(folder, error) from error
    disk.replace_whole(path, json.dumps({"name": name, "values": kept.written(values)}).encode("utf-8"))
    return path


class Scenarios(widgets.VBox):  # type: ignore[misc]
    """A name to keep the panel's numbers under, and a list of those that were kept. Folded away at first."""

    def __init__(self, panel: Panel, folder: Path) -> None:
        self.panel, self.folder = panel, folder
        say, reader = words.say, panel.reader
        self.fold = widgets.ToggleButton(description=say("scenario-fold", reader), layout={"width": "auto"})
        self.name = widgets.Text(
            description=say("scenario-name", reader), style=LABEL_STYLE, layout=widgets.Layout(width="98%")
        )
        self.keep_these = widgets.Button(description=say("scenario-keep", reader), layout={"width": "auto"})
        self.list = widgets.Dropdown(
            description=say("scenario-list", reader), style=LABEL_STYLE, layout=widgets.Layout(width="98%")
        )
        self.show_chosen = widgets.Button(description=say("scenario-open", reader), layout={"width": "auto"})
        self.said = widgets.HTML()
        self.inside = widgets.VBox([self.name, self.keep_these, self.list, self.show_chosen, self.said])
        self.inside.add_class("aq-field")
        super().__init__([self.fold, self.inside])
        self.fold.observe(self.unfold, "value")
        self.keep_these.on_click(self.save)
        self.show_chosen.on_click(self.load)
        self.unfold()

    def unfold(self, _change: object = None) -> None:
        """Show the list as it is now: others may have kept something meanwhile."""
        self.inside.layout.display = None if self.fold.value else "none"
        self._offer("")

    def _offer(self, chosen: str) -> None:
        found = names(self.folder, self.panel.key)
        self.list.options = [(name, str(path)) for name, path in found.items()]
        if found:
            self.list.value = chosen or str(next(iter(found.values())))
        shown = None if found else "none"
        self.list.layout.display = self.show_chosen.layout.display = shown

    def save(self, _button: object = None) -> None:
        """Keep the numbers that stand there; not while one of them is refused."""
        say, reader = words.say, self.panel.reader
        if self.panel.refused:
            self.said.value = alert([say("scenario-refused", reader)])
            return
        try:
            path = save(self.folder, self.panel.key, self.name.value, self.panel.values)
        except InputError as error:
            self.said.value = alert(words.problem(one, reader) for one in error.problems)
            return
        self._offer(str(path))
        self.said.value = html.element("p", say("scenario-kept", reader, name=load(path)[0]), role="status")

    def load(self, _button: object = None) -> None:
        """Put the chosen numbers into the panel, as one step that can be taken back."""
        if self.list.value is None:
            return
        name, values = load(Path(self.list.value))
        self.panel.put(values, name)
        self.said.value = html.element(
            "p", words.say("scenario-opened", self.panel.reader, name=name), role="status"
        )


def offer(panel: Panel) -> None:
    """Put it under a panel's fields, where a folder is named."""
    folder = place()
    if folder is not None:
        panel.left.children = (*panel.left.children, Scenarios(panel, folder))
