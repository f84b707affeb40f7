"""What the balance says: demand and limits in grams of feed per day, month by month.

Every band is the 10th, 50th and 90th percentile over one draw. Arrays run along the twelve months of the
plan, in the plan's order (`Balance.months` names them); NaN where a month has no answer (fish that do not
eat have no ration to turn a limit into kilograms). Results hold arrays, so that `==` between them has no
meaning and is that of identity.
"""

from dataclasses import dataclass
from typing import Literal

from aquacalc import film, fish
from aquacalc.uncertainty import Band, Floats

LimitKey = Literal["oxygen", "nitrification", "density", "power_cut", "solids", "plants", "turnover"]


@dataclass(frozen=True, eq=False)
class Limit:
    """Feed per day that one part of the garden can carry.

    must: the demand must not exceed it; otherwise it had better not.
    counts: whether it is compared with the demand (the power cut counts only while no backup is named).
    """

    key: LimitKey
    must: bool
    counts: bool
    feed_g_day: Band
    fish_kg: Band
    fish_count: Band
    bed_m2: Band


@dataclass(frozen=True, eq=False)
class Demand:
    """The fish's appetite, and the stock behind it."""

    feed_g_day: Band
    fish_kg: Band
    weight_g: Band
    ration_pct: Band
    count: Floats
    bed_m2: Band


@dataclass(frozen=True, eq=False)
class Binding:
    """The limit that the demand meets first, in the month where it is nearest or most exceeded.

    `share` is demand divided by limit (medians); above 1 the limit is exceeded. `next_key` is the next
    limit of the same kind in that month, named when the power cut binds.
    """

    key: LimitKey
    month: int
    demand_g_day: float
    limit_g_day: float
    share: float
    next_key: LimitKey | None
    next_limit_g_day: float


@dataclass(frozen=True, eq=False)
class Change:
    """A change that was computed by making it: what is changed, by how much, and what the limit becomes.

    `key` is a catalogue key, `amount` and `unit` say how much (`unit` a key of units.csv or empty).
    """

    key: str
    amount: float
    unit: str
    limit: LimitKey
    before_g_day: Band
    after_g_day: Band


@dataclass(frozen=True, eq=False)
class Stocked:
    """Fish in still tank water; numbers or arrays that broadcast.

    use_factor and film_factor: fish beside the mean of their kind, and film and sludge beside the fish.
    """

    model: fish.OxygenModel
    weight_g: Floats | float
    kg: Floats | float
    tank_m3: float
    water_c: Floats | float
    saturation_mg_l: Floats | float
    critical_mg_l: float
    use_factor: Floats | float
    film_factor: Floats | float


@dataclass(frozen=True, eq=False)
class Reserve:
    """The oxygen of the fish tanks when all stops, by tries: what any clock of a power cut counts with.

    start_mg_l: oxygen then. fall_mg_l_h: how fast it falls while fish are just fed. critical_mg_l,
    saturation_mg_l: of these fish and this water. tank_l: water of the fish tanks.
    """

    start_mg_l: Floats
    fall_mg_l_h: Floats
    critical_mg_l: float
    saturation_mg_l: float
    tank_l: float


@dataclass(frozen=True, eq=False)
class Outage:
    """The power cut: times in hours, tank water only, in the month in which help must come soonest.

    response_h: half of the just-fed time, 10th percentile: the large figure of the emergency card.
    danger_h: the just-fed time itself.
    unaided_kg: fish that would last unaided until someone can be there.
    air_l_min, battery_wh: what closes the gap until then; zero where there is none.
    stocked, reserve: what the times were counted with.
    """

    month: int
    water_c: float
    response_h: float
    danger_h: Band
    hours_until_help: float
    fish_kg: float
    unaided_kg: Band
    air_l_min: Band
    battery_wh: Band
    backed: bool
    stocked: Stocked
    reserve: Reserve


@dataclass(frozen=True, eq=False)
class Biofilter:
    """Nitrification of the coldest and the hardest month.

    wetted_m2: surface that works now, of all kinds.
    comfortable_g_day, most_g_day: feed that it carries well under the lines, and at most, with watchful eyes
    and chloride of 20 mg/L.
    media_litres: litres of medium that a separate filter would need to carry the demand alone.
    tan_target_mg_l, nitrite_target_mg_l: what is aimed at in comfort; `nitrite_raised` says that half of the
    nitrite line, by the water's chloride, lies below what a film can hold.
    water_c: of that month; known: how well the film's rate is known there.
    """

    month: int
    wetted_m2: Band
    comfortable_g_day: Band
    most_g_day: Band
    media_litres: Band
    missing_litres: Band
    medium: str
    tan_target_mg_l: float
    nitrite_target_mg_l: float
    nitrite_raised: bool
    water_c: float
    known: film.Known


@dataclass(frozen=True, eq=False)
class Plants:
    """What the beds want, by both methods, and where the nitrogen of the demand goes.

    area_rule_g_day: the handbook's feed per area of bed; balance_g_day: feed whose nitrogen crops take up.
    Shares of the dissolved nitrogen: crops, gas, and what accumulates as nitrate (mg N/L per day drift).
    """

    area_rule_g_day: Band
    balance_g_day: Band
    uptake_g_n_day: Band
    dissolved_g_n_day: Band
    gas_g_n_day: Band
    drift_mg_n_l_day: Band


@dataclass(frozen=True, eq=False)
class Balance:
    """Demand and all limits through twelve months."""

    months: tuple[int, ...]
    water_c: Band
    saturation_mg_l: Band
    demand: Demand
    limits: tuple[Limit, ...]
    binding: Binding | None
    better: Binding | None
    changes: tuple[Change, ...]
    outage: Outage | None
    biofilter: Biofilter | None
    plants: Plants
    first_year_kg: Band
    first_year_count: Band
    final_weight_g: float
    flow_l_h: Band
    turnover_1_h: Band
    measured_flow: bool
    members: int
    seed: int

    def limit(self, key: LimitKey) -> Limit:
        """The limit of a key."""
        return next(one for one in self.limits if one.key == key)


@dataclass(frozen=True, eq=False)
class WishedCrop:
    """Beds, seeds and feed for wished heads a week."""

    crop: str
    heads_per_week: float
    transplants_per_week: int
    seeds_per_week: int
    places: int
    area_m2: Band
    area_rule_g_day: Band
    balance_g_day: Band


@dataclass(frozen=True, eq=False)
class WishedFish:
    """Stock and feed for wished fish a year, at the garden's own water temperature."""

    species: str
    fish_per_year: float
    stock_count: int
    days_to_final: Band
    batches_per_year: float
    mean_feed_g_day: Band
    peak_feed_g_day: Band
    tank_l: Band


@dataclass(frozen=True, eq=False)
class WishedGarden:
    """The inverse: what the wishes ask for, and what the garden has."""

    crop: WishedCrop | None
    fish: WishedFish | None
    beds_m2: float
    tanks_l: float
