"""Random garden files for property tests: whole ones, and ones with known mistakes put in.

`gardens()` draws the data of a valid file; `mistaken()` the text of one with one to three mistakes, together
with the problem keys of which at least one must be told for each mistake; `text_of` writes data as TOML.
"""

from collections.abc import Callable
from copy import deepcopy
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import tomlkit
from hypothesis import strategies as st

from aquacalc import tables

Data = dict[str, Any]

CROPS = tables.load("crops").keys()
SUITING = {
    kind: [row.key for row in tables.load("crops") if row.number(f"suit_{kind}") > 0]
    for kind in ("media", "raft", "channel")
}
MEDIA = tuple(row.key for row in tables.load("media") if row.text("use") == "media")
LATITUDES = ("0 N", "12.5 N", "23.4 S", "33,9 S", "45.2 N", "60° N", "71.3 N", "78 S")
"""Both sides, tropics, and places where the sun does not rise in some months."""
ODD_NAMES = (
    'a "quoted" one',
    "<b>bold</b> & co",
    "Möhren 🥕",
    "床",
    "it's",
    "{ $x }",
    "back\\slash",
    "a;b,c|d",
)


@dataclass(frozen=True)
class File:
    """A garden file: its text, and for each mistake the keys of the problems that may tell it."""

    text: str
    mistakes: tuple[tuple[str, frozenset[str]], ...] = ()


def number(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high).map(lambda value: float(f"{value:.3g}"))


def names(kind: str, most: int, least: int = 1) -> st.SearchStrategy[list[str]]:
    plain = st.integers(1, 99).map(lambda n: f"{kind} {n}")
    return st.lists(
        st.one_of(plain, st.sampled_from(ODD_NAMES)), min_size=least, max_size=most, unique_by=str.casefold
    )


@st.composite
def quantity(draw: st.DrawFn, key: str, suffix: str, unit: str, value: float) -> dict[str, object]:
    """A value under its key, as text with a unit or bare under a key that names the unit."""
    if draw(st.booleans()):
        return {f"{key}_{suffix}": value}
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return {key: f"{text.replace('.', draw(st.sampled_from('.,'))) if value < 1 else text} {unit}"}


@st.composite
def climates(draw: st.DrawFn) -> Data:
    mean, swing, daily = draw(number(-5, 26)), draw(number(0, 14)), draw(number(1, 8))
    warmest = draw(st.integers(0, 11))
    means = [mean + swing * (1 - abs((month - warmest + 6) % 12 - 6) / 3) for month in range(12)]
    climate: Data = {
        "air_max_c": [round(one + daily, 1) for one in means],
        "air_min_c": [round(one - daily, 1) for one in means],
    }
    if draw(st.booleans()):
        climate["humidity_pct"] = [draw(st.integers(15, 95))] * 12
    return climate


@st.composite
def gardens(draw: st.DrawFn) -> Data:
    """The data of a valid garden file."""
    tanks = draw(names("tank", 3))
    beds = draw(names("bed", 3))
    data: Data = {"format": 1}
    if draw(st.booleans()):
        data["name"] = draw(st.sampled_from(["Plain", *ODD_NAMES]))
    site: Data = {
        "latitude": draw(st.sampled_from(LATITUDES)),
        "climate": draw(climates()),
    }
    if draw(st.booleans()):
        site |= draw(quantity("altitude", "m", "m", draw(number(0, 3000))))
        site["cover"] = draw(st.sampled_from(["open", "shade", "greenhouse", "indoors"]))
        site["setting"] = draw(st.sampled_from(["home", "school", "community"]))
        site |= draw(quantity("until_help", "h", "h", draw(number(0.5, 72))))
    data["site"] = site
    data["tank"] = [
        {"name": name, **draw(quantity("volume", "l", "L", draw(number(100, 5000))))} for name in tanks
    ]
    data["bed"] = [draw(bed(name)) for name in beds]
    data["fish"] = draw(st.lists(fish(tanks, fed_in(site["climate"])), min_size=1, max_size=3))
    data["crop"] = draw(st.lists(crop(beds, data["bed"]), max_size=3, unique_by=lambda one: one["bed"]))
    for key, section in draw(options()).items():
        data[key] = section
    return data


