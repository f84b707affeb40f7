"""The answers about top-up water in words and tables; each ends with how water is put in."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from aquacalc import tables, words
from aquacalc.advice.new_water import hard_water, rain, top_up, use_up, water_use
from aquacalc.climate import months
from aquacalc.constants import MONTHS_PER_YEAR
from aquacalc.pages import html
from aquacalc.pages.html import Html
from aquacalc.panels.frame.panel import answer
from aquacalc.sentences import spoons
from aquacalc.water.top_up import FALL_MM

MOVERS_NAMED = 2
LIME_NEAR = 0.8
"""Share of the line from which lime settles above which it is told."""
TOLD_G_WEEK = 1.0
"""Less lime than this is not told."""
INSTEAD = ("rain", "test", "stone", "base", "feed")
"""What to look at where alkalinity does not fall, in this order."""


@dataclass(frozen=True, eq=False)
class Daily:
    """What a loop drinks, and what the grower counted, L/d; NaN where nothing was."""

    use: water_use.Use
    counted_l_d: float
    of_garden: bool = False


@dataclass(frozen=True)
class Mixed:
    """A mixture, the alkalinity that was wished for, and how much of it is made."""

    mixture: top_up.Mixture
    wished_mg_l: float
    made_l: float


def ended(reader: words.Reader, title: str, lines: Sequence[str], *rest: str) -> Html:
    """An answer with how water is put in beneath it."""
    return answer(title, lines, *rest, html.paragraph(words.say("panel-top-up-gap", reader)))


# Chlorine and chloramine


def treatment(reader: words.Reader, found: top_up.Treatment) -> Html:
    """The dose large; what it is taken for, what it would do untreated, steps, proof."""
    say = words.say
    if found.chlorine_mg_l <= 0.0:
        return ended(reader, say("panel-top-up-none", reader), [say("panel-top-up-ask", reader)])

    def mg(value: float) -> str:
        return words.quantity(value, "concentration", reader)

    grams = words.quantity(found.reagent_g, "dose", reader)
    name = tables.load("chemicals").row(found.reagent).text("name")
    title = say("panel-top-up-treat", reader, grams=grams, name=name, chlorine=mg(found.chlorine_mg_l))
    lines = [
        say(f"panel-top-up-taken-{found.taken_for}", reader),
        say(f"panel-top-up-sure-{found.sure}", reader),
        say("panel-top-up-left", reader, left=mg(found.left_mg_l), line=mg(found.line_mg_l)),
        *_freed(reader, found),
    ]
    asked = {"grams": grams, "least": words.quantity(found.least_g, "dose", reader)}
    how = spoons.little(found.reagent_g, reader)
    steps = [
        say("panel-top-up-step-reagent-little", reader, how=how, **asked)
        if how
        else say("panel-top-up-step-reagent", reader, **asked),
        say("panel-top-up-step-fill", reader),
        say("panel-top-up-step-test", reader),
    ]
    return ended(
        reader,
        title,
        lines,
        html.element("ol", *(html.element("li", step) for step in steps)),
        html.paragraph(_proof(reader, found)),
        *_waits(reader, found),
        html.paragraph(say("panel-top-up-not", reader)),
    )


def _freed(reader: words.Reader, found: top_up.Treatment) -> list[str]:
    if found.taken_for != "chloramine":
        return []
    lines = [
        words.say(
            "panel-top-up-freed",
            reader,
            new=words.span(*found.new_freed_mg_l, "nitrogen", reader),
            freed=words.span(*found.freed_mg_l, "nitrogen", reader),
        )
    ]
    if found.unionised_mg_l > found.act_line_mg_l:
        lines.append(words.say("panel-top-up-freed-high", reader))
    return lines


def _proof(reader: words.Reader, found: top_up.Treatment) -> str:
    told = {
        "limit": words.quantity(found.test_limit_mg_l, "concentration", reader),
        "share": words.quantity(found.share, "share", reader),
        "hidden": words.quantity(found.hidden_mg_l, "concentration", reader),
        "line": words.quantity(found.line_mg_l, "concentration", reader),
    }
    if found.hidden_mg_l <= found.line_mg_l:
        return words.say("panel-top-up-proof", reader, **told)
    proved = words.quantity(found.proved_l, "volume", reader)
    return words.say("panel-top-up-no-proof", reader, **told, proved=proved)


def _waits(reader: words.Reader, found: top_up.Treatment) -> list[Html]:
    """How long it would take without the reagent: a table for chlorine, a sentence for chloramine."""
    say = words.say

    def days(value: float) -> str:
        return words.quantity(math.ceil(value), "days", reader)

    if found.sun_d is None:
        told = say(
            "panel-top-up-wait-chloramine", reader, dark=days(found.dark_d[1]), aired=days(found.aired_d[1])
        )
        return [html.paragraph(told)]
    rows = [
        [say(f"panel-top-up-wait-{name}", reader), *map(days, span)]
        for name, span in (("dark", found.dark_d), ("aired", found.aired_d), ("sun", found.sun_d))
    ]
    line = words.quantity(found.line_mg_l, "concentration", reader)
    head = [say(f"panel-top-up-wait-{name}", reader) for name in ("without", "best", "usual", "worst")]
    return [
        html.table(head, rows),
        html.paragraph(say("panel-top-up-wait-chlorine", reader, line=line)),
    ]


# Litres a day


def daily(reader: words.Reader, found: Daily) -> Html:
    """The thirstiest month large, the others as a table."""
    say, use = words.say, found.use
    whole = use.whole_l_d

    def litres(value: float) -> str:
        return words.quantity(value, "volume", reader)

    def span(month: int) -> str:
        return words.span(float(whole.low[month]), float(whole.high[month]), "volume", reader)

    most, least = int(whole.middle.argmax()), int(whole.middle.argmin())
    year = litres(float((whole.middle * months.DAYS_IN_MONTH).sum()))
    parts = say(
        "panel-top-up-daily-parts",
        reader,
        tanks=litres(float(use.tanks_l_d[most])),
        leaves=litres(float(use.leaves_l_d[most])),
        splashed=litres(float(use.splashed_l_d[most])),
    )
    lines = [parts, say("panel-top-up-daily-how", reader)]
    if not math.isnan(found.counted_l_d):
        counted = litres(found.counted_l_d)
        beside = "panel-top-up-counted-beside" if found.of_garden else "panel-top-up-counted-here"
        lines.insert(0, say(beside, reader, counted=counted))
    if not found.of_garden:
        return ended(reader, say("panel-top-up-daily-one", reader, most=span(most), year=year), lines)
    title = say(
        "panel-top-up-daily-title",
        reader,
        most=span(most),
        month=words.month(most + 1, reader),
        least=span(least),
        other=words.month(least + 1, reader),
        year=year,
    )
    head = [say(f"panel-top-up-daily-{name}", reader) for name in ("month", "day", "week")]
    rows = [
        [words.month(month + 1, reader), span(month), litres(7.0 * float(whole.middle[month]))]
        for month in range(MONTHS_PER_YEAR)
    ]
    return ended(reader, title, lines, html.table(head, rows))


# A hard year

KINDS = {
    "alkalinity": "alkalinity",
    "hardness": "hardness",
    "sodium": "concentration",
    "conductivity": "conductivity",
}


def year(reader: words.Reader, found: hard_water.Year) -> Html:
    """Where each quantity comes to, and the exchange that holds it."""
    say = words.say
    alkalinity = found.ends["alkalinity"]
    title = say(
        "panel-top-up-year",
        reader,
        alkalinity=_alkalinity(reader, alkalinity),
        hardness=_after(reader, "hardness", found.ends["hardness"]),
        sodium=_after(reader, "sodium", found.ends["sodium"]),
    )
    lines = [
        say(
            "panel-top-up-year-balance",
            reader,
            brought=words.span(found.in_g_d[0], found.in_g_d[2], "dose", reader),
            used=words.span(found.use_g_d[0], found.use_g_d[2], "dose", reader),
        ),
        _moved(reader, found.moved_by),
        say("panel-top-up-year-test", reader),
    ]
    head = [say(f"panel-top-up-year-{name}", reader) for name in ("what", "tap", "after", "line", "hold")]
    rows = []
    for name, end in found.ends.items():
        after = _alkalinity(reader, end) if name == "alkalinity" else _after(reader, name, end)
        rows.append(
            [
                say(f"panel-top-up-hold-{name}", reader),
                words.quantity(end.tap, KINDS[name], reader),
                after,
                words.quantity(end.line, KINDS[name], reader),
                _hold(reader, end.hold_l_d),
            ]
        )
    now = words.quantity(found.let_out_l_d, "volume", reader)
    below = [
        say("panel-top-up-year-let-out", reader, now=now),
        say("panel-top-up-year-hardness", reader),
    ]
    if alkalinity.after[2] > LIME_NEAR * found.scale_from_mg_l:
        scale = words.quantity(found.scale_from_mg_l, "alkalinity", reader)
        below.insert(0, say("panel-top-up-year-lime", reader, scale=scale))
    if found.least_mg_l[0] <= 0.0:
        below.append(say("panel-top-up-year-used-up", reader))
    return ended(reader, title, lines, html.table(head, rows), *map(html.paragraph, below))


def _after(reader: words.Reader, name: str, end: hard_water.End) -> str:
    return words.span(end.after[0], end.after[2], KINDS[name], reader)


def _alkalinity(reader: words.Reader, end: hard_water.End) -> str:
    """The end of alkalinity in words: used up at zero."""
    low, _, high = end.after
    if high <= 0.0:
        return words.say("panel-top-up-end-used-up", reader)
    if low <= 0.0:
        return words.say("panel-top-up-end-low", reader, high=words.quantity(high, "alkalinity", reader))
    return words.span(low, high, "alkalinity", reader)


def _hold(reader: words.Reader, litres_d: tuple[float, float, float]) -> str:
    low, _, high = litres_d
    if math.isinf(low):
        return words.say("panel-top-up-hold-never", reader)
    if high <= 0.0:
        return words.say("panel-top-up-hold-none", reader)
    if math.isinf(high):
        # The top-up holds more than the line, and feed uses about as much as it brings.
        return words.say("panel-top-up-hold-either", reader)
    return words.span(low, high, "volume", reader)


def _moved(reader: words.Reader, movers: Sequence[tuple[hard_water.Moves, float]]) -> str:
    first, second = (words.say(f"panel-top-up-moves-{name}", reader) for name, _ in movers[:MOVERS_NAMED])
    return words.say("panel-top-up-moves", reader, first=first, second=second)


# Hard water that is left to be used up


def plan(reader: words.Reader, found: use_up.UsePlan) -> Html:
    """When alkalinity comes down, when to test, what to do where it does not fall."""
    say = words.say
    weekly = _weekly(reader, found)
    head = [say(f"panel-top-up-plan-{name}", reader) for name in ("level", "early", "middle", "late")]
    rows = [_reach(reader, one) for one in found.reaches]
    tests = words.listed([words.day(day, reader) for day in found.tests], reader)
    below = [
        # Where it stands under the lower line, the sentence below asks for two tests a week.
        say("panel-top-up-plan-tests-low", reader, start=words.date(found.start, reader))
        if found.reaches[-1].there
        else say("panel-top-up-plan-tests", reader, start=words.date(found.start, reader), tests=tests),
        say("panel-top-up-plan-each", reader),
    ]
    instead: list[Html] = []
    if not found.reaches[0].there:
        looked = [say(f"panel-top-up-instead-{one}", reader) for one in INSTEAD]
        instead = [html.paragraph(say("panel-top-up-instead", reader)), html.listing(looked)]
    return ended(
        reader,
        _plan_title(reader, found),
        [*weekly, _moved(reader, found.moved_by)],
        html.table(head, rows),
        *map(html.paragraph, below),
        *instead,
        html.paragraph(say("panel-top-up-plan-not", reader)),
    )


def _plan_title(reader: words.Reader, found: use_up.UsePlan) -> str:
    first = found.reaches[0]
    told = {
        "now": words.quantity(found.now_mg_l, "alkalinity", reader),
        "line": words.quantity(first.line_mg_l, "alkalinity", reader),
    }
    if first.there:
        return words.say("panel-top-up-plan-there", reader, **told)
    if first.early is None:
        return words.say("panel-top-up-plan-stays", reader, **told)
    if first.late is None:
        return words.say("panel-top-up-plan-maybe", reader, **told, first=words.date(first.early, reader))
    between = words.during(first.early, first.late, reader)
    return words.say("panel-top-up-plan-falls", reader, **told, between=between)


def _weekly(reader: words.Reader, found: use_up.UsePlan) -> list[str]:
    def grams(three: tuple[float, float, float]) -> str:
        return words.span(three[0], three[2], "dose", reader)

    lines = [
        words.say(
            "panel-top-up-plan-week", reader, used=grams(found.use_g_week), brought=grams(found.in_g_week)
        )
    ]
    if found.lime_g_week[2] >= TOLD_G_WEEK:
        lines.append(words.say("panel-top-up-plan-lime", reader, lime=grams(found.lime_g_week)))
    reckoned = _change(reader, found.reckoned_mg_l_week)
    if found.seen:
        seen = words.quantity(found.fall_mg_l_week[1], "alkalinity", reader)
        return [*lines, words.say("panel-top-up-plan-seen", reader, seen=seen, reckoned=reckoned)]
    return [*lines, words.say("panel-top-up-plan-change", reader, change=reckoned)]


def _change(reader: words.Reader, fall: tuple[float, float, float]) -> str:
    """A fall a week in words; a rise where it is none, both where the tries differ."""
    low, _, high = fall
    if low >= 0.0:
        return words.say("panel-top-up-falls", reader, by=words.span(low, high, "alkalinity", reader))
    if high <= 0.0:
        return words.say("panel-top-up-rises", reader, by=words.span(-high, -low, "alkalinity", reader))
    return words.say(
        "panel-top-up-either",
        reader,
        rise=words.quantity(-low, "alkalinity", reader),
        fall=words.quantity(high, "alkalinity", reader),
    )


def _reach(reader: words.Reader, one: use_up.Reach) -> list[str]:
    def on(day: date | None) -> str:
        if one.there:
            return words.say("panel-top-up-plan-now", reader)
        return words.say("panel-top-up-plan-never", reader) if day is None else words.date(day, reader)

    return [words.quantity(one.line_mg_l, "alkalinity", reader), on(one.early), on(one.middle), on(one.late)]


# Two waters


def mixture(reader: words.Reader, found: Mixed) -> Html:
    """Litres of each water, and what the mixture is."""
    say, made = words.say, found.mixture
    if math.isnan(made.share):
        how = [say("panel-top-up-mix-how", reader)]
        return ended(reader, say("panel-top-up-mix-never", reader), how)

    def ph(value: float) -> str:
        return words.quantity(value, "ph", reader)

    title = say(
        "panel-top-up-mix",
        reader,
        first=words.quantity((1.0 - made.share) * found.made_l, "volume", reader),
        second=words.quantity(made.share * found.made_l, "volume", reader),
        share=words.quantity(made.share, "share", reader),
        alkalinity=words.quantity(found.wished_mg_l, "alkalinity", reader),
    )
    lines = [
        say("panel-top-up-mix-ph", reader, ph=ph(made.ph), aired=ph(made.ph_aired), mean=ph(made.ph_mean)),
        say(
            "panel-top-up-mix-salts",
            reader,
            hardness=words.quantity(made.hardness_mg_l, "hardness", reader),
            sodium=words.quantity(made.sodium_mg_l, "concentration", reader),
        ),
        say("panel-top-up-mix-how", reader),
    ]
    return ended(reader, title, lines)


# A roof


def roof(reader: words.Reader, found: rain.RoofYear) -> Html:
    """Months in which the barrel runs dry, the year as a table, what the roof leaves in the water."""
    say = words.say

    def litres(value: float) -> str:
        return words.quantity(value, "volume", reader)

    dry = found.dry_months
    whole = litres(float(found.caught_l.sum()))
    if dry:
        spans = words.listed([words.when(span, reader) for span in rain.spans(dry)], reader)
        missing = litres(float(found.missing_l.sum()))
        title = say("panel-top-up-rain-dry", reader, months=spans, missing=missing)
    else:
        title = say("panel-top-up-rain-enough", reader)
    lines = [
        say("panel-top-up-rain-year", reader, whole=whole, wanted=litres(float(found.wanted_l.sum()))),
        say("panel-top-up-flush", reader, flush=litres(found.flush_l)),
        say("panel-top-up-rain-falls", reader, fall=words.quantity(FALL_MM, "rain", reader)),
    ]
    names = ("month", "caught", "wanted", "missing", "dry-days", "bridge")
    head = [say(f"panel-top-up-rain-{name}", reader) for name in names]
    rows = [
        [
            words.month(month + 1, reader),
            litres(float(found.caught_l[month])),
            litres(float(found.wanted_l[month])),
            litres(float(found.missing_l[month])),
            words.number(float(found.dry_d[month])),
            words.quantity(float(found.bridged_d[month]), "days", reader),
        ]
        for month in range(MONTHS_PER_YEAR)
    ]
    metals = say(
        "panel-top-up-rain-metals",
        reader,
        zinc=words.number(found.zinc_ug_l),
        copper=words.number(found.copper_ug_l),
    )
    below = [
        say(f"panel-top-up-roof-{found.kind}", reader),
        metals,
        say("panel-top-up-rain-soft", reader),
        say("panel-top-up-rain-how", reader),
    ]
    return ended(reader, title, lines, html.table(head, rows), *map(html.paragraph, below))
