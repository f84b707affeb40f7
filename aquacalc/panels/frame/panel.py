"""The frame of every panel: fields at the left, at the right one place whose content is the answer.

Where a panel is narrow, as on a phone, the answer stands under the fields and its line over them.
A panel is three small functions, joined here: controls (fields by name), compute (numbers in, a result out)
and draw (a result as HTML). An `InputError` of compute is shown as its sentence and the last answer stays;
anything else fails loudly.
"""

import re
import time
from collections.abc import Callable, Collection, Mapping, Sequence
from functools import partial
from typing import Any

import ipywidgets as widgets

from aquacalc import tables, words
from aquacalc.errors import InputError
from aquacalc.pages import html, style
from aquacalc.panels.frame import kept
from aquacalc.panels.frame.fields import Field, alert

Values = Mapping[str, Any]

STYLE = f"<style>{style.level_rules('.aq-panel')}{(tables.DATA / 'panel.css').read_text('utf-8')}</style>"
"""Levels look as on paper; the rest stands in `panel.css`."""


_ANSWER = re.compile(r'<p class="aq-answer">(.*?)</p>', re.DOTALL)
_OWN_WIDTH = widgets.Layout(width="auto")


def _column(name: str, *children: widgets.Widget) -> widgets.VBox:
    column = widgets.VBox(list(children))
    column.add_class(name)
    return column


def _row(children: Sequence[widgets.Widget]) -> widgets.Box:
    return widgets.Box(list(children), layout=widgets.Layout(flex_flow="row wrap", width="100%"))


