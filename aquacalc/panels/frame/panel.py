"""The frame of every panel: fields, a line for problems, one place whose content is replaced by the answer.

A panel is three small functions, joined here: controls (fields by name), compute (numbers in, a result out)
and draw (a result as HTML). An `InputError` of compute is shown as its sentence and the last answer stays;
anything else fails loudly.
"""

from collections.abc import Callable, Collection, Mapping, Sequence
from typing import Any

import ipywidgets as widgets

from aquacalc import words
from aquacalc.errors import InputError
from aquacalc.pages import html, style
from aquacalc.panels.frame.fields import Field, alert

Values = Mapping[str, Any]

# Fingers need 44 px, and 16 px type keeps phones from zooming in. Names stand over their boxes, so that a
# long one does not squeeze the number. Problems are told apart without colour. Levels look as on paper.
STYLE = (
    f"<style>{style.level_rules('.aq-panel')}</style>"
    """<style>
.aq-panel .widget-text input,.aq-panel .widget-dropdown select,.aq-panel .widget-button
 {height:44px!important;flex:0 0 44px!important;font-size:16px}
.aq-panel .aq-field{margin:0 18px 6px 0}
.aq-panel .aq-field .widget-text,.aq-panel .aq-field .widget-dropdown
 {flex-direction:column;align-items:stretch;height:auto!important}
.aq-panel .widget-label{font-size:16px;height:auto;line-height:1.4;padding:4px 0 2px;text-align:left;
 width:auto!important;white-space:normal}
.aq-panel .widget-hslider{min-height:48px;margin:0 16px}
.aq-panel .widget-button{flex:0 0 auto!important;align-self:flex-start;margin:4px 12px 4px 0}
.aq-panel .aq-date .widget-button{align-self:flex-end;margin:4px 0 0 6px}
.aq-panel .widget-html-content{min-width:0}
.aq-panel summary{font-size:16px;line-height:44px;cursor:pointer}
.aq-panel p,.aq-panel li{font-size:16px;line-height:1.45;max-width:46em}
.aq-panel .widget-hslider .noUi-handle
 {width:32px!important;height:32px!important;top:-14px!important;right:-16px!important}
.aq-panel .aq-problem{border-left:6px solid #1a1a1a;padding:2px 0 2px 10px;margin:0 0 8px;font-weight:bold;
 line-height:1.4;white-space:normal}
.aq-panel p.aq-answer{font-size:19px;font-weight:bold;line-height:1.35;margin:8px 0}
.aq-panel .aq-result p{margin:6px 0}
.aq-panel .aq-result figure{margin:10px 0;max-width:760px;overflow-x:auto}
.aq-panel .aq-result svg{max-width:100%;min-width:540px;height:auto}
.aq-panel .aq-result table{border-collapse:collapse;font-size:16px}
.aq-panel .aq-result td,.aq-panel .aq-result th{border:1px solid #8c8c8c;padding:4px 10px;text-align:left}
.aq-panel .aq-wide{overflow-x:auto;max-width:98%}
.aq-panel .aq-old{opacity:.55}
.aq-panel .aq-old a[download]{display:none}
</style>"""
)


class Panel(widgets.VBox):  # type: ignore[misc]
    """Fields and the answer to one question.

    key: the panel's name; its element carries the classes `aq-panel` and `aq-KEY`.
    fields: by the names under which `compute` gets their values.
    compute: values to a result; `InputError` where they do not fit together.
    draw: the result as HTML.
    below: further controls between the fields and the answer.
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
    ) -> None:
        self.fields = dict(fields)
        self.compute, self.draw, self.reader, self.asked = compute, draw, reader, asked
        self.problems = widgets.HTML()
        self.result = widgets.HTML(layout=widgets.Layout(width="100%"))
        self.inputs = widgets.Box(
            [field.widget for field in self.fields.values()],
            layout=widgets.Layout(flex_flow="row wrap", width="100%"),
        )
        super().__init__(
            [widgets.HTML(STYLE), self.inputs, self.problems, *below, self.result],
            layout=widgets.Layout(width="100%"),
        )
        self.add_class("aq-panel")
        self.add_class(f"aq-{key}")
        for field in self.fields.values():
            field.on_change(self.refresh)
        self.refresh()

    @property
    def values(self) -> dict[str, Any]:
        """What the fields stand for, in base units."""
        return {name: field.value for name, field in self.fields.items()}

    def fill(self, values: Values) -> None:
        """Put values into the fields and answer once."""
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

    def _stale(self, *sentences: str) -> None:
        self.refused = sentences
        self.problems.value = alert(sentences)
        self.result.add_class("aq-old")


def answer(title: str, sentences: Sequence[str] = (), *rest: str) -> html.Html:
    """An answer: its title in words and its sentences, read out when they change, then pictures and tables.

    title, sentences: plain text. rest: finished markup; pictures carry their own text alternative.
    """
    said = html.element(
        "div", html.paragraph(title, "aq-answer"), *map(html.paragraph, sentences), role="status"
    )
    return html.element("div", said, *(html.Html(one) for one in rest), class_="aq-result")


def figure(svg: str) -> html.Html:
    """A picture in an answer."""
    return html.element("figure", html.Html(svg))


def wide(table: html.Html) -> html.Html:
    """A table in an answer that slides sideways where the screen is too narrow for it."""
    return html.element("div", table, class_="aq-wide")
