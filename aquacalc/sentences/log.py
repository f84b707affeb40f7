"""What became of a log, in words: repairs, doubts, trends, and what happened."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import groupby

from aquacalc import kits, words
from aquacalc.advice import log_days, log_season
from aquacalc.advice.log import Told
from aquacalc.advice.reading.action import DAY_H
from aquacalc.garden.model import Garden
from aquacalc.judge.water import Why
from aquacalc.logbook import clock, own, trend
from aquacalc.logbook.columns import POURED
from aquacalc.logbook.log import Log, Reading
from aquacalc.logbook.mended import Doubt, Mended, Repair
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import reading
from aquacalc.words import Reader

TRENDS = {"alkalinity": "alkalinity", "nitrate": "nitrogen", "ph": "ph", "tan": "nitrogen"}
"""Parameters whose trend is told, and their kinds of quantity."""

UNJUDGED: Mapping[Why, str] = {
    "not read": "log-not-read",
    "too old": "log-not-read",
    "no fish": "log-not-judged-no-fish",
    "no range": "log-not-judged-no-range",
    "does not fit": "log-not-judged-does-not-fit",
}
"""What is said of what was not judged, by the reason."""

TITLE = "log-repair-title"

ALL_DAY = ("ph", "oxygen")
"""Parameters that change from morning to afternoon."""

MOST_HAPPENED = 20
"""Entries of what happened that are told."""

MOST_ROWS = 12
"""Runs of rows that are named in one sentence; the list beside the log names them all."""

UNIT_GIVEN = ("log-repair-unit", "log-repair-other-unit")

LONGEST = 60
"""Letters of a cell that are quoted."""


def alike(found: Sequence[Repair | Doubt], reader: Reader) -> list[str]:
    """One sentence for all rows in which the same thing was found in the same column."""

    def same(one: Repair | Doubt) -> tuple[str, str, str]:
        # A cell that was given its unit is like those that were given the same one.
        unit = one.now.rpartition(" ")[2] if one.key in UNIT_GIVEN and isinstance(one, Repair) else ""
        return one.key, one.column, unit

    spoken = []
    titles = [one for one in found if one.key == TITLE]
    if len(titles) > 1:
        spoken.append((titles[0].row, _titles(titles, reader)))
        found = [one for one in found if one.key != TITLE]
    for _, group in groupby(sorted(found, key=same), key=same):
        alike = list(group)
        line = sentence(alike[0], reader)
        if len(alike) > 1:
            rest = _rows([one.row for one in alike[1:]], reader)
            line = words.say("log-line-more", reader, line=line, rest=rest, rows=len(alike) - 1)
        spoken.append((alike[0].row, line))
    return [line for _, line in sorted(spoken, key=lambda one: one[0])]


def _titles(titles: Sequence[Repair | Doubt], reader: Reader) -> str:
    """All titles that were read as others, in one sentence."""
    pairs = [
        words.say("log-title-as", reader, was=_short(one.was), now=_short(one.now))
        for one in titles
        if isinstance(one, Repair)
    ]
    text = words.say("log-titles", reader, titles=words.listed(pairs[:MOST_ROWS], reader))
    return words.say("log-line-row", reader, row=str(titles[0].row), sentence=text)


def _rows(numbers: Sequence[int], reader: Reader) -> str:
    """Rows with runs put together: 3, 5 to 9 and 12."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    texts = []
    for run in runs[:MOST_ROWS]:
        if len(run) > 2:
            texts.append(words.say("log-rows-run", reader, first=str(run[0]), last=str(run[-1])))
        else:
            texts += [str(number) for number in run]
    left = sum(len(run) for run in runs[MOST_ROWS:])
    if left:
        return words.say("log-rows-more", reader, rows=", ".join(texts), count=str(left))
    return words.listed(texts, reader)


def sentence(one: Repair | Doubt, reader: Reader) -> str:
    """A repair or a doubt in words, with its row and column."""
    said = text(one, reader)
    if one.row == 0:
        return words.say("log-line-file", reader, sentence=said)
    if one.column:
        return words.say("log-line", reader, row=str(one.row), column=_short(one.column), sentence=said)
    return words.say("log-line-row", reader, row=str(one.row), sentence=said)


def text(one: Repair | Doubt, reader: Reader) -> str:
    """A repair or a doubt in words, without its place."""
    was = _short(one.was)
    if isinstance(one, Repair):
        return words.say(one.key, reader, was=was, now=_short(one.now))
    choices = words.listed(one.choices, reader, "or")
    said = words.say(one.key, reader, was=was, choices=choices)
    if one.choices and one.key not in ("log-doubt-copied", "log-doubt-fish"):
        return words.say("log-line-choices", reader, sentence=said, choices=choices)
    return said


