"""The card for whoever looks after the garden, and the card of clean hands and food."""

from collections.abc import Iterable

from aquacalc import tables, words
from aquacalc.pages.html import Html, blank, element, join, listing, paragraph, shortened, ticks
from aquacalc.pages.plan import Plan, sheet
from aquacalc.pages.wall import doses
from aquacalc.sentences import rations
from aquacalc.tables import Row

BUCKET_L = {"metric": 10.0, "us": 5.0 * 3.785411784}
"""The bucket that a sitter tops up with: 10 L, or 5 US gal (NIST SP 811, from memory)."""

COOKED_C, CHILLED_C = 63.0, 4.0
"""Core of cooked fish, and of chilled fish. Food authorities' figures, from memory."""

LEAST_WEIGHED_G, BOTTLE_L = 0.2, 1.0
"""A smaller dose is given as part of a bottle in which the dose of a larger amount of water is dissolved."""

WHO_LETTERS = 60
MOST_NAMED = 4
EATING_CAUTIONS = ("raw", "cook", "parasite", "irritant", "spines", "bite")


# --- holiday and handover --------------------------------------------------------------------------------


def holiday(plan: Plan) -> Html:
    """The sheet for the sitter and for whoever takes over."""
    return sheet(
        plan,
        plan.say("holiday-title"),
        *(paragraph(text) for text in _away(plan)),
        element("h2", plan.say("holiday-each-visit")),
        ticks([*(plan.say(f"holiday-visit-{what}") for what in ("look", "listen", "level")), _feed(plan)]),
        paragraph(plan.say("holiday-doubt"), "loud"),
        element("h2", plan.say("holiday-top-up")),
        paragraph(_top_up(plan)),
        element("h2", plan.say("holiday-never")),
        listing(plan.say(f"holiday-never-{what}") for what in ("feed", "doses", "clean", "hands")),
        element("h2", plan.say("holiday-where")),
        _blanks(plan, ("switch", "valve", "water", "air", "net", "bags")),
        element("h2", plan.say("holiday-call")),
        _blanks(plan, ("me", "second", "vet", "electricity")),
    )


def _away(plan: Plan) -> list[str]:
    return [
        plan.say(
            "holiday-away",
            start=words.date(away.start, plan.reader),
            end=words.date(away.end, plan.reader),
            who=shortened(away.who, WHO_LETTERS) or "________________",
        )
        for away in plan.garden.away[:MOST_NAMED]
    ]


def _feed(plan: Plan) -> Html:
    """One bag at a visit: the bags of each absence, as the plan has them."""
    first = plan.say("holiday-visit-feed")
    if plan.agenda is None or not plan.agenda.visits:
        return join(first, " ", plan.say("holiday-bags-blank"))
    several = len(plan.garden.fish) > 1
    told = [line for one in plan.agenda.visits for line in rations.bags(one, several, plan.reader)]
    return join(first, " ", " ".join(told))


def _top_up(plan: Plan) -> str:
    on_shelf = [p for p in doses.on_shelf(plan) if doses.chemical(p).text("kind") == "dechlorinator"]
    bucket = plan.quantity(BUCKET_L[plan.reader.units], "volume")
    if plan.garden.top_up.disinfectant == "none":
        return plan.say("holiday-top-up-plain")
    if not on_shelf or plan.garden.top_up.chlorine_max_mg_l <= 0.0:
        return plan.say("holiday-top-up-barrel")
    line = doses.dechlorinator(plan, on_shelf[0])
    share = BUCKET_L[plan.reader.units] / doses.new_water_l(plan)
    grams = share * line.step_g
    if grams < LEAST_WEIGHED_G:
        return plan.say(
            "holiday-top-up-solution",
            name=doses.short_name(line.product),
            dose=doses.weighed(plan, line.step_g, line.product),
            bottle=plan.quantity(BOTTLE_L, "volume"),
            part=plan.quantity(share * BOTTLE_L, "volume"),
            bucket=bucket,
        )
    return plan.say(
        "holiday-top-up-dose",
        bucket=bucket,
        name=doses.short_name(line.product),
        dose=doses.weighed(plan, grams, line.product),
    )


def _blanks(plan: Plan, names: Iterable[str]) -> Html:
    return element(
        "div",
        *(element("div", plan.say(f"holiday-blank-{name}"), " ", blank()) for name in names),
        class_="blanks",
    )


# --- hygiene ---------------------------------------------------------------------------------------------


def hygiene(plan: Plan) -> Html:
    """The sheet beside the wash basin."""
    degrees = {
        "core": plan.quantity(COOKED_C, "temperature", 3),
        "cold": plan.quantity(CHILLED_C, "temperature"),
    }
    parts = (
        join(
            element("h2", plan.say(f"hygiene-{part}")),
            listing(plan.say(f"hygiene-{part}-{number}", **degrees) for number in range(1, count + 1)),
        )
        for part, count in (("hands", 3), ("plants", 4), ("fish", 3), ("keep-out", 3))
    )
    return sheet(plan, plan.say("hygiene-title"), *parts, _cautions(plan), paragraph(plan.say("hygiene-law")))


def _cautions(plan: Plan) -> Html:
    """What the tables say about this garden's own fish and crops: raw, cook, parasites, irritants, spines."""
    found: dict[str, list[str]] = {}
    for row, name in _rows_used(plan):
        for key in row.listed("caution"):
            if key in EATING_CAUTIONS:
                found.setdefault(key, []).append(name)
    lines = [
        plan.say(
            "hygiene-caution",
            names=words.listed(list(dict.fromkeys(names)), plan.reader),
            text=words.say(tables.load("cautions").row(key).text("words_key"), plan.reader),
        )
        for key, names in found.items()
    ]
    return join(element("h2", plan.say("hygiene-own")), listing(lines)) if lines else Html("")


def _rows_used(plan: Plan) -> list[tuple[Row, str]]:
    fish = [("species", batch.species) for batch in plan.garden.fish]
    crops = [("crops", crop.crop) for crop in plan.garden.crops]
    rows = [tables.load(table).row(key) for table, key in dict.fromkeys([*fish, *crops])]
    return [(row, row.text("name")) for row in rows]
