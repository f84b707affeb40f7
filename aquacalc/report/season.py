"""The season plan in a folder: run the notebook, then make one HTML file and its PDF from it."""

import json
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

# papermill and nbconvert import jsonschema, which compiles a grammar of internet addresses (0.8 s) whenever
# this optional module can be found. No notebook holds an address, and jsonschema does without it.
sys.modules.setdefault("rfc3987_syntax", None)  # type: ignore[arg-type]

import nbformat  # noqa: E402
import papermill  # noqa: E402
from nbconvert import HTMLExporter  # noqa: E402
from papermill.exceptions import PapermillExecutionError  # noqa: E402

from aquacalc import __version__, disk, tables, words  # noqa: E402
from aquacalc.errors import InputError, Problem  # noqa: E402
from aquacalc.garden import places  # noqa: E402
from aquacalc.judge.levels import Level  # noqa: E402
from aquacalc.pages import style  # noqa: E402
from aquacalc.pages.html import STAMP_LETTERS, shortened  # noqa: E402
from aquacalc.pages.style import Paper  # noqa: E402
from aquacalc.report import bookmarks, contents, folders, pdf, succession  # noqa: E402
from aquacalc.report.given import (  # noqa: E402
    CALENDAR_FILE,
    DAYS_FILE,
    RUN_FILE,
    TASKS_FILE,
    TOLD,
    opened,
)
from aquacalc.uncertainty import MEMBERS, SEED  # noqa: E402
from aquacalc.words import Reader  # noqa: E402

DEFAULT_OUT = "season-plan"
NAME = "season-plan"
NOTEBOOK = "season_plan.ipynb"

PAPERS: dict[str, tuple[Paper, ...]] = {"a4": ("a4",), "letter": ("letter",), "both": ("a4", "letter")}

Progress = Callable[[str], None]


class RunFailed(Exception):  # noqa: N818  (what happened, in the project's words)
    """The run itself failed. `str()` is the sentence for the reader; the half-run notebook is kept."""

    def __init__(self, sentence: str, notebook: Path | None) -> None:
        self.notebook = notebook
        super().__init__(sentence)


@dataclass(frozen=True)
class SeasonPlan:
    """What was written. pdfs: empty where nothing on this machine can print; data: tables and calendar."""

    folder: Path
    html: Path
    pdfs: tuple[Path, ...]
    notebook: Path
    run_file: Path
    levels: tuple[Level, ...]
    data: tuple[Path, ...] = ()


def season(
    garden_name: str,
    out: Path | None = None,
    members: int = MEMBERS,
    seed: int = SEED,
    paper: str = "",
    units: str = "",
    progress: Progress | None = None,
    start: str = "",
    made: str = "",
) -> SeasonPlan:
    """Write the season plan of a garden into a folder; an older plan there is kept as `.old`.

    garden_name: file, folder, or `demo:NAME`. out: default `season-plan` in the current folder. paper: `a4`,
    `letter` or `both`; units: `metric` or `us`; empty for the garden file's own. start: first day of the
    plan, made: the day printed on it, as 2027-03-01; empty for the file's and today. progress: gets one
    sentence a step. Raises `InputError` (garden, options, folder) before anything is written, `RunFailed`
    where the run breaks off; then no page is made and the half-run notebook is kept beside the target.
    """
    given = opened(garden_name, units, start, made)
    reader = given.reader
    papers = _papers(paper or reader.paper)
    whole = folders.target(out or Path(DEFAULT_OUT))
    tell = progress or (lambda sentence: None)
    with folders.workplace(whole) as work, _told_where_it_cannot_be_written(whole, reader):
        tell(words.say("season-computing", reader, garden=shortened(given.garden.name, STAMP_LETTERS)))
        notebook = work / f"{NAME}.ipynb"
        values = {
            "garden": absolute(garden_name),
            "members": members,
            "seed": seed,
            "units": units,
            "start": start,
            "made": made,
            "target": str(work),
        }
        try:
            run = run_notebook(places.workbook() / NOTEBOOK, notebook, values, tell)
        except PapermillExecutionError as error:
            # Where the disk is full, this fails as well, and nothing is kept.
            kept = folders.keep_failed(work, whole) / notebook.name
            raise RunFailed(_failed(error, kept, reader), kept) from error
        tell(words.say("season-printing", reader))
        record = json.loads((work / RUN_FILE).read_text("utf-8"))
        first, on = (date.fromisoformat(day) for day in (record["season"]["first"], record["made"]))
        succession.follow(work / CALENDAR_FILE, whole / CALENDAR_FILE, first, on, reader)
        _write_pages(run, record, papers, work, reader)
        folders.finish(work, whole)
    return _written(whole, papers, record)


@contextmanager
def _told_where_it_cannot_be_written(whole: Path, reader: Reader) -> Iterator[None]:
    """A full disk, or a folder that somebody holds open, as the failure that it is."""
    try:
        yield
    except OSError as fault:
        sentence = words.say("season-not-written", reader, folder=str(whole), reason=disk.reason(fault))
        raise RunFailed(sentence, None) from fault


