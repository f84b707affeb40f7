"""The garden in plain fields, in the order of a walk with a tape; they write `garden.toml`, with undo."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, get_args

import ipywidgets as widgets

from aquacalc import words
from aquacalc.errors import InputError, Problem
from aquacalc.garden import places, sections
from aquacalc.garden.fields import Quantity, bounds, inner, reading_of
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import BedKind, Cover, FishBatch, Garden
from aquacalc.garden.place import place
from aquacalc.garden.weather import from_extremes
from aquacalc.pages import html
from aquacalc.panels.frame import kept, lists
from aquacalc.panels.frame.conflict import Conflict
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import (
    GRAMS,
    NORTH,
    ChoiceField,
    Field,
    NumberField,
    TextField,
    alert,
)
from aquacalc.panels.frame.months import MonthsField
from aquacalc.panels.frame.panel import STYLE, answer
from aquacalc.sentences import balance as sentences
from aquacalc.sizing.balance import balance

EXTREMES = ("warm_max", "warm_min", "cold_max", "cold_min")
"""Fields that together give the twelve months of a new garden."""
KEY = "form"
FIRST = {"angle": NORTH, "mass": GRAMS}
"""Units to begin with where the first of the list is not the usual one."""


@dataclass(frozen=True)
class Asked:
    """One field of the form and the key of the file that it writes."""

    key: str
    field: Field


def own_fields(garden: Garden) -> list[Asked]:
    """What a walk with a tape tells of a garden that has a file: every tank, bed, pump and batch in it."""
    reader, say = garden.reader, words.say
    number = partial(_number, reader)

    def named(key: str, name: str) -> str:
        return say(key, reader, name=name)

    climate = garden.site.climate
    asked = [
        *_site(garden),
        _months("site.climate.air_max", "panel-air-max", climate.air_max_c, reader),
        _months("site.climate.air_min", "panel-air-min", climate.air_min_c, reader),
    ]
    for k, tank in enumerate(garden.tanks):
        asked.append(number(f"tank.{k}.volume", named("panel-tank-of", tank.name), tank.volume_l))
    for k, bed in enumerate(garden.beds):
        asked.append(number(f"bed.{k}.area", named("panel-bed-of", bed.name), bed.area_m2))
    if garden.sump:
        asked.append(number("sump.volume", say("panel-sump", reader), garden.sump.volume_l))
    for k, pump in enumerate(garden.pumps):
        asked.append(number(f"pump.{k}.flow", named("panel-pump-flow", pump.name), pump.box_flow_l_h))
    if garden.air:
        asked.append(number("air.flow", say("panel-air", reader), garden.air.flow_l_min))
    for k, batch in enumerate(garden.fish):
        asked += _fish(k, batch, named("panel-species-of", batch.name), reader)
    return [*asked, _help(garden)]


def new_fields(garden: Garden) -> list[Asked]:
    """The same walk through a garden that has no file yet: one tank, one bed, one pump, one batch."""
    reader, say = garden.reader, words.say
    number = partial(_number, reader)
    tank, bed, pump, batch = garden.tanks[0], garden.beds[0], garden.pumps[0], garden.fish[0]
    assert garden.sump is not None
    assert garden.air is not None
    kinds = [(say(f"panel-bed-{kind}", reader), kind) for kind in get_args(BedKind)]
    return [
        *_site(garden),
        *_extremes(garden),
        number("tank.0.volume", say("panel-tank-water", reader), tank.volume_l),
        Asked("bed.0.kind", ChoiceField(say("panel-bed-kind", reader), kinds, bed.kind, reader)),
        number("bed.0.area", say("panel-beds", reader), bed.area_m2),
        Asked(
            "crop.0.crop",
            ChoiceField(say("panel-crop", reader), lists.crops(), garden.crops[0].crop, reader),
        ),
        number("sump.volume", say("panel-sump", reader), garden.sump.volume_l),
        number("pump.0.flow", say("panel-pump-box", reader), pump.box_flow_l_h),
        number("air.flow", say("panel-air", reader), garden.air.flow_l_min),
        *_fish(0, batch, say("panel-species", reader), reader),
        _help(garden),
    ]


def _site(garden: Garden) -> list[Asked]:
    reader, say, site = garden.reader, words.say, garden.site
    covers = [(say(f"panel-cover-{cover}", reader), cover) for cover in get_args(Cover)]
    return [
        Asked("name", TextField(say("panel-garden-name", reader), garden.name, reader)),
        _number(reader, "site.latitude", say("panel-latitude", reader), site.latitude_deg),
        _number(reader, "site.altitude", say("panel-altitude", reader), site.altitude_m),
        Asked("site.cover", ChoiceField(say("panel-cover", reader), covers, site.cover, reader)),
    ]


def _months(key: str, label: str, value: Sequence[float], reader: words.Reader) -> Asked:
    return Asked(key, MonthsField(words.say(label, reader), "temperature", value, reader))


def _extremes(garden: Garden) -> list[Asked]:
    reader, climate = garden.reader, garden.site.climate
    values = {
        "warm_max": max(climate.air_max_c),
        "warm_min": max(climate.air_min_c),
        "cold_max": min(climate.air_max_c),
        "cold_min": min(climate.air_min_c),
    }
    low, high = _ends("air_temperature")
    return [
        Asked(
            key,
            NumberField(
                words.say(f"panel-{key.replace('_', '-')}", reader), "temperature", value, reader, low, high
            ),
        )
        for key, value in values.items()
    ]


def _fish(k: int, batch: FishBatch, label: str, reader: words.Reader) -> list[Asked]:
    final = _number(
        reader, f"fish.{k}.final_weight", words.say("panel-final-weight", reader), batch.final_weight_g
    )
    count = words.say("panel-fish-count", reader)
    return [
        Asked(f"fish.{k}.species", ChoiceField(label, lists.species(), batch.species, reader)),
        Asked(f"fish.{k}.count", NumberField(count, "", float(batch.count), reader, *_ends("fish_count"))),
        final,
    ]


def _help(garden: Garden) -> Asked:
    label = words.say("panel-help", garden.reader)
    return _number(garden.reader, "site.until_help", label, garden.site.hours_until_help)


def _number(reader: words.Reader, key: str, label: str, value: float) -> Asked:
    """A field with the kind and the bounds that the file's own check uses."""
    section, name = key.split(".")[0], key.split(".")[-1]
    held = inner(sections.File.model_fields[section])
    assert held is not None
    reading = reading_of(held.model_fields[name])
    assert isinstance(reading, Quantity)
    limits = bounds(reading.bound, reading.kind)
    field = NumberField(
        label, reading.kind, value, reader, limits.low, limits.high, shown_in=FIRST.get(reading.kind)
    )
    return Asked(key, field)


