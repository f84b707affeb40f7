"""One thing asked through every door: command, panels, cards, sheets, calendar, tables.

`python tests/doors.py` asks the demo gardens and a new garden, and prints each question whose answers differ.
"""

import contextlib
import io
import re
import shutil
import sys
import tempfile
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import plans
import printed_amounts
import seasons
from printed import Amounts, read, table_rows

from aquacalc import words
from aquacalc.advice import aims, build
from aquacalc.agenda import living
from aquacalc.agenda.living import Lived
from aquacalc.cli import command
from aquacalc.garden import litres
from aquacalc.garden.file import GardenFile
from aquacalc.pages import sheets
from aquacalc.pages.plan import Plan, make, through
from aquacalc.pages.wall import doses
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.log import read_log
from aquacalc.panels.loop import heat
from aquacalc.panels.size import size
from aquacalc.panels.start import first_limit
from aquacalc.panels.trouble import away, leak, power_cut, spell, triage
from aquacalc.panels.water import dose, reading
from aquacalc.season.start import Start
from aquacalc.sizing import alkalinity
from aquacalc.sizing import power_cut as clock
from aquacalc.uncertainty import MEMBERS, SEED

FEW = 20
"""Tries of the season of a new garden."""

WATERS = (
    {"tan": "2 N", "ph": "7.8", "temp": "24 C", "kh": "40 mg/L CaCO3", "oxygen": "6 mg/L"},
    {"tan": "0.1 N", "ph": "6.9", "temp": "18 C", "nitrite": "2 N", "oxygen": "7 mg/L"},
    {"ph": "5.7", "temp": "20 C", "kh": "5 mg/L CaCO3", "tan": "4 N"},
    {"oxygen": "2.5 mg/L", "temp": "22 C"},
    {"tan": "0 N", "nitrite": "0 N", "ph": "6.9", "temp": "20 C", "oxygen": "8 mg/L", "kh": "60 mg/L CaCO3"},
)
"""Waters of distress and of ease, as they are typed."""
HEADS = {
    "tan": "ammonia (mg/L as N)",
    "nitrite": "nitrite (mg/L as N)",
    "ph": "pH",
    "temp": "water temperature (C)",
    "oxygen": "oxygen (mg/L)",
    "kh": "alkalinity (mg/L CaCO3)",
}
JANUARY = 1
LEVEL = re.compile(r"Status: (emergency|act today|watch|fine|not known)")


@dataclass(frozen=True)
class House:
    """A garden with its plan, and a folder to write into."""

    name: str
    file: GardenFile
    plan: Plan
    folder: Path

    @property
    def desk(self) -> Desk:
        """The garden as panels have it."""
        return Desk(self.file)

    def quantity(self, value: float, kind: str) -> str:
        """A value as this garden's reader sees it."""
        return words.quantity(value, kind, self.plan.reader).replace(words.NO_BREAK_SPACE, " ")

    def span(self, low: float, high: float, kind: str) -> str:
        """A span as this garden's reader sees it."""
        return words.span(low, high, kind, self.plan.reader).replace(words.NO_BREAK_SPACE, " ")


def command_says(*typed: str) -> str:
    """What the command prints, its lines joined and its frames taken off."""
    told = io.StringIO()
    with contextlib.redirect_stdout(told), contextlib.redirect_stderr(told):
        command.main(typed)
    return re.sub(r"\s+", " ", told.getvalue().replace("|", " ").replace(words.NO_BREAK_SPACE, " "))


def panel_says(made: Panel) -> str:
    """What a panel shows."""
    return read(made.result.value)


def answers(house: House, waters: Sequence[Mapping[str, str]] = WATERS) -> Amounts:
    """By question, what each door answers."""
    found: Amounts = defaultdict(dict)
    for key, door, said in (
        *_readings(house, waters),
        *_power_cut(house),
        *_feed(house),
        *_january(house),
        *_targets(house),
        *_base(house),
        *_litres(house),
    ):
        found[key][door] = said
    for key, told in printed_amounts.amounts(house.plan, house.folder).items():
        found[key] |= told
    return found


def differing(found: Amounts) -> Amounts:
    """The questions whose answers differ."""
    return {key: told for key, told in found.items() if len(set(told.values())) > 1}


def _first(pattern: str, text: str) -> str:
    said = re.search(pattern, text)
    return said[1].strip() if said else "not said"


Said = Iterator[tuple[str, str, str]]


