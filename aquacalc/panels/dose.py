"""How much of it, and how fast? A sentence with blanks, answered as steps with a test between, or why not."""

import math
from collections.abc import Mapping
from functools import partial

from aquacalc import crops, tables, units, words
from aquacalc.advice import dosing as advice
from aquacalc.advice.dosing import Plan, Request
from aquacalc.advice.finding import Amount
from aquacalc.garden import litres
from aquacalc.pages import html
from aquacalc.panels import lists
from aquacalc.panels.desk import Desk, reader_of
from aquacalc.panels.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame import Panel, Values, answer

KINDS = ("base", "supplement", "salt", "acid")
NO_CROP = "none"
SETTINGS = ("home", "school", "community")
DEGREES = {"metric": "dkh", "us": "dkh"}
"""A kit counts alkalinity by drops, mostly of one degree."""
ALWAYS = ("volume", "goal", "chemical", "strength", "ph", "setting", "days")


def controls(reader: words.Reader) -> dict[str, Field]:
    """The sentence first, then the water as it was read, then who stands in it."""
    say = words.say

    def ion(key: str) -> tuple[str, str]:
        return say("panel-dose-goal-ion", reader, element=key), key

    goals = [(say(f"panel-dose-goal-{key}", reader), key) for key in ("alkalinity", "ph")]
    goals += [ion(key) for key in advice.GOALS[2:]]

    def reading(key: str, kind: str, high: float, value: float | None = None) -> NumberField:
        label = say(f"panel-dose-{key}", reader)
        return NumberField(label, kind, value, reader, 0.0, high, optional=True)

    return {
        "volume": NumberField(say("panel-dose-volume", reader), "volume", 600.0, reader, 1.0, 1e6),
        "goal": ChoiceField(say("panel-dose-goal", reader), goals, "alkalinity", reader),
        "alkalinity": NumberField(
            say("panel-dose-alkalinity", reader),
            "alkalinity",
            35.7,
            reader,
            0.5,
            1000.0,
            shown_in=DEGREES,
        ),
        "to_alkalinity": NumberField(
            say("panel-dose-to", reader), "alkalinity", 71.39, reader, 0.0, 1000.0, shown_in=DEGREES
        ),
        "to_ph": NumberField(say("panel-dose-to", reader), "", 6.8, reader, 4.0, 10.0),
        "element": reading("element", "concentration", 5000.0),
        "to_element": NumberField(say("panel-dose-to", reader), "concentration", 2.0, reader, 0.0, 5000.0),
        "chemical": ChoiceField(say("panel-dose-chemical", reader), _chemicals(), advice.MILDEST, reader),
        "strength": NumberField(say("panel-dose-strength", reader), "share", 1.0, reader, 0.001, 1.0),
        "stock": NumberField(say("panel-dose-stock", reader), "", None, reader, 0.1, 1000.0, optional=True),
        "days": NumberField(say("panel-dose-days", reader), "", None, reader, 1.0, 365.0, optional=True),
        "ph": NumberField(say("panel-dose-ph", reader), "", 6.6, reader, 4.0, 10.0),
        "temperature": NumberField(say("panel-water-c", reader), "temperature", 24.0, reader, 0.0, 40.0),
        "tan": reading("tan", "concentration", 100.0),
        "calcium": reading("calcium", "concentration", 1000.0),
        "conductivity": reading("conductivity", "conductivity", 20_000.0),
        "species": ChoiceField(say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "crop": ChoiceField(
            say("panel-dose-crop", reader),
            [(say("panel-dose-crop-none", reader), NO_CROP), *lists.crops()],
            NO_CROP,
            reader,
        ),
        "setting": ChoiceField(
            say("panel-dose-setting", reader),
            [(say(f"panel-dose-setting-{key}", reader), key) for key in SETTINGS],
            "home",
            reader,
        ),
    }


def _chemicals() -> list[tuple[str, str]]:
    return sorted(
        (row.text("name"), row.key) for row in tables.load("chemicals") if row.text("kind") in KINDS
    )


def asked(values: Mapping[str, object]) -> tuple[str, ...]:
    """Names of the fields that matter for a goal and a chemical."""
    row = tables.load("chemicals").row(str(values["chemical"]))
    goal = str(values["goal"])
    names = list(ALWAYS)
    if row.text("kind") != "base":
        names.append("stock")
    names += {"alkalinity": ["to_alkalinity"], "ph": ["to_ph"]}.get(goal, ["element", "to_element"])
    if row.text("kind") == "base" or goal in ("alkalinity", "ph"):
        names += ["alkalinity", "temperature", "tan", "species"]
    if "slow" in row.listed("caution"):
        names.append("calcium")
    if row.number("na_g_g") > 0.0 or row.number("cl_g_g") > 0.0:
        names += ["crop", "conductivity"]
    return tuple(names)


def compute(values: Values) -> Plan:
    """The plan for the sentence as it stands."""
    goal = values["goal"]
    wished = values.get(f"to_{goal}", values["to_element"])

    def known(name: str) -> float:
        return math.nan if values[name] is None else float(values[name])

    return advice.plan(
        Request(
            chemical=values["chemical"],
            goal=goal,
            wished=wished,
            volume_l=values["volume"],
            ph=values["ph"],
            alkalinity_mg_l=values["alkalinity"],
            temperature_c=values["temperature"],
            strength=values["strength"],
            element_mg_l=known("element"),
            tan_mg_l=known("tan"),
            calcium_mg_l=known("calcium"),
            conductivity_us_cm=known("conductivity"),
            days=known("days"),
            stock_g_l=known("stock"),
            species=values["species"],
            setting=values["setting"],
            crops=() if values["crop"] == NO_CROP else (values["crop"],),
        )
    )


def draw(reader: words.Reader, made: Plan) -> html.Html:
    """The steps, or why not and the milder way."""
    return _refused(reader, made) if made.refusal is not None else _steps(reader, made)


def _refused(reader: words.Reader, made: Plan) -> html.Html:
    assert made.refusal is not None
    told = {one.name: said(one, reader) for one in made.refusal.amounts}
    told["name"] = _name(made)
    reason = made.refusal.reason
    title = words.say(f"panel-dose-no-{reason}", reader, **told)
    instead = words.say(f"panel-dose-instead-{reason}", reader, **told)
    if "portion" not in told:
        return answer(title, [instead])
    # Where a smaller portion is named, what goes with it stands beside it.
    never = html.paragraph(words.say("panel-dose-not", reader))
    return answer(title, [instead], never, html.listing(_never(reader, made)))


def said(amount: Amount, reader: words.Reader) -> str:
    """An amount as text; names that are parted by semicolons as a list."""
    if amount.kind == "text":
        return words.listed(str(amount.value).split("; "), reader)
    if amount.kind == "alkalinity":
        return degrees(amount.number, reader)
    return words.amount(amount, reader)


def degrees(alkalinity_mg_l: float, reader: words.Reader) -> str:
    """Alkalinity in the pages' unit, with German degrees beside it."""
    shown = words.number(units.unit("dkh").from_base(alkalinity_mg_l))
    amount = words.quantity(alkalinity_mg_l, "alkalinity", reader)
    return words.say("panel-dose-degrees", reader, amount=amount, degrees=shown)


def _name(made: Plan) -> str:
    return tables.load("chemicals").row(made.chemical.key).text("name")


def _steps(reader: words.Reader, made: Plan) -> html.Html:
    say = words.say
    amounts = {
        "name": _name(made),
        "grams": words.quantity(made.grams, "dose", reader),
        "portion": words.quantity(made.portion_g, "dose", reader),
    }
    whole = made.portions == 1
    if whole:
        title = say("panel-dose-answer-one", reader, name=amounts["name"], grams=amounts["grams"])
    else:
        title = say("panel-dose-answer", reader, **amounts)
    lines = _effects(reader, made)
    return answer(
        title,
        lines,
        html.element("ol", *(html.element("li", step) for step in _list_of_steps(reader, made))),
        html.paragraph(say("panel-dose-not", reader)),
        html.listing(_never(reader, made)),
    )


def _effects(reader: words.Reader, made: Plan) -> list[str]:
    say = words.say
    found = []
    if made.is_doubtful:
        dioxide = words.quantity(made.dioxide_mg_l, "concentration", reader)
        found.append(say("panel-dose-doubt", reader, dioxide=dioxide))
    if made.first is not None:
        slow = "slow" in made.cautions
        low, high = (words.quantity(ph, "ph", reader) for ph in (made.ph_low, made.ph_high))
        after = degrees(made.request.alkalinity_mg_l + made.rise_mg_l, reader)
        found.append(say("panel-dose-settled", reader, alkalinity=after, low=low, high=high))
        if not slow:
            at_once = words.quantity(made.first.ph_at_once, "ph", reader)
            before = words.quantity(made.first.ph_before, "ph", reader)
            found.append(say("panel-dose-at-once", reader, before=before, after=at_once))
    if made.request.goal not in ("alkalinity", "ph") and math.isnan(made.request.element_mg_l):
        found.append(say("panel-dose-none-known", reader))
    along = [
        say("panel-dose-ion", reader, amount=words.quantity(rise, "concentration", reader), element=element)
        for element, rise in made.elements_mg_l.items()
    ]
    if along:
        found.append(say("panel-dose-along", reader, list=words.listed(along, reader)))
    return found


def _list_of_steps(reader: words.Reader, made: Plan) -> list[str]:
    say, portion = words.say, words.quantity(made.portion_g, "dose", reader)
    steps = []
    if made.first is not None:
        line = words.quantity(made.tan_line_mg_l, "nitrogen", reader)
        ph = words.quantity(made.ph_judged, "ph", reader)
        steps.append(say("panel-dose-step-test", reader, line=line, ph=ph))
    else:
        steps.append(say("panel-dose-step-test-ion", reader))
    if "slow" in made.cautions:
        steps.append(say("panel-dose-step-slow", reader, portion=portion))
        steps.append(say("panel-dose-step-slow-after", reader))
        return steps
    caustic = bool({"caustic", "acid"} & set(made.cautions))
    if math.isnan(made.portion_ml):
        steps.append(say("panel-dose-step-weigh", reader, portion=portion))
    else:
        millilitres = words.quantity(made.portion_ml / 1000.0, "volume", reader)
        steps.append(say("panel-dose-stock-ml", reader, portion=millilitres))
    steps.append(say("panel-dose-step-caustic", reader) if caustic else say("panel-dose-step-pour", reader))
    if made.portions > 1:
        count = words.number(made.portions)
        steps.append(say("panel-dose-step-again", reader, count=count))
    else:
        steps.append(say("panel-dose-step-after", reader))
    return steps


def _never(reader: words.Reader, made: Plan) -> list[str]:
    say, name = words.say, _name(made)
    cautions = tables.load("cautions")
    found = [say("dose-never-date", reader), say("dose-never-mix", reader)]
    for caution in made.cautions:
        text = say(cautions.row(caution).text("words_key"), reader)
        found.append(say("hygiene-caution", reader, names=name, text=text))
    if made.chemical.is_hydroxide:
        found.append(say("panel-dose-first-aid", reader))
    found.append(say("panel-dose-storage", reader))
    return found


def known(desk: Desk) -> dict[str, object]:
    """The garden's whole water, its base on the shelf, its fish, its most salt-sensitive crop."""
    garden = desk.garden
    told: dict[str, object] = {
        "volume": litres.of(garden).whole,
        "setting": garden.site.setting,
        "species": garden.fish[0].species,
        "temperature": round(float(max(desk.balance.water_c.middle)), 1),
    }
    table = tables.load("chemicals")
    bases = [one for one in garden.products if table.row(one.chemical).text("kind") == "base"]
    if bases:
        told |= {"chemical": bases[0].chemical, "strength": bases[0].strength_pct / 100.0}
    sensitive = [
        name for name in {plan.crop for plan in garden.crops} if crops.crop(name).salt_threshold_ds_m > 0.0
    ]
    if sensitive:
        told["crop"] = min(sensitive, key=lambda name: (crops.crop(name).salt_threshold_ds_m, name))
    return told


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("dose", controls(reader), compute, partial(draw, reader), reader, asked=asked)
    if desk is not None:
        desk.fill(made, known)
    return made
