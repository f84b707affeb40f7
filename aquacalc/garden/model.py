"""The garden as the calculation sees it: frozen dataclasses in metric base units, nothing optional left open.

`garden.sections` holds the same things as they stand in the file, `garden.resolve` turns one into the other.
A value that the grower did not give is a stated default and stands in `Garden.assumed`.
"""

import math
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Literal, assert_never

from aquacalc.garden import aimed

Cover = Literal["open", "shade", "greenhouse", "indoors"]
Setting = Literal["home", "school", "community"]
BedKind = Literal["media", "raft", "channel"]
DrainKind = Literal["siphon", "timer", "constant"]
SolidsKind = Literal["none", "radial", "swirl", "settler", "drum"]
StoneKind = Literal["coarse", "small", "fine"]
Disinfectant = Literal["none", "chlorine", "chloramine", "not known"]
WaterSource = Literal["mains", "well", "rain", "mixed"]
BackupKind = Literal["none", "battery air", "generator", "oxygen"]

Twelve = tuple[float, ...]
"""Twelve monthly values, January first."""


@dataclass(frozen=True)
class Assumed:
    """A value that the grower did not give. `reason` is a catalogue key, `source` a key of sources.csv."""

    key: str
    value: str
    unit: str = ""
    reason: str = "assumed-default"
    source: str = ""


@dataclass(frozen=True)
class ReaderChoice:
    """How the garden's reader wants pages: language, units, paper, currency."""

    language: str = "en"
    units: Literal["metric", "us"] = "metric"
    paper: Literal["a4", "letter", "both"] = "a4"
    currency: str = ""


@dataclass(frozen=True)
class MonthlyClimate:
    """Twelve monthly means outdoors, January first; None where not known."""

    air_max_c: Twelve
    air_min_c: Twelve
    humidity_pct: Twelve | None = None
    wind_m_s: Twelve | None = None
    rain_mm: Twelve | None = None
    radiation_mj_m2_d: Twelve | None = None


@dataclass(frozen=True)
class MonthDay:
    """A day of any year, for frost dates."""

    month: int
    day: int


@dataclass(frozen=True)
class Site:
    """Where the garden stands."""

    name: str
    latitude_deg: float
    altitude_m: float
    cover: Cover
    setting: Setting
    climate: MonthlyClimate
    hours_until_help: float
    last_frost: MonthDay | None = None
    first_frost: MonthDay | None = None
    upper_floor: bool = False
    children: bool = False


@dataclass(frozen=True)
class Tank:
    """A fish tank, filled to its running level."""

    name: str
    volume_l: float
    surface_m2: float
    depth_m: float
    lid: bool = False
    drop_m: float = 0.0
    """How far its water sinks when the pump stops."""


@dataclass(frozen=True)
class Bed:
    """A grow bed. `flood_m`: depth of medium that gets wet (media), or depth of water (raft, channel).

    water_l: what it holds at its flood line where somebody measured it, else None.
    """

    name: str
    kind: BedKind
    area_m2: float
    depth_m: float
    flood_m: float
    medium: str = ""
    drain: DrainKind = "constant"
    share_on: float = 1.0
    water_l: float | None = None

    @property
    def holds_medium(self) -> bool:
        """Whether plants root in a medium that catches solids and carries bacteria; else in open water."""
        return holds_medium(self.kind)


def holds_medium(kind: BedKind) -> bool:
    """Whether beds of a kind hold a medium.

    >>> [holds_medium(kind) for kind in ("media", "raft", "channel")]
    [True, False, False]
    """
    match kind:
        case "media":
            return True
        case "raft" | "channel":
            return False
    assert_never(kind)


@dataclass(frozen=True)
class Sump:
    """The lowest vessel; `volume_l` is the water in it while the loop runs."""

    volume_l: float
    rim_l: float


@dataclass(frozen=True)
class Pump:
    """A water pump: figures of its box, its lift, and the share of the hour in which it runs.

    curve: rows of its maker's table, flow in L/h and head in m; empty where only the box is known.
    """

    name: str
    box_flow_l_h: float
    box_head_m: float
    lift_m: float
    power_w: float
    share_on: float = 1.0
    count: int = 1
    curve: tuple[tuple[float, float], ...] = ()

    def scaled(self, share: float) -> "Pump":
        """One of the same make with a larger or smaller flow at every head."""
        return replace(
            self,
            box_flow_l_h=self.box_flow_l_h * share,
            curve=tuple((flow * share, head) for flow, head in self.curve),
        )


@dataclass(frozen=True)
class Pipe:
    """A length of pipe of one true bore."""

    name: str
    length_m: float
    bore_mm: float


@dataclass(frozen=True)
class Drain:
    """A gravity line or overflow of a tank or bed."""

    name: str
    bore_mm: float
    emergency: bool = False


@dataclass(frozen=True)
class SolidsFilter:
    """Settler or screen before the beds.

    draw_every_d: days between two draws of its sludge, 0 where it washes itself; whole_flow: it gets all of
    the tank's water, not the thick stream of a bottom drain.
    """

    kind: SolidsKind
    volume_l: float = 0.0
    surface_m2: float = 0.0
    draw_every_d: float = 7.0
    whole_flow: bool = False


