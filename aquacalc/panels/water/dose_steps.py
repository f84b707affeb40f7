"""A plan of doses as text: title, effects, steps with a test between, and what is never done."""

import math

from aquacalc import tables, units, words
from aquacalc.advice.doses import portion
from aquacalc.advice.doses.answer import Plan
from aquacalc.advice.doses.request import Request, purity_of, row_of
from aquacalc.judge.nitrite import chloride_ratio_wanted
from aquacalc.pages import html
from aquacalc.sentences import base_turns, spoons
from aquacalc.tables import Row
from aquacalc.uncertainty import coefficient
from aquacalc.water import chlorine, dosing, supplements

CAUSTIC_G_L = 100.0
"""Most of a caustic that is dissolved in a litre of cold water; water section 7, practice."""
LEAST_WATER_L = 0.5
ACID_NOTES = {
    "phosphoric_acid": "phosphoric",
    "nitric_acid": "nitric",
    "citric_acid": "citric",
    "citric_acid_monohydrate": "citric",
}


def name_of(made: Plan) -> str:
    """The chemical's name."""
    return base_turns.chemical_name(made.chemical.key)


def degrees(alkalinity_mg_l: float, reader: words.Reader) -> str:
    """Alkalinity in the pages' unit, with German degrees beside it."""
    shown = words.number(units.unit("dkh").from_base(alkalinity_mg_l))
    amount = words.quantity(alkalinity_mg_l, "alkalinity", reader)
    return words.say("panel-dose-degrees", reader, amount=amount, degrees=shown)


def element_name(element: str, reader: words.Reader) -> str:
    """An element in words."""
    return words.say(f"panel-dose-name-{element.casefold()}", reader)


def weighed(product_g: float, made: Plan, reader: words.Reader) -> str:
    """Grams, with level spoons where the weight of one is known."""
    spoon_g = None if _kind(made) == "acid" else made.request.spoon_g
    return spoons.weighed(product_g, spoon_g, reader)


def _row(made: Plan) -> Row:
    return tables.load("chemicals").row(made.chemical.key)


def _kind(made: Plan) -> str:
    return _row(made).text("kind")


def is_careful(made: Plan) -> bool:
    """Whether it burns: caustics and acids, also where the table names them irritant only."""
    return (
        bool({"caustic", "acid"} & set(made.cautions)) or made.chemical.is_hydroxide or _kind(made) == "acid"
    )


def title(reader: words.Reader, made: Plan) -> str:
    """The answer in words."""
    say, name, kind = words.say, name_of(made), _kind(made)
    whole = weighed(made.grams, made, reader)
    volume = words.quantity(made.request.volume_l, "volume", reader)
    if kind == "dechlorinator":
        amount = words.quantity(made.request.element_mg_l, "concentration", reader)
        return say(
            "panel-dose-answer-chlorine", reader, name=name, grams=whole, chlorine=amount, volume=volume
        )
    if kind == "acid":
        return say("panel-dose-answer-acid", reader, name=name, grams=whole, volume=volume)
    if made.request.into == "vessel":
        return say("panel-dose-answer-vessel", reader, name=name, grams=whole, volume=volume)
    if made.portions == 1:
        return say("panel-dose-answer-one", reader, name=name, grams=whole)
    first = weighed(made.portion_g, made, reader)
    return say("panel-dose-answer", reader, name=name, grams=whole, portion=first)


def sentence(reader: words.Reader, made: Plan) -> str:
    """What was asked, with its blanks filled."""
    request = made.request
    now, wished = (_amount(reader, made, one) for one in _now_and_wished(made))
    return words.say(
        "panel-dose-sentence",
        reader,
        volume=words.quantity(request.volume_l, "volume", reader),
        now=now,
        wished=wished,
        name=name_of(made),
        strength=words.quantity(_counted_strength(request), "share", reader),
    )


def _counted_strength(request: Request) -> float:
    """The strength as it is reckoned: of a chelate the share of iron, whichever of both the label states."""
    iron = dosing.chemical(request.chemical).elements["Fe"]
    if not iron > 0.0:
        return request.strength
    return iron * purity_of(request, row_of(request), dosing.chemical(request.chemical))


def _now_and_wished(made: Plan) -> tuple[float, float]:
    request = made.request
    now = {"alkalinity": request.alkalinity_mg_l, "ph": request.ph}.get(request.goal, request.element_now)
    return now, request.wished


def _amount(reader: words.Reader, made: Plan, value: float) -> str:
    """An amount of the goal."""
    goal = made.request.goal
    if goal == "alkalinity":
        return degrees(value, reader)
    if goal == "ph":
        return words.say("panel-dose-sentence-ph", reader, ph=words.quantity(value, "ph", reader))
    if value == 0.0 and goal == "chlorine":
        return words.say("panel-dose-sentence-none", reader)
    amount = words.quantity(value, "concentration", reader)
    if goal == "chlorine":
        return words.say("panel-dose-sentence-chlorine", reader, amount=amount)
    return words.say("panel-dose-ion", reader, amount=amount, element=element_name(goal, reader))


