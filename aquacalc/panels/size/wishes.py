"""What do these wishes ask for? Heads a week and fish a year in, areas, tank water and feed out."""

from dataclasses import dataclass
from functools import partial

import numpy as np

from aquacalc import fish, words
from aquacalc.advice import trail as rests
from aquacalc.constants import MONTHS_PER_YEAR
from aquacalc.garden import litres, surroundings
from aquacalc.garden.model import Garden
from aquacalc.pages import html, trail
from aquacalc.panels.frame import lists, scenarios
from aquacalc.panels.frame.desk import Desk, garden_of, reader_of
from aquacalc.panels.frame.fields import GRAMS, ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.sizing import wishes
from aquacalc.sizing.result import WishedCrop, WishedFish
from aquacalc.tables import Cited
from aquacalc.uncertainty import MEMBERS, Band, Floats, coefficient, draw


@dataclass(frozen=True)
class Wished:
    """What the wishes ask for, and what the garden has (None without a garden)."""

    crop: WishedCrop | None
    fish: WishedFish | None
    beds_m2: float | None
    tanks_l: float | None

    @property
    def cited(self) -> tuple[Cited, ...]:
        """What its crop and its fish cite."""
        grown = () if self.crop is None else rests.of_rows("crops", [self.crop.crop])
        kept = () if self.fish is None else rests.of_rows("species", [self.fish.species])
        return rests.merged((*grown, *kept))


def controls(reader: words.Reader) -> dict[str, Field]:
    """Crop and heads, fish and their size; protein and water temperature where no garden says them."""
    say = words.say
    return {
        "crop": ChoiceField(say("panel-crop", reader), lists.crops(), "lettuce_leaf", reader),
        "heads": NumberField(
            say("panel-heads", reader),
            "",
            6.0,
            reader,
            0.0,
            500.0,
            (0.0, 40.0, 1.0),
            beside="heads",
        ),
        "species": ChoiceField(say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "fish": NumberField(
            say("panel-fish-year", reader),
            "",
            30.0,
            reader,
            0.0,
            5000.0,
            (0.0, 200.0, 1.0),
            beside="fish",
        ),
        "final": NumberField(
            say("panel-final-weight", reader), "mass", 450.0, reader, 5.0, 10_000.0, shown_in=GRAMS
        ),
        "protein": NumberField(say("panel-protein", reader), "share", 0.32, reader, 0.1, 0.7),
        "water": NumberField(
            say("panel-water-mean", reader), "temperature", 24.0, reader, 0.0, 40.0, (0.0, 40.0, 0.5)
        ),
    }


def compute(garden: Garden | None, values: Values) -> Wished:
    """Areas, stock and feed; with a garden at its own water through the year, else at one temperature."""
    heads, count = values["heads"], values["fish"]
    return Wished(
        crop=wishes.wished_crop(values["crop"], heads, values["protein"]) if heads > 0.0 else None,
        fish=wishes.wished_fish(values["species"], count, values["final"], water_c(garden, values["water"]))
        if count > 0.0
        else None,
        beds_m2=sum(bed.area_m2 for bed in garden.beds) if garden else None,
        tanks_l=litres.litres_of(garden).tanks if garden else None,
    )


def water_c(garden: Garden | None, mean_c: float) -> Floats:
    """Monthly water, (members, 12)."""
    if garden is None:
        return np.full((MEMBERS, MONTHS_PER_YEAR), mean_c)
    return surroundings.water_c(garden, draw({name: coefficient(name) for name in surroundings.COEFFICIENTS}))


def draw_wishes(reader: words.Reader, wished: Wished) -> html.Html:
    """What the crop and the fish ask for, beside what the garden has."""
    lines = []
    title = words.say("panel-wishes-none", reader)
    if wished.crop is not None:
        crop = wished.crop
        title = words.say("panel-wishes-crop", reader, area=_span(crop.area_m2, "area", reader))
        lines.append(
            words.say(
                "panel-wishes-crop-more",
                reader,
                crop=words.name("crop", crop.crop),
                seeds=str(crop.seeds_per_week),
                transplants=str(crop.transplants_per_week),
                places=str(crop.places),
                rule=_span(crop.area_rule_g_day, "feed", reader),
                balance=_span(crop.balance_g_day, "feed", reader),
            )
        )
    if wished.fish is not None:
        lines += _fish(wished.fish, reader)
        asked = words.say("panel-wishes-fish", reader, tank=_span(wished.fish.tank_l, "volume", reader))
        title = words.say("panel-wishes-both", reader, crop=title, fish=asked) if wished.crop else asked
    if wished.beds_m2 is not None and wished.tanks_l is not None:
        lines.append(
            words.say(
                "panel-wishes-has",
                reader,
                beds=words.quantity(wished.beds_m2, "area", reader),
                tanks=words.quantity(wished.tanks_l, "volume", reader),
            )
        )
    return answer(title, lines, trail.fold(wished.cited, reader))


def _fish(wished: WishedFish, reader: words.Reader) -> list[str]:
    if not np.isfinite(float(wished.days_to_final.middle)):
        return [words.say("panel-wishes-fish-never", reader, species=words.name("species", wished.species))]
    return [
        words.say(
            "panel-wishes-fish-more",
            reader,
            species=words.name("species", wished.species),
            stock=str(wished.stock_count),
            days=_span(wished.days_to_final, "days", reader),
            mean=_span(wished.mean_feed_g_day, "feed", reader),
            peak=_span(wished.peak_feed_g_day, "feed", reader),
        )
    ]


def _span(band: Band, kind: str, reader: words.Reader) -> str:
    return words.span(float(band.low), float(band.high), kind, reader)


def known(desk: Desk) -> dict[str, object]:
    """The garden's own wishes; where it names none, its fish and feed."""
    garden = desk.garden
    told: dict[str, object] = {"protein": garden.protein_fraction()}
    wish = garden.wishes
    if wish.crop:
        told |= {"crop": wish.crop, "heads": wish.heads_per_week}
    species = wish.species or (garden.fish[0].species if garden.fish else "")
    if species:
        told["species"] = species
        told["final"] = next(
            (batch.final_weight_g for batch in garden.fish if batch.species == species),
            fish.species(species).table_weight_g.typical,
        )
    if wish.species:
        told["fish"] = wish.fish_per_year
    return told


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one; then its own water takes the place of a mean."""
    reader = reader_of(desk)

    def now(values: Values) -> Wished:
        return compute(garden_of(desk), values)

    def asked(values: Values) -> list[str]:
        names = ("crop", "heads", "species", "fish", "final", "protein", "water")
        return [name for name in names if name != "water" or garden_of(desk) is None]

    made = Panel("wishes", controls(reader), now, partial(draw_wishes, reader), reader, asked=asked)
    if desk is not None:
        desk.fill(made, known)
    scenarios.offer(made)
    return made
