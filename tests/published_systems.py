"""Published systems beside the model: gardens rebuilt from them, what was published, what the season says.

Each garden says at its head what its source states and what is guessed. The guesses are spread over groups
of members, each group with a draw of its own, so that a band holds the ignorance of the system as well as
that of the model.
"""

import csv
import re
import tempfile
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np

from aquacalc import film, nitrogen
from aquacalc.garden import file, litres
from aquacalc.garden.model import Garden
from aquacalc.schedule import crops
from aquacalc.season import run
from aquacalc.season.result import SeasonRun
from aquacalc.sizing import balance, nitrification, surfaces
from aquacalc.startup import case, forecast
from aquacalc.startup.rule import Rule
from aquacalc.uncertainty import SEED, Band, Floats, Triangle, band, draw, probabilities, quantile

FOLDER = Path(__file__).with_name("published") / "systems"
GROUPS, IN_GROUP = 5, 40
"""Draws of the guesses, and members of each."""
YEAR_D = 365.0
INSIDE_MEANT = (0.60, 0.95)
"""Share of the rows that should meet a band of 80 %: not all of them, or the bands are too wide."""
RATIO_MEANT = (0.6, 1.7)
"""Where the median ratio of each group of rows should lie."""
FINISHED_BY_D = 150
NOBODY_DOSES = Rule(low_tan_mg_l=-1.0)


@dataclass(frozen=True)
class Row:
    """What was published of a system: a value and the spread that the source gives.

    fitted: a coefficient was chosen by this row, so that it proves nothing.
    """

    system: str
    quantity: str
    low: float
    published: float
    high: float
    unit: str
    group: str
    fitted: bool
    source: str
    mark: str
    note: str

    @property
    def name(self) -> str:
        """The quantity without what it is asked for."""
        return re.split(r"[: ]", self.quantity)[0]

    @property
    def bound_only(self) -> bool:
        """Whether only a value on one side is a miss: fish that ate every day, feed that was carried."""
        return self.name in ("carries_g_day", "fed_share")


@dataclass(frozen=True)
class Beside:
    """A row with the model's band over the members."""

    row: Row
    model: Band

    @property
    def inside(self) -> bool:
        """Whether the spread of the source meets the band; on its one side where only that is a miss."""
        reached = self.row.low <= self.model.high
        return reached if self.row.bound_only else bool(reached and self.row.high >= self.model.low)

    @property
    def ratio(self) -> float:
        """Middle of the model over published; NaN where the middle says nothing: pH, and bounds that hold."""
        if self.row.name == "mean" and self.row.unit == "pH":
            return float("nan")
        if self.row.bound_only and self.inside:
            return float("nan")
        return float(self.model.middle) / self.row.published


def rows() -> list[Row]:
    """Every published value."""
    with (FOLDER / "systems.csv").open(encoding="utf-8", newline="") as opened:
        found = list(csv.DictReader(opened))
    for row in found:
        row |= {name: float(row[name]) for name in ("low", "published", "high")}
        row["fitted"] = row["fitted"] == "yes"
    return [Row(**row) for row in found]


# The gardens and their guesses


@dataclass(frozen=True)
class Guess:
    """A line of a garden file that its source does not state, as it stands, and its low and high form."""

    line: str
    low: str
    high: str

    def drawn(self, chance: float) -> str:
        """The line at a probability of the triangle between its three forms; whole where it is a count."""
        corners = [float(_NUMBER.search(text)[0]) for text in (self.low, self.line, self.high)]
        value = float(quantile(Triangle(*corners), chance))
        bare_count = '"' not in self.line and "." not in self.line
        written = f"{value:.0f}" if bare_count else f"{float(f'{value:.3g}'):g}"
        return _NUMBER.sub(written, self.line, count=1)


_NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")


def text_of(system: str) -> str:
    """The garden file of a system."""
    return (FOLDER / f"{system}.toml").read_text("utf-8")


def guesses(text: str) -> list[Guess]:
    """What a garden file says of its guesses that have a low and a high form."""
    lines = re.findall(r"^# guess: (.*)$", text, re.MULTILINE)
    return [Guess(*(part.strip() for part in line.split("|"))) for line in lines]


def texts(system: str, groups: int) -> list[str]:
    """The garden file of a system, once for each draw of its guesses; alone as it stands."""
    text = text_of(system)
    found = []
    for place in range(groups):
        changed = text
        for guess in guesses(text) if groups > 1 else ():
            chance = probabilities(f"{system} {guess.line}", groups)[place]
            changed = re.sub(rf"^{re.escape(guess.line)}$", guess.drawn(chance), changed, flags=re.MULTILINE)
        found.append(changed)
    return found


