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
from aquacalc.startup.plan import StartUp


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


class _Following(widgets.HTML):  # type: ignore[misc]
    """What is drawn anew whenever the start-up is; where there is none, why."""

    css_class = ""

    def __init__(self, start: StartUpPanel) -> None:
        self.start = start
        super().__init__(layout=widgets.Layout(width="100%"))
        self.add_class("aq-panel")
        self.add_class(self.css_class)
        start.follow(self.show)
        self.show()

    def show(self) -> None:
        """Draw the start-up at hand."""
        made = self.start.start
        self.value = no_start_up(self.start) if made is None else self.drawn(made)

    def drawn(self, start: StartUp) -> str:
        """What is told of it, as markup."""
        raise NotImplementedError


class Why(_Following):
    """The explanation with this garden's own curve, without its readings."""

    css_class = "aq-why"

    def drawn(self, start: StartUp) -> str:
        """The curve and why it goes as it goes."""
        plain = self.start.plain(self.start.values)
        made = self.start.made(plain)
        title = words.say("startup-why-title", self.start.reader)
        page = svg(charts.together(plain, self.start.reader, ""))
        picture = figure(page, charts.together_on_phone(plain, self.start.reader))
        parts = (html.paragraph(one) for one in startup.why(made))
        cost = html.paragraph(startup_doses.dose_cost(made))
        return STYLE + html.element(
            "div", html.paragraph(title, "aq-answer"), picture, *parts, cost, class_="aq-result"
        )


class Doses(_Following):
    """What each reading calls for, in this garden's litres and its kit's steps."""

    css_class = "aq-doses"

    def drawn(self, start: StartUp) -> str:
        """The two small tables, and when no ammonia is given."""
        made = self.start.made(start)
        parts = [html.element("div", one, style="margin:0 0 14px") for one in startup_doses.dose_tables(made)]
        parts.append(html.listing(startup_doses.dose_notes(made)))
        none = startup_doses.not_today(made)
        if none:
            head = made.say("startup-doses-none-title") + ":"
            parts += [html.paragraph(head), html.listing(none)]
        lines = [startup_doses.doses_how(made)]
        if made.garden.start_up.state != "new" and made.garden.fish:
            lines.insert(0, made.say("startup-sheet-stop-0"))
        return STYLE + answer(made.say("startup-doses-title"), lines, *parts)


class Ways(_Following):
    """The method that is chosen: whom it suits, what it needs, what to mind; why not with fish here."""

    css_class = "aq-ways"

    def __init__(self, start: StartUpPanel) -> None:
        super().__init__(start)
        start.fields["method"].on_change(self.show)

    def drawn(self, start: StartUp) -> str:
        """The text of the method at hand, also of one that is refused."""
        made = self.start.made(start)
        of = self.start.values["method"]
        advised = made.say(f"startup-method-{self.start.advised()}")
        lines = [made.say("startup-methods-advised", method=advised)]
        refused = startup.refusal(made, self.start.place())
        if refused:
            lines.append(refused)
        elif of == "fish":
            lines.append(startup.fish_in(made, self.start.fish_limits()))
        name = made.say(f"startup-method-{of}")
        return STYLE + answer(name[:1].upper() + name[1:], lines, startup.method(made, of))
