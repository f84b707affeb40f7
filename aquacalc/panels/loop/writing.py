"""A panel whose numbers can be written into the garden file, and taken back."""

from collections.abc import Callable, Collection, Mapping, Sequence
from typing import Any

import ipywidgets as widgets

from aquacalc import words
from aquacalc.errors import InputError
from aquacalc.pages import html
from aquacalc.panels.frame.conflict import Conflict
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values

Dotted = Mapping[str, object]
"""What goes into the garden file, by its dotted keys."""


class WritingPanel(Panel):
    """A panel with a button that writes what was found into the garden file, and one that undoes it.

    written: what to write of the desk's garden, the answer and the fields; nothing where nothing is worth it.
    A demo garden is never written.
    """

    def __init__(
        self,
        key: str,
        desk: Desk | None,
        fields: Mapping[str, Field],
        compute: Callable[[Values], Any],
        draw: Callable[[Any], str],
        written: Callable[[Desk, Any, Mapping[str, Field]], Dotted],
        asked: Callable[[Values], Collection[str]] | None = None,
        main: Collection[str] = (),
    ) -> None:
        self.desk, self.written = desk, written
        reader = reader_of(desk)
        self.write = _button("panel-write", reader)
        self.undo = _button("panel-form-undo", reader)
        self.write.on_click(self.save)
        self.undo.on_click(self.take_back)
        self.said = widgets.HTML()
        self.conflict = None if desk is None else Conflict(desk)
        self.found: Any = None

        def computed(values: Values) -> Any:
            self.found = compute(values)
            return self.found

        buttons = widgets.HBox([self.write, self.undo], layout=widgets.Layout(flex_flow="row wrap"))
        below = [buttons, self.said, *([] if self.conflict is None else [self.conflict])]
        super().__init__(key, fields, computed, draw, reader, below, asked, main)

    def refresh(self) -> None:
        """Answer, and offer to write what the answer is worth."""
        super().refresh()
        can = self.desk is not None and not self.desk.file.read_only
        self.undo.layout.display = None if self.desk is not None and self.desk.before else "none"
        self.write.layout.display = None if can else "none"
        self.write.disabled = bool(self.refused) or self.desk is None or not self._dotted()
        demo = self.desk is not None and self.desk.file.read_only
        self.said.value = html.paragraph(words.say("panel-demo-stays", self.reader)) if demo else ""

    def _dotted(self) -> Dotted:
        if self.desk is None or self.found is None:
            return {}
        return self.written(self.desk, self.found, self.fields)

    def save(self, _button: object = None) -> None:
        """Write what was found; the fields stay as they were typed."""
        values = self._dotted()
        if self.desk is None or self.conflict is None or not values or self.refused:
            return
        chosen = self.values
        try:
            made = self.desk.write(values)
        except InputError as error:
            self.conflict.show(error.problems)
            return
        self.conflict.clear()
        self.fill(chosen)
        said = words.say("panel-kit-written", self.reader, file=str(made.path.name))
        self.said.value = html.paragraph(said)

    def take_back(self, _button: object = None) -> None:
        """Write the garden that was there before the last change."""
        try:
            if self.desk is None or self.conflict is None or not self.desk.take_back():
                return
        except InputError as error:
            assert self.conflict is not None
            self.conflict.show(error.problems)
            return
        self.conflict.clear()
        self.said.value = html.paragraph(words.say("panel-form-undone", self.reader))


def choice(key: str, options: Sequence[str], reader: words.Reader, value: str = "") -> ChoiceField:
    """A list of choices whose words stand under `KEY-OPTION`."""
    shown = [(words.say(f"{key}-{one}", reader), one) for one in options]
    return ChoiceField(words.say(key, reader), shown, value or options[0], reader)


def number(
    key: str,
    kind: str,
    value: float | None,
    low: float,
    high: float,
    reader: words.Reader,
    slide: tuple[float, float, float] | None = None,
    optional: bool = False,
    shown_in: Mapping[str, str] | None = None,
    beside: str = "",
) -> NumberField:
    """A number whose words stand under `KEY`."""
    label = words.say(key, reader)
    return NumberField(label, kind, value, reader, low, high, slide, optional, shown_in, beside)


def _button(key: str, reader: words.Reader) -> widgets.Button:
    return widgets.Button(description=words.say(key, reader), layout=widgets.Layout(width="auto"))
