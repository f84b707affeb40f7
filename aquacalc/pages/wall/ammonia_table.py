"""The ammonia table: the steps of this kit down, of its pH across, one small table for each temperature."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from aquacalc import kits, words
from aquacalc.advice.finding import changes_of_water
from aquacalc.advice.reading import actions, given, measure
from aquacalc.advice.reading.measure import Measure
from aquacalc.garden.model import KitScale
from aquacalc.judge import ammonia
from aquacalc.judge.feed import Feed
from aquacalc.judge.levels import Level, reaches
from aquacalc.pages import kit
from aquacalc.pages.html import Html, element, join, level, paragraph, table
from aquacalc.pages.plan import Plan, sheet
from aquacalc.water import ammonia as chemistry

ROUND_TAN_MG_L = kits.ROUND_TAN_STEPS_MG_L[1:]
ROUND_PH = (6.0, 6.5, 7.0, 7.5, 8.0, 8.5)
"""Rows and columns where no kit is described: round values of our own."""

MOST_ROWS = 5
MOST_COLUMNS = 6
"""Rows and columns that stay readable on the wall; between two printed steps the worse one is read."""


SHARE_DIGITS = 1

FOR_AMMONIA = ("unionised_ammonia", "base", "emergency")
"""Why less is fed, as far as the table tells it; cold and heat have sheets of their own."""

EXPECTED_DAYS = 30
"""Days of the season with water of about the table's warmth: what pH they bring is shown. Our own choice."""


@dataclass(frozen=True)
class Axis:
    """Steps of one axis, as the kit shows and as the workbook counts them; whether the last ends a kit."""

    shown: tuple[float, ...]
    inside: tuple[float, ...]
    ends: bool

    def beyond(self) -> float:
        """A value one step beyond the last."""
        before, last = self.inside[-2:] if len(self.inside) > 1 else (0.0, self.inside[-1])
        return last + (last - before)

    def up_to(self, highest: float) -> "Axis":
        """The axis with its end judged as a higher value, where it ends a kit: the water may have it."""
        if not self.ends:
            return self
        return replace(self, inside=(*self.inside[:-1], max(self.beyond(), highest)))


def tan_axis(scale: KitScale) -> Axis:
    """Rows: the kit's steps, or round values where no kit with steps and basis is described."""
    if not scale.steps or not kits.basis_is_known(scale) or not kits.usable(scale):
        return Axis(ROUND_TAN_MG_L, ROUND_TAN_MG_L, ends=False)
    # No ammonia is fine in any water.
    steps = thinned([step for step in scale.steps if step > 0.0], MOST_ROWS)
    inside = (kits.as_inside(kits.corrected(step, scale), scale) or 0.0 for step in steps)
    return Axis(steps, tuple(inside), ends=True)


def ph_axis(scale: KitScale) -> Axis:
    """Columns: the kit's steps, or round values where no kit with steps is described."""
    if not scale.steps or not kits.usable(scale):
        return Axis(ROUND_PH, ROUND_PH, ends=False)
    steps = thinned(scale.steps, MOST_COLUMNS)
    return Axis(steps, tuple(kits.corrected(step, scale) for step in steps), ends=True)


def thinned(steps: Sequence[float], most: int) -> tuple[float, ...]:
    """At most so many of the steps, evenly chosen, both ends kept.

    >>> thinned((6.0, 6.2, 6.4, 6.6, 6.8), 3)
    (6.0, 6.4, 6.8)
    """
    if len(steps) <= most:
        return tuple(steps)
    return tuple(steps[round(place)] for place in np.linspace(0, len(steps) - 1, most))


def cells(plan: Plan, tan: Axis, ph: Axis, temperature_c: float) -> list[list[Level]]:
    """The level of each reading; at the top of an ammonia kit `not known` where one step more would be worse.

    ph: its end as what it is judged as (`Axis.up_to`).
    """

    def judged(tan_mg_l: float, at_ph: float) -> Level:
        return ammonia.level(tan_mg_l, at_ph, temperature_c, plan.species)

    def cell(tan_mg_l: float, at_ph: float) -> Level:
        here = judged(tan_mg_l, at_ph)
        last_row = tan.ends and tan_mg_l == tan.inside[-1]
        further = judged(tan.beyond(), at_ph) if last_row else here
        return "not known" if further != here and not reaches(here, "act today") else here

    return [[cell(row, column) for column in ph.inside] for row in tan.inside]


def feeds(plan: Plan, tan: Axis, ph: Axis, temperature_c: float) -> list[list[Feed]]:
    """How much feed each reading of the table leaves: what a judged reading of the same says."""
    garden = plan.garden
    base = given.complete({}, garden)
    warm = measure.of_text("temperature", f"{temperature_c} C", garden)
    basis = "" if tan.ends else " N"
    rows = [measure.of_text("tan", f"{step:g}{basis}", garden) for step in tan.shown]
    columns = [measure.of_text("ph", f"{step:g}", garden) for step in ph.shown]

    def cell(row: Measure, column: Measure) -> Feed:
        measures = {"tan": row, "ph": column, "temperature": warm}
        return actions.feed_of(given.with_measures(base, measures, garden))

    return [[cell(row, column) for column in columns] for row in rows]