@st.composite
def short_plans(draw: st.DrawFn, days: int) -> Data:
    """A valid garden with a plan of some weeks at any time of the year; fish come and go in it.

    All kinds of the demo gardens: fish that are kept, a filter that is being started, a well-known flow,
    bases on the shelf, days on which nobody or somebody looks in.
    """
    data = draw(gardens())
    start = draw(st.dates(date(2027, 1, 1), date(2027, 12, 31)))

    def day(low: int, high: int) -> date:
        return start + timedelta(days=draw(st.integers(low, high)))

    data["season"] = {"start": start, "end": start + timedelta(days=days - 1)}
    for batch in data["fish"]:
        batch["stocked"] = day(-500, days - 10)
        batch["eaten"] = draw(st.booleans())
        if draw(st.booleans()):
            batch["until"] = max(batch["stocked"], start) + timedelta(days=draw(st.integers(1, days)))
    for plan in data["crop"]:
        # A first planting of its own has been drawn for another plan.
        plan.pop("first", None)
    if draw(st.booleans()):
        data["start_up"] = {"state": "new", "started": day(-40, 0)}
    if draw(st.booleans()):
        away = day(0, days - 20)
        data["away"] = [
            {
                "start": away,
                "end": away + timedelta(days=14),
                "who": draw(st.sampled_from(["", "a neighbour"])),
            }
        ]
    if draw(st.booleans()):
        data["measured"] = [{"what": "flow", "value": f"{draw(st.integers(100, 6000))} L/h"}]
    if draw(st.booleans()):
        data["top_up"] = {
            "source": "mains",
            "alkalinity": f"{draw(st.integers(0, 400))} mg/L CaCO3",
            "calcium": f"{draw(st.integers(0, 150))} mg/L",
            "sodium": f"{draw(st.integers(0, 200))} mg/L",
            "ph": draw(number(5.5, 9)),
        }
    return data


@st.composite
def bed(draw: st.DrawFn, name: str) -> Data:
    kind = draw(st.sampled_from(["media", "raft", "channel"]))
    made: Data = {"name": name, "kind": kind, **draw(quantity("area", "m2", "m2", draw(number(0.3, 12))))}
    if kind == "media" and draw(st.booleans()):
        made["medium"] = draw(st.sampled_from(MEDIA))
        made["drain"] = draw(st.sampled_from(["siphon", "timer", "constant"]))
    if draw(st.booleans()):
        made |= {"depth_m": 0.3, "flood_m": draw(number(0.02, 0.28))}
    return made


def fed_in(climate: Data) -> list[str]:
    """Species that are fed in some month, as far as the air tells; the hardiest where none is."""
    means = [(high + low) / 2.0 for high, low in zip(climate["air_max_c"], climate["air_min_c"], strict=True)]
    return [
        row.key
        for row in tables.load("species")
        if any(
            row.number("t_feed_stop_low_c") + 4.0 < one < row.number("t_feed_stop_high_c") for one in means
        )
    ] or ["brown_trout"]


@st.composite
def fish(draw: st.DrawFn, tanks: list[str], fitting: list[str]) -> Data:
    species = draw(st.sampled_from(fitting))
    made: Data = {
        "species": species,
        "count": draw(st.integers(1, 300)),
        "tank": draw(st.sampled_from(tanks)),
    }
    if draw(st.booleans()):
        weight = draw(number(1, 200))
        made |= {"weight_g": weight, "final_weight_g": weight + draw(number(0, 900))}
    if draw(st.booleans()):
        # Never after the end of a plan that begins with the day of the test.
        made["stocked"] = draw(st.dates(date(2025, 1, 1), date(2026, 10, 31)))
    return made


