"""The frame of every panel: fields at the left, at the right one place whose content is the answer.

Where a panel is narrow, as on a phone, the answer stands under the fields and its line over them.
A panel is three small functions, joined here: controls (fields by name), compute (numbers in, a result out)
and draw (a result as HTML). An `InputError` of compute is shown as its sentence and the last answer stays;
anything else fails loudly.
"""

import re
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
    steps_back: whether each change of a field can be taken back here.
    """

    refused: tuple[str, ...] = ()
    steps_back = True

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
        self.now_line, self.was = widgets.HTML(), widgets.HTML()
        self.step_back = widgets.Button(layout=_OWN_WIDTH)
        self.step_back.on_click(self.take_step_back)
        self.undoing = _column("aq-undo", self.was, self.step_back)
        self.undoing.layout.display = "none"
        self.now = _column("aq-now", self.now_line)
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
            # What was, and the way back, come last and stay in sight: nothing moves under a moving finger.
            [widgets.HTML(STYLE), self.head, self.now, self.body, self.undoing],
            layout=widgets.Layout(width="100%"),
        )
        if not self.fields and not below:
            self.add_class("aq-bare")
        self.add_class("aq-panel")
        self.add_class(f"aq-{key}")
        self._changed: dict[str, Any] = {}
        self._steps: list[tuple[str, dict[str, Any]]] = []
        self._last, self._first, self._now = self.values, "", ""
        self._shown = False
        for name, field in self.fields.items():
            field.on_change(partial(self._note, name))
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

    def _note(self, name: str) -> None:
        """Remember what a field held before; moves of one field in a row are one step."""
        field = self.fields[name]
        if field.problem is None and field.value != self._last.get(name):
            if not self._steps or list(self._steps[-1][1]) != [name]:
                self._steps.append((field.label, {name: self._last.get(name)}))
            self._last[name] = field.value

    def put(self, values: Values, label: str) -> None:
        """Put several values in as one step that can be taken back; those that do not fit are left out.

        label: what the step is called on the button that takes it back.
        """
        taken = {name: value for name, value in values.items() if self._takes(name, value)}
        self._steps.append((label, {name: self.fields[name].value for name in taken}))
        self._set(taken)

    def take_step_back(self, _button: object = None) -> None:
        """Put back what stood there before the last change; a text that was refused goes first."""
        refused = {name: field.value for name, field in self.fields.items() if field.problem is not None}
        if refused:
            self._set(refused)
        elif self._steps:
            _, before = self._steps.pop()
            self._set({name: value for name, value in before.items() if self._takes(name, value)})

    def _takes(self, name: str, value: Any) -> bool:
        return name in self.fields and self.fields[name].takes(value)

    def _set(self, values: Values) -> None:
        for name, value in values.items():
            self.fields[name].set(value)
            self._last[name] = value
        for name in values:
            self.fields[name].accept()

    def _keep(self, name: str) -> None:
        """Keep what was typed into a field, if it was taken."""
        place, field = kept.place(), self.fields[name]
        if field.problem is None:
            self._changed[name] = field.value
            if place is not None:
                kept.keep(place, self.key, self._changed)

    def restore(self) -> None:
        """Put back what was typed here before the page was loaded anew, and say so."""
        place = kept.place()
        if place is None:
            return
        at, values = kept.load(place, self.key)
        self._changed = {name: value for name, value in values.items() if self._takes(name, value)}
        if not self._changed:
            return
        for name, value in self._changed.items():
            self.fields[name].set(value)
        said = widgets.HTML(html.paragraph(words.say("panel-back-again", self.reader, time=kept.clock(at))))
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
            kept.keep(place, self.key, {})
        self._changed = {}
        self.refill(values)

    def refill(self, values: Values) -> None:
        """Put values into the fields in which nothing was typed, and answer once."""
        for name, value in values.items():
            if name not in self._changed:
                self.fields[name].set(value)
        self._steps, self._last = [], self.values
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
        # The answer itself is read out when it changes; its line is for the eye alone.
        found = _ANSWER.search(markup)
        self._now = found[1] if found else ""
        self.now_line.value = f'<p aria-hidden="true">{self._now}</p>' if self._now else ""
        if not self._steps:
            self._first = self._now
        self._offer_back()

    def _offer_back(self) -> None:
        """Show what was before, and the button that takes the last change back."""
        refused = [field.label for field in self.fields.values() if field.problem is not None]
        label = refused[0] if refused else self._steps[-1][0] if self._steps else ""
        self.undoing.layout.display = None if label and self.steps_back else "none"
        self.step_back.description = words.say("panel-step-back", self.reader, field=label)
        # The answer's line is escaped where it is made.
        before = html.join(words.say("panel-before", self.reader), " ", html.Html(self._first))
        self.was.value = html.element("p", before) if self._first not in ("", self._now) else ""

    def _stale(self, *sentences: str) -> None:
        self.refused = sentences
        self.problems.value = alert(sentences)
        self.result.add_class("aq-old")
        self._offer_back()
        if any(field.problem is not None for field in self.fields.values()):
            self.more.value = True


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
