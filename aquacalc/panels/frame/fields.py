"""Fields of a panel: a number with its unit and, where it helps, a slider; a choice; a text.

A field holds its value in the base unit of its kind. What is typed is read by the package's own parser
(decimal comma or point, any unit behind the number), never by a number box of the browser, which would turn
6,8 into 68. A text that cannot be accepted leaves the value as it was and shows a sentence beside the field.
"""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

import ipywidgets as widgets

from aquacalc import tables, units, words
from aquacalc.errors import InputError, Problem
from aquacalc.pages import html
from aquacalc.panels.frame import digits

SHOWN_DIGITS = 3
WRITTEN_DIGITS = 6
"""Significant digits of a value that goes into a garden file, more than are known."""
KILOGRAMS = {"metric": "kg", "us": "lb"}
"""Units in which a whole stock is weighed."""
GRAMS = {"metric": "g", "us": "oz"}
"""Units in which one fish is weighed."""
NORTH = {"metric": "deg_n", "us": "deg_n"}
FIELD_WIDTH = "34em"
LABEL_STYLE = {"description_width": "initial"}


def alert(sentences: Iterable[str]) -> html.Html:
    """Sentences that say what could not be accepted."""
    return html.element("div", *map(html.paragraph, sentences), class_="aq-problem", role="alert")


class Field:
    """A labelled control with a sentence under it; `changed` functions run after each accepted change."""

    def __init__(self, label: str, reader: words.Reader, controls: Sequence[widgets.Widget]) -> None:
        self.label = label
        self.reader = reader
        self.problem: Problem | None = None
        self.sentence = widgets.HTML()
        self.widget = widgets.VBox(
            [*controls, self.sentence], layout=widgets.Layout(width="98%", max_width=FIELD_WIDTH)
        )
        self.widget.add_class("aq-field")
        self._listeners: list[Callable[[], None]] = []
        self._busy = False

    @property
    def value(self) -> Any:
        """What the field stands for."""
        raise NotImplementedError

    def set(self, value: Any) -> None:
        """Put a value in without telling the listeners, as when a panel is filled from a garden."""
        raise NotImplementedError

    def takes(self, value: Any) -> bool:
        """Whether a value that was kept for this field still fits it."""
        return type(value) is type(self.value)

    def on_change(self, listener: Callable[[], None]) -> None:
        """Call `listener` after each accepted change and after each text that was refused."""
        self._listeners.append(listener)

    def refuse(self, problems: Sequence[Problem]) -> None:
        """Show why a text was not accepted; the value stays."""
        self.problem = problems[0]
        self.sentence.value = alert(words.problem(problem, self.reader) for problem in problems)
        self._tell()

    def accept(self) -> None:
        """Clear the sentence and tell the listeners."""
        self.problem = None
        self.sentence.value = ""
        self._tell()

    def _tell(self) -> None:
        for listener in self._listeners:
            listener()


