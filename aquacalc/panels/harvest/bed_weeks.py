"""Which crop goes into which bed in which week? All beds of the garden, or one with other numbers."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import partial

import ipywidgets as widgets

from aquacalc import words
from aquacalc.advice import trail as rests
from aquacalc.errors import InputError
from aquacalc.garden import places
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden, Season
from aquacalc.pages import html, trail
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.dates import EARLIEST, DateField, coming, not_past
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField, alert
from aquacalc.panels.frame.panel import Panel, Values, answer, wide
from aquacalc.planner import beds, kept
from aquacalc.planner.beds import BedPlan
from aquacalc.sentences import beds as told

ALL, ONE = "garden", "one"
OF_ONE = ("area", "kind", "crop", "heads", "first", "weeks")


@dataclass(frozen=True)
class Shown:
    """A plan of the beds; entries: what is typed into the garden file, nothing where the bed is not of it."""

    plan: BedPlan
    entries: tuple[dict[str, object], ...] = ()


def controls(garden: Garden, reader: words.Reader, whole: bool, earliest: date) -> dict[str, Field]:
    """All beds or one; of one its size, kind and crop, the wish, the weeks.

    whole: there is a garden. earliest: the first day that may be planned.
    """
    say = words.say
    which = [(say(f"panel-weeks-{key}", reader), key) for key in ((ONE, ALL) if whole else (ONE,))]
    kinds = [(say(f"panel-bed-{kind}", reader), kind) for kind in ("media", "raft", "channel")]
    first = coming(garden.season.start, earliest)
    return {
        "which": ChoiceField(say("panel-weeks-which", reader), which, ONE, reader),
        "area": NumberField(say("panel-beds", reader), "area", 2.0, reader, 0.1, 1000.0),
        "kind": ChoiceField(say("panel-bed-kind", reader), kinds, "media", reader),
        "crop": ChoiceField(say("panel-crop", reader), lists.crops(), "lettuce_leaf", reader),
        "heads": NumberField(say("panel-weeks-heads", reader), "heads_per_week", 6.0, reader, 1.0, 10000.0),
        "first": DateField(say("panel-weeks-first", reader), first, reader, first, earliest=earliest),
        "weeks": NumberField(say("panel-weeks-weeks", reader), "", 52.0, reader, 4.0, 104.0, beside="weeks"),
        "plantings": NumberField(say("panel-weeks-plantings", reader), "", 2.0, reader, 1.0, 20.0),
    }


def asked(values: Values) -> tuple[str, ...]:
    """The fields that matter for all beds, or for one."""
    return ("which", "plantings", *(OF_ONE if values["which"] == ONE else ()))


def bedded(garden: Garden, values: Values, reader: words.Reader) -> Garden:
    """The garden with the one bed, crop and wish of the fields, or as it is."""
    wishes = replace(garden.wishes, plantings_week=round(values["plantings"]))
    if values["which"] == ALL:
        return replace(garden, wishes=wishes)
    bed = replace(
        garden.beds[0],
        name=words.say("panel-weeks-one-bed", reader),
        kind=values["kind"],
        area_m2=values["area"],
    )
    first = values["first"]
    return replace(
        garden,
        beds=(bed,),
        crops=(),
        wishes=replace(wishes, crop=values["crop"], heads_per_week=values["heads"], may_grow=()),
        season=Season(first, first + timedelta(weeks=round(values["weeks"]), days=-1)),
        start_up=replace(garden.start_up, state="running"),
    )


def compute(garden: Garden, reader: words.Reader, values: Values) -> Shown:
    """The plantings that meet the wish as far as it can be met."""
    asked_for = bedded(garden, values, reader)
    plan = beds.plan_beds(asked_for)
    entries = beds.entries(garden, plan.plantings) if values["which"] == ALL else []
    return Shown(plan, tuple(entries))


def draw(reader: words.Reader, shown: Shown) -> html.Html:
    """The answer, what is missing and why, crop by crop, and week by week."""
    plan = shown.plan
    missing = [told.unmet(one, reader) for one in plan.unmet]
    return answer(
        told.title(plan, reader),
        [*told.wishes(plan, reader), *missing, words.say("beds-cautions", reader)],
        wide(html.table(told.summary_head(reader), told.summary(plan, reader))),
        html.paragraph(words.say("beds-list-head", reader)),
        wide(html.table(told.list_head(reader), told.by_week(plan, reader))),
        trail.fold(rests.of_rows("crops", sorted({one.crop for one in plan.plantings})), reader),
    )


def earliest(desk: Desk) -> date:
    """The first day that may be planned."""
    return not_past(desk.garden, desk.file.today)


def known(desk: Desk) -> dict[str, object]:
    """The first bed, the wish and the season of the garden."""
    garden = desk.garden
    wishes = garden.wishes
    told_wishes = (
        {"crop": wishes.crop, "heads": wishes.heads_per_week} if wishes.heads_per_week >= 1.0 else {}
    )
    return {
        "area": garden.beds[0].area_m2,
        "kind": garden.beds[0].kind,
        "first": coming(garden.season.start, earliest(desk)),
        "plantings": float(wishes.plantings_week),
        **told_wishes,
    }


class BedWeeks(Panel):
    """The panel; where there is a garden its plan can be written into the file."""

    def __init__(self, desk: Desk | None) -> None:
        reader = reader_of(desk)
        self.desk = desk
        starter = GardenFile.open(places.starter()).garden
        garden = starter if desk is None else desk.garden
        self.shown: Shown | None = None
        self.write = widgets.Button(
            description=words.say("panel-weeks-write", reader), layout=widgets.Layout(width="auto")
        )
        self.write.on_click(self.save)
        self.line = widgets.HTML()
        super().__init__(
            "bed-weeks",
            controls(garden, reader, desk is not None, EARLIEST if desk is None else earliest(desk)),
            self.planned,
            partial(draw, reader),
            reader,
            below=() if desk is None else (self.write, self.line),
            asked=asked,
        )

    def planned(self, values: Values) -> Shown:
        """The plan for the fields as they stand."""
        starter = GardenFile.open(places.starter()).garden if self.desk is None else self.desk.garden
        self.write.disabled, self.line.value = True, ""
        self.shown = compute(starter, self.reader, values)
        self.write.disabled = not self.shown.entries
        return self.shown

    def save(self, _button: object = None) -> None:
        """Type the plantings into the garden file; the old file is kept."""
        if self.desk is None or self.shown is None or not self.shown.entries:
            return
        try:
            before = self.desk.file
            self.desk.put(kept.write(before, before.changed({"crop": list(self.shown.entries)})))
        except InputError as error:
            self.problems.value = alert(words.problem(one, self.reader) for one in error.problems)
            return
        self.line.value = html.paragraph(words.say("panel-weeks-written", self.reader))


def panel(desk: Desk | None = None) -> BedWeeks:
    """The panel, filled from the garden where there is one."""
    made = BedWeeks(desk)
    if desk is not None:
        desk.fill(made, known)
    return made