@st.composite
def crop(draw: st.DrawFn, beds: list[str], data: list[Data]) -> Data:
    name = draw(st.sampled_from(beds))
    kind = next(bed["kind"] for bed in data if bed["name"] == name)
    made: Data = {"crop": draw(st.sampled_from(SUITING[kind])), "bed": name}
    if draw(st.booleans()):
        made["months"] = draw(st.lists(st.integers(1, 12), min_size=1, max_size=6, unique=True))
    if draw(st.booleans()):
        made["area_m2"] = 0.3
    if draw(st.booleans()):
        made |= draw(quantity("yield", "kg_m2", "kg/m2", draw(number(0.5, 20))))
        made |= draw(quantity("plants", "m2", "plants/m2", draw(number(1, 100))))
        made["loss_pct"] = draw(st.integers(0, 50))
    return made


@st.composite
def options(draw: st.DrawFn) -> Data:
    """Some of the sections that may be left out."""
    every: Data = {
        "reader": {"units": draw(st.sampled_from(["metric", "us"])), "paper": "both"},
        "sump": {"volume_l": 200, "rim_l": 400},
        "pump": [{"flow": "3000 L/h", "head_m": 3, "lift": "4 ft"}],
        "pipe": [{"length_m": 4, "bore_in": 1.05}],
        "drain": [{"bore_mm": 44, "emergency": draw(st.booleans())}],
        "solids_filter": {"kind": draw(st.sampled_from(["none", "radial", "drum"]))},
        "biofilter": {"medium": "moving_bed_carrier", "media_l": draw(number(5, 300))},
        "air": {"flow_l_min": draw(number(0, 200))},
        "heat": {"heater": "300 W", "setpoint_c": draw(number(10, 28))},
        "light": {"ppfd_umol_m2_s": 200, "hours_h": draw(number(0, 24))},
        "power": {"backup": "battery air", "battery_ah": 1, "backup_air_l_min": 30},
        "top_up": {"source": draw(st.sampled_from(["mains", "well", "rain"])), "alkalinity": "6 dKH"},
        "rain": {"roof_m2": 20, "barrel_l": 500},
        "feed": [{"protein_pct": draw(st.integers(25, 50))}],
        "start_up": {"state": draw(st.sampled_from(["running", "new"]))},
        "wishes": {"heads_wk": 4, "crop": draw(st.sampled_from(CROPS))},
        "away": [{"start": date(2027, 7, 1), "end": date(2027, 7, 15)}],
        "kit": [{"name": "k", "scale": [{"parameter": "tan", "basis": "N", "steps": [0, 0.5, 1]}]}],
        "product": [{"name": "p", "chemical": "potassium_bicarbonate", "spoon_g": 5}],
        "measured": [{"what": "ph", "value": draw(number(5.5, 8.5))}],
        "prices": {"feed_kg": 3},
        "season": {"start": draw(st.dates(date(2027, 1, 1), date(2028, 1, 1)))},
    }
    every["power"].pop("battery_ah")
    every["wishes"] = {"heads_a_week": 4, "crop": every["wishes"]["crop"]}
    kept = draw(st.lists(st.sampled_from(sorted(every)), unique=True, max_size=8))
    return {key: every[key] for key in kept}


# --- mistakes ----------------------------------------------------------------------------------------------

Slip = Callable[[st.DrawFn, Data], None]
SLIPS: dict[str, tuple[Slip, frozenset[str]]] = {}


def slip(*keys: str) -> Callable[[Slip], Slip]:
    """Name a mistake by its function, with the problems that may tell it."""

    def named(function: Slip) -> Slip:
        SLIPS[function.__name__] = (function, frozenset(keys))
        return function

    return named


def _volume(data: Data, value: object, key: str = "volume_l") -> None:
    tank = data["tank"][0]
    for old in [one for one in tank if one.startswith("volume")]:
        del tank[old]
    tank[key] = value


@slip("problem-range")
def negative(draw: st.DrawFn, data: Data) -> None:
    _volume(data, -draw(number(1, 1000)))