def garden_of(text: str) -> Garden:
    """The garden of a file's text."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "garden.toml"
        path.write_text(text, "utf-8")
        return file.find(str(path)).garden


@dataclass(frozen=True)
class Grown:
    """A garden and its season."""

    garden: Garden
    run: SeasonRun


def grown(system: str, groups: int = GROUPS, members: int = IN_GROUP) -> list[Grown]:
    """The seasons of a system, one for each draw of its guesses: fed as the fish ate, whatever a plan of this
    package would have capped."""
    return [
        Grown(garden, run.run(garden, crops.batches(garden), members, SEED + place))
        for place, garden in enumerate(map(garden_of, texts(system, groups)))
    ]


# What is asked of a season: arrays of members


def end_g(of: Grown) -> Floats:
    """Largest mean weight of the first batch."""
    return np.nanmax(of.run.fish["weight_g"][0], axis=1)


def harvest_g(of: Grown) -> Floats:
    """Mean weight on the last day of the batches that come and leave within the season."""
    return np.mean([_last(of.run.fish["weight_g"][batch]) for batch in _whole(of)], axis=0)


def weight_g(of: Grown, name: str, when: str) -> Floats:
    """Mean weight of a batch on a day."""
    return of.run.fish["weight_g"][of.run.fish_names.index(name)][:, of.run.day(date.fromisoformat(when))]


def taken_kg_year(of: Grown) -> Floats:
    """Live weight taken a year."""
    return of.run.fish["taken_kg"].sum(axis=(0, 2)) * YEAR_D / of.run.days


def conversion(of: Grown) -> Floats:
    """Feed over gain of all fish: what was taken and what stands, less what was brought."""
    kg = of.run.fish["count"] * np.nan_to_num(of.run.fish["weight_g"]) / 1000.0
    there = of.run.fish["count"] > 0.0
    brought = np.take_along_axis(kg, there.argmax(axis=2)[:, :, None], axis=2)[:, :, 0]
    gain = of.run.fish["taken_kg"].sum(axis=2) + kg[:, :, -1] - brought
    return of.run.daily["feed_g"][:, :-1].sum(axis=1) / 1000.0 / gain.sum(axis=0)


def survival(of: Grown) -> Floats:
    """Fish that did not die, of those stocked, in the batches that come and leave within the season."""
    batches = _whole(of) or list(range(len(of.garden.fish)))
    stocked = of.run.fish["count"].max(axis=2)[batches].sum(axis=0)
    return 1.0 - of.run.fish["dead"][batches].sum(axis=(0, 2)) / stocked


def feed_g_m2_day(of: Grown) -> Floats:
    """Feed over the area of all beds."""
    return of.run.daily["feed_g"].mean(axis=1) / sum(bed.area_m2 for bed in of.garden.beds)


def fed_share(of: Grown) -> Floats:
    """Share of days at the full ration."""
    return (of.run.daily["ration"] >= 1.0).mean(axis=1)


def crop_kg_m2_year(of: Grown, crop: str) -> Floats:
    """Picked over the planned area, a year."""
    batches = [place for place, batch in enumerate(of.run.batches) if batch.crop == crop]
    area = sum(one.area_m2 for one in of.garden.crops if one.crop == crop)
    return of.run.crops["picked_kg"][batches].sum(axis=(0, 2)) / area * YEAR_D / of.run.days


def water_pct_day(of: Grown) -> Floats:
    """New water over all water."""
    return 100.0 * of.run.daily["top_up_l"].mean(axis=1) / litres.litres_of(of.garden).whole


def base_eq_per_kg_feed(of: Grown) -> Floats:
    """Equivalents of base over feed."""
    return of.run.daily["base_eq"].sum(axis=1) / of.run.daily["feed_g"].sum(axis=1) * 1000.0


def mean(of: Grown, name: str) -> Floats:
    """Mean of a daily quantity over the season."""
    return of.run.daily[name].mean(axis=1)


SEASON: dict[str, Callable[..., Floats]] = {
    "fish_end_g": end_g,
    "fish_harvest_g": harvest_g,
    "fish_at_g": weight_g,
    "fish_taken_kg_year": taken_kg_year,
    "fcr": conversion,
    "survival": survival,
    "feed_g_m2_day": feed_g_m2_day,
    "fed_share": fed_share,
    "crop_kg_m2_year": crop_kg_m2_year,
    "water_pct_day": water_pct_day,
    "base_eq_per_kg_feed": base_eq_per_kg_feed,
    "mean": mean,
}


def _last(by_day: Floats) -> Floats:
    """The last number of each member."""
    known = ~np.isnan(by_day)
    at = by_day.shape[1] - 1 - known[:, ::-1].argmax(axis=1)
    return np.take_along_axis(by_day, at[:, None], axis=1)[:, 0]


def _whole(of: Grown) -> list[int]:
    """Batches of fish that come and leave within the season."""
    season = of.garden.season
    return [
        place
        for place, fish in enumerate(of.garden.fish)
        if fish.until and fish.stocked >= season.start and fish.until <= season.end
    ]


# What is asked without a season


def carried_g_day(garden: Garden, members: int = IN_GROUP, seed: int = SEED) -> Floats:
    """The most feed that nitrification carries, in the month in which it carries least."""
    now, _, _ = balance.conditions(garden, members, seed)
    by_month = nitrification.feed_g_day(now, nitrification.most(now))
    return by_month[:, np.median(by_month, axis=0).argmin()]


def film_rate(asked: str, members: int = GROUPS * IN_GROUP) -> Floats:
    """Rate of a film in balance in a separate filter, g N/m2/d; over that at another temperature if asked."""
    step, given = _asked(asked)
    k = nitrogen.kinetics(draw(nitrogen.kinetic_triangles(), members, SEED, nitrogen.CORRELATIONS))

    def at(celsius: float) -> Floats:
        one = film.film_of(step, [film.Surface(1.0, surfaces.transfer_m_d("filter"))], celsius, k)
        around = (celsius, given["ph"], given["oxygen"], given["alkalinity"], k)
        return np.asarray(film.rate_g_d(step, one, given["tan"], *around))

    found = at(given["celsius"])
    return found / at(given["over"]) if "over" in given else found


def start_up_d(asked: str, members: int = GROUPS * IN_GROUP) -> Floats:
    """Day of a milestone of a start-up; where fish give the ammonia nobody doses."""
    milestone, given = _asked(asked)
    begun = case.typed(
        given["litres"],
        given["celsius"],
        date(2027, 1, 1),
        film_m2=given["film_m2"],
        ph=given["ph"],
        alkalinity_mg_l=given["alkalinity"],
        source_mg_l_d=given.get("source", 0.0),
    )
    rule = NOBODY_DOSES if "source" in given else Rule()
    course = forecast.forecast_of(begun, members=members, rule=rule, horizon=FINISHED_BY_D)
    return course.milestones.take(milestone)


def _asked(text: str) -> tuple[str, dict[str, float]]:
    """What a quantity is asked for: a name and numbers by name."""
    name, *given = text.split()
    return name, {key: float(value) for key, value in (part.split("=") for part in given)}


# Together


def beside(row: Row, seasons: Sequence[Grown]) -> Beside:
    """A row with the band of the members of all groups."""
    name, _, rest = row.quantity.partition(":")
    if name == "carries_g_day":
        return Beside(row, band(np.concatenate([carried_g_day(of.garden) for of in seasons])))
    if name in ("film", "film_ratio"):
        return Beside(row, band(film_rate(rest)))
    if name == "start":
        return Beside(row, band(start_up_d(rest)))
    parts = rest.split(":") if rest else []
    return Beside(row, band(np.concatenate([SEASON[name](of, *parts) for of in seasons])))


def all_beside(groups: int = GROUPS, members: int = IN_GROUP) -> list[Beside]:
    """Every row beside the model."""
    found: list[Beside] = []
    listed = rows()
    for system in dict.fromkeys(row.system for row in listed):
        there = (FOLDER / f"{system}.toml").exists()
        seasons = grown(system, groups, members) if there else []
        found += [beside(row, seasons) for row in listed if row.system == system]
    return found


def evidence(found: Iterable[Beside]) -> list[Beside]:
    """The rows by which nothing was chosen."""
    return [one for one in found if not one.row.fitted]


def share_inside(found: Iterable[Beside]) -> float:
    """Share of the rows that are inside."""
    return float(np.mean([one.inside for one in found]))


def median_ratios(found: Iterable[Beside]) -> dict[str, float]:
    """Median ratio of each group, in the order of the rows; a group whose bounds all hold has none."""
    by_group: dict[str, list[float]] = {}
    for one in found:
        if not np.isnan(one.ratio):
            by_group.setdefault(one.row.group, []).append(one.ratio)
    return {group: float(np.median(ratios)) for group, ratios in by_group.items()}
