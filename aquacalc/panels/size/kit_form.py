"""What the leaflet of a test kit says, one parameter at a time, written into `garden.toml` as `[[kit]]`.

Nothing is known of any kit beforehand. What is left open stays open: without its basis a reading is not
known, without its steps a limit cannot be put onto its card.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import ipywidgets as widgets

from aquacalc import units, words
from aquacalc.errors import InputError, Problem
from aquacalc.garden import sections
from aquacalc.garden.fields import bounds
from aquacalc.garden.model import Kit, KitScale
from aquacalc.pages import html, kit
from aquacalc.panels.frame.conflict import Conflict
from aquacalc.panels.frame.dates import DateField
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import LABEL_STYLE, ChoiceField, Field, NumberField, TextField, alert
from aquacalc.panels.frame.panel import STYLE, answer, wide

NEW = "new"
"""The choice that begins another kit."""

READ_BY = ("open", "steps", "drop")
"""How a parameter is read: not known yet (or by a meter), on the steps of a card, by counted drops."""


class StepsField(Field):
    """The steps of a card in one box, rising, parted by semicolons or spaces; a comma is a decimal mark."""

    def __init__(self, label: str, value: Sequence[float], reader: words.Reader) -> None:
        self._value = tuple(value)
        self.box = widgets.Text(
            description=label, continuous_update=False, style=LABEL_STYLE, layout=widgets.Layout(width="98%")
        )
        super().__init__(label, reader, [self.box])
        self.set(value)
        self.box.observe(self.typed, "value")

    @property
    def value(self) -> tuple[float, ...]:
        """The steps; none where nothing was typed yet."""
        return self._value

    def set(self, value: Sequence[float]) -> None:
        """Put steps in."""
        self._value, self.problem, self.sentence.value = tuple(value), None, ""
        self._busy = True
        self.box.value = "; ".join(f"{one:g}" for one in value)
        self._busy = False

    def typed(self, change: dict[str, Any]) -> None:
        """Read what was typed."""
        if self._busy:
            return
        text = str(change["new"])
        parts = [part for part in (text.split(";") if ";" in text else text.split()) if part.strip()]
        try:
            found = tuple(units.read_number(part, self.label) for part in parts)
            if len(found) < 2 or any(later <= earlier for earlier, later in pairwise(found)):
                raise InputError(Problem("problem-steps", self.label, text.strip()))
            for one in found:
                bounds("kit_number").check(one, text.strip())
        except InputError as error:
            self.refuse(error.problems)
            return
        self._value = found
        self.accept()


class KitForm(widgets.VBox):  # type: ignore[misc]
    """The form. Nothing is written before its button is pressed; a demo garden is never written."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        reader, say = desk.reader, words.say
        self.said = widgets.HTML()
        self.preview = widgets.HTML()
        self.known = widgets.HTML()
        self.conflict = Conflict(desk)
        self.write = widgets.Button(
            description=say("panel-kit-write", reader), layout=widgets.Layout(width="auto")
        )
        self.write.on_click(self.save)
        parameters = [(say(f"word-{one}", reader), one) for one in sections.PARAMETERS]
        ways = [(say(f"panel-kit-by-{one}", reader), one) for one in READ_BY]
        today = desk.file.today
        ends = bounds("kit_number")
        self.fields: dict[str, Field] = {
            "kit": ChoiceField(say("panel-kit", reader), self._kits(), NEW, reader),
            "name": TextField(say("panel-kit-name", reader), say("panel-kit-name-new", reader), reader),
            "start": DateField(say("panel-kit-start", reader), None, reader, today, optional=True),
            "expires": DateField(say("panel-kit-expires", reader), None, reader, today, optional=True),
            "parameter": ChoiceField(say("panel-kit-parameter", reader), parameters, "tan", reader),
            "basis": ChoiceField(
                say("panel-kit-basis", reader), self._bases("tan"), sections.NOT_KNOWN, reader
            ),
            "by": ChoiceField(say("panel-kit-by", reader), ways, "open", reader),
            "steps": StepsField(say("panel-kit-steps", reader), (), reader),
            "drop": NumberField(say("panel-kit-drop", reader), "", 1.0, reader, 1e-6, ends.high),
        }
        self.inputs = widgets.Box(
            [field.widget for field in self.fields.values()],
            layout=widgets.Layout(flex_flow="row wrap", width="100%"),
        )
        super().__init__(
            [
                widgets.HTML(STYLE),
                self.said,
                self.inputs,
                self.write,
                self.conflict,
                self.preview,
                self.known,
            ],
            layout=widgets.Layout(width="100%"),
        )
        self.add_class("aq-panel")
        self.add_class("aq-kit-form")
        self.fields["kit"].on_change(self.kit_chosen)
        self.fields["parameter"].on_change(self.parameter_chosen)
        for name in ("name", "start", "expires", "basis", "by", "steps", "drop"):
            self.fields[name].on_change(self.check)
        self.begin()
        desk.follow(self.begin)

    @property
    def reader(self) -> words.Reader:
        """For whom the form speaks."""
        return self.desk.reader

    def begin(self) -> None:
        """Offer the kits of the garden at hand."""
        kits = self._kits()
        chosen = self.fields["kit"].value
        last = kits[-1][1] if chosen == NEW else chosen
        known = last if last in {key for _, key in kits} else NEW
        self._choice("kit").offer(kits, known)
        self.write.disabled = self.desk.file.read_only
        key = "panel-kit-demo" if self.desk.file.read_only else "panel-kit-said"
        self.said.value = html.paragraph(words.say(key, self.reader))
        self.known.value = html.element(
            "div",
            html.paragraph(words.say("panel-kit-known", self.reader)),
            wide(kit.table(self.desk.garden, self.reader)),
            class_="aq-result",
        )
        typed = {name: field.value for name, field in self.fields.items() if name != "kit"}
        self.kit_chosen()
        if self.desk.rereading:
            for name, value in typed.items():
                if self.fields[name].takes(value):
                    self.fields[name].set(value)
            self.check()

    def kit_chosen(self) -> None:
        """Show the kit that was chosen."""
        kit = self.kit
        self.fields["name"].set(kit.name if kit else words.say("panel-kit-name-new", self.reader))
        self.fields["start"].set(kit.start if kit else None)
        self.fields["expires"].set(kit.expires if kit else None)
        self.parameter_chosen()

    def parameter_chosen(self) -> None:
        """Show what is known of the parameter, and offer what its numbers may count."""
        parameter = str(self.fields["parameter"].value)
        scale = self.kit.scale(parameter) if self.kit else KitScale(parameter)
        bases = self._bases(parameter)
        self._choice("basis").offer(
            bases, scale.basis if scale.basis in dict(bases).values() else bases[-1][1]
        )
        self.fields["by"].set("drop" if scale.drop is not None else "steps" if scale.steps else "open")
        self.fields["steps"].set(scale.steps)
        self.fields["drop"].set(1.0 if scale.drop is None else scale.drop)
        self.check()

    @property
    def kit(self) -> Kit | None:
        """The kit that was chosen; None for another one."""
        chosen = self.fields["kit"].value
        return None if chosen == NEW else self.desk.garden.kits[int(chosen)]

    def values(self) -> dict[str, object]:
        """What goes into the file, by its keys."""
        kits = self.desk.garden.kits
        place = len(kits) if self.kit is None else int(self.fields["kit"].value)
        parameter, by = str(self.fields["parameter"].value), self.fields["by"].value
        scales = [one.parameter for one in (self.kit.scales if self.kit else ())]
        position = scales.index(parameter) if parameter in scales else len(scales)
        scale = f"kit.{place}.scale.{position}"
        named = bool(sections.fitting_bases(parameter))
        basis = self.fields["basis"].value if named else None
        found: dict[str, object] = {
            f"kit.{place}.name": self.fields["name"].value,
            f"kit.{place}.start": self.fields["start"].value,
            f"kit.{place}.expires": self.fields["expires"].value,
            f"{scale}.parameter": parameter,
            f"{scale}.basis": basis,
            f"{scale}.steps": list(self.fields["steps"].value) if by == "steps" else None,
            f"{scale}.drop": self.fields["drop"].value if by == "drop" else None,
        }
        old = self.kit.scale(parameter) if self.kit else KitScale(parameter)
        if old.checked is not None and named and basis != old.basis:
            # What a check found counts in the basis of then.
            found |= {f"{scale}.{key}": None for key in ("offset", "standard", "checked")}
        return found

    def check(self) -> None:
        """Ask for what belongs to the way of reading, and say what would be written."""
        asked = {"steps": self.fields["by"].value == "steps", "drop": self.fields["by"].value == "drop"}
        asked["basis"] = bool(sections.fitting_bases(str(self.fields["parameter"].value)))
        for name, shown in asked.items():
            self.fields[name].widget.layout.display = None if shown else "none"
        problems = self.problems()
        if problems:
            self.preview.value = alert(words.problem(one, self.reader) for one in problems)
            return
        opened = self._open()
        key = "panel-kit-open" if opened else "panel-kit-whole"
        parameter = words.say(f"word-{self.fields['parameter'].value}", self.reader)
        why = [words.say("panel-kit-open-why", self.reader)] if opened else []
        not_yet = words.say("panel-form-not-yet", self.reader)
        self.preview.value = answer(words.say(key, self.reader, parameter=parameter), [*why, not_yet])

    def problems(self) -> tuple[Problem, ...]:
        """What cannot be written as it stands."""
        by = self.fields["by"].value
        hidden = {"steps", "drop"} - {by}
        refused = [one.problem for name, one in self.fields.items() if one.problem and name not in hidden]
        if not refused and by == "steps" and not self.fields["steps"].value:
            refused.append(Problem("problem-empty", self.fields["steps"].label))
        return tuple(refused)

    def _open(self) -> bool:
        named = sections.fitting_bases(str(self.fields["parameter"].value))
        return self.fields["by"].value == "open" or (
            bool(named) and self.fields["basis"].value == sections.NOT_KNOWN
        )

    def save(self, _button: object = None) -> None:
        """Write the kit into the file, and work on with it."""
        problems = self.problems()
        if not problems:
            try:
                made = self.desk.write(self.values())
            except InputError as error:
                self.conflict.show(error.problems)
                return
            else:
                self.conflict.clear()
                name = str(made.path.name)
                self.preview.value = answer(words.say("panel-kit-written", self.reader, file=name))
                return
        self.preview.value = alert(words.problem(one, self.reader) for one in problems)

    def _kits(self) -> list[tuple[str, str]]:
        kits = [(kit.name, str(place)) for place, kit in enumerate(self.desk.garden.kits)]
        if self.desk.file.read_only:
            kits = []
        return [(words.say("panel-kit-new", self.reader), NEW), *kits]

    def _bases(self, parameter: str) -> list[tuple[str, str]]:
        fitting = sections.fitting_bases(parameter)
        in_units = parameter not in ("tan", "nitrite", "nitrate")
        shown = [(units.unit(one).label if in_units else one, one) for one in fitting]
        return [*shown, (words.say("not-known", self.reader), sections.NOT_KNOWN)]

    def _choice(self, name: str) -> ChoiceField:
        field = self.fields[name]
        assert isinstance(field, ChoiceField)
        return field


def panel(desk: Desk) -> KitForm:
    """The form over the notebook's garden."""
    return KitForm(desk)