@slip("problem-not-finite")
def not_a_number(draw: st.DrawFn, data: Data) -> None:
    _volume(data, float("nan"))


@slip("problem-too-large")
def huge(draw: st.DrawFn, data: Data) -> None:
    _volume(data, draw(st.sampled_from([1e300, float("inf"), 10**15, -1e300])))


@slip("problem-not-a-number", "problem-unknown-unit", "problem-empty", "problem-unit-kind")
def wrong_type(draw: st.DrawFn, data: Data) -> None:
    _volume(
        data, draw(st.sampled_from([True, [], {}, "much", "", date(2027, 1, 1), "5 ft", "5 xyz"])), "volume"
    )


@slip("problem-unit-missing")
def no_unit(draw: st.DrawFn, data: Data) -> None:
    _volume(data, draw(number(100, 1000)), "volume")


@slip("problem-ambiguous-unit")
def two_gallons(draw: st.DrawFn, data: Data) -> None:
    _volume(data, f"{draw(st.integers(50, 500))} gal", "volume")


@slip("problem-missing")
def value_missing(draw: st.DrawFn, data: Data) -> None:
    del data["fish"][0]["count"]


@slip("problem-unknown-key", "problem-key-unit")
def unknown_key(draw: st.DrawFn, data: Data) -> None:
    where = draw(st.sampled_from([data, data["site"], data["tank"][0], data["bed"][0], data["fish"][0]]))
    where[draw(st.sampled_from(["colour", "volume_gal", "Name", "depht", "x y", "🐟"]))] = 5


@slip("problem-name-twice")
def two_beds_of_one_name(draw: st.DrawFn, data: Data) -> None:
    data["bed"].append(deepcopy(data["bed"][0]))


@slip("problem-no-fish")
def no_fish(draw: st.DrawFn, data: Data) -> None:
    data["fish"] = []


@slip("problem-no-bed")
def no_beds(draw: st.DrawFn, data: Data) -> None:
    data["bed"] = []


@slip("problem-months")
def eleven_months(draw: st.DrawFn, data: Data) -> None:
    data["site"]["climate"]["air_max_c"].pop()


@slip("problem-min-above-max")
def upside_down(draw: st.DrawFn, data: Data) -> None:
    climate = data["site"]["climate"]
    climate["air_max_c"], climate["air_min_c"] = climate["air_min_c"], climate["air_max_c"]


@slip("problem-dates-reversed")
def dates_reversed(draw: st.DrawFn, data: Data) -> None:
    data["away"] = [{"start": date(2027, 8, 2), "end": date(2027, 8, 1)}]


@slip("problem-date")
def no_such_day(draw: st.DrawFn, data: Data) -> None:
    data["away"] = [
        {"start": draw(st.sampled_from(["2027-02-30", "soon", 20270801, ""])), "end": date(2027, 8, 1)}
    ]


@slip("problem-stocked-late")
def stocked_after_the_plan(draw: st.DrawFn, data: Data) -> None:
    data["season"] = {"start": date(2027, 3, 1), "end": date(2027, 9, 30)}
    data["fish"][0]["stocked"] = draw(st.dates(date(2027, 10, 1), date(2030, 1, 1)))


@slip("problem-crop-bed")
def a_crop_in_a_bed_that_does_not_suit(draw: st.DrawFn, data: Data) -> None:
    bed = data["bed"][0]
    bed["kind"] = "channel"
    for key in ("medium", "drain"):
        bed.pop(key, None)
    data["crop"] = [{"crop": "radish", "bed": bed["name"], "area_m2": 0.1}]


@slip("problem-first-outside")
def planted_outside_of_the_plan(draw: st.DrawFn, data: Data) -> None:
    data["season"] = {"start": date(2027, 3, 1), "end": date(2027, 9, 30)}
    first = draw(st.sampled_from([date(2027, 2, 28), date(2027, 10, 1), date(2040, 1, 1)]))
    data["crop"] = [{"crop": "lettuce_leaf", "bed": data["bed"][0]["name"], "area_m2": 0.1, "first": first}]


