"""What does my log say? Repairs, doubts, findings, trends, and the readings as pictures."""

from collections.abc import Iterator, Sequence
from functools import partial

from aquacalc import tables, words
from aquacalc.advice import log as advice
from aquacalc.advice.finding import Finding
from aquacalc.charts import log as charts
from aquacalc.charts.picture import svg
from aquacalc.logbook import messy
from aquacalc.logbook.mended import Mended
from aquacalc.pages import html, log_sentences
from aquacalc.panels.desk import Desk
from aquacalc.panels.frame import Panel, Values, answer, figure

DRAWN = {
    "alkalinity": ("alkalinity", "alkalinity_low"),
    "ph": ("ph", "ph_low"),
    "nitrate": ("nitrogen", "nitrate_high_cold"),
}
"""Parameters that are drawn: kind of quantity, and the row of `water_limits.csv` whose line is drawn."""

FEWEST = 2


def compute(desk: Desk, values: Values) -> Mended | None:
    """The mended log of the garden at hand; None where there is none."""
    file = desk.file
    return None if file.digest is None else messy.beside(file.path, file.garden)


def draw(desk: Desk, found: Mended | None) -> html.Html:
    """Findings first, then the pictures, then what was repaired and what is to be settled."""
    reader = desk.reader
    if found is None:
        return answer(words.say("read-log-none", reader))
    told = advice.of_log(desk.garden, found.log)
    title = words.finding(told[0], reader).title if told else words.say("log-no-findings", reader)
    sentences = [*log_sentences.trends(desk.garden, found, reader)] if found.log.rows else []
    following = advice.next_test(found.log, told)
    if following is not None:
        sentences.append(words.say("log-next-test", reader, day=words.date(following, reader)))
    return answer(
        title,
        sentences,
        _findings(told, reader),
        *_pictures(desk, found),
        _listed("log-repairs", "log-no-repairs", log_sentences.alike(found.repairs, reader), reader),
        _listed("log-doubts", "log-no-doubts", log_sentences.alike(found.doubts, reader), reader),
    )


def _findings(told: Sequence[Finding], reader: words.Reader) -> html.Html:
    rows = []
    for one in told[: advice.MOST_FINDINGS]:
        spoken = words.finding(one, reader)
        rows.append((words.level(one.level, reader), spoken.title, spoken.action, spoken.avoid))
    if not rows:
        return html.Html("")
    head = [words.say(f"read-log-{name}", reader) for name in ("level", "what", "do", "avoid")]
    return html.table(head, rows)


def _pictures(desk: Desk, found: Mended) -> Iterator[html.Html]:
    for parameter, (kind, row) in DRAWN.items():
        known = [one for one in found.log.all(parameter) if one.basis != "not known"]
        if len({one.day for one in known}) < FEWEST:
            continue
        line = tables.load("water_limits").row(row).number("act_from")
        yield figure(svg(charts.readings(found.log, desk.garden, parameter, kind, desk.reader, "", line)))


def _listed(head: str, none: str, texts: Sequence[str], reader: words.Reader) -> html.Html:
    if not texts:
        return html.paragraph(words.say(none, reader))
    return html.join(html.paragraph(words.say(head, reader)), html.listing(texts))


def panel(desk: Desk) -> Panel:
    """The log of the garden; it follows the garden."""
    made = Panel("read-log", {}, partial(compute, desk), partial(draw, desk), desk.reader)
    desk.follow(made.refresh)
    return made
