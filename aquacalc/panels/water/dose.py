"""How much of it, and how fast? A sentence with blanks, answered as steps with a test between, or why not."""

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial

import ipywidgets as widgets

from aquacalc import crops, tables, units, words
from aquacalc.advice import trail as rests
from aquacalc.advice.doses import planning, ratio, refusals, request, weekly
from aquacalc.advice.doses.answer import Plan
from aquacalc.advice.doses.jumps import Jump, Price, dearer, of_plan
from aquacalc.advice.doses.request import Request
from aquacalc.advice.finding import Amount
from aquacalc.advice.reading.given import Given
from aquacalc.garden import litres
from aquacalc.garden.model import BaseHow, Product
from aquacalc.pages import html, trail
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, in_round_numbers, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.panels.water import dose_steps
from aquacalc.panels.water.reading import ReadingPanel, counted_garden
from aquacalc.sentences import base_turns
from aquacalc.tables import Row
from aquacalc.water import dosing
from aquacalc.water.chlorine import ACID_REAGENT, SUPPLIERS_MOST_MG_L

LEAST_ALKALINITY_MG_L = 0.5
"""With less no pH can be reckoned."""
KINDS = ("base", "supplement", "salt", "acid", "dechlorinator")
NO_CROP = "none"
SETTINGS = ("home", "school", "community")
SCALE = {"metric": "g", "us": "g"}
"""Kitchen scales read grams."""
DEGREES = {"metric": "dkh", "us": "dkh"}
"""A kit counts alkalinity by drops, mostly of one degree."""
FIRST = {
    "alkalinity": dosing.MILDEST_BASE,
    "ph": dosing.MILDEST_BASE,
    "Fe": "fe_dtpa",
    "K": "potassium_sulphate",
    "Ca": "gypsum",
    "Mg": "epsom_salt",
    "Cl": "calcium_chloride_dihydrate",
    "chlorine": "thiosulfate_pentahydrate",
}
"""What is chosen at first for a wish: nothing for adults only, nothing that brings what was not asked for."""
AIMS = {"Fe": 2.0, "K": 40.0, "Ca": 40.0, "Mg": 10.0, "Cl": 20.0}
"""What is wished of an element at first, mg/L: the low end of the targets for plants (iron: the usual one;
water section 13, practice); of chloride enough against 1 mg/L of nitrite as N (water section 4)."""
UNKNOWN_TANK_L = 100.0
"""Stands in the field where nobody told the litres of another tank. Common practice, no source."""
FIRST_GOAL = "alkalinity"
FROM_READING = ("alkalinity", "ph", "temperature", "tan")
NAMES_OF = {
    "alkalinity": "word-alkalinity",
    "ph": "word-ph",
    "temperature": "word-temperature",
    "tan": "word-tan",
    "volume": "panel-dose-not-read-litres",
    "species": "panel-dose-not-read-fish",
}
"""What a reading may tell, and the keys of its names."""


class AmmoniaField(NumberField):
    """Ammonia as N in mg/L; what the number counts may stand behind it, as in `2 NH3`."""

    def _read(self, text: str) -> float | None:
        match = re.fullmatch(r"(?i)(.+?)\s*(?:\bas\s+)?\b(NH3|NH4|N)", text.strip())
        if match is None:
            return super()._read(text)
        value = super()._read(match[1])
        return None if value is None else units.as_n(value, match[2].upper())


