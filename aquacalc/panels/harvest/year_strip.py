"""What stands and swims where through the year? The year strip of the garden, its fish, its water."""

from collections.abc import Callable, Mapping

from aquacalc import words
from aquacalc.charts import season as charts
from aquacalc.charts.picture import Chart, svg
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import ChoiceField
from aquacalc.panels.frame.panel import Panel, Values, answer, figure
from aquacalc.panels.harvest.season_answers import cited, of_crop, of_fish, warnings
from aquacalc.panels.harvest.season_runs import BandButton, Decided
from aquacalc.season import from_log
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import first_day
from aquacalc.words import Reader

PICTURES: Mapping[str, Callable[[Decided, Reader], tuple[Chart, str]]] = {
    "strip": lambda of, reader: (
        charts.strip(of.run, of.garden, reader, "", waiting=of.agenda.waiting),
        charts.strip_on_phone(of.run, of.garden, reader, waiting=of.agenda.waiting),
    ),
    "fish": lambda of, reader: (
        charts.fish(of.run, of.garden, reader, ""),
        charts.fish_on_phone(of.run, of.garden, reader),
    ),
    "water": lambda of, reader: (
        charts.water(of.run, of.garden, reader, ""),
        charts.water_on_phone(of.run, of.garden, reader),
    ),
}
"""Each for a page and, as SVG, for a phone."""

MOST_LOG_PROBLEMS = 3


class YearStrip(Panel):
    """The pictures of a season with a button for their band; they follow the garden."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.band = BandButton(lambda: desk.garden, desk.log, self.redraw, desk.reader)
        options = [(words.say(f"panel-picture-{key}", desk.reader), key) for key in PICTURES]
        picture = ChoiceField(words.say("panel-picture", desk.reader), options, "strip", desk.reader)
        super().__init__("year-strip", {"picture": picture}, dict, self.drawn, desk.reader, (self.band,))
        desk.follow(self.refresh)

    @property
    def run(self) -> SeasonRun:
        """The season that is shown."""
        return self.band.season().run

    def redraw(self) -> None:
        """Answer again."""
        self.refresh()

    def drawn(self, values: Values) -> html.Html:
        """The answer, the picture, what to act on."""
        reader = self.desk.reader
        season = self.band.season()
        run, garden = season.run, season.garden
        title = words.say(
            "panel-year-answer",
            reader,
            garden=garden.name,
            days=words.during(run.first, run.date(run.days - 1), reader),
        )
        lines = [of_fish(season, k) for k in range(len(garden.fish))]
        lines += [of_crop(season, k) for k in range(len(garden.crops))]
        invented = [words.say("panel-invented", reader)] if garden.invented else []
        invented += self._log_lines()
        page, phone = PICTURES[values["picture"]](season, reader)
        told = (html.listing(lines), warnings(season), cited(season))
        return answer(title, invented, figure(svg(page), phone), *told)

    def _log_lines(self) -> list[str]:
        """From what the season begins, and what is wrong with a log that cannot be read."""
        desk, reader = self.desk, self.desk.reader
        refused = [
            words.say("panel-log-refused", reader, problem=words.problem(problem, reader))
            for problem in desk.log_problems[:MOST_LOG_PROBLEMS]
        ]
        standing = from_log.standing(desk.garden, desk.log)
        begin = from_log.start(desk.garden, desk.log, standing)
        return [*refused, first_day.sentence(desk.garden, begin, reader)]


def panel(desk: Desk) -> YearStrip:
    """The panel; it follows the garden."""
    return YearStrip(desk)
