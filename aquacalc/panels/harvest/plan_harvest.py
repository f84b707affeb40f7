"""What if a date, a number or a weight were another? One batch changed, the year drawn again at once."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import isclose
from typing import Any

import ipywidgets as widgets

from aquacalc import crops, units, words
from aquacalc.charts import season as charts
from aquacalc.charts.axes import round_up
from aquacalc.charts.picture import svg
from aquacalc.errors import InputError
from aquacalc.garden import places
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.logbook.log import Log
from aquacalc.pages import html
from aquacalc.panels.frame.conflict import Conflict
from aquacalc.panels.frame.dates import DateField
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import GRAMS, ChoiceField, Field, NumberField, alert
from aquacalc.panels.frame.panel import Panel, Values, answer, figure
from aquacalc.panels.harvest.season_answers import (
    batch_names,
    cited,
    of_crop,
    of_fish,
    sowing_table,
    warnings,
)
from aquacalc.panels.harvest.season_runs import BandButton, Decided, middle, top_g_day
from aquacalc.schedule import crops as schedule

FISH = {
    "stocked": "stocked",
    "until": "until",
    "count": "count",
    "weight": "weight",
    "final": "final_weight",
}
CROP = {"first": "first", "yield": "yield", "loss": "loss", "plants": "plants"}
"""Fields, and the keys of the garden file that they write."""
FIRST = {
    "mass": GRAMS,
    "crop_yield": {"metric": "kg_m2", "us": "lb_ft2"},
    "spacing": {"metric": "plants_m2", "us": "plants_ft2"},
}
"""Units to begin with."""


@dataclass(frozen=True)
class Shown:
    """What is to be drawn: the season as it would be, what was changed, and the garden as it is."""

    season: Decided
    draft: Garden
    saved: Garden
    chosen: str
    top_g_day: float
    log: Log | None


def controls(garden: Garden) -> dict[str, Field]:
    """A batch to choose, and what can be changed of a batch of fish or of a crop."""
    reader, say, start = garden.reader, words.say, garden.season.start

    def number(key: str, kind: str, low: float, high: float, optional: bool = True) -> NumberField:
        return NumberField(
            say(key, reader), kind, None, reader, low, high, optional=optional, shown_in=FIRST.get(kind)
        )

    choices = list(batch_names(garden)) or [(say("plan-choose-none", reader), "")]
    return {
        "what": ChoiceField(say("plan-choose", reader), choices, choices[0][1], reader),
        "stocked": DateField(say("plan-stocked", reader), start, reader, start),
        "until": DateField(say("plan-until", reader), None, reader, garden.season.end, optional=True),
        "count": number("panel-fish-count", "", 1.0, 100_000.0, optional=False),
        "weight": number("panel-size-start", "mass", 0.1, 20_000.0, optional=False),
        "final": number("panel-final-weight", "mass", 1.0, 20_000.0, optional=False),
        "first": DateField(say("plan-first", reader), None, reader, start, optional=True),
        "yield": number("plan-yield", "crop_yield", 0.01, 200.0),
        "loss": number("plan-loss", "share", 0.0, 0.9),
        "plants": number("plan-plants", "spacing", 0.1, 2000.0),
    }


def known(garden: Garden, chosen: str) -> dict[str, Any]:
    """What the garden has of a batch, by field."""
    kind, _, number = chosen.partition(".")
    if kind == "fish":
        batch = garden.fish[int(number)]
        return {
            "stocked": batch.stocked,
            "until": batch.until,
            "count": float(batch.count),
            "weight": batch.weight_g,
            "final": batch.final_weight_g,
        }
    if kind == "crop":
        plan = garden.crops[int(number)]
        return {
            "first": plan.first,
            "yield": plan.yield_kg_m2,
            "loss": None if plan.loss_pct is None else plan.loss_pct / 100.0,
            "plants": plan.plants_m2,
        }
    return {}


def asked(values: Values) -> Sequence[str]:
    """The fields of the chosen batch."""
    kind = str(values["what"]).partition(".")[0]
    return ("what", *{"fish": FISH, "crop": CROP}.get(kind, {}))


def edits(chosen: str, fields: Mapping[str, Field], garden: Garden) -> dict[str, object]:
    """What differs from the garden, by keys of the file, as it was typed."""
    kind = chosen.partition(".")[0]
    keys = {"fish": FISH, "crop": CROP}.get(kind, {})
    found: dict[str, object] = {}
    for name, had in known(garden, chosen).items():
        field = fields[name]
        if not _same(field.value, had):
            assert isinstance(field, NumberField | DateField)
            found[f"{chosen}.{keys[name]}"] = None if field.value is None else field.written
    return found


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return isclose(one, other, rel_tol=1e-9, abs_tol=1e-12)
    return bool(one == other)


def said(season: Decided, chosen: str) -> str:
    """The answer about the chosen batch."""
    kind, _, number = chosen.partition(".")
    of: dict[str, Callable[[Decided, int], str]] = {"fish": of_fish, "crop": of_crop}
    none = words.say("plan-choose-none", season.garden.reader)
    return of[kind](season, int(number)) if kind in of else none


def draw(shown: Shown) -> html.Html:
    """The answer, how it was before, the strip, what to act on, what to sow."""
    season, reader = shown.season, shown.draft.reader
    now = said(season, shown.chosen)
    lines = []
    if shown.draft != shown.saved:
        # Middle against middle, where the band of the changed garden is not there either.
        before = said(middle(shown.saved, shown.log), shown.chosen)
        lines = [words.say("plan-before", reader, before=before), words.say("plan-not-written", reader)]
    waiting = season.agenda.waiting
    page = svg(charts.strip(season.run, season.garden, reader, "", shown.top_g_day, waiting))
    phone = charts.strip_on_phone(season.run, season.garden, reader, shown.top_g_day, waiting)
    sowing = html.element(
        "details", html.element("summary", words.say("plan-list", reader)), sowing_table(season)
    )
    return answer(now, lines, figure(page, phone), warnings(season), sowing, cited(season))


class PlanPanel(Panel):
    """One batch is changed at a time; nothing is written before its button is pressed.

    desk: the notebook's garden. `draft` is the garden file as it would be, `typed` what it differs in,
    `before` the ones before it.
    """

    steps_back = False  # it has a way back of its own, over all batches

    def __init__(self, desk: Desk, may_write: bool = True) -> None:
        self.desk, self.may_write = desk, may_write
        self.draft: GardenFile = desk.file
        self.typed: dict[str, object] = {}
        self.before: list[tuple[GardenFile, dict[str, object]]] = []
        self.conflict = Conflict(desk)
        self.filled = ""
        self.top = top_g_day(middle(desk.garden, desk.log).run)
        reader = desk.reader
        self.band = BandButton(lambda: self.draft.garden, desk.log, self.redraw, reader)
        self.undo = _button("plan-undo", reader)
        self.write = _button("plan-write", reader)
        self.undo.on_click(self.take_back)
        self.write.on_click(self.save)
        buttons = widgets.HBox(
            [self.undo, self.write] if may_write else [self.undo],
            layout=widgets.Layout(flex_flow="row wrap"),
        )
        super().__init__(
            "plan",
            controls(desk.garden),
            self.changed,
            draw,
            reader,
            (buttons, self.conflict, self.band),
            asked,
        )
        desk.follow(self.begin)

    @property
    def chosen(self) -> str:
        """The batch at hand, as its part of the file: `fish.0`."""
        return str(self.fields["what"].value)

    def begin(self) -> None:
        """Go on with the garden of the desk."""
        if self.desk.file.text != self.draft.text:
            self.before = []
        self.draft, self.filled = self._again() if self.desk.rereading else self.desk.file, ""
        if self.draft is self.desk.file:
            self.typed = {}
        what = self.fields["what"]
        assert isinstance(what, ChoiceField)
        choices = batch_names(self.desk.garden) or [(words.say("plan-choose-none", self.reader), "")]
        kept = self.chosen if self.chosen in {key for _, key in choices} else choices[0][1]
        what.offer(choices, kept)
        self.refresh()

    def _again(self) -> GardenFile:
        """What was typed, on top of what the file says now; where that no longer fits, what it says now."""
        try:
            return self.desk.file.changed(self.typed) if self.typed else self.desk.file
        except InputError as error:
            self.conflict.show(error.problems)
            return self.desk.file

    def refresh(self) -> None:
        """Fill the fields where another batch was chosen; then answer."""
        if self.filled != self.chosen:
            self.show_batch()
        super().refresh()
        self.undo.disabled = not self.before

    def redraw(self) -> None:
        """Answer again."""
        self.refresh()

    def show_batch(self) -> None:
        """Show what the draft has of the chosen batch."""
        garden = self.draft.garden
        for name, value in known(garden, self.chosen).items():
            self.fields[name].set(value)
        self.filled = self.chosen
        kind, _, number = self.chosen.partition(".")
        if kind == "crop":
            self._hint(int(number))

    def _hint(self, plan: int) -> None:
        """Say in empty boxes what the table has; an empty day steps away from the one that is planned."""
        garden = self.draft.garden
        crop = crops.crop(garden.crops[plan].crop)
        first = self.fields["first"]
        assert isinstance(first, DateField)
        planned = (one.plant for one in schedule.batches(garden) if one.plan == plan)
        first.near = next((day for day in planned if day > garden.season.start), garden.season.start)
        usual = {"yield": crop.yield_kg_m2.typical, "plants": crop.plants_m2.typical}
        for name, value in usual.items():
            field = self.fields[name]
            assert isinstance(field, NumberField)
            shown = words.number(_in_unit(field, value))
            field.box.placeholder = words.say("plan-usual", self.reader, value=shown)

    def changed(self, values: Values) -> Shown:
        """Put what was typed into the draft, and run its season."""
        new = edits(self.chosen, self.fields, self.draft.garden)
        if new:
            changed = self.draft.changed(new)
            # What is shown in another unit than it was typed in is rounded, and may differ for ever.
            if changed.text != self.draft.text:
                self.before.append((self.draft, dict(self.typed)))
                self.draft = changed
                self.typed |= new
        season = self.band.season()
        # The axis grows where it has to, and never shrinks under a moving control.
        self.top = max(self.top, round_up(float(season.run.band("feed_g").high.max())))
        return Shown(season, self.draft.garden, self.desk.garden, self.chosen, self.top, self.desk.log)

    def take_back(self, _button: object = None) -> None:
        """Go back to the garden before the last change."""
        if self.before:
            self.draft, self.typed = self.before.pop()
            self.filled = ""
            self.refresh()

    def save(self, _button: object = None) -> None:
        """Write the garden file, and work on with it everywhere."""
        if any(self.fields[name].problem is not None for name in asked(self.values)):
            self.problems.value = alert([words.say("panel-form-refused", self.reader)])
            return
        try:
            saved = replace(self.draft, digest=self.desk.file.digest).save()
        except InputError as error:
            self.conflict.show(error.problems)
            return
        self.conflict.clear()
        self.draft = saved
        self.desk.put(saved)


def _in_unit(field: NumberField, value: float) -> float:
    return units.to(value, field.unit.value)


def _button(key: str, reader: words.Reader) -> widgets.Button:
    return widgets.Button(description=words.say(key, reader), layout=widgets.Layout(width="auto"))


def panel(desk: Desk | None = None) -> PlanPanel:
    """The panel on the garden of a notebook; without one on the starter garden, which is never written."""
    if desk is None:
        return PlanPanel(Desk(GardenFile.open(places.starter())), may_write=False)
    return PlanPanel(desk)
