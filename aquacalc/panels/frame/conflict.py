"""A garden file that something else has changed: one button reads it again, and nothing typed is lost."""

from collections.abc import Sequence

import ipywidgets as widgets

from aquacalc import words
from aquacalc.errors import InputError, Problem
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import alert

CHANGED = "problem-file-changed"


class Conflict(widgets.VBox):  # type: ignore[misc]
    """Says why a garden file was not written; where it was changed meanwhile, its button reads it again.

    desk: whose file it is; every panel on it then shows what the file says now, with what was typed on top.
    """

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.said = widgets.HTML()
        self.button = widgets.Button(
            description=words.say("conflict-read-again", desk.reader), layout=widgets.Layout(width="auto")
        )
        self.button.on_click(self.read_again)
        super().__init__([self.said, self.button])
        self.clear()

    def show(self, problems: Sequence[Problem]) -> None:
        """Say the problems, and offer the button where it helps."""
        say, reader = words.say, self.desk.reader
        if not problems:
            self.clear()
            return
        changed = any(problem.key == CHANGED for problem in problems)
        said = [words.problem(problem, reader) for problem in problems]
        if changed:
            said.append(say("conflict-what-now", reader, button=self.button.description))
        self.said.value = alert(said)
        self.button.layout.display = None if changed else "none"

    def clear(self) -> None:
        """Nothing is wrong."""
        self.said.value, self.button.layout.display = "", "none"

    def read_again(self, _button: object = None) -> None:
        """Read the file again; say that it is not written yet."""
        try:
            self.desk.read_again()
        except InputError as error:
            self.show(error.problems)
            self.button.layout.display = None
            return
        self.clear()
        said = words.say("conflict-was-read", self.desk.reader)
        self.said.value = html.element("p", said, role="status")