def _short(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= LONGEST else line[: LONGEST - 3] + "..."


def trends(garden: Garden, found: Mended, reader: Reader) -> Iterator[str]:
    """The trend of each parameter that has one."""
    day: date = found.log.rows[-1].day
    for parameter, kind in TRENDS.items():
        line = trend.of_log(found.log, garden, parameter, day)
        if line is None:
            jump = trend.jumped(found.log, parameter, day)
            if jump is not None and (day - jump).days < trend.WINDOW_DAYS:
                name = words.say(f"word-{parameter}", reader)
                yield words.say("log-trend-cut", reader, name=name, day=words.date(jump, reader))
            continue
        name = words.say(f"word-{parameter}", reader)
        typed = found.log.last(parameter, day)
        assert typed is not None
        now = _own_first(typed, line.now_low, line.now_high, kind, reader)
        since = words.date(line.first, reader)
        if line.rising or line.falling:
            low, high = sorted((abs(line.slope_low), abs(line.slope_high)))
            week = _own_first(typed, low, high, kind, reader)
            key = "log-trend-rising" if line.rising else "log-trend-falling"
            text = words.say(key, reader, name=name, now=now, since=since, week=week)
        else:
            text = words.say("log-trend-level", reader, name=name, now=now, since=since)
        if line.bounded:
            text = words.say("log-trend-bounded", reader, line=text)
        if parameter in ALL_DAY and trend.half_of_day(found.log.all(parameter)) is not None:
            text = f"{text} {words.say('log-times-trend', reader)}"
        yield text


def status(told: Told, doubted: bool, reader: Reader) -> str:
    """How things stand, in one line. doubted: whether something was left out, which may hide a trouble."""
    first = told.findings[0] if told.findings else None
    if first is not None and (told.answer is None or told.answer.judgement.level != told.level):
        title, level = words.finding(first, reader).title, words.level(told.level, reader)
        return words.say("log-status-finding", reader, level=level, title=title)
    if told.answer is None:
        return words.say("log-status-none", reader, days=str(kits.OLDEST_DAYS))
    if told.calm:
        return words.say("log-no-findings-doubts" if doubted else "log-no-findings", reader)
    return reading.status(told.answer, reader)


def whose(told: Told, reader: Reader) -> Iterator[str]:
    """Whose lines were asked, of which days the readings are, and what was assumed."""
    if told.answer is None or told.water is None:
        return
    yield reading.judged_for(told.answer, reader)
    if told.water.comes is not None:
        yield words.say("log-fish-come", reader, day=words.date(told.water.comes, reader))
    elif told.water.living == "gone":
        yield words.say("log-fish-gone", reader)
    yield words.say("log-read-on", reader, day=words.date(max(told.water.days.values()), reader))
    if older := list(_older(told.water.days, reader)):
        yield words.say("log-read-older", reader, what="; ".join(older))
    if assumed := reading.in_short(told.answer, reader):
        yield assumed


def _older(days: Mapping[str, date], reader: Reader) -> Iterator[str]:
    """Readings that are not of the newest day, by day, the newest first."""
    for day in sorted({*days.values()} - {max(days.values())}, reverse=True):
        names = _names([name for name, one in days.items() if one == day], reader)
        yield words.say("log-read-older-one", reader, what=names, day=words.date(day, reader))


def not_judged(told: Told, reader: Reader) -> Iterator[str]:
    """What the status does not rest on: what was read and not judged, and what was not read."""
    if told.water is not None and told.water.food:
        yield words.say("log-food", reader, what=_names(told.water.food, reader))
    if told.without_lines:
        yield words.say("log-without-lines", reader, what=_names(told.without_lines, reader))
    for why, key in UNJUDGED.items():
        if names := [one.parameter for one in told.unjudged if one.why == why]:
            yield words.say(key, reader, what=_names(names, reader))


def _names(parameters: Sequence[str], reader: Reader) -> str:
    names = [words.say(f"word-{one.replace('_', '-')}", reader) for one in parameters]
    return words.listed(names, reader)


def _own_first(typed: Reading, low: float, high: float, kind: str, reader: Reader) -> str:
    """A span in the unit of the kit or the column, with the workbook's behind it."""
    inside, shown = words.span(low, high, kind, reader), own.text(typed, low, high)
    return inside if shown == own.NONE else words.say("log-own", reader, own=shown, inside=inside)


EXAMPLES = {
    "tan": "ammonia (mg/L as N)",
    "nitrite": "nitrite (mg/L as NO2)",
    "nitrate": "nitrate (mg/L as NO3)",
    "alkalinity": "alkalinity (dKH)",
    "hardness": "hardness (mg/L CaCO3)",
}
"""Titles that say what their numbers count; as a log writes them, whatever the reader's language."""


def not_counted(log: Log, reader: Reader) -> str:
    """Which readings are not judged because nobody says what they count; empty where there are none."""
    found = log_days.not_counted(log)
    if not found:
        return ""
    names = words.listed([words.say(f"word-{one}", reader) for one in found], reader)
    return words.say("log-not-counted", reader, names=names, example=EXAMPLES[found[0]])


def times(log: Log, reader: Reader) -> Iterator[str]:
    """What is to be said of the time of day: a morning is not an afternoon."""
    if log_days.without_time(log):
        yield words.say("log-times-none", reader)
    for parameter, kind in (("ph", "ph"), ("oxygen", "concentration")):
        pair = log_days.two_times(log, parameter)
        if pair is None:
            continue
        before, after = pair
        yield words.say(
            "log-times-two",
            reader,
            name=words.say(f"word-{parameter}", reader),
            day=words.date(before.day, reader),
            before=words.quantity(before.value, kind, reader),
            after=words.quantity(after.value, kind, reader),
            hour_before=clock.written(before.hour or 0.0),
            hour_after=clock.written(after.hour or 0.0),
        )


def against_season(found: Sequence[log_season.Compared], run: SeasonRun, reader: Reader) -> Iterator[str]:
    """Each parameter against the band of the season."""
    for one in found:
        if not one.count:
            continue
        name = words.say(f"word-{one.parameter}", reader)
        parts = [
            words.say(
                key, reader, count=str(len(group)), when=words.during(*log_season.span_of(group), reader)
            )
            for key, group in (("log-season-above", one.above), ("log-season-below", one.below))
            if group
        ]
        if parts:
            inside, count = str(len(one.inside)), str(one.count)
            text = words.listed(parts, reader)
            yield words.say("log-season-outside", reader, name=name, inside=inside, count=count, parts=text)
        else:
            yield words.say("log-season-inside", reader, name=name, count=str(one.count))
    apart = [one for one in found if one.apart]
    if apart:
        most = max((one.apart for one in apart), key=len)
        names = words.listed([words.say(f"word-{one.parameter}", reader) for one in apart], reader)
        when, count = words.during(*log_season.span_of(most), reader), str(len(most))
        yield words.say("log-season-apart", reader, names=names, count=count, when=when)


def next_test(log: Log, told: Told, reader: Reader) -> str:
    """When to test what next; empty where nothing was tested yet."""
    day = log_days.next_test(log, told)
    if day is None:
        return ""
    what = _names(log_days.what_to_test(log, told, day), reader)
    if told.answer is not None and told.answer.again_h < DAY_H:
        time = words.quantity(told.answer.again_h, "time", reader)
        return words.say("log-next-test-hours", reader, time=time, what=what, day=words.date(day, reader))
    return words.say("log-next-test", reader, day=words.date(day, reader), what=what)


def told(found: Sequence[log_days.Happened]) -> Sequence[log_days.Happened]:
    """What is told of all that happened: of a long log the last entries."""
    return found[-MOST_HAPPENED:]


def happened(found: Sequence[log_days.Happened], reader: Reader) -> list[str]:
    """What happened, with its day; of a long log the last entries."""
    told_ = told(found)
    spoken = [_happened(one, reader) for one in told_]
    if len(found) > len(told_):
        left, day = str(len(found) - len(told_)), words.date(told_[0].day, reader)
        spoken.insert(0, words.say("log-happened-earlier", reader, count=left, day=day))
    return spoken


def _happened(one: log_days.Happened, reader: Reader) -> str:
    day = words.date(one.day, reader)
    if one.key in ("kit", "note"):
        return words.say(f"log-happened-{one.key}", reader, day=day, subject=_short(one.subject))
    if one.key == "top_up":
        amount = words.quantity(one.amount, "volume", reader)
        return words.say("log-happened-topup", reader, day=day, amount=amount)
    if one.key == "dose":
        amount = words.quantity(one.amount, "volume" if one.subject in POURED else "dose", reader)
        name = words.name("chemical", one.subject)
        return words.say("log-happened-dose", reader, day=day, amount=amount, subject=name)
    count = words.number(one.amount, digits=9)
    return words.say(f"log-happened-{one.key}", reader, day=day, subject=one.subject, count=count)
