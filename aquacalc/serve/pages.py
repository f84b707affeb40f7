"""`aquacalc open`: the workbook as pages without code, on this machine only."""

import mimetypes
import os
import secrets
import socket
import tempfile
import webbrowser
import zlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any
from urllib.parse import quote

from jupyter_core.utils import ensure_async
from jupyter_server.auth.decorator import allow_unauthenticated
from jupyter_server.auth.login import LoginFormHandler
from jupyter_server.base.handlers import JupyterHandler
from tornado.ioloop import IOLoop
from tornado.web import HTTPError, StaticFileHandler, authenticated
from traitlets.config import Config
from voila.app import Voila
from voila.tornado.contentshandler import VoilaContentsHandler
from voila.tornado.handler import TornadoVoilaHandler
from voila.tornado.treehandler import TornadoVoilaTreeHandler

from aquacalc import tables, words
from aquacalc.garden import places
from aquacalc.pages.html import Html
from aquacalc.panels.frame import kept, scenarios, turn
from aquacalc.serve import classroom, gardens, index, notebooks, plan
from aquacalc.serve.gardens import Choice
from aquacalc.serve.visitors import Visitor, Visitors, is_full, unlinked

COOKIE = "aquacalc-garden"
VISITOR_COOKIE = "aquacalc-visitor"
OPENED, MAKER, VISITORS, CLASS_KEY = (f"aquacalc_{name}" for name in ("opened", "maker", "visitors", "key"))
LOOPBACK = "127.0.0.1"
SHARED = ".aquacalc-scenarios"
IDLE_SECONDS = 30 * 60
"""A page that nobody has touched for so long lets go of its memory. Common practice, no source."""
LOOK_SECONDS = 60


@dataclass(frozen=True)
class Addresses:
    """Of the list of questions, and of the facilitator's page, each with its key."""

    pages: str
    facilitator: str


def serve(
    folder: Path,
    browser: bool,
    say: Callable[[Addresses], None],
    options: Sequence[str] = (),
    visitors: Visitors | None = None,
) -> None:
    """Show the pages of `folder` until it is stopped.

    browser: open a browser window. say: told the addresses once they can be opened. options: options of the
    server, as it takes them on a command line. visitors: of a workshop, which the whole network can reach.
    """
    lie = _pages_of(folder, visitors)
    ours = [str(tables.DATA / "jupyter"), os.environ.get("JUPYTER_PATH", "")]
    os.environ["JUPYTER_PATH"] = os.pathsep.join(filter(None, ours))
    # Threads of several pages would fight for the cores.
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
        os.environ.setdefault(name, "1")
    # Searches and plans wait for each other, in whichever process they run.
    os.environ[turn.PLACE] = str(Path(tempfile.gettempdir()) / f"aquacalc-turn-{os.getpid()}")
    config = Config()
    config.Voila.ip = LOOPBACK if visitors is None else "0.0.0.0"
    config.Voila.open_browser = False
    config.Voila.token = secrets.token_urlsafe(12)
    config.Voila.log_level = "ERROR"
    config.VoilaConfiguration.template = "aquacalc"
    config.VoilaConfiguration.allow_template_override = "NO"
    config.VoilaConfiguration.allow_theme_override = "NO"
    config.VoilaConfiguration.file_allowlist = ["nothing"]
    config.MappingKernelManager.cull_idle_timeout = IDLE_SECONDS
    config.MappingKernelManager.cull_interval = LOOK_SECONDS
    config.MappingKernelManager.cull_connected = True
    # One that died would come back empty, and its page would not notice.
    config.KernelManager.autorestart = False
    server = Server(config=config)
    server.initialize(argv=[str(lie), *options])
    server.voila_configuration.prelaunch_hook = _prepare

    def ready() -> None:
        say(server.addresses)
        if browser:
            webbrowser.open(server.addresses.pages)

    server.opened, server.visitors, server.ready = folder.resolve(), visitors, ready
    try:
        server.start()
    finally:
        Path(os.environ[turn.PLACE]).unlink(missing_ok=True)


