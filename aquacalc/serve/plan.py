"""The season plan as a page: a button that makes it, and its files to read, print and carry away."""

import asyncio
import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from pathlib import Path

from aquacalc import words
from aquacalc.garden import places
from aquacalc.pages import html
from aquacalc.pages.html import Html
from aquacalc.panels.frame import turn
from aquacalc.serve.gardens import Choice
from aquacalc.serve.index import whole
from aquacalc.words import Reader

PAGE, FILES = "/plan", "/plan/files/"
KINDS = (".pdf", ".html", ".ics", ".csv")
"""What a reader takes from a plan, by the ends of the files' names, in the order of being offered."""
LOOK_AGAIN_S = 3


@dataclass
class Making:
    """One plan on its way. lines: what the command has said so far. status: of its end, None before."""

    lines: list[str] = field(default_factory=list)
    status: int | None = None


class Maker:
    """Makes plans by the command, one at a time; others wait their turn."""

    def __init__(self) -> None:
        self._turn = asyncio.Lock()
        self._making: dict[Path, Making] = {}
        self._tasks: set[asyncio.Task[None]] = set()

    def state(self, folder: Path) -> Making | None:
        """How far the plan of a folder is; None where none was asked for."""
        return self._making.get(folder)

    def ahead(self, folder: Path) -> int:
        """How many plans are to be finished before that of a folder is begun."""
        asked = list(self._making)
        before = asked[: asked.index(folder)] if folder in self._making else []
        return sum(self._making[one].status is None for one in before)

    def make(self, garden: str, folder: Path) -> None:
        """Begin a plan, unless it is on its way already."""
        now = self._making.get(folder)
        if now is not None and now.status is None:
            return
        self._making.pop(folder, None)  # it goes to the end of those that wait
        self._making[folder] = Making()
        task = asyncio.ensure_future(self._run(garden, folder, self._making[folder]))
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _run(self, garden: str, folder: Path, making: Making) -> None:
        async with self._turn, _turn():
            process = await asyncio.create_subprocess_exec(
                *(sys.executable, "-m", "aquacalc", "season", garden, "--out", str(folder)),
                stdout=asyncio.subprocess.PIPE,
                stderr=asyncio.subprocess.STDOUT,
                cwd=folder.parent,
            )
            assert process.stdout is not None
            async for line in process.stdout:
                making.lines.append(line.decode("utf-8", "replace").strip())
            making.status = await process.wait()


@asynccontextmanager
async def _turn() -> AsyncIterator[None]:
    """Wait until no page searches, and let none search meanwhile."""
    mine = turn.Turn()
    try:
        while not mine.taken():
            await asyncio.sleep(turn.LOOK_S)
        yield
    finally:
        mine.end()


def folder_of(garden: Choice, opened: Path) -> Path:
    """Where the plan of a garden goes: beside its file; that of an invented one into the opened folder."""
    if garden.own:
        return Path(garden.key).parent / "season-plan"
    return opened / f"season-plan-{garden.key.removeprefix(places.DEMO)}"


def files(folder: Path) -> list[Path]:
    """The files of a made plan that a reader takes."""
    found = [path for path in folder.glob("season-*") if path.suffix in KINDS]
    return sorted(found, key=lambda path: (KINDS.index(path.suffix), path.name))


def page(
    garden: str, folder: Path, making: Making | None, form: Html, reader: Reader, ahead: int = 0
) -> Html:
    """The page. garden: its name. form: hidden fields of the button. ahead: plans to be made first."""
    say = words.say
    running = making is not None and making.status is None
    parts = [html.element("h1", say("plan-page-title", reader)), html.paragraph(garden)]
    if making is not None and running:
        waits = say("plan-page-waits", reader, ahead=str(ahead)) if ahead else ""
        line = making.lines[-1] if making.lines else waits
        told = html.paragraph(say("plan-page-working", reader, line=line))
        parts += [html.element("div", told, role="status")]
        parts += [Html(f'<meta http-equiv="refresh" content="{LOOK_AGAIN_S}">')]
    elif making is not None and making.status:
        parts += [html.element("div", html.listing(making.lines), role="alert")]
    made = [] if running else files(folder)
    if made:
        links = (html.element("li", html.element("a", path.name, href=FILES + path.name)) for path in made)
        where = html.paragraph(say("plan-page-made", reader, folder=str(folder)))
        parts += [where, html.element("ul", *links)]
    if not running:
        key = "plan-page-again" if made else "plan-page-make"
        button = html.element("button", say(key, reader))
        parts += [html.element("form", form, button, method="post", action=PAGE, class_="garden")]
    parts += [html.paragraph(say("plan-page-what", reader))]
    back = html.element("a", say("open-home", reader), href="/")
    return whole(say("plan-page-title", reader), html.join(*parts, html.element("p", back)), reader)
