"""Doses for this garden: grams of each product for one step, and the most for one day. Never by date.

What the plan asks for and the shelf does not hold stands among them, to be bought.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from aquacalc import kits, tables, units
from aquacalc.advice import aims, shelf
from aquacalc.advice.doses import portion
from aquacalc.advice.reading import fish
from aquacalc.advice.reading.measure import scale_of
from aquacalc.constants import MG_PER_G
from aquacalc.garden import litres
from aquacalc.garden.model import Product
from aquacalc.garden.resolve import CHLORINE_LIMIT_MG_L
from aquacalc.judge import lines as limits
from aquacalc.judge.nitrite import chloride_ratio_wanted
from aquacalc.season import rules
from aquacalc.tables import Row
from aquacalc.water import carbonate, chlorine, dosing, salts, supplements

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

Kind = Literal["base", "chlorine", "chloride", "element", "ammonia"]

BASE_STEP_MG_L = 10.0
ELEMENT_STEP_MG_L = {"Fe": 1.0, "K": 10.0, "Ca": 10.0, "Mg": 10.0}
NITRITE_STEP_MG_L = 1.0
NEW_WATER_L = {"metric": 100.0, "us": units.unit("us_gal").to_base(25.0)}
"""The amount of new water that a dechlorinator's dose is given for."""
BUCKET_L = {"metric": 10.0, "us": units.unit("us_gal").to_base(5.0)}
"""The bucket that a sitter tops up with."""
LEAST_WEIGHED_G = 0.2
"""A smaller dose is given as part of a bottle in which that of more water is dissolved. Common practice, no
source."""
BOTTLE_L = 1.0
CHLORIDE_SALT = "sodium_chloride"
"""What brings chloride where nothing else is on the shelf: plain salt."""


@dataclass(frozen=True)
class Line:
    """A line of the table.

    step: what one step is, mg/L: of alkalinity as CaCO3, of an element, of the nitrite (in the basis of the
    kit) that chloride is given against, of the chlorine in new water; step_g, day_g: grams for it and the
    most for one day, NaN where new water alone sets it; water_l: that it is made for; to_buy: whether it is
    not on the shelf. A step is never more than a day's most.
    """

    product: Product
    kind: Kind
    step: float
    step_g: float
    day_g: float
    water_l: float
    element: str = ""
    basis: str = ""
    to_buy: bool = False

    @property
    def key(self) -> str:
        """By which its amounts are known wherever they are printed."""
        return f"dose {self.product.chemical} {self.kind} {self.element}".strip()


def chemical(product: Product) -> Row:
    """The table's row of a product."""
    return tables.load("chemicals").row(product.chemical)


def is_caustic(product: Product) -> bool:
    """Whether a product burns eyes and skin."""
    return bool({"caustic", "acid"} & set(chemical(product).listed("caution")))


def on_shelf(garden: Garden) -> tuple[Product, ...]:
    """Products that stand in the table: no acids, nothing for the start-up, nothing caustic in a school."""
    return tuple(
        product
        for product in garden.products
        if chemical(product).text("kind") not in ("acid", "ammonia")
        and not (garden.site.setting == "school" and is_caustic(product))
    )


def of_kind(garden: Garden, kind: str) -> tuple[Product, ...]:
    """Products of the shelf of one kind of the table of chemicals."""
    return tuple(one for one in on_shelf(garden) if chemical(one).text("kind") == kind)


def pure(key: str) -> Product:
    """A chemical that is bought anew: under its own name, and pure but for a chelate's share of iron."""
    row = tables.load("chemicals").row(key)
    iron = row.number("fe_high_g_g")
    name, _, _ = row.text("name").partition(" (")
    return Product(name, key, 100.0 * iron if iron > 0.0 else 100.0)


def against_nitrite(garden: Garden) -> tuple[str, ...]:
    """The salt that brings chloride, where none is on the shelf: the emergency card asks for it."""
    return () if of_kind(garden, "salt") else (CHLORIDE_SALT,)


def lines(garden: Garden, coldest_c: float, wanted: Iterable[str] = ()) -> tuple[Line, ...]:
    """All lines of the table in the order of the shelf, then what is still to be bought.

    coldest_c: water of the coldest month, in which a base acts most; wanted: chemicals that the plan asks
    for.
    """
    asked = tuple(dict.fromkeys(wanted))
    keeps_awake = garden.start_up.state == "running"
    own = [
        *on_shelf(garden),
        *(
            one
            for one in garden.products
            if keeps_awake and one.chemical in asked and chemical(one).text("kind") == "ammonia"
        ),
    ]
    held = {one.chemical for one in garden.products}
    bought = [pure(key) for key in asked if key not in held]
    return tuple(
        line
        for products, to_buy in ((own, False), (bought, True))
        for product in products
        for line in _lines(garden, product, coldest_c, to_buy)
    )


def _lines(garden: Garden, product: Product, coldest_c: float, to_buy: bool) -> Iterator[Line]:
    kind = chemical(product).text("kind")
    if kind == "base":
        yield _base(garden, product, coldest_c, to_buy)
    elif kind == "dechlorinator":
        yield dechlorinator(garden, product, to_buy)
    elif kind == "salt":
        yield _chloride(garden, product, to_buy)
    elif kind == "ammonia":
        yield _ammonia(garden, product, to_buy)
    else:
        yield from _elements(garden, product, to_buy)


