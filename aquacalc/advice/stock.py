"""Findings about the fish, their feed, the crops, and the law to ask about."""

from aquacalc import tables
from aquacalc.advice.finding import Amount, Finding
from aquacalc.garden.model import Garden
from aquacalc.judge.levels import Level


def of_garden(garden: Garden) -> list[Finding]:
    """Fish that are not eaten, too few companions, feed protein, permits for fish and plants."""
    return [*_not_eaten(garden), *_companions(garden), *_protein(garden), *_law(garden)]


def _not_eaten(garden: Garden) -> list[Finding]:
    return [
        Finding(
            "finding-fish-not-eaten",
            batch.name,
            "fine",
            (Amount("species", batch.species, "species"),),
            (),
            ("OWN",),
        )
        for batch in garden.fish
        if not batch.eaten
    ]


def _companions(garden: Garden) -> list[Finding]:
    found = []
    for batch in garden.fish:
        row = tables.load("species").row(batch.species)
        together = sum(
            one.count for one in garden.fish if (one.species, one.tank) == (batch.species, batch.tank)
        )
        # NaN compares as false: nothing is known of their company.
        if together < row.number("companions_min"):
            amounts = (
                Amount("species", batch.species, "species"),
                Amount("count", together, "number"),
                Amount("group", row.number("companions_min"), "number"),
            )
            sources = row.listed("behaviour_source")
            found.append(Finding("finding-fish-alone", batch.name, "watch", amounts, (), sources))
    return found


def _protein(garden: Garden) -> list[Finding]:
    """Each bag against the grow-out band of each species; small fish need more, so only larger ones count."""
    found = []
    for feed in garden.feeds:
        for species in sorted({batch.species for batch in garden.fish}):
            row = tables.load("species").row(species)
            low, high = (
                row.number("feed_protein_growout_low_pct"),
                row.number("feed_protein_growout_high_pct"),
            )
            most = max(high, row.number("feed_protein_fingerling_pct"))
            amounts = (
                Amount("species", species, "species"),
                Amount("protein", feed.protein_pct, "percent"),
                Amount("wanted", (low + high) / 2.0, "percent", low, high),
            )
            if feed.protein_pct < low:
                key = "finding-feed-protein-low"
            elif feed.protein_pct > most:
                key = "finding-feed-protein-high"
            else:
                continue
            found.append(Finding(key, feed.name, "watch", amounts, (), row.listed("feed_source")))
    return found


def _law(garden: Garden) -> list[Finding]:
    found = []
    for species in sorted({batch.species for batch in garden.fish}):
        row = tables.load("species").row(species)
        amount = Amount("species", species, "species")
        level = _asked(garden, row.text("name"), species)
        sources = row.listed("caution_source")
        if row.text("legal_note"):
            note = Amount("note", row.text("legal_note"), "text")
            found.append(Finding("finding-law-species-noted", "", level, (amount, note), (), sources))
        else:
            found.append(Finding("finding-law-species", "", level, (amount,), (), sources))
    for crop in sorted({plan.crop for plan in garden.crops}):
        row = tables.load("crops").row(crop)
        if "invasive" in row.listed("caution"):
            level = _asked(garden, row.text("name"), crop)
            amount = Amount("crop", crop, "crop")
            found.append(Finding("finding-law-crop", "", level, (amount,), (), row.listed("caution_source")))
    return found


def _asked(garden: Garden, *names: str) -> Level:
    """`fine` where the garden holds an office's answer to a question that names it, else `not known`."""
    answered = [rule.question.casefold() for rule in garden.rules if rule.answer]
    return (
        "fine" if any(name.casefold() in question for name in names for question in answered) else "not known"
    )
