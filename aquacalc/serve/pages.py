"""`aquacalc open`: the workbook as pages without code, on this machine only."""

import mimetypes
import os
import secrets
import webbrowser
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any
from urllib.parse import quote

from jupyter_server.auth.decorator import allow_unauthenticated
from jupyter_server.auth.login import LoginFormHandler
from jupyter_server.base.handlers import JupyterHandler
from tornado.ioloop import IOLoop
from tornado.web import HTTPError, StaticFileHandler, authenticated
from traitlets.config import Config
from voila.app import Voila
from voila.tornado.contentshandler import VoilaContentsHandler
from voila.tornado.treehandler import TornadoVoilaTreeHandler

from aquacalc import tables, words
from aquacalc.pages.html import Html
from aquacalc.serve import gardens, index, notebooks, plan
from aquacalc.serve.gardens import Choice

COOKIE = "aquacalc-garden"
OPENED, MAKER = "aquacalc_opened", "aquacalc_maker"
LOOPBACK = "127.0.0.1"
IDLE_SECONDS = 30 * 60
"""A page that nobody has touched for so long lets go of its memory. Common practice, no source."""
LOOK_SECONDS = 60


def serve(folder: Path, browser: bool, say: Callable[[str], None], options: Sequence[str] = ()) -> None:
    """Show the pages of `folder` until it is stopped.

    browser: open a browser window. say: told the address once it can be opened. options: options of the
    server, as it takes them on a command line.
    """
    lie = notebooks.folder_of(folder)
    ours = [str(tables.DATA / "jupyter"), os.environ.get("JUPYTER_PATH", "")]
    os.environ["JUPYTER_PATH"] = os.pathsep.join(filter(None, ours))
    # Threads of several pages would fight for the cores.
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
        os.environ.setdefault(name, "1")
    config = Config()
    config.Voila.ip = LOOPBACK
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
    server = Server(config=config)
    server.initialize(argv=[str(lie), *options])
    server.voila_configuration.prelaunch_hook = _for_garden(folder.resolve())

    def ready() -> None:
        say(server.address)
        if browser:
            webbrowser.open(server.address)

    server.opened, server.ready = folder.resolve(), ready
    server.start()


class Server(Voila):  # type: ignore[misc]
    """The server of pages. opened: the folder whose gardens they are about; ready: called when it listens."""

    opened: Path
    ready: Callable[[], None]

    def start(self) -> None:
        """Serve until stopped."""
        IOLoop.current().add_callback(self.ready)
        super().start()

    def init_settings(self) -> dict[str, Any]:
        """What every handler knows."""
        ours = {OPENED: self.opened, MAKER: plan.Maker(), "login_url": "/login"}
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
        return [(r"/", _Index), (r"/login", _Door), *plans, *static, *theirs]

    @property
    def address(self) -> str:
        """Where the pages are, with their key."""
        return f"http://{LOOPBACK}:{self.port}/?token={self.token}"


def _for_garden(folder: Path) -> Callable[..., None]:
    """Before a page runs: its garden is the one that was chosen, and what it writes goes into `folder`."""

    def prepare(handler: Any, notebook: Any, cwd: str) -> None:
        reader = words.Reader()
        # Being asked for, it is sent along: without it the page could not end its kernel when it is left.
        assert handler.xsrf_token
        garden = chosen(handler, gardens.choices(folder))
        titles = [cell.source for cell in notebook.cells if cell.cell_type == "markdown"]
        notebook.metadata["aquacalc"] = {
            "title": titles[0].splitlines()[0].lstrip("# ") if titles else garden.name,
            "garden": garden.name or index.name_of(garden, reader),
            "home": words.say("open-home", reader),
            "first": words.say("open-first", reader),
            "first_href": index.RENDER + quote(notebooks.FIRST),
            "working": words.say("open-working", reader),
            "gone": words.say("open-gone", reader),
            "reload": words.say("open-reload", reader),
            "all": words.say("open-all", reader),
        }
        for cell in notebook.cells:
            if notebooks.PARAMETERS in cell.metadata.get("tags", ()):
                cell.source = f"import os\nos.chdir({str(folder)!r})\ngarden = {garden.key!r}"

    return prepare


class _Index(JupyterHandler):
    """The list of questions; `?garden=` chooses another garden."""

    @authenticated
    def get(self) -> None:
        folder = self.settings[OPENED]
        offered = gardens.choices(folder)
        wanted = self.get_argument("garden", None)
        if any(one.key == wanted for one in offered):
            self.set_secure_cookie(COOKIE, wanted or "", httponly=True, samesite="Lax")
            self.redirect("/")
            return
        shown = chosen(self, offered)
        pages = notebooks.pages(notebooks.folder_of(folder))
        self.set_header("Cache-Control", "no-store")
        self.finish(index.index(pages, offered, shown.key, words.Reader()))


class _Plan(JupyterHandler):
    """The season plan of the chosen garden: how far it is, its files, a button that makes it."""

    @authenticated
    def get(self) -> None:
        """Show it."""
        garden, folder = self._of()
        form = Html(self.xsrf_form_html())
        making, reader = self.settings[MAKER].state(folder), words.Reader()
        self.set_header("Cache-Control", "no-store")
        self.finish(plan.page(garden.name, folder, making, form, reader))

    @authenticated
    def post(self) -> None:
        """Make it."""
        garden, folder = self._of()
        self.settings[MAKER].make(garden.key, folder)
        self.redirect(plan.PAGE)

    def _of(self) -> tuple[Choice, Path]:
        opened = self.settings[OPENED]
        offered = gardens.choices(opened)
        shown = chosen(self, offered)
        garden = shown if shown.key else next(one for one in offered if one.key)
        return garden, plan.folder_of(garden, opened)


class _PlanFile(_Plan):
    """One file of the plan; no other file of the folder."""

    @authenticated
    def get(self, name: str) -> None:
        """Send it."""
        path = next((one for one in plan.files(self._of()[1]) if one.name == name), None)
        if path is None:
            raise HTTPError(404)
        self.set_header("Content-Type", mimetypes.guess_type(name)[0] or "application/octet-stream")
        self.finish(path.read_bytes())


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