class NumberField(Field):
    """A number in a text box, its unit beside it or a list of them, and a slider if wished.

    kind: a kind of `units.csv`, or empty for a plain number. value, low, high: in the base unit; what lies
    outside `low` to `high` is refused with both ends. slide: low end, high end and step of a slider, in the
    base unit; ends that would be refused are not offered. optional: an empty box is None. shown_in: unit to
    begin with, by the reader's units; else the usual one, or the smaller where it would show less than one.
    beside: what a plain number counts, the end of a key `beside-...`, where its name does not say it.
    """

    def __init__(
        self,
        label: str,
        kind: str,
        value: float | None,
        reader: words.Reader,
        low: float,
        high: float,
        slide: tuple[float, float, float] | None = None,
        optional: bool = False,
        shown_in: Mapping[str, str] | None = None,
        beside: str = "",
    ) -> None:
        self.kind, self.low, self.high, self.optional = kind, low, high, optional
        self._value, self._typed = value, ""
        self._system, self._fixed = reader.units, bool(shown_in)
        self.box = text_box(label)
        self.unit = unit_list(kind, reader, shown_in or {})
        self.beside = words.say(f"beside-{beside}", reader) if beside else self.unit.options[0][0]
        controls: list[widgets.Widget] = [self._line()]
        self.slider: widgets.FloatSlider | None = None
        if slide is not None:
            least, most, step = _possible(slide, low, high)
            self.slider = widgets.FloatSlider(
                value=min(max(least if value is None else value, least), most),
                min=least,
                max=most,
                step=step,
                readout=False,
                continuous_update=True,
                tooltip=label,
                layout=widgets.Layout(width="auto"),
            )
            controls.append(self.slider)
            self.slider.observe(self.slid, "value")
        super().__init__(label, reader, controls)
        self._show()
        self.box.observe(self.typed, "value")
        self.unit.observe(self.unit_chosen, "value")

    def _line(self) -> widgets.Widget:
        """The box and, on the same line, its unit."""
        if len(self.unit.options) > 1:
            return side_by_side(self.box, self.unit)
        if not self.beside:
            return self.box
        said = widgets.HTML(html.element("span", self.beside))
        said.add_class("aq-beside")
        return side_by_side(self.box, said)

    @property
    def value(self) -> float | None:
        """The number in the base unit of its kind."""
        return self._value

    def set(self, value: float | None) -> None:
        """Put a value in the base unit in."""
        self._value, self._typed, self.problem, self.sentence.value = value, "", None, ""
        self._show()

    @property
    def written(self) -> str | float | None:
        """The value as it was typed, with its unit; a plain number as it is.

        What is shown of a value that nobody typed is rounded, what is written of it is not.
        """
        if not self.kind:
            whole = self._value is not None and self._value.is_integer()
            return int(self._value) if whole and self._value is not None else self._value
        text = self._typed
        if not text and self._value is not None:
            text = f"{self._in_unit(self._value):.{WRITTEN_DIGITS}g}"
        named = any(character.isalpha() for character in text)
        return text if named else units.unit(self.unit.value).written(text)

    def takes(self, value: Any) -> bool:
        """A number between the ends; nothing only where the field may be empty."""
        if value is None:
            return self.optional
        return isinstance(value, int | float) and self.low <= value <= self.high

    def typed(self, change: dict[str, Any]) -> None:
        """Read what was typed: a number in the chosen unit, or a number with a unit of its own."""
        if self._busy:
            return
        try:
            self._value = self._read(change["new"])
        except InputError as error:
            self.refuse(error.problems)
            return
        self._fixed, self._typed = True, str(change["new"]).strip()
        self._show(keep=change["new"])
        self.accept()

    def unit_chosen(self, change: dict[str, Any]) -> None:
        """Show the same value in another unit; the value itself is not rounded."""
        if not self._busy and self.problem is None:
            self._fixed, self._typed = True, ""
            self._show()

    def slid(self, change: dict[str, Any]) -> None:
        """Take the slider's place as the value.

        A browser puts a new slider on its nearest step and reports that: what is nearer than half a step to
        the value is no move.
        """
        place, slider = float(change["new"]), self.slider
        assert slider is not None
        if self._value is not None and abs(place - self._value) < slider.step / 2.0:
            return
        if not self._busy:
            self._value, self._typed, self._fixed = place, "", True
            self._show()
            self.accept()

    def _read(self, text: str) -> float | None:
        if self.optional and not text.strip():
            return None
        value = (
            units.read(text, self.kind, self.label, self.unit.value)
            if self.kind
            else units.read_number(text, self.label)
        )
        if not self.low <= value <= self.high:
            ends = [self._end(end) for end in (self.low, self.high)]
            raise InputError(Problem("problem-range", self.label, text.strip(), (*ends, self._unit_label())))
        return value

    def _in_unit(self, value: float) -> float:
        return units.to(value, self.unit.value) if self.kind else value

    def _end(self, value: float) -> str:
        shown = self._in_unit(value)
        whole = len(str(int(abs(shown)))) if math.isfinite(shown) else 0
        return words.number(shown, max(SHOWN_DIGITS, whole))

    def _unit_label(self) -> str:
        return units.unit(self.unit.value).label if self.kind else ""

    def _fit_unit(self) -> None:
        """Show 15 min and not 0.25 h, unless a unit was chosen: by the reader, or for this field."""
        if self._fixed or self._value is None or not self.kind:
            return
        usual = first_unit(self.kind, self.reader, {})
        small = digits.fitting_unit(units.to(self._value, usual), self.kind, self._system)
        offered = {key for _, key in self.unit.options}
        self.unit.value = small if small in offered else usual

    def _show(self, keep: str = "") -> None:
        # A plain number stays as it was typed; a number with a unit of its own is shown in the chosen unit.
        self._busy = True
        self._fit_unit()
        plain = keep.strip() and not any(character.isalpha() for character in keep)
        if not plain:
            shown = None if self._value is None else self._in_unit(self._value)
            self.box.value = "" if shown is None else digits.as_written(shown, self.kind)
        if self.slider is not None and self._value is not None:
            self.slider.value = min(max(self._value, self.slider.min), self.slider.max)
        self._busy = False


