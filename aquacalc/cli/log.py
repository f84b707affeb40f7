"""`aquacalc log`: what was repaired in a log, what has to be asked, what it says, where the clean one is."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from aquacalc import words
from aquacalc.advice import log as advice
from aquacalc.advice import log_days, log_season
from aquacalc.advice import trail as rests
from aquacalc.advice.log import Told
from aquacalc.cli import reading
from aquacalc.cli.terminal import paragraph
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.logbook import mended
from aquacalc.logbook.mended import Doubt, Mended, Repair
from aquacalc.logbook.messy import mend
from aquacalc.logbook.messy.file import Order
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import log as log_sentences
from aquacalc.sentences import trail
from aquacalc.words import Reader


def clean_folder(file: GardenFile) -> Path:
    """Where the clean log is written: beside the garden's log, or for a demo into the current folder."""
    return Path.cwd() if file.read_only else Path(file.path).parent


def write(file: GardenFile, found: Mended, reader: Reader) -> tuple[Path, ...]:
    """Write the clean log and the list of repairs where it differs from the log, or where older ones stand.

    The list names every row, also where the terminal says how many more there are.
    """
    folder = clean_folder(file)
    # An older clean file would tell of a log that is no more.
    if not found.changed and not (folder / mended.CLEAN).exists():
        return ()
    return mended.write_clean(found, folder), mended.write_list(list_rows(found, reader), folder)


def list_rows(found: Mended, reader: Reader) -> list[list[str]]:
    """The list of repairs and doubts as a table, its header first."""
    head = [words.say(f"log-list-{name}", reader) for name in ("row", "column", "was", "now", "what")]
    both: list[Repair | Doubt] = [*found.repairs, *found.doubts]
    said: dict[tuple[object, ...], str] = {}
    rows = []
    for one in sorted(both, key=lambda one: one.row):
        now = one.now if isinstance(one, Repair) else ""
        # Logs repeat themselves, and so do their repairs.
        alike = (one.key, one.was, now, one.choices if isinstance(one, Doubt) else ())
        if alike not in said:
            said[alike] = log_sentences.text(one, reader)
        rows.append([str(one.row), one.column, one.was, now, said[alike]])
    return [head, *rows]


def read(file: GardenFile, order: Order = "") -> Mended:
    """The mended log beside a garden file. Raises `InputError` where there is none or it cannot be read.

    order: of its dates, where the reader tells it.
    """
    return mend.read(Path(file.path).parent / "log.csv", file.garden, order)


def lines(
    garden: Garden,
    found: Mended,
    told: Told | None,
    written: Sequence[Path],
    reader: Reader,
    run: SeasonRun | None = None,
) -> Iterator[str]:
    """Everything that the command prints about a log, line by line.

    run: the season to compare with, where it was asked for.
    """
    yield paragraph(_head(garden, found, reader))
    if told is not None:
        yield from ("", *_water(told, bool(found.doubts), reader))
    yield from _listed("log-repairs", "log-no-repairs", log_sentences.alike(found.repairs, reader), reader)
    yield from _listed("log-doubts", "log-no-doubts", log_sentences.alike(found.doubts, reader), reader)
    if found.doubts:
        yield paragraph(words.say("log-doubts-settle", reader))
    if not_counted := log_sentences.not_counted(found.log, reader):
        yield from ("", paragraph(not_counted))
    if found.gaps:
        spans = [words.during(first, last, reader) for first, last in found.gaps]
        yield from ("", paragraph(words.say("log-gaps", reader, spans=words.listed(spans, reader))))
    if told is not None:
        yield from _findings(told, reader)
        yield from _listed(
            "log-trends", "log-no-trends", list(log_sentences.trends(garden, found, reader)), reader
        )
        times = list(log_sentences.times(found.log, reader))
        for text in times:
            yield from ("", paragraph(text))
        yield from _against(garden, found, run, reader)
        happened = log_sentences.happened(log_days.happened(garden, found.log), reader)
        if happened:
            yield from _listed("log-happened", "", happened, reader)
        if following := log_sentences.next_test(found.log, told, reader):
            yield from ("", paragraph(following))
    for key, path in zip(("log-clean", "log-list"), written, strict=False):
        # In one line, so that the path can be copied.
        yield from ("", words.say(key, reader, path=str(path)))


def sources(told: Told, reader: Reader) -> Iterator[str]:
    """What the log's day rests on, line by line, and the texts behind it."""
    cited = rests.of_log(told)
    yield from ("", paragraph(trail.note(cited, reader)))
    if texts := trail.texts(cited, reader):
        yield from _listed("sources-texts", "", texts, reader)


def _against(garden: Garden, found: Mended, run: SeasonRun | None, reader: Reader) -> Iterator[str]:
    if run is None:
        yield from ("", paragraph(words.say("log-season-asked", reader)))
        return
    compared = log_season.compared(garden, found.log, run)
    head = words.say(
        "log-season-head",
        reader,
        first=words.date(run.first, reader),
        last=words.date(run.date(run.days - 1), reader),
        tries=str(run.members),
    )
    yield from ("", paragraph(head))
    texts = list(log_sentences.against_season(compared, run, reader))
    yield from (paragraph(text, "- ") for text in texts or [words.say("log-season-none", reader)])


def _head(garden: Garden, found: Mended, reader: Reader) -> str:
    rows = found.log.rows
    if not rows:
        return words.say("log-head-empty", reader, garden=garden.name)
    first, last = words.date(rows[0].day, reader), words.date(rows[-1].day, reader)
    return words.say("log-head", reader, garden=garden.name, days=len(rows), first=first, last=last)


def _water(told: Told, doubted: bool, reader: Reader) -> Iterator[str]:
    """Where the water stands by the newest readings, what to do, and what that does not rest on."""
    yield from reading.framed(log_sentences.status(told, doubted, reader), told.level)
    if told.answer is not None:
        yield from (paragraph(text) for text in log_sentences.whose(told, reader))
        yield from reading.to_do(told.answer, reader)
        yield ""
        yield from reading.levels(told.answer, reader)
    yield from (paragraph(text) for text in log_sentences.not_judged(told, reader))


def _findings(told: Told, reader: Reader) -> Iterator[str]:
    findings = (*told.findings, *told.past)
    if not findings:
        return
    yield from ("", words.say("log-findings", reader))
    for finding in findings[: advice.MOST_FINDINGS]:
        spoken = words.finding(finding, reader)
        yield ""
        yield paragraph(spoken.title, f"[{words.level(finding.level, reader)}] ")
        yield paragraph(spoken.why, "  ")
        yield paragraph(words.say("check-to-do", reader, action=spoken.action), "  ")
        yield paragraph(words.say("check-not-to-do", reader, avoid=spoken.avoid), "  ")
    rest = [words.finding(finding, reader).title for finding in findings[advice.MOST_FINDINGS :]]
    if rest:
        yield from _listed("log-more-findings", "", rest, reader)


def _listed(head: str, none: str, texts: Sequence[str], reader: Reader) -> Iterator[str]:
    yield ""
    if not texts:
        yield words.say(none, reader)
        return
    yield words.say(head, reader)
    yield from (paragraph(text, "- ") for text in texts)
