"""What an answer rests on, in words: a short note of keys, and the texts behind them."""

from collections.abc import Iterable, Sequence

from aquacalc import tables, words
from aquacalc.advice import trail
from aquacalc.advice.reading.judge import Judgement
from aquacalc.sentences import reading
from aquacalc.tables import Cited, Row
from aquacalc.words import Reader

WITHOUT_TEXT = {"OWN", "TRADE"}
"""Keys that name no text: own reckoning and common practice."""

MORE, NAME_ENDS = "; ", ", "
"""What parts authors in a cell, and a family name from what follows; `docs/sources.md` has all of them."""

NAMED = 2
"""So many authors are named; of more than that the first."""

MORE_FOLLOWS = " \u2026"
"""How a title ends of which not all is told."""

OTHERS = "and others"
"""How a cell ends that leaves authors out."""


def note(cited: Iterable[Cited], reader: Reader) -> str:
    """The keys in one sentence, by how well the values are known; empty where nothing is cited."""
    found = trail.merged(cited)
    by_mark = ((mark, [one.reference for one in found if one.mark == mark]) for mark in tables.MARKS)
    known = [_known(mark, references, reader) for mark, references in by_mark if references]
    return words.say("trail-note", reader, known="; ".join(known)) if known else ""


def _known(mark: str, references: Sequence[str], reader: Reader) -> str:
    named = [one for one in references if tables.source_key(one) not in WITHOUT_TEXT]
    if named:
        return words.say(f"trail-{mark}", reader, keys=", ".join(named))
    return words.say("trail-own" if mark == "computed" else "trail-practice-alone", reader)


def keys(cited: Iterable[Cited]) -> list[str]:
    """Keys of the texts that are cited, each once, in order."""
    return sorted({tables.source_key(one.reference) for one in cited} - WITHOUT_TEXT)


def text(row: Row, reader: Reader, letters: int = 0) -> str:
    """A source with its key: who by family name, when, and its title.

    letters: the most that is told of a title, all of it where not given.
    """
    names = [author.partition(NAME_ENDS)[0] for author in row.text("authors").split(MORE)]
    who = words.listed(names, reader)
    if len(names) > NAMED or row.text("authors").endswith(OTHERS):
        who = words.say("trail-authors", reader, first=names[0])
    said = " ".join(part for part in (who, row.text("year")) if part)
    title = row.text("title")
    if letters and len(title) > letters:
        title = title[:letters].rpartition(" ")[0].rstrip(",:") + MORE_FOLLOWS
    told = f"{row.key}: {'. '.join(part for part in (said, title) if part)}"
    return told if told.endswith(MORE_FOLLOWS) else f"{told}."


def texts(cited: Iterable[Cited], reader: Reader) -> list[str]:
    """The texts that are cited, one a line."""
    table = tables.load("sources")
    return [text(table.row(key), reader) for key in keys(cited)]


def of_levels(judgement: Judgement, reader: Reader) -> list[str]:
    """What the level of each reading rests on, one reading a line."""
    found = {one: trail.of_judged(judgement, one.parameter) for one in judgement.judged}
    return [
        words.say("trail-level", reader, name=reading.name(one, reader), note=note(cited, reader))
        for one, cited in found.items()
        if cited
    ]
