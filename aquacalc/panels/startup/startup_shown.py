"""What stands beside a start-up and follows it: the chosen method, the doses, and why it goes as it goes."""

from __future__ import annotations

from datetime import date

import ipywidgets as widgets

from aquacalc import words
from aquacalc.charts import startup as charts
from aquacalc.charts.picture import svg
from aquacalc.pages import html, startup, startup_doses
from aquacalc.panels.frame.fields import alert
from aquacalc.panels.frame.panel import STYLE, answer, figure
from aquacalc.panels.startup.startup import StartUpPanel


def no_start_up(start: StartUpPanel) -> str:
    """Why there is no start-up to show yet."""
    return STYLE + alert(start.refused)


def in_short(start: StartUpPanel) -> str:
    """The answer in a few lines, in metric units; or why there is none."""
    if start.start is None:
        return "\n".join((start.desk.garden.name, *start.refused))
    reader = words.Reader()
    fish = start.start.days("first_fish")
    return "\n".join(
        (
            start.desk.garden.name,
            words.say(
                "short-startup-begin",
                reader,
                litres=words.quantity(start.start.case.litres, "volume", reader),
                day=start.start.first.isoformat(),
            ),
            words.say("short-startup-fish", reader, low=_day(fish.low, reader), high=_day(fish.high, reader)),
        )
    )


def _day(day: date | None, reader: words.Reader) -> str:
    return words.say("not-known", reader) if day is None else day.isoformat()


class Why(widgets.HTML):  # type: ignore[misc]
    """The explanation with this garden's own curve; it follows the start-up that is shown."""

    def __init__(self, start: StartUpPanel) -> None:
        self.start = start
        super().__init__(layout=widgets.Layout(width="100%"))
        self.add_class("aq-panel")
        self.add_class("aq-why")
        start.follow(self.show)
        self.show()

    def show(self) -> None:
        """Draw and explain the start-up at hand, without its readings."""
        if self.start.start is None:
            self.value = no_start_up(self.start)
            return
        plain = self.start.plain(self.start.values)
        made = self.start.made(plain)
        title = words.say("startup-why-title", self.start.reader)
        picture = figure(svg(charts.together(plain, self.start.reader, "")))
        parts = (html.paragraph(one) for one in startup.why(made))
        cost = html.paragraph(startup_doses.dose_cost(made))
        self.value = STYLE + html.element(
            "div", html.paragraph(title, "aq-answer"), picture, *parts, cost, class_="aq-result"
        )


class Doses(widgets.HTML):  # type: ignore[misc]
    """What each reading calls for, in this garden's litres and its kit's steps; it follows the start-up."""

    def __init__(self, start: StartUpPanel) -> None:
        self.start = start
        super().__init__(layout=widgets.Layout(width="100%"))
        self.add_class("aq-panel")
        self.add_class("aq-doses")
        start.follow(self.show)
        self.show()

    def show(self) -> None:
        """The two small tables, and when no ammonia is given."""
        if self.start.start is None:
            self.value = no_start_up(self.start)
            return
        made = self.start.made(self.start.start)
        parts = [html.element("div", one, style="margin:0 0 14px") for one in startup_doses.dose_tables(made)]
        parts.append(html.listing(startup_doses.dose_notes(made)))
        none = startup_doses.not_today(made)
        if none:
            head = made.say("startup-doses-none-title") + ":"
            parts += [html.paragraph(head), html.listing(none)]
        lines = [startup_doses.doses_how(made)]
        if made.garden.start_up.state != "new" and made.garden.fish:
            lines.insert(0, made.say("startup-sheet-stop-0"))
        self.value = STYLE + answer(made.say("startup-doses-title"), lines, *parts)


class Ways(widgets.HTML):  # type: ignore[misc]
    """The method that is chosen: whom it suits, what it needs, what to mind; why not with fish here."""

    def __init__(self, start: StartUpPanel) -> None:
        self.start = start
        super().__init__(layout=widgets.Layout(width="100%"))
        self.add_class("aq-panel")
        self.add_class("aq-ways")
        start.follow(self.show)
        start.fields["method"].on_change(self.show)
        self.show()

    def show(self) -> None:
        """The text of the method at hand, also of one that is refused."""
        if self.start.start is None:
            self.value = no_start_up(self.start)
            return
        made = self.start.made(self.start.start)
        of = self.start.values["method"]
        advised = made.say(f"startup-method-{self.start.advised()}")
        lines = [made.say("startup-methods-advised", method=advised)]
        refused = startup.refusal(made, self.start.place())
        if refused:
            lines.append(refused)
        elif of == "fish":
            lines.append(startup.fish_in(made, self.start.fish_limits()))
        name = made.say(f"startup-method-{of}")
        self.value = STYLE + answer(name[:1].upper() + name[1:], lines, startup.method(made, of))
