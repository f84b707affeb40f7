"""I weighed some fish: how heavy is one, how well is that known, and what follows from it?"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial

import numpy as np

from aquacalc import fish, units, weighing, words
from aquacalc.climate import months
from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import FishBatch, Garden
from aquacalc.logbook import stock
from aquacalc.logbook.keep import Entry
from aquacalc.logbook.log import Log, Reading
from aquacalc.pages import html
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.dates import DateField
from aquacalc.panels.frame.desk import Desk, garden_of, reader_of, today_of
from aquacalc.panels.frame.fields import GRAMS, KILOGRAMS, ChoiceField, Field, NumberField
from aquacalc.panels.frame.keeping import Keeping
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.panels.frame.several import SeveralField
from aquacalc.panels.harvest import when_of_size
from aquacalc.season import alone, weather
from aquacalc.season.alone import LONGEST_D, Question
from aquacalc.uncertainty import Band, Floats

SINGLE, BUCKET = "single", "bucket"
MOST_FISH, MOST_G = 1e5, 1e8
LEAST_G, LARGEST_G = 0.1, 20_000.0
MAIN = ("day", "how", "weights", "total", "weighed", "species", "count", "tank", "last", "last_day")
LITRES_PER_M3 = 1000.0


@dataclass(frozen=True)
class Weighed:
    """What was asked and what came out.

    growth: since the last weighing, None where there was none; gain_kg: of what lives; economic, biological:
    feed per gain, NaN where it cannot be told; grown: from here to the final weight, by this batch's own
    growth where it was seen; full_d: days until the tank is as full as the species should have it.
    """

    species: fish.Species
    day: date
    sample: weighing.Sample
    count: float
    tank_l: float
    final_g: float
    growth: weighing.Growth | None
    plausible: bool
    gain_kg: float
    economic: float
    biological: float
    grown: alone.Grown
    full_d: Band

    @property
    def kg(self) -> tuple[float, float, float]:
        """Low, middle and high of all fish in the tank."""
        middle = self.sample.mean_g
        low, high = (self.sample.low_g, self.sample.high_g) if self.sample.count > 1 else (middle, middle)
        return (self.count * low / 1000.0, self.count * middle / 1000.0, self.count * high / 1000.0)


def controls(reader: words.Reader, today: date, own_water: bool) -> dict[str, Field]:
    """The scales' numbers, the batch, the last weighing and what was fed since."""
    say = words.say

    def number(key: str, kind: str, value: float | None, most: float, least: float = 0.0) -> NumberField:
        shown = {"mass": GRAMS}.get(kind)
        optional = value is None
        label = say(f"weighed-{key}", reader)
        return NumberField(label, kind, value, reader, least, most, optional=optional, shown_in=shown)

    hows = [(say(f"weighed-how-{key}", reader), key) for key in (SINGLE, BUCKET)]
    heavy = partial(NumberField, reader=reader, low=0.0, high=MOST_G, optional=True, shown_in=KILOGRAMS)
    return {
        "how": ChoiceField(say("weighed-how", reader), hows, SINGLE, reader),
        "weights": SeveralField(
            say("weighed-weights", reader), "mass", (), reader, LEAST_G, LARGEST_G, 500, GRAMS
        ),
        "total": number("total", "mass", None, MOST_G, LEAST_G),
        "weighed": number("weighed", "", None, MOST_FISH, 1.0),
        "day": DateField(say("weighed-day", reader), today, reader, today),
        "species": ChoiceField(say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "count": number("count", "", 30.0, MOST_FISH, 1.0),
        "tank": NumberField(say("weighed-tank", reader), "volume", 1000.0, reader, 1.0, 1e7),
        "last": number("last", "mass", None, LARGEST_G, LEAST_G),
        "last_day": DateField(say("weighed-last-day", reader), None, reader, today, optional=True),
        "fed": heavy(say("weighed-fed", reader), "mass", None),
        "dead": number("dead", "", None, MOST_FISH),
        "warm": NumberField(
            say("weighed-warm", reader),
            "temperature",
            None if own_water else when_of_size.USUAL,
            reader,
            0.0,
            when_of_size.WARM,
            optional=True,
        ),
        "final": number("final", "mass", 450.0, LARGEST_G, 1.0),
    }


def asked(values: Values) -> tuple[str, ...]:
    """The fields that matter."""
    typed = ("weights",) if values["how"] == SINGLE else ("total", "weighed")
    since = ("fed", "dead") if values["last"] is not None and values["last_day"] is not None else ()
    return ("how", *typed, "day", "species", "count", "tank", "last", "last_day", *since, "warm", "final")


def sample(values: Values, reader: words.Reader) -> weighing.Sample:
    """The fish on the scales. Raises `InputError` where nothing was typed, or one is far from all others."""
    label = words.say("weighed-weights", reader)
    if values["how"] == BUCKET:
        if values["total"] is None or values["weighed"] is None:
            raise InputError(Problem("problem-weighed-total"))
        return weighing.together(values["total"], _whole(values["weighed"], "weighed-weighed", reader))
    weights = values["weights"]
    if not weights:
        raise InputError(Problem("problem-weighed-none"))
    odd = weighing.odd_one(weights)
    if odd is not None:
        rest = float(np.median(np.delete(np.asarray(weights), odd)))
        times = words.number(max(weights[odd] / rest, rest / weights[odd]))
        shown = [words.quantity(one, "fish_weight", reader) for one in (weights[odd], rest)]
        raise InputError(Problem("problem-weighed-odd", f"{label} {odd + 1}", shown[0], (shown[1], times)))
    return weighing.one_by_one(weights)


def _whole(value: float, key: str, reader: words.Reader) -> int:
    if value != int(value):
        raise InputError(Problem("problem-not-whole", words.say(key, reader), f"{value:g}"))
    return int(value)


def compute(garden: Garden | None, reader: words.Reader, values: Values) -> Weighed | None:
    """What the fish on the scales tell of the batch; None while nothing is typed."""
    if values["how"] == SINGLE and not values["weights"]:
        return None
    found, species = sample(values, reader), fish.species(values["species"])
    count, day = values["count"], values["day"]
    if found.count > count:
        amounts = (words.quantity(count, "number", reader),)
        raise InputError(
            Problem("problem-weighed-more", words.say("weighed-count", reader), str(found.count), amounts)
        )
    since = _since(garden, species, found, values, reader)
    kg = count * found.mean_g / 1000.0
    gain, dead_kg = math.nan, 0.0
    if since is not None:
        dead = values["dead"] or 0.0
        gain = kg - (count + dead) * since.start_g / 1000.0
        # Those that died weighed about what the middle of the time did.
        dead_kg = dead * (since.start_g + found.mean_g) / 2.0 / 1000.0
    fed = values["fed"]
    economic = biological = math.nan
    if fed and not math.isnan(gain):
        economic = weighing.economic_fcr(fed / 1000.0, gain)
        biological = weighing.biological_fcr(fed / 1000.0, gain, dead_kg)
    plausible = (
        since is None or math.isnan(since.tgc_per1000) or fish.tgc_is_plausible(since.tgc_per1000, species)
    )
    own = since is not None and plausible and since.tgc_per1000 > 0.0
    question = Question(
        species=species.key,
        count=count,
        weight_g=found.mean_g,
        stocked=day,
        final_g=values["final"],
        water_c=_water_c(garden, values),
        tgc=weighing.refitted(species.tgc, since.tgc_per1000) if own and since is not None else None,
    )
    full_kg = species.density_max_kg_m3 * values["tank"] / LITRES_PER_M3
    return Weighed(
        species=species,
        day=day,
        sample=found,
        count=count,
        tank_l=values["tank"],
        final_g=values["final"],
        growth=since,
        plausible=plausible,
        gain_kg=gain,
        economic=economic,
        biological=biological,
        grown=alone.grown(question),
        full_d=alone.days_to_kg(question, full_kg),
    )


def _water_c(garden: Garden | None, values: Values) -> Floats:
    """Monthly water from now on: the garden's own, else that of the time that was."""
    if garden is not None:
        return when_of_size.water_c(garden, {"water": when_of_size.OWN})
    warm = when_of_size.USUAL if values["warm"] is None else values["warm"]
    return when_of_size.water_c(None, {"water": when_of_size.ONE, "mean": warm})


def _since(
    garden: Garden | None,
    species: fish.Species,
    found: weighing.Sample,
    values: Values,
    reader: words.Reader,
) -> weighing.Growth | None:
    """Growth since the last weighing. Raises `InputError` where that is not before this one."""
    last, last_day, day = values["last"], values["last_day"], values["day"]
    if last is None or last_day is None:
        return None
    days = (day - last_day).days
    if days < 1:
        label = words.say("weighed-last-day", reader)
        raise InputError(Problem("problem-weighed-order", label, last_day.isoformat(), (day.isoformat(),)))
    if values["warm"] is not None:
        warmth = days * float(fish.growing_temperature_c(values["warm"], species))
    elif garden is not None:
        usual = months.monthly_to_daily(np.median(np.atleast_2d(_water_c(garden, values)), axis=0))
        then = usual[weather.day_of_year(last_day, days)]
        warmth = float(fish.growing_temperature_c(then, species).sum())
    else:
        warmth = math.nan
    return weighing.growth(last, found.mean_g, days, warmth)


# --- the answer


def draw(reader: words.Reader, found: Weighed | None) -> html.Html:
    """One fish, then all fish, growth, feed per growth, and what is coming."""
    say = words.say
    if found is None:
        return answer(say("weighed-empty", reader), [say("weighed-biased", reader)])
    one = found.sample
    title = say(
        "weighed-answer", reader, mean=_range(one, reader), kg=words.span(*found.kg[::2], "biomass", reader)
    )
    lines = [
        *_how_sure(found, reader),
        *_density(found, reader),
        *_growth(found, reader),
        *_fcr(found, reader),
    ]
    head = [say(f"panel-size-{key}", reader) for key in ("what", "low", "middle", "high")]
    rows = [
        (say("panel-size-first", reader), *_days(found, found.grown.first_d, reader)),
        (say("panel-size-half", reader), *_days(found, found.grown.half_d, reader)),
        (say("weighed-full", reader), *_days(found, found.full_d, reader)),
    ]
    final = words.quantity(found.final_g, "fish_weight", reader)
    after = html.paragraph(say("weighed-forecast", reader, final=final))
    return answer(title, lines, after, html.table(head, rows))


def _range(one: weighing.Sample, reader: words.Reader) -> str:
    if one.count == 1:
        return words.quantity(one.mean_g, "fish_weight", reader)
    return words.span(one.low_g, one.high_g, "fish_weight", reader)


def _how_sure(found: Weighed, reader: words.Reader) -> list[str]:
    one, say = found.sample, words.say
    amounts: dict[str, str | int] = {
        "n": one.count,
        "mean": words.quantity(one.mean_g, "fish_weight", reader, 3),
        "spread": words.quantity(one.spread_g, "fish_weight", reader),
    }
    key = "one" if one.count == 1 else "single" if one.single else "bucket"
    lines = [say(f"weighed-mean-{key}", reader, **amounts)]
    wanted = weighing.sample_wanted(found.count)
    if one.count < wanted:
        lines.append(say("weighed-more", reader, wanted=str(wanted)))
    lines.append(say("weighed-biased", reader))
    return lines


def _density(found: Weighed, reader: words.Reader) -> list[str]:
    m3 = found.tank_l / LITRES_PER_M3
    most = found.species.density_max_kg_m3
    now = [kg / m3 for kg in found.kg]
    key = "weighed-too-dense" if now[1] > most else "weighed-density"
    return [
        words.say(
            key,
            reader,
            density=words.quantity(now[1], "density", reader),
            usual=words.quantity(found.species.density_typical_kg_m3, "density", reader),
            most=words.quantity(most, "density", reader),
        )
    ]


def _growth(found: Weighed, reader: words.Reader) -> list[str]:
    since, say = found.growth, words.say
    if since is None:
        return [say("weighed-no-last", reader)]
    lines = [
        say(
            "weighed-grew" if since.end_g >= since.start_g else "weighed-shrank",
            reader,
            days=words.quantity(since.days, "days", reader, 3),
            start=words.quantity(since.start_g, "fish_weight", reader),
            end=words.quantity(since.end_g, "fish_weight", reader),
            rate=words.quantity(since.sgr_pct_d, "percent", reader),
            week=words.quantity(
                (since.end_g - since.start_g) / since.days * DAYS_PER_WEEK, "fish_weight", reader
            ),
        )
    ]
    if math.isnan(since.tgc_per1000):
        lines.append(say("weighed-still", reader))
    elif not found.plausible:
        lines.append(say("weighed-implausible", reader))
    else:
        usual = found.species.tgc
        share = words.quantity(since.tgc_per1000 / usual.typical, "share", reader)
        lines.append(
            say(
                "weighed-tgc",
                reader,
                tgc=words.number(since.tgc_per1000),
                low=words.number(usual.low),
                high=words.number(usual.high),
                share=share,
            )
        )
    return lines


def _fcr(found: Weighed, reader: words.Reader) -> list[str]:
    if found.growth is None or math.isnan(found.gain_kg):
        return []
    if math.isnan(found.economic):
        lost = found.gain_kg <= 0.0
        return [words.say("weighed-no-gain" if lost else "weighed-no-feed", reader)]
    usual = found.species.fcr
    return [
        words.say(
            "weighed-fcr",
            reader,
            economic=words.number(found.economic),
            biological=words.number(found.biological),
            low=words.number(usual.low),
            high=words.number(usual.high),
        )
    ]


def _days(found: Weighed, of: Band, reader: words.Reader) -> list[str]:
    return [_day(found, float(days), reader) for days in (of.low, of.middle, of.high)]


def _day(found: Weighed, days: float, reader: words.Reader) -> str:
    if days > LONGEST_D:
        return words.say("panel-size-later", reader)
    if days < 1.0:
        return words.say("weighed-now", reader)
    return words.date(found.day + timedelta(days=round(days)), reader)


# --- what garden and log know


def known(desk: Desk, name: str, today: date) -> dict[str, object]:
    """A batch as garden and log have it, and what was fed since it was weighed last."""
    garden, log = desk.garden, desk.log
    batch = next((one for one in garden.fish if one.name == name), None)
    if batch is None:
        return {}
    count = stock.number(log, batch, today) if log is not None else None
    last, last_day = _last(batch, log, today)
    told: dict[str, object] = {
        "species": batch.species,
        "count": float(count or batch.count),
        "tank": next(garden.water_scale * tank.volume_l for tank in garden.tanks if tank.name == batch.tank),
        "last": last,
        "last_day": last_day,
        "final": batch.final_weight_g,
        "fed": None,
        "dead": None,
        "warm": None,
        "weights": (),
        "total": None,
        "weighed": None,
    }
    if log is None or last_day is None:
        return told
    since = partial(_since_day, log, last_day, today)
    warm = [one.value for one in since("temperature", "")]
    told["dead"] = sum(one.value for one in since("dead", batch.name)) or None
    if len(garden.fish) == 1 and not since("taken", batch.name):
        # Feed of the log is that of all fish; those that were taken out ate of it, too.
        told["fed"] = sum(one.value for one in since("feed", "")) or None
    told["warm"] = float(np.mean(warm)) if len(warm) > 1 else None
    return told


def _since_day(log: Log, after: date, until: date, parameter: str, subject: str) -> list[Reading]:
    return [one for one in log.all(parameter, subject) if after < one.day <= until]


def _last(batch: FishBatch, log: Log | None, today: date) -> tuple[float | None, date | None]:
    """The last mean weight before today: of the log, of the garden file, else as they came."""
    weights = stock.of_batch(log, batch, "weight", today - timedelta(days=1)) if log is not None else ()
    candidates = [(one.day, one.value) for one in weights[-1:]]
    if batch.weighed is not None and batch.weighed_g is not None:
        candidates.append((batch.weighed, batch.weighed_g))
    candidates.append((batch.stocked, batch.weight_g))
    past = [one for one in candidates if one[0] < today]
    if not past:
        return None, None
    day, weight = max(past)
    return weight, day


def panel(
    desk: Desk | None = None, then: Callable[[], None] = lambda: None, today: date | None = None
) -> Panel:
    """The panel, filled from the garden where there is one; with it the mean can go into the log.

    then: called after the log has changed.
    """
    reader, today = reader_of(desk), today or (date.today() if desk is None else today_of(desk))
    fields = controls(reader, today, desk is not None)
    names = [batch.name for batch in desk.garden.fish] if desk is not None else []
    if len(names) > 1:
        options = [(name, name) for name in names]
        fields = {"batch": ChoiceField(words.say("day-batch", reader), options, names[0], reader), **fields}

    def name() -> str:
        return str(made.values.get("batch") or names[0])

    def kept() -> list[Entry]:
        return [Entry("weight", sample(made.values, reader).mean_g, subject=name())]

    def note() -> str:
        """The single weights: the log holds one mean a day, and none of them is thrown away."""
        if made.values["how"] == BUCKET:
            return ""
        shown = " ".join(words.number(units.to(one, "g"), 4) for one in made.values["weights"])
        return words.say("weighed-note", reader, batch=name(), weights=shown)

    keeping = (
        () if desk is None or not names else (Keeping(desk, kept, lambda: made.values["day"], then, note),)
    )
    made = Panel(
        "weighed",
        fields,
        lambda values: compute(garden_of(desk), reader, values),
        partial(draw, reader),
        reader,
        below=keeping,
        asked=lambda values: (*(("batch",) if "batch" in fields else ()), *asked(values)),
        main=("batch", *MAIN),
    )
    if desk is not None and names:
        desk.fill(made, lambda of: known(of, name(), today))
        if "batch" in fields:
            fields["batch"].on_change(lambda: made.fill(known(desk, name(), today)))
    return made
