"""The garden that the panels of a notebook share: opened once, changed by the form, with undo."""

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import Protocol

from aquacalc import tables, units, words
from aquacalc.errors import InputError, Problem
from aquacalc.garden import file
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.logbook.log import Log
from aquacalc.logbook.messy import mend
from aquacalc.sizing.changes import balance_with_changes
from aquacalc.sizing.result import Balance


class Filled(Protocol):
    """A panel that takes values."""

    def fill(self, values: Mapping[str, object]) -> None:
        """Put values into the fields and answer once."""

    def refill(self, values: Mapping[str, object]) -> None:
        """The same where nothing was typed."""


class Desk:
    """The garden file at hand, the ones before it, and the panels that follow it.

    problems: why the reader's own file could not be used; the demo garden is shown in its place. log: the one
    beside the file, None where there is none, and where it cannot be read, as `log_problems` tells.
    rereading: while the panels follow a file that was read again; what is typed in them stays.
    """

    def __init__(self, opened: GardenFile, problems: tuple[Problem, ...] = ()) -> None:
        self.file = opened
        self.problems = problems
        self.before: list[GardenFile] = []
        self.rereading = False
        self.log, self.log_problems = _log(opened)
        self._followers: list[Callable[[], None]] = []
        self._balance: Balance | None = None

    @property
    def garden(self) -> Garden:
        """The garden at hand."""
        return self.file.garden

    @property
    def reader(self) -> words.Reader:
        """For whom the garden's pages are made."""
        return self.garden.reader

    @property
    def balance(self) -> Balance:
        """The balance of the garden at hand with what to change first; reckoned once a garden."""
        if self._balance is None:
            self._balance = balance_with_changes(self.garden)
        return self._balance

    def put(self, changed: GardenFile) -> None:
        """Work on another garden from now on; `take_back` brings the last one back."""
        self.before.append(self.file)
        self._show(changed)

    def take_back(self) -> bool:
        """Write the garden that was there before the last change and work on with that; False where there is
        none, `InputError` where it cannot be written."""
        if not self.before:
            return False
        old = self.before[-1]
        if not old.read_only:
            old = replace(old, digest=self.file.digest).save()
        self.before.pop()
        self._show(old)
        return True

    def write(self, values: Mapping[str, object]) -> GardenFile:
        """Change the garden file, save it and work on it; `InputError` where it cannot be."""
        made = self.file.changed(values).save()
        self.put(made)
        return made

    def read_again(self) -> None:
        """Work on what the file says now, because something else has changed it since.

        What stood in it before cannot be brought back from here: that would undo what the other one wrote.
        Raises `InputError` where it cannot be read; then all stays as it is.
        """
        read = GardenFile.open(self.file.path, self.file.today)
        self.before.clear()
        self.rereading = True
        try:
            self._show(read)
        finally:
            self.rereading = False

    def read_log(self) -> None:
        """Read the log anew after a row was put in; what stands in the fields stays."""
        self.log, self.log_problems = _log(self.file)

    def follow(self, follower: Callable[[], None]) -> None:
        """Call `follower` whenever the garden changes."""
        self._followers.append(follower)

    def fill(self, panel: Filled, known: Callable[["Desk"], Mapping[str, object]]) -> None:
        """Fill a panel with what is known of the garden, now and whenever the garden changes."""

        def filled() -> None:
            put = panel.refill if self.rereading else panel.fill
            put(known(self))

        filled()
        self.follow(filled)

    def _show(self, shown: GardenFile) -> None:
        self.file, self._balance, self.problems = shown, None, ()
        for follower in self._followers:
            follower()


def _log(opened: GardenFile) -> tuple[Log | None, tuple[Problem, ...]]:
    try:
        mended = None if opened.digest is None else mend.beside(opened.path, opened.garden)
        return (None if mended is None else mended.log), ()
    except InputError as error:
        return None, error.problems


def open_desk(garden: str = "", demo: str = file.DEFAULT) -> Desk:
    """The garden of a notebook.

    garden: a path or `demo:NAME`; empty for `garden.toml` beside the notebook, else one folder up, else the
    demo garden. demo: which one, where a question suits another better. A file that cannot be read does not
    stop the notebook: its problems stand on the form, and the demo garden is shown.
    """
    try:
        return Desk(file.find(garden, demo=demo))
    except InputError as error:
        return Desk(GardenFile.open(demo), error.problems)


def reader_of(desk: Desk | None) -> words.Reader:
    """The garden's reader; metric and English without a garden."""
    return words.Reader() if desk is None else desk.reader


def today_of(desk: Desk) -> date:
    """The day of the file: an invented garden lives in its own year."""
    if desk.garden.invented and desk.log is not None and desk.log.rows:
        return desk.log.rows[-1].day + timedelta(days=1)
    return desk.file.today


def garden_of(desk: Desk | None) -> Garden | None:
    """The garden at hand, if there is one."""
    return None if desk is None else desk.garden


def in_round_numbers(value: float, kind: str, reader: words.Reader, digits: int = 3) -> float:
    """A value for a field, in the base unit of its kind: short in the unit in which the reader sees it.

    >>> round(in_round_numbers(24.8, "temperature", words.Reader(units="us"), 2), 2)  # 77 F
    25.0
    """
    unit = units.unit(tables.load("quantities").row(kind).text(reader.units))
    shown = unit.from_base(value)
    places = digits - 1 - math.floor(math.log10(abs(shown))) if shown else 0
    return unit.to_base(round(shown, places))


def measurement(desk: Desk, what: str, value: object, subject: str = "") -> Mapping[str, object]:
    """A measurement of today by its dotted keys; one of the same day is written over."""
    today, measured = desk.file.today, desk.garden.measured
    same = [
        n
        for n, one in enumerate(measured)
        if one.what == what and one.day == today and one.subject == subject
    ]
    at = f"measured.{same[0] if same else len(measured)}"
    named = {f"{at}.subject": subject} if subject else {}
    return {f"{at}.what": what, f"{at}.value": value, f"{at}.day": today, **named}
