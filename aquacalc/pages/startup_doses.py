"""Doses of a start-up on screen and paper: from a reading to what it calls for, how to mix, when not."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from aquacalc import kits, units, words
from aquacalc.errors import InputError
from aquacalc.garden.model import Garden, KitScale, Product
from aquacalc.pages import kit
from aquacalc.pages.html import Html, paragraph, shortened, table
from aquacalc.pages.startup import Made, fish_in
from aquacalc.sentences import spoons
from aquacalc.startup import doses
from aquacalc.startup.doses import Line, Source
from aquacalc.startup.members import EventKey
from aquacalc.startup.readings import Parameter, Reading
from aquacalc.water import dosing

USUAL_BASE = Product("", "potassium_bicarbonate", 99.0)
"""What raises alkalinity where nothing that does stands on the shelf; its name is that of the table."""
TEASPOON_ML = 5.0
MOST_LINES = 6
"""Lines that a small table holds."""
NAME_LETTERS = 22


def product_of(garden: Garden, chemical: str) -> Product | None:
    """The product of a chemical that stands on the garden's shelf."""
    return next((one for one in garden.products if one.chemical == chemical), None)


def base_of(garden: Garden) -> Product:
    """What raises alkalinity here: the first on the shelf that does it in time and by carbonate."""
    found = [one for one in garden.products if doses.is_for_start_up(one.chemical)]
    return found[0] if found else USUAL_BASE


def source_name(of: Source, garden: Garden) -> str:
    """The name of what brings the ammonia, with its strength."""
    product = product_of(garden, of.product)
    name = shortened(product.name if product else words.name("chemical", of.product), NAME_LETTERS)
    return f"{name} {words.number(of.strength_pct, 3)}{words.NO_BREAK_SPACE}%"


def base_name(product: Product) -> str:
    """The name of a base, with its strength."""
    name = shortened(product.name or words.name("chemical", product.chemical), NAME_LETTERS)
    return f"{name} {words.number(product.strength_pct, 3)}{words.NO_BREAK_SPACE}%"


def amount(made: Made, of: Source, value: float) -> str:
    """An amount of ammonia as it is measured: mL with teaspoons, or grams with the spoon of its product."""
    if not value > 0.0:
        return made.say("startup-nothing")
    if of.is_solution:
        millilitres = words.number(value, 2 if value < 1000.0 else 3)
        told = spoons.level(value, TEASPOON_ML)
        if told:
            return made.say("startup-ml-spoons", ml=millilitres, spoons=told)
        return made.say("startup-ml", ml=millilitres)
    return grams(made, value, product_of(made.garden, of.product))


def grams(made: Made, value: float, product: Product | None) -> str:
    """Grams, with spoons of the product where a spoon of it was weighed."""
    if not value > 0.0:
        return made.say("startup-nothing")
    text = made.quantity(value, "dose")
    told = spoons.level(value, product.spoon_g if product else None)
    if not told:
        return text
    one = product is not None and value <= (product.spoon_g or 0.0) * 1.125
    return made.say("dose-spoon" if one else "dose-spoons", grams=text, spoons=told)


def shown(line: Line, scale: KitScale, made: Made) -> str:
    """A reading as the kit shows it, with what it is inside behind it where that is another number."""
    label = kit.label(scale)
    known = bool(scale.steps or scale.drop)
    if not known:
        return made.quantity(line.inside, "concentration")
    text = words.NO_BREAK_SPACE.join(part for part in (words.number(line.shown, 3), label) if part)
    if scale.parameter in kits.NITROGEN and scale.basis != "N" and line.inside > 0.0:
        return made.say("kit-step", step=text, inside=words.number(line.inside))
    return text


def thinned(lines: Sequence[Line]) -> list[Line]:
    """No more lines than a small table holds: every second one, and always the last."""
    found = list(lines)
    while len(found) > MOST_LINES:
        found = [*found[:-1:2], found[-1]]
    return found