def _readings(house: House, waters: Sequence[Mapping[str, str]]) -> Said:
    """Level and what to do at once, sizes of changes and feed in its words, of some waters."""
    agenda = house.plan.agenda
    assert agenda is not None
    fed = next((one.first for one in agenda.rations if one.grams > 0.0), agenda.first)
    folder = house.folder / "logged"
    folder.mkdir(exist_ok=True)
    shutil.copy(house.file.path, folder / "garden.toml")
    for place, water in enumerate(waters):
        status, steps = f"status of water {place}", f"what to do at once in water {place}"
        day = fed + timedelta(days=30)
        cells = [water[name].split()[0] for name in water]
        rows = [["date", *(HEADS[name] for name in water)], [day.isoformat(), *cells]]
        (folder / "log.csv").write_text("".join(",".join(row) + "\n" for row in rows), "utf-8")
        typed = command_says("reading", str(folder), *(f"{name}={text}" for name, text in water.items()))
        logged = command_says("log", str(folder))
        for door, text in (("command reading", typed), ("command log", logged)):
            yield status, door, _first(LEVEL.pattern, text)
            yield steps, door, _first(r" 1\. (.*?)(?: 2\. | Test again | After that| Do not[:,]|$)", text)
        desk = Desk(GardenFile.open(folder))
        at_desk = reading.panel(desk)
        # What the newest row of the log fills in is not what is asked here.
        at_desk.fill({name: water.get(name, "") for name in reading.READINGS})
        shown = {"panel of 03": at_desk, "panel of 05": read_log.panel(desk)}
        for door, made in shown.items():
            yield status, door, _first(LEVEL.pattern, panel_says(made))
            now = re.search(r"<li[^>]*>(.*?)</li>", made.result.value, flags=re.DOTALL)
            if "Do now" in panel_says(made) and now:
                yield steps, door, read(now[1]).strip()
        sign = triage.panel(desk, "listless")
        sign.fill({name: water.get(name, "") for name in triage.TYPED if name != "total_chlorine"})
        asked = triage.asked(sign.values)
        if set(water) <= set(asked):
            yield status, "panel of 07", _first(LEVEL.pattern, panel_says(sign))


def _power_cut(house: House) -> Said:
    """By when somebody must act."""
    outage = house.plan.balance.outage
    if outage is None:
        return
    key, desk = "power cut", house.desk
    yield (
        key,
        "check",
        _first(r"has to act within ([0-9.]+ \w+)", command_says("check", str(house.file.path))),
    )
    made = power_cut.panel(desk)
    yield key, "panel of 07", _first(r"Act within ([0-9.]+ \w+)", panel_says(made))
    told = power_cut.of_garden(desk)
    assert told is not None
    for name, value in (("kg", 1000.0 * told.kg), ("weight", told.weight_g), ("water", told.water_c)):
        made.fields[name].box.value = f"{value:.4g} " + ("C" if name == "water" else "g")
    yield key, "panel of 07, typed by hand", _first(r"Act within ([0-9.]+ \w+)", panel_says(made))
    short, long = leak._still_h(desk, leak.panel(desk).values)
    yield "power cut, critical oxygen", "leak", house.span(short, long, "time")
    danger = desk.balance.outage.danger_h if desk.balance.outage else None
    assert danger is not None
    yield "power cut, critical oxygen", "check", house.span(float(danger.low), float(danger.high), "time")
    yield key, "triage", house.quantity(clock.whole_minutes(triage.of_garden(desk).response_h or 0.0), "time")


def _feed(house: House) -> Said:
    """What is met first, and what it carries; no ration passes the cap of its month."""
    desk, balance, plan = house.desk, house.plan.balance, house.plan
    if balance.binding is not None:
        checked = command_says("check", str(house.file.path))
        page = read(sheets.folder(plan, "answer"))
        for door, text in (("check", checked), ("first page", page)):
            yield "first limit", door, _first(r"First limit: ([\w ]+)\.", text)
            carried = _first(r"First limit:[^.]*\. In \w+ it carries ([0-9.]+)", text)
            yield "first limit carries", door, carried
        for door, made in (("panel of 00", first_limit.panel(desk)), ("panel of 01", size.panel(desk))):
            named = _first(r"First limit:? ?,? ?([\w ]+?)(?:\.|:| carries)", panel_says(made))
            yield "first limit", door, named
    assert plan.agenda is not None
    for day in range(0, len(plan.agenda.caps_g_day), 7):
        when = plan.agenda.first + timedelta(days=day)
        given = sum(one.grams for one in plan.agenda.on(when))
        cap = plan.agenda.caps_g_day[day]
        # A spoon measures no finer than half of itself.
        over = given > cap + sum(one.spoon_g for one in plan.agenda.on(when)) / 2.0
        yield f"most feed {when.isoformat()}", "plan's cap", "kept"
        yield f"most feed {when.isoformat()}", "ration", "over" if over else "kept"


def _january(house: House) -> Said:
    """The water of January, its middle."""
    desk, key = house.desk, "water in January"
    at = desk.balance.months.index(JANUARY)
    yield key, "balance", house.quantity(float(desk.balance.water_c.middle[at]), "temperature")
    made = heat.panel(desk)
    if made.values:
        free_c = made.compute(made.values).ways[0].free_c
        yield key, "panel of 08", house.quantity(float(free_c.middle[JANUARY - 1]), "temperature")
    coldest = int(desk.balance.water_c.middle.argmin())
    told = spell.told("cold", desk)["water"]
    least_c = float(desk.balance.water_c.middle[coldest])
    yield "water of the coldest month", "balance", house.quantity(least_c, "temperature")
    yield "water of the coldest month", "panel of 07", house.quantity(float(str(told)), "temperature")


