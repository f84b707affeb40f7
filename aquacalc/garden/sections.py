"""The sections of a garden file, as they stand in it. Docs and JSON Schema are made from the texts here.

A field that may be left out is None here; `garden.resolve` puts a stated default in its place.
"""

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any, ClassVar, Self, get_args

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from aquacalc import units
from aquacalc.errors import InputError, Problem
from aquacalc.garden import model, vessels
from aquacalc.garden.fields import (
    Choice,
    Day,
    DayOfYear,
    FlagOrNone,
    Known,
    Monthly,
    MonthNumbers,
    Name,
    NameOrNone,
    Number,
    Numbers,
    Quantity,
    Reading,
    Section,
    Several,
    WordsOrNone,
    bounds,
)

FORMAT = 1

Twelve = model.Twelve
Basis = Choice(("N", "NO3"))

PARAMETERS = (
    "ph",
    "tan",
    "nitrite",
    "nitrate",
    "alkalinity",
    "hardness",
    "oxygen",
    "chlorine",
    "iron",
    "conductivity",
    "temperature",
)
"""What a test kit may measure."""

NOT_KNOWN = "not known"

MEASURED: dict[str, tuple[str, str]] = {
    "flow": ("flow", "pump_box_flow"),
    "ph": ("", "ph"),
    "alkalinity": ("alkalinity", "alkalinity"),
    "hardness": ("hardness", "hardness"),
    "oxygen": ("concentration", "oxygen"),
    "chloride": ("chloride", "dissolved"),
    "conductivity": ("conductivity", "conductivity"),
    "water_temperature": ("temperature", "water_temperature"),
    "fish_weight": ("mass", "fish_weight"),
    "feed": ("feed", "feed"),
    "bed_water": ("volume", "barrel"),
    "water_use": ("flow", "water_use"),
    "loop_volume": ("volume", "tank_volume"),
}
"""What can be measured: kind of quantity (empty: a plain number) and bounds."""


OFFERED: dict[str, tuple[str, str]] = {
    "air": ("air_flow", "air_flow"),
    "biofilter": ("volume", "media_volume"),
    "bed": ("area", "bed_area"),
    "cover": ("", ""),
    "battery_air": ("", ""),
    "roof": ("area", "roof"),
    "barrel": ("volume", "barrel"),
}
"""What can be offered: kind of its size (empty: it has none) and bounds."""


@dataclass(frozen=True)
class Version(Reading):
    """The format of the file, which this version of the program knows."""

    def read(self, value: object) -> int:
        """The number of the format."""
        if value != FORMAT or isinstance(value, bool):
            raise InputError(Problem("problem-format", "", str(value), (str(FORMAT),)))
        return FORMAT

    def json(self) -> dict[str, Any]:
        """The number."""
        return {"const": FORMAT}


def _choice(words: object) -> Choice:
    return Choice(get_args(words))


def _about(text: str) -> Any:
    return Field(None, description=text)


class Reader(Section):
    """Who reads the pages."""

    language: Annotated[str | None, Choice(("en",))] = _about("language of the pages")
    units: Annotated[str | None, Choice(("metric", "us"))] = _about("units of the pages")
    paper: Annotated[str | None, Choice(("a4", "letter", "both"))] = _about("paper for printing")
    currency: WordsOrNone = _about("what prices are counted in, as EUR")


class Climate(Section):
    """Twelve monthly means, January first: out of doors, or of the room where the garden stands indoors."""

    air_max: Annotated[Twelve | None, Monthly("temperature", "air_temperature")] = _about(
        "mean daily highest air temperature of each month"
    )
    air_min: Annotated[Twelve | None, Monthly("temperature", "air_temperature")] = _about(
        "mean daily lowest air temperature of each month"
    )
    humidity: Annotated[Twelve | None, Monthly("share", "humidity")] = _about("mean relative humidity")
    wind: Annotated[Twelve | None, Monthly("speed", "wind")] = _about("mean wind speed")
    rain: Annotated[Twelve | None, Monthly("rain", "rain")] = _about("rain of the whole month")
    sun: Annotated[Twelve | None, Monthly("irradiation", "sun")] = _about(
        "mean sunshine on a flat surface, per day"
    )


