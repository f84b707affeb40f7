"""Plans are made one at a time; whoever waits is told how many come first."""

import asyncio
from pathlib import Path

import pytest

from aquacalc.pages.html import Html
from aquacalc.serve import plan
from aquacalc.serve.plan import Maker
from aquacalc.words import Reader


def test_plans_wait_their_turn_and_are_told_their_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    begun: list[str] = []
    at_once = 0

    class Process:
        def __init__(self) -> None:
            self.stdout = asyncio.StreamReader()
            self.stdout.feed_eof()

        async def wait(self) -> int:
            nonlocal at_once
            at_once += 1
            assert at_once == 1
            await asyncio.sleep(0)
            at_once -= 1
            return 0

    async def start(*command: str, **_: object) -> Process:
        begun.append(command[-1])
        return Process()

    async def three() -> None:
        monkeypatch.setattr(asyncio, "create_subprocess_exec", start)
        maker, folders = Maker(), [tmp_path / name for name in ("a", "b", "c")]
        for folder in [*folders, folders[1]]:
            maker.make("demo:yard", folder)
        assert [maker.ahead(folder) for folder in folders] == [0, 1, 2]
        assert maker.ahead(tmp_path / "never") == 0
        state = maker.state(folders[2])
        waits = plan.page("Yard", folders[2], state, Html(""), Reader(), maker.ahead(folders[2]))
        assert "before this one: 2" in waits
        while any((state := maker.state(folder)) is None or state.status is None for folder in folders):
            await asyncio.sleep(0)
        assert [maker.ahead(folder) for folder in folders] == [0, 0, 0]
        assert begun == [str(folder) for folder in folders]

    asyncio.run(three())