@dataclass(frozen=True)
class Biofilter:
    """A separate nitrifying filter; `surface_m2_m3` is the specific surface of its medium."""

    medium: str
    media_l: float
    surface_m2_m3: float
    water_l: float = 0.0


@dataclass(frozen=True)
class Air:
    """Air pump and stones; `flow_l_min` as rated at open flow."""

    flow_l_min: float
    depth_m: float
    stones: StoneKind
    power_w: float


@dataclass(frozen=True)
class Heat:
    """Heater and what keeps warmth in. `setpoint_c` is None without a heater."""

    heater_w: float = 0.0
    setpoint_c: float | None = None
    cover: bool = False
    insulation_mm: float = 0.0
    night_bypass: bool = False


@dataclass(frozen=True)
class Light:
    """Lamps over the beds; None figures where there are none."""

    ppfd_umol_m2_s: float = 0.0
    hours: float = 0.0
    power_w: float = 0.0


@dataclass(frozen=True)
class Device:
    """Something that draws power."""

    name: str
    power_w: float
    hours_day: float = 24.0


@dataclass(frozen=True)
class Power:
    """What happens when the mains fails."""

    backup: BackupKind
    battery_wh: float = 0.0
    backup_air_l_min: float = 0.0
    backup_hours: float = 0.0
    starts_by_itself: bool = False
    alarm: bool = False
    devices: tuple[Device, ...] = ()


@dataclass(frozen=True)
class TopUp:
    """Top-up water; None where not known."""

    source: WaterSource
    disinfectant: Disinfectant
    chlorine_max_mg_l: float
    alkalinity_mg_l: float | None = None
    hardness_mg_l: float | None = None
    calcium_mg_l: float | None = None
    magnesium_mg_l: float | None = None
    ph: float | None = None
    sodium_mg_l: float | None = None
    chloride_mg_l: float | None = None
    nitrate_n_mg_l: float | None = None
    float_valve: bool = False


@dataclass(frozen=True)
class Rain:
    """Roof and barrel."""

    roof_m2: float = 0.0
    barrel_l: float = 0.0
    roof_material: str = ""


FEED_SPOON_G = 5.0
"""Feed that a level spoon holds, two teaspoons or a dessert spoon. Common practice, no source."""


@dataclass(frozen=True)
class Feed:
    """A bag of feed; spoon_g: what a level spoon of it weighs; analysis: elements on its label, g/kg."""

    name: str
    protein_pct: float
    pellet_mm: float | None = None
    from_weight_g: float = 0.0
    spoon_g: float = FEED_SPOON_G
    analysis: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class FishBatch:
    """One batch of fish. `final_weight_g` is the weight at which it is taken out, or kept at (not eaten).

    weighed, weighed_g: day and mean weight of the last weighing, None where nobody weighed them.
    """

    name: str
    species: str
    count: int
    weight_g: float
    stocked: date
    final_weight_g: float
    tank: str
    until: date | None = None
    eaten: bool = True
    weighed: date | None = None
    weighed_g: float | None = None


@dataclass(frozen=True)
class CropPlan:
    """A crop in a bed: its share of the bed's area, and the months in which it stands there.

    first: day of the first planting; last: last day in the bed; yield_kg_m2: of one crop; loss_pct: plants
    lost in the bed; plants_m2: spacing. The grower's own, None where the climate and the crop's row tell.
    """

    crop: str
    bed: str
    area_m2: float
    months: tuple[int, ...] = tuple(range(1, 13))
    heads_per_week: float = 0.0
    first: date | None = None
    yield_kg_m2: float | None = None
    loss_pct: float | None = None
    plants_m2: float | None = None
    last: date | None = None


@dataclass(frozen=True)
class StartUp:
    """Whether the filter still has to be started, and how."""

    state: Literal["running", "new"]
    started: date | None = None
    method: str = ""
    product: str = ""
    strength_pct: float | None = None


@dataclass(frozen=True)
class Wishes:
    """What the household would like: heads a week of one crop, fish a year of one species.

    sold_at_g: weights at which fish can be bought; kept_before: whether this is no first year;
    to_buy_at_most, more_a_year: money, None where no sum is named; may_grow: crops beside those written;
    likes: crops that count double; plantings_week: most in a week; most_of_one: share of the beds' weeks that
    one crop may take.
    """

    heads_per_week: float = 0.0
    crop: str = ""
    fish_per_year: float = 0.0
    species: str = ""
    sold_at_g: tuple[float, ...] = ()
    kept_before: bool = False
    to_buy_at_most: float | None = None
    more_a_year: float | None = None
    may_grow: tuple[str, ...] = ()
    likes: tuple[str, ...] = ()
    plantings_week: int = 2
    most_of_one: float = 1.0


OfferKind = Literal["air", "biofilter", "bed", "cover", "battery_air", "roof", "barrel"]


@dataclass(frozen=True)
class Offer:
    """Something that could be bought, at a price; size in the base unit of its kind, 0 where it has none."""

    what: OfferKind
    price: float
    size: float = 0.0
    power_w: float | None = None
    bed: str = ""
    medium: str = ""


