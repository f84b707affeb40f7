"""What is in my top-up water, and what must I do with it? One panel with one question at a time.

Chlorine, litres a day, a hard year, a plan for hard water, a mixture, a roof.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from typing import Any

import numpy as np

from aquacalc import tables, units, words
from aquacalc.advice import shelf
from aquacalc.advice.new_water import hard_water, rain, use_up, water_use
from aquacalc.advice.new_water import top_up as advice
from aquacalc.constants import MONTHS_PER_YEAR
from aquacalc.errors import InputError, Problem
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.pages.html import Html
from aquacalc.panels.frame import digits, lists
from aquacalc.panels.frame.dates import DateField, coming, not_past
from aquacalc.panels.frame.desk import Desk, in_round_numbers, reader_of
from aquacalc.panels.frame.fields import (
    ChoiceField,
    Field,
    NumberField,
    side_by_side,
    text_box,
    unit_list,
)
from aquacalc.panels.frame.panel import Panel, Values
from aquacalc.panels.water import top_up_answers as answers
from aquacalc.uncertainty import Triangle
from aquacalc.water import carbonate
from aquacalc.water.chlorine import SUPPLIERS_MOST_MG_L

DISINFECTANTS = ("not known", "chlorine", "chloramine", "none")
ROOFS = ("not-known", "plain", "zinc", "copper", "lead", "timber", "felt", "moss")
WEATHERS = ("cool", "mild", "hot-humid", "hot-dry", "indoors")
OF_GARDEN = "garden"
"""The weather of the garden file, month by month."""
QUANTITIES = ("alkalinity", "hardness", "sodium", "conductivity")
USUAL_TOP_UP_L_D = 20.0
USUAL_FEED_G_D = 60.0
USUAL_RAIN_MM = 50.0
_LOOP = ("whole", "daily", "discharge", "feed", "protein", "planted")
_OF_AMMONIA = ("ph", "temperature", "species")
ASKED = {
    "treat": (
        "told",
        "chlorine",
        "new",
        "reagent",
        "strength",
        "whole",
        "test_limit",
        "bucket_chlorine",
        "bucket_ammonia",
        "tan",
        "ph",
        "temperature",
        "species",
    ),
    "daily": ("weather", "open", "planted", "whole", "counted"),
    "year": ("alkalinity", "hardness", "sodium", "conductivity", *_LOOP, "now", "hold"),
    "plan": ("start", "now", "alkalinity", *_LOOP, "seen"),
    "mix": (
        "alkalinity",
        "tap_ph",
        "hardness",
        "sodium",
        "second_alkalinity",
        "second_ph",
        "second_hardness",
        "second_sodium",
        "wished",
        "new",
        "temperature",
    ),
    "rain": ("roof", "roof_kind", "rain", "barrel", "daily"),
}

Found = advice.Treatment | answers.Daily | hard_water.Year | use_up.UsePlan | answers.Mixed | rain.RoofYear


class YearField(Field):
    """One number for all months, or twelve in one box, January first; what lies outside is refused."""

    def __init__(self, label: str, kind: str, value: float, reader: words.Reader, high: float) -> None:
        self.kind, self.high = kind, high
        self._value = (value,) * MONTHS_PER_YEAR
        self.box, self.unit = text_box(label), unit_list(kind, reader, {})
        super().__init__(label, reader, [side_by_side(self.box, self.unit)])
        self.set(self._value)
        self.box.observe(self.typed, "value")
        self.unit.observe(self.unit_chosen, "value")

    @property
    def value(self) -> tuple[float, ...]:
        """The twelve numbers in the base unit of their kind."""
        return self._value

    def set(self, value: Any) -> None:
        """Put twelve values in; twelve times the same are shown as one."""
        self._value, self.problem, self.sentence.value = tuple(value), None, ""
        shown = self._value[:1] if len(set(self._value)) == 1 else self._value
        self._busy = True
        self.box.value = "; ".join(map(self._shown, shown))
        self._busy = False

    def unit_chosen(self, change: dict[str, Any]) -> None:
        """Show the same values in another unit."""
        if self.problem is None:
            self.set(self._value)

    def typed(self, change: dict[str, Any]) -> None:
        """Read one number or twelve."""
        if self._busy:
            return
        text = str(change["new"])
        try:
            read = self._read(text)
            outside = [one for one in read if not 0.0 <= one <= self.high]
            if outside:
                ends = (self._shown(0.0), self._shown(self.high), units.unit(self.unit.value).label)
                raise InputError(Problem("problem-range", self.label, self._shown(outside[0]), ends))
        except InputError as error:
            self.refuse(error.problems)
            return
        self._value = read
        self.accept()

    def _read(self, text: str) -> tuple[float, ...]:
        try:
            return (units.read(text, self.kind, self.label, self.unit.value),) * MONTHS_PER_YEAR
        except InputError:
            parts = [part for part in (text.split(";") if ";" in text else text.split()) if part.strip()]
            if len(parts) < 2:
                raise
        if len(parts) != MONTHS_PER_YEAR:
            raise InputError(Problem("problem-one-or-twelve", self.label, str(len(parts))))
        return tuple(units.read(part, self.kind, self.label, self.unit.value) for part in parts)

    def _shown(self, value: float) -> str:
        return digits.as_written(units.to(value, self.unit.value), self.kind)


def controls(reader: words.Reader, has_garden: bool = False) -> dict[str, Field]:
    """The question first, then what it asks for."""
    say = words.say

    def chosen(key: str, options: tuple[str, ...], value: str) -> ChoiceField:
        offered = [(say(f"panel-top-up-{key}-{one.replace(' ', '-')}", reader), one) for one in options]
        return ChoiceField(say(f"panel-top-up-{key}", reader), offered, value, reader)

    def number(key: str, kind: str, value: float | None, high: float, low: float = 0.0) -> NumberField:
        label = say(f"panel-top-up-{key}", reader)
        return NumberField(label, kind, value, reader, low, high, optional=value is None)

    def yearly(key: str, kind: str, value: float, high: float) -> YearField:
        return YearField(say(f"panel-top-up-{key}", reader), kind, value, reader, high)

    reagent = say("panel-top-up-reagent", reader)
    weathers = (OF_GARDEN, *WEATHERS) if has_garden else WEATHERS
    lines = {
        "line_alkalinity": number("line-alkalinity", "alkalinity", 80.0, 1000.0, 1.0),
        "line_hardness": number("line-hardness", "hardness", 300.0, 5000.0, 1.0),
        "line_sodium": number("line-sodium", "concentration", 50.0, 1000.0, 1.0),
        "line_conductivity": number("line-conductivity", "conductivity", 1500.0, 20000.0, 10.0),
    }
    return {
        "question": chosen("question", tuple(ASKED), "treat"),
        "told": chosen("told", DISINFECTANTS, "not known"),
        "chlorine": number("chlorine", "concentration", SUPPLIERS_MOST_MG_L, 20.0),
        "new": number("new", "volume", in_round_numbers(100.0, "volume", reader, 2), 1e5, 0.5),
        "reagent": ChoiceField(reagent, _reagents(), "thiosulfate_pentahydrate", reader),
        "strength": number("strength", "share", 1.0, 1.0, 0.001),
        "test_limit": number("test-limit", "concentration", advice.STRIP_LIMIT_MG_L, 5.0, 0.001),
        "bucket_chlorine": number("bucket-chlorine", "concentration", None, 20.0),
        "bucket_ammonia": number("bucket-ammonia", "concentration", None, 20.0),
        "start": DateField(say("panel-top-up-start", reader), date.today(), reader, date.today()),
        "now": number("now", "alkalinity", None, 2000.0),
        "alkalinity": number("alkalinity", "alkalinity", 214.0, 1000.0),
        "tap_ph": number("tap-ph", "", 7.6, 10.0, 4.0),
        "hardness": number("hardness", "hardness", 250.0, 2000.0),
        "sodium": number("sodium", "concentration", 20.0, 1000.0),
        "conductivity": number("conductivity", "conductivity", None, 20000.0),
        "second_alkalinity": number("second-alkalinity", "alkalinity", 5.0, 1000.0, 0.5),
        "second_ph": number("second-ph", "", 6.0, 10.0, 4.0),
        "second_hardness": number("second-hardness", "hardness", 2.0, 2000.0),
        "second_sodium": number("second-sodium", "concentration", 1.0, 1000.0),
        "wished": number("wished", "alkalinity", 80.0, 1000.0),
        "weather": chosen("weather", weathers, weathers[0] if has_garden else "mild"),
        "open": number("open", "area", 1.5, 1e4),
        "whole": number("whole", "volume", 1000.0, 1e6, 20.0),
        "daily": yearly("daily", "volume", USUAL_TOP_UP_L_D, 1e5),
        "discharge": number("discharge", "volume", 2.0, 1e5),
        "feed": yearly("feed", "feed", USUAL_FEED_G_D, 1e5),
        "protein": number("protein", "share", 0.32, 0.7, 0.1),
        "planted": number("planted", "area", 2.0, 1e4),
        "counted": number("counted", "volume", None, 1e5, 0.1),
        "seen": number("seen", "alkalinity", None, 500.0, 0.1),
        "hold": chosen("hold", QUANTITIES, "alkalinity"),
        **lines,
        "tan": number("tan", "concentration", None, 100.0),
        "ph": number("ph", "", 6.8, 10.0, 4.0),
        "temperature": NumberField(say("panel-water-c", reader), "temperature", 24.0, reader, 0.0, 40.0),
        "species": ChoiceField(say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "roof": number("roof", "area", 12.0, 1e4, 0.1),
        "roof_kind": chosen("roof-kind", ROOFS, "not-known"),
        "rain": yearly("rain", "rain", USUAL_RAIN_MM, 2000.0),
        "barrel": number("barrel", "volume", 300.0, 1e5),
    }


def _reagents() -> list[tuple[str, str]]:
    return sorted(
        (row.text("name"), row.key) for row in tables.load("chemicals") if row.text("kind") == "dechlorinator"
    )


def asked(values: Mapping[str, object]) -> tuple[str, ...]:
    """Names of the fields of the question at hand."""
    names = ("question", *ASKED[str(values["question"])])
    if values["question"] == "treat":
        if values["told"] == "none":
            return ("question", "told")
        # How bad the ammonia of chloramine is hangs on these, once the loop's own is known.
        return tuple(name for name in names if values["tan"] is not None or name not in _OF_AMMONIA)
    if values["question"] == "year":
        return (*names, f"line_{values['hold']}")
    if values["question"] == "daily" and values["weather"] == OF_GARDEN:
        return ("question", "weather", "counted")
    return names


def compute(desk: Desk | None, values: Values) -> Found:
    """The answer to the question at hand."""
    question = values["question"]
    if question == "daily":
        return _daily(desk, values)
    if question == "year":
        lines = {name: values[f"line_{name}"] for name in QUANTITIES}
        return hard_water.after_a_year(_hard(desk, values), lines)  # type: ignore[arg-type]
    if question == "plan":
        return use_up.plan(_hard(desk, values), values["start"])
    if question == "mix":
        return _mix(values)
    if question == "rain":
        return rain.year(
            rain.Roof(values["roof"], values["rain"], values["daily"], values["barrel"], values["roof_kind"])
        )
    return advice.treatment(_tap(values))


def _known(value: float | None) -> float:
    return math.nan if value is None else float(value)


def _daily(desk: Desk | None, values: Values) -> answers.Daily:
    counted = _known(values["counted"])
    if values["weather"] == OF_GARDEN and desk is not None:
        return answers.Daily(water_use.of_garden(desk.garden), counted / 7.0, of_garden=True)
    place = water_use.Place(values["open"], values["planted"], values["whole"], values["weather"], counted)
    return answers.Daily(water_use.of_place(place), counted / 7.0)


def _mix(values: Values) -> answers.Mixed:
    first = carbonate.water(values["tap_ph"], max(values["alkalinity"], 0.5), values["temperature"])
    second = carbonate.water(values["second_ph"], values["second_alkalinity"], values["temperature"])
    reports = (
        advice.Report(values["hardness"], values["sodium"]),
        advice.Report(values["second_hardness"], values["second_sodium"]),
    )
    made = advice.mixture(first, second, values["wished"], reports)
    return answers.Mixed(made, values["wished"], values["new"])


def _hard(desk: Desk | None, values: Values) -> hard_water.Hard:
    plain = hard_water.Hard(
        volume_l=values["whole"],
        top_up_l_d=values["daily"],
        let_out_l_d=values["discharge"],
        feed_g_d=values["feed"],
        protein_share=values["protein"],
        planted_m2=values["planted"],
        alkalinity_mg_l=values["alkalinity"],
        hardness_mg_l=values["hardness"],
        sodium_mg_l=values["sodium"],
        temperature_c=values["temperature"],
        conductivity_us_cm=_known(values["conductivity"]),
        now_mg_l=_known(values["now"]),
        seen_mg_l_week=_known(values["seen"]),
    )
    uptake = None if desk is None else _uptake(desk)
    return plain if uptake is None else replace(plain, uptake_n_g_m2_d=uptake)


def _uptake(desk: Desk) -> Triangle | None:
    """What a planted m2 of this garden takes up over the year; None without crops."""
    area = sum(plan.area_m2 for plan in desk.garden.crops)
    taken = desk.balance.plants.uptake_g_n_day
    low, middle, high = (float(np.mean(end)) for end in (taken.low, taken.middle, taken.high))
    return Triangle(low / area, middle / area, high / area) if area > 0.0 else None


def _tap(values: Values) -> advice.Tap:
    return advice.Tap(
        told=values["told"],
        chlorine_mg_l=values["chlorine"],
        new_water_l=values["new"],
        whole_l=values["whole"],
        ph=values["ph"],
        temperature_c=values["temperature"],
        reagent=values["reagent"],
        strength=values["strength"],
        bucket_chlorine_mg_l=_known(values["bucket_chlorine"]),
        bucket_ammonia_mg_l=_known(values["bucket_ammonia"]),
        tan_mg_l=_known(values["tan"]),
        species=values["species"],
        test_limit_mg_l=values["test_limit"],
        tap_ph=values["tap_ph"],
    )


def draw(reader: words.Reader, found: Found) -> Html:
    """The answer in words."""
    if isinstance(found, advice.Treatment):
        return answers.treatment(reader, found)
    if isinstance(found, answers.Daily):
        return answers.daily(reader, found)
    if isinstance(found, hard_water.Year):
        return answers.year(reader, found)
    if isinstance(found, use_up.UsePlan):
        return answers.plan(reader, found)
    if isinstance(found, answers.Mixed):
        return answers.mixture(reader, found)
    return answers.roof(reader, found)


@dataclass(frozen=True)
class _Loop:
    daily: tuple[float, ...]
    discharge: float


def _loop(garden: Garden) -> _Loop:
    use = water_use.of_garden(garden)
    return _Loop(
        daily=tuple(round(float(one), 1) for one in use.whole_l_d.middle),
        discharge=round(float(use.splashed_l_d.mean()), 1),
    )


def known(desk: Desk) -> dict[str, object]:
    """What the garden file tells of its top-up water, its loop, roof, crops and feed; what it drinks."""
    garden, balance = desk.garden, desk.balance
    given, loop = garden.top_up, _loop(garden)
    feed = np.nan_to_num(balance.demand.feed_g_day.middle)
    told: dict[str, object] = {
        "told": given.disinfectant,
        "chlorine": given.chlorine_max_mg_l,
        "whole": in_round_numbers(litres.litres_of(garden).whole, "volume", desk.reader),
        "daily": loop.daily,
        "discharge": loop.discharge,
        "feed": tuple(float(round(feed[balance.months.index(month)])) for month in range(1, 13)),
        "protein": garden.protein_fraction(),
        "planted": sum(plan.area_m2 for plan in garden.crops),
        "open": sum(tank.surface_m2 for tank in garden.tanks),
        "species": garden.fish[0].species,
        "temperature": in_round_numbers(float(max(balance.water_c.middle)), "temperature", desk.reader, 2),
        "roof_kind": rain.kind(garden.rain.roof_material),
        "start": coming(garden.season.start, not_past(garden, desk.file.today)),
        "test_limit": advice.least_shown_mg_l(garden),
    }
    product = shelf.dechlorinator(garden.products)
    if product is not None:
        told |= {"reagent": product.chemical, "strength": shelf.share_pure(product)}
    optional = {
        "alkalinity": given.alkalinity_mg_l,
        "hardness": given.hardness_mg_l,
        "sodium": given.sodium_mg_l,
        "tap_ph": given.ph,
        "now": _alkalinity_now(desk),
        "roof": garden.rain.roof_m2 or None,
        "barrel": garden.rain.barrel_l or None,
        "rain": garden.site.climate.rain_mm,
    }
    return told | {name: value for name, value in optional.items() if value is not None}


def _alkalinity_now(desk: Desk) -> float | None:
    """Of the loop: the last reading of the log before the plan begins, else the garden file's newest."""
    if desk.log is not None:
        read = desk.log.last("alkalinity", desk.garden.season.start)
        if read is not None and not read.beyond:
            return read.value
    measured = desk.garden.last_measured("alkalinity")
    return None if measured is None else measured.value


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel(
        "top-up",
        controls(reader, has_garden=desk is not None),
        partial(compute, desk),
        partial(draw, reader),
        reader,
        asked=asked,
    )
    if desk is not None:
        desk.fill(made, known)
    return made