def dose_tables(made: Made) -> tuple[Html, ...]:
    """Small tables: from a reading of ammonia, from a reading of alkalinity, to what it calls for.

    In the place of a table whose kit does not tell what it counts stands why there is none. Where fish start
    the filter no ammonia is given.
    """
    makers = (_base_table,) if by_fish(made) else (_ammonia_table, _base_table)
    found = []
    for make in makers:
        try:
            found.append(make(made))
        except InputError as error:
            found += [paragraph(one) for one in _refused(made, error)]
    return tuple(found)


def by_fish(made: Made) -> bool:
    """Whether fish bring the ammonia."""
    return made.start.choice.method == "fish"


def _refused(made: Made, error: InputError) -> list[str]:
    return [words.problem(one, made.reader) for one in error.problems]


def _ammonia_table(made: Made) -> Html:
    of, scale = made.start.source, made.scale("tan")
    lines = doses.ammonia_lines(of, made.start.case.litres, scale, made.start.choice.next_tan_mg_l)
    head = [
        made.say("startup-dose-head-reading"),
        made.say("startup-dose-head-amount", product=source_name(of, made.garden)),
    ]
    rows = [(shown(line, scale, made), amount(made, of, line.amount)) for line in thinned(lines)]
    return table(head, rows, "readings")


def _base_table(made: Made) -> Html:
    base, scale = base_of(made.garden), made.scale("alkalinity")
    chemical, purity = dosing.chemical(base.chemical), base.strength_pct / 100.0
    lines = doses.alkalinity_lines(chemical, purity, made.start.case.litres, scale)
    head = [
        made.say("startup-base-head-reading"),
        made.say("startup-base-head-amount", product=base_name(base)),
    ]
    rows = [(shown(line, scale, made), grams(made, line.amount, base)) for line in thinned(lines)]
    return table(head, rows, "readings")


def dose_cost(made: Made) -> str:
    """What a dose uses up of alkalinity."""
    rise = made.start.choice.next_tan_mg_l
    return made.say(
        "startup-doses-cost",
        tan=words.number(rise),
        alkalinity=_alkalinity(made, rise * made.start.source.alkalinity_cost_per_n),
    )


def dose_notes(made: Made) -> list[str]:
    """The first dose, how to mix, and what is doubtful."""
    start = made.start
    of, choice, case = start.source, start.choice, start.case
    water = doses.Water(
        case.litres, 0.0, made.garden.targets.ph, float(case.water_c[0]), max(case.alkalinity_mg_l, 80.0)
    )
    if by_fish(made):
        return [made.say("startup-mix-base")]
    try:
        first = doses.dose(of, water, choice.first_tan_mg_l)
    except InputError as error:
        return _refused(made, error)
    given = made.say(
        "startup-doses-first",
        amount=amount(made, of, first.amount),
        tan=words.number(choice.first_tan_mg_l),
    )
    texts = [
        *([] if start.forecast.readings else [given]),
        made.say("startup-mix-solution" if of.is_solution else "startup-mix-salt"),
        made.say("startup-mix-base"),
    ]
    if of.doubtful:
        texts.append(made.say("startup-doses-doubt"))
    if first.in_portions:
        texts.append(made.say("startup-doses-portions", ph=made.quantity(first.ph_at_once, "ph")))
    return texts


def now(made: Made) -> list[str]:
    """What the last readings call for, each time after a new test; before any reading the first dose."""
    start = made.start
    if by_fish(made) or made.garden.start_up.state != "new":
        return []
    if not start.forecast.readings:
        first = start.choice.first_tan_mg_l
        given = amount(made, start.source, doses.amount(start.source, first, start.case.litres))
        return [made.say("startup-now-first", amount=given, tan=words.number(first))]
    last = {one.parameter: one for one in sorted(start.forecast.readings, key=lambda one: one.day)}
    found = [*_base_now(made, last), *_ammonia_now(made, last)]
    if not found:
        return []
    day = words.date(start.case.date_of(max(one.day for one in last.values())), made.reader)
    return [made.say("startup-now", day=day, what=" ".join(found))]


def _given_on(made: Made, *keys: EventKey) -> int:
    """The last day on which the log has a dose; -1 without one."""
    events = made.start.read.events if made.start.read else ()
    return max((one.day for one in events if one.key in keys), default=-1)