class Site(Section):
    """Where the garden stands."""

    place: WordsOrNone = _about("name of the place")
    latitude: Annotated[float, Quantity("angle", "latitude")] = Field(
        description="latitude; south of the equator as 33.9 S or below zero"
    )
    altitude: Annotated[float | None, Quantity("length", "altitude")] = _about("height above the sea")
    cover: Annotated[str | None, _choice(model.Cover)] = _about("what stands over the garden")
    setting: Annotated[str | None, _choice(model.Setting)] = _about("who keeps it")
    until_help: Annotated[float | None, Quantity("time", "until_help")] = _about(
        "longest time until someone can be there when the power fails"
    )
    last_frost: Annotated[model.MonthDay | None, DayOfYear()] = _about("your own last frost, as 04-15")
    first_frost: Annotated[model.MonthDay | None, DayOfYear()] = _about("your own first frost, as 10-20")
    upper_floor: FlagOrNone = _about("whether it stands on an upper floor, a balcony, a deck or a roof")
    children: FlagOrNone = _about("whether small children come near")
    weather_file: WordsOrNone = _about(
        "a CSV file beside this one with columns date, air_max_c, air_min_c and, where known, "
        "humidity_pct, wind_m_s, rain_mm, sun_mj_m2_d, a row a day; it takes the place of the climate"
    )
    climate: Climate | None = _about("monthly means")


Side = Annotated[float | None, Quantity("length", "vessel_side")]


class Tank(Section):
    """A fish tank."""

    either: ClassVar[tuple[str, ...]] = ("volume", "shape")

    name: NameOrNone = _about("its name")
    volume: Annotated[float | None, Quantity("volume", "tank_volume")] = _about(
        "water in it at its running level; given here or by its shape"
    )
    shape: Annotated[str | None, Choice(tuple(vessels.MEASURES))] = _about(
        "its shape; with its measures and the depth of the water it takes the place of the volume"
    )
    diameter: Side = _about("inside, of a round one, or of a barrel that lies on its side")
    length: Side = _about("inside, at the floor")
    width: Side = _about("inside, at the floor")
    top_length: Side = _about("of a tapered one: its length at the water line, or at the height given")
    top_width: Side = _about("of a tapered one: its width there")
    height: Side = _about("of a tapered one: height over the floor at which the top was measured")
    cone: Side = _about("of a round one with a cone for a floor: height of the cone")
    surface: Annotated[float | None, Quantity("area", "tank_surface")] = _about("surface of the water")
    drop: Annotated[float | None, Quantity("length", "tank_drop")] = _about(
        "how far its water sinks when the pump stops: the sump has to take it"
    )
    depth: Annotated[float | None, Quantity("length", "tank_depth")] = _about("depth of the water")
    lid: FlagOrNone = _about("whether a lid lies on it")


class Bed(Section):
    """A grow bed."""

    name: NameOrNone = _about("its name")
    kind: Annotated[str, _choice(model.BedKind)] = Field(
        description="media (gravel or the like), raft (boards on deep water) or channel (a film of water)"
    )
    area: Annotated[float, Quantity("area", "bed_area")] = Field(description="area that is planted")
    depth: Annotated[float | None, Quantity("length", "bed_depth")] = _about("depth of the bed")
    flood: Annotated[float | None, Quantity("length", "bed_water")] = _about(
        "depth that gets wet: up to the standpipe in media, depth of water in a raft bed or channel"
    )
    medium: Annotated[str | None, Known("media")] = _about("what fills a media bed")
    drain: Annotated[str | None, _choice(model.DrainKind)] = _about("how a media bed empties")
    share_on: Annotated[float | None, Quantity("share", "any_share")] = _about(
        "share of the time in which water flows in, for a bed on a timer"
    )


