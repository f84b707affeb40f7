"""The season plan: run its notebook once, make one HTML page and the PDFs, put the folder in place whole."""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterable, Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any, Literal

from aquacalc import __version__, tables, words
from aquacalc.errors import InputError, Problem
from aquacalc.garden import places
from aquacalc.garden.file import GardenFile
from aquacalc.pages import plan as pages_plan
from aquacalc.pages import style
from aquacalc.pages.html import shortened
from aquacalc.pages.plan import Plan
from aquacalc.pages.style import Paper
from aquacalc.uncertainty import MEMBERS, SEED
from aquacalc.words import Reader

# JupyterLab brings a package whose grammar takes 0.8 s to compile at import; it serves only checks of
# addresses that jsonschema treats as optional. Without this line everything works, later.
sys.modules.setdefault("rfc3987_syntax", None)  # type: ignore[arg-type]

NOTEBOOK = "season_plan.ipynb"
DEFAULT_FOLDER = "season-plan"
OLD = ".old"
RUN_FILE = "season-plan.json"
RUN_NOTEBOOK = "season-plan.ipynb"
PAGE = "season-plan.html"
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge", "microsoft-edge")
"""Programs that print a page to PDF where the printing library has no wheel."""
SECONDS_TO_PRINT = 120

Progress = Callable[[str], None]


@dataclass(frozen=True)
class Written:
    """What was written; `pdfs` is empty where nothing on this computer prints."""

    folder: Path
    page: Path
    pdfs: tuple[Path, ...]


class RunError(RuntimeError):
    """The run itself failed; `notebook` is the half-run notebook, `heading` stands above the cell."""

    def __init__(self, notebook: Path, heading: str, what: str) -> None:
        self.notebook, self.heading, self.what = notebook, heading, what
        super().__init__(f"{heading}: {what}")


Units = Literal["", "metric", "us"]


def open_plan(garden: str, members: int, seed: int, units: Units, made: str) -> Plan:
    """Everything that the pages print, computed once.

    garden: path or `demo:NAME`; units: `metric`, `us`, or empty for the garden's own; made: ISO date.
    """
    opened = GardenFile.open(garden or "demo:yard").garden
    reader = replace(opened.reader, units=units) if units else opened.reader
    day = date.fromisoformat(made) if made else date.today()
    return pages_plan.make(opened, reader, day, members, seed)


def season(
    garden: str,
    out: Path | None = None,
    members: int = MEMBERS,
    seed: int = SEED,
    paper: str = "",
    units: Units = "",
    made: date | None = None,
    progress: Progress = lambda line: None,
) -> Written:
    """Write the season plan of a garden into a folder, whole or not at all.

    Raises `InputError` for a garden or a folder that cannot be used, `RunError` when the run itself fails.
    """
    target = (out or Path(DEFAULT_FOLDER)).resolve()
    check_target(target)
    source = GardenFile.open(garden)
    reader: Reader = replace(source.garden.reader, units=units) if units else source.garden.reader
    parameters = {
        "garden": garden if garden.startswith("demo:") else str(Path(garden).resolve()),
        "members": members,
        "seed": seed,
        "units": units,
        "made": (made or date.today()).isoformat(),
    }
    target.parent.mkdir(parents=True, exist_ok=True)
    working = Path(tempfile.mkdtemp(prefix=f".{target.name}-", dir=target.parent))
    try:
        progress(words.say("season-running", reader, garden=source.garden.name))
        _run(places.workbook() / NOTEBOOK, working / RUN_NOTEBOOK, parameters, target)
        progress(words.say("season-printing", reader))
        pdfs = _print(working, source, reader, papers(paper or reader.paper), made or date.today())
        _write_run_file(working / RUN_FILE, source, parameters)
        _put_in_place(working, target)
    except BaseException:
        shutil.rmtree(working, ignore_errors=True)
        raise
    return Written(target, target / PAGE, tuple(target / name for name in pdfs))


def papers(choice: str) -> tuple[Paper, ...]:
    """The sheets of a choice.

    >>> papers("both")
    ('a4', 'letter')
    """
    return ("a4", "letter") if choice == "both" else ("letter",) if choice == "letter" else ("a4",)


def check_target(target: Path) -> None:
    """Refuse a folder that holds anything that this command did not write."""
    forbidden = {Path.cwd().resolve(), Path.home().resolve(), *Path.cwd().resolve().parents}
    if target in forbidden:
        raise InputError(Problem("problem-folder-in-use", "--out", str(target), (DEFAULT_FOLDER,)))
    if target.exists():
        ours = target.is_dir() and ((target / RUN_FILE).is_file() or not any(target.iterdir()))
        if not ours:
            raise InputError(Problem("problem-folder-not-ours", "--out", str(target), (DEFAULT_FOLDER,)))


