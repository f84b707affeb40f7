"""What does my log say? Repairs, doubts, findings, trends, the readings as pictures, and the season's."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from aquacalc import words
from aquacalc.advice import log as advice
from aquacalc.advice import log_days, log_season
from aquacalc.advice import trail as rests
from aquacalc.advice.finding import Finding
from aquacalc.advice.log import Told
from aquacalc.charts import log as charts
from aquacalc.charts.picture import svg
from aquacalc.errors import InputError
from aquacalc.logbook import read, today
from aquacalc.logbook.mended import Mended
from aquacalc.logbook.messy import mend
from aquacalc.logbook.messy.file import Order
from aquacalc.pages import html, trail
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import ChoiceField, TextField, alert
from aquacalc.panels.frame.panel import Panel, Values, answer, figure
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import log as log_sentences
from aquacalc.sentences import reading

DRAWN = {
    "tan": "nitrogen",
    "nitrite": "nitrogen",
    "nitrate": "nitrogen",
    "alkalinity": "alkalinity",
    "ph": "ph",
    "temperature": "temperature",
    "oxygen": "concentration",
}
"""Parameters that are drawn, and their kinds of quantity."""

FEWEST = 2


@dataclass(frozen=True)
class Shown:
    """A log, and the season that it is compared with where that was worked out."""

    found: Mended
    run: SeasonRun | None = None


def compute(desk: Desk, season: "CompareButton", values: Values) -> Shown | None:
    """The mended log of the garden at hand, or of the path that was typed; None where there is none."""
    file = desk.file
    order: Order = values["dates"]
    if typed := str(values["path"]).strip():
        path = Path(typed).expanduser()
        found = mend.read(path / read.LOG if path.is_dir() else path, file.garden, order)
    else:
        beside = None if file.digest is None else mend.beside(file.path, file.garden, order)
        if beside is None:
            season.show(None)
            return None
        found = beside
    season.show(found)
    return Shown(found, season.run())


def draw(desk: Desk, shown: Shown | None) -> html.Html:
    """Findings first, then the pictures, then what was repaired and what is to be settled."""
    reader = desk.reader
    if shown is None:
        return answer(words.say("read-log-none", reader))
    found, garden = shown.found, desk.garden
    told = advice.told_by(garden, found.log)
    title, sentences = words.say("log-head-empty", reader, garden=garden.name), []
    if told is not None:
        title = log_sentences.status(told, bool(found.doubts), reader)
        sentences = [_head(desk, found), *log_sentences.whose(told, reader)]
        sentences += filter(None, [log_sentences.next_test(found.log, told, reader)])
    trends = [*log_sentences.trends(garden, found, reader)] if found.log.rows else []
    trends += log_sentences.times(found.log, reader)
    happened = log_days.happened(garden, found.log)
    return answer(
        title,
        sentences,
        *([] if told is None else _water(told, reader)),
        *([] if told is None else [_findings((*told.findings, *told.past), reader)]),
        _listed("log-doubts", "log-no-doubts", log_sentences.alike(found.doubts, reader), reader),
        html.paragraph(words.say("log-doubts-settle", reader)) if found.doubts else html.Html(""),
        html.paragraph(log_sentences.not_counted(found.log, reader)),
        _folded("log-repairs", "log-no-repairs", log_sentences.alike(found.repairs, reader), reader),
        _listed("log-trends", "log-no-trends", trends, reader),
        _against(desk, shown),
        *_pictures(desk, shown),
        _happened(happened, reader),
        trail.fold(() if told is None else rests.of_log(told), reader),
    )


def _head(desk: Desk, found: Mended) -> str:
    rows, reader = found.log.rows, desk.reader
    first, last = words.date(rows[0].day, reader), words.date(rows[-1].day, reader)
    text = words.say("log-head", reader, garden=desk.garden.name, days=len(rows), first=first, last=last)
    if not found.gaps:
        return text
    spans = [words.during(begin, end, reader) for begin, end in found.gaps]
    return f"{text} {words.say('log-gaps', reader, spans=words.listed(spans, reader))}"


def _water(told: Told, reader: words.Reader) -> Iterator[html.Html]:
    """What to do by the newest readings, each reading with its level, and what was not judged."""
    if told.answer is not None:
        now, later = reading.now(told.answer, reader), reading.later(told.answer, reader)
        yield _steps("reading-do" if now else "reading-order", now or later, reader)
        if now:
            yield _steps("reading-then", later, reader)
        avoid = [reading.warned_shortly(one, reader) for one in reading.pertinent(told.answer)]
        yield _listed("reading-not", "", avoid, reader)
        head = [words.say(f"reading-head-{name}", reader) for name in ("reading", "value", "level")]
        levels = (html.level(one.level, reader) for one in told.answer.judgement.judged)
        rows = [
            (name, value, level)
            for (name, value, _), level in zip(reading.rows(told.answer, reader), levels, strict=True)
        ]
        yield html.element("figure", html.table(head, rows))
    yield from map(html.paragraph, log_sentences.not_judged(told, reader))


def _steps(head: str, texts: Sequence[str], reader: words.Reader) -> html.Html:
    """What to do in order, under its heading; nothing where there is nothing."""
    if not texts:
        return html.Html("")
    items = (html.element("li", text) for text in texts)
    return html.join(html.paragraph(words.say(head, reader)), html.element("ol", *items))


def _findings(told: Sequence[Finding], reader: words.Reader) -> html.Html:
    rows = []
    for one in told[: advice.MOST_FINDINGS]:
        spoken = words.finding(one, reader)
        why_and_do = f"{spoken.why} {spoken.action}"
        rows.append((html.level(one.level, reader), spoken.title, why_and_do, spoken.avoid))
    if not rows:
        return html.Html("")
    head = [words.say(f"read-log-{name}", reader) for name in ("level", "what", "do", "avoid")]
    rest = [words.finding(one, reader).title for one in told[advice.MOST_FINDINGS :]]
    more = _listed("log-more-findings", "", rest, reader) if rest else html.Html("")
    return html.join(html.element("figure", html.table(head, rows)), more)


def _against(desk: Desk, shown: Shown) -> html.Html:
    if shown.run is None:
        return html.Html("")
    reader = desk.reader
    compared = log_season.compared(desk.garden, shown.found.log, shown.run)
    inside, count = (sum(len(one.inside) for one in compared), sum(one.count for one in compared))
    title = words.say("read-log-compare-title", reader, count=str(inside), all=str(count))
    texts = list(log_sentences.against_season(compared, shown.run, reader))
    return html.join(
        html.paragraph(title, "aq-answer"),
        html.paragraph(words.say("read-log-compare-why", reader)),
        html.listing(texts or [words.say("log-season-none", reader)]),
    )


def _pictures(desk: Desk, shown: Shown) -> Iterator[html.Html]:
    log, garden, run = shown.found.log, desk.garden, shown.run
    if not log.rows:
        return
    told = log_sentences.told(log_days.happened(garden, log))
    marks = [charts.Mark(one.day, number) for number, one in enumerate(told, start=1)]
    lines = advice.lines_to_act(advice.species_of(garden, log, log.rows[-1].day))
    first = True
    for parameter, kind in DRAWN.items():
        known = [one for one in log.all(parameter) if one.basis != "not known"]
        if len({one.day for one in known}) < FEWEST:
            continue
        band = None
        if run is not None and parameter in today.WATER:
            band = charts.Season(run.first, run.band(today.WATER[parameter]))
        line = lines.get(parameter)
        both = (
            charts.readings(
                log, garden, parameter, kind, desk.reader, "", line, marks, band, keyed=first, sheet=sheet
            )
            for sheet in (charts.PAGE, charts.PHONE)
        )
        yield figure(*map(svg, both))
        first = False


def _happened(happened: Sequence[log_days.Happened], reader: words.Reader) -> html.Html:
    """A numbered list; the pictures name its numbers."""
    told = log_sentences.told(happened)
    if not told:
        return html.Html("")
    texts = log_sentences.happened(happened, reader)
    earlier, texts = texts[: len(texts) - len(told)], texts[len(texts) - len(told) :]
    items = [html.element("li", text) for text in texts]
    head = words.say("log-happened", reader)
    return html.join(html.paragraph(head), *map(html.paragraph, earlier), html.element("ol", *items))


def _listed(head: str, none: str, texts: Sequence[str], reader: words.Reader) -> html.Html:
    if not texts:
        return html.paragraph(words.say(none, reader)) if none else html.Html("")
    return html.join(html.paragraph(words.say(head, reader)), html.listing(texts))


def _folded(head: str, none: str, texts: Sequence[str], reader: words.Reader) -> html.Html:
    """A list that opens when its title is pressed, so that a long one hides nothing below it."""
    if not texts:
        return html.paragraph(words.say(none, reader)) if none else html.Html("")
    title = words.say("read-log-folded", reader, title=words.say(head, reader), lines=str(len(texts)))
    return html.element("details", html.element("summary", title), html.listing(texts))


class CompareButton(widgets.VBox):  # type: ignore[misc]
    """A button that works out the season over the days of the log, with a line that tells of it.

    desk: the notebook's garden. shown: is called when the season is there.
    """

    def __init__(self, desk: Desk, shown: Callable[[], None]) -> None:
        self.desk, self.shown = desk, shown
        self.found: Mended | None = None
        self.runs: dict[tuple[object, ...], SeasonRun] = {}
        tries = words.say("read-log-compare", desk.reader, tries=str(log_season.MEMBERS))
        self.button = widgets.Button(description=tries, layout=widgets.Layout(width="auto"))
        self.button.on_click(self.pressed)
        self.line = widgets.HTML()
        super().__init__([self.button, self.line])

    def show(self, found: Mended | None) -> None:
        """The log at hand; the season of another log or garden is not kept."""
        self.found = found if found is not None and found.log.rows else None
        self.button.disabled = self.found is None or self.run() is not None
        before = words.say("read-log-compare-before", self.desk.reader)
        self.line.value = "" if self.button.disabled else html.element("p", before)

    def run(self) -> SeasonRun | None:
        """The season of the log at hand where it was worked out."""
        return None if self.found is None else self.runs.get((self.desk.garden, self.found.log))

    def pressed(self, _button: object = None) -> None:
        """Work out the season, and show it."""
        if self.found is None:
            return
        self.button.disabled = True
        try:
            run = log_season.season(self.desk.garden, self.found.log)
        except InputError as error:
            self.line.value = alert(words.problem(one, self.desk.reader) for one in error.problems)
            return
        self.runs = {(self.desk.garden, self.found.log): run}
        self.shown()


class PathField(TextField):
    """A path; an empty one means the log beside the garden."""

    def typed(self, change: dict[str, Any]) -> None:
        """Tell the listeners."""
        if not self._busy:
            self.accept()


class LogPanel(Panel):
    """The log of the garden at hand, or of a path that is typed; it follows the garden."""

    def __init__(self, desk: Desk) -> None:
        reader = desk.reader
        self.season = CompareButton(desk, self.refresh)
        orders = [(words.say(f"read-log-dates-{name or 'told'}", reader), name) for name in ORDERS]
        fields = {
            "path": PathField(words.say("read-log-path", reader), "", reader),
            "dates": ChoiceField(words.say("read-log-dates", reader), orders, "", reader),
        }
        super().__init__(
            "read-log",
            fields,
            lambda values: compute(desk, self.season, values),
            lambda shown: draw(desk, shown),
            reader,
            below=[self.season],
        )
        desk.follow(self.refresh)


ORDERS: tuple[Order, ...] = ("", "day-month", "month-day")


def panel(desk: Desk) -> LogPanel:
    """The panel of a notebook's garden."""
    return LogPanel(desk)


def in_short(desk: Desk) -> str:
    """What the log beside the garden holds, in a few lines; or why there is nothing to read."""
    reader = words.Reader()
    try:
        found = None if desk.file.digest is None else mend.beside(desk.file.path, desk.garden)
    except InputError as error:
        return "\n".join((desk.garden.name, *(words.problem(one, reader) for one in error.problems)))
    if found is None:
        return "\n".join((desk.garden.name, words.say("short-no-log", reader)))
    counts = {
        "short-days": len(found.log.rows),
        "short-repairs": len(found.repairs),
        "short-doubts": len(found.doubts),
    }
    told = (words.say(key, reader, count=str(count)) for key, count in counts.items())
    return "\n".join((desk.garden.name, *told))