class Sump(Section):
    """The lowest vessel, where the pump stands."""

    either: ClassVar[tuple[str, ...]] = ("volume", "shape")

    volume: Annotated[float | None, Quantity("volume", "sump_volume")] = _about(
        "water in it while the loop runs; given here or by its shape"
    )
    shape: Annotated[str | None, Choice(tuple(vessels.MEASURES))] = _about(
        "its shape; with its measures and the depth of the water it takes the place of the volume"
    )
    diameter: Side = _about("inside, of a round one, or of a barrel that lies on its side")
    length: Side = _about("inside, at the floor")
    width: Side = _about("inside, at the floor")
    top_length: Side = _about("of a tapered one: its length at the water line, or at the height given")
    top_width: Side = _about("of a tapered one: its width there")
    height: Side = _about("of a tapered one: height over the floor at which the top was measured")
    cone: Side = _about("of a round one with a cone for a floor: height of the cone")
    depth: Annotated[float | None, Quantity("length", "tank_depth")] = _about(
        "depth of the water while the loop runs"
    )
    rim: Annotated[float | None, Quantity("volume", "sump_volume")] = _about("water that it holds to the rim")


class CurvePoint(Section):
    """A row of a pump's table."""

    flow: Annotated[float, Quantity("flow", "curve_flow")] = Field(description="flow")
    head: Annotated[float, Quantity("length", "curve_head")] = Field(
        description="head at that flow, lower in each row"
    )


class Pump(Section):
    """A water pump."""

    name: NameOrNone = _about("its name")
    flow: Annotated[float, Quantity("flow", "pump_box_flow")] = Field(description="largest flow on its box")
    head: Annotated[float | None, Quantity("length", "pump_box_head")] = _about("largest head on its box")
    lift: Annotated[float | None, Quantity("length", "static_head")] = _about(
        "height from the water in the sump to where the pipe ends"
    )
    power: Annotated[float | None, Quantity("power", "pump_power")] = _about("power on its box")
    share_on: Annotated[float | None, Quantity("share", "any_share")] = _about("share of the time it runs")
    count: Annotated[int | None, Number("pump_count", whole=True)] = _about("how many of them")
    curve: tuple[CurvePoint, ...] = Field(
        (), description="its maker's table, from the smallest flow on; it goes before the figures of the box"
    )


class Pipe(Section):
    """A length of pressure pipe."""

    name: NameOrNone = _about("its name")
    length: Annotated[float, Quantity("length", "pipe_length")] = Field(description="length with its bends")
    bore: Annotated[float, Quantity("bore", "pipe_bore")] = Field(
        description="true inner diameter, which the name of a pipe size is not"
    )


class Drain(Section):
    """A gravity line or an overflow."""

    name: NameOrNone = _about("its name")
    bore: Annotated[float, Quantity("bore", "drain_bore")] = Field(description="true inner diameter")
    emergency: FlagOrNone = _about("whether it only runs when something is blocked")


class SolidsFilter(Section):
    """What takes solids out before the beds."""

    kind: Annotated[str, _choice(model.SolidsKind)] = Field(description="its kind")
    volume: Annotated[float | None, Quantity("volume", "filter_volume")] = _about("water in it")
    surface: Annotated[float | None, Quantity("area", "filter_surface")] = _about("its surface from above")
    draw_every: Annotated[float | None, Quantity("time", "sludge_draw")] = _about(
        "time between two draws of its sludge"
    )
    whole_flow: FlagOrNone = _about(
        "whether it gets all of the tank's water, not only the thick stream of a bottom drain"
    )


class Biofilter(Section):
    """A separate nitrifying filter."""

    medium: Annotated[str, Known("media")] = Field(description="what it is filled with")
    media: Annotated[float, Quantity("volume", "media_volume")] = Field(description="litres of that medium")
    surface: Annotated[float | None, Quantity("specific_surface", "specific_surface")] = _about(
        "specific surface of the medium, as its data sheet has it"
    )
    water: Annotated[float | None, Quantity("volume", "filter_volume")] = _about("water in the filter")


