"""What every page is made from: a garden, its balance and findings, for one reader on one day."""

from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

from aquacalc import __version__, tables, words
from aquacalc.advice import findings
from aquacalc.advice.finding import Finding, ordered
from aquacalc.agenda import living, record
from aquacalc.agenda.living import Lived, TakenOut
from aquacalc.agenda.record import Agenda
from aquacalc.garden import litres
from aquacalc.garden.litres import Litres
from aquacalc.garden.model import Garden
from aquacalc.logbook.log import Log
from aquacalc.logbook.today import Difference, Standing
from aquacalc.pages.html import STAMP_LETTERS, Html, element, paragraph, shortened
from aquacalc.season.result import SeasonRun
from aquacalc.sizing.changes import balance_with_changes
from aquacalc.sizing.result import Balance, WishedGarden
from aquacalc.sizing.wishes import wished
from aquacalc.tables import Row
from aquacalc.words import Reader


@dataclass(frozen=True)
class Plan:
    """All that is printed, worked out once.

    season: the year day by day, None where only the balance was worked out. taken_out: fish that would not
    live through it, planned out of garden and season before. standing, differences: what the log tells of the
    first day, and what was done otherwise than planned; None and empty without a log. log: the log itself.
    """

    garden: Garden
    balance: Balance
    findings: tuple[Finding, ...]
    wished: WishedGarden
    reader: Reader
    made: date
    season: SeasonRun | None = None
    taken_out: tuple[TakenOut, ...] = ()
    standing: Standing | None = None
    differences: tuple[Difference, ...] = ()
    log: Log | None = None

    @cached_property
    def litres(self) -> Litres:
        """The garden's true litres."""
        return litres.litres_of(self.garden)

    @cached_property
    def species(self) -> tuple[Row, ...]:
        """The species of the garden's fish, each once; all species of the table where no fish are named."""
        table = tables.load("species")
        named = dict.fromkeys(batch.species for batch in self.garden.fish)
        return tuple(table.row(key) for key in named) or table.rows

    @cached_property
    def agenda(self) -> Agenda | None:
        """What was decided for the season; None without one."""
        if self.season is None:
            return None
        return record.agenda(self.season, self.garden, self.findings, self.taken_out, self.log, self.made)

    @property
    def eats(self) -> bool:
        """Whether there are fish, so that there is something to feed and to lose."""
        return self.balance.outage is not None

    def say(self, key: str, **amounts: str | int) -> str:
        """The text of a key for this reader."""
        return words.say(key, self.reader, **amounts)

    def quantity(self, value: float, kind: str, digits: int | None = None) -> str:
        """A value with its unit for this reader."""
        return words.quantity(value, kind, self.reader, digits)

    def name(self, letters: int = STAMP_LETTERS) -> str:
        """The garden's name, shortened where its place asks for it."""
        return shortened(self.garden.name, letters)


def make(garden: Garden, reader: Reader, made: date, members: int, seed: int) -> Plan:
    """Work out a plan: the balance with its changes, the findings, and what the wishes would take."""
    read = replace(garden, reader=reader)
    balance = balance_with_changes(read, members, seed)
    return Plan(read, balance, findings.of_both(read, balance), wished(read, members, seed), reader, made)


def through(plan: Plan, lived: Lived) -> Plan:
    """The plan with its season, and the findings of the year beside those of the balance."""
    found = ordered([*plan.findings, *living.findings_of(lived)])
    return replace(plan, season=lived.run, taken_out=lived.taken_out, findings=found)


def stamp(plan: Plan) -> Html:
    """Whose sheet it is, when it was made, and when it has to be made again."""
    made = words.date(plan.made, plan.reader)
    text = plan.say("page-stamp", garden=plan.name(), made=made, version=__version__)
    return paragraph(text, "stamp")


def sheet(plan: Plan, title: str, *parts: str, class_: str = "") -> Html:
    """A sheet for the wall that stands alone."""
    return element("section", element("h1", title), stamp(plan), *parts, class_=f"sheet {class_}".strip())
