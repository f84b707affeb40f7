"""What if I change the garden? Sliders, the balance through the year, before and after."""

from dataclasses import dataclass

import ipywidgets as widgets

from aquacalc import words
from aquacalc.advice import trail as rests
from aquacalc.charts.axes import round_up
from aquacalc.charts.canvas import WIDTHS
from aquacalc.charts.frames import top_of
from aquacalc.charts.month import before_after
from aquacalc.charts.year import balance as balance_chart
from aquacalc.garden.model import Garden
from aquacalc.pages import html, trail
from aquacalc.panels.frame import scenarios
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import GRAMS, ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer, figure
from aquacalc.sentences import balance as sentences
from aquacalc.sizing import vary
from aquacalc.sizing.balance import balance
from aquacalc.sizing.result import Balance
from aquacalc.sizing.vary import Knobs

ROOM = 1.5
"""The feed axis reaches this many times beyond the garden as it is, and then stays while sliders move."""
FOLD = 3.0
"""Sliders reach to this many times what the garden has."""
YES, NO = "yes", "no"
MAIN = ("fish_count", "bed_m2", "flow_l_h", "air_l_min")
"""What is asked first."""


@dataclass(frozen=True)
class Varied:
    """The balance of the garden as it is, and as the sliders have it."""

    before: Balance
    after: Balance
    same: bool
    top_g_day: float


def controls(garden: Garden, before: Balance) -> dict[str, Field]:
    """A slider for each knob, from the least with which there is a garden to three times what it has."""
    reader, say, now = garden.reader, words.say, vary.knobs(garden, before)

    def number(
        key: str, kind: str, value: float, usual: float, step: float, least: float = 0.0
    ) -> NumberField:
        least, most = min(least, value), FOLD * max(value, usual)
        shown_in = GRAMS if kind == "mass" else None
        return NumberField(
            say(key, reader), kind, value, reader, least, 1e6, (least, most, step), shown_in=shown_in
        )

    return {
        "fish_count": number("panel-fish-count", "", now.fish_count, 10.0, 1.0, least=1.0),
        "final_weight_g": number("panel-final-weight", "mass", now.final_weight_g, 100.0, 10.0, least=10.0),
        "bed_m2": number("panel-beds", "area", now.bed_m2, 1.0, 0.1, least=0.1),
        "flow_l_h": number("panel-flow", "flow", now.flow_l_h, 500.0, 50.0, least=50.0),
        "air_l_min": number("panel-air", "air_flow", now.air_l_min, 20.0, 1.0),
        "biofilter_l": number("panel-biofilter", "volume", now.biofilter_l, 50.0, 5.0),
        "backup": ChoiceField(
            say("panel-backup", reader),
            [(say("panel-no", reader), NO), (say("panel-yes", reader), YES)],
            YES if now.backup else NO,
            reader,
        ),
    }


def known(garden: Garden, before: Balance) -> dict[str, object]:
    """The knobs of the garden as it is."""
    now = vary.knobs(garden, before)
    return vars(now) | {"backup": YES if now.backup else NO}


def compute(garden: Garden, before: Balance, values: Values) -> Varied:
    """The balance with the sliders where they stand, on as many members as the one before."""
    now = vary.knobs(garden, before)
    wanted = Knobs(**{**values, "backup": values["backup"] == YES})
    air = float(before.outage.air_l_min.middle) if before.outage else 0.0
    after = balance(vary.turned(garden, now, wanted, air), before.members, before.seed)
    top = round_up(ROOM * top_of(before))
    return Varied(before=before, after=after, same=wanted == now, top_g_day=top)


def draw(reader: words.Reader, cited: html.Html, varied: Varied) -> html.Html:
    """The answer, the year, and what has changed. cited: what it rests on, wherever sliders stand."""
    after = varied.after
    title = sentences.headline(after, reader)
    pictures = [balance_chart(after, reader, "", varied.top_g_day, width) for width in WIDTHS]
    lines = [sentences.carried(after, reader), sentences.better(after, reader)]
    if varied.same:
        return answer(title, lines, figure(*pictures), cited)
    change = words.say("panel-change-title", reader)
    changed = [before_after(varied.before, after, reader, change, width=width) for width in WIDTHS]
    return answer(title, lines, figure(*pictures), figure(*changed), cited)


class SizePanel(Panel):
    """The panel with a button that brings the garden back as it is."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.cited = trail.fold(rests.of_balance(desk.garden), desk.reader)
        self.back = widgets.Button(
            description=words.say("panel-back", desk.reader), layout=widgets.Layout(width="auto")
        )
        self.back.on_click(self.reset)
        super().__init__(
            "size",
            controls(desk.garden, desk.balance),
            lambda values: compute(desk.garden, desk.balance, values),
            lambda varied: draw(desk.reader, self.cited, varied),
            desk.reader,
            below=(self.back,),
            main=MAIN,
        )
        desk.follow(self.garden_changed)

    def garden_changed(self) -> None:
        """Begin again from another garden."""
        self.cited = trail.fold(rests.of_balance(self.desk.garden), self.desk.reader)
        put = self.refill if self.desk.rereading else self.fill
        put(known(self.desk.garden, self.desk.balance))

    def reset(self, _button: object = None) -> None:
        """Put every slider where the garden has it."""
        self.fill(known(self.desk.garden, self.desk.balance))


def panel(desk: Desk) -> SizePanel:
    """The panel; it follows the garden."""
    made = SizePanel(desk)
    scenarios.offer(made)
    return made
