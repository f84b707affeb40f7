"""Of all pages of a server one searches at a time; the others are told that they wait."""

import threading
from pathlib import Path

import pytest

from aquacalc.panels.frame import turn


def test_without_a_server_nobody_waits(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.delenv(turn.PLACE, raising=False)
    assert turn.Turn().taken()
    assert turn.Turn().taken()


def test_the_second_begins_when_the_first_has_ended(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv(turn.PLACE, str(tmp_path / "turn"))
    monkeypatch.setattr(turn, "LOOK_S", 0.01)
    first, told, begun = turn.Turn(), threading.Event(), threading.Event()
    assert first.taken()

    def second() -> None:
        with turn.turn(told.set):
            begun.set()

    waiting = threading.Thread(target=second)
    waiting.start()
    assert told.wait(5.0)
    assert not begun.is_set()
    first.end()
    waiting.join(5.0)
    assert begun.is_set()