class Air(Section):
    """Air pump and stones."""

    flow: Annotated[float, Quantity("air_flow", "air_flow")] = Field(description="flow on the box")
    depth: Annotated[float | None, Quantity("length", "air_depth")] = _about("depth of the stones")
    stones: Annotated[str | None, _choice(model.StoneKind)] = _about("size of the bubbles")
    power: Annotated[float | None, Quantity("power", "any_power")] = _about("power on the box")


class Heat(Section):
    """Heater, and what keeps warmth in."""

    heater: Annotated[float | None, Quantity("power", "any_power")] = _about("power of the heater")
    setpoint: Annotated[float | None, Quantity("temperature", "water_temperature")] = _about(
        "water temperature at which the heater stops"
    )
    cover: FlagOrNone = _about("whether a floating cover lies on the tanks at night")
    insulation: Annotated[float | None, Quantity("length", "insulation")] = _about("insulation of the walls")
    night_bypass: FlagOrNone = _about("whether the beds are left out at night")


class Light(Section):
    """Lamps over the beds."""

    ppfd: Annotated[float, Quantity("light", "lamp_light")] = Field(
        description="light of the lamps at the leaves (PPFD)"
    )
    hours: Annotated[float, Quantity("time", "hours_of_day")] = Field(description="hours a day")
    power: Annotated[float | None, Quantity("power", "any_power")] = _about("power of all lamps")


class Device(Section):
    """Something else that draws power."""

    name: NameOrNone = _about("its name")
    power: Annotated[float, Quantity("power", "any_power")] = Field(description="its power")
    hours: Annotated[float | None, Quantity("time", "hours_of_day")] = _about("hours a day")


class Power(Section):
    """What happens when the mains fails."""

    backup: Annotated[str | None, _choice(model.BackupKind)] = _about("what takes over")
    battery: Annotated[float | None, Quantity("energy", "battery_energy")] = _about("energy of the battery")
    battery_charge: Annotated[float | None, Quantity("charge", "battery_charge")] = _about(
        "charge of the battery; with its voltage it takes the place of the energy"
    )
    battery_voltage: Annotated[float | None, Quantity("voltage", "battery_voltage")] = _about(
        "voltage of the battery"
    )
    backup_air: Annotated[float | None, Quantity("air_flow", "air_flow")] = _about("air of the backup")
    backup_time: Annotated[float | None, Quantity("time", "backup_hours")] = _about(
        "how long the backup ran when you tried it"
    )
    starts_by_itself: FlagOrNone = _about("whether the backup starts without anybody")
    alarm: FlagOrNone = _about("whether an alarm reaches someone")
    device: tuple[Device, ...] = Field((), description="other things that draw power")


class TopUp(Section):
    """The water that replaces losses, as it comes."""

    source: Annotated[str | None, _choice(model.WaterSource)] = _about("where it comes from")
    disinfectant: Annotated[str | None, _choice(model.Disinfectant)] = _about("what the supplier adds")
    chlorine_max: Annotated[float | None, Quantity("concentration", "chlorine")] = _about(
        "the supplier's largest chlorine or chloramine, as Cl2"
    )
    alkalinity: Annotated[float | None, Quantity("alkalinity", "alkalinity")] = _about("alkalinity (KH)")
    hardness: Annotated[float | None, Quantity("hardness", "hardness")] = _about("total hardness (GH)")
    calcium: Annotated[float | None, Quantity("concentration", "dissolved")] = _about("calcium")
    magnesium: Annotated[float | None, Quantity("concentration", "dissolved")] = _about("magnesium")
    ph: Annotated[float | None, Number("ph")] = _about("pH")
    sodium: Annotated[float | None, Quantity("concentration", "dissolved")] = _about("sodium")
    chloride: Annotated[float | None, Quantity("chloride", "dissolved")] = _about("chloride")
    nitrate: Annotated[float | None, Quantity("concentration", "dissolved")] = _about("nitrate")
    nitrate_basis: Annotated[str | None, Basis] = _about("what the nitrate counts: N or NO3")
    float_valve: FlagOrNone = _about("whether a float valve lets it in by itself")

    @model_validator(mode="after")
    def _nitrate_counts_something(self) -> Self:
        if self.nitrate is not None and self.nitrate_basis is None:
            problem = Problem("problem-basis-missing", "nitrate", f"{self.nitrate:g}", Basis.words)
            raise PydanticCustomError("problems", "problems", {"problems": (problem,)})
        return self


