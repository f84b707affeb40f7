"""Lists to choose from, by the names that readers know."""

from aquacalc import tables


def species() -> list[tuple[str, str]]:
    """Names and keys of the fish, by name."""
    return sorted((row.text("name"), row.key) for row in tables.load("species"))


def crops() -> list[tuple[str, str]]:
    """Names and keys of the crops, by name."""
    return sorted((row.text("name"), row.key) for row in tables.load("crops"))
