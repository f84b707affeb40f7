"""`aquacalc log`: what was repaired in a log, what has to be asked, what it says, where the clean one is."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from aquacalc import words
from aquacalc.advice import log as advice
from aquacalc.advice.finding import Finding
from aquacalc.cli.terminal import paragraph
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.logbook import mended, messy
from aquacalc.logbook.mended import Mended
from aquacalc.pages import log_sentences
from aquacalc.words import Reader


def clean_folder(file: GardenFile) -> Path:
    """Where the clean log is written: beside the garden's log, or for a demo into the current folder."""
    return Path.cwd() if file.read_only else Path(file.path).parent


def write(file: GardenFile, found: Mended) -> Path | None:
    """Write the clean log where it differs from the log; None where there is nothing to write."""
    return mended.write_clean(found, clean_folder(file)) if found.changed else None


def read(file: GardenFile) -> Mended:
    """The mended log beside a garden file. Raises `InputError` where there is none or it cannot be read."""
    return messy.read(Path(file.path).parent / "log.csv", file.garden)


def lines(
    garden: Garden, found: Mended, told: Sequence[Finding], clean: Path | None, reader: Reader
) -> Iterator[str]:
    """Everything that the command prints about a log, line by line."""
    yield paragraph(_head(garden, found, reader))
    yield from _listed("log-repairs", "log-no-repairs", log_sentences.alike(found.repairs, reader), reader)
    yield from _listed("log-doubts", "log-no-doubts", log_sentences.alike(found.doubts, reader), reader)
    if found.gaps:
        spans = [words.during(first, last, reader) for first, last in found.gaps]
        yield from ("", paragraph(words.say("log-gaps", reader, spans=words.listed(spans, reader))))
    if found.log.rows:
        yield from _findings(told, reader)
        yield from _listed(
            "log-trends", "log-no-trends", list(log_sentences.trends(garden, found, reader)), reader
        )
        happened = [log_sentences.happened(one, reader) for one in advice.happened(garden, found.log)]
        if happened:
            yield from _listed("log-happened", "", happened, reader)
        following = advice.next_test(found.log, told)
        if following is not None:
            yield from (
                "",
                paragraph(words.say("log-next-test", reader, day=words.date(following, reader))),
            )
    if clean is not None:
        # In one line, so that the path can be copied.
        yield from ("", words.say("log-clean", reader, path=str(clean)))


def _head(garden: Garden, found: Mended, reader: Reader) -> str:
    rows = found.log.rows
    if not rows:
        return words.say("log-head-empty", reader, garden=garden.name)
    first, last = words.date(rows[0].day, reader), words.date(rows[-1].day, reader)
    return words.say("log-head", reader, garden=garden.name, days=len(rows), first=first, last=last)


def _findings(told: Sequence[Finding], reader: Reader) -> Iterator[str]:
    yield ""
    yield words.say("log-findings" if told else "log-no-findings", reader)
    for finding in told[: advice.MOST_FINDINGS]:
        spoken = words.finding(finding, reader)
        yield ""
        yield paragraph(spoken.title, f"[{words.level(finding.level, reader)}] ")
        yield paragraph(spoken.why, "  ")
        yield paragraph(words.say("check-to-do", reader, action=spoken.action), "  ")
        yield paragraph(words.say("check-not-to-do", reader, avoid=spoken.avoid), "  ")
    rest = [words.finding(finding, reader).title for finding in told[advice.MOST_FINDINGS :]]
    if rest:
        yield from _listed("log-more-findings", "", rest, reader)


def _listed(head: str, none: str, texts: Sequence[str], reader: Reader) -> Iterator[str]:
    yield ""
    if not texts:
        yield words.say(none, reader)
        return
    yield words.say(head, reader)
    yield from (paragraph(text, "- ") for text in texts)