class Server(Voila):  # type: ignore[misc]
    """The server of pages. opened: the folder whose gardens they are about; ready: called when it listens."""

    opened: Path
    visitors: Visitors | None
    ready: Callable[[], None]
    class_key = ""

    def start(self) -> None:
        """Serve until stopped."""
        IOLoop.current().add_callback(self.ready)
        super().start()

    def init_settings(self) -> dict[str, Any]:
        """What every handler knows."""
        self.class_key = secrets.token_urlsafe(12)
        ours = {OPENED: self.opened, MAKER: plan.Maker(), "login_url": "/login"}
        ours |= {VISITORS: self.visitors, CLASS_KEY: self.class_key}
        return {**super().init_settings(), **ours}

    def init_handlers(self) -> list[Any]:
        """Ours first: the list of questions in place of a list of files."""
        static = [
            (r"/aquacalc/static/(.*)", StaticFileHandler, {"path": tables.DATA / "jupyter" / "pages"}),
            (r"/aquacalc/fonts/(.*\.ttf)", StaticFileHandler, {"path": tables.DATA / "fonts"}),
        ]
        theirs = [
            one
            for one in super().init_handlers()
            if not issubclass(one[1], TornadoVoilaTreeHandler | VoilaContentsHandler)
        ]
        plans = [
            (plan.PAGE, _Plan),
            (f"{plan.FILES}(.+)", _PlanFile),
            (index.RENDER + notebooks.PLAN.replace(".", r"\."), _Plan),
        ]
        shown = [(one[0], _Render, *one[2:]) if one[1] is TornadoVoilaHandler else one for one in theirs]
        ours = [(r"/", _Index), (r"/login", _Door), (r"/here/([\w-]+)", _Here), *plans, *static]
        if self.visitors is not None:
            ours += [
                (classroom.COME, _Come),
                (classroom.LEAVE, _Leave),
                (classroom.CLASS, _Class),
                (f"{classroom.MINE}(.+)", _Mine),
            ]
        return [*ours, *shown]

    @property
    def addresses(self) -> Addresses:
        """Where the pages are, with their key."""
        host = LOOPBACK if self.visitors is None else own_address()
        begin = f"http://{host}:{self.port}"
        return Addresses(
            f"{begin}/?token={self.token}",
            f"{begin}{classroom.CLASS}?token={self.token}&key={self.class_key}",
        )


def _pages_of(folder: Path, visitors: Visitors | None) -> Path:
    """Where the notebooks lie. The young get the workbook's own: copies may be older, or changed."""
    return places.workbook() if visitors is not None and visitors.young else notebooks.folder_of(folder)