@dataclass(frozen=True)
class Away:
    """Nobody there."""

    start: date
    end: date
    who: str = ""


@dataclass(frozen=True)
class LocalRule:
    """A question put to an office, with its date and answer."""

    question: str
    office: str = ""
    asked: date | None = None
    answer: str = ""


@dataclass(frozen=True)
class KitScale:
    """One parameter of a test kit: its basis, the steps of its leaflet, what one drop counts.

    offset: by how much it read a standard too high on the day `checked`, 0 where it fitted or never was.
    standard: content of that standard. Both in the kit's own basis.
    """

    parameter: str
    basis: str = "not known"
    steps: tuple[float, ...] = ()
    drop: float | None = None
    offset: float = 0.0
    standard: float | None = None
    checked: date | None = None


@dataclass(frozen=True)
class Kit:
    """A test kit in use from a date on."""

    name: str
    start: date | None
    scales: tuple[KitScale, ...] = ()
    expires: date | None = None

    def scale(self, parameter: str) -> KitScale:
        """The scale of a parameter; basis `not known` and no steps where the kit has none."""
        return next((s for s in self.scales if s.parameter == parameter), KitScale(parameter))


@dataclass(frozen=True)
class Product:
    """A chemical on the shelf: which one, its strength, and what a weighed level spoon holds."""

    name: str
    chemical: str
    strength_pct: float
    spoon_g: float | None = None


@dataclass(frozen=True)
class Measured:
    """Something the grower measured; it overrides the model and both are shown."""

    what: str
    value: float
    unit: str
    day: date | None = None
    subject: str = ""


@dataclass(frozen=True)
class Prices:
    """Prices in the reader's currency; None where not known."""

    electricity_kwh: float | None = None
    feed_kg: float | None = None
    water_m3: float | None = None


@dataclass(frozen=True)
class Season:
    """The dated span of the plan."""

    start: date
    end: date


USUAL_TARGET_PH = 7.0


@dataclass(frozen=True)
class Targets:
    """Water that the garden aims at; used where no reading is at hand. base_to_ph: what base is given for."""

    ph: float = USUAL_TARGET_PH
    oxygen_mg_l: float = 6.5
    alkalinity_mg_l: float = float(aimed.alkalinity_mg_l(USUAL_TARGET_PH, None))
    base_to_ph: float = USUAL_TARGET_PH


BaseHow = Literal["drip", "parts", "once"]


@dataclass(frozen=True)
class Care:
    """What the grower does every week; infinite and NaN where there is no such line.

    most_feed_g_day: never more; base_how: drip, parts or once; look_every_d: days between two looks at pH and
    alkalinity; potassium_mg_l: brought up to this after a test; change_share: of the water, in each week in
    which nitrate-N stands over change_above_mg_l.
    """

    most_feed_g_day: float = math.inf
    base_how: BaseHow = "parts"
    look_every_d: int = 1
    potassium_mg_l: float = math.nan
    change_share: float = 0.0
    change_above_mg_l: float = math.nan


@dataclass(frozen=True)
class Garden:
    """One recirculating system."""

    name: str
    invented: bool
    reader: ReaderChoice
    site: Site
    tanks: tuple[Tank, ...]
    beds: tuple[Bed, ...]
    sump: Sump | None
    pumps: tuple[Pump, ...]
    pipes: tuple[Pipe, ...]
    drains: tuple[Drain, ...]
    solids_filter: SolidsFilter
    biofilter: Biofilter | None
    air: Air | None
    heat: Heat
    light: Light
    power: Power
    top_up: TopUp
    rain: Rain
    feeds: tuple[Feed, ...]
    fish: tuple[FishBatch, ...]
    crops: tuple[CropPlan, ...]
    start_up: StartUp
    wishes: Wishes
    away: tuple[Away, ...]
    rules: tuple[LocalRule, ...]
    kits: tuple[Kit, ...]
    products: tuple[Product, ...]
    measured: tuple[Measured, ...]
    prices: Prices
    season: Season
    targets: Targets = Targets()
    care: Care = Care()
    offers: tuple[Offer, ...] = ()
    assumed: tuple[Assumed, ...] = field(default=())
    water_scale: float = 1.0
    """Circulating water as it was measured, over what the parts make by their measures."""

    def protein_fraction(self) -> float:
        """Protein of the feed as a fraction; the mean over the bags that are named."""
        return sum(f.protein_pct for f in self.feeds) / len(self.feeds) / 100.0

    def feed_content_g_kg(self, element: str) -> float | None:
        """An element of the feed, g/kg, the mean of the bags whose label states it; None where none does."""
        found = [g_kg for feed in self.feeds for name, g_kg in feed.analysis if name == element]
        return sum(found) / len(found) if found else None

    def last_measured(self, what: str, subject: str = "") -> Measured | None:
        """The newest measurement of a kind, or None."""
        found = [m for m in self.measured if m.what == what and (not subject or m.subject == subject)]
        return max(found, key=lambda m: m.day or date.min) if found else None