def highest_ph(plan: Plan, temperature_c: float) -> float:
    """The highest pH that the season brings in water of about this warmth; NaN without a season."""
    if plan.season is None:
        return math.nan
    apart = np.abs(plan.season.band("water_c").middle - temperature_c)
    days = np.argsort(apart, kind="stable")[:EXPECTED_DAYS]
    return float(plan.season.band("ph").high[days].max())


def temperatures_c(plan: Plan) -> list[tuple[str, float]]:
    """The coolest, the middle and the warmest month's water; those that print the same only once."""
    water = plan.balance.water_c.middle
    named = {"coolest": water.min(), "middle": np.median(water), "warmest": water.max()}
    printed = {
        plan.quantity(float(value), "temperature"): (key, float(value)) for key, value in named.items()
    }
    return sorted(printed.values(), key=lambda pair: pair[1])


def page(plan: Plan) -> Html:
    """The sheet beside the test kit."""
    tan_scale, ph_scale = kit.scale_of(plan.garden, "tan"), kit.scale_of(plan.garden, "ph")
    tan, ph = tan_axis(tan_scale), ph_axis(ph_scale)
    checked = kit.corrections([tan_scale, ph_scale], plan.reader)
    tables = (_table(plan, tan, ph, key, water) for key, water in temperatures_c(plan))
    return sheet(
        plan,
        plan.say("ammonia-title"),
        paragraph(" ".join((_about(plan, tan_scale, tan), *checked))),
        *tables,
        paragraph(plan.say("ammonia-between")),
        paragraph(_act(plan)),
    )


def _about(plan: Plan, scale: KitScale, tan: Axis) -> str:
    if not tan.ends:
        return plan.say("ammonia-no-basis" if scale.steps else "ammonia-no-kit")
    if scale.basis == "N":
        return plan.say("ammonia-as-n")
    return plan.say("ammonia-as-other", basis=scale.basis)


def _act(plan: Plan) -> str:
    """What is done at `act today` and worse, as a reading would ask for it."""
    told = {one.name: words.amount(one, plan.reader) for one in changes_of_water()}
    return plan.say("ammonia-act", **told)


def _table(plan: Plan, tan: Axis, ph: Axis, key: str, water_c: float) -> Html:
    both = tan.shown != tan.inside
    corner = [plan.say("ammonia-kit"), plan.say("ammonia-n")] if both else [plan.say("ammonia-n")]
    judged = ph.up_to(highest_ph(plan, water_c))
    rows = [
        (*_row_head(plan, tan, place, both), *(level(one, plan.reader) for one in row))
        for place, row in enumerate(cells(plan, tan, judged, water_c))
    ]
    beside: list[Html] = [join()] if both else []
    columns = zip(*feeds(plan, tan, ph, water_c), strict=True)
    fed = (_fed(plan, tan, column) for column in columns)
    rows.append((element("b", plan.say("ammonia-feed-row")), *beside, *fed))
    shares = np.asarray(chemistry.unionised_fraction(np.array(judged.inside), water_c))
    harmful = [words.quantity(float(share), "share", plan.reader, SHARE_DIGITS) for share in shares]
    rows.append((element("b", plan.say("ammonia-harms")), *beside, *map(join, harmful)))
    title = plan.say(f"ammonia-water-{key}", water=plan.quantity(water_c, "temperature"))
    heads = [plan.say("ammonia-ph", step=step) for step in _steps(plan, ph)]
    if ph.ends:
        title = plan.say("ammonia-past-kit", title=title, ph=plan.quantity(judged.inside[-1], "ph"))
    look = "cells both" if both else "cells"
    return element("div", element("h2", title), table([*corner, *heads], rows, look), class_="keep")


def _fed(plan: Plan, tan: Axis, column: Sequence[Feed]) -> Html:
    """From which step of a column on ammonia leaves less feed, and from which none."""
    told: dict[bool, str] = {}
    for step, fed in zip(_steps(plan, tan), column, strict=True):
        if fed.why in FOR_AMMONIA and fed.share < 1.0:
            share = plan.quantity(fed.share, "share")
            told.setdefault(fed.share > 0.0, plan.say("ammonia-feed", step=step, share=share))
    return join(*(element("div", text) for text in told.values())) or join(plan.say("routine-no-line"))


def _row_head(plan: Plan, tan: Axis, place: int, both: bool) -> list[Html]:
    shown = element("b", _steps(plan, tan)[place])
    return [shown, join(words.number(tan.inside[place]))] if both else [shown]


def _steps(plan: Plan, axis: Axis) -> list[str]:
    """The steps of an axis as printed; the last one of a kit is "and more"."""
    texts = [words.number(value) for value in axis.shown]
    return [*texts[:-1], plan.say("ammonia-and-more", step=texts[-1])] if axis.ends else texts
