"""What an answer rests on: the sources of the rows, lines and formulas behind it, with how each is known."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import chain
from types import MappingProxyType

from aquacalc import nitrogen, tables
from aquacalc.advice.finding import Finding
from aquacalc.advice.log import Told
from aquacalc.advice.reading.judge import Judgement
from aquacalc.garden.model import Garden
from aquacalc.judge import lines
from aquacalc.season import setting
from aquacalc.sizing import balance, power_cut
from aquacalc.tables import Cited, Row

PRACTICE = "TRADE"
"""The source of what is common practice: it is never better known than that."""

FORMULAS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "unionised_ammonia": ("EMER75",),
        "tan": ("EPA13",),
        "oxygen": ("BENKRA84",),
        "carbon_dioxide": ("PLUBUS82",),
    }
)
"""The texts of the formulas by which a value of the water is reckoned or judged, beside its lines."""

SPECIES_FIGURES: Mapping[str, str] = MappingProxyType(
    {"oxygen": "do_full_feed_mg_l", "temperature": "t_stress_high_c"}
)
"""What of the water is judged by figures of each species, before any line for all fish: a column of them."""

USUAL_LOSS = (Cited("LOVE15", "read"), Cited(PRACTICE, "practice"))
"""The low and the high end of what is lost of the water on a usual day."""

WALLS = (Cited("OWN", "memory"),)
"""The heat that goes through a tank's walls, and that melts ice."""


def merged(cited: Iterable[Cited]) -> tuple[Cited, ...]:
    """Each reference once, with its weakest mark; the best known first, then by name.

    >>> merged([Cited("FA16", "practice"), Cited("EPA13", "read"), Cited("FA16", "read")])
    (Cited(reference='EPA13', mark='read'), Cited(reference='FA16', mark='practice'))
    """
    marks: dict[str, str] = {}
    for one in cited:
        mark = "practice" if one.reference == PRACTICE else one.mark
        marks[one.reference] = tables.weakest((mark, marks.get(one.reference, mark)))
    ordered = sorted(marks, key=lambda reference: (tables.MARKS.index(marks[reference]), reference))
    return tuple(Cited(reference, marks[reference]) for reference in ordered)


def whole(cited: Iterable[Cited]) -> tuple[Cited, ...]:
    """The same without the places in the texts, for a note that names many."""
    return merged(Cited(tables.source_key(one.reference), one.mark) for one in cited)


def of_rows(name: str, keys: Iterable[str], column: str = "") -> tuple[Cited, ...]:
    """What the rows of a table cite. column: only for that value and those that share its sources."""
    rows = map(tables.load(name).row, dict.fromkeys(keys))
    return merged(chain.from_iterable(tables.cited(name, row, column) for row in rows))


def of_finding(finding: Finding) -> tuple[Cited, ...]:
    """What a finding cites. Its references stand for no row, so that each has the mark of its text."""
    return merged(tables.cited_whole(finding.sources))


def of_findings(findings: Iterable[Finding]) -> tuple[Cited, ...]:
    """What several findings cite."""
    return merged(chain.from_iterable(of_finding(one) for one in findings))


def of_balance(garden: Garden) -> tuple[Cited, ...]:
    """What the balance was drawn from: its uncertain values, the fish, and what the beds hold."""
    return merged(
        (
            *of_rows("coefficients", _coefficients(balance.triangles(garden))),
            *of_fish(garden),
            *of_rows("media", (bed.medium for bed in garden.beds if bed.medium)),
        )
    )


def of_season(garden: Garden) -> tuple[Cited, ...]:
    """What the year was drawn from: uncertain values of its own, beside those of balance, fish and crops."""
    return of_rows("coefficients", _coefficients(setting.triangles(garden)))


def of_outage(species: Iterable[str]) -> tuple[Cited, ...]:
    """What the time to act in a power cut was drawn from, for fish of these species."""
    return merged((*of_rows("coefficients", power_cut.COEFFICIENTS), *of_rows("species", species)))


def of_leak(species: Iterable[str]) -> tuple[Cited, ...]:
    """The same where water runs out, with what is a usual loss of a day."""
    return merged((*of_outage(species), *USUAL_LOSS))


def of_spell(species: str, hot: bool) -> tuple[Cited, ...]:
    """What the line of a hot or a cold spell rests on, and the way of the water to it."""
    line = of_rows("species", [species], "t_stress_high_c" if hot else "t_feed_stop_low_c")
    return merged((*line, *WALLS))


def of_filter() -> tuple[Cited, ...]:
    """What the start of a filter was drawn from: how fast its bacteria live and grow."""
    return of_rows("coefficients", _coefficients(nitrogen.kinetic_triangles()))


def of_fish(garden: Garden) -> tuple[Cited, ...]:
    """What the figures of the garden's fish cite."""
    return of_rows("species", (batch.species for batch in garden.fish))


def of_crops(garden: Garden) -> tuple[Cited, ...]:
    """What the figures of the garden's crops cite."""
    return of_rows("crops", (crop.crop for crop in garden.crops))


def of_eating(garden: Garden) -> tuple[Cited, ...]:
    """What the cautions cite that go with eating and handling the garden's fish and crops."""
    return merged(
        (
            *of_rows("species", (batch.species for batch in garden.fish), "caution"),
            *of_rows("crops", (crop.crop for crop in garden.crops), "caution"),
            *of_rows("cautions", tables.load("cautions").keys()),
        )
    )


def of_products(garden: Garden) -> tuple[Cited, ...]:
    """What the figures of the garden's bases, salts and other products cite."""
    return of_rows("chemicals", (product.chemical for product in garden.products))


def of_lines(parameters: Iterable[str], fish: Sequence[Row] = ()) -> tuple[Cited, ...]:
    """What the lines of the water cite from which one acts, and the formulas beside them.

    fish: rows of the species that the lines are for; without them the lines for every water.
    """
    found: list[Cited] = []
    for one in parameters:
        found += chain.from_iterable(line.cited for line in lines.lines_of(one, fish))
        found += tables.cited_whole(FORMULAS.get(one, ()))
    return merged(found)


def of_judged(judgement: Judgement, parameter: str) -> tuple[Cited, ...]:
    """What the level of one reading rests on: its lines, its formula, and the species' own figures."""
    species, known = judgement.given.species, frozenset(tables.load("species").keys())
    own = [row.key for row in species if row.key in known]
    column = SPECIES_FIGURES.get(parameter, "")
    figures = of_rows("species", own, column) if column else ()
    return merged((*of_lines((parameter,), species), *figures))


def of_judgement(judgement: Judgement) -> tuple[Cited, ...]:
    """What a whole judgement rests on."""
    return merged(chain.from_iterable(of_judged(judgement, one.parameter) for one in judgement.judged))


def of_log(told: Told) -> tuple[Cited, ...]:
    """What a log's day rests on: its newest readings, and all that it says beside them."""
    judged = () if told.answer is None else of_judgement(told.answer.judgement)
    return merged((*judged, *of_findings((*told.findings, *told.past))))


def _coefficients(drawn: Iterable[str]) -> list[str]:
    """Names of drawn values that are rows of the table; others are the garden's own."""
    known = frozenset(tables.load("coefficients").keys())
    return [name for name in drawn if name in known]
