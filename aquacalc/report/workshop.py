"""The pack of a workshop in a folder: run sheet, hand-outs, exercises, answers, as HTML and PDF."""

import json
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from aquacalc import __version__, disk, words
from aquacalc.errors import InputError
from aquacalc.garden import places
from aquacalc.pages.html import STAMP_LETTERS, Html, shortened
from aquacalc.pages.plan import Plan
from aquacalc.pages.style import Paper
from aquacalc.pages.workshop import exercise_sheets, hand_outs, living, run_sheet
from aquacalc.pages.workshop.kit import Kit, document
from aquacalc.report import folders, given, notebook, pdf
from aquacalc.report.season import PAPERS, RunFailed
from aquacalc.uncertainty import MEMBERS, SEED
from aquacalc.workshop import exercises, stand_in
from aquacalc.workshop.audience import Audience

RUN_FILE = "workshop.json"
SCREEN = "screen"
LIVING = "my-garden.html"
"""What answers without the workbook."""
PARTS: dict[str, Callable[[Kit], list[Html]]] = {
    "leader": run_sheet.sheets,
    "hand-outs": hand_outs.sheets,
    "exercises": exercise_sheets.questions,
    "answers": exercise_sheets.answers,
    SCREEN: exercise_sheets.screens,
}
"""The files of a pack by name; the last one is for a screen and not printed."""


@dataclass(frozen=True)
class Pack:
    """What was written. pdfs: empty where nothing on this machine can print."""

    folder: Path
    pages: tuple[Path, ...]
    pdfs: tuple[Path, ...]


def write(
    garden: str,
    out: Path,
    audience: Audience,
    people: int,
    seed: int = SEED,
    paper: str = "",
    units: str = "",
    progress: Callable[[str], None] = lambda sentence: None,
) -> Pack:
    """Write the pack of a workshop into a folder; an older pack there is kept as `.old`.

    garden: file, folder or `demo:NAME`; people: how many come; seed: of the numbers in the exercises; paper:
    `a4`, `letter` or `both`, units: `metric` or `us`, empty for the garden file's own. Raises `InputError`
    (garden, options, a folder that holds anything else) before anything is written, and `RunFailed` where
    the folder cannot be written.
    """
    whole = folders.target(out, RUN_FILE)
    read, lacking = _opened(garden, units)
    plan = notebook.run_opened(read, MEMBERS, SEED, progress).plan
    kit = kit_of(plan, audience, people, seed, lacking)
    papers = PAPERS[paper or plan.reader.paper]
    progress(words.say("season-printing", plan.reader))
    try:
        with folders.workplace(whole) as work:
            names = [name for part in PARTS for name in _part(kit, part, papers, work)]
            (work / LIVING).write_text(living.page(kit), "utf-8", newline="\n")
            names.append(LIVING)
            told = {"written_by": "aquacalc workshop", "version": __version__, "made": str(plan.made)}
            told |= {
                "garden": plan.garden.name,
                "audience": audience,
                "people": str(people),
                "seed": str(seed),
            }
            (work / RUN_FILE).write_text(json.dumps(told, ensure_ascii=False), "utf-8")
            folders.finish(work, whole, RUN_FILE)
    except OSError as fault:
        reason = disk.reason(fault)
        raise RunFailed(
            words.say("season-not-written", plan.reader, folder=str(whole), reason=reason), None
        ) from fault
    written = [whole / name for name in names]
    kinds = (".html", ".pdf")
    pages, pdfs = (tuple(path for path in written if path.suffix == kind) for kind in kinds)
    return Pack(whole, pages, pdfs)


def _opened(garden: str, units: str) -> tuple[given.Given, tuple[str, ...]]:
    """A garden, and the sections that it lacks: for these an example stands in."""
    try:
        return given.opened(garden, units), ()
    except InputError as error:
        keys = {problem.key for problem in error.problems}
        if not keys <= stand_in.LACKING.keys():
            raise
        lacking = tuple(section for key, section in stand_in.LACKING.items() if key in keys)
    text = places.garden_path(garden).read_text("utf-8")
    with tempfile.TemporaryDirectory() as name:
        whole = Path(name) / places.GARDEN
        whole.write_text(stand_in.filled(text, lacking), "utf-8", newline="\n")
        return given.opened(str(whole), units), lacking


def kit_of(plan: Plan, audience: Audience, people: int, seed: int, lacking: tuple[str, ...] = ()) -> Kit:
    """What the sheets are made from. lacking: for what an example stands in."""
    drawn = exercises.draw(plan.garden, plan.balance, audience, plan.reader, seed)
    return Kit(plan, audience, people, seed, drawn, lacking)


def _part(kit: Kit, part: str, papers: tuple[Paper, ...], work: Path) -> list[str]:
    """Write one file of the pack, and its print on each paper."""
    plan = kit.plan
    foot = plan.say(
        "page-foot",
        garden=plan.name(),
        made=words.date(plan.made, plan.reader),
        version=__version__,
    )
    title = plan.say(f"workshop-file-{part}", garden=shortened(plan.garden.name, STAMP_LETTERS))
    sheets = PARTS[part](kit)
    names = [f"{part}.html"]
    for paper in papers:
        page = document(title, sheets, plan.reader.language, paper, foot)
        if paper == papers[0]:
            (work / names[0]).write_text(page, "utf-8", newline="\n")
        name = f"{part}.pdf" if len(papers) == 1 else f"{part}-{paper}.pdf"
        if part != SCREEN and pdf.write(page, work / name, paper):
            names.append(name)
    return names
