"""What do I feed today? Fish, their water and the bag in; grams and spoons out, and what holds them back."""

import math
from datetime import date
from functools import partial

from aquacalc import fish, words
from aquacalc.agenda import ration, today
from aquacalc.agenda.today import Asked, Today
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import FEED_SPOON_G, FishBatch, Garden
from aquacalc.logbook.today import Standing, standing
from aquacalc.pages import html
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, garden_of, in_round_numbers, reader_of, today_of
from aquacalc.panels.frame.fields import GRAMS, ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer, wide
from aquacalc.panels.harvest import when_of_size
from aquacalc.schedule import feed
from aquacalc.season.alone import Question
from aquacalc.sentences import spoons
from aquacalc.sizing import caps

MAIN = ("batch", "species", "count", "weight", "temperature", "protein", "spoon")
BOUNDS = {"tan": 50.0, "nitrite": 50.0, "oxygen": 25.0}
TABLE_SHARES = (0.6, 1.0, 1.6, 2.5)
"""Weights of the table, of that of today. Our own choice."""


def controls(reader: words.Reader) -> dict[str, Field]:
    """The fish, their water, the bag, the readings, and what the loop carries."""

    def number(
        key: str,
        kind: str,
        value: float | None,
        least: float,
        most: float,
        shown: dict[str, str] | None = None,
    ) -> NumberField:
        label = words.say(f"feedday-{key}", reader)
        return NumberField(label, kind, value, reader, least, most, optional=value is None, shown_in=shown)

    return {
        "species": ChoiceField(words.say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "count": number("count", "", 30.0, 1.0, 1e5),
        "weight": number("weight", "mass", 100.0, 0.1, 20_000.0, GRAMS),
        "temperature": number("temperature", "temperature", 24.0, 0.0, 40.0),
        "protein": number("protein", "share", 0.32, 0.1, 0.7),
        "spoon": number("spoon", "mass", FEED_SPOON_G, 0.1, 200.0, {"metric": "g", "us": "g"}),
        "old": number("old", "share", None, 0.1, 0.7),
        "yesterday": number("yesterday", "temperature", None, 0.0, 40.0),
        "ph": number("ph", "", None, 4.0, 10.0),
        **{name: number(name, "concentration", None, 0.0, most) for name, most in BOUNDS.items()},
        "cap": number("cap", "feed", None, 0.1, 1e6, {"metric": "g_d", "us": "g_d"}),
    }


def asked_of(garden: Garden | None, values: Values, day: date) -> Asked:
    """The question of the fields. Raises `InputError` where ammonia stands there without pH."""
    if values["tan"] and values["ph"] is None:
        raise InputError(Problem("problem-feedday-ph"))
    own = garden is not None
    monthly = when_of_size.water_c(
        garden, {"water": when_of_size.OWN if own else when_of_size.ONE, "mean": values["temperature"]}
    )
    readings = {name: values[name] for name in today.READ if values[name] is not None}
    return Asked(
        question=Question(
            species=values["species"],
            count=values["count"],
            weight_g=values["weight"],
            stocked=day,
            final_g=values["weight"],
            water_c=monthly,
        ),
        temperature_c=values["temperature"],
        protein=values["protein"],
        spoon_g=values["spoon"],
        yesterday_c=_or_nan(values["yesterday"]),
        old_protein=_or_nan(values["old"]),
        cap_g_day=math.inf if values["cap"] is None else values["cap"],
        readings=readings,
    )


def _or_nan(value: float | None) -> float:
    return math.nan if value is None else value


def compute(garden: Garden | None, day: date, values: Values) -> tuple[Asked, Today]:
    """What is given today."""
    asked = asked_of(garden, values, day)
    return asked, today.today(asked)


def draw(reader: words.Reader, found: tuple[Asked, Today]) -> html.Html:
    """The amount large, what holds it back, what to watch for, the table, what to buy."""
    asked, told = found
    say, species = words.say, fish.species(asked.question.species)
    title = say(
        "feedday-none" if told.grams == 0.0 else "feedday-answer",
        reader,
        amount=_amount(told.grams, told.spoons, reader),
    )
    lines = [*_why(asked, told, species, reader), *_bag(asked, told, reader), *_watch(species, reader)]
    rest = (_table(asked, species, reader), html.paragraph(_buy(asked, told, reader)))
    return answer(title, lines, *rest)


def _amount(grams: float, counted: float, reader: words.Reader) -> str:
    if not grams > 0.0:
        return words.say("ration-none", reader)
    shown = words.quantity(grams, "dose", reader)
    if not counted > 0.0:
        return shown
    return words.say("ration-spoons", reader, grams=shown, spoons=spoons.fed(counted, reader))


def _why(asked: Asked, told: Today, species: fish.Species, reader: words.Reader) -> list[str]:
    say = words.say
    eaten = words.span(float(told.appetite_g.low), float(told.appetite_g.high), "feed", reader)
    lines = []
    if float(told.appetite_g.middle) > 0.0:
        lines.append(say("feedday-appetite", reader, appetite=eaten))
    if told.grams > 0.0:
        low, high = today.span_of("meals", asked.question.weight_g)
        meals = words.span(low, high, "count", reader)
        percent = words.quantity(told.percent, "percent", reader)
        lines.append(say("feedday-meals", reader, percent=percent, meals=meals))
    if told.why:
        lines.append(
            say(
                f"feedday-why-{told.why.replace('_', '-')}",
                reader,
                share=words.quantity(told.share, "share", reader),
                low=words.quantity(species.corners.feed_stop_low_c, "temperature", reader),
                high=words.quantity(species.no_feed_from_c, "temperature", reader),
                stress=words.quantity(species.warm_limit_c, "temperature", reader),
                oxygen=words.quantity(species.oxygen_full_feed_mg_l, "concentration", reader),
                cap=words.quantity(asked.cap_g_day, "feed", reader),
            )
        )
    elif not asked.readings:
        lines.append(say("feedday-no-readings", reader))
    return lines


def _bag(asked: Asked, told: Today, reader: words.Reader) -> list[str]:
    if math.isnan(asked.old_protein) or told.grams == 0.0:
        return []
    return [
        words.say(
            "feedday-old-bag",
            reader,
            grams=words.quantity(told.grams, "dose", reader),
            old=words.quantity(told.old_grams, "dose", reader),
            protein=words.quantity(asked.protein, "share", reader),
            before=words.quantity(asked.old_protein, "share", reader),
        )
    ]


def _watch(species: fish.Species, reader: words.Reader) -> list[str]:
    steps = ration.steps((species,))
    return [
        words.say(
            "feedday-watch",
            reader,
            eaten=words.quantity(steps.eaten_min / 60.0, "time", reader),
            left=words.quantity(steps.left_min / 60.0, "time", reader),
        ),
        words.say("feedday-not-eating", reader),
    ]


def _table(asked: Asked, species: fish.Species, reader: words.Reader) -> html.Html:
    """What all fish get by weight and temperature, in good water, in own spoons."""
    weights = [share * asked.question.weight_g for share in TABLE_SHARES]
    warmths = today.temperatures_c(species)
    head = [words.say("feedday-table-head", reader)]
    head += [words.quantity(one, "temperature", reader) for one in warmths]
    rows = [
        [words.quantity(weight, "fish_weight", reader), *(_cell(*one, reader) for one in row)]
        for weight, row in zip(weights, today.table(asked, weights, warmths), strict=True)
    ]
    title = html.paragraph(
        words.say("feedday-table", reader, count=words.quantity(asked.question.count, "number", reader))
    )
    return html.join(title, wide(html.table(head, rows)))


def _cell(grams: float, counted: float, reader: words.Reader) -> str:
    shown = words.quantity(grams, "dose", reader)
    return f"{shown} ({spoons.counted(counted)})" if counted > 0.0 else shown


def _buy(asked: Asked, told: Today, reader: words.Reader) -> str:
    low, high = (words.number(one) for one in today.span_of("pellet_sizes", asked.question.weight_g))
    return words.say(
        "feedday-buy",
        reader,
        weeks=str(today.BUY_WEEKS),
        kg=words.span(float(told.buy_kg.low), float(told.buy_kg.high), "biomass", reader),
        pellet=low if low == high else words.say("range", reader, low=low, high=high),
    )


# --- what garden and log know


def known(desk: Desk, name: str, day: date) -> dict[str, object]:
    """A batch as garden and log have it, its bag, the last readings, and what the loop carries this month."""
    garden = desk.garden
    batch = next((one for one in garden.fish if one.name == name), None)
    if batch is None:
        return {}
    told = _standing(desk, day)
    there = {one.batch: one for one in told.fish} if told is not None else {}
    weight = _weight(batch, told)
    read = {} if told is None else {key: one.value for key, one in told.water.items()}
    usual = when_of_size.water_c(garden, {"water": when_of_size.OWN})
    warm = read.get(
        "water_c", in_round_numbers(float(usual[:, day.month - 1].mean()), "temperature", desk.reader, 2)
    )
    counts = {
        one.name: (there[one.name].count if one.name in there else one.count) * _weight(one, told)
        for one in garden.fish
        if one.stocked <= day
    }
    share = counts.get(name, 1.0) / sum(counts.values()) if counts else 1.0
    cap = min(caps.by_month_g_day(desk.balance)[day.month - 1], garden.care.most_feed_g_day) * share
    return {
        "species": batch.species,
        "count": float(there[name].count if name in there else batch.count),
        "weight": weight,
        "temperature": warm,
        "protein": garden.protein_fraction(),
        "spoon": feed.spoon_g(garden, weight),
        "tan": read.get("tan_mg_l"),
        "nitrite": read.get("nitrite_mg_l"),
        "ph": read.get("ph"),
        "oxygen": read.get("oxygen_mg_l"),
        "cap": round(cap) if math.isfinite(cap) else None,
    }


def _standing(desk: Desk, day: date) -> Standing | None:
    log = desk.log
    return None if log is None or not log.rows or log.rows[0].day > day else standing(desk.garden, log, day)


def _weight(batch: FishBatch, told: Standing | None) -> float:
    """Mean weight as weighed last, else as they came."""
    noted = {one.batch: one.weight_g for one in told.fish} if told is not None else {}
    return noted.get(batch.name) or batch.weighed_g or batch.weight_g


def panel(desk: Desk | None = None, day: date | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    now = day or (date.today() if desk is None else today_of(desk))
    fields = controls(reader)
    names = [batch.name for batch in desk.garden.fish] if desk is not None else []
    if len(names) > 1:
        options = [(name, name) for name in names]
        fields = {"batch": ChoiceField(words.say("day-batch", reader), options, names[0], reader), **fields}
    made = Panel(
        "feed-today",
        fields,
        lambda values: compute(garden_of(desk), now, values),
        partial(draw, reader),
        reader,
        main=MAIN,
    )
    if desk is not None and names:
        desk.fill(made, lambda of: known(of, str(made.values.get("batch") or names[0]), now))
        if "batch" in fields:
            fields["batch"].on_change(lambda: made.fill(known(desk, str(made.values["batch"]), now)))
    return made