def own_address() -> str:
    """This machine's address in its network; loopback where it is in none. Sends nothing."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address that RFC 5737 keeps for documents
            return str(probe.getsockname()[0])
        except OSError:
            return LOOPBACK


def visitor_of(handler: Any) -> Visitor | None:
    """Who sits there, in a workshop."""
    visitors = handler.settings[VISITORS]
    kept = handler.get_secure_cookie(VISITOR_COOKIE)
    return None if visitors is None or not kept else visitors.get(kept.decode("utf-8"))


def folder_for(handler: Any) -> Path:
    """The folder with the gardens of whoever sits there."""
    visitor = visitor_of(handler)
    return Path(handler.settings[OPENED] if visitor is None else visitor.folder)


def _prepare(handler: Any, notebook: Any, cwd: str) -> None:
    """Before a page runs: its garden is the chosen one, and what it writes goes into the right folder."""
    reader, folder, visitors = words.Reader(), folder_for(handler), handler.settings[VISITORS]
    # Being asked for, it is sent along: without it the page could not end its kernel when it is left.
    assert handler.xsrf_token
    garden = chosen(handler, gardens.choices(folder))
    shown = visitors is None or visitors.shows(notebooks.FIRST)
    titles = [cell.source for cell in notebook.cells if cell.cell_type == "markdown"]
    notebook.metadata["aquacalc"] = {
        "title": titles[0].splitlines()[0].lstrip("# ") if titles else garden.name,
        "garden": garden.name or index.name_of(garden, reader),
        "home": words.say("open-home", reader),
        "first": words.say("open-first", reader) if shown else "",
        "first_href": index.RENDER + quote(notebooks.FIRST),
        "working": words.say("open-working", reader),
        "gone": words.say("open-gone", reader),
        "reload": words.say("open-reload", reader),
        "all": words.say("open-all", reader),
    }
    # What is typed is kept in that folder, for each garden by itself.
    fields = folder / f".aquacalc-{zlib.crc32(garden.key.encode()):08x}.json"
    # What is kept under a name is for everybody in the room.
    shared = folder / SHARED if visitors is None else visitors.shared
    named = {kept.PLACE: str(fields), scenarios.PLACE: str(shared)}
    begin = ["import os", f"os.chdir({str(folder)!r})", f"os.environ.update({named!r})"]
    for cell in notebook.cells:
        if notebooks.PARAMETERS in cell.metadata.get("tags", ()):
            cell.source = "\n".join([*begin, f"garden = {garden.key!r}"])
    if visitors is not None:
        if visitors.young:
            notebook.cells = [cell for cell in notebook.cells if not notebooks.from_16(cell)]
        hidden = [page.file for page in notebooks.pages(places.workbook()) if not visitors.shows(page.file)]
        for cell in notebook.cells:
            if cell.cell_type == "markdown" and hidden:
                cell.source = unlinked(cell.source, [*hidden, notebooks.PLAN])


class _Index(JupyterHandler):
    """The list of questions; `?garden=` chooses another garden."""

    @authenticated
    def get(self) -> None:
        visitors, visitor = self.settings[VISITORS], visitor_of(self)
        form = Html(self.xsrf_form_html())
        self.set_header("Cache-Control", "no-store")
        if visitors is not None and visitor is None:
            self.finish(classroom.hello(form, words.Reader()))
            return
        offered = gardens.choices(folder_for(self))
        wanted = self.get_argument("garden", None)
        if any(one.key == wanted for one in offered):
            self.set_secure_cookie(COOKIE, wanted or "", httponly=True, samesite="Lax")
            self.redirect("/")
            return
        shown = chosen(self, offered)
        lie = _pages_of(self.settings[OPENED], visitors)
        pages, plan_too, below, above = notebooks.pages(lie), True, "", ""
        if visitors is not None and visitor is not None:
            pages = visitors.pages(lie)
            plan_too = visitors.shows(notebooks.PLAN)
            above = classroom.full_note(words.Reader()) if is_full() else ""
            below = classroom.mine(visitor, visitors.files(visitor), form, words.Reader())
        self.finish(index.index(pages, offered, shown.key, words.Reader(), plan_too, below, above))


class _Render(TornadoVoilaHandler):  # type: ignore[misc]
    """A page; in a workshop only for those who are in, while there is memory, and one at a time for each."""

    @authenticated
    async def get(self, path: str | None = None) -> None:
        """Run it, or say why not."""
        visitors = self.settings[VISITORS]
        if visitors is not None:
            visitor = visitor_of(self)
            if visitor is None:
                self.redirect("/")
                return
            if not visitors.shows(path or ""):
                raise HTTPError(404, words.say("class-not-shown", words.Reader()))
            await _end(self, visitor.kernel)
            if is_full():
                self.set_status(503)
                self.finish(classroom.full(words.Reader()))
                return
        await super().get(path)


async def _end(handler: Any, kernel: str) -> None:
    if kernel and kernel in handler.kernel_manager:
        await ensure_async(handler.kernel_manager.shutdown_kernel(kernel, now=True))


class _Here(JupyterHandler):
    """Asked by each page every now and then: does what computes for it still run?"""

    @authenticated
    async def get(self, kernel: str) -> None:
        """204 if so, else 404. A visitor's newest page ends the one before."""
        manager, visitor = self.kernel_manager, visitor_of(self)
        there = kernel in manager and await ensure_async(manager.get_kernel(kernel).is_alive())
        if visitor is not None:
            visitor.seen = datetime.now()
            if there and visitor.kernel != kernel:
                last, visitor.kernel = visitor.kernel, kernel
                await _end(self, last)
        self.set_status(204 if there else 404)
        self.finish()


class _Come(JupyterHandler):
    """Lets somebody in."""

    @authenticated
    def post(self) -> None:
        """With a garden of their own."""
        one = self.settings[VISITORS].come(self.get_argument("name", ""))
        self.set_secure_cookie(VISITOR_COOKIE, one.key, httponly=True, samesite="Lax", expires_days=None)
        self.clear_cookie(COOKIE)
        self.redirect("/")


