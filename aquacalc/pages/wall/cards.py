"""The card for whoever looks after the garden, and the card of clean hands and food."""

from collections.abc import Iterable

from aquacalc import tables, words
from aquacalc.agenda import doses as shelf
from aquacalc.agenda import other_water
from aquacalc.agenda.other_water import DryTime
from aquacalc.pages.html import Html, blank, element, join, listing, paragraph, shortened, ticks
from aquacalc.pages.plan import Plan, sheet
from aquacalc.pages.wall import doses
from aquacalc.sentences import days, rations
from aquacalc.tables import Row

COOKED_C, CHILLED_C = 63.0, 4.0
"""Core of cooked fish, and of chilled fish. Food authorities' figures, from memory."""

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
        _blanks(plan, ("switch", "valve", "water", *_backup(plan), "net", "bags")),
        element("h2", plan.say("holiday-call")),
        _blanks(plan, ("me", "second", "vet", "electricity")),
    )


def _backup(plan: Plan) -> tuple[str, ...]:
    """Battery air, where the garden has it."""
    return ("air",) if plan.garden.power.backup == "battery air" else ()


def _away(plan: Plan) -> list[str]:
    return [
        plan.say(
            "holiday-away",
            days=days.span(away.start, away.end, plan.reader),
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
    """Where the sitter's water comes from; while the rain barrel may be dry it is treated like tap water."""
    dry = () if plan.agenda is None else plan.agenda.dry_times
    if not other_water.from_the_tap(plan.garden, dry):
        if plan.garden.top_up.disinfectant == "none":
            return plan.say("holiday-top-up-plain")
        return _treated(plan)
    first = plan.say("holiday-top-up-dry", days=words.listed(_spans(plan, dry), plan.reader))
    return f"{first} {_treated(plan)}"


def _spans(plan: Plan, dry: Iterable[DryTime]) -> list[str]:
    return [days.span(one.first, one.last, plan.reader) for one in dry]


def _treated(plan: Plan) -> str:
    """Tap water for a bucket: with the dechlorinator of the shelf, else from a barrel that was treated."""
    on_shelf = shelf.of_kind(plan.garden, "dechlorinator")
    if not on_shelf:
        return plan.say("holiday-top-up-barrel")
    bucket = shelf.bucket(plan.garden, on_shelf[0])
    name = doses.short_name(on_shelf[0])
    volume = plan.quantity(bucket.water_l, "volume")
    if bucket.bottle_g > 0.0:
        return plan.say(
            "holiday-top-up-solution",
            name=name,
            dose=doses.weighed(plan, bucket.bottle_g, on_shelf[0]),
            bottle=plan.quantity(shelf.BOTTLE_L, "volume"),
            part=plan.quantity(bucket.part_l, "volume"),
            bucket=volume,
        )
    return plan.say(
        "holiday-top-up-dose",
        bucket=volume,
        name=name,
        dose=doses.weighed(plan, bucket.grams, on_shelf[0]),
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
