"""The water to expect: a band through the year and what moves it; no reading is printed ahead of its day."""

from aquacalc import words
from aquacalc.agenda.supplies import Supply
from aquacalc.charts import season as charts
from aquacalc.charts.picture import svg
from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.pages import bands, supplied
from aquacalc.pages.html import Html, figure, join, paragraph, section, smaller, table, twofold
from aquacalc.pages.plan import Plan
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import days
from aquacalc.uncertainty import Floats, band

MOVES = ("warmth", "ammonia", "nitrate", "alkalinity", "oxygen")
BROUGHT = ("potassium", "calcium")


def page(plan: Plan) -> Html:
    """Chart, what moves the water, the base and what it brings along, top-up against rain."""
    run = plan.season
    if run is None:
        return Html("")
    chart = Html(svg(charts.water(run, plan.garden, plan.reader, "")))
    return section(
        headline(plan, run),
        join(
            bands.tries(plan, run),
            smaller(figure(chart, plan.say("water-beyond", weeks=str(days.SURE_WEEKS)))),
        ),
        twofold([plan.say(f"water-moves-{what}") for what in MOVES]),
        paragraph(_base(plan, run), "lines"),
        _top_up(plan, run),
        paragraph(_rain(plan), "small"),
    )


def headline(plan: Plan, run: SeasonRun) -> str:
    """The answer in words: the range of the water's temperature, and whether base is needed."""
    water = bands.monthly(run.daily["water_c"], run, "mean")
    low, high = min(float(one.low) for one in water), max(float(one.high) for one in water)
    needed = any(one.middle_g > 0.0 for one in _bases(plan))
    return plan.say(
        "water-title-base" if needed else "water-title",
        water=words.span(low, high, "temperature", plan.reader),
    )


def _weekly(run: SeasonRun, name: str) -> Floats:
    weekly: Floats = run.daily[name].mean(axis=1) * DAYS_PER_WEEK
    return weekly


def _bases(plan: Plan) -> list[Supply]:
    """Bases that the season gives."""
    return [] if plan.agenda is None else [one for one in plan.agenda.supplies if one.kind == "base"]


def _base(plan: Plan, run: SeasonRun) -> str:
    """What an average week asks for, on no day: test, then the dose table."""
    given = _bases(plan)
    if not given:
        return plan.say("water-base-none")
    amounts = [supplied.in_week(plan, one) for one in given]
    brought = {name: band(_weekly(run, f"base_{name}_g"), axis=0) for name in BROUGHT}
    arriving = [
        plan.say(f"water-base-{name}", amount=bands.span(one, "dose", plan.reader))
        for name, one in brought.items()
        if float(one.high) > 0.0
    ]
    parts = [plan.say("water-base", amounts=words.listed(amounts, plan.reader))]
    if arriving:
        parts.append(plan.say("water-base-brings", ions=words.listed(arriving, plan.reader)))
    return " ".join(parts)


def _top_up(plan: Plan, run: SeasonRun) -> Html:
    """Top-up month by month, and the rain that falls on the roof."""
    whole = bands.monthly(run.daily["top_up_l"], run, "sum")
    months, unit = days.months(run), words.unit("volume", plan.reader)
    rows = [
        [plan.say(f"water-top-up-{end}"), *(_litres(plan, float(getattr(one, end))) for one in whole)]
        for end in ("low", "middle", "high")
    ]
    caught = rain_l(plan)
    if caught:
        fallen = (_litres(plan, caught[first.month - 1]) for first, _ in months)
        rows.append([plan.say("water-rain-month"), *fallen])
    names = (words.month(first.month, plan.reader, short=True) for first, _ in months)
    return table([plan.say("water-top-up", unit=unit), *names], rows, "numbers across")


def _litres(plan: Plan, litres: float) -> str:
    return words.number(words.convert(litres, "volume", plan.reader))


def rain_l(plan: Plan) -> tuple[float, ...]:
    """Rain on the roof in each month, January first, L; empty without a barrel or figures of rain."""
    rain, fallen_mm = plan.garden.rain, plan.garden.site.climate.rain_mm
    if fallen_mm is None or not (rain.roof_m2 > 0.0 and rain.barrel_l > 0.0):
        return ()
    # One millimetre on one square metre is one litre.
    return tuple(depth * rain.roof_m2 for depth in fallen_mm)


def _rain(plan: Plan) -> str:
    if not rain_l(plan):
        return ""
    return plan.say(
        "water-rain",
        roof=plan.quantity(plan.garden.rain.roof_m2, "area"),
        barrel=plan.quantity(plan.garden.rain.barrel_l, "volume"),
    )