class Rain(Section):
    """Rain water from a roof."""

    roof: Annotated[float | None, Quantity("area", "roof")] = _about("area of the roof, as seen from above")
    barrel: Annotated[float | None, Quantity("volume", "barrel")] = _about("what the barrels hold")
    roof_material: WordsOrNone = _about("what the roof is made of")


class Feed(Section):
    """A bag of feed."""

    name: NameOrNone = _about("its name")
    protein: Annotated[float, Quantity("share", "protein")] = Field(description="protein on its label")
    pellet: Annotated[float | None, Quantity("bore", "pellet")] = _about("diameter of the pellets")
    from_weight: Annotated[float | None, Quantity("mass", "fish_weight")] = _about(
        "weight of a fish from which on it is fed"
    )
    spoon: Annotated[float | None, Quantity("mass", "spoon")] = _about("what your level spoon of it weighs")
    phosphorus: Annotated[float | None, Quantity("content", "feed_phosphorus")] = _about("on its label, as P")
    potassium: Annotated[float | None, Quantity("content", "feed_potassium")] = _about("on its label")
    calcium: Annotated[float | None, Quantity("content", "feed_calcium")] = _about("on its label")
    magnesium: Annotated[float | None, Quantity("content", "feed_magnesium")] = _about("on its label")
    sodium: Annotated[float | None, Quantity("content", "feed_sodium")] = _about("on its label")
    iron: Annotated[float | None, Quantity("content", "feed_iron")] = _about("on its label")


class Fish(Section):
    """A batch of fish."""

    name: NameOrNone = _about("its name")
    species: Annotated[str, Known("species")] = Field(description="species")
    count: Annotated[int, Number("fish_count", whole=True)] = Field(description="how many")
    weight: Annotated[float | None, Quantity("mass", "fish_weight")] = _about(
        "weight of one fish when it is stocked"
    )
    stocked: Annotated[date | None, Day()] = _about("day on which they came or come")
    final_weight: Annotated[float | None, Quantity("mass", "fish_weight")] = _about(
        "weight at which a fish is taken out, or which it keeps where it is not eaten"
    )
    tank: NameOrNone = _about("name of their tank")
    until: Annotated[date | None, Day()] = _about("day on which the last are taken out")
    eaten: FlagOrNone = _about("whether they are eaten")


class Crop(Section):
    """A crop in a bed."""

    crop: Annotated[str, Known("crops")] = Field(description="crop")
    bed: NameOrNone = _about("name of its bed")
    area: Annotated[float | None, Quantity("area", "crop_area")] = _about("its part of the bed")
    months: Annotated[tuple[int, ...] | None, MonthNumbers()] = _about("months in which it stands there")
    heads: Annotated[float | None, Quantity("heads_per_week", "wished_heads")] = _about(
        "heads that are picked in a week"
    )
    first: Annotated[date | None, Day()] = _about(
        "day of the first planting; left out, as soon as the climate lets it stand"
    )
    last: Annotated[date | None, Day()] = _about(
        "last day in the bed; left out, as long as its months and the climate let it stand"
    )
    # `yield` is a word of Python, so the field has a name of its own.
    own_yield: Annotated[float | None, Quantity("crop_yield", "crop_yield")] = Field(
        None, alias="yield", description="your own yield of one crop on an area, in place of the table's"
    )
    loss: Annotated[float | None, Quantity("share", "loss_bed")] = _about(
        "your own share of the plants that are lost in the bed"
    )
    plants: Annotated[float | None, Quantity("spacing", "spacing")] = _about(
        "your own spacing: plants on an area"
    )


