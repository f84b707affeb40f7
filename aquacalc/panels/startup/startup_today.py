"""I have tested: what do I give today? A reading in, the dose out, or why there is none."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import partial

from aquacalc import kits, units, words
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.pages import html, kit, startup_doses
from aquacalc.pages.startup import Made
from aquacalc.panels.frame.desk import Desk, in_round_numbers
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.panels.startup.startup import StartUpPanel
from aquacalc.panels.startup.startup_fields import counts_names, label, product_names
from aquacalc.startup import case, doses, methods, plan
from aquacalc.startup.doses import Source, Water
from aquacalc.startup.first_feed import Shown
from aquacalc.water import dosing

FOAMS: tuple[doses.Foam, ...] = ("not tried", "none", "lasting")


@dataclass(frozen=True)
class Today:
    """What a reading calls for. given: the dose, None where there is none, with why. base_g: of the base."""

    source: Source
    volume_l: float
    given: doses.Dose | None
    why: doses.NoDose | None
    base_g: float
    foam: doses.Foam
    acid: bool
    cold: bool = False


def controls(desk: Desk) -> dict[str, Field]:
    """The product, then the readings in the kit's own numbers."""
    reader, garden = desk.reader, desk.garden
    say = words.say

    def reading(name: str, value: float | None, high: float) -> NumberField:
        return NumberField(label(desk, name), "", value, reader, 0.0, high, optional=value is None)

    told = plan.choice_of(garden)
    foams = [(say(f"panel-startup-foam-{one.replace(' ', '-')}", reader), one) for one in FOAMS]
    thin = [(say(f"panel-startup-thin-{n}", reader), str(n)) for n in (1, 5, 10)]
    return {
        "product": ChoiceField(say("panel-startup-product", reader), product_names(), told.product, reader),
        "strength": NumberField(
            say("panel-startup-strength", reader), "share", 0.99, reader, 0.0, 1.0, optional=True
        ),
        "counts": ChoiceField(
            say("panel-startup-counts", reader), counts_names(reader), "NH3 by weight", reader
        ),
        "foam": ChoiceField(say("panel-startup-foam", reader), foams, "not tried", reader),
        "volume": NumberField(say("panel-whole-water", reader), "volume", 1000.0, reader, 1.0, 1e6),
        "tan": reading("tan", None, 500.0),
        "nitrite": reading("nitrite", None, 500.0),
        "thin": ChoiceField(say("panel-startup-thin", reader), thin, "1", reader),
        "ph": NumberField(say("panel-startup-ph", reader), "", None, reader, 4.0, 10.0, optional=True),
        "alkalinity": NumberField(
            say("panel-startup-alkalinity", reader),
            "alkalinity",
            None,
            reader,
            0.0,
            1000.0,
            optional=True,
            shown_in=kit_unit(garden),
        ),
        "temperature": NumberField(say("panel-water-now", reader), "temperature", 20.0, reader, 0.0, 45.0),
        "wished": NumberField(
            say("panel-startup-wished", reader),
            "",
            2.0,
            reader,
            0.1,
            50.0,
            beside="mg-l-n",
        ),
    }


def asked(values: Values) -> set[str]:
    """Only a solution's label counts in several ways, and only a solution is shaken."""
    return set(values) - (set() if values["product"] == doses.SOLUTION else {"counts", "foam"})


def compute(desk: Desk, values: Values) -> Today | None:
    """The dose of a reading, or why there is none; None before anything was tested."""
    strength = values["strength"]
    solution = values["product"] == doses.SOLUTION
    of = doses.source(
        values["product"],
        None if strength is None else 100.0 * strength,
        values["counts"],
        values["foam"] if solution else "none",
    )
    if values["tan"] is None or values["ph"] is None:
        return None
    tan = middle(Shown(values["tan"], scale_of(desk.garden, "tan")).interval(), values["tan"], desk, "tan")
    nitrite = None
    if values["nitrite"] is not None:
        shown = Shown(values["nitrite"], scale_of(desk.garden, "nitrite"), float(values["thin"]))
        nitrite = shown.interval()
    alkalinity = math.nan if values["alkalinity"] is None else values["alkalinity"]
    base = startup_doses.base_of(desk.garden)
    base_g = 0.0
    if alkalinity < doses.ALKALINITY_KEPT_MG_L[0]:
        chemical, purity = dosing.chemical(base.chemical), base.strength_pct / 100.0
        base_g = doses.carbonate_g(chemical, purity, values["volume"], alkalinity)
    why = doses.why_none(tan, nitrite, float(values["thin"]))
    acid = values["ph"] <= doses.LOW_PH
    given = None
    if why is None and not acid:
        water = Water(values["volume"], tan, values["ph"], values["temperature"], alkalinity)
        given = doses.dose(of, water, values["wished"])
    cold = values["temperature"] < methods.UNSURE_C
    foam: doses.Foam = values["foam"] if solution else "none"
    return Today(of, values["volume"], given, why, base_g, foam, acid, cold)