def effects(reader: words.Reader, made: Plan) -> list[str]:
    """What the water does, what comes along, and what was taken for granted."""
    say, request = words.say, made.request
    found = [sentence(reader, made)]
    if made.is_doubtful:
        dioxide = words.quantity(made.dioxide_mg_l, "concentration", reader)
        found.append(say("panel-dose-doubt", reader, dioxide=dioxide))
    if made.first is not None:
        found += _vessel_effects(reader, made) if request.into == "vessel" else _loop_effects(reader, made)
    ends = _row(made).number("ph_stable_to_low"), _row(made).number("ph_stable_to_high")
    if supplements.chelate_hold(request.ph, *ends) == "partly":
        found.append(say("panel-dose-chelate-partly", reader, ph=words.quantity(request.ph, "ph", reader)))
    if request.goal == "chlorine":
        found += _chlorine_effects(reader, made)
    elif not request.wants_base and math.isnan(request.element_mg_l):
        found.append(say("panel-dose-none-known", reader))
    along = [
        say(
            "panel-dose-ion",
            reader,
            amount=words.quantity(rise, "concentration", reader),
            element=element_name(element, reader),
        )
        for element, rise in made.elements_mg_l.items()
    ]
    if along:
        found.append(say("panel-dose-along", reader, list=words.listed(along, reader)))
    if _kind(made) != "acid" and "slow" not in made.cautions and math.isnan(request.spoon_g):
        found.append(say("panel-dose-spoon-weigh", reader))
    return found


def _loop_effects(reader: words.Reader, made: Plan) -> list[str]:
    assert made.first is not None
    say, found = words.say, []
    low, high = (words.quantity(ph, "ph", reader) for ph in (made.ph_low, made.ph_high))
    after = degrees(made.alkalinity_after_mg_l, reader)
    found.append(say("panel-dose-settled", reader, alkalinity=after, low=low, high=high))
    if "slow" not in made.cautions:
        at_once = words.quantity(made.first.ph_at_once, "ph", reader)
        before = words.quantity(made.first.ph_before, "ph", reader)
        found.append(say("panel-dose-at-once", reader, before=before, after=at_once))
        if portion.is_emergency(made.request.ph):
            step = words.number(portion.ph_step(made.request.ph))
            found.append(say("panel-dose-emergency", reader, step=step))
    return found


def _vessel_effects(reader: words.Reader, made: Plan) -> list[str]:
    assert made.first is not None
    say = words.say
    told = {
        "at_once": words.quantity(made.first.ph_at_once, "ph", reader),
        "settled": words.quantity(made.ph_low, "ph", reader),
        "alkalinity": degrees(made.alkalinity_after_mg_l, reader),
    }
    if _kind(made) != "acid":
        return [] if "slow" in made.cautions else [say("panel-dose-vessel-at-once", reader, **told)]
    dioxide = words.quantity(made.dioxide_after_mg_l, "concentration", reader)
    found = [say("panel-dose-acid-at-once", reader, dioxide=dioxide, **told)]
    note = ACID_NOTES.get(made.chemical.key)
    return [*found, say(f"panel-dose-acid-{note}", reader)] if note else found


def _chlorine_effects(reader: words.Reader, made: Plan) -> list[str]:
    amount = made.request.element_mg_l
    per = coefficient("ammonia_freed_per_chloramine").typical
    freed = words.quantity(float(chlorine.ammonia_freed_mg_l(amount, per)), "nitrogen", reader)
    found = [words.say("panel-dose-chlorine-rest", reader, freed=freed)]
    if made.rise_mg_l < 0.0:
        used = words.quantity(-made.rise_mg_l, "alkalinity", reader)
        ph = words.quantity(made.ph_low, "ph", reader)
        found.append(words.say("panel-dose-acid-used", reader, alkalinity=used, ph=ph))
    return found


def steps(reader: words.Reader, made: Plan) -> list[str]:
    """What is done one after the other, with a test first and a test between."""
    kind = _kind(made)
    if kind == "dechlorinator":
        return _reagent(reader, made)
    if kind == "acid":
        return _acid(reader, made)
    return _vessel(reader, made) if made.request.into == "vessel" else _loop(reader, made)


def _measured(reader: words.Reader, made: Plan) -> str:
    if math.isnan(made.portion_ml):
        portion = weighed(made.portion_g, made, reader)
        if how := spoons.little(made.portion_g, reader):
            return words.say("panel-dose-step-little", reader, portion=portion, how=how)
        return words.say("panel-dose-step-weigh", reader, portion=portion)
    millilitres = words.quantity(made.portion_ml / 1000.0, "volume", reader)
    return words.say("panel-dose-stock-ml", reader, portion=millilitres)