class StartUp(Section):
    """Whether the filter still has to be started; growers call it cycling."""

    state: Annotated[str | None, Choice(("running", "new"))] = _about("running, or new")
    started: Annotated[date | None, Day()] = _about("first day of the start-up")
    method: WordsOrNone = _about("how it is started")
    product: Annotated[str | None, Known("chemicals")] = _about("what brings the ammonia")
    strength: Annotated[float | None, Quantity("share", "strength")] = _about("strength of that product")


class Wishes(Section):
    """What the household would like."""

    heads: Annotated[float | None, Quantity("heads_per_week", "wished_heads")] = _about(
        "heads of one crop a week"
    )
    crop: Annotated[str | None, Known("crops")] = _about("that crop")
    fish_per_year: Annotated[float | None, Number("wished_number")] = _about("fish of one species a year")
    species: Annotated[str | None, Known("species")] = _about("that species")
    sold_at: Annotated[tuple[float, ...] | None, Several(Quantity("mass", "fish_weight"))] = _about(
        "weights of one fish at which fish are sold where you buy"
    )
    kept_before: FlagOrNone = _about(
        "whether you have kept such a garden before; else a first year is stocked by half"
    )
    to_buy_at_most: Annotated[float | None, Number("money")] = _about(
        "most that may be spent once on what is offered; left out, nothing is bought"
    )
    more_a_year: Annotated[float | None, Number("money")] = _about(
        "most that a year may cost more than it does as written"
    )
    may_grow: Annotated[tuple[str, ...] | None, Several(Known("crops"))] = _about(
        "crops that may be planted beside those written and wished"
    )
    likes: Annotated[tuple[str, ...] | None, Several(Known("crops"))] = _about(
        "crops that you like most: they count double in a plan of the beds"
    )
    plantings_week: Annotated[int | None, Number("plantings", whole=True)] = _about(
        "most plantings in a week; left out, two"
    )
    most_of_one: Annotated[float | None, Quantity("share", "bed_part")] = _about(
        "most of the beds, over the year, for one crop"
    )


class Offer(Section):
    """Something that could be bought or built; nothing is proposed without its price."""

    what: Annotated[str, Choice(tuple(OFFERED))] = Field(
        description="air: a pump in place of the present one; biofilter: a separate filter of such a medium; "
        "bed: more area for a bed; cover: a floating cover on the tanks at night; battery_air: air that "
        "starts by itself when the power fails; roof, barrel: more of either for rain"
    )
    price: Annotated[float, Number("money")] = Field(description="what it costs, in your currency")
    size: Any = Field(
        None, description="how much of it, with its unit: flow of air, litres of medium or barrel, area"
    )
    power: Annotated[float | None, Quantity("power", "any_power")] = _about("power on its box")
    bed: NameOrNone = _about("name of the bed that gets more area")
    medium: Annotated[str | None, Known("media")] = _about("what a biofilter is filled with")

    @model_validator(mode="after")
    def _is_whole(self) -> Self:
        kind, _ = OFFERED.get(self.what, ("", ""))
        missing = [
            key
            for key, wanted in (
                ("size", kind),
                ("bed", self.what == "bed"),
                ("medium", self.what == "biofilter"),
            )
            if wanted and getattr(self, key) is None
        ]
        if missing:
            problems = tuple(Problem("problem-missing", key) for key in missing)
            raise PydanticCustomError("problems", "problems", {"problems": problems})
        if kind:
            try:
                self.amount()
            except InputError as error:
                problems = tuple(
                    Problem(p.key, "size", p.found, p.allowed, p.nearest) for p in error.problems
                )
                raise PydanticCustomError("problems", "problems", {"problems": problems}) from error
        return self

    def amount(self) -> float:
        """The size in the base unit of its kind; 0 where it has none."""
        kind, bound = OFFERED[self.what]
        return Quantity(kind, bound).read(self.size) if kind else 0.0


class TargetWater(Section):
    """Water that the garden aims at."""

    ph: Annotated[float | None, Number("target_ph")] = _about(
        "pH that base is given for; 0.3 more doubles the share of ammonia that is un-ionised, and holds more"
        " alkalinity: the dose panel tells the price"
    )