def check_parameters(known: Iterable[str], given: Iterable[str]) -> None:
    """Refuse a parameter that the notebook does not have; papermill would only warn."""
    names = tuple(known)
    for name in given:
        if name not in names:
            raise InputError(Problem("problem-unknown-name", NOTEBOOK, name, names))


def _run(notebook: Path, result: Path, parameters: Mapping[str, Any], target: Path) -> None:
    import papermill
    from papermill.exceptions import PapermillExecutionError

    check_parameters(papermill.inspect_notebook(str(notebook)), parameters)
    try:
        papermill.execute_notebook(
            str(notebook),
            str(result),
            parameters=dict(parameters),
            kernel_name="python3",
            progress_bar=False,
            log_output=False,
            extra_arguments=["--IPKernelApp.log_level=50"],
        )
    except PapermillExecutionError as error:
        kept = target.with_name(f"{target.name}-failed.ipynb")
        shutil.copyfile(result, kept)
        raise RunError(
            kept, _heading_above(result, error.cell_index), f"{error.ename}: {error.evalue}"
        ) from error


def _heading_above(notebook: Path, cell: int) -> str:
    import nbformat

    cells = nbformat.read(str(notebook), as_version=4).cells  # type: ignore[no-untyped-call]
    for one in reversed(cells[: cell + 1]):
        first = str(one.source).splitlines()[0] if one.source else ""
        if one.cell_type == "markdown" and first.startswith("#") and "papermill" not in str(one.metadata):
            return first.lstrip("# ")
    return NOTEBOOK


def _print(
    working: Path, source: GardenFile, reader: Reader, sizes: tuple[Paper, ...], made: date
) -> tuple[str, ...]:
    """One HTML page for the first paper, one PDF for each."""
    import nbformat

    notebook = nbformat.read(str(working / RUN_NOTEBOOK), as_version=4)  # type: ignore[no-untyped-call]
    footer = words.say(
        "page-foot",
        reader,
        garden=shortened(source.garden.name, pages_plan.STAMP_LETTERS),
        made=words.date(made, reader),
        version=__version__,
    )
    names = []
    for size in sizes:
        page = _html(notebook, source.garden.name, reader, style.paper_rules(size, footer))
        if size == sizes[0]:
            (working / PAGE).write_text(page, "utf-8", newline="\n")
        name = f"season-plan-{size}.pdf" if len(sizes) > 1 else "season-plan.pdf"
        if _pdf(page, working / name):
            names.append(name)
    return tuple(names)


def _html(notebook: Any, title: str, reader: Reader, paper_rules: str) -> str:
    from nbconvert import HTMLExporter

    exporter = HTMLExporter(  # type: ignore[no-untyped-call]
        template_name="report",
        extra_template_basedirs=[str(tables.DATA)],
        exclude_anchor_links=True,
    )
    resources = {
        "metadata": {"name": title},
        "language": reader.language,
        "style": style.style(),
        "paper_rules": paper_rules,
    }
    page, _ = exporter.from_notebook_node(notebook, resources=resources)
    return str(page)


def _pdf(page: str, path: Path) -> bool:
    """Print a page; False where nothing on this computer can."""
    try:
        import plutoprint
    except ImportError:
        return _pdf_by_browser(page, path)
    book = plutoprint.Book(size=plutoprint.PAGE_SIZE_A4)
    book.load_html(page)
    book.write_to_pdf(str(path))
    return True


def _pdf_by_browser(page: str, path: Path) -> bool:
    browser = next((found for name in BROWSERS if (found := shutil.which(name))), None)
    if browser is None:
        return False
    with tempfile.TemporaryDirectory() as scratch:
        html = Path(scratch) / PAGE
        html.write_text(page, "utf-8")
        command = [
            browser,
            "--headless",
            "--disable-gpu",
            "--no-pdf-header-footer",
            f"--user-data-dir={scratch}/profile",
            f"--print-to-pdf={path}",
            html.as_uri(),
        ]
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            command.insert(1, "--no-sandbox")
        subprocess.run(command, check=False, capture_output=True, timeout=SECONDS_TO_PRINT)
    return path.is_file()


def _write_run_file(path: Path, source: GardenFile, parameters: Mapping[str, Any]) -> None:
    """Version, what was asked, the garden's digest and the garden as it was understood."""
    content = {
        "version": __version__,
        "parameters": dict(parameters),
        "digest": source.digest,
        "garden": asdict(source.garden),
    }
    path.write_text(json.dumps(content, indent=1, default=str, ensure_ascii=False) + "\n", "utf-8")


def _put_in_place(working: Path, target: Path) -> None:
    """Rename the finished folder; the one before is kept as `.old`, the newest only."""
    working.chmod(0o755)
    if target.exists():
        old = target.with_name(target.name + OLD)
        if old.exists():
            shutil.rmtree(old)
        target.rename(old)
    working.rename(target)