class Panel(widgets.VBox):  # type: ignore[misc]
    """Fields and the answer to one question.

    key: the panel's name; its element carries the classes `aq-panel` and `aq-KEY`.
    fields: by the names under which `compute` gets their values.
    compute: values to a result; `InputError` where they do not fit together.
    draw: the result as HTML.
    below: further controls under the fields.
    main: names of the fields that stand there at once; the others wait behind *More*. All, where not given.
    asked: names of the fields that matter for the values at hand; the others are hidden.
    refused: why the fields at hand have no answer; while there is one, what stands below is older and
    nothing of it may be saved or printed.
    """

    refused: tuple[str, ...] = ()

    def __init__(
        self,
        key: str,
        fields: Mapping[str, Field],
        compute: Callable[[Values], Any],
        draw: Callable[[Any], str],
        reader: words.Reader,
        below: Sequence[widgets.Widget] = (),
        asked: Callable[[Values], Collection[str]] | None = None,
        main: Collection[str] = (),
    ) -> None:
        self.key, self.fields = key, dict(fields)
        self.compute, self.draw, self.reader, self.asked = compute, draw, reader, asked
        self.problems = widgets.HTML()
        self.result = widgets.HTML(layout=widgets.Layout(width="100%"))
        self.now = _column("aq-now", widgets.HTML())
        first = [field.widget for name, field in self.fields.items() if name in main or not main]
        self.inputs = _row(first)
        self.rest = _row([field.widget for field in self.fields.values() if field.widget not in first])
        self.more = widgets.ToggleButton(description=words.say("panel-more", reader), layout=_OWN_WIDTH)
        self.more.observe(self._more_wanted, "value")
        folded = [self.more, self.rest] if main else []
        self.rest.layout.display = "none"
        self.above, self.after = _column("aq-above"), _column("aq-after")
        self.left = _column("aq-left", self.inputs, self.problems, *folded, *below)
        self.right = _column("aq-right", self.result)
        self.body = widgets.Box([self.above, self.left, self.right, self.after])
        self.body.add_class("aq-body")
        self.head = _column("aq-head")
        super().__init__(
            [widgets.HTML(STYLE), self.head, self.now, self.body], layout=widgets.Layout(width="100%")
        )
        if not self.fields and not below:
            self.add_class("aq-bare")
        self.add_class("aq-panel")
        self.add_class(f"aq-{key}")
        self._changed: dict[str, Any] = {}
        self._shown = False
        for name, field in self.fields.items():
            field.on_change(self.refresh)
            field.on_change(partial(self._keep, name))
        self.refresh()

    def answer_first(self, above: Collection[str] = (), hint: str = "") -> None:
        """Put the answer over the fields, for whoever is in a hurry and reads before typing.

        above: names of the fields that stay over the answer. hint: a sentence over the fields.
        """
        self.above.children = [self.fields[name].widget for name in above]
        self.inputs.children = [one for one in self.inputs.children if one not in self.above.children]
        said = [widgets.HTML(html.paragraph(hint))] if hint else []
        self.left.children = (*said, *self.left.children)
        self.body.children = (self.above, self.right, self.left, self.after)
        self.add_class("aq-first")

    def _more_wanted(self, _change: object = None) -> None:
        self.rest.layout.display = None if self.more.value else "none"

    @property
    def values(self) -> dict[str, Any]:
        """What the fields stand for, in base units."""
        return {name: field.value for name, field in self.fields.items()}

    def _keep(self, name: str) -> None:
        """Keep what was typed into a field, if it was taken."""
        place, field = kept.place(), self.fields[name]
        if place is not None and field.problem is None:
            self._changed[name] = field.value
            kept.keep(place, self.key, self._changed)

    def restore(self) -> None:
        """Put back what was typed here before the page was loaded anew, and say so."""
        place = kept.place()
        if place is None:
            return
        at, values = kept.load(place, self.key)
        self._changed = {
            name: value
            for name, value in values.items()
            if name in self.fields and self.fields[name].takes(value)
        }
        if not self._changed:
            return
        for name, value in self._changed.items():
            self.fields[name].set(value)
        said = widgets.HTML(html.paragraph(words.say("panel-back-again", self.reader, time=_clock(at))))
        self.left.children = (said, *self.left.children)
        self.refresh()

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        if not self._shown:
            # Only now every value that the garden knows is in.
            self._shown = True
            self.restore()
        # A front end that knows no widgets shows the answer.
        bundle = super()._repr_mimebundle_(**kwargs)
        return bundle if bundle is None else bundle | {"text/html": self.result.value}

    def fill(self, values: Values) -> None:
        """Put values into the fields and answer once; what was typed is forgotten."""
        place = kept.place()
        if place is not None and self._changed:
            self._changed = {}
            kept.keep(place, self.key, {})
        for name, value in values.items():
            self.fields[name].set(value)
        self.refresh()

    def refresh(self) -> None:
        """Answer from the fields; while one is refused, the last answer stays and says so."""
        asked = self.asked(self.values) if self.asked else self.fields
        for name, field in self.fields.items():
            field.widget.layout.display = None if name in asked else "none"
        if any(self.fields[name].problem is not None for name in asked):
            self._stale(words.say("panel-stale", self.reader))
            return
        try:
            answer = self.draw(self.compute(self.values))
        except InputError as error:
            self._stale(*(words.problem(problem, self.reader) for problem in error.problems))
            return
        self._answered(answer)

    def _answered(self, markup: str) -> None:
        self.refused, self.problems.value = (), ""
        self.result.remove_class("aq-old")
        self.result.value = markup
        (line,) = self.now.children
        # The answer itself is read out when it changes; its line is for the eye alone.
        found = _ANSWER.search(markup)
        line.value = f'<p aria-hidden="true">{found[1]}</p>' if found else ""

    def _stale(self, *sentences: str) -> None:
        self.refused = sentences
        self.problems.value = alert(sentences)
        self.result.add_class("aq-old")
        if any(field.problem is not None for field in self.fields.values()):
            self.more.value = True


def _clock(at: float) -> str:
    return time.strftime("%H:%M", time.localtime(at))


def answer(title: str, sentences: Sequence[str] = (), *rest: str) -> html.Html:
    """An answer: its title in words and its sentences, read out when they change, then pictures and tables.

    title, sentences: plain text. rest: finished markup; pictures carry their own text alternative.
    """
    said = html.element(
        "div", html.paragraph(title, "aq-answer"), *map(html.paragraph, sentences), role="status"
    )
    return html.element("div", said, *(html.Html(one) for one in rest), class_="aq-result")


def figure(svg: str, narrow: str = "") -> html.Html:
    """A picture in an answer. narrow: the same for a phone; without it the picture slides sideways there."""
    if not narrow:
        return html.element("figure", html.Html(svg), class_="aq-slides")
    both = (("aq-page", svg), ("aq-phone", narrow))
    return html.element("figure", *(html.element("div", html.Html(one), class_=name) for name, one in both))


def wide(table: html.Html) -> html.Html:
    """A table in an answer that slides sideways where the screen is too narrow for it."""
    return html.element("div", table, class_="aq-wide")
