"""`aquacalc open --lab`: the notebooks in JupyterLab, for those who explore and change.

Notebooks of ours start by themselves with their code folded away; any other notebook waits to be asked.
"""

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from jupyter_server.base.handlers import APIHandler
from jupyter_server.utils import url_path_join
from jupyterlab.labapp import LabApp
from tornado.web import authenticated

from aquacalc import tables, words
from aquacalc.errors import InputError, Problem
from aquacalc.serve import notebooks

START_PAGE = "00_start_here.ipynb"
OURS = "/aquacalc/ours"


def serve(folder: Path, browser: bool, options: Sequence[str] = ()) -> None:
    """Run JupyterLab on the notebooks of `folder` until it is stopped.

    browser: open a browser window. options: options of JupyterLab, handed on as they are.
    """
    found = sorted(path.name for path in folder.glob("*.ipynb"))
    if not found:
        raise InputError(Problem("problem-no-notebooks", found=str(folder)))
    # Our settings (no window that asks for news) and our extension stand beside the reader's own.
    for name in ("JUPYTER_CONFIG_PATH", "JUPYTER_PATH"):
        paths = [str(tables.DATA / "jupyter"), os.environ.get(name, "")]
        os.environ[name] = os.pathsep.join(filter(None, paths))
    first = START_PAGE if START_PAGE in found else found[0]
    arguments = [
        f"--ServerApp.root_dir={folder.resolve()}",
        f"--LabApp.default_url=/lab/tree/{first}",
        f"--ServerApp.jpserver_extensions={{'{__name__}': True}}",
    ]
    LabApp.launch_instance(argv=[*arguments, *([] if browser else ["--no-browser"]), *options])


def _jupyter_server_extension_points() -> list[dict[str, str]]:
    """How the server finds this file as an extension of it."""
    return [{"module": __name__}]


def _load_jupyter_server_extension(server: Any) -> None:
    """Called by the server once it stands."""
    server.web_app.add_handlers(".*$", [(url_path_join(server.base_url, OURS), _Ours)])


class _Ours(APIHandler):
    """Whether a notebook may start by itself, and the words of the extension."""

    @authenticated
    def get(self) -> None:
        root = Path(self.settings["server_root_dir"]).expanduser().resolve()
        path = (root / self.get_argument("path", "")).resolve()
        show = words.say("open-show-code", words.Reader())
        self.finish({"ours": path.is_relative_to(root) and notebooks.ours(path), "show": show})
