"""What would make a good year? As written beside proposed, a tick a change, and what the ticks make of it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import ipywidgets as widgets

from aquacalc import words
from aquacalc.compare.side_by_side import Compared, versions
from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.pages import html
from aquacalc.panels.frame import turn
from aquacalc.panels.frame.conflict import Conflict
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.panel import Panel, Values, answer, wide
from aquacalc.panels.harvest.season_runs import begun
from aquacalc.planner import kept, propose
from aquacalc.planner.kept import Kept
from aquacalc.sentences import proposal as told
from aquacalc.words import Reader

TRIES = 40
"""Tries of a set of ticks: enough to see what it makes, soon enough to wait for (our own choice)."""


@dataclass(frozen=True, eq=False)
class Shown:
    """The versions that stand side by side: as written, all of the proposal, with the ticks; nothing where no
    proposal is open. lines: of the file that change with the ticks."""

    open: Kept | None
    columns: Sequence[Compared] = ()
    lines: Sequence[str] = ()


class GoodYear(Panel):
    """The open proposal of the garden. Nothing is written before its button is pressed."""

    def __init__(self, desk: Desk) -> None:
        reader = desk.reader
        self.desk = desk
        self.known: dict[tuple[str, tuple[int, ...]], Shown] = {}
        self.listed = ""
        self.search, self.write, self.back = (
            _button(f"good-year-{name}", reader) for name in ("search", "write", "back")
        )
        self.line = widgets.HTML()
        self.conflict = Conflict(desk)
        self.ticks = widgets.VBox()
        for button, pressed in (
            (self.search, self.look),
            (self.write, self.save),
            (self.back, self.take_back),
        ):
            button.on_click(pressed)
        buttons = widgets.HBox([self.write, self.back], layout=widgets.Layout(flex_flow="row wrap"))
        below = (self.search, self.line, self.ticks, buttons, self.conflict)
        super().__init__("good-year", {}, self.compared, self.drawn, reader, below)
        desk.follow(self.refresh)

    @property
    def chosen(self) -> tuple[int, ...]:
        """Numbers of the changes that are ticked."""
        return tuple(n for n, tick in enumerate(self.ticks.children, start=1) if tick.value)

    def compared(self, _values: Values) -> Shown:
        """The open proposal with the ticks as they stand."""
        open_ = self._open()
        self._list(open_)
        if open_ is None or not open_.changes:
            return Shown(open_)
        key = open_.digest, self.chosen
        if key not in self.known:
            self.known[key] = self._versions(open_)
        return self.known[key]

    def _versions(self, open_: Kept) -> Shown:
        file = self.desk.file
        whole = kept.changed(open_, file)
        ticked = kept.changed(open_, file, self.chosen)
        each = [file.garden, whole.garden, ticked.garden]
        read = begun(file.garden, self.desk.log)
        prices = [becomes.price for _, _, becomes in kept.moves(open_, file.garden)]
        bought = [0.0, sum(prices), sum(prices[n - 1] for n in self.chosen)]
        columns = [
            replace(one, found=replace(one.found, to_buy=price))
            for one, price in zip(versions(each, read, TRIES, open_.seed), bought, strict=True)
        ]
        return Shown(open_, columns, told.difference(file.text, ticked.text))

    def _open(self) -> Kept | None:
        """The proposal that lies beside the garden, where it is for this very file."""
        path = kept.path_of(self.desk.file)
        if not path.is_file():
            return None
        found = kept.load(path)
        return found if found.digest == (self.desk.file.digest or "") else None

    def _list(self, open_: Kept | None) -> None:
        """A tick for each change, all on where the proposal is new."""
        digest = "" if open_ is None else f"{open_.digest} {open_.seed} {len(open_.changes)}"
        if digest != self.listed:
            self.listed = digest
            moves = () if open_ is None else kept.moves(open_, self.desk.garden)
            self.ticks.children = [_tick(told.change(*move, self.desk.reader)) for move in moves]
            for tick in self.ticks.children:
                tick.observe(self._moved, "value")
        self.write.disabled = open_ is None or not open_.holds or not self.chosen
        self.back.disabled = not kept.can_undo(self.desk.file)

    def _moved(self, _change: object = None) -> None:
        self.refresh()

    def drawn(self, shown: Shown) -> str:
        """The table of the versions, and the lines that would change."""
        reader = self.desk.reader
        if shown.open is None:
            return answer(words.say("good-year-none", reader))
        if not shown.columns:
            return answer(words.say("proposal-title-good", reader))
        rows = told.rows([one.found for one in shown.columns], shown.columns[0].wanted, reader)
        head = [words.say(f"proposal-head-{name}", reader) for name in ("what", "written", "proposed")]
        holds = words.say("good-year-answer", reader, changes=len(self.chosen))
        return answer(
            holds if shown.open.holds else words.say("proposal-title-refused", reader),
            [words.say("good-year-tries", reader, tries=TRIES), words.say("proposal-key", reader)],
            wide(
                html.table(
                    [*head, words.say("good-year-ticked", reader)], [[row.name, *row.marked] for row in rows]
                )
            ),
            html.paragraph(words.say("good-year-lines", reader)) if shown.lines else "",
            html.element("pre", "\n".join(shown.lines)) if shown.lines else "",
        )

    def look(self, _button: object = None) -> None:
        """Search for a good year; it takes minutes, and its line tells how far it is."""
        self.search.disabled = True
        self.tell(0.0)
        try:
            file = self.desk.file
            with turn.turn(self.wait):
                read = begun(file.garden, self.desk.log)
                found = propose.propose(file, read=read, progress=self.tell)
            kept.save(kept.of_proposal(found), kept.path_of(file))
        except InputError as error:
            self.complain(error)
            return
        finally:
            self.search.disabled, self.line.value = False, ""
        self.refresh()

    def wait(self) -> None:
        """Say that another page is at work."""
        said = words.say("good-year-waits", self.desk.reader)
        self.line.value = html.element("p", said, role="status")

    def tell(self, share: float) -> None:
        """Say how much of the search is done."""
        reader = self.desk.reader
        done = words.say("proposal-searching", reader, share=words.quantity(share, "share", reader))
        self.line.value = html.element("p", done, role="status")

    def save(self, _button: object = None) -> None:
        """Type the ticked changes into the garden file, and work on with it everywhere."""
        try:
            open_ = self._open()
            if open_ is None:
                return
            before = self.desk.file
            self._show(kept.write(before, kept.accepted(open_, before, self.chosen)))
        except InputError as error:
            self.complain(error)

    def take_back(self, _button: object = None) -> None:
        """Put the garden file back as it was before the last acceptance."""
        try:
            self._show(kept.undo(self.desk.file))
        except InputError as error:
            self.complain(error)

    def _show(self, file: GardenFile) -> None:
        self.conflict.clear()
        self.desk.put(file)

    def complain(self, error: InputError) -> None:
        """Say why something cannot be done."""
        self.conflict.show(error.problems)


def _tick(label: str) -> widgets.Checkbox:
    return widgets.Checkbox(value=True, description=label, indent=False, layout=widgets.Layout(width="auto"))


def _button(key: str, reader: Reader) -> widgets.Button:
    return widgets.Button(description=words.say(key, reader), layout=widgets.Layout(width="auto"))


def panel(desk: Desk) -> GoodYear:
    """The panel; it follows the garden."""
    return GoodYear(desk)
