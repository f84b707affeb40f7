"""`aquacalc plan`: what would make a good year, as lines of text; and what is accepted of it, typed in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from aquacalc import uncertainty, words
from aquacalc.cli.terminal import complain, paragraph, put, table
from aquacalc.errors import InputError, Problem
from aquacalc.garden.file import GardenFile
from aquacalc.outcome.outcome import Outcome, Wanted
from aquacalc.planner import beds, kept
from aquacalc.planner import propose as planner
from aquacalc.planner.beds import BedPlan
from aquacalc.planner.propose import Proposal
from aquacalc.report import given
from aquacalc.sentences import beds as told_beds
from aquacalc.sentences import proposal as told
from aquacalc.words import Reader

TELL_EVERY = 0.1


def propose(name: str, units: str, seed: int | None) -> None:
    """Search for a good year, print it, and lay the proposal beside the garden."""
    run = given.opened(name, units)
    file = GardenFile.open(name, run.made)
    told_at = 0.0

    def tell(share: float) -> None:
        nonlocal told_at
        if share >= told_at + TELL_EVERY:
            told_at = share
            put(words.say("proposal-searching", run.reader, share=words.quantity(share, "share", run.reader)))

    try:
        found = planner.propose(
            file,
            seed=uncertainty.SEED if seed is None else seed,
            read=given.start(run),
            progress=tell,
        )
    except KeyboardInterrupt:
        complain(words.say("proposal-interrupted", run.reader))
        raise
    for line in lines(run.garden.name, found, run.garden.invented, run.reader):
        put(line)
    path = kept.path_of(file)
    kept.save(kept.of_proposal(found), path)
    if found.holds and found.steps:
        put()
        put(paragraph(words.say("proposal-kept", run.reader, path=str(path), garden=name)))


def plant(name: str, units: str) -> None:
    """Plan the beds by the week, print it, and lay it beside the garden."""
    run = given.opened(name, units)
    file = GardenFile.open(name, run.made)
    found = beds.plan_beds(run.garden)
    for line in planted(run.garden.name, found, run.garden.invented, run.reader):
        put(line)
    path = kept.path_of(file)
    kept.save(kept.of_beds(file, found), path)
    put()
    put(paragraph(words.say("beds-kept", run.reader, path=str(path), garden=name)))


def planted(name: str, found: BedPlan, invented: bool, reader: Reader) -> Iterator[str]:
    """The plan of the beds as lines: crop by crop, week by week, and what of a wish is missing."""
    yield name
    if invented:
        yield words.say("check-invented", reader)
    yield ""
    yield paragraph(told_beds.title(found, reader))
    yield from map(paragraph, told_beds.wishes(found, reader))
    yield ""
    yield from table(told_beds.summary_head(reader), told_beds.summary(found, reader))
    if found.unmet:
        yield from ("", words.say("beds-unmet-head", reader))
        yield from (paragraph(told_beds.unmet(one, reader), "- ") for one in found.unmet)
    yield from ("", words.say("beds-list-head", reader))
    yield from table(told_beds.list_head(reader), told_beds.by_week(found, reader))
    yield from ("", paragraph(words.say("beds-cautions", reader)))


def accept(name: str, which: str, folder: Path | None) -> None:
    """Type the chosen changes of the open proposal into the file, and show its lines old and new."""
    before = GardenFile.open(name)
    reader = before.garden.reader
    if before.read_only and folder is None:
        raise InputError(Problem("problem-proposal-folder", "--to", name))
    after = kept.accepted(kept.load(kept.path_of(before)), before, _numbers(which))
    for line in told.difference(before.text, after.text):
        put(line)
    if folder is None:
        put(
            paragraph(
                words.say("proposal-accepted", reader, path=str(kept.write(before, after).path), garden=name)
            )
        )
    else:
        put(
            paragraph(
                words.say("proposal-accepted-new", reader, path=str(kept.written_to(folder, after).path))
            )
        )


def undo(name: str) -> None:
    """Put the garden file back as it was before the last acceptance."""
    file = kept.undo(GardenFile.open(name))
    put(words.say("proposal-undone", file.garden.reader, path=str(file.path)))


def _numbers(which: str) -> list[int] | None:
    """Numbers of changes, as typed; None for all."""
    if which.strip() == "all":
        return None
    found = [part.strip() for part in which.split(",")]
    if not all(part.isascii() and part.isdigit() for part in found):
        raise InputError(Problem("problem-choice", "--accept", which, ("all", "1,3")))
    return [int(part) for part in found]


def lines(name: str, proposal: Proposal, invented: bool, reader: Reader) -> Iterator[str]:
    """The answer, both columns, the changes in their order, and what was not proposed."""
    yield paragraph(words.say("proposal-head", reader, garden=name, tries=proposal.members))
    if invented:
        yield words.say("check-invented", reader)
    yield ""
    yield paragraph(told.title(proposal, reader))
    yield ""
    head = [words.say(f"proposal-head-{key}", reader) for key in ("what", "written", "proposed")]
    yield from table(head, cells([proposal.as_written, proposal.proposed], proposal.goal.wanted, reader))
    yield ""
    yield paragraph(words.say("proposal-key", reader))
    yield from _steps(proposal, reader)
    yield from _refused(proposal, reader)
    if dear := told.beyond(proposal, reader):
        yield from ("", words.say("proposal-beyond-head", reader))
        yield from (paragraph(text, "- ") for text in dear)
    yield from ("", paragraph(words.say("proposal-cautions", reader)))


def cells(columns: Sequence[Outcome], wanted: Wanted, reader: Reader) -> list[list[str]]:
    """The rows of a table of outcomes; a must that fails is marked."""
    return [[row.name, *row.marked] for row in told.rows(columns, wanted, reader)]


def _steps(proposal: Proposal, reader: Reader) -> Iterator[str]:
    if not proposal.steps:
        return
    key = "proposal-steps-head" if proposal.holds else "proposal-nearest-head"
    yield from ("", words.say(key, reader))
    for number, step in enumerate(proposal.steps, start=1):
        texts = (
            words.say(
                "proposal-step", reader, change=told.change(step.lever, step.was, step.becomes, reader)
            ),
            told.price(step, reader),
            told.brings(step, proposal, reader),
            told.without(step, reader),
        )
        yield paragraph(" ".join(text for text in texts if text), f"{number}. ")


def _refused(proposal: Proposal, reader: Reader) -> Iterator[str]:
    if proposal.holds:
        return
    yield from ("", words.say("proposal-reasons-head", reader))
    for reason in proposal.reasons:
        yield paragraph(told.reason(reason, reader), "- ")
    for wish in proposal.lost:
        yield paragraph(words.say(f"proposal-lost-{wish.replace('_', '-')}", reader), "- ")