def kit_unit(garden: Garden) -> dict[str, str]:
    """The unit in which the garden's own kit counts alkalinity, for readers of all units: a 3 that is read in
    dKH shall not be taken for 3 mg/L."""
    basis = kit.scale_of(garden, "alkalinity").basis or ""
    known = basis in {unit.key for unit in units.common("alkalinity")}
    return {"metric": basis, "us": basis} if known else {}


def scale_of(garden: Garden, parameter: str) -> kits.Scale | None:
    """The garden's kit for a parameter; None where none is described, so that numbers count as N."""
    found = kit.scale_of(garden, parameter)
    described = bool(found.steps) or found.drop is not None or kits.basis_is_known(found)
    return found if described else None


def middle(span: kits.Interval, shown: float, desk: Desk, parameter: str) -> float:
    """A reading as N: what its number stands for, whatever the kit leaves open beside it."""
    scale = scale_of(desk.garden, parameter)
    value = shown if scale is None else kits.as_inside(shown, scale)
    return span.low if value is None else value


def draw(desk: Desk, panel: StartUpPanel, found: Today | None) -> html.Html:
    """Base first where it is needed, then the ammonia, then how to mix."""
    reader = desk.reader
    say = words.say
    if desk.garden.start_up.state != "new" and desk.garden.fish:
        return answer(say("panel-startup-fish-there", reader), [say("panel-startup-fish-there-why", reader)])
    if found is None:
        return answer(say("panel-startup-today-empty", reader), [say("panel-startup-today-why", reader)])
    start = panel.start
    if start is None:
        return html.Html("")
    case = replace(start.case, litres=found.volume_l)
    forecast = replace(start.forecast, case=case)
    made = Made(desk.garden, replace(start, source=found.source, forecast=forecast), reader)
    lines = []
    base = startup_doses.base_of(desk.garden)
    if found.base_g > 0.0:
        grams = startup_doses.grams(made, found.base_g, base)
        lines.append(say("panel-startup-base", reader, amount=grams, name=startup_doses.base_name(base)))
    if found.given is None:
        reason = "acid" if found.acid else str(found.why).replace("_", "-")
        return answer(say(f"panel-startup-none-{reason}", reader), lines)
    if found.cold:
        unsure = words.quantity(methods.UNSURE_C, "temperature", reader)
        lines.append(say("panel-startup-cold", reader, unsure=unsure))
    given = found.given
    title = say(
        "panel-startup-give",
        reader,
        amount=startup_doses.amount(made, found.source, given.amount),
        name=startup_doses.source_name(found.source, desk.garden),
        rise=words.quantity(given.rise_mg_l, "nitrogen", reader),
        volume=words.quantity(found.volume_l, "volume", reader),
    )
    lines.append(
        say(
            "panel-startup-after",
            reader,
            ph=words.quantity(given.ph_settled, "ph", reader),
            unionised=words.quantity(given.unionised_mg_l, "nitrogen", reader),
            alkalinity=words.quantity(given.alkalinity_cost_mg_l, "alkalinity", reader),
        )
    )
    if given.in_portions:
        lines.append(say("startup-doses-portions", reader, ph=words.quantity(given.ph_at_once, "ph", reader)))
    if found.source.doubtful:
        lines.append(say("startup-doses-doubt", reader))
    if found.foam == "not tried":
        lines.append(say("panel-startup-shake", reader))
    lines.append(say("startup-mix-solution" if found.source.is_solution else "startup-mix-salt", reader))
    lines.append(say("panel-startup-then", reader))
    return answer(title, lines)


def known(start: StartUpPanel, desk: Desk) -> dict[str, object]:
    """Litres, product and water temperature of the garden; the readings are the reader's own."""
    told = plan.choice_of(desk.garden)
    shown = start.start
    water = {}
    if shown is not None:
        now_c = case.on_day(shown.case.water_c, shown.forecast.today)
        water = {"temperature": in_round_numbers(now_c, "temperature", desk.reader)}
    return water | {
        "product": told.product,
        "strength": None if told.strength_pct is None else told.strength_pct / 100.0,
        "volume": in_round_numbers(litres.litres_of(desk.garden).whole, "volume", desk.reader),
    }


class TodayPanel(Panel):
    """A refusal takes the last dose away: nobody shall pour what stood there for another bottle."""

    def _stale(self, *sentences: str) -> None:
        usual, none = (words.say(f"panel-{one}", self.reader) for one in ("stale", "startup-today-stale"))
        super()._stale(*(none if one == usual else one for one in sentences))
        self.result.value = ""


def panel(desk: Desk, start: StartUpPanel) -> Panel:
    """The panel, filled from the garden. start: the panel of the start-up, for the names of things."""
    made = TodayPanel(
        "start-up-today",
        controls(desk),
        partial(compute, desk),
        partial(draw, desk, start),
        desk.reader,
        asked=asked,
    )
    desk.fill(made, partial(known, start))
    return made
