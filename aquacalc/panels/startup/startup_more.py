"""Two questions that take some seconds each: why is it stuck, and what delays it or when must it begin?"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import date

import ipywidgets as widgets

from aquacalc import words
from aquacalc.errors import InputError
from aquacalc.pages import html, startup
from aquacalc.panels.frame.dates import DateField, coming, not_past
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import alert
from aquacalc.panels.frame.panel import STYLE, answer
from aquacalc.panels.startup.startup import StartUpPanel
from aquacalc.panels.startup.startup_fields import choice_of
from aquacalc.startup import backward, doubts, plan
from aquacalc.startup import delays as delays_of
from aquacalc.startup.delays import Delay
from aquacalc.startup.doubts import Doubt
from aquacalc.startup.plan import StartUp

UNIT = {
    "soft": "alkalinity",
    "chlorine": "share",
    "acid": "ph",
    "cold": "temperature_difference",
    "stuck": "nitrogen",
}


LONG_DAYS = 84
"""From here on warmth or mature media are worth their trouble; our own choice."""


class OnDemand(widgets.VBox):  # type: ignore[misc]
    """A button, and the answer under it once it was pressed; another start-up clears it."""

    def __init__(
        self,
        key: str,
        text: str,
        work: Callable[[], html.Html],
        start: StartUpPanel,
        fields: tuple[DateField, ...] = (),
    ) -> None:
        self.work, self.reader, self.fields = work, start.reader, fields
        self.button = widgets.Button(description=text, layout=widgets.Layout(width="auto"))
        self.button.on_click(self.pressed)
        self.line, self.result = widgets.HTML(), widgets.HTML(layout=widgets.Layout(width="100%"))
        super().__init__(
            [widgets.HTML(STYLE), *(one.widget for one in fields), self.button, self.line, self.result],
            layout=widgets.Layout(width="100%"),
        )
        self.add_class("aq-panel")
        self.add_class(f"aq-{key}")
        start.follow(self.clear)

    def pressed(self, _button: object = None) -> None:
        """Work the answer out; of an entry that cannot be used nothing is."""
        if any(one.problem is not None for one in self.fields):
            self.line.value, self.result.value = alert([words.say("panel-refused", self.reader)]), ""
            return
        self.button.disabled = True
        said = words.say("panel-startup-working", self.reader)
        self.line.value = html.element("p", said, role="status")
        try:
            self.result.value = self.work()
            self.line.value = ""
        except InputError as error:
            self.line.value = alert(words.problem(one, self.reader) for one in error.problems)
            self.result.value = ""
        finally:
            self.button.disabled = False

    def clear(self) -> None:
        """Nothing is answered for the start-up that is shown now."""
        self.line.value, self.result.value = "", ""


# --- why is it stuck ---------------------------------------------------------------------------------------


def why_stuck(desk: Desk, start: StartUpPanel) -> OnDemand:
    """What may be wrong, the likeliest first, each with the next test; else that waiting is usual."""
    reader = desk.reader

    def work() -> html.Html:
        shown = start.start
        if shown is None or not shown.forecast.readings:
            return answer(words.say("startup-doubts-none-read", reader), checklist(reader))
        if shown.read is None:
            return answer(words.say("startup-doubts-need-log", reader), checklist(reader))
        # What a heater will do from now on is no part of what was read.
        found = doubts.doubts_of(
            plan.begun(desk.garden, replace(shown.choice, warmer_k=0.0)),
            shown.forecast.readings,
            shown.read.events,
            shown.forecast.today,
            chlorinated=desk.garden.top_up.disinfectant != "none",
        )
        if not found:
            water = _new_water(desk, shown, reader)
            return answer(words.say("startup-doubts-none", reader), [*water, *checklist(reader)])
        rows = [(sentence(one, start), words.say(f"startup-next-{one.next_test}", reader)) for one in found]
        head = [words.say(f"startup-doubts-head-{name}", reader) for name in ("why", "test")]
        title = words.say("startup-doubts-some", reader, count=len(found))
        lines = [words.say("startup-doubts-how", reader), *_new_water(desk, shown, reader)]
        return answer(title, lines, html.table(head, rows))

    return OnDemand("stuck", words.say("panel-startup-stuck", reader), work, start)


def _new_water(desk: Desk, shown: StartUp, reader: words.Reader) -> list[str]:
    """That water from a tap with chlorine went in, whatever the readings say of it."""
    tap = desk.garden.top_up
    days = [one.day for one in shown.read.events if one.key == "change"] if shown.read else []
    if tap.disinfectant == "none" or not days:
        return []
    day = words.date(shown.case.date_of(days[-1]), reader)
    return [words.say("startup-doubts-water", reader, day=day)]


def sentence(doubt: Doubt, start: StartUpPanel) -> str:
    """A doubt in words."""
    reader, shown = start.reader, start.start
    name = words.say(f"word-{doubt.parameter or 'tan'}", reader)
    day = words.say("startup-later", reader)
    if doubt.day is not None and shown is not None:
        day = words.date(shown.case.date_of(doubt.day), reader)
    if doubt.key == "basis" and doubt.parameter is not None and doubt.amount is not None:
        # Taken less, the card counts the whole ion; taken more, it counts nitrogen.
        ion = doubts.IONS[doubt.parameter]
        of, told = (ion, "N") if doubt.amount < 1.0 else ("N", ion)
        times = words.number(doubt.amount, 2)
        return words.say("startup-doubt-basis", reader, name=name, of=of, told=told, times=times)
    if doubt.amount is None:
        amount = words.say("not-known", reader)
    elif doubt.key in UNIT:
        amount = words.quantity(doubt.amount, UNIT[doubt.key], reader)
    else:
        amount = words.number(doubt.amount)
    return words.say(f"startup-doubt-{doubt.key}", reader, name=name, day=day, amount=amount)


def checklist(reader: words.Reader) -> list[str]:
    """What growers look at when a start-up seems to stand still, in order."""
    return [words.say(f"startup-check-{n}", reader) for n in range(1, 7)]


# --- what delays it ----------------------------------------------------------------------------------------


def delays(desk: Desk, start: StartUpPanel) -> OnDemand:
    """Days later by a missed week, a cold week, used-up alkalinity, untreated water."""
    reader = desk.reader

    def work() -> html.Html:
        shown = start.start
        if shown is None:
            return html.Html("")
        found = delays_of.delays_of(shown)
        head = [words.say(f"startup-delays-head-{name}", reader) for name in ("what", "later")]
        rows = [
            (words.say(f"startup-delay-{one.key.replace('_', '-')}", reader), later(one, reader))
            for one in found
        ]
        begun = words.date(shown.case.date_of(found[0].day), reader)
        worst = max(found, key=lambda one: one.middle)
        title = words.say(
            "startup-delays", reader, what=words.say(f"startup-delay-{worst.key.replace('_', '-')}", reader)
        )
        return answer(title, [words.say("startup-delays-how", reader, day=begun)], html.table(head, rows))

    return OnDemand("delays", words.say("panel-startup-delays", reader), work, start)


def later(one: Delay, reader: words.Reader) -> str:
    """By how many days: 8 of 10 tries."""
    if not math.isfinite(one.high):
        return words.say("at-least", reader, amount=words.quantity(round(one.low), "days", reader))
    return words.span(float(round(one.low)), float(round(one.high)), "days", reader)


# --- when must it begin ------------------------------------------------------------------------------------


def when(desk: Desk, start: StartUpPanel) -> OnDemand:
    """The latest first dose for a wished stocking date, and when to order the fish."""
    reader, garden = desk.reader, desk.garden
    earliest = not_past(garden, desk.file.today)
    near = coming(min((one.stocked for one in garden.fish), default=garden.season.start), earliest)
    label = words.say("panel-startup-wished-day", reader)
    wished = DateField(label, near, reader, near, earliest=earliest)

    def work() -> html.Html:
        choice = choice_of(start.values)
        day: date = wished.value or near
        found = backward.latest(day, delays_of.needed(desk.garden, choice))
        case = plan.begun(desk.garden, choice)
        water = float(case.water_c[: 7 * startup.WEEKS_TOLD].mean())
        low, high = (one / 7.0 for one in backward.practice_days(water))
        title = words.say(
            "startup-when",
            reader,
            start=words.date(found.start, reader),
            last=words.date(found.last, reader),
        )
        lines = [
            words.say(
                "startup-when-days",
                reader,
                days=words.span(float(found.days[0]), float(found.days[1]), "days", reader),
                stocking=words.date(found.stocking, reader),
            ),
            words.say("startup-when-order", reader, order=words.date(found.order, reader)),
            words.say(
                "startup-when-beside",
                reader,
                water=words.quantity(water, "temperature", reader),
                low=words.number(round(low)),
                high=words.number(round(high)),
            ),
        ]
        if found.waits:
            lines.insert(1, words.say("startup-when-waits", reader, ready=words.date(found.ready, reader)))
        elif found.days[1] > LONG_DAYS:
            lines.insert(1, words.say("startup-when-long", reader))
        return answer(title, lines)

    return OnDemand("when", words.say("panel-startup-when", reader), work, start, (wished,))