class DosePanel(Panel):
    """A panel whose list of chemicals follows the wish, the place, and where it goes.

    whence: what was taken from a reading, and what it did not tell.
    """

    def __init__(self, desk: Desk | None) -> None:
        reader, self.desk = reader_of(desk), desk
        self.whence = widgets.HTML()
        self._goal, self._chemical_told = FIRST_GOAL, False
        super().__init__(
            "dose",
            controls(reader),
            partial(compute, desk=desk),
            partial(draw, reader),
            reader,
            below=[self.whence],
            asked=asked,
        )

    def follow(self, judged: ReadingPanel) -> None:
        """Take the water, its litres and its fish from the reading of another panel."""
        if judged.told is None:
            return
        told, missing = read_above(judged.told.answer.judgement.given)
        garden = counted_garden(judged.desk, judged.values)
        # Another tank has neither the shelf nor the log of the garden.
        self.compute = partial(compute, desk=None if garden is None else self.desk)
        unread: dict[str, object] = {"tan": None}
        if garden is None:
            # Too little given to a large tank does no harm; the garden's portion in a small one would.
            unread["volume"] = UNKNOWN_TANK_L
        elif "volume" in told:
            told["volume"] = in_round_numbers(
                judged.told.answer.judgement.given.litres, "volume", self.reader
            )
        self.fill(unread | told)
        said = []
        for key, names in (("panel-dose-from-reading", list(told)), ("panel-dose-not-read", missing)):
            if names:
                named = [words.say(NAMES_OF[name], self.reader) for name in names]
                said.append(words.say(key, self.reader, what=words.listed(named, self.reader)))
        ammonia = judged.told.answer.judgement.given.measures.get("tan")
        if ammonia is not None and ammonia.beyond == "above":
            said.append(words.say("what-if-open", self.reader))
        self.whence.value = html.join(*map(html.paragraph, said))

    def fill(self, values: Values) -> None:
        """Put values into the fields and answer once."""
        if "chemical" in values:
            chosen = self.fields["chemical"]
            assert isinstance(chosen, ChoiceField)
            chosen.offer(_named(tables.load("chemicals").rows), str(values["chemical"]))
        if values.get("goal", self._goal) != self._goal and "to_element" in values:
            self._goal = str(values["goal"])
        self._chemical_told = "chemical" in values
        super().fill(values)
        self._chemical_told = False

    def refresh(self) -> None:
        """Answer from the fields, after the list of chemicals was made to fit them."""
        chosen, goal = self.fields["chemical"], str(self.values["goal"])
        assert isinstance(chosen, ChoiceField)
        if goal != self._goal:
            # A content that was wished of one element is none for another.
            self._goal = goal
            self.fields["to_element"].set(AIMS.get(goal, AIMS["Fe"]))
            if goal in AIMS and not self._chemical_told:
                # A base brings potassium or calcium, too, and moves pH: nobody asked for that.
                chosen.offer(_named(tables.load("chemicals").rows), FIRST[goal])
        fitting, now = offered(self.values), chosen.value
        first = FIRST[str(self.values["goal"])]
        chosen.offer(fitting, now if now in {key for _, key in fitting} else first)
        super().refresh()


@dataclass(frozen=True)
class Answer:
    """A plan, and what else is known of the garden. next_key: the chemical of the next base, empty for none;
    week: None without a garden and where no base is asked for; jumps: right after the first portion of its
    first day, by the way it is given; dearer: the usual target pH and the higher one that was asked for."""

    plan: Plan
    next: ratio.NextBase | None = None
    next_key: str = ""
    week: weekly.Weekly | None = None
    jumps: Mapping[BaseHow, Jump] = field(default_factory=dict)
    dearer: tuple[Price, Price] | None = None


def offered(values: Values) -> list[tuple[str, str]]:
    """Names and keys of what changes the wish and may be offered: no acid for the loop, in a school nothing
    that is for adults only."""
    rows = [
        row
        for row in tables.load("chemicals")
        if row.text("kind") in KINDS
        and refusals.works_for(row, values["goal"])
        and refusals.may_offer(row, values["setting"])
        and (row.text("kind") != "acid" or values["into"] == "vessel")
    ]
    return _named(rows)


def _named(rows: Sequence[Row]) -> list[tuple[str, str]]:
    return sorted((row.text("name"), row.key) for row in rows)