def _cold_water(reader: words.Reader, made: Plan) -> str:
    return words.quantity(max(made.portion_g / CAUSTIC_G_L, LEAST_WATER_L), "volume", reader)


def _loop(reader: words.Reader, made: Plan) -> list[str]:
    say = words.say
    found = []
    if made.first is not None:
        line = words.quantity(made.tan_line_mg_l, "nitrogen", reader)
        ph = words.quantity(made.ph_judged, "ph", reader)
        found.append(say("panel-dose-step-test", reader, line=line, ph=ph))
    elif made.request.goal == "Cl":
        row = tables.load("species").row(made.request.species)
        enough = words.number(chloride_ratio_wanted((row,)))
        found.append(say("panel-dose-step-test-chloride", reader, ratio=enough))
    else:
        found.append(say("panel-dose-step-test-ion", reader))
    if "slow" in made.cautions:
        found.append(say("panel-dose-step-slow", reader, portion=weighed(made.portion_g, made, reader)))
        found.append(say("panel-dose-step-slow-after", reader))
        return found
    found.append(_measured(reader, made))
    if is_careful(made):
        found.append(say("panel-dose-step-caustic", reader, water=_cold_water(reader, made)))
    else:
        salt = _kind(made) == "salt"
        found.append(say("panel-dose-step-salt-pour" if salt else "panel-dose-step-pour", reader))
    count = words.number(made.portions)
    if made.portions == 1:
        found.append(say("panel-dose-step-after", reader))
    elif made.first is None:
        found.append(say("panel-dose-step-again-ion", reader, count=count))
    elif made.days == 1:
        most = words.number(made.a_day)
        found.append(say("panel-dose-step-again-day", reader, count=count, most=most))
    else:
        told = {
            "count": count,
            "most": words.number(made.a_day),
            "day": words.quantity(made.day_g, "dose", reader),
            "days": words.number(made.days),
        }
        found.append(say("panel-dose-step-again", reader, **told))
    return found


def _vessel(reader: words.Reader, made: Plan) -> list[str]:
    say = words.say
    found = [say("panel-dose-step-vessel-test", reader)]
    if "slow" in made.cautions:
        found.append(say("panel-dose-step-vessel-slow", reader, portion=weighed(made.grams, made, reader)))
        found.append(say("panel-dose-step-slow-after", reader))
    else:
        found.append(_measured(reader, made))
        if is_careful(made):
            found.append(say("panel-dose-step-vessel-caustic", reader, water=_cold_water(reader, made)))
        else:
            found.append(say("panel-dose-step-vessel-pour", reader))
        if made.first is not None:
            found.append(say("panel-dose-step-vessel-air", reader))
    found.append(say("panel-dose-step-vessel-use", reader))
    return found


def _acid(reader: words.Reader, made: Plan) -> list[str]:
    say = words.say
    half = words.quantity(made.portion_g, "dose", reader)
    return [
        say("panel-dose-step-vessel-test", reader),
        say("panel-dose-step-acid-pour", reader, portion=half),
        say("panel-dose-step-acid-rest", reader),
        say("panel-dose-step-vessel-air", reader),
        say("panel-dose-step-acid-use", reader),
    ]


def _reagent(reader: words.Reader, made: Plan) -> list[str]:
    say, where = words.say, made.request.into
    portion, how = weighed(made.portion_g, made, reader), spoons.little(made.portion_g, reader)
    return [
        say("panel-dose-step-reagent-little", reader, portion=portion, how=how)
        if how
        else say("panel-dose-step-reagent", reader, portion=portion),
        say(f"panel-dose-step-reagent-{where}", reader),
        say(f"panel-dose-step-reagent-{where}-test", reader),
    ]


def never(reader: words.Reader) -> html.Html:
    """What is never done, whatever the chemical."""
    said = [words.say(key, reader) for key in ("dose-never-date", "dose-never-mix")]
    return html.join(html.paragraph(words.say("panel-dose-not", reader)), html.listing(said))


def care(reader: words.Reader, made: Plan) -> html.Html:
    """The chemical's own cautions, first aid where it burns, and how it is kept."""
    say, cautions = words.say, tables.load("cautions")
    found = [say(cautions.row(caution).text("words_key"), reader) for caution in made.cautions]
    if is_careful(made):
        found.append(say("panel-dose-first-aid", reader))
    kept = "-acid" if _kind(made) == "acid" else "-caustic" if is_careful(made) else ""
    found.append(say(f"panel-dose-storage{kept}", reader))
    name = html.paragraph(say("panel-dose-with", reader, name=name_of(made)))
    return html.join(name, html.listing(found))
