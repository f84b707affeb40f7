"""Seasons that panels show, with what is decided for them: the middle run at once and kept, the band when
asked for."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import ipywidgets as widgets

from aquacalc import words
from aquacalc.advice import findings
from aquacalc.advice.finding import Finding, ordered
from aquacalc.agenda import living, record
from aquacalc.agenda.record import Agenda
from aquacalc.charts.axes import round_up
from aquacalc.garden.model import Garden
from aquacalc.logbook.log import Log
from aquacalc.pages import html
from aquacalc.season import from_log
from aquacalc.season.result import SeasonRun
from aquacalc.season.run import Progress
from aquacalc.season.start import Start
from aquacalc.sizing.balance import balance
from aquacalc.uncertainty import MEMBERS, SEED

ROOM = 1.6
"""The feed axis reaches this many times beyond the middle run, and then stays while controls move."""
KEPT = 8


@dataclass(frozen=True, eq=False)
class Decided:
    """A season and what was decided for it, as the printed plan has it.

    garden: that of the run, with fish that would not live planned out; findings: of the season.
    """

    run: SeasonRun
    garden: Garden
    findings: tuple[Finding, ...]
    agenda: Agenda


def decided(garden: Garden, log: Log | None, members: int, progress: Progress | None = None) -> Decided:
    """The season of a garden, begun with what its log says of the first day, and its plan of record."""
    lived = living.season(garden, members, SEED, begun(garden, log), "", progress)
    of_year = living.findings_of(lived)
    held = balance(lived.garden)
    told = ordered([*findings.of_both(lived.garden, held), *of_year])
    agenda = record.agenda(lived.run, lived.garden, told, lived.taken_out, log)
    return Decided(lived.run, lived.garden, of_year, agenda)


@lru_cache(maxsize=KEPT)
def middle(garden: Garden, log: Log | None = None) -> Decided:
    """The same for the middle run alone."""
    return decided(garden, log, 1)


def begun(garden: Garden, log: Log | None) -> Start:
    """What the log beside the garden gives to the season's first day."""
    return from_log.start(garden, log, from_log.standing(garden, log))


def top_g_day(run: SeasonRun) -> float:
    """A roomy upper end of the feed axis."""
    return round_up(ROOM * float(run.band("feed_g").high.max()))


class BandButton(widgets.VBox):  # type: ignore[misc]
    """A button that works out the band of the garden at hand, with a line that tells how far it is.

    garden: tells the garden at hand; log: the one beside it; shown: is called when the band is there.
    """

    def __init__(
        self,
        garden: Callable[[], Garden],
        log: Log | None,
        shown: Callable[[], None],
        reader: words.Reader,
    ) -> None:
        self.garden, self.logbook, self.shown, self.reader = garden, log, shown, reader
        self.bands: dict[Garden, Decided] = {}
        tries = words.say("panel-band-show", reader, tries=str(MEMBERS))
        self.button = widgets.Button(description=tries, layout=widgets.Layout(width="auto"))
        self.button.on_click(self.pressed)
        self.line = widgets.HTML()
        super().__init__([self.button, self.line])

    def season(self) -> Decided:
        """The season to be shown: with its band where that was worked out, else the middle run alone."""
        garden = self.garden()
        found = self.bands.get(garden)
        self.button.disabled = found is not None
        self.line.value = ""
        return middle(garden, self.logbook) if found is None else found

    def pressed(self, _button: object = None) -> None:
        """Work out the band, and show it."""
        garden = self.garden()
        self.button.disabled = True
        self.tell(0.0)
        # One band at a time: an older one is soon worked out again.
        self.bands = {garden: decided(garden, self.logbook, MEMBERS, self.tell)}
        self.shown()

    def tell(self, share: float) -> None:
        """Say how much of the work is done."""
        done = words.say(
            "panel-band-progress", self.reader, share=words.quantity(share, "share", self.reader)
        )
        self.line.value = html.element("p", done, role="status")