def _ends(bound: str) -> tuple[float, float]:
    limits = bounds(bound)
    return limits.low, limits.high


class GardenForm(widgets.VBox):  # type: ignore[misc]
    """The form. Nothing is written before its button is pressed.

    desk: the notebook's garden. folder: where a new `garden.toml` goes.
    A demo garden is never written: the form then begins with a starter garden and makes a new file.
    """

    def __init__(self, desk: Desk, folder: Path) -> None:
        self.desk, self.folder = desk, folder
        self.said = widgets.HTML()
        self.preview = widgets.HTML()
        self.conflict = Conflict(desk)
        self._shown = False
        reader = desk.reader
        self.write = _button("panel-form-write", reader)
        self.undo = _button("panel-form-undo", reader)
        self.write.on_click(self.save)
        self.undo.on_click(self.take_back)
        self.inputs = widgets.Box(layout=widgets.Layout(flex_flow="row wrap", width="100%"))
        buttons = widgets.HBox([self.write, self.undo], layout=widgets.Layout(flex_flow="row wrap"))
        # What the change does, and the way back, stay in sight however far the walk with the tape has come.
        foot = widgets.VBox([self.conflict, self.preview, buttons])
        foot.add_class("aq-foot")
        super().__init__(
            [widgets.HTML(STYLE), self.said, self.inputs, foot], layout=widgets.Layout(width="100%")
        )
        self.add_class("aq-panel")
        self.add_class(f"aq-{KEY}")
        self.begin()
        desk.follow(self.begin)
        if desk.problems:
            self.said.value = alert(words.problem(problem, reader) for problem in desk.problems)

    @property
    def reader(self) -> words.Reader:
        """For whom the form speaks."""
        return self.desk.reader

    def begin(self) -> None:
        """Show the garden at hand; where that is a demo garden, the starter garden.

        Where the file was read again, what was typed stands on top of what it says now.
        """
        typed = self.typed() if self.desk.rereading else {}
        self.new = self.desk.file.read_only
        if self.new:
            # The starter garden speaks the units of whoever looks at the demo.
            starter = GardenFile.open(places.starter()).garden
            self.asked = new_fields(replace(starter, reader=self.reader))
        else:
            self.asked = own_fields(self.desk.garden)
        self.touched: set[str] = set()
        for one in self.asked:
            one.field.on_change(partial(self.changed, one))
        self.inputs.children = [one.field.widget for one in self.asked]
        self.undo.disabled = not self.desk.before
        key = "panel-form-new" if self.new else "panel-form-own"
        self.said.value = html.paragraph(words.say(key, self.reader, file=places.GARDEN))
        self.preview.value = ""
        if self.desk.rereading:
            self.put(typed)
        else:
            self.conflict.clear()

    def typed(self) -> dict[str, Any]:
        """What was changed here, by the keys of the file."""
        return {one.key: one.field.value for one in self.asked if one.key in self.touched}

    def put(self, typed: Mapping[str, Any]) -> bool:
        """Put changed values in again; False where none of them fits any more."""
        fitting = [one for one in self.asked if one.key in typed and one.field.takes(typed[one.key])]
        for one in fitting:
            one.field.set(typed[one.key])
        for one in fitting:
            self.changed(one)
        return bool(fitting)

    def restore(self) -> None:
        """Put back what was typed before the page was loaded anew, and say so."""
        place = kept.place()
        at, typed = (0.0, {}) if place is None else kept.load(place, KEY)
        if self.put(typed):
            back = words.say("panel-back-again", self.reader, time=kept.clock(at))
            self.said.value += html.paragraph(back)

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        if not self._shown:
            self._shown = True
            self.restore()
        return super()._repr_mimebundle_(**kwargs)

    def _keep(self) -> None:
        place = kept.place()
        if place is not None:
            kept.keep(place, KEY, self.typed())

    def values(self) -> dict[str, object]:
        """What goes into the file, by its keys, as it was typed.

        Of a garden that has a file only what was changed; of a new one everything that is asked.
        """
        if not self.new:
            fields = {one.key: one.field for one in self.asked if one.key in self.touched}
            return {_key(key, field): _written(field) for key, field in fields.items()}
        fields = {one.key: one.field for one in self.asked}
        warm_max, warm_min, cold_max, cold_min = (fields.pop(key).value for key in EXTREMES)
        southern = fields["site.latitude"].value < 0.0
        highs, lows = from_extremes(warm_max, warm_min, cold_max, cold_min, southern)
        return {
            "reader.units": self.reader.units,
            "reader.paper": self.reader.paper,
            **{key: _written(field) for key, field in fields.items()},
            "site.climate.air_max_c": list(highs),
            "site.climate.air_min_c": list(lows),
        }

    def draft(self) -> Garden:
        """The garden as the fields have it, checked; nothing is written where the reader would find it."""
        if not self.new:
            return self.desk.file.changed(self.values()).garden
        with TemporaryDirectory() as folder:
            return GardenFile.write_new(folder, self.values()).garden

    def changed(self, one: Asked) -> None:
        """Check the garden with what was changed so far, and say what gives out first then."""
        self.touched.add(one.key)
        if self.refused():
            return
        self._keep()
        for other in self.asked:
            other.field.sentence.value = ""
        try:
            garden = self.draft()
        except InputError as error:
            self.show(error.problems)
            return
        title = sentences.headline(balance(garden), self.reader)
        before = sentences.headline(self.desk.balance, self.reader)
        lines = [words.say("panel-form-not-yet", self.reader)]
        if not self.new and before != title:
            lines.insert(0, f"{words.say('panel-before', self.reader)} {before}")
        self.preview.value = answer(title, lines)

    def refused(self) -> bool:
        """Whether a field holds what could not be read."""
        return any(one.field.problem is not None for one in self.asked)

    def show(self, problems: Sequence[Problem]) -> None:
        """Each problem beside the field that it is about; the others under the fields."""
        beside = {place(one.key): one.field for one in self.asked}
        rest = [problem for problem in problems if problem.where not in beside]
        for problem in problems:
            if problem.where in beside:
                # Only the sentence: the field's own text was read, it is the garden that it does not fit.
                beside[problem.where].sentence.value = alert([words.problem(problem, self.reader)])
        self.preview.value = ""
        self.conflict.show(rest)
        if not rest:
            self.preview.value = alert([words.say("panel-form-refused", self.reader)])

    def save(self, _button: object = None) -> None:
        """Write the file, and work on with it."""
        if self.refused():
            self.preview.value = alert([words.say("panel-form-refused", self.reader)])
            return
        try:
            if self.new:
                made = GardenFile.write_new(self.folder, self.values())
            else:
                made = self.desk.file.changed(self.values()).save()
        except InputError as error:
            self.show(error.problems)
            return
        self.conflict.clear()
        self.desk.put(made)
        self._keep()
        self.preview.value = answer(words.say("panel-form-written", self.reader, file=str(made.path.name)))

    def take_back(self, _button: object = None) -> None:
        """Write the garden that was there before the last change, and work on with that."""
        try:
            if not self.desk.take_back():
                return
        except InputError as error:
            self.show(error.problems)
            return
        self.preview.value = answer(words.say("panel-form-undone", self.reader))


def _written(field: Field) -> object:
    if isinstance(field, NumberField | MonthsField):
        return field.written
    return field.value


def _key(key: str, field: Field) -> str:
    return f"{key}_{field.unit.value}" if isinstance(field, MonthsField) else key


def _button(key: str, reader: words.Reader) -> widgets.Button:
    return widgets.Button(description=words.say(key, reader), layout=widgets.Layout(width="auto"))


def panel(desk: Desk, folder: str = "") -> GardenForm:
    """The form; a new garden file goes into `folder`, by default the notebook's own."""
    return GardenForm(desk, Path(folder) if folder else Path.cwd())