def _targets(house: House) -> Said:
    """What base is given for, and the alkalinity that is kept at the least."""
    garden = house.plan.garden
    yield "target pH", "garden", f"{garden.targets.base_to_ph:g}"
    yield "target pH", "reading", f"{aims.of_garden(garden).target_ph:g}"
    yield "target pH", "dose panel", f"{dose.panel(house.desk).values['to_ph']:g}"
    floor = alkalinity.floor_of(garden)
    yield "least alkalinity", "balance", house.quantity(floor, "alkalinity")
    yield "least alkalinity", "reading", house.quantity(aims.of_garden(garden).floor_mg_l, "alkalinity")
    kept = max(garden.targets.alkalinity_mg_l, floor)
    yield "alkalinity kept", "garden", house.quantity(kept, "alkalinity")
    yield "alkalinity kept", "balance", house.quantity(alkalinity.kept_mg_l(garden), "alkalinity")


def _base(house: House) -> Said:
    """Grams of each base for a step of the dose sheet, by the sheet and by the panel."""
    page = sheets.wall(house.plan, "doses")
    # A garden that is being started has no sheet of doses.
    rows = table_rows(page) if "<tbody>" in page else []
    for line in doses.lines(house.plan):
        if line.kind != "base" or line.to_buy:
            continue
        made = dose.panel(house.desk)
        made.fill({"volume": line.water_l, "chemical": line.product.chemical, "goal": "alkalinity"})
        before = float(made.values["alkalinity"])
        made.fill({"to_alkalinity": before + line.step, "ph": 6.6})
        plan = made.compute(made.values).plan
        key = f"grams of {line.product.chemical} a step"
        yield key, "agenda", house.quantity(line.step_g, "dose")
        if plan.grams > 0.0:
            yield key, "dose panel", house.quantity(plan.grams, "dose")
        for row in rows:
            if row[0].startswith(doses.short_name(line.product)):
                yield key, "dose sheet, as it is printed", row[2].split(" (")[0]


def _litres(house: House) -> Said:
    """What a sitter adds on a day."""
    garden, desk = house.plan.garden, house.desk
    if not garden.away:
        return
    made = away.panel(desk)
    found = made.compute(made.values)
    loss = house.span(*found.loss_l_day, "volume")
    yield "litres of a day away", "panel of 07", loss
    sheet = read(sheets.wall(house.plan, "topping_up"))
    figures, unit = loss.rsplit(" ", 1) if house.plan.reader.units == "metric" else loss.split(" US ")
    drunk = re.findall(r"[0-9.]+ to [0-9.]+", sheet)
    yield "litres of a day away", "topping-up sheet", loss if figures in drunk else f"none of {drunk} {unit}"
    for one in build.of_garden(garden):
        if one.key == "finding-away-water":
            amount = next(a for a in one.amounts if a.name == "loss")
            yield "litres of a day away", "finding", house.span(amount.low, amount.high, "volume")
    yield "litres of the loop", "panel of 07", house.quantity(float(made.values["water"]), "volume")
    yield "litres of the loop", "garden", house.quantity(litres.litres_of(garden).whole, "volume")


def of_demo(name: str, folder: Path) -> House:
    """A demo garden, copied where it may be written."""
    path = folder / name
    shutil.copytree(GardenFile.open(f"demo:{name}").path.parent, path)
    file = GardenFile.open(path)
    return House(name, file, _plan(file, Lived(seasons.season(name), file.garden)), path)


def new(folder: Path) -> House:
    """A garden as `aquacalc new` makes it."""
    path = folder / "new"
    command_says("new", str(path))
    file = GardenFile.open(path)
    return House("new", file, _plan(file, living.season(file.garden, FEW, SEED, Start(), "")), path)


def _plan(file: GardenFile, lived: Lived) -> Plan:
    """A plan of few tries, whose balance has as many as command and panels take."""
    return through(make(lived.garden, file.garden.reader, plans.MADE, MEMBERS, SEED), lived)


def main(names: list[str]) -> int:
    """Print what differs; the number of it."""
    count = 0
    with tempfile.TemporaryDirectory() as folder:
        for name in names:
            house = new(Path(folder)) if name == "new" else of_demo(name, Path(folder))
            found = answers(house)
            apart = differing(found)
            count += len(apart)
            count_of = sum(len(told) for told in found.values())
            print(f"{name}: {len(found)} questions, {count_of} answers, {len(apart)} differ")
            for key, told in apart.items():
                print(f"  {key}")
                for door, said in told.items():
                    print(f"    {door}: {said}")
    return count


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:] or ["yard", "greenhouse", "classroom", "southern", "new"]) > 0)