class Care(Section):
    """What is done every week."""

    most_feed: Annotated[float | None, Quantity("feed", "care_feed")] = _about(
        "never more feed than this a day"
    )
    base_how: Annotated[str | None, Choice(("drip", "parts", "once"))] = _about(
        "how a day's base goes in: drip through the day, in several parts, or once"
    )
    look_every: Annotated[float | None, Quantity("time", "care_look")] = _about(
        "days between two looks at pH and alkalinity"
    )
    potassium: Annotated[float | None, Quantity("concentration", "care_potassium")] = _about(
        "potassium is brought up to this after a test"
    )
    change: Annotated[float | None, Quantity("share", "care_change")] = _about(
        "share of the water that is changed in a week in which nitrate stands too high"
    )
    change_above: Annotated[float | None, Quantity("concentration", "care_nitrate")] = _about(
        "nitrate from which water is changed"
    )
    change_basis: Annotated[str | None, Choice(("N", "NO3"))] = _about("what that nitrate counts: N or NO3")


class Away(Section):
    """Days on which nobody is there."""

    start: Annotated[date, Day()] = Field(description="first day")
    end: Annotated[date, Day()] = Field(description="last day")
    who: WordsOrNone = _about("who looks in")


class Rule(Section):
    """A question put to an office about local rules."""

    question: Name = Field(description="what was asked")
    office: WordsOrNone = _about("whom")
    asked: Annotated[date | None, Day()] = _about("when")
    answer: WordsOrNone = _about("what they said")


class Scale(Section):
    """One parameter of a test kit, as its leaflet has it."""

    parameter: Annotated[str, Choice(PARAMETERS)] = Field(description="what it measures")
    basis: WordsOrNone = _about(
        "what its numbers count: N, NH3, NH4, NO2 or NO3; for alkalinity and hardness a unit such as dkh"
    )
    steps: Annotated[Twelve | None, Numbers("kit_number")] = _about("the steps of its card, in its own basis")
    drop: Annotated[float | None, Number("kit_number")] = _about("what one drop counts, in its own basis")
    offset: Annotated[float | None, Number("kit_offset")] = _about(
        "by how much it read a standard too high when you checked it, below zero where too low, in its own "
        "basis; readings are corrected by it"
    )
    standard: Annotated[float | None, Number("kit_number")] = _about(
        "what that standard held, in its own basis"
    )
    checked: Annotated[date | None, Day()] = _about("day of that check")

    @model_validator(mode="after")
    def _basis_fits(self) -> Self:
        fitting = fitting_bases(self.parameter)
        if self.basis not in (None, NOT_KNOWN, *fitting):
            problem = Problem("problem-choice", "basis", str(self.basis), (*fitting, NOT_KNOWN))
            raise PydanticCustomError("problems", "problems", {"problems": (problem,)})
        return self

    @model_validator(mode="after")
    def _check_is_whole(self) -> Self:
        if self.offset:
            missing = [key for key in ("standard", "checked") if getattr(self, key) is None]
            if missing:
                problems = tuple(Problem("problem-missing", key) for key in missing)
                raise PydanticCustomError("problems", "problems", {"problems": problems})
        return self


def fitting_bases(parameter: str) -> tuple[str, ...]:
    """What the numbers of a parameter may count; nothing where there is one way only.

    >>> fitting_bases("nitrite")
    ('N', 'NO2')
    """
    if parameter in {"alkalinity", "hardness"}:
        return tuple(unit.key for unit in units.of_kind(parameter))
    return {"tan": ("N", "NH3", "NH4"), "nitrite": ("N", "NO2"), "nitrate": ("N", "NO3")}.get(parameter, ())


class Kit(Section):
    """A test kit in use."""

    name: Name = Field(description="its name")
    start: Annotated[date | None, Day()] = _about("in use from this day on")
    expires: Annotated[date | None, Day()] = _about("day on its bottles")
    scale: tuple[Scale, ...] = Field((), description="what it measures, one table each")