def _base_now(made: Made, last: Mapping[Parameter, Reading]) -> list[str]:
    """The base that the last alkalinity calls for, where none was given since."""
    read = last.get("alkalinity")
    if read is None or _given_on(made, "carbonate") >= read.day:
        return []
    base = base_of(made.garden)
    chemical, purity = dosing.chemical(base.chemical), base.strength_pct / 100.0
    wanted = doses.carbonate_g(chemical, purity, made.start.case.litres, read.value)
    if not wanted > 0.0:
        return []
    value, given = _alkalinity(made, read.value), grams(made, wanted, base)
    return [made.say("startup-now-base", value=value, amount=given, name=base_name(base))]


def _ammonia_now(made: Made, last: Mapping[Parameter, Reading]) -> list[str]:
    """The ammonia that the last readings call for, or why there is none."""
    start, tan, nitrite, ph = made.start, last.get("tan"), last.get("nitrite"), last.get("ph")
    if tan is None:
        return []
    if _given_on(made, "ammonium_salt", "ammonia_water") >= tan.day:
        return [made.say("startup-now-given")]
    if ph is not None and ph.value <= doses.LOW_PH:
        return [made.say("panel-startup-none-acid")]
    same = nitrite is not None and nitrite.day == tan.day
    span = kits.Interval(nitrite.low, nitrite.high) if nitrite is not None and same else None
    why = doses.why_none(tan.value, span)
    if why is not None:
        return [made.say(f"panel-startup-none-{why.replace('_', '-')}")]
    rise = max(start.choice.next_tan_mg_l - tan.value, 0.0)
    given = amount(made, start.source, doses.amount(start.source, rise, start.case.litres))
    return [made.say("startup-now-dose", amount=given, name=source_name(start.source, made.garden))]


def _alkalinity(made: Made, value: float) -> str:
    """An amount of alkalinity in mg/L, and as the garden's kit counts it."""
    scale = made.scale("alkalinity")
    text = made.quantity(value, "alkalinity")
    if not kits.basis_is_known(scale) or scale.basis == "mg_l_caco3":
        return text
    unit = units.unit(scale.basis)
    return f"{text} ({unit.written(words.number(units.to(value, scale.basis)))})"


def doses_how(made: Made) -> str:
    """For how much water, and how the tables are read; with fish their feed and the stop values."""
    if by_fish(made) and made.fish_in is not None:
        return fish_in(made, made.fish_in)
    return made.say(
        "startup-doses-how",
        volume=made.volume,
        tan=words.number(made.start.choice.next_tan_mg_l),
        alkalinity=made.quantity(doses.ALKALINITY_KEPT_MG_L[1], "alkalinity"),
    )


def not_today(made: Made) -> list[str]:
    """When no ammonia is given, each as the end of a sentence; nothing where fish bring it."""
    if by_fish(made):
        return []
    scale = made.scale("tan")
    tan = made.quantity(doses.REDOSE_AT_TAN_MG_L, "nitrogen")
    if kits.basis_is_known(scale):
        lines = doses.ammonia_lines(made.start.source, made.start.case.litres, scale)
        tan = shown([line for line in lines if line.inside <= doses.REDOSE_AT_TAN_MG_L][-1], scale, made)
    nitrite = kit.limit(doses.HOLD_NITRITE_MG_L, made.scale("nitrite"), made.reader)
    if kit.PAST_END in nitrite:
        # A card that ends below it is read in thinned water, in its own numbers.
        card = made.scale("nitrite")
        nitrite = made.quantity(doses.HOLD_NITRITE_MG_L, "nitrogen")
        if card.basis == "NO2":
            own = words.number(units.from_n(doses.HOLD_NITRITE_MG_L, "NO2"))
            inside = words.number(doses.HOLD_NITRITE_MG_L)
            nitrite = made.say("kit-step", step=f"{own}{words.NO_BREAK_SPACE}NO2", inside=inside)
    return [
        made.say("startup-none-high", tan=tan, nitrite=nitrite),
        made.say("startup-none-off-scale"),
        made.say("startup-none-ph"),
    ]
