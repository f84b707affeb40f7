"""What was read or done today goes into the log beside the garden: shown before, taken back after."""

from collections.abc import Callable, Sequence
from datetime import date

import ipywidgets as widgets

from aquacalc import words
from aquacalc.errors import InputError
from aquacalc.logbook import keep
from aquacalc.logbook.keep import Entry
from aquacalc.logbook.read import LOG
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import alert
from aquacalc.panels.frame.panel import wide


class Keeping(widgets.VBox):  # type: ignore[misc]
    """A button that shows the row, one that writes it, one that takes it back.

    entries: what is to be kept now; `InputError` where it cannot be. today: the day of the row. then: called
    after the log has changed. note: what goes into the row's note.
    """

    def __init__(
        self,
        desk: Desk,
        entries: Callable[[], Sequence[Entry]],
        today: Callable[[], date] = date.today,
        then: Callable[[], None] = lambda: None,
        note: Callable[[], str] = lambda: "",
    ) -> None:
        self.desk, self.entries, self.today, self.then, self.note = desk, entries, today, then, note
        self.row: keep.Row | None = None
        self.show = self._button("keep-show", self.shown)
        self.write = self._button("keep-write", self.written)
        self.back = self._button("keep-back", self.taken_back)
        self.said = widgets.HTML()
        super().__init__([self.show, self.said, widgets.HBox([self.write, self.back])])
        self._offer(write=False, back=False)

    def shown(self, _button: object = None) -> None:
        """Show the row as it would stand in the log."""
        self._offer(write=False, back=False)
        say, reader = words.say, self.desk.reader
        if self.desk.file.read_only:
            self.said.value = html.paragraph(say("keep-demo", reader))
            return
        path = self.desk.file.path.parent / LOG
        try:
            self.row = keep.row(path, self.desk.garden, self.today(), self.entries(), self.note())
        except InputError as error:
            self._refuse(error)
            return
        filled = [(head, cell) for head, cell in zip(self.row.header, self.row.cells, strict=True) if cell]
        table = html.table([head for head, _ in filled], [[cell for _, cell in filled]])
        said = html.paragraph(say("keep-shown", reader, file=str(path)))
        self.said.value = html.element("div", said, wide(table), class_="aq-result", role="status")
        self._offer(write=True, back=False)

    def written(self, _button: object = None) -> None:
        """Write the row that is shown."""
        assert self.row is not None
        self._do(lambda row: keep.save(row), "keep-written")
        self._offer(write=False, back=self.said.value.find("aq-problem") < 0)

    def taken_back(self, _button: object = None) -> None:
        """Put the log back as it was."""
        self._do(lambda row: keep.take_back(row), "keep-taken-back")
        self._offer(write=False, back=False)

    def _do(self, step: Callable[[keep.Row], None], key: str) -> None:
        assert self.row is not None
        try:
            step(self.row)
        except InputError as error:
            self._refuse(error)
            return
        said = words.say(key, self.desk.reader, day=words.date(self.today(), self.desk.reader))
        self.said.value = html.element("p", said, role="status")
        self.desk.read_log()
        self.then()

    def _refuse(self, error: InputError) -> None:
        self.said.value = alert(words.problem(problem, self.desk.reader) for problem in error.problems)

    def _offer(self, write: bool, back: bool) -> None:
        self.write.layout.display = None if write else "none"
        self.back.layout.display = None if back else "none"

    def _button(self, key: str, pressed: Callable[[object], None]) -> widgets.Button:
        button = widgets.Button(
            description=words.say(key, self.desk.reader), layout=widgets.Layout(width="auto")
        )
        button.on_click(pressed)
        return button