class Product(Section):
    """A chemical on the shelf."""

    name: Name = Field(description="its name")
    chemical: Annotated[str, Known("chemicals")] = Field(description="what it is")
    strength: Annotated[float | None, Quantity("share", "strength")] = _about("strength on its label")
    spoon: Annotated[float | None, Quantity("mass", "spoon")] = _about("what your level spoon of it weighs")


class Measured(Section):
    """Something that you measured; it takes the place of what is reckoned."""

    what: Annotated[str, Choice(tuple(MEASURED))] = Field(description="what was measured")
    value: Any = Field(description="the value with its unit; pH as a number")
    day: Annotated[date | None, Day()] = _about("when")
    subject: WordsOrNone = _about("name of the tank, bed or batch")

    @model_validator(mode="after")
    def _in_its_unit(self) -> Self:
        if self.what not in MEASURED:
            return self  # the field's own problem says so
        try:
            self.amount()
        except InputError as error:
            problems = tuple(Problem(p.key, "value", p.found, p.allowed, p.nearest) for p in error.problems)
            raise PydanticCustomError("problems", "problems", {"problems": problems}) from error
        return self

    def amount(self) -> float:
        """The value in the base unit of its kind."""
        kind, bound = MEASURED[self.what]
        if not kind:
            return float(Number(bound).read(self.value))
        value = units.read(self.value, kind)
        return bounds(bound, kind).check(value, str(self.value))


class Prices(Section):
    """Prices in your currency."""

    electricity_kwh: Annotated[float | None, Number("tariff")] = _about("a kilowatt-hour of electricity")
    feed_kg: Annotated[float | None, Number("price")] = _about("a kilogram of feed")
    water_m3: Annotated[float | None, Number("price")] = _about("a cubic metre of water")


class Season(Section):
    """The span of the plan."""

    start: Annotated[date | None, Day()] = _about("first day")
    end: Annotated[date | None, Day()] = _about("last day")


class File(Section):
    """A garden file."""

    format: Annotated[int, Version()] = Field(description="format of this file: 1")
    name: NameOrNone = _about("name of the garden")
    invented: FlagOrNone = _about("whether the garden is made up")
    reader: Reader | None = _about("who reads the pages")
    site: Site = Field(description="where the garden stands")
    tank: tuple[Tank, ...] = Field((), description="fish tanks")
    bed: tuple[Bed, ...] = Field((), description="grow beds")
    sump: Sump | None = _about("sump")
    pump: tuple[Pump, ...] = Field((), description="water pumps")
    pipe: tuple[Pipe, ...] = Field((), description="pressure pipes from the pump")
    drain: tuple[Drain, ...] = Field((), description="gravity lines and overflows")
    solids_filter: SolidsFilter | None = _about("solids filter")
    biofilter: Biofilter | None = _about("separate biofilter")
    air: Air | None = _about("air")
    heat: Heat | None = _about("heat")
    light: Light | None = _about("lamps")
    power: Power | None = _about("power and its failure")
    top_up: TopUp | None = _about("top-up water")
    rain: Rain | None = _about("rain water")
    feed: tuple[Feed, ...] = Field((), description="bags of feed")
    fish: tuple[Fish, ...] = Field((), description="batches of fish")
    crop: tuple[Crop, ...] = Field((), description="crops")
    start_up: StartUp | None = _about("start-up")
    targets: TargetWater | None = _about("water that the garden aims at")
    care: Care | None = _about("what is done every week")
    wishes: Wishes | None = _about("wishes")
    offer: tuple[Offer, ...] = Field((), description="what could be bought")
    away: tuple[Away, ...] = Field((), description="absences")
    rules: tuple[Rule, ...] = Field((), description="local rules that were asked for")
    kit: tuple[Kit, ...] = Field((), description="test kits")
    product: tuple[Product, ...] = Field((), description="chemicals")
    measured: tuple[Measured, ...] = Field((), description="measurements")
    prices: Prices | None = _about("prices")
    season: Season | None = _about("span of the plan")