@slip("problem-unknown-name")
def unknown_species(draw: st.DrawFn, data: Data) -> None:
    data["fish"][0]["species"] = draw(st.sampled_from(["shark", "tilapa", "<b>", "🐟", "x" * 80]))


@slip("problem-choice")
def unknown_choice(draw: st.DrawFn, data: Data) -> None:
    data["site"]["cover"] = draw(st.sampled_from(["roof", "", "Open", 5, ["open"]]))


@slip("problem-section")
def no_section(draw: st.DrawFn, data: Data) -> None:
    data["tank"] = draw(st.sampled_from([5, "a tank", {"volume_l": 500}, ["a"], [5]]))


@slip("problem-not-text", "problem-empty", "problem-text")
def bad_name(draw: st.DrawFn, data: Data) -> None:
    data["name"] = draw(st.sampled_from([5, "", " ", "x" * 81, "bell\x07", ["a"]]))


@slip("problem-not-whole", "problem-range", "problem-not-finite", "problem-not-a-number", "problem-too-large")
def bad_count(draw: st.DrawFn, data: Data) -> None:
    data["fish"][0]["count"] = draw(st.sampled_from([0, -4, 2.5, float("nan"), "many", True, 1e300]))


@slip("problem-format")
def newer_format(draw: st.DrawFn, data: Data) -> None:
    data["format"] = draw(st.sampled_from([0, 2, "1", True]))


AT_ODDS = (
    {"no_fish", "value_missing", "unknown_species", "bad_count", "unknown_key", "stocked_after_the_plan"},
    {"negative", "not_a_number", "huge", "wrong_type", "no_unit", "two_gallons", "no_section", "unknown_key"},
    {
        "no_beds",
        "two_beds_of_one_name",
        "unknown_key",
        "a_crop_in_a_bed_that_does_not_suit",
        "planted_outside_of_the_plan",
    },
    {"eleven_months", "upside_down"},
    {"dates_reversed", "no_such_day"},
)
"""Mistakes that touch the same value: one of them would hide the other."""


def text_of(data: Data) -> str:
    """The data as TOML."""
    return tomlkit.dumps(data)


@st.composite
def mistaken(draw: st.DrawFn, kind: str = "") -> File:
    """A file with one to three mistakes; `kind` is one of them where it is given."""
    data = draw(gardens())
    rest = st.lists(st.sampled_from(sorted(SLIPS)), min_size=0 if kind else 1, max_size=2, unique=True)
    chosen: list[str] = [kind] if kind else []
    for one in draw(rest):
        if one not in chosen and not any(one in group and group & set(chosen) for group in AT_ODDS):
            chosen.append(one)
    for one in chosen:
        SLIPS[one][0](draw, data)
    return File(text_of(data), tuple((one, SLIPS[one][1]) for one in chosen))


@st.composite
def broken(draw: st.DrawFn) -> bytes:
    """A file that is no garden as a whole: cut off, scrambled, no text, or nothing at all."""
    whole = text_of(draw(gardens())).encode()
    cut = draw(st.integers(0, len(whole)))
    return draw(
        st.sampled_from(
            [
                b"",
                whole[:cut],
                whole[:cut] + b"\0" + whole[cut:],
                whole[:cut] + b"\xff" + whole[cut:],
                whole[:cut] + b'"' + whole[cut:],
                whole[:cut] + b"[[" + whole[cut:],
                whole.decode().encode("utf-16"),
                whole + whole,
            ]
        )
    )


def files() -> st.SearchStrategy[File]:
    """Any garden file: more than a third of them are whole, the rest hold mistakes."""
    whole = gardens().map(lambda data: File(text_of(data)))
    # Examples are bred from each other, so an even choice may come out far from even.
    return st.sampled_from([True, True, False]).flatmap(lambda first: whole if first else mistaken())