class _Leave(JupyterHandler):
    """Lets the next one sit down at the same machine."""

    @authenticated
    async def post(self) -> None:
        """Their page ends; their garden stays for the facilitator."""
        visitor = visitor_of(self)
        if visitor is not None:
            await _end(self, visitor.kernel)
        self.clear_cookie(VISITOR_COOKIE)
        self.redirect("/")


class _Mine(JupyterHandler):
    """A file of the visitor's own, to be carried away."""

    @authenticated
    def get(self, name: str) -> None:
        """Send it."""
        visitor = visitor_of(self)
        files = [] if visitor is None else self.settings[VISITORS].files(visitor)
        _send(self, next((one for one in files if one.name == name), None))


class _Class(JupyterHandler):
    """The facilitator's page."""

    @authenticated
    def get(self) -> None:
        """Who is in."""
        key = self._key()
        form, everybody = Html(self.xsrf_form_html()), self.settings[VISITORS].all()
        self.set_header("Cache-Control", "no-store")
        self.finish(classroom.everybody(everybody, datetime.now(), key, form, words.Reader()))

    @authenticated
    async def post(self) -> None:
        """Give a visitor the garden as it was."""
        key, visitors = self._key(), self.settings[VISITORS]
        visitor = visitors.get(self.get_argument("visitor", ""))
        if visitor is not None:
            await _end(self, visitor.kernel)
            visitors.reset(visitor.key)
        self.redirect(f"{classroom.CLASS}?key={quote(key)}")

    def _key(self) -> str:
        key = str(self.get_argument("key", ""))
        if not secrets.compare_digest(key.encode(), self.settings[CLASS_KEY].encode()):
            raise HTTPError(403)
        return key


def _send(handler: Any, path: Path | None) -> None:
    if path is None:
        raise HTTPError(404)
    handler.set_header("Content-Type", mimetypes.guess_type(path.name)[0] or "application/octet-stream")
    handler.finish(path.read_bytes())


class _Plan(JupyterHandler):
    """The season plan of the chosen garden: how far it is, its files, a button that makes it."""

    @authenticated
    def get(self) -> None:
        """Show it."""
        garden, folder = self._of()
        form = Html(self.xsrf_form_html())
        maker, reader = self.settings[MAKER], words.Reader()
        self.set_header("Cache-Control", "no-store")
        shown = plan.page(garden.name, folder, maker.state(folder), form, reader, maker.ahead(folder))
        self.finish(shown)

    @authenticated
    def post(self) -> None:
        """Make it."""
        garden, folder = self._of()
        self.settings[MAKER].make(garden.key, folder)
        self.redirect(plan.PAGE)

    def _of(self) -> tuple[Choice, Path]:
        visitors = self.settings[VISITORS]
        if visitors is not None and (visitor_of(self) is None or not visitors.shows(notebooks.PLAN)):
            raise HTTPError(404, words.say("class-not-shown", words.Reader()))
        opened = folder_for(self)
        offered = gardens.choices(opened)
        shown = chosen(self, offered)
        garden = shown if shown.key else next(one for one in offered if one.key)
        return garden, plan.folder_of(garden, opened)


class _PlanFile(_Plan):
    """One file of the plan; no other file of the folder."""

    @authenticated
    def get(self, name: str) -> None:
        """Send it."""
        _send(self, next((one for one in plan.files(self._of()[1]) if one.name == name), None))


class _Door(LoginFormHandler):
    """What an address without its key is answered."""

    @allow_unauthenticated
    def get(self) -> None:
        """One clear sentence."""
        self.set_status(403)
        self.finish(index.door(words.Reader()))

    @allow_unauthenticated
    def post(self) -> None:
        """The same."""
        self.get()


def chosen(handler: Any, offered: Sequence[Choice]) -> Choice:
    """The garden that this browser has chosen, else the first."""
    kept = handler.get_secure_cookie(COOKIE)
    key = kept.decode("utf-8") if kept else ""
    return next((one for one in offered if one.key == key), offered[0])