def controls(reader: words.Reader) -> dict[str, Field]:
    """The sentence first, then the water as it was read, then who stands in it."""
    say = words.say

    def choice(name: str, keys: Sequence[str], value: str) -> ChoiceField:
        options = [(say(f"panel-dose-{name}-{key}", reader), key) for key in keys]
        return ChoiceField(say(f"panel-dose-{name}", reader), options, value, reader)

    goals = [(say(f"panel-dose-goal-{key}", reader), key) for key in ("alkalinity", "ph")]
    ions = [key for key in request.GOALS if key not in ("alkalinity", "ph", "chlorine")]
    goals += [
        (say("panel-dose-goal-ion", reader, element=dose_steps.element_name(key, reader)), key)
        for key in ions
    ]
    goals.append((say("panel-dose-goal-chlorine", reader), "chlorine"))

    def reading(key: str, kind: str, high: float, low: float = 0.0, beside: str = "") -> NumberField:
        label = say(f"panel-dose-{key}", reader)
        return NumberField(label, kind, None, reader, low, high, optional=True, beside=beside)

    def alkalinity(key: str, value: float, low: float) -> NumberField:
        label = say(f"panel-dose-{key}", reader)
        return NumberField(label, "alkalinity", value, reader, low, 1000.0, shown_in=DEGREES)

    def number(key: str, kind: str, value: float, low: float, high: float) -> NumberField:
        return NumberField(say(key, reader), kind, value, reader, low, high)

    return {
        "goal": ChoiceField(say("panel-dose-goal", reader), goals, FIRST_GOAL, reader),
        "into": choice("into", ("loop", "vessel"), "loop"),
        "volume": number("panel-dose-volume", "volume", 600.0, 1.0, 1e6),
        "vessel_volume": number("panel-dose-vessel-volume", "volume", 200.0, 1.0, 1e6),
        "alkalinity": alkalinity("alkalinity", 35.7, LEAST_ALKALINITY_MG_L),
        "to_alkalinity": alkalinity("to", 71.39, 0.0),
        "to_ph": number("panel-dose-to", "", 6.8, 4.0, 10.0),
        "element": reading("element", "concentration", 5000.0),
        "to_element": number("panel-dose-to", "concentration", AIMS["Fe"], 0.0, 5000.0),
        "chlorine": number("panel-dose-chlorine-now", "concentration", SUPPLIERS_MOST_MG_L, 0.0, 20.0),
        "chemical": ChoiceField(
            say("panel-dose-chemical", reader),
            _named(tables.load("chemicals").rows),
            dosing.MILDEST_BASE,
            reader,
        ),
        "strength": reading("strength", "share", 1.0, 0.001),
        "spoon": NumberField(
            say("panel-dose-spoon", reader), "mass", None, reader, 0.05, 1000.0, optional=True, shown_in=SCALE
        ),
        "stock": reading("stock", "", 1000.0, 0.1, "g-l"),
        "days": reading("days", "", 365.0, 1.0, "days"),
        "ph": number("panel-dose-ph", "", 6.6, 4.0, 10.0),
        "temperature": number("panel-water-c", "temperature", 24.0, 0.0, 40.0),
        "tan": AmmoniaField(
            say("panel-dose-tan", reader), "concentration", None, reader, 0.0, 100.0, optional=True
        ),
        "calcium": reading("calcium", "concentration", 1000.0),
        "potassium": reading("potassium", "concentration", 5000.0),
        "tap_calcium": reading("tap-calcium", "concentration", 1000.0),
        "conductivity": reading("conductivity", "conductivity", 20_000.0),
        "species": ChoiceField(say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "crop": ChoiceField(
            say("panel-dose-crop", reader),
            [(say("panel-dose-crop-none", reader), NO_CROP), *lists.crops()],
            NO_CROP,
            reader,
        ),
        "setting": choice("setting", SETTINGS, "home"),
    }


def asked(values: Mapping[str, object]) -> tuple[str, ...]:
    """Names of the fields that matter for a goal, a chemical and where it goes."""
    row = tables.load("chemicals").row(str(values["chemical"]))
    kind, goal, loop = row.text("kind"), str(values["goal"]), values["into"] == "loop"
    names = ["into", "volume" if loop else "vessel_volume", "goal", "chemical", "strength", "setting"]
    if kind != "acid":
        names.append("spoon")
    if goal == "chlorine":
        acid = ["ph", "alkalinity", "temperature"] if row.key == ACID_REAGENT else []
        return (*names, "chlorine", *acid)
    names.append("ph")
    if loop:
        names.append("days")
    if kind not in ("base", "acid"):
        names.append("stock")
    names += {"alkalinity": ["to_alkalinity"], "ph": ["to_ph"]}.get(goal, ["element", "to_element"])
    if kind in ("base", "acid"):
        names += ["alkalinity", "temperature"]
    if kind == "base":
        names += ["calcium"]
        names += ["tan", "species", "potassium", "tap_calcium"] if loop else []
    if row.number("na_g_g") > 0.0 or row.number("cl_g_g") > 0.0:
        names += ["crop", "conductivity"]
    return tuple(names)


def compute(values: Values, desk: Desk | None = None) -> Answer:
    """The plan for the sentence as it stands, with what the garden and its log tell besides."""
    goal = values["goal"]
    shelf = () if desk is None else desk.garden.products
    wished = 0.0 if goal == "chlorine" else values.get(f"to_{goal}", values["to_element"])

    def known(name: str) -> float:
        return math.nan if values[name] is None else float(values[name])

    own = next((one for one in shelf if one.chemical == values["chemical"]), None)
    in_loop = values["into"] == "loop"
    made = planning.plan(
        Request(
            chemical=values["chemical"],
            goal=goal,
            wished=wished,
            volume_l=values["volume" if in_loop else "vessel_volume"],
            ph=values["ph"],
            alkalinity_mg_l=values["alkalinity"],
            temperature_c=values["temperature"],
            strength=_strength(values, own),
            element_mg_l=known("chlorine" if goal == "chlorine" else "element"),
            tan_mg_l=known("tan") if in_loop else math.nan,
            calcium_mg_l=known("calcium"),
            conductivity_us_cm=known("conductivity"),
            days=known("days") if in_loop else math.nan,
            stock_g_l=known("stock"),
            spoon_g=_spoon(values, own),
            species=values["species"],
            setting=values["setting"],
            crops=() if values["crop"] == NO_CROP else (values["crop"],),
            into=values["into"],
        )
    )
    if not (in_loop and made.request.wants_base):
        return Answer(made)
    return _with_garden(made, values, desk, shelf)


def _strength(values: Values, own: Product | None) -> float:
    """As typed, else as on the shelf, else as the product is mostly sold."""
    if values["strength"] is not None:
        return float(values["strength"])
    if own is not None:
        return own.strength_pct / 100.0
    row, of = tables.load("chemicals").row(values["chemical"]), dosing.chemical(values["chemical"])
    iron = of.elements["Fe"]
    return iron if iron > 0.0 and not math.isnan(row.number("fe_high_g_g")) else of.purity_typical


def _spoon(values: Values, own: Product | None) -> float:
    if values["spoon"] is not None:
        return float(values["spoon"])
    return math.nan if own is None or own.spoon_g is None else own.spoon_g


def _with_garden(made: Plan, values: Values, desk: Desk | None, shelf: Sequence[Product]) -> Answer:
    """Which base is next, and how much a week."""
    log = None if desk is None else desk.log
    until = None if log is None or not log.rows else log.rows[-1].day

    def of(name: str) -> float:
        return math.nan if values[name] is None else float(values[name])

    minerals = ratio.Minerals(
        potassium_mg_l=of("potassium"),
        calcium_mg_l=of("calcium"),
        top_up_calcium_mg_l=of("tap_calcium"),
        given_potassium_g=0.0 if log is None or until is None else ratio.given_g(log, until, "K"),
        given_calcium_g=0.0 if log is None or until is None else ratio.given_g(log, until, "Ca"),
    )
    turn = ratio.next_base(minerals)
    week = None
    if desk is not None:
        feed = float(desk.balance.demand.feed_g_day.middle.mean())
        week = weekly.of_garden(desk.garden, feed, log)
    key = ratio.base_of(turn.metal, values["setting"], shelf)
    return Answer(made, turn, key, week, of_plan(made), dearer(made))


def draw(reader: words.Reader, found: Answer) -> html.Html:
    """The steps, or why not and the milder way."""
    made = found.plan
    if made.refusal is not None:
        return _refused(reader, made)
    return answer(
        dose_steps.title(reader, made),
        dose_steps.effects(reader, made),
        html.element("ol", *(html.element("li", step) for step in dose_steps.steps(reader, made))),
        *map(html.paragraph, _around(reader, found)),
        dose_steps.care(reader, made),
        dose_steps.never(reader),
        trail.fold(rests.of_rows("chemicals", [made.chemical.key]), reader),
    )


def _refused(reader: words.Reader, made: Plan) -> html.Html:
    assert made.refusal is not None
    told = {one.name: said(one, reader) for one in made.refusal.amounts}
    told["name"] = dose_steps.name_of(made)
    reason = made.refusal.reason
    if made.request.goal == "ph" and reason.startswith("nothing-to"):
        for name in ("now", "wished"):
            told[name] = words.say("panel-dose-sentence-ph", reader, ph=told[name])
    title = words.say(f"panel-dose-no-{reason}", reader, **told)
    lines = [words.say(f"panel-dose-instead-{reason}", reader, **told)]
    if _leaves_out(made):
        lines.append(words.say("panel-dose-school-left-out", reader))
    if "portion" not in told:
        return answer(title, lines)
    # Where a smaller portion is named, what goes with it stands beside it.
    return answer(title, lines, dose_steps.care(reader, made), dose_steps.never(reader))


def _leaves_out(made: Plan) -> bool:
    """Whether a school is not offered everything for this wish: bases and acids."""
    return made.request.setting == "school" and made.request.wants_base


def said(amount: Amount, reader: words.Reader) -> str:
    """An amount as text; names that are parted by semicolons as a list."""
    if amount.kind == "text":
        return words.listed(str(amount.value).split("; "), reader)
    if amount.kind == "alkalinity":
        return dose_steps.degrees(amount.number, reader)
    return words.amount(amount, reader)


def _jumps(reader: words.Reader, found: Answer) -> Iterator[str]:
    """How high a day's base jumps by the way it is given, and what a high target costs."""
    if found.jumps:
        known = not math.isnan(found.plan.request.tan_mg_l)
        key = "panel-dose-jumps" if known else "panel-dose-jumps-ph"
        yield words.say(key, reader, **base_turns.jumps(reader, found.jumps))
    if found.dearer is not None:
        usual, high = found.dearer
        told = {"usual": usual, "high": high}
        amounts = {
            f"{name}-{what}": words.quantity(value, kind, reader)
            for name, one in told.items()
            for what, value, kind in (
                ("ph", one.ph, "ph"),
                ("unionised", one.unionised_mg_l, "nitrogen"),
                ("ration", 100.0 * one.ration, "percent"),
                ("alkalinity", one.alkalinity_mg_l, "alkalinity"),
            )
        }
        yield words.say(
            "panel-dose-dearer",
            reader,
            tan=words.quantity(usual.tan_mg_l, "nitrogen", reader),
            grams=dose_steps.weighed(high.grams - usual.grams, found.plan, reader),
            name=dose_steps.name_of(found.plan),
            **amounts,
        )


def _around(reader: words.Reader, found: Answer) -> list[str]:
    """Whose turn it is, how much a week, and what a school does not offer."""
    lines = list(_jumps(reader, found))
    if found.next is not None:
        lines.append(base_turns.turn(reader, found.next, found.next_key))
    if found.week is not None:
        request = found.plan.request
        lines += base_turns.week(reader, found.week, request.chemical, request.volume_l, request.strength)
    if _leaves_out(found.plan):
        lines.append(words.say("panel-dose-school-left-out", reader))
    return lines


def known(desk: Desk) -> dict[str, object]:
    """The garden's whole water, its base on the shelf, its fish, its most salt-sensitive crop, its tap."""
    garden = desk.garden
    told: dict[str, object] = {
        "volume": in_round_numbers(litres.litres_of(garden).whole, "volume", desk.reader),
        "setting": garden.site.setting,
        "species": garden.fish[0].species,
        "temperature": in_round_numbers(
            float(max(desk.balance.water_c.middle)), "temperature", desk.reader, 2
        ),
        "tap_calcium": garden.top_up.calcium_mg_l,
        "to_ph": garden.targets.base_to_ph,
    }
    if garden.top_up.chlorine_max_mg_l > 0.0:
        told["chlorine"] = garden.top_up.chlorine_max_mg_l
    table = tables.load("chemicals")
    bases = [
        one.chemical
        for one in garden.products
        if table.row(one.chemical).text("kind") == "base"
        and refusals.may_offer(table.row(one.chemical), garden.site.setting)
    ]
    if bases:
        told["chemical"] = bases[0]
    sensitive = [
        name for name in {plan.crop for plan in garden.crops} if crops.crop(name).salt_threshold_ds_m > 0.0
    ]
    if sensitive:
        told["crop"] = min(sensitive, key=lambda name: (crops.crop(name).salt_threshold_ds_m, name))
    return told


def read_above(given: Given) -> tuple[dict[str, object], tuple[str, ...]]:
    """What a judged reading tells of the water, its litres and its fish; names of what it does not tell."""
    told: dict[str, object] = {
        name: given.measures[name].value for name in FROM_READING if name in given.measures
    }
    if "alkalinity" in told:
        # Shown in degrees, of which no kit reads hundredths.
        degrees = units.unit("dkh")
        read = degrees.to_base(round(degrees.from_base(given.value("alkalinity")), 1))
        told["alkalinity"] = max(read, LEAST_ALKALINITY_MG_L)
    if not math.isnan(given.litres):
        told["volume"] = given.litres
    if given.species and given.species[0].key in {key for _, key in lists.species()}:
        told["species"] = given.species[0].key
    return told, tuple(name for name in NAMES_OF if name not in told)


def panel(desk: Desk | None = None, judged: ReadingPanel | None = None) -> DosePanel:
    """The panel, filled from the garden where there is one, and then from each new reading of `judged`."""
    made = DosePanel(desk)
    if desk is not None:
        desk.fill(made, known)
    if judged is not None:
        made.follow(judged)
        judged.on_answer(partial(made.follow, judged))
    return made