def _papers(name: str) -> tuple[Paper, ...]:
    if name not in PAPERS:
        raise InputError(Problem("problem-choice", "paper", name, tuple(PAPERS)))
    return PAPERS[name]


def absolute(garden_name: str) -> str:
    """A garden's name that means the same in every folder."""
    if not garden_name or garden_name.startswith(places.DEMO):
        return garden_name
    return str(Path(garden_name).expanduser().resolve())


class _Heard:
    """A stream from which the lines are handed on that are meant to be told."""

    def __init__(self, tell: Progress) -> None:
        self._tell = tell
        self._rest = ""

    def write(self, text: str) -> None:
        *lines, self._rest = (self._rest + text).split("\n")
        for line in lines:
            if line.startswith(TOLD):
                self._tell(line.removeprefix(TOLD))

    def flush(self) -> None:
        """Nothing is held back but half a line."""


def run_notebook(
    source: Path, written: Path, values: Mapping[str, Any], tell: Progress | None = None
) -> nbformat.NotebookNode:
    """Run a notebook with parameters into a new file; `InputError` for a parameter that it does not have.

    tell: gets the lines by which the notebook says how far it is, as they come. Raises papermill's
    `PapermillExecutionError` where a cell fails; the file is written all the same.
    """
    known = papermill.inspect_notebook(str(source))
    unknown = [
        Problem("problem-unknown-name", source.name, name, tuple(known))
        for name in values
        if name not in known
    ]
    if unknown:
        raise InputError(unknown)
    run: nbformat.NotebookNode = papermill.execute_notebook(
        str(source),
        str(written),
        parameters=dict(values),
        kernel_name="python3",
        progress_bar=False,
        stderr_file=None if tell is None else _Heard(tell),
        # The kernel warns of its unencrypted channel at each start; the channel stays on this machine.
        extra_arguments=["--IPKernelApp.log_level=50"],
    )
    return run


def _failed(error: PapermillExecutionError, kept: Path, reader: Reader) -> str:
    notebook = nbformat.read(kept, as_version=4)  # type: ignore[no-untyped-call]
    return words.say(
        "season-failed",
        reader,
        heading=heading_above_failure(notebook),
        reason=str(error.evalue).strip() or str(error.ename),
        notebook=str(kept),
    )


def heading_above_failure(notebook: nbformat.NotebookNode) -> str:
    """The heading over the cell that failed; empty where there is none."""
    heading = ""
    for cell in notebook.cells:
        if cell.cell_type == "markdown" and cell.source.startswith("#"):
            heading = cell.source.splitlines()[0].lstrip("#").strip()
        if any(output.output_type == "error" for output in cell.get("outputs", ())):
            return heading
    return heading


def page(run: nbformat.NotebookNode, title: str, foot: str, paper: Paper, reader: Reader) -> str:
    """The results of a notebook as one HTML file without an outside reference, its sheets listed first."""
    exporter = HTMLExporter(  # type: ignore[no-untyped-call]
        template_name="report",
        extra_template_basedirs=[str(tables.DATA)],
        exclude_anchor_links=True,
    )
    resources = {
        "metadata": {"name": title},
        "language": reader.language,
        "style": style.style(),
        "paper_rules": style.paper_rules(paper, foot),
    }
    text, _ = exporter.from_notebook_node(run, resources=resources)
    return contents.with_list(contents.with_ways_back(str(text)), reader)


def _write_pages(
    run: nbformat.NotebookNode,
    record: Mapping[str, Any],
    papers: tuple[Paper, ...],
    work: Path,
    reader: Reader,
) -> None:
    name = str(record["garden"]["name"])
    foot = words.say(
        "page-foot",
        reader,
        garden=shortened(name, STAMP_LETTERS),
        made=words.date(date.fromisoformat(record["made"]), reader),
        version=__version__,
    )
    first = papers[0]
    html = page(run, words.say("plan-title", reader, garden=name), foot, first, reader)
    (work / f"{NAME}.html").write_text(html, "utf-8", newline="\n")
    for paper, file in zip(papers, _pdf_names(papers), strict=True):
        other = html.replace(style.paper_rules(first, foot), style.paper_rules(paper, foot), 1)
        if not pdf.write(other, work / file, paper):
            return
        bookmarks.write(work / file, contents.entries(html), reader)


def _pdf_names(papers: tuple[Paper, ...]) -> tuple[str, ...]:
    if len(papers) == 1:
        return (f"{NAME}.pdf",)
    return tuple(f"{NAME}-{paper}.pdf" for paper in papers)


def _written(whole: Path, papers: tuple[Paper, ...], record: Mapping[str, Any]) -> SeasonPlan:
    return SeasonPlan(
        folder=whole,
        html=whole / f"{NAME}.html",
        pdfs=tuple(path for name in _pdf_names(papers) if (path := whole / name).is_file()),
        notebook=whole / f"{NAME}.ipynb",
        run_file=whole / RUN_FILE,
        levels=tuple(found["level"] for found in record["levels"]),
        data=tuple(whole / name for name in (DAYS_FILE, TASKS_FILE, CALENDAR_FILE)),
    )
