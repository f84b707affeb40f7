"""`garden.toml`: read and checked as a whole, changed value by value, saved whole or not at all."""

import copy
import hashlib
import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from aquacalc import disk
from aquacalc.errors import InputError, Problem
from aquacalc.garden import places, resolve
from aquacalc.garden.model import Garden
from aquacalc.garden.problems import checked

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

DEFAULT = "demo:yard"
"""The garden of a notebook beside which no other lies."""


@dataclass(frozen=True)
class GardenFile:
    """A garden file that was read and checked.

    path: the file. text: as typed. garden: what it says. digest: of the bytes on disk when it was read;
    None for a file that is not written yet. today: day that a missing season is counted from.
    """

    path: Path
    text: str
    garden: Garden
    digest: str | None
    today: date

    @classmethod
    def open(cls, name: str | Path, today: date | None = None) -> "GardenFile":
        """Read the garden of a file, a folder that holds `garden.toml`, or `demo:NAME`.

        today: day that a missing `[season]` is counted from; the current one where not given.
        Raises `InputError` with every problem of the file.
        """
        path = places.garden_path(name)
        raw = _bytes(path)
        return cls._of(path, _text(raw, path), _digest(raw), today or date.today())

    @classmethod
    def _of(cls, path: Path, text: str, digest: str | None, today: date) -> "GardenFile":
        garden = cls._resolved(_data(text, str(path)), path, today)
        return cls(path, text, garden, digest, today)

    @staticmethod
    def _resolved(data: dict[str, object], path: Path, today: date) -> Garden:
        file = checked(data, today)
        return resolve.garden(file, path.parent, path.parent.resolve().name, today)

    @property
    def document(self) -> "TOMLDocument":
        """The document as typed, with its comments; a copy, so that nothing here changes with it."""
        import tomlkit

        return tomlkit.parse(self.text)

    @property
    def read_only(self) -> bool:
        """Whether it is a demo garden, which is never written."""
        return places.is_demo(self.path)

    def change(self, dotted: str, value: object) -> "GardenFile":
        """The file with one value changed, checked again; this one stays as it is.

        dotted: `tank.0.volume`, entries counted from 0. value: None takes it out.
        Raises `InputError` where the changed garden has problems.
        """
        return self.changed({dotted: value})

    def changed(self, values: Mapping[str, object]) -> "GardenFile":
        """The file with several values changed, checked again once all of them are."""
        from aquacalc.garden import edit

        text = self.text
        for dotted, value in values.items():
            text = edit.changed(text, dotted, value)
        return self._of(self.path, text, self.digest, self.today)

    def gardens(self, changes: Iterable[Mapping[str, object]]) -> Iterator[Garden]:
        """The garden under each of many sets of changed values, as `changed` would give it, without its text.

        Raises `InputError` where a changed garden has problems.
        """
        from aquacalc.garden import edit

        read = _data(self.text, str(self.path))
        for values in changes:
            data = copy.deepcopy(read)
            edit.put(data, values)
            yield self._resolved(data, self.path, self.today)

    def save(self) -> "GardenFile":
        """Write the file: the whole new text, or nothing. Returns the file as it is on disk now.

        Raises `InputError`: `problem-demo-read-only`, `problem-cannot-write`; `problem-file-changed` where
        the file is no longer as it was when it was read.
        """
        if self.read_only:
            raise InputError(Problem("problem-demo-read-only", "", str(self.path)))
        now = _digest(_bytes(self.path)) if self.path.exists() else None
        if now != self.digest:
            key = "problem-file-changed" if self.digest is not None else "problem-file-exists"
            raise InputError(Problem(key, "", str(self.path)))
        return replace(self, digest=_write(self.path, self.text))

    @classmethod
    def write_new(
        cls, folder: str | Path, values: Mapping[str, object], today: date | None = None
    ) -> "GardenFile":
        """Make a commented `garden.toml` in a folder from a few values by dotted key.

        values: as for `changed`; with the comments of the starter garden, and nothing of its numbers.
        Raises `InputError`: problems of the values, `problem-file-exists`, `problem-cannot-write`.
        """
        from aquacalc.garden import edit

        text = edit.only(places.starter().read_text("utf-8"), ("format", *values))
        for dotted, value in values.items():
            text = edit.changed(text, dotted, value)
        return cls.save_new(folder, text, today)

    @classmethod
    def save_new(cls, folder: str | Path, text: str, today: date | None = None) -> "GardenFile":
        """A text as the `garden.toml` of a folder that has none; the folder is made where it is missing.

        Raises `InputError`: problems of the text, `problem-file-exists`, `problem-cannot-write`.
        """
        path = Path(folder).expanduser() / places.GARDEN
        made = cls._of(path, text, None, today or date.today())
        if path.exists():
            raise InputError(Problem("problem-file-exists", "", str(path)))
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise disk.cannot_write(path, error) from error
        return made.save()