def _base(garden: Garden, product: Product, coldest_c: float, to_buy: bool) -> Line:
    of, volume, purity = _taken(garden, product)
    low = limits.begins_at("alkalinity", "watch", above=False, aim=aims.of_garden(garden))
    ph = float(carbonate.ph_at_carbon_dioxide(low, dosing.WELL_AIRED_CARBON_DIOXIDE_MG_L, coldest_c, 0.0))
    place = dosing.Place(carbonate.water(ph, low, coldest_c), volume, dosing.WELL_AIRED_CARBON_DIOXIDE_MG_L)
    most = portion.day_of(place, of).rise_mg_l
    step = min(base_step_mg_l(garden), most)
    step_g, day_g = (float(dosing.grams_for_alkalinity(of, one, volume, purity)) for one in (step, most))
    return Line(product, "base", step, step_g, day_g, volume, to_buy=to_buy)


def base_step_mg_l(garden: Garden) -> float:
    """A step of alkalinity, mg/L CaCO3: one drop of the garden's kit, or 10 mg/L."""
    scale = scale_of(garden, "alkalinity")
    if scale.drop is None or not kits.basis_is_known(scale):
        return BASE_STEP_MG_L
    return units.unit(scale.basis).to_base(scale.drop)


def dechlorinator(garden: Garden, product: Product, to_buy: bool = False) -> Line:
    """Grams for an amount of new water at the most chlorine that the supplier may send."""
    volume, chlorine_mg_l = NEW_WATER_L[garden.reader.units], most_chlorine_mg_l(garden)
    per_gram = shelf.removes_g_g(product.chemical, product.strength_pct / 100.0)
    grams = float(chlorine.reagent_g(chlorine_mg_l, volume, per_gram))
    return Line(product, "chlorine", chlorine_mg_l, grams, math.nan, volume, to_buy=to_buy)


@dataclass(frozen=True)
class Bucket:
    """A sitter's bucket: grams of the dechlorinator for it; where that is too little to weigh, bottle_g in a
    bottle and part_l of that into the bucket, else both 0."""

    water_l: float
    grams: float
    bottle_g: float = 0.0
    part_l: float = 0.0


def bucket(garden: Garden, product: Product) -> Bucket:
    """What makes a bucket of tap water usable."""
    line, water_l = dechlorinator(garden, product), BUCKET_L[garden.reader.units]
    share = water_l / line.water_l
    if share * line.step_g < LEAST_WEIGHED_G:
        return Bucket(water_l, share * line.step_g, line.step_g, share * BOTTLE_L)
    return Bucket(water_l, share * line.step_g)


def most_chlorine_mg_l(garden: Garden) -> float:
    """The most chlorine that new water may hold: what the supplier states, for tap water of which nothing is
    stated the most that is usual."""
    stated = garden.top_up.chlorine_max_mg_l
    return stated if stated > 0.0 else CHLORINE_LIMIT_MG_L


def _chloride(garden: Garden, product: Product, to_buy: bool) -> Line:
    of, volume, purity = _taken(garden, product)
    scale = scale_of(garden, "nitrite")
    basis = scale.basis if kits.basis_is_known(scale) else "N"
    ratio = chloride_ratio_wanted(fish.of_garden(garden))
    chloride = float(salts.chloride_needed_mg_l(units.as_n(NITRITE_STEP_MG_L, basis), 0.0, ratio))
    step = float(dosing.grams_for_element(of, "Cl", chloride, volume, purity))
    most = _most_g(of, volume, purity, ("Na", "K", "Ca"))
    return Line(product, "chloride", NITRITE_STEP_MG_L, step, most, volume, basis=basis, to_buy=to_buy)


def _ammonia(garden: Garden, product: Product, to_buy: bool) -> Line:
    """Ammonia for a filter without fish: what lifts it to where the filter is kept awake, once a day."""
    volume = litres.litres_of(garden).whole
    share = chemical(product).number("n_g_g") * product.strength_pct / 100.0
    grams = rules.WAKE_TAN_MG_L * volume / MG_PER_G / share
    return Line(product, "ammonia", rules.WAKE_TAN_MG_L, grams, grams, volume, to_buy=to_buy)


def _elements(garden: Garden, product: Product, to_buy: bool) -> Iterator[Line]:
    of, volume, purity = _taken(garden, product)
    purity = supplements.purity_of_label(purity, of.elements["Fe"], chemical(product).number("fe_high_g_g"))
    for element, rise in ELEMENT_STEP_MG_L.items():
        if of.elements[element] > 0.0:
            grams = float(dosing.grams_for_element(of, element, rise, volume, purity))
            most = _most_g(of, volume, purity, (element,))
            yield Line(product, "element", rise, grams, most, volume, element, to_buy=to_buy)


def element_g(garden: Garden, product: Product, grams: float, element: str) -> float:
    """Grams of a product that hold so many grams of an element."""
    of, volume, purity = _taken(garden, product)
    purity = supplements.purity_of_label(purity, of.elements["Fe"], chemical(product).number("fe_high_g_g"))
    return float(dosing.grams_for_element(of, element, MG_PER_G * grams / volume, volume, purity))


def _taken(garden: Garden, product: Product) -> tuple[dosing.Chemical, float, float]:
    """A product as a chemical, the litres that it is given to, its share of the chemical."""
    return (
        dosing.chemical(product.chemical),
        litres.litres_of(garden).whole,
        product.strength_pct / 100.0,
    )


def _most_g(of: dosing.Chemical, volume_l: float, purity: float, elements: Sequence[str]) -> float:
    return min(
        float(dosing.grams_for_element(of, one, supplements.MOST_IN_A_DAY_MG_L[one], volume_l, purity))
        for one in elements
        if of.elements[one] > 0.0
    )
