"""`aquacalc reading`: one reading judged at once, as lines of text, with or without a garden."""

from collections.abc import Iterable, Iterator, Sequence

from aquacalc import words
from aquacalc.advice.reading.actions import Answer
from aquacalc.cli.terminal import paragraph, table
from aquacalc.pages import reading
from aquacalc.words import Reader


def parted(typed: Sequence[str]) -> tuple[str, list[str]]:
    """The garden, empty where none is named, and the pairs. A garden stands first, without an equals sign.

    >>> parted(["demo:yard", "tan=2"])
    ('demo:yard', ['tan=2'])
    """
    if typed and "=" not in typed[0]:
        return typed[0], list(typed[1:])
    return "", list(typed)


def lines(answer: Answer, reader: Reader) -> Iterator[str]:
    """Everything that the command prints, line by line."""
    found = answer.judgement
    yield paragraph(reading.status(answer, reader))
    yield paragraph(reading.judged_for(answer, reader))
    yield ""
    head = [words.say(f"reading-head-{name}", reader) for name in ("reading", "value", "level")]
    yield from table(head, reading.rows(answer, reader))
    yield from _listed("reading-why", reading.reasons(answer, reader), reader)
    done = reading.actions(answer, reader)
    if done:
        yield from ("", words.say("reading-do", reader))
        for number, text in enumerate(done, 1):
            yield paragraph(text, f"{number}. ")
    if answer.warned:
        yield from ("", words.say("reading-not", reader))
        for one in answer.warned:
            title, why, instead = reading.warned(one, reader)
            yield paragraph(title, "- ")
            yield paragraph(f"{why} {instead}", "  ")
    yield from _listed("reading-ask", reading.notes(found.asked, reader), reader)
    yield from _listed("reading-assumed", reading.notes(found.assumed, reader), reader)
    yield from ("", paragraph(reading.again(answer, reader)))
    yield paragraph(words.say("reading-cautions", reader))


def _listed(head: str, texts: Iterable[str], reader: Reader) -> Iterator[str]:
    told = list(texts)
    if told:
        yield from ("", words.say(head, reader))
        yield from (paragraph(text, "- ") for text in told)