def find(
    parameter: str = "", folder: Path | None = None, today: date | None = None, demo: str = DEFAULT
) -> GardenFile:
    """The garden of a notebook: its parameter, else `garden.toml` beside it or one folder up, else a demo.

    folder: where the notebook lies; the current folder where not given. demo: the one to fall back on.
    """
    if parameter:
        return GardenFile.open(parameter, today)
    here = Path() if folder is None else folder
    for path in (here / places.GARDEN, here / ".." / places.GARDEN):
        if path.is_file():
            return GardenFile.open(path, today)
    return GardenFile.open(demo, today)


# --- reading -----------------------------------------------------------------------------------------------


def _bytes(path: Path) -> bytes:
    if not path.is_file():
        raise InputError(Problem("problem-file-missing", "", str(path)))
    try:
        return path.read_bytes()
    except OSError as error:
        raise InputError(
            Problem("problem-file-unreadable", "", str(path), (error.strerror or str(error),))
        ) from error


def _digest(raw: bytes) -> str:
    return hashlib.sha256(raw).hexdigest()


def _text(raw: bytes, path: Path) -> str:
    # Windows editors put a mark before the text and end lines in their own way; neither is kept.
    try:
        text = raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError:
        raise InputError(Problem("problem-file-not-text", "", str(path))) from None
    if "\0" in text:
        raise InputError(Problem("problem-file-not-text", "", str(path)))
    if not text.strip():
        raise InputError(Problem("problem-file-empty", "", str(path)))
    return text


def _data(text: str, where: str) -> dict[str, object]:
    try:
        data = tomllib.loads(text)
    except RecursionError:
        raise InputError(Problem("problem-toml", where, "[[[[", ("1", "1"))) from None
    except ValueError as error:
        raise InputError(_syntax(str(error), text, where)) from None
    if not data:
        raise InputError(Problem("problem-file-empty", "", where))
    return data


def _syntax(message: str, text: str, where: str) -> Problem:
    """Line and column of a fault, and the line itself."""
    lines = text.split("\n")
    at = re.search(r"at line (\d+), column (\d+)", message)
    if at is None:
        # The text ends too early: the last line that says something is the one to look at.
        last = max(number for number, line in enumerate(lines, start=1) if line.strip())
        return Problem("problem-toml-end", where, lines[last - 1].strip(), (str(last),))
    line, column = int(at[1]), int(at[2])
    twice = "overwrite" in message or "twice" in message
    key = "problem-toml-twice" if twice else "problem-toml"
    return Problem(key, where, lines[min(line, len(lines)) - 1].strip(), (str(line), str(column)))


# --- writing -----------------------------------------------------------------------------------------------


def _write(path: Path, text: str) -> str:
    """Replace a file by a new text in one step; returns the digest of what is on disk then."""
    tomllib.loads(text)
    raw = text.encode("utf-8")
    disk.replace_whole(path, raw)
    return _digest(raw)
