"""What is sown and planted in which week? The sowing list of the garden."""

from functools import partial

from aquacalc import words
from aquacalc.advice import trail as rests
from aquacalc.pages import html, trail
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.panels.harvest.season_answers import sowing_table, sowings
from aquacalc.panels.harvest.season_runs import middle


def draw(desk: Desk, values: Values) -> html.Html:
    """The list under what comes first."""
    season, reader = middle(desk.garden, desk.log), desk.reader
    found = sowings(season.agenda, reader)
    if not found:
        return answer(words.say("plan-list-none", reader))
    first = found[0]
    rest = trail.fold(rests.of_crops(season.garden), reader)
    title = words.say("plan-list-answer", reader, what=first.what, day=words.date(first.day, reader))
    return answer(title, [words.say("plan-list-moved", reader)], sowing_table(season), rest)


def panel(desk: Desk) -> Panel:
    """The list; it follows the garden."""
    made = Panel("sowing-list", {}, dict, partial(draw, desk), desk.reader)
    desk.follow(made.refresh)
    return made