def text_box(label: str) -> widgets.Text:
    """A box that is read when it is left."""
    return widgets.Text(
        description=label, continuous_update=False, style=LABEL_STYLE, layout=widgets.Layout(width="98%")
    )


def unit_list(kind: str, reader: words.Reader, shown_in: Mapping[str, str]) -> widgets.Dropdown:
    """The units of a kind to choose from, the one to begin with chosen."""
    offered = units.common(kind) if kind else ()
    return widgets.Dropdown(
        options=[(unit.label, unit.key) for unit in offered] or [("", "")],
        value=first_unit(kind, reader, shown_in) if kind else "",
        description=words.say("panel-unit", reader),
        style=LABEL_STYLE,
        layout=widgets.Layout(width="8em"),
    )


def side_by_side(box: widgets.Text, unit: widgets.Widget) -> widgets.HBox:
    """A number and its unit on one line, on two where the screen is narrow."""
    box.layout.width, box.layout.flex, box.layout.min_width = "auto", "1 1 7em", "7em"
    layout = widgets.Layout(flex_flow="row wrap", align_items="flex-end", width="100%")
    return widgets.HBox([box, unit], layout=layout)


def first_unit(kind: str, reader: words.Reader, shown_in: Mapping[str, str]) -> str:
    """Key of the unit to begin with: as asked, else the one in which pages show this kind to this reader."""
    if reader.units in shown_in:
        return shown_in[reader.units]
    shown = tables.load("quantities")
    usual = shown.row(kind).text(reader.units) if kind in shown.keys() else ""  # noqa: SIM118  (rows are iterated)
    offered = [unit.key for unit in units.common(kind)]
    return usual if usual in offered else offered[0]


def _possible(slide: tuple[float, float, float], low: float, high: float) -> tuple[float, float, float]:
    """Ends and step of a slider, on its own steps, without places that the field would refuse.

    >>> _possible((0.0, 5000.0, 10.0), 15.0, 3004.0)
    (20.0, 3000.0, 10.0)
    """
    least, most, step = slide
    # A millionth of a step more or less is not another place.
    if least < low:
        least += step * math.ceil((low - least) / step - 1e-6)
    if most > high:
        most -= step * math.ceil((most - high) / step - 1e-6)
    return least, most, step


class ChoiceField(Field):
    """One of several; options are pairs of what is shown and what is meant."""

    def __init__(
        self, label: str, options: Sequence[tuple[str, str]], value: str, reader: words.Reader
    ) -> None:
        self.list = widgets.Dropdown(
            options=list(options),
            value=value,
            description=label,
            style=LABEL_STYLE,
            layout=widgets.Layout(width="98%"),
        )
        super().__init__(label, reader, [self.list])
        self.list.observe(self.chosen, "value")

    @property
    def value(self) -> str:
        """The chosen option."""
        return str(self.list.value)

    def set(self, value: str) -> None:
        """Choose an option by what it means."""
        self._busy = True
        self.list.value = value
        self._busy = False

    def takes(self, value: Any) -> bool:
        """One of those that are offered."""
        return value in {meant for _, meant in self.list.options}

    def offer(self, options: Sequence[tuple[str, str]], value: str) -> None:
        """Put other options in, and choose one of them."""
        self._busy = True
        self.list.options = list(options)
        self.list.value = value
        self._busy = False

    def chosen(self, change: dict[str, Any]) -> None:
        """Tell the listeners."""
        if not self._busy:
            self.accept()


class TextField(Field):
    """A name."""

    def __init__(self, label: str, value: str, reader: words.Reader) -> None:
        self.box = widgets.Text(
            value=value,
            description=label,
            continuous_update=False,
            style=LABEL_STYLE,
            layout=widgets.Layout(width="98%"),
        )
        super().__init__(label, reader, [self.box])
        self.box.observe(self.typed, "value")

    @property
    def value(self) -> str:
        """The text without spaces around it."""
        return str(self.box.value).strip()

    def set(self, value: str) -> None:
        """Put a text in."""
        self._busy = True
        self.box.value = value
        self._busy = False

    def typed(self, change: dict[str, Any]) -> None:
        """Tell the listeners; an empty name is refused."""
        if self._busy:
            return
        if self.value:
            self.accept()
        else:
            self.refuse([Problem("problem-empty", self.label)])
